//! One taster's answers in a blind test, in private; afterwards nothing of them is left on the screen.

use crate::domain::BlindingCode;
use crate::domain::NotesSource;
use crate::domain::Pouring;
use crate::domain::SheetKind;
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

/// Digits of the code on a cup.
const CODE_DIGITS: usize = 3;

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
    /// The digits of a code typed so far.
    pub(super) digits: String,
    /// The glass that Enter would take.
    pub(super) chosen: Option<usize>,
    /// Going back was asked for once although the answers can still be seen.
    warned: bool,
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
            digits: String::new(),
            chosen: None,
            warned: false,
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
        self.digits.clear();
        self.chosen = None;
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

    /// The glasses that can be chosen now.
    pub(super) fn glasses(&self) -> Vec<BlindingCode> {
        match self.step {
            Step::Prefer => self.set().codes.clone(),
            _ => self.offered(),
        }
    }

    /// One digit more of a code; the third one names a glass.
    fn code_digit(&mut self, digit: u8, home: &mut Home) -> Result<Next, WorkflowError> {
        self.digits.push(char::from(b'0' + digit));
        self.chosen = None;
        if self.digits.len() < CODE_DIGITS {
            return Ok(Next::Stay);
        }
        let typed = std::mem::take(&mut self.digits);
        let mut glasses = self.glasses().into_iter();
        match glasses.find(|it| it.to_string() == typed) {
            Some(code) => self.take_glass(code, home),
            None => Ok(Next::Say(format!(
                "No glass before you is called {typed}; read the code on the cup again. Other cups? Esc, and take the place on your labels."
            ))),
        }
    }

    /// Keeps the glass chosen, or liked better; what else was answered stays.
    fn take_glass(&mut self, code: BlindingCode, home: &mut Home) -> Result<Next, WorkflowError> {
        let mut given = self.given().unwrap_or(GivenAnswer {
            chosen: code,
            sureness: None,
            prefers: None,
            words: Vec::new(),
        });
        if self.step == Step::Prefer {
            given.prefers = Some(code);
        } else {
            given.chosen = code;
        }
        self.keep(&given, home)?;
        self.chosen = None;
        if self.step == Step::Prefer {
            self.go_to_open();
        } else {
            self.step = Step::Sure;
        }
        Ok(Next::Stay)
    }

    fn digit(&mut self, digit: u8, home: &mut Home) -> Result<Next, WorkflowError> {
        match self.step {
            Step::Choose | Step::Prefer => self.code_digit(digit, home),
            Step::Sure => self.sure(usize::from(digit).wrapping_sub(1), home),
            Step::Pour | Step::Words | Step::Review => Ok(Next::Stay),
        }
    }

    fn sure(&mut self, index: usize, home: &mut Home) -> Result<Next, WorkflowError> {
        if let (Some(sure), Some(mut given)) = (Sureness::ALL.get(index), self.given()) {
            given.sureness = Some(*sure);
            self.keep(&given, home)?;
            self.step = Step::Words;
        }
        Ok(Next::Stay)
    }

    /// A row clicked.
    fn row(&mut self, row: usize, home: &mut Home) -> Result<Next, WorkflowError> {
        match self.step {
            Step::Review => {
                self.begin(row);
                Ok(Next::Stay)
            }
            Step::Sure => self.sure(row, home),
            _ => match self.glasses().get(row).copied() {
                Some(code) => self.take_glass(code, home),
                None => Ok(Next::Stay),
            },
        }
    }

    /// Takes a letter or a digit back.
    fn rub_out(&mut self) {
        self.digits.pop();
        if self.step == Step::Words {
            self.entry.rub_out();
        }
    }

    /// Moves the choice among the glasses.
    fn turn(&mut self, down: isize) {
        let last = self.glasses().len().saturating_sub(1);
        self.digits.clear();
        self.chosen = Some(match self.chosen {
            None if down > 0 => 0,
            None => last,
            Some(at) => at.saturating_add_signed(down).min(last),
        });
    }

    fn given(&self) -> Option<GivenAnswer> {
        self.set().answered.clone()
    }

    /// Keeps the words typed, with commas between.
    fn keep_words(&mut self, home: &mut Home) -> Result<(), WorkflowError> {
        let subjects = home.answer_words(&self.entry.take())?;
        if let Some(mut given) = self.given().filter(|_| !subjects.is_empty()) {
            given.words = subjects;
            self.keep(&given, home)?;
        }
        Ok(())
    }

    fn accept(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        match self.step {
            Step::Pour => self.step = Step::Choose,
            Step::Choose | Step::Prefer if self.chosen.is_some() => {
                let at = self.chosen.unwrap_or(0);
                return self.row(at, home);
            }
            Step::Choose => {
                return Ok(Next::Say(
                    "A choice is asked for, even if it is a guess: type the code of the glass."
                        .to_owned(),
                ));
            }
            Step::Sure => {
                return Ok(Next::Say(
                    "Press 1, 2 or 3; Space passes it over.".to_owned(),
                ));
            }
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
        let (name, place) = (&self.place.taster.name, self.place.place);
        format!("{name}, place {place}: set {set} of {sets}")
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        answer_page::draw(self, home, &mut page, room.text_width());
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
        let more: &[Action] = match self.step {
            Step::Pour => &[],
            Step::Choose | Step::Prefer => &[Action::Undo, Action::Up, Action::Down],
            Step::Sure => &[Action::Skip],
            Step::Words => &[Action::Undo],
            Step::Review => &[Action::Up],
        };
        let mut actions = vec![Action::Accept];
        actions.extend(more);
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
        "One forced choice for each set: type the code that stands on the glass, or move to it and press Enter. Then how sure you are; the rest may be passed. Each answer is kept the moment it is given, so that nothing is lost if the screen goes dark: sit down again by your name. Until you leave you can answer anew; after that nobody can see or change it, you neither."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match act {
            Act::Digit(digit) => self.digit(digit, home),
            Act::Row(row) => self.row(row, home),
            Act::Typed(c) => {
                self.entry.push(c);
                Ok(Next::Stay)
            }
            Act::Do(Action::Undo) => {
                self.rub_out();
                Ok(Next::Stay)
            }
            Act::Do(Action::Up) if self.step == Step::Review => {
                self.begin(self.place.sets.len() - 1);
                Ok(Next::Stay)
            }
            Act::Do(Action::Up) => {
                self.turn(-1);
                Ok(Next::Stay)
            }
            Act::Do(Action::Down) => {
                self.turn(1);
                Ok(Next::Stay)
            }
            Act::Do(Action::Skip) if self.step == Step::Sure => {
                self.step = Step::Words;
                Ok(Next::Stay)
            }
            Act::Do(Action::Accept) => self.accept(home),
            Act::Do(Action::Back) if self.step == Step::Review && !self.warned => {
                self.warned = true;
                let said = "You have not left yet: whoever comes next could see and change this. Enter leaves.";
                Ok(Next::Say(said.to_owned()))
            }
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
