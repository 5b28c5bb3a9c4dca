//! A proposal of the search as it is told: changes in words, what is expected of every line, and how to check it.

use crate::domain::Name;
use crate::domain::OtherKind;
use crate::domain::PromisedChange;
use crate::domain::RecipeChange;
use crate::profile::Driver;
use crate::profile::Effect;
use crate::profile::Noise;
use crate::profile::Outlook;
use crate::profile::OutlookLine;
use crate::profile::Proposal;
use crate::profile::amounts;
use crate::workflow::FigureMove;
use crate::workflow::NextChange;
use crate::workflow::NextProposal;
use crate::workflow::WorkflowError;
use crate::workflow::change_words;
use crate::workflow::compared_lines::shelf_label;
use crate::workflow::learning::shelf_id;
use crate::workflow::next::Ground;
use crate::workflow::next::line_of;
use crate::workflow::next_proof::ProofTable;
use crate::workflow::next_proof::proofs;
use crate::workflow::next_split::Scatters;
use crate::workflow::next_split::split;
use crate::workflow::taster_noise::TasterNoise;

/// From the middle of a normal distribution to its tenths, in standard deviations.
const TO_A_TENTH: f64 = 1.281_551_565_544_600_4;
/// What moves by less nobody needs to be told, digits.
const TOLD: f64 = 0.5;
/// The variance of what is in the glass on a line that nobody aimed at or rated, digits squared (judgement).
const UNRATED: f64 = 1.5;
/// Friends at a table where nobody said how many.
const FRIENDS: u32 = 4;
/// Glasses by which a split is weighed against two brews.
const GLASSES: f64 = 3.0;

/// The physical figures that are told: key, words, unit, decimals.
const FIGURES: [(Driver, &str, &str, &str, usize); 4] = [
    (Driver::Alcohol, "alcohol", "Alcohol", "% vol", 1),
    (Driver::Bitterness, "bitterness", "Bitterness", "IBU", 0),
    (Driver::Colour, "colour", "Colour", "EBC", 0),
    (Driver::Gas, "carbonation", "Carbonation", "vol", 1),
];

