//! The search for the next recipe: the changes after which glass and hopes should lie nearest together.

use crate::domain::Catalogue;
use crate::domain::Recipe;
use crate::domain::RecipeChange;
use crate::profile::Familiar;
use crate::profile::Outlook;
use crate::profile::Unmet;
use crate::profile::Wishes;
use crate::profile::recipe_additions::levers_from;
use crate::profile::recipe_levers::Lever;
use crate::profile::recipe_levers::Touch;
use crate::profile::recipe_levers::finer;
use crate::profile::recipe_levers::levers_within;
use crate::profile::recipe_limits::is_sound;
use crate::profile::recipe_limits::unmet;
use crate::profile::recipe_loss::Aim;
use crate::profile::recipe_loss::Caution;
use crate::profile::recipe_loss::Effect;
use crate::profile::recipe_loss::chance_to_shrink;
use crate::profile::recipe_loss::loss;
use crate::profile::recipe_loss::loss_of_sum;

/// So many things from the catalogue are tried in all their doses, the most promising of all.
const SCOUTED: usize = 14;
/// So many combinations are reckoned out, and so many of these looked at more closely.
const RECKONED: usize = 16;
const POLISHED: usize = 3;
/// So many of the best single changes are joined with every other.
const JOINED: usize = 60;
/// Parts of an amount tried around a step, and how often all are.
const AROUND: [f64; 4] = [0.7, 0.87, 1.15, 1.4];
const ROUNDS: usize = 2;

/// What the search is asked.
pub struct Search<'a, F> {
    /// The recipe that was brewed.
    pub recipe: &'a Recipe,
    /// What there is to brew with.
    pub catalogue: &'a Catalogue,
    /// What else is wanted.
    pub wishes: &'a Wishes,
    /// What this kitchen has brewed.
    pub familiar: &'a Familiar,
    /// The lines that are to come nearer to a hope.
    pub aims: &'a [Aim],
    /// How cautiously.
    pub caution: Caution,
    /// What a recipe comes to; none for what cannot be brewed.
    pub outlook: F,
}

/// One change of a proposal and what it does.
#[derive(Debug, Clone, PartialEq)]
pub struct ProposedChange {
    /// The change.
    pub change: RecipeChange,
    /// What it moves.
    pub effect: Effect,
}

/// A recipe that is proposed.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposal {
    /// What is changed; places count in the recipe that was brewed.
    pub changes: Vec<ProposedChange>,
    /// The recipe that comes out.
    pub recipe: Recipe,
    /// What it comes to.
    pub outlook: Outlook,
    /// The expected squared gap to all hopes, with the price of the changes.
    pub loss: f64,
    /// The chance that the gap to the hopes really shrinks.
    pub chance: f64,
}

/// What a search found.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// What the recipe comes to as it is.
    pub before: Outlook,
    /// The expected squared gap to all hopes as it is.
    pub loss: f64,
    /// The best with one, two and three changes, as far as each change more is worth it.
    pub proposals: Vec<Proposal>,
    /// The wishes that cannot be met together by so few changes; empty where there are proposals.
    pub unmet: Vec<Unmet>,
}

/// A recipe while it is searched for.
#[derive(Debug, Clone)]
struct Candidate {
    changes: Vec<(Touch, RecipeChange)>,
    effects: Vec<Effect>,
    outlook: Outlook,
    unmet: Vec<Unmet>,
    loss: f64,
}

/// An unmet wish weighs more than any taste.
const UNMET: f64 = 10_000.0;

