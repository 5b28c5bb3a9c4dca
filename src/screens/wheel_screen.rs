//! The market as a wheel seen from above: turned, walked into, and with marks on it.

use crate::domain::DescriptorId;
use crate::domain::NotesId;
use crate::domain::Subject;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Input;
use crate::screens::Market;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::Stroll;
use crate::screens::print_offers::Offer;
use crate::screens::print_offers::bare_wheel;
use crate::screens::print_screen::offered_on_paper;
use crate::screens::wheel_page::WheelPage;
use crate::screens::words_screen::print;
use crate::screens::words_screen::word_page;
use crate::workflow::Home;
use crate::workflow::WordMarks;
use crate::workflow::WorkflowError;

/// The wheel as a screen of its own.
pub struct WheelScreen {
    market: Market,
    word: Option<DescriptorId>,
    /// A digit that was typed and may be the first of two.
    first_digit: Option<usize>,
    marks: Option<WordMarks>,
    /// The tastings that were open when the marks were read: they say what is sealed.
    open: Vec<NotesId>,
}

impl WheelScreen {
    /// The wheel, at the step of a walk.
    #[must_use]
    pub const fn at(market: Market) -> Self {
        Self {
            market,
            word: None,
            first_digit: None,
            marks: None,
            open: Vec::new(),
        }
    }

    fn enter(&mut self, home: &Home) {
        if let Stroll::Found(Subject::Descriptor(id)) = self.market.enter(home.wheel()) {
            self.word = Some(id);
        }
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

    /// Turns to a number; of two digits in a row the second may make a longer one.
    fn number(&mut self, digit: u8, before: Option<usize>, home: &Home) {
        let count = self.market.stalls(home.wheel()).len();
        let digit = usize::from(digit);
        let longer = before.map(|it| 10 * it + digit);
        match longer.filter(|it| (10..=count).contains(it)) {
            Some(number) => self.market.choose(home.wheel(), number - 1),
            None if digit > 0 => {
                self.first_digit = Some(digit);
                self.market.choose(home.wheel(), digit - 1);
            }
            None => self.market.choose(home.wheel(), 9),
        }
    }

    /// Chooses a row that was clicked; another click on it goes in.
    fn click(&mut self, row: usize, home: &Home) {
        if row == self.market.chosen() {
            self.enter(home);
        } else {
            self.market.choose(home.wheel(), row);
        }
    }

    /// The word that is open, or the poster: first with the marks that are shown.
    fn print(&self, home: &mut Home) -> Next {
        let Some(marks) = self.marks.as_ref().filter(|_| self.word.is_none()) else {
            return print(self.word.as_ref(), home);
        };
        let marked = Offer::marked_wheel(marks.of.clone());
        offered_on_paper(bare_wheel().map(|it| vec![marked, it]), home)
    }

    /// Turns to the next one whose marks can be shown, and after the last one to none.
    fn next_marks(&mut self, home: &Home) -> Result<Next, WorkflowError> {
        let offer = home.marks_on_offer()?;
        if offer.is_empty() {
            self.marks = None;
            return Ok(Next::Say(
                "No marks can be shown: nothing is locked, practised or brewed yet, or what there is stays sealed while it is tasted.".to_owned(),
            ));
        }
        let shown = self.marks.take();
        let after = shown.map_or(0, |shown| {
            let at = offer.iter().position(|it| *it == shown.of);
            at.map_or(offer.len(), |at| at + 1)
        });
        for of in &offer[after..] {
            let marks = home.word_marks(of)?;
            if !marks.is_empty() {
                self.marks = Some(marks);
                break;
            }
        }
        Ok(Next::Stay)
    }
}

impl Screen for WheelScreen {
    fn title(&self) -> String {
        "The wheel of words".to_owned()
    }

    fn refresh(&mut self, home: &mut Home) -> Result<(), WorkflowError> {
        let open = home.open_tastings()?;
        let open: Vec<NotesId> = open.into_iter().map(|it| it.notes).collect();
        if open == self.open {
            return Ok(());
        }
        self.open = open;
        let again = self.marks.take().map(|it| home.word_marks(&it.of));
        self.marks = match again.transpose() {
            // Somebody began to taste it in another window, so it is taken from the wheel.
            Err(WorkflowError::Sealed { .. }) => None,
            read => read?.filter(|it| !it.is_empty()),
        };
        Ok(())
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let wheel = home.wheel();
        if let Some(word) = self.word.as_ref().and_then(|id| wheel.descriptor(id)) {
            let mut page = Page::default();
            page.gap();
            word_page(&mut page, wheel, word, room.text_width());
            return Ok(page);
        }
        let drawn = WheelPage {
            market: &self.market,
            wheel,
            marks: self.marks.as_ref(),
        };
        Ok(drawn.drawn(room))
    }

    fn input(&self) -> Input {
        if self.word.is_some() {
            return Input::Keys;
        }
        Input::Words
    }

    fn actions(&self) -> Vec<Action> {
        if self.word.is_some() {
            return vec![Action::Left, Action::Print, Action::Back];
        }
        vec![
            Action::Accept,
            Action::Right,
            Action::Left,
            Action::Up,
            Action::Down,
            Action::Whose,
            Action::Print,
            Action::Back,
        ]
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        match action {
            _ if self.word.is_some() => None,
            Action::Accept => Some("go in"),
            Action::Right => Some("turn"),
            Action::Left => Some("turn back"),
            // The arrows above say it already.
            Action::Up => Some(""),
            Action::Back => Some("go out"),
            _ => None,
        }
    }

    fn explanation(&self) -> &'static str {
        "The market from above: in the middle the scales, round them the places with lanes between them, behind each place its shelves, and outermost the words. Arrows turn to the next one, a number or a letter jumps to it, Enter goes in and Esc goes out. Colours only tell the places apart. With # the wheel is filled as far as something was named, and the list says how often; a dash means not named, which is no zero. F2 writes the wheel as it is shown as a poster to print."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        let before = self.first_digit.take();
        match act {
            Act::Do(Action::Back) => return Ok(self.leave(home)),
            Act::Do(Action::Left) if self.word.is_some() => return Ok(self.leave(home)),
            Act::Do(Action::Print) => return Ok(self.print(home)),
            _ if self.word.is_some() => {}
            Act::Do(Action::Accept) => self.enter(home),
            Act::Do(Action::Right | Action::Down) => self.market.turn(home.wheel(), 1),
            Act::Do(Action::Left | Action::Up) => self.market.turn(home.wheel(), -1),
            Act::Do(Action::Whose) => return self.next_marks(home),
            Act::Typed(letter) => self.market.jump(home.wheel(), letter),
            Act::Digit(digit) => self.number(digit, before, home),
            Act::Row(row) => self.click(row, home),
            Act::Do(_) => {}
        }
        Ok(Next::Stay)
    }
}
