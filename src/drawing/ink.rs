//! What a piece of text on a page means, and the lines made of such pieces; colours are chosen by the terminal side.

use crate::drawing::Tint;

/// A cell of a picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tile {
    /// The colour of the sign; none is the terminal's own.
    pub front: Option<Tint>,
    /// The colour behind it; none is the terminal's own.
    pub back: Option<Tint>,
    /// The sign that stands there where there are no colours.
    pub bare: char,
    /// The sign that stands there where there is nothing but ASCII.
    pub ascii: char,
}

/// The meaning of a piece of text; each front end decides how it looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ink {
    /// Ordinary text.
    Plain,
    /// Text that matters.
    Strong,
    /// Text that helps but can be passed over.
    Quiet,
    /// A heading.
    Title,
    /// What the next key acts on.
    Chosen,
    /// A caution or an error.
    Alert,
    /// Something that went well.
    Good,
    /// A patch of colour, as sRGB.
    Patch([u8; 3]),
    /// A cell of a picture.
    Tile(Tile),
}

/// A piece of text with one meaning.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Span {
    /// The text, one line.
    pub text: String,
    /// Its meaning.
    pub ink: Ink,
}

/// One line of a page.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Line {
    /// Its pieces, from left to right.
    pub spans: Vec<Span>,
}

impl Line {
    /// An empty line.
    #[must_use]
    pub fn blank() -> Self {
        Self::default()
    }

    /// A line of one piece.
    #[must_use]
    pub fn of(ink: Ink, text: impl Into<String>) -> Self {
        Self::blank().and(ink, text)
    }

    /// A line of ordinary text.
    #[must_use]
    pub fn plain(text: impl Into<String>) -> Self {
        Self::of(Ink::Plain, text)
    }

    /// This line with one more piece.
    #[must_use]
    pub fn and(mut self, ink: Ink, text: impl Into<String>) -> Self {
        self.spans.push(Span {
            text: text.into(),
            ink,
        });
        self
    }

    /// The text without its meanings; patches of colour and pictures are left out, since their words stand beside them.
    #[must_use]
    pub fn text(&self) -> String {
        let text: String = self
            .spans
            .iter()
            .filter(|span| !matches!(span.ink, Ink::Patch(_) | Ink::Tile(_)))
            .map(|span| span.text.as_str())
            .collect();
        text.trim_end().to_owned()
    }
}
