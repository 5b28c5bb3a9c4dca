//! The guided tasting: one question at a time, every answer on disk before the next key.

use crate::domain::Field;
use crate::domain::Form;
use crate::domain::Knew;
use crate::domain::Mark;
use crate::domain::Measure;
use crate::domain::Nose;
use crate::domain::NotesChange;
use crate::domain::Prompting;
use crate::domain::Rating;
use crate::domain::Remark;
use crate::domain::Scale;
use crate::domain::Stage;
use crate::domain::Stopwatch;
use crate::domain::Subject;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::FaultScreen;
use crate::screens::FoundScreen;
use crate::screens::Input;
use crate::screens::Market;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::Stroll;
use crate::screens::TextEntry;
use crate::screens::tasting_page;
use crate::workflow::Home;
use crate::workflow::Tasting;
use crate::workflow::WorkflowError;

/// Words asked for in the short glass.
const SHORT_WORDS: usize = 3;

/// Matches shown while a word is typed.
pub(super) const MATCHES: usize = 6;

/// The screen of a tasting under way.
pub struct TastingScreen {
    pub(super) tasting: Tasting,
    pub(super) entry: TextEntry,
    /// The chosen row of the list shown, counted from 0.
    pub(super) chosen: usize,
    pub(super) market: Option<Market>,
    /// The place asked for in a sweep, counted from 0.
    pub(super) sweep: Option<usize>,
    /// The mark that waits for its strength.
    pub(super) pending: Option<Mark>,
    /// Carried-over words that were passed over.
    pub(super) passed: Vec<Subject>,
    /// What takes the last answers back, latest last.
    undo: Vec<Vec<NotesChange>>,
    /// Whether this taster has locked notes before, so that one line of cautions is enough.
    pub(super) practised: bool,
    /// What the bottles of this home may hold, joined, so that nothing is given away.
    pub(super) allergens: String,
}

