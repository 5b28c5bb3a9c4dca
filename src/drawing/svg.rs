//! A page as SVG; lengths in mm.

use std::fmt::Write;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;

use crate::drawing::Anchor;
use crate::drawing::Outline;
use crate::drawing::Pen;
use crate::drawing::Printed;
use crate::drawing::Sheet;
use crate::drawing::Step;
use crate::drawing::Type;
use crate::drawing::Weight;

/// The typefaces of a page, the first that is there; widths were measured on the first.
const TYPEFACES: &str =
    "'Noto Sans', Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif";

/// The whole document.
#[must_use]
pub fn svg(sheet: &Sheet) -> String {
    let [width, height] = sheet.size;
    let mut svg = Lines::default();
    svg.put(&format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
         viewBox=\"0 0 {width} {height}\" font-family=\"{TYPEFACES}\">"
    ));
    svg.put(&format!("<title>{}</title>", escaped(&sheet.title)));
    svg.put(&format!(
        "<rect width=\"{width}\" height=\"{height}\" fill=\"#ffffff\"/>"
    ));
    for it in &sheet.printed {
        svg.put(&printed(it));
    }
    svg.put("</svg>");
    svg.0
}

/// A document that is being written.
#[derive(Debug, Clone, Default)]
struct Lines(String);

impl Lines {
    fn put(&mut self, line: &str) {
        // Writing into a String cannot fail, and the result says nothing else.
        writeln!(self.0, "{line}").unwrap_or_default();
    }
}

/// One thing on the page.
fn printed(it: &Printed) -> String {
    match it {
        Printed::Text {
            at,
            text,
            set,
            degrees,
        } => letters(*at, text, *set, *degrees),
        Printed::Shape { outline, fill, pen } => {
            let fill = fill.map_or_else(|| "none".to_owned(), hexadecimal);
            let pen = pen.map(pen_attributes).unwrap_or_default();
            format!("<path d=\"{}\" fill=\"{fill}\"{pen}/>", path(outline))
        }
        Printed::Picture {
            at: [x, y],
            size: [width, height],
            bytes,
        } => {
            let encoded = STANDARD.encode(bytes);
            format!(
                "<image x=\"{x:.3}\" y=\"{y:.3}\" width=\"{width:.3}\" height=\"{height:.3}\" \
                 href=\"data:image/jpeg;base64,{encoded}\"/>"
            )
        }
    }
}

fn letters([x, y]: [f64; 2], text: &str, set: Type, degrees: f64) -> String {
    let turn = if degrees == 0.0 {
        String::new()
    } else {
        format!(" transform=\"rotate({degrees:.3} {x:.3} {y:.3})\"")
    };
    let weight = match set.weight {
        Weight::Plain => "normal",
        Weight::Bold => "bold",
    };
    let anchor = match set.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let ink = match set.ink {
        [0, 0, 0] => String::new(),
        ink => format!(" fill=\"{}\"", hexadecimal(ink)),
    };
    format!(
        "<text x=\"{x:.3}\" y=\"{y:.3}\" font-size=\"{:.2}\" font-weight=\"{weight}\" \
         text-anchor=\"{anchor}\"{ink}{turn}>{}</text>",
        set.size,
        escaped(text)
    )
}

fn pen_attributes(pen: Pen) -> String {
    let dashes = pen
        .dashes
        .map(|[dash, gap]| format!(" stroke-dasharray=\"{dash:.2} {gap:.2}\""));
    format!(
        " stroke=\"{}\" stroke-width=\"{:.2}\" stroke-linejoin=\"round\"{}",
        hexadecimal(pen.ink),
        pen.width,
        dashes.unwrap_or_default()
    )
}

fn path(outline: &Outline) -> String {
    let step = |it: &Step| match it {
        Step::Move([x, y]) => format!("M{x:.2} {y:.2}"),
        Step::Line([x, y]) => format!("L{x:.2} {y:.2}"),
        Step::Curve(points) => {
            let points = points.map(|[x, y]| format!("{x:.2} {y:.2}"));
            format!("C{}", points.join(" "))
        }
        Step::Close => "z".to_owned(),
    };
    outline.steps().iter().map(step).collect()
}

/// A colour as SVG writes it.
fn hexadecimal([red, green, blue]: [u8; 3]) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}

/// Text with the five signs of XML written out (XML 1.0, 2.4 and 4.6), and without the control
/// characters that no document may hold (2.2).
fn escaped(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for sign in text.chars().filter(|it| !it.is_control()) {
        match sign {
            '&' => plain.push_str("&amp;"),
            '<' => plain.push_str("&lt;"),
            '>' => plain.push_str("&gt;"),
            '"' => plain.push_str("&quot;"),
            '\'' => plain.push_str("&apos;"),
            other => plain.push(other),
        }
    }
    plain
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signs_with_a_meaning_in_xml_are_written_out_and_control_characters_left_out() {
        assert_eq!(
            escaped("a<b> & \"c\" 'd'\u{1b}[0m"),
            "a&lt;b&gt; &amp; &quot;c&quot; &apos;d&apos;[0m"
        );
        assert_eq!(hexadecimal([0, 10, 255]), "#000aff");
    }
}
