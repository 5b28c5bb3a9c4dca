//! The lines of one family judged together: which differences are beyond the noise, and what to do about the rest.

use crate::profile::Evidence;
use crate::profile::NoiseBasis;
use crate::statistics::Normal;
use crate::statistics::Probability;
use crate::statistics::Sd;
use crate::statistics::discoveries;

/// The share of what is called more or less that may be false.
const LEVEL: Probability = Probability::new(0.05).expect("5 % is a probability");

/// A tenth, the lower end of a range.
const TENTH: Probability = Probability::new(0.1).expect("a tenth is a probability");

/// A difference this small, in digits, is none that a brewer would act on (judgement).
const AS_GOOD_AS_NONE: f64 = 1.0;

/// How sure "as meant" must be.
const SURE: f64 = 0.9;

/// Differences are never thought smaller than this beforehand, in digits squared (judgement): so
/// little is known from a few lines that happen to agree.
const LEAST_PRIOR_VARIANCE: f64 = 1.0;

/// More glasses than this of one batch are no plan.
const MOST_GLASSES: u32 = 30;

/// What can be said of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// Within one digit of what it is held against, with 90 %.
    AsMeant,
    /// More than noise can make of it.
    More,
    /// Less than noise can make of it.
    Less,
    /// None of these yet.
    CannotTell,
}

/// A range that holds the true value with 80 %, in digits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// A tenth lies below.
    pub low: f64,
    /// A tenth lies above.
    pub high: f64,
}

/// One line after judgement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judged {
    /// What can be said.
    pub verdict: Verdict,
    /// The gap itself, in digits, and the variance it has where nothing differs.
    pub gap: (f64, f64),
    /// The best guess of the difference, in digits: the gap, drawn towards 0 as far as it is noise.
    pub size: f64,
    /// The range of the difference.
    pub range: Range,
    /// The chance that the difference has the other sign than `size`; shown, never used to decide.
    pub false_sign: Probability,
    /// The chance that the difference is at most one digit.
    pub as_good_as_none: Probability,
    /// How often noise alone makes such a gap, by itself.
    pub p_value: Probability,
    /// What the noise rests on.
    pub basis: NoiseBasis,
    /// With `CannotTell`: how many more glasses of each batch every taster needs, one a day, until an
    /// answer is at least as likely as none; none when 30 in all do not suffice.
    pub needed: Option<u32>,
}

/// Judges the lines of one family together, in their order.
///
/// More and less are what passes `beyond_noise` at 5 %, and nothing else. The size is the mean of the
/// normal posterior of a difference with prior N(0, τ²), τ² = max(1, mean(g² − v)): θ̂ = g·τ²/(τ² + v),
/// variance τ²v/(τ² + v) (Efron & Morris 1975, J. Am. Statist. Assoc. 70:311-319). "As meant" needs 90 % of
/// that posterior within one digit of 0; it takes v as known.
#[must_use]
pub fn judge(family: &[Evidence]) -> Vec<Judged> {
    let prior = prior_variance(family);
    let found = beyond_noise(family, LEVEL);
    let judged = family.iter().zip(found);
    judged
        .map(|(line, found)| {
            judged_line(
                line,
                found,
                Plan {
                    prior,
                    lines: family.len(),
                },
            )
        })
        .collect()
}

/// Which lines differ by more than noise when this share of them may be false: Benjamini & Hochberg
/// 1995 over their p-values.
#[must_use]
fn beyond_noise(family: &[Evidence], level: Probability) -> Vec<bool> {
    let p: Vec<Probability> = family.iter().map(Evidence::p_value).collect();
    discoveries(&p, level)
}

/// The verdicts alone, without what it would take to reach one.
pub(in crate::profile) fn verdicts(family: &[Evidence]) -> Vec<Verdict> {
    let prior = prior_variance(family);
    let found = beyond_noise(family, LEVEL);
    let judged = family.iter().zip(found);
    judged
        .map(|(line, found)| {
            let posterior = Posterior::new(line.gap(), line.variance().value(), prior);
            verdict(line.gap(), found, posterior)
        })
        .collect()
}

/// τ²: what the gaps vary more than their noise.
fn prior_variance(family: &[Evidence]) -> f64 {
    let beyond = |it: &Evidence| it.gap() * it.gap() - it.variance().value();
    let mean = family.iter().map(beyond).sum::<f64>() / family.len() as f64;
    mean.max(LEAST_PRIOR_VARIANCE)
}

