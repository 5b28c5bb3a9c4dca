//! One problem in a text: where it stands, what was found, and what to do about it.

use std::fmt;

use thiserror::Error;

use crate::domain::DoubleIngredient;
use crate::domain::Invalid;
use crate::domain::WheelProblem;
use crate::domain::hides;

/// The longest piece of somebody's text that a message repeats, in characters.
const MOST_SHOWN: usize = 60;

/// A problem with its place; its text form is one line, `file:line:column: found; what to do`.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem {
    /// The file, as the caller named it.
    pub file: String,
    /// The line, counted from 1.
    pub line: usize,
    /// The character in the line, counted from 1.
    pub column: usize,
    /// What is wrong.
    pub kind: ProblemKind,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self {
            file, line, column, ..
        } = self;
        let file = visible(file);
        write!(
            f,
            "{file}:{line}:{column}: {}",
            visible(&self.kind.to_string())
        )
    }
}

/// What can be wrong with a text; each message says what was found, then what to do.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ProblemKind {
    /// The text breaks the rules of TOML.
    #[error("{found}; correct the line, texts stand in \"quotes\"")]
    Syntax {
        /// What the TOML reader found.
        found: String,
    },
    /// A key or a table stands twice.
    #[error("the key “{key}” stands twice here; keep one of the two")]
    DoubleKey {
        /// The key.
        key: String,
    },
    /// The text is longer than anybody would write.
    #[error("the text has {bytes} bytes; at most {most} are read, split or shorten it")]
    TooLong {
        /// Its length.
        bytes: usize,
        /// The longest that is read.
        most: usize,
    },
    /// Tables or lists stand too deep in one another.
    #[error("tables or lists stand more than {most} deep in one another; write it flatter")]
    TooDeep {
        /// The deepest that is read.
        most: usize,
    },
    /// A character that cannot be seen.
    #[error("an invisible or control character (U+{code:04X}); delete it")]
    Hidden {
        /// Its code point.
        code: u32,
    },
    /// A key that means nothing here.
    #[error("the key “{key}” is not known here; {advice}")]
    UnknownKey {
        /// The key.
        key: String,
        /// The nearest known key, or all of them.
        advice: String,
    },
    /// A key that must be there.
    #[error("“{key}” is missing; write it, such as {example}")]
    Missing {
        /// The key.
        key: &'static str,
        /// A line that would do.
        example: &'static str,
    },
    /// A value of another type.
    #[error("{what} is {found}; write {wanted}")]
    WrongType {
        /// The key.
        what: &'static str,
        /// The type found.
        found: &'static str,
        /// The type wanted.
        wanted: &'static str,
    },
    /// A value that the trade does not allow.
    #[error("{0}")]
    Value(#[from] Invalid),
    /// An amount without its unit, or with one that does not belong to it.
    #[error("{what}: “{found}” needs one of the units {units}; write it like \"{example}\"")]
    Unit {
        /// What is measured.
        what: &'static str,
        /// The text or number found.
        found: String,
        /// The units that do.
        units: String,
        /// An example.
        example: &'static str,
    },
    /// A name that the catalogue does not know.
    #[error("no {kind} is called “{found}”; {advice}")]
    UnknownIngredient {
        /// Fermentable, hop, yeast or addition.
        kind: &'static str,
        /// The name found.
        found: String,
        /// The nearest names, and how to declare it.
        advice: String,
    },
    /// A name that the wheel or the list of scales does not know.
    #[error("no {kind} is called “{found}”; {advice}")]
    UnknownWord {
        /// Word, shelf, place or scale.
        kind: &'static str,
        /// The name found.
        found: String,
        /// The nearest names.
        advice: String,
    },
    /// A name that nothing in the same file carries.
    #[error("{what} “{found}” is not in this file; {advice}")]
    UnknownName {
        /// Taster, beer or recipe.
        what: &'static str,
        /// The name found.
        found: String,
        /// The nearest names, or where to add it.
        advice: String,
    },
    /// The same thing said twice.
    #[error("{what} “{found}” is given twice; keep one of the two")]
    Twice {
        /// What.
        what: &'static str,
        /// Which.
        found: String,
    },
    /// Keys that exclude each other, or of which one is needed.
    #[error("{found}; write exactly one of: {choices}")]
    ExactlyOne {
        /// How many stand there, in words.
        found: String,
        /// The keys.
        choices: &'static str,
    },
    /// Values that are possible alone and not together.
    #[error("{found}; {advice}")]
    Together {
        /// What does not fit together, with the numbers.
        found: String,
        /// What to do.
        advice: &'static str,
    },
    /// Two ingredients share an id.
    #[error("{0}")]
    Ingredient(#[from] DoubleIngredient),
    /// The wheel as a whole is wrong.
    #[error("{0}")]
    Wheel(#[from] WheelProblem),
    /// Later problems that are not listed.
    #[error("{count} more problems follow; correct those above first")]
    More {
        /// How many.
        count: usize,
    },
}

/// A piece of somebody's text as a message repeats it: one line, cut, nothing hidden.
pub(crate) fn shown(text: &str) -> String {
    let mut cut: String = text.chars().take(MOST_SHOWN).collect();
    if cut.len() < text.len() {
        cut.push('…');
    }
    visible(&cut)
}

/// The text with everything that hides or moves the cursor written out as its code.
pub(crate) fn visible(text: &str) -> String {
    text.chars()
        .map(|c| {
            if hides(c) {
                c.escape_unicode().to_string()
            } else {
                c.to_string()
            }
        })
        .collect()
}

/// The advice after a name that is not known: the nearest names, or else `otherwise`.
pub(crate) fn did_you_mean(near: &[&str], otherwise: &str) -> String {
    if near.is_empty() {
        otherwise.to_owned()
    } else {
        let quoted: Vec<String> = near
            .iter()
            .map(|name| format!("“{}”", shown(name)))
            .collect();
        format!("did you mean {}?", quoted.join(" or "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_problem_is_one_line_with_its_place_and_nothing_hidden() {
        let problem = Problem {
            file: "a\nb.toml".to_owned(),
            line: 3,
            column: 7,
            kind: ProblemKind::Twice {
                what: "the hop",
                found: "Saaz\u{1b}[2J".to_owned(),
            },
        };
        assert_eq!(
            problem.to_string(),
            "a\\u{a}b.toml:3:7: the hop “Saaz\\u{1b}[2J” is given twice; keep one of the two"
        );
    }

    #[test]
    fn a_long_piece_is_cut_to_sixty_characters() {
        assert_eq!(shown(&"é".repeat(1_000)), format!("{}…", "é".repeat(60)));
        assert_eq!(shown(&"é".repeat(60)), "é".repeat(60));
    }
}
