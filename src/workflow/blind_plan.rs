//! A blind test planned: two beers, a method, risks, people, and everything drawn.

use crate::discrimination::Asked;
use crate::discrimination::Method;
use crate::discrimination::Standing;
use crate::discrimination::Ways;
use crate::discrimination::critical_count;
use crate::discrimination::similarity;
use crate::discrimination::similarity_sizes;
use crate::domain::Aims;
use crate::domain::Beer;
use crate::domain::BeerSide;
use crate::domain::BlindTest;
use crate::domain::Direction;
use crate::domain::Millilitres;
use crate::domain::Name;
use crate::domain::Pouring;
use crate::domain::Purpose;
use crate::domain::Sitting;
use crate::domain::SittingId;
use crate::domain::SittingKind;
use crate::domain::Stopping;
use crate::domain::TestId;
use crate::formats::document_hash;
use crate::workflow::BlindError;
use crate::workflow::Home;
use crate::workflow::PlannedTest;
use crate::workflow::WorkflowError;
use crate::workflow::blind_draw::draw;
use crate::workflow::planned_test::aim;
use crate::workflow::planned_test::method_called;

/// Letters of the salt: 100 bits, so that nobody finds the plan by trying.
const SALT_LETTERS: usize = 20;

/// Fewest answers are looked for up to here.
const MOST_LEAST: u32 = 200;

/// What is asked of a test.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanRequest {
    /// The marks of the two bottles.
    pub beers: [String; 2],
    /// The id of the method.
    pub method: String,
    /// What it is to show.
    pub purpose: Purpose,
    /// Its risks.
    pub aims: Aims,
    /// What one of the two may have more of.
    pub attribute: Option<String>,
    /// Which one is expected to.
    pub expected: Option<BeerSide>,
    /// Places at the table.
    pub places: u16,
    /// Sets for each place.
    pub rounds: u16,
    /// When it stops.
    pub stopping: Stopping,
    /// Who pours.
    pub pouring: Pouring,
    /// What goes into a glass.
    pub glass: Millilitres,
    /// The seed; drawn if left out.
    pub seed: Option<u64>,
}

impl Home {
    /// Plans a test: draws orders and codes, and keeps them with a commitment.
    ///
    /// # Errors
    /// A name or figure is refused, the answers planned could never show anything, or the store cannot
    /// be written.
    pub fn plan_test(&mut self, request: &PlanRequest) -> Result<PlannedTest, WorkflowError> {
        let planned = self.draft_test(request)?;
        self.keep_test(planned)
    }

    /// A plan with everything drawn and nothing kept yet, so that it can be looked at first.
    ///
    /// # Errors
    /// A name or figure is refused, or the answers planned could never show anything.
    pub fn draft_test(&mut self, request: &PlanRequest) -> Result<PlannedTest, WorkflowError> {
        let method = method_called(&request.method)?;
        check(method, request)?;
        let beers = self.two_beers(&request.beers)?;
        let sitting = Sitting {
            id: SittingId::new(self.draw_id()),
            kind: SittingKind::Test,
            seed: request.seed.unwrap_or_else(|| self.dice.seed()),
            made_at: self.now(),
            closed_at: None,
        };
        let drawn = draw(method, request, &beers, &sitting)?;
        Ok(PlannedTest {
            test: self.test_row(request, &beers, &sitting)?,
            method,
            beers,
            sets: drawn.sets,
            samples: drawn.samples,
        })
    }

    /// Keeps a plan that was looked at, under the next number.
    ///
    /// # Errors
    /// The store cannot be written.
    pub fn keep_test(&mut self, mut planned: PlannedTest) -> Result<PlannedTest, WorkflowError> {
        for beer in &planned.beers {
            if self.store.beer(&beer.id)?.is_none() {
                self.store.add_beer(beer)?;
            }
        }
        planned.test.number = self.next_test_number()?;
        planned.test.commitment = document_hash(&planned.plan_text());
        let test = &planned.test;
        let sitting = Sitting {
            id: test.sitting.clone(),
            kind: SittingKind::Test,
            seed: test.seed,
            made_at: test.made_at,
            closed_at: None,
        };
        self.store
            .add_test(test, &sitting, &planned.samples, &planned.sets)?;
        Ok(planned)
    }

