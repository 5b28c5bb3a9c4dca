//! A printed page: texts, shapes and pictures in mm from the top left, for whoever writes it as SVG or PDF.

use std::sync::Arc;

use crate::drawing::Outline;
use crate::drawing::Paper;
use crate::drawing::Weight;

/// A colour, as sRGB.
pub type Rgb = [u8; 3];

/// Black.
pub const BLACK_INK: Rgb = [0, 0, 0];
/// The grey of borders.
pub const LINE_INK: Rgb = [0x33, 0x33, 0x33];

/// Which end of a text stands at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Anchor {
    /// Its beginning.
    #[default]
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// How a text is set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Type {
    /// The size of the letters, mm.
    pub size: f64,
    /// How heavy they are.
    pub weight: Weight,
    /// Which end stands at the place.
    pub anchor: Anchor,
    /// Their colour.
    pub ink: Rgb,
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pen {
    /// Its width, mm.
    pub width: f64,
    /// Its colour.
    pub ink: Rgb,
    /// The length of dashes and gaps, mm; none for a whole line.
    pub dashes: Option<[f64; 2]>,
}

/// One thing on a page.
#[derive(Debug, Clone, PartialEq)]
pub enum Printed {
    /// A line of text; it is turned clockwise round its place by so many degrees.
    Text {
        /// Where its base line begins, is in the middle, or ends.
        at: [f64; 2],
        /// The words.
        text: String,
        /// How they are set.
        set: Type,
        /// How far they are turned.
        degrees: f64,
    },
    /// A shape, filled, outlined or both.
    Shape {
        /// Its border.
        outline: Outline,
        /// The colour inside.
        fill: Option<Rgb>,
        /// How the border is drawn.
        pen: Option<Pen>,
    },
    /// A picture, stretched over a rectangle.
    Picture {
        /// The upper left corner.
        at: [f64; 2],
        /// Width and height.
        size: [f64; 2],
        /// The JPEG file.
        bytes: Arc<[u8]>,
    },
}

/// A page.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// What it is, for the window of a viewer.
    pub title: String,
    /// Width and height, mm.
    pub size: [f64; 2],
    /// What stands on it, the lowest first.
    pub printed: Vec<Printed>,
}

impl Type {
    /// Plain black letters of so many mm from the left.
    #[must_use]
    pub const fn of(size: f64) -> Self {
        Self {
            size,
            weight: Weight::Plain,
            anchor: Anchor::Start,
            ink: BLACK_INK,
        }
    }

    /// The same, bold.
    #[must_use]
    pub const fn bold(self) -> Self {
        Self {
            weight: Weight::Bold,
            ..self
        }
    }

    /// The same, round its middle.
    #[must_use]
    pub const fn centred(self) -> Self {
        Self {
            anchor: Anchor::Middle,
            ..self
        }
    }

    /// The same, up to its end.
    #[must_use]
    pub const fn to_the_right(self) -> Self {
        Self {
            anchor: Anchor::End,
            ..self
        }
    }

    /// The same in another colour.
    #[must_use]
    pub const fn inked(self, ink: Rgb) -> Self {
        Self { ink, ..self }
    }
}

impl Pen {
    /// A whole line of this width in the grey of borders.
    #[must_use]
    pub const fn of(width: f64) -> Self {
        Self {
            width,
            ink: LINE_INK,
            dashes: None,
        }
    }

    /// The same, dashed.
    #[must_use]
    pub const fn dashed(self, dash: f64, gap: f64) -> Self {
        Self {
            dashes: Some([dash, gap]),
            ..self
        }
    }

    /// The same in another colour.
    #[must_use]
    pub const fn inked(self, ink: Rgb) -> Self {
        Self { ink, ..self }
    }
}

impl Sheet {
    /// An empty page.
    #[must_use]
    pub fn new(title: &str, paper: Paper) -> Self {
        Self::sized(title, paper.size())
    }

    /// An empty page of any size, mm, such as a picture for a notebook.
    #[must_use]
    pub fn sized(title: &str, size: [f64; 2]) -> Self {
        Self {
            title: title.to_owned(),
            size,
            printed: Vec::new(),
        }
    }

    /// Writes a line of text.
    pub fn text(&mut self, at: [f64; 2], text: &str, set: Type) {
        self.turned(at, 0.0, text, set);
    }

    /// Writes a line of text, turned clockwise round its place by so many degrees.
    pub fn turned(&mut self, at: [f64; 2], degrees: f64, text: &str, set: Type) {
        let text = text.to_owned();
        self.printed.push(Printed::Text {
            at,
            text,
            set,
            degrees,
        });
    }

    /// Fills a shape.
    pub fn fill(&mut self, outline: Outline, fill: Rgb) {
        self.shape(outline, Some(fill), None);
    }

    /// Draws a line along a path.
    pub fn draw(&mut self, outline: Outline, pen: Pen) {
        self.shape(outline, None, Some(pen));
    }

    /// Fills a shape and draws its border.
    pub fn shape(&mut self, outline: Outline, fill: Option<Rgb>, pen: Option<Pen>) {
        self.printed.push(Printed::Shape { outline, fill, pen });
    }

    /// Lays a JPEG picture over a rectangle.
    pub fn picture(&mut self, at: [f64; 2], size: [f64; 2], bytes: Arc<[u8]>) {
        self.printed.push(Printed::Picture { at, size, bytes });
    }

    /// Lays another page on this one, its upper left corner there.
    pub fn lay(&mut self, other: &Self, [right, down]: [f64; 2]) {
        let moved = |[x, y]: [f64; 2]| [x + right, y + down];
        self.printed.extend(other.printed.iter().map(|it| match it {
            Printed::Text {
                at,
                text,
                set,
                degrees,
            } => Printed::Text {
                at: moved(*at),
                text: text.clone(),
                set: *set,
                degrees: *degrees,
            },
            Printed::Shape { outline, fill, pen } => Printed::Shape {
                outline: outline.moved([right, down]),
                fill: *fill,
                pen: *pen,
            },
            Printed::Picture { at, size, bytes } => Printed::Picture {
                at: moved(*at),
                size: *size,
                bytes: Arc::clone(bytes),
            },
        }));
    }
}

/// The texts of a page in the order in which they are printed.
#[must_use]
pub fn printed_texts(sheet: &Sheet) -> Vec<&str> {
    let texts = sheet.printed.iter().filter_map(|it| match it {
        Printed::Text { text, .. } => Some(text.as_str()),
        _ => None,
    });
    texts.collect()
}
