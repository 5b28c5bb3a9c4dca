//! Panels with their drawn orders, who sits at them, and which of their glasses still wait.

use rusqlite::Row;
use rusqlite::params;

use crate::domain::Beer;
use crate::domain::Form;
use crate::domain::Millilitres;
use crate::domain::Moment;
use crate::domain::Panel;
use crate::domain::Sample;
use crate::domain::SampleId;
use crate::domain::Seat;
use crate::domain::SeatId;
use crate::domain::SeatRole;
use crate::domain::Sitting;
use crate::domain::SittingId;
use crate::domain::Taster;
use crate::domain::TasterId;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::beers;
use crate::storage::row;

/// Every read of a panel asks for the same columns.
const SELECT: &str = "SELECT * FROM panel WHERE removed_at IS NULL";

/// One taster's seat at a panel.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PanelSeat {
    /// The seat.
    pub seat: Seat,
    /// Who sits there.
    pub taster: Taster,
    /// When the seal of a glass of theirs was broken, if it was.
    pub key_seen_at: Option<Moment>,
}

/// A glass before a taster of a panel who has not left, while nobody was told what was in the glasses.
#[derive(Debug, Clone, PartialEq)]
pub struct WaitingGlass {
    /// The number of the panel.
    pub number: u32,
    /// The seat.
    pub seat: SeatId,
    /// Who sits there.
    pub taster: Taster,
    /// What is in the glass.
    pub beer: Beer,
    /// When the seal of a glass of this seat was broken, if it was.
    pub key_seen_at: Option<Moment>,
}

impl Store {
    /// Adds a panel with its sitting, its glasses and its people, each with the drawn order of their
    /// glasses.
    ///
    /// # Errors
    /// A beer or taster is not stored, the number is taken, or the file refuses; nothing is stored then.
    pub fn add_panel(
        &mut self,
        panel: &Panel,
        sitting: &Sitting,
        samples: &[Sample],
        seats: &[(Seat, Vec<SampleId>)],
    ) -> Result<(), StorageError> {
        self.in_one_go(|store| {
            store.add_sitting(sitting, samples)?;
            store.run(
                "plan a panel",
                "INSERT INTO panel (sitting, number, form, glass_ml, poured_by, made_at)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
                params![
                    panel.sitting.as_str(),
                    panel.number,
                    panel.form.id(),
                    panel.glass.get(),
                    panel.poured_by.as_ref().map(TasterId::as_str),
                    panel.made_at.to_string(),
                ],
            )?;
            for (seat, order) in seats {
                store.add_seat(seat)?;
                store.add_serving(&seat.id, order)?;
            }
            Ok(())
        })
    }

