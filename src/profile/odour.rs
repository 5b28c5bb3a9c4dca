//! From flavour units to taste: the chance that a smell is named, and how strong it is if so.

use crate::domain::Stage;
use crate::statistics::Normal;
use crate::statistics::Probability;
use crate::statistics::Sd;
use crate::statistics::TruncatedNormal;

/// The standard deviation of log10 thresholds across people. Meilgaard 1982, J. Agric. Food Chem.
/// 30:1009: the least sensitive tenth needs 20 times what the most sensitive tenth does;
/// log10(20)/2.563 = 0.51, taken as 0.5.
const PEOPLE: f64 = 0.5;

/// How intensity grows with flavour units: an exponent in the middle of what category scales show
/// for odours (Stevens' law, 0.35 to 0.7; judgement).
const EXPONENT: f64 = 0.6;

/// The intensity, 0 to 9, of what is met at `units` times a taster's own threshold:
/// 9u/(8 + u) with u = units^0.6, so that it is 1 at the threshold and never reaches 9 (judgement).
#[must_use]
pub fn intensity_of(units: f64) -> f64 {
    let u = units.max(0.0).powf(EXPONENT);
    9.0 * u / (8.0 + u)
}

/// Flavour units that are not exactly known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Odour {
    log_units: f64,
    perceived: Normal,
}

impl Odour {
    /// Units with the standard deviation of their log10; none where there are no units.
    #[must_use]
    pub fn new(units: f64, spread: f64) -> Option<Self> {
        let log_units = units.log10();
        let sd = Sd::new(PEOPLE.hypot(spread))?;
        log_units.is_finite().then_some(Self {
            log_units,
            perceived: Normal::new(log_units, sd),
        })
    }

    /// The median of the flavour units, multiples of a threshold.
    #[must_use]
    pub fn units(self) -> f64 {
        10.0_f64.powf(self.log_units)
    }

    /// How many standard deviations it lies above the threshold; the chance to be named rises with it, and it is
    /// had for one division.
    #[must_use]
    pub fn above_threshold(self) -> f64 {
        self.log_units / self.perceived.sd().get()
    }

    /// The chance that a taster names it: Φ(log10(units)/√(0.5² + spread²)).
    #[must_use]
    pub fn named(self) -> Probability {
        self.perceived.upper_tail(0.0)
    }

    /// Its intensity, 0 to 9, if it is named: a tenth, half and nine tenths of tasters stay below.
    #[must_use]
    pub fn if_named(self) -> [f64; 3] {
        self.if_named_at([0.1, 0.5, 0.9])
    }

    /// Its intensity, 0 to 9, if it is named, below which these shares of tasters stay.
    #[must_use]
    pub fn if_named_at<const N: usize>(self, shares: [f64; N]) -> [f64; N] {
        let Some(cut) = TruncatedNormal::above_zero(self.perceived) else {
            return [1.0; N];
        };
        shares.map(|part| {
            let log = Probability::new(part).map_or(0.0, |part| cut.quantile(part));
            intensity_of(10.0_f64.powf(log))
        })
    }
}

/// What a smell weighs at a stage, by where it comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weights {
    /// In the nose.
    pub nose: f64,
    /// In the mouth.
    pub mouth: f64,
}

impl Weights {
    /// The weight at a stage; 0 where nothing is smelled.
    #[must_use]
    pub const fn at(self, stage: Stage) -> f64 {
        match stage {
            Stage::Aroma => self.nose,
            Stage::Flavour => self.mouth,
            Stage::Appearance | Stage::Body | Stage::Finish => 0.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn intensity_is_one_at_the_threshold_and_saturates_below_nine() {
        // By hand: u = 1 gives 9/9; 32^0.6 = 2^3 = 8 gives 72/16 = 4.5.
        assert!((intensity_of(1.0) - 1.0).abs() < 1e-12);
        assert!((intensity_of(32.0) - 4.5).abs() < 1e-12);
        assert!(intensity_of(1e12) < 9.0 && intensity_of(1e12) > 8.9);
        assert!(intensity_of(0.0).abs() < 1e-12);
    }

    #[test]
    fn half_of_all_people_name_what_stands_at_the_threshold() {
        let at = |units| Odour::new(units, 1e-9).unwrap().named().get();
        assert!((at(1.0) - 0.5).abs() < 1e-9);
        // Φ(log10(10)/0.5) = Φ(2) = 0.97725 (tables of the normal distribution).
        assert!((at(10.0) - 0.977_25).abs() < 1e-5);
    }

    #[test]
    fn what_is_not_known_pulls_the_chance_towards_a_half_and_widens_the_range() {
        let (sure, unsure) = (Odour::new(5.0, 0.2).unwrap(), Odour::new(5.0, 0.8).unwrap());
        assert!(unsure.named() < sure.named());
        let width = |it: Odour| it.if_named()[2] - it.if_named()[0];
        assert!(width(unsure) > width(sure));
        assert!(sure.if_named()[0] >= 1.0);
    }

    #[test]
    fn nothing_is_no_odour() {
        assert_eq!(Odour::new(0.0, 0.4), None);
        assert_eq!(Odour::new(f64::NAN, 0.4), None);
    }
}
