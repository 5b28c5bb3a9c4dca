//! Recipes of ours there and back through BeerJSON: nothing is lost, and every figure stays.

use proptest::prop_assert_eq;

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
    assert!(json.contains("recipe: usual = {"), "{json}");
    assert!(
        json.contains("fermentable 1 “Pale ale malt”: usual = {"),
        "{json}"
    );
    let back = there_and_back(&home, document);
    assert!(
        !back.contains("efficiency") && !back.contains("extract"),
        "{back}"
    );
}

#[test]
fn a_value_that_was_changed_elsewhere_is_taken_and_a_note_about_another_ingredient_is_not() {
    let home = Home::trial();
    let document = "name = \"A\"\nversion = \"1\"\nvolume = \"5 L\"\n[[fermentable]]\nname = \"Pale ale malt\"\namount = \"1 kg\"\n[[hop]]\nname = \"Saaz\"\namount = \"9 g\"\nboil = \"9 min\"\nage = \"8 months\"\n";
    let recipe = home.parse_recipe("a", document).unwrap();
    let usual = 100.0 * recipe.hops[0].hop.alpha.usual();
    let json = as_beerjson(&recipe, document);
    // Somebody measured the alpha and typed it into another program.
    let (before, after) = json.split_once("\"alpha_acid\"").unwrap();
    let measured = after.replacen(&format!("{usual:?}"), "11.5", 1);
    let measured = format!("{before}\"alpha_acid\"{measured}");
    assert_ne!(measured, json);
    let taken = read_foreign(&measured).unwrap().remove(0);
    assert_eq!(taken.hops[0].alpha, Some(11.5));
    // Or put another hop in its place.
    let other = json.replace("\"name\": \"Saaz\"", "\"name\": \"Cascade\"");
    let taken = read_foreign(&other).unwrap().remove(0);
    assert!(
        taken.beyond.iter().all(|it| it.key != "age"),
        "{:?}",
        taken.beyond
    );
    assert!(
        taken.remarks.iter().any(|it| it.contains("“Saaz”")),
        "{:?}",
        taken.remarks
    );
}

#[test]
fn zeros_and_rests_at_the_ends_of_what_can_be_mashed_come_back() {
    let home = Home::trial();
    let document = |celsius: f64| {
        format!(
            "name = \"A\"\nversion = \"1\"\nvolume = \"5 L\"\n[mash]\ntemperature = \"{celsius} °C\"\ntime = \"40 min\"\n[[fermentable]]\nname = \"Pale ale malt\"\namount = \"1 kg\"\ncolour = \"0 EBC\"\n[[hop]]\nname = \"Saaz\"\namount = \"9 g\"\nalpha = 0\ndry = \"2.37 days\"\n"
        )
    };
    for celsius in [35.0, 58.0, 77.0, 80.0] {
        let document = document(celsius);
        let before = home.parse_recipe("before", &document).unwrap();
        let back = there_and_back(&home, &document);
        assert_eq!(home.parse_recipe("after", &back).unwrap(), before, "{back}");
        // A dry hop is one for other programs too, whatever its hours.
        let json = as_beerjson(&before, &document);
        assert!(
            json.contains("add_to_fermentation") && !json.contains("add_to_boil"),
            "{json}"
        );
    }
}
