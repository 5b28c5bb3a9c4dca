//! Whether one assessor tells samples apart, by the assessor's own repeats.

use crate::statistics::FTest;
use crate::statistics::GroupsRefused;
use crate::statistics::OneWay;

/// One assessor's answers on several samples, each answered more than once.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AssessorVariance {
    /// The mean of all answers.
    pub mean: f64,
    /// Samples with an answer.
    pub samples: usize,
    /// Mean square between samples.
    pub between: f64,
    /// Mean square of repeats of a sample: the error.
    pub error: f64,
    /// Samples against error: a large F is an assessor who tells the samples apart.
    pub test: FTest,
    /// Standard deviation of repeats, `s_r`.
    pub repeatability_sd: f64,
}

/// The analysis of variance of one assessor's answers, given by sample.
///
/// ISO 8586:2012, Annex C, and ISO 11132:2021: F = MS(samples)/MS(error), `s_r` = √MS(error). Samples may
/// have different numbers of answers; one without an answer counts as none.
///
/// # Errors
/// Fewer than two samples have an answer, or no sample has two, or an answer is no number.
pub fn assessor_variance(samples: &[Vec<f64>]) -> Result<AssessorVariance, GroupsRefused> {
    let squares = OneWay::of(samples)?;
    let error = squares.within.sd.powi(2);
    Ok(AssessorVariance {
        mean: squares.mean,
        samples: squares.groups,
        between: squares.between,
        error,
        test: FTest::of(
            (squares.between, squares.groups - 1),
            (error, squares.within.freedom),
        ),
        repeatability_sd: squares.within.sd,
    })
}

#[cfg(test)]
mod tests {
    use crate::statistics::FOutcome;

    use super::*;

    /// ISO 8586:2012, Annex C: three assessors, six batches, three answers each.
    const BATCHES: [[[u8; 3]; 6]; 3] = [
        [
            [8, 8, 9],
            [6, 8, 7],
            [4, 5, 5],
            [6, 6, 5],
            [4, 5, 3],
            [5, 6, 6],
        ],
        [
            [5, 8, 9],
            [6, 7, 4],
            [5, 2, 3],
            [6, 4, 6],
            [3, 2, 4],
            [4, 2, 7],
        ],
        [
            [6, 7, 5],
            [5, 4, 7],
            [4, 3, 5],
            [4, 2, 4],
            [4, 4, 5],
            [5, 4, 6],
        ],
    ];

    fn answers(batches: [[u8; 3]; 6]) -> Vec<Vec<f64>> {
        batches.map(|it| it.map(f64::from).to_vec()).to_vec()
    }

    fn near(found: f64, expected: f64, within: f64) {
        assert!(
            (found - expected).abs() <= within,
            "{found}, not {expected}"
        );
    }

    #[test]
    fn three_assessors_have_the_figures_of_the_standard() {
        // ISO 8586:2012, Annex C: mean, mean square of samples and F as printed, two digits; error, p and
        // s_r recomputed with scipy 1.17, to the digits noted down.
        let expected = [
            (5.89, 7.42, 13.36, 0.5556, 0.000_15, 5.1e-6, 0.7454),
            (4.83, 7.83, 2.66, 2.9444, 0.0766, 5.1e-5, 1.7159),
            (4.67, 2.80, 2.40, 1.1667, 0.0994, 5.1e-5, 1.0801),
        ];
        for (batches, (mean, between, ratio, error, chance, digits, sd)) in
            BATCHES.into_iter().zip(expected)
        {
            let found = assessor_variance(&answers(batches)).unwrap();
            near(found.mean, mean, 5.1e-3);
            near(found.between, between, 5.1e-3);
            near(found.error, error, 5.1e-5);
            near(found.repeatability_sd, sd, 5.1e-5);
            assert_eq!(
                (found.test.above, found.test.below, found.samples),
                (5, 12, 6)
            );
            let FOutcome::Ratio { f, p } = found.test.outcome else {
                panic!("{found:?}");
            };
            near(f, ratio, 5.1e-3);
            near(p.get(), chance, digits);
        }
    }

    #[test]
    fn repeats_that_never_differ_give_no_ratio() {
        let apart = assessor_variance(&[vec![3.0, 3.0], vec![5.0, 5.0]]).unwrap();
        assert_eq!(apart.test.outcome, FOutcome::NothingScatters);
        let same = assessor_variance(&[vec![0.1, 0.1, 0.1], vec![0.1, 0.1]]).unwrap();
        assert_eq!(same.test.outcome, FOutcome::NothingDiffers);
        assert_eq!((same.repeatability_sd, same.between), (0.0, 0.0));
    }

    #[test]
    fn answers_that_cannot_be_tested_are_refused_with_the_reason() {
        let refused = |samples: &[Vec<f64>]| assessor_variance(samples).unwrap_err();
        assert_eq!(refused(&[]), GroupsRefused::TooFewGroups(0));
        assert_eq!(refused(&[vec![1.0, 2.0]]), GroupsRefused::TooFewGroups(1));
        assert_eq!(
            refused(&[vec![1.0], vec![2.0]]),
            GroupsRefused::NothingRepeated
        );
    }
}
