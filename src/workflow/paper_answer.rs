//! Answers from paper: one short line for each code, never guessed, and shown before it is kept.

use crate::domain::Certainty;
use crate::domain::Descriptor;
use crate::domain::Digit;
use crate::domain::MeetingPart;
use crate::domain::PracticeReply;
use crate::domain::SeriesStep;
use crate::domain::Spiked;
use crate::domain::Subject;
use crate::domain::Wheel;

/// What was written for one code.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PaperAnswer {
    /// To a jar or a spiked glass.
    Jar {
        /// What was chosen, from the place to the word.
        replies: Vec<PracticeReply>,
        /// How sure.
        certainty: Option<Certainty>,
        /// The same in words.
        words: String,
    },
    /// To a glass of a series.
    Strength {
        /// How strong.
        rated: Digit,
        /// Where it stands.
        placed: SeriesStep,
    },
}

impl PaperAnswer {
    /// Reads what is typed for one code, if it can mean one thing only: for jars a word, shelf or place, or their beginning, with how
    /// sure behind; `-` for "cannot tell"; `y` or `n` for present or not; for a series the digit and the
    /// place in the row.
    #[must_use]
    pub fn read(part: MeetingPart, typed: &str, wheel: &Wheel) -> Option<Self> {
        let typed = typed.trim();
        if part == MeetingPart::Strength {
            return strength(typed);
        }
        let (text, certainty) = split_certainty(typed)?;
        if matches!(text, "-" | "?") {
            return Some(Self::Jar {
                replies: vec![PracticeReply::CannotTell],
                certainty,
                words: "cannot tell".to_owned(),
            });
        }
        if part == MeetingPart::Presence {
            return presence(text, certainty);
        }
        jar(text, certainty, wheel)
    }

    /// What is typed for a jar could mean these, where it could mean several; none where nothing of the
    /// wheel begins so.
    #[must_use]
    pub fn could_be(typed: &str, wheel: &Wheel) -> Vec<String> {
        let text = split_certainty(typed.trim()).map_or("", |it| it.0);
        match (text.is_empty(), subject(text, wheel)) {
            (false, Err(several)) => several,
            _ => Vec::new(),
        }
    }

    /// The answer in words.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Jar {
                words, certainty, ..
            } => match certainty {
                Some(sure) => format!("{words}, {} %", sure.percent()),
                None => words.clone(),
            },
            Self::Strength { rated, placed } => {
                format!("rated {}, number {} in the row", rated.get(), placed.get())
            }
        }
    }
}

/// What is typed, and how sure behind it: one digit from 1 to 9 in tens, as on the screen, or per cent.
fn split_certainty(typed: &str) -> Option<(&str, Option<Certainty>)> {
    let per_cent = |number: &str| {
        let sure: u8 = number.trim_end_matches('%').parse().ok()?;
        Some(if number.len() == 1 { 10 * sure } else { sure })
    };
    let (text, number) = match typed.rsplit_once(' ') {
        Some((text, number)) => (text.trim(), per_cent(number)),
        None => (typed, None),
    };
    match number {
        Some(number) => Some((text, Some(Certainty::new(number).ok()?))),
        None => Some((typed.trim_end_matches('%').trim(), None)),
    }
    .filter(|it| !it.0.is_empty())
}

fn strength(typed: &str) -> Option<PaperAnswer> {
    let mut numbers = typed.split_whitespace();
    let rated = Digit::new(numbers.next()?.parse().ok()?).ok()?;
    let placed = SeriesStep::new(numbers.next()?.parse().ok()?).ok()?;
    numbers
        .next()
        .is_none()
        .then_some(PaperAnswer::Strength { rated, placed })
}

fn presence(text: &str, certainty: Option<Certainty>) -> Option<PaperAnswer> {
    let (spiked, words) = match text.to_lowercase().as_str() {
        "y" | "yes" => (Spiked::Spiked, "it is in there"),
        "n" | "no" => (Spiked::Plain, "it is not"),
        _ => return None,
    };
    Some(PaperAnswer::Jar {
        replies: vec![PracticeReply::Presence(spiked)],
        certainty,
        words: words.to_owned(),
    })
}

/// A place, a shelf or a word.
fn jar(text: &str, certainty: Option<Certainty>, wheel: &Wheel) -> Option<PaperAnswer> {
    let (replies, words) = match subject(text, wheel).ok()? {
        Subject::Place(id) => {
            let name = &wheel.place(&id)?.name;
            let words = format!("{name}, no word");
            let replies = vec![PracticeReply::Place(id), PracticeReply::CannotTell];
            (replies, words)
        }
        Subject::Shelf(id) => {
            let shelf = wheel.shelf(&id)?;
            let replies = vec![
                PracticeReply::Place(shelf.place.clone()),
                PracticeReply::Shelf(id.clone()),
                PracticeReply::CannotTell,
            ];
            (replies, format!("{}, no word", shelf.name))
        }
        Subject::Descriptor(id) => whole_answer(wheel.descriptor(&id)?, wheel)?,
        Subject::Free(_) => return None,
    };
    Some(PaperAnswer::Jar {
        replies,
        certainty,
        words,
    })
}

