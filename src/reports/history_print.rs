//! The history of a recipe on paper: its versions as a tree, and what was promised and found of each.

use crate::drawing::Flow;
use crate::drawing::HEADING;
use crate::drawing::Paper;
use crate::drawing::SMALL;
use crate::drawing::TEXT;
use crate::drawing::TreeRow;
use crate::reports::PrintAsked;
use crate::reports::PrintRefused;
use crate::reports::Printout;
use crate::reports::history_report::HistoryPart;
use crate::reports::history_report::head_words;
use crate::reports::history_report::history_title;
use crate::reports::history_report::hopes_words;
use crate::reports::history_report::next_words;
use crate::reports::history_report::version_parts;
use crate::reports::history_report::version_words;
use crate::reports::promise_words::promise_sentence;
use crate::workflow::HistoryBatch;
use crate::workflow::HistoryVersion;
use crate::workflow::Home;
use crate::workflow::RecipeHistory;

/// The history of a recipe.
pub(super) fn print(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    let history = home.recipe_history(&asked.name())?;
    Ok(history_printout(&history, asked.paper))
}

/// The history of a recipe.
fn history_printout(it: &RecipeHistory, paper: Paper) -> Printout {
    let title = history_title(it);
    let mut flow = Flow::new(&title, paper, &title);
    flow.title(&title);
    flow.paragraph(&head_words(it), SMALL);
    flow.gap(4.0);
    let rows: Vec<TreeRow> = it.versions.iter().map(tree_row).collect();
    flow.tree(&rows);
    for version in &it.versions {
        flow.heading(&version_words(version));
        for part in version_parts(version) {
            print_part(&mut flow, part);
        }
    }
    if let Some(next) = next_words(it) {
        flow.gap(4.0);
        flow.paragraph(next, TEXT.bold());
    }
    Printout {
        title,
        sheets: flow.finish(),
    }
}

/// A version in the tree, with what came of its batches.
fn tree_row(it: &HistoryVersion) -> TreeRow {
    let batches = it.told.batches.iter().map(outcome);
    let parent = it.parent.as_ref();
    let from = parent.map(|(name, version)| format!("from {name}, version {version}"));
    TreeRow {
        depth: it.depth,
        from: from.unwrap_or_default(),
        head: version_words(it),
        words: batches.collect(),
    }
}

/// What came of a batch, in a line or two.
fn outcome(it: &HistoryBatch) -> String {
    let hopes = it.hopes.filter(|it| it.of > 0).map(hopes_words);
    let hopes = match (it.tasted, hopes) {
        (0, _) => "not tasted yet".to_owned(),
        (_, Some(hopes)) => hopes,
        (_, None) => "tasted".to_owned(),
    };
    let promise = it.promise.as_ref().map(promise_sentence);
    let promise = promise.map_or_else(String::new, |it| format!(". {it}"));
    format!("{}: {hopes}{promise}", it.cap_mark)
}

/// What is told of a version, kind by kind.
fn print_part(flow: &mut Flow, part: HistoryPart) {
    let is_verdict = matches!(part, HistoryPart::Verdict(_) | HistoryPart::Test(_));
    let has_list = matches!(
        part,
        HistoryPart::Changes(..) | HistoryPart::Promised(..) | HistoryPart::Batch(..)
    );
    for (deep, text) in part.texts() {
        match (has_list, deep) {
            (true, 0) => {
                flow.gap(1.2);
                flow.keep(3.0 * HEADING.size);
                flow.paragraph(&text, TEXT);
            }
            (true, _) => flow.inset(3.0, "·", &text, TEXT),
            (false, deep) => {
                let set = if is_verdict { TEXT.bold() } else { TEXT };
                flow.inset(3.0 * deep as f64, "", &text, set);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Name;
    use crate::drawing::beyond_margins;
    use crate::drawing::printed_texts;
    use crate::workflow::told_history;

    #[test]
    fn a_long_history_with_long_names_keeps_to_the_margins_and_tells_every_version() {
        let mut it = told_history();
        let name = "Жёлтый и очень длинный хмель Überraschung";
        it.name = Name::new("a recipe", name).unwrap();
        let versions = it.versions.clone();
        it.versions = std::iter::repeat_n(versions, 12).flatten().collect();
        for (depth, version) in it.versions.iter_mut().enumerate() {
            version.depth = depth;
            version.name = it.name.clone();
        }
        for paper in [Paper::A4, Paper::Letter] {
            let printout = history_printout(&it, paper);
            let mut told = 0;
            for sheet in &printout.sheets {
                assert_eq!(beyond_margins(sheet, 10.0), Vec::<String>::new());
                let texts = printed_texts(sheet);
                told += texts.iter().filter(|it| it.contains(", version ")).count();
            }
            // In the tree and as a heading, each.
            assert!(told >= 2 * it.versions.len(), "{told}");
        }
    }

    #[test]
    fn the_tree_tells_the_promise_and_the_outcome_beside_each_version() {
        let printout = history_printout(&told_history(), Paper::A4);
        let texts = printout.sheets.iter().flat_map(printed_texts);
        let text = texts.collect::<Vec<_>>().join(" ");
        for part in [
            "T2: ",
            "Of 1 promised line: 1 as promised. The change did it:",
            "40 g less Chocolate malt",
        ] {
            assert!(text.contains(part), "{part}: {text}");
        }
    }
}
