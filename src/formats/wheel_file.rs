//! The files of the wheel: one place each, with its shelves, words, look-alikes and jars.

use std::collections::HashMap;

use crate::domain::Allergen;
use crate::domain::Caution;
use crate::domain::Descriptor;
use crate::domain::DescriptorId;
use crate::domain::Invalid;
use crate::domain::Jar;
use crate::domain::JarUse;
use crate::domain::LookAlike;
use crate::domain::Place;
use crate::domain::PlaceId;
use crate::domain::Reference;
use crate::domain::Shelf;
use crate::domain::ShelfId;
use crate::domain::Stage;
use crate::domain::Wheel;
use crate::domain::WheelProblem;
use crate::formats::entry::Entry;
use crate::formats::problem::Problem;
use crate::formats::problem::ProblemKind;
use crate::formats::proof::Proof;
use crate::formats::section::Section;
use crate::formats::word_origin::read_causes;
use crate::formats::word_origin::read_compounds;
use crate::formats::word_origin::read_standing;

/// The longest texts of the wheel, in characters.
const MOST_WORD: usize = 26;
const MOST_NAME: usize = 26;
const MOST_SENTENCE: usize = 160;
const MOST_ITEM: usize = 80;
const MOST_HOW: usize = 200;
const MOST_KEEPS: usize = 30;

/// Reads the wheel from its files, given as name and text, in the order of the places.
///
/// # Errors
/// Every problem of every file, by file and place; what is wrong with the wheel as a whole stands
/// at the entry it concerns.
pub fn read_wheel(files: &[(&str, &str)]) -> Result<Wheel, Vec<Problem>> {
    let mut found = Found::default();
    let proofs: Vec<Proof<'_>> = files
        .iter()
        .map(|(file, text)| Proof::new(file, text))
        .collect();
    for (index, proof) in proofs.iter().enumerate() {
        let table = proof.parse();
        found.read(index, Section::new(proof, &table, 0));
    }
    let clean = proofs.iter().all(Proof::is_clean);
    let Found {
        places,
        shelves,
        words,
        stands,
    } = found;
    let wheel = Wheel::new(places, shelves, words);
    if let Err(problems) = &wheel {
        for problem in problems.iter().filter(|it| clean || stands_alone(it)) {
            let (index, at) = stands.get(&owner(problem)).copied().unwrap_or_default();
            if let Some(proof) = proofs.get(index) {
                proof.mark(at, problem.clone());
            }
        }
    }
    let problems: Vec<Problem> = proofs.into_iter().flat_map(Proof::problems).collect();
    match wheel {
        Ok(wheel) if problems.is_empty() => Ok(wheel),
        _ => Err(problems),
    }
}

/// True for what stays true however many other entries could not be read.
fn stands_alone(problem: &WheelProblem) -> bool {
    matches!(
        problem,
        WheelProblem::DoubleId { .. }
            | WheelProblem::DoubleWord { .. }
            | WheelProblem::WordInDefinition { .. }
    )
}

/// The entry that a problem concerns, by the text under which its place is kept.
fn owner(problem: &WheelProblem) -> String {
    match problem {
        WheelProblem::DoubleId { id } => id.clone(),
        WheelProblem::DoubleWord { second, .. } => second.to_string(),
        WheelProblem::NoShelf { descriptor, .. }
        | WheelProblem::NoLookAlike { descriptor, .. }
        | WheelProblem::BeerUndeclared { descriptor }
        | WheelProblem::AllergenUndeclared { descriptor, .. }
        | WheelProblem::NoFood { descriptor, .. }
        | WheelProblem::WordInDefinition { descriptor, .. } => descriptor.to_string(),
        WheelProblem::TooFew { what, .. } => what.trim_start_matches("the ").to_owned(),
    }
}

#[derive(Default)]
struct Found {
    places: Vec<Place>,
    shelves: Vec<Shelf>,
    words: Vec<Descriptor>,
    /// Where an entry stands: file and byte; of two with one id, the later.
    stands: HashMap<String, (usize, usize)>,
}

