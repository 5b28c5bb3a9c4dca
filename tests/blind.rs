//! Blind tests through the commands: from the plan to the result, and what a taster's side may show.

// A test stops at the first surprise.
#![allow(clippy::unwrap_used)]

use std::path::Path;
use std::process::Command;

use sha2::Digest;
use sha2::Sha256;

/// What the program says, on both outputs.
fn said(home: &Path, arguments: &[&str]) -> String {
    let done = Command::new(env!("CARGO_BIN_EXE_thirdglass"))
        .arg("--home")
        .arg(home)
        .args(arguments)
        .output()
        .unwrap();
    String::from_utf8(done.stdout).unwrap() + &String::from_utf8(done.stderr).unwrap()
}

fn words(line: &str) -> Vec<&str> {
    line.split(' ').collect()
}

fn blind(home: &Path, line: &str) -> String {
    said(home, &[&["blind"], &words(line)[..]].concat())
}

const FRIENDS: [&str; 7] = ["Ana", "Ben", "Cleo", "Dot", "Eve", "Finn", "Gil"];

/// The codes of a taster's next set, in the order of tasting.
fn codes(home: &Path, name: &str) -> Vec<String> {
    let told = blind(home, &format!("answer 1 --taster {name}"));
    let (_, codes) = told.lines().next().unwrap().split_once("right: ").unwrap();
    words(codes).into_iter().map(str::to_owned).collect()
}

/// The odd code of each place, read from the pourer's sheet by hand: the beer that comes once.
fn odd_codes(home: &Path) -> Vec<String> {
    let sheet = blind(home, "sheet 1 --for pourer --as Hob");
    let sets = sheet.split("Place ").skip(1);
    sets.map(|set| {
        let cups = set
            .lines()
            .filter_map(|line| line.trim().strip_prefix("[ ] "));
        let cups: Vec<(String, String)> = cups
            .map(|cup| {
                let code = cup.split(' ').next().unwrap().to_owned();
                (code, cup.rsplit(' ').next().unwrap().to_owned())
            })
            .collect();
        let once = |beer: &str| cups.iter().filter(|it| it.1 == beer).count() == 1;
        cups.iter().find(|it| once(&it.1)).unwrap().0.clone()
    })
    .collect()
}

#[test]
fn seven_friends_answer_on_paper_and_in_a_terminal_and_the_result_is_that_of_the_standard() {
    let home = tempfile::tempdir().unwrap();
    let home = home.path();
    let planned = blind(home, "plan Gate Barn --tasters 7 --seed 20260314");
    assert!(
        planned.contains("noticed 57 times in 100, with 5 of 7"),
        "{planned}"
    );
    let odd = odd_codes(home);
    for (at, name) in FRIENDS.iter().enumerate() {
        let seen = codes(home, name);
        assert!(seen.contains(&odd[at]), "{seen:?} {odd:?}");
        let wrong = seen.iter().find(|it| **it != odd[at]).unwrap();
        let choice = if at < 5 { &odd[at] } else { wrong };
        let answer = format!("answer 1 --taster {name} --choose {choice} --sure sure --leave");
        let kept = blind(home, &answer);
        let goes_on = if at < 6 { "goes on" } else { "Stop" };
        assert!(kept.contains(goes_on) && !kept.contains("right"), "{kept}");
    }
    let open = blind(home, "result 1");
    assert!(open.contains("is still open"), "{open}");
    assert!(blind(home, "close 1").starts_with("Closed."));
    let result = blind(home, "result 1 --all");
    assert!(
        result.contains("The two can be told apart: 5 of 7 answers are right"),
        "{result}"
    );
    // ISO 4120: 5 of 7 is the critical count at 5 %; whole numbers give 99/2187 = 0.0453.
    assert!(
        result.contains("p = 0.0453, exact, one-sided; a difference from 5 on"),
        "{result}"
    );
    let again = blind(home, "answer 1 --taster Ana");
    assert!(again.contains("is closed"), "{again}");
}

#[test]
fn the_commitment_can_be_checked_with_the_plan_that_the_result_shows() {
    let home = tempfile::tempdir().unwrap();
    let home = home.path();
    let planned = blind(home, "plan Gate Barn --tasters 3");
    let (_, commitment) = planned.split_once("Commitment: ").unwrap();
    let commitment = commitment.lines().next().unwrap();
    for name in &FRIENDS[..3] {
        let code = &codes(home, name)[0];
        blind(
            home,
            &format!("answer 1 --taster {name} --choose {code} --leave"),
        );
    }
    blind(home, "close 1");
    let result = blind(home, "result 1 --all");
    let (_, plan) = result.split_once("each with its line end:\n").unwrap();
    let found = format!("{:x}", Sha256::digest(plan.as_bytes()));
    assert_eq!(found, commitment);
}

#[test]
fn what_a_taster_can_see_is_the_same_whichever_beer_is_in_which_cup() {
    let seen = |beers: &str| {
        let home = tempfile::tempdir().unwrap();
        let home = home.path();
        let mut seen = Vec::new();
        blind(
            home,
            &format!("plan {beers} --tasters 7 --seed 11 --pour two"),
        );
        seen.push(blind(home, "sheet 1 --for labels"));
        seen.push(blind(home, "sheet 1 --for ballots"));
        seen.push(blind(home, "sheet 1 --for labels --json"));
        for name in FRIENDS {
            let codes = codes(home, name);
            let code = &codes[1];
            seen.push(codes.join(" "));
            let wrong = blind(home, &format!("answer 1 --taster {name} --choose 100"));
            seen.push(wrong);
            seen.push(blind(
                home,
                &format!("answer 1 --taster {name} --choose {code}"),
            ));
            seen.push(blind(home, &format!("answer 1 --taster {name} --leave")));
        }
        seen.push(blind(home, "result 1"));
        seen.push(blind(home, "result 1 --json"));
        seen
    };
    let hide = |it: String| -> String {
        let lines = it.lines().filter(|line| !line.contains("ommitment"));
        lines.collect::<Vec<_>>().join("\n")
    };
    let one: Vec<String> = seen("Gate Barn").into_iter().map(hide).collect();
    let other: Vec<String> = seen("Barn Gate").into_iter().map(hide).collect();
    assert_eq!(one, other);
    for text in &one {
        assert!(!text.contains("Gate") && !text.contains("Barn"), "{text}");
    }
}

#[test]
fn what_cannot_be_is_refused_in_a_sentence_and_keeps_nothing() {
    let home = tempfile::tempdir().unwrap();
    let home = home.path();
    for (line, told) in [
        ("plan Gate Barn --tasters 2", "can never show a difference"),
        ("plan Gate Gate --tasters 7", "compared with itself"),
        (
            "plan Gate Barn --tasters 7 --method quartet",
            "the methods are: triangle",
        ),
        ("plan Gate Barn --tasters 7 --alpha 5", "a risk"),
        (
            "plan Gate Barn --tasters 7 --method 2-afc",
            "name it, such as --more bitter",
        ),
        ("plan Gate Barn --tasters 300", "need a code each"),
        ("sheet 1 --for pourer --as Hob", "there is no test 1"),
        ("size --pd 0.00000001", "takes more than"),
    ] {
        let said = blind(home, line);
        assert!(said.contains(told), "{line}: {said}");
    }
    assert!(blind(home, "list").contains("No blind test is planned yet"));
}
