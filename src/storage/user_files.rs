//! Files that the user names: read with a limit, written whole and never over another.

use std::fs;
use std::fs::File;
use std::fs::OpenOptions;
use std::io;
use std::io::BufReader;
use std::io::ErrorKind;
use std::io::Read;
use std::io::Write;
use std::os::unix::fs::OpenOptionsExt;
use std::path::Path;
use std::path::PathBuf;

use crate::storage::StorageError;
use crate::storage::system_words::system_words;
use crate::storage::whole_file::Unfinished;
use crate::storage::whole_file::clear_beside;

/// The longest file that is read: 4 MiB, far beyond any recipe or word list.
const MOST: u64 = 4 * 1024 * 1024;

/// Who may read and write a file: as the user's mask has it.
const FOR_ALL: u32 = 0o666;

/// Who may read and write a file: the user alone.
const FOR_THE_USER: u32 = 0o600;

/// Reads a text file.
///
/// # Errors
/// It cannot be opened, is a folder, is longer than 4 MiB, or is no UTF-8.
pub fn read_file(path: &Path) -> Result<String, StorageError> {
    let bytes = read_bytes(path, MOST)?;
    String::from_utf8(bytes).map_err(|error| StorageError::NotText {
        file: path.to_owned(),
        at: error.utf8_error().valid_up_to() + 1,
    })
}

/// Reads the bytes of a file of at most `most` bytes.
///
/// # Errors
/// It cannot be opened, is a folder, or is longer.
pub fn read_bytes(path: &Path, most: u64) -> Result<Vec<u8>, StorageError> {
    let file = open_file(path)?;
    let mut bytes = Vec::new();
    file.take(most + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| unread(path, &error))?;
    if bytes.len() as u64 > most {
        return Err(StorageError::TooLong {
            file: path.to_owned(),
            most,
        });
    }
    Ok(bytes)
}

/// Opens a file to read it.
///
/// # Errors
/// It cannot be opened, or is a folder.
pub(super) fn open_file(path: &Path) -> Result<File, StorageError> {
    let file = File::open(path).map_err(|error| unread(path, &error))?;
    if file
        .metadata()
        .map_err(|error| unread(path, &error))?
        .is_dir()
    {
        return Err(StorageError::IsFolder {
            file: path.to_owned(),
        });
    }
    Ok(file)
}

fn unread(path: &Path, error: &io::Error) -> StorageError {
    let remedy = "see that it is there and that you may read it";
    StorageError::file(path, "read", error, remedy)
}

/// Opens a table that is read row by row and may be long; its bytes are counted.
///
/// # Errors
/// It cannot be opened, or is a folder.
pub fn open_table(path: &Path) -> Result<(impl Read, u64), StorageError> {
    let file = open_file(path)?;
    let about = file.metadata().map_err(|error| unread(path, &error))?;
    Ok((Worded(BufReader::new(file)), about.len()))
}

/// A reader whose errors are told in plain words, because whoever reads through it only tells them on.
struct Worded<R>(R);

impl<R: Read> Read for Worded<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let read = self.0.read(into);
        read.map_err(|error| io::Error::new(error.kind(), system_words(&error)))
    }
}

/// The user's own files of the wheel, `descriptors/*.toml` in the home folder, sorted by name: the
/// path for messages, and the text. None where there is no such folder; hidden files and folders
/// are passed over.
///
/// # Errors
/// The folder or one of the files cannot be read.
pub fn user_wheel_files(home: &Path) -> Result<Vec<(String, String)>, StorageError> {
    toml_files(&home.join("descriptors"))
}

/// The user's own files of ingredients, `descriptors/ingredients/*.toml` in the home folder, in
/// the same way.
///
/// # Errors
/// The folder or one of the files cannot be read.
pub fn user_ingredient_files(home: &Path) -> Result<Vec<(String, String)>, StorageError> {
    toml_files(&home.join("descriptors/ingredients"))
}

/// The user's own files of hints, `descriptors/hints/*.toml` in the home folder, in the same way.
///
/// # Errors
/// The folder or one of the files cannot be read.
pub fn user_hint_files(home: &Path) -> Result<Vec<(String, String)>, StorageError> {
    toml_files(&home.join("descriptors").join("hints"))
}

/// Where a home's list of what is there stands, if it does.
#[must_use]
pub fn larder_path(home: &Path) -> PathBuf {
    home.join("larder.toml")
}

/// The user's list of what is at home, `larder.toml` in the home folder: the path for messages, and the text. None
/// where there is no such file.
///
/// # Errors
/// The file cannot be read.
pub fn user_larder_file(home: &Path) -> Result<Option<(String, String)>, StorageError> {
    one_file(&larder_path(home))
}

/// Where a home's settings stand, if they do.
#[must_use]
pub fn settings_path(home: &Path) -> PathBuf {
    home.join("settings.toml")
}

/// The user's settings, `settings.toml` in the home folder: the path for messages, and the text. None where there is
/// no such file.
///
/// # Errors
/// The file cannot be read.
pub fn user_settings_file(home: &Path) -> Result<Option<(String, String)>, StorageError> {
    one_file(&settings_path(home))
}

