//! The rules of flavour, one for each kind of ingredient: from an amount and a step to flavour units.

use crate::domain::Gift;
use crate::domain::Gifts;
use crate::domain::Holds;
use crate::profile::Brew;
use crate::profile::Weights;
use crate::profile::hop_survival::counted_dose;
use crate::profile::hop_survival::kept_in_store;
use crate::profile::hop_survival::survival;

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
}

/// One gift as it arrives in the glass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arrived<'a> {
    /// The gift.
    pub gift: &'a Gift,
    /// Its flavour units in this beer.
    pub units: f64,
    /// Where it comes from.
    pub source: Source,
}

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
        about: "Hops give by dose, by what the step leaves of each part of them, and by their age.",
        source: "Forster & Gahr 2013, Kishimoto 2008, Praet 2015, Lafontaine & Shellhammer 2018; sizes judgement",
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
        about: "Yeast gives what its strain gives at its usual temperature, more where it is warmer.",
        source: "ethyl acetate 12.5 to 21.5 mg/L from 10 to 25 °C (Kucharczyk & Tuszyński 2018); strains by judgement",
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
    for (index, it) in brew.recipe.fermentables.iter().enumerate() {
        let fermentable = &it.fermentable;
        let family = brew.families.fermentable(fermentable.family);
        let dose = it.amount.get() / brew.litres;
        for gift in known_or(&fermentable.identity.gifts, family) {
            arrived.extend(at_dose(gift, dose, Source::Fermentable(index)));
        }
    }
}

fn others<'a>(brew: &Brew<'a>, arrived: &mut Vec<Arrived<'a>>) {
    for (index, it) in brew.recipe.others.iter().enumerate() {
        let family = brew.families.other(it.other.kind);
        let dose = it.amount.get() / brew.litres;
        for gift in known_or(&it.other.identity.gifts, family) {
            arrived.extend(at_dose(gift, dose, Source::Other(index)));
        }
    }
}

fn at_dose(gift: &Gift, dose: f64, source: Source) -> Option<Arrived<'_>> {
    let Holds::AtDose(at) = gift.holds else {
        return None;
    };
    Some(Arrived {
        gift,
        units: dosed(gift.units.get(), dose, at.get()),
        source,
    })
}

fn hops<'a>(brew: &Brew<'a>, arrived: &mut Vec<Arrived<'a>>) {
    for (index, it) in brew.recipe.hops.iter().enumerate() {
        let dose = counted_dose(it.when, it.amount.get() / brew.litres);
        let kept = kept_in_store(it);
        for gift in known_or(&it.hop.identity.gifts, brew.families.hop()) {
            let Holds::AtHopDose(at, part) = gift.holds else {
                continue;
            };
            let at = counted_dose(it.when, at.get());
            let units = hopped(gift.units.get(), dose, at) * survival(part, it.when) * kept;
            let source = Source::Hop(index);
            arrived.push(Arrived {
                gift,
                units,
                source,
            });
        }
    }
}

fn yeast<'a>(brew: &Brew<'a>, arrived: &mut Vec<Arrived<'a>>) {
    let Some(it) = &brew.recipe.yeast else {
        return;
    };
    let usual = it.yeast.temperature.usual();
    let degrees = brew.fermented_at.map_or(0.0, |at| at - usual);
    for gift in known_or(&it.yeast.identity.gifts, brew.families.yeast()) {
        let Holds::Fermented { per_ten_degrees } = gift.holds else {
            continue;
        };
        arrived.push(Arrived {
            gift,
            units: warmed(gift.units.get(), per_ten_degrees, degrees),
            source: Source::Yeast,
        });
    }
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
