//! Free answers at the kitchen table, taken apart into words and amounts.

use std::ops::Range;

use crate::domain::Name;
use crate::domain::hides;
use crate::formats::quantity_text::Measured;

/// The answer, unless it says that the brewer does not know or that there is none.
pub(crate) fn known(answer: &str) -> Option<String> {
    const NOTHING_SAID: &[&str] = &[
        "",
        "-",
        "--",
        "–",
        "—",
        "n/a",
        "na",
        "x",
        "no",
        "none",
        "nothing",
        "don't know",
        "dont know",
        "do not know",
        "dunno",
        "idk",
        "no idea",
        "no clue",
        "not sure",
        "not yet",
        "unknown",
        "skip",
        "no hops",
    ];
    let seen = |c: char| if hides(c) { ' ' } else { c };
    let plain: String = answer.chars().take(2_000).map(seen).collect();
    let words: Vec<&str> = plain.split_whitespace().collect();
    let plain = words.join(" ");
    let compared = plain.to_lowercase().replace('’', "'");
    let bare = compared.trim_end_matches(['.', '!', '?', ' ']);
    let bare = bare.strip_prefix("i ").unwrap_or(bare);
    let bare = bare.strip_prefix("have ").unwrap_or(bare);
    let bare = bare.strip_prefix("am ").unwrap_or(bare);
    (!NOTHING_SAID.contains(&bare)).then_some(plain)
}

/// A TOML text in quotes; what is longer than a name is cut.
pub(crate) fn quoted(text: &str) -> String {
    // A line feed or a bell in a name of elsewhere would be no text of a recipe file.
    let visible = |it: char| if it.is_control() { ' ' } else { it };
    let cut: String = text.trim().chars().take(Name::MOST).map(visible).collect();
    let escaped = cut.trim_end().replace('\\', "\\\\").replace('"', "\\\"");
    format!("\"{escaped}\"")
}

/// The parts of an enumeration: split at commas, semicolons, "and" and the like, never inside a number.
pub(crate) fn pieces(answer: &str) -> Vec<String> {
    let joined: Vec<String> = answer
        .split_whitespace()
        .map(|it| match it.to_lowercase().as_str() {
            "and" | "plus" | "then" | "/" => ";".to_owned(),
            // A stroke between blanks parts what is told; inside a word, as in 5/9, it does not.
            _ => it
                .strip_suffix('/')
                .map_or_else(|| it.to_owned(), |it| format!("{it};")),
        })
        .collect();
    decimal_points(&joined.join(" "))
        .replace(['+', '&'], ";")
        .split(';')
        .flat_map(split_at_commas)
        .map(|it| it.trim().to_owned())
        .filter(|it| !it.is_empty())
        .collect()
}

