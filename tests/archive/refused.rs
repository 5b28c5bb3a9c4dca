//! Whatever is wrong in an archive is told, and nothing of it is taken in.

use std::fs;
use std::io::Cursor;

use crate::homes::Files;
use crate::homes::exported;
use crate::homes::files_of;
use crate::homes::full_home;
use crate::homes::imported;
use crate::homes::packed;
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

/// The files of a full home, and a way to change one of them.
fn changed(change: impl FnOnce(&mut Files)) -> String {
    let mut files = files_of(&exported(full_home().path()));
    change(&mut files);
    imported(&packed(&files)).unwrap_err()
}

fn text_of(files: &mut Files, name: &str, change: impl FnOnce(String) -> String) {
    let file = files.iter_mut().find(|it| it.0 == name).unwrap();
    let text = String::from_utf8(file.1.clone()).unwrap();
    let new = change(text.clone());
    assert_ne!(text, new, "{name} is changed");
    file.1 = new.into_bytes();
}

#[test]
fn whatever_is_wrong_in_a_table_is_told_with_its_file_and_line() {
    let slip = |table: &str, from: &str, to: &str| {
        let name = format!("tables/{table}.jsonl");
        changed(|files| text_of(files, &name, |text| text.replacen(from, to, 1)))
    };
    for (table, from, to, told) in [
        (
            "taster",
            "\"name\"",
            "\"nose\"",
            "tables/taster.jsonl, line 1: the column name is missing",
        ),
        (
            "taster",
            "\"name\":\"",
            "\"name\":1,\"x\":\"",
            "line 1: name: a text is needed",
        ),
        (
            "rating",
            "\"value\":",
            "\"value\":NaN,\"x\":",
            "line 1: it is no JSON",
        ),
        (
            "rating",
            "\"value\":",
            "\"value\":1e999,\"x\":",
            "line 1: it is no JSON",
        ),
        (
            "rating",
            "\"position\":",
            "\"position\":1.5,\"x\":",
            "no whole number",
        ),
        (
            "rating",
            "\"state\":\"",
            "\"state\":\"un",
            "CHECK constraint failed",
        ),
        (
            "notes",
            "\"seat\":\"",
            "\"seat\":\"un",
            "points at a row of seat",
        ),
        (
            "notes",
            "\"tasted_on\":\"",
            "\"tasted_on\":\"un",
            "un2026-03-14",
        ),
        ("sitting", "\"kind\":\"", "\"kind\":\"un", "un"),
        (
            "photograph",
            "photographs/",
            "photographs/x",
            "is not in the archive",
        ),
    ] {
        let refused = slip(table, from, to);
        assert!(refused.contains(told), "{table} {to}: {refused}");
        assert!(refused.contains("nothing was taken in"), "{refused}");
    }
}

#[test]
fn what_is_missing_too_much_or_of_a_newer_program_is_told() {
    let gone = changed(|files| files.retain(|it| it.0 != "tables/notes.jsonl"));
    assert!(
        gone.contains("tables/notes.jsonl: the rows of this table are missing"),
        "{gone}"
    );
    let strange = changed(|files| files.push(("tables/secrets.jsonl".into(), b"{}\n".to_vec())));
    assert!(strange.contains("no such table"), "{strange}");
    let other = changed(|files| files.push(("thirdglass.db".into(), b"x".to_vec())));
    assert!(
        other.contains("no archive of a home holds such a file"),
        "{other}"
    );
    let picture = changed(|files| files.push(("photographs/x.jpg".into(), b"x".to_vec())));
    assert!(
        picture.contains("no row names this photograph"),
        "{picture}"
    );
    let swapped = changed(|files| {
        let it = files
            .iter_mut()
            .find(|it| it.0.starts_with("photographs/"))
            .unwrap();
        it.1 = b"not a picture".to_vec();
    });
    assert!(swapped.contains("not those that were kept"), "{swapped}");
    let latin = changed(|files| files.push(("descriptors/x.toml".into(), b"\xe9".to_vec())));
    assert!(
        latin.contains("descriptors/x.toml: it is not UTF-8"),
        "{latin}"
    );
    let odd = changed(|files| files.push(("descriptors/x.toml".into(), b"nonsense".to_vec())));
    assert!(odd.contains("x.toml"), "{odd}");
    for (key, from, to) in [
        ("form", "\"format\": 1", "\"format\": 2"),
        ("schema", "\"schema\": 10", "\"schema\": 11"),
    ] {
        let newer = changed(|files| text_of(files, "archive.json", |text| text.replace(from, to)));
        assert!(
            newer.contains("newer thirdglass") && newer.contains(key),
            "{newer}"
        );
    }
    let nothing = changed(|files| text_of(files, "archive.json", |_| "{}".to_owned()));
    assert!(
        nothing.contains("archive.json: it is no archive of a home"),
        "{nothing}"
    );
    let bytes = changed(|files| {
        let it = files
            .iter_mut()
            .find(|it| it.0 == "tables/taster.jsonl")
            .unwrap();
        it.1.extend(b"\xff\xfe\n");
    });
    assert!(bytes.contains("the line is not UTF-8"), "{bytes}");
}

