//! A course of evenings: who learns together, which words are held back for the check, and its meetings.

use crate::domain::CourseId;
use crate::domain::DescriptorId;
use crate::domain::Invalid;
use crate::domain::MeetingId;
use crate::domain::Minutes;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::SittingId;
use crate::domain::TasterId;
use crate::domain::choice::choices;

choices! {
    /// What a practice is for at a meeting.
    MeetingPart ("a part of a meeting") {
        /// Words that are never practised: what was gained.
        Check = "check", "the check";
        /// The jars of the evening.
        Jars = "jars", "jars";
        /// Spiked against plain.
        Presence = "presence", "present or not";
        /// A series from weak to strong.
        Strength = "strength", "strength";
    }
}

/// How many meetings a course has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct MeetingCount(u8);

impl MeetingCount {
    /// Fewest and most.
    pub const BOUNDS: std::ops::RangeInclusive<u8> = 3..=30;

    /// Makes a count.
    ///
    /// # Errors
    /// Fewer than 3, which have no middle, or more than 30.
    pub fn new(count: u8) -> Result<Self, Invalid> {
        if Self::BOUNDS.contains(&count) {
            Ok(Self(count))
        } else {
            Err(Invalid::OutOfRange {
                what: "the meetings of a course",
                found: f64::from(count),
                low: f64::from(*Self::BOUNDS.start()),
                high: f64::from(*Self::BOUNDS.end()),
                unit: "",
            })
        }
    }

    /// The count.
    #[must_use]
    pub const fn get(self) -> u8 {
        self.0
    }

    /// The meetings, from 1, at which the check is smelled: the first, the middle and the last.
    #[must_use]
    pub const fn checks(self) -> [u8; 3] {
        [1, self.0.div_ceil(2), self.0]
    }
}

/// A course as stored.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Course {
    /// The id.
    pub id: CourseId,
    /// What its people call it.
    pub name: Name,
    /// How many meetings are meant.
    pub meetings: MeetingCount,
    /// Who learns, in the order named.
    pub people: Vec<TasterId>,
    /// The words held back, which are smelled at three meetings and never practised.
    pub check: Vec<DescriptorId>,
    /// When it was made.
    pub made_at: Moment,
}

/// One evening of a course.
#[derive(Debug, Clone, PartialEq)]
pub struct Meeting {
    /// The id.
    pub id: MeetingId,
    /// Its course.
    pub course: CourseId,
    /// The first is 1.
    pub number: u8,
    /// How long it is meant to last.
    pub length: Minutes,
    /// When it was planned.
    pub made_at: Moment,
    /// What is practised, in its order.
    pub practices: Vec<(MeetingPart, SittingId)>,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_check_comes_at_the_first_the_middle_and_the_last_meeting() {
        let checks = |count| MeetingCount::new(count).unwrap().checks();
        assert_eq!(checks(3), [1, 2, 3]);
        assert_eq!(checks(6), [1, 3, 6]);
        assert_eq!(checks(7), [1, 4, 7]);
        assert!(MeetingCount::new(2).is_err());
    }
}
