//! What a person may ask of the file about themselves: another name, everything of theirs, to be forgotten.

use std::path::Path;

use crate::domain::Name;
use crate::domain::Taster;
use crate::domain::TasterId;
use crate::storage::BackupCopy;
use crate::storage::Traces;
use crate::storage::ensure_free_place;
use crate::storage::write_new_private_file;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// Whether what was deleted has left the bytes of the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Bytes {
    /// It has.
    RubbedOut,
    /// It will at the next opening; until then the reason.
    Later(String),
}

/// A taster under a new name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Renamed {
    /// As they are called now.
    pub taster: Taster,
    /// Whether the old name has left the bytes of the file.
    pub bytes: Bytes,
    /// Copies that hold the person, under the name they had then.
    pub copies: Vec<BackupCopy>,
}

/// What forgetting somebody means, before it is done or after.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Forgetting {
    /// Who.
    pub taster: Taster,
    /// How much there is, or was, of them.
    pub traces: Traces,
    /// Copies that hold them and are not touched.
    pub copies: Vec<BackupCopy>,
    /// Whether it was done, and left the bytes; none before it is done.
    pub done: Option<Bytes>,
}

impl Home {
    /// Calls a taster by another name, everywhere at once; the old one is kept nowhere.
    ///
    /// # Errors
    /// Nobody has the name, the new one is refused or taken, or the store cannot be written.
    pub fn rename_taster(&mut self, name: &str, new: &str) -> Result<Renamed, WorkflowError> {
        let taster = self.taster(name)?;
        let new = Name::new("a taster's name", new)?;
        if let Some(other) = self.store.taster_named(&new)?
            && other.id != taster.id
        {
            return Err(WorkflowError::NameTaken {
                name: new.to_string(),
            });
        }
        let copies = self.store.copies_holding(&taster.id, &taster.name);
        self.store.rename_taster(&taster.id, &new)?;
        self.store.take_away_daily_copies(&taster.id, &taster.name);
        Ok(Renamed {
            taster: Taster {
                name: new,
                ..taster
            },
            bytes: self.rub_out(),
            copies,
        })
    }

    /// What would go, and what would stay, if a taster were forgotten. Nothing is done.
    ///
    /// # Errors
    /// Nobody has the name, or the store cannot be read.
    pub fn forgetting(&self, name: &str) -> Result<Forgetting, WorkflowError> {
        let taster = self.taster(name)?;
        Ok(Forgetting {
            traces: self.store.traces(&taster.id)?,
            copies: self.store.copies_holding(&taster.id, &taster.name),
            taster,
            done: None,
        })
    }

    /// Forgets a taster: every row of theirs in one go, then every byte. Their answers to blind tests stay
    /// as those of nobody; nobody who is tasting is told anything.
    ///
    /// # Errors
    /// Nobody has the name, or the store cannot be written; the taster is there whole then.
    pub fn forget(&mut self, name: &str) -> Result<Forgetting, WorkflowError> {
        let forgetting = self.forgetting(name)?;
        let now = self.now();
        let (store, dice) = (&mut self.store, &mut self.dice);
        let draw = || TasterId::new(dice.letters(Self::ID_LETTERS));
        // Should it end between the two, there is one copy less and nobody forgotten, which can be tried again.
        let taster = &forgetting.taster;
        store.take_away_daily_copies(&taster.id, &taster.name);
        store.forget_taster(&taster.id, now, draw)?;
        // The sums of the others held this taster's answers and went with them. Should counting again fail, whoever
        // reads them counts again.
        self.recount_imports().ok();
        Ok(Forgetting {
            done: Some(self.rub_out()),
            ..forgetting
        })
    }

    pub(super) fn rub_out(&self) -> Bytes {
        match self.store.rub_out() {
            Ok(()) => Bytes::RubbedOut,
            Err(reason) => Bytes::Later(reason.to_string()),
        }
    }

    /// Writes what somebody takes away into a new file that only the user may read.
    ///
    /// # Errors
    /// The file is there already, its folder is not, or the disk refuses.
    pub fn write_export(&self, file: &Path, text: &str) -> Result<(), WorkflowError> {
        ensure_free_place(file)?;
        Ok(write_new_private_file(file, text)?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::NotesSource;
    use crate::workflow::Tasting;

    fn tasting(home: &mut Home, name: &str) -> Tasting {
        let taster = home.taster_or_new(name).unwrap();
        home.start_tasting(&taster, "T1", NotesSource::App).unwrap()
    }

    #[test]
    fn a_new_name_stands_on_old_notes_and_the_old_one_is_free_again() {
        let mut home = Home::trial_with_a_batch();
        let mut of_ana = tasting(&mut home, "Ana");
        home.lock(&mut of_ana).unwrap();
        home.add_taster("Ben").unwrap();
        let taken = home.rename_taster("Ana", "BEN");
        assert!(matches!(taken, Err(WorkflowError::NameTaken { .. })));
        let renamed = home.rename_taster("ana", "Fox").unwrap();
        assert_eq!(renamed.bytes, Bytes::RubbedOut);
        let rows = home.locked_notes().unwrap();
        assert_eq!(rows[0].taster.name.as_str(), "Fox");
        assert!(matches!(
            home.taster("Ana"),
            Err(WorkflowError::NoTaster { .. })
        ));
        home.rename_taster("Fox", "FOX").unwrap();
        assert!(home.add_taster("Ana").is_ok());
    }

    #[test]
    fn forgetting_is_told_before_and_done_after_and_a_new_taster_may_have_the_name() {
        let mut home = Home::trial_with_a_batch();
        let mut of_ana = tasting(&mut home, "Ana");
        let of_ben = tasting(&mut home, "Ben");
        let before = home.forgetting("Ana").unwrap();
        assert_eq!((before.traces.notes, before.traces.open_notes), (1, 1));
        assert_eq!(before.done, None);
        assert!(home.taster("Ana").is_ok());
        let done = home.forget("ana").unwrap();
        assert_eq!(done.done, Some(Bytes::RubbedOut));
        assert_eq!(done.traces, before.traces);
        // Another window goes on where there is nothing any more.
        assert!(home.lock(&mut of_ana).is_err());
        let open = home.open_tastings().unwrap();
        assert_eq!(open.len(), 1);
        assert_eq!(open[0].notes, of_ben.notes.id);
        let again = home.add_taster("Ana").unwrap();
        assert_ne!(again.id, done.taster.id);
        assert!(home.forget("Cleo").is_err());
    }

    #[test]
    fn the_seal_stays_while_others_taste_and_ends_with_the_last_who_did() {
        let mut home = Home::trial_with_a_batch();
        tasting(&mut home, "Ana");
        tasting(&mut home, "Ben");
        let beer = home.beer("T1").unwrap();
        home.forget("Ana").unwrap();
        assert!(home.is_plan_sealed(&beer).unwrap());
        home.forget("Ben").unwrap();
        assert!(!home.is_plan_sealed(&beer).unwrap());
        assert_eq!(home.store.open_sitting_of(&beer.id), Ok(None));
    }
}
