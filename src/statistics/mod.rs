//! Numbers in, numbers out: exact tails, intervals, power, agreement, and seeded dice; it has never heard of taste.

mod dice;

pub use dice::{Dice, NoEntropy};
