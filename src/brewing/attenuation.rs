//! How much of the extract the yeast has fermented, as the hydrometer shows it and as it is.

use std::ops::RangeInclusive;

use crate::brewing::bounds::FRACTION;
use crate::brewing::bounds::within;
use crate::brewing::gravity::Plato;

/// Original extracts fermentation is reckoned for, °P: more than water, no more than the ASBC cubic holds.
const ORIGINAL_EXTRACT: RangeInclusive<f64> = 0.1..=36.0;

/// Apparent extracts a beer can show, °P: the bottom of the ASBC cubic to the top.
const APPARENT_EXTRACT: RangeInclusive<f64> = -5.2..=36.0;

/// A hair beyond nothing or all is rounding, not chemistry.
const ROUNDING: f64 = 1e-9;

/// Grams of extract that give one gram of ethanol (Balling 1843-65).
pub(super) const EXTRACT_PER_ALCOHOL: f64 = 2.0665;

/// Share of the fermented extract that leaves the beer: 0.9565 g of carbon dioxide and 0.11 g of
/// yeast for 2.0665 g of extract (Balling 1843-65).
const LEAVES_THE_BEER: f64 = (0.9565 + 0.11) / EXTRACT_PER_ALCOHOL;

/// What an original and an apparent extract say about a fermentation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Attenuation {
    /// Apparent degree of fermentation, 0 to 1: what the hydrometer shows. May pass 1 in a dry beer.
    pub apparent: f64,
    /// Real degree of fermentation, 0 to 1: the fall from original to real extract over the original.
    pub real: f64,
    /// Real degree of fermentation by mass, 0 to 1: extract fermented over extract there was
    /// (ASBC Beer-6). The beer weighs less than its wort, so it lies a little above `real`.
    pub real_by_mass: f64,
    /// Real extract, g per 100 g of beer.
    pub real_extract: Plato,
}

impl Attenuation {
    /// The attenuation between an original extract (0.1 to 36 °P) and an apparent one not above it.
    ///
    /// `None` outside those ranges, and where less than nothing would be left.
    #[must_use]
    pub fn between(original: Plato, apparent: Plato) -> Option<Self> {
        let real_extract = real_extract(original, apparent)?;
        let start = original.degrees();
        Some(Self {
            apparent: (start - apparent.degrees()) / start,
            real: (start - real_extract.degrees()) / start,
            real_by_mass: fermented_fraction(start, real_extract.degrees()),
            real_extract,
        })
    }
}

/// Real extract from original and apparent extract, by the exact attenuation quotient
/// q = 0.22 + 0.001 OE: RE = (q OE + AE) / (1 + q) (Balling, Holzner; from memory).
///
/// Domain: OE 0.1 to 36 °P, AE from -q OE (nothing left) to OE (nothing fermented); `None` outside.
#[must_use]
pub fn real_extract(original: Plato, apparent: Plato) -> Option<Plato> {
    let start = within(original.degrees(), &ORIGINAL_EXTRACT)?;
    let shown = within(apparent.degrees(), &APPARENT_EXTRACT)?;
    let quotient = attenuation_quotient(start);
    let real = (quotient * start + shown) / (1.0 + quotient);
    within(real, &(-ROUNDING..=start + ROUNDING)).map(|real| Plato::new(real.clamp(0.0, start)))
}

/// How an original extract is made up, by what yeast can do with it.
///
/// Fractions of the extract's mass; what is neither is wort, which the yeast attenuates as its
/// maker says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ExtractMix {
    /// Share that ferments to the last gram: sucrose, dextrose, most of honey.
    pub wholly_fermentable: f64,
    /// Share that does not ferment at all: lactose, maltodextrin as good as.
    pub unfermentable: f64,
}

impl ExtractMix {
    /// Share that ferments as wort does; `None` when the others are no shares of one whole.
    fn wort(self) -> Option<f64> {
        let others =
            within(self.wholly_fermentable, &FRACTION)? + within(self.unfermentable, &FRACTION)?;
        within(1.0 - others, &FRACTION)
    }

