//! An interval of plain numbers that is meant to hold a true value in 95 % of cases.

use crate::statistics::Normal;
use crate::statistics::Probability;
use crate::statistics::StudentT;

/// The chance left on each side of a 95 % interval.
pub(in crate::statistics) const BEYOND_EACH_END: f64 = 0.025;

/// From here to there, both ends finite.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// The lower end.
    pub low: f64,
    /// The upper end.
    pub high: f64,
}

impl Interval {
    /// `reach` to either side of `middle`.
    #[must_use]
    pub fn around(middle: f64, reach: f64) -> Self {
        Self {
            low: middle - reach,
            high: middle + reach,
        }
    }

    /// Whether `value` lies within, its ends included.
    #[must_use]
    pub fn holds(self, value: f64) -> bool {
        self.low <= value && value <= self.high
    }
}

/// How many standard errors a 95 % interval reaches to either side when they are known: 1.959964.
pub(in crate::statistics) fn normal_reach() -> f64 {
    Normal::STANDARD.quantile(Probability::rounded(1.0 - BEYOND_EACH_END))
}

/// The same when they were estimated with so many degrees of freedom, at least one.
pub(in crate::statistics) fn student_reach(freedom: usize) -> f64 {
    let student = StudentT::new(freedom.max(1) as f64).expect("at least one degree of freedom");
    student.quantile(Probability::rounded(1.0 - BEYOND_EACH_END))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reaches_are_those_of_printed_tables() {
        // Any printed table: z 1.960, t 12.706 with 1 and 2.120 with 16 degrees of freedom.
        assert!((normal_reach() - 1.959_964).abs() < 1e-6);
        assert!((student_reach(1) - 12.706).abs() < 5e-4);
        assert!((student_reach(16) - 2.120).abs() < 5e-4);
    }

    #[test]
    fn an_interval_holds_its_ends() {
        let some = Interval::around(1.0, 0.5);
        assert!(some.holds(0.5) && some.holds(1.5) && !some.holds(1.6) && !some.holds(f64::NAN));
    }
}
