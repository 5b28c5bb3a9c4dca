//! The most likely scatter of every rater on every line, found by Newton's method, and how sure it is.

use crate::statistics::Duplicates;
use crate::statistics::NoisePriors;
use crate::statistics::Sd;
use crate::statistics::cholesky::Cholesky;
use crate::statistics::scatter_likelihood::Bend;
use crate::statistics::scatter_likelihood::log_likelihood;

/// Newton's method has arrived when no logarithm moves by more than this: the next step would be about its
/// square.
const ARRIVED: f64 = 1e-6;

/// A step no longer than this leads up: the slopes hardly bend on so short a way.
const LONG_STEP: f64 = 0.1;

/// Steps after which it stops in any case; it takes about six.
const MOST_STEPS: u32 = 100;

/// What the pairs of one rater on one line say.
#[derive(Debug, Clone, Copy)]
struct Cell {
    rater: usize,
    line: usize,
    pairs: Duplicates,
}

/// Effects under which the pairs are looked at.
#[derive(Debug, Clone)]
struct Effects {
    overall: f64,
    raters: Vec<f64>,
    lines: Vec<f64>,
    /// c of each cell with a pair; without one it is 0.
    own: Vec<f64>,
}

/// The posterior of all effects.
#[derive(Debug, Clone)]
pub(in crate::statistics) struct Posterior {
    priors: NoisePriors,
    cells: Vec<Cell>,
    /// At the mode.
    effects: Effects,
    /// At the mean: ln σ has the longer tail upwards.
    means: Effects,
}

/// The equations for a step, with c of every cell and b of every line taken out.
struct Reduced {
    /// Their precisions given the others, by line.
    lines: Vec<f64>,
    /// How each line hangs together with μ and the raters, line by line.
    coupling: Vec<f64>,
    /// The right side of each line.
    right_lines: Vec<f64>,
    /// What is left for μ and the raters.
    rest: Cholesky,
    right: Vec<f64>,
}

fn precision(sd: Sd) -> f64 {
    1.0 / sd.squared()
}

impl Posterior {
    /// The posterior mode of what raters (rows) answered twice on lines (columns), all rows equally long.
    pub(in crate::statistics) fn of(rows: &[Vec<Duplicates>], priors: NoisePriors) -> Self {
        let mut cells = Vec::new();
        for (rater, row) in rows.iter().enumerate() {
            for (line, pairs) in row.iter().enumerate().filter(|it| it.1.freedom() > 0) {
                cells.push(Cell {
                    rater,
                    line,
                    pairs: *pairs,
                });
            }
        }
        let effects = Effects {
            overall: priors.middle,
            raters: vec![0.0; rows.len()],
            lines: vec![0.0; rows.first().map_or(0, Vec::len)],
            own: vec![0.0; cells.len()],
        };
        let mut found = Self {
            priors,
            cells,
            means: effects.clone(),
            effects,
        };
        found.climb();
        found.lean();
        found
    }

    /// The same pairs under other priors, found from here.
    pub(in crate::statistics) fn under(&self, priors: NoisePriors) -> Self {
        let mut other = Self {
            priors,
            ..self.clone()
        };
        other.climb();
        other.lean();
        other
    }

    /// The priors it was found under.
    pub(in crate::statistics) const fn priors(&self) -> NoisePriors {
        self.priors
    }

    fn log_sd(&self, effects: &Effects, at: usize) -> f64 {
        let Cell { rater, line, .. } = self.cells[at];
        effects.overall + effects.raters[rater] + effects.lines[line] + effects.own[at]
    }

    /// Newton's method; a long step is halved as long as it leads down, for it may overshoot where S is 0.
    fn climb(&mut self) {
        for _ in 0..MOST_STEPS {
            let slopes: Vec<f64> = (0..self.cells.len())
                .map(|it| self.bend(it).slope)
                .collect();
            let step = self.step(&slopes, &self.effects);
            let mut share = 1.0;
            if step.largest() > LONG_STEP {
                let height = self.height(&self.effects);
                while self.height(&self.effects.moved(&step, share)) < height && share > ARRIVED {
                    share /= 2.0;
                }
            }
            self.effects = self.effects.moved(&step, share);
            if step.largest() < ARRIVED {
                return;
            }
        }
    }

