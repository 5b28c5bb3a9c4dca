//! What warns of opening another bottle of a batch.

use crate::domain::BottleFault;

/// What warns of every other bottle of a batch, the worst first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum BatchWarning {
    /// One gushed.
    Gushed,
    /// By recipe and log they hold, or may come to hold, more gas than they should.
    MayBurst,
    /// Mould was seen in one.
    Mould,
    /// The glass of one was chipped.
    Chipped,
}

impl BatchWarning {
    /// The id in JSON.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Gushed => "gushed",
            Self::MayBurst => "may-burst",
            Self::Mould => "mould",
            Self::Chipped => "chipped",
        }
    }

    /// What it says where a line of a list has little room.
    #[must_use]
    pub const fn in_short(self) -> &'static str {
        match self {
            Self::Gushed => "ONE GUSHED",
            Self::MayBurst => "MAY BURST",
            Self::Mould => "MOULD SEEN",
            Self::Chipped => "ONE CHIPPED",
        }
    }

    /// What a bad bottle warns of; nothing where it says nothing of the others.
    pub(super) const fn of(fault: BottleFault) -> Option<Self> {
        match fault {
            BottleFault::Gushing => Some(Self::Gushed),
            BottleFault::Mould => Some(Self::Mould),
            BottleFault::Glass => Some(Self::Chipped),
            BottleFault::Flat | BottleFault::Sour => None,
        }
    }

    /// What to do about it, in sentences; the gas of a batch has cautions of its own.
    const fn advice(self) -> Option<&'static str> {
        match self {
            Self::Gushed => Some(
                "A bottle of this batch gushed, so the others may burst: eye protection and gloves, chill them for a day, open every one outdoors over a bucket. One calm bottle does not clear the others.",
            ),
            Self::Mould => Some(
                "Mould was seen in a bottle of this batch: hold every other one against the light before it is opened, and never taste to make sure.",
            ),
            Self::Chipped => Some(
                "A bottle of this batch was chipped: look at the mouths of the others before you pour.",
            ),
            Self::MayBurst => None,
        }
    }
}

/// What bad bottles mean for the others of their batch, each fault once.
pub(super) fn fault_cautions(faulty: &[BottleFault]) -> impl Iterator<Item = String> + '_ {
    let known = BottleFault::WARNING.into_iter();
    let known = known.filter(|it| faulty.contains(it));
    let known = known.filter_map(|it| BatchWarning::of(it)?.advice());
    known.map(str::to_owned)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_fault_that_warns_has_its_words_and_its_place_among_the_warnings() {
        let warnings = BottleFault::WARNING.map(|it| BatchWarning::of(it).unwrap());
        assert!(warnings.is_sorted(), "{warnings:?}");
        assert_eq!(fault_cautions(&BottleFault::WARNING).count(), 3);
        for it in BottleFault::ALL {
            let warns = BottleFault::WARNING.contains(it);
            assert_eq!(BatchWarning::of(*it).is_some(), warns, "{it:?}");
        }
    }
}
