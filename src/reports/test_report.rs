//! The result of a blind test: one sentence and one picture first, the figures behind them on request.

use crate::domain::Pouring;
use crate::domain::Stopping;
use crate::domain::Sureness;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::Extent;
use crate::reports::blind_words::number_of;
use crate::reports::blind_words::percent;
use crate::reports::blind_words::times_in;
use crate::reports::comparison_report::wrapped;
use crate::reports::test_figures::figure_lines;
use crate::statistics::Count;
use crate::statistics::Stand;
use crate::statistics::binomial_term;
use crate::workflow::TestResult;
use crate::workflow::Verdict;
use crate::workflow::Ways;

/// Cells of the longest bar of the picture.
const BAR: usize = 40;

/// Rows of the picture at most; more counts are told in steps.
const ROWS: u32 = 24;

/// A result as lines of at most `cells` cells.
#[must_use]
pub fn result_lines(it: &TestResult, extent: Extent, cells: usize) -> Vec<Line> {
    let mut lines = vec![Line::of(Ink::Title, title(it))];
    lines.extend(wrapped(Ink::Strong, &result_sentence(it), cells));
    for said in cautions(it) {
        lines.extend(wrapped(Ink::Alert, &format!("! {said}"), cells));
    }
    lines.push(Line::blank());
    lines.extend(picture(it));
    lines.push(Line::blank());
    let cause = "A difference is not its cause: until the same recipe was brewed twice and told apart or not, the spread from brew to brew is in it.";
    lines.extend(wrapped(Ink::Quiet, cause, cells));
    if extent == Extent::All {
        lines.extend(figure_lines(it, cells));
        lines.extend(who_lines(it, cells));
        lines.extend(word_lines(it, cells));
        lines.extend(preference_lines(it, cells));
        lines.extend(commitment_lines(it, cells));
    }
    lines
}

fn title(it: &TestResult) -> String {
    let [a, b] = it.planned.beers.each_ref().map(|it| &it.cap_mark);
    format!(
        "Test {}: {a} and {b}, {}",
        it.planned.test.number, it.planned.method.name
    )
}

/// The result in one or two sentences.
#[must_use]
pub fn result_sentence(it: &TestResult) -> String {
    let count = it.analysis.count;
    if let Some(sequence) = &it.sequence {
        return sequence_sentence(it, sequence.stand, count);
    }
    let found = match it.planned.method.ways {
        Ways::One => format!("{} of {} answers are right", count.hits(), count.tries()),
        Ways::Either => format!("{} of {} chose the same beer", count.hits(), count.tries()),
    };
    let by_chance = format!(
        "guessing alone does so well {}",
        times_in(it.analysis.p.get())
    );
    let shown = match it.planned.test.stopping {
        Stopping::Evidence => {
            it.analysis.reading.e_value() >= 1.0 / it.planned.test.aims.alpha.get()
        }
        _ => it.analysis.different == Verdict::Shown,
    };
    if shown {
        return format!("The two can be told apart: {found}, and {by_chance}.");
    }
    let never = match it.analysis.different {
        Verdict::CannotBeShown => " So few answers could not have shown one, whatever they were.",
        _ => "",
    };
    format!(
        "No difference was seen: {found}, and {by_chance}.{never} That does not make them the same: up to {} of people may still tell them apart (19 times in 20).",
        percent(it.analysis.pd_at_most.get())
    )
}

fn sequence_sentence(it: &TestResult, stand: Stand, count: Count) -> String {
    let after = format!(
        "after {} ({} right)",
        number_of(count.tries(), "answer", "answers"),
        count.hits()
    );
    match stand {
        Stand::Other => format!("The two can be told apart: the upper line was crossed {after}."),
        Stand::Null => format!(
            "No difference of the size asked for: the lower line was crossed {after}. Fewer than {} of people may still tell them apart.",
            percent(it.planned.test.aims.pd.get())
        ),
        Stand::GoOn => format!("Not settled {after}: between the two lines when it ended."),
    }
}

/// What the reader must know before anything is believed.
fn cautions(it: &TestResult) -> Vec<String> {
    let mut said = Vec::new();
    if it.planned.test.pouring == Pouring::Alone {
        said.push("Self-poured: one person poured, shuffled and tasted; believe it less than a test poured by others.".to_owned());
    }
    if it.missing > 0 {
        said.push(format!(
            "Closed early: {} missing. If the count decided when to stop, the chance of a false difference is larger than planned.",
            number_of(u32::try_from(it.missing).unwrap_or(u32::MAX), "answer is", "answers are")
        ));
    }
    if !it.kept_its_word {
        said.push("The plan in the file is not the one whose commitment was shown: something was changed.".to_owned());
    }
    if it.analysis.replicates.is_some() {
        said.push("Some answered more than once: the sum is a sound test of difference, but the limits below are those of the tasters, not of the single answers.".to_owned());
    }
    said
}

