//! Who is tasting, and what is written on the bottle.

use crate::domain::NotesSource;
use crate::domain::Taster;
use crate::screens::Asking;
use crate::screens::Next;
use crate::screens::PourerScreen;
use crate::screens::Question;
use crate::screens::Screen;
use crate::screens::TastingScreen;
use crate::screens::TwoBottlesScreen;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// The screen that asks for a name.
pub struct TasterScreen {
    source: NotesSource,
    asking: Asking,
    next: AfterName,
}

/// What comes once it is known who tastes.
enum AfterName {
    /// The question for the bottle.
    Mark,
    /// This bottle.
    Bottle(String),
    /// The question for two bottles.
    TwoMarks,
    /// These two.
    TwoBottles([String; 2]),
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
            next: AfterName::Mark,
        })
    }

    /// Asks for the taster of a bottle whose mark is known.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn for_mark(source: NotesSource, mark: &str, home: &Home) -> Result<Self, WorkflowError> {
        Ok(Self {
            next: AfterName::Bottle(mark.to_owned()),
            ..Self::new(source, home)?
        })
    }

    /// Asks for the taster first and for two bottles after.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn for_two(source: NotesSource, home: &Home) -> Result<Self, WorkflowError> {
        Ok(Self {
            next: AfterName::TwoMarks,
            ..Self::new(source, home)?
        })
    }

    /// Asks for the taster of two bottles whose marks are known.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn for_marks(
        source: NotesSource,
        marks: [String; 2],
        home: &Home,
    ) -> Result<Self, WorkflowError> {
        Ok(Self {
            next: AfterName::TwoBottles(marks),
            ..Self::new(source, home)?
        })
    }
}

impl Question for TasterScreen {
    fn heading(&self) -> String {
        "Who is tasting?".to_owned()
    }

    fn asked(&self) -> &'static str {
        "A name you like to go by; it need not be your real one."
    }

    fn purpose(&self) -> &'static str {
        "Your notes are kept under this name, so that the app can learn how steadily you taste. Type a new name, or choose one with the arrows."
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn accept(&mut self, name: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        let taster = home.taster_or_new(name)?;
        let next: Box<dyn Screen> = match &self.next {
            AfterName::Mark => Box::new(MarkScreen::new(self.source, taster, home)?),
            AfterName::Bottle(mark) => {
                let tasting = home.start_tasting(&taster, mark, self.source)?;
                Box::new(TastingScreen::new(tasting, home)?)
            }
            AfterName::TwoMarks => Box::new(TwoBottlesScreen::new(self.source, taster, home)?),
            AfterName::TwoBottles(marks) => {
                PourerScreen::new(self.source, taster, marks.clone()).screen(home)?
            }
        };
        Ok(Next::Replace(next))
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

impl Question for MarkScreen {
    fn heading(&self) -> String {
        format!("{}: what is written on the bottle?", self.taster.name)
    }

    fn asked(&self) -> &'static str {
        "The cap mark. If there is none, write anything you will find again; a recipe can be attached later."
    }

    fn purpose(&self) -> &'static str {
        "The cap mark is the only name of the beer you will see until you lock your notes. From Enter on, its recipe, its brewer's hopes and everybody's notes are sealed."
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn accept(&mut self, mark: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        let tasting = home.start_tasting(&self.taster, mark, self.source)?;
        Ok(Next::Replace(Box::new(TastingScreen::new(tasting, home)?)))
    }
}
