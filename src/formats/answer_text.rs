//! Free answers at the kitchen table, taken apart into amounts, names and times.

use crate::domain::Bottle;
use crate::domain::Name;
use crate::domain::PrimingSugar;
use crate::domain::hides;
use crate::formats::hop_text::read_dry;
use crate::formats::hop_text::read_whirlpool;
use crate::formats::quantity_text::CARBONATION;
use crate::formats::quantity_text::MASS;
use crate::formats::quantity_text::Measured;
use crate::formats::quantity_text::TIME;

/// The answer, unless it says that the brewer does not know.
pub(crate) fn known(answer: &str) -> Option<String> {
    const NOT_KNOWN: [&str; 9] = [
        "",
        "?",
        "-",
        "don't know",
        "dont know",
        "do not know",
        "no idea",
        "not sure",
        "unknown",
    ];
    let seen = |c: char| if hides(c) { ' ' } else { c };
    let plain: String = answer.chars().take(2_000).map(seen).collect();
    let words: Vec<&str> = plain.split_whitespace().collect();
    let plain = words.join(" ");
    let compared = plain.to_lowercase().replace('’', "'");
    let bare = compared.trim_end_matches(['.', '!']);
    let bare = bare.strip_prefix("i ").unwrap_or(bare);
    let bare = bare.strip_prefix("have ").unwrap_or(bare);
    let unknown = NOT_KNOWN.contains(&bare);
    (!unknown).then_some(plain)
}

/// A TOML text in quotes; what is longer than a name is cut.
pub(crate) fn quoted(text: &str) -> String {
    let cut: String = text.trim().chars().take(Name::MOST).collect();
    let escaped = cut.trim_end().replace('\\', "\\\\").replace('"', "\\\"");
    format!("\"{escaped}\"")
}

/// The amount as answered, or with the unit that was asked for; none if it is no such amount.
pub(crate) fn amount_in(measured: &Measured, unit: &str, answer: &str) -> Option<String> {
    let answer = decimal_points(answer);
    let with_unit = format!("{answer} {unit}");
    [answer, with_unit]
        .into_iter()
        .find(|it| measured.read(it).is_ok())
}

/// The parts of an enumeration: split at commas, semicolons and "and", never inside a number.
pub(crate) fn pieces(answer: &str) -> Vec<String> {
    decimal_points(answer)
        .replace(" and ", ";")
        .split(';')
        .flat_map(split_at_commas)
        .map(|it| it.trim().to_owned())
        .filter(|it| !it.is_empty())
        .collect()
}

/// Writes the decimal comma as a point: one or two digits after it; three could be thousands.
fn decimal_points(text: &str) -> String {
    let letters: Vec<char> = text.chars().collect();
    let digits_after = |index: usize| {
        let after = letters[index + 1..].iter();
        after.take_while(|it| it.is_ascii_digit()).count()
    };
    let comma_in_number = |index: usize| {
        letters[index] == ','
            && index > 0
            && letters[index - 1].is_ascii_digit()
            && matches!(digits_after(index), 1 | 2)
    };
    (0..letters.len())
        .map(|index| {
            if comma_in_number(index) {
                '.'
            } else {
                letters[index]
            }
        })
        .collect()
}

fn split_at_commas(text: &str) -> Vec<&str> {
    let bytes = text.as_bytes();
    let inside = |at: usize| {
        let digit = |index: usize| bytes.get(index).is_some_and(u8::is_ascii_digit);
        at > 0 && digit(at - 1) && digit(at + 1)
    };
    let mut parts = Vec::new();
    let mut start = 0;
    for (at, _) in text.match_indices(',').filter(|(at, _)| !inside(*at)) {
        parts.push(&text[start..at]);
        start = at + 1;
    }
    parts.push(&text[start..]);
    parts
}

/// An amount found anywhere in a piece, and the words left without it.
pub(crate) fn take_amount(measured: &Measured, piece: &str) -> (Option<String>, String) {
    let words: Vec<&str> = piece.split_whitespace().collect();
    for length in [2, 1] {
        for (start, window) in words.windows(length).enumerate() {
            let amount = window.join(" ");
            if measured.read(&amount).is_ok() {
                let rest = [&words[..start], &words[start + length..]].concat();
                let rest = rest.join(" ");
                let name = rest.strip_prefix("of ").unwrap_or(&rest).to_owned();
                return (Some(amount), name);
            }
        }
    }
    (None, words.join(" "))
}

/// A hop charge as answered: name, amount and the line that says when, each if it could be found.
pub(crate) struct HopAnswer {
    pub(crate) name: Option<String>,
    pub(crate) amount: Option<String>,
    pub(crate) when: Option<String>,
}

impl HopAnswer {
    /// Reads `10 g Saaz at 60 min`, `10 g Saaz dry for 3 days` or `5 g Saaz whirlpool 80 °C for 20 min`.
    pub(crate) fn read(piece: &str) -> Self {
        let (amount, rest) = take_amount(&MASS, piece);
        let (name, when) = match marker(&rest) {
            Some((at, word)) => {
                let after = rest[at + word.len()..].trim();
                (rest[..at].trim(), time_line(word.trim(), after))
            }
            None => (rest.trim(), None),
        };
        Self {
            name: (!name.is_empty()).then(|| name.to_owned()),
            amount,
            when,
        }
    }
}

