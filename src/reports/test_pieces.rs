//! The answers of a blind test in pieces: who, how sure, in which order, with which words, and what they like.

use crate::domain::Sureness;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::comparison_report::wrapped;
use crate::statistics::Count;
use crate::workflow::OpenedAnswer;
use crate::workflow::TestResult;

/// By taster, by sureness, and by place: all with the same warning.
pub(super) fn who_lines(it: &TestResult, cells: usize) -> Vec<Line> {
    let mut lines = vec![Line::blank(), Line::of(Ink::Strong, "Who was right")];
    let cut = "A small test cut into pieces shows patterns that are none: read these as hints for the next test, not as results.";
    lines.extend(wrapped(Ink::Quiet, cut, cells));
    let tasters = it
        .tasters
        .iter()
        .map(|it| of(it.taster.as_str(), Some(it.count)));
    let sure = Sureness::ALL.iter().map(|sure| {
        of(
            sure.word(),
            it.among(|answer| answer.sureness == Some(*sure)),
        )
    });
    for told in tasters.chain(sure).flatten() {
        lines.push(Line::plain(format!("  {told}")));
    }
    for told in [chosen_words(it), order_words(it)] {
        lines.extend(wrapped(Ink::Plain, &format!("  {told}"), cells));
    }
    lines
}

fn of(name: &str, count: Option<Count>) -> Option<String> {
    count.map(|it| format!("{name}: {} of {}", it.hits(), it.tries()))
}

/// How often each glass was chosen, wherever it stood.
fn chosen_words(it: &TestResult) -> String {
    let places = it.planned.method.choices.iter().map(|at| at + 1);
    let chosen: Vec<String> = places
        .map(|at| {
            let times = it.answers().filter(|answer| answer.position == at).count();
            format!("glass {at} {times}×")
        })
        .collect();
    format!("chosen: {}", chosen.join(", "))
}

/// How many were right in each order.
fn order_words(it: &TestResult) -> String {
    let mut orders: Vec<&str> = it.answers().map(|answer| answer.order.as_str()).collect();
    orders.sort_unstable();
    orders.dedup();
    let by_order: Vec<String> = orders
        .into_iter()
        .filter_map(|order| {
            let count = it.among(|answer| answer.order == order)?;
            Some(format!("{order} {} of {}", count.hits(), count.tries()))
        })
        .collect();
    format!("by order: {}", by_order.join(", "))
}

/// Words of those who were right against those who were wrong.
pub(super) fn word_lines(it: &TestResult, cells: usize) -> Vec<Line> {
    let mut words: Vec<(&str, [u32; 2])> = Vec::new();
    for answer in it.answers() {
        let side = usize::from(!answer.right);
        for word in &answer.words {
            match words.iter_mut().find(|it| it.0 == word) {
                Some(row) => row.1[side] += 1,
                None => words.push((word, if answer.right { [1, 0] } else { [0, 1] })),
            }
        }
    }
    if words.is_empty() {
        return Vec::new();
    }
    words.sort_by_key(|it| std::cmp::Reverse(it.1));
    let told: Vec<String> = words
        .into_iter()
        .map(|(word, [right, wrong])| format!("{word} ({right} right, {wrong} wrong)"))
        .collect();
    let head = Line::of(Ink::Strong, "What differed, in words");
    let mut lines = vec![Line::blank(), head];
    lines.extend(wrapped(
        Ink::Plain,
        &format!("  {}", told.join(" · ")),
        cells,
    ));
    lines
}

/// Which was liked better, apart from the test.
pub(super) fn preference_lines(it: &TestResult, cells: usize) -> Vec<Line> {
    if it.answers().all(|answer| answer.prefers.is_none()) {
        return Vec::new();
    }
    let beers = it.planned.beers.iter().map(|it| it.cap_mark.as_str());
    let told: Vec<String> = beers
        .map(|mark| {
            let liked = |answer: &&OpenedAnswer| {
                let prefers = answer.prefers.as_ref();
                prefers.is_some_and(|it| it.as_str() == mark)
            };
            let right = it.answers().filter(liked).filter(|it| it.right).count();
            let wrong = it.answers().filter(liked).count() - right;
            format!("{mark}: {right} who were right, {wrong} who were not")
        })
        .collect();
    let head = Line::of(Ink::Strong, "Liked better, apart from the test");
    let mut lines = vec![Line::blank(), head];
    lines.extend(wrapped(
        Ink::Plain,
        &format!("  {}", told.join("; ")),
        cells,
    ));
    let why = "Who cannot tell two beers apart cannot prefer one; and being asked for the odd glass makes people like it less. It is no test of preference.";
    lines.extend(wrapped(Ink::Quiet, why, cells));
    lines
}