/// The names that what is typed could mean, where it could mean several; none where nothing begins so.
///
/// A whole name counts before a beginning, and the beginning of any word of a name counts: `cardb` is wet
/// cardboard.
fn subject(text: &str, wheel: &Wheel) -> Result<Subject, Vec<String>> {
    let typed = text.to_lowercase();
    let all = named_subjects(wheel);
    let is_whole = |it: &&(String, Subject)| it.0.to_lowercase() == typed;
    let others = synonyms(wheel);
    let whole = all
        .iter()
        .find(is_whole)
        .or_else(|| others.iter().find(is_whole));
    if let Some((_, subject)) = whole {
        return Ok(subject.clone());
    }
    let begins = |name: &str| {
        let name = name.to_lowercase();
        let begun = |at: usize| at == 0 || name[..at].ends_with([' ', '-']);
        let found = name.match_indices(&typed);
        found.map(|it| it.0).any(begun)
    };
    let fitting = |names: Vec<(String, Subject)>| -> Vec<(String, Subject)> {
        names.into_iter().filter(|it| begins(&it.0)).collect()
    };
    let mut found = fitting(all);
    if found.is_empty() {
        found = fitting(others);
        found.dedup_by(|one, other| one.1 == other.1);
    }
    match found.as_slice() {
        [(_, only)] => Ok(only.clone()),
        several => Err(several.iter().map(|it| it.0.clone()).collect()),
    }
}

/// Every name on the wheel with what it stands for: words, shelves and places.
fn named_subjects(wheel: &Wheel) -> Vec<(String, Subject)> {
    let words = wheel.descriptors().iter();
    let words = words.map(|it| (it.word.clone(), Subject::Descriptor(it.id.clone())));
    let shelves = wheel.shelves().iter();
    let shelves = shelves.map(|it| (it.name.clone(), Subject::Shelf(it.id.clone())));
    let places = wheel.places().iter();
    let places = places.map(|it| (it.name.clone(), Subject::Place(it.id.clone())));
    words.chain(shelves).chain(places).collect()
}

/// Every synonym with its word; looked for where no name begins so.
fn synonyms(wheel: &Wheel) -> Vec<(String, Subject)> {
    let words = wheel.descriptors().iter();
    words
        .flat_map(|it| {
            let of = |name: &String| (name.clone(), Subject::Descriptor(it.id.clone()));
            it.synonyms.iter().map(of)
        })
        .collect()
}

/// A word with its place and shelf.
fn whole_answer(word: &Descriptor, wheel: &Wheel) -> Option<(Vec<PracticeReply>, String)> {
    let shelf = wheel.shelf(&word.shelf)?;
    let place = wheel.place(&shelf.place)?;
    let replies = vec![
        PracticeReply::Place(place.id.clone()),
        PracticeReply::Shelf(shelf.id.clone()),
        PracticeReply::Word(word.id.clone()),
    ];
    let words = format!("{} ({}, {})", word.word, place.name, shelf.name);
    Some((replies, words))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workflow::Home;

    fn said(part: MeetingPart, typed: &str) -> Option<String> {
        PaperAnswer::read(part, typed, Home::trial().wheel()).map(|it| it.words())
    }

    #[test]
    fn the_beginning_of_a_word_and_how_sure_are_enough() {
        let read = said(MeetingPart::Jars, "cardb 70").unwrap();
        assert!(read.starts_with("wet cardboard ("), "{read}");
        assert!(read.ends_with(", 70 %"), "{read}");
        let read = said(MeetingPart::Jars, "orange peel").unwrap();
        assert!(read.starts_with("orange peel ("), "{read}");
    }

    #[test]
    fn what_could_mean_several_things_is_never_guessed() {
        let home = Home::trial();
        for typed in ["g", "char", "grape 50"] {
            assert_eq!(said(MeetingPart::Jars, typed), None, "{typed}");
            assert!(
                PaperAnswer::could_be(typed, home.wheel()).len() > 1,
                "{typed}"
            );
        }
        assert_eq!(
            PaperAnswer::could_be("xyzzy", home.wheel()),
            Vec::<String>::new()
        );
        // A whole name counts before all that begin so.
        assert_eq!(
            said(MeetingPart::Jars, "wood"),
            Some("Wood, no word".to_owned())
        );
        assert_eq!(
            said(MeetingPart::Jars, "citrus"),
            Some("Citrus stall, no word".to_owned())
        );
    }

    #[test]
    fn a_place_alone_counts_as_a_place_without_a_word() {
        assert_eq!(
            said(MeetingPart::Check, "bakery 40"),
            Some("Bakery, no word, 40 %".to_owned())
        );
        assert_eq!(
            said(MeetingPart::Check, "- 0"),
            Some("cannot tell, 0 %".to_owned())
        );
    }

    #[test]
    fn present_or_not_takes_yes_and_no_and_nothing_else() {
        assert_eq!(
            said(MeetingPart::Presence, "y 90"),
            Some("it is in there, 90 %".to_owned())
        );
        assert_eq!(
            said(MeetingPart::Presence, "n"),
            Some("it is not".to_owned())
        );
        assert_eq!(said(MeetingPart::Presence, "maybe"), None);
    }

    #[test]
    fn a_series_takes_a_digit_and_a_place_in_the_row() {
        let read = said(MeetingPart::Strength, "4 2");
        assert_eq!(read, Some("rated 4, number 2 in the row".to_owned()));
        for bad in ["4", "4 6", "10 1", "4 2 1", "", "x y"] {
            assert_eq!(said(MeetingPart::Strength, bad), None, "{bad}");
        }
    }

    #[test]
    fn one_digit_is_in_tens_as_on_the_screen() {
        let toast = |sure: &str| said(MeetingPart::Jars, &format!("toast {sure}")).unwrap();
        assert!(toast("7").ends_with(", 70 %"), "{}", toast("7"));
        assert!(toast("70").ends_with(", 70 %"));
        assert!(toast("5%").ends_with(", 5 %"));
        assert!(toast("100").ends_with(", 100 %"));
    }

    #[test]
    fn more_than_a_hundred_per_cent_is_refused() {
        assert_eq!(said(MeetingPart::Jars, "toast 101"), None);
        assert_eq!(said(MeetingPart::Jars, ""), None);
    }
}
