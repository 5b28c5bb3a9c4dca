//! One taster's turn at a panel: a page that shows nothing, their glasses one after the other, and again a page that shows nothing.

use crate::domain::Name;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::TastingScreen;
use crate::workflow::GlassState;
use crate::workflow::Home;
use crate::workflow::PanelRound;
use crate::workflow::PanelTurn;
use crate::workflow::TypedFrom;
use crate::workflow::WorkflowError;

/// How far a turn is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Step {
    /// The screen is handed over.
    Before,
    /// The taster has it.
    Glasses,
    /// It is handed on.
    After,
}

/// The screen of one turn.
pub struct PanelTurnScreen {
    number: u32,
    name: Name,
    round: PanelRound,
    from: TypedFrom,
    step: Step,
    turn: Option<PanelTurn>,
    chosen: usize,
    /// Leaving was asked for; the same key again does it.
    leaving: bool,
}

impl PanelTurnScreen {
    /// The turn of a taster, before they have the screen. A sheet that is typed in needs no handing over.
    #[must_use]
    pub const fn new(number: u32, name: Name, round: PanelRound, from: TypedFrom) -> Self {
        let step = match from {
            TypedFrom::Glass(_) => Step::Before,
            TypedFrom::Sheet(_) => Step::Glasses,
        };
        Self {
            number,
            name,
            round,
            from,
            step,
            turn: None,
            chosen: 0,
            leaving: false,
        }
    }

    /// Reads the glasses anew; the next one stands out.
    fn read(&mut self, home: &Home) -> Result<(), WorkflowError> {
        let turn = home.panel_turn(self.number, self.name.as_str(), self.round)?;
        let is_new = self.turn.as_ref() != Some(&turn);
        if is_new {
            let next = turn.next().map(|it| it.code);
            let at = turn.glasses.iter().position(|it| Some(it.code) == next);
            self.chosen = at.unwrap_or(0);
        }
        self.turn = Some(turn);
        Ok(())
    }

    /// Opens a glass; the first time round only the one whose turn it is.
    fn open(&mut self, row: usize, home: &mut Home) -> Result<Next, WorkflowError> {
        self.read(home)?;
        let Some(turn) = &self.turn else {
            return Ok(Next::Stay);
        };
        let Some(next) = turn.next() else {
            return Ok(self.pass_on());
        };
        let Some(glass) = turn.glasses.get(row) else {
            return Ok(Next::Stay);
        };
        if glass.state == GlassState::Locked {
            let said = format!("The notes on glass {} are locked.", glass.code);
            return Ok(Next::Say(said));
        }
        if self.round == PanelRound::Alone && glass.code != next.code {
            let said = format!("The order is drawn: glass {} comes next.", next.code);
            return Ok(Next::Say(said));
        }
        let code = glass.code;
        let tasting = home.panel_glass(turn, code, self.from)?;
        Ok(Next::Open(Box::new(TastingScreen::new(tasting, home)?)))
    }

    /// Hands the screen on; a sheet was typed by somebody who keeps it.
    fn pass_on(&mut self) -> Next {
        match self.from {
            TypedFrom::Glass(_) => {
                self.step = Step::After;
                self.turn = None;
                Next::Top
            }
            TypedFrom::Sheet(_) => Next::Close,
        }
    }

    /// Leaves the panel at the second asking.
    fn leave(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        if !self.leaving {
            self.leaving = true;
            return Ok(Next::Say(format!(
                "x again: {} leaves the panel for good. What is locked counts, the rest stays open for ever. Any other key stays.",
                self.name
            )));
        }
        home.leave_panel(self.number, self.name.as_str())?;
        Ok(self.pass_on())
    }

