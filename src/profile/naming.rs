//! What a prediction learns of how often one taster names a smell: the move of the odds, shelf by shelf.

use crate::statistics::Probability;

/// How far all odds of a taster lie from the predicted ones, before any is known: SD of the logit (judgement).
const COMMON_SD: f64 = 1.0;

/// How the odds of shelves differ from each other, before any is known: SD of the logit (judgement), as if this
/// many shelves had shown it.
const LINE_SD: f64 = 0.5;
const LINE_SD_COUNTS: f64 = 4.0;

/// A chance nearer to 0 or 1 than this says nothing of a taster who does otherwise.
const LEAST_CHANCE: f64 = 0.02;

/// The most rounds of Newton's method and of the spread.
const ROUNDS: usize = 60;
/// The step of a logit at which they have arrived, and at which they have where nearly the same was learnt before:
/// a chance moves by a quarter of it at most.
const ARRIVED: f64 = 1e-7;
const NEARLY: f64 = 1e-4;

/// Whether one shelf was named in the tastings of one batch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Named {
    /// Which batch, by a number of the caller's.
    pub batch: usize,
    /// Which shelf at which stage, by a number of the caller's.
    pub line: usize,
    /// The chance that was predicted.
    pub chance: f64,
    /// The share of the tastings of this batch in which it was named.
    pub share: f64,
}

/// What was learnt of how often one taster names smells.
///
/// logit(π) = logit(predicted) + a + b, with a ~ N(0, 1) and for each shelf b ~ N(0, τ²): the posterior mode by
/// Newton's method, τ² by the EM rule of Laplace's approximation (Breslow & Clayton 1993, J. Am. Statist. Assoc.
/// 88:9-25). On a talkative day more of everything is named: what a batch tells of `a` is divided by how much
/// the batches vary more than shelves by themselves would.
#[derive(Debug, Clone, PartialEq)]
pub struct Naming {
    common: f64,
    common_variance: f64,
    between: f64,
    lines: Vec<OfShelf>,
}

/// Whether one shelf was named, as a round reckons with it.
#[derive(Debug, Clone, Copy)]
struct Observed {
    /// The place of its batch among those there are.
    batch: usize,
    /// The place of its line among those that were seen.
    line: usize,
    /// The logit of the predicted chance.
    logit: f64,
    share: f64,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct OfShelf {
    line: usize,
    moved: f64,
    variance: f64,
    batches: u32,
}

impl Naming {
    /// Learns from what was named and what was not.
    #[must_use]
    pub fn learn(all: &[Named]) -> Self {
        Self::unlearnt(all).arrived(all, ARRIVED)
    }

    /// The same, found from what was learnt of nearly the same: soon, because hardly anything moves.
    #[must_use]
    pub(super) fn learn_near(&self, all: &[Named]) -> Self {
        let mut start = Self::unlearnt(all);
        start.common = self.common;
        start.between = self.between;
        for line in &mut start.lines {
            line.moved = self.own(line.line);
        }
        start.arrived(all, NEARLY)
    }

    fn unlearnt(all: &[Named]) -> Self {
        let mut lines: Vec<OfShelf> = Vec::new();
        for it in all {
            match lines.binary_search_by_key(&it.line, |line| line.line) {
                Ok(at) => lines[at].batches += 1,
                Err(at) => lines.insert(
                    at,
                    OfShelf {
                        line: it.line,
                        moved: 0.0,
                        variance: 0.0,
                        batches: 1,
                    },
                ),
            }
        }
        Self {
            common: 0.0,
            common_variance: COMMON_SD * COMMON_SD,
            between: LINE_SD * LINE_SD,
            lines,
        }
    }

    /// As many rounds as it takes until nothing moves by more than this.
    fn arrived(mut self, all: &[Named], least: f64) -> Self {
        let seen = self.observed(all);
        for _ in 0..ROUNDS {
            if self.step(&seen) < least {
                break;
            }
        }
        self
    }

    /// What was named, with the places of its line and its batch.
    fn observed(&self, all: &[Named]) -> Vec<Observed> {
        let mut batches: Vec<usize> = all.iter().map(|it| it.batch).collect();
        batches.sort_unstable();
        batches.dedup();
        let observed = all.iter().filter_map(|it| {
            let chance = it.chance.clamp(LEAST_CHANCE, 1.0 - LEAST_CHANCE);
            Some(Observed {
                batch: batches.binary_search(&it.batch).ok()?,
                line: self.place(it.line)?,
                logit: (chance / (1.0 - chance)).ln(),
                share: it.share,
            })
        });
        observed.collect()
    }

    /// One round: the common move, each shelf's own, and how much shelves differ. Gives the largest step.
    fn step(&mut self, seen: &[Observed]) -> f64 {
        let before = self.between;
        let prior = COMMON_SD * COMMON_SD;
        let (gradient, information, spread) = self.by_batches(seen);
        let information = information / spread + 1.0 / prior;
        let mut largest = capped((gradient / spread - self.common / prior) / information);
        self.common += largest;
        self.common_variance = 1.0 / information;
        let mut sums = vec![(0.0, 0.0); self.lines.len()];
        for it in seen {
            let chance = self.fitted(it);
            sums[it.line].0 += it.share - chance;
            sums[it.line].1 += chance * (1.0 - chance);
        }
        let mut squares = LINE_SD_COUNTS * LINE_SD * LINE_SD;
        for (line, (gradient, information)) in self.lines.iter_mut().zip(sums) {
            let information = information + 1.0 / self.between;
            let step = capped((gradient - line.moved / self.between) / information);
            line.moved += step;
            largest = largest.abs().max(step.abs());
            line.variance = 1.0 / information;
            squares += line.moved * line.moved + line.variance;
        }
        self.between = squares / (LINE_SD_COUNTS + self.lines.len() as f64);
        largest.abs().max((self.between - before).abs())
    }

