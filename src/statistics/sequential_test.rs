//! A test that is looked at after every answer, with lines fixed beforehand.

use crate::statistics::Count;
use crate::statistics::Probability;

/// What a sequential test is to tell apart, and at which risks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SequentialTest {
    null: Probability,
    other: Probability,
    lines: SequentialLines,
}

/// The two lines: at or below −`down` + `slope`·n for the one answer, at or above `up` + `slope`·n for
/// the other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SequentialLines {
    /// Where the lower line begins, below 0.
    pub down: f64,
    /// Where the upper line begins, above 0.
    pub up: f64,
    /// What both gain with each try.
    pub slope: f64,
}

/// Where a sequential test stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stand {
    /// At or below the lower line: the null hypothesis is accepted.
    Null,
    /// At or above the upper line: the other one is accepted.
    Other,
    /// Between the lines: one more try.
    GoOn,
}

/// What becomes of a sequential test that is cut after a number of tries.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Course {
    /// The chance that it ends with the null hypothesis.
    pub null: Probability,
    /// The chance that it ends with the other one.
    pub other: Probability,
    /// The chance that it is cut undecided.
    pub undecided: Probability,
    /// The mean number of tries, cut ones with all of theirs.
    pub mean_length: f64,
}

impl SequentialTest {
    /// The test of chance `null` against a higher chance `other`, with a risk of `alpha` for accepting
    /// `other` though `null` is true and of `beta` for the reverse (Wald 1947, Sequential Analysis,
    /// section 5.3; ISO 16820). `None` unless 0 < `null` < `other` < 1, both risks are above 0 and
    /// their sum is below 1.
    #[must_use]
    pub fn new(
        null: Probability,
        other: Probability,
        alpha: Probability,
        beta: Probability,
    ) -> Option<Self> {
        let (p0, p1) = (null.get(), other.get());
        let (alpha, beta) = (alpha.get(), beta.get());
        let sound = 0.0 < p0 && p0 < p1 && p1 < 1.0 && alpha > 0.0 && beta > 0.0;
        if !sound || alpha + beta >= 1.0 {
            return None;
        }
        let gain = (p1 * (1.0 - p0) / (p0 * (1.0 - p1))).ln();
        let lines = SequentialLines {
            down: ((1.0 - alpha) / beta).ln() / gain,
            up: ((1.0 - beta) / alpha).ln() / gain,
            slope: ((1.0 - p0) / (1.0 - p1)).ln() / gain,
        };
        Some(Self { null, other, lines })
    }

    /// The lines.
    #[must_use]
    pub const fn lines(self) -> SequentialLines {
        self.lines
    }

    /// Where it stands after so many hits in so many tries; valid only if it has gone on until then.
    #[must_use]
    pub fn stand(self, count: Count) -> Stand {
        let SequentialLines { down, up, slope } = self.lines;
        let hits = f64::from(count.hits());
        let drift = slope * f64::from(count.tries());
        if hits <= drift - down {
            Stand::Null
        } else if hits >= drift + up {
            Stand::Other
        } else {
            Stand::GoOn
        }
    }

    /// Where answers in their order lead: the first count at which it ended, or all of them.
    #[must_use]
    pub fn follow(self, hits: impl IntoIterator<Item = bool>) -> (Count, Stand) {
        let mut tries = 0;
        let mut sum = 0;
        let mut count = Count::NONE;
        for hit in hits {
            tries += 1;
            sum += u32::from(hit);
            count = Count::new(sum, tries).unwrap_or(count);
            let stand = self.stand(count);
            if stand != Stand::GoOn {
                return (count, stand);
            }
        }
        (count, Stand::GoOn)
    }

    /// What becomes of it if every try hits with `chance` and it is cut after `cut` tries.
    #[must_use]
    pub fn course(self, chance: Probability, cut: u32) -> Course {
        course(|count| self.stand(count), chance, cut)
    }

    /// What becomes of it where the null hypothesis is true: `other` is the true alpha.
    #[must_use]
    pub fn course_at_null(self, cut: u32) -> Course {
        self.course(self.null, cut)
    }

    /// What becomes of it where the other hypothesis is true: `null` is the true beta.
    #[must_use]
    pub fn course_at_other(self, cut: u32) -> Course {
        self.course(self.other, cut)
    }
}

