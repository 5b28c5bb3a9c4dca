//! What the user keeps in the home folder beside the file: words, ingredients, hints, the larder and the settings, for an archive.

use std::fs;
use std::fs::DirBuilder;
use std::io::ErrorKind;
use std::os::unix::fs::DirBuilderExt;
use std::path::Path;
use std::path::PathBuf;

use crate::storage::ArchiveError;
use crate::storage::OwnFile;
use crate::storage::StorageError;
use crate::storage::archive_form::LARDER;
use crate::storage::archive_form::OWN_FOLDERS;
use crate::storage::archive_form::SETTINGS;
use crate::storage::archive_form::is_safe_name;
use crate::storage::user_files::read_file;
use crate::storage::user_files::take_back_new_file;
use crate::storage::user_files::toml_files;
use crate::storage::user_files::user_larder_file;
use crate::storage::user_files::user_settings_file;
use crate::storage::user_files::write_new_private_file;

/// Every file of the user's own that the program reads from the home folder.
///
/// # Errors
/// One of them cannot be read, or its name cannot stand in an archive.
pub fn own_files(home: &Path) -> Result<Vec<OwnFile>, StorageError> {
    let mut own = Vec::new();
    for folder in OWN_FOLDERS {
        for (path, text) in toml_files(&home.join(folder))? {
            own.push((archived_name(folder, Path::new(&path))?, text));
        }
    }
    let larder = user_larder_file(home)?;
    own.extend(larder.map(|(_, text)| (LARDER.to_owned(), text)));
    let settings = user_settings_file(home)?;
    own.extend(settings.map(|(_, text)| (SETTINGS.to_owned(), text)));
    Ok(own)
}

fn archived_name(folder: &str, path: &Path) -> Result<String, StorageError> {
    let name = path.file_name().and_then(|it| it.to_str());
    let name = name.map(|it| format!("{folder}/{it}"));
    name.filter(|it| is_safe_name(it) && !it.contains(char::REPLACEMENT_CHARACTER))
        .ok_or_else(|| StorageError::File {
            file: path.to_owned(),
            step: "name in an archive",
            found: "its name holds signs that not every system knows".to_owned(),
            remedy: "call it by letters, digits, hyphens and blanks",
        })
}

/// Files of the user's own that were put into a home; taken away again when dropped before they are kept.
#[derive(Debug)]
pub struct PutFiles {
    written: Vec<PathBuf>,
    kept: Kept,
}

/// Whether files that were put somewhere stay there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kept {
    NotYet,
    ForGood,
}

impl PutFiles {
    /// Puts files of the user's own into a home. A file of the same name stays if it says the same.
    ///
    /// # Errors
    /// A file of the same name says something else, or the disk refuses; none is left there then.
    pub fn put(home: &Path, own: &[OwnFile]) -> Result<Self, StorageError> {
        let mut put = Self {
            written: Vec::new(),
            kept: Kept::NotYet,
        };
        for (name, text) in own {
            let path = home.join(name);
            if fs::symlink_metadata(&path).is_ok() {
                if read_file(&path)? == *text {
                    continue;
                }
                let there = format!("another file stands as {}", path.display());
                return Err(ArchiveError::NotEmpty { there }.into());
            }
            make_folder_of(&path)?;
            write_new_private_file(&path, text)?;
            put.written.push(path);
        }
        Ok(put)
    }

    /// Leaves them there.
    pub fn keep(mut self) {
        self.kept = Kept::ForGood;
    }
}

impl Drop for PutFiles {
    fn drop(&mut self) {
        if self.kept == Kept::NotYet {
            self.written.iter().for_each(|it| take_back_new_file(it));
        }
    }
}

fn make_folder_of(path: &Path) -> Result<(), StorageError> {
    let Some(folder) = path.parent() else {
        return Ok(());
    };
    match DirBuilder::new().recursive(true).mode(0o700).create(folder) {
        Err(error) if error.kind() != ErrorKind::AlreadyExists => {
            let remedy = "see that you may write there";
            Err(StorageError::file(
                folder,
                "make the folder",
                &error,
                remedy,
            ))
        }
        _ => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(name: &str, text: &str) -> OwnFile {
        (name.to_owned(), text.to_owned())
    }

    #[test]
    fn files_of_ones_own_are_found_and_put_into_another_home() {
        let one = tempfile::tempdir().unwrap();
        fs::create_dir_all(one.path().join("descriptors/hints")).unwrap();
        for name in [
            "larder.toml",
            "descriptors/a b.toml",
            "descriptors/hints/c.toml",
            "settings.toml",
            "other.txt",
        ] {
            fs::write(one.path().join(name), name).unwrap();
        }
        let own = own_files(one.path()).unwrap();
        let expected = [
            "descriptors/a b.toml",
            "descriptors/hints/c.toml",
            "larder.toml",
            "settings.toml",
        ];
        assert_eq!(own, expected.map(|it| file(it, it)));
        let other = tempfile::tempdir().unwrap();
        PutFiles::put(other.path(), &own).unwrap().keep();
        assert_eq!(own_files(other.path()), Ok(own.clone()));
        // Once more is no harm, and another text is never written over.
        PutFiles::put(other.path(), &own).unwrap().keep();
        fs::write(other.path().join("larder.toml"), "mine").unwrap();
        let refused = PutFiles::put(other.path(), &own).unwrap_err();
        assert!(refused.to_string().contains("larder.toml"), "{refused}");
        assert_eq!(
            read_file(&other.path().join("larder.toml")),
            Ok("mine".to_owned())
        );
    }

    #[test]
    fn what_is_not_kept_goes_again() {
        let home = tempfile::tempdir().unwrap();
        let own = [file("descriptors/a.toml", "a"), file("larder.toml", "b")];
        drop(PutFiles::put(home.path(), &own).unwrap());
        assert_eq!(own_files(home.path()), Ok(Vec::new()));
    }
}
