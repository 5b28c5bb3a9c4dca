//! Who is tasting, and what is written on the bottle.

use crate::domain::NotesSource;
use crate::domain::Taster;
use crate::screens::Asking;
use crate::screens::Next;
use crate::screens::Question;
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
        let Some(mark) = &self.mark else {
            let next = MarkScreen::new(self.source, taster, home)?;
            return Ok(Next::Replace(Box::new(next)));
        };
        let tasting = home.start_tasting(&taster, mark, self.source)?;
        Ok(Next::Replace(Box::new(TastingScreen::new(tasting, home)?)))
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
