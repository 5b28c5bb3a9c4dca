//! The batches: a list, one batch whole, and a new one from a recipe file.

use std::collections::HashMap;
use std::ops::Range;
use std::path::PathBuf;
use std::sync::Arc;

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::batch_page_lines;
use crate::reports::batch_rows_lines;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Asking;
use crate::screens::Below;
use crate::screens::HistoryScreen;
use crate::screens::Next;
use crate::screens::NextScreen;
use crate::screens::Page;
use crate::screens::PhotographsScreen;
use crate::screens::PlanTestScreen;
use crate::screens::Press;
use crate::screens::Question;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::SideBySideScreen;
use crate::screens::WeeksScreen;
use crate::screens::WhyScreen;
use crate::screens::convert_screen::ConvertScreen;
use crate::screens::log_screen::LogScreen;
use crate::screens::long_list::moved;
use crate::screens::print_offers::batch_offers;
use crate::screens::print_screen::offered_on_paper;
use crate::screens::removed_screen::Then;
use crate::screens::removed_screen::remove_question;
use crate::workflow::BatchList;
use crate::workflow::BatchRow;
use crate::workflow::Home;
use crate::workflow::ProofPair;
use crate::workflow::Remembered;
use crate::workflow::Removable;
use crate::workflow::WorkflowError;
use crate::workflow::typed_place;

/// The list of batches.
#[derive(Default)]
pub struct BatchesScreen {
    /// The list; read again as soon as anybody has written.
    list: Remembered<BatchList>,
    /// What is told of those that were seen, by their place in the list.
    seen: HashMap<usize, BatchRow>,
    chosen: usize,
}

impl BatchesScreen {
    /// The list, read when it is first shown.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    fn open(&self, row: usize) -> Next {
        let list = self.list();
        let Some(mark) = list.mark(row).map(ToString::to_string) else {
            return Next::Stay;
        };
        Next::Open(Box::new(BatchScreen { mark, pair: None }))
    }

    /// The list as last read.
    fn list(&self) -> Arc<BatchList> {
        self.list.last().unwrap_or_default()
    }

    fn count(&self) -> usize {
        self.list().len()
    }

    /// Reads what is to be seen and was not seen before.
    fn read(
        &mut self,
        home: &mut Home,
        shown: Range<usize>,
    ) -> Result<Vec<BatchRow>, WorkflowError> {
        let is_new = |place: &usize| !self.seen.contains_key(place);
        let new: Vec<usize> = shown.clone().filter(is_new).collect();
        let read = home.batch_rows_of(&self.list(), &new)?;
        self.seen.extend(new.into_iter().zip(read));
        let rows = shown.filter_map(|place| self.seen.get(&place).cloned());
        Ok(rows.collect())
    }
}

impl Screen for BatchesScreen {
    fn title(&self) -> String {
        "Batches".to_owned()
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        if !self.list.is_of_now(home) {
            // A recipe that was told may be sealed since.
            self.seen.clear();
        }
        self.list.or_drawn_by(home, |home| home.batch_list())?;
        let count = self.count();
        self.chosen = self.chosen.min(count.saturating_sub(1));
        let mut page = Page::default();
        page.gap();
        if count == 0 {
            page.text(Ink::Plain, "No batch yet. a adds one from a recipe file. A recipe file is written by answering ten questions: thirdglass recipe new FILE", room.text_width());
        }
        let shown = page.window(count, self.chosen, room.height, Below::default());
        let rows = self.read(home, shown.clone())?;
        let lines = batch_rows_lines(&rows, room.width.saturating_sub(3));
        for (index, line) in shown.zip(lines) {
            let chosen = index == self.chosen;
            if chosen {
                page.focus = page.rows.len();
            }
            let ink = if chosen { Ink::Chosen } else { Ink::Plain };
            let mark = if chosen { "▸ " } else { "  " };
            page.choice(
                Line::of(ink, format!("{mark}{}", line.text())),
                Press::Row(index),
            );
        }
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        if self.count() == 0 {
            return vec![Action::Add, Action::Back];
        }
        vec![
            Action::Accept,
            Action::Add,
            Action::Up,
            Action::Down,
            Action::Back,
        ]
    }

