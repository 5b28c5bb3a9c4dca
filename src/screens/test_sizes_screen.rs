//! How many friends and rounds: a picture of what they would notice, that moves with the arrows.

use crate::domain::Abv;
use crate::domain::Millilitres;
use crate::domain::Purpose;
use crate::drawing::CellRoom;
use crate::drawing::Ink;
use crate::drawing::Picture;
use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::PlanTestScreen;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::TestDraft;
use crate::workflow::Aim;
use crate::workflow::Alpha;
use crate::workflow::Beta;
use crate::workflow::BlindError;
use crate::workflow::Effect;
use crate::workflow::Home;
use crate::workflow::METHODS;
use crate::workflow::Pd;
use crate::workflow::PowerGrid;
use crate::workflow::Table;
use crate::workflow::WorkflowError;
use crate::workflow::as_far_apart;
use crate::workflow::power_grid;
use crate::workflow::test_sizes;

/// The differences one may ask for: shares of people who can taste them.
const DIFFERENCES: [f64; 5] = [0.5, 0.6, 0.2, 0.3, 0.4];

/// A room from this height on has taller bars.
const TALL: usize = 34;

/// The screen of friends and rounds.
pub struct TestSizesScreen {
    grid: PowerGrid,
    glass: Millilitres,
    method: usize,
    difference: usize,
    friends: usize,
    rounds: usize,
}

impl TestSizesScreen {
    /// The screen at seven friends with one round of triangles, and so much in a glass.
    ///
    /// # Errors
    /// Never; the risks are those of every plan.
    pub fn new(glass: Millilitres) -> Result<Self, WorkflowError> {
        let grid = power_grid(METHODS[0], aim(DIFFERENCES[0])?);
        let friends = grid.friends.iter().position(|it| *it == 7).unwrap_or(0);
        Ok(Self {
            grid,
            glass,
            method: 0,
            difference: 0,
            friends,
            rounds: 0,
        })
    }

    fn look_again(&mut self) -> Result<Next, WorkflowError> {
        let aim = aim(DIFFERENCES[self.difference])?;
        let method = METHODS[self.method];
        // Every method for the same two beers, so that methods can be compared.
        let aim = as_far_apart(METHODS[0], aim, method);
        self.grid = power_grid(method, aim);
        Ok(Next::Stay)
    }

    fn friends(&self) -> u32 {
        self.grid.friends.get(self.friends).copied().unwrap_or(1)
    }

    /// The share of people who would be right without guessing, by the method chosen.
    fn share(&self) -> f64 {
        let correct = self.grid.method.correct_at(self.grid.aim.effect);
        let share = self.grid.method.pd_at(correct).clamp(0.01, 0.99);
        // In whole per cent, as it is asked for when a test is planned.
        (100.0 * share).round() / 100.0
    }

    fn sentence(&self) -> Result<String, WorkflowError> {
        let rounds = u32::try_from(self.rounds).unwrap_or(0) + 1;
        let table = Table {
            friends: Some(self.friends()),
            rounds,
            glass: self.glass,
            abv: Abv::new(5.0)?,
        };
        let sizes = test_sizes(
            self.grid.method.id,
            Purpose::Difference,
            self.grid.aim,
            table,
        )?;
        let row = sizes.worth.iter().find(|it| it.rounds == rounds);
        Ok(row.map_or_else(String::new, |it| reports::friends_sentence(&sizes, it)))
    }

    fn plan(&self, home: &mut Home) -> Result<Next, WorkflowError> {
        let draft = TestDraft {
            places: u16::try_from(self.friends()).ok(),
            rounds: u16::try_from(self.rounds + 1).ok(),
            method: Some(self.grid.method),
            pd: self.share(),
            ..TestDraft::default()
        };
        Ok(Next::Replace(Box::new(PlanTestScreen::of(draft, home)?)))
    }
}

/// The risks of every plan, with this difference.
fn aim(difference: f64) -> Result<Aim, BlindError> {
    Ok(Aim {
        alpha: Alpha::new(0.05)?,
        beta: Beta::new(0.2)?,
        effect: Effect::Pd(Pd::new(difference)?),
    })
}

impl Screen for TestSizesScreen {
    fn title(&self) -> String {
        "How many friends, how many rounds?".to_owned()
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        let asked = format!(
            "Noticed, times in 100, by {}; the two as different as {:.0} % can tell",
            self.grid.method.name,
            100.0 * DIFFERENCES[self.difference]
        );
        page.text(Ink::Plain, &asked, room.text_width());
        page.gap();
        let picture = reports::power_picture(&self.grid, self.friends, self.rounds);
        page.lines(picture.lines(CellRoom {
            cells: room.text_width(),
            rows: if room.height >= TALL { 10 } else { 5 },
        }));
        page.text(
            Ink::Quiet,
            "The bars are of the chosen rounds. One friend more can be worth a little less.",
            room.text_width(),
        );
        page.gap();
        page.text(Ink::Strong, &self.sentence()?, room.text_width());
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![
            Action::Accept,
            Action::Left,
            Action::Right,
            Action::Up,
            Action::Down,
            Action::Method,
            Action::Difference,
            Action::Back,
        ]
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        match action {
            Action::Accept => Some("plan it so"),
            Action::Left => Some("fewer friends"),
            Action::Right => Some("more"),
            Action::Up => Some("rounds"),
            Action::Down => Some("one round more"),
            _ => None,
        }
    }

    fn explanation(&self) -> &'static str {
        "Each number is how many times in 100 so many friends with so many rounds would notice the difference, when a false one is allowed 5 times in 100. One friend more can be worth a little less, because right answers come in whole numbers. The difference is that of two beers which so many people can tell apart in a triangle test; other methods are shown for the same two beers. A glass is what the settings say (30 mL unless changed), the beers are taken to have 5 % vol; other risks and glasses: thirdglass blind size --help."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        let last = self.grid.friends.len() - 1;
        let most = self.grid.power.len() - 1;
        match act {
            Act::Do(Action::Left) => self.friends = self.friends.saturating_sub(1),
            Act::Do(Action::Right) => self.friends = (self.friends + 1).min(last),
            Act::Do(Action::Up) => self.rounds = self.rounds.saturating_sub(1),
            Act::Do(Action::Down) => self.rounds = (self.rounds + 1).min(most),
            Act::Do(Action::Method) => {
                self.method = (self.method + 1) % METHODS.len();
                return self.look_again();
            }
            Act::Do(Action::Difference) => {
                self.difference = (self.difference + 1) % DIFFERENCES.len();
                return self.look_again();
            }
            Act::Do(Action::Accept) => return self.plan(home),
            Act::Do(Action::Back) => return Ok(Next::Close),
            _ => {}
        }
        Ok(Next::Stay)
    }
}
