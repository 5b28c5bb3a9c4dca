//! A sign for what takes long: the picture that stands, with a line that says so, until the work is done.

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::screens::Framed;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Row;
use crate::screens::frame::indented;

/// What is said while the work is done.
const SIGN: &str = "One moment: all that was tasted is looked through.";

/// A press whose work is done once its sign was seen, and the picture that the sign is put onto.
#[derive(Default)]
pub(super) struct Waiting {
    press: Option<Press>,
    drawn: Option<(Room, Framed)>,
}

impl Waiting {
    /// Keeps a press until its sign was drawn.
    pub(super) fn ask(&mut self, press: Press) {
        self.press = Some(press);
    }

    /// The press that waited, to be done now.
    pub(super) fn take(&mut self) -> Option<Press> {
        self.press.take()
    }

    /// True while a press waits.
    pub(super) const fn is_waiting(&self) -> bool {
        self.press.is_some()
    }

    /// Keeps what was drawn, in which room.
    pub(super) fn drew(&mut self, room: Room, framed: &Framed) {
        self.drawn = Some((room, framed.clone()));
    }

    /// The last picture of this room with the sign above its keys, while a press waits. Nothing is read for it.
    pub(super) fn sign(&self, room: Room) -> Option<Framed> {
        let (drawn_in, framed) = self.drawn.as_ref()?;
        if !self.is_waiting() || *drawn_in != room {
            return None;
        }
        let mut framed = framed.clone();
        let above = framed.rows.len().checked_sub(framed.footer + 1)?;
        *framed.rows.get_mut(above)? = indented(Row {
            line: Line::of(Ink::Strong, SIGN),
            press: None,
        });
        Some(framed)
    }
}
