//! The test methods, one a file, and the analysis of their answers.

mod analysis;
mod balance;
mod codes;
mod combine;
mod duo_trio;
mod effect;
mod evidence;
mod method;
mod methods;
mod psychometric;
mod refused;
mod replicates;
mod risk;
mod scan;
mod similarity;
mod size;
mod tetrad;
mod three_afc;
// Only tests and `cargo bench` play through invented tests; the program itself has no use for them.
#[doc(hidden)]
pub mod trial_tables;
mod triangle;
mod two_afc;

pub use analysis::{Aim, Analysis, Distance, Reach, Verdict, analyse};
pub use balance::{Serving, draw_servings};
pub use codes::{MOST_GLASSES, draw_codes, shuffled_codes};
pub use combine::{Joint, Summed, joint, summed};
pub use effect::{DPrime, Effect, Pd};
pub use evidence::evidence_courses;
pub use method::{Asked, Chance, Method, Presentation, Side, Ways};
pub use methods::METHODS;
pub use refused::Refused;
pub use replicates::Replicates;
pub use risk::{Alpha, Beta};
pub use similarity::{Similarity, Standing, similarity, similarity_sizes};
pub use size::{Plan, Sizes, critical_count, plan, sizes};
