//! A whole practice with jars on a real terminal: what is prepared, smelled under codes, answered and told.

use crate::kitchen::Kitchen;
use crate::pty::Pty;

/// Presses keys, and waits for a whole picture with a text in it.
fn press(pty: &mut Pty, keys: &str, then: &str) {
    pty.forget_raw();
    pty.send(keys);
    pty.wait_for_picture(then);
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

/// What a taster sees, without the code and without how many jars are answered.
fn without_code(pty: &Pty, code: &str) -> String {
    let page = pty.text().replace(code, "000");
    let answered = (0..=3).map(|it| format!("{it} of 3 answered"));
    answered.fold(page, |page, it| page.replace(&it, "answered"))
}

#[test]
fn three_jars_are_prepared_smelled_under_codes_answered_and_told() {
    let kitchen = Kitchen::new();
    kitchen.done(&["taster", "add", "Ana"]);
    let mut pty = kitchen.launch(&[]).size(100, 60).start();
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
    let mut blind = Vec::new();
    for at in 1..=3 {
        let code = asked(&pty);
        let word = key.iter().find(|it| it.0 == code).unwrap().1.clone();
        let mut pages = vec![without_code(&pty, &code)];
        for then in [
            "which shelf is nearest?",
            "which word fits?",
            "How sure are you?",
        ] {
            press(&mut pty, "1", then);
            pages.push(without_code(&pty, &code));
        }
        blind.push(pages);
        press(&mut pty, "3", &format!("{code}: {word}"));
        let then = if at == 3 {
            "of 3 right"
        } else {
            "Where have you smelled this?"
        };
        press(&mut pty, "\r", then);
    }
    // Until the answer, the pages of one jar are those of every other: only the code tells them apart.
    assert_eq!(blind[0], blind[1]);
    assert_eq!(blind[0], blind[2]);
    for (code, word) in &key {
        assert!(
            pty.text().contains(&format!("{code}: {word}")),
            "{}",
            pty.text()
        );
    }
    press(&mut pty, "\r", "Practise");
    let record = kitchen.done(&["practice", "record", "Ana"]);
    assert!(record.contains("Of 3 jars"), "{record}");
    assert!(record.contains("30 %"), "{record}");
}

#[test]
fn five_minutes_of_words_go_line_by_line_too() {
    let kitchen = Kitchen::new();
    let words = ["practice", "words", "--taster", "Ana", "--plain"];
    let told = kitchen.fed(&words, "1\n5\n\n").out;
    assert!(told.contains("Which word is it?"), "{told}");
    assert!(
        told.contains("Right.") || told.contains("Not quite."),
        "{told}"
    );
    let json = kitchen.done(&["practice", "record", "Ana", "--json"]);
    assert!(json.contains("\"answers\": 1"), "{json}");
}
