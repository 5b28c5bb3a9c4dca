//! What holds for every blind test, from the plan to the result.

use crate::domain::Aims;
use crate::domain::BeerSide;
use crate::domain::BlindingCode;
use crate::domain::Millilitres;
use crate::domain::NotesSource;
use crate::domain::Pouring;
use crate::domain::Purpose;
use crate::domain::Risk;
use crate::domain::Share;
use crate::domain::Stopping;
use crate::domain::Sureness;
use crate::formats::document_hash;
use crate::statistics::Count;
use crate::workflow::BlindError;
use crate::workflow::Closing;
use crate::workflow::GivenAnswer;
use crate::workflow::GoesOn;
use crate::workflow::Home;
use crate::workflow::PlaceAtTest;
use crate::workflow::PlanRequest;
use crate::workflow::PlannedTest;
use crate::workflow::TakePlace;
use crate::workflow::WorkflowError;

pub(super) const FRIENDS: [&str; 7] = ["Ana", "Ben", "Cleo", "Dot", "Eve", "Finn", "Gil"];

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
pub(super) fn refused<T: std::fmt::Debug>(found: Result<T, WorkflowError>) -> BlindError {
    match found.unwrap_err() {
        WorkflowError::Blind(error) => error,
        other => panic!("{other}"),
    }
}

/// An answer that says which glass, and nothing more.
pub(super) fn choice(chosen: BlindingCode) -> GivenAnswer {
    GivenAnswer {
        chosen,
        sureness: None,
        prefers: None,
        words: Vec::new(),
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
        sureness: Some(Sureness::Rather),
        ..choice(chosen)
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
