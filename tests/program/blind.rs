//! Blind tests through the commands: from the plan to the result, and what a taster's side may show.

use crate::kitchen::Kitchen;
use sha2::Digest;
use sha2::Sha256;

/// What the program says, on both outputs.
fn said(kitchen: &Kitchen, arguments: &[&str]) -> String {
    let told = kitchen.run(arguments);
    told.out + &told.err
}

fn words(line: &str) -> Vec<&str> {
    line.split(' ').collect()
}

fn blind(kitchen: &Kitchen, line: &str) -> String {
    said(kitchen, &[&["blind"], &words(line)[..]].concat())
}

const FRIENDS: [&str; 7] = ["Ana", "Ben", "Cleo", "Dot", "Eve", "Finn", "Gil"];

/// The codes of a taster's next set, in the order of tasting.
fn codes(kitchen: &Kitchen, name: &str) -> Vec<String> {
    let told = blind(kitchen, &format!("answer 1 --taster {name}"));
    let (_, codes) = told.lines().next().unwrap().split_once("right: ").unwrap();
    words(codes).into_iter().map(str::to_owned).collect()
}

/// The odd code of each place, read from the pourer's sheet by hand: the beer that comes once.
fn odd_codes(kitchen: &Kitchen) -> Vec<String> {
    let sheet = blind(kitchen, "sheet 1 --for pourer --as Hob");
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
    let kitchen = &Kitchen::new();
    let planned = blind(kitchen, "plan Gate Barn --tasters 7 --seed 20260314");
    assert!(
        planned.contains("noticed 57 times in 100, with 5 of 7"),
        "{planned}"
    );
    let odd = odd_codes(kitchen);
    for (at, name) in FRIENDS.iter().enumerate() {
        let seen = codes(kitchen, name);
        assert!(seen.contains(&odd[at]), "{seen:?} {odd:?}");
        let wrong = seen.iter().find(|it| **it != odd[at]).unwrap();
        let choice = if at < 5 { &odd[at] } else { wrong };
        let answer = format!("answer 1 --taster {name} --choose {choice} --sure sure --leave");
        let kept = blind(kitchen, &answer);
        let goes_on = if at < 6 {
            "goes on"
        } else {
            "all the answers it needs"
        };
        assert!(kept.contains(goes_on) && !kept.contains("right"), "{kept}");
    }
    let open = blind(kitchen, "result 1");
    assert!(open.contains("is still open"), "{open}");
    assert!(blind(kitchen, "close 1").starts_with("Closed."));
    let result = blind(kitchen, "result 1 --all");
    assert!(
        result.contains("The two can be told apart: 5 of 7 answers are right"),
        "{result}"
    );
    // ISO 4120: 5 of 7 is the critical count at 5 %; whole numbers give 99/2187 = 0.0453.
    assert!(
        result.contains("p = 0.0453, exact, one-sided; a difference from 5 on"),
        "{result}"
    );
    let again = blind(kitchen, "answer 1 --taster Ana");
    assert!(again.contains("is closed"), "{again}");
}

#[test]
fn the_commitment_can_be_checked_with_the_plan_that_the_result_shows() {
    let kitchen = &Kitchen::new();
    let planned = blind(kitchen, "plan Gate Barn --tasters 3");
    let (_, commitment) = planned.split_once("Commitment: ").unwrap();
    let commitment = commitment.lines().next().unwrap();
    for name in &FRIENDS[..3] {
        let code = &codes(kitchen, name)[0];
        blind(
            kitchen,
            &format!("answer 1 --taster {name} --choose {code} --leave"),
        );
    }
    blind(kitchen, "close 1");
    let result = blind(kitchen, "result 1 --all");
    let (_, plan) = result.split_once("each with its line end:\n").unwrap();
    let found = format!("{:x}", Sha256::digest(plan.as_bytes()));
    assert_eq!(found, commitment);
}

#[test]
fn what_a_taster_can_see_is_the_same_whichever_beer_is_in_which_cup() {
    let seen = |beers: &str| {
        let kitchen = &Kitchen::new();
        let mut seen = Vec::new();
        blind(
            kitchen,
            &format!("plan {beers} --tasters 7 --seed 11 --pour two"),
        );
        seen.push(blind(kitchen, "sheet 1 --for labels"));
        seen.push(blind(kitchen, "sheet 1 --for ballots"));
        seen.push(blind(kitchen, "sheet 1 --for labels --json"));
        for name in FRIENDS {
            let codes = codes(kitchen, name);
            let code = &codes[1];
            seen.push(codes.join(" "));
            let wrong = blind(kitchen, &format!("answer 1 --taster {name} --choose 100"));
            seen.push(wrong);
            seen.push(blind(
                kitchen,
                &format!("answer 1 --taster {name} --choose {code}"),
            ));
            seen.push(blind(kitchen, &format!("answer 1 --taster {name} --leave")));
        }
        seen.push(blind(kitchen, "result 1"));
        seen.push(blind(kitchen, "result 1 --json"));
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
    let kitchen = &Kitchen::new();
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
        let said = blind(kitchen, line);
        assert!(said.contains(told), "{line}: {said}");
    }
    assert!(blind(kitchen, "list").contains("No blind test is planned yet"));
}

