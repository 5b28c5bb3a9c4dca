//! A blind test planned in a few questions: two bottles, how many friends, the method, who pours.

use crate::domain::BeerSide;
use crate::domain::Name;
use crate::domain::Pouring;
use crate::reports;
use crate::screens::Asking;
use crate::screens::Next;
use crate::screens::OneTestScreen;
use crate::screens::Question;
use crate::screens::TestDraft;
use crate::screens::test_draft::SHOWS;
use crate::screens::test_draft::Step;
use crate::screens::test_draft::three_shares;
use crate::workflow::Home;
use crate::workflow::METHODS;
use crate::workflow::MOST_ROUNDS;
use crate::workflow::PlannedTest;
use crate::workflow::ProofPair;
use crate::workflow::WorkflowError;

/// Most people at one test.
const MOST_FRIENDS: u16 = 200;

/// The screen that plans a test.
pub struct PlanTestScreen {
    asking: Asking,
    draft: TestDraft,
    /// The draft before each answer, so that Esc takes one answer back and not all of them.
    before: Vec<TestDraft>,
    /// What is to be agreed to, drawn and not kept yet.
    drawn: Option<PlannedTest>,
}

impl PlanTestScreen {
    /// The screen at its first question.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn new(home: &mut Home) -> Result<Self, WorkflowError> {
        Self::of(TestDraft::default(), home)
    }

    /// The plan for a batch against the one it was changed from.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(super) fn of_pair(pair: &ProofPair, home: &mut Home) -> Result<Self, WorkflowError> {
        Self::of(TestDraft::of_pair(pair), home)
    }

    /// The screen with some questions answered already.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn of(draft: TestDraft, home: &mut Home) -> Result<Self, WorkflowError> {
        let mut screen = Self {
            asking: Asking::default(),
            draft,
            before: Vec::new(),
            drawn: None,
        };
        screen.ask(home)?;
        Ok(screen)
    }

    /// Makes the line and the list for the question that is open. Where the first name is what most
    /// people want, Enter alone takes it.
    fn ask(&mut self, home: &mut Home) -> Result<(), WorkflowError> {
        let step = self.draft.step();
        let names = self.names(step, home)?;
        let proposed = self.draft.proposed_answer(step);
        let proposed = proposed.filter(|it| names.contains(it));
        let first = proposed.or_else(|| names.first().cloned());
        let first = first.unwrap_or_default();
        let asking = Asking::among(names);
        let usual = matches!(
            step,
            Step::Rounds | Step::Method | Step::Shows | Step::Risks | Step::Pourer
        );
        self.asking = if usual {
            asking.choosing(&first)
        } else {
            asking
        };
        Ok(())
    }

    fn names(&self, step: Step, home: &mut Home) -> Result<Vec<String>, WorkflowError> {
        Ok(match step {
            Step::One => home.marks()?,
            Step::Other => {
                let mut others = home.marks()?;
                others.retain(|it| {
                    !self
                        .draft
                        .beers
                        .iter()
                        .any(|one| it.eq_ignore_ascii_case(one))
                });
                others
            }
            Step::Friends | Step::Attribute | Step::Agree => Vec::new(),
            Step::Rounds => (1..=MOST_ROUNDS).map(|it| it.to_string()).collect(),
            Step::Method => METHODS.iter().map(|it| it.name.to_owned()).collect(),
            Step::Expected => self.draft.beers.clone(),
            Step::Shows => SHOWS.iter().map(|it| it.0.to_owned()).collect(),
            Step::Risks => vec![self.draft.usual_risks()],
            Step::Pourer => [Pouring::One, Pouring::Two, Pouring::Alone]
                .map(|it| it.word().to_owned())
                .to_vec(),
        })
    }

    /// Once everything is answered: draws the test, so that one sees what it is worth before it is
    /// planned.
    fn draw(&mut self, home: &mut Home) -> Result<(), WorkflowError> {
        self.drawn = match self.draft.step() {
            Step::Agree => {
                let glass = home.settings().blind_glass;
                Some(home.draft_test(&self.draft.request(glass)?)?)
            }
            _ => None,
        };
        Ok(())
    }

    /// Takes an answer into the draft; a sentence where it cannot be one.
    fn take(&mut self, step: Step, answer: &str) -> Result<(), Refusal> {
        let draft = &mut self.draft;
        match step {
            Step::One | Step::Other => take_bottle(draft, answer)?,
            Step::Friends => {
                draft.places = Some(number(answer, MOST_FRIENDS).ok_or(FROM_1_TO_200)?);
            }
            Step::Rounds => draft.rounds = Some(number(answer, 20).ok_or(FROM_1_TO_20)?),
            Step::Method => {
                let method = METHODS.iter().find(|it| it.name == answer);
                draft.method = Some(method.ok_or(OF_THE_LIST)?);
            }
            Step::Attribute => {
                Name::new("what there is more of", answer)?;
                draft.attribute = Some(answer.to_owned());
            }
            Step::Expected => {
                let at = draft.beers.iter().position(|it| it == answer);
                draft.expected = at.and_then(|it| BeerSide::ALL.get(it).copied());
                draft.expected.ok_or(OF_THE_LIST)?;
            }
            Step::Shows => {
                let shows = SHOWS.iter().find(|it| it.0 == answer);
                draft.shows = Some(shows.map(|it| (it.1, it.2)).ok_or(OF_THE_LIST)?);
            }
            Step::Risks => {
                let [alpha, beta, pd] = three_shares(answer).ok_or(THREE_SHARES)?;
                draft.risks = Some([alpha, beta]);
                draft.pd = pd;
            }
            Step::Pourer => {
                let pouring = Pouring::ALL.iter().find(|it| it.word() == answer);
                draft.pouring = Some(*pouring.ok_or(OF_THE_LIST)?);
            }
            Step::Agree => {}
        }
        Ok(())
    }

    fn plan(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        let Some(drawn) = self.drawn.take() else {
            return Ok(Next::Stay);
        };
        let planned = home.keep_test(drawn)?;
        let screen = OneTestScreen::new(planned.test.number, home)?;
        Ok(Next::Replace(Box::new(screen)))
    }
}

