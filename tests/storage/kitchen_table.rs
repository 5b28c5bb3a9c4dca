//! One kitchen table to store: a recipe, its batch, two people and a glass.
//!
//! `tests/fixtures/schema-1.db` holds exactly the rows of [`lay_and_taste`]: it was made when schema 1 was new.
//! `tests/fixtures/schema-2.db` was made when schema 2 was new, and holds the second sniff too; `schema-3.db`
//! by `blind_test::make_fixture` when schema 3 was new, and holds a blind test; `schema-4.db` when schema 4 was
//! new, and holds a practice; `schema-5.db` by `course::make_fixture` when schema 5 was new, and holds a course
//! with a series; `schema-6.db` when schema 6 was new, and holds an import and a panel; `schema-7.db` by
//! `proposal::make_fixture` when schema 7 was new, and holds a proposal; `schema-8.db` holds photographs, and
//! `schema-9.db`, by `removal::make_fixture`, something removed; `schema-10.db` is the same with schema 10.
//! Rows for other tests are added beside them; these stay as they are.

use thirdglass::domain::Abv;
use thirdglass::domain::Batch;
use thirdglass::domain::BatchEntry;
use thirdglass::domain::BatchEntryId;
use thirdglass::domain::BatchId;
use thirdglass::domain::Beer;
use thirdglass::domain::BeerId;
use thirdglass::domain::BlindingCode;
use thirdglass::domain::BottleFault;
use thirdglass::domain::Day;
use thirdglass::domain::DescriptorId;
use thirdglass::domain::EntryKind;
use thirdglass::domain::Field;
use thirdglass::domain::Form;
use thirdglass::domain::Knew;
use thirdglass::domain::Mark;
use thirdglass::domain::MarkId;
use thirdglass::domain::Moment;
use thirdglass::domain::Name;
use thirdglass::domain::Nose;
use thirdglass::domain::Notes;
use thirdglass::domain::NotesId;
use thirdglass::domain::NotesSource;
use thirdglass::domain::PlaceId;
use thirdglass::domain::Prompting;
use thirdglass::domain::Rating;
use thirdglass::domain::RecipeVersion;
use thirdglass::domain::RecipeVersionId;
use thirdglass::domain::Remark;
use thirdglass::domain::Sample;
use thirdglass::domain::SampleId;
use thirdglass::domain::Scale;
use thirdglass::domain::Seat;
use thirdglass::domain::SeatId;
use thirdglass::domain::SeatRole;
use thirdglass::domain::SecondSniff;
use thirdglass::domain::ShelfId;
use thirdglass::domain::Sitting;
use thirdglass::domain::SittingId;
use thirdglass::domain::SittingKind;
use thirdglass::domain::SniffAnswer;
use thirdglass::domain::SniffKind;
use thirdglass::domain::SniffedWord;
use thirdglass::domain::SniffedWordId;
use thirdglass::domain::Stage;
use thirdglass::domain::Stopwatch;
use thirdglass::domain::Subject;
use thirdglass::domain::Taster;
use thirdglass::domain::TasterId;
use thirdglass::storage::Store;

pub(crate) fn at(minute: u32) -> Moment {
    Moment::parse(&format!("2026-03-14T18:{minute:02}:00.000Z")).unwrap()
}

pub(crate) fn name(text: &str) -> Name {
    Name::new("a name", text).unwrap()
}

pub(crate) fn scale(id: &str) -> &'static Scale {
    Scale::from_id(id).unwrap()
}

pub(crate) fn taster(called: &str) -> Taster {
    Taster {
        id: TasterId::new(format!("taster-{}", called.to_lowercase())),
        name: name(called),
        made_at: at(0),
    }
}

pub(crate) fn first_version() -> RecipeVersion {
    RecipeVersion {
        id: RecipeVersionId::new("version-1"),
        parent: None,
        reason: None,
        name: name("Dark bread"),
        version: name("1"),
        document: "name = \"Dark bread\"\n".to_owned(),
        hash: "a".repeat(64),
        made_at: at(1),
    }
}

pub(crate) fn second_version() -> RecipeVersion {
    RecipeVersion {
        id: RecipeVersionId::new("version-2"),
        parent: Some(first_version().id),
        reason: Some(name("less roast")),
        version: name("2"),
        document: "name = \"Dark bread\"\r\n# less roast\n".to_owned(),
        hash: "b".repeat(64),
        made_at: at(2),
        ..first_version()
    }
}

