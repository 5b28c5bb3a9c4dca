//! The history of a recipe as JSON.

use serde_json::Value;
use serde_json::json;

use crate::domain::Name;
use crate::domain::PromisedChange;
use crate::domain::Stopping;
use crate::reports::promise_words::promise_sentence;
use crate::reports::test_report::result_sentence;
use crate::workflow::Cause;
use crate::workflow::HistoryBatch;
use crate::workflow::HistoryPromise;
use crate::workflow::HistoryVersion;
use crate::workflow::HopesMet;
use crate::workflow::KitchenSpread;
use crate::workflow::PromiseKept;
use crate::workflow::PromiseLine;
use crate::workflow::RecipeHistory;
use crate::workflow::SinceWritten;
use crate::workflow::SpreadBasis;
use crate::workflow::TestResult;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// A history as JSON; amounts of lines are digits from 0 to 9. The long help of the command lists the keys.
#[must_use]
pub fn history_json(it: &RecipeHistory) -> Value {
    json!({
        "format": VERSION,
        "recipe": it.name.as_str(),
        "kitchen": kitchen_json(it.kitchen),
        "versions": it.versions.iter().map(version_json).collect::<Vec<_>>(),
    })
}

fn kitchen_json(it: KitchenSpread) -> Value {
    let pairs = match it.basis {
        SpreadBasis::Default => None,
        SpreadBasis::Measured { pairs } => Some(pairs),
    };
    json!({ "digits": it.sd, "pairs": pairs })
}

fn version_json(it: &HistoryVersion) -> Value {
    let told = &it.told;
    let parent = it.parent.as_ref();
    let parent = parent.map(|it| json!({ "name": it.0.as_str(), "version": it.1.as_str() }));
    json!({
        "name": it.name.as_str(),
        "version": it.version.as_str(),
        "depth": it.depth,
        "parent": parent,
        "kept_on": it.day().to_string(),
        "reason": told.reason.as_ref().map(Name::as_str),
        "changes": told.changes,
        "promised": told.promised.as_ref().map(promised_json),
        "batches": told.batches.iter().map(batch_json).collect::<Vec<_>>(),
        "tests": told.tests.iter().map(test_json).collect::<Vec<_>>(),
    })
}

fn promised_json(it: &HistoryPromise) -> Value {
    let test =
        it.proposed.test.as_ref().map(
            |it| json!({ "method": it.method, "distance": it.distance, "answers": it.answers }),
        );
    json!({
        "from": it.from.as_ref().map(Name::as_str),
        "altered": it.since_written == SinceWritten::Altered,
        "proposed": it.proposed.changes,
        "chance": it.proposed.chance,
        "lines": it.proposed.lines.iter().map(change_json).collect::<Vec<_>>(),
        "test": test,
    })
}

fn change_json(it: &PromisedChange) -> Value {
    let it = &it.in_digits();
    json!({
        "line": it.id,
        "words": it.label,
        "now": it.now,
        "hoped": it.hoped,
        "low": it.low,
        "expected": it.expected,
        "high": it.high,
    })
}

fn batch_json(it: &HistoryBatch) -> Value {
    json!({
        "cap_mark": it.cap_mark.as_str(),
        "brewed": it.brewed.map(|it| it.to_string()),
        "packaged": it.packaged.map(|it| it.to_string()),
        "tasted": it.tasted,
        "hopes": it.hopes.map(hopes_json),
        "promise": it.promise.as_ref().map(promise_json),
    })
}

fn hopes_json(it: HopesMet) -> Value {
    json!({ "as_meant": it.as_meant, "differ": it.differ, "of": it.of })
}

fn promise_json(it: &PromiseKept) -> Value {
    let cause = match it.cause {
        Cause::NothingSeen => "nothing-seen",
        Cause::Consistent => "consistent",
        Cause::TheChange => "the-change",
    };
    json!({
        "before": it.cap_marks[1].as_str(),
        "glasses": it.glasses,
        "cause": cause,
        "sentence": promise_sentence(it),
        "found": it.lines.iter().map(found_json).collect::<Vec<_>>(),
    })
}

fn found_json(it: &PromiseLine) -> Value {
    let size = it.moved.map(|it| it.size);
    let range = it.moved.map(|it| [it.range.low, it.range.high]);
    json!({
        "line": it.promised.id,
        "verdict": it.kept.words(),
        "change": it.change(),
        "noted": it.noted,
        "size": size,
        "range": range,
        "more_glasses": it.needed(),
        "beyond_brews": it.beyond_brews,
    })
}

fn test_json(it: &TestResult) -> Value {
    let count = it.analysis.count;
    // A test that was watched has no p-value.
    let is_fixed = it.planned.test.stopping == Stopping::Fixed;
    let p = is_fixed.then(|| it.analysis.p.get());
    json!({
        "number": it.planned.test.number,
        "beers": it.planned.beers.each_ref().map(|it| it.cap_mark.as_str()),
        "method": it.planned.method.id,
        "correct": count.hits(),
        "answers": count.tries(),
        "p": p,
        "sentence": result_sentence(it),
    })
}
