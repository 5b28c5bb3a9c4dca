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
        for word in paragraph.split_whitespace() {
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
    fn wide_characters_count_two_cells() {
        assert_eq!(wrap("啤酒 啤酒", 5), ["啤酒", "啤酒"]);
    }
}
