//! Invented raters of whom the scatter is known, to measure how near its estimates come and how often their ranges hold it.

use std::fmt;

use crate::statistics::Dice;
use crate::statistics::Duplicates;
use crate::statistics::NoiseHierarchy;
use crate::statistics::NoisePriors;
use crate::statistics::Scatter;
use crate::statistics::scatter_likelihood::ROUNDING;
use crate::statistics::trial_figure::Figure;
use crate::statistics::trial_figure::Mean;

/// Lines that are answered in digits.
const LINES: usize = 17;

/// An estimate within this factor of the truth is a good one.
const GOOD: f64 = 1.3;

/// Pairs that a scatter is measured by in one run.
const PAIRS_A_RUN: u32 = 4_000;

/// Whose estimates are looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whose {
    /// Those of all raters, drawn as the priors have them.
    Everybody,
    /// Those of the first, whose answers scatter less than 97.7 % of raters' do.
    Quiet,
    /// Those of the first, whose answers scatter more than 97.7 % of raters' do.
    Loud,
}

/// How estimates are made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Making {
    /// As the program does.
    AsShipped,
    /// A fault: squared differences are not halved.
    WholeSquares,
    /// A fault: pairs near the end of the scale are counted too.
    EndsKept,
    /// A fault: an error of half its size.
    HalfErrors,
}

/// A scatter at a place of the scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ScatterRow {
    /// How it was made.
    pub making: Making,
    /// σ before rounding.
    pub sd: f64,
    /// From where to where true places lie evenly.
    pub places: (f64, f64),
    /// Pairs that were left.
    pub pairs: u32,
    /// S/ν over σ² + 1/12.
    pub ratio: Figure,
}

/// One kind of panel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Panel {
    /// Raters measured together.
    pub raters: usize,
    /// Pairs of each on each line.
    pub pairs: u32,
    /// Whose estimates count.
    pub whose: Whose,
}

/// What came of one kind of panel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PanelRow {
    /// The panel.
    pub panel: Panel,
    /// How estimates were made.
    pub making: Making,
    /// How often it was played.
    pub runs: u32,
    /// Share of 95 % intervals of σ that hold it.
    pub held: Figure,
    /// Share of 95 % intervals of a rater's scatter over all lines that hold it.
    pub rater_held: Figure,
    /// Share of estimates within a factor of 1.3, from the line's own pairs alone.
    pub raw_good: Figure,
    /// Share of estimates within a factor of 1.3, all taken together.
    pub pooled_good: Figure,
    /// Mean squared error of ln σ from the line's own pairs alone.
    pub raw_loss: Figure,
    /// Mean squared error of ln σ, all taken together.
    pub pooled_loss: Figure,
}

/// Both tables.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// Whether S/ν is the variance.
    pub scatter: Vec<ScatterRow>,
    /// How good estimates are.
    pub panels: Vec<PanelRow>,
}

/// Plays everything `runs` times; the same seed gives the same table.
#[must_use]
pub fn table(runs: u32, seed: u64) -> Table {
    let mut dice = Dice::from_seed(seed);
    let mut scatter = Vec::new();
    for sd in [0.5, 0.9, 1.2, 1.6] {
        let levels = (2..=7).map(|it| (f64::from(it), f64::from(it)));
        for places in levels.chain([(2.0, 7.0), (0.0, 9.0)]) {
            scatter.push(measure(Making::AsShipped, sd, places, runs, &mut dice));
        }
    }
    let mut panels = Vec::new();
    for raters in [1, 3, 8] {
        for pairs in [1, 2, 4, 6, 8, 20] {
            for whose in [Whose::Everybody, Whose::Quiet, Whose::Loud] {
                let panel = Panel {
                    raters,
                    pairs,
                    whose,
                };
                panels.push(play(panel, Making::AsShipped, runs, &mut dice));
            }
        }
    }
    Table { scatter, panels }
}

/// What faults do; a check that lets these rows pass checks nothing.
#[must_use]
pub fn planted_faults(runs: u32, seed: u64) -> Table {
    let mut dice = Dice::from_seed(seed);
    let scatter = [
        measure(Making::WholeSquares, 0.9, (2.0, 7.0), runs, &mut dice),
        measure(Making::EndsKept, 0.9, (0.0, 9.0), runs, &mut dice),
        measure(Making::EndsKept, 1.0, (0.0, 0.0), runs, &mut dice),
    ];
    let panels = [Making::WholeSquares, Making::HalfErrors].map(|making| {
        let panel = Panel {
            raters: 8,
            pairs: 8,
            whose: Whose::Everybody,
        };
        play(panel, making, runs, &mut dice)
    });
    Table {
        scatter: scatter.to_vec(),
        panels: panels.to_vec(),
    }
}

