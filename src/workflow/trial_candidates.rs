//! Random recipes, wishes and changes: what no brewer would want is found by two ways that know nothing of each other.

use crate::domain::IngredientId;
use crate::domain::Recipe;
use crate::domain::RecipeChange;
use crate::profile::Aim;
use crate::profile::Bounds;
use crate::profile::Driver;
use crate::profile::Lever;
use crate::profile::MostChanges;
use crate::profile::Stocked;
use crate::profile::Supply;
use crate::profile::Wishes;
use crate::profile::amounts;
use crate::profile::is_sound;
use crate::profile::levers_from;
use crate::profile::levers_within;
use crate::profile::unmet;
use crate::statistics::Dice;
use crate::workflow::trial_candidate_faults::faults;
use crate::workflow::trial_proposals::KINDS;
use crate::workflow::trial_proposals::Kitchen;
use crate::workflow::trial_proposals::aim;

/// A recipe some random changes away from one of the demonstration, as far as it can be brewed.
fn random_recipe(kitchen: &Kitchen, dice: &mut Dice) -> Recipe {
    let name = KINDS[dice.whole(0, 4) as usize];
    let mut recipe = kitchen.recipe(name);
    let wishes = Wishes::default();
    for _ in 0..dice.whole(0, 4) {
        let mut levers = levers_within(&recipe, &wishes);
        levers.extend(levers_from(kitchen.home.catalogue(), &recipe, &wishes));
        let last = u32::try_from(levers.len()).unwrap() - 1;
        let lever = &levers[dice.whole(0, last) as usize];
        let last = u32::try_from(lever.steps.len()).unwrap() - 1;
        let changed = lever.steps[dice.whole(0, last) as usize].apply(&recipe);
        if kitchen.home.outlook(&changed, &kitchen.lines).is_some()
            && !changed.fermentables.is_empty()
        {
            recipe = changed;
        }
    }
    recipe
}

fn random_aims(kitchen: &Kitchen, recipe: &Recipe, dice: &mut Dice) -> Vec<Aim> {
    let digits = kitchen.outlook(recipe).digits;
    let there: Vec<usize> = (0..digits.len()).filter(|it| digits[*it] >= 1.0).collect();
    let last = u32::try_from(there.len()).unwrap() - 1;
    (0..dice.whole(1, 6))
        .map(|_| aim(there[dice.whole(0, last) as usize], 3.0 * dice.normal()))
        .collect()
}

/// Wishes around what the recipe is, so that some can be met, some only with changes, and some not at all.
fn random_wishes(kitchen: &Kitchen, recipe: &Recipe, dice: &mut Dice) -> Wishes {
    let outlook = kitchen.outlook(recipe);
    let around = |driver, width: f64, dice: &mut Dice| {
        let middle = outlook.figure(driver) * (1.0 + 0.15 * dice.normal());
        Bounds::new((middle - width).max(0.0), middle + width)
    };
    let mut ids: Vec<IngredientId> = amounts(recipe).map(|it| it.0.clone()).collect();
    dice.shuffle(&mut ids);
    let sometimes = |it: Option<Bounds>, dice: &mut Dice| it.filter(|_| dice.share() < 0.4);
    let strength = around(Driver::Alcohol, 0.4, dice);
    let bitterness = around(Driver::Bitterness, 6.0, dice);
    let colour = around(Driver::Colour, 6.0, dice);
    Wishes {
        strength: sometimes(strength, dice),
        bitterness: sometimes(bitterness, dice),
        colour: sometimes(colour, dice),
        locked: ids
            .iter()
            .take(dice.whole(0, 2) as usize)
            .cloned()
            .collect(),
        forbidden: ids
            .iter()
            .skip(2)
            .take(usize::from(dice.share() < 0.3))
            .cloned()
            .collect(),
        finest: if dice.share() < 0.3 { 1.0 } else { 0.1 },
        most: [MostChanges::One, MostChanges::Two, MostChanges::Three][dice.whole(0, 2) as usize],
        ..Wishes::default()
    }
}

