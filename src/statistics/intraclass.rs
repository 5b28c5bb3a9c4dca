//! Intraclass correlations in all six forms, each with its name, its interval and its F test.

use thiserror::Error;

use crate::statistics::CompleteTable;
use crate::statistics::FTest;
use crate::statistics::FisherF;
use crate::statistics::Interval;
use crate::statistics::Probability;
use crate::statistics::interval::BEYOND_EACH_END;
use crate::statistics::squares::beyond_rounding;
use crate::statistics::squares::largest;
use crate::statistics::squares::mean;

/// What raters are taken for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RaterModel {
    /// Each row was rated by other raters, drawn anew.
    OneWay,
    /// All rows were rated by the same raters, and a rater who is higher throughout disagrees.
    Agreement,
    /// All rows were rated by the same raters, and a constant difference between them does not count.
    Consistency,
}

/// Whose reliability is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RatedBy {
    /// That of a single rating.
    One,
    /// That of the mean of all raters.
    Mean,
}

/// One of the six forms of Shrout & Fleiss 1979 (Psychological Bulletin 86:420-428).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct IntraclassForm {
    /// What raters are taken for.
    pub model: RaterModel,
    /// Whose reliability it is.
    pub by: RatedBy,
}

impl IntraclassForm {
    /// All six, in the order of the paper.
    pub const ALL: [Self; 6] = [
        Self::new(RaterModel::OneWay, RatedBy::One),
        Self::new(RaterModel::Agreement, RatedBy::One),
        Self::new(RaterModel::Consistency, RatedBy::One),
        Self::new(RaterModel::OneWay, RatedBy::Mean),
        Self::new(RaterModel::Agreement, RatedBy::Mean),
        Self::new(RaterModel::Consistency, RatedBy::Mean),
    ];

    /// The form with this model, for one rating or for the mean.
    #[must_use]
    pub const fn new(model: RaterModel, by: RatedBy) -> Self {
        Self { model, by }
    }

    /// Its name in Shrout & Fleiss 1979, such as "ICC(2,1)".
    #[must_use]
    pub const fn name(self) -> &'static str {
        match (self.model, self.by) {
            (RaterModel::OneWay, RatedBy::One) => "ICC(1,1)",
            (RaterModel::Agreement, RatedBy::One) => "ICC(2,1)",
            (RaterModel::Consistency, RatedBy::One) => "ICC(3,1)",
            (RaterModel::OneWay, RatedBy::Mean) => "ICC(1,k)",
            (RaterModel::Agreement, RatedBy::Mean) => "ICC(2,k)",
            (RaterModel::Consistency, RatedBy::Mean) => "ICC(3,k)",
        }
    }
}

/// An intraclass correlation, which never goes without its form.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Intraclass {
    /// The form.
    pub form: IntraclassForm,
    /// The value: 1 at most, and below 0 where rows differ less than chance would have it.
    pub value: f64,
    /// The 95 % interval; none where mean squares of 0 leave nothing to tell how sure it is.
    pub interval: Option<Interval>,
    /// The test of rows that do not differ; what it is held against is in `denominator`.
    pub test: FTest,
    /// What stands below in the test.
    pub denominator: Denominator,
}

/// The mean square that rows are held against.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Denominator {
    /// All that differs within a row.
    WithinRows,
    /// What is left when rows and columns are taken out: error and interaction together.
    Residual,
}

/// Why a table has no intraclass correlation of a form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum NoIntraclass {
    /// All values are the same.
    #[error("all values are the same, so nothing can agree or disagree")]
    NoSpread,
    /// Rows hardly differ, so that the form would divide by nothing or by less.
    #[error("the rows differ too little for this form")]
    RowsAlike,
}

/// The mean squares of a table with one value a cell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TableSquares {
    /// Rows, n.
    pub height: usize,
    /// Columns, k.
    pub width: usize,
    /// Between rows, on n − 1 degrees of freedom.
    pub rows: f64,
    /// Between columns, on k − 1.
    pub columns: f64,
    /// Within rows, on n(k − 1).
    pub within: f64,
    /// What is left, on (n − 1)(k − 1).
    pub residual: f64,
}

