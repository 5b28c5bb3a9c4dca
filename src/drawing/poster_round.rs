//! The round of a poster: awnings, stalls, shelves and words, each with its border and its name.

use std::f64::consts::PI;

use crate::drawing::Outline;
use crate::drawing::Pen;
use crate::drawing::Piece;
use crate::drawing::Round;
use crate::drawing::Sheet;
use crate::drawing::Type;
use crate::drawing::Weight;
use crate::drawing::heat_step;
use crate::drawing::oklch;
use crate::drawing::on_circle;
use crate::drawing::poster::paper_heat;
use crate::drawing::poster_label::LINE;
use crate::drawing::poster_label::Label;
use crate::drawing::poster_label::Lettering;
use crate::drawing::poster_label::Stands;

/// A round on paper.
pub(super) struct PosterRound<'a> {
    pub(super) round: &'a Round,
    /// Its middle on the page, mm.
    pub(super) middle: [f64; 2],
    /// Its radius, mm.
    pub(super) radius: f64,
    /// Over how many hues the circle is divided.
    pub(super) hues: usize,
    /// Whether the depth of colour says something.
    pub(super) is_heated: bool,
}

/// How far the awning of a stall reaches over it, mm.
const AWNING: f64 = 3.6;
/// How wide a stripe of an awning is, mm, about.
const STRIPE: f64 = 1.05;
/// How far the hem of an awning hangs over the market square, mm.
const HEM: f64 = 0.75;
/// How the borders of pieces are drawn.
const BORDER: Pen = Pen::of(0.13);
/// Lightness and chroma of the two kinds of stripes.
const STRIPES: [[f32; 2]; 2] = [[0.7, 0.125], [0.975, 0.015]];

/// The names of the stalls, the shelves and the words.
pub(super) const LETTERINGS: [Lettering; 3] = [
    Lettering {
        largest: 3.1,
        weight: Weight::Bold,
        lines: 3,
        free: [AWNING + 0.4, 0.5],
        stands: Stands::Centred,
    },
    Lettering {
        largest: 2.5,
        weight: Weight::Plain,
        lines: 2,
        free: [0.6, 0.6],
        stands: Stands::Centred,
    },
    Lettering {
        largest: 2.05,
        weight: Weight::Plain,
        lines: 1,
        free: [0.5, 0.4],
        stands: Stands::Inside,
    },
];

impl PosterRound<'_> {
    /// Draws all pieces and then their names, so that no border crosses a letter.
    pub(super) fn draw(&self, sheet: &mut Sheet) {
        for piece in self.round.pieces() {
            sheet.shape(self.outline(piece), Some(self.fill(piece)), Some(BORDER));
            if piece.ring == 0 {
                self.awning(sheet, piece);
            }
        }
        for shelf in self.round.pieces().iter().filter(|it| it.ring == 1) {
            sheet.draw(self.outline_between(shelf, self.board()), Pen::of(0.28));
        }
        for piece in self.round.pieces() {
            let lettering = &LETTERINGS[piece.ring.min(2)];
            if let Some(label) = self.label(piece) {
                let set = Type {
                    weight: lettering.weight,
                    ..Type::of(label.size)
                };
                write(sheet, self.middle, &label, lettering.stands, set);
            }
        }
    }

    /// The name of a piece as it is printed.
    pub(super) fn label(&self, piece: &Piece) -> Option<Label> {
        Label::fitted(
            self.round,
            piece,
            self.radius,
            &LETTERINGS[piece.ring.min(2)],
        )
    }

    fn fill(&self, piece: &Piece) -> [u8; 3] {
        let plain = match piece.ring {
            0 => [0.84, 0.095],
            1 => [0.9, 0.06],
            _ => [0.955, 0.028],
        };
        let heat = paper_heat(heat_step(piece.heat));
        oklch(
            piece.hue,
            self.hues,
            if self.is_heated { heat } else { plain },
        )
    }

    /// A point so many mm from the middle at an angle.
    fn point(&self, radius: f64, angle: f64) -> [f64; 2] {
        on_circle(self.middle, radius, angle)
    }

    /// From where to where the words of a shelf reach, all rows together.
    fn board(&self) -> [f64; 2] {
        let rings = &self.round.shape().rings;
        let inner = rings.get(2).map_or(1.0, |it| it[0]);
        [inner, rings.last().map_or(1.0, |it| it[1])]
    }

    /// The border of a piece: two edges and two arcs.
    fn outline(&self, piece: &Piece) -> Outline {
        self.outline_between(piece, self.round.shape().rings[piece.ring])
    }

    /// The border that a piece would have between these two radii.
    fn outline_between(&self, piece: &Piece, [inner, outer]: [f64; 2]) -> Outline {
        let (near, far) = (
            self.round.edges(piece, inner),
            self.round.edges(piece, outer),
        );
        let (inner, outer) = (inner * self.radius, outer * self.radius);
        Outline::from(self.point(inner, near[0]))
            .line(self.point(outer, far[0]))
            .arc(self.middle, outer, far)
            .line(self.point(inner, near[1]))
            .arc(self.middle, inner, [near[1], near[0]])
            .close()
    }

    /// The awning over the front of a stall: stripes with a hem that hangs over the square.
    fn awning(&self, sheet: &mut Sheet, piece: &Piece) {
        let front = self.round.shape().rings[0][0] * self.radius;
        let back = front + AWNING;
        let [near, far] = [front, back].map(|it| self.round.edges(piece, it / self.radius));
        let fits = |count: &usize| (near[1] - near[0]) * front / *count as f64 >= STRIPE;
        // An odd number, so that both ends are alike.
        let count = (1..40).step_by(2).take_while(fits).last().unwrap_or(1);
        let at = |ends: [f64; 2], stripe: usize| {
            ends[0] + (ends[1] - ends[0]) * stripe as f64 / count as f64
        };
        for stripe in 0..count {
            let [left, right] = [at(near, stripe), at(near, stripe + 1)];
            let path = Outline::from(self.point(front, left))
                .bend(
                    self.point(front - 2.0 * HEM, f64::midpoint(left, right)),
                    self.point(front, right),
                )
                .line(self.point(back, at(far, stripe + 1)))
                .line(self.point(back, at(far, stripe)))
                .close();
            let colour = oklch(piece.hue, self.hues, STRIPES[stripe % 2]);
            sheet.shape(path, Some(colour), Some(BORDER));
        }
    }
}

