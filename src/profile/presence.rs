//! Words that were named or not: what silence says, and which words nobody had planned are there.

use crate::statistics::Count;
use crate::statistics::Probability;
use crate::statistics::binomial_upper_tail;
use crate::statistics::discoveries;

/// "Not found" needs the chance that the word is there after all to be at most this.
const NOT_FOUND: f64 = 0.05;

/// The share of words called "not asked for" that may be slips.
const LEVEL: Probability = Probability::new(0.05).expect("5 % is a probability");

/// More tastings than this are no plan.
const MOST_TASTINGS: u32 = 1_000;

/// Hits and misses as if seen before the first (judgement): mean 0.6, worth five tastings.
const HITS_BEFORE: [f64; 2] = [3.0, 2.0];

/// False alarms and right silences as if seen before the first (judgement): mean 0.03, worth twenty.
const FALSE_ALARMS_BEFORE: [f64; 2] = [0.6, 19.4];

/// A rate with what was seen of it, drawn towards a beginning: the mean of a Beta distribution.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Rate([f64; 2]);

impl Rate {
    fn after(self, count: Count) -> Self {
        let [hits, misses] = self.0;
        Self([
            hits + f64::from(count.hits()),
            misses + f64::from(count.misses()),
        ])
    }

    fn mean(self) -> Probability {
        let [hits, misses] = self.0;
        Probability::new(hits / (hits + misses)).expect("both parts begin above 0")
    }
}

/// How often a taster names a word that is there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HitRate(Rate);

impl HitRate {
    /// Of a taster nobody has measured: 0.6 (judgement).
    pub const DEFAULT: Self = Self(Rate(HITS_BEFORE));

    /// A rate that is believed as firmly as the default before anything was seen of this word.
    #[must_use]
    pub fn around(rate: Probability) -> Self {
        let weight: f64 = HITS_BEFORE.iter().sum();
        let hits = rate.get() * weight;
        Self(Rate([hits, weight - hits]))
    }

    /// After so many namings in so many glasses that held the word.
    #[must_use]
    pub fn after(self, named: Count) -> Self {
        Self(self.0.after(named))
    }

    /// The rate.
    #[must_use]
    pub fn rate(self) -> Probability {
        self.0.mean()
    }
}

/// How often a taster names a word that is not there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FalseAlarmRate(Rate);

impl FalseAlarmRate {
    /// Of a taster nobody has measured: 0.03 (judgement).
    pub const DEFAULT: Self = Self(Rate(FALSE_ALARMS_BEFORE));

    /// A rate that is believed as firmly as the default.
    #[must_use]
    pub fn around(rate: Probability) -> Self {
        let weight: f64 = FALSE_ALARMS_BEFORE.iter().sum();
        let alarms = rate.get() * weight;
        Self(Rate([alarms, weight - alarms]))
    }

    /// After so many namings in so many glasses that did not hold the word.
    #[must_use]
    pub fn after(self, named: Count) -> Self {
        Self(self.0.after(named))
    }

    /// The rate.
    #[must_use]
    pub fn rate(self) -> Probability {
        self.0.mean()
    }
}

/// What is known of a word before it is listened for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Word {
    /// The chance that it is there, before the first tasting.
    pub chance: Probability,
    /// How often it is named when it is there.
    pub hit: HitRate,
    /// How often it is named when it is not.
    pub false_alarm: FalseAlarmRate,
}

impl Word {
    /// A word listened for by several tasters in turn, each with rates of their own: the rates of one who stays
    /// silent as often as all of them together, 1 − (Π(1 − h))^{1/n}.
    #[must_use]
    pub fn heard_by(chance: Probability, tasters: &[(HitRate, FalseAlarmRate)]) -> Self {
        let together = |silent: &dyn Fn(&(HitRate, FalseAlarmRate)) -> f64| {
            let logs = tasters.iter().map(|it| silent(it).ln());
            let mean = logs.sum::<f64>() / tasters.len() as f64;
            Probability::new(-mean.exp_m1())
        };
        let hit = together(&|it| it.0.rate().complement().get());
        let false_alarm = together(&|it| it.1.rate().complement().get());
        Self {
            chance,
            hit: hit.map_or(HitRate::DEFAULT, HitRate::around),
            false_alarm: false_alarm.map_or(FalseAlarmRate::DEFAULT, FalseAlarmRate::around),
        }
    }
}

