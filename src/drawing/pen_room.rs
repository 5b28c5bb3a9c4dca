//! Where a pen goes on a page: boxes to tick, boxes for a digit, lines to write on, lines to cut along.

use crate::drawing::BOX_PEN;
use crate::drawing::Outline;
use crate::drawing::Pen;
use crate::drawing::SMALL;
use crate::drawing::Sheet;
use crate::drawing::TEXT;
use crate::drawing::text_width;

/// A line to write on.
const WRITE_PEN: Pen = Pen::of(0.25);
/// A line to cut along.
const CUT_PEN: Pen = Pen::of(0.2).dashed(2.0, 1.5);
/// The side of a box to tick, mm.
const TICK: f64 = 4.5;

impl Sheet {
    /// A box to tick whose lower edge stands on the base line, with a word behind it; gives where the
    /// next one may begin.
    pub fn tick(&mut self, [x, base]: [f64; 2], word: &str) -> f64 {
        let at = [x, base - TICK + 0.6];
        self.draw(Outline::rectangle(at, [TICK, TICK]), BOX_PEN);
        self.text([x + TICK + 1.8, base], word, TEXT);
        TEXT.size
            .mul_add(text_width(word, TEXT.weight), x + TICK + 1.8)
            + 6.0
    }

    /// A box for a digit or two.
    pub fn pen_box(&mut self, at: [f64; 2], size: [f64; 2]) {
        self.draw(Outline::rectangle(at, size), BOX_PEN);
    }

    /// A line to write on, up to there, behind its label.
    pub fn write_line(&mut self, [x, base]: [f64; 2], label: &str, end: f64) {
        self.text([x, base], label, TEXT);
        let wide = TEXT.size * text_width(label, TEXT.weight);
        let from = x + wide + if label.is_empty() { 0.0 } else { 2.0 };
        let line = Outline::stroke([from, base + 0.8], [end.max(from), base + 0.8]);
        self.draw(line, WRITE_PEN);
    }

    /// A line to write on with its label small beneath.
    pub fn labelled_line(&mut self, [x, base]: [f64; 2], label: &str, end: f64) {
        self.draw(Outline::stroke([x, base], [end, base]), WRITE_PEN);
        self.text([x, base + 3.4], label, SMALL);
    }

    /// A line to cut along, from there to there, with scissors at its beginning.
    pub fn cut_line(&mut self, from: [f64; 2], to: [f64; 2]) {
        self.draw(Outline::stroke([from[0] + 5.0, from[1]], to), CUT_PEN);
        self.text([from[0], from[1] + 1.4], "✂", TEXT);
    }

    /// The border of something that is cut out.
    pub fn cut_border(&mut self, at: [f64; 2], size: [f64; 2]) {
        let [left, top] = at;
        let [right, bottom] = [left + size[0], top + size[1]];
        // Each from the left or the top, so that the dashes of two neighbours lie on each other.
        for [from, to] in [
            [[left, top], [right, top]],
            [[left, bottom], [right, bottom]],
            [[left, top], [left, bottom]],
            [[right, top], [right, bottom]],
        ] {
            self.draw(Outline::stroke(from, to), CUT_PEN);
        }
    }
}
