//! The second sniff: words smelled for once more after the lock, asked for and kept apart from the notes.

use crate::domain::DescriptorId;
use crate::domain::Moment;
use crate::domain::NotesId;
use crate::domain::SniffedWordId;
use crate::domain::choice::choices;

choices! {
    /// Why a word is asked for in a second sniff.
    SniffKind ("why a word is asked for") {
        /// The brewer hoped for it.
        Hoped = "hoped", "hoped for";
        /// A packet promised it.
        Promised = "promised", "promised";
        /// Nobody expects it.
        Decoy = "decoy", "a decoy";
    }

    /// What a taster says of a word in a second sniff.
    SniffAnswer ("an answer of a second sniff") {
        /// It is there.
        There = "there", "there";
        /// It is not there.
        NotThere = "not-there", "not there";
        /// Tried, and cannot tell.
        CannotTell = "cannot-tell", "cannot tell";
    }
}

/// One word of a second sniff.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SniffedWord {
    /// The id.
    pub id: SniffedWordId,
    /// The word.
    pub descriptor: DescriptorId,
    /// Why it is asked for; not told before the last answer.
    pub kind: SniffKind,
    /// What was said, and when; none while it was not asked yet.
    pub answered: Option<(SniffAnswer, Moment)>,
}

impl SniffedWord {
    /// What was said, if it was asked.
    #[must_use]
    pub fn answer(&self) -> Option<SniffAnswer> {
        self.answered.map(|(answer, _)| answer)
    }
}

/// A second sniff as stored.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SecondSniff {
    /// After which notes.
    pub notes: NotesId,
    /// When its words were drawn.
    pub made_at: Moment,
    /// Its words, in the order drawn.
    pub words: Vec<SniffedWord>,
}

/// How many of some words were said to be there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FoundOf {
    /// Said to be there.
    pub found: usize,
    /// Asked for.
    pub of: usize,
}

impl SecondSniff {
    /// The word to be asked now; none once all are answered.
    #[must_use]
    pub fn asked(&self) -> Option<&SniffedWord> {
        self.words.iter().find(|it| it.answered.is_none())
    }

    /// The words answered so far, in the order drawn.
    #[must_use]
    pub fn answered(&self) -> impl DoubleEndedIterator<Item = &SniffedWord> {
        self.words.iter().filter(|it| it.answered.is_some())
    }

    /// How many of the words hoped for or promised were said to be there.
    #[must_use]
    pub fn wanted(&self) -> FoundOf {
        self.found_of(|kind| kind != SniffKind::Decoy)
    }

    /// How many of the decoys were said to be there.
    #[must_use]
    pub fn decoys(&self) -> FoundOf {
        self.found_of(|kind| kind == SniffKind::Decoy)
    }

    fn found_of(&self, is_counted: impl Fn(SniffKind) -> bool) -> FoundOf {
        let counted = || self.words.iter().filter(|it| is_counted(it.kind));
        let there = counted().filter(|it| it.answer() == Some(SniffAnswer::There));
        FoundOf {
            found: there.count(),
            of: counted().count(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sniff(words: &[(SniffKind, Option<SniffAnswer>)]) -> SecondSniff {
        let at = Moment::parse("2026-03-14T18:30:00Z").unwrap();
        let word =
            |(index, (kind, answer)): (usize, &(SniffKind, Option<SniffAnswer>))| SniffedWord {
                id: SniffedWordId::new(index.to_string()),
                descriptor: DescriptorId::new(&format!("word-{index}")).unwrap(),
                kind: *kind,
                answered: answer.map(|answer| (answer, at)),
            };
        SecondSniff {
            notes: NotesId::new("n"),
            made_at: at,
            words: words.iter().enumerate().map(word).collect(),
        }
    }

    #[test]
    fn only_there_counts_as_found_and_promised_words_count_with_those_hoped_for() {
        use SniffAnswer::{CannotTell, NotThere, There};
        use SniffKind::{Decoy, Hoped, Promised};
        let sniff = sniff(&[
            (Hoped, Some(There)),
            (Decoy, Some(CannotTell)),
            (Promised, Some(There)),
            (Hoped, Some(NotThere)),
            (Decoy, Some(There)),
        ]);
        assert_eq!(sniff.wanted(), FoundOf { found: 2, of: 3 });
        assert_eq!(sniff.decoys(), FoundOf { found: 1, of: 2 });
        assert_eq!(sniff.asked(), None);
    }

    #[test]
    fn the_words_are_asked_in_the_order_drawn() {
        let answered = (SniffKind::Decoy, Some(SniffAnswer::CannotTell));
        let open = (SniffKind::Hoped, None);
        let sniff = sniff(&[answered, open, open]);
        assert_eq!(sniff.asked(), Some(&sniff.words[1]));
        assert_eq!(sniff.answered().count(), 1);
    }
}
