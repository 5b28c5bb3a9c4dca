//! How many times wider than predicted notes scatter from batch to batch, and what a day moves together.

use crate::profile::residual::Averaged;
use crate::profile::residual::Residual;
use crate::profile::residual::means;

/// What is believed before anything was tasted: the ranges are right, as if 10 residuals had shown it.
const PRIOR_FREEDOM: f64 = 10.0;

/// Squares are counted up to this many times the scatter.
const CUT: f64 = 1.5;

/// The mean of min(Z², `CUT`²) over the standard normal distribution: (2Φ(c) − 1) − 2cφ(c) + 2c²(1 − Φ(c)).
const MEAN_CUT_SQUARE: f64 = 0.778_465_216_174_470_2;

/// A day moves at most this part of the scatter: the rest is there in each line by itself.
const MOST_SHARED: f64 = 0.9;

/// How residuals scatter about the means of their lines.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::profile) struct Scatter {
    /// κ²: their variance by that which was expected.
    pub(in crate::profile) factor_squared: f64,
    /// The part of it that all lines of one batch share, 0 to 0.9.
    pub(in crate::profile) shared: f64,
    /// The variance that a batch adds to all its lines together, in digits².
    pub(in crate::profile) day: f64,
}

/// One residual about the mean of its line, in the standard deviations expected.
struct Standardised {
    square: f64,
    /// 1 − 1/n: what it counts beside the mean that was taken off.
    counts: f64,
}

/// Reads the scatter of residuals about the means of their lines.
///
/// κ² is Huber's proposal 2 (Huber 1964, Ann. Math. Statist. 35:73-101): the scale at which the mean of the
/// standardised squares, each cut at 1.5², is what it is under a normal distribution; for normal residuals the
/// mean square, and with heavy tails nearer to what holds 80 in 100. It is drawn to 1 with 10 degrees of
/// freedom. Lines of one tasting are not independent: with a part ρ of the variance in common, L lines tell as
/// much of it as L/(1 + (L − 1)ρ²), the correlation of squares of normal values being ρ².
pub(in crate::profile) fn scatter(residuals: &[Residual], lines: &[Averaged]) -> Scatter {
    let centred = centred(residuals, lines);
    let squares = standardised(&centred, lines);
    let plain = factor_squared(&squares, 1.0);
    let batches = means(&centred, |it| it.batch);
    let day = day_variance(&centred, &batches, plain);
    let weight = centred.iter().map(Residual::weight).sum::<f64>() / centred.len().max(1) as f64;
    let shared = if day > 0.0 {
        (day * weight / plain).min(MOST_SHARED)
    } else {
        0.0
    };
    let of_a_batch = squares.len() as f64 / batches.len().max(1) as f64;
    let inflation = 1.0 + (of_a_batch - 1.0).max(0.0) * shared * shared;
    let factor_squared = factor_squared(&squares, inflation);
    Scatter {
        factor_squared,
        shared,
        // Never more than its part: of one line it cannot be told what is the day's.
        day: if shared > 0.0 {
            shared * factor_squared / weight
        } else {
            0.0
        },
    }
}

/// The residuals of lines seen more than once, less the mean of their line.
fn centred(residuals: &[Residual], lines: &[Averaged]) -> Vec<Residual> {
    let centred = residuals.iter().filter_map(|it| {
        let line = line_of(lines, it.line).filter(|line| line.count > 1)?;
        let gap = it.gap - line.mean;
        Some(Residual { gap, ..*it })
    });
    centred.collect()
}

pub(in crate::profile) fn line_of(lines: &[Averaged], line: usize) -> Option<&Averaged> {
    let at = lines.binary_search_by_key(&line, |it| it.of).ok()?;
    lines.get(at)
}

fn standardised(centred: &[Residual], lines: &[Averaged]) -> Vec<Standardised> {
    let squares = centred.iter().filter_map(|it| {
        let counts = 1.0 - it.weight() / line_of(lines, it.line)?.weight;
        Some(Standardised {
            square: it.gap * it.gap * it.weight() / counts,
            counts,
        })
    });
    squares.filter(|it| it.square.is_finite()).collect()
}

/// κ², when so many residuals tell as much as one.
fn factor_squared(squares: &[Standardised], inflation: f64) -> f64 {
    let counts: f64 = squares.iter().map(|it| it.counts).sum::<f64>() / inflation;
    let mut factor = 1.0;
    // Each round multiplies by a power of what is still wrong; fifty are far more than it takes.
    for _ in 0..50 {
        let cut = |it: &Standardised| it.counts * (it.square / factor).min(CUT * CUT);
        let found = squares.iter().map(cut).sum::<f64>() / inflation;
        let prior = PRIOR_FREEDOM * MEAN_CUT_SQUARE / factor;
        factor *= (found + prior) / (MEAN_CUT_SQUARE * (counts + PRIOR_FREEDOM));
    }
    factor
}

