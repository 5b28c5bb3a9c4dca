//! The copies that the program makes by itself, one a day, and which of them are kept.

use std::collections::BTreeSet;
use std::fs;
use std::fs::DirBuilder;
use std::io::ErrorKind;
use std::os::unix::fs::DirBuilderExt;
use std::path::Path;
use std::path::PathBuf;

use crate::domain::Day;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::whole_file::clear_unfinished;

/// The folder of the copies, in the home.
const FOLDER: &str = "copies";

/// What every copy of a day is called before its date.
const BEGINNING: &str = "thirdglass-";

/// How many of the newest copies are kept whatever their day.
const NEWEST: usize = 3;

/// For how many of the weeks that have a copy the newest one of the week is kept.
const WEEKS: usize = 4;

/// A copy of one day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DailyCopy {
    /// The day, as it was where it was made.
    pub day: Day,
    /// The file.
    pub file: PathBuf,
}

impl Store {
    /// The copies of single days, the newest first.
    #[must_use]
    pub fn daily_copies(&self) -> Vec<DailyCopy> {
        let Some(folder) = self.copies_folder() else {
            return Vec::new();
        };
        let entries = fs::read_dir(folder).into_iter().flatten().flatten();
        let mut found: Vec<DailyCopy> = entries.filter_map(|it| daily_copy(&it.path())).collect();
        found.sort_by_key(|it| std::cmp::Reverse(it.day));
        found
    }

    /// Makes the copy of a day, unless there is one, and takes away those that are kept no longer; gives its file if it
    /// was made.
    ///
    /// # Errors
    /// The disk refuses; no half copy stays, and no other one is taken away then.
    pub fn copy_of_day(&self, day: Day) -> Result<Option<PathBuf>, StorageError> {
        let Some(folder) = self.copies_folder() else {
            return Ok(None);
        };
        let file = folder.join(format!("{BEGINNING}{day}.db"));
        if file.exists() {
            return Ok(None);
        }
        match DirBuilder::new().mode(0o700).create(&folder) {
            Err(error) if error.kind() != ErrorKind::AlreadyExists => {
                let remedy = "see that you may write to the home, and that the disk has room";
                return Err(StorageError::file(
                    &folder,
                    "make the folder",
                    &error,
                    remedy,
                ));
            }
            _ => {}
        }
        clear_unfinished(&folder);
        self.backup_to(&file)?;
        // Days to come were written by a clock that was wrong; they take nobody's place.
        let mut copies = self.daily_copies();
        copies.retain(|it| it.day <= day);
        let kept = kept(&copies.iter().map(|it| it.day).collect::<Vec<_>>());
        for old in copies.iter().filter(|it| !kept.contains(&it.day)) {
            // One that will not go is tried again tomorrow.
            fs::remove_file(&old.file).ok();
        }
        Ok(Some(file))
    }

    /// Where copies stand; nowhere for a store in memory.
    fn copies_folder(&self) -> Option<PathBuf> {
        self.folder().map(|it| it.join(FOLDER))
    }
}

/// The copy of a day that a file is, if it is one.
fn daily_copy(file: &Path) -> Option<DailyCopy> {
    let name = file.file_name()?.to_str()?;
    let day = name.strip_prefix(BEGINNING)?.strip_suffix(".db")?;
    Some(DailyCopy {
        day: Day::parse(day).ok()?,
        file: file.to_owned(),
    })
}

/// Which of these days, the newest first, keep their copy: the newest few, and the newest of each of the last weeks.
fn kept(days: &[Day]) -> BTreeSet<Day> {
    let mut kept: BTreeSet<Day> = days.iter().take(NEWEST).copied().collect();
    let mut weeks = Vec::new();
    for day in days {
        let week = day.week();
        if !weeks.contains(&week) && weeks.len() < WEEKS {
            weeks.push(week);
            kept.insert(*day);
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Moment;

    fn day(text: &str) -> Day {
        Day::parse(text).unwrap()
    }

    #[test]
    fn the_newest_three_are_kept_and_the_newest_of_each_of_four_weeks() {
        // Weeks begin on Monday (ISO 8601): 2026-11-30, 23, 16, 9 and 2 are Mondays.
        let days = [
            "2026-12-01",
            "2026-11-30",
            "2026-11-29",
            "2026-11-28",
            "2026-11-22",
            "2026-11-20",
            "2026-11-15",
            "2026-11-08",
        ];
        let kept: Vec<String> = kept(&days.map(day))
            .iter()
            .map(ToString::to_string)
            .collect();
        assert_eq!(
            kept,
            [
                "2026-11-15",
                "2026-11-22",
                "2026-11-29",
                "2026-11-30",
                "2026-12-01"
            ]
        );
    }

    #[test]
    fn a_day_has_one_copy_and_old_ones_go_when_a_new_one_is_whole() {
        let home = tempfile::tempdir().unwrap();
        let stamp = Moment::parse("2026-11-01T10:00:00Z").unwrap();
        let store = Store::open(home.path(), &stamp).unwrap();
        let days = [
            "2026-11-01",
            "2026-11-02",
            "2026-11-03",
            "2026-11-04",
            "2026-11-05",
            "2026-11-06",
        ];
        for it in days.map(day) {
            assert!(store.copy_of_day(it).unwrap().is_some());
            assert_eq!(store.copy_of_day(it).unwrap(), None);
        }
        let left: Vec<String> = store
            .daily_copies()
            .iter()
            .map(|it| it.day.to_string())
            .collect();
        // The first of November 2026 is a Sunday, the last day of its week.
        assert_eq!(
            left,
            ["2026-11-06", "2026-11-05", "2026-11-04", "2026-11-01"]
        );
        assert!(Store::open(&home.path().join("copies"), &stamp).is_ok());
    }
}
