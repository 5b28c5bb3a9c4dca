//! The `[intent]` table: what the brewer hopes for, in words, shelves and scales of the wheel.

use std::ops::RangeInclusive;

use crate::domain::Intent;
use crate::domain::Invalid;
use crate::domain::Line;
use crate::domain::Matters;
use crate::domain::Measure;
use crate::domain::SCALES;
use crate::domain::Scale;
use crate::domain::Shelf;
use crate::domain::Stage;
use crate::domain::Target;
use crate::domain::Wheel;
use crate::domain::is_same_name;
use crate::domain::nearest_names;
use crate::formats::entry::Entry;
use crate::formats::problem::Problem;
use crate::formats::problem::ProblemKind;
use crate::formats::problem::did_you_mean;
use crate::formats::problem::shown;
use crate::formats::proof::Proof;
use crate::formats::quantity_text::COLOUR;
use crate::formats::quantity_text::HEIGHT;
use crate::formats::quantity_text::Measured;
use crate::formats::quantity_text::SECONDS;
use crate::formats::section::Section;

/// Reads the `[intent]` table of a text; whatever else stands there is left alone.
///
/// # Errors
/// Every problem of the TOML and of the intent, by place.
pub fn read_intent(file: &str, text: &str, wheel: &Wheel) -> Result<Intent, Vec<Problem>> {
    let proof = Proof::new(file, text);
    let table = proof.parse();
    let root = Section::new(&proof, &table, 0);
    let intent = root
        .required("intent", "[intent.words]")
        .and_then(|entry| entry.section())
        .map(|section| intent_of(section, wheel));
    proof.conclude(intent)
}

/// The targets of an `[intent]` table, in the order of the text.
pub(crate) fn intent_of(section: Section<'_>, wheel: &Wheel) -> Intent {
    let mut targets = Targets::default();
    if let Some(words) = section.section("words") {
        targets.read_words(&words, wheel);
    }
    if let Some(shelves) = section.section("shelves") {
        targets.read_shelves(&shelves, wheel);
    }
    if let Some(scales) = section.section("scales") {
        for (name, entry) in scales.named_entries("the value of a scale") {
            match find_scale(name) {
                Some(scale) => targets.read_scale(name, scale, entry),
                None => entry.mark_key(unknown_scale(name)),
            }
        }
    }
    section.close();
    Intent {
        targets: targets.all,
    }
}

#[derive(Default)]
struct Targets {
    all: Vec<Target>,
}

impl Targets {
    fn read_words(&mut self, words: &Section<'_>, wheel: &Wheel) {
        for (name, entry) in words.named_entries("the strength of a word") {
            let Some(word) = wheel.named(name) else {
                entry.mark_key(unknown_word(words.proof, wheel, name));
                continue;
            };
            self.read_stages(name, entry, |stage| Line::Word {
                descriptor: word.id.clone(),
                stage,
            });
        }
    }

    fn read_shelves(&mut self, shelves: &Section<'_>, wheel: &Wheel) {
        for (name, entry) in shelves.named_entries("the strength of a shelf") {
            let Some(named) = find_shelf(wheel, name) else {
                entry.mark_key(unknown_shelf(wheel, name));
                continue;
            };
            self.read_stages(name, entry, |stage| Line::Shelf {
                shelf: named.id.clone(),
                stage,
            });
        }
    }

    fn read_stages(&mut self, name: &str, entry: Entry<'_>, line: impl Fn(Stage) -> Line) {
        if !entry.is_table() {
            entry.wrong_type("{ aroma = 5, flavour = 4, matters = 2 }, or one of the two stages");
            return;
        }
        let Some(section) = entry.section() else {
            return;
        };
        let matters = read_matters(&section);
        let stages = [("aroma", Stage::Aroma), ("flavour", Stage::Flavour)];
        let mut stated = 0;
        for (key, stage) in stages {
            let Some(strength) = section.entry(key) else {
                continue;
            };
            stated += 1;
            if let Some(value) = read_intensity(strength) {
                let line = line(stage);
                self.add(
                    name,
                    strength,
                    Target {
                        line,
                        value,
                        matters,
                    },
                );
            }
        }
        if stated == 0 {
            section.mark(ProblemKind::ExactlyOne {
                found: "neither aroma nor flavour says how strong".to_owned(),
                choices: "aroma, flavour, or both",
            });
        }
        section.close();
    }

