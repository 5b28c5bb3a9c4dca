//! Removing what was entered by mistake, and bringing it back for thirty days.

use std::collections::HashMap;

use crate::domain::Day;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::NotesId;
use crate::domain::Removal;
use crate::domain::RemovedKind;
use crate::domain::SittingId;
use crate::domain::SittingKind;
use crate::storage::NotesRow;
use crate::storage::Store;
use crate::workflow::Bytes;
use crate::workflow::Home;
use crate::workflow::PanelError;
use crate::workflow::RemovalError;
use crate::workflow::WorkflowError;
use crate::workflow::local_day;

/// Stands for the name of a recipe while a batch is tasted, which may be of that recipe.
const SEALED_NAME: &str = "whose name is sealed while a batch is tasted";

/// Something that shall be removed, as people name it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Removable {
    /// The batch with this cap mark.
    Batch(String),
    /// The beer with this mark that is no batch of one's own.
    Beer(String),
    /// A version of a recipe.
    Recipe {
        /// The name of the recipe.
        name: String,
        /// The name of the version.
        version: String,
    },
    /// The latest tasting of a beer by a taster.
    Tasting {
        /// The cap mark.
        mark: String,
        /// Who tasted.
        taster: String,
    },
    /// These notes.
    Notes(NotesId),
    /// The blind test of this number.
    Test(u32),
    /// The panel of this number.
    Panel(u32),
    /// The latest practice of a taster on a day.
    Practice {
        /// Who practised.
        taster: String,
        /// On which day, on the calendar of this machine.
        day: Day,
    },
    /// The course of this name.
    Course(String),
    /// The import of this number.
    Import(u32),
    /// A photograph of a beer.
    Photograph {
        /// The cap mark.
        mark: String,
        /// Its number.
        number: u32,
    },
}

impl Removable {
    /// What kind of thing it is.
    #[must_use]
    pub const fn kind(&self) -> RemovedKind {
        match self {
            Self::Batch(_) => RemovedKind::Batch,
            Self::Beer(_) => RemovedKind::Beer,
            Self::Recipe { .. } => RemovedKind::Recipe,
            Self::Tasting { .. } | Self::Notes(_) => RemovedKind::Tasting,
            Self::Test(_) => RemovedKind::Test,
            Self::Panel(_) => RemovedKind::Panel,
            Self::Practice { .. } => RemovedKind::Practice,
            Self::Course(_) => RemovedKind::Course,
            Self::Import(_) => RemovedKind::Import,
            Self::Photograph { .. } => RemovedKind::Photograph,
        }
    }
}

/// Something that was removed, and for how many days it is kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RemovedRow {
    /// What it is.
    pub removal: Removal,
    /// Whose tasting or practice it was; nobody's of anything else.
    pub tasters: Vec<Name>,
    /// Whole days left; less than one is none.
    pub days_left: u16,
    /// Whose notes carry the mark of a broken seal since it came back, because they are not locked.
    pub marked: Vec<String>,
}

/// Lets pass only what nothing stands on.
fn ensure_nothing_stands_on(
    kind: RemovedKind,
    (root, name): (&str, &str),
    store: &Store,
) -> Result<(), WorkflowError> {
    let held = store.held_by(kind, root)?;
    if held.is_empty() {
        return Ok(());
    }
    let (kind, name) = (kind.word(), name.to_owned());
    Err(RemovalError::StillHeld { kind, name, held }.into())
}

impl Home {
    /// Removes something with all that belongs to it. It is kept apart for thirty days.
    ///
    /// # Errors
    /// It is not there, something else stands on it, or the store cannot be written; nothing is removed then.
    pub fn remove(&mut self, what: &Removable) -> Result<RemovedRow, WorkflowError> {
        let (root, name) = self.root_of(what)?;
        let now = self.now();
        self.store.in_one_go(|store| {
            ensure_nothing_stands_on(what.kind(), (&root, &name), store)?;
            let removal = store.remove((what.kind(), &root), &name, now)?;
            let mut tasters = store.tasters_of_removals()?;
            Ok(row_of(removal, &mut tasters, now))
        })
    }

