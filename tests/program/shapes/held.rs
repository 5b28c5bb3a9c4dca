//! Everything that is printed as JSON keeps its shape, in an empty home, a demonstration and in between.

use std::collections::BTreeSet;
use std::fs;

use crate::kitchen::Kitchen;
use crate::shapes::bench::Bench;
use serde_json::Value;
use thirdglass::reports::SHAPES;

/// What can be asked without a beer.
const ALONE: &[&str] = &[
    "batch-list",
    "blind-list",
    "blind-record",
    "blind-size",
    "home-check",
    "larder",
    "panel-list",
    "practice-course",
    "practice-record",
    "removed",
    "settings",
    "taster-imports",
    "taster-learnt",
    "taster-list",
    "taster-measure",
    "taster-show",
    "wheel-list",
    "wheel-scales",
    "wheel-show",
];
/// What is asked of batches and recipes.
const BATCHES: &[&str] = &[
    "batch-list",
    "batch-show",
    "batch-weeks",
    "compare",
    "compare-two",
    "next",
    "recipe-history",
    "recipe-predict",
    "recipe-predict-why",
    "taster-learnt",
    "taster-show",
];
/// What is asked of blind tests.
const TESTS: &[&str] = &[
    "blind-list",
    "blind-plan",
    "blind-record",
    "blind-result",
    "blind-sheet",
];
/// What is asked of panels.
const PANELS: &[&str] = &[
    "panel-list",
    "panel-plan",
    "panel-result",
    "panel-result-taster",
    "panel-sheet",
    "panel-talk",
    "taster-measure",
    "taster-show",
];
/// What is asked of practice.
const PRACTICE: &[&str] = &[
    "practice-course",
    "practice-gain",
    "practice-leader",
    "practice-record",
];
/// What is asked of ratings from elsewhere.
const RATINGS: &[&str] = &[
    "taster-import",
    "taster-imports",
    "taster-measure",
    "taster-show",
];
/// What a person takes away.
const EXPORTS: &[&str] = &["home-tables", "taster-export"];
/// What is asked of photographs.
const PHOTOGRAPHS: &[&str] = &["batch-show", "home-check", "photo-list", "removed"];

#[test]
fn an_empty_home_keeps_the_shapes() {
    let bench = Bench::new();
    bench.keeps_all(&["batch-list", "blind-list", "panel-list", "practice-course"]);
    bench.keeps_all(&["taster-list", "taster-imports", "taster-measure", "larder"]);
    bench.keeps_all(&["settings", "wheel-list", "wheel-scales", "blind-size"]);
    bench.keeps_all(&["home-check", "removed"]);
    bench.keeps(
        "blind-size",
        "blind size --friends 7 --rounds 2 --similarity",
    );
    bench.keeps(
        "blind-size",
        "blind size --dprime 1.2 --method 2-afc-either",
    );
    let hopeless = bench.keeps("blind-size", "blind size --pd 0.001 --alpha 0.0001");
    assert_eq!(hopeless["difference"], Value::Null);
    let jar = bench.keeps("wheel-show", "wheel show bread_crust");
    assert_eq!(jar["reference"]["why_no_jar"], Value::Null);
    bench.type_line("taster add Ana");
    for name in [
        "taster-show",
        "taster-learnt",
        "practice-record",
        "blind-record",
    ] {
        bench.keeps(name, &format!("{} Ana", name.replace('-', " ")));
    }
    let home = bench.kitchen.home();
    fs::write(
        home.join("larder.toml"),
        bench.type_line("larder --example"),
    )
    .unwrap();
    bench.type_line("settings --write");
    bench.keeps_all(&["larder", "settings"]);
    bench.has_seen(ALONE);
}

