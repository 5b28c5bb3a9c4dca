//! One evening: the leader's page, what everybody may see, answers on screen and from paper, and what was gained.

use crate::domain::Taster;
use crate::drawing::Ink;
use crate::drawing::capitalised;
use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::CourseGainScreen;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::PaperScreen;
use crate::screens::PracticeTableScreen;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::choices::Choices;
use crate::screens::choices::Picked;
use crate::screens::leader_screen::leader_page;
use crate::screens::print_offers::Offer;
use crate::screens::print_screen::offered_on_paper;
use crate::workflow::Evening;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// What can be done before the parts of the evening.
const BEFORE: [(&str, &str); 2] = [
    ("The leader's page", "not for those who learn"),
    ("For all to see", "what is done now"),
];

/// What can be done after the parts of the evening.
const AFTER: [(&str, &str); 3] = [
    ("Type in sheets", "one line a code"),
    ("All sheets are in", "closes the answers and tells"),
    ("What was gained", "each one alone"),
];

/// One evening of a course.
pub struct EveningScreen {
    evening: Evening,
    choices: Choices,
    /// Whether closing was asked for once.
    asked_twice: bool,
}

impl EveningScreen {
    /// The screen of an evening.
    #[must_use]
    pub fn new(evening: Evening) -> Self {
        Self {
            evening,
            // A second Enter by habit shows what all may see, never the key.
            choices: Choices::at(1),
            asked_twice: false,
        }
    }

    fn rows(&self) -> Vec<(String, String)> {
        let owned = |it: &(&str, &str)| (it.0.to_owned(), it.1.to_owned());
        let mut rows: Vec<(String, String)> = BEFORE.iter().map(owned).collect();
        rows.extend(self.evening.parts.iter().map(|it| {
            let name = format!("{} on this screen", capitalised(it.part.word()));
            (name, "each one answers alone".to_owned())
        }));
        rows.extend(AFTER.iter().map(owned));
        rows
    }

    /// Closes the answers; the first time it only says who is missing.
    fn close(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        let missing = home.unfinished(&self.evening)?;
        let names: Vec<&str> = missing.iter().map(|it| it.name.as_str()).collect();
        if !self.asked_twice {
            self.asked_twice = true;
            let who = match names.as_slice() {
                [] => "Everybody has answered.".to_owned(),
                some => format!("Not finished: {}.", some.join(", ")),
            };
            return Ok(Next::Say(format!(
                "{who} Once more closes the answers for good and tells the jars."
            )));
        }
        home.close_answers(&self.evening)?;
        Ok(Next::Say(
            "Closed. What was right is told under each part, the check after the last meeting."
                .to_owned(),
        ))
    }

    fn open(&mut self, row: usize, home: &mut Home) -> Result<Next, WorkflowError> {
        let evening = self.evening.clone();
        let parts = evening.parts.len();
        let screen: Box<dyn Screen> = match row {
            0 => return leader_page(evening, home),
            1 => Box::new(SharedScreen { evening, at: 0 }),
            part if part < 2 + parts => {
                let sitting = evening.parts[part - 2].sitting.clone();
                Box::new(PracticeTableScreen::new(sitting, evening.present))
            }
            row if row == 2 + parts => Box::new(EveningPeopleScreen::new(evening, ToDo::Type)),
            row if row == 3 + parts => return self.close(home),
            _ => Box::new(EveningPeopleScreen::new(evening, ToDo::Gain)),
        };
        Ok(Next::Open(screen))
    }
}

impl Screen for EveningScreen {
    fn title(&self) -> String {
        reports::evening_title(&self.evening)
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        let people = self.evening.present.len();
        let text = if home.is_closed(&self.evening)? {
            format!("Closed. {people} people were there.")
        } else {
            let all = people - home.unfinished(&self.evening)?.len();
            format!(
                "{people} people, {} minutes. {all} of {people} have answered everything.",
                self.evening.lasts()
            )
        };
        page.text(Ink::Plain, &text, room.text_width());
        page.gap();
        self.choices.draw(&mut page, &self.rows());
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        Choices::actions_with(&[Action::Print])
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        (action == Action::Print).then_some("sheets, labels on paper")
    }

