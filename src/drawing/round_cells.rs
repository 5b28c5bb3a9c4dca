//! A round as terminal cells: two points a cell in colours, and eight dots a cell as an outline where there are none.

use crate::drawing::HEAT_STEPS;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::Piece;
use crate::drawing::Round;
use crate::drawing::Shade;
use crate::drawing::Tile;
use crate::drawing::Tint;
use crate::drawing::heat_step;
use crate::drawing::round_labels::Letter;
use crate::drawing::round_labels::letters;
use crate::drawing::round_raster::Raster;

/// A round as it is to be seen on a terminal.
#[derive(Debug, Clone)]
pub struct RoundView<'a> {
    /// What is shown.
    pub round: &'a Round,
    /// Over how many hues the circle is divided.
    pub hues: usize,
    /// The stall that the next key acts on.
    pub chosen: Option<usize>,
    /// What stands in the hub: the first word alone where there is no room for all.
    pub hub: &'a [&'a str],
    /// Rows of cells; it takes twice as many columns.
    pub rows: usize,
}

/// Of sixteen dots, how many are set for each step of heat.
const DOTS: [usize; HEAT_STEPS + 1] = [0, 2, 5, 8, 12];

/// The signs for each step of heat in ASCII, from pale to dark.
const ASCII: [char; HEAT_STEPS + 1] = ['.', '-', '+', '*', '%'];

/// An order in which sixteen dots fill a square evenly (Bayer 1973).
const ORDER: [[usize; 4]; 4] = [[0, 8, 2, 10], [12, 4, 14, 6], [3, 11, 1, 9], [15, 7, 13, 5]];

/// The bit of each dot of a braille sign, by row and column (Unicode 15, 21.1 "Braille Patterns").
const BRAILLE: [[u32; 2]; 4] = [[0x01, 0x08], [0x02, 0x10], [0x04, 0x20], [0x40, 0x80]];

impl RoundView<'_> {
    /// The picture, as many lines as there are rows, each a span a cell.
    #[must_use]
    pub fn lines(&self) -> Vec<Line> {
        let points = Raster::new(self.round, 2 * self.rows);
        let dots = Raster::new(self.round, 4 * self.rows);
        let tints = self.tints();
        let mut written = vec![None; 2 * self.rows * self.rows];
        for it in letters(self, &points) {
            written[it.y * 2 * self.rows + it.x] = Some(it);
        }
        let cell = |x: usize, y: usize| {
            let upper = points.owner(x, 2 * y);
            let lower = points.owner(x, 2 * y + 1);
            let tint = |it: Option<usize>| it.map(|it| tints[it]);
            if let Some(it) = &written[y * 2 * self.rows + x] {
                return lettered(it, tint(it.piece));
            }
            // Beside letters nothing is filled, so that they are read.
            let near = x.saturating_sub(1)..=(x + 1).min(2 * self.rows - 1);
            let mut near = near.map(|x| &written[y * 2 * self.rows + x]);
            let braille = if near.any(Option::is_some) {
                braille(x, y, |x, y| dots.is_edge(x, y))
            } else {
                self.filled(&dots, x, y)
            };
            let signs = [braille, self.ascii(upper)];
            painted(tint(upper), tint(lower), signs)
        };
        let row = |y: usize| {
            let cells = (0..2 * self.rows).map(|x| cell(x, y));
            cells.fold(Line::blank(), |line, (text, tile)| {
                line.and(Ink::Tile(tile), text)
            })
        };
        (0..self.rows).map(row).collect()
    }

    /// The colour of every piece.
    fn tints(&self) -> Vec<Tint> {
        let mut known: Vec<((usize, Shade), Tint)> = Vec::new();
        let mut tint = |piece: &Piece| {
            let key = (piece.hue, self.shade(piece));
            if let Some(it) = known.iter().find(|it| it.0 == key) {
                return it.1;
            }
            let tint = Tint::of(key.0, self.hues, key.1);
            known.push((key, tint));
            tint
        };
        self.round.pieces().iter().map(&mut tint).collect()
    }

    fn shade(&self, piece: &Piece) -> Shade {
        if self.chosen == Some(piece.way[0]) {
            Shade::Chosen
        } else if self.is_heated() {
            Shade::Heat(heat_step(piece.heat))
        } else {
            let turn = piece.way.iter().skip(1).sum::<usize>();
            Shade::Turn(turn + piece.ring)
        }
    }

    fn is_heated(&self) -> bool {
        self.round.pieces().iter().any(|it| it.heat.is_some())
    }

    /// The dots of a cell: the edges of the pieces, the chosen one filled, others as far as they are hot.
    fn filled(&self, dots: &Raster, x: usize, y: usize) -> char {
        braille(x, y, |x, y| {
            dots.is_edge(x, y) || self.is_filled(dots.owner(x, y), x, y)
        })
    }

    /// The sign of a cell in ASCII, by what its upper half shows: lanes stay blank.
    fn ascii(&self, upper: Option<usize>) -> char {
        let Some(piece) = upper else {
            return ' ';
        };
        match self.shade(&self.round.pieces()[piece]) {
            Shade::Turn(turn) => [':', '.'][turn % 2],
            Shade::Heat(step) => ASCII[step.min(HEAT_STEPS)],
            Shade::Chosen => '#',
        }
    }

    fn is_filled(&self, owner: Option<usize>, x: usize, y: usize) -> bool {
        owner.is_some_and(|it| {
            let piece = &self.round.pieces()[it];
            let chosen = self.chosen == Some(piece.way[0]);
            let set = if chosen {
                16
            } else {
                DOTS[heat_step(piece.heat)]
            };
            ORDER[y % 4][x % 4] < set
        })
    }
}