#[test]
fn every_word_of_the_wheel_keeps_its_shape_with_a_jar_or_without_one() {
    let bench = Bench::new();
    let wheel = bench.keeps("wheel-list", "wheel list");
    let places = wheel["places"].as_array().unwrap().iter();
    let shelves = places.flat_map(|it| it["shelves"].as_array().unwrap());
    let mut with = BTreeSet::new();
    for shelf in shelves {
        let word = shelf["words"][0]["id"].as_str().unwrap();
        let told = bench.keeps("wheel-show", &format!("wheel show {word}"));
        with.insert(told["reference"]["item"].is_null());
    }
    assert_eq!(with.len(), 2, "words with a jar and without one are there");
}

#[test]
fn batches_keep_the_shapes_before_during_and_after_a_tasting() {
    let bench = Bench::new();
    let recipe = bench.type_line("recipe check --example");
    let recipe = bench.kitchen.write("r.toml", recipe);
    bench.keeps("recipe-predict", &format!("recipe predict {recipe}"));
    let why = format!("recipe predict {recipe} --why");
    bench.keeps("recipe-predict-why", &format!("{why} bitter"));
    bench.keeps("recipe-predict-why", &format!("{why} aroma:shelf:toasted"));
    bench.type_line(&format!("batch add {recipe} --mark T1"));
    bench.keeps("batch-show", "batch show T1");
    let taste = ["taste", "T1", "--taster", "Ana", "--plain"];
    bench.kitchen.fed(&taste, "\n4\n1\n");
    let sealed = bench.keeps("batch-list", "batch list");
    assert_eq!(sealed["batches"][0]["recipe"], Value::Null);
    let lock = format!("{}/yes\n", "/next-stage\n".repeat(12));
    bench.kitchen.fed(&taste, &lock);
    let open = bench.keeps("batch-list", "batch list");
    assert_eq!(open["batches"][0]["sealed"], false);
    for name in ["compare", "batch-weeks", "next"] {
        bench.keeps(name, &format!("{} T1", name.replace('-', " ")));
    }
    let demo = |name: &str, line: &str| bench.keeps(name, &format!("--demo {line}"));
    let learnt = format!("recipe predict {recipe} --taster Crumb --weeks 8");
    demo("recipe-predict", &learnt);
    for mark in ["OD1", "HL1"] {
        for name in ["batch-show", "batch-weeks", "compare", "next"] {
            demo(name, &format!("{} {mark}", name.replace('-', " ")));
        }
    }
    demo("next", "next OD1 --litres 3 --friends 8");
    demo("compare-two", "compare OD1 GC1");
    demo("recipe-history", "recipe history Oven_door");
    demo("taster-learnt", "taster learnt Crumb");
    demo("taster-show", "taster show Crumb");
    demo("batch-list", "batch list");
    bench.has_seen(BATCHES);
}

/// Answers every set of a taster with the last code before them, and leaves; a test that has stopped takes no
/// more.
fn answers(bench: &Bench, test: usize, name: &str) {
    let test = test.to_string();
    let answer = ["blind", "answer", &test, "--taster", name];
    loop {
        let told = bench.kitchen.run(&answer);
        let Some((_, codes)) = told.out.split_once("right: ") else {
            assert!(told.code == 0 || told.err.contains("all the answers it needs"));
            break;
        };
        let code = codes.lines().next().unwrap().rsplit(' ').next().unwrap();
        let words = ["--choose", code, "--sure", "rather", "--words", "bitter"];
        bench.kitchen.done(&[&answer[..], &words].concat());
    }
    bench.kitchen.run(&[&answer[..], &["--leave"]].concat());
}

