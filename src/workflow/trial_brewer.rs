//! One invented brewer: a kitchen, hopes in it, what the glasses say, and what is brewed next.

use crate::domain::Day;
use crate::domain::Part;
use crate::domain::Recipe;
use crate::domain::RecipeChange;
use crate::profile::Against;
use crate::profile::Aim;
use crate::profile::Caution;
use crate::profile::Evidence;
use crate::profile::Familiar;
use crate::profile::FoundRecipes;
use crate::profile::Glass;
use crate::profile::MostChanges;
use crate::profile::Noise;
use crate::profile::Offset;
use crate::profile::Outlook;
use crate::profile::OutlookLine;
use crate::profile::Said;
use crate::profile::Search;
use crate::profile::SpreadEstimate;
use crate::profile::Tasted;
use crate::profile::Touch;
use crate::profile::Wanted;
use crate::profile::Wishes;
use crate::profile::Word;
use crate::profile::aims;
use crate::profile::hoped;
use crate::profile::judge;
use crate::profile::levers_within;
use crate::profile::posterior_present;
use crate::statistics::Dice;
use crate::statistics::Probability;
use crate::statistics::Sd;
use crate::workflow::next::LEAST_CHANCE;
use crate::workflow::trial_next::Manner;
use crate::workflow::trial_next::Play;
use crate::workflow::trial_truth::Truth;

/// How far a brew truly strays from another of the same recipe, digits, and how far it is taken to stray.
const BREWS_STRAY: f64 = 0.3;
const SPREAD: f64 = 0.7;
/// Scatter of a taster within a sitting and from day to day, digits; both measured on a dozen pairs.
const WITHIN: f64 = 0.9;
const DAYS: f64 = 0.7;
const MEASURED: f64 = 1.0 / 24.0;
/// How often a smell that is there is named.
const NAMED: f64 = 0.8;

/// One hope: its line, what it weighs, and what is hoped for.
pub(super) type Hope = (usize, f64, f64);

/// One brewer: a kitchen, a beginning, and hopes.
pub(super) struct Brewer<'a> {
    truth: Truth<'a>,
    pub(super) recipe: Recipe,
    hopes: Vec<Hope>,
}

/// What a brewer brews next: the recipe, the chance that was promised, and what is then known of each hope.
struct Brew {
    recipe: Recipe,
    chance: f64,
    known: Vec<(f64, f64)>,
}

impl<'a> Brewer<'a> {
    pub(super) const fn new(truth: Truth<'a>, recipe: Recipe, hopes: Vec<Hope>) -> Self {
        Self {
            truth,
            recipe,
            hopes,
        }
    }

    pub(super) fn distance(&self, recipe: &Recipe) -> f64 {
        let truth = self.truth.outlook(recipe);
        let squares = truth.map(|truth| {
            let each = self.hopes.iter();
            each.map(|(line, weight, hope)| weight * (truth.digits[*line] - hope).powi(2))
                .sum::<f64>()
        });
        squares.unwrap_or(f64::INFINITY).sqrt()
    }

    /// The nearest that anybody comes who knows everything, with three changes.
    pub(super) fn nearest(&self) -> f64 {
        let now = self.truth.outlook(&self.recipe);
        let aims = now.map_or_else(Vec::new, |now| {
            let aim = |(line, weight, hope): &Hope| Aim {
                line: *line,
                weight: *weight,
                gap: now.digits[*line] - hope,
                variance: 0.0,
            };
            self.hopes.iter().map(aim).collect()
        });
        let knows = |it: &Recipe| self.truth.outlook(it);
        let found = self.search(
            &self.recipe,
            &aims,
            (Caution::NONE, MostChanges::Three),
            knows,
        );
        let last = found.and_then(|it| it.proposals.into_iter().next_back());
        self.distance(last.as_ref().map_or(&self.recipe, |it| &it.recipe))
    }

