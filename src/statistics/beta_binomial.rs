//! Counts of several units with more spread between them than one chance gives.

use crate::statistics::Count;
use crate::statistics::Normal;
use crate::statistics::Probability;
use crate::statistics::binomial_term;

/// A test of more spread between units than one common chance gives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tarone {
    /// The statistic; near normal with many units.
    pub z: f64,
    /// The chance of so much spread or more.
    pub p: Probability,
}

/// Tarone's test for several counts with one common chance against beta-binomial spread (Tarone 1979,
/// Biometrika 66:585-590), upper tail.
///
/// `None` without two tries by one unit, and where all tries hit or none does: then nothing can be said.
#[must_use]
pub fn tarone(counts: &[Count]) -> Option<Tarone> {
    let tries: f64 = counts.iter().map(|it| f64::from(it.tries())).sum();
    let hits: f64 = counts.iter().map(|it| f64::from(it.hits())).sum();
    let pairs = |it: &Count| f64::from(it.tries()) * (f64::from(it.tries()) - 1.0);
    let pairs: f64 = counts.iter().map(pairs).sum();
    if pairs <= 0.0 || hits <= 0.0 || hits >= tries {
        return None;
    }
    let share = hits / tries;
    let square = |it: &Count| (f64::from(it.hits()) - f64::from(it.tries()) * share).powi(2);
    let squares: f64 = counts.iter().map(square).sum::<f64>() / (share * (1.0 - share));
    let z = (squares - tries) / (2.0 * pairs).sqrt();
    let p = Normal::STANDARD.upper_tail(z);
    Some(Tarone { z, p })
}

/// A beta distribution of the chance that varies from unit to unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::statistics) struct BetaShape {
    a: f64,
    b: f64,
}

impl BetaShape {
    /// With shapes `a` and `b`; `None` unless both are above 0 and finite.
    fn new(a: f64, b: f64) -> Option<Self> {
        let sound = |it: f64| it > 0.0 && it.is_finite();
        (sound(a) && sound(b)).then_some(Self { a, b })
    }

    /// By its mean and the correlation of two tries of one unit, 1/(a + b + 1); `None` unless both lie
    /// between 0 and 1.
    pub(in crate::statistics) fn with_mean(mean: f64, correlation: f64) -> Option<Self> {
        let sum = 1.0 / correlation - 1.0;
        Self::new(mean * sum, (1.0 - mean) * sum)
    }
}

/// A count of a unit that hits by itself with a chance of its own, and otherwise guesses.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::statistics) struct GuessedCount {
    count: Count,
    /// With 0, 1, … hits by itself, the chance that the other tries give the other hits.
    guessed: Vec<f64>,
}

/// What a beta distribution of the own chances makes of a count.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::statistics) struct Explained {
    /// The chance of the count.
    pub(in crate::statistics) chance: f64,
    /// Given the count, the mean of the unit's own chance.
    pub(in crate::statistics) own: f64,
}

impl GuessedCount {
    /// The count of one unit that guesses right with chance `guess`.
    pub(in crate::statistics) fn new(count: Count, guess: Probability) -> Self {
        let others = |known: u32| Count::new(count.hits() - known, count.tries() - known);
        let guessed = (0..=count.hits())
            .filter_map(others)
            .map(|it| binomial_term(it, guess).get())
            .collect();
        Self { count, guessed }
    }

    /// The count.
    pub(in crate::statistics) const fn count(&self) -> Count {
        self.count
    }

