//! Proposals for the next recipe as they were made.

use rusqlite::Row;
use rusqlite::params;

use crate::domain::BatchId;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::ProposalId;
use crate::domain::RecipeVersionId;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::row;

/// One proposal as a row; what it said is a document.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ProposalRow {
    /// The id.
    pub id: ProposalId,
    /// The batch whose notes it follows from.
    pub batch: BatchId,
    /// The recipe version that was brewed.
    pub parent: RecipeVersionId,
    /// The name of the recipe that was written.
    pub name: Name,
    /// Its version.
    pub version: Name,
    /// SHA-256 of the document that was written, in hex.
    pub hash: String,
    /// What was said, as TOML.
    pub document: String,
    /// When it was made.
    pub made_at: Moment,
}

impl Store {
    /// Keeps a proposal.
    ///
    /// # Errors
    /// Its batch or the version that was brewed is not stored, or the file refuses.
    pub fn add_proposal(&mut self, proposal: &ProposalRow) -> Result<(), StorageError> {
        self.run(
            "keep a proposal",
            "INSERT INTO proposal (id, batch, parent, name, version, hash, document, made_at)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
            params![
                proposal.id.as_str(),
                proposal.batch.as_str(),
                proposal.parent.as_str(),
                proposal.name.as_str(),
                proposal.version.as_str(),
                proposal.hash,
                proposal.document,
                proposal.made_at.to_string(),
            ],
        )?;
        Ok(())
    }

    /// Every proposal, in the order in which they were made.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn proposals(&self) -> Result<Vec<ProposalRow>, StorageError> {
        self.all(
            "read the proposals",
            "SELECT * FROM proposal WHERE removed_at IS NULL ORDER BY made_at, rowid",
            [],
            proposal,
        )
    }

    /// The newest proposal of which a recipe with this name and version was written.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn proposal_for(
        &self,
        name: &Name,
        version: &Name,
    ) -> Result<Option<ProposalRow>, StorageError> {
        self.first(
            "read a proposal",
            "SELECT * FROM proposal
             WHERE name = ?1 AND version = ?2 AND removed_at IS NULL
             ORDER BY made_at DESC, rowid DESC LIMIT 1",
            [name.as_str(), version.as_str()],
            proposal,
        )
    }
}

fn proposal(row: &Row<'_>) -> rusqlite::Result<ProposalRow> {
    Ok(ProposalRow {
        id: row::id(row, "id", ProposalId::new)?,
        batch: row::id(row, "batch", BatchId::new)?,
        parent: row::id(row, "parent", RecipeVersionId::new)?,
        name: row::name(row, "name")?,
        version: row::name(row, "version")?,
        hash: row.get("hash")?,
        document: row.get("document")?,
        made_at: row::moment(row, "made_at")?,
    })
}
