//! What every picture can do: stand in cells, and stand on paper, from the same numbers.

use crate::drawing::Line;
use crate::drawing::Rgb;
use crate::drawing::Sheet;
use crate::drawing::Type;
use crate::drawing::set_lines;

/// The room for a picture on a screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CellRoom {
    /// Cells from left to right.
    pub cells: usize,
    /// Rows for what grows with the room, such as bars.
    pub rows: usize,
}

/// Numbers that are seen. Shape carries what colour carries, so that it is read in grey and without colours.
pub trait Picture {
    /// As lines of cells. A terminal that has nothing but ASCII shows the same lines, cell for cell.
    fn lines(&self, room: CellRoom) -> Vec<Line>;

    /// On paper, so many mm wide and as high as it takes; it fills its sheet to the edges.
    fn sheet(&self, width: f64) -> Sheet;
}

/// The size of letters beside marks, mm.
pub(super) const LABEL: Type = Type::of(2.9);
/// The size of letters at the ticks of an axis, mm.
pub(super) const TICK: Type = Type::of(2.6).inked(SOFT_INK);
/// The grey of hair lines.
pub(super) const HAIR_INK: Rgb = [0xa8; 3];
/// The grey of what helps but can be passed over.
pub(super) const SOFT_INK: Rgb = [0x55; 3];
/// The grey of areas.
pub(super) const AREA_INK: Rgb = [0xd6; 3];

/// The margin round a picture that is a page of its own, mm.
const MARGIN: f64 = 6.0;
/// The heading of such a page, and from its top to the next line, mm.
const HEADING: Type = Type::of(4.5).bold();
const BELOW_HEADING: f64 = 6.5;

/// A picture as a page of its own, such as for a notebook: with its heading and a margin on every side.
#[must_use]
pub fn framed(title: &str, picture: &Sheet) -> Sheet {
    let width = picture.size[0] + 2.0 * MARGIN;
    let heading = set_lines(title, HEADING.size, HEADING.weight, picture.size[0]);
    let above = MARGIN + BELOW_HEADING * heading.len() as f64;
    let mut sheet = Sheet::sized(title, [width, above + picture.size[1] + MARGIN]);
    for (row, line) in heading.iter().enumerate() {
        let down = MARGIN + 4.0 + BELOW_HEADING * row as f64;
        sheet.text([MARGIN, down], line, HEADING);
    }
    sheet.lay(picture, [MARGIN, above]);
    sheet
}

/// Pictures under one another, so many mm apart.
#[must_use]
pub fn stacked(pictures: &[Sheet], gap: f64) -> Sheet {
    let wide = pictures.iter().map(|it| it.size[0]).fold(0.0, f64::max);
    let mut sheet = Sheet::sized("", [wide, 0.0]);
    for (index, picture) in pictures.iter().enumerate() {
        let down = if index == 0 { 0.0 } else { sheet.size[1] + gap };
        sheet.lay(picture, [0.0, down]);
        sheet.size[1] = down + picture.size[1];
    }
    sheet
}