/// Two answers to the same thing, which lies evenly between two places.
fn pair(sd: f64, places: (f64, f64), dice: &mut Dice) -> [u8; 2] {
    let place = places.0 + (places.1 - places.0) * dice.share();
    [(); 2].map(|()| {
        let answer = (place + sd * dice.normal()).round().clamp(0.0, 9.0);
        (0..9).find(|it| f64::from(*it) >= answer).unwrap_or(9)
    })
}

/// The pairs as far as they count; a pair that does not is drawn anew.
fn pairs(making: Making, sd: f64, places: (f64, f64), number: u32, dice: &mut Dice) -> Duplicates {
    let (mut squares, mut freedom) = (0.0, 0);
    while freedom < number {
        let drawn = pair(sd, places, dice);
        let counted = match making {
            Making::EndsKept => {
                let apart = f64::from(drawn[0].abs_diff(drawn[1]));
                Duplicates::new(apart * apart / 2.0, 1)
            }
            _ => Duplicates::gather(&[drawn]),
        };
        let counted = counted.expect("answers are digits");
        squares += counted.squares();
        freedom += counted.freedom();
    }
    let times = if making == Making::WholeSquares {
        2.0
    } else {
        1.0
    };
    let most = 40.5 * f64::from(freedom);
    Duplicates::new((times * squares).min(most), freedom).expect("it is a sum of squares")
}

fn measure(making: Making, sd: f64, places: (f64, f64), runs: u32, dice: &mut Dice) -> ScatterRow {
    let mut ratios = Mean::default();
    for _ in 0..runs {
        let found = pairs(making, sd, places, PAIRS_A_RUN, dice);
        let variance = found
            .variance()
            .expect("pairs were drawn until there were enough");
        ratios.add(variance / (sd * sd + ROUNDING));
    }
    ScatterRow {
        making,
        sd,
        places,
        pairs: runs * PAIRS_A_RUN,
        ratio: ratios.figure(),
    }
}

/// ln σ of every rater on every line, and of every rater over all lines.
struct Truth {
    lines: Vec<Vec<f64>>,
    raters: Vec<f64>,
}

fn truth(panel: Panel, dice: &mut Dice) -> Truth {
    let priors = NoisePriors::DEFAULT;
    let overall = priors.middle + priors.overall.get() * dice.normal();
    let lines: Vec<f64> = (0..LINES)
        .map(|_| priors.line.get() * dice.normal())
        .collect();
    let mut raters: Vec<f64> = (0..panel.raters)
        .map(|_| overall + priors.rater.get() * dice.normal())
        .collect();
    let far = 2.0 * priors.rater.get();
    match panel.whose {
        Whose::Everybody => {}
        Whose::Quiet => raters[0] = overall - far,
        Whose::Loud => raters[0] = overall + far,
    }
    let mut own = |line: &f64| line + priors.own.get() * dice.normal();
    let rows = raters
        .iter()
        .map(|rater| lines.iter().map(|line| rater + own(line)).collect());
    Truth {
        lines: rows.collect(),
        raters: raters.clone(),
    }
}

/// What is counted: in one run, or over the means of runs.
#[derive(Debug, Clone, Copy, Default)]
struct Tally {
    held: Mean,
    rater_held: Mean,
    raw_good: Mean,
    pooled_good: Mean,
    raw_loss: Mean,
    pooled_loss: Mean,
}

fn play(panel: Panel, making: Making, runs: u32, dice: &mut Dice) -> PanelRow {
    let mut tally = Tally::default();
    for _ in 0..runs {
        let truth = truth(panel, dice);
        let mut draw = |log_sd: &f64| pairs(making, log_sd.exp(), (2.0, 7.0), panel.pairs, dice);
        let answered: Vec<Vec<Duplicates>> = truth
            .lines
            .iter()
            .map(|row| row.iter().map(&mut draw).collect())
            .collect();
        tally.add(Tally::of_run(panel, making, &truth, &answered));
    }
    PanelRow {
        panel,
        making,
        runs,
        held: tally.held.figure(),
        rater_held: tally.rater_held.figure(),
        raw_good: tally.raw_good.figure(),
        pooled_good: tally.pooled_good.figure(),
        raw_loss: tally.raw_loss.figure(),
        pooled_loss: tally.pooled_loss.figure(),
    }
}

