//! How closely repeats agree: within one group, between groups, and over both.

use crate::statistics::CoverFactor;
use crate::statistics::GroupsRefused;
use crate::statistics::OneWay;

/// Precision of a measurement repeated in several groups (laboratories, persons).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Precision {
    /// The mean of all values.
    pub mean: f64,
    /// Groups with a value.
    pub groups: usize,
    /// Standard deviation of repeats within a group, `s_r`.
    pub within_sd: f64,
    /// Degrees of freedom of `s_r`.
    pub freedom: usize,
    /// Standard deviation of the groups' true means, `s_L`.
    pub between_sd: f64,
    /// The estimate of its square, which may lie below 0.
    pub between_excess: f64,
    /// Whether that is an estimate or a floor.
    pub between: BetweenGroups,
    /// Standard deviation of single values of different groups, `s_R`.
    pub reproducibility_sd: f64,
    /// Values of a group, averaged as the variances ask for it, n̄.
    pub mean_size: f64,
}

/// Where a variance between groups comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BetweenGroups {
    /// It was estimated.
    Estimated,
    /// The estimate was not above 0, which no variance is below: 0 was put in its place.
    Floored,
}

/// Precision from groups of unequal size.
///
/// ISO 5725-2:1994, 7.4.4 and 7.4.5: `s_r²` = Σ(nᵢ − 1)sᵢ²/Σ(nᵢ − 1), `s_L²` = (`s_d²` − `s_r²`)/n̄ or 0,
/// `s_R²` = `s_r²` + `s_L²`, with the mean square `s_d²` between groups. With groups of equal size this is ASTM
/// E691, section 15: `s_R²` = the larger of `s_x̄²` + `s_r²`(n − 1)/n and `s_r²`.
///
/// # Errors
/// Fewer than two groups have a value, or nothing was repeated, or a value is no number.
pub fn precision(groups: &[Vec<f64>]) -> Result<Precision, GroupsRefused> {
    let squares = OneWay::of(groups)?;
    let within = squares.within.sd.powi(2);
    let excess = (squares.between - within) / squares.mean_size;
    Ok(Precision {
        mean: squares.mean,
        groups: squares.groups,
        within_sd: squares.within.sd,
        freedom: squares.within.freedom,
        between_sd: excess.max(0.0).sqrt(),
        between_excess: excess,
        between: if excess > 0.0 {
            BetweenGroups::Estimated
        } else {
            BetweenGroups::Floored
        },
        reproducibility_sd: (within + excess.max(0.0)).sqrt(),
        mean_size: squares.mean_size,
    })
}

/// What the difference of two readings of one thing stays below in 95 % of pairs: the factor times √2 times the
/// standard deviation of one reading (Bland & Altman 1986, Lancet 327:307-310: 2·√(Σd²/n), where Σd²/2n is that
/// variance).
#[must_use]
pub fn repeatability_limit(within_sd: f64, factor: CoverFactor) -> f64 {
    factor.get() * std::f64::consts::SQRT_2 * within_sd
}

#[cfg(test)]
mod tests {
    use crate::statistics::Dice;
    use crate::statistics::near::near;

    use super::*;

    /// ISO 5725-2:1994 Annex B.1, sulfur in coal, level 1 (from memory).
    fn coal() -> Vec<Vec<f64>> {
        vec![
            vec![0.71, 0.71, 0.70, 0.71],
            vec![0.69, 0.67, 0.68],
            vec![0.66, 0.65, 0.69],
            vec![0.67, 0.65, 0.66],
            vec![0.70, 0.69, 0.66, 0.71, 0.69],
            vec![0.73, 0.74, 0.73],
            vec![0.71, 0.71, 0.69],
            vec![0.70, 0.65, 0.68],
        ]
    }

    /// Glucose in blood, materials A and B of ASTM E691 (GLUCOSE.DAT of the Dataplot library, NIST).
    fn glucose() -> [Vec<Vec<f64>>; 2] {
        let low = [
            [41.03, 41.45, 41.37],
            [41.17, 42.00, 41.15],
            [41.01, 40.68, 42.66],
            [39.37, 42.37, 42.63],
            [41.88, 41.19, 41.32],
            [43.28, 40.50, 42.28],
            [41.08, 41.27, 39.02],
            [43.36, 42.65, 41.72],
        ];
        let high = [
            [78.28, 78.18, 78.49],
            [77.78, 80.38, 79.54],
            [79.18, 79.72, 80.81],
            [84.08, 78.60, 81.92],
            [78.16, 79.58, 78.33],
            [78.66, 79.27, 81.75],
            [79.76, 81.45, 77.35],
            [80.44, 80.80, 79.80],
        ];
        [low, high].map(|rows| rows.map(|row| row.to_vec()).to_vec())
    }

