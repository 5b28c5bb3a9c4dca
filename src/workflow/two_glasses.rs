//! Two beers side by side under codes: poured, tasted stage by stage, and opened together.

use crate::domain::Beer;
use crate::domain::BlindingCode;
use crate::domain::Form;
use crate::domain::Name;
use crate::domain::Notes;
use crate::domain::NotesChange;
use crate::domain::NotesId;
use crate::domain::NotesSource;
use crate::domain::Sample;
use crate::domain::SampleId;
use crate::domain::Seat;
use crate::domain::SeatRole;
use crate::domain::Sitting;
use crate::domain::SittingId;
use crate::domain::SittingKind;
use crate::domain::Taster;
use crate::storage::NotesRow;
use crate::workflow::Home;
use crate::workflow::Tasting;
use crate::workflow::WorkflowError;
use crate::workflow::tasting::change_open;
use crate::workflow::tasting::close_if_done;

/// Who fills the two cups.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pourer {
    /// Somebody else, out of sight: the taster sees the codes.
    SomebodyElse,
    /// The taster, who shuffles the cups afterwards: the codes are underneath.
    Taster,
}

/// Which cup turned out to be which.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cups {
    /// The codes were seen all along.
    InSight,
    /// This code was under the left cup.
    LeftIs(BlindingCode),
}

/// One taster's two glasses under way, in the order of tasting.
#[derive(Debug, Clone, PartialEq)]
pub struct TwoGlasses {
    /// The first glass, or the left cup; and the other one.
    pub tastings: [Tasting; 2],
    /// Who poured.
    pub pourer: Pourer,
}

impl TwoGlasses {
    /// The codes, the smaller one first: their order says nothing.
    #[must_use]
    pub fn codes(&self) -> [BlindingCode; 2] {
        let mut codes = self.tastings.each_ref().map(|it| it.code);
        codes.sort();
        codes
    }

    /// True if the cups stand the other way round than was assumed.
    fn turned(&self, cups: Cups) -> Result<bool, WorkflowError> {
        let [left, right] = self.tastings.each_ref().map(|it| it.code);
        match cups {
            Cups::InSight => Ok(false),
            Cups::LeftIs(code) if code == left => Ok(false),
            Cups::LeftIs(code) if code == right => Ok(true),
            Cups::LeftIs(code) => Err(WorkflowError::NoSuchCup { code }),
        }
    }
}

impl Home {
    /// Opens a tasting of two beers beside each other, or resumes this taster's own, or joins the one
    /// that somebody else pours for the table.
    ///
    /// # Errors
    /// A name is refused, both are one beer, or the store cannot be written.
    pub fn start_two_glasses(
        &mut self,
        taster: &Taster,
        marks: [&str; 2],
        source: NotesSource,
        pourer: Pourer,
    ) -> Result<TwoGlasses, WorkflowError> {
        for mark in marks {
            Name::new("a cap mark", mark)?;
        }
        let beers = [self.beer_or_new(marks[0])?, self.beer_or_new(marks[1])?];
        if beers[0].id == beers[1].id {
            return Err(WorkflowError::SameBeer {
                mark: beers[0].cap_mark.to_string(),
            });
        }
        let open = self.open_pairs(&beers)?;
        if let Some(own) = open.iter().find(|row| row.taster.id == taster.id) {
            return self.two_glasses(&own.notes);
        }
        let poured = open.iter().rev().find(|row| row.role == SeatRole::Taster);
        let notes = match (pourer, poured) {
            (Pourer::SomebodyElse, Some(row)) => self.join_pair(taster, row, source)?,
            _ => self.open_pair(taster, &beers, source, pourer)?,
        };
        self.two_glasses(&notes)
    }

    /// The open notes on the first of two beers in sittings that hold both.
    fn open_pairs(&self, beers: &[Beer; 2]) -> Result<Vec<NotesRow>, WorkflowError> {
        let mut pairs = Vec::new();
        for row in self.store.open_notes_of_beer(&beers[0].id)? {
            if row.kind == SittingKind::TwoGlasses {
                let samples = self.store.samples_of(&row.sitting)?;
                if samples.iter().any(|it| it.beer == beers[1].id) {
                    pairs.push(row);
                }
            }
        }
        Ok(pairs)
    }

