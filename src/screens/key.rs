//! The keys of the app in one list: what is pressed, what it does, its word in the line-by-line mode.

use crate::screens::Action;
use crate::screens::Press;

/// One key: the whole knowledge about it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Key {
    /// What it does.
    pub action: Action,
    /// What is pressed for it.
    pub presses: &'static [Press],
    /// How it is written.
    pub shown: &'static str,
    /// How it is written in the footer, where the first of a pair stands for both.
    pub in_footer: &'static str,
    /// What it does, in the footer; empty for the second of a pair.
    pub label: &'static str,
    /// What it does, in the explanation.
    pub explained: &'static str,
    /// Its word in the line-by-line mode, after a slash.
    pub word: &'static str,
}

const fn key(
    action: Action,
    presses: &'static [Press],
    [shown, label, word, explained]: [&'static str; 4],
) -> Key {
    Key {
        action,
        presses,
        shown,
        in_footer: shown,
        label,
        explained,
        word,
    }
}

/// A key that stands in the footer for itself and for its pair.
const fn first_of_pair(key: Key, both: &'static str) -> Key {
    Key {
        in_footer: both,
        ..key
    }
}

/// A key that the first of its pair stands for in the footer.
const fn second_of_pair(key: Key) -> Key {
    Key { label: "", ..key }
}

/// Every key of the app, in the order of the footer.
pub static KEYS: &[Key] = &[
    key(
        Action::Accept,
        &[Press::Enter],
        [
            "Enter",
            "go on",
            "enter",
            "Accepts what is chosen or typed and goes on.",
        ],
    ),
    key(
        Action::Yes,
        &[Press::Char('y')],
        ["y", "yes", "yes", "Answers yes."],
    ),
    key(
        Action::No,
        &[Press::Char('n')],
        ["n", "no", "no", "Answers no."],
    ),
    key(
        Action::Short,
        &[Press::Char('s')],
        [
            "s",
            "short glass",
            "short",
            "Five ratings, three words, liking: two minutes.",
        ],
    ),
    key(
        Action::Undo,
        &[Press::Backspace],
        [
            "Bksp",
            "undo",
            "undo",
            "Rubs out a letter; with nothing typed it takes the last answer back.",
        ],
    ),
    key(
        Action::Skip,
        &[Press::Char(' ')],
        [
            "Space",
            "skip",
            "skip",
            "Passes the question over. That is kept as passed over, never as 0.",
        ],
    ),
    key(
        Action::CannotTell,
        &[Press::Char('-')],
        [
            "-",
            "can't tell",
            "cannot-tell",
            "Says that you tried and cannot tell.",
        ],
    ),
    key(
        Action::Right,
        &[Press::Right],
        [
            "→",
            "market",
            "market",
            "Walks from place to shelf to word; on colours, one step darker.",
        ],
    ),
    key(
        Action::Left,
        &[Press::Left],
        [
            "←",
            "back",
            "left",
            "One step back; on colours, one step paler.",
        ],
    ),
    key(
        Action::Unnameable,
        &[Press::Char('*')],
        [
            "*",
            "no name for it",
            "unnameable",
            "Keeps a smell that has no name yet: by its place, its shelf, or in your own words.",
        ],
    ),
    key(
        Action::Sweep,
        &[Press::Char('+')],
        [
            "+",
            "all places",
            "sweep",
            "Walks through all thirteen places, so that what is not there is seen too.",
        ],
    ),
    key(
        Action::Watch,
        &[Press::Char('.')],
        [
            ".",
            "watch",
            "watch",
            "Starts the watch, and stops it. The foam's watch runs on through the other stages.",
        ],
    ),
    key(
        Action::Round,
        &[Press::Char('@')],
        [
            "@",
            "wheel",
            "wheel",
            "Shows the market as a wheel, seen from above.",
        ],
    ),
    key(
        Action::Whose,
        &[Press::Char('#')],
        [
            "#",
            "whose marks",
            "whose",
            "Shows how often each place, shelf and word was named: by a taster, rightly in practice, in the notes on a beer, or by its prediction. Nothing that is sealed is among them.",
        ],
    ),
    key(
        Action::Add,
        &[Press::Char('a')],
        ["a", "add", "add", "Adds something to this list."],
    ),
    key(
        Action::HowMany,
        &[Press::Char('h')],
        [
            "h",
            "how many friends",
            "how-many",
            "Shows what any number of friends with any number of rounds would notice.",
        ],
    ),
    key(
        Action::Method,
        &[Press::Char('m')],
        [
            "m",
            "method",
            "method",
            "Turns to the next method of testing.",
        ],
    ),
    key(
        Action::Difference,
        &[Press::Char('d')],
        [
            "d",
            "difference",
            "difference",
            "Turns to the next difference that is to be noticed.",
        ],
    ),
    key(
        Action::Record,
        &[Press::Char('t')],
        [
            "t",
            "a taster's record",
            "record",
            "Shows how often one taster was right, beside the others at the same tests.",
        ],
    ),
    key(
        Action::Against,
        &[Press::Char('v')],
        [
            "v",
            "against another",
            "against",
            "Holds another tasted bottle against this one.",
        ],
    ),
    key(
        Action::Why,
        &[Press::Char('w')],
        [
            "w",
            "why so",
            "why",
            "Takes the prediction apart: what adds to a line, by which rule, and what would move it.",
        ],
    ),
    key(
        Action::NextBrew,
        &[Press::Char('b')],
        [
            "b",
            "brew next",
            "next",
            "Tells which changes of the recipe would bring the beer nearer to what was hoped for.",
        ],
    ),
    key(
        Action::Prove,
        &[Press::Char('c')],
        [
            "c",
            "check blind",
            "check",
            "Plans the blind test of this batch against the one its recipe was changed from.",
        ],
    ),
    key(
        Action::Learnt,
        &[Press::Char('l')],
        [
            "l",
            "what was learnt",
            "learnt",
            "Shows how far a taster notes above or below predictions, and whether knowing it helps.",
        ],
    ),
    key(
        Action::History,
        &[Press::Char('g')],
        [
            "g",
            "history",
            "history",
            "Shows the versions of this recipe: what changed, what was promised, and what came of it.",
        ],
    ),
    key(
        Action::Print,
        &[Press::Char('o'), Press::Paper],
        [
            "o",
            "on paper",
            "print",
            "Writes what is shown here as a file to print: PDF or SVG, on A4 or US letter. Where letters are typed, F2 does it too.",
        ],
    ),
    key(
        Action::Everything,
        &[Press::Char('e')],
        [
            "e",
            "everything",
            "everything",
            "Takes everything of this home out as one file, or reads such a file in.",
        ],
    ),
    key(
        Action::Photographs,
        &[Press::Char('f')],
        [
            "f",
            "photographs",
            "photographs",
            "Opens the photographs of this beer: copies one in, writes one out, removes one.",
        ],
    ),
    key(
        Action::Tasters,
        &[Press::Char('p')],
        [
            "p",
            "tasters",
            "tasters",
            "Opens the list of tasters: another name, everything of theirs as a file, or to be forgotten.",
        ],
    ),
    key(
        Action::SecondPass,
        &[Press::Char('=')],
        [
            "=",
            "second pass",
            "second-pass",
            "Locks these notes and asks the same again, now that the glass is warmer.",
        ],
    ),
    key(
        Action::SecondSniff,
        &[Press::Char('r')],
        [
            "r",
            "second sniff",
            "second-sniff",
            "Smells the glass once more for up to six words; half of them are decoys. Kept apart from the notes.",
        ],
    ),
    key(
        Action::Remove,
        &[Press::Char('z')],
        [
            "z",
            "remove",
            "remove",
            "Removes this, after a question; for thirty days it can be brought back.",
        ],
    ),
    key(
        Action::Leave,
        &[Press::Char('x')],
        [
            "x",
            "leave for good",
            "leave",
            "Leaves this tasting without locking it. What was typed is kept; the table need not wait for you.",
        ],
    ),
    key(
        Action::Fault,
        &[Press::Char('!')],
        [
            "!",
            "bad bottle",
            "bad-bottle",
            "Something is wrong with this bottle: ends the tasting without ratings and says what to do with the rest.",
        ],
    ),
    first_of_pair(
        key(
            Action::NextStage,
            &[Press::Tab],
            ["Tab", "stage", "next-stage", "Goes to the next stage."],
        ),
        "Tab",
    ),
    second_of_pair(key(
        Action::PreviousStage,
        &[Press::BackTab],
        [
            "S-Tab",
            "",
            "stage-before",
            "Shift and Tab: goes to the stage before.",
        ],
    )),
    first_of_pair(
        key(
            Action::Up,
            &[Press::Up],
            [
                "↑",
                "move",
                "up",
                "Moves up in a list; with no list, goes to the question before.",
            ],
        ),
        "↑↓",
    ),
    second_of_pair(key(
        Action::Down,
        &[Press::Down],
        [
            "↓",
            "",
            "down",
            "Moves down in a list; with no list, goes to the question after.",
        ],
    )),
    first_of_pair(
        key(
            Action::PageDown,
            &[Press::PageDown],
            [
                "PgDn",
                "more",
                "more",
                "Shows what does not fit on the screen; in a list, goes down by a screen.",
            ],
        ),
        "PgDn",
    ),
    second_of_pair(key(
        Action::PageUp,
        &[Press::PageUp],
        ["PgUp", "", "before", "Goes back up the page."],
    )),
    second_of_pair(key(
        Action::First,
        &[Press::Home],
        ["Home", "", "first", "Goes to the beginning."],
    )),
    second_of_pair(key(
        Action::Last,
        &[Press::End],
        ["End", "", "last", "Goes to the end."],
    )),
    key(
        Action::Quit,
        &[Press::Char('q')],
        [
            "q",
            "quit",
            "quit",
            "Ends the app. Everything is on disk already.",
        ],
    ),
    key(
        Action::Back,
        &[Press::Esc],
        ["Esc", "back", "back", "Goes back. Nothing is lost."],
    ),
    key(
        Action::Explain,
        &[Press::Char('?'), Press::Help],
        [
            "?",
            "explain",
            "explain",
            "Explains this screen. Where letters are typed, F1 does it too.",
        ],
    ),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_action_has_one_key_and_no_press_stands_twice() {
        let presses: Vec<&Press> = KEYS.iter().flat_map(|key| key.presses).collect();
        for (index, press) in presses.iter().enumerate() {
            assert!(!presses[index + 1..].contains(press), "{press:?}");
        }
        for (index, key) in KEYS.iter().enumerate() {
            assert!(
                KEYS[index + 1..]
                    .iter()
                    .all(|other| other.action != key.action && other.word != key.word)
            );
        }
    }
}
