//! A blind test planned: two beers, a method, risks, people, and everything drawn.

use crate::discrimination::Aim;
use crate::discrimination::Alpha;
use crate::discrimination::Asked;
use crate::discrimination::Beta;
use crate::discrimination::Effect;
use crate::discrimination::METHODS;
use crate::discrimination::Method;
use crate::discrimination::Pd;
use crate::discrimination::Side;
use crate::discrimination::Ways;
use crate::discrimination::critical_count;
use crate::discrimination::draw_codes;
use crate::discrimination::draw_servings;
use crate::discrimination::plan;
use crate::discrimination::similarity;
use crate::domain::Abv;
use crate::domain::Aims;
use crate::domain::Beer;
use crate::domain::BeerId;
use crate::domain::BeerSide;
use crate::domain::BlindTest;
use crate::domain::Direction;
use crate::domain::Millilitres;
use crate::domain::Name;
use crate::domain::Pouring;
use crate::domain::Purpose;
use crate::domain::Sample;
use crate::domain::SampleId;
use crate::domain::Sitting;
use crate::domain::SittingId;
use crate::domain::SittingKind;
use crate::domain::Stopping;
use crate::domain::TestId;
use crate::domain::TestSet;
use crate::formats::document_hash;
use crate::statistics::Dice;
use crate::workflow::BlindError;
use crate::workflow::Cost;
use crate::workflow::Home;
use crate::workflow::Table;
use crate::workflow::WorkflowError;
use crate::workflow::cost;

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
    /// Plans a test: draws orders and codes, and keeps them with a commitment.
    ///
    /// # Errors
    /// A name or figure is refused, the answers planned could never show anything, or the store cannot
    /// be written.
    pub fn plan_test(&mut self, request: &PlanRequest) -> Result<PlannedTest, WorkflowError> {
        let method = method_called(&request.method)?;
        check(method, request)?;
        for mark in &request.beers {
            Name::new("a cap mark", mark)?;
        }
        let beers = [
            self.beer_or_new(&request.beers[0])?,
            self.beer_or_new(&request.beers[1])?,
        ];
        if beers[0].id == beers[1].id {
            let mark = beers[0].cap_mark.to_string();
            return Err(WorkflowError::SameBeer { mark });
        }
        let sitting = Sitting {
            id: SittingId::new(self.draw_id()),
            kind: SittingKind::Test,
            seed: request.seed.unwrap_or_else(|| self.dice.seed()),
            made_at: self.now(),
            closed_at: None,
        };
        let drawn = draw(method, request, &beers, &sitting)?;
        let number = self.store.tests()?.iter().map(|it| it.number).max();
        let mut planned = PlannedTest {
            test: self.test_row(request, &beers, &sitting, number.unwrap_or(0) + 1),
            method,
            beers,
            sets: drawn.sets,
            samples: drawn.samples,
        };
        planned.test.commitment = document_hash(&planned.plan_text());
        let PlannedTest {
            test,
            samples,
            sets,
            ..
        } = &planned;
        self.store.add_test(test, &sitting, samples, sets)?;
        Ok(planned)
    }

    fn test_row(
        &mut self,
        request: &PlanRequest,
        beers: &[Beer; 2],
        sitting: &Sitting,
        number: u32,
    ) -> BlindTest {
        BlindTest {
            id: TestId::new(self.draw_id()),
            number,
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
        }
    }

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
        let beer = |id: &BeerId| -> Result<Beer, WorkflowError> {
            self.store.beer(id)?.ok_or_else(|| {
                let known = Vec::new();
                BlindError::NoTest { number, known }.into()
            })
        };
        Ok(PlannedTest {
            method: method_called(&test.method)?,
            beers: [beer(&test.beers[0])?, beer(&test.beers[1])?],
            sets: self.store.test_sets(&test.id)?,
            samples: self.store.samples_of(&test.sitting)?,
            test,
        })
    }
}

