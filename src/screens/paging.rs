//! How far a page key goes: over the rows of a list that has a cursor, else over the lines of the page.

use crate::screens::Action;
use crate::screens::Below;
use crate::screens::KEYS;
use crate::screens::Page;
use crate::screens::Press;
use crate::screens::Row;

/// How many screens the key for the last row goes on where nobody counted the rows.
const UNCOUNTED: usize = 20;

/// What was last seen of a page: how many lines at once, and how many rows to choose from stand around the cursor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Seen {
    lines: usize,
    above: usize,
    below: usize,
    page_above: usize,
    page_below: usize,
}

/// What a page key does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Paged {
    /// The cursor moves up or down by so many rows.
    Rows(Action, usize),
    /// The page is seen from this line on.
    FromLine(usize),
}

/// The keys that show more of a page.
pub(super) const PAGING: [Action; 4] = [
    Action::PageDown,
    Action::PageUp,
    Action::First,
    Action::Last,
];

/// What a press shows more of, whatever lies over the screen.
pub(super) fn paging(press: &Press) -> Option<Action> {
    let key = KEYS.iter().find(|key| key.presses.contains(press))?;
    Some(key.action).filter(|it| PAGING.contains(it))
}

impl Default for Seen {
    /// Before anything was drawn.
    fn default() -> Self {
        Self {
            lines: 10,
            above: 0,
            below: 0,
            page_above: 0,
            page_below: 0,
        }
    }
}

impl Seen {
    /// Of a page in a room that is so many lines high.
    pub(super) fn of(page: &Page, height: usize) -> Self {
        // One line is seen twice, so that nobody loses the thread.
        let lines = height.saturating_sub(2).max(1);
        let nothing = Self {
            lines,
            ..Self::default()
        };
        if !has_cursor(page) {
            return nothing;
        }
        let (above, own_and_below) = page.rows.split_at(page.focus);
        let below = &own_and_below[1..];
        let near_above = &above[above.len().saturating_sub(lines)..];
        let near_below = &below[..lines.min(below.len())];
        let hidden_above = page.left_out.above;
        let hidden_below = match page.left_out.below {
            Below::Lines(lines) => lines,
            Below::Uncounted => lines * UNCOUNTED,
        };
        Self {
            lines,
            above: count(above) + hidden_above,
            below: count(below) + hidden_below,
            page_above: (count(near_above) + hidden_above).min(lines),
            page_below: (count(near_below) + hidden_below).min(lines),
        }
    }

    /// What a page key does on a page that is seen from line `from` on.
    pub(super) fn paged(self, action: Action, from: usize) -> Paged {
        let (way, rows) = match action {
            Action::PageUp => (Action::Up, self.page_above),
            Action::First => (Action::Up, self.above),
            Action::Last => (Action::Down, self.below),
            _ => (Action::Down, self.page_below),
        };
        if rows > 0 {
            return Paged::Rows(way, rows);
        }
        Paged::FromLine(match action {
            Action::PageUp => from.saturating_sub(self.lines),
            Action::First => 0,
            Action::Last => usize::MAX,
            _ => from.saturating_add(self.lines),
        })
    }
}

/// True where one of the rows to choose from is the one that Enter takes.
fn has_cursor(page: &Page) -> bool {
    page.rows.get(page.focus).is_some_and(is_choice)
}

const fn is_choice(row: &Row) -> bool {
    matches!(row.press, Some(Press::Row(_)))
}

