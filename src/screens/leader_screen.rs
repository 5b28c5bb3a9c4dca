//! The page of the one who leads an evening, and who may look at it.

use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Asking;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Question;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::print_offers::Offer;
use crate::screens::print_screen::offered_on_paper;
use crate::workflow::Evening;
use crate::workflow::EveningKeyError;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// The leader's page, at once where everything was told; else it is asked who reads.
pub(super) fn leader_page(evening: Evening, home: &Home) -> Result<Next, WorkflowError> {
    let screen: Box<dyn Screen> = match home.read_evening(&evening.course, None) {
        Ok(evening) => Box::new(LeaderScreen { evening }),
        Err(WorkflowError::EveningKey(EveningKeyError::WhoReads { .. })) => {
            Box::new(LeaderNameScreen {
                evening,
                asking: Asking::default(),
            })
        }
        Err(other) => return Err(other),
    };
    Ok(Next::Open(screen))
}

/// Who reads the leader's page. No names are listed: those there are learn.
struct LeaderNameScreen {
    evening: Evening,
    asking: Asking,
}

impl Question for LeaderNameScreen {
    fn heading(&self) -> String {
        "Who looks at what is in the jars?".to_owned()
    }

    fn asked(&self) -> &'static str {
        "Your name. From Enter on you know which jar holds what, and cannot learn these jars any more; nobody who learns in the course may look."
    }

    fn purpose(&self) -> &'static str {
        "Whoever prepares the jars reads this page, and does not smell them to learn. A learner who is named here is shown nothing."
    }

    fn needs(&self) -> Option<&'static str> {
        Some("a name is needed")
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn accept(&mut self, name: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        let evening = home.read_evening(&self.evening.course, Some(name))?;
        Ok(Next::Replace(Box::new(LeaderScreen { evening })))
    }
}

/// The page of the one who leads.
struct LeaderScreen {
    evening: Evening,
}

impl LeaderScreen {
    /// The pages of what is shown here already.
    fn print(&self, home: &mut Home) -> Next {
        let evening = self.evening.clone();
        let makes = move |paper| Ok(reports::evening_printout(&evening, paper));
        let what = "these pages for the one who leads; not for those who learn";
        let pages = Offer::shown(what, "evening.pdf", makes);
        let evening = self.evening.clone();
        let makes = move |paper| Ok(reports::evening_cards_printout(&evening, paper));
        let what = "the jars as preparation cards; not for those who learn";
        let cards = Offer::shown(what, "evening-cards.pdf", makes);
        let course = [self.evening.course.name.to_string()];
        let labels = Offer::of("evening-labels", &course);
        offered_on_paper(labels.map(|it| vec![pages, cards, it]), home)
    }
}

impl Screen for LeaderScreen {
    fn title(&self) -> String {
        "For the one who leads".to_owned()
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        let cells = room.text_width().saturating_sub(1);
        page.lines(reports::evening_lines(&self.evening, cells));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![Action::Print, Action::Back]
    }

    fn explanation(&self) -> &'static str {
        "Nobody who takes part may see this page: it says what is in which jar. Write each code on its jar and nothing else. Make the jars on the same day unless they say otherwise. o writes these pages, preparation cards, or labels for the jars as a file to print."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match act {
            Act::Do(Action::Print) => self.print(home),
            Act::Do(Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}
