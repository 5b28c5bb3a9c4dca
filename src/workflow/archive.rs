//! A whole home in one file, and read back from it to the last answer.

use std::path::Path;

use crate::formats::bytes_hash;
use crate::formats::read_photograph;
use crate::storage::ArchiveContents;
use crate::storage::ArchiveError;
use crate::storage::ArchiveProblem;
use crate::storage::OpenedArchive;
use crate::storage::OwnFile;
use crate::storage::PutFiles;
use crate::storage::StorageError;
use crate::storage::TempFolder;
use crate::storage::ensure_free_place;
use crate::storage::own_files;
use crate::workflow::Home;
use crate::workflow::PhotographRefused;
use crate::workflow::WorkflowError;
use crate::workflow::exported_notes::ServedPlaces;
use crate::workflow::library::Library;

/// An archive that was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ArchiveWritten {
    /// How much is in it.
    pub contents: ArchiveContents,
    /// What of it is still sealed here.
    pub unsealed: Unsealed,
}

/// What an archive tells whoever opens it by hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unsealed {
    /// Nothing that is sealed here.
    Nothing,
    /// What is in glasses that somebody still tastes, smells or is tested on.
    WhatIsSealed,
}

/// What becomes of what is still sealed when an archive is to be written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sealed {
    /// Nothing is written while anything is.
    Waits,
    /// It is written unsealed, because somebody asked for that on purpose.
    Too,
}

impl Home {
    /// Writes everything of this home into one new file that only the user may read. The same home gives the
    /// same bytes.
    ///
    /// # Errors
    /// The file is there already, something is sealed and was not asked for, there is more than an archive may hold,
    /// or the disk refuses.
    pub fn write_archive(
        &self,
        file: &Path,
        sealed: Sealed,
    ) -> Result<ArchiveWritten, WorkflowError> {
        ensure_free_place(file)?;
        let unsealed = match (self.is_anything_sealed()?, sealed) {
            (false, _) => Unsealed::Nothing,
            (true, Sealed::Too) => Unsealed::WhatIsSealed,
            (true, Sealed::Waits) => {
                return Err(StorageError::from(ArchiveError::StillSealed).into());
            }
        };
        let own = self.folder().map_or_else(|| Ok(Vec::new()), own_files)?;
        Ok(ArchiveWritten {
            contents: self.store.write_archive(file, &own)?,
            unsealed,
        })
    }

    /// Reads an archive into this home, which must be empty: everything of it, or nothing. Words and
    /// ingredients of one's own are in use at once.
    ///
    /// # Errors
    /// The home is not empty, or something in the archive is not as it must be; every problem is told.
    pub fn read_archive(&mut self, file: &Path) -> Result<ArchiveContents, WorkflowError> {
        self.store.ensure_empty()?;
        let opened = OpenedArchive::read(file)?;
        let of_archive = self.library_of(&opened.own)?;
        let mut staged = self.over(opened.store, of_archive);
        staged.look_through(file)?;
        let folder = self.folder();
        let put = folder
            .map(|it| PutFiles::put(it, &opened.own))
            .transpose()?;
        // What stood in the folder before counts as well as what came, and must go together with it.
        let library = match folder {
            Some(folder) => Library::open(Some(folder))?,
            None => staged.library,
        };
        self.store.take_in(&staged.store)?;
        put.into_iter().for_each(PutFiles::keep);
        self.library = library;
        self.forget_conclusions();
        // Should counting fail, whoever reads the sums counts again.
        self.recount_imports().ok();
        Ok(opened.contents)
    }

    /// The wheel and the ingredients as they are with these files of one's own.
    fn library_of(&mut self, own: &[OwnFile]) -> Result<Library, WorkflowError> {
        if own.is_empty() {
            return Library::open(None);
        }
        let folder = TempFolder::make(&format!("thirdglass-archive-{}", self.draw_id()))?;
        PutFiles::put(folder.path(), own)?.keep();
        Library::open(Some(folder.path()))
    }

    /// Reads everything of an archive as the program would later: what a stranger wrote into it must not be
    /// found out when it is too late. Documents are not parsed: the program tells of one that it cannot read when it
    /// is opened, and an older home may well hold such a one.
    fn look_through(&mut self, file: &Path) -> Result<(), WorkflowError> {
        let mut problems = Vec::new();
        self.read_everything(&mut problems);
        if problems.is_empty() {
            return Ok(());
        }
        let file = file.to_owned();
        Err(StorageError::from(ArchiveError::Problems { file, problems }).into())
    }

