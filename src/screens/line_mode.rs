//! The line-by-line mode: the same screens told as lines, for screen readers and scripts.

use crate::screens::App;
use crate::screens::Input;
use crate::screens::KEYS;
use crate::screens::Press;
use crate::screens::Running;

/// What a typed line asks for, press by press.
///
/// `/word` presses the key of that word; an empty line is Enter; anything else is typed letter by
/// letter, and Enter follows where something typed waits for it. Where only keys work, a line is one
/// key.
pub fn press_line(app: &mut App, line: &str) -> Running {
    let line = line.trim_end_matches(['\n', '\r']);
    if let Some(word) = line.strip_prefix('/') {
        if let Some(key) = KEYS.iter().find(|key| key.word == word.trim()) {
            return app.command(key.action);
        }
        app.say(format!("There is no /{}.", word.trim()));
        return Running::Yes;
    }
    if line.is_empty() {
        return app.press(&Press::Enter);
    }
    if app.input() == Input::Keys && line.trim().chars().count() > 1 {
        // Each sign would answer one question, and only the first of them was seen.
        app.say("One key a line here: a digit or a letter, or one of the words below.".to_owned());
        return Running::Yes;
    }
    for c in line.chars() {
        if app.press(&Press::Char(c)) == Running::Ended {
            return Running::Ended;
        }
    }
    if app.is_typing() || app.input() == Input::Text {
        return app.press(&Press::Enter);
    }
    Running::Yes
}

/// The page as lines, with the words of the keys that work now.
pub fn told(app: &mut App) -> String {
    let mut text = String::new();
    for line in app.told() {
        text.push_str(&line.text());
        text.push('\n');
    }
    let actions = app.actions();
    let words: Vec<String> = KEYS
        .iter()
        .filter(|key| actions.contains(&key.action) && !matches!(key.word, "up" | "down" | "enter"))
        .map(|key| format!("/{}", key.word))
        .collect();
    let keys = format!("[empty line: go on; {}; /explain]\n", words.join(" "));
    text + &keys
}
