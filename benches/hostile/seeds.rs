//! Good texts of every kind, from which the hostile ones are made.

use std::fs;
use std::io::Cursor;
use std::io::Read;
use std::io::Write;
use std::path::Path;

use image::ExtendedColorType;
use image::ImageEncoder;
use image::RgbImage;
use image::codecs::jpeg::JpegEncoder;
use image::codecs::png::PngEncoder;
use thirdglass::domain::PhotographKind;
use thirdglass::domain::PromisedChange;
use thirdglass::domain::Proposed;
use thirdglass::domain::ProposedTest;
use thirdglass::formats::EXAMPLE;
use thirdglass::formats::write_proposal;
use thirdglass::statistics::Dice;
use thirdglass::storage::builtin_demo_files;
use thirdglass::workflow::Clock;
use thirdglass::workflow::Home;
use thirdglass::workflow::Sealed;
use zip::CompressionMethod;
use zip::ZipArchive;
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

/// Files of an archive with their bytes.
pub(crate) type Files = Vec<(String, Vec<u8>)>;

/// The session of the demonstration.
pub(crate) const SESSION: &str = "kitchen.toml";

/// A file of the project.
fn project(path: &str) -> Vec<u8> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    fs::read(path).expect("a file of the project can be read")
}

fn bytes(texts: &[&str]) -> Vec<Vec<u8>> {
    texts.iter().map(|it| it.as_bytes().to_vec()).collect()
}

/// The recipes of the demonstration, and the one with every key.
pub(crate) fn recipes() -> Vec<Vec<u8>> {
    let demo = builtin_demo_files().iter();
    let demo = demo.filter(|it| it.0.ends_with(".recipe.toml"));
    demo.map(|it| it.1)
        .chain([EXAMPLE])
        .map(|it| it.as_bytes().to_vec())
        .collect()
}

/// Sessions with a few tastings each.
pub(crate) fn sessions() -> Vec<Vec<u8>> {
    let session = builtin_demo_files().iter().find(|it| it.0 == SESSION);
    let session = session.expect("the demonstration has a session").1;
    let tastings = tables(session, "tasting");
    let head = &session[..session.find("[[tasting]]").expect("it has tastings")];
    tastings
        .chunks(3)
        .map(|it| format!("{head}{}", it.concat()).into_bytes())
        .collect()
}

/// The tables of one name, each with everything below it; what stands before the first is left out.
fn tables(text: &str, name: &str) -> Vec<String> {
    let mark = format!("[[{name}]]");
    text.split(&mark)
        .skip(1)
        .map(|it| format!("{mark}{it}"))
        .collect()
}

/// A few tables at a time of a file that is a list of them.
fn in_pieces(text: &str, name: &str, many: usize) -> Vec<Vec<u8>> {
    tables(text, name)
        .chunks(many)
        .map(|it| it.concat().into_bytes())
        .collect()
}

/// Pieces of the ingredients that are built in.
pub(crate) fn ingredients() -> Vec<Vec<u8>> {
    let files = thirdglass::storage::builtin_ingredient_files().iter();
    let names = ["fermentable", "hop", "yeast", "other", "condition", "salt"];
    files
        .flat_map(|file| names.iter().flat_map(|name| in_pieces(file.1, name, 4)))
        .collect()
}

