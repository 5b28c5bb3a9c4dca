//! Text from files and people, made harmless for a terminal and cut to its cells.

use std::borrow::Cow;

use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

/// What stands for a control character, so that its place can be seen.
const PLACEHOLDER: char = '·';

/// What shows that something was cut off.
const ELLIPSIS: char = '…';

/// Cells of the widest sign that is let through; the toolkit's cells take no wider one.
const WIDEST: usize = 5;

/// Marks on one letter; more are used to scribble over other rows. Judgement: written languages
/// put up to three on a letter.
const MARKS: usize = 4;

/// Characters looked at for each cell wanted, and for none. A longer text is cut even if it would
/// turn out to be short, so that a name of a megabyte costs no more than a long one.
const CHARS_PER_CELL: usize = 16;
const CHARS_AT_LEAST: usize = 64;

/// The text without anything that moves the cursor, turns the direction of reading, or is there
/// without being seen, cut to `max_cells` cells with an ellipsis in the last one.
///
/// Control characters become '·', line breaks and tabs a space; marks of direction and of joining,
/// variation selectors and everything of no width vanish. Takes time for the part that is kept,
/// not for the part that is cut off.
#[must_use]
pub fn safe_text(text: &str, max_cells: usize) -> Cow<'_, str> {
    if text.len() <= max_cells && is_plain(text) {
        return Cow::Borrowed(text);
    }
    let most = max_cells
        .saturating_mul(CHARS_PER_CELL)
        .saturating_add(CHARS_AT_LEAST);
    let looked_at = text
        .char_indices()
        .nth(most)
        .map_or(text, |(end, _)| &text[..end]);
    let clean = cleaned(looked_at);
    let (kept, cut) = fitting(&clean, max_cells);
    if !cut && looked_at.len() == text.len() {
        return Cow::Owned(kept);
    }
    let (mut shortened, _) = fitting(&clean, max_cells.saturating_sub(1));
    if max_cells > 0 {
        shortened.push(ELLIPSIS);
    }
    Cow::Owned(shortened)
}

/// One cell of a screen, made harmless without changing how many cells it takes.
///
/// For text that was laid out already: what vanishes or shrinks is made up for by spaces.
#[must_use]
pub fn safe_cell(text: &str) -> Cow<'_, str> {
    if is_plain(text) {
        return Cow::Borrowed(text);
    }
    let cells = text.width();
    let (mut kept, _) = fitting(&cleaned(text), cells);
    let missing = cells.saturating_sub(kept.width());
    kept.extend(std::iter::repeat_n(' ', missing));
    Cow::Owned(kept)
}

/// Whether all of the text is printable ASCII.
fn is_plain(text: &str) -> bool {
    text.bytes().all(|byte| (0x20..0x7f).contains(&byte))
}

/// The text without its dangerous characters; each mark stays with its letter.
fn cleaned(text: &str) -> String {
    let mut clean = String::with_capacity(text.len());
    let mut marks = 0;
    for sign in text.chars().filter_map(harmless) {
        let is_mark = unicode_width::UnicodeWidthChar::width(sign) == Some(0);
        marks = if is_mark { marks + 1 } else { 0 };
        if marks <= MARKS {
            clean.push(sign);
        }
    }
    clean
}

/// What becomes of a character; None if it vanishes.
fn harmless(sign: char) -> Option<char> {
    match sign {
        '\t' | '\n' | '\r' | '\u{2028}' | '\u{2029}' => Some(' '),
        _ if sign.is_control() => Some(PLACEHOLDER),
        // Soft hyphen, grapheme joiner, Arabic letter mark, Hangul and Khmer fillers, Mongolian
        // separators and selectors; zero-width spaces and joiners, marks, embeddings, overrides
        // and isolates of direction; invisible operators; variation selectors; byte order mark,
        // interlinear notes; tags. (Unicode 16, Default_Ignorable_Code_Point and Bidi_Control.)
        '\u{ad}'
        | '\u{34f}'
        | '\u{61c}'
        | '\u{115f}'..='\u{1160}'
        | '\u{17b4}'..='\u{17b5}'
        | '\u{180b}'..='\u{180f}'
        | '\u{200b}'..='\u{200f}'
        | '\u{202a}'..='\u{202e}'
        | '\u{2060}'..='\u{206f}'
        | '\u{3164}'
        | '\u{fe00}'..='\u{fe0f}'
        | '\u{feff}'
        | '\u{ffa0}'
        | '\u{fff0}'..='\u{fffb}'
        | '\u{1bca0}'..='\u{1bca3}'
        | '\u{1d173}'..='\u{1d17a}'
        | '\u{e0000}'..='\u{e0fff}' => None,
        _ => Some(sign),
    }
}

