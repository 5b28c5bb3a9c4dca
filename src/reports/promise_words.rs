//! What became of a promise, in words.

use crate::reports::blind_words::number_of;
use crate::reports::blind_words::percent;
use crate::workflow::Cause;
use crate::workflow::Kept;
use crate::workflow::KitchenSpread;
use crate::workflow::PromiseKept;
use crate::workflow::PromiseLine;
use crate::workflow::SinceWritten;
use crate::workflow::SpreadBasis;

/// A difference smaller than this is told as none, in digits.
const SLIGHT: f64 = 0.05;

/// One promised line beside what was found of it.
pub(super) fn promise_line_words(it: &PromiseLine) -> String {
    let [low, by, high] = it.change();
    let promised = format!(
        "promised {} ({} to {})",
        signed(by),
        signed(low),
        signed(high)
    );
    let found = it.moved.map_or_else(
        || "no number in both beers yet".to_owned(),
        |moved| {
            let range = moved.range;
            format!(
                "found {} ({} to {})",
                signed(moved.size),
                signed(range.low),
                signed(range.high)
            )
        },
    );
    let label = &it.promised.label;
    format!("{label}: {promised}, {found}: {}", kept_words(it))
}

/// The verdict on a line; one that is open says what it would take.
pub(super) fn kept_words(it: &PromiseLine) -> String {
    let words = it.kept.words();
    match (it.kept, it.needed()) {
        (Kept::CannotTell, Some(more)) => {
            let glasses = number_of(more, "more glass", "more glasses");
            format!("{words} ({glasses} of each)")
        }
        _ => words.to_owned(),
    }
}

/// Whether a promise was kept, and what made the difference, in plain sentences.
#[must_use]
pub fn promise_sentence(it: &PromiseKept) -> String {
    let altered = match it.since_written {
        SinceWritten::Unaltered => "",
        SinceWritten::Altered => {
            "The file was altered after it was written, so the promise is of another recipe. "
        }
    };
    let count = |kept: Kept| it.lines.iter().filter(|it| it.kept == kept).count();
    let told: Vec<String> = [
        Kept::AsPromised,
        Kept::Less,
        Kept::More,
        Kept::OtherWay,
        Kept::CannotTell,
    ]
    .into_iter()
    .filter(|kept| count(*kept) > 0)
    .map(|kept| format!("{} {}", count(kept), kept.words()))
    .collect();
    let of = u32::try_from(it.lines.len()).unwrap_or(u32::MAX);
    if told.is_empty() {
        return format!("{altered}No line was promised to move.");
    }
    format!(
        "{altered}Of {}: {}. {}",
        number_of(of, "promised line", "promised lines"),
        told.join(", "),
        cause_words(it)
    )
}

fn cause_words(it: &PromiseKept) -> String {
    match (it.cause, it.kitchen.basis) {
        (Cause::NothingSeen, _) if it.lines.iter().any(|it| it.kept == Kept::CannotTell) => {
            "Nothing moved as promised beyond the noise yet.".to_owned()
        }
        (Cause::NothingSeen, _) => "Nothing moved as promised beyond the noise.".to_owned(),
        (Cause::TheChange, _) => format!(
            "The change did it: more moved than two brews of one recipe differ here ({}).",
            kitchen_words(it.kitchen)
        ),
        (Cause::Consistent, SpreadBasis::Default) => {
            "That is consistent with the change. Whether the change did it only a repeat brew tells: the same version brewed twice and tasted both times."
                .to_owned()
        }
        (Cause::Consistent, SpreadBasis::Measured { .. }) => format!(
            "That is consistent with the change, but two brews of one recipe may differ as much here ({}).",
            kitchen_words(it.kitchen)
        ),
    }
}

/// How far brews of one recipe lie apart, and what that rests on.
#[must_use]
pub fn kitchen_words(it: KitchenSpread) -> String {
    match it.basis {
        SpreadBasis::Default => format!(
            "from brew to brew {:.1} digits are assumed, a judgement, until one version was brewed twice and tasted both times",
            it.sd
        ),
        SpreadBasis::Measured { pairs } => format!(
            "from brew to brew {:.1} digits, measured on {}",
            it.sd,
            number_of(
                pairs,
                "pair of brews of one version",
                "pairs of brews of one version"
            )
        ),
    }
}

/// The chance that the gap to the hopes shrinks.
pub(super) fn chance_words(chance: f64) -> String {
    format!("with a chance of {} nearer to the hopes", percent(chance))
}

/// A difference with its sign.
pub(super) fn signed(it: f64) -> String {
    if it.abs() < SLIGHT {
        "0.0".to_owned()
    } else {
        format!("{it:+.1}")
    }
}
