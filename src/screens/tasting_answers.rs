//! Answers in a tasting: ratings, choices, the watch, free notes and the lock.

use crate::domain::Field;
use crate::domain::Knew;
use crate::domain::Measure;
use crate::domain::Nose;
use crate::domain::Notes;
use crate::domain::NotesChange;
use crate::domain::Rating;
use crate::domain::Scale;
use crate::domain::Stopwatch;
use crate::screens::FoundScreen;
use crate::screens::Next;
use crate::screens::Stroll;
use crate::screens::TastingScreen;
use crate::screens::tasting_glasses::lock_both;
use crate::screens::tasting_scale_page;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

impl TastingScreen {
    pub(super) fn rate(&mut self, home: &mut Home, rating: Rating) -> Result<Next, WorkflowError> {
        let Field::Scale(scale) = self.field() else {
            return Ok(Next::Stay);
        };
        let next = self.neighbour(1);
        self.go(home, vec![NotesChange::Rated(scale, Some(rating))], next)
    }

    pub(super) fn digit(&mut self, digit: u8, home: &mut Home) -> Result<Next, WorkflowError> {
        if let Some(market) = &mut self.market {
            let stroll = market.pick(home.wheel(), digit);
            return self.strolled(stroll, home);
        }
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

    /// After a step into the market: a word that was reached is named.
    fn strolled(&mut self, stroll: Stroll, home: &mut Home) -> Result<Next, WorkflowError> {
        if let Stroll::Found(subject) = stroll {
            self.name(subject, home)?;
        }
        Ok(Next::Stay)
    }

    pub(super) fn knew(&mut self, index: usize, home: &mut Home) -> Result<Next, WorkflowError> {
        let next = self.neighbour(1);
        match Knew::ALL.get(index) {
            Some(&knew) => self.go(home, vec![NotesChange::Knew(Some(knew))], next),
            None => Ok(Next::Stay),
        }
    }

    pub(super) fn nosed(&mut self, index: usize, home: &mut Home) -> Result<Next, WorkflowError> {
        let next = self.neighbour(1);
        match Nose::ALL.get(index) {
            Some(&nose) => self.go(home, vec![NotesChange::Nosed(Some(nose))], next),
            None => Ok(Next::Stay),
        }
    }

    pub(super) fn accept(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        if let Some(market) = &mut self.market {
            let stroll = market.enter(home.wheel());
            return self.strolled(stroll, home);
        }
        if let Some(place) = self.sweep.filter(|_| self.pending.is_none()) {
            return self.nothing_here(place, home);
        }
        let next = self.neighbour(1);
        match self.field() {
            Field::Lock if self.is_blank() => Ok(Next::Say(
                "Nothing is rated or named yet. y locks it all the same; ↑ and Tab go back."
                    .to_owned(),
            )),
            Field::Lock => self.lock(home),
            Field::Knew => self.knew(self.chosen_knew(), home),
            Field::Nose => self.nosed(self.chosen_nose(), home),
            Field::Scale(scale) => self.accept_scale(scale, home),
            Field::FirstSniff | Field::Words(_) if !self.entry.is_empty() => {
                self.accept_typed(home)?;
                Ok(Next::Stay)
            }
            Field::FirstSniff | Field::Words(_) if self.pending.is_some() => {
                self.pending = None;
                self.after_word(None, home)
            }
            Field::Remark => self.accept_remark(home),
            Field::Checklist | Field::FirstSniff | Field::Words(_) | Field::CarriedOver => {
                self.go(home, Vec::new(), next)
            }
        }
    }

    /// The choice highlighted on the question of what was known: the answer that stands, or the first.
    pub(super) fn chosen_knew(&self) -> usize {
        let given = self.tasting.notes.knew;
        let at = Knew::ALL.iter().position(|it| Some(*it) == given);
        at.unwrap_or(0)
    }

    /// The choice highlighted on the question of the nose: the answer that stands, or the first.
    pub(super) fn chosen_nose(&self) -> usize {
        let given = self.tasting.notes.nose;
        let at = Nose::ALL.iter().position(|it| Some(*it) == given);
        at.unwrap_or(0)
    }

    pub(super) fn accept_scale(
        &mut self,
        scale: &'static Scale,
        home: &mut Home,
    ) -> Result<Next, WorkflowError> {
        if scale.id == "colour" && self.chosen > 0 {
            let value = tasting_scale_page::colour_ladder()[self.chosen - 1];
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

    /// True while no scale has a value and nothing is named.
    pub(super) fn is_blank(&self) -> bool {
        let notes = &self.tasting.notes;
        let blank = |notes: &Notes| {
            notes.marks.is_empty() && notes.ratings.iter().all(|(_, it)| it.value().is_none())
        };
        let other = self.other.as_ref();
        blank(notes) && other.is_none_or(|it| blank(&it.tasting.notes))
    }

    /// Locks the notes for good and shows what was found.
    pub(super) fn lock(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        if let Some(two) = self.two() {
            return lock_both(two, home);
        }
        home.lock(&mut self.tasting)?;
        if self.is_at_panel() {
            // Nothing of the beer or of the others is shown; the next glass comes.
            return Ok(Next::Close);
        }
        let tasting = &self.tasting;
        let found = FoundScreen::new(
            tasting.notes.id.clone(),
            tasting.cap_mark.clone(),
            tasting.taster.name.clone(),
        );
        Ok(Next::Replace(Box::new(found)))
    }

    pub(super) fn accept_remark(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        let next = self.neighbour(1);
        self.go(home, Vec::new(), next)
    }

    /// Which watch the key works on: on its own question the length's; elsewhere the foam's, unless
    /// only the length's runs.
    fn watched(&self) -> Result<&'static Scale, WorkflowError> {
        let length = Scale::from_id("length")?;
        let foam = Scale::from_id("head-retention")?;
        let runs = |scale| {
            let watch = self.tasting.notes.stopwatch(scale);
            watch.is_some_and(|it| it.stopped_at.is_none())
        };
        let at_length = self.field() == Field::Scale(length);
        Ok(if at_length || (runs(length) && !runs(foam)) {
            length
        } else {
            foam
        })
    }

    pub(super) fn watch(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        let scale = self.watched()?;
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
}
