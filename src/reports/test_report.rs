//! The result of a blind test: one sentence and one picture first, the figures behind them on request.

use crate::domain::Purpose;
use crate::domain::Stopping;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::Extent;
use crate::reports::blind_words::number_of;
use crate::reports::blind_words::percent;
use crate::reports::blind_words::times_in;
use crate::reports::comparison_report::wrapped;
use crate::reports::test_figures::figure_lines;
use crate::reports::test_picture::picture;
use crate::reports::test_pieces::preference_lines;
use crate::reports::test_pieces::who_lines;
use crate::reports::test_pieces::word_lines;
use crate::statistics::Count;
use crate::statistics::Stand;
use crate::workflow::Similarity;
use crate::workflow::TestResult;
use crate::workflow::Verdict;
use crate::workflow::Ways;

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
    if it.analysis.different == Verdict::Shown {
        let cause = "A difference is not its cause: no two brews are alike, and only a repeat brew of the same recipe would tell how much of it that is.";
        lines.extend(wrapped(Ink::Quiet, cause, cells));
    }
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
    if it.planned.test.purpose == Purpose::Similarity
        && let Some((verdict, alike)) = &it.analysis.alike
    {
        return alike_sentence(it, *verdict, alike);
    }
    let found = found_words(it);
    let by_chance = by_chance_words(it);
    if it.planned.test.stopping == Stopping::Evidence {
        return evidence_sentence(it, &found);
    }
    if it.analysis.different == Verdict::Shown {
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

fn found_words(it: &TestResult) -> String {
    let count = it.analysis.count;
    match it.planned.method.ways {
        Ways::One => format!("{} of {} answers are right", count.hits(), count.tries()),
        Ways::Either => format!("{} of {} chose the same beer", count.hits(), count.tries()),
    }
}

fn by_chance_words(it: &TestResult) -> String {
    let times = times_in(it.analysis.p.get());
    format!("guessing alone does so well {times}")
}

/// The result of a test that was watched until the evidence sufficed, which has no p-value.
fn evidence_sentence(it: &TestResult, found: &str) -> String {
    let e_value = it.analysis.reading.e_value();
    let enough = 1.0 / it.planned.test.aims.alpha.get();
    let fits = format!("{found}, which fits a difference {e_value:.1} times as well as none");
    if e_value >= enough {
        format!("The two can be told apart: {fits}.")
    } else {
        format!(
            "Not settled: {fits}, and it takes {enough:.0} times. Up to {} of people may tell them apart (19 times in 20).",
            percent(it.analysis.pd_at_most.get())
        )
    }
}

/// The result of a test that was to show likeness.
fn alike_sentence(it: &TestResult, verdict: Verdict, alike: &Similarity) -> String {
    let found = found_words(it);
    let pd = percent(it.planned.test.aims.pd.get());
    match (verdict, alike.most) {
        (Verdict::Shown, _) => format!(
            "Alike enough: {found}. If {pd} of all people could tell the two apart, so few would be right {}. That does not make them the same.",
            times_in(alike.true_beta.get())
        ),
        (Verdict::NotShown, Some(most)) => format!(
            "Not shown to be alike enough: {found}, and at most {most} were allowed. That does not show a difference: {}.",
            by_chance_words(it)
        ),
        _ => format!(
            "So few answers cannot show that the two are alike enough: {found}, and {}.",
            by_chance_words(it)
        ),
    }
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
    if it.is_self_poured() {
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
