//! Why a line of a prediction is what it is, as lines and as JSON.

use serde_json::Value;
use serde_json::json;

use crate::domain::Measure;
use crate::domain::Scale;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::comparison_report::wrapped;
use crate::reports::verdict_words::times_words;
use crate::workflow::About;
use crate::workflow::ForeseenLine;
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
            let ordinary = in_unit(&why.line.about, ordinary);
            let text = format!("An ordinary beer has {ordinary}. What moves this one:");
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
        lines.extend(wrapped(Ink::Plain, &lever_words(why, lever), cells));
    }
    lines.push(Line::blank());
    for (rule, source) in &why.rules {
        lines.extend(wrapped(Ink::Quiet, &format!("Rule: {rule}"), cells));
        lines.extend(wrapped(Ink::Quiet, &format!("From: {source}."), cells));
    }
    lines
}

/// What a change moves: a scale in its own unit, or how much more of a shelf there is.
fn lever_words(why: &Why, lever: &Lever) -> String {
    match lever.grows {
        Some(grows) => {
            let more = format!("{:+.0} %", 100.0 * grows);
            let named = format!("{:+.0} in 100 name it", 100.0 * lever.moves);
            format!("  {more:>8}  {} ({named})", lever.change)
        }
        None => match amount_of(&why.line.about) {
            Some((scale, unit)) => {
                let now = why.line.foreseen.middle;
                let moves = scale.value_at(now + lever.moves) - scale.value_at(now);
                format!("  {moves:>+8.1} {unit}  {}", lever.change)
            }
            None => format!("  {:>+8.2}  {}", lever.moves, lever.change),
        },
    }
}

fn predicted_sentence(why: &Why) -> String {
    let it = &why.line.foreseen;
    let about = &why.line.about;
    match it.chance {
        Some(chance) => format!(
            "{} name it; if so at {:.1} of 9, 8 times in 10 between {:.1} and {:.1}.",
            times_words(chance),
            it.middle,
            it.low,
            it.high
        ),
        None => format!(
            "{} predicted, 8 times in 10 between {} and {}.",
            in_unit(about, it.middle),
            number_of(about, it.low),
            in_unit(about, it.high)
        ),
    }
}

/// The scale of a line and its unit, where its digits stand for amounts.
const fn amount_of(about: &About) -> Option<(&'static Scale, &'static str)> {
    match about {
        About::Scale(scale) => match scale.measure {
            Measure::Amount { unit, .. } => Some((scale, unit)),
            _ => None,
        },
        About::Shelf { .. } => None,
    }
}

/// What a place among the digits stands for, without its unit.
fn number_of(about: &About, digits: f64) -> String {
    match amount_of(about) {
        Some((scale, _)) => format!("{:.0}", scale.value_at(digits)),
        None => format!("{digits:.1}"),
    }
}

/// What a place among the digits stands for: `59 EBC`, `6.5 of 9`.
fn in_unit(about: &About, digits: f64) -> String {
    let unit = amount_of(about).map_or("of 9", |it| it.1);
    format!("{} {unit}", number_of(about, digits))
}

/// What is predicted of a line, in a few words.
#[must_use]
pub fn predicted_words(line: &ForeseenLine) -> String {
    match line.foreseen.chance {
        Some(chance) => format!("named by {:.0} in 100", 100.0 * chance),
        None => in_unit(&line.about, line.foreseen.middle),
    }
}

/// What one part adds; scales that are not digits add in their own unit.
fn part_words(why: &Why, part: &WhyPart) -> String {
    let unit = amount_of(&why.line.about).map_or_else(String::new, |it| format!(" {}", it.1));
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
        "unit": amount_of(&why.line.about).map(|it| it.1),
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workflow::Foreseen;

    #[test]
    fn colour_is_told_in_one_unit_from_the_first_figure_to_the_last() {
        // By the table of the scale: the digits 6, 7, 8 and 4 are 32, 48, 70 and 15 EBC; half a digit from 48 is 11.
        let why = Why {
            line: ForeseenLine {
                id: "colour".to_owned(),
                label: "Colour".to_owned(),
                about: About::Scale(Scale::from_id("colour").unwrap()),
                foreseen: Foreseen {
                    chance: None,
                    low: 6.0,
                    middle: 7.0,
                    high: 8.0,
                    why: Vec::new(),
                },
            },
            parts: vec![WhyPart {
                what: "colour".to_owned(),
                amount: "48.0, usually 15.0".to_owned(),
                adds: 33.0,
                how: None,
            }],
            ordinary: Some(4.0),
            rules: Vec::new(),
            levers: vec![Lever {
                change: "10 g more of a dark malt".to_owned(),
                moves: 0.5,
                grows: None,
            }],
        };
        let lines: Vec<String> = why_lines(&why, 79).iter().map(Line::text).collect();
        let told = lines.join("\n");
        for part in [
            "48 EBC predicted, 8 times in 10 between 32 and 70 EBC.",
            "An ordinary beer has 15 EBC.",
            "+33.0 EBC  colour",
            "+11.0 EBC  10 g more",
        ] {
            assert!(told.contains(part), "{part}\n{told}");
        }
        assert_eq!(predicted_words(&why.line), "48 EBC");
        assert_eq!(why_json(&why)["unit"], "EBC");
    }
}
