//! The table: a row a measurement, a column a history, and what a row is held to.

use std::process::ExitCode;

use crate::Extent;
use crate::Kitchen;

/// What a row is held to.
#[derive(Clone, Copy)]
pub(crate) enum Bound {
    /// Nothing: it stands beside another row.
    Beside,
    /// At most this, whatever the history; held to by an optimised program alone.
    Most(f64),
    /// At most so many times a floor, which is an optimised program; held to by another such alone. Below
    /// [`LEAST_FLOOR`] the start of the shell and what a report reckons weigh more than reading.
    Ratio(f64),
    /// At least this.
    Least(f64),
    /// The largest history takes at most so many times as long as the smallest.
    Growth(f64),
    /// From one history to any larger one it grows at most so many times as much as the tastings.
    Along(f64),
}

/// The least floor that says something of a report, milliseconds: a judgement. The start of the shell, which is taken
/// off, was measured at 1.4 ms where both cores were idle and at 8 ms, from 2 to 20, where they were not: a floor of that
/// size is mostly noise. And what a report reckons whatever there is to read, more than 10 ms side by side, is no reading.
const LEAST_FLOOR: f64 = 20.0;

/// The table as it grows.
pub(crate) struct Table {
    pub(crate) extent: Extent,
    tastings: Vec<f64>,
    failed: Vec<String>,
}

impl Table {
    pub(crate) fn new(extent: Extent, kitchens: &[Kitchen]) -> Self {
        let columns = kitchens
            .iter()
            .map(|it| format!("{:>9}", it.extent.tastings));
        println!("{:<40}{}", "tastings", columns.collect::<String>());
        let batches = kitchens
            .iter()
            .map(|it| format!("{:>9}", it.extent.batches));
        println!("{:<40}{}", "batches", batches.collect::<String>());
        Self {
            extent,
            tastings: kitchens
                .iter()
                .map(|it| f64::from(it.extent.tastings))
                .collect(),
            failed: Vec::new(),
        }
    }

    /// Prints a row and holds it to its bounds.
    pub(crate) fn row(&mut self, what: &str, values: &[f64], bounds: &[Bound]) {
        self.row_partly_held(what, values, values, bounds);
    }

    /// Prints how many times a floor each time is, and holds to `most` those whose floor is large enough.
    pub(crate) fn ratios(&mut self, what: &str, times: &[f64], floors: &[f64], most: f64) {
        let both = times.iter().zip(floors);
        // In a short history reading may take less than the start of the shell varies.
        let ratio = |(own, floor): (&f64, &f64)| if *floor > 0.0 { own / floor } else { f64::NAN };
        let ratios: Vec<f64> = both.clone().map(ratio).collect();
        let held = both.filter(|it| *it.1 >= LEAST_FLOOR);
        let held: Vec<f64> = held.map(|(own, floor)| own / floor).collect();
        self.row_partly_held(what, &ratios, &held, &[Bound::Ratio(most)]);
    }

    fn row_partly_held(&mut self, what: &str, values: &[f64], held: &[f64], bounds: &[Bound]) {
        let cells: Vec<String> = values
            .iter()
            .map(|it| format!("{:>9}", shown(*it)))
            .collect();
        let cells = cells.concat();
        let told: Vec<String> = bounds
            .iter()
            .filter_map(|it| self.words(*it, values))
            .collect();
        println!("{what:<40}{cells}  {}", told.join(", "));
        for bound in bounds {
            if !self.holds(*bound, held) {
                self.failed.push(what.to_owned());
            }
        }
    }

    fn holds(&self, bound: Bound, values: &[f64]) -> bool {
        match bound {
            Bound::Beside => true,
            Bound::Most(most) | Bound::Ratio(most) => {
                self.extent == Extent::Short || values.iter().all(|it| *it <= most)
            }
            Bound::Least(least) => values.iter().all(|it| *it >= least),
            Bound::Growth(most) => growth(values) <= most,
            Bound::Along(most) => self.along(values) <= most,
        }
    }

    /// How many times as much as the tastings these values grow, between the two histories where it is most.
    fn along(&self, values: &[f64]) -> f64 {
        let both = || values.iter().zip(&self.tastings);
        let pairs = both().enumerate().flat_map(|(place, small)| {
            let larger = both().skip(place + 1);
            larger.map(move |large| (large.0 / small.0) / (large.1 / small.1))
        });
        pairs.fold(0.0, f64::max)
    }

    fn words(&self, bound: Bound, values: &[f64]) -> Option<String> {
        Some(match bound {
            Bound::Beside => return None,
            Bound::Most(most) => format!("at most {most}"),
            Bound::Ratio(most) => format!("at most {most} from {LEAST_FLOOR} ms on"),
            Bound::Least(least) => format!("at least {least}"),
            Bound::Growth(most) => format!("grows {:.2} times, at most {most}", growth(values)),
            Bound::Along(most) => {
                format!(
                    "grows {:.2} times as tastings do, at most {most}",
                    self.along(values)
                )
            }
        })
    }

    /// Says what was beyond its bound.
    pub(crate) fn conclude(self) -> ExitCode {
        if self.failed.is_empty() {
            return ExitCode::SUCCESS;
        }
        println!("\nbeyond their bounds: {}", self.failed.join("; "));
        ExitCode::FAILURE
    }
}

fn growth(values: &[f64]) -> f64 {
    values[values.len() - 1] / values[0]
}

fn shown(value: f64) -> String {
    if value.is_nan() {
        "–".to_owned()
    } else if value >= 100.0 {
        format!("{value:.0}")
    } else {
        format!("{value:.2}")
    }
}