    fn open_pair(
        &mut self,
        taster: &Taster,
        beers: &[Beer; 2],
        source: NotesSource,
        pourer: Pourer,
    ) -> Result<NotesId, WorkflowError> {
        let sitting = Sitting {
            id: SittingId::new(self.draw_id()),
            kind: SittingKind::TwoGlasses,
            seed: self.dice.seed(),
            made_at: self.now(),
            closed_at: None,
        };
        let samples = self.draw_samples(&sitting, beers)?;
        let mut order: Vec<&Sample> = samples.iter().collect();
        if self.dice.whole(0, 1) == 1 {
            order.reverse();
        }
        let (seat, notes) = self.seated(taster, &sitting.id, &order, source, pourer);
        self.store.in_one_go(|store| {
            store.add_sitting(&sitting, &samples)?;
            store.join_sitting(&seat, &notes[0])?;
            store.add_notes(&notes[1])?;
            if pourer == Pourer::SomebodyElse {
                store.add_serving(&seat.id, &notes.each_ref().map(|it| it.sample.clone()))?;
            }
            Ok::<(), WorkflowError>(())
        })?;
        Ok(notes[0].id.clone())
    }

    fn draw_samples(
        &mut self,
        sitting: &Sitting,
        beers: &[Beer; 2],
    ) -> Result<Vec<Sample>, WorkflowError> {
        let codes = self.draw_codes()?;
        let samples = beers.iter().zip(codes).map(|(beer, code)| Sample {
            id: SampleId::new(self.draw_id()),
            sitting: sitting.id.clone(),
            code,
            beer: beer.id.clone(),
            duplicate_of: None,
        });
        Ok(samples.collect())
    }

    /// A place at the table where these two are poured already; whoever comes next tastes them in the
    /// other order.
    fn join_pair(
        &mut self,
        taster: &Taster,
        row: &NotesRow,
        source: NotesSource,
    ) -> Result<NotesId, WorkflowError> {
        let samples = self.store.samples_of(&row.sitting)?;
        let before = self.store.serving(&row.seat)?;
        let mut order: Vec<&Sample> = samples.iter().collect();
        if before.first() == order.first().map(|it| &it.id) {
            order.reverse();
        }
        let pourer = Pourer::SomebodyElse;
        let (seat, notes) = self.seated(taster, &row.sitting, &order, source, pourer);
        self.store.in_one_go(|store| {
            store.join_sitting(&seat, &notes[0])?;
            store.add_notes(&notes[1])?;
            store.add_serving(&seat.id, &notes.each_ref().map(|it| it.sample.clone()))?;
            Ok::<(), WorkflowError>(())
        })?;
        Ok(notes[0].id.clone())
    }

    fn seated(
        &mut self,
        taster: &Taster,
        sitting: &SittingId,
        order: &[&Sample],
        source: NotesSource,
        pourer: Pourer,
    ) -> (Seat, [Notes; 2]) {
        let mut seat = self.new_seat(taster, sitting);
        if pourer == Pourer::Taster {
            seat.role = SeatRole::PouringTaster;
        }
        let notes = [0, 1].map(|at: usize| {
            let sample: &Sample = order[at];
            self.new_notes(&seat, sample, 1, Form::Full, source)
        });
        (seat, notes)
    }

    /// Two codes that say nothing: no digit twice in one, none beside its neighbour in counting, and
    /// different first digits, so that a glance tells the cups apart.
    fn draw_codes(&mut self) -> Result<[BlindingCode; 2], WorkflowError> {
        let mut codes: Vec<u16> = Vec::new();
        while codes.len() < 2 {
            let drawn = u16::try_from(self.dice.whole(100, 999)).unwrap_or(100);
            let digits = [drawn / 100, drawn / 10 % 10, drawn % 10];
            let plain = digits.windows(2).all(|it| it[0].abs_diff(it[1]) > 1);
            let apart = codes.iter().all(|it| it / 100 != digits[0]);
            if plain && apart && digits[0] != digits[2] {
                codes.push(drawn);
            }
        }
        Ok([BlindingCode::new(codes[0])?, BlindingCode::new(codes[1])?])
    }

