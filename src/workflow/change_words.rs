//! One change of a recipe in a few plain words, and the pieces of which such words are made.

use crate::domain::Celsius;
use crate::domain::Days;
use crate::domain::FermentableUse;
use crate::domain::Grams;
use crate::domain::HopTime;
use crate::domain::HopUse;
use crate::domain::Minutes;
use crate::domain::Part;
use crate::domain::Recipe;
use crate::domain::RecipeChange;
use crate::domain::YeastUse;

/// What is said of a place that the recipe does not have.
const NOTHING: &str = "nothing changes";

/// What a change does to a recipe, such as "40 g less Dark crystal malt (60 to 20 g)".
#[must_use]
pub fn change_words(recipe: &Recipe, change: &RecipeChange) -> String {
    let yeast = recipe.yeast.as_ref();
    let words = match change {
        RecipeChange::Amount { part, to } => {
            amount_of(recipe, *part).map(|(name, from)| amount_words(&name, from, *to))
        }
        RecipeChange::LeaveOut(part) => {
            amount_of(recipe, *part).map(|(name, from)| left_out_words(&name, from))
        }
        RecipeChange::SwapFermentable { at, by } => {
            let old = recipe.fermentables.get(*at);
            old.map(|old| swap_words(&fermentable_name(old), old.amount, by_malt(by)))
        }
        RecipeChange::SwapHop { at, by } => {
            let old = recipe.hops.get(*at);
            old.map(|old| swap_words(&hop_name(old), old.amount, (&hop_name(by), by.amount)))
        }
        RecipeChange::Yeast(by) => Some(yeast_words(yeast, by)),
        RecipeChange::AddFermentable(it) => Some(added_words(&fermentable_name(it), it.amount)),
        RecipeChange::AddHop(it) => Some(added_words(&hop_name(it), it.amount)),
        RecipeChange::AddOther(it) => Some(added_words(&it.other.identity.name, it.amount)),
        RecipeChange::HopTime { at, when } => {
            recipe.hops.get(*at).map(|hop| hop_time_words(hop, *when))
        }
        RecipeChange::Mash(to) => Some(warmth_words("mash", recipe.mash.temperature, *to)),
        RecipeChange::Fermentation(to) => {
            yeast.map(|it| warmth_words("fermentation", it.temperature, *to))
        }
        RecipeChange::Carbonation(to) => Some(match recipe.packaging.carbonation {
            Some(from) => format!("carbonation {}", from_to(from.get(), to.get(), " vol")),
            None => format!("carbonation of {} vol", number(to.get())),
        }),
        RecipeChange::Volume(to) => {
            let volume = from_to(recipe.volume.get(), to.get(), " L");
            Some(format!("volume {volume}; amounts in proportion"))
        }
    };
    words.unwrap_or_else(|| NOTHING.to_owned())
}

fn by_malt(by: &FermentableUse) -> (&str, Grams) {
    (&by.fermentable.identity.name, by.amount)
}

/// What a part is called and how much of it there is.
fn amount_of(recipe: &Recipe, part: Part) -> Option<(String, Grams)> {
    match part {
        Part::Fermentable(at) => {
            let it = recipe.fermentables.get(at)?;
            Some((fermentable_name(it), it.amount))
        }
        Part::Hop(at) => {
            let it = recipe.hops.get(at)?;
            Some((hop_name(it), it.amount))
        }
        Part::Other(at) => {
            let it = recipe.others.get(at)?;
            Some((it.other.identity.name.clone(), it.amount))
        }
    }
}

/// What a fermentable is called.
pub(super) fn fermentable_name(it: &FermentableUse) -> String {
    it.fermentable.identity.name.clone()
}

/// What a hop charge is called, with its step.
pub(super) fn hop_name(it: &HopUse) -> String {
    let step = match it.when {
        HopTime::Boil(time) => format!("{} min boil", number(time.get())),
        HopTime::Whirlpool { .. } => "whirlpool".to_owned(),
        HopTime::Dry { .. } => "dry hop".to_owned(),
    };
    format!("{} ({step})", it.hop.identity.name)
}

/// A number with as few decimals as tell it.
pub(super) fn number(it: f64) -> String {
    with_decimals(it, fit_decimals(it))
}

/// Two numbers that differ, with as few decimals as show that they do.
pub(super) fn from_to(from: f64, to: f64, unit: &str) -> String {
    let [from, to] = two_numbers(from, to);
    format!("{from} to {to}{unit}")
}

/// Two numbers with as few decimals as show that they differ, if they do.
fn two_numbers(from: f64, to: f64) -> [String; 2] {
    let least = fit_decimals(from.abs().min(to.abs()));
    let told = (least..=12).map(|it| [from, to].map(|number| with_decimals(number, it)));
    let mut differing = told.filter(|it| it[0] != it[1]);
    differing
        .next()
        .unwrap_or_else(|| [from, to].map(|it| it.to_string()))
}

