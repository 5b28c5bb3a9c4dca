//! Sugar added at bottling, and the gas it makes.

use std::ops::RangeInclusive;

use crate::brewing::bounds::VOLUME_LITRES;
use crate::brewing::bounds::within;
use crate::brewing::carbonation::VOLUMES;

/// Sugar weighed out for one batch, grams.
const SUGAR_GRAMS: RangeInclusive<f64> = 0.0..=1e9;

/// What is weighed out to prime with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PrimingSugar {
    /// Glucose without water.
    Glucose,
    /// Glucose with one water, as it is mostly sold: brewing or corn sugar.
    DextroseMonohydrate,
    /// Table sugar.
    Sucrose,
}

impl PrimingSugar {
    /// Grams in a litre for one volume of carbon dioxide (1.977 g/L), by stoichiometry alone: the
    /// little that goes into new yeast is left out, so that pressure is never underrated.
    #[must_use]
    const fn grams_per_litre_and_volume(self) -> f64 {
        match self {
            Self::Glucose => 4.05,
            Self::DextroseMonohydrate => 4.45,
            Self::Sucrose => 3.84,
        }
    }

    /// Grams of this sugar that bring so many litres from their residual gas to the target.
    ///
    /// 0 when the beer holds the target already. `None` for volumes of gas outside 0 to 1,000,000 or
    /// litres outside their range.
    #[must_use]
    pub fn grams_for(self, target_volumes: f64, residual_volumes: f64, litres: f64) -> Option<f64> {
        let wanted = within(target_volumes, &VOLUMES)? - within(residual_volumes, &VOLUMES)?;
        let litres = within(litres, &VOLUME_LITRES)?;
        Some(wanted.max(0.0) * self.grams_per_litre_and_volume() * litres)
    }

    /// Volumes of carbon dioxide that so many grams add to so many litres.
    ///
    /// `None` for a mass or volume outside its range.
    #[must_use]
    pub fn volumes_from(self, grams: f64, litres: f64) -> Option<f64> {
        let per_litre = within(grams, &SUGAR_GRAMS)? / within(litres, &VOLUME_LITRES)?;
        Some(per_litre / self.grams_per_litre_and_volume())
    }
}

#[cfg(test)]
mod tests {
    use super::PrimingSugar;

    /// Grams of carbon dioxide in a litre at one volume: 1 L at 0 °C and 1 atm weighs 1.977 g.
    const GRAMS_PER_VOLUME: f64 = 1.977;
    const CARBON_DIOXIDE: f64 = 44.010;

    #[test]
    fn doses_are_those_of_the_chemical_equation() {
        // Molar masses, g/mol (IUPAC): glucose 180.156, with one water 198.171, sucrose 342.297;
        // two molecules of carbon dioxide from each hexose. Doses are printed to 0.01.
        for (sugar, molar_mass, molecules) in [
            (PrimingSugar::Glucose, 180.156, 2.0),
            (PrimingSugar::DextroseMonohydrate, 198.171, 2.0),
            (PrimingSugar::Sucrose, 342.297, 4.0),
        ] {
            let dose = GRAMS_PER_VOLUME * molar_mass / (molecules * CARBON_DIOXIDE);
            let got = sugar.grams_per_litre_and_volume();
            assert!((got - dose).abs() < 0.01, "{sugar:?}: {got} against {dose}");
        }
    }

    #[test]
    fn a_batch_takes_its_worked_dose() {
        // Computed: 20 L from 0.861 to 2.4 volumes, (2.4 - 0.861) * 3.84 * 20 = 118 g of sucrose.
        let got = PrimingSugar::Sucrose
            .grams_for(2.4, 0.861, 20.0)
            .expect("in range");
        assert!((got - 118.2).abs() < 0.05, "{got}");
        let back = PrimingSugar::Sucrose
            .volumes_from(got, 20.0)
            .expect("in range");
        assert!((back - 1.539).abs() < 1e-9, "{back}");
    }

    #[test]
    fn a_beer_with_gas_enough_takes_no_sugar() {
        let got = PrimingSugar::Glucose
            .grams_for(1.0, 1.5, 20.0)
            .expect("in range");
        assert!(got.abs() < f64::EPSILON);
    }

    #[test]
    fn batches_that_cannot_be_have_no_dose() {
        let sugar = PrimingSugar::Sucrose;
        for (target, residual, litres) in [
            (f64::NAN, 0.9, 20.0),
            (2.4, f64::NAN, 20.0),
            (2.4, 0.9, 0.0),
            (1e308, 0.9, 20.0),
        ] {
            assert_eq!(sugar.grams_for(target, residual, litres), None);
        }
        for (grams, litres) in [(100.0, 0.0), (-1.0, 20.0), (f64::NAN, 20.0), (100.0, 1e308)] {
            assert_eq!(sugar.volumes_from(grams, litres), None);
        }
    }

    #[test]
    fn a_volume_of_the_real_gas_weighs_a_little_more_than_of_an_ideal_one() {
        // An ideal gas has 22.414 L a mole at 0 °C and 1 atm (CODATA): 1.96 g/L; carbon dioxide is
        // 0.7 % denser.
        let ideal = CARBON_DIOXIDE / 22.414;
        assert!((ideal - 1.96).abs() < 0.005, "{ideal}");
        assert!((0.005..0.01).contains(&(GRAMS_PER_VOLUME / ideal - 1.0)));
    }

    #[test]
    fn other_doses_in_print_are_told_apart_by_their_reasons() {
        // Draper prints 3.7 g/L of glucose a volume: a volume of gas at 20 °C and not at 0. By the
        // gas law ours is then 4.05 · 273.15 / 293.15 = 3.77; 0.1 covers the printed digit.
        let warm = PrimingSugar::Glucose.grams_per_litre_and_volume() * 273.15 / 293.15;
        assert!((warm - 3.7).abs() < 0.1, "{warm}");
        // Balling counts what goes into yeast: 1.977 · 2.0665 / 0.9565 = 4.27 g of extract (computed).
        // Ours leaves that out, so that pressure is never underrated.
        let balling = GRAMS_PER_VOLUME * 2.0665 / 0.9565;
        assert!((balling - 4.27).abs() < 0.006, "{balling}");
        assert!(PrimingSugar::Glucose.grams_per_litre_and_volume() < balling);
        assert!(PrimingSugar::Sucrose.grams_per_litre_and_volume() < balling);
    }
}
