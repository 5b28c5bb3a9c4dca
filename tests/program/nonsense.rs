//! Nonsense typed in by mistake or malice: a clear problem, or figures that some beer could have, and never silence about it.

use std::fmt::Write as _;

use crate::kitchen::Kitchen;
use crate::kitchen::Told;
use serde_json::Value;

/// What each figure lies between, whatever is typed in: gravities from alcohol in water to what the ASBC
/// cubic holds, by the attenuation quotient 126 % for sugar alone, 150 IBU with a word, 0.6 kg/L of the
/// darkest roast, 8 volumes and the strays of the estimate, sugar for them in 1,000 L.
const PHYSICAL: [(&str, f64, f64); 10] = [
    ("original-gravity", 0.98, 1.16),
    ("final-gravity", 0.98, 1.16),
    ("alcohol", 0.0, 25.0),
    ("real-extract", 0.0, 36.2),
    ("apparent-attenuation", 0.0, 126.0),
    ("energy", 0.0, 180.0),
    ("bitterness", 0.0, 150.0),
    ("colour", 0.0, 1_100.0),
    ("carbonation", 0.0, 8.3),
    ("priming-sugar", 0.0, 40_000.0),
];

const HEAD: &str = "name = \"Nonsense\"\nversion = \"1\"\nvolume = \"5 L\"\n";
const MALT: &str = "[[fermentable]]\nname = \"Pale ale malt\"\namount = \"1 kg\"\n";

fn hop(amount: &str, more: &str) -> String {
    format!("[[hop]]\nname = \"Saaz\"\namount = \"{amount}\"\n{more}\n")
}

fn yeast(more: &str) -> String {
    format!("[yeast]\nname = \"Clean ale yeast\"\n{more}\n")
}

/// The water with every ion at so many mg/L.
fn water(amount: &str) -> String {
    let ions = "calcium magnesium sodium chloride sulphate bicarbonate".split(' ');
    ions.fold("[water]\n".to_owned(), |mut text, ion| {
        writeln!(text, "{ion} = {amount}").expect("a text takes more");
        text
    })
}

fn with(more: &str) -> String {
    format!("{HEAD}{MALT}{more}")
}

/// It could not be done, and every problem names its place, what was found, and stands on a line.
fn assert_refused(what: &str, told: &Told, found: &str) {
    assert_eq!(told.code, 1, "{what}: {told:?}");
    assert!(told.out.is_empty(), "{what}: {told:?}");
    assert!(told.err.starts_with("thirdglass: "), "{what}: {told:?}");
    assert!(told.err.contains(found), "{what}: {told:?}");
    assert!(!told.err.contains("panicked"), "{what}: {told:?}");
}

/// Every number of a value with the path to it; null counts as one that is missing.
fn numbers(path: &str, value: &Value, found: &mut Vec<(String, Option<f64>)>) {
    match value {
        Value::Object(keys) => {
            for (key, inner) in keys {
                numbers(&format!("{path}/{key}"), inner, found);
            }
        }
        Value::Array(items) => {
            for (index, inner) in items.iter().enumerate() {
                numbers(&format!("{path}/{index}"), inner, found);
            }
        }
        Value::Null => found.push((path.to_owned(), None)),
        Value::Number(number) => found.push((path.to_owned(), number.as_f64())),
        Value::Bool(_) | Value::String(_) => {}
    }
}

/// Every figure is one that some beer has, and the profile lies on its scales.
fn assert_physical(what: &str, json: &Value) {
    let figures = json["prediction"]["figures"].as_object();
    for (id, figure) in figures.expect("figures are an object") {
        let physical = PHYSICAL.iter().find(|it| it.0 == id);
        let (_, least, most) = physical.unwrap_or_else(|| panic!("{what}: no range for {id}"));
        for end in ["low", "value", "high"] {
            let missing = end != "value" && figure[end].is_null();
            let number = figure[end].as_f64();
            let fine = number.is_some_and(|it| (*least..=*most).contains(&it));
            assert!(missing || fine, "{what}: {id}: {figure}");
        }
    }
    let mut found = Vec::new();
    // The page of a batch has no profile.
    if let Some(profile) = json.get("profile") {
        numbers("", profile, &mut found);
    }
    for (path, number) in found {
        let key = path.rsplit('/').next().expect("a split has a last part");
        let fine = match (key, number) {
            // Of a scale there is no chance, and nobody was named who would note it.
            ("chance" | "as_noted", None) => true,
            ("chance", Some(number)) => (0.0..=1.0).contains(&number),
            ("low" | "middle" | "high", Some(number)) => (0.0..=9.0).contains(&number),
            (_, number) => number.is_some_and(f64::is_finite),
        };
        assert!(fine, "{what}: {path}: {number:?}");
    }
}

