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
use crate::workflow::Untold;
use crate::workflow::WeekLine;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// Cells of a name.
const NAME: usize = 20;

/// Why no change can be told, in words.
const UNTOLD: [(Untold, &str); 2] = [
    (Untold::NobodyTwice, "since nobody rated it on two days"),
    (
        Untold::NoiseHidesAll,
        "since the noise would hide any change: it was tasted too seldom, or each time within too few weeks",
    ),
];

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
    lines.extend(wrapped(Ink::Strong, &sentence(it), cells));
    lines.push(Line::blank());
    if !it.lines.is_empty() {
        lines.extend(table(it, cells));
    }
    // Where nobody rated anything twice, the sentence above says all there is to say.
    let nothing_twice = it.untold.iter().all(|it| it.why == Untold::NobodyTwice);
    if !it.lines.is_empty() || !nothing_twice {
        for (why, words) in UNTOLD {
            lines.extend(untold_lines(it, why, words, cells));
        }
    }
    lines
}

/// The lines of which a change can be told, and how to read them.
fn table(it: &BatchWeeks, cells: usize) -> Vec<Line> {
    let columns = format!("  {:<NAME$} first   last   change               so", "");
    let mut lines = vec![Line::of(Ink::Quiet, columns)];
    lines.extend(it.lines.iter().map(row));
    lines.push(Line::blank());
    let note = "change: from the first day to the last of those who rated it on two days, by the line of best fit through all their days, in digits, with where it lies 19 times in 20. All lines are judged together; same means within one digit with nine chances in ten.";
    lines.extend(wrapped(Ink::Quiet, note, cells));
    if let Some(words) = it.basis.and_then(noise_words) {
        lines.extend(wrapped(Ink::Quiet, words, cells));
    }
    lines
}

/// The lines of which no change can be told for one reason, in a sentence.
fn untold_lines(it: &BatchWeeks, why: Untold, words: &str, cells: usize) -> Vec<Line> {
    let named = it.untold.iter().filter(|it| it.why == why);
    let named: Vec<&str> = named.map(|it| it.scale.word).collect();
    if named.is_empty() {
        return Vec::new();
    }
    let mut lines = Vec::new();
    if !it.lines.is_empty() {
        lines.push(Line::blank());
    }
    let text = format!("Cannot be told, {words}: {}.", named.join(", "));
    lines.extend(wrapped(Ink::Plain, &text, cells));
    lines
}

fn sentence(it: &BatchWeeks) -> String {
    if it.lines.is_empty() {
        return "How it changed cannot be told yet: that needs somebody who rates the same things on two days, some weeks apart, because each taster is held against their own earlier notes only.".to_owned();
    }
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
    let same = it.lines.iter().filter(|it| it.changed == Changed::Same);
    match (moved.is_empty(), same.count()) {
        (false, _) => format!(
            "In {weeks:.0} weeks, beyond the noise: {}.",
            moved.join(", ")
        ),
        (true, 0) => format!(
            "In {weeks:.0} weeks no change stands out from the noise; whether there was one cannot be told yet."
        ),
        (true, same) if same == it.lines.len() => {
            format!("In {weeks:.0} weeks nothing changed by more than one digit.")
        }
        (true, same) => format!(
            "In {weeks:.0} weeks no change stands out from the noise; {same} of {} lines stayed the same, of the others it cannot be told yet.",
            it.lines.len()
        ),
    }
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
            "points": points(&it.points),
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
        "untold": it.untold.iter().map(|it| json!({
            "scale": it.scale.id,
            "points": points(&it.points),
            "why": match it.why {
                Untold::NobodyTwice => "nobody-on-two-days",
                Untold::NoiseHidesAll => "noise-hides-all",
            },
        })).collect::<Vec<_>>(),
    })
}

fn points(all: &[(f64, f64)]) -> Vec<Value> {
    let told = all.iter();
    told.map(|(week, digits)| json!({ "week": week, "digits": digits }))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Day;
    use crate::domain::Scale;
    use crate::workflow::UntoldLine;

    #[test]
    fn what_nobody_rated_twice_is_said_in_words_and_has_no_figure() {
        let day = |text: &str| Day::parse(text).unwrap();
        let untold = |id: &str, why: Untold| UntoldLine {
            scale: Scale::from_id(id).unwrap(),
            points: vec![(0.0, 4.0), (3.0, 6.0)],
            why,
        };
        let weeks = BatchWeeks {
            cap_mark: Name::new("a cap mark", "T1").unwrap(),
            since: (day("2026-03-01"), Since::Packaged),
            days: vec![day("2026-03-01"), day("2026-03-22")],
            tasters: Vec::new(),
            lines: Vec::new(),
            untold: vec![
                untold("sour", Untold::NobodyTwice),
                untold("haze", Untold::NoiseHidesAll),
            ],
            basis: None,
        };
        let told: Vec<String> = weeks_lines(&weeks, 200).iter().map(Line::text).collect();
        let told = told.join("\n");
        for part in [
            "How it changed cannot be told yet",
            "Cannot be told, since nobody rated it on two days: Sour.",
            "since the noise would hide any change",
        ] {
            assert!(told.contains(part), "{part}\n{told}");
        }
        assert!(!told.contains("nothing changed"), "{told}");
        let json = weeks_json(&weeks);
        assert_eq!(json["lines"], json!([]));
        assert_eq!(
            json["untold"][0],
            json!({
                "scale": "sour",
                "points": [{ "week": 0.0, "digits": 4.0 }, { "week": 3.0, "digits": 6.0 }],
                "why": "nobody-on-two-days",
            })
        );
    }
}
