//! The few words of SVG that a poster needs; lengths in mm.

use std::fmt::Write;

/// The typeface of a poster: whichever sans-serif is there.
pub(super) const TYPEFACE: &str = "Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif";

/// A document that is being written.
#[derive(Debug, Clone, Default)]
pub(super) struct Svg(String);

/// How a text is set.
#[derive(Debug, Clone, Copy)]
pub(super) struct Type {
    /// The size of the letters, mm.
    pub(super) size: f64,
    /// `normal` or `bold`.
    pub(super) weight: &'static str,
    /// `start`, `middle` or `end`.
    pub(super) anchor: &'static str,
}

impl Svg {
    /// A page of this size.
    pub(super) fn page(title: &str, [width, height]: [f64; 2]) -> Self {
        let mut svg = Self::default();
        svg.put(&format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
             viewBox=\"0 0 {width} {height}\" font-family=\"{TYPEFACE}\">"
        ));
        svg.put(&format!("<title>{}</title>", escaped(title)));
        svg.put(&format!(
            "<rect width=\"{width}\" height=\"{height}\" fill=\"#ffffff\"/>"
        ));
        svg
    }

    /// Opens a group whose middle of coordinates lies there.
    pub(super) fn open_at(&mut self, [x, y]: [f64; 2]) {
        self.put(&format!("<g transform=\"translate({x:.3} {y:.3})\">"));
    }

    /// Closes the group that was opened last.
    pub(super) fn close(&mut self) {
        self.put("</g>");
    }

    /// A closed shape with a border.
    pub(super) fn shape(&mut self, path: &str, fill: [u8; 3]) {
        let fill = hexadecimal(fill);
        self.put(&format!(
            "<path d=\"{path}\" fill=\"{fill}\" stroke=\"#333333\" stroke-width=\"0.13\" stroke-linejoin=\"round\"/>"
        ));
    }

    /// A closed border round other shapes.
    pub(super) fn frame(&mut self, path: &str) {
        self.put(&format!(
            "<path d=\"{path}\" fill=\"none\" stroke=\"#333333\" stroke-width=\"0.28\" stroke-linejoin=\"round\"/>"
        ));
    }

    /// A circle with a border.
    pub(super) fn circle(&mut self, [x, y]: [f64; 2], radius: f64) {
        self.put(&format!(
            "<circle cx=\"{x:.3}\" cy=\"{y:.3}\" r=\"{radius:.3}\" fill=\"#ffffff\" stroke=\"#333333\" stroke-width=\"0.2\"/>"
        ));
    }

    /// A line of text.
    pub(super) fn text(&mut self, [x, y]: [f64; 2], text: &str, set: Type) {
        self.turned([x, y], 0.0, text, set);
    }

    /// A line of text in coordinates turned clockwise by so many degrees.
    pub(super) fn turned(&mut self, [x, y]: [f64; 2], degrees: f64, text: &str, set: Type) {
        let turn = if degrees == 0.0 {
            String::new()
        } else {
            format!(" transform=\"rotate({degrees:.3})\"")
        };
        let Type {
            size,
            weight,
            anchor,
        } = set;
        self.put(&format!(
            "<text x=\"{x:.3}\" y=\"{y:.3}\" font-size=\"{size:.2}\" font-weight=\"{weight}\" \
             text-anchor=\"{anchor}\"{turn}>{}</text>",
            escaped(text)
        ));
    }

    /// The whole document.
    pub(super) fn end(mut self) -> String {
        self.put("</svg>");
        self.0
    }

    fn put(&mut self, line: &str) {
        // Writing into a String cannot fail, and the result says nothing else.
        writeln!(self.0, "{line}").unwrap_or_default();
    }
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
