//! Wheel, ingredients and hints: as built in, with the user's files after them, read when they are first asked for.

use std::cell::OnceCell;
use std::path::Path;

use crate::domain::Catalogue;
use crate::domain::Hint;
use crate::domain::Settings;
use crate::domain::Wheel;
use crate::formats::Problem;
use crate::formats::document_hash;
use crate::formats::read_catalogue;
use crate::formats::read_hints;
use crate::formats::read_wheel;
use crate::formats::readable_settings;
use crate::profile::FamilyGifts;
use crate::storage::builtin_hints;
use crate::storage::builtin_ingredient_files;
use crate::storage::builtin_wheel_files;
use crate::storage::user_hint_files;
use crate::storage::user_ingredient_files;
use crate::storage::user_settings_file;
use crate::storage::user_wheel_files;
use crate::workflow::WorkflowError;

/// Letters of the hash that names a version of wheel and ingredients.
const VERSION_LETTERS: usize = 12;

/// Why reading late cannot fail.
const SOUND: &str = "what is built in is sound, as the tests read all of it; files of one's own were read when the home was opened";

/// A file: its path for messages, and its text.
type OwnText = (String, String);

/// Wheel and ingredients as built in, with the user's files after them.
///
/// To read them takes as long as all else that comes before a first picture, which shows neither a word nor an
/// ingredient. So they are read when they are first asked for. Files of one's own are read at once all the same,
/// because what is wrong in them must be told at once.
pub(super) struct Library {
    own_words: Vec<OwnText>,
    own_ingredients: Vec<OwnText>,
    own_hints: Vec<OwnText>,
    wheel: OnceCell<Wheel>,
    ingredients: OnceCell<(Catalogue, FamilyGifts)>,
    hints: OnceCell<Vec<Hint>>,
    version: OnceCell<String>,
    pub(super) settings: Settings,
    /// What of the settings file cannot be read; the usual holds for it.
    pub(super) unread: Vec<Problem>,
}

impl Library {
    /// The library of a home; of none, what is built in.
    ///
    /// # Errors
    /// A file of the user's cannot be read, or every problem of every file of one kind.
    pub(super) fn open(folder: Option<&Path>) -> Result<Self, WorkflowError> {
        let own = |read: fn(&Path) -> Result<Vec<OwnText>, _>| {
            folder.map_or_else(|| Ok(Vec::new()), read)
        };
        let settings = folder.map_or(Ok(None), user_settings_file)?;
        let settings = settings.map(|(file, text)| readable_settings(&file, &text));
        let (settings, unread) = settings.unwrap_or_default();
        let library = Self {
            own_words: own(user_wheel_files)?,
            own_ingredients: own(user_ingredient_files)?,
            own_hints: own(user_hint_files)?,
            wheel: OnceCell::new(),
            ingredients: OnceCell::new(),
            hints: OnceCell::new(),
            version: OnceCell::new(),
            settings,
            unread,
        };
        library.read_own()?;
        Ok(library)
    }

    /// Reads what files of one's own change.
    fn read_own(&self) -> Result<(), WorkflowError> {
        let told = |problems| WorkflowError::Problems { problems };
        if !self.own_words.is_empty() {
            let wheel = self.read_wheel().map_err(told)?;
            self.wheel.get_or_init(|| wheel);
        }
        // Ingredients and hints speak of words.
        if !(self.own_words.is_empty() && self.own_ingredients.is_empty()) {
            let ingredients = self.read_ingredients().map_err(told)?;
            self.ingredients.get_or_init(|| ingredients);
        }
        if !(self.own_words.is_empty() && self.own_hints.is_empty()) {
            let hints = self.read_hints().map_err(told)?;
            self.hints.get_or_init(|| hints);
        }
        Ok(())
    }

    fn read_wheel(&self) -> Result<Wheel, Vec<Problem>> {
        read_wheel(&joined(builtin_wheel_files(), &self.own_words))
    }

    fn read_ingredients(&self) -> Result<(Catalogue, FamilyGifts), Vec<Problem>> {
        let own = joined(&[], &self.own_ingredients);
        let catalogue = read_catalogue(builtin_ingredient_files(), &own, self.wheel())?;
        let families = FamilyGifts::of(&catalogue);
        Ok((catalogue, families))
    }

    fn read_hints(&self) -> Result<Vec<Hint>, Vec<Problem>> {
        read_hints(&joined(&[builtin_hints()], &self.own_hints), self.wheel())
    }

    /// The wheel.
    pub(super) fn wheel(&self) -> &Wheel {
        self.wheel.get_or_init(|| self.read_wheel().expect(SOUND))
    }

    fn ingredients(&self) -> &(Catalogue, FamilyGifts) {
        self.ingredients
            .get_or_init(|| self.read_ingredients().expect(SOUND))
    }

    /// The ingredient catalogue.
    pub(super) fn catalogue(&self) -> &Catalogue {
        &self.ingredients().0
    }

    /// What families of ingredients usually bring.
    pub(super) fn families(&self) -> &FamilyGifts {
        &self.ingredients().1
    }

    /// Every hint that a log may give.
    pub(super) fn hints(&self) -> &[Hint] {
        self.hints.get_or_init(|| self.read_hints().expect(SOUND))
    }

    /// The version of wheel and ingredients: the first letters of the hash over all their texts.
    pub(super) fn version(&self) -> &str {
        self.version.get_or_init(|| {
            let words = joined(builtin_wheel_files(), &self.own_words);
            let ingredients = joined(builtin_ingredient_files(), &self.own_ingredients);
            let texts: Vec<&str> = words.iter().chain(&ingredients).map(|it| it.1).collect();
            let mut version = document_hash(&texts.concat());
            version.truncate(VERSION_LETTERS);
            version
        })
    }
}

fn joined<'a>(
    builtin: &[(&'static str, &'static str)],
    user: &'a [OwnText],
) -> Vec<(&'a str, &'a str)> {
    let user = user
        .iter()
        .map(|(name, text)| (name.as_str(), text.as_str()));
    builtin.iter().copied().chain(user).collect()
}
