//! How far every rater's answers scatter on every line, each borrowing from all others what it lacks.

use thiserror::Error;

use crate::statistics::Duplicates;
use crate::statistics::Interval;
use crate::statistics::NoisePriors;
use crate::statistics::Sd;
use crate::statistics::interval::normal_reach;
use crate::statistics::noise_posterior::Posterior;

/// Pairs of one rater on one line from which on its scatter counts as measured.
const MEASURED_PAIRS: u32 = 8;

/// Raters with enough pairs from whom on the spread of raters and lines is estimated.
const ENOUGH_RATERS: usize = 3;

/// Pairs of a rater that are enough for that.
const ENOUGH_PAIRS: u32 = 4;

/// How wide a spread may be against what was believed of it, and how far that is believed: the three
/// points of Gauss-Hermite quadrature for a factor whose logarithm is normal with a standard deviation of
/// 0.295 = −ln 0.6/√3 (judgement; Abramowitz & Stegun 1964, table 25.10).
const FACTORS: [(f64, f64); 3] = [(0.6, 1.0 / 6.0), (1.0, 2.0 / 3.0), (1.0 / 0.6, 1.0 / 6.0)];

/// Why pairs cannot be arranged by rater and line. Places count from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum NoNoise {
    /// There is no rater, or no line.
    #[error("there is nobody, or nothing, whose scatter could be told")]
    Empty,
    /// A rater has another number of lines than the first.
    #[error("rater {rater} has another number of lines than the first")]
    Uneven {
        /// The rater.
        rater: usize,
    },
    /// A prior standard deviation is not from 0.01 to 10, or the middle not from −10 to 10.
    #[error("what is believed beforehand is no scatter that answers in digits can have")]
    Priors,
}

/// Where a figure mostly comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Measured {
    /// From the prior, from other lines and from other raters.
    MostlyBorrowed,
    /// From this rater's own pairs on this line, at least eight.
    OnItsOwn,
}

/// A scatter in digits, before rounding to whole ones.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scatter {
    /// ln σ at the posterior mode.
    pub log_sd: f64,
    /// Its standard error.
    pub log_error: f64,
}

impl Scatter {
    fn of((value, variance): (f64, f64)) -> Self {
        Self {
            log_sd: value,
            log_error: variance.sqrt(),
        }
    }

    /// σ.
    #[must_use]
    pub fn sd(self) -> f64 {
        self.log_sd.exp()
    }

    /// The 95 % interval of σ.
    #[must_use]
    pub fn interval(self) -> Interval {
        let of_log = Interval::around(self.log_sd, normal_reach() * self.log_error);
        Interval {
            low: of_log.low.exp(),
            high: of_log.high.exp(),
        }
    }
}

/// How far one rater's answers scatter on one line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LineNoise {
    /// The scatter.
    pub scatter: Scatter,
    /// The rater's pairs on the line.
    pub pairs: u32,
    /// Where it mostly comes from.
    pub measured: Measured,
}

/// How far one rater's answers scatter over all lines.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RaterNoise {
    /// The scatter on a line like any other.
    pub scatter: Scatter,
    /// By how much it is larger than that of any rater, as a logarithm: σ is e^`log_factor` times theirs.
    pub log_factor: f64,
    /// The standard error of that.
    pub log_factor_error: f64,
    /// The rater's pairs on all lines.
    pub pairs: u32,
}

/// The scatter of all raters on all lines.
#[derive(Debug, Clone, PartialEq)]
pub struct NoiseHierarchy {
    lines: Vec<Vec<LineNoise>>,
    raters: Vec<RaterNoise>,
    priors: NoisePriors,
    spreads: Spreads,
}

/// Where the spreads of raters, lines and both come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spreads {
    /// Believed beforehand.
    Believed,
    /// Estimated, because three raters have at least four pairs each.
    Estimated,
}

