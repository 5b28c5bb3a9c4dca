//! What holds for every blind test, from the plan to the result.

use crate::domain::Aims;
use crate::domain::BeerSide;
use crate::domain::Millilitres;
use crate::domain::NotesSource;
use crate::domain::Pouring;
use crate::domain::Purpose;
use crate::domain::Risk;
use crate::domain::Share;
use crate::domain::SheetKind;
use crate::domain::Stopping;
use crate::domain::Sureness;
use crate::formats::document_hash;
use crate::statistics::Count;
use crate::statistics::Dice;
use crate::workflow::BlindError;
use crate::workflow::Clock;
use crate::workflow::Closing;
use crate::workflow::FilledFrom;
use crate::workflow::GivenAnswer;
use crate::workflow::GoesOn;
use crate::workflow::Home;
use crate::workflow::PlaceAtTest;
use crate::workflow::PlanRequest;
use crate::workflow::PlannedTest;
use crate::workflow::TakePlace;
use crate::workflow::WorkflowError;

const FRIENDS: [&str; 7] = ["Ana", "Ben", "Cleo", "Dot", "Eve", "Finn", "Gil"];

pub(super) fn request() -> PlanRequest {
    PlanRequest {
        beers: ["Gate".to_owned(), "Barn".to_owned()],
        method: "triangle".to_owned(),
        purpose: Purpose::Difference,
        aims: Aims {
            alpha: Risk::new(0.05).unwrap(),
            beta: Risk::new(0.2).unwrap(),
            pd: Share::new(0.5).unwrap(),
        },
        attribute: None,
        expected: None,
        places: 7,
        rounds: 1,
        stopping: Stopping::Fixed,
        pouring: Pouring::One,
        glass: Millilitres::new(30.0).unwrap(),
        seed: Some(20_260_314),
    }
}

/// The refusal, which must be one of a blind test.
fn refused<T: std::fmt::Debug>(found: Result<T, WorkflowError>) -> BlindError {
    match found.unwrap_err() {
        WorkflowError::Blind(error) => error,
        other => panic!("{other}"),
    }
}

/// Answers all sets of a place, right or wrong as asked, and leaves.
pub(super) fn answered(
    home: &mut Home,
    planned: &PlannedTest,
    name: &str,
    right: &[bool],
) -> GoesOn {
    let mut place = home
        .sit_down(planned.test.number, name, TakePlace::NextFree)
        .unwrap();
    for (round, right) in (1_u16..).zip(right) {
        place = given(home, planned, &place, round, *right);
    }
    home.leave_place(&place).unwrap()
}

pub(super) fn given(
    home: &mut Home,
    planned: &PlannedTest,
    place: &PlaceAtTest,
    round: u16,
    right: bool,
) -> PlaceAtTest {
    let set = place.sets.iter().find(|it| it.round == round).unwrap();
    let drawn = planned.sets.iter();
    let mut drawn = drawn.filter(|it| (it.place, it.round) == (place.place, round));
    let drawn = drawn.next().unwrap();
    // By hand: the odd one of three is the one whose beer comes once.
    let glasses: Vec<_> = drawn
        .samples
        .iter()
        .map(|it| planned.sample(it).unwrap())
        .collect();
    let alone = |it: &&&crate::domain::Sample| {
        glasses.iter().filter(|other| other.beer == it.beer).count() == 1
    };
    let odd = *glasses.iter().find(alone).unwrap();
    let chosen = if right {
        odd.code
    } else {
        *set.choices.iter().find(|it| **it != odd.code).unwrap()
    };
    let answer = GivenAnswer {
        chosen,
        sureness: Some(Sureness::Rather),
        prefers: None,
        words: Vec::new(),
    };
    home.answer_set(place, round, &answer, NotesSource::App)
        .unwrap()
}

#[test]
fn seven_friends_are_counted_as_they_answered() {
    let mut home = Home::trial();
    let planned = home.plan_test(&request()).unwrap();
    for (name, right) in FRIENDS
        .iter()
        .zip([true, true, false, true, true, false, true])
    {
        answered(&mut home, &planned, name, &[right]);
    }
    assert_eq!(home.goes_on(1).unwrap(), GoesOn::Stop);
    home.close_test(1, Closing::Complete).unwrap();
    let result = home.test_result(1).unwrap();
    assert_eq!(Some(result.analysis.count), Count::new(5, 7));
    // Whole numbers: (21·4 + 7·2 + 1)/3⁷ = 99/2187; the table of ISO 4120 has 5 of 7.
    assert!((result.analysis.p.get() - 99.0 / 2187.0).abs() < 1e-12);
    assert_eq!(result.analysis.critical, Some(5));
    assert!(result.kept_its_word && result.missing == 0);
    assert_eq!(
        result.among(|it| it.sureness == Some(Sureness::Rather)),
        Count::new(5, 7)
    );
}

