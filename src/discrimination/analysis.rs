//! What the answers of a blind test say.

use crate::discrimination::Alpha;
use crate::discrimination::Beta;
use crate::discrimination::DPrime;
use crate::discrimination::Effect;
use crate::discrimination::Method;
use crate::discrimination::Pd;
use crate::discrimination::Refused;
use crate::discrimination::Replicates;
use crate::discrimination::Similarity;
use crate::discrimination::Sizes;
use crate::discrimination::Ways;
use crate::discrimination::plan;
use crate::discrimination::similarity;
use crate::discrimination::size::twice;
use crate::discrimination::sizes;
use crate::statistics::Count;
use crate::statistics::Limits;
use crate::statistics::Probability;
use crate::statistics::ProportionPrior;
use crate::statistics::ProportionReading;
use crate::statistics::binomial_upper_tail;
use crate::statistics::clopper_pearson;
use crate::statistics::exact_lower;
use crate::statistics::exact_upper;
use crate::statistics::likelihood_limits;

/// What limits leave out: 5 % in all, or 5 % at the one end of a one-sided one.
const OUTSIDE: f64 = 0.05;

/// What a test is to find, and at which risks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Aim {
    /// The risk of calling different what is the same.
    pub alpha: Alpha,
    /// The risk of missing the effect.
    pub beta: Beta,
    /// The difference that matters.
    pub effect: Effect,
}

/// What can be said of a question by so many answers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// It is shown.
    Shown,
    /// It is not shown, which does not show the opposite.
    NotShown,
    /// So few answers could not have shown it, whatever they were.
    CannotBeShown,
}

/// From here to there, as a proportion of discriminators.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// The lower limit.
    pub low: Pd,
    /// The upper limit.
    pub high: Pd,
}

/// The distance d′, each by way of the inverse psychometric function, because near 0 its variance has no
/// finite value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Distance {
    /// The likeliest; none where all were right, which every distance is too short for.
    pub likeliest: Option<DPrime>,
    /// The exact two-sided 95 % lower limit.
    pub low: DPrime,
    /// The exact two-sided 95 % upper limit; none where there is no end.
    pub high: Option<DPrime>,
    /// The exact one-sided 95 % lower limit, to be told where the likeliest has no end.
    pub at_least: DPrime,
    /// The exact one-sided 95 % upper limit: what is above is ruled out; none where nothing is.
    pub at_most: Option<DPrime>,
}

/// What the answers of a blind test say.
#[derive(Debug, Clone, PartialEq)]
pub struct Analysis {
    /// The count all figures rest on; where no direction is fixed, of the beer chosen more often.
    pub count: Count,
    /// The exact chance of so many or more where the beers are the same; of so uneven a count in either
    /// direction where none is fixed.
    pub p: Probability,
    /// The smallest significant count.
    pub critical: Option<u32>,
    /// Whether the beers are different.
    pub different: Verdict,
    /// The chance that this number of answers shows the effect.
    pub power: Probability,
    /// How many answers a repeat takes for the same aim.
    pub repeat: Result<Sizes, Refused>,
    /// The proportion of discriminators as it comes out, below 0 where fewer were right than guess right.
    pub pd_raw: f64,
    /// The same, 0 at least.
    pub pd: Pd,
    /// Exact two-sided 95 % limits.
    pub pd_limits: Reach,
    /// The exact one-sided 95 % lower limit.
    pub pd_at_least: Pd,
    /// The exact one-sided 95 % upper limit: a larger proportion is ruled out.
    pub pd_at_most: Pd,
    /// Where the likelihood is at least e^−1.92 of the greatest. Not to be called 95 %.
    pub pd_likely: Reach,
    /// The distance.
    pub distance: Distance,
    /// What is believed of the proportion; its e-value may be looked at after any number of answers.
    pub reading: ProportionReading,
    /// Whether the beers are alike enough, and by which count; none with replicates, for which that
    /// table is not valid.
    pub alike: Option<(Verdict, Similarity)>,
    /// What replicates say; none where everybody answered once.
    pub replicates: Option<Replicates>,
}

