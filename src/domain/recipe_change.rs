//! One change from a recipe to the next: what is done to it, and the recipe that comes out.

use crate::domain::Celsius;
use crate::domain::FermentableUse;
use crate::domain::Grams;
use crate::domain::HopTime;
use crate::domain::HopUse;
use crate::domain::Litres;
use crate::domain::OtherUse;
use crate::domain::Recipe;
use crate::domain::Volumes;
use crate::domain::YeastUse;

/// One addition of a recipe, by its place in its list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// A fermentable.
    Fermentable(usize),
    /// A hop charge.
    Hop(usize),
    /// Another addition.
    Other(usize),
}

/// One change.
#[derive(Debug, Clone, PartialEq)]
pub enum RecipeChange {
    /// Another amount of what is there.
    Amount {
        /// Of what.
        part: Part,
        /// So much from now on.
        to: Grams,
    },
    /// Something is left out.
    LeaveOut(Part),
    /// Another fermentable in the place of one.
    SwapFermentable {
        /// Its place.
        at: usize,
        /// What stands there from now on.
        by: FermentableUse,
    },
    /// Another hop in the place of one.
    SwapHop {
        /// Its place.
        at: usize,
        /// What stands there from now on.
        by: HopUse,
    },
    /// Another yeast, or one where none was named.
    Yeast(YeastUse),
    /// A fermentable more, after the others.
    AddFermentable(FermentableUse),
    /// A hop charge more, after the others.
    AddHop(HopUse),
    /// Another addition more, after the others; brewing salts are such.
    AddOther(OtherUse),
    /// A hop charge at another time.
    HopTime {
        /// Its place.
        at: usize,
        /// When it goes in from now on.
        when: HopTime,
    },
    /// Another mash temperature.
    Mash(Celsius),
    /// Another fermentation temperature; without a yeast nothing changes.
    Fermentation(Celsius),
    /// Another carbonation.
    Carbonation(Volumes),
    /// Another volume, with every amount in proportion.
    Volume(Litres),
}

impl RecipeChange {
    /// The recipe with this change; a place that is not there changes nothing, nor does an amount that would
    /// leave the bounds of amounts.
    #[must_use]
    pub fn apply(&self, recipe: &Recipe) -> Recipe {
        let mut changed = recipe.clone();
        self.change(&mut changed);
        changed
    }

    fn change(&self, recipe: &mut Recipe) {
        match self {
            Self::Amount { part, to } => set_amount(recipe, *part, *to),
            Self::LeaveOut(part) => leave_out(recipe, *part),
            Self::SwapFermentable { at, by } => put(&mut recipe.fermentables, *at, by),
            Self::SwapHop { at, by } => put(&mut recipe.hops, *at, by),
            Self::Yeast(by) => recipe.yeast = Some(by.clone()),
            Self::AddFermentable(it) => recipe.fermentables.push(it.clone()),
            Self::AddHop(it) => recipe.hops.push(it.clone()),
            Self::AddOther(it) => recipe.others.push(it.clone()),
            Self::HopTime { at, when } => {
                if let Some(hop) = recipe.hops.get_mut(*at) {
                    hop.when = *when;
                }
            }
            Self::Mash(to) => recipe.mash.temperature = Some(*to),
            Self::Fermentation(to) => {
                if let Some(yeast) = &mut recipe.yeast {
                    yeast.temperature = Some(*to);
                }
            }
            Self::Carbonation(to) => recipe.packaging.carbonation = Some(*to),
            Self::Volume(to) => scale(recipe, *to),
        }
    }

    /// The recipe with several changes. Places count in the recipe before all of them: what is left out goes
    /// last.
    #[must_use]
    pub fn apply_all(changes: &[Self], recipe: &Recipe) -> Recipe {
        let mut changed = recipe.clone();
        let mut left_out: Vec<Part> = Vec::new();
        for change in changes {
            match change {
                Self::LeaveOut(part) => left_out.push(*part),
                change => change.change(&mut changed),
            }
        }
        // From the end of each list, so that no place moves before its turn.
        left_out.sort_unstable_by(|a, b| b.cmp(a));
        left_out.dedup();
        for part in left_out {
            leave_out(&mut changed, part);
        }
        changed
    }
}

fn set_amount(recipe: &mut Recipe, part: Part, to: Grams) {
    let place = match part {
        Part::Fermentable(at) => recipe.fermentables.get_mut(at).map(|it| &mut it.amount),
        Part::Hop(at) => recipe.hops.get_mut(at).map(|it| &mut it.amount),
        Part::Other(at) => recipe.others.get_mut(at).map(|it| &mut it.amount),
    };
    if let Some(amount) = place {
        *amount = to;
    }
}

fn leave_out(recipe: &mut Recipe, part: Part) {
    match part {
        Part::Fermentable(at) => remove(&mut recipe.fermentables, at),
        Part::Hop(at) => remove(&mut recipe.hops, at),
        Part::Other(at) => remove(&mut recipe.others, at),
    }
}

