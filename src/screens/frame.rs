//! The frame round a page: the keys below it, the explanation over it, and what of it fits.

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::capitalised;
use crate::drawing::safe_text;
use crate::drawing::width;
use crate::drawing::wrap;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Below;
use crate::screens::KEYS;
use crate::screens::Key;
use crate::screens::Page;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Row;
use crate::screens::Screen;
use crate::screens::meaning::meaning;
use crate::workflow::Home;

/// Cells left free at the left edge.
pub(super) const MARGIN: usize = 1;

/// How a key is written in the footer; none where its sign would be typed as text.
fn in_footer(screen: &dyn Screen, key: &Key) -> Option<&'static str> {
    let does_it = |press: &Press| meaning(screen, press) == Some(Act::Do(key.action));
    let press = key.presses.iter().find(|press| does_it(press))?;
    Some(match press {
        Press::Help => "F1",
        Press::Paper => "F2",
        _ => key.in_footer,
    })
}

/// Takes away what is beyond the room's edge.
pub(super) fn narrow(line: &mut Line, cells: usize) {
    let mut left = cells;
    for span in &mut line.spans {
        if width(&span.text) > left {
            span.text = safe_text(&span.text, left).into_owned();
        }
        left -= width(&span.text).min(left);
    }
    line.spans.retain(|span| !span.text.is_empty());
}

/// The keys that work on a screen, and `more` that work because of the room, in at most two rows. Where they do not fit,
/// those before the last two are left out, because the way back and the explanation, where all stand, must be seen.
pub(super) fn footer(screen: &dyn Screen, more: &[Action], room: Room) -> Vec<Row> {
    let mut actions = screen.actions();
    // Scrolling is named only where something does not fit, and then `more` holds it.
    actions.retain(|it| *it != Action::PageDown);
    actions.extend(more);
    let keys = KEYS
        .iter()
        .filter(|key| actions.contains(&key.action) || key.action == Action::Explain)
        .filter(|key| !key.label.is_empty())
        .filter_map(|key| {
            let label = screen.label_of(key.action).unwrap_or(key.label);
            Some((in_footer(screen, key)?, label))
        })
        .filter(|(_, label)| !label.is_empty());
    let mut keys: Vec<(&str, &str)> = keys.collect();
    loop {
        let rows = rows_of_keys(&keys, room.width.saturating_sub(MARGIN));
        if rows.len() <= 2 {
            return rows;
        }
        keys.remove(keys.len().saturating_sub(3));
    }
}

/// Keys with what they do, in as many rows as they take.
fn rows_of_keys(keys: &[(&str, &str)], cells: usize) -> Vec<Row> {
    let mut rows = vec![Row::default()];
    let mut used = 0;
    for (shown, label) in keys {
        let taken = width(shown) + width(label) + 3;
        if used + taken > cells && used > 0 {
            rows.push(Row::default());
            used = 0;
        }
        used += taken;
        if let Some(row) = rows.last_mut() {
            let line = std::mem::take(&mut row.line);
            row.line = line
                .and(Ink::Strong, *shown)
                .and(Ink::Quiet, format!(" {label}  "));
        }
    }
    rows
}

pub(super) fn explanation(screen: &dyn Screen, room: Room) -> Page {
    let mut page = Page::default();
    page.gap();
    page.text(Ink::Plain, screen.explanation(), room.text_width());
    page.gap();
    let actions = screen.actions();
    let keys = KEYS
        .iter()
        .filter(|key| actions.contains(&key.action) && in_footer(screen, key).is_some());
    for key in keys {
        let indent = 8;
        let own = screen
            .label_of(key.action)
            .filter(|it| !it.is_empty())
            .map(|it| capitalised(it) + ".");
        let explained = own.as_deref().unwrap_or(key.explained);
        for (index, line) in wrap(explained, room.text_width().saturating_sub(indent + 2))
            .into_iter()
            .enumerate()
        {
            let shown = if index == 0 { key.shown } else { "" };
            let pad = " ".repeat(indent.saturating_sub(width(shown)));
            page.line(Line::of(Ink::Strong, shown).and(Ink::Plain, format!("{pad}{line}")));
        }
    }
    page.gap();
    page.line(Line::of(Ink::Quiet, "Any key goes on."));
    page
}

