//! Who sits where at a blind test: places are taken by number, by the codes on the cups, or in order.

use crate::domain::BlindingCode;
use crate::domain::Pouring;
use crate::domain::Seat;
use crate::domain::SeatRole;
use crate::domain::TakenPlace;
use crate::domain::Taster;
use crate::domain::TasterId;
use crate::workflow::BlindError;
use crate::workflow::GoesOn;
use crate::workflow::Home;
use crate::workflow::PlaceAtTest;
use crate::workflow::PlannedTest;
use crate::workflow::WorkflowError;

/// Which place somebody takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TakePlace {
    /// The first one that is free.
    NextFree,
    /// The one with this number.
    Numbered(u16),
    /// The one before which the cup with this code stands.
    Holding(BlindingCode),
}

/// How far a test has come. How many answers are right is not in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TestProgress {
    /// Answers given.
    pub given: usize,
    /// Answers planned.
    pub planned: usize,
    /// Tasters who sit at the test and have not left.
    pub here: usize,
}

/// A taster before a place is taken.
struct Arrival {
    planned: PlannedTest,
    taster: Taster,
    own: Option<TakenPlace>,
    free: Vec<u16>,
}

impl Home {
    /// Takes a place of a test for a taster, or comes back to one that was not left.
    ///
    /// # Errors
    /// The test is closed or full, the place is taken, the taster has seen the key or left already,
    /// or the store cannot be written.
    pub fn sit_down(
        &mut self,
        number: u32,
        name: &str,
        which: TakePlace,
    ) -> Result<PlaceAtTest, WorkflowError> {
        let arrival = self.arrival(number, name)?;
        let place = arrival.place(which)?;
        let Arrival {
            planned,
            taster,
            own,
            ..
        } = arrival;
        if let Some(own) = own {
            return self.place_at(&planned, taster, own.place, own.seat);
        }
        let seat = Seat {
            role: SeatRole::Taster,
            ..self.new_seat(&taster, &planned.test.sitting)
        };
        self.store.take_test_place(&planned.test.id, place, &seat)?;
        self.place_at(&planned, taster, place, seat.id)
    }

    /// The places a taster may choose from; none for one who has a place already.
    ///
    /// # Errors
    /// As for sitting down.
    pub fn free_places(&mut self, number: u32, name: &str) -> Result<Vec<u16>, WorkflowError> {
        let arrival = self.arrival(number, name)?;
        Ok(match arrival.own {
            Some(_) => Vec::new(),
            None => arrival.free,
        })
    }

    /// How far a test has come.
    ///
    /// # Errors
    /// There is no such test, or the store cannot be read.
    pub fn test_progress(&self, number: u32) -> Result<TestProgress, WorkflowError> {
        let planned = self.planned_test(number)?;
        let taken = self.store.taken_places(&planned.test.id)?;
        Ok(TestProgress {
            given: self.store.answers(&planned.test.id)?.len(),
            planned: planned.sets.len(),
            here: taken.iter().filter(|it| it.0.left_at.is_none()).count(),
        })
    }

    /// Who wants to sit down, with everything that may stand against it looked at.
    fn arrival(&mut self, number: u32, name: &str) -> Result<Arrival, WorkflowError> {
        let planned = self.open_test(number)?;
        let taster = self.taster_or_new(name)?;
        let name = || taster.name.to_string();
        let alone = planned.test.pouring == Pouring::Alone;
        if !alone && self.store.key_seen(&planned.test.sitting, &taster.id)? {
            let name = name();
            return Err(BlindError::SawTheKey { number, name }.into());
        }
        let taken = self.store.taken_places(&planned.test.id)?;
        let own = own_place(&taken, &taster.id);
        if own.as_ref().is_some_and(|it| it.left_at.is_some()) {
            let name = name();
            return Err(BlindError::Answered { number, name }.into());
        }
        let is_free = |it: &u16| taken.iter().all(|row| row.0.place != *it);
        let free: Vec<u16> = (1..=planned.test.places).filter(is_free).collect();
        if own.is_none() && self.goes_on(number)? == GoesOn::Stop {
            return Err(BlindError::Settled { number }.into());
        }
        if own.is_none() && free.is_empty() {
            let places = planned.test.places;
            return Err(BlindError::Full { number, places }.into());
        }
        Ok(Arrival {
            planned,
            taster,
            own,
            free,
        })
    }
}

fn own_place(taken: &[(TakenPlace, TasterId)], taster: &TasterId) -> Option<TakenPlace> {
    let own = taken.iter().find(|it| it.1 == *taster);
    own.map(|it| it.0.clone())
}

impl Arrival {
    /// The place that is meant.
    fn place(&self, which: TakePlace) -> Result<u16, BlindError> {
        let number = self.planned.test.number;
        let next = self.own.as_ref().map(|it| it.place);
        let next = next.or_else(|| self.free.first().copied());
        let wanted = match which {
            TakePlace::NextFree => None,
            TakePlace::Numbered(place) => Some(place),
            TakePlace::Holding(code) if self.own.is_none() => {
                let found = self.planned.place_of(code);
                Some(found.ok_or(BlindError::NoSuchCup { number, code })?)
            }
            TakePlace::Holding(code) => self.planned.place_of(code),
        };
        match (wanted, &self.own) {
            (Some(wanted), Some(own)) if wanted != own.place => Err(BlindError::SitsElsewhere {
                number,
                name: self.taster.name.to_string(),
                place: own.place,
            }),
            (Some(wanted), None) if !self.free.contains(&wanted) => Err(BlindError::NotFree {
                number,
                place: wanted,
                free: self.free.iter().map(u16::to_string).collect(),
            }),
            (wanted, _) => wanted.or(next).ok_or(BlindError::Full {
                number,
                places: self.planned.test.places,
            }),
        }
    }
}

impl PlannedTest {
    /// The place before which the cup with this code stands.
    fn place_of(&self, code: BlindingCode) -> Option<u16> {
        let sample = self.samples.iter().find(|it| it.code == code)?;
        let mut sets = self.sets.iter();
        let set = sets.find(|it| it.samples.contains(&sample.id));
        set.map(|it| it.place)
    }
}
