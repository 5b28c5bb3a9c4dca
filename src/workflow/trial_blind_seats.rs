//! Who may sit down at a blind test, who may read which of its sheets, and what becomes of an answer.

use crate::domain::NotesSource;
use crate::domain::Pouring;
use crate::domain::SheetKind;
use crate::statistics::Count;
use crate::statistics::Dice;
use crate::workflow::BlindError;
use crate::workflow::Clock;
use crate::workflow::Closing;
use crate::workflow::FilledFrom;
use crate::workflow::Home;
use crate::workflow::PlanRequest;
use crate::workflow::TakePlace;
use crate::workflow::trial_blind::FRIENDS;
use crate::workflow::trial_blind::answered;
use crate::workflow::trial_blind::choice;
use crate::workflow::trial_blind::given;
use crate::workflow::trial_blind::refused;
use crate::workflow::trial_blind::request;

#[test]
fn whoever_saw_the_key_cannot_answer_and_whoever_tastes_cannot_see_it() {
    let mut home = Home::trial();
    home.plan_test(&request()).unwrap();
    let nobody = refused(home.sheet(1, SheetKind::Pourer, None));
    assert!(matches!(nobody, BlindError::NobodyLooks { .. }), "{nobody}");
    home.sheet(1, SheetKind::Pourer, Some("Hob")).unwrap();
    let error = refused(home.sit_down(1, "hob", TakePlace::NextFree));
    assert!(matches!(error, BlindError::SawTheKey { .. }), "{error}");
    home.sit_down(1, "Ana", TakePlace::NextFree).unwrap();
    let error = refused(home.sheet(1, SheetKind::Pourer, Some("Ana")));
    assert!(matches!(error, BlindError::TastesHere { .. }), "{error}");
}

#[test]
fn with_two_people_nobody_holds_both_halves_and_together_they_fill_every_cup_rightly() {
    let mut home = Home::trial();
    let planned = home
        .plan_test(&PlanRequest {
            pouring: Pouring::Two,
            ..request()
        })
        .unwrap();
    let jugs = home.sheet(1, SheetKind::Pourer, Some("Hob")).unwrap();
    assert!(jugs.rows.is_empty() && jugs.jugs.len() == 2);
    let error = refused(home.sheet(1, SheetKind::Server, Some("Hob")));
    assert!(matches!(error, BlindError::BothHalves { .. }), "{error}");
    let cups = home.sheet(1, SheetKind::Server, Some("Ida")).unwrap();
    for row in &cups.rows {
        for (code, filled) in &row.cups {
            let Some(FilledFrom::Jug(letter)) = filled else {
                panic!("{filled:?}");
            };
            let mark = &jugs.jugs.iter().find(|it| it.0 == *letter).unwrap().1;
            let sample = planned.samples.iter().find(|it| it.code == *code).unwrap();
            let beer = planned
                .beers
                .iter()
                .find(|it| it.id == sample.beer)
                .unwrap();
            assert_eq!(beer.cap_mark, *mark);
        }
    }
    let without = refused(home.sheet(99, SheetKind::Pourer, Some("Hob")));
    assert!(
        without.to_string().contains("the tests are: 1"),
        "{without}"
    );
}

#[test]
fn labels_and_ballots_tell_nothing_of_what_is_in_a_cup() {
    let mut home = Home::trial();
    home.plan_test(&request()).unwrap();
    for kind in [SheetKind::Labels, SheetKind::Ballots] {
        let sheet = home.sheet(1, kind, None).unwrap();
        assert!(sheet.jugs.is_empty());
        let cups = sheet.rows.iter().flat_map(|it| &it.cups);
        assert!(cups.clone().count() == 21 && cups.clone().all(|it| it.1.is_none()));
    }
    let server = refused(home.sheet(1, SheetKind::Server, Some("Hob")));
    assert!(matches!(server, BlindError::NoSuchSheet { .. }), "{server}");
    // 21 cups of 30 mL: seven triangles are 10 or 11 of one beer.
    let sheet = home.sheet(1, SheetKind::Ballots, None).unwrap();
    assert!((sheet.millilitres.iter().sum::<f64>() - 630.0).abs() < 1e-9);
    assert!(
        sheet
            .millilitres
            .iter()
            .all(|it| (300.0..=330.0).contains(it))
    );
}

