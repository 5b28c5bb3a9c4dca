//! Plan and notes side by side, in words; differences are not yet judged against noise.

use crate::domain::Measure;
use crate::domain::Scale;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::table;
use crate::drawing::width;
use crate::drawing::wrap;
use crate::reports::figure_words;
use crate::workflow::FigureLine;
use crate::workflow::Found;
use crate::workflow::Noted;
use crate::workflow::SideBySide;

/// The sentence that goes with every list of differences in this form.
const NOT_JUDGED: &str = "These are plain differences. Whether one is larger than your own noise is not judged here: taste it again on another day before you change anything.";

/// Cells that one set of notes takes in a table.
const COLUMN: usize = 14;

/// Cells that the words of the plan take in a table.
const PLAN: usize = 36;

/// Plan and notes as lines of at most `cells` cells.
#[must_use]
pub fn side_by_side_lines(it: &SideBySide, cells: usize) -> Vec<Line> {
    let title = format!("{} · {}", it.cap_mark, it.recipe);
    let mut lines = vec![Line::of(Ink::Title, title)];
    lines.extend(wrapped(Ink::Quiet, &heading(it), cells));
    if it.faulty_bottles > 0 {
        let left_out = format!(
            "Left out because something was wrong with the bottle: {}.",
            it.faulty_bottles
        );
        lines.extend(wrapped(Ink::Quiet, &left_out, cells));
    }
    if it.found.is_empty() {
        lines.push(Line::plain(
            "No sound bottle has been tasted yet; open another one.",
        ));
        return lines;
    }
    lines.push(Line::blank());
    lines.extend(hoped(it, cells));
    lines.extend(promised(it, cells));
    lines.extend(unplanned(it, cells));
    lines.extend(figures(it, cells));
    for caution in &it.cautions {
        lines.extend(wrapped(Ink::Alert, &format!("! {caution}"), cells));
    }
    lines.push(Line::blank());
    lines.extend(wrapped(Ink::Quiet, NOT_JUDGED, cells));
    lines
}

fn heading(it: &SideBySide) -> String {
    let who: Vec<String> = it.found.iter().map(who_and_when).collect();
    let (frozen, edited) = (it.intent.frozen_at, it.intent.edited_at);
    let again = edited
        .map(|at| format!(", written again on {}", at.day()))
        .unwrap_or_default();
    let written = edited.unwrap_or(frozen);
    let locked = |found: &Found| found.notes.locked_at.is_some_and(|at| at < written);
    let late = if it.found.iter().any(locked) {
        ", after it was tasted"
    } else {
        ""
    };
    let who = if who.is_empty() {
        "nobody".to_owned()
    } else {
        who.join("; ")
    };
    format!("Intent of {}{again}{late}. Tasted by {who}.", frozen.day())
}

fn who_and_when(found: &Found) -> String {
    let mut text = format!("{} on {}", found.taster, found.tasted_on);
    if found.notes.round > 1 {
        text.push_str(", as it warmed");
    }
    if let Some(knew) = found.notes.knew {
        text.push_str(", knew ");
        text.push_str(knew.word());
    }
    if found.notes.seal_broken_at.is_some() {
        text.push_str(", SEAL BROKEN");
    }
    text
}

/// A table of the plan with as many sets of notes beside it as fit, and more tables for the rest.
fn beside(
    it: &SideBySide,
    heading: &str,
    rows: &[([String; 2], Vec<String>)],
    cells: usize,
) -> Vec<Line> {
    let fit = (cells.saturating_sub(PLAN) / COLUMN).max(1);
    let mut lines = Vec::new();
    for from in (0..it.found.len()).step_by(fit) {
        let to = (from + fit).min(it.found.len());
        let names = it.found[from..to]
            .iter()
            .map(|found| column_name(found, it));
        let mut all = vec![vec![heading.to_owned(), String::new()]];
        all[0].extend(names);
        all.extend(rows.iter().map(|([label, plan], notes)| {
            let mut row = vec![format!("  {label}"), plan.clone()];
            row.extend(notes[from..to].iter().cloned());
            row
        }));
        let mut laid_out = table(&all, 0, cells);
        if let Some(first) = laid_out.first_mut() {
            *first = Line::of(Ink::Strong, first.text());
        }
        lines.extend(laid_out);
    }
    lines
}

/// The taster's name, with what tells two sets of notes of one taster apart.
fn column_name(found: &Found, it: &SideBySide) -> String {
    let same = |other: &&Found| other.taster == found.taster;
    if found.notes.round > 1 {
        return format!("{}, warm", found.taster);
    }
    if it.found.iter().filter(same).count() > 1 {
        let date = found.tasted_on.to_string();
        return format!("{} {}", found.taster, &date[5..]);
    }
    found.taster.to_string()
}

