//! A name or short text that is safe to show: not empty, not endless, no hidden characters.

use std::fmt;

use crate::domain::Invalid;

/// A name of 1 to 80 visible characters, trimmed.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Name(String);

impl Name {
    /// The longest name, in characters.
    pub const MOST: usize = 80;

    /// Makes a name of `text`; `what` is what a message calls it.
    ///
    /// # Errors
    /// Empty, longer than [`Name::MOST`], or with control or direction characters in it.
    pub fn new(what: &'static str, text: &str) -> Result<Self, Invalid> {
        visible(what, text, Self::MOST).map(Self)
    }

    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Name {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// A free text of at most 2,000 characters; line breaks are kept, other control characters are not.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Remark(String);

impl Remark {
    /// The longest remark, in characters.
    pub const MOST: usize = 2_000;

    /// Makes a remark of `text`.
    ///
    /// # Errors
    /// Empty, longer than [`Remark::MOST`], or with control or direction characters other than a line break.
    pub fn new(what: &'static str, text: &str) -> Result<Self, Invalid> {
        let lines: Result<Vec<String>, Invalid> = text
            .lines()
            .map(|line| {
                if line.trim().is_empty() {
                    Ok(String::new())
                } else {
                    visible(what, line, Self::MOST)
                }
            })
            .collect();
        let joined = lines?.join("\n").trim_matches('\n').to_owned();
        visible_length(what, &joined, Self::MOST)?;
        Ok(Self(joined))
    }

    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

fn visible_length(what: &'static str, text: &str, most: usize) -> Result<(), Invalid> {
    if text.is_empty() {
        return Err(Invalid::Empty { what });
    }
    // Looking stops at the limit, so that a megabyte costs no more than a line.
    if text.chars().nth(most).is_some() {
        return Err(Invalid::TooLong { what, most });
    }
    Ok(())
}

fn visible(what: &'static str, text: &str, most: usize) -> Result<String, Invalid> {
    let text = text.trim();
    visible_length(what, text, most)?;
    match text.chars().position(hides) {
        Some(index) => Err(Invalid::ControlCharacter {
            what,
            at: index + 1,
        }),
        None => Ok(text.to_owned()),
    }
}

/// True for the same name, whatever its capitals and the blanks around it. Nothing is put together for it, because a
/// list of words is looked through name by name.
#[must_use]
pub fn is_same_name(one: &str, other: &str) -> bool {
    if one.eq_ignore_ascii_case(other) {
        return true;
    }
    // Most names begin with a plain letter, and mostly with another one.
    let first = |it: &str| it.bytes().next().filter(u8::is_ascii_graphic);
    if let (Some(one), Some(other)) = (first(one), first(other))
        && !one.eq_ignore_ascii_case(&other)
    {
        return false;
    }
    // Most are plain letters altogether, and then it is known now.
    let is_sign = |byte: Option<&u8>| byte.is_none_or(|it| *it > b' ');
    let is_plain =
        |it: &str| it.is_ascii() && is_sign(it.as_bytes().first()) && is_sign(it.as_bytes().last());
    if is_plain(one) && is_plain(other) {
        return false;
    }
    small_letters(one).eq(small_letters(other))
}

/// A name in small letters, as [`is_same_name`] compares it.
pub(super) fn small_letters(text: &str) -> impl Iterator<Item = char> {
    text.trim().chars().flat_map(char::to_lowercase)
}

/// True for characters that move a cursor, turn the reading direction or take no room.
#[must_use]
pub fn hides(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{61c}' | '\u{feff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_trimmed_and_kept() {
        assert_eq!(Name::new("a name", "  Ana ").unwrap().as_str(), "Ana");
    }

    #[test]
    fn names_that_differ_in_capitals_and_blanks_around_them_are_the_same() {
        assert!(is_same_name(" Ölrausch", "ÖLRAUSCH "));
        // A sigma has another small form at the end of a word (Unicode, SpecialCasing.txt).
        assert!(is_same_name("ΟΣ", "οσ"));
        // The sign for kelvin is a capital k (Unicode, UnicodeData.txt).
        assert!(is_same_name("\u{212a}iln malt", "kiln malt"));
        assert!(!is_same_name("toast", "roast") && !is_same_name("toast", " roast"));
        assert!(!is_same_name("toast", "toasted") && !is_same_name("toasted", "toast"));
        assert!(!is_same_name("dark bread", "darkbread"));
    }

    #[test]
    fn a_name_of_blanks_is_refused() {
        assert_eq!(
            Name::new("a name", " \t "),
            Err(Invalid::Empty { what: "a name" })
        );
    }

    #[test]
    fn a_name_with_an_escape_or_a_direction_mark_is_refused_with_its_place() {
        for text in ["Ana\u{1b}[2J", "Ana\u{202e}x"] {
            assert_eq!(
                Name::new("a name", text),
                Err(Invalid::ControlCharacter {
                    what: "a name",
                    at: 4
                })
            );
        }
    }

    #[test]
    fn a_name_of_a_megabyte_is_refused_without_counting_it_all() {
        let long = "a".repeat(1_000_000);
        assert_eq!(
            Name::new("a name", &long),
            Err(Invalid::TooLong {
                what: "a name",
                most: 80
            })
        );
    }

    #[test]
    fn a_remark_read_again_is_the_same_remark() {
        for text in ["\n\nfoo\n\n", "foo \n \n bar", "foo\n\n\n"] {
            let once = Remark::new("a note", text).unwrap();
            assert_eq!(Remark::new("a note", once.as_str()), Ok(once));
        }
        assert!(Remark::new("a note", "\n \n").is_err());
    }

    #[test]
    fn a_remark_keeps_its_line_breaks() {
        assert_eq!(
            Remark::new("a note", "slow lauter\n\nhot sparge\n")
                .unwrap()
                .as_str(),
            "slow lauter\n\nhot sparge"
        );
    }
}
