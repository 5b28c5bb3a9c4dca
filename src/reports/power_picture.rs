//! Friends, rounds and power as a picture: bars for one number of rounds, and a table of all.

use crate::drawing::ShareGrid;
use crate::drawing::ShareRow;
use crate::reports::blind_words::at_least_percent;
use crate::workflow::PowerGrid;

/// The power of every number of friends and rounds as shares; `friends` and `rounds` are the places in the
/// grid that are looked at, from 0.
#[must_use]
pub fn power_picture(grid: &PowerGrid, friends: usize, rounds: usize) -> ShareGrid {
    let rows = grid.power.iter().enumerate();
    let wanted = 1.0 - grid.aim.beta.get();
    ShareGrid {
        head: "friends".to_owned(),
        of: "how often it is noticed".to_owned(),
        columns: grid.friends.iter().map(u32::to_string).collect(),
        rows: rows.map(|(index, it)| rounds_row(index, it)).collect(),
        chosen: [friends, rounds],
        goal: Some((wanted, format!("wanted: {:.0} %", 100.0 * wanted))),
    }
}

/// The same, looking at so many friends and rounds themselves; without friends, at the fewest who reach what is wanted.
#[must_use]
pub fn power_picture_of(grid: &PowerGrid, [friends, rounds]: [Option<u32>; 2]) -> ShareGrid {
    let rounds = rounds.unwrap_or(1).saturating_sub(1) as usize;
    let wanted = 1.0 - grid.aim.beta.get();
    let reaches = |at: &usize| {
        let power = grid.power.get(rounds).and_then(|it| it.get(*at));
        power.copied().flatten().is_some_and(|it| it >= wanted)
    };
    let is_it = |at: &usize| friends.map_or_else(|| reaches(at), |it| grid.friends[*at] == it);
    let all = grid.friends.len();
    // None of them: then none is looked at.
    let at = (0..all).find(is_it).unwrap_or(all);
    power_picture(grid, at, rounds)
}

/// The powers of one number of rounds, in per cent.
fn rounds_row(rounds: usize, power: &[Option<f64>]) -> ShareRow {
    let name = if rounds == 0 { "round" } else { "rounds" };
    // Two signs, as wide as a column: nothing is noticed quite always, and a figure is at least so much.
    let words = |it: &Option<f64>| {
        it.map_or("–".to_owned(), |it| {
            at_least_percent(it.min(0.99)).replace(" %", "")
        })
    };
    ShareRow {
        name: format!("{} {name}", rounds + 1),
        shares: power.to_vec(),
        words: power.iter().map(words).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::CellRoom;
    use crate::drawing::Line;
    use crate::drawing::Picture;
    use crate::drawing::beyond_margins;
    use crate::workflow::Aim;
    use crate::workflow::Alpha;
    use crate::workflow::Beta;
    use crate::workflow::Effect;
    use crate::workflow::METHODS;
    use crate::workflow::Pd;
    use crate::workflow::power_grid;

    fn picture(friends: usize) -> ShareGrid {
        let aim = Aim {
            alpha: Alpha::new(0.05).unwrap(),
            beta: Beta::new(0.2).unwrap(),
            effect: Effect::Pd(Pd::new(0.5).unwrap()),
        };
        power_picture(&power_grid(METHODS[0], aim), friends, 0)
    }

    fn told(friends: usize, cells: usize) -> Vec<String> {
        let lines = picture(friends).lines(CellRoom { cells, rows: 5 });
        lines.iter().map(Line::text).collect()
    }

    /// Cells left of the first friends, and of one number of them.
    const LEFT: usize = 9;
    const COLUMN: usize = 3;

    #[test]
    fn seven_friends_stand_at_57_and_their_bar_is_as_high() {
        let lines = told(4, 78);
        assert_eq!(lines.len(), 10);
        // Whole numbers: 1248/2187 is 57.06 %; in five rows of two halves that is two and a half.
        let column = LEFT + 4 * COLUMN;
        let at = |row: usize| -> String { lines[row].chars().skip(column).take(2).collect() };
        assert_eq!([at(5), at(6)], [" 7".to_owned(), "57".to_owned()]);
        assert_eq!([at(1), at(2), at(3)], ["  ", "▄▄", "██"].map(str::to_owned));
    }

    #[test]
    fn what_is_noticed_as_good_as_always_pushes_no_column_out_of_line() {
        let aim = Aim {
            alpha: Alpha::new(0.05).unwrap(),
            beta: Beta::new(0.2).unwrap(),
            effect: Effect::Pd(Pd::new(0.9).unwrap()),
        };
        let picture = power_picture(&power_grid(METHODS[0], aim), 21, 3);
        // Of 24 friends in four rounds all but one in many millions notice it.
        let highest = picture.rows[3].shares.iter().flatten();
        assert!(highest.fold(0.0, |a: f64, b| a.max(*b)) > 0.999_999_9);
        let words = picture.rows.iter().flat_map(|it| &it.words);
        let wide: Vec<&String> = words.filter(|it| it.chars().count() > 2).collect();
        assert!(wide.is_empty(), "{wide:?}");
        assert_eq!(at_least_percent(0.99), "99 %");
    }

    #[test]
    fn a_narrow_room_keeps_the_chosen_friends_in_view() {
        let lines = told(21, 40);
        assert!(lines[5].contains("24") && !lines[5].contains(" 3 "));
        assert!(lines.iter().all(|it| it.chars().count() <= 40));
    }

    #[test]
    fn on_paper_every_number_of_rounds_has_its_curve_and_its_name() {
        for width in [120.0, 190.0] {
            let sheet = picture(4).sheet(width);
            assert_eq!(beyond_margins(&sheet, 0.0), Vec::<String>::new());
            let text = crate::drawing::svg(&sheet);
            for name in ["1 round", "2 rounds", "3 rounds", "4 rounds", "80 %"] {
                assert!(text.contains(name), "{name}");
            }
        }
    }
}
