//! Numbers in, numbers out: exact tails, intervals, power, agreement, and seeded dice; it has never heard of taste.

mod assessor;
mod beta_binomial;
mod brier;
mod chi_square;
mod cholesky;
mod clopper_pearson;
mod complete_table;
mod concordance;
mod control_chart;
mod day_scatter;
mod dice;
mod duplicates;
mod exact_tail;
mod false_discovery;
mod fisher_f;
mod interval;
mod intraclass;
mod krippendorff;
mod least_squares;
mod limits_of_agreement;
mod mean_gain;
mod moments;
#[cfg(test)]
mod near;
mod noise_hierarchy;
mod noise_posterior;
mod noise_priors;
mod normal;
mod one_way;
mod overdispersion;
mod pair_sums;
mod paired_gain;
#[cfg(test)]
mod peak_flow;
mod precision;
mod probability;
mod proportion_prior;
mod quadrature;
mod rank_agreement;
mod rank_order;
mod root;
mod scatter_likelihood;
mod sequential_test;
mod signal_detection;
mod squares;
mod student;
mod trial_figure;
mod truncated_normal;
mod williams;
// Only tests and `cargo bench` play through invented raters; the program itself has no use for them.
#[doc(hidden)]
pub mod trial_noise;

pub use assessor::{ASSESSOR_NUMBERS, AssessorSums, AssessorVariance};
pub use beta_binomial::{Tarone, tarone};
pub use brier::{BrierParts, StatedChance, brier};
pub use chi_square::chi_square_upper_tail;
pub use clopper_pearson::{Limits, clopper_pearson, exact_lower, exact_upper, wilson};
pub use complete_table::{CompleteTable, TableRefused};
pub use concordance::{Concordance, NoConcordance, concordance};
pub use control_chart::{
    BASELINE_POINTS, Baseline, Cusum, CusumPoint, Drift, Ewma, EwmaLimits, EwmaPoint, NoChart,
    joint_cusum_limit, joint_width,
};
pub use day_scatter::{DayPairs, day_scatter};
pub use dice::{Dice, NoEntropy};
pub use duplicates::Duplicates;
pub use exact_tail::{Count, binomial_lower_tail, binomial_term, binomial_upper_tail};
pub use false_discovery::discoveries;
pub use fisher_f::{FOutcome, FTest, FisherF};
pub use interval::Interval;
pub use intraclass::{
    Denominator, Intraclass, IntraclassForm, NoIntraclass, RatedBy, RaterModel, TableSquares,
};
pub use krippendorff::{KrippendorffAlpha, Metric, NoAlpha, krippendorff_alpha};
pub use least_squares::{NoSlopes, Slope, slopes};
pub use limits_of_agreement::{
    CoverFactor, Limit, LimitsOfAgreement, NoLimits, limits_of_agreement,
};
pub use mean_gain::chance_of_mean_above;
pub use moments::{Moments, whole};
pub use noise_hierarchy::{
    LineNoise, Measured, NoNoise, NoiseHierarchy, RaterNoise, Scatter, Spreads,
};
pub use noise_priors::NoisePriors;
pub use normal::{Normal, Sd};
pub use one_way::{GroupsRefused, OneWay, WithinGroups};
pub use overdispersion::{PopulationReading, read_population};
pub use pair_sums::{PAIR_NUMBERS, PairSums};
pub use paired_gain::{PairedAnswers, PairedDifference};
pub use precision::{BetweenGroups, Precision, precision, repeatability_limit};
pub use probability::Probability;
pub use proportion_prior::{ProportionPrior, ProportionReading, likelihood_limits};
pub use quadrature::integral;
pub use rank_agreement::{NoRankAgreement, RankAgreement, least_rank_difference, rank_agreement};
pub use rank_order::OrderedPairs;
pub use root::root;
pub use sequential_test::{Course, SequentialLines, SequentialTest, Stand, course};
pub use signal_detection::Detection;
pub use student::StudentT;
pub use truncated_normal::TruncatedNormal;
pub use williams::williams_orders;