    fn read_scale(&mut self, name: &str, scale: &'static Scale, entry: Entry<'_>) {
        let section = if entry.is_table() {
            entry.section()
        } else {
            None
        };
        let matters = section.as_ref().map_or(Matters::Much, read_matters);
        let stated = match &section {
            Some(section) => section.required("value", "value = 5"),
            None => Some(entry),
        };
        if let Some(value) = stated.and_then(|it| read_on(scale, it)) {
            let line = Line::Scale(scale);
            self.add(
                name,
                entry,
                Target {
                    line,
                    value,
                    matters,
                },
            );
        }
        if let Some(section) = section {
            section.close();
        }
    }

    fn add(&mut self, name: &str, entry: Entry<'_>, target: Target) {
        if self.all.iter().any(|it| it.line == target.line) {
            let found = shown(name);
            let what = "the hope for";
            entry.mark_key(ProblemKind::Twice { what, found });
        } else {
            self.all.push(target);
        }
    }
}

fn read_matters(section: &Section<'_>) -> Matters {
    section
        .entry("matters")
        .and_then(|entry| entry.settle(Matters::from_id(&entry.letters()?)))
        .unwrap_or(Matters::Much)
}

/// An intensity from 0 to 9.
pub(crate) fn read_intensity(entry: Entry<'_>) -> Option<f64> {
    let found = entry.number()?;
    entry.settle(if (0.0..=9.0).contains(&found) {
        Ok(found)
    } else {
        Err(out_of("an intensity", found, 0.0..=9.0, ""))
    })
}

/// A value in the unit of a scale, as a number or as a text with a unit.
pub(crate) fn read_on(scale: &'static Scale, entry: Entry<'_>) -> Option<f64> {
    let (found, allowed, unit) = match &scale.measure {
        Measure::Intensity => return read_intensity(entry),
        Measure::Choice { words } => (entry.number()?, 1.0..=words.len() as f64, ""),
        Measure::Amount { unit, most, .. } => (read_amount(unit, entry)?, 0.0..=*most, *unit),
    };
    entry.settle(if scale.allows(found) {
        Ok(found)
    } else {
        Err(out_of(scale.word, found, allowed, unit))
    })
}

fn read_amount(unit: &str, entry: Entry<'_>) -> Option<f64> {
    let measured: Option<&Measured> = match unit {
        "EBC" => Some(&COLOUR),
        "mm" => Some(&HEIGHT),
        "s" => Some(&SECONDS),
        _ => None,
    };
    match measured {
        // A bare number stands for the unit of the scale.
        Some(measured) if entry.plain_number().is_none() => entry.amount(measured),
        _ => entry.number(),
    }
}

fn out_of(what: &'static str, found: f64, allowed: RangeInclusive<f64>, unit: &str) -> Invalid {
    let unit = match unit {
        "EBC" => " EBC",
        "mm" => " mm",
        "s" => " s",
        "°C" => " °C",
        _ => "",
    };
    let (low, high) = allowed.into_inner();
    Invalid::OutOfRange {
        what,
        found,
        low,
        high,
        unit,
    }
}

/// The shelf with this name or id, whatever the case.
pub(crate) fn find_shelf<'w>(wheel: &'w Wheel, name: &str) -> Option<&'w Shelf> {
    wheel
        .shelves()
        .iter()
        .find(|it| is_same_name(it.id.as_str(), name) || is_same_name(&it.name, name))
}

/// The scale of the profile with this name or id, whatever the case.
fn find_scale(name: &str) -> Option<&'static Scale> {
    let is_asked = |it: &&Scale| is_same_name(it.id, name) || is_same_name(it.word, name);
    SCALES.iter().find(|it| it.stage.is_some() && is_asked(it))
}

/// The problem of a word that is not on the wheel, with the nearest that are.
pub(crate) fn unknown_word(proof: &Proof<'_>, wheel: &Wheel, name: &str) -> ProblemKind {
    let near = if proof.is_full() {
        Vec::new()
    } else {
        let cut: String = name.chars().take(60).collect();
        wheel.search(&cut, 3)
    };
    let near: Vec<&str> = near.iter().map(|it| it.word.as_str()).collect();
    ProblemKind::UnknownWord {
        kind: "word of the wheel",
        found: shown(name),
        advice: did_you_mean(&near, "choose a word or a shelf of the wheel"),
    }
}

