//! A home in memory for tests: one batch of the example recipe, and a clock that goes on a second at each look.

use crate::domain::Moment;
use crate::formats::EXAMPLE;
use crate::statistics::Dice;
use crate::workflow::Clock;
use crate::workflow::Home;
use crate::workflow::ReadRecipe;

/// A whole recipe with hopes and promises, for tests of rooms that read no files.
pub(crate) const TRIAL_RECIPE: &str = EXAMPLE;

impl Home {
    /// Nobody and nothing has been added.
    pub(crate) fn trial() -> Self {
        let mut second = 0;
        let clock = Clock::from_fn(move || {
            second += 1;
            let (hours, minutes, seconds) = (second / 3_600, second / 60 % 60, second % 60);
            Moment::parse(&format!("2026-11-01T{hours:02}:{minutes:02}:{seconds:02}Z")).unwrap()
        });
        Self::in_memory(clock, Dice::from_seed(7)).unwrap()
    }

    /// The invented kitchen of the demonstration, without its folder: nothing may be written there.
    pub(crate) fn trial_demo() -> Self {
        // Dice of their own: the folder is named by them, and tests run side by side.
        let dice = Dice::from_system().unwrap();
        Self::demo(Clock::system(), dice).unwrap().0
    }

    /// The recipe that `recipe check --example` shows is brewed and bottled as T1.
    pub(crate) fn trial_with_a_batch() -> Self {
        let mut home = Self::trial();
        let read = ReadRecipe {
            document: EXAMPLE.to_owned(),
            recipe: home.parse_recipe("example", EXAMPLE).unwrap(),
        };
        home.add_batch_of(&read, Some("T1")).unwrap();
        home
    }
}
