//! Hops as answered at the kitchen table: each charge with name, amount and time, as far as they are said.

use std::iter;

use crate::formats::answer_text::FILLERS;
use crate::formats::answer_text::find_amount;
use crate::formats::answer_text::is_number;
use crate::formats::answer_text::is_one_of;
use crate::formats::answer_text::pieces;
use crate::formats::answer_text::quoted;
use crate::formats::answer_text::take_amount;
use crate::formats::answer_text::words;
use crate::formats::grist_answer::split_at_amounts;
use crate::formats::quantity_text::DAYS;
use crate::formats::quantity_text::MASS;
use crate::formats::quantity_text::TEMPERATURE;
use crate::formats::quantity_text::TIME;

/// A hop charge as answered; each part if it could be found.
#[derive(Debug, Default, PartialEq, Eq)]
pub(crate) struct HopAnswer {
    pub(crate) name: Option<String>,
    pub(crate) amount: Option<String>,
    /// Alpha acids as written on the packet.
    pub(crate) alpha: Option<String>,
    /// The line that says when it goes in.
    pub(crate) when: Option<String>,
    /// Words that could not be used.
    pub(crate) left: Vec<String>,
    /// The answer itself.
    pub(crate) said: String,
}

/// The charges of an answer; one without a name is of the hop before.
pub(crate) fn hop_answers(answer: &str) -> Vec<HopAnswer> {
    let mut charges: Vec<HopAnswer> = Vec::new();
    for piece in pieces(answer).iter().flat_map(|it| split_at_amounts(it)) {
        let mut charge = HopAnswer::read(&piece);
        if let Some(before) = charges.last_mut() {
            if before.lacks_what(&charge) {
                before.join(charge);
                continue;
            }
            charge.name = charge.name.or_else(|| before.name.clone());
        }
        charges.push(charge);
    }
    charges
}

impl HopAnswer {
    /// Reads `10 g Saaz at 60 min`, `10g saaz 60min`, `10 g Saaz dry for 3 days` and the like.
    pub(crate) fn read(piece: &str) -> Self {
        const JOINING: &[&str] = &[
            "boil", "boiled", "boiling", "before", "from", "left", "go", "hop", "hops", "on",
            "addition", "aa", "alpha", "end",
        ];
        let mut words = words(piece);
        let amount = take_amount(&MASS, &mut words);
        let alpha = take_alpha(&mut words);
        let When { line, mut left } = take_when(&mut words, amount.as_ref());
        words.retain(|it| !is_one_of(it, FILLERS) && !is_one_of(it, JOINING));
        let (numbers, name): (Vec<String>, Vec<String>) =
            words.into_iter().partition(|it| is_number(it));
        left.extend(numbers);
        Self {
            name: (!name.is_empty()).then(|| name.join(" ")),
            amount,
            alpha,
            when: line,
            left,
            said: piece.to_owned(),
        }
    }

    /// True when what `other` says is exactly what is still open here, as in `Saaz, 10 g, 60 min`.
    fn lacks_what(&self, other: &Self) -> bool {
        let apart = |one: &Option<String>, two: &Option<String>| one.is_none() || two.is_none();
        apart(&self.name, &other.name)
            && apart(&self.amount, &other.amount)
            && apart(&self.when, &other.when)
    }

    fn join(&mut self, other: Self) {
        self.name = self.name.take().or(other.name);
        self.amount = self.amount.take().or(other.amount);
        self.alpha = self.alpha.take().or(other.alpha);
        self.when = self.when.take().or(other.when);
        self.left.extend(other.left);
        self.said = format!("{}, {}", self.said, other.said);
    }
}

/// A share such as `3.5%` or `3.5 %`, which with hops can only be their alpha acids.
fn take_alpha(words: &mut Vec<String>) -> Option<String> {
    let at = words.iter().position(|it| it.ends_with('%'))?;
    let word = words.remove(at);
    let joined = word.trim_end_matches('%');
    if is_number(joined) {
        return Some(format!("{joined} %"));
    }
    let before = at.checked_sub(1).filter(|_| joined.is_empty())?;
    is_number(&words[before]).then(|| format!("{} %", words.remove(before)))
}

