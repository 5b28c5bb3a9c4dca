//! Where a file is that somebody typed: as it stands, but for the sign of one's own folder, which no shell has read here.

use std::path::Path;
use std::path::PathBuf;

/// The file that is meant by what was typed on a screen.
#[must_use]
pub fn typed_place(text: &str) -> PathBuf {
    place(text, std::env::home_dir().as_deref())
}

/// The place of a recipe file of ours, with our ending where none was typed. What follows the last dot of “v1.2” is
/// none.
#[must_use]
pub fn recipe_place(file: &Path) -> PathBuf {
    let ending = file.extension().map(|it| it.to_string_lossy());
    let has_none = ending.is_none_or(|it| it.chars().all(|it| it.is_ascii_digit()));
    match file.file_name() {
        Some(name) if has_none && !file.is_dir() => {
            let mut name = name.to_owned();
            name.push(".toml");
            file.with_file_name(name)
        }
        _ => file.to_owned(),
    }
}

/// Where a file is, in full where the disk tells.
#[must_use]
pub fn shown_place(file: &Path) -> String {
    let place = std::path::absolute(file).unwrap_or_else(|_| file.to_owned());
    place.display().to_string()
}

fn place(text: &str, own: Option<&Path>) -> PathBuf {
    let text = text.trim();
    match (text.strip_prefix("~/"), own) {
        (Some(rest), Some(own)) => own.join(rest),
        _ => PathBuf::from(text),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sign_of_ones_own_folder_is_read_at_the_beginning_alone() {
        let own = Path::new("/kitchen/ana");
        for (typed, is) in [
            ("~/pale.xml", "/kitchen/ana/pale.xml"),
            (" ~/beer/pale.xml ", "/kitchen/ana/beer/pale.xml"),
            ("pale.xml", "pale.xml"),
            ("a~/pale.xml", "a~/pale.xml"),
            ("/tmp/~/pale.xml", "/tmp/~/pale.xml"),
            ("~pale.xml", "~pale.xml"),
        ] {
            assert_eq!(place(typed, Some(own)), Path::new(is), "{typed}");
        }
        assert_eq!(place("~/pale.xml", None), Path::new("~/pale.xml"));
    }

    #[test]
    fn a_recipe_file_typed_without_an_ending_gets_ours_and_any_other_keeps_its_own() {
        for (typed, is) in [
            ("EP2", "EP2.toml"),
            ("beer/EP2", "beer/EP2.toml"),
            ("pale v1.2", "pale v1.2.toml"),
            ("pale.toml", "pale.toml"),
            ("pale.json", "pale.json"),
            ("pale.txt", "pale.txt"),
        ] {
            assert_eq!(recipe_place(Path::new(typed)), Path::new(is), "{typed}");
        }
        let folder = tempfile::tempdir().unwrap();
        assert_eq!(recipe_place(folder.path()), folder.path());
    }
}