    #[test]
    fn sulfur_in_coal_has_the_precision_of_the_standard() {
        // ISO 5725-2:1994 B.1 level 1 (from memory): m 0.690, s_r 0.015, s_R 0.026, to the third digit;
        // to six digits as recomputed with scipy 1.17: 0.69037, 0.015117, 0.021600, 0.026364, n̄ 3.35450.
        let found = precision(&coal()).unwrap();
        near(found.mean, 0.690, 5e-4);
        near(found.within_sd, 0.015, 5e-4);
        near(found.reproducibility_sd, 0.026, 5e-4);
        near(found.mean, 0.690_37, 5e-6);
        near(found.within_sd, 0.015_117, 5e-7);
        near(found.between_sd, 0.021_600, 5e-7);
        near(found.reproducibility_sd, 0.026_364, 5e-7);
        near(found.mean_size, 3.354_50, 5e-6);
        assert_eq!((found.groups, found.freedom), (8, 19));
        assert_eq!(found.between, BetweenGroups::Estimated);
    }

    #[test]
    fn glucose_has_the_precision_of_the_standard() {
        // ASTM E691, materials A and B (from memory): mean, s_r, s_R to the fourth digit printed; of A the
        // variance between laboratories is floored.
        let expected = [[41.5183, 1.0632, 1.0632], [79.6796, 1.4949, 1.5796]];
        for (cells, [mean, within, both]) in glucose().iter().zip(expected) {
            let found = precision(cells).unwrap();
            near(found.mean, mean, 5.1e-5);
            near(found.within_sd, within, 5.1e-5);
            near(found.reproducibility_sd, both, 5.1e-5);
        }
        let low = precision(&glucose()[0]).unwrap();
        assert_eq!(low.between, BetweenGroups::Floored);
    }

    #[test]
    fn moving_and_stretching_values_moves_the_mean_and_stretches_the_rest() {
        let mut dice = Dice::from_seed(31);
        for _ in 0..50 {
            let groups: Vec<Vec<f64>> = (0..dice.whole(2, 6))
                .map(|_| (0..dice.whole(2, 5)).map(|_| dice.normal()).collect())
                .collect();
            let moved: Vec<Vec<f64>> = groups
                .iter()
                .map(|it| it.iter().map(|y| 3.0 * y - 7.0).collect())
                .collect();
            let [one, other] = [&groups, &moved].map(|it| precision(it).unwrap());
            near(other.mean, 3.0 * one.mean - 7.0, 1e-9);
            near(other.within_sd, 3.0 * one.within_sd, 1e-9);
            near(other.reproducibility_sd, 3.0 * one.reproducibility_sd, 1e-9);
            assert!(one.reproducibility_sd >= one.within_sd);
        }
    }

    #[test]
    fn second_readings_of_peak_flow_repeat_as_published() {
        // Bland & Altman 1986, Wright meter: first less second reading; 2·√(Σd²/n) printed 43.2 (from
        // memory), 43.29 unrounded; s_w 15.307 recomputed with scipy 1.17.
        let squares: i32 = [
            4, -2, 4, 33, 6, -54, -2, 11, 12, 4, -3, 23, -8, -14, 13, 51, 6,
        ]
        .map(|it: i32| it * it)
        .iter()
        .sum();
        let within = (f64::from(squares) / 34.0).sqrt();
        near(within, 15.307, 5e-4);
        near(repeatability_limit(within, CoverFactor::Two), 43.29, 0.005);
        let normal = repeatability_limit(within, CoverFactor::Normal);
        near(normal, 43.29 * 1.959_964 / 2.0, 0.005);
    }

    #[test]
    fn what_has_no_precision_is_refused_with_the_reason() {
        assert_eq!(
            precision(&[vec![1.0, 2.0]]),
            Err(GroupsRefused::TooFewGroups(1))
        );
        assert_eq!(
            precision(&[vec![1.0], vec![2.0]]),
            Err(GroupsRefused::NothingRepeated)
        );
    }
}