    /// The two glasses to which these notes belong.
    ///
    /// # Errors
    /// The store cannot be read, or the tasting is not open any more.
    pub fn two_glasses(&self, notes: &NotesId) -> Result<TwoGlasses, WorkflowError> {
        let (_, row, _) = self.store.notes_with_row(notes)?;
        let mut open = self.store.open_notes_of_sitting(&row.sitting)?;
        open.retain(|it| it.seat == row.seat);
        let [first, second] = open.as_slice() else {
            return Err(WorkflowError::Left {
                mark: "two glasses".to_owned(),
            });
        };
        let pourer = match row.role {
            SeatRole::PouringTaster => Pourer::Taster,
            SeatRole::Taster | SeatRole::Pourer | SeatRole::Server => Pourer::SomebodyElse,
        };
        Ok(TwoGlasses {
            tastings: [self.tasting(&first.notes)?, self.tasting(&second.notes)?],
            pourer,
        })
    }

    /// What goes into which cup, for the eyes of whoever pours, by rising code.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn pouring(&self, two: &TwoGlasses) -> Result<Vec<(BlindingCode, Name)>, WorkflowError> {
        let (_, row, _) = self.store.notes_with_row(&two.tastings[0].notes.id)?;
        let mut cups = Vec::new();
        for sample in self.store.samples_of(&row.sitting)? {
            if let Some(beer) = self.store.beer(&sample.beer)? {
                cups.push((sample.code, beer.cap_mark));
            }
        }
        cups.sort_by_key(|(code, _)| *code);
        Ok(cups)
    }

    /// Makes the notes on both glasses final, after the cups were turned over if nobody saw their
    /// codes. Gives what each glass held, in the order of tasting.
    ///
    /// # Errors
    /// A code is not one of the two, the tasting was left, or the store cannot be written; nothing
    /// is locked then.
    pub fn lock_two(
        &mut self,
        two: &mut TwoGlasses,
        cups: Cups,
    ) -> Result<Vec<(BlindingCode, Name)>, WorkflowError> {
        let now = self.now();
        let [first, second] = &two.tastings;
        let turned = two.turned(cups)?;
        self.store.in_one_go(|store| {
            if turned {
                store.exchange_samples(&first.notes, &second.notes)?;
            }
            for tasting in &two.tastings {
                change_open(store, tasting, &[NotesChange::Locked(now)])?;
            }
            if two.pourer == Pourer::Taster {
                let mut order = [first, second].map(|it| it.notes.sample.clone());
                if turned {
                    order.reverse();
                }
                store.add_serving(&first.notes.seat, &order)?;
            }
            close_if_done(store, &first.notes.id, now)
        })?;
        let mut held = Vec::new();
        for tasting in &mut two.tastings {
            let (notes, row, sample) = self.store.notes_with_row(&tasting.notes.id)?;
            held.push((sample.code, row.beer.cap_mark.clone()));
            tasting.notes = notes;
            tasting.cap_mark = row.beer.cap_mark;
            tasting.code = sample.code;
        }
        Ok(held)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Rating;
    use crate::domain::Scale;
    use crate::workflow::Tasters;

    fn rated(scale: &str, value: f64) -> NotesChange {
        let scale = Scale::from_id(scale).unwrap();
        NotesChange::Rated(scale, Some(Rating::Rated(value)))
    }

    #[test]
    fn what_is_stored_for_both_glasses_is_stored_for_neither_if_one_refuses() {
        let mut home = Home::trial();
        let mut two = opened(&mut home, "Ana");
        let [first, second] = &mut two.tastings;
        let before = first.notes.clone();
        // No notes of this name are kept, as if the second glass had been taken away.
        second.notes.id = NotesId::new("gone");
        let bitter = [rated("bitter", 4.0)];
        let refused = home.change_two([(&mut *first, &bitter), (second, &bitter)]);
        assert!(refused.is_err());
        assert_eq!(first.notes, before);
        assert_eq!(home.tasting(&before.id).unwrap().notes, before);
    }

    fn opened(home: &mut Home, taster: &str) -> TwoGlasses {
        let taster = home.taster_or_new(taster).unwrap();
        let marks = ["Gate", "Barn"];
        let source = NotesSource::App;
        home.start_two_glasses(&taster, marks, source, Pourer::SomebodyElse)
            .unwrap()
    }

    #[test]
    fn a_beer_tasted_alone_never_resumes_the_glass_of_two_that_holds_it() {
        let mut home = Home::trial();
        let two = opened(&mut home, "Ana");
        let ana = two.tastings[0].taster.clone();
        let alone = home.start_tasting(&ana, "Gate", NotesSource::App).unwrap();
        assert!(two.tastings.iter().all(|it| it.notes.id != alone.notes.id));
        assert_eq!(alone.glass.to_string(), "Gate");
        let again = opened(&mut home, "Ana");
        assert_eq!(again, two);
    }

    #[test]
    fn both_beers_are_sealed_until_both_notes_are_locked_together() {
        let mut home = Home::trial();
        let mut two = opened(&mut home, "Ana");
        for mark in ["Gate", "Barn"] {
            let beer = home.beer(mark).unwrap();
            assert!(home.is_plan_sealed(&beer).unwrap());
        }
        let held = home.lock_two(&mut two, Cups::InSight).unwrap();
        assert_eq!(held.len(), 2);
        for mark in ["Gate", "Barn"] {
            let beer = home.beer(mark).unwrap();
            assert!(!home.is_plan_sealed(&beer).unwrap());
        }
    }

    #[test]
    fn a_code_that_is_under_neither_cup_locks_nothing() {
        let mut home = Home::trial();
        let ana = home.taster_or_new("Ana").unwrap();
        let marks = ["Gate", "Barn"];
        let mut two = home
            .start_two_glasses(&ana, marks, NotesSource::App, Pourer::Taster)
            .unwrap();
        let wrong = (100..=999)
            .map(|it| BlindingCode::new(it).unwrap())
            .find(|it| !two.codes().contains(it))
            .unwrap();
        let refused = home.lock_two(&mut two, Cups::LeftIs(wrong));
        assert!(matches!(refused, Err(WorkflowError::NoSuchCup { .. })));
        assert_eq!(home.open_tastings().unwrap().len(), 2);
    }

    #[test]
    fn glasses_side_by_side_count_alone_and_only_where_both_have_a_number() {
        let mut home = Home::trial();
        let ana = home.taster_or_new("Ana").unwrap();
        for (mark, value) in [("Gate", 9.0), ("Barn", 0.0)] {
            let mut alone = home.start_tasting(&ana, mark, NotesSource::App).unwrap();
            home.change(&mut alone, &[rated("bitter", value)]).unwrap();
            home.lock(&mut alone).unwrap();
        }
        assert_eq!(
            home.versus("Gate", "Barn").unwrap().tasters,
            Tasters::Shared
        );
        let mut two = opened(&mut home, "Ana");
        for tasting in &mut two.tastings {
            let is_gate = tasting.cap_mark.as_str() == "Gate";
            let bitter = if is_gate { 4.0 } else { 6.0 };
            home.change(tasting, &[rated("bitter", bitter)]).unwrap();
            if is_gate {
                home.change(tasting, &[rated("sweet", 3.0)]).unwrap();
            }
        }
        home.lock_two(&mut two, Cups::InSight).unwrap();
        let both = home.versus("Gate", "Barn").unwrap();
        assert_eq!((both.tasters, both.glasses), (Tasters::SideBySide, [1, 1]));
        let bitter = both.lines.iter().find(|it| it.id == "bitter").unwrap();
        assert_eq!(bitter.means, [Some(4.0), Some(6.0)]);
        assert!(both.lines.iter().all(|it| it.id != "sweet"));
    }
}
