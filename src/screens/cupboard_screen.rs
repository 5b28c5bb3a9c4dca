//! Three things from the cupboard: smell with closed eyes, find the place, the shelf, the word.

use crate::domain::Allergen;
use crate::domain::Caution;
use crate::domain::Descriptor;
use crate::domain::DescriptorId;
use crate::domain::Reference;
use crate::domain::Subject;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::width;
use crate::drawing::wrap;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Input;
use crate::screens::Market;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::Stroll;
use crate::screens::nearness::Nearness;
use crate::screens::nearness::draw_near;
use crate::screens::nearness::nearness;
use crate::workflow::Home;
use crate::workflow::WorkflowError;
use crate::workflow::subject_word;

/// Things that most cupboards hold, from different places of the market.
const CUPBOARD: [&str; 9] = [
    "ground-coffee",
    "lemon-zest",
    "cinnamon",
    "honey",
    "black-pepper",
    "vanilla",
    "mint",
    "yogurt",
    "onion",
];

/// Things whose jar goes into beer for the mouth; here they are smelled as they lie in the cupboard.
const WITHOUT_ITS_BEER: [&str; 1] = ["cinnamon"];

/// Cells before what is to be taken care of.
const BEFORE_CAUTION: usize = 26;

/// How many are needed.
const NEEDED: usize = 3;

/// Where the two minutes stand.
enum Step {
    /// Choosing three things.
    Fetch,
    /// Smelling one with closed eyes and walking the market.
    Smell(Market),
    /// Eyes open: which one was it?
    Open(Subject),
    /// How near the walk came.
    Near { thing: DescriptorId, named: Subject },
    /// All three are done.
    Done,
}

/// The screen of the first two minutes without a beer.
pub struct CupboardScreen {
    step: Step,
    fetched: Vec<usize>,
    smelled: Vec<DescriptorId>,
    places: usize,
    words: usize,
}

impl Default for CupboardScreen {
    fn default() -> Self {
        Self::new()
    }
}

