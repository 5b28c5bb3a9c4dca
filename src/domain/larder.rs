//! What somebody has at home: ingredients, how much of each, and what they cost.

use crate::domain::Grams;
use crate::domain::IngredientId;
use crate::domain::PricePerKilogram;

/// One ingredient that is at home.
#[derive(Debug, Clone, PartialEq)]
pub struct LarderItem {
    /// Which.
    pub ingredient: IngredientId,
    /// How much of it; none where nobody weighed it.
    pub amount: Option<Grams>,
    /// What it costs, in whatever currency all of the list is in.
    pub price: Option<PricePerKilogram>,
}

/// Everything that is at home, each ingredient once.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Larder {
    /// The ingredients, in the order of the list.
    pub items: Vec<LarderItem>,
}

impl Larder {
    /// What is there of an ingredient, if it is there at all.
    #[must_use]
    pub fn item(&self, ingredient: &IngredientId) -> Option<&LarderItem> {
        self.items.iter().find(|it| it.ingredient == *ingredient)
    }
}
