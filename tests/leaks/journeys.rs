//! The journeys in which something is sealed, each walked once, with every wall around it listened at.

use std::collections::HashSet;

use crate::heard::Heard;
use crate::kitchen::Kitchen;
use crate::planted::Planted;
use crate::planted::asked;
use crate::pty::Launch;
use crate::walk::ESC;
use crate::walk::Walk;
use crate::walls;

/// What came of a journey: what nobody may be told, and what was told. What a terminal shows may hold the secrets of
/// some, such as a word among those that can be chosen; then only the other walls were listened at.
struct Walked {
    secrets: Vec<String>,
    heard: Vec<Heard>,
}

impl Walked {
    /// A journey with the beers Gatexq and Barnxq, whose names nobody may be told.
    fn of_two_beers(heard: Vec<Heard>) -> Self {
        let secrets = ["Gatexq", "Barnxq"].map(str::to_owned).to_vec();
        Self { secrets, heard }
    }
}

/// One journey.
struct Journey {
    name: &'static str,
    walk: fn(&Kitchen) -> Walked,
}

/// All of them but the tasting of a planted batch, which `sealed.rs` walks.
const JOURNEYS: &[Journey] = &[
    Journey {
        name: "a blind test by commands",
        walk: blind_by_commands,
    },
    Journey {
        name: "a blind test in the app",
        walk: blind_in_the_app,
    },
    Journey {
        name: "two glasses side by side",
        walk: two_glasses,
    },
    Journey {
        name: "a panel by commands",
        walk: panel,
    },
    Journey {
        name: "practice with coded jars",
        walk: jars,
    },
    Journey {
        name: "an evening",
        walk: evening,
    },
];

fn said(kitchen: &Kitchen, lines: &[&str]) -> Vec<Heard> {
    let words = |line: &&str| line.split(' ').map(str::to_owned).collect::<Vec<_>>();
    let words = lines.iter().map(words);
    words
        .flat_map(|it| asked(kitchen, &it.iter().map(String::as_str).collect::<Vec<_>>()))
        .collect()
}

/// Two beers in cups: a taster reads neither name, nor which cup holds what, until the test is closed.
fn blind_by_commands(kitchen: &Kitchen) -> Walked {
    kitchen.done(&["blind", "plan", "Gatexq", "Barnxq", "--tasters", "7"]);
    let mut heard = said(
        kitchen,
        &[
            "blind sheet 1 --for labels",
            "blind sheet 1 --for ballots",
            "blind answer 1 --taster Ana",
            "blind answer 1 --taster Ana --choose 1",
            "blind answer 1 --taster Ana --leave",
            "blind answer 1 --taster Ben",
            "blind result 1",
            "blind result 1 --json",
            "blind record Ana",
            "print ballots 1 ballots.svg",
            "print cup-labels 1 cups.svg",
            "home check",
            "home export all.zip",
            "home backup asked-for-copy.db",
            "taster export Ana ana.json",
            "remove test 1",
            "removed",
            "removed --bring-back 1",
        ],
    );
    heard.extend(walls::folders(kitchen));
    Walked::of_two_beers(heard)
}

/// Two glasses that somebody else poured: until both are locked their taster reads neither name.
fn two_glasses(kitchen: &Kitchen) -> Walked {
    kitchen.done(&["taster", "add", "Hob"]);
    let mut walk = Walk::start(kitchen, &[], "Taste a beer");
    walk.press("2", "Who is tasting?");
    walk.press("Ana\r", "one of the two bottles");
    walk.press("Gatexq\r", "beside it?");
    walk.press("Barnxq\r", "Who pours?");
    walk.press("\r", "look away");
    walk.press("\r", "What goes into which cup");
    // Whoever pours knows what is compared; from here on the taster has the screen.
    walk.heard.clear();
    walk.press("\r", "In hand:");
    walk.explain("In hand:");
    walk.press("\r", "What do you know");
    walk.press("1", "How is your nose");
    walk.press("1", "What comes to mind first?");
    walk.press("\r", "What comes to mind first?");
    walk.press("\r", "In hand:");
    walk.press(ESC, "Go on: Ana tastes two glasses");
    walk.press("4", "Batches");
    walk.press(ESC, "Go on: Ana tastes two glasses");
    walk.press("5", "Notes");
    walk.press(ESC, "Go on: Ana tastes two glasses");
    walk.choose("Go on: Ana", "In hand:");
    let mut heard = walk.end();
    let commands = [
        "taster show Ana",
        "batch list",
        "home check",
        "home export all.zip",
        "home tables tables",
        "taster export Ana ana.json",
        "removed",
    ];
    heard.extend(said(kitchen, &commands));
    heard.extend(walls::folders(kitchen));
    Walked::of_two_beers(heard)
}