/// Writes a label along its ray; on the left half it is turned, so that nobody reads upside down.
fn write(sheet: &mut Sheet, middle: [f64; 2], label: &Label, stands: Stands, set: Type) {
    let is_left = label.ray > PI;
    let side = if is_left { -1.0 } else { 1.0 };
    let degrees = label.ray.to_degrees() - 90.0 * side;
    let [from, to] = label.reach;
    let (x, set) = match (stands, is_left) {
        (Stands::Centred, _) => (f64::midpoint(from, to), set.centred()),
        (Stands::Inside, false) => (from, set),
        (Stands::Inside, true) => (from, set.to_the_right()),
    };
    let lines = label.lines.len() as f64;
    let (sine, cosine) = degrees.to_radians().sin_cos();
    for (row, line) in label.lines.iter().enumerate() {
        // The middle between ascender and descender lies a quarter of the size above the base line.
        let down = (row as f64 - (lines - 1.0) / 2.0) * LINE * label.size + 0.26 * label.size;
        let right = side * x;
        let at = [
            middle[0] + right * cosine - down * sine,
            middle[1] + right * sine + down * cosine,
        ];
        sheet.turned(at, degrees, line, set);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Sector;
    use crate::drawing::Step;
    use crate::drawing::poster::poster_shape;
    use crate::drawing::round::tests::market;

    /// Thirteen stalls with 298 words, the largest next to the smallest.
    const WORDS: [&[usize]; 13] = [
        &[6, 5, 6, 5, 6],
        &[6, 6, 6],
        &[5, 5, 6, 5, 6],
        &[4, 4, 6],
        &[5, 5, 4, 5],
        &[5, 5, 5, 5, 5, 6],
        &[6, 6, 6, 6],
        &[6, 5, 5],
        &[4, 6, 5, 5],
        &[5, 5, 5],
        &[6, 5, 5, 5],
        &[5, 5, 5, 6],
        &[5, 6, 4, 5, 5, 5],
    ];

    /// A market with names as long as the longest of their kind, which need most room; a shelf of
    /// four words is narrower and has a shorter name.
    fn long_names() -> Vec<Sector> {
        let mut stalls = market(&WORDS);
        for stall in &mut stalls {
            "Orchard and hedge".clone_into(&mut stall.label);
            for shelf in &mut stall.behind {
                let is_narrow = shelf.behind.len() < 5;
                let name = ["Vanilla and marzipan", "Warm spices"][usize::from(is_narrow)];
                name.clone_into(&mut shelf.label);
                for word in &mut shelf.behind {
                    "nail varnish remover".clone_into(&mut word.label);
                }
            }
        }
        stalls
    }

    fn drawn(test: impl Fn(&PosterRound<'_>)) {
        let round = Round::new(&long_names(), poster_shape());
        test(&PosterRound {
            round: &round,
            middle: [0.0, 0.0],
            radius: 99.0,
            hues: 13,
            is_heated: false,
        });
    }

    #[test]
    fn every_name_stands_inside_its_piece_and_is_large_enough_to_be_read() {
        drawn(|it| {
            for (index, piece) in it.round.pieces().iter().enumerate() {
                let label = it.label(piece).unwrap();
                // 1.5 mm is about four points, the smallest print on packages (EU 1169/2011 asks for
                // an x-height of 1.2 mm on large ones and 0.9 mm, 1.7 mm of letter size, on small ones).
                assert!(label.size >= 1.5, "{label:?}");
                let half = label.height() / 2.0;
                for along in [label.reach[0], label.reach[1]] {
                    for aside in [-half, 0.0, half] {
                        let far = f64::hypot(along, aside) / it.radius;
                        let angle = label.ray + f64::atan2(aside, along);
                        assert_eq!(it.round.at(far, angle), Some(index), "{label:?}");
                    }
                }
            }
        });
    }

    #[test]
    fn no_border_leaves_the_rim_or_enters_a_lane() {
        drawn(|it| {
            for piece in it.round.pieces() {
                // The corners: where straight and curved steps meet.
                let corners = it.outline(piece);
                let corners = corners.steps().iter().filter_map(|step| match step {
                    Step::Move(at) | Step::Line(at) | Step::Curve([_, _, at]) => Some(*at),
                    Step::Close => None,
                });
                for [x, y] in corners {
                    let far = f64::hypot(x, y);
                    assert!(far <= 99.001, "{piece:?}");
                    let angle = f64::atan2(x, -y).rem_euclid(2.0 * PI);
                    let [from, to] = it.round.lanes(piece.way[0]);
                    let beside = far * (angle - from).sin().min((to - angle).sin());
                    assert!(beside >= 0.0125 * 99.0 - 0.002, "{piece:?} {beside}");
                }
            }
        });
    }
}
