//! Look-alikes for terminals that show no more than ASCII.

use std::borrow::Cow;

use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

/// Signs and what stands for them, cell for cell; where nothing looks alike, what reads alike.
///
/// A half after a number becomes a plus, since one cell cannot say more: "2½" is "2+".
const LOOK_ALIKES: [(&str, char); 37] = [
    ("─━═╌╍┄┅┈┉╴╶╸╺‐‑‒–—―−", '-'),
    ("│┃║╎╏┆┇┊┋╵╷╹╻▌▐▏▕", '|'),
    (
        "┌┍┎┏┐┑┒┓└┕┖┗┘┙┚┛├┝┠┣┤┥┨┫┬┯┰┳┴┷┸┻┼┿╂╋╔╗╚╝╠╣╦╩╬╒╓╕╖╘╙╛╜╞╟╡╢╤╥╧╨╪╫╭╮╯╰½¼¾",
        '+',
    ),
    ("█▉▊▋■◼⬛", '#'),
    ("▀▔˝″“”„‟«»", '"'),
    ("▄▂▃▁", '_'),
    ("▅▆▇▓", '%'),
    ("▒", ':'),
    ("░…·․∙", '.'),
    ("╱⁄∕", '/'),
    ("╲", '\\'),
    ("←◀◄◂‹⟨", '<'),
    ("→▶►▸›⟩", '>'),
    ("↑▲▴△⌃", '^'),
    ("↓▼▾▽✓✔", 'v'),
    ("•●★✱∗", '*'),
    ("○◯◦°◇☆", 'o'),
    ("◉◎◆", '@'),
    ("×✕✗✘✖", 'x'),
    ("‘’‚‛′´`", '\''),
    ("±≈∼≃", '~'),
    ("≤", '<'),
    ("≥", '>'),
    ("≠≡", '='),
    ("÷", '/'),
    ("‰", '%'),
    ("µμ", 'u'),
    ("α", 'a'),
    ("β", 'b'),
    ("Δ∆δ", 'd'),
    ("σ", 's'),
    ("€", 'E'),
    ("£", 'L'),
    ("¡", '!'),
    ("¿", '?'),
    ("¹", '1'),
    ("²", '2'),
];

/// Letters with marks and the letters below the marks.
const LETTERS: [(&str, char); 52] = [
    ("ÀÁÂÃÄÅĀĂĄÆ", 'A'),
    ("àáâãäåāăąæª", 'a'),
    ("ÇĆĈĊČ", 'C'),
    ("çćĉċč", 'c'),
    ("ĎĐÐ", 'D'),
    ("ďđð", 'd'),
    ("ÈÉÊËĒĔĖĘĚ", 'E'),
    ("èéêëēĕėęě", 'e'),
    ("ĜĞĠĢ", 'G'),
    ("ĝğġģ", 'g'),
    ("ĤĦ", 'H'),
    ("ĥħ", 'h'),
    ("ÌÍÎÏĨĪĬĮİ", 'I'),
    ("ìíîïĩīĭįı", 'i'),
    ("Ĵ", 'J'),
    ("ĵ", 'j'),
    ("Ķ", 'K'),
    ("ķĸ", 'k'),
    ("ĹĻĽĿŁ", 'L'),
    ("ĺļľŀł", 'l'),
    ("ÑŃŅŇŊ", 'N'),
    ("ñńņňŉŋ", 'n'),
    ("ÒÓÔÕÖØŌŎŐŒ", 'O'),
    ("òóôõöøōŏőœº", 'o'),
    ("ŔŖŘ", 'R'),
    ("ŕŗř", 'r'),
    ("ŚŜŞŠȘ", 'S'),
    ("śŝşšșß", 's'),
    ("ŢŤŦÞȚ", 'T'),
    ("ţťŧþț", 't'),
    ("ÙÚÛÜŨŪŬŮŰŲ", 'U'),
    ("ùúûüũūŭůűų", 'u'),
    ("Ŵ", 'W'),
    ("ŵ", 'w'),
    ("ÝŶŸ", 'Y'),
    ("ýÿŷ", 'y'),
    ("ŹŻŽ", 'Z'),
    ("źżž", 'z'),
    ("³", '3'),
    ("⁴", '4'),
    ("⁵", '5'),
    ("⁶", '6'),
    ("⁷", '7'),
    ("⁸", '8'),
    ("⁹", '9'),
    ("⁰₀", '0'),
    ("₁", '1'),
    ("₂", '2'),
    ("₃", '3'),
    ("₄", '4'),
    ("♭", 'b'),
    ("№", 'N'),
];