    fn explanation(&self) -> &'static str {
        "First read the leader's page alone and prepare. Then show the second page to all. People answer on this screen one after the other, or on paper (o prints the sheets, and labels for the jars), which is typed in during the pause. The jars are told once all sheets are in; the check never before the last meeting."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        if act == Act::Do(Action::Print) {
            let course = self.evening.course.name.to_string();
            let both = ["answer-sheets", "evening-labels"];
            let offers = both.map(|it| Offer::of(it, std::slice::from_ref(&course)));
            return Ok(offered_on_paper(offers.into_iter().collect(), home));
        }
        let rows = self.rows().len();
        match self.choices.act(act, rows) {
            Picked::Row(row) => self.open(row, home),
            Picked::Left => Ok(Next::Close),
            Picked::Moved | Picked::Nothing => Ok(Next::Stay),
        }
    }
}

/// The page for all to see, block after block.
struct SharedScreen {
    evening: Evening,
    at: usize,
}

impl Screen for SharedScreen {
    fn title(&self) -> String {
        reports::evening_title(&self.evening)
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        let cells = room.text_width().saturating_sub(1);
        page.lines(reports::shared_lines(
            &self.evening,
            self.at,
            home.wheel(),
            cells,
        ));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![Action::Left, Action::Right, Action::Back]
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        match action {
            Action::Left => Some("before"),
            Action::Right => Some("next"),
            _ => None,
        }
    }

    fn explanation(&self) -> &'static str {
        "This page is for all to see. It holds nobody's answers and says nothing of what is in a jar."
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        let last = self.evening.blocks.len().saturating_sub(1);
        match act {
            Act::Do(Action::Left) => self.at = self.at.saturating_sub(1),
            Act::Do(Action::Right) => self.at = (self.at + 1).min(last),
            Act::Do(Action::Back) => return Ok(Next::Close),
            _ => return Ok(Next::Stay),
        }
        Ok(Next::Top)
    }
}

/// What is done for the person who is chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum ToDo {
    /// Their sheet is typed in.
    Type,
    /// What they gained is told.
    Gain,
}

/// Who takes part in an evening, to choose one.
struct EveningPeopleScreen {
    evening: Evening,
    to_do: ToDo,
    choices: Choices,
}

impl EveningPeopleScreen {
    fn new(evening: Evening, to_do: ToDo) -> Self {
        Self {
            evening,
            to_do,
            choices: Choices::default(),
        }
    }

    fn row(&self, home: &Home, taster: &Taster) -> Result<(String, String), WorkflowError> {
        let what = match self.to_do {
            ToDo::Type => {
                let rows = home.paper_rows(&self.evening, taster)?;
                let done = rows.iter().filter(|it| it.answer.is_some()).count();
                format!("{done} of {} answers", rows.len())
            }
            ToDo::Gain => String::new(),
        };
        Ok((taster.name.to_string(), what))
    }
}

impl Screen for EveningPeopleScreen {
    fn title(&self) -> String {
        match self.to_do {
            ToDo::Type => "Whose sheet?".to_owned(),
            ToDo::Gain => "What was gained: one after the other, alone".to_owned(),
        }
    }

    fn refresh(&mut self, home: &mut Home) -> Result<(), WorkflowError> {
        if self.to_do == ToDo::Gain {
            return Ok(());
        }
        // The next sheet that is not typed in yet stands out.
        for (row, taster) in self.evening.present.iter().enumerate() {
            let rows = home.paper_rows(&self.evening, taster)?;
            if rows.iter().any(|it| it.answer.is_none()) {
                self.choices = Choices::at(row);
                break;
            }
        }
        Ok(())
    }

    fn page(&mut self, home: &mut Home, _room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        let people = self.evening.present.iter();
        let rows: Result<Vec<_>, _> = people.map(|it| self.row(home, it)).collect();
        self.choices.draw(&mut page, &rows?);
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        Choices::ACTIONS.to_vec()
    }

    fn explanation(&self) -> &'static str {
        match self.to_do {
            ToDo::Type => "Choose a name, then type one line for each code of that sheet.",
            ToDo::Gain => "Pass the screen round: what somebody gained is theirs alone to see.",
        }
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match self.choices.act(act, self.evening.present.len()) {
            Picked::Row(row) => {
                let taster = self.evening.present[row].clone();
                let screen: Box<dyn Screen> = match self.to_do {
                    ToDo::Type => Box::new(PaperScreen::new(self.evening.clone(), taster, home)?),
                    ToDo::Gain => {
                        let gain = home.course_gain(&self.evening.course, &taster)?;
                        Box::new(CourseGainScreen::new(gain))
                    }
                };
                Ok(Next::Open(screen))
            }
            Picked::Left => Ok(Next::Close),
            Picked::Moved | Picked::Nothing => Ok(Next::Stay),
        }
    }
}
