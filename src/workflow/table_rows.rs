//! The rows of the readable tables, from what was gathered; cells stand in the order of the columns.

use std::borrow::Cow;

use crate::domain::BlindingCode;
use crate::domain::BottleFault;
use crate::domain::Certainty;
use crate::domain::Day;
use crate::domain::Knew;
use crate::domain::Mark;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::Nose;
use crate::domain::PracticeAnswer;
use crate::domain::PracticeItem;
use crate::domain::Prompting;
use crate::domain::Rating;
use crate::domain::Remark;
use crate::domain::Scale;
use crate::domain::SniffAnswer;
use crate::domain::SniffedWord;
use crate::domain::StrengthAnswer;
use crate::domain::StrengthGlass;
use crate::domain::Subject;
use crate::domain::Sureness;
use crate::formats::defused;
use crate::workflow::ExportedNotes;
use crate::workflow::ExportedPractice;
use crate::workflow::table_catalogue::Cell;
use crate::workflow::table_catalogue::Rows;
use crate::workflow::tables::Gathered;

/// An id of the wheel or of a scale, or another word of the program. The ids of notes are none: an archive may bring any.
const fn id(it: &str) -> Cell<'_> {
    Cell::Id(it)
}

fn id_or_nothing(it: Option<&'static str>) -> Cell<'static> {
    it.map_or(Cell::Nothing, id)
}

/// What is a text of a person already.
const fn text(it: &str) -> Cell<'_> {
    Cell::Text(Cow::Borrowed(it))
}

fn text_or_nothing(it: Option<&str>) -> Cell<'_> {
    it.map_or(Cell::Nothing, text)
}

/// What is written out as a text, such as a value with its unit.
#[expect(
    clippy::needless_pass_by_value,
    reason = "values are small, and one reads better without a sign before each"
)]
fn said(it: impl ToString) -> Cell<'static> {
    Cell::Text(Cow::Owned(it.to_string()))
}

const fn day(it: Day) -> Cell<'static> {
    Cell::Day(it)
}

const fn moment(it: Moment) -> Cell<'static> {
    Cell::Moment(it)
}

fn moment_or_nothing(it: Option<Moment>) -> Cell<'static> {
    it.map_or(Cell::Nothing, moment)
}

fn said_or_nothing(it: Option<impl ToString>) -> Cell<'static> {
    it.map_or(Cell::Nothing, said)
}

fn whole(it: impl Into<i64>) -> Cell<'static> {
    Cell::Whole(it.into())
}

fn whole_or_nothing(it: Option<impl Into<i64>>) -> Cell<'static> {
    it.map_or(Cell::Nothing, whole)
}

fn code(it: Option<BlindingCode>) -> Cell<'static> {
    whole_or_nothing(it.map(BlindingCode::get))
}

/// Each set of notes with the name of its taster.
fn all_notes(of: &Gathered) -> impl Iterator<Item = (&Name, &ExportedNotes)> {
    let all = of.exports.iter();
    all.flat_map(|it| it.notes.iter().map(|notes| (&it.taster.name, notes)))
}

/// A text that stands in many rows: whether anything has to be done to it is looked at once.
fn looked_at(it: &str) -> Cell<'_> {
    match defused(it) {
        Cow::Borrowed(plain) => id(plain),
        Cow::Owned(_) => text(it),
    }
}

/// How a row begins that hangs on notes.
fn head<'a>(taster: &'a Name, it: &'a ExportedNotes) -> Vec<Cell<'a>> {
    let mark = it.cap_mark.as_ref().map(Name::as_str);
    vec![
        looked_at(it.notes.id.as_str()),
        looked_at(taster.as_str()),
        mark.map_or(Cell::Nothing, looked_at),
    ]
}

fn dated_head<'a>(taster: &'a Name, it: &'a ExportedNotes) -> Vec<Cell<'a>> {
    let mut head = head(taster, it);
    head.push(day(it.notes.tasted_on));
    head
}

