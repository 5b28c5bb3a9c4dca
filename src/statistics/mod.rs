//! Numbers in, numbers out: exact tails, intervals, power, agreement, and seeded dice; it has never heard of taste.

mod dice;
mod exact_tail;
mod false_discovery;
mod normal;
mod probability;
mod student;
mod truncated_normal;

pub use dice::{Dice, NoEntropy};
pub use exact_tail::{Count, binomial_upper_tail};
pub use false_discovery::{adjusted_p, discoveries};
pub use normal::{Normal, Sd};
pub use probability::Probability;
pub use student::StudentT;
pub use truncated_normal::TruncatedNormal;
