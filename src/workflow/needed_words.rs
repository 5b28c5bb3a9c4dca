//! The words that a taster's last beers needed: hoped for by the brewer, and not named by this taster.

use std::collections::HashMap;

use crate::domain::DescriptorId;
use crate::domain::Line;
use crate::domain::Subject;
use crate::domain::Taster;
use crate::storage::NotesRow;
use crate::workflow::Home;
use crate::workflow::WorkflowError;
use crate::workflow::noted::named;

/// How many of the last beers count (judgement).
const BEERS: usize = 12;

impl Home {
    /// How often each word was hoped for in the last beers of a taster and not named by them.
    ///
    /// Only locked notes of sound bottles count, and no beer whose plan is sealed: practice must not
    /// tell what somebody is about to taste.
    pub(super) fn needed_words(
        &self,
        taster: &Taster,
    ) -> Result<HashMap<DescriptorId, u32>, WorkflowError> {
        let rows = self.store.notes_of_taster(&taster.id)?;
        let sound = |it: &&NotesRow| it.locked_at.is_some() && it.bottle_fault.is_none();
        let mut needed = HashMap::new();
        for row in rows.iter().rev().filter(sound).take(BEERS) {
            for word in self.missed_in(row)? {
                *needed.entry(word).or_insert(0) += 1;
            }
        }
        Ok(needed)
    }

    /// The words hoped for in one beer that its notes do not name.
    fn missed_in(&self, row: &NotesRow) -> Result<Vec<DescriptorId>, WorkflowError> {
        if self.is_plan_sealed(&row.beer)? {
            return Ok(Vec::new());
        }
        let batch = match &row.beer.batch {
            Some(batch) => self.store.batch(batch)?,
            None => None,
        };
        let (Some(batch), Some(notes)) = (batch, self.store.notes(&row.notes)?) else {
            return Ok(Vec::new());
        };
        let recipe = self.recipe_of(&batch)?;
        let dated = self.intent_of(&batch, &recipe, &self.log_of(&batch.id)?)?;
        let named = named(&notes);
        let targets = dated.intent.targets.into_iter();
        let hoped = targets.filter_map(|target| match target.line {
            Line::Word { descriptor, .. } if target.value > 0.0 => Some(descriptor),
            _ => None,
        });
        Ok(hoped
            .filter(|id| !named.contains(&&Subject::Descriptor(id.clone())))
            .collect())
    }
}
