//! A tasting from the first question to the lock: started, changed key by key, resumed, left, locked.

use std::fmt;

use crate::domain::Beer;
use crate::domain::BeerId;
use crate::domain::BlindingCode;
use crate::domain::BottleFault;
use crate::domain::Day;
use crate::domain::Field;
use crate::domain::Form;
use crate::domain::MarkId;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::Notes;
use crate::domain::NotesChange;
use crate::domain::NotesId;
use crate::domain::NotesSource;
use crate::domain::Sample;
use crate::domain::SampleId;
use crate::domain::Seat;
use crate::domain::SeatId;
use crate::domain::SeatRole;
use crate::domain::Sitting;
use crate::domain::SittingId;
use crate::domain::SittingKind;
use crate::domain::Taster;
use crate::storage::NotesRow;
use crate::storage::Store;
use crate::workflow::Home;
use crate::workflow::PanelError;
use crate::workflow::WorkflowError;
use crate::workflow::local_day;

/// A tasting under way, as the taster may see it: nothing of the plan, nothing of the others.
#[derive(Debug, Clone, PartialEq)]
pub struct Tasting {
    /// The notes so far.
    pub notes: Notes,
    /// The person.
    pub taster: Taster,
    /// What is written on the bottle. Of two glasses under codes it is not shown before the lock.
    pub cap_mark: Name,
    /// The code of the glass.
    pub code: BlindingCode,
    /// What the taster calls the glass.
    pub glass: GlassName,
    /// At what kind of sitting.
    pub kind: SittingKind,
    /// What the taster does at it.
    pub role: SeatRole,
}

/// What a taster calls the glass before the lock.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum GlassName {
    /// By the bottle it came from.
    Bottle(Name),
    /// By its code: of two glasses that somebody else poured.
    Code(BlindingCode),
    /// The left one of two cups that the taster shuffled.
    LeftCup,
    /// The right one.
    RightCup,
}

impl fmt::Display for GlassName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Bottle(mark) => write!(f, "{mark}"),
            Self::Code(code) => write!(f, "glass {code}"),
            Self::LeftCup => f.write_str("the left cup"),
            Self::RightCup => f.write_str("the right cup"),
        }
    }
}

impl Home {
    /// Opens a tasting, or joins the one that is open on the same beer; a beer that is not known yet
    /// is kept by its cap mark alone. A tasting of this taster on this beer that is still open is
    /// resumed instead.
    ///
    /// # Errors
    /// A name is refused, or the store cannot be written.
    pub fn start_tasting(
        &mut self,
        taster: &Taster,
        cap_mark: &str,
        source: NotesSource,
    ) -> Result<Tasting, WorkflowError> {
        let beer = self.beer_or_new(cap_mark)?;
        let open = self.store.open_notes_of_beer(&beer.id)?;
        // Of two glasses under codes nobody may learn which one holds this beer.
        let alone = |row: &&NotesRow| row.kind == SittingKind::Tasting;
        let own = |row: &&NotesRow| row.taster.id == taster.id;
        if let Some(row) = open.iter().filter(alone).find(own) {
            return self.tasting(&row.notes);
        }
        let notes = match self.store.open_sitting_of(&beer.id)? {
            Some((sitting, sample)) => self.join(taster, &sitting, &sample, source)?,
            None => self.open_sitting(taster, &beer.id, source)?,
        };
        self.tasting(&notes)
    }

    pub(super) fn beer_or_new(&mut self, cap_mark: &str) -> Result<Beer, WorkflowError> {
        let beer = self.beer_or_unknown(cap_mark)?;
        if self.store.beer(&beer.id)?.is_none() {
            self.store.add_beer(&beer)?;
        }
        Ok(beer)
    }

    /// The beer with this mark, or one that is known by its mark alone and not kept yet.
    pub(super) fn beer_or_unknown(&mut self, cap_mark: &str) -> Result<Beer, WorkflowError> {
        let cap_mark = Name::new("a cap mark", cap_mark)?;
        if let Some(beer) = self.store.beer_marked(&cap_mark)? {
            return Ok(beer);
        }
        Ok(Beer {
            id: BeerId::new(self.draw_id()),
            cap_mark,
            batch: None,
            abv: None,
        })
    }

