//! Seeded dice: the same seed gives the same draws, on every machine and after every upgrade.

use rand::Rng;
use rand::SeedableRng;
use rand::TryRng;
use rand::rngs::SysRng;
use rand_chacha::ChaCha8Rng;

/// Letters of drawn texts: no vowels and no look-alikes, so that no word comes out by chance.
const LETTERS: &[u8; 32] = b"0123456789bcdfghjkmnpqrstvwxyzBC";

/// Dice whose draws follow from their seed alone.
///
/// `ChaCha` with 8 rounds is used because its stream is fixed by definition (Bernstein 2008), unlike
/// the standard generator of the library, which may change between versions.
#[derive(Debug, Clone)]
pub struct Dice(ChaCha8Rng);

/// The machine gave no randomness to seed from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("the system gave no random numbers to draw a seed from; try again")]
pub struct NoEntropy;

impl Dice {
    /// Dice for a seed.
    #[must_use]
    pub fn from_seed(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    /// Dice seeded by the system.
    ///
    /// # Errors
    /// The system gives no random numbers.
    pub fn from_system() -> Result<Self, NoEntropy> {
        SysRng
            .try_next_u64()
            .map(Self::from_seed)
            .map_err(|_| NoEntropy)
    }

    /// A seed for other dice.
    pub fn seed(&mut self) -> u64 {
        self.0.next_u64()
    }

    /// A text of `length` letters and digits, 5 bits each.
    pub fn letters(&mut self, length: usize) -> String {
        (0..length)
            .map(|_| char::from(LETTERS[(self.0.next_u32() >> 27) as usize]))
            .collect()
    }

    /// A number between 0 and 1, neither included, in steps of 2⁻⁵².
    pub fn share(&mut self) -> f64 {
        let step = self.0.next_u64() >> 12;
        (step as f64 + 0.5) / (1_u64 << 52) as f64
    }

    /// A draw from the normal distribution with mean 0 and standard deviation 1.
    ///
    /// Polar method (Marsaglia & Bray 1964, SIAM Review 6:260-264) without its second draw, so that
    /// the dice remember nothing but their stream. Machines may differ in the last digit of its
    /// logarithm: serving orders and codes are drawn as whole numbers, never from this.
    pub fn normal(&mut self) -> f64 {
        loop {
            let across = 2.0 * self.share() - 1.0;
            let up = 2.0 * self.share() - 1.0;
            let square = across * across + up * up;
            if square < 1.0 && square > 0.0 {
                return across * (-2.0 * square.ln() / square).sqrt();
            }
        }
    }

    /// A whole number from `low` to `high`, both included, each equally likely.
    pub fn whole(&mut self, low: u32, high: u32) -> u32 {
        let count = u64::from(high.saturating_sub(low)) + 1;
        // Lemire 2019, ACM TOMACS 29(1): multiply and shift, with the short remainder redrawn.
        let threshold = (1_u64 << 32) % count;
        loop {
            let product = u64::from(self.0.next_u32()) * count;
            if product & 0xffff_ffff >= threshold {
                return low + u32::try_from(product >> 32).unwrap_or(0);
            }
        }
    }

    /// Brings items into an order in which each is equally likely at each place (Fisher & Yates 1938,
    /// Statistical Tables; in place by Durstenfeld 1964, CACM 7:420).
    pub fn shuffle<T>(&mut self, items: &mut [T]) {
        for end in (1..items.len()).rev() {
            let last = u32::try_from(end).unwrap_or(u32::MAX);
            items.swap(end, self.whole(0, last) as usize);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_seed_gives_the_same_draws() {
        let draw = |seed| {
            let mut dice = Dice::from_seed(seed);
            (dice.letters(20), dice.whole(100, 999), dice.seed())
        };
        assert_eq!(draw(7), draw(7));
        assert_ne!(draw(7), draw(8));
    }

    #[test]
    fn whole_numbers_fill_their_range_evenly() {
        // 6,000 throws of a die: each face 1,000 on average with SD 28.9 (binomial); 5 SD either way.
        let mut dice = Dice::from_seed(1);
        let mut faces = [0_u32; 6];
        for _ in 0..6_000 {
            faces[dice.whole(1, 6) as usize - 1] += 1;
        }
        assert!(
            faces.iter().all(|&n| (856..=1_144).contains(&n)),
            "{faces:?}"
        );
    }

    #[test]
    fn normal_draws_have_the_moments_and_tails_of_the_normal_distribution() {
        // 100,000 draws. Standard errors of the moments: 1/√n for the mean, √(2/n) for the second,
        // √(96/n) for the fourth (its variance is 105 − 9); counts beyond 1.959964 and 3.090232 are
        // binomial with 5 % and 0.2 % (printed tables of the normal distribution). All within 5 of them.
        let n = 100_000.0_f64;
        let mut dice = Dice::from_seed(11);
        let (mut first, mut second, mut fourth) = (0.0, 0.0, 0.0);
        let (mut wide, mut far) = (0.0, 0.0);
        for _ in 0..100_000 {
            let z = dice.normal();
            first += z / n;
            second += z * z / n;
            fourth += z.powi(4) / n;
            wide += f64::from(u8::from(z.abs() > 1.959_964));
            far += f64::from(u8::from(z.abs() > 3.090_232));
        }
        assert!(first.abs() < 5.0 / n.sqrt(), "{first}");
        assert!((second - 1.0).abs() < 5.0 * (2.0 / n).sqrt(), "{second}");
        assert!((fourth - 3.0).abs() < 5.0 * (96.0 / n).sqrt(), "{fourth}");
        assert!(
            (wide - 5_000.0).abs() < 5.0 * (n * 0.05 * 0.95).sqrt(),
            "{wide}"
        );
        assert!(
            (far - 200.0).abs() < 5.0 * (n * 0.002 * 0.998).sqrt(),
            "{far}"
        );
    }

    #[test]
    fn shares_lie_between_0_and_1_and_fill_the_space_evenly() {
        // 100,000 draws: mean ½ and variance 1/12 of the even distribution, 5 standard errors.
        let mut dice = Dice::from_seed(12);
        let shares: Vec<f64> = (0..100_000).map(|_| dice.share()).collect();
        assert!(shares.iter().all(|it| *it > 0.0 && *it < 1.0));
        let mean = shares.iter().sum::<f64>() / 1e5;
        assert!((mean - 0.5).abs() < 5.0 / (12.0_f64 * 1e5).sqrt(), "{mean}");
        let below = shares.iter().filter(|it| **it < 0.1).count();
        assert!((9_526..=10_474).contains(&below), "{below}");
    }

    #[test]
    fn a_range_of_one_gives_that_one() {
        assert_eq!(Dice::from_seed(3).whole(5, 5), 5);
    }

    #[test]
    fn every_order_comes_as_often_as_any_other() {
        // 6,000 orders of three things: each of 6 comes 1,000 times with SD 28.9 (binomial); 5 SD.
        let mut dice = Dice::from_seed(13);
        let mut orders = std::collections::HashMap::new();
        for _ in 0..6_000 {
            let mut order = ['a', 'b', 'c'];
            dice.shuffle(&mut order);
            *orders.entry(order).or_insert(0) += 1;
        }
        assert_eq!(orders.len(), 6);
        let even = orders.values().all(|n| (856..=1_144).contains(n));
        assert!(even, "{orders:?}");
    }
}
