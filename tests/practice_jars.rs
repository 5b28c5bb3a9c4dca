//! A whole practice with jars on a real terminal: what is prepared, smelled under codes, answered and told.

// A test stops at the first surprise.
#![allow(clippy::unwrap_used)]

mod pty;

use std::path::Path;
use std::process::Command;

use pty::Launch;
use pty::Pty;

const PROGRAM: &str = env!("CARGO_BIN_EXE_thirdglass");

fn said(home: &Path, arguments: &[&str]) -> String {
    let done = Command::new(PROGRAM)
        .arg("--home")
        .arg(home)
        .args(arguments)
        .output()
        .unwrap();
    String::from_utf8(done.stdout).unwrap() + &String::from_utf8(done.stderr).unwrap()
}

fn press(pty: &mut Pty, keys: &str, then: &str) {
    pty.send(keys);
    pty.wait_for(then);
}

/// The codes and words of the jars, as whoever prepares them reads them: `[ ] 318  toast`.
fn prepared(pty: &Pty) -> Vec<(String, String)> {
    let page = pty.text();
    let rows = page.lines().filter_map(|it| it.trim().strip_prefix("[ ] "));
    rows.filter_map(|it| it.split_once("  "))
        .map(|(code, word)| (code.to_owned(), word.trim().to_owned()))
        .collect()
}

/// The code of the jar that is to be smelled now.
fn asked(pty: &Pty) -> String {
    let page = pty.text();
    let (_, rest) = page.split_once("Smell jar ").unwrap();
    rest[..3].to_owned()
}

#[test]
fn three_jars_are_prepared_smelled_under_codes_answered_and_told() {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().join("home");
    said(&home, &["taster", "add", "Ana"]);
    let launch = Launch::new(PROGRAM).arg("--home").arg(&home);
    let mut pty = launch.size(100, 60).start();
    pty.wait_for("Taste a beer");
    press(&mut pty, "8", "five minutes, no glass");
    press(&mut pty, "2", "Who practises?");
    press(&mut pty, "Ana\r", "How many jars?");
    press(&mut pty, "\x7f3\r", "Who prepares the jars?");
    press(&mut pty, "\r", "Write each code on its jar");
    let key = prepared(&pty);
    assert_eq!(key.len(), 3, "{}", pty.text());
    assert!(pty.text().contains("Fetch: "), "{}", pty.text());
    press(&mut pty, "\r", "Enter once more hides");
    press(&mut pty, "\r", "0 of 3 answered");
    for at in 1..=3 {
        pty.wait_for("Where have you smelled this?");
        let code = asked(&pty);
        let word = key.iter().find(|it| it.0 == code).unwrap().1.clone();
        assert!(!pty.text().contains(&word), "{}", pty.text());
        press(&mut pty, "1", "which shelf is nearest?");
        assert!(!pty.text().contains(&word), "{}", pty.text());
        press(&mut pty, "1", "which word fits?");
        press(&mut pty, "1", "How sure are you?");
        assert!(!pty.text().contains(&word), "{}", pty.text());
        press(&mut pty, "3", &format!("{code}: {word}"));
        let then = if at == 3 {
            "of 3 right"
        } else {
            "Where have you smelled this?"
        };
        press(&mut pty, "\r", then);
    }
    for (code, word) in &key {
        assert!(
            pty.text().contains(&format!("{code}: {word}")),
            "{}",
            pty.text()
        );
    }
    press(&mut pty, "\r", "Practise");
    let record = said(&home, &["practice", "record", "Ana"]);
    assert!(record.contains("Of 3 jars"), "{record}");
    assert!(record.contains("30 %"), "{record}");
}

#[test]
fn five_minutes_of_words_go_line_by_line_too() {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().join("home");
    let mut child = Command::new(PROGRAM)
        .arg("--home")
        .arg(&home)
        .args(["practice", "words", "--taster", "Ana", "--plain"])
        .stdin(std::process::Stdio::piped())
        .stdout(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    let mut input = child.stdin.take().unwrap();
    std::io::Write::write_all(&mut input, b"1\n5\n\n").unwrap();
    drop(input);
    let told = String::from_utf8(child.wait_with_output().unwrap().stdout).unwrap();
    assert!(told.contains("Which word is it?"), "{told}");
    assert!(
        told.contains("Right.") || told.contains("Not quite."),
        "{told}"
    );
    let json = said(&home, &["practice", "record", "Ana", "--json"]);
    assert!(json.contains("\"answers\": 1"), "{json}");
}
