//! How long a prediction takes: the means of every scale and shelf, and then all chances and ranges.

#![allow(clippy::print_stdout, reason = "a bench prints what it measured")]

use std::hint::black_box;
use std::time::Instant;

use thirdglass::formats::EXAMPLE;
use thirdglass::formats::read_catalogue;
use thirdglass::formats::read_recipe;
use thirdglass::formats::read_wheel;
use thirdglass::profile::Brew;
use thirdglass::profile::Drivers;
use thirdglass::profile::FamilyGifts;
use thirdglass::profile::Handled;
use thirdglass::profile::predict;
use thirdglass::storage::builtin_ingredient_files;
use thirdglass::storage::builtin_wheel_files;

/// Predictions that are timed together.
const ROUNDS: u32 = 20_000;

/// The longest a prediction of the means may take, in microseconds.
const MOST_MEANS: f64 = 50.0;
/// The longest one with all chances and ranges may take, in microseconds.
const MOST_RANGES: f64 = 20_000.0;

fn main() {
    let wheel = read_wheel(builtin_wheel_files()).expect("the wheel that is built in is sound");
    let catalogue = read_catalogue(builtin_ingredient_files(), &[], &wheel)
        .expect("the ingredients that are built in are sound");
    let recipe =
        read_recipe("example", EXAMPLE, &catalogue, &wheel).expect("the example recipe is sound");
    let families = FamilyGifts::of(&catalogue);
    let brew = Brew {
        recipe: &recipe,
        litres: recipe.volume.get(),
        fermented_at: None,
        handled: Handled::default(),
        conditions: catalogue.conditions(),
        drivers: Drivers::default(),
        families: &families,
    };
    let means = microseconds(|| {
        black_box(predict(black_box(&brew)));
    });
    let ranges = microseconds(|| {
        let prediction = predict(black_box(&brew));
        for shelf in &prediction.shelves {
            black_box((shelf.odour.named(), shelf.odour.if_named()));
        }
        for scale in &prediction.scales {
            black_box(scale.digits_range());
        }
    });
    println!("means   {means:8.1} µs  (at most {MOST_MEANS} µs)");
    println!("ranges  {ranges:8.1} µs  (at most {MOST_RANGES} µs)");
    assert!(means < MOST_MEANS, "a prediction of the means is too slow");
    assert!(ranges < MOST_RANGES, "a prediction with ranges is too slow");
}

/// The time of one round, in microseconds.
fn microseconds(mut round: impl FnMut()) -> f64 {
    let start = Instant::now();
    for _ in 0..ROUNDS {
        round();
    }
    start.elapsed().as_secs_f64() * 1e6 / f64::from(ROUNDS)
}
