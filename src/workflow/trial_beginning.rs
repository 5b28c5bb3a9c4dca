//! How invented brewers begin: a recipe of the demonstration, a kitchen of their own, and hopes that lie elsewhere.

use crate::domain::Recipe;
use crate::domain::RecipeChange;
use crate::formats::read_recipe;
use crate::profile::Driver;
use crate::profile::Outlook;
use crate::profile::OutlookLines;
use crate::profile::Touch;
use crate::profile::Wishes;
use crate::profile::is_sound;
use crate::profile::levers_from;
use crate::profile::levers_within;
use crate::statistics::Dice;
use crate::storage::builtin_demo_files;
use crate::workflow::Home;
use crate::workflow::trial_brewer::Brewer;
use crate::workflow::trial_brewer::Hope;
use crate::workflow::trial_next::Hopes;
use crate::workflow::trial_truth::Truth;

/// Hopes of a brewer.
const HOPES: usize = 10;
/// How far off they are: the weighed mean, and the farthest, digits.
const OFF: [f64; 2] = [1.2, 2.5];

fn recipe_called(home: &Home, name: &str) -> Recipe {
    let files = builtin_demo_files().iter();
    let mut files = files.filter(|it| it.0.starts_with(name));
    let text = files
        .next()
        .expect("the demonstration has one of each kind")
        .1;
    read_recipe(name, text, home.catalogue(), home.wheel()).expect("a test of its own reads it")
}

/// A kitchen and what is hoped for in it, far enough off that something is to be done.
pub(super) fn brewer<'a>(
    home: &'a Home,
    lines: &'a OutlookLines,
    kind: &str,
    hopes: Hopes,
    dice: &mut Dice,
) -> Option<Brewer<'a>> {
    let recipe = recipe_called(home, kind);
    (0..100).find_map(|_| {
        let truth = Truth::draw(home, lines, dice);
        let now = truth.outlook(&recipe)?;
        let there = match hopes {
            Hopes::Met => now.clone(),
            Hopes::Elsewhere => truth.outlook(&elsewhere(home, &recipe, dice)?)?,
        };
        let hopes_there = drawn_hopes([&now, &there], hopes, dice);
        let weights: f64 = hopes_there.iter().map(|it| it.1).sum();
        let off = hopes_there.iter().map(|it| (now.digits[it.0] - it.2).abs());
        let farthest = off.fold(0.0, f64::max);
        let brewer = Brewer::new(truth, recipe.clone(), hopes_there);
        let mean = brewer.distance(&recipe) / weights.sqrt();
        let is_far = mean >= OFF[0] && farthest >= OFF[1];
        (is_far || hopes == Hopes::Met).then_some(brewer)
    })
}

/// Hopes for what is to change first of all, and then for what is there.
fn drawn_hopes([now, there]: [&Outlook; 2], hopes: Hopes, dice: &mut Dice) -> Vec<Hope> {
    let is_there = |it: &usize| now.digits[*it] >= 1.0 || there.digits[*it] >= 1.0;
    let mut order: Vec<usize> = (0..now.digits.len()).filter(is_there).collect();
    dice.shuffle(&mut order);
    let changes = |it: &usize| (there.digits[*it] - now.digits[*it]).abs() >= 0.5;
    order.sort_by_key(|it| !changes(it));
    let chosen = order.into_iter().take(HOPES);
    let hope = |line: usize| {
        let value = there.digits[line];
        match hopes {
            Hopes::Met => value,
            Hopes::Elsewhere => value.round(),
        }
    };
    chosen
        .map(|line| (line, f64::from(dice.whole(1, 3)), hope(line)))
        .collect()
}

/// The recipe with two or three changes from anywhere, about as strong.
fn elsewhere(home: &Home, recipe: &Recipe, dice: &mut Dice) -> Option<Recipe> {
    let lines = home.outlook_lines();
    let before = home.outlook(recipe, &lines)?;
    let wishes = Wishes::default();
    let within = levers_within(recipe, &wishes);
    let from = levers_from(home.catalogue(), recipe, &wishes);
    (0..200).find_map(|_| {
        let number = dice.whole(2, 3) as usize;
        let mut changes: Vec<RecipeChange> = Vec::new();
        let mut touched: Vec<&Touch> = Vec::new();
        while changes.len() < number {
            // More often what is there than something new.
            let levers = if dice.share() < 0.6 { &within } else { &from };
            let at = dice.whole(0, u32::try_from(levers.len()).ok()? - 1);
            let lever = levers.get(at as usize)?;
            if !touched.contains(&&lever.touch) {
                let step = dice.whole(0, u32::try_from(lever.steps.len()).ok()? - 1);
                touched.push(&lever.touch);
                changes.push(lever.steps.get(step as usize)?.clone());
            }
        }
        let there = RecipeChange::apply_all(&changes, recipe);
        let after = home.outlook(&there, &lines)?;
        let strength = |it: &Outlook| it.figure(Driver::Alcohol);
        let as_strong = (strength(&after) - strength(&before)).abs() < 1.5;
        (as_strong && is_sound(&there, &after, recipe, &before)).then_some(there)
    })
}
