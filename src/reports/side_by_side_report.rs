//! Plan and notes side by side, in words and as JSON; differences are not yet judged against noise.

use serde_json::Value;
use serde_json::json;

use crate::domain::Knew;
use crate::domain::Measure;
use crate::domain::Nose;
use crate::domain::Prompting;
use crate::domain::Wheel;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::width;
use crate::drawing::wrap;
use crate::reports::figure_words;
use crate::reports::figures_json;
use crate::workflow::FigureLine;
use crate::workflow::Figures;
use crate::workflow::Found;
use crate::workflow::HopedLine;
use crate::workflow::Noted;
use crate::workflow::PromisedLine;
use crate::workflow::SideBySide;
use crate::workflow::mark_words;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// The sentence that goes with every list of differences in this form.
const NOT_JUDGED: &str = "These are plain differences. Whether one is larger than your own noise is not judged here: taste it again on another day before you change anything.";

/// Plan and notes as lines.
#[must_use]
pub fn side_by_side_lines(it: &SideBySide, cells: usize) -> Vec<Line> {
    let mut lines = vec![Line::of(
        Ink::Title,
        format!("{} · {}", it.cap_mark, it.recipe),
    )];
    lines.extend(wrapped(Ink::Quiet, &heading(it), cells));
    if it.faulty_bottles > 0 {
        lines.push(Line::of(
            Ink::Quiet,
            format!(
                "Left out because something was wrong with the bottle: {}.",
                it.faulty_bottles
            ),
        ));
    }
    if it.found.is_empty() {
        lines.push(Line::plain(
            "No sound bottle has been tasted yet; open another one.",
        ));
        return lines;
    }
    let several = it.found.len() > 1;
    lines.push(Line::blank());
    lines.push(Line::of(Ink::Strong, "Hoped for"));
    if it.hoped.is_empty() {
        lines.push(Line::plain(
            "  The recipe has no [intent]; write one before the next brew to have something to compare with.",
        ));
    }
    for hoped in &it.hoped {
        lines.extend(hoped_lines(hoped, &it.found, several, cells));
    }
    lines.extend(promised(it, cells));
    lines.push(Line::blank());
    lines.push(Line::of(Ink::Strong, "Found, but nobody planned it"));
    let unplanned: Vec<String> = it
        .unplanned
        .iter()
        .map(|word| {
            if several {
                format!("{} ({})", word.word, word.found_by.join(", "))
            } else {
                word.word.clone()
            }
        })
        .collect();
    let text = if unplanned.is_empty() {
        "nothing".to_owned()
    } else {
        unplanned.join(", ")
    };
    lines.extend(wrapped(Ink::Plain, &format!("  {text}"), cells));
    lines.push(Line::blank());
    lines.push(Line::of(Ink::Strong, "Figures beside the glass"));
    for figure in &it.figures {
        lines.extend(figure_lines(figure, &it.found, several, cells));
    }
    for caution in &it.cautions {
        lines.extend(wrapped(Ink::Alert, &format!("  ! {caution}"), cells));
    }
    lines.push(Line::blank());
    lines.extend(wrapped(Ink::Quiet, NOT_JUDGED, cells));
    lines
}

fn heading(it: &SideBySide) -> String {
    let who: Vec<String> = it
        .found
        .iter()
        .map(|found| {
            let knew = found.notes.knew.map_or("", |knew| knew.word());
            let mut text = format!("{} on {}", found.taster, found.tasted_on);
            if found.notes.round > 1 {
                text.push_str(", as it warmed");
            }
            if !knew.is_empty() {
                text = format!("{text}, knew {knew}");
            }
            if found.notes.seal_broken_at.is_some() {
                text.push_str(", SEAL BROKEN");
            }
            text
        })
        .collect();
    let edited = it
        .intent
        .edited_at
        .map(|at| format!(", written again on {}", day(&at.to_string())))
        .unwrap_or_default();
    format!(
        "Intent of {}{edited}. Tasted by {}.",
        day(&it.intent.frozen_at.to_string()),
        if who.is_empty() {
            "nobody".to_owned()
        } else {
            who.join("; ")
        }
    )
}

fn day(moment: &str) -> String {
    moment.chars().take(10).collect()
}

fn hoped_lines(it: &HopedLine, found: &[Found], several: bool, cells: usize) -> Vec<Line> {
    let unit = if it.unit.is_empty() {
        String::new()
    } else {
        format!(" {}", it.unit)
    };
    let notes: Vec<String> = found
        .iter()
        .zip(&it.noted)
        .map(|(found, noted)| {
            let text = beside_hope(it.hoped, *noted, &unit);
            if several {
                format!("{}: {text}", found.taster)
            } else {
                text
            }
        })
        .collect();
    wrapped(
        Ink::Plain,
        &format!(
            "  {:<30} hoped for {:.0}{unit}; {}",
            it.label,
            it.hoped,
            notes.join("; ")
        ),
        cells,
    )
}

/// What the notes say, in words, with the plain difference where there is one.
fn beside_hope(hoped: f64, noted: Noted, unit: &str) -> String {
    match noted {
        Noted::Value(value) => {
            let gap = value - hoped;
            let way = if gap.abs() < 0.5 {
                "as hoped".to_owned()
            } else if gap > 0.0 {
                format!("{:.0} more", gap.abs())
            } else {
                format!("{:.0} less", gap.abs())
            };
            format!("noted {value:.0}{unit} ({way})")
        }
        other => noted_words(other, unit),
    }
}