/// What can be said of a word that was hoped for and not named.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hoped {
    /// It is not there, with 95 %.
    NotFound,
    /// Silence so far; it may be there.
    NotMentionedYet,
}

/// The chance that a word is there though `tastings` went by without it:
/// π(1−h)ⁿ / (π(1−h)ⁿ + (1−π)(1−f)ⁿ), by Bayes' theorem with the two rates taken as known.
#[must_use]
pub fn posterior_present(word: Word, tastings: u32) -> Probability {
    let silence = |rate: Probability| f64::from(tastings) * (-rate.get()).ln_1p();
    // Odds of absence to presence by their logarithm: both silences become too small for a float.
    let absent = word.chance.complement().get().ln() + silence(word.false_alarm.rate());
    let present = word.chance.get().ln() + silence(word.hit.rate());
    let odds = (absent - present).exp();
    Probability::new(1.0 / (1.0 + odds)).unwrap_or(word.chance)
}

/// What can be said of a word that was hoped for and never named in `tastings`; nothing before the first,
/// however unlikely it was.
#[must_use]
pub fn hoped(word: Word, tastings: u32) -> Hoped {
    if tastings > 0 && posterior_present(word, tastings).get() <= NOT_FOUND {
        Hoped::NotFound
    } else {
        Hoped::NotMentionedYet
    }
}

/// How many silent tastings it takes to say that a word is not found; none when 1,000 do not suffice.
#[must_use]
pub fn tastings_needed(word: Word) -> Option<u32> {
    (1..=MOST_TASTINGS).find(|tastings| hoped(word, *tastings) == Hoped::NotFound)
}

/// What can be said of a word that was named and that nobody had planned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unasked {
    /// It is there, and nobody asked for it.
    NotAskedFor,
    /// False alarms alone name some word so often.
    MaybeASlip,
}

