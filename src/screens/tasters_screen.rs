//! The people who taste: how far each can trust their notes, and what each may ask of the file.

use crate::domain::Taster;
use crate::drawing::Ink;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::ForgetScreen;
use crate::screens::HomeScreen;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::TakeAwayScreen;
use crate::screens::TasterPageScreen;
use crate::screens::choices::Choices;
use crate::screens::choices::Picked;
use crate::screens::rename_screen::RenameScreen;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// The list of tasters.
#[derive(Default)]
pub struct TastersScreen {
    tasters: Vec<Taster>,
    choices: Choices,
}

impl TastersScreen {
    /// The list of those there are.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn new(home: &Home) -> Result<Self, WorkflowError> {
        Ok(Self {
            tasters: home.tasters()?,
            choices: Choices::default(),
        })
    }
}

impl Screen for TastersScreen {
    fn title(&self) -> String {
        "Tasters".to_owned()
    }

    fn refresh(&mut self, home: &mut Home) -> Result<(), WorkflowError> {
        self.tasters = home.tasters()?;
        Ok(())
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        let sentence = if self.tasters.is_empty() {
            "Nobody has tasted here yet. A tasting asks for the name."
        } else {
            "Whose page? How far the notes can be trusted, another name, everything to take away, or to be forgotten."
        };
        page.text(Ink::Plain, sentence, room.text_width());
        page.gap();
        let rows = self.tasters.iter().map(|it| {
            let since = format!("since {}", it.made_at.day());
            (it.name.to_string(), since)
        });
        self.choices.draw(&mut page, &rows.collect::<Vec<_>>());
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        if self.tasters.is_empty() {
            return vec![Action::Everything, Action::Back];
        }
        Choices::actions_with(&[Action::Everything])
    }

    fn explanation(&self) -> &'static str {
        "Everybody whose notes are kept here, and how far these can be trusted. What somebody said belongs to them: they may go by another name, take all of it away, or have it deleted. Choose who. e takes everything of everybody out as one file, or reads such a file in."
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        if act == Act::Do(Action::Everything) {
            return Ok(Next::Open(Box::new(HomeScreen::default())));
        }
        Ok(match self.choices.act(act, self.tasters.len()) {
            Picked::Row(row) => Next::Open(Box::new(OneTasterScreen {
                taster: self.tasters[row].clone(),
                choices: Choices::default(),
            })),
            Picked::Left => Next::Close,
            Picked::Moved | Picked::Nothing => Next::Stay,
        })
    }
}

/// What one taster may ask for.
struct OneTasterScreen {
    taster: Taster,
    choices: Choices,
}

/// What can be asked for, with what it means.
const WISHES: [(&str, &str); 4] = [
    (
        "How far to trust the notes",
        "what is solid, what to practise",
    ),
    (
        "Another name",
        "on every screen and in every report at once",
    ),
    (
        "Take everything away",
        "all that is kept of them, as a file",
    ),
    ("Be forgotten", "first says what would go"),
];

impl Screen for OneTasterScreen {
    fn title(&self) -> String {
        format!("Taster {}", self.taster.name)
    }

    fn refresh(&mut self, home: &mut Home) -> Result<(), WorkflowError> {
        let found = home.tasters()?.into_iter();
        if let Some(now) = found.into_iter().find(|it| it.id == self.taster.id) {
            self.taster = now;
        }
        Ok(())
    }

    fn page(&mut self, _home: &mut Home, _room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        let rows = WISHES.map(|it| (it.0.to_owned(), it.1.to_owned()));
        self.choices.draw(&mut page, &rows);
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        Choices::ACTIONS.to_vec()
    }

    fn explanation(&self) -> &'static str {
        "The page tells how far the notes can be trusted. Another name takes the place of the old one, which is kept nowhere. What is taken away is one new file, and nothing changes here. Who is forgotten is gone for good; their answers to blind tests stay as those of nobody, because a group's result rests on such answers."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        let name = self.taster.name.to_string();
        Ok(match self.choices.act(act, WISHES.len()) {
            Picked::Row(0) => {
                home.ensure_page_may_be_told(&name)?;
                Next::Open(Box::new(TasterPageScreen::new(&name)))
            }
            Picked::Row(1) => Next::Open(Box::new(RenameScreen::new(name))),
            Picked::Row(2) => Next::Open(Box::new(TakeAwayScreen::new(name))),
            Picked::Row(_) => Next::Open(Box::new(ForgetScreen::new(home.forgetting(&name)?))),
            Picked::Left => Next::Close,
            Picked::Moved | Picked::Nothing => Next::Stay,
        })
    }
}

