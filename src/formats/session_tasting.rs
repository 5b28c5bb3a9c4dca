//! One tasting of a session: ratings, words and what surrounds them.

use crate::domain::BottleFault;
use crate::domain::Day;
use crate::domain::Form;
use crate::domain::Knew;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::Nose;
use crate::domain::Place;
use crate::domain::Prompting;
use crate::domain::Rating;
use crate::domain::SCALES;
use crate::domain::Scale;
use crate::domain::Stage;
use crate::domain::Subject;
use crate::domain::Wheel;
use crate::domain::is_same_name;
use crate::domain::nearest_names;
use crate::formats::entry::Entry;
use crate::formats::intent_table::find_shelf;
use crate::formats::intent_table::read_intensity;
use crate::formats::intent_table::read_on;
use crate::formats::intent_table::unknown_shelf;
use crate::formats::intent_table::unknown_word;
use crate::formats::problem::ProblemKind;
use crate::formats::problem::did_you_mean;
use crate::formats::problem::shown;
use crate::formats::section::Section;
use crate::formats::session_file::Names;
use crate::formats::session_file::SessionMark;
use crate::formats::session_file::SessionTasting;
use crate::formats::session_file::day_of;
use crate::formats::session_file::moment_of;

/// Reads a `[[tasting]]` table.
pub(crate) fn tasting_of(
    section: Section<'_>,
    tasters: &Names,
    marks: &Names,
    wheel: &Wheel,
) -> Option<SessionTasting> {
    let taster = tasters.referred(&section, "taster");
    let cap_mark = marks.referred(&section, "cap_mark");
    let form = section.entry("form");
    let form = form.map_or(Some(Form::Full), |it| it.read(Form::from_id));
    let knew = section.entry("knew").and_then(|it| it.read(Knew::from_id));
    let nose = section.entry("nose").and_then(|it| it.read(Nose::from_id));
    let times = Times::read(&section);
    let ratings = section.section("ratings").map(|it| ratings_of(&it));
    let words = section.entry("words").map(|it| marks_of(it, wheel));
    let remark = section.entry("remark").and_then(|it| it.remark());
    let fault = section.entry("bottle_fault");
    let fault = fault.and_then(|it| it.read(BottleFault::from_id));
    section.close();
    let Times {
        at,
        tasted_on,
        locked_at,
    } = times?;
    Some(SessionTasting {
        taster: taster?,
        cap_mark: cap_mark?,
        form: form?,
        knew,
        nose,
        tasted_on,
        at,
        locked_at,
        ratings: ratings.unwrap_or_default(),
        marks: words.unwrap_or_default(),
        remark,
        bottle_fault: fault,
    })
}

/// When it was tasted, typed and locked.
struct Times {
    at: Moment,
    tasted_on: Day,
    locked_at: Option<Moment>,
}

impl Times {
    fn read(section: &Section<'_>) -> Option<Self> {
        let at = section.required("at", "at = \"2026-04-20T18:30:00Z\"");
        let at = at.and_then(moment_of);
        let tasted_on = match section.entry("tasted_on") {
            Some(entry) => day_of(entry),
            None => at.map(Moment::day),
        };
        let locked = section.required("locked", "locked = true");
        let locked = locked.and_then(|it| it.truth());
        let (at, locked) = (at?, locked?);
        Some(Self {
            at,
            tasted_on: tasted_on?,
            locked_at: locked.then_some(at),
        })
    }
}

fn marks_of(list: Entry<'_>, wheel: &Wheel) -> Vec<SessionMark> {
    let tables = list.items().into_iter();
    tables
        .filter_map(|it| mark_of(it.section()?, wheel))
        .collect()
}

