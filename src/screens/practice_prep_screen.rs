//! The jars of a practice as they are prepared, and then the table at which each friend answers alone.

use crate::domain::PracticeKind;
use crate::domain::SeatRole;
use crate::domain::SittingId;
use crate::domain::Taster;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::PracticeEndScreen;
use crate::screens::PracticeItemScreen;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Screen;
use crate::workflow::Home;
use crate::workflow::JarCard;
use crate::workflow::WorkflowError;

/// The jars as they are prepared; shown once.
pub struct PracticePrepScreen {
    sitting: SittingId,
    tasters: Vec<Taster>,
    cards: Vec<JarCard>,
    kind: PracticeKind,
    role: SeatRole,
}

impl PracticePrepScreen {
    /// The screen of a practice that was just drawn.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(super) fn new(
        sitting: &SittingId,
        tasters: &[Taster],
        home: &Home,
    ) -> Result<Self, WorkflowError> {
        let first = tasters.first().ok_or(WorkflowError::NothingToPractise)?;
        let run = home.practice_run(sitting, first)?;
        Ok(Self {
            sitting: sitting.clone(),
            tasters: tasters.to_vec(),
            cards: home.jar_cards(sitting)?,
            kind: run.practice.kind,
            role: run.role,
        })
    }
}

impl Screen for PracticePrepScreen {
    fn title(&self) -> String {
        "What is prepared (not for those who practise)".to_owned()
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        let cells = room.text_width().saturating_sub(1);
        page.lines(reports::jar_card_lines(&self.cards, self.kind, cells));
        page.gap();
        let codes = match self.role {
            SeatRole::PouringTaster => {
                "Stick each code beneath its jar, close them all alike, close your eyes, and shuffle them until you are lost. Read a code only after your answer."
            }
            _ => "Write each code on its jar, and nothing else. Enter hides this page for good.",
        };
        page.text(Ink::Strong, codes, room.text_width());
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![Action::Accept, Action::Back]
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        (action == Action::Accept).then_some("hide this")
    }

    fn explanation(&self) -> &'static str {
        "Smell before you taste, one jar at a time, and make and throw it away the same day unless it says otherwise. Nothing that is for sniffing only may enter a mouth."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match act {
            Act::Do(Action::Accept) => match self.tasters.as_slice() {
                [one] => {
                    let run = home.practice_run(&self.sitting, one)?;
                    Next::Replace(Box::new(PracticeItemScreen::new(run)))
                }
                _ => Next::Replace(Box::new(PracticeTableScreen {
                    sitting: self.sitting.clone(),
                    tasters: self.tasters.clone(),
                    done: Vec::new(),
                    chosen: 0,
                })),
            },
            Act::Do(Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}

/// The table: who has answered, and nobody's answers.
pub struct PracticeTableScreen {
    sitting: SittingId,
    tasters: Vec<Taster>,
    done: Vec<bool>,
    chosen: usize,
}

impl PracticeTableScreen {
    fn open(&self, row: usize, home: &Home) -> Result<Next, WorkflowError> {
        let Some(taster) = self.tasters.get(row) else {
            return Ok(Next::Stay);
        };
        let run = home.practice_run(&self.sitting, taster)?;
        if run.open().is_some() {
            return Ok(Next::Open(Box::new(PracticeItemScreen::new(run))));
        }
        if self.done.iter().all(|it| *it) {
            return Ok(Next::Open(Box::new(PracticeEndScreen::new(run))));
        }
        Ok(Next::Say(
            "Everything is answered; it is told once the others have answered too.".to_owned(),
        ))
    }
}

impl Screen for PracticeTableScreen {
    fn title(&self) -> String {
        "The table".to_owned()
    }

    fn refresh(&mut self, home: &mut Home) -> Result<(), WorkflowError> {
        self.done.clear();
        for taster in &self.tasters {
            let run = home.practice_run(&self.sitting, taster)?;
            self.done.push(run.open().is_none());
        }
        Ok(())
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        let all = self.done.iter().all(|it| *it);
        let text = if all {
            "All have answered. Each may look at what was right, one after the other."
        } else {
            "Pass the screen round: each one chooses the own name and answers alone."
        };
        page.text(Ink::Plain, text, room.text_width());
        page.gap();
        for (row, taster) in self.tasters.iter().enumerate() {
            let chosen = row == self.chosen;
            let ink = if chosen { Ink::Chosen } else { Ink::Plain };
            let state = if self.done.get(row).copied().unwrap_or(false) {
                "has answered"
            } else {
                "waits"
            };
            let line = Line::of(Ink::Strong, format!("  {}  ", row + 1));
            let line = line.and(ink, format!(" {} ", taster.name));
            page.choice(line.and(Ink::Quiet, format!("  {state}")), Press::Row(row));
        }
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![Action::Accept, Action::Up, Action::Down, Action::Back]
    }

    fn explanation(&self) -> &'static str {
        "The table shows who has answered and nobody's answers. What was right is told when all have answered, so that nobody helps those who still smell."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        let last = self.tasters.len().saturating_sub(1);
        match act {
            Act::Do(Action::Accept) => return self.open(self.chosen, home),
            Act::Row(row) => return self.open(row, home),
            Act::Digit(digit) => return self.open(usize::from(digit).wrapping_sub(1), home),
            Act::Do(Action::Up) => self.chosen = self.chosen.saturating_sub(1),
            Act::Do(Action::Down) => self.chosen = (self.chosen + 1).min(last),
            Act::Do(Action::Back) => return Ok(Next::Close),
            _ => {}
        }
        Ok(Next::Stay)
    }
}
