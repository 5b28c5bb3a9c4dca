//! How a beer changed on one line over the weeks, by tasters who had it on several days.

use crate::profile::Noise;
use crate::profile::NoiseBasis;
use crate::profile::UncertainVariance;
use crate::statistics::Interval;
use crate::statistics::Probability;
use crate::statistics::StudentT;
use crate::statistics::discoveries;

/// The share of changes called so that may be chance alone.
const LEVEL: Probability = Probability::new(0.05).expect("5 % is a probability");

/// A change over the whole time that is within one digit counts as none.
const NO_CHANGE: f64 = 1.0;

/// The largest change that a scale from 0 to 9 can hold.
const WHOLE_SCALE: f64 = 9.0;

/// How likely it must be that the change is none.
const SURE: f64 = 0.9;

/// The quantile of Student's t on either side of which 19 in 20 lie between.
const NINETEEN_IN_TWENTY: Probability = Probability::new(0.975).expect("97.5 % is a probability");

/// What one taster answered on one day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayAnswer {
    /// Who, by a number of the caller's.
    pub taster: usize,
    /// Weeks from a day of the caller's.
    pub weeks: f64,
    /// The mean of the day's answers, in digits.
    pub mean: f64,
    /// How many glasses.
    pub glasses: u32,
    /// The noise of the taster on the line.
    pub noise: Noise,
}

/// How a line changed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WeekTrend {
    /// Digits from the first day to the last, by the line of best fit, at most as many as the scale holds.
    pub change: f64,
    /// Where the change lies, 19 times in 20, as far as the scale holds it.
    pub range: Interval,
    /// How often noise alone makes so large a change.
    pub p: Probability,
    /// Weeks from the first day to the last.
    pub weeks: f64,
    /// What the noise rests on.
    pub basis: NoiseBasis,
    /// The chance that the change is within one digit.
    within_one: f64,
}

/// What can be said of a change.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Changed {
    /// There is more of it.
    Risen,
    /// There is less of it.
    Fallen,
    /// Within one digit with nine chances in ten.
    Same,
    /// Neither can be told yet.
    CannotTell,
}

/// Why no change can be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Untold {
    /// Nobody rated it on two days, and what different people answered says nothing of the beer.
    NobodyTwice,
    /// The noise reaches as far to either side as the scale is long, whatever was answered.
    NoiseHidesAll,
}

/// The answers of those who rated it on two days, the only ones of which a change can be told.
#[must_use]
pub fn rated_on_two_days(answers: &[DayAnswer]) -> Vec<DayAnswer> {
    let elsewhen =
        |a: &DayAnswer, b: &DayAnswer| a.taster == b.taster && a.weeks.total_cmp(&b.weeks).is_ne();
    let both = answers.iter();
    both.filter(|a| answers.iter().any(|b| elsewhen(a, b)))
        .copied()
        .collect()
}

/// The change on a line, from the first day to the last of those who rated it on two days.
///
/// Each taster has a height of their own and all have the slope in common: b = Σw(x − x̄ₜ)(y − ȳₜ)/Σw(x − x̄ₜ)² with
/// w = 1/((σ² + 1/12)/R + ω²), variance 1/Σw(x − x̄ₜ)² (weighted least squares with a block for each taster, Draper
/// & Smith 1998, chapters 9 and 23), Student's t on the degrees of freedom of the least known variance. No change
/// goes beyond the ends of the scale, so what lies there is cut off the range.
///
/// # Errors
/// Nobody rated it on two days, or the noise leaves nothing out that the scale can hold.
pub fn week_trend(answers: &[DayAnswer]) -> Result<WeekTrend, Untold> {
    let answers = rated_on_two_days(answers);
    let (spread, product) = within_tasters(&answers);
    let weeks = answers.iter().map(|it| it.weeks);
    let first = weeks.clone().fold(f64::INFINITY, f64::min);
    let span = weeks.fold(f64::NEG_INFINITY, f64::max) - first;
    let basis = answers.iter().map(|it| it.noise.basis());
    let basis = basis.reduce(NoiseBasis::with).ok_or(Untold::NobodyTwice)?;
    let freedom = answers.iter().map(|it| variance(it).freedom());
    let student = StudentT::new(freedom.fold(1e6, f64::min)).ok_or(Untold::NoiseHidesAll)?;
    let change = span * product / spread;
    let error = span / spread.sqrt();
    let reach = student.quantile(NINETEEN_IN_TWENTY) * error;
    // The reach depends on when and by whom it was tasted and not on what they answered, so that leaving such lines
    // out of what is judged together favours none.
    if reach.is_nan() || reach >= WHOLE_SCALE {
        return Err(Untold::NoiseHidesAll);
    }
    let below = |limit: f64| {
        let t = (limit - change) / error;
        let tail = student.two_sided_p(t).get() / 2.0;
        if t < 0.0 { tail } else { 1.0 - tail }
    };
    let held = |it: f64| it.clamp(-WHOLE_SCALE, WHOLE_SCALE);
    let range = Interval::around(change, reach);
    Ok(WeekTrend {
        change: held(change),
        range: Interval {
            low: held(range.low),
            high: held(range.high),
        },
        p: student.two_sided_p(change / error),
        weeks: span,
        basis,
        within_one: below(NO_CHANGE) - below(-NO_CHANGE),
    })
}