impl NoiseHierarchy {
    /// The scatter of raters (rows) on lines (columns).
    ///
    /// S/(σ² + 1/12) ~ χ²(ν) and ln σ = μ + a(rater) + b(line) + c(rater, line) with normal priors: the
    /// posterior mode by Newton's method and errors by Laplace's (Tierney & Kadane 1986, J. Am. Stat. Assoc.
    /// 81:82-86). Once three raters have four pairs each, spreads of a, b and c 0.6 and 1.7 times as wide are
    /// weighed by how likely they make the pairs, and what they say is averaged: taking the likeliest alone
    /// would be surer than the pairs allow.
    ///
    /// # Errors
    /// There is no rater or no line, or a rater has more or fewer lines than the first, or the priors are
    /// out of range.
    pub fn of(rows: &[Vec<Duplicates>], priors: NoisePriors) -> Result<Self, NoNoise> {
        check(rows, priors)?;
        let pairs: Vec<u32> = rows
            .iter()
            .map(|row| row.iter().map(|it| it.freedom()).sum())
            .collect();
        let believed = Posterior::of(rows, priors);
        let enough = pairs.iter().filter(|it| **it >= ENOUGH_PAIRS).count();
        let (posteriors, spreads) = if enough >= ENOUGH_RATERS {
            (weighed(&believed), Spreads::Estimated)
        } else {
            let posterior = believed;
            let weight = 1.0;
            (vec![Weighed { weight, posterior }], Spreads::Believed)
        };
        Ok(Self {
            lines: line_noises(&posteriors, rows),
            raters: rater_noises(&posteriors, &pairs),
            priors: middle_priors(&posteriors),
            spreads,
        })
    }

    /// The scatter of a rater on a line; none without them.
    #[must_use]
    pub fn line(&self, rater: usize, line: usize) -> Option<LineNoise> {
        self.lines.get(rater)?.get(line).copied()
    }

    /// The scatter of a rater over all lines; none without this one.
    #[must_use]
    pub fn rater(&self, rater: usize) -> Option<RaterNoise> {
        self.raters.get(rater).copied()
    }

    /// The priors, with spreads as they were estimated.
    #[must_use]
    pub const fn priors(&self) -> NoisePriors {
        self.priors
    }

    /// Whether their spreads were estimated.
    #[must_use]
    pub const fn spreads(&self) -> Spreads {
        self.spreads
    }
}

fn check(rows: &[Vec<Duplicates>], priors: NoisePriors) -> Result<(), NoNoise> {
    let width = rows.first().map_or(0, Vec::len);
    if width == 0 {
        return Err(NoNoise::Empty);
    }
    if let Some(rater) = rows.iter().position(|it| it.len() != width) {
        return Err(NoNoise::Uneven { rater });
    }
    if priors.fit_digits() {
        Ok(())
    } else {
        Err(NoNoise::Priors)
    }
}

fn line_noises(posteriors: &[Weighed], rows: &[Vec<Duplicates>]) -> Vec<Vec<LineNoise>> {
    let cells: Vec<_> = posteriors
        .iter()
        .map(|it| (it.weight, it.posterior.scatter()))
        .collect();
    let one = |rater: usize, (line, pairs): (usize, &Duplicates)| LineNoise {
        scatter: Scatter::of(mixed(
            cells
                .iter()
                .map(|(weight, cells)| (*weight, cells[rater][line])),
        )),
        pairs: pairs.freedom(),
        measured: if pairs.freedom() >= MEASURED_PAIRS {
            Measured::OnItsOwn
        } else {
            Measured::MostlyBorrowed
        },
    };
    let row = |(rater, row): (usize, &Vec<Duplicates>)| {
        row.iter().enumerate().map(|it| one(rater, it)).collect()
    };
    rows.iter().enumerate().map(row).collect()
}

fn rater_noises(posteriors: &[Weighed], pairs: &[u32]) -> Vec<RaterNoise> {
    let raters: Vec<_> = posteriors
        .iter()
        .map(|it| (it.weight, it.posterior.raters()))
        .collect();
    let one = |(rater, pairs): (usize, &u32)| {
        let [factor, level] = [0, 1].map(|which| {
            mixed(
                raters
                    .iter()
                    .map(|(weight, it)| (*weight, it[rater][which])),
            )
        });
        RaterNoise {
            scatter: Scatter::of(level),
            log_factor: factor.0,
            log_factor_error: factor.1.sqrt(),
            pairs: *pairs,
        }
    };
    pairs.iter().enumerate().map(one).collect()
}

