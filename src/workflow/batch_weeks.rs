//! A batch over the weeks: what its notes say of how it changed, with the noise of its tasters.

use crate::domain::Beer;
use crate::domain::Day;
use crate::domain::Measure;
use crate::domain::Name;
use crate::domain::SCALES;
use crate::domain::Scale;
use crate::profile::Changed;
use crate::profile::DayAnswer;
use crate::profile::NoiseBasis;
use crate::profile::Untold;
use crate::profile::WeekTrend;
use crate::profile::changed;
use crate::profile::rated_on_two_days;
use crate::profile::week_trend;
use crate::workflow::Found;
use crate::workflow::Home;
use crate::workflow::Noted;
use crate::workflow::WorkflowError;
use crate::workflow::counted_notes::counting_first;
use crate::workflow::counted_notes::on_scale;
use crate::workflow::taster_noise::TasterNoise;

/// A batch over the weeks.
#[derive(Debug, Clone, PartialEq)]
pub struct BatchWeeks {
    /// What is written on the caps.
    pub cap_mark: Name,
    /// The day it was packaged, or that of the first tasting, and which of the two.
    pub since: (Day, Since),
    /// The days on which it was tasted, in order.
    pub days: Vec<Day>,
    /// The tasters, in order of their first tasting.
    pub tasters: Vec<Name>,
    /// The lines that somebody rated on two days; what changed stands in front.
    pub lines: Vec<WeekLine>,
    /// The lines of which no change can be told.
    pub untold: Vec<UntoldLine>,
    /// What the noise rests on, the weakest of all lines.
    pub basis: Option<NoiseBasis>,
}

/// What weeks are counted from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Since {
    /// The day of packaging.
    Packaged,
    /// The first tasting; the log holds no day of packaging.
    FirstTasted,
}

/// One line over the weeks.
#[derive(Debug, Clone, PartialEq)]
pub struct WeekLine {
    /// The scale.
    pub scale: &'static Scale,
    /// The mean over the tasters who rated it on two days, on each day on which there is one: the week, and the
    /// digits.
    pub points: Vec<(f64, f64)>,
    /// The change.
    pub trend: WeekTrend,
    /// What can be said of it.
    pub changed: Changed,
}

/// A line of which no change can be told.
#[derive(Debug, Clone, PartialEq)]
pub struct UntoldLine {
    /// The scale.
    pub scale: &'static Scale,
    /// The mean over tasters on each day on which there is one: the week, and the digits.
    pub points: Vec<(f64, f64)>,
    /// Why it cannot be told.
    pub why: Untold,
}

impl Home {
    /// How a beer changed over the weeks; it need not be a batch.
    ///
    /// # Errors
    /// No beer has the mark, somebody is tasting it, or nobody has tasted it.
    pub fn batch_weeks(
        &self,
        mark: &str,
        taster: Option<&str>,
    ) -> Result<BatchWeeks, WorkflowError> {
        let beer = self.beer(mark)?;
        self.ensure_plan_unsealed(&beer, "every set of notes")?;
        let (found, _) = self.locked_of(&beer, taster)?;
        let (mut found, counting, _) = counting_first(found);
        found.truncate(counting);
        found.sort_by_key(|it| it.tasted_on);
        let noise = self.taster_noise()?;
        let mut days: Vec<Day> = found.iter().map(|it| it.tasted_on).collect();
        days.dedup();
        let since = self.counted_from(&beer, &days)?;
        let tasters = tasters_of(&found);
        let (lines, untold) = lines(&found, &tasters, since.0, &noise);
        let basis = lines
            .iter()
            .map(|it| it.trend.basis)
            .reduce(NoiseBasis::with);
        Ok(BatchWeeks {
            cap_mark: beer.cap_mark,
            since,
            days,
            tasters,
            lines,
            untold,
            basis,
        })
    }

    /// The day from which weeks are counted.
    fn counted_from(&self, beer: &Beer, days: &[Day]) -> Result<(Day, Since), WorkflowError> {
        let packaged = match &beer.batch {
            Some(batch) => self.log_of(batch)?.day("packaged"),
            None => None,
        };
        let packaged = packaged.map(|day| (day, Since::Packaged));
        let first = days.first().map(|day| (*day, Since::FirstTasted));
        packaged
            .or(first)
            .ok_or_else(|| WorkflowError::NothingTasted {
                mark: beer.cap_mark.to_string(),
            })
    }
}

