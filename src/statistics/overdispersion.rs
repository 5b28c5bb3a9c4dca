//! What replicates of several units say of all units and of each.

use crate::statistics::Count;
use crate::statistics::Limits;
use crate::statistics::Probability;
use crate::statistics::beta_binomial::BetaShape;
use crate::statistics::beta_binomial::GuessedCount;

/// Steps of the mean on the grid: an interval is good to a thousandth.
const MEANS: u32 = 200;

/// Steps of the correlation of two tries of one unit.
const CORRELATIONS: u32 = 50;

/// What is believed of units that hit by themselves in some tries and guess in the others.
#[derive(Debug, Clone, PartialEq)]
pub struct PopulationReading {
    /// The posterior mass of each step of the mean.
    masses: Vec<f64>,
    units: Vec<Probability>,
}

/// Reads counts of several units, each with tries of its own, by the chance-corrected beta-binomial on
/// a grid: the mean chance to hit without guessing and the correlation within units are even from 0 to 1
/// before the first answer. No maximum is sought, because it sits at an end too often.
///
/// `None` without a try.
#[must_use]
pub fn read_population(counts: &[Count], guess: Probability) -> Option<PopulationReading> {
    if counts.iter().all(|it| it.tries() == 0) {
        return None;
    }
    let distinct = distinct(counts, guess);
    let cells = grid();
    let mut masses = vec![0.0; MEANS as usize];
    let mut chances = vec![0.0; distinct.len()];
    for ((step, own), mass) in cells.iter().zip(posterior(&cells, &distinct)) {
        // Below this a cell no longer moves any sum.
        if mass < 1e-20 {
            continue;
        }
        masses[*step] += mass;
        for (sum, (unit, _)) in chances.iter_mut().zip(&distinct) {
            *sum += mass * unit.explained(*own).own;
        }
    }
    let chance = |count: &Count| {
        let place = distinct.iter().position(|(it, _)| it.count() == *count)?;
        Some(Probability::rounded(chances[place]))
    };
    let units = counts.iter().filter_map(chance).collect();
    Some(PopulationReading { masses, units })
}

/// The mass of each cell after the counts, 1 in all.
fn posterior(cells: &[(usize, BetaShape)], counts: &[(GuessedCount, f64)]) -> Vec<f64> {
    let ln_likelihood = |(_, own): &(usize, BetaShape)| -> f64 {
        let ln = |(unit, times): &(GuessedCount, f64)| times * unit.explained(*own).chance.ln();
        counts.iter().map(ln).sum()
    };
    let ln: Vec<f64> = cells.iter().map(ln_likelihood).collect();
    let most = ln.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let masses: Vec<f64> = ln.into_iter().map(|it| (it - most).exp()).collect();
    let all: f64 = masses.iter().sum();
    masses.into_iter().map(|it| it / all).collect()
}

/// Each count that occurs, and how often.
fn distinct(counts: &[Count], guess: Probability) -> Vec<(GuessedCount, f64)> {
    let mut distinct: Vec<(GuessedCount, f64)> = Vec::new();
    for count in counts {
        match distinct.iter_mut().find(|(it, _)| it.count() == *count) {
            Some((_, times)) => *times += 1.0,
            None => distinct.push((GuessedCount::new(*count, guess), 1.0)),
        }
    }
    distinct
}

/// The middles of the cells: the step of the mean, and the distribution.
fn grid() -> Vec<(usize, BetaShape)> {
    let middle = |step: u32, of: u32| (f64::from(step) + 0.5) / f64::from(of);
    (0..MEANS)
        .flat_map(|mean| (0..CORRELATIONS).map(move |correlation| (mean, correlation)))
        .filter_map(|(mean, correlation)| {
            let own = BetaShape::with_mean(middle(mean, MEANS), middle(correlation, CORRELATIONS))?;
            Some((mean as usize, own))
        })
        .collect()
}

impl PopulationReading {
    /// The mean chance to hit without guessing.
    #[must_use]
    pub fn mean(&self) -> Probability {
        let middle = |step: usize| (step as f64 + 0.5) / self.masses.len() as f64;
        let terms = self.masses.iter().enumerate();
        Probability::rounded(terms.map(|(step, mass)| mass * middle(step)).sum())
    }

