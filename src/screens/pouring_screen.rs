//! What goes into which cup, for the eyes of whoever pours; after it the taster sees codes only.

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::TastingScreen;
use crate::workflow::Home;
use crate::workflow::Pourer;
use crate::workflow::TwoGlasses;
use crate::workflow::WorkflowError;

/// How far the pouring is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Step {
    /// The taster gives the screen away.
    HandOver,
    /// The key is seen.
    Key,
}

/// The screen between the choice of two bottles and their tasting.
pub struct PouringScreen {
    two: TwoGlasses,
    step: Step,
}

impl PouringScreen {
    /// The screen for two glasses that are still to be poured.
    #[must_use]
    pub const fn new(two: TwoGlasses) -> Self {
        let step = match two.pourer {
            Pourer::SomebodyElse => Step::HandOver,
            Pourer::Taster => Step::Key,
        };
        Self { two, step }
    }

    fn draw_key(&self, page: &mut Page, home: &Home, cells: usize) -> Result<(), WorkflowError> {
        let where_to = match self.two.pourer {
            Pourer::SomebodyElse => "Write each code on its cup, then pour:",
            Pourer::Taster => "Write each code under its cup, then pour:",
        };
        page.line(Line::of(Ink::Strong, where_to));
        page.gap();
        for (code, mark) in home.pouring(&self.two)? {
            let line =
                Line::of(Ink::Strong, format!("   {code}   ")).and(Ink::Plain, mark.as_str());
            page.line(line);
        }
        page.gap();
        for step in ALIKE {
            page.text(Ink::Plain, &format!("· {step}"), cells);
        }
        let last = match self.two.pourer {
            Pourer::SomebodyElse => {
                "Put both before the taster and say nothing. Enter hides this page; then hand the screen back."
            }
            Pourer::Taster => {
                "Close your eyes, shuffle the cups until you are lost, and set one left, one right. Enter hides this page; do not look under the cups before the end."
            }
        };
        page.text(Ink::Plain, &format!("· {last}"), cells);
        Ok(())
    }
}

/// What makes two glasses alike but for the beer.
const ALIKE: [&str; 2] = [
    "Two cups that look the same; the same 50 mL, equally cold. Glasses for colour and foam, or dark cups if the looks must not tell.",
    "Pour gently off the yeast. Gushing, a film, mould or chipped glass: stop, and taste neither.",
];

impl Screen for PouringScreen {
    fn title(&self) -> String {
        match self.step {
            Step::HandOver => format!("Two glasses for {}", self.two.tastings[0].taster.name),
            Step::Key => "What goes into which cup".to_owned(),
        }
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        match self.step {
            Step::HandOver => {
                let text = "Hand the screen to the one who pours, and look away. Enter shows which beer goes into which cup.";
                page.text(Ink::Strong, text, room.text_width());
            }
            Step::Key => self.draw_key(&mut page, home, room.text_width())?,
        }
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![Action::Accept, Action::Back]
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        match (action, self.step) {
            (Action::Accept, Step::HandOver) => Some("show the cups"),
            (Action::Accept, Step::Key) => Some("hide this and taste"),
            _ => None,
        }
    }

    fn explanation(&self) -> &'static str {
        "Only the one who pours sees what is in which cup. From here on until the notes are locked, the screen knows the glasses by code or by place alone. Esc leaves the pouring for later: the tasting waits on the first screen."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match (act, self.step) {
            (Act::Do(Action::Accept), Step::HandOver) => {
                self.step = Step::Key;
                Ok(Next::Stay)
            }
            (Act::Do(Action::Accept), Step::Key) => {
                let tasting = TastingScreen::of_two(self.two.clone(), home)?;
                Ok(Next::Replace(Box::new(tasting)))
            }
            (Act::Do(Action::Back), _) => Ok(Next::Close),
            _ => Ok(Next::Stay),
        }
    }
}
