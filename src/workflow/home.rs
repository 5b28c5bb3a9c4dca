//! A home: the data folder opened, with the wheel, the catalogue, the clock and the dice that every verb uses.

use std::cell::RefCell;
use std::collections::HashMap;
use std::collections::HashSet;
use std::ffi::OsString;
use std::path::Path;
use std::path::PathBuf;
use std::sync::Arc;

use crate::domain::Catalogue;
use crate::domain::Day;
use crate::domain::Hint;
use crate::domain::Moment;
use crate::domain::Recipe;
use crate::domain::RecipeVersionId;
use crate::domain::Settings;
use crate::domain::SittingId;
use crate::domain::Taster;
use crate::domain::Wheel;
use crate::formats::Problem;
use crate::profile::FamilyGifts;
use crate::statistics::Dice;
use crate::storage::CodedNotes;
use crate::storage::NotesRow;
use crate::storage::Store;
use crate::storage::default_home;
use crate::workflow::Clock;
use crate::workflow::Listener;
use crate::workflow::WorkflowError;
use crate::workflow::learning::Learning;
use crate::workflow::library::Library;
use crate::workflow::local_day;
use crate::workflow::remembered::Remembered;
use crate::workflow::taster_naming::TasterNaming;
use crate::workflow::taster_noise::TasterNoise;

/// The opened data folder.
pub struct Home {
    pub(crate) store: Store,
    pub(crate) clock: Clock,
    pub(crate) dice: Dice,
    pub(super) listener: Listener,
    pub(super) library: Library,
    folder: Option<PathBuf>,
    /// Kept recipes that were parsed before; a kept document never changes.
    pub(crate) recipes: RefCell<HashMap<RecipeVersionId, Arc<Recipe>>>,
    /// The notes that nobody locked or left.
    pub(super) open: Remembered<Vec<NotesRow>>,
    /// The notes on coded glasses.
    pub(super) coded: Remembered<Vec<CodedNotes>>,
    /// The sittings of which it is told what was in their glasses.
    pub(super) told: Remembered<HashSet<SittingId>>,
    /// The noise of all tasters.
    pub(super) noise: Remembered<TasterNoise>,
    /// How reliably all tasters name words.
    pub(super) naming: Remembered<TasterNaming>,
    /// What the predictions have learnt of each taster.
    pub(super) learnings: Remembered<Vec<(Taster, Learning)>>,
}

impl Home {
    /// Letters in a drawn id: 100 bits, so that two homes never draw the same.
    pub(super) const ID_LETTERS: usize = 20;

    /// Opens a data folder, making it on first use.
    ///
    /// # Errors
    /// The folder or its file cannot be opened, or a descriptor file of the user has problems.
    pub fn open(folder: &Path, mut clock: Clock, dice: Dice) -> Result<Self, WorkflowError> {
        let store = Store::open(folder, &clock.now())?;
        let library = Library::open(Some(folder))?;
        Ok(Self {
            store,
            clock,
            dice,
            listener: Listener::default(),
            library,
            folder: Some(folder.to_owned()),
            recipes: RefCell::default(),
            open: Remembered::default(),
            coded: Remembered::default(),
            told: Remembered::default(),
            noise: Remembered::default(),
            naming: Remembered::default(),
            learnings: Remembered::default(),
        })
    }

    /// A home in memory, which forgets everything when dropped.
    ///
    /// # Errors
    /// The store cannot be made.
    pub fn in_memory(clock: Clock, dice: Dice) -> Result<Self, WorkflowError> {
        let library = Library::open(None)?;
        Ok(Self {
            store: Store::in_memory()?,
            clock,
            dice,
            listener: Listener::default(),
            library,
            folder: None,
            recipes: RefCell::default(),
            open: Remembered::default(),
            coded: Remembered::default(),
            told: Remembered::default(),
            noise: Remembered::default(),
            naming: Remembered::default(),
            learnings: Remembered::default(),
        })
    }

    /// Forgets what is kept in memory, after the wheel and the ingredients became others. What somebody writes needs none
    /// of this: a kept recipe never changes, and what is remembered of the file is drawn anew by its stamp. But neither
    /// recipes nor conclusions know with which words and ingredients they were read.
    pub(super) fn forget_conclusions(&self) {
        self.recipes.borrow_mut().clear();
        self.open.forget();
        self.coded.forget();
        self.told.forget();
        self.noise.forget();
        self.naming.forget();
        self.learnings.forget();
    }

    /// The same home, with somebody who hears how far long verbs have come.
    #[must_use]
    pub fn heard_by(self, listener: Listener) -> Self {
        Self { listener, ..self }
    }

    /// A home over another store, whose clock stands still.
    pub(super) fn over(&mut self, store: Store, library: Library) -> Self {
        let now = self.now();
        Self {
            store,
            clock: Clock::from_fn(move || now),
            dice: Dice::from_seed(0),
            listener: self.listener.clone(),
            library,
            folder: None,
            recipes: RefCell::default(),
            open: Remembered::default(),
            coded: Remembered::default(),
            told: Remembered::default(),
            noise: Remembered::default(),
            naming: Remembered::default(),
            learnings: Remembered::default(),
        }
    }

    /// The wheel.
    #[must_use]
    pub fn wheel(&self) -> &Wheel {
        self.library.wheel()
    }

    /// The ingredient catalogue.
    #[must_use]
    pub fn catalogue(&self) -> &Catalogue {
        self.library.catalogue()
    }

    /// What this kitchen settled for itself.
    #[must_use]
    pub const fn settings(&self) -> &Settings {
        &self.library.settings
    }

    /// What of the settings file cannot be read, by line and column; the usual holds for it.
    #[must_use]
    pub fn unread_settings(&self) -> &[Problem] {
        &self.library.unread
    }

    /// Every hint that a log may give.
    pub(super) fn hints(&self) -> &[Hint] {
        self.library.hints()
    }

    /// What families of ingredients usually bring.
    pub(crate) fn families(&self) -> &FamilyGifts {
        self.library.families()
    }

    /// The version of wheel and ingredients: the first letters of the hash over all their texts.
    pub(crate) fn catalogue_version(&self) -> &str {
        self.library.version()
    }

    /// The data folder; none for a home in memory.
    #[must_use]
    pub fn folder(&self) -> Option<&Path> {
        self.folder.as_deref()
    }

    /// True while nobody and nothing has been added.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn is_new(&self) -> Result<bool, WorkflowError> {
        Ok(self.store.is_empty()?)
    }

    /// Reads ahead what the next key may ask for.
    pub fn get_ready(&self) {
        self.library.hints();
        self.library.families();
    }

    /// The time now.
    pub fn now(&mut self) -> Moment {
        self.clock.now()
    }

    /// Today, on the calendar of this machine.
    pub fn today(&mut self) -> Day {
        local_day(self.clock.now())
    }

    /// Draws an id.
    pub(crate) fn draw_id(&mut self) -> String {
        self.dice.letters(Self::ID_LETTERS)
    }
}

/// The data folder: the one asked for, or the one that the environment names.
///
/// # Errors
/// Nothing is asked for and the environment names none.
pub fn home_folder(
    asked: Option<PathBuf>,
    lookup: impl Fn(&str) -> Option<OsString>,
) -> Result<PathBuf, WorkflowError> {
    match asked {
        Some(folder) => Ok(folder),
        None => Ok(default_home(lookup)?),
    }
}
