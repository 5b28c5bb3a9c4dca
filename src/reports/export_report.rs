//! Everything of one person as JSON, for them to take away; its keys are a promise.

use serde_json::Value;
use serde_json::json;

use crate::domain::BlindingCode;
use crate::domain::BottleFault;
use crate::domain::Certainty;
use crate::domain::Course;
use crate::domain::DescriptorId;
use crate::domain::Knew;
use crate::domain::Mark;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::Nose;
use crate::domain::PanelRating;
use crate::domain::PracticeAnswer;
use crate::domain::PracticeItem;
use crate::domain::Prompting;
use crate::domain::Rating;
use crate::domain::Remark;
use crate::domain::Scale;
use crate::domain::SniffAnswer;
use crate::domain::Spiked;
use crate::domain::Stopwatch;
use crate::domain::StrengthAnswer;
use crate::domain::StrengthGlass;
use crate::domain::Subject;
use crate::domain::Sureness;
use crate::workflow::ExportedAnswer;
use crate::workflow::ExportedNotes;
use crate::workflow::ExportedPractice;
use crate::workflow::ExportedTest;
use crate::workflow::TasterExport;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// What somebody takes away.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ExportKind {
    /// Everything, as JSON.
    Everything,
    /// Their rated answers, as a table with commas.
    Table,
}

/// A text to be written into a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WrittenExport {
    /// What the file holds, as a sentence.
    pub holds: String,
    /// The text.
    pub text: String,
}

/// What somebody takes away, as the text of a file.
#[must_use]
pub fn written_export(it: &TasterExport, kind: ExportKind) -> WrittenExport {
    let name = &it.taster.name;
    match kind {
        ExportKind::Everything => WrittenExport {
            holds: format!("It holds what is known of {name} here."),
            text: format!("{:#}\n", taster_export_json(it)),
        },
        ExportKind::Table => {
            let text = it.answers_table();
            let holds = match text.lines().count().saturating_sub(1) {
                0 => format!("There is no rated answer of {name} yet: it holds its head row only."),
                1 => format!("It holds 1 rated answer of {name}."),
                n => format!("It holds {n} rated answers of {name}."),
            };
            WrittenExport { holds, text }
        }
    }
}

/// Everything of one person.
fn taster_export_json(it: &TasterExport) -> Value {
    json!({
        "format": VERSION,
        "exported_at": it.exported_at.to_string(),
        "taster": it.taster.name.as_str(),
        "added_at": it.taster.made_at.to_string(),
        "notes": all(&it.notes, notes),
        "practices": all(&it.practices, practice),
        "tests": all(&it.tests, test),
        "courses": all(&it.courses, course),
        "poured_panels": it.poured_panels,
        "imported": all(&it.imported, imported),
        "held_back": it.held_back,
    })
}

fn all<T>(of: &[T], one: impl Fn(&T) -> Value) -> Vec<Value> {
    of.iter().map(one).collect()
}

fn moment(it: Option<Moment>) -> Option<String> {
    it.map(|it| it.to_string())
}

fn notes(it: &ExportedNotes) -> Value {
    let own = &it.notes;
    json!({
        "beer": it.cap_mark.as_ref().map(Name::as_str),
        "code": it.code.get(),
        "sitting": it.sitting.as_str(),
        "kind": it.kind.id(),
        "served_at": it.place,
        "round": own.round,
        "form": own.form.id(),
        "source": own.source.id(),
        "knew": own.knew.map(Knew::id),
        "nose": own.nose.map(Nose::id),
        "tasted_on": own.tasted_on.to_string(),
        "typed_at": own.typed_on.to_string(),
        "seal_broken_at": moment(own.seal_broken_at),
        "locked_at": moment(own.locked_at),
        "left_at": moment(it.left_at),
        "bottle_fault": own.bottle_fault.map(BottleFault::id),
        "remark": own.remark.as_ref().map(Remark::as_str),
        "ratings": all(&own.ratings, rating),
        "words": all(&own.marks, mark),
        "watches": all(&own.stopwatches, watch),
        "second_sniff": sniff(it),
    })
}

