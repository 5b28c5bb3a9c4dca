//! Critical counts and power along all numbers of answers, each from the one before.

use crate::statistics::Count;
use crate::statistics::Probability;
use crate::statistics::binomial_upper_tail;

/// Equal within the digits of an exact tail: 1/8 asked for and 1/8 reached.
const TIE: f64 = 1e-12;

/// Near enough to be looked at with an exact tail, because running sums round.
const NEAR: f64 = 1e-6;

/// Stands for a miss that cannot be.
const LEAST_MISS: f64 = 1e-150;

/// Whether a tail stays within a risk.
pub(in crate::discrimination) fn within(tail: f64, risk: f64) -> bool {
    tail <= risk * (1.0 + TIE)
}

/// The upper tail of one binomial distribution, walked along.
#[derive(Debug, Clone, Copy)]
struct Walk {
    hit: f64,
    miss: f64,
    /// P(K ≥ critical).
    tail: f64,
    /// P(K = critical − 1).
    before: f64,
}

impl Walk {
    /// Without a try the critical count is 1, which cannot be reached.
    fn new(chance: Probability) -> Self {
        Self {
            hit: chance.get(),
            // Never nothing: a hit that is certain would be divided by it.
            miss: chance.complement().get().max(LEAST_MISS),
            tail: 0.0,
            before: 1.0,
        }
    }

    /// One try more, the same critical count.
    fn longer(&mut self, trials: u32, critical: u32) {
        self.tail += self.hit * self.before;
        self.before *= f64::from(trials) / f64::from(trials + 1 - critical) * self.miss;
    }

    /// The same tries, a critical count one higher.
    fn stricter(&mut self, trials: u32, critical: u32) {
        let here = self.before * f64::from(trials + 1 - critical) / f64::from(critical) * self.hit
            / self.miss;
        self.tail = (self.tail - here).max(0.0);
        self.before = here;
    }
}

/// The critical count of a risk and its power, for one number of answers after another.
#[derive(Debug, Clone, Copy)]
pub(in crate::discrimination) struct Scan {
    null: Probability,
    risk: f64,
    trials: u32,
    critical: u32,
    under_null: Walk,
    under_other: Walk,
}

impl Scan {
    /// Before the first answer.
    pub(in crate::discrimination) fn new(null: Probability, other: Probability, risk: f64) -> Self {
        Self {
            null,
            risk,
            trials: 0,
            critical: 1,
            under_null: Walk::new(null),
            under_other: Walk::new(other),
        }
    }

    /// One answer more. The critical count stays or grows by one: with one answer more, no count is
    /// harder to reach, and one more than the count is no easier than the count was.
    pub(in crate::discrimination) fn advance(&mut self) {
        self.trials += 1;
        self.under_null.longer(self.trials, self.critical);
        self.under_other.longer(self.trials, self.critical);
        if !self.is_within() {
            self.under_null.stricter(self.trials, self.critical);
            self.under_other.stricter(self.trials, self.critical);
            self.critical += 1;
        }
    }

    fn is_within(&self) -> bool {
        let tail = self.under_null.tail;
        if (tail - self.risk).abs() > NEAR * self.risk {
            return tail < self.risk;
        }
        let count = Count::new(self.critical, self.trials);
        let exact = count.map_or(0.0, |it| binomial_upper_tail(it, self.null).get());
        within(exact, self.risk)
    }

    /// The chance to reach the critical count where the other hypothesis is true.
    pub(in crate::discrimination) const fn power(&self) -> f64 {
        self.under_other.tail
    }
}

/// From this many answers on the power is never lost again: by Hoeffding (1963, J. Am. Statist. Assoc.
/// 58:13-30, theorem 1) the critical count is at most np0 + √(n·ln(1/α)/2) + 1, and fewer come with at
/// most β as soon as n(p1 − p0) ≥ √(n/2)·(√ln(1/α) + √ln(1/β)).
pub(in crate::discrimination) fn surely_enough(gap: f64, alpha: f64, beta: f64) -> f64 {
    let roots = (-alpha.ln()).sqrt() + (-beta.ln()).sqrt();
    (roots * roots / (2.0 * gap * gap)).ceil()
}
