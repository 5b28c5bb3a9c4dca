//! Who practises, with what, and who prepares it.

use crate::domain::Descriptor;
use crate::domain::DescriptorId;
use crate::domain::PracticeKind;
use crate::domain::SCALES;
use crate::domain::Scale;
use crate::domain::Stage;
use crate::domain::Taster;
use crate::screens::Asking;
use crate::screens::ConfidenceScreen;
use crate::screens::Next;
use crate::screens::PracticeItemScreen;
use crate::screens::PracticePrepScreen;
use crate::screens::PracticeTableScreen;
use crate::screens::Question;
use crate::screens::Screen;
use crate::screens::practice_seat::PracticeSeat;
use crate::workflow::Home;
use crate::workflow::Pourer;
use crate::workflow::WorkflowError;

/// Fewest and most jars on a table.
const JARS: std::ops::RangeInclusive<usize> = 3..=8;

/// People at one table.
const MOST_PEOPLE: usize = 12;

/// What is to be begun.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Wanted {
    /// Five minutes of words.
    Words,
    /// Jars under codes.
    Jars,
    /// Present or not.
    Presence,
    /// A series from weak to strong.
    Strength,
    /// An evening of a course; asked on a screen of its own.
    Evening,
    /// What practice says of a taster.
    Confidence,
}

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Step {
    Names,
    GoOn,
    Count,
    Word,
    Series,
    Preparer,
}

/// What is done about a table that was left open.
const GO_ON: [&str; 2] = ["go on where it was left", "begin anew"];

/// Who prepares, as it is chosen.
const PREPARERS: [(&str, Pourer); 2] = [
    ("somebody who does not practise", Pourer::SomebodyElse),
    ("I do, and shuffle", Pourer::Taster),
];

/// The questions before a practice.
pub struct PracticeSetupScreen {
    wanted: Wanted,
    step: Step,
    asking: Asking,
    tasters: Vec<Taster>,
    words: Vec<DescriptorId>,
    scale: Option<&'static Scale>,
}

impl PracticeSetupScreen {
    /// The screen at the question for the names.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(super) fn new(wanted: Wanted, home: &Home) -> Result<Self, WorkflowError> {
        let tasters = home.tasters()?;
        let names = tasters.iter().map(|it| it.name.to_string()).collect();
        let mut asking = Asking::among(names);
        if let Some(latest) = home.latest_taster()? {
            asking = asking.choosing(latest.name.as_str());
        }
        Ok(Self {
            wanted,
            step: Step::Names,
            asking,
            tasters: Vec::new(),
            words: Vec::new(),
            scale: None,
        })
    }

    fn named(&mut self, typed: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        let names = typed.split(',').map(str::trim).filter(|it| !it.is_empty());
        let names: Vec<&str> = names.collect();
        let alone = matches!(self.wanted, Wanted::Words | Wanted::Confidence);
        if names.is_empty() || names.len() > MOST_PEOPLE || (alone && names.len() > 1) {
            let said = if alone {
                "One name."
            } else {
                "One to twelve names with commas between."
            };
            return Ok(Next::Say(said.to_owned()));
        }
        self.tasters.clear();
        for name in names {
            let taster = match self.wanted {
                Wanted::Confidence => home.taster(name)?,
                _ => home.taster_or_new(name)?,
            };
            if !self.tasters.iter().any(|it| it.id == taster.id) {
                self.tasters.push(taster);
            }
        }
        if self.left_open(home)?.is_some() {
            return Ok(self.ask(Step::GoOn, GO_ON.map(str::to_owned).to_vec(), GO_ON[0]));
        }
        self.after_names(home)
    }

    fn gone_on(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        let choice = GO_ON.iter().position(|it| *it == answer);
        match (choice, self.left_open(home)?) {
            (Some(0), Some(next)) => Ok(next),
            (Some(_), _) => self.after_names(home),
            (None, _) => Ok(Next::Say("Choose one of the two with ↑ and ↓.".to_owned())),
        }
    }

    fn worded(&mut self, answer: &str, home: &Home) -> Result<Next, WorkflowError> {
        let words = home.words_with_jars(&self.tasters)?;
        let named = |it: &&&Descriptor| it.word.eq_ignore_ascii_case(answer);
        let Some(word) = words.iter().find(named) else {
            return Ok(Next::Say(
                "Choose a word of the list; it needs a jar.".to_owned(),
            ));
        };
        self.words = vec![word.id.clone()];
        Ok(self.ask_preparer())
    }

    /// The table that the first of them left open, if there is one.
    fn left_open(&self, home: &Home) -> Result<Option<Next>, WorkflowError> {
        let kind = match self.wanted {
            Wanted::Jars => PracticeKind::Jars,
            Wanted::Presence => PracticeKind::Presence,
            Wanted::Strength => PracticeKind::Strength,
            Wanted::Words | Wanted::Evening | Wanted::Confidence => return Ok(None),
        };
        let Some(first) = self.tasters.first() else {
            return Ok(None);
        };
        let Some((sitting, people)) = home.open_table(first, kind)? else {
            return Ok(None);
        };
        let screen: Box<dyn Screen> = match people.as_slice() {
            [one] => PracticeSeat::of(home, &sitting, one)?.into_screen(),
            _ => Box::new(PracticeTableScreen::new(sitting, people)),
        };
        Ok(Some(Next::Replace(screen)))
    }

    /// What follows once it is known who practises.
    fn after_names(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        let Some(first) = self.tasters.first().cloned() else {
            return Ok(Next::Stay);
        };
        match self.wanted {
            Wanted::Words => {
                let sitting = home.practise_words(&first)?;
                let run = home.practice_run(&sitting, &first)?;
                Ok(Next::Replace(Box::new(PracticeItemScreen::new(run))))
            }
            Wanted::Confidence => {
                let screen = ConfidenceScreen::new(home.confidence(&first)?);
                Ok(Next::Replace(Box::new(screen)))
            }
            Wanted::Jars | Wanted::Evening => {
                let counts: Vec<String> = JARS.map(|it| it.to_string()).collect();
                Ok(self.ask(Step::Count, counts, "5"))
            }
            Wanted::Presence => {
                let words = home.words_with_jars(&self.tasters)?;
                let names = words.iter().map(|it| it.word.clone()).collect();
                Ok(self.ask(Step::Word, names, ""))
            }
            Wanted::Strength => {
                let names: Vec<String> = mixable().map(|it| it.word.to_owned()).collect();
                let usual = names.first().cloned().unwrap_or_default();
                Ok(self.ask(Step::Series, names, &usual))
            }
        }
    }

    fn ask(&mut self, step: Step, names: Vec<String>, usual: &str) -> Next {
        self.step = step;
        self.asking = Asking::among(names).choosing(usual);
        Next::Stay
    }

    fn ask_preparer(&mut self) -> Next {
        // At a table one of the others would know what is in which.
        if self.tasters.len() > 1 {
            self.ask(
                Step::Preparer,
                vec![PREPARERS[0].0.to_owned()],
                PREPARERS[0].0,
            )
        } else {
            let names = PREPARERS.map(|it| it.0.to_owned()).to_vec();
            self.ask(Step::Preparer, names, PREPARERS[0].0)
        }
    }

    fn begin(&self, pourer: Pourer, home: &mut Home) -> Result<Next, WorkflowError> {
        let sitting = match (self.scale, self.wanted, self.words.as_slice()) {
            (Some(scale), ..) => home.practise_strength(&self.tasters, scale, pourer)?,
            (_, Wanted::Presence, [word, ..]) => {
                home.practise_presence(&self.tasters, word, pourer)?
            }
            _ => home.practise_jars(&self.tasters, &self.words, pourer)?,
        };
        let screen = PracticePrepScreen::new(&sitting, &self.tasters, home)?;
        Ok(Next::Replace(Box::new(screen)))
    }
}

