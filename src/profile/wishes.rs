//! What a brewer wants of the next recipe beside its taste, and what this kitchen has and has brewed.

use crate::domain::Celsius;
use crate::domain::IngredientId;
use crate::domain::Recipe;

/// A range in which a figure is to lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    low: f64,
    high: f64,
}

impl Bounds {
    /// From one number to another; none if they fall, or are no numbers.
    #[must_use]
    pub fn new(low: f64, high: f64) -> Option<Self> {
        (low <= high && high.is_finite() && low.is_finite()).then_some(Self { low, high })
    }

    /// The lower end, in the unit of what is bounded.
    #[must_use]
    pub const fn low(self) -> f64 {
        self.low
    }

    /// The upper end, in the unit of what is bounded.
    #[must_use]
    pub const fn high(self) -> f64 {
        self.high
    }

    /// How far a number in the same unit lies outside; 0 within.
    #[must_use]
    pub fn missed_by(self, number: f64) -> f64 {
        (self.low - number).max(number - self.high).max(0.0)
    }
}

/// How many changes a proposal may make at most.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum MostChanges {
    /// One.
    One,
    /// Two.
    Two,
    /// Three.
    Three,
}

impl MostChanges {
    /// As a number.
    #[must_use]
    pub const fn number(self) -> usize {
        match self {
            Self::One => 1,
            Self::Two => 2,
            Self::Three => 3,
        }
    }

    /// Of a number from 1 to 3.
    #[must_use]
    pub const fn new(number: usize) -> Option<Self> {
        match number {
            1 => Some(Self::One),
            2 => Some(Self::Two),
            3 => Some(Self::Three),
            _ => None,
        }
    }
}

/// Something at home, and what it costs.
#[derive(Debug, Clone, PartialEq)]
pub struct Stocked {
    /// What.
    pub id: IngredientId,
    /// Grams at home; none if nobody weighed it.
    pub grams: Option<f64>,
    /// What a kilogram costs, in the brewer's money.
    pub per_kilogram: Option<f64>,
}

/// Where ingredients may come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Supply {
    /// Anything in the catalogue.
    Anything,
    /// Only what is at home.
    AtHome,
}

/// What the brewer wants of the next recipe beside its taste.
#[derive(Debug, Clone, PartialEq)]
pub struct Wishes {
    /// Alcohol, % vol.
    pub strength: Option<Bounds>,
    /// Bitterness, IBU.
    pub bitterness: Option<Bounds>,
    /// Colour, EBC.
    pub colour: Option<Bounds>,
    /// What the ingredients of the batch may cost, in the brewer's money.
    pub cost: Option<f64>,
    /// What is to stay as it is.
    pub locked: Vec<IngredientId>,
    /// What is not to be in it.
    pub forbidden: Vec<IngredientId>,
    /// Where ingredients may come from.
    pub supply: Supply,
    /// What is at home, and what things cost.
    pub stock: Vec<Stocked>,
    /// The finest step of the brewer's scale, grams.
    pub finest: f64,
    /// How many changes at most.
    pub most: MostChanges,
}

impl Default for Wishes {
    fn default() -> Self {
        Self {
            strength: None,
            bitterness: None,
            colour: None,
            cost: None,
            locked: Vec::new(),
            forbidden: Vec::new(),
            supply: Supply::Anything,
            stock: Vec::new(),
            finest: 0.1,
            most: MostChanges::Three,
        }
    }
}

impl Wishes {
    /// True for what must stay as it is.
    #[must_use]
    pub fn is_locked(&self, id: &IngredientId) -> bool {
        self.locked.contains(id)
    }

    /// Grams that may be used: none for as many as one likes.
    #[must_use]
    pub fn grams_at_hand(&self, id: &IngredientId) -> Option<f64> {
        if self.supply == Supply::Anything {
            return None;
        }
        let stocked = self.stock.iter().find(|it| it.id == *id);
        stocked.map_or(Some(0.0), |it| it.grams)
    }

