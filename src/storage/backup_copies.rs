//! Copies in the home folder: whether they still hold somebody.

use std::fs;
use std::fs::File;
use std::io::Read;
use std::path::Path;
use std::path::PathBuf;

use rusqlite::Connection;
use rusqlite::OpenFlags;

use crate::domain::Name;
use crate::domain::TasterId;
use crate::storage::Store;
use crate::storage::row;

/// How a database begins (the file format of `SQLite`, section 1.3).
const MAGIC: &[u8; 16] = b"SQLite format 3\0";

/// Bytes read at once.
const PIECE: usize = 1 << 20;

/// Folders in folders that are looked into.
const DEEPEST: usize = 4;

/// Parts of a name that make a file a copy, whatever is in it.
const NAMED_LIKE_A_COPY: [&str; 5] = [".db", ".sqlite", ".bak", "backup", ".zip"];

/// A copy that a person may still be in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BackupCopy {
    /// Which file.
    pub file: PathBuf,
    /// What was found in it.
    pub found: InCopy,
}

/// What was found in a copy.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum InCopy {
    /// The person is in it.
    Held,
    /// It could not be looked into.
    NotReadable,
}

impl Store {
    /// Takes away those copies of single days that a taster is in, or that cannot be looked into: nobody made them
    /// on purpose.
    pub fn take_away_daily_copies(&self, taster: &TasterId, name: &Name) {
        let folded = row::folded(name);
        for copy in self.daily_copies() {
            if look_into(&copy.file, taster.as_str(), &folded).is_some() {
                // One that will not go is tried again when the next one is made.
                fs::remove_file(&copy.file).ok();
            }
        }
    }

    /// The copies in the home folder that hold a taster, or that cannot be looked into, by name. The file
    /// in use is not among them, nor those of single days, which are the program's own. No copy is changed.
    #[must_use]
    pub fn copies_holding(&self, taster: &TasterId, name: &Name) -> Vec<BackupCopy> {
        let Some(home) = self.folder() else {
            return Vec::new();
        };
        let mut files = Vec::new();
        list(home, DEEPEST, &mut files);
        let daily = self.daily_copies();
        files.retain(|it| {
            !belongs_to(it, self.path()) && !daily.iter().any(|copy| copy.file == *it)
        });
        files.sort();
        let folded = row::folded(name);
        let copies = files.into_iter().filter_map(|file| {
            let found = look_into(&file, taster.as_str(), &folded)?;
            Some(BackupCopy { file, found })
        });
        copies.collect()
    }
}

/// Every file in a folder, without following links.
fn list(folder: &Path, deep: usize, files: &mut Vec<PathBuf>) {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    for entry in entries {
        match entry.file_type() {
            Ok(kind) if kind.is_dir() && deep > 0 => list(&entry.path(), deep - 1, files),
            Ok(kind) if kind.is_file() => files.push(entry.path()),
            _ => {}
        }
    }
}

/// True for the file in use and what `SQLite` keeps beside it.
fn belongs_to(file: &Path, used: &Path) -> bool {
    ["", "-wal", "-shm", "-journal"].iter().any(|end| {
        let mut beside = used.as_os_str().to_owned();
        beside.push(end);
        file.as_os_str() == beside
    })
}

/// What is found of a person in a file; none where it is no copy, or does not hold them.
fn look_into(file: &Path, id: &str, folded: &str) -> Option<InCopy> {
    let named = file.file_name().is_some_and(|it| {
        let name = it.to_string_lossy().to_lowercase();
        NAMED_LIKE_A_COPY.iter().any(|part| name.contains(part))
    });
    let Ok(database) = begins_like_a_database(file) else {
        return named.then_some(InCopy::NotReadable);
    };
    if !database && !named {
        return None;
    }
    // The id is in the bytes wherever a row of the person is, or was and is not rubbed out.
    match (
        holds_bytes(file, id.as_bytes()),
        holds_row(file, id, folded),
    ) {
        (Ok(true), _) | (_, Some(true)) => Some(InCopy::Held),
        (Ok(false), Some(false)) => None,
        _ => Some(InCopy::NotReadable),
    }
}

fn begins_like_a_database(file: &Path) -> std::io::Result<bool> {
    let mut head = Vec::new();
    let most = MAGIC.len() as u64;
    File::open(file)?.take(most).read_to_end(&mut head)?;
    Ok(head == MAGIC)
}

/// Whether a run of bytes stands in a file.
fn holds_bytes(file: &Path, wanted: &[u8]) -> std::io::Result<bool> {
    let mut file = File::open(file)?;
    let mut window = Vec::new();
    loop {
        // The end of the last piece stays, for what stands across two of them.
        let kept = window.len().min(wanted.len().saturating_sub(1));
        window.drain(..window.len() - kept);
        let read = file.by_ref().take(PIECE as u64).read_to_end(&mut window)?;
        if window.windows(wanted.len().max(1)).any(|it| it == wanted) {
            return Ok(true);
        }
        if read == 0 {
            return Ok(false);
        }
    }
}

/// Whether a taster of this id or name is in a database; none where it cannot be read.
fn holds_row(file: &Path, id: &str, folded: &str) -> Option<bool> {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY
        | OpenFlags::SQLITE_OPEN_URI
        | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection = Connection::open_with_flags(address(file)?, flags).ok()?;
    let sql = "SELECT count(*) FROM taster WHERE id = ?1 OR folded_name = ?2";
    let found: rusqlite::Result<i64> = connection.query_row(sql, [id, folded], |row| row.get(0));
    found.ok().map(|it| it > 0)
}

/// The address of a file that nobody writes to: nothing is made beside it, no log is looked for.
fn address(file: &Path) -> Option<String> {
    let path = std::path::absolute(file).ok()?;
    let mut address = "file:".to_owned();
    for c in path.to_str()?.chars() {
        match c {
            '%' => address.push_str("%25"),
            '?' => address.push_str("%3f"),
            '#' => address.push_str("%23"),
            other => address.push(other),
        }
    }
    address.push_str("?immutable=1");
    Some(address)
}
