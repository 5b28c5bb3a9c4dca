//! The sheets of a blind test: what goes into which cup, labels, and ballots.

use crate::domain::BeerSide;
use crate::domain::BlindingCode;
use crate::domain::Name;
use crate::domain::Pouring;
use crate::domain::Seat;
use crate::domain::SeatRole;
use crate::domain::SheetKind;
use crate::domain::TestSet;
use crate::statistics::Dice;
use crate::workflow::BlindError;
use crate::workflow::Home;
use crate::workflow::PlannedTest;
use crate::workflow::WorkflowError;

/// What a cup is filled from, as far as its sheet tells.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FilledFrom {
    /// The beer with this mark.
    Beer(Name),
    /// The jug with this letter.
    Jug(char),
}

/// One set on a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetRow {
    /// The place, from 1.
    pub place: u16,
    /// Which of its sets, from 1.
    pub round: u16,
    /// What is in the glass marked as the reference; on a ballot it is only said that there is one.
    pub reference: Option<Option<FilledFrom>>,
    /// The codes in the order of tasting, each with what goes in; nothing on a ballot.
    pub cups: Vec<(BlindingCode, Option<FilledFrom>)>,
}

/// A sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// The test.
    pub planned: PlannedTest,
    /// What it is for.
    pub kind: SheetKind,
    /// What is in each jug, where there are jugs.
    pub jugs: Vec<(char, Name)>,
    /// Millilitres of the first and of the second beer, all cups together.
    pub millilitres: [f64; 2],
    /// The sets.
    pub rows: Vec<SheetRow>,
}

impl Home {
    /// A sheet of a test. Whoever looks at what is in the cups is kept, and cannot answer any more.
    ///
    /// # Errors
    /// Nobody is named who looks, the person tastes in this test or has the other half of the key, or
    /// this way of pouring has no such sheet.
    pub fn sheet(
        &mut self,
        number: u32,
        kind: SheetKind,
        viewer: Option<&str>,
    ) -> Result<Sheet, WorkflowError> {
        let planned = self.planned_test(number)?;
        let pouring = planned.test.pouring;
        if kind == SheetKind::Server && pouring != Pouring::Two {
            let others = SheetKind::ALL.iter().filter(|it| **it != SheetKind::Server);
            return Err(BlindError::NoSuchSheet {
                number,
                pouring: pouring.word(),
                sheet: kind.word(),
                sheets: others.map(|it| it.id().to_owned()).collect(),
            }
            .into());
        }
        let tells = matches!(kind, SheetKind::Pourer | SheetKind::Server);
        if tells && planned.test.closed_at.is_none() {
            let name = viewer.ok_or(BlindError::NobodyLooks { sheet: kind.word() })?;
            self.look_at_key(&planned, kind, name)?;
        }
        Ok(planned.sheet(kind))
    }

    fn look_at_key(
        &mut self,
        planned: &PlannedTest,
        kind: SheetKind,
        name: &str,
    ) -> Result<(), WorkflowError> {
        let number = planned.test.number;
        let taster = self.taster_or_new(name)?;
        let name = || taster.name.to_string();
        let role = if kind == SheetKind::Server {
            SeatRole::Server
        } else {
            SeatRole::Pourer
        };
        let taken = self.store.taken_places(&planned.test.id)?;
        let tastes = taken.iter().any(|it| it.1 == taster.id);
        if tastes && planned.test.pouring != Pouring::Alone {
            return Err(BlindError::TastesHere {
                number,
                name: name(),
            }
            .into());
        }
        let holders = self.store.key_holders(&planned.test.sitting)?;
        let two = planned.test.pouring == Pouring::Two;
        if two && holders.iter().any(|it| it.0 == taster.id && it.1 != role) {
            return Err(BlindError::BothHalves {
                number,
                name: name(),
            }
            .into());
        }
        let seat = Seat {
            role,
            ..self.new_seat(&taster, &planned.test.sitting)
        };
        let now = self.now();
        Ok(self.store.see_key(&seat, now)?)
    }
}

impl PlannedTest {
    /// The letter of the jug of a beer: drawn, so that a letter tells nothing.
    fn jug(&self, side: BeerSide) -> char {
        let mut dice = Dice::from_seed(self.test.seed.wrapping_add(1));
        let first_is_x = dice.whole(0, 1) == 0;
        if (side == BeerSide::A) == first_is_x {
            'X'
        } else {
            'Y'
        }
    }

    fn mark(&self, side: BeerSide) -> Name {
        let [a, b] = &self.beers;
        match side {
            BeerSide::A => a.cap_mark.clone(),
            BeerSide::B => b.cap_mark.clone(),
        }
    }

    fn sheet(&self, kind: SheetKind) -> Sheet {
        let two = self.test.pouring == Pouring::Two;
        let mut jugs = Vec::new();
        if two && kind == SheetKind::Pourer {
            jugs.extend(
                BeerSide::ALL
                    .iter()
                    .map(|it| (self.jug(*it), self.mark(*it))),
            );
            jugs.sort_unstable_by_key(|it| it.0);
        }
        let rows: Vec<SheetRow> = match kind {
            SheetKind::Pourer if two => Vec::new(),
            _ => self
                .sets
                .iter()
                .map(|it| self.sheet_row(it, kind))
                .collect(),
        };
        Sheet {
            kind,
            jugs,
            millilitres: [BeerSide::A, BeerSide::B].map(|it| self.millilitres(it)),
            rows,
            planned: self.clone(),
        }
    }

    /// Millilitres of one beer in all cups of the test.
    fn millilitres(&self, side: BeerSide) -> f64 {
        let at = usize::from(side == BeerSide::B);
        let cups = self
            .samples
            .iter()
            .filter(|it| it.beer == self.test.beers[at]);
        let references = self.sets.iter().filter(|it| it.reference == Some(side));
        (cups.count() + references.count()) as f64 * self.test.glass.get()
    }

    fn sheet_row(&self, set: &TestSet, kind: SheetKind) -> SheetRow {
        let filled = |side: BeerSide| match kind {
            SheetKind::Pourer => Some(FilledFrom::Beer(self.mark(side))),
            SheetKind::Server => Some(FilledFrom::Jug(self.jug(side))),
            SheetKind::Labels | SheetKind::Ballots => None,
        };
        let cups = set.samples.iter().filter_map(|it| self.sample(it));
        SheetRow {
            place: set.place,
            round: set.round,
            reference: set.reference.map(filled),
            cups: cups
                .map(|it| {
                    let first = it.beer == self.test.beers[0];
                    let side = if first { BeerSide::A } else { BeerSide::B };
                    (it.code, filled(side))
                })
                .collect(),
        }
    }
}
