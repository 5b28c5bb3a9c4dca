//! A new version beside its parent: what goes, what comes, and why.

use crate::domain::Name;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::width;
use crate::drawing::wrap;
use crate::reports::comparison_report::wrapped;
use crate::workflow::LineFate;
use crate::workflow::VersionDraft;

/// Cells left of the text: its number, and whether it goes or comes.
const MARGIN: usize = 7;

/// A drafted version as lines of at most `cells` cells.
#[must_use]
pub fn draft_lines(it: &VersionDraft, cells: usize) -> Vec<Line> {
    let title = format!("{}: version {} from {}", it.name, it.version, it.parent);
    let mut lines = vec![Line::of(Ink::Title, title)];
    lines.extend(wrapped(Ink::Quiet, it.reason.as_str(), cells));
    for change in &it.changes {
        lines.extend(wrapped(Ink::Strong, &format!("  {change}"), cells));
    }
    let mut hunk = usize::MAX;
    for line in &it.diff {
        if line.hunk != hunk {
            hunk = line.hunk;
            lines.push(Line::blank());
        }
        let number = line.new_line.or(line.old_line).unwrap_or(0);
        let (sign, ink) = match line.fate {
            LineFate::Kept => (' ', Ink::Quiet),
            LineFate::Gone => ('-', Ink::Alert),
            LineFate::New => ('+', Ink::Good),
        };
        lines.extend(document_lines(ink, (number, sign), &line.text, cells));
    }
    lines
}

/// A line of the document as it stands, broken where the terminal is narrower.
fn document_lines(ink: Ink, (number, sign): (usize, char), text: &str, cells: usize) -> Vec<Line> {
    let whole = format!("{number:>4} {sign} {text}");
    if width(&whole) <= cells {
        return vec![Line::of(ink, whole)];
    }
    let parts = wrap(text, cells.saturating_sub(MARGIN).max(1));
    let rows = parts.into_iter().enumerate().map(|(at, part)| match at {
        0 => format!("{number:>4} {sign} {part}"),
        _ => format!("{:MARGIN$}{part}", ""),
    });
    rows.map(|row| Line::of(ink, row)).collect()
}

/// That a version was written, and what comes after, as lines of at most `cells` cells.
#[must_use]
pub fn written_lines(file: &str, version: &Name, cells: usize) -> Vec<Line> {
    let mut lines = wrapped(
        Ink::Good,
        &format!("Written: {file}, version {version}."),
        cells,
    );
    lines.push(Line::blank());
    for text in [
        "Brew it, then add the batch: Batches, a, and this file.",
        "Once both beers are in bottles, open the new batch there: c plans the blind test of old against new, and after its tasting the history of the recipe says whether the change did what was promised.",
    ] {
        lines.extend(wrapped(Ink::Plain, text, cells));
    }
    lines
}
