//! A round market seen from above: stalls round a hub with lanes between them, shelves behind, words outermost; where each piece lies.

use std::f64::consts::TAU;

/// A named piece of the round, with what stands behind it as seen from the hub.
#[derive(Debug, Clone, PartialEq)]
pub struct Sector {
    /// What it is called.
    pub label: String,
    /// A short sign that stands for the name where that has no room.
    pub sign: String,
    /// Which of the round's hues it has, counted from 0.
    pub hue: usize,
    /// How much of what is shown belongs to it, from 0 to 1; none where nothing is known.
    pub heat: Option<f64>,
    /// What stands behind it, clockwise.
    pub behind: Vec<Self>,
}

/// The measures of a round, all in radii of the whole.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    /// Where the hub ends.
    pub hub: f64,
    /// From where to where each ring reaches, the innermost first.
    pub rings: Vec<[f64; 2]>,
    /// Half the width of a lane, the same from the hub to the rim.
    pub half_lane: f64,
    /// Over how many rings the outermost pieces of one shelf are dealt; more than one gives each more room.
    pub rows: usize,
}

/// One piece with its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Its name.
    pub label: String,
    /// The short sign for it.
    pub sign: String,
    /// Its hue, counted from 0.
    pub hue: usize,
    /// How much of what is shown belongs to it, from 0 to 1.
    pub heat: Option<f64>,
    /// The way to it: which stall, which shelf of it, which word there.
    pub way: Vec<usize>,
    /// The ring it lies in, counted from the hub.
    pub ring: usize,
    /// Its part of the stall's width, from 0 to 1.
    pub share: [f64; 2],
}

/// A round with the place of every piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Round {
    shape: Shape,
    /// The middles of the lanes to both sides of each stall, clockwise from the top in radians.
    spans: Vec<[f64; 2]>,
    pieces: Vec<Piece>,
    /// The pieces by stall and ring.
    standing: Vec<Vec<Vec<usize>>>,
}

impl Shape {
    /// The measures for a drawing so many points from the middle to the rim, with gaps that stay open.
    ///
    /// `depth` is how many rings there are: stalls alone, stalls and shelves, or words too.
    #[must_use]
    pub fn of_points(depth: usize, points: f64) -> Self {
        let gap = (1.1 / points).max(0.012);
        let ends: &[f64] = match depth {
            0 | 1 => &[0.26, 1.0],
            2 => &[0.22, 0.62, 1.0],
            _ => &[0.17, 0.53, 0.78, 1.0],
        };
        Self {
            hub: ends[0],
            rings: ends.windows(2).map(|it| [it[0] + gap, it[1]]).collect(),
            half_lane: (0.72 / points).max(0.009),
            rows: 1,
        }
    }
}

impl Round {
    /// Lays out stalls clockwise from the top, each as wide as what stands outermost in it.
    #[must_use]
    pub fn new(stalls: &[Sector], shape: Shape) -> Self {
        let mut round = Self {
            spans: spans(stalls, &shape),
            pieces: Vec::new(),
            standing: vec![vec![Vec::new(); shape.rings.len()]; stalls.len()],
            shape,
        };
        for (index, stall) in stalls.iter().enumerate() {
            round.put(stall, &[index], 0, [0.0, 1.0]);
        }
        round
    }

    /// Puts a sector and all behind it in place.
    fn put(&mut self, sector: &Sector, way: &[usize], ring: usize, share: [f64; 2]) {
        if ring >= self.shape.rings.len() {
            return;
        }
        self.standing[way[0]][ring].push(self.pieces.len());
        self.pieces.push(Piece {
            label: sector.label.clone(),
            sign: sector.sign.clone(),
            hue: sector.hue,
            heat: sector.heat,
            way: way.to_owned(),
            ring,
            share,
        });
        let outermost = sector.behind.iter().all(|it| it.behind.is_empty());
        let rows = if outermost { self.shape.rows.max(1) } else { 1 };
        for row in 0..rows {
            // The outer rows have more room, so they take what is left over.
            let count = (sector.behind.len() + row) / rows;
            let before: usize = (0..row).map(|it| (sector.behind.len() + it) / rows).sum();
            let here = &sector.behind[before..before + count];
            let all: usize = here.iter().map(width_of).sum();
            let mut from = share[0];
            for (index, it) in here.iter().enumerate() {
                let part = width_of(it) as f64 / all as f64;
                let to = from + part * (share[1] - share[0]);
                let mut there = way.to_owned();
                there.push(before + index);
                self.put(it, &there, ring + 1 + row, [from, to]);
                from = to;
            }
        }
    }

