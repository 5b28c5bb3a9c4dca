//! The folder where the data lives: where it is, and that it is the user's alone.

use std::ffi::OsString;
use std::fs;
use std::fs::DirBuilder;
use std::fs::Permissions;
use std::os::unix::fs::DirBuilderExt;
use std::os::unix::fs::PermissionsExt;
use std::path::Path;
use std::path::PathBuf;

use crate::storage::StorageError;
use crate::storage::user_files::new_private_file;

/// The name of the file in the folder.
const FILE: &str = "thirdglass.db";

/// The folder that the environment names: `THIRDGLASS_HOME` itself, or `thirdglass` in
/// `XDG_DATA_HOME` (a path from the root, or it does not count: XDG base directory
/// specification), or `.local/share/thirdglass` in `HOME`.
///
/// # Errors
/// None of the three names a folder.
pub fn default_home(lookup: impl Fn(&str) -> Option<OsString>) -> Result<PathBuf, StorageError> {
    let named = |variable: &str| {
        lookup(variable)
            .filter(|found| !found.is_empty())
            .map(PathBuf::from)
    };
    named("THIRDGLASS_HOME")
        .or_else(|| {
            named("XDG_DATA_HOME")
                .filter(|folder| folder.is_absolute())
                .map(|folder| folder.join("thirdglass"))
        })
        .or_else(|| named("HOME").map(|folder| folder.join(".local/share/thirdglass")))
        .ok_or(StorageError::NoHome)
}

/// The file in a home, whether it is there or not.
pub(super) fn file_in(home: &Path) -> PathBuf {
    home.join(FILE)
}

/// Makes the folder and an empty file in it where they are missing; returns the file.
///
/// # Errors
/// One of them cannot be made.
pub(super) fn make(home: &Path) -> Result<PathBuf, StorageError> {
    DirBuilder::new()
        .recursive(true)
        .mode(0o700)
        .create(home)
        .map_err(|error| {
            let remedy = "use another home with --home DIR";
            StorageError::file(home, "make the folder", &error, remedy)
        })?;
    let file = file_in(home);
    match new_private_file(&file) {
        Ok(()) | Err(StorageError::Exists { .. }) => {}
        Err(error) => return Err(error),
    }
    close_to_others(&file);
    Ok(file)
}

/// Takes the file away from group and others, such as after it was copied back from a backup.
/// Some disks know no such rights: that must not keep anybody from their notes.
fn close_to_others(file: &Path) {
    let open =
        fs::metadata(file).is_ok_and(|it| it.is_file() && it.permissions().mode() & 0o077 != 0);
    if open {
        fs::set_permissions(file, Permissions::from_mode(0o600)).ok();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn home_of(variables: &[(&str, &str)]) -> Result<PathBuf, StorageError> {
        default_home(|wanted| {
            variables
                .iter()
                .find(|(name, _)| *name == wanted)
                .map(|(_, value)| OsString::from(value))
        })
    }

    #[test]
    fn the_variable_of_the_app_comes_before_the_data_folder_and_that_before_home() {
        let all = [
            ("THIRDGLASS_HOME", "/a"),
            ("XDG_DATA_HOME", "/b"),
            ("HOME", "/c"),
        ];
        assert_eq!(home_of(&all), Ok(PathBuf::from("/a")));
        assert_eq!(home_of(&all[1..]), Ok(PathBuf::from("/b/thirdglass")));
        // The default of XDG_DATA_HOME is $HOME/.local/share: XDG base directory specification.
        assert_eq!(
            home_of(&all[2..]),
            Ok(PathBuf::from("/c/.local/share/thirdglass"))
        );
    }

    #[test]
    fn empty_and_relative_variables_do_not_count() {
        let odd = [
            ("THIRDGLASS_HOME", ""),
            ("XDG_DATA_HOME", "share"),
            ("HOME", "/c"),
        ];
        assert_eq!(
            home_of(&odd),
            Ok(PathBuf::from("/c/.local/share/thirdglass"))
        );
        assert_eq!(home_of(&[]), Err(StorageError::NoHome));
    }
}
