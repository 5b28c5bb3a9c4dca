//! How near a walk through the market came to the thing in the cup.

use crate::domain::DescriptorId;
use crate::domain::Subject;
use crate::domain::Wheel;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::screens::Page;
use crate::workflow::subject_word;

/// How near a walk came to the thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Nearness {
    Elsewhere,
    Place,
    Shelf,
    Word,
}

/// How near what was named stands to the thing.
pub(super) fn nearness(wheel: &Wheel, thing: &DescriptorId, named: &Subject) -> Nearness {
    let shelf = wheel.descriptor(thing).map(|it| &it.shelf);
    let place = shelf.and_then(|it| wheel.shelf(it)).map(|it| &it.place);
    let (word_shelf, word_place) = match named {
        Subject::Descriptor(id) if id == thing => return Nearness::Word,
        Subject::Descriptor(id) => {
            let shelf = wheel.descriptor(id).map(|it| &it.shelf);
            (
                shelf,
                shelf.and_then(|it| wheel.shelf(it)).map(|it| &it.place),
            )
        }
        Subject::Shelf(id) => (Some(id), wheel.shelf(id).map(|it| &it.place)),
        Subject::Place(id) => (None, Some(id)),
        Subject::Free(_) => (None, None),
    };
    if word_shelf.is_some() && word_shelf == shelf {
        Nearness::Shelf
    } else if word_place.is_some() && word_place == place {
        Nearness::Place
    } else {
        Nearness::Elsewhere
    }
}

/// Draws how near the walk came and what the word means.
pub(super) fn draw_near(
    page: &mut Page,
    wheel: &Wheel,
    thing: &DescriptorId,
    named: &Subject,
    cells: usize,
) {
    let Some(it) = wheel.descriptor(thing) else {
        return;
    };
    let near = nearness(wheel, thing, named);
    let ink = if near == Nearness::Elsewhere {
        Ink::Plain
    } else {
        Ink::Good
    };
    let said = subject_word(wheel, named);
    page.text(ink, &near_words(near, &it.word, &said), cells);
    page.gap();
    page.text(Ink::Plain, &it.definition, cells);
    let is_named = |id: &DescriptorId| Subject::Descriptor(id.clone()) == *named;
    if let Some(other) = it.look_alikes.iter().find(|other| is_named(&other.id)) {
        page.text(Ink::Plain, &other.tell, cells);
    }
    page.gap();
    page.line(Line::of(Ink::Quiet, "Enter goes on."));
}

/// How near a walk came, in a sentence.
fn near_words(near: Nearness, word: &str, said: &str) -> String {
    match near {
        Nearness::Word => format!("Found: {word}. Place, shelf and word."),
        Nearness::Shelf => format!("The right shelf: you said {said}, its neighbour is {word}."),
        Nearness::Place => {
            format!("The right place: you said {said}; {word} stands a shelf further.")
        }
        Nearness::Elsewhere => {
            format!("You said {said}; this was {word}. Smell it once more with open eyes.")
        }
    }
}
