//! What an archive of a home looks like: its files, its limits, and what its first page says.

use std::path::Path;

/// The version of the form; the schema of the tables has a number of its own.
pub(super) const FORMAT: u64 = 1;

/// What an archive is, in its own words.
pub(super) const KIND: &str = "thirdglass home";

/// The page that says what is in it.
pub(super) const PAGE: &str = "README.txt";

/// The versions it was written with.
pub(super) const HEAD: &str = "archive.json";

/// A list of what is at home, kept by the user.
pub(super) const LARDER: &str = "larder.toml";

/// What the user settled, kept by the user.
pub(super) const SETTINGS: &str = "settings.toml";

/// Folders of the user's own words, ingredients and hints.
pub(super) const OWN_FOLDERS: [&str; 3] = [
    "descriptors",
    "descriptors/hints",
    "descriptors/ingredients",
];

/// Tables that an archive does not hold: what is computed from others (the sums over imports are counted again after
/// reading, so that an archive holds what was observed and no conclusion), and what was removed.
pub(super) const LEFT_OUT: [&str; 3] = ["summary", "removal", "removed_cell"];

/// The most files in an archive.
pub(super) const MOST_FILES: u64 = 20_000;

/// The most bytes of the list of files in an archive: 8 MiB.
pub(super) const MOST_LIST: u64 = 8 << 20;

/// The most bytes of one unpacked table: 1 GiB.
pub(super) const MOST_TABLE: u64 = 1 << 30;

/// The most bytes of one line of a table: 9 MiB, twice the longest document with every letter escaped.
pub(super) const MOST_LINE: u64 = 9 << 20;

/// The most bytes of one photograph: 16 MiB.
pub(super) const MOST_PHOTOGRAPH: u64 = 16 << 20;

/// The most bytes of one file of the user's own: 4 MiB, the longest that is read anywhere.
pub(super) const MOST_OWN: u64 = 4 << 20;

/// The most bytes of all files of the user's own together: 64 MiB, for all of them are held in memory at once.
pub(super) const MOST_OWN_IN_ALL: u64 = 64 << 20;

/// The most bytes of all files unpacked: 4 GiB.
pub(super) const MOST_IN_ALL: u64 = 4 << 30;

/// Above this size a file may not unpack to more than [`MOST_RATIO`] times its packed bytes: 1 MiB.
pub(super) const RATIO_FROM: u64 = 1 << 20;

/// How many bytes may come out of one; rows of numbers give some forty.
pub(super) const MOST_RATIO: u64 = 400;

/// The most problems that are told at once.
pub(super) const MOST_PROBLEMS: usize = 40;

/// Where the rows of a table stand.
pub(super) fn table_file(table: &str) -> String {
    format!("tables/{table}.jsonl")
}

/// Which table a file holds the rows of.
pub(super) fn table_of(file: &str) -> Option<&str> {
    file.strip_prefix("tables/")?.strip_suffix(".jsonl")
}

/// What the user keeps in the home folder: true for a file that the program reads from there.
pub(super) fn is_own_file(file: &str) -> bool {
    if file == LARDER || file == SETTINGS {
        return true;
    }
    file.rsplit_once('/').is_some_and(|(folder, name)| {
        OWN_FOLDERS.contains(&folder)
            && !name.starts_with('.')
            && Path::new(name).extension().is_some_and(|it| it == "toml")
    })
}

/// A name that leads nowhere but into the archive: parts of letters joined by slashes, none of them a step up.
pub(super) fn is_safe_name(name: &str) -> bool {
    name.len() <= 250
        && !name.contains(['\\', ':'])
        && !name.chars().any(char::is_control)
        && name
            .split('/')
            .all(|part| !part.is_empty() && part != "." && part != "..")
}

/// The page that says what is in it, for somebody without the program.
pub(super) fn page(schema: usize) -> String {
    format!(
        "This is everything of one home of thirdglass: who tasted, what they noted, what was brewed,\n\
         practised and tested. Form {FORMAT}, tables of schema {schema}.\n\
         \n\
         CARE: nothing here is sealed. Whoever opens a file by hand while somebody still tastes, or while\n\
         a blind test is open, may read what is in the glass. That cannot be undone.\n\
         \n\
         archive.json   The version of this form, and of the tables.\n\
         tables/        One file a table. Every line is one row: a JSON object with the columns as keys.\n\
         \x20              null means \"not said\" and never 0. Moments are in universal time. Rows stand in\n\
         \x20              the order in which they were written, or by their key.\n\
         photographs/   The photographs, as pictures for any viewer. tables/photograph.jsonl says of which\n\
         \x20              beer each is.\n\
         descriptors/   Words, ingredients and hints of your own, as you wrote them. Not there without any.\n\
         larder.toml    What is at home, as you wrote it. Not there if you keep no such list.\n\
         settings.toml  What you settled, as you wrote it. Not there if you settled nothing.\n\
         \n\
         Left out are sums that are counted again from the rows, and what was removed: {}.\n\
         \n\
         To read it without the program: unpack it; any text editor shows every file, and every\n\
         programming language reads JSON line by line. The columns hang together by their ids: the notes of\n\
         tables/notes.jsonl name their seat and their sample, a seat its taster, a sample its beer.\n\
         \n\
         To read it with the program, into a new and empty folder:\n\
         \x20 thirdglass --home NEW-FOLDER home import THIS-FILE\n",
        LEFT_OUT.join(", ")
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_that_leads_out_of_the_archive_is_found() {
        for bad in [
            "",
            "/etc/passwd",
            "../up",
            "tables/../../up",
            "a//b",
            "a/./b",
            "a\\b",
            "c:x",
            "a\nb",
            "tables/",
            &"a".repeat(251),
        ] {
            assert!(!is_safe_name(bad), "{bad}");
        }
        for good in [
            "README.txt",
            "tables/notes.jsonl",
            "descriptors/Omas Wörter.toml",
        ] {
            assert!(is_safe_name(good), "{good}");
        }
    }

    #[test]
    fn only_what_the_program_reads_from_a_home_is_a_file_of_ones_own() {
        for own in [
            "larder.toml",
            "settings.toml",
            "descriptors/a.toml",
            "descriptors/hints/a.toml",
        ] {
            assert!(is_own_file(own), "{own}");
        }
        for other in [
            "thirdglass.db",
            "descriptors/.a.toml",
            "descriptors/a.txt",
            "descriptors/deeper/a.toml",
            "a.toml",
        ] {
            assert!(!is_own_file(other), "{other}");
        }
    }
}
