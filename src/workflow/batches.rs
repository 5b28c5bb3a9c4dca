//! Batches: added from a recipe, logged, listed with how long they have conditioned, and shown whole.

use std::path::Path;

use crate::domain::Allergen;
use crate::domain::Batch;
use crate::domain::BatchEntry;
use crate::domain::BatchEntryId;
use crate::domain::BatchId;
use crate::domain::Beer;
use crate::domain::BeerId;
use crate::domain::Day;
use crate::domain::EntryKind;
use crate::domain::EntryMeasure;
use crate::domain::EntryValue;
use crate::domain::Intent;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::Recipe;
use crate::formats::read_intent;
use crate::storage::read_file;
use crate::workflow::BatchLog;
use crate::workflow::Figures;
use crate::workflow::Home;
use crate::workflow::ReadRecipe;
use crate::workflow::WorkflowError;
use crate::workflow::figures;

/// Alcohol above which a beer takes about twice as long to come round, % vol (judgement).
const STRONG_ABV: f64 = 7.5;

/// Where a batch stands on its way to being ready.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Readiness {
    /// It is not packaged yet, or nobody logged the day.
    NotPackaged,
    /// Too early for most beers of the kind.
    Early {
        /// Days since packaging.
        days: i64,
        /// The day number from which the kind is usually ready.
        usually: i64,
    },
    /// Drinkable, but the kind usually takes longer.
    Nearly {
        /// Days since packaging.
        days: i64,
        /// The day number from which the kind is usually ready.
        usually: i64,
    },
    /// In its usual time.
    Ready {
        /// Days since packaging.
        days: i64,
    },
    /// Older than the kind usually stays at its best.
    PastBest {
        /// Days since packaging.
        days: i64,
    },
    /// Packaged; the kind is not known, or it is sealed.
    Unknown {
        /// Days since packaging.
        days: i64,
    },
}

/// One line of the list of batches.
#[derive(Debug, Clone, PartialEq)]
pub struct BatchRow {
    /// The cap mark.
    pub mark: Name,
    /// Recipe name and version; none while somebody tastes a beer of that version.
    pub recipe: Option<String>,
    /// When it was packaged, if logged.
    pub packaged: Option<Day>,
    /// How far it has come.
    pub readiness: Readiness,
    /// Bottles left, if logged.
    pub bottles_left: Option<u16>,
    /// How many sets of notes on it are locked.
    pub tasted: usize,
    /// Whether somebody is tasting it now.
    pub being_tasted: bool,
}

/// A batch shown whole.
#[derive(Debug, Clone, PartialEq)]
pub struct BatchPage {
    /// The batch.
    pub batch: Batch,
    /// Its recipe.
    pub recipe: Recipe,
    /// Its log.
    pub log: BatchLog,
    /// Its figures.
    pub figures: Figures,
    /// How far it has come.
    pub readiness: Readiness,
}

/// The hope for a batch, and when it was written.
#[derive(Debug, Clone, PartialEq)]
pub struct DatedIntent {
    /// The hope.
    pub intent: Intent,
    /// When it was frozen with the batch.
    pub frozen_at: Moment,
    /// When it was written again, if it was.
    pub edited_at: Option<Moment>,
}

impl Home {
    /// Adds a batch of a recipe file; the intent in the file is frozen from now on. A bottle known
    /// so far by its cap mark alone becomes a bottle of this batch.
    ///
    /// # Errors
    /// The file has problems, the version is kept with other contents, or the mark is taken.
    pub fn add_batch(&mut self, file: &Path, mark: Option<&str>) -> Result<Batch, WorkflowError> {
        let read = self.read_recipe(file)?;
        self.add_batch_of(&read, mark)
    }

    pub(crate) fn add_batch_of(
        &mut self,
        read: &ReadRecipe,
        mark: Option<&str>,
    ) -> Result<Batch, WorkflowError> {
        let cap_mark = match mark {
            Some(mark) => Name::new("a cap mark", mark)?,
            None => self.free_mark(&read.recipe)?,
        };
        let known = self.store.beer_marked(&cap_mark)?;
        if known.as_ref().is_some_and(|beer| beer.batch.is_some()) {
            return Err(WorkflowError::MarkTaken {
                mark: cap_mark.to_string(),
            });
        }
        let version = self.keep_version(read)?;
        let batch = Batch {
            id: BatchId::new(self.draw_id()),
            version: version.id,
            cap_mark: cap_mark.clone(),
            made_at: self.now(),
        };
        let beer = match known {
            Some(beer) => beer,
            None => Beer {
                id: BeerId::new(self.draw_id()),
                cap_mark,
                batch: None,
                abv: None,
            },
        };
        self.store.add_batch(
            &batch,
            &Beer {
                batch: Some(batch.id.clone()),
                ..beer
            },
        )?;
        Ok(batch)
    }

