//! Files that are written for the user, such as pages to print: new ones, whole or not at all.

use std::path::PathBuf;

use crate::storage::ensure_free_place;
use crate::storage::take_back_new_file;
use crate::storage::write_new_file;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

impl Home {
    /// Writes new files, such as the pages of one printout: all of them whole, or none.
    ///
    /// # Errors
    /// Something is there already, or the disk refuses.
    pub fn write_documents(&self, files: &[(PathBuf, Vec<u8>)]) -> Result<(), WorkflowError> {
        write_documents(files)
    }
}

/// The same without a home.
///
/// # Errors
/// Something is there already, or the disk refuses.
pub fn write_documents(files: &[(PathBuf, Vec<u8>)]) -> Result<(), WorkflowError> {
    for (file, _) in files {
        ensure_free_place(file)?;
    }
    for (index, (file, contents)) in files.iter().enumerate() {
        if let Err(failed) = write_new_file(file, contents) {
            for (written, _) in &files[..index] {
                take_back_new_file(written);
            }
            return Err(failed.into());
        }
    }
    Ok(())
}
