//! What a closed blind test says: the analysis, who answered what, and what it rests on.

use crate::discrimination::Analysis;
use crate::discrimination::analyse;
use crate::domain::Name;
use crate::domain::Pouring;
use crate::domain::Stopping;
use crate::domain::Sureness;
use crate::domain::TasterId;
use crate::domain::TestAnswer;
use crate::formats::document_hash;
use crate::statistics::Count;
use crate::statistics::Course;
use crate::statistics::Stand;
use crate::workflow::BlindError;
use crate::workflow::Home;
use crate::workflow::PlannedTest;
use crate::workflow::WorkflowError;

/// One answer in the light of the key.
#[derive(Debug, Clone, PartialEq)]
pub struct OpenedAnswer {
    /// Which of the taster's sets, from 1.
    pub round: u16,
    /// Whether it counts: right, or for the counted beer where no direction is fixed.
    pub right: bool,
    /// Which coded glass was chosen, from 1.
    pub position: usize,
    /// How the coded glasses stood, such as `AAB`.
    pub order: String,
    /// How sure.
    pub sureness: Option<Sureness>,
    /// The mark of the beer liked better.
    pub prefers: Option<Name>,
    /// What differed, in words.
    pub words: Vec<String>,
}

/// One taster's answers.
#[derive(Debug, Clone, PartialEq)]
pub struct TasterAnswers {
    /// Who sits there.
    pub id: TasterId,
    /// What they are called.
    pub taster: Name,
    /// How many of how many were right.
    pub count: Count,
    /// One by one.
    pub answers: Vec<OpenedAnswer>,
}

/// How a test that may stop early ended.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sequence {
    /// Where its answers led.
    pub stand: Stand,
    /// The count at which it ended.
    pub count: Count,
    /// Its own error rates when the beers are the same, cut as planned.
    pub same: Course,
    /// And when they differ as planned for.
    pub different: Course,
}

/// The result of a closed test.
#[derive(Debug, Clone, PartialEq)]
pub struct TestResult {
    /// The test with its key.
    pub planned: PlannedTest,
    /// The analysis.
    pub analysis: Analysis,
    /// Who answered what.
    pub tasters: Vec<TasterAnswers>,
    /// How many planned answers are missing though no stop rule was met.
    pub missing: usize,
    /// How a sequential test ended.
    pub sequence: Option<Sequence>,
    /// Whether the commitment shown before the first answer is that of this plan.
    pub kept_its_word: bool,
}

/// A closed test with its key, before it is analysed.
pub(super) struct ClosedTest {
    pub(super) planned: PlannedTest,
    /// Who answered what, as far as it counts.
    pub(super) tasters: Vec<TasterAnswers>,
    /// How many answers were given.
    given: usize,
    sequence: Option<Sequence>,
}

impl TestResult {
    /// Whether one person poured, shuffled and tasted.
    #[must_use]
    pub fn is_self_poured(&self) -> bool {
        self.planned.test.pouring == Pouring::Alone
    }

    /// All answers with who gave them.
    pub fn answers(&self) -> impl Iterator<Item = &OpenedAnswer> {
        self.tasters.iter().flat_map(|it| &it.answers)
    }

    /// How many of the answers that fit were right, of how many.
    #[must_use]
    pub fn among(&self, fits: impl Fn(&OpenedAnswer) -> bool) -> Option<Count> {
        counted(self.answers().filter(|it| fits(it)).map(|it| it.right))
    }
}

impl Home {
    /// The result of a closed test.
    ///
    /// # Errors
    /// It is still open, has no answers, or the store cannot be read.
    pub fn test_result(&self, number: u32) -> Result<TestResult, WorkflowError> {
        let ClosedTest {
            planned,
            tasters,
            given,
            sequence,
        } = self.closed_test(number)?;
        let counts: Vec<Count> = tasters.iter().map(|it| it.count).collect();
        if counts.is_empty() {
            return Err(BlindError::NoAnswers { number }.into());
        }
        let settled = sequence.is_some_and(|it| it.stand != Stand::GoOn)
            || planned.test.stopping == Stopping::Evidence;
        Ok(TestResult {
            analysis: analyse(planned.method, &counts, planned.aim()?),
            missing: if settled {
                0
            } else {
                planned.sets.len() - given
            },
            kept_its_word: document_hash(&planned.plan_text()) == planned.test.commitment,
            tasters,
            sequence,
            planned,
        })
    }