    /// The panel with this number.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn panel_numbered(&self, number: u32) -> Result<Option<Panel>, StorageError> {
        let query = format!("{SELECT} AND number = ?1");
        self.first("read a panel", &query, [number], panel)
    }

    /// The panel of this sitting.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn panel_of(&self, sitting: &SittingId) -> Result<Option<Panel>, StorageError> {
        let query = format!("{SELECT} AND sitting = ?1");
        self.first("read a panel", &query, [sitting.as_str()], panel)
    }

    /// All panels, by their numbers.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn panels(&self) -> Result<Vec<Panel>, StorageError> {
        let query = format!("{SELECT} ORDER BY number");
        self.all("list panels", &query, [], panel)
    }

    /// The seats of a panel, in the order in which its people were named.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn panel_seats(&self, sitting: &SittingId) -> Result<Vec<PanelSeat>, StorageError> {
        self.all(
            "read who sits at a panel",
            "SELECT seat.id AS seat, seat.sitting, seat.role, seat.left_at, seat.key_seen_at,
                 taster.id, taster.name, taster.made_at
             FROM seat JOIN taster ON taster.id = seat.taster
             WHERE seat.sitting = ?1 ORDER BY seat.rowid",
            [sitting.as_str()],
            panel_seat,
        )
    }

    /// The glasses of every panel that was not told yet, before every taster who has not left. Those with
    /// locked notes are among them: what is known of one glass would give away the others.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn waiting_glasses(&self) -> Result<Vec<WaitingGlass>, StorageError> {
        self.all(
            "read the glasses that wait",
            "SELECT panel.number, seat.id AS seat, seat.key_seen_at,
                 taster.id, taster.name, taster.made_at,
                 beer.id AS beer, beer.cap_mark, beer.batch, beer.abv
             FROM panel
             JOIN seat ON seat.sitting = panel.sitting
             JOIN taster ON taster.id = seat.taster
             JOIN serving ON serving.seat = seat.id
             JOIN sample ON sample.id = serving.sample
             JOIN beer ON beer.id = sample.beer
             WHERE panel.told_at IS NULL AND panel.removed_at IS NULL AND seat.left_at IS NULL
             ORDER BY panel.number, seat.rowid, serving.position",
            [],
            |row| {
                Ok(WaitingGlass {
                    number: row.get("number")?,
                    seat: row::id(row, "seat", SeatId::new)?,
                    taster: taster(row)?,
                    beer: beers::beer(row, "beer")?,
                    key_seen_at: row::moment_or_none(row, "key_seen_at")?,
                })
            },
        )
    }

    /// Keeps that the seal of a seat's glasses was broken; the first time is the one that counts.
    ///
    /// # Errors
    /// The file refuses.
    pub fn break_seat_seal(&mut self, seat: &SeatId, at: Moment) -> Result<(), StorageError> {
        self.in_one_go(|store| {
            store.run(
                "keep a broken seal",
                "UPDATE seat SET key_seen_at = coalesce(key_seen_at, ?2) WHERE id = ?1",
                [seat.as_str(), &at.to_string()],
            )?;
            Ok(())
        })
    }

    /// Keeps that it was told what was in the glasses of a panel, closes its sitting, lets these seats leave, and
    /// takes away what was begun after the talk and not locked. The first telling is the one that counts.
    ///
    /// # Errors
    /// The panel or a seat is not stored, or the file refuses; nothing is stored then.
    pub fn tell_panel(
        &mut self,
        sitting: &SittingId,
        left: &[SeatId],
        at: Moment,
    ) -> Result<(), StorageError> {
        let step = "tell what was in the glasses";
        self.in_one_go(|store| {
            let changed = store.run(
                step,
                "UPDATE panel SET told_at = coalesce(told_at, ?2) WHERE sitting = ?1",
                [sitting.as_str(), &at.to_string()],
            )?;
            if changed == 0 {
                return Err(StorageError::Missing {
                    step,
                    what: "the panel",
                    id: sitting.to_string(),
                });
            }
            for seat in left {
                store.leave_seat(seat, at)?;
            }
            store.run(
                step,
                "DELETE FROM notes WHERE round > 1 AND locked_at IS NULL
                     AND seat IN (SELECT id FROM seat WHERE sitting = ?1)",
                [sitting.as_str()],
            )?;
            store.close_sitting(sitting, at)
        })
    }
}

fn panel(row: &Row<'_>) -> rusqlite::Result<Panel> {
    let glass: f64 = row.get("glass_ml")?;
    Ok(Panel {
        sitting: row::id(row, "sitting", SittingId::new)?,
        number: row.get("number")?,
        form: row::text(row, "form", Form::from_id)?,
        glass: Millilitres::new(glass).map_err(|it| row::unreadable("glass_ml", &it))?,
        poured_by: row::id_or_none(row, "poured_by", TasterId::new)?,
        made_at: row::moment(row, "made_at")?,
        told_at: row::moment_or_none(row, "told_at")?,
    })
}

fn taster(row: &Row<'_>) -> rusqlite::Result<Taster> {
    Ok(Taster {
        id: row::id(row, "id", TasterId::new)?,
        name: row::name(row, "name")?,
        made_at: row::moment(row, "made_at")?,
    })
}

fn panel_seat(row: &Row<'_>) -> rusqlite::Result<PanelSeat> {
    let taster = taster(row)?;
    Ok(PanelSeat {
        seat: Seat {
            id: row::id(row, "seat", SeatId::new)?,
            sitting: row::id(row, "sitting", SittingId::new)?,
            taster: taster.id.clone(),
            role: row::text(row, "role", SeatRole::from_id)?,
            left_at: row::moment_or_none(row, "left_at")?,
        },
        taster,
        key_seen_at: row::moment_or_none(row, "key_seen_at")?,
    })
}
