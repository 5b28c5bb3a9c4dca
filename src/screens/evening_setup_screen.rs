//! Which course, who comes, how long, and how many jars: the questions before an evening.

use crate::domain::Course;
use crate::domain::MeetingCount;
use crate::domain::Minutes;
use crate::domain::Taster;
use crate::screens::Asking;
use crate::screens::EveningScreen;
use crate::screens::Next;
use crate::screens::Question;
use crate::workflow::EveningWish;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// People at one evening.
const MOST_PEOPLE: usize = 12;

/// Fewest and most jars of an evening, besides those of the check.
const JARS: std::ops::RangeInclusive<usize> = 3..=8;

/// How long an evening may be meant to last, in minutes.
const LENGTHS: [&str; 4] = ["60", "90", "120", "150"];

/// The shortest evening, in minutes.
const SHORTEST: f64 = 30.0;

/// What is said where names are missing or too many.
const NAMES: &str = "One to twelve names with commas between.";

/// Which evening is opened, once one was held.
const WHICH: [&str; 2] = ["plan the next meeting", "look at the last one"];

/// What is asked.
#[derive(Debug, Clone, PartialEq)]
enum Step {
    Course,
    People(String),
    Meetings(String, Vec<Taster>),
    Which(Course),
    Present(Course),
    Length(Course, Vec<Taster>),
    Jars(Course, Vec<Taster>, Minutes),
}

/// The questions before an evening.
pub struct EveningSetupScreen {
    step: Step,
    asking: Asking,
}

impl EveningSetupScreen {
    /// The screen at the question for the course.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(super) fn new(home: &Home) -> Result<Self, WorkflowError> {
        let names: Vec<String> = home
            .courses()?
            .iter()
            .map(|it| it.name.to_string())
            .collect();
        let usual = names.first().cloned().unwrap_or_default();
        Ok(Self {
            step: Step::Course,
            asking: Asking::among(names).choosing(&usual),
        })
    }

    fn ask(&mut self, step: Step, names: &[&str], usual: &str) -> Next {
        self.step = step;
        let names = names.iter().map(|it| (*it).to_owned()).collect();
        self.asking = Asking::among(names).choosing(usual);
        Next::Stay
    }

    /// A course there is leads to its open evening or to the next one; another name begins one.
    fn named(&mut self, name: &str, home: &Home) -> Result<Next, WorkflowError> {
        let course = match home.course(name) {
            Ok(course) => course,
            Err(WorkflowError::NoCourse { asked, .. }) => {
                return Ok(self.ask(Step::People(asked), &[], ""));
            }
            Err(other) => return Err(other),
        };
        let held = home.meetings_of(&course)?.len();
        if home.open_evening(&course)?.is_some() || held == usize::from(course.meetings.get()) {
            return Self::latest(&course, home);
        }
        if held == 0 {
            return self.ask_present(course, home);
        }
        Ok(self.ask(Step::Which(course), &WHICH, WHICH[0]))
    }

    fn latest(course: &Course, home: &Home) -> Result<Next, WorkflowError> {
        let evening = home.latest_evening(course)?;
        Ok(Next::Replace(Box::new(EveningScreen::new(evening))))
    }

    fn ask_present(&mut self, course: Course, home: &Home) -> Result<Next, WorkflowError> {
        let people = home.people_of(&course)?;
        let all: Vec<String> = people.iter().map(|it| it.name.to_string()).collect();
        let all = all.join(", ");
        Ok(self.ask(Step::Present(course), &[&all], &all))
    }

    /// A new course of so many meetings.
    fn counted(
        &mut self,
        typed: &str,
        name: &str,
        people: &[Taster],
        home: &mut Home,
    ) -> Result<Next, WorkflowError> {
        let count = typed.parse().ok().and_then(|it| MeetingCount::new(it).ok());
        let Some(count) = count else {
            return Ok(Next::Say("A number from 3 to 30.".to_owned()));
        };
        let course = home.add_course(name, people, count)?;
        self.ask_present(course, home)
    }

    fn long(&mut self, typed: &str, course: Course, people: Vec<Taster>) -> Next {
        let minutes = typed.parse().ok().and_then(|it| Minutes::new(it).ok());
        match minutes.filter(|it| it.get() >= SHORTEST) {
            Some(minutes) => {
                let counts = ["4", "5", "6", "8"];
                self.ask(Step::Jars(course, people, minutes), &counts, "5")
            }
            None => Next::Say("Minutes, 30 or more.".to_owned()),
        }
    }

    fn begin(course: &Course, wish: &EveningWish, home: &mut Home) -> Result<Next, WorkflowError> {
        let evening = home.plan_evening(course, wish)?;
        Ok(Next::Replace(Box::new(EveningScreen::new(evening))))
    }
}

