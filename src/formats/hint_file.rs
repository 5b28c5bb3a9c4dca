//! The file of hints: what a batch log may mean, as data.

use std::collections::HashSet;

use crate::domain::Beyond;
use crate::domain::DescriptorId;
use crate::domain::EntryKind;
use crate::domain::Hint;
use crate::domain::HintCondition;
use crate::domain::HintMeasure;
use crate::domain::HintOdds;
use crate::domain::Wheel;
use crate::formats::Problem;
use crate::formats::entry::Entry;
use crate::formats::problem::ProblemKind;
use crate::formats::proof::Proof;
use crate::formats::section::Section;

/// The longest sentence, in characters.
const MOST_SENTENCE: usize = 200;

/// Reads the hints from files, given as name and text; the words they name must stand on the wheel. A hint
/// of a later file replaces the one with its id.
///
/// # Errors
/// Every problem, by file and place.
pub fn read_hints(files: &[(&str, &str)], wheel: &Wheel) -> Result<Vec<Hint>, Vec<Problem>> {
    let mut hints: Vec<Hint> = Vec::new();
    let mut problems = Vec::new();
    for (file, text) in files {
        let proof = Proof::new(file, text);
        let table = proof.parse();
        let root = Section::new(&proof, &table, 0);
        for hint in hints_of(&root, wheel) {
            match hints.iter_mut().find(|it| it.id == hint.id) {
                Some(old) => *old = hint,
                None => hints.push(hint),
            }
        }
        root.close();
        problems.extend(proof.problems());
    }
    if problems.is_empty() {
        Ok(hints)
    } else {
        Err(problems)
    }
}

fn hints_of(root: &Section<'_>, wheel: &Wheel) -> Vec<Hint> {
    let mut seen = HashSet::new();
    let mut hints = Vec::new();
    for section in root.sections("hint") {
        let hint = read_hint(&section, wheel);
        if let Some(hint) = &hint
            && !seen.insert(hint.id.clone())
        {
            section.mark(ProblemKind::Together {
                found: format!("the id “{}” is used twice", hint.id),
                advice: "rename the newer one",
            });
        }
        hints.extend(hint);
        section.close();
    }
    hints
}

fn read_hint(section: &Section<'_>, wheel: &Wheel) -> Option<Hint> {
    let line = |key, example| {
        let entry = section.required(key, example);
        entry.and_then(|it| it.line(MOST_SENTENCE))
    };
    let id = line("id", "id = \"hot-sparge\"");
    let when = section.required("when", "when = [\"sparge-temperature > 78\"]");
    let when = when.map(|it| it.items()).unwrap_or_default();
    let conditions: Vec<Option<HintCondition>> = when.iter().map(read_condition).collect();
    let words = section.entry("words").map(|it| it.items());
    let words = words.unwrap_or_default();
    let words: Vec<Option<DescriptorId>> = words.iter().map(|it| read_word(it, wheel)).collect();
    let odds = section.required("odds", "odds = \"sometimes\"");
    let odds = odds.and_then(|it| it.read(HintOdds::from_id));
    let says = line("says", "says = \"The sparge was hot.\"");
    let look = line("look", "look = \"Is it rough on the tongue?\"");
    let remedy = line("remedy", "remedy = \"Sparge cooler.\"");
    let source = line("source", "source = \"common practice\"");
    Some(Hint {
        id: id?,
        when: conditions.into_iter().collect::<Option<_>>()?,
        says: says?,
        words: words.into_iter().collect::<Option<_>>()?,
        odds: odds?,
        look: look?,
        remedy: remedy?,
        source: source?,
    })
}

fn read_word(entry: &Entry<'_>, wheel: &Wheel) -> Option<DescriptorId> {
    let id = entry.read(DescriptorId::new)?;
    if wheel.descriptor(&id).is_none() {
        entry.mark(ProblemKind::Together {
            found: format!("the word “{id}” is not on the wheel"),
            advice: "write the id of a word that is",
        });
        return None;
    }
    Some(id)
}

/// A condition such as `sparge-temperature > 78` or `days brewed to packaged < 8`.
fn read_condition(entry: &Entry<'_>) -> Option<HintCondition> {
    let condition = condition(entry.text()?);
    if condition.is_none() {
        entry.mark(ProblemKind::Together {
            found: "this is no condition".to_owned(),
            advice: "write a kind of log entry, “days brewed to packaged”, “figure carbonation” or “gravity-left”, then > or < and a number",
        });
    }
    condition
}

fn condition(text: &str) -> Option<HintCondition> {
    let parts: Vec<&str> = text.split_whitespace().collect();
    let (measure, sign, number) = match parts.as_slice() {
        [measure @ .., sign, number] => (measure, *sign, number.parse::<f64>().ok()?),
        _ => return None,
    };
    let kind = |id: &str| EntryKind::from_id(id).ok();
    let measure = match measure {
        ["gravity-left"] => HintMeasure::GravityLeft,
        ["figure", id] => HintMeasure::Figure((*id).to_owned()),
        ["days", from, "to", "today"] => HintMeasure::Days {
            from: kind(from)?,
            to: None,
        },
        ["days", from, "to", to] => HintMeasure::Days {
            from: kind(from)?,
            to: Some(kind(to)?),
        },
        [id] => HintMeasure::Logged(kind(id)?),
        _ => return None,
    };
    let beyond = match sign {
        ">" => Beyond::Above(number),
        "<" => Beyond::Below(number),
        _ => return None,
    };
    number
        .is_finite()
        .then_some(HintCondition { measure, beyond })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn conditions_are_read_and_nonsense_is_none() {
        for good in [
            "sparge-temperature > 78",
            "days brewed to packaged < 8",
            "days packaged to today > 30",
            "figure carbonation > 3.2",
            "gravity-left > 0.004",
        ] {
            assert!(condition(good).is_some(), "{good}");
        }
        for bad in [
            "",
            "sparge-temperature",
            "sparge > 78",
            "days brewed < 8",
            "mash-temperature = 3",
            "mash-temperature > NaN",
        ] {
            assert!(condition(bad).is_none(), "{bad}");
        }
    }
}