fn verdict(gap: f64, found: bool, posterior: Posterior) -> Verdict {
    if found && gap > 0.0 {
        Verdict::More
    } else if found {
        Verdict::Less
    } else if posterior.as_good_as_none() >= SURE {
        Verdict::AsMeant
    } else {
        Verdict::CannotTell
    }
}

fn judged_line(line: &Evidence, found: bool, plan: Plan) -> Judged {
    let posterior = Posterior::new(line.gap(), line.variance().value(), plan.prior);
    let verdict = verdict(line.gap(), found, posterior);
    let Posterior { mean: size, sd } = posterior;
    Judged {
        verdict,
        gap: (line.gap(), line.variance().value()),
        size,
        range: Range {
            low: size + sd.get() * Normal::STANDARD.quantile(TENTH),
            high: size - sd.get() * Normal::STANDARD.quantile(TENTH),
        },
        false_sign: Normal::STANDARD.cdf(-size.abs() / sd.get()),
        as_good_as_none: Probability::new(posterior.as_good_as_none().clamp(0.0, 1.0))
            .expect("it was clamped"),
        p_value: line.p_value(),
        basis: line.basis(),
        needed: (verdict == Verdict::CannotTell)
            .then(|| needed(line, posterior, plan))
            .flatten(),
    }
}

/// What is believed of the difference of a line.
#[derive(Debug, Clone, Copy)]
struct Posterior {
    mean: f64,
    sd: Sd,
}

impl Posterior {
    fn new(gap: f64, variance: f64, prior: f64) -> Self {
        let kept = prior / (prior + variance);
        Self {
            mean: gap * kept,
            sd: Sd::new((variance * kept).sqrt()).expect("rounding alone leaves a variance"),
        }
    }

    /// The chance that the difference lies from −`size` to `size`.
    fn within(self, size: f64) -> f64 {
        let normal = Normal::new(self.mean, self.sd);
        normal.cdf(size).get() - normal.cdf(-size).get()
    }

    fn as_good_as_none(self) -> f64 {
        self.within(AS_GOOD_AS_NONE)
    }
}

/// What a plan for further glasses is made for: τ², and how many lines the family has.
#[derive(Debug, Clone, Copy)]
struct Plan {
    prior: f64,
    lines: usize,
}

/// The fewest further glasses after which an answer is at least as likely as none, as things stand.
///
/// With k more glasses the variance is v(k). A true difference θ would then be expected to show a gap
/// θ, which is called more or less from t·√v(k), t being Student's quantile at 5 % over the number of
/// lines (the strictest rank of the step-up), and as meant up to some smaller gap. The chance of either
/// is taken over what is believed of θ now: beyond the first, or within the second.
fn needed(line: &Evidence, now: Posterior, plan: Plan) -> Option<u32> {
    let most = MOST_GLASSES.saturating_sub(line.most_glasses());
    // Student's quantile takes long and lies above the normal one, with which an answer is at least as likely.
    let least = Normal::STANDARD.quantile(passing(plan.lines));
    (1..=most).find(|more| {
        line.after(*more).is_some_and(|later| {
            let likely = |critical| chance_of_answer(&later, now, plan.prior, critical) >= 0.5;
            likely(least) && likely(later.student().quantile(passing(plan.lines)))
        })
    })
}

fn chance_of_answer(later: &Evidence, now: Posterior, prior: f64, critical: f64) -> f64 {
    let variance = later.variance().value();
    let called = critical * variance.sqrt();
    let meant = largest_as_meant(variance, prior).min(called);
    1.0 - now.within(called) + now.within(meant)
}

/// The chance below the t that passes in a family of which it is the only discovery.
fn passing(lines: usize) -> Probability {
    let tail = LEVEL.get() / (2.0 * lines as f64);
    Probability::new(1.0 - tail).expect("a small part of 5 % is a probability")
}

