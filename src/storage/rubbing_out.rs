//! Rubbing out: what was deleted leaves the bytes of the file too.

use std::fs;
use std::path::Path;
use std::path::PathBuf;

use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::user_files::new_private_file;

/// What was tried, for messages.
const STEP: &str = "rub out what was deleted";

/// Stands in the home while something is deleted whose bytes must go. It holds nothing.
const MARKER: &str = "thirdglass-rubbing-out";

impl Store {
    /// Begins a deletion that shall leave no bytes: whatever happens before [`Store::rub_out`] is done,
    /// the next opening does it.
    pub(super) fn leave_no_bytes(&self, step: &'static str) -> Result<(), StorageError> {
        if let Some(marker) = self.marker() {
            match new_private_file(&marker) {
                Ok(()) | Err(StorageError::Exists { .. }) => {}
                Err(error) => return Err(error),
            }
        }
        self.pragma(step, "secure_delete", "on")
    }

    /// Writes the whole file anew without what was deleted, and empties the log beside it.
    ///
    /// # Errors
    /// Another program keeps the file busy, or the disk refuses; the next opening tries again.
    pub fn rub_out(&self) -> Result<(), StorageError> {
        self.apart(STEP, "VACUUM")?;
        let sql = "PRAGMA wal_checkpoint(TRUNCATE)";
        let busy = self.first(STEP, sql, [], |row| row.get::<_, i64>(0))?;
        if busy.is_some_and(|it| it != 0) {
            return Err(StorageError::Busy {
                file: self.path().to_owned(),
                step: STEP,
            });
        }
        if let Some(marker) = self.marker() {
            // Who finds it still there rubs out once more, which does no harm.
            fs::remove_file(marker).ok();
        }
        Ok(())
    }

    /// Does what an earlier program did not come to.
    pub(super) fn rub_out_what_was_left(&self) {
        if self.marker().is_some_and(|it| it.exists()) {
            // While another program is in the way the marker stays, and the next opening tries again.
            self.rub_out().ok();
        }
    }

    /// Where the marker stands; nowhere for a store in memory.
    fn marker(&self) -> Option<PathBuf> {
        self.folder().map(|it| it.join(MARKER))
    }

    /// The home; none for a store in memory.
    pub(super) fn folder(&self) -> Option<&Path> {
        if self.is_in_memory() {
            return None;
        }
        self.path().parent()
    }
}
