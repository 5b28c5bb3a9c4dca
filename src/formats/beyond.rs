//! What a recipe of ours says and BeerJSON has no place for: lines in its notes that a person can read and that are
//! read back.

use toml::Table;
use toml::Value;
use toml_edit::DocumentMut;
use toml_edit::Item;

use crate::formats::answer_text::quoted;

/// The line that stands above the others.
const HEAD: &str = "What BeerJSON has no place for, in the words of a thirdglass recipe:";
/// The key of what is the catalogue's usual value, because nobody measured it.
pub(super) const USUAL: &str = "usual";
/// Lines that are read at most; a recipe has some dozens.
const MOST_LINES: usize = 500;
/// Tables of a recipe whose lines go over whole.
const WHOLE: [&str; 3] = ["declare", "intent", "promised"];

/// Keys of the tables that do not go over whole.
const KEYS: [(&str, &[&str]); 8] = [
    ("recipe", &["version", "parent", "reason", USUAL]),
    ("fermentable", &[USUAL]),
    ("hop", &["age", "stored", "boil", "whirlpool", "dry", USUAL]),
    ("yeast", &[USUAL]),
    ("other", &["when"]),
    ("mash", &["temperature", "time"]),
    ("boil", &["time"]),
    ("carbonation", &["priming", "bottle"]),
];

/// One line: a table of the recipe file, a key in it, and its value.
#[derive(Debug, Clone, PartialEq)]
pub struct Beyond {
    /// The names of the tables from the top down; a number counts in a list, from 1.
    pub place: String,
    /// What the ingredient there is called, so that a line is not taken for another one's.
    pub of: Option<String>,
    /// The key.
    pub key: String,
    /// The value as TOML on one line.
    pub value: String,
}

impl Beyond {
    /// A line.
    pub(super) fn new(place: &str, of: Option<&str>, key: &str, value: &Value) -> Self {
        Self {
            place: place.to_owned(),
            of: of.map(str::to_owned),
            key: key.to_owned(),
            value: on_one_line(value),
        }
    }

    /// That these values stand there only because the standard asks for some.
    pub(super) fn usual(place: &str, of: Option<&str>, what: &[(&str, f64)]) -> Option<Self> {
        let pairs = what
            .iter()
            .map(|(key, value)| ((*key).to_owned(), Value::Float(*value)));
        let pairs = Value::Table(pairs.collect());
        (!what.is_empty()).then(|| Self::new(place, of, USUAL, &pairs))
    }

    /// The text of the value, where it is one.
    pub(super) fn text(&self) -> Option<String> {
        self.read()?.as_str().map(str::to_owned)
    }

    /// The numbers of the value, where it is a table of some.
    pub(super) fn numbers(&self) -> Vec<(String, f64)> {
        let read = self.read();
        let pairs = read
            .as_ref()
            .and_then(Value::as_table)
            .into_iter()
            .flatten();
        let pairs = pairs.filter_map(|(key, it)| Some((key.clone(), it.as_float()?)));
        pairs.collect()
    }

    fn read(&self) -> Option<Value> {
        let read: Table = format!("it = {}", self.value).parse().ok()?;
        read.get("it").cloned()
    }

    /// True if a recipe of ours writes such lines.
    fn is_known(&self) -> bool {
        let table = self.place.split([' ', '.']).next().unwrap_or_default();
        let keys = KEYS.iter().find(|it| it.0 == table).map(|it| it.1);
        let is_whole = WHOLE.contains(&table) || table == "water";
        is_whole || keys.is_some_and(|it| it.contains(&self.key.as_str()))
    }
}

/// A value in TOML that takes one line, whatever is in it.
fn on_one_line(value: &Value) -> String {
    match value {
        Value::String(text) => {
            let words: Vec<&str> = text.split_whitespace().collect();
            quoted(&words.join(" "))
        }
        Value::Array(all) => {
            let all: Vec<String> = all.iter().map(on_one_line).collect();
            format!("[{}]", all.join(", "))
        }
        Value::Table(table) => {
            let pair =
                |(key, it): (&String, &Value)| format!("{} = {}", quoted(key), on_one_line(it));
            let all: Vec<String> = table.iter().map(pair).collect();
            format!("{{ {} }}", all.join(", "))
        }
        plain => plain.to_string(),
    }
}

/// The notes that hold these lines.
#[must_use]
pub(super) fn notes(lines: &[Beyond]) -> String {
    let line = |it: &Beyond| {
        let key = if is_bare(&it.key) {
            it.key.clone()
        } else {
            quoted(&it.key)
        };
        let of = it.of.as_ref().map(|it| format!(" “{it}”"));
        let of = of.unwrap_or_default();
        format!("{}{of}: {key} = {}", it.place, it.value)
    };
    let lines: Vec<String> = lines.iter().map(line).collect();
    format!("{HEAD}\n{}", lines.join("\n"))
}

