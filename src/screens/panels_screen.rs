//! All panels: plan a new one, or open one.

use crate::domain::NotesSource;
use crate::drawing::Ink;
use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::OnePanelScreen;
use crate::screens::Page;
use crate::screens::PlanPanelScreen;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::choices::Choices;
use crate::screens::choices::Picked;
use crate::workflow::Home;
use crate::workflow::PanelTable;
use crate::workflow::WorkflowError;

/// The screen of all panels.
pub struct PanelsScreen {
    source: NotesSource,
    panels: Vec<PanelTable>,
    choices: Choices,
}

impl PanelsScreen {
    /// The screen; notes taken from it are kept as coming from `source`.
    #[must_use]
    pub fn new(source: NotesSource) -> Self {
        Self {
            source,
            panels: Vec::new(),
            choices: Choices::default(),
        }
    }
}

impl Screen for PanelsScreen {
    fn title(&self) -> String {
        "Taste with a panel".to_owned()
    }

    fn refresh(&mut self, home: &mut Home) -> Result<(), WorkflowError> {
        self.panels = home.panel_tables()?;
        // The newest first.
        self.panels.reverse();
        Ok(())
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        let text = "Several people taste the same beers under codes, by themselves and without talking; then they talk, and at last it is told what was in the glasses. One laptop passed round is enough, or sheets of paper. a plans a panel.";
        page.text(Ink::Plain, text, room.text_width());
        page.gap();
        let row = |it: &PanelTable| {
            let name = format!("Panel {} of {}", it.panel.number, it.panel.made_at.day());
            let people = reports::panel_people_words(it);
            (name, format!("{}; {people}", reports::panel_state(it)))
        };
        let rows: Vec<(String, String)> = self.panels.iter().map(row).collect();
        let cells = room.text_width().saturating_sub(30);
        let cut = |(name, what): (String, String)| (name, crate::screens::cut(&what, cells));
        let rows: Vec<(String, String)> = rows.into_iter().map(cut).collect();
        self.choices.draw(&mut page, &rows);
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        if self.panels.is_empty() {
            return vec![Action::Add, Action::Back];
        }
        Choices::actions_with(&[Action::Add])
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        (action == Action::Add).then_some("plan a panel")
    }

    fn explanation(&self) -> &'static str {
        "Whoever plans names the bottles and the people; codes and orders are drawn so that every glass stands as often at every place and after every other one as the number of tasters allows. Until it is told what was in the glasses, plans, predictions and notes of these beers stay sealed for everybody."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        if act == Act::Do(Action::Add) {
            let screen = PlanPanelScreen::new(self.source, home)?;
            return Ok(Next::Open(Box::new(screen)));
        }
        match self.choices.act(act, self.panels.len()) {
            Picked::Row(row) => {
                let number = self.panels[row].panel.number;
                let screen = OnePanelScreen::new(number, self.source, home)?;
                Ok(Next::Open(Box::new(screen)))
            }
            Picked::Left => Ok(Next::Close),
            Picked::Moved | Picked::Nothing => Ok(Next::Stay),
        }
    }
}
