//! Systems of equations with a symmetric positive matrix, which is how precisions of estimates come.

/// A symmetric positive matrix A as L·Lᵀ with L lower triangular.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::statistics) struct Cholesky {
    size: usize,
    /// L, row by row.
    lower: Vec<f64>,
}

impl Cholesky {
    /// The factor of a matrix given row by row, of which only the lower triangle is read; `None` unless
    /// it is positive definite (Golub & Van Loan 2013, Matrix Computations, algorithm 4.2.1).
    pub(in crate::statistics) fn of(mut matrix: Vec<f64>, size: usize) -> Option<Self> {
        for row in 0..size {
            for column in 0..=row {
                let [one, other] = [row, column].map(|it| &matrix[it * size..it * size + column]);
                let known: f64 = one.iter().zip(other).map(|(a, b)| a * b).sum();
                let left = matrix[row * size + column] - known;
                matrix[row * size + column] = if column < row {
                    left / matrix[column * size + column]
                } else if left > 0.0 && left.is_finite() {
                    left.sqrt()
                } else {
                    return None;
                };
            }
        }
        Some(Self {
            size,
            lower: matrix,
        })
    }

    /// The solution of A·x = `right`.
    pub(in crate::statistics) fn solve(&self, right: &[f64]) -> Vec<f64> {
        let mut x = self.half(right);
        for row in (0..self.size).rev() {
            x[row] /= self.lower[row * self.size + row];
            let (known, found) = x.split_at_mut(row);
            for (value, part) in known.iter_mut().zip(&self.lower[row * self.size..]) {
                *value -= part * found[0];
            }
        }
        x
    }

    /// zᵀ·A⁻¹·z, the variance of the sum of estimates with weights `z` when A is their precision.
    pub(in crate::statistics) fn inverse_form(&self, z: &[f64]) -> f64 {
        self.half(z).iter().map(|it| it * it).sum()
    }

    /// The logarithm of the determinant of A.
    pub(in crate::statistics) fn log_determinant(&self) -> f64 {
        let ends = (0..self.size).map(|it| self.lower[it * self.size + it].ln());
        2.0 * ends.sum::<f64>()
    }

    /// The solution of L·x = `right`.
    fn half(&self, right: &[f64]) -> Vec<f64> {
        let mut x: Vec<f64> = Vec::with_capacity(self.size);
        for (row, value) in right.iter().enumerate() {
            let parts = &self.lower[row * self.size..=row * self.size + row];
            let known: f64 = parts.iter().zip(&x).map(|(a, b)| a * b).sum();
            x.push((value - known) / parts[row]);
        }
        x
    }
}

#[cfg(test)]
mod tests {
    use crate::statistics::Dice;

    use super::*;

    #[test]
    fn a_system_solved_by_hand_comes_out() {
        // By hand: [[4, 2], [2, 5]]·(1, −2) = (0, −8); determinant 16; (1, 1)·A⁻¹·(1, 1) = 5/16.
        let factor = Cholesky::of(vec![4.0, 0.0, 2.0, 5.0], 2).unwrap();
        let found = factor.solve(&[0.0, -8.0]);
        assert!((found[0] - 1.0).abs() < 1e-14 && (found[1] + 2.0).abs() < 1e-14);
        assert!((factor.log_determinant() - 16.0_f64.ln()).abs() < 1e-14);
        assert!((factor.inverse_form(&[1.0, 1.0]) - 5.0 / 16.0).abs() < 1e-14);
    }

    #[test]
    fn solutions_put_back_give_the_right_side() {
        let mut dice = Dice::from_seed(38);
        for size in 1..=12 {
            let root: Vec<f64> = (0..size * size).map(|_| dice.normal()).collect();
            let cell = |row: usize, column: usize| {
                let [one, other] = [row, column].map(|it| &root[it * size..(it + 1) * size]);
                let product: f64 = one.iter().zip(other).map(|(a, b)| a * b).sum();
                product + f64::from(u8::from(row == column))
            };
            let matrix: Vec<f64> = (0..size * size)
                .map(|it| cell(it / size, it % size))
                .collect();
            let right: Vec<f64> = (0..size).map(|_| dice.normal()).collect();
            let factor = Cholesky::of(matrix.clone(), size).unwrap();
            let x = factor.solve(&right);
            for (row, expected) in matrix.chunks(size).zip(&right) {
                let found: f64 = row.iter().zip(&x).map(|(a, b)| a * b).sum();
                assert!((found - expected).abs() < 1e-10, "{size}");
            }
            let form: f64 = right.iter().zip(&x).map(|(a, b)| a * b).sum();
            assert!((factor.inverse_form(&right) - form).abs() < 1e-10, "{size}");
        }
    }

    #[test]
    fn what_is_not_positive_has_no_factor() {
        assert_eq!(Cholesky::of(vec![1.0, 2.0, 2.0, 1.0], 2), None);
        assert_eq!(Cholesky::of(vec![f64::NAN], 1), None);
        assert_eq!(Cholesky::of(vec![0.0], 1), None);
    }
}
