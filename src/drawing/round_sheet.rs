//! A small round on paper: stalls and shelves, without the words, which nobody could read there.

use crate::drawing::Outline;
use crate::drawing::Pen;
use crate::drawing::Round;
use crate::drawing::Sector;
use crate::drawing::Shape;
use crate::drawing::Sheet;
use crate::drawing::poster_round::PosterRound;

/// Stalls and shelves as a round that is so many mm wide and high; the depth of colour is their heat.
#[must_use]
pub fn round_sheet(stalls: &[Sector], width: f64) -> Sheet {
    let stalls: Vec<Sector> = stalls.iter().map(without_words).collect();
    let shape = Shape {
        hub: 0.16,
        rings: vec![[0.19, 0.57], [0.585, 0.998]],
        half_lane: 0.012,
        rows: 1,
    };
    let hub = shape.hub;
    let middle = [width / 2.0; 2];
    let round = Round::new(&stalls, shape);
    let drawn = PosterRound {
        round: &round,
        middle,
        radius: width / 2.0,
        hues: stalls.len(),
        is_heated: true,
    };
    let mut sheet = Sheet::sized("", [width; 2]);
    drawn.draw(&mut sheet);
    let circle = Outline::circle(middle, hub * width / 2.0);
    sheet.shape(circle, Some([0xff; 3]), Some(Pen::of(0.2)));
    sheet
}

fn without_words(stall: &Sector) -> Sector {
    let bare = |shelf: &Sector| Sector {
        behind: Vec::new(),
        ..shelf.clone()
    };
    Sector {
        behind: stall.behind.iter().map(bare).collect(),
        ..stall.clone()
    }
}
