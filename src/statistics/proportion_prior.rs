//! What a count says of the share of those who know, when the others guess: a prior, its posterior, and
//! the evidence against nobody knowing.

use crate::statistics::Count;
use crate::statistics::Limits;
use crate::statistics::Probability;
use crate::statistics::binomial_lower_tail;
use crate::statistics::exact_tail::ln_binomial_term;
use crate::statistics::root;

/// Half the 95 % quantile of chi-square with one degree of freedom (1.959964²/2): how far below its
/// maximum a logarithm of a likelihood may lie within the interval.
const LIKELIHOOD_DROP: f64 = 1.920_729_410_347_062;

/// A prior of the share that knows: some mass at 0, the rest Beta(1, `shape`).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ProportionPrior {
    at_zero: f64,
    shape: u32,
}

/// What is believed of the share that knows.
#[derive(Debug, Clone, PartialEq)]
pub struct ProportionReading {
    prior: ProportionPrior,
    guess: f64,
    /// One count, or one for each direction; each with its Bayes factor against nobody knowing.
    ways: Vec<(Count, f64)>,
}

impl ProportionPrior {
    /// Half at 0, half Beta(1, 2): as ready to believe that nobody knows as that some do, and small
    /// shares rather than large ones (judgement).
    pub const EVEN_HANDED: Self = Self {
        at_zero: 0.5,
        shape: 2,
    };

    /// What is believed after `count`, where those who do not know guess right with `guess`.
    #[must_use]
    pub fn after(self, count: Count, guess: Probability) -> ProportionReading {
        self.reading(&[count], guess)
    }

    /// The same where those who know may all be on either side, each as likely before the first answer.
    #[must_use]
    pub fn after_either_way(self, count: Count, guess: Probability) -> ProportionReading {
        self.reading(&[count, count.mirrored()], guess)
    }

    fn reading(self, counts: &[Count], guess: Probability) -> ProportionReading {
        let way = |count: &Count| (*count, self.bayes_factor(*count, guess));
        ProportionReading {
            prior: self,
            guess: guess.get(),
            ways: counts.iter().map(way).collect(),
        }
    }

    /// ∫L(pd)·s(1 − pd)^(s−1) dpd / L(0) = s·P(K ≤ x | n + s)/((n + s)(1 − g)·P(K = x | n + s − 1)), both
    /// binomial with g: the incomplete beta function of whole numbers is a binomial tail (Abramowitz &
    /// Stegun 1964, 26.5.24).
    fn bayes_factor(self, count: Count, guess: Probability) -> f64 {
        let shape = f64::from(self.shape);
        let tail = binomial_lower_tail(widened(count, 0, self.shape), guess).get();
        let ln_term = ln_binomial_term(widened(count, 0, self.shape - 1), guess);
        let tries = f64::from(count.tries());
        let ln_scale = ((tries + shape) * guess.complement().get() / shape).ln();
        (tail.ln() - ln_term - ln_scale).exp()
    }
}

/// A count with more tries, of which some hit.
fn widened(count: Count, hits: u32, tries: u32) -> Count {
    Count::new(count.hits() + hits, count.tries() + tries).unwrap_or(count)
}

impl ProportionReading {
    /// The Bayes factor of some knowing against nobody knowing. It is an e-value too: where nobody
    /// knows, it reaches 1/α at any time in at most α of tests, however often it is looked at (Ville
    /// 1939; Vovk & Wang 2021, Ann. Statist. 49:1736).
    #[must_use]
    pub fn e_value(&self) -> f64 {
        let sum: f64 = self.ways.iter().map(|(_, factor)| factor).sum();
        sum / self.ways.len() as f64
    }

    /// The probability that nobody knows.
    #[must_use]
    pub fn none(&self) -> Probability {
        let ProportionPrior { at_zero, .. } = self.prior;
        Probability::rounded(at_zero / (at_zero + (1.0 - at_zero) * self.e_value()))
    }

    /// The probability that the share is above `share`, which may be 0.
    #[must_use]
    pub fn above(&self, share: Probability) -> Probability {
        let tail = |count, chance| binomial_lower_tail(count, chance).get();
        let chance = self.chance(share.get());
        let part = |count: Count| {
            let count = widened(count, 0, self.prior.shape);
            tail(count, chance) / tail(count, self.chance(0.0))
        };
        Probability::rounded(self.over_ways(part))
    }

    /// The mean of the share.
    #[must_use]
    pub fn mean(&self) -> Probability {
        let guess = self.chance(0.0);
        let part = |count: Count| {
            let inside = binomial_lower_tail(widened(count, 0, self.prior.shape), guess);
            let moved = binomial_lower_tail(widened(count, 1, self.prior.shape + 1), guess);
            let scale =
                f64::from(count.hits() + 1) / f64::from(count.tries() + self.prior.shape + 1);
            (scale * moved.get() / inside.get() - self.guess) / (1.0 - self.guess)
        };
        Probability::rounded(self.over_ways(part))
    }

