//! Several tests of the same two beers put together.

use crate::discrimination::DPrime;
use crate::discrimination::Method;
use crate::discrimination::Refused;
use crate::discrimination::Ways;
use crate::discrimination::analysis::p_value;
use crate::discrimination::analysis::reading;
use crate::discrimination::analysis::sum;
use crate::discrimination::effect::FARTHEST;
use crate::statistics::Count;
use crate::statistics::Probability;
use crate::statistics::Tarone;
use crate::statistics::binomial_term;
use crate::statistics::root;
use crate::statistics::tarone;

/// Half the 95 % quantile of chi-square with one degree of freedom.
const LIKELIHOOD_DROP: f64 = 1.920_729_410_347_062;

/// The first look at the likelihood goes in steps of this.
const STEP: f64 = 0.25;

/// The same method on several days.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Summed {
    /// All answers.
    pub count: Count,
    /// The exact chance of so many or more where the beers are the same: valid only if the number of days
    /// was fixed beforehand.
    pub p: Probability,
    /// The evidence of all days, their likelihoods multiplied: valid however often one looked.
    pub e_value: f64,
    /// Whether days differ more than one common chance has them differ; none where all or nobody was right.
    pub spread: Option<Tarone>,
}

/// Sums the days of one method; where no direction is fixed, counts of those who chose `Side::B`.
#[must_use]
pub fn summed(method: &Method, days: &[Count]) -> Summed {
    let count = sum(days);
    Summed {
        count,
        p: p_value(method, count),
        e_value: reading(method, count).e_value(),
        spread: tarone(days),
    }
}

/// Tests of different methods, joined in the distance, which is the same for all of them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Joint {
    /// The exact chance of so many right answers in all or more where the beers are the same.
    pub p: Probability,
    /// The likeliest distance; none where it has no end.
    pub likeliest: Option<DPrime>,
    /// Where the likelihood falls to e^−1.92 of its greatest, below the likeliest. Not to be called 95 %.
    pub low: DPrime,
    /// The same above; none where it has no end.
    pub high: Option<DPrime>,
}

/// Joins tests of different methods: the likelihoods multiplied along d′, never along pd, which belongs
/// to its method.
///
/// # Errors
/// A method without a direction has no count of right answers.
pub fn joint(tests: &[(&Method, Count)]) -> Result<Joint, Refused> {
    if let Some((open, _)) = tests.iter().find(|(method, _)| method.ways == Ways::Either) {
        return Err(Refused::NoDirection { method: open.name });
    }
    let ln = |distance: f64| -> f64 {
        let part = |(method, count): &(&Method, Count)| ln_likelihood(method, *count, distance);
        tests.iter().map(part).sum()
    };
    let best = best_distance(&ln);
    let off = |distance: f64| (ln(distance) - ln(best) + LIKELIHOOD_DROP).max(-f64::MAX);
    let end = |end: f64| {
        if off(end) >= 0.0 {
            end
        } else {
            root(end, best, off)
        }
    };
    let inside = |distance: f64| DPrime::new(distance).ok().filter(|it| it.get() < FARTHEST);
    Ok(Joint {
        p: tail_of_sum(tests),
        likeliest: inside(best),
        low: inside(end(0.0)).unwrap_or(DPrime::NONE),
        high: inside(end(FARTHEST)),
    })
}

fn ln_likelihood(method: &Method, count: Count, distance: f64) -> f64 {
    let correct = (method.correct)(distance);
    let part = |times: u32, chance: f64| match times {
        0 => 0.0,
        _ => f64::from(times) * chance.max(f64::MIN_POSITIVE).ln(),
    };
    part(count.hits(), correct) + part(count.misses(), 1.0 - correct)
}

/// Where the likelihood is greatest: looked for in steps, then by the golden section (Kiefer 1953).
fn best_distance(ln: &impl Fn(f64) -> f64) -> f64 {
    let mut best = (0.0, ln(0.0));
    let mut at = STEP;
    while at <= FARTHEST {
        let here = ln(at);
        if here > best.1 {
            best = (at, here);
        }
        at += STEP;
    }
    let golden = (5.0_f64.sqrt() - 1.0) / 2.0;
    let (mut low, mut high) = ((best.0 - STEP).max(0.0), (best.0 + STEP).min(FARTHEST));
    // A likelihood is flat at its top: half the digits of a float is all there is.
    while high - low > 1e-8 {
        let reach = golden * (high - low);
        if ln(high - reach) > ln(low + reach) {
            high = low + reach;
        } else {
            low = high - reach;
        }
    }
    let middle = f64::midpoint(low, high);
    // Never less likely than an end: no distance, or all that are looked at.
    [0.0, FARTHEST]
        .into_iter()
        .find(|it| (it - middle).abs() < STEP && ln(*it) >= ln(middle))
        .unwrap_or(middle)
}

