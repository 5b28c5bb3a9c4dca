//! Invented brewers whose kitchens answer otherwise than the catalogue says: how far proposals bring them to their hopes.

use crate::domain::Recipe;
use crate::profile::Caution;
use crate::profile::Familiar;
use crate::profile::Search;
use crate::profile::Wishes;
use crate::profile::aims;
use crate::statistics::Dice;
use crate::workflow::Clock;
use crate::workflow::Home;
use crate::workflow::trial_beginning::brewer;

/// How a brewer goes on from batch to batch.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Manner {
    /// The best single change.
    One,
    /// Up to three changes.
    Three,
    /// A quarter more or less of what the line farthest off hangs on most.
    Thumb,
    /// The best single change for gaps taken the wrong way round: a planted fault.
    Astray,
}

/// Whether hopes differ from what is brewed first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hopes {
    /// They are what another recipe would give, in whole digits.
    Elsewhere,
    /// They are what this one gives: all gaps are noise.
    Met,
}

/// The recipes that are begun with, one of each kind of beer.
const KINDS: [&str; 5] = [
    "cold-shelf",
    "garden-chair",
    "hay-loft",
    "open-window",
    "oven-door-1",
];

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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statistics::Count;
    use crate::statistics::Probability;
    use crate::statistics::binomial_lower_tail;

    /// So rarely does a check fail by chance alone.
    const RARE: f64 = 1e-4;

    /// True where so many of all are as many as a part of all would be, but for chance.
    fn is_as_often(hits: usize, of: usize, part: f64) -> bool {
        let [hits, of] = [hits, of].map(|it| u32::try_from(it).unwrap());
        let count = Count::new(hits, of).unwrap();
        binomial_lower_tail(count, Probability::new(part).unwrap()).get() > RARE
    }

    fn brewers(manner: Manner, hopes: Hopes) -> Outcome {
        let play = Play {
            brewers: 20,
            seed: 10_000,
            manner,
            glasses: 3,
            batches: 3,
            hopes,
        };
        super::play(&kitchen(), play)
    }

    fn nearer(it: &[f64]) -> usize {
        it.iter().filter(|it| **it < 0.0).count()
    }

    #[test]
    fn invented_brewers_end_nearer_than_by_changing_nothing_and_than_by_the_rule_of_thumb() {
        let it = brewers(Manner::One, Hopes::Elsewhere);
        assert!(it.moved.len() >= 10, "{it:?}");
        assert!(
            is_as_often(nearer(&it.moved), it.moved.len(), 0.95),
            "{it:?}"
        );
        let thumb = &it.beside_thumb;
        assert!(is_as_often(nearer(thumb), thumb.len(), 0.8), "{it:?}");
        // Half of all brewers cut as much as the middle of them at least.
        let far = it.cut.iter().filter(|it| **it >= 0.55).count();
        assert!(is_as_often(far, it.cut.len(), 0.5), "{it:?}");
    }

    #[test]
    fn invented_brewers_who_miss_nothing_change_nothing() {
        let it = brewers(Manner::One, Hopes::Met);
        assert!(is_as_often(it.quiet, it.brewers, 0.9), "{it:?}");
    }

    #[test]
    fn brewers_who_take_every_gap_the_wrong_way_round_are_found_out() {
        let it = brewers(Manner::Astray, Hopes::Elsewhere);
        assert!(it.moved.len() >= 10, "{it:?}");
        assert!(
            !is_as_often(nearer(&it.moved), it.moved.len(), 0.95),
            "{it:?}"
        );
    }
}
