//! What differs between two recipes, in short plain sentences.

use std::mem::discriminant;

use crate::domain::Celsius;
use crate::domain::Days;
use crate::domain::Ebc;
use crate::domain::FermentableUse;
use crate::domain::Grams;
use crate::domain::HopStorage;
use crate::domain::HopUse;
use crate::domain::Litres;
use crate::domain::Mash;
use crate::domain::MilligramsPerLitre;
use crate::domain::Minutes;
use crate::domain::Name;
use crate::domain::OtherUse;
use crate::domain::Packaging;
use crate::domain::Percent;
use crate::domain::PrimingSugar;
use crate::domain::Recipe;
use crate::domain::Volumes;
use crate::domain::Water;
use crate::domain::YeastUse;
use crate::workflow::alike_pairs::Pairs;
use crate::workflow::alike_pairs::paired;
use crate::workflow::change_words::added_words;
use crate::workflow::change_words::amount_words;
use crate::workflow::change_words::fermentable_name;
use crate::workflow::change_words::from_to;
use crate::workflow::change_words::hop_name;
use crate::workflow::change_words::hop_time_words;
use crate::workflow::change_words::left_out_words;
use crate::workflow::change_words::stated;
use crate::workflow::change_words::swap_words;
use crate::workflow::change_words::worded;
use crate::workflow::change_words::yeast_words;
use crate::workflow::hope_difference::hopes;
use crate::workflow::hope_difference::promises;

/// How far an amount may lie from its proportion and still be in it: files round amounts (judgement).
const ROUNDED: f64 = 0.01;

/// The same for small amounts, in grams.
const ROUNDED_GRAMS: f64 = 0.05;

/// What differs between two recipes, a sentence each, in the order of a brewing day; none where nothing does.
///
/// Version, parent and reason are no differences: they say which recipe it is. Another order of the same
/// additions or hopes is none either.
#[must_use]
pub fn recipe_differences(old: &Recipe, new: &Recipe) -> Vec<String> {
    // Named one by one, so that no field that is added is forgotten here.
    let Recipe {
        name,
        version: _,
        parent: _,
        reason: _,
        volume,
        efficiency,
        mash,
        boil,
        fermentables,
        hops,
        yeast,
        others,
        water,
        packaging,
        intent,
        promised,
    } = new;
    let mut told = Vec::new();
    if old.name != *name {
        told.push(format!("“{}” is called “{name}” now", old.name));
    }
    let (scaled, volumes) = volume_words(old, new, *volume);
    told.extend(volumes);
    told.extend(scaled.fermentables(&old.fermentables, fermentables));
    told.extend(scaled.hops(&old.hops, hops));
    told.extend(scaled.others(&old.others, others));
    told.extend(mashes(old.mash, *mash));
    told.extend(kettle(old, *boil, *efficiency));
    told.extend(yeasts(old.yeast.as_ref(), yeast.as_ref()));
    told.extend(waters(&old.water, water));
    told.extend(packagings(&old.packaging, packaging));
    told.extend(hopes(&old.intent, intent));
    told.extend(promises(&old.promised, promised));
    told
}

/// The boil, and how much of the malt's extract arrives in the fermenter.
fn kettle(old: &Recipe, boil: Option<Minutes>, efficiency: Option<Percent>) -> Vec<String> {
    let boils = [old.boil, boil].map(|it| it.map(Minutes::get));
    let efficiencies = [old.efficiency, efficiency].map(|it| it.map(Percent::get));
    let told = [
        stated("boil", boils, " min"),
        stated("efficiency", efficiencies, " %"),
    ];
    told.into_iter().flatten().collect()
}

/// How often the new volume holds the old one, where most amounts went along with it; none where they did not,
/// or the volume stayed.
fn proportion(old: &Recipe, new: &Recipe) -> Option<f64> {
    if old.volume == new.volume {
        return None;
    }
    let times = new.volume.get() / old.volume.get();
    let scaled = Scaled { times };
    let malts = paired(&old.fermentables, &new.fermentables, &MALT_LIKENESS);
    let hops = paired(&old.hops, &new.hops, &HOP_LIKENESSES);
    let others = paired(&old.others, &new.others, &OTHER_LIKENESS);
    let malts = malts.both.iter().map(|it| (it.0.amount, it.1.amount));
    let hops = hops.both.iter().map(|it| (it.0.amount, it.1.amount));
    let others = others.both.iter().map(|it| (it.0.amount, it.1.amount));
    let amounts: Vec<(Grams, Grams)> = malts.chain(hops).chain(others).collect();
    let along = amounts.iter();
    let along = along.filter(|it| !scaled.differs(it.0, it.1)).count();
    (2 * along > amounts.len()).then_some(times)
}