fn with<'a, const MORE: usize>(head: &[Cell<'a>], rest: [Cell<'a>; MORE]) -> Vec<Cell<'a>> {
    let mut row = Vec::with_capacity(head.len() + MORE);
    row.extend_from_slice(head);
    row.extend(rest);
    row
}

pub(super) fn notes(of: &Gathered) -> Rows<'_> {
    Box::new(all_notes(of).map(|(taster, it)| {
        let own = &it.notes;
        let rest = [
            whole(it.code.get()),
            text(it.sitting.as_str()),
            id(it.kind.id()),
            whole(own.round),
            id(own.form.id()),
            id(own.source.id()),
            id_or_nothing(own.knew.map(Knew::id)),
            id_or_nothing(own.nose.map(Nose::id)),
            day(own.tasted_on),
            moment(own.typed_on),
            moment_or_nothing(own.locked_at),
            moment_or_nothing(it.left_at),
            moment_or_nothing(own.seal_broken_at),
            id_or_nothing(own.bottle_fault.map(BottleFault::id)),
            text_or_nothing(own.remark.as_ref().map(Remark::as_str)),
        ];
        with(&head(taster, it), rest)
    }))
}

pub(super) fn ratings(of: &Gathered) -> Rows<'_> {
    Box::new(all_notes(of).flat_map(|(taster, it)| {
        let head = dated_head(taster, it);
        let ratings = it.notes.ratings.iter();
        ratings.map(move |(scale, rating)| with(&head, rated(scale, *rating)))
    }))
}

fn rated(scale: &'static Scale, rating: Rating) -> [Cell<'static>; 4] {
    [
        id(scale.id),
        id(rating.state()),
        rating.value().map_or(Cell::Nothing, Cell::Number),
        id(scale.measure.unit()),
    ]
}

pub(super) fn words(of: &Gathered) -> Rows<'_> {
    Box::new(all_notes(of).flat_map(|(taster, it)| {
        let head = dated_head(taster, it);
        let marks = it.notes.marks.iter();
        marks.map(move |mark| with(&head, named(mark)))
    }))
}

fn named(it: &Mark) -> [Cell<'_>; 5] {
    let (kind, word) = match &it.subject {
        Subject::Descriptor(id) => ("descriptor", id.as_str()),
        Subject::Shelf(id) => ("shelf", id.as_str()),
        Subject::Place(id) => ("place", id.as_str()),
        Subject::Free(words) => ("own", words.as_str()),
    };
    [
        id(it.stage.id()),
        id(kind),
        text(word),
        whole_or_nothing(it.intensity),
        Cell::Is(it.prompting == Prompting::Prompted),
    ]
}

pub(super) fn second_sniff(of: &Gathered) -> Rows<'_> {
    Box::new(all_notes(of).flat_map(|(taster, it)| {
        let head = head(taster, it);
        let words = it.sniffed();
        words.map(move |word| with(&head, sniffed(it, word)))
    }))
}

fn sniffed<'a>(it: &ExportedNotes, word: &'a SniffedWord) -> [Cell<'a>; 4] {
    let why = it.are_decoys_told().then_some(word.kind.id());
    [
        id(word.descriptor.as_str()),
        id_or_nothing(why),
        id_or_nothing(word.answer().map(SniffAnswer::id)),
        moment_or_nothing(word.answered.map(|it| it.1)),
    ]
}

pub(super) fn tests(of: &Gathered) -> Rows<'_> {
    Box::new(of.tests.iter().map(|it| {
        let test = &it.row.test;
        vec![
            whole(test.number),
            text(&test.method),
            id(test.purpose.id()),
            text(it.row.beers[0].cap_mark.as_str()),
            text(it.row.beers[1].cap_mark.as_str()),
            Cell::Number(test.aims.alpha.get()),
            Cell::Number(test.aims.beta.get()),
            Cell::Number(test.aims.pd.get()),
            whole(test.places),
            whole(test.rounds),
            Cell::Number(test.glass.get()),
            moment(test.made_at),
            moment_or_nothing(test.closed_at),
        ]
    }))
}

pub(super) fn test_answers(of: &Gathered) -> Rows<'_> {
    Box::new(of.tests.iter().flat_map(|test| {
        test.answers.iter().map(|(taster, it)| {
            vec![
                whole(test.row.test.number),
                text(taster),
                whole(it.set),
                code(it.code),
                it.right.map_or(Cell::Nothing, Cell::Is),
                id_or_nothing(it.sureness.map(Sureness::id)),
                text_or_nothing(it.prefers.as_ref().map(Name::as_str)),
                said(it.words.join("; ")),
                moment(it.given_at),
            ]
        })
    }))
}

