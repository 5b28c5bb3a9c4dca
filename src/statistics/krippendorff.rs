//! Krippendorff's alpha: how far raters agree beyond chance, with values missing anywhere.

use thiserror::Error;

use crate::statistics::squares::usable;

/// How two values differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Metric {
    /// Equal or not.
    Nominal,
    /// By the ranks between them.
    Ordinal,
    /// By their distance.
    Interval,
    /// By their distance relative to their sum; values are not below 0.
    Ratio,
}

/// How far raters agree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KrippendorffAlpha {
    /// How values were compared.
    pub metric: Metric,
    /// α: 1 for perfect agreement, 0 for chance, below 0 for disagreement beyond chance.
    pub value: f64,
    /// Units that at least two raters valued.
    pub units: usize,
    /// Values of those units.
    pub pairable: usize,
}

/// Why ratings have no alpha. Places count from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum NoAlpha {
    /// A rater has another number of units than the first.
    #[error("rater {rater} has another number of units than the first")]
    Uneven {
        /// The rater.
        rater: usize,
    },
    /// No unit was valued by two raters.
    #[error("no unit was valued by two raters")]
    NothingToPair,
    /// All values that can be paired are the same.
    #[error("all values are the same, so agreement cannot be told from chance")]
    OneValue,
    /// A value is no number, or larger than 10⁶⁰.
    #[error("rater {rater}'s value of unit {unit} is no number, or too large")]
    OutOfRange {
        /// The rater.
        rater: usize,
        /// The unit.
        unit: usize,
    },
    /// A value is below 0, of which there is no ratio.
    #[error("a value is below 0, and ratios need a true zero")]
    BelowZero,
}

/// Which values occur, how often, and how often with which others in the same unit.
struct Coincidences {
    /// The values that occur, upwards.
    values: Vec<f64>,
    /// How often each is paired with each, o(c, k), row by row.
    pairs: Vec<f64>,
    /// How often each occurs, n(c).
    counts: Vec<f64>,
    units: usize,
}

/// Krippendorff's alpha of ratings given rater by rater, each a value or none for every unit.
///
/// α = 1 − (n − 1)Σo(c,k)δ²(c,k)/Σn(c)n(k)δ²(c,k) (Krippendorff 2011, Computing Krippendorff's
/// alpha-reliability, section E). Units with fewer than two values drop out.
///
/// # Errors
/// A rater has too few or too many units, no unit has two values, all values are the same, or a value
/// is no number or has no ratio.
pub fn krippendorff_alpha(
    raters: &[Vec<Option<f64>>],
    metric: Metric,
) -> Result<KrippendorffAlpha, NoAlpha> {
    let units = units(raters)?;
    if units.is_empty() {
        return Err(NoAlpha::NothingToPair);
    }
    let below_zero = units.iter().flatten().any(|it| *it < 0.0);
    if metric == Metric::Ratio && below_zero {
        return Err(NoAlpha::BelowZero);
    }
    let found = Coincidences::of(&units);
    let (mut observed, mut expected) = (0.0, 0.0);
    for high in 1..found.values.len() {
        for low in 0..high {
            let apart = found.distance(metric, low, high);
            observed += found.pairs[low * found.values.len() + high] * apart;
            expected += found.counts[low] * found.counts[high] * apart;
        }
    }
    if expected <= 0.0 {
        return Err(NoAlpha::OneValue);
    }
    let all: f64 = found.counts.iter().sum();
    Ok(KrippendorffAlpha {
        metric,
        value: 1.0 - (all - 1.0) * observed / expected,
        units: found.units,
        pairable: units.iter().map(Vec::len).sum(),
    })
}

/// The values of each unit that has at least two.
fn units(raters: &[Vec<Option<f64>>]) -> Result<Vec<Vec<f64>>, NoAlpha> {
    let number = raters.first().map_or(0, Vec::len);
    let mut units = vec![Vec::new(); number];
    for (rater, values) in raters.iter().enumerate() {
        if values.len() != number {
            return Err(NoAlpha::Uneven { rater });
        }
        for (unit, value) in values.iter().enumerate() {
            match value {
                Some(value) if !usable(*value) => return Err(NoAlpha::OutOfRange { rater, unit }),
                // One zero, not two.
                Some(value) => units[unit].push(value + 0.0),
                None => {}
            }
        }
    }
    units.retain(|it| it.len() >= 2);
    Ok(units)
}

impl Coincidences {
    fn of(units: &[Vec<f64>]) -> Self {
        let mut values = units.concat();
        values.sort_by(f64::total_cmp);
        values.dedup();
        let size = values.len();
        let mut pairs = vec![0.0; size * size];
        let mut counts = vec![0.0; size];
        for unit in units {
            let places: Vec<usize> = unit
                .iter()
                .map(|it| values.partition_point(|value| value < it))
                .collect();
            let weight = 1.0 / (unit.len() - 1) as f64;
            for (at, one) in places.iter().enumerate() {
                counts[*one] += 1.0;
                for (other_at, other) in places.iter().enumerate() {
                    if at != other_at {
                        pairs[one * size + other] += weight;
                    }
                }
            }
        }
        Self {
            values,
            pairs,
            counts,
            units: units.len(),
        }
    }

