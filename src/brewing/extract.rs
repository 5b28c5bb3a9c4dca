//! The gravity a grist gives, by mass balance of its extract.

use std::ops::RangeInclusive;

use crate::brewing::bounds::FRACTION;
use crate::brewing::bounds::MASS_KG;
use crate::brewing::bounds::VOLUME_LITRES;
use crate::brewing::bounds::within;
use crate::brewing::gravity::Plato;
use crate::brewing::gravity::extract_density;
use crate::brewing::gravity::gravity_at;

/// Density of water at 20 °C in kg/L, as the Plato tables use it.
pub(super) const WATER_KG_PER_LITRE: f64 = 0.998_20;

/// Extract fractions that can be real: at most its own mass, and one part in twenty more, because
/// sucrose takes up water when it is split and rounded sheets overshoot.
const EXTRACT_FRACTION: RangeInclusive<f64> = 0.0..=1.05;

/// How an ingredient gives its extract to the wort.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ExtractSource {
    /// Mashed and lautered: only the brewhouse efficiency's share arrives.
    Mashed,
    /// Sugar, syrup, honey, malt extract: stirred in, all of it arrives.
    Dissolved,
}

/// One ingredient as its extract counts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ExtractCharge {
    /// Mass as weighed, kg.
    pub kilograms: f64,
    /// Extract over mass as weighed (moisture already taken off), 0 to 1.05.
    pub extract_fraction: f64,
    /// Whether the mash stands between it and the wort.
    pub source: ExtractSource,
}

impl ExtractCharge {
    /// Extract that arrives in the wort in kg, at a brewhouse efficiency of 0 to 1.
    ///
    /// `None` when mass, fraction or efficiency lies outside its range.
    #[must_use]
    pub fn extract_kilograms(&self, efficiency: f64) -> Option<f64> {
        let efficiency = within(efficiency, &FRACTION)?;
        let potential =
            within(self.kilograms, &MASS_KG)? * within(self.extract_fraction, &EXTRACT_FRACTION)?;
        Some(match self.source {
            ExtractSource::Mashed => potential * efficiency,
            ExtractSource::Dissolved => potential,
        })
    }
}

/// Original extract of `litres` of wort (at 20 °C) made from a grist.
///
/// Solves P · SG(P) · 0.99820 · V / 100 = E for P: the mass of extract in the wort is the mass
/// that arrived. Efficiency (0 to 1) counts for mashed material only.
///
/// `None` for a charge, efficiency or volume outside its range, and for more extract than a wort
/// of 36 °P holds.
#[must_use]
pub fn original_extract(grist: &[ExtractCharge], efficiency: f64, litres: f64) -> Option<Plato> {
    let water_kilograms = within(litres, &VOLUME_LITRES)? * WATER_KG_PER_LITRE;
    let extract_kilograms = grist
        .iter()
        .map(|charge| charge.extract_kilograms(efficiency))
        .sum::<Option<f64>>()?;
    gravity_at(extract_density, 100.0 * extract_kilograms / water_kilograms)?.plato()
}

#[cfg(test)]
mod tests {
    use super::ExtractCharge;
    use super::ExtractSource;
    use super::original_extract;

    const KG_PER_POUND: f64 = 0.453_592_37;
    const LITRES_PER_US_GALLON: f64 = 3.785_411_784;

    const fn charge(kilograms: f64, extract_fraction: f64, source: ExtractSource) -> ExtractCharge {
        ExtractCharge {
            kilograms,
            extract_fraction,
            source,
        }
    }

    fn points(grist: &[ExtractCharge], efficiency: f64, litres: f64) -> f64 {
        let extract = original_extract(grist, efficiency, litres).expect("a real wort");
        extract.specific_gravity().expect("in range").points()
    }

    #[test]
    fn a_pound_of_sucrose_in_a_gallon_gives_its_rule_of_thumb() {
        // Common practice (from memory): one pound of sucrose in one US gallon gives 46.2 points.
        let sucrose = [charge(KG_PER_POUND, 1.0, ExtractSource::Dissolved)];
        let got = points(&sucrose, 0.7, LITRES_PER_US_GALLON);
        assert!((got - 46.2).abs() < 0.1, "{got}");
    }

    #[test]
    fn the_extract_weighed_in_is_the_extract_in_the_wort() {
        // Mass balance checked with whole numbers: at 10 °P and 1.0400 (printed Plato table),
        // 100 L weigh 0.9982 * 104.0 kg and hold a tenth of that as extract: 10.381 kg.
        let sugar = [charge(10.381, 1.0, ExtractSource::Dissolved)];
        let degrees = original_extract(&sugar, 0.7, 100.0)
            .expect("a real wort")
            .degrees();
        // 0.01 °P covers the table's rounding to 0.1 of a point.
        assert!((degrees - 10.0).abs() < 0.01, "{degrees}");
    }

    #[test]
    fn grist_and_sugar_add_up_to_the_computed_recipes() {
        // Computed from the mass balance by hand, beside the rule of thumb above:
        // 1.9862 kg of extract in 18.93 L, and 4.5 kg at 80 % with 0.5 kg at 76 %, three quarters
        // of it won, in 20 L.
        let all = [charge(1.9862, 1.0, ExtractSource::Dissolved)];
        let stout = original_extract(&all, 0.72, 18.93)
            .expect("a real wort")
            .degrees();
        assert!((stout - 10.103).abs() < 0.002, "{stout}");
        let malts = [
            charge(4.5, 0.80, ExtractSource::Mashed),
            charge(0.5, 0.76, ExtractSource::Mashed),
        ];
        let pale = original_extract(&malts, 0.75, 20.0)
            .expect("a real wort")
            .degrees();
        // 0.02 °P: the worked figure took its yield through points per pound.
        assert!((pale - 14.140).abs() < 0.02, "{pale}");
    }

    #[test]
    fn efficiency_leaves_dissolved_material_alone() {
        let mashed = charge(3.0, 0.8, ExtractSource::Mashed);
        let dissolved = charge(3.0, 0.8, ExtractSource::Dissolved);
        let mashed = mashed.extract_kilograms(0.5).expect("in range");
        let dissolved = dissolved.extract_kilograms(0.5).expect("in range");
        assert!((mashed - 1.2).abs() < 1e-12 && (dissolved - 2.4).abs() < 1e-12);
    }

    #[test]
    fn worts_that_cannot_be_have_no_gravity() {
        let malt = |kilograms| [charge(kilograms, 0.8, ExtractSource::Mashed)];
        for (kilograms, efficiency, litres) in [
            (5.0, 0.7, 0.0),
            (5.0, 0.7, -20.0),
            (5.0, 0.7, f64::NAN),
            (5.0, 0.7, 1e308),
            (1e308, 0.7, 20.0),
            (-5.0, 0.7, 20.0),
            (f64::NAN, 0.7, 20.0),
            (5.0, 70.0, 20.0),
            (5.0, f64::NAN, 20.0),
            (500.0, 0.7, 20.0),
        ] {
            assert_eq!(original_extract(&malt(kilograms), efficiency, litres), None);
        }
    }

    #[test]
    fn water_without_malt_has_no_extract() {
        let degrees = original_extract(&[], 0.7, 20.0)
            .expect("water is a wort of 0 °P")
            .degrees();
        assert!(degrees.abs() < 1e-9);
    }
}
