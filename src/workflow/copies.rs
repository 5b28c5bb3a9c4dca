//! Copies of a home: one a day by itself, one on request, and bringing one back.

use std::path::Path;
use std::path::PathBuf;

use crate::domain::Moment;
use crate::storage::SoundCopy;
use crate::storage::ensure_free_place;
use crate::workflow::Clock;
use crate::workflow::Home;
use crate::workflow::WorkflowError;
use crate::workflow::local_day;

/// Whether a copy may take the place of what is there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Replacing {
    /// Only where nothing is.
    Nothing,
    /// Whatever is there; it is kept aside.
    WhatIsThere,
}

/// A copy that was brought back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Restored {
    /// When the newest notes in it were begun; none where it holds none.
    pub latest: Option<Moment>,
    /// How many locked notes it holds.
    pub notes: u32,
    /// Where what was there before is kept; none where there was nothing.
    pub aside: Option<PathBuf>,
}

impl Home {
    /// Writes a whole copy of this home's file into a new file that only the user may read, while others go on.
    ///
    /// # Errors
    /// The file is there already, or the disk refuses; no half copy stays.
    pub fn write_copy(&self, file: &Path) -> Result<(), WorkflowError> {
        ensure_free_place(file)?;
        Ok(self.store.backup_to(file)?)
    }

    /// Does what is due once a day, if anything was changed: makes the copy of the day, and throws out what was
    /// removed thirty days ago. What cannot be done today is done another day; `home check` tells how old the last copy is.
    pub fn end_the_day(&mut self) {
        if !self.store.was_written_to() {
            return;
        }
        let day = self.today();
        let copies = self.store.daily_copies();
        if copies.iter().any(|it| it.day == day) || self.store.copy_of_day(day).is_err() {
            return;
        }
        self.throw_out_the_old().ok();
    }
}

/// Puts a copy in the place of a home's file, after it was looked through. What was there is kept aside.
///
/// # Errors
/// The copy is not sound, something is there and was not to be replaced, or the disk refuses.
pub fn restore(
    home: &Path,
    file: &Path,
    replacing: Replacing,
    mut clock: Clock,
) -> Result<Restored, WorkflowError> {
    let copy = SoundCopy::open(file)?;
    let now = clock.now();
    if replacing == Replacing::Nothing && !SoundCopy::is_free(home, &now) {
        return Err(WorkflowError::WouldReplace {
            home: home.display().to_string(),
            file: file.display().to_string(),
            notes: copy.notes,
            latest: copy.latest.map(local_day),
        });
    }
    let aside = copy.put_in_place(home, &now)?;
    Ok(Restored {
        latest: copy.latest,
        notes: copy.notes,
        aside,
    })
}
