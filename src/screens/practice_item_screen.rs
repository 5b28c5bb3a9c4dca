//! One taster's practice, question after question: words without a glass, jars, or present and not.

use crate::domain::BlindingCode;
use crate::domain::Certainty;
use crate::domain::ItemForm;
use crate::domain::PracticeItem;
use crate::domain::PracticeReply;
use crate::domain::Reveal;
use crate::domain::SeatRole;
use crate::domain::Spiked;
use crate::domain::Subject;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Input;
use crate::screens::Market;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::PracticeEndScreen;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::Stroll;
use crate::screens::practice_page;
use crate::workflow::Home;
use crate::workflow::PracticeRun;
use crate::workflow::WorkflowError;

/// Digits of a code.
pub(super) const CODE_DIGITS: usize = 3;

/// What is asked of an item.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Step {
    /// One of a few words, or one of two.
    Choose,
    /// A walk through the market.
    Walk(Market),
    /// How sure.
    Sure,
    /// The code beneath the jar, where the taster prepared it.
    Code(String),
    /// What was right.
    Told,
}

/// The screen of one taster's practice.
pub struct PracticeItemScreen {
    pub(super) run: PracticeRun,
    /// Which of the items, from 0.
    pub(super) at: usize,
    pub(super) step: Step,
    /// Which of the options Enter would take.
    pub(super) chosen: usize,
    /// What was answered to a jar whose code is still unread.
    pending: Vec<PracticeReply>,
    /// How sure that answer was.
    certainty: Option<Certainty>,
}

impl PracticeItemScreen {
    /// The screen at the first item without an answer.
    #[must_use]
    pub fn new(run: PracticeRun) -> Self {
        let mut screen = Self {
            run,
            at: 0,
            step: Step::Choose,
            chosen: 0,
            pending: Vec::new(),
            certainty: None,
        };
        screen.go_to_open();
        screen
    }

    /// To the first open item; false once all are answered.
    fn go_to_open(&mut self) -> bool {
        let open = |it: &PracticeItem| !self.run.is_answered(it);
        let Some(at) = self.run.items.iter().position(open) else {
            return false;
        };
        self.at = at;
        self.chosen = 0;
        self.step = match self.run.items[at].form {
            ItemForm::Definition | ItemForm::Pair | ItemForm::Presence => Step::Choose,
            ItemForm::Place | ItemForm::Jar => Step::Walk(Market::at_the_gate()),
        };
        true
    }

    pub(super) fn item(&self) -> Option<&PracticeItem> {
        self.run.items.get(self.at)
    }

    /// Whether the taster prepared the jars and shuffled them: then a code is read after the answer.
    pub(super) fn is_alone(&self) -> bool {
        self.run.role == SeatRole::PouringTaster
    }

    /// Keeps a reply to the item that is asked; where the jar is not known yet, once it is.
    pub(super) fn reply(
        &mut self,
        reply: PracticeReply,
        certainty: Option<Certainty>,
        home: &mut Home,
    ) -> Result<(), WorkflowError> {
        if self.is_alone() {
            self.pending.push(reply);
            return Ok(());
        }
        let Some(position) = self.item().map(|it| it.position) else {
            return Ok(());
        };
        home.answer_practice(&mut self.run, position, reply, certainty)
    }

    /// The words to choose from.
    pub(super) fn options(&self, home: &Home) -> Vec<(String, PracticeReply)> {
        let Some(item) = self.item() else {
            return Vec::new();
        };
        if item.form == ItemForm::Presence {
            return vec![
                (
                    "it is in there".to_owned(),
                    PracticeReply::Presence(Spiked::Spiked),
                ),
                (
                    "it is not".to_owned(),
                    PracticeReply::Presence(Spiked::Plain),
                ),
            ];
        }
        let options = item.options.iter();
        options
            .filter_map(|id| {
                let word = home.wheel().descriptor(id)?.word.clone();
                Some((word, PracticeReply::Word(id.clone())))
            })
            .collect()
    }

    pub(super) fn choose(&mut self, row: usize, home: &mut Home) -> Result<Next, WorkflowError> {
        let Some((_, reply)) = self.options(home).into_iter().nth(row) else {
            return Ok(Next::Stay);
        };
        self.chosen = row;
        self.reply(reply, None, home)?;
        self.step = Step::Sure;
        Ok(Next::Stay)
    }

    /// What a step in the market leads to: the place and the shelf are kept on the way.
    fn walked(
        &mut self,
        stroll: &Stroll,
        market: Market,
        home: &mut Home,
    ) -> Result<Next, WorkflowError> {
        let only_place = self.item().is_some_and(|it| it.form == ItemForm::Place);
        match (stroll, market.keep(home.wheel())) {
            (Stroll::Found(Subject::Descriptor(id)), _) => {
                self.reply(PracticeReply::Word(id.clone()), None, home)?;
                self.step = Step::Sure;
            }
            (_, Some(Subject::Place(id))) if !market.is_at_the_gate() => {
                self.reply(PracticeReply::Place(id), None, home)?;
                self.step = if only_place {
                    Step::Sure
                } else {
                    Step::Walk(market)
                };
            }
            (_, Some(Subject::Shelf(id))) => {
                self.reply(PracticeReply::Shelf(id), None, home)?;
                self.step = Step::Walk(market);
            }
            _ => self.step = Step::Walk(market),
        }
        Ok(Next::Stay)
    }

