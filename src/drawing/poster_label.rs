//! Where a name stands on a poster: along the ray through the middle of its piece, as large as fits inside.

use crate::drawing::Piece;
use crate::drawing::Round;
use crate::drawing::Weight;
use crate::drawing::text_width;
use crate::drawing::wrap;

/// How the names of one ring are set.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lettering {
    /// The largest size of letters, mm.
    pub(super) largest: f64,
    /// How heavy its letters are.
    pub(super) weight: Weight,
    /// Lines that a name is broken into at most.
    pub(super) lines: usize,
    /// Room left free at the inner and the outer edge, mm.
    pub(super) free: [f64; 2],
    /// Where along the ray it stands.
    pub(super) stands: Stands,
}

/// Where along its ray a name stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stands {
    /// At the inner edge.
    Inside,
    /// In the middle.
    Centred,
}

/// A name as it is printed.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Label {
    /// Its lines.
    pub(super) lines: Vec<String>,
    /// The size of the letters, mm.
    pub(super) size: f64,
    /// The ray it stands on, radians clockwise from the top.
    pub(super) ray: f64,
    /// From where to where it reaches on the ray, mm from the middle.
    pub(super) reach: [f64; 2],
}

/// From line to line, in letter sizes.
pub(super) const LINE: f64 = 1.12;
/// From the highest to the lowest letter of a line, in letter sizes (ascender and descender of Helvetica).
const TALL: f64 = 0.95;
/// How much wider the letters of other typefaces may be: an SVG is printed with whichever of those it names is there.
/// Judgement.
const WIDER: f64 = 1.04;
/// By how much letters shrink until they fit, mm.
const STEP: f64 = 0.05;
/// Half of the border of a piece, mm, which no letter touches.
const BORDER: f64 = 0.12;
/// Letters below this size, mm, are not set: nobody reads them.
const SMALLEST: f64 = 1.2;

impl Label {
    /// From the highest to the lowest letter, mm.
    pub(super) fn height(&self) -> f64 {
        (self.lines.len() as f64 - 1.0).mul_add(LINE, TALL) * self.size
    }

    /// The largest way to write a piece's name inside it; none where not even the smallest fits.
    pub(super) fn fitted(
        round: &Round,
        piece: &Piece,
        radius: f64,
        lettering: &Lettering,
    ) -> Option<Self> {
        let mut best: Option<Self> = None;
        for lines in broken(&piece.label, lettering.lines) {
            let mut size = lettering.largest;
            while size > best.as_ref().map_or(SMALLEST - STEP, |it| it.size) + STEP / 2.0 {
                let label = Self::set(round, piece, radius, lettering, &lines, size);
                if label.lies_in(round, piece, radius, lettering.free) {
                    best = Some(label);
                    break;
                }
                size -= STEP;
            }
        }
        best
    }

    /// The name in these lines and this size, whether it fits or not.
    fn set(
        round: &Round,
        piece: &Piece,
        radius: f64,
        lettering: &Lettering,
        lines: &[String],
        size: f64,
    ) -> Self {
        let wide = |it: &String| printed_width(it, lettering.weight);
        let long = lines.iter().map(wide).fold(0.0, f64::max) * size;
        let [inner, outer] = round.shape().rings[piece.ring].map(|it| it * radius);
        let (inner, outer) = (inner + lettering.free[0], outer - lettering.free[1]);
        let from = match lettering.stands {
            Stands::Inside => inner,
            Stands::Centred => f64::midpoint(inner, outer) - long / 2.0,
        };
        let [begins, ends] = round.edges(piece, (from + long / 2.0) / radius);
        Self {
            lines: lines.to_vec(),
            size,
            ray: f64::midpoint(begins, ends),
            reach: [from, from + long],
        }
    }

    /// True if all four corners lie in the piece.
    fn lies_in(&self, round: &Round, piece: &Piece, radius: f64, free: [f64; 2]) -> bool {
        let [inner, outer] = round.shape().rings[piece.ring].map(|it| it * radius);
        let aside = self.height() / 2.0 + BORDER;
        let corner = |along: f64, aside: f64| {
            let far = f64::hypot(along, aside);
            let angle = self.ray + f64::atan2(aside, along);
            let [begins, ends] = round.edges(piece, far / radius);
            (begins..=ends).contains(&angle) && far <= outer
        };
        let reaches = self.reach[0] >= inner + free[0] - 1e-9 && self.reach[1] <= outer - free[1];
        let [from, to] = self.reach;
        let corners = [(from, aside), (from, -aside), (to, aside), (to, -aside)];
        reaches && corners.iter().all(|it| corner(it.0, it.1))
    }
}

/// The width of a line on a poster, in letter sizes, for whichever typeface prints it.
pub(super) fn printed_width(text: &str, weight: Weight) -> f64 {
    WIDER * text_width(text, weight)
}

/// A name in one line, in two, and so on, each as even as blanks allow.
fn broken(label: &str, most: usize) -> Vec<Vec<String>> {
    let longest = label.chars().count();
    let mut ways: Vec<Vec<String>> = Vec::new();
    for count in 1..=most {
        // The narrowest width that takes so many lines is the most even one.
        let way = (1..=longest).map(|cells| wrap(label, cells));
        let mut way = way.filter(|it| it.len() <= count);
        ways.extend(way.next().filter(|it| !ways.contains(it)));
    }
    ways
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_broken_as_evenly_as_its_blanks_allow() {
        let ways = broken("Workshop and first-aid box", 3);
        let shown: Vec<String> = ways.iter().map(|it| it.join("/")).collect();
        assert_eq!(
            shown,
            [
                "Workshop and first-aid box",
                "Workshop and/first-aid box",
                "Workshop and/first-aid/box"
            ]
        );
        assert_eq!(broken("Dairy", 3), [["Dairy"]]);
    }
}