    /// The chance of the count where own chances are beta distributed: pc = guess + (1 − guess)·P, the
    /// chance-corrected beta-binomial (Brockhoff 2003, Food Quality and Preference 14:405-417), as a sum
    /// over the hits that were no guesses.
    pub(in crate::statistics) fn explained(&self, own: BetaShape) -> Explained {
        let BetaShape { a, b } = own;
        let tries = f64::from(self.count.tries());
        let mut known: f64 = (0..self.count.tries())
            .map(f64::from)
            .map(|it| (b + it) / (a + b + it))
            .product();
        let (mut chance, mut sum) = (0.0, 0.0);
        for (hits, guessed) in (0..).map(f64::from).zip(&self.guessed) {
            chance += known * guessed;
            sum += known * guessed * (a + hits);
            known *= (tries - hits) * (a + hits) / ((hits + 1.0) * (b + tries - hits - 1.0));
        }
        Explained {
            chance,
            own: sum / chance / (a + b + tries),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn counts(pairs: &[(u32, u32)]) -> Vec<Count> {
        let count = |(hits, tries): &(u32, u32)| Count::new(*hits, *tries).unwrap();
        pairs.iter().map(count).collect()
    }

    #[test]
    fn the_printed_example_of_tarones_test_is_met() {
        // A printed example of the test (read): Z = 2.5988; its p = 0.009355 is two-sided, the upper tail
        // is half of it. The sum of squares, 706.1059, in Python floats.
        let hits = [9, 10, 22, 15, 8, 19, 16, 19, 15, 10];
        let tries = [30, 32, 40, 28, 29, 35, 30, 34, 31, 39];
        let pairs: Vec<(u32, u32)> = hits.into_iter().zip(tries).collect();
        let found = tarone(&counts(&pairs)).unwrap();
        assert!((found.z - 2.5988).abs() < 5e-5, "{found:?}");
        assert!((found.p.get() - 0.009_355 / 2.0).abs() < 5e-7, "{found:?}");
    }

    #[test]
    fn boys_and_girls_in_families_of_twelve_spread_as_python_says() {
        // Saxony, 6115 families (Lindsey & Altham 1998): Z = 9.5183, Python floats.
        let families = [3, 24, 104, 286, 670, 1033, 1343, 1112, 829, 478, 181, 45, 7];
        let pairs: Vec<(u32, u32)> = (0..)
            .zip(families)
            .flat_map(|(boys, times)| vec![(boys, 12); times])
            .collect();
        assert!((tarone(&counts(&pairs)).unwrap().z - 9.5183).abs() < 5e-5);
    }

    #[test]
    fn four_tries_each_of_twenty_units_spread_as_python_says() {
        // Z = 0.9959, p = 0.160, Python floats.
        let found = tarone(&counts(&twenty_units())).unwrap();
        assert!((found.z - 0.9959).abs() < 5e-5, "{found:?}");
        assert!((found.p.get() - 0.160).abs() < 5e-4, "{found:?}");
    }

    fn twenty_units() -> Vec<(u32, u32)> {
        (0..)
            .zip([1, 5, 6, 5, 3])
            .flat_map(|(hits, times)| vec![(hits, 4); times])
            .collect()
    }

    #[test]
    fn what_cannot_show_spread_is_not_tested() {
        for pairs in [&[(1, 1), (0, 1)][..], &[(0, 4), (0, 4)], &[(4, 4)], &[]] {
            assert_eq!(tarone(&counts(pairs)), None, "{pairs:?}");
        }
    }

    #[test]
    fn the_corrected_terms_are_those_of_python() {
        // n = 4, a = 1.5, b = 2.5, guess 1/3: closed sum and quadrature, which agree to 1e-9.
        let third = Probability::new(1.0 / 3.0).unwrap();
        let own = BetaShape::new(1.5, 2.5).unwrap();
        let expected = [0.050_926, 0.185_185, 0.305_556, 0.296_296, 0.162_037];
        let mut all = 0.0;
        for (hits, expected) in (0..).zip(expected) {
            let count = Count::new(hits, 4).unwrap();
            let found = GuessedCount::new(count, third).explained(own).chance;
            assert!((found - expected).abs() < 5e-7, "{hits}: {found}");
            all += found;
        }
        assert!((all - 1.0).abs() < 1e-14, "{all}");
    }

    #[test]
    fn the_likelihood_of_twenty_units_is_that_of_scipy() {
        // scipy 1.17.1: -29.8945 at mean 0.32337 and correlation 0.26914, guess 1/3; without guessing
        // -29.9863 at 0.55047 and 0.09186.
        for (mean, correlation, guess, expected) in [
            (0.32337, 0.26914, 1.0 / 3.0, -29.8945),
            (0.55047, 0.09186, 0.0, -29.9863),
        ] {
            let guess = Probability::new(guess).unwrap();
            let own = BetaShape::with_mean(mean, correlation).unwrap();
            let terms = counts(&twenty_units())
                .into_iter()
                .map(|it| GuessedCount::new(it, guess).explained(own).chance);
            let ln: f64 = terms.map(f64::ln).sum();
            assert!((ln - expected).abs() < 5.1e-5, "{ln}");
        }
    }

    #[test]
    fn shapes_are_above_nothing() {
        assert_eq!(BetaShape::new(0.0, 1.0), None);
        assert_eq!(BetaShape::new(1.0, f64::NAN), None);
        assert_eq!(BetaShape::with_mean(0.5, 0.0), None);
        assert_eq!(BetaShape::with_mean(0.5, 1.0), None);
        assert_eq!(BetaShape::with_mean(0.0, 0.5), None);
    }
}