/// How often guessing gives each count, with what was reached and what is asked for.
fn picture(it: &TestResult) -> Vec<Line> {
    let count = it.analysis.count;
    let tries = count.tries();
    let term = |hits| {
        Count::new(hits, tries).map_or(0.0, |it2| {
            binomial_term(it2, it.planned.method.guess()).get()
        })
    };
    let highest = (0..=tries).map(term).fold(f64::MIN_POSITIVE, f64::max);
    let first = count
        .hits()
        .saturating_sub(ROWS / 2)
        .min(tries.saturating_sub(ROWS));
    let mut lines = vec![Line::of(
        Ink::Strong,
        "Right answers, and how often guessing alone gives them",
    )];
    for hits in (first..=tries).take(ROWS as usize + 1) {
        let chance = term(hits);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a share of forty cells"
        )]
        let cells = (BAR as f64 * chance / highest).round() as usize;
        let mark = if hits == count.hits() { "►" } else { " " };
        let critical = if it.analysis.critical == Some(hits) && it.sequence.is_none() {
            "  ← a difference from here on"
        } else {
            ""
        };
        let ink = if hits == count.hits() {
            Ink::Strong
        } else {
            Ink::Plain
        };
        let bar = "█".repeat(cells);
        lines.push(Line::of(
            ink,
            format!(" {mark}{hits:>4} {bar:<1} {}{critical}", percent(chance)),
        ));
    }
    lines
}

/// By taster, by sureness, and by place: all with the same warning.
fn who_lines(it: &TestResult, cells: usize) -> Vec<Line> {
    let mut lines = vec![Line::blank(), Line::of(Ink::Strong, "Who was right")];
    let cut = "A small test cut into pieces shows patterns that are none: read these as hints for the next test, not as results.";
    lines.extend(wrapped(Ink::Quiet, cut, cells));
    for taster in &it.tasters {
        let count = taster.count;
        lines.push(Line::plain(format!(
            "  {}: {} of {}",
            taster.taster,
            count.hits(),
            count.tries()
        )));
    }
    for sure in Sureness::ALL {
        if let Some(count) = it.among(|answer| answer.sureness == Some(*sure)) {
            lines.push(Line::plain(format!(
                "  {}: {} of {}",
                sure.word(),
                count.hits(),
                count.tries()
            )));
        }
    }
    let positions = it.planned.method.choices.iter().map(|at| at + 1);
    let chosen: Vec<String> = positions
        .map(|at| {
            let times = it.answers().filter(|answer| answer.position == at).count();
            format!("glass {at} {times}×")
        })
        .collect();
    lines.extend(wrapped(
        Ink::Plain,
        &format!("  chosen: {}", chosen.join(", ")),
        cells,
    ));
    let mut orders: Vec<String> = it.answers().map(|answer| answer.order.clone()).collect();
    orders.sort();
    orders.dedup();
    let by_order: Vec<String> = orders
        .iter()
        .filter_map(|order| {
            let count = it.among(|answer| answer.order == *order)?;
            Some(format!("{order} {} of {}", count.hits(), count.tries()))
        })
        .collect();
    lines.extend(wrapped(
        Ink::Plain,
        &format!("  by order: {}", by_order.join(", ")),
        cells,
    ));
    lines
}

/// Words of those who were right against those who were wrong.
fn word_lines(it: &TestResult, cells: usize) -> Vec<Line> {
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
    words.sort_by(|a, b| b.1.cmp(&a.1));
    let told: Vec<String> = words
        .into_iter()
        .map(|(word, [right, wrong])| format!("{word} ({right} right, {wrong} wrong)"))
        .collect();
    let mut lines = vec![
        Line::blank(),
        Line::of(Ink::Strong, "What differed, in words"),
    ];
    lines.extend(wrapped(
        Ink::Plain,
        &format!("  {}", told.join(" · ")),
        cells,
    ));
    lines
}

/// Which was liked better, among those who were right.
fn preference_lines(it: &TestResult, cells: usize) -> Vec<Line> {
    let liked = |mark: &str, right: bool| {
        let all = it.answers().filter(|answer| answer.right == right);
        all.filter(|answer| {
            answer
                .prefers
                .as_ref()
                .is_some_and(|it| it.as_str() == mark)
        })
        .count()
    };
    if it.answers().all(|answer| answer.prefers.is_none()) {
        return Vec::new();
    }
    let told: Vec<String> = it
        .planned
        .beers
        .iter()
        .map(|beer| {
            let mark = beer.cap_mark.as_str();
            format!(
                "{mark}: {} who were right, {} who were not",
                liked(mark, true),
                liked(mark, false)
            )
        })
        .collect();
    let mut lines = vec![
        Line::blank(),
        Line::of(Ink::Strong, "Liked better, apart from the test"),
    ];
    lines.extend(wrapped(
        Ink::Plain,
        &format!("  {}", told.join("; ")),
        cells,
    ));
    let why = "Who cannot tell two beers apart cannot prefer one; and being asked for the odd glass makes people like it less. It is no test of preference.";
    lines.extend(wrapped(Ink::Quiet, why, cells));
    lines
}

/// How anybody checks that the plan was not changed.
fn commitment_lines(it: &TestResult, cells: usize) -> Vec<Line> {
    let mut lines = vec![
        Line::blank(),
        Line::of(Ink::Strong, "The commitment and its plan"),
    ];
    let said = format!("SHA-256 {}", it.planned.test.commitment);
    lines.extend(wrapped(Ink::Plain, &said, cells));
    let how = "of exactly these lines, each with its line end:";
    lines.push(Line::of(Ink::Quiet, how));
    lines.extend(
        it.planned
            .plan_text()
            .lines()
            .map(|it| Line::plain(it.to_owned())),
    );
    lines
}
