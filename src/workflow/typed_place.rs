//! Where a file is that somebody typed: as it stands, but for the sign of one's own folder, which no shell has read here.

use std::path::Path;
use std::path::PathBuf;

/// The file that is meant by what was typed on a screen.
#[must_use]
pub fn typed_place(text: &str) -> PathBuf {
    place(text, std::env::home_dir().as_deref())
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
}
