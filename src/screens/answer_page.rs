//! How the questions of a blind test look to its taster.

use crate::domain::Sureness;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::screens::AnswerScreen;
use crate::screens::Page;
use crate::screens::Press;
use crate::screens::answer_screen::Step;
use crate::screens::tasting_page::choices;
use crate::workflow::Home;

/// The question at which a taster stands.
pub(super) fn draw(screen: &AnswerScreen, home: &Home, page: &mut Page, cells: usize) {
    match screen.step {
        Step::Pour => pour(screen, page, cells),
        Step::Choose => choose(screen, page, cells),
        Step::Sure => {
            if let Some(given) = &screen.set().answered {
                let said = format!("You chose {}. How sure are you?", given.chosen);
                page.line(Line::of(Ink::Strong, said));
            }
            page.gap();
            let words: Vec<&str> = Sureness::ALL.iter().map(|it| it.word()).collect();
            choices(page, &words, None);
        }
        Step::Words => words(screen, page, cells),
        Step::Prefer => {
            let asked = "Which one do you like better? Enter alone passes.";
            page.text(Ink::Strong, asked, cells);
            page.gap();
            offer(page, screen);
            page.gap();
            let apart = "This is kept apart from the test and decides nothing in it.";
            page.text(Ink::Quiet, apart, cells);
        }
        Step::Review => review(screen, home, page, cells),
    }
}

/// Codes to choose from: typed whole, since a digit alone could be the beginning of any of them.
fn offer(page: &mut Page, screen: &AnswerScreen) {
    for (row, code) in screen.glasses().into_iter().enumerate() {
        let (mark, ink) = if screen.chosen == Some(row) {
            ("▸", Ink::Chosen)
        } else {
            (" ", Ink::Strong)
        };
        let line = Line::plain(format!("  {mark} ")).and(ink, format!(" {code} "));
        page.choice(line, Press::Row(row));
    }
    page.gap();
    let line = Line::of(Ink::Quiet, "  code: ").and(Ink::Strong, screen.digits.as_str());
    page.line(line.and(Ink::Chosen, " "));
}

fn pour(screen: &AnswerScreen, page: &mut Page, cells: usize) {
    let text = "Write each code under its cup, pour, then close your eyes and shuffle the cups until you are lost.";
    page.text(Ink::Strong, text, cells);
    page.gap();
    for (code, beer) in screen.cups.get(screen.at).into_iter().flatten() {
        let line = Line::of(Ink::Strong, format!("   {code}   "));
        page.line(line.and(Ink::Plain, beer.as_str()));
    }
    page.gap();
    let hide = "Enter hides this. Do not look under a cup before you have chosen.";
    page.text(Ink::Quiet, hide, cells);
}

fn choose(screen: &AnswerScreen, page: &mut Page, cells: usize) {
    page.text(Ink::Strong, &screen.question, cells);
    page.gap();
    if screen.cups.is_empty() {
        let mut row = Line::plain("  Taste from left to right:   ");
        if screen.set().has_reference {
            row = row.and(Ink::Strong, "reference").and(Ink::Plain, "    ");
        }
        for code in &screen.set().codes {
            row = row
                .and(Ink::Strong, code.to_string())
                .and(Ink::Plain, "    ");
        }
        page.line(row);
    } else {
        let turn =
            "Taste the cups as they stand, choose one, and turn it over. Which code is under it?";
        page.text(Ink::Plain, turn, cells);
    }
    page.gap();
    offer(page, screen);
    page.gap();
    let water = "A sip of water between glasses; go back to any of them as often as you like. If you cannot tell, guess: that is part of the test.";
    page.text(Ink::Quiet, water, cells);
}

fn words(screen: &AnswerScreen, page: &mut Page, cells: usize) {
    let asked = "What differed, in your own words? Enter alone passes.";
    page.text(Ink::Strong, asked, cells);
    page.gap();
    let line = Line::of(Ink::Quiet, "> ").and(Ink::Strong, screen.entry.text());
    page.line(line.and(Ink::Chosen, " "));
    page.gap();
    page.line(Line::of(Ink::Quiet, "Several words have commas between."));
}

fn review(screen: &AnswerScreen, home: &Home, page: &mut Page, cells: usize) {
    page.line(Line::of(Ink::Strong, "Your answers"));
    page.gap();
    for (index, set) in screen.place.sets.iter().enumerate() {
        if let Some(it) = &set.answered {
            let mut said = vec![it.chosen.to_string()];
            said.extend(it.sureness.map(|it| it.word().to_owned()));
            said.extend(it.words.iter().map(|it| home.answer_word(it)));
            said.extend(it.prefers.map(|it| format!("{it} liked better")));
            let line = format!("  set {}: {}", index + 1, said.join(", "));
            page.choice(Line::plain(line), Press::Row(index));
        }
    }
    page.gap();
    let end = "Enter keeps them and wipes the screen; after that nobody can see or change them. ↑ answers the last set anew.";
    page.text(Ink::Plain, end, cells);
}
