//! The noise of every taster as far as it was measured, for whoever judges a difference.

use crate::domain::Name;
use crate::domain::Scale;
use crate::profile::Noise;
use crate::profile::SpreadEstimate;
use crate::statistics::LineNoise;
use crate::statistics::Measured;
use crate::statistics::NoiseHierarchy;
use crate::statistics::RaterNoise;
use crate::statistics::Scatter;
use crate::statistics::Sd;
use crate::training::days_of;
use crate::training::noise_of;
use crate::workflow::Home;
use crate::workflow::WorkflowError;
use crate::workflow::taster_ratings::TasterRatings;

/// Pairs of days from which on the noise between days counts as measured.
const MEASURED_DAYS: u32 = 8;

/// How lines differ from one another and with the taster, before anybody was measured (judgement): what a line
/// that was never measured adds to what is known of its taster.
const LINE_LOG_VARIANCE: f64 = 0.25 * 0.25 + 0.2 * 0.2;

/// The noise of every taster on every line.
#[derive(Debug, Clone, Default)]
pub(super) struct TasterNoise {
    lines: Vec<String>,
    /// Each with the noise by line, and that on any other line.
    tasters: Vec<(String, Vec<Noise>, Noise)>,
}

impl Home {
    /// The noise of every taster, as far as coded glasses and imported ratings tell.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(super) fn taster_noise(&self) -> Result<TasterNoise, WorkflowError> {
        Ok(TasterNoise::of(&self.taster_ratings()?))
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
        Self {
            lines: all.lines.clone(),
            tasters: tasters.collect(),
        }
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
