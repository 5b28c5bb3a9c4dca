//! How far a stated certainty can be trusted: the Brier score and what it is made of.

use crate::statistics::Count;
use crate::statistics::Probability;

/// One certainty that was stated, with how often it was right.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StatedChance {
    /// The chance stated.
    pub said: Probability,
    /// How often that was said, and how often it was right.
    pub count: Count,
}

/// The Brier score with Murphy's parts: score = reliability − resolution + uncertainty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BrierParts {
    /// The mean squared distance of the stated chance from what happened; 0 is best.
    pub score: f64,
    /// How far the stated chances lie from the shares that came true; 0 is best.
    pub reliability: f64,
    /// How far the shares differ from each other; more is better.
    pub resolution: f64,
    /// What would be left to somebody who always stated the overall share.
    pub uncertainty: f64,
}

/// The score over chances each stated some number of times, one entry a distinct chance; none without
/// an answer (Brier 1950, Monthly Weather Review 78:1-3, for one probability; Murphy 1973, Journal of
/// Applied Meteorology 12:595-600, equation 5).
#[must_use]
pub fn brier(stated: &[StatedChance]) -> Option<BrierParts> {
    let tries: f64 = stated.iter().map(|it| f64::from(it.count.tries())).sum();
    if tries <= 0.0 {
        return None;
    }
    let hits: f64 = stated.iter().map(|it| f64::from(it.count.hits())).sum();
    let overall = hits / tries;
    let [mut reliability, mut resolution] = [0.0, 0.0];
    for it in stated.iter().filter(|it| it.count.tries() > 0) {
        let weight = f64::from(it.count.tries());
        let share = f64::from(it.count.hits()) / weight;
        reliability += weight * (it.said.get() - share).powi(2);
        resolution += weight * (share - overall).powi(2);
    }
    let parts = BrierParts {
        reliability: reliability / tries,
        resolution: resolution / tries,
        uncertainty: overall * (1.0 - overall),
        score: 0.0,
    };
    Some(BrierParts {
        score: parts.reliability - parts.resolution + parts.uncertainty,
        ..parts
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stated(said: f64, hits: u32, tries: u32) -> StatedChance {
        StatedChance {
            said: Probability::new(said).unwrap(),
            count: Count::new(hits, tries).unwrap(),
        }
    }

    #[test]
    fn the_rain_of_the_first_paper_scores_as_it_was_printed() {
        // Brier (1950): ten forecasts of rain .7 .9 .8 .4 .2 0 0 0 0 .1, rain on the second, third and
        // fourth occasion; his two-class sum is 0.19 (from memory), half of which is the score of one
        // probability. Murphy's parts worked out by hand: 0.095, 0.21, 0.21.
        let rain = [
            stated(0.7, 0, 1),
            stated(0.9, 1, 1),
            stated(0.8, 1, 1),
            stated(0.4, 1, 1),
            stated(0.2, 0, 1),
            stated(0.0, 0, 4),
            stated(0.1, 0, 1),
        ];
        let found = brier(&rain).unwrap();
        assert!((found.score - 0.095).abs() < 1e-12, "{found:?}");
        assert!((found.reliability - 0.095).abs() < 1e-12, "{found:?}");
        assert!((found.resolution - 0.21).abs() < 1e-12, "{found:?}");
        assert!((found.uncertainty - 0.21).abs() < 1e-12, "{found:?}");
    }

    #[test]
    fn nothing_stated_has_no_score_and_the_overall_share_has_only_uncertainty() {
        assert_eq!(brier(&[]), None);
        assert_eq!(brier(&[stated(0.5, 0, 0)]), None);
        // By hand: always 0.5, right half the time: 0 − 0 + 0.25.
        let found = brier(&[stated(0.5, 5, 10)]).unwrap();
        assert!((found.score - 0.25).abs() < 1e-12);
    }
}
