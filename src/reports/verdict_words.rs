//! The verdict on a line in a few words, the sentence over all lines, and what to do next.

use crate::domain::BottleFault;
use crate::domain::Measure;
use crate::domain::Name;
use crate::drawing::Dumbbell;
use crate::drawing::capitalised;
use crate::drawing::uncapitalised;
use crate::workflow::About;
use crate::workflow::ComparedLine;
use crate::workflow::Comparison;
use crate::workflow::Counted;
use crate::workflow::Foreseen;
use crate::workflow::Found;
use crate::workflow::HeldAgainst;
use crate::workflow::Outcome;

/// A difference smaller than this is told as none, in digits.
const SLIGHT: f64 = 0.5;

/// From the middle of a normal distribution to its tenth, in standard deviations.
const TO_THE_TENTH: f64 = 1.2816;

/// The verdict with its size first, and then in ever fewer words, for less room.
pub(super) fn said_words(line: &ComparedLine, found: &[Found]) -> Vec<String> {
    let words = line.outcome.words(line.against);
    let mut said = match (line.outcome, &line.judged) {
        (Outcome::More | Outcome::Less, Some(judged)) => {
            let range = between_words([judged.range.low, judged.range.high]);
            vec![format!("{words}, by {range}")]
        }
        // Silence of those who count, though others named it.
        (Outcome::NotMentionedYet, _) if line.hoped == Some(0.0) => {
            vec!["none, as hoped".to_owned()]
        }
        (Outcome::NotMentionedYet, _) => only_by(&line.named_by(found)),
        (Outcome::CannotTellYet, Some(judged)) => {
            vec![format!("{words} ({})", guess_words(judged.size))]
        }
        _ => Vec::new(),
    };
    said.push(words.to_owned());
    said
}

/// Who named it though their notes do not count; nothing where nobody did.
fn only_by(names: &[&Name]) -> Vec<String> {
    if names.is_empty() {
        return Vec::new();
    }
    let told: Vec<&str> = names.iter().map(|it| it.as_str()).collect();
    vec![
        format!("only by {}", told.join(", ")),
        format!("only by {} not counted", names.len()),
    ]
}

/// A range of a difference in whole digits, whichever way it goes.
fn between_words([low, high]: [f64; 2]) -> String {
    let [low, high] = [low.abs(), high.abs()];
    let [low, high] = [low.min(high).round(), low.max(high).round()];
    if high - low < 0.5 {
        format!("about {high:.0}")
    } else {
        format!("{low:.0} to {high:.0}")
    }
}

/// The best guess of a difference, as a question.
pub(super) fn guess_words(size: f64) -> String {
    if size.abs() < SLIGHT {
        "0?".to_owned()
    } else {
        format!("{size:+.1}?")
    }
}

/// What stands behind a verdict: range, odds, and what it would take.
pub(super) fn grounds(line: &ComparedLine) -> Vec<String> {
    let mut grounds = Vec::new();
    grounds.extend(panel_words(line));
    if let Some(judged) = &line.judged {
        let range = judged.range;
        grounds.push(format!(
            "8 times in 10 the true difference lies between {:+.1} and {:+.1}",
            range.low, range.high
        ));
        grounds.extend(line.learnt_offset.map(learnt_words));
        if line.outcome.differs() {
            let odds = 100.0 * judged.false_sign.get();
            grounds.push(if odds < 0.1 {
                "wrong way round in fewer than 1 of 1,000".to_owned()
            } else {
                format!("wrong way round with a chance of {odds:.1} %")
            });
        }
        if line.outcome == Outcome::CannotTellYet {
            grounds.extend(open_grounds([range.low, range.high], judged.needed));
        }
    }
    if let (Outcome::NotMentionedYet, Some(needed)) = (line.outcome, line.silent_tastings) {
        grounds.push(format!(
            "{} without it would mean that it is not there",
            counted(needed as usize, "tasting", "tastings")
        ));
    }
    grounds.extend(foreseen_grounds(line));
    grounds
}

/// What was taken off before a line was judged.
fn learnt_words(offset: f64) -> String {
    format!("after {offset:+.1}, learnt of the tasters on other batches, was taken off")
}

/// Why a line is not settled, and what it would take.
fn open_grounds([low, high]: [f64; 2], needed: Option<u32>) -> Vec<String> {
    let mut grounds = Vec::new();
    if low * high > 0.0 {
        let way = if low > 0.0 { "more" } else { "less" };
        grounds.push(format!(
            "so probably {way}, but not sure enough, since many lines are judged at once"
        ));
    }
    grounds.push(match needed {
        Some(more) => format!(
            "{} on other days would tell",
            counted(more as usize, "more glass", "more glasses")
        ),
        None => "not even 30 glasses would tell".to_owned(),
    });
    grounds
}

