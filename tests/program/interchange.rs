//! Recipes of the open standards through the program: what comes in, what it is taken for, and what is refused.

use std::env;
use std::fs;
use std::path::Path;
use std::path::PathBuf;

use crate::kitchen::Kitchen;
use serde_json::Value;

fn standard(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/standards")
        .join(name);
    path.to_str().expect("the path is text").to_owned()
}

fn figure(kitchen: &Kitchen, recipe: &str, id: &str) -> f64 {
    let told = kitchen.done(&["recipe", "predict", recipe, "--json"]);
    let json: Value = serde_json::from_str(&told).expect("it is JSON");
    json["prediction"]["figures"][id]["value"]
        .as_f64()
        .expect("it can be told")
}

#[test]
fn both_standards_tell_the_same_beer_whose_gravity_was_worked_by_hand() {
    let kitchen = Kitchen::new();
    for name in ["evening-pale.xml", "evening-pale.json"] {
        let into = kitchen.folder().join(format!("{name}.toml"));
        let into = into.to_str().expect("the path is text");
        let told = kitchen.done(&["recipe", "convert", &standard(name), into, "--yes"]);
        assert!(told.contains("Written"), "{told}");
        // By hand: 4.5 kg at 80 % and 0.5 kg at 76 %, of which 75 % arrive in 20 L, are 2.985 kg of extract;
        // 14.14 °P by mass, and specific gravity 1.0574 by the tables of the ASBC.
        let gravity = figure(&kitchen, into, "original-gravity");
        assert!((gravity - 1.0574).abs() < 0.0006, "{name}: {gravity}");
        // 77 % apparent attenuation leave 0.23 of the points: 1.0132.
        let end = figure(&kitchen, into, "final-gravity");
        assert!((end - 1.0132).abs() < 0.0006, "{name}: {end}");
    }
}

#[test]
fn guesses_are_shown_and_nothing_is_written_before_somebody_took_them() {
    let kitchen = Kitchen::new();
    let file = standard("evening-pale.xml");
    let into = kitchen.folder().join("pale.toml");
    let shown = into.to_str().expect("the path is text");
    let shy = kitchen.run(&["recipe", "convert", &file, shown]);
    assert_eq!(shy.code, 1, "{shy:?}");
    assert!(
        shy.out.contains("a guess") && shy.err.contains("Crystal Malt 40"),
        "{shy:?}"
    );
    assert!(!into.exists());
    // The file states 1.070, and its own malts give 1.057.
    assert!(shy.out.contains("the file says 1.070"), "{shy:?}");
    let own = [
        "recipe",
        "convert",
        &file,
        shown,
        "--own",
        "Crystal Malt 40",
    ];
    kitchen.done(&own);
    let written = fs::read_to_string(&into).expect("it was written");
    assert!(written.contains("[[declare.fermentable]]"), "{written}");
    let again = kitchen.run(&own);
    assert_eq!(again.code, 1, "{again:?}");
    assert_eq!(fs::read_to_string(&into).expect("it is there"), written);
    let wrong = kitchen.run(&[
        "recipe",
        "convert",
        &file,
        "--take",
        "Fuggle=Saaz",
        "--take",
        "Saaz=Nothing",
    ]);
    assert!(
        wrong.err.contains("Fuggle") && wrong.err.contains("Nothing"),
        "{wrong:?}"
    );
}

#[test]
fn units_traps_and_what_has_no_place_are_told() {
    let kitchen = Kitchen::new();
    let told = kitchen.done(&["recipe", "convert", &standard("evening-pale.json")]);
    for part in [
        "whirlpool = \"80 °C for 15 min\"",
        // An ounce is 28.349 523 125 g (yard and pound agreement of 1959).
        "amount = \"28.3 g\"",
        "28.349523125 g",
        "dry = \"4 days\"",
        "a potential above 2 was read as thousandths",
        "Clearing tablet",
        "left out",
    ] {
        assert!(told.contains(part), "{part}: {told}");
    }
}

