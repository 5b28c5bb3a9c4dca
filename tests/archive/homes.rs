//! Homes that are put into archives, and archives that are taken apart and put together again.

use std::fs;
use std::io::Cursor;
use std::io::Read;
use std::io::Write;
use std::path::Path;
use std::path::PathBuf;
use std::sync::OnceLock;

use rusqlite::Connection;
use thirdglass::domain::PhotographKind;
use thirdglass::statistics::Dice;
use thirdglass::workflow::Clock;
use thirdglass::workflow::Home;
use thirdglass::workflow::Sealed;
use zip::CompressionMethod;
use zip::DateTime;
use zip::ZipArchive;
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

/// The files of an archive in their order.
pub(crate) type Files = Vec<(String, Vec<u8>)>;

pub(crate) fn open(folder: &Path) -> Home {
    Home::open(folder, Clock::system(), Dice::from_seed(5)).unwrap()
}

/// A home with the rows of the storage tests.
pub(crate) fn home_of_fixture(schema: u32) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let fixture = format!(
        "{}/tests/fixtures/schema-{schema}.db",
        env!("CARGO_MANIFEST_DIR")
    );
    fs::copy(fixture, folder.path().join("thirdglass.db")).unwrap();
    folder
}

/// A JPEG of one colour.
pub(crate) fn picture(folder: &Path) -> PathBuf {
    let file = folder.join("picture.png");
    let image = image::RgbImage::from_pixel(40, 30, image::Rgb([180, 90, 20]));
    image.save(&file).unwrap();
    file
}

/// A home with the rows of the storage tests, words and a larder of its own, and true pictures.
pub(crate) fn full_home() -> tempfile::TempDir {
    let folder = home_of_fixture(7);
    let words = folder.path().join("descriptors");
    fs::create_dir(&words).unwrap();
    fs::write(words.join("own words.toml"), own_words()).unwrap();
    fs::write(folder.path().join("larder.toml"), "# Nothing yet.\n").unwrap();
    let file = picture(folder.path());
    let mut home = open(folder.path());
    home.add_photograph("Öse 7", &file, PhotographKind::Label, None)
        .unwrap();
    home.add_photograph("Öse 7", &file, PhotographKind::Sheet, Some("Ana"))
        .unwrap();
    folder
}

/// A place with three shelves of three words each that are on no wheel but this one.
fn own_words() -> String {
    let place = "[place]\nid = \"trial-yard\"\nname = \"Trial yard\"\nmet = \"In a test.\"\n";
    let shelves = ["lamps", "gates", "tiles"];
    let shelf = |it: &&str| {
        format!("[[shelf]]\nid = \"trial-{it}\"\nname = \"Trial {it}\"\nmet = \"In a test.\"\n")
    };
    let word = |(shelf, word): (&&str, u8)| {
        format!(
            "[[descriptor]]\nid = \"trial-{shelf}-{word}\"\nshelf = \"trial-{shelf}\"\n\
             word = \"trial {shelf} {word}\"\ndefinition = \"Invented.\"\nstages = [\"aroma\"]\n\
             [[descriptor.look_alike]]\nid = \"hay\"\ntell = \"Hay is sweeter.\"\n\
             [descriptor.no_jar]\nwhy = \"It was invented.\"\ninstead = \"Think of it.\"\n"
        )
    };
    let words = shelves.iter().flat_map(|it| (1..=3).map(move |n| (it, n)));
    let parts = shelves.iter().map(shelf).chain(words.map(word));
    std::iter::once(place.to_owned()).chain(parts).collect()
}

pub(crate) fn exported(home: &Path) -> Vec<u8> {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("all.zip");
    open(home).write_archive(&file, Sealed::Too).unwrap();
    fs::read(file).unwrap()
}

pub(crate) fn files_of(archive: &[u8]) -> Files {
    let mut zip = ZipArchive::new(Cursor::new(archive)).unwrap();
    let mut files = Vec::new();
    for index in 0..zip.len() {
        let mut file = zip.by_index(index).unwrap();
        let mut bytes = Vec::new();
        file.read_to_end(&mut bytes).unwrap();
        files.push((file.name().unwrap().into_owned(), bytes));
    }
    files
}

pub(crate) fn packed(files: &Files) -> Vec<u8> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in files {
        let options = SimpleFileOptions::default()
            .compression_method(CompressionMethod::Deflated)
            .last_modified_time(DateTime::default());
        zip.start_file(name.as_str(), options).unwrap();
        zip.write_all(bytes).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

/// Reads an archive into a new home; gives the home or the refusal.
pub(crate) fn imported(archive: &[u8]) -> Result<tempfile::TempDir, String> {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("all.zip");
    fs::write(&file, archive).unwrap();
    let home = tempfile::tempdir().unwrap();
    let read = open(home.path()).read_archive(&file);
    if let Err(refused) = read {
        // Nothing half: neither a row nor a file is there, and it can be tried again.
        assert_eq!(exported(home.path()), of_nothing());
        return Err(refused.to_string());
    }
    Ok(home)
}

/// The archive of a home in which nothing was done.
fn of_nothing() -> &'static [u8] {
    static NOTHING: OnceLock<Vec<u8>> = OnceLock::new();
    NOTHING.get_or_init(|| exported(tempfile::tempdir().unwrap().path()))
}

pub(crate) fn schema_of(home: &Path) -> Vec<(String, Option<String>)> {
    let file = Connection::open(home.join("thirdglass.db")).unwrap();
    let sql = "SELECT name, sql FROM sqlite_schema ORDER BY name";
    let mut schema = file.prepare(sql).unwrap();
    let rows = schema.query_map([], |row| Ok((row.get(0)?, row.get(1)?)));
    rows.unwrap().collect::<Result<_, _>>().unwrap()
}
