//! Errors of played predictions: without learning, with it, and of an oracle that knows the taster.

/// A mean over plays with what it scatters.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Mean {
    sum: f64,
    squares: f64,
    count: u32,
}

impl Mean {
    pub(in crate::profile) fn add(&mut self, value: f64) {
        self.sum += value;
        self.squares += value * value;
        self.count += 1;
    }

    /// The mean.
    #[must_use]
    pub fn value(&self) -> f64 {
        self.sum / f64::from(self.count.max(1))
    }

    /// Its standard error: plays are independent, lines of a play are not.
    #[must_use]
    pub fn error(&self) -> f64 {
        let mean = self.value();
        let variance = self.squares / f64::from(self.count.max(1)) - mean * mean;
        (variance.max(0.0) / f64::from(self.count.max(1))).sqrt()
    }
}

/// Errors play by play: of the prediction alone, of what was learnt, and of an oracle that knows the taster.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Errors {
    plays: Vec<[f64; 3]>,
}

impl Errors {
    /// The mean over plays of something of raw, learnt and oracle error.
    #[must_use]
    pub fn mean_of(&self, of: impl Fn([f64; 3]) -> f64) -> Mean {
        let mut mean = Mean::default();
        for play in &self.plays {
            mean.add(of(*play));
        }
        mean
    }

    pub(in crate::profile) fn means(&self) -> [f64; 3] {
        [0, 1, 2].map(|at| self.mean_of(|it| it[at]).value())
    }

    /// The part of the removable error that was removed: (E0 − E1)/(E0 − oracle).
    #[must_use]
    pub fn removed(&self) -> f64 {
        let [raw, learnt, oracle] = self.means();
        (raw - learnt) / (raw - oracle)
    }

    /// By which part the error became less, without regard to what could be removed.
    #[must_use]
    pub fn cut(&self) -> f64 {
        let [raw, learnt, _] = self.means();
        1.0 - learnt / raw
    }
}

/// The errors of one play, line by line.
#[derive(Debug, Default)]
pub(in crate::profile) struct OfPlay {
    sums: [f64; 3],
    count: f64,
}

impl OfPlay {
    pub(in crate::profile) fn add(&mut self, errors: [f64; 3]) {
        for (sum, error) in self.sums.iter_mut().zip(errors) {
            *sum += error;
        }
        self.count += 1.0;
    }

    /// Ends the play; one in which nothing was named says nothing.
    pub(in crate::profile) fn end(self, errors: &mut Errors) {
        if self.count > 0.0 {
            errors.plays.push(self.sums.map(|it| it / self.count));
        }
    }
}