    fn open_sitting(
        &mut self,
        taster: &Taster,
        beer: &BeerId,
        source: NotesSource,
    ) -> Result<NotesId, WorkflowError> {
        let code = u16::try_from(self.dice.whole(100, 999)).unwrap_or(100);
        let sitting = Sitting {
            id: SittingId::new(self.draw_id()),
            kind: SittingKind::Tasting,
            seed: self.dice.seed(),
            made_at: self.now(),
            closed_at: None,
        };
        let sample = Sample {
            id: SampleId::new(self.draw_id()),
            sitting: sitting.id.clone(),
            code: BlindingCode::new(code)?,
            beer: beer.clone(),
            duplicate_of: None,
        };
        let seat = self.new_seat(taster, &sitting.id);
        let notes = self.new_notes(&seat, &sample, 1, Form::Full, source);
        self.store.open_sitting(&sitting, &seat, &sample, &notes)?;
        Ok(notes.id)
    }

    fn join(
        &mut self,
        taster: &Taster,
        sitting: &Sitting,
        sample: &Sample,
        source: NotesSource,
    ) -> Result<NotesId, WorkflowError> {
        let seat = self.new_seat(taster, &sitting.id);
        let notes = self.new_notes(&seat, sample, 1, Form::Full, source);
        self.store.join_sitting(&seat, &notes)?;
        Ok(notes.id)
    }

    pub(super) fn new_seat(&mut self, taster: &Taster, sitting: &SittingId) -> Seat {
        Seat {
            id: SeatId::new(self.draw_id()),
            sitting: sitting.clone(),
            taster: taster.id.clone(),
            role: SeatRole::Taster,
            left_at: None,
        }
    }

    pub(super) fn new_notes(
        &mut self,
        seat: &Seat,
        sample: &Sample,
        round: u8,
        form: Form,
        source: NotesSource,
    ) -> Notes {
        let now = self.now();
        Notes {
            id: NotesId::new(self.draw_id()),
            seat: seat.id.clone(),
            sample: sample.id.clone(),
            round,
            form,
            source,
            knew: None,
            nose: None,
            tasted_on: local_day(now),
            typed_on: now,
            current_field: Field::Checklist.id(),
            seal_broken_at: None,
            locked_at: None,
            bottle_fault: None,
            remark: None,
            ratings: Vec::new(),
            marks: Vec::new(),
            stopwatches: Vec::new(),
        }
    }

    /// The day of the tasting with these notes.
    ///
    /// # Errors
    /// There are no such notes, or the store cannot be read.
    pub fn tasted_on(&self, id: &NotesId) -> Result<Day, WorkflowError> {
        Ok(self.store.notes_with_row(id)?.1.tasted_on)
    }

