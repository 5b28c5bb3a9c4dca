//! Practice items, what to practise next, and the measures of a taster's consistency.

mod answer_value;
mod doubled_glasses;
mod half_life;
mod histories;
mod learning_pace;
mod memories;
mod next_words;
mod panel_measures;
mod trial_learners;
// Only tests and `cargo bench` teach invented learners; the program itself has no use for them.
#[doc(hidden)]
pub mod trial_practice;
mod word_answer;
mod word_memory;

pub use doubled_glasses::{DoubledBeer, DoubledLine, PastAnswers, beers_to_double, pair_gain};
pub use histories::Histories;
pub use memories::Memories;
pub use next_words::{NextWord, PracticeWord, RARE_FAULT_DAYS, Rarity, WhyAsked, next_words};
pub use panel_measures::{
    LineAgreement, PanelMeasures, TasterLine, TasterMeasures, panel_measures,
};
pub use word_answer::{Asked, Outcome, PracticeTime, WordAnswer};
