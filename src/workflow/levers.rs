//! What would move a line of a prediction: small changes, each tried by predicting again.

use crate::domain::Day;
use crate::domain::Recipe;
use crate::profile::Brew;
use crate::profile::Prediction;
use crate::profile::predict;
use crate::workflow::BatchLog;
use crate::workflow::Home;
use crate::workflow::changes::changes;
use crate::workflow::why::shelf_id;

/// How many levers are told.
const LEVERS: usize = 6;

/// How much later a beer is looked at once more, in weeks.
const LATER_WEEKS: u16 = 4;

/// A lever that moves a line by less than this is none (judgement): digits of a scale, parts of one of a shelf.
const LEAST_MOVE: f64 = 0.005;

/// How old the beer is that a prediction is of.
#[derive(Debug, Clone, Copy)]
pub(super) enum Age {
    /// As old as its log says on a day.
    Tasted(Day),
    /// So many weeks at 20 °C, or just ready.
    Weeks(Option<u16>),
}

impl Age {
    /// The same four weeks later; none where nobody knows how old it is now.
    fn later(self, log: &BatchLog) -> Option<Self> {
        match self {
            Self::Tasted(day) => {
                log.day("packaged")?;
                Some(Self::Tasted(day.days_later(7 * LATER_WEEKS)))
            }
            Self::Weeks(weeks) => Some(Self::Weeks(Some(weeks? + LATER_WEEKS))),
        }
    }
}

/// One change of the recipe, and what it moves.
#[derive(Debug, Clone, PartialEq)]
pub struct Lever {
    /// The change, in words.
    pub change: String,
    /// What it moves: digits of a scale, or the chance that a shelf is named.
    pub moves: f64,
    /// How much more of a shelf there is then, as a part of its flavour units; none of a scale.
    pub grows: Option<f64>,
}

impl Home {
    /// What a prediction is made from, of a beer of some age.
    pub(super) fn brew_at<'a>(&'a self, recipe: &'a Recipe, log: &BatchLog, age: Age) -> Brew<'a> {
        match age {
            Age::Tasted(day) => self.brew(recipe, log, Some(day)),
            Age::Weeks(weeks) => self.aged_brew(recipe, log, weeks),
        }
    }

    /// What would move a line most: every change is tried by predicting again.
    pub(super) fn levers(&self, recipe: &Recipe, log: &BatchLog, age: Age, id: &str) -> Vec<Lever> {
        let measured = |recipe: &Recipe, age| {
            let prediction = predict(&self.brew_at(recipe, log, age));
            Measured::of(&prediction, id)
        };
        let now = measured(recipe, age);
        let changed = changes(recipe)
            .into_iter()
            .map(|(change, changed)| (change, measured(&changed, age)));
        let later = age.later(log);
        let later = later.map(|age| ("four weeks later".to_owned(), measured(recipe, age)));
        let all = changed.chain(later);
        let mut levers: Vec<Lever> = all
            .map(|(change, then)| now.lever(change, then))
            .filter(|it| it.size() >= LEAST_MOVE)
            .collect();
        levers.sort_by(|a, b| b.size().total_cmp(&a.size()));
        levers.truncate(LEVERS);
        levers
    }
}

/// What a line comes to.
#[derive(Debug, Clone, Copy)]
struct Measured {
    /// Digits of a scale, or the chance that a shelf is named.
    value: f64,
    /// Flavour units of a shelf.
    units: Option<f64>,
}

impl Measured {
    fn of(prediction: &Prediction, id: &str) -> Self {
        let scale = prediction.scales.iter().find(|it| it.scale.id == id);
        let shelf = prediction.shelves.iter().find(|it| shelf_id(it) == id);
        match (scale, shelf) {
            (Some(scale), _) => Self {
                value: scale.digits(),
                units: None,
            },
            (_, Some(shelf)) => Self {
                value: shelf.odour.named().get(),
                units: Some(shelf.odour.units()),
            },
            (None, None) => Self {
                value: 0.0,
                units: None,
            },
        }
    }

    /// The change from this to that.
    fn lever(self, change: String, then: Self) -> Lever {
        let grows = self.units.map(|now| then.units.unwrap_or(0.0) / now - 1.0);
        Lever {
            change,
            moves: then.value - self.value,
            grows,
        }
    }
}

impl Lever {
    /// How large it is: a shelf by its units, because chances near 1 hardly move.
    fn size(&self) -> f64 {
        self.grows.unwrap_or(self.moves).abs()
    }
}
