//! Present or not: how well a taster tells the two apart, and which way they lean when in doubt.

use crate::statistics::Count;
use crate::statistics::Normal;
use crate::statistics::Probability;

/// How well two things are told apart, and the leaning.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Detection {
    /// The distance d′ = z(H) − z(F), in standard deviations.
    pub d_prime: f64,
    /// The criterion c = −½(z(H) + z(F)); below 0 one says "present" too readily.
    pub criterion: f64,
}

impl Detection {
    /// From the shares of "present" where it was (`hits`) and where it was not (`false_alarms`), both
    /// strictly between 0 and 1 (Green & Swets 1966; Macmillan & Creelman 2005, chapters 1 and 2).
    #[must_use]
    pub fn of(hits: Probability, false_alarms: Probability) -> Self {
        let z = |it: Probability| Normal::STANDARD.quantile(it);
        let (hits, false_alarms) = (z(hits), z(false_alarms));
        Self {
            d_prime: hits - false_alarms,
            criterion: -0.5 * (hits + false_alarms),
        }
    }

    /// From counts with the log-linear correction (h + ½)/(n + 1), so that all and none have a value
    /// too (Hautus 1995, Behavior Research Methods 27:46-51).
    #[must_use]
    pub fn log_linear(hits: Count, false_alarms: Count) -> Self {
        let share = |it: Count| {
            Probability::rounded((f64::from(it.hits()) + 0.5) / (f64::from(it.tries()) + 1.0))
        };
        Self::of(share(hits), share(false_alarms))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn p(value: f64) -> Probability {
        Probability::new(value).unwrap()
    }

    fn count(hits: u32, tries: u32) -> Count {
        Count::new(hits, tries).unwrap()
    }

    fn is(found: Detection, d_prime: f64, criterion: f64) {
        assert!((found.d_prime - d_prime).abs() < 5e-6, "{found:?}");
        assert!((found.criterion - criterion).abs() < 5e-6, "{found:?}");
    }

    #[test]
    fn distances_and_criteria_are_those_of_the_handbook() {
        // Macmillan & Creelman (2005), chapters 1 and 2: 0.992, and 1.095 with −0.29 (from memory);
        // further digits by scipy's norm.ppf.
        is(Detection::of(p(0.69), p(0.31)), 0.991_70, 0.0);
        is(Detection::of(p(0.80), p(0.40)), 1.094_97, -0.294_14);
        // Stanislaw & Todorov (1999): 50 of 50 and 17 of 25 as .99 and .68: d′ 1.86, c −1.40.
        is(Detection::of(p(0.99), p(0.68)), 1.858_65, -1.397_02);
    }

    #[test]
    fn all_and_none_have_a_distance_by_the_log_linear_rule() {
        // By scipy's norm.ppf of (h + .5)/(n + 1).
        is(
            Detection::log_linear(count(50, 50), count(17, 25)),
            1.885_34,
            -1.391_10,
        );
        is(
            Detection::log_linear(count(20, 20), count(0, 20)),
            3.961_505,
            0.0,
        );
    }
}
