//! The record of what to brew next: what is worth changing, what to look at first, and what is proposed.

use crate::domain::Name;
use crate::domain::PromisedChange;
use crate::domain::Recipe;
use crate::domain::RecipeChange;
use crate::profile::NoiseBasis;
use crate::workflow::Proof;
use crate::workflow::Remedy;
use crate::workflow::Split;

/// How a hope stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HopeStanding {
    /// The glass differs from it by more than noise: worth a change.
    Missed,
    /// Within one digit, with nine chances in ten.
    Met,
    /// The gap may be noise: left alone.
    Open,
    /// Nobody said anything of it.
    Silent,
    /// No recipe is known to move it.
    NoLever,
}

/// A hope held against the glasses.
#[derive(Debug, Clone, PartialEq)]
pub struct HopeGap {
    /// The key, as in a comparison.
    pub id: String,
    /// The words on screen.
    pub label: String,
    /// What was hoped for, digits.
    pub hoped: f64,
    /// What the glasses say, digits.
    pub found: Option<f64>,
    /// The gap as far as it is believed, with its ends, digits.
    pub gap: Option<(f64, f64, f64)>,
    /// How it stands.
    pub standing: HopeStanding,
    /// How many more glasses of each taster, one a day, would settle it.
    pub needed: Option<u32>,
}

/// Whether anything is to be changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WorthChanging {
    /// Nothing was hoped for, so nothing can be missed.
    NoHopes,
    /// No recipe is known to move anything that was hoped for.
    NoLever,
    /// All gaps may be noise, or there is none.
    NotYet,
    /// A hope is missed, and nothing that is known would bring the beer nearer.
    NoWay,
    /// Something is proposed.
    Yes,
}

/// One change of a proposal.
#[derive(Debug, Clone, PartialEq)]
pub struct NextChange {
    /// What is done, in words.
    pub words: String,
    /// The hopes it brings nearer, the most first: label, and how far it moves each, in digits.
    pub brings: Vec<(String, f64)>,
    /// True of what this kitchen has not brewed with before.
    pub is_new: bool,
    /// True of fruit, whose sugar ferments and stands in no figure.
    pub is_fruit: bool,
    pub(super) change: RecipeChange,
}

/// A physical figure before and after.
#[derive(Debug, Clone, PartialEq)]
pub struct FigureMove {
    /// The key in JSON.
    pub id: &'static str,
    /// The words on screen.
    pub word: &'static str,
    /// The unit.
    pub unit: &'static str,
    /// How many decimals make sense.
    pub decimals: usize,
    /// As it is.
    pub before: f64,
    /// As proposed.
    pub after: f64,
}

/// One proposal.
#[derive(Debug, Clone, PartialEq)]
pub struct NextProposal {
    /// What is changed.
    pub changes: Vec<NextChange>,
    /// What is expected of the hopes, those that move farthest first.
    pub hopes: Vec<PromisedChange>,
    /// What moves besides by half a digit or more.
    pub besides: Vec<PromisedChange>,
    /// What the physical figures come to.
    pub figures: Vec<FigureMove>,
    /// The chance that the gap to all hopes really shrinks.
    pub chance: f64,
    /// The root mean square gap to the hopes now and then, by what they matter, in digits.
    pub gap: (f64, f64),
    /// What the ingredients cost now and then, where prices are known.
    pub cost: Option<(f64, f64)>,
    /// The blind tests that would show it, any difference first.
    pub proofs: Vec<Proof>,
    /// How a divided batch would teach more for its litres, where it can be divided.
    pub split: Option<Split>,
    pub(super) recipe: Recipe,
}

/// What to brew next, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct NextRecipe {
    /// The bottle.
    pub cap_mark: Name,
    /// The recipe it was brewed by.
    pub recipe: Name,
    /// Its version.
    pub version: Name,
    /// How many glasses count, and on how many days.
    pub glasses: (usize, usize),
    /// How many sets of notes do not count: of bad bottles, or of who knew the recipe or had a cold.
    pub set_aside: usize,
    /// What bad bottles mean for the others of the batch, the most pressing first.
    pub dangers: Vec<String>,
    /// What the brew did not come to as written: each figure in words.
    pub astray: Vec<String>,
    /// Who tasted them.
    pub tasters: Vec<Name>,
    /// What to look at before any recipe is changed.
    pub remedies: Vec<Remedy>,
    /// The hopes that matter.
    pub hopes: Vec<HopeGap>,
    /// Whether anything is to be changed.
    pub worth: WorthChanging,
    /// The proposals: with one change, with two, with three, as far as each is worth it.
    pub proposals: Vec<NextProposal>,
    /// Wishes that cannot be met together by so few changes, or only away from the hopes, each a sentence.
    pub unmet: Vec<String>,
    /// The wishes that were kept to, as they could be typed.
    pub wishes: Vec<String>,
    /// The litres of the next brew, where they are others than before.
    pub litres: Option<(f64, f64)>,
    /// What that does to every amount; empty where the volume stays.
    pub rescaling: Vec<RecipeChange>,
    /// What the noise rests on.
    pub basis: Option<NoiseBasis>,
    /// The version of the rules, and of wheel and ingredients.
    pub versions: (String, String),
}
