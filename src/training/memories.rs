//! What a taster remembers, learnt from their answers: every memory thought possible, by its odds.

use std::collections::BTreeMap;

use crate::domain::DescriptorId;
use crate::statistics::Probability;
use crate::training::Histories;
use crate::training::Outcome;
use crate::training::PracticeTime;
use crate::training::WordAnswer;
use crate::training::learning_pace::LearningPace;
use crate::training::learning_pace::paces;
use crate::training::word_memory::WordMemory;
use crate::training::word_memory::before_asking;

/// How far answers are believed when kinds of learner are weighed: the power of their likelihood. No
/// learner is quite like any kind, so that full belief settles too soon (measured: with 0.5 novices
/// of two laws keep less than under rotation in the mean, with 0.1 those of none).
const BELIEF: f64 = 0.1;

/// A kind of learner less likely than this is left out, and so is a memory.
const LEAST_PACE: f64 = 0.01;
const LEAST_MEMORY: f64 = 5e-4;

/// The share of words that come to mind and are yet answered wrong (judgement).
const SLIP: f64 = 0.02;

/// The lowest likelihood of an answer, so that none is impossible.
const LEAST: f64 = 1e-3;

/// One memory that is thought possible, with its share.
#[derive(Debug, Clone, Copy)]
pub(super) struct Possible {
    pub(super) share: f64,
    pub(super) pace: LearningPace,
    pub(super) memory: WordMemory,
}

/// What one taster remembers of each word, and what they know of words they were never asked.
///
/// How they learn, how hard each word is and how much of it was known before are weighed together:
/// a word asked rarely borrows from the others, so that its difficulty shrinks to the middle one.
#[derive(Debug, Clone)]
pub struct Memories {
    words: BTreeMap<DescriptorId, Vec<Possible>>,
    unasked: Vec<Possible>,
}

impl Memories {
    /// Learns what a taster remembers from all their answers.
    #[must_use]
    pub fn learn(histories: &Histories) -> Self {
        let mut learnt: Vec<(f64, Vec<Vec<Possible>>)> = Vec::new();
        for pace in paces() {
            let read = histories.words().map(|it| read(pace, it.1));
            let (evidence, words): (Vec<f64>, Vec<_>) = read.unzip();
            learnt.push((evidence.into_iter().map(f64::ln).sum(), words));
        }
        let shares = shares_of(&learnt);
        let mut words: BTreeMap<DescriptorId, Vec<Possible>> = BTreeMap::new();
        let mut unasked = Vec::new();
        for ((pace, share), (_, read)) in paces().into_iter().zip(shares).zip(learnt) {
            if share < LEAST_PACE {
                continue;
            }
            unasked.extend(weighed(start(pace), share));
            for ((id, _), possible) in histories.words().zip(read) {
                let own = words.entry(id.clone()).or_default();
                own.extend(weighed(possible, share));
            }
        }
        Self { words, unasked }
    }

    /// How likely a word comes to mind at a moment, if it is not asked until then.
    #[must_use]
    pub fn recall(&self, id: &DescriptorId, at: PracticeTime) -> Probability {
        let possible = self.of(id);
        let whole: f64 = possible.iter().map(|it| it.share).sum();
        let come: f64 = possible
            .iter()
            .map(|it| it.share * it.memory.recall(at.days()))
            .sum();
        // A mean of chances is a chance, but for its last digit.
        Probability::new(come / whole).unwrap_or(Probability::ONE)
    }

    /// Every memory that this word may have; it is never empty.
    pub(super) fn of(&self, id: &DescriptorId) -> &[Possible] {
        self.words.get(id).unwrap_or(&self.unasked)
    }
}

/// Every memory a word may have before it is asked.
fn start(pace: LearningPace) -> Vec<Possible> {
    let before = before_asking(pace).into_iter();
    before
        .map(|(share, memory)| Possible {
            share,
            pace,
            memory,
        })
        .collect()
}

/// The likelihood of all answers to a word, and what they leave of the memories it may have.
fn read(pace: LearningPace, answers: &[WordAnswer]) -> (f64, Vec<Possible>) {
    let mut possible = start(pace);
    for one in &mut possible {
        for answer in answers {
            let likely = one.answered(answer);
            one.share *= likely;
        }
    }
    let evidence: f64 = possible.iter().map(|it| it.share).sum();
    for one in &mut possible {
        one.share /= evidence;
    }
    (evidence, possible)
}

impl Possible {
    /// Takes an answer in; gives its likelihood.
    fn answered(&mut self, answer: &WordAnswer) -> f64 {
        let day = answer.at.days();
        let recall = self.memory.recall(day) * (1.0 - SLIP);
        let right = chance_right(recall, answer.asked.guess());
        let (likely, came) = match answer.outcome {
            Outcome::Right => (right.max(LEAST), recall / right.max(LEAST)),
            Outcome::Wrong => ((1.0 - right).max(LEAST), 0.0),
        };
        self.memory = self.memory.asked(self.pace, day, recall, came);
        likely
    }
}

/// The chance of a right answer: it comes to mind, or it is guessed.
pub(super) fn chance_right(recall: f64, guess: f64) -> f64 {
    recall + (1.0 - recall) * guess
}

/// How likely each kind of learner is, from the logarithms of their evidence.
fn shares_of(learnt: &[(f64, Vec<Vec<Possible>>)]) -> Vec<f64> {
    let top = learnt.iter().map(|it| it.0).fold(f64::MIN, f64::max);
    let odds: Vec<f64> = learnt
        .iter()
        .map(|it| ((it.0 - top) * BELIEF).exp())
        .collect();
    let whole: f64 = odds.iter().sum();
    odds.into_iter().map(|it| it / whole).collect()
}

/// The memories of one kind of learner by the share of that kind, without the least likely ones.
fn weighed(possible: Vec<Possible>, share: f64) -> impl Iterator<Item = Possible> {
    possible
        .into_iter()
        .map(move |it| Possible {
            share: it.share * share,
            ..it
        })
        .filter(|it| it.share > LEAST_MEMORY)
}
