//! What can be practised: words without a glass, jars, present or not; and how far one can trust it.

use crate::drawing::Ink;
use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::EveningSetupScreen;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::PracticeSetupScreen;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::choices::Choices;
use crate::screens::choices::Picked;
use crate::screens::practice_setup_screen::Wanted;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// What can be begun, with what it takes.
const BEGIN: [(&str, &str, Wanted); 6] = [
    ("Words", "five minutes, no glass and no jar", Wanted::Words),
    ("Jars", "place, shelf and word, under codes", Wanted::Jars),
    (
        "Present or not",
        "a trace of one word, or none",
        Wanted::Presence,
    ),
    (
        "From weak to strong",
        "five glasses of one taste, in order",
        Wanted::Strength,
    ),
    (
        "An evening",
        "up to twelve people, planned",
        Wanted::Evening,
    ),
    (
        "How far to trust your nose",
        "hit rates and certainty",
        Wanted::Confidence,
    ),
];

/// The screen of what can be practised.
#[derive(Default)]
pub struct PracticeScreen {
    choices: Choices,
    /// What five minutes would ask of the latest taster; worked out once.
    outlook: Option<String>,
}

impl PracticeScreen {
    /// What five minutes of words would ask now.
    fn outlook(&mut self, home: &mut Home) -> Result<String, WorkflowError> {
        if let Some(outlook) = &self.outlook {
            return Ok(outlook.clone());
        }
        let outlook = match home.latest_taster()? {
            Some(taster) => {
                let reasons = home.practice_outlook(&taster)?;
                format!(
                    "For {} now: {}.",
                    taster.name,
                    reports::outlook_words(&reasons)
                )
            }
            None => "First come the words that you would otherwise forget.".to_owned(),
        };
        self.outlook = Some(outlook.clone());
        Ok(outlook)
    }
}

impl Screen for PracticeScreen {
    fn title(&self) -> String {
        "Practise".to_owned()
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        let owned = |it: &(&str, &str, Wanted)| (it.0.to_owned(), it.1.to_owned());
        let rows: Vec<(String, String)> = BEGIN.iter().map(owned).collect();
        self.choices.draw(&mut page, &rows);
        page.gap();
        page.text(Ink::Quiet, &self.outlook(home)?, room.text_width());
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        Choices::ACTIONS.to_vec()
    }

    fn explanation(&self) -> &'static str {
        "Practice never draws on beers that are still to be tasted. Two thirds of the questions go where an answer keeps most for four weeks from now; a third takes its turn, so that no word is given up. Words that your last beers needed weigh more. Answers are yours; nobody is ranked."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        let row = match self.choices.act(act, BEGIN.len()) {
            Picked::Row(row) => row,
            Picked::Left => return Ok(Next::Close),
            Picked::Moved | Picked::Nothing => return Ok(Next::Stay),
        };
        let wanted = BEGIN[row].2;
        // What is answered there changes what would be asked next.
        self.outlook = None;
        let screen: Box<dyn Screen> = match wanted {
            Wanted::Evening => Box::new(EveningSetupScreen::new(home)?),
            _ => Box::new(PracticeSetupScreen::new(wanted, home)?),
        };
        Ok(Next::Open(screen))
    }
}