/// Decimals that are worth telling of a number.
fn fit_decimals(it: f64) -> usize {
    match it.abs() {
        large if large >= 100.0 => 0,
        middling if middling >= 10.0 => 1,
        _ => 2,
    }
}

fn with_decimals(it: f64, decimals: usize) -> String {
    let told = format!("{it:.decimals$}");
    if told.contains('.') {
        told.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        told
    }
}

/// Something stated in both recipes, in one, or in none.
pub(super) fn stated(what: &str, pair: [Option<f64>; 2], unit: &str) -> Option<String> {
    match pair {
        [Some(old), Some(new)] => {
            let differs = old.total_cmp(&new).is_ne();
            differs.then(|| format!("{what} {}", from_to(old, new, unit)))
        }
        [None, Some(new)] => Some(format!("{what} now stated: {}{unit}", number(new))),
        [Some(old), None] => Some(format!("{what} no longer stated ({}{unit})", number(old))),
        [None, None] => None,
    }
}

/// The same of a word of a closed list, or of the brewer's own.
pub(super) fn worded(what: &str, pair: [Option<&str>; 2]) -> Option<String> {
    match pair {
        [old, new] if old == new => None,
        [Some(old), Some(new)] => Some(format!("{what}: {new} in the place of {old}")),
        [None, Some(new)] => Some(format!("{what}: {new}")),
        [Some(old), None] => Some(format!("{what} no longer stated ({old})")),
        [None, None] => None,
    }
}

/// Another amount of the same thing.
pub(super) fn amount_words(name: &str, from: Grams, to: Grams) -> String {
    let (from, to) = (from.get(), to.get());
    let more_or_less = if to < from { "less" } else { "more" };
    let by = number((to - from).abs());
    let by = if by == "0" {
        String::new()
    } else {
        format!("{by} g ")
    };
    let amounts = from_to(from, to, " g");
    if name.ends_with(')') {
        format!("{by}{more_or_less} {name}: {amounts}")
    } else {
        format!("{by}{more_or_less} {name} ({amounts})")
    }
}

/// Something that is not in any more.
pub(super) fn left_out_words(name: &str, from: Grams) -> String {
    format!("{} g {name} left out", number(from.get()))
}

/// Something that was not in before.
pub(super) fn added_words(name: &str, amount: Grams) -> String {
    format!("{} g {name} added", number(amount.get()))
}

/// One thing where another stood.
pub(super) fn swap_words(old: &str, from: Grams, (new, to): (&str, Grams)) -> String {
    let [from, to] = [from, to].map(|it| number(it.get()));
    format!("{to} g {new} in the place of {from} g {old}")
}

/// Another yeast, or one where there was none.
pub(super) fn yeast_words(old: Option<&YeastUse>, new: &YeastUse) -> String {
    let name = &new.yeast.identity.name;
    match old.map(|it| &it.yeast.identity.name) {
        Some(old) if old == name => format!("{name} as before"),
        Some(old) => format!("{name} in the place of {old}"),
        None => format!("{name} as the yeast"),
    }
}

/// Another temperature of a step.
fn warmth_words(step: &str, from: Option<Celsius>, to: Celsius) -> String {
    let to = to.get();
    let Some(from) = from.map(Celsius::get) else {
        return format!("{step} at {} °C", number(to));
    };
    let warmer = if to < from { "cooler" } else { "warmer" };
    let by = number((to - from).abs());
    format!("{step} {by} °C {warmer} ({} °C)", number(to))
}

/// A hop charge at another time.
pub(super) fn hop_time_words(hop: &HopUse, to: HopTime) -> String {
    let name = hop_name(hop);
    if let (HopTime::Boil(from), HopTime::Boil(to)) = (hop.when, to) {
        // Minutes that are left count down.
        let later = if to < from { "later" } else { "earlier" };
        let by = number((to.get() - from.get()).abs());
        let [_, to] = two_numbers(from.get(), to.get());
        return format!("{by} min {later}: {name} at {to} min");
    }
    let whole = format!("{} ({})", hop.hop.identity.name, time_words(hop.when));
    format!("{whole}, now {}", time_words(to))
}

/// When a hop charge goes in, in full.
fn time_words(when: HopTime) -> String {
    let at = |it: Celsius| format!(" at {} °C", number(it.get()));
    let minutes = |it: Minutes| number(it.get());
    let days = |it: Days| number(it.get());
    match when {
        HopTime::Boil(left) => format!("{} min boil", minutes(left)),
        HopTime::Whirlpool {
            temperature,
            cools_to,
            time,
        } => {
            let cooling = cools_to.map(|it| format!(" cooling to {} °C", number(it.get())));
            let cooling = cooling.unwrap_or_default();
            format!(
                "whirlpool{}{cooling} for {} min",
                at(temperature),
                minutes(time)
            )
        }
        HopTime::Dry {
            days: time,
            temperature,
        } => {
            let warmth = temperature.map(at).unwrap_or_default();
            format!("dry hop for {} days{warmth}", days(time))
        }
    }
}
