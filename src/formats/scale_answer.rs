//! Bitterness and colour as answered at the kitchen table.

use crate::domain::SCALES;
use crate::domain::Scale;
use crate::formats::answer_text::FILLERS;
use crate::formats::answer_text::amount_at;
use crate::formats::answer_text::is_number;
use crate::formats::answer_text::is_one_of;
use crate::formats::answer_text::pieces;
use crate::formats::answer_text::quoted;
use crate::formats::answer_text::words;
use crate::formats::quantity_text::COLOUR;

/// Everyday words for a beer colour, one for each step of the colour scale, palest first.
const COLOURS: &[&[&str]] = &[
    &["pale straw"],
    &["straw"],
    &["gold", "golden", "yellow"],
    &["deep gold", "dark gold"],
    &["amber"],
    &["copper"],
    &["red-brown", "red brown", "reddish brown"],
    &["brown"],
    &["dark brown"],
    &["black"],
];

/// Other names of scales; every scale has its id and its word too.
const SCALE_NAMES: &[(&str, &str)] = &[
    ("bitterness", "bitter"),
    ("color", "colour"),
    ("coloured", "colour"),
    ("colored", "colour"),
    ("ebc", "colour"),
    ("sweetness", "sweet"),
    ("sourness", "sour"),
];

/// What was answered about bitterness and colour: lines of the file, and the parts not understood.
#[derive(Debug, Default, PartialEq)]
pub(crate) struct ScaleAnswers {
    pub(crate) lines: Vec<(&'static Scale, String)>,
    pub(crate) left: Vec<String>,
}

impl ScaleAnswers {
    /// Reads `bitter 5, colour 25 EBC`, `5, black`, `colour: amber` and the like.
    pub(crate) fn read(answer: &str) -> Self {
        let mut read = Self::default();
        for piece in pieces(answer) {
            let words: Vec<String> = words(&piece).iter().map(|it| it.to_lowercase()).collect();
            if words
                .iter()
                .any(|it| is_one_of(it, &["not", "no", "less", "more"]))
            {
                read.left.push(words.join(" "));
            } else {
                Scan::new(&words).run(&mut read);
            }
        }
        read
    }

    pub(crate) fn has(&self, id: &str) -> bool {
        self.lines.iter().any(|(scale, _)| scale.id == id)
    }

    /// Keeps a value, unless the scale has one already or does not allow it.
    fn keep(&mut self, scale: &'static Scale, value: f64) -> Kept {
        if self.has(scale.id) || !scale.allows(value) {
            return Kept::No;
        }
        let line = if scale.id == "colour" {
            format!("colour = {}", quoted(&format!("{value} EBC")))
        } else {
            format!("{} = {value}", scale.id)
        };
        self.lines.push((scale, line));
        Kept::Yes
    }
}

#[derive(PartialEq, Eq)]
enum Kept {
    Yes,
    No,
}

/// One piece of an answer, read from left to right.
struct Scan<'a> {
    words: &'a [String],
    /// The scale that waits for its number, and where it was named.
    scale: Option<(&'static Scale, usize)>,
    /// The number that waits for its scale, and where it stands.
    number: Option<(f64, usize)>,
    /// Which words were not understood.
    left: Vec<usize>,
}

impl<'a> Scan<'a> {
    const fn new(words: &'a [String]) -> Self {
        Self {
            words,
            scale: None,
            number: None,
            left: Vec::new(),
        }
    }

    fn run(mut self, read: &mut ScaleAnswers) {
        let mut at = 0;
        while at < self.words.len() {
            at = self.step(at, read);
        }
        // A number alone answers the first half of the question.
        if let Some((number, place)) = self.number.take() {
            let bitter =
                scale_called("bitter").filter(|_| self.scale.is_none() && self.left.is_empty());
            if bitter.is_none_or(|it| read.keep(it, number) == Kept::No) {
                self.left.push(place);
            }
        }
        self.left.extend(self.scale.map(|(_, place)| place));
        self.left.sort_unstable();
        if !self.left.is_empty() {
            let left: Vec<&str> = self
                .left
                .iter()
                .map(|it| self.words[*it].as_str())
                .collect();
            read.left.push(left.join(" "));
        }
    }

    /// Takes what stands at a place; gives the place after it.
    fn step(&mut self, at: usize, read: &mut ScaleAnswers) -> usize {
        let rest = &self.words[at..];
        if let Some((ebc, length)) = colour_in(rest) {
            self.scale = self.scale.filter(|(scale, _)| scale.id != "colour");
            let kept = scale_called("colour").is_some_and(|it| read.keep(it, ebc) == Kept::Yes);
            if !kept {
                self.left.extend(at..at + length);
            }
            return at + length;
        }
        if let Some((scale, length)) = scale_in(rest) {
            self.left
                .extend(self.scale.replace((scale, at)).map(|(_, place)| place));
            self.join(read);
            return at + length;
        }
        match rest[0].parse::<f64>() {
            Ok(number) if is_number(&rest[0]) => {
                self.left
                    .extend(self.number.replace((number, at)).map(|(_, place)| place));
                self.join(read);
            }
            _ if is_one_of(&rest[0], FILLERS) || is_one_of(&rest[0], &["beer"]) => {}
            _ => self.left.push(at),
        }
        at + 1
    }

