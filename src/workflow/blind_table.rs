//! A blind test at the table: places are taken, sets answered in private, and left for good.

use crate::discrimination::Side;
use crate::domain::BlindingCode;
use crate::domain::NotesSource;
use crate::domain::Remark;
use crate::domain::Sample;
use crate::domain::SeatId;
use crate::domain::Stopping;
use crate::domain::Subject;
use crate::domain::Sureness;
use crate::domain::Taster;
use crate::domain::TestAnswer;
use crate::domain::TestAnswerId;
use crate::domain::TestSet;
use crate::statistics::Count;
use crate::statistics::Probability;
use crate::statistics::ProportionPrior;
use crate::statistics::SequentialTest;
use crate::statistics::Stand;
use crate::workflow::BlindError;
use crate::workflow::Home;
use crate::workflow::PlannedTest;
use crate::workflow::WorkflowError;
use crate::workflow::subject_word;

/// Words that one answer may hold.
const MOST_WORDS: usize = 5;

/// One set as its taster may see it: codes, and nothing of what they hold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SetOfGlasses {
    /// Which of this place's sets, from 1.
    pub round: u16,
    /// Whether a reference without a code comes first.
    pub has_reference: bool,
    /// The codes in the order of tasting.
    pub codes: Vec<BlindingCode>,
    /// Those that can be chosen.
    pub choices: Vec<BlindingCode>,
    /// What was answered so far, while its taster is still here.
    pub answered: Option<GivenAnswer>,
}

/// What a taster says of a set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GivenAnswer {
    /// The glass chosen.
    pub chosen: BlindingCode,
    /// How sure.
    pub sureness: Option<Sureness>,
    /// The glass liked better.
    pub prefers: Option<BlindingCode>,
    /// What differed.
    pub words: Vec<Subject>,
}

/// A taster's place at a test.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlaceAtTest {
    /// The number of the test.
    pub number: u32,
    /// Who sits here.
    pub taster: Taster,
    /// The place, from 1.
    pub place: u16,
    /// The seat.
    pub seat: SeatId,
    /// Their sets in order.
    pub sets: Vec<SetOfGlasses>,
}

impl PlaceAtTest {
    /// The first set without an answer; none once all have one.
    #[must_use]
    pub fn open(&self) -> Option<&SetOfGlasses> {
        self.sets.iter().find(|it| it.answered.is_none())
    }
}

/// Whether a test goes on; nothing more may be told while people still taste.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GoesOn {
    /// It waits for more answers.
    On,
    /// All it can have are there, or its stop rule is met.
    Stop,
}

impl Home {
    /// The test with this number, if it is open.
    pub(super) fn open_test(&self, number: u32) -> Result<PlannedTest, WorkflowError> {
        let planned = self.planned_test(number)?;
        if planned.test.closed_at.is_some() {
            return Err(BlindError::Closed { number }.into());
        }
        Ok(planned)
    }

    pub(super) fn place_at(
        &self,
        planned: &PlannedTest,
        taster: Taster,
        place: u16,
        seat: SeatId,
    ) -> Result<PlaceAtTest, WorkflowError> {
        let answers = self.store.answers(&planned.test.id)?;
        let own = planned.sets.iter().filter(|it| it.place == place);
        let sets = own.map(|set| {
            let of = |it: &&TestAnswer| it.seat == seat && it.round == set.round;
            planned.seen(set, answers.iter().find(of))
        });
        Ok(PlaceAtTest {
            number: planned.test.number,
            sets: sets.collect(),
            taster,
            place,
            seat,
        })
    }