#[test]
fn every_order_is_served_equally_often_and_every_code_once() {
    let mut home = Home::trial();
    let planned = home
        .plan_test(&PlanRequest {
            places: 12,
            ..request()
        })
        .unwrap();
    let mut orders: Vec<String> = Vec::new();
    for set in &planned.sets {
        let beers = set
            .samples
            .iter()
            .map(|it| &planned.sample(it).unwrap().beer);
        let first = &planned.test.beers[0];
        orders.push(
            beers
                .map(|it| if it == first { 'A' } else { 'B' })
                .collect(),
        );
    }
    for order in ["AAB", "ABA", "BAA", "BBA", "BAB", "ABB"] {
        assert_eq!(
            orders.iter().filter(|it| *it == order).count(),
            2,
            "{order}"
        );
    }
    let mut codes: Vec<u16> = planned.samples.iter().map(|it| it.code.get()).collect();
    codes.sort_unstable();
    codes.dedup();
    assert_eq!(codes.len(), 36);
}

#[test]
fn the_same_seed_draws_the_same_plan_whichever_beer_is_named_first() {
    let codes = |beers: [&str; 2]| {
        let mut home = Home::trial();
        let planned = home
            .plan_test(&PlanRequest {
                beers: beers.map(str::to_owned),
                ..request()
            })
            .unwrap();
        let codes: Vec<u16> = planned.samples.iter().map(|it| it.code.get()).collect();
        (codes, planned.test.commitment)
    };
    let (one, other) = (codes(["Gate", "Barn"]), codes(["Barn", "Gate"]));
    assert_eq!(one.0, other.0);
    assert_ne!(one.1, other.1);
}

#[test]
fn the_commitment_is_the_hash_of_the_plan_with_its_salt() {
    let mut home = Home::trial();
    let planned = home.plan_test(&request()).unwrap();
    let text = planned.plan_text();
    assert_eq!(document_hash(&text), planned.test.commitment);
    assert!(text.contains("a Gate\nb Barn\n") && text.contains(&planned.test.salt));
    let line = text
        .lines()
        .find(|it| it.starts_with("place 1 round 1 "))
        .unwrap();
    assert_eq!(line.split(' ').count(), 4 + 6);
}

#[test]
fn what_can_never_be_significant_is_refused_with_what_it_takes() {
    let mut home = Home::trial();
    let two = PlanRequest {
        places: 2,
        ..request()
    };
    // ISO 4120: with two answers none is significant at 5 %, with three all three are (1/27).
    let error = refused(home.plan_test(&two));
    assert!(
        matches!(error, BlindError::NeverSignificant { least: Some(3), .. }),
        "{error}"
    );
    assert!(home.test_rows().unwrap().is_empty());
}

#[test]
fn a_question_and_its_method_must_fit() {
    let mut home = Home::trial();
    let mut ask = |method: &str, more: Option<&str>, expected, stopping, purpose| {
        let request = PlanRequest {
            method: method.to_owned(),
            attribute: more.map(str::to_owned),
            expected,
            stopping,
            purpose,
            ..request()
        };
        home.plan_test(&request)
    };
    let (fixed, difference) = (Stopping::Fixed, Purpose::Difference);
    let error = refused(ask("2-afc", None, None, fixed, difference));
    assert!(matches!(error, BlindError::NoAttribute { .. }), "{error}");
    let error = refused(ask("triangle", Some("bitter"), None, fixed, difference));
    assert!(
        matches!(error, BlindError::NeedlessAttribute { .. }),
        "{error}"
    );
    let error = refused(ask("2-afc", Some("bitter"), None, fixed, difference));
    assert!(matches!(error, BlindError::NoExpectation { .. }), "{error}");
    let error = refused(ask("quartet", None, None, fixed, difference));
    assert!(error.to_string().contains("tetrad"), "{error}");
    let error = refused(ask(
        "triangle",
        None,
        None,
        Stopping::Sequential,
        Purpose::Similarity,
    ));
    assert!(matches!(error, BlindError::StopsEarly), "{error}");
    let side = Some(BeerSide::A);
    assert!(ask("2-afc", Some("bitter"), side, fixed, difference).is_ok());
}

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
    let answer = GivenAnswer {
        chosen: sitting.sets[0].choices[0],
        sureness: None,
        prefers: None,
        words: Vec::new(),
    };
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
    let answer = GivenAnswer {
        chosen: other.code,
        sureness: None,
        prefers: None,
        words: Vec::new(),
    };
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
fn a_sequential_test_says_stop_as_soon_as_its_line_is_crossed_and_counts_no_further() {
    let mut home = Home::trial();
    let planned = home
        .plan_test(&PlanRequest {
            places: 20,
            stopping: Stopping::Sequential,
            aims: Aims {
                beta: Risk::new(0.05).unwrap(),
                ..request().aims
            },
            ..request()
        })
        .unwrap();
    // Decision table of Wald's test for pd 0.5 and both risks 5 %: five right of five decide, four of
    // four do not.
    for (at, name) in FRIENDS.iter().take(5).enumerate() {
        let goes_on = answered(&mut home, &planned, name, &[true]);
        assert_eq!(goes_on == GoesOn::Stop, at == 4, "{at}");
    }
    let error = refused(home.sit_down(1, "Finn", TakePlace::NextFree));
    assert!(matches!(error, BlindError::Settled { .. }), "{error}");
    home.close_test(1, Closing::Complete).unwrap();
    let result = home.test_result(1).unwrap();
    let sequence = result.sequence.unwrap();
    assert_eq!(Some(sequence.count), Count::new(5, 5));
    assert_eq!(result.missing, 0);
}

