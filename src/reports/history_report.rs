//! The history of a recipe, as lines.

use crate::domain::PromisedChange;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::blind_words::number_of;
use crate::reports::comparison_report::wrapped;
use crate::reports::promise_words::chance_words;
use crate::reports::promise_words::kitchen_words;
use crate::reports::promise_words::promise_line_words;
use crate::reports::promise_words::promise_sentence;
use crate::reports::test_report::result_sentence;
use crate::workflow::HistoryBatch;
use crate::workflow::HistoryPromise;
use crate::workflow::HistoryTold;
use crate::workflow::HistoryVersion;
use crate::workflow::HopesMet;
use crate::workflow::RecipeHistory;
use crate::workflow::SinceWritten;
use crate::workflow::TestResult;

/// The deepest indent, in steps: a long line of versions still leaves room for words.
const DEEPEST: usize = 4;

/// A history as lines of at most `cells` cells.
#[must_use]
pub fn history_lines(it: &RecipeHistory, cells: usize) -> Vec<Line> {
    let mut lines = vec![Line::of(Ink::Title, history_title(it))];
    lines.extend(wrapped(Ink::Quiet, &head_words(it), cells));
    for version in &it.versions {
        lines.push(Line::blank());
        let indent = "  ".repeat(version.depth.min(DEEPEST));
        let head = format!("{indent}{}", version_words(version));
        lines.extend(wrapped(Ink::Strong, &head, cells));
        for part in version_parts(version) {
            let ink = part.ink();
            for (deep, text) in part.texts() {
                let text = format!("{indent}{}{text}", "  ".repeat(deep + 1));
                lines.extend(wrapped(ink, &text, cells));
            }
        }
    }
    if let Some(next) = next_words(it) {
        lines.push(Line::blank());
        lines.extend(wrapped(Ink::Good, next, cells));
    }
    lines
}

/// The heading.
#[must_use]
pub fn history_title(it: &RecipeHistory) -> String {
    format!("History of {}", it.name)
}

/// How much there is, and what differences between brews are held against.
pub(super) fn head_words(it: &RecipeHistory) -> String {
    let count = |it: usize| u32::try_from(it).unwrap_or(u32::MAX);
    let versions = number_of(count(it.versions.len()), "version", "versions");
    let batches: usize = it.versions.iter().map(|it| it.told.batches.len()).sum();
    let batches = number_of(count(batches), "batch", "batches");
    format!("{versions}, {batches}; {}.", kitchen_words(it.kitchen))
}

/// Name, version and day.
pub(super) fn version_words(it: &HistoryVersion) -> String {
    format!("{}, version {} · {}", it.name, it.version, it.day())
}

/// What to do where there is too little to tell.
pub(super) fn next_words(it: &RecipeHistory) -> Option<&'static str> {
    let mut batches = it.versions.iter().flat_map(|it| &it.told.batches);
    let tasted = batches.any(|it| it.tasted > 0);
    match (it.versions.len(), tasted) {
        (0 | 1, false) => Some(
            "Next: taste a batch of it. What its notes say is the ground of a next version; give its file a new version and this one as its parent, and what changed stands here once it is brewed.",
        ),
        (0 | 1, true) => Some(
            "Next: one version tells no story yet. Write the next recipe with a new version and this one as its parent, and brew it: what changed and what came of it then stands here.",
        ),
        _ => None,
    }
}

/// What is told of a version, kind by kind.
pub(super) enum HistoryPart {
    /// Why it was made.
    Reason(String),
    /// What changed, under its heading.
    Changes(String, Vec<String>),
    /// What was promised, under its heading.
    Promised(String, Vec<String>),
    /// A batch with its lines.
    Batch(String, Vec<String>),
    /// The verdict on the promise in the batch before.
    Verdict(String),
    /// A blind test against the version before.
    Test(String),
}

