//! A panel whose ratings are kept elsewhere, measured by the command.

mod kitchen;
mod pty;

use kitchen::Kitchen;
use serde_json::Value;

const HEAD: &str = "taster,sitting,sample,replicate,date,line,intensity,low,high\n";

/// ISO 8586:2012 Annex C: three assessors, six batches with three replicates each, on a scale of 0 to 9.
const BATCHES: [[[u8; 3]; 6]; 3] = [
    [
        [8, 8, 9],
        [6, 8, 7],
        [4, 5, 5],
        [6, 6, 5],
        [4, 5, 3],
        [5, 6, 6],
    ],
    [
        [5, 8, 9],
        [6, 7, 4],
        [5, 2, 3],
        [6, 4, 6],
        [3, 2, 4],
        [4, 2, 7],
    ],
    [
        [6, 7, 5],
        [5, 4, 7],
        [4, 3, 5],
        [4, 2, 4],
        [4, 4, 5],
        [5, 4, 6],
    ],
];

/// The table of the standard as a file, with the ends of the scale moved: what they are must not matter.
fn standard() -> String {
    let mut rows = HEAD.to_owned();
    for (taster, batches) in ["A1", "A2", "A3"].iter().zip(BATCHES) {
        for (sample, replicates) in ["p", "q", "r", "s", "t", "u"].iter().zip(batches) {
            for (replicate, digit) in (1..).zip(replicates) {
                let moved = 10.0 + 2.0 * f64::from(digit);
                rows.push_str(&row(taster, sample, replicate, moved));
            }
        }
    }
    rows
}

fn row(taster: &str, sample: &str, replicate: u16, intensity: f64) -> String {
    format!("{taster},one,{sample},{replicate},2026-03-14,bitter,{intensity},10,28\n")
}

#[test]
fn the_assessors_of_the_standard_have_their_published_figures() {
    let kitchen = Kitchen::new();
    let file = kitchen.write("panel.csv", standard());
    let json = kitchen.done(&["taster", "measure", &file, "--json"]);
    let json: Value = serde_json::from_str(&json).expect("it is JSON");
    // F 13.36, 2.66, 2.40; s_r 0.7454, 1.7159, 1.0801 (ISO 8586:2012 Annex C).
    for (place, (f, sd)) in [(13.36, 0.7454), (2.66, 1.7159), (2.40, 1.0801)]
        .into_iter()
        .enumerate()
    {
        let told = &json["tasters"][place]["lines"][0]["discrimination"];
        let found = |key: &str| told[key].as_f64().expect("a number");
        assert!((found("f") - f).abs() < 0.005, "{told}");
        assert!((found("repeatability_sd") - sd).abs() < 0.000_06, "{told}");
    }
    let text = kitchen.done(&["taster", "measure", &file]);
    assert!(
        text.contains("54 ratings by 3 tasters on 1 line on 2026-03-14"),
        "{text}"
    );
    assert!(!text.contains("NaN") && !text.contains("inf"), "{text}");
}

#[test]
fn every_problem_of_a_file_is_told_at_once_and_nothing_is_measured() {
    let kitchen = Kitchen::new();
    let rows = "Ana,one,p,1,2026-03-14,bitter,99,0,9\nAna,one,p,0,then,bitter,1,0,9\n";
    let file = kitchen.write("panel.csv", [HEAD, rows].concat());
    let told = kitchen.run(&["taster", "measure", &file]);
    assert_eq!(told.code, 1, "{told:?}");
    for wanted in [
        "panel.csv:2:7: the intensity 99",
        "panel.csv:3:4: replicate",
        "panel.csv:3:5:",
    ] {
        assert!(told.err.contains(wanted), "{wanted}: {told:?}");
    }
    assert!(told.out.is_empty(), "{told:?}");
}
