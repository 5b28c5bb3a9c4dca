//! Words in a tasting: typed, walked to, carried over from nose to mouth, or swept place by place.

use crate::domain::Field;
use crate::domain::Form;
use crate::domain::Mark;
use crate::domain::NotesChange;
use crate::domain::Prompting;
use crate::domain::Remark;
use crate::domain::Stage;
use crate::domain::Subject;
use crate::screens::Market;
use crate::screens::Next;
use crate::screens::TastingScreen;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// Words asked for in the short glass.
const SHORT_WORDS: usize = 3;

/// Matches shown while a word is typed.
pub(super) const MATCHES: usize = 6;

impl TastingScreen {
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

    /// Gives a strength to the word that waits for it, or accepts the typed word with one.
    pub(super) fn strength(&mut self, digit: u8, home: &mut Home) -> Result<Next, WorkflowError> {
        let waiting = if self.entry.is_empty() {
            self.pending.take()
        } else {
            let subject = self.typed_subject(home)?;
            self.entry.take();
            self.chosen = 0;
            Some(self.mark_of(subject, home))
        };
        let Some(mut mark) = waiting else {
            return Ok(Next::Say(
                "Type a word first; the digit says how strong it is.".to_owned(),
            ));
        };
        mark.intensity = Some(digit);
        self.after_word(Some(mark), home)
    }

    /// Stores a word's mark, if it is not stored yet, and what comes after it in the same step: in a
    /// sweep the same place again, in the short glass the next question once three words stand.
    pub(super) fn after_word(
        &mut self,
        mark: Option<Mark>,
        home: &mut Home,
    ) -> Result<Next, WorkflowError> {
        let notes = &self.tasting.notes;
        let is_new = |mark: &Mark| notes.marks.iter().all(|it| it.id != mark.id);
        let stored = notes.marks.iter().filter(|it| it.intensity != Some(0));
        let named = stored.count() + usize::from(mark.as_ref().is_some_and(is_new));
        let changes: Vec<NotesChange> = mark.into_iter().map(NotesChange::Marked).collect();
        if notes.form == Form::Short && named >= SHORT_WORDS {
            let next = self.neighbour(1);
            return self.go(home, changes, next);
        }
        if !changes.is_empty() {
            self.commit(home, &changes)?;
        }
        Ok(Next::Stay)
    }

    /// The stage at which words are named now.
    pub(super) fn word_stage(&self) -> Stage {
        match self.field() {
            Field::Words(stage) => stage,
            _ => Stage::Aroma,
        }
    }

    pub(super) fn accept_typed(&mut self, home: &mut Home) -> Result<(), WorkflowError> {
        let subject = self.typed_subject(home)?;
        self.entry.take();
        self.chosen = 0;
        self.name(subject, home)
    }

    /// What the typed line names: the chosen match, or the taster's own words.
    fn typed_subject(&self, home: &Home) -> Result<Subject, WorkflowError> {
        let typed = self.entry.text();
        let matches = home.wheel().search(typed, MATCHES);
        Ok(match matches.get(self.chosen) {
            Some(it) => Subject::Descriptor(it.id.clone()),
            None => Subject::Free(Remark::new("your own words", typed)?),
        })
    }

    /// The mark of a named thing at this stage: the one that stands already, or a new one.
    fn mark_of(&self, subject: Subject, home: &mut Home) -> Mark {
        let stage = self.word_stage();
        let mut known = self.tasting.notes.marks_at(stage);
        match known.find(|mark| mark.subject == subject) {
            Some(mark) => mark.clone(),
            None => Mark {
                id: home.new_mark(),
                stage,
                subject,
                intensity: None,
                // In a sweep the place was asked for, so that the word did not come by itself.
                prompting: if self.sweep.is_some() {
                    Prompting::Prompted
                } else {
                    Prompting::Unprompted
                },
            },
        }
    }

    /// Stores a named thing at once and lets it wait for its strength.
    pub(super) fn name(&mut self, subject: Subject, home: &mut Home) -> Result<(), WorkflowError> {
        let mark = self.mark_of(subject, home);
        self.commit(home, &[NotesChange::Marked(mark.clone())])?;
        self.pending = Some(mark);
        self.market = None;
        Ok(())
    }

    /// Answers the carried-over word on top; none passes it over.
    pub(super) fn carry(
        &mut self,
        digit: Option<u8>,
        home: &mut Home,
    ) -> Result<Next, WorkflowError> {
        let mut still = self.still_carried().into_iter();
        let next = self.neighbour(1);
        let Some(subject) = still.next() else {
            return self.go(home, Vec::new(), next);
        };
        let mut changes = Vec::new();
        match digit {
            Some(intensity) => changes.push(NotesChange::Marked(Mark {
                id: home.new_mark(),
                stage: Stage::Flavour,
                subject,
                intensity: Some(intensity),
                prompting: Prompting::Prompted,
            })),
            None => self.passed.push(subject),
        }
        // The last answer and the step to the next question are stored together.
        if still.next().is_none() {
            return self.go(home, changes, next);
        }
        if !changes.is_empty() {
            self.commit(home, &changes)?;
        }
        Ok(Next::Stay)
    }

    pub(super) fn nothing_here(
        &mut self,
        place: usize,
        home: &mut Home,
    ) -> Result<Next, WorkflowError> {
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

    /// Goes back to the place before in a sweep, and takes its zero back; from the first place the
    /// sweep ends.
    pub(super) fn sweep_back(
        &mut self,
        place: usize,
        home: &mut Home,
    ) -> Result<Next, WorkflowError> {
        self.sweep = place.checked_sub(1);
        let before = self.sweep.and_then(|at| home.wheel().places().get(at));
        let zero = before.and_then(|it| {
            let stage = self.word_stage();
            self.tasting.notes.marks_at(stage).find(|mark| {
                mark.subject == Subject::Place(it.id.clone()) && mark.intensity == Some(0)
            })
        });
        if let Some(zero) = zero {
            let back = [NotesChange::Unmarked(zero.id.clone())];
            self.commit(home, &back)?;
        }
        Ok(Next::Stay)
    }

    pub(super) fn named_at(&self, place: &crate::domain::PlaceId, home: &Home) -> bool {
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

    pub(super) fn open_market(&mut self, home: &Home) {
        self.entry.take();
        self.pending = None;
        let place = self
            .sweep
            .and_then(|place| home.wheel().places().get(place));
        self.market =
            Some(place.map_or_else(Market::at_the_gate, |place| Market::at(place.id.clone())));
    }

    pub(super) fn unnameable(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
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
}