impl Found {
    fn read(&mut self, file: usize, root: Section<'_>) {
        let place = root.required("place", "[place]");
        let place = place.and_then(|it| it.section()).and_then(|section| {
            let place = read_place(&section)?;
            self.stands
                .insert(format!("place {}", place.id), (file, section.at));
            section.close();
            Some(place)
        });
        for section in root.sections("shelf") {
            if let Some(read) = read_shelf(&section, place.as_ref().map(|it| &it.id)) {
                let key = format!("shelf {}", read.id);
                self.stands.insert(key, (file, section.at));
                self.shelves.push(read);
            }
            section.close();
        }
        for section in root.sections("descriptor") {
            if let Some(word) = read_descriptor(&section) {
                self.stands.insert(word.id.to_string(), (file, section.at));
                self.words.push(word);
            }
            section.close();
        }
        self.places.extend(place);
        root.close();
    }
}

fn read_place(section: &Section<'_>) -> Option<Place> {
    let id = section.required("id", "id = \"bakery\"");
    let id = id.and_then(|it| it.read(PlaceId::new));
    let name = required_line(section, "name", "name = \"Bakery\"", MOST_NAME);
    let met = required_line(
        section,
        "met",
        "met = \"Where bread is baked.\"",
        MOST_SENTENCE,
    );
    Some(Place {
        id: id?,
        name: name?,
        met: met?,
    })
}

fn read_shelf(section: &Section<'_>, place: Option<&PlaceId>) -> Option<Shelf> {
    let id = section.required("id", "id = \"toasted\"");
    let id = id.and_then(|it| it.read(ShelfId::new));
    let name = required_line(section, "name", "name = \"Toasted\"", MOST_NAME);
    let met = required_line(
        section,
        "met",
        "met = \"Dry, warm and brown.\"",
        MOST_SENTENCE,
    );
    Some(Shelf {
        id: id?,
        place: place?.clone(),
        name: name?,
        met: met?,
    })
}