fn is_bare(key: &str) -> bool {
    let fits = |it: char| it.is_ascii_alphanumeric() || matches!(it, '-' | '_');
    !key.is_empty() && key.chars().all(fits)
}

/// The lines that notes hold. What is none of ours is passed over; a line of ours that cannot be read comes second,
/// as it stands.
#[must_use]
pub(super) fn read_notes(notes: &str) -> (Vec<Beyond>, Vec<String>) {
    let Some((_, after)) = notes.split_once(HEAD) else {
        return (Vec::new(), Vec::new());
    };
    let lines = after.lines().map(str::trim).filter(|it| !it.is_empty());
    let (mut read, mut refused) = (Vec::new(), Vec::new());
    for line in lines.take(MOST_LINES) {
        match read_line(line) {
            Some(it) => read.push(it),
            None => refused.push(line.chars().take(80).collect()),
        }
    }
    (read, refused)
}

fn read_line(line: &str) -> Option<Beyond> {
    let (place, of, pair) = match line.split_once(" “") {
        Some((place, rest)) if !place.contains(':') => {
            let (of, pair) = rest.split_once("”: ")?;
            (place, Some(of), pair)
        }
        _ => {
            let (place, pair) = line.split_once(": ")?;
            (place, None, pair)
        }
    };
    let is_place = |it: char| it.is_ascii_alphanumeric() || matches!(it, '.' | ' ');
    let known = place.chars().all(is_place);
    let table: Table = pair.parse().ok().filter(|_| known)?;
    let (key, value) = table.iter().next()?;
    Some(Beyond::new(place, of, key, value)).filter(Beyond::is_known)
}

/// What of a recipe file stands in tables that go over whole, in its order, and the words of its head.
pub(super) fn whole_tables(document: &str) -> Vec<Beyond> {
    let document: DocumentMut = document.parse().unwrap_or_default();
    let mut lines = Vec::new();
    for key in ["version", "parent", "reason"] {
        if let Some(value) = document.get(key).and_then(Item::as_value) {
            lines.extend(line("recipe", key, value));
        }
    }
    for (name, item) in document.iter() {
        if WHOLE.contains(&name) {
            walk(name, item, &mut lines);
        }
    }
    lines
}

/// Every value below a table, with its place.
fn walk(place: &str, item: &Item, lines: &mut Vec<Beyond>) {
    match item {
        Item::Table(table) => {
            for (key, it) in table {
                match it {
                    Item::Value(value) => lines.extend(line(place, key, value)),
                    deeper => walk(&format!("{place}.{key}"), deeper, lines),
                }
            }
        }
        Item::ArrayOfTables(list) => {
            for (index, it) in list.iter().enumerate() {
                let place = format!("{place} {}", index + 1);
                walk(&place, &Item::Table(it.clone()), lines);
            }
        }
        Item::Value(_) | Item::None => {}
    }
}

/// A value with its place, without the comments beside it.
fn line(place: &str, key: &str, value: &toml_edit::Value) -> Option<Beyond> {
    let mut bare = value.clone();
    bare.decor_mut().clear();
    let read: Table = format!("it = {bare}").parse().ok()?;
    Some(Beyond::new(place, None, key, read.get("it")?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formats::EXAMPLE;

    #[test]
    fn lines_of_the_example_are_read_back_as_they_were() {
        let lines = whole_tables(EXAMPLE);
        let places: Vec<&str> = lines.iter().map(|it| it.place.as_str()).collect();
        for place in ["recipe", "intent.words", "promised 1", "declare.hop 1"] {
            assert!(places.contains(&place), "{place}: {places:?}");
        }
        assert_eq!(read_notes(&notes(&lines)), (lines, Vec::new()));
    }

    #[test]
    fn notes_of_others_say_nothing_and_a_broken_line_is_told() {
        assert_eq!(read_notes("Mash warm."), (Vec::new(), Vec::new()));
        let lines = "hop 1: age = \nhop 1 “Mine: “it””: age = \"1 year\"\nfermentable 1: amount = \"9 kg\"\n";
        let (read, refused) = read_notes(&format!("Mine.\n{HEAD}\n{lines}"));
        assert_eq!(read.len(), 1);
        assert_eq!(read[0].of.as_deref(), Some("Mine: “it”"));
        // An amount has its place in the standard, and no note is stronger than that.
        assert_eq!(
            refused,
            ["hop 1: age =", "fermentable 1: amount = \"9 kg\""]
        );
    }
}