fn rating((scale, rating): &(&'static Scale, Rating)) -> Value {
    json!({ "scale": scale.id, "state": rating.state(), "value": rating.value(), "unit": scale.measure.unit() })
}

fn mark(it: &Mark) -> Value {
    let [kind, named] = subject(&it.subject);
    json!({
        "stage": it.stage.id(),
        "named": kind,
        "word": named,
        "intensity": it.intensity,
        "asked_for": it.prompting == Prompting::Prompted,
    })
}

/// What kind of thing a mark names, and its id or the person's own words.
fn subject(it: &Subject) -> [&str; 2] {
    match it {
        Subject::Descriptor(id) => ["descriptor", id.as_str()],
        Subject::Shelf(id) => ["shelf", id.as_str()],
        Subject::Place(id) => ["place", id.as_str()],
        Subject::Free(words) => ["own", words.as_str()],
    }
}

fn watch(it: &Stopwatch) -> Value {
    json!({
        "scale": it.scale.id,
        "started_at": it.started_at.to_string(),
        "stopped_at": moment(it.stopped_at),
    })
}

fn sniff(it: &ExportedNotes) -> Vec<Value> {
    let words = it.sniffed().map(|word| {
        json!({
            "word": word.descriptor.as_str(),
            "why_asked": it.are_decoys_told().then_some(word.kind.id()),
            "answer": word.answer().map(SniffAnswer::id),
            "given_at": moment(word.answered.map(|it| it.1)),
        })
    });
    words.collect()
}

fn practice(it: &ExportedPractice) -> Value {
    json!({
        "kind": it.practice.kind.id(),
        "told": it.practice.reveal.id(),
        "begun_at": it.begun_at.to_string(),
        "left_at": moment(it.left_at),
        "items": all(&it.run.items, |item| practice_item(item, &it.run.answers)),
        "series": all(&it.series.glasses, |glass| strength_glass(glass, &it.series.answers)),
    })
}

fn practice_item(it: &PracticeItem, answers: &[PracticeAnswer]) -> Value {
    let own = answers
        .iter()
        .filter(|answer| answer.position == it.position);
    let options = it.options.iter().map(DescriptorId::as_str);
    json!({
        "form": it.form.id(),
        "word": it.descriptor.as_str(),
        "options": options.collect::<Vec<_>>(),
        "code": it.code.map(BlindingCode::get),
        "glass": it.spiked.map(Spiked::id),
        "answers": own.map(practice_answer).collect::<Vec<_>>(),
    })
}

fn practice_answer(it: &PracticeAnswer) -> Value {
    let (reply, chosen) = it.reply.parts();
    json!({
        "reply": reply,
        "chosen": chosen,
        "certainty": it.certainty.map(Certainty::percent),
        "given_at": it.given_at.to_string(),
    })
}

fn strength_glass(it: &StrengthGlass, answers: &[StrengthAnswer]) -> Value {
    let own = answers
        .iter()
        .filter(|answer| answer.position == it.position);
    json!({
        "scale": it.scale.id,
        "step": it.step.get(),
        "code": it.code.get(),
        "answers": own.map(strength_answer).collect::<Vec<_>>(),
    })
}

fn strength_answer(it: &StrengthAnswer) -> Value {
    let (reply, chosen) = (it.reply.word(), it.reply.number());
    json!({ "reply": reply, "chosen": chosen, "given_at": it.given_at.to_string() })
}

fn test(it: &ExportedTest) -> Value {
    json!({
        "number": it.number,
        "role": it.seat.role.id(),
        "key_seen_at": moment(it.seat.key_seen_at),
        "left_at": moment(it.seat.left_at),
        "closed_at": moment(it.closed_at),
        "answers": all(&it.answers, test_answer),
    })
}

fn test_answer(it: &ExportedAnswer) -> Value {
    json!({
        "set": it.set,
        "code": it.code.map(BlindingCode::get),
        "right": it.right,
        "sureness": it.sureness.map(Sureness::id),
        "prefers": it.prefers.as_ref().map(Name::as_str),
        "differences": it.words,
        "source": it.source,
        "given_at": it.given_at.to_string(),
        "corrected": it.corrected,
    })
}

fn course(it: &Course) -> Value {
    json!({
        "name": it.name.as_str(),
        "meetings": it.meetings.get(),
        "begun_at": it.made_at.to_string(),
    })
}

fn imported(it: &PanelRating) -> Value {
    json!({
        "sitting": it.sitting.as_str(),
        "sample": it.sample.as_str(),
        "replicate": it.replicate,
        "tasted_on": it.tasted_on.to_string(),
        "scale": it.line.as_str(),
        "value": it.digits,
    })
}
