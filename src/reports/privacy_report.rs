//! What becomes of a person in the file: another name, or all of them gone, in plain sentences.

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::comparison_report::wrapped;
use crate::workflow::BackupCopy;
use crate::workflow::Bytes;
use crate::workflow::Forgetting;
use crate::workflow::InCopy;
use crate::workflow::Renamed;
use crate::workflow::TasterExport;
use crate::workflow::Traces;

/// What nobody can look into.
const ELSEWHERE: &str = "Copies in other places, files that were exported or printed, and what somebody wrote into the log of a batch or the name of a course or file cannot be known here.";

/// What forgetting a person means, or what was done, as lines of at most `cells` cells.
#[must_use]
pub fn forgetting_lines(it: &Forgetting, cells: usize) -> Vec<Line> {
    let mut lines = Vec::new();
    let name = &it.taster.name;
    let head = match it.done {
        None => format!("Forgetting {name} would take out of the file for good:"),
        Some(_) => format!("{name} is forgotten. Gone from the file for good:"),
    };
    lines.extend(wrapped(Ink::Strong, &head, cells));
    lines.extend(
        going(&it.traces)
            .iter()
            .flat_map(|text| item(Ink::Plain, text, cells)),
    );
    let stays = match it.done {
        None => "What would stay:",
        Some(_) => "What stays:",
    };
    lines.push(Line::blank());
    lines.push(Line::of(Ink::Strong, stays));
    lines.extend(
        staying(&it.traces)
            .iter()
            .flat_map(|text| item(Ink::Plain, text, cells)),
    );
    lines.extend(copies_lines(&it.copies, cells));
    lines.extend(later_lines(it.done.as_ref(), cells));
    lines
}

/// What a new name means, as lines of at most `cells` cells.
#[must_use]
pub fn renamed_lines(it: &Renamed, old: &str, cells: usize) -> Vec<Line> {
    let text = format!(
        "{old} is now {}, on every screen and in every report and file from here on. The old name is kept nowhere in the file.",
        it.taster.name
    );
    let mut lines = wrapped(Ink::Plain, &text, cells);
    lines.extend(copies_lines(&it.copies, cells));
    lines.extend(later_lines(Some(&it.bytes), cells));
    lines
}

/// What an export leaves out for now, as lines of at most `cells` cells; none where it leaves out nothing.
#[must_use]
pub fn held_back_lines(it: &TasterExport, cells: usize) -> Vec<Line> {
    if it.held_back.is_empty() {
        return Vec::new();
    }
    let mut lines = vec![Line::of(Ink::Strong, "Left out for now:")];
    let all = it.held_back.iter();
    lines.extend(all.flat_map(|text| item(Ink::Plain, text, cells)));
    lines
}

/// What goes, each as a part of a list.
fn going(it: &Traces) -> Vec<String> {
    let mut parts = Vec::new();
    if it.notes > 0 {
        let open = match it.open_notes {
            0 => String::new(),
            1 => "; 1 of them is still open and ends".to_owned(),
            n => format!("; {n} of them are still open and end"),
        };
        let sets = counted(it.notes, "set of notes", "sets of notes");
        parts.push(format!("{sets}, with all ratings, words and remarks{open}"));
    }
    let answers = [
        (
            it.practice_answers,
            "answer in practice",
            "answers in practice",
        ),
        (it.imported_ratings, "imported rating", "imported ratings"),
        (it.courses, "place in a course", "places in courses"),
        (
            it.photographs,
            "photograph with their notes",
            "photographs with their notes",
        ),
    ];
    let some = answers.iter().filter(|it| it.0 > 0);
    parts.extend(some.map(|(n, one, many)| counted(*n, one, many)));
    if it.imported_ratings > 0 {
        parts.push("every sum over those imports; they are reckoned again without them".to_owned());
    }
    if it.removals > 0 {
        let removed = counted(it.removals, "removed thing", "removed things");
        parts.push(format!(
            "{removed} in which they are found, whole, with what others noted there: none of it can be brought back"
        ));
    }
    parts.push("the name".to_owned());
    parts
}

/// What stays, each as a part of a list.
fn staying(it: &Traces) -> Vec<String> {
    let mut parts = Vec::new();
    if it.blind_answers > 0 {
        let answers = counted(
            it.blind_answers,
            "answer to blind tests",
            "answers to blind tests",
        );
        parts.push(format!(
            "{answers}, as those of nobody, because the result of a group rests on such answers; words of their own in them go"
        ));
    }
    parts.push("bottles, batches and everybody else's notes and answers, unchanged".to_owned());
    parts
}

/// The copies in the home.
fn copies_lines(copies: &[BackupCopy], cells: usize) -> Vec<Line> {
    let mut lines = Vec::new();
    for (found, head) in [
        (
            InCopy::Held,
            "These copies hold the person and are not touched; delete them if you can do without:",
        ),
        (
            InCopy::NotReadable,
            "These copies could not be looked into:",
        ),
    ] {
        let mut those = copies.iter().filter(|it| it.found == found).peekable();
        if those.peek().is_some() {
            lines.push(Line::blank());
            lines.extend(wrapped(Ink::Strong, head, cells));
        }
        lines.extend(those.flat_map(|it| item(Ink::Plain, &it.file.display().to_string(), cells)));
    }
    lines.push(Line::blank());
    lines.extend(wrapped(Ink::Quiet, ELSEWHERE, cells));
    lines
}

/// What is still to come where the bytes could not be rubbed out.
fn later_lines(bytes: Option<&Bytes>, cells: usize) -> Vec<Line> {
    let Some(Bytes::Later(reason)) = bytes else {
        return Vec::new();
    };
    let text = format!(
        "No page shows any of it any more, but the disk may still hold it: {reason}. The next start of thirdglass finishes this by itself."
    );
    let mut lines = vec![Line::blank()];
    lines.extend(wrapped(Ink::Alert, &text, cells));
    lines
}

fn item(ink: Ink, text: &str, cells: usize) -> Vec<Line> {
    let inner = wrapped(ink, text, cells.saturating_sub(4));
    let begun = inner.into_iter().enumerate().map(|(at, line)| {
        let head = if at == 0 { "  - " } else { "    " };
        Line::plain(head).and(ink, line.text())
    });
    begun.collect()
}

fn counted(n: u32, one: &str, many: &str) -> String {
    if n == 1 {
        format!("1 {one}")
    } else {
        format!("{n} {many}")
    }
}
