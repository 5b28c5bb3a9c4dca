//! Invented brewers whose kitchens answer otherwise than the catalogue says: how far proposals bring them to their hopes.

use crate::domain::Day;
use crate::domain::Part;
use crate::domain::Recipe;
use crate::domain::RecipeChange;
use crate::domain::Stage;
use crate::formats::read_recipe;
use crate::profile::Against;
use crate::profile::Aim;
use crate::profile::Caution;
use crate::profile::Driver;
use crate::profile::Evidence;
use crate::profile::Familiar;
use crate::profile::FoundRecipes;
use crate::profile::Glass;
use crate::profile::MostChanges;
use crate::profile::Noise;
use crate::profile::Offset;
use crate::profile::Outlook;
use crate::profile::OutlookLine;
use crate::profile::OutlookLines;
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
use crate::profile::is_sound;
use crate::profile::judge;
use crate::profile::levers_from;
use crate::profile::levers_within;
use crate::profile::posterior_present;
use crate::statistics::Dice;
use crate::statistics::Probability;
use crate::statistics::Sd;
use crate::storage::builtin_demo_files;
use crate::workflow::Clock;
use crate::workflow::Home;
use crate::workflow::next::LEAST_CHANCE;
use crate::workflow::trial_truth::Truth;

/// The recipes that are begun with, one of each kind of beer.
const KINDS: [&str; 5] = [
    "cold-shelf",
    "garden-chair",
    "hay-loft",
    "open-window",
    "oven-door-1",
];

/// How far a brew truly strays from another of the same recipe, digits, and how far it is taken to stray.
const BREWS_STRAY: f64 = 0.3;
const SPREAD: f64 = 0.7;
/// How a taster scatters within a sitting and from day to day, digits; both measured on a dozen pairs.
const WITHIN: f64 = 0.9;
const DAYS: f64 = 0.7;
const MEASURED: f64 = 1.0 / 24.0;
/// How often a smell that is there is named.
const NAMED: f64 = 0.8;
/// Hopes of a brewer.
const HOPES: usize = 10;
/// How far off they are: the weighed mean, and the farthest, digits.
const OFF: [f64; 2] = [1.2, 2.5];

/// How a brewer goes on from batch to batch.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Manner {
    /// The best single change.
    One,
    /// Up to three changes.
    Three,
    /// A quarter more or less of what the line farthest off hangs on most.
    Thumb,
}

/// Whether hopes differ from what is brewed first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hopes {
    /// They are what another recipe would give, in whole digits.
    Elsewhere,
    /// They are what this one gives: all gaps are noise.
    Met,
}

/// What is played.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Play {
    /// How many brewers.
    pub brewers: u64,
    /// From which seed on.
    pub seed: u64,
    /// How they go on.
    pub manner: Manner,
    /// Glasses for each batch, each on a day of its own.
    pub glasses: u32,
    /// Batches, the first one included.
    pub batches: usize,
    /// What they hope for.
    pub hopes: Hopes,
}

/// What came of some brewers.
#[derive(Debug, Clone, Default)]
pub struct Outcome {
    /// All.
    pub brewers: usize,
    /// Those who never changed anything.
    pub quiet: usize,
    /// For each, the part of the reachable distance that was cut.
    pub cut: Vec<f64>,
    /// For each who changed anything: the distance at the end less that at the beginning.
    pub moved: Vec<f64>,
    /// The same less where the rule of thumb ends in the same kitchen.
    pub beside_thumb: Vec<f64>,
    /// For each change: the chance that was promised, and whether the distance shrank.
    pub promised: Vec<(f64, bool)>,
}

impl Outcome {
    /// The middle of the cuts.
    #[must_use]
    pub fn median_cut(&self) -> f64 {
        let mut all = self.cut.clone();
        all.sort_by(f64::total_cmp);
        all.get(all.len() / 2).copied().unwrap_or(0.0)
    }

    /// The part of those who changed anything that ended nearer.
    #[must_use]
    pub fn better_than_nothing(&self) -> f64 {
        below_nothing(&self.moved)
    }

    /// The part of those that ended nearer than by the rule of thumb.
    #[must_use]
    pub fn better_than_thumb(&self) -> f64 {
        below_nothing(&self.beside_thumb)
    }

    /// The part of all who never changed anything.
    #[must_use]
    pub fn quiet_share(&self) -> f64 {
        self.quiet as f64 / self.brewers.max(1) as f64
    }

    /// The mean chance that was promised, and how often it came true.
    #[must_use]
    pub fn kept(&self) -> (f64, f64) {
        let number = self.promised.len().max(1) as f64;
        let chance: f64 = self.promised.iter().map(|it| it.0).sum();
        let kept = self.promised.iter().filter(|it| it.1).count();
        (chance / number, kept as f64 / number)
    }
}

fn below_nothing(all: &[f64]) -> f64 {
    let below = all.iter().filter(|it| **it < 0.0).count();
    below as f64 / all.len().max(1) as f64
}

