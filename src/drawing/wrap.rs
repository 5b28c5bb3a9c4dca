//! Breaking a sentence into lines that fit.

use unicode_width::UnicodeWidthStr;

/// How many cells a text takes.
#[must_use]
pub fn width(text: &str) -> usize {
    text.width()
}

/// Breaks `text` at blanks into lines of at most `cells` cells; a longer word gets a line of its own.
#[must_use]
pub fn wrap(text: &str, cells: usize) -> Vec<String> {
    let cells = cells.max(1);
    let mut lines = Vec::new();
    for paragraph in text.split('\n') {
        let mut line = String::new();
        for word in unbroken(paragraph) {
            let word = word.as_str();
            let joined = line.width() + usize::from(!line.is_empty()) + word.width();
            if joined > cells && !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
        }
        lines.push(line);
    }
    lines
}

/// Units that stay with the number before them.
const UNITS: [&str; 12] = [
    "%", "s", "mm", "cm", "mL", "L", "g", "g/L", "kg", "°C", "EBC", "IBU",
];

/// The words of a text; a unit stays with its number, and a dot with the word before it.
fn unbroken(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let unit = word.trim_end_matches(['.', ',', ';', ':', ')']);
        let clings = |last: &&mut String| {
            let number = last.ends_with(|it: char| it.is_ascii_digit());
            word == "·" || (number && UNITS.contains(&unit))
        };
        match words.last_mut().filter(clings) {
            Some(last) => {
                last.push(' ');
                last.push_str(word);
            }
            None => words.push(word.to_owned()),
        }
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sentences_break_at_blanks_and_long_words_stand_alone() {
        assert_eq!(wrap("one two three", 7), ["one two", "three"]);
        assert_eq!(
            wrap("a incomprehensible b", 6),
            ["a", "incomprehensible", "b"]
        );
        assert_eq!(wrap("", 6), [""]);
    }

    #[test]
    fn a_unit_stays_with_its_number_and_no_line_begins_with_a_dot() {
        assert_eq!(wrap("it takes 60 % of it", 11), ["it takes", "60 % of it"]);
        assert_eq!(wrap("one two · three", 7), ["one", "two ·", "three"]);
    }

    #[test]
    fn wide_characters_count_two_cells() {
        assert_eq!(wrap("啤酒 啤酒", 5), ["啤酒", "啤酒"]);
    }
}
