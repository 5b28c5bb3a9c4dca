//! A blind test on one laptop that is passed round: plan, seven friends, a crash in the middle, close, result.

use crate::kitchen::Kitchen;
use crate::pty::Pty;
use crate::pty::Signal;

const FRIENDS: [&str; 7] = ["Ana", "Ben", "Cleo", "Dot", "Eve", "Finn", "Gil"];

/// How many of them are right.
const RIGHT: usize = 5;

fn app(kitchen: &Kitchen) -> Pty {
    let pty = kitchen.launch(&[]).size(80, 24).start();
    pty.wait_for("Taste a beer");
    pty
}

/// The odd code of each place and another one of it, as the pourer knows them: the beer that comes
/// once is the odd one.
fn key(kitchen: &Kitchen) -> Vec<[String; 2]> {
    let sheet = kitchen.done(&["blind", "sheet", "1", "--for", "pourer", "--as", "Hob"]);
    let cups_of = |set: &str| -> Vec<(String, String)> {
        let cups = set.lines().filter_map(|it| it.trim().strip_prefix("[ ] "));
        let cup = |cup: &str| {
            let code = cup.split(' ').next().unwrap().to_owned();
            (code, cup.rsplit(' ').next().unwrap().to_owned())
        };
        cups.map(cup).collect()
    };
    let sets = sheet.split("Place ").skip(1).map(cups_of);
    sets.map(|cups| {
        let once = |beer: &str| cups.iter().filter(|it| it.1 == beer).count() == 1;
        let odd = cups.iter().find(|it| once(&it.1)).unwrap();
        let other = cups.iter().find(|it| !once(&it.1)).unwrap();
        [odd.0.clone(), other.0.clone()]
    })
    .collect()
}

/// Presses keys and waits for what they lead to.
fn press(pty: &mut Pty, keys: &str, then: &str) {
    pty.send(keys);
    pty.wait_for(then);
}

/// Somebody sits down at the first place that is free.
fn sit(pty: &mut Pty, name: &str, place: usize) {
    press(pty, "1", "Who sits down?");
    if place < FRIENDS.len() {
        press(
            pty,
            &format!("{name}\r"),
            &format!("Where does {name} sit?"),
        );
        press(pty, "\r", &format!("{name}, place {place}"));
    } else {
        press(pty, &format!("{name}\r"), &format!("{name}, place {place}"));
    }
}

/// Chooses a glass, is sure, says a word and passes the rest.
fn answer(pty: &mut Pty, code: &str) {
    press(pty, code, &format!("You chose {code}"));
    press(pty, "3", "What differed");
    press(pty, "thinner\r", "Which one do you like better?");
    press(pty, "\r", "Your answers");
}

fn pass_on(pty: &mut Pty) {
    press(pty, "\r", "Pass the screen on");
    press(pty, "\r", "Blind test 1");
}

#[test]
fn seven_friends_and_a_crash_in_the_middle_end_in_the_result_of_the_standard() {
    let kitchen = Kitchen::new();
    // One person is known, so that the app opens at its first screen.
    kitchen.done(&["taster", "add", "Hob"]);
    let mut pty = app(&kitchen);
    press(&mut pty, "3", "settle it");
    press(&mut pty, "a", "The cap mark of one bottle");
    press(&mut pty, "Gate\r", "The cap mark of the other");
    press(&mut pty, "Barn\r", "How many people taste?");
    press(&mut pty, "7\r", "How many times");
    press(&mut pty, "\r", "Which test?");
    press(&mut pty, "\r", "What is it to show?");
    press(&mut pty, "\r", "Three risks");
    press(&mut pty, "\r", "Who pours?");
    press(&mut pty, "\r", "Nothing is kept yet");
    press(&mut pty, "\r", "Sit down and taste");
    let key = key(&kitchen);
    for (at, name) in FRIENDS.iter().enumerate() {
        let code = &key[at][usize::from(at >= RIGHT)];
        sit(&mut pty, name, at + 1);
        answer(&mut pty, code);
        if at == 3 {
            // The laptop dies between an answer and the leaving; the answer was acknowledged.
            pty.signal(Signal::KILL);
            pty.exit_code();
            pty = app(&kitchen);
            press(&mut pty, "3", "Gate and Barn");
            press(&mut pty, "\r", "Sit down and taste");
            assert!(
                pty.text().contains("4 of 7 answers are there"),
                "{}",
                pty.text()
            );
            press(&mut pty, "1", "Who sits down?");
            press(&mut pty, &format!("{name}\r"), "Your answers");
            assert!(pty.text().contains(code.as_str()), "{}", pty.text());
        }
        pass_on(&mut pty);
    }
    press(&mut pty, "5", "Closed.");
    press(&mut pty, "\r", "5 of 7 answers are right");
    // ISO 4120: 5 of 7 is the critical count at 5 %; whole numbers give 99/2187.
    pty.wait_for("45 times in 1,000");
    press(&mut pty, "\x1b[C", "0.0453");
}