    /// The measures.
    #[must_use]
    pub const fn shape(&self) -> &Shape {
        &self.shape
    }

    /// Every piece, each before what stands behind it.
    #[must_use]
    pub fn pieces(&self) -> &[Piece] {
        &self.pieces
    }

    /// The middles of the lanes to both sides of a stall, clockwise from the top in radians.
    #[must_use]
    pub fn lanes(&self, stall: usize) -> [f64; 2] {
        self.spans[stall]
    }

    /// Where a piece begins and ends at so many radii from the middle, clockwise from the top in
    /// radians. Lanes have one width everywhere, so the edges beside them are no rays.
    #[must_use]
    pub fn edges(&self, piece: &Piece, radius: f64) -> [f64; 2] {
        let [from, to] = self.open(piece.way[0], radius);
        piece.share.map(|share| from + share * (to - from))
    }

    /// From where to where a stall reaches between its lanes.
    fn open(&self, stall: usize, radius: f64) -> [f64; 2] {
        let [from, to] = self.spans[stall];
        let lane = (self.shape.half_lane / radius).clamp(0.0, 1.0).asin();
        [from + lane, to - lane]
    }

    /// The piece at a point: radii from the middle, and radians clockwise from the top, not below 0.
    /// None in a lane, in a gap between rings, in the hub and outside.
    #[must_use]
    pub fn at(&self, radius: f64, angle: f64) -> Option<usize> {
        let within = |it: &[f64; 2]| it[0] <= radius && radius <= it[1];
        let ring = self.shape.rings.iter().position(within)?;
        let stall = self.spans.iter().position(|it| angle < it[1])?;
        let [from, to] = self.open(stall, radius);
        let share = (angle - from) / (to - from);
        let here = self.standing[stall][ring].iter();
        let holds = |it: &&usize| {
            let [from, to] = self.pieces[**it].share;
            from <= share && share <= to
        };
        here.copied().find(|it| holds(&it))
    }

    /// How wide a piece is half-way through its ring, in radii.
    #[must_use]
    pub fn width(&self, piece: &Piece) -> f64 {
        let [inner, outer] = self.shape.rings[piece.ring];
        let radius = f64::midpoint(inner, outer);
        let [from, to] = self.edges(piece, radius);
        radius * (to - from)
    }
}

/// How many outermost pieces a sector holds; a sector with nothing behind it is one.
fn width_of(sector: &Sector) -> usize {
    let behind: usize = sector.behind.iter().map(width_of).sum();
    behind.max(1)
}

/// The middles of the lanes beside each stall; every lane takes its width, and the stalls share the rest.
fn spans(stalls: &[Sector], shape: &Shape) -> Vec<[f64; 2]> {
    // Where the lanes are counted: half-way to the rim.
    let lane = 2.0 * (shape.half_lane / 0.5).min(1.0).asin();
    let all: usize = stalls.iter().map(width_of).sum();
    let rest = (TAU - lane * stalls.len() as f64).max(0.0);
    let mut from = 0.0;
    let spans = stalls.iter().map(|it| {
        let to = from + lane + rest * width_of(it) as f64 / all.max(1) as f64;
        let span = [from, to];
        from = to;
        span
    });
    spans.collect()
}

#[cfg(test)]
pub(in crate::drawing) mod tests {
    use super::*;