#[cfg(test)]
mod tests {
    use crate::domain::NotesSource;
    use crate::screens::App;
    use crate::screens::press_line;
    use crate::screens::told;
    use crate::screens::trial::keys;
    use crate::screens::trial::picture;
    use crate::screens::trial::started;

    use super::*;

    /// Ana and Ben have locked notes on T1.
    fn tasted() -> App {
        let mut home = Home::trial_with_a_batch();
        for name in ["Ana", "Ben"] {
            let taster = home.add_taster(name).unwrap();
            let mut tasting = home.start_tasting(&taster, "T1", NotesSource::App).unwrap();
            home.lock(&mut tasting).unwrap();
        }
        started(home)
    }

    #[test]
    fn a_new_name_is_on_the_list_of_notes_as_soon_as_one_is_back_there() {
        let mut app = tasted();
        keys(&mut app, "5p");
        let list = picture(&mut app);
        assert!(
            list.contains("Ana") && list.contains("since 2026-11-01"),
            "{list}"
        );
        keys(&mut app, "12Ben⏎");
        let refused = picture(&mut app);
        assert!(
            refused.contains("a taster called “Ben” is there already"),
            "{refused}"
        );
        keys(&mut app, "⌫⌫⌫Fox⏎");
        let done = picture(&mut app);
        assert!(done.contains("Ana is now Fox"), "{done}");
        keys(&mut app, "⏎");
        assert!(picture(&mut app).contains("Taster Fox"));
        keys(&mut app, "⎋⎋");
        let notes = picture(&mut app);
        assert!(notes.contains("Fox") && !notes.contains("Ana"), "{notes}");
    }

    #[test]
    fn only_the_typed_name_forgets_and_then_nothing_of_the_person_is_on_any_page() {
        let mut app = tasted();
        keys(&mut app, "5p14");
        let before = picture(&mut app);
        for part in [
            "1 set of notes",
            "What would stay:",
            "Type the name to do it",
        ] {
            assert!(before.contains(part), "{part}\n{before}");
        }
        keys(&mut app, "⏎");
        assert!(picture(&mut app).contains("Nothing was done."));
        keys(&mut app, "Ben⏎");
        assert!(picture(&mut app).contains("Nothing was done."));
        assert!(app.home().taster("Ana").is_ok());
        keys(&mut app, "⌫⌫⌫ana⏎");
        let done = picture(&mut app);
        assert!(done.contains("Ana is forgotten."), "{done}");
        keys(&mut app, "⏎");
        assert!(picture(&mut app).contains("Taste"));
        keys(&mut app, "5");
        let notes = picture(&mut app);
        assert!(notes.contains("Ben") && !notes.contains("Ana"), "{notes}");
        assert!(app.home().taster("Ana").is_err());
    }

    #[test]
    fn everything_of_a_taster_is_written_into_the_file_that_is_typed() {
        let folder = tempfile::tempdir().unwrap();
        let file = |name: &str| folder.path().join(name).display().to_string();
        let mut app = tasted();
        for (name, begins) in [("a.json", "{"), ("a.CSV", "taster,sitting")] {
            keys(&mut app, &format!("5p13{}⏎", file(name)));
            let done = picture(&mut app).replace('\n', " ");
            assert!(done.contains("Written"), "{done}");
            let text = std::fs::read_to_string(file(name)).unwrap();
            assert!(text.starts_with(begins), "{text}");
            keys(&mut app, "⏎⎋⎋⎋");
        }
        keys(&mut app, &format!("5p13{}⏎", file("a.json")));
        let refused = picture(&mut app).replace('\n', " ");
        assert!(refused.contains("it is there already"), "{refused}");
    }

    #[test]
    fn who_has_only_typed_a_name_is_on_the_list_too_and_esc_leads_back_without_loss() {
        let mut app = started(Home::trial_with_a_batch());
        keys(&mut app, "5p");
        assert!(picture(&mut app).contains("Nobody has tasted here yet."));
        keys(&mut app, "⎋⎋1Ana⏎⎋⎋5p14");
        let page = picture(&mut app);
        assert!(
            page.contains("Forget Ana?") && page.contains("the name"),
            "{page}"
        );
        keys(&mut app, "An⎋");
        assert!(picture(&mut app).contains("Taster Ana"));
        assert!(app.home().taster("Ana").is_ok());
    }

    #[test]
    fn in_lines_the_same_words_are_told_and_the_same_name_forgets() {
        let mut app = tasted();
        for line in ["5", "/tasters", "2", "4"] {
            press_line(&mut app, line);
            told(&mut app);
        }
        let page = told(&mut app);
        assert!(page.contains("Forgetting Ben would take out"), "{page}");
        press_line(&mut app, "Ben");
        assert!(told(&mut app).contains("Ben is forgotten."));
    }
}
