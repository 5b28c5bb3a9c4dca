//! One panel: who is how far, whose turn it is, its sheets, the talk, and in the end what was in the glasses.

use crate::domain::NotesSource;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::width;
use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::PanelPageScreen;
use crate::screens::PanelSheetScreen;
use crate::screens::PanelTurnScreen;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::choices::Choices;
use crate::screens::long_list::moved;
use crate::screens::panel_page_screen::Shown;
use crate::screens::print_screen::on_paper;
use crate::screens::removed_screen::Then;
use crate::screens::removed_screen::remove_question;
use crate::workflow::Closing;
use crate::workflow::Home;
use crate::workflow::PanelPerson;
use crate::workflow::PanelPhase;
use crate::workflow::PanelRound;
use crate::workflow::PanelTable;
use crate::workflow::Removable;
use crate::workflow::TypedFrom;
use crate::workflow::WorkflowError;

/// What can be done besides a turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Choice {
    Show(Shown),
    Labels,
    TypeSheet,
    Tell,
}

/// The screen of one panel.
pub struct OnePanelScreen {
    table: PanelTable,
    source: NotesSource,
    allergens: String,
    chosen: usize,
    /// Telling was asked for once.
    telling: bool,
}

impl OnePanelScreen {
    /// The screen of the panel with this number.
    ///
    /// # Errors
    /// There is none, or the store cannot be read.
    pub fn new(number: u32, source: NotesSource, home: &Home) -> Result<Self, WorkflowError> {
        let table = home.panel_table(number)?;
        let first = table.people.iter().position(|it| !it.is_done());
        Ok(Self {
            chosen: first.unwrap_or(table.people.len()),
            allergens: home.panel_allergens(number)?,
            table,
            source,
            telling: false,
        })
    }

    const fn number(&self) -> u32 {
        self.table.panel.number
    }

    fn choices(&self) -> Vec<(Choice, &'static str)> {
        let talk = (Choice::Show(Shown::Talk), "Talk: what was found, by code");
        let tell = (Choice::Tell, "Tell what was in the glasses");
        let sheets = (Choice::Show(Shown::Ballots), "Sheets to write on");
        let pouring = (
            Choice::Show(Shown::Pouring),
            "What is poured (only for whoever pours)",
        );
        match self.table.phase() {
            PanelPhase::Tasting => {
                let typed = (Choice::TypeSheet, "Type in a sheet");
                let labels = (Choice::Labels, "Labels for the glasses, on paper");
                vec![pouring, sheets, labels, typed, talk, tell]
            }
            PanelPhase::Talk => vec![talk, tell],
            PanelPhase::Told => {
                let result = (Choice::Show(Shown::Result), "What the panel found");
                let key = (Choice::Show(Shown::Pouring), "What was poured");
                vec![result, talk, key]
            }
        }
    }

    fn rows(&self) -> usize {
        self.table.people.len() + self.choices().len()
    }

    fn choose(&mut self, row: usize, home: &mut Home) -> Result<Next, WorkflowError> {
        self.chosen = row;
        if let Some(person) = self.table.people.get(row) {
            return Ok(self.take_turn(person));
        }
        let choices = self.choices();
        let Some((choice, _)) = choices.get(row - self.table.people.len()) else {
            return Ok(Next::Stay);
        };
        match choice {
            Choice::Show(shown) => {
                let screen = PanelPageScreen::new(self.number(), *shown, home)?;
                Ok(Next::Open(Box::new(screen)))
            }
            Choice::Labels => {
                let number = [self.number().to_string()];
                Ok(on_paper("panel-labels", &number, home))
            }
            Choice::TypeSheet => {
                let screen = PanelSheetScreen::new(self.number(), home)?;
                Ok(Next::Open(Box::new(screen)))
            }
            Choice::Tell => self.tell(home),
        }
    }

    fn take_turn(&self, person: &PanelPerson) -> Next {
        let name = &person.taster.name;
        let round = match self.table.phase() {
            PanelPhase::Told => {
                let screen = PanelPageScreen::own(self.number(), name.clone());
                return Next::Open(Box::new(screen));
            }
            _ if person.left => {
                return Next::Say(format!("{name} has left; what was locked before stays."));
            }
            PanelPhase::Tasting if person.is_done() => {
                return Next::Say(format!(
                    "{name} has locked every glass. When all are done they can be looked at again, after the talk."
                ));
            }
            PanelPhase::Tasting => PanelRound::Alone,
            PanelPhase::Talk => PanelRound::AfterTalk,
        };
        let from = TypedFrom::Glass(self.source);
        let screen = PanelTurnScreen::new(self.number(), name.clone(), round, from);
        Next::Open(Box::new(screen))
    }

