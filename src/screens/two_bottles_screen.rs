//! Two bottles to be tasted side by side: their marks, and who pours.

use crate::domain::NotesSource;
use crate::domain::Taster;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Asking;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::PouringScreen;
use crate::screens::Question;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::tasting_page::choices;
use crate::workflow::Home;
use crate::workflow::Pourer;
use crate::workflow::WorkflowError;

/// The screen that asks for the marks of two bottles.
pub struct TwoBottlesScreen {
    source: NotesSource,
    taster: Taster,
    asking: Asking,
    first: Option<String>,
}

impl TwoBottlesScreen {
    /// Asks for the two marks of a taster's glasses.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn new(
        source: NotesSource,
        taster: Taster,
        home: &mut Home,
    ) -> Result<Self, WorkflowError> {
        Ok(Self {
            source,
            taster,
            asking: Asking::among(home.marks()?),
            first: None,
        })
    }
}

impl Question for TwoBottlesScreen {
    fn heading(&self) -> String {
        match &self.first {
            None => format!("{}: one of the two bottles", self.taster.name),
            Some(first) => format!("{}: {first}, and beside it?", self.taster.name),
        }
    }

    fn asked(&self) -> &'static str {
        match self.first {
            None => "The cap mark of one bottle; any bottle will do, it needs no recipe.",
            Some(_) => "The cap mark of the other bottle.",
        }
    }

    fn purpose(&self) -> &'static str {
        "Two beers side by side, stage by stage: first the look of both, then the smell of both, and so on. You will not know which glass is which until you lock your notes."
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn accept(&mut self, mark: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        let Some(first) = &self.first else {
            crate::domain::Name::new("a cap mark", mark)?;
            let mut others = home.marks()?;
            others.retain(|it| !it.eq_ignore_ascii_case(mark));
            self.first = Some(mark.to_owned());
            self.asking = Asking::among(others);
            return Ok(Next::Stay);
        };
        crate::domain::Name::new("a cap mark", mark)?;
        let marks = [first.clone(), mark.to_owned()];
        let next = PourerScreen::new(self.source, self.taster.clone(), marks);
        Ok(Next::Replace(next.screen(home)?))
    }
}

/// The screen that asks who pours.
pub struct PourerScreen {
    source: NotesSource,
    taster: Taster,
    marks: [String; 2],
    chosen: usize,
}

const POURERS: [(Pourer, &str); 2] = [
    (Pourer::SomebodyElse, "somebody else, where I cannot see it"),
    (
        Pourer::Taster,
        "I do: the codes go under the cups, and I shuffle them",
    ),
];

impl PourerScreen {
    /// Asks who pours these two bottles.
    #[must_use]
    pub const fn new(source: NotesSource, taster: Taster, marks: [String; 2]) -> Self {
        Self {
            source,
            taster,
            marks,
            chosen: 0,
        }
    }

    /// What comes next: this question, or the pouring where there is no choice.
    ///
    /// # Errors
    /// The tasting cannot be opened.
    pub fn screen(self, home: &mut Home) -> Result<Box<dyn Screen>, WorkflowError> {
        // Line by line the key of a pourer would stay readable above the questions.
        if self.source == NotesSource::Plain {
            return Ok(Box::new(self.poured_by(Pourer::Taster, home)?));
        }
        Ok(Box::new(self))
    }

    fn poured_by(&self, pourer: Pourer, home: &mut Home) -> Result<PouringScreen, WorkflowError> {
        let marks = self.marks.each_ref().map(String::as_str);
        let two = home.start_two_glasses(&self.taster, marks, self.source, pourer)?;
        Ok(PouringScreen::new(two))
    }

    fn choose(&self, row: usize, home: &mut Home) -> Result<Next, WorkflowError> {
        match POURERS.get(row) {
            Some((pourer, _)) => Ok(Next::Replace(Box::new(self.poured_by(*pourer, home)?))),
            None => Ok(Next::Stay),
        }
    }
}

impl Screen for PourerScreen {
    fn title(&self) -> String {
        let [one, other] = &self.marks;
        format!("{one} and {other} side by side")
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        page.line(Line::of(Ink::Strong, "Who pours?"));
        page.gap();
        choices(&mut page, &POURERS.map(|it| it.1), Some(self.chosen));
        page.gap();
        let cost = "50 mL of each is enough: about 4 g of alcohol together in beers of 5 %.";
        page.text(Ink::Quiet, cost, room.text_width());
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![Action::Accept, Action::Up, Action::Down, Action::Back]
    }

    fn explanation(&self) -> &'static str {
        "Whoever pours learns which glass is which, so it is best somebody who does not taste. Alone, you write the codes under two like cups, pour, and shuffle them with your eyes closed; they are turned over at the end."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match act {
            Act::Do(Action::Accept) => self.choose(self.chosen, home),
            Act::Digit(digit) => self.choose(usize::from(digit).wrapping_sub(1), home),
            Act::Row(row) => self.choose(row, home),
            Act::Do(Action::Up) => {
                self.chosen = 0;
                Ok(Next::Stay)
            }
            Act::Do(Action::Down) => {
                self.chosen = POURERS.len() - 1;
                Ok(Next::Stay)
            }
            Act::Do(Action::Back) => Ok(Next::Close),
            _ => Ok(Next::Stay),
        }
    }
}
