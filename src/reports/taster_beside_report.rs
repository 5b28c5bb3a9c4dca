//! One taster beside the others: above or below them, as wide, as one with them, and in the same words.

use crate::reports::panel_report::counted;
use crate::reports::taster_report::line_word;
use crate::workflow::GapToOthers;
use crate::workflow::NamingRecord;
use crate::workflow::TasterPage;

/// Lines on which a taster stands apart that are named on the page.
const MOST_BIASES: usize = 3;

/// Pairs of the same beer that it takes before anything is said of how words repeat.
const NAMING_PAIRS: u32 = 3;

/// How a taster stands beside the others.
pub(super) fn beside_words(it: &TasterPage) -> Vec<String> {
    let judged = it.measures.lines.iter().filter(|it| it.standing.is_some());
    let judged = judged.count();
    if judged == 0 {
        return vec!["Comes after three sittings with somebody else at the same beers.".to_owned()];
    }
    let named = it.biased.iter().take(MOST_BIASES);
    let mut texts: Vec<String> = named.filter_map(|line| bias_words(it, line)).collect();
    let more = it.biased.len().saturating_sub(MOST_BIASES);
    if more > 0 {
        let lines = counted(more as u64, "line");
        texts.push(format!(
            "Apart on {lines} more; the page of every line shows them."
        ));
    }
    let rest = judged - it.biased.len();
    if rest > 0 {
        let lines = counted(rest as u64, "line");
        let more = if it.biased.is_empty() { "" } else { " more" };
        texts.push(format!(
            "On {lines}{more} no difference to the mean of the others beyond chance."
        ));
    }
    texts.extend(spread_words(it));
    texts.extend(agreement_words(it));
    texts
}

fn bias_words(it: &TasterPage, line: &str) -> Option<String> {
    let found = it.measures.lines.iter().find(|it| it.line == line)?;
    let GapToOthers {
        value,
        interval,
        sittings,
        ..
    } = found.standing?;
    let (side, [low, high]) = if value > 0.0 {
        ("above", [interval.low, interval.high])
    } else {
        ("below", [-interval.high, -interval.low])
    };
    Some(format!(
        "{}: {:.1} {side} the others ({low:.1} to {high:.1}), over {}.",
        line_word(line),
        value.abs(),
        counted(sittings, "sitting")
    ))
}

/// The middle of some numbers; none of none.
fn middle(numbers: impl Iterator<Item = f64>) -> Option<f64> {
    let mut numbers: Vec<f64> = numbers.collect();
    numbers.sort_by(f64::total_cmp);
    numbers.get(numbers.len() / 2).copied()
}

fn spread_words(it: &TasterPage) -> Option<String> {
    let spread = middle(it.measures.lines.iter().filter_map(|it| it.spread))?;
    let how = match spread {
        it if it > 1.25 => "more widely than",
        it if it < 0.8 => "more closely than",
        _ => return Some("Uses about as much of the digits as the others.".to_owned()),
    };
    Some(format!(
        "Uses the digits {how} the others, {spread:.1} times as far: neither is wrong."
    ))
}

fn agreement_words(it: &TasterPage) -> Option<String> {
    let known = it.measures.lines.iter();
    let known = known.filter_map(|it| Some(it.concordance.as_ref().ok()?.coefficient));
    let middle = middle(known)?;
    Some(format!(
        "Agreement with their mean (Lin's concordance): {middle:.2} on a line like any other, where 1 is the same and 0 is none."
    ))
}

/// How reliably words are named.
pub(super) fn naming_words(it: &NamingRecord) -> Vec<String> {
    let twice = match it.twice.share() {
        Some(twice) if it.pairs >= NAMING_PAIRS => {
            let habit = it.shuffled.share().map_or(String::new(), |it| {
                format!("; of two different beers {:.0} in 100", 100.0 * it)
            });
            format!(
                "Of the words for one glass the other glass of the same beer has {:.0} in 100{habit}.",
                100.0 * twice
            )
        }
        _ => {
            let missing = NAMING_PAIRS.saturating_sub(it.pairs).max(1);
            format!(
                "How often the same words come back: that comes after {} in the full form.",
                counted(u64::from(missing), "more hidden duplicate")
            )
        }
    };
    vec![twice, found_words(it)]
}

/// Whether what most others find is named.
fn found_words(it: &NamingRecord) -> String {
    let Some(hits) = it.all_hits().filter(|it| it.tries() > 0) else {
        return "What most others find: that comes after a sitting in the full form with three others."
            .to_owned();
    };
    let slips = it.all_false_alarms().filter(|it| it.tries() > 0);
    let slips = slips.map_or(String::new(), |it| {
        format!(
            " What nobody else found was named {} times in {} chances.",
            it.hits(),
            it.tries()
        )
    });
    format!(
        "What most of the others found was named in {} of {} glasses.{slips}",
        hits.hits(),
        hits.tries()
    )
}
