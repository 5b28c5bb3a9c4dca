//! A panel planned in a few questions: which bottles, who tastes, how much, what is poured a second time, who pours.

use crate::domain::Form;
use crate::domain::Millilitres;
use crate::domain::Name;
use crate::domain::NotesSource;
use crate::domain::is_same_name;
use crate::reports;
use crate::screens::Asking;
use crate::screens::Next;
use crate::screens::OnePanelScreen;
use crate::screens::Question;
use crate::workflow::Home;
use crate::workflow::PanelDraft;
use crate::workflow::PanelPourer;
use crate::workflow::PanelRequest;
use crate::workflow::WorkflowError;

/// What usually goes into a glass, in millilitres.
const GLASSES: [&str; 4] = ["30", "60", "80", "100"];

/// Who pours, if it is none of the tasters.
const SOMEBODY: &str = "somebody who does not taste";

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Step {
    Beers,
    Tasters,
    Glass,
    Form,
    Doubled,
    Pourer,
    Agree,
}

/// What was answered so far.
#[derive(Debug, Clone)]
struct Answers {
    step: Step,
    request: PanelRequest,
}

/// The screen that plans a panel.
pub struct PlanPanelScreen {
    source: NotesSource,
    asking: Asking,
    now: Answers,
    /// The answers before each answer, so that Esc takes one back and not all of them.
    before: Vec<Answers>,
    draft: Option<PanelDraft>,
}

impl PlanPanelScreen {
    /// The screen at its first question.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn new(source: NotesSource, home: &mut Home) -> Result<Self, WorkflowError> {
        let request = PanelRequest {
            beers: Vec::new(),
            tasters: Vec::new(),
            doubled: 0,
            glass: home.settings().panel_glass,
            form: Form::Full,
            pourer: PanelPourer::SomebodyElse,
        };
        let mut screen = Self {
            source,
            asking: Asking::default(),
            now: Answers {
                step: Step::Beers,
                request,
            },
            before: Vec::new(),
            draft: None,
        };
        screen.ask(home)?;
        Ok(screen)
    }

    /// Makes the line and the list for the question that is open, and looks at what it costs once that is
    /// known.
    fn ask(&mut self, home: &mut Home) -> Result<(), WorkflowError> {
        let request = &self.now.request;
        let (names, usual) = match self.now.step {
            Step::Beers => (without(home.marks()?, &request.beers), String::new()),
            Step::Tasters => {
                let all = home.tasters()?;
                let all = all.iter().map(|it| it.name.to_string()).collect();
                (without(all, &request.tasters), String::new())
            }
            Step::Glass => (owned(&GLASSES), "60".to_owned()),
            Step::Form => {
                let all = Form::ALL.iter().map(|it| it.word()).collect::<Vec<_>>();
                (owned(&all), Form::Full.word().to_owned())
            }
            Step::Doubled => (owned(&["0", "1", "2"]), "1".to_owned()),
            Step::Pourer => {
                let mut names = owned(&[SOMEBODY]);
                names.extend(request.tasters.iter().cloned());
                (names, SOMEBODY.to_owned())
            }
            Step::Agree => (Vec::new(), String::new()),
        };
        self.draft = match self.now.step {
            Step::Doubled | Step::Pourer | Step::Agree => Some(home.draft_panel(request)?),
            _ => None,
        };
        self.asking = Asking::among(names);
        if !usual.is_empty() {
            self.asking = std::mem::take(&mut self.asking).choosing(&usual);
        }
        Ok(())
    }

    /// Takes an answer; a sentence where it cannot be one.
    fn take(&mut self, answer: &str) -> Result<Result<(), &'static str>, WorkflowError> {
        let request = &mut self.now.request;
        match self.now.step {
            Step::Beers => return add_names(&mut self.now, answer, Step::Tasters),
            Step::Tasters => return add_names(&mut self.now, answer, Step::Glass),
            Step::Glass => {
                let Ok(number) = answer.parse() else {
                    return Ok(Err("A number of millilitres, such as 60."));
                };
                request.glass = Millilitres::new(number)?;
                self.now.step = Step::Form;
            }
            Step::Form => {
                let Some(form) = Form::ALL.iter().find(|it| it.word() == answer) else {
                    return Ok(Err("Choose one of the list with ↑ and ↓."));
                };
                request.form = *form;
                self.now.step = Step::Doubled;
            }
            Step::Doubled => {
                let count = answer.parse().ok().filter(|it| *it <= 2_usize);
                let Some(count) = count else {
                    return Ok(Err("0, 1 or 2."));
                };
                request.doubled = count;
                self.now.step = Step::Pourer;
            }
            Step::Pourer => {
                let Some(pourer) = pourer(request, answer) else {
                    return Ok(Err("Choose one of the list with ↑ and ↓."));
                };
                request.pourer = pourer;
                self.now.step = Step::Agree;
            }
            Step::Agree => {}
        }
        Ok(Ok(()))
    }
}

/// Who pours, by the line that was chosen.
fn pourer(request: &PanelRequest, answer: &str) -> Option<PanelPourer> {
    if answer == SOMEBODY {
        return Some(PanelPourer::SomebodyElse);
    }
    let taster = request.tasters.iter().find(|it| *it == answer)?;
    Some(PanelPourer::Taster(taster.clone()))
}