/// What a plan is worth and what it costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TestOdds {
    /// Answers planned.
    pub answers: u32,
    /// How many must be right; none where it can never be significant.
    pub critical: Option<u32>,
    /// The chance of noticing the difference that matters.
    pub power: f64,
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
            cost: cost(self.method, table, answers, table.rounds),
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
        let mut text = format!(
            "thirdglass blind test {}\n{}\na {a}\nb {b}\n",
            self.test.number, self.test.method
        );
        let mut seen = std::collections::HashMap::new();
        for sample in &self.samples {
            let side = if sample.beer == self.test.beers[0] {
                'a'
            } else {
                'b'
            };
            seen.insert(&sample.id, format!(" {} {side}", sample.code));
        }
        for set in &self.sets {
            text.push_str(&format!("place {} round {}", set.place, set.round));
            if let Some(side) = set.reference {
                text.push_str(&format!(" reference {}", side.id()));
            }
            for sample in &set.samples {
                text.push_str(seen.get(sample).map_or("", String::as_str));
            }
            text.push('\n');
        }
        text.push_str(&format!("salt {}\n", self.test.salt));
        text
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

fn aim(aims: &Aims) -> Result<Aim, BlindError> {
    Ok(Aim {
        alpha: Alpha::new(aims.alpha.get())?,
        beta: Beta::new(aims.beta.get())?,
        effect: Effect::Pd(Pd::new(aims.pd.get())?),
    })
}

/// That the question, the stop rule and the number of answers go together.
fn check(method: &'static Method, request: &PlanRequest) -> Result<(), BlindError> {
    match (method.asked, &request.attribute) {
        (Asked::Character, None) => {
            return Err(BlindError::NoAttribute {
                method: method.name,
            });
        }
        (Asked::Difference, Some(_)) => {
            return Err(BlindError::NeedlessAttribute {
                method: method.name,
            });
        }
        (Asked::Character, Some(_)) if method.ways == Ways::One && request.expected.is_none() => {
            return Err(BlindError::NoExpectation {
                method: method.name,
            });
        }
        _ => {}
    }
    let early = request.stopping != Stopping::Fixed;
    if early && request.purpose == Purpose::Similarity {
        return Err(BlindError::StopsEarly);
    }
    if early && method.ways == Ways::Either {
        return Err(BlindError::NoEarlyStop {
            method: method.name,
        });
    }
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
            if similarity(method, answers, aim.beta, aim.effect)
                .most
                .is_none() =>
        {
            Err(BlindError::NeverAlike { answers })
        }
        _ => Ok(()),
    }
}

struct Drawn {
    sets: Vec<TestSet>,
    samples: Vec<Sample>,
}

/// Draws who gets what in which order under which code; all from the seed of the sitting.
fn draw(
    method: &Method,
    request: &PlanRequest,
    beers: &[Beer; 2],
    sitting: &Sitting,
) -> Result<Drawn, BlindError> {
    let mut dice = Dice::from_seed(sitting.seed);
    let (places, rounds) = (u32::from(request.places), u32::from(request.rounds));
    let servings = draw_servings(method, places, rounds, &mut dice);
    let codes = draw_codes(method, servings.len(), &mut dice)?;
    let is_swapped = request.expected == Some(BeerSide::A);
    let side = |side: Side| match (side, is_swapped) {
        (Side::A, false) | (Side::B, true) => (BeerSide::A, &beers[0]),
        (Side::B, false) | (Side::A, true) => (BeerSide::B, &beers[1]),
    };
    let mut drawn = Drawn {
        sets: Vec::new(),
        samples: Vec::new(),
    };
    for (serving, codes) in servings.iter().zip(codes) {
        let Some(stands) = serving.stands(method) else {
            continue;
        };
        let mut set = TestSet {
            place: u16::try_from(serving.seat + 1).unwrap_or(u16::MAX),
            round: u16::try_from(serving.replicate + 1).unwrap_or(u16::MAX),
            reference: stands.reference.map(|it| side(it).0),
            samples: Vec::new(),
        };
        for (glass, code) in stands.glasses.iter().zip(codes) {
            let sample = Sample {
                // Drawn from the seed too: what is kept of a plan follows from it alone.
                id: SampleId::new(format!("{}-{code}", sitting.id)),
                sitting: sitting.id.clone(),
                code,
                beer: side(*glass).1.id.clone(),
            };
            set.samples.push(sample.id.clone());
            drawn.samples.push(sample);
        }
        drawn.sets.push(set);
    }
    Ok(drawn)
}