    /// Keeps the answer to a set, or corrects it while its taster is still here.
    ///
    /// # Errors
    /// A code is not in the set, the taster has left, the test is closed, or the store cannot be
    /// written.
    pub fn answer_set(
        &mut self,
        place: &PlaceAtTest,
        round: u16,
        given: &GivenAnswer,
        source: NotesSource,
    ) -> Result<PlaceAtTest, WorkflowError> {
        let planned = self.open_test(place.number)?;
        let set = planned.set_at(place, round)?;
        let seen = planned.seen(set, None);
        let chosen = planned.coded(set, given.chosen, &seen.choices)?;
        let prefers = match given.prefers {
            Some(code) => Some(planned.coded(set, code, &seen.codes)?),
            None => None,
        };
        let answer = TestAnswer {
            id: TestAnswerId::new(self.draw_id()),
            seat: place.seat.clone(),
            round,
            chosen: chosen.id.clone(),
            sureness: given.sureness,
            prefers: prefers.map(|it| it.id.clone()),
            words: given.words.clone(),
            source,
            given_at: self.now(),
            replaces: self.answer_so_far(&planned, place, round)?,
        };
        self.ensure_here(place)?;
        self.store.add_answer(&answer)?;
        self.place_at(
            &planned,
            place.taster.clone(),
            place.place,
            place.seat.clone(),
        )
    }

    /// Words as typed with commas between: those of the wheel by their ids, others as they stand.
    ///
    /// # Errors
    /// One of them is too long, or holds signs that cannot be shown.
    pub fn answer_words(&self, typed: &str) -> Result<Vec<Subject>, WorkflowError> {
        let words = typed.split(',').map(str::trim).filter(|it| !it.is_empty());
        let subjects = words.take(MOST_WORDS).map(|word| {
            let found = self.wheel().search(word, 1).into_iter().next();
            let own = found.filter(|it| it.word.eq_ignore_ascii_case(word));
            Ok(match own {
                Some(it) => Subject::Descriptor(it.id.clone()),
                None => Subject::Free(Remark::new("a word", word)?),
            })
        });
        subjects.collect()
    }

    /// One word of an answer as it was said.
    #[must_use]
    pub fn answer_word(&self, word: &Subject) -> String {
        match word {
            Subject::Free(own) => own.as_str().to_owned(),
            of_the_wheel => subject_word(self.wheel(), of_the_wheel),
        }
    }

    /// The answer that stands to a set of a place.
    fn answer_so_far(
        &self,
        planned: &PlannedTest,
        place: &PlaceAtTest,
        round: u16,
    ) -> Result<Option<TestAnswerId>, WorkflowError> {
        let answers = self.store.answers(&planned.test.id)?;
        let own = |it: &TestAnswer| it.seat == place.seat && it.round == round;
        Ok(answers.into_iter().find(own).map(|it| it.id))
    }

    fn ensure_here(&self, place: &PlaceAtTest) -> Result<(), WorkflowError> {
        let planned = self.open_test(place.number)?;
        let taken = self.store.taken_places(&planned.test.id)?;
        if taken
            .iter()
            .any(|it| it.0.seat == place.seat && it.0.left_at.is_none())
        {
            return Ok(());
        }
        let (number, name) = (place.number, place.taster.name.to_string());
        Err(BlindError::Answered { number, name }.into())
    }

    /// Leaves a place for good: from now on no answer of it can be seen or changed by anybody.
    ///
    /// # Errors
    /// The store cannot be written.
    pub fn leave_place(&mut self, place: &PlaceAtTest) -> Result<GoesOn, WorkflowError> {
        let now = self.now();
        self.store.leave_seat(&place.seat, now)?;
        self.goes_on(place.number)
    }

    /// Whether a test waits for more answers.
    ///
    /// # Errors
    /// There is no such test, or the store cannot be read.
    pub fn goes_on(&self, number: u32) -> Result<GoesOn, WorkflowError> {
        let planned = self.planned_test(number)?;
        if planned.test.closed_at.is_some() {
            return Ok(GoesOn::Stop);
        }
        let mut answers = self.store.answers(&planned.test.id)?;
        if answers.len() >= planned.sets.len() {
            return Ok(GoesOn::Stop);
        }
        answers.sort_by_key(|it| it.given_at);
        let right: Vec<bool> = answers.iter().map(|it| planned.is_right(it)).collect();
        let settled = match planned.test.stopping {
            Stopping::Fixed => false,
            Stopping::Sequential => planned
                .sequential()?
                .is_some_and(|it| it.follow(right).1 != Stand::GoOn),
            Stopping::Evidence => planned.evidence_suffices(&right)?,
        };
        Ok(if settled { GoesOn::Stop } else { GoesOn::On })
    }
}