#[test]
fn a_correction_keeps_what_is_not_said_again_and_leaving_alone_leaves() {
    let kitchen = &Kitchen::new();
    blind(kitchen, "plan Gate Barn --tasters 3");
    let codes = codes(kitchen, "Ana");
    let first = format!(
        "answer 1 --taster Ana --choose {} --sure sure --words thinner",
        codes[0]
    );
    blind(kitchen, &first);
    let changed = blind(
        kitchen,
        &format!("answer 1 --taster Ana --choose {}", codes[1]),
    );
    let told = format!("Changed: Ana, set 1: {} → {}, sure.", codes[0], codes[1]);
    assert!(changed.contains(&told), "{changed}");
    let surer = blind(kitchen, "answer 1 --taster Ana --set 1 --sure guess");
    assert!(surer.contains("a guess"), "{surer}");
    let left = blind(kitchen, "answer 1 --taster Ana --leave");
    assert!(left.contains("Ana has left"), "{left}");
    let late = blind(
        kitchen,
        &format!("answer 1 --taster Ana --choose {}", codes[0]),
    );
    assert!(late.contains("stays as it is"), "{late}");
    let early = blind(kitchen, "answer 1 --taster Ben --leave");
    assert!(early.contains("has not answered set 1 yet"), "{early}");
}

#[test]
fn a_ballot_is_typed_in_by_its_codes_in_any_order() {
    let kitchen = &Kitchen::new();
    blind(kitchen, "plan Gate Barn --tasters 3");
    let ballots = blind(kitchen, "sheet 1 --for ballots");
    let third = ballots.split("Place 3").nth(1).unwrap();
    let code = third.split("[ ] ").nth(1).unwrap()[..3].to_owned();
    let kept = blind(
        kitchen,
        &format!("answer 1 --taster Cleo --choose {code} --paper"),
    );
    assert!(kept.contains("Kept: Cleo"), "{kept}");
    let told = blind(kitchen, "answer 1 --taster Cleo --set 1");
    assert!(told.contains("place 3"), "{told}");
    let taken = blind(kitchen, "answer 1 --taster Ana --place 3");
    assert!(
        taken.contains("place 3 of test 1 is not free; free are: 1, 2"),
        "{taken}"
    );
    let unknown = blind(kitchen, "answer 1 --taster Ana --choose 100");
    assert!(
        unknown.contains("no cup of test 1 is called 100"),
        "{unknown}"
    );
}

#[test]
fn likeness_is_planned_told_beforehand_and_closed_with_its_own_sentence() {
    let kitchen = &Kitchen::new();
    let few = blind(kitchen, "plan Gate Barn --tasters 4 --similarity");
    assert!(
        few.contains("are too few to show that two beers are alike enough"),
        "{few}"
    );
    let twice = blind(
        kitchen,
        "plan Gate Barn --tasters 30 --rounds 2 --similarity",
    );
    assert!(twice.contains("answer once each"), "{twice}");
    // ISO 4120:2004, example B.4 in kind: 60 answers, beta 5 %, pd 30 %: scipy 1.17.1,
    // binom.cdf(25, 60, 8/15) = 0.0464 and binom.cdf(26, ...) = 0.0775, so 25 may be right.
    let plan = "plan Gate Barn --tasters 60 --similarity --beta 0.05 --pd 0.3 --alpha 0.1";
    let planned = blind(kitchen, plan);
    assert!(
        planned.contains("alike enough with at most 25 of 60 right"),
        "{planned}"
    );
    let odd = odd_codes(kitchen);
    for (at, code) in odd.iter().enumerate() {
        let name = format!("Friend{at}");
        let seen = codes(kitchen, &name);
        let wrong = seen.iter().find(|it| *it != code).unwrap();
        let choice = if at < 22 { code } else { wrong };
        blind(
            kitchen,
            &format!("answer 1 --taster {name} --choose {choice} --leave"),
        );
    }
    blind(kitchen, "close 1");
    let result = blind(kitchen, "result 1");
    assert!(
        result.contains("Alike enough: 22 of 60 answers are right"),
        "{result}"
    );
}

#[test]
fn two_tests_of_one_pair_are_told_together_and_a_record_stands_beside_the_others() {
    let kitchen = &Kitchen::new();
    for test in 1..=2 {
        blind(kitchen, "plan Gate Barn --tasters 3");
        for name in &FRIENDS[..3] {
            let told = blind(kitchen, &format!("answer {test} --taster {name}"));
            let (_, codes) = told.lines().next().unwrap().split_once("right: ").unwrap();
            let code = words(codes)[0];
            blind(
                kitchen,
                &format!("answer {test} --taster {name} --choose {code} --leave"),
            );
        }
        blind(kitchen, &format!("close {test}"));
    }
    let result = blind(kitchen, "result 2");
    assert!(
        result.contains("All 2 tests of these two beers"),
        "{result}"
    );
    assert!(result.contains("if you had fixed beforehand"), "{result}");
    let record = blind(kitchen, "record Ana");
    assert!(record.contains("Triangle test in 2 tests"), "{record}");
    assert!(record.contains("The others at the same"), "{record}");
}
