//! A batch over the weeks, as lines and as JSON.

use serde_json::Value;
use serde_json::json;

use crate::domain::Name;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::comparison_report::wrapped;
use crate::reports::noise_words::noise_words;
use crate::reports::panel_report::counted;
use crate::reports::panel_report::signed;
use crate::workflow::BatchWeeks;
use crate::workflow::Changed;
use crate::workflow::Since;
use crate::workflow::WeekLine;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// Cells of a name.
const NAME: usize = 20;

/// A batch over the weeks as lines of at most `cells` cells.
#[must_use]
pub fn weeks_lines(it: &BatchWeeks, cells: usize) -> Vec<Line> {
    let mut lines = vec![Line::of(
        Ink::Title,
        format!("{} over the weeks", it.cap_mark),
    )];
    let since = match it.since.1 {
        Since::Packaged => format!("packaged {}", it.since.0),
        Since::FirstTasted => format!(
            "first tasted {}; the log holds no day of packaging",
            it.since.0
        ),
    };
    let names: Vec<&str> = it.tasters.iter().map(Name::as_str).collect();
    let head = format!(
        "Tasted on {} by {}; {since}.",
        counted(it.days.len() as u64, "day"),
        names.join(", ")
    );
    lines.extend(wrapped(Ink::Quiet, &head, cells));
    lines.push(Line::blank());
    if it.lines.is_empty() {
        let none = "Not yet: how it changes is told once somebody has tasted it on two days and rated the same things.";
        lines.extend(wrapped(Ink::Plain, none, cells));
        return lines;
    }
    lines.extend(wrapped(Ink::Strong, &sentence(it), cells));
    lines.push(Line::blank());
    let columns = format!("  {:<NAME$} first   last   change               so", "");
    lines.push(Line::of(Ink::Quiet, columns));
    lines.extend(it.lines.iter().map(row));
    lines.push(Line::blank());
    let note = "change: from the first day to the last by the line of best fit through all days, in digits, with where it lies 19 times in 20. All lines are judged together; same means within one digit with nine chances in ten.";
    lines.extend(wrapped(Ink::Quiet, note, cells));
    if let Some(words) = it.basis.and_then(noise_words) {
        lines.extend(wrapped(Ink::Quiet, words, cells));
    }
    lines
}

fn sentence(it: &BatchWeeks) -> String {
    let moved: Vec<String> = it
        .lines
        .iter()
        .filter_map(|line| {
            let way = match line.changed {
                Changed::Risen => "more",
                Changed::Fallen => "less",
                Changed::Same | Changed::CannotTell => return None,
            };
            Some(format!("{way} {}", line.scale.word.to_lowercase()))
        })
        .collect();
    let weeks = it.lines.iter().map(|it| it.trend.weeks).fold(0.0, f64::max);
    if moved.is_empty() {
        return format!("In {weeks:.0} weeks nothing changed beyond the noise.");
    }
    format!(
        "In {weeks:.0} weeks, beyond the noise: {}.",
        moved.join(", ")
    )
}

fn row(it: &WeekLine) -> Line {
    let first = it.points.first().map_or(0.0, |it| it.1);
    let last = it.points.last().map_or(0.0, |it| it.1);
    let trend = &it.trend;
    let [change, low, high] = [trend.change, trend.range.low, trend.range.high].map(signed);
    let change = format!("{change} ({low} to {high})");
    let (so, ink) = match it.changed {
        Changed::Risen => ("more", Ink::Strong),
        Changed::Fallen => ("less", Ink::Strong),
        Changed::Same => ("same", Ink::Plain),
        Changed::CannotTell => ("cannot tell yet", Ink::Plain),
    };
    Line::of(
        ink,
        format!(
            "  {:<NAME$} {first:>5.1}  {last:>5.1}   {change:<20} {so}",
            it.scale.word
        ),
    )
}

/// A batch over the weeks as JSON.
#[must_use]
pub fn weeks_json(it: &BatchWeeks) -> Value {
    json!({
        "format": VERSION,
        "cap_mark": it.cap_mark.as_str(),
        "since": it.since.0.to_string(),
        "counted_from": match it.since.1 {
            Since::Packaged => "packaged",
            Since::FirstTasted => "first-tasted",
        },
        "days": it.days.iter().map(ToString::to_string).collect::<Vec<_>>(),
        "tasters": it.tasters.iter().map(Name::as_str).collect::<Vec<_>>(),
        "lines": it.lines.iter().map(|it| json!({
            "scale": it.scale.id,
            "points": it.points.iter().map(|(week, digits)| json!({ "week": week, "digits": digits })).collect::<Vec<_>>(),
            "weeks": it.trend.weeks,
            "change": it.trend.change,
            "interval": [it.trend.range.low, it.trend.range.high],
            "p": it.trend.p.get(),
            "changed": match it.changed {
                Changed::Risen => "more",
                Changed::Fallen => "less",
                Changed::Same => "same",
                Changed::CannotTell => "cannot-tell",
            },
        })).collect::<Vec<_>>(),
    })
}
