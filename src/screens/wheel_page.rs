//! The page of the wheel: the round picture at the left, what its numbers stand for at the right.

use crate::domain::Subject;
use crate::domain::Wheel;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::Round;
use crate::drawing::RoundView;
use crate::drawing::Sector;
use crate::drawing::Shape;
use crate::drawing::Tile;
use crate::drawing::safe_text;
use crate::drawing::width;
use crate::drawing::wrap;
use crate::reports::hub_stages;
use crate::reports::marked_words;
use crate::reports::marks_words;
use crate::reports::wheel_sectors;
use crate::screens::Market;
use crate::screens::Page;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Row;
use crate::workflow::WordMarks;

/// Cells that the list takes at least.
const LIST: usize = 34;
/// Cells that the list takes at most; longer lines are hard to read.
const LONGEST: usize = 64;
/// Cells between the picture and the list.
const GAP: usize = 2;
/// Rows below which a round picture shows nothing.
const FEWEST: usize = 13;

/// What stands on the page.
pub(super) struct WheelPage<'a> {
    pub(super) market: &'a Market,
    pub(super) wheel: &'a Wheel,
    pub(super) marks: Option<&'a WordMarks>,
}

impl WheelPage<'_> {
    /// Lays the page out in the room there is: without a picture where that would be too small, or
    /// where lines are read aloud.
    pub(super) fn drawn(&self, room: Room) -> Page {
        let most = room.width.saturating_sub(LIST + GAP) / 2;
        let rows = Some(room.height.min(most)).filter(|it| *it >= FEWEST && room != Room::TOLD);
        let wide = rows.map_or(0, |rows| 2 * rows + GAP);
        let cells = room.width.saturating_sub(wide).min(LONGEST);
        let (list, focus) = self.list(cells, room.height);
        let Some(rows) = rows else {
            return Page {
                rows: list,
                focus,
                ..Page::default()
            };
        };
        let picture = self.picture(rows);
        let count = picture.len().max(list.len());
        let mut picture = picture.into_iter();
        let mut list = list.into_iter();
        let row = |_| {
            let line = picture.next().unwrap_or_else(|| clear(2 * rows));
            let mut row = list.next().unwrap_or_default();
            let words = std::mem::replace(&mut row.line, line).spans;
            row.line.spans.extend(clear(GAP).spans);
            row.line.spans.extend(words);
            row
        };
        Page {
            rows: (0..count).map(row).collect(),
            focus,
            ..Page::default()
        }
    }

    /// The round, as far as one has walked into it.
    fn picture(&self, rows: usize) -> Vec<Line> {
        let mut sectors = wheel_sectors(self.wheel, self.marks);
        let hues = sectors.len();
        let mut hub = hub_stages();
        if let Some((place, shelf)) = self.market.inside(self.wheel) {
            for at in std::iter::once(place).chain(shelf) {
                let inside = sectors.swap_remove(at);
                hub = inside.label.split_whitespace().map(str::to_owned).collect();
                sectors = inside.behind;
            }
        }
        let hub: Vec<&str> = hub.iter().map(String::as_str).collect();
        let round = Round::new(&sectors, Shape::of_points(rings(&sectors), rows as f64));
        let view = RoundView {
            round: &round,
            hues,
            chosen: Some(self.market.chosen()),
            hub: &hub,
            rows,
        };
        view.lines()
    }

    /// The question, whose marks are shown, the numbered names, and what one meets at the chosen one.
    fn list(&self, cells: usize, height: usize) -> (Vec<Row>, usize) {
        let mut page = Page::default();
        page.text(Ink::Strong, &self.market.question(self.wheel), cells);
        if let Some(marks) = self.marks {
            page.text(Ink::Quiet, &format!("# {}", marks_words(&marks.of)), cells);
        }
        let stalls = self.market.stalls(self.wheel);
        let met = stalls.get(self.market.chosen()).map(|it| it.met.clone());
        for (index, stall) in stalls.into_iter().enumerate() {
            let marked = self.marked(&stall.subject);
            let chosen = index == self.market.chosen();
            let sign = if chosen { "▸" } else { " " };
            let room = cells.saturating_sub(6 + width(&marked));
            let name = safe_text(&stall.name, room);
            let gap = " ".repeat(room.saturating_sub(width(&name)));
            let ink = if chosen { Ink::Chosen } else { Ink::Plain };
            if chosen {
                page.focus = page.rows.len();
            }
            let line = Line::of(ink, format!("{sign}{:>2} {name}", index + 1));
            let line = line.and(Ink::Quiet, format!("{gap} {marked}"));
            page.choice(line, Press::Row(index));
        }
        page.gap();
        // What does not fit below the names can be read on the page of words; no name may scroll away.
        let left = height.saturating_sub(page.rows.len());
        let met = wrap(&met.unwrap_or_default(), cells.saturating_sub(1));
        page.lines(met.into_iter().take(left).map(Line::plain));
        (page.rows, page.focus)
    }

    /// How much was marked of a subject; a dash for silence, which is no zero.
    fn marked(&self, subject: &Subject) -> String {
        let Some(marks) = self.marks else {
            return String::new();
        };
        marks
            .marked(subject)
            .map_or_else(|| "–".to_owned(), marked_words)
    }
}

/// How many rings sectors and what stands behind them make.
fn rings(sectors: &[Sector]) -> usize {
    let behind = sectors.iter().map(|it| rings(&it.behind)).max();
    behind.map_or(0, |it| it + 1)
}

/// So many cells of a picture with nothing on them.
fn clear(cells: usize) -> Line {
    let tile = Tile {
        front: None,
        back: None,
        bare: ' ',
        ascii: ' ',
    };
    Line::of(Ink::Tile(tile), " ".repeat(cells))
}