/// How far several tasters lie apart.
fn panel_words(line: &ComparedLine) -> Option<String> {
    let panel = line.panel.filter(|it| it.tasters > 1)?;
    let words = |value| value_words(line, Some(value));
    Some(format!(
        "{} tasters: median {}, from {} to {}",
        panel.tasters,
        words(panel.median),
        words(panel.lowest),
        words(panel.highest)
    ))
}

/// What the recipe gives, and from what.
fn foreseen_grounds(line: &ComparedLine) -> Vec<String> {
    let Some(foreseen) = &line.foreseen else {
        return Vec::new();
    };
    let chance = foreseen.chance.map(|chance| {
        format!(
            "by the recipe named {}, then at {:.0} to {:.0}",
            times_words(chance),
            foreseen.low,
            foreseen.high
        )
    });
    chance
        .into_iter()
        .chain(why_words(&line.about, foreseen))
        .collect()
}

/// Where a prediction comes from, the two largest parts.
pub(super) fn why_words(about: &About, foreseen: &Foreseen) -> Option<String> {
    let parts: Vec<String> = foreseen
        .why
        .iter()
        .take(2)
        .filter(|it| !it.0.is_empty())
        .map(|(from, part)| match about {
            About::Shelf { .. } => format!("{from} {:.0} %", 100.0 * part),
            About::Scale(_) => format!("{from} {part:+.1}"),
        })
        .collect();
    (!parts.is_empty()).then(|| format!("from {}", parts.join(", ")))
}

/// The line as a dumbbell.
pub(super) fn dumbbell(line: &ComparedLine) -> Dumbbell {
    Dumbbell {
        wished: line.hoped,
        range: line.foreseen.as_ref().map(|it| (it.low, it.high)),
        found: line.mean,
        strays: line
            .noise
            .filter(|_| line.against != HeldAgainst::Prediction)
            .map(|it| it * TO_THE_TENTH),
    }
}

/// What a line is held against, in digits: the hope, or the middle of the prediction.
pub(super) fn held(line: &ComparedLine) -> Option<f64> {
    match line.against {
        HeldAgainst::Intent => line.hoped,
        HeldAgainst::Prediction | HeldAgainst::OtherBeer => {
            line.foreseen.as_ref().map(|it| it.middle)
        }
    }
}

/// One sentence over all hopes.
pub(super) fn summary(it: &Comparison) -> String {
    let hopes: Vec<&ComparedLine> = it
        .hopes()
        .filter(|line| line.outcome != Outcome::HardlyMatters)
        .collect();
    if hopes.is_empty() {
        return "The recipe hopes for nothing: write an [intent] before the next brew to have something to compare with. The notes stand beside what the recipe predicts.".to_owned();
    }
    let mut parts = settled_words(&hopes);
    let open = hopes.len() - hopes.iter().filter(|it| is_settled(it.outcome)).count();
    if open == hopes.len() {
        return format!(
            "None of the {} can be settled yet: with so few glasses no difference is sure.",
            counted(hopes.len(), "hope", "hopes")
        );
    }
    if open > 0 {
        parts.push(format!("Not settled yet: {open}"));
    }
    format!(
        "{}. {}.",
        counted(hopes.len(), "hope", "hopes"),
        parts.join(". ")
    )
}

/// What can be said of the hopes, verdict by verdict.
fn settled_words(hopes: &[&ComparedLine]) -> Vec<String> {
    [
        Outcome::AsGoodAs,
        Outcome::More,
        Outcome::Less,
        Outcome::NotFound,
    ]
    .iter()
    .filter_map(|outcome| {
        let fitting = hopes.iter().filter(|line| line.outcome == *outcome);
        let labels: Vec<&str> = fitting.map(|line| line.label.as_str()).collect();
        let words = capitalised(outcome.words(HeldAgainst::Intent));
        (!labels.is_empty()).then(|| format!("{words}: {}", labels.join(", ")))
    })
    .collect()
}

const fn is_settled(outcome: Outcome) -> bool {
    outcome.differs() || matches!(outcome, Outcome::AsGoodAs)
}

