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