/// Writes the decimal comma as a point: one or two digits after it; three could be thousands.
pub(crate) fn decimal_points(text: &str) -> String {
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

/// The words of a piece: brackets, dashes and full stops left out, units and fractions written as
/// recipe files have them.
pub(crate) fn words(piece: &str) -> Vec<String> {
    const BLANKS: [char; 16] = [
        '(', ')', '[', ']', ':', '=', '"', '“', '”', '~', '≈', '*', '•', '|', '<', '>',
    ];
    let spaced = piece
        .replace('@', " at ")
        .replace('º', "°")
        .replace(BLANKS, " ");
    let mut words: Vec<String> = Vec::new();
    for raw in spaced.split_whitespace() {
        let bare = raw.trim_end_matches(['.', '!', '?', ',']);
        if bare.chars().all(|c| matches!(c, '-' | '–' | '—')) {
            continue;
        }
        match words.last_mut() {
            Some(before) if before.ends_with('°') && is_scale_of_heat(bare) => {
                before.push_str(&bare[..1].to_uppercase());
            }
            Some(before) if is_number(before) => words.push(unit_word(bare)),
            _ => words.push(number_with_unit(bare)),
        }
    }
    for word in &mut words {
        if word.ends_with('°') {
            word.push('C');
        }
    }
    words
}

fn is_scale_of_heat(word: &str) -> bool {
    ["c", "f", "celsius", "fahrenheit"].contains(&word.to_lowercase().as_str())
}

/// A unit as recipe files have it, from the ways in which people write it.
fn unit_word(word: &str) -> String {
    match word.to_lowercase().as_str() {
        "gr" | "grs" | "gm" | "gms" | "gramm" | "gramme" | "grammes" => "g",
        "kgs" | "kilogramme" | "kilogrammes" => "kg",
        "ltr" | "ltrs" | "lt" => "L",
        "m" | "'" | "’" => "min",
        "degrees" | "degree" | "deg" => "°",
        "volumen" | "volume" | "volumes" | "vols" => "vol",
        _ => return word.to_owned(),
    }
    .to_owned()
}

/// A number and a unit written as one word, such as `100gr` or `60'`; fractions as decimals.
fn number_with_unit(word: &str) -> String {
    for (fraction, decimals) in [("1/2", ".5"), ("½", ".5"), ("¼", ".25"), ("¾", ".75")] {
        if let Some((whole, unit)) = word.split_once(fraction)
            && whole.chars().all(|c| c.is_ascii_digit())
        {
            let whole = if whole.is_empty() { "0" } else { whole };
            return format!("{whole}{decimals}{}", unit_word(unit));
        }
    }
    let digits = word
        .find(|c: char| !c.is_ascii_digit() && c != '.')
        .unwrap_or(word.len());
    let (number, unit) = word.split_at(digits);
    if is_number(number) && !unit.is_empty() {
        format!("{number}{}", unit_word(unit))
    } else {
        word.to_owned()
    }
}

/// True for a number without a unit.
pub(crate) fn is_number(word: &str) -> bool {
    word.starts_with(|c: char| c.is_ascii_digit() || c == '.') && word.parse::<f64>().is_ok()
}

/// True for what has a digit in it.
pub(crate) fn has_digit(word: &str) -> bool {
    word.contains(|c: char| c.is_ascii_digit())
}

/// True when the word is one of `list`, whatever the case.
pub(crate) fn is_one_of(word: &str, list: &[&str]) -> bool {
    list.iter().any(|it| it.eq_ignore_ascii_case(word))
}

/// Takes the first amount with its unit out of the words, wherever it stands.
pub(crate) fn take_amount(measured: &Measured, words: &mut Vec<String>) -> Option<String> {
    let place = find_amount(measured, words, 0)?;
    let taken: Vec<String> = words.drain(place).collect();
    Some(in_digits(&taken))
}

/// Where the first amount stands at or after `from`; `1 lb 4 oz` is one.
pub(crate) fn find_amount(
    measured: &Measured,
    words: &[String],
    from: usize,
) -> Option<Range<usize>> {
    (from..words.len()).find_map(|start| amount_at(measured, words, start))
}

/// How far the amount goes that begins at `start`; none if none does.
pub(crate) fn amount_at(
    measured: &Measured,
    words: &[String],
    start: usize,
) -> Option<Range<usize>> {
    const MOST_WORDS: usize = 4;
    let ends = (start + 1..=words.len().min(start + MOST_WORDS)).rev();
    ends.map(|end| start..end).find(|place| {
        let window = &words[place.clone()];
        // Where a number alone would do, it is told apart from an amount by its unit.
        let unit_last = window.last().is_some_and(|it| !is_number(it));
        unit_last && measured.read(&in_digits(window)).is_ok()
    })
}

/// Words joined, with a number word at the beginning as its number: `half a kilo` is `0.5 kilo`.
fn in_digits(words: &[String]) -> String {
    const NUMBERS: [(&str, &str); 17] = [
        ("one", "1"),
        ("two", "2"),
        ("three", "3"),
        ("four", "4"),
        ("five", "5"),
        ("six", "6"),
        ("seven", "7"),
        ("eight", "8"),
        ("nine", "9"),
        ("ten", "10"),
        ("eleven", "11"),
        ("twelve", "12"),
        ("fifteen", "15"),
        ("twenty", "20"),
        ("thirty", "30"),
        ("forty", "40"),
        ("sixty", "60"),
    ];
    let article = |it: &String| is_one_of(it, &["a", "an"]);
    let (number, rest) = match words {
        [half, rest @ ..] if is_one_of(half, &["half"]) => {
            let skipped = usize::from(rest.first().is_some_and(article));
            ("0.5".to_owned(), &rest[skipped..])
        }
        [one, rest @ ..] if article(one) => ("1".to_owned(), rest),
        [first, rest @ ..] => {
            let found = NUMBERS.iter().find(|it| it.0.eq_ignore_ascii_case(first));
            let number = found.map_or_else(|| first.clone(), |it| it.1.to_owned());
            (number, rest)
        }
        [] => (String::new(), words),
    };
    let joined: Vec<&str> = std::iter::once(number.as_str())
        .chain(rest.iter().map(String::as_str))
        .collect();
    joined.join(" ")
}

/// Words that soften or join and say nothing by themselves.
pub(crate) const FILLERS: &[&str] = &[
    "about",
    "around",
    "roughly",
    "approx",
    "approximately",
    "ca",
    "circa",
    "maybe",
    "almost",
    "nearly",
    "exactly",
    "just",
    "some",
    "at",
    "to",
    "into",
    "in",
    "the",
    "a",
    "an",
    "of",
    "with",
    "for",
    "my",
    "fermenter",
    "please",
    "probably",
    "usually",
    "is",
    "bit",
    "little",
    "pinch",
    "handful",
];

/// An answer that is one amount: the amount, and the words that could not be used.
pub(crate) struct OneAmount {
    pub(crate) amount: String,
    pub(crate) left: Vec<String>,
}

/// Reads an answer that is one amount; a number alone has the unit that was asked for. None if there is
/// no such amount, or a second number beside it.
pub(crate) fn one_amount(measured: &Measured, unit: &str, answer: &str) -> Option<OneAmount> {
    let mut words = words(&decimal_points(answer));
    let amount = take_amount(measured, &mut words);
    words.retain(|it| !is_one_of(it, FILLERS));
    if let Some(amount) = amount {
        let left = words;
        return (!left.iter().any(|it| has_digit(it))).then_some(OneAmount { amount, left });
    }
    let [number] = words.as_slice() else {
        return None;
    };
    let amount = format!("{} {unit}", in_digits(std::slice::from_ref(number)));
    let left = Vec::new();
    measured
        .read(&amount)
        .is_ok()
        .then_some(OneAmount { amount, left })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formats::quantity_text::TEMPERATURE;
    use crate::formats::quantity_text::VOLUME;

    #[test]
    fn whatever_a_name_of_elsewhere_holds_it_is_one_text_of_a_recipe_file() {
        for name in [
            "a\u{7f}b",
            "a\u{0}b",
            "a\nb\tc",
            "\u{1b}[1m",
            "\"\\",
            "  ",
            "\u{85}",
        ] {
            let line = format!("name = {}", quoted(name));
            assert!(
                toml::from_str::<toml::Table>(&line).is_ok(),
                "{name:?}: {line}"
            );
        }
    }

    #[test]
    fn not_knowing_is_understood_however_it_is_said() {
        for answer in [
            "",
            "  ",
            "?",
            "??",
            "-",
            "None",
            "NONE.",
            "n/a",
            "Don't know",
            "don’t know.",
            "dont know",
            "I don't know",
            "I have no idea.",
            "no idea!",
            "not sure?",
            "I am not sure",
            "Dunno",
        ] {
            assert_eq!(known(answer), None, "{answer}");
        }
        assert_eq!(known(" pale\u{1b}  malt\n").as_deref(), Some("pale malt"));
    }

    #[test]
    fn an_enumeration_is_split_between_its_parts_and_not_inside_numbers() {
        assert_eq!(
            pieces("1,1 kg pale malt,100 g crystal and 5 g x; 1,250 g y + 2 g z/ 3 g v / 5/9"),
            [
                "1.1 kg pale malt",
                "100 g crystal",
                "5 g x",
                "1,250 g y",
                "2 g z",
                "3 g v",
                "5/9"
            ]
        );
    }

    #[test]
    fn one_amount_is_found_among_everyday_words() {
        let litres = |answer: &str| one_amount(&VOLUME, "L", answer).map(|it| it.amount);
        for (answer, amount) in [
            ("5", "5 L"),
            ("5l", "5l"),
            ("about 5 litres", "5 litres"),
            ("~ 5,5 ltr.", "5.5 L"),
            ("five", "5 L"),
            ("Twenty litres", "20 litres"),
            ("one gallon", "1 gallon"),
            ("4 1/2 L", ""),
            ("a bucket", ""),
            ("4-5 L", ""),
            ("between 4 and 5 L", ""),
            ("5 bottles", ""),
            ("5 L in a 10 L bucket", ""),
        ] {
            let wanted = Some(amount.to_owned()).filter(|it| !it.is_empty());
            assert_eq!(litres(answer), wanted, "{answer}");
        }
        let degrees = |answer: &str| one_amount(&TEMPERATURE, "°C", answer).map(|it| it.amount);
        for (answer, amount) in [
            ("66", "66 °C"),
            ("66°", "66°C"),
            ("66 ° c", "66 °C"),
            ("66º", "66°C"),
            ("66 degrees", "66 °C"),
            ("66 degrees celsius", "66 °C"),
            ("at 152 F", "152 F"),
            ("152 deg f", "152 °F"),
            ("18 to 20 °C", ""),
            ("room temperature", ""),
        ] {
            let wanted = Some(amount.to_owned()).filter(|it| !it.is_empty());
            assert_eq!(degrees(answer), wanted, "{answer}");
        }
    }

    #[test]
    fn words_beside_an_amount_are_told() {
        let it = one_amount(&VOLUME, "L", "5 L if all goes well").unwrap();
        assert_eq!(it.amount, "5 L");
        assert_eq!(it.left.join(" "), "if all goes well");
    }
}
