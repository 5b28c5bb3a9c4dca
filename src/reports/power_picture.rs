//! Friends, rounds and power as a picture: bars for one number of rounds, and a table of all.

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::blind_words::at_least_percent;
use crate::workflow::PowerGrid;

/// Cells of one number of friends.
const COLUMN: usize = 3;

/// Cells left of the first one.
const LEFT: usize = 9;

/// Which friends and rounds the picture looks at, and the room it has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PowerView {
    /// Which of the grid's numbers of friends, from 0.
    pub friends: usize,
    /// Which number of rounds, from 0.
    pub rounds: usize,
    /// Cells from left to right.
    pub cells: usize,
    /// Rows for the bars.
    pub rows: usize,
}

impl PowerView {
    /// The numbers of friends that fit, with the chosen one among them.
    fn shown(self, all: usize) -> std::ops::Range<usize> {
        let fit = (self.cells.saturating_sub(LEFT) / COLUMN).clamp(1, all.max(1));
        let from = (self.friends + 1).saturating_sub(fit);
        from..(from + fit).min(all)
    }
}

/// The picture as lines.
#[must_use]
pub fn power_picture(grid: &PowerGrid, view: PowerView) -> Vec<Line> {
    let shown = view.shown(grid.friends.len());
    let power = grid.power.get(view.rounds).map_or(&[][..], Vec::as_slice);
    let mut lines: Vec<Line> = (0..view.rows)
        .map(|row| bars(power, row, view, shown.clone()))
        .collect();
    lines.push(friends_line(grid, view, shown.clone()));
    for (rounds, power) in grid.power.iter().enumerate() {
        lines.push(rounds_line(power, rounds, view, shown.clone()));
    }
    lines
}

/// One row of the bars, counted from the top; two halves of a cell are told apart.
fn bars(power: &[Option<f64>], row: usize, view: PowerView, shown: std::ops::Range<usize>) -> Line {
    let from_below = view.rows - row;
    let top = 100 * from_below / view.rows;
    let label = if top.is_multiple_of(20) {
        format!("{top:>5} %  ")
    } else {
        " ".repeat(LEFT)
    };
    let mut line = Line::of(Ink::Quiet, label);
    for at in shown {
        let height = power.get(at).copied().flatten().unwrap_or(0.0) * view.rows as f64;
        let above = height - (from_below - 1) as f64;
        let bar = match above {
            it if it >= 1.0 - 1e-9 => "██ ",
            it if it >= 0.5 => "▄▄ ",
            _ => "   ",
        };
        let ink = if at == view.friends {
            Ink::Strong
        } else {
            Ink::Quiet
        };
        line = line.and(ink, bar);
    }
    line
}

fn friends_line(grid: &PowerGrid, view: PowerView, shown: std::ops::Range<usize>) -> Line {
    let mut line = Line::of(Ink::Quiet, format!("{:<LEFT$}", "friends"));
    for at in shown {
        let ink = if at == view.friends {
            Ink::Strong
        } else {
            Ink::Quiet
        };
        let friends = grid.friends.get(at).map_or(String::new(), u32::to_string);
        line = line.and(ink, format!("{friends:>2} "));
    }
    line
}

/// The powers of one number of rounds, in per cent.
fn rounds_line(
    power: &[Option<f64>],
    rounds: usize,
    view: PowerView,
    shown: std::ops::Range<usize>,
) -> Line {
    let name = if rounds == 0 { "round" } else { "rounds" };
    let own = rounds == view.rounds;
    let ink = if own { Ink::Strong } else { Ink::Quiet };
    let mut line = Line::of(ink, format!("{:<LEFT$}", format!("{} {name}", rounds + 1)));
    for at in shown {
        let told = power
            .get(at)
            .copied()
            .flatten()
            .map_or("–".to_owned(), |it| {
                at_least_percent(it).replace(" %", "")
            });
        let ink = match (own, at == view.friends) {
            (true, true) => Ink::Chosen,
            (true, false) => Ink::Plain,
            _ => Ink::Quiet,
        };
        line = line.and(ink, format!("{told:>2}")).and(Ink::Plain, " ");
    }
    line
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workflow::Aim;
    use crate::workflow::Alpha;
    use crate::workflow::Beta;
    use crate::workflow::Effect;
    use crate::workflow::METHODS;
    use crate::workflow::Pd;
    use crate::workflow::power_grid;

    fn told(view: PowerView) -> Vec<String> {
        let aim = Aim {
            alpha: Alpha::new(0.05).unwrap(),
            beta: Beta::new(0.2).unwrap(),
            effect: Effect::Pd(Pd::new(0.5).unwrap()),
        };
        let lines = power_picture(&power_grid(METHODS[0], aim), view);
        lines.iter().map(Line::text).collect()
    }

    const VIEW: PowerView = PowerView {
        friends: 4,
        rounds: 0,
        cells: 78,
        rows: 5,
    };

    #[test]
    fn seven_friends_stand_at_57_and_their_bar_is_as_high() {
        let lines = told(VIEW);
        assert_eq!(lines.len(), 10);
        // Whole numbers: 1248/2187 is 57.06 %; in five rows of two halves that is two and a half.
        let column = LEFT + 4 * COLUMN;
        let at = |row: usize| -> String { lines[row].chars().skip(column).take(2).collect() };
        assert_eq!([at(5), at(6)], [" 7".to_owned(), "57".to_owned()]);
        assert_eq!([at(1), at(2), at(3)], ["  ", "▄▄", "██"].map(str::to_owned));
    }

    #[test]
    fn a_narrow_room_keeps_the_chosen_friends_in_view() {
        let lines = told(PowerView {
            friends: 21,
            cells: 40,
            ..VIEW
        });
        assert!(lines[5].contains("24") && !lines[5].contains(" 3 "));
        assert!(lines.iter().all(|it| it.chars().count() <= 40));
    }
}