fn ratings_of(section: &Section<'_>) -> Vec<(&'static Scale, Rating)> {
    let mut ratings = Vec::new();
    for (key, entry) in section.named_entries("a rating") {
        let Some(scale) = SCALES.iter().find(|it| it.id == key) else {
            let near = nearest_names(key, SCALES.iter().map(|it| it.id), 3);
            let all: Vec<&str> = SCALES.iter().map(|it| it.id).collect();
            entry.mark_key(ProblemKind::UnknownWord {
                kind: "scale",
                found: shown(key),
                advice: did_you_mean(&near, &format!("choose from: {}", all.join(", "))),
            });
            continue;
        };
        ratings.extend(rating_of(scale, entry).map(|rating| (scale, rating)));
    }
    ratings
}

fn rating_of(scale: &'static Scale, entry: Entry<'_>) -> Option<Rating> {
    match entry.letters()?.trim() {
        "skip" => Some(Rating::Skipped),
        "cannot tell" => Some(Rating::CannotTell),
        _ => read_on(scale, entry).map(Rating::Rated),
    }
}

fn mark_of(section: Section<'_>, wheel: &Wheel) -> Option<SessionMark> {
    let stage = section.required("stage", "stage = \"aroma\"");
    let stage = stage.and_then(|it| it.read(Stage::from_id));
    let subject = subject_of(&section, wheel);
    let intensity = section.entry("intensity").map(whole_intensity);
    let prompting = section.entry("prompted").map(|it| it.truth());
    section.close();
    Some(SessionMark {
        stage: stage?,
        subject: subject?,
        intensity: intensity.flatten(),
        prompting: match prompting.flatten() {
            Some(true) => Prompting::Prompted,
            Some(false) | None => Prompting::Unprompted,
        },
    })
}

/// An intensity as a digit key gives it.
fn whole_intensity(entry: Entry<'_>) -> Option<u8> {
    let found = read_intensity(entry)?;
    let digit = (0..=9_u8).find(|it| (f64::from(*it) - found).abs() < f64::EPSILON);
    if digit.is_none() {
        entry.mark(ProblemKind::Together {
            found: format!("the intensity {found} lies between two digits"),
            advice: "words are rated with one digit, 0 to 9",
        });
    }
    digit
}

fn subject_of(section: &Section<'_>, wheel: &Wheel) -> Option<Subject> {
    let stated = ["word", "shelf", "place", "free"].map(|key| section.entry(key));
    let count = stated.iter().flatten().count();
    if count != 1 {
        section.mark(ProblemKind::ExactlyOne {
            found: format!("a mark names {count} things"),
            choices: "word, shelf, place, free",
        });
        return None;
    }
    let [word, shelf, place, free] = stated;
    if let Some(entry) = word {
        let name = entry.text()?;
        let word = wheel
            .named(name)
            .ok_or_else(|| unknown_word(section.proof, wheel, name));
        return entry
            .settle(word)
            .map(|it| Subject::Descriptor(it.id.clone()));
    }
    if let Some(entry) = shelf {
        let name = entry.text()?;
        let shelf = find_shelf(wheel, name).ok_or_else(|| unknown_shelf(wheel, name));
        return entry.settle(shelf).map(|it| Subject::Shelf(it.id.clone()));
    }
    if let Some(entry) = place {
        let name = entry.name()?;
        return entry
            .settle(find_place(wheel, &name))
            .map(|it| Subject::Place(it.id.clone()));
    }
    free?.remark().map(Subject::Free)
}

fn find_place<'w>(wheel: &'w Wheel, name: &Name) -> Result<&'w Place, ProblemKind> {
    let is_asked = |it: &str| is_same_name(it, name.as_str());
    let answers = |it: &&Place| is_asked(it.id.as_str()) || is_asked(&it.name);
    wheel.places().iter().find(answers).ok_or_else(|| {
        let names = wheel.places().iter().map(|it| it.name.as_str());
        let near = nearest_names(name.as_str(), names, 3);
        ProblemKind::UnknownWord {
            kind: "place",
            found: shown(name.as_str()),
            advice: did_you_mean(&near, "choose a place of the wheel"),
        }
    })
}