impl TastingScreen {
    /// The screen for a tasting, wherever it stands.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn new(tasting: Tasting, home: &Home) -> Result<Self, WorkflowError> {
        Ok(Self {
            practised: home.has_locked_notes(&tasting.taster)?,
            allergens: home.joined_allergens()?,
            tasting,
            entry: TextEntry::default(),
            chosen: 0,
            market: None,
            sweep: None,
            pending: None,
            passed: Vec::new(),
            undo: Vec::new(),
        })
    }

    /// The question at which the taster stands.
    pub(super) fn field(&self) -> Field {
        Field::from_id(&self.tasting.notes.current_field).unwrap_or(Field::Checklist)
    }

    /// The questions of this form, without those that have nothing to ask.
    pub(super) fn fields(&self) -> Vec<Field> {
        let carried = self.carried();
        let mut fields = self.tasting.notes.form.fields();
        fields.retain(|field| *field != Field::CarriedOver || !carried.is_empty());
        fields
    }

    fn neighbour(&self, by: isize) -> Field {
        let fields = self.fields();
        let at = fields
            .iter()
            .position(|field| *field == self.field())
            .unwrap_or(0);
        let last = fields.len() - 1;
        fields[at.saturating_add_signed(by).min(last)]
    }

    /// The first question of the stage that lies `by` stages away.
    fn stage_away(&self, forward: Direction) -> Field {
        let fields = self.fields();
        let here = self.field();
        let at = fields.iter().position(|field| *field == here).unwrap_or(0);
        let starts: Vec<usize> = (0..fields.len())
            .filter(|&i| {
                i == 0 || fields[i].stage() != fields[i - 1].stage() || fields[i] == Field::Lock
            })
            .collect();
        let target = match forward {
            Direction::Forward => starts.iter().find(|&&start| start > at),
            Direction::Backward => starts.iter().rev().find(|&&start| start < at),
        };
        target.map_or(here, |&index| fields[index])
    }

    /// Words found by the nose that were not asked about in the mouth yet.
    pub(super) fn carried(&self) -> Vec<Subject> {
        let notes = &self.tasting.notes;
        let mut subjects: Vec<Subject> = Vec::new();
        for mark in notes.marks_at(Stage::Aroma) {
            let place = matches!(mark.subject, Subject::Place(_)) && mark.intensity == Some(0);
            if !place && !subjects.contains(&mark.subject) {
                subjects.push(mark.subject.clone());
            }
        }
        subjects
    }

    /// The carried-over words still to be answered.
    pub(super) fn still_carried(&self) -> Vec<Subject> {
        let notes = &self.tasting.notes;
        let mut subjects = self.carried();
        subjects.retain(|subject| {
            !self.passed.contains(subject)
                && !notes
                    .marks_at(Stage::Flavour)
                    .any(|mark| mark.subject == *subject)
        });
        subjects
    }

    /// Stores changes, remembering how to take them back.
    fn commit(&mut self, home: &mut Home, changes: &[NotesChange]) -> Result<(), WorkflowError> {
        let mut notes = self.tasting.notes.clone();
        let mut back: Vec<NotesChange> = Vec::new();
        for change in changes {
            back.extend(notes.undoing(change));
            notes.apply(change);
        }
        back.reverse();
        home.change(&mut self.tasting, changes)?;
        self.undo.push(back);
        Ok(())
    }

    /// Stores changes and goes to a question.
    fn go(
        &mut self,
        home: &mut Home,
        mut changes: Vec<NotesChange>,
        field: Field,
    ) -> Result<Next, WorkflowError> {
        if field != self.field() {
            changes.push(NotesChange::Moved(field));
        }
        if !changes.is_empty() {
            self.commit(home, &changes)?;
        }
        self.rest();
        Ok(Next::Stay)
    }

    fn rest(&mut self) {
        self.entry.take();
        self.chosen = 0;
        self.market = None;
        self.sweep = None;
        self.pending = None;
        self.passed.clear();
    }

    fn rate(&mut self, home: &mut Home, rating: Rating) -> Result<Next, WorkflowError> {
        let Field::Scale(scale) = self.field() else {
            return Ok(Next::Stay);
        };
        let next = self.neighbour(1);
        self.go(home, vec![NotesChange::Rated(scale, Some(rating))], next)
    }

    fn digit(&mut self, digit: u8, home: &mut Home) -> Result<Next, WorkflowError> {
        match self.field() {
            Field::Knew => self.knew(usize::from(digit).wrapping_sub(1), home),
            Field::Nose => self.nosed(usize::from(digit).wrapping_sub(1), home),
            Field::Scale(scale) => match scale.value_of_digit(digit) {
                Some(value) => self.rate(home, Rating::Rated(value)),
                None => Ok(Next::Say(format!("{digit} has no meaning here."))),
            },
            Field::FirstSniff | Field::Words(_) => self.strength(digit, home),
            Field::CarriedOver => self.carry(Some(digit), home),
            Field::Checklist | Field::Remark | Field::Lock => Ok(Next::Stay),
        }
    }

    fn knew(&mut self, index: usize, home: &mut Home) -> Result<Next, WorkflowError> {
        let next = self.neighbour(1);
        match Knew::ALL.get(index) {
            Some(&knew) => self.go(home, vec![NotesChange::Knew(Some(knew))], next),
            None => Ok(Next::Stay),
        }
    }

    fn nosed(&mut self, index: usize, home: &mut Home) -> Result<Next, WorkflowError> {
        let next = self.neighbour(1);
        match Nose::ALL.get(index) {
            Some(&nose) => self.go(home, vec![NotesChange::Nosed(Some(nose))], next),
            None => Ok(Next::Stay),
        }
    }

    /// Gives a strength to the word that waits for it, or accepts the typed word with one.
    fn strength(&mut self, digit: u8, home: &mut Home) -> Result<Next, WorkflowError> {
        if !self.entry.is_empty() {
            self.accept_typed(home)?;
        }
        let Some(mut mark) = self.pending.take() else {
            return Ok(Next::Say(
                "Type a word first; the digit says how strong it is.".to_owned(),
            ));
        };
        mark.intensity = Some(digit);
        self.commit(home, &[NotesChange::Marked(mark)])?;
        self.after_word(home)
    }

    /// What comes after a word: in a sweep the same place again, in the short glass the next question
    /// once three words stand.
    fn after_word(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        let short = self.tasting.notes.form == Form::Short;
        if short && self.tasting.notes.marks.len() >= SHORT_WORDS {
            let next = self.neighbour(1);
            return self.go(home, Vec::new(), next);
        }
        Ok(Next::Stay)
    }

    /// The stage at which words are named now.
    fn word_stage(&self) -> Stage {
        match self.field() {
            Field::Words(stage) => stage,
            _ => Stage::Aroma,
        }
    }

    fn accept_typed(&mut self, home: &mut Home) -> Result<(), WorkflowError> {
        let typed = self.entry.text().to_owned();
        let matches = home.wheel().search(&typed, MATCHES);
        let subject = match matches.get(self.chosen) {
            Some(it) => Subject::Descriptor(it.id.clone()),
            None => Subject::Free(Remark::new("your own words", &typed)?),
        };
        self.entry.take();
        self.chosen = 0;
        self.name(subject, home)
    }

    /// Stores a named thing at once and lets it wait for its strength.
    fn name(&mut self, subject: Subject, home: &mut Home) -> Result<(), WorkflowError> {
        let stage = self.word_stage();
        let known = self
            .tasting
            .notes
            .marks_at(stage)
            .find(|mark| mark.subject == subject)
            .cloned();
        let mark = match known {
            Some(mark) => mark,
            None => Mark {
                id: home.new_mark(),
                stage,
                subject,
                intensity: None,
                prompting: Prompting::Unprompted,
            },
        };
        self.commit(home, &[NotesChange::Marked(mark.clone())])?;
        self.pending = Some(mark);
        self.market = None;
        Ok(())
    }

    /// Answers the carried-over word on top; none passes it over.
    fn carry(&mut self, digit: Option<u8>, home: &mut Home) -> Result<Next, WorkflowError> {
        let Some(subject) = self.still_carried().into_iter().next() else {
            let next = self.neighbour(1);
            return self.go(home, Vec::new(), next);
        };
        match digit {
            Some(intensity) => {
                let mark = Mark {
                    id: home.new_mark(),
                    stage: Stage::Flavour,
                    subject,
                    intensity: Some(intensity),
                    prompting: Prompting::Prompted,
                };
                self.commit(home, &[NotesChange::Marked(mark)])?;
            }
            None => self.passed.push(subject),
        }
        if self.still_carried().is_empty() {
            let next = self.neighbour(1);
            return self.go(home, Vec::new(), next);
        }
        Ok(Next::Stay)
    }

    fn accept(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        if let Some(market) = &mut self.market {
            if let Stroll::Found(subject) = market.enter(home.wheel()) {
                self.name(subject, home)?;
            }
            return Ok(Next::Stay);
        }
        if let Some(place) = self.sweep.filter(|_| self.pending.is_none()) {
            return self.nothing_here(place, home);
        }
        let next = self.neighbour(1);
        match self.field() {
            Field::Lock => {
                home.lock(&mut self.tasting)?;
                let found = FoundScreen::new(self.tasting.notes.id.clone());
                Ok(Next::Replace(Box::new(found)))
            }
            Field::Knew => self.knew(self.chosen_knew(), home),
            Field::Nose => self.nosed(self.chosen, home),
            Field::Scale(scale) => self.accept_scale(scale, home),
            Field::FirstSniff | Field::Words(_) if !self.entry.is_empty() => {
                self.accept_typed(home)?;
                Ok(Next::Stay)
            }
            Field::FirstSniff | Field::Words(_) if self.pending.is_some() => {
                self.pending = None;
                self.after_word(home)
            }
            Field::Remark => self.accept_remark(home),
            Field::Checklist | Field::FirstSniff | Field::Words(_) | Field::CarriedOver => {
                self.go(home, Vec::new(), next)
            }
        }
    }

    /// The choice highlighted on the question of what was known.
    pub(super) fn chosen_knew(&self) -> usize {
        self.chosen.min(Knew::ALL.len() - 1)
    }

    fn accept_scale(
        &mut self,
        scale: &'static Scale,
        home: &mut Home,
    ) -> Result<Next, WorkflowError> {
        if scale.id == "colour" && self.chosen > 0 {
            let value = tasting_page::colour_ladder()[self.chosen - 1];
            return self.rate(home, Rating::Rated(value));
        }
        let running = self
            .tasting
            .notes
            .stopwatch(scale)
            .is_some_and(|watch| watch.stopped_at.is_none());
        let next = self.neighbour(1);
        if running || self.tasting.notes.rating(scale).is_some() {
            // A running watch answers later; an answer that stands is kept.
            return self.go(home, Vec::new(), next);
        }
        self.rate(home, Rating::Skipped)
    }

    fn accept_remark(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        let typed = self.entry.text().to_owned();
        let next = self.neighbour(1);
        if typed.trim().is_empty() {
            return self.go(home, Vec::new(), next);
        }
        let remark = Remark::new("your notes", &typed)?;
        self.go(home, vec![NotesChange::Remarked(Some(remark))], next)
    }

    fn nothing_here(&mut self, place: usize, home: &mut Home) -> Result<Next, WorkflowError> {
        let stage = self.word_stage();
        if let Some(id) = home.wheel().places().get(place).map(|it| it.id.clone()) {
            // A place where something was named needs no zero.
            if !self.named_at(&id, home) {
                let mark = Mark {
                    id: home.new_mark(),
                    stage,
                    subject: Subject::Place(id),
                    intensity: Some(0),
                    prompting: Prompting::Prompted,
                };
                self.commit(home, &[NotesChange::Marked(mark)])?;
            }
        }
        let places = home.wheel().places().len();
        self.sweep = (place + 1 < places).then_some(place + 1);
        if self.sweep.is_none() {
            return Ok(Next::Say("All places walked.".to_owned()));
        }
        Ok(Next::Stay)
    }

    fn named_at(&self, place: &crate::domain::PlaceId, home: &Home) -> bool {
        let wheel = home.wheel();
        self.tasting
            .notes
            .marks_at(self.word_stage())
            .any(|mark| match &mark.subject {
                Subject::Descriptor(id) => wheel
                    .descriptor(id)
                    .and_then(|it| wheel.shelf(&it.shelf))
                    .is_some_and(|shelf| shelf.place == *place),
                Subject::Shelf(id) => wheel.shelf(id).is_some_and(|it| it.place == *place),
                Subject::Place(id) => id == place,
                Subject::Free(_) => false,
            })
    }

    fn undo(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        if self.market.take().is_some() {
            return Ok(Next::Stay);
        }
        if self.entry.rub_out() {
            self.chosen = 0;
            return Ok(Next::Stay);
        }
        if self.passed.pop().is_some() {
            return Ok(Next::Stay);
        }
        let Some(back) = self.undo.pop() else {
            return Ok(Next::Say(
                "Nothing to take back here; ↑ goes to the questions before.".to_owned(),
            ));
        };
        home.change(&mut self.tasting, &back)?;
        self.pending = None;
        self.sweep = self.sweep.map(|place| place.saturating_sub(1));
        Ok(Next::Stay)
    }

    fn watch(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        let length = Scale::from_id("length")?;
        let scale = match self.field() {
            Field::Scale(scale) if *scale == *length => length,
            _ => Scale::from_id("head-retention")?,
        };
        let now = home.now();
        let watch = self.tasting.notes.stopwatch(scale);
        let Some(running) = watch.filter(|it| it.stopped_at.is_none()) else {
            let started = Stopwatch {
                scale,
                started_at: now,
                stopped_at: None,
            };
            let changes = [
                NotesChange::Watched(started),
                NotesChange::Rated(scale, None),
            ];
            self.commit(home, &changes)?;
            return Ok(Next::Stay);
        };
        let most = match scale.measure {
            Measure::Amount { most, .. } => most,
            _ => f64::MAX,
        };
        let seconds = now.milliseconds_since(running.started_at) as f64 / 1_000.0;
        let stopped = Stopwatch {
            stopped_at: Some(now),
            ..running
        };
        let mut changes = vec![
            NotesChange::Watched(stopped),
            NotesChange::Rated(scale, Some(Rating::Rated(seconds.clamp(0.0, most).round()))),
        ];
        if self.field() == Field::Scale(scale) {
            changes.push(NotesChange::Moved(self.neighbour(1)));
        }
        self.commit(home, &changes)?;
        Ok(Next::Say(format!(
            "{} stopped at {seconds:.0} s.",
            scale.word
        )))
    }

    fn move_choice(&mut self, by: isize, home: &mut Home) -> Result<Next, WorkflowError> {
        if let Some(market) = &mut self.market {
            market.turn(home.wheel(), by);
            return Ok(Next::Stay);
        }
        if !self.entry.is_empty() && self.field() != Field::Remark {
            let last = home
                .wheel()
                .search(self.entry.text(), MATCHES)
                .len()
                .saturating_sub(1);
            self.chosen = self.chosen.saturating_add_signed(by).min(last);
            return Ok(Next::Stay);
        }
        let field = self.neighbour(by);
        self.go(home, Vec::new(), field)
    }

    fn sideways(&mut self, by: isize, home: &mut Home) -> Next {
        if let Field::Scale(scale) = self.field() {
            if scale.id == "colour" {
                let last = tasting_page::colour_ladder().len();
                self.chosen = self.chosen.saturating_add_signed(by).clamp(1, last);
            }
            return Next::Stay;
        }
        match (&mut self.market, by > 0) {
            (Some(market), true) => {
                if let Stroll::Found(_) = market.clone().enter(home.wheel()) {
                    return Next::Say("Enter takes this word.".to_owned());
                }
                let _walks_on: Stroll = market.enter(home.wheel());
            }
            (Some(market), false) => {
                if market.leave(home.wheel()) == Stroll::Left {
                    self.market = None;
                }
            }
            (None, true) => self.open_market(home),
            (None, false) => {}
        }
        Next::Stay
    }

    fn open_market(&mut self, home: &Home) {
        self.entry.take();
        let place = self
            .sweep
            .and_then(|place| home.wheel().places().get(place));
        self.market =
            Some(place.map_or_else(Market::at_the_gate, |place| Market::at(place.id.clone())));
    }

    fn unnameable(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        let Some(market) = &self.market else {
            self.open_market(home);
            return Ok(Next::Say(
                "Do not search for the word. Think of the place: kitchen, garden, workshop? * keeps a place; Esc lets you type your own words.".to_owned(),
            ));
        };
        if let Some(subject) = market.keep(home.wheel()) {
            self.name(subject, home)?;
        }
        Ok(Next::Stay)
    }

    fn back(&mut self, home: &Home) -> Next {
        if let Some(market) = &mut self.market {
            if market.leave(home.wheel()) == Stroll::Left {
                self.market = None;
            }
        } else if !self.entry.is_empty() {
            self.entry.take();
            self.chosen = 0;
        } else if self.pending.is_some() {
            self.pending = None;
        } else if self.sweep.is_some() {
            self.sweep = None;
        } else {
            return Next::Close;
        }
        Next::Stay
    }

    fn row(&mut self, row: usize, home: &mut Home) -> Result<Next, WorkflowError> {
        if let Some(market) = &mut self.market {
            market.choose(home.wheel(), row);
            return self.accept(home);
        }
        match self.field() {
            Field::Knew => self.knew(row, home),
            Field::Nose => self.nosed(row, home),
            Field::Scale(scale) => {
                let first = usize::from(matches!(scale.measure, Measure::Choice { .. }));
                self.digit(u8::try_from(row + first).unwrap_or(u8::MAX), home)
            }
            Field::FirstSniff | Field::Words(_) if !self.entry.is_empty() => {
                self.chosen = row;
                self.accept(home)
            }
            _ => Ok(Next::Stay),
        }
    }

    fn typed(&mut self, c: char, home: &Home) {
        match &mut self.market {
            Some(market) => market.jump(home.wheel(), c),
            None => {
                self.pending = None;
                self.chosen = 0;
                self.entry.push(c);
            }
        }
    }

    fn do_action(&mut self, action: Action, home: &mut Home) -> Result<Next, WorkflowError> {
        match action {
            Action::Accept => self.accept(home),
            Action::Back => Ok(self.back(home)),
            Action::Undo => self.undo(home),
            Action::Skip => match self.field() {
                Field::Scale(_) => self.rate(home, Rating::Skipped),
                Field::CarriedOver => self.carry(None, home),
                _ => self.accept(home),
            },
            Action::CannotTell => self.rate(home, Rating::CannotTell),
            Action::Up => self.move_choice(-1, home),
            Action::Down => self.move_choice(1, home),
            Action::Left => Ok(self.sideways(-1, home)),
            Action::Right => Ok(self.sideways(1, home)),
            Action::NextStage => {
                let field = self.stage_away(Direction::Forward);
                self.go(home, Vec::new(), field)
            }
            Action::PreviousStage => {
                let field = self.stage_away(Direction::Backward);
                self.go(home, Vec::new(), field)
            }
            Action::Watch => self.watch(home),
            Action::Unnameable => self.unnameable(home),
            Action::Sweep => {
                self.rest();
                self.sweep = Some(0);
                Ok(Next::Stay)
            }
            Action::Short => {
                let form = match self.tasting.notes.form {
                    Form::Full => Form::Short,
                    Form::Short => Form::Full,
                };
                self.go(home, vec![NotesChange::Formed(form)], Field::Knew)
            }
            Action::SecondPass => {
                let second = home.second_pass(&mut self.tasting)?;
                Ok(Next::Replace(Box::new(Self::new(second, home)?)))
            }
            Action::Fault => Ok(Next::Replace(Box::new(FaultScreen::new(
                self.tasting.clone(),
            )))),
            _ => Ok(Next::Stay),
        }
    }
}