    fn draw_glasses(&self, page: &mut Page, turn: &PanelTurn, cells: usize) {
        let (locked, all) = (turn.locked(), turn.glasses.len());
        let told = match (self.round, turn.next()) {
            (PanelRound::Alone, None) => {
                format!("All {all} glasses are locked. Enter hides this page.")
            }
            (PanelRound::Alone, Some(next)) => format!(
                "{locked} of {all} locked. Glass {} is next; Enter opens it.",
                next.code
            ),
            (PanelRound::AfterTalk, _) => {
                "After the talk: open any glass whose notes you want to change. What you do not open stays as it is. Esc hides this page.".to_owned()
            }
        };
        page.text(Ink::Strong, &told, cells);
        if locked < all && self.round == PanelRound::Alone {
            let rest =
                "Water and a minute's rest between two glasses; spit or only smell as you like.";
            page.text(Ink::Quiet, rest, cells);
        }
        page.gap();
        for (row, glass) in turn.glasses.iter().enumerate() {
            let chosen = row == self.chosen && turn.next().is_some();
            if chosen {
                page.focus = page.rows.len();
            }
            let ink = if chosen { Ink::Chosen } else { Ink::Plain };
            let state = match (glass.state, self.round) {
                (GlassState::Waits, PanelRound::Alone) => "",
                (GlassState::Waits, PanelRound::AfterTalk) => "as it was",
                (GlassState::Begun, _) => "begun",
                (GlassState::Locked, _) => "locked",
            };
            let line = Line::plain("   ").and(ink, format!(" glass {} ", glass.code));
            page.choice(line.and(Ink::Quiet, format!("  {state}")), Press::Row(row));
        }
    }
}

impl Screen for PanelTurnScreen {
    fn title(&self) -> String {
        match (self.step, self.from) {
            (Step::Before, _) => format!("For {} alone", self.name),
            (Step::Glasses, TypedFrom::Glass(_)) => format!("The glasses of {}", self.name),
            (Step::Glasses, TypedFrom::Sheet(_)) => format!("The sheet of {}", self.name),
            (Step::After, _) => "Pass the screen on".to_owned(),
        }
    }

    fn refresh(&mut self, home: &mut Home) -> Result<(), WorkflowError> {
        if self.step == Step::Glasses {
            self.read(home)?;
        }
        Ok(())
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        let cells = room.text_width();
        page.gap();
        match (self.step, &self.turn) {
            (Step::Before, _) => {
                let text = format!(
                    "{}, take the screen; the others look away and do not talk about the beers. Enter shows your glasses.",
                    self.name
                );
                page.text(Ink::Strong, &text, cells);
            }
            (Step::Glasses, Some(turn)) => self.draw_glasses(&mut page, turn, cells),
            (Step::Glasses, None) => {}
            (Step::After, _) => {
                let text =
                    "Kept. Pass the screen to the next taster; Enter shows who is still to taste.";
                page.text(Ink::Strong, text, cells);
            }
        }
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        match self.step {
            Step::Before | Step::After => vec![Action::Accept, Action::Back],
            Step::Glasses => {
                let mut actions = vec![Action::Accept];
                if self.round == PanelRound::AfterTalk {
                    actions.extend([Action::Up, Action::Down]);
                }
                let open = self.turn.as_ref().is_some_and(|it| it.next().is_some());
                if self.round == PanelRound::Alone && open {
                    actions.push(Action::Leave);
                }
                actions.push(Action::Back);
                actions
            }
        }
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        match (action, self.step) {
            (Action::Accept, Step::Before) => Some("my glasses"),
            (Action::Back, Step::Glasses) => Some("hide and pass on"),
            _ => None,
        }
    }

    fn explanation(&self) -> &'static str {
        "The glasses stand in an order drawn for this taster; the codes say nothing. Every answer is kept at once: Esc stops at any time, and the turn goes on later where it was. Locking a glass shows nothing of the beer or of the others. x leaves the panel for good."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        if act != Act::Do(Action::Leave) {
            self.leaving = false;
        }
        match (self.step, act) {
            (Step::Before, Act::Do(Action::Accept)) => {
                self.read(home)?;
                self.step = Step::Glasses;
                Ok(Next::Top)
            }
            (Step::Before, Act::Do(Action::Back))
            | (Step::After, Act::Do(Action::Accept | Action::Back)) => Ok(Next::Close),
            (Step::Glasses, Act::Do(Action::Accept)) => self.open(self.chosen, home),
            (Step::Glasses, Act::Row(row)) => self.open(row, home),
            (Step::Glasses, Act::Do(Action::Back)) => Ok(self.pass_on()),
            (Step::Glasses, Act::Do(Action::Leave)) => self.leave(home),
            (Step::Glasses, Act::Do(Action::Up)) => {
                self.chosen = self.chosen.saturating_sub(1);
                Ok(Next::Stay)
            }
            (Step::Glasses, Act::Do(Action::Down)) => {
                let glasses = self.turn.as_ref().map_or(0, |it| it.glasses.len());
                self.chosen = (self.chosen + 1).min(glasses.saturating_sub(1));
                Ok(Next::Stay)
            }
            _ => Ok(Next::Stay),
        }
    }
}