impl CupboardScreen {
    /// The screen, with nothing fetched yet.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            step: Step::Fetch,
            fetched: Vec::new(),
            smelled: Vec::new(),
            places: 0,
            words: 0,
        }
    }

    fn things(home: &Home) -> Vec<&Descriptor> {
        CUPBOARD
            .iter()
            .filter_map(|id| home.wheel().descriptor(&DescriptorId::new(id).ok()?))
            .collect()
    }

    fn toggle(&mut self, index: usize, home: &Home) {
        if let Some(at) = self.fetched.iter().position(|it| *it == index) {
            self.fetched.remove(at);
        } else if index < Self::things(home).len() && self.fetched.len() < NEEDED {
            self.fetched.push(index);
        }
    }

    /// The things on the table that were not smelled yet.
    fn left(&self, home: &Home) -> Vec<DescriptorId> {
        let things = Self::things(home);
        self.fetched
            .iter()
            .filter_map(|index| things.get(*index).map(|it| it.id.clone()))
            .filter(|id| !self.smelled.contains(id))
            .collect()
    }

    fn opened(&mut self, row: usize, named: Subject, home: &Home) {
        if let Some(thing) = self.left(home).into_iter().nth(row) {
            let near = nearness(home.wheel(), &thing, &named);
            self.places += usize::from(near >= Nearness::Place);
            self.words += usize::from(near == Nearness::Word);
            self.smelled.push(thing.clone());
            self.step = Step::Near { thing, named };
        }
    }

    fn accept(&mut self, home: &Home) -> Next {
        match &mut self.step {
            Step::Fetch if self.fetched.len() == NEEDED => {
                self.step = Step::Smell(Market::at_the_gate());
            }
            Step::Fetch => {
                return Next::Say(format!("Choose {NEEDED} of them by their digits first."));
            }
            Step::Smell(market) => {
                let stroll = market.enter(home.wheel());
                self.strolled(stroll);
            }
            Step::Open(_) => return Next::Say("Which one was it? Press its digit.".to_owned()),
            Step::Near { .. } => {
                self.step = if self.left(home).is_empty() {
                    Step::Done
                } else {
                    Step::Smell(Market::at_the_gate())
                };
            }
            Step::Done => return Next::Close,
        }
        Next::Stay
    }

    /// After a step into the market: what was reached is looked at next.
    fn strolled(&mut self, stroll: Stroll) {
        if let Stroll::Found(subject) = stroll {
            self.step = Step::Open(subject);
        }
    }

    /// One step back, so that what was fetched and smelled is not dropped by one key.
    fn back(&mut self, home: &Home) -> Next {
        self.step = match &mut self.step {
            Step::Smell(market) => match market.leave(home.wheel()) {
                Stroll::Left => Step::Fetch,
                Stroll::On | Stroll::Found(_) => return Next::Stay,
            },
            Step::Open(_) => Step::Smell(Market::at_the_gate()),
            Step::Fetch | Step::Near { .. } | Step::Done => return Next::Close,
        };
        Next::Stay
    }

    /// A key while one walks the market with closed eyes.
    fn walk(&mut self, act: Act, home: &Home) -> Next {
        let Step::Smell(market) = &mut self.step else {
            return Next::Stay;
        };
        match act {
            Act::Do(Action::Left) => {
                let _stays_at_the_gate: Stroll = market.leave(home.wheel());
            }
            Act::Do(Action::Up) => market.turn(home.wheel(), -1),
            Act::Do(Action::Down) => market.turn(home.wheel(), 1),
            Act::Do(Action::Unnameable) => {
                if let Some(subject) = market.keep(home.wheel()) {
                    self.step = Step::Open(subject);
                }
            }
            Act::Typed(letter) => market.jump(home.wheel(), letter),
            Act::Row(row) => {
                market.choose(home.wheel(), row);
                return self.accept(home);
            }
            Act::Digit(digit) => {
                let stroll = market.pick(home.wheel(), digit);
                self.strolled(stroll);
            }
            Act::Do(_) => {}
        }
        Next::Stay
    }

    fn draw_open(&self, page: &mut Page, named: &Subject, home: &Home, cells: usize) {
        let word = subject_word(home.wheel(), named);
        page.text(
            Ink::Strong,
            &format!("You said {word}. Now look: which one was it?"),
            cells,
        );
        page.gap();
        for (index, id) in self.left(home).iter().enumerate() {
            let word = home
                .wheel()
                .descriptor(id)
                .map_or("", |it| it.word.as_str());
            page.choice(
                Line::of(Ink::Strong, format!("  {}  ", index + 1)).and(Ink::Plain, word),
                Press::Row(index),
            );
        }
    }

    fn draw_done(&self, page: &mut Page, cells: usize) {
        page.text(
            Ink::Strong,
            &format!(
                "{} of {NEEDED} at the right place, {} by the very word.",
                self.places, self.words
            ),
            cells,
        );
        page.gap();
        page.text(Ink::Plain, "That is how a word is found in a beer: not by searching for the word, but by the place where you have met the smell. Three smells say little about your nose; they show how the market works.", cells);
        page.gap();
        page.line(Line::of(Ink::Quiet, "Enter goes to the first screen."));
    }

    fn draw_fetch(&self, page: &mut Page, home: &Home, cells: usize) {
        page.text(
            Ink::Strong,
            "Fetch three of these from the cupboard, and choose them here by their digits:",
            cells,
        );
        page.gap();
        for (index, it) in Self::things(home).iter().enumerate() {
            let chosen = self.fetched.contains(&index);
            let ink = if chosen { Ink::Chosen } else { Ink::Plain };
            let tick = if chosen { "x" } else { " " };
            let mut told = wrap(&caution(it), cells.saturating_sub(BEFORE_CAUTION + 1)).into_iter();
            let head = format!("  {}  [{tick}] ", index + 1);
            let name = format!(" {} ", it.word);
            let blanks = BEFORE_CAUTION.saturating_sub(width(&head) + width(&name));
            let first = " ".repeat(blanks) + &told.next().unwrap_or_default();
            let line = Line::of(Ink::Strong, head).and(ink, name);
            page.choice(line.and(Ink::Alert, first), Press::Row(index));
            for rest in told {
                let line = Line::of(Ink::Alert, " ".repeat(BEFORE_CAUTION) + &rest);
                page.choice(line, Press::Row(index));
            }
        }
        page.gap();
        page.text(Ink::Quiet, "Sniff only what you know you can stand: an allergy, asthma or a migraine goes first. Each into a cup of its own.", cells);
    }
}