/// What a recipe gives as JSON; the lines for people hold no nonsense either.
fn predicted(kitchen: &Kitchen, what: &str, text: &str) -> Value {
    let file = kitchen.write("r.toml", text);
    let lines = kitchen.done(&["recipe", "predict", &file]);
    for bad in ["NaN", "inf", "null", "-0 "] {
        assert!(!lines.contains(bad), "{what}: {lines}");
    }
    let json = kitchen.done(&["recipe", "predict", &file, "--json"]);
    let json: Value = serde_json::from_str(&json).expect("it is JSON");
    assert_physical(what, &json);
    json
}

/// The sentences of caution.
fn cautions(json: &Value) -> String {
    json["prediction"]["cautions"].to_string()
}

/// Each recipe is refused, checked or predicted from, with its file and what was found.
fn assert_all_refused(kitchen: &Kitchen, recipes: &[(String, &str)]) {
    for (text, found) in recipes {
        let file = kitchen.write("r.toml", text);
        for command in ["check", "predict"] {
            let told = kitchen.run(&["recipe", command, &file]);
            assert_refused(text, &told, found);
            assert!(told.err.contains("r.toml:"), "{told:?}");
        }
    }
}

#[test]
fn a_recipe_that_cannot_be_is_refused_with_its_line_and_what_was_found() {
    let kitchen = Kitchen::new();
    let malt = |amount: &str| format!("{HEAD}{}", MALT.replace("1 kg", amount));
    let volume = |amount: &str| with("").replace("\"5 L\"", amount);
    let ions = water("1000000");
    let acid = "[[other]]\nname = \"Lactic acid\"\namount = \"100 kg\"\n";
    let refused = [
        (
            with(&hop("10 kg", "boil = \"60 min\"")),
            ":7:1: 10000 g of hops for 5.0 L",
        ),
        (volume("\"0 L\""), ":3:10: a volume: found 0 L"),
        (volume("\"-5 L\""), ":3:10: a volume: found -5 L"),
        (volume("nan"), ":3:10: a volume: “nan”"),
        (volume("inf"), ":3:10: a volume: “inf”"),
        (volume("\"1e308 L\""), ":3:10: a volume: “1e308 L”"),
        (malt("0 g"), ":6:10: an amount: found 0 g"),
        (malt("-1 kg"), ":6:10: an amount: found -1000 g"),
        (malt("1e308 kg"), ":6:10: an amount: “1e308 kg”"),
        (malt("NaN kg"), ":6:10: an amount: “NaN kg”"),
        (HEAD.to_owned(), ":1:1: “fermentable” is missing"),
        (
            format!("{HEAD}{}", hop("10 g", "boil = \"60 min\"")),
            ":1:1: “fermentable” is missing",
        ),
        (
            with("[mash]\ntemperature = \"200 °C\"\n"),
            ":8:15: a temperature: found 200 °C",
        ),
        (
            with("[mash]\ntime = \"100000 min\"\n"),
            ":8:8: a time: found 100000 min",
        ),
        (
            with("[boil]\ntime = \"100000 min\"\n"),
            ":8:8: a time: found 100000 min",
        ),
        (
            with("colour = \"1000000000 EBC\"\n"),
            ":7:10: a colour: found 1000000000 EBC",
        ),
        (
            with("extract = \"0 %\"\n"),
            ":4:1: 0 g of extract in a litre",
        ),
        (with(&ions), ":8:11: a concentration: found 1000000 mg/L"),
        (with(&ions), ":13:15: a concentration: found 1000000 mg/L"),
        (with(acid), ":7:1: 100000 g of Lactic acid, 80 % for 5.0 L"),
        (
            with("[carbonation]\ntarget = \"1000000 vol\"\nbottle = \"champagne\"\n"),
            ":8:10: a carbonation: found 1000000 vol",
        ),
    ];
    assert_all_refused(&kitchen, &refused);
}