fn noted_words(noted: Noted, unit: &str) -> String {
    match noted {
        Noted::Value(value) => format!("noted {value:.0}{unit}"),
        Noted::Named => "named, no strength given".to_owned(),
        Noted::NotMentioned => "not mentioned".to_owned(),
        Noted::Skipped => "skipped".to_owned(),
        Noted::CannotTell => "could not tell".to_owned(),
        Noted::NotAsked => "not asked".to_owned(),
    }
}

fn promised(it: &SideBySide, cells: usize) -> Vec<Line> {
    if it.promised.is_empty() {
        return Vec::new();
    }
    let mut lines = vec![Line::blank(), Line::of(Ink::Strong, "Promised on a packet")];
    for line in &it.promised {
        lines.extend(wrapped(
            Ink::Plain,
            &format!("  {}", promised_words(line)),
            cells,
        ));
    }
    lines
}

fn promised_words(line: &PromisedLine) -> String {
    let found = if line.found_by.is_empty() {
        "not mentioned".to_owned()
    } else {
        format!("found by {}", line.found_by.join(", "))
    };
    format!("{}: {} — {found}", line.packet, line.word)
}

fn figure_lines(it: &FigureLine, found: &[Found], several: bool, cells: usize) -> Vec<Line> {
    let mut text = format!("  {:<20} {}", it.figure.word, figure_words(&it.figure));
    if let Some(scale) = it.scale {
        let unit = match scale.measure {
            Measure::Amount { unit, .. } => format!(" {unit}"),
            _ => String::new(),
        };
        let notes: Vec<String> = found
            .iter()
            .zip(&it.noted)
            .map(|(found, noted)| {
                let words = noted_words(*noted, &unit);
                if several {
                    format!("{}: {words}", found.taster)
                } else {
                    words
                }
            })
            .collect();
        text = format!("{text}; {} {}", scale.word.to_lowercase(), notes.join("; "));
    }
    wrapped(Ink::Plain, &text, cells)
}

/// Wraps a text that may begin with an indent, which is kept on every line.
fn wrapped(ink: Ink, text: &str, cells: usize) -> Vec<Line> {
    let indent = " ".repeat(text.len() - text.trim_start().len());
    let columns = text.trim_start();
    if width(text) <= cells {
        return vec![Line::of(ink, text)];
    }
    wrap(columns, cells.saturating_sub(indent.len() + 2))
        .into_iter()
        .enumerate()
        .map(|(index, line)| {
            let hang = if index == 0 { "" } else { "  " };
            Line::of(ink, format!("{indent}{hang}{line}"))
        })
        .collect()
}

/// Plan and notes as JSON.
#[must_use]
pub fn side_by_side_json(it: &SideBySide, wheel: &Wheel) -> Value {
    let figures = Figures {
        figures: it.figures.iter().map(|line| line.figure.clone()).collect(),
        assumed: Vec::new(),
        cautions: it.cautions.clone(),
    };
    json!({
        "format": VERSION,
        "cap_mark": it.cap_mark.as_str(),
        "recipe": it.recipe,
        "intent_frozen_at": it.intent.frozen_at.to_string(),
        "intent_edited_at": it.intent.edited_at.map(|at| at.to_string()),
        "judged_against_noise": false,
        "faulty_bottles": it.faulty_bottles,
        "notes": it.found.iter().map(|found| notes_json(found, wheel)).collect::<Vec<_>>(),
        "hoped": it.hoped.iter().map(|line| json!({
            "line": line.id,
            "words": line.label,
            "unit": line.unit,
            "hoped": line.hoped,
            "matters": line.matters.id(),
            "noted": line.noted.iter().map(|noted| noted_json(*noted)).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "promised": it.promised.iter().map(|line| json!({
            "packet": line.packet.as_str(),
            "word": line.word,
            "found_by": line.found_by,
        })).collect::<Vec<_>>(),
        "unplanned": it.unplanned.iter().map(|line| json!({
            "word": line.word,
            "found_by": line.found_by,
        })).collect::<Vec<_>>(),
        "beside": it.figures.iter().filter_map(|line| line.scale.map(|scale| json!({
            "figure": line.figure.id,
            "scale": scale.id,
            "noted": line.noted.iter().map(|noted| noted_json(*noted)).collect::<Vec<_>>(),
        }))).collect::<Vec<_>>(),
        "prediction": figures_json(&figures),
    })
}

fn notes_json(found: &Found, wheel: &Wheel) -> Value {
    json!({
        "taster": found.taster.as_str(),
        "tasted_on": found.tasted_on.to_string(),
        "round": found.notes.round,
        "form": found.notes.form.id(),
        "knew": found.notes.knew.map(Knew::id),
        "nose": found.notes.nose.map(Nose::id),
        "seal_broken": found.notes.seal_broken_at.is_some(),
        "words": found.notes.marks.iter().map(|mark| json!({
            "stage": mark.stage.id(),
            "words": mark_words(wheel, mark),
            "intensity": mark.intensity,
            "prompted": mark.prompting == Prompting::Prompted,
        })).collect::<Vec<_>>(),
        "firsts": found.firsts,
    })
}

fn noted_json(noted: Noted) -> Value {
    match noted {
        Noted::Value(value) => json!({ "state": "value", "value": value }),
        Noted::Named => json!({ "state": "named", "value": null }),
        Noted::NotMentioned => json!({ "state": "not mentioned", "value": null }),
        Noted::Skipped => json!({ "state": "skipped", "value": null }),
        Noted::CannotTell => json!({ "state": "cannot tell", "value": null }),
        Noted::NotAsked => json!({ "state": "not asked", "value": null }),
    }
}