/// What a thing from the cupboard may hold and what else to take care of, in a few words; empty if nothing.
fn caution(it: &Descriptor) -> String {
    let Reference::Jar(jar) = &it.reference else {
        return String::new();
    };
    let without_beer = WITHOUT_ITS_BEER.contains(&it.id.as_str());
    let allergens = jar.allergens.iter();
    let allergens = allergens.filter(|it| !(without_beer && **it == Allergen::Gluten));
    let allergens: Vec<&str> = allergens.map(|it| it.word()).collect();
    let mut cautions: Vec<String> = Vec::new();
    if !allergens.is_empty() {
        cautions.push(format!("holds {}", allergens.join(", ")));
    }
    let others = jar.cautions.iter();
    let others = others.filter(|it| !(without_beer && **it == Caution::Alcohol));
    cautions.extend(others.map(|it| it.word().to_owned()));
    cautions.join("; ")
}

impl Screen for CupboardScreen {
    fn title(&self) -> String {
        "Three things from the cupboard".to_owned()
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let cells = room.text_width();
        let mut page = Page::default();
        page.gap();
        match &self.step {
            Step::Fetch => self.draw_fetch(&mut page, home, cells),
            Step::Smell(market) => {
                page.text(Ink::Quiet, "Close your eyes, push the cups about, take one and smell it. Then open your eyes but do not look into the cup, and walk to where you have met that smell.", cells);
                page.gap();
                market.draw(&mut page, home.wheel(), cells, "");
            }
            Step::Open(named) => self.draw_open(&mut page, named, home, cells),
            Step::Near { thing, named } => draw_near(&mut page, home.wheel(), thing, named, cells),
            Step::Done => self.draw_done(&mut page, cells),
        }
        Ok(page)
    }

    fn input(&self) -> Input {
        if matches!(self.step, Step::Smell(_)) {
            Input::Words
        } else {
            Input::Keys
        }
    }

    fn actions(&self) -> Vec<Action> {
        if matches!(self.step, Step::Smell(_)) {
            vec![
                Action::Accept,
                Action::Right,
                Action::Left,
                Action::Unnameable,
                Action::Up,
                Action::Down,
                Action::Back,
            ]
        } else {
            vec![Action::Accept, Action::Back]
        }
    }

    fn explanation(&self) -> &'static str {
        "No beer is needed to learn how a word is found. Take three things you know, smell one with closed eyes, and ask where you have met it before: the place leads to a shelf, the shelf to the word."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match (act, &mut self.step) {
            (Act::Do(Action::Accept), _) | (Act::Do(Action::Right), Step::Smell(_)) => {
                return Ok(self.accept(home));
            }
            (Act::Do(Action::Back), _) => return Ok(self.back(home)),
            (act, Step::Smell(_)) => return Ok(self.walk(act, home)),
            (act, Step::Fetch) => {
                if let Some(row) = row_of(act) {
                    self.toggle(row, home);
                }
            }
            (act, Step::Open(named)) => {
                let named = named.clone();
                if let Some(row) = row_of(act) {
                    self.opened(row, named, home);
                }
            }
            _ => {}
        }
        Ok(Next::Stay)
    }
}

/// The row that a click or a digit from 1 chooses.
fn row_of(act: Act) -> Option<usize> {
    match act {
        Act::Row(row) => Some(row),
        Act::Digit(digit) => usize::from(digit).checked_sub(1),
        Act::Do(_) | Act::Typed(_) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screens::trial::flat;
    use crate::screens::trial::keys;
    use crate::screens::trial::welcomed;

    #[test]
    fn everything_from_the_cupboard_is_on_the_wheel() {
        assert_eq!(CupboardScreen::things(&Home::trial()).len(), CUPBOARD.len());
    }
    #[test]
    fn what_is_smelled_from_the_cupboard_is_told_of_no_beer_and_every_caution_stands_whole() {
        let home = Home::trial();
        for it in CupboardScreen::things(&home) {
            let Reference::Jar(jar) = &it.reference else {
                panic!("{} has no jar", it.word);
            };
            let told = caution(it);
            if jar.how.contains("beer") {
                assert!(
                    !told.contains("gluten") && !told.contains("alcohol"),
                    "{}: {told}",
                    it.word
                );
            }
        }
        let mut app = welcomed();
        keys(&mut app, "n");
        let shown = flat(&mut app);
        assert!(
            shown.contains("strong smell: brief sniff, fresh air; not with migraine"),
            "{shown}"
        );
    }
}
