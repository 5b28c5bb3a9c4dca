//! Every command with JSON has a shape, and every shape is a valid schema that describes every key.

use std::collections::BTreeSet;

use crate::kitchen::Kitchen;
use crate::kitchen::flat;
use crate::shapes::bench::written;
use clap::CommandFactory;
use serde_json::Value;
use thirdglass::cli::Arguments;
use thirdglass::reports::SHAPES;
use thirdglass::reports::shape;

/// Every command with its words joined by `-`, from the top down; clap's own `help` left out.
fn commands(command: &clap::Command, path: &[&str]) -> Vec<(String, clap::Command)> {
    let inner = command.get_subcommands();
    inner
        .filter(|it| it.get_name() != "help")
        .flat_map(|it| {
            let path = [path, &[it.get_name()]].concat();
            let own = (path.join("-"), it.clone());
            [vec![own], commands(it, &path)].concat()
        })
        .collect()
}

fn has_json(command: &clap::Command) -> bool {
    command.get_arguments().any(|it| it.get_id() == "json")
}

#[test]
fn every_command_with_json_has_a_shape_that_its_help_names_and_every_shape_has_a_command() {
    let all = commands(&Arguments::command(), &[]);
    let kitchen = Kitchen::new();
    let mut named = BTreeSet::new();
    for (path, command) in all.iter().filter(|it| has_json(&it.1)) {
        assert!(shape(path).is_some(), "{path} has no shape");
        let help = command.clone().render_help().to_string();
        let (_, line) = help.split_once("The keys of --json: thirdglass ").unwrap();
        let line = flat(line);
        let (_, names) = line.split_once("shell schema ").unwrap();
        named.extend(names.split(", or ").map(str::to_owned));
        let long = command.clone().render_long_help().to_string();
        assert!(
            long.contains("shell schema") || long.contains("In JSON"),
            "{path}"
        );
    }
    // It writes a file instead, and its help lists the keys.
    named.insert("taster-export".to_owned());
    let catalogue: BTreeSet<String> = SHAPES.iter().map(|it| it.0.to_owned()).collect();
    assert_eq!(named, catalogue);
    let printed = kitchen.done(&["shell", "schema"]);
    assert!(
        printed.lines().eq(SHAPES.iter().map(|it| it.0)),
        "{printed}"
    );
    assert!(SHAPES.is_sorted());
    for (name, text) in SHAPES {
        assert_eq!(kitchen.done(&["shell", "schema", name]), *text);
        let written = written(name);
        let title = written["title"].as_str().unwrap();
        let typed = title.strip_prefix("thirdglass ").unwrap().split(' ');
        let words = typed.take_while(|it| it.bytes().all(|it| it.is_ascii_lowercase()));
        let path = words.collect::<Vec<_>>().join("-");
        let command = all.iter().find(|it| it.0 == path);
        let (_, command) = command.unwrap_or_else(|| panic!("{title}"));
        assert!(name.starts_with(&path), "{name}: {title}");
        assert_eq!(title.ends_with(" --json"), has_json(command), "{title}");
    }
    let unknown = kitchen.run(&["shell", "schema", "batch-lists"]);
    assert_eq!(unknown.code, 1);
    assert!(unknown.err.contains("“batch-lists”"), "{}", unknown.err);
}

/// What is wrong with a part of a shape as a document, at any depth.
fn gaps(part: &Value, at: &str, found: &mut Vec<String>) {
    let each = part.as_array().into_iter().flatten();
    each.for_each(|it| gaps(it, at, found));
    let Some(object) = part.as_object() else {
        return;
    };
    let mut say = |what: &str| found.push(format!("{at}: {what}"));
    if let Some(inside) = object.get("properties").and_then(Value::as_object) {
        if object.get("additionalProperties") != Some(&Value::Bool(false)) {
            say("other keys are let in");
        }
        let told = object["required"].as_array().unwrap().iter();
        let required: BTreeSet<&str> = told.filter_map(Value::as_str).collect();
        let all: BTreeSet<&str> = inside.keys().map(String::as_str).collect();
        let says = object.get("description").and_then(Value::as_str);
        let is_table = says.is_some_and(|it| it.contains("left out"));
        if required != all && !(is_table && required.is_empty()) {
            say("a key may be missing");
        }
        for (key, it) in inside {
            let says = it["description"].as_str().unwrap_or_default();
            if says.split_whitespace().count() < 3 || !says.ends_with('.') {
                say(&format!("{key} is not described"));
            }
            if !["type", "$ref", "anyOf"]
                .iter()
                .any(|kind| it.get(*kind).is_some())
            {
                say(&format!("{key} may be anything"));
            }
        }
    }
    for (key, it) in object {
        gaps(it, &format!("{at}/{key}"), found);
    }
}

fn gaps_of(name: &str, shape: &Value) -> Vec<String> {
    let mut found = Vec::new();
    gaps(shape, name, &mut found);
    found
}

#[test]
fn every_shape_is_a_valid_schema_and_describes_every_key() {
    for (name, _) in SHAPES {
        let shape = written(name);
        assert!(jsonschema::draft202012::meta::is_valid(&shape), "{name}");
        let draft = "https://json-schema.org/draft/2020-12/schema";
        assert_eq!(shape["$schema"], draft, "{name}");
        assert!(shape["description"].as_str().unwrap().split(' ').count() > 3);
        assert_eq!(gaps_of(name, &shape), Vec::<String>::new());
    }
}

#[test]
fn a_planted_gap_in_a_shape_is_found() {
    let whole = written("batch-list");
    let row = "/properties/batches/items";
    let plant = |at: &str, key: &str, value: Value| {
        let mut planted = whole.clone();
        planted.pointer_mut(&format!("{row}{at}")).unwrap()[key] = value;
        gaps_of("batch-list", &planted).len()
    };
    assert_eq!(plant("", "title", Value::from("a batch")), 0);
    assert_eq!(plant("", "additionalProperties", Value::from(true)), 1);
    assert_eq!(plant("", "required", serde_json::json!(["cap_mark"])), 1);
    let described = "/properties/cap_mark";
    assert_eq!(plant(described, "description", Value::from("Cap mark.")), 1);
    let free = serde_json::json!({ "description": "What is on the caps." });
    assert_eq!(plant("/properties", "cap_mark", free), 1);
}
