//! What is known of a taster as pictures: the charts over time, and what was said beside what was right.

use crate::drawing::Reliability;
use crate::drawing::RunChart;
use crate::drawing::RunPoint;
use crate::drawing::SaidChance;
use crate::drawing::capitalised;
use crate::reports::panel_report::signed;
use crate::reports::taster_line_report::chart_name;
use crate::statistics::Count;
use crate::statistics::Probability;
use crate::statistics::StatedChance;
use crate::statistics::wilson;
use crate::workflow::ChartPoint;
use crate::workflow::Confidence;
use crate::workflow::STRAYS;
use crate::workflow::TasterChart;
use crate::workflow::TasterCharts;

/// What the limits of a share leave out.
const OUTSIDE: Probability = Probability::new(0.05).expect("5 % is a probability");

/// Names are kept to so many letters in a heading.
const NAME: usize = 60;

/// One chart.
#[must_use]
pub(super) fn taster_chart(chart: &TasterChart) -> RunChart {
    let name: String = chart_name(&chart.line).chars().take(NAME).collect();
    let above = if chart.line == STRAYS {
        ""
    } else {
        ", digits above the others"
    };
    RunChart {
        head: format!(
            "{}{above}: {} over the first {} sittings",
            capitalised(&name),
            signed(chart.target),
            chart.baseline
        ),
        points: chart.points.iter().map(run_point).collect(),
    }
}

fn run_point(point: &ChartPoint) -> RunPoint {
    RunPoint {
        label: point.day.to_string(),
        value: point.value,
        words: signed(point.value),
        limits: point.limits,
    }
}

/// All charts of a taster; none before there are enough sittings.
#[must_use]
pub fn taster_charts_picture(charts: &TasterCharts) -> Vec<RunChart> {
    match charts {
        TasterCharts::NotYet { .. } => Vec::new(),
        TasterCharts::Charts { charts, .. } => charts.iter().map(taster_chart).collect(),
    }
}

/// Certainty against what was right; none where no certainty was stated.
#[must_use]
pub fn certainty_picture(it: &Confidence) -> Option<Reliability> {
    let stated = it.stated.iter().filter(|it| it.count.tries() > 0);
    let said: Vec<SaidChance> = stated.map(said_chance).collect();
    (!said.is_empty()).then_some(Reliability { said })
}

fn said_chance(it: &StatedChance) -> SaidChance {
    let limits = wilson(it.count, OUTSIDE);
    SaidChance {
        said: it.said.get(),
        came: share(it.count),
        limits: [limits.low.get(), limits.high.get()],
        words: format!("{} of {}", it.count.hits(), it.count.tries()),
    }
}

fn share(count: Count) -> f64 {
    f64::from(count.hits()) / f64::from(count.tries().max(1))
}
