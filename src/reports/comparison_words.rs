//! The words of a comparison: missed by a hair, planned by nobody, promised on a packet, given by the recipe.

use crate::domain::SniffAnswer;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::comparison_report::Extent;
use crate::reports::comparison_report::wrapped;
use crate::reports::verdict_words::times_words;
use crate::workflow::ComparedLine;
use crate::workflow::Comparison;
use crate::workflow::NearMiss;
use crate::workflow::Nearby;
use crate::workflow::Outcome;
use crate::workflow::PromisedLine;
use crate::workflow::SniffedBy;
use crate::workflow::Unasked;
use crate::workflow::UnplannedWord;

/// Shelves given by the recipe that are listed.
const MOST_FORESEEN: usize = 8;

/// Unplanned words on the first page; those that most tasters found come first.
const FIRST_UNPLANNED: usize = 8;

/// Planned words that were missed by a hair.
pub(super) fn near_lines(it: &Comparison, cells: usize) -> Vec<Line> {
    let misses = it.near_misses.iter().map(near_words);
    list("Missed by a hair", misses, cells)
}

/// One near miss as a sentence.
pub(super) fn near_words(miss: &NearMiss) -> String {
    let stands = match miss.nearby {
        Nearby::Neighbour => "its neighbour",
        Nearby::LookAlike => "easily taken for it",
    };
    let tell = miss.tell.as_ref().map(|it| format!(" {it}"));
    format!(
        "{} was planned; {} found {}, {stands}.{}",
        miss.planned,
        miss.by.join(", "),
        miss.found,
        tell.unwrap_or_default()
    )
}

/// What was said when the glass was smelled once more for words that were asked for.
pub(super) fn sniff_lines(it: &Comparison, cells: usize) -> Vec<Line> {
    let sniffs = it.second_sniffs.iter().map(sniff_words);
    list(
        "Second sniff: asked for, so it changes no verdict",
        sniffs,
        cells,
    )
}

/// One second sniff as a sentence.
pub(super) fn sniff_words(it: &SniffedBy) -> String {
    let said = |answer: SniffAnswer| {
        let words = it.words.iter().filter(|word| word.2 == answer);
        let words: Vec<String> = words
            .map(|(word, kind, _)| format!("{word} ({})", kind.word()))
            .collect();
        (!words.is_empty()).then(|| format!("{}: {}", answer.word(), words.join(", ")))
    };
    let parts: Vec<String> = SniffAnswer::ALL.iter().filter_map(|it| said(*it)).collect();
    format!("{} said {}", it.taster, parts.join("; "))
}

/// Words that nobody planned.
pub(super) fn unplanned_lines(it: &Comparison, extent: Extent, cells: usize) -> Vec<Line> {
    let most = match extent {
        Extent::First => FIRST_UNPLANNED,
        Extent::All => usize::MAX,
    };
    let shown = it.unplanned.iter().take(most);
    let mut words: Vec<String> = shown.map(|word| unplanned_words(word, it)).collect();
    if it.unplanned.len() > words.len() {
        words.push(format!("and {} more", it.unplanned.len() - words.len()));
    }
    let mut lines = vec![
        Line::blank(),
        Line::of(Ink::Strong, "Found, and not hoped for"),
    ];
    if words.is_empty() {
        lines.push(Line::plain("  nothing"));
    } else {
        lines.extend(wrapped(
            Ink::Plain,
            &format!("  {}", words.join(" · ")),
            cells,
        ));
    }
    lines
}

/// One unplanned word, with who found it and whether it is more than a slip.
pub(super) fn unplanned_words(word: &UnplannedWord, it: &Comparison) -> String {
    let mut grounds = Vec::new();
    if it.found.len() > 1 {
        grounds.push(word.found_by.join(", "));
    }
    if word.judged == Some(Unasked::NotAskedFor) {
        grounds.push("not asked for, and there".to_owned());
    } else if word.foreseen.is_some_and(|chance| chance >= 0.5) {
        grounds.push("no surprise from this recipe".to_owned());
    }
    if grounds.is_empty() {
        word.word.clone()
    } else {
        format!("{} ({})", word.word, grounds.join("; "))
    }
}

/// What the packets promised.
pub(super) fn promised_lines(it: &Comparison, cells: usize) -> Vec<Line> {
    list(
        "Promised on the packet of an ingredient",
        it.promised.iter().map(promised_words),
        cells,
    )
}

/// One promise as a sentence.
pub(super) fn promised_words(line: &PromisedLine) -> String {
    let found = match (line.found_by.is_empty(), line.outcome) {
        (false, _) => format!("found by {}", line.found_by.join(", ")),
        (true, Outcome::NotFound) => "promised, not found".to_owned(),
        (true, _) => "not mentioned yet".to_owned(),
    };
    format!("{}: {found} ({})", line.word, line.packet)
}

/// What the recipe gives that nobody hoped for.
pub(super) fn also_foreseen_lines(it: &Comparison, cells: usize) -> Vec<Line> {
    let lines = it.also_foreseen.iter().take(MOST_FORESEEN);
    list("The recipe also gives", lines.map(foreseen_words), cells)
}

/// One shelf that the recipe gives as a sentence.
pub(super) fn foreseen_words(line: &ComparedLine) -> String {
    let found = match line.mean.filter(|it| *it > 0.0) {
        Some(mean) => format!("found, {mean:.0}"),
        None => "not mentioned yet".to_owned(),
    };
    let Some(foreseen) = &line.foreseen else {
        return format!("{}: {found}", line.label);
    };
    let from = foreseen
        .why
        .first()
        .map(|it| format!(", mostly from {}", it.0));
    format!(
        "{}: {}, then at {:.0} to {:.0}{}; {found}",
        line.label,
        times_words(foreseen.chance.unwrap_or(1.0)),
        foreseen.low,
        foreseen.high,
        from.unwrap_or_default()
    )
}

fn list(heading: &'static str, items: impl Iterator<Item = String>, cells: usize) -> Vec<Line> {
    let mut lines: Vec<Line> = items
        .flat_map(|it| wrapped(Ink::Plain, &format!("  {it}"), cells))
        .collect();
    if !lines.is_empty() {
        lines.splice(0..0, [Line::blank(), Line::of(Ink::Strong, heading)]);
    }
    lines
}