    /// A cap mark nobody uses: the first letters of the recipe's words and a number.
    fn free_mark(&self, recipe: &Recipe) -> Result<Name, WorkflowError> {
        let letters: String = recipe
            .name
            .as_str()
            .split_whitespace()
            .filter_map(|word| word.chars().find(|c| c.is_alphanumeric()))
            .flat_map(char::to_uppercase)
            .take(3)
            .collect();
        let letters = if letters.is_empty() {
            "B".to_owned()
        } else {
            letters
        };
        for number in 1_u32.. {
            let mark = Name::new("a cap mark", &format!("{letters}{number}"))?;
            if self.store.beer_marked(&mark)?.is_none() {
                return Ok(mark);
            }
        }
        Ok(recipe.name.clone())
    }

    /// The batch with this cap mark.
    ///
    /// # Errors
    /// There is none; the message names the marks in use.
    pub fn batch(&self, mark: &str) -> Result<Batch, WorkflowError> {
        let asked = Name::new("a cap mark", mark)?;
        match self.store.batch_marked(&asked)? {
            Some(batch) => Ok(batch),
            None => Err(WorkflowError::NoBatch {
                asked: asked.to_string(),
                known: self
                    .store
                    .batches()?
                    .iter()
                    .map(|batch| batch.cap_mark.to_string())
                    .collect(),
            }),
        }
    }