/// The people behind names with commas between; none where there are none or too many.
fn people(typed: &str, home: &mut Home) -> Result<Option<Vec<Taster>>, WorkflowError> {
    let names = typed.split(',').map(str::trim).filter(|it| !it.is_empty());
    let names: Vec<&str> = names.collect();
    if names.is_empty() || names.len() > MOST_PEOPLE {
        return Ok(None);
    }
    let mut tasters: Vec<Taster> = Vec::new();
    for name in names {
        let taster = home.taster_or_new(name)?;
        if !tasters.iter().any(|it| it.id == taster.id) {
            tasters.push(taster);
        }
    }
    Ok(Some(tasters))
}

impl Question for EveningSetupScreen {
    fn heading(&self) -> String {
        "An evening".to_owned()
    }

    fn asked(&self) -> &'static str {
        match self.step {
            Step::Course => "Which course? Choose one, or type a name for a new one.",
            Step::People(_) => {
                "Who learns? Names with commas between, twelve at most, without you who lead."
            }
            Step::Meetings(..) => "How many meetings are meant? From 3 on.",
            Step::Which(_) => "Which evening?",
            Step::Present(_) => {
                "Who is there tonight? Enter takes all; or names with commas between."
            }
            Step::Length(..) => "How many minutes?",
            Step::Jars(..) => "How many jars, besides those of the check? From 3 to 8.",
        }
    }

    fn purpose(&self) -> &'static str {
        "A course is a row of evenings with the same people. Eight words are held back from all practice: they are smelled at the first, the middle and the last meeting, so that everybody can see, alone, what they gained. You who lead prepare the jars and do not practise with them."
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn accept(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        let answer = answer.trim();
        match self.step.clone() {
            Step::Course => self.named(answer, home),
            Step::People(name) => match people(answer, home)? {
                Some(people) => Ok(self.ask(Step::Meetings(name, people), &["4", "6", "8"], "6")),
                None => Ok(Next::Say(NAMES.to_owned())),
            },
            Step::Meetings(name, people) => self.counted(answer, &name, &people, home),
            Step::Which(course) => match WHICH.iter().position(|it| *it == answer) {
                Some(0) => self.ask_present(course, home),
                Some(_) => Self::latest(&course, home),
                None => Ok(Next::Say("Choose one of the two with ↑ and ↓.".to_owned())),
            },
            Step::Present(course) => match people(answer, home)? {
                Some(people) => Ok(self.ask(Step::Length(course, people), &LENGTHS, LENGTHS[1])),
                None => Ok(Next::Say(NAMES.to_owned())),
            },
            Step::Length(course, people) => Ok(self.long(answer, course, people)),
            Step::Jars(course, present, length) => {
                let jars = answer.parse().ok().filter(|it| JARS.contains(it));
                let Some(jars) = jars else {
                    return Ok(Next::Say("A number from 3 to 8.".to_owned()));
                };
                let wish = EveningWish {
                    present,
                    length,
                    jars,
                };
                Self::begin(&course, &wish, home)
            }
        }
    }
}
