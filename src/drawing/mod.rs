//! Numbers in, a scene out, as terminal cells or SVG; it knows no beer.

mod dumbbell;
mod ink;
mod safe_text;
mod sentence;
mod table;
mod wrap;

pub use dumbbell::Dumbbell;
pub use ink::{Ink, Line, Span};
pub use safe_text::safe_cell;
pub use safe_text::safe_text;
pub use sentence::{capitalised, uncapitalised};
pub use table::table;
pub use wrap::{width, wrap};