    /// The gradient and the information for the common move, and how many times more the batches vary than
    /// shelves by themselves make them, 1 at least.
    fn by_batches(&self, seen: &[Observed]) -> (f64, f64, f64) {
        let number = seen.iter().map(|it| it.batch + 1).max().unwrap_or(0);
        let mut batches = vec![(0.0, 0.0); number];
        for it in seen {
            let chance = self.fitted(it);
            batches[it.batch].0 += it.share - chance;
            batches[it.batch].1 += chance * (1.0 - chance);
        }
        let gradient = batches.iter().map(|it| it.0).sum();
        let information = batches.iter().map(|it| it.1).sum();
        let squares: f64 = batches.iter().map(|it| it.0 * it.0 / it.1).sum();
        let spread = squares / (number as f64 - 1.0).max(1.0);
        (gradient, information, spread.max(1.0))
    }

    fn fitted(&self, it: &Observed) -> f64 {
        let logit = it.logit + self.common + self.lines[it.line].moved;
        (1.0 / (1.0 + (-logit).exp())).clamp(1e-6, 1.0 - 1e-6)
    }

    fn place(&self, line: usize) -> Option<usize> {
        self.lines.binary_search_by_key(&line, |it| it.line).ok()
    }

    fn own(&self, line: usize) -> f64 {
        self.seen(line).map_or(0.0, |it| it.moved)
    }

    fn seen(&self, line: usize) -> Option<&OfShelf> {
        self.lines.get(self.place(line)?)
    }

    /// The move of the logit on a shelf, with its standard error.
    #[must_use]
    pub fn on(&self, line: usize) -> (f64, f64) {
        let variance = self.seen(line).map_or(self.between, |it| it.variance);
        let error = (self.common_variance + variance).sqrt();
        (self.common + self.own(line), error)
    }

    /// The move that all shelves have in common, with its standard error.
    #[must_use]
    pub fn common(&self) -> (f64, f64) {
        (self.common, self.common_variance.sqrt())
    }

    /// In how many batches a shelf was predicted and could have been named.
    #[must_use]
    pub fn batches_on(&self, line: usize) -> u32 {
        self.seen(line).map_or(0, |it| it.batches)
    }

    /// The chance, 0 to 1, that this taster names a shelf, where the model gives it the chance `predicted`.
    #[must_use]
    pub fn chance(&self, predicted: f64, line: usize) -> f64 {
        moved(predicted, self.on(line).0)
    }
}

fn moved(chance: f64, by: f64) -> f64 {
    let chance = chance.clamp(LEAST_CHANCE, 1.0 - LEAST_CHANCE);
    let chance = Probability::new(chance).unwrap_or(Probability::ZERO);
    chance.logit_moved(by).get()
}

/// A step that does not leap.
fn capped(step: f64) -> f64 {
    if step.is_finite() {
        step.clamp(-1.0, 1.0)
    } else {
        0.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn batches(chance: f64, shares: &[[f64; 2]]) -> Vec<Named> {
        let rows = shares.iter().enumerate().flat_map(|(batch, two)| {
            two.iter().enumerate().map(move |(line, share)| Named {
                batch,
                line,
                chance,
                share: *share,
            })
        });
        rows.collect()
    }

    #[test]
    fn who_names_as_often_as_predicted_is_predicted_as_before() {
        let even = Naming::learn(&batches(
            0.5,
            &[[1.0, 0.0], [0.0, 1.0], [1.0, 0.0], [0.0, 1.0]],
        ));
        assert!(even.common().0.abs() < 1e-6, "{even:?}");
        assert!((even.chance(0.7, 0) - 0.7).abs() < 1e-6);
        assert_eq!((even.batches_on(0), even.batches_on(5)), (4, 0));
    }

    #[test]
    fn who_never_names_a_thing_is_predicted_to_name_less_and_not_nothing() {
        let silent = Naming::learn(&batches(0.5, &[[0.0, 0.0]; 6]));
        let chance = silent.chance(0.5, 0);
        assert!(chance > 0.02 && chance < 0.3, "{chance}");
        // A shelf never predicted before moves with the others, and is less sure.
        assert!(silent.chance(0.5, 7) < 0.4 && silent.on(7).1 > silent.on(0).1);
    }

    #[test]
    fn one_shelf_is_drawn_towards_the_others() {
        // The first is always named, the second never: they part, each by less than the data alone say.
        let parted = Naming::learn(&batches(0.5, &[[1.0, 0.0]; 8]));
        let (one, other) = (parted.chance(0.5, 0), parted.chance(0.5, 1));
        assert!(
            one > 0.6 && one < 0.95 && other < 0.4 && other > 0.05,
            "{one} {other}"
        );
        assert!((one + other - 1.0).abs() < 1e-6);
    }

    #[test]
    fn a_talkative_day_is_not_a_talkative_taster() {
        // By hand the same share named in all, half: everything on half of the days, or one of two every day.
        let days = Naming::learn(&batches(
            0.3,
            &[[1.0, 1.0], [0.0, 0.0], [1.0, 1.0], [0.0, 0.0]],
        ));
        let steady = Naming::learn(&batches(
            0.3,
            &[[1.0, 0.0], [0.0, 1.0], [1.0, 0.0], [0.0, 1.0]],
        ));
        assert!(days.common().1 > steady.common().1);
        assert!(days.common().0 < steady.common().0);
    }
}
