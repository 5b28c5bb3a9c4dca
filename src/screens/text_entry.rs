//! One line of typed text.

/// Longest text that can be typed.
pub(super) const MOST: usize = 400;

/// A line being typed; typing happens at its end.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct TextEntry(String);

impl TextEntry {
    /// A line that begins with `text`.
    #[must_use]
    pub fn starting_with(text: &str) -> Self {
        let mut entry = Self::default();
        entry.paste(text);
        entry
    }

    /// The text so far.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.0
    }

    /// True while nothing is typed.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Adds a character; control characters and what goes beyond the longest text are dropped.
    pub fn push(&mut self, c: char) {
        if !c.is_control() && self.0.chars().count() < MOST {
            self.0.push(c);
        }
    }

    /// Adds pasted text as one line.
    pub fn paste(&mut self, text: &str) {
        for c in text.chars().take(MOST) {
            self.push(if c == '\n' || c == '\t' { ' ' } else { c });
        }
    }

    /// Rubs out the last character; false if there was none.
    pub fn rub_out(&mut self) -> bool {
        self.0.pop().is_some()
    }

    /// Takes the text and leaves the line empty.
    pub fn take(&mut self) -> String {
        std::mem::take(&mut self.0)
    }
}

/// Letters from the end of a text to the beginning of its last word.
pub(super) fn last_word(text: &str) -> usize {
    let word = text.trim_end().rsplit(' ').next().unwrap_or_default();
    let blanks = text.chars().count() - text.trim_end().chars().count();
    word.chars().count() + blanks
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pasted_lines_become_one_line_without_control_characters() {
        let mut entry = TextEntry::default();
        entry.paste("orange\npeel\u{1b}[2J");
        assert_eq!(entry.text(), "orange peel[2J");
    }

    #[test]
    fn the_last_word_is_counted_with_the_blanks_behind_it() {
        for (text, letters) in [("", 0), ("cards.pdf", 9), ("two cards ", 6), ("é  ", 3)] {
            assert_eq!(last_word(text), letters, "{text:?}");
        }
    }

    #[test]
    fn a_megabyte_of_paste_stops_at_the_longest_text() {
        let mut entry = TextEntry::default();
        entry.paste(&"a".repeat(1_000_000));
        assert_eq!(entry.text().len(), MOST);
    }
}
