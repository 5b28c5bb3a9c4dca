//! What was removed and can still be brought back.

use crate::domain::Moment;
use crate::domain::choice::choices;

choices! {
    /// What can be removed.
    RemovedKind ("what can be removed") {
        /// A batch, with its log, its intent and its predictions.
        Batch = "batch", "batch";
        /// A beer of a free name.
        Beer = "beer", "beer";
        /// A recipe version that nothing was brewed from.
        Recipe = "recipe", "recipe";
        /// The notes of one taster on one glass.
        Tasting = "tasting", "tasting";
        /// A blind test, with its answers.
        Test = "test", "blind test";
        /// A panel, with all its notes.
        Panel = "panel", "panel";
        /// A practice, with the answers of everybody at its table.
        Practice = "practice", "practice";
        /// A course, with its evenings; what was practised in them stays.
        Course = "course", "course";
        /// Ratings that were read in.
        Import = "import", "import";
        /// A photograph.
        Photograph = "photo", "photograph";
    }
}

/// Something that was removed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Removal {
    /// By what it is asked for.
    pub number: u32,
    /// What it is.
    pub kind: RemovedKind,
    /// The id it had, or the number of an import.
    pub root: String,
    /// What people call it.
    pub name: String,
    /// When it was removed.
    pub removed_at: Moment,
}

impl Removal {
    /// For how many days it can be brought back.
    pub const DAYS: u16 = 30;

    /// How many whole days are left at a moment; none when the time is over.
    #[must_use]
    pub fn days_left(&self, now: Moment) -> Option<u16> {
        const DAY: i64 = 86_400;
        let gone = now.seconds_since(self.removed_at).max(0) / DAY;
        let left = i64::from(Self::DAYS) - gone;
        u16::try_from(left).ok().filter(|it| *it > 0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thirty_days_are_counted_from_the_moment_of_removing() {
        let at = |text: &str| Moment::parse(text).unwrap();
        let removal = Removal {
            number: 1,
            kind: RemovedKind::Batch,
            root: "b".to_owned(),
            name: "S1".to_owned(),
            removed_at: at("2026-03-01T12:00:00Z"),
        };
        assert_eq!(removal.days_left(at("2026-03-01T12:00:00Z")), Some(30));
        assert_eq!(removal.days_left(at("2026-03-02T12:00:00Z")), Some(29));
        assert_eq!(removal.days_left(at("2026-03-31T11:59:59Z")), Some(1));
        assert_eq!(removal.days_left(at("2026-03-31T12:00:00Z")), None);
        // A clock that was put back takes nothing away.
        assert_eq!(removal.days_left(at("2026-02-01T12:00:00Z")), Some(30));
    }
}