/// The variance of a day's mean: (σ² + 1/12)/R + ω².
fn variance(it: &DayAnswer) -> UncertainVariance {
    let glass = it.noise.glass_variance();
    let glasses = f64::from(it.glasses.max(1));
    glass.times(1.0 / glasses).plus(it.noise.day_variance())
}

/// Σw(x − x̄ₜ)² and Σw(x − x̄ₜ)(y − ȳₜ) over all tasters, each about means of their own.
fn within_tasters(answers: &[DayAnswer]) -> (f64, f64) {
    let mut tasters: Vec<usize> = answers.iter().map(|it| it.taster).collect();
    tasters.sort_unstable();
    tasters.dedup();
    let weight = |it: &DayAnswer| 1.0 / variance(it).value();
    let (mut spread, mut product) = (0.0, 0.0);
    for taster in tasters {
        let own = || answers.iter().filter(|it| it.taster == taster);
        let all: f64 = own().map(weight).sum();
        let weeks = own().map(|it| weight(it) * it.weeks).sum::<f64>() / all;
        let mean = own().map(|it| weight(it) * it.mean).sum::<f64>() / all;
        for it in own() {
            spread += weight(it) * (it.weeks - weeks).powi(2);
            product += weight(it) * (it.weeks - weeks) * (it.mean - mean);
        }
    }
    (spread, product)
}

