//! Published and worked figures of bitterness, each held against the formulas of the room.

use crate::brewing::HopCharge;
use crate::brewing::HopContact;
use crate::brewing::HoppedWort;
use crate::brewing::SpecificGravity;
use crate::brewing::Stretch;
use crate::brewing::bitter_equivalents;
use crate::brewing::bitterness::boil_utilisation;
use crate::brewing::isomerisation::Isomerised;

fn boiled(ratio: f64, minutes: f64) -> f64 {
    boil_utilisation(SpecificGravity::new(ratio), minutes).expect("in range")
}

fn isomerised(minutes: f64, celsius: f64) -> f64 {
    let held = Isomerised::FRESH.held(minutes, celsius);
    held.expect("in range").iso
}

/// The rates of formation and loss a minute, as the isomerised share itself shows them: at the very
/// beginning the share is k1 t, and two equal steps of time follow each other as
/// i(2t) = i(t) (e^(-k1 t) + e^(-k2 t)).
fn rates(celsius: f64) -> (f64, f64) {
    let formation = isomerised(1e-4, celsius) / 1e-4;
    let step = 100.0;
    let both = isomerised(2.0 * step, celsius) / isomerised(step, celsius);
    let loss = -(both - (-formation * step).exp()).ln() / step;
    (formation, loss)
}

#[test]
fn the_boil_reaches_the_top_of_tinseths_formula() {
    // Tinseth 1997: the plateau factor 1 / 4.15 is 0.24096; in wort of SG 1.000 a long boil comes to
    // 1.65 times that, 0.398 (computed by hand).
    let top = boiled(1.0, 1440.0);
    assert!((top - 0.398).abs() < 0.000_5, "{top}");
    assert!((top / 1.65 - 0.240_96).abs() < 0.000_006, "{top}");
}

#[test]
fn ounces_and_gallons_have_tinseths_own_factor() {
    // Tinseth 1997: IBU = U · oz · alpha % · 74.9 / gallons. The exact factor is 74.89, so 0.02 %.
    let charge = HopCharge {
        grams: 1.5 * 28.349_523_125,
        alpha_fraction: 0.064,
        contact: HopContact::Boil { minutes: 45.0 },
    };
    let wort = HoppedWort {
        gravity: SpecificGravity::new(1.08),
        litres: 5.0 * 3.785_411_784,
        cooling_minutes: None,
    };
    let got = wort.bitterness_units(&[charge]).expect("in range")[0];
    let printed = boiled(1.08, 45.0) * 1.5 * 6.4 * 74.9 / 5.0;
    assert!(
        (got / printed - 1.0).abs() < 0.000_2,
        "{got} against {printed}"
    );
}

#[test]
fn the_rates_of_isomerisation_are_those_worked_by_hand() {
    // Malowicki & Shellhammer 2005 (J. Agric. Food Chem. 53:4434-4439), measured at 90 to 130 °C:
    // k1 = 7.9e11 e^(-11858/T), k2 = 4.1e12 e^(-12994/T) a minute. Computed by hand: °C, k1, k2, half
    // life of alpha acid in minutes, k1 over that at 100 °C; half of the last digit each.
    let at_the_boil = rates(100.0).0;
    for (celsius, formation, loss, half_life, slower) in [
        (70.0, 0.000_78, 0.000_147, 893.0, 0.062),
        (80.0, 0.002_07, 0.000_430, 336.0, 0.165),
        (90.0, 0.005_21, 0.001_183, 133.0, 0.417),
        (100.0, 0.012_49, 0.003_087, 55.5, 1.0),
        (110.0, 0.028_63, 0.007_661, 24.2, 2.29),
        (130.0, 0.132_91, 0.041_206, 5.2, 10.6),
    ] {
        let (k1, k2) = rates(celsius);
        assert!((k1 - formation).abs() < 0.000_006, "{celsius} °C: {k1}");
        assert!((k2 - loss).abs() < 0.000_000_6, "{celsius} °C: {k2}");
        let half: f64 = std::f64::consts::LN_2 / k1;
        assert!(
            (half / half_life - 1.0).abs() < 0.003,
            "{celsius} °C: {half}"
        );
        let ratio = k1 / at_the_boil;
        assert!(
            (ratio / slower - 1.0).abs() < 0.005,
            "{celsius} °C: {ratio}"
        );
    }
}

#[test]
fn most_is_isomerised_when_formation_and_loss_meet() {
    // Two first-order steps: the maximum lies at ln(k1 / k2) / (k1 - k2), computed by hand from the
    // published rates: 148.6 minutes at 100 °C, 62.9 at 110, 12.8 at 130.
    for (celsius, best) in [(100.0, 148.6), (110.0, 62.9), (130.0, 12.8)] {
        let most = isomerised(best, celsius);
        for other in [0.9 * best, 1.1 * best] {
            assert!(
                isomerised(other, celsius) < most,
                "{celsius} °C at {other} min"
            );
        }
        let (k1, k2) = rates(celsius);
        let worked = (k1 / k2).ln() / (k1 - k2);
        assert!((worked - best).abs() < 0.06, "{celsius} °C: {worked}");
    }
}

#[test]
fn a_stand_recovers_half_of_what_isomerises() {
    // Tinseth's .231 at SG 1.050 over the .476 that isomerises in an hour at 100 °C: 0.485, computed.
    // 1 g of 10 % in 2 L are 50 mg/L; no cooling after it.
    let wort = HoppedWort {
        gravity: SpecificGravity::new(1.05),
        litres: 2.0,
        cooling_minutes: Some(0.0),
    };
    let stand = HopCharge {
        grams: 1.0,
        alpha_fraction: 0.1,
        contact: HopContact::Stand(Stretch::new(20.0, 80.0, 80.0).expect("in range")),
    };
    let units = wort.bitterness_units(&[stand]).expect("in range")[0];
    let recovery = units / 50.0 / isomerised(20.0, 80.0);
    assert!((recovery - 0.485).abs() < 0.000_6, "{recovery}");
}

#[test]
fn a_stand_that_cools_lies_between_the_boil_and_eighty_degrees() {
    // Computed by hand from the published rates: wort that falls from 98 towards 20 °C by 0.01 of the
    // rest a minute isomerises .110 of the alpha acid in 20 minutes, by 0.003 a minute .156; at 80 °C
    // all the time .040.
    let cooling = |by: f64| {
        let end = 20.0 + 78.0 * (-by * 20.0).exp();
        let stretch = Stretch::new(20.0, 98.0, end).expect("in range");
        Isomerised::FRESH.along(stretch).expect("in range").iso
    };
    for (by, worked) in [(0.01, 0.110), (0.003, 0.156)] {
        let got = cooling(by);
        assert!((got - worked).abs() < 0.000_6, "{by}: {got}");
        assert!(got > isomerised(20.0, 80.0) && got < isomerised(20.0, 98.0));
    }
}

#[test]
fn a_humulinone_is_two_thirds_as_bitter_as_iso_alpha_acid() {
    // Algazzali & Shellhammer 2016 (JASBC 74:36-43): 0.66, give or take 13 %. Ten grams of dry hops
    // in a litre bring 10 · 1000 · 0.3 % · 0.9 = 27 mg/L of humulinone (Maye et al. 2016, from memory).
    let dry = bitter_equivalents(0.0, 10.0).expect("in range");
    assert!((dry / 27.0 / 0.66 - 1.0).abs() < 0.13, "{dry}");
}