/// How the old amounts are counted, and what is said of the volume.
fn volume_words(old: &Recipe, new: &Recipe, volume: Litres) -> (Scaled, Option<String>) {
    let times = proportion(old, new);
    let along = match times {
        Some(_) => "in proportion",
        None => "not in proportion",
    };
    let said = || {
        let volume = from_to(old.volume.get(), volume.get(), " L");
        format!("volume {volume}; amounts {along}")
    };
    let scaled = Scaled {
        times: times.unwrap_or(1.0),
    };
    (scaled, (old.volume != volume).then(said))
}

/// The old amounts as they are counted: in proportion to the volume where it changed.
struct Scaled {
    times: f64,
}

impl Scaled {
    fn amount(&self, old: Grams) -> Grams {
        Grams::new(old.get() * self.times).unwrap_or(old)
    }

    fn differs(&self, old: Grams, new: Grams) -> bool {
        let scaled = self.amount(old).get();
        let apart = (scaled - new.get()).abs();
        let is_scaled = self.times.total_cmp(&1.0).is_ne();
        let rounding = (ROUNDED * scaled).max(ROUNDED_GRAMS);
        if is_scaled {
            apart > rounding
        } else {
            apart > 0.0
        }
    }

    fn more_or_less(&self, name: &str, old: Grams, new: Grams) -> Option<String> {
        let differs = self.differs(old, new);
        differs.then(|| amount_words(name, self.amount(old), new))
    }

    fn fermentables(&self, old: &[FermentableUse], new: &[FermentableUse]) -> Vec<String> {
        let pairs = paired(old, new, &MALT_LIKENESS);
        let mut told = self.moved(&pairs, |it| (fermentable_name(it), it.amount));
        for (old, new) in pairs.both {
            let FermentableUse {
                fermentable,
                amount,
                colour,
                extract,
            } = new;
            let name = fermentable_name(new);
            told.extend(self.more_or_less(&name, old.amount, *amount));
            let colours = [old.colour, *colour].map(|it| it.map(Ebc::get));
            told.extend(stated(&format!("colour of {name}"), colours, " EBC"));
            let extracts = [old.extract, *extract].map(|it| it.map(Percent::get));
            told.extend(stated(&format!("extract of {name}"), extracts, " %"));
            told.extend(described(&name, [&old.fermentable, fermentable]));
        }
        told
    }

    fn hops(&self, old: &[HopUse], new: &[HopUse]) -> Vec<String> {
        let pairs = paired(old, new, &HOP_LIKENESSES);
        let mut told = self.moved(&pairs, |it| (hop_name(it), it.amount));
        for (old, new) in pairs.both {
            let HopUse {
                hop,
                amount,
                alpha,
                when,
                age,
                storage,
            } = new;
            let name = hop_name(old);
            told.extend(self.more_or_less(&name, old.amount, *amount));
            if old.when != *when {
                told.push(hop_time_words(old, *when));
            }
            let alphas = [old.alpha, *alpha].map(|it| it.map(Percent::get));
            told.extend(stated(&format!("alpha acids of {name}"), alphas, " %"));
            told.extend(stated(
                &format!("age of {name}"),
                ages(old.age, *age),
                " days",
            ));
            let kept = [old.storage, *storage].map(|it| it.map(HopStorage::word));
            told.extend(worded(&format!("keeping of {name}"), kept));
            told.extend(described(&name, [&old.hop, hop]));
        }
        told
    }

    fn others(&self, old: &[OtherUse], new: &[OtherUse]) -> Vec<String> {
        let pairs = paired(old, new, &OTHER_LIKENESS);
        let mut told = self.moved(&pairs, |it| (it.other.identity.name.clone(), it.amount));
        for (old, new) in pairs.both {
            let OtherUse {
                other,
                amount,
                when,
            } = new;
            let name = &other.identity.name;
            told.extend(self.more_or_less(name, old.amount, *amount));
            let times = [&old.when, when].map(|it| it.as_ref().map(Name::as_str));
            told.extend(worded(&format!("time of {name}"), times));
            told.extend(described(name, [&old.other, other]));
        }
        told
    }

