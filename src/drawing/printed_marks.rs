//! What stands too near to the edge of a page, for tests of whatever is printed.

use crate::drawing::Anchor;
use crate::drawing::Printed;
use crate::drawing::Sheet;
use crate::drawing::Type;
use crate::drawing::text_width;

/// What reaches nearer to an edge of the page than `margin` mm, in words.
pub(crate) fn beyond_margins(sheet: &Sheet, margin: f64) -> Vec<String> {
    // A hundredth of a mm is what rounding may take.
    let inside = |[x, y]: [f64; 2]| {
        let within = |it: f64, size: f64| it > margin - 0.01 && it < size - margin + 0.01;
        within(x, sheet.size[0]) && within(y, sheet.size[1])
    };
    let beyond = sheet.printed.iter().filter_map(|it| {
        let corners = corners(it);
        let out = corners.iter().find(|it| !inside(**it))?;
        Some(format!("{} at {out:?}", name(it)))
    });
    beyond.collect()
}

fn name(it: &Printed) -> String {
    match it {
        Printed::Text { text, .. } => format!("“{text}”"),
        Printed::Shape { .. } => "a shape".to_owned(),
        Printed::Picture { .. } => "a picture".to_owned(),
    }
}

/// The corners of what holds a mark.
fn corners(it: &Printed) -> Vec<[f64; 2]> {
    match it {
        Printed::Text {
            at,
            text,
            set,
            degrees,
        } => text_corners(*at, text, *set, *degrees),
        Printed::Shape { outline, .. } => outline.corners(),
        Printed::Picture {
            at: [x, y],
            size: [width, height],
            ..
        } => vec![[*x, *y], [x + width, y + height]],
    }
}

/// Letters reach from a fifth of their size below the base line to nine tenths above it.
fn text_corners([x, y]: [f64; 2], text: &str, set: Type, degrees: f64) -> Vec<[f64; 2]> {
    let wide = set.size * text_width(text, set.weight);
    let from = match set.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -wide / 2.0,
        Anchor::End => -wide,
    };
    let (sin, cos) = degrees.to_radians().sin_cos();
    let turned = |right: f64, down: f64| {
        [
            right.mul_add(cos, x) - down * sin,
            right.mul_add(sin, y) + down * cos,
        ]
    };
    let (above, below) = (-0.9 * set.size, 0.2 * set.size);
    [from, from + wide]
        .iter()
        .flat_map(|right| [turned(*right, above), turned(*right, below)])
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Outline;
    use crate::drawing::Paper;
    use crate::drawing::Pen;
    use crate::drawing::printed_texts;

    #[test]
    fn a_text_or_shape_that_reaches_into_the_margin_is_told() {
        let mut sheet = Sheet::new("", Paper::A4);
        sheet.text([20.0, 20.0], "inside", Type::of(4.0));
        sheet.text([199.0, 20.0], "too long", Type::of(4.0));
        sheet.turned([20.0, 285.0], 90.0, "turned down", Type::of(4.0));
        sheet.draw(Outline::stroke([20.0, 5.0], [30.0, 5.0]), Pen::of(0.2));
        let beyond = beyond_margins(&sheet, 10.0);
        assert_eq!(beyond.len(), 3, "{beyond:?}");
        assert_eq!(printed_texts(&sheet), ["inside", "too long", "turned down"]);
    }
}
