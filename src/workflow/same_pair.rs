//! All closed tests of the same two beers, put together day by day and method by method.

use crate::discrimination::Joint;
use crate::discrimination::Method;
use crate::discrimination::Summed;
use crate::discrimination::Ways;
use crate::discrimination::joint;
use crate::discrimination::summed;
use crate::domain::BeerId;
use crate::domain::BeerSide;
use crate::domain::Moment;
use crate::domain::Stopping;
use crate::statistics::Count;
use crate::workflow::Home;
use crate::workflow::PlannedTest;
use crate::workflow::TestResult;
use crate::workflow::WorkflowError;

/// One closed test among those of its two beers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TestDay {
    /// The number of the test.
    pub number: u32,
    /// When it was closed.
    pub closed_at: Option<Moment>,
    /// How many of how many were right, or chose the counted beer where no direction is fixed.
    pub count: Count,
}

/// Tests that asked the same question by the same method.
#[derive(Debug, Clone, PartialEq)]
pub struct SameQuestion {
    /// The method.
    pub method: &'static Method,
    /// What there is more of, where that was asked.
    pub attribute: Option<String>,
    /// Test by test, the oldest first.
    pub days: Vec<TestDay>,
    /// Their sum.
    pub summed: Summed,
    /// Whether each of them had its number of answers fixed beforehand and got it: only then does the
    /// p-value of the sum mean anything.
    pub is_fixed: bool,
}

/// All closed tests of the same two beers.
#[derive(Debug, Clone, PartialEq)]
pub struct SamePair {
    /// The question of each, with its tests.
    pub questions: Vec<SameQuestion>,
    /// All questions with a direction joined in the distance; none where there is one at most.
    pub joint: Option<Joint>,
}

impl SamePair {
    /// How many tests there are.
    #[must_use]
    pub fn tests(&self) -> usize {
        self.questions.iter().map(|it| it.days.len()).sum()
    }
}

/// What makes two tests ask the same.
#[derive(PartialEq)]
struct Question {
    method: &'static str,
    attribute: Option<String>,
    expected: Option<BeerId>,
}

impl Home {
    /// The closed tests of the two beers of `number`, put together.
    ///
    /// # Errors
    /// There is no such test, or the store cannot be read.
    pub fn same_pair(&self, number: u32) -> Result<SamePair, WorkflowError> {
        let beers = self.planned_test(number)?.test.beers;
        let mut results = Vec::new();
        for test in self.store.tests()? {
            let same = test.beers.iter().all(|it| beers.contains(it));
            if same && test.closed_at.is_some() {
                results.push(self.test_result(test.number)?);
            }
        }
        Ok(put_together(&results, &beers))
    }
}

fn put_together(results: &[TestResult], beers: &[BeerId; 2]) -> SamePair {
    let mut groups: Vec<(Question, Vec<&TestResult>)> = Vec::new();
    for result in results {
        let asked = question(&result.planned);
        match groups.iter_mut().find(|it| it.0 == asked) {
            Some(group) => group.1.push(result),
            None => groups.push((asked, vec![result])),
        }
    }
    let questions: Vec<SameQuestion> = groups
        .into_iter()
        .map(|(asked, results)| same_question(asked, &results, beers))
        .collect();
    let directed: Vec<(&Method, Count)> = questions
        .iter()
        .filter(|it| it.method.ways == Ways::One)
        .map(|it| (it.method, it.summed.count))
        .collect();
    let joint = (directed.len() > 1).then(|| joint(&directed).ok());
    SamePair {
        joint: joint.flatten(),
        questions,
    }
}

fn question(planned: &PlannedTest) -> Question {
    let direction = planned.test.direction.as_ref();
    let expected = direction.and_then(|it| it.expected);
    Question {
        method: planned.method.id,
        attribute: direction.map(|it| it.attribute.to_lowercase()),
        expected: expected.map(|side| {
            let at = usize::from(side == BeerSide::B);
            planned.test.beers[at].clone()
        }),
    }
}

fn same_question(asked: Question, results: &[&TestResult], beers: &[BeerId; 2]) -> SameQuestion {
    let method = results[0].planned.method;
    let days: Vec<TestDay> = results.iter().map(|it| day(it, beers)).collect();
    let counts: Vec<Count> = days.iter().map(|it| it.count).collect();
    SameQuestion {
        attribute: asked.attribute,
        summed: summed(method, &counts),
        is_fixed: results
            .iter()
            .all(|it| it.planned.test.stopping == Stopping::Fixed && it.missing == 0),
        method,
        days,
    }
}

/// The day's count; where no direction is fixed, always of the same one of the two beers.
fn day(result: &TestResult, beers: &[BeerId; 2]) -> TestDay {
    let test = &result.planned.test;
    let [mut hits, mut tries] = [0, 0];
    for count in result.tasters.iter().map(|it| it.count) {
        hits += count.hits();
        tries += count.tries();
    }
    let turned = result.planned.method.ways == Ways::Either && test.beers[0] != beers[0];
    let hits = if turned { tries - hits } else { hits };
    TestDay {
        number: test.number,
        closed_at: test.closed_at,
        count: Count::new(hits, tries).expect("some of the answers are no more than all"),
    }
}
