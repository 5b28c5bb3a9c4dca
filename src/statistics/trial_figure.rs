//! Means over many runs, with how sure they are.

/// What was found, with its standard error over runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    /// The mean over runs.
    pub value: f64,
    /// Its standard error.
    pub error: f64,
}

/// A mean and how it scatters.
#[derive(Debug, Clone, Copy, Default)]
pub(in crate::statistics) struct Mean {
    count: f64,
    sum: f64,
    squares: f64,
}

impl Mean {
    /// Counts one more.
    pub(in crate::statistics) fn add(&mut self, value: f64) {
        self.count += 1.0;
        self.sum += value;
        self.squares += value * value;
    }

    /// The mean so far.
    pub(in crate::statistics) fn mean(self) -> f64 {
        self.sum / self.count
    }

    /// The mean with its standard error.
    pub(in crate::statistics) fn figure(self) -> Figure {
        let spread = self.squares / self.count - self.mean().powi(2);
        Figure {
            value: self.mean(),
            error: (spread.max(0.0) / self.count).sqrt(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mean_has_the_standard_error_of_the_hand() {
        // By hand: mean 2, variance (1 + 0 + 1)/3 with divisor n, over three.
        let mut some = Mean::default();
        for value in [1.0, 2.0, 3.0] {
            some.add(value);
        }
        let found = some.figure();
        assert!((found.value - 2.0).abs() < 1e-12);
        assert!((found.error - (2.0_f64 / 9.0).sqrt()).abs() < 1e-12);
    }
}
