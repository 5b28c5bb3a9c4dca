//! The seal: from the opening of a tasting to its lock, nothing of the plan and of the others is given out.

use crate::domain::BeerId;
use crate::domain::Name;
use crate::domain::NotesChange;
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
        let open = self.sealing(beer)?;
        if open.is_empty() {
            return Ok(());
        }
        let mut tasters: Vec<String> = open.iter().map(|row| row.taster.name.to_string()).collect();
        tasters.dedup();
        Err(WorkflowError::Sealed {
            what,
            mark: mark.to_string(),
            tasters,
        })
    }

    /// The open notes that keep the plan of a beer sealed: those whose seal was not broken.
    fn sealing(&self, beer: &BeerId) -> Result<Vec<NotesRow>, WorkflowError> {
        let mut open = self.store.open_notes_of_beer(beer)?;
        open.retain(|row| row.seal_broken_at.is_none());
        Ok(open)
    }

    /// True while the plan of this beer is sealed.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn is_sealed(&self, beer: &BeerId) -> Result<bool, WorkflowError> {
        Ok(!self.sealing(beer)?.is_empty())
    }

    /// Breaks the seal of a beer on purpose; every open set of notes carries the mark for ever.
    /// Gives the names of those whose notes were marked.
    ///
    /// # Errors
    /// No beer has the mark, or the store cannot be written.
    pub fn break_seal(&mut self, mark: &str) -> Result<Vec<String>, WorkflowError> {
        let beer = self.beer(mark)?;
        let now = self.now();
        let open = self.sealing(&beer.id)?;
        for row in &open {
            self.store
                .change_notes(&row.notes, &[NotesChange::SealBroken(now)])?;
        }
        Ok(open
            .into_iter()
            .map(|row| row.taster.name.to_string())
            .collect())
    }
}