    /// What stands in the place of something else, what is left out, and what is added.
    fn moved<T>(&self, pairs: &Pairs<'_, T>, of: impl Fn(&T) -> (String, Grams)) -> Vec<String> {
        let mut told = Vec::new();
        let mut added: Vec<&(usize, &T)> = pairs.added.iter().collect();
        for (at, old) in &pairs.left_out {
            let (name, amount) = of(old);
            let amount = self.amount(amount);
            if let Some(place) = added.iter().position(|it| it.0 == *at) {
                let (new, to) = of(added.remove(place).1);
                told.push(swap_words(&name, amount, (&new, to)));
            } else {
                told.push(left_out_words(&name, amount));
            }
        }
        told.extend(added.into_iter().map(|it| {
            let (name, amount) = of(it.1);
            added_words(&name, amount)
        }));
        told
    }
}

/// Ages in whole days, unless those would hide that they differ.
fn ages(old: Option<Days>, new: Option<Days>) -> [Option<f64>; 2] {
    let exact = [old, new].map(|it| it.map(Days::get));
    let whole = exact.map(|it| it.map(f64::round));
    if whole[0] == whole[1] { exact } else { whole }
}

/// What the recipe itself says of an ingredient, such as one that the catalogue does not know.
fn described<T: PartialEq>(name: &str, [old, new]: [&T; 2]) -> Option<String> {
    (old != new).then(|| format!("{name} is described otherwise"))
}

fn mashes(old: Mash, new: Mash) -> Vec<String> {
    let Mash { temperature, time } = new;
    let warmth = [old.temperature, temperature].map(|it| it.map(Celsius::get));
    let times = [old.time, time].map(|it| it.map(Minutes::get));
    let warmth = stated("mash", warmth, " °C");
    warmth
        .into_iter()
        .chain(stated("mash time", times, " min"))
        .collect()
}

fn yeasts(old: Option<&YeastUse>, new: Option<&YeastUse>) -> Vec<String> {
    let (Some(before), Some(after)) = (old, new) else {
        let name = |it: &YeastUse| it.yeast.identity.name.clone();
        let added = new.map(|it| format!("{} as the yeast", name(it)));
        let left_out = old.map(|it| format!("{} left out, no yeast named", name(it)));
        return (old.is_some() != new.is_some())
            .then(|| added.or(left_out))
            .flatten()
            .into_iter()
            .collect();
    };
    let YeastUse {
        yeast,
        attenuation,
        temperature,
    } = after;
    let mut told = Vec::new();
    if before.yeast.identity.id == yeast.identity.id {
        let name = &yeast.identity.name;
        told.extend(described(name, [&before.yeast, yeast]));
    } else {
        told.push(yeast_words(old, after));
    }
    let attenuations = [before.attenuation, *attenuation].map(|it| it.map(Percent::get));
    told.extend(stated("attenuation of the yeast", attenuations, " %"));
    let warmth = [before.temperature, *temperature].map(|it| it.map(Celsius::get));
    told.extend(stated("fermentation", warmth, " °C"));
    told
}

fn waters(old: &Water, new: &Water) -> Vec<String> {
    let ions = |water: &Water| {
        let Water {
            calcium,
            magnesium,
            sodium,
            chloride,
            sulphate,
            bicarbonate,
        } = *water;
        [
            ("calcium", calcium),
            ("magnesium", magnesium),
            ("sodium", sodium),
            ("chloride", chloride),
            ("sulphate", sulphate),
            ("bicarbonate", bicarbonate),
        ]
    };
    let pairs = ions(old).into_iter().zip(ions(new));
    pairs
        .filter_map(|((ion, old), (_, new))| {
            let amounts = [old, new].map(|it| it.map(MilligramsPerLitre::get));
            stated(&format!("{ion} in the water"), amounts, " mg/L")
        })
        .collect()
}