/// The variance that a batch adds to all its lines: what the means of batches vary more than lines by
/// themselves make them.
fn day_variance(centred: &[Residual], batches: &[Averaged], factor: f64) -> f64 {
    let number = batches.len() as f64;
    if number < 2.0 {
        return 0.0;
    }
    let squares: f64 = batches.iter().map(|it| it.mean * it.mean).sum();
    let by_lines = batches.iter().map(|it| 1.0 / it.weight).sum::<f64>() / number;
    let weight = centred.iter().map(Residual::weight).sum::<f64>() / centred.len() as f64;
    // The lines' own part is κ² less what the day has of it.
    let own = (1.0 - weight * by_lines).max(0.1);
    ((squares / (number - 1.0) - factor * by_lines) / own).max(0.0)
}

#[cfg(test)]
mod tests {
    use crate::statistics::Normal;

    use super::*;

    fn residuals(gaps: &[[f64; 2]]) -> Vec<Residual> {
        let lines = gaps.iter().enumerate().flat_map(|(line, two)| {
            two.iter().enumerate().map(move |(batch, gap)| Residual {
                batch,
                line,
                gap: *gap,
                variance: 1.0,
            })
        });
        lines.collect()
    }

    fn read(residuals: &[Residual]) -> Scatter {
        scatter(residuals, &means(residuals, |it| it.line))
    }

    #[test]
    fn the_mean_of_cut_squares_is_that_of_the_normal_distribution() {
        let (c, normal) = (CUT, Normal::STANDARD);
        let tail = normal.upper_tail(c).get();
        let expected = 1.0 - 2.0 * tail - 2.0 * c * normal.density(c) + 2.0 * c * c * tail;
        assert!((MEAN_CUT_SQUARE - expected).abs() < 1e-9, "{expected}");
    }

    #[test]
    fn without_a_line_seen_twice_the_ranges_stay_as_they_are() {
        let once = [[3.0, 3.0]].map(|it| residuals(&[it])[..1].to_vec());
        assert!((read(&once[0]).factor_squared - 1.0).abs() < 1e-9);
        assert!((read(&[]).factor_squared - 1.0).abs() < 1e-9);
    }

    #[test]
    fn the_factor_is_drawn_to_one_as_by_ten_residuals() {
        // By hand: ten lines, each 2 and 0 about a mean of 1, the odd ones the other way round: squares
        // (1/1)/(1/2) = 2, below the cut at κ² near 1; they count ten halves twice, 10 in all:
        // κ² = (10·β + Σ min(z², 2.25κ²))/(20β) with Σ = 10·2 = 20 if 2 < 2.25κ², that is
        // (7.784652 + 20)/15.569304 = 1.78458.
        let gaps: Vec<[f64; 2]> = (0..10)
            .map(|it| if it % 2 == 0 { [2.0, 0.0] } else { [0.0, 2.0] })
            .collect();
        let found = read(&residuals(&gaps));
        assert!((found.factor_squared - 1.784_58).abs() < 1e-3, "{found:?}");
        // By hand: the batch means are 0, so no day moved them together.
        assert!(found.day.abs() < 1e-12 && found.shared.abs() < 1e-12);
    }

    #[test]
    fn what_moves_all_lines_of_a_batch_is_the_days_and_tells_less() {
        // By hand: all lines ±1 together; batch means ±1, Σm²/(B − 1) = 2.
        let together = read(&residuals(&[[1.0, -1.0]; 10]));
        assert!(together.shared > 0.8 && together.day > 0.8, "{together:?}");
        // Ten residuals that move as one tell hardly more than one: nearer to 1 than ten by themselves.
        let apart: Vec<[f64; 2]> = (0..10)
            .map(|it| {
                if it % 2 == 0 {
                    [1.0, -1.0]
                } else {
                    [-1.0, 1.0]
                }
            })
            .collect();
        let apart = read(&residuals(&apart));
        assert!(together.factor_squared < apart.factor_squared, "{apart:?}");
    }

    #[test]
    fn one_wild_residual_does_not_widen_every_range() {
        let mut gaps = [[0.7, -0.7]; 20];
        let calm = read(&residuals(&gaps)).factor_squared;
        gaps[0] = [20.0, -20.0];
        let wild = read(&residuals(&gaps)).factor_squared;
        // By hand: the mean square would grow by 800/50 = 16.
        assert!(wild < calm + 0.5, "{calm} {wild}");
    }
}
