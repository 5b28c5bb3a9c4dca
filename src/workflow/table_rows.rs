//! The rows of the readable tables, from what was gathered; cells stand in the order of the columns.

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
use crate::domain::StrengthReply;
use crate::domain::Subject;
use crate::domain::Sureness;
use crate::workflow::ExportedNotes;
use crate::workflow::ExportedPractice;
use crate::workflow::table_catalogue::Cell;
use crate::workflow::tables::Gathered;

#[expect(
    clippy::needless_pass_by_value,
    reason = "cells are made of ids, days and names alike, borrowed or not"
)]
fn text(it: impl ToString) -> Cell {
    Cell::Text(it.to_string())
}

fn or_nothing(it: Option<impl ToString>) -> Cell {
    it.map_or(Cell::Nothing, text)
}

fn whole(it: impl Into<i64>) -> Cell {
    Cell::Whole(it.into())
}

fn whole_or_nothing(it: Option<impl Into<i64>>) -> Cell {
    it.map_or(Cell::Nothing, whole)
}

fn code(it: Option<BlindingCode>) -> Cell {
    whole_or_nothing(it.map(BlindingCode::get))
}

fn moment(it: Option<Moment>) -> Cell {
    or_nothing(it)
}

/// Each set of notes with the name of its taster.
fn all_notes(of: &Gathered) -> impl Iterator<Item = (&Name, &ExportedNotes)> {
    let all = of.exports.iter();
    all.flat_map(|it| it.notes.iter().map(|notes| (&it.taster.name, notes)))
}

/// How a row begins that hangs on notes.
fn head(taster: &Name, it: &ExportedNotes) -> Vec<Cell> {
    vec![
        text(&it.notes.id),
        text(taster),
        or_nothing(it.cap_mark.as_ref()),
    ]
}

fn dated_head(taster: &Name, it: &ExportedNotes) -> Vec<Cell> {
    let mut head = head(taster, it);
    head.push(text(it.notes.tasted_on));
    head
}

fn with(mut head: Vec<Cell>, rest: impl IntoIterator<Item = Cell>) -> Vec<Cell> {
    head.extend(rest);
    head
}

pub(super) fn notes(of: &Gathered) -> Vec<Vec<Cell>> {
    let rows = all_notes(of).map(|(taster, it)| {
        let own = &it.notes;
        let rest = [
            whole(it.code.get()),
            text(&it.sitting),
            text(it.kind.id()),
            whole(own.round),
            text(own.form.id()),
            text(own.source.id()),
            or_nothing(own.knew.map(Knew::id)),
            or_nothing(own.nose.map(Nose::id)),
            text(own.tasted_on),
            text(own.typed_on),
            moment(own.locked_at),
            moment(it.left_at),
            moment(own.seal_broken_at),
            or_nothing(own.bottle_fault.map(BottleFault::id)),
            or_nothing(own.remark.as_ref().map(Remark::as_str)),
        ];
        with(head(taster, it), rest)
    });
    rows.collect()
}

pub(super) fn ratings(of: &Gathered) -> Vec<Vec<Cell>> {
    let rows = all_notes(of).flat_map(|(taster, it)| {
        let ratings = it.notes.ratings.iter();
        ratings.map(move |(scale, rating)| with(dated_head(taster, it), rated(scale, *rating)))
    });
    rows.collect()
}

fn rated(scale: &Scale, rating: Rating) -> [Cell; 4] {
    [
        text(scale.id),
        text(rating.state()),
        rating.value().map_or(Cell::Nothing, Cell::Number),
        text(scale.measure.unit()),
    ]
}

pub(super) fn words(of: &Gathered) -> Vec<Vec<Cell>> {
    let rows = all_notes(of).flat_map(|(taster, it)| {
        let marks = it.notes.marks.iter();
        marks.map(move |mark| with(dated_head(taster, it), named(mark)))
    });
    rows.collect()
}

fn named(it: &Mark) -> [Cell; 5] {
    let (kind, word) = match &it.subject {
        Subject::Descriptor(id) => ("descriptor", id.as_str()),
        Subject::Shelf(id) => ("shelf", id.as_str()),
        Subject::Place(id) => ("place", id.as_str()),
        Subject::Free(words) => ("own", words.as_str()),
    };
    [
        text(it.stage.id()),
        text(kind),
        text(word),
        whole_or_nothing(it.intensity),
        Cell::Is(it.prompting == Prompting::Prompted),
    ]
}

pub(super) fn second_sniff(of: &Gathered) -> Vec<Vec<Cell>> {
    let rows = all_notes(of).flat_map(|(taster, it)| {
        let words = it.sniffed();
        words.map(move |word| with(head(taster, it), sniffed(it, word)))
    });
    rows.collect()
}

fn sniffed(it: &ExportedNotes, word: &SniffedWord) -> [Cell; 4] {
    let why = it.are_decoys_told().then_some(word.kind.id());
    [
        text(&word.descriptor),
        or_nothing(why),
        or_nothing(word.answer().map(SniffAnswer::id)),
        moment(word.answered.map(|it| it.1)),
    ]
}