    /// The share that is not exceeded with probability `p`: 0 where nobody knowing has that much.
    #[must_use]
    pub fn quantile(&self, p: Probability) -> Probability {
        if p.get() <= self.none().get() {
            return Probability::ZERO;
        }
        let beyond = p.complement().get();
        let off = |share: f64| self.above(Probability::rounded(share)).get() - beyond;
        Probability::rounded(root(0.0, 1.0, off))
    }

    /// Limits with `risk` in all, half of it at each end.
    #[must_use]
    pub fn limits(&self, risk: Probability) -> Limits {
        let half = Probability::rounded(risk.get() / 2.0);
        Limits {
            low: self.quantile(half),
            high: self.quantile(half.complement()),
        }
    }

    /// The chance to be right where this share knows.
    fn chance(&self, share: f64) -> Probability {
        Probability::rounded(self.guess + (1.0 - self.guess) * share)
    }

    /// A figure of each way, given that some know, weighed by how much each way is believed.
    fn over_ways(&self, part: impl Fn(Count) -> f64) -> f64 {
        let sum: f64 = self.ways.iter().map(|(_, factor)| factor).sum();
        let share = |(count, factor): &(Count, f64)| {
            // Where one factor has no float any more, the others weigh nothing beside it.
            let weight = if sum.is_infinite() {
                f64::from(u8::from(factor.is_infinite()))
            } else {
                factor / sum
            };
            weight * part(*count)
        };
        let given: f64 = self.ways.iter().map(share).sum();
        given * self.none().complement().get()
    }
}

/// The chances to hit, not below `least`, whose likelihood is at least e^−1.92 = 0.15 of the greatest one.
///
/// Narrower than the exact limits and not to be called 95 %: where nearly everybody knows it holds the
/// true chance in 82 % of tests with 30 tries, and in 85 % with 60.
#[must_use]
pub fn likelihood_limits(count: Count, least: Probability) -> Limits {
    let ln = |chance: f64| {
        let part = |times: u32, chance: f64| match times {
            0 => 0.0,
            _ => f64::from(times) * chance.ln(),
        };
        part(count.hits(), chance) + part(count.misses(), 1.0 - chance)
    };
    let share = f64::from(count.hits()) / f64::from(count.tries()).max(1.0);
    let best = share.max(least.get());
    let off = |chance: f64| (ln(chance) - ln(best) + LIKELIHOOD_DROP).max(-f64::MAX);
    let end = |end: f64| {
        if off(end) >= 0.0 {
            end
        } else {
            root(end, best, off)
        }
    };
    Limits {
        low: Probability::rounded(end(least.get())),
        high: Probability::rounded(end(1.0)),
    }
}

#[cfg(test)]
mod tests {
    use crate::statistics::binomial_term;

    use super::*;

    fn p(value: f64) -> Probability {
        Probability::new(value).unwrap()
    }

    fn count(hits: u32, tries: u32) -> Count {
        Count::new(hits, tries).unwrap()
    }

    #[test]
    fn readings_are_those_of_quadrature() {
        // scipy 1.17.1, quad over the likelihood times 2(1 - pd), brentq for the quantiles; 2 of 7 also by
        // mpmath 1.3 with 30 digits.
        let third = 1.0 / 3.0;
        for (hits, tries, guess, e_value, none, above, mean, low, high, most) in [
            (
                2,
                7,
                third,
                0.460_317_460,
                0.684_782_609,
                0.193_710_244,
                0.052_717_391,
                0.0,
                0.381_654_955,
                0.302_809_867,
            ),
            (
                15,
                30,
                third,
                2.829_301_458,
                0.261_144_235,
                0.641_239_425,
                0.175_835_226,
                0.0,
                0.464_677_265,
                0.423_375_877,
            ),
            (
                9,
                30,
                third,
                0.231_152_191,
                0.812_247_265,
                0.064_275_471,
                0.016_079_338,
                0.0,
                0.165_978_470,
                0.118_943_840,
            ),
            (
                30,
                30,
                0.5,
                8_659_208.191_5,
                1.154_84e-7,
                0.999_999_759,
                0.878_787_784,
                0.675_657_748,
                0.984_678_526,
                0.977_561_011,
            ),
            (
                60,
                100,
                0.5,
                2.848_879_228,
                0.259_815_895,
                0.617_252_131,
                0.141_583_784,
                0.0,
                0.358_881_720,
                0.328_658_275,
            ),
            (
                0,
                50,
                third,
                0.038_461_538,
                0.962_962_963,
                0.000_154_613,
                0.000_698_812,
                0.0,
                0.007_530_018,
                0.0,
            ),
        ] {
            let found = ProportionPrior::EVEN_HANDED.after(count(hits, tries), p(guess));
            assert!(
                (found.e_value() / e_value - 1.0).abs() < 1e-7,
                "{}",
                found.e_value()
            );
            for (found, expected) in [
                (found.none(), none),
                (found.above(p(0.1)), above),
                (found.mean(), mean),
                (found.limits(p(0.05)).low, low),
                (found.limits(p(0.05)).high, high),
                (found.quantile(p(0.95)), most),
            ] {
                assert!(
                    (found.get() - expected).abs() < 2e-9,
                    "{hits}: {found:?} {expected}"
                );
            }
        }
    }