    /// The cap marks of bottles that belong to no batch yet.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn marks_without_batch(&self) -> Result<Vec<String>, WorkflowError> {
        let beers = self.store.beers_without_batch()?;
        Ok(beers.iter().map(|beer| beer.cap_mark.to_string()).collect())
    }

    /// The beer with this cap mark.
    ///
    /// # Errors
    /// There is none; the message names the marks of the batches.
    pub fn beer(&self, mark: &str) -> Result<Beer, WorkflowError> {
        let asked = Name::new("a cap mark", mark)?;
        match self.store.beer_marked(&asked)? {
            Some(beer) => Ok(beer),
            None => Err(match self.batch(mark) {
                Err(error) => error,
                Ok(_) => WorkflowError::NoRecipe {
                    mark: asked.to_string(),
                },
            }),
        }
    }

    /// Writes a line into the log of a batch. For the kind `intent` the value is a file whose
    /// `[intent]` replaces the one frozen with the batch, with the date of the edit.
    ///
    /// # Errors
    /// The kind is unknown, or the value cannot be read.
    pub fn log_entry(
        &mut self,
        mark: &str,
        kind: &str,
        value: &str,
    ) -> Result<BatchEntry, WorkflowError> {
        let batch = self.batch(mark)?;
        let kind = EntryKind::from_id(kind)?;
        let value = if kind.measure == EntryMeasure::Intent {
            let document = read_file(Path::new(value))?;
            read_intent(value, &document, self.wheel())
                .map_err(|problems| WorkflowError::Problems { problems })?;
            EntryValue::Document(document)
        } else {
            kind.read(value)?
        };
        let entry = BatchEntry {
            id: BatchEntryId::new(self.draw_id()),
            kind,
            value,
            at: self.now(),
        };
        self.store.add_entry(&batch.id, &entry)?;
        Ok(entry)
    }

    pub(crate) fn log_of(&self, batch: &BatchId) -> Result<BatchLog, WorkflowError> {
        Ok(BatchLog::new(self.store.entries(batch)?))
    }

    /// The hope for a batch with its dates.
    pub(crate) fn intent_of(
        &self,
        batch: &Batch,
        recipe: &Recipe,
        log: &BatchLog,
    ) -> Result<DatedIntent, WorkflowError> {
        let frozen_at = batch.made_at;
        let Some((entry, document)) = log.document("intent") else {
            return Ok(DatedIntent {
                intent: recipe.intent.clone(),
                frozen_at,
                edited_at: None,
            });
        };
        let intent = read_intent("the intent written again", document, self.wheel()).map_err(
            |problems| WorkflowError::StoredDocument {
                mark: batch.cap_mark.to_string(),
                problems,
            },
        )?;
        Ok(DatedIntent {
            intent,
            frozen_at,
            edited_at: Some(entry.at),
        })
    }

    /// All batches, with how far each has come; a recipe that is being tasted is left out.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn batch_rows(&mut self) -> Result<Vec<BatchRow>, WorkflowError> {
        let today = self.today();
        self.store
            .batches()?
            .iter()
            .map(|batch| self.batch_row(batch, today))
            .collect()
    }

    fn batch_row(&self, batch: &Batch, today: Day) -> Result<BatchRow, WorkflowError> {
        let log = self.log_of(&batch.id)?;
        let beer = self.store.beer_of_batch(&batch.id)?;
        let (mut tasted, mut sealed, mut being_tasted) = (0, false, false);
        if let Some(beer) = &beer {
            let notes = self.store.notes_of_beer(&beer.id)?;
            tasted = notes.iter().filter(|row| row.locked_at.is_some()).count();
            being_tasted = !self.store.open_notes_of_beer(&beer.id)?.is_empty();
            sealed = self.is_plan_sealed(beer)?;
        }
        let version = self.store.recipe_version(&batch.version)?;
        let readiness = if sealed {
            match packaged_days(&log, today) {
                Some(days) => Readiness::Unknown { days },
                None => Readiness::NotPackaged,
            }
        } else {
            readiness(self.recipe_of(batch).ok().as_ref(), &log, today)
        };
        Ok(BatchRow {
            mark: batch.cap_mark.clone(),
            recipe: version
                .filter(|_| !sealed)
                .map(|it| format!("{}, version {}", it.name, it.version)),
            packaged: log.day("packaged"),
            readiness,
            bottles_left: bottles_left(&log),
            tasted,
            being_tasted,
        })
    }

    /// What the beers of this home may hold, joined over all of them so that no one is given away.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn joined_allergens(&self) -> Result<String, WorkflowError> {
        // Nearly every beer is brewed from barley or wheat, the unrecorded ones too.
        let mut held = vec![Allergen::Gluten];
        for batch in self.store.batches()? {
            if let Ok(recipe) = self.recipe_of(&batch) {
                held.extend(recipe.allergens());
            }
        }
        held.sort_unstable();
        held.dedup();
        let words: Vec<&str> = held.into_iter().map(Allergen::word).collect();
        Ok(words.join(", "))
    }

    /// A batch with recipe, log and figures.
    ///
    /// # Errors
    /// There is no such batch, or somebody is tasting it.
    pub fn batch_page(&mut self, mark: &str) -> Result<BatchPage, WorkflowError> {
        let batch = self.batch(mark)?;
        if let Some(beer) = self.store.beer_of_batch(&batch.id)? {
            self.ensure_plan_unsealed(&beer, "the recipe and the log")?;
        }
        let recipe = self.recipe_of(&batch)?;
        let log = self.log_of(&batch.id)?;
        let today = self.today();
        Ok(BatchPage {
            figures: figures(&recipe, &log),
            readiness: readiness(Some(&recipe), &log, today),
            batch,
            recipe,
            log,
        })
    }
}

fn bottles_left(log: &BatchLog) -> Option<u16> {
    log.entries()
        .iter()
        .rev()
        .find_map(|entry| match entry.value {
            EntryValue::Count(count) if entry.kind.id == "bottles-left" => Some(count),
            _ => None,
        })
}

fn packaged_days(log: &BatchLog, today: Day) -> Option<i64> {
    Some(today.days_since(log.day("packaged")?))
}

fn readiness(recipe: Option<&Recipe>, log: &BatchLog, today: Day) -> Readiness {
    let Some(days) = packaged_days(log, today) else {
        return Readiness::NotPackaged;
    };
    let Some((recipe, yeast)) = recipe.and_then(|it| Some((it, it.yeast.as_ref()?))) else {
        return Readiness::Unknown { days };
    };
    let strong = figures(recipe, log)
        .get("alcohol")
        .is_some_and(|it| it.value > STRONG_ABV);
    let factor = if strong { 2.0 } else { 1.0 };
    let after = |number: f64| {
        #[expect(
            clippy::cast_possible_truncation,
            reason = "days stay below ten thousand"
        )]
        let day = (number * factor).round() as i64;
        day
    };
    let spread = yeast.yeast.ready_days;
    let usually = after(spread.usual());
    if days < after(spread.low()) {
        Readiness::Early { days, usually }
    } else if days < usually {
        Readiness::Nearly { days, usually }
    } else if days <= after(spread.high()) {
        Readiness::Ready { days }
    } else {
        Readiness::PastBest { days }
    }
}
