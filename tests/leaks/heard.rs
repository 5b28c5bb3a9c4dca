//! Something that was told, as it is searched.

use crate::kitchen::flat;

/// Something that was told, and where.
pub(crate) struct Heard {
    pub(crate) place: String,
    pub(crate) text: String,
    /// Whether the words of the wheel are looked at there.
    pub(crate) on_the_wheel: bool,
}

impl Heard {
    /// The text with every run of blanks and line breaks as one blank, so that a wrapped word is found.
    pub(crate) fn new(place: impl Into<String>, text: &str) -> Self {
        Self {
            place: place.into(),
            text: flat(text),
            on_the_wheel: false,
        }
    }
}