/// The priors with spreads in the middle, on a scale of logarithms, of those that count.
fn middle_priors(posteriors: &[Weighed]) -> NoisePriors {
    let middle = |of: fn(NoisePriors) -> Sd| {
        let log = |it: &Weighed| it.weight * of(it.posterior.priors()).get().ln();
        let mean: f64 = posteriors.iter().map(log).sum();
        Sd::new(mean.exp()).expect("a mean of spreads is a spread")
    };
    NoisePriors {
        rater: middle(|it| it.rater),
        line: middle(|it| it.line),
        own: middle(|it| it.own),
        ..posteriors[0].posterior.priors()
    }
}

/// A posterior and how much it counts; all of them together count 1.
struct Weighed {
    weight: f64,
    posterior: Posterior,
}

/// The posteriors under wider and narrower spreads of raters, lines and both, each as likely as the
/// pairs make it.
fn weighed(believed: &Posterior) -> Vec<Weighed> {
    let priors = believed.priors();
    let mut found = Vec::new();
    for (rater, one) in FACTORS {
        for (line, other) in FACTORS {
            for (own, third) in FACTORS {
                let posterior = believed.under(NoisePriors {
                    rater: times(priors.rater, rater),
                    line: times(priors.line, line),
                    own: times(priors.own, own),
                    ..priors
                });
                let weight = posterior.evidence() + (one * other * third).ln();
                found.push(Weighed { weight, posterior });
            }
        }
    }
    let most = found.iter().map(|it| it.weight).fold(f64::MIN, f64::max);
    let all: f64 = found.iter().map(|it| (it.weight - most).exp()).sum();
    for one in &mut found {
        one.weight = (one.weight - most).exp() / all;
    }
    found
}

fn times(sd: Sd, factor: f64) -> Sd {
    Sd::new(sd.get() * factor).expect("a part or a multiple of a spread is a spread")
}

/// Value and variance when each of several counts with its weight: the mean of the variances, and the
/// variance of the values.
fn mixed(parts: impl Iterator<Item = (f64, (f64, f64))> + Clone) -> (f64, f64) {
    let value: f64 = parts.clone().map(|(weight, it)| weight * it.0).sum();
    let variance = parts.map(|(weight, it)| weight * (it.1 + (it.0 - value).powi(2)));
    (value, variance.sum())
}

#[cfg(test)]
mod tests {
    use crate::statistics::near::near;

    use super::*;

    fn pairs(squares: f64, freedom: u32) -> Duplicates {
        Duplicates::new(squares, freedom).unwrap()
    }

    fn hierarchy(rows: &[Vec<Duplicates>]) -> NoiseHierarchy {
        NoiseHierarchy::of(rows, NoisePriors::DEFAULT).unwrap()
    }

    #[test]
    fn opinions_that_differ_are_less_sure_than_each() {
        // By hand: means 0 and 2, each counting half: mean 1, variance (1 + 3)/2 + 1.
        let parts = [(0.5, (0.0, 1.0)), (0.5, (2.0, 3.0))];
        assert_eq!(mixed(parts.into_iter()), (1.0, 3.0));
    }

    #[test]
    fn before_the_first_pair_everything_is_as_believed() {
        // By hand: 0.4² + 0.3² + 0.25² + 0.2² = 0.3525 for a line, 0.4² + 0.3² = 0.25 for a rater.
        let found = hierarchy(&vec![vec![Duplicates::NONE; 3]; 2]);
        let line = found.line(1, 2).unwrap();
        near(line.scatter.sd(), 0.9, 1e-9);
        near(line.scatter.log_error, 0.3525_f64.sqrt(), 1e-9);
        assert_eq!((line.pairs, line.measured), (0, Measured::MostlyBorrowed));
        let rater = found.rater(0).unwrap();
        near(rater.scatter.log_error, 0.5, 1e-9);
        near(rater.log_factor, 0.0, 1e-12);
        near(rater.log_factor_error, 0.3, 1e-9);
        assert_eq!(found.spreads(), Spreads::Believed);
        assert_eq!(found.priors(), NoisePriors::DEFAULT);
    }