/// A file of the user's that may be missing: its path, and its text.
fn one_file(path: &Path) -> Result<Option<(String, String)>, StorageError> {
    match fs::symlink_metadata(path) {
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        _ => Ok(Some((path.display().to_string(), read_file(path)?))),
    }
}

pub(super) fn toml_files(folder: &Path) -> Result<Vec<(String, String)>, StorageError> {
    let failed = |error| {
        let remedy = "see that you may read it";
        StorageError::file(folder, "look into", &error, remedy)
    };
    let entries = match fs::read_dir(folder) {
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Vec::new()),
        entries => entries.map_err(failed)?,
    };
    let mut paths = entries
        .map(|entry| entry.map(|entry| entry.path()))
        .collect::<Result<Vec<PathBuf>, _>>()
        .map_err(failed)?;
    paths.retain(|path| is_open_toml(path) && !path.is_dir());
    paths.sort();
    paths
        .iter()
        .map(|path| Ok((path.display().to_string(), read_file(path)?)))
        .collect()
}

fn is_open_toml(path: &Path) -> bool {
    let hidden = path
        .file_name()
        .is_some_and(|name| name.as_encoded_bytes().starts_with(b"."));
    !hidden
        && path
            .extension()
            .is_some_and(|extension| extension == "toml")
}

/// Lets pass only if a new file can stand there: nothing of that name, and a folder to hold it.
///
/// # Errors
/// Something is there already, or the folder is not.
pub fn ensure_free_place(path: &Path) -> Result<(), StorageError> {
    if path.exists() {
        return Err(StorageError::Exists {
            file: path.to_owned(),
        });
    }
    let folder = path.parent().filter(|it| !it.as_os_str().is_empty());
    if let Some(folder) = folder {
        let remedy = "make it first, or name another place";
        fs::read_dir(folder)
            .map_err(|error| StorageError::file(folder, "look into the folder", &error, remedy))?;
    }
    Ok(())
}

/// Writes a new file, whole or not at all; never over another.
///
/// # Errors
/// Something of that name is there already, or the disk refuses.
pub fn write_new_file(path: &Path, contents: impl AsRef<[u8]>) -> Result<(), StorageError> {
    write_new(path, contents.as_ref(), FOR_ALL)
}

/// Writes a new file in the same way, for the user alone.
///
/// # Errors
/// Something of that name is there already, or the disk refuses.
pub fn write_new_private_file(path: &Path, text: &str) -> Result<(), StorageError> {
    write_new_private_bytes(path, text.as_bytes())
}

/// Writes a new file of bytes in the same way.
///
/// # Errors
/// Something of that name is there already, or the disk refuses.
pub fn write_new_private_bytes(path: &Path, bytes: &[u8]) -> Result<(), StorageError> {
    write_new(path, bytes, FOR_THE_USER)
}

/// Whether a file says just this already, such as after a try that was cut short; the name that it had meanwhile goes.
#[must_use]
pub fn is_written(path: &Path, text: &str) -> bool {
    let is_there = read_file(path).is_ok_and(|it| it == text);
    if is_there {
        clear_beside(path);
    }
    is_there
}

/// Takes a file away again that was just written here, because what belongs to it could not be kept; one that will
/// not go stays.
pub fn take_back_new_file(path: &Path) {
    fs::remove_file(path).ok();
}

fn write_new(path: &Path, bytes: &[u8], mode: u32) -> Result<(), StorageError> {
    filled(path, mode, |file| {
        let remedy = "nothing was written; try again";
        file.write_all(bytes)
            .map_err(|error| StorageError::file(path, "write", &error, remedy))
    })
}

/// Makes a new file for the user alone, of which `write` says what is in it: whole or not at all.
///
/// # Errors
/// Something of that name is there already, the disk refuses, or what `write` returned.
pub(super) fn new_private_file_filled(
    path: &Path,
    write: impl FnOnce(&mut File) -> Result<(), StorageError>,
) -> Result<(), StorageError> {
    filled(path, FOR_THE_USER, write)
}

fn filled(
    path: &Path,
    mode: u32,
    write: impl FnOnce(&mut File) -> Result<(), StorageError>,
) -> Result<(), StorageError> {
    let mut unfinished = Unfinished::file(path, mode)?;
    write(&mut unfinished.file)?;
    unfinished.finish_file()
}

/// Makes a new file for the user alone in the same way, of which `write` is told the name that it has meanwhile.
///
/// # Errors
/// As for [`new_private_file_filled`].
pub(super) fn new_private_file_beside(
    path: &Path,
    write: impl FnOnce(&Path) -> Result<(), StorageError>,
) -> Result<(), StorageError> {
    let unfinished = Unfinished::file(path, FOR_THE_USER)?;
    write(&unfinished.beside)?;
    unfinished.finish_file()
}