fn take_bottle(draft: &mut TestDraft, answer: &str) -> Result<(), Refusal> {
    Name::new("a cap mark", answer)?;
    if draft.beers.iter().any(|it| it.eq_ignore_ascii_case(answer)) {
        return Err(Refusal::Say("That is the same bottle; name another one."));
    }
    draft.beers.push(answer.to_owned());
    Ok(())
}

/// Why an answer was not taken.
enum Refusal {
    Say(&'static str),
    Invalid(crate::domain::Invalid),
}

const OF_THE_LIST: Refusal = Refusal::Say("Choose one of the list with ↑ and ↓.");
const FROM_1_TO_200: Refusal = Refusal::Say("A number from 1 to 200.");
const FROM_1_TO_20: Refusal = Refusal::Say("A number from 1 to 20.");
const THREE_SHARES: Refusal =
    Refusal::Say("Three numbers between 0 and 100 with blanks between, such as 5 20 50.");

impl From<crate::domain::Invalid> for Refusal {
    fn from(invalid: crate::domain::Invalid) -> Self {
        Self::Invalid(invalid)
    }
}

/// A number from 1 to `most`, if that is what was typed.
fn number(typed: &str, most: u16) -> Option<u16> {
    let typed = typed.parse().ok();
    typed.filter(|it| (1..=most).contains(it))
}

impl Question for PlanTestScreen {
    fn heading(&self) -> String {
        if self.draft.beers.is_empty() {
            return "Plan a blind test".to_owned();
        }
        format!("Plan a blind test of {}", self.draft.beers.join(" and "))
    }

    fn asked(&self) -> &'static str {
        match self.draft.step() {
            Step::One => "The cap mark of one bottle; any bottle will do.",
            Step::Other => "The cap mark of the other bottle.",
            Step::Friends => "How many people taste? Whoever pours does not count.",
            Step::Rounds => "How many times does each of them taste a set of glasses?",
            Step::Method => "Which test? The triangle needs no word for what differs.",
            Step::Attribute => "What may one of them have more of, such as bitter or sweet?",
            Step::Expected => "Which one do you expect to have more of it?",
            Step::Shows => {
                "What is it to show? Most people ask for a difference, after all answers."
            }
            Step::Risks => {
                "Three risks in per cent: of seeing a difference that is not there, of missing one that is, and how many of all people must be able to taste it before it matters to you. Enter takes the usual ones."
            }
            Step::Pourer => "Who pours?",
            Step::Agree => "Nothing is kept yet. Enter plans it so; Esc goes back and changes it.",
        }
    }

    fn told(&self) -> Vec<String> {
        let Some(drawn) = &self.drawn else {
            return Vec::new();
        };
        let mut told = vec![reports::plan_sentence(drawn)];
        if let Ok(odds) = drawn.odds() {
            told.push(reports::odds_sentence(drawn, &odds));
        }
        told.extend(reports::unknown_bottles(drawn));
        told
    }

    fn is_typed(&self) -> bool {
        self.draft.step() != Step::Agree
    }

    fn purpose(&self) -> &'static str {
        "Everything else is drawn: who gets which glasses in which order under which codes. Before it is planned you are told what these friends would notice and how much beer it takes. Stopping early saves beer: by two lines fixed beforehand, or by evidence that may be looked at after every answer. That two beers are alike enough takes many people."
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn accept(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        let (typed, step) = (answer.trim(), self.draft.step());
        let known = home.marks()?;
        let mut known = known.iter().filter(|it| it.eq_ignore_ascii_case(typed));
        let is_bottle = matches!(step, Step::One | Step::Other);
        // A bottle is called as its cap is written.
        let answer = known
            .next()
            .filter(|_| is_bottle)
            .map_or(typed, String::as_str);
        if step == Step::Agree {
            return self.plan(home);
        }
        let before = self.draft.clone();
        match self.take(step, answer) {
            Ok(()) => {
                if let Err(error) = self.draw(home) {
                    self.draft = before;
                    return Err(error);
                }
                self.before.push(before);
                self.ask(home)?;
                Ok(Next::Stay)
            }
            Err(refusal) => {
                self.draft = before;
                match refusal {
                    Refusal::Say(sentence) => Ok(Next::Say(sentence.to_owned())),
                    Refusal::Invalid(invalid) => Err(invalid.into()),
                }
            }
        }
    }

    fn back(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        let Some(before) = self.before.pop() else {
            return Ok(Next::Close);
        };
        self.draft = before;
        self.drawn = None;
        self.ask(home)?;
        Ok(Next::Stay)
    }
}
