//! A word that is not on the wheel, and which could be meant.

use thiserror::Error;

/// A word that is not on the wheel.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error(
    "“{asked}” is no word of the wheel{}; thirdglass wheel list shows all", offered(.near)
)]
pub struct NoWord {
    asked: String,
    near: Vec<String>,
}

impl NoWord {
    /// What was asked for, and the words near to it, the nearest first.
    #[must_use]
    pub fn new(asked: &str, near: &[&str]) -> Self {
        Self {
            asked: asked.chars().take(60).collect(),
            near: near.iter().map(|it| (*it).to_owned()).collect(),
        }
    }
}

fn offered(near: &[String]) -> String {
    let near: Vec<String> = near.iter().map(|it| format!("“{it}”")).collect();
    match near.as_slice() {
        [] => String::new(),
        some => format!("; did you mean {}?", some.join(" or ")),
    }
}
