//! The rules of flavour, one for each kind of ingredient: from an amount and a step to flavour units.

use crate::domain::ConditionKind;
use crate::domain::Fate;
use crate::domain::Gift;
use crate::domain::Gifts;
use crate::domain::GramsPerLitre;
use crate::domain::Holds;
use crate::domain::HopUse;
use crate::profile::Brew;
use crate::profile::Weights;
use crate::profile::bottle_age::hop_left;
use crate::profile::bottle_age::yeast_left;
use crate::profile::hop_survival::counted_dose;
use crate::profile::hop_survival::kept_in_store;
use crate::profile::hop_survival::survival;
use crate::profile::oil_units::oil_units;

/// A gift of yeast that ten degrees multiply by more than this is an ester or a fusel: it follows strong wort
/// and little yeast too (judgement).
const ESTER: f64 = 1.3;

/// Which ingredient of a recipe something comes from; a number counts from 0 in its list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// A fermentable.
    Fermentable(usize),
    /// A hop charge.
    Hop(usize),
    /// The yeast.
    Yeast,
    /// Another addition.
    Other(usize),
    /// How it was made and kept.
    Condition(ConditionKind),
}

/// One of the numbers that the units of a gift are made of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Factor {
    /// What it stands for.
    pub what: &'static str,
    /// The number.
    pub times: f64,
}

/// One gift as it arrives in the glass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arrived<'a> {
    /// The gift.
    pub gift: &'a Gift,
    /// What its units are made of: those at hand first, then what each thing multiplies them by.
    pub factors: [Factor; 4],
    /// The flavour units in this beer: the factors multiplied.
    pub units: f64,
    /// The standard deviation of their log10.
    pub spread: f64,
    /// Where it comes from.
    pub source: Source,
}

impl<'a> Arrived<'a> {
    fn new(gift: &'a Gift, source: Source, spread: f64, factors: [(&'static str, f64); 4]) -> Self {
        Self {
            gift,
            factors: factors.map(|(what, times)| Factor { what, times }),
            units: factors.iter().map(|it| it.1).product(),
            spread,
            source,
        }
    }
}

/// Factors that several kinds of ingredient have.
const AT_DOSE: &str = "at this dose";
const IN_BOTTLE: &str = "left in the bottle";

/// A factor that is not needed.
const NONE: (&str, f64) = ("", 1.0);

/// A worked example of a rule: what is asked, what the rule gives, and what comes out by hand.
#[derive(Debug, Clone, Copy)]
pub struct FlavourExample {
    /// What is asked, in words.
    pub says: &'static str,
    /// What the rule gives.
    pub found: fn() -> f64,
    /// What comes out by hand.
    pub expected: f64,
}

/// One rule; the whole knowledge about it.
#[derive(Debug, Clone, Copy)]
pub struct FlavourRule {
    /// A short name.
    pub id: &'static str,
    /// What it does, in a sentence.
    pub about: &'static str,
    /// Where it comes from.
    pub source: &'static str,
    /// How much of it is met in the nose and in the mouth.
    pub weights: Weights,
    /// What arrives of the ingredients it is about.
    pub arrive: for<'a> fn(&Brew<'a>, &mut Vec<Arrived<'a>>),
    /// A worked example.
    pub example: FlavourExample,
}