/// What a list of names holds, and what is said where it holds too few or too many.
struct Listed {
    what: &'static str,
    least: usize,
    most: usize,
    few: &'static str,
    many: &'static str,
}

const BOTTLES: Listed = Listed {
    what: "a cap mark",
    least: 2,
    most: 10,
    few: "Two bottles or more; type another cap mark.",
    many: "Ten bottles are the most for one sitting.",
};

const PEOPLE: Listed = Listed {
    what: "a taster's name",
    least: 1,
    most: 12,
    few: "Somebody has to taste; type a name.",
    many: "Twelve people are the most for one sitting.",
};

/// Adds names with commas between to the bottles or to the people; an empty answer goes on.
fn add_names(
    now: &mut Answers,
    answer: &str,
    next: Step,
) -> Result<Result<(), &'static str>, WorkflowError> {
    let (list, listed) = match now.step {
        Step::Beers => (&mut now.request.beers, BOTTLES),
        _ => (&mut now.request.tasters, PEOPLE),
    };
    let names = answer.split(',').map(str::trim);
    let names: Vec<&str> = names.filter(|it| !it.is_empty()).collect();
    for name in &names {
        Name::new(listed.what, name)?;
        if list.iter().any(|it| is_same_name(it, name)) {
            return Ok(Err("That one is named already; Enter alone goes on."));
        }
        list.push((*name).to_owned());
    }
    if list.len() > listed.most {
        return Ok(Err(listed.many));
    }
    if names.is_empty() && list.len() < listed.least {
        return Ok(Err(listed.few));
    }
    if names.is_empty() || list.len() == listed.most {
        now.step = next;
    }
    Ok(Ok(()))
}

fn owned(names: &[&str]) -> Vec<String> {
    names.iter().map(|it| (*it).to_owned()).collect()
}

fn without(mut names: Vec<String>, taken: &[String]) -> Vec<String> {
    let is_free = |it: &String| taken.iter().all(|one| !one.eq_ignore_ascii_case(it));
    names.retain(is_free);
    names
}

impl Question for PlanPanelScreen {
    fn heading(&self) -> String {
        "Plan a panel".to_owned()
    }

    fn asked(&self) -> &'static str {
        match self.now.step {
            Step::Beers => {
                "Which bottles? Type a cap mark, or several with commas between; any bottle will do. Enter alone goes on."
            }
            Step::Tasters => {
                "Who tastes? A name, or several with commas between; new ones are added. Enter alone goes on."
            }
            Step::Glass => "How many millilitres into each glass?",
            Step::Form => {
                "How much is asked of each glass? Five stages take about ten minutes, the short glass two."
            }
            Step::Doubled => {
                "How many beers are poured a second time under another code? Nobody is told which; only whoever pours sees it."
            }
            Step::Pourer => "Who pours?",
            Step::Agree => {
                "Nothing is kept yet. Enter draws codes and orders and keeps it; Esc goes back and changes it."
            }
        }
    }

    fn told(&self) -> Vec<String> {
        let request = &self.now.request;
        let so_far = |what: &str, names: &[String]| {
            (!names.is_empty()).then(|| format!("{what} so far: {}.", names.join(", ")))
        };
        match (self.now.step, &self.draft) {
            (Step::Beers, _) => so_far("Bottles", &request.beers).into_iter().collect(),
            (Step::Tasters, _) => so_far("Tasters", &request.tasters).into_iter().collect(),
            (Step::Doubled, Some(draft)) => draft
                .costs
                .iter()
                .map(reports::panel_cost_sentence)
                .collect(),
            (Step::Agree, Some(draft)) => {
                let mut told = vec![reports::panel_sentence(draft)];
                told.extend(draft.cost().map(reports::panel_cost_sentence));
                told.push(reports::panel_care(&draft.allergens));
                told
            }
            _ => Vec::new(),
        }
    }

    fn is_typed(&self) -> bool {
        self.now.step != Step::Agree
    }

    fn purpose(&self) -> &'static str {
        "Codes and orders are drawn: every glass stands as often at every place and after every other one as the number of tasters allows. A beer that is poured a second time shows how far the answers of each taster stray by themselves; of all, the one is taken that tells most for its alcohol. Which one it is stands on the pouring sheet alone."
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn accept(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        if self.now.step == Step::Agree {
            let panel = home.plan_panel(&self.now.request)?;
            let screen = OnePanelScreen::new(panel.number, self.source, home)?;
            return Ok(Next::Replace(Box::new(screen)));
        }
        let before = self.now.clone();
        let taken = match self.take(answer.trim()) {
            Ok(Ok(())) => self.ask(home),
            Ok(Err(sentence)) => {
                self.now = before;
                return Ok(Next::Say(sentence.to_owned()));
            }
            Err(error) => Err(error),
        };
        match taken {
            Ok(()) => {
                self.before.push(before);
                Ok(Next::Stay)
            }
            Err(error) => {
                self.now = before;
                self.ask(home)?;
                Err(error)
            }
        }
    }

    fn back(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        let Some(before) = self.before.pop() else {
            return Ok(Next::Close);
        };
        self.now = before;
        self.ask(home)?;
        Ok(Next::Stay)
    }
}
