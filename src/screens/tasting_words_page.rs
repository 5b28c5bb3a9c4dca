//! How words are asked: the line typed on, its matches, the sweep, and what was carried over.

use crate::domain::Descriptor;
use crate::domain::Field;
use crate::domain::Stage;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::safe_text;
use crate::reports::stands;
use crate::screens::Page;
use crate::screens::Press;
use crate::screens::TastingScreen;
use crate::screens::tasting_words::MATCHES;
use crate::workflow::Home;
use crate::workflow::stage_words;
use crate::workflow::subject_word;

pub(super) fn entry_line(screen: &TastingScreen) -> Line {
    Line::of(Ink::Quiet, "> ")
        .and(Ink::Strong, screen.entry.text())
        .and(Ink::Chosen, " ")
}

pub(super) fn words_question(screen: &TastingScreen, home: &Home, page: &mut Page, cells: usize) {
    page.gap();
    if let Some(mark) = &screen.pending {
        let word = subject_word(home.wheel(), &mark.subject);
        page.line(Line::of(Ink::Strong, format!("How strong is {word}?")));
        page.line(Line::of(
            Ink::Plain,
            "0 none · 1 only just there · 3 light · 5 clear · 7 strong · 9 cannot be more",
        ));
    } else if let Some(place) = screen
        .sweep
        .and_then(|at| Some((at, home.wheel().places().get(at)?)))
    {
        page.line(Line::of(
            Ink::Strong,
            format!(
                "Place {} of {}: {}. Anything from here?",
                place.0 + 1,
                home.wheel().places().len(),
                place.1.name
            ),
        ));
        page.text(Ink::Plain, &place.1.met, cells);
        page.gap();
        page.line(Line::of(
            Ink::Quiet,
            "Enter: nothing from here. →: look closer. Esc: enough.",
        ));
    } else {
        page.line(entry_line(screen));
        page.gap();
        matches(screen, home, page, cells);
    }
    page.gap();
    named_here(screen, home, page, cells);
}

fn matches(screen: &TastingScreen, home: &Home, page: &mut Page, cells: usize) {
    let typed = screen.entry.text();
    if typed.is_empty() {
        page.text(Ink::Quiet, "Type a word and give it a digit. → walks through the market: place, shelf, word. Enter on an empty line goes on.", cells);
        return;
    }
    let found: Vec<&Descriptor> = home.wheel().search(typed, MATCHES);
    for (index, it) in found.iter().enumerate() {
        let chosen = index == screen.chosen;
        let ink = if chosen { Ink::Chosen } else { Ink::Plain };
        page.choice(
            Line::of(ink, format!(" {:<27}", it.word))
                .and(Ink::Quiet, format!(" {}", stands(home.wheel(), it))),
            Press::Row(index),
        );
    }
    let own = found.len();
    let ink = if screen.chosen >= own {
        Ink::Chosen
    } else {
        Ink::Quiet
    };
    let own_words = safe_text(typed, 40);
    page.choice(
        Line::of(ink, format!(" “{own_words}”, in my own words ")),
        Press::Row(own),
    );
    match found.get(screen.chosen) {
        Some(it) => page.text(Ink::Quiet, &it.definition, cells),
        None => page.text(
            Ink::Quiet,
            "Kept as you wrote it. * asks for its place, which helps to find the word later.",
            cells,
        ),
    }
}

fn named_here(screen: &TastingScreen, home: &Home, page: &mut Page, cells: usize) {
    let stage = match screen.field() {
        Field::Words(stage) => stage,
        _ => Stage::Aroma,
    };
    let words = stage_words(home.wheel(), &screen.tasting.notes, stage);
    if !words.is_empty() {
        page.text(Ink::Plain, &format!("Noted: {}", words.join(", ")), cells);
    }
}

pub(super) fn carried(screen: &TastingScreen, home: &Home, page: &mut Page, cells: usize) {
    page.text(Ink::Strong, "Take a sip and breathe out through the nose. What you smelled: how strong is it in the mouth?", cells);
    page.gap();
    let still = screen.still_carried();
    for (index, subject) in still.iter().enumerate() {
        let ink = if index == 0 { Ink::Chosen } else { Ink::Quiet };
        page.line(Line::of(
            ink,
            format!("  {}  ", subject_word(home.wheel(), subject)),
        ));
    }
    page.gap();
    page.text(Ink::Quiet, "One digit for the word on top, 0 if it is not there. Space leaves it unsaid; Enter leaves all the rest unsaid.", cells);
    page.gap();
    let words = stage_words(home.wheel(), &screen.tasting.notes, Stage::Flavour);
    if !words.is_empty() {
        page.text(Ink::Plain, &format!("Noted: {}", words.join(", ")), cells);
    }
}
