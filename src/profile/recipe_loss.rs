//! How far glass and hopes are expected to lie apart after some changes, and the chance that they come nearer.

use crate::domain::Recipe;
use crate::domain::RecipeChange;
use crate::profile::Familiar;
use crate::profile::Outlook;
use crate::statistics::Dice;

/// Half a digit on a line of which nothing was said nobody minds (judgement).
const NOBODY_MINDS: f64 = 0.5;

/// Plays in which the chance is counted, and their seed: the same question has the same answer.
const PLAYS: u32 = 1_000;
const SEED: u64 = 8;

/// How cautiously a search goes about it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Caution {
    /// How far what a change does strays from what is predicted of it, as a part of it, of what this kitchen has
    /// brewed with before.
    pub strays: f64,
    /// The same of what is new to this kitchen.
    pub strays_where_new: f64,
    /// What a change must earn, in squared digits of a line that would be nice to meet: people who change five things
    /// learn from none.
    pub price: f64,
    /// What a digit counts on a line of which nothing was said, where one counts that would be nice to meet: such a
    /// line may stay as it is.
    pub unasked: f64,
}

impl Caution {
    /// As it is used (judgement, tried on invented kitchens).
    pub const USUAL: Self = Self {
        strays: 0.4,
        strays_where_new: 0.7,
        price: 1.0,
        unasked: 0.25,
    };
    /// For who knows what every change does.
    pub const NONE: Self = Self {
        strays: 0.0,
        strays_where_new: 0.0,
        price: 0.0,
        unasked: 0.0,
    };
}

/// A line that is to come nearer to a hope.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Aim {
    /// Which line of the outlook.
    pub line: usize,
    /// How much it matters: 1 would be nice, 2 matters, 3 is the point of the beer.
    pub weight: f64,
    /// Glass less hope in digits, drawn towards 0 as far as it is noise.
    pub gap: f64,
    /// The variance of that.
    pub variance: f64,
}

/// What one change does.
#[derive(Debug, Clone, PartialEq)]
pub struct Effect {
    /// What each line of the outlook moves by, in digits.
    pub moves: Vec<f64>,
    /// How far that strays, as a part of it.
    pub strays: f64,
    /// True of what this kitchen has not brewed with before.
    pub is_new: bool,
}

impl Effect {
    /// What a change does between two outlooks.
    #[must_use]
    pub fn between(
        before: &Outlook,
        after: &Outlook,
        change: &RecipeChange,
        (parent, familiar): (&Recipe, &Familiar),
        caution: Caution,
    ) -> Self {
        let both = before.digits.iter().zip(&after.digits);
        let is_new = familiar.is_new(change, parent);
        Self {
            moves: both.map(|(before, after)| after - before).collect(),
            strays: if is_new {
                caution.strays_where_new
            } else {
                caution.strays
            },
            is_new,
        }
    }
}

impl Familiar {
    /// True for what this kitchen has not brewed with, or not at such a temperature; the recipe itself was.
    #[must_use]
    pub fn is_new(&self, change: &RecipeChange, parent: &Recipe) -> bool {
        let own = Self::with([parent].into_iter());
        let knows = |id| self.ingredients.contains(id) || own.ingredients.contains(id);
        let beyond = |some: [Option<crate::profile::Bounds>; 2], celsius: f64| {
            some.iter().flatten().all(|it| it.missed_by(celsius) > 2.0)
        };
        match change {
            RecipeChange::SwapFermentable { by, .. } | RecipeChange::AddFermentable(by) => {
                !knows(&by.fermentable.identity.id)
            }
            RecipeChange::SwapHop { by, .. } | RecipeChange::AddHop(by) => {
                !knows(&by.hop.identity.id)
            }
            RecipeChange::AddOther(it) => !knows(&it.other.identity.id),
            RecipeChange::Yeast(it) => !knows(&it.yeast.identity.id),
            RecipeChange::Mash(to) => beyond([self.mash, own.mash], to.get()),
            RecipeChange::Fermentation(to) => {
                beyond([self.fermentation, own.fermentation], to.get())
            }
            RecipeChange::Amount { .. }
            | RecipeChange::LeaveOut(_)
            | RecipeChange::HopTime { .. }
            | RecipeChange::Carbonation(_)
            | RecipeChange::Volume(_) => false,
        }
    }
}

/// The expected squared gap over all aims after changes, each with its price, and what they move besides.
///
/// With a gap θ ~ N(g, v) and changes that do b·m with b ~ N(1, s²): E(θ + Σbm)² = (g + Σm)² + v + Σs²m². What v
/// adds is the same for every recipe and left out.
#[must_use]
pub(in crate::profile) fn loss(aims: &[Aim], effects: &[Effect], caution: Caution) -> f64 {
    let lines = effects.first().map_or(0, |it| it.moves.len());
    let mut all = caution.price * effects.len() as f64;
    all += aims
        .iter()
        .map(|aim| {
            let (moved, strays) = moved(effects, aim.line);
            aim.weight * ((aim.gap + moved).powi(2) + strays)
        })
        .sum::<f64>();
    for line in (0..lines).filter(|line| aims.iter().all(|it| it.line != *line)) {
        let (moved, strays) = moved(effects, line);
        let minded = (moved.abs() - NOBODY_MINDS).max(0.0);
        if minded > 0.0 {
            all += caution.unasked * (minded * minded + strays);
        }
    }
    all
}

/// What some changes together move a line by, and the variance of that.
fn moved(effects: &[Effect], line: usize) -> (f64, f64) {
    effects.iter().fold((0.0, 0.0), |sum, it| {
        let moves = it.moves.get(line).copied().unwrap_or(0.0);
        (sum.0 + moves, sum.1 + (it.strays * moves).powi(2))
    })
}

/// The loss of all effects if what they do simply adds, on the aims alone.
#[must_use]
pub(in crate::profile) fn loss_of_sum(aims: &[Aim], some: &[Effect], others: &[Effect]) -> f64 {
    let on = |aim: &Aim| {
        let (one, other) = (moved(some, aim.line), moved(others, aim.line));
        aim.weight * ((aim.gap + one.0 + other.0).powi(2) + one.1 + other.1)
    };
    aims.iter().map(on).sum()
}

/// The chance that the squared gap over all aims is smaller after the changes than before: counted in plays with
/// gaps from N(g, v) and changes that do b·m, b ~ N(1, s²) for each line.
#[must_use]
pub(in crate::profile) fn chance_to_shrink(aims: &[Aim], effects: &[Effect]) -> f64 {
    let mut dice = Dice::from_seed(SEED);
    let nearer = (0..PLAYS).filter(|_| {
        let change: f64 = aims
            .iter()
            .map(|aim| {
                let gap = aim.gap + aim.variance.sqrt() * dice.normal();
                let moved: f64 = effects
                    .iter()
                    .map(|it| {
                        let moves = it.moves.get(aim.line).copied().unwrap_or(0.0);
                        moves * (1.0 + it.strays * dice.normal())
                    })
                    .sum();
                aim.weight * ((gap + moved).powi(2) - gap.powi(2))
            })
            .sum();
        change < 0.0
    });
    nearer.count() as f64 / f64::from(PLAYS)
}
