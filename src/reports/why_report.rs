//! Why a line of a prediction is what it is, as lines and as JSON.

use serde_json::Value;
use serde_json::json;

use crate::domain::Measure;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::comparison_report::wrapped;
use crate::reports::verdict_words::digits_words;
use crate::reports::verdict_words::times_words;
use crate::workflow::About;
use crate::workflow::Lever;
use crate::workflow::Why;
use crate::workflow::WhyPart;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// Why a line is what it is, as lines of at most `cells` cells.
#[must_use]
pub fn why_lines(why: &Why, cells: usize) -> Vec<Line> {
    let mut lines = vec![Line::of(Ink::Title, why.line.label.clone())];
    lines.extend(wrapped(Ink::Strong, &predicted_sentence(why), cells));
    lines.push(Line::blank());
    match why.ordinary {
        Some(ordinary) => {
            let text = format!("An ordinary beer has {ordinary:.1}. What moves this one:");
            lines.push(Line::of(Ink::Strong, text));
        }
        None => lines.push(Line::of(Ink::Strong, "Where it comes from:")),
    }
    if why.parts.is_empty() {
        lines.push(Line::plain("  nothing; it is as in an ordinary beer"));
    }
    // What would be shown as nothing is not shown; JSON has it.
    let shown = |it: &&WhyPart| why.ordinary.is_none() || it.adds.abs() >= 0.05;
    for part in why.parts.iter().filter(shown) {
        lines.extend(wrapped(Ink::Plain, &part_words(why, part), cells));
        if let Some(how) = &part.how {
            lines.extend(wrapped(Ink::Quiet, &format!("         {how}"), cells));
        }
    }
    lines.push(Line::blank());
    lines.push(Line::of(Ink::Strong, "What would move it most:"));
    if why.levers.is_empty() {
        lines.push(Line::plain("  no small change moves it noticeably"));
    }
    for lever in &why.levers {
        lines.extend(wrapped(Ink::Plain, &lever_words(lever), cells));
    }
    lines.push(Line::blank());
    for (rule, source) in &why.rules {
        lines.extend(wrapped(Ink::Quiet, &format!("Rule: {rule}"), cells));
        lines.extend(wrapped(Ink::Quiet, &format!("From: {source}."), cells));
    }
    lines
}

/// What a change moves: digits of a scale, or how much more of a shelf there is.
fn lever_words(lever: &Lever) -> String {
    match lever.grows {
        Some(grows) => {
            let more = format!("{:+.0} %", 100.0 * grows);
            let named = format!("{:+.0} in 100 name it", 100.0 * lever.moves);
            format!("  {more:>8}  {} ({named})", lever.change)
        }
        None => format!("  {:>+8.2}  {}", lever.moves, lever.change),
    }
}

fn predicted_sentence(why: &Why) -> String {
    let it = &why.line.foreseen;
    let range = format!("8 times in 10 between {:.1} and {:.1}", it.low, it.high);
    match it.chance {
        Some(chance) => format!(
            "{} name it; if so at {:.1} of 9, {range}.",
            times_words(chance),
            it.middle
        ),
        None => format!(
            "{} predicted, {range}.",
            digits_words(&why.line.about, Some(it.middle))
        ),
    }
}

/// What one part adds; scales that are not digits add in their own unit.
fn part_words(why: &Why, part: &WhyPart) -> String {
    let unit = match &why.line.about {
        About::Scale(scale) => match scale.measure {
            Measure::Amount { unit, .. } => format!(" {unit}"),
            _ => String::new(),
        },
        About::Shelf { .. } => String::new(),
    };
    match why.ordinary {
        Some(_) => format!("  {:+.1}{unit}  {} ({})", part.adds, part.what, part.amount),
        None => format!(
            "  {:>3.0} %  {} ({})",
            100.0 * part.adds,
            part.what,
            part.amount
        ),
    }
}

/// Why a line is what it is, as JSON: digits for scales, parts of one for shelves.
#[must_use]
pub fn why_json(why: &Why) -> Value {
    json!({
        "format": VERSION,
        "line": why.line.id,
        "words": why.line.label,
        "ordinary": why.ordinary,
        "predicted": {
            "low": why.line.foreseen.low,
            "middle": why.line.foreseen.middle,
            "high": why.line.foreseen.high,
            "chance": why.line.foreseen.chance,
        },
        "parts": why.parts.iter().map(|it| json!({
            "what": it.what, "amount": it.amount, "adds": it.adds, "how": it.how,
        })).collect::<Vec<_>>(),
        "rules": why.rules.iter().map(|(rule, source)| json!({
            "rule": rule, "source": source,
        })).collect::<Vec<_>>(),
        "levers": why.levers.iter().map(|it| json!({
            "change": it.change, "moves": it.moves, "grows": it.grows,
        })).collect::<Vec<_>>(),
    })
}