/// When a hop goes in: the line of the file, if it is said wholly, and what could not be used.
#[derive(Default)]
struct When {
    line: Option<String>,
    left: Vec<String>,
}

/// Words for hops in the fermenter.
const DRY: &[&str] = &[
    "dry",
    "dry-hop",
    "dry-hops",
    "dryhop",
    "dry-hopped",
    "dryhopped",
    "dry-hopping",
    "hopped",
    "hopping",
];

/// Words for hops in hot wort after the boil.
const HOT: &[&str] = &[
    "whirlpool",
    "steep",
    "steeped",
    "hopstand",
    "hop-stand",
    "stand",
];

/// Words for the very end of the boil; the first one only together with "out".
const FLAME: &[&str] = &["flame", "flameout", "flame-out", "knockout"];

/// What counts from the other end of the boil, or before it, cannot be told in minutes left.
const OTHERWISE: &[&str] = &[
    "after",
    "fwh",
    "first",
    "wort",
    "start",
    "beginning",
    "mash",
];

/// Takes what says the time out of the words. A bare number is a time only beside an amount.
fn take_when(words: &mut Vec<String>, amount: Option<&String>) -> When {
    if take_any(words, DRY).is_some() || find_amount(&DAYS, words, 0).is_some() {
        return dry(words);
    }
    if take_any(words, HOT).is_some() {
        return whirlpool(words);
    }
    if let Some(flame) = take_any(words, FLAME) {
        let out = flame.len() > "flame".len() || take_any(words, &["out", "off"]).is_some();
        return if out {
            zero_minutes()
        } else {
            unused(vec![flame])
        };
    }
    let mut left: Vec<String> = iter::from_fn(|| take_any(words, OTHERWISE)).collect();
    if left.is_empty() {
        return boil(words, amount);
    }
    left.extend(take_amount(&TIME, words));
    unused(left)
}

fn boil(words: &mut Vec<String>, amount: Option<&String>) -> When {
    let numbers = || words.iter().filter(|it| is_number(it));
    let alone = numbers().next().filter(|_| numbers().count() == 1).cloned();
    let minutes = take_amount(&TIME, words).or_else(|| {
        let number = alone.filter(|_| amount.is_some())?;
        let minutes = format!("{number} min");
        TIME.read(&minutes).ok()?;
        take_any(words, &[&number]);
        Some(minutes)
    });
    match minutes {
        Some(minutes) => line("boil", &minutes),
        None if take_any(words, &["end"]).is_some() => zero_minutes(),
        None => When::default(),
    }
}

fn dry(words: &mut Vec<String>) -> When {
    let temperature = take_amount(&TEMPERATURE, words);
    let days = take_amount(&DAYS, words).or_else(|| {
        let number = words.iter().find(|it| is_number(it))?.clone();
        take_any(words, &[&number]);
        Some(format!("{number} days"))
    });
    match (days, temperature) {
        (Some(days), Some(temperature)) => line("dry", &format!("{days} at {temperature}")),
        (Some(days), None) => line("dry", &days),
        (None, temperature) => unused(temperature.into_iter().collect()),
    }
}

fn whirlpool(words: &mut Vec<String>) -> When {
    let temperature = take_amount(&TEMPERATURE, words);
    match (temperature, take_amount(&TIME, words)) {
        (Some(temperature), Some(time)) => line("whirlpool", &format!("{temperature} for {time}")),
        (temperature, time) => unused(temperature.into_iter().chain(time).collect()),
    }
}

fn zero_minutes() -> When {
    line("boil", "0 min")
}

fn line(key: &str, value: &str) -> When {
    When {
        line: Some(format!("{key} = {}", quoted(value))),
        left: Vec::new(),
    }
}

const fn unused(left: Vec<String>) -> When {
    When { line: None, left }
}

