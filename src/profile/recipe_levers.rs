//! Everything that could be done to a recipe: each lever with its steps, as fine as a scale weighs and as far as a beer bears.

use crate::domain::Celsius;
use crate::domain::Days;
use crate::domain::FermentableUse;
use crate::domain::Grams;
use crate::domain::HopTime;
use crate::domain::HopUse;
use crate::domain::Identity;
use crate::domain::Minutes;
use crate::domain::OtherUse;
use crate::domain::Part;
use crate::domain::Recipe;
use crate::domain::RecipeChange;
use crate::domain::Volumes;
use crate::profile::Wishes;
use crate::profile::bottle_gas::most_gas;

/// What a lever takes hold of; a proposal never takes hold of one thing twice.
#[derive(Debug, Clone, PartialEq)]
pub enum Touch {
    /// An addition of the recipe.
    Part(Part),
    /// The yeast and its temperature.
    Yeast,
    /// The mash.
    Mash,
    /// The carbonation.
    Gas,
    /// Something that is not in the recipe yet, by its id.
    New(String),
}

/// Something that could be done, in steps.
#[derive(Debug, Clone, PartialEq)]
pub struct Lever {
    /// What it takes hold of.
    pub touch: Touch,
    /// The steps, from the least to the most.
    pub steps: Vec<RecipeChange>,
}

/// Parts of an amount that are tried first; 0 leaves it out.
const PARTS: [f64; 8] = [0.0, 0.25, 0.5, 0.75, 1.25, 1.5, 2.0, 3.0];
/// Minutes of boil that are tried.
const BOILS: [f64; 7] = [0.0, 5.0, 10.0, 20.0, 30.0, 45.0, 60.0];
/// Temperatures of a stand that are tried, °C, and its minutes (common practice).
const STANDS: [f64; 3] = [70.0, 80.0, 90.0];
const STAND_MINUTES: f64 = 20.0;
/// Days in the fermenter that are tried (beyond a week hops turn grassy: common practice).
const DRY_DAYS: [f64; 4] = [1.0, 2.0, 3.0, 5.0];
/// Mash temperatures, °C: below and above the enzymes of one end do little (common practice).
const MASHES: std::ops::RangeInclusive<u8> = 62..=71;
/// The carbonations that are tried, tenths of a volume (common practice).
const GASES: std::ops::RangeInclusive<u8> = 16..=34;

/// The step in which an amount is told, grams: one of 1, 2 or 5 times a power of ten, near a part of the volume,
/// and no finer than the scale weighs.
#[must_use]
pub(in crate::profile) fn step_of(part: Part, litres: f64, finest: f64) -> f64 {
    // A thousandth of a litre's mass of malt, a few hundredths of a gram of hops a litre: nobody tastes less.
    let (per_litre, least) = match part {
        Part::Fermentable(_) => (1.0, finest.max(1.0)),
        Part::Hop(_) => (0.04, finest.max(0.1)),
        Part::Other(_) => (0.01, finest.max(0.1)),
    };
    let wanted: f64 = (per_litre * litres).max(least);
    let power = 10.0_f64.powf(wanted.log10().floor());
    let steps = [5.0, 2.0, 1.0].map(|it| it * power);
    let step = steps.into_iter().find(|it| *it <= wanted * (1.0 + 1e-9));
    step.unwrap_or(power).max(least)
}

/// An amount in whole steps; none where nothing is left, or no such amount can be.
#[must_use]
pub(in crate::profile) fn in_steps(grams: f64, step: f64) -> Option<Grams> {
    let whole = (grams / step).round() * step;
    // Whole steps of a tenth leave a trace in the last digit.
    let clean = (whole * 100.0).round() / 100.0;
    (clean >= step - 1e-9).then(|| Grams::new(clean).ok())?
}

