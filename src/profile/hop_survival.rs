//! What boil, whirlpool and fermenter leave of each part of a hop.

use crate::domain::HopPart;
use crate::domain::HopStorage;
use crate::domain::HopTime;
use crate::domain::HopUse;

/// Minutes in which a boil drives off all but 37 % of the floral oils: from 60 % at the end of the
/// boil to 35 % with 7 to 8 minutes left (brewers' ranges 20 to 50 %, from memory).
const FLORAL_MINUTES: f64 = 14.0;
/// The same of the resinous oils: below 5 % of what a hop holds after 5 to 10 minutes.
const RESINOUS_MINUTES: f64 = 8.0;
/// Minutes in a whirlpool until 63 % is dissolved (judgement).
const WHIRLPOOL_MINUTES: f64 = 8.0;
/// Days in the fermenter until 63 % is dissolved; linalool still rises after a day (Wolfe 2012).
const DRY_DAYS: f64 = 0.7;
/// g/L at which a dry hop gives half of what its first grams promise: the gain flattens past 8 g/L
/// (Lafontaine & Shellhammer 2018, J. Inst. Brew. 124:434).
const DRY_HALF: f64 = 16.0;

/// The share of a part that is left, where 1 is what the catalogue's units stand for: a dry hop, and
/// for the noble part the last ten minutes of the boil.
#[must_use]
pub(super) fn survival(part: HopPart, when: HopTime) -> f64 {
    match when {
        HopTime::Boil(minutes) => boiled(part, minutes.get()),
        HopTime::Whirlpool {
            temperature,
            cools_to,
            time,
        } => {
            let end = cools_to.unwrap_or(temperature);
            stood(
                part,
                f64::midpoint(temperature.get(), end.get()),
                time.get(),
            )
        }
        HopTime::Dry { days, .. } => {
            let dissolved = 1.0 - (-days.get() / DRY_DAYS).exp();
            let kept = if part == HopPart::Noble { 0.3 } else { 1.0 };
            kept * dissolved
        }
    }
}

/// What a stand leaves: 80 % of the floral oils at 80 °C, 50 % at 95 °C (brewers' ranges 40 to 80 %, from
/// memory; the line between is judgement), of the resin 1 to 5 % of what hops hold, as from a dry hop.
fn stood(part: HopPart, celsius: f64, minutes: f64) -> f64 {
    let dissolved = 1.0 - (-minutes / WHIRLPOOL_MINUTES).exp();
    let floral = (0.8 - 0.02 * (celsius - 80.0)).clamp(0.4, 0.9);
    let kept = match part {
        HopPart::Resinous => (1.2 - 0.04 * (celsius - 80.0)).clamp(0.4, 1.5),
        HopPart::Noble => 0.8,
        HopPart::Floral | HopPart::Thiol => floral,
    };
    kept * dissolved
}

fn boiled(part: HopPart, minutes: f64) -> f64 {
    match part {
        HopPart::Resinous => 0.8 * (-minutes / RESINOUS_MINUTES).exp(),
        // A few per cent come through an hour: bound forms survive (Kishimoto 2008).
        HopPart::Floral => (0.6 * (-minutes / FLORAL_MINUTES).exp()).max(0.03),
        HopPart::Thiol => (0.5 * (-minutes / FLORAL_MINUTES).exp()).max(0.03),
        // Made in the boil (Praet 2015), slowly lost in a long one (judgement).
        HopPart::Noble => 1.0 - 0.4 * ((minutes - 10.0) / 50.0).clamp(0.0, 1.0),
    }
}

/// The dose that counts, g/L: what a dry hop adds flattens, what is boiled does not.
#[must_use]
pub(super) fn counted_dose(when: HopTime, grams_per_litre: f64) -> f64 {
    match when {
        HopTime::Dry { .. } => grams_per_litre / (1.0 + grams_per_litre / DRY_HALF),
        HopTime::Boil(_) | HopTime::Whirlpool { .. } => grams_per_litre,
    }
}

/// What age and storage have left of the oils: half after a year on a shelf, less lost where it is
/// colder (judgement; the loss of alpha acids halves with every 15 °C less, common practice).
#[must_use]
pub fn kept_in_store(it: &HopUse) -> f64 {
    let Some(age) = it.age else {
        return 1.0;
    };
    let half_life = match it.storage {
        Some(HopStorage::Freezer) => 1_460.0,
        Some(HopStorage::Fridge) => 730.0,
        Some(HopStorage::Shelf) | None => 365.0,
    };
    0.5_f64.powf(age.get() / half_life)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Days;
    use crate::domain::Minutes;

    fn boil(part: HopPart, minutes: f64) -> f64 {
        survival(part, HopTime::Boil(Minutes::new(minutes).unwrap()))
    }

    #[test]
    fn a_boil_drives_off_resin_first_and_makes_the_noble_part() {
        // Ranges of section 6.1 of the project's brewing page: floral oils 20 to 50 % with 5 to 10
        // minutes left, a few per cent after an hour; resin nearly gone after an hour.
        for minutes in [5.0, 10.0] {
            assert!((0.2..=0.5).contains(&boil(HopPart::Floral, minutes)));
        }
        assert!((0.02..=0.05).contains(&boil(HopPart::Floral, 60.0)));
        assert!(boil(HopPart::Resinous, 60.0) < 0.001);
        assert!((boil(HopPart::Noble, 10.0) - 1.0).abs() < 1e-12);
        assert!((boil(HopPart::Noble, 60.0) - 0.6).abs() < 1e-12);
    }

    #[test]
    fn a_hot_stand_keeps_less_than_a_warm_one_and_both_keep_what_brewers_find() {
        // Section 6.1 of the project's brewing page: 40 to 80 % of linalool at 80 to 95 °C in 20 to 30
        // minutes; of resin 1 to 5 % of what hops hold, where a dry hop keeps 3 %.
        let stand = |part, celsius: f64| {
            let when = HopTime::Whirlpool {
                temperature: crate::domain::Celsius::new(celsius).unwrap(),
                cools_to: None,
                time: Minutes::new(25.0).unwrap(),
            };
            survival(part, when)
        };
        for celsius in [80.0, 87.0, 95.0] {
            let floral = stand(HopPart::Floral, celsius);
            assert!((0.4..=0.8).contains(&floral), "{celsius}: {floral}");
            let resin = 0.03 * stand(HopPart::Resinous, celsius);
            assert!((0.01..=0.05).contains(&resin), "{celsius}: {resin}");
        }
        assert!(stand(HopPart::Floral, 95.0) < stand(HopPart::Floral, 80.0));
    }

    #[test]
    fn a_dry_hop_of_three_days_is_drawn_out_and_its_gain_flattens() {
        let dry = HopTime::Dry {
            days: Days::new(3.0).unwrap(),
            temperature: None,
        };
        assert!(survival(HopPart::Floral, dry) > 0.98);
        // 16/(1 + 16/16) = 8, 8/(1 + 8/16) = 5 1/3.
        assert!((counted_dose(dry, 16.0) - 8.0).abs() < 1e-12);
        assert!(counted_dose(dry, 16.0) < 2.0 * counted_dose(dry, 8.0));
    }
}