fn packagings(old: &Packaging, new: &Packaging) -> Vec<String> {
    let Packaging {
        carbonation,
        priming,
        bottle,
    } = new;
    let gas = [old.carbonation, *carbonation].map(|it| it.map(Volumes::get));
    let sugars = [old.priming, *priming].map(|it| it.map(PrimingSugar::word));
    let bottles = [old.bottle, *bottle].map(|it| Some(it.word()));
    let told = [
        stated("carbonation", gas, " vol"),
        worded("priming", sugars),
        worded("bottle", bottles),
    ];
    told.into_iter().flatten().collect()
}

fn same_malt(one: &FermentableUse, other: &FermentableUse) -> bool {
    one.fermentable.identity.id == other.fermentable.identity.id
}

fn same_other(one: &OtherUse, other: &OtherUse) -> bool {
    one.other.identity.id == other.other.identity.id
}

const MALT_LIKENESS: [fn(&FermentableUse, &FermentableUse) -> bool; 1] = [same_malt];
const OTHER_LIKENESS: [fn(&OtherUse, &OtherUse) -> bool; 1] = [same_other];

/// Charges of one hop are told apart by when they go in, as far as that is possible.
const HOP_LIKENESSES: [fn(&HopUse, &HopUse) -> bool; 3] = [same_time, same_step, same_hop];

fn same_hop(one: &HopUse, other: &HopUse) -> bool {
    one.hop.identity.id == other.hop.identity.id
}

fn same_step(one: &HopUse, other: &HopUse) -> bool {
    same_hop(one, other) && discriminant(&one.when) == discriminant(&other.when)
}