    fn search(
        &self,
        recipe: &Recipe,
        aims: &[Aim],
        (caution, most): (Caution, MostChanges),
        outlook: impl Fn(&Recipe) -> Option<Outlook>,
    ) -> Option<FoundRecipes> {
        let wishes = Wishes {
            most,
            ..Wishes::default()
        };
        let search = Search {
            recipe,
            catalogue: self.truth.home.catalogue(),
            wishes: &wishes,
            familiar: &Familiar::default(),
            aims,
            caution,
            outlook,
        };
        search.run()
    }

    /// What so many glasses on as many days say of the hopes.
    pub(super) fn taste(&self, recipe: &Recipe, glasses: u32, dice: &mut Dice) -> Vec<Wanted> {
        let truth = self.truth.outlook(recipe);
        let mut wanted: Vec<Wanted> = Vec::new();
        let mut places = Vec::new();
        let mut family = Vec::new();
        for (line, weight, hope) in &self.hopes {
            let there = truth.as_ref().map_or(0.0, |it| it.digits[*line]);
            let found = self.answers(*line, there, glasses, dice);
            let tasted = Tasted::new(&found, taster(), Offset::NONE);
            let evidence = tasted.and_then(|it| Evidence::new(vec![it], Against::Intent(*hope)));
            if let Some(evidence) = evidence {
                places.push(wanted.len());
                family.push(evidence);
            }
            wanted.push(Wanted {
                line: *line,
                weight: *weight,
                hope: *hope,
                said: silence(glasses),
                foreknown: None,
            });
        }
        for (at, judged) in places.into_iter().zip(judge(&family)) {
            wanted[at].said = Said::Judged(judged);
        }
        wanted
    }

    /// The answers on a line; a smell is not always named, and then with 1 at least.
    fn answers(&self, line: usize, there: f64, glasses: u32, dice: &mut Dice) -> Vec<Glass> {
        let is_shelf = matches!(self.truth.lines.get(line), Some(OutlookLine::Shelf(..)));
        let first = Day::parse("2026-01-01").expect("it is a day of the calendar");
        let brewed = there + BREWS_STRAY * dice.normal();
        let mut answers = Vec::new();
        for glass in 0..glasses {
            let met = brewed + DAYS * dice.normal() + WITHIN * dice.normal();
            let is_named = there > 0.3 && met >= 0.5 && dice.share() < NAMED;
            if !is_shelf || is_named {
                let least = if is_shelf { 1.0 } else { 0.0 };
                answers.push(Glass {
                    day: first.days_later(u16::try_from(glass).unwrap_or(0)),
                    digits: met.round().clamp(least, 9.0),
                });
            }
        }
        answers
    }

    /// What is brewed next; none if nothing is to be changed.
    fn next(&self, recipe: &Recipe, wanted: &[Wanted], manner: Manner) -> Option<Brew> {
        if manner == Manner::Thumb {
            return self.by_thumb(recipe, wanted);
        }
        let mut aims = aims(wanted)?;
        if manner == Manner::Astray {
            for aim in &mut aims {
                aim.gap = -aim.gap;
            }
        }
        let most = if manner == Manner::Three {
            MostChanges::Three
        } else {
            MostChanges::One
        };
        let planned = |it: &Recipe| self.truth.home.outlook(it, self.truth.lines);
        let found = self.search(recipe, &aims, (Caution::USUAL, most), planned)?;
        let mut proposals = found.proposals.into_iter();
        let last = proposals.rfind(|it| it.chance >= LEAST_CHANCE)?;
        let known = aims.iter().map(|aim| {
            let moves = last.changes.iter();
            let moves = moves.map(|it| (it.effect.moves[aim.line], it.effect.strays));
            let sum = moves.fold((aim.gap, aim.variance), |sum, (moves, strays)| {
                (sum.0 + moves, sum.1 + (strays * moves).powi(2))
            });
            (sum.0, sum.1 + SPREAD * SPREAD)
        });
        Some(Brew {
            known: known.collect(),
            chance: last.chance,
            recipe: last.recipe,
        })
    }