/// Every amount of a recipe as a scale of that fineness weighs it.
#[must_use]
pub fn weighed_amounts(recipe: &Recipe, finest: f64) -> Vec<(Part, Grams)> {
    let malts = recipe.fermentables.iter().enumerate();
    let malts = malts.map(|(at, it)| (Part::Fermentable(at), it.amount, finest.max(1.0)));
    let hops = recipe.hops.iter().enumerate();
    let hops = hops.map(|(at, it)| (Part::Hop(at), it.amount, finest.max(0.1)));
    let others = recipe.others.iter().enumerate();
    let others = others.map(|(at, it)| (Part::Other(at), it.amount, finest.max(0.1)));
    let all = malts.chain(hops).chain(others);
    // What is less than the scale weighs stays as it is: nothing disappears by rounding.
    all.map(|(part, it, step)| (part, in_steps(it.get(), step).unwrap_or(it)))
        .collect()
}

/// What could be done with what is in the recipe already.
#[must_use]
pub fn levers_within(recipe: &Recipe, wishes: &Wishes) -> Vec<Lever> {
    let mut levers = Vec::new();
    let grist_has_more = recipe.fermentables.len() > 1;
    for (at, it) in recipe.fermentables.iter().enumerate() {
        let part = Part::Fermentable(at);
        if is_free(&it.fermentable.identity, wishes) {
            let mut steps = amounts(recipe, part, it.amount, wishes);
            steps.retain(|it| grist_has_more || !matches!(it, RecipeChange::LeaveOut(_)));
            levers.push(Lever::new(Touch::Part(part), steps));
        }
    }
    for (at, it) in recipe.hops.iter().enumerate() {
        let part = Part::Hop(at);
        if is_free(&it.hop.identity, wishes) {
            let steps = amounts(recipe, part, it.amount, wishes);
            levers.push(Lever::new(Touch::Part(part), steps));
            levers.push(Lever::new(Touch::Part(part), times(recipe, at, it)));
        }
    }
    for (at, it) in recipe.others.iter().enumerate() {
        let part = Part::Other(at);
        if is_free(&it.other.identity, wishes) {
            let steps = amounts(recipe, part, it.amount, wishes);
            levers.push(Lever::new(Touch::Part(part), steps));
        }
    }
    levers.push(Lever::new(Touch::Mash, mashes(recipe)));
    let yeast = recipe.yeast.as_ref();
    if yeast.is_none_or(|it| is_free(&it.yeast.identity, wishes)) {
        levers.push(Lever::new(Touch::Yeast, fermentations(recipe)));
    }
    levers.push(Lever::new(Touch::Gas, gases(recipe)));
    levers.retain(|it| !it.steps.is_empty());
    levers
}

impl Lever {
    pub(in crate::profile) const fn new(touch: Touch, steps: Vec<RecipeChange>) -> Self {
        Self { touch, steps }
    }
}

fn is_free(it: &Identity, wishes: &Wishes) -> bool {
    !wishes.is_locked(&it.id)
}

/// More or less of one thing, and none of it.
fn amounts(recipe: &Recipe, part: Part, now: Grams, wishes: &Wishes) -> Vec<RecipeChange> {
    let step = step_of(part, recipe.volume.get(), wishes.finest);
    let mut steps: Vec<RecipeChange> = Vec::new();
    for times in PARTS {
        let change = if times == 0.0 {
            Some(RecipeChange::LeaveOut(part))
        } else {
            let to = in_steps(now.get() * times, step);
            to.map(|to| RecipeChange::Amount { part, to })
        };
        let moves = |it: &RecipeChange| match it {
            RecipeChange::Amount { to, .. } => (to.get() - now.get()).abs() >= step / 2.0,
            _ => true,
        };
        steps.extend(change.filter(|it| moves(it) && !steps.contains(it)));
    }
    steps
}

/// A hop charge earlier, later, or at another stage.
fn times(recipe: &Recipe, at: usize, it: &HopUse) -> Vec<RecipeChange> {
    let longest = recipe.boil.map_or(60.0, Minutes::get);
    let boils = BOILS.into_iter().filter(|it| *it <= longest);
    let boils = boils.filter_map(|it| Some(HopTime::Boil(Minutes::new(it).ok()?)));
    let stands = STANDS.into_iter().filter_map(stand);
    let dry = DRY_DAYS.into_iter().filter_map(|days| {
        let temperature = match it.when {
            HopTime::Dry { temperature, .. } => temperature,
            HopTime::Boil(_) | HopTime::Whirlpool { .. } => None,
        };
        let days = Days::new(days).ok()?;
        Some(HopTime::Dry { days, temperature })
    });
    let all = boils
        .chain(stands)
        .chain(dry)
        .filter(|when| *when != it.when);
    all.map(|when| RecipeChange::HopTime { at, when }).collect()
}