/// The largest gap that would still be as meant; 0 when even none would not.
fn largest_as_meant(variance: f64, prior: f64) -> f64 {
    let meant = |gap: f64| Posterior::new(gap, variance, prior).as_good_as_none() >= SURE;
    let (mut low, mut high) = (0.0, 2.0 * AS_GOOD_AS_NONE * (prior + variance) / prior);
    // Halved until a hundredth of a digit is settled many times over.
    for _ in 0..20 {
        let middle = f64::midpoint(low, high);
        if meant(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

#[cfg(test)]
mod tests {
    use crate::domain::Day;
    use crate::profile::Against;
    use crate::profile::Glass;
    use crate::profile::Noise;
    use crate::profile::Offset;
    use crate::profile::SpreadEstimate;
    use crate::profile::Tasted;
    use crate::statistics::Dice;

    use super::*;
    use crate::profile::Basis;

    fn known(sd: f64) -> SpreadEstimate {
        SpreadEstimate::measured(Sd::new(sd).unwrap(), 0.0).unwrap()
    }

    /// Noise whose variance, rounding included, is known to be 1 for a glass and nothing for a day.
    fn unit() -> Noise {
        Noise::DEFAULT
            .within(known((11.0_f64 / 12.0).sqrt()))
            .between_days(known(1e-9))
    }

    /// So many glasses, a day each, with this mean gap.
    fn line(noise: Noise, glasses: u32, gap: f64) -> Evidence {
        let answers: Vec<Glass> = (1..=glasses)
            .map(|it| Glass {
                day: Day::parse(&format!("2026-01-{it:02}")).unwrap(),
                digits: 5.0 + gap,
            })
            .collect();
        let tasted = Tasted::new(&answers, noise, Offset::NONE).unwrap();
        Evidence::new(vec![tasted], Against::Intent(5.0)).unwrap()
    }

    fn family(noise: Noise, glasses: u32, gaps: &[f64]) -> Vec<Evidence> {
        gaps.iter().map(|gap| line(noise, glasses, *gap)).collect()
    }

    #[test]
    fn more_and_less_are_what_passes_the_step_up() {
        use Verdict::{CannotTell, Less, More};
        // v = 1, so the gaps are z. Printed tables: p = 0.0027 at 3, 0.0124 at 2.5, 0.0278 at 2.2,
        // 0.317 at 1. Ranks allow 0.0125, 0.025, 0.0375, 0.05: three pass, though two of them fail
        // alone at 5 % over four.
        let found = verdicts(&family(unit(), 1, &[1.0, -2.5, 3.0, 2.2]));
        assert_eq!(found, [CannotTell, Less, More, More]);
    }

    #[test]
    fn the_size_is_drawn_towards_nothing_as_far_as_it_is_noise() {
        // By hand g = 2, v = 1: τ² = 4 − 1, size 2·3/4, variance 3/4; scipy 1.17.1, norm.ppf and norm.cdf.
        let judged = judge(&family(unit(), 1, &[2.0]))[0];
        for (found, expected) in [
            (judged.size, 1.5),
            (judged.range.low, 0.390_143_787_978_658),
            (judged.range.high, 2.609_856_212_021_342),
            (judged.false_sign.get(), 0.041_632_258_331_775_2),
            (judged.as_good_as_none.get(), 0.279_905_222_263_997_2),
        ] {
            assert!((found - expected).abs() < 1e-9, "{found} {expected}");
        }
    }

    #[test]
    fn a_family_without_differences_still_believes_in_some() {
        // τ² is 1 at least: gaps of 0 with v = 1 leave a variance of 1/2.
        let judged = judge(&family(unit(), 1, &[0.0, 0.0]))[0];
        let width = judged.range.high - judged.range.low;
        // scipy 1.17.1: 2·norm.ppf(0.9)/√2.
        assert!((width - 1.812_387_604_873_646_8).abs() < 1e-9, "{width}");
    }

    #[test]
    fn as_meant_takes_nine_in_ten_within_one_digit() {
        // At gap 0 and τ² = 1 the posterior variance v/(1 + v) must be at most 1/1.644854² = 0.3696
        // (printed tables: 90 % within 1.645 SD), v at most 0.586: not with one glass, but with two.
        let one = judge(&family(unit(), 1, &[0.0, 0.0]));
        let two = judge(&family(unit(), 2, &[0.0, 0.0]));
        assert_eq!(one[0].verdict, Verdict::CannotTell);
        assert_eq!(two[0].verdict, Verdict::AsMeant);
        assert_eq!(two[0].needed, None);
        assert_eq!(two[0].basis.weakest(), Basis::Measured);
    }

    #[test]
    fn what_cannot_be_told_says_how_many_glasses_it_takes() {
        // The definition computed apart with scipy 1.17.1 (norm.cdf, t.isf, brentq).
        let one_off = [2.0, 0.0, 0.0, 0.0, 0.0];
        let alternating = [1.0, -1.0, 0.0, 1.0, 0.0];
        let mut one_of_fifteen = [0.0; 15];
        one_of_fifteen[0] = 2.0;
        for (noise, gaps, expected) in [
            (Noise::DEFAULT, one_off.as_slice(), [11, 5]),
            (unit(), &one_off, [3, 2]),
            (Noise::DEFAULT, &alternating, [7, 7]),
            (unit(), &alternating, [3, 3]),
            (Noise::DEFAULT, &one_of_fifteen, [19, 5]),
            (unit(), &one_of_fifteen, [4, 2]),
        ] {
            let judged = judge(&family(noise, 1, gaps));
            assert_eq!([judged[0].needed, judged[1].needed], expected.map(Some));
        }
    }

    #[test]
    fn nobody_is_sent_for_more_than_thirty_glasses() {
        // v = 16 for one glass (scipy as above: no answer up to 30).
        let rough = Noise::DEFAULT
            .within(known((16.0_f64 - 1.0 / 12.0).sqrt()))
            .between_days(known(1e-9));
        let judged = judge(&family(rough, 1, &[3.0, 0.0, 0.0, 0.0, 0.0]));
        assert_eq!([judged[0].needed, judged[1].needed], [None, None]);
    }

    #[test]
    fn a_family_of_none_has_no_verdict() {
        assert!(judge(&[]).is_empty());
    }

    /// Shares of plays in which the one of `gaps` that differs is found, and in which any other is.
    fn rates(lines: usize, glasses: u32, difference: f64, runs: u32) -> [f64; 2] {
        let mut dice = Dice::from_seed(u64::from(glasses));
        let mut counts = [0_u32; 2];
        let sd = 1.0 / f64::from(glasses).sqrt();
        for _ in 0..runs {
            let gaps: Vec<f64> = (0..lines)
                .map(|it| if it == 0 { difference } else { 0.0 } + sd * dice.normal())
                .collect();
            let found = verdicts(&family(unit(), glasses, &gaps));
            let called = |it: &Verdict| matches!(it, Verdict::More | Verdict::Less);
            counts[0] += u32::from(called(&found[0]));
            counts[1] += u32::from(found[1..].iter().any(called));
        }
        counts.map(|it| f64::from(it) / f64::from(runs))
    }

    #[test]
    fn a_gap_of_two_is_found_as_often_as_in_an_independent_simulation() {
        // numpy 2.4.6 and scipy 1.17.1, 4,000,000 plays each: one of 15 lines off by 2, σ = 1 known, no
        // day noise. Four standard errors of our runs.
        let runs = 10_000;
        for (glasses, expected) in [(1, 0.1808), (2, 0.4662), (3, 0.7085)] {
            let [found, _] = rates(15, glasses, 2.0, runs);
            assert!(
                (found - expected).abs() < allowed(expected, runs),
                "{glasses}: {found}"
            );
        }
    }

    #[test]
    fn two_and_three_glasses_find_it_as_often_as_the_reference_notes_say() {
        // The project's reference simulation notes (orders of magnitude, whole percents): 46 and 71 %.
        // Their 15 % for one glass is three points below ours and below that of the test above, and is
        // not held against anything.
        let runs = 10_000;
        for (glasses, noted) in [(2, 0.46), (3, 0.71)] {
            let [found, _] = rates(15, glasses, 2.0, runs);
            let whole_percent = 0.005;
            assert!(
                (found - noted).abs() < allowed(noted, runs) + whole_percent,
                "{glasses}: {found}"
            );
        }
    }

    /// Four standard errors of a rate.
    fn allowed(rate: f64, runs: u32) -> f64 {
        4.0 * (rate * (1.0 - rate) / f64::from(runs)).sqrt()
    }

    #[test]
    fn sixty_lines_without_a_difference_give_a_false_verdict_once_in_twenty_tastings() {
        // Benjamini & Hochberg 1995: with independent lines and none that differs, exactly the level.
        let runs = 2_000;
        let [first, others] = rates(60, 1, 0.0, runs);
        let error: f64 = (0.05 * 0.95 / f64::from(runs)).sqrt();
        // A play with both is counted twice; the first line alone is called in one play of a thousand.
        assert!(
            (others - 0.05 * 59.0 / 60.0).abs() < 5.0 * error,
            "{others}"
        );
        assert!(first < 0.005, "{first}");
    }
}