impl<F: Fn(&Recipe) -> Option<Outlook>> Search<'_, F> {
    /// The best proposals; none where the recipe cannot be reckoned at all.
    #[must_use]
    pub fn run(&self) -> Option<Found> {
        let before = (self.outlook)(self.recipe)?;
        let as_it_is = self.as_it_is(&before);
        let mut singles = self.singles(&before);
        self.polish(&mut singles, &before);
        let mut best = vec![singles.first().cloned()];
        let mut last: Vec<Candidate> = singles.iter().take(JOINED).cloned().collect();
        for _ in 1..self.wishes.most.number() {
            let mut joined = self.joined(&last, &singles, &before);
            self.polish(&mut joined, &before);
            best.push(joined.first().cloned());
            last = joined.into_iter().take(POLISHED).collect();
        }
        let best: Vec<Candidate> = best.into_iter().flatten().collect();
        let mut proposals = Vec::new();
        let mut least = as_it_is.loss;
        for it in best.iter().filter(|it| it.unmet.is_empty()) {
            if it.loss < least {
                least = it.loss;
                proposals.push(self.proposal(it));
            }
        }
        let unmet = nearest_unmet(&proposals, &as_it_is, &best);
        Some(Found {
            loss: as_it_is.loss,
            before,
            proposals,
            unmet,
        })
    }

    fn as_it_is(&self, before: &Outlook) -> Candidate {
        let unmet = unmet(self.recipe, before, self.wishes);
        Candidate {
            changes: Vec::new(),
            effects: Vec::new(),
            outlook: before.clone(),
            loss: loss(self.aims, &[], self.caution) + missed(&unmet),
            unmet,
        }
    }

    /// Every single change, the best in front.
    fn singles(&self, before: &Outlook) -> Vec<Candidate> {
        let mut found: Vec<Candidate> = Vec::new();
        for lever in levers_within(self.recipe, self.wishes) {
            found.extend(
                lever
                    .steps
                    .iter()
                    .filter_map(|it| self.single(&lever, it, before)),
            );
        }
        let from = levers_from(self.catalogue, self.recipe, self.wishes);
        let mut scouts: Vec<(Candidate, &Lever, usize)> = from
            .iter()
            .filter_map(|lever| {
                let middle = lever.steps.len() / 2;
                let step = lever.steps.get(middle)?;
                Some((self.single(lever, step, before)?, lever, middle))
            })
            .collect();
        scouts.sort_by(|a, b| a.0.loss.total_cmp(&b.0.loss));
        for (candidate, lever, middle) in scouts.into_iter().take(SCOUTED) {
            let rest = lever.steps.iter().enumerate();
            let rest = rest.filter(|(at, _)| *at != middle);
            found.extend(rest.filter_map(|(_, it)| self.single(lever, it, before)));
            found.push(candidate);
        }
        found.sort_by(|a, b| a.loss.total_cmp(&b.loss));
        found
    }

    fn single(&self, lever: &Lever, step: &RecipeChange, before: &Outlook) -> Option<Candidate> {
        self.candidate(vec![(lever.touch.clone(), step.clone())], before)
    }

    /// A recipe with these changes, each one's part in what they do being what it adds to those before it.
    fn candidate(
        &self,
        changes: Vec<(Touch, RecipeChange)>,
        before: &Outlook,
    ) -> Option<Candidate> {
        let all: Vec<RecipeChange> = changes.iter().map(|it| it.1.clone()).collect();
        let mut effects: Vec<Effect> = Vec::new();
        let mut last = before.clone();
        let mut recipe = None;
        for (at, change) in all.iter().enumerate() {
            let changed = RecipeChange::apply_all(&all[..=at], self.recipe);
            let outlook = (self.outlook)(&changed)?;
            recipe = Some(changed);
            let known = (self.recipe, self.familiar);
            effects.push(Effect::between(
                &last,
                &outlook,
                change,
                known,
                self.caution,
            ));
            last = outlook;
        }
        let recipe = recipe.filter(|it| is_sound(it, &last, self.recipe, before))?;
        let unmet = unmet(&recipe, &last, self.wishes);
        Some(Candidate {
            loss: loss(self.aims, &effects, self.caution) + missed(&unmet),
            changes,
            effects,
            outlook: last,
            unmet,
        })
    }

    /// Candidates with one change more, the best in front: first by the sum of what their parts do, then the most
    /// promising reckoned out.
    fn joined(
        &self,
        some: &[Candidate],
        singles: &[Candidate],
        before: &Outlook,
    ) -> Vec<Candidate> {
        let mut sums: Vec<(f64, usize, usize)> = Vec::new();
        for (one, candidate) in some.iter().enumerate() {
            for (other, single) in singles.iter().enumerate() {
                let touched = |it: &(Touch, RecipeChange)| it.0 == single.changes[0].0;
                if !candidate.changes.iter().any(touched) {
                    let unmet = missed(&candidate.unmet).min(missed(&single.unmet));
                    let sum = loss_of_sum(self.aims, &candidate.effects, &single.effects);
                    sums.push((sum + unmet, one, other));
                }
            }
        }
        sums.sort_by(|a, b| a.0.total_cmp(&b.0).then((a.1, a.2).cmp(&(b.1, b.2))));
        let mut found: Vec<Candidate> = Vec::new();
        for (_, one, other) in sums.into_iter().take(RECKONED) {
            let changes = [some[one].changes.clone(), singles[other].changes.clone()].concat();
            let is_there = found.iter().any(|it| is_same(&it.changes, &changes));
            if !is_there {
                found.extend(self.candidate(changes, before));
            }
        }
        found.sort_by(|a, b| a.loss.total_cmp(&b.loss));
        found
    }

    /// Looks around the best few, one change at a time, and puts the best in front again.
    fn polish(&self, found: &mut [Candidate], before: &Outlook) {
        for it in found.iter_mut().take(POLISHED) {
            for _ in 0..ROUNDS {
                for at in 0..it.changes.len() {
                    for times in AROUND {
                        let (touch, change) = &it.changes[at];
                        let Some(change) = finer(change, self.recipe, self.wishes, times) else {
                            break;
                        };
                        let mut changes = it.changes.clone();
                        changes[at] = (touch.clone(), change);
                        let better = self.candidate(changes, before);
                        if let Some(better) = better.filter(|better| better.loss < it.loss) {
                            *it = better;
                        }
                    }
                }
            }
        }
        found.sort_by(|a, b| a.loss.total_cmp(&b.loss));
    }

    fn proposal(&self, it: &Candidate) -> Proposal {
        let all: Vec<RecipeChange> = it.changes.iter().map(|it| it.1.clone()).collect();
        let changes = it.changes.iter().zip(&it.effects);
        Proposal {
            recipe: RecipeChange::apply_all(&all, self.recipe),
            chance: chance_to_shrink(self.aims, &it.effects),
            changes: changes
                .map(|((_, change), effect)| ProposedChange {
                    change: change.clone(),
                    effect: effect.clone(),
                })
                .collect(),
            outlook: it.outlook.clone(),
            loss: it.loss,
        }
    }
}

/// What stays unmet at best, where nothing can be proposed.
fn nearest_unmet(proposals: &[Proposal], as_it_is: &Candidate, best: &[Candidate]) -> Vec<Unmet> {
    if !proposals.is_empty() || as_it_is.unmet.is_empty() {
        return Vec::new();
    }
    let all = best.iter().chain([as_it_is]);
    let nearest = all.min_by(|a, b| missed(&a.unmet).total_cmp(&missed(&b.unmet)));
    nearest.map_or_else(Vec::new, |it| it.unmet.clone())
}

fn missed(unmet: &[Unmet]) -> f64 {
    unmet.iter().map(|it| UNMET * (1.0 + it.size())).sum()
}

/// True for the same changes in whatever order.
fn is_same(some: &[(Touch, RecipeChange)], others: &[(Touch, RecipeChange)]) -> bool {
    some.len() == others.len() && some.iter().all(|it| others.contains(it))
}