    fn explanation(&self) -> &'static str {
        "Every brew with its cap mark, how long it has conditioned, and whether that kind is usually ready. The recipe of a batch that somebody is tasting is left out."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        if let Some(chosen) = moved(self.chosen, act, self.count()) {
            self.chosen = chosen;
            return Ok(Next::Stay);
        }
        Ok(match act {
            // The row may be another one since it was seen: it is shown first.
            Act::Do(Action::Accept) | Act::Row(_) if !self.list.is_of_now(home) => Next::Stay,
            Act::Do(Action::Accept) => self.open(self.chosen),
            Act::Row(row) => self.open(row),
            Act::Do(Action::Add) => Next::Open(Box::new(NewBatchScreen::default())),
            Act::Do(Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}

/// One batch whole.
struct BatchScreen {
    mark: String,
    /// The older batch beside it, looked up when it is shown.
    pair: Option<ProofPair>,
}

impl BatchScreen {
    fn prove(&self, home: &mut Home) -> Result<Next, WorkflowError> {
        let plan = self
            .pair
            .as_ref()
            .map(|it| PlanTestScreen::of_pair(it, home));
        Ok(plan
            .transpose()?
            .map_or(Next::Stay, |it| Next::Open(Box::new(it))))
    }
}

impl Screen for BatchScreen {
    fn title(&self) -> String {
        format!("Batch {}", self.mark)
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let batch = home.batch_page(&self.mark)?;
        self.pair = home.proof_pair(&self.mark).ok();
        let mut page = Page::default();
        page.lines(batch_page_lines(
            &batch,
            room.width.saturating_sub(1).min(100),
        ));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        let mut actions = vec![
            Action::Accept,
            Action::Add,
            Action::NextBrew,
            Action::Why,
            Action::History,
            Action::Photographs,
            Action::Right,
            Action::Print,
            Action::Remove,
            Action::PageDown,
            Action::Back,
        ];
        if self.pair.is_some() {
            actions.insert(3, Action::Prove);
        }
        actions
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        match action {
            Action::Accept => Some("plan beside notes"),
            Action::Add => Some("log"),
            Action::Right => Some("over the weeks"),
            _ => None,
        }
    }

    fn explanation(&self) -> &'static str {
        "What this batch is by its recipe and its log. Measured values stand in the place of computed ones. While somebody tastes it, all of this is sealed."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match act {
            Act::Do(Action::Accept) => Next::Open(Box::new(SideBySideScreen::new(&self.mark))),
            Act::Do(Action::Right) => Next::Open(Box::new(WeeksScreen::new(&self.mark))),
            Act::Do(Action::NextBrew) => Next::Open(Box::new(NextScreen::new(&self.mark))),
            Act::Do(Action::Prove) => self.prove(home)?,
            Act::Do(Action::Print) => offered_on_paper(batch_offers(&self.mark), home),
            Act::Do(Action::History) => Next::Open(Box::new(HistoryScreen::new(&self.mark))),
            Act::Do(Action::Photographs) => {
                Next::Open(Box::new(PhotographsScreen::new(&self.mark, home)?))
            }
            Act::Do(Action::Why) => Next::Open(Box::new(WhyScreen::new(&self.mark, home)?)),
            Act::Do(Action::Add) => Next::Open(Box::new(LogScreen::new(&self.mark))),
            Act::Do(Action::Remove) => {
                let (what, words) = (self.mark.clone(), format!("batch {}", self.mark));
                let asked =
                    remove_question(Removable::Batch(what), &words, Then::FirstScreen, home)?;
                Next::Open(Box::new(asked))
            }
            Act::Do(Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}

/// A new batch: which recipe file, then what is written on the caps.
#[derive(Default)]
pub(super) struct NewBatchScreen {
    file: Option<PathBuf>,
    asking: Asking,
}

impl NewBatchScreen {
    /// The screen with a file typed already.
    pub(super) fn typed(file: &str) -> Self {
        Self {
            file: None,
            asking: Asking::typed(file),
        }
    }

    /// The screen where the file is known, with marks of bottles that have no batch yet.
    pub(super) fn of(file: PathBuf, marks: Vec<String>) -> Self {
        Self {
            file: Some(file),
            asking: Asking::among(marks),
        }
    }
}

impl Question for NewBatchScreen {
    fn heading(&self) -> String {
        "A new batch".to_owned()
    }

    fn asked(&self) -> &'static str {
        if self.file.is_none() {
            "Which recipe file? What it hopes for is frozen with today's date."
        } else {
            "What is written on the caps? Enter alone draws a new mark; a bottle tasted before its recipe was known can be chosen."
        }
    }

    fn purpose(&self) -> &'static str {
        "BeerXML and BeerJSON are taken too, and asked through. The file is read and checked whole; if anything in it is wrong, every problem is listed and nothing is kept. A recipe file is written by answering ten questions: thirdglass recipe new FILE"
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn needs(&self) -> Option<&'static str> {
        self.file
            .is_none()
            .then_some("the path of a recipe file is needed")
    }

    fn accept(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        let Some(file) = &self.file else {
            let file = typed_place(answer);
            if home.is_foreign_recipe(&file) {
                return Ok(Next::Replace(Box::new(ConvertScreen::new(&file, home)?)));
            }
            // A file with problems is told before the next question is asked.
            home.read_recipe(&file)?;
            self.file = Some(file);
            self.asking = Asking::among(home.marks_without_batch()?);
            return Ok(Next::Stay);
        };
        let mark = Some(answer).filter(|answer| !answer.trim().is_empty());
        let batch = home.add_batch(file, mark)?;
        let mark = batch.cap_mark.to_string();
        Ok(Next::Replace(Box::new(BatchScreen { mark, pair: None })))
    }
}
