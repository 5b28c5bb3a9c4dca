//! Which rows go with what is removed, for every kind of thing that can be.

use crate::domain::RemovedKind;

/// Rows of one table that go.
#[derive(Debug, Clone, Copy)]
pub(super) struct Going {
    /// The table.
    pub(super) table: &'static str,
    /// Which rows: `?1` is the id of what is removed. What went before is gone already.
    pub(super) fitting: &'static str,
}

const fn going(table: &'static str, fitting: &'static str) -> Going {
    Going { table, fitting }
}

/// What goes, in an order in which nothing asks for what went before. An import goes nowhere: it is marked.
pub(super) const fn going_with(kind: RemovedKind) -> &'static [Going] {
    match kind {
        RemovedKind::Batch => BATCH,
        RemovedKind::Beer => BEER,
        RemovedKind::Recipe => RECIPE,
        RemovedKind::Tasting => TASTING,
        RemovedKind::Test | RemovedKind::Panel | RemovedKind::Practice => SITTING,
        RemovedKind::Course => COURSE,
        RemovedKind::Photograph => PHOTOGRAPH,
        RemovedKind::Import => &[],
    }
}

const BATCH: &[Going] = &[
    going(
        "photograph",
        "beer IN (SELECT id FROM beer WHERE batch = ?1)",
    ),
    going("proposal", "batch = ?1"),
    going("prediction", "batch = ?1"),
    going("beer", "batch = ?1"),
    going("batch_entry", "batch = ?1"),
    going("batch", "id = ?1"),
];

const BEER: &[Going] = &[
    going("photograph", "beer = ?1"),
    going("beer", "id = ?1 AND batch IS NULL"),
];

const RECIPE: &[Going] = &[
    going("prediction", "version = ?1 AND batch IS NULL"),
    going("recipe_version", "id = ?1"),
];

/// The seat goes when nothing else stands before it, the glass when nobody else has it, and the sitting with its
/// last seat.
const TASTING: &[Going] = &[
    going("photograph", "notes = ?1"),
    going("second_sniff", "notes = ?1"),
    going("stopwatch", "notes = ?1"),
    going("mark", "notes = ?1"),
    going("rating", "notes = ?1"),
    going(
        "serving",
        "(seat, sample) = (SELECT seat, sample FROM notes WHERE id = ?1)
         AND NOT EXISTS (SELECT 1 FROM notes WHERE notes.seat = serving.seat
             AND notes.sample = serving.sample AND notes.id <> ?1)",
    ),
    going(
        "seat",
        "id = (SELECT seat FROM notes WHERE id = ?1)
         AND NOT EXISTS (SELECT 1 FROM notes WHERE notes.seat = seat.id AND notes.id <> ?1)
         AND NOT EXISTS (SELECT 1 FROM serving WHERE serving.seat = seat.id)",
    ),
    // What is left of the sitting is asked for through the glass, while the notes still name it.
    going(
        "sitting",
        "id = (SELECT sample.sitting FROM sample JOIN notes ON notes.sample = sample.id WHERE notes.id = ?1)
         AND NOT EXISTS (SELECT 1 FROM seat WHERE seat.sitting = sitting.id)",
    ),
    going(
        "sample",
        "sitting = (SELECT sample.sitting FROM sample JOIN notes ON notes.sample = sample.id WHERE notes.id = ?1)
         AND NOT EXISTS (SELECT 1 FROM sitting WHERE sitting.id = sample.sitting)",
    ),
    going("notes", "id = ?1"),
];

const SITTING: &[Going] = &[
    going(
        "answer_mark",
        "answer IN (SELECT answer.id FROM answer JOIN seat ON seat.id = answer.seat WHERE seat.sitting = ?1)",
    ),
    going("answer", "seat IN (SELECT id FROM seat WHERE sitting = ?1)"),
    going(
        "test_place",
        "seat IN (SELECT id FROM seat WHERE sitting = ?1)",
    ),
    going(
        "test_set",
        "test IN (SELECT id FROM test WHERE sitting = ?1)",
    ),
    going(
        "test_reference",
        "test IN (SELECT id FROM test WHERE sitting = ?1)",
    ),
    going("test", "sitting = ?1"),
    going("photograph", OF_NOTES),
    going("second_sniff", OF_NOTES),
    going("stopwatch", OF_NOTES),
    going("mark", OF_NOTES),
    going("rating", OF_NOTES),
    going("notes", OF_SEATS),
    going("serving", OF_SEATS),
    going("practice_answer", OF_SEATS),
    going("practice_option", OF_SEATS),
    going("practice_item", OF_SEATS),
    going("strength_answer", OF_SEATS),
    going("strength_glass", OF_SEATS),
    going("practice", "sitting = ?1"),
    going("panel", "sitting = ?1"),
    going("seat", "sitting = ?1"),
    going("sample", "sitting = ?1"),
    going("sitting", "id = ?1"),
];

const OF_SEATS: &str = "seat IN (SELECT id FROM seat WHERE sitting = ?1)";

const OF_NOTES: &str = "notes IN (SELECT notes.id FROM notes JOIN seat ON seat.id = notes.seat WHERE seat.sitting = ?1)";

const COURSE: &[Going] = &[
    going(
        "meeting_practice",
        "meeting IN (SELECT id FROM meeting WHERE course = ?1)",
    ),
    going("meeting", "course = ?1"),
    going("course_word", "course = ?1"),
    going("course_person", "course = ?1"),
    going("course", "id = ?1"),
];

const PHOTOGRAPH: &[Going] = &[going("photograph", "id = ?1")];

