//! A variance that is itself only estimated, and the degrees of freedom that follow.

/// An estimated variance and how far the estimate may be off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UncertainVariance {
    value: f64,
    /// The variance of the estimate that is its own.
    own_error: f64,
    /// The standard deviation of the estimate that all estimates of one line share.
    shared_error: f64,
}

/// How the logarithm of an estimated standard deviation varies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::profile) struct LogVariance {
    /// With this taster alone.
    pub(in crate::profile) own: f64,
    /// With what all tasters have in common on this line.
    pub(in crate::profile) shared: f64,
}

impl UncertainVariance {
    /// A variance that is known; below 0 counts as 0.
    #[must_use]
    pub(in crate::profile) fn known(value: f64) -> Self {
        Self {
            value: value.max(0.0),
            own_error: 0.0,
            shared_error: 0.0,
        }
    }

    /// The square of a standard deviation that is only estimated.
    ///
    /// By the delta method Var(σ̂²) = (2σ²)²·Var(ln σ̂) (Oehlert 1992, American Statistician 46:27-29).
    #[must_use]
    pub(in crate::profile) fn of_spread(sd: f64, log_variance: LogVariance) -> Self {
        let value = sd * sd;
        Self {
            value,
            own_error: 4.0 * value * value * log_variance.own,
            shared_error: 2.0 * value * log_variance.shared.sqrt(),
        }
    }

    /// This variance times a known factor.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        Self {
            value: self.value * factor,
            own_error: self.own_error * factor * factor,
            shared_error: self.shared_error * factor,
        }
    }

    /// The sum with a variance that was estimated on something else: own errors partly cancel, what is
    /// shared adds up.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        Self {
            value: self.value + other.value,
            own_error: self.own_error + other.own_error,
            shared_error: self.shared_error + other.shared_error,
        }
    }

    /// The sum with a variance that rests on the same estimates, so that all errors add up.
    #[must_use]
    pub(in crate::profile) fn plus_in_step(self, other: Self) -> Self {
        let own = self.own_error.sqrt() + other.own_error.sqrt();
        Self {
            own_error: own * own,
            ..self.plus(other)
        }
    }

    /// The variance, in the squared unit of what varies.
    #[must_use]
    pub const fn value(self) -> f64 {
        self.value
    }

    /// Degrees of freedom ν = 2v²/Var(v̂) = 2/Var(ln v̂), infinite for a variance that is known.
    ///
    /// A sum of parts that share no error gets the ν of Satterthwaite 1946 (Biometrics Bulletin
    /// 2:110-114) and Welch 1947 (Biometrika 34:28-35). With a share in common it is smaller.
    #[must_use]
    pub fn freedom(self) -> f64 {
        let error = self.own_error + self.shared_error * self.shared_error;
        if error > 0.0 {
            2.0 * self.value * self.value / error
        } else {
            f64::INFINITY
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn own(sd: f64, log_variance: f64) -> UncertainVariance {
        let log_variance = LogVariance {
            own: log_variance,
            shared: 0.0,
        };
        UncertainVariance::of_spread(sd, log_variance)
    }

    #[test]
    fn two_samples_have_the_degrees_of_freedom_of_welch() {
        // scipy 1.17.1, ttest_ind([1, 2, 4, 7], [3, 3.5, 5, 9, 12, 4], equal_var=False): df =
        // 7.831474566873887. A sample variance with k degrees of freedom has Var(ln s) = 1/(2k).
        let first = own(7.0_f64.sqrt(), 1.0 / 6.0).times(1.0 / 4.0);
        let second = own((313.0_f64 / 24.0).sqrt(), 1.0 / 10.0).times(1.0 / 6.0);
        assert!((first.plus(second).freedom() - 7.831_474_566_873_887).abs() < 1e-9);
    }

    #[test]
    fn what_is_known_takes_no_freedom_away() {
        assert!(UncertainVariance::known(2.0).freedom().is_infinite());
        // ν = 2/Var(ln v̂) and Var(ln σ²) = 4·0.1: 5 degrees; with as much again that is known
        // the uncertain half counts a quarter: 20.
        let half = own(1.0, 0.1);
        assert!((half.freedom() - 5.0).abs() < 1e-12);
        let whole = half.plus(UncertainVariance::known(1.0));
        assert!((whole.freedom() - 20.0).abs() < 1e-12);
    }

    #[test]
    fn what_all_tasters_share_is_not_averaged_away() {
        // By hand: one taster, Var(ln σ²) = 4·(0.1 + 0.3) and ν = 2/1.6; the mean of four keeps the
        // shared 1.2 and a quarter of its own 0.4: ν = 2/1.3.
        let log_variance = LogVariance {
            own: 0.1,
            shared: 0.3,
        };
        let one = UncertainVariance::of_spread(2.0, log_variance);
        assert!((one.freedom() - 1.25).abs() < 1e-12);
        let four = one.plus(one).plus(one).plus(one).times(1.0 / 16.0);
        assert!((four.freedom() - 2.0 / 1.3).abs() < 1e-12);
    }

    #[test]
    fn two_estimates_that_err_together_are_worth_one() {
        let one = own(1.0, 0.1);
        assert!((one.plus_in_step(one).freedom() - 5.0).abs() < 1e-12);
        assert!((one.plus(one).freedom() - 10.0).abs() < 1e-12);
    }
}
