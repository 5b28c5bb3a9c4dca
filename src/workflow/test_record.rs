//! One taster's answers over all closed blind tests, beside those of the others at the same tests.

use crate::discrimination::Method;
use crate::discrimination::Ways;
use crate::domain::Sureness;
use crate::domain::Taster;
use crate::domain::TasterId;
use crate::statistics::Count;
use crate::statistics::Limits;
use crate::statistics::Probability;
use crate::statistics::wilson;
use crate::workflow::Home;
use crate::workflow::OpenedAnswer;
use crate::workflow::TasterAnswers;
use crate::workflow::WorkflowError;

/// What limits leave out.
const OUTSIDE: f64 = 0.05;

/// One taster's answers by one method.
#[derive(Debug, Clone, PartialEq)]
pub struct MethodRecord {
    /// The method.
    pub method: &'static Method,
    /// At how many tests.
    pub tests: u32,
    /// How many were right.
    pub own: Count,
    /// Where the share of right answers lies, 19 times in 20 (Wilson 1927).
    pub limits: Limits,
    /// The others at the same tests, all together.
    pub others: Count,
}

/// One taster's answers over all closed tests.
#[derive(Debug, Clone, PartialEq)]
pub struct TestRecord {
    /// Who.
    pub taster: Taster,
    /// Method by method, in the order they were first met.
    pub methods: Vec<MethodRecord>,
    /// How many were right by how sure they were; only what was said.
    pub sureness: Vec<(Sureness, Count)>,
}

/// What is counted on the way.
#[derive(Default)]
struct Tally {
    tests: u32,
    own: [u32; 2],
    others: [u32; 2],
}

impl Home {
    /// The record of a taster. Tests in which no answer is right or wrong are left out.
    ///
    /// # Errors
    /// Nobody has the name, or the store cannot be read.
    pub fn test_record(&self, name: &str) -> Result<TestRecord, WorkflowError> {
        let taster = self.taster(name)?;
        let mut methods: Vec<(&'static Method, Tally)> = Vec::new();
        let mut sureness = [[0; 2]; Sureness::ALL.len()];
        let mut sat_at = self.store.tests_of_taster(&taster.id)?;
        sat_at.retain(|it| it.closed_at.is_some());
        for test in sat_at {
            // What all answers together say is told of the test; here each is only counted.
            let result = self.closed_test(test.number)?;
            let method = result.planned.method;
            let of_own = result.tasters.iter().filter(|it| it.id == taster.id);
            let own: Vec<&TasterAnswers> = of_own.collect();
            if own.is_empty() || method.ways == Ways::Either {
                continue;
            }
            if !methods.iter().any(|it| it.0.id == method.id) {
                methods.push((method, Tally::default()));
            }
            if let Some((_, tally)) = methods.iter_mut().find(|it| it.0.id == method.id) {
                tally.add(&result.tasters, &taster.id);
            }
            for answer in own.iter().flat_map(|it| &it.answers) {
                count_sureness(&mut sureness, answer);
            }
        }
        Ok(TestRecord {
            methods: methods.into_iter().map(|it| it.1.record(it.0)).collect(),
            sureness: Sureness::ALL
                .iter()
                .zip(sureness)
                .filter(|it| it.1[1] > 0)
                .map(|(sure, it)| (*sure, count(it)))
                .collect(),
            taster,
        })
    }
}

/// Counts an answer where its taster said how sure.
fn count_sureness(sums: &mut [[u32; 2]; Sureness::ALL.len()], answer: &OpenedAnswer) {
    let mut all = Sureness::ALL.iter();
    if let Some(at) = all.position(|it| Some(*it) == answer.sureness) {
        sums[at][0] += u32::from(answer.right);
        sums[at][1] += 1;
    }
}

impl Tally {
    fn add(&mut self, tasters: &[TasterAnswers], own: &TasterId) {
        self.tests += 1;
        for it in tasters {
            let sum = if it.id == *own {
                &mut self.own
            } else {
                &mut self.others
            };
            sum[0] += it.count.hits();
            sum[1] += it.count.tries();
        }
    }

    fn record(&self, method: &'static Method) -> MethodRecord {
        let own = count(self.own);
        let outside = Probability::new(OUTSIDE).expect("5 % is a probability");
        MethodRecord {
            method,
            tests: self.tests,
            own,
            limits: wilson(own, outside),
            others: count(self.others),
        }
    }
}

fn count([hits, tries]: [u32; 2]) -> Count {
    Count::new(hits, tries).expect("some of the answers are no more than all")
}
