//! A series in words: what to mix, and how it was rated and put in order.

use crate::domain::Scale;
use crate::domain::Series;
use crate::domain::SeriesStep;
use crate::domain::StrengthGlass;
use crate::drawing::Dumbbell;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::uncapitalised;
use crate::reports::comparison_report::wrapped;
use crate::workflow::RatedSeries;
use crate::workflow::StrengthRecord;

/// Cells of a line from 0 to 9.
const PLOT: usize = 19;

/// What is to be mixed, cautions first, as lines of at most `cells` cells.
#[must_use]
pub fn series_key_lines(glasses: &[StrengthGlass], cells: usize) -> Vec<Line> {
    let Some(series) = glasses
        .first()
        .and_then(|it| it.scale.anchors)
        .and_then(|it| it.series)
    else {
        return Vec::new();
    };
    let mut lines = Vec::new();
    for text in series_care(&series) {
        lines.extend(wrapped(Ink::Alert, &text, cells));
    }
    let text = format!("Mix {}. A mouthful each, all equally warm.", series.base);
    lines.extend(wrapped(Ink::Strong, &text, cells));
    lines.push(Line::blank());
    for glass in glasses {
        let amount = series.steps[usize::from(glass.step.get() - 1)];
        let line = Line::of(Ink::Strong, format!("  [ ] {}  ", glass.code));
        let digit = format!("   for a {} of 9", glass.step.digit());
        lines.push(line.and(Ink::Plain, amount).and(Ink::Quiet, digit));
    }
    lines
}

/// What anybody must know before a glass of a series is drunk.
pub(super) fn series_care(series: &Series) -> Vec<String> {
    let mut texts = Vec::new();
    if !series.allergens.is_empty() {
        let names: Vec<&str> = series.allergens.iter().map(|it| it.word()).collect();
        texts.push(format!(
            "These glasses hold: {}. Ask everybody first.",
            names.join(", ")
        ));
    }
    texts.extend(series.care.map(|care| format!("Take care: {care}.")));
    texts
}

/// How a series was rated and put in order, as lines of at most `cells` cells.
#[must_use]
pub fn strength_lines(series: &RatedSeries, cells: usize) -> Vec<Line> {
    let Some(scale) = series.glasses.first().map(|it| it.scale) else {
        return Vec::new();
    };
    let mut lines = wrapped(Ink::Strong, &order_sentence(series, scale), cells);
    lines.push(Line::blank());
    lines.push(Line::of(Ink::Quiet, "  ◇ mixed for  ● rated  ◆ both"));
    let mut glasses: Vec<&StrengthGlass> = series.glasses.iter().collect();
    glasses.sort_by_key(|it| it.step);
    for glass in glasses {
        lines.push(glass_line(series, glass));
    }
    lines.push(Line::blank());
    lines.extend(wrapped(Ink::Plain, &digits_sentence(series), cells));
    lines
}

fn glass_line(series: &RatedSeries, glass: &StrengthGlass) -> Line {
    let rated = series.rated(glass);
    let plot = Dumbbell {
        wished: Some(f64::from(glass.step.digit())),
        found: rated.map(|it| f64::from(it.get())),
        ..Dumbbell::default()
    };
    let rated = rated.map_or("not rated".to_owned(), |it| format!("rated {}", it.get()));
    let placed = series.placed(glass).map_or(String::new(), |it| {
        let right = if it == glass.step {
            ""
        } else {
            ", out of place"
        };
        format!(" · put {}{right}", ordinal(it))
    });
    Line::plain(format!(
        "  {}  {}  for {}, {rated}{placed}",
        glass.code,
        plot.cells(PLOT),
        glass.step.digit()
    ))
}

const fn ordinal(step: SeriesStep) -> &'static str {
    match step.get() {
        1 => "first",
        2 => "second",
        3 => "third",
        4 => "fourth",
        _ => "fifth",
    }
}

/// How well the order fits, beside what guessing would give.
fn order_sentence(series: &RatedSeries, scale: &Scale) -> String {
    let Some(pairs) = series.pairs() else {
        return format!("{}: not put in order yet.", scale.word);
    };
    let chance = 100.0 * pairs.chance_of_guessing().get();
    let guessing = match chance {
        c if c > 99.5 => "Any order drawn blindly does as well.".to_owned(),
        c if c < 1.5 => "Drawn blindly, an order does as well once in a hundred.".to_owned(),
        c => format!("Drawn blindly, an order does as well {c:.0} times in a hundred."),
    };
    format!(
        "{}: of {} pairs {} stand in the right order. {guessing}",
        scale.word, pairs.all, pairs.right
    )
}

/// How far the digits lie from those that the glasses were mixed for; three quarters of a digit on
/// average are told (judgement).
fn digits_sentence(series: &RatedSeries) -> String {
    let rated = series.glasses.iter().filter_map(|glass| {
        let digit = series.rated(glass)?;
        Some(f64::from(digit.get()) - f64::from(glass.step.digit()))
    });
    let gaps: Vec<f64> = rated.collect();
    if gaps.is_empty() {
        return "No glass was rated by itself.".to_owned();
    }
    let mean = gaps.iter().sum::<f64>() / gaps.len() as f64;
    let lean = match mean {
        m if m >= 0.75 => format!("your digits stand {m:.1} above the examples on average"),
        m if m <= -0.75 => format!("your digits stand {:.1} below the examples on average", -m),
        _ => "your digits stand about where the examples do".to_owned(),
    };
    format!("Over this series {lean}. The order matters more than the digit.")
}

/// What all series so far say of a taster, as one sentence a scale.
#[must_use]
pub(super) fn strength_record_words(record: &StrengthRecord) -> String {
    let series = match record.series {
        1 => "one series".to_owned(),
        many => format!("{many} series"),
    };
    format!(
        "{}: {} of {} pairs in the right order, over {series}",
        uncapitalised(record.scale.word),
        record.right,
        record.pairs
    )
}
