//! Batches: added from a recipe, found by their cap mark, and logged.

use std::path::Path;

use crate::domain::Batch;
use crate::domain::BatchEntry;
use crate::domain::BatchEntryId;
use crate::domain::BatchId;
use crate::domain::Beer;
use crate::domain::BeerId;
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
use crate::workflow::Home;
use crate::workflow::ReadRecipe;
use crate::workflow::VersionOf;
use crate::workflow::WorkflowError;

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
        let beer = self.beer_to_attach(&cap_mark)?;
        let version = self.version_of_document(read)?;
        let (VersionOf::Kept(of) | VersionOf::New(of)) = &version;
        let batch = Batch {
            id: BatchId::new(self.draw_id()),
            version: of.id.clone(),
            cap_mark,
            made_at: self.now(),
        };
        let beer = Beer {
            batch: Some(batch.id.clone()),
            ..beer
        };
        self.store.in_one_go(|store| {
            if let VersionOf::New(version) = &version {
                store.add_recipe_version(version)?;
            }
            store.add_batch(&batch, &beer)
        })?;
        Ok(batch)
    }

    /// The beer with this cap mark that belongs to no batch yet, or a new one.
    fn beer_to_attach(&mut self, cap_mark: &Name) -> Result<Beer, WorkflowError> {
        match self.store.beer_marked(cap_mark)? {
            Some(beer) if beer.batch.is_some() => Err(WorkflowError::MarkTaken {
                mark: cap_mark.to_string(),
            }),
            Some(beer) => Ok(beer),
            None => Ok(Beer {
                id: BeerId::new(self.draw_id()),
                cap_mark: cap_mark.clone(),
                batch: None,
                abv: None,
            }),
        }
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

    /// All cap marks in use: of the batches, then of bottles that belong to none.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn marks(&self) -> Result<Vec<String>, WorkflowError> {
        let batches = self.store.batches()?;
        let mut marks: Vec<String> = batches.iter().map(|it| it.cap_mark.to_string()).collect();
        marks.extend(self.marks_without_batch()?);
        Ok(marks)
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
    /// The kind is unknown, the value cannot be read, or it contradicts the log or the calendar.
    pub fn log_entry(
        &mut self,
        mark: &str,
        kind: &str,
        value: &str,
    ) -> Result<BatchEntry, WorkflowError> {
        let batch = self.batch(mark)?;
        let kind = EntryKind::from_id(kind)?;
        let value = if kind.measure == EntryMeasure::Intent {
            // Nobody may change what was hoped for while somebody looks for it.
            if let Some(beer) = self.store.beer_of_batch(&batch.id)? {
                self.ensure_plan_unsealed(&beer, "the intent")?;
            }
            let document = read_file(Path::new(value))?;
            read_intent(value, &document, self.wheel())
                .map_err(|problems| WorkflowError::Problems { problems })?;
            EntryValue::Document(document)
        } else {
            let value = kind.read(value)?;
            let today = self.today();
            self.log_open_for(&batch)?
                .ensure_fits(kind, &value, today)?;
            value
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

    /// The log, or an empty one while the batch is tasted: a refusal would tell what stands in it.
    fn log_open_for(&self, batch: &Batch) -> Result<BatchLog, WorkflowError> {
        match self.store.beer_of_batch(&batch.id)? {
            Some(beer) if self.is_plan_sealed(&beer)? => Ok(BatchLog::default()),
            _ => self.log_of(&batch.id),
        }
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
}
