//! An evening from a terminal: a course by commands, sheets to print, twelve of them typed in, and what was gained.

use crate::kitchen::Kitchen;
use crate::kitchen::flat;
use serde_json::Value;
use thirdglass::domain::MeetingPart;
use thirdglass::domain::Wheel;
use thirdglass::formats::read_wheel;
use thirdglass::storage::builtin_wheel_files;
use thirdglass::workflow::PaperAnswer;

const PEOPLE: [&str; 12] = [
    "Ana", "Ben", "Cleo", "Dora", "Emil", "Fay", "Gus", "Hana", "Ivo", "Jana", "Kai", "Lea",
];

/// What a command says, well or badly, on one line.
fn told(kitchen: &Kitchen, arguments: &[&str]) -> String {
    let told = kitchen.run(arguments);
    flat(&(told.out + &told.err))
}

/// Types lines into the evening of a course, line by line.
fn typed(kitchen: &Kitchen, course: &str, lines: &str) -> String {
    let evening = ["practice", "evening", course, "--minutes", "60", "--plain"];
    kitchen.fed(&evening, lines).out
}

fn key(kitchen: &Kitchen) -> Value {
    let leader = kitchen.done(&["practice", "leader", "Winter", "--reader", "Hob", "--json"]);
    serde_json::from_str(&leader).unwrap()
}

/// The words in the jars, by code.
fn words_by_code(key: &Value) -> Vec<(String, String)> {
    let parts = key["parts"].as_array().unwrap();
    let jars = parts.iter().flat_map(|it| it["jars"].as_array().unwrap());
    jars.map(|it| {
        (
            it["code"].to_string(),
            it["word"].as_str().unwrap().to_owned(),
        )
    })
    .collect()
}

/// The codes on a sheet, in its order.
fn codes_on(sheet: &str) -> Vec<String> {
    let lines = sheet.lines().filter(|it| it.contains("____"));
    lines
        .filter_map(|it| it.split_whitespace().next())
        .filter(|it| it.len() == 3 && it.bytes().all(|b| b.is_ascii_digit()))
        .map(str::to_owned)
        .collect()
}

/// The shortest beginning of a word, of two letters or more, that is understood as that word.
fn beginning<'a>(wheel: &Wheel, word: &'a str) -> &'a str {
    let ends = word.char_indices().map(|it| it.0).chain([word.len()]);
    let understood = |end: &usize| {
        let read = PaperAnswer::read(MeetingPart::Jars, &word[..*end], wheel);
        read.is_some_and(|it| it.words().starts_with(&format!("{word} (")))
    };
    let end = ends.filter(|it| *it >= 2).find(understood).unwrap();
    &word[..end]
}

#[test]
fn twelve_sheets_are_typed_in_with_few_keys_and_the_check_is_told_to_nobody() {
    let kitchen = Kitchen::new();
    let people = PEOPLE.join(",");
    let made = told(
        &kitchen,
        &[
            "practice",
            "course",
            "Winter",
            "--people",
            &people,
            "--meetings",
            "3",
        ],
    );
    assert!(
        made.contains("the check comes at meetings 1, 2 and 3"),
        "{made}"
    );
    let opened = typed(&kitchen, "Winter", "");
    assert!(opened.contains("Winter, meeting 1 of 3"), "{opened}");
    let sheets = kitchen.done(&["practice", "sheets", "Winter"]);
    assert_eq!(sheets.matches('\u{c}').count(), 11);
    let key = words_by_code(&key(&kitchen));
    for (_, word) in &key {
        assert!(!sheets.contains(word), "{word}");
    }
    let wheel = read_wheel(builtin_wheel_files()).unwrap();
    let mut lines = "5\n".to_owned();
    for sheet in sheets.split('\u{c}') {
        let codes = codes_on(sheet);
        assert_eq!(codes.len(), 13, "{sheet}");
        lines += "\n";
        for code in codes {
            let word = &key.iter().find(|it| it.0 == code).unwrap().1;
            lines += beginning(&wheel, word);
            lines += " 7\n";
        }
        lines += "\n";
    }
    // Ten minutes at thirty words of five letters a minute, which is slow.
    let keys = lines.chars().count();
    assert!(keys <= 10 * 30 * 5, "{keys} keys");
    let page = typed(&kitchen, "Winter", &lines);
    assert!(page.contains("13 of 13 answers"), "{page}");
    typed(&kitchen, "Winter", "6\n6\n");
    let gain = told(&kitchen, &["practice", "gain", "Winter", "--taster", "lea"]);
    assert!(gain.contains("8 of 8 words and 8 of 8 places"), "{gain}");
    let record = told(&kitchen, &["practice", "record", "Lea"]);
    assert!(
        record.contains("Of 5 jars 5 were named rightly"),
        "{record}"
    );
}

#[test]
fn a_course_or_an_evening_that_is_not_there_says_what_to_type() {
    let kitchen = Kitchen::new();
    let none = told(&kitchen, &["practice", "leader", "Winter"]);
    assert!(none.contains("no course is called “Winter”"), "{none}");
    assert!(
        none.contains("thirdglass practice course NAME --people"),
        "{none}"
    );
    kitchen.done(&["practice", "course", "Winter", "--people", "Ana"]);
    let none = told(&kitchen, &["practice", "sheets", "Winter"]);
    assert!(
        none.contains("thirdglass practice evening Winter"),
        "{none}"
    );
    let list = told(&kitchen, &["practice", "course"]);
    assert!(list.contains("Ana. 0 of 6 meetings planned"), "{list}");
}
