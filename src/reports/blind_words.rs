//! Words that the reports of blind tests share: chances, counts and the beer that is asked for.

use crate::workflow::Cost;

/// A chance as a share of a hundred or of a thousand, whichever a person can picture.
pub(super) fn times_in(chance: f64) -> String {
    if chance >= 0.995 {
        "almost always".to_owned()
    } else if chance >= 0.095 {
        format!("{:.0} times in 100", 100.0 * chance)
    } else if chance >= 0.000_95 {
        format!("{:.0} times in 1,000", 1_000.0 * chance)
    } else {
        "less than once in 1,000".to_owned()
    }
}

/// A power: rounded down, so that nothing is promised that is not reached.
pub(super) fn at_least_times(power: f64) -> String {
    format!("{:.0} times in 100", whole_percent(power))
}

/// A power in whole per cent, rounded down.
pub(super) fn at_least_percent(power: f64) -> String {
    format!("{:.0} %", whole_percent(power))
}

/// A power may fall short of a whole number by the rounding of its last digits alone.
fn whole_percent(power: f64) -> f64 {
    (100.0 * power + 1e-9).floor()
}

/// A share in per cent.
pub(super) fn percent(share: f64) -> String {
    let share = 100.0 * share;
    if share > 0.0 && share < 9.95 {
        format!("{share:.1} %")
    } else {
        format!("{share:.0} %")
    }
}

/// A number of things with the word that fits it.
pub(super) fn number_of(count: u32, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// What a test costs in beer and alcohol.
pub(super) fn cost_words(cost: Cost) -> String {
    format!(
        "{}, and {:.0} glasses with {:.1} g of alcohol for each friend who drinks all of it (at {} % vol)",
        beer_words(cost.of_each),
        cost.glasses,
        cost.grams,
        cost.abv.get()
    )
}

/// How much of either beer.
pub(super) fn beer_words([other, more]: [f64; 2]) -> String {
    if (other - more).abs() < 0.5 {
        format!("{} of each beer", litres(more))
    } else {
        format!(
            "{} of the beer expected to have more and {} of the other",
            litres(more),
            litres(other)
        )
    }
}

/// The same in a table: the beer expected to have more comes second.
pub(super) fn beer_cell([other, more]: [f64; 2]) -> String {
    if (other - more).abs() < 0.5 {
        litres(more)
    } else {
        format!("{} and {}", litres(other), litres(more))
    }
}

/// Millilitres, or litres where there are many.
pub(super) fn litres(millilitres: f64) -> String {
    if millilitres < 1_000.0 {
        format!("{millilitres:.0} mL")
    } else {
        format!("{:.2} L", millilitres / 1_000.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chances_are_told_so_that_a_person_can_picture_them() {
        assert_eq!(times_in(1248.0 / 2187.0), "57 times in 100");
        assert_eq!(times_in(99.0 / 2187.0), "45 times in 1,000");
        assert_eq!(times_in(0.000_5), "less than once in 1,000");
        assert_eq!(times_in(0.999), "almost always");
        // 15 friends in a triangle have a power of 0.79696: 80 would be a promise that is not kept.
        assert_eq!(at_least_times(0.796_96), "79 times in 100");
        assert_eq!(
            (at_least_percent(0.999_9), at_least_percent(0.57)),
            ("99 %".into(), "57 %".into())
        );
        assert_eq!(beer_words([30.0, 30.0]), "30 mL of each beer");
        assert_eq!(
            (percent(0.044), percent(0.62)),
            ("4.4 %".into(), "62 %".into())
        );
        assert_eq!(
            (litres(315.0), litres(1_350.0)),
            ("315 mL".into(), "1.35 L".into())
        );
    }
}
