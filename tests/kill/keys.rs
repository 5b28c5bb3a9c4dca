//! A tasting as keys to press on a terminal.

use crate::script::Script;

/// The keys of a script, each with how many lines of it are answered before and after.
pub(crate) fn keys(script: &Script) -> Vec<(String, usize)> {
    let mut keys = Vec::new();
    for (index, step) in script.steps.iter().enumerate() {
        let word = match step.line.as_str() {
            "/skip" => " ".to_owned(),
            "/cannot-tell" => "-".to_owned(),
            line if line.len() == 1 => line.to_owned(),
            line => format!("{line}\r"),
        };
        let last = word.chars().count() - 1;
        let typed = word.chars().enumerate();
        keys.extend(typed.map(|(at, key)| (key.to_string(), index + usize::from(at == last))));
    }
    keys
}