pub(super) fn tests(of: &Gathered) -> Vec<Vec<Cell>> {
    let rows = of.tests.iter().map(|it| {
        let test = &it.row.test;
        vec![
            whole(test.number),
            text(&test.method),
            text(test.purpose.id()),
            text(&it.row.beers[0].cap_mark),
            text(&it.row.beers[1].cap_mark),
            Cell::Number(test.aims.alpha.get()),
            Cell::Number(test.aims.beta.get()),
            Cell::Number(test.aims.pd.get()),
            whole(test.places),
            whole(test.rounds),
            Cell::Number(test.glass.get()),
            text(test.made_at),
            moment(test.closed_at),
        ]
    });
    rows.collect()
}

pub(super) fn test_answers(of: &Gathered) -> Vec<Vec<Cell>> {
    let rows = of.tests.iter().flat_map(|test| {
        test.answers.iter().map(|(taster, it)| {
            vec![
                whole(test.row.test.number),
                text(taster),
                whole(it.set),
                code(it.code),
                it.right.map_or(Cell::Nothing, Cell::Is),
                or_nothing(it.sureness.map(Sureness::id)),
                or_nothing(it.prefers.as_ref()),
                text(it.words.join("; ")),
                text(it.given_at),
            ]
        })
    });
    rows.collect()
}

/// Each practice with the name of its taster.
fn all_practices(of: &Gathered) -> impl Iterator<Item = (&Name, &ExportedPractice)> {
    let all = of.exports.iter();
    all.flat_map(|it| it.practices.iter().map(|one| (&it.taster.name, one)))
}

pub(super) fn practice(of: &Gathered) -> Vec<Vec<Cell>> {
    let mut rows = Vec::new();
    for (taster, it) in all_practices(of) {
        for answer in &it.run.answers {
            let asked = it.run.items.iter();
            let asked = asked.filter(|item| item.position == answer.position);
            rows.extend(asked.map(|item| {
                let kind = text(it.practice.kind.id());
                let head = vec![text(taster), text(it.begun_at), kind];
                with(head, replied(item, answer))
            }));
        }
    }
    rows
}

fn replied(item: &PracticeItem, it: &PracticeAnswer) -> [Cell; 7] {
    let (reply, chosen) = it.reply.parts();
    [
        text(item.form.id()),
        text(&item.descriptor),
        code(item.code),
        text(reply),
        or_nothing(chosen),
        whole_or_nothing(it.certainty.map(Certainty::percent)),
        text(it.given_at),
    ]
}

pub(super) fn strength(of: &Gathered) -> Vec<Vec<Cell>> {
    let mut rows = Vec::new();
    for (taster, it) in all_practices(of) {
        for answer in &it.series.answers {
            let glasses = it.series.glasses.iter();
            let glasses = glasses.filter(|glass| glass.position == answer.position);
            rows.extend(glasses.map(|glass| {
                let head = vec![
                    text(taster),
                    text(it.begun_at),
                    text(glass.scale.id),
                    whole(glass.step.get()),
                    whole(glass.code.get()),
                ];
                with(head, placed(answer))
            }));
        }
    }
    rows
}

fn placed(it: &StrengthAnswer) -> [Cell; 3] {
    let (reply, value) = match it.reply {
        StrengthReply::Rated(digit) => ("rated", digit.get()),
        StrengthReply::Placed(step) => ("placed", step.get()),
    };
    [text(reply), whole(value), text(it.given_at)]
}

pub(super) fn tasters(of: &Gathered) -> Vec<Vec<Cell>> {
    let rows = of.exports.iter();
    rows.map(|it| vec![text(&it.taster.name), text(it.taster.made_at)])
        .collect()
}

pub(super) fn recipes(of: &Gathered) -> Vec<Vec<Cell>> {
    let rows = of.recipes.iter().map(|(it, parent)| {
        vec![
            text(&it.name),
            text(&it.version),
            or_nothing(parent.as_ref()),
            or_nothing(it.reason.as_ref()),
            text(it.made_at),
            text(&it.hash),
            text(&it.document),
        ]
    });
    rows.collect()
}

pub(super) fn batches(of: &Gathered) -> Vec<Vec<Cell>> {
    let rows = of.batches.iter().map(|it| {
        vec![
            text(&it.mark),
            or_nothing(it.recipe.as_ref()),
            or_nothing(it.packaged.map(|day: Day| day.to_string())),
            whole_or_nothing(it.bottles_left),
            i64::try_from(it.tasted).map_or(Cell::Nothing, Cell::Whole),
        ]
    });
    rows.collect()
}

pub(super) fn log(of: &Gathered) -> Vec<Vec<Cell>> {
    let rows = of.log.iter().map(|(mark, it)| {
        let value = it.value.number();
        vec![
            text(mark),
            text(it.kind.id),
            value.map_or_else(|| text(&it.value), Cell::Number),
            or_nothing(it.kind.measure.unit_names().first()),
            text(it.at),
        ]
    });
    rows.collect()
}

pub(super) fn imported(of: &Gathered) -> Vec<Vec<Cell>> {
    let all = of.exports.iter().flat_map(|it| &it.imported);
    let rows = all.map(|it| {
        vec![
            text(&it.taster),
            text(&it.sitting),
            text(&it.sample),
            whole(it.replicate),
            text(it.tasted_on),
            text(&it.line),
            Cell::Number(it.digits),
        ]
    });
    rows.collect()
}