/// As many whole signs as fit, and whether any was left over.
fn fitting(clean: &str, max_cells: usize) -> (String, bool) {
    let mut kept = String::new();
    let mut cells = 0;
    for sign in clean.graphemes(true) {
        let wide = sign.width();
        // A mark without a letter takes no cell, and the toolkit has no place for it.
        if wide == 0 || wide > WIDEST {
            continue;
        }
        if cells + wide > max_cells {
            return (kept, true);
        }
        cells += wide;
        kept.push_str(sign);
    }
    (kept, false)
}

#[cfg(test)]
mod tests {
    use std::borrow::Cow;

    use proptest::prelude::*;
    use unicode_segmentation::UnicodeSegmentation;
    use unicode_width::UnicodeWidthStr;

    use super::safe_cell;
    use super::safe_text;

    #[test]
    fn plain_text_that_fits_is_not_even_copied() {
        assert!(matches!(
            safe_text("oat stout", 9),
            Cow::Borrowed("oat stout")
        ));
    }

    #[test]
    fn control_characters_leave_a_dot_and_move_nothing() {
        assert_eq!(safe_text("a\x1b[2Jb", 20), "a·[2Jb");
        assert_eq!(safe_text("a\u{9b}2Jb", 20), "a·2Jb");
        assert_eq!(safe_text("one\ntwo\tthree", 20), "one two three");
        assert_eq!(safe_text("bell\x07", 20), "bell·");
    }

    #[test]
    fn marks_of_direction_and_unseen_characters_vanish() {
        for code in (0x202a..=0x202e)
            .chain(0x2066..=0x2069)
            .chain([0x200e, 0x200f, 0x61c, 0x200b, 0xfeff, 0xfe0f])
        {
            let sign = char::from_u32(code).expect("a character");
            assert_eq!(
                safe_text(&format!("ab{sign}cd"), 20),
                "abcd",
                "U+{code:04X}"
            );
        }
    }

    #[test]
    fn overlong_text_is_cut_by_cells_and_says_so() {
        assert_eq!(safe_text("dark bread", 5), "dark…");
        assert_eq!(
            safe_text("麦芽香", 4),
            "麦…",
            "a wide sign is not cut in half"
        );
        assert_eq!(safe_text("麦芽", 4), "麦芽");
        assert_eq!(safe_text("abc", 0), "");
        assert_eq!(safe_text("abc", 1), "…");
    }

    #[test]
    fn letters_keep_a_few_marks_and_lose_a_tower_of_them() {
        assert_eq!(safe_text("e\u{301}", 4), "e\u{301}");
        let tower = format!("e{}x", "\u{301}".repeat(50));
        assert_eq!(safe_text(&tower, 4), format!("e{}x", "\u{301}".repeat(4)));
    }

    #[test]
    fn a_mark_without_a_letter_vanishes() {
        assert_eq!(safe_text("\u{301}", 4), "");
    }

    #[test]
    fn a_laid_out_cell_keeps_its_width_whatever_was_in_it() {
        for text in [
            "\x1b",
            "❤\u{fe0f}",
            "a",
            "麦",
            "👨\u{200d}👩\u{200d}👧",
            "\u{202e}x",
        ] {
            assert_eq!(safe_cell(text).width(), text.width(), "{text:?}");
        }
        assert_eq!(safe_cell("❤\u{fe0f}"), "❤ ");
    }

    #[test]
    fn what_lies_beyond_the_cut_is_not_looked_at() {
        // The part that is looked at decides alone: were the rest read, its width would count.
        let unseen = "\u{200b}".repeat(1 << 20);
        assert_eq!(safe_text(&format!("{unseen}end"), 10), "…");
    }

    /// Text with more dangerous characters than usual.
    fn hostile_text() -> impl Strategy<Value = String> {
        let sign = prop_oneof![
            any::<char>(),
            proptest::char::range('\0', '\u{9f}'),
            proptest::char::range('\u{200b}', '\u{206f}'),
            proptest::char::range('\u{300}', '\u{36f}'),
            Just('\u{fe0f}'),
            Just('\u{200d}'),
            Just('👩'),
        ];
        proptest::collection::vec(sign, 0..60).prop_map(|signs| signs.into_iter().collect())
    }

    proptest! {
        #[test]
        fn the_result_fits_holds_no_control_and_has_only_cells_the_toolkit_takes(
            text in hostile_text(),
            max_cells in 0_usize..40,
        ) {
            let safe = safe_text(&text, max_cells);
            let cells: usize = safe.graphemes(true).map(UnicodeWidthStr::width).sum();
            prop_assert!(cells <= max_cells);
            prop_assert!(!safe.chars().any(char::is_control));
            prop_assert!(safe.graphemes(true).all(|sign| (1..=5).contains(&sign.width())));
        }

        #[test]
        fn what_is_safe_already_stays_as_it_is(text in hostile_text()) {
            let once = safe_text(&text, 200).into_owned();
            prop_assert_eq!(safe_text(&once, 200), once.as_str());
        }
    }
}
