//! The seal: from the opening of a tasting to its lock, nothing of the plan and of the others is given out.

use crate::domain::Beer;
use crate::domain::BeerId;
use crate::domain::Name;
use crate::domain::NotesChange;
use crate::domain::RecipeVersionId;
use crate::storage::NotesRow;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

impl Home {
    /// Lets pass only if nobody is tasting this beer.
    ///
    /// # Errors
    /// [`WorkflowError::Sealed`], with the names of those who are.
    pub(crate) fn ensure_unsealed(
        &self,
        beer: &BeerId,
        mark: &Name,
        what: &'static str,
    ) -> Result<(), WorkflowError> {
        unless_sealed(&self.sealing(beer)?, mark, what)
    }

    /// Lets pass only if nobody is tasting this beer or another one of the same recipe version:
    /// what they hope for and what is computed is the same.
    ///
    /// # Errors
    /// [`WorkflowError::Sealed`], with the names of those who are.
    pub(crate) fn ensure_plan_unsealed(
        &self,
        beer: &Beer,
        what: &'static str,
    ) -> Result<(), WorkflowError> {
        unless_sealed(&self.sealing_plan(beer)?, &beer.cap_mark, what)
    }

    /// Lets pass only if nobody is tasting a batch, whichever it is.
    ///
    /// # Errors
    /// [`WorkflowError::PredictionsWait`], with the names of those who are.
    pub(crate) fn ensure_no_batch_is_tasted(&self) -> Result<(), WorkflowError> {
        let mut open = self.store.open_notes()?;
        open.retain(|row| row.beer.batch.is_some() && row.seal_broken_at.is_none());
        if open.is_empty() {
            return Ok(());
        }
        Err(WorkflowError::PredictionsWait {
            tasters: names(&open),
        })
    }

    /// The open notes that keep the notes of a beer sealed: those whose seal was not broken.
    fn sealing(&self, beer: &BeerId) -> Result<Vec<NotesRow>, WorkflowError> {
        let mut open = self.store.open_notes_of_beer(beer)?;
        open.retain(|row| row.seal_broken_at.is_none());
        Ok(open)
    }

    /// The open notes that keep the plan of a beer sealed: on every beer of its recipe version.
    fn sealing_plan(&self, beer: &Beer) -> Result<Vec<NotesRow>, WorkflowError> {
        let version = self.version_in(beer)?;
        let mut sealing = Vec::new();
        for row in self.store.open_notes()? {
            let same = row.beer.id == beer.id
                || (version.is_some() && self.version_in(&row.beer)? == version);
            if same && row.seal_broken_at.is_none() {
                sealing.push(row);
            }
        }
        Ok(sealing)
    }

    /// The recipe version a beer was brewed from, if it is a batch.
    fn version_in(&self, beer: &Beer) -> Result<Option<RecipeVersionId>, WorkflowError> {
        let Some(id) = &beer.batch else {
            return Ok(None);
        };
        Ok(self.store.batch(id)?.map(|batch| batch.version))
    }

    /// True while the plan of this beer is sealed.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(crate) fn is_plan_sealed(&self, beer: &Beer) -> Result<bool, WorkflowError> {
        Ok(!self.sealing_plan(beer)?.is_empty())
    }

    /// Breaks the seal of a beer's plan on purpose; every open set of notes carries the mark for
    /// ever. Gives the names of those whose notes were marked.
    ///
    /// # Errors
    /// No beer has the mark, or the store cannot be written.
    pub fn break_seal(&mut self, mark: &str) -> Result<Vec<String>, WorkflowError> {
        let beer = self.beer(mark)?;
        let now = self.now();
        let open = self.sealing_plan(&beer)?;
        self.store.in_one_go(|store| {
            let mut marks = open.iter().map(|row| &row.notes);
            marks.try_for_each(|id| store.change_notes(id, &[NotesChange::SealBroken(now)]))
        })?;
        Ok(names(&open))
    }
}

fn unless_sealed(open: &[NotesRow], mark: &Name, what: &'static str) -> Result<(), WorkflowError> {
    if open.is_empty() {
        return Ok(());
    }
    Err(WorkflowError::Sealed {
        what,
        mark: mark.to_string(),
        tasters: names(open),
    })
}

/// Who tastes, each once.
fn names(open: &[NotesRow]) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for row in open {
        let name = row.taster.name.to_string();
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;
    use crate::domain::NotesSource;
    use crate::formats::EXAMPLE;

    #[test]
    fn every_prediction_waits_while_a_batch_is_tasted_and_none_names_the_glass() {
        let mut home = Home::trial_with_a_batch();
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("renamed.toml");
        fs::write(&file, EXAMPLE.replace("Harbour dark", "Something else")).unwrap();
        assert!(home.predict(&file, None).is_ok());
        let ana = home.add_taster("Ana").unwrap();
        let mut tasting = home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        let refusal = home.predict(&file, None).unwrap_err().to_string();
        assert!(
            refusal.contains("Ana") && !refusal.contains("T1"),
            "{refusal}"
        );
        home.lock(&mut tasting).unwrap();
        assert!(home.predict(&file, None).is_ok());
    }

    #[test]
    fn the_intent_cannot_be_written_again_while_the_batch_is_tasted() {
        let mut home = Home::trial_with_a_batch();
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("again.toml");
        fs::write(&file, EXAMPLE).unwrap();
        let path = file.display().to_string();
        let ana = home.add_taster("Ana").unwrap();
        home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        let refused = home.log_entry("T1", "intent", &path);
        assert!(
            matches!(refused, Err(WorkflowError::Sealed { .. })),
            "{refused:?}"
        );
        home.break_seal("T1").unwrap();
        assert!(home.log_entry("T1", "intent", &path).is_ok());
    }
}