    /// Apparent extract at the end of fermentation with a yeast of a stated apparent attenuation
    /// (fraction of 1, as stated for wort without sugar or lactose).
    ///
    /// The balance, for 100 g of wort holding OE grams of extract:
    ///
    /// 1. Were it all wort, the yeast would leave AE = OE (1 - stated); that gives a real extract
    ///    by the attenuation quotient, and with it the fraction φ of the extract's mass that
    ///    ferments (ASBC Beer-6).
    /// 2. Fermented mass: F = OE (sugar + φ wort). Nothing of the unfermentable share.
    /// 3. The beer weighs 100 - 0.5161 F grams, for carbon dioxide and yeast are gone (Balling),
    ///    and holds OE - F grams of extract: RE = 100 (OE - F) / (100 - 0.5161 F).
    /// 4. What the hydrometer shows: AE = RE (1 + q) - q OE, the quotient turned round.
    ///
    /// All wort gives OE (1 - stated) exactly; all sugar gives -q OE, alcohol in water.
    /// `None` when an input is outside its range or the result below what the ASBC cubic holds
    /// (-5.2 °P: more than 21 °P of sugar alone).
    #[must_use]
    pub fn final_extract(self, original: Plato, stated_attenuation: f64) -> Option<Plato> {
        let wort_share = self.wort()?;
        let start = within(original.degrees(), &ORIGINAL_EXTRACT)?;
        let stated = within(stated_attenuation, &FRACTION)?;
        let as_wort = Attenuation::between(original, Plato::new(start * (1.0 - stated)))?;
        let fermented = self.wholly_fermentable + as_wort.real_by_mass * wort_share;
        within(apparent_extract(start, fermented), &APPARENT_EXTRACT).map(Plato::new)
    }
}

/// q in RE - AE = q (OE - RE).
fn attenuation_quotient(original: f64) -> f64 {
    0.22 + 0.001 * original
}

/// Mass of extract fermented over mass of extract there was, exact for Balling's yields; ASBC
/// Beer-6 prints it as (OE - RE) / OE / (1 - 0.005161 RE).
fn fermented_fraction(original: f64, real: f64) -> f64 {
    (original - real) / original / (1.0 - LEAVES_THE_BEER * real / 100.0)
}

/// What a hydrometer shows once the given mass fraction of the original extract has fermented.
fn apparent_extract(original: f64, fermented_fraction: f64) -> f64 {
    let fermented = original * fermented_fraction;
    let real = 100.0 * (original - fermented) / (100.0 - LEAVES_THE_BEER * fermented);
    let quotient = attenuation_quotient(original);
    real * (1.0 + quotient) - quotient * original
}

#[cfg(test)]
mod tests {
    use proptest::prelude::proptest;
    use proptest::prop_assert;

    use super::Attenuation;
    use super::ExtractMix;
    use super::real_extract;
    use crate::brewing::alcohol::alcohol_by_weight;
    use crate::brewing::gravity::Plato;
    use crate::brewing::gravity::SpecificGravity;

    /// All of it wort.
    const ALL_WORT: ExtractMix = ExtractMix {
        wholly_fermentable: 0.0,
        unfermentable: 0.0,
    };

    fn between(original: f64, apparent: f64) -> Attenuation {
        Attenuation::between(Plato::new(original), Plato::new(apparent)).expect("a real beer")
    }

    fn final_extract(mix: ExtractMix, original: f64, stated: f64) -> f64 {
        mix.final_extract(Plato::new(original), stated)
            .expect("a real beer")
            .degrees()
    }

    const fn mix(wholly_fermentable: f64, unfermentable: f64) -> ExtractMix {
        ExtractMix {
            wholly_fermentable,
            unfermentable,
        }
    }

    #[test]
    fn real_extract_meets_the_measured_brews() {
        // Cutaia, Reid & Speers 2009 (J. Inst. Brew. 115:318-327), table III, set means of measured
        // brews: OE, AE, RE. The formula's known error against them is up to 0.1 °P.
        for (original, apparent, real) in [
            (14.08, 3.11, 5.28),
            (14.54, 2.53, 4.88),
            (11.34, 2.01, 3.80),
        ] {
            let got = between(original, apparent).real_extract.degrees();
            assert!(
                (got - real).abs() < 0.1,
                "{original} °P: {got} against {real}"
            );
        }
    }

    #[test]
    fn the_shortcut_for_real_extract_stays_near() {
        // The older shortcut RE = 0.1808 OE + 0.8192 AE; it is known to lie up to a few per cent of
        // the fermented extract below the exact quotient.
        for original in [8.0, 12.0, 16.0, 20.0] {
            let shortcut = 0.1808 * original + 0.8192 * original * 0.25;
            let got = between(original, original * 0.25).real_extract.degrees();
            assert!(
                (got - shortcut).abs() < 0.03 * original * 0.61,
                "{original}"
            );
        }
    }