fn remove<T>(all: &mut Vec<T>, at: usize) {
    if at < all.len() {
        all.remove(at);
    }
}

fn put<T: Clone>(all: &mut [T], at: usize, by: &T) {
    if let Some(place) = all.get_mut(at) {
        *place = by.clone();
    }
}

fn scale(recipe: &mut Recipe, to: Litres) {
    let times = to.get() / recipe.volume.get();
    recipe.volume = to;
    let amounts = recipe
        .fermentables
        .iter_mut()
        .map(|it| &mut it.amount)
        .chain(recipe.hops.iter_mut().map(|it| &mut it.amount))
        .chain(recipe.others.iter_mut().map(|it| &mut it.amount));
    for amount in amounts {
        if let Ok(scaled) = Grams::new(amount.get() * times) {
            *amount = scaled;
        }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::domain::Fermentable;
    use crate::domain::FermentableFamily;
    use crate::domain::Ferments;
    use crate::domain::Gifts;
    use crate::domain::Goes;
    use crate::domain::Grain;
    use crate::domain::Identity;
    use crate::domain::IngredientId;
    use crate::domain::Intent;
    use crate::domain::Mash;
    use crate::domain::Name;
    use crate::domain::Packaging;
    use crate::domain::Spread;
    use crate::domain::Water;

    fn malt(id: &str, grams: f64) -> FermentableUse {
        let spread = |it| Spread::new("it", it, 0.0, 100.0).unwrap();
        FermentableUse {
            fermentable: Fermentable {
                identity: Arc::new(Identity {
                    id: IngredientId::new(id).unwrap(),
                    name: id.to_owned(),
                    synonyms: Vec::new(),
                    source: String::new(),
                    gifts: Gifts::AsItsFamily,
                }),
                family: FermentableFamily::Base,
                goes: Goes::Mash,
                extract: spread([0.7, 0.75, 0.8]),
                colour: spread([3.0, 4.0, 5.0]),
                ferments: Ferments::AsWort,
                grain: Grain::Barley,
                allergens: Vec::new(),
            },
            amount: Grams::new(grams).unwrap(),
            colour: None,
            extract: None,
        }
    }

    fn three_malts() -> Recipe {
        let name = |it| Name::new("a name", it).unwrap();
        Recipe {
            name: name("Three"),
            version: name("1"),
            parent: None,
            reason: None,
            volume: Litres::new(5.0).unwrap(),
            efficiency: None,
            mash: Mash::default(),
            boil: None,
            fermentables: vec![malt("one", 1000.0), malt("two", 100.0), malt("three", 50.0)],
            hops: Vec::new(),
            yeast: None,
            others: Vec::new(),
            water: Water::default(),
            packaging: Packaging {
                carbonation: None,
                priming: None,
                bottle: crate::domain::Bottle::Unknown,
            },
            intent: Intent::default(),
            promised: Vec::new(),
        }
    }

    fn left(recipe: &Recipe) -> Vec<(String, f64)> {
        let all = recipe.fermentables.iter();
        all.map(|it| (it.fermentable.identity.name.clone(), it.amount.get()))
            .collect()
    }

    fn owned(all: &[(&str, f64)]) -> Vec<(String, f64)> {
        all.iter().map(|it| (it.0.to_owned(), it.1)).collect()
    }

    #[test]
    fn places_count_in_the_recipe_before_all_changes_whatever_is_left_out() {
        let changes = [
            RecipeChange::LeaveOut(Part::Fermentable(0)),
            RecipeChange::Amount {
                part: Part::Fermentable(2),
                to: Grams::new(80.0).unwrap(),
            },
            RecipeChange::LeaveOut(Part::Fermentable(1)),
            RecipeChange::AddFermentable(malt("four", 30.0)),
        ];
        let changed = RecipeChange::apply_all(&changes, &three_malts());
        assert_eq!(left(&changed), owned(&[("three", 80.0), ("four", 30.0)]));
    }

    #[test]
    fn another_volume_takes_every_amount_along() {
        let to = Litres::new(8.0).unwrap();
        let changed = RecipeChange::Volume(to).apply(&three_malts());
        // By hand: 8/5 of each.
        let expected = owned(&[("one", 1600.0), ("two", 160.0), ("three", 80.0)]);
        assert_eq!(left(&changed), expected);
        assert!((changed.volume.get() - 8.0).abs() < 1e-12);
    }

    #[test]
    fn what_is_not_there_cannot_be_changed() {
        let recipe = three_malts();
        let amount = Grams::new(5.0).unwrap();
        for change in [
            RecipeChange::Amount {
                part: Part::Hop(0),
                to: amount,
            },
            RecipeChange::LeaveOut(Part::Fermentable(3)),
            RecipeChange::Fermentation(Celsius::new(18.0).unwrap()),
        ] {
            assert_eq!(change.apply(&recipe), recipe);
        }
    }
}