impl TableSquares {
    /// The mean squares of a table: rows are what is rated, columns are raters.
    #[must_use]
    pub fn of(table: &CompleteTable) -> Self {
        let (height, width) = (table.height(), table.width());
        let grand = mean(table.cells());
        let rows: Vec<f64> = table.rows().map(|row| mean(row) - grand).collect();
        let columns: Vec<f64> = (0..width)
            .map(|it| mean(&table.column(it)) - grand)
            .collect();
        let left = table.rows().zip(&rows).flat_map(|(row, apart)| {
            let cells = row.iter().zip(&columns);
            cells.map(move |(value, column)| value - grand - apart - column)
        });
        let size = largest(table.cells());
        let clean = |sum| beyond_rounding(sum, height * width, size);
        let sum = |parts: &[f64]| parts.iter().map(|it| it * it).sum::<f64>();
        let of_rows = clean(sum(&rows) * width as f64);
        let of_columns = clean(sum(&columns) * height as f64);
        let residual = clean(left.map(|it| it * it).sum());
        Self {
            height,
            width,
            rows: of_rows / (height - 1) as f64,
            columns: of_columns / (width - 1) as f64,
            within: (of_columns + residual) / (height * (width - 1)) as f64,
            residual: residual / ((height - 1) * (width - 1)) as f64,
        }
    }

    /// The correlation in one form.
    ///
    /// Values by Shrout & Fleiss 1979, table 4; intervals by `McGraw` & Wong 1996 (Psychological Methods
    /// 1:30-46, table 7), which for agreement approximate the degrees of freedom of a sum of mean squares.
    ///
    /// # Errors
    /// All values are the same, or rows differ too little for the form.
    pub fn intraclass(&self, form: IntraclassForm) -> Result<Intraclass, NoIntraclass> {
        let value = self.value(form)?;
        let rows = self.height - 1;
        let (against, freedom, denominator) = match form.model {
            RaterModel::OneWay => {
                let freedom = self.height * (self.width - 1);
                (self.within, freedom, Denominator::WithinRows)
            }
            RaterModel::Agreement | RaterModel::Consistency => {
                let freedom = rows * (self.width - 1);
                (self.residual, freedom, Denominator::Residual)
            }
        };
        let interval = match form.model {
            RaterModel::Agreement => self.interval_of_agreement(form.by),
            RaterModel::OneWay | RaterModel::Consistency => {
                self.interval_of_ratio(form.by, (against, freedom))
            }
        };
        Ok(Intraclass {
            form,
            value,
            interval,
            test: FTest::of((self.rows, rows), (against, freedom)),
            denominator,
        })
    }

    fn value(&self, form: IntraclassForm) -> Result<f64, NoIntraclass> {
        let (n, k) = (self.height as f64, self.width as f64);
        let raters = (self.columns - self.residual) / n;
        let (against, raters) = match form.model {
            RaterModel::OneWay => (self.within, 0.0),
            RaterModel::Agreement => (self.residual, raters),
            RaterModel::Consistency => (self.residual, 0.0),
        };
        let below = match form.by {
            RatedBy::One => self.rows + (k - 1.0) * against + k * raters,
            RatedBy::Mean => self.rows + raters,
        };
        let value = (self.rows - against) / below;
        if below > 0.0 && value.is_finite() && value <= 1.0 {
            Ok(value)
        } else if self.rows + self.within == 0.0 {
            Err(NoIntraclass::NoSpread)
        } else {
            Err(NoIntraclass::RowsAlike)
        }
    }

    /// Limits of F/F₀ put into the form, for the two models with one mean square below.
    fn interval_of_ratio(&self, by: RatedBy, below: (f64, usize)) -> Option<Interval> {
        let k = self.width as f64;
        let (against, freedom) = (below.0, below.1 as f64);
        let rows = (self.height - 1) as f64;
        let f = self.rows / against;
        if !(f > 0.0 && f.is_finite()) {
            return None;
        }
        let correlation = |f: f64| match by {
            RatedBy::One => (f - 1.0) / (f + k - 1.0),
            RatedBy::Mean => 1.0 - 1.0 / f,
        };
        finite(
            correlation(f / critical(rows, freedom)?),
            correlation(f * critical(freedom, rows)?),
        )
    }

    fn interval_of_agreement(&self, by: RatedBy) -> Option<Interval> {
        let (n, k) = (self.height as f64, self.width as f64);
        let nu = self.freedom_of_agreement()?;
        if self.rows <= 0.0 {
            return None;
        }
        let others = match by {
            RatedBy::One => k * self.columns + (k * n - k - n) * self.residual,
            RatedBy::Mean => self.columns - self.residual,
        };
        let low = critical(n - 1.0, nu)?;
        let high = critical(nu, n - 1.0)?;
        let below_low = low * others + n * self.rows;
        let below_high = others + n * high * self.rows;
        if below_low <= 0.0 || below_high <= 0.0 {
            return None;
        }
        finite(
            n * (self.rows - low * self.residual) / below_low,
            n * (high * self.rows - self.residual) / below_high,
        )
    }