    #[test]
    fn the_degrees_of_fermentation_are_those_worked_by_hand() {
        // Computed from the formulas; columns OE, AE, RE, RDF %, RDF % by ASBC Beer-6, ADF %.
        for (original, apparent, real, rdf, by_mass, adf) in [
            (10.0, 2.5, 3.902, 60.98, 62.23, 75.0),
            (12.0, 3.0, 4.695, 60.88, 62.39, 75.0),
            (16.0, 4.0, 6.291, 60.68, 62.72, 75.0),
            (20.0, 5.0, 7.903, 60.48, 63.06, 75.0),
        ] {
            let got = between(original, apparent);
            assert!((got.real_extract.degrees() - real).abs() < 0.0006);
            assert!((100.0 * got.real - rdf).abs() < 0.006);
            assert!((100.0 * got.real_by_mass - by_mass).abs() < 0.006);
            assert!((100.0 * got.apparent - adf).abs() < 0.006);
        }
    }

    #[test]
    fn real_attenuation_is_about_four_fifths_of_the_apparent() {
        // Common practice: RDF is about 0.81 of ADF.
        for original in [8.0, 12.0, 18.0] {
            let got = between(original, 0.25 * original);
            assert!((got.real / got.apparent - 0.81).abs() < 0.01);
        }
    }

    #[test]
    fn all_wort_ends_where_its_stated_attenuation_says() {
        // Definition of apparent attenuation: 12 °P at 75 % ends at 3 °P.
        let got = final_extract(ALL_WORT, 12.0, 0.75);
        assert!((got - 3.0).abs() < 1e-9, "{got}");
    }

    #[test]
    fn sugar_alone_ends_as_alcohol_in_water() {
        // 12 °P of sugar by Balling's yield leave 12 / (2.0665 - 0.128) = 6.2 % w/w ethanol in water.
        // Density of ethanol-water at 20 °C (handbook table, from memory): 6 % 0.9878, 7 % 0.9863,
        // so 0.9875 kg/L, over water at 0.9982 a specific gravity of 0.9893. Within 0.0015, for
        // the quotient was fitted to beers.
        let apparent = Plato::new(final_extract(mix(1.0, 0.0), 12.0, 0.75));
        let gravity = apparent.specific_gravity().expect("in range").ratio();
        assert!((gravity - 0.9893).abs() < 0.0015, "{gravity}");
    }

    #[test]
    fn lactose_alone_stays_as_it_is() {
        let got = final_extract(mix(0.0, 1.0), 12.0, 0.75);
        assert!((got - 12.0).abs() < 1e-9, "{got}");
    }

    #[test]
    fn the_mass_that_was_not_fermented_is_found_in_the_beer() {
        // Whole-number mass balance. 100 g of wort hold 20 g of extract, half sugar, half lactose.
        // 10 g ferment: 10 * 1.0665 / 2.0665 = 5.161 g leave, 94.839 g stay and hold 10 g: 10.544 %.
        let apparent = Plato::new(final_extract(mix(0.5, 0.5), 20.0, 0.75));
        let real = real_extract(Plato::new(20.0), apparent)
            .expect("a real beer")
            .degrees();
        assert!((real - 10.544).abs() < 0.001, "{real}");
    }

    #[test]
    fn what_cannot_be_is_not_reckoned() {
        let wort = ALL_WORT;
        for (original, stated) in [
            (0.0, 0.75),
            (f64::NAN, 0.75),
            (1e308, 0.75),
            (12.0, 75.0),
            (12.0, f64::NAN),
            (-3.0, 0.5),
        ] {
            assert_eq!(wort.final_extract(Plato::new(original), stated), None);
        }
        for impossible in [mix(0.7, 0.7), mix(-0.1, 0.0), mix(f64::NAN, 0.0)] {
            assert_eq!(impossible.final_extract(Plato::new(12.0), 0.75), None);
        }
        for (original, apparent) in [
            (12.0, 12.1),
            (12.0, -4.0),
            (f64::NAN, 3.0),
            (12.0, f64::NAN),
        ] {
            assert_eq!(
                Attenuation::between(Plato::new(original), Plato::new(apparent)),
                None
            );
        }
    }

    proptest! {
        #[test]
        fn all_sugar_is_attenuated_wholly_and_all_lactose_not_at_all(
            original in 0.1..20.0_f64,
        ) {
            let end = |mixed| final_extract(mixed, original, 0.75);
            let dry = between(original, end(mix(1.0, 0.0)));
            let full = between(original, end(mix(0.0, 1.0)));
            prop_assert!((dry.real_by_mass - 1.0).abs() < 1e-9);
            prop_assert!(full.real_by_mass.abs() < 1e-9);
        }

        #[test]
        fn more_sugar_ends_lower_and_more_lactose_higher(
            original in 2.0..20.0_f64,
            stated in 0.5..0.9_f64,
            share in 0.01..1.0_f64,
        ) {
            let plain = final_extract(ALL_WORT, original, stated);
            prop_assert!(final_extract(mix(share, 0.0), original, stated) < plain);
            prop_assert!(final_extract(mix(0.0, share), original, stated) > plain);
        }
    }