#[test]
fn hops_and_yeast_that_cannot_be_are_refused_with_their_line_and_what_was_found() {
    let kitchen = Kitchen::new();
    let refused = [
        (
            with(&hop("10 g", "boil = \"100000 min\"")),
            ":10:8: a time: found 100000 min",
        ),
        (
            with(&hop("10 g", "whirlpool = \"200 °C for 20 min\"")),
            ":10:13: a temperature: found 200 °C",
        ),
        (
            with(&hop("10 g", "whirlpool = \"-4 °C for 20 min\"")),
            ":10:13: a whirlpool at -4.0 °C",
        ),
        (
            with(&hop("10 g", "dry = \"3 days at 100 °C\"")),
            ":10:7: dry hops at 100.0 °C",
        ),
        (
            with(&hop("-10 g", "boil = \"60 min\"")),
            ":9:10: an amount: found -10 g",
        ),
        (
            with(&hop("10 g", "boil = \"60 min\"\nalpha = \"100 %\"")),
            ":11:9: a hop with 100 % of alpha acid",
        ),
        (
            with(&hop("10 g", "boil = \"60 min\"\nalpha = \"-1 %\"")),
            ":11:9: a share: found -1 %",
        ),
        (
            with(&yeast("temperature = \"200 °C\"")),
            ":9:15: a temperature: found 200 °C",
        ),
        (
            with(&yeast("temperature = \"66 °C\"")),
            ":9:15: yeast at 66.0 °C",
        ),
        (
            with(&yeast("attenuation = \"300 %\"")),
            ":9:15: a share: found 300 %",
        ),
        (with(&yeast("attenuation = nan")), ":9:15: a share: “nan”"),
    ];
    assert_all_refused(&kitchen, &refused);
}

#[test]
fn a_thousand_charges_of_hops_too_many_are_one_problem_and_small_ones_are_brewed() {
    let kitchen = Kitchen::new();
    let many = with(&hop("10 g", "boil = \"60 min\"").repeat(1_000));
    let told = kitchen.run(&["recipe", "predict", &kitchen.write("r.toml", many)]);
    assert_refused("1,000 charges", &told, "10000 g of hops for 5.0 L");
    assert_eq!(told.err.lines().count(), 1, "{told:?}");
    let pinches = with(&hop("0.01 g", "boil = \"60 min\"").repeat(1_000));
    predicted(&kitchen, "1,000 pinches", &pinches);
}

#[test]
fn a_recipe_that_is_only_absurd_has_figures_that_some_beer_has() {
    let kitchen = Kitchen::new();
    for more in [
        String::new(),
        hop("10 g", "boil = \"60 min\"\nalpha = \"0 %\""),
        hop("10 g", "boil = \"0 min\""),
        hop("10 g", "boil = \"1440 min\""),
        hop("10 g", "whirlpool = \"105 °C for 1440 min\""),
        hop("300 g", "dry = \"3650 days\"\nage = \"10 years\""),
        yeast("attenuation = \"0 %\""),
        yeast("attenuation = \"100 %\"\ntemperature = \"45 °C\""),
        water("2000"),
        water("0"),
        "colour = \"2000 EBC\"\n".to_owned(),
        "extract = \"100 %\"\n".to_owned(),
        "[[other]]\nname = \"Coriander seed\"\namount = \"900 g\"\n".to_owned(),
        "[carbonation]\ntarget = \"3 vol\"\nbottle = \"one-way\"\n".to_owned(),
    ] {
        predicted(&kitchen, &more, &with(&more));
    }
    let sugar = "[[sugar]]\nname = \"Table sugar\"\namount = \"500 g\"\n";
    for alone in [sugar.to_owned(), sugar.replace("Table sugar", "Lactose")] {
        predicted(&kitchen, &alone, &format!("{HEAD}{alone}"));
    }
    let lake = with("").replace("5 L", "1000 L").replace("1 kg", "100 kg");
    predicted(&kitchen, "a thousand litres", &lake);
    let thimble = with("").replace("5 L", "0.1 L").replace("1 kg", "20 g");
    predicted(&kitchen, "a tenth of a litre", &thimble);
}

#[test]
fn no_absurd_bitterness_goes_without_a_word_and_none_is_beyond_what_dissolves() {
    let kitchen = Kitchen::new();
    for (what, charge) in [
        ("much", hop("300 g", "boil = \"60 min\"\nalpha = \"20 %\"")),
        (
            "extract",
            hop("100 g", "boil = \"60 min\"\nalpha = \"60 %\""),
        ),
        (
            "stand",
            hop(
                "300 g",
                "whirlpool = \"98 °C for 90 min\"\nalpha = \"18 %\"",
            ),
        ),
    ] {
        let json = predicted(&kitchen, what, &with(&charge));
        let units = json["prediction"]["figures"]["bitterness"]["value"].as_f64();
        // At the limit it is said that there is one; below it there is nothing to say.
        let limited = units.expect("it is told") >= 150.0;
        assert!(
            !limited || cautions(&json).contains("no beer holds more"),
            "{what}: {json}"
        );
    }
}

