//! What to brew next as JSON.

use serde_json::Value;
use serde_json::json;

use crate::domain::Name;
use crate::domain::PromisedChange;
use crate::workflow::HopeGap;
use crate::workflow::HopeStanding;
use crate::workflow::NextChange;
use crate::workflow::NextProposal;
use crate::workflow::NextRecipe;
use crate::workflow::Proof;
use crate::workflow::ProofSide;
use crate::workflow::Remedy;
use crate::workflow::Split;
use crate::workflow::SplitKind;
use crate::workflow::WorthChanging;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// What to brew next as JSON.
#[must_use]
pub fn next_json(it: &NextRecipe) -> Value {
    json!({
        "format": VERSION,
        "cap_mark": it.cap_mark.as_str(),
        "recipe": it.recipe.as_str(),
        "version": it.version.as_str(),
        "glasses": it.glasses.0,
        "days": it.glasses.1,
        "not_counted": it.set_aside,
        "dangers": it.dangers,
        "astray": it.astray,
        "wishes": it.wishes,
        "tasters": it.tasters.iter().map(Name::as_str).collect::<Vec<_>>(),
        "worth_changing": match it.worth {
            WorthChanging::NoHopes => "no-hopes",
        WorthChanging::NoLever => "no-lever",
            WorthChanging::NotYet => "not-yet",
            WorthChanging::NoWay => "no-way",
            WorthChanging::Yes => "yes",
        },
        "remedies": it.remedies.iter().map(remedy).collect::<Vec<_>>(),
        "hopes": it.hopes.iter().map(hope).collect::<Vec<_>>(),
        "proposals": it.proposals.iter().map(proposal).collect::<Vec<_>>(),
        "unmet": it.unmet,
        "litres": it.litres.map(|it| json!({ "now": it.0, "then": it.1 })),
        "model": it.versions.0,
        "catalogue": it.versions.1,
    })
}

fn remedy(it: &Remedy) -> Value {
    json!({
        "word": it.word,
        "found_by": it.found_by,
        "named_in": it.named_in,
        "glasses": it.glasses,
        "open_second_bottle": it.wants_second_bottle(),
        "suspects": it.suspects.iter().map(|it| json!({
            "says": it.says,
            "odds": it.odds,
            "tell_by": it.look,
            "next_time": it.remedy,
            "logged": it.is_logged,
        })).collect::<Vec<_>>(),
    })
}

fn hope(it: &HopeGap) -> Value {
    json!({
        "line": it.id,
        "label": it.label,
        "hoped": it.hoped,
        "found": it.found,
        "gap": it.gap.map(|it| it.0),
        "gap_interval": it.gap.map(|it| [it.1, it.2]),
        "standing": match it.standing {
            HopeStanding::Missed => "missed",
            HopeStanding::Met => "met",
            HopeStanding::Open => "may-be-noise",
            HopeStanding::Silent => "not-mentioned",
            HopeStanding::NoLever => "no-lever",
        },
        "glasses_needed": it.needed,
    })
}

fn proposal(it: &NextProposal) -> Value {
    json!({
        "changes": it.changes.iter().map(change).collect::<Vec<_>>(),
        "hopes": it.hopes.iter().map(line).collect::<Vec<_>>(),
        "besides": it.besides.iter().map(line).collect::<Vec<_>>(),
        "figures": it.figures.iter().map(|it| json!({
            "figure": it.id, "unit": it.unit, "now": it.before, "then": it.after,
        })).collect::<Vec<_>>(),
        "chance_nearer": it.chance,
        "gap": { "now": it.gap.0, "then": it.gap.1 },
        "cost": it.cost.map(|it| json!({ "now": it.0, "then": it.1 })),
        "tests": it.proofs.iter().map(proof).collect::<Vec<_>>(),
        "split": it.split.as_ref().map(split),
    })
}

fn change(it: &NextChange) -> Value {
    json!({
        "change": it.words,
        "brings": it.brings.iter().map(|it| json!({ "label": it.0, "digits": it.1 })).collect::<Vec<_>>(),
        "new_here": it.is_new,
    })
}

fn line(it: &PromisedChange) -> Value {
    let it = &it.in_digits();
    json!({
        "line": it.id,
        "label": it.label,
        "now": it.now,
        "hoped": it.hoped,
        "then": it.expected,
        "interval": [it.low, it.high],
    })
}

fn proof(it: &Proof) -> Value {
    json!({
        "method": it.method.id,
        "d_prime": it.distance,
        "answers": it.answers,
        "friends": it.friends,
        "sets_each": it.rounds,
        "sittings": it.sittings,
        "attribute": it.direction.as_ref().map(|it| it.0.as_str()),
        "more_in": it.direction.as_ref().map(|it| match it.1 {
            ProofSide::New => "new",
            ProofSide::Old => "old",
        }),
        "millilitres": { "old": it.cost.of_each[0], "new": it.cost.of_each[1] },
        "alcohol_grams_each": it.cost.grams,
        "affordable": it.is_affordable,
    })
}

fn split(it: &Split) -> Value {
    json!({
        "kind": match it.kind {
            SplitKind::Halves => "halves",
            SplitKind::Quarters => "quarters",
            SplitKind::Glass => "glass",
        },
        "litres_each": it.litres,
        "worth_pairs_of_brews": it.worth,
    })
}
