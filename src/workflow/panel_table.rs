//! A panel at the table: who is how far, who leaves, what is poured, and when it is told.

use crate::domain::Beer;
use crate::domain::BeerId;
use crate::domain::BlindingCode;
use crate::domain::Name;
use crate::domain::NotesChange;
use crate::domain::Panel;
use crate::domain::Sample;
use crate::domain::SampleId;
use crate::domain::SeatId;
use crate::domain::SeatRole;
use crate::domain::Taster;
use crate::domain::is_same_name;
use crate::domain::nearest_names;
use crate::storage::NotesRow;
use crate::workflow::Closing;
use crate::workflow::Home;
use crate::workflow::PanelError;
use crate::workflow::TasterReads;
use crate::workflow::WorkflowError;

/// Where a panel stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PanelPhase {
    /// Somebody still tastes.
    Tasting,
    /// All have locked or left: they talk, by codes.
    Talk,
    /// It was told what was in the glasses.
    Told,
}

/// One taster of a panel, as everybody may see them.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelPerson {
    /// Who.
    pub taster: Taster,
    /// Their seat.
    pub seat: SeatId,
    /// Whether they poured.
    pub role: SeatRole,
    /// How many glasses stand before them.
    pub glasses: usize,
    /// How many of those they have locked.
    pub locked: usize,
    /// How many glasses they have locked once more after the talk.
    pub after_talk: usize,
    /// Whether they began to look once more after the talk and did not lock; what was not locked does not count.
    pub talks: bool,
    /// Whether they left.
    pub left: bool,
}

impl PanelPerson {
    /// True once nobody waits for them in the first round.
    #[must_use]
    pub const fn is_done(&self) -> bool {
        self.left || self.locked >= self.glasses
    }
}

/// A panel as everybody may see it: nothing of what is in a glass.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelTable {
    /// The panel.
    pub panel: Panel,
    /// Its tasters.
    pub people: Vec<PanelPerson>,
}

impl PanelTable {
    /// Where it stands.
    #[must_use]
    pub fn phase(&self) -> PanelPhase {
        if self.panel.told_at.is_some() {
            PanelPhase::Told
        } else if self.people.iter().all(PanelPerson::is_done) {
            PanelPhase::Talk
        } else {
            PanelPhase::Tasting
        }
    }

    /// How many tasters are done with the first round.
    #[must_use]
    pub fn done(&self) -> usize {
        self.people.iter().filter(|it| it.is_done()).count()
    }

    /// The names of those for whom the panel waits.
    #[must_use]
    pub fn waits_for(&self) -> Vec<String> {
        let waits = self.people.iter().filter(|it| !it.is_done());
        waits.map(|it| it.taster.name.to_string()).collect()
    }

    /// The names of those who began to look once more after the talk and did not lock.
    #[must_use]
    pub fn unlocked_looks(&self) -> Vec<String> {
        let talks = self.people.iter().filter(|it| it.talks);
        talks.map(|it| it.taster.name.to_string()).collect()
    }

    /// The taster of this name.
    ///
    /// # Errors
    /// Nobody of this name has a seat.
    pub fn person(&self, name: &str) -> Result<&PanelPerson, PanelError> {
        let mut people = self.people.iter();
        let found = people.find(|it| is_typed(&it.taster.name, name));
        found.ok_or_else(|| PanelError::NotSeated {
            number: self.panel.number,
            name: name.trim().chars().take(60).collect(),
            seated: self
                .people
                .iter()
                .map(|it| it.taster.name.to_string())
                .collect(),
        })
    }
}

/// True where somebody typed this very name, in small letters or large.
fn is_typed(name: &Name, typed: &str) -> bool {
    is_same_name(name.as_str(), typed)
}

/// One glass as whoever pours must know it.
#[derive(Debug, Clone, PartialEq)]
pub struct PouredGlass {
    /// Its code.
    pub code: BlindingCode,
    /// What goes in.
    pub beer: Name,
}

/// What whoever pours needs; who reads it knows the key.
#[derive(Debug, Clone, PartialEq)]
pub struct PouringSheet {
    /// The panel.
    pub panel: Panel,
    /// The glasses by rising code.
    pub glasses: Vec<PouredGlass>,
    /// Millilitres of each beer for all, by cap mark.
    pub needed: Vec<(Name, f64)>,
    /// The codes of each taster in their order.
    pub orders: Vec<(Name, Vec<BlindingCode>)>,
    /// What the beers may hold, joined.
    pub allergens: String,
}

impl Home {
    /// The number of the newest panel.
    ///
    /// # Errors
    /// There is none, or the store cannot be read.
    pub fn latest_panel(&self) -> Result<u32, WorkflowError> {
        let panels = self.store.panels()?;
        let latest = panels.last().map(|it| it.number);
        Ok(latest.ok_or(PanelError::NoneYet)?)
    }

