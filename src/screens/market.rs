//! Walking the market: from a place to a shelf to a word, by digits, arrows, the first letter or a click.

use crate::domain::PlaceId;
use crate::domain::ShelfId;
use crate::domain::Subject;
use crate::domain::Wheel;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::screens::Page;
use crate::screens::Press;

/// How far one has walked.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Depth {
    Places,
    Shelves(PlaceId),
    Words(PlaceId, ShelfId),
}

/// A walk through the market.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Market {
    depth: Depth,
    chosen: usize,
}

/// What a step in the market leads to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Stroll {
    /// The walk goes on.
    On,
    /// Something was found.
    Found(Subject),
    /// The market was left.
    Left,
}

/// One thing to choose from.
pub(super) struct Stall {
    pub(super) name: String,
    pub(super) met: String,
    pub(super) subject: Subject,
}

impl Market {
    /// A walk that begins at the places.
    #[must_use]
    pub const fn at_the_gate() -> Self {
        Self {
            depth: Depth::Places,
            chosen: 0,
        }
    }

    /// A walk that begins at the shelves of a place.
    #[must_use]
    pub const fn at(place: PlaceId) -> Self {
        Self {
            depth: Depth::Shelves(place),
            chosen: 0,
        }
    }

    /// What there is to choose from, in order.
    pub(super) fn stalls(&self, wheel: &Wheel) -> Vec<Stall> {
        match &self.depth {
            Depth::Places => wheel
                .places()
                .iter()
                .map(|it| Stall {
                    name: it.name.clone(),
                    met: it.met.clone(),
                    subject: Subject::Place(it.id.clone()),
                })
                .collect(),
            Depth::Shelves(place) => wheel
                .shelves_of(place)
                .map(|it| Stall {
                    name: it.name.clone(),
                    met: it.met.clone(),
                    subject: Subject::Shelf(it.id.clone()),
                })
                .collect(),
            Depth::Words(_, here) => wheel
                .words_on(here)
                .map(|it| Stall {
                    name: it.word.clone(),
                    met: it.definition.clone(),
                    subject: Subject::Descriptor(it.id.clone()),
                })
                .collect(),
        }
    }

    /// Which of them is chosen, counted from 0.
    #[must_use]
    pub const fn chosen(&self) -> usize {
        self.chosen
    }

    /// The place one stands in, counted from 0, and the shelf one stands at; none at the places.
    pub(super) fn inside(&self, wheel: &Wheel) -> Option<(usize, Option<usize>)> {
        let (place, here) = match &self.depth {
            Depth::Places => return None,
            Depth::Shelves(place) => (place, None),
            Depth::Words(place, here) => (place, Some(here)),
        };
        let at = wheel.places().iter().position(|it| it.id == *place)?;
        let here = here.and_then(|id| wheel.shelves_of(place).position(|it| it.id == *id));
        Some((at, here))
    }

    /// Moves the choice up or down, round the end.
    pub fn turn(&mut self, wheel: &Wheel, by: isize) {
        let count = self.stalls(wheel).len().max(1);
        self.chosen = self.chosen.saturating_add_signed(by + count.cast_signed()) % count;
    }

    /// Moves the choice to the next one that begins with a letter.
    pub fn jump(&mut self, wheel: &Wheel, letter: char) {
        let stalls = self.stalls(wheel);
        let begins = |index: &usize| {
            stalls[*index]
                .name
                .chars()
                .next()
                .is_some_and(|first| first.to_lowercase().eq(letter.to_lowercase()))
        };
        let after = self.chosen + 1..stalls.len();
        if let Some(index) = after.chain(0..stalls.len()).find(begins) {
            self.chosen = index;
        }
    }

    /// Moves the choice to a row, counted from 0.
    pub fn choose(&mut self, wheel: &Wheel, row: usize) {
        if row < self.stalls(wheel).len() {
            self.chosen = row;
        }
    }

    /// Goes in at the row that a digit stands for: 1 to 9 from the top, 0 for the tenth.
    pub fn pick(&mut self, wheel: &Wheel, digit: u8) -> Stroll {
        let row = usize::from(if digit == 0 { 9 } else { digit - 1 });
        if row >= self.stalls(wheel).len() {
            return Stroll::On;
        }
        self.chosen = row;
        self.enter(wheel)
    }