impl HistoryPart {
    const fn ink(&self) -> Ink {
        match self {
            Self::Reason(_) | Self::Changes(..) | Self::Batch(..) => Ink::Plain,
            Self::Promised(..) => Ink::Quiet,
            Self::Verdict(_) | Self::Test(_) => Ink::Good,
        }
    }

    /// Its texts, each with how deep it stands below the version.
    pub(super) fn texts(self) -> Vec<(usize, String)> {
        match self {
            Self::Reason(text) | Self::Test(text) => vec![(0, text)],
            Self::Verdict(text) => vec![(1, text)],
            Self::Changes(head, texts) | Self::Promised(head, texts) | Self::Batch(head, texts) => {
                let below = texts.into_iter().map(|it| (1, it));
                std::iter::once((0, head)).chain(below).collect()
            }
        }
    }
}

/// What is told of a version.
pub(super) fn version_parts(version: &HistoryVersion) -> Vec<HistoryPart> {
    let told = &version.told;
    let mut parts = Vec::new();
    parts.extend(
        told.reason
            .as_ref()
            .map(|it| HistoryPart::Reason(format!("Why: {it}"))),
    );
    parts.extend(changes_part(version, told));
    parts.extend(told.promised.as_ref().map(promised_part));
    for batch in &told.batches {
        parts.push(batch_part(batch));
        let verdict = batch.promise.as_ref().map(promise_sentence);
        parts.extend(verdict.map(HistoryPart::Verdict));
    }
    if told.batches.is_empty() {
        parts.push(HistoryPart::Reason("No batch of it is kept.".to_owned()));
    }
    parts.extend(
        told.tests
            .iter()
            .map(|it| HistoryPart::Test(test_words(it))),
    );
    parts
}

fn changes_part(version: &HistoryVersion, told: &HistoryTold) -> Option<HistoryPart> {
    let (name, parent) = version.parent.as_ref()?;
    let changes = told.changes.as_ref()?;
    let of = if *name == version.name {
        String::new()
    } else {
        format!("{name}, ")
    };
    let from = format!("Changed from {of}version {parent}:");
    Some(if changes.is_empty() {
        HistoryPart::Reason(format!("{from} nothing but the version."))
    } else {
        HistoryPart::Changes(from, changes.clone())
    })
}

fn promised_part(it: &HistoryPromise) -> HistoryPart {
    let from = it.from.as_ref();
    let from = from.map_or_else(String::new, |it| format!(" from the notes on {it}"));
    let altered = match it.since_written {
        SinceWritten::Unaltered => "",
        SinceWritten::Altered => "; the file was altered after it was written",
    };
    let chance = chance_words(it.proposed.chance);
    let all = &it.proposed.lines;
    let moving = all.iter().filter(|it| it.is_to_move());
    let mut lines: Vec<String> = moving.map(promised_words).collect();
    let rest = u32::try_from(all.len() - lines.len()).unwrap_or(u32::MAX);
    if rest > 0 {
        let others = number_of(rest, "other line", "other lines");
        lines.push(format!("{others} not promised to move"));
    }
    HistoryPart::Promised(
        format!("Promised{from}, {chance}{altered} (in brackets where it ends 8 times in 10):"),
        lines,
    )
}

/// From where to where a line was to move.
pub(super) fn promised_words(it: &PromisedChange) -> String {
    let it = it.in_digits();
    let hoped = it.hoped.map(|it| format!(", hoped for {it:.1}"));
    format!(
        "{} from {:.1} to {:.1} ({:.1} to {:.1}){}",
        it.label,
        it.now,
        it.expected,
        it.low,
        it.high,
        hoped.unwrap_or_default()
    )
}

