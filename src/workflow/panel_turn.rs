//! One taster's turn at a panel: their glasses in their order, tasted one after the other, on screen or from a sheet.

use crate::domain::BlindingCode;
use crate::domain::Day;
use crate::domain::Field;
use crate::domain::Form;
use crate::domain::Knew;
use crate::domain::Mark;
use crate::domain::MarkId;
use crate::domain::Notes;
use crate::domain::NotesId;
use crate::domain::NotesSource;
use crate::domain::Sample;
use crate::domain::SeatId;
use crate::domain::SeatRole;
use crate::domain::Taster;
use crate::storage::NotesRow;
use crate::storage::PanelSeat;
use crate::workflow::Home;
use crate::workflow::PanelError;
use crate::workflow::PanelPhase;
use crate::workflow::PanelTable;
use crate::workflow::Tasting;
use crate::workflow::WorkflowError;
use crate::workflow::local_day;

/// Which round a turn is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PanelRound {
    /// Everybody by themselves.
    Alone,
    /// After the talk: the notes of the first round, changed where the taster changed their mind.
    AfterTalk,
}

impl PanelRound {
    /// The number with which its notes are kept.
    const fn number(self) -> u8 {
        match self {
            Self::Alone => 1,
            Self::AfterTalk => 2,
        }
    }
}

/// How far a glass is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GlassState {
    /// Nothing was typed yet.
    Waits,
    /// It was begun.
    Begun,
    /// Its notes are locked.
    Locked,
}

/// One glass of a turn, as its taster may see it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TurnGlass {
    /// The code.
    pub code: BlindingCode,
    /// How far it is.
    pub state: GlassState,
}

/// One taster's turn.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelTurn {
    /// The number of the panel.
    pub number: u32,
    /// Who.
    pub taster: Taster,
    /// Their seat.
    pub seat: SeatId,
    /// Of which round.
    pub round: PanelRound,
    /// Their glasses in their order.
    pub glasses: Vec<TurnGlass>,
}

impl PanelTurn {
    /// The first glass that is not locked.
    #[must_use]
    pub fn next(&self) -> Option<&TurnGlass> {
        let mut glasses = self.glasses.iter();
        glasses.find(|it| it.state != GlassState::Locked)
    }

    /// How many are locked.
    #[must_use]
    pub fn locked(&self) -> usize {
        let locked = |it: &&TurnGlass| it.state == GlassState::Locked;
        self.glasses.iter().filter(locked).count()
    }
}

/// From what notes are typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TypedFrom {
    /// From the glass, in the app or line by line.
    Glass(NotesSource),
    /// From a sheet that was written on this day.
    Sheet(Day),
}

/// A seat of an open panel with what is known of it.
struct OpenSeat {
    table: PanelTable,
    seat: PanelSeat,
    samples: Vec<Sample>,
    rows: Vec<NotesRow>,
}

impl Home {
    /// A taster's turn at a panel.
    ///
    /// # Errors
    /// It was told already, they have no seat or left, or their round has not come.
    pub fn panel_turn(
        &self,
        number: u32,
        name: &str,
        round: PanelRound,
    ) -> Result<PanelTurn, WorkflowError> {
        let open = self.open_seat(number, name, round)?;
        let id = &open.seat.seat.id;
        let codes = self.codes_of(id, &open.samples)?;
        Ok(PanelTurn {
            number,
            taster: open.seat.taster.clone(),
            seat: id.clone(),
            round,
            glasses: codes
                .into_iter()
                .map(|code| TurnGlass {
                    code,
                    state: open.state(code, round),
                })
                .collect(),
        })
    }

    fn open_seat(
        &self,
        number: u32,
        name: &str,
        round: PanelRound,
    ) -> Result<OpenSeat, WorkflowError> {
        let table = self.panel_table(number)?;
        let phase = table.phase();
        if phase == PanelPhase::Told {
            return Err(PanelError::Told { number }.into());
        }
        let person = table.person(name)?;
        if person.left {
            let name = person.taster.name.to_string();
            return Err(PanelError::HasLeft { number, name }.into());
        }
        if round == PanelRound::AfterTalk && phase == PanelPhase::Tasting {
            let waits_for = table.waits_for();
            return Err(PanelError::StillTasting { number, waits_for }.into());
        }
        let seats = self.store.panel_seats(&table.panel.sitting)?;
        let own = seats.into_iter().find(|it| it.seat.id == person.seat);
        let seat = own.ok_or_else(|| PanelError::NotSeated {
            number,
            name: name.to_owned(),
            seated: Vec::new(),
        })?;
        let mut rows = self.store.notes_of_sitting(&table.panel.sitting)?;
        rows.retain(|it| it.seat == seat.seat.id);
        Ok(OpenSeat {
            samples: self.store.samples_of(&table.panel.sitting)?,
            table,
            seat,
            rows,
        })
    }