    fn next_test_number(&self) -> Result<u32, WorkflowError> {
        let number = self.store.tests()?.iter().map(|it| it.number).max();
        let removed = self.store.last_removed_test()?;
        Ok(number.unwrap_or(0).max(removed) + 1)
    }

    /// The beers with these marks; one that is not known yet is known by its mark alone.
    fn two_beers(&mut self, marks: &[String; 2]) -> Result<[Beer; 2], WorkflowError> {
        for mark in marks {
            Name::new("a cap mark", mark)?;
        }
        let beers = [
            self.beer_or_unknown(&marks[0])?,
            self.beer_or_unknown(&marks[1])?,
        ];
        if beers[0].id == beers[1].id || beers[0].cap_mark == beers[1].cap_mark {
            let mark = beers[0].cap_mark.to_string();
            return Err(WorkflowError::SameBeer { mark });
        }
        Ok(beers)
    }

    fn test_row(
        &mut self,
        request: &PlanRequest,
        beers: &[Beer; 2],
        sitting: &Sitting,
    ) -> Result<BlindTest, WorkflowError> {
        Ok(BlindTest {
            id: TestId::new(self.draw_id()),
            number: self.next_test_number()?,
            sitting: sitting.id.clone(),
            beers: beers.each_ref().map(|it| it.id.clone()),
            method: request.method.clone(),
            purpose: request.purpose,
            aims: request.aims,
            direction: request.attribute.clone().map(|attribute| Direction {
                expected: request.expected,
                attribute,
            }),
            stopping: request.stopping,
            pouring: request.pouring,
            places: request.places,
            rounds: request.rounds,
            glass: request.glass,
            seed: sitting.seed,
            salt: self.dice.letters(SALT_LETTERS),
            commitment: String::new(),
            made_at: sitting.made_at,
            closed_at: None,
        })
    }
}

/// That the question, the stop rule and the number of answers go together.
fn check(method: &'static Method, request: &PlanRequest) -> Result<(), BlindError> {
    check_question(method, request)?;
    let early = request.stopping != Stopping::Fixed;
    if early && request.purpose == Purpose::Similarity {
        return Err(BlindError::StopsEarly);
    }
    if early && method.ways == Ways::Either {
        return Err(BlindError::NoEarlyStop {
            method: method.name,
        });
    }
    if request.purpose == Purpose::Similarity && request.rounds > 1 {
        return Err(BlindError::AlikeOnceEach);
    }
    check_number(method, request)
}

/// That a directed question has its word and its expectation, and no other one has.
fn check_question(method: &'static Method, request: &PlanRequest) -> Result<(), BlindError> {
    let name = method.name;
    match (method.asked, &request.attribute) {
        (Asked::Character, None) => Err(BlindError::NoAttribute { method: name }),
        (Asked::Difference, Some(_)) => Err(BlindError::NeedlessAttribute { method: name }),
        (Asked::Character, Some(_)) if method.ways == Ways::One && request.expected.is_none() => {
            Err(BlindError::NoExpectation { method: name })
        }
        _ => Ok(()),
    }
}

/// That the answers planned can show what they are to show.
fn check_number(method: &'static Method, request: &PlanRequest) -> Result<(), BlindError> {
    let answers = u32::from(request.places) * u32::from(request.rounds);
    let aim = aim(&request.aims)?;
    match request.purpose {
        Purpose::Difference if critical_count(method, answers, aim.alpha).is_none() => {
            let enough = |it: &u32| critical_count(method, *it, aim.alpha).is_some();
            Err(BlindError::NeverSignificant {
                answers,
                alpha: aim.alpha.get(),
                least: (1..=MOST_LEAST).find(enough),
            })
        }
        Purpose::Similarity
            if similarity(method, answers, aim.beta, aim.effect).standing
                == Standing::BelowChance =>
        {
            Err(BlindError::NeverAlike {
                answers,
                least: similarity_sizes(method, aim).ok().map(|it| it.1.trials),
            })
        }
        _ => Ok(()),
    }
}