    /// True for what may be put into a recipe.
    #[must_use]
    pub fn allows(&self, id: &IngredientId) -> bool {
        let there = self.grams_at_hand(id).is_none_or(|it| it > 0.0);
        there && !self.forbidden.contains(id) && !self.is_locked(id)
    }

    /// True for what has a price.
    #[must_use]
    pub fn has_price(&self, id: &IngredientId) -> bool {
        let mut stocked = self.stock.iter();
        stocked.any(|it| it.id == *id && it.per_kilogram.is_some())
    }

    /// What the ingredients of a recipe cost in the brewer's money, as far as their prices are known.
    #[must_use]
    pub fn cost_of(&self, recipe: &Recipe) -> f64 {
        let costs = amounts(recipe).map(|(id, grams)| {
            let stocked = self.stock.iter().find(|it| it.id == *id);
            let price = stocked.and_then(|it| it.per_kilogram);
            price.unwrap_or(0.0) * grams / 1_000.0
        });
        costs.sum()
    }
}

/// What goes into a recipe by weight.
pub fn amounts(recipe: &Recipe) -> impl Iterator<Item = (&IngredientId, f64)> {
    let malts = recipe.fermentables.iter();
    let malts = malts.map(|it| (&it.fermentable.identity.id, it.amount.get()));
    let hops = recipe.hops.iter();
    let hops = hops.map(|it| (&it.hop.identity.id, it.amount.get()));
    let others = recipe.others.iter();
    let others = others.map(|it| (&it.other.identity.id, it.amount.get()));
    malts.chain(hops).chain(others)
}

/// What a kitchen has brewed so far.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Familiar {
    /// Ingredients, yeasts too.
    pub ingredients: Vec<IngredientId>,
    /// The coolest and the hottest mash, °C.
    pub mash: Option<Bounds>,
    /// The coolest and the warmest fermentation, °C.
    pub fermentation: Option<Bounds>,
}

impl Familiar {
    /// A kitchen that has brewed these recipes.
    #[must_use]
    pub fn with<'a>(recipes: impl Iterator<Item = &'a Recipe>) -> Self {
        let mut known = Self::default();
        for recipe in recipes {
            let yeast = recipe.yeast.as_ref();
            let ids = amounts(recipe).map(|it| it.0);
            for id in ids.chain(yeast.map(|it| &it.yeast.identity.id)) {
                if !known.ingredients.contains(id) {
                    known.ingredients.push(id.clone());
                }
            }
            let mash = recipe.mash.temperature.map(Celsius::get);
            let usual = yeast.map(|it| it.yeast.temperature.usual());
            let stated = yeast.and_then(|it| it.temperature).map(Celsius::get);
            known.mash = widened(known.mash, mash);
            known.fermentation = widened(known.fermentation, stated.or(usual));
        }
        known
    }
}

fn widened(bounds: Option<Bounds>, by: Option<f64>) -> Option<Bounds> {
    let Some(by) = by else { return bounds };
    let (low, high) = bounds.map_or((by, by), |it| (it.low.min(by), it.high.max(by)));
    Bounds::new(low, high)
}

/// A wish that a recipe does not meet, and by how much.
#[derive(Debug, Clone, PartialEq)]
pub enum Unmet {
    /// Alcohol, % vol: what it has, and what was wanted.
    Strength(f64, Bounds),
    /// Bitterness, IBU.
    Bitterness(f64, Bounds),
    /// Colour, EBC.
    Colour(f64, Bounds),
    /// What it costs, and what it may.
    Cost(f64, f64),
    /// Something that is not to be in it.
    Forbidden(IngredientId),
    /// Something whose price nobody knows, where a cost is to be kept.
    NoPrice(IngredientId),
    /// Something of which less is at home than it takes: grams it takes, grams there are.
    NotAtHome(IngredientId, f64, f64),
}