/// P(sum ≥ what was seen) where every answer is a guess: the binomials of the tests convolved.
fn tail_of_sum(tests: &[(&Method, Count)]) -> Probability {
    let mut all = vec![1.0];
    for (method, count) in tests {
        let term = |hits| {
            let hits = Count::new(hits, count.tries());
            hits.map_or(0.0, |it| binomial_term(it, method.guess()).get())
        };
        let terms: Vec<f64> = (0..=count.tries()).map(term).collect();
        let mut next = vec![0.0; all.len() + terms.len() - 1];
        for (before, share) in all.iter().enumerate() {
            for (more, term) in terms.iter().enumerate() {
                next[before + more] += share * term;
            }
        }
        all = next;
    }
    let seen: u32 = tests.iter().map(|(_, count)| count.hits()).sum();
    let tail: f64 = all[seen as usize..].iter().rev().sum();
    Probability::new(tail).unwrap_or(Probability::ONE)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn count(hits: u32, tries: u32) -> Count {
        Count::new(hits, tries).unwrap()
    }

    fn with(id: &str, hits: u32, tries: u32) -> (&'static Method, Count) {
        (Method::from_id(id).unwrap(), count(hits, tries))
    }

    #[test]
    fn days_of_one_method_are_one_longer_day() {
        // 5 days of 7 triangles, 18 of 35 correct. scipy 1.17.1, binom.sf(17, 35, 1/3).
        let days = [
            count(4, 7),
            count(3, 7),
            count(5, 7),
            count(2, 7),
            count(4, 7),
        ];
        let found = summed(Method::from_id("triangle").unwrap(), &days);
        assert_eq!(found.count, count(18, 35));
        assert!((found.p.get() - 0.020_424).abs() < 5e-7, "{found:?}");
        // By hand: p̂ = 18/35, Σ(x − 3.6)² = 5.2, Z = (5.2/(p̂(1 − p̂)) − 35)/√420.
        let share = 18.0 / 35.0;
        let z = (5.2 / (share * (1.0 - share)) - 35.0) / 420.0_f64.sqrt();
        assert!((found.spread.unwrap().z - z).abs() < 1e-12);
        assert!(found.e_value > 1.0);
    }

    #[test]
    fn different_methods_meet_in_the_distance() {
        // scipy 1.17.1: minimize_scalar and brentq over the sum of log likelihoods; the chance by
        // convolution in Python fractions.
        let found = joint(&[
            with("triangle", 12, 21),
            with("duo-trio", 13, 20),
            with("2-afc", 9, 12),
        ])
        .unwrap();
        assert!(
            (found.p.get() / 0.001_637_502_945 - 1.0).abs() < 1e-9,
            "{found:?}"
        );
        let likeliest = found.likeliest.unwrap().get();
        assert!((likeliest - 1.401_291).abs() < 1e-6, "{found:?}");
        assert!((found.low.get() - 0.620_609).abs() < 1e-6, "{found:?}");
        assert!(
            (found.high.unwrap().get() - 2.073_215).abs() < 1e-6,
            "{found:?}"
        );
    }

    #[test]
    fn one_test_alone_is_itself() {
        // 15 of 30 triangles; d' of a half is 1.46626 (scipy 1.17.1).
        let found = joint(&[with("triangle", 15, 30)]).unwrap();
        assert!(
            (found.likeliest.unwrap().get() - 1.466_263).abs() < 1e-5,
            "{found:?}"
        );
        assert!((found.p.get() - 0.043_482).abs() < 5e-7, "{found:?}");
    }

    #[test]
    fn the_ends_are_no_distance_and_none_at_all() {
        let below = joint(&[with("triangle", 3, 21), with("duo-trio", 8, 20)]).unwrap();
        assert_eq!(
            (below.likeliest, below.low),
            (Some(DPrime::NONE), DPrime::NONE)
        );
        let all = joint(&[with("triangle", 5, 5), with("tetrad", 6, 6)]).unwrap();
        assert_eq!((all.likeliest, all.high), (None, None));
        assert!(all.low.get() > 1.0);
        // 3^-11.
        assert!((all.p.get() * 3.0_f64.powi(11) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_test_without_a_direction_stays_alone() {
        let refused = joint(&[with("triangle", 3, 7), with("2-afc-either", 8, 12)]);
        assert!(matches!(refused, Err(Refused::NoDirection { .. })));
    }
}
