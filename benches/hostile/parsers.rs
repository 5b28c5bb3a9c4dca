//! Every reader of the program with what is fed to it: whatever comes, it gives a value or a refusal.

use std::fs;
use std::path::Path;
use std::path::PathBuf;

use thirdglass::domain::Catalogue;
use thirdglass::domain::Day;
use thirdglass::domain::ENTRY_KINDS;
use thirdglass::domain::Moment;
use thirdglass::domain::Name;
use thirdglass::domain::Remark;
use thirdglass::domain::Wheel;
use thirdglass::drawing::safe_text;
use thirdglass::drawing::wrap;
use thirdglass::formats;
use thirdglass::formats::NEW_RECIPE_QUESTIONS;
use thirdglass::formats::RecipeAnswers;
use thirdglass::formats::StatedFigures;
use thirdglass::storage::OpenedArchive;
use thirdglass::terminal::decoded;
use thirdglass::workflow::AskedWishes;
use thirdglass::workflow::BatchLog;
use thirdglass::workflow::figures;
use thirdglass::workflow::read_amount;
use thirdglass::workflow::read_bounds;
use thirdglass::workflow::read_finest;
use thirdglass::workflow::typed_word;

use crate::app::KeyStream;
use crate::app::Typist;
use crate::chance::Chance;
use crate::seeds;

/// What became of an input.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Fate {
    Read,
    Refused,
}

impl Fate {
    pub(crate) fn of<T, E>(result: &Result<T, E>) -> Self {
        if result.is_ok() {
            Self::Read
        } else {
            Self::Refused
        }
    }
}

/// Whatever is fed: one input after the other.
pub(crate) trait Fed {
    /// Begins afresh; what comes until the next beginning may build on each other.
    fn begin(&mut self, _chance: Chance) {}

    /// Makes an input and feeds it.
    fn feed(&mut self, chance: Chance) -> Fate;

    /// What was seen, for the report.
    fn seen(&self) -> Vec<String> {
        Vec::new()
    }
}

/// One reader.
pub(crate) struct Parser {
    pub(crate) name: &'static str,
    /// Its part of all inputs, in thousandths of a thousandth.
    pub(crate) share: u64,
    /// How many inputs build on each other.
    pub(crate) block: u64,
    pub(crate) make: fn(&Path) -> Box<dyn Fed>,
}

const fn plain(name: &'static str, share: u64, make: fn(&Path) -> Box<dyn Fed>) -> Parser {
    Parser {
        name,
        share,
        block: 1,
        make,
    }
}

/// All of them; shares are by what an input costs, so that none takes much longer than the others.
pub(crate) const PARSERS: &[Parser] = &[
    plain("recipe", 60_000, |_| Text::over(seeds::recipes(), recipe())),
    plain("session", 30_000, |_| {
        Text::over(seeds::sessions(), session())
    }),
    plain("wheel", 60_000, |_| {
        Text::over(seeds::words(), |text| {
            Fate::of(&formats::read_wheel(&[("w.toml", text)]))
        })
    }),
    plain("catalogue", 40_000, |_| {
        Text::over(seeds::ingredients(), catalogue())
    }),
    plain("hints", 30_000, |_| Text::over(hint_seeds(), hints())),
    plain("settings", 100_000, |_| {
        Text::over(settings_seeds(), |text| {
            let (_, problems) = formats::readable_settings("s.toml", text);
            Fate::of(&problems.first().map_or(Ok(()), Err))
        })
    }),
    plain("larder", 100_000, |_| Text::over(larder_seeds(), larder())),
    plain("intent", 80_000, |_| Text::over(intent_seeds(), intent())),
    plain("ratings", 100_000, |_| {
        Bytes::over(seeds::ratings(), |bytes| {
            let mut kept = 0_u32;
            Fate::of(&formats::read_panel("t.csv", bytes, |_| kept += 1))
        })
    }),
    plain("proposals", 100_000, |_| {
        Text::over(seeds::proposals(), |text| {
            Fate::of(&formats::read_proposal("p.toml", text))
        })
    }),
    plain("BeerXML", 60_000, |_| {
        Text::over(seeds::foreign("xml"), foreign())
    }),
    plain("BeerJSON", 60_000, |_| {
        Text::over(seeds::foreign("json"), foreign())
    }),
    plain("answers", 50_000, |_| Box::new(Answers)),
    plain("photographs", 20_000, |_| {
        Bytes::over(seeds::pictures(), |bytes| {
            Fate::of(&formats::read_photograph(bytes))
        })
    }),
    plain("archive bytes", 1_500, |folder| {
        Box::new(Archive::new(folder, What::Bytes))
    }),
    plain("archive lines", 1_500, |folder| {
        Box::new(Archive::new(folder, What::Lines))
    }),
    plain("terminal bytes", 50_000, |_| {
        Bytes::over(seeds::keys(), terminal)
    }),
    plain("typed text", 0, |_| Box::new(Typed)),
    plain("arguments", 2_500, |_| Box::new(Typist::arguments())),
    Parser {
        name: "commands",
        share: 1_000,
        block: 20,
        make: |folder| Box::new(Typist::commands(folder)),
    },
    Parser {
        name: "key streams",
        share: 40_000,
        block: 1_000,
        make: |folder| Box::new(KeyStream::new(folder)),
    },
];

