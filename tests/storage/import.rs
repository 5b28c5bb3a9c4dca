//! Ratings that were kept elsewhere: written row by row, read back sitting by sitting, taken away whole.

use thirdglass::domain::BlindingCode;
use thirdglass::domain::Day;
use thirdglass::domain::Form;
use thirdglass::domain::Millilitres;
use thirdglass::domain::Name;
use thirdglass::domain::Panel;
use thirdglass::domain::PanelRating;
use thirdglass::domain::RemovedKind;
use thirdglass::domain::Sample;
use thirdglass::domain::SampleId;
use thirdglass::domain::Seat;
use thirdglass::domain::SeatId;
use thirdglass::domain::SeatRole;
use thirdglass::domain::Sitting;
use thirdglass::domain::SittingId;
use thirdglass::domain::SittingKind;
use thirdglass::storage::ImportSummary;
use thirdglass::storage::StorageError;
use thirdglass::storage::Store;

use crate::kitchen_table as table;

fn name(text: &str) -> Name {
    Name::new("a name", text).unwrap()
}

fn rating(
    taster: &str,
    sitting: (&str, &str),
    sample: &str,
    replicate: u16,
    digits: f64,
) -> PanelRating {
    PanelRating {
        taster: name(taster),
        sitting: name(sitting.0),
        sample: name(sample),
        replicate,
        tasted_on: Day::parse(sitting.1).unwrap(),
        line: name("bitter"),
        digits,
    }
}

/// Two sittings of Ana and Bo, the later one first in the file.
pub(crate) fn lay_import(store: &mut Store) {
    store
        .in_one_go(|store| {
            let mut writer = store.begin_import("panel.csv", table::at(40))?;
            for taster in ["Ana", "Bo"] {
                writer.know(name(taster), table::taster(taster).id);
            }
            let (first, later) = (("one", "2026-03-01"), ("two", "2026-03-08"));
            for it in [
                rating("Ana", later, "stout", 1, 4.0),
                rating("Ana", first, "stout", 2, 6.0),
                rating("Ana", first, "stout", 1, 5.0),
                rating("Bo", first, "stout", 1, 2.5),
            ] {
                writer.add(&it)?;
            }
            writer.end("hash of panel.csv", 4)
        })
        .unwrap();
}

pub(crate) fn assert_import_laid(store: &Store) {
    let imports = store.imports().unwrap();
    assert_eq!(imports.len(), 1);
    assert_eq!((imports[0].number, imports[0].ratings), (1, 4));
    let mut told = Vec::new();
    store
        .each_import_line(1, |_, day, ratings| {
            let digits: Vec<f64> = ratings.iter().map(|it| it.digits).collect();
            told.push((day.to_string(), digits));
        })
        .unwrap();
    // Oldest sitting first, each taster's glasses in their order.
    let first = ("2026-03-01".to_owned(), vec![5.0, 6.0, 2.5]);
    assert_eq!(told, [first, ("2026-03-08".to_owned(), vec![4.0])]);
}

/// A panel of the two tasters on the beer of the table, which stands there two times.
pub(crate) fn lay_panel(store: &mut Store) {
    let (panel, sitting, samples, seats) = panel();
    store.add_panel(&panel, &sitting, &samples, &seats).unwrap();
}

pub(crate) fn assert_panel_laid(store: &Store) {
    let (panel, _, samples, _) = panel();
    assert_eq!(store.panels(), Ok(vec![panel.clone()]));
    assert_eq!(store.samples_of(&panel.sitting), Ok(samples));
    assert_eq!(store.waiting_glasses().unwrap().len(), 4);
}

type LaidPanel = (Panel, Sitting, Vec<Sample>, Vec<(Seat, Vec<SampleId>)>);