    /// From the mode to the mean, to the first order of what the third derivatives add: a step as if each
    /// cell had the slope ½·(third derivative)·(variance of its ln σ) (Tierney & Kadane 1986, J. Am. Stat.
    /// Assoc. 81:82-86, the expansion of their section 2 written out).
    fn lean(&mut self) {
        let variances = self.variances();
        let slope = |at: usize| {
            let Cell { rater, line, .. } = self.cells[at];
            self.bend(at).skew * variances[rater][line] / 2.0
        };
        let slopes: Vec<f64> = (0..self.cells.len()).map(slope).collect();
        let mut level = self.effects.moved(&self.effects, -1.0);
        level.overall = self.priors.middle;
        let step = self.step(&slopes, &level);
        self.means = self.effects.moved(&step, 1.0);
    }

    /// The logarithm of the posterior density but for what no effect changes.
    fn height(&self, effects: &Effects) -> f64 {
        let seen: f64 = (0..self.cells.len())
            .map(|at| log_likelihood(self.log_sd(effects, at), self.cells[at].pairs))
            .sum();
        let far = |values: &[f64], sd: Sd| {
            values.iter().map(|it| it * it).sum::<f64>() * precision(sd) / 2.0
        };
        let priors = self.priors;
        seen - far(&[effects.overall - priors.middle], priors.overall)
            - far(&effects.raters, priors.rater)
            - far(&effects.lines, priors.line)
            - far(&effects.own, priors.own)
    }

    fn bend(&self, at: usize) -> Bend {
        Bend::at(self.log_sd(&self.effects, at), self.cells[at].pairs)
    }

    /// The step up from `from` when cells have these slopes and bend as they do at the mode.
    fn step(&self, slopes: &[f64], from: &Effects) -> Effects {
        let reduced = self.reduced(slopes, from);
        let rest = reduced.rest.solve(&reduced.right);
        let lines: Vec<f64> = (0..reduced.lines.len())
            .map(|line| {
                let pull: f64 = reduced
                    .coupling(line)
                    .iter()
                    .zip(&rest)
                    .map(|(a, b)| a * b)
                    .sum();
                (reduced.right_lines[line] - pull) / reduced.lines[line]
            })
            .collect();
        let tied = precision(self.priors.own);
        let own = (0..self.cells.len())
            .map(|at| {
                let Cell { rater, line, .. } = self.cells[at];
                let curvature = self.bend(at).curvature;
                let others = rest[0] + rest[1 + rater] + lines[line];
                let pull = slopes[at] - tied * from.own[at] - curvature * others;
                pull / (curvature + tied)
            })
            .collect();
        Effects {
            overall: rest[0],
            raters: rest[1..].to_vec(),
            lines,
            own,
        }
    }

    /// Newton's equations: the block of c is diagonal, and so is that of b once c is out; what is left is
    /// as small as the number of raters.
    fn reduced(&self, slopes: &[f64], from: &Effects) -> Reduced {
        let Effects {
            overall,
            raters,
            lines,
            own,
        } = from;
        let priors = self.priors;
        let size = 1 + raters.len();
        let mut matrix = vec![0.0; size * size];
        let mut right = vec![(priors.middle - overall) * precision(priors.overall)];
        right.extend(raters.iter().map(|it| -it * precision(priors.rater)));
        matrix[0] = precision(priors.overall);
        for at in 1..size {
            matrix[at * size + at] = precision(priors.rater);
        }
        let tied_line = precision(priors.line);
        let mut of_lines = vec![tied_line; lines.len()];
        let mut right_lines: Vec<f64> = lines.iter().map(|it| -it * tied_line).collect();
        let mut coupling = vec![0.0; size * lines.len()];
        let tied = precision(priors.own);
        for (at, Cell { rater, line, .. }) in self.cells.iter().enumerate() {
            let curvature = self.bend(at).curvature;
            let share = tied / (curvature + tied);
            let weight = share * curvature;
            let pull = share * (slopes[at] + curvature * own[at]);
            for place in [0, 1 + rater] {
                matrix[place * size + place] += weight;
                coupling[line * size + place] += weight;
                right[place] += pull;
            }
            matrix[(1 + rater) * size] += weight;
            of_lines[*line] += weight;
            right_lines[*line] += pull;
        }
        Reduced::without_lines(matrix, right, (of_lines, coupling, right_lines))
    }