#[test]
fn blind_tests_keep_the_shapes_open_and_closed_however_they_stop() {
    let bench = Bench::new();
    let plans = [
        "--tasters 5",
        "--tasters 5 --rounds 2 --method 2-afc --more bitter --expect Barn",
        "--tasters 5 --stop sequential --pd 0.6",
        "--tasters 5 --stop evidence --method tetrad",
        "--tasters 8 --method duo-trio --pour two",
        "--tasters 28 --similarity",
    ];
    for (index, plan) in plans.iter().enumerate() {
        let test = index + 1;
        let planned = bench.keeps("blind-plan", &format!("blind plan Gate Barn {plan}"));
        assert_eq!(planned["seed"], Value::Null);
        let sheet = format!("blind sheet {test} --for");
        bench.keeps("blind-sheet", &format!("{sheet} pourer --as Hob"));
        bench.keeps("blind-sheet", &format!("{sheet} ballots"));
        for name in ["Ana", "Ben", "Cleo"] {
            answers(&bench, test, name);
        }
        bench.keeps("blind-list", "blind list");
        bench.type_line(&format!("blind close {test} --early"));
        let result = bench.keeps("blind-result", &format!("blind result {test}"));
        // Only a test that runs to its end has a p-value.
        assert_eq!(result["p"].is_null(), plan.contains("--stop"), "{plan}");
        assert_eq!(result["sequence"].is_null(), !plan.contains("sequential"));
    }
    bench.keeps("blind-sheet", "blind sheet 5 --for server --as Sib");
    bench.keeps("blind-list", "blind list");
    bench.keeps("blind-record", "blind record Ana");
    bench.has_seen(TESTS);
}

#[test]
fn a_panel_keeps_the_shapes_from_the_plan_to_what_was_in_the_glasses() {
    let bench = Bench::new();
    let plan = "panel plan S1 S2 P3 --tasters Ana,Ben,Cleo";
    let tried = bench.keeps("panel-plan", &format!("{plan} --try"));
    assert_eq!(tried["number"], Value::Null);
    bench.keeps("panel-plan", &format!("{plan} --doubled 1 --form short"));
    bench.keeps("panel-list", "panel list");
    let sheet = bench.keeps("panel-sheet", "panel sheet --reader Hob");
    for order in sheet["orders"].as_array().unwrap() {
        let codes = order["codes"].as_array().unwrap().iter().enumerate();
        let lines = codes.map(|(at, _)| {
            let begin = if at == 0 { "\n\n1" } else { "" };
            format!("{begin}\n5\n\n4\n{}\n4\n3\n6\n\n", at + 3)
        });
        let lines = format!("\n{}\n", lines.collect::<String>());
        let name = order["taster"].as_str().unwrap();
        let taste = ["panel", "taste", "1", "--taster", name, "--plain"];
        let told = bench.kitchen.fed(&taste, &lines).out;
        assert!(told.contains("All 4 glasses are locked"), "{told}");
    }
    bench.keeps("panel-talk", "panel talk");
    bench.keeps("panel-talk", "panel talk --names");
    bench.type_line("panel tell");
    let found = bench.keeps("panel-result", "panel result");
    assert_eq!(found["beers"].as_array().unwrap().len(), 3);
    bench.keeps("panel-result-taster", "panel result --taster Ana");
    bench.keeps("panel-list", "panel list");
    bench.keeps("taster-measure", "taster measure");
    bench.keeps("taster-show", "taster show Ben");
    bench.has_seen(PANELS);
}

#[test]
fn practice_keeps_the_shapes_alone_and_in_a_course() {
    let bench = Bench::new();
    let words = ["practice", "words", "--taster", "Ana", "--plain"];
    bench.kitchen.fed(&words, &"1\n5\n\n".repeat(8));
    let record = bench.keeps("practice-record", "practice record Ana");
    assert!(record["brier"].is_object(), "{record}");
    let course = "practice course Winter --people Ana,Ben --meetings 3";
    bench.keeps("practice-course", course);
    let evening = [
        "practice",
        "evening",
        "Winter",
        "--minutes",
        "60",
        "--plain",
    ];
    bench.kitchen.fed(&evening, "");
    bench.keeps("practice-leader", "practice leader Winter --reader Hob");
    bench.keeps("practice-gain", "practice gain Winter --taster Ana");
    bench.has_seen(PRACTICE);
}

