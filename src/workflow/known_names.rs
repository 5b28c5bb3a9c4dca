//! What a message says of a name that is not there: the nearest ones, or those that are.

use crate::domain::nearest_names;

/// Names that a message lists at most.
const MOST: usize = 12;
/// Suggestions at most.
const NEAREST: usize = 3;

/// “did you mean …” with the nearest names; the names that are there where none is near; `none` where there is none.
pub(super) fn known_names(asked: &str, names: &[String], some: &str, none: &str) -> String {
    if names.is_empty() {
        return none.to_owned();
    }
    let near = nearest_names(asked, names.iter().map(String::as_str), NEAREST);
    if !near.is_empty() {
        let near: Vec<String> = near.iter().map(|it| format!("“{it}”")).collect();
        return format!("did you mean {}?", near.join(" or "));
    }
    let shown = names.len().min(MOST);
    let more = match names.len() - shown {
        0 => String::new(),
        more => format!(", and {more} more"),
    };
    format!("{some}: {}{more}", names[..shown].join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(asked: &str, names: &[&str]) -> String {
        let names: Vec<String> = names.iter().map(|it| (*it).to_owned()).collect();
        known_names(asked, &names, "the marks in use are", "there is none")
    }

    #[test]
    fn a_slip_is_answered_with_what_was_meant_and_a_stranger_with_a_short_list() {
        assert_eq!(told("Crum", &["Teacup", "Crumb"]), "did you mean “Crumb”?");
        assert_eq!(told("xyz", &["AB", "CD"]), "the marks in use are: AB, CD");
        assert_eq!(told("xyz", &[]), "there is none");
        let many: Vec<String> = (0..300).map(|it| format!("B{it:03}")).collect();
        let many: Vec<&str> = many.iter().map(String::as_str).collect();
        let long = told("qqq", &many);
        assert!(long.ends_with("B011, and 288 more"), "{long}");
    }
}
