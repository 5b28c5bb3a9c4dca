//! The lines in which two texts differ, with a few that they share around them.

use similar::Algorithm;
use similar::ChangeTag;
use similar::capture_diff_slices;
use similar::group_diff_ops;

/// Lines of both texts that are shown around each difference.
const CONTEXT: usize = 2;

/// What became of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LineFate {
    /// It stands in both texts.
    Kept,
    /// It stands in the old text alone.
    Gone,
    /// It stands in the new text alone.
    New,
}

/// One line of a difference.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DiffLine {
    /// Which stretch of differences it belongs to, counted from 0; between two stretches lines are left out.
    pub hunk: usize,
    /// What became of it.
    pub fate: LineFate,
    /// Its number in the old text, counted from 1; none for a new line.
    pub old_line: Option<usize>,
    /// Its number in the new text, counted from 1; none for a line that is gone.
    pub new_line: Option<usize>,
    /// The line, without its end.
    pub text: String,
}

/// The differences of two texts line by line, each with two lines of context; none where they are the same.
///
/// The fewest lines that lead from one text to the other (Myers 1986, An O(ND) difference algorithm). A line end of
/// another kind is no difference.
#[must_use]
pub fn line_diff(old: &str, new: &str) -> Vec<DiffLine> {
    let (old, new): (Vec<&str>, Vec<&str>) = (old.lines().collect(), new.lines().collect());
    let steps = capture_diff_slices(Algorithm::Myers, &old, &new);
    let mut lines = Vec::new();
    for (hunk, steps) in group_diff_ops(steps, CONTEXT).iter().enumerate() {
        let changes = steps.iter().flat_map(|it| it.iter_changes(&old, &new));
        lines.extend(changes.map(|change| DiffLine {
            hunk,
            fate: match change.tag() {
                ChangeTag::Equal => LineFate::Kept,
                ChangeTag::Delete => LineFate::Gone,
                ChangeTag::Insert => LineFate::New,
            },
            old_line: change.old_index().map(|it| it + 1),
            new_line: change.new_index().map(|it| it + 1),
            text: change.value().to_owned(),
        }));
    }
    lines
}

#[cfg(test)]
mod tests {
    use proptest::prop_assert_eq;
    use proptest::proptest;

    use super::*;

    fn told(old: &str, new: &str) -> Vec<String> {
        let number = |it: Option<usize>| it.map_or("-".to_owned(), |it| it.to_string());
        let line = |it: &DiffLine| {
            let sign = match it.fate {
                LineFate::Kept => ' ',
                LineFate::Gone => '-',
                LineFate::New => '+',
            };
            let (old, new) = (number(it.old_line), number(it.new_line));
            format!("{} {old} {new} {sign}{}", it.hunk, it.text)
        };
        line_diff(old, new).iter().map(line).collect()
    }

    #[test]
    fn each_stretch_has_two_lines_around_it_and_the_numbers_of_both_texts() {
        let old = "a\nb\nc\nd\ne\nf\ng\nh\ni\nj\n";
        let new = "a\nb\nC\nd\ne\nf\ng\nh\ni\nj\nk\n";
        // By hand: c for C with two lines on each side, then k after the last line with two above.
        let wanted = [
            "0 1 1  a",
            "0 2 2  b",
            "0 3 - -c",
            "0 - 3 +C",
            "0 4 4  d",
            "0 5 5  e",
            "1 9 9  i",
            "1 10 10  j",
            "1 - 11 +k",
        ];
        assert_eq!(told(old, new), wanted);
    }

    #[test]
    fn the_same_text_with_other_line_ends_has_no_difference() {
        assert_eq!(line_diff("a\nb\n", "a\r\nb"), []);
        assert_eq!(line_diff("", ""), []);
    }

    #[test]
    fn out_of_nothing_every_line_is_new() {
        assert_eq!(told("", "a\n\nb"), ["0 - 1 +a", "0 - 2 +", "0 - 3 +b"]);
    }

    proptest! {
        #[test]
        fn the_old_text_with_the_differences_is_the_new_one(old in "([abc]\n){0,30}", new in "([abc]\n){0,30}") {
            let diff = line_diff(&old, &new);
            let mut made: Vec<&str> = Vec::new();
            let (lines, mut at) = (old.lines().collect::<Vec<_>>(), 0);
            for it in &diff {
                let upto = it.old_line.map_or(at, |it| it - 1);
                made.extend(&lines[at..upto]);
                at = upto;
                // A new line follows all that the new text has before it.
                if let Some(new_line) = it.new_line {
                    while made.len() + 1 < new_line {
                        made.push(lines[at]);
                        at += 1;
                    }
                    made.push(&it.text);
                }
                if it.old_line.is_some() {
                    at += 1;
                }
            }
            made.extend(&lines[at..]);
            prop_assert_eq!(made, new.lines().collect::<Vec<_>>());
        }
    }
}
