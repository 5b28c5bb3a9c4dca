//! All tests of the same two beers put together, as lines and as JSON.

use serde_json::Value;
use serde_json::json;

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::blind_words::times_in;
use crate::reports::comparison_report::wrapped;
use crate::workflow::DPrime;
use crate::workflow::Joint;
use crate::workflow::SamePair;
use crate::workflow::SameQuestion;
use crate::workflow::Ways;

/// From this e-value on a difference is shown: one over the usual risk of 5 %.
const SHOWN_FROM: f64 = 20.0;

/// What several tests say together; nothing of one alone.
#[must_use]
pub fn pair_lines(it: &SamePair, cells: usize) -> Vec<Line> {
    if it.tests() < 2 {
        return Vec::new();
    }
    let head = format!("All {} tests of these two beers", it.tests());
    let mut lines = vec![Line::blank(), Line::of(Ink::Strong, head)];
    lines.extend(wrapped(Ink::Plain, &pair_sentence(it), cells));
    for question in &it.questions {
        let text = format!("  {}", question_words(question));
        lines.extend(wrapped(Ink::Plain, &text, cells));
    }
    if let Some(joint) = &it.joint {
        let text = format!("  {}", joint_words(joint));
        lines.extend(wrapped(Ink::Plain, &text, cells));
    }
    lines
}

/// The evidence of all questions: that of the joined ones, or of the only one.
fn evidence(it: &SamePair) -> f64 {
    it.questions.iter().map(|it| it.summed.e_value).product()
}

fn pair_sentence(it: &SamePair) -> String {
    let fits = fits_words(evidence(it));
    if evidence(it) >= SHOWN_FROM {
        format!("Together they show a difference: {fits}. That holds however often you test again.")
    } else {
        format!(
            "Together they do not show a difference yet: {fits}, and it takes {SHOWN_FROM} times. You may go on testing and look each time."
        )
    }
}

fn fits_words(e_value: f64) -> String {
    if e_value >= 1.0 {
        format!(
            "the answers fit a difference {} times as well as none",
            rounded(e_value)
        )
    } else {
        format!(
            "the answers fit no difference {} times as well as one",
            rounded(1.0 / e_value)
        )
    }
}

/// One digit after the point where it matters.
fn rounded(times: f64) -> String {
    match times {
        it if it >= 1_000_000.0 => "more than a million".to_owned(),
        it if it >= 10.0 => format!("{it:.0}"),
        it => format!("{it:.1}"),
    }
}

fn question_words(it: &SameQuestion) -> String {
    let of = |count: crate::statistics::Count| format!("{} of {}", count.hits(), count.tries());
    let days: Vec<String> = it
        .days
        .iter()
        .map(|day| format!("test {}: {}", day.number, of(day.count)))
        .collect();
    let about = it
        .attribute
        .as_ref()
        .map_or_else(String::new, |it| format!(", {it}"));
    let what = match it.method.ways {
        Ways::One => "right",
        Ways::Either => "for the same beer",
    };
    let mut said = format!("{}{about}: {}", it.method.name, days.join(" · "));
    if days.len() > 1 {
        said = format!("{said}; {} {what} in all", of(it.summed.count));
        said.push_str(&sum_words(it));
    }
    said + "."
}

/// What the sum of several days says.
fn sum_words(it: &SameQuestion) -> String {
    let by_chance = if it.is_fixed {
        format!(
            "; if you had fixed beforehand that there would be {} tests, guessing alone does so well {}",
            it.days.len(),
            times_in(it.summed.p.get())
        )
    } else {
        "; not all went on to a number fixed beforehand, so their sum has no p-value".to_owned()
    };
    let spread = it.summed.spread.map_or_else(String::new, |it| {
        format!(
            "; days differ more than by chance with p = {:.2} (Tarone's Z, an approximation)",
            it.p.get()
        )
    });
    by_chance + &spread
}

fn joint_words(it: &Joint) -> String {
    let high = it
        .high
        .map_or("no upper end".to_owned(), |it| format!("{:.2}", it.get()));
    let likeliest = it.likeliest.map_or_else(
        || "every larger one fits too".to_owned(),
        |it| format!("likeliest {:.2}", it.get()),
    );
    format!(
        "Different questions meet in the distance d′: {likeliest}, by the likelihood {:.2} to {high} (less sure than 19 times in 20). With as many tests fixed beforehand, guessing alone does so well {}.",
        it.low.get(),
        times_in(it.p.get())
    )
}

/// All tests of the two beers as JSON.
#[must_use]
pub fn pair_json(it: &SamePair) -> Value {
    json!({
        "tests": it.tests(),
        "e_value": evidence(it),
        "questions": it.questions.iter().map(|it| json!({
            "method": it.method.id,
            "attribute": it.attribute,
            "days": it.days.iter().map(|day| json!({
                "test": day.number,
                "closed_at": day.closed_at.map(|it| it.to_string()),
                "correct": day.count.hits(),
                "answers": day.count.tries(),
            })).collect::<Vec<_>>(),
            "correct": it.summed.count.hits(),
            "answers": it.summed.count.tries(),
            "p": it.is_fixed.then(|| it.summed.p.get()),
            "e_value": it.summed.e_value,
            "days_differ_p": it.summed.spread.map(|it| it.p.get()),
        })).collect::<Vec<_>>(),
        "joint": it.joint.as_ref().map(|it| json!({
            "d_prime": it.likeliest.map(DPrime::get),
            "low": it.low.get(),
            "high": it.high.map(DPrime::get),
            "p": it.p.get(),
        })),
    })
}
