//! The document of a proposal, for the file: what was to change and what was promised of it, as TOML.

use toml::Table;
use toml::Value;

use crate::domain::Invalid;
use crate::domain::PromisedChange;
use crate::domain::Proposed;
use crate::domain::ProposedTest;
use crate::formats::entry::Entry;
use crate::formats::problem::Problem;
use crate::formats::proof::Proof;
use crate::formats::section::Section;

/// Writes what a proposal said; every number in full, so that reading it back gives the same.
#[must_use]
pub fn write_proposal(proposed: &Proposed) -> String {
    let mut table = Table::new();
    let changes = proposed.changes.iter().cloned().map(Value::String);
    table.insert("changes".to_owned(), Value::Array(changes.collect()));
    table.insert("chance".to_owned(), Value::Float(proposed.chance));
    if let Some(test) = &proposed.test {
        table.insert("test".to_owned(), Value::Table(test_table(test)));
    }
    let lines = proposed.lines.iter().map(|it| Value::Table(line_table(it)));
    table.insert("line".to_owned(), Value::Array(lines.collect()));
    table.to_string()
}

fn line_table(line: &PromisedChange) -> Table {
    let mut table = Table::new();
    for (key, text) in [("id", &line.id), ("label", &line.label)] {
        table.insert(key.to_owned(), Value::String(text.clone()));
    }
    let numbers = [
        ("now", Some(line.now)),
        ("hoped", line.hoped),
        ("low", Some(line.low)),
        ("expected", Some(line.expected)),
        ("high", Some(line.high)),
    ];
    for (key, number) in numbers {
        if let Some(number) = number {
            table.insert(key.to_owned(), Value::Float(number));
        }
    }
    table
}

fn test_table(test: &ProposedTest) -> Table {
    let mut table = Table::new();
    table.insert("method".to_owned(), Value::String(test.method.clone()));
    table.insert("distance".to_owned(), Value::Float(test.distance));
    let answers = Value::Integer(i64::from(test.answers));
    table.insert("answers".to_owned(), answers);
    table
}

/// Reads what a proposal said; keys that a later version of the program added are passed over.
///
/// # Errors
/// Every problem by line and column; `file` is what messages call the text.
pub fn read_proposal(file: &str, text: &str) -> Result<Proposed, Vec<Problem>> {
    let proof = Proof::new(file, text);
    let table = proof.parse();
    let proposed = proposed_of(&Section::new(&proof, &table, 0));
    proof.conclude(proposed)
}

fn proposed_of(root: &Section<'_>) -> Option<Proposed> {
    let changes = root.required("changes", "changes = []");
    let changes = changes.map(|it| {
        let texts = it.items().into_iter();
        texts.filter_map(|it| it.text().map(str::to_owned))
    });
    let changes = changes.map(Iterator::collect);
    let chance = root.required("chance", "chance = 0.8");
    let chance = chance.and_then(|it| within(&it, "a chance", 1.0));
    let lines = root.sections("line").into_iter();
    let lines = lines.filter_map(|it| line_of(&it)).collect();
    let test = root.section("test");
    Some(Proposed {
        changes: changes?,
        lines,
        chance: chance?,
        test: test.and_then(|it| test_of(&it)),
    })
}

fn line_of(section: &Section<'_>) -> Option<PromisedChange> {
    let text = |key, example| section.required(key, example)?.text().map(str::to_owned);
    let number = |key, example| section.required(key, example)?.number();
    let (id, label) = (
        text("id", "id = \"bitter\""),
        text("label", "label = \"bitter\""),
    );
    let now = number("now", "now = 5.0");
    let hoped = section.entry("hoped").and_then(|it| it.number());
    let low = number("low", "low = 5.0");
    let expected = number("expected", "expected = 6.0");
    let high = number("high", "high = 7.0");
    Some(PromisedChange {
        id: id?,
        label: label?,
        now: now?,
        hoped,
        low: low?,
        expected: expected?,
        high: high?,
    })
}

fn test_of(section: &Section<'_>) -> Option<ProposedTest> {
    let method = section.required("method", "method = \"triangle\"");
    let method = method.and_then(|it| it.text()).map(str::to_owned);
    let distance = section.required("distance", "distance = 1.0");
    let distance = distance.and_then(|it| it.number());
    let answers = section.required("answers", "answers = 24");
    let answers = answers.and_then(|it| count(&it));
    Some(ProposedTest {
        method: method?,
        distance: distance?,
        answers: answers?,
    })
}

/// A number from nothing to `most`.
fn within(entry: &Entry<'_>, what: &'static str, most: f64) -> Option<f64> {
    let found = entry.number()?;
    entry.settle(if (0.0..=most).contains(&found) {
        Ok(found)
    } else {
        Err(Invalid::OutOfRange {
            what,
            found,
            low: 0.0,
            high: most,
            unit: "",
        })
    })
}

/// A count.
fn count(entry: &Entry<'_>) -> Option<u32> {
    let letters = entry.letters()?;
    entry.settle(letters.parse().map_err(|_| Invalid::Unreadable {
        what: "a count",
        found: letters.clone(),
        example: "24",
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn proposed() -> Proposed {
        let line = |id: &str, hoped| PromisedChange {
            id: id.to_owned(),
            label: format!("{id}, “quoted”"),
            now: 4.25,
            hoped,
            low: 4.4,
            // No short decimal, so that a rounded one would be seen.
            expected: 16.0 / 3.0,
            high: 6.0,
        };
        Proposed {
            changes: vec!["40 g less Dark crystal malt (60 to 20 g)".to_owned()],
            lines: vec![line("bitter", Some(6.0)), line("aroma:shelf:toasted", None)],
            chance: 0.81,
            test: Some(ProposedTest {
                method: "triangle".to_owned(),
                distance: 1.5,
                answers: 24,
            }),
        }
    }

    #[test]
    fn what_is_written_is_read_back_to_the_last_digit_with_and_without_a_test() {
        let nothing = Proposed {
            changes: Vec::new(),
            lines: Vec::new(),
            chance: 0.0,
            test: None,
        };
        for it in [proposed(), nothing] {
            let written = write_proposal(&it);
            assert_eq!(read_proposal("a", &written), Ok(it), "{written}");
        }
    }

    #[test]
    fn keys_of_a_later_program_are_passed_over_wherever_they_stand() {
        let later = write_proposal(&proposed())
            .replace("[[line]]", "[[line]]\nweight = 2.0")
            .replace("[test]", "[test]\nseats = 3");
        let later = format!("volume = \"5 L\"\n{later}\n[later]\nkey = [1, 2]\n");
        assert!(later.contains("weight") && later.contains("seats"));
        assert_eq!(read_proposal("a", &later), Ok(proposed()), "{later}");
    }

    #[test]
    fn a_document_without_its_chance_or_with_an_impossible_one_is_named_with_its_line() {
        let written = write_proposal(&proposed());
        let damaged = written.replace("chance = 0.81\n", "");
        let problems = read_proposal("a", &damaged).unwrap_err();
        assert!(problems[0].to_string().contains("chance"), "{problems:?}");
        for (from, to) in [
            ("chance = 0.81", "chance = 1.2"),
            ("answers = 24", "answers = 2.5"),
            ("now = 4.25", "now = \"four\""),
        ] {
            let damaged = written.replace(from, to);
            assert_ne!(damaged, written);
            assert!(read_proposal("a", &damaged).is_err(), "{to}");
        }
    }
}