    #[test]
    fn a_flat_prior_would_believe_too_much() {
        // Flat: 0.90 above a tenth before any answer, and 0.67 after 2 of 7 triangles, which is below
        // chance (quadrature). Half at 0 and half Beta(1, 2): 0.81/2 before, by hand.
        let flat = ProportionPrior {
            at_zero: 0.0,
            shape: 1,
        };
        let third = p(1.0 / 3.0);
        assert!((flat.after(Count::NONE, third).above(p(0.1)).get() - 0.90).abs() < 1e-12);
        assert!((flat.after(count(2, 7), third).above(p(0.1)).get() - 0.67).abs() < 0.005);
        let before = ProportionPrior::EVEN_HANDED.after(Count::NONE, third);
        assert!((before.above(p(0.1)).get() - 0.405).abs() < 1e-12);
        assert!((before.e_value() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn either_way_is_the_mean_of_both_ways() {
        let prior = ProportionPrior::EVEN_HANDED;
        let half = p(0.5);
        let both = prior.after_either_way(count(9, 10), half);
        let one = prior.after(count(9, 10), half);
        let other = prior.after(count(1, 10), half);
        let mean = f64::midpoint(one.e_value(), other.e_value());
        assert!((both.e_value() / mean - 1.0).abs() < 1e-14);
        let believed = |it: &ProportionReading| it.above(p(0.3)).get() / it.none().get();
        let expected = f64::midpoint(believed(&one), believed(&other));
        assert!((believed(&both) / expected - 1.0).abs() < 1e-12);
        let mirrored = prior.after_either_way(count(1, 10), half);
        assert!((both.mean().get() - mirrored.mean().get()).abs() < 1e-14);
    }

    #[test]
    fn evidence_beyond_all_floats_is_without_end() {
        let certain = ProportionPrior::EVEN_HANDED.after(count(2_000, 2_000), p(1.0 / 3.0));
        assert!(certain.e_value().is_infinite());
        assert!(certain.none().get() < f64::MIN_POSITIVE);
        // Beta(2001, 2) of the chance, cut below 1/3: mean 2001/2003, less the guesses.
        let mean = (2_001.0 / 2_003.0 - 1.0 / 3.0) * 1.5;
        assert!((certain.mean().get() - mean).abs() < 1e-12);
    }

    #[test]
    fn where_nobody_knows_the_e_value_is_one_on_average() {
        // The definition of an e-value, summed over all outcomes.
        for (tries, guess) in [(7, 1.0 / 3.0), (30, 0.5)] {
            let mean = |reading: &dyn Fn(Count) -> ProportionReading| -> f64 {
                let share = |it| binomial_term(it, p(guess)).get() * reading(it).e_value();
                (0..=tries).map(|hits| share(count(hits, tries))).sum()
            };
            let prior = ProportionPrior::EVEN_HANDED;
            assert!((mean(&|it| prior.after(it, p(guess))) - 1.0).abs() < 1e-12);
            let either = mean(&|it| prior.after_either_way(it, p(0.5)));
            assert!(guess < 0.5 || (either - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn the_likelihood_interval_holds_less_often_than_its_name_would_say() {
        // scipy 1.17.1, ends by brentq and coverage by binom.pmf at the same 500 shares that know: the
        // least lies where nearly everybody knows, with 60 tries too.
        for (tries, expected) in [(5, 0.815_599_616), (30, 0.819_445_764), (60, 0.845_636_209)] {
            let mut least: f64 = 1.0;
            for step in 0..500 {
                let chance = p(1.0 / 3.0 + 2.0 / 3.0 * f64::from(step) / 500.0);
                let counts = (0..=tries).map(|hits| count(hits, tries));
                let holds = |it: &Count| likelihood_limits(*it, p(1.0 / 3.0)).hold(chance);
                let covered = counts
                    .filter(holds)
                    .map(|it| binomial_term(it, chance).get());
                least = least.min(covered.sum());
            }
            assert!((least - expected).abs() < 1e-8, "{tries}: {least}");
        }
    }

    #[test]
    fn the_likelihood_at_both_ends_is_a_seventh_of_the_greatest() {
        // e^-1.920729 = 0.146500, by calculator; 15 of 30 lies evenly about a half.
        let found = likelihood_limits(count(15, 30), Probability::ZERO);
        let ratio = |chance: f64| (4.0 * chance * (1.0 - chance)).powi(15);
        assert!(
            (ratio(found.low.get()) - 0.146_500).abs() < 1e-6,
            "{found:?}"
        );
        assert!(
            (ratio(found.high.get()) - 0.146_500).abs() < 1e-6,
            "{found:?}"
        );
        let third = p(1.0 / 3.0);
        assert_eq!(likelihood_limits(count(3, 30), third).low, third);
        assert_eq!(
            likelihood_limits(count(30, 30), third).high,
            Probability::ONE
        );
        assert_eq!(likelihood_limits(Count::NONE, third).high, Probability::ONE);
    }
}