    /// The notes on one glass of a turn: those that were begun, or new ones.
    ///
    /// # Errors
    /// The glass is not one of theirs, its notes are locked, the day of a sheet is still to come, the turn
    /// is over, or the store cannot be written.
    pub fn panel_glass(
        &mut self,
        turn: &PanelTurn,
        code: BlindingCode,
        from: TypedFrom,
    ) -> Result<Tasting, WorkflowError> {
        let open = self.open_seat(turn.number, turn.taster.name.as_str(), turn.round)?;
        let number = turn.number;
        let Some(sample) = open.samples.iter().find(|it| it.code == code).cloned() else {
            let code = code.to_string();
            return Err(PanelError::NoGlass { number, code }.into());
        };
        if let Some(row) = open.row(&sample, turn.round) {
            return self.tasting(&row.notes);
        }
        let day = self.day_of(from)?;
        let notes = match turn.round {
            PanelRound::Alone => self.first_notes(&open, &sample, from, day)?,
            PanelRound::AfterTalk => self.notes_after_talk(&open, &sample, day)?,
        };
        let sitting = &open.table.panel.sitting;
        self.store.in_one_go(|store| {
            // In another window it may have been told since.
            let told = store
                .panel_of(sitting)?
                .is_none_or(|it| it.told_at.is_some());
            if told {
                return Err(PanelError::Told { number }.into());
            }
            Ok::<(), WorkflowError>(store.add_notes(&notes)?)
        })?;
        self.tasting(&notes.id)
    }

    /// The day on which was tasted.
    fn day_of(&mut self, from: TypedFrom) -> Result<Day, WorkflowError> {
        let today = self.today();
        match from {
            TypedFrom::Glass(_) => Ok(today),
            TypedFrom::Sheet(day) if day > today => Err(WorkflowError::FutureDay {
                what: "the tasting",
                day,
                today,
            }),
            TypedFrom::Sheet(day) => Ok(day),
        }
    }

    /// The day on which a panel was planned: usually its sheets are written on it.
    #[must_use]
    pub fn panel_day(&self, table: &PanelTable) -> Day {
        local_day(table.panel.made_at)
    }

    /// New notes of the first round. What is asked once for all glasses is taken from the glass before.
    fn first_notes(
        &mut self,
        open: &OpenSeat,
        sample: &Sample,
        from: TypedFrom,
        day: Day,
    ) -> Result<Notes, WorkflowError> {
        let source = match from {
            TypedFrom::Glass(source) => source,
            TypedFrom::Sheet(_) => NotesSource::Paper,
        };
        let form = open.table.panel.form;
        let mut notes = self.new_notes(&open.seat.seat, sample, 1, form, source);
        notes.tasted_on = day;
        notes.seal_broken_at = open.seat.key_seen_at;
        let poured = open.seat.seat.role == SeatRole::PouringTaster;
        notes.knew = poured.then_some(Knew::EarlierReveal);
        // The day is part of it: a nose of yesterday says nothing of today's.
        let mut before = open.rows.iter().rev();
        if let Some(before) = before.find(|it| it.round == 1 && it.tasted_on == day) {
            let (before, _, _) = self.store.notes_with_row(&before.notes)?;
            if before.nose.is_some() {
                notes.nose = before.nose;
                notes.knew = before.knew;
                notes.current_field = first_question(form).id();
            }
        }
        Ok(notes)
    }

    /// Notes after the talk, which begin as they stood before it.
    fn notes_after_talk(
        &mut self,
        open: &OpenSeat,
        sample: &Sample,
        day: Day,
    ) -> Result<Notes, WorkflowError> {
        let first = open.row(sample, PanelRound::Alone);
        let first = first.filter(|it| it.locked_at.is_some() && it.bottle_fault.is_none());
        let Some(first) = first else {
            return Err(PanelError::NothingToChange {
                name: open.seat.taster.name.to_string(),
                code: sample.code.to_string(),
            }
            .into());
        };
        let (first, _, _) = self.store.notes_with_row(&first.notes)?;
        let now = self.now();
        let marks = first.marks.iter().cloned();
        let marks: Vec<Mark> = marks
            .map(|it| Mark {
                id: MarkId::new(self.draw_id()),
                ..it
            })
            .collect();
        Ok(Notes {
            id: NotesId::new(self.draw_id()),
            round: PanelRound::AfterTalk.number(),
            source: NotesSource::App,
            tasted_on: day,
            typed_on: now,
            current_field: first_question(first.form).id(),
            seal_broken_at: first.seal_broken_at.or(open.seat.key_seen_at),
            locked_at: None,
            marks,
            ..first
        })
    }
}

/// The first question about the glass itself.
fn first_question(form: Form) -> Field {
    let asked_once = |it: &Field| matches!(it, Field::Checklist | Field::Knew | Field::Nose);
    let mut fields = form.fields().into_iter();
    fields.find(|it| !asked_once(it)).unwrap_or(Field::Lock)
}

impl OpenSeat {
    fn row(&self, sample: &Sample, round: PanelRound) -> Option<&NotesRow> {
        let mut rows = self.rows.iter();
        rows.find(|it| it.code == sample.code && it.round == round.number())
    }

    fn state(&self, code: BlindingCode, round: PanelRound) -> GlassState {
        let mut rows = self.rows.iter();
        let row = rows.find(|it| it.code == code && it.round == round.number());
        match row.map(|it| it.locked_at) {
            None => GlassState::Waits,
            Some(None) => GlassState::Begun,
            Some(Some(_)) => GlassState::Locked,
        }
    }
}
