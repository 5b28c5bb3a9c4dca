//! A kitchen whose JSON is held against the written shapes, with keys planted and taken away.

use std::cell::RefCell;
use std::collections::BTreeSet;

use crate::kitchen::Kitchen;
use jsonschema::Validator;
use serde_json::Value;
use thirdglass::reports::shape;

pub(super) fn written(name: &str) -> Value {
    let text = shape(name).unwrap_or_else(|| panic!("no shape is called {name}"));
    serde_json::from_str(text).unwrap()
}

fn validator(name: &str) -> Validator {
    jsonschema::validator_for(&written(name)).unwrap()
}

fn problems(shape: &Validator, output: &Value) -> Vec<String> {
    let told = |it: jsonschema::ValidationError<'_>| format!("{}: {it}", it.instance_path());
    shape.iter_errors(output).map(told).collect()
}

/// The same with one row of each list of rows, which is as deep and much shorter.
fn first_rows(output: &Value) -> Value {
    match output {
        Value::Object(all) => {
            let all = all.iter().map(|(key, it)| (key.clone(), first_rows(it)));
            Value::Object(all.collect())
        }
        Value::Array(all) if all.iter().all(Value::is_object) => {
            all.iter().take(1).map(first_rows).collect()
        }
        other => other.clone(),
    }
}

/// Where objects stand in a value.
fn objects(value: &Value, at: &str, found: &mut Vec<String>) {
    let mut inside = |key: &str, it: &Value| objects(it, &format!("{at}/{key}"), found);
    match value {
        Value::Object(all) => {
            all.iter().for_each(|(key, it)| inside(key, it));
            found.push(at.to_owned());
        }
        Value::Array(all) => {
            let all = all.iter().enumerate();
            all.for_each(|(index, it)| inside(&index.to_string(), it));
        }
        _ => {}
    }
}

/// Keys taken away and put in at every depth that the shape does not notice.
fn unnoticed(shape: &Validator, output: &Value) -> Vec<String> {
    let output = first_rows(output);
    assert_eq!(problems(shape, &output), Vec::<String>::new());
    let mut places = Vec::new();
    objects(&output, "", &mut places);
    let mut missed = Vec::new();
    for place in places {
        let object = output.pointer(&place).unwrap().as_object().unwrap();
        let keys: Vec<String> = object.keys().cloned().collect();
        let mut planted = output.clone();
        planted.pointer_mut(&place).unwrap()["planted"] = Value::from(1);
        if shape.is_valid(&planted) {
            missed.push(format!("{place}/planted"));
        }
        // A figure that cannot be told is left out, as its help says.
        let is_table = ["/prediction/figures", "/figures/figures"].contains(&place.as_str());
        for key in keys.iter().filter(|_| !is_table) {
            let mut planted = output.clone();
            let object = planted.pointer_mut(&place).unwrap();
            object.as_object_mut().unwrap().remove(key);
            if shape.is_valid(&planted) {
                missed.push(format!("{place}/{key}"));
            }
        }
    }
    missed
}

/// A kitchen whose JSON is held against the shapes, and which of them that were.
pub(super) struct Bench {
    pub(super) kitchen: Kitchen,
    seen: RefCell<BTreeSet<String>>,
}

impl Bench {
    pub(super) fn new() -> Self {
        Self::over(Kitchen::new())
    }

    pub(super) fn over(kitchen: Kitchen) -> Self {
        let seen = RefCell::default();
        Self { kitchen, seen }
    }

    /// Holds an output against a shape, and plants keys in it.
    pub(super) fn hold(&self, name: &str, output: &Value) {
        let shape = validator(name);
        let found = problems(&shape, output);
        assert!(found.is_empty(), "{name}: {found:#?}");
        let missed = unnoticed(&shape, output);
        assert!(missed.is_empty(), "{name} lets pass: {missed:#?}");
        self.seen.borrow_mut().insert(name.to_owned());
    }

    /// Types a line, with blanks between its words and `_` for a blank inside one.
    pub(super) fn type_line(&self, line: &str) -> String {
        let words: Vec<String> = line.split(' ').map(|it| it.replace('_', " ")).collect();
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        self.kitchen.done(&words)
    }

    /// Types a line with `--json` behind it and holds what it prints against a shape.
    pub(super) fn keeps(&self, name: &str, line: &str) -> Value {
        let output = self.type_line(&format!("{line} --json"));
        let output = serde_json::from_str(&output).unwrap();
        self.hold(name, &output);
        output
    }

    /// The name of a shape is the words of its command; for those that take nothing more.
    pub(super) fn keeps_all(&self, names: &[&str]) {
        for name in names {
            self.keeps(name, &name.replace('-', " "));
        }
    }

    pub(super) fn has_seen(&self, names: &[&str]) {
        let names: BTreeSet<String> = names.iter().map(|it| (*it).to_owned()).collect();
        assert_eq!(*self.seen.borrow(), names);
    }
}
