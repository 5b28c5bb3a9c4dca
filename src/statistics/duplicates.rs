//! Answers given twice to the same thing, and what they say of how far one answer scatters.

/// The highest digit of an answer.
const HIGHEST: u8 = 9;

/// Twice the least and the greatest mean of a pair that says how far answers scatter in the open:
/// nearer to an end of 0 to 9 answers are cut off there, and seem to scatter less than they do.
const OPEN: std::ops::RangeInclusive<u8> = 4..=14;

/// What pairs say of the scatter of one answer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Duplicates {
    squares: f64,
    freedom: u32,
}

impl Duplicates {
    /// No pair yet.
    pub const NONE: Self = Self {
        squares: 0.0,
        freedom: 0,
    };

    /// The means of a pair that says how far answers scatter in the open: nearer to an end of 0 to 9 answers are
    /// cut off there.
    pub const OPEN_MEANS: std::ops::RangeInclusive<f64> = 2.0..=7.0;

    /// What is left of pairs of digits, 0 to 9, when those with a mean outside 2 to 7 are left out: S =
    /// Σd²/2 on ν degrees of freedom, one for each pair. S/σ² has the χ² distribution with ν degrees of
    /// freedom where answers scatter normally; S = 0 is legal. `None` if a digit is above 9.
    #[must_use]
    pub fn gather(pairs: &[[u8; 2]]) -> Option<Self> {
        if pairs.iter().flatten().any(|it| *it > HIGHEST) {
            return None;
        }
        let open = pairs
            .iter()
            .filter(|[one, other]| OPEN.contains(&(one + other)));
        let mut found = Self::NONE;
        for [one, other] in open {
            found.squares += f64::from(one.abs_diff(*other)).powi(2) / 2.0;
            found.freedom += 1;
        }
        Some(found)
    }

    /// A sum S of halved squared differences of so many pairs; `None` if it is below 0, no number, or more
    /// than so many pairs of digits can have.
    #[must_use]
    pub fn new(squares: f64, freedom: u32) -> Option<Self> {
        let most = f64::from(HIGHEST).powi(2) / 2.0 * f64::from(freedom);
        let good = squares >= 0.0 && squares <= most;
        good.then_some(Self { squares, freedom })
    }

    /// The pairs of both.
    #[must_use]
    pub fn joined(self, other: Self) -> Self {
        Self {
            squares: self.squares + other.squares,
            freedom: self.freedom.saturating_add(other.freedom),
        }
    }

    /// S, the sum of halved squared differences.
    #[must_use]
    pub const fn squares(self) -> f64 {
        self.squares
    }

    /// ν, the pairs it is of.
    #[must_use]
    pub const fn freedom(self) -> u32 {
        self.freedom
    }

    /// S/ν, the variance of one answer with its rounding to a whole digit; none without a pair.
    #[must_use]
    pub fn variance(self) -> Option<f64> {
        (self.freedom > 0).then(|| self.squares / f64::from(self.freedom))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pairs_near_an_end_of_the_scale_are_left_out() {
        // By hand: means 2, 7, 4.5 stay (d 0, 2, 3), means 1.5 and 7.5 go: S = (0 + 4 + 9)/2.
        let pairs = [[2, 2], [6, 8], [3, 6], [1, 2], [7, 8]];
        let found = Duplicates::gather(&pairs).unwrap();
        assert_eq!((found.squares(), found.freedom()), (6.5, 3));
        assert_eq!(found.variance(), Some(6.5 / 3.0));
        let (one, other) = pairs.split_at(2);
        let joined = Duplicates::gather(one).unwrap();
        assert_eq!(joined.joined(Duplicates::gather(other).unwrap()), found);
    }

    #[test]
    fn pairs_that_agree_have_squares_of_nothing_and_no_pair_has_no_variance() {
        let same = Duplicates::gather(&[[5, 5], [4, 4]]).unwrap();
        assert_eq!(
            (same.squares(), same.freedom(), same.variance()),
            (0.0, 2, Some(0.0))
        );
        let none = Duplicates::gather(&[[0, 0], [9, 9]]).unwrap();
        assert_eq!((none, none.variance()), (Duplicates::NONE, None));
    }

    #[test]
    fn what_is_no_digit_or_no_sum_of_squares_is_refused() {
        assert_eq!(Duplicates::gather(&[[10, 0]]), None);
        assert_eq!(Duplicates::new(-1.0, 2), None);
        assert_eq!(Duplicates::new(f64::NAN, 2), None);
        assert_eq!(Duplicates::new(1.0, 0), None);
        assert_eq!(Duplicates::new(40.6, 1), None);
        assert_eq!(Duplicates::new(0.0, 0), Some(Duplicates::NONE));
    }
}
