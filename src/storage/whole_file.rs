//! A new file or folder that is whole once it bears its name: made beside its place, and moved there when it is done.

use std::fs;
use std::fs::DirBuilder;
use std::fs::File;
use std::fs::OpenOptions;
use std::fs::TryLockError;
use std::io;
use std::io::ErrorKind;
use std::os::unix::fs::DirBuilderExt;
use std::os::unix::fs::MetadataExt;
use std::os::unix::fs::OpenOptionsExt;
use std::path::Path;
use std::path::PathBuf;

use crate::storage::StorageError;

/// How the name of what is not done yet ends; nobody calls a file of theirs so.
const UNFINISHED: &str = ".thirdglass-part";

/// What `SQLite` keeps beside a file while it writes a copy into it.
const JOURNAL: &str = "-journal";

/// What is to be done when nothing came of it.
const REMEDY: &str = "nothing was written; try again";

/// A file or folder that is being made beside its place. While it is held nobody else takes it for what a program
/// left that was killed; once it is dropped, the name it had meanwhile is gone.
#[derive(Debug)]
pub(super) struct Unfinished {
    /// The file, or the folder to lock.
    pub(super) file: File,
    /// The name it has meanwhile.
    pub(super) beside: PathBuf,
    place: PathBuf,
}

impl Unfinished {
    /// A new, empty file for `place`, which only those may read and write that `mode` names.
    ///
    /// # Errors
    /// Something stands at the place, another program is just making it, or the disk refuses.
    pub(super) fn file(place: &Path, mode: u32) -> Result<Self, StorageError> {
        let make = |beside: &Path| {
            let mut options = OpenOptions::new();
            options.write(true).create_new(true).mode(mode).open(beside)
        };
        if fs::symlink_metadata(place).is_ok() {
            return Err(exists(place));
        }
        Self::made(place, make)
    }

    /// A new, empty folder for `place`, for the user alone.
    ///
    /// # Errors
    /// Another program is just making it, or the disk refuses.
    pub(super) fn folder(place: &Path) -> Result<Self, StorageError> {
        Self::made(place, |beside| {
            DirBuilder::new().mode(0o700).create(beside)?;
            File::open(beside)
        })
    }

    fn made(place: &Path, make: impl Fn(&Path) -> io::Result<File>) -> Result<Self, StorageError> {
        let beside = beside(place);
        let file = match make(&beside) {
            Err(error) if error.kind() == ErrorKind::AlreadyExists => {
                clear(&beside);
                make(&beside)
            }
            made => made,
        };
        let file = file.map_err(|error| {
            if error.kind() == ErrorKind::AlreadyExists {
                return exists(&beside);
            }
            let remedy = "see that the folder is there and that you may write to it";
            StorageError::file(place, "make", &error, remedy)
        })?;
        // Who cleared it away between making and holding it is making it now.
        if !held(&file) || !stands_at(&file, &beside) {
            return Err(exists(&beside));
        }
        let place = place.to_owned();
        Ok(Self {
            file,
            beside,
            place,
        })
    }

    /// Gives a file that is done its name, once it is on the disk.
    ///
    /// # Errors
    /// Something has that name meanwhile, or the disk refuses; it is not there then.
    pub(super) fn finish_file(self) -> Result<(), StorageError> {
        self.on_the_disk(self.file.sync_all())?;
        match fs::hard_link(&self.beside, &self.place) {
            Ok(()) => {}
            Err(_) if fs::symlink_metadata(&self.place).is_ok() => return Err(exists(&self.place)),
            // Some disks know no second name for a file.
            Err(_) => self.on_the_disk(fs::rename(&self.beside, &self.place))?,
        }
        self.on_the_disk(sync_folder_of(&self.place))
            .inspect_err(|_| {
                // It is ours and may not last; that it cannot be taken away changes nothing.
                fs::remove_file(&self.place).ok();
            })
    }

    /// Gives a folder that is done its name; an empty folder may stand there.
    ///
    /// # Errors
    /// The disk refuses; it is not there then.
    pub(super) fn finish_folder(self) -> Result<(), StorageError> {
        self.on_the_disk(fs::rename(&self.beside, &self.place))?;
        self.on_the_disk(sync_folder_of(&self.place))
    }

    fn on_the_disk(&self, done: io::Result<()>) -> Result<(), StorageError> {
        done.map_err(|error| StorageError::file(&self.place, "write", &error, REMEDY))
    }
}

