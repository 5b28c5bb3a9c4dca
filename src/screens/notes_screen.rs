//! All locked notes, newest first.

use crate::domain::SittingKind;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Below;
use crate::screens::FoundScreen;
use crate::screens::LearntScreen;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::TastersScreen;
use crate::screens::long_list::moved;
use crate::screens::removed_screen::Then;
use crate::screens::removed_screen::remove_question;
use crate::workflow::Home;
use crate::workflow::NotesRow;
use crate::workflow::Remembered;
use crate::workflow::Removable;
use crate::workflow::WorkflowError;

/// Notes that are read at a time.
const READ: usize = 200;

/// The list of locked notes.
#[derive(Default)]
pub struct NotesScreen {
    /// Those that were read so far, from the newest on.
    rows: Vec<NotesRow>,
    /// What follows after them.
    rest: Rest,
    /// From which state of the store they were read.
    read: Remembered<()>,
    chosen: usize,
}

/// Whether there are more notes than were read.
#[derive(Clone, Copy, Default, PartialEq, Eq)]
enum Rest {
    /// Nobody has looked yet.
    #[default]
    Unread,
    /// None.
    Nothing,
}

impl Rest {
    const fn told(self) -> Below {
        match self {
            Self::Unread => Below::Uncounted,
            Self::Nothing => Below::Lines(0),
        }
    }
}

impl NotesScreen {
    /// The list, read when it is first shown.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    fn open(&self, row: usize) -> Next {
        match self.rows.get(row) {
            Some(row) => Next::Open(Box::new(FoundScreen::new(
                row.notes.clone(),
                row.beer.cap_mark.clone(),
                row.taster.name.clone(),
            ))),
            None => Next::Stay,
        }
    }

    /// Asks whether the chosen notes go.
    fn remove(&self, home: &Home) -> Result<Next, WorkflowError> {
        let Some(row) = self.rows.get(self.chosen) else {
            return Ok(Next::Stay);
        };
        let words = format!("tasting {} by {}", row.beer.cap_mark, row.taster.name);
        let what = Removable::Notes(row.notes.clone());
        let question = remove_question(what, &words, Then::Back, home)?;
        Ok(Next::Open(Box::new(question)))
    }

    /// Reads on until `count` notes are there, or all.
    fn read_up_to(&mut self, count: usize, home: &Home) -> Result<(), WorkflowError> {
        while self.rest == Rest::Unread && self.rows.len() < count {
            let more = home.more_locked_notes(&self.rows, READ)?;
            if more.len() < READ {
                self.rest = Rest::Nothing;
            }
            self.rows.extend(more);
        }
        Ok(())
    }
}

/// Which pass these notes are of, unless it is the first.
const fn pass_words(row: &NotesRow) -> &'static str {
    match (row.round, row.kind) {
        (0 | 1, _) => "",
        (_, SittingKind::Panel) => ", after the talk",
        _ => ", as it warmed",
    }
}

/// When, what, who, and what is special about these notes.
fn row_words(row: &NotesRow) -> String {
    let fault = row.bottle_fault.map_or("", |_| ", bad bottle");
    format!(
        " {}  {:<10} {}{}{fault} ",
        row.tasted_on,
        row.beer.cap_mark.as_str(),
        row.taster.name,
        pass_words(row)
    )
}

impl Screen for NotesScreen {
    fn title(&self) -> String {
        "Notes".to_owned()
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        if !self.read.is_of_now(home) {
            // Somebody has locked, removed or sealed notes, or has another name.
            (self.rows, self.rest) = (Vec::new(), Rest::Unread);
            self.read.or_drawn_by(home, |_| Ok(()))?;
        }
        // As far as one turn of the page goes beyond what is seen.
        self.read_up_to(self.chosen + room.height + READ / 2, home)?;
        self.chosen = self.chosen.min(self.rows.len().saturating_sub(1));
        let mut page = Page::default();
        page.gap();
        if self.rows.is_empty() {
            page.line(Line::plain("No notes are locked yet. Taste a beer first."));
        }
        let count = self.rows.len();
        let shown = page.window(count, self.chosen, room.height, self.rest.told());
        for (index, row) in shown.clone().zip(&self.rows[shown]) {
            let chosen = index == self.chosen;
            if chosen {
                page.focus = page.rows.len();
            }
            let ink = if chosen { Ink::Chosen } else { Ink::Plain };
            let line = Line::plain("  ").and(ink, row_words(row));
            page.choice(line, Press::Row(index));
        }
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        if self.rows.is_empty() {
            return vec![Action::Learnt, Action::Tasters, Action::Back];
        }
        vec![
            Action::Accept,
            Action::Up,
            Action::Down,
            Action::Learnt,
            Action::Tasters,
            Action::Remove,
            Action::Back,
        ]
    }

    fn explanation(&self) -> &'static str {
        "Every set of notes that was locked. Enter opens one; the plan can be set beside it from there. l shows what predictions have learnt of a taster; p opens the list of tasters. Notes on a beer that somebody is tasting now stay closed until that tasting is locked or left."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        if let Some(chosen) = moved(self.chosen, act, self.rows.len()) {
            self.chosen = chosen;
            return Ok(Next::Stay);
        }
        Ok(match act {
            // The row may be another one since it was seen: it is shown first.
            Act::Do(Action::Accept | Action::Remove) | Act::Row(_)
                if !self.read.is_of_now(home) =>
            {
                Next::Stay
            }
            Act::Do(Action::Accept) => self.open(self.chosen),
            Act::Row(row) => self.open(row),
            Act::Do(Action::Tasters) => Next::Open(Box::new(TastersScreen::new(home)?)),
            Act::Do(Action::Learnt) => Next::Open(LearntScreen::opened(home)?),
            Act::Do(Action::Remove) => self.remove(home)?,
            Act::Do(Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}
