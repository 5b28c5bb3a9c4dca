//! How the questions of a practice look.

use crate::domain::DescriptorId;
use crate::domain::ItemForm;
use crate::domain::PracticeItem;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports;
use crate::screens::Page;
use crate::screens::PracticeItemScreen;
use crate::screens::Press;
use crate::screens::practice_item_screen::Step;
use crate::workflow::Home;

/// The question at which a taster stands.
pub(super) fn draw(screen: &PracticeItemScreen, home: &Home, page: &mut Page, cells: usize) {
    let Some(item) = screen.item() else {
        return;
    };
    match &screen.step {
        Step::Choose => {
            asked(screen, item, home, page, cells);
            offer(screen, home, page);
        }
        Step::Walk(market) => {
            asked(screen, item, home, page, cells);
            market.draw(page, home.wheel(), cells, "");
        }
        Step::Sure => {
            page.text(Ink::Strong, "How sure are you?", cells);
            page.gap();
            page.text(
                Ink::Plain,
                "A digit, in tens: 1 is 10 %, 5 is 50 %, 9 is 90 %, and 0 is 100 %. Enter or Space passes it over.",
                cells,
            );
        }
        Step::Code(code) => {
            page.text(
                Ink::Strong,
                "Now look beneath the jar: which code stands there?",
                cells,
            );
            page.gap();
            let line = Line::of(Ink::Quiet, "  code: ").and(Ink::Strong, code.as_str());
            page.line(line.and(Ink::Chosen, " "));
        }
        Step::Told => told(screen, item, home, page, cells),
    }
}

/// The question above the choices.
fn asked(
    screen: &PracticeItemScreen,
    item: &PracticeItem,
    home: &Home,
    page: &mut Page,
    cells: usize,
) {
    let word = home.wheel().descriptor(&item.descriptor);
    let code = item.code.map_or(String::new(), |it| it.to_string());
    let definition = word.map_or("", |it| it.definition.as_str());
    let name = word.map_or("", |it| it.word.as_str());
    let text = match item.form {
        ItemForm::Definition => format!("Which word is it? {definition}"),
        ItemForm::Pair => format!("Which of the two is it? {definition}"),
        ItemForm::Place => format!("Where does “{name}” stand in the market?"),
        // Who prepared the jars must not know which one this is.
        ItemForm::Jar if screen.is_alone() => {
            "Take any jar that you have not smelled: a short sniff, twice, lid on again.".to_owned()
        }
        ItemForm::Presence if screen.is_alone() => {
            format!("Take any jar that you have not smelled. Is there “{name}” in it?")
        }
        ItemForm::Jar => format!("Smell jar {code}: a short sniff, twice, lid on again."),
        ItemForm::Presence => format!("Smell jar {code}. Is there “{name}” in it?"),
    };
    page.text(Ink::Strong, &text, cells);
    page.gap();
}

fn offer(screen: &PracticeItemScreen, home: &Home, page: &mut Page) {
    for (row, (word, _)) in screen.options(home).into_iter().enumerate() {
        let (mark, ink) = if screen.chosen == row {
            ("▸", Ink::Chosen)
        } else {
            (" ", Ink::Plain)
        };
        let line = Line::of(Ink::Strong, format!(" {mark}{}  ", row + 1));
        page.choice(line.and(ink, format!(" {word} ")), Press::Row(row));
    }
}

/// What was right, and if it was not, how to tell the two apart.
fn told(
    screen: &PracticeItemScreen,
    item: &PracticeItem,
    home: &Home,
    page: &mut Page,
    cells: usize,
) {
    let right = screen.run.right(item, home.wheel());
    let replies = screen.run.replies(item);
    let (ink, verdict) = match (right.whole, replies.gave_up) {
        (Some(true), _) => (Ink::Good, "Right."),
        (_, true) => (Ink::Plain, "It was:"),
        _ => (Ink::Alert, "Not quite."),
    };
    page.text(ink, verdict, cells);
    page.gap();
    page.text(
        Ink::Plain,
        &reports::practice_answer_words(&screen.run, item, home.wheel()),
        cells,
    );
    if right.whole != Some(true) {
        taught(replies.word.as_ref(), item, home, page, cells);
    }
}

/// What the right word is like, and how it is told from the one that was said.
fn taught(
    said: Option<&DescriptorId>,
    item: &PracticeItem,
    home: &Home,
    page: &mut Page,
    cells: usize,
) {
    if let Some(word) = home.wheel().descriptor(&item.descriptor) {
        page.gap();
        page.text(
            Ink::Plain,
            &format!("{}: {}", word.word, word.definition),
            cells,
        );
    }
    if let Some(tell) = said.and_then(|said| tell(home, &item.descriptor, said)) {
        page.gap();
        page.text(Ink::Plain, &tell, cells);
    }
}

/// How the right word is told from the one that was said.
fn tell(home: &Home, asked: &DescriptorId, said: &DescriptorId) -> Option<String> {
    if asked == said {
        return None;
    }
    let word = home.wheel().descriptor(asked)?;
    let alike = word.look_alikes.iter().find(|it| it.id == *said);
    if let Some(alike) = alike {
        return Some(alike.tell.clone());
    }
    let said = home.wheel().descriptor(said)?;
    Some(format!("{}: {}", said.word, said.definition))
}
