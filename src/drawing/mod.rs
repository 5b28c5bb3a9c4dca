//! Numbers in, a scene out, as terminal cells or SVG; it knows no beer.

mod colour_strips;
mod dumbbell;
mod dumbbells;
mod field;
mod flow;
mod flow_parts;
mod ink;
mod installed_face;
mod label_sheet;
mod outline;
mod paper;
mod pen_room;
mod picture;
mod poster;
mod poster_label;
mod poster_round;
#[cfg(test)]
mod printed_marks;
mod reliability;
mod round;
mod round_cells;
mod round_labels;
mod round_raster;
mod round_sheet;
mod run_chart;
mod safe_text;
mod sentence;
mod share_grid;
mod sheet;
mod svg;
mod table;
mod tint;
mod typeface;
mod wrap;

pub use colour_strips::{ColourStrip, ColourStrips};
pub use dumbbell::Dumbbell;
pub use dumbbells::{DumbbellGroup, DumbbellRow, DumbbellSigns, Dumbbells};
pub use flow::{BOX_PEN, CUT, Column, Flow, HAIR, HEADING, MARGIN, QUIET_INK, SMALL, TEXT, TITLE};
pub use flow_parts::{BESIDE, TreeRow};
pub use ink::{Ink, Line, Span, Tile};
pub use installed_face::InstalledFace;
pub use label_sheet::{Edges, LABEL_SHEETS, LabelSheet};
pub use outline::{Outline, Step, on_circle};
pub use paper::Paper;
pub use picture::{CellRoom, Picture, framed, stacked};
pub use poster::Poster;
#[cfg(test)]
pub(crate) use printed_marks::beyond_margins;
pub use reliability::{Reliability, SaidChance};
pub use round::{Piece, Round, Sector, Shape};
pub use round_cells::RoundView;
pub use round_sheet::round_sheet;
pub use run_chart::{RunChart, RunPoint};
pub use safe_text::safe_cell;
pub use safe_text::safe_text;
pub use sentence::{capitalised, uncapitalised};
pub use share_grid::{ShareGrid, ShareRow};
pub use sheet::{Anchor, BLACK_INK, LINE_INK, Pen, Printed, Rgb, Sheet, Type, printed_texts};
pub use svg::svg;
pub use table::table;
pub use tint::{HEAT_STEPS, Shade, Tint, heat_step, oklch};
pub use typeface::{
    Face, FaceRun, LINE_PITCH, Weight, face_runs, set_lines, text_width, unprintable,
};
pub use wrap::{width, wrap};
