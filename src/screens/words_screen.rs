//! The market to walk through at leisure: every word with what it is like and how to learn it.

use crate::domain::Descriptor;
use crate::domain::DescriptorId;
use crate::domain::Subject;
use crate::domain::Wheel;
use crate::drawing::Ink;
use crate::reports::word_lines;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Input;
use crate::screens::Market;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::Stroll;
use crate::screens::WheelScreen;
use crate::screens::print_offers::bare_wheel;
use crate::screens::print_offers::word_offers;
use crate::screens::print_screen::offered_on_paper;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// The market as a screen of its own.
pub struct WordsScreen {
    market: Market,
    word: Option<DescriptorId>,
}

impl Default for WordsScreen {
    fn default() -> Self {
        Self::new()
    }
}

impl WordsScreen {
    /// A walk from the gate.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            market: Market::at_the_gate(),
            word: None,
        }
    }

    fn strolled(&mut self, stroll: Stroll) {
        if let Stroll::Found(Subject::Descriptor(id)) = stroll {
            self.word = Some(id);
        }
    }

    fn enter(&mut self, home: &Home) {
        let stroll = self.market.enter(home.wheel());
        self.strolled(stroll);
    }

    fn leave(&mut self, home: &Home) -> Next {
        if self.word.take().is_some() {
            return Next::Stay;
        }
        match self.market.leave(home.wheel()) {
            Stroll::Left => Next::Close,
            Stroll::On | Stroll::Found(_) => Next::Stay,
        }
    }
}

/// A word as one reads it at leisure.
pub(super) fn word_page(page: &mut Page, wheel: &Wheel, word: &Descriptor, cells: usize) {
    page.lines(word_lines(wheel, word, cells));
    page.gap();
    page.text(Ink::Quiet, "Smell before you taste, one jar at a time, and make and throw it away the same day unless it says otherwise.", cells);
}

/// What there is on paper of a word, or of the whole market where none is open.
pub(super) fn print(word: Option<&DescriptorId>, home: &mut Home) -> Next {
    let wheel = home.wheel();
    let offers = match word.and_then(|id| wheel.descriptor(id)) {
        Some(word) => word_offers(wheel, word),
        None => bare_wheel().map(|it| vec![it]),
    };
    offered_on_paper(offers, home)
}

impl Screen for WordsScreen {
    fn title(&self) -> String {
        "Words and jars".to_owned()
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        let word = self
            .word
            .as_ref()
            .and_then(|id| home.wheel().descriptor(id));
        match word {
            Some(it) => {
                word_page(&mut page, home.wheel(), it, room.text_width());
            }
            None => self
                .market
                .draw(&mut page, home.wheel(), room.text_width(), ""),
        }
        Ok(page)
    }

    fn input(&self) -> Input {
        if self.word.is_some() {
            return Input::Keys;
        }
        Input::Words
    }

    fn actions(&self) -> Vec<Action> {
        if self.word.is_some() {
            vec![Action::Left, Action::Print, Action::Back]
        } else {
            vec![
                Action::Accept,
                Action::Right,
                Action::Left,
                Action::Up,
                Action::Down,
                Action::Round,
                Action::Print,
                Action::Back,
            ]
        }
    }

    fn explanation(&self) -> &'static str {
        "The wheel sorts words by where you have met the smell: a place, a shelf in it, a word. Digits, or arrows and Enter, walk; a letter jumps to the next name that begins with it. @ shows the whole market as a wheel. On paper there are the wheel as a poster and, at a word, cards and labels for its jar and those of its shelf."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match act {
            Act::Do(Action::Back | Action::Left) => return Ok(self.leave(home)),
            Act::Do(Action::Print) => return Ok(print(self.word.as_ref(), home)),
            _ if self.word.is_some() => {}
            Act::Do(Action::Accept | Action::Right) => self.enter(home),
            Act::Do(Action::Round) => {
                let wheel = WheelScreen::at(self.market.clone());
                return Ok(Next::Open(Box::new(wheel)));
            }
            Act::Do(Action::Up) => self.market.turn(home.wheel(), -1),
            Act::Do(Action::Down) => self.market.turn(home.wheel(), 1),
            Act::Typed(letter) => self.market.jump(home.wheel(), letter),
            Act::Row(row) => {
                self.market.choose(home.wheel(), row);
                self.enter(home);
            }
            Act::Digit(digit) => {
                let stroll = self.market.pick(home.wheel(), digit);
                self.strolled(stroll);
            }
            Act::Do(_) => {}
        }
        Ok(Next::Stay)
    }
}
