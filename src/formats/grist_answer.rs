//! Malts, sugars and yeast as answered at the kitchen table: names with their amounts.

use std::iter::successors;
use std::ops::Range;

use crate::formats::answer_text::FILLERS;
use crate::formats::answer_text::find_amount;
use crate::formats::answer_text::has_digit;
use crate::formats::answer_text::is_number;
use crate::formats::answer_text::is_one_of;
use crate::formats::answer_text::pieces;
use crate::formats::answer_text::take_amount;
use crate::formats::answer_text::words;
use crate::formats::quantity_text::MASS;

/// One fermentable as answered; each part if it could be found.
#[derive(Debug, Default, PartialEq, Eq)]
pub(crate) struct GristAnswer {
    pub(crate) name: Option<String>,
    pub(crate) amount: Option<String>,
    /// The answer itself.
    pub(crate) said: String,
}

/// The fermentables of an answer.
pub(crate) fn grist_answers(answer: &str) -> Vec<GristAnswer> {
    let mut parts: Vec<GristAnswer> = Vec::new();
    for piece in pieces(answer).iter().flat_map(|it| split_at_amounts(it)) {
        let part = GristAnswer::read(&piece);
        match parts.last_mut() {
            Some(before) if before.goes_on_with(&part) => before.join(part),
            _ => parts.push(part),
        }
    }
    parts
}

impl GristAnswer {
    /// Reads `1 kg of pale malt`, `pale malt: 1kg`, `half a kilo wheat malt` and the like.
    fn read(piece: &str) -> Self {
        // Two bags of 500 g are not 500 g.
        const TIMES: &[&str] = &["x", "×", "times", "bags", "packs"];
        let mut words = words(piece);
        let amount = take_amount(&MASS, &mut words);
        let times = words.iter().any(|it| is_one_of(it, TIMES));
        let amount = amount.filter(|_| !times);
        let filler = |it: &String| is_one_of(it, FILLERS);
        let unit_missing = |it: &String| is_number(it) || has_digit(it) && it.ends_with('%');
        let unsaid = amount.is_none();
        let idle = |it: &String| filler(it) || unsaid && (unit_missing(it) || is_one_of(it, TIMES));
        while words.first().is_some_and(idle) {
            words.remove(0);
        }
        while words.last().is_some_and(idle) {
            words.pop();
        }
        Self {
            name: (!words.is_empty()).then(|| words.join(" ")),
            amount,
            said: piece.to_owned(),
        }
    }

    /// True when `next` belongs to the same material: the amount or the name that is open here, or
    /// its shade, as in `crystal malt, dark`.
    fn goes_on_with(&self, next: &Self) -> bool {
        const SHADES: &[&str] = &["pale", "light", "red", "medium", "dark", "extra dark"];
        let one_amount = self.amount.is_none() || next.amount.is_none();
        let shade = |it: &String| is_one_of(it, SHADES);
        let one_name = self.name.is_none() || next.name.as_ref().is_none_or(shade);
        one_amount && one_name
    }

    fn join(&mut self, next: Self) {
        self.name = match (self.name.take(), next.name) {
            (Some(name), Some(shade)) => Some(format!("{name}, {shade}")),
            (one, other) => one.or(other),
        };
        self.amount = self.amount.take().or(next.amount);
        self.said = format!("{}, {}", self.said, next.said);
    }
}

/// A piece in which several amounts stand, cut between them: `1kg pale malt 100g wheat malt`.
pub(crate) fn split_at_amounts(piece: &str) -> Vec<String> {
    let words = words(piece);
    let next = |from: usize| find_amount(&MASS, &words, from);
    let amounts: Vec<Range<usize>> = successors(next(0), |it| next(it.end)).collect();
    let opens = amounts.first().is_some_and(|it| it.start == 0);
    let closes = amounts.last().is_some_and(|it| it.end == words.len());
    let mut cuts: Vec<usize> = match amounts.as_slice() {
        [] | [_] => return vec![piece.to_owned()],
        [_, others @ ..] if opens => others.iter().map(|it| it.start).collect(),
        [others @ .., _] if closes => others.iter().map(|it| it.end).collect(),
        _ => return vec![piece.to_owned()],
    };
    cuts.push(words.len());
    let mut start = 0;
    let part = |end: usize| {
        let part = words[start..end].join(" ");
        start = end;
        part
    };
    cuts.into_iter().map(part).collect()
}

