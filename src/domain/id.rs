//! Ids: drawn ones for what people make, kebab-case ones for what stands in the catalogues.

use std::fmt;

use crate::domain::Invalid;

/// Declares id types over text that cannot be mistaken for one another.
macro_rules! drawn_ids {
    ($($(#[$doc:meta])* $name:ident),+ $(,)?) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub struct $name(String);

        impl $name {
            /// Wraps an id that was drawn or read from the store.
            #[must_use]
            pub fn new(text: impl Into<String>) -> Self {
                Self(text.into())
            }

            /// The text of the id.
            #[must_use]
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(&self.0)
            }
        }
    )+};
}

/// Declares id types that are kebab-case by construction.
macro_rules! kebab_ids {
    ($($(#[$doc:meta])* $name:ident),+ $(,)?) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub struct $name(String);

        impl $name {
            /// Makes the id of `text`.
            ///
            /// # Errors
            /// `text` is not small letters and digits joined by single hyphens.
            pub fn new(text: &str) -> Result<Self, Invalid> {
                if is_kebab(text) {
                    Ok(Self(text.to_owned()))
                } else {
                    Err(Invalid::NotKebab { found: text.chars().take(60).collect() })
                }
            }

            /// The text of the id.
            #[must_use]
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(&self.0)
            }
        }
    )+};
}

drawn_ids! {
    /// A person who tastes.
    TasterId,
    /// One version of a recipe.
    RecipeVersionId,
    /// One brew.
    BatchId,
    /// One prediction.
    PredictionId,
    /// One proposal.
    ProposalId,
    /// One line of a batch's log.
    BatchEntryId,
    /// What fills a glass.
    BeerId,
    /// One occasion.
    SittingId,
    /// One taster's place in a sitting.
    SeatId,
    /// One glass.
    SampleId,
    /// What one taster recorded of one glass.
    NotesId,
    /// One named word in the notes.
    MarkId,
    /// One word of a second sniff.
    SniffedWordId,
    /// One blind test.
    TestId,
    /// One answer in a blind test.
    TestAnswerId,
    /// One answer of a practice.
    PracticeAnswerId,
    /// One photograph.
    PhotographId,
    /// A course of evenings.
    CourseId,
    /// One evening of a course.
    MeetingId,
}

kebab_ids! {
    /// A word on the wheel.
    DescriptorId,
    /// A shelf in a place.
    ShelfId,
    /// A place you know.
    PlaceId,
    /// An ingredient of the catalogue.
    IngredientId,
}

fn is_kebab(text: &str) -> bool {
    text.len() <= 60
        && !text.is_empty()
        && text.split('-').all(|part| {
            !part.is_empty()
                && part
                    .bytes()
                    .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit())
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kebab_case_is_accepted_and_anything_else_refused() {
        assert!(DescriptorId::new("bread-crust").is_ok());
        for bad in ["", "Bread", "bread_crust", "-bread", "bread--crust", "é"] {
            assert!(DescriptorId::new(bad).is_err(), "{bad}");
        }
    }
}