/// What can stand on something else.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Holder {
    /// A tasting of it.
    Tasting,
    /// A blind test in which it is served.
    Test,
    /// A panel at which it is tasted, or to which it belongs.
    Panel,
    /// A batch that was brewed from it.
    Batch,
    /// A recipe version that came from it.
    Version,
    /// A proposal for the version after it. It goes with the batch for which it was made.
    Proposal,
    /// A course that it is part of.
    Course,
}

/// Things of one sort that stand on something.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Held {
    /// What they are.
    pub holder: Holder,
    /// How many there are, at least one.
    pub count: u32,
    /// What they are, in words after that number.
    pub words: &'static str,
}

/// Something that must go first: what it is, and how many there are of it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Holding {
    /// What it is.
    holder: Holder,
    /// What it is, in words after a one.
    one: &'static str,
    /// What it is, in words after another number.
    many: &'static str,
    /// Counts them; `?1` is the id of what is to be removed.
    pub(super) counted: &'static str,
}

impl Holding {
    /// So many of them; none where there are none.
    pub(super) fn held(&self, count: u32) -> Option<Held> {
        let words = if count == 1 { self.one } else { self.many };
        let holder = self.holder;
        (count > 0).then_some(Held {
            holder,
            count,
            words,
        })
    }
}

const fn holding(
    holder: Holder,
    (one, many): (&'static str, &'static str),
    counted: &'static str,
) -> Holding {
    Holding {
        holder,
        one,
        many,
        counted,
    }
}

/// What stands on something and must be removed before it.
pub(super) const fn held_by(kind: RemovedKind) -> &'static [Holding] {
    match kind {
        RemovedKind::Batch => HOLD_BATCH,
        RemovedKind::Beer => HOLD_BEER,
        RemovedKind::Recipe => HOLD_RECIPE,
        RemovedKind::Practice => HOLD_PRACTICE,
        RemovedKind::Tasting => HOLD_TASTING,
        RemovedKind::Test
        | RemovedKind::Panel
        | RemovedKind::Course
        | RemovedKind::Photograph
        | RemovedKind::Import => &[],
    }
}

const HOLD_BATCH: &[Holding] = &[
    holding(
        Holder::Tasting,
        ("tasting", "tastings"),
        "SELECT count(DISTINCT sample.sitting) FROM sample JOIN beer ON beer.id = sample.beer
         JOIN sitting ON sitting.id = sample.sitting
         WHERE beer.batch = ?1 AND NOT EXISTS (SELECT 1 FROM test WHERE test.sitting = sample.sitting)
             AND NOT EXISTS (SELECT 1 FROM panel WHERE panel.sitting = sample.sitting)",
    ),
    holding(
        Holder::Test,
        ("blind test", "blind tests"),
        "SELECT count(*) FROM test WHERE beer_a IN (SELECT id FROM beer WHERE batch = ?1)
             OR beer_b IN (SELECT id FROM beer WHERE batch = ?1)",
    ),
    holding(
        Holder::Panel,
        ("panel", "panels"),
        "SELECT count(DISTINCT panel.number) FROM panel JOIN sample ON sample.sitting = panel.sitting
         JOIN beer ON beer.id = sample.beer WHERE beer.batch = ?1",
    ),
];

const HOLD_BEER: &[Holding] = &[
    holding(
        Holder::Tasting,
        ("tasting", "tastings"),
        "SELECT count(DISTINCT sitting) FROM sample WHERE beer = ?1
             AND NOT EXISTS (SELECT 1 FROM test WHERE test.sitting = sample.sitting)
             AND NOT EXISTS (SELECT 1 FROM panel WHERE panel.sitting = sample.sitting)",
    ),
    holding(
        Holder::Test,
        ("blind test", "blind tests"),
        "SELECT count(*) FROM test WHERE ?1 IN (beer_a, beer_b)",
    ),
    holding(
        Holder::Panel,
        ("panel", "panels"),
        "SELECT count(DISTINCT panel.number) FROM panel JOIN sample ON sample.sitting = panel.sitting
         WHERE sample.beer = ?1",
    ),
];

const HOLD_RECIPE: &[Holding] = &[
    holding(
        Holder::Batch,
        ("batch brewed from it", "batches brewed from it"),
        "SELECT count(*) FROM batch WHERE version = ?1",
    ),
    holding(
        Holder::Version,
        ("version made from it", "versions made from it"),
        "SELECT count(*) FROM recipe_version WHERE parent = ?1",
    ),
    holding(
        Holder::Proposal,
        ("proposal made from it", "proposals made from it"),
        "SELECT count(*) FROM proposal WHERE parent = ?1",
    ),
];

const HOLD_PRACTICE: &[Holding] = &[holding(
    Holder::Course,
    ("course", "courses"),
    "SELECT count(DISTINCT meeting.course) FROM meeting_practice
     JOIN meeting ON meeting.id = meeting_practice.meeting WHERE meeting_practice.sitting = ?1",
)];

const HOLD_TASTING: &[Holding] = &[holding(
    Holder::Panel,
    ("panel that it belongs to", "panels that it belongs to"),
    "SELECT count(*) FROM notes JOIN seat ON seat.id = notes.seat
     JOIN panel ON panel.sitting = seat.sitting WHERE notes.id = ?1",
)];

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::storage::Store;
    use crate::storage::archive_tables::tables;

    #[test]
    fn every_table_of_an_archive_goes_with_something_but_people_and_imports() {
        let store = Store::in_memory().unwrap();
        let all = tables(store.raw()).unwrap().into_iter().map(|it| it.name);
        let going: BTreeSet<&str> = RemovedKind::ALL
            .iter()
            .flat_map(|it| going_with(*it))
            .map(|it| it.table)
            .collect();
        let stays: Vec<String> = all
            .filter(|it| !going.contains(it.as_str()) && !it.starts_with("import"))
            .collect();
        assert_eq!(stays, ["taster"]);
    }
}
