//! How tasters may learn: the few kinds of learner between which the answers of a taster decide.

/// How a taster learns and how much they knew before.
///
/// The grid spans what its author holds possible (judgement); it is not fitted to people. Which of its
/// points a taster is like, their answers say.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LearningPace {
    /// log2 of the days after which half of the words met once are gone, of the middle word.
    pub(super) first: f64,
    /// How much the half-life grows when a word came to mind: by a factor of 1 + this, …
    pub(super) growth: f64,
    /// … of which this share is lost where it was sure to come to mind: the effect of spacing.
    pub(super) spacing: f64,
    /// The share of words known before the first question.
    pub(super) known: f64,
}

impl LearningPace {
    /// How much log2 of the half-life grows when a word came to mind with this chance.
    pub(super) fn step(self, recall: f64) -> f64 {
        (1.0 + self.growth * (1.0 - self.spacing * recall)).log2()
    }
}

/// Words met once are half gone after 3, 8 or 23 days.
const FIRSTS: [f64; 3] = [1.5, 3.0, 4.5];

/// Slow and fast growth, without and with an effect of spacing.
const GROWTHS: [(f64, f64); 4] = [(0.8, 0.0), (1.5, 0.0), (2.0, 1.0), (4.0, 1.0)];

/// A beginner, and one who knows most words.
const KNOWN: [f64; 2] = [0.25, 0.6];

/// Every kind of learner thought possible, each as likely as the next.
pub(super) fn paces() -> Vec<LearningPace> {
    let mut all = Vec::new();
    for first in FIRSTS {
        for (growth, spacing) in GROWTHS {
            for known in KNOWN {
                all.push(LearningPace {
                    first,
                    growth,
                    spacing,
                    known,
                });
            }
        }
    }
    all
}