pub(crate) fn batch() -> Batch {
    Batch {
        id: BatchId::new("batch-1"),
        version: first_version().id,
        cap_mark: name("Öse 7"),
        made_at: at(3),
    }
}

pub(crate) fn beer() -> Beer {
    Beer {
        id: BeerId::new("beer-1"),
        cap_mark: batch().cap_mark,
        batch: Some(batch().id),
        abv: Some(Abv::new(5.4).unwrap()),
    }
}

pub(crate) fn unrecorded_beer() -> Beer {
    Beer {
        id: BeerId::new("beer-2"),
        cap_mark: name("no label"),
        batch: None,
        abv: None,
    }
}

pub(crate) fn entry(id: &str, kind: &str, value: &str, minute: u32) -> BatchEntry {
    let kind = EntryKind::from_id(kind).unwrap();
    BatchEntry {
        id: BatchEntryId::new(id),
        kind,
        value: kind.read(value).unwrap(),
        at: at(minute),
    }
}

pub(crate) fn entries() -> Vec<BatchEntry> {
    vec![
        entry("entry-1", "brewed", "2026-02-01", 4),
        entry("entry-2", "original-gravity", "1.0524", 4),
        entry("entry-3", "note", "slow lauter\n\nhot sparge", 4),
        entry("entry-4", "bottles-left", "9", 4),
    ]
}

pub(crate) fn sitting() -> Sitting {
    Sitting {
        id: SittingId::new("sitting-1"),
        kind: SittingKind::Tasting,
        // The largest seed there is does not fit into a signed number.
        seed: u64::MAX,
        made_at: at(5),
        closed_at: None,
    }
}

pub(crate) fn seat(number: u32, taster: &Taster) -> Seat {
    Seat {
        id: SeatId::new(format!("seat-{number}")),
        sitting: sitting().id,
        taster: taster.id.clone(),
        role: SeatRole::Taster,
        left_at: None,
    }
}

pub(crate) fn sample() -> Sample {
    Sample {
        id: SampleId::new("sample-1"),
        sitting: sitting().id,
        code: BlindingCode::new(472).unwrap(),
        beer: beer().id,
        duplicate_of: None,
    }
}

/// Notes just begun.
pub(crate) fn blank_notes(id: &str, seat: &Seat, round: u8) -> Notes {
    Notes {
        id: NotesId::new(id),
        seat: seat.id.clone(),
        sample: sample().id,
        round,
        form: Form::Full,
        source: NotesSource::App,
        knew: None,
        nose: None,
        tasted_on: Day::parse("2026-03-14").unwrap(),
        typed_on: at(6),
        current_field: Field::Checklist.id(),
        seal_broken_at: None,
        locked_at: None,
        bottle_fault: None,
        remark: None,
        ratings: Vec::new(),
        marks: Vec::new(),
        stopwatches: Vec::new(),
    }
}

pub(crate) fn mark(
    id: &str,
    subject: Subject,
    intensity: Option<u8>,
    prompting: Prompting,
) -> Mark {
    Mark {
        id: MarkId::new(id),
        stage: Stage::Aroma,
        subject,
        intensity,
        prompting,
    }
}

pub(crate) fn word(id: &str) -> Subject {
    Subject::Descriptor(DescriptorId::new(id).unwrap())
}