/// Judges the words that were named unasked, in their order.
///
/// p = P(K ≥ k | n, f) for a word named in k of n tastings; all `open` lines on which a word could have
/// been named are judged together (Benjamini & Hochberg 1995 at 5 %), those with silence having p = 1.
#[must_use]
pub fn unasked(named: &[Count], false_alarm: FalseAlarmRate, open: usize) -> Vec<Unasked> {
    let rate = false_alarm.rate();
    let mut p: Vec<Probability> = named
        .iter()
        .map(|count| binomial_upper_tail(*count, rate))
        .collect();
    p.resize(open.max(named.len()), Probability::ONE);
    let found = discoveries(&p, LEVEL);
    found
        .into_iter()
        .take(named.len())
        .map(|found| {
            if found {
                Unasked::NotAskedFor
            } else {
                Unasked::MaybeASlip
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn word(chance: f64, hit: HitRate) -> Word {
        Word {
            chance: Probability::new(chance).unwrap(),
            hit,
            false_alarm: FalseAlarmRate::DEFAULT,
        }
    }

    /// A taster who named five of five: (3 + 5)/(5 + 5) = 0.8.
    fn sharp() -> HitRate {
        HitRate::DEFAULT.after(Count::new(5, 5).unwrap())
    }

    #[test]
    fn rates_begin_at_the_defaults_and_move_with_what_was_seen() {
        assert!((HitRate::DEFAULT.rate().get() - 0.6).abs() < 1e-12);
        assert!((FalseAlarmRate::DEFAULT.rate().get() - 0.03).abs() < 1e-12);
        assert!((sharp().rate().get() - 0.8).abs() < 1e-12);
        // By hand: a rate of 0.8 worth five tastings, and two misses: 4/7.
        let around = HitRate::around(sharp().rate());
        let missed = around.after(Count::new(0, 2).unwrap());
        assert!((missed.rate().get() - 4.0 / 7.0).abs() < 1e-12);
        // By hand: (0.6 + 4)/(20 + 20).
        let careless = FalseAlarmRate::DEFAULT.after(Count::new(4, 20).unwrap());
        assert!((careless.rate().get() - 0.115).abs() < 1e-12);
    }

    #[test]
    fn silence_convinces_after_five_tastings_or_three_by_a_sharper_taster() {
        // The project's reference simulation notes: π = 0.7, f = 0.03: 5 at h = 0.6, 3 at h = 0.8.
        assert_eq!(tastings_needed(word(0.7, HitRate::DEFAULT)), Some(5));
        assert_eq!(tastings_needed(word(0.7, sharp())), Some(3));
        assert_eq!(
            hoped(word(0.7, HitRate::DEFAULT), 4),
            Hoped::NotMentionedYet
        );
        assert_eq!(hoped(word(0.7, HitRate::DEFAULT), 5), Hoped::NotFound);
    }

    #[test]
    fn the_chance_that_it_is_there_falls_as_bayes_has_it() {
        // By hand: 0.7·0.4 / (0.7·0.4 + 0.3·0.97) = 0.28/0.571, and 0.112/(0.112 + 0.28227) after two.
        let word = word(0.7, HitRate::DEFAULT);
        for (tastings, expected) in [(0, 0.7), (1, 0.28 / 0.571), (2, 0.112 / 0.394_27)] {
            let found = posterior_present(word, tastings).get();
            assert!((found - expected).abs() < 1e-12, "{tastings}: {found}");
        }
    }

    #[test]
    fn two_tasters_are_silent_together_as_often_as_their_product_says() {
        let chance = Probability::new(0.7).unwrap();
        let word = Word::heard_by(
            chance,
            &[
                (HitRate::DEFAULT, FalseAlarmRate::DEFAULT),
                (sharp(), FalseAlarmRate::DEFAULT),
            ],
        );
        // By hand: 0.7·0.4·0.2 = 0.056 beside 0.3·0.97² = 0.28227.
        let found = posterior_present(word, 2).get();
        assert!((found - 0.056 / (0.056 + 0.282_27)).abs() < 1e-9, "{found}");
        let nobody = Word::heard_by(chance, &[]);
        assert_eq!(nobody.hit, HitRate::DEFAULT);
    }

    #[test]
    fn what_is_certain_stays_certain_and_what_cannot_be_still_wants_a_tasting() {
        let sure = word(1.0, HitRate::DEFAULT);
        assert_eq!(posterior_present(sure, 1_000), Probability::ONE);
        assert_eq!(tastings_needed(sure), None);
        let never = word(0.0, HitRate::DEFAULT);
        assert_eq!(posterior_present(never, 0), Probability::ZERO);
        assert_eq!(hoped(never, 0), Hoped::NotMentionedYet);
        assert_eq!(tastings_needed(never), Some(1));
    }

    #[test]
    fn a_silence_longer_than_a_float_can_hold_is_still_weighed() {
        assert_eq!(
            hoped(word(0.7, HitRate::DEFAULT), u32::MAX),
            Hoped::NotFound
        );
    }

    fn named(counts: &[[u32; 2]]) -> Vec<Unasked> {
        let counts: Vec<Count> = counts
            .iter()
            .map(|[named, tastings]| Count::new(*named, *tastings).unwrap())
            .collect();
        unasked(&counts, FalseAlarmRate::DEFAULT, 112)
    }

    #[test]
    fn a_word_nobody_planned_must_come_more_often_than_slips_on_all_shelves_together() {
        use Unasked::{MaybeASlip, NotAskedFor};
        // Whole-number arithmetic: 0.03³ = 0.000027 for 3 of 3 and 0.000258 for 3 of 5, below
        // 0.05/112 = 0.000446; 0.002646 for 2 of 3 and 0.0009 for 2 of 2 above, and 0.03 for 1 of 1.
        assert_eq!(named(&[[3, 3]]), [NotAskedFor]);
        assert_eq!(named(&[[3, 5]]), [NotAskedFor]);
        assert_eq!(named(&[[2, 3]]), [MaybeASlip]);
        assert_eq!(named(&[[2, 2]]), [MaybeASlip]);
        assert_eq!(named(&[[1, 1]]), [MaybeASlip]);
    }

    #[test]
    fn words_named_together_support_each_other() {
        use Unasked::NotAskedFor;
        // 2 of 2 has p = 0.0009: with three of them rank 3 allows 3·0.05/112 = 0.00134.
        assert_eq!(named(&[[2, 2], [2, 2], [2, 2]]), [NotAskedFor; 3]);
        assert!(named(&[]).is_empty());
    }
}
