//! Recipe files: read and checked, predicted from, and kept as versions that never change.

use std::collections::HashSet;
use std::num::NonZero;
use std::panic;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::AtomicUsize;
use std::sync::atomic::Ordering;
use std::thread;

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
use crate::workflow::conversion::ensure_ours;
use crate::workflow::figures;
use crate::workflow::foreseen::foreseen_lines;

/// Beyond so many documents another processor helps to read them, and one more for each so many; fewer are not worth
/// another thread. A judgement: measured once, a list of 1,428 batches took 36 ms on two processors and 55 on one.
const LEAST_SHARE: usize = 100;
/// So many documents are read before the next are taken (judgement): enough that the taking costs nothing, few enough
/// that no processor waits long for another at the end.
const PORTION: usize = 16;

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
        ensure_ours(file, &document)?;
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

    /// Reads the recipes of many versions ahead, their documents in one query, and does something else meanwhile; of few
    /// each is read when it is asked for. What cannot be read is told by [`Home::recipe_of`].
    ///
    /// # Errors
    /// The store cannot be read.
    pub(super) fn read_recipes_ahead<T>(
        &self,
        versions: &HashSet<&RecipeVersionId>,
        meanwhile: impl FnOnce() -> T,
    ) -> Result<T, WorkflowError> {
        let mut unread = versions.clone();
        unread.retain(|it| !self.recipes.borrow().contains_key(*it));
        if unread.len() < LEAST_SHARE {
            return Ok(meanwhile());
        }
        let mut wanted = self.store.recipe_versions()?;
        wanted.retain(|it| unread.contains(&it.id));
        let (catalogue, wheel) = (self.catalogue(), self.wheel());
        let one = |it: &RecipeVersion| {
            let name = format!("{} {}", it.name, it.version);
            read_recipe(&name, &it.document, catalogue, wheel).ok()
        };
        let (read, done) = in_shares(&wanted, one, meanwhile);
        let read = wanted.into_iter().zip(read);
        let read = read.filter_map(|(version, recipe)| Some((version.id, Arc::new(recipe?))));
        self.recipes.borrow_mut().extend(read);
        Ok(done)
    }

    /// The recipes of all batches. One that cannot be read any more tells nothing, and stops nobody.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(super) fn recipes_of_batches(&self) -> Result<Vec<Arc<Recipe>>, WorkflowError> {
        let batches = self.store.batches()?;
        self.read_recipes_ahead(&batches.iter().map(|it| &it.version).collect(), || ())?;
        let recipes = batches.iter().filter_map(|it| self.recipe_of(it).ok());
        Ok(recipes.collect())
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

/// What comes of each, in their order, and of what is done meanwhile: many are shared out among the processors there are,
/// a portion at a time, because not all are free from the beginning; this one takes its part once it is done.
fn in_shares<T: Sync, R: Send, M>(
    all: &[T],
    one: impl Fn(&T) -> R + Sync,
    meanwhile: impl FnOnce() -> M,
) -> (Vec<R>, M) {
    let processors = thread::available_parallelism().map_or(1, NonZero::get);
    let hands = all.len().div_ceil(LEAST_SHARE).min(processors);
    let portions: Vec<&[T]> = all.chunks(PORTION).collect();
    let taken = AtomicUsize::new(0);
    let work = || {
        let mut done = Vec::new();
        loop {
            let place = taken.fetch_add(1, Ordering::Relaxed);
            let Some(portion) = portions.get(place) else {
                return done;
            };
            done.push((place, portion.iter().map(&one).collect::<Vec<R>>()));
        }
    };
    thread::scope(|scope| {
        let others: Vec<_> = (1..hands).map(|_| scope.spawn(work)).collect();
        let done = meanwhile();
        let mut read = work();
        for other in others {
            // What panicked there panics here.
            read.extend(other.join().unwrap_or_else(|it| panic::resume_unwind(it)));
        }
        read.sort_unstable_by_key(|it| it.0);
        (read.into_iter().flat_map(|it| it.1).collect(), done)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_shared_out_comes_back_in_its_order() {
        let all: Vec<usize> = (0..7 * LEAST_SHARE + 3).collect();
        let doubled: Vec<usize> = all.iter().map(|it| 2 * it).collect();
        let shared_out = |all: &[usize]| in_shares(all, |it| 2 * it, || "done");
        assert_eq!(shared_out(&all), (doubled, "done"));
        assert_eq!(shared_out(&all[..3]), (vec![0, 2, 4], "done"));
        assert_eq!(shared_out(&[]), (vec![], "done"));
    }
}
