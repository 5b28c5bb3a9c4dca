//! Pages of a panel that are only read: what is poured, sheets, the talk, the result, and a taster's own page.

use crate::domain::Name;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports;
use crate::reports::TalkNames;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::workflow::Home;
use crate::workflow::OwnPage;
use crate::workflow::PanelPhase;
use crate::workflow::PanelResult;
use crate::workflow::PanelTalk;
use crate::workflow::PouringSheet;
use crate::workflow::WorkflowError;

/// Which page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Shown {
    Pouring,
    Ballots,
    Talk,
    Result,
}

/// What stands on a page.
enum Content {
    /// Nothing before Enter: only some may see what comes.
    Hidden(Hidden),
    Pouring(PouringSheet),
    Ballots(PouringSheet),
    Talk(PanelTalk, TalkNames),
    Result(PanelResult),
    Own(OwnPage),
}

/// What is behind a page that shows nothing.
enum Hidden {
    Pouring,
    Own(Name),
}

/// A page of a panel.
pub struct PanelPageScreen {
    number: u32,
    content: Content,
}

impl PanelPageScreen {
    /// A page of the panel with this number.
    ///
    /// # Errors
    /// It cannot be shown yet, or the store cannot be read.
    pub(super) fn new(number: u32, shown: Shown, home: &Home) -> Result<Self, WorkflowError> {
        let told = home.panel_table(number)?.phase() == PanelPhase::Told;
        let content = match shown {
            Shown::Pouring if told => Content::Pouring(home.pouring_sheet(number)?),
            Shown::Pouring => Content::Hidden(Hidden::Pouring),
            Shown::Ballots => Content::Ballots(home.pouring_sheet(number)?),
            Shown::Talk => Content::Talk(home.panel_talk(number)?, TalkNames::Hidden),
            Shown::Result => Content::Result(home.panel_result(number)?),
        };
        Ok(Self { number, content })
    }

    /// The page of one taster, which nobody else is to see.
    #[must_use]
    pub const fn own(number: u32, name: Name) -> Self {
        Self {
            number,
            content: Content::Hidden(Hidden::Own(name)),
        }
    }

    fn show(&mut self, home: &Home) -> Result<Next, WorkflowError> {
        let shown = match &self.content {
            Content::Hidden(Hidden::Pouring) => Content::Pouring(home.pouring_sheet(self.number)?),
            Content::Hidden(Hidden::Own(name)) => {
                Content::Own(home.panel_own_page(self.number, name.as_str())?)
            }
            _ => return Ok(Next::Close),
        };
        self.content = shown;
        Ok(Next::Top)
    }

    fn lines(&self, cells: usize) -> Vec<Line> {
        match &self.content {
            Content::Hidden(_) => Vec::new(),
            Content::Pouring(sheet) => reports::pouring_lines(sheet, cells),
            Content::Ballots(sheet) => {
                let mut lines = vec![Line::of(
                    Ink::Quiet,
                    format!("To print: thirdglass panel ballots {}", self.number),
                )];
                for (name, codes) in &sheet.orders {
                    lines.push(Line::blank());
                    lines.extend(reports::panel_ballot_lines(sheet, name, codes, cells));
                }
                lines
            }
            Content::Talk(talk, names) => reports::panel_talk_lines(talk, *names, cells),
            Content::Result(result) => reports::panel_result_lines(result, cells),
            Content::Own(own) => reports::panel_own_lines(own, cells),
        }
    }
}

impl Screen for PanelPageScreen {
    fn title(&self) -> String {
        match &self.content {
            Content::Hidden(Hidden::Own(name)) => format!("For {name} alone"),
            Content::Hidden(Hidden::Pouring) => "For whoever pours".to_owned(),
            _ => format!("Panel {}", self.number),
        }
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        let text = match &self.content {
            Content::Hidden(Hidden::Pouring) => {
                "Hand the screen to whoever pours; the tasters look away. Enter shows which beer goes into which glass. A taster who reads it knows the key."
            }
            Content::Hidden(Hidden::Own(_)) => {
                "This page is for one pair of eyes. Take the screen; Enter shows it."
            }
            _ => "",
        };
        if !text.is_empty() {
            page.gap();
            page.text(Ink::Strong, text, room.text_width());
        }
        page.lines(self.lines(room.width.saturating_sub(1).min(110)));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        let mut actions = vec![Action::Accept];
        if matches!(self.content, Content::Talk(..)) {
            actions.push(Action::Whose);
        }
        if !matches!(self.content, Content::Hidden(_)) {
            actions.extend([Action::PageDown, Action::PageUp]);
        }
        actions.push(Action::Back);
        actions
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        match (action, &self.content) {
            (Action::Accept, Content::Hidden(_)) => Some("show it"),
            (Action::Accept, _) => Some("hide it"),
            (Action::Whose, Content::Talk(_, TalkNames::Hidden)) => Some("say who stands apart"),
            (Action::Whose, _) => Some("no names"),
            _ => None,
        }
    }

    fn explanation(&self) -> &'static str {
        match &self.content {
            Content::Talk(..) => {
                "Each glass by its code: the middle of all answers, the lowest and the highest, and the words by how many found them. Nothing here tells a beer. Who stands apart is named only if the group wants it."
            }
            Content::Result(_) => {
                "What everybody found, beer by beer, as they answered alone, and beside it after the talk. Who stands apart is told by more than noise makes of it, all lines of the panel judged together."
            }
            Content::Own(_) | Content::Hidden(Hidden::Own(_)) => {
                "Only this taster is to read it: the two answers to what stood there two times, and where they stand apart."
            }
            _ => {
                "Sheets are also printed by thirdglass panel sheet and thirdglass panel ballots in a terminal. What tells the key is for whoever pours; hide it before a taster sees the screen."
            }
        }
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match act {
            Act::Do(Action::Accept) => self.show(home),
            Act::Do(Action::Back) => Ok(Next::Close),
            Act::Do(Action::Whose) => {
                if let Content::Talk(_, names) = &mut self.content {
                    *names = match names {
                        TalkNames::Hidden => TalkNames::Shown,
                        TalkNames::Shown => TalkNames::Hidden,
                    };
                }
                Ok(Next::Stay)
            }
            _ => Ok(Next::Stay),
        }
    }
}
