//! The comparisons of the demonstration, held against an analysis that was made outside the program from the same documents.

use serde_json::Value;

use thirdglass::domain::Day;
use thirdglass::profile::Against;
use thirdglass::profile::Evidence;
use thirdglass::profile::Glass;
use thirdglass::profile::Noise;
use thirdglass::profile::Offset;
use thirdglass::profile::Tasted;

use crate::kitchen::Kitchen;

/// The analysis; its head tells how each figure was computed.
const EXPECTED: &str = include_str!("../../demo-sessions/expected-analysis.toml");

/// Both sides count in doubles and find tails and quantiles by other series; no screen shows more
/// than three digits, and a wrong formula is off by far more.
const ONE_PART: f64 = 1e-6;

fn expected() -> Value {
    toml::from_str(EXPECTED).expect("the analysis is TOML")
}

/// The batches of the analysis.
fn batches() -> Vec<Value> {
    list(&expected()["batch"]).to_vec()
}

/// What the program says of a batch of the demonstration.
fn compared(batch: &Value) -> Value {
    let kitchen = Kitchen::new();
    let told = kitchen.done(&["--demo", "compare", text(&batch["cap_mark"]), "--json"]);
    serde_json::from_str(&told).expect("it answers JSON")
}

/// Each batch with what the program says of it.
fn all() -> Vec<(Value, Value)> {
    let pairs = batches().into_iter().map(|batch| {
        let told = compared(&batch);
        (batch, told)
    });
    pairs.collect()
}

/// The lines of a comparison that were hoped for.
fn hopes(told: &Value) -> Vec<&Value> {
    let lines = list(&told["lines"]).iter();
    lines.filter(|it| !it["hoped"].is_null()).collect()
}

fn list(value: &Value) -> &[Value] {
    value.as_array().expect("a list stands there")
}

fn text(value: &Value) -> &str {
    value.as_str().expect("a text stands there")
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number stands there")
}

/// The same number, or silence on both sides.
fn agree(found: &Value, expected: &Value) -> bool {
    match (found.as_f64(), expected.as_f64()) {
        (Some(found), Some(expected)) => (found - expected).abs() <= ONE_PART * expected.abs(),
        _ => found.is_null() && expected.is_null(),
    }
}

/// The rows have the same answers under these keys, in the same order.
fn same_rows(found: &[Value], expected: &[Value], keys: &[&str]) {
    let only = |rows: &[Value]| -> Vec<Vec<Value>> {
        let rows = rows.iter();
        rows.map(|row| keys.iter().map(|key| row[*key].clone()).collect())
            .collect()
    };
    assert_eq!(only(found), only(expected));
}

#[test]
fn every_batch_that_somebody_has_tasted_is_in_the_analysis() {
    let session: Value = toml::from_str(include_str!("../../demo-sessions/kitchen.toml"))
        .expect("the session is TOML");
    let marks = |rows: &Value| -> Vec<String> {
        let marks = list(rows).iter().map(|it| text(&it["cap_mark"]).to_owned());
        marks.collect()
    };
    let tasted = marks(&session["tasting"]);
    let mut brewed = marks(&session["batch"]);
    brewed.retain(|it| tasted.contains(it));
    assert!(!brewed.is_empty());
    assert_eq!(marks(&expected()["batch"]), brewed);
}

#[test]
fn the_notes_that_count_are_those_of_whom_nothing_led() {
    for (batch, told) in all() {
        let notes = |counts: bool| -> Vec<Value> {
            let notes = list(&told["notes"]).iter();
            notes
                .filter(|it| it["counts"] == counts)
                .map(|it| format!("{}, {}", text(&it["taster"]), text(&it["tasted_on"])).into())
                .collect()
        };
        assert_eq!(notes(true), list(&batch["counting"]), "{batch}");
        assert_eq!(notes(false), list(&batch["aside"]), "{batch}");
        assert_eq!(told["counted"], batch["counted"]);
        assert_eq!(told["faulty_bottles"], batch["faulty_bottles"]);
    }
}