    #[test]
    fn pairs_that_all_agree_are_legal_and_make_scatter_small_but_not_nothing() {
        let found = hierarchy(&[vec![pairs(0.0, 20), pairs(0.0, 1)]]);
        let [many, one] = [0, 1].map(|it| found.line(0, it).unwrap());
        assert!(many.scatter.sd() > 0.1 && many.scatter.sd() < one.scatter.sd());
        assert!(one.scatter.sd() < 0.9 && one.scatter.interval().low > 0.0);
        assert_eq!(many.measured, Measured::OnItsOwn);
        assert_eq!(one.measured, Measured::MostlyBorrowed);
    }

    #[test]
    fn many_pairs_are_believed_and_few_are_drawn_to_the_others() {
        // σ² + 1/12 = 4 says σ = 1.979; with 400 pairs the standard error of ln σ is near 1/√800.
        let found = hierarchy(&[vec![pairs(1_600.0, 400), pairs(0.5, 1)]]);
        let many = found.line(0, 0).unwrap().scatter;
        near(many.sd(), (4.0 - 1.0_f64 / 12.0).sqrt(), 0.05);
        near(many.log_error, 800.0_f64.sqrt().recip(), 0.002);
        let few = found.line(0, 1).unwrap().scatter;
        assert!(few.sd() > 1.0, "{few:?}");
    }

    #[test]
    fn spreads_are_estimated_from_three_raters_with_four_pairs_each() {
        let row = |total: u32| vec![pairs(f64::from(total), total), Duplicates::NONE];
        let two = hierarchy(&[row(4), row(4), row(3)]);
        assert_eq!(two.spreads(), Spreads::Believed);
        let three = hierarchy(&[row(4), row(4), row(4)]);
        assert_eq!(three.spreads(), Spreads::Estimated);
    }

    #[test]
    fn raters_far_apart_widen_their_spread_and_equal_ones_narrow_it() {
        let panel = |variances: [f64; 6]| -> Vec<Vec<Duplicates>> {
            let row = |it| vec![pairs(50.0 * it, 50); 10];
            variances.map(row).to_vec()
        };
        let apart = hierarchy(&panel([0.2, 0.2, 0.5, 2.0, 6.0, 9.0])).priors();
        let alike = hierarchy(&panel([1.0; 6])).priors();
        let rater = NoisePriors::DEFAULT.rater;
        assert!(
            apart.rater > rater && rater > alike.rater,
            "{apart:?} {alike:?}"
        );
        assert!(alike.own < NoisePriors::DEFAULT.own, "{alike:?}");
    }

    #[test]
    fn a_rater_is_larger_by_a_factor_and_raters_exchanged_exchange_their_answers() {
        let rows = [
            vec![pairs(4.0, 4); 5],
            vec![pairs(16.0, 4); 5],
            vec![pairs(4.0, 4); 5],
        ];
        let found = hierarchy(&rows);
        let factors = [0, 1, 2].map(|it| found.rater(it).unwrap().log_factor);
        assert!(factors[1] > 0.2 && factors[0] < 0.0, "{factors:?}");
        near(factors[0], factors[2], 1e-9);
        let [first, second, third] = rows;
        let turned = hierarchy(&[second, first, third]);
        near(turned.rater(0).unwrap().log_factor, factors[1], 1e-9);
        assert_eq!(found.rater(0).unwrap().pairs, 20);
    }

    #[test]
    fn what_cannot_be_arranged_is_refused_with_the_reason() {
        let refused = |rows: &[Vec<Duplicates>]| NoiseHierarchy::of(rows, NoisePriors::DEFAULT);
        assert_eq!(refused(&[]), Err(NoNoise::Empty));
        assert_eq!(refused(&[vec![]]), Err(NoNoise::Empty));
        let uneven = [vec![Duplicates::NONE], vec![Duplicates::NONE; 2]];
        assert_eq!(refused(&uneven), Err(NoNoise::Uneven { rater: 1 }));
        let wide = NoisePriors {
            rater: Sd::new(1e9).unwrap(),
            ..NoisePriors::DEFAULT
        };
        let found = NoiseHierarchy::of(&[vec![Duplicates::NONE]], wide);
        assert_eq!(found, Err(NoNoise::Priors));
        assert_eq!(hierarchy(&[vec![Duplicates::NONE]]).line(0, 1), None);
        assert_eq!(hierarchy(&[vec![Duplicates::NONE]]).rater(1), None);
    }
}
