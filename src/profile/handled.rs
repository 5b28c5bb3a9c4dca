//! How a beer was made and kept, as far as somebody logged it.

use crate::domain::ConditionKind;

/// Minutes of boil for which the units of the catalogue hold.
const USUAL_BOIL: f64 = 60.0;
/// Minutes of cooling for which they hold.
const USUAL_COOLING: f64 = 15.0;
/// Minutes at the boil in which half of what becomes sweetcorn is turned (brewers' figure, 35 to 40).
const CORN_HALVED: f64 = 37.5;
/// Degrees Plato above which a wort gives more esters than its strength (Verstrepen 2003, from memory).
const STRONG_FROM: f64 = 13.0;
/// How much more for each degree (judgement).
const PER_PLATO: f64 = 1.06;
/// How esters follow the pitching rate: half the yeast, a quarter more (judgement; it hangs on the strain).
const PITCHING_EXPONENT: f64 = -0.3;

/// How a beer was made and kept; none where nobody looked.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Handled {
    /// Minutes of boil.
    pub boil: Option<f64>,
    /// Minutes of it under a lid.
    pub covered: Option<f64>,
    /// Minutes until the wort was cold.
    pub cooling: Option<f64>,
    /// Yeast pitched, as a multiple of the usual rate.
    pub pitched: Option<f64>,
    /// Original extract, °P.
    pub original: Option<f64>,
    /// Weeks in the bottle, counted at 20 °C.
    pub weeks: Option<f64>,
    /// How often it was splashed after pitching.
    pub splashed: Option<f64>,
    /// Minutes of daylight on the bottle.
    pub daylight: Option<f64>,
}

impl Handled {
    /// What a boil leaves of what leaves with the steam, as a multiple of an hour's boil with a quick cooling:
    /// a long boil turns and drives off more, what forms under a lid and while cooling stays.
    #[must_use]
    pub(super) fn boiled_off(&self) -> f64 {
        let boil = self.boil.unwrap_or(USUAL_BOIL);
        let covered = self.covered.unwrap_or(0.0).min(boil);
        let cooling = self.cooling.unwrap_or(USUAL_COOLING);
        // Half of what an ordinary beer has forms while it cools (judgement); a lid keeps what forms below it.
        let open = ((USUAL_BOIL - boil) / CORN_HALVED).exp2();
        open * (0.5 + 0.5 * cooling / USUAL_COOLING + covered / USUAL_BOIL)
    }

    /// How much more or less esters come than from an ordinary wort, ordinarily pitched.
    #[must_use]
    pub(super) fn stressed(&self) -> f64 {
        let above = self.original.map_or(0.0, |it| (it - STRONG_FROM).max(0.0));
        let pitched = self.pitched.unwrap_or(1.0).clamp(0.1, 10.0);
        PER_PLATO.powf(above) * pitched.powf(PITCHING_EXPONENT)
    }

    /// The amount of a condition, in its unit; none where nothing is known of it.
    #[must_use]
    pub(super) fn amount(&self, kind: ConditionKind) -> Option<f64> {
        match kind {
            ConditionKind::Age => self.weeks,
            ConditionKind::Air => Some(self.splashed? * self.weeks?),
            ConditionKind::Daylight => self.daylight,
            ConditionKind::OldHops => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_short_boil_leaves_twice_as_much_for_each_half_life_it_lacks() {
        let boiled = |minutes| Handled {
            boil: Some(minutes),
            ..Handled::default()
        };
        // Half-life 35 to 40 minutes at 100 °C (brewers' figure): 22.5 minutes instead of 60 leave twice.
        assert!((boiled(22.5).boiled_off() - 2.0).abs() < 1e-12);
        assert!((Handled::default().boiled_off() - 1.0).abs() < 1e-12);
        let slow = Handled {
            cooling: Some(60.0),
            covered: Some(30.0),
            ..Handled::default()
        };
        // 0.5 + 0.5 × 60/15 + 30/60 = 3.
        assert!((slow.boiled_off() - 3.0).abs() < 1e-12);
    }

    #[test]
    fn strong_wort_and_little_yeast_make_esters() {
        // Verstrepen 2003 and Saerens 2010, from memory: more with gravity above 13 °P, more with little yeast.
        let stressed = |original, pitched| {
            let handled = Handled {
                original: Some(original),
                pitched: Some(pitched),
                ..Handled::default()
            };
            handled.stressed()
        };
        assert!((stressed(12.0, 1.0) - 1.0).abs() < 1e-12);
        assert!(stressed(20.0, 1.0) > 1.3);
        // Half the yeast: 2^0.3 = 1.231.
        assert!((stressed(12.0, 0.5) - 1.231).abs() < 1e-3);
    }
}