    /// The logarithm of how likely the pairs are under the priors, by Laplace's method, but for what is
    /// the same under all priors.
    pub(in crate::statistics) fn evidence(&self) -> f64 {
        let priors = self.priors;
        let tied = precision(priors.own);
        let own: f64 = (0..self.cells.len())
            .map(|at| ((self.bend(at).curvature + tied) / tied).ln())
            .sum();
        let reduced = self.precisions();
        let lines: f64 = reduced
            .lines
            .iter()
            .map(|it| (it * priors.line.squared()).ln())
            .sum();
        let raters = self.effects.raters.len() as f64 * priors.rater.squared().ln();
        let rest = reduced.rest.log_determinant() + raters + priors.overall.squared().ln();
        self.height(&self.effects) - (own + lines + rest) / 2.0
    }

    /// ln σ of each rater on each line with its variance, rater by rater.
    pub(in crate::statistics) fn scatter(&self) -> Vec<Vec<(f64, f64)>> {
        let Effects {
            overall,
            raters,
            lines,
            own,
        } = &self.means;
        let values = |rater: &f64| lines.iter().map(|line| overall + rater + line).collect();
        let mut middles: Vec<Vec<f64>> = raters.iter().map(values).collect();
        for (Cell { rater, line, .. }, own) in self.cells.iter().zip(own) {
            middles[*rater][*line] += own;
        }
        let rows = middles.into_iter().zip(self.variances());
        rows.map(|(middles, variances)| middles.into_iter().zip(variances).collect())
            .collect()
    }

    /// The variance of ln σ of each rater on each line.
    fn variances(&self) -> Vec<Vec<f64>> {
        let shared = self.precisions();
        let own = self.priors.own.squared();
        let of = |rater: usize| {
            let lines = 0..self.effects.lines.len();
            lines
                .map(|line| shared.variance(rater, line) + own)
                .collect()
        };
        let mut found: Vec<Vec<f64>> = (0..self.effects.raters.len()).map(of).collect();
        let tied = precision(self.priors.own);
        for (at, Cell { rater, line, .. }) in self.cells.iter().enumerate() {
            let stiff = self.bend(at).curvature + tied;
            let share = tied / stiff;
            let variance = &mut found[*rater][*line];
            *variance = share * share * (*variance - own) + 1.0 / stiff;
        }
        found
    }

    /// The equations at the mode, of which only the left side is wanted.
    fn precisions(&self) -> Reduced {
        self.reduced(&vec![0.0; self.cells.len()], &self.effects)
    }

    /// a of each rater with its variance, and μ + a with its own.
    pub(in crate::statistics) fn raters(&self) -> Vec<[(f64, f64); 2]> {
        let rest = self.precisions().rest;
        let size = 1 + self.means.raters.len();
        let raters = self.means.raters.iter().enumerate();
        raters
            .map(|(rater, value)| {
                let mut z = vec![0.0; size];
                z[1 + rater] = 1.0;
                let own = rest.inverse_form(&z);
                z[0] = 1.0;
                let level = self.means.overall + value;
                [(*value, own), (level, rest.inverse_form(&z))]
            })
            .collect()
    }
}

impl Effects {
    fn moved(&self, step: &Self, share: f64) -> Self {
        let sum = |from: &[f64], step: &[f64]| {
            from.iter().zip(step).map(|(a, b)| a + share * b).collect()
        };
        Self {
            overall: self.overall + share * step.overall,
            raters: sum(&self.raters, &step.raters),
            lines: sum(&self.lines, &step.lines),
            own: sum(&self.own, &step.own),
        }
    }

    fn largest(&self) -> f64 {
        let all = self.raters.iter().chain(&self.lines).chain(&self.own);
        all.fold(self.overall.abs(), |most, it| most.max(it.abs()))
    }
}