/// The parser that takes what the shares of the others leave.
pub(crate) const REST: &str = "typed text";

type Reads = Box<dyn Fn(&str) -> Fate>;

/// A reader of text.
struct Text {
    seeds: Vec<Vec<u8>>,
    read: Reads,
}

impl Text {
    fn over(seeds: Vec<Vec<u8>>, read: impl Fn(&str) -> Fate + 'static) -> Box<dyn Fed> {
        Box::new(Self {
            seeds,
            read: Box::new(read),
        })
    }
}

impl Fed for Text {
    fn feed(&mut self, mut chance: Chance) -> Fate {
        (self.read)(&chance.text(&self.seeds))
    }
}

/// A reader of bytes.
struct Bytes {
    seeds: Vec<Vec<u8>>,
    read: fn(&[u8]) -> Fate,
}

impl Bytes {
    fn over(seeds: Vec<Vec<u8>>, read: fn(&[u8]) -> Fate) -> Box<dyn Fed> {
        Box::new(Self { seeds, read })
    }
}

impl Fed for Bytes {
    fn feed(&mut self, mut chance: Chance) -> Fate {
        (self.read)(&chance.mutated(&self.seeds))
    }
}

fn wheel() -> Wheel {
    formats::read_wheel(thirdglass::storage::builtin_wheel_files())
        .expect("the shipped wheel is sound")
}

fn shipped(wheel: &Wheel) -> Catalogue {
    let files = thirdglass::storage::builtin_ingredient_files();
    formats::read_catalogue(files, &[], wheel).expect("the shipped ingredients are sound")
}

/// A recipe, and what the program does with one that it could read.
fn recipe() -> impl Fn(&str) -> Fate {
    let wheel = wheel();
    let catalogue = shipped(&wheel);
    let log = BatchLog::default();
    move |text| {
        let read = formats::read_recipe("r.toml", text, &catalogue, &wheel);
        if let Ok(recipe) = &read {
            let figures = figures(recipe, &log);
            assert!(
                figures.figures.iter().all(|it| it.value.is_finite()),
                "a figure is no number"
            );
            let stated = StatedFigures::default();
            let written = formats::beerjson(recipe, text, &stated);
            assert!(
                serde_json::from_str::<serde_json::Value>(&written).is_ok(),
                "BeerJSON is no JSON"
            );
        }
        drop(formats::line_diff(formats::EXAMPLE, text));
        Fate::of(&read)
    }
}

fn session() -> impl Fn(&str) -> Fate {
    let wheel = wheel();
    move |text| Fate::of(&formats::read_session("s.toml", text, &wheel))
}

fn catalogue() -> impl Fn(&str) -> Fate {
    let wheel = wheel();
    move |text| Fate::of(&formats::read_catalogue(&[], &[("i.toml", text)], &wheel))
}

fn hints() -> impl Fn(&str) -> Fate {
    let wheel = wheel();
    move |text| Fate::of(&formats::read_hints(&[("h.toml", text)], &wheel))
}

fn larder() -> impl Fn(&str) -> Fate {
    let catalogue = shipped(&wheel());
    move |text| Fate::of(&formats::read_larder("l.toml", text, &catalogue))
}

fn intent() -> impl Fn(&str) -> Fate {
    let wheel = wheel();
    move |text| Fate::of(&formats::read_intent("i.toml", text, &wheel))
}

/// A recipe of another standard, carried over into one of ours and read again.
fn foreign() -> impl Fn(&str) -> Fate {
    let wheel = wheel();
    let catalogue = shipped(&wheel);
    move |text| {
        let read = formats::read_foreign(text);
        for recipe in read.iter().flatten().take(3) {
            let mapped = formats::mapped(recipe, &catalogue, &[]);
            let document = formats::foreign_document(recipe, &mapped, &catalogue);
            let parsed = toml::from_str::<toml::Table>(&document);
            assert!(
                parsed.is_ok(),
                "what was carried over is no TOML: {parsed:?}"
            );
            drop(formats::read_recipe(
                "r.toml", &document, &catalogue, &wheel,
            ));
        }
        Fate::of(&read)
    }
}

fn hint_seeds() -> Vec<Vec<u8>> {
    vec![thirdglass::storage::builtin_hints().1.as_bytes().to_vec()]
}

