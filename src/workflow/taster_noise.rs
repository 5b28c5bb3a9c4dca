//! The noise of every taster as far as it was measured, for whoever judges a difference.

use std::sync::Arc;

use crate::domain::Name;
use crate::domain::Scale;
use crate::profile::Noise;
use crate::profile::Offset;
use crate::profile::SpreadEstimate;
use crate::statistics::LineNoise;
use crate::statistics::Measured;
use crate::statistics::NoiseHierarchy;
use crate::statistics::RaterNoise;
use crate::statistics::Scatter;
use crate::statistics::Sd;
use crate::training::RatingSums;
use crate::training::days_of;
use crate::training::noise_of;
use crate::workflow::Home;
use crate::workflow::WorkflowError;
use crate::workflow::taster_ratings::TasterRatings;

/// Pairs of days from which on the noise between days counts as measured (judgement).
const MEASURED_DAYS: u32 = 8;

/// How lines differ from one another and with the taster, before anybody was measured (judgement): what a line
/// that was never measured adds to what is known of its taster.
const LINE_LOG_VARIANCE: f64 = 0.25 * 0.25 + 0.2 * 0.2;

/// How far tasters stand above or below one another on a line, in digits (judgement).
const OFFSET_SD: f64 = 0.7;

/// The least variance of one difference to the others: that of two roundings.
const LEAST_VARIANCE: f64 = 1.0 / 6.0;

/// What is believed of a taster whom nobody shared a glass with.
const UNKNOWN_OFFSET: Offset = Offset {
    mean: 0.0,
    variance: OFFSET_SD * OFFSET_SD,
};

/// The noise of every taster on every line.
#[derive(Debug, Clone, Default)]
pub(super) struct TasterNoise {
    lines: Vec<String>,
    /// Each with the noise by line, and that on any other line.
    tasters: Vec<(String, Vec<Noise>, Noise)>,
    /// How far each stands above all, by line.
    offsets: Vec<Vec<Offset>>,
}

impl Home {
    /// The noise of every taster, as far as coded glasses and imported ratings tell.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(super) fn taster_noise(&self) -> Result<Arc<TasterNoise>, WorkflowError> {
        self.noise.or_drawn(self.store.stamp()?, || {
            Ok(TasterNoise::of(&self.taster_ratings()?))
        })
    }
}

impl TasterNoise {
    fn of(ratings: &TasterRatings) -> Self {
        let all = &ratings.gathered;
        let hierarchy = noise_of(all);
        let tasters = all.tasters.iter().enumerate();
        let tasters = tasters.map(|(row, (name, sums))| {
            let within = |line: usize| hierarchy.as_ref().and_then(|it| it.line(row, line));
            let day = day_noise(days_of(sums, within));
            let lines = 0..all.lines.len();
            let lines = lines.map(|line| with(day, within(line).and_then(of_line)));
            let other = hierarchy.as_ref().and_then(|it| of_any_line(it, row));
            (name.clone(), lines.collect(), with(day, other))
        });
        let offsets = all.tasters.iter();
        let offsets = offsets.map(|(_, sums)| sums.iter().map(above_all).collect());
        Self {
            lines: all.lines.clone(),
            tasters: tasters.collect(),
            offsets: offsets.collect(),
        }
    }

    /// How far a taster stands above all on a scale, for beers that were tasted by different people.
    pub(super) fn above_all(&self, taster: &Name, scale: &Scale) -> Offset {
        let row = self.tasters.iter().position(|it| it.0 == taster.as_str());
        let line = self.lines.iter().position(|it| it == scale.id);
        let known = row.zip(line);
        let known = known.and_then(|(row, line)| self.offsets.get(row)?.get(line).copied());
        known.unwrap_or(UNKNOWN_OFFSET)
    }

    /// The noise of a taster on a scale; the default of one who is not known.
    pub(super) fn on_scale(&self, taster: &Name, scale: &Scale) -> Noise {
        let line = self.lines.iter().position(|it| it == scale.id);
        match (self.row(taster), line) {
            (Some((_, lines, other)), Some(line)) => lines.get(line).copied().unwrap_or(*other),
            (Some((_, _, other)), None) => *other,
            (None, _) => Noise::DEFAULT,
        }
    }

    /// The noise of a taster in the strength of a smell, which no scale is.
    pub(super) fn on_shelf(&self, taster: &Name) -> Noise {
        self.row(taster).map_or(Noise::DEFAULT, |it| it.2)
    }

    fn row(&self, taster: &Name) -> Option<&(String, Vec<Noise>, Noise)> {
        self.tasters.iter().find(|it| it.0 == taster.as_str())
    }
}

/// The mean difference to all, drawn towards 0 by τ²/(τ² + s²/n) (Efron & Morris 1975, J. Am. Statist. Assoc.
/// 70:311-319); nothing known before two glasses that somebody else had.
fn above_all(sums: &RatingSums) -> Offset {
    let differences = sums.beside.differences();
    if differences.count() < 2 {
        return UNKNOWN_OFFSET;
    }
    let glasses = differences.count() as f64;
    let variance = (differences.squares() / (glasses - 1.0)).max(LEAST_VARIANCE);
    // A gap to the others is larger than one to all, oneself among them: of two tasters by a factor of 2.
    let share = sums.shares / glasses;
    let error = share * share * variance / glasses;
    let kept = UNKNOWN_OFFSET.variance / (UNKNOWN_OFFSET.variance + error);
    Offset {
        mean: kept * share * differences.mean(),
        variance: kept * error,
    }
}

/// The default with what was measured within a sitting, where there is something.
fn with(day: Noise, within: Option<SpreadEstimate>) -> Noise {
    within.map_or(day, |it| day.within(it))
}

fn of_line(it: LineNoise) -> Option<SpreadEstimate> {
    let (sd, variance) = (Sd::new(it.scatter.sd())?, it.scatter.log_error.powi(2));
    match it.measured {
        Measured::OnItsOwn => SpreadEstimate::measured(sd, variance),
        Measured::MostlyBorrowed => SpreadEstimate::borrowed(sd, variance),
    }
}

fn of_any_line(hierarchy: &NoiseHierarchy, row: usize) -> Option<SpreadEstimate> {
    let RaterNoise { scatter, .. } = hierarchy.rater(row)?;
    let variance = scatter.log_error.powi(2) + LINE_LOG_VARIANCE;
    SpreadEstimate::borrowed(Sd::new(scatter.sd())?, variance)
}

/// The noise between days; the default where no beer came back within a week.
fn day_noise((scatter, pairs): (Scatter, u32)) -> Noise {
    let (sd, variance) = (Sd::new(scatter.sd()), scatter.log_error.powi(2));
    let known = match (sd, pairs) {
        (Some(sd), 1..MEASURED_DAYS) => SpreadEstimate::borrowed(sd, variance),
        (Some(sd), MEASURED_DAYS..) => SpreadEstimate::measured(sd, variance),
        _ => None,
    };
    known.map_or(Noise::DEFAULT, |it| Noise::DEFAULT.between_days(it))
}
