//! The files that ship inside the program are valid under the program's own readers.

use std::fmt::Display;

use thirdglass::domain::Wheel;
use thirdglass::formats::read_catalogue;
use thirdglass::formats::read_wheel;
use thirdglass::storage::builtin_ingredient_files;
use thirdglass::storage::builtin_wheel_files;

/// What was read, or every problem on a line of its own.
fn clean<T, P: Display>(read: Result<T, Vec<P>>) -> T {
    read.unwrap_or_else(|problems| {
        let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
        panic!("{} problems:\n{}", lines.len(), lines.join("\n"));
    })
}

fn wheel() -> Wheel {
    clean(read_wheel(builtin_wheel_files()))
}

#[test]
fn the_wheel_is_valid_and_no_shelf_or_place_stands_nearly_empty() {
    // The counts are the ones that the wheel was laid out with; a word alone on a shelf leads nobody.
    let wheel = wheel();
    assert!(wheel.places().len() >= 13, "{}", wheel.places().len());
    assert!(wheel.shelves().len() >= 50, "{}", wheel.shelves().len());
    let words = wheel.descriptors().len();
    assert!(words >= 200, "{words}");
    for shelf in wheel.shelves() {
        let words = wheel.descriptors().iter();
        let count = words.filter(|it| it.shelf == shelf.id).count();
        assert!(count >= 3, "{} has {count} words", shelf.name);
    }
    for place in wheel.places() {
        let shelves = wheel.shelves().iter();
        let count = shelves.filter(|it| it.place == place.id).count();
        assert!(count >= 3, "{} has {count} shelves", place.name);
    }
}

#[test]
fn the_ingredients_are_valid_and_enough_to_begin_with() {
    let catalogue = clean(read_catalogue(builtin_ingredient_files()));
    let count = catalogue.fermentables().len()
        + catalogue.hops().len()
        + catalogue.yeasts().len()
        + catalogue.others().len();
    assert!(count >= 60, "{count}");
}
