//! The first screen: go on with what is open, or begin something.

use crate::domain::Field;
use crate::domain::NotesId;
use crate::domain::NotesSource;
use crate::domain::SittingKind;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::BatchesScreen;
use crate::screens::BlindTestsScreen;
use crate::screens::CupboardScreen;
use crate::screens::HomeScreen;
use crate::screens::Next;
use crate::screens::NotesScreen;
use crate::screens::OnePanelScreen;
use crate::screens::Page;
use crate::screens::PanelsScreen;
use crate::screens::PouringScreen;
use crate::screens::PracticeScreen;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::TasterScreen;
use crate::screens::TastingScreen;
use crate::screens::WordsScreen;
use crate::screens::print_offers::bare_offers;
use crate::screens::print_screen::offered_on_paper;
use crate::workflow::Home;
use crate::workflow::NotesRow;
use crate::workflow::PanelTable;
use crate::workflow::Tasting;
use crate::workflow::TwoGlasses;
use crate::workflow::WorkflowError;

/// What can be begun, with the sentence that says what for.
const BEGIN: [(&str, &str); 9] = [
    (
        "Taste a beer",
        "a glass in front of you, a name, the cap mark",
    ),
    (
        "Taste two glasses",
        "side by side under codes, stage by stage",
    ),
    ("Blind tests", "can two beers be told apart at all?"),
    (
        "Batches",
        "what is brewed, how far it is, its log and its figures",
    ),
    ("Notes", "what was found, and the plan beside it"),
    (
        "Words and jars",
        "the market: what each word is like, how to learn it",
    ),
    (
        "Three things from the cupboard",
        "two minutes: how the market works",
    ),
    (
        "Practise",
        "five minutes tonight: words, jars, how far to trust your nose",
    ),
    (
        "Taste with a panel",
        "under codes, by turns on one laptop or on paper",
    ),
];

/// The first screen.
pub struct StartScreen {
    source: NotesSource,
    open: Vec<NotesRow>,
    /// Panels under way, one line each whatever is open at them.
    panels: Vec<PanelTable>,
    chosen: usize,
    /// The open tasting that was asked to be left; the same key again leaves it.
    leaving: Option<NotesId>,
}

impl StartScreen {
    /// The first screen; tastings begun from it are kept as coming from `source`.
    #[must_use]
    pub const fn new(source: NotesSource) -> Self {
        Self {
            source,
            open: Vec::new(),
            panels: Vec::new(),
            chosen: 0,
            leaving: None,
        }
    }

    fn begin(&mut self, row: usize, home: &mut Home) -> Result<Next, WorkflowError> {
        if let Some(open) = self.open.get(row) {
            if open.kind == SittingKind::TwoGlasses {
                return resumed(home.two_glasses(&open.notes)?, home);
            }
            let tasting = home.tasting(&open.notes)?;
            if tasting.notes.locked_at.is_some() {
                // In another window, after this list was drawn.
                return Ok(Next::Say(
                    "This tasting was locked meanwhile; its notes stand under Notes.".to_owned(),
                ));
            }
            return Ok(Next::Open(Box::new(TastingScreen::new(tasting, home)?)));
        }
        if let Some(panel) = self.panels.get(row - self.open.len()) {
            let number = panel.panel.number;
            let screen = OnePanelScreen::new(number, self.source, home)?;
            return Ok(Next::Open(Box::new(screen)));
        }
        let screen: Box<dyn Screen> = match row - self.above() {
            0 => Box::new(TasterScreen::new(self.source, home)?),
            1 => Box::new(TasterScreen::for_two(self.source, home)?),
            2 => Box::new(BlindTestsScreen::default()),
            3 => Box::new(BatchesScreen::new()),
            4 => Box::new(NotesScreen::new()),
            5 => Box::new(WordsScreen::new()),
            6 => Box::new(CupboardScreen::new()),
            7 => Box::new(PracticeScreen::default()),
            8 => Box::new(PanelsScreen::new(self.source)),
            _ => return Ok(Next::Stay),
        };
        Ok(Next::Open(screen))
    }

    /// What stays sealed while something is open.
    const fn sealed(&self) -> Option<&'static str> {
        if !self.open.is_empty() {
            return Some(
                "An open tasting keeps its plan sealed for everybody, unless its seal was broken. x leaves the chosen one for good, without locking it.",
            );
        }
        if self.panels.is_empty() {
            return None;
        }
        Some(
            "The beers of a panel stay sealed for everybody until it is told what was in the glasses, unless its seal was broken.",
        )
    }

    /// Lines above what can be begun.
    const fn above(&self) -> usize {
        self.open.len() + self.panels.len()
    }

    /// Leaves the chosen tasting at the second asking.
    fn leave(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        let Some(open) = self.open.get(self.chosen) else {
            return Ok(Next::Stay);
        };
        if self.leaving.as_ref() != Some(&open.notes) {
            self.leaving = Some(open.notes.clone());
            return Ok(Next::Say(format!(
                "x again leaves the tasting of {} on {} for good: it is kept, but can never be locked. Any other key keeps it open.",
                open.taster.name,
                bottle_words(open)
            )));
        }
        let tasting = home.tasting(&open.notes)?;
        home.leave(&tasting)?;
        self.leaving = None;
        self.chosen = 0;
        Ok(Next::Say(format!(
            "{} left; what was typed is kept.",
            tasting.taster.name
        )))
    }

    /// What can be chosen: open tastings first, then what can be begun, each with what it is for.
    fn choices(&self) -> Vec<(String, String)> {
        let open = self.open.iter().map(|row| {
            (
                format!("Go on: {} tastes {}", row.taster.name, bottle_words(row)),
                format!("open since {}", row.tasted_on),
            )
        });
        let panels = self.panels.iter().map(|it| {
            (
                format!(
                    "Go on: panel {}, {}",
                    it.panel.number,
                    reports::panel_state(it)
                ),
                format!("planned on {}", it.panel.made_at.day()),
            )
        });
        let begin = BEGIN
            .iter()
            .map(|(name, what)| ((*name).to_owned(), (*what).to_owned()));
        open.chain(panels).chain(begin).collect()
    }
}