/// Makes a new, empty file that only the user may read and write.
///
/// # Errors
/// Something of that name is there already, or the disk refuses.
pub(super) fn new_private_file(path: &Path) -> Result<(), StorageError> {
    OpenOptions::new()
        .write(true)
        .create_new(true)
        .mode(FOR_THE_USER)
        .open(path)
        .map(drop)
        .map_err(|error| {
            if error.kind() == ErrorKind::AlreadyExists {
                let file = path.to_owned();
                return StorageError::Exists { file };
            }
            let remedy = "see that the folder is there and that you may write to it";
            StorageError::file(path, "make", &error, remedy)
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_of_four_mebibytes_is_read_and_one_byte_more_is_refused() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("long.toml");
        fs::write(&path, vec![b'#'; 4_194_304]).unwrap();
        assert_eq!(read_file(&path).unwrap().len(), 4_194_304);
        fs::write(&path, vec![b'#'; 4_194_305]).unwrap();
        assert_eq!(
            read_file(&path),
            Err(StorageError::TooLong {
                file: path,
                most: 4_194_304
            })
        );
    }

    #[test]
    fn a_place_is_free_only_in_a_folder_and_without_a_file() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("new.toml");
        assert_eq!(ensure_free_place(&path), Ok(()));
        fs::write(&path, "").unwrap();
        assert!(ensure_free_place(&path).is_err());
        assert!(ensure_free_place(&folder.path().join("none/new.toml")).is_err());
    }

    #[test]
    fn a_broken_letter_is_named_by_its_byte() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("broken.toml");
        fs::write(&path, b"malt \xff").unwrap();
        assert_eq!(
            read_file(&path),
            Err(StorageError::NotText { file: path, at: 6 })
        );
    }

    #[test]
    fn a_disk_that_fails_in_the_middle_of_a_table_is_told_in_words() {
        struct Failing;
        impl Read for Failing {
            fn read(&mut self, _into: &mut [u8]) -> io::Result<usize> {
                // EIO of POSIX.
                Err(io::Error::from_raw_os_error(5))
            }
        }
        let told = Worded(Failing).read(&mut [0]).unwrap_err().to_string();
        assert_eq!(told, "the disk reports a fault");
    }

    #[test]
    fn a_folder_and_a_missing_file_are_refused_by_name() {
        let folder = tempfile::tempdir().unwrap();
        let inside = folder.path().to_owned();
        assert_eq!(
            read_file(&inside),
            Err(StorageError::IsFolder {
                file: inside.clone()
            })
        );
        let gone = read_file(&inside.join("gone.toml")).unwrap_err();
        let gone = gone.to_string();
        assert!(gone.contains("gone.toml: nothing of that name"), "{gone}");
        assert!(!gone.contains("os error"), "{gone}");
    }

    #[test]
    fn a_file_is_written_once_and_never_over_another() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("report.md");
        write_new_file(&path, "first").unwrap();
        assert_eq!(
            write_new_file(&path, "second"),
            Err(StorageError::Exists { file: path.clone() })
        );
        assert_eq!(read_file(&path).unwrap(), "first");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_file_that_a_killed_program_wrote_whole_is_known_and_its_second_name_goes() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("next.toml");
        write_new_file(&path, "text").unwrap();
        fs::hard_link(&path, folder.path().join("next.toml.thirdglass-part")).unwrap();
        assert!(!is_written(&path, "another text"));
        assert!(is_written(&path, "text"));
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_file_that_cannot_be_written_leaves_nothing_behind() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("report.md");
        // Another program is just making it.
        let part = File::create(folder.path().join("report.md.thirdglass-part")).unwrap();
        part.lock().unwrap();
        assert!(write_new_file(&path, "text").is_err());
        assert!(!path.exists());
    }

    #[test]
    fn a_larder_is_read_where_there_is_one() {
        let home = tempfile::tempdir().unwrap();
        assert_eq!(user_larder_file(home.path()), Ok(None));
        let path = home.path().join("larder.toml");
        fs::write(&path, "# Nothing.").unwrap();
        let file = (path.display().to_string(), "# Nothing.".to_owned());
        assert_eq!(user_larder_file(home.path()), Ok(Some(file)));
        fs::remove_file(&path).unwrap();
        fs::create_dir(&path).unwrap();
        assert!(user_larder_file(home.path()).is_err());
    }

    #[test]
    fn the_users_files_come_sorted_and_without_hidden_files_and_folders() {
        let home = tempfile::tempdir().unwrap();
        assert_eq!(user_wheel_files(home.path()), Ok(Vec::new()));
        assert_eq!(user_ingredient_files(home.path()), Ok(Vec::new()));
        let folder = home.path().join("descriptors");
        fs::create_dir_all(folder.join("ingredients")).unwrap();
        fs::create_dir(folder.join("folder.toml")).unwrap();
        for name in [
            "pond.toml",
            "barn.toml",
            ".barn.toml",
            "readme.txt",
            "ingredients/hops.toml",
        ] {
            fs::write(folder.join(name), name).unwrap();
        }
        let path = |name: &str| folder.join(name).display().to_string();
        let file = |name: &str| (path(name), name.to_owned());
        let words = vec![file("barn.toml"), file("pond.toml")];
        assert_eq!(user_wheel_files(home.path()), Ok(words));
        let hops = vec![file("ingredients/hops.toml")];
        assert_eq!(user_ingredient_files(home.path()), Ok(hops));
    }
}