    /// δ² of two places among the values, the lower one first.
    fn distance(&self, metric: Metric, low: usize, high: usize) -> f64 {
        let (below, above) = (self.values[low], self.values[high]);
        let apart = match metric {
            Metric::Nominal => 1.0,
            Metric::Ordinal => {
                let between: f64 = self.counts[low..=high].iter().sum();
                between - f64::midpoint(self.counts[low], self.counts[high])
            }
            Metric::Interval => {
                // Only the shape counts; this keeps squares of large and of small values in range.
                let range = self.values[self.values.len() - 1] - self.values[0];
                (above - below) / range
            }
            Metric::Ratio => (above - below) / (above + below),
        };
        apart * apart
    }
}

#[cfg(test)]
mod tests {
    use crate::statistics::Dice;

    use super::*;

    const METRICS: [Metric; 4] = [
        Metric::Nominal,
        Metric::Ordinal,
        Metric::Interval,
        Metric::Ratio,
    ];

    fn raters(rows: &[&str]) -> Vec<Vec<Option<f64>>> {
        let value = |letter: char| letter.to_digit(10).map(f64::from);
        rows.iter()
            .map(|row| row.chars().map(value).collect())
            .collect()
    }

    #[test]
    fn four_coders_have_the_published_alphas() {
        // Krippendorff 2011, "Computing Krippendorff's alpha-reliability": nominal .743, ordinal .815,
        // interval .849, ratio .797; six digits from the Python package krippendorff 0.9.0.
        let four = raters(&[
            "123321412...",
            "1233224125.3",
            ".3332342251.",
            "12332441251.",
        ]);
        let expected = [
            (0.743, 0.743_421),
            (0.815, 0.815_388),
            (0.849, 0.849_107),
            (0.797, 0.797_403),
        ];
        for (metric, (published, digits)) in METRICS.into_iter().zip(expected) {
            let found = krippendorff_alpha(&four, metric).unwrap();
            assert!((found.value - published).abs() < 5.1e-4, "{found:?}");
            assert!((found.value - digits).abs() < 5.1e-7, "{found:?}");
            assert_eq!((found.units, found.pairable), (11, 40));
        }
    }

    #[test]
    fn the_order_of_raters_and_of_units_does_not_matter_and_only_nominal_ignores_distance() {
        let mut dice = Dice::from_seed(35);
        for _ in 0..100 {
            let mut rows: Vec<Vec<Option<f64>>> = (0..4)
                .map(|_| {
                    let mut value = |_| match dice.whole(0, 5) {
                        5 => None,
                        digit => Some(f64::from(digit)),
                    };
                    (0..8).map(&mut value).collect()
                })
                .collect();
            let before = METRICS.map(|it| krippendorff_alpha(&rows, it).map(|it| it.value));
            dice.shuffle(&mut rows);
            for row in &mut rows {
                row.reverse();
            }
            for (metric, before) in METRICS.into_iter().zip(before) {
                let after = krippendorff_alpha(&rows, metric).unwrap().value;
                let before = before.unwrap();
                assert!((after - before).abs() < 1e-12 && after <= 1.0, "{metric:?}");
            }
        }
    }

    #[test]
    fn raters_who_agree_have_one_whatever_the_metric() {
        for metric in METRICS {
            let found = krippendorff_alpha(&raters(&["0125", "0125", ".125"]), metric).unwrap();
            assert!((found.value - 1.0).abs() < 1e-12, "{found:?}");
        }
    }

    #[test]
    fn very_large_and_very_small_values_are_compared_by_shape() {
        let rows = |size: f64| vec![[0.0, 1.0, 3.0], [1.0, 1.0, 2.0]].map_scaled(size);
        let value = |size| {
            krippendorff_alpha(&rows(size), Metric::Interval)
                .unwrap()
                .value
        };
        for size in [1e-200, 1e58] {
            assert!((value(size) - value(1.0)).abs() < 1e-12, "{size}");
        }
    }

    trait MapScaled {
        fn map_scaled(self, size: f64) -> Vec<Vec<Option<f64>>>;
    }

    impl MapScaled for Vec<[f64; 3]> {
        fn map_scaled(self, size: f64) -> Vec<Vec<Option<f64>>> {
            self.iter()
                .map(|row| row.iter().map(|it| Some(it * size)).collect())
                .collect()
        }
    }

    #[test]
    fn ratings_without_an_alpha_are_refused_with_the_reason() {
        let refused =
            |rows: &[&str]| krippendorff_alpha(&raters(rows), Metric::Interval).unwrap_err();
        assert_eq!(refused(&[]), NoAlpha::NothingToPair);
        assert_eq!(refused(&["123"]), NoAlpha::NothingToPair);
        assert_eq!(refused(&["...", "..."]), NoAlpha::NothingToPair);
        assert_eq!(refused(&["1..", ".2."]), NoAlpha::NothingToPair);
        assert_eq!(refused(&["333", "333"]), NoAlpha::OneValue);
        assert_eq!(refused(&["12", "123"]), NoAlpha::Uneven { rater: 1 });
        let bad = [vec![Some(1.0)], vec![Some(f64::NAN)]];
        let place = NoAlpha::OutOfRange { rater: 1, unit: 0 };
        assert_eq!(krippendorff_alpha(&bad, Metric::Nominal), Err(place));
        let below = [vec![Some(1.0)], vec![Some(-1.0)]];
        assert_eq!(
            krippendorff_alpha(&below, Metric::Ratio),
            Err(NoAlpha::BelowZero)
        );
        let zeros = [vec![Some(0.0)], vec![Some(-0.0)]];
        assert_eq!(
            krippendorff_alpha(&zeros, Metric::Ratio),
            Err(NoAlpha::OneValue)
        );
    }
}