    /// The tasting with these notes.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn tasting(&self, id: &NotesId) -> Result<Tasting, WorkflowError> {
        let (notes, row, sample) = self.store.notes_with_row(id)?;
        let glass = match (row.kind, row.role) {
            (SittingKind::Tasting, _) => GlassName::Bottle(row.beer.cap_mark.clone()),
            (SittingKind::TwoGlasses, SeatRole::PouringTaster) => {
                let open = self.store.open_notes_of_sitting(&row.sitting)?;
                let left = open.iter().find(|it| it.seat == row.seat);
                let is_left = left.is_some_and(|it| it.notes == *id);
                if is_left {
                    GlassName::LeftCup
                } else {
                    GlassName::RightCup
                }
            }
            (
                SittingKind::TwoGlasses
                | SittingKind::Test
                | SittingKind::Panel
                | SittingKind::Practice,
                _,
            ) => GlassName::Code(sample.code),
        };
        Ok(Tasting {
            notes,
            glass,
            taster: row.taster,
            cap_mark: row.beer.cap_mark,
            code: sample.code,
            kind: row.kind,
            role: row.role,
        })
    }

    /// Stores changes to open notes, all or none, and applies them to `tasting`.
    ///
    /// # Errors
    /// The notes are locked, the tasting was left (the plan may have been opened since), or the
    /// store cannot be written; then `tasting` is unchanged too.
    pub fn change(
        &mut self,
        tasting: &mut Tasting,
        changes: &[NotesChange],
    ) -> Result<(), WorkflowError> {
        self.store
            .in_one_go(|store| change_open(store, tasting, changes))?;
        tasting.apply(changes);
        Ok(())
    }

    /// An id for a new mark.
    pub fn new_mark(&mut self) -> MarkId {
        MarkId::new(self.draw_id())
    }

    /// Makes the notes final, and closes the sitting once nobody is tasting any more.
    ///
    /// # Errors
    /// The notes are locked already, or the store cannot be written.
    pub fn lock(&mut self, tasting: &mut Tasting) -> Result<(), WorkflowError> {
        self.lock_after(tasting, Vec::new())
    }

    /// Ends a tasting because something is wrong with its bottle: notes it, and locks.
    ///
    /// # Errors
    /// The notes are locked already, or the store cannot be written.
    pub fn lock_faulty(
        &mut self,
        tasting: &mut Tasting,
        fault: BottleFault,
    ) -> Result<(), WorkflowError> {
        self.lock_after(tasting, vec![NotesChange::Faulted(Some(fault))])
    }

    fn lock_after(
        &mut self,
        tasting: &mut Tasting,
        mut changes: Vec<NotesChange>,
    ) -> Result<(), WorkflowError> {
        let now = self.now();
        changes.push(NotesChange::Locked(now));
        self.store.in_one_go(|store| {
            change_open(store, tasting, &changes)?;
            close_if_done(store, &tasting.notes.id, now)
        })?;
        tasting.apply(&changes);
        Ok(())
    }

    /// Leaves a tasting without locking; what was typed is kept, but the table need not wait.
    ///
    /// # Errors
    /// The store cannot be written.
    pub fn leave(&mut self, tasting: &Tasting) -> Result<(), WorkflowError> {
        let now = self.now();
        self.store.in_one_go(|store| {
            store.leave_seat(&tasting.notes.seat, now)?;
            close_if_done(store, &tasting.notes.id, now)
        })
    }

    /// A second pass of the same glass as it warms, beginning where the ratings begin.
    ///
    /// # Errors
    /// The store cannot be written, or the glass is one of a panel, whose second round is another thing.
    pub fn second_pass(&mut self, first: &mut Tasting) -> Result<Tasting, WorkflowError> {
        let (_, row, sample) = self.store.notes_with_row(&first.notes.id)?;
        if row.kind == SittingKind::Panel {
            return Err(PanelError::NoSecondPass.into());
        }
        let seat = Seat {
            id: row.seat,
            sitting: row.sitting,
            taster: row.taster.id,
            role: SeatRole::Taster,
            left_at: None,
        };
        let source = first.notes.source;
        let mut notes = self.new_notes(&seat, &sample, first.notes.round + 1, Form::Full, source);
        notes.knew = first.notes.knew;
        notes.nose = first.notes.nose;
        notes.current_field = Field::FirstSniff.id();
        let lock = [NotesChange::Locked(self.now())];
        self.store.in_one_go(|store| {
            change_open(store, first, &lock)?;
            Ok::<(), WorkflowError>(store.add_notes(&notes)?)
        })?;
        first.apply(&lock);
        self.tasting(&notes.id)
    }

    /// The tastings that are open, newest last.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn open_tastings(&self) -> Result<Vec<NotesRow>, WorkflowError> {
        Ok(self.open_notes()?.to_vec())
    }
}

impl Tasting {
    pub(super) fn apply(&mut self, changes: &[NotesChange]) {
        for change in changes {
            self.notes.apply(change);
        }
    }
}

/// Changes notes unless their taster has left: the plan may have been opened since.
pub(super) fn change_open(
    store: &mut Store,
    tasting: &Tasting,
    changes: &[NotesChange],
) -> Result<(), WorkflowError> {
    let id = &tasting.notes.id;
    let (_, row, _) = store.notes_with_row(id)?;
    if row.left_at.is_some() {
        return Err(WorkflowError::Left {
            mark: tasting.glass.to_string(),
        });
    }
    Ok(store.change_notes(id, changes)?)
}

/// Closes the sitting of these notes once nobody in it is tasting any more; a panel is closed by telling
/// what was in its glasses.
pub(super) fn close_if_done(
    store: &mut Store,
    id: &NotesId,
    now: Moment,
) -> Result<(), WorkflowError> {
    let (_, row, _) = store.notes_with_row(id)?;
    let is_panel = row.kind == SittingKind::Panel;
    if !is_panel && store.open_notes_of_sitting(&row.sitting)?.is_empty() {
        store.close_sitting(&row.sitting, now)?;
    }
    Ok(())
}