/// Leaves so many rows of a sentence that is longer than that, and says how much was cut: what is asked and the keys
/// stay in sight.
pub(super) fn cut(said: &mut Page, most: usize) {
    let all = said.rows.len();
    if all > most.max(1) {
        said.rows.truncate(most.max(1) - 1);
        let rest = all - said.rows.len();
        said.line(Line::of(Ink::Alert, format!("… and {rest} more lines")));
    }
}

/// The row with the margin before it.
pub(super) fn indented(mut row: Row) -> Row {
    let margin = Line::plain(" ".repeat(MARGIN));
    let spans = std::mem::replace(&mut row.line, margin).spans;
    row.line.spans.extend(spans);
    row
}

/// The rows that fit, with the focus in view, beside the side pane where there is room.
pub(super) fn visible(page: Page, room: Room, scrolled: &mut usize) -> Vec<Row> {
    let height = room.height;
    let last = page.rows.len().saturating_sub(height);
    // The last row may be taken by the sentence that there is more, so the focus stays above it.
    let lowest = page.focus.saturating_sub(height.saturating_sub(2));
    *scrolled = (*scrolled).min(last);
    let from = (*scrolled).max(lowest.min(last));
    let hidden_below = page.rows.len().saturating_sub(from + height);
    let mut rows: Vec<Row> = page.rows.into_iter().skip(from).take(height).collect();
    rows.resize(height, Row::default());
    let more = match page.left_out.below {
        Below::Lines(lines) if lines + hidden_below == 0 => None,
        Below::Lines(lines) => Some(format!("… {} more lines: PgDn", lines + hidden_below + 1)),
        Below::Uncounted => Some("… more lines: PgDn".to_owned()),
    };
    if let Some((row, more)) = rows.last_mut().zip(more) {
        row.line = Line::of(Ink::Quiet, more);
        row.press = Some(Press::PageDown);
    }
    if room.width >= Room::WIDE && !page.side.is_empty() {
        let side = page
            .side
            .into_iter()
            .chain(std::iter::repeat_with(Line::blank));
        for (row, side) in rows.iter_mut().zip(side) {
            beside(row, side);
        }
    }
    rows
}

fn beside(row: &mut Row, side: Line) {
    const COLUMN: usize = 82;
    let used: usize = row.line.spans.iter().map(|span| width(&span.text)).sum();
    let line = std::mem::take(&mut row.line);
    row.line = line.and(Ink::Plain, " ".repeat(COLUMN.saturating_sub(used)));
    row.line = std::mem::take(&mut row.line).and(Ink::Quiet, "│ ");
    row.line.spans.extend(side.spans);
}

/// The page, or the sentence that says why there is none.
pub(super) fn page_or_error(screen: &mut dyn Screen, home: &mut Home, room: Room) -> Page {
    screen.page(home, room).unwrap_or_else(|error| {
        let mut page = Page::default();
        page.text(Ink::Alert, &error.to_string(), room.text_width());
        page
    })
}

/// True where a page says this sentence already, wrapped or not.
pub(super) fn says(page: &Page, sentence: &str) -> bool {
    let words: Vec<String> = page.rows.iter().map(|it| it.line.text()).collect();
    let words = words.join(" ");
    let on_one_line = |it: &str| it.split_whitespace().collect::<Vec<_>>().join(" ");
    on_one_line(&words).contains(&on_one_line(sentence))
}

/// The room left beside the margin when so many rows are taken.
pub(super) fn inside(room: Room, taken: usize) -> Room {
    Room {
        width: room.width.saturating_sub(MARGIN),
        height: room.height.saturating_sub(taken),
    }
}

/// The row above a page.
pub(super) fn title_row(title: &str) -> Row {
    Row {
        line: Line::of(Ink::Title, format!(" {title} ")),
        press: None,
    }
}