/// The problem of a shelf that is not on the wheel, with the nearest that are.
pub(crate) fn unknown_shelf(wheel: &Wheel, name: &str) -> ProblemKind {
    let names = wheel.shelves().iter().map(|it| it.name.as_str());
    let near = nearest_names(name, names, 3);
    ProblemKind::UnknownWord {
        kind: "shelf",
        found: shown(name),
        advice: did_you_mean(&near, "choose a shelf of the wheel"),
    }
}

fn unknown_scale(name: &str) -> ProblemKind {
    let profile = || SCALES.iter().filter(|it| it.stage.is_some());
    let near = nearest_names(name, profile().map(|it| it.id), 3);
    let all: Vec<&str> = profile().map(|it| it.id).collect();
    ProblemKind::UnknownWord {
        kind: "scale",
        found: shown(name),
        advice: did_you_mean(&near, &format!("choose from: {}", all.join(", "))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formats::trial_catalogue::wheel;

    fn read(text: &str) -> Result<Intent, Vec<String>> {
        read_intent("i.toml", text, &wheel())
            .map_err(|them| them.iter().map(ToString::to_string).collect())
    }

    #[test]
    fn words_shelves_and_scales_are_read_by_any_of_their_names_in_the_order_of_the_file() {
        let intent = read(
            "[intent.words]\n\"Scorched Bread\" = { flavour = 4, matters = 3 }\ncracker = { aroma = 2, flavour = 3 }\n\
             [intent.shelves]\nToasted = { aroma = 1 }\n\
             [intent.scales]\nbitter = 5\ncolour = \"10 SRM\"\nlength = { value = \"1 min\", matters = 0 }\n",
        )
        .unwrap();
        let values: Vec<f64> = intent.targets.iter().map(|it| it.value).collect();
        assert_eq!(values, [4.0, 2.0, 3.0, 1.0, 5.0, 19.7, 60.0]);
        assert_eq!(intent.targets[0].matters, Matters::Most);
        assert_eq!(intent.targets[1].matters, Matters::Much);
        assert_eq!(intent.targets[6].matters, Matters::Little);
        assert!(
            matches!(&intent.targets[0].line, Line::Word { descriptor, stage: Stage::Flavour } if descriptor.as_str() == "toast")
        );
    }

    #[test]
    fn every_problem_of_an_intent_is_told_at_once() {
        let problems = read(
            "[intent.words]\ntoasst = { aroma = 5 }\ntoast = { aroma = 12, flavour = 4 }\n\
             \"scorched bread\" = { flavour = 2 }\ncracker = 4\nbread-crust = { matters = 1 }\n\
             [intent.scales]\nbiter = 5\nliking = 9\nhead = \"3 feet\"\nsour = { value = 3, matters = 4 }\n",
        )
        .unwrap_err();
        let wanted = [
            "i.toml:2:1: no word of the wheel is called “toasst”; did you mean “toast”",
            "i.toml:3:19: an intensity: found 12; it must lie between 0 and 9",
            "i.toml:4:22: the hope for “scorched bread” is given twice",
            "i.toml:5:11: the strength of a word is a number; write {",
            "i.toml:6:15: neither aroma nor flavour",
            "i.toml:8:1: no scale is called “biter”; did you mean “bitter”",
            "i.toml:9:1: no scale is called “liking”",
            "i.toml:10:8: a height: “3 feet” needs one of the units mm, cm",
            "i.toml:11:31: how much it matters: “4” is not known; choose from: 0, 1, 2, 3",
        ];
        assert_eq!(problems.len(), wanted.len(), "{problems:#?}");
        for (found, wanted) in problems.iter().zip(wanted) {
            assert!(found.starts_with(wanted), "{found}\n{wanted}");
        }
    }

    #[test]
    fn a_text_without_an_intent_says_so() {
        assert_eq!(
            read("name = \"x\"\n").unwrap_err(),
            ["i.toml:1:1: “intent” is missing; write it, such as [intent.words]"]
        );
    }
}
