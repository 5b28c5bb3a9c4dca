//! A planned test with its method and everything drawn: what it asks, which beer is where, what it is worth.

use std::collections::HashMap;

use crate::discrimination::Aim;
use crate::discrimination::Alpha;
use crate::discrimination::Beta;
use crate::discrimination::Effect;
use crate::discrimination::METHODS;
use crate::discrimination::Method;
use crate::discrimination::Pd;
use crate::discrimination::Side;
use crate::discrimination::Similarity;
use crate::discrimination::evidence_courses;
use crate::discrimination::plan;
use crate::discrimination::similarity;
use crate::domain::Abv;
use crate::domain::Aims;
use crate::domain::Beer;
use crate::domain::BeerId;
use crate::domain::BeerSide;
use crate::domain::BlindTest;
use crate::domain::Purpose;
use crate::domain::Sample;
use crate::domain::SampleId;
use crate::domain::Stopping;
use crate::domain::TestSet;
use crate::statistics::Course;
use crate::workflow::BlindError;
use crate::workflow::Cost;
use crate::workflow::Home;
use crate::workflow::Table;
use crate::workflow::WorkflowError;
use crate::workflow::cost;

/// A test with its method and everything drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct PlannedTest {
    /// The test as kept.
    pub test: BlindTest,
    /// Its method.
    pub method: &'static Method,
    /// The two beers.
    pub beers: [Beer; 2],
    /// The sets by place and round.
    pub sets: Vec<TestSet>,
    /// The glasses.
    pub samples: Vec<Sample>,
}

impl Home {
    /// The test with this number, with everything drawn.
    ///
    /// # Errors
    /// There is none, or the store cannot be read.
    pub fn planned_test(&self, number: u32) -> Result<PlannedTest, WorkflowError> {
        let Some(test) = self.store.test_numbered(number)? else {
            let all = self.store.tests()?;
            let known = all.iter().map(|it| it.number.to_string()).collect();
            return Err(BlindError::NoTest { number, known }.into());
        };
        self.planned_test_of(test)
    }

    /// A test that was read, with everything drawn.
    pub(super) fn planned_test_of(&self, test: BlindTest) -> Result<PlannedTest, WorkflowError> {
        let TestRow {
            test,
            method,
            beers,
        } = self.test_row_of(test)?;
        Ok(PlannedTest {
            method,
            beers,
            sets: self.store.test_sets(&test.id)?,
            samples: self.store.samples_of(&test.sitting)?,
            test,
        })
    }

    /// All tests, by number.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn test_rows(&self) -> Result<Vec<TestRow>, WorkflowError> {
        let tests = self.store.tests()?.into_iter();
        tests.map(|it| self.test_row_of(it)).collect()
    }

    fn test_row_of(&self, test: BlindTest) -> Result<TestRow, WorkflowError> {
        let number = test.number;
        let beer = |id: &BeerId| -> Result<Beer, WorkflowError> {
            self.store.beer(id)?.ok_or_else(|| {
                let known = Vec::new();
                BlindError::NoTest { number, known }.into()
            })
        };
        Ok(TestRow {
            method: method_called(&test.method)?,
            beers: [beer(&test.beers[0])?, beer(&test.beers[1])?],
            test,
        })
    }
}

/// A test in the list of all: without its sets and glasses.
#[derive(Debug, Clone, PartialEq)]
pub struct TestRow {
    /// The test as kept.
    pub test: BlindTest,
    /// Its method.
    pub method: &'static Method,
    /// The two beers.
    pub beers: [Beer; 2],
}

/// What a plan is worth and what it costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TestOdds {
    /// Answers planned.
    pub answers: u32,
    /// How many must be right; none where it can never be significant.
    pub critical: Option<u32>,
    /// The chance of noticing the difference that matters if all answers come in.
    pub power: f64,
    /// What it can show of likeness, where that is the question.
    pub alike: Option<Similarity>,
    /// Where it may stop early: what becomes of it if the two are the same, and if they differ as
    /// planned for.
    pub courses: Option<[Course; 2]>,
    /// Beer and alcohol.
    pub cost: Cost,
}

impl PlannedTest {
    /// What the plan is worth, for beers as strong as known, or 5 % where nobody knows.
    ///
    /// # Errors
    /// A stored figure is outside what an analysis takes.
    pub fn odds(&self) -> Result<TestOdds, BlindError> {
        let aim = self.aim()?;
        let answers = u32::try_from(self.sets.len()).unwrap_or(u32::MAX);
        let plan = plan(self.method, answers, aim.alpha, aim.effect);
        let known = self.beers.iter().filter_map(|it| it.abv);
        let strongest = known.map(Abv::get).fold(None, |most: Option<f64>, it| {
            Some(most.map_or(it, |most| most.max(it)))
        });
        let table = Table {
            friends: Some(u32::from(self.test.places)),
            rounds: u32::from(self.test.rounds),
            glass: self.test.glass,
            abv: usual_abv(strongest),
        };
        Ok(TestOdds {
            answers,
            critical: plan.critical,
            power: plan.power.get(),
            alike: (self.test.purpose == Purpose::Similarity)
                .then(|| similarity(self.method, answers, aim.beta, aim.effect)),
            courses: self.courses(answers)?,
            cost: Cost {
                of_each: self.of_each(),
                ..cost(self.method, table, answers, table.rounds)
            },
        })
    }

