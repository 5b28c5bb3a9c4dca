//! Which piece of a round each point of a square grid shows.

use std::f64::consts::TAU;

use crate::drawing::Round;

/// A square grid of points over a round, row by row.
#[derive(Debug, Clone)]
pub(super) struct Raster {
    side: usize,
    owners: Vec<Option<usize>>,
}

/// Points below which a piece is too narrow to be shown by itself.
const NARROW: f64 = 2.5;

impl Raster {
    /// Asks for each of so many points a side what lies there.
    pub(super) fn new(round: &Round, side: usize) -> Self {
        let middle = side as f64 / 2.0;
        let shown = shown(round, middle);
        let owners = (0..side * side).map(|at| {
            let along = |at: usize| (at as f64 + 0.5 - middle) / middle;
            let (x, y) = (along(at % side), along(at / side));
            let angle = f64::atan2(x, -y).rem_euclid(TAU);
            round.at(f64::hypot(x, y), angle).map(|it| shown[it])
        });
        Self {
            owners: owners.collect(),
            side,
        }
    }

    /// The piece at a point; none outside the round and outside the grid.
    pub(super) fn owner(&self, x: usize, y: usize) -> Option<usize> {
        if x >= self.side || y >= self.side {
            return None;
        }
        self.owners[y * self.side + x]
    }

    /// True if a piece ends at this point.
    pub(super) fn is_edge(&self, x: usize, y: usize) -> bool {
        let own = self.owner(x, y);
        // One line between two neighbours is enough, so only the first of them draws it.
        let next = [(x + 1, y), (x, y + 1)];
        let before = [(x.wrapping_sub(1), y), (x, y.wrapping_sub(1))];
        let other = |at: &(usize, usize)| self.owner(at.0, at.1) != own;
        let none = |at: &(usize, usize)| self.owner(at.0, at.1).is_none();
        own.is_some() && (next.iter().any(other) || before.iter().any(none))
    }
}

/// For each piece the one that is shown for it: itself, or the first of its row where the row is too
/// narrow for each to be seen.
fn shown(round: &Round, points: f64) -> Vec<usize> {
    let pieces = round.pieces();
    let itself = |(index, piece): (usize, &crate::drawing::Piece)| {
        if piece.ring == 0 || round.width(piece) * points >= NARROW {
            return index;
        }
        let parent = &piece.way[..piece.way.len() - 1];
        let first = pieces.iter().position(|it| {
            it.ring == piece.ring && it.way.len() == piece.way.len() && it.way.starts_with(parent)
        });
        first.unwrap_or(index)
    };
    pieces.iter().enumerate().map(itself).collect()
}