/// The braille sign of a cell with those of its eight dots that are set.
fn braille(x: usize, y: usize, is_set: impl Fn(usize, usize) -> bool) -> char {
    let mut bits = 0;
    for (down, row) in BRAILLE.iter().enumerate() {
        for (across, bit) in row.iter().enumerate() {
            if is_set(2 * x + across, 4 * y + down) {
                bits |= bit;
            }
        }
    }
    match bits {
        0 => ' ',
        bits => char::from_u32(0x2800 + bits).unwrap_or(' '),
    }
}

/// A letter on the colour of its piece.
fn lettered(letter: &Letter, back: Option<Tint>) -> (String, Tile) {
    let tile = Tile {
        front: back.map(Tint::text),
        back,
        bare: letter.sign,
        ascii: letter.sign,
    };
    (letter.sign.to_string(), tile)
}

/// Two points above one another, as one sign.
fn painted(upper: Option<Tint>, lower: Option<Tint>, [bare, ascii]: [char; 2]) -> (String, Tile) {
    let (sign, front, back) = match (upper, lower) {
        (None, None) => (" ", None, None),
        (upper @ Some(_), lower) => ("▀", upper, lower),
        (None, lower) => ("▄", lower, None),
    };
    let tile = Tile {
        front,
        back,
        bare,
        ascii,
    };
    (sign.to_owned(), tile)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Shape;
    use crate::drawing::round::tests::market;

    const WORDS: [&[usize]; 4] = [&[5, 6, 3], &[4, 4, 5], &[6, 6, 6, 5], &[3, 3]];

    fn drawn(rows: usize, chosen: Option<usize>) -> Vec<Line> {
        let round = Round::new(&market(&WORDS), Shape::of_points(3, rows as f64));
        let view = RoundView {
            round: &round,
            hues: 4,
            chosen,
            hub: &["scales", "sweet", "bitter"],
            rows,
        };
        view.lines()
    }

    fn tiles(line: &Line) -> Vec<Tile> {
        let spans = line.spans.iter();
        let tiles = spans.filter_map(|span| match span.ink {
            Ink::Tile(tile) => Some(tile),
            _ => None,
        });
        tiles.collect()
    }

    fn bare(lines: &[Line]) -> String {
        let signs = |line: &Line| tiles(line).iter().map(|it| it.bare).collect::<String>();
        lines.iter().map(|line| signs(line) + "\n").collect()
    }

    #[test]
    fn every_row_is_twice_as_wide_as_the_picture_is_high() {
        for rows in [0, 1, 3, 10, 21, 46] {
            let lines = drawn(rows, Some(1));
            assert_eq!(lines.len(), rows);
            assert!(lines.iter().all(|it| it.spans.len() == 2 * rows), "{rows}");
        }
    }

    #[test]
    fn a_picture_says_nothing_in_the_text_of_its_line() {
        assert!(drawn(21, None).iter().all(|line| line.text().is_empty()));
    }

    #[test]
    fn without_colours_every_stall_has_its_sign_and_the_chosen_one_is_filled() {
        let text = bare(&drawn(21, Some(1)));
        for sign in ["1", "2", "3", "4", "scales"] {
            assert!(text.contains(sign), "{sign} in\n{text}");
        }
        let filled = |text: &str| text.matches('⣿').count();
        assert!(
            filled(&text) > filled(&bare(&drawn(21, None))) + 20,
            "{text}"
        );
    }

    #[test]
    fn in_ascii_every_sign_is_ascii_the_chosen_stall_is_darkest_and_gaps_are_blank() {
        let lines = drawn(21, Some(0));
        let rows: Vec<Vec<Tile>> = lines.iter().map(tiles).collect();
        let all = || rows.iter().flatten();
        assert!(all().all(|it| it.ascii.is_ascii()));
        assert!(all().filter(|it| it.ascii == '#').count() > 50);
        for it in all().filter(|it| it.ascii == '#') {
            assert_eq!(it.front, Some(Tint::of(0, 4, Shade::Chosen)));
        }
        let outside = rows[0][0];
        assert_eq!(
            (outside.ascii, outside.bare, outside.back),
            (' ', ' ', None)
        );
    }

    #[test]
    fn lanes_are_clear_from_the_hub_to_the_rim_with_and_without_colours() {
        // The first lane goes straight up from the middle, between the two middle columns.
        let lines = drawn(21, None);
        for line in &lines[..8] {
            let row = tiles(line);
            let clear = |at: usize| row[at].back.is_none() && row[at].front.is_none();
            assert!(clear(20) || clear(21), "{row:?}");
        }
    }
}
