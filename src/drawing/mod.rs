//! Numbers in, a scene out, as terminal cells or SVG; it knows no beer.

mod ink;
mod wrap;

pub use ink::{Ink, Line, Span};
pub use wrap::{width, wrap};