/// Every rule of flavour, in the order of a brew.
pub static FLAVOUR_RULES: &[FlavourRule] = &[
    FlavourRule {
        id: "grist",
        about: "Malt, grain, sugar and fruit give in proportion to their grams in a litre.",
        source: "judgement; odour activity is proportional to concentration",
        // Malt is met more in the mouth, warm and without carbon dioxide (judgement).
        weights: Weights {
            nose: 0.8,
            mouth: 1.25,
        },
        arrive: grist,
        example: FlavourExample {
            says: "3 units at 20 g/L are 6 at 40 g/L",
            found: || dosed(3.0, 40.0, 20.0),
            expected: 6.0,
        },
    },
    FlavourRule {
        id: "hops",
        about: "Hops give by dose and oil, by what the step leaves of each part of them, by their age and that of the bottle.",
        source: "Forster & Gahr 2013, Kishimoto 2008, Praet 2015, Lafontaine & Shellhammer 2018, Peacock & Deinzer 1988; sizes judgement",
        weights: Weights {
            nose: 1.25,
            mouth: 0.8,
        },
        arrive: hops,
        example: FlavourExample {
            says: "a dry hop of 16 g/L counts as 8, one of 4 as 3.2: 2.5 times as much, not 4 times",
            found: || hopped(1.0, counted(16.0), counted(4.0)),
            expected: 2.5,
        },
    },
    FlavourRule {
        id: "yeast",
        about: "Yeast gives what its strain gives at its usual temperature; esters grow with warmth, strong wort and little yeast.",
        source: "ethyl acetate 12.5 to 21.5 mg/L from 10 to 25 °C (Kucharczyk & Tuszyński 2018), Verstrepen 2003; strains by judgement",
        weights: Weights {
            nose: 1.1,
            mouth: 0.9,
        },
        arrive: yeast,
        example: FlavourExample {
            says: "2 units that double with 10 °C are 4 at 10 °C above the usual temperature",
            found: || warmed(2.0, 2.0, 10.0),
            expected: 4.0,
        },
    },
    FlavourRule {
        id: "others",
        about: "Spices, peels, wood and whatever else goes in give in proportion to their grams in a litre.",
        source: "judgement",
        weights: Weights {
            nose: 1.0,
            mouth: 1.0,
        },
        arrive: others,
        example: FlavourExample {
            says: "5 units at 1 g/L are 2 at 0.4 g/L",
            found: || dosed(5.0, 0.4, 1.0),
            expected: 2.0,
        },
    },
    FlavourRule {
        id: "conditions",
        about: "Age, air, daylight and old hops bring staleness in proportion to weeks, minutes and grams.",
        source: "Meilgaard 1975 and Goldstein 1993 for the thresholds, from memory; sizes judgement",
        weights: Weights {
            nose: 1.0,
            mouth: 1.0,
        },
        arrive: conditions,
        example: FlavourExample {
            says: "1 unit after 16 weeks is 2 after 32",
            found: || dosed(1.0, 32.0, 16.0),
            expected: 2.0,
        },
    },
];

fn dosed(units: f64, dose: f64, at: f64) -> f64 {
    units * dose / at
}

fn hopped(units: f64, dose: f64, at: f64) -> f64 {
    units * dose / at
}

/// The dose of a dry hop that counts, g/L.
fn counted(grams_per_litre: f64) -> f64 {
    use crate::domain::Days;
    use crate::domain::HopTime;
    Days::new(3.0).map_or(grams_per_litre, |days| {
        let temperature = None;
        counted_dose(HopTime::Dry { days, temperature }, grams_per_litre)
    })
}

fn warmed(units: f64, per_ten_degrees: f64, degrees: f64) -> f64 {
    units * per_ten_degrees.powf(degrees / 10.0)
}

fn known_or<'a>(gifts: &'a Gifts, family: &'a [Gift]) -> &'a [Gift] {
    gifts.known().unwrap_or(family)
}

fn grist<'a>(brew: &Brew<'a>, arrived: &mut Vec<Arrived<'a>>) {
    let boiled_off = brew.handled.boiled_off();
    for (index, it) in brew.recipe.fermentables.iter().enumerate() {
        let fermentable = &it.fermentable;
        let family = brew.families.fermentable(fermentable.family);
        let dose = it.amount.get() / brew.litres;
        for gift in known_or(&fermentable.identity.gifts, family) {
            arrived.extend(at_dose(gift, dose, boiled_off, Source::Fermentable(index)));
        }
    }
}

fn others<'a>(brew: &Brew<'a>, arrived: &mut Vec<Arrived<'a>>) {
    for (index, it) in brew.recipe.others.iter().enumerate() {
        let family = brew.families.other(it.other.kind);
        let dose = it.amount.get() / brew.litres;
        for gift in known_or(&it.other.identity.gifts, family) {
            arrived.extend(at_dose(gift, dose, 1.0, Source::Other(index)));
        }
    }
}

fn at_dose(gift: &Gift, dose: f64, boiled_off: f64, source: Source) -> Option<Arrived<'_>> {
    let Holds::AtDose { units, at, fate } = gift.holds else {
        return None;
    };
    let kept = match fate {
        Fate::Stays => 1.0,
        Fate::BoilsOff => boiled_off,
    };
    let factors = [
        (AT_DOSE, dosed(units.get(), dose, at.get())),
        ("left by boil and cooling", kept),
        NONE,
        NONE,
    ];
    Some(Arrived::new(gift, source, gift.spread, factors))
}