#[test]
fn watched_evidence_stops_a_test_at_one_over_the_risk() {
    let mut home = Home::trial();
    let planned = home
        .plan_test(&PlanRequest {
            places: 20,
            stopping: Stopping::Evidence,
            ..request()
        })
        .unwrap();
    let mut stopped = None;
    for (at, name) in (1..).zip(FRIENDS) {
        if answered(&mut home, &planned, name, &[true]) == GoesOn::Stop {
            stopped = Some(at);
            break;
        }
    }
    // By hand: with all of n right the factor is ∫(1 + 2p)ⁿ·2(1 − p)dp from 0 to 1; with u = 1 + 2p it is
    // ½∫uⁿ(3 − u)du from 1 to 3 = ½[3(3ⁿ⁺¹ − 1)/(n + 1) − (3ⁿ⁺² − 1)/(n + 2)]: 11.9 for 4 and 25.9 for 5.
    assert_eq!(stopped, Some(5));
}

#[test]
fn alone_the_pourer_may_answer_and_the_result_says_so() {
    let mut home = Home::trial();
    let planned = home
        .plan_test(&PlanRequest {
            places: 1,
            rounds: 6,
            pouring: Pouring::Alone,
            ..request()
        })
        .unwrap();
    home.sheet(1, SheetKind::Pourer, Some("Ana")).unwrap();
    answered(&mut home, &planned, "Ana", &[true; 6]);
    home.close_test(1, Closing::Complete).unwrap();
    let result = home.test_result(1).unwrap();
    assert!(result.is_self_poured());
    assert!(result.analysis.replicates.is_some());
}

#[test]
fn every_method_counts_as_many_right_as_were_right() {
    for method in crate::discrimination::METHODS {
        let more =
            (method.asked == crate::discrimination::Asked::Character).then(|| "bitter".to_owned());
        for expected in BeerSide::ALL {
            let mut home = Home::trial();
            let planned = home
                .plan_test(&PlanRequest {
                    method: method.id.to_owned(),
                    expected: more.as_ref().map(|_| *expected),
                    attribute: more.clone(),
                    places: 12,
                    ..request()
                })
                .unwrap();
            for at in 0..12 {
                let place = home
                    .sit_down(1, &format!("Friend {at}"), TakePlace::NextFree)
                    .unwrap();
                let chosen = right_by_hand(&planned, &place, *expected);
                let answer = GivenAnswer {
                    chosen,
                    sureness: None,
                    prefers: None,
                    words: Vec::new(),
                };
                let place = home
                    .answer_set(&place, 1, &answer, NotesSource::App)
                    .unwrap();
                home.leave_place(&place).unwrap();
            }
            home.close_test(1, Closing::Complete).unwrap();
            let result = home.test_result(1).unwrap();
            let right: u32 = result.tasters.iter().map(|it| it.count.hits()).sum();
            assert_eq!(right, 12, "{} {expected:?}", method.id);
        }
    }
}

/// The right glass, found without the method's own record.
fn right_by_hand(
    planned: &PlannedTest,
    place: &PlaceAtTest,
    expected: BeerSide,
) -> crate::domain::BlindingCode {
    let set = planned
        .sets
        .iter()
        .find(|it| it.place == place.place)
        .unwrap();
    let beers: Vec<_> = set
        .samples
        .iter()
        .map(|it| &planned.sample(it).unwrap().beer)
        .collect();
    let wanted = match (planned.method.id, set.reference) {
        ("2-afc" | "2-afc-either" | "3-afc", _) => {
            &planned.test.beers[usize::from(expected == BeerSide::B)]
        }
        ("duo-trio", Some(side)) => &planned.test.beers[usize::from(side == BeerSide::B)],
        ("tetrad", None) => beers[0],
        _ => beers
            .iter()
            .find(|it| beers.iter().filter(|other| other == it).count() == 1)
            .unwrap(),
    };
    let from = usize::from(planned.method.id == "tetrad");
    let at = beers
        .iter()
        .skip(from)
        .position(|it| it == &wanted)
        .unwrap()
        + from;
    planned.sample(&set.samples[at]).unwrap().code
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