fn count(rows: &[Row]) -> usize {
    rows.iter().filter(|it| is_choice(it)).count()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Ink;
    use crate::drawing::Line;
    use crate::screens::Act;
    use crate::screens::App;
    use crate::screens::Next;
    use crate::screens::Room;
    use crate::screens::Screen;
    use crate::screens::choices::Choices;
    use crate::screens::choices::Picked;
    use crate::workflow::Home;
    use crate::workflow::WorkflowError;

    fn list(rows: usize, chosen: usize) -> Page {
        let mut page = Page::default();
        page.gap();
        for row in 0..rows {
            if row == chosen {
                page.focus = page.rows.len();
            }
            page.choice(Line::plain("row"), Press::Row(row));
        }
        page
    }

    #[test]
    fn a_page_key_takes_the_cursor_along_by_what_is_seen_at_once_and_never_beyond_the_list() {
        let seen = |chosen| Seen::of(&list(300, chosen), 22);
        assert_eq!(
            seen(0).paged(Action::PageDown, 0),
            Paged::Rows(Action::Down, 20)
        );
        assert_eq!(
            seen(290).paged(Action::PageDown, 0),
            Paged::Rows(Action::Down, 9)
        );
        assert_eq!(seen(7).paged(Action::PageUp, 0), Paged::Rows(Action::Up, 7));
        assert_eq!(
            seen(7).paged(Action::Last, 0),
            Paged::Rows(Action::Down, 292)
        );
        assert_eq!(seen(7).paged(Action::First, 0), Paged::Rows(Action::Up, 7));
    }

    #[test]
    fn a_page_without_a_cursor_is_scrolled_by_what_is_seen_at_once() {
        let mut page = Page::default();
        page.lines((0..100).map(|_| Line::plain("line")));
        let seen = Seen::of(&page, 50);
        assert_eq!(seen.paged(Action::PageDown, 3), Paged::FromLine(51));
        assert_eq!(seen.paged(Action::PageUp, 51), Paged::FromLine(3));
        assert_eq!(seen.paged(Action::First, 51), Paged::FromLine(0));
    }

    /// A list of three hundred rows.
    struct Long(Choices);

    impl Screen for Long {
        fn title(&self) -> String {
            "Rows".to_owned()
        }

        fn page(&mut self, _home: &mut Home, _room: Room) -> Result<Page, WorkflowError> {
            let mut page = Page::default();
            let rows = (0..300).map(|it| (format!("row {it}"), String::new()));
            self.0.draw(&mut page, &rows.collect::<Vec<_>>());
            Ok(page)
        }

        fn actions(&self) -> Vec<Action> {
            Choices::ACTIONS.to_vec()
        }

        fn explanation(&self) -> &'static str {
            ""
        }

        fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
            Ok(match self.0.act(act, 300) {
                Picked::Row(row) => Next::Say(format!("taken: {row}")),
                _ => Next::Stay,
            })
        }
    }

    /// The rows that are seen to be chosen.
    fn chosen(app: &mut App, room: Room) -> Vec<String> {
        let rows = app.framed(room).rows;
        let spans = rows.iter().flat_map(|it| &it.line.spans);
        let chosen = spans.filter(|it| it.ink == Ink::Chosen);
        chosen.map(|it| it.text.trim().to_owned()).collect()
    }

    #[test]
    fn the_chosen_row_is_seen_after_every_page_key_and_is_what_enter_takes() {
        for (width, height) in [(80, 24), (160, 50)] {
            let room = Room { width, height };
            let mut app = App::new(Home::trial(), vec![Box::new(Long(Choices::default()))]);
            let mut before = 0;
            assert_eq!(chosen(&mut app, room), ["row 0"]);
            for _ in 0..3 {
                app.press(&Press::PageDown);
                let seen = chosen(&mut app, room);
                let [row] = seen.as_slice() else {
                    panic!("{seen:?}");
                };
                let row: usize = row.strip_prefix("row ").unwrap().parse().unwrap();
                let step = row - before;
                assert!(
                    step > height / 2 && step < height,
                    "{step} rows of {height}"
                );
                before = row;
            }
            app.press(&Press::Down);
            assert_eq!(chosen(&mut app, room), [format!("row {}", before + 1)]);
            for (press, row) in [(Press::End, 299), (Press::Home, 0)] {
                app.press(&press);
                assert_eq!(chosen(&mut app, room), [format!("row {row}")]);
            }
        }
    }
}