fn read_descriptor(section: &Section<'_>) -> Option<Descriptor> {
    let id = section.required("id", "id = \"bread-crust\"");
    let id = id.and_then(|it| it.read(DescriptorId::new));
    let shelf = section.required("shelf", "shelf = \"toasted\"");
    let shelf = shelf.and_then(|it| it.read(ShelfId::new));
    let word = required_line(section, "word", "word = \"bread crust\"", MOST_WORD);
    let names = |key| {
        let entry = section.entry(key);
        entry.map_or_else(Vec::new, |it: Entry<'_>| it.lines(MOST_ITEM))
    };
    let synonyms = names("synonyms");
    let misspellings = names("misspellings");
    let example = "definition = \"The brown outside of a loaf.\"";
    let definition = required_line(section, "definition", example, MOST_SENTENCE);
    let stages = section.required("stages", "stages = [\"aroma\", \"flavour\"]");
    let stages = stages.map(|it| it.choices(word_stage));
    let look_alikes = read_look_alikes(section);
    let reference = read_reference(section);
    let (compounds, causes) = (read_compounds(section), read_causes(section));
    let standing = read_standing(section);
    Some(Descriptor {
        id: id?,
        shelf: shelf?,
        word: word?,
        synonyms,
        misspellings,
        definition: definition?,
        stages: stages?,
        look_alikes,
        reference: reference?,
        compounds,
        causes,
        standing,
    })
}

/// The stages at which a word can be met.
fn word_stage(id: &str) -> Result<Stage, Invalid> {
    match Stage::from_id(id) {
        Ok(stage @ (Stage::Aroma | Stage::Flavour | Stage::Finish)) => Ok(stage),
        _ => Err(Invalid::NotAChoice {
            what: "a stage of a word",
            found: id.chars().take(60).collect(),
            choices: "aroma, flavour, finish".to_owned(),
        }),
    }
}

fn read_look_alikes(section: &Section<'_>) -> Vec<LookAlike> {
    let look_alikes = section.sections("look_alike");
    if look_alikes.is_empty() {
        let key = "look_alike";
        let example = "[[descriptor.look_alike]]";
        section.mark(ProblemKind::Missing { key, example });
    }
    look_alikes
        .into_iter()
        .filter_map(read_look_alike)
        .collect()
}

fn read_look_alike(section: Section<'_>) -> Option<LookAlike> {
    let id = section.required("id", "id = \"toast\"");
    let id = id.and_then(|it| it.read(DescriptorId::new));
    let tell = required_line(
        &section,
        "tell",
        "tell = \"Toast is drier.\"",
        MOST_SENTENCE,
    );
    section.close();
    Some(LookAlike {
        id: id?,
        tell: tell?,
    })
}

fn read_reference(section: &Section<'_>) -> Option<Reference> {
    match (section.entry("jar"), section.entry("no_jar")) {
        (Some(jar), None) => jar.section().and_then(read_jar).map(Reference::Jar),
        (None, Some(no_jar)) => {
            let section = no_jar.section()?;
            let why = required_line(
                &section,
                "why",
                "why = \"No safe sample exists.\"",
                MOST_HOW,
            );
            let example = "instead = \"Ask at the next table.\"";
            let instead = required_line(&section, "instead", example, MOST_HOW);
            section.close();
            Some(Reference::NoJar {
                why: why?,
                instead: instead?,
            })
        }
        (jar, _) => {
            let found = if jar.is_some() {
                "both a jar and no jar stand here"
            } else {
                "neither a jar nor a reason for none stands here"
            };
            section.mark(ProblemKind::ExactlyOne {
                found: found.to_owned(),
                choices: "[descriptor.jar], [descriptor.no_jar]",
            });
            None
        }
    }
}

fn read_jar(section: Section<'_>) -> Option<Jar> {
    let item = required_line(&section, "item", "item = \"Crust of a loaf\"", MOST_ITEM);
    let how = required_line(&section, "how", "how = \"Close it in a jar.\"", MOST_HOW);
    let met_by = section.required("use", "use = \"sniff\"");
    let met_by = met_by.and_then(|it| it.read(JarUse::from_id));
    let keeps = required_line(&section, "keeps", "keeps = \"one day\"", MOST_KEEPS);
    let allergens = section.required("allergens", "allergens = []");
    let allergens = allergens.map(|it| it.choices(Allergen::from_id));
    let cautions = section.required("cautions", "cautions = []");
    let cautions = cautions.map(|it| it.choices(Caution::from_id));
    if let (Some(JarUse::SniffOnly), Some(how)) = (met_by, &how)
        && let Some(word) = tells_to_taste(how)
        && let Some(entry) = section.entry("how")
    {
        entry.mark(ProblemKind::Together {
            found: format!("the jar is sniff-only, yet its preparation says “{word}”"),
            advice: "nothing of it may enter the mouth: change the one or the other",
        });
    }
    section.close();
    Some(Jar {
        item: item?,
        how: how?,
        met_by: met_by?,
        keeps: keeps?,
        allergens: allergens?,
        cautions: cautions?,
    })
}

/// The word by which a preparation asks to put something into the mouth, unless it forbids it.
fn tells_to_taste(how: &str) -> Option<&'static str> {
    const MOUTH: [&str; 7] = ["taste", "sip", "drink", "eat", "chew", "swallow", "lick"];
    const FORBIDS: [&str; 6] = ["never", "not", "don't", "without", "nor", "no"];
    let lower = how.to_lowercase();
    // A prohibition reaches to the end of its clause: "never taste or swallow it".
    lower.split([',', '.', ';', ':']).find_map(|clause| {
        let words: Vec<&str> = clause.split_whitespace().collect();
        let forbidden = words.iter().any(|it| FORBIDS.contains(it));
        let told = MOUTH.into_iter().find(|it| words.contains(it));
        told.filter(|_| !forbidden)
    })
}