    #[test]
    fn a_final_gravity_is_read_as_an_apparent_extract() {
        // Printed Plato table: 1.0117 lies at 3 °P (12 points at 3.1 °P).
        let apparent = SpecificGravity::new(1.0117)
            .plato()
            .expect("in range")
            .degrees();
        assert!((apparent - 3.0).abs() < 0.03, "{apparent}");
    }

    #[test]
    fn what_leaves_and_what_stays_is_all_the_extract() {
        // Balling (1843-65): 2.0665 g of extract give 1 g of ethanol, 0.9565 of gas, 0.11 of yeast.
        assert!((super::EXTRACT_PER_ALCOHOL - (1.0 + 0.9565 + 0.11)).abs() < 1e-12);
    }

    #[test]
    fn real_extract_from_alcohol_and_apparent_extract_is_the_same() {
        // RE = (AE + 0.4654 A - 0.003615 A²) / 0.9962, a published regression: within 0.05 °P of the
        // measured set means of Cutaia, Reid & Speers 2009, and 0.03 of the exact quotient at
        // 12/3 °P (both computed).
        let from_alcohol = |apparent: f64, alcohol: f64| {
            (apparent + 0.4654 * alcohol - 0.003_615 * alcohol * alcohol) / 0.9962
        };
        for (apparent, alcohol, printed) in
            [(3.11, 4.72, 5.28), (2.53, 5.14, 4.88), (2.01, 3.82, 3.80)]
        {
            assert!((from_alcohol(apparent, alcohol) - printed).abs() <= 0.05 + 0.001);
        }
        let alcohol = alcohol_by_weight(Plato::new(12.0), Plato::new(3.0)).expect("a beer");
        let got = between(12.0, 3.0).real_extract.degrees();
        assert!((from_alcohol(3.0, alcohol) - got).abs() <= 0.03, "{got}");
    }

    #[test]
    fn real_extract_of_the_measured_brews_is_that_worked_by_hand() {
        // Computed by hand from the exact quotient for the set means of Cutaia, Reid & Speers 2009.
        for (original, apparent, worked) in [
            (14.08, 3.11, 5.19),
            (14.54, 2.53, 4.81),
            (11.34, 2.01, 3.76),
        ] {
            let got = between(original, apparent).real_extract.degrees();
            assert!((got - worked).abs() < 0.006, "{original} °P: {got}");
        }
    }

    #[test]
    fn the_fall_of_real_extract_is_that_of_the_brewing_values() {
        // Pawlowski and Doemens, older brewing values: Q = 0.820 - 0.00066 OE is the fall of real
        // extract over that of apparent extract. Within 0.05 % of the quotient (computed). The usual
        // shortcut 0.8192 is 0.4 % too high at 6 °P and 2.3 % at 29 (computed).
        for original in [8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0] {
            let got = between(original, 0.25 * original);
            let ours = got.real / got.apparent;
            let printed = 0.820 - 0.000_66 * original;
            assert!((printed / ours - 1.0).abs() < 0.000_5, "{original} °P");
        }
        for (original, too_high) in [(6.0, 0.004), (29.0, 0.023)] {
            let got = between(original, 0.25 * original);
            let miss = 0.8192 * got.apparent / got.real - 1.0;
            assert!((miss - too_high).abs() < 0.000_6, "{original} °P: {miss}");
        }
    }

    #[test]
    fn the_degree_of_fermentation_by_mass_is_that_of_the_printed_formula() {
        // ASBC Beer-6 (from memory): RDF = (OE - RE) / OE / (1 - 0.005161 RE); ours is exact for
        // Balling's yields, of which 0.005161 is the rounded quotient.
        for original in [6.0, 12.0, 20.0] {
            let got = between(original, 0.25 * original);
            let real = got.real_extract.degrees();
            let printed = (original - real) / original / (1.0 - 0.005_161 * real);
            assert!((got.real_by_mass - printed).abs() < 1e-6);
            // RDF is about 0.814 of ADF (common practice); the stronger the wort, the less.
            assert!((got.real / got.apparent - 0.814).abs() < 0.009);
        }
    }
}
