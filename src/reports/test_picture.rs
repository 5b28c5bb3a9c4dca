//! The picture of a blind test: how often guessing gives each count, and where the test ended.

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::blind_words::percent;
use crate::statistics::Count;
use crate::statistics::binomial_term;
use crate::workflow::TestResult;

/// Cells of the longest bar.
const BAR: u32 = 40;

/// Counts shown at most, around the one reached.
const ROWS: u32 = 25;

/// How often guessing gives each count, with what was reached and what is asked for.
pub(super) fn picture(it: &TestResult) -> Vec<Line> {
    let (hits, tries) = (it.analysis.count.hits(), it.analysis.count.tries());
    let head = "Right answers, and how often guessing alone gives them";
    let mut lines = vec![Line::of(Ink::Strong, head)];
    let chances: Vec<(u32, f64)> = (0..=tries).map(|hits| (hits, chance(it, hits))).collect();
    let highest = chances
        .iter()
        .map(|it| it.1)
        .fold(f64::MIN_POSITIVE, f64::max);
    let first = hits
        .saturating_sub(ROWS / 2)
        .min((tries + 1).saturating_sub(ROWS));
    for (count, chance) in chances.into_iter().skip(first as usize).take(ROWS as usize) {
        lines.push(row(it, count, chance, chance / highest));
    }
    lines
}

fn chance(it: &TestResult, hits: u32) -> f64 {
    let count = Count::new(hits, it.analysis.count.tries());
    count.map_or(0.0, |count| {
        binomial_term(count, it.planned.method.guess()).get()
    })
}

fn row(it: &TestResult, count: u32, chance: f64, share: f64) -> Line {
    let reached = count == it.analysis.count.hits();
    let cells = (0..BAR).filter(|cell| f64::from(*cell) + 0.5 < share * f64::from(BAR));
    let bar = "█".repeat(cells.count());
    let critical = if it.analysis.critical == Some(count) && it.sequence.is_none() {
        "  ← a difference from here on"
    } else {
        ""
    };
    let (mark, ink) = if reached {
        ("►", Ink::Strong)
    } else {
        (" ", Ink::Plain)
    };
    let gap = if bar.is_empty() { "" } else { " " };
    Line::of(
        ink,
        format!(" {mark}{count:>4} {bar}{gap}{}{critical}", percent(chance)),
    )
}
