//! How wide a text is in print, by the published widths of a common typeface.

/// Widths of the printable ASCII signs from the blank on, in thousandths of the letter size
/// (Adobe Font Metrics of Helvetica, core 14 fonts).
const WIDTHS: [u16; 95] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556,
    556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667,
    611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667,
    667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500,
    222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
];

/// The width of a sign that is not in the table.
const OTHERS: u16 = 667;

/// Other typefaces of the kind are wider, so that a label takes the room of the widest of them. Judgement.
const WIDER: f64 = 1.14;

/// The width of a line of text, in letter sizes, for whichever sans-serif typeface prints it.
#[must_use]
pub(super) fn printed_width(text: &str) -> f64 {
    let width = |sign: char| {
        let at = (sign as usize).checked_sub(' ' as usize);
        at.and_then(|at| WIDTHS.get(at)).copied().unwrap_or(OTHERS)
    };
    WIDER * f64::from(text.chars().map(|it| u32::from(width(it))).sum::<u32>()) / 1_000.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn widths_are_those_of_the_published_table() {
        // By the same table, by hand: o 556, a 556, k 500; W 944, apostrophe 191.
        assert!((printed_width("oak") / WIDER - 1.612).abs() < 1e-9);
        assert!((printed_width("W'") / WIDER - 1.135).abs() < 1e-9);
        assert!((printed_width("é") / WIDER - 0.667).abs() < 1e-9);
    }
}
