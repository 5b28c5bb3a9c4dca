//! One taster's record of blind tests, as lines and as JSON.

use serde_json::Value;
use serde_json::json;

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::capitalised;
use crate::reports::blind_words::number_of;
use crate::reports::blind_words::percent;
use crate::reports::comparison_report::wrapped;
use crate::statistics::Count;
use crate::workflow::MethodRecord;
use crate::workflow::TestRecord;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// A record as lines of at most `cells` cells.
#[must_use]
pub fn record_lines(it: &TestRecord, cells: usize) -> Vec<Line> {
    let title = format!("Blind tests of {}", it.taster.name);
    let mut lines = vec![Line::of(Ink::Title, title)];
    if it.methods.is_empty() {
        let none = format!(
            "{} has no answer in a closed test yet in which one is right and one is wrong.",
            it.taster.name
        );
        lines.extend(wrapped(Ink::Plain, &none, cells));
        return lines;
    }
    for method in &it.methods {
        lines.extend(wrapped(Ink::Plain, &method_words(method), cells));
    }
    if !it.sureness.is_empty() {
        let told: Vec<String> = it
            .sureness
            .iter()
            .map(|(sure, count)| format!("{} {}", sure.word(), of(*count)))
            .collect();
        let said = format!("Right by how sure: {}.", told.join(" · "));
        lines.extend(wrapped(Ink::Plain, &said, cells));
    }
    let note = "How many are right depends on the two beers first: compare only with the others at the same tests, and not from a handful of answers.";
    lines.extend(wrapped(Ink::Quiet, note, cells));
    lines
}

fn of(count: Count) -> String {
    format!("{} of {}", count.hits(), count.tries())
}

fn method_words(it: &MethodRecord) -> String {
    let guessed = it.method.guess().get() * f64::from(it.own.tries());
    let others = if it.others.tries() == 0 {
        String::new()
    } else {
        format!(" The others at the same: {}.", of(it.others))
    };
    format!(
        "{} in {}: {} right, where guessing gives about {guessed:.0}; with so few answers anything from {} to {} fits.{others}",
        capitalised(it.method.name),
        number_of(it.tests, "test", "tests"),
        of(it.own),
        percent(it.limits.low.get()),
        percent(it.limits.high.get()),
    )
}

/// A record as JSON.
#[must_use]
pub fn record_json(it: &TestRecord) -> Value {
    json!({
        "format": VERSION,
        "taster": it.taster.name.as_str(),
        "methods": it.methods.iter().map(|it| json!({
            "method": it.method.id,
            "tests": it.tests,
            "correct": it.own.hits(),
            "answers": it.own.tries(),
            "guess": it.method.guess().get(),
            "low": it.limits.low.get(),
            "high": it.limits.high.get(),
            "others_correct": it.others.hits(),
            "others_answers": it.others.tries(),
        })).collect::<Vec<_>>(),
        "sureness": it.sureness.iter().map(|(sure, count)| json!({
            "sureness": sure.id(),
            "correct": count.hits(),
            "answers": count.tries(),
        })).collect::<Vec<_>>(),
    })
}
