//! How much one taster's answers on one line scatter: within a sitting, and from day to day.

use crate::profile::UncertainVariance;
use crate::profile::uncertain_variance::LogVariance;
use crate::statistics::Sd;

/// Answers are whole digits; rounding adds the variance of an even spread over one digit
/// (Sheppard 1898, Proc. London Math. Soc. 29:353-380).
const ROUNDING: f64 = 1.0 / 12.0;

/// Scatter of a taster nobody has measured, before rounding, in digits (judgement).
const DEFAULT_WITHIN: f64 = 0.9;

/// Scatter between days of a taster nobody has measured, in digits (judgement).
const DEFAULT_DAY: f64 = 0.7;

/// How the logarithm of the scatter varies (judgement): with the taster, and with the taster on the
/// line; with all tasters, and with the line.
const WITHIN_LOG_VARIANCE: LogVariance = LogVariance {
    own: 0.3 * 0.3 + 0.2 * 0.2,
    shared: 0.4 * 0.4 + 0.25 * 0.25,
};

/// How the logarithm of the scatter between days varies (judgement): with the taster.
const DAY_LOG_VARIANCE: LogVariance = LogVariance {
    own: 0.4 * 0.4,
    shared: 0.0,
};

/// Where a figure comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Basis {
    /// Assumed, because nobody has measured it.
    Default,
    /// Measured a little, and for the most part taken from other lines and other tasters.
    Borrowed,
    /// Measured on this taster.
    Measured,
}

/// Where both parts of a noise come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NoiseBasis {
    /// The scatter within a sitting.
    pub within: Basis,
    /// The scatter from day to day.
    pub day: Basis,
}

impl NoiseBasis {
    /// The weaker of both: default as long as a part of it is.
    #[must_use]
    pub fn weakest(self) -> Basis {
        self.within.min(self.day)
    }

    /// Of two noises together, part by part the weaker one.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        Self {
            within: self.within.min(other.within),
            day: self.day.min(other.day),
        }
    }
}

/// A standard deviation in digits as far as it is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpreadEstimate {
    sd: f64,
    log_variance: LogVariance,
    basis: Basis,
}

impl SpreadEstimate {
    /// Measured: the standard deviation, and the variance of its logarithm, 1/(2ν) after ν pairs;
    /// `None` when that is below 0 or no number.
    #[must_use]
    pub fn measured(sd: Sd, log_variance: f64) -> Option<Self> {
        let good = log_variance >= 0.0 && log_variance.is_finite();
        good.then_some(Self {
            sd: sd.get(),
            log_variance: LogVariance {
                own: log_variance,
                shared: 0.0,
            },
            basis: Basis::Measured,
        })
    }

    /// Taken for the most part from other lines and tasters: the standard deviation, and the variance of its
    /// logarithm, of which the same part is common to all tasters as before anybody was measured; `None` when
    /// that is below 0 or no number.
    #[must_use]
    pub fn borrowed(sd: Sd, log_variance: f64) -> Option<Self> {
        let measured = Self::measured(sd, log_variance)?;
        let LogVariance { own, shared } = WITHIN_LOG_VARIANCE;
        Some(Self {
            log_variance: LogVariance {
                own: log_variance * own / (own + shared),
                shared: log_variance * shared / (own + shared),
            },
            basis: Basis::Borrowed,
            ..measured
        })
    }

    /// The standard deviation, in digits.
    #[must_use]
    pub const fn sd(self) -> f64 {
        self.sd
    }

    /// The variance of its natural logarithm.
    #[must_use]
    pub const fn log_variance(self) -> f64 {
        self.log_variance.own + self.log_variance.shared
    }

    fn squared(self) -> UncertainVariance {
        UncertainVariance::of_spread(self.sd, self.log_variance)
    }
}

/// The noise of one taster on one line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Noise {
    within: SpreadEstimate,
    day: SpreadEstimate,
}

impl Noise {
    /// What is assumed of a taster nobody has measured.
    pub const DEFAULT: Self = Self {
        within: SpreadEstimate {
            sd: DEFAULT_WITHIN,
            log_variance: WITHIN_LOG_VARIANCE,
            basis: Basis::Default,
        },
        day: SpreadEstimate {
            sd: DEFAULT_DAY,
            log_variance: DAY_LOG_VARIANCE,
            basis: Basis::Default,
        },
    };

    /// This noise with another scatter within a sitting, before rounding to whole digits.
    #[must_use]
    pub const fn within(self, within: SpreadEstimate) -> Self {
        Self { within, ..self }
    }

    /// This noise with another scatter between days.
    #[must_use]
    pub const fn between_days(self, day: SpreadEstimate) -> Self {
        Self { day, ..self }
    }

    /// The part that is left in the difference of two glasses of one sitting: a day that shifts a
    /// taster shifts both alike. Within a sitting is what hidden duplicates measure.
    #[must_use]
    pub const fn of_one_sitting(self) -> Self {
        let none = SpreadEstimate {
            sd: 0.0,
            log_variance: LogVariance {
                own: 0.0,
                shared: 0.0,
            },
            basis: Basis::Measured,
        };
        Self { day: none, ..self }
    }

