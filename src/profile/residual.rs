//! How notes and prediction differ, batch by batch and line by line, and the weighted sums over them.

/// The notes of one taster on one batch and one line, less what was predicted.
///
/// Glasses of one batch are averaged into one residual: what the prediction got wrong about the batch, they
/// all share, so the batch is the unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Residual {
    /// Which batch, by a number of the caller's.
    pub batch: usize,
    /// Which line, by a number of the caller's.
    pub line: usize,
    /// Notes less prediction, in digits.
    pub gap: f64,
    /// The variance it is expected to have: that of the prediction and that of the notes.
    pub variance: f64,
}

impl Residual {
    /// The reciprocal of the variance.
    pub(in crate::profile) fn weight(&self) -> f64 {
        1.0 / self.variance
    }

    /// Numbers that can be counted with.
    pub(in crate::profile) fn is_sound(&self) -> bool {
        self.gap.is_finite() && self.variance.is_finite() && self.variance > 0.0
    }
}

/// The weighted mean of some residuals.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::profile) struct Averaged {
    /// Of which line, or of which batch.
    pub(in crate::profile) of: usize,
    /// Σw·r/Σw.
    pub(in crate::profile) mean: f64,
    /// Σw.
    pub(in crate::profile) weight: f64,
    /// How many.
    pub(in crate::profile) count: u32,
}

/// The means over what has the same key, in the order of the keys.
pub(in crate::profile) fn means(
    residuals: &[Residual],
    key: impl Fn(&Residual) -> usize,
) -> Vec<Averaged> {
    let mut means: Vec<Averaged> = Vec::new();
    for it in residuals {
        let of = key(it);
        let at = match means.binary_search_by_key(&of, |mean| mean.of) {
            Ok(at) => at,
            Err(at) => {
                let empty = Averaged {
                    of,
                    mean: 0.0,
                    weight: 0.0,
                    count: 0,
                };
                means.insert(at, empty);
                at
            }
        };
        let mean = &mut means[at];
        mean.weight += it.weight();
        mean.mean += (it.gap - mean.mean) * it.weight() / mean.weight;
        mean.count += 1;
    }
    means
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_surer_residual_counts_for_more() {
        let residual = |batch, line, gap, variance| Residual {
            batch,
            line,
            gap,
            variance,
        };
        let all = [
            residual(0, 7, 1.0, 1.0),
            residual(1, 7, 4.0, 0.5),
            residual(0, 3, 2.0, 1.0),
        ];
        // By hand: (1·1 + 2·4)/3 = 3 for line 7.
        let found = means(&all, |it| it.line);
        assert_eq!((found[0].of, found[0].count), (3, 1));
        assert_eq!((found[1].of, found[1].count), (7, 2));
        assert!((found[1].mean - 3.0).abs() < 1e-12 && (found[1].weight - 3.0).abs() < 1e-12);
        assert_eq!(means(&all, |it| it.batch).len(), 2);
    }
}
