//! A new folder of files for the user alone: all of them, or no folder.

use std::fs;
use std::io;
use std::io::BufWriter;
use std::io::Write;
use std::path::Path;

use crate::storage::StorageError;
use crate::storage::user_files::new_private_file_filled;
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

/// Writes files into a new folder that only the user may open, each filled with what stands beside its name.
///
/// # Errors
/// The folder is there already and not empty, or the disk refuses; nothing stays then.
pub fn write_new_folder<T>(
    folder: &Path,
    files: &[(String, T)],
    mut fill: impl FnMut(&T, &mut dyn Write) -> io::Result<()>,
) -> Result<(), StorageError> {
    ensure_free_folder(folder)?;
    let unfinished = Unfinished::folder(folder)?;
    for (name, contents) in files {
        let path = unfinished.beside.join(name);
        new_private_file_filled(&path, |file| {
            let mut out = BufWriter::new(file);
            let filled = fill(contents, &mut out).and_then(|()| out.flush());
            filled.map_err(|error| {
                StorageError::file(
                    &path,
                    "write",
                    &error,
                    "nothing was written; look at the space on the disk and try again",
                )
            })
        })?;
    }
    unfinished.finish_folder()
}

#[cfg(test)]
mod tests {
    use std::os::unix::fs::PermissionsExt;

    use super::*;

    fn write(folder: &Path, names: &[&str]) -> Result<(), StorageError> {
        let files: Vec<(String, &str)> =
            names.iter().map(|it| ((*it).to_owned(), "text")).collect();
        write_new_folder(folder, &files, |text, out| out.write_all(text.as_bytes()))
    }

    #[test]
    fn a_folder_is_made_whole_and_never_over_what_is_there() {
        let inside = tempfile::tempdir().unwrap();
        let folder = inside.path().join("tables/");
        write(&folder, &["a.csv", "b.csv"]).unwrap();
        assert_eq!(fs::read_dir(&folder).unwrap().count(), 2);
        let mode = fs::metadata(&folder).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o700);
        assert!(write(&folder, &["c.csv"]).is_err());
        let empty = inside.path().join("empty");
        fs::create_dir(&empty).unwrap();
        write(&empty, &["c.csv"]).unwrap();
        assert!(empty.join("c.csv").is_file());
        let twice = inside.path().join("twice");
        assert!(write(&twice, &["d.csv", "d.csv"]).is_err());
        assert_eq!(fs::read_dir(inside.path()).unwrap().count(), 2);
    }
}