    /// Lets pass only what could be removed now, so that nobody is asked about what cannot be done.
    ///
    /// # Errors
    /// As [`Home::remove`].
    pub fn ensure_removable(&self, what: &Removable) -> Result<(), WorkflowError> {
        let (root, name) = self.root_of(what)?;
        ensure_nothing_stands_on(what.kind(), (&root, &name), &self.store)
    }

    /// True where this keeps something sealed now. Removed it seals nothing, and brought back it does not seal again.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn keeps_sealed(&self, what: &Removable) -> Result<bool, WorkflowError> {
        Ok(match what {
            Removable::Notes(notes) => {
                let open = self.open_notes()?;
                let mut own = open.iter().filter(|it| it.notes == *notes);
                own.any(|it| it.seal_broken_at.is_none())
            }
            Removable::Panel(number) => {
                let waiting = self.store.waiting_glasses()?;
                let mut own = waiting.iter().filter(|it| it.number == *number);
                own.any(|it| it.key_seen_at.is_none())
            }
            _ => false,
        })
    }

    /// The id of what shall be removed, and what people call it. No taster is named in what is kept: names change, and
    /// are forgotten.
    fn root_of(&self, what: &Removable) -> Result<(String, String), WorkflowError> {
        Ok(match what {
            Removable::Batch(mark) => {
                let batch = self.batch(mark)?;
                (batch.id.to_string(), batch.cap_mark.to_string())
            }
            Removable::Beer(mark) => self.beer_to_remove(mark)?,
            Removable::Recipe { name, version } => self.version_to_remove(name, version)?,
            Removable::Tasting { mark, taster } => {
                root_of_notes(&self.tasting_to_remove(mark, taster)?)?
            }
            Removable::Notes(id) => root_of_notes(&self.store.notes_with_row(id)?.1)?,
            Removable::Test(number) => {
                let test = self.planned_test(*number)?.test;
                (test.sitting.to_string(), number.to_string())
            }
            Removable::Panel(number) => {
                let sitting = self.panel_sitting(*number)?;
                (sitting.to_string(), number.to_string())
            }
            Removable::Practice { taster, day } => {
                let sitting = self.practice_on(taster, *day)?;
                (sitting.to_string(), format!("of {day}"))
            }
            Removable::Course(name) => {
                let course = self.course(name)?;
                (course.id.to_string(), course.name.to_string())
            }
            Removable::Import(number) => {
                let file = self.import(*number)?.file_name;
                (number.to_string(), format!("{number} ({file})"))
            }
            Removable::Photograph { mark, number } => {
                let photograph = self.photograph(mark, *number)?;
                (photograph.id.to_string(), format!("{number} of {mark}"))
            }
        })
    }

    fn panel_sitting(&self, asked: u32) -> Result<SittingId, WorkflowError> {
        let panels = self.store.panels()?;
        let found = panels.iter().find(|it| it.number == asked);
        let sitting = found.map(|it| it.sitting.clone());
        Ok(sitting.ok_or_else(|| PanelError::NoPanel {
            asked,
            known: panels.iter().map(|it| it.number.to_string()).collect(),
        })?)
    }

    fn beer_to_remove(&self, mark: &str) -> Result<(String, String), WorkflowError> {
        let beer = self.beer(mark)?;
        if beer.batch.is_some() {
            return Err(RemovalError::IsABatch {
                mark: beer.cap_mark.to_string(),
            }
            .into());
        }
        Ok((beer.id.to_string(), beer.cap_mark.to_string()))
    }

    fn version_to_remove(
        &self,
        name: &str,
        version: &str,
    ) -> Result<(String, String), WorkflowError> {
        let all = self.store.recipe_versions()?;
        let found = all.iter().rev().find(|it| {
            it.name.as_str().eq_ignore_ascii_case(name)
                && it.version.as_str().eq_ignore_ascii_case(version)
        });
        let Some(found) = found else {
            self.ensure_no_batch_is_tasted()?;
            let known = all.iter().map(|it| format!("{} {}", it.name, it.version));
            return Err(RemovalError::NoVersion {
                asked: format!("{name} {version}"),
                known: known.collect(),
            }
            .into());
        };
        Ok((
            found.id.to_string(),
            format!("{} {}", found.name, found.version),
        ))
    }

    fn tasting_to_remove(&self, mark: &str, taster: &str) -> Result<NotesRow, WorkflowError> {
        let beer = self.beer(mark)?;
        let taster = self.taster(taster)?;
        let rows = self.store.notes_of_beer(&beer.id)?;
        let own = rows.into_iter().rfind(|it| it.taster.id == taster.id);
        Ok(own.ok_or_else(|| RemovalError::NoTasting {
            mark: beer.cap_mark.to_string(),
            taster: taster.name.to_string(),
        })?)
    }

    /// The latest practice of a taster on a day.
    fn practice_on(&self, taster: &str, day: Day) -> Result<SittingId, WorkflowError> {
        let taster = self.taster(taster)?;
        let mut days = Vec::new();
        let mut found = None;
        for (sitting, made_at) in self.store.practice_moments(&taster.id)? {
            let practised = local_day(made_at);
            if practised == day {
                found = Some(sitting);
            } else if days.last() != Some(&practised) {
                days.push(practised);
            }
        }
        Ok(found.ok_or_else(|| RemovalError::NoPractice {
            taster: taster.name.to_string(),
            day,
            known: days.iter().rev().map(ToString::to_string).collect(),
        })?)
    }

    /// What was removed and can be brought back, the latest first.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn removed(&mut self) -> Result<Vec<RemovedRow>, WorkflowError> {
        let now = self.now();
        let found = self.store.removals()?.into_iter();
        let kept = found.filter(|it| it.days_left(now).is_some());
        let mut tasters = self.store.tasters_of_removals()?;
        let mut rows: Vec<RemovedRow> = kept.map(|it| row_of(it, &mut tasters, now)).collect();
        if self.is_a_batch_tasted()? {
            let recipes = rows.iter_mut().map(|it| &mut it.removal);
            let recipes = recipes.filter(|it| it.kind == RemovedKind::Recipe);
            recipes.for_each(|it| SEALED_NAME.clone_into(&mut it.name));
        }
        Ok(rows)
    }

    /// Brings something back as it was; but whoever has not locked notes in it carries the mark of a broken seal from
    /// then on, since nothing was sealed while it was away.
    ///
    /// # Errors
    /// Nothing kept has the number, something has its place, or what it belongs to is gone; nothing is changed then.
    pub fn bring_back(&mut self, number: u32) -> Result<RemovedRow, WorkflowError> {
        let mut row = self.removed_numbered(number)?;
        row.marked = self.with_new_seals_broken(|store| store.bring_back(&row.removal))?;
        if row.removal.kind == RemovedKind::Import {
            // Sums are counted again by whoever reads them, should this fail.
            self.recount_imports().ok();
        }
        Ok(row)
    }

    /// Throws out for good what was removed; its bytes leave the file.
    ///
    /// # Errors
    /// Nothing kept has the number, or the store cannot be written.
    pub fn throw_out(&mut self, number: u32) -> Result<(RemovedRow, Bytes), WorkflowError> {
        let row = self.removed_numbered(number)?;
        self.store.throw_out(&row.removal)?;
        Ok((row, self.rub_out()))
    }

    fn removed_numbered(&mut self, number: u32) -> Result<RemovedRow, WorkflowError> {
        let rows = self.removed()?;
        let known = rows
            .iter()
            .map(|it| it.removal.number.to_string())
            .collect();
        let found = rows.into_iter().find(|it| it.removal.number == number);
        Ok(found.ok_or(RemovalError::NothingRemoved { number, known })?)
    }

    /// Throws out what was removed more than thirty days ago.
    ///
    /// # Errors
    /// The store cannot be written.
    pub(super) fn throw_out_the_old(&mut self) -> Result<(), WorkflowError> {
        let now = self.now();
        let mut old = self.store.removals()?;
        old.retain(|it| it.days_left(now).is_none());
        for it in &old {
            self.store.throw_out(it)?;
        }
        if !old.is_empty() {
            self.store.rub_out()?;
        }
        Ok(())
    }
}

