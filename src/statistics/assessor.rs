//! Whether one assessor tells samples apart, by the assessor's own repeats.

use crate::statistics::FTest;
use crate::statistics::GroupsRefused;
use crate::statistics::Moments;
use crate::statistics::squares::beyond_rounding;
use crate::statistics::whole;

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

/// Sums of squares of one assessor, gathered sitting by sitting: samples are compared within a sitting only, so
/// that a day that moves all answers alike moves nothing here.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AssessorSums {
    answers: Moments,
    samples: u64,
    between: f64,
    between_freedom: u64,
    error: f64,
    error_freedom: u64,
}

/// How many numbers they are made of.
pub const ASSESSOR_NUMBERS: usize = 9;

impl AssessorSums {
    /// Of no answer.
    pub const NONE: Self = Self {
        answers: Moments::NONE,
        samples: 0,
        between: 0.0,
        between_freedom: 0,
        error: 0.0,
        error_freedom: 0,
    };

    /// Of the answers of one sitting, given by sample: Σnᵢ(ȳᵢ − ȳ)² between samples and Σ(nᵢ − 1)sᵢ² within
    /// them. Samples may have different numbers of answers; one without an answer counts as none.
    #[must_use]
    pub fn of(samples: &[Vec<f64>]) -> Self {
        let each = samples.iter().filter(|it| !it.is_empty());
        let each: Vec<Moments> = each.map(|it| Moments::of(it)).collect();
        let nothing = Moments::NONE;
        let answers = each.iter().fold(nothing, |all, it| all.joined(*it));
        let error: f64 = each.iter().map(|it| it.squares()).sum();
        let mut all = Self {
            answers,
            samples: each.len() as u64,
            between: 0.0,
            between_freedom: (each.len() as u64).saturating_sub(1),
            error,
            error_freedom: answers.count() - each.len() as u64,
        };
        if all.between_freedom > 0 {
            let apart = |it: &Moments| it.count() as f64 * (it.mean() - answers.mean()).powi(2);
            let [count, _, _, largest] = answers.numbers();
            let apart: f64 = each.iter().map(apart).sum();
            all.between = beyond_rounding(apart, whole_count(count), largest);
        }
        all
    }

    /// Of the sittings of both.
    #[must_use]
    pub fn joined(self, other: Self) -> Self {
        Self {
            answers: self.answers.joined(other.answers),
            samples: self.samples + other.samples,
            between: self.between + other.between,
            between_freedom: self.between_freedom + other.between_freedom,
            error: self.error + other.error,
            error_freedom: self.error_freedom + other.error_freedom,
        }
    }

    /// All answers.
    #[must_use]
    pub const fn answers(&self) -> Moments {
        self.answers
    }

    /// The analysis of variance: F = MS(samples)/MS(error), `s_r` = √MS(error), in one sitting that of ISO
    /// 8586:2012, Annex C, and ISO 11132:2021.
    ///
    /// # Errors
    /// No sitting has two samples with an answer, or nothing was answered twice.
    pub fn variance(&self) -> Result<AssessorVariance, GroupsRefused> {
        if self.between_freedom == 0 {
            let samples = usize::try_from(self.samples).unwrap_or(usize::MAX);
            return Err(GroupsRefused::TooFewGroups(samples.min(1)));
        }
        if self.error_freedom == 0 {
            return Err(GroupsRefused::NothingRepeated);
        }
        let freedom = |it: u64| usize::try_from(it).unwrap_or(usize::MAX);
        let between = self.between / self.between_freedom as f64;
        let error = self.error / self.error_freedom as f64;
        Ok(AssessorVariance {
            mean: self.answers.mean(),
            samples: freedom(self.samples),
            between,
            error,
            test: FTest::of(
                (between, freedom(self.between_freedom)),
                (error, freedom(self.error_freedom)),
            ),
            repeatability_sd: error.sqrt(),
        })
    }

