//! Who is tasting, and what is written on the bottle.

use crate::domain::NotesSource;
use crate::domain::Taster;
use crate::drawing::Ink;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Asking;
use crate::screens::Input;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::TastingScreen;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// The screen that asks for a name.
pub struct TasterScreen {
    source: NotesSource,
    asking: Asking,
    mark: Option<String>,
}

impl TasterScreen {
    /// Asks for the taster first and the cap mark after.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn new(source: NotesSource, home: &Home) -> Result<Self, WorkflowError> {
        let mut names: Vec<String> = Vec::new();
        let latest = home.latest_taster()?;
        // Whoever tasted last stands first: most often it is the same person again.
        names.extend(latest.iter().map(|it| it.name.to_string()));
        let others = home
            .tasters()?
            .into_iter()
            .filter(|it| Some(it) != latest.as_ref());
        names.extend(others.map(|it| it.name.to_string()));
        let asking = Asking::among(names);
        let asking = match &latest {
            Some(taster) => asking.choosing(taster.name.as_str()),
            None => asking,
        };
        Ok(Self {
            source,
            asking,
            mark: None,
        })
    }

    /// Asks for the taster of a bottle whose mark is known.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn for_mark(source: NotesSource, mark: &str, home: &Home) -> Result<Self, WorkflowError> {
        Ok(Self {
            mark: Some(mark.to_owned()),
            ..Self::new(source, home)?
        })
    }

    fn accept(&self, name: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        let taster = home.taster_or_new(name)?;
        match &self.mark {
            Some(mark) => {
                let tasting = home.start_tasting(&taster, mark, self.source)?;
                Ok(Next::Replace(Box::new(TastingScreen::new(tasting, home)?)))
            }
            None => Ok(Next::Replace(Box::new(MarkScreen::new(
                self.source,
                taster,
                home,
            )?))),
        }
    }
}

impl Screen for TasterScreen {
    fn title(&self) -> String {
        "Who is tasting?".to_owned()
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        page.text(
            Ink::Plain,
            "A name you like to go by; it need not be your real one.",
            room.text_width(),
        );
        page.gap();
        self.asking.draw(&mut page);
        Ok(page)
    }

    fn input(&self) -> Input {
        Input::Text
    }

    fn is_typing(&self) -> bool {
        self.asking.is_typing()
    }

    fn actions(&self) -> Vec<Action> {
        self.asking.actions()
    }

    fn explanation(&self) -> &'static str {
        "Your notes are kept under this name, so that the app can learn how steadily you taste. Type a new name, or choose one with the arrows."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match answered(&mut self.asking, act) {
            Answered::With(name) => self.accept(&name, home),
            Answered::NotYet => Ok(Next::Stay),
            Answered::Back => Ok(Next::Close),
        }
    }

    fn paste(&mut self, text: &str) {
        self.asking.paste(text);
    }
}

/// The screen that asks for the cap mark.
pub struct MarkScreen {
    source: NotesSource,
    taster: Taster,
    asking: Asking,
}

impl MarkScreen {
    /// Asks what is written on the bottle.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn new(
        source: NotesSource,
        taster: Taster,
        home: &mut Home,
    ) -> Result<Self, WorkflowError> {
        let marks = home.marks()?;
        Ok(Self {
            source,
            taster,
            asking: Asking::among(marks),
        })
    }
}

impl Screen for MarkScreen {
    fn title(&self) -> String {
        format!("{}: what is written on the bottle?", self.taster.name)
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        page.text(Ink::Plain, "The cap mark. If there is none, write anything you will find again; a recipe can be attached later.", room.text_width());
        page.gap();
        self.asking.draw(&mut page);
        Ok(page)
    }

    fn input(&self) -> Input {
        Input::Text
    }

    fn is_typing(&self) -> bool {
        self.asking.is_typing()
    }

    fn actions(&self) -> Vec<Action> {
        self.asking.actions()
    }

    fn explanation(&self) -> &'static str {
        "The cap mark is the only name of the beer you will see until you lock your notes. From Enter on, its recipe, its brewer's hopes and everybody's notes are sealed."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match answered(&mut self.asking, act) {
            Answered::With(mark) => {
                let tasting = home.start_tasting(&self.taster, &mark, self.source)?;
                Ok(Next::Replace(Box::new(TastingScreen::new(tasting, home)?)))
            }
            Answered::NotYet => Ok(Next::Stay),
            Answered::Back => Ok(Next::Close),
        }
    }

    fn paste(&mut self, text: &str) {
        self.asking.paste(text);
    }
}

/// Where a question that is being typed stands.
pub(super) enum Answered {
    /// It was answered.
    With(String),
    /// Not yet.
    NotYet,
    /// The taster went back.
    Back,
}

/// Lets a key work on a question that is typed.
pub(super) fn answered(asking: &mut Asking, act: Act) -> Answered {
    match act {
        Act::Do(Action::Accept) => return Answered::With(asking.answer()),
        Act::Do(Action::Back) => return Answered::Back,
        Act::Do(Action::Undo) => asking.rub_out(),
        Act::Do(Action::Up) => asking.turn(-1),
        Act::Do(Action::Down) => asking.turn(1),
        Act::Typed(c) => asking.push(c),
        Act::Row(row) => {
            if let Some(name) = asking.name_in(row) {
                return Answered::With(name);
            }
        }
        Act::Do(_) | Act::Digit(_) => {}
    }
    Answered::NotYet
}