/// What is tasted, as far as it may be told before the lock.
fn bottle_words(row: &NotesRow) -> String {
    match row.kind {
        SittingKind::Tasting => row.beer.cap_mark.to_string(),
        SittingKind::TwoGlasses => "two glasses".to_owned(),
        SittingKind::Test => "a blind test".to_owned(),
        SittingKind::Panel => "with a panel".to_owned(),
        SittingKind::Practice => "for practice".to_owned(),
    }
}

/// Two glasses before one taster are one tasting.
fn one_a_seat(mut open: Vec<NotesRow>) -> Vec<NotesRow> {
    let mut seats = Vec::new();
    open.retain(|row| row.kind != SittingKind::Panel);
    open.retain(|row| {
        let is_new = row.kind == SittingKind::Tasting || !seats.contains(&row.seat);
        seats.push(row.seat.clone());
        is_new
    });
    open
}

/// Two glasses where they stand: still to be poured, or under way.
fn resumed(two: TwoGlasses, home: &Home) -> Result<Next, WorkflowError> {
    let begun = |it: &Tasting| it.notes.current_field != Field::Checklist.id();
    let screen: Box<dyn Screen> = if two.tastings.iter().any(begun) {
        Box::new(TastingScreen::of_two(two, home)?)
    } else {
        Box::new(PouringScreen::new(two))
    };
    Ok(Next::Open(screen))
}

impl Screen for StartScreen {
    fn title(&self) -> String {
        "thirdglass".to_owned()
    }

    fn refresh(&mut self, home: &mut Home) -> Result<(), WorkflowError> {
        self.open = one_a_seat(home.open_tastings()?);
        self.panels = home.open_panels()?;
        self.chosen = self.chosen.min(self.above() + BEGIN.len() - 1);
        Ok(())
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        if let Some(unread) = reports::unread_settings(home) {
            page.text(Ink::Alert, &unread, room.text_width());
        }
        page.text(
            Ink::Plain,
            "Taste what you brewed in good order, and find out what is really there.",
            room.text_width(),
        );
        page.gap();
        for (index, (name, what)) in self.choices().into_iter().enumerate() {
            let chosen = index == self.chosen;
            let ink = if chosen { Ink::Chosen } else { Ink::Plain };
            if chosen {
                page.focus = page.rows.len();
            }
            // The digits stay with what can be begun, whatever is open above.
            let digit = match index.checked_sub(self.above()) {
                Some(row) => format!("  {}  ", row + 1),
                None => "     ".to_owned(),
            };
            page.choice(
                Line::of(Ink::Strong, digit)
                    .and(ink, format!(" {name} "))
                    .and(Ink::Quiet, format!("  {what}")),
                Press::Row(index),
            );
        }
        if let Some(sealed) = self.sealed() {
            page.gap();
            page.text(Ink::Quiet, sealed, room.text_width());
        }
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        let mut actions = vec![Action::Accept, Action::Up, Action::Down];
        if self.chosen < self.open.len() {
            actions.push(Action::Leave);
        }
        actions.extend([Action::Print, Action::Everything, Action::Quit]);
        actions
    }

    fn explanation(&self) -> &'static str {
        "Everything begins here. Choose with the arrows and Enter, with a digit, or with the mouse. An open tasting can be gone on with at any time. x leaves one for good, at the second press: what was typed is kept, but it cannot be locked any more. o is for paper: a sheet to taste by hand, or the wheel as a poster."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        let count = self.above() + BEGIN.len();
        if act != Act::Do(Action::Leave) {
            self.leaving = None;
        }
        match act {
            Act::Do(Action::Accept) => self.begin(self.chosen, home),
            Act::Do(Action::Up) => {
                self.chosen = (self.chosen + count - 1) % count;
                Ok(Next::Stay)
            }
            Act::Do(Action::Down) => {
                self.chosen = (self.chosen + 1) % count;
                Ok(Next::Stay)
            }
            Act::Do(Action::Leave) => self.leave(home),
            Act::Do(Action::Print) => Ok(offered_on_paper(bare_offers(), home)),
            Act::Do(Action::Everything) => Ok(Next::Open(Box::new(HomeScreen::default()))),
            Act::Do(Action::Quit) => Ok(Next::Quit),
            Act::Digit(digit) if (1..=BEGIN.len()).contains(&usize::from(digit)) => {
                self.chosen = self.above() + usize::from(digit) - 1;
                self.begin(self.chosen, home)
            }
            Act::Row(row) if row < count => {
                self.chosen = row;
                self.begin(row, home)
            }
            _ => Ok(Next::Stay),
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::screens::trial::keys;
    use crate::screens::trial::picture;
    use crate::screens::trial::started;
    use crate::screens::trial::welcomed;
    use crate::workflow::Home;

    #[test]
    fn everything_of_a_home_is_one_key_from_the_first_screen_and_from_the_very_first_question() {
        for mut app in [started(Home::trial()), welcomed()] {
            keys(&mut app, "e");
            let page = picture(&mut app);
            assert!(page.contains("Everything of this home"), "{page}");
            assert!(page.contains("Read such a file in"), "{page}");
        }
    }
}