fn required_line(
    section: &Section<'_>,
    key: &'static str,
    example: &'static str,
    most: usize,
) -> Option<String> {
    section.required(key, example)?.line(most)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::ProptestConfig;
    use proptest::proptest;

    use super::*;
    use crate::formats::trial_catalogue::wheel;
    use crate::formats::trial_catalogue::wheel_text;
    use crate::formats::trial_catalogue::with_a_slip;

    fn problems(text: &str) -> Vec<String> {
        let problems = read_wheel(&[("w.toml", text)]).unwrap_err();
        problems.iter().map(ToString::to_string).collect()
    }

    fn changed(from: &str, to: &str) -> Vec<String> {
        let text = wheel_text();
        assert!(text.contains(from), "{from}");
        problems(&text.replacen(from, to, 1))
    }

    #[test]
    fn places_shelves_words_and_jars_are_read() {
        let wheel = wheel();
        assert_eq!(wheel.places().len(), 1);
        assert_eq!(wheel.shelves().len(), 3);
        assert_eq!(wheel.descriptors().len(), 9);
        let toast = &wheel.descriptors()[0];
        assert!(matches!(&toast.reference, Reference::Jar(jar) if jar.met_by == JarUse::Sniff));
        assert_eq!(toast.look_alikes[0].id.as_str(), "bread-crust");
    }

    #[test]
    fn the_limits_of_the_texts_are_kept() {
        let cases = [
            (
                "word = \"toast\"",
                format!("word = \"{}\"", "a".repeat(27)),
                "word is longer than 26",
            ),
            (
                "name = \"Bakery\"",
                format!("name = \"{}\"", "a".repeat(27)),
                "name is longer than 26",
            ),
            (
                "item = \"A sample\"",
                format!("item = \"{}\"", "a".repeat(81)),
                "item is longer than 80",
            ),
            (
                "keeps = \"one day\"",
                format!("keeps = \"{}\"", "a".repeat(31)),
                "keeps is longer than 30",
            ),
            (
                "how = \"Close",
                format!("how = \"{}", "a".repeat(200)),
                "how is longer than ",
            ),
        ];
        for (from, to, wanted) in cases {
            let found = changed(from, &to);
            assert!(found[0].contains(wanted), "{found:#?}");
        }
    }

    #[test]
    fn what_is_wrong_with_the_wheel_stands_at_its_entry() {
        let line_of = |wanted: &str| {
            let text = wheel_text();
            text.lines()
                .position(|it| it == wanted)
                .map(|it| it + 1)
                .unwrap()
        };
        let found = changed("id = \"bread-crust\"\ntell", "id = \"nowhere\"\ntell");
        let line = line_of("id = \"toast\"") - 1;
        assert_eq!(
            found,
            [format!(
                "w.toml:{line}:1: toast names the look-alike “nowhere”, which is not on the wheel"
            )]
        );
        let found = changed("word = \"honey\"", "word = \"Toast\"");
        assert!(
            found[0].contains("“Toast” stands for both toast and honey"),
            "{found:#?}"
        );
        let found = changed("Number 0 of", "Like toast, of");
        assert!(
            found[0].contains("the definition of toast contains its word"),
            "{found:#?}"
        );
    }

    #[test]
    fn all_problems_are_told_at_once() {
        let text = wheel_text()
            .replacen("stages = [\"aroma\"]", "stages = [\"appearance\"]", 1)
            .replacen("use = \"sniff\"", "use = [\"sniff-only\", \"taste\"]", 1)
            .replacen("misspellings", "mispellings", 1)
            .replacen("cautions = []", "cautions = [\"dragons\"]", 1);
        let found = problems(&text);
        for wanted in [
            "a stage of a word: “appearance” is not known; choose from: aroma, flavour, finish",
            "use is a list; write a text in quotes",
            "the key “mispellings” is not known here; did you mean “misspellings”?",
            "a caution: “dragons” is not known",
        ] {
            assert!(
                found.iter().any(|it| it.contains(wanted)),
                "{wanted} {found:#?}"
            );
        }
        assert_eq!(found.len(), 4, "{found:#?}");
    }

    #[test]
    fn a_word_has_a_jar_or_a_reason_for_none_never_both() {
        let both = changed(
            "[descriptor.jar]",
            "[descriptor.no_jar]\nwhy = \"w\"\ninstead = \"i\"\n[descriptor.jar]",
        );
        assert!(both[0].contains("both a jar and no jar"), "{both:#?}");
        let text = wheel_text();
        let cut = text.rfind("[descriptor.jar]").unwrap();
        let neither = problems(&text[..cut]);
        assert!(neither[0].contains("neither a jar nor"), "{neither:#?}");
    }

    #[test]
    fn a_sniff_only_jar_never_asks_to_taste() {
        let jar = |how: &str| format!("how = \"{how}\"\nuse = \"sniff-only\"");
        let from = "how = \"Close it in a jar.\"\nuse = \"sniff\"";
        let found = changed(from, &jar("Sniff, then taste a drop."));
        assert!(
            found[0].contains("sniff-only, yet its preparation says “taste”"),
            "{found:#?}"
        );
        let allowed = wheel_text().replacen(from, &jar("Sniff, never taste or swallow it."), 1);
        assert!(read_wheel(&[("w.toml", &allowed)]).is_ok());
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2_000))]
        #[test]
        fn no_slip_in_a_wheel_makes_it_panic(text in with_a_slip(wheel_text())) {
            if let Err(problems) = read_wheel(&[("w.toml", &text)]) {
                assert!(!problems.is_empty());
            }
        }
    }
}
