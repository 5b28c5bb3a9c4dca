//! Proposals that were kept: written with the recipe they led to, and found again by it.

use crate::domain::KeptProposal;
use crate::domain::Name;
use crate::formats::read_proposal;
use crate::formats::write_proposal;
use crate::storage::ProposalRow;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

impl Home {
    /// Keeps a proposal as it was made.
    ///
    /// # Errors
    /// Its batch or the version that was brewed is not kept, or the store cannot be written.
    pub fn keep_proposal(&mut self, kept: &KeptProposal) -> Result<(), WorkflowError> {
        let row = ProposalRow {
            id: kept.id.clone(),
            batch: kept.batch.clone(),
            parent: kept.parent.clone(),
            name: kept.name.clone(),
            version: kept.version.clone(),
            hash: kept.hash.clone(),
            document: write_proposal(&kept.proposed),
            made_at: kept.made_at,
        };
        Ok(self.store.add_proposal(&row)?)
    }

    /// Every proposal, in the order in which they were made.
    ///
    /// # Errors
    /// The store cannot be read, or a document in it no more.
    pub fn kept_proposals(&self) -> Result<Vec<KeptProposal>, WorkflowError> {
        let rows = self.store.proposals()?.into_iter();
        rows.map(kept).collect()
    }

    /// The newest proposal of which a recipe with this name and version was written.
    ///
    /// # Errors
    /// The store cannot be read, or the document in it no more.
    pub fn kept_proposal_for(
        &self,
        name: &Name,
        version: &Name,
    ) -> Result<Option<KeptProposal>, WorkflowError> {
        let row = self.store.proposal_for(name, version)?;
        row.map(kept).transpose()
    }
}

fn kept(row: ProposalRow) -> Result<KeptProposal, WorkflowError> {
    let file = format!("the proposal of {} {}", row.name, row.version);
    let proposed = read_proposal(&file, &row.document)
        .map_err(|problems| WorkflowError::Problems { problems })?;
    Ok(KeptProposal {
        id: row.id,
        batch: row.batch,
        parent: row.parent,
        name: row.name,
        version: row.version,
        hash: row.hash,
        proposed,
        made_at: row.made_at,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::PromisedChange;
    use crate::domain::ProposalId;
    use crate::domain::Proposed;

    #[test]
    fn a_proposal_comes_back_as_it_was_made_and_by_the_recipe_that_was_written_from_it() {
        let mut home = Home::trial_with_a_batch();
        let batch = home.batch("T1").unwrap();
        let name = |it| Name::new("a name", it).unwrap();
        let proposal = KeptProposal {
            id: ProposalId::new(home.draw_id()),
            batch: batch.id,
            parent: batch.version,
            name: name("Harbour dark"),
            version: name("2"),
            hash: "a".repeat(64),
            proposed: Proposed {
                changes: vec!["mash 2 °C cooler (64 °C)".to_owned()],
                lines: vec![PromisedChange {
                    id: "fullness".to_owned(),
                    label: "fullness".to_owned(),
                    now: 5.5,
                    hoped: Some(4.0),
                    low: 4.1,
                    expected: 4.7,
                    high: 5.3,
                }],
                chance: 0.7,
                test: None,
            },
            made_at: home.now(),
        };
        home.keep_proposal(&proposal).unwrap();
        let found = home.kept_proposal_for(&name("Harbour dark"), &name("2"));
        assert_eq!(found.unwrap(), Some(proposal.clone()));
        assert_eq!(home.kept_proposals().unwrap(), [proposal]);
        let other = home.kept_proposal_for(&name("Harbour dark"), &name("1"));
        assert_eq!(other.unwrap(), None);
    }
}