/// What becomes of a test that is looked at after every try, whose stop rule is `stand`, if every try
/// hits with `chance` and it is cut after `cut` tries: by exact recursion over the counts that go on.
#[must_use]
pub fn course(stand: impl Fn(Count) -> Stand, chance: Probability, cut: u32) -> Course {
    let mut open = vec![1.0];
    let (mut null, mut other, mut length) = (0.0, 0.0, 0.0);
    for tries in 1..=cut {
        length += open.iter().sum::<f64>();
        let mut next = vec![0.0; open.len() + 1];
        for (hits, share) in open.iter().enumerate() {
            next[hits] += share * chance.complement().get();
            next[hits + 1] += share * chance.get();
        }
        for (hits, share) in (0..).zip(&mut next) {
            let Some(count) = Count::new(hits, tries) else {
                continue;
            };
            match stand(count) {
                Stand::Null => null += std::mem::take(share),
                Stand::Other => other += std::mem::take(share),
                Stand::GoOn => {}
            }
        }
        open = next;
    }
    Course {
        null: Probability::rounded(null),
        other: Probability::rounded(other),
        undecided: Probability::rounded(open.iter().sum()),
        mean_length: length,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn p(value: f64) -> Probability {
        Probability::new(value).unwrap()
    }

    fn test(null: f64, other: f64, alpha: f64, beta: f64) -> SequentialTest {
        SequentialTest::new(p(null), p(other), p(alpha), p(beta)).unwrap()
    }

    fn lines_are(test: SequentialTest, down: f64, up: f64, slope: f64, digits: f64) {
        let found = test.lines();
        assert!((found.down - down).abs() < digits, "{found:?}");
        assert!((found.up - up).abs() < digits, "{found:?}");
        assert!((found.slope - slope).abs() < digits, "{found:?}");
    }

    #[test]
    fn the_printed_plan_of_item_by_item_sampling_is_met() {
        // Montgomery, Introduction to Statistical Quality Control, item-by-item sampling: -1.22 + 0.028n
        // and 1.57 + 0.028n (from memory; worked out again by calculator).
        lines_are(test(0.01, 0.06, 0.05, 0.10), 1.2211, 1.5678, 0.02811, 5e-5);
    }

    #[test]
    fn lines_of_triangles_are_those_worked_out_in_python() {
        // Wald's formulas in Python floats, four digits.
        for (pd, alpha, beta, down, up, slope) in [
            (0.3, 0.05, 0.05, 3.5618, 3.5618, 0.4315),
            (0.3, 0.05, 0.10, 2.7233, 3.4964, 0.4315),
            (0.5, 0.05, 0.05, 2.1240, 2.1240, 0.5000),
            (0.5, 0.05, 0.10, 1.6240, 2.0850, 0.5000),
        ] {
            let third = 1.0 / 3.0;
            let plan = test(third, third + (1.0 - third) * pd, alpha, beta);
            lines_are(plan, down, up, slope, 5.1e-5);
        }
    }

    #[test]
    fn the_printed_example_of_the_standard_ends_where_it_says() {
        // ISO 16820, example 2, a duo-trio test (rows read; chances .5 and .7, risks .10 from memory).
        let plan = test(0.5, 0.7, 0.1, 0.1);
        let hits = |row: &'static str| row.chars().map(|it| it == '1');
        let ends = |hits, tries| Count::new(hits, tries).unwrap();
        assert_eq!(plan.follow(hits("00010101010")), (ends(4, 11), Stand::Null));
        assert_eq!(
            plan.follow(hits("111101110111")),
            (ends(10, 12), Stand::Other)
        );
        assert_eq!(plan.follow(hits("1111011101")), (ends(8, 10), Stand::GoOn));
        assert_eq!(plan.follow(hits("")), (ends(0, 0), Stand::GoOn));
    }

    #[test]
    fn the_decision_table_of_triangles_is_met() {
        // p1 = 2/3, both risks .05: slope 1/2 exactly, lines from ln 19/ln 4, counted by hand.
        let plan = test(1.0 / 3.0, 2.0 / 3.0, 0.05, 0.05);
        let null = [
            -1, -1, -1, -1, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6, 7, 7,
        ];
        let other = [
            9, 9, 9, 9, 5, 6, 6, 7, 7, 8, 8, 9, 9, 10, 10, 11, 11, 12, 12, 13,
        ];
        for (tries, (null, other)) in (1_u32..).zip(null.into_iter().zip(other)) {
            for hits in 0..=tries {
                let expected = match i64::from(hits) {
                    it if it <= null => Stand::Null,
                    it if it >= other => Stand::Other,
                    _ => Stand::GoOn,
                };
                let found = plan.stand(Count::new(hits, tries).unwrap());
                assert_eq!(found, expected, "{hits} of {tries}");
            }
        }
    }

    #[test]
    fn what_becomes_of_it_is_the_recursion_in_fractions() {
        // Python fractions, the same two lines; uncut the error is 1/33 and the mean length 155/11.
        let plan = test(1.0 / 3.0, 2.0 / 3.0, 0.05, 0.05);
        for (cut, other, undecided, length) in [
            (
                10,
                0.012_752_121_119_748,
                0.579_180_003_048_315_9,
                8.734_186_861_758_88,
            ),
            (
                21,
                0.025_533_505_974_100_3,
                0.157_394_302_854_689_2,
                12.484_761_344_152_87,
            ),
            (500, 1.0 / 33.0, 0.0, 155.0 / 11.0),
        ] {
            let found = plan.course_at_null(cut);
            assert!(
                (found.other.get() - other).abs() < 1e-13,
                "{cut}: {found:?}"
            );
            assert!(
                (found.undecided.get() - undecided).abs() < 1e-13,
                "{found:?}"
            );
            assert!((found.mean_length - length).abs() < 1e-11, "{found:?}");
            let all = found.null.get() + found.other.get() + found.undecided.get();
            assert!((all - 1.0).abs() < 1e-13, "{found:?}");
            // The lines lie evenly about 1/2, and so do 1/3 and 2/3.
            let mirrored = plan.course_at_other(cut);
            assert!((mirrored.null.get() - other).abs() < 1e-13, "{mirrored:?}");
            assert!(
                (mirrored.mean_length - length).abs() < 1e-11,
                "{mirrored:?}"
            );
        }
    }

    #[test]
    fn what_is_no_test_is_refused() {
        let refused = |null, other, alpha, beta| {
            SequentialTest::new(p(null), p(other), p(alpha), p(beta)).is_none()
        };
        assert!(refused(0.5, 0.5, 0.05, 0.05));
        assert!(refused(0.5, 0.4, 0.05, 0.05));
        assert!(refused(0.5, 1.0, 0.05, 0.05));
        assert!(refused(0.0, 0.5, 0.05, 0.05));
        assert!(refused(0.3, 0.5, 0.0, 0.05));
        assert!(refused(0.3, 0.5, 0.5, 0.5));
    }
}
