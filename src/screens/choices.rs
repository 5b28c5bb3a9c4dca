//! A short list to choose from by digit, arrow or click.

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::width;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Page;
use crate::screens::Press;

/// Which row of a short list stands out.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Choices {
    chosen: usize,
}

/// What a key does on a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Picked {
    /// A row was taken, counted from 0.
    Row(usize),
    /// Another row stands out.
    Moved,
    /// The list was left.
    Left,
    /// The key means nothing here.
    Nothing,
}

impl Choices {
    /// The keys that work on a list.
    pub(super) const ACTIONS: [Action; 4] =
        [Action::Accept, Action::Up, Action::Down, Action::Back];

    /// The keys that work on a list, and others of its screen.
    pub(super) fn actions_with(others: &[Action]) -> Vec<Action> {
        [&Self::ACTIONS[..], others].concat()
    }

    /// The same list with another row standing out.
    pub(super) const fn at(row: usize) -> Self {
        Self { chosen: row }
    }

    /// Draws a list of names, each with what it means, if that needs words.
    pub(super) fn draw(self, page: &mut Page, rows: &[(String, String)]) {
        let cells = rows.iter().map(|it| width(&it.0)).max().unwrap_or(0);
        for (row, (name, what)) in rows.iter().enumerate() {
            let chosen = row == self.chosen;
            if chosen {
                page.focus = page.rows.len();
            }
            let ink = if chosen { Ink::Chosen } else { Ink::Plain };
            let line = Line::of(Ink::Strong, format!(" {:>2}  ", row + 1));
            let line = line.and(ink, format!(" {name} "));
            let told = if what.is_empty() {
                String::new()
            } else {
                format!("{}  {what}", " ".repeat(cells - width(name)))
            };
            page.choice(line.and(Ink::Quiet, told), Press::Row(row));
        }
    }

    /// What a key does on a list of so many rows.
    pub(super) fn act(&mut self, act: Act, rows: usize) -> Picked {
        let last = rows.saturating_sub(1);
        let picked = match act {
            Act::Do(Action::Accept) => self.chosen,
            Act::Row(row) => row,
            Act::Digit(digit) => usize::from(digit).wrapping_sub(1),
            Act::Do(Action::Up) => {
                self.chosen = self.chosen.saturating_sub(1);
                return Picked::Moved;
            }
            Act::Do(Action::Down) => {
                self.chosen = (self.chosen + 1).min(last);
                return Picked::Moved;
            }
            Act::Do(Action::Back) => return Picked::Left,
            _ => return Picked::Nothing,
        };
        if picked >= rows {
            return Picked::Nothing;
        }
        self.chosen = picked;
        Picked::Row(picked)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_is_taken_by_its_digit_and_none_beyond_the_last() {
        let mut list = Choices::default();
        assert_eq!(list.act(Act::Digit(3), 2), Picked::Nothing);
        assert_eq!(list.act(Act::Digit(2), 2), Picked::Row(1));
        assert_eq!(list.act(Act::Do(Action::Down), 2), Picked::Moved);
        assert_eq!(list.act(Act::Do(Action::Accept), 2), Picked::Row(1));
        assert_eq!(list.act(Act::Digit(0), 2), Picked::Nothing);
        assert_eq!(list.act(Act::Do(Action::Accept), 0), Picked::Nothing);
    }
}
