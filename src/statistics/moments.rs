//! Count, mean and squared deviations of values, gathered one by one and joined without the values themselves.

use crate::statistics::squares::beyond_rounding;

/// Count, mean and squared deviations of values.
///
/// One value moves the mean by its share and adds what it deviates before and after (Welford 1962,
/// Technometrics 4:419-420); two of these are joined by the deviation of their means (Chan, Golub & `LeVeque`
/// 1983, The American Statistician 37:242-247, equation 1.5b). Values that are all the same leave exactly 0.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moments {
    count: u64,
    mean: f64,
    squares: f64,
    largest: f64,
}

impl Moments {
    /// Of no value.
    pub const NONE: Self = Self {
        count: 0,
        mean: 0.0,
        squares: 0.0,
        largest: 0.0,
    };

    /// Of some values.
    #[must_use]
    pub fn of(values: &[f64]) -> Self {
        let mut all = Self::NONE;
        for value in values {
            all.add(*value);
        }
        all
    }

    /// Adds a value.
    pub fn add(&mut self, value: f64) {
        self.count += 1;
        let before = value - self.mean;
        self.mean += before / self.count as f64;
        self.squares += before * (value - self.mean);
        self.largest = self.largest.max(value.abs());
    }

    /// Of the values of both.
    #[must_use]
    pub fn joined(self, other: Self) -> Self {
        if self.count == 0 {
            return other;
        }
        if other.count == 0 {
            return self;
        }
        let count = self.count + other.count;
        let share = other.count as f64 / count as f64;
        let apart = other.mean - self.mean;
        Self {
            count,
            mean: self.mean + apart * share,
            squares: self.squares + other.squares + apart * apart * share * self.count as f64,
            largest: self.largest.max(other.largest),
        }
    }

    /// How many values.
    #[must_use]
    pub const fn count(self) -> u64 {
        self.count
    }

    /// Their mean; 0 of none.
    #[must_use]
    pub const fn mean(self) -> f64 {
        self.mean
    }

    /// The sum of their squared deviations from the mean, exactly 0 where only rounding is left.
    #[must_use]
    pub fn squares(self) -> f64 {
        let count = usize::try_from(self.count).unwrap_or(usize::MAX);
        beyond_rounding(self.squares, count, self.largest)
    }

    /// The four numbers it is made of: count, mean, squares, and the largest size of a value.
    #[must_use]
    pub const fn numbers(self) -> [f64; 4] {
        [self.count as f64, self.mean, self.squares, self.largest]
    }

    /// Made of its four numbers; `None` when values cannot have them.
    #[must_use]
    pub fn from_numbers([count, mean, squares, largest]: [f64; 4]) -> Option<Self> {
        let sound = mean.is_finite() && squares >= 0.0 && squares.is_finite() && largest >= 0.0;
        Some(Self {
            count: whole(count)?,
            mean,
            squares,
            largest,
        })
        .filter(|_| sound && largest.is_finite())
    }
}

/// A whole number from 0 on that a float holds exactly.
#[must_use]
pub fn whole(number: f64) -> Option<u64> {
    const MOST: f64 = 9_007_199_254_740_992.0;
    if !(0.0..=MOST).contains(&number) || number.fract() > 0.0 {
        return None;
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "it is a whole number from 0 to 2^53"
    )]
    Some(number as u64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_joined_in_parts_are_as_all_together() {
        // Whole-number arithmetic: 2 4 4 4 5 5 7 9 have mean 5 and squares 9+1+1+1+0+0+4+16 = 32.
        let values = [2.0, 4.0, 4.0, 4.0, 5.0, 5.0, 7.0, 9.0];
        for cut in 0..=values.len() {
            let (one, other) = values.split_at(cut);
            let all = Moments::of(one).joined(Moments::of(other));
            assert_eq!(all.count(), 8);
            assert!((all.mean() - 5.0).abs() < 1e-12, "{cut}: {all:?}");
            assert!((all.squares() - 32.0).abs() < 1e-12, "{cut}: {all:?}");
        }
    }

    #[test]
    fn equal_values_deviate_by_nothing_however_they_are_joined() {
        for value in [0.1, 0.3, 7.7, 1e-9] {
            let thrice = Moments::of(&[value; 3]);
            let all = thrice.joined(Moments::of(&[value; 7])).joined(thrice);
            assert!(all.squares() == 0.0, "{value}");
        }
        assert!(Moments::NONE.squares() == 0.0 && Moments::NONE.mean() == 0.0);
    }

    #[test]
    fn numbers_come_back_and_those_of_no_values_are_refused() {
        let some = Moments::of(&[1.0, 2.5, 9.0]);
        assert_eq!(Moments::from_numbers(some.numbers()), Some(some));
        for bad in [
            [-1.0, 0.0, 0.0, 0.0],
            [1.5, 0.0, 0.0, 0.0],
            [1.0, f64::NAN, 0.0, 0.0],
            [1.0, 0.0, -1.0, 0.0],
            [1.0, 0.0, 0.0, f64::INFINITY],
        ] {
            assert_eq!(Moments::from_numbers(bad), None, "{bad:?}");
        }
    }
}
