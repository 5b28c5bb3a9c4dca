//! At which place of a list notes stand, for rows that name them by id.

use std::collections::HashMap;

use serde_json::Value;

/// The places of notes by their ids. Rows of the same notes mostly follow each other, so the last answer is kept.
pub(super) struct NotesPlaces<'a> {
    places: HashMap<&'a str, usize>,
    last: Option<(String, Option<usize>)>,
}

impl<'a> NotesPlaces<'a> {
    /// Of notes in the order of a list.
    pub(super) fn of(ids: impl Iterator<Item = &'a str>) -> Self {
        Self {
            places: ids.zip(0..).collect(),
            last: None,
        }
    }

    /// How many notes there are.
    pub(super) fn len(&self) -> usize {
        self.places.len()
    }

    /// The place of notes; none for others than those of the list.
    pub(super) fn find(&mut self, id: &str) -> Option<usize> {
        match &mut self.last {
            Some((last, at)) if last == id => *at,
            last => {
                let at = self.places.get(id).copied();
                *last = Some((id.to_owned(), at));
                at
            }
        }
    }

    /// All ids as JSON, to be bound to a query: which notes are wanted is then not found out again.
    pub(super) fn json(&self) -> String {
        let ids: Vec<&str> = self.places.keys().copied().collect();
        Value::from(ids).to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_id_is_found_at_its_place_after_itself_and_after_others() {
        let mut places = NotesPlaces::of(["a", "b"].into_iter());
        let found = ["b", "b", "x", "x", "a", "b"].map(|it| places.find(it));
        assert_eq!(found, [Some(1), Some(1), None, None, Some(0), Some(1)]);
        assert_eq!(NotesPlaces::of([""].into_iter()).find(""), Some(0));
    }
}