    /// A closed test with its key, before its answers are analysed.
    ///
    /// # Errors
    /// It is still open, or the store cannot be read.
    pub(super) fn closed_test(&self, number: u32) -> Result<ClosedTest, WorkflowError> {
        let planned = self.planned_test(number)?;
        if planned.test.closed_at.is_none() {
            return Err(BlindError::Open { number }.into());
        }
        let mut answers = self.store.answers(&planned.test.id)?;
        answers.sort_by_key(|it| it.given_at);
        let given = answers.len();
        let sequence = planned.sequence(&answers)?;
        if let Some(it) = &sequence {
            answers.truncate(it.count.tries() as usize);
        }
        Ok(ClosedTest {
            tasters: self.opened(&planned, &answers)?,
            planned,
            given,
            sequence,
        })
    }

    /// The answers taster by taster, by place.
    fn opened(
        &self,
        planned: &PlannedTest,
        answers: &[TestAnswer],
    ) -> Result<Vec<TasterAnswers>, WorkflowError> {
        let mut all = Vec::new();
        for (place, id) in self.store.taken_places(&planned.test.id)? {
            let own = answers.iter().filter(|it| it.seat == place.seat);
            let mut opened: Vec<OpenedAnswer> = own
                .filter_map(|it| self.opened_answer(planned, it))
                .collect();
            opened.sort_by_key(|it| it.round);
            let taster = self.store.taster(&id)?.map(|it| it.name);
            let count = counted(opened.iter().map(|it| it.right));
            if let (Some(taster), Some(count)) = (taster, count) {
                all.push(TasterAnswers {
                    id,
                    taster,
                    count,
                    answers: opened,
                });
            }
        }
        Ok(all)
    }

    fn opened_answer(&self, planned: &PlannedTest, answer: &TestAnswer) -> Option<OpenedAnswer> {
        let set = planned.set_of(answer)?;
        let glasses = set.samples.iter().filter_map(|it| planned.sample(it));
        let letter = |it: &crate::domain::Sample| {
            if it.beer == planned.test.beers[0] {
                'A'
            } else {
                'B'
            }
        };
        let mark = |id| {
            let sample = planned.sample(id)?;
            let beer = planned.beers.iter().find(|it| it.id == sample.beer)?;
            Some(beer.cap_mark.clone())
        };
        Some(OpenedAnswer {
            round: answer.round,
            right: planned.is_right(answer),
            position: set.samples.iter().position(|it| *it == answer.chosen)? + 1,
            order: glasses.map(letter).collect(),
            sureness: answer.sureness,
            prefers: answer.prefers.as_ref().and_then(mark),
            words: answer.words.iter().map(|it| self.answer_word(it)).collect(),
        })
    }
}

impl PlannedTest {
    /// How a sequential test went; none for one with another stop rule.
    fn sequence(&self, answers: &[TestAnswer]) -> Result<Option<Sequence>, BlindError> {
        if self.test.stopping != Stopping::Sequential {
            return Ok(None);
        }
        let cut = u32::try_from(self.sets.len()).unwrap_or(u32::MAX);
        Ok(self.sequential()?.map(|test| {
            let (count, stand) = test.follow(answers.iter().map(|it| self.is_right(it)));
            Sequence {
                stand,
                count,
                same: test.course_at_null(cut),
                different: test.course_at_other(cut),
            }
        }))
    }
}

/// How many are right of how many; none of none.
fn counted(right: impl Iterator<Item = bool>) -> Option<Count> {
    let (mut hits, mut tries) = (0, 0);
    for it in right {
        hits += u32::from(it);
        tries += 1;
    }
    Count::new(hits, tries).filter(|it| it.tries() > 0)
}
