//! The five stages of a tasting, in their order.

use crate::domain::choice::choices;

choices! {
    /// One stage of the guided tasting.
    Stage ("a stage") {
        /// What the eye sees.
        Appearance = "appearance", "Appearance";
        /// What the nose finds.
        Aroma = "aroma", "Aroma";
        /// What the mouth and the breath through the nose find.
        Flavour = "flavour", "Flavour";
        /// What the tongue feels.
        Body = "body", "Body";
        /// What stays after swallowing.
        Finish = "finish", "Finish";
    }
}
