//! The line-by-line mode: the same screens told as lines, for screen readers and scripts.

use crate::drawing::safe_text;
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
    // The last letter of an answer may lead to a question that is typed too; Enter is not for that.
    let asked = app.input();
    for c in line.chars() {
        if app.press(&Press::Char(c)) == Running::Ended {
            return Running::Ended;
        }
    }
    if asked == Input::Text || (asked == Input::Words && app.is_typing()) {
        return app.press(&Press::Enter);
    }
    Running::Yes
}

/// The page as lines, with the words of the keys that work now.
pub fn told(app: &mut App) -> String {
    let mut text = String::new();
    for line in app.told() {
        text.push_str(&safe_text(&line.text(), usize::MAX));
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::NotesSource;
    use crate::screens::StartScreen;
    use crate::screens::TastingScreen;
    use crate::workflow::Home;

    #[test]
    fn a_digit_that_leads_to_the_question_for_a_remark_does_not_pass_it_over() {
        let mut home = Home::trial();
        let taster = home.add_taster("Ana").unwrap();
        let tasting = home
            .start_tasting(&taster, "T1", NotesSource::Plain)
            .unwrap();
        let screen = TastingScreen::new(tasting, &home).unwrap();
        let start = StartScreen::new(NotesSource::Plain);
        let mut app = App::new(home, vec![Box::new(start), Box::new(screen)]);
        while !told(&mut app).contains("another glass of it?") {
            press_line(&mut app, "/down");
        }
        press_line(&mut app, "2");
        assert!(told(&mut app).contains("in your own words?"));
        press_line(&mut app, "soft and short");
        press_line(&mut app, "");
        assert!(told(&mut app).contains("“soft and short”"));
    }
}
