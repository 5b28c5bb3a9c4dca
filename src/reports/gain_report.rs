//! What one learner gained over a course, for their own eyes.

use serde_json::Value;
use serde_json::json;

use crate::drawing::Dumbbell;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::comparison_report::wrapped;
use crate::statistics::Count;
use crate::statistics::PairedDifference;
use crate::workflow::CourseGain;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// Cells of a line from none to all.
const PLOT: usize = 19;

/// What a learner gained, as lines of at most `cells` cells.
#[must_use]
pub fn gain_lines(it: &CourseGain, cells: usize) -> Vec<Line> {
    let title = format!("{}, {}", it.taster.name, it.course.name);
    let mut lines = vec![Line::of(Ink::Title, title)];
    lines.extend(wrapped(Ink::Strong, &gain_sentence(it), cells));
    lines.push(Line::blank());
    for check in &it.checks {
        let name = format!("meeting {}", check.number);
        lines.push(row(&name, "words", check.words));
        lines.push(row("", "places", check.places));
    }
    if !it.checks.is_empty() {
        lines.push(Line::blank());
    }
    let why = "The check is smelled at the first, the middle and the last meeting and never practised: what is better there is the nose and the way to look for a word, not jars learnt by heart. With so few words the range is wide: take it as a hint, not as a mark.";
    lines.extend(wrapped(Ink::Quiet, why, cells));
    lines
}

fn row(name: &str, what: &str, count: Count) -> Line {
    let share = f64::from(count.hits()) / f64::from(count.tries().max(1));
    let plot = Dumbbell {
        found: Some(9.0 * share),
        ..Dumbbell::default()
    };
    Line::plain(format!(
        "  {name:<11} {what:<7} {}  {} of {}",
        plot.cells(PLOT),
        count.hits(),
        count.tries()
    ))
}

/// One true sentence.
fn gain_sentence(it: &CourseGain) -> String {
    match (&it.gain, it.checks.as_slice()) {
        (Some(gain), _) => format!(
            "Over the same {} words: {} named rightly, {} in the right place.",
            gain.pairs,
            change(gain.words),
            change(gain.places)
        ),
        (None, [one]) => format!(
            "At meeting {}: {} of {} words and {} of {} places. From the middle meeting on it is told what was gained.",
            one.number,
            one.words.hits(),
            one.words.tries(),
            one.places.hits(),
            one.places.tries()
        ),
        (None, _) => "No check is answered in full yet.".to_owned(),
    }
}

/// A difference in points of a hundred, with its range and whether it is beyond chance.
fn change(it: PairedDifference) -> String {
    let points = |share: f64| format!("{:+.0}", 100.0 * share);
    let beyond = if it.low > 0.0 {
        "a gain beyond chance"
    } else if it.high < 0.0 {
        "a loss beyond chance"
    } else {
        "too few to tell from chance"
    };
    format!(
        "{} in a hundred (19 times in 20 between {} and {}: {beyond})",
        points(it.difference),
        points(it.low),
        points(it.high)
    )
}

/// What a learner gained, as JSON.
#[must_use]
pub fn gain_json(it: &CourseGain) -> Value {
    let difference = |it: PairedDifference| json!({ "difference": it.difference, "low": it.low, "high": it.high });
    json!({
        "format": VERSION,
        "course": it.course.name.as_str(),
        "taster": it.taster.name.as_str(),
        "checks": it.checks.iter().map(|it| json!({
            "meeting": it.number,
            "words_right": it.words.hits(),
            "places_right": it.places.hits(),
            "words": it.words.tries(),
        })).collect::<Vec<_>>(),
        "gain": it.gain.map(|it| json!({
            "pairs": it.pairs,
            "words": difference(it.words),
            "places": difference(it.places),
        })),
    })
}
