//! Where names stand in a round of terminal cells: whole inside their piece, or not at all.

use crate::drawing::Piece;
use crate::drawing::RoundView;
use crate::drawing::round_raster::Raster;
use crate::drawing::width;
use crate::drawing::wrap;

/// A letter at a cell, on a piece or on the hub.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Letter {
    pub(super) x: usize,
    pub(super) y: usize,
    pub(super) sign: char,
    pub(super) piece: Option<usize>,
}

/// Lines that a name is broken into at most.
const MOST_LINES: usize = 4;

/// How near to its edge a label may come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Fit {
    /// A cell stays free on both sides.
    Loose,
    /// It may touch the edge.
    Tight,
    /// It may cover half a cell beyond the edge, so that the sign of a narrow piece is seen too.
    Over,
}

/// All letters: the names or signs of the stalls, and the hub.
pub(super) fn letters(view: &RoundView<'_>, points: &Raster) -> Vec<Letter> {
    let mut all = hub(view);
    let stalls = view.round.pieces().iter().enumerate();
    for (index, piece) in stalls.filter(|it| it.1.ring == 0) {
        let middle = middle(view, piece);
        let named = blocks(&piece.sign, &piece.label);
        let sign = [vec![piece.sign.clone()]];
        let tried = [
            (Fit::Loose, named.as_slice()),
            (Fit::Tight, named.as_slice()),
            (Fit::Tight, &sign),
            (Fit::Over, &sign),
        ];
        let mut tried = tried
            .iter()
            .flat_map(|(fit, blocks)| blocks.iter().map(move |block| (fit, block)));
        let best = tried.find_map(|(fit, block)| {
            let block = Block::new(block, index)?;
            let corner = block.corner(view, points, *fit, middle)?;
            Some(block.letters(corner).collect::<Vec<Letter>>())
        });
        all.extend(best.into_iter().flatten());
    }
    all
}

/// The ways to write a piece with its sign and its whole name, in few lines or many.
fn blocks(sign: &str, label: &str) -> Vec<Vec<String>> {
    let whole = format!("{sign} {label}");
    let mut blocks: Vec<Vec<String>> = Vec::new();
    for cells in (1..=width(&whole)).rev() {
        let lines = wrap(&whole, cells);
        let fits = lines.iter().all(|line| width(line) <= cells) && lines.len() <= MOST_LINES;
        if fits && !blocks.contains(&lines) {
            blocks.push(lines);
        }
    }
    // The squarest first: it is the one that looks like a label.
    blocks.sort_by_key(|lines| {
        let widest = lines.iter().map(|it| width(it)).max().unwrap_or(0);
        widest.abs_diff(3 * lines.len())
    });
    blocks
}

/// The cell in the middle of a piece, in halves of cells from the top left.
fn middle(view: &RoundView<'_>, piece: &Piece) -> [f64; 2] {
    let [inner, outer] = view.round.shape().rings[piece.ring];
    let radius = f64::midpoint(inner, outer);
    let [from, to] = view.round.edges(piece, radius);
    let angle = f64::midpoint(from, to);
    let rows = view.rows as f64;
    [
        rows * (1.0 + radius * angle.sin()),
        rows * (1.0 - radius * angle.cos()) / 2.0,
    ]
}

/// The lines of a label, each centred.
struct Block<'a> {
    lines: &'a [String],
    wide: usize,
    piece: usize,
}

impl<'a> Block<'a> {
    /// None where a sign takes two cells: it would break the grid of single ones.
    fn new(lines: &'a [String], piece: usize) -> Option<Self> {
        let single = |it: &String| width(it) == it.chars().count();
        let wide = lines.iter().map(|it| width(it)).max()?;
        lines
            .iter()
            .all(single)
            .then_some(Self { lines, wide, piece })
    }

    fn letters(&self, (left, top): (usize, usize)) -> impl Iterator<Item = Letter> {
        let lines = self.lines.iter().enumerate();
        lines.flat_map(move |(row, line)| {
            let indent = (self.wide - width(line)) / 2;
            line.chars().enumerate().map(move |(column, sign)| Letter {
                x: left + indent + column,
                y: top + row,
                sign,
                piece: Some(self.piece),
            })
        })
    }

    /// The top left cell with which it lies nearest to the middle of its piece; none where it fits nowhere.
    fn corner(
        &self,
        view: &RoundView<'_>,
        points: &Raster,
        fit: Fit,
        [x, y]: [f64; 2],
    ) -> Option<(usize, usize)> {
        let own = |x: usize, y: usize| points.owner(x, y) == Some(self.piece);
        let whole = |x: usize, y: usize| own(x, 2 * y) && own(x, 2 * y + 1);
        let holds = |it: &Letter| match fit {
            Fit::Loose => (it.x.saturating_sub(1)..=it.x + 1).all(|x| whole(x, it.y)),
            Fit::Tight => whole(it.x, it.y),
            Fit::Over => own(it.x, 2 * it.y) || own(it.x, 2 * it.y + 1),
        };
        let far = |(left, top): (usize, usize)| {
            let across = left as f64 + self.wide as f64 / 2.0 - x;
            let down = top as f64 + self.lines.len() as f64 / 2.0 - y;
            // A cell is twice as high as wide.
            across.powi(2) + 4.0 * down.powi(2)
        };
        let tops = 0..=view.rows.checked_sub(self.lines.len())?;
        let lefts = 0..=(2 * view.rows).checked_sub(self.wide)?;
        let corners = tops.flat_map(|top| lefts.clone().map(move |left| (left, top)));
        let fitting = corners.filter(|it| self.letters(*it).all(|it| holds(&it)));
        fitting.min_by(|a, b| far(*a).total_cmp(&far(*b)))
    }
}

/// The words of the hub, as many lines as they take inside its circle.
fn hub(view: &RoundView<'_>) -> Vec<Letter> {
    let radius = view.round.shape().hub * view.rows as f64;
    let rows = view.rows;
    let room = |y: usize| {
        let down = |point: usize| (point as f64 - rows as f64).abs();
        let most = down(2 * y).max(down(2 * y + 2));
        (radius.powi(2) - most.powi(2)).max(0.0).sqrt()
    };
    let fitted = |words: &[&str]| (1..=rows).find_map(|lines| filled(words, lines, rows, &room));
    let lines = fitted(view.hub).or_else(|| fitted(view.hub.get(..1)?));
    let mut letters = Vec::new();
    for (y, line) in lines.unwrap_or_default() {
        let left = rows.saturating_sub(width(&line).div_ceil(2));
        letters.extend(line.chars().enumerate().map(|(column, sign)| Letter {
            x: left + column,
            y,
            sign,
            piece: None,
        }));
    }
    letters
}

/// Words dealt over so many rows about the middle; none if they do not all fit.
fn filled(
    words: &[&str],
    lines: usize,
    rows: usize,
    room: &dyn Fn(usize) -> f64,
) -> Option<Vec<(usize, String)>> {
    let top = (rows - lines) / 2;
    let mut left = words.iter().peekable();
    let mut filled = Vec::new();
    for y in top..top + lines {
        let mut line = String::new();
        while let Some(word) = left.peek() {
            let longer = format!("{line} {word}").trim_start().to_owned();
            if width(&longer) as f64 > 2.0 * room(y) {
                break;
            }
            line = longer;
            left.next();
            // The first word is the heading of the others.
            if filled.is_empty() {
                break;
            }
        }
        filled.push((y, line));
    }
    left.peek().is_none().then_some(filled)
}
