//! All that a taster ever practised.

use std::collections::HashMap;

use crate::domain::Moment;
use crate::domain::Practice;
use crate::domain::PracticeAnswer;
use crate::domain::PracticeItem;
use crate::domain::PracticeKind;
use crate::domain::Reveal;
use crate::domain::SeatId;
use crate::domain::SeatRole;
use crate::domain::SittingId;
use crate::domain::Taster;
use crate::workflow::Home;
use crate::workflow::ItemReplies;
use crate::workflow::ItemRight;
use crate::workflow::PracticeRun;
use crate::workflow::WorkflowError;

/// One item that was answered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PastItem {
    /// What was asked.
    pub item: PracticeItem,
    /// What was answered.
    pub replies: ItemReplies,
    /// What was right of it.
    pub right: ItemRight,
    /// When the last of it was answered.
    pub given_at: Moment,
}

impl Home {
    /// Every item that a taster has answered, the oldest first.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn practice_history(&self, taster: &Taster) -> Result<Vec<PastItem>, WorkflowError> {
        let items = self.store.practised_items(&taster.id)?;
        let mut answers: HashMap<(SeatId, u16), Vec<PracticeAnswer>> = HashMap::new();
        for answer in self.store.practised_answers(&taster.id)? {
            let key = (answer.seat.clone(), answer.position);
            answers.entry(key).or_default().push(answer);
        }
        let past = items.into_iter().filter_map(|item| {
            let answers = answers.remove(&(item.seat.clone(), item.position))?;
            self.past_item(taster, item, answers)
        });
        let mut past: Vec<PastItem> = past.collect();
        past.sort_by_key(|it| it.given_at);
        Ok(past)
    }

    /// An item with its answers; none where it has not its whole answer.
    fn past_item(
        &self,
        taster: &Taster,
        item: PracticeItem,
        answers: Vec<PracticeAnswer>,
    ) -> Option<PastItem> {
        let given_at = answers.last()?.given_at;
        let run = PracticeRun {
            practice: Practice {
                sitting: SittingId::new(String::new()),
                kind: PracticeKind::Words,
                reveal: Reveal::Each,
            },
            taster: taster.clone(),
            seat: item.seat.clone(),
            role: SeatRole::Taster,
            items: Vec::new(),
            answers,
        };
        run.is_answered(&item).then(|| PastItem {
            replies: run.replies(&item),
            right: run.right(&item, self.wheel()),
            given_at,
            item,
        })
    }
}
