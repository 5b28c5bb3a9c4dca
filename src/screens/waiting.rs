//! A sign for what takes long: the picture that stands, with a line that says so, until the work is done.

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::screens::Framed;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Row;
use crate::screens::Work;
use crate::screens::frame::indented;

/// What is said while a page is drawn from all notes.
const LOOKED_THROUGH: &str = "One moment: all that was tasted is looked through.";

/// What is said while a file is written.
pub(super) const WRITTEN: &str = "One moment: it is written.";

/// What waits until its sign was seen.
enum Waits {
    /// The page of the top screen.
    Page,
    /// Work that a key asked for.
    For(Work),
}

/// What waits, and the picture that its sign is put onto.
#[derive(Default)]
pub(super) struct Waiting {
    waits: Option<Waits>,
    drawn: Option<(Room, Framed)>,
}

impl Waiting {
    /// The next page waits, unless work does already.
    pub(super) fn for_page(&mut self) {
        self.waits.get_or_insert(Waits::Page);
    }

    /// Keeps work until its sign was drawn.
    pub(super) fn for_work(&mut self, work: Work) {
        self.waits = Some(Waits::For(work));
    }

    /// Nothing waits any more; the work that did, to be done now.
    pub(super) fn take(&mut self) -> Option<Work> {
        match self.waits.take()? {
            Waits::Page => None,
            Waits::For(work) => Some(work),
        }
    }

    /// True while anything waits.
    pub(super) const fn is_waiting(&self) -> bool {
        self.waits.is_some()
    }

    /// Keeps what was drawn, in which room.
    pub(super) fn drew(&mut self, room: Room, framed: &Framed) {
        self.drawn = Some((room, framed.clone()));
    }

    /// The last picture of this room with the sign above its keys, while anything waits. Nothing is read for it, and a
    /// click on it finds nothing: what it shows may be gone.
    pub(super) fn sign(&self, room: Room) -> Option<Framed> {
        let says = match self.waits.as_ref()? {
            Waits::Page => LOOKED_THROUGH,
            Waits::For(work) => work.sign,
        };
        let (drawn_in, framed) = self.drawn.as_ref()?;
        if *drawn_in != room {
            return None;
        }
        let mut framed = framed.clone();
        for row in &mut framed.rows {
            row.press = None::<Press>;
        }
        let above = framed.rows.len().checked_sub(framed.footer + 1)?;
        *framed.rows.get_mut(above)? = indented(Row {
            line: Line::of(Ink::Strong, says),
            press: None,
        });
        Some(framed)
    }
}
