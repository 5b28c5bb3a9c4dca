//! What is prepared for a practice: the jars or glasses under their codes, shown once.

use crate::domain::PracticeKind;
use crate::domain::SeatRole;
use crate::domain::SittingId;
use crate::domain::StrengthGlass;
use crate::domain::Taster;
use crate::drawing::Ink;
use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::PracticeTableScreen;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::practice_seat::PracticeSeat;
use crate::screens::print_screen::shown_on_paper;
use crate::workflow::Home;
use crate::workflow::JarCard;
use crate::workflow::WorkflowError;

/// The jars as they are prepared; shown once.
pub struct PracticePrepScreen {
    sitting: SittingId,
    tasters: Vec<Taster>,
    cards: Vec<JarCard>,
    /// The glasses of a series, where that is practised.
    series: Vec<StrengthGlass>,
    kind: PracticeKind,
    role: SeatRole,
    /// Whether the page was said to be done with once; it cannot be brought back.
    asked_twice: bool,
}

impl PracticePrepScreen {
    /// The screen of a practice that was just drawn.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(super) fn new(
        sitting: &SittingId,
        tasters: &[Taster],
        home: &Home,
    ) -> Result<Self, WorkflowError> {
        let first = tasters.first().ok_or(WorkflowError::NothingToPractise)?;
        let run = home.practice_run(sitting, first)?;
        Ok(Self {
            sitting: sitting.clone(),
            tasters: tasters.to_vec(),
            cards: home.jar_cards(sitting)?,
            series: home.series_key(sitting)?,
            kind: run.practice.kind,
            role: run.role,
            asked_twice: false,
        })
    }
}

impl Screen for PracticePrepScreen {
    fn title(&self) -> String {
        "What is prepared (not for those who practise)".to_owned()
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        let cells = room.text_width().saturating_sub(1);
        let codes = match self.role {
            SeatRole::PouringTaster => {
                "Stick each code beneath its jar or glass, cover them all alike, close your eyes, and shuffle them until you are lost. Read a code only after your answer. Enter hides this page for good."
            }
            _ => {
                "Write each code on its jar or glass, and nothing else. Read to the end: Enter hides this page for good."
            }
        };
        page.text(Ink::Strong, codes, room.text_width());
        page.gap();
        if self.kind == PracticeKind::Strength {
            page.lines(reports::series_key_lines(&self.series, cells));
        } else {
            page.lines(reports::jar_card_lines(&self.cards, self.kind, cells));
        }
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        if self.cards.is_empty() {
            return vec![Action::Accept, Action::Back];
        }
        vec![Action::Accept, Action::Print, Action::Back]
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        (action == Action::Accept).then_some("hide this")
    }

    fn explanation(&self) -> &'static str {
        "Smell before you taste, one jar at a time, and make and throw it away the same day unless it says otherwise. Nothing that is for sniffing only may enter a mouth."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match act {
            Act::Do(Action::Accept) if !self.asked_twice => {
                self.asked_twice = true;
                Next::Say(
                    "Is everything prepared? Enter once more hides this page for good.".to_owned(),
                )
            }
            Act::Do(Action::Accept) => match self.tasters.as_slice() {
                [one] => Next::Replace(PracticeSeat::of(home, &self.sitting, one)?.into_screen()),
                _ => Next::Replace(Box::new(PracticeTableScreen::new(
                    self.sitting.clone(),
                    self.tasters.clone(),
                ))),
            },
            Act::Do(Action::Print) => {
                let cards = self.cards.clone();
                let makes = move |paper| Ok(reports::jar_cards_printout(&cards, paper));
                let what = "preparation cards; not for those who practise";
                shown_on_paper(what, "jar-cards.pdf", makes, home)
            }
            Act::Do(Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}
