//! A comparison as Markdown, to keep beside the recipe.

use crate::reports::comparison_words::foreseen_words;
use crate::reports::comparison_words::near_words;
use crate::reports::comparison_words::promised_words;
use crate::reports::comparison_words::sniff_words;
use crate::reports::comparison_words::unplanned_words;
use crate::reports::verdict_words::counted_words;
use crate::reports::verdict_words::grounds;
use crate::reports::verdict_words::held;
use crate::reports::verdict_words::next_step;
use crate::reports::verdict_words::said_words;
use crate::reports::verdict_words::summary;
use crate::reports::verdict_words::value_words;
use crate::workflow::ComparedLine;
use crate::workflow::Comparison;
use crate::workflow::Found;
use crate::workflow::HeldAgainst;
use crate::workflow::Outcome;

/// A comparison as Markdown with a table for the hopes and one for the predictions.
#[must_use]
pub fn comparison_markdown(it: &Comparison) -> String {
    let unplanned = it.unplanned.iter().map(|word| unplanned_words(word, it));
    let promised = it.promised.iter().map(promised_words);
    let foreseen = it.also_foreseen.iter().map(foreseen_words);
    [
        heading(it),
        table(it, HeldAgainst::Intent),
        table(it, HeldAgainst::Prediction),
        list("Missed by a hair", it.near_misses.iter().map(near_words)),
        list("Found, but nobody planned it", unplanned),
        list("Promised on a packet", promised),
        list("Second sniff", it.second_sniffs.iter().map(sniff_words)),
        list("The recipe also gives", foreseen),
        list("Take care", it.cautions.iter().cloned()),
        footing(it),
    ]
    .concat()
}

fn heading(it: &Comparison) -> String {
    let found = it.found.iter();
    let who: Vec<String> = found
        .map(|found| format!("{} ({})", plain(found.taster.as_str()), found.tasted_on))
        .collect();
    let who = if who.is_empty() {
        "nobody".to_owned()
    } else {
        who.join(", ")
    };
    format!(
        "# {} · {}\n\nIntent of {}. Tasted by {who}.\n\n**{}** {}\n",
        plain(it.cap_mark.as_str()),
        plain(&it.recipe),
        it.intent.frozen_at.day(),
        plain(&summary(it)),
        next_step(it)
    )
}

fn footing(it: &Comparison) -> String {
    let counted = counted_words(it.counted).map(|it| format!("\n{it}\n"));
    let (rules, catalogue) = &it.versions;
    format!(
        "{}\nPrediction: rules {rules}, wheel and ingredients {catalogue}.\n",
        counted.unwrap_or_default()
    )
}

fn table(it: &Comparison, against: HeldAgainst) -> String {
    let told = |line: &&ComparedLine| {
        line.against == against && (line.outcome != Outcome::NotRated || line.hoped.is_some())
    };
    let rows: Vec<String> = it
        .lines
        .iter()
        .filter(told)
        .map(|line| row(line, &it.found))
        .collect();
    if rows.is_empty() {
        return String::new();
    }
    let (heading, column) = match against {
        HeldAgainst::Intent => ("Hoped for", "hoped"),
        HeldAgainst::Prediction | HeldAgainst::OtherBeer => {
            ("Predicted from recipe and log", "predicted")
        }
    };
    format!(
        "\n## {heading}\n\n| line | {column} | found | verdict | grounds |\n|---|---:|---:|---|---|\n{}\n",
        rows.join("\n")
    )
}

fn row(line: &ComparedLine, found: &[Found]) -> String {
    format!(
        "| {} | {} | {} | {} | {} |",
        plain(&line.label),
        value_words(line, held(line)),
        value_words(line, line.mean),
        plain(said_words(line, found).first().map_or("", String::as_str)),
        plain(&grounds(line).join("; "))
    )
}

fn list(heading: &str, items: impl Iterator<Item = String>) -> String {
    let items: Vec<String> = items.map(|it| format!("- {}\n", plain(&it))).collect();
    if items.is_empty() {
        return String::new();
    }
    format!("\n## {heading}\n\n{}", items.concat())
}

/// A text in which nothing is read as Markdown.
pub(super) fn plain(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for sign in text.chars() {
        if "\\`*_{}[]<>#|~".contains(sign) {
            safe.push('\\');
        }
        safe.push(if sign.is_control() { ' ' } else { sign });
    }
    safe
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_cannot_become_markdown() {
        assert_eq!(plain("a|b*c\n<d>"), "a\\|b\\*c \\<d\\>");
    }
}
