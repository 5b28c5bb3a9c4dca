//! How likely each digit from 0 to 9 is: the answer on a scale, or the strength of a smell that is named.

use crate::statistics::Normal;
use crate::statistics::Probability;

/// The digits of an answer.
const DIGITS: usize = 10;

/// How likely each digit is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Digits {
    chances: [f64; DIGITS],
}

impl Digits {
    /// A normal distribution rounded to whole digits, what lies beyond 0 and 9 at these ends.
    #[must_use]
    pub fn rounded(normal: Normal) -> Self {
        Self::of(&[normal], 0)
    }

    /// One of `parts`, each equally likely, rounded to whole digits from 1 to 9: what is named has a
    /// strength. Without a part, surely 1.
    #[must_use]
    pub fn named(parts: &[Normal]) -> Self {
        Self::of(parts, 1)
    }

    fn of(parts: &[Normal], lowest: usize) -> Self {
        let mut chances = [0.0; DIGITS];
        let weight = 1.0 / parts.len().max(1) as f64;
        for part in parts {
            let mut below = 0.0;
            for (digit, chance) in chances.iter_mut().enumerate().skip(lowest) {
                let up_to = if digit + 1 == DIGITS {
                    1.0
                } else {
                    part.cdf(digit as f64 + 0.5).get()
                };
                *chance += weight * (up_to - below).max(0.0);
                below = up_to;
            }
        }
        if parts.is_empty() {
            chances[lowest] = 1.0;
        }
        Self { chances }
    }

    /// The chance of a digit; nothing lies above 9.
    #[must_use]
    pub fn chance(&self, digit: u8) -> Probability {
        let chance = self.chances.get(usize::from(digit)).copied();
        probability(chance.unwrap_or(0.0))
    }

    /// The chance of this digit or a lower one.
    #[must_use]
    pub fn cdf(&self, digit: u8) -> Probability {
        let up_to = self.chances.iter().take(usize::from(digit) + 1);
        probability(up_to.sum())
    }

    /// The mean, 0 to 9.
    #[must_use]
    pub fn mean(&self) -> f64 {
        let all = self.chances.iter().enumerate();
        all.map(|(digit, chance)| digit as f64 * chance).sum()
    }

    /// The variance, in squared digits.
    #[must_use]
    pub fn variance(&self) -> f64 {
        let mean = self.mean();
        let all = self.chances.iter().enumerate();
        all.map(|(digit, chance)| (digit as f64 - mean).powi(2) * chance)
            .sum()
    }

    /// The digits from the one that a tenth reaches to the one that nine tenths reach: a closed range, which
    /// holds 80 % at least and often more, because digits are whole.
    #[must_use]
    pub fn eight_in_ten(&self) -> [u8; 2] {
        [0.1, 0.9].map(|share| {
            let reached = (0_u8..9).find(|digit| self.cdf(*digit).get() >= share - 1e-12);
            reached.unwrap_or(9)
        })
    }

    /// Where an answer lies in this distribution, 0 to 1, `share` of the way through the chance of its own
    /// digit: even over 0 to 1 if the distribution is true and the share is drawn evenly (the randomised
    /// probability integral transform; Dunn & Smyth 1996, J. Comput. Graph. Stat. 5:236-244).
    #[must_use]
    pub fn place_of(&self, digit: u8, share: f64) -> f64 {
        let own = self.chance(digit).get();
        let below = self.cdf(digit).get() - own;
        (below + share.clamp(0.0, 1.0) * own).clamp(0.0, 1.0)
    }
}

/// A sum of chances, of which rounding may leave a trace above 1.
fn probability(sum: f64) -> Probability {
    Probability::new(sum.clamp(0.0, 1.0)).unwrap_or(Probability::ZERO)
}

#[cfg(test)]
mod tests {
    use crate::statistics::Sd;

    use super::*;

    fn normal(mean: f64, sd: f64) -> Normal {
        Normal::new(mean, Sd::new(sd).unwrap())
    }

    #[test]
    fn a_rounded_normal_has_the_chances_of_the_printed_tables() {
        // Tables of the normal distribution, mean 5 and SD 1: 5 between ±0.5 has 0.38292, 6 between 0.5 and
        // 1.5 has 0.24173, at most 4 has Φ(−0.5) = 0.30854.
        let it = Digits::rounded(normal(5.0, 1.0));
        assert!((it.chance(5).get() - 0.382_92).abs() < 1e-5);
        assert!((it.chance(6).get() - 0.241_73).abs() < 1e-5);
        assert!((it.cdf(4).get() - 0.308_54).abs() < 1e-5);
        assert!((it.cdf(9).get() - 1.0).abs() < 1e-12);
        // Φ⁻¹(0.1) = −1.2816: a tenth is reached at 4 (Φ(−1.5) = 0.067), nine tenths at 6 (Φ(1.5) = 0.933).
        assert_eq!(it.eight_in_ten(), [4, 6]);
        // Sheppard 1898: rounding adds 1/12; to four places at an SD of 1.
        assert!((it.mean() - 5.0).abs() < 1e-4, "{}", it.mean());
        assert!(
            (it.variance() - 13.0 / 12.0).abs() < 1e-3,
            "{}",
            it.variance()
        );
    }

    #[test]
    fn what_lies_beyond_the_ends_is_answered_with_the_ends() {
        // By hand: half of a normal around 0 lies below 0, and up to 0.5 Φ(0.5) = 0.69146 of it.
        assert!((Digits::rounded(normal(0.0, 1.0)).chance(0).get() - 0.691_46).abs() < 1e-5);
        assert!((Digits::rounded(normal(99.0, 1.0)).chance(9).get() - 1.0).abs() < 1e-12);
        assert!(Digits::rounded(normal(5.0, 1.0)).chance(10).get() < 1e-12);
    }

    #[test]
    fn what_is_named_is_never_0_and_its_parts_count_alike() {
        let it = Digits::named(&[normal(-3.0, 1.0), normal(7.0, 1e-3)]);
        assert!(it.chance(0).get() < 1e-12);
        assert!((it.chance(1).get() - 0.5).abs() < 1e-3);
        assert!((it.chance(7).get() - 0.5).abs() < 1e-9);
        assert!((Digits::named(&[]).chance(1).get() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn an_answer_has_its_place_inside_its_own_digit() {
        // By hand from the table above: 5 runs from 0.30854 to 0.69146, its middle is a half.
        let it = Digits::rounded(normal(5.0, 1.0));
        assert!((it.place_of(5, 0.0) - 0.308_54).abs() < 1e-5);
        assert!((it.place_of(5, 0.5) - 0.5).abs() < 1e-9);
        assert!((it.place_of(5, 1.0) - 0.691_46).abs() < 1e-5);
    }
}