impl Drop for Unfinished {
    fn drop(&mut self) {
        if stands_at(&self.file, &self.beside) {
            // Nobody is left to be told; the next one that makes it clears away what stays.
            take_away(&self.beside).ok();
        }
    }
}

/// The name that a file or folder has until it is done.
fn beside(place: &Path) -> PathBuf {
    // Without what may stand at its end, such as the stroke after a folder.
    let mut beside = place.components().as_path().as_os_str().to_owned();
    beside.push(UNFINISHED);
    PathBuf::from(beside)
}

/// Clears away what a program that was killed left beside one place.
pub(super) fn clear_beside(place: &Path) {
    clear(&beside(place));
}

/// Clears away what programs that were killed left in a folder.
pub(super) fn clear_unfinished(folder: &Path) {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    for path in entries.map(|it| it.path()) {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let name = name.strip_suffix(JOURNAL).unwrap_or(&name);
        if name.ends_with(UNFINISHED) {
            clear(&folder.join(name));
        }
    }
}

/// Clears away what is unfinished, unless somebody is still making it.
fn clear(beside: &Path) {
    if !File::open(beside).is_ok_and(|it| !held(&it)) {
        take_away(beside).ok();
    }
}

fn take_away(beside: &Path) -> io::Result<()> {
    let mut journal = beside.as_os_str().to_owned();
    journal.push(JOURNAL);
    fs::remove_file(journal).ok();
    if fs::symlink_metadata(beside)?.is_dir() {
        fs::remove_dir_all(beside)
    } else {
        fs::remove_file(beside)
    }
}

/// Holds a file as long as it is open; false if another program does. Where a disk cannot say, nobody does.
fn held(file: &File) -> bool {
    !matches!(file.try_lock(), Err(TryLockError::WouldBlock))
}

fn stands_at(file: &File, path: &Path) -> bool {
    let (here, there) = (file.metadata(), fs::symlink_metadata(path));
    let both = here.ok().zip(there.ok());
    both.is_some_and(|(here, there)| (here.dev(), here.ino()) == (there.dev(), there.ino()))
}

/// Waits until the names in the folder of a file are on the disk, where the disk can say.
fn sync_folder_of(path: &Path) -> io::Result<()> {
    let folder = path.parent().filter(|it| !it.as_os_str().is_empty());
    match File::open(folder.unwrap_or(Path::new("."))).and_then(|it| it.sync_all()) {
        Err(error) if error.kind() == ErrorKind::InvalidInput => Ok(()),
        done => done,
    }
}

fn exists(path: &Path) -> StorageError {
    let file = path.to_owned();
    StorageError::Exists { file }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Write;

    #[test]
    fn what_a_killed_program_left_is_cleared_away_and_what_is_being_made_is_not() {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("report.md");
        let beside = folder.path().join("report.md.thirdglass-part");
        fs::write(&beside, "the half of a rep").unwrap();
        let mut first = Unfinished::file(&place, 0o600).unwrap();
        assert_eq!(
            Unfinished::file(&place, 0o600).unwrap_err(),
            exists(&beside)
        );
        clear_unfinished(folder.path());
        first.file.write_all(b"whole").unwrap();
        assert!(!place.exists());
        first.finish_file().unwrap();
        assert_eq!(fs::read(&place).unwrap(), b"whole");
        fs::write(&beside, "once more").unwrap();
        fs::write(
            folder.path().join("report.md.thirdglass-part-journal"),
            "of it",
        )
        .unwrap();
        clear_unfinished(folder.path());
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn what_came_to_stand_there_meanwhile_is_not_written_over() {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("report.md");
        let made = Unfinished::file(&place, 0o600).unwrap();
        fs::write(&place, "mine").unwrap();
        assert_eq!(made.finish_file(), Err(exists(&place)));
        assert_eq!(fs::read(&place).unwrap(), b"mine");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_folder_that_was_left_half_is_made_anew() {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("tables");
        let beside = folder.path().join("tables.thirdglass-part");
        fs::create_dir(&beside).unwrap();
        fs::write(beside.join("old.csv"), "half").unwrap();
        let made = Unfinished::folder(&place).unwrap();
        fs::write(made.beside.join("new.csv"), "whole").unwrap();
        made.finish_folder().unwrap();
        assert_eq!(fs::read_dir(&place).unwrap().count(), 1);
        assert!(!beside.exists());
    }
}