/// What is at home of about half of everything, with prices for all.
fn random_stock(kitchen: &Kitchen, recipe: &Recipe, dice: &mut Dice) -> Vec<Stocked> {
    let known = kitchen.home.catalogue().identities().map(|it| &it.id);
    let own = amounts(recipe).map(|it| it.0);
    let mut ids: Vec<IngredientId> = known.chain(own).cloned().collect();
    ids.sort_by(|a, b| a.as_str().cmp(b.as_str()));
    ids.dedup();
    let stocked = ids.into_iter().map(|id| Stocked {
        id,
        grams: match dice.whole(0, 3) {
            0 => Some(0.0),
            1 => Some(f64::from(dice.whole(1, 2_000))),
            _ => None,
        },
        per_kilogram: (dice.share() < 0.97).then(|| 20.0 * dice.share()),
    });
    stocked.collect()
}

/// One to four steps of levers that take hold of different things.
fn random_changes(levers: &[Lever], dice: &mut Dice) -> Vec<RecipeChange> {
    let mut touched = Vec::new();
    let mut changes = Vec::new();
    for _ in 0..dice.whole(1, 4) {
        let last = u32::try_from(levers.len()).unwrap() - 1;
        let lever = &levers[dice.whole(0, last) as usize];
        if !lever.steps.is_empty() && !touched.contains(&&lever.touch) {
            touched.push(&lever.touch);
            let last = u32::try_from(lever.steps.len()).unwrap() - 1;
            changes.push(lever.steps[dice.whole(0, last) as usize].clone());
        }
    }
    changes
}

#[test]
fn ten_thousand_random_candidates_pass_exactly_where_a_second_reckoning_finds_nothing_wrong() {
    let kitchen = Kitchen::new();
    let (mut passed, mut refused) = (0, 0);
    let mut dice = Dice::from_seed(23);
    while passed + refused < 10_000 {
        let parent = random_recipe(&kitchen, &mut dice);
        let mut wishes = random_wishes(&kitchen, &parent, &mut dice);
        wishes.stock = random_stock(&kitchen, &parent, &mut dice);
        if dice.share() < 0.1 {
            wishes.supply = Supply::AtHome;
        }
        if dice.share() < 0.2 {
            wishes.cost = Some(wishes.cost_of(&parent) * (0.8 + 0.6 * dice.share()));
        }
        let before = kitchen.outlook(&parent);
        let mut levers = levers_within(&parent, &wishes);
        levers.extend(levers_from(kitchen.home.catalogue(), &parent, &wishes));
        for _ in 0..50 {
            let mut changes = random_changes(&levers, &mut dice);
            changes.truncate(wishes.most.number());
            let recipe = RecipeChange::apply_all(&changes, &parent);
            let Some(after) = kitchen.home.outlook(&recipe, &kitchen.lines) else {
                continue;
            };
            let passes = is_sound(&recipe, &after, &parent, &before)
                && unmet(&recipe, &after, &wishes).is_empty();
            let faults = faults(&kitchen, (&parent, &wishes), &changes, &recipe);
            assert_eq!(
                passes,
                faults.is_empty(),
                "{faults:?} {changes:?} {wishes:?}"
            );
            passed += usize::from(passes);
            refused += usize::from(!passes);
        }
    }
    assert!(passed > 1_000 && refused > 1_000, "{passed} {refused}");
}

#[test]
fn searches_on_random_recipes_keep_every_wish_and_propose_nothing_that_hurts() {
    let kitchen = Kitchen::new();
    let (mut proposed, mut named) = (0, 0);
    for seed in 0..300 {
        let mut dice = Dice::from_seed(seed);
        let recipe = random_recipe(&kitchen, &mut dice);
        let aims = random_aims(&kitchen, &recipe, &mut dice);
        let wishes = random_wishes(&kitchen, &recipe, &mut dice);
        let found = kitchen.search(&recipe, &aims, &wishes);
        for proposal in &found.proposals {
            let changes: Vec<RecipeChange> = proposal
                .changes
                .iter()
                .map(|it| it.change.clone())
                .collect();
            let faults = faults(&kitchen, (&recipe, &wishes), &changes, &proposal.recipe);
            assert!(faults.is_empty(), "{seed}: {faults:?}");
            assert!(proposal.loss < found.loss, "{seed}");
            proposed += 1;
        }
        // Where a wish is unmet as it is, either a proposal meets it, or what stands in the way is named.
        let before = kitchen.outlook(&recipe);
        let is_unmet = !unmet(&recipe, &before, &wishes).is_empty();
        assert!(
            !is_unmet || !found.proposals.is_empty() || !found.unmet.is_empty(),
            "{seed}"
        );
        named += usize::from(!found.unmet.is_empty());
    }
    assert!(proposed > 100 && named > 5, "{proposed} {named}");
}