#[test]
fn an_answer_is_corrected_until_its_taster_leaves_and_stays_afterwards() {
    let mut home = Home::trial();
    let planned = home.plan_test(&request()).unwrap();
    let place = home.sit_down(1, "Ana", TakePlace::NextFree).unwrap();
    let wrong = given(&mut home, &planned, &place, 1, false);
    let right = given(&mut home, &planned, &wrong, 1, true);
    assert!(right.open().is_none());
    home.leave_place(&right).unwrap();
    let again = refused(home.sit_down(1, "Ana", TakePlace::NextFree));
    assert!(matches!(again, BlindError::Answered { .. }), "{again}");
    let answer = right.sets[0].answered.clone().unwrap();
    let late = refused(home.answer_set(&right, 1, &answer, NotesSource::App));
    assert!(matches!(late, BlindError::Answered { .. }), "{late}");
    home.close_test(1, Closing::Early).unwrap();
    let result = home.test_result(1).unwrap();
    assert_eq!(Some(result.analysis.count), Count::new(1, 1));
    assert_eq!(result.missing, 6);
}

#[test]
fn an_open_test_is_not_read_and_not_closed_with_ballots_open_and_a_closed_one_takes_nothing() {
    let mut home = Home::trial();
    let planned = home.plan_test(&request()).unwrap();
    let empty = refused(home.close_test(1, Closing::Early));
    assert!(matches!(empty, BlindError::NoAnswers { .. }), "{empty}");
    answered(&mut home, &planned, "Ana", &[true]);
    let early = refused(home.test_result(1));
    assert!(matches!(early, BlindError::Open { .. }), "{early}");
    let open = refused(home.close_test(1, Closing::Complete));
    assert!(
        matches!(open, BlindError::BallotsOpen { missing: 6, .. }),
        "{open}"
    );
    let sitting = home.sit_down(1, "Ben", TakePlace::NextFree).unwrap();
    home.close_test(1, Closing::Early).unwrap();
    let twice = refused(home.close_test(1, Closing::Early));
    assert!(matches!(twice, BlindError::Closed { .. }), "{twice}");
    let late = refused(home.sit_down(1, "Cleo", TakePlace::NextFree));
    assert!(matches!(late, BlindError::Closed { .. }), "{late}");
    let answer = choice(sitting.sets[0].choices[0]);
    let late = refused(home.answer_set(&sitting, 1, &answer, NotesSource::App));
    assert!(matches!(late, BlindError::Closed { .. }), "{late}");
}

#[test]
fn a_code_of_another_set_is_refused_with_those_there_are() {
    let mut home = Home::trial();
    let planned = home.plan_test(&request()).unwrap();
    let place = home.sit_down(1, "Ana", TakePlace::NextFree).unwrap();
    let own = &place.sets[0].codes;
    let other = planned
        .samples
        .iter()
        .find(|it| !own.contains(&it.code))
        .unwrap();
    let answer = choice(other.code);
    let error = refused(home.answer_set(&place, 1, &answer, NotesSource::App));
    for code in own {
        assert!(error.to_string().contains(&code.to_string()), "{error}");
    }
}

#[test]
fn more_people_than_places_are_told_so() {
    let mut home = Home::trial();
    home.plan_test(&request()).unwrap();
    for name in FRIENDS {
        home.sit_down(1, name, TakePlace::NextFree).unwrap();
    }
    let error = refused(home.sit_down(1, "Hob", TakePlace::NextFree));
    assert!(
        matches!(error, BlindError::Full { places: 7, .. }),
        "{error}"
    );
    // Who came before finds the same place again.
    assert_eq!(
        home.sit_down(1, "cleo", TakePlace::NextFree).unwrap().place,
        3
    );
}

#[test]
fn every_answer_is_on_disk_when_it_was_given() {
    let folder = tempfile::tempdir().unwrap();
    let open = || {
        let dice = Dice::from_system().unwrap();
        Home::open(folder.path(), Clock::system(), dice).unwrap()
    };
    let mut home = open();
    let planned = home.plan_test(&request()).unwrap();
    let place = home.sit_down(1, "Ana", TakePlace::NextFree).unwrap();
    let place = given(&mut home, &planned, &place, 1, true);
    drop(home);
    let mut home = open();
    assert_eq!(home.planned_test(1).unwrap(), planned);
    let back = home.sit_down(1, "Ana", TakePlace::NextFree).unwrap();
    assert_eq!(back, place);
}