    /// Degrees of freedom ν of the sum of mean squares of columns and residual that agreement is held
    /// against, by Satterthwaite's approximation; none where that sum is nothing or less.
    fn freedom_of_agreement(&self) -> Option<f64> {
        let form = IntraclassForm::new(RaterModel::Agreement, RatedBy::One);
        let rho = self.value(form).ok()?;
        let (n, k) = (self.height as f64, self.width as f64);
        let size = self.columns + self.residual;
        let columns = k * rho * self.columns / size;
        let residual = (n * (1.0 + (k - 1.0) * rho) - k * rho) * self.residual / size;
        let sum = columns + residual;
        let parts = columns * columns + residual * residual / (n - 1.0);
        (size > 0.0 && sum > 0.0 && parts > 0.0).then(|| (k - 1.0) * sum * sum / parts)
    }
}

/// The F that is passed by chance at one end of a 95 % interval.
fn critical(above: f64, below: f64) -> Option<f64> {
    FisherF::new(above, below)?.upper_quantile(Probability::rounded(BEYOND_EACH_END))
}

fn finite(low: f64, high: f64) -> Option<Interval> {
    (low.is_finite() && high.is_finite()).then_some(Interval { low, high })
}

#[cfg(test)]
mod tests {
    use crate::statistics::Dice;
    use crate::statistics::FOutcome;
    use crate::statistics::TableRefused;
    use crate::statistics::near::near;

    use super::*;

    fn squares(rows: &[&[f64]]) -> TableSquares {
        let rows: Vec<Vec<Option<f64>>> = rows
            .iter()
            .map(|row| row.iter().copied().map(Some).collect())
            .collect();
        TableSquares::of(&CompleteTable::new(&rows).unwrap())
    }

    /// Shrout & Fleiss 1979, table 2: six targets, four judges.
    fn shrout_fleiss() -> TableSquares {
        squares(&[
            &[9.0, 2.0, 5.0, 8.0],
            &[6.0, 1.0, 3.0, 2.0],
            &[8.0, 4.0, 6.0, 8.0],
            &[7.0, 1.0, 2.0, 6.0],
            &[10.0, 5.0, 6.0, 9.0],
            &[6.0, 2.0, 4.0, 7.0],
        ])
    }

    #[test]
    fn mean_squares_are_those_of_shrout_and_fleiss() {
        // Shrout & Fleiss 1979, table 3 (from memory), to the second digit printed.
        let found = shrout_fleiss();
        near(found.rows, 11.24, 0.005);
        near(found.within, 6.26, 0.005);
        near(found.columns, 32.49, 0.005);
        near(found.residual, 1.02, 0.005);
    }

    #[test]
    fn the_six_forms_have_their_published_values() {
        // Shrout & Fleiss 1979, table 4 (from memory), to the second digit printed.
        let published = [0.17, 0.29, 0.71, 0.44, 0.62, 0.91];
        for (form, expected) in IntraclassForm::ALL.into_iter().zip(published) {
            let found = shrout_fleiss().intraclass(form).unwrap();
            near(found.value, expected, 0.005);
            assert_eq!(found.form, form);
        }
    }

    #[test]
    fn values_and_intervals_are_those_of_two_other_programs() {
        // R 4.2, psych::ICC, and pingouin, which agree; to the digits noted down.
        let expected = [
            (0.165_742, -0.1329, 0.7226),
            (0.289_764, 0.0188, 0.7611),
            (0.714_841, 0.3425, 0.9459),
            (0.442_797, -0.8844, 0.9124),
            (0.620_051, 0.0711, 0.9272),
            (0.909_316, 0.6757, 0.9859),
        ];
        for (form, (value, low, high)) in IntraclassForm::ALL.into_iter().zip(expected) {
            let found = shrout_fleiss().intraclass(form).unwrap();
            let interval = found.interval.unwrap();
            near(found.value, value, 5.1e-7);
            near(interval.low, low, 5.1e-5);
            near(interval.high, high, 5.1e-5);
        }
    }

    #[test]
    fn tests_are_those_of_two_other_programs_and_say_what_stands_below() {
        // R 4.2, psych::ICC, and pingouin: F1 = 1.79468 (5, 18) p = 0.16477, F3 = 11.02725 (5, 15)
        // p = 0.000134567.
        let [one, _, three, ..] =
            IntraclassForm::ALL.map(|form| shrout_fleiss().intraclass(form).unwrap());
        for (found, freedom, ratio, chance, digits) in [
            (one, (5, 18), 1.794_68, 0.164_77, 5.1e-6),
            (three, (5, 15), 11.027_25, 0.000_134_567, 5.1e-10),
        ] {
            assert_eq!((found.test.above, found.test.below), freedom);
            let FOutcome::Ratio { f, p } = found.test.outcome else {
                panic!("{found:?}");
            };
            near(f, ratio, 5.1e-6);
            near(p.get(), chance, digits);
        }
        assert_eq!(one.denominator, Denominator::WithinRows);
        assert_eq!(three.denominator, Denominator::Residual);
    }

