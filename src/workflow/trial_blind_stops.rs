//! When a blind test stops, and what it counts then.

use crate::domain::Aims;
use crate::domain::BeerSide;
use crate::domain::NotesSource;
use crate::domain::Pouring;
use crate::domain::Risk;
use crate::domain::SheetKind;
use crate::domain::Stopping;
use crate::statistics::Count;
use crate::workflow::BlindError;
use crate::workflow::Closing;
use crate::workflow::GoesOn;
use crate::workflow::Home;
use crate::workflow::PlaceAtTest;
use crate::workflow::PlanRequest;
use crate::workflow::PlannedTest;
use crate::workflow::TakePlace;
use crate::workflow::trial_blind::FRIENDS;
use crate::workflow::trial_blind::answered;
use crate::workflow::trial_blind::choice;
use crate::workflow::trial_blind::refused;
use crate::workflow::trial_blind::request;

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
                let answer = choice(chosen);
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
