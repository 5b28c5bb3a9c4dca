//! All answers of one taster, word by word.

use std::collections::BTreeMap;

use crate::domain::DescriptorId;
use crate::training::Asked;
use crate::training::Outcome;
use crate::training::WordAnswer;

/// All answers of one taster, word by word, the oldest first.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Histories(BTreeMap<DescriptorId, Vec<WordAnswer>>);

impl FromIterator<(DescriptorId, WordAnswer)> for Histories {
    /// Collects answers that come in any order.
    fn from_iter<I: IntoIterator<Item = (DescriptorId, WordAnswer)>>(answers: I) -> Self {
        let mut words: BTreeMap<DescriptorId, Vec<WordAnswer>> = BTreeMap::new();
        for (id, answer) in answers {
            words.entry(id).or_default().push(answer);
        }
        for answers in words.values_mut() {
            answers.sort_by(|one, other| one.at.days().total_cmp(&other.at.days()));
        }
        Self(words)
    }
}

impl Histories {
    /// Each word that was asked, with its answers, of which there is at least one.
    pub(super) fn words(&self) -> impl Iterator<Item = (&DescriptorId, &[WordAnswer])> {
        self.0.iter().map(|(id, answers)| (id, answers.as_slice()))
    }

    /// The latest answer to a word; none before the first.
    pub(super) fn latest(&self, id: &DescriptorId) -> Option<&WordAnswer> {
        self.0.get(id).and_then(|it| it.last())
    }

    /// How often a word was asked.
    pub(super) fn times(&self, id: &DescriptorId) -> usize {
        self.0.get(id).map_or(0, Vec::len)
    }

    /// Whether a word was ever answered rightly.
    pub(super) fn ever_right(&self, id: &DescriptorId) -> bool {
        let answers = self.0.get(id).into_iter().flatten();
        answers.into_iter().any(|it| it.outcome == Outcome::Right)
    }

    /// How the taster was asked last, for any word: the best guess of how they will be asked next.
    pub(super) fn asked_last(&self) -> Asked {
        let latest = self.0.values().filter_map(|it| it.last());
        latest
            .max_by(|one, other| one.at.days().total_cmp(&other.at.days()))
            .map_or(Asked::Freely, |it| it.asked)
    }
}
