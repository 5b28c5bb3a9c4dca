//! How long the sizes of blind tests take, and one analysis, against their budgets.

#![allow(clippy::print_stdout, reason = "a bench prints what it measured")]

use std::hint::black_box;
use std::time::Instant;

use thirdglass::discrimination::Aim;
use thirdglass::discrimination::Alpha;
use thirdglass::discrimination::Beta;
use thirdglass::discrimination::Effect;
use thirdglass::discrimination::METHODS;
use thirdglass::discrimination::Pd;
use thirdglass::discrimination::analyse;
use thirdglass::discrimination::sizes;
use thirdglass::statistics::Count;

/// Rounds of each measurement.
const ROUNDS: u32 = 20;

/// What 750 exact sizes may take, in milliseconds.
const MOST_SIZES: f64 = 50.0;

/// What one analysis may take, in milliseconds: a key's answer on the screen.
const MOST_ANALYSIS: f64 = 16.0;

/// The risks of printed tables.
const RISKS: [f64; 5] = [0.2, 0.1, 0.05, 0.01, 0.001];

/// The proportions of discriminators of printed tables.
const EFFECTS: [f64; 5] = [0.1, 0.2, 0.3, 0.4, 0.5];

fn main() {
    let aims = aims();
    let mut number = 0;
    let all_sizes = milliseconds(|| {
        number = 0;
        for method in METHODS {
            for aim in &aims {
                let found = sizes(method, black_box(*aim)).expect("a tenth is found");
                number += usize::from(black_box(found).first.trials > 0);
            }
        }
    });
    println!("{number} sizes      {all_sizes:8.2} ms  (at most {MOST_SIZES} ms)");
    let tasters: Vec<Count> = (0..24)
        .map(|taster| Count::new(u32::from(taster < 13), 1).expect("one of one"))
        .collect();
    let aim = aims[62];
    for method in METHODS {
        let analysis = milliseconds(|| {
            black_box(analyse(method, black_box(&tasters), aim));
        });
        println!(
            "{:<13}  {analysis:8.2} ms  (at most {MOST_ANALYSIS} ms)",
            method.id
        );
        assert!(analysis < MOST_ANALYSIS, "an analysis is too slow");
    }
    let replicated = [Count::new(2, 4).expect("two of four"); 8];
    let analysis = milliseconds(|| {
        black_box(analyse(METHODS[0], black_box(&replicated), aim));
    });
    println!("8 by 4 answers {analysis:8.2} ms  (at most {MOST_ANALYSIS} ms)");
    assert!(
        analysis < MOST_ANALYSIS,
        "an analysis of replicates is too slow"
    );
    assert_eq!(number, 750, "not every size was looked for");
    assert!(all_sizes < MOST_SIZES, "the sizes are too slow");
}

/// Every pair of risks with every effect.
fn aims() -> Vec<Aim> {
    let mut aims = Vec::new();
    for alpha in RISKS {
        for beta in RISKS {
            for effect in EFFECTS {
                aims.push(Aim {
                    alpha: Alpha::new(alpha).expect("a printed risk is one"),
                    beta: Beta::new(beta).expect("a printed risk is one"),
                    effect: Effect::Pd(Pd::new(effect).expect("a printed share is one")),
                });
            }
        }
    }
    aims
}

/// The time of one round, in milliseconds.
fn milliseconds(mut round: impl FnMut()) -> f64 {
    let start = Instant::now();
    for _ in 0..ROUNDS {
        round();
    }
    start.elapsed().as_secs_f64() * 1e3 / f64::from(ROUNDS)
}