#[test]
fn broken_and_hostile_files_get_a_sentence_with_the_line() {
    let kitchen = Kitchen::new();
    let deep = "<A>".repeat(100_000);
    let brackets = "[".repeat(100_000);
    // A bomb of entities: nothing in it is ever expanded.
    let bomb = "<!DOCTYPE r [<!ENTITY a \"aaaaaaaaaa\"><!ENTITY b \"&a;&a;&a;&a;&a;&a;&a;&a;\">]><RECIPES><RECIPE><NAME>&b;</NAME></RECIPE></RECIPES>";
    for (name, text, said) in [
        ("cut.json", "{\n\"beerjson\": {\n", "line 3"),
        ("deep.xml", deep.as_str(), "more tags than a recipe has"),
        ("deep.json", &format!("{{\"a\": {brackets}"), "line 1"),
        (
            "none.json",
            "{\"beerjson\": {\"recipes\": []}}",
            "no recipe",
        ),
        ("none.txt", "Pale ale", "neither BeerJSON"),
        ("bomb.xml", bomb, "volume"),
        (
            "huge.xml",
            "<RECIPE><NAME>H</NAME><BATCH_SIZE>1e300</BATCH_SIZE></RECIPE>",
            "volume",
        ),
    ] {
        let file = kitchen.write(name, text);
        let told = kitchen.run(&["recipe", "convert", &file]);
        assert_eq!(told.code, 1, "{name}: {told:?}");
        assert!(told.err.contains(said), "{name}: {told:?}");
    }
}

/// The schema of BeerJSON (draft 7) as its authors publish it.
fn beerjson_schema() -> jsonschema::Validator {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/standards/beerjson");
    let read = |path: &Path| -> Value {
        let text = fs::read_to_string(path).expect("the schema is there");
        serde_json::from_str(&text).expect("it is JSON")
    };
    let files = fs::read_dir(&folder).expect("the folder is there");
    let files = files.map(|it| it.expect("it can be listed").path());
    let schemas = files.filter(|it| it.extension().is_some_and(|it| it == "json"));
    let resources = schemas.map(|path| {
        let schema = read(&path);
        let id = schema["$id"].as_str().expect("it has an id").to_owned();
        let resource = jsonschema::Resource::from_contents(schema);
        (id, resource)
    });
    let registry = jsonschema::Registry::new()
        .extend(resources)
        .expect("the ids are addresses")
        .prepare()
        .expect("every reference leads to one of the files");
    jsonschema::options()
        .with_registry(&registry)
        .build(&read(&folder.join("beer.json")))
        .expect("it is a schema")
}

#[test]
fn what_is_written_as_beerjson_is_valid_by_the_schema_of_the_standard() {
    let schema = beerjson_schema();
    let kitchen = Kitchen::new();
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-sessions");
    let demo = fs::read_dir(demo).expect("the folder is there");
    let demo = demo.map(|it| it.expect("it can be listed").path());
    let mut recipes: Vec<PathBuf> = demo
        .filter(|it| it.display().to_string().ends_with(".recipe.toml"))
        .collect();
    let example = kitchen.done(&["recipe", "check", "--example"]);
    recipes.push(kitchen.write("example.toml", &example).into());
    assert!(recipes.len() > 5, "{recipes:?}");
    for recipe in recipes {
        let recipe = recipe.to_str().expect("the path is text");
        let json = kitchen.done(&["recipe", "convert", recipe]);
        let json: Value = serde_json::from_str(&json).expect("it is JSON");
        let problems: Vec<String> = schema.iter_errors(&json).map(|it| it.to_string()).collect();
        assert!(problems.is_empty(), "{recipe}: {problems:?}");
        // A document that the standard does not allow is found.
        let mut planted = json.clone();
        planted["beerjson"]["recipes"][0]["bottles"] = Value::from(12);
        assert!(!schema.is_valid(&planted));
    }
}

#[test]
fn a_recipe_goes_to_beerjson_and_back_with_the_same_prediction() {
    let kitchen = Kitchen::new();
    let example = kitchen.done(&["recipe", "check", "--example"]);
    let first = kitchen.write("first.toml", &example);
    let beside = |name: &str| kitchen.folder().join(name).display().to_string();
    let (json, second) = (beside("first.json"), beside("second.toml"));
    kitchen.done(&["recipe", "convert", &first, &json]);
    kitchen.done(&["recipe", "convert", &json, &second]);
    let predicted = |file: &str| kitchen.done(&["recipe", "predict", file, "--json"]);
    assert_eq!(predicted(&second), predicted(&first));
    let already = kitchen.run(&["recipe", "convert", &first, &beside("third.toml")]);
    assert_eq!(already.code, 1);
    assert!(already.err.contains("already"), "{}", already.err);
}

/// More examples, where somebody has a folder of them and names it.
#[test]
fn every_example_of_a_named_folder_is_read() {
    let Some(folder) = env::var_os("THIRDGLASS_INTERCHANGE").map(PathBuf::from) else {
        return;
    };
    let kitchen = Kitchen::new();
    let entries = fs::read_dir(folder).expect("the folder can be read");
    for entry in entries {
        let path = entry.expect("it can be listed").path();
        let file = path.to_str().expect("the path is text");
        let told = kitchen.run(&["recipe", "convert", file]);
        assert_eq!(told.code, 0, "{file}: {told:?}");
    }
}
