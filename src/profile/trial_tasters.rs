//! Invented tasters: how they scatter, and what is believed of it.

use crate::profile::Noise;
use crate::profile::SpreadEstimate;
use crate::profile::trial_world::Plan;
use crate::profile::trial_world::World;
use crate::statistics::Dice;
use crate::statistics::Sd;

/// Pairs of glasses by which a taster is measured, line by line, in the world of measured tasters.
const PAIRS: u32 = 20;

/// The scatter of one taster on one line, and what is believed of it.
#[derive(Debug, Clone, Copy)]
pub(in crate::profile) struct Scatter {
    /// Within a sitting, before rounding.
    pub(in crate::profile) within: f64,
    /// Between days.
    pub(in crate::profile) day: f64,
    /// What is believed of it.
    pub(in crate::profile) believed: Noise,
}

/// Each taster's scatter on each line.
pub(in crate::profile) fn scatter(plan: Plan, dice: &mut Dice) -> Vec<Vec<Scatter>> {
    if matches!(plan.world, World::KnownNoise | World::DefaultNoise) {
        let believed = if plan.world == World::KnownNoise {
            measured([0.9, 0.7], 0.0)
        } else {
            Noise::DEFAULT
        };
        let default = Scatter {
            within: 0.9,
            day: 0.7,
            believed,
        };
        return vec![vec![default; plan.lines]; plan.tasters];
    }
    // ln σ = μ + a(taster) + b(line) + c(taster and line), as the noise model has it.
    let all = 0.9_f64.ln() + 0.4 * dice.normal();
    let by_line: Vec<f64> = (0..plan.lines).map(|_| 0.25 * dice.normal()).collect();
    let mut tasters = Vec::with_capacity(plan.tasters);
    for _ in 0..plan.tasters {
        let taster = all + 0.3 * dice.normal();
        let day = 0.7 * (0.4 * dice.normal()).exp();
        let lines = by_line.iter().map(|line| {
            let within = (taster + line + 0.2 * dice.normal()).exp();
            let believed = believed(plan.world, [within, day], dice);
            Scatter {
                within,
                day,
                believed,
            }
        });
        tasters.push(lines.collect());
    }
    tasters
}

fn believed(world: World, truth: [f64; 2], dice: &mut Dice) -> Noise {
    if world == World::DrawnTasters {
        return Noise::DEFAULT;
    }
    // S/σ² of so many pairs has the χ² distribution with as many degrees of freedom.
    let found = truth.map(|sd| {
        let squares: f64 = (0..PAIRS).map(|_| dice.normal().powi(2)).sum();
        sd * (squares / f64::from(PAIRS)).sqrt()
    });
    measured(found, 1.0 / f64::from(2 * PAIRS))
}

fn measured([within, day]: [f64; 2], log_variance: f64) -> Noise {
    let estimate = |sd: f64| {
        let sd = Sd::new(sd).expect("a sum of squares is above 0");
        SpreadEstimate::measured(sd, log_variance).expect("it is a variance")
    };
    Noise::DEFAULT
        .within(estimate(within))
        .between_days(estimate(day))
}

/// The fault of taking all glasses for one evening's.
pub(in crate::profile) fn without_day(scatter: Scatter) -> Scatter {
    let sd = Sd::new(1e-6).expect("it is above 0");
    let none = SpreadEstimate::measured(sd, 0.0).expect("0 is a variance");
    Scatter {
        believed: scatter.believed.between_days(none),
        ..scatter
    }
}