impl PlannedTest {
    /// One of a place's sets.
    fn set_at(&self, place: &PlaceAtTest, round: u16) -> Result<&TestSet, BlindError> {
        let mut sets = self.sets.iter();
        let set = sets.find(|it| (it.place, it.round) == (place.place, round));
        set.ok_or_else(|| BlindError::Answered {
            number: place.number,
            name: place.taster.name.to_string(),
        })
    }

    /// A set as its taster may see it.
    fn seen(&self, set: &TestSet, answer: Option<&TestAnswer>) -> SetOfGlasses {
        let code = |id| self.sample(id).map(|it| it.code);
        let codes: Vec<BlindingCode> = set.samples.iter().filter_map(code).collect();
        let choices = self.method.choices.iter();
        SetOfGlasses {
            round: set.round,
            has_reference: set.reference.is_some(),
            choices: choices.filter_map(|it| codes.get(*it).copied()).collect(),
            codes,
            answered: answer.and_then(|it| {
                Some(GivenAnswer {
                    chosen: code(&it.chosen)?,
                    sureness: it.sureness,
                    prefers: it.prefers.as_ref().and_then(code),
                    words: it.words.clone(),
                })
            }),
        }
    }

    /// The glass of a set with this code, if it is among those allowed.
    fn coded(
        &self,
        set: &TestSet,
        code: BlindingCode,
        allowed: &[BlindingCode],
    ) -> Result<&Sample, BlindError> {
        let mut glasses = set.samples.iter().filter_map(|it| self.sample(it));
        let glass = glasses.find(|it| it.code == code);
        glass
            .filter(|_| allowed.contains(&code))
            .ok_or_else(|| BlindError::NotInTheSet {
                code: code.to_string(),
                codes: allowed.iter().map(BlindingCode::to_string).collect(),
            })
    }

    /// The set that an answer is to.
    pub(super) fn set_of(&self, answer: &TestAnswer) -> Option<&TestSet> {
        self.sets
            .iter()
            .find(|it| it.samples.contains(&answer.chosen))
    }

    /// True for the right answer; where no direction is fixed, for the counted one.
    pub(super) fn is_right(&self, answer: &TestAnswer) -> bool {
        let Some(set) = self.set_of(answer) else {
            return false;
        };
        let sides: Vec<Side> = set
            .samples
            .iter()
            .filter_map(|it| self.sample(it))
            .map(|it| self.side(it))
            .collect();
        let reference = set.reference.map(|it| self.side_named(it));
        let mut stands = self.method.presentations.iter();
        let stands = stands.find(|it| it.glasses == sides && it.reference == reference);
        let right = stands.and_then(|it| set.samples.get((self.method.right)(it)));
        right == Some(&answer.chosen)
    }

    /// Wald's test for these risks, where its lines exist.
    pub(super) fn sequential(&self) -> Result<Option<SequentialTest>, BlindError> {
        let aim = self.aim()?;
        let other = self.method.correct_at(aim.effect);
        Ok(SequentialTest::new(
            self.method.guess(),
            other,
            Probability::new(aim.alpha.get()).unwrap_or(Probability::ONE),
            Probability::new(aim.beta.get()).unwrap_or(Probability::ONE),
        ))
    }

    /// True once the evidence is 1/alpha or more.
    fn evidence_suffices(&self, right: &[bool]) -> Result<bool, BlindError> {
        let hits = right.iter().filter(|it| **it).count();
        let number = |it: usize| u32::try_from(it).unwrap_or(u32::MAX);
        let count = Count::new(number(hits), number(right.len()));
        let Some(count) = count.filter(|it| it.tries() > 0) else {
            return Ok(false);
        };
        let reading = ProportionPrior::EVEN_HANDED.after(count, self.method.guess());
        Ok(reading.e_value() >= 1.0 / self.aim()?.alpha.get())
    }
}
