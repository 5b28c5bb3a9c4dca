//! A blind test planned in a few questions: two bottles, how many friends, the method, who pours.

use crate::domain::Aims;
use crate::domain::BeerSide;
use crate::domain::Millilitres;
use crate::domain::Name;
use crate::domain::Pouring;
use crate::domain::Purpose;
use crate::domain::Risk;
use crate::domain::Share;
use crate::domain::Stopping;
use crate::screens::Asking;
use crate::screens::Next;
use crate::screens::OneTestScreen;
use crate::screens::Question;
use crate::workflow::Asked;
use crate::workflow::Home;
use crate::workflow::METHODS;
use crate::workflow::Method;
use crate::workflow::PlanRequest;
use crate::workflow::Ways;
use crate::workflow::WorkflowError;

/// What is asked now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Step {
    One,
    Other,
    Friends,
    Rounds,
    Method,
    Attribute,
    Expected,
    Pourer,
}

/// The screen that plans a test.
pub struct PlanTestScreen {
    asking: Asking,
    step: Step,
    beers: Vec<String>,
    places: u16,
    rounds: u16,
    method: &'static Method,
    attribute: Option<String>,
    expected: Option<BeerSide>,
}

impl PlanTestScreen {
    /// The screen at its first question.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn new(home: &mut Home) -> Result<Self, WorkflowError> {
        Ok(Self {
            asking: Asking::among(home.marks()?),
            step: Step::One,
            beers: Vec::new(),
            places: 1,
            rounds: 1,
            method: METHODS[0],
            attribute: None,
            expected: None,
        })
    }

    /// Goes to a question with these names to choose from.
    fn ask(&mut self, step: Step, names: Vec<String>) -> Next {
        let first = names.first().cloned().unwrap_or_default();
        self.asking = Asking::among(names);
        // Where the first name is what most people want, Enter alone takes it.
        if matches!(step, Step::Rounds | Step::Method | Step::Pourer) {
            self.asking = std::mem::take(&mut self.asking).choosing(&first);
        }
        self.step = step;
        Next::Stay
    }

    fn ask_pourer(&mut self) -> Next {
        let pourers = [Pouring::One, Pouring::Two, Pouring::Alone];
        self.ask(
            Step::Pourer,
            pourers.map(|it| it.word().to_owned()).to_vec(),
        )
    }

    /// After the method: a directed question wants to know of what, and in which beer.
    fn after_method(&mut self) -> Next {
        if self.method.asked == Asked::Character {
            return self.ask(Step::Attribute, Vec::new());
        }
        self.ask_pourer()
    }

    fn plan(&self, pouring: Pouring, home: &mut Home) -> Result<Next, WorkflowError> {
        let beer = |at: usize| self.beers.get(at).cloned().unwrap_or_default();
        let planned = home.plan_test(&PlanRequest {
            beers: [beer(0), beer(1)],
            method: self.method.id.to_owned(),
            purpose: Purpose::Difference,
            aims: Aims {
                alpha: Risk::new(0.05)?,
                beta: Risk::new(0.2)?,
                pd: Share::new(0.5)?,
            },
            attribute: self.attribute.clone(),
            expected: self.expected,
            places: self.places,
            rounds: self.rounds,
            stopping: Stopping::Fixed,
            pouring,
            glass: Millilitres::new(30.0)?,
            seed: None,
        })?;
        let screen = OneTestScreen::new(planned.test.number, home)?;
        Ok(Next::Replace(Box::new(screen)))
    }
}

impl PlanTestScreen {
    fn named_bottle(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        Name::new("a cap mark", answer)?;
        self.beers.push(answer.trim().to_owned());
        if self.step == Step::Other {
            return Ok(self.ask(Step::Friends, Vec::new()));
        }
        let mut others = home.marks()?;
        others.retain(|it| !it.eq_ignore_ascii_case(answer.trim()));
        Ok(self.ask(Step::Other, others))
    }

    fn counted_friends(&mut self, answer: &str) -> Next {
        let Some(places) = number(answer, 200) else {
            return say("A number from 1 to 200.");
        };
        self.places = places;
        self.ask(Step::Rounds, ["1", "2", "3"].map(str::to_owned).to_vec())
    }

    fn counted_rounds(&mut self, answer: &str) -> Next {
        let Some(rounds) = number(answer, 20) else {
            return say("A number from 1 to 20.");
        };
        self.rounds = rounds;
        let names = METHODS.iter().map(|it| it.name.to_owned());
        self.ask(Step::Method, names.collect())
    }

    fn named_method(&mut self, answer: &str) -> Next {
        let Some(method) = METHODS.iter().find(|it| it.name == answer) else {
            return say("Choose one of the list with ↑ and ↓.");
        };
        self.method = method;
        self.after_method()
    }

    fn named_expected(&mut self, answer: &str) -> Next {
        let Some(at) = self.beers.iter().position(|it| it == answer) else {
            return say("Choose one of the two with ↑ and ↓.");
        };
        self.expected = BeerSide::ALL.get(at).copied();
        self.ask_pourer()
    }
}

/// A number from 1 to `most`, if that is what was typed.
fn number(typed: &str, most: u16) -> Option<u16> {
    let typed = typed.trim().parse().ok();
    typed.filter(|it| (1..=most).contains(it))
}

fn say(sentence: &str) -> Next {
    Next::Say(sentence.to_owned())
}

impl Question for PlanTestScreen {
    fn heading(&self) -> String {
        match self.step {
            Step::One => "Plan a blind test".to_owned(),
            _ => format!("Plan a blind test of {}", self.beers.join(" and ")),
        }
    }

    fn asked(&self) -> &'static str {
        match self.step {
            Step::One => "The cap mark of one bottle; any bottle will do.",
            Step::Other => "The cap mark of the other bottle.",
            Step::Friends => "How many people taste? Whoever pours does not count.",
            Step::Rounds => "How many sets for each of them?",
            Step::Method => "Which test? The triangle needs no word for what differs.",
            Step::Attribute => "What may one of them have more of, such as bitter or sweet?",
            Step::Expected => "Which one do you expect to have more of it?",
            Step::Pourer => "Who pours?",
        }
    }

    fn purpose(&self) -> &'static str {
        "Everything else is drawn: who gets which glasses in which order under which codes. A false difference is allowed 5 times in 100; the next page says what these friends would notice and how much beer it takes. Other risks, likeness and early stopping are planned in a terminal: thirdglass blind plan --help."
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn accept(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        match self.step {
            Step::One | Step::Other => self.named_bottle(answer, home),
            Step::Friends => Ok(self.counted_friends(answer)),
            Step::Rounds => Ok(self.counted_rounds(answer)),
            Step::Method => Ok(self.named_method(answer)),
            Step::Attribute => {
                Name::new("what there is more of", answer)?;
                self.attribute = Some(answer.trim().to_owned());
                if self.method.ways == Ways::Either {
                    return Ok(self.ask_pourer());
                }
                Ok(self.ask(Step::Expected, self.beers.clone()))
            }
            Step::Expected => Ok(self.named_expected(answer)),
            Step::Pourer => match Pouring::ALL.iter().find(|it| it.word() == answer) {
                Some(pouring) => self.plan(*pouring, home),
                None => Ok(say("Choose one of the list with ↑ and ↓.")),
            },
        }
    }
}