/// Words of one's own that need no other file.
pub(crate) fn words() -> Vec<Vec<u8>> {
    let place = "[place]\nid = \"trial-yard\"\nname = \"Trial yard\"\nmet = \"In a test.\"\n";
    let mut parts = vec![place.to_owned()];
    for shelf in ["lamps", "gates", "tiles"] {
        parts.push(format!(
            "[[shelf]]\nid = \"trial-{shelf}\"\nname = \"Trial {shelf}\"\nmet = \"In a test.\"\n"
        ));
        for word in 0..3 {
            let other = (word + 1) % 3;
            parts.push(format!(
                "[[descriptor]]\nid = \"trial-{shelf}-{word}\"\nshelf = \"trial-{shelf}\"\n\
                 word = \"trial {shelf} {word}\"\ndefinition = \"Invented.\"\nstages = [\"aroma\", \"flavour\"]\n\
                 [[descriptor.look_alike]]\nid = \"trial-{shelf}-{other}\"\ntell = \"It is sweeter.\"\n\
                 [descriptor.no_jar]\nwhy = \"It was invented.\"\ninstead = \"Think of it.\"\n"
            ));
        }
    }
    let text = parts.concat();
    let shipped = thirdglass::storage::builtin_wheel_files()[0].1;
    let start = shipped.find("[[descriptor]]").unwrap_or(0);
    let some = tables(shipped, "descriptor");
    let some = some.iter().take(3).map(String::as_str).collect::<String>();
    bytes(&[&text, &format!("{}{some}", &shipped[..start])])
}

/// Tables of ratings, with the quotes and line ends that spreadsheets write.
pub(crate) fn ratings() -> Vec<Vec<u8>> {
    let head = "taster,sitting,sample,replicate,date,line,intensity,low,high";
    let rows = "Ana,1,T1,1,2026-03-14,bitter,5,0,9\nBen,1,T1,1,2026-03-14,bitter,6.5,0,9\n\
                \"O, Dov\",1,\"T \"\"2\"\"\",2,2026-03-15,haze,31,0,100\nAna,2,T1,1,2026-03-21,own line,2,1,7\n";
    let plain = format!("{head}\n{rows}");
    let windows = plain.replace('\n', "\r\n");
    let marked = format!("\u{feff}{head}\n{rows}");
    bytes(&[&plain, &windows, &marked])
}

/// Documents of proposals.
pub(crate) fn proposals() -> Vec<Vec<u8>> {
    let line = |id: &str, now| PromisedChange {
        id: id.to_owned(),
        label: format!("{id}, aroma"),
        now,
        hoped: Some(5.0),
        low: now + 0.5,
        expected: now + 1.0,
        high: now + 1.5,
    };
    let whole = Proposed {
        changes: vec![
            "Chocolate malt 160 g -> 120 g".to_owned(),
            "Mash at 66 °C".to_owned(),
        ],
        lines: vec![line("bitter", 3.0), line("toast", 2.25)],
        chance: 0.8,
        test: Some(ProposedTest {
            method: "triangle".to_owned(),
            distance: 1.2,
            answers: 24,
        }),
    };
    let without = Proposed {
        test: None,
        lines: Vec::new(),
        ..whole.clone()
    };
    bytes(&[&write_proposal(&whole), &write_proposal(&without)])
}

/// Recipes of the two open standards.
pub(crate) fn foreign(ending: &str) -> Vec<Vec<u8>> {
    let one = project(&format!("tests/standards/evening-pale.{ending}"));
    let marked = [b"\xef\xbb\xbf".as_slice(), &one].concat();
    vec![one, marked]
}

/// Small pictures, one with what a camera writes beside it.
pub(crate) fn pictures() -> Vec<Vec<u8>> {
    let image = RgbImage::from_fn(40, 30, |x, y| {
        image::Rgb([180, u8::try_from(x + y).unwrap_or(0), 20])
    });
    let (mut png, mut jpeg) = (Vec::new(), Vec::new());
    PngEncoder::new(&mut png)
        .write_image(image.as_raw(), 40, 30, ExtendedColorType::Rgb8)
        .expect("a picture can be packed");
    JpegEncoder::new(&mut jpeg)
        .write_image(image.as_raw(), 40, 30, ExtendedColorType::Rgb8)
        .expect("a picture can be packed");
    // The mark of a camera's own part (JEITA CP-3451, 4.5.4) after the picture's first two bytes: turned by 90 degrees.
    let own =
        b"\xff\xe1\0\x22Exif\0\0MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x06\0\0\0\0\0\0";
    let turned = [&jpeg[..2], own, &jpeg[2..]].concat();
    vec![png, jpeg, turned]
}

