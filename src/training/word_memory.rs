//! One word in one memory that is thought possible: how fast it fades and what an answer does to it.

use crate::training::half_life::HalfLife;
use crate::training::learning_pace::LearningPace;

/// Days since a word was last met that was known before the first question (judgement).
const SINCE_MET: f64 = 20.0;

/// log2 of the half-life of a word known before: the middle one and the spread (judgement). 45 days,
/// from 14 to 147.
const KNOWN_MIDDLE: f64 = 5.5;
const KNOWN_SPREAD: f64 = 1.7;

/// How much words differ in difficulty: the standard deviation of log2 of their half-life (judgement).
const DIFFICULTY_SPREAD: f64 = 1.3;

/// What being told adds to log2 of the half-life of a word that did not come to mind (judgement).
const TOLD: f64 = 0.3;

/// Difficulties on either side of the middle, in steps of 0.8 standard deviations.
const SIDES: i32 = 3;
const STEP: f64 = 0.8;

/// How a word stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum WordMemory {
    /// Not known; once told it will have this half-life, which is its difficulty.
    Unmet(HalfLife),
    /// Known before the first question.
    MetBefore(HalfLife),
    /// Met at that day.
    Held(HalfLife, f64),
}

impl WordMemory {
    /// How likely it comes to mind at a day, if it is not met until then.
    pub(super) fn recall(self, day: f64) -> f64 {
        match self {
            Self::Unmet(_) => 0.0,
            Self::MetBefore(half_life) => half_life.recall(SINCE_MET),
            Self::Held(half_life, met) => half_life.recall(day - met),
        }
    }

    /// The same word, with its fading counted from this day on.
    pub(super) fn seen_from(self, day: f64) -> Self {
        match self {
            Self::MetBefore(half_life) => Self::Held(half_life, day - SINCE_MET),
            other => other,
        }
    }

    /// The word after it was asked at a day and then told. `recall` is the chance that it came to mind
    /// before the answer was known, `came` the same with the answer known.
    pub(super) fn asked(self, pace: LearningPace, day: f64, recall: f64, came: f64) -> Self {
        match self {
            Self::Unmet(half_life) => Self::Held(half_life, day),
            Self::MetBefore(half_life) | Self::Held(half_life, _) => {
                let terms = [
                    (half_life.exponent(), 1.0),
                    (pace.step(recall), came),
                    (TOLD, 1.0 - came),
                ];
                Self::Held(HalfLife::of(&terms), day)
            }
        }
    }
}

/// Every memory that a word may have before it is asked, with its share; together they make 1.
pub(super) fn before_asking(pace: LearningPace) -> Vec<(f64, WordMemory)> {
    let steps: Vec<(f64, f64)> = (-SIDES..=SIDES)
        .map(|it| f64::from(it) * STEP)
        .map(|z| (z, (-0.5 * z * z).exp()))
        .collect();
    let whole: f64 = steps.iter().map(|it| it.1).sum();
    let mut all = Vec::new();
    for (z, share) in steps {
        let unmet = HalfLife::of(&[(pace.first, 1.0), (DIFFICULTY_SPREAD, z)]);
        let known = HalfLife::of(&[(KNOWN_MIDDLE, 1.0), (KNOWN_SPREAD, z)]);
        all.push(((1.0 - pace.known) * share / whole, WordMemory::Unmet(unmet)));
        all.push((pace.known * share / whole, WordMemory::MetBefore(known)));
    }
    all
}
