//! A throw-away folder: the user's alone, and gone with everything in it once nobody holds it.

use std::fs;
use std::fs::DirBuilder;
use std::io::ErrorKind;
use std::os::unix::fs::DirBuilderExt;
use std::path::Path;
use std::path::PathBuf;

use crate::storage::StorageError;

/// A folder that is removed when this is dropped.
#[derive(Debug)]
pub struct TempFolder {
    path: PathBuf,
}

/// How many folders of one name are looked past before the system is taken to be at fault. A judgement: each was left by
/// a program that was killed or is held by a window that is open, and nobody has a hundred of those; to look past so
/// many is not felt.
const MOST_OF_A_NAME: usize = 100;

impl TempFolder {
    /// Makes the folder `name`, or `name-2` and so on, where the system keeps what may be thrown away. A folder
    /// that is there already is never taken over: another program may hold it, or one that was killed left it.
    ///
    /// # Errors
    /// The system refuses, or a hundred folders of that name are there already.
    pub fn make(name: &str) -> Result<Self, StorageError> {
        let top = std::env::temp_dir();
        let mut path = top.join(name);
        for next in 2.. {
            match DirBuilder::new().mode(0o700).create(&path) {
                Ok(()) => break,
                Err(error)
                    if error.kind() == ErrorKind::AlreadyExists && next <= MOST_OF_A_NAME =>
                {
                    path = top.join(format!("{name}-{next}"));
                }
                Err(error) => {
                    let remedy =
                        "make room there, or name another folder for such things in TMPDIR";
                    return Err(StorageError::file(&path, "make the folder", &error, remedy));
                }
            }
        }
        Ok(Self { path })
    }

    /// Where it is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }
}

impl Drop for TempFolder {
    fn drop(&mut self) {
        // Nobody is left to be told; what stays behind lies where the system clears up.
        fs::remove_dir_all(&self.path).ok();
    }
}

#[cfg(test)]
mod tests {
    use std::os::unix::fs::PermissionsExt;

    use super::*;

    fn name(what: &str) -> String {
        format!("thirdglass-trial-{what}-{}", std::process::id())
    }

    #[test]
    fn the_folder_is_the_users_alone_and_goes_with_all_that_is_in_it() {
        let folder = TempFolder::make(&name("gone")).unwrap();
        let path = folder.path().to_owned();
        let mode = fs::metadata(&path).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o700);
        fs::create_dir(path.join("inner")).unwrap();
        fs::write(path.join("inner/file"), "text").unwrap();
        drop(folder);
        assert!(!path.exists());
    }

    #[test]
    fn a_folder_that_is_there_is_not_taken_over_and_another_is_made_beside_it() {
        let left_behind = TempFolder::make(&name("held")).unwrap();
        let mine = left_behind.path().join("mine");
        fs::write(&mine, "text").unwrap();
        let again = TempFolder::make(&name("held")).unwrap();
        assert_ne!(again.path(), left_behind.path());
        assert_eq!(fs::read_dir(again.path()).unwrap().count(), 0);
        drop(again);
        assert!(mine.is_file());
    }

    #[test]
    fn a_link_that_somebody_laid_in_the_way_is_not_followed() {
        let elsewhere = TempFolder::make(&name("elsewhere")).unwrap();
        let link = std::env::temp_dir().join(name("laid"));
        std::os::unix::fs::symlink(elsewhere.path(), &link).unwrap();
        let made = TempFolder::make(&name("laid"));
        fs::remove_file(&link).unwrap();
        assert!(
            !fs::canonicalize(made.unwrap().path())
                .unwrap()
                .starts_with(elsewhere.path())
        );
    }

    #[test]
    fn where_too_many_of_a_name_are_left_the_last_one_is_told() {
        let held: Vec<TempFolder> = (0..MOST_OF_A_NAME)
            .map(|_| TempFolder::make(&name("many")).unwrap())
            .collect();
        let refused = TempFolder::make(&name("many"));
        assert!(
            matches!(refused, Err(StorageError::File { .. })),
            "{refused:?}"
        );
        assert_eq!(held.len(), MOST_OF_A_NAME);
    }
}