/// A home with the demonstration and two photographs, packed; and its files.
pub(crate) fn archive(folder: &Path) -> (Vec<u8>, Files) {
    let picture = folder.join("seed.png");
    fs::write(&picture, &pictures()[0]).expect("there is room for a picture");
    let mut home = Home::open(&folder.join("packed"), Clock::system(), Dice::from_seed(5))
        .expect("a home opens");
    home.import_session(SESSION, builtin_demo_files())
        .expect("the demonstration is sound");
    for kind in [PhotographKind::Label, PhotographKind::Sheet] {
        home.add_photograph("OD1", &picture, kind, None)
            .expect("the picture is sound");
    }
    let file = folder.join("seed.zip");
    home.write_archive(&file, Sealed::Too)
        .expect("there is room for an archive");
    let archive = fs::read(file).expect("it was written");
    let mut zip = ZipArchive::new(Cursor::new(&archive)).expect("it is an archive");
    let files = (0..zip.len()).map(|at| {
        let mut file = zip.by_index(at).expect("it is there");
        let mut bytes = Vec::new();
        file.read_to_end(&mut bytes).expect("it is sound");
        (file.name().expect("it is text").into_owned(), bytes)
    });
    let files = files.collect();
    (archive, files)
}

/// Files packed as they are.
pub(crate) fn packed(files: &Files) -> Vec<u8> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    let options = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    for (name, bytes) in files {
        // Two of one name, and names that the writer will not have, are left out: bytes that were changed have those.
        if zip.start_file(name.as_str(), options).is_ok() {
            zip.write_all(bytes).expect("memory takes all of it");
        }
    }
    zip.finish().expect("memory takes all of it").into_inner()
}

/// What terminals send.
pub(crate) fn keys() -> Vec<Vec<u8>> {
    [
        b"\x1b[A\x1b[1;5B\x1bOP\x1b[15~\x1b[Z\r\x7f\x1b".as_slice(),
        b"\x1b[<0;10;5M\x1b[<0;10;5m\x1b[<64;1;1M\x1b[M !!\x1b[32;10;5M",
        b"\x1b[200~two lines\r\nof a paste\x1b[201~q",
        b"\x1b]11;rgb:0000/0000/0000\x07\x1b]2;x\x1b\\\x1bP1$r0m\x1b\\\x1b[?1;2c\x1b[I",
        "f\u{fc}r \u{6f22}\u{5b57} \u{1f37a}\u{1b}\u{e4}".as_bytes(),
        b"\x1b[[A\x1b[97;5u\x1b[27;5;9~\x1b[1;2;3;4;5;6;7;8;9R",
    ]
    .map(<[u8]>::to_vec)
    .into()
}

/// What people type into commands and questions.
pub(crate) fn typed() -> Vec<Vec<u8>> {
    bytes(&[
        "4.5-5.5",
        "20..30",
        "0.1",
        "keep toast; strength 4.5-5.5; cost 8",
        "avoid Chocolate malt",
        "scale 0.1; changes 2",
        "2026-03-14",
        "2026-03-14T18:30:00Z",
        "1.0874",
        "14.2 °P",
        "66 °C",
        "5 L",
        "20",
        "1900 g",
        "orange peel 5, toast 3",
        "passion fruit",
        "Pale ale malt 1.9 kg, Chocolate malt 160 g",
        "Saaz 20 g at 60 min; Citra 30 g dry for 3 days",
        "bitter 5, colour 25 EBC",
        "66 °C for 60 min",
        "Clean ale yeast at 19 °C",
        "2.4 vol in bottles",
        "don't know",
        "Teacup",
        "harbour dark",
        "12 x 500 ml",
        "1/2",
        "yes",
        "Crumb, Teacup, Wobble",
    ])
}
