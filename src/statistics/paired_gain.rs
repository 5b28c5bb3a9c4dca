//! What was gained between two tries at the same questions, with its range.

use crate::statistics::Normal;
use crate::statistics::Probability;

/// How the same questions were answered first and later.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PairedAnswers {
    gained: u32,
    lost: u32,
    all: u32,
}

impl PairedAnswers {
    /// So many wrong first and right later (`gained`), so many the other way round (`lost`), of `all`.
    ///
    /// None if there is no question, or if fewer were asked than changed.
    #[must_use]
    pub const fn new(gained: u32, lost: u32, all: u32) -> Option<Self> {
        match gained.checked_add(lost) {
            Some(changed) if changed <= all && all > 0 => Some(Self { gained, lost, all }),
            _ => None,
        }
    }

    /// The later share of right answers less the first, and where that difference lies.
    ///
    /// The interval is Wald's with the adjustment of Bonett & Price (2012), Journal of Educational and
    /// Behavioral Statistics 37:479-488: one is added to both counts of change and two to all. Fagerland,
    /// Lydersen & Laake (2014), Statistics in Medicine 33:2850-2875, recommend it for few pairs. `outside`
    /// is the chance left on both sides together.
    #[must_use]
    pub fn difference(self, outside: Probability) -> PairedDifference {
        let (gained, lost) = (f64::from(self.gained), f64::from(self.lost));
        let all = f64::from(self.all) + 2.0;
        let (up, down) = ((gained + 1.0) / all, (lost + 1.0) / all);
        let middle = up - down;
        let error = ((up + down - middle * middle) / all).sqrt();
        let wide = Probability::rounded(1.0 - outside.get() / 2.0);
        let reach = Normal::STANDARD.quantile(wide) * error;
        PairedDifference {
            difference: (gained - lost) / f64::from(self.all),
            low: (middle - reach).max(-1.0),
            high: (middle + reach).min(1.0),
        }
    }
}

/// A difference of two shares, −1 to 1, with its range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PairedDifference {
    /// The later share less the first.
    pub difference: f64,
    /// The lower end.
    pub low: f64,
    /// The upper end.
    pub high: f64,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_published_example_of_the_adjusted_interval_comes_out() {
        // Fagerland, Lydersen & Laake 2014, Table V (airways of 21 children before and after): 1 pair
        // changed one way and 7 the other; the counts were read there, the interval (−0.508 to −0.013)
        // is from memory and agrees with the arithmetic (2 − 8)/23 ± 1.959964·√(((10 − 36/23)/23)/23).
        let five = Probability::new(0.05).unwrap();
        let found = PairedAnswers::new(1, 7, 21).unwrap().difference(five);
        assert!((found.difference + 6.0 / 21.0).abs() < 1e-12);
        assert!((found.low + 0.508).abs() < 0.000_5, "{found:?}");
        assert!((found.high + 0.013).abs() < 0.000_5, "{found:?}");
    }

    #[test]
    fn nothing_changed_is_no_proof_that_nothing_changes() {
        let five = Probability::new(0.05).unwrap();
        let found = PairedAnswers::new(0, 0, 8).unwrap().difference(five);
        assert!(found.low < -0.2 && found.high > 0.2, "{found:?}");
        assert!(PairedAnswers::new(5, 4, 8).is_none());
        assert!(PairedAnswers::new(0, 0, 0).is_none());
    }
}
