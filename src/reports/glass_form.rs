//! The questions on one glass, on paper, with a box for every digit and lines for every word.

use crate::domain::Field;
use crate::domain::Form;
use crate::domain::Measure;
use crate::domain::Scale;
use crate::domain::Stage;
use crate::drawing::Flow;
use crate::drawing::HAIR;
use crate::drawing::HEADING;
use crate::drawing::Outline;
use crate::drawing::SMALL;
use crate::drawing::TEXT;

/// What a digit means, and what a blank does.
pub(super) const HOW: &str = "Alone and without talking. One digit each from 0 to 9; leave it blank if you do not know, a dash if you cannot tell. Behind each word, how strong it is: 1 only just there, 3 light, 5 clear, 7 strong.";

/// The height of a scale with its box, mm.
const SCALE_ROW: f64 = 10.5;
/// The height of a line for words, mm.
const WORDS_ROW: f64 = 11.0;

/// A part of the questions that stands together.
enum Block {
    /// A line for words.
    Words(&'static str),
    /// Scales, two beside each other.
    Scales(Vec<&'static Scale>),
}

/// The questions on a glass, under its name; a glass begins on a page of its own where it does not fit.
pub(super) fn glass_form(flow: &mut Flow, glass: &str, form: Form) {
    let blocks = blocks(form);
    flow.keep(form_height(&blocks).min(200.0));
    flow.heading(glass);
    for block in &blocks {
        match block {
            Block::Words(label) => {
                let width = flow.width();
                let [x, y] = flow.room(WORDS_ROW);
                flow.sheet().write_line([x, y + 8.0], label, x + width);
            }
            Block::Scales(scales) => {
                flow.gap(1.0);
                for pair in scales.chunks(2) {
                    scale_row(flow, pair);
                }
            }
        }
    }
}

fn form_height(blocks: &[Block]) -> f64 {
    let heights = blocks.iter().map(|it| match it {
        Block::Words(_) => WORDS_ROW,
        Block::Scales(scales) => scales.len().div_ceil(2) as f64 * SCALE_ROW + 1.0,
    });
    heights.sum::<f64>() + 12.0
}

/// The questions of a form in their order; neighbouring scales stand together.
fn blocks(form: Form) -> Vec<Block> {
    let mut blocks: Vec<Block> = Vec::new();
    for field in form.fields() {
        match field {
            Field::FirstSniff => blocks.push(Block::Words("first sniff")),
            Field::Words(Stage::Aroma) => blocks.push(Block::Words("what you smell")),
            Field::Words(_) => blocks.push(Block::Words("what you taste")),
            Field::Remark => blocks.push(Block::Words("anything else")),
            // It takes a watch, and the one who pours is busy: asked on the screen alone.
            Field::Scale(scale) if scale.id != "head-retention" => match blocks.last_mut() {
                Some(Block::Scales(scales)) => scales.push(scale),
                _ => blocks.push(Block::Scales(vec![scale])),
            },
            _ => {}
        }
    }
    blocks
}

/// One or two scales beside each other, each with its box.
fn scale_row(flow: &mut Flow, scales: &[&Scale]) {
    let half = flow.width() / 2.0;
    let [x, y] = flow.room(SCALE_ROW);
    let sheet = flow.sheet();
    for (index, scale) in scales.iter().enumerate() {
        let from = (index as f64).mul_add(half + 2.0, x);
        sheet.pen_box([from, y + 1.0], [9.0, 8.0]);
        sheet.text([from + 11.5, y + 4.4], scale.word, TEXT.bold());
        sheet.text([from + 11.5, y + 8.4], &ends(scale), SMALL);
    }
    let below = y + SCALE_ROW - 0.2;
    let across = Outline::stroke([x, below], [2.0f64.mul_add(half, x), below]);
    sheet.draw(across, HAIR);
}

/// What the first and the last digit mean.
pub(super) fn ends(scale: &Scale) -> String {
    let first = match scale.measure {
        Measure::Choice { .. } => 1,
        Measure::Intensity | Measure::Amount { .. } => 0,
    };
    let last = (0..=9).rev().find(|it| scale.value_of_digit(*it).is_some());
    let last = last.unwrap_or(9);
    format!("{first} {}, {last} {}", scale.low, scale.high)
}

/// Name, day and nose, as every sheet begins.
pub(super) fn head(flow: &mut Flow, name: Option<&str>, under: &str) {
    let width = flow.width();
    let [from, base] = if let Some(name) = name {
        flow.title(name);
        flow.paragraph(under, HEADING);
        let [x, y] = flow.room(11.0);
        flow.sheet().write_line([x, y + 8.0], "Day", x + 50.0);
        [x + 58.0, y + 8.0]
    } else {
        flow.title(under);
        let [x, y] = flow.room(19.0);
        let sheet = flow.sheet();
        sheet.write_line([x, y + 6.0], "Name", x + 110.0);
        sheet.write_line([x + 118.0, y + 6.0], "Day", x + width);
        [x, y + 16.0]
    };
    let sheet = flow.sheet();
    sheet.text([from, base], "My nose:", TEXT);
    let mut next = from + 18.0;
    for word in ["fine", "a cold", "after a meal", "tired"] {
        next = sheet.tick([next, base], word);
    }
    flow.gap(2.0);
}