/// A stand at a temperature.
pub(in crate::profile) fn stand(celsius: f64) -> Option<HopTime> {
    Some(HopTime::Whirlpool {
        temperature: Celsius::new(celsius).ok()?,
        cools_to: None,
        time: Minutes::new(STAND_MINUTES).ok()?,
    })
}

/// The mash hotter or cooler; nothing where nobody stated it.
fn mashes(recipe: &Recipe) -> Vec<RecipeChange> {
    let Some(now) = recipe.mash.temperature else {
        return Vec::new();
    };
    let all = MASHES.filter_map(|it| Celsius::new(f64::from(it)).ok());
    let others = all.filter(|it| (it.get() - now.get()).abs() >= 0.5);
    others.map(RecipeChange::Mash).collect()
}

/// The fermentation warmer or cooler, within what the yeast likes.
fn fermentations(recipe: &Recipe) -> Vec<RecipeChange> {
    let Some(it) = &recipe.yeast else {
        return Vec::new();
    };
    let likes = it.yeast.temperature;
    let now = it.temperature.map_or(likes.usual(), Celsius::get);
    let whole = (0..=40_u8).map(f64::from);
    let within = whole.filter(|celsius| (likes.low()..=likes.high()).contains(celsius));
    let others = within.filter(|celsius| (celsius - now).abs() >= 0.5);
    let others = others.filter_map(|celsius| Celsius::new(celsius).ok());
    others.map(RecipeChange::Fermentation).collect()
}

/// More or less gas, within what the bottle bears.
fn gases(recipe: &Recipe) -> Vec<RecipeChange> {
    let Some(now) = recipe.packaging.carbonation else {
        return Vec::new();
    };
    let most = most_gas(recipe.packaging.bottle);
    let all = GASES.map(|it| f64::from(it) / 10.0);
    let others = all.filter(|it| *it <= most && (it - now.get()).abs() >= 0.05);
    // More than one volume at a time is another beer.
    let near = others.filter(|it| (it - now.get()).abs() <= 1.0);
    let near = near.filter_map(|it| Volumes::new(it).ok());
    near.map(RecipeChange::Carbonation).collect()
}

/// The same change with so many times the amount, for a closer look; none for what has no amount.
#[must_use]
pub(in crate::profile) fn finer(
    change: &RecipeChange,
    recipe: &Recipe,
    wishes: &Wishes,
    times: f64,
) -> Option<RecipeChange> {
    let scaled = |part, grams: Grams| {
        let step = step_of(part, recipe.volume.get(), wishes.finest);
        in_steps(grams.get() * times, step)
    };
    Some(match change {
        RecipeChange::Amount { part, to } => RecipeChange::Amount {
            part: *part,
            to: scaled(*part, *to)?,
        },
        RecipeChange::SwapFermentable { at, by } => RecipeChange::SwapFermentable {
            at: *at,
            by: with_malt(by, scaled(Part::Fermentable(*at), by.amount)?),
        },
        RecipeChange::SwapHop { at, by } => RecipeChange::SwapHop {
            at: *at,
            by: with_hop(by, scaled(Part::Hop(*at), by.amount)?),
        },
        RecipeChange::AddFermentable(it) => {
            RecipeChange::AddFermentable(with_malt(it, scaled(Part::Fermentable(0), it.amount)?))
        }
        RecipeChange::AddHop(it) => {
            RecipeChange::AddHop(with_hop(it, scaled(Part::Hop(0), it.amount)?))
        }
        RecipeChange::AddOther(it) => RecipeChange::AddOther(OtherUse {
            amount: scaled(Part::Other(0), it.amount)?,
            ..it.clone()
        }),
        _ => return None,
    })
}

fn with_malt(it: &FermentableUse, amount: Grams) -> FermentableUse {
    FermentableUse {
        amount,
        ..it.clone()
    }
}

fn with_hop(it: &HopUse, amount: Grams) -> HopUse {
    HopUse {
        amount,
        ..it.clone()
    }
}