/// Where the words about the time begin, and with which word.
fn marker(text: &str) -> Option<(usize, &'static str)> {
    const MARKERS: [&str; 8] = [
        "whirlpool ",
        "dry hop ",
        "dry-hop ",
        "dry ",
        "flameout ",
        "at ",
        "for ",
        "boil ",
    ];
    // One blank after the text lets a marker stand last; lower case in ASCII keeps the places.
    let lower = format!("{} ", text.to_ascii_lowercase());
    let found = MARKERS.into_iter().filter_map(|word| {
        let starts = |(at, _): &(usize, &str)| *at == 0 || lower.as_bytes()[at - 1] == b' ';
        let at = lower.match_indices(word).find(starts)?.0;
        Some((at, word.trim_end()))
    });
    // The first word about the time counts; of two that begin together, the one listed first.
    found.min_by_key(|it| it.0)
}

fn time_line(word: &str, after: &str) -> Option<String> {
    let bare = after.strip_prefix("for ").unwrap_or(after);
    match word {
        "whirlpool" => {
            let text = after.strip_prefix("at ").unwrap_or(bare);
            read_whirlpool(text).ok()?;
            Some(format!("whirlpool = {}", quoted(text)))
        }
        "dry" | "dry hop" | "dry-hop" => {
            read_dry(bare).ok()?;
            Some(format!("dry = {}", quoted(bare)))
        }
        "flameout" => Some("boil = \"0 min\"".to_owned()),
        _ if after.to_ascii_lowercase().starts_with("flameout") => time_line("flameout", ""),
        _ => {
            let time = amount_in(&TIME, "min", bare)?;
            Some(format!("boil = {}", quoted(&time)))
        }
    }
}

/// The lines of `[carbonation]` that an answer about bottles and gas holds.
pub(crate) fn packaging_lines(answer: &str) -> Vec<String> {
    let answer = decimal_points(answer).replace(',', " ");
    let lower = answer.to_lowercase().replace('-', " ");
    let (gas, _) = take_amount(&CARBONATION, &answer);
    let sugar = PrimingSugar::ALL.iter().rev().copied().find(|it| {
        let first = it.id().split('-').next().unwrap_or_default();
        lower.contains(first) || lower.contains(it.word())
    });
    let bottle = Bottle::ALL
        .iter()
        .copied()
        .filter(|it| *it != Bottle::Unknown)
        .find(|it| lower.contains(&it.id().replace('-', " ")));
    let gas = gas.map(|it| format!("target = {}", quoted(&it)));
    let sugar = sugar.map(|it| format!("priming = \"{}\"", it.id()));
    let bottle = bottle.map(|it| format!("bottle = \"{}\"", it.id()));
    gas.into_iter().chain(sugar).chain(bottle).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn not_knowing_is_understood_however_it_is_said() {
        for answer in [
            "",
            "  ",
            "?",
            "Don't know",
            "don’t know.",
            "dont know",
            "I don't know",
            "I have no idea.",
            "no idea",
        ] {
            assert_eq!(known(answer), None, "{answer}");
        }
        assert_eq!(known(" pale\u{1b}  malt\n").as_deref(), Some("pale malt"));
    }

    #[test]
    fn an_enumeration_is_split_between_its_parts_and_not_inside_numbers() {
        assert_eq!(
            pieces("1,1 kg pale malt,100 g crystal and 5 g x; 1,250 g y"),
            ["1.1 kg pale malt", "100 g crystal", "5 g x", "1,250 g y"]
        );
    }

    #[test]
    fn an_amount_is_found_before_or_after_the_name() {
        let taken = |text: &str| take_amount(&MASS, text);
        assert_eq!(
            taken("1 kg of pale malt"),
            (Some("1 kg".to_owned()), "pale malt".to_owned())
        );
        assert_eq!(
            taken("pale malt 1kg"),
            (Some("1kg".to_owned()), "pale malt".to_owned())
        );
        assert_eq!(taken("pale malt"), (None, "pale malt".to_owned()));
    }

    #[test]
    fn hops_are_read_with_their_time() {
        let read = |text: &str| {
            let it = HopAnswer::read(text);
            (it.name.unwrap_or_default(), it.when.unwrap_or_default())
        };
        let wanted = |name: &str, when: &str| (name.to_owned(), when.to_owned());
        assert_eq!(
            read("10 g Saaz at 60 min"),
            wanted("Saaz", "boil = \"60 min\"")
        );
        assert_eq!(read("Saaz 10 g 60"), wanted("Saaz 60", ""));
        assert_eq!(read("10 g Saaz at 5"), wanted("Saaz", "boil = \"5 min\""));
        assert_eq!(
            read("10 g Saaz at flameout"),
            wanted("Saaz", "boil = \"0 min\"")
        );
        assert_eq!(read("10 g dry for 3 days"), wanted("", "dry = \"3 days\""));
        assert_eq!(
            read("5 g Saaz whirlpool at 80 °C for 20 min"),
            wanted("Saaz", "whirlpool = \"80 °C for 20 min\"")
        );
        assert_eq!(read("5 g Saaz dry"), wanted("Saaz", ""));
    }

    #[test]
    fn bottles_sugar_and_gas_are_picked_out_of_a_sentence() {
        assert_eq!(
            packaging_lines("swing-top bottles with table sugar, about 2,4 vol"),
            [
                "target = \"2.4 vol\"",
                "priming = \"sucrose\"",
                "bottle = \"swing-top\""
            ]
        );
        assert_eq!(packaging_lines("whatever is there"), Vec::<String>::new());
    }
}