/// What can be said of all changes, judged together (Benjamini & Hochberg 1995).
#[must_use]
pub fn changed(trends: &[WeekTrend]) -> Vec<Changed> {
    let p: Vec<Probability> = trends.iter().map(|it| it.p).collect();
    let found = discoveries(&p, LEVEL);
    let judge = |(it, found): (&WeekTrend, bool)| match found {
        true if it.change > 0.0 => Changed::Risen,
        true => Changed::Fallen,
        false if it.within_one >= SURE => Changed::Same,
        false => Changed::CannotTell,
    };
    trends.iter().zip(found).map(judge).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::profile::SpreadEstimate;
    use crate::statistics::Dice;
    use crate::statistics::Sd;

    fn noise() -> Noise {
        let sd = |it: f64| SpreadEstimate::measured(Sd::new(it).unwrap(), 0.0).unwrap();
        Noise::DEFAULT.within(sd(0.9)).between_days(sd(0.7))
    }

    fn answer(taster: usize, weeks: f64, mean: f64) -> DayAnswer {
        DayAnswer {
            taster,
            weeks,
            mean,
            glasses: 1,
            noise: noise(),
        }
    }

    #[test]
    fn a_taster_who_answers_high_moves_no_slope_by_coming_late() {
        // By hand: each taster falls by 2 in 4 weeks; the second answers 4 digits higher and comes later.
        let answers = [
            answer(0, 0.0, 5.0),
            answer(0, 4.0, 3.0),
            answer(1, 6.0, 9.0),
            answer(1, 10.0, 7.0),
        ];
        let found = week_trend(&answers).unwrap();
        assert!((found.change + 5.0).abs() < 1e-9, "{found:?}");
        // By hand: v = 0.81 + 1/12 + 0.49 = 1.383333, Σ(x - x̄)² = 16, error 10·√(1.383333/16) = 2.94038.
        let reach = 1.959_96 * 2.940_38;
        assert!(
            (found.range.high - found.change - reach).abs() < 1e-3,
            "{found:?}"
        );
    }

    #[test]
    fn one_day_or_one_glass_each_tells_no_change() {
        let never = Err(Untold::NobodyTwice);
        assert_eq!(week_trend(&[]), never);
        assert_eq!(week_trend(&[answer(0, 1.0, 5.0)]), never);
        assert_eq!(
            week_trend(&[answer(0, 1.0, 5.0), answer(1, 9.0, 2.0)]),
            never
        );
    }

    #[test]
    fn however_the_weeks_are_written_different_people_on_different_days_tell_no_change() {
        // Days over seven are weeks that no binary number holds, so that w·x/w need not be x.
        let days: Vec<DayAnswer> = (1..40_u32)
            .map(|day| {
                let weeks = f64::from(day * day) / 7.0;
                answer(usize::try_from(day).unwrap(), weeks, f64::from(day % 10))
            })
            .collect();
        assert_eq!(week_trend(&days), Err(Untold::NobodyTwice));
    }

    #[test]
    fn who_tasted_once_a_year_later_stretches_no_change_of_others() {
        // By hand: the only one with two days goes from 4 to 6 in 2 weeks; the other's day is no part of that.
        let answers = [
            answer(0, 0.0, 4.0),
            answer(0, 2.0, 6.0),
            answer(1, 52.0, 5.0),
        ];
        let found = week_trend(&answers).unwrap();
        assert!((found.change - 2.0).abs() < 1e-9, "{found:?}");
        assert!((found.weeks - 2.0).abs() < 1e-9, "{found:?}");
    }

    #[test]
    fn a_change_larger_than_the_scale_is_not_told() {
        // By hand: both rise by 2 in 1 week, 29 weeks apart: 60 digits in 30 weeks, by an error of
        // 30·√(1.383333/(2·0.5)) = 35.3, whereas the scale holds 9.
        let apart = [
            answer(0, 0.0, 4.0),
            answer(0, 1.0, 6.0),
            answer(1, 29.0, 4.0),
            answer(1, 30.0, 6.0),
        ];
        assert_eq!(week_trend(&apart), Err(Untold::NoiseHidesAll));
        // By hand: each falls by 9 in 4 weeks, −22.5 in 10, by 2.94038: from −28.3 to −16.7.
        let steep = [
            answer(0, 0.0, 9.0),
            answer(0, 4.0, 0.0),
            answer(1, 6.0, 9.0),
            answer(1, 10.0, 0.0),
        ];
        let found = week_trend(&steep).unwrap();
        for told in [found.change, found.range.low, found.range.high] {
            assert!((told + 9.0).abs() < 1e-9, "{found:?}");
        }
    }

    #[test]
    fn beers_that_do_not_change_are_seldom_said_to_and_those_that_do_are_seen() {
        let mut dice = Dice::from_seed(9);
        let mut tasted = |fall: f64| {
            let lines: Vec<WeekTrend> = (0..15)
                .filter_map(|_| {
                    let answers: Vec<DayAnswer> = (0..6)
                        .map(|at| {
                            let weeks = f64::from(at) * 3.0;
                            let scatter = noise().unrounded(1.0, 1.0).sqrt();
                            answer(
                                0,
                                weeks,
                                6.0 - fall * weeks / 15.0 + scatter * dice.normal(),
                            )
                        })
                        .collect();
                    week_trend(&answers).ok()
                })
                .collect();
            changed(&lines)
        };
        let is_claim = |it: &Changed| matches!(it, Changed::Risen | Changed::Fallen);
        // 300 beers of 15 lines: a claim in 1 of 20 at most, four standard errors above.
        let false_claims = (0..300)
            .filter(|_| tasted(0.0).iter().any(is_claim))
            .count();
        assert!(false_claims <= 30, "{false_claims}");
        let seen: usize = (0..20)
            .map(|_| {
                tasted(6.0)
                    .iter()
                    .filter(|it| **it == Changed::Fallen)
                    .count()
            })
            .sum();
        assert!(seen > 200, "{seen} of 300");
    }
}