/// What to do next, in a sentence.
pub(super) fn next_step(it: &Comparison) -> String {
    if it.faulty.contains(&BottleFault::Gushing) {
        return "Next: make the other bottles safe, every one of them; then taste what stayed calm."
            .to_owned();
    }
    let open = it.hopes().filter_map(|line| line.judged);
    let needed = open.filter_map(|judged| judged.needed).min();
    let silent = it
        .hopes()
        .any(|line| line.outcome == Outcome::NotMentionedYet);
    if let Some(change) = change_words(it) {
        return change;
    }
    match needed {
        Some(more) => more_glasses(it, more as usize),
        None if silent => {
            "Next: taste it again on another day; what stays unmentioned then is hardly there."
                .to_owned()
        }
        None => {
            "Next: nothing asks for a change; brew it again as it is, or write down a new hope."
                .to_owned()
        }
    }
}

/// What to change first: the largest settled difference, with what the recipe has it from.
fn change_words(it: &Comparison) -> Option<String> {
    let line = it.hopes().find(|line| line.outcome.differs())?;
    let label = uncapitalised(&line.label);
    let parts = line.foreseen.as_ref().map_or(&[][..], |it| &it.why);
    let from: Vec<&str> = parts
        .iter()
        .map(|it| it.0.as_str())
        .filter(|it| !it.is_empty())
        .take(2)
        .collect();
    let change = match from.as_slice() {
        [] => "Change one thing for that".to_owned(),
        [one] => format!("By the recipe it comes from {one}: change that"),
        [one, other, ..] => {
            format!("By the recipe it comes from {one} or {other}: change one of them")
        }
    };
    let what = match line.outcome {
        Outcome::NotFound => format!("{label} was hoped for and is not there"),
        Outcome::Less => format!("more {label}"),
        _ => format!("less {label}"),
    };
    Some(format!(
        "Next: {what}. {change}, and nothing else before the next tasting."
    ))
}

/// How to come to a verdict: friends who do not know the recipe tell more than one taster's glasses.
fn more_glasses(it: &Comparison, more: usize) -> String {
    /// Tasters from whom on days count more than heads (simulated with the default noise).
    const ENOUGH: usize = 3;
    let mut tasters: Vec<&str> = Vec::new();
    for found in it.counting_notes() {
        if !tasters.contains(&found.taster.as_str()) {
            tasters.push(found.taster.as_str());
        }
    }
    let days = counted(more, "more glass", "more glasses");
    match ENOUGH.saturating_sub(tasters.len()) {
        0 => format!("Next: taste {days} each, on other days, before you change anything."),
        friends => format!(
            "Next: pour it for {} who {} not know the recipe, on two days; the same tasters alone would need {days} each.",
            counted(friends, "friend", "friends"),
            if friends == 1 { "does" } else { "do" }
        ),
    }
}

/// A place among the digits in the unit of its line; a dash where there is none.
pub(super) fn value_words(line: &ComparedLine, digits: Option<f64>) -> String {
    digits_words(&line.about, digits)
}

/// A place among the digits in the unit of what it is about; a dash where there is none.
pub(super) fn digits_words(about: &About, digits: Option<f64>) -> String {
    let Some(digits) = digits else {
        return "–".to_owned();
    };
    match about {
        About::Scale(scale) => match &scale.measure {
            Measure::Amount { unit: "s", .. } => format!("{:.0}s", scale.value_at(digits)),
            Measure::Amount { .. } => format!("{:.0}", scale.value_at(digits)),
            _ => decimal(digits),
        },
        About::Shelf { .. } => decimal(digits),
    }
}

fn decimal(digits: f64) -> String {
    if (digits - digits.round()).abs() < 0.05 {
        format!("{digits:.0}")
    } else {
        format!("{digits:.1}")
    }
}

/// A chance in words.
pub(super) fn times_words(chance: f64) -> String {
    let times = (10.0 * chance).round();
    if times >= 10.0 {
        "almost always".to_owned()
    } else if times < 1.0 {
        "hardly ever".to_owned()
    } else {
        format!("{times:.0} times in 10")
    }
}

/// So many of something, in words.
fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// Which notes count, in a sentence; nothing where all do.
pub(super) const fn counted_words(counted: Counted) -> Option<&'static str> {
    match counted {
        Counted::All => None,
        Counted::TheUnled => Some(
            "Notes count of tasters who did not know the recipe and had no cold, as first written; the others are only shown.",
        ),
        Counted::OnlyLed => Some(
            "Everybody knew the recipe or had a poor nose: take the verdicts with that grain of salt.",
        ),
    }
}