impl Tally {
    fn of_run(panel: Panel, making: Making, truth: &Truth, answered: &[Vec<Duplicates>]) -> Self {
        let found = NoiseHierarchy::of(answered, NoisePriors::DEFAULT).expect("rows are even");
        let looked_at = match panel.whose {
            Whose::Everybody => panel.raters,
            Whose::Quiet | Whose::Loud => 1,
        };
        let mut run = Self::default();
        for (rater, answered) in answered.iter().enumerate().take(looked_at) {
            for (line, truth) in truth.lines[rater].iter().enumerate() {
                let scatter = found.line(rater, line).expect("it was measured").scatter;
                run.held.add(holds(making, scatter, *truth));
                let far = scatter.log_sd - truth;
                run.pooled_good.add(good(far));
                run.pooled_loss.add(far * far);
                let far = raw(answered[line]) - truth;
                run.raw_good.add(good(far));
                run.raw_loss.add(far * far);
            }
            let scatter = found.rater(rater).expect("it was measured").scatter;
            let truth = truth.raters[rater];
            run.rater_held.add(holds(making, scatter, truth));
        }
        run
    }

    fn add(&mut self, run: Self) {
        self.held.add(run.held.mean());
        self.rater_held.add(run.rater_held.mean());
        self.raw_good.add(run.raw_good.mean());
        self.pooled_good.add(run.pooled_good.mean());
        self.raw_loss.add(run.raw_loss.mean());
        self.pooled_loss.add(run.pooled_loss.mean());
    }
}

/// 1 where the interval holds the true ln σ.
fn holds(making: Making, scatter: Scatter, truth: f64) -> f64 {
    let scatter = match making {
        Making::HalfErrors => Scatter {
            log_error: scatter.log_error / 2.0,
            ..scatter
        },
        _ => scatter,
    };
    f64::from(u8::from(scatter.interval().holds(truth.exp())))
}

/// 1 where an estimate of ln σ lies so near.
fn good(far: f64) -> f64 {
    f64::from(u8::from(far.abs() <= GOOD.ln()))
}

/// ln σ from the pairs of one rater on one line alone. S/ν − 1/12 may be 0 or less: it then counts as
/// 1/12, which is nearer to any truth of this world than what the pairs say.
fn raw(pairs: Duplicates) -> f64 {
    let variance = pairs.variance().expect("there is a pair") - ROUNDING;
    variance.max(ROUNDING).ln() / 2.0
}

impl fmt::Display for ScatterRow {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let making = format!("{:?}", self.making);
        let Self { sd, pairs, .. } = self;
        let ((low, high), Figure { value, error }) = (self.places, self.ratio);
        write!(
            f,
            "{making:<12} {sd:>4.1} {low:>4.1} {high:>4.1} {pairs:>9} {value:>8.4} {error:>8.4}",
        )
    }
}

impl fmt::Display for PanelRow {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [making, whose] = [
            format!("{:?}", self.making),
            format!("{:?}", self.panel.whose),
        ];
        let Panel { raters, pairs, .. } = self.panel;
        write!(
            f,
            "{making:<12} {whose:<9} {raters:>3} {pairs:>3} {:>6}",
            self.runs
        )?;
        for share in [self.held, self.rater_held, self.raw_good, self.pooled_good] {
            write!(
                f,
                " {:>6.1} ±{:>4.1}",
                100.0 * share.value,
                100.0 * share.error
            )?;
        }
        write!(
            f,
            " {:>7.4} {:>7.4}",
            self.raw_loss.value, self.pooled_loss.value
        )
    }
}

#[cfg(test)]
mod tests {
    use std::sync::OnceLock;

    use super::*;

    /// Runs of each row in the short form.
    const RUNS: u32 = 30;

    /// Standard errors that chance is allowed.
    const ERRORS: f64 = 4.0;