fn hoped(it: &SideBySide, cells: usize) -> Vec<Line> {
    if it.hoped.is_empty() {
        let none = "The recipe hopes for nothing: write an [intent] before the next brew to have something to compare with.";
        return wrapped(Ink::Plain, none, cells);
    }
    let rows: Vec<([String; 2], Vec<String>)> = it
        .hoped
        .iter()
        .map(|line| {
            let unit = spaced(line.unit);
            let plan = format!("{:.0}{unit}", line.hoped);
            let notes = line
                .noted
                .iter()
                .map(|noted| beside_hope(line.hoped, *noted, &unit));
            ([line.label.clone(), plan], notes.collect())
        })
        .collect();
    beside(it, "Hoped for", &rows, cells)
}

fn spaced(unit: &str) -> String {
    if unit.is_empty() {
        String::new()
    } else {
        format!(" {unit}")
    }
}

/// What the notes say, in words, with the plain difference where there is one.
fn beside_hope(hoped: f64, noted: Noted, unit: &str) -> String {
    let Noted::Value(value) = noted else {
        return noted_words(noted, unit);
    };
    let gap = value - hoped;
    let way = if gap.abs() < 0.5 {
        "as hoped".to_owned()
    } else if gap > 0.0 {
        format!("{gap:.0} more")
    } else {
        format!("{:.0} less", -gap)
    };
    format!("{value:.0}, {way}")
}

fn noted_words(noted: Noted, unit: &str) -> String {
    match noted {
        Noted::Value(value) => format!("{value:.0}{unit}"),
        Noted::Named => "named".to_owned(),
        Noted::NotMentioned => "not mentioned".to_owned(),
        Noted::Skipped => "skipped".to_owned(),
        Noted::CannotTell => "cannot tell".to_owned(),
        Noted::NotAnswered => "not answered".to_owned(),
        Noted::NotAsked => "not asked".to_owned(),
    }
}

fn promised(it: &SideBySide, cells: usize) -> Vec<Line> {
    if it.promised.is_empty() {
        return Vec::new();
    }
    let mut lines = vec![Line::blank(), Line::of(Ink::Strong, "Promised on a packet")];
    for line in &it.promised {
        let found = if line.found_by.is_empty() {
            "not mentioned".to_owned()
        } else {
            format!("found by {}", line.found_by.join(", "))
        };
        let text = format!("  {}: {found} ({})", line.word, line.packet);
        lines.extend(wrapped(Ink::Plain, &text, cells));
    }
    lines
}

fn unplanned(it: &SideBySide, cells: usize) -> Vec<Line> {
    let words: Vec<String> = it
        .unplanned
        .iter()
        .map(|word| {
            if it.found.len() > 1 {
                format!("{} ({})", word.word, word.found_by.join(", "))
            } else {
                word.word.clone()
            }
        })
        .collect();
    let text = if words.is_empty() {
        "nothing".to_owned()
    } else {
        words.join(", ")
    };
    let mut lines = vec![
        Line::blank(),
        Line::of(Ink::Strong, "Found, but nobody planned it"),
    ];
    lines.extend(wrapped(Ink::Plain, &format!("  {text}"), cells));
    lines
}

fn figures(it: &SideBySide, cells: usize) -> Vec<Line> {
    let rows: Vec<([String; 2], Vec<String>)> = it
        .figures
        .iter()
        .map(|line| {
            let plan = [line.figure.word.to_owned(), figure_words(&line.figure)];
            (plan, figure_notes(line, it.found.len()))
        })
        .collect();
    let mut lines = vec![Line::blank()];
    lines.extend(beside(it, "Figures beside the glass", &rows, cells));
    lines
}

fn figure_notes(line: &FigureLine, count: usize) -> Vec<String> {
    let Some(scale) = line.scale else {
        return vec![String::new(); count];
    };
    line.noted
        .iter()
        .map(|noted| scale_words(scale, *noted))
        .collect()
}

/// What the notes say on a scale; its name stands before an intensity, which has no unit.
fn scale_words(scale: &Scale, noted: Noted) -> String {
    match (noted, &scale.measure) {
        (Noted::Value(value), Measure::Amount { unit, .. }) => format!("{value:.0} {unit}"),
        (Noted::Value(value), _) => format!("{} {value:.0}", short(scale)),
        (other, _) => noted_words(other, ""),
    }
}

/// A short word for a scale in a narrow column.
fn short(scale: &Scale) -> &'static str {
    match scale.id {
        "alcohol-warmth" => "warmth",
        "carbonation" => "prickle",
        "fullness" => "full",
        "bitter" => "bitter",
        _ => scale.word,
    }
}

/// Wraps a text that may begin with an indent, which is kept on every line.
fn wrapped(ink: Ink, text: &str, cells: usize) -> Vec<Line> {
    let indent = " ".repeat(text.len() - text.trim_start().len());
    if width(text) <= cells {
        return vec![Line::of(ink, text)];
    }
    wrap(text.trim_start(), cells.saturating_sub(indent.len() + 2))
        .into_iter()
        .enumerate()
        .map(|(index, line)| {
            let hang = if index == 0 { "" } else { "  " };
            Line::of(ink, format!("{indent}{hang}{line}"))
        })
        .collect()
}
