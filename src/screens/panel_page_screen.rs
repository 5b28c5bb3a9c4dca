//! Pages of a panel that are only read: what is poured, sheets, the talk, the result, and a taster's own page.

use crate::domain::Name;
use crate::domain::SeatRole;
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
use crate::screens::choices::Choices;
use crate::screens::choices::Picked;
use crate::screens::print_screen::shown_on_paper;
use crate::workflow::Home;
use crate::workflow::OwnPage;
use crate::workflow::PanelPhase;
use crate::workflow::PanelResult;
use crate::workflow::PanelTalk;
use crate::workflow::PouringSheet;
use crate::workflow::TasterReads;
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
    /// Nothing before Enter: only one may see what comes.
    Hidden(Name),
    /// Who reads what is poured: whoever does so knows the key.
    Readers(Vec<Name>, Choices),
    Pouring(PouringSheet),
    Ballots(PouringSheet),
    Talk(PanelTalk, TalkNames),
    Result(PanelResult),
    Own(OwnPage),
}

/// Who reads what is poured and does not taste; nobody is called so, for a name is never empty.
const NOBODY: &str = "";

/// The tasters of a panel who do not know yet what is in the glasses.
fn readers(number: u32, home: &Home) -> Result<Vec<Name>, WorkflowError> {
    let table = home.panel_table(number)?;
    let tasters = table.people.into_iter();
    let blind = tasters.filter(|it| it.role != SeatRole::PouringTaster);
    Ok(blind.map(|it| it.taster.name).collect())
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
            Shown::Pouring => Content::Readers(readers(number, home)?, Choices::default()),
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
            content: Content::Hidden(name),
        }
    }

    fn show(&mut self, home: &Home) -> Result<Next, WorkflowError> {
        let shown = match &self.content {
            Content::Hidden(name) => Content::Own(home.panel_own_page(self.number, name.as_str())?),
            _ => return Ok(Next::Close),
        };
        self.content = shown;
        Ok(Next::Top)
    }

    /// The pages of what is shown: whoever reads what is poured was asked for before.
    fn print(&self, home: &mut Home) -> Next {
        let file = |name: &str| format!("panel-{}-{name}.pdf", self.number);
        match &self.content {
            Content::Pouring(sheet) => {
                let sheet = sheet.clone();
                let makes = move |paper| Ok(reports::pouring_printout(&sheet, paper));
                let what = "what is poured; not for tasters";
                shown_on_paper(what, &file("pour"), makes, home)
            }
            Content::Ballots(sheet) => {
                let sheet = sheet.clone();
                let makes = move |paper| Ok(reports::panel_ballots_printout(&sheet, None, paper));
                let what = "a ballot for each taster";
                shown_on_paper(what, &file("ballots"), makes, home)
            }
            _ => Next::Stay,
        }
    }

    fn lines(&self, cells: usize) -> Vec<Line> {
        match &self.content {
            Content::Hidden(_) | Content::Readers(..) => Vec::new(),
            Content::Pouring(sheet) => reports::pouring_lines(sheet, cells),
            Content::Ballots(sheet) => {
                let mut lines = vec![Line::of(
                    Ink::Quiet,
                    format!(
                        "To print: thirdglass print panel-ballots {} ballots.pdf",
                        self.number
                    ),
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
            Content::Hidden(name) => format!("For {name} alone"),
            Content::Readers(..) => "For whoever pours".to_owned(),
            _ => format!("Panel {}", self.number),
        }
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        let text = match &self.content {
            Content::Readers(..) => {
                "Hand the screen to whoever pours; the others look away. Who reads on? A taster who does knows the key, and is counted only where nobody else tastes."
            }
            Content::Hidden(_) => {
                "This page is for one pair of eyes. Take the screen; Enter shows it."
            }
            _ => "",
        };
        if !text.is_empty() {
            page.gap();
            page.text(Ink::Strong, text, room.text_width());
        }
        if let Content::Readers(names, choices) = &self.content {
            page.gap();
            let somebody = ("Somebody who does not taste".to_owned(), String::new());
            let tasters = names
                .iter()
                .map(|it| (it.to_string(), "knows the key then".to_owned()));
            let rows: Vec<(String, String)> = std::iter::once(somebody).chain(tasters).collect();
            choices.draw(&mut page, &rows);
        }
        page.lines(self.lines(room.width.saturating_sub(1).min(110)));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        if matches!(self.content, Content::Readers(..)) {
            return Choices::ACTIONS.to_vec();
        }
        let mut actions = vec![Action::Accept];
        if matches!(self.content, Content::Pouring(_) | Content::Ballots(_)) {
            actions.push(Action::Print);
        }
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
            (Action::Accept, Content::Hidden(_) | Content::Readers(..)) => Some("show it"),
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
            Content::Own(_) | Content::Hidden(_) => {
                "Only this taster is to read it: the two answers to what stood there two times, and where they stand apart."
            }
            _ => {
                "o writes the sheets as a file to print. What tells the key is for whoever pours; hide it before a taster sees the screen."
            }
        }
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        if let Content::Readers(names, choices) = &mut self.content {
            let reader = match choices.act(act, names.len() + 1) {
                Picked::Row(row) => row.checked_sub(1).and_then(|it| names.get(it)),
                Picked::Left => return Ok(Next::Close),
                Picked::Moved | Picked::Nothing => return Ok(Next::Stay),
            };
            // The page above the names has said what it means.
            let reader = reader.map_or(NOBODY, Name::as_str).to_owned();
            let sheet = home.read_pouring_sheet(self.number, Some(&reader), TasterReads::Yes)?;
            self.content = Content::Pouring(sheet);
            return Ok(Next::Top);
        }
        match act {
            Act::Do(Action::Accept) => self.show(home),
            Act::Do(Action::Print) => Ok(self.print(home)),
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
