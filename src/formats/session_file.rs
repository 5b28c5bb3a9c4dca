//! The file of a session: who tasted which batches, and what they wrote down.

use std::collections::HashSet;

use crate::domain::Abv;
use crate::domain::BottleFault;
use crate::domain::Day;
use crate::domain::EntryKind;
use crate::domain::EntryValue;
use crate::domain::Form;
use crate::domain::Knew;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::Nose;
use crate::domain::Prompting;
use crate::domain::Rating;
use crate::domain::Remark;
use crate::domain::Scale;
use crate::domain::Stage;
use crate::domain::Subject;
use crate::domain::Wheel;
use crate::domain::nearest_names;
use crate::formats::entry::Entry;
use crate::formats::problem::Problem;
use crate::formats::problem::ProblemKind;
use crate::formats::problem::did_you_mean;
use crate::formats::problem::shown;
use crate::formats::proof::Proof;
use crate::formats::quantity_text::PERCENT;
use crate::formats::section::Section;
use crate::formats::session_tasting::tasting_of;

/// A session as read; people and beers go by their names, since ids are drawn later.
#[derive(Debug, Clone, PartialEq)]
pub struct Session {
    /// The sentence that says that all of it is invented.
    pub invented: Remark,
    /// The tasters.
    pub tasters: Vec<Name>,
    /// The recipe documents, as file names in the folder of the session.
    pub recipes: Vec<Name>,
    /// The batches.
    pub batches: Vec<SessionBatch>,
    /// Bottles of no recorded batch.
    pub beers: Vec<SessionBeer>,
    /// The tastings, in the order of the file.
    pub tastings: Vec<SessionTasting>,
}

/// A batch of a session.
#[derive(Debug, Clone, PartialEq)]
pub struct SessionBatch {
    /// What is written on its caps.
    pub cap_mark: Name,
    /// Which of the session's recipe documents was brewed.
    pub recipe: Name,
    /// When it was added.
    pub made_at: Moment,
    /// Its log, in the order of the file.
    pub log: Vec<SessionEntry>,
}

/// One line of a batch's log.
#[derive(Debug, Clone, PartialEq)]
pub struct SessionEntry {
    /// What it tells.
    pub kind: &'static EntryKind,
    /// The value.
    pub value: EntryValue,
    /// When it was written down.
    pub at: Moment,
}

/// A bottle of no recorded batch.
#[derive(Debug, Clone, PartialEq)]
pub struct SessionBeer {
    /// What is written on the bottle.
    pub cap_mark: Name,
    /// Its alcohol content, where somebody stated it.
    pub abv: Option<Abv>,
}