fn panel() -> LaidPanel {
    let sitting = Sitting {
        id: SittingId::new("sitting-of-a-panel"),
        kind: SittingKind::Panel,
        seed: 11,
        made_at: table::at(45),
        closed_at: None,
    };
    let sample = |id: &str, code, duplicate_of: Option<&str>| Sample {
        id: SampleId::new(id),
        sitting: sitting.id.clone(),
        code: BlindingCode::new(code).unwrap(),
        beer: table::beer().id,
        duplicate_of: duplicate_of.map(SampleId::new),
    };
    let samples = vec![
        sample("glass-of-panel", 274, None),
        sample("again-of-panel", 815, Some("glass-of-panel")),
    ];
    let seat = |taster: &str, role| Seat {
        id: SeatId::new(format!("panel-of-{taster}")),
        sitting: sitting.id.clone(),
        taster: table::taster(taster).id,
        role,
        left_at: None,
    };
    let order: Vec<SampleId> = samples.iter().map(|it| it.id.clone()).collect();
    let back: Vec<SampleId> = order.iter().rev().cloned().collect();
    let seats = vec![
        (seat("Ana", SeatRole::PouringTaster), order),
        (seat("Bo", SeatRole::Taster), back),
    ];
    let panel = Panel {
        sitting: sitting.id.clone(),
        number: 1,
        form: Form::Short,
        glass: Millilitres::new(60.0).unwrap(),
        poured_by: Some(table::taster("Ana").id),
        made_at: sitting.made_at,
        told_at: None,
    };
    (panel, sitting, samples, seats)
}

fn laid() -> Store {
    let mut store = Store::in_memory().unwrap();
    table::lay(&mut store);
    lay_import(&mut store);
    store
}

#[test]
fn ratings_come_back_by_day_and_the_sittings_of_one_taster_newest_first() {
    let store = laid();
    assert_import_laid(&store);
    let of = |taster: &str, most| {
        let sittings = store.last_import_sittings(&table::taster(taster).id, most);
        let days = sittings.unwrap().into_iter();
        days.map(|it| it.tasted_on.to_string()).collect::<Vec<_>>()
    };
    assert_eq!(of("Ana", 9), ["2026-03-08", "2026-03-01"]);
    assert_eq!(of("Ana", 1), ["2026-03-08"]);
    assert_eq!(of("Bo", 9), ["2026-03-01"]);
    let days = store.import_days(1).unwrap().unwrap();
    assert_eq!(
        (days.0.to_string(), days.1.to_string()),
        ("2026-03-01".to_owned(), "2026-03-08".to_owned())
    );
}

#[test]
fn the_same_bytes_are_not_kept_twice_and_nothing_of_the_second_stays() {
    let mut store = laid();
    let again = store.in_one_go(|store| {
        let mut writer = store.begin_import("again.csv", table::at(41))?;
        writer.know(name("Ana"), table::taster("Ana").id);
        writer.add(&rating("Ana", ("one", "2026-03-01"), "stout", 1, 5.0))?;
        writer.end("hash of panel.csv", 1)
    });
    assert!(again.is_err());
    assert_import_laid(&store);
}

#[test]
fn a_rating_of_somebody_who_was_not_made_known_is_refused() {
    let mut store = laid();
    let refused = store.in_one_go(|store| {
        let mut writer = store.begin_import("other.csv", table::at(41))?;
        writer.add(&rating("Cy", ("one", "2026-03-01"), "stout", 1, 5.0))
    });
    let refused = refused.unwrap_err();
    assert!(
        matches!(&refused, StorageError::Missing { id, .. } if id == "Cy"),
        "{refused}"
    );
    assert_eq!(store.imports().unwrap().len(), 1);
}

#[test]
fn sums_are_kept_with_what_they_are_of_and_go_with_their_import() {
    let mut store = laid();
    let import = store.imports().unwrap().remove(0);
    let sums = [ImportSummary {
        taster: 1,
        line: 1,
        document: "some sums".to_owned(),
    }];
    store.put_summaries(&import, 7, &sums).unwrap();
    store.put_summaries(&import, 8, &sums).unwrap();
    let kept = store.summaries().unwrap();
    assert_eq!(kept.len(), 1);
    assert_eq!((kept[0].formula_version, kept[0].up_to), (8, 4));
    assert_eq!(kept[0].taster, table::taster("Ana").id);
    assert_eq!(store.summaries_of(1).unwrap(), [(sums[0].clone(), 8, 4)]);
    let kind = (RemovedKind::Import, "1");
    let removal = store.remove(kind, "1", table::at(45)).unwrap();
    assert!(store.summaries().unwrap().is_empty() && store.imports().unwrap().is_empty());
    store.bring_back(&removal).unwrap();
    assert_eq!(store.summaries().unwrap().len(), 1);
    let removal = store.remove(kind, "1", table::at(46)).unwrap();
    store.throw_out(&removal).unwrap();
    assert!(store.summaries().unwrap().is_empty() && store.imports().unwrap().is_empty());
    assert!(store.taster(&table::taster("Ana").id).unwrap().is_some());
}
