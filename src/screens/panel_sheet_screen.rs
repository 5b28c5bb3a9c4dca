//! A sheet of a panel that is typed in: whose it is, and on which day it was written.

use crate::domain::Day;
use crate::domain::Name;
use crate::screens::Asking;
use crate::screens::Next;
use crate::screens::PanelTurnScreen;
use crate::screens::Question;
use crate::workflow::Home;
use crate::workflow::PanelRound;
use crate::workflow::TypedFrom;
use crate::workflow::WorkflowError;

/// The questions before a sheet is typed in.
pub struct PanelSheetScreen {
    number: u32,
    /// The day on which the panel was planned.
    usual: Day,
    taster: Option<Name>,
    asking: Asking,
}

impl PanelSheetScreen {
    /// The screen at the question for the name.
    ///
    /// # Errors
    /// There is no such panel, or the store cannot be read.
    pub(super) fn new(number: u32, home: &Home) -> Result<Self, WorkflowError> {
        let table = home.panel_table(number)?;
        let waits = table.people.iter().filter(|it| !it.is_done());
        let names: Vec<String> = waits.map(|it| it.taster.name.to_string()).collect();
        let first = names.first().cloned().unwrap_or_default();
        Ok(Self {
            number,
            usual: home.panel_day(&table),
            taster: None,
            asking: Asking::among(names).choosing(&first),
        })
    }
}

impl Question for PanelSheetScreen {
    fn heading(&self) -> String {
        match &self.taster {
            Some(name) => format!("The sheet of {name}"),
            None => "Type in a sheet".to_owned(),
        }
    }

    fn asked(&self) -> &'static str {
        if self.taster.is_some() {
            "On which day was it written? Enter takes the day on which the panel was planned; another one as year-month-day."
        } else {
            "Whose sheet?"
        }
    }

    fn purpose(&self) -> &'static str {
        "The sheet is typed in glass by glass with the same questions as on the screen; its day is kept beside the day of typing. What stands there blank is passed over with Space, a dash with -."
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn accept(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        let answer = answer.trim();
        let Some(name) = self.taster.clone() else {
            let turn = home.panel_turn(self.number, answer, PanelRound::Alone)?;
            if turn.next().is_none() {
                let said = format!("{} has locked every glass already.", turn.taster.name);
                return Ok(Next::Say(said));
            }
            self.taster = Some(turn.taster.name);
            let usual = self.usual.to_string();
            self.asking = Asking::among(vec![usual.clone()]).choosing(&usual);
            return Ok(Next::Stay);
        };
        let day = Day::parse(answer)?;
        let today = home.today();
        if day > today {
            return Err(WorkflowError::FutureDay {
                what: "the tasting",
                day,
                today,
            });
        }
        let from = TypedFrom::Sheet(day);
        let screen = PanelTurnScreen::new(self.number, name, PanelRound::Alone, from);
        Ok(Next::Replace(Box::new(screen)))
    }
}
