//! Where a function of one number crosses zero.

/// A number between `low` and `high` where `of` crosses zero, to the last digits of a float.
///
/// Inverse quadratic interpolation where it is safe and halving where it is not (Chandrupatla 1997,
/// Adv. Eng. Software 28:145-149). A function with the same sign at both ends crosses nowhere between
/// them; then the end that is nearer to zero is given.
#[must_use]
pub fn root(low: f64, high: f64, of: impl Fn(f64) -> f64) -> f64 {
    let mut newest = (low, of(low));
    let mut other = (high, of(high));
    if newest.1 * other.1 > 0.0 {
        return nearer(newest, other).0;
    }
    let mut share = 0.5;
    loop {
        let at = newest.0 + share * (other.0 - newest.0);
        let here = (at, of(at));
        let before = if (here.1 > 0.0) == (newest.1 > 0.0) {
            newest
        } else {
            let before = other;
            other = newest;
            before
        };
        newest = here;
        let best = nearer(newest, other);
        let tolerance = 2.0 * f64::EPSILON * best.0.abs() + f64::MIN_POSITIVE;
        // Without end where both have met.
        let least = tolerance / (other.0 - newest.0).abs();
        if least > 0.5 || best.1 == 0.0 {
            return best.0;
        }
        share = next_share(newest, other, before).clamp(least, 1.0 - least);
    }
}

fn nearer(one: (f64, f64), other: (f64, f64)) -> (f64, f64) {
    if one.1.abs() <= other.1.abs() {
        one
    } else {
        other
    }
}

/// How far from the newest point to the other one the next look is.
fn next_share(newest: (f64, f64), other: (f64, f64), before: (f64, f64)) -> f64 {
    let ((x1, f1), (x2, f2), (x3, f3)) = (newest, other, before);
    let along = (x1 - x2) / (x3 - x2);
    let up = (f1 - f2) / (f3 - f2);
    if up * up < along && (1.0 - up) * (1.0 - up) < 1.0 - along {
        f1 / (f2 - f1) * f3 / (f2 - f3) + (x3 - x1) / (x2 - x1) * f1 / (f3 - f1) * f2 / (f3 - f2)
    } else {
        0.5
    }
}

#[cfg(test)]
mod tests {
    use std::cell::Cell;

    use super::*;

    #[test]
    fn roots_known_beforehand_are_found_to_the_last_digits() {
        let found = root(0.0, 2.0, |x| x * x - 2.0);
        assert!((found - std::f64::consts::SQRT_2).abs() < 1e-15, "{found}");
        let found = root(0.0, 4.0, f64::cos);
        assert!(
            (found - std::f64::consts::FRAC_PI_2).abs() < 1e-15,
            "{found}"
        );
        // From a steep end and from a flat one: e^x = 10^-20 and x^9 = 10^-9.
        let found = root(-100.0, 0.0, |x| x.exp() - 1e-20);
        assert!(
            (found + 20.0 * std::f64::consts::LN_10).abs() < 1e-13,
            "{found}"
        );
        let found = root(-1.0, 5.0, |x| x.powi(9) - 1e-9);
        assert!((found - 0.1).abs() < 1e-15, "{found}");
    }

    #[test]
    fn few_looks_are_enough() {
        let looks = Cell::new(0);
        let _ = root(0.0, 3.0, |x: f64| {
            looks.set(looks.get() + 1);
            x.exp() - 2.0
        });
        assert!(looks.get() < 20, "{looks:?}");
    }

    #[test]
    fn without_a_crossing_the_end_nearer_to_zero_is_given() {
        assert!((root(1.0, 2.0, |x| x) - 1.0).abs() < f64::EPSILON);
        assert!((root(1.0, 2.0, |x| x - 3.0) - 2.0).abs() < f64::EPSILON);
        assert!((root(0.0, 2.0, |x| x)).abs() < f64::EPSILON);
    }
}