    /// Reads everything there is, and says what cannot be read.
    pub(super) fn read_everything(&mut self, problems: &mut Vec<ArchiveProblem>) {
        let mut tell = |found: Result<(), WorkflowError>| {
            if let Err(error) = found {
                problems.push(ArchiveProblem {
                    entry: String::new(),
                    line: None,
                    found: error.to_string(),
                });
            }
        };
        tell(self.batch_rows().map(drop));
        tell(self.locked_notes().map(drop));
        let proposals = self.store.proposals().map(drop);
        tell(proposals.map_err(WorkflowError::from));
        let versions = self.store.recipe_versions().map(drop);
        tell(versions.map_err(WorkflowError::from));
        tell(self.courses().map(drop));
        tell(self.store.panels().map(drop).map_err(WorkflowError::from));
        tell(self.imports().map(drop));
        let tests = self.every_planned_test();
        let glasses = self.poured_glasses();
        let mut notes = self.store.every_note().map_err(WorkflowError::from);
        for taster in self.tasters().unwrap_or_default() {
            // What is wrong with the tests, the glasses or the notes is told once, below.
            if let (Ok(tests), Ok(glasses), Ok(notes)) = (&tests, &glasses, &mut notes) {
                let own = notes.remove(&taster.id).unwrap_or_default();
                let export = self.export_of(taster, own, tests, (glasses, ServedPlaces::Told));
                tell(export.map(drop));
            }
        }
        tell(notes.map(drop));
        tell(tests.map(drop));
        tell(glasses.map(drop));
        for batch in self.store.batches().unwrap_or_default() {
            tell(self.log_of(&batch.id).map(drop));
        }
        tell(self.read_photographs());
    }

    /// Sees that every photograph is the picture that its row says.
    fn read_photographs(&self) -> Result<(), WorkflowError> {
        for it in self.store.every_photograph()? {
            let bytes = self.store.photograph_bytes(&it.id)?;
            let refused = |found: String| PhotographRefused::NotAsKept {
                id: it.id.to_string(),
                found,
            };
            if bytes_hash(&bytes) != it.sha256 {
                return Err(refused("its bytes are not those that were kept".to_owned()).into());
            }
            read_photograph(&bytes).map_err(|error| refused(error.to_string()))?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;
    use crate::domain::NotesSource;
    use crate::domain::SheetSize;
    use crate::statistics::Dice;
    use crate::workflow::Clock;

    fn open(folder: &Path) -> Home {
        Home::open(folder, Clock::system(), Dice::from_seed(5)).unwrap()
    }

    #[test]
    fn what_was_settled_holds_after_an_import_and_goes_out_with_the_rest() {
        let folder = tempfile::tempdir().unwrap();
        let place = |name: &str| folder.path().join(name);
        let plain = place("plain.zip");
        Home::trial().write_archive(&plain, Sealed::Waits).unwrap();
        fs::create_dir(place("mine")).unwrap();
        fs::write(place("mine/settings.toml"), "paper = \"letter\"\n").unwrap();
        let mut mine = open(&place("mine"));
        mine.read_archive(&plain).unwrap();
        assert_eq!(mine.settings().paper, SheetSize::Letter);
        let settled = place("settled.zip");
        mine.write_archive(&settled, Sealed::Waits).unwrap();
        let mut other = open(&place("other"));
        other.read_archive(&settled).unwrap();
        assert_eq!(other.settings().paper, SheetSize::Letter);
        assert!(place("other/settings.toml").exists());
    }

    #[test]
    fn nothing_is_written_while_somebody_tastes_unless_it_is_asked_for() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("all.zip");
        let mut home = Home::trial_with_a_batch();
        let ana = home.add_taster("Ana").unwrap();
        let mut tasting = home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        let refused = home.write_archive(&file, Sealed::Waits).unwrap_err();
        assert!(refused.to_string().contains("--sealed-too"), "{refused}");
        assert!(!file.exists());
        let written = home.write_archive(&file, Sealed::Too).unwrap();
        assert_eq!(written.unsealed, Unsealed::WhatIsSealed);
        home.lock(&mut tasting).unwrap();
        let again = folder.path().join("again.zip");
        let written = home.write_archive(&again, Sealed::Waits).unwrap();
        assert_eq!(written.unsealed, Unsealed::Nothing);
    }
}