    #[test]
    fn names_are_those_of_the_paper() {
        let names = IntraclassForm::ALL.map(IntraclassForm::name);
        let printed = [
            "ICC(1,1)", "ICC(2,1)", "ICC(3,1)", "ICC(1,k)", "ICC(2,k)", "ICC(3,k)",
        ];
        assert_eq!(names, printed);
    }

    #[test]
    fn a_table_with_a_gap_is_refused_before_anything_is_calculated() {
        let rows = [vec![Some(1.0), Some(2.0)], vec![Some(1.0), None]];
        let refused = CompleteTable::new(&rows).unwrap_err();
        assert_eq!(refused, TableRefused::Missing { row: 1, column: 1 });
        let one_rater = [vec![Some(1.0)], vec![Some(2.0)]];
        let refused = CompleteTable::new(&one_rater).unwrap_err();
        assert_eq!(refused, TableRefused::TooFewColumns(1));
        let one_sample = [vec![Some(1.0), Some(2.0)]];
        let refused = CompleteTable::new(&one_sample).unwrap_err();
        assert_eq!(refused, TableRefused::TooFewRows(1));
    }

    #[test]
    fn equal_values_neither_agree_nor_disagree() {
        let same = squares(&[&[0.1; 3], &[0.1; 3], &[0.1; 3]]);
        for form in IntraclassForm::ALL {
            assert_eq!(same.intraclass(form), Err(NoIntraclass::NoSpread));
        }
    }

    #[test]
    fn raters_who_say_the_same_agree_wholly_and_have_no_interval() {
        let same = squares(&[&[1.0, 1.0], &[2.0, 2.0], &[4.0, 4.0]]);
        for form in IntraclassForm::ALL {
            let found = same.intraclass(form).unwrap();
            near(found.value, 1.0, 1e-12);
            assert!(found.interval.is_none(), "{found:?}");
            assert_eq!(found.test.outcome, FOutcome::NothingScatters);
        }
    }

    #[test]
    fn a_constant_difference_breaks_agreement_and_not_consistency() {
        // By hand: rows 1 2 4 and the same plus 1: rows 2·(7/3), columns 1.5, residual 0;
        // ICC(2,1) = (14/3)/(14/3 + 2·1.5/3).
        let moved = squares(&[&[1.0, 2.0], &[2.0, 3.0], &[4.0, 5.0]]);
        let consistency = IntraclassForm::new(RaterModel::Consistency, RatedBy::One);
        let agreement = IntraclassForm::new(RaterModel::Agreement, RatedBy::One);
        near(moved.intraclass(consistency).unwrap().value, 1.0, 1e-12);
        let found = moved.intraclass(agreement).unwrap();
        near(found.value, 14.0 / 17.0, 1e-12);
        assert!(found.interval.unwrap().holds(found.value));
    }

    #[test]
    fn rows_that_are_alike_have_the_lowest_value_and_no_mean_form() {
        // By hand: BMS 0, so ICC(3,1) is −1/(k − 1).
        let alike = squares(&[&[1.0, 3.0, 2.0], &[2.0, 1.0, 3.0], &[3.0, 2.0, 1.0]]);
        for form in IntraclassForm::ALL {
            match (form.model, form.by, alike.intraclass(form)) {
                (RaterModel::Consistency, RatedBy::One, found) => {
                    near(found.unwrap().value, -0.5, 1e-12);
                }
                (_, RatedBy::Mean, found) => assert_eq!(found, Err(NoIntraclass::RowsAlike)),
                (_, RatedBy::One, found) => assert!(found.unwrap().interval.is_none()),
            }
        }
    }

    #[test]
    fn every_table_has_a_finite_answer_or_a_reason() {
        let mut dice = Dice::from_seed(32);
        let mut answered = 0;
        for _ in 0..2_000 {
            let [height, width, most] = [5, 4, 3].map(|most| dice.whole(2, most));
            let rows: Vec<Vec<Option<f64>>> = (0..height)
                .map(|_| {
                    (0..width)
                        .map(|_| Some(f64::from(dice.whole(0, most))))
                        .collect()
                })
                .collect();
            let squares = TableSquares::of(&CompleteTable::new(&rows).unwrap());
            for form in IntraclassForm::ALL {
                let Ok(found) = squares.intraclass(form) else {
                    continue;
                };
                answered += 1;
                assert!(
                    found.value.is_finite() && found.value <= 1.0,
                    "{rows:?} {found:?}"
                );
                if let Some(interval) = found.interval {
                    let ends = interval.low.is_finite() && interval.high <= 1.0;
                    assert!(ends && interval.holds(found.value), "{rows:?} {found:?}");
                }
            }
        }
        assert!(answered > 9_000, "{answered}");
    }
}