/// The blind test on a screen that is passed round.
fn blind_in_the_app(kitchen: &Kitchen) -> Walked {
    kitchen.done(&["taster", "add", "Hob"]);
    kitchen.done(&["blind", "plan", "Gatexq", "Barnxq", "--tasters", "7"]);
    let mut walk = Walk::start(kitchen, &[], "Taste a beer");
    walk.press("3", "Gatexq and Barnxq");
    walk.press("\r", "Sit down and taste");
    // Whoever plans knows what is compared; from here on a taster has the screen.
    walk.heard.clear();
    walk.press("1", "Who sits down?");
    walk.press("Ana\r", "Where does Ana sit?");
    walk.press("\r", "Ana, place 1");
    walk.explain("Ana, place 1");
    let code = walk.pty.text();
    let code = code
        .split_whitespace()
        .find(|it| it.len() == 3 && it.bytes().all(|it| it.is_ascii_digit()));
    let code = code.expect("a cup has a code").to_owned();
    walk.press(&code, &format!("You chose {code}"));
    walk.press("3", "What differed");
    walk.press("thinner\r", "Which one do you like better?");
    walk.press("\r", "Your answers");
    let mut heard = walk.end();
    heard.extend(walls::folders(kitchen));
    Walked::of_two_beers(heard)
}

/// Coded glasses before two people: nobody reads a name of a beer before it is told.
fn panel(kitchen: &Kitchen) -> Walked {
    let tasters = "Ana, Dov";
    kitchen.done(&[
        "panel",
        "plan",
        "Gatexq",
        "Barnxq",
        "--tasters",
        tasters,
        "--doubled",
        "1",
    ]);
    let mut heard = said(
        kitchen,
        &[
            "panel ballots",
            "panel ballots 1 --taster Ana",
            "panel talk",
            "panel result",
            "panel result 1 --taster Ana",
            "panel sheet",
            "print panel-ballots 1 ballots.svg",
            "print panel-labels 1 glasses.svg",
            "taster show Ana",
            "taster export Ana ana.json",
            "home check",
            "home export all.zip",
            "home backup asked-for-copy.db",
            "home tables tables",
            "compare T9",
        ],
    );
    let told = kitchen.fed(
        &["panel", "taste", "1", "--taster", "Ana", "--plain"],
        "\n\n1\n/explain\n\n5\n",
    );
    heard.push(Heard::new("the panel line by line", &told.out));
    heard.push(Heard::new(
        "complaints of the panel line by line",
        &told.err,
    ));
    let mut walk = Walk::start(
        kitchen,
        &["panel", "taste", "1", "--taster", "Dov"],
        "Dov, take the screen",
    );
    walk.press("\r", "0 of 3 locked");
    walk.explain("0 of 3 locked");
    walk.press("\r", "Ready? Enter begins");
    walk.explain("Ready? Enter begins");
    walk.press("\r", "How is your nose");
    heard.extend(walk.end());
    heard.extend(walls::folders(kitchen));
    Walked::of_two_beers(heard)
}

/// Words in jars under codes: which word is in which is on no wall but the page of whoever prepared them.
fn jars(kitchen: &Kitchen) -> Walked {
    kitchen.done(&["taster", "add", "Ana"]);
    let mut walk = Walk::start(kitchen, &[], "Taste a beer");
    walk.press("8", "five minutes, no glass");
    walk.press("2", "Who practises?");
    walk.press("Ana\r", "How many jars?");
    walk.press("\x7f3\r", "Who prepares the jars?");
    walk.press("\r", "Write each code on its jar");
    let page = walk.pty.text();
    let rows = page.lines().filter_map(|it| it.trim().strip_prefix("[ ] "));
    let words: Vec<String> = rows
        .filter_map(|it| it.split_once("  "))
        .map(|it| it.1.trim().to_owned())
        .collect();
    assert_eq!(words.len(), 3, "{page}");
    walk.press("\r", "Enter once more hides");
    walk.press("\r", "0 of 3 answered");
    // The pages of one jar are those of every other, which `practice_jars.rs` sees to; a word may stand among them.
    let mut heard = walls::process(&walk.pty);
    let title = String::from_utf8_lossy(&walk.pty.raw()).into_owned();
    let titles = title
        .split("\x1b]")
        .skip(1)
        .map(|it| it.split('\x07').next().unwrap_or_default());
    heard.push(Heard::new(
        "the titles of the window",
        &titles.collect::<Vec<_>>().join("\n"),
    ));
    let lines = [
        "practice record Ana",
        "taster show Ana",
        "taster export Ana ana.json",
        "home check",
        "home export all.zip",
        "home tables tables",
        "home backup asked-for-copy.db",
    ];
    heard.extend(said(kitchen, &lines));
    heard.extend(walls::folders(kitchen));
    Walked {
        secrets: words,
        heard,
    }
}