#[test]
fn every_hope_has_the_verdict_of_the_analysis_in_its_order() {
    for (batch, told) in all() {
        let found: Vec<Value> = hopes(&told).into_iter().cloned().collect();
        same_rows(
            &found,
            list(&batch["line"]),
            &["line", "matters", "verdict"],
        );
    }
}

#[test]
fn every_hope_has_the_figures_of_the_analysis() {
    for (batch, told) in all() {
        for (found, line) in hopes(&told).into_iter().zip(list(&batch["line"])) {
            for key in ["hoped", "found", "noise"] {
                assert!(agree(&found[key], &line[key]), "{key}: {found}\n{line}");
            }
            let (found, line) = (&found["judged"], &line["judged"]);
            assert_eq!(found.is_null(), line.is_null(), "{found}\n{line}");
            for key in [
                "difference",
                "low",
                "high",
                "false_sign_rate",
                "within_one_digit",
                "more_glasses_needed",
            ] {
                assert!(agree(&found[key], &line[key]), "{key}: {found}\n{line}");
            }
        }
    }
}

#[test]
fn the_tail_behind_every_verdict_is_that_of_scipy() {
    for batch in batches() {
        for line in list(&batch["line"]) {
            if line["p"].is_null() {
                continue;
            }
            // One glass a taster here: each answer is a taster's mean.
            let tasted = list(&line["answers"]).iter().map(|answer| {
                let glass = Glass {
                    day: Day::parse(text(&answer[1])).expect("a day stands there"),
                    digits: number(&answer[2]),
                };
                Tasted::new(&[glass], Noise::DEFAULT, Offset::NONE).expect("it is a number")
            });
            let target = Against::Intent(number(&line["hoped"]));
            let evidence = Evidence::new(tasted.collect(), target).expect("somebody answered");
            let freedom = evidence.variance().freedom().into();
            assert!(agree(&freedom, &line["freedom"]), "{freedom} {line}");
            let p = evidence.p_value().get().into();
            assert!(agree(&p, &line["p"]), "{p} {line}");
        }
    }
}

#[test]
fn silence_takes_as_many_tastings_as_the_predicted_chance_asks_for() {
    let expected = expected();
    let silence = &expected["silence"];
    let [least, most] = ["least_chance", "most_chance"].map(|key| number(&silence[key]));
    let mut silent = 0;
    for (batch, told) in all() {
        let lines = hopes(&told).into_iter();
        for line in lines.filter(|it| it["verdict"] == "not mentioned yet") {
            let chance = line["predicted"]["chance"].as_f64();
            let chance = chance.map_or(number(&silence["without_prediction"]), |it| {
                it.clamp(least, most)
            });
            let glasses = list(&silence["chance_at_most"]).iter();
            let too_few = glasses.take_while(|it| number(it) < chance).count();
            assert_eq!(line["silent_tastings"], too_few + 1, "{line}");
            assert!(number(&batch["full_glasses"]) <= too_few as f64, "{line}");
            silent += 1;
        }
    }
    let lines = batches();
    let lines = lines.iter().flat_map(|it| list(&it["line"]));
    let expected = lines.filter(|it| it["verdict"] == "not mentioned yet");
    assert_eq!(silent, expected.count());
}

#[test]
fn promises_near_misses_and_unplanned_words_are_those_of_the_analysis() {
    for (batch, told) in all() {
        same_rows(
            list(&told["promised"]),
            list(&batch["promised"]),
            &["packet", "word", "found_by", "verdict"],
        );
        same_rows(
            list(&told["near_misses"]),
            list(&batch["near_misses"]),
            &["planned", "found", "nearby", "tell", "found_by"],
        );
        same_rows(
            list(&told["unplanned"]),
            list(&batch["unplanned"]),
            &["word", "found_by", "named_in", "verdict"],
        );
    }
}