fn settings_seeds() -> Vec<Vec<u8>> {
    vec![formats::SETTINGS_EXAMPLE.as_bytes().to_vec()]
}

fn larder_seeds() -> Vec<Vec<u8>> {
    vec![formats::LARDER_EXAMPLE.as_bytes().to_vec()]
}

fn intent_seeds() -> Vec<Vec<u8>> {
    let text = "[words]\n\"toast\" = { aroma = 6, flavour = 7, matters = 3 }\n\"orange peel\" = { aroma = 5, flavour = 4 }\n\
                [scales]\nbitter = { value = 8, matters = 3 }\ncolour = { value = 25 }\n";
    let nested = text
        .replace("[words]", "[intent.words]")
        .replace("[scales]", "[intent.scales]");
    vec![text.as_bytes().to_vec(), nested.into_bytes()]
}

/// Bytes of a terminal, whole and in small pieces, must mean the same.
fn terminal(bytes: &[u8]) -> Fate {
    let whole = decoded([bytes]);
    if bytes.len() < 4_000 {
        assert_eq!(
            whole,
            decoded(bytes.chunks(3)),
            "pieces mean something else"
        );
    } else {
        drop(decoded(bytes.chunks(1_024)));
    }
    if whole.is_empty() {
        Fate::Refused
    } else {
        Fate::Read
    }
}

/// Answers about a new recipe; what is written of them is TOML whatever they are.
struct Answers;

impl Fed for Answers {
    fn feed(&mut self, mut chance: Chance) -> Fate {
        let seeds = seeds::typed();
        let mut answers = RecipeAnswers::default();
        for question in NEW_RECIPE_QUESTIONS {
            let answer = match chance.below(4) {
                0 => question.example.to_owned(),
                1 => chance.text(&[question.example.as_bytes().to_vec()]),
                _ => chance.text(&seeds),
            };
            answers = answers.answered(question, &answer);
        }
        let written = formats::write_recipe(&answers);
        let parsed = toml::from_str::<toml::Table>(&written.text);
        assert!(parsed.is_ok(), "a new recipe is no TOML: {parsed:?}");
        if written.not_kept.is_empty() {
            Fate::Read
        } else {
            Fate::Refused
        }
    }
}

/// Words, dates and quantities as typed.
struct Typed;

impl Fed for Typed {
    fn feed(&mut self, mut chance: Chance) -> Fate {
        let seeds = seeds::typed();
        let text = chance.text(&seeds);
        let fate = match chance.below(10) {
            0 => Fate::of(&read_bounds(&text)),
            1 => Fate::of(&read_amount(&text)),
            2 => Fate::of(&read_finest(&text)),
            3 => Fate::of(&AskedWishes::default().with(&text)),
            4 => Fate::of(&Day::parse(&text)),
            5 => Fate::of(&Moment::parse(&text)),
            6 => Fate::of(&Name::new("a name", &text)),
            7 => Fate::of(&Remark::new("a remark", &text)),
            8 => {
                let kind = &ENTRY_KINDS[chance.below(ENTRY_KINDS.len())];
                Fate::of(&kind.read(&text))
            }
            _ => {
                drop(typed_word(&text));
                Fate::Read
            }
        };
        let width = chance.below(130);
        let safe = safe_text(&text, width);
        assert!(
            !safe.chars().any(char::is_control),
            "a control character is shown"
        );
        drop(wrap(&text, width));
        fate
    }
}

/// What of an archive is changed.
#[derive(Clone, Copy, PartialEq, Eq)]
enum What {
    Bytes,
    Lines,
}

/// A reader of archives, each from a file.
struct Archive {
    whole: Vec<Vec<u8>>,
    files: seeds::Files,
    file: PathBuf,
    what: What,
}

impl Archive {
    fn new(folder: &Path, what: What) -> Self {
        let (whole, files) = seeds::archive(folder);
        Self {
            whole: vec![whole],
            files,
            file: folder.join("hostile.zip"),
            what,
        }
    }

    /// The same files with one or two of them changed, in name or in bytes.
    fn changed(&self, chance: &mut Chance) -> Vec<u8> {
        let mut files = self.files.clone();
        for _ in 0..=chance.below(2) {
            let at = chance.below(files.len());
            let (name, bytes) = &mut files[at];
            if chance.once_in(10) {
                *name = chance.text(&[name.as_bytes().to_vec()]);
            } else {
                *bytes = chance.mutated(std::slice::from_ref(bytes));
            }
        }
        seeds::packed(&files)
    }
}

impl Fed for Archive {
    fn feed(&mut self, mut chance: Chance) -> Fate {
        let bytes = match self.what {
            What::Bytes => chance.mutated(&self.whole),
            What::Lines => self.changed(&mut chance),
        };
        fs::write(&self.file, bytes).expect("there is room for an archive");
        Fate::of(&OpenedArchive::read(&self.file))
    }
}
