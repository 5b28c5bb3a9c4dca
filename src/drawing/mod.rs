//! Numbers in, a scene out, as terminal cells or SVG; it knows no beer.

mod dumbbell;
mod ink;
mod letter_width;
mod poster;
mod poster_label;
mod poster_round;
mod round;
mod round_cells;
mod round_labels;
mod round_raster;
mod safe_text;
mod sentence;
mod svg;
mod table;
mod tint;
mod wrap;

pub use dumbbell::Dumbbell;
pub use ink::{Ink, Line, Span, Tile};
pub use poster::{Paper, Poster};
pub use round::{Piece, Round, Sector, Shape};
pub use round_cells::RoundView;
pub use safe_text::safe_cell;
pub use safe_text::safe_text;
pub use sentence::{capitalised, uncapitalised};
pub use table::table;
pub use tint::{HEAT_STEPS, Shade, Tint, heat_step, oklch};
pub use wrap::{width, wrap};