    /// How far the scatter within a sitting is known: the variance of its natural logarithm.
    #[must_use]
    pub const fn within_log_variance(self) -> f64 {
        self.within.log_variance()
    }

    /// Where it comes from.
    #[must_use]
    pub const fn basis(self) -> NoiseBasis {
        NoiseBasis {
            within: self.within.basis,
            day: self.day.basis,
        }
    }

    /// The variance of one glass within a sitting, as it is answered: σ² + 1/12.
    #[must_use]
    pub fn glass_variance(self) -> UncertainVariance {
        self.within
            .squared()
            .plus(UncertainVariance::known(ROUNDING))
    }

    /// The variance of the mean of so many glasses on so many days about what is there, before it is
    /// rounded: σ²/R + ω²/D.
    #[must_use]
    pub fn unrounded(self, glasses: f64, days: f64) -> f64 {
        self.within.squared().value() / glasses + self.day.squared().value() / days
    }

    /// The variance that a day adds to all its glasses.
    #[must_use]
    pub fn day_variance(self) -> UncertainVariance {
        self.day.squared()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn defaults_are_those_of_the_noise_model_and_say_so() {
        // By hand: 0.4² + 0.3² + 0.25² + 0.2² = 0.3525; 0.81 + 1/12; 0.49.
        assert!((Noise::DEFAULT.within.log_variance() - 0.3525).abs() < 1e-12);
        assert!((Noise::DEFAULT.glass_variance().value() - 0.893_333_333_333).abs() < 1e-9);
        assert!((Noise::DEFAULT.day_variance().value() - 0.49).abs() < 1e-12);
        assert_eq!(Noise::DEFAULT.basis().weakest(), Basis::Default);
    }

    #[test]
    fn two_glasses_of_one_sitting_differ_by_twice_the_scatter_within_it() {
        // By hand: 0.9² + 1/12 = 0.893333, and nothing for the day.
        let noise = Noise::DEFAULT.of_one_sitting();
        assert!((noise.glass_variance().value() - 0.893_333_333_333).abs() < 1e-9);
        assert!(noise.day_variance().value().abs() < 1e-12);
        let some = SpreadEstimate::measured(Sd::new(0.8).unwrap(), 0.02).unwrap();
        assert_eq!(noise.basis().weakest(), Basis::Default);
        assert_eq!(noise.within(some).basis().weakest(), Basis::Measured);
    }

    #[test]
    fn two_glasses_on_two_days_halve_what_is_not_rounded() {
        // By hand: 0.81 + 0.49, and half of it; two glasses of one day: 0.405 + 0.49.
        let at = |glasses, days| Noise::DEFAULT.unrounded(glasses, days);
        for (found, expected) in [
            (at(1.0, 1.0), 1.3),
            (at(2.0, 2.0), 0.65),
            (at(2.0, 1.0), 0.895),
        ] {
            assert!((found - expected).abs() < 1e-12, "{found}");
        }
    }

    #[test]
    fn half_a_measurement_is_still_a_default() {
        let some = SpreadEstimate::measured(Sd::new(0.8).unwrap(), 0.02).unwrap();
        let half = Noise::DEFAULT.within(some);
        assert_eq!(half.basis().weakest(), Basis::Default);
        assert_eq!(half.basis().within, Basis::Measured);
        let whole = half.between_days(some).basis();
        assert_eq!(whole.weakest(), Basis::Measured);
        assert_eq!(whole.with(half.basis()), half.basis());
    }

    #[test]
    fn what_is_borrowed_is_as_sure_as_it_says_and_stands_between_default_and_measured() {
        let sd = Sd::new(0.8).unwrap();
        let some = SpreadEstimate::borrowed(sd, 0.1).unwrap();
        assert!((some.log_variance() - 0.1).abs() < 1e-12);
        let noise = Noise::DEFAULT.within(some);
        assert_eq!(noise.of_one_sitting().basis().weakest(), Basis::Borrowed);
        assert!(Basis::Default < Basis::Borrowed && Basis::Borrowed < Basis::Measured);
        assert_eq!(SpreadEstimate::borrowed(sd, f64::NAN), None);
    }

    #[test]
    fn rounding_is_known_however_little_is_known_of_the_taster() {
        // ν = 2v²/(4σ⁴·L) with σ² = 0.81, L = 0.3525, v = 0.893333: 1.725 by hand.
        let freedom = Noise::DEFAULT.glass_variance().freedom();
        assert!((freedom - 1.725).abs() < 0.001, "{freedom}");
    }

    #[test]
    fn an_estimate_cannot_be_surer_than_sure() {
        let sd = Sd::new(0.8).unwrap();
        for bad in [-0.1, f64::NAN, f64::INFINITY] {
            assert_eq!(SpreadEstimate::measured(sd, bad), None, "{bad}");
        }
    }
}
