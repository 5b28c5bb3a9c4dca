//! The history of a recipe as Markdown, to keep beside its files.

use crate::reports::comparison_markdown::plain;
use crate::reports::history_report::head_words;
use crate::reports::history_report::history_title;
use crate::reports::history_report::next_words;
use crate::reports::history_report::version_parts;
use crate::reports::history_report::version_words;
use crate::workflow::HistoryVersion;
use crate::workflow::RecipeHistory;

/// A history as Markdown, with a heading for each version.
#[must_use]
pub fn history_markdown(it: &RecipeHistory) -> String {
    let head = format!(
        "# {}\n\n{}\n",
        plain(&history_title(it)),
        plain(&head_words(it))
    );
    let versions: Vec<String> = it.versions.iter().map(section).collect();
    let next = next_words(it).map(|it| format!("\n{}\n", plain(it)));
    format!("{head}{}{}", versions.concat(), next.unwrap_or_default())
}

fn section(version: &HistoryVersion) -> String {
    let heading = format!("\n## {}\n\n", plain(&version_words(version)));
    let parts = version_parts(version).into_iter();
    let items = parts.flat_map(|part| {
        let texts = part.texts().into_iter();
        texts.map(|(deep, text)| format!("{}- {}\n", "  ".repeat(deep), plain(&text)))
    });
    let items: Vec<String> = items.collect();
    format!("{heading}{}", items.concat())
}