    /// A market of as many stalls, shelves and words as given.
    pub(in crate::drawing) fn market(words: &[&[usize]]) -> Vec<Sector> {
        let sector = |label: String, hue, behind| Sector {
            sign: label.clone(),
            label,
            hue,
            heat: None,
            behind,
        };
        let stall = |(hue, shelves): (usize, &&[usize])| {
            let shelf = |(at, count): (usize, &usize)| {
                let word = |it| sector(format!("word {hue} {at} {it}"), hue, Vec::new());
                let words = (0..*count).map(word).collect();
                sector(format!("shelf {hue} {at}"), hue, words)
            };
            let shelves = shelves.iter().enumerate().map(shelf).collect();
            sector(format!("{}", hue + 1), hue, shelves)
        };
        words.iter().enumerate().map(stall).collect()
    }

    fn shape() -> Shape {
        Shape {
            hub: 0.2,
            rings: vec![[0.22, 0.4], [0.42, 0.6], [0.62, 0.8], [0.81, 1.0]],
            half_lane: 0.02,
            rows: 2,
        }
    }

    const WORDS: [&[usize]; 3] = [&[5, 6, 3], &[4, 1], &[6, 6, 6, 5]];

    #[test]
    fn no_point_belongs_to_two_pieces_and_every_piece_holds_its_own_middle() {
        let round = Round::new(&market(&WORDS), shape());
        for (index, piece) in round.pieces().iter().enumerate() {
            let [inner, outer] = round.shape().rings[piece.ring];
            let radius = f64::midpoint(inner, outer);
            let [from, to] = round.edges(piece, radius);
            assert!(from < to, "{piece:?}");
            assert_eq!(round.at(radius, f64::midpoint(from, to)), Some(index));
            for (other, another) in round.pieces().iter().enumerate() {
                if other == index || another.ring != piece.ring {
                    continue;
                }
                for radius in [inner, radius, outer] {
                    let [from, to] = round.edges(piece, radius);
                    let [begins, ends] = round.edges(another, radius);
                    let apart = ends <= from + 1e-12 || to <= begins + 1e-12;
                    assert!(apart, "{piece:?} and {another:?} at {radius}");
                }
            }
        }
    }

    #[test]
    fn lanes_stay_empty_and_keep_their_width_from_the_hub_to_the_rim() {
        let round = Round::new(&market(&WORDS), shape());
        for stall in 0..3 {
            let [lane, _] = round.lanes(stall);
            for step in 0..=40 {
                let along = 0.21 + 0.79 * f64::from(step) / 40.0;
                for aside in [-0.0199, -0.01, 0.0, 0.01, 0.0199] {
                    // A point so far along the lane's middle and so far beside it, by Pythagoras.
                    let radius = f64::hypot(along, aside);
                    let angle = (lane + f64::atan2(aside, along)).rem_euclid(TAU);
                    assert_eq!(round.at(radius, angle), None, "{stall} {along} {aside}");
                }
            }
            let beside = f64::atan2(0.021, 0.3);
            assert!(round.at(f64::hypot(0.3, 0.021), lane + beside).is_some());
        }
    }

    #[test]
    fn every_word_has_one_place_and_words_of_one_shelf_are_dealt_over_two_rows() {
        let round = Round::new(&market(&WORDS), shape());
        let words: Vec<&Piece> = round.pieces().iter().filter(|it| it.ring > 1).collect();
        // 14 + 5 + 23 words, counted by hand.
        assert_eq!(words.len(), 42);
        let of_shelf = |way: [usize; 2], ring| {
            let here = words
                .iter()
                .filter(|it| it.way[..2] == way && it.ring == ring);
            here.count()
        };
        assert_eq!((of_shelf([0, 0], 2), of_shelf([0, 0], 3)), (2, 3));
        assert_eq!((of_shelf([0, 1], 2), of_shelf([0, 1], 3)), (3, 3));
        assert_eq!((of_shelf([1, 1], 2), of_shelf([1, 1], 3)), (0, 1));
    }

    #[test]
    fn the_stalls_go_once_round() {
        let round = Round::new(&market(&WORDS), shape());
        assert!(round.lanes(0)[0].abs() < 1e-12);
        assert!((round.lanes(2)[1] - TAU).abs() < 1e-9);
        assert!((round.lanes(0)[1] - round.lanes(1)[0]).abs() < 1e-12);
    }
}