    /// The panel with this number.
    ///
    /// # Errors
    /// There is none, or the store cannot be read.
    pub fn panel_table(&self, number: u32) -> Result<PanelTable, WorkflowError> {
        if let Some(panel) = self.store.panel_numbered(number)? {
            return self.table_of(panel);
        }
        let panels = self.store.panels()?;
        let known = panels.iter().map(|it| it.number.to_string()).collect();
        let asked = number;
        Err(PanelError::NoPanel { asked, known }.into())
    }

    /// All panels, by number.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn panel_tables(&self) -> Result<Vec<PanelTable>, WorkflowError> {
        let panels = self.store.panels()?.into_iter();
        panels.map(|it| self.table_of(it)).collect()
    }

    /// The panels that wait for somebody or for the telling, by number.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn open_panels(&self) -> Result<Vec<PanelTable>, WorkflowError> {
        let mut panels = self.store.panels()?;
        panels.retain(|it| it.told_at.is_none());
        panels.into_iter().map(|it| self.table_of(it)).collect()
    }

    fn table_of(&self, panel: Panel) -> Result<PanelTable, WorkflowError> {
        let notes = self.store.notes_of_sitting(&panel.sitting)?;
        let mut people = Vec::new();
        for seat in self.store.panel_seats(&panel.sitting)? {
            let own = notes.iter().filter(|it| it.seat == seat.seat.id);
            let own: Vec<&NotesRow> = own.collect();
            let locked = |round: u8| {
                let of_round = own.iter().filter(|it| it.round == round);
                of_round.filter(|it| it.locked_at.is_some()).count()
            };
            people.push(PanelPerson {
                glasses: self.store.serving(&seat.seat.id)?.len(),
                locked: locked(1),
                after_talk: locked(2),
                talks: own.iter().any(|it| it.round == 2 && it.locked_at.is_none()),
                left: seat.seat.left_at.is_some(),
                role: seat.seat.role,
                seat: seat.seat.id,
                taster: seat.taster,
            });
        }
        Ok(PanelTable { panel, people })
    }

    /// Somebody leaves a panel: what they locked counts, the rest stays open for ever.
    ///
    /// # Errors
    /// They have no seat, it was told already, or the store cannot be written.
    pub fn leave_panel(&mut self, number: u32, name: &str) -> Result<PanelTable, WorkflowError> {
        let table = self.panel_table(number)?;
        if table.phase() == PanelPhase::Told {
            return Err(PanelError::Told { number }.into());
        }
        let seat = table.person(name)?.seat.clone();
        let now = self.now();
        self.store.leave_seat(&seat, now)?;
        self.panel_table(number)
    }

    /// Tells what was in the glasses of a panel: from now on nothing is tasted at it, and its notes may be
    /// read. What was begun after the talk and not locked is gone. Told a second time it stays as it is.
    ///
    /// # Errors
    /// Somebody is not done and telling early was not asked for, or the store cannot be written.
    pub fn tell_panel(&mut self, number: u32, telling: Closing) -> Result<(), WorkflowError> {
        let now = self.now();
        let table = self.panel_table(number)?;
        if table.phase() == PanelPhase::Told {
            return Ok(());
        }
        let waits_for = table.waits_for();
        if telling == Closing::Complete && !waits_for.is_empty() {
            return Err(PanelError::NotDone { number, waits_for }.into());
        }
        let open = table.people.iter().filter(|it| !it.is_done());
        let open: Vec<SeatId> = open.map(|it| it.seat.clone()).collect();
        Ok(self.store.tell_panel(&table.panel.sitting, &open, now)?)
    }

    /// What whoever pours needs, for the eyes of `reader`. Until it is told what is in the glasses, a taster of the
    /// panel who reads it is marked for ever: their notes are kept, and count only where nobody else tastes. So a
    /// taster reads it only after a yes.
    ///
    /// # Errors
    /// It was not told yet and nobody says who reads, the name is nearly that of somebody seated, or a taster of the
    /// panel reads without a yes; there is no such panel, or the store cannot be written.
    pub fn read_pouring_sheet(
        &mut self,
        number: u32,
        reader: Option<&str>,
        taster_reads: TasterReads,
    ) -> Result<PouringSheet, WorkflowError> {
        let table = self.panel_table(number)?;
        if table.phase() != PanelPhase::Told {
            let reader = reader.ok_or(PanelError::WhoReads { number })?;
            match table.person(reader) {
                Ok(person) if person.role == SeatRole::PouringTaster => {}
                Ok(person) if taster_reads == TasterReads::NotYet => {
                    let name = person.taster.name.to_string();
                    return Err(PanelError::TastesHere { number, name }.into());
                }
                Ok(person) => self.mark_reader(&table, &person.seat)?,
                Err(_) => self.ensure_outside(&table, reader)?,
            }
        }
        self.pouring_sheet(number)
    }

    /// Lets pass who is somebody else than the tasters of a panel: a taster who is kept under just this name, or
    /// somebody whose name is like none of theirs. A slip of the pen must not read the key unmarked.
    fn ensure_outside(&self, table: &PanelTable, reader: &str) -> Result<(), WorkflowError> {
        let kept = self.tasters()?;
        if kept.iter().any(|it| is_typed(&it.name, reader)) {
            return Ok(());
        }
        let seated = table.people.iter().map(|it| it.taster.name.as_str());
        let near = nearest_names(reader, seated, table.people.len());
        if near.is_empty() {
            return Ok(());
        }
        Err(PanelError::NearReader {
            number: table.panel.number,
            name: reader.trim().chars().take(60).collect(),
            near: near.into_iter().map(str::to_owned).collect(),
        }
        .into())
    }

    /// Keeps that a taster has seen the key, in the seat and in every set of notes that is still open.
    fn mark_reader(&mut self, table: &PanelTable, seat: &SeatId) -> Result<(), WorkflowError> {
        let now = self.now();
        let mut open = self.store.open_notes_of_sitting(&table.panel.sitting)?;
        open.retain(|it| it.seat == *seat && it.seal_broken_at.is_none());
        self.store.in_one_go(|store| {
            store.break_seat_seal(seat, now)?;
            let mut open = open.iter();
            open.try_for_each(|it| store.change_notes(&it.notes, &[NotesChange::SealBroken(now)]))
        })?;
        Ok(())
    }

    /// What whoever pours needs. Who reads it knows the key.
    ///
    /// # Errors
    /// There is no such panel, or the store cannot be read.
    pub fn pouring_sheet(&self, number: u32) -> Result<PouringSheet, WorkflowError> {
        let table = self.panel_table(number)?;
        let samples = self.store.samples_of(&table.panel.sitting)?;
        let beers = self.beers_of(&samples)?;
        let each = table.panel.glass.get() * table.people.len() as f64;
        let mut glasses = Vec::new();
        let mut needed: Vec<(Name, f64)> = Vec::new();
        for sample in &samples {
            let Some(beer) = beers.iter().find(|it| it.id == sample.beer) else {
                continue;
            };
            let mark = &beer.cap_mark;
            match needed.iter_mut().find(|it| it.0 == *mark) {
                Some(row) => row.1 += each,
                None => needed.push((mark.clone(), each)),
            }
            glasses.push(PouredGlass {
                code: sample.code,
                beer: mark.clone(),
            });
        }
        glasses.sort_by_key(|it| it.code);
        needed.sort_by(|one, other| one.0.as_str().cmp(other.0.as_str()));
        let mut orders = Vec::new();
        for person in &table.people {
            let order = self.codes_of(&person.seat, &samples)?;
            orders.push((person.taster.name.clone(), order));
        }
        Ok(PouringSheet {
            allergens: self.allergens_of(&beers)?,
            panel: table.panel,
            glasses,
            needed,
            orders,
        })
    }

    /// What the beers of a panel may hold, joined so that none is given away.
    ///
    /// # Errors
    /// There is no such panel, or the store cannot be read.
    pub fn panel_allergens(&self, number: u32) -> Result<String, WorkflowError> {
        let table = self.panel_table(number)?;
        let samples = self.store.samples_of(&table.panel.sitting)?;
        self.allergens_of(&self.beers_of(&samples)?)
    }

    /// The codes before a seat in their order.
    pub(super) fn codes_of(
        &self,
        seat: &SeatId,
        samples: &[Sample],
    ) -> Result<Vec<BlindingCode>, WorkflowError> {
        let code = |id: SampleId| samples.iter().find(|it| it.id == id).map(|it| it.code);
        Ok(self
            .store
            .serving(seat)?
            .into_iter()
            .filter_map(code)
            .collect())
    }

    /// The beers in some glasses, each once, in the order of their marks.
    pub(super) fn beers_of(&self, samples: &[Sample]) -> Result<Vec<Beer>, WorkflowError> {
        let mut ids: Vec<&BeerId> = Vec::new();
        for sample in samples {
            if !ids.contains(&&sample.beer) {
                ids.push(&sample.beer);
            }
        }
        let mut beers = Vec::new();
        for id in ids {
            beers.extend(self.store.beer(id)?);
        }
        beers.sort_by(|one: &Beer, other| one.cap_mark.as_str().cmp(other.cap_mark.as_str()));
        Ok(beers)
    }
}
