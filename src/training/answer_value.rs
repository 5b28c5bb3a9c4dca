//! What an answer to a word is worth: how much more of it will be remembered, for each answer spent.

use crate::domain::Days;
use crate::domain::DescriptorId;
use crate::training::Asked;
use crate::training::Memories;
use crate::training::PracticeTime;
use crate::training::memories::Possible;
use crate::training::memories::chance_right;

/// Answers that may follow the next one, when its worth is reckoned.
const MORE: usize = 5;

/// Days between those that follow (judgement: three sittings a week, rounded up).
const GAP: f64 = 3.0;

/// What follows after a right or a wrong answer: for so many further answers, the recall to come.
#[derive(Debug, Clone, Copy, Default)]
struct Branch {
    chance: f64,
    recalls: [f64; MORE + 1],
}

impl Memories {
    /// How much likelier a word comes to mind a `horizon` after `now`, for each answer spent on it from
    /// now on; below 0 where an answer costs more than it gives.
    ///
    /// The best of all plans is taken that ask now, and then so many times more after a right answer
    /// and so many after a wrong one: expected gain by expected answers, the index of Gittins 1979
    /// (J. Royal Stat. Soc. B 41:148) with two branches. A word that needs four answers to stay is worth
    /// them although the first alone gives nothing; one that a right answer proves known costs one.
    #[must_use]
    pub fn gain(&self, id: &DescriptorId, now: PracticeTime, horizon: Days, asked: Asked) -> f64 {
        let possible = self.of(id);
        let whole: f64 = possible.iter().map(|it| it.share).sum();
        let until = now.days() + horizon.get();
        let (mut right, mut wrong) = (Branch::default(), Branch::default());
        let mut unasked = 0.0;
        for one in possible {
            let one = Possible {
                share: one.share / whole,
                memory: one.memory.seen_from(now.days()),
                ..*one
            };
            unasked += one.share * one.memory.recall(until);
            one.branch(now.days(), until, asked.guess(), &mut right, &mut wrong);
        }
        best_plan(&right, &wrong, unasked)
    }
}

impl Possible {
    /// Adds what follows a right and a wrong answer given now.
    fn branch(self, now: f64, until: f64, guess: f64, right: &mut Branch, wrong: &mut Branch) {
        let recall = self.memory.recall(now);
        let chance = chance_right(recall, guess);
        let came = if chance > 0.0 { recall / chance } else { 0.0 };
        for (branch, chance, came) in [(right, chance, came), (wrong, 1.0 - chance, 0.0)] {
            let share = self.share * chance;
            if share <= 0.0 {
                continue;
            }
            branch.chance += share;
            let mut memory = self.memory.asked(self.pace, now, recall, came);
            let mut day = now;
            for recalls in &mut branch.recalls {
                *recalls += share * memory.recall(until.max(day));
                day += GAP;
                let recall = memory.recall(day);
                memory = memory.asked(self.pace, day, recall, recall);
            }
        }
    }
}

/// The most recall won for each answer, over all plans.
fn best_plan(right: &Branch, wrong: &Branch, unasked: f64) -> f64 {
    let mut best = f64::MIN;
    for (after_right, right_recall) in right.recalls.iter().enumerate() {
        for (after_wrong, wrong_recall) in wrong.recalls.iter().enumerate() {
            let answers =
                1.0 + right.chance * after_right as f64 + wrong.chance * after_wrong as f64;
            best = best.max((right_recall + wrong_recall - unasked) / answers);
        }
    }
    best
}
