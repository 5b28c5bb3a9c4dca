//! The predicted profile of a brew: every scale with its range, every shelf with its chance, and why.

use crate::domain::Condition;
use crate::domain::DescriptorId;
use crate::domain::Recipe;
use crate::domain::Scale;
use crate::domain::ShelfId;
use crate::domain::Stage;
use crate::profile::Arrived;
use crate::profile::Drivers;
use crate::profile::FLAVOUR_RULES;
use crate::profile::FamilyGifts;
use crate::profile::Handled;
use crate::profile::Odour;
use crate::profile::SCALE_RULES;
use crate::profile::ScaleForecast;
use crate::profile::Source;
use crate::profile::Weights;
use crate::profile::intensity_of;
use crate::profile::recipe_drivers::with_recipe;

/// The version of the rules; it changes with every change of a rule or a coefficient.
pub const MODEL_VERSION: &str = "5";

/// Shelves with fewer units are left out: one in forty would name them if they were known exactly, one in
/// fifteen with the usual spread of 0.45.
const LEAST_UNITS: f64 = 0.1;

/// How far the overall aroma strays, digits (judgement).
const AROMA_STRAYS: f64 = 1.3;

/// What a prediction is made from.
#[derive(Debug, Clone)]
pub struct Brew<'a> {
    /// The recipe.
    pub recipe: &'a Recipe,
    /// Litres of beer, measured or planned.
    pub litres: f64,
    /// The temperature of the fermentation, °C, where it is known.
    pub fermented_at: Option<f64>,
    /// How it was made and kept.
    pub handled: Handled,
    /// What becomes of a beer by that.
    pub conditions: &'a [Condition],
    /// The physical figures; what the recipe itself says is added to them.
    pub drivers: Drivers,
    /// The stand-ins for what nobody has described.
    pub families: &'a FamilyGifts,
}

/// What is predicted of a shelf at a stage.
#[derive(Debug, Clone, PartialEq)]
pub struct ShelfForecast {
    /// The shelf.
    pub shelf: ShelfId,
    /// Aroma or flavour.
    pub stage: Stage,
    /// How much of it.
    pub odour: Odour,
    /// The words of the largest gift, the most typical first.
    pub words: Vec<DescriptorId>,
    /// What each ingredient brings, as a share of the whole, the largest first.
    pub reasons: Vec<(Source, f64)>,
}

/// A predicted profile.
#[derive(Debug, Clone, PartialEq)]
pub struct Prediction {
    /// The scales, in the order of a tasting.
    pub scales: Vec<ScaleForecast>,
    /// The shelves that are worth a line, the likeliest first.
    pub shelves: Vec<ShelfForecast>,
}

impl Prediction {
    /// What is predicted of a scale, if there is a rule for it.
    #[must_use]
    pub fn scale(&self, scale: &Scale) -> Option<&ScaleForecast> {
        self.scales.iter().find(|it| it.scale.id == scale.id)
    }

    /// What is predicted of a shelf at a stage; none where next to nothing comes.
    #[must_use]
    pub fn shelf(&self, id: &ShelfId, stage: Stage) -> Option<&ShelfForecast> {
        let mut all = self.shelves.iter();
        all.find(|it| it.shelf == *id && it.stage == stage)
    }
}

/// Predicts the profile of a brew by the rules.
#[must_use]
pub fn predict(brew: &Brew<'_>) -> Prediction {
    let arrived = arrived(brew);
    let drivers = with_recipe(brew, &arrived);
    let mut scales: Vec<ScaleForecast> = SCALE_RULES
        .iter()
        .filter_map(|rule| rule.forecast(&drivers))
        .collect();
    let shelves = shelves(&arrived);
    let at = scales.iter().position(|it| it.scale.id == "sweet");
    if let Some(aroma) = overall_aroma(&shelves) {
        scales.insert(at.unwrap_or(scales.len()), aroma);
    }
    Prediction { scales, shelves }
}

/// Everything that arrives in the glass, with the weights of its rule.
#[must_use]
pub fn arrived<'a>(brew: &Brew<'a>) -> Vec<(Arrived<'a>, Weights)> {
    let mut all = Vec::with_capacity(64);
    let mut of_rule = Vec::with_capacity(32);
    for rule in FLAVOUR_RULES {
        (rule.arrive)(brew, &mut of_rule);
        all.extend(of_rule.drain(..).map(|it| (it, rule.weights)));
    }
    all
}

/// One shelf while its gifts are gathered.
struct Gathered<'a> {
    shelf: &'a ShelfId,
    gifts: Vec<(Arrived<'a>, Weights)>,
}

fn shelves(arrived: &[(Arrived<'_>, Weights)]) -> Vec<ShelfForecast> {
    let mut gathered: Vec<Gathered<'_>> = Vec::with_capacity(32);
    for (it, weights) in arrived {
        let shelf = &it.gift.shelf;
        match gathered.iter_mut().find(|place| place.shelf == shelf) {
            Some(place) => place.gifts.push((*it, *weights)),
            None => gathered.push(Gathered {
                shelf,
                gifts: vec![(*it, *weights)],
            }),
        }
    }
    let mut shelves: Vec<ShelfForecast> = gathered
        .iter()
        .flat_map(|it| [Stage::Aroma, Stage::Flavour].map(|stage| forecast(it, stage)))
        .flatten()
        .collect();
    // Not by units: of two shelves the one that is less well known may be named less often with more of them.
    shelves.sort_by(|a, b| {
        b.odour
            .above_threshold()
            .total_cmp(&a.odour.above_threshold())
    });
    shelves
}

/// What stands on one shelf adds up (Meilgaard 1982: similar flavours add, different ones act
/// independently); its spread is that of a sum of independent parts, by the delta method.
fn forecast(gathered: &Gathered<'_>, stage: Stage) -> Option<ShelfForecast> {
    let units = |(it, weights): &(Arrived<'_>, Weights)| it.units * weights.at(stage);
    let total: f64 = gathered.gifts.iter().map(units).sum();
    if total < LEAST_UNITS {
        return None;
    }
    let mut variance = 0.0;
    let mut reasons: Vec<(Source, f64)> = Vec::with_capacity(gathered.gifts.len());
    let mut largest: Option<(&Arrived<'_>, f64)> = None;
    for gift in &gathered.gifts {
        let share = units(gift) / total;
        variance += (share * gift.0.spread).powi(2);
        match reasons.iter_mut().find(|it| it.0 == gift.0.source) {
            Some(reason) => reason.1 += share,
            None => reasons.push((gift.0.source, share)),
        }
        if largest.is_none_or(|it| share > it.1) {
            largest = Some((&gift.0, share));
        }
    }
    reasons.sort_by(|a, b| b.1.total_cmp(&a.1));
    Some(ShelfForecast {
        shelf: gathered.shelf.clone(),
        stage,
        odour: Odour::new(total, variance.sqrt())?,
        words: largest.map_or_else(Vec::new, |it| it.0.gift.words.clone()),
        reasons,
    })
}

/// The overall aroma: the intensity of the flavour units of all shelves worth a line, in the nose, together;
/// cautious because different smells do not simply add (judgement: a third of them counts).
fn overall_aroma(shelves: &[ShelfForecast]) -> Option<ScaleForecast> {
    let nose = shelves.iter().filter(|it| it.stage == Stage::Aroma);
    let units: f64 = nose.map(|it| it.odour.units()).sum();
    Some(ScaleForecast {
        scale: Scale::from_id("aroma-intensity").ok()?,
        value: intensity_of(units / 3.0),
        sd: AROMA_STRAYS,
        reasons: Vec::new(),
    })
}
