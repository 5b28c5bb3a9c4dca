//! What one learner gained over a course, from the check that was never practised, with its range.

use std::collections::HashMap;

use crate::domain::Course;
use crate::domain::DescriptorId;
use crate::domain::Meeting;
use crate::domain::MeetingPart;
use crate::domain::Taster;
use crate::statistics::Count;
use crate::statistics::PairedAnswers;
use crate::statistics::PairedDifference;
use crate::statistics::Probability;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// What ranges leave out.
const OUTSIDE: f64 = 0.05;

/// One check of one learner.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CheckResult {
    /// At which meeting.
    pub number: u8,
    /// Words named rightly.
    pub words: Count,
    /// Places found rightly.
    pub places: Count,
}

/// A difference between two checks, over the words asked at both.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gain {
    /// How many words both have.
    pub pairs: u32,
    /// Words named rightly: the later share less the first.
    pub words: PairedDifference,
    /// The same for places.
    pub places: PairedDifference,
}

/// What one learner gained.
#[derive(Debug, Clone, PartialEq)]
pub struct CourseGain {
    /// Who.
    pub taster: Taster,
    /// The course.
    pub course: Course,
    /// The checks answered in full, the first in front.
    pub checks: Vec<CheckResult>,
    /// From the first check to the latest; none before there are two.
    pub gain: Option<Gain>,
}

/// Which words and places of a check were right.
type Rights = HashMap<DescriptorId, (bool, bool)>;

impl Home {
    /// What one learner gained over a course so far.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn course_gain(
        &self,
        course: &Course,
        taster: &Taster,
    ) -> Result<CourseGain, WorkflowError> {
        let mut all: Vec<(u8, Rights)> = Vec::new();
        for meeting in self.meetings_of(course)? {
            if let Some(rights) = self.check_of(&meeting, taster)? {
                all.push((meeting.number, rights));
            }
        }
        let checks = all.iter().filter_map(|(number, rights)| {
            Some(CheckResult {
                number: *number,
                words: count(rights.values().map(|it| it.0))?,
                places: count(rights.values().map(|it| it.1))?,
            })
        });
        let gain = match all.as_slice() {
            [(_, first), .., (_, latest)] => gain(first, latest),
            _ => None,
        };
        Ok(CourseGain {
            taster: taster.clone(),
            course: course.clone(),
            checks: checks.collect(),
            gain,
        })
    }

    /// What was right in the check of a meeting; none where there was none, the learner was not there,
    /// or it is not answered in full.
    fn check_of(
        &self,
        meeting: &Meeting,
        taster: &Taster,
    ) -> Result<Option<Rights>, WorkflowError> {
        let check = meeting
            .practices
            .iter()
            .find(|it| it.0 == MeetingPart::Check);
        let Some((_, sitting)) = check else {
            return Ok(None);
        };
        let run = match self.practice_run(sitting, taster) {
            Ok(run) => run,
            Err(WorkflowError::NotInPractice { .. }) => return Ok(None),
            Err(other) => return Err(other),
        };
        if run.open().is_some() {
            return Ok(None);
        }
        let rights = run.items.iter().map(|item| {
            let right = run.right(item, self.wheel());
            let both = (right.whole == Some(true), right.place == Some(true));
            (item.descriptor.clone(), both)
        });
        Ok(Some(rights.collect()))
    }
}

fn count(right: impl Iterator<Item = bool>) -> Option<Count> {
    let (mut hits, mut tries) = (0, 0);
    for it in right {
        hits += u32::from(it);
        tries += 1;
    }
    Count::new(hits, tries)
}

/// The gain over the words that both checks have.
fn gain(first: &Rights, latest: &Rights) -> Option<Gain> {
    let both: Vec<_> = first
        .iter()
        .filter_map(|(word, before)| Some((*before, *latest.get(word)?)))
        .collect();
    let pairs = u32::try_from(both.len()).ok()?;
    let outside = Probability::new(OUTSIDE)?;
    let difference = |right: fn((bool, bool)) -> bool| {
        let changed = |from: bool, to: bool| {
            let it = both
                .iter()
                .filter(|it| right(it.0) == from && right(it.1) == to);
            u32::try_from(it.count()).ok()
        };
        let answers = PairedAnswers::new(changed(false, true)?, changed(true, false)?, pairs)?;
        Some(answers.difference(outside))
    };
    Some(Gain {
        pairs,
        words: difference(|it| it.0)?,
        places: difference(|it| it.1)?,
    })
}