    /// Goes in at the choice.
    pub fn enter(&mut self, wheel: &Wheel) -> Stroll {
        let next = match &self.depth {
            Depth::Places => wheel
                .places()
                .get(self.chosen)
                .map(|it| Depth::Shelves(it.id.clone())),
            Depth::Shelves(place) => wheel
                .shelves_of(place)
                .nth(self.chosen)
                .map(|it| Depth::Words(place.clone(), it.id.clone())),
            Depth::Words(_, here) => {
                return wheel
                    .words_on(here)
                    .nth(self.chosen)
                    .map_or(Stroll::On, |it| {
                        Stroll::Found(Subject::Descriptor(it.id.clone()))
                    });
            }
        };
        if let Some(depth) = next {
            self.depth = depth;
            self.chosen = 0;
        }
        Stroll::On
    }

    /// Goes out one step.
    pub fn leave(&mut self, wheel: &Wheel) -> Stroll {
        let (depth, chosen) = match &self.depth {
            Depth::Places => return Stroll::Left,
            Depth::Shelves(place) => (
                Depth::Places,
                wheel.places().iter().position(|it| it.id == *place),
            ),
            Depth::Words(place, here) => (
                Depth::Shelves(place.clone()),
                wheel.shelves_of(place).position(|it| it.id == *here),
            ),
        };
        self.depth = depth;
        self.chosen = chosen.unwrap_or(0);
        Stroll::On
    }

    /// True at the places.
    #[must_use]
    pub const fn is_at_the_gate(&self) -> bool {
        matches!(self.depth, Depth::Places)
    }

    /// Keeps what is known so far: the shelf one stands at, the place one stands in, or the place chosen.
    #[must_use]
    pub fn keep(&self, wheel: &Wheel) -> Option<Subject> {
        match &self.depth {
            Depth::Places => wheel
                .places()
                .get(self.chosen)
                .map(|it| Subject::Place(it.id.clone())),
            Depth::Shelves(place) => Some(Subject::Place(place.clone())),
            Depth::Words(_, here) => Some(Subject::Shelf(here.clone())),
        }
    }

    /// What is asked at this step.
    pub(super) fn question(&self, wheel: &Wheel) -> String {
        match &self.depth {
            Depth::Places => "Where have you smelled this?".to_owned(),
            Depth::Shelves(place) => {
                let place = wheel.place(place).map_or("", |it| &it.name);
                format!("{place}: which shelf is nearest?")
            }
            Depth::Words(_, here) => {
                let here = wheel.shelf(here).map_or("", |it| &it.name);
                format!("{here}: which word fits?")
            }
        }
    }

    /// Draws the walk onto a page, with a hint beside the question.
    pub fn draw(&self, page: &mut Page, wheel: &Wheel, cells: usize, hint: &str) {
        let question = self.question(wheel);
        page.line(Line::of(Ink::Strong, question).and(Ink::Quiet, format!("   {hint}")));
        let stalls = self.stalls(wheel);
        let met_there = stalls.get(self.chosen).map(|it| it.met.clone());
        for (index, stall) in stalls.into_iter().enumerate() {
            let chosen = index == self.chosen;
            let mark = if chosen { "▸" } else { " " };
            let ink = if chosen { Ink::Chosen } else { Ink::Plain };
            let name = format!("{mark}{} {:<27}", digit_of_row(index), stall.name);
            let met = cut(&stall.met, cells.saturating_sub(33));
            let quiet = if chosen { Ink::Plain } else { Ink::Quiet };
            if chosen {
                page.focus = page.rows.len();
            }
            page.choice(
                Line::of(ink, name).and(quiet, format!(" {met}")),
                Press::Row(index),
            );
        }
        page.gap();
        page.text(Ink::Plain, &met_there.unwrap_or_default(), cells);
    }
}

/// The digit that goes in at a row; a blank where the digits have run out.
fn digit_of_row(row: usize) -> char {
    "1234567890".chars().nth(row).unwrap_or(' ')
}

/// The beginning of a text that fits, with an ellipsis where it was cut.
#[must_use]
pub fn cut(text: &str, cells: usize) -> String {
    let lines = crate::drawing::wrap(text, cells.saturating_sub(1));
    match lines.as_slice() {
        [] => String::new(),
        [one] => one.clone(),
        [first, ..] => format!("{first}…"),
    }
}
