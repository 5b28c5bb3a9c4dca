//! What the system answers of a file, in plain words and without its numbers.

use std::io;
use std::io::ErrorKind;

use zip::result::ZipError;

/// The number of a fault of the disk itself: POSIX names it `EIO` and gives no number; this is that of Linux and the BSDs,
/// macOS among them.
const DISK_FAULT: i32 = 5;
/// The number of too many files that are open at once: `EMFILE` of POSIX, numbered by Linux and the BSDs as well.
const MANY_OPEN: i32 = 24;

/// What the system said, as a half sentence.
pub(super) fn system_words(error: &io::Error) -> String {
    let known = match error.raw_os_error() {
        Some(DISK_FAULT) => Some("the disk reports a fault"),
        Some(MANY_OPEN) => Some("too many files are open"),
        _ => kind_words(error.kind()),
    };
    known.map_or_else(|| without_number(error), str::to_owned)
}

/// The same of what became of an archive.
pub(super) fn zip_words(error: &ZipError) -> String {
    match error {
        ZipError::Io(error) => system_words(error),
        other => other.to_string(),
    }
}

const fn kind_words(kind: ErrorKind) -> Option<&'static str> {
    Some(match kind {
        ErrorKind::NotFound => "nothing of that name is there",
        ErrorKind::PermissionDenied => "the system does not allow it",
        ErrorKind::AlreadyExists => "something of that name is there already",
        ErrorKind::NotADirectory => "a part of its path is a file and no folder",
        ErrorKind::IsADirectory => "it is a folder",
        ErrorKind::StorageFull => "the disk is full",
        ErrorKind::QuotaExceeded => "your share of the disk is used up",
        ErrorKind::FileTooLarge => "it would be longer than the disk takes",
        ErrorKind::ReadOnlyFilesystem => "the disk can be read, but not written to",
        ErrorKind::InvalidFilename => "the name is too long, or not one for a file",
        ErrorKind::ResourceBusy => "another program holds it",
        ErrorKind::TimedOut => "the disk does not answer",
        ErrorKind::UnexpectedEof => "it ends too early",
        _ => return None,
    })
}

/// What the system says itself, without the number at its end. The same stands in the terminal room, which may name no
/// other and may not be named from here.
fn without_number(error: &io::Error) -> String {
    let said = error.to_string();
    let words = said.split_once(" (os error ").map(|it| it.0.to_owned());
    words.unwrap_or(said)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_answer_of_the_system_is_told_with_its_number() {
        for number in 1..=133 {
            let error = io::Error::from_raw_os_error(number);
            let words = system_words(&error);
            assert!(!words.contains("os error") && !words.is_empty(), "{words}");
            let archive = zip_words(&ZipError::Io(error));
            assert_eq!(archive, words);
        }
    }

    #[test]
    fn what_happens_to_people_is_told_in_plain_words() {
        // Names of POSIX with the numbers that Linux and the BSDs give them: ENOENT, EIO, EACCES, EEXIST, ENOTDIR, ENOSPC, EROFS.
        for (number, words) in [
            (2, "nothing of that name is there"),
            (5, "the disk reports a fault"),
            (13, "the system does not allow it"),
            (17, "something of that name is there already"),
            (20, "a part of its path is a file and no folder"),
            (28, "the disk is full"),
            (30, "the disk can be read, but not written to"),
        ] {
            assert_eq!(system_words(&io::Error::from_raw_os_error(number)), words);
        }
    }

    #[test]
    fn what_a_reader_says_itself_is_kept() {
        let error = io::Error::other("corrupt deflate stream");
        assert_eq!(system_words(&error), "corrupt deflate stream");
    }
}
