//! Recipe files: read and checked, predicted from, and kept as versions that never change.

use std::path::Path;
use std::sync::Arc;

use crate::domain::Batch;
use crate::domain::Recipe;
use crate::domain::RecipeVersion;
use crate::domain::RecipeVersionId;
use crate::formats::NotKept;
use crate::formats::RecipeAnswers;
use crate::formats::document_hash;
use crate::formats::read_recipe;
use crate::formats::write_recipe;
use crate::profile::predict;
use crate::storage::ensure_free_place;
use crate::storage::read_file;
use crate::storage::write_new_file;
use crate::workflow::BatchLog;
use crate::workflow::Home;
use crate::workflow::RecipePrediction;
use crate::workflow::WorkflowError;
use crate::workflow::figures;
use crate::workflow::foreseen::foreseen_lines;

/// A recipe with the document it was read from.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadRecipe {
    /// The document, letter for letter.
    pub document: String,
    /// What it says.
    pub recipe: Recipe,
}

/// The version that a document is.
pub(crate) enum VersionOf {
    /// It is kept already.
    Kept(RecipeVersion),
    /// It is to be kept with what is made of it.
    New(RecipeVersion),
}

impl Home {
    /// Reads a recipe file; nothing is kept.
    ///
    /// # Errors
    /// The file cannot be read, or every problem in it at once.
    pub fn read_recipe(&self, file: &Path) -> Result<ReadRecipe, WorkflowError> {
        let document = read_file(file)?;
        let recipe = self.parse_recipe(&file.display().to_string(), &document)?;
        Ok(ReadRecipe { document, recipe })
    }

    pub(crate) fn parse_recipe(&self, name: &str, document: &str) -> Result<Recipe, WorkflowError> {
        read_recipe(name, document, self.catalogue(), self.wheel())
            .map_err(|problems| WorkflowError::Problems { problems })
    }

    /// The figures and the predicted profile of a recipe file, of a beer that has just become ready or has
    /// been in the bottle for so many weeks at 20 °C.
    ///
    /// # Errors
    /// The file cannot be read or has problems, or a batch is being tasted.
    pub fn predict(
        &self,
        file: &Path,
        weeks: Option<u16>,
    ) -> Result<RecipePrediction, WorkflowError> {
        self.predict_for(file, weeks, None)
    }

    /// The same, and beside it as a taster would note it, if one is named.
    ///
    /// # Errors
    /// As for `predict`, or there is no such taster.
    pub fn predict_for(
        &self,
        file: &Path,
        weeks: Option<u16>,
        taster: Option<&str>,
    ) -> Result<RecipePrediction, WorkflowError> {
        let read = self.read_recipe(file)?;
        self.ensure_no_batch_is_tasted()?;
        let log = BatchLog::default();
        let figures = figures(&read.recipe, &log);
        let prediction = predict(&self.aged_brew(&read.recipe, &log, weeks));
        Ok(RecipePrediction {
            profile: foreseen_lines(self.wheel(), &read.recipe, &prediction),
            as_noted: taster
                .map(|it| self.as_noted(&prediction, &read.document, it))
                .transpose()?,
            recipe: read.recipe,
            figures,
            weeks,
        })
    }

    /// Lets pass only if a new file can be written there, before anybody answers ten questions.
    ///
    /// # Errors
    /// The file exists already.
    pub fn ensure_free(&self, file: &Path) -> Result<(), WorkflowError> {
        Ok(ensure_free_place(file)?)
    }

    /// Writes a new recipe file from the answers to the ten questions; gives what of them it does
    /// not hold.
    ///
    /// # Errors
    /// The file exists already or cannot be written.
    pub fn new_recipe(
        &self,
        answers: &RecipeAnswers,
        file: &Path,
    ) -> Result<Vec<NotKept>, WorkflowError> {
        let written = write_recipe(answers);
        write_new_file(file, &written.text)?;
        Ok(written.not_kept)
    }

    /// The version that a document is, as it is kept or is to be kept.
    ///
    /// # Errors
    /// Another document is kept as this version already, or the store cannot be read.
    pub(crate) fn version_of_document(
        &mut self,
        read: &ReadRecipe,
    ) -> Result<VersionOf, WorkflowError> {
        let hash = document_hash(&read.document);
        if let Some(kept) = self.store.recipe_version_with_hash(&hash)? {
            return Ok(VersionOf::Kept(kept));
        }
        let (name, version) = (&read.recipe.name, &read.recipe.version);
        if self.store.recipe_version_named(name, version)?.is_some() {
            return Err(WorkflowError::VersionTaken {
                name: name.to_string(),
                version: version.to_string(),
            });
        }
        let parent = match &read.recipe.parent {
            Some(parent) => self.store.recipe_version_named(name, parent)?,
            None => None,
        };
        Ok(VersionOf::New(RecipeVersion {
            id: RecipeVersionId::new(self.draw_id()),
            parent: parent.map(|it| it.id),
            reason: read.recipe.reason.clone(),
            name: name.clone(),
            version: version.clone(),
            document: read.document.clone(),
            hash,
            made_at: self.now(),
        }))
    }

    /// The recipe of a batch, as its document was read when the batch was added.
    pub(crate) fn recipe_of(&self, batch: &Batch) -> Result<Arc<Recipe>, WorkflowError> {
        if let Some(recipe) = self.recipes.borrow().get(&batch.version) {
            return Ok(Arc::clone(recipe));
        }
        let mark = || batch.cap_mark.to_string();
        let version = self
            .store
            .recipe_version(&batch.version)?
            .ok_or_else(|| WorkflowError::NoRecipe { mark: mark() })?;
        let name = format!("{} {}", version.name, version.version);
        let recipe = match self.parse_recipe(&name, &version.document) {
            Ok(recipe) => Arc::new(recipe),
            Err(WorkflowError::Problems { problems }) => {
                return Err(WorkflowError::StoredDocument {
                    mark: mark(),
                    problems,
                });
            }
            Err(other) => return Err(other),
        };
        let mut recipes = self.recipes.borrow_mut();
        recipes.insert(batch.version.clone(), Arc::clone(&recipe));
        Ok(recipe)
    }
}