/// A yeast as answered: its name, and the words about its amount, which a recipe does not hold.
pub(crate) fn yeast_answer(answer: &str) -> (Option<String>, Vec<String>) {
    const PACKETS: &[&str] = &[
        "packet", "packets", "pack", "packs", "sachet", "sachets", "pouch",
    ];
    let mut words = words(answer);
    let mut left: Vec<String> = take_amount(&MASS, &mut words).into_iter().collect();
    if let Some(at) = words.iter().position(|it| is_one_of(it, PACKETS)) {
        let how_many = |it: &String| is_number(it) || is_one_of(it, &["a", "one", "two", "half"]);
        let counted = at.checked_sub(1).filter(|it| how_many(&words[*it]));
        let start = counted.unwrap_or(at);
        left.push(words.drain(start..=at).collect::<Vec<_>>().join(" "));
    }
    while words.first().is_some_and(|it| is_one_of(it, FILLERS)) {
        words.remove(0);
    }
    ((!words.is_empty()).then(|| words.join(" ")), left)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(answer: &str) -> Vec<(String, String)> {
        let parts = grist_answers(answer).into_iter();
        parts
            .map(|it| (it.name.unwrap_or_default(), it.amount.unwrap_or_default()))
            .collect()
    }

    fn wanted(parts: &[(&str, &str)]) -> Vec<(String, String)> {
        let owned = |it: &(&str, &str)| (it.0.to_owned(), it.1.to_owned());
        parts.iter().map(owned).collect()
    }

    #[test]
    fn amounts_stand_before_or_after_and_without_blanks_or_commas() {
        let both = wanted(&[("pale malt", "1 kg"), ("crystal", "100 g")]);
        for answer in [
            "1 kg pale malt, 100 g crystal",
            "1 kg of pale malt and 100 gr crystal.",
            "pale malt 1 kg + crystal 100 g",
            "pale malt: 1 kg; crystal (100 g)",
            "pale malt - 1 kg, crystal - 100 g",
            "1 kg pale malt 100 g crystal",
            "pale malt 1 kg crystal 100 g",
            "pale malt, 1 kg, crystal, 100 g",
            "a kg pale malt plus 100 gms of crystal",
        ] {
            assert_eq!(read(answer), both, "{answer}");
        }
        assert_eq!(
            read("half a kilo wheat malt, 1,5 KG PALE MALT"),
            wanted(&[("wheat malt", "0.5 kilo"), ("PALE MALT", "1.5 KG")])
        );
        assert_eq!(
            read("1 lb 4 oz pale malt, 1/2 kg rye malt"),
            wanted(&[("pale malt", "1 lb 4 oz"), ("rye malt", "0.5 kg")])
        );
    }

    #[test]
    fn a_shade_after_a_comma_belongs_to_the_name_before() {
        assert_eq!(
            read("1 kg pale malt, 100 g crystal malt, dark"),
            wanted(&[("pale malt", "1 kg"), ("crystal malt, dark", "100 g")])
        );
        assert_eq!(
            read("crystal malt, light 100 g"),
            wanted(&[("crystal malt, light", "100 g")])
        );
    }

    #[test]
    fn an_amount_that_is_not_certain_is_left_open() {
        for (answer, name) in [
            ("pale malt 1", "pale malt"),
            ("1000 pale malt", "pale malt"),
            ("80% pale malt", "pale malt"),
            ("2 x 500 g pale malt", "pale malt"),
            ("some pale malt", "pale malt"),
        ] {
            assert_eq!(read(answer), wanted(&[(name, "")]), "{answer}");
        }
    }

    #[test]
    fn a_packet_is_no_part_of_the_name_of_the_yeast() {
        let words = |it: &str| it.to_owned();
        assert_eq!(
            yeast_answer("1 packet of clean ale yeast"),
            (Some(words("clean ale yeast")), vec![words("1 packet")])
        );
        assert_eq!(
            yeast_answer("lager yeast 11g"),
            (Some(words("lager yeast")), vec![words("11g")])
        );
    }
}