/// The tasters, in order of their first tasting.
fn tasters_of(found: &[Found]) -> Vec<Name> {
    let mut tasters: Vec<Name> = Vec::new();
    for it in found {
        if !tasters.contains(&it.taster) {
            tasters.push(it.taster.clone());
        }
    }
    tasters
}

/// The lines of which a change can be told, what changed in front, and those of which none can.
fn lines(
    found: &[Found],
    tasters: &[Name],
    since: Day,
    noise: &TasterNoise,
) -> (Vec<WeekLine>, Vec<UntoldLine>) {
    let scales = SCALES.iter().filter(|it| it.stage.is_some());
    let scales = scales.filter(|it| !matches!(it.measure, Measure::Choice { .. }));
    let (mut lines, mut untold) = (Vec::new(), Vec::new());
    for scale in scales {
        let answers = answers(found, tasters, since, scale, noise);
        match week_trend(&answers) {
            Ok(trend) => lines.push(WeekLine {
                scale,
                trend,
                points: points(&rated_on_two_days(&answers)),
                changed: Changed::CannotTell,
            }),
            // What nobody rated at all is no line.
            Err(_) if answers.is_empty() => {}
            Err(why) => untold.push(UntoldLine {
                scale,
                points: points(&answers),
                why,
            }),
        }
    }
    judge(&mut lines);
    (lines, untold)
}

/// Judges all lines together and puts what changed in front.
fn judge(lines: &mut [WeekLine]) {
    let trends: Vec<WeekTrend> = lines.iter().map(|it| it.trend).collect();
    for (line, changed) in lines.iter_mut().zip(changed(&trends)) {
        line.changed = changed;
    }
    let rank = |it: &WeekLine| match it.changed {
        Changed::Risen | Changed::Fallen => 0,
        Changed::CannotTell => 1,
        Changed::Same => 2,
    };
    lines.sort_by(|a, b| {
        let by_size = b.trend.change.abs().total_cmp(&a.trend.change.abs());
        rank(a).cmp(&rank(b)).then(by_size)
    });
}

/// What each taster answered on each day.
fn answers(
    found: &[Found],
    tasters: &[Name],
    since: Day,
    scale: &'static Scale,
    noise: &TasterNoise,
) -> Vec<DayAnswer> {
    let mut answers: Vec<(Day, DayAnswer)> = Vec::new();
    for (it, noted) in found.iter().zip(on_scale(found, scale)) {
        let place = tasters.iter().position(|name| *name == it.taster);
        let (Noted::Value(value), Some(taster)) = (noted, place) else {
            continue;
        };
        let digits = scale.digits(value);
        let same = answers
            .iter_mut()
            .find(|(day, answer)| *day == it.tasted_on && answer.taster == taster);
        match same {
            Some((_, answer)) => {
                answer.glasses += 1;
                answer.mean += (digits - answer.mean) / f64::from(answer.glasses);
            }
            None => answers.push((
                it.tasted_on,
                DayAnswer {
                    taster,
                    weeks: it.tasted_on.days_since(since) as f64 / 7.0,
                    mean: digits,
                    glasses: 1,
                    noise: noise.on_scale(&it.taster, scale),
                },
            )),
        }
    }
    answers.into_iter().map(|it| it.1).collect()
}

/// The mean over tasters by week.
fn points(answers: &[DayAnswer]) -> Vec<(f64, f64)> {
    let mut weeks: Vec<f64> = answers.iter().map(|it| it.weeks).collect();
    weeks.sort_by(f64::total_cmp);
    weeks.dedup();
    let mean = |week: f64| {
        let of_week = answers
            .iter()
            .filter(|it| it.weeks.total_cmp(&week).is_eq());
        let (sum, count) =
            of_week.fold((0.0, 0.0), |(sum, count), it| (sum + it.mean, count + 1.0));
        (week, sum / count)
    };
    weeks.into_iter().map(mean).collect()
}