/// One taster with one glass.
#[derive(Debug, Clone, PartialEq)]
pub struct SessionTasting {
    /// Who; one of the session's tasters.
    pub taster: Name,
    /// What is written on the bottle; a batch or a beer of the session.
    pub cap_mark: Name,
    /// Which form.
    pub form: Form,
    /// What the taster knew.
    pub knew: Option<Knew>,
    /// How the nose was.
    pub nose: Option<Nose>,
    /// The day of tasting.
    pub tasted_on: Day,
    /// When typing began.
    pub at: Moment,
    /// When the notes became final: the lock follows at once on the typing, or never.
    pub locked_at: Option<Moment>,
    /// The answers on scales, in the order of the file.
    pub ratings: Vec<(&'static Scale, Rating)>,
    /// What was named, in the order of the file.
    pub marks: Vec<SessionMark>,
    /// Free notes.
    pub remark: Option<Remark>,
    /// What was wrong with the bottle.
    pub bottle_fault: Option<BottleFault>,
}

/// One thing named at a stage.
#[derive(Debug, Clone, PartialEq)]
pub struct SessionMark {
    /// At which stage.
    pub stage: Stage,
    /// What.
    pub subject: Subject,
    /// How strong, 0 to 9; none if not said.
    pub intensity: Option<u8>,
    /// Whether the app asked for it.
    pub prompting: Prompting,
}

/// Reads a session; `file` is what messages call the text.
///
/// # Errors
/// Every problem by line and column; a taster, beer or recipe that the file does not list is one.
pub fn read_session(file: &str, text: &str, wheel: &Wheel) -> Result<Session, Vec<Problem>> {
    let proof = Proof::new(file, text);
    let table = proof.parse();
    let session = session_of(Section::new(&proof, &table, 0), wheel);
    proof.conclude(session)
}

fn session_of(root: Section<'_>, wheel: &Wheel) -> Option<Session> {
    let invented = root.required("invented", "invented = \"All of this is made up.\"");
    let invented = invented.and_then(|it| it.remark());
    let tasters = Names::read(&root, "taster", "name");
    let recipes = Names::read(&root, "recipe", "file");
    let mut marks = Names::empty("the beer", "list it under [[batch]] or [[beer]]");
    let batches = root.sections("batch").into_iter();
    let batches = batches.filter_map(|it| batch_of(it, &recipes, &mut marks));
    let batches: Vec<SessionBatch> = batches.collect();
    let beers = root.sections("beer").into_iter();
    let beers = beers.filter_map(|it| beer_of(it, &mut marks)).collect();
    let tastings = root.sections("tasting").into_iter();
    let mut seen = HashSet::new();
    let tastings = tastings.filter_map(|it| {
        let (proof, place) = (it.proof, it.at);
        let tasting = tasting_of(it, &tasters, &marks, wheel)?;
        let (taster, cap_mark) = (tasting.taster.clone(), tasting.cap_mark.clone());
        let found = format!("{taster} with {cap_mark} at {}", tasting.at);
        if !seen.insert(found.clone()) {
            let what = "the tasting of";
            proof.mark(place, ProblemKind::Twice { what, found });
        }
        Some(tasting)
    });
    let tastings = tastings.collect();
    root.close();
    Some(Session {
        invented: invented?,
        tasters: tasters.all,
        recipes: recipes.all,
        batches,
        beers,
        tastings,
    })
}

/// Names that the session lists, each once, and to which other tables refer.
pub(crate) struct Names {
    what: &'static str,
    otherwise: &'static str,
    all: Vec<Name>,
    seen: HashSet<Name>,
}

impl Names {
    fn empty(what: &'static str, otherwise: &'static str) -> Self {
        Self {
            what,
            otherwise,
            all: Vec::new(),
            seen: HashSet::new(),
        }
    }

    fn read(root: &Section<'_>, table: &'static str, key: &'static str) -> Self {
        let mut names = match table {
            "taster" => Self::empty("the taster", "list it under [[taster]]"),
            _ => Self::empty("the recipe", "list it under [[recipe]]"),
        };
        for section in root.sections(table) {
            names.list(&section, key);
            section.close();
        }
        names
    }

    /// Lists the name under a key; marked if it is listed already.
    fn list(&mut self, section: &Section<'_>, key: &'static str) -> Option<Name> {
        let entry = section.required(key, "a name in quotes")?;
        let name = entry.name()?;
        if self.seen.insert(name.clone()) {
            self.all.push(name.clone());
        } else {
            entry.mark(ProblemKind::Twice {
                what: self.what,
                found: shown(name.as_str()),
            });
        }
        Some(name)
    }