/// The scales that have a series to be mixed in a kitchen.
fn mixable() -> impl Iterator<Item = &'static Scale> {
    let has_series = |it: &&Scale| {
        // What is only looked at is no taste.
        it.stage != Some(Stage::Appearance) && it.anchors.is_some_and(|it| it.series.is_some())
    };
    SCALES.iter().filter(has_series)
}

impl Question for PracticeSetupScreen {
    fn heading(&self) -> String {
        match self.wanted {
            Wanted::Words => "Five minutes of words",
            Wanted::Jars => "Jars under codes",
            Wanted::Presence => "Present or not",
            Wanted::Strength => "From weak to strong",
            Wanted::Evening => "An evening",
            Wanted::Confidence => "How far to trust your nose",
        }
        .to_owned()
    }

    fn asked(&self) -> &'static str {
        match (self.step, self.wanted) {
            (Step::Names, Wanted::Words | Wanted::Confidence) => "Who? Type a name, or choose one.",
            (Step::Names, _) => "Who practises? Names with commas between, or choose one.",
            (Step::GoOn, _) => "Something was left open here. Go on with it?",
            (Step::Count, _) => "How many jars? Those are drawn that are needed most.",
            (Step::Word, _) => "Which word? Begin to type it.",
            (Step::Series, _) => "Which scale? These have a series that is mixed in a kitchen.",
            (Step::Preparer, Wanted::Strength) => "Who mixes the glasses?",
            (Step::Preparer, _) => "Who prepares the jars?",
        }
    }

    fn purpose(&self) -> &'static str {
        "Jars are smelled under codes, so that nobody is led by knowing. Whoever prepares them sees which is which and does not practise with them, or shuffles until lost and reads the code beneath only after the answer."
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn accept(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        let answer = answer.trim();
        match self.step {
            Step::Names => self.named(answer, home),
            Step::GoOn => self.gone_on(answer, home),
            Step::Count => {
                let count = answer.parse().ok().filter(|it| JARS.contains(it));
                let Some(count) = count else {
                    return Ok(Next::Say("A number from 3 to 8.".to_owned()));
                };
                self.words = home.jars_to_practise(&self.tasters, count)?;
                Ok(self.ask_preparer())
            }
            Step::Word => self.worded(answer, home),
            Step::Series => {
                let named = |it: &&Scale| it.word.eq_ignore_ascii_case(answer);
                self.scale = mixable().find(named);
                match self.scale {
                    Some(_) => Ok(self.ask_preparer()),
                    None => Ok(Next::Say(
                        "Choose a scale of the list with ↑ and ↓.".to_owned(),
                    )),
                }
            }
            Step::Preparer => match PREPARERS.iter().find(|it| it.0 == answer) {
                Some((_, pourer)) => self.begin(*pourer, home),
                None => Ok(Next::Say("Choose one of the list with ↑ and ↓.".to_owned())),
            },
        }
    }
}