#[test]
fn figures_that_no_formula_holds_are_missed_aloud() {
    let kitchen = Kitchen::new();
    for (what, text, says) in [
        (
            "syrup",
            format!("{HEAD}[[sugar]]\nname = \"Table sugar\"\namount = \"2.5 kg\"\n"),
            "beyond 36 °P",
        ),
        (
            "sugar wine",
            format!("{HEAD}[[sugar]]\nname = \"Table sugar\"\namount = \"1.8 kg\"\n"),
            "more sugar than any table",
        ),
    ] {
        let json = predicted(&kitchen, what, &text);
        assert!(cautions(&json).contains(says), "{what}: {json}");
        let file = kitchen.write("r.toml", &text);
        let lines = kitchen.done(&["recipe", "predict", &file]);
        assert!(lines.contains("cannot be told"), "{what}: {lines}");
    }
}

#[test]
fn a_log_takes_nothing_that_no_brew_can_have() {
    let kitchen = Kitchen::new();
    let recipe = kitchen.write("r.toml", with(""));
    kitchen.done(&["batch", "add", &recipe, "--mark", "T1"]);
    for (kind, word) in [
        ("mash-temperature", "Mash temperature"),
        ("sparge-temperature", "Sparge temperature"),
        ("boil-time", "Boil time"),
        ("volume-fermenter", "Volume into the fermenter"),
        ("original-gravity", "Original gravity"),
        ("pitching-temperature", "Pitching temperature"),
        ("fermentation-temperature", "Fermentation temperature"),
        ("final-gravity", "Final gravity"),
        ("volume-packaged", "Volume packaged"),
        ("priming-sugar", "Priming sugar, whole batch"),
        ("storage-temperature", "Storage temperature"),
        ("bottles-left", "Bottles left"),
    ] {
        for value in ["NaN", "inf", "1e308", "-1e308", "-100", "1e6", "x", ""] {
            let told = kitchen.run(&["batch", "log", "T1", kind, "--", value]);
            assert_refused(&format!("{kind} {value}"), &told, word);
        }
    }
    let page = kitchen.done(&["batch", "show", "T1", "--json"]);
    let page: Value = serde_json::from_str(&page).expect("it is JSON");
    assert_eq!(page["log"], Value::Array(Vec::new()));
}

#[test]
fn what_a_log_takes_leaves_figures_that_some_beer_has_or_a_danger() {
    let shown = |entries: &[(&str, &str)]| {
        let kitchen = Kitchen::new();
        let recipe = kitchen.write("r.toml", with(""));
        kitchen.done(&["batch", "add", &recipe, "--mark", "T1"]);
        for (kind, value) in entries {
            kitchen.done(&["batch", "log", "T1", kind, "--", value]);
        }
        let json = kitchen.done(&["batch", "show", "T1", "--json"]);
        let json: Value = serde_json::from_str(&json).expect("it is JSON");
        json
    };
    for entries in [
        &[("volume-fermenter", "0.1")][..],
        &[("volume-fermenter", "1000")],
        &[("mash-temperature", "20"), ("sparge-temperature", "105")],
        &[("boil-time", "1440")],
        &[("original-gravity", "1.16")],
        &[("original-gravity", "1.000"), ("final-gravity", "0.98")],
        &[("final-gravity", "0.98")],
        &[("final-gravity", "1.16")],
        &[("fermentation-temperature", "60")],
        &[("fermentation-temperature", "-3")],
        &[("bottles-left", "65535")],
    ] {
        let json = shown(entries);
        assert_physical(&format!("{entries:?}"), &json);
        // What cannot be told is missed aloud.
        let figures = json["prediction"]["figures"]
            .as_object()
            .map(serde_json::Map::len);
        let missing = figures.is_none_or(|it| it < 8);
        assert!(
            !missing || cautions(&json).contains("cannot be told"),
            "{entries:?}: {json}"
        );
    }
    // A sack of sugar was weighed in: the gas is beyond any beer, and that is a danger said aloud.
    for sugar in ["600", "100000"] {
        let json = shown(&[("volume-packaged", "0.1"), ("priming-sugar", sugar)]);
        assert!(cautions(&json).contains("DANGER"), "{json}");
        assert!(json["prediction"]["figures"]["carbonation"]["value"].as_f64() > Some(8.0));
    }
}
