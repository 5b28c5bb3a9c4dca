//! A new folder of files for the user alone: all of them, or no folder.

use std::fs;
use std::path::Path;

use crate::storage::StorageError;
use crate::storage::user_files::write_new_private_file;
use crate::storage::whole_file::Unfinished;

/// Lets pass only if a new folder can stand there: nothing of that name, or an empty folder.
///
/// # Errors
/// Something is there already.
pub fn ensure_free_folder(folder: &Path) -> Result<(), StorageError> {
    let empty = match fs::read_dir(folder) {
        Ok(mut entries) => entries.next().is_none(),
        Err(_) => fs::symlink_metadata(folder).is_err(),
    };
    if empty {
        return Ok(());
    }
    let file = folder.to_owned();
    Err(StorageError::Exists { file })
}

/// Writes files, each a name and a text, into a new folder that only the user may open.
///
/// # Errors
/// The folder is there already and not empty, or the disk refuses; nothing stays then.
pub fn write_new_folder(folder: &Path, files: &[(String, String)]) -> Result<(), StorageError> {
    ensure_free_folder(folder)?;
    let unfinished = Unfinished::folder(folder)?;
    for (name, text) in files {
        write_new_private_file(&unfinished.beside.join(name), text)?;
    }
    unfinished.finish_folder()
}

#[cfg(test)]
mod tests {
    use std::os::unix::fs::PermissionsExt;

    use super::*;

    fn files(names: &[&str]) -> Vec<(String, String)> {
        let files = names.iter().map(|it| ((*it).to_owned(), "text".to_owned()));
        files.collect()
    }

    #[test]
    fn a_folder_is_made_whole_and_never_over_what_is_there() {
        let inside = tempfile::tempdir().unwrap();
        let folder = inside.path().join("tables/");
        write_new_folder(&folder, &files(&["a.csv", "b.csv"])).unwrap();
        assert_eq!(fs::read_dir(&folder).unwrap().count(), 2);
        let mode = fs::metadata(&folder).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o700);
        assert!(write_new_folder(&folder, &files(&["c.csv"])).is_err());
        let empty = inside.path().join("empty");
        fs::create_dir(&empty).unwrap();
        write_new_folder(&empty, &files(&["c.csv"])).unwrap();
        assert!(empty.join("c.csv").is_file());
        let twice = inside.path().join("twice");
        assert!(write_new_folder(&twice, &files(&["d.csv", "d.csv"])).is_err());
        assert_eq!(fs::read_dir(inside.path()).unwrap().count(), 2);
    }
}
