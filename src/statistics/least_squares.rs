//! A straight line through several causes at once, by least squares.

use thiserror::Error;

use crate::statistics::Interval;
use crate::statistics::Probability;
use crate::statistics::StudentT;
use crate::statistics::cholesky::Cholesky;
use crate::statistics::interval::student_reach;
use crate::statistics::squares::mean;
use crate::statistics::squares::squares;

/// A cause that is nearly a sum of the others has an inverse of which no digit of the answer survives.
const MOST_TIED: f64 = 1e8;

/// What one cause does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slope {
    /// By how much the outcome changes for each unit of the cause, the others held.
    pub value: f64,
    /// The 95 % interval.
    pub interval: Interval,
    /// How often chance alone makes so large a slope.
    pub p: Probability,
}

/// Why no line can be drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum NoSlopes {
    /// There are hardly more points than causes.
    #[error("there are {points} points, and at least {needed} are needed")]
    TooFewPoints {
        /// The points.
        points: usize,
        /// How many it takes.
        needed: usize,
    },
    /// A cause never changes, or two change together.
    #[error("a cause never changes, or two of them always change together")]
    CausesTied,
}

/// The slopes of each cause; every point is an outcome with the values of all causes.
///
/// b = (XᵀX)⁻¹Xᵀy with centred X, s² = residual squares/(n − k − 1), standard errors s√((XᵀX)⁻¹)ⱼⱼ, Student's t on
/// n − k − 1 (Draper & Smith 1998, Applied Regression Analysis, chapter 5). Causes are divided by their spread
/// first, which only helps the arithmetic.
///
/// # Errors
/// There are fewer than three points more than causes, or causes are tied.
pub fn slopes<const CAUSES: usize>(
    points: &[([f64; CAUSES], f64)],
) -> Result<[Slope; CAUSES], NoSlopes> {
    let needed = CAUSES + 3;
    if points.len() < needed {
        return Err(NoSlopes::TooFewPoints {
            points: points.len(),
            needed,
        });
    }
    let (centred, spreads) = scaled(points).ok_or(NoSlopes::CausesTied)?;
    let outcomes: Vec<f64> = points.iter().map(|it| it.1).collect();
    let middle = mean(&outcomes);
    let outcomes: Vec<f64> = outcomes.iter().map(|it| it - middle).collect();
    let normal: Vec<f64> = (0..CAUSES * CAUSES)
        .map(|at| dot(&centred[at / CAUSES], &centred[at % CAUSES]))
        .collect();
    let solved = Cholesky::of(normal, CAUSES).ok_or(NoSlopes::CausesTied)?;
    let inverse = inverse_diagonal::<CAUSES>(&solved).ok_or(NoSlopes::CausesTied)?;
    let right: Vec<f64> = centred.iter().map(|it| dot(it, &outcomes)).collect();
    let found = solved.solve(&right);
    let freedom = points.len() - CAUSES - 1;
    let left = (dot(&outcomes, &outcomes) - dot(&found, &right)).max(0.0) / freedom as f64;
    Ok(std::array::from_fn(|cause| {
        let value = found[cause] / spreads[cause];
        let error = (left * inverse[cause]).sqrt() / spreads[cause];
        slope(value, error, freedom)
    }))
}

fn slope(value: f64, error: f64, freedom: usize) -> Slope {
    let student = StudentT::new(freedom as f64).filter(|_| error > 0.0);
    Slope {
        value,
        interval: Interval::around(value, student_reach(freedom) * error),
        p: student.map_or(Probability::ONE, |it| it.two_sided_p(value / error)),
    }
}

/// The diagonal of the inverse; none where causes are tied.
fn inverse_diagonal<const CAUSES: usize>(solved: &Cholesky) -> Option<[f64; CAUSES]> {
    let inverse: [f64; CAUSES] = std::array::from_fn(|cause| {
        let mut unit = vec![0.0; CAUSES];
        unit[cause] = 1.0;
        solved.solve(&unit)[cause]
    });
    inverse.iter().all(|it| *it <= MOST_TIED).then_some(inverse)
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// Each cause less its mean and divided by its spread, and the spreads; none where a cause never changes.
fn scaled<const CAUSES: usize>(
    points: &[([f64; CAUSES], f64)],
) -> Option<([Vec<f64>; CAUSES], [f64; CAUSES])> {
    let columns: [Vec<f64>; CAUSES] =
        std::array::from_fn(|cause| points.iter().map(|it| it.0[cause]).collect());
    let spreads = columns.each_ref().map(|it| squares(it).sqrt());
    if spreads.iter().any(|it| *it <= 0.0) {
        return None;
    }
    let centred = std::array::from_fn(|cause| {
        let middle = mean(&columns[cause]);
        let column = columns[cause].iter();
        column.map(|it| (it - middle) / spreads[cause]).collect()
    });
    Some((centred, spreads))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plane_through_points_that_lie_on_it_is_found() {
        // Whole-number arithmetic: y = 3 + 2a - b, with a residual pattern (+1, -1, -1, +1) on the corners of two
        // squares that is at right angles to both causes.
        let mut points = Vec::new();
        for (a, b, off) in [
            (0.0, 0.0, 1.0),
            (0.0, 4.0, -1.0),
            (4.0, 0.0, -1.0),
            (4.0, 4.0, 1.0),
            (1.0, 1.0, 0.0),
            (3.0, 3.0, 0.0),
        ] {
            points.push(([a, b], 3.0 + 2.0 * a - b + off));
        }
        let [a, b] = slopes(&points).unwrap();
        assert!((a.value - 2.0).abs() < 1e-9, "{a:?}");
        assert!((b.value + 1.0).abs() < 1e-9, "{b:?}");
        // By hand: residual squares 4 on 3, s² = 4/3. Centred sums: aa = bb = 4·4 + 2 = 18, ab = 2; inverse
        // diagonal 18/(324 - 4) = 0.05625; error √(4/3·0.05625) = 0.273861; t(3) at 97.5 % is 3.182446 (printed
        // tables).
        let reach = 3.182_446 * 0.273_861;
        assert!((a.interval.high - 2.0 - reach).abs() < 1e-5, "{a:?}");
        assert!(a.p.get() < 0.01 && b.p.get() > a.p.get());
    }

    #[test]
    fn causes_that_never_change_or_change_together_have_no_slope() {
        let tied: Vec<([f64; 2], f64)> = (0..9)
            .map(|it| ([f64::from(it), 2.0 * f64::from(it)], f64::from(it * it)))
            .collect();
        assert_eq!(slopes(&tied), Err(NoSlopes::CausesTied));
        let still: Vec<([f64; 1], f64)> = (0..9).map(|it| ([1.0], f64::from(it))).collect();
        assert_eq!(slopes(&still), Err(NoSlopes::CausesTied));
        let few = slopes(&[([1.0], 1.0), ([2.0], 2.0)]);
        assert_eq!(
            few,
            Err(NoSlopes::TooFewPoints {
                points: 2,
                needed: 4
            })
        );
    }
}