impl Reduced {
    fn without_lines(
        mut matrix: Vec<f64>,
        mut right: Vec<f64>,
        (lines, coupling, right_lines): (Vec<f64>, Vec<f64>, Vec<f64>),
    ) -> Self {
        let size = right.len();
        for (line, own) in lines.iter().enumerate() {
            let tied = &coupling[line * size..(line + 1) * size];
            for (row, one) in tied.iter().enumerate().filter(|it| *it.1 > 0.0) {
                for (column, other) in tied[..=row].iter().enumerate() {
                    matrix[row * size + column] -= one * other / own;
                }
                right[row] -= one * right_lines[line] / own;
            }
        }
        let rest = Cholesky::of(matrix, size).expect("every effect has a prior of its own");
        Self {
            lines,
            coupling,
            right_lines,
            rest,
            right,
        }
    }

    fn coupling(&self, line: usize) -> &[f64] {
        let size = self.right.len();
        &self.coupling[line * size..(line + 1) * size]
    }

    /// The variance of μ + a + b.
    fn variance(&self, rater: usize, line: usize) -> f64 {
        let own = self.lines[line];
        let mut z: Vec<f64> = self.coupling(line).iter().map(|it| -it / own).collect();
        z[0] += 1.0;
        z[1 + rater] += 1.0;
        self.rest.inverse_form(&z) + 1.0 / own
    }
}

#[cfg(test)]
mod tests {
    use crate::statistics::Dice;
    use crate::statistics::integral;
    use crate::statistics::root;

    use super::*;

    fn pairs(squares: f64, freedom: u32) -> Duplicates {
        Duplicates::new(squares, freedom).unwrap()
    }

    /// Three raters on two lines, one cell without a pair and one whose pairs all agree.
    fn some_rows() -> Vec<Vec<Duplicates>> {
        vec![
            vec![pairs(6.5, 4), pairs(0.0, 3)],
            vec![Duplicates::NONE, pairs(12.0, 5)],
            vec![pairs(1.5, 1), pairs(20.0, 9)],
        ]
    }

    /// All effects in one row, and back.
    fn flat(effects: &Effects) -> Vec<f64> {
        let all = [&effects.raters, &effects.lines, &effects.own];
        let rest = all.into_iter().flatten().copied();
        std::iter::once(effects.overall).chain(rest).collect()
    }

    fn effects(flat: &[f64], like: &Effects) -> Effects {
        let lines = 1 + like.raters.len();
        let own = lines + like.lines.len();
        Effects {
            overall: flat[0],
            raters: flat[1..lines].to_vec(),
            lines: flat[lines..own].to_vec(),
            own: flat[own..].to_vec(),
        }
    }

    /// The matrix of second derivatives at the mode by differences, its sign turned.
    fn hessian(posterior: &Posterior) -> Vec<f64> {
        let mode = flat(&posterior.effects);
        let size = mode.len();
        let step = 1e-4;
        let height = |moves: [(usize, f64); 2]| {
            let mut at = mode.clone();
            for (place, by) in moves {
                at[place] += by * step;
            }
            posterior.height(&effects(&at, &posterior.effects))
        };
        let cell = |it: usize| {
            let (row, column) = (it / size, it % size);
            let signs = [(1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)];
            let sum: f64 = signs
                .iter()
                .map(|(one, other)| one * other * height([(row, *one), (column, *other)]))
                .sum();
            -sum / (4.0 * step * step)
        };
        (0..size * size).map(cell).collect()
    }

    #[test]
    fn the_mode_is_higher_than_all_about_it() {
        let mut dice = Dice::from_seed(39);
        let found = Posterior::of(&some_rows(), NoisePriors::DEFAULT);
        let mode = flat(&found.effects);
        let top = found.height(&found.effects);
        for _ in 0..500 {
            let size = 10.0_f64.powi(-i32::try_from(dice.whole(0, 3)).unwrap());
            let near: Vec<f64> = mode.iter().map(|it| it + size * dice.normal()).collect();
            let height = found.height(&effects(&near, &found.effects));
            assert!(height < top, "{height} above {top}");
        }
    }