/// A class: what the sheets of the class and everything around them say, and what only the leader's page may.
fn evening(kitchen: &Kitchen) -> Walked {
    kitchen.done(&[
        "practice",
        "course",
        "Winter",
        "--people",
        "Ana,Ben,Cleo",
        "--meetings",
        "3",
    ]);
    let evening = [
        "practice",
        "evening",
        "Winter",
        "--minutes",
        "60",
        "--plain",
    ];
    let opened = kitchen.fed(&evening, "");
    let key = kitchen.done(&["practice", "leader", "Winter", "--reader", "Hob", "--json"]);
    let key: serde_json::Value = serde_json::from_str(&key).expect("it is JSON");
    let parts = key["parts"].as_array().expect("there are parts");
    let jars = parts
        .iter()
        .flat_map(|it| it["jars"].as_array().expect("there are jars"));
    let mut words: HashSet<String> = jars
        .map(|it| it["word"].as_str().expect("a word").to_owned())
        .collect();
    // Whether a word is in a jar is asked for by that very word.
    let sheets = kitchen.done(&["practice", "sheets", "Winter"]);
    for asked in sheets.split("the word: ").skip(1) {
        words.remove(asked.lines().next().unwrap_or_default().trim());
    }
    let mut heard = vec![Heard::new("the evening as it opens", &opened.out)];
    let lines = [
        "practice sheets Winter",
        "practice course",
        "print answer-sheets Winter sheets.svg",
        "practice leader Winter",
        "practice record Ana",
        "taster export Ana ana.json",
        "home check",
        "home export all.zip",
        "home tables tables",
    ];
    heard.extend(said(kitchen, &lines));
    heard.extend(walls::folders(kitchen));
    Walked {
        secrets: words.into_iter().collect(),
        heard,
    }
}

#[test]
fn no_journey_tells_what_is_sealed_on_any_wall() {
    for journey in JOURNEYS {
        let kitchen = Kitchen::new();
        let walked = (journey.walk)(&kitchen);
        let (secrets, heard) = (walked.secrets, walked.heard);
        assert!(
            heard.len() > 12 && secrets.len() > 1,
            "{}: something was looked at",
            journey.name
        );
        for (secret, it) in secrets
            .iter()
            .flat_map(|secret| heard.iter().map(move |it| (secret, it)))
        {
            let told = it.text.to_lowercase().contains(&secret.to_lowercase());
            assert!(
                !told,
                "{}: {secret} is told in {}:\n{}",
                journey.name, it.place, it.text
            );
        }
    }
}

/// Every wall is heard through: what is planted on it is found there.
#[test]
fn a_word_that_is_planted_on_a_wall_is_heard() {
    let planted = Planted::new();
    let kitchen = &planted.kitchen;
    let found = |heard: &[Heard]| !planted.leaks(heard).is_empty();
    assert!(!found(&walls::folders(kitchen)));
    kitchen.write("work/kelpstring.part", "");
    assert!(found(&walls::folders(kitchen)));
    let kitchen = &Planted::new().kitchen;
    kitchen.write("home/log.txt", "today: mottled ferret");
    assert!(found(&walls::folders(kitchen)));
    let shell = || {
        Launch::new("/bin/sh")
            .arg("-c")
            .arg("printf 'ready\\033[?2026l'; read x")
    };
    let named = shell().arg("kelpstring").start();
    named.wait_for("ready");
    assert!(found(&walls::process(&named)));
    let with = shell().env("SAID", "kelpstring").start();
    with.wait_for("ready");
    assert!(found(&walls::process(&with)));
    let silent = shell().start();
    silent.wait_for("ready");
    assert!(!found(&walls::process(&silent)));
    let titled = Launch::new("/bin/sh")
        .arg("-c")
        .arg("printf '\\033]2;kelp''string\\007ready'; read x")
        .start();
    titled.wait_for("ready");
    let raw = String::from_utf8_lossy(&titled.raw()).into_owned();
    assert!(found(&[Heard::new("the title", &raw)]));
    assert!(walls::to_be_typed("To look: thirdglass compare kelpstring").contains("kelpstring"));
}
