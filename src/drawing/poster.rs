//! A round as a poster, to print on one sheet and hang on a wall; it is read in colour and in grey.

use crate::drawing::HEAT_STEPS;
use crate::drawing::Outline;
use crate::drawing::Paper;
use crate::drawing::Pen;
use crate::drawing::Round;
use crate::drawing::Sector;
use crate::drawing::Shape;
use crate::drawing::Sheet;
use crate::drawing::Type;
use crate::drawing::Weight;
use crate::drawing::oklch;
use crate::drawing::poster_label::printed_width;
use crate::drawing::poster_round::PosterRound;
use crate::drawing::set_lines;

/// All that is printed.
#[derive(Debug, Clone)]
pub struct Poster<'a> {
    /// The sheet.
    pub paper: Paper,
    /// The heading.
    pub title: &'a str,
    /// How to read it, in a sentence or two.
    pub how: &'a str,
    /// What each of the three rings is, from the hub outwards: a heading and a question.
    pub rings: [[&'a str; 2]; 3],
    /// What stands in the hub, under its heading, which comes first.
    pub hub: &'a [&'a str],
    /// The stalls with their shelves and words, clockwise from the top.
    pub stalls: &'a [Sector],
    /// What the depth of colour says: of what, for nothing known, for least, and for most; none
    /// where no heat is shown.
    pub heat: Option<[&'a str; 4]>,
}

/// The radius of the round, mm.
const RADIUS: f64 = 99.0;
/// The margin of the sheet, mm.
const MARGIN: f64 = 8.0;
/// The heights of what stands above and below the round, mm.
const ABOVE: f64 = 33.0;
const BELOW: f64 = 40.0;

/// The measures of the round on a sheet.
pub(super) fn poster_shape() -> Shape {
    Shape {
        hub: 0.152,
        rings: vec![
            [0.174, 0.384],
            [0.396, 0.568],
            [0.58, 0.7885],
            [0.7905, 1.0],
        ],
        half_lane: 0.0125,
        rows: 2,
    }
}

/// The colours of a step of heat on paper: light, so that black letters are read on every one.
pub(super) const fn paper_heat(step: usize) -> [f32; 2] {
    match step {
        0 => [0.985, 0.004],
        1 => [0.94, 0.03],
        2 => [0.88, 0.065],
        3 => [0.81, 0.095],
        _ => [0.73, 0.12],
    }
}

impl Poster<'_> {
    /// The whole page.
    #[must_use]
    pub fn sheet(&self) -> Sheet {
        let [width, height] = self.paper.size();
        let mut sheet = Sheet::new(self.title, self.paper);
        self.heading(&mut sheet);
        let middle = [width / 2.0, ABOVE + (height - ABOVE - BELOW) / 2.0];
        let round = Round::new(self.stalls, poster_shape());
        let drawn = PosterRound {
            round: &round,
            middle,
            radius: RADIUS,
            hues: self.stalls.len(),
            is_heated: self.heat.is_some(),
        };
        drawn.draw(&mut sheet);
        self.hub(&mut sheet, middle);
        self.legend(&mut sheet);
        sheet
    }

    fn heading(&self, sheet: &mut Sheet) {
        let [width, _] = self.paper.size();
        let room = width - 2.0 * MARGIN;
        // A long name makes the letters smaller.
        let wide = printed_width(self.title, Type::of(1.0).bold().weight);
        let size = (room / wide.max(1.0)).min(9.0);
        sheet.text([MARGIN, 16.0], self.title, Type::of(size).bold());
        let how = Type::of(3.6);
        for (row, line) in set_lines(self.how, how.size, how.weight, room)
            .iter()
            .enumerate()
        {
            sheet.text([MARGIN, 23.0 + 4.8 * row as f64], line, how);
        }
    }

    /// The hub: its heading, and the names below it dealt over a circle.
    fn hub(&self, sheet: &mut Sheet, middle: [f64; 2]) {
        let radius = poster_shape().hub * RADIUS;
        circle(sheet, middle, radius);
        let sizes = (0..20_u8).map(|step| 2.7 - 0.1 * f64::from(step));
        let lines = sizes.map(|size| (size, dealt(self.hub, size, radius - 1.0)));
        let fitting = lines.filter_map(|(size, lines)| Some((size, lines?)));
        let Some((size, lines)) = { fitting }.next() else {
            return;
        };
        let count = lines.len() as f64;
        for (row, line) in lines.iter().enumerate() {
            let down = (row as f64 - (count - 1.0) / 2.0) * size * HUB_LINE + 0.3 * size;
            let set = Type::of(size).centred();
            let set = if row == 0 { set.bold() } else { set };
            sheet.text([middle[0], middle[1] + down], line, set);
        }
    }

    /// The three rings in words, and the scale of heat.
    fn legend(&self, sheet: &mut Sheet) {
        let [width, height] = self.paper.size();
        let top = height - BELOW + 13.0;
        let column = (width - 2.0 * MARGIN) / 3.0;
        for (index, [heading, question]) in self.rings.iter().enumerate() {
            let left = MARGIN + column * index as f64;
            circle(sheet, [left + 3.2, top - 1.2], 3.2);
            let number = Type::of(4.0).bold().centred();
            sheet.text([left + 3.2, top + 0.2], &(index + 1).to_string(), number);
            let bold = Type::of(3.5).bold();
            sheet.text([left + 8.4, top], heading, bold);
            for (row, line) in set_lines(question, 3.1, Weight::Plain, column - 11.0)
                .iter()
                .enumerate()
            {
                let y = top + 4.6 + 4.0 * row as f64;
                sheet.text([left + 8.4, y], line, Type::of(3.1));
            }
        }
        if let Some(words) = self.heat {
            heat_scale(sheet, words, [MARGIN, height - 9.0]);
        }
    }
}