    /// The name under a key, which must be listed.
    pub(crate) fn referred(&self, section: &Section<'_>, key: &'static str) -> Option<Name> {
        let entry = section.required(key, "a name that the file lists")?;
        let name = entry.name()?;
        if !self.seen.contains(&name) {
            let near = nearest_names(name.as_str(), self.all.iter().map(Name::as_str), 3);
            entry.mark(ProblemKind::UnknownName {
                what: self.what,
                found: shown(name.as_str()),
                advice: did_you_mean(&near, self.otherwise),
            });
        }
        Some(name)
    }
}

fn batch_of(section: Section<'_>, recipes: &Names, marks: &mut Names) -> Option<SessionBatch> {
    let cap_mark = marks.list(&section, "cap_mark");
    let recipe = recipes.referred(&section, "recipe");
    let made_at = section.required("made_at", "made_at = \"2026-03-14T18:30:00Z\"");
    let made_at = made_at.and_then(moment_of);
    let mut log = Vec::new();
    if section.entry("log").is_some() {
        for lines in section.sections("log") {
            log.extend(log_of(&lines, made_at));
        }
    }
    section.close();
    Some(SessionBatch {
        cap_mark: cap_mark?,
        recipe: recipe?,
        made_at: made_at?,
        log,
    })
}

/// One table of the log: kinds and values, written down `at` a moment or with the batch itself.
fn log_of(section: &Section<'_>, made_at: Option<Moment>) -> Vec<SessionEntry> {
    let stated = section.entry("at");
    let at = match stated {
        Some(entry) => moment_of(entry),
        None => made_at,
    };
    let mut entries = Vec::new();
    for (key, entry) in section.named_entries("a log entry") {
        if key == "at" {
            continue;
        }
        let kind = EntryKind::from_id(key).map_err(|problem| entry.mark_key(problem));
        let value = kind.map(|kind| (kind, entry.letters()));
        if let Ok((kind, Some(letters))) = value
            && let Some(value) = entry.settle(kind.read(&letters))
            && let Some(at) = at
        {
            entries.push(SessionEntry { kind, value, at });
        }
    }
    entries
}

fn beer_of(section: Section<'_>, marks: &mut Names) -> Option<SessionBeer> {
    let cap_mark = marks.list(&section, "cap_mark");
    let abv = section
        .entry("abv")
        .map(|it| it.quantity(&PERCENT, Abv::new));
    section.close();
    Some(SessionBeer {
        cap_mark: cap_mark?,
        abv: abv.flatten(),
    })
}

/// A moment in quotes, or as TOML writes it.
pub(crate) fn moment_of(entry: Entry<'_>) -> Option<Moment> {
    let letters = entry.letters()?;
    entry.settle(Moment::parse(&letters))
}

/// A day in quotes, or as TOML writes it.
pub(crate) fn day_of(entry: Entry<'_>) -> Option<Day> {
    let letters = entry.letters()?;
    entry.settle(Day::parse(&letters))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::ProptestConfig;
    use proptest::proptest;

    use super::*;
    use crate::formats::trial_catalogue::wheel;
    use crate::formats::trial_catalogue::with_a_slip;

    fn read(text: &str) -> Result<Session, Vec<String>> {
        read_session("s.toml", text, &wheel())
            .map_err(|them| them.iter().map(ToString::to_string).collect())
    }

    const GOOD: &str = r#"invented = "Everything in this file is made up."

[[taster]]
name = "Ana"

[[recipe]]
file = "harbour-dark-2.toml"

[[batch]]
cap_mark = "H2"
recipe = "harbour-dark-2.toml"
made_at = 2026-03-14T10:00:00Z
[[batch.log]]
brewed = 2026-03-14
original-gravity = 1.052
[[batch.log]]
at = "2026-03-28T10:00:00Z"
bottles-left = 9
note = "slow lauter"

[[beer]]
cap_mark = "Blue cap"
abv = 5.1

[[tasting]]
taster = "Ana"
cap_mark = "H2"
form = "full"
knew = "nothing"
nose = "cold"
tasted_on = 2026-04-20
at = "2026-04-21T18:30:00Z"
locked = true
bottle_fault = "flat"
remark = "two\nlines"
words = [
  { stage = "aroma", word = "toast", intensity = 4 },
  { stage = "flavour", shelf = "Toasted" },
  { stage = "flavour", place = "bakery", prompted = true },
  { stage = "finish", free = "old umbrella" },
]
[tasting.ratings]
bitter = 5
sour = "skip"
salty = "cannot tell"
colour = "10 SRM"
liking = 7
"#;

    #[test]
    fn a_session_is_read_whole() {
        let session = read(GOOD).unwrap();
        assert_eq!(session.tasters.len(), 1);
        assert_eq!(session.recipes[0].as_str(), "harbour-dark-2.toml");
        let batch = &session.batches[0];
        let kinds: Vec<&str> = batch.log.iter().map(|it| it.kind.id).collect();
        assert_eq!(
            kinds,
            ["brewed", "original-gravity", "bottles-left", "note"]
        );
        assert_eq!(batch.log[0].at, batch.made_at);
        assert_eq!(batch.log[2].value, EntryValue::Count(9));
        assert_eq!(session.beers[0].abv, Abv::new(5.1).ok());
        let tasting = &session.tastings[0];
        assert_eq!(tasting.nose, Some(Nose::Cold));
        assert_eq!(tasting.tasted_on.to_string(), "2026-04-20");
        assert_eq!(tasting.locked_at, Some(tasting.at));
        assert_eq!(tasting.bottle_fault, Some(BottleFault::Flat));
        let values: Vec<Rating> = tasting.ratings.iter().map(|it| it.1).collect();
        let rated = Rating::Rated;
        assert_eq!(
            values,
            [
                rated(5.0),
                Rating::Skipped,
                Rating::CannotTell,
                rated(19.7),
                rated(7.0)
            ]
        );
        assert_eq!(tasting.marks.len(), 4);
        assert_eq!(tasting.marks[0].intensity, Some(4));
        assert_eq!(tasting.marks[1].intensity, None);
        assert_eq!(tasting.marks[2].prompting, Prompting::Prompted);
        assert!(
            matches!(&tasting.marks[3].subject, Subject::Free(words) if words.as_str() == "old umbrella")
        );
    }

    #[test]
    fn a_tasting_written_twice_is_told() {
        let start = GOOD.find("[[tasting]]").unwrap();
        let twice = format!("{GOOD}{}", &GOOD[start..]);
        assert_eq!(
            read(&twice).unwrap_err(),
            [
                "s.toml:48:1: the tasting of “Ana with H2 at 2026-04-21T18:30:00.000Z” is given twice; keep one of the two"
            ]
        );
    }

    #[test]
    fn an_open_tasting_needs_little() {
        let tasting = "[[taster]]\nname = \"Ana\"\n[[beer]]\ncap_mark = \"B\"\n[[tasting]]\ntaster = \"Ana\"\n\
                       cap_mark = \"B\"\nat = 2026-04-20T23:30:00Z\nlocked = false\n";
        let session = read(&format!("invented = \"All of it.\"\n{tasting}")).unwrap();
        let tasting = &session.tastings[0];
        assert_eq!(tasting.tasted_on.to_string(), "2026-04-20");
        assert_eq!(tasting.locked_at, None);
        assert_eq!((tasting.knew, tasting.nose), (None, None));
        assert!(tasting.ratings.is_empty() && tasting.marks.is_empty());
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2_000))]
        #[test]
        fn no_slip_in_a_session_makes_it_panic(text in with_a_slip(GOOD.to_owned())) {
            if let Err(problems) = read(&text) {
                assert!(!problems.is_empty());
            }
        }
    }

    /// What is written, what is slipped in instead, and the problem that follows.
    const SLIPS: [(&str, &str, &str); 12] = [
        (
            "invented = \"Everything in this file is made up.\"",
            "",
            "1:1: “invented” is missing",
        ),
        (
            "recipe = \"harbour-dark-2.toml\"",
            "recipe = \"harbour-dark.toml\"",
            "11:10: the recipe “harbour-dark.toml” is not in this file; did you mean “harbour-dark-2.toml”?",
        ),
        (
            "original-gravity = 1.052",
            "original-gravity = 105.2",
            "15:20: Original gravity: found 105.2",
        ),
        (
            "bottles-left = 9",
            "botles-left = 9",
            "18:1: what to log: “botles-left” is not known",
        ),
        (
            "cap_mark = \"Blue cap\"",
            "cap_mark = \"H2\"",
            "22:12: the beer “H2” is given twice",
        ),
        (
            "taster = \"Ana\"",
            "taster = \"Anna\"",
            "26:10: the taster “Anna” is not in this file; did you mean “Ana”?",
        ),
        (
            "locked = true",
            "locked = \"yes\"",
            "33:10: locked is a text; write true or false",
        ),
        (
            "word = \"toast\"",
            "word = \"tost\"",
            "37:29: no word of the wheel is called “tost”; did you mean “toast”",
        ),
        (
            "intensity = 4",
            "intensity = 4.5",
            "37:49: the intensity 4.5 lies between two digits",
        ),
        (
            "shelf = \"Toasted\"",
            "shelf = \"Toasted\", free = \"x\"",
            "38:3: a mark names 2 things; write exactly one of: word, shelf, place, free",
        ),
        ("bitter = 5", "bitter = 12", "43:10: an intensity: found 12"),
        (
            "liking = 7",
            "liking = 0",
            "47:10: Liking: found 0; it must lie between 1 and 9",
        ),
    ];

    #[test]
    fn every_slip_is_told_at_once_with_its_place() {
        let mut text = GOOD.to_owned();
        for (from, to, _) in SLIPS {
            assert!(text.contains(from), "{from}");
            text = text.replacen(from, to, 1);
        }
        let found = read(&text).unwrap_err();
        assert_eq!(found.len(), SLIPS.len(), "{found:#?}");
        for (found, (.., wanted)) in found.iter().zip(SLIPS) {
            assert!(
                found.starts_with(&format!("s.toml:{wanted}")),
                "{found}\n{wanted}"
            );
        }
    }
}