/// Which way along the stages.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Direction {
    Forward,
    Backward,
}

impl Screen for TastingScreen {
    fn title(&self) -> String {
        let pass = if self.tasting.notes.round > 1 {
            ", as it warms"
        } else {
            ""
        };
        format!(
            "{} tastes {}{pass}",
            self.tasting.taster.name, self.tasting.cap_mark
        )
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        Ok(tasting_page::draw(self, home, room))
    }

    fn input(&self) -> Input {
        match self.field() {
            Field::Remark => Input::Text,
            Field::FirstSniff | Field::Words(_)
                if self.sweep.is_none() || self.market.is_some() =>
            {
                Input::Words
            }
            _ => Input::Keys,
        }
    }

    fn is_typing(&self) -> bool {
        !self.entry.is_empty()
    }

    fn is_ticking(&self) -> bool {
        self.tasting
            .notes
            .stopwatches
            .iter()
            .any(|watch| watch.stopped_at.is_none())
    }

    fn actions(&self) -> Vec<Action> {
        tasting_page::actions(self)
    }

    fn explanation(&self) -> &'static str {
        tasting_page::explanation(self.field())
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match act {
            Act::Do(action) => self.do_action(action, home),
            Act::Digit(digit) => self.digit(digit, home),
            Act::Typed(c) => {
                self.typed(c, home);
                Ok(Next::Stay)
            }
            Act::Row(row) => self.row(row, home),
        }
    }

    fn paste(&mut self, text: &str) {
        if matches!(
            self.field(),
            Field::Remark | Field::FirstSniff | Field::Words(_)
        ) && self.market.is_none()
        {
            self.entry.paste(text);
        }
    }
}
