//! Numbers in, numbers out: exact tails, intervals, power, agreement, and seeded dice; it has never heard of taste.

mod beta_binomial;
mod brier;
mod clopper_pearson;
mod dice;
mod exact_tail;
mod false_discovery;
mod normal;
mod overdispersion;
mod paired_gain;
mod probability;
mod proportion_prior;
mod quadrature;
mod rank_order;
mod root;
mod sequential_test;
mod signal_detection;
mod student;
mod truncated_normal;

pub use beta_binomial::{Tarone, tarone};
pub use brier::{BrierParts, StatedChance, brier};
pub use clopper_pearson::{Limits, clopper_pearson, exact_lower, exact_upper, wilson};
pub use dice::{Dice, NoEntropy};
pub use exact_tail::{Count, binomial_lower_tail, binomial_term, binomial_upper_tail};
pub use false_discovery::{adjusted_p, discoveries};
pub use normal::{Normal, Sd};
pub use overdispersion::{PopulationReading, read_population};
pub use paired_gain::{PairedAnswers, PairedDifference};
pub use probability::Probability;
pub use proportion_prior::{ProportionPrior, ProportionReading, likelihood_limits};
pub use quadrature::integral;
pub use rank_order::OrderedPairs;
pub use root::root;
pub use sequential_test::{Course, SequentialLines, SequentialTest, Stand, course};
pub use signal_detection::Detection;
pub use student::StudentT;
pub use truncated_normal::TruncatedNormal;
