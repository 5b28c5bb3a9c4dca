//! Files that are written for the user, such as pages to print: new ones, whole or not at all.

use std::path::Path;
use std::path::PathBuf;

use crate::storage::StorageError;
use crate::storage::ensure_free_place;
use crate::storage::take_back_new_file;
use crate::storage::write_new_file;
use crate::storage::write_new_private_bytes;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

impl Home {
    /// Writes new files, such as the pages of one printout: all of them whole, or none. Only the user may read them,
    /// because a page may hold a key or somebody's notes.
    ///
    /// # Errors
    /// Something is there already, or the disk refuses.
    pub fn write_documents(&self, files: &[(PathBuf, Vec<u8>)]) -> Result<(), WorkflowError> {
        write_all(files, write_new_private_bytes)
    }
}

/// Writes new files that hold nothing of a home, such as man pages, for everybody on the computer: all or none.
///
/// # Errors
/// Something is there already, or the disk refuses.
pub fn write_open_documents(files: &[(PathBuf, Vec<u8>)]) -> Result<(), WorkflowError> {
    write_all(files, |file, bytes| write_new_file(file, bytes))
}

fn write_all(
    files: &[(PathBuf, Vec<u8>)],
    write: impl Fn(&Path, &[u8]) -> Result<(), StorageError>,
) -> Result<(), WorkflowError> {
    for (file, _) in files {
        ensure_free_place(file)?;
    }
    for (index, (file, contents)) in files.iter().enumerate() {
        if let Err(failed) = write(file, contents) {
            for (written, _) in &files[..index] {
                take_back_new_file(written);
            }
            return Err(failed.into());
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs;
    use std::os::unix::fs::PermissionsExt;

    #[test]
    fn what_is_written_of_a_home_is_for_the_user_alone_and_a_man_page_for_everybody() {
        let folder = tempfile::tempdir().unwrap();
        let file = |name: &str| vec![(folder.path().join(name), b"text".to_vec())];
        let mode = |name: &str| {
            let about = fs::metadata(folder.path().join(name)).unwrap();
            about.permissions().mode() & 0o777
        };
        // What a new file gets by the mask of whoever runs this.
        fs::write(folder.path().join("plain"), "").unwrap();
        let home = Home::trial();
        home.write_documents(&file("key.svg")).unwrap();
        assert_eq!(mode("key.svg"), 0o600);
        write_open_documents(&file("page.1")).unwrap();
        assert_eq!(mode("page.1"), mode("plain"));
        assert!(home.write_documents(&file("key.svg")).is_err());
    }
}
