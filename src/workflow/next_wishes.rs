//! What a brewer asks of the next recipe beside its taste, by the names they use.

use std::sync::Arc;

use crate::domain::Identity;
use crate::domain::IngredientId;
use crate::domain::Recipe;
use crate::domain::nearest_names;
use crate::profile::Bounds;
use crate::profile::MostChanges;
use crate::profile::Stocked;
use crate::profile::Supply;
use crate::profile::Wishes;
use crate::profile::amounts;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// What is asked for, as typed.
#[derive(Debug, Clone, PartialEq)]
pub struct AskedWishes {
    /// Alcohol, % vol, from and to.
    pub strength: Option<Bounds>,
    /// Bitterness, IBU.
    pub bitterness: Option<Bounds>,
    /// Colour, EBC.
    pub colour: Option<Bounds>,
    /// What the ingredients may cost, in the money of the larder's prices.
    pub cost: Option<f64>,
    /// Litres of the next brew, where it is not as much as before.
    pub litres: Option<f64>,
    /// Names of what is to stay as it is.
    pub locked: Vec<String>,
    /// Names of what is not to be in it.
    pub forbidden: Vec<String>,
    /// Where ingredients may come from.
    pub supply: Supply,
    /// The finest step of the scale, grams.
    pub finest: f64,
    /// How many changes at most.
    pub most: MostChanges,
}

impl Default for AskedWishes {
    fn default() -> Self {
        let usual = Wishes::default();
        Self {
            strength: None,
            bitterness: None,
            colour: None,
            cost: None,
            litres: None,
            locked: Vec::new(),
            forbidden: Vec::new(),
            supply: usual.supply,
            finest: usual.finest,
            most: usual.most,
        }
    }
}

impl Home {
    /// The wishes as a search takes them.
    ///
    /// # Errors
    /// Names that nothing has, the same thing locked and forbidden, a cost without prices, or a larder that is asked
    /// for and is not there: all at once.
    pub(super) fn wishes(
        &self,
        asked: &AskedWishes,
        recipe: &Recipe,
        stock: &[Stocked],
    ) -> Result<Wishes, WorkflowError> {
        let mut problems = Vec::new();
        let locked = self.ids_of(&asked.locked, recipe, &mut problems);
        let forbidden = self.ids_of(&asked.forbidden, recipe, &mut problems);
        for id in locked.iter().filter(|it| forbidden.contains(it)) {
            problems.push(format!(
                "“{id}” is to stay as it is and not to be in it: take one of the two back."
            ));
        }
        let wishes = Wishes {
            strength: asked.strength,
            bitterness: asked.bitterness,
            colour: asked.colour,
            cost: asked.cost,
            locked,
            forbidden,
            supply: asked.supply,
            stock: stock.to_vec(),
            finest: asked.finest,
            most: asked.most,
        };
        if wishes.cost.is_some() {
            problems.extend(self.without_price(recipe, &wishes));
        }
        if asked.supply == Supply::AtHome && stock.is_empty() {
            problems.push(format!("Only what is at home was asked for, and no larder says what that is: write {}; thirdglass larder --example prints one to begin with.", self.larder_file()));
        }
        if problems.is_empty() {
            Ok(wishes)
        } else {
            Err(WorkflowError::Wishes { problems })
        }
    }

    /// The ids of ingredients by their names, those the recipe declares itself included.
    fn ids_of(
        &self,
        names: &[String],
        recipe: &Recipe,
        problems: &mut Vec<String>,
    ) -> Vec<IngredientId> {
        let mut ids = Vec::new();
        for name in names {
            let known = self.identities(recipe);
            if let Some(it) = known.iter().find(|it| it.answers_to(name)) {
                ids.push(it.id.clone());
            } else {
                let all = known.iter().map(|it| it.name.as_str());
                let near = nearest_names(name, all, 3);
                let near = if near.is_empty() {
                    "take a name from your recipe".to_owned()
                } else {
                    format!("did you mean {}?", near.join(" or "))
                };
                problems.push(format!("No ingredient is called “{name}”: {near}"));
            }
        }
        ids
    }

    fn identities<'a>(&'a self, recipe: &'a Recipe) -> Vec<&'a Identity> {
        let own = recipe
            .fermentables
            .iter()
            .map(|it| &it.fermentable.identity);
        let own = own.chain(recipe.hops.iter().map(|it| &it.hop.identity));
        let own = own.chain(recipe.others.iter().map(|it| &it.other.identity));
        let own = own.chain(recipe.yeast.iter().map(|it| &it.yeast.identity));
        let own = own.map(Arc::as_ref);
        own.chain(self.catalogue().identities()).collect()
    }

    /// A cost can be held only to prices.
    fn without_price(&self, recipe: &Recipe, wishes: &Wishes) -> Option<String> {
        let known = self.identities(recipe);
        let mut missing: Vec<&str> = Vec::new();
        for (id, _) in amounts(recipe).filter(|it| !wishes.has_price(it.0)) {
            let named = known.iter().find(|it| it.id == *id);
            let name = named.map_or(id.as_str(), |it| it.name.as_str());
            if !missing.contains(&name) {
                missing.push(name);
            }
        }
        (!missing.is_empty()).then(|| {
            format!(
                "What it may cost can only be kept with prices; {} gives none for {}. thirdglass larder --example shows how they are written.",
                self.larder_file(),
                missing.join(", ")
            )
        })
    }
}
