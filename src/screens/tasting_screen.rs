//! The guided tasting: one question at a time, every answer on disk before the next key.

use crate::domain::Field;
use crate::domain::Form;
use crate::domain::Mark;
use crate::domain::NotesChange;
use crate::domain::NotesId;
use crate::domain::Rating;
use crate::domain::Remark;
use crate::domain::SittingKind;
use crate::domain::Subject;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::FaultScreen;
use crate::screens::Input;
use crate::screens::Market;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::TextEntry;
use crate::screens::tasting_glasses::OtherGlass;
use crate::screens::tasting_keys;
use crate::screens::tasting_page;
use crate::workflow::Home;
use crate::workflow::Tasting;
use crate::workflow::WorkflowError;

/// The screen of a tasting under way.
pub struct TastingScreen {
    pub(super) tasting: Tasting,
    /// The other glass, where two stand side by side.
    pub(super) other: Option<OtherGlass>,
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
    undo: Vec<(NotesId, Vec<NotesChange>)>,
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
        let mut screen = Self {
            practised: home.has_locked_notes(&tasting.taster)?,
            allergens: home.joined_allergens()?,
            tasting,
            other: None,
            entry: TextEntry::default(),
            chosen: 0,
            market: None,
            sweep: None,
            pending: None,
            passed: Vec::new(),
            undo: Vec::new(),
        };
        screen.rest();
        Ok(screen)
    }

    /// The question at which the taster stands.
    pub(super) fn field(&self) -> Field {
        Field::from_id(&self.tasting.notes.current_field).unwrap_or(Field::Checklist)
    }

    /// True for a glass of a panel.
    pub(super) fn is_at_panel(&self) -> bool {
        self.tasting.kind == SittingKind::Panel
    }

    /// The questions of this form, without those that have nothing to ask.
    pub(super) fn fields(&self) -> Vec<Field> {
        let carried = self.carried();
        let mut fields = self.tasting.notes.form.fields();
        fields.retain(|field| *field != Field::CarriedOver || !carried.is_empty());
        if self.other.is_some() || self.is_at_panel() {
            // They are poured out of sight: nobody stood by with a watch.
            fields.retain(|field| !matches!(field, Field::Scale(it) if it.id == "head-retention"));
        }
        if self.is_at_panel() {
            // Under its code nobody knows which beer it is, and who poured knows it of all.
            fields.retain(|field| *field != Field::Knew);
        }
        fields
    }

    pub(super) fn neighbour(&self, by: isize) -> Field {
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

    /// Stores changes, remembering how to take them back.
    pub(super) fn commit(
        &mut self,
        home: &mut Home,
        changes: &[NotesChange],
    ) -> Result<(), WorkflowError> {
        let back = self.undoing(changes);
        home.change(&mut self.tasting, changes)?;
        self.keep_undoing(back);
        Ok(())
    }

    /// Keeps what takes changes of this glass back.
    pub(super) fn keep_undoing(&mut self, back: Vec<NotesChange>) {
        self.undo.push((self.tasting.notes.id.clone(), back));
    }

    /// What takes changes of this glass back, the last one first.
    pub(super) fn undoing(&self, changes: &[NotesChange]) -> Vec<NotesChange> {
        let mut notes = self.tasting.notes.clone();
        let mut back: Vec<NotesChange> = Vec::new();
        for change in changes {
            back.extend(notes.undoing(change));
            notes.apply(change);
        }
        back.reverse();
        back
    }

    /// Stores changes and goes to a question.
    pub(super) fn go(
        &mut self,
        home: &mut Home,
        mut changes: Vec<NotesChange>,
        field: Field,
    ) -> Result<Next, WorkflowError> {
        if changes.is_empty() {
            changes.extend(self.typed_remark()?);
        }
        if self.other.is_some() && field != self.field() {
            self.go_between(home, changes, field)?;
            self.rest();
            return Ok(Next::Stay);
        }
        if field != self.field() {
            changes.push(NotesChange::Moved(field));
        }
        if !changes.is_empty() {
            self.commit(home, &changes)?;
        }
        self.rest();
        Ok(Next::Stay)
    }

    /// What is typed on the line of free notes and not kept yet: leaving the line loses nothing.
    fn typed_remark(&self) -> Result<Option<NotesChange>, WorkflowError> {
        let typed = self.entry.text().trim();
        if self.field() != Field::Remark || typed.is_empty() {
            return Ok(None);
        }
        let remark = Some(Remark::new("your notes", typed)?);
        let is_new = remark != self.tasting.notes.remark;
        Ok(is_new.then_some(NotesChange::Remarked(remark)))
    }

    /// Begins the question at which the taster stands afresh.
    pub(super) fn rest(&mut self) {
        self.entry = match (self.field(), &self.tasting.notes.remark) {
            (Field::Remark, Some(remark)) => TextEntry::starting_with(remark.as_str()),
            _ => TextEntry::default(),
        };
        self.chosen = 0;
        self.market = None;
        self.sweep = None;
        self.pending = None;
        self.passed.clear();
    }

    fn do_action(&mut self, action: Action, home: &mut Home) -> Result<Next, WorkflowError> {
        match action {
            Action::Accept => self.accept(home),
            Action::Back => {
                if let Some(remark) = self.typed_remark()? {
                    self.commit(home, &[remark])?;
                }
                Ok(self.back(home))
            }
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
            Action::Yes if self.field() == Field::Lock => self.lock(home),
            Action::SecondPass => {
                let second = home.second_pass(&mut self.tasting)?;
                Ok(Next::Replace(Box::new(Self::new(second, home)?)))
            }
            Action::Fault => Ok(Next::Replace(Box::new(FaultScreen::new(
                self.tasting.clone(),
                self.two(),
            )))),
            _ => Ok(Next::Stay),
        }
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
        if let Some(place) = self.sweep.filter(|_| self.pending.is_none()) {
            return self.sweep_back(place, home);
        }
        let Some((notes, back)) = self.undo.pop() else {
            return Ok(Next::Say(
                "Nothing to take back here; ↑ goes to the questions before.".to_owned(),
            ));
        };
        if notes != self.tasting.notes.id {
            self.change_hands();
        }
        home.change(&mut self.tasting, &back)?;
        self.take_up();
        let sweep = self.sweep;
        self.rest();
        self.sweep = sweep;
        // A word whose strength was taken back waits for another one.
        self.pending = back.into_iter().find_map(|change| match change {
            NotesChange::Marked(mark) if mark.intensity.is_none() => Some(mark),
            _ => None,
        });
        Ok(Next::Stay)
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
        let pass = match (self.tasting.notes.round, self.is_at_panel()) {
            (1, _) => "",
            (_, true) => ", after the talk",
            (_, false) => ", as it warms",
        };
        let Tasting { taster, glass, .. } = &self.tasting;
        if self.other.is_some() && self.field() == Field::Lock {
            return format!("{} has tasted both glasses", taster.name);
        }
        format!("{} tastes {glass}{pass}", taster.name)
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
        tasting_keys::actions(self)
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        tasting_keys::label_of(self, action)
    }

    fn explanation(&self) -> &'static str {
        tasting_keys::explanation(self.field())
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
            && self.sweep.is_none()
        {
            self.pending = None;
            self.chosen = 0;
            self.entry.paste(text);
        }
    }
}
