//! Whether a promised change was seen: what moved, judged against nothing and against the promise.

use crate::profile::Judged;
use crate::profile::Verdict;

/// From where on a promised change is one that nothing could not be mistaken for, in digits (judgement).
const WORTH_SEEING: f64 = 1.0;

/// What became of a promised change of one line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kept {
    /// It moved as promised, beyond the noise, and not otherwise than promised.
    AsPromised,
    /// It moved less than promised, or not at all.
    Less,
    /// It moved further than promised.
    More,
    /// It moved the other way.
    OtherWay,
    /// The noise hides it.
    CannotTell,
}

impl Kept {
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::AsPromised => "as promised",
            Self::Less => "less than promised",
            Self::More => "more than promised",
            Self::OtherWay => "the other way",
            Self::CannotTell => "cannot tell yet",
        }
    }
}

/// What became of a promised `change`, in digits, from what the notes say of the line against the beer before, and
/// against that beer with the promised change added. Each of the two is judged with its family of lines.
#[must_use]
pub fn kept(change: f64, moved: Verdict, beside_promise: Verdict) -> Kept {
    // Seen in the direction of the promise from here on.
    let along = |verdict| match (verdict, change > 0.0) {
        (Verdict::More, false) => Verdict::Less,
        (Verdict::Less, false) => Verdict::More,
        (other, _) => other,
    };
    match (along(moved), along(beside_promise)) {
        (Verdict::Less, _) => Kept::OtherWay,
        (_, Verdict::Less) => Kept::Less,
        (_, Verdict::More) => Kept::More,
        (Verdict::More, Verdict::AsMeant | Verdict::CannotTell) => Kept::AsPromised,
        (Verdict::AsMeant, _) if change.abs() > WORTH_SEEING => Kept::Less,
        (Verdict::AsMeant | Verdict::CannotTell, _) => Kept::CannotTell,
    }
}

/// True where a line moved the way it was to, beyond the noise.
#[must_use]
pub fn moved_along(change: f64, moved: &Judged) -> bool {
    match moved.verdict {
        Verdict::More => change > 0.0,
        Verdict::Less => change < 0.0,
        Verdict::AsMeant | Verdict::CannotTell => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_promise_is_kept_where_the_line_moved_and_did_not_move_otherwise() {
        use crate::profile::Verdict::AsMeant;
        use crate::profile::Verdict::CannotTell;
        use crate::profile::Verdict::Less;
        use crate::profile::Verdict::More;
        // Reasoned case by case: the change that was promised, how the line moved, how that is beside the promise.
        for (change, moved, beside, expected) in [
            (2.0, More, CannotTell, Kept::AsPromised),
            (2.0, More, AsMeant, Kept::AsPromised),
            (2.0, More, Less, Kept::Less),
            (2.0, More, More, Kept::More),
            (2.0, Less, Less, Kept::OtherWay),
            (2.0, CannotTell, CannotTell, Kept::CannotTell),
            (2.0, CannotTell, Less, Kept::Less),
            // Nothing moved where something worth seeing was promised; of half a digit that proves nothing.
            (2.0, AsMeant, CannotTell, Kept::Less),
            (0.5, AsMeant, AsMeant, Kept::CannotTell),
        ] {
            assert_eq!(kept(change, moved, beside), expected, "{change} {moved:?}");
            let mirrored = |it| match it {
                More => Less,
                Less => More,
                other => other,
            };
            let mirror = kept(-change, mirrored(moved), mirrored(beside));
            assert_eq!(mirror, expected, "{change} {moved:?} mirrored");
        }
    }
}
