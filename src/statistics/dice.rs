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
    fn a_range_of_one_gives_that_one() {
        assert_eq!(Dice::from_seed(3).whole(5, 5), 5);
    }
}