/// Six sittings of three tasters with three beers, each of them two times, on a scale and a line of their own.
fn ratings() -> String {
    let mut rows = "taster,sitting,sample,replicate,date,line,intensity,low,high\n".to_owned();
    for (at, taster) in ["Ana", "Ben", "Cleo"].iter().enumerate() {
        for (beer, sample) in ["p", "q", "r"].iter().enumerate() {
            for glass in 0..12 {
                let (sitting, replicate) = (1 + glass / 2, 1 + glass % 2);
                let digit = (2 * beer + at + sitting * replicate) % 10;
                let day = format!("2026-0{sitting}-14");
                let named = format!("{taster},s{sitting},{sample},{replicate},{day}");
                rows.extend(["bitter", "tin"].map(|line| format!("{named},{line},{digit},0,9\n")));
            }
        }
    }
    rows
}

#[test]
fn ratings_from_elsewhere_keep_the_shapes_many_and_few() {
    let bench = Bench::new();
    let file = bench.kitchen.write("p.csv", ratings());
    bench.keeps("taster-import", &format!("taster import {file} --try"));
    bench.keeps("taster-import", &format!("taster import {file}"));
    bench.keeps("taster-imports", "taster imports");
    let many = bench.keeps("taster-measure", &format!("taster measure {file}"));
    assert!(many["lines"][0]["intraclass"].is_array(), "{many}");
    bench.keeps("taster-show", "taster show Ana");
    bench.keeps("taster-show", "taster show Ana --cusum");
    let one = ratings().lines().take(2).collect::<Vec<_>>().join("\n");
    let file = bench.kitchen.write("one.csv", one);
    let few = bench.keeps("taster-measure", &format!("taster measure {file}"));
    let line = &few["lines"][0];
    assert!(line["intraclass"].is_null() && line["intraclass_reason"].is_string());
    assert!(line["alpha"]["value"].is_null() && line["alpha"]["reason"].is_string());
    bench.has_seen(RATINGS);
}

#[test]
fn what_a_person_takes_away_keeps_its_shape() {
    let bench = Bench::over(Kitchen::of_fixture(7));
    bench.kitchen.all_leave();
    let written = bench.kitchen.folder().join("a.json");
    bench.type_line(&format!("taster export Ana {}", written.display()));
    let everything: Value = serde_json::from_str(&fs::read_to_string(written).unwrap()).unwrap();
    assert!(everything["imported"][0].is_object());
    bench.hold("taster-export", &everything);
    let tables = bench.kitchen.folder().join("tables");
    bench.type_line(&format!("home tables {} --json", tables.display()));
    let tables = fs::read_to_string(tables.join("thirdglass.json")).unwrap();
    bench.hold("home-tables", &serde_json::from_str(&tables).unwrap());
    bench.has_seen(EXPORTS);
}

#[test]
fn photographs_keep_their_shapes() {
    let bench = Bench::new();
    let recipe = bench.type_line("recipe check --example");
    let recipe = bench.kitchen.write("r.toml", recipe);
    bench.type_line(&format!("batch add {recipe} --mark T1"));
    bench.keeps("photo-list", "photo list T1");
    let picture = image::RgbImage::from_pixel(3, 2, image::Rgb([90, 60, 20]));
    let file = bench.kitchen.folder().join("glass.png");
    picture.save(&file).unwrap();
    bench.type_line(&format!("photo add T1 {} --of glass", file.display()));
    bench.keeps("photo-list", "photo list T1");
    bench.keeps("batch-show", "batch show T1");
    bench.keeps("home-check", "home check");
    bench.keeps("removed", "removed");
    bench.type_line("remove photo T1 1");
    bench.type_line("remove batch T1");
    let gone = bench.keeps("removed", "removed");
    assert_eq!(gone["removed"].as_array().unwrap().len(), 2);
    bench.has_seen(PHOTOGRAPHS);
}

#[test]
fn every_shape_is_held_against_something() {
    let held = [
        ALONE,
        BATCHES,
        TESTS,
        PANELS,
        PRACTICE,
        RATINGS,
        EXPORTS,
        PHOTOGRAPHS,
    ]
    .concat();
    let held: BTreeSet<&str> = held.into_iter().collect();
    let all: BTreeSet<&str> = SHAPES.iter().map(|it| it.0).collect();
    assert_eq!(held, all);
}