    /// A quarter more or less of what the line farthest off hangs on most, by the prediction.
    fn by_thumb(&self, recipe: &Recipe, wanted: &[Wanted]) -> Option<Brew> {
        let gap = |it: &Wanted| it.believed().0;
        let farthest = wanted.iter();
        let farthest = farthest.max_by(|a, b| gap(a).abs().total_cmp(&gap(b).abs()))?;
        let planned = |it: &Recipe| {
            let outlook = self.truth.home.outlook(it, self.truth.lines);
            outlook.map(|it| it.digits[farthest.line])
        };
        let now = planned(recipe)?;
        let mut best: Option<(f64, Recipe)> = None;
        for lever in levers_within(recipe, &Wishes::default()) {
            let Touch::Part(part) = lever.touch else {
                continue;
            };
            let more = times(recipe, part, 1.25)?;
            let moves = planned(&more)? - now;
            let wants_more = gap(farthest) < 0.0;
            let chosen = if (moves > 0.0) == wants_more {
                more
            } else {
                times(recipe, part, 0.75)?
            };
            if best.as_ref().is_none_or(|it| moves.abs() > it.0) {
                best = Some((moves.abs(), chosen));
            }
        }
        best.map(|it| Brew {
            recipe: it.1,
            chance: 0.5,
            known: Vec::new(),
        })
    }

    /// Where a brewer ends, and for each change what was promised and whether it came true.
    pub(super) fn brewed(&self, play: &Play, manner: Manner, seed: u64) -> (f64, Vec<(f64, bool)>) {
        let mut dice = Dice::from_seed(seed);
        let mut recipe = self.recipe.clone();
        let (mut known, mut promised) = (Vec::new(), Vec::new());
        for _ in 1..play.batches {
            let mut wanted = self.taste(&recipe, play.glasses, &mut dice);
            for (it, known) in wanted.iter_mut().zip(&known) {
                it.foreknown = Some(*known);
            }
            if let Some(next) = self.next(&recipe, &wanted, manner) {
                let nearer = self.distance(&next.recipe) < self.distance(&recipe);
                promised.push((next.chance, nearer));
                (recipe, known) = (next.recipe, next.known);
            } else {
                // The same is brewed again, and its glasses count together.
                let again = |it: &Wanted| {
                    let (gap, variance) = it.believed();
                    (gap, variance + SPREAD * SPREAD)
                };
                known = wanted.iter().map(again).collect();
            }
        }
        (self.distance(&recipe), promised)
    }
}

/// A part of a recipe so many times.
fn times(recipe: &Recipe, part: Part, by: f64) -> Option<Recipe> {
    let amount = match part {
        Part::Fermentable(at) => recipe.fermentables.get(at)?.amount,
        Part::Hop(at) => recipe.hops.get(at)?.amount,
        Part::Other(at) => recipe.others.get(at)?.amount,
    };
    let to = crate::domain::Grams::new(amount.get() * by).ok()?;
    Some(RecipeChange::Amount { part, to }.apply(recipe))
}

/// What silence in so many glasses says of a smell that was hoped for.
fn silence(glasses: u32) -> Said {
    let word = Word {
        chance: Probability::new(0.7).unwrap_or(Probability::ONE),
        hit: crate::profile::HitRate::DEFAULT,
        false_alarm: crate::profile::FalseAlarmRate::DEFAULT,
    };
    if hoped(word, glasses) == crate::profile::Hoped::NotFound {
        Said::NotFound
    } else {
        Said::Silent(posterior_present(word, glasses))
    }
}

/// The noise of the taster as it was measured.
fn taster() -> Noise {
    let known = |it: f64| {
        let sd = Sd::new(it).expect("a scatter above 0 is one");
        SpreadEstimate::measured(sd, MEASURED).expect("a part of 1 is a variance")
    };
    Noise::DEFAULT
        .within(known(WITHIN))
        .between_days(known(DAYS))
}
