//! One taster's answers in a blind test, in private; afterwards nothing of them is left on the screen.

use crate::domain::BlindingCode;
use crate::domain::NotesSource;
use crate::domain::Pouring;
use crate::domain::Remark;
use crate::domain::SheetKind;
use crate::domain::Subject;
use crate::domain::Sureness;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Input;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::PassOnScreen;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::TextEntry;
use crate::screens::answer_page;
use crate::workflow::FilledFrom;
use crate::workflow::GivenAnswer;
use crate::workflow::Home;
use crate::workflow::PlaceAtTest;
use crate::workflow::SetOfGlasses;
use crate::workflow::WorkflowError;

/// What is asked of a set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Step {
    /// What goes into which cup, where the taster pours.
    Pour,
    /// The forced choice.
    Choose,
    /// How sure.
    Sure,
    /// What differed.
    Words,
    /// Which is liked better.
    Prefer,
    /// All sets are answered.
    Review,
}

/// The screen of one taster's place.
pub struct AnswerScreen {
    pub(super) place: PlaceAtTest,
    pub(super) question: String,
    /// What goes into each cup of each set, where the taster pours.
    pub(super) cups: Vec<Vec<(BlindingCode, String)>>,
    pub(super) at: usize,
    pub(super) step: Step,
    pub(super) entry: TextEntry,
}

impl AnswerScreen {
    /// The screen of a place, at its first set without an answer.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn new(place: PlaceAtTest, home: &mut Home) -> Result<Self, WorkflowError> {
        let planned = home.planned_test(place.number)?;
        let mut cups = Vec::new();
        if planned.test.pouring == Pouring::Alone {
            let name = place.taster.name.to_string();
            let sheet = home.sheet(place.number, SheetKind::Pourer, Some(&name))?;
            let own = sheet.rows.into_iter().filter(|it| it.place == place.place);
            cups = own.map(|row| by_code(row.cups)).collect();
        }
        let mut screen = Self {
            question: planned.question(),
            cups,
            at: 0,
            step: Step::Choose,
            entry: TextEntry::default(),
            place,
        };
        screen.go_to_open();
        Ok(screen)
    }

    /// To the first set without an answer, or to the look back.
    fn go_to_open(&mut self) {
        let open = self.place.sets.iter().position(|it| it.answered.is_none());
        match open {
            Some(at) => self.begin(at),
            None => self.step = Step::Review,
        }
    }

    fn begin(&mut self, at: usize) {
        self.at = at;
        self.entry = TextEntry::default();
        self.step = if self.cups.is_empty() {
            Step::Choose
        } else {
            Step::Pour
        };
    }

    pub(super) fn set(&self) -> &SetOfGlasses {
        // A place always has a set; the last one where the number runs over.
        &self.place.sets[self.at.min(self.place.sets.len() - 1)]
    }

    /// The codes to choose from: by their numbers where the cups were shuffled.
    pub(super) fn offered(&self) -> Vec<BlindingCode> {
        let mut codes = self.set().choices.clone();
        if !self.cups.is_empty() {
            codes.sort_unstable();
        }
        codes
    }

    fn keep(&mut self, given: &GivenAnswer, home: &mut Home) -> Result<(), WorkflowError> {
        let round = self.set().round;
        self.place = home.answer_set(&self.place, round, given, NotesSource::App)?;
        Ok(())
    }

    fn digit(&mut self, digit: usize, home: &mut Home) -> Result<Next, WorkflowError> {
        let index = digit.wrapping_sub(1);
        match self.step {
            Step::Choose => {
                if let Some(chosen) = self.offered().get(index).copied() {
                    let given = GivenAnswer {
                        chosen,
                        sureness: None,
                        prefers: None,
                        words: Vec::new(),
                    };
                    self.keep(&given, home)?;
                    self.step = Step::Sure;
                }
            }
            Step::Sure => {
                if let (Some(sure), Some(mut given)) = (Sureness::ALL.get(index), self.given()) {
                    given.sureness = Some(*sure);
                    self.keep(&given, home)?;
                    self.step = Step::Words;
                }
            }
            Step::Prefer => {
                let code = self.set().codes.get(index).copied();
                if let (Some(code), Some(mut given)) = (code, self.given()) {
                    given.prefers = Some(code);
                    self.keep(&given, home)?;
                    self.go_to_open();
                }
            }
            Step::Pour | Step::Words | Step::Review => {}
        }
        Ok(Next::Stay)
    }

    fn given(&self) -> Option<GivenAnswer> {
        self.set().answered.clone()
    }

    /// Keeps the words typed, with commas between.
    fn keep_words(&mut self, home: &mut Home) -> Result<(), WorkflowError> {
        let typed = self.entry.take();
        let words = typed.split(',').map(str::trim).filter(|it| !it.is_empty());
        let mut subjects = Vec::new();
        for word in words {
            let found = home.wheel().search(word, 1).into_iter().next();
            subjects.push(
                match found.filter(|it| it.word.eq_ignore_ascii_case(word)) {
                    Some(it) => Subject::Descriptor(it.id.clone()),
                    None => Subject::Free(Remark::new("a word", word)?),
                },
            );
        }
        if let Some(mut given) = self.given().filter(|_| !subjects.is_empty()) {
            given.words = subjects;
            self.keep(&given, home)?;
        }
        Ok(())
    }

    fn accept(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        match self.step {
            Step::Pour => self.step = Step::Choose,
            Step::Choose => {
                return Ok(Next::Say(
                    "A choice is asked for, even if it is a guess: press its digit.".to_owned(),
                ));
            }
            Step::Sure => self.step = Step::Words,
            Step::Words => {
                self.keep_words(home)?;
                self.step = Step::Prefer;
            }
            Step::Prefer => self.go_to_open(),
            Step::Review => {
                let goes_on = home.leave_place(&self.place)?;
                return Ok(Next::Replace(Box::new(PassOnScreen::new(goes_on))));
            }
        }
        Ok(Next::Stay)
    }
}