/// Each practice with the name of its taster.
fn all_practices(of: &Gathered) -> impl Iterator<Item = (&Name, &ExportedPractice)> {
    let all = of.exports.iter();
    all.flat_map(|it| it.practices.iter().map(|one| (&it.taster.name, one)))
}

pub(super) fn practice(of: &Gathered) -> Rows<'_> {
    Box::new(all_practices(of).flat_map(|(taster, it)| {
        let kind = it.practice.kind.id();
        let head = [text(taster.as_str()), moment(it.begun_at), id(kind)];
        it.run.answers.iter().flat_map(move |answer| {
            let asked = it.run.items.iter();
            let asked = asked.filter(|item| item.position == answer.position);
            let head = head.clone();
            asked.map(move |item| with(&head, replied(item, answer)))
        })
    }))
}

fn replied<'a>(item: &'a PracticeItem, it: &'a PracticeAnswer) -> [Cell<'a>; 7] {
    let (reply, chosen) = it.reply.parts();
    [
        id(item.form.id()),
        id(item.descriptor.as_str()),
        code(item.code),
        id(reply),
        said_or_nothing(chosen),
        whole_or_nothing(it.certainty.map(Certainty::percent)),
        moment(it.given_at),
    ]
}

pub(super) fn strength(of: &Gathered) -> Rows<'_> {
    Box::new(all_practices(of).flat_map(|(taster, it)| {
        let head = [text(taster.as_str()), moment(it.begun_at)];
        it.series.answers.iter().flat_map(move |answer| {
            let glasses = it.series.glasses.iter();
            let glasses = glasses.filter(|glass| glass.position == answer.position);
            let head = head.clone();
            glasses.map(move |glass| with(&head, placed(glass, answer)))
        })
    }))
}

fn placed(glass: &StrengthGlass, it: &StrengthAnswer) -> [Cell<'static>; 6] {
    [
        id(glass.scale.id),
        whole(glass.step.get()),
        whole(glass.code.get()),
        id(it.reply.word()),
        whole(it.reply.number()),
        moment(it.given_at),
    ]
}

pub(super) fn tasters(of: &Gathered) -> Rows<'_> {
    let rows = of.exports.iter();
    Box::new(rows.map(|it| vec![text(it.taster.name.as_str()), moment(it.taster.made_at)]))
}

pub(super) fn recipes(of: &Gathered) -> Rows<'_> {
    Box::new(of.recipes.iter().map(|(it, parent)| {
        vec![
            text(it.name.as_str()),
            text(it.version.as_str()),
            text_or_nothing(parent.as_ref().map(Name::as_str)),
            said_or_nothing(it.reason.as_ref()),
            moment(it.made_at),
            text(&it.hash),
            text(&it.document),
        ]
    }))
}

pub(super) fn batches(of: &Gathered) -> Rows<'_> {
    Box::new(of.batches.iter().map(|it| {
        vec![
            text(it.mark.as_str()),
            text_or_nothing(it.recipe.as_deref()),
            it.packaged.map_or(Cell::Nothing, day),
            whole_or_nothing(it.bottles_left),
            i64::try_from(it.tasted).map_or(Cell::Nothing, Cell::Whole),
        ]
    }))
}

pub(super) fn log(of: &Gathered) -> Rows<'_> {
    Box::new(of.batches.iter().flat_map(|batch| {
        batch.log.iter().map(|it| {
            let value = it.value.number();
            vec![
                text(batch.mark.as_str()),
                text(it.kind.id),
                value.map_or_else(|| said(&it.value), Cell::Number),
                id_or_nothing(it.kind.measure.unit_names().first().copied()),
                moment(it.at),
            ]
        })
    }))
}

pub(super) fn imported(of: &Gathered) -> Rows<'_> {
    let all = of.exports.iter().flat_map(|it| &it.imported);
    Box::new(all.map(|it| {
        vec![
            text(it.taster.as_str()),
            text(it.sitting.as_str()),
            text(it.sample.as_str()),
            whole(it.replicate),
            day(it.tasted_on),
            text(it.line.as_str()),
            Cell::Number(it.digits),
        ]
    }))
}