/// Two glasses on the table are locked together or left together: one alone could never be finished.
fn root_of_notes(row: &NotesRow) -> Result<(String, String), RemovalError> {
    let is_open = row.locked_at.is_none() && row.left_at.is_none();
    if row.kind == SittingKind::TwoGlasses && is_open {
        let taster = row.taster.name.to_string();
        return Err(RemovalError::OneOfTwo { taster });
    }
    let name = format!("{} of {}", row.beer.cap_mark, row.tasted_on);
    Ok((row.notes.to_string(), name))
}

fn row_of(removal: Removal, tasters: &mut HashMap<u32, Vec<Name>>, now: Moment) -> RemovedRow {
    RemovedRow {
        tasters: tasters.remove(&removal.number).unwrap_or_default(),
        days_left: removal.days_left(now).unwrap_or(0),
        removal,
        marked: Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::NotesSource;
    use crate::workflow::Pourer;
    use crate::workflow::Tasting;

    #[test]
    fn one_of_two_glasses_on_the_table_is_not_removed_alone() {
        let mut home = Home::trial_with_a_batch();
        let ana = home.add_taster("Ana").unwrap();
        let two = home
            .start_two_glasses(&ana, ["T1", "Dot"], NotesSource::App, Pourer::SomebodyElse)
            .unwrap();
        let one = Removable::Notes(two.tastings[0].notes.id.clone());
        let refused = home.remove(&one).unwrap_err().to_string();
        assert!(refused.contains("one of two glasses"), "{refused}");
        assert!(home.two_glasses(&two.tastings[0].notes.id).is_ok());
        home.leave(&two.tastings[0]).unwrap();
        home.remove(&one).unwrap();
    }

    #[test]
    fn once_the_last_open_notes_of_a_table_are_removed_nobody_joins_it_and_they_come_back_to_it() {
        let mut home = Home::trial_with_a_batch();
        let [ana, ben, cleo] = ["Ana", "Ben", "Cleo"].map(|it| home.add_taster(it).unwrap());
        let mut of_ana = home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        let of_ben = home.start_tasting(&ben, "T1", NotesSource::App).unwrap();
        let sitting = |home: &Home, of: &Tasting| {
            let row = home.store.notes_with_row(&of.notes.id).unwrap().1;
            home.store.sitting(&row.sitting).unwrap().unwrap()
        };
        let table = sitting(&home, &of_ana);
        assert_eq!(sitting(&home, &of_ben), table);
        home.lock(&mut of_ana).unwrap();
        let removed = home.remove(&Removable::Notes(of_ben.notes.id.clone()));
        assert_eq!(
            removed.as_ref().unwrap().tasters,
            std::slice::from_ref(&ben.name)
        );
        assert!(home.open_tastings().unwrap().is_empty());
        // Another day, perhaps: a table of their own, under a code of its own.
        let of_cleo = home.start_tasting(&cleo, "T1", NotesSource::App).unwrap();
        assert_ne!(sitting(&home, &of_cleo).id, table.id);
        home.bring_back(removed.unwrap().removal.number).unwrap();
        assert_eq!(sitting(&home, &of_ben), table);
        let open = home.open_tastings().unwrap().into_iter();
        let open: Vec<Name> = open.map(|it| it.taster.name).collect();
        assert_eq!(open, [ben.name, cleo.name]);
    }

    #[test]
    fn what_was_removed_is_told_with_all_whose_it_was_whatever_went_after_it() {
        let mut home = Home::trial_with_a_batch();
        let [ana, ben] = ["Ana", "Ben"].map(|it| home.add_taster(it).unwrap());
        let both = [ana.clone(), ben.clone()];
        let jars = home.jars_to_practise(&both, 2).unwrap();
        home.practise_jars(&both, &jars, Pourer::SomebodyElse)
            .unwrap();
        let day = home.today();
        let taster = "Ben".to_owned();
        let removed = home.remove(&Removable::Practice { taster, day }).unwrap();
        assert_eq!(removed.tasters, [ana.name.clone(), ben.name]);
        // The seat of both passes goes with the one that is removed last.
        let mut first = home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        let second = home.second_pass(&mut first).unwrap();
        for it in [second, first] {
            home.remove(&Removable::Notes(it.notes.id)).unwrap();
        }
        let rows = home.removed().unwrap();
        assert!(rows[..2].iter().all(|it| it.tasters.iter().eq([&ana.name])));
        home.remove(&Removable::Batch("T1".to_owned())).unwrap();
        assert!(home.removed().unwrap()[0].tasters.is_empty());
    }
}