    /// Puts a scale and a number together once both are there.
    fn join(&mut self, read: &mut ScaleAnswers) {
        if let (Some((scale, named)), Some((number, place))) = (self.scale, self.number) {
            (self.scale, self.number) = (None, None);
            if read.keep(scale, number) == Kept::No {
                self.left.extend([named, place]);
            }
        }
    }
}

/// A colour at the beginning of the words, in EBC, and how many words it takes.
fn colour_in(words: &[String]) -> Option<(f64, usize)> {
    if let Some(place) = amount_at(&COLOUR, words, 0) {
        let ebc = COLOUR.read(&words[place.clone()].join(" ")).ok()?;
        return Some((tenths(ebc), place.end));
    }
    let steps = COLOURS.iter().zip(0_u8..);
    let named = steps.flat_map(|(names, digit)| names.iter().map(move |name| (*name, digit)));
    let fitting = named.filter(|(name, _)| begins_with(words, name));
    let (name, digit) = fitting.max_by_key(|(name, _)| name.len())?;
    let ebc = scale_called("colour")?.value_of_digit(digit)?;
    Some((ebc, name.split(' ').count()))
}

/// Rounded to a tenth: no more is known of a colour that is wished for.
fn tenths(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

/// A scale at the beginning of the words, and how many words its name takes.
fn scale_in(words: &[String]) -> Option<(&'static Scale, usize)> {
    if let Some((_, id)) = SCALE_NAMES.iter().find(|(name, _)| words[0] == *name) {
        return Some((scale_called(id)?, 1));
    }
    let profile = SCALES.iter().filter(|it| it.stage.is_some());
    let named = profile.flat_map(|it| {
        let names = [
            it.id.to_owned(),
            it.id.replace('-', " "),
            it.word.to_lowercase(),
        ];
        names.map(|name| (it, name))
    });
    let (scale, name) = named
        .filter(|(_, name)| begins_with(words, name))
        .max_by_key(|(_, name)| name.len())?;
    Some((scale, name.split(' ').count()))
}

fn begins_with(words: &[String], name: &str) -> bool {
    let parts: Vec<&str> = name.split(' ').collect();
    words.len() >= parts.len() && words.iter().zip(&parts).all(|(word, part)| word == part)
}

fn scale_called(id: &str) -> Option<&'static Scale> {
    SCALES.iter().find(|it| it.id == id)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(answer: &str) -> (Vec<String>, Vec<String>) {
        let read = ScaleAnswers::read(answer);
        (read.lines.into_iter().map(|it| it.1).collect(), read.left)
    }

    fn understood(lines: &[&str]) -> (Vec<String>, Vec<String>) {
        (lines.iter().map(|it| (*it).to_owned()).collect(), vec![])
    }

    #[test]
    fn every_step_of_the_colour_scale_has_a_word_and_its_ends_agree_with_it() {
        let colour = scale_called("colour").unwrap();
        assert_eq!(COLOURS.len(), 10);
        assert!(COLOURS[0].contains(&colour.low) && COLOURS[9].contains(&colour.high));
    }

    #[test]
    fn bitterness_and_colour_are_understood_as_people_write_them() {
        // The darkest step of the colour scale, black, is 100 EBC.
        let both = understood(&["bitter = 5", "colour = \"100 EBC\""]);
        for answer in [
            "bitter 5, black",
            "5, black",
            "Bitterness: 5, colour: black.",
            "BITTER 5 BLACK",
            "5 bitter and a black beer",
            "bitter 5, color 100 ebc",
            "bitter 5, ebc 100",
        ] {
            assert_eq!(read(answer), both, "{answer}");
        }
        // EBC = 1.97 SRM.
        let srm = understood(&["bitter = 4.5", "colour = \"19.7 EBC\""]);
        assert_eq!(read("bitter 4,5; 10 SRM"), srm);
        let brown = understood(&["colour = \"70 EBC\"", "bitter = 3"]);
        assert_eq!(read("dark brown, 3"), brown);
        assert_eq!(read("sweet 3"), understood(&["sweet = 3"]));
    }

    #[test]
    fn the_part_that_is_not_understood_is_named_and_the_other_kept() {
        let parts = |lines: &[&str], left: &[&str]| {
            let owned = |all: &[&str]| all.iter().map(|it| (*it).to_owned()).collect::<Vec<_>>();
            (owned(lines), owned(left))
        };
        assert_eq!(read("bitter 4, red"), parts(&["bitter = 4"], &["red"]));
        assert_eq!(
            read("very bitter, black"),
            parts(&["colour = \"100 EBC\""], &["very bitter"])
        );
        assert_eq!(read("30 IBU, 25"), parts(&[], &["30 ibu", "25"]));
        assert_eq!(read("bitter 12"), parts(&[], &["bitter 12"]));
        assert_eq!(
            read("bitter 4, bitter 6"),
            parts(&["bitter = 4"], &["bitter 6"])
        );
        assert_eq!(read("not bitter 4"), parts(&[], &["not bitter 4"]));
    }
}
