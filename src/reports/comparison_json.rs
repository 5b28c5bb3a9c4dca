//! Plan, prediction and notes side by side as JSON.

use serde_json::Value;
use serde_json::json;

use crate::domain::Knew;
use crate::domain::Matters;
use crate::domain::Nose;
use crate::domain::Prompting;
use crate::domain::Wheel;
use crate::reports::figures_json;
use crate::workflow::Basis;
use crate::workflow::ComparedLine;
use crate::workflow::Comparison;
use crate::workflow::Counted;
use crate::workflow::Figures;
use crate::workflow::Foreseen;
use crate::workflow::Found;
use crate::workflow::HeldAgainst;
use crate::workflow::Judged;
use crate::workflow::NearMiss;
use crate::workflow::Nearby;
use crate::workflow::Noted;
use crate::workflow::PromisedLine;
use crate::workflow::SniffedBy;
use crate::workflow::Unasked;
use crate::workflow::UnplannedWord;
use crate::workflow::mark_words;

/// The version of the JSON keys.
const VERSION: u32 = 2;

/// A comparison as JSON; every amount on a line is in digits of its scale, 0 to 9, but for what
/// was `noted`: that stands as it was answered, in the unit of the scale.
#[must_use]
pub fn comparison_json(it: &Comparison, wheel: &Wheel) -> Value {
    let figures = Figures {
        figures: it.figures.iter().map(|line| line.figure.clone()).collect(),
        assumed: Vec::new(),
        cautions: it.cautions.clone(),
    };
    let counted = match it.counted {
        Counted::All => "all",
        Counted::TheUnled => "unled",
        Counted::OnlyLed => "only led",
    };
    let notes = it.found.iter().enumerate();
    json!({
        "format": VERSION,
        "cap_mark": it.cap_mark.as_str(),
        "recipe": it.recipe,
        "intent_frozen_at": it.intent.frozen_at.to_string(),
        "intent_edited_at": it.intent.edited_at.map(|at| at.to_string()),
        "model_version": it.versions.0,
        "catalogue_version": it.versions.1,
        "counted": counted,
        "faulty_bottles": it.faulty.len(),
        "notes": notes.map(|(index, found)| notes_json(found, index < it.counting, wheel)).collect::<Vec<_>>(),
        "lines": it.lines.iter().map(line_json).collect::<Vec<_>>(),
        "also_foreseen": it.also_foreseen.iter().map(line_json).collect::<Vec<_>>(),
        "promised": it.promised.iter().map(promised_json).collect::<Vec<_>>(),
        "near_misses": it.near_misses.iter().map(near_json).collect::<Vec<_>>(),
        "second_sniffs": it.second_sniffs.iter().map(sniff_json).collect::<Vec<_>>(),
        "unplanned": it.unplanned.iter().map(unplanned_json).collect::<Vec<_>>(),
        "figures": figures_json(&figures),
    })
}

fn promised_json(line: &PromisedLine) -> Value {
    let verdict = if line.found_by.is_empty() {
        line.outcome.words(HeldAgainst::Intent)
    } else {
        "found"
    };
    json!({
        "packet": line.packet.as_str(),
        "word": line.word,
        "found_by": line.found_by,
        "verdict": verdict,
    })
}

fn near_json(miss: &NearMiss) -> Value {
    let nearby = match miss.nearby {
        Nearby::Neighbour => "neighbour",
        Nearby::LookAlike => "look-alike",
    };
    json!({
        "planned": miss.planned,
        "found": miss.found,
        "nearby": nearby,
        "tell": miss.tell,
        "found_by": miss.by,
    })
}

fn sniff_json(it: &SniffedBy) -> Value {
    let words = it.words.iter().map(|(word, kind, answer)| {
        json!({ "word": word, "asked_as": kind.id(), "answer": answer.id() })
    });
    json!({ "taster": it.taster.as_str(), "words": words.collect::<Vec<_>>() })
}

fn unplanned_json(line: &UnplannedWord) -> Value {
    json!({
        "word": line.word,
        "found_by": line.found_by,
        "named_in": line.named_in,
        "verdict": line.judged.map(unasked_word),
        "predicted_chance": line.foreseen,
    })
}

const fn unasked_word(judged: Unasked) -> &'static str {
    match judged {
        Unasked::NotAskedFor => "not asked for",
        Unasked::MaybeASlip => "may be a slip",
    }
}

/// One line as JSON.
pub(super) fn line_json(line: &ComparedLine) -> Value {
    json!({
        "line": line.id,
        "words": line.label,
        "matters": line.matters.map(Matters::id),
        "hoped": line.hoped,
        "predicted": line.foreseen.as_ref().map(foreseen_json),
        "found": line.mean,
        "panel": line.panel.map(|it| json!({
            "tasters": it.tasters,
            "median": it.median,
            "lowest": it.lowest,
            "highest": it.highest,
        })),
        "noise": line.noise,
        "noted": line.noted.iter().map(|noted| noted_json(*noted)).collect::<Vec<_>>(),
        "verdict": line.outcome.words(line.against),
        "judged": line.judged.as_ref().map(judged_json),
        "learnt_offset": line.learnt_offset,
        "silent_tastings": line.silent_tastings,
    })
}

/// What is predicted of a line as JSON.
pub(super) fn foreseen_json(it: &Foreseen) -> Value {
    json!({
        "chance": it.chance,
        "low": it.low,
        "middle": it.middle,
        "high": it.high,
        "why": it.why.iter().map(|(from, part)| json!({ "from": from, "part": part })).collect::<Vec<_>>(),
    })
}

pub(super) fn judged_json(it: &Judged) -> Value {
    json!({
        "difference": it.size,
        "low": it.range.low,
        "high": it.range.high,
        "false_sign_rate": it.false_sign.get(),
        "within_one_digit": it.as_good_as_none.get(),
        "noise": noise_word(it.basis.weakest()),
        "more_glasses_needed": it.needed,
    })
}

fn notes_json(found: &Found, counts: bool, wheel: &Wheel) -> Value {
    json!({
        "taster": found.taster.as_str(),
        "tasted_on": found.tasted_on.to_string(),
        "counts": counts,
        "round": found.notes.round,
        "form": found.notes.form.id(),
        "knew": found.notes.knew.map(Knew::id),
        "nose": found.notes.nose.map(Nose::id),
        "seal_broken": found.notes.seal_broken_at.is_some(),
        "words": found.notes.marks.iter().map(|mark| json!({
            "stage": mark.stage.id(),
            "words": mark_words(wheel, mark),
            "intensity": mark.intensity,
            "prompted": mark.prompting == Prompting::Prompted,
        })).collect::<Vec<_>>(),
        "firsts": found.firsts,
    })
}

fn noted_json(noted: Noted) -> Value {
    match noted {
        Noted::Value(value) => json!({ "state": "value", "value": value }),
        Noted::Named => json!({ "state": "named", "value": null }),
        Noted::NotMentioned => json!({ "state": "not mentioned", "value": null }),
        Noted::Skipped => json!({ "state": "skipped", "value": null }),
        Noted::CannotTell => json!({ "state": "cannot tell", "value": null }),
        Noted::NotAnswered => json!({ "state": "not answered", "value": null }),
        Noted::NotAsked => json!({ "state": "not asked", "value": null }),
    }
}

/// Where the noise comes from.
const fn noise_word(basis: Basis) -> &'static str {
    match basis {
        Basis::Default => "default",
        Basis::Borrowed => "borrowed",
        Basis::Measured => "measured",
    }
}