/// Locked notes with something in every column.
pub(crate) fn full_notes(id: &str, seat: &Seat) -> Notes {
    let free = Remark::new("a word", "like my first bicycle").unwrap();
    Notes {
        form: Form::Short,
        source: NotesSource::Plain,
        knew: Some(Knew::WhichBeer),
        nose: Some(Nose::Meal),
        current_field: Field::Lock.id(),
        seal_broken_at: Some(at(7)),
        locked_at: Some(at(20)),
        bottle_fault: Some(BottleFault::Flat),
        remark: Some(Remark::new("a remark", "soft end\nshort").unwrap()),
        ratings: vec![
            (scale("bitter"), Rating::Rated(0.0)),
            (scale("sweet"), Rating::CannotTell),
            (scale("colour"), Rating::Rated(22.5)),
            (scale("haze"), Rating::Skipped),
        ],
        marks: vec![
            mark(
                &format!("{id}-d"),
                word("bread-crust"),
                Some(0),
                Prompting::Unprompted,
            ),
            mark(
                &format!("{id}-c"),
                Subject::Shelf(ShelfId::new("toasted").unwrap()),
                None,
                Prompting::Prompted,
            ),
            mark(
                &format!("{id}-b"),
                Subject::Place(PlaceId::new("bakery").unwrap()),
                Some(9),
                Prompting::Unprompted,
            ),
            mark(
                &format!("{id}-a"),
                Subject::Free(free),
                Some(3),
                Prompting::Unprompted,
            ),
        ],
        stopwatches: vec![Stopwatch {
            scale: scale("length"),
            started_at: at(8),
            stopped_at: Some(at(9)),
        }],
        ..blank_notes(id, seat, 1)
    }
}

/// A second sniff after the locked notes, with every kind of word and of answer in it.
pub(crate) fn second_sniff() -> SecondSniff {
    let word = |number: u32, word: &str, kind, answer: Option<SniffAnswer>| SniffedWord {
        // Ids that sort the other way round: the order is that of the drawing.
        id: SniffedWordId::new(format!("sniffed-{}", 9 - number)),
        descriptor: DescriptorId::new(word).unwrap(),
        kind,
        answered: answer.map(|answer| (answer, at(30 + number))),
    };
    SecondSniff {
        notes: NotesId::new("notes-1"),
        made_at: at(30),
        words: vec![
            word(1, "pepper", SniffKind::Decoy, Some(SniffAnswer::NotThere)),
            word(2, "orange-peel", SniffKind::Hoped, Some(SniffAnswer::There)),
            word(
                3,
                "cut-grass",
                SniffKind::Promised,
                Some(SniffAnswer::CannotTell),
            ),
            word(4, "vanilla", SniffKind::Decoy, None),
            word(5, "cocoa", SniffKind::Hoped, None),
            word(6, "banana", SniffKind::Decoy, None),
        ],
    }
}

/// Stores the recipe, the batch with its log, and the people.
pub(crate) fn lay(store: &mut Store) {
    store.add_recipe_version(&first_version()).unwrap();
    store.add_recipe_version(&second_version()).unwrap();
    store.add_batch(&batch(), &beer()).unwrap();
    for entry in entries() {
        store.add_entry(&batch().id, &entry).unwrap();
    }
    store.add_beer(&unrecorded_beer()).unwrap();
    store.add_taster(&taster("Ana")).unwrap();
    store.add_taster(&taster("Bo")).unwrap();
}

/// Stores the table and an open sitting: locked notes of Ana, open ones of Bo.
pub(crate) fn lay_and_taste(store: &mut Store) {
    lay(store);
    let ana = seat(1, &taster("Ana"));
    let bo = seat(2, &taster("Bo"));
    store
        .open_sitting(&sitting(), &ana, &sample(), &full_notes("notes-1", &ana))
        .unwrap();
    store
        .join_sitting(&bo, &blank_notes("notes-2", &bo, 1))
        .unwrap();
}

/// That everything of the table is in the store, letter for letter.
pub(crate) fn assert_laid_and_tasted(store: &Store) {
    assert_eq!(
        store.recipe_versions(),
        Ok(vec![first_version(), second_version()])
    );
    assert_eq!(store.batches(), Ok(vec![batch()]));
    assert_eq!(store.entries(&batch().id), Ok(entries()));
    assert_eq!(store.beer(&beer().id), Ok(Some(beer())));
    assert_eq!(
        store.beer(&unrecorded_beer().id),
        Ok(Some(unrecorded_beer()))
    );
    assert_eq!(store.tasters(), Ok(vec![taster("Ana"), taster("Bo")]));
    assert_eq!(
        store.open_sitting_of(&beer().id),
        Ok(Some((sitting(), sample())))
    );
    let (ana, bo) = (seat(1, &taster("Ana")), seat(2, &taster("Bo")));
    for notes in [full_notes("notes-1", &ana), blank_notes("notes-2", &bo, 1)] {
        assert_eq!(store.notes(&notes.id), Ok(Some(notes)));
    }
    assert_eq!(store.check(), Ok(Vec::new()));
}
