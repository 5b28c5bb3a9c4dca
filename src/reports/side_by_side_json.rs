//! Plan and notes side by side as JSON.

use serde_json::Value;
use serde_json::json;

use crate::domain::Knew;
use crate::domain::Nose;
use crate::domain::Prompting;
use crate::domain::Wheel;
use crate::reports::figures_json;
use crate::workflow::Figures;
use crate::workflow::Found;
use crate::workflow::HopedLine;
use crate::workflow::Noted;
use crate::workflow::SideBySide;
use crate::workflow::mark_words;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// Plan and notes as JSON.
#[must_use]
pub fn side_by_side_json(it: &SideBySide, wheel: &Wheel) -> Value {
    let figures = Figures {
        figures: it.figures.iter().map(|line| line.figure.clone()).collect(),
        assumed: Vec::new(),
        cautions: it.cautions.clone(),
    };
    json!({
        "format": VERSION,
        "cap_mark": it.cap_mark.as_str(),
        "recipe": it.recipe,
        "intent_frozen_at": it.intent.frozen_at.to_string(),
        "intent_edited_at": it.intent.edited_at.map(|at| at.to_string()),
        "judged_against_noise": false,
        "faulty_bottles": it.faulty_bottles,
        "notes": it.found.iter().map(|found| notes_json(found, wheel)).collect::<Vec<_>>(),
        "hoped": it.hoped.iter().map(hoped_json).collect::<Vec<_>>(),
        "promised": it.promised.iter().map(|line| json!({
            "packet": line.packet.as_str(),
            "word": line.word,
            "found_by": line.found_by,
        })).collect::<Vec<_>>(),
        "unplanned": it.unplanned.iter().map(|line| json!({
            "word": line.word,
            "found_by": line.found_by,
        })).collect::<Vec<_>>(),
        "beside": it.figures.iter().filter_map(|line| line.scale.map(|scale| json!({
            "figure": line.figure.id,
            "scale": scale.id,
            "noted": line.noted.iter().map(|noted| noted_json(*noted)).collect::<Vec<_>>(),
        }))).collect::<Vec<_>>(),
        "prediction": figures_json(&figures),
    })
}

fn hoped_json(line: &HopedLine) -> Value {
    json!({
        "line": line.id,
        "words": line.label,
        "unit": line.unit,
        "hoped": line.hoped,
        "matters": line.matters.id(),
        "noted": line.noted.iter().map(|noted| noted_json(*noted)).collect::<Vec<_>>(),
    })
}

fn notes_json(found: &Found, wheel: &Wheel) -> Value {
    json!({
        "taster": found.taster.as_str(),
        "tasted_on": found.tasted_on.to_string(),
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
