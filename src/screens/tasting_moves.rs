//! Moving about in a tasting: up and down, sideways, back, and to a row by a click.

use crate::domain::Field;
use crate::domain::Measure;
use crate::screens::Next;
use crate::screens::Stroll;
use crate::screens::TastingScreen;
use crate::screens::tasting_scale_page;
use crate::screens::tasting_words::MATCHES;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

impl TastingScreen {
    pub(super) fn row(&mut self, row: usize, home: &mut Home) -> Result<Next, WorkflowError> {
        if let Some(market) = &mut self.market {
            market.choose(home.wheel(), row);
            return self.accept(home);
        }
        match self.field() {
            Field::Knew => self.knew(row, home),
            Field::Nose => self.nosed(row, home),
            Field::Scale(scale) => {
                let first = usize::from(matches!(scale.measure, Measure::Choice { .. }));
                self.digit(u8::try_from(row + first).unwrap_or(u8::MAX), home)
            }
            Field::FirstSniff | Field::Words(_) if !self.entry.is_empty() => {
                self.chosen = row;
                self.accept(home)
            }
            _ => Ok(Next::Stay),
        }
    }

    pub(super) fn typed(&mut self, c: char, home: &Home) {
        if let Some(market) = &mut self.market {
            market.jump(home.wheel(), c);
            return;
        }
        self.pending = None;
        self.chosen = 0;
        self.entry.push(c);
    }

    pub(super) fn back(&mut self, home: &Home) -> Next {
        if let Some(market) = &mut self.market {
            if market.leave(home.wheel()) == Stroll::Left {
                self.market = None;
            }
        } else if !self.entry.is_empty() && self.field() != Field::Remark {
            self.entry.take();
            self.chosen = 0;
        } else if self.pending.is_some() {
            self.pending = None;
        } else if self.sweep.is_some() {
            self.sweep = None;
        } else {
            return Next::Close;
        }
        Next::Stay
    }

    pub(super) fn move_choice(
        &mut self,
        by: isize,
        home: &mut Home,
    ) -> Result<Next, WorkflowError> {
        if let Some(market) = &mut self.market {
            market.turn(home.wheel(), by);
            return Ok(Next::Stay);
        }
        if !self.entry.is_empty() && self.field() != Field::Remark {
            // One row more than there are matches: what is typed, in the taster's own words.
            let last = home.wheel().search(self.entry.text(), MATCHES).len();
            self.chosen = self.chosen.saturating_add_signed(by).min(last);
            return Ok(Next::Stay);
        }
        let field = self.neighbour(by);
        self.go(home, Vec::new(), field)
    }

    pub(super) fn sideways(&mut self, by: isize, home: &mut Home) -> Next {
        if let Field::Scale(scale) = self.field() {
            if scale.id == "colour" {
                let last = tasting_scale_page::colour_ladder().len();
                self.chosen = self.chosen.saturating_add_signed(by).clamp(1, last);
            }
            return Next::Stay;
        }
        match (&mut self.market, by > 0) {
            (Some(market), true) => {
                if let Stroll::Found(_) = market.clone().enter(home.wheel()) {
                    return Next::Say("Enter takes this word.".to_owned());
                }
                let _walks_on: Stroll = market.enter(home.wheel());
            }
            (Some(market), false) => {
                if market.leave(home.wheel()) == Stroll::Left {
                    self.market = None;
                }
            }
            (None, true) => self.open_market(home),
            (None, false) => {}
        }
        Next::Stay
    }
}
