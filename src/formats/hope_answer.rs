//! Smells and tastes hoped for, as answered at the kitchen table: words with their strengths.

use crate::formats::answer_text::has_digit;
use crate::formats::answer_text::is_number;
use crate::formats::answer_text::pieces;
use crate::formats::answer_text::words;

/// A word of the wheel as hoped for.
#[derive(Debug, PartialEq)]
pub(crate) struct HopeAnswer {
    pub(crate) word: String,
    /// 0 to 9; none if it is not said or something else.
    pub(crate) strength: Option<f64>,
    /// The answer itself.
    pub(crate) said: String,
}

/// The words of an answer: `orange peel 5, toast: 3`, `5 orange peel`, `toast strong`.
pub(crate) fn hope_answers(answer: &str) -> Vec<HopeAnswer> {
    let all = pieces(answer).into_iter();
    all.flat_map(|piece| split_at_digits(words(&piece)))
        .map(|words| hope(&words))
        .collect()
}

/// Cuts `toast 3 orange peel 5` after each number, or before each where the first word is one.
fn split_at_digits(words: Vec<String>) -> Vec<Vec<String>> {
    let before = words.first().is_some_and(|it| is_number(it));
    let mut parts: Vec<Vec<String>> = vec![Vec::new()];
    for word in words {
        let number = is_number(&word);
        match parts.last_mut() {
            Some(last) if before && number && !last.is_empty() => parts.push(vec![word]),
            Some(last) => last.push(word),
            None => parts.push(vec![word]),
        }
        if number && !before {
            parts.push(Vec::new());
        }
    }
    parts.retain(|it| !it.is_empty());
    parts
}

fn hope(words: &[String]) -> HopeAnswer {
    let (strength, word) = match words {
        [first, rest @ ..] if is_number(first) => (Some(first), rest),
        [rest @ .., last] if has_digit(last) => (Some(last), rest),
        [rest @ .., last] if strength_in_words(last).is_some() && !rest.is_empty() => {
            (Some(last), rest)
        }
        all => (None, all),
    };
    HopeAnswer {
        word: word.join(" "),
        strength: strength.and_then(|it| strength_in(it)),
        said: words.join(" "),
    }
}

/// A strength from 0 to 9, also as `5/9` or in a word.
fn strength_in(word: &str) -> Option<f64> {
    let number = word.strip_suffix("/9").unwrap_or(word).parse::<f64>().ok();
    number
        .filter(|it| (0.0..=9.0).contains(it))
        .or_else(|| strength_in_words(word))
}

/// What the words of the intensity scale stand for.
fn strength_in_words(word: &str) -> Option<f64> {
    match word.to_lowercase().as_str() {
        "light" => Some(3.0),
        "clear" => Some(5.0),
        "strong" => Some(7.0),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(answer: &str) -> Vec<(String, Option<f64>)> {
        let hopes = hope_answers(answer).into_iter();
        hopes.map(|it| (it.word, it.strength)).collect()
    }

    #[test]
    fn words_and_strengths_are_found_however_they_are_written() {
        let both = vec![
            ("orange peel".to_owned(), Some(5.0)),
            ("toast".to_owned(), Some(3.0)),
        ];
        for answer in [
            "orange peel 5, toast 3",
            "orange peel: 5; toast = 3",
            "orange peel (5) and toast (3)",
            "orange peel 5 toast 3",
            "5 orange peel, 3 toast",
            "5 orange peel 3 toast",
            "orange peel 5/9, toast light",
            "orange peel clear + toast - 3",
        ] {
            assert_eq!(read(answer), both, "{answer}");
        }
    }

    #[test]
    fn a_strength_that_is_none_is_left_open() {
        for answer in [
            "toast",
            "toast 12",
            "strong toast",
            "toast 5/10",
            "toast very",
        ] {
            let [(_, strength)] = read(answer)[..] else {
                panic!("{answer}")
            };
            assert_eq!(strength, None, "{answer}");
        }
    }
}
