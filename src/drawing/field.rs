//! A field on paper between two axes: where values stand, its frame and its ticks.

use crate::drawing::Anchor;
use crate::drawing::Outline;
use crate::drawing::Pen;
use crate::drawing::Sheet;
use crate::drawing::Type;
use crate::drawing::picture::HAIR_INK;
use crate::drawing::picture::TICK;
use crate::drawing::text_width;

/// Between two words below a field, mm.
const BETWEEN: f64 = 2.0;

/// A field by its edges, mm, and by the values at its edges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Field {
    /// The left and the right edge.
    pub(super) x: [f64; 2],
    /// The bottom and the top edge.
    pub(super) y: [f64; 2],
    /// The values at the left and the right edge.
    pub(super) across: [f64; 2],
    /// The values at the bottom and the top edge.
    pub(super) up: [f64; 2],
}

impl Field {
    /// Where a pair of values stands; what lies beyond an edge stands on it.
    pub(super) fn at(&self, [across, up]: [f64; 2]) -> [f64; 2] {
        let on = |value: f64, [low, high]: [f64; 2], [from, to]: [f64; 2]| {
            let share = if high > low {
                ((value - low) / (high - low)).clamp(0.0, 1.0)
            } else {
                0.5
            };
            from + share * (to - from)
        };
        [on(across, self.across, self.x), on(up, self.up, self.y)]
    }

    /// The left and the bottom edge.
    pub(super) fn frame(&self, sheet: &mut Sheet) {
        let [left, right] = self.x;
        let [bottom, top] = self.y;
        let frame = Outline::from([left, top])
            .line([left, bottom])
            .line([right, bottom]);
        sheet.draw(frame, Pen::of(0.25));
    }

    /// A hair line at a height, with its word at the left.
    pub(super) fn level(&self, sheet: &mut Sheet, up: f64, word: &str) {
        let [_, y] = self.at([self.across[0], up]);
        let line = Outline::stroke([self.x[0], y], [self.x[1], y]);
        sheet.draw(line, Pen::of(0.12).inked(HAIR_INK));
        let set = TICK.to_the_right();
        sheet.text([self.x[0] - 1.5, y + 0.35 * set.size], word, set);
    }

    /// Words below the field, each at its value: the first, the last, and those between that touch none.
    pub(super) fn below(&self, sheet: &mut Sheet, words: &[(f64, String)]) {
        let set = TICK.centred();
        let right = sheet.size[0];
        let reach = |(across, word): &(f64, String)| {
            let [x, _] = self.at([*across, self.up[0]]);
            let half = wide(word, set) / 2.0;
            // At the edges of the picture a word moves inwards.
            let x = x.max(half).min(right - half);
            [x - half, x, x + half]
        };
        let Some((last, before)) = words.split_last() else {
            return;
        };
        let end = reach(last);
        let mut free = f64::NEG_INFINITY;
        for it in before {
            let [from, x, to] = reach(it);
            if from > free && to + BETWEEN < end[0] {
                sheet.text([x, self.y[0] + 4.0], &it.1, set);
                free = to + BETWEEN;
            }
        }
        sheet.text([end[1], self.y[0] + 4.0], &last.1, set);
    }

    /// A line through pairs of values.
    pub(super) fn line(&self, sheet: &mut Sheet, values: &[[f64; 2]], pen: Pen) {
        let mut places = values.iter().map(|it| self.at(*it));
        if let Some(first) = places.next() {
            let outline = places.fold(Outline::from(first), Outline::line);
            sheet.draw(outline, pen);
        }
    }
}

/// A word on white, so that no line crosses it.
pub(super) fn on_white(sheet: &mut Sheet, [x, y]: [f64; 2], word: &str, set: Type) {
    let wide = wide(word, set);
    let left = match set.anchor {
        Anchor::Start => x,
        Anchor::Middle => x - wide / 2.0,
        Anchor::End => x - wide,
    };
    let behind = Outline::rectangle(
        [left - 0.4, y - 0.85 * set.size],
        [wide + 0.8, 1.1 * set.size],
    );
    sheet.fill(behind, [0xff; 3]);
    sheet.text([x, y], word, set);
}

/// How wide a word is, mm.
pub(super) fn wide(word: &str, set: Type) -> f64 {
    set.size * text_width(word, set.weight)
}