fn hops<'a>(brew: &Brew<'a>, arrived: &mut Vec<Arrived<'a>>) {
    for (index, it) in brew.recipe.hops.iter().enumerate() {
        for gift in known_or(&it.hop.identity.gifts, brew.families.hop()) {
            arrived.extend(hop_gift(brew, it, gift, Source::Hop(index)));
        }
    }
}

fn hop_gift<'a>(
    brew: &Brew<'a>,
    it: &HopUse,
    gift: &'a Gift,
    source: Source,
) -> Option<Arrived<'a>> {
    let dose = counted_dose(it.when, it.amount.get() / brew.litres);
    let (fresh, part, spread) = match gift.holds {
        Holds::AtHopDose { units, at, part } => {
            let at = counted_dose(it.when, at.get());
            (hopped(units.get(), dose, at), part, gift.spread)
        }
        Holds::OfOil { share, part } => {
            let (units, strays) = oil_units(it.hop.oil.as_ref()?, part);
            // The units of the oil hold for 4 g/L, as those of gifts without an analysis do.
            let at = GramsPerLitre::OF_GIFTS;
            let fresh = hopped(share * units * at, dose, counted_dose(it.when, at));
            (fresh, part, gift.spread.hypot(strays))
        }
        Holds::AtDose { .. } | Holds::Fermented { .. } | Holds::After { .. } => return None,
    };
    let aged = brew
        .handled
        .weeks
        .map_or(1.0, |weeks| hop_left(part, weeks));
    let factors = [
        (AT_DOSE, fresh),
        ("left by its step", survival(part, it.when)),
        ("left in store", kept_in_store(it)),
        (IN_BOTTLE, aged),
    ];
    Some(Arrived::new(gift, source, spread, factors))
}

fn yeast<'a>(brew: &Brew<'a>, arrived: &mut Vec<Arrived<'a>>) {
    let Some(it) = &brew.recipe.yeast else {
        return;
    };
    let usual = it.yeast.temperature.usual();
    let degrees = brew.fermented_at.map_or(0.0, |at| at - usual);
    let aged = brew.handled.weeks.map_or(1.0, yeast_left);
    for gift in known_or(&it.yeast.identity.gifts, brew.families.yeast()) {
        let Holds::Fermented {
            units,
            per_ten_degrees,
        } = gift.holds
        else {
            continue;
        };
        let is_ester = per_ten_degrees >= ESTER;
        let stressed = if is_ester {
            brew.handled.stressed()
        } else {
            1.0
        };
        let factors = [
            ("at its usual temperature", units.get()),
            ("warmer or cooler", warmed(1.0, per_ten_degrees, degrees)),
            ("by strength of wort and amount of yeast", stressed),
            (IN_BOTTLE, aged),
        ];
        arrived.push(Arrived::new(gift, Source::Yeast, gift.spread, factors));
    }
}

fn conditions<'a>(brew: &Brew<'a>, arrived: &mut Vec<Arrived<'a>>) {
    for condition in brew.conditions {
        let amount = match condition.kind {
            ConditionKind::OldHops => gone_old(brew),
            kind => brew.handled.amount(kind).unwrap_or(0.0),
        };
        if amount <= 0.0 {
            continue;
        }
        for gift in condition.gifts.known().unwrap_or_default() {
            let Holds::After { units, amount: at } = gift.holds else {
                continue;
            };
            let factors = [("by now", dosed(units.get(), amount, at)), NONE, NONE, NONE];
            let source = Source::Condition(condition.kind);
            arrived.push(Arrived::new(gift, source, gift.spread, factors));
        }
    }
}

/// Grams of hops in a litre that have lost what they held; a fifth is lost by what still counts as fresh
/// (common practice).
fn gone_old(brew: &Brew<'_>) -> f64 {
    const FRESH: f64 = 0.2;
    let gone = |it: &HopUse| ((1.0 - kept_in_store(it) - FRESH) / (1.0 - FRESH)).max(0.0);
    let hops = brew.recipe.hops.iter();
    hops.map(|it| it.amount.get() * gone(it)).sum::<f64>() / brew.litres
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_own_example_of_every_rule_holds() {
        for rule in FLAVOUR_RULES {
            let (found, expected) = ((rule.example.found)(), rule.example.expected);
            assert!(
                (found - expected).abs() < 1e-9,
                "{}: {}: {found}",
                rule.id,
                rule.example.says
            );
        }
    }
}