/// One hope: its line, what it weighs, and what is hoped for.
type Hope = (usize, f64, f64);

/// One brewer: a kitchen, a beginning, and hopes.
struct Brewer<'a> {
    truth: Truth<'a>,
    recipe: Recipe,
    hopes: Vec<Hope>,
}

/// What a brewer brews next: the recipe, the chance that was promised, and what is then known of each hope.
struct Brew {
    recipe: Recipe,
    chance: f64,
    known: Vec<(f64, f64)>,
}

impl Brewer<'_> {
    fn distance(&self, recipe: &Recipe) -> f64 {
        let truth = self.truth.outlook(recipe);
        let squares = truth.map(|truth| {
            let each = self.hopes.iter();
            each.map(|(line, weight, hope)| weight * (truth.digits[*line] - hope).powi(2))
                .sum::<f64>()
        });
        squares.unwrap_or(f64::INFINITY).sqrt()
    }

    /// The nearest that anybody comes who knows everything, with three changes.
    fn nearest(&self) -> f64 {
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
        let last = last.map(|it| self.distance(&it.recipe));
        last.unwrap_or_else(|| self.distance(&self.recipe))
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
    fn taste(&self, recipe: &Recipe, glasses: u32, dice: &mut Dice) -> Vec<Wanted> {
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
        let aims = aims(wanted)?;
        let most = if manner == Manner::One {
            MostChanges::One
        } else {
            MostChanges::Three
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
    fn brewed(&self, play: &Play, manner: Manner, seed: u64) -> (f64, Vec<(f64, bool)>) {
        let mut dice = Dice::from_seed(seed);
        let mut recipe = self.recipe.clone();
        let (mut known, mut promised) = (Vec::new(), Vec::new());
        for _ in 1..play.batches {
            let mut wanted = self.taste(&recipe, play.glasses, &mut dice);
            for (it, known) in wanted.iter_mut().zip(&known) {
                it.foreknown = Some(*known);
            }
            match self.next(&recipe, &wanted, manner) {
                Some(next) => {
                    let nearer = self.distance(&next.recipe) < self.distance(&recipe);
                    promised.push((next.chance, nearer));
                    (recipe, known) = (next.recipe, next.known);
                }
                // The same is brewed again, and its glasses count together.
                None => {
                    let again = |it: &Wanted| {
                        let (gap, variance) = it.believed();
                        (gap, variance + SPREAD * SPREAD)
                    };
                    known = wanted.iter().map(again).collect();
                }
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
    use crate::profile::FalseAlarmRate;
    use crate::profile::HitRate;
    use crate::profile::Hoped;
    let word = Word {
        chance: Probability::new(0.7).unwrap_or(Probability::ONE),
        hit: HitRate::DEFAULT,
        false_alarm: FalseAlarmRate::DEFAULT,
    };
    match hoped(word, glasses) {
        Hoped::NotFound => Said::NotFound,
        Hoped::NotMentionedYet => Said::Silent(posterior_present(word, glasses)),
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

/// Some brewers who go on in a manner.
#[must_use]
pub fn play(home: &Home, play: Play) -> Outcome {
    let lines = home.outlook_lines();
    let mut outcome = Outcome::default();
    for at in 0..play.brewers {
        let mut dice = Dice::from_seed(play.seed + at);
        let kind = KINDS[usize::try_from(at % 5).unwrap_or(0)];
        let Some(brewer) = brewer(home, &lines, kind, play.hopes, &mut dice) else {
            continue;
        };
        let seed = dice.seed();
        let begun = brewer.distance(&brewer.recipe);
        let (ended, promised) = brewer.brewed(&play, play.manner, seed);
        outcome.brewers += 1;
        if promised.is_empty() {
            outcome.quiet += 1;
        } else {
            outcome.moved.push(ended - begun);
        }
        if play.hopes == Hopes::Elsewhere {
            outcome
                .cut
                .push((begun - ended) / (begun - brewer.nearest()).max(1e-9));
            if !promised.is_empty() {
                let (thumb, _) = brewer.brewed(&play, Manner::Thumb, seed);
                outcome.beside_thumb.push(ended - thumb);
            }
        }
        outcome.promised.extend(promised);
    }
    outcome
}

fn recipe_called(home: &Home, name: &str) -> Recipe {
    let files = builtin_demo_files().iter();
    let mut files = files.filter(|it| it.0.starts_with(name));
    let text = files
        .next()
        .expect("the demonstration has one of each kind")
        .1;
    read_recipe(name, text, home.catalogue(), home.wheel()).expect("a test of its own reads it")
}

/// A kitchen and what is hoped for in it, far enough off that something is to be done.
fn brewer<'a>(
    home: &'a Home,
    lines: &'a OutlookLines,
    kind: &str,
    hopes: Hopes,
    dice: &mut Dice,
) -> Option<Brewer<'a>> {
    let recipe = recipe_called(home, kind);
    let drawn = (0..100).find_map(|_| {
        let truth = Truth::draw(home, lines, dice);
        let now = truth.outlook(&recipe)?;
        let there = match hopes {
            Hopes::Met => now.clone(),
            Hopes::Elsewhere => truth.outlook(&elsewhere(home, &recipe, dice)?)?,
        };
        let hopes_there = drawn_hopes([&now, &there], hopes, dice);
        let weights: f64 = hopes_there.iter().map(|it| it.1).sum();
        let off = hopes_there.iter().map(|it| (now.digits[it.0] - it.2).abs());
        let farthest = off.fold(0.0, f64::max);
        let brewer = Brewer {
            truth,
            recipe: recipe.clone(),
            hopes: hopes_there,
        };
        let mean = brewer.distance(&recipe) / weights.sqrt();
        let is_far = mean >= OFF[0] && farthest >= OFF[1];
        (is_far || hopes == Hopes::Met).then_some(brewer)
    });
    drawn
}

/// Hopes for what is to change first of all, and then for what is there.
fn drawn_hopes([now, there]: [&Outlook; 2], hopes: Hopes, dice: &mut Dice) -> Vec<Hope> {
    let is_there = |it: &usize| now.digits[*it] >= 1.0 || there.digits[*it] >= 1.0;
    let mut order: Vec<usize> = (0..now.digits.len()).filter(is_there).collect();
    dice.shuffle(&mut order);
    let changes = |it: &usize| (there.digits[*it] - now.digits[*it]).abs() >= 0.5;
    order.sort_by_key(|it| !changes(it));
    let chosen = order.into_iter().take(HOPES);
    let hope = |line: usize| {
        let value = there.digits[line];
        match hopes {
            Hopes::Met => value,
            Hopes::Elsewhere => value.round(),
        }
    };
    chosen
        .map(|line| (line, f64::from(dice.whole(1, 3)), hope(line)))
        .collect()
}

/// The recipe with two or three changes from anywhere, about as strong.
fn elsewhere(home: &Home, recipe: &Recipe, dice: &mut Dice) -> Option<Recipe> {
    let lines = home.outlook_lines();
    let before = home.outlook(recipe, &lines)?;
    let wishes = Wishes::default();
    let within = levers_within(recipe, &wishes);
    let from = levers_from(home.catalogue(), recipe, &wishes);
    (0..200).find_map(|_| {
        let number = dice.whole(2, 3) as usize;
        let mut changes: Vec<RecipeChange> = Vec::new();
        let mut touched: Vec<&Touch> = Vec::new();
        while changes.len() < number {
            // More often what is there than something new.
            let levers = if dice.share() < 0.6 { &within } else { &from };
            let at = dice.whole(0, u32::try_from(levers.len()).ok()? - 1);
            let lever = levers.get(at as usize)?;
            if !touched.contains(&&lever.touch) {
                let step = dice.whole(0, u32::try_from(lever.steps.len()).ok()? - 1);
                touched.push(&lever.touch);
                changes.push(lever.steps.get(step as usize)?.clone());
            }
        }
        let there = RecipeChange::apply_all(&changes, recipe);
        let after = home.outlook(&there, &lines)?;
        let strength = |it: &Outlook| it.figure(Driver::Alcohol);
        let as_strong = (strength(&after) - strength(&before)).abs() < 1.5;
        (as_strong && is_sound(&there, &after, recipe, &before)).then_some(there)
    })
}

/// A home for invented brewers.
///
/// # Panics
/// The built-in wheel or catalogue is not sound.
#[must_use]
pub fn kitchen() -> Home {
    Home::in_memory(Clock::system(), Dice::from_seed(1)).expect("what is built in is sound")
}

/// Searches as brewers ask for them, each ready to be run: what the time of a search is measured on.
#[must_use]
pub fn searches(home: &Home, number: u64) -> Vec<Box<dyn Fn() -> usize + '_>> {
    let mut all: Vec<Box<dyn Fn() -> usize + '_>> = Vec::new();
    for at in 0..number {
        let lines = home.outlook_lines();
        let mut dice = Dice::from_seed(at);
        let kind = KINDS[usize::try_from(at % 5).unwrap_or(0)];
        let asked = brewer(home, &lines, kind, Hopes::Elsewhere, &mut dice).and_then(|it| {
            let wanted = it.taste(&it.recipe, 3, &mut dice);
            Some((it.recipe.clone(), aims(&wanted)?))
        });
        if let Some((recipe, aims)) = asked {
            all.push(Box::new(move || {
                let search = Search {
                    recipe: &recipe,
                    catalogue: home.catalogue(),
                    wishes: &Wishes::default(),
                    familiar: &Familiar::default(),
                    aims: &aims,
                    caution: Caution::USUAL,
                    outlook: |it: &Recipe| home.outlook(it, &lines),
                };
                search.run().map_or(0, |it| it.proposals.len())
            }));
        }
    }
    all
}

/// The stage at which a smell is met first, for the truth.
pub(super) const STAGES: [Stage; 2] = [Stage::Aroma, Stage::Flavour];