/// Analyses the counts of right answers, one count a taster, or where no direction is fixed the counts of
/// those who chose `Side::B`.
#[must_use]
pub fn analyse(method: &Method, tasters: &[Count], aim: Aim) -> Analysis {
    let count = weighed(method, sum(tasters));
    let plan = plan(method, count.tries(), aim.alpha, aim.effect);
    let replicates = Replicates::read(method, tasters);
    let alike = similarity(method, count.tries(), aim.beta, aim.effect);
    let alike = replicates
        .is_none()
        .then(|| (verdict_alike(count, alike), alike));
    let exact = Exact::of(method, count);
    let pd_raw = method.pd_at(share(count));
    let likely = likelihood_limits(count, method.guess());
    Analysis {
        count,
        p: p_value(method, count),
        critical: plan.critical,
        different: match plan.critical {
            None => Verdict::CannotBeShown,
            Some(critical) if count.hits() >= critical => Verdict::Shown,
            Some(_) => Verdict::NotShown,
        },
        power: plan.power,
        repeat: sizes(method, aim),
        pd_raw,
        pd: Pd::clamped(pd_raw),
        pd_limits: reach(method, exact.limits),
        pd_at_least: Pd::clamped(method.pd_at(exact.at_least)),
        pd_at_most: Pd::clamped(method.pd_at(exact.at_most)),
        pd_likely: reach(method, likely),
        distance: exact.distance(method, count),
        reading: reading(method, count),
        alike,
        replicates,
    }
}

/// The answers of all tasters.
pub(in crate::discrimination) fn sum(tasters: &[Count]) -> Count {
    let hits = tasters.iter().map(|it| it.hits()).sum();
    let tries = tasters.iter().map(|it| it.tries()).sum();
    Count::new(hits, tries).expect("sums of hits are no more than sums of tries")
}

/// Where no direction is fixed, the beer that was chosen more often.
fn weighed(method: &Method, count: Count) -> Count {
    match method.ways {
        Ways::Either if count.hits() < count.misses() => count.mirrored(),
        _ => count,
    }
}

/// The exact p-value of a count.
pub(in crate::discrimination) fn p_value(method: &Method, count: Count) -> Probability {
    let one_end = binomial_upper_tail(weighed(method, count), method.guess());
    match method.ways {
        Ways::One => one_end,
        Ways::Either => twice(one_end),
    }
}

/// What is believed after a count.
pub(in crate::discrimination) fn reading(method: &Method, count: Count) -> ProportionReading {
    let prior = ProportionPrior::EVEN_HANDED;
    match method.ways {
        Ways::One => prior.after(count, method.guess()),
        Ways::Either => prior.after_either_way(count, method.guess()),
    }
}

fn verdict_alike(count: Count, alike: Similarity) -> Verdict {
    use crate::discrimination::Standing;

    match alike.most {
        Some(most) if alike.standing == Standing::FromChanceOn => {
            if count.hits() <= most {
                Verdict::Shown
            } else {
                Verdict::NotShown
            }
        }
        _ => Verdict::CannotBeShown,
    }
}

fn share(count: Count) -> Probability {
    let tries = f64::from(count.tries().max(1));
    Probability::new(f64::from(count.hits()) / tries).expect("hits are among the tries")
}

fn reach(method: &Method, limits: Limits) -> Reach {
    Reach {
        low: Pd::clamped(method.pd_at(limits.low)),
        high: Pd::clamped(method.pd_at(limits.high)),
    }
}

/// Exact limits of the share correct.
#[derive(Debug, Clone, Copy)]
struct Exact {
    limits: Limits,
    at_least: Probability,
    at_most: Probability,
}

impl Exact {
    fn of(method: &Method, count: Count) -> Self {
        let outside = Probability::new(OUTSIDE).expect("a twentieth is a probability");
        let limits = clopper_pearson(count, outside);
        let at_least = match method.ways {
            Ways::One => exact_lower(count, outside),
            // To have picked the beer that was chosen more often costs both ends of a lower limit.
            Ways::Either => limits.low,
        };
        Self {
            limits,
            at_least,
            at_most: exact_upper(count, outside),
        }
    }

