//! The readers of files, archives, terminals and typed text, and what each is fed.

use std::fs;
use std::path::Path;
use std::path::PathBuf;

use crate::chance::Chance;
use crate::parsers::Fate;
use crate::parsers::Fed;
use crate::seeds;
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

type Reads = Box<dyn Fn(&str) -> Fate>;

/// A reader of text.
pub(crate) struct Text {
    seeds: Vec<Vec<u8>>,
    read: Reads,
}

impl Text {
    pub(crate) fn over(seeds: Vec<Vec<u8>>, read: impl Fn(&str) -> Fate + 'static) -> Box<dyn Fed> {
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
pub(crate) struct Bytes {
    seeds: Vec<Vec<u8>>,
    read: fn(&[u8]) -> Fate,
}

impl Bytes {
    pub(crate) fn over(seeds: Vec<Vec<u8>>, read: fn(&[u8]) -> Fate) -> Box<dyn Fed> {
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
pub(crate) fn recipe() -> impl Fn(&str) -> Fate {
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

pub(crate) fn session() -> impl Fn(&str) -> Fate {
    let wheel = wheel();
    move |text| Fate::of(&formats::read_session("s.toml", text, &wheel))
}

pub(crate) fn catalogue() -> impl Fn(&str) -> Fate {
    let wheel = wheel();
    move |text| Fate::of(&formats::read_catalogue(&[], &[("i.toml", text)], &wheel))
}

pub(crate) fn hints() -> impl Fn(&str) -> Fate {
    let wheel = wheel();
    move |text| Fate::of(&formats::read_hints(&[("h.toml", text)], &wheel))
}

pub(crate) fn larder() -> impl Fn(&str) -> Fate {
    let catalogue = shipped(&wheel());
    move |text| Fate::of(&formats::read_larder("l.toml", text, &catalogue))
}

pub(crate) fn intent() -> impl Fn(&str) -> Fate {
    let wheel = wheel();
    move |text| Fate::of(&formats::read_intent("i.toml", text, &wheel))
}

/// A recipe of another standard, carried over into one of ours and read again.
pub(crate) fn foreign() -> impl Fn(&str) -> Fate {
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

pub(crate) fn hint_seeds() -> Vec<Vec<u8>> {
    vec![thirdglass::storage::builtin_hints().1.as_bytes().to_vec()]
}

pub(crate) fn settings_seeds() -> Vec<Vec<u8>> {
    vec![formats::SETTINGS_EXAMPLE.as_bytes().to_vec()]
}

pub(crate) fn larder_seeds() -> Vec<Vec<u8>> {
    vec![formats::LARDER_EXAMPLE.as_bytes().to_vec()]
}

pub(crate) fn intent_seeds() -> Vec<Vec<u8>> {
    let text = "[words]\n\"toast\" = { aroma = 6, flavour = 7, matters = 3 }\n\"orange peel\" = { aroma = 5, flavour = 4 }\n\
                [scales]\nbitter = { value = 8, matters = 3 }\ncolour = { value = 25 }\n";
    let nested = text
        .replace("[words]", "[intent.words]")
        .replace("[scales]", "[intent.scales]");
    vec![text.as_bytes().to_vec(), nested.into_bytes()]
}

/// Bytes of a terminal, whole and in small pieces, must mean the same.
pub(crate) fn terminal(bytes: &[u8]) -> Fate {
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
pub(crate) struct Answers;

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
pub(crate) struct Typed;

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
pub(crate) enum What {
    Bytes,
    Lines,
}

/// A reader of archives, each from a file.
pub(crate) struct Archive {
    whole: Vec<Vec<u8>>,
    files: seeds::Files,
    file: PathBuf,
    what: What,
}

impl Archive {
    pub(crate) fn new(folder: &Path, what: What) -> Self {
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