fn same_time(one: &HopUse, other: &HopUse) -> bool {
    same_hop(one, other) && one.when == other.when
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::domain::Bottle;
    use crate::domain::DescriptorId;
    use crate::domain::Fermentable;
    use crate::domain::HopTime;
    use crate::domain::Matters;
    use crate::domain::Part;
    use crate::domain::Promise;
    use crate::domain::RecipeChange;
    use crate::formats::EXAMPLE;
    use crate::workflow::Home;
    use crate::workflow::change_words;

    fn example() -> Recipe {
        Home::trial().parse_recipe("example", EXAMPLE).unwrap()
    }

    fn grams(it: f64) -> Grams {
        Grams::new(it).unwrap()
    }

    fn malt(name: &str) -> Fermentable {
        let home = Home::trial();
        let mut known = home.catalogue().fermentables().iter();
        known
            .find(|it| it.identity.answers_to(name))
            .unwrap()
            .clone()
    }

    /// What is told after one change to the example.
    fn told(change: impl Fn(&mut Recipe)) -> Vec<String> {
        let old = example();
        let mut new = old.clone();
        change(&mut new);
        recipe_differences(&old, &new)
    }

    type Change = fn(&mut Recipe);

    /// One change to each field of a recipe and of everything in it.
    const EVERY_FIELD: &[Change] = &[
        |it| it.name = Name::new("a name", "Quay dark").unwrap(),
        |it| it.volume = Litres::new(5.001).unwrap(),
        |it| it.efficiency = None,
        |it| it.mash.temperature = Celsius::new(66.01).ok(),
        |it| it.mash.time = None,
        |it| it.boil = Minutes::new(61.0).ok(),
        |it| it.fermentables.truncate(2),
        |it| it.fermentables[0].amount = grams(1100.001),
        |it| it.fermentables[0].colour = Ebc::new(7.0).ok(),
        |it| it.fermentables[0].extract = None,
        |it| it.fermentables[1].fermentable = malt("Roasted barley"),
        |it| {
            Arc::make_mut(&mut it.fermentables[1].fermentable.identity)
                .source
                .push('!');
        },
        |it| it.hops[0].amount = grams(13.0),
        |it| it.hops[0].alpha = Percent::new(3.5).ok(),
        |it| it.hops[0].when = HopTime::Boil(Minutes::new(55.0).unwrap()),
        |it| {
            it.hops[1].when = HopTime::Whirlpool {
                temperature: Celsius::new(80.0).unwrap(),
                cools_to: Celsius::new(70.0).ok(),
                time: Minutes::new(20.0).unwrap(),
            };
        },
        |it| it.hops[0].age = Days::new(300.0).ok(),
        |it| it.hops[0].storage = Some(HopStorage::Shelf),
        |it| Arc::make_mut(&mut it.hops[0].hop.identity).name.push('!'),
        |it| it.hops[2].hop = it.hops[0].hop.clone(),
        |it| it.hops.clear(),
        |it| it.yeast = None,
        |it| it.yeast.as_mut().unwrap().attenuation = None,
        |it| it.yeast.as_mut().unwrap().temperature = Celsius::new(18.0).ok(),
        |it| it.yeast.as_mut().unwrap().yeast.character.push('!'),
        |it| it.others[0].amount = grams(5.01),
        |it| it.others[0].when = None,
        |it| {
            it.others[0]
                .other
                .allergens
                .push(crate::domain::Allergen::Nuts);
        },
        |it| it.others.clear(),
        |it| it.water.calcium = None,
        |it| it.water.magnesium = None,
        |it| it.water.sodium = MilligramsPerLitre::new(11.0).ok(),
        |it| it.water.chloride = MilligramsPerLitre::new(61.0).ok(),
        |it| it.water.sulphate = None,
        |it| it.water.bicarbonate = None,
        |it| it.packaging.carbonation = Volumes::new(2.5).ok(),
        |it| it.packaging.priming = Some(PrimingSugar::Glucose),
        |it| it.packaging.bottle = Bottle::Heavy,
        |it| it.intent.targets[0].value += 0.5,
        |it| it.intent.targets[0].matters = Matters::Little,
        |it| it.intent.targets.truncate(2),
        |it| it.promised.clear(),
        |it| it.promised[0].words.truncate(1),
        |it| it.promised[0].packet = Name::new("a packet", "Another").unwrap(),
    ];

    #[test]
    fn every_single_change_is_told_in_both_directions_and_nothing_where_nothing_changed() {
        let old = example();
        assert_eq!(recipe_differences(&old, &old), Vec::<String>::new());
        for (at, change) in EVERY_FIELD.iter().enumerate() {
            let mut new = old.clone();
            change(&mut new);
            assert_ne!(old, new, "change {at} changes nothing");
            for (from, to) in [(&old, &new), (&new, &old)] {
                let told = recipe_differences(from, to);
                assert!(!told.is_empty(), "change {at} is not told");
                // A name, an amount or a number that reads the same twice would tell nothing.
                for line in &told {
                    assert!(!line.contains(" 0 g "), "{line}");
                }
            }
        }
    }

    #[test]
    fn which_version_it_is_and_another_order_are_no_differences() {
        let name = |it| Name::new("a name", it).unwrap();
        let told = told(|it| {
            (it.version, it.parent) = (name("9"), Some(name("8")));
            it.reason = None;
            it.fermentables.reverse();
            it.hops.reverse();
            it.intent.targets.reverse();
        });
        assert_eq!(told, Vec::<String>::new());
    }

    #[test]
    fn what_changed_reads_as_a_brewer_would_say_it() {
        let told = told(|it| {
            it.fermentables[1].amount = grams(20.0);
            it.hops[1].amount = grams(12.0);
            it.hops[0].when = HopTime::Boil(Minutes::new(45.0).unwrap());
            it.mash.temperature = Celsius::new(64.0).ok();
            it.water.sulphate = MilligramsPerLitre::new(120.0).ok();
            it.packaging.carbonation = None;
            it.yeast.as_mut().unwrap().temperature = None;
            it.intent
                .targets
                .retain(|it| !matches!(it.line, crate::domain::Line::Shelf { .. }));
            let words = [DescriptorId::new("pepper").unwrap()].to_vec();
            let packet = Name::new("a packet", "New malt").unwrap();
            it.promised.push(Promise { packet, words });
        });
        // From the example: 60 g, 8 g, 60 min, 66 °C, 50 mg/L, 2.4 vol, 19 °C.
        assert_eq!(
            told,
            [
                "40 g less Chocolate malt (60 to 20 g)",
                "15 min later: Saaz (60 min boil) at 45 min",
                "4 g more Saaz (whirlpool): 8 to 12 g",
                "mash 66 to 64 °C",
                "fermentation no longer stated (19 °C)",
                "sulphate in the water 50 to 120 mg/L",
                "carbonation no longer stated (2.4 vol)",
                "hopes: the shelf toasted (flavour) no longer named (before: 4)",
                "“New malt” promises pepper",
            ]
        );
    }

    #[test]
    fn one_thing_where_another_stood_is_a_swap_and_the_rest_is_added_or_left_out() {
        let caramel = FermentableUse {
            fermentable: malt("Roasted barley"),
            amount: grams(50.0),
            ..example().fermentables[1].clone()
        };
        let swap = told(|it| it.fermentables[1] = caramel.clone());
        let swapped = "50 g Roasted barley in the place of 60 g Chocolate malt";
        assert_eq!(swap, [swapped]);
        let added = told(|it| it.fermentables.push(caramel.clone()));
        assert_eq!(added, ["50 g Roasted barley added"]);
        let left_out = told(|it| drop(it.fermentables.remove(2)));
        // Table sugar is another name of it in the catalogue.
        assert_eq!(left_out, ["50 g White sugar left out"]);
    }

    #[test]
    fn with_another_volume_amounts_count_in_proportion_where_they_went_along() {
        let to = Litres::new(8.0).unwrap();
        let whole = recipe_differences(&example(), &RecipeChange::Volume(to).apply(&example()));
        assert_eq!(whole, ["volume 5 to 8 L; amounts in proportion"]);
        let and_less = told(|it| {
            *it = RecipeChange::Volume(to).apply(it);
            it.fermentables[1].amount = grams(32.0);
        });
        // By hand: 60 g in 5 L are 96 g in 8 L.
        let less = "64 g less Chocolate malt (96 to 32 g)";
        assert_eq!(and_less, ["volume 5 to 8 L; amounts in proportion", less]);
        let alone = told(|it| it.volume = to);
        assert_eq!(alone, ["volume 5 to 8 L; amounts not in proportion"]);
    }

    #[test]
    fn one_change_is_told_with_what_is_there_before_it() {
        let recipe = example();
        let celsius = |it| Celsius::new(it).unwrap();
        let minutes = |it| Minutes::new(it).unwrap();
        let biscuit = FermentableUse {
            fermentable: malt("Roasted barley"),
            amount: grams(60.0),
            colour: None,
            extract: None,
        };
        let amount = |part, to| RecipeChange::Amount {
            part,
            to: grams(to),
        };
        let to_boil = RecipeChange::HopTime {
            at: 1,
            when: HopTime::Boil(minutes(5.0)),
        };
        let later = RecipeChange::HopTime {
            at: 0,
            when: HopTime::Boil(minutes(50.0)),
        };
        // The amounts and temperatures before are those of the example.
        for (change, words) in [
            (
                amount(Part::Fermentable(1), 20.0),
                "40 g less Chocolate malt (60 to 20 g)",
            ),
            (
                amount(Part::Hop(0), 12.5),
                "0.5 g more Saaz (60 min boil): 12 to 12.5 g",
            ),
            (
                RecipeChange::LeaveOut(Part::Other(0)),
                "5 g Coriander seed left out",
            ),
            (
                RecipeChange::AddFermentable(biscuit),
                "60 g Roasted barley added",
            ),
            (later, "10 min later: Saaz (60 min boil) at 50 min"),
            (
                to_boil,
                "Saaz (whirlpool at 80 °C for 20 min), now 5 min boil",
            ),
            (
                RecipeChange::Mash(celsius(64.0)),
                "mash 2 °C cooler (64 °C)",
            ),
            (
                RecipeChange::Fermentation(celsius(20.5)),
                "fermentation 1.5 °C warmer (20.5 °C)",
            ),
            (
                RecipeChange::Carbonation(Volumes::new(2.6).unwrap()),
                "carbonation 2.4 to 2.6 vol",
            ),
            (
                RecipeChange::Volume(Litres::new(8.0).unwrap()),
                "volume 5 to 8 L; amounts in proportion",
            ),
            (RecipeChange::LeaveOut(Part::Hop(7)), "nothing changes"),
        ] {
            assert_eq!(change_words(&recipe, &change), words);
        }
    }

    proptest::proptest! {
        #[test]
        fn any_other_amount_is_told_with_two_numbers_that_differ(
            from in 0.01_f64..100_000.0,
            to in 0.01_f64..100_000.0,
        ) {
            let words = from_to(from, to, "");
            let (one, other) = words.split_once(" to ").unwrap();
            proptest::prop_assert_eq!(one == other, from.total_cmp(&to).is_eq());
        }
    }
}
