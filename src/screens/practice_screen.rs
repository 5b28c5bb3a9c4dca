//! What can be practised: words without a glass, jars, present or not; and how far one can trust it.

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::PracticeSetupScreen;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::practice_setup_screen::Wanted;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// What can be begun, with what it takes.
const BEGIN: [(&str, &str, Wanted); 4] = [
    ("Words", "five minutes, no glass and no jar", Wanted::Words),
    (
        "Jars",
        "three to eight under codes: place, shelf, word",
        Wanted::Jars,
    ),
    (
        "Present or not",
        "eight jars, half of them with a trace of one word",
        Wanted::Presence,
    ),
    (
        "How far to trust your nose",
        "hit rates, what you take for what, how sure",
        Wanted::Confidence,
    ),
];

/// The screen of what can be practised.
#[derive(Default)]
pub struct PracticeScreen {
    chosen: usize,
}

impl Screen for PracticeScreen {
    fn title(&self) -> String {
        "Practise".to_owned()
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        for (row, (name, what, _)) in BEGIN.iter().enumerate() {
            let chosen = row == self.chosen;
            let ink = if chosen { Ink::Chosen } else { Ink::Plain };
            let line = Line::of(Ink::Strong, format!("  {}  ", row + 1));
            let line = line.and(ink, format!(" {name} "));
            page.choice(line.and(Ink::Quiet, format!("  {what}")), Press::Row(row));
        }
        page.gap();
        let why = "A few minutes often beat an hour once. Those words come first that were asked least often so far.";
        page.text(Ink::Quiet, why, room.text_width());
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![Action::Accept, Action::Up, Action::Down, Action::Back]
    }

    fn explanation(&self) -> &'static str {
        "Practice never draws on beers that are still to be tasted: it asks about words and jars only. Answers are yours; nobody is ranked."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        let last = BEGIN.len() - 1;
        let row = match act {
            Act::Do(Action::Accept) => self.chosen,
            Act::Row(row) => row,
            Act::Digit(digit) => usize::from(digit).wrapping_sub(1),
            Act::Do(Action::Up) => {
                self.chosen = self.chosen.saturating_sub(1);
                return Ok(Next::Stay);
            }
            Act::Do(Action::Down) => {
                self.chosen = (self.chosen + 1).min(last);
                return Ok(Next::Stay);
            }
            Act::Do(Action::Back) => return Ok(Next::Close),
            _ => return Ok(Next::Stay),
        };
        let Some((_, _, wanted)) = BEGIN.get(row) else {
            return Ok(Next::Stay);
        };
        self.chosen = row;
        Ok(Next::Open(Box::new(PracticeSetupScreen::new(
            *wanted, home,
        )?)))
    }
}