    fn walk(
        &mut self,
        mut market: Market,
        act: Act,
        home: &mut Home,
    ) -> Result<Next, WorkflowError> {
        let wheel = home.wheel();
        let stroll = match act {
            Act::Do(Action::Accept | Action::Right) => Some(market.enter(wheel)),
            Act::Row(row) => {
                market.choose(wheel, row);
                Some(market.enter(wheel))
            }
            Act::Digit(digit) => Some(market.pick(wheel, digit)),
            _ => None,
        };
        if let Some(stroll) = stroll {
            return self.walked(&stroll, market, home);
        }
        match act {
            Act::Do(Action::Up) => market.turn(wheel, -1),
            Act::Do(Action::Down) => market.turn(wheel, 1),
            Act::Typed(letter) => market.jump(wheel, letter),
            Act::Do(Action::Left) => {
                let _stays_at_the_gate = market.leave(wheel);
            }
            Act::Do(Action::CannotTell) => {
                self.reply(PracticeReply::CannotTell, None, home)?;
                return self.after_certainty(None, home);
            }
            Act::Do(Action::Back) => return Ok(Next::Close),
            _ => {}
        }
        self.step = Step::Walk(market);
        Ok(Next::Stay)
    }

    /// How sure: in tens, and 0 for all.
    fn sure(&mut self, digit: u8, home: &mut Home) -> Result<Next, WorkflowError> {
        let percent = if digit == 0 { 100 } else { 10 * digit };
        self.after_certainty(Some(Certainty::new(percent)?), home)
    }

    pub(super) fn after_certainty(
        &mut self,
        certainty: Option<Certainty>,
        home: &mut Home,
    ) -> Result<Next, WorkflowError> {
        if self.is_alone() {
            self.certainty = certainty;
            self.step = Step::Code(String::new());
            return Ok(Next::Stay);
        }
        if let (Some(certainty), Some(item)) = (certainty, self.item()) {
            let last = self.run.answers.iter().rev();
            let last = last.into_iter().find(|it| it.position == item.position);
            if let Some(reply) = last.map(|it| it.reply.clone()) {
                self.reply(reply, Some(certainty), home)?;
            }
        }
        self.told(home)
    }

    /// The code beneath the jar: only now it is known which one was smelled.
    pub(super) fn read_code(&mut self, code: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        self.step = Step::Code(String::new());
        let number = code.parse().ok().and_then(|it| BlindingCode::new(it).ok());
        let item = number.and_then(|it| self.run.coded(it));
        let Some(item) = item.cloned() else {
            return Ok(Next::Say(format!(
                "No jar is called {code}; read it again."
            )));
        };
        if self.run.is_answered(&item) {
            return Ok(Next::Say(format!(
                "Jar {code} was answered before; take another one."
            )));
        }
        self.at = self
            .run
            .items
            .iter()
            .position(|it| *it == item)
            .unwrap_or(0);
        let certainty = self.certainty.take();
        let pending = std::mem::take(&mut self.pending);
        let last = pending.len().saturating_sub(1);
        for (at, reply) in pending.into_iter().enumerate() {
            let sure = certainty.filter(|_| at == last);
            home.answer_practice(&mut self.run, item.position, reply, sure)?;
        }
        self.told(home)
    }

    /// Tells what was right, or goes on to the next item.
    fn told(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        if self.run.practice.reveal == Reveal::Each {
            self.step = Step::Told;
            return Ok(Next::Stay);
        }
        self.go_on(home)
    }

    fn go_on(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        if self.go_to_open() {
            return Ok(Next::Stay);
        }
        home.leave_practice(&self.run.practice.sitting, &self.run.seat)?;
        let screen = PracticeEndScreen::new(self.run.clone());
        Ok(Next::Replace(Box::new(screen)))
    }
}

impl Screen for PracticeItemScreen {
    fn title(&self) -> String {
        let (at, all) = (self.run.answered(), self.run.items.len());
        format!("{}: {at} of {all} answered", self.run.taster.name)
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        practice_page::draw(self, home, &mut page, room.text_width());
        Ok(page)
    }

    fn input(&self) -> Input {
        match self.step {
            Step::Walk(_) => Input::Words,
            _ => Input::Keys,
        }
    }

    fn actions(&self) -> Vec<Action> {
        let own: &[Action] = match &self.step {
            Step::Choose => &[Action::Accept, Action::Up, Action::Down, Action::CannotTell],
            Step::Walk(_) => &[
                Action::Accept,
                Action::CannotTell,
                Action::Left,
                Action::Right,
                Action::Up,
                Action::Down,
            ],
            Step::Sure => &[Action::Skip, Action::Accept],
            Step::Code(_) => &[Action::Undo],
            Step::Told => &[Action::Accept],
        };
        let mut actions = own.to_vec();
        actions.push(Action::Back);
        actions
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        match action {
            Action::Right => Some("in"),
            Action::Left => Some("out"),
            _ => None,
        }
    }

    fn explanation(&self) -> &'static str {
        "Every answer is kept the moment it is given. How sure you are is asked so that you learn when to trust yourself: whoever says 80 per cent should be right 8 times in 10. Passing is never counted as sure or unsure. Esc stops here; what is open is asked the next time."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        if act == Act::Do(Action::Back) {
            return Ok(Next::Close);
        }
        match self.step.clone() {
            Step::Walk(market) => self.walk(market, act, home),
            Step::Choose => self.choosing(act, home),
            Step::Sure => match act {
                Act::Digit(digit) => self.sure(digit, home),
                Act::Do(Action::Skip | Action::Accept) => self.after_certainty(None, home),
                _ => Ok(Next::Stay),
            },
            Step::Code(code) => self.coding(code, act, home),
            Step::Told => match act {
                Act::Do(Action::Accept) => self.go_on(home),
                _ => Ok(Next::Stay),
            },
        }
    }
}