    fn distance(self, method: &Method, count: Count) -> Distance {
        // Limits without an end belong to the upper ones; a lower limit is below 1 but without a try.
        let lower = |correct| method.distance_at(correct).unwrap_or(DPrime::NONE);
        Distance {
            likeliest: method.distance_at(share(count)),
            low: lower(self.limits.low),
            high: method.distance_at(self.limits.high),
            at_least: lower(self.at_least),
            at_most: method.distance_at(self.at_most),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn count(hits: u32, tries: u32) -> Count {
        Count::new(hits, tries).unwrap()
    }

    fn aim(effect: f64) -> Aim {
        Aim {
            alpha: Alpha::new(0.05).unwrap(),
            beta: Beta::new(0.1).unwrap(),
            effect: Effect::Pd(Pd::new(effect).unwrap()),
        }
    }

    /// Everybody answered once.
    fn analysed(id: &str, hits: u32, tries: u32) -> Analysis {
        let one = |taster| count(u32::from(taster < hits), 1);
        let tasters: Vec<Count> = (0..tries).map(one).collect();
        analyse(Method::from_id(id).unwrap(), &tasters, aim(0.3))
    }

    fn near(found: f64, expected: f64, digits: f64, what: &str) {
        assert!(
            (found - expected).abs() < digits,
            "{what}: {found}, expected {expected}"
        );
    }

    fn farthest(distance: Option<DPrime>) -> f64 {
        distance.map_or(f64::INFINITY, DPrime::get)
    }

    #[test]
    fn worked_triangles_come_out_as_scipy_has_them() {
        // scipy 1.17.1: binom.sf, beta.ppf, brentq over quadrature. 25 of 50 are the data of Byer & Abrams
        // 1953 as in Hollander & Wolfe, example 2.2.
        for (hits, tries, p, raw, low, high, likeliest, near_end) in [
            (25, 50, 0.010_826_7, 0.25, 0.0329, 0.4671, 1.4663, 0.4936),
            (15, 30, 0.043_482_3, 0.25, 0.0, 0.5305, 1.4663, 0.0),
            (12, 30, 0.276_136, 0.1, 0.0, 0.3909, 0.8791, 0.0),
            (9, 30, 0.713_984, -0.05, 0.0, 0.2409, 0.0, 0.0),
            (10, 10, 1.693_51e-5, 1.0, 0.5373, 1.0, f64::INFINITY, 2.4564),
        ] {
            let found = analysed("triangle", hits, tries);
            near(found.p.get() / p, 1.0, 1e-5, "p");
            near(found.pd_raw, raw, 1e-12, "pd raw");
            near(found.pd.get(), raw.max(0.0), 1e-12, "pd");
            near(found.pd_limits.low.get(), low, 5.1e-5, "lower limit");
            near(found.pd_limits.high.get(), high, 5.1e-5, "upper limit");
            if likeliest.is_finite() {
                near(
                    farthest(found.distance.likeliest),
                    likeliest,
                    5.1e-5,
                    "distance",
                );
            } else {
                assert_eq!(found.distance.likeliest, None);
            }
            near(found.distance.low.get(), near_end, 5.1e-5, "least distance");
        }
        let high = |hits, tries| farthest(analysed("triangle", hits, tries).distance.high);
        near(high(25, 50), 2.2054, 5.1e-5, "25 of 50");
        near(high(15, 30), 2.4317, 5.1e-5, "15 of 30");
        near(high(12, 30), 1.9450, 5.1e-5, "12 of 30");
        near(high(9, 30), 1.4345, 5.1e-5, "9 of 30");
        assert_eq!(analysed("triangle", 10, 10).distance.high, None);
    }

    #[test]
    fn the_verdict_follows_the_exact_count() {
        // 11 of 20 is significant at 5 % (J. Soc. Cosmet. Chem. 22, 1971, p. 214), 10 is not; 14 of 30 is
        // not either, though quantiles of the binomial tempt to think so.
        for (hits, tries, expected, p) in [
            (11, 20, Verdict::Shown, 0.037_637),
            (10, 20, Verdict::NotShown, 0.0919),
            (14, 30, Verdict::NotShown, 0.0898),
            (15, 30, Verdict::Shown, 0.043_482),
            (2, 2, Verdict::CannotBeShown, 0.1111),
        ] {
            let found = analysed("triangle", hits, tries);
            assert_eq!(found.different, expected, "{hits} of {tries}");
            near(found.p.get(), p, 5e-5, "p");
        }
    }

    #[test]
    fn what_is_ruled_out_is_the_one_sided_exact_limit() {
        // 22 of 66: 0.1610, where the standard's formula of Wald says 0.143. 10 of 10: at least
        // 20^(−1/10) right, d' at least 2.7431 (scipy 1.17.1).
        let found = analysed("triangle", 22, 66);
        near(found.pd_at_most.get(), 0.161_038, 5e-7, "at most");
        near(found.pd_at_least.get(), 0.0, 1e-15, "at least");
        let found = analysed("triangle", 10, 10);
        near(
            found.distance.at_least.get(),
            2.743_133,
            5e-7,
            "distance at least",
        );
        assert_eq!(found.distance.at_most, None);
        assert_eq!(found.pd_at_most.get().to_bits(), 1.0_f64.to_bits());
    }

    #[test]
    fn not_different_is_not_alike() {
        // 42 answers, β 0.1, pd 30 %: at most 17 are alike enough, at least 20 different (printed tables).
        let verdicts = |hits| {
            let found = analysed("triangle", hits, 42);
            (found.different, found.alike.unwrap().0)
        };
        assert_eq!(verdicts(17), (Verdict::NotShown, Verdict::Shown));
        assert_eq!(verdicts(18), (Verdict::NotShown, Verdict::NotShown));
        assert_eq!(verdicts(20), (Verdict::Shown, Verdict::NotShown));
        // With 12 answers the largest allowed count lies below chance: nothing may be concluded.
        let few = analysed("triangle", 3, 12);
        assert_eq!(few.alike.unwrap().0, Verdict::CannotBeShown);
    }

    #[test]
    fn without_a_direction_few_say_as_much_as_many() {
        // 14 of 20: scipy 1.17.1, 2·binom.sf(13, 20, .5); beta.ppf less chance.
        let many = analysed("2-afc-either", 14, 20);
        let few = analysed("2-afc-either", 6, 20);
        assert_eq!(many, few);
        near(many.p.get(), 0.115_318, 5e-7, "p");
        near(many.pd_limits.low.get(), 0.0, 1e-15, "lower limit");
        near(many.pd_limits.high.get(), 0.762_137, 5e-7, "upper limit");
        near(many.pd_at_most.get(), 0.720_893, 5e-7, "at most");
        near(
            analysed("2-afc-either", 10, 20).p.get(),
            1.0,
            1e-15,
            "p of a tie",
        );
        assert_eq!(
            analysed("2-afc-either", 5, 5).different,
            Verdict::CannotBeShown
        );
        // One way for comparison: 14 of 20 has 0.0577.
        near(analysed("2-afc", 14, 20).p.get(), 0.057_659, 5e-7, "p");
        assert!(analysed("2-afc", 6, 20).p.get() > 0.97);
    }

    #[test]
    fn replicates_take_away_the_table_of_likeness_and_bring_their_own_reading() {
        // 20 tasters with 4 triangles each: Z = 0.9959, mean 0.3146, by numpy and scipy (see the files of
        // these figures).
        let triangle = Method::from_id("triangle").unwrap();
        let tasters: Vec<Count> = (0..)
            .zip([1, 5, 6, 5, 3])
            .flat_map(|(hits, times)| vec![count(hits, 4); times])
            .collect();
        let found = analyse(triangle, &tasters, aim(0.3));
        assert_eq!(found.count, count(44, 80));
        assert!(found.alike.is_none());
        let replicates = found.replicates.unwrap();
        near(replicates.spread.unwrap().z, 0.9959, 5e-5, "spread");
        near(
            replicates.population.unwrap().mean().get(),
            0.3146,
            1e-3,
            "mean",
        );
        let either = Method::from_id("2-afc-either").unwrap();
        let found = analyse(either, &tasters, aim(0.3));
        assert!(found.replicates.unwrap().population.is_none());
    }

    #[test]
    fn no_answer_says_nothing() {
        for method in crate::discrimination::METHODS {
            let found = analyse(method, &[], aim(0.3));
            assert_eq!(found.p, Probability::ONE);
            assert_eq!(found.different, Verdict::CannotBeShown);
            assert_eq!(
                (found.pd_limits.low.get(), found.pd_limits.high),
                (0.0, found.pd_at_most)
            );
            assert_eq!(found.distance.at_most, None);
            near(found.reading.e_value(), 1.0, 1e-12, "e-value");
        }
    }

    #[test]
    fn exact_limits_hold_the_truth_as_often_as_they_say() {
        // Summed over all outcomes: at least 95 % at each of 21 shares, by the definition of exact limits.
        for id in ["triangle", "2-afc", "2-afc-either"] {
            let method = Method::from_id(id).unwrap();
            for tries in (1..=60).step_by(7) {
                let found: Vec<Analysis> =
                    (0..=tries).map(|hits| analysed(id, hits, tries)).collect();
                for step in 0..=20 {
                    let pd = f64::from(step) / 20.0;
                    let chance = method.correct_with(Probability::new(pd).unwrap());
                    let term = |hits| {
                        let count = count(hits, tries);
                        crate::statistics::binomial_term(count, chance).get()
                    };
                    // The last digits of a limit at 1 are no gap.
                    let share = |holds: &dyn Fn(&Analysis) -> bool| -> f64 {
                        let all = (0..).zip(&found).filter(|(_, it)| holds(it));
                        all.map(|(hits, _)| term(hits)).sum()
                    };
                    let limits = share(&|it| {
                        it.pd_limits.low.get() <= pd + 1e-12
                            && pd <= it.pd_limits.high.get() + 1e-12
                    });
                    let most = share(&|it| pd <= it.pd_at_most.get() + 1e-12);
                    let least = share(&|it| it.pd_at_least.get() <= pd + 1e-12);
                    for covered in [limits, most, least] {
                        assert!(covered >= 0.95 - 1e-12, "{id} {tries} {pd}: {covered}");
                    }
                }
            }
        }
    }
}