/// The steps of heat as a row of patches between their words.
fn heat_scale(sheet: &mut Sheet, [of, nothing, least, most]: [&str; 4], [left, y]: [f64; 2]) {
    let set = Type::of(3.1);
    let wide = |text: &str| printed_width(text, set.weight) * set.size;
    sheet.text([left, y], of, set);
    let mut x = left + wide(of) + 3.0;
    for step in 0..=HEAT_STEPS {
        let before = match step {
            0 => nothing,
            1 => least,
            _ => "",
        };
        if !before.is_empty() {
            sheet.text([x, y], before, set);
            x += wide(before) + 1.0;
        }
        let grey = oklch(0, 1, [paper_heat(step)[0], 0.0]);
        sheet.shape(
            Outline::rectangle([x, y - 3.2], [6.0, 4.2]),
            Some(grey),
            Some(Pen::of(0.13)),
        );
        x += if step == 0 { 10.0 } else { 6.0 };
    }
    sheet.text([x + 1.0, y], most, set);
}

/// From line to line in the hub, in letter sizes.
const HUB_LINE: f64 = 1.2;

/// A white circle with a border.
fn circle(sheet: &mut Sheet, middle: [f64; 2], radius: f64) {
    let white = Some([0xff; 3]);
    sheet.shape(Outline::circle(middle, radius), white, Some(Pen::of(0.2)));
}

/// Names dealt over the lines of a circle, the first name alone on the first line; none if they do not fit.
fn dealt(names: &[&str], size: f64, radius: f64) -> Option<Vec<String>> {
    let pitch = size * HUB_LINE;
    let most = (1..60_usize).take_while(|it| *it as f64 * pitch <= 2.0 * radius);
    most.into_iter().find_map(|count| {
        let mut left = names.iter().enumerate().peekable();
        let mut lines = Vec::new();
        for row in 0..count {
            let aside = (row as f64 - (count as f64 - 1.0) / 2.0).abs() * pitch + pitch / 2.0;
            let room = 2.0 * (radius * radius - aside * aside).max(0.0).sqrt();
            let mut line = String::new();
            while let Some((index, name)) = left.peek() {
                let comma = if *index == 0 || index + 1 == names.len() {
                    ""
                } else {
                    ","
                };
                let longer = format!("{line} {name}{comma}").trim_start().to_owned();
                if printed_width(&longer, Weight::Plain) * size > room {
                    break;
                }
                line = longer;
                left.next();
                if row == 0 {
                    break;
                }
            }
            lines.push(line);
        }
        let empty = lines.iter().any(String::is_empty);
        (left.peek().is_none() && !empty).then_some(lines)
    })
}