/// What stands for a sign nothing is known for.
const UNKNOWN: char = '?';

/// The text in printable ASCII, exactly as many cells wide, so that a drawing keeps its shape.
///
/// The text must be free of control characters.
#[must_use]
pub fn ascii(text: &str) -> Cow<'_, str> {
    if text.is_ascii() {
        return Cow::Borrowed(text);
    }
    let mut plain = String::with_capacity(text.len());
    for cell in text.graphemes(true) {
        let first = cell.chars().next().map_or(UNKNOWN, look_alike);
        // A wide sign fills its cells, so that what stands behind it stays in place.
        plain.extend(std::iter::repeat_n(first, cell.width()));
    }
    Cow::Owned(plain)
}

/// The ASCII character for a character.
fn look_alike(sign: char) -> char {
    match sign {
        ' '..='~' => sign,
        '\u{a0}' | '\u{2000}'..='\u{200a}' | '\u{202f}' | '\u{3000}' => ' ',
        '\u{2800}'..='\u{28ff}' => braille(sign),
        // Full-width forms stand in the order of ASCII.
        '\u{ff01}'..='\u{ff5e}' => char::from_u32(u32::from(sign) - 0xfee0).unwrap_or(UNKNOWN),
        _ => LOOK_ALIKES
            .iter()
            .chain(&LETTERS)
            .find(|(signs, _)| signs.contains(sign))
            .map_or(UNKNOWN, |(_, plain)| *plain),
    }
}

/// A character as dark as the dots of a braille cell.
fn braille(sign: char) -> char {
    match (u32::from(sign) & 0xff).count_ones() {
        0 => ' ',
        1..=2 => '.',
        3..=4 => ':',
        5..=6 => '*',
        _ => '#',
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use unicode_width::UnicodeWidthStr;

    use super::LETTERS;
    use super::LOOK_ALIKES;
    use super::ascii;

    #[test]
    fn what_stands_for_different_things_in_a_picture_still_differs() {
        // Wish, finding, both on one spot, noise, range and the empty line of a dumbbell.
        let mut signs: Vec<char> = ascii("◇●◆~─·").chars().collect();
        signs.sort_unstable();
        signs.dedup();
        assert_eq!(signs.len(), 6);
    }

    #[test]
    fn signs_of_drawings_and_of_good_typing_have_look_alikes() {
        let cases = [
            ("┌─┐", "+-+"),
            ("│▀│", "|\"|"),
            ("▄█▄", "_#_"),
            ("1–2 — 3…", "1-2 - 3."),
            ("“dark” ‘bread’", "\"dark\" 'bread'"),
            ("2½ l at 20 °C", "2+ l at 20 oC"),
            ("crème brûlée", "creme brulee"),
            ("⠀⠁⣿", " .#"),
            ("麦芽!", "????!"),
            ("Ａ", "AA"),
        ];
        for (text, expected) in cases {
            assert_eq!(ascii(text), expected, "{text}");
        }
    }

    #[test]
    fn plain_text_stays_as_it_is_without_a_copy() {
        assert!(matches!(
            ascii("plain text"),
            std::borrow::Cow::Borrowed("plain text")
        ));
    }

    #[test]
    fn a_letter_with_a_loose_mark_is_the_letter() {
        assert_eq!(ascii("e\u{301}"), "e");
    }

    #[test]
    fn no_sign_has_two_look_alikes() {
        let mut seen = std::collections::BTreeSet::new();
        for (signs, plain) in LOOK_ALIKES.iter().chain(&LETTERS) {
            assert!(plain.is_ascii_graphic(), "{plain}");
            for sign in signs.chars() {
                assert!(seen.insert(sign), "{sign} stands twice");
            }
        }
    }

    proptest! {
        #[test]
        fn the_result_is_printable_ascii_and_as_wide(text in "\\PC{0,40}") {
            let plain = ascii(&text);
            prop_assert!(plain.bytes().all(|byte| (0x20..0x7f).contains(&byte)));
            let cells: usize = unicode_segmentation::UnicodeSegmentation::graphemes(text.as_str(), true)
                .map(UnicodeWidthStr::width)
                .sum();
            prop_assert_eq!(plain.len(), cells);
        }
    }
}
