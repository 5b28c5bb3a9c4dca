//! Practice with strength: each glass rated by itself, then all put in order, and how it went.

use crate::domain::BlindingCode;
use crate::domain::Digit;
use crate::domain::SeatRole;
use crate::domain::SeriesStep;
use crate::domain::StrengthReply;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::practice_item_screen::CODE_DIGITS;
use crate::workflow::Home;
use crate::workflow::StrengthRun;
use crate::workflow::WorkflowError;

/// What is asked.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Step {
    /// How strong one glass is.
    Rate,
    /// The code beneath the glass, where the taster mixed it: the digit that was given, and what is typed.
    Code(Digit, String),
    /// The next one in the order.
    Order,
    /// Whether the order stands.
    Confirm,
    /// How it went.
    Told,
}

/// One taster's series.
pub struct StrengthScreen {
    run: StrengthRun,
    step: Step,
    /// The codes put in order so far, the weakest first.
    order: Vec<BlindingCode>,
    chosen: usize,
}

impl StrengthScreen {
    /// The screen at what is still open.
    #[must_use]
    pub fn new(run: StrengthRun) -> Self {
        let mut screen = Self {
            run,
            step: Step::Rate,
            order: Vec::new(),
            chosen: 0,
        };
        screen.go_to_open();
        screen
    }

    /// The screen that tells how it went, whatever is still open.
    pub(super) fn told(run: StrengthRun) -> Self {
        Self {
            step: Step::Told,
            ..Self::new(run)
        }
    }

    fn go_to_open(&mut self) {
        self.step = if self.run.series.unrated().is_some() {
            Step::Rate
        } else if self.run.series.open_step().is_some() {
            Step::Order
        } else {
            Step::Told
        };
    }

    fn is_alone(&self) -> bool {
        self.run.role == SeatRole::PouringTaster
    }

    /// The codes that stand in no place yet, in the order of the numbers.
    fn left(&self) -> Vec<BlindingCode> {
        let glasses = self.run.series.glasses.iter();
        let mut left: Vec<BlindingCode> = glasses
            .map(|it| it.code)
            .filter(|it| !self.order.contains(it))
            .collect();
        left.sort_unstable();
        left
    }

    fn rate(&mut self, digit: Digit, home: &mut Home) -> Result<Next, WorkflowError> {
        if self.is_alone() {
            self.step = Step::Code(digit, String::new());
            return Ok(Next::Stay);
        }
        if let Some(position) = self.run.series.unrated().map(|it| it.position) {
            home.answer_strength(&mut self.run, position, StrengthReply::Rated(digit))?;
        }
        self.go_to_open();
        Ok(Next::Stay)
    }

    /// The code beneath a glass: only now it is known which one was rated.
    fn code(
        &mut self,
        digit: Digit,
        mut typed: String,
        act: Act,
        home: &mut Home,
    ) -> Result<Next, WorkflowError> {
        match act {
            Act::Digit(sign) => typed.push(char::from(b'0' + sign)),
            Act::Do(Action::Undo) => {
                typed.pop();
            }
            _ => {}
        }
        if typed.len() < CODE_DIGITS {
            self.step = Step::Code(digit, typed);
            return Ok(Next::Stay);
        }
        self.step = Step::Code(digit, String::new());
        let code = typed.parse().ok().and_then(|it| BlindingCode::new(it).ok());
        let Some(glass) = code.and_then(|it| self.run.series.coded(it)) else {
            return Ok(Next::Say(format!(
                "No glass is called {typed}; read it again."
            )));
        };
        if self.run.series.rated(glass).is_some() {
            return Ok(Next::Say(format!(
                "Glass {typed} was rated before; take another one."
            )));
        }
        let position = glass.position;
        home.answer_strength(&mut self.run, position, StrengthReply::Rated(digit))?;
        self.go_to_open();
        Ok(Next::Stay)
    }

    fn choose(&mut self, row: usize) {
        let left = self.left();
        let Some(code) = left.get(row) else {
            return;
        };
        self.order.push(*code);
        self.chosen = 0;
        // The last one has no choice.
        if let [.., last] = left.as_slice()
            && left.len() == 2
        {
            let last = if last == code { left[0] } else { *last };
            self.order.push(last);
            self.step = Step::Confirm;
        }
    }

    fn take_back(&mut self) {
        if self.step == Step::Confirm {
            self.order.pop();
        }
        self.order.pop();
        self.step = Step::Order;
    }

    fn keep_order(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        for (step, code) in SeriesStep::all().zip(self.order.clone()) {
            if let Some(position) = self.run.series.coded(code).map(|it| it.position) {
                home.answer_strength(&mut self.run, position, StrengthReply::Placed(step))?;
            }
        }
        home.leave_practice(&self.run.practice.sitting, &self.run.seat)?;
        self.step = Step::Told;
        Ok(Next::Top)
    }

    fn ordering(&mut self, act: Act) -> Next {
        let count = self.left().len().max(1);
        match act {
            Act::Digit(digit) => self.choose(usize::from(digit).wrapping_sub(1)),
            Act::Row(row) => self.choose(row),
            Act::Do(Action::Accept) => self.choose(self.chosen),
            Act::Do(Action::Up) => self.chosen = (self.chosen + count - 1) % count,
            Act::Do(Action::Down) => self.chosen = (self.chosen + 1) % count,
            Act::Do(Action::Undo) => self.take_back(),
            _ => {}
        }
        Next::Stay
    }

