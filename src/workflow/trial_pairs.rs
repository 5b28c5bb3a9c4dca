//! What several closed tests of the same two beers say together, and one taster's record.

use crate::domain::BeerSide;
use crate::domain::NotesSource;
use crate::domain::Stopping;
use crate::statistics::Count;
use crate::workflow::Closing;
use crate::workflow::GoesOn;
use crate::workflow::Home;
use crate::workflow::PlanRequest;
use crate::workflow::TakePlace;
use crate::workflow::trial_blind::answered;
use crate::workflow::trial_blind::choice;
use crate::workflow::trial_blind::request;

const FRIENDS: [&str; 7] = ["Ana", "Ben", "Cleo", "Dot", "Eve", "Finn", "Gil"];

/// Plans and plays a triangle with so many right, the first friends being the ones who are.
fn triangle(home: &mut Home, beers: [&str; 2], right: usize) -> u32 {
    let planned = home
        .plan_test(&PlanRequest {
            beers: beers.map(str::to_owned),
            seed: None,
            ..request()
        })
        .unwrap();
    for (at, name) in FRIENDS.iter().enumerate() {
        answered(home, &planned, name, &[at < right]);
    }
    home.close_test(planned.test.number, Closing::Complete)
        .unwrap();
    planned.test.number
}

#[test]
fn days_of_one_pair_are_summed_whichever_bottle_was_named_first() {
    let mut home = Home::trial();
    triangle(&mut home, ["Gate", "Barn"], 4);
    triangle(&mut home, ["Barn", "Gate"], 3);
    let third = triangle(&mut home, ["Gate", "Barn"], 5);
    triangle(&mut home, ["Gate", "Door"], 7);
    let pair = home.same_pair(third).unwrap();
    assert_eq!((pair.tests(), pair.questions.len()), (3, 1));
    let question = &pair.questions[0];
    assert_eq!(Some(question.summed.count), Count::new(12, 21));
    // scipy 1.17.1, binom.sf(11, 21, 1/3).
    assert!(
        (question.summed.p.get() - 0.021_194_388_248).abs() < 1e-9,
        "{question:?}"
    );
    assert!(question.is_fixed && pair.joint.is_none());
}

#[test]
fn a_test_that_may_stop_early_takes_the_p_value_from_the_sum() {
    let mut home = Home::trial();
    let first = triangle(&mut home, ["Gate", "Barn"], 4);
    let planned = home
        .plan_test(&PlanRequest {
            stopping: Stopping::Evidence,
            seed: None,
            ..request()
        })
        .unwrap();
    for name in FRIENDS {
        if answered(&mut home, &planned, name, &[true]) == GoesOn::Stop {
            break;
        }
    }
    home.close_test(2, Closing::Early).unwrap();
    let pair = home.same_pair(first).unwrap();
    assert!(!pair.questions[0].is_fixed);
}

#[test]
fn where_no_direction_is_fixed_the_same_beer_is_counted_on_every_day() {
    let mut home = Home::trial();
    for beers in [["Gate", "Barn"], ["Barn", "Gate"]] {
        let planned = home
            .plan_test(&PlanRequest {
                beers: beers.map(str::to_owned),
                method: "2-afc-either".to_owned(),
                attribute: Some("bitter".to_owned()),
                seed: None,
                ..request()
            })
            .unwrap();
        // Everybody chooses Gate.
        for name in FRIENDS {
            let place = home
                .sit_down(planned.test.number, name, TakePlace::NextFree)
                .unwrap();
            let set = planned.sets.iter().find(|it| it.place == place.place);
            let mut glasses = set.unwrap().samples.iter();
            let gate = glasses.find_map(|it| {
                let sample = planned.sample(it).unwrap();
                let at = usize::from(sample.beer == planned.test.beers[1]);
                (beers[at] == "Gate").then_some(sample.code)
            });
            let answer = choice(gate.unwrap());
            home.answer_set(&place, 1, &answer, NotesSource::App)
                .unwrap();
        }
        home.close_test(planned.test.number, Closing::Complete)
            .unwrap();
    }
    let pair = home.same_pair(1).unwrap();
    let count = pair.questions[0].summed.count;
    assert!(
        [0, 14].contains(&count.hits()) && count.tries() == 14,
        "{pair:?}"
    );
}

#[test]
fn opposite_expectations_are_different_questions() {
    let mut home = Home::trial();
    for expected in [BeerSide::A, BeerSide::B] {
        let planned = home
            .plan_test(&PlanRequest {
                method: "2-afc".to_owned(),
                attribute: Some("bitter".to_owned()),
                expected: Some(expected),
                seed: None,
                ..request()
            })
            .unwrap();
        for name in FRIENDS {
            let place = home
                .sit_down(planned.test.number, name, TakePlace::NextFree)
                .unwrap();
            let answer = choice(place.sets[0].choices[0]);
            home.answer_set(&place, 1, &answer, NotesSource::App)
                .unwrap();
        }
        home.close_test(planned.test.number, Closing::Complete)
            .unwrap();
    }
    assert_eq!(home.same_pair(1).unwrap().questions.len(), 2);
}

#[test]
fn a_record_counts_closed_tests_only_and_sets_the_others_beside_it() {
    let mut home = Home::trial();
    triangle(&mut home, ["Gate", "Barn"], 4);
    triangle(&mut home, ["Gate", "Door"], 1);
    let open = home
        .plan_test(&PlanRequest {
            seed: None,
            ..request()
        })
        .unwrap();
    answered(&mut home, &open, "Ben", &[true]);
    let record = home.test_record("Ben").unwrap();
    let row = &record.methods[0];
    assert_eq!((row.tests, Some(row.own)), (2, Count::new(1, 2)));
    // By hand: 4 + 1 right in all, less Ben's own one.
    assert_eq!(Some(row.others), Count::new(4, 12));
    assert!(row.limits.low.get() < 0.5 && row.limits.high.get() > 0.5);
    assert!(home.test_record("Nobody").is_err());
}