#[test]
fn no_name_leads_out_of_an_archive() {
    for name in [
        "../up.toml",
        "/etc/up.toml",
        "descriptors/../../up.toml",
        "descriptors\\up.toml",
        "c:up.toml",
        "descriptors/./up.toml",
        "descriptors//up.toml",
        "descriptors/a\0up.toml",
        "descriptors/\u{1b}up.toml",
        "//host/share/up.toml",
        "\\\\?\\c.toml",
    ] {
        let mut archive = packed(&vec![("x".repeat(name.len()), b"x".to_vec())]);
        // The writer mends names itself, so that they are put in as bytes.
        put(&mut archive, &"x".repeat(name.len()), name);
        let refused = imported(&archive).unwrap_err();
        assert!(
            refused.contains("leads out of the archive"),
            "{name}: {refused}"
        );
    }
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    zip.add_symlink("larder.toml", "/etc/passwd", SimpleFileOptions::default())
        .unwrap();
    let refused = imported(&zip.finish().unwrap().into_inner()).unwrap_err();
    assert!(refused.contains("a link to another file"), "{refused}");
    // A folder that is a link, through which the next file would go.
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    zip.add_symlink("descriptors", "/tmp", SimpleFileOptions::default())
        .unwrap();
    zip.start_file("descriptors/up.toml", SimpleFileOptions::default())
        .unwrap();
    let refused = imported(&zip.finish().unwrap().into_inner()).unwrap_err();
    assert!(refused.contains("a link to another file"), "{refused}");
}

/// Names that mean a device, a stream or the same file elsewhere are files like any other here, inside the home.
#[test]
fn names_of_devices_and_twins_in_capitals_stay_in_the_home() {
    let mut files = files_of(&exported(tempfile::tempdir().unwrap().path()));
    for name in [
        "con", "NUL", "aux.txt", "lpt1", "Twin", "twin", "~root", "-rf",
    ] {
        let name = format!("descriptors/hints/{name}.toml");
        files.push((name, b"# Nothing.\n".to_vec()));
    }
    let home = imported(&packed(&files)).unwrap();
    let mut found: Vec<String> = fs::read_dir(home.path().join("descriptors/hints"))
        .unwrap()
        .map(|it| it.unwrap().file_name().into_string().unwrap())
        .collect();
    found.sort();
    let expected = [
        "-rf.toml",
        "NUL.toml",
        "Twin.toml",
        "aux.txt.toml",
        "con.toml",
        "lpt1.toml",
        "twin.toml",
        "~root.toml",
    ];
    assert_eq!(found, expected);
}

/// Writes another name of the same length wherever one stands.
fn put(archive: &mut [u8], old: &str, new: &str) {
    let (old, new) = (old.as_bytes(), new.as_bytes());
    assert_eq!(old.len(), new.len());
    let places: Vec<usize> = (0..=archive.len() - old.len())
        .filter(|at| archive[*at..*at + old.len()] == *old)
        .collect();
    assert!(places.len() >= 2);
    for at in places {
        archive[at..at + new.len()].copy_from_slice(new);
    }
}

#[test]
fn a_name_that_stands_twice_and_a_bomb_are_refused_before_anything_is_unpacked() {
    let two = vec![
        ("larder.toml".to_owned(), b"one".to_vec()),
        ("larder.tomk".to_owned(), b"two".to_vec()),
    ];
    let mut archive = packed(&two);
    put(&mut archive, "larder.tomk", "larder.toml");
    let refused = imported(&archive).unwrap_err();
    assert!(refused.contains("a name stands in it twice"), "{refused}");
    // Deflate packs a run of one letter about 1000 to 1 (RFC 1951: 258 letters in two bits at best).
    let bomb = vec![("tables/taster.jsonl".to_owned(), vec![b' '; 64 << 20])];
    let archive = packed(&bomb);
    assert!(archive.len() < 100_000, "{}", archive.len());
    let refused = imported(&archive).unwrap_err();
    assert!(refused.contains("400 times"), "{refused}");
    // The same that says it is small.
    let mut small = packed(&bomb);
    let size = (64_u32 << 20).to_le_bytes();
    let claimed = 1_000_u32.to_le_bytes();
    for at in 0..small.len() - 4 {
        if small[at..at + 4] == size {
            small[at..at + 4].copy_from_slice(&claimed);
        }
    }
    assert!(imported(&small).is_err());
    let mut picture = files_of(&exported(full_home().path()));
    picture.push(("photographs/big.jpg".to_owned(), vec![7; 17 << 20]));
    let refused = imported(&packed(&picture)).unwrap_err();
    assert!(
        refused.contains("more than such a file may hold"),
        "{refused}"
    );
}

#[test]
fn an_archive_that_was_cut_off_anywhere_is_refused() {
    let archive = exported(full_home().path());
    for part in 0..40 {
        let cut = archive.len() * part / 40;
        let refused = imported(&archive[..cut]).unwrap_err();
        assert!(
            refused.contains("cannot be read as an archive"),
            "{refused}"
        );
    }
    let longer = [&archive[..], b"x"].concat();
    assert!(imported(&longer).is_err());
}
