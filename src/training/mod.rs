//! Practice items, what to practise next, and the measures of a taster's consistency.

mod answer_value;
mod doubled_glasses;
mod half_life;
mod histories;
mod learning_pace;
mod memories;
mod naming_record;
mod next_words;
mod panel_measures;
mod rating_sums;
mod taster_charts;
mod taster_measures;
mod trial_learners;
// Only tests and `cargo bench` teach invented learners; the program itself has no use for them.
#[doc(hidden)]
pub mod trial_practice;
mod word_answer;
mod word_memory;

pub use doubled_glasses::{DoubledBeer, DoubledLine, PastAnswers, beers_to_double};
pub use histories::Histories;
pub use memories::Memories;
pub use naming_record::{NamedGlass, NamingRecord, PositiveAgreement, naming_records};
pub use next_words::{NextWord, PracticeWord, RARE_FAULT_DAYS, Rarity, WhyAsked, next_words};
pub use panel_measures::{LineAgreement, LinePrecision, PanelMeasures, panel_measures};
pub use rating_sums::{GlassRating, RatingGatherer, RatingSums};
pub use taster_charts::{
    ChartKind, ChartPoint, SeriesPoint, TasterChart, TasterCharts, TasterSeries, gap_to_others,
    pairs_of_taster, taster_charts,
};
pub use taster_measures::{
    GapToOthers, GatheredRatings, NoScatter, TasterLine, TasterMeasures, days_of, noise_of,
    taster_measures,
};
pub use word_answer::{Asked, Outcome, PracticeTime, WordAnswer};