    /// The numbers they are made of.
    #[must_use]
    pub fn numbers(&self) -> [f64; ASSESSOR_NUMBERS] {
        let [count, mean, squares, largest] = self.answers.numbers();
        [
            count,
            mean,
            squares,
            largest,
            self.samples as f64,
            self.between,
            self.between_freedom as f64,
            self.error,
            self.error_freedom as f64,
        ]
    }

    /// Made of their numbers; `None` when answers cannot have them.
    #[must_use]
    pub fn from_numbers(numbers: [f64; ASSESSOR_NUMBERS]) -> Option<Self> {
        let [
            count,
            mean,
            squares,
            largest,
            samples,
            between,
            apart,
            error,
            freedom,
        ] = numbers;
        let sound = |it: f64| it >= 0.0 && it.is_finite();
        if !sound(between) || !sound(error) {
            return None;
        }
        Some(Self {
            answers: Moments::from_numbers([count, mean, squares, largest])?,
            samples: whole(samples)?,
            between,
            between_freedom: whole(apart)?,
            error,
            error_freedom: whole(freedom)?,
        })
    }
}

fn whole_count(count: f64) -> usize {
    whole(count)
        .and_then(|it| usize::try_from(it).ok())
        .unwrap_or(usize::MAX)
}

#[cfg(test)]
mod tests {
    use crate::statistics::FOutcome;
    use crate::statistics::near::near;

    use super::*;

    /// ISO 8586:2012, Annex C: three assessors, six batches, three answers each.
    const BATCHES: [[[u8; 3]; 6]; 3] = include!("../../tests/standards/iso-8586-annex-c.in");

    fn answers(batches: [[u8; 3]; 6]) -> Vec<Vec<f64>> {
        batches.map(|it| it.map(f64::from).to_vec()).to_vec()
    }

    fn variance(samples: &[Vec<f64>]) -> Result<AssessorVariance, GroupsRefused> {
        AssessorSums::of(samples).variance()
    }

    #[test]
    fn a_day_that_moves_all_answers_alike_moves_no_test() {
        // The table of the standard, once as it is and once a digit lower: twice the squares on twice the
        // degrees of freedom, so the same mean squares and F.
        let one = AssessorSums::of(&answers(BATCHES[0]));
        let lower = answers(BATCHES[0]);
        let lower: Vec<Vec<f64>> = lower
            .iter()
            .map(|it| it.iter().map(|it| it - 1.0).collect())
            .collect();
        let both = one.joined(AssessorSums::of(&lower));
        let found = both.variance().unwrap();
        near(found.between / found.error, 13.36, 5.1e-3);
        assert_eq!((found.test.above, found.test.below), (10, 24));
        assert_eq!(AssessorSums::from_numbers(both.numbers()), Some(both));
        let mut bad = both.numbers();
        bad[7] = f64::NAN;
        assert_eq!(AssessorSums::from_numbers(bad), None);
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
            let found = variance(&answers(batches)).unwrap();
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
        let apart = variance(&[vec![3.0, 3.0], vec![5.0, 5.0]]).unwrap();
        assert_eq!(apart.test.outcome, FOutcome::NothingScatters);
        let same = variance(&[vec![0.1, 0.1, 0.1], vec![0.1, 0.1]]).unwrap();
        assert_eq!(same.test.outcome, FOutcome::NothingDiffers);
        assert_eq!((same.repeatability_sd, same.between), (0.0, 0.0));
    }

    #[test]
    fn answers_that_cannot_be_tested_are_refused_with_the_reason() {
        let refused = |samples: &[Vec<f64>]| variance(samples).unwrap_err();
        assert_eq!(refused(&[]), GroupsRefused::TooFewGroups(0));
        assert_eq!(refused(&[vec![1.0, 2.0]]), GroupsRefused::TooFewGroups(1));
        assert_eq!(
            refused(&[vec![1.0], vec![2.0]]),
            GroupsRefused::NothingRepeated
        );
    }
}
