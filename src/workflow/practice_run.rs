//! A practice as it runs: what is asked of one taster, what was answered, and what was right.

use crate::domain::BlindingCode;
use crate::domain::Certainty;
use crate::domain::DescriptorId;
use crate::domain::ItemForm;
use crate::domain::Jar;
use crate::domain::PlaceId;
use crate::domain::Practice;
use crate::domain::PracticeAnswer;
use crate::domain::PracticeAnswerId;
use crate::domain::PracticeItem;
use crate::domain::PracticeKind;
use crate::domain::PracticeReply;
use crate::domain::Reference;
use crate::domain::Reveal;
use crate::domain::Seat;
use crate::domain::SeatId;
use crate::domain::SeatRole;
use crate::domain::ShelfId;
use crate::domain::SittingId;
use crate::domain::Spiked;
use crate::domain::Taster;
use crate::domain::Wheel;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// What one taster is asked in one practice, with the answers so far.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PracticeRun {
    /// The practice.
    pub practice: Practice,
    /// Who.
    pub taster: Taster,
    /// Their seat.
    pub seat: SeatId,
    /// Whether they prepared the jars themselves.
    pub role: SeatRole,
    /// What is asked, in their order.
    pub items: Vec<PracticeItem>,
    /// What they answered, in the order given.
    pub answers: Vec<PracticeAnswer>,
}

/// One jar as it is to be prepared.
#[derive(Debug, Clone, PartialEq)]
pub struct JarCard {
    /// Its code.
    pub code: BlindingCode,
    /// The word that it shows.
    pub word: String,
    /// What to fetch, and how to prepare it.
    pub jar: Jar,
    /// Whether it is spiked, where that is the question.
    pub spiked: Option<Spiked>,
}

/// What stands as the answer to one item: of each kind the last one.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ItemReplies {
    /// The place.
    pub place: Option<PlaceId>,
    /// The shelf.
    pub shelf: Option<ShelfId>,
    /// The word.
    pub word: Option<DescriptorId>,
    /// Whether it was said to be in there.
    pub presence: Option<Spiked>,
    /// Whether the taster tried and could not tell.
    pub gave_up: bool,
    /// How sure.
    pub certainty: Option<Certainty>,
}

/// What was right of an answer; none where that was not asked or not answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct ItemRight {
    /// The place.
    pub place: Option<bool>,
    /// The shelf.
    pub shelf: Option<bool>,
    /// The answer as a whole: the word, or the place where only that was asked.
    pub whole: Option<bool>,
}

impl ItemReplies {
    fn add(&mut self, reply: &PracticeReply) {
        match reply {
            PracticeReply::Place(id) => self.place = Some(id.clone()),
            PracticeReply::Shelf(id) => self.shelf = Some(id.clone()),
            PracticeReply::Word(id) => self.word = Some(id.clone()),
            PracticeReply::Presence(spiked) => self.presence = Some(*spiked),
            PracticeReply::CannotTell => self.gave_up = true,
        }
    }

    const fn is_whole(&self, form: ItemForm) -> bool {
        let whole = match form {
            ItemForm::Place => self.place.is_some(),
            ItemForm::Definition | ItemForm::Pair | ItemForm::Jar => self.word.is_some(),
            ItemForm::Presence => self.presence.is_some(),
        };
        whole || self.gave_up
    }
}

impl PracticeRun {
    /// The first item without an answer; none once all have one.
    #[must_use]
    pub fn open(&self) -> Option<&PracticeItem> {
        self.items.iter().find(|it| !self.is_answered(it))
    }

    /// How many items are answered.
    #[must_use]
    pub fn answered(&self) -> usize {
        self.items.iter().filter(|it| self.is_answered(it)).count()
    }

    /// The item with this code.
    #[must_use]
    pub fn coded(&self, code: BlindingCode) -> Option<&PracticeItem> {
        self.items.iter().find(|it| it.code == Some(code))
    }

    /// What stands as the answer to an item. Whatever follows a whole answer, other than how sure it
    /// was, corrects it from the beginning.
    #[must_use]
    pub fn replies(&self, item: &PracticeItem) -> ItemReplies {
        let mut all = ItemReplies::default();
        let mut last = None;
        let own = self
            .answers
            .iter()
            .filter(|it| it.position == item.position);
        for answer in own {
            if all.is_whole(item.form) && last != Some(&answer.reply) {
                all = ItemReplies::default();
            }
            all.add(&answer.reply);
            all.certainty = answer.certainty.or(all.certainty);
            last = Some(&answer.reply);
        }
        all
    }

    /// Whether an item has its whole answer.
    #[must_use]
    pub fn is_answered(&self, item: &PracticeItem) -> bool {
        self.replies(item).is_whole(item.form)
    }

    /// What was right of the answer to an item. Who could not tell was not right.
    #[must_use]
    pub fn right(&self, item: &PracticeItem, wheel: &Wheel) -> ItemRight {
        let replies = self.replies(item);
        let shelf = wheel.descriptor(&item.descriptor).map(|it| &it.shelf);
        let place = shelf.and_then(|it| wheel.shelf(it)).map(|it| &it.place);
        let gave_up = |right: Option<bool>| right.or(replies.gave_up.then_some(false));
        let place_right = replies.place.as_ref().map(|it| Some(it) == place);
        let shelf_right = replies.shelf.as_ref().map(|it| Some(it) == shelf);
        let word_right = replies.word.as_ref().map(|it| *it == item.descriptor);
        let whole = match item.form {
            ItemForm::Place => place_right,
            ItemForm::Presence => replies.presence.map(|it| Some(it) == item.spiked),
            ItemForm::Definition | ItemForm::Pair | ItemForm::Jar => word_right,
        };
        ItemRight {
            place: place_right,
            shelf: shelf_right,
            whole: gave_up(whole),
        }
    }
}

