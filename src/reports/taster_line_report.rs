//! The measures of a taster line by line, and the charts over time, as lines.

use crate::drawing::CellRoom;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::Picture;
use crate::drawing::capitalised;
use crate::reports::comparison_report::wrapped;
use crate::reports::panel_report::counted;
use crate::reports::panel_report::line_row;
use crate::reports::taster_picture::taster_chart;
use crate::reports::taster_report::glasses;
use crate::reports::taster_report::line_word;
use crate::statistics::Drift;
use crate::statistics::Slope;
use crate::workflow::ChartKind;
use crate::workflow::Circumstances;
use crate::workflow::NoCircumstances;
use crate::workflow::STRAYS;
use crate::workflow::TasterChart;
use crate::workflow::TasterCharts;
use crate::workflow::TasterPage;

/// Cells of a name.
const NAME: usize = 20;

/// The measures line by line.
pub(super) fn line_table(it: &TasterPage, cells: usize) -> Vec<Line> {
    let mut lines = vec![Line::blank(), Line::of(Ink::Strong, "Line by line")];
    let columns = format!("  {:<NAME$} strays           p        beside   above", "");
    lines.push(Line::of(Ink::Quiet, columns));
    let rows = it.measures.lines.iter();
    lines.extend(rows.map(|it| Line::plain(line_row(&line_word(&it.line), it))));
    let note = "strays: how far one answer lies off, in digits. p: how often chance alone makes beers differ so. beside: Lin's concordance with the mean of the others. above: digits above them.";
    lines.extend(wrapped(Ink::Quiet, note, cells));
    lines
}

/// What is said of a line in a chart.
pub(super) fn chart_name(line: &str) -> String {
    if line == STRAYS {
        "how far pairs lie apart".to_owned()
    } else {
        line_word(line).to_lowercase()
    }
}

/// Whether anything has moved, in sentences.
pub(super) fn drift_words(charts: &TasterCharts) -> Vec<String> {
    let charts = match charts {
        TasterCharts::NotYet { sittings, needed } => {
            return vec![format!(
                "No chart yet: it takes {needed} sittings with somebody else at the same beers, and there {} {sittings}. Before that no drift is told from chance.",
                if *sittings == 1 { "is" } else { "are" }
            )];
        }
        TasterCharts::Charts {
            kind: ChartKind::CumulativeSum,
            ..
        } => {
            return vec![
                "Cumulative sums are to be looked at; whether anything moved is told by the weighted means."
                    .to_owned(),
            ];
        }
        TasterCharts::Charts { charts, .. } => charts,
    };
    let moved: Vec<String> = charts
        .iter()
        .filter_map(|it| Some((it, it.signal?)))
        .map(|(it, (drift, day))| drifted(it, drift, &day.to_string()))
        .collect();
    if moved.is_empty() {
        let number = charts.len();
        let points = charts.first().map_or(0, |it| it.points.len());
        return vec![format!(
            "Steady: {number} {} over the last {points} sittings, none beyond what chance does in 1 of 20 to any of them.",
            if number == 1 { "chart" } else { "charts" }
        )];
    }
    moved
}

fn drifted(it: &TasterChart, drift: Drift, day: &str) -> String {
    match (it.line == STRAYS, drift) {
        (true, Drift::Up) => {
            format!("Answers to the same beer lie farther apart than before, since {day}.")
        }
        (true, Drift::Down) => format!(
            "Answers to the same beer lie closer together than before, since {day}: practice shows."
        ),
        (false, Drift::Up) => format!(
            "{}: higher against the others than before, since {day}.",
            capitalised(&chart_name(&it.line))
        ),
        (false, Drift::Down) => format!(
            "{}: lower against the others than before, since {day}.",
            capitalised(&chart_name(&it.line))
        ),
    }
}

/// Why nothing is told of order, hour and pause.
fn why_no_circumstances(why: &NoCircumstances) -> String {
    let told = |tasted: usize, sittings: usize| {
        let sittings = counted(sittings as u64, "sitting");
        format!("{} in {sittings}", glasses(tasted, ""))
    };
    match why {
        NoCircumstances::NotYet {
            glasses,
            glasses_needed,
            sittings,
            sittings_needed,
        } => format!(
            "Order, hour and pause: not yet, that takes {} or more; so far {}.",
            told(*glasses_needed, *sittings_needed),
            told(*glasses, *sittings)
        ),
        NoCircumstances::Tied => "Order, hour and pause hardly vary, or always change together, so nothing tells what each of them does.".to_owned(),
    }
}

/// What order, hour and pause do, in sentences.
pub(super) fn circumstances_words(found: &Result<Circumstances, NoCircumstances>) -> Vec<String> {
    let it = match found {
        Ok(it) => it,
        Err(why) => return vec![why_no_circumstances(why)],
    };
    let causes = [
        ("a later glass of the evening", it.later_glass),
        ("a later hour", it.later_hour),
        (
            "twice as long a pause since the last sitting",
            it.longer_pause,
        ),
    ];
    // Three causes are looked at, so each gets a third of the chance.
    let clear = causes.iter().filter(|it| 3.0 * it.1.p.get() <= 0.05);
    let told: Vec<String> = clear.map(|it| cause_words(it.0, &it.1)).collect();
    if told.is_empty() {
        return vec![format!(
            "Neither order nor hour nor pause moves the answers beyond chance, on {} glasses.",
            it.glasses
        )];
    }
    told
}

fn cause_words(name: &str, slope: &Slope) -> String {
    let way = if slope.value > 0.0 {
        "farther from"
    } else {
        "closer to"
    };
    let ends = [slope.interval.low.abs(), slope.interval.high.abs()];
    format!(
        "With {name} answers lie {way} the others, by {:.2} digits ({:.2} to {:.2}).",
        slope.value.abs(),
        ends[0].min(ends[1]),
        ends[0].max(ends[1])
    )
}

/// The charts, one row a sitting.
pub(super) fn chart_lines(charts: &TasterCharts, cells: usize) -> Vec<Line> {
    let TasterCharts::Charts { kind, charts } = charts else {
        return Vec::new();
    };
    let title = match kind {
        ChartKind::WeightedMean => "Charts: weighted mean, sitting by sitting",
        ChartKind::CumulativeSum => "Charts: cumulative sum, sitting by sitting",
    };
    let mut lines = vec![Line::blank(), Line::of(Ink::Strong, title)];
    for chart in charts {
        lines.push(Line::blank());
        lines.extend(taster_chart(chart).lines(CellRoom { cells, rows: 1 }));
    }
    let note = match kind {
        ChartKind::WeightedMean => {
            "| marks the limits and the middle of the first sittings, * the weighted mean, where the newest sitting weighs a fifth. The limits are so wide that any of all charts leaves them by chance in 1 of 20 times at most."
        }
        ChartKind::CumulativeSum => {
            "| marks the limits, * the larger of the two sums. The limits hold for a middle and a spread that are known; ours come from the first sittings, so a sum beyond them is a reason to look, and no verdict is drawn from it."
        }
    };
    lines.extend(wrapped(Ink::Quiet, note, cells));
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_there_and_what_it_takes_are_told_apart() {
        let found = Err(NoCircumstances::NotYet {
            glasses: 19,
            glasses_needed: 30,
            sittings: 18,
            sittings_needed: 10,
        });
        assert_eq!(
            circumstances_words(&found),
            [
                "Order, hour and pause: not yet, that takes 30 glasses in 10 sittings or more; so far 19 glasses in 18 sittings."
            ]
        );
    }
}