fn batch_part(it: &HistoryBatch) -> HistoryPart {
    let mut head = format!("Batch {}", it.cap_mark);
    for (step, day) in [("brewed", it.brewed), ("packaged", it.packaged)] {
        if let Some(day) = day {
            head = format!("{head}, {step} {day}");
        }
    }
    let notes = u32::try_from(it.tasted).unwrap_or(u32::MAX);
    let tasted = match notes {
        0 => "not tasted yet".to_owned(),
        some => number_of(some, "set of notes", "sets of notes"),
    };
    let mut lines = Vec::new();
    lines.extend(it.hopes.filter(|it| it.of > 0).map(hopes_words));
    let promised = it.promise.iter().flat_map(|it| &it.lines);
    lines.extend(promised.map(promise_line_words));
    HistoryPart::Batch(format!("{head}: {tasted}"), lines)
}

/// How many hopes a batch met.
pub(super) fn hopes_words(it: HopesMet) -> String {
    let open = it.of.saturating_sub(it.as_meant + it.differ);
    let differ = match it.differ {
        0 => String::new(),
        1 => ", 1 differs".to_owned(),
        more => format!(", {more} differ"),
    };
    let open = match open {
        0 => String::new(),
        open => format!(", {open} open"),
    };
    let hopes = number_of(it.of, "hope", "hopes");
    format!("{} of {hopes} as meant{differ}{open}", it.as_meant)
}

/// A test against the version before, in a sentence.
pub(super) fn test_words(it: &TestResult) -> String {
    let [a, b] = it.planned.beers.each_ref().map(|it| &it.cap_mark);
    let method = it.planned.method.name;
    let number = it.planned.test.number;
    format!(
        "Blind test {number} of {a} and {b}, {method}. {}",
        result_sentence(it)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::width;
    use crate::reports::history_markdown;
    use crate::workflow::Home;
    use crate::workflow::told_history;

    fn text(it: &RecipeHistory, cells: usize) -> String {
        let lines = history_lines(it, cells);
        for line in &lines {
            let told = line.text();
            assert!(width(&told) <= cells, "{told}");
        }
        let lines: Vec<String> = lines.iter().map(Line::text).collect();
        lines.join("\n")
    }

    #[test]
    fn a_whole_history_fits_on_80_cells_and_says_it_in_plain_words() {
        let it = told_history();
        let told = text(&it, 80);
        for said in [
            "Changed from version 2:",
            "40 g less Chocolate malt (60 to 20 g)",
            "Bitter from 3.0 to 7.0",
            "Bitter: promised +4.0 (+3.0 to +5.0), found +",
            "Of 1 promised line: 1 as promised. The change did it:",
            "Blind test 1 of T1 and T2, triangle test.",
            // Whole numbers: (6·2 + 1)/3⁶ = 13/729.
            "5 of 6 answers are right, and guessing alone does so well 18 times in 1,000",
        ] {
            let flat = told.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(flat.contains(said), "{said}\n{told}");
        }
        let markdown = history_markdown(&it);
        assert!(
            markdown.starts_with("# History of Harbour dark\n"),
            "{markdown}"
        );
        assert!(
            markdown.contains("\n## Harbour dark, version 3"),
            "{markdown}"
        );
        assert!(
            markdown.contains("  - 40 g less Chocolate malt"),
            "{markdown}"
        );
    }

    #[test]
    fn one_version_alone_says_how_a_second_one_comes_about() {
        let mut home = Home::trial_with_a_batch();
        let it = home.recipe_history("Harbour dark").unwrap();
        let told = text(&it, 60);
        assert!(told.contains("Next: taste a batch of it."), "{told}");
        assert!(told.contains("1 version, 1 batch;"), "{told}");
    }

    #[test]
    fn hopes_are_told_without_figures_that_are_nought() {
        let met = |as_meant, differ, of| {
            hopes_words(HopesMet {
                as_meant,
                differ,
                of,
            })
        };
        assert_eq!(met(4, 1, 7), "4 of 7 hopes as meant, 1 differs, 2 open");
        assert_eq!(met(1, 0, 1), "1 of 1 hope as meant");
    }
}
