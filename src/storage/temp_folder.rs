//! A throw-away folder: the user's alone, and gone with everything in it once nobody holds it.

use std::fs;
use std::fs::DirBuilder;
use std::os::unix::fs::DirBuilderExt;
use std::path::Path;
use std::path::PathBuf;

use crate::storage::StorageError;

/// A folder that is removed when this is dropped.
#[derive(Debug)]
pub struct TempFolder {
    path: PathBuf,
}

impl TempFolder {
    /// Makes the folder `name` where the system keeps what may be thrown away. A folder that is
    /// there already is never taken over, since somebody else may hold it: draw another name.
    ///
    /// # Errors
    /// The folder is there already, or the system refuses.
    pub fn make(name: &str) -> Result<Self, StorageError> {
        let path = std::env::temp_dir().join(name);
        match DirBuilder::new().mode(0o700).create(&path) {
            Ok(()) => Ok(Self { path }),
            Err(error) => {
                let remedy = "make room there, or name another folder for such things in TMPDIR";
                Err(StorageError::file(&path, "make the folder", &error, remedy))
            }
        }
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
    fn a_folder_that_is_there_is_not_taken_over() {
        let folder = TempFolder::make(&name("held")).unwrap();
        let again = TempFolder::make(&name("held"));
        assert!(matches!(again, Err(StorageError::File { .. })), "{again:?}");
        assert!(folder.path().is_dir());
    }
}