    /// The value that the mean chance stays below with this probability.
    #[must_use]
    pub fn quantile(&self, p: Probability) -> Probability {
        let width = 1.0 / self.masses.len() as f64;
        let mut below = 0.0;
        for (step, mass) in self.masses.iter().enumerate() {
            if below + mass >= p.get() && *mass > 0.0 {
                let into = (p.get() - below) / mass;
                return Probability::rounded((step as f64 + into) * width);
            }
            below += mass;
        }
        Probability::ONE
    }

    /// Limits of the mean chance with `risk` in all, half of it at each end.
    #[must_use]
    pub fn limits(&self, risk: Probability) -> Limits {
        let half = Probability::rounded(risk.get() / 2.0);
        Limits {
            low: self.quantile(half),
            high: self.quantile(half.complement()),
        }
    }

    /// The probability that the mean chance is above `value`.
    #[must_use]
    pub fn above(&self, value: Probability) -> Probability {
        let place = value.get() * self.masses.len() as f64;
        let share =
            |(step, mass): (usize, &f64)| mass * (step as f64 + 1.0 - place).clamp(0.0, 1.0);
        Probability::rounded(self.masses.iter().enumerate().map(share).sum())
    }

    /// For each unit, in the order given, the mean of its own chance to hit without guessing.
    #[must_use]
    pub fn units(&self) -> &[Probability] {
        &self.units
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reading(hits: &[u32], tries: u32, guess: f64) -> PopulationReading {
        let count = |it: &u32| Count::new(*it, tries).unwrap();
        let counts: Vec<Count> = hits.iter().map(count).collect();
        read_population(&counts, Probability::new(guess).unwrap()).unwrap()
    }

    fn close(found: Probability, expected: f64) {
        assert!(
            (found.get() - expected).abs() < 0.001,
            "{found:?}, expected {expected}"
        );
    }

    #[test]
    fn readings_are_those_of_a_finer_quadrature() {
        // numpy and scipy 1.17.1: beta-binomial through betaln, Gauss-Legendre with 300 x 120 points,
        // quantiles on 2,000 steps of the mean. The grid is worth three digits.
        let twenty = [0, 1, 1, 1, 1, 1, 2, 2, 2, 2, 2, 2, 3, 3, 3, 3, 3, 4, 4, 4];
        let found = reading(&twenty, 4, 1.0 / 3.0);
        close(found.mean(), 0.314_611);
        let limits = found.limits(Probability::new(0.05).unwrap());
        close(limits.low, 0.131_150);
        close(limits.high, 0.501_804);
        close(found.quantile(Probability::new(0.95).unwrap()), 0.472_066);
        close(found.above(Probability::new(0.1).unwrap()), 0.990_390);
        for (unit, expected) in [
            (0, 0.120_696),
            (1, 0.160_685),
            (6, 0.233_719),
            (12, 0.378_529),
        ] {
            close(found.units()[unit], expected);
        }
        close(found.units()[19], 0.632_655);
        let found = reading(&[6, 6, 2, 1, 3, 2, 2, 4], 6, 0.5);
        close(found.mean(), 0.272_986);
        close(found.quantile(Probability::new(0.025).unwrap()), 0.048_278);
        close(found.quantile(Probability::new(0.975).unwrap()), 0.575_889);
        close(found.above(Probability::new(0.1).unwrap()), 0.904_684);
        close(found.units()[0], 0.828_186);
        close(found.units()[7], 0.092_783);
    }

    #[test]
    fn a_reading_is_evenly_open_before_the_first_answer() {
        let none = Count::NONE;
        assert_eq!(read_population(&[none, none], Probability::ZERO), None);
        // One right answer with chance 1/3 has the likelihood 1/3 + 2/3·m: mean (1/6 + 2/9)/(2/3).
        close(reading(&[1], 1, 1.0 / 3.0).mean(), 7.0 / 12.0);
    }
}
