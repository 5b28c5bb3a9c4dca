//! Which two bottles would show whether a change can be tasted: a batch, and the one it was changed from.

use crate::domain::Name;
use crate::domain::ProposedTest;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// A batch beside the one that its recipe was changed from.
#[derive(Debug, Clone, PartialEq)]
pub struct ProofPair {
    /// The bottle as it was.
    pub old: Name,
    /// The bottle as changed.
    pub new: Name,
    /// The test that was proposed with the change, if one was.
    pub test: Option<ProposedTest>,
}

impl Home {
    /// A batch with the one it was changed from, which a blind test holds it against.
    ///
    /// # Errors
    /// There is no such batch, or none was brewed of the version it came from.
    pub fn proof_pair(&self, mark: &str) -> Result<ProofPair, WorkflowError> {
        let batch = self.batch(mark)?;
        let version = self.store.recipe_version(&batch.version)?;
        let version = version.ok_or_else(|| WorkflowError::NoRecipe {
            mark: batch.cap_mark.to_string(),
        })?;
        let kept = self.kept_proposal_for(&version.name, &version.version)?;
        let mut before = match &kept {
            Some(kept) => self.store.batch(&kept.batch)?,
            None => None,
        };
        if let (None, Some(parent)) = (&before, &version.parent) {
            // Where nothing was proposed here, the newest brew of the version before.
            before = self.store.batches_of_version(parent)?.pop();
        }
        let old = before.ok_or_else(|| WorkflowError::NoOldBatch {
            mark: batch.cap_mark.to_string(),
        })?;
        Ok(ProofPair {
            old: old.cap_mark.clone(),
            new: batch.cap_mark,
            test: kept.and_then(|it| it.proposed.test),
        })
    }
}
