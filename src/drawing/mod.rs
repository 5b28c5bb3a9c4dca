//! Numbers in, a scene out, as terminal cells or SVG; it knows no beer.

mod dumbbell;
mod flow;
mod ink;
mod installed_face;
mod label_sheet;
mod letter_width;
mod outline;
mod paper;
mod pen_room;
mod poster;
mod poster_label;
mod poster_round;
mod printed_marks;
mod round;
mod round_cells;
mod round_labels;
mod round_raster;
mod safe_text;
mod sentence;
mod sheet;
mod svg;
mod table;
mod tint;
mod typeface;
mod wrap;

pub use dumbbell::Dumbbell;
pub use flow::{BOX_PEN, CUT, Column, Flow, HAIR, HEADING, MARGIN, QUIET_INK, SMALL, TEXT, TITLE};
pub use ink::{Ink, Line, Span, Tile};
pub use installed_face::InstalledFace;
pub use label_sheet::{Edges, LABEL_SHEETS, LabelSheet};
pub use outline::{Outline, Step, on_circle};
pub use paper::Paper;
pub use poster::Poster;
pub use printed_marks::{beyond_margins, printed_texts};
pub use round::{Piece, Round, Sector, Shape};
pub use round_cells::RoundView;
pub use safe_text::safe_cell;
pub use safe_text::safe_text;
pub use sentence::{capitalised, uncapitalised};
pub use sheet::{Anchor, BLACK_INK, LINE_INK, Pen, PictureKind, Printed, Rgb, Sheet, Type};
pub use svg::svg;
pub use table::table;
pub use tint::{HEAT_STEPS, Shade, Tint, heat_step, oklch};
pub use typeface::{
    Face, FaceRun, LINE_PITCH, Weight, face_runs, set_lines, text_width, unprintable,
};
pub use wrap::{width, wrap};