    fn draw_rate(&self, page: &mut Page, cells: usize) {
        let Some(scale) = self.run.series.glasses.first().map(|it| it.scale) else {
            return;
        };
        let glass = match self.run.series.unrated() {
            Some(glass) if !self.is_alone() => format!("Glass {}: a sip, twice.", glass.code),
            _ => "Take any glass that you have not tasted: a sip, twice.".to_owned(),
        };
        page.text(Ink::Strong, &format!("{glass} {}", scale.question), cells);
        page.gap();
        let digits = format!("A digit: 0 is {}, 9 is {}.", scale.low, scale.high);
        page.text(Ink::Plain, &digits, cells);
        let Some(anchors) = &scale.anchors else {
            return;
        };
        page.gap();
        for (digit, like) in crate::domain::Anchors::DIGITS.iter().zip(anchors.at) {
            page.line(Line::of(Ink::Quiet, format!("  {digit}  {like}")));
        }
    }

    fn draw_order(&self, page: &mut Page, cells: usize) {
        let text = match self.order.len() {
            0 if self.is_alone() => {
                "Put the glasses in a row from weakest to strongest, then look beneath. Which is the weakest?"
            }
            0 => "Put the glasses in a row from weakest to strongest. Which is the weakest?",
            _ => "And the next one?",
        };
        page.text(Ink::Strong, text, cells);
        self.draw_row(page);
        page.gap();
        for (row, code) in self.left().into_iter().enumerate() {
            let chosen = row == self.chosen;
            let (mark, ink) = if chosen {
                ("▸", Ink::Chosen)
            } else {
                (" ", Ink::Plain)
            };
            let rated = self
                .run
                .series
                .coded(code)
                .and_then(|it| self.run.series.rated(it));
            let rated = rated.map_or(String::new(), |it| format!("  rated {}", it.get()));
            let line = Line::of(Ink::Strong, format!(" {mark}{}  ", row + 1));
            let line = line.and(ink, format!(" {code} ")).and(Ink::Quiet, rated);
            page.choice(line, Press::Row(row));
        }
    }

    /// The row as it stands.
    fn draw_row(&self, page: &mut Page) {
        if self.order.is_empty() {
            return;
        }
        let codes: Vec<String> = self.order.iter().map(ToString::to_string).collect();
        page.gap();
        let open = if self.left().is_empty() { "" } else { " < …" };
        let row = format!("{}{open}", codes.join(" < "));
        page.line(Line::of(Ink::Quiet, "  from the weakest:  ").and(Ink::Strong, row));
    }

    fn draw_told(&self, home: &Home, page: &mut Page, cells: usize) -> Result<(), WorkflowError> {
        if home.may_tell(&self.run.practice)? {
            let cells = cells.saturating_sub(1);
            page.lines(reports::strength_lines(&self.run.series, cells));
        } else {
            let text =
                "Kept. How it went is told once the others have answered too: pass the screen on.";
            page.text(Ink::Strong, text, cells);
        }
        Ok(())
    }
}

impl Screen for StrengthScreen {
    fn title(&self) -> String {
        let scale = self
            .run
            .series
            .glasses
            .first()
            .map_or("", |it| it.scale.word);
        format!("{}: {scale}, from weak to strong", self.run.taster.name)
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        let cells = room.text_width();
        page.gap();
        match &self.step {
            Step::Rate => self.draw_rate(&mut page, cells),
            Step::Code(_, typed) => {
                let text = "Now look beneath the glass: which code stands there?";
                page.text(Ink::Strong, text, cells);
                page.gap();
                let line = Line::of(Ink::Quiet, "  code: ").and(Ink::Strong, typed.as_str());
                page.line(line.and(Ink::Chosen, " "));
            }
            Step::Order => self.draw_order(&mut page, cells),
            Step::Confirm => {
                page.text(Ink::Strong, "So they stand. Enter keeps it.", cells);
                self.draw_row(&mut page);
            }
            Step::Told => self.draw_told(home, &mut page, cells)?,
        }
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        let mut actions = match &self.step {
            Step::Rate => Vec::new(),
            Step::Code(..) => vec![Action::Undo],
            Step::Order => {
                let mut actions = vec![Action::Accept, Action::Up, Action::Down];
                if !self.order.is_empty() {
                    actions.push(Action::Undo);
                }
                actions
            }
            Step::Confirm => vec![Action::Accept, Action::Undo],
            Step::Told => vec![Action::Accept],
        };
        actions.push(Action::Back);
        actions
    }

    fn explanation(&self) -> &'static str {
        "First each glass by itself, then all side by side: the order shows what the tongue can tell, the digits whether you mean by them what the examples mean. Each digit is kept at once, the order when all stand. Rinse with water in between."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        if act == Act::Do(Action::Back) {
            return Ok(Next::Close);
        }
        match self.step.clone() {
            Step::Rate => match act {
                Act::Digit(digit) => self.rate(Digit::new(digit)?, home),
                _ => Ok(Next::Stay),
            },
            Step::Code(digit, typed) => self.code(digit, typed, act, home),
            Step::Order => Ok(self.ordering(act)),
            Step::Confirm => match act {
                Act::Do(Action::Accept) => self.keep_order(home),
                Act::Do(Action::Undo) => {
                    self.take_back();
                    Ok(Next::Stay)
                }
                _ => Ok(Next::Stay),
            },
            Step::Told => match act {
                Act::Do(Action::Accept) => Ok(Next::Close),
                _ => Ok(Next::Stay),
            },
        }
    }
}