    /// Millilitres of either beer, all cups and references together: as drawn, and where no direction
    /// is fixed the larger of the two for both, so that it tells nothing.
    fn of_each(&self) -> [f64; 2] {
        let glasses = |side: Side| {
            let coded = self.samples.iter().filter(|it| self.side(it) == side);
            let references = self.sets.iter().filter_map(|it| it.reference);
            let references = references.filter(|it| self.side_named(*it) == side);
            (coded.count() + references.count()) as f64 * self.test.glass.get()
        };
        let of_each = [glasses(Side::A), glasses(Side::B)];
        match self.test.direction {
            Some(_) => of_each,
            None => [of_each[0].max(of_each[1]); 2],
        }
    }

    /// What becomes of a test that may stop early, cut after so many answers.
    fn courses(&self, cut: u32) -> Result<Option<[Course; 2]>, BlindError> {
        let aim = self.aim()?;
        Ok(match self.test.stopping {
            Stopping::Fixed => None,
            Stopping::Sequential => self
                .sequential()?
                .map(|it| [it.course_at_null(cut), it.course_at_other(cut)]),
            Stopping::Evidence => {
                let effect = aim.effect;
                Some(evidence_courses(self.method, aim.alpha, effect, cut))
            }
        })
    }

    /// The risks and the difference that matters, as the analysis takes them.
    ///
    /// # Errors
    /// A stored figure is outside what an analysis takes.
    pub fn aim(&self) -> Result<Aim, BlindError> {
        aim(&self.test.aims)
    }

    /// What a taster is asked, with the word a directed question asks for.
    #[must_use]
    pub fn question(&self) -> String {
        match &self.test.direction {
            Some(it) => format!("{} It is about: {}.", self.method.question, it.attribute),
            None => self.method.question.to_owned(),
        }
    }

    /// The glass with this id.
    #[must_use]
    pub fn sample(&self, id: &SampleId) -> Option<&Sample> {
        self.samples.iter().find(|it| it.id == *id)
    }

    /// Which of the two is in a glass; `B` is the one expected to have more, where one is.
    #[must_use]
    pub fn side(&self, sample: &Sample) -> Side {
        let first = sample.beer == self.test.beers[0];
        if first == swapped(&self.test) {
            Side::B
        } else {
            Side::A
        }
    }

    /// Which of the two is in the reference.
    #[must_use]
    pub fn side_named(&self, side: BeerSide) -> Side {
        if (side == BeerSide::A) == swapped(&self.test) {
            Side::B
        } else {
            Side::A
        }
    }

    /// The plan with its salt as the text over which the commitment is made: line by line what each
    /// code holds.
    #[must_use]
    pub fn plan_text(&self) -> String {
        let [a, b] = self.beers.each_ref().map(|it| it.cap_mark.as_str());
        let mut lines = vec![
            format!("thirdglass blind test {}", self.test.number),
            self.test.method.clone(),
            format!("a {a}"),
            format!("b {b}"),
        ];
        let side = |it: &Sample| {
            if it.beer == self.test.beers[0] {
                'a'
            } else {
                'b'
            }
        };
        let cups: HashMap<&SampleId, String> = self
            .samples
            .iter()
            .map(|it| (&it.id, format!("{} {}", it.code, side(it))))
            .collect();
        for set in &self.sets {
            let mut words = vec![format!("place {} round {}", set.place, set.round)];
            words.extend(set.reference.map(|it| format!("reference {}", it.id())));
            words.extend(set.samples.iter().filter_map(|it| cups.get(it).cloned()));
            lines.push(words.join(" "));
        }
        lines.push(format!("salt {}", self.test.salt));
        lines.into_iter().map(|it| it + "\n").collect()
    }
}

/// How strong a beer is taken to be where nobody knows (judgement).
const ASSUMED_ABV: f64 = 5.0;

/// The strength that is known, or the assumed one.
pub(super) fn usual_abv(known: Option<f64>) -> Abv {
    Abv::new(known.unwrap_or(ASSUMED_ABV))
        .unwrap_or_else(|_| Abv::new(ASSUMED_ABV).expect("5 % is a strength"))
}

/// True where the beer named first is the one expected to have more, so that it is the counted one.
fn swapped(test: &BlindTest) -> bool {
    let expected = test.direction.as_ref().and_then(|it| it.expected);
    expected == Some(BeerSide::A)
}

/// The method with this id.
pub(super) fn method_called(id: &str) -> Result<&'static Method, BlindError> {
    Method::from_id(id).ok_or_else(|| BlindError::NoMethod {
        asked: id.chars().take(60).collect(),
        known: METHODS.iter().map(|it| it.id.to_owned()).collect(),
    })
}

/// Risks as the analysis takes them.
pub(super) fn aim(aims: &Aims) -> Result<Aim, BlindError> {
    Ok(Aim {
        alpha: Alpha::new(aims.alpha.get())?,
        beta: Beta::new(aims.beta.get())?,
        effect: Effect::Pd(Pd::new(aims.pd.get())?),
    })
}
