//! Recipes of ours there and back through BeerJSON: nothing is lost, and every figure stays.

use proptest::prop_assert_eq;
use serde_json::Value;

use crate::formats::EXAMPLE;
use crate::formats::foreign_document;
use crate::formats::mapped;
use crate::formats::read_foreign;
use crate::workflow::BatchLog;
use crate::workflow::Home;
use crate::workflow::conversion::as_beerjson;
use crate::workflow::figures::figures;
use crate::workflow::trial_figures::plan;
use crate::workflow::trial_figures::play;

const DEMO: [&str; 6] = [
    include_str!("../../demo-sessions/cold-shelf.recipe.toml"),
    include_str!("../../demo-sessions/garden-chair.recipe.toml"),
    include_str!("../../demo-sessions/hay-loft.recipe.toml"),
    include_str!("../../demo-sessions/open-window.recipe.toml"),
    include_str!("../../demo-sessions/oven-door-1.recipe.toml"),
    include_str!("../../demo-sessions/oven-door-2.recipe.toml"),
];

/// The recipe file that comes back from the BeerJSON of another.
fn there_and_back(home: &Home, document: &str) -> String {
    let recipe = home.parse_recipe("there", document).unwrap();
    let json = as_beerjson(&recipe, document);
    let foreign = read_foreign(&json).unwrap().remove(0);
    assert_eq!(foreign.remarks, Vec::<String>::new(), "{json}");
    let mapped = mapped(&foreign, home.catalogue(), &[]);
    foreign_document(&foreign, &mapped, home.catalogue())
}

#[test]
fn the_example_and_every_recipe_of_the_demonstration_come_back_whole() {
    let home = Home::trial();
    for document in DEMO.into_iter().chain([EXAMPLE]) {
        let back = there_and_back(&home, document);
        let before = home.parse_recipe("before", document).unwrap();
        let after = home.parse_recipe("after", &back).unwrap();
        assert_eq!(after, before, "{back}");
    }
}

#[test]
fn every_figure_of_any_recipe_comes_back() {
    play(&plan(), |home, plan| {
        let document = plan.document();
        let before = home.parse_recipe("before", &document).unwrap();
        let back = there_and_back(home, &document);
        let after = home.parse_recipe("after", &back).unwrap();
        let of = |it| figures(it, &BatchLog::default());
        prop_assert_eq!(of(&after), of(&before), "{}", back);
        Ok(())
    });
}

#[test]
fn what_is_not_measured_is_told_apart_from_what_is() {
    let home = Home::trial();
    let document = "name = \"A\"\nversion = \"1\"\nvolume = \"5 L\"\n[[fermentable]]\nname = \"Pale ale malt\"\namount = \"1 kg\"\n";
    let json = as_beerjson(&home.parse_recipe("a", document).unwrap(), document);
    let json: Value = serde_json::from_str(&json).unwrap();
    let notes = json.pointer("/beerjson/recipes/0/notes").unwrap();
    let notes = notes.as_str().unwrap();
    assert!(notes.contains("recipe: usual = \"efficiency\""), "{notes}");
    assert!(
        notes.contains("fermentable 1: usual = \"extract, colour\""),
        "{notes}"
    );
    let back = there_and_back(&home, document);
    assert!(
        !back.contains("efficiency") && !back.contains("extract"),
        "{back}"
    );
}
