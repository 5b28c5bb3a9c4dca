//! Which beer of a panel is poured once more without saying so: the one that teaches most for its alcohol.

/// The share of the noise of an answer that is the taster's own and not rounding: 0.9² beside 1/12.
const OWN_SHARE: f64 = 0.81 / (0.81 + 1.0 / 12.0);

/// How often an answer lies from 2 to 7 before anybody gave one (judgement).
const USUALLY_INSIDE: f64 = 0.6;

/// How many answers that guess is worth (judgement).
const GUESS_IS_WORTH: f64 = 2.0;

/// Less alcohol than this in a glass counts as this, in grams, so that an alcohol-free beer is a
/// possible choice and not an endless bargain (judgement).
const LEAST_GRAMS: f64 = 0.1;

/// How earlier answers on one scale for one beer lay.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PastAnswers {
    /// All of them.
    pub all: u32,
    /// Those from 2 to 7, where noise is neither cut off at the bottom nor at the top.
    pub inside: u32,
}

impl PastAnswers {
    /// The chance that the next answer lies from 2 to 7: the share so far, drawn towards 0.6 as by two
    /// more answers.
    #[must_use]
    fn chance_inside(self) -> f64 {
        let inside = f64::from(self.inside) + GUESS_IS_WORTH * USUALLY_INSIDE;
        inside / (f64::from(self.all) + GUESS_IS_WORTH)
    }
}

/// What one pair of answers tells of a taster's noise: by how much it cuts the variance `v` of the
/// logarithm of their standard deviation.
///
/// One pair brings the information i = 2w² about ln σ, w the part of the variance that is σ² and not
/// rounding (Fisher information of one degree of freedom); v becomes 1/(1/v + i), so the cut is
/// v·v·i/(1 + v·i).
#[must_use]
fn pair_gain(v: f64) -> f64 {
    let i = 2.0 * OWN_SHARE * OWN_SHARE;
    v * v * i / (1.0 + v * i)
}

/// One line of a beer that could be poured once more: how earlier answers lay, and for each taster the
/// variance of the logarithm of their noise there.
#[derive(Debug, Clone, PartialEq)]
pub struct DoubledLine {
    /// How earlier answers lay.
    pub past: PastAnswers,
    /// What is known of the noise of each taster on it.
    pub log_variances: Vec<f64>,
}

/// A beer that could be poured once more.
#[derive(Debug, Clone, PartialEq)]
pub struct DoubledBeer {
    /// Its lines.
    pub lines: Vec<DoubledLine>,
    /// Grams of alcohol in a glass of it.
    pub grams: f64,
}

impl DoubledBeer {
    /// How much a second glass of it tells for each gram of alcohol.
    #[must_use]
    pub fn worth(&self) -> f64 {
        let told = self.lines.iter().map(|line| {
            let gains = line.log_variances.iter().map(|v| pair_gain(*v));
            line.past.chance_inside() * gains.sum::<f64>()
        });
        told.sum::<f64>() / self.grams.max(LEAST_GRAMS)
    }

    /// How many pairs of answers of one taster are expected to say something.
    #[must_use]
    pub fn pairs(&self) -> f64 {
        self.lines.iter().map(|it| it.past.chance_inside()).sum()
    }
}

/// The places of the `count` beers that tell most for their alcohol, best first; of two alike, the one
/// that stands first.
#[must_use]
pub fn beers_to_double(beers: &[DoubledBeer], count: usize) -> Vec<usize> {
    let mut places: Vec<usize> = (0..beers.len()).collect();
    places.sort_by(|one, other| beers[*other].worth().total_cmp(&beers[*one].worth()));
    places.truncate(count);
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    fn beer(past: &[(u32, u32)], tasters: usize, grams: f64) -> DoubledBeer {
        let lines = past.iter().map(|(inside, all)| DoubledLine {
            past: PastAnswers {
                all: *all,
                inside: *inside,
            },
            log_variances: vec![0.3525; tasters],
        });
        DoubledBeer {
            lines: lines.collect(),
            grams,
        }
    }

    #[test]
    fn a_pair_cuts_the_variance_as_worked_by_hand() {
        // w = 0.81/0.893333 = 0.906716, i = 2w² = 1.644269; with v = 0.3525: v²i = 0.204311,
        // 1 + vi = 1.579605, so the cut is 0.129343 and 0.223157 is left.
        assert!((pair_gain(0.3525) - 0.129_343).abs() < 1e-6);
        let left = 1.0 / (1.0 / 0.3525 + 1.644_269);
        assert!((0.3525 - pair_gain(0.3525) - left).abs() < 1e-6);
        assert!(pair_gain(0.0).abs() < 1e-12);
    }

    #[test]
    fn a_chance_is_the_share_drawn_to_six_tenths() {
        let chance = |inside, all| PastAnswers { all, inside }.chance_inside();
        // By hand: 1.2/2; (4 + 1.2)/(4 + 2); (0 + 1.2)/(8 + 2).
        for (found, expected) in [
            (chance(0, 0), 0.6),
            (chance(4, 4), 5.2 / 6.0),
            (chance(0, 8), 0.12),
        ] {
            assert!((found - expected).abs() < 1e-12, "{found}");
        }
    }

    #[test]
    fn worth_is_chance_times_gain_over_tasters_and_lines_for_each_gram() {
        // By hand: lines with chances 0.6 and 5.2/6, three tasters, 2.5 g:
        // (0.6 + 0.866667)·3·0.129343/2.5 = 0.227644.
        let it = beer(&[(0, 0), (4, 4)], 3, 2.5);
        assert!((it.worth() - 0.227_644).abs() < 1e-6, "{}", it.worth());
        assert!((it.pairs() - 1.466_667).abs() < 1e-6);
    }

    #[test]
    fn the_lighter_of_two_beers_and_the_one_in_the_middle_of_its_scales_are_poured_again() {
        let beers = [
            beer(&[(4, 4), (4, 4)], 2, 4.0),
            beer(&[(4, 4), (4, 4)], 2, 2.0),
            beer(&[(0, 8), (0, 8)], 2, 2.0),
        ];
        assert_eq!(beers_to_double(&beers, 0), [0_usize; 0]);
        assert_eq!(beers_to_double(&beers, 2), [1, 0]);
        assert_eq!(beers_to_double(&beers, 9), [1, 0, 2]);
        let alike = [beer(&[(0, 0)], 1, 2.0), beer(&[(0, 0)], 1, 2.0)];
        assert_eq!(beers_to_double(&alike, 1), [0]);
    }

    #[test]
    fn a_beer_without_alcohol_is_no_endless_bargain() {
        let none = beer(&[(0, 0)], 1, 0.0);
        let least = beer(&[(0, 0)], 1, 0.1);
        assert!((none.worth() - least.worth()).abs() < 1e-12);
    }
}