    /// Tells at the second asking; the first says for whom it ends.
    fn tell(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        if !self.telling {
            self.telling = true;
            let waits_for = self.table.waits_for();
            let who = match waits_for.as_slice() {
                [] => match self.table.unlocked_looks().as_slice() {
                    [] => "Everybody is done.".to_owned(),
                    looks => format!(
                        "Everybody is done. What was not locked after the talk will not count: {}.",
                        looks.join(", ")
                    ),
                },
                some => format!(
                    "Not done: {}. Telling ends it for them: what they locked counts, the rest stays open for ever.",
                    some.join(", ")
                ),
            };
            return Ok(Next::Say(format!(
                "{who} Enter once more tells what was in the glasses; after that nobody can taste at this panel."
            )));
        }
        home.tell_panel(self.number(), Closing::Early)?;
        self.telling = false;
        self.chosen = 0;
        let screen = PanelPageScreen::new(self.number(), Shown::Result, home)?;
        Ok(Next::Open(Box::new(screen)))
    }

    fn state(&self) -> &'static str {
        match self.table.phase() {
            PanelPhase::Tasting => {
                "Choose a name: the screen is then for that taster alone. Nobody talks about the beers before all are done."
            }
            PanelPhase::Talk => {
                "All are done. Talk about what was found; who likes may then look at their own notes again: choose the name."
            }
            PanelPhase::Told => {
                "It was told what was in the glasses. Choose a name for the page that is theirs alone."
            }
        }
    }

    fn draw_row(&self, page: &mut Page, row: usize, name: &str, what: &str) {
        let chosen = row == self.chosen;
        if chosen {
            page.focus = page.rows.len();
        }
        let ink = if chosen { Ink::Chosen } else { Ink::Plain };
        let digit = if row < 9 {
            format!("  {}  ", row + 1)
        } else {
            "     ".to_owned()
        };
        let line = Line::of(Ink::Strong, digit).and(ink, format!(" {name} "));
        page.choice(line.and(Ink::Quiet, format!("  {what}")), Press::Row(row));
    }
}

impl Screen for OnePanelScreen {
    fn title(&self) -> String {
        format!("Panel {}", self.number())
    }

    fn refresh(&mut self, home: &mut Home) -> Result<(), WorkflowError> {
        let before = self.table.done();
        self.table = home.panel_table(self.number())?;
        let waits = self.table.people.iter().position(|it| !it.is_done());
        if self.table.done() > before {
            // Whoever comes next stands out; once all are done, the talk.
            self.chosen = waits.unwrap_or(self.table.people.len());
        }
        self.chosen = self.chosen.min(self.rows().saturating_sub(1));
        Ok(())
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        let cells = room.text_width();
        page.text(Ink::Plain, self.state(), cells);
        if self.table.phase() == PanelPhase::Tasting {
            page.text(Ink::Alert, &reports::panel_care(&self.allergens), cells);
        }
        page.gap();
        let names = self.table.people.iter();
        let longest = names.map(|it| width(it.taster.name.as_str())).max();
        for (row, person) in self.table.people.iter().enumerate() {
            let name = person.taster.name.as_str();
            let gap = " ".repeat(longest.unwrap_or(0) - width(name));
            let name = format!("{name}{gap}");
            self.draw_row(&mut page, row, &name, &reports::panel_person_words(person));
        }
        page.gap();
        for (at, (_, words)) in self.choices().into_iter().enumerate() {
            self.draw_row(&mut page, self.table.people.len() + at, words, "");
        }
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        Choices::actions_with(&[Action::Remove])
    }

    fn explanation(&self) -> &'static str {
        "Each taster sits down alone with the screen and goes through their glasses in their own order; the page before and after shows nothing of anybody. Who writes on paper instead has the sheet typed in later. When all have locked or left, the panel talks, by code. What was in the glasses is told last."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        let (last, people) = (self.rows() - 1, self.table.people.len());
        let row = match act {
            Act::Do(Action::Accept) => Some(self.chosen),
            Act::Row(row) => Some(row),
            Act::Digit(digit) => usize::from(digit).checked_sub(1),
            _ => None,
        };
        let choices = self.choices();
        let tells = row
            .and_then(|it| it.checked_sub(people))
            .and_then(|it| choices.get(it));
        if tells.is_none_or(|it| it.0 != Choice::Tell) {
            self.telling = false;
        }
        match (act, row) {
            (_, Some(row)) if row <= last => return self.choose(row, home),
            (Act::Do(Action::Remove), _) => {
                let number = self.table.panel.number;
                let what = Removable::Panel(number);
                let asked =
                    remove_question(what, &format!("panel {number}"), Then::FirstScreen, home)?;
                return Ok(Next::Open(Box::new(asked)));
            }
            (Act::Do(Action::Back), _) => return Ok(Next::Close),
            _ => self.chosen = moved(self.chosen, act, self.rows()).unwrap_or(self.chosen),
        }
        Ok(Next::Stay)
    }
}