    /// The short form, played once for all tests.
    fn short() -> &'static Table {
        static SHORT: OnceLock<Table> = OnceLock::new();
        SHORT.get_or_init(|| table(RUNS, 1))
    }

    /// S/ν is σ² + 1/12 within 3 %.
    fn unbiased(row: &ScatterRow) -> bool {
        (row.ratio.value - 1.0).abs() <= 0.03 + ERRORS * row.ratio.error
    }

    /// Intervals hold the truth in 95 ± 1.5 % of cases.
    fn covers(row: &PanelRow) -> bool {
        (row.held.value - 0.95).abs() <= 0.015 + ERRORS * row.held.error
    }

    fn everybody(row: &PanelRow) -> bool {
        row.panel.whose == Whose::Everybody
    }

    #[test]
    fn pairs_in_the_open_tell_the_variance_whatever_the_scatter() {
        let table = short();
        // Evenly spread places, any scatter; and each place at the scatter believed beforehand. At one
        // place alone a small scatter is seen through the rounding, by up to a sixth too small at 2 and 7.
        let checked = |row: &&ScatterRow| row.places == (2.0, 7.0) || (row.sd - 0.9).abs() < 1e-9;
        let rows: Vec<&ScatterRow> = table.scatter.iter().filter(checked).collect();
        assert_eq!(rows.len(), 11);
        for row in rows {
            assert!(unbiased(row), "{row}");
        }
    }

    #[test]
    fn intervals_hold_the_truth_as_often_as_they_say_and_for_odd_raters_nearly_so() {
        let table = short();
        for row in &table.panels {
            if everybody(row) {
                assert!(covers(row), "{row}");
            } else {
                assert!(row.held.value >= 0.85 - ERRORS * row.held.error, "{row}");
            }
        }
        assert_eq!(table.panels.len(), 54);
    }

    #[test]
    fn what_is_taken_together_is_nearer_to_the_truth_than_what_is_not() {
        for row in &short().panels {
            assert!(row.pooled_loss.value < row.raw_loss.value, "{row}");
        }
    }

    /// Shares of estimates within a factor of 1.3 by another simulation, which did not round to digits: pairs,
    /// raw, taken together over the lines of one rater, and over those of eight.
    const GOOD_SHARES: [(u32, f64, f64, f64); 3] = [
        (4, 0.52, 0.72, 0.77),
        (8, 0.69, 0.80, 0.86),
        (20, 0.89, 0.92, 0.95),
    ];

    /// Orders of magnitude: rounding takes some points away, so that eight either way are allowed.
    fn good_as_often(row: &PanelRow) -> bool {
        let same = GOOD_SHARES.iter().find(|it| it.0 == row.panel.pairs);
        let (_, raw, one, eight) = same.expect("there are figures for so many pairs");
        let pooled = if row.panel.raters == 1 { one } else { eight };
        let near =
            |found: Figure, share: &f64| (found.value - share).abs() <= 0.08 + ERRORS * found.error;
        near(row.raw_good, raw) && near(row.pooled_good, pooled)
    }

    #[test]
    fn estimates_are_good_as_often_as_another_simulation_says() {
        let compared = |row: &&PanelRow| {
            let pairs = GOOD_SHARES.iter().any(|it| it.0 == row.panel.pairs);
            everybody(row) && pairs && row.panel.raters != 3
        };
        let rows: Vec<&PanelRow> = short().panels.iter().filter(compared).collect();
        assert_eq!(rows.len(), 6);
        for row in rows {
            assert!(good_as_often(row), "{row}");
        }
    }

    #[test]
    fn a_raters_overall_scatter_is_held_as_often_as_it_says() {
        for row in short().panels.iter().filter(|it| everybody(it)) {
            let miss = (row.rater_held.value - 0.95).abs();
            // The raters of a run may hold or miss together: as if each run were one.
            let error = (0.95 * 0.05 / f64::from(row.runs)).sqrt();
            assert!(miss <= 0.03 + ERRORS * error, "{row}");
        }
    }

    #[test]
    fn the_same_checks_refuse_planted_faults() {
        let faults = planted_faults(RUNS, 5);
        for row in &faults.scatter {
            assert!(!unbiased(row), "{row}");
        }
        for row in &faults.panels {
            assert!(!covers(row), "{row}");
        }
        assert!(!good_as_often(&faults.panels[0]), "{}", faults.panels[0]);
        assert_eq!((faults.scatter.len(), faults.panels.len()), (3, 2));
    }

    #[test]
    fn the_same_seed_gives_the_same_table() {
        assert_eq!(planted_faults(2, 6), planted_faults(2, 6));
        assert_ne!(planted_faults(2, 6), planted_faults(2, 7));
        assert_eq!(table(1, 6), table(1, 6));
    }
}