    #[test]
    fn blocks_taken_out_give_what_the_whole_matrix_gives() {
        // The same second derivatives by differences, as one matrix of 11 rows.
        let found = Posterior::of(&some_rows(), NoisePriors::DEFAULT);
        let size = flat(&found.effects).len();
        assert_eq!(size, 11);
        let whole = Cholesky::of(hessian(&found), size).unwrap();
        let scatter = found.scatter();
        for (at, Cell { rater, line, .. }) in found.cells.iter().enumerate() {
            let mut z = vec![0.0; size];
            for place in [0, 1 + rater, 4 + line, 6 + at] {
                z[place] = 1.0;
            }
            let expected = whole.inverse_form(&z);
            let variance = scatter[*rater][*line].1;
            assert!(
                (variance / expected - 1.0).abs() < 1e-5,
                "{variance} {expected}"
            );
        }
        for (rater, [factor, level]) in found.raters().into_iter().enumerate() {
            let mut z = vec![0.0; size];
            z[1 + rater] = 1.0;
            assert!((factor.1 / whole.inverse_form(&z) - 1.0).abs() < 1e-5);
            z[0] = 1.0;
            assert!((level.1 / whole.inverse_form(&z) - 1.0).abs() < 1e-5);
        }
    }

    #[test]
    fn evidence_is_the_height_less_half_the_bend_of_the_whole_matrix() {
        let found = Posterior::of(&some_rows(), NoisePriors::DEFAULT);
        let whole = Cholesky::of(hessian(&found), 11).unwrap();
        let priors = found.priors;
        let spreads = [
            (priors.overall, 1.0),
            (priors.rater, 3.0),
            (priors.line, 2.0),
            (priors.own, 5.0),
        ];
        let scale: f64 = spreads
            .iter()
            .map(|(sd, count)| sd.squared().ln() * count)
            .sum();
        let expected = found.height(&found.effects) - f64::midpoint(whole.log_determinant(), scale);
        assert!((found.evidence() - expected).abs() < 1e-4, "{expected}");
    }

    #[test]
    fn one_cell_alone_is_what_one_dimension_gives() {
        // A sum of independent normal effects has the sum of their variances: the mode solves slope =
        // (ln σ − ln 0.9)/0.3525, and mean and variance are areas under the density. The first-order
        // expansion is good to 0.01 and 7 %.
        let middle = 0.9_f64.ln();
        let spread = 0.16 + 0.09 + 0.0625 + 0.04;
        for (squares, freedom) in [(0.0, 4), (4.0, 4), (30.0, 4), (8.0, 10), (3.0, 1)] {
            let cell = pairs(squares, freedom);
            let found = Posterior::of(&[vec![cell]], NoisePriors::DEFAULT);
            let mode = root(-5.0, 5.0, |it| {
                Bend::at(it, cell).slope - (it - middle) / spread
            });
            assert!(
                (found.log_sd(&found.effects, 0) - mode).abs() < 1e-9,
                "{mode}"
            );
            let density =
                |it: f64| (log_likelihood(it, cell) - (it - middle).powi(2) / (2.0 * spread)).exp();
            let area =
                |of: &dyn Fn(f64) -> f64| integral(-8.0, 5.0, 200, |it| of(it) * density(it));
            let mean = area(&|it| it) / area(&|_| 1.0);
            let variance = area(&|it| (it - mean).powi(2)) / area(&|_| 1.0);
            let (value, square) = found.scatter()[0][0];
            assert!((value - mean).abs() < 0.01, "{value} {mean}");
            assert!(
                (square / variance - 1.0).abs() < 0.07,
                "{square} {variance}"
            );
        }
    }

    #[test]
    fn the_hardest_table_is_climbed_too() {
        // Pairs that agree wholly beside pairs that differ by the whole scale.
        let rows = vec![
            vec![pairs(0.0, 1_000), pairs(40_500.0, 1_000)],
            vec![pairs(40.5, 1), pairs(0.0, 1)],
        ];
        for priors in [0.01, 0.2, 10.0] {
            let sd = Sd::new(priors).unwrap();
            let priors = NoisePriors {
                overall: sd,
                rater: sd,
                line: sd,
                own: sd,
                ..NoisePriors::DEFAULT
            };
            let found = Posterior::of(&rows, priors);
            let mut again = found.clone();
            again.climb();
            let moved = flat(&found.effects).into_iter().zip(flat(&again.effects));
            assert!(
                moved.into_iter().all(|(a, b)| (a - b).abs() < 1e-5),
                "{found:?}"
            );
            for (value, variance) in found.scatter().concat() {
                assert!(
                    value.is_finite() && variance > 0.0 && variance.is_finite(),
                    "{found:?}"
                );
            }
            assert!(found.evidence().is_finite());
        }
    }
}