/// Takes the first word that is on the list.
fn take_any(words: &mut Vec<String>, list: &[&str]) -> Option<String> {
    let at = words.iter().position(|it| is_one_of(it, list))?;
    Some(words.remove(at))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> (String, String, String) {
        let it = HopAnswer::read(text);
        (
            it.name.unwrap_or_default(),
            it.amount.unwrap_or_default(),
            it.when.unwrap_or_default(),
        )
    }

    fn wanted(name: &str, amount: &str, when: &str) -> (String, String, String) {
        (name.to_owned(), amount.to_owned(), when.to_owned())
    }

    #[test]
    fn hops_are_read_with_their_time_however_they_are_written() {
        let boiled = wanted("Saaz", "10 g", "boil = \"60 min\"");
        for text in [
            "10 g Saaz at 60 min",
            "10 gr Saaz @ 60",
            "Saaz 10 g 60",
            "Saaz: 10 g (60 min.)",
            "10 g of Saaz hops boiled for 60 m",
            "60 min Saaz 10 g",
            "10 g Saaz 60 min before the end of the boil",
        ] {
            assert_eq!(read(text), boiled, "{text}");
        }
        assert_eq!(
            read("10g saaz 60min"),
            wanted("saaz", "10g", "boil = \"60min\"")
        );
        assert_eq!(
            read("10 g Saaz at flameout"),
            wanted("Saaz", "10 g", "boil = \"0 min\"")
        );
        assert_eq!(
            read("10 g Saaz flame out"),
            wanted("Saaz", "10 g", "boil = \"0 min\"")
        );
        assert_eq!(
            read("10 g dry for 3 days"),
            wanted("", "10 g", "dry = \"3 days\"")
        );
        assert_eq!(
            read("DRY HOP 10 G SAAZ 3 DAYS AT 18 C"),
            wanted("SAAZ", "10 G", "dry = \"3 DAYS at 18 C\"")
        );
        assert_eq!(
            read("5 g Saaz whirlpool at 80 °C for 20 min"),
            wanted("Saaz", "5 g", "whirlpool = \"80 °C for 20 min\"")
        );
    }

    #[test]
    fn a_time_that_is_said_in_part_or_counted_otherwise_is_left_open_and_named() {
        for (text, left) in [
            ("5 g Saaz dry", ""),
            ("5 g Saaz whirlpool 20 min", "20 min"),
            ("5 g Saaz after 10 min", "after 10 min"),
            ("5 g Saaz first wort", "first wort"),
        ] {
            let it = HopAnswer::read(text);
            assert_eq!(it.name.as_deref(), Some("Saaz"), "{text}");
            assert_eq!(it.when, None, "{text}");
            assert_eq!(it.left.join(" "), left, "{text}");
        }
    }

    #[test]
    fn a_number_without_a_unit_is_no_part_of_the_name_and_never_guessed_at() {
        let it = HopAnswer::read("saaz 10 60");
        assert_eq!(it.name.as_deref(), Some("saaz"));
        assert_eq!((it.amount, it.when), (None, None));
        assert_eq!(it.left, ["10", "60"]);
    }

    #[test]
    fn alpha_acids_in_brackets_are_kept_as_such() {
        let it = HopAnswer::read("10 g Saaz (3.5% AA) 60 min");
        assert_eq!(it.name.as_deref(), Some("Saaz"));
        assert_eq!(it.alpha.as_deref(), Some("3.5 %"));
    }

    #[test]
    fn commas_inside_one_charge_do_not_tear_it_apart() {
        let charges = hop_answers("Saaz, 10 g, 60 min, 5g at 5 min; 10g Cascade 0");
        let shown: Vec<String> = charges
            .iter()
            .map(|it| {
                let part = |it: &Option<String>| it.clone().unwrap_or_default();
                [part(&it.name), part(&it.amount), part(&it.when)].join("/")
            })
            .collect();
        assert_eq!(
            shown,
            [
                "Saaz/10 g/boil = \"60 min\"",
                "Saaz/5g/boil = \"5 min\"",
                "Cascade/10g/boil = \"0 min\""
            ]
        );
    }
}