/// The cups by their codes, so that their order says nothing.
fn by_code(cups: Vec<(BlindingCode, Option<FilledFrom>)>) -> Vec<(BlindingCode, String)> {
    let words = |it: Option<FilledFrom>| match it {
        Some(FilledFrom::Beer(mark)) => mark.to_string(),
        Some(FilledFrom::Jug(letter)) => format!("jug {letter}"),
        None => String::new(),
    };
    let mut cups: Vec<(BlindingCode, String)> = cups
        .into_iter()
        .map(|(code, it)| (code, words(it)))
        .collect();
    cups.sort_unstable();
    cups
}

impl Screen for AnswerScreen {
    fn title(&self) -> String {
        let (set, sets) = (self.at + 1, self.place.sets.len());
        format!("{}: set {set} of {sets}", self.place.taster.name)
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        answer_page::draw(self, &mut page, room.text_width());
        Ok(page)
    }

    fn input(&self) -> Input {
        if self.step == Step::Words {
            Input::Text
        } else {
            Input::Keys
        }
    }

    fn is_typing(&self) -> bool {
        self.step == Step::Words && !self.entry.is_empty()
    }

    fn actions(&self) -> Vec<Action> {
        let mut actions = vec![Action::Accept];
        if self.step == Step::Words {
            actions.push(Action::Undo);
        }
        if self.step == Step::Review {
            actions.push(Action::Up);
        }
        actions.push(Action::Back);
        actions
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        match (action, self.step) {
            (Action::Accept, Step::Review) => Some("keep and leave"),
            (Action::Accept, Step::Pour) => Some("hide this and taste"),
            (Action::Up, Step::Review) => Some("answer the last anew"),
            _ => None,
        }
    }

    fn explanation(&self) -> &'static str {
        "One forced choice for each set, then how sure you are; the rest may be passed. Each answer is kept the moment it is given, so that nothing is lost if the screen goes dark: sit down again by your name. Until you leave you can answer anew; after that nobody can see or change it, you neither."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match act {
            Act::Digit(digit) => self.digit(usize::from(digit), home),
            Act::Row(row) if self.step == Step::Review => {
                self.begin(row);
                Ok(Next::Stay)
            }
            Act::Row(row) => self.digit(row + 1, home),
            Act::Typed(c) => {
                self.entry.push(c);
                Ok(Next::Stay)
            }
            Act::Do(Action::Undo) => {
                self.entry.rub_out();
                Ok(Next::Stay)
            }
            Act::Do(Action::Up) => {
                self.begin(self.place.sets.len() - 1);
                Ok(Next::Stay)
            }
            Act::Do(Action::Accept) => self.accept(home),
            Act::Do(Action::Back) => Ok(Next::Close),
            Act::Do(_) => Ok(Next::Stay),
        }
    }

    fn paste(&mut self, text: &str) {
        if self.step == Step::Words {
            self.entry.paste(text);
        }
    }
}