impl Ground<'_> {
    pub(super) fn told(
        &self,
        found: &Proposal,
        before: &Outlook,
    ) -> Result<NextProposal, WorkflowError> {
        let effects: Vec<&Effect> = found.changes.iter().map(|it| &it.effect).collect();
        let moved = self.moved(&effects, before, &found.outlook);
        let (hopes, besides): (Vec<_>, Vec<_>) =
            moved.into_iter().partition(|it| it.hoped.is_some());
        let noise = self.home.taster_noise()?;
        let apart = hopes.iter().chain(&besides);
        let apart: Vec<(PromisedChange, f64)> = apart
            .map(|it| (it.clone(), self.scatter(&noise, &it.id).0))
            .collect();
        let table = ProofTable {
            friends: self.friends.unwrap_or(FRIENDS).max(1),
            abv: found
                .outlook
                .figure(Driver::Alcohol)
                .max(before.figure(Driver::Alcohol)),
        };
        let changes: Vec<&RecipeChange> = found.changes.iter().map(|it| &it.change).collect();
        Ok(NextProposal {
            proofs: proofs(&apart, self.recipe, table),
            split: split(&changes, self.recipe, self.scatters(&noise)),
            changes: found
                .changes
                .iter()
                .map(|it| self.change(&it.change, &it.effect))
                .collect(),
            figures: figure_moves(before, &found.outlook),
            chance: found.chance,
            gap: self.gaps(&effects),
            cost: self.costs(found),
            recipe: found.recipe.clone(),
            hopes,
            besides,
        })
    }

    fn change(&self, change: &RecipeChange, effect: &Effect) -> NextChange {
        let mut brings: Vec<(bool, f64, String, f64)> = self
            .it
            .hopes()
            .filter_map(|line| {
                let at = line_of(&line.about, self.lines)?;
                let aim = self.aims.iter().find(|it| it.line == at)?;
                let moves = *effect.moves.get(at)?;
                let nearer = aim.gap.powi(2) - (aim.gap + moves).powi(2);
                (moves.abs() >= TOLD / 2.0 && nearer > 0.0).then(|| {
                    let is_missed = self.missed.contains(&line.id);
                    (is_missed, aim.weight * nearer, line.label.clone(), moves)
                })
            })
            .collect();
        // What was worth changing is the reason; what comes nearer by the way stands behind it.
        brings.sort_by(|a, b| b.0.cmp(&a.0).then(b.1.total_cmp(&a.1)));
        NextChange {
            words: change_words(self.recipe, change),
            brings: brings.into_iter().take(3).map(|it| (it.2, it.3)).collect(),
            is_new: effect.is_new,
            is_fruit: matches!(change, RecipeChange::AddOther(it) if it.other.kind == OtherKind::Fruit),
            change: change.clone(),
        }
    }

    /// Every hope, and every other line that moves: what is there, and what is expected. What was worth changing
    /// stands first.
    fn moved(&self, effects: &[&Effect], before: &Outlook, after: &Outlook) -> Vec<PromisedChange> {
        let mut all: Vec<(bool, f64, PromisedChange)> = Vec::new();
        for at in 0..self.lines.count() {
            let moves = after.digits[at] - before.digits[at];
            let strays: f64 = effects
                .iter()
                .map(|it| (it.strays * it.moves[at]).powi(2))
                .sum();
            if let Some(told) = self.aimed(at, moves, strays) {
                all.push((self.missed.contains(&told.id), moves.abs(), told));
            } else if moves.abs() >= TOLD {
                all.extend(
                    self.beside(at, moves, strays, before.digits[at])
                        .map(|it| (false, moves.abs(), it)),
                );
            }
        }
        all.sort_by(|a, b| b.0.cmp(&a.0).then(b.1.total_cmp(&a.1)));
        all.into_iter().map(|it| it.2).collect()
    }

    /// A hope: from what is believed of it now.
    fn aimed(&self, at: usize, moves: f64, strays: f64) -> Option<PromisedChange> {
        let aim = self.aims.iter().find(|it| it.line == at)?;
        let mut hopes = self.it.hopes();
        let line = hopes.find(|it| line_of(&it.about, self.lines) == Some(at))?;
        let hoped = line.hoped?;
        let now = hoped + aim.gap;
        let range = TO_A_TENTH * (aim.variance + strays).sqrt();
        Some(promised(
            (line.id.clone(), line.label.clone()),
            Some(hoped),
            now,
            moves,
            range,
        ))
    }

    /// A line that nobody aimed at: from what was rated, or else what was predicted.
    fn beside(&self, at: usize, moves: f64, strays: f64, predicted: f64) -> Option<PromisedChange> {
        let lines = self.it.lines.iter().chain(&self.it.also_foreseen);
        let mut rated = lines.filter(|it| line_of(&it.about, self.lines) == Some(at));
        let now = rated.find_map(|it| it.mean).unwrap_or(predicted);
        let named = match self.lines.get(at)? {
            OutlookLine::Scale(scale) => (scale.id.to_owned(), scale.word.to_owned()),
            OutlookLine::Shelf(shelf, stage) => {
                let label = shelf_label(self.home.wheel(), shelf, stage, &[]);
                (shelf_id(shelf, stage), label)
            }
        };
        let range = TO_A_TENTH * (UNRATED + strays).sqrt();
        Some(promised(named, None, now, moves, range))
    }

    /// The root mean square gap to the hopes now and then, by what they matter.
    fn gaps(&self, effects: &[&Effect]) -> (f64, f64) {
        let weights: f64 = self.aims.iter().map(|it| it.weight).sum();
        let of = |times: f64| {
            let squares = self.aims.iter().map(|aim| {
                let moved: f64 = effects.iter().map(|it| it.moves[aim.line]).sum();
                aim.weight * (aim.gap + times * moved).powi(2)
            });
            (squares.sum::<f64>() / weights.max(1e-9)).sqrt()
        };
        (of(0.0), of(1.0))
    }

    fn costs(&self, found: &Proposal) -> Option<(f64, f64)> {
        let known = |recipe| amounts(recipe).all(|it| self.wishes.has_price(it.0));
        let of = |recipe| self.wishes.cost_of(recipe);
        // A sum that leaves something out would tell the dearer recipe to be the cheaper one.
        let both = known(self.recipe) && known(&found.recipe);
        both.then(|| (of(self.recipe), of(&found.recipe)))
    }

    /// The scatter of one answer within a sitting and from day to day on a line, over those who tasted.
    fn scatter(&self, noise: &TasterNoise, id: &str) -> (f64, f64) {
        let mut names: Vec<&Name> = self
            .it
            .counting_notes()
            .iter()
            .map(|it| &it.taster)
            .collect();
        names.dedup();
        let scale = crate::domain::Scale::from_id(id).ok();
        let of = |name: &Name| match scale {
            Some(scale) => noise.on_scale(name, scale),
            None => noise.on_shelf(name),
        };
        let all: Vec<Noise> = names.into_iter().map(of).collect();
        let number = all.len().max(1) as f64;
        let mean = |of: &dyn Fn(&Noise) -> f64| all.iter().map(of).sum::<f64>() / number;
        (
            mean(&|it| it.glass_variance().value()).sqrt(),
            mean(&|it| it.day_variance().value()).sqrt(),
        )
    }

    fn scatters(&self, noise: &TasterNoise) -> Scatters {
        let (within, days) = self.scatter(noise, "");
        Scatters {
            brews: self.spread,
            within: within / GLASSES.sqrt(),
            days: days / GLASSES.sqrt(),
        }
    }
}

fn promised(
    (id, label): (String, String),
    hoped: Option<f64>,
    now: f64,
    moves: f64,
    range: f64,
) -> PromisedChange {
    let expected = now + moves;
    PromisedChange {
        id,
        label,
        now,
        hoped,
        low: expected - range,
        expected,
        high: expected + range,
    }
}

fn figure_moves(before: &Outlook, after: &Outlook) -> Vec<FigureMove> {
    let all = FIGURES
        .iter()
        .map(|(driver, id, word, unit, decimals)| FigureMove {
            id,
            word,
            unit,
            decimals: *decimals,
            before: before.figure(*driver),
            after: after.figure(*driver),
        });
    all.collect()
}