impl Home {
    /// What one taster is asked in a practice, with the answers so far.
    ///
    /// # Errors
    /// The taster does not take part, or the store cannot be read.
    pub fn practice_run(
        &self,
        sitting: &SittingId,
        taster: &Taster,
    ) -> Result<PracticeRun, WorkflowError> {
        let (practice, seat) = self.seat_in_practice(sitting, taster)?;
        Ok(PracticeRun {
            items: self.store.practice_items(&seat.id)?,
            answers: self.store.practice_answers(&seat.id)?,
            seat: seat.id,
            role: seat.role,
            taster: taster.clone(),
            practice,
        })
    }

    /// A practice and the seat of a taster in it.
    pub(super) fn seat_in_practice(
        &self,
        sitting: &SittingId,
        taster: &Taster,
    ) -> Result<(Practice, Seat), WorkflowError> {
        let seats = self.store.seats_of(sitting)?;
        let seat = seats.into_iter().find(|it| it.taster == taster.id);
        self.store
            .practice(sitting)?
            .zip(seat)
            .ok_or_else(|| WorkflowError::NotInPractice {
                name: taster.name.to_string(),
            })
    }

    /// What is to be prepared for a practice, by code. Whoever reads it knows the key.
    ///
    /// # Errors
    /// There is no such practice, or the store cannot be read.
    pub fn jar_cards(&self, sitting: &SittingId) -> Result<Vec<JarCard>, WorkflowError> {
        let Some(seat) = self.store.seats_of(sitting)?.into_iter().next() else {
            return Err(WorkflowError::NothingToPractise);
        };
        let items = self.store.practice_items(&seat.id)?;
        let mut cards: Vec<JarCard> = items
            .into_iter()
            .filter_map(|item| {
                let word = self.wheel().descriptor(&item.descriptor)?;
                let Reference::Jar(jar) = &word.reference else {
                    return None;
                };
                Some(JarCard {
                    code: item.code?,
                    word: word.word.clone(),
                    jar: jar.clone(),
                    spiked: item.spiked,
                })
            })
            .collect();
        cards.sort_by_key(|it| it.code);
        Ok(cards)
    }

    /// Keeps an answer to an item; a later one of the same kind corrects it.
    ///
    /// # Errors
    /// The store cannot be written; `run` is unchanged then.
    pub fn answer_practice(
        &mut self,
        run: &mut PracticeRun,
        position: u16,
        reply: PracticeReply,
        certainty: Option<Certainty>,
    ) -> Result<(), WorkflowError> {
        let answer = PracticeAnswer {
            id: PracticeAnswerId::new(self.draw_id()),
            seat: run.seat.clone(),
            position,
            reply,
            certainty,
            given_at: self.now(),
        };
        self.store.add_practice_answer(&answer)?;
        run.answers.push(answer);
        Ok(())
    }

    /// Leaves a practice; the last one to leave closes it.
    ///
    /// # Errors
    /// The store cannot be written.
    pub fn leave_practice(
        &mut self,
        sitting: &SittingId,
        own: &SeatId,
    ) -> Result<(), WorkflowError> {
        let now = self.now();
        let seats = self.store.seats_of(sitting)?;
        let left = |it: &&Seat| it.left_at.is_some();
        if seats.iter().filter(left).any(|it| it.id == *own) {
            return Ok(());
        }
        self.store.leave_seat(own, now)?;
        let mut others = seats.iter().filter(|it| it.id != *own);
        if others.all(|it| left(&it)) {
            self.store.close_sitting(sitting, now)?;
        }
        Ok(())
    }

    /// Whether somebody who takes part has not left yet.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn practice_waits(&self, sitting: &SittingId) -> Result<bool, WorkflowError> {
        let seats = self.store.seats_of(sitting)?;
        Ok(seats.iter().any(|it| it.left_at.is_none()))
    }

    /// The practices that a taster has not left, the newest first.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn practices_of(&self, taster: &Taster) -> Result<Vec<SittingId>, WorkflowError> {
        Ok(self.store.open_practices(&taster.id)?)
    }

    /// The newest practice of a kind that a taster has not left, with everybody at its table; never the
    /// check of a course, which belongs to its evening.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn open_table(
        &self,
        taster: &Taster,
        kind: PracticeKind,
    ) -> Result<Option<(SittingId, Vec<Taster>)>, WorkflowError> {
        for sitting in self.practices_of(taster)? {
            let practice = self.store.practice(&sitting)?;
            let fits = |it: &Practice| it.kind == kind && it.reveal != Reveal::Course;
            if practice.as_ref().is_some_and(fits) {
                let tasters = self.tasters()?;
                let seats = self.store.seats_of(&sitting)?;
                let person = |it: &Seat| tasters.iter().find(|own| own.id == it.taster).cloned();
                return Ok(Some((sitting, seats.iter().filter_map(person).collect())));
            }
        }
        Ok(None)
    }

    /// The practice that a taster has not finished, if there is one.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn open_practice(&self, taster: &Taster) -> Result<Option<PracticeRun>, WorkflowError> {
        for sitting in self.practices_of(taster)? {
            let run = self.practice_run(&sitting, taster)?;
            if run.open().is_some() {
                return Ok(Some(run));
            }
        }
        Ok(None)
    }
}
