//! Exact sizes of blind tests beside those of scipy, and the analysis of answers.

use std::fmt::Write as _;
use std::hint::black_box;

use thirdglass::discrimination::Aim;
use thirdglass::discrimination::Alpha;
use thirdglass::discrimination::Beta;
use thirdglass::discrimination::Effect;
use thirdglass::discrimination::METHODS;
use thirdglass::discrimination::Method;
use thirdglass::discrimination::Pd;
use thirdglass::discrimination::Ways;
use thirdglass::discrimination::analyse;
use thirdglass::discrimination::sizes;
use thirdglass::statistics::Count;

use crate::clockwork::middle;
use crate::shell::by_python;
use crate::table::Bound;
use crate::table::Table;

/// What 750 exact sizes may take, milliseconds.
const MOST_SIZES: f64 = 50.0;
/// What one analysis may take, milliseconds: a key's answer on the screen.
const MOST_ANALYSIS: f64 = 16.0;
/// The same by scipy takes at least so many times as long.
const LEAST_TIMES: f64 = 50.0;

/// The risks of printed tables.
const RISKS: [f64; 5] = [0.2, 0.1, 0.05, 0.01, 0.001];
/// The proportions of discriminators of printed tables.
const EFFECTS: [f64; 5] = [0.1, 0.2, 0.3, 0.4, 0.5];

/// The first number with enough power, for every row of `asked`: the chance of a guess, the risk of one end, the other
/// risk, the share at the effect. All numbers of a test are tried at once, four times as many each time.
const BY_SCIPY: &str = "
import time
import numpy as np
from scipy.stats import binom
begun = time.perf_counter()
sizes = []
for guess, alpha, beta, right in asked:
    longest = 64
    while True:
        n = np.arange(1, longest + 1)
        last = binom.isf(alpha, n, guess)
        enough = binom.sf(last, n, right) >= 1 - beta - 1e-12
        if enough.any():
            sizes.append(int(n[enough.argmax()]))
            break
        longest *= 4
print(1e3 * (time.perf_counter() - begun))
print(*sizes)
";

/// Measures both.
pub(crate) fn measure(table: &mut Table) {
    let asked: Vec<(&Method, Aim)> = METHODS
        .iter()
        .flat_map(|method| aims().into_iter().map(|aim| (*method, aim)))
        .collect();
    assert_eq!(asked.len(), 750, "not every size is looked for");
    let mut found = Vec::new();
    let own = middle(21, || {
        let first = |(method, aim): &(&Method, Aim)| {
            let sizes = sizes(method, black_box(*aim)).expect("a tenth is found");
            sizes.first.trials
        };
        found = asked.iter().map(first).collect();
    });
    let told = by_python(&format!("asked = [{}]\n{BY_SCIPY}", rows(&asked)));
    let (time, sizes) = told.split_once('\n').expect("two lines are printed");
    let time: f64 = time.trim().parse().expect("a time is a number");
    let sizes: Vec<u32> = sizes
        .split_whitespace()
        .filter_map(|it| it.parse().ok())
        .collect();
    assert_eq!(found, sizes, "the sizes are not those of scipy");
    table.row("750 exact sizes, ms", &[own], &[Bound::Most(MOST_SIZES)]);
    table.row("the same by scipy, ms", &[time], &[Bound::Beside]);
    table.row("scipy / own", &[time / own], &[Bound::Least(LEAST_TIMES)]);
    analyses(table, asked[62].1);
}

/// The analysis of 24 answers by the slowest method, and of eight tasters with four answers each.
fn analyses(table: &mut Table, aim: Aim) {
    let one = |taster: u32| Count::new(u32::from(taster < 13), 1).expect("one of one");
    let tasters: Vec<Count> = (0..24).map(one).collect();
    let times = METHODS.iter().map(|method| {
        middle(21, || {
            black_box(analyse(method, black_box(&tasters), aim));
        })
    });
    let slowest = times.fold(0.0, f64::max);
    table.row(
        "analysis of a blind test, ms",
        &[slowest],
        &[Bound::Most(MOST_ANALYSIS)],
    );
    let replicated = [Count::new(2, 4).expect("two of four"); 8];
    let time = middle(21, || {
        black_box(analyse(METHODS[0], black_box(&replicated), aim));
    });
    table.row(
        "analysis of replicates, ms",
        &[time],
        &[Bound::Most(MOST_ANALYSIS)],
    );
}

/// What scipy is asked.
fn rows(asked: &[(&Method, Aim)]) -> String {
    let mut rows = String::new();
    for (method, aim) in asked {
        let ends = if method.ways == Ways::Either {
            2.0
        } else {
            1.0
        };
        let guess = method.guess().get();
        let Effect::Pd(pd) = aim.effect else {
            panic!("printed tables go by proportions");
        };
        let right = guess + pd.get() * (1.0 - guess);
        let (alpha, beta) = (aim.alpha.get() / ends, aim.beta.get());
        write!(rows, "({guess},{alpha},{beta},{right}),").expect("a text takes what is written");
    }
    rows
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
