//! The two risks of a blind test.

use crate::discrimination::Refused;

/// The smallest risk that may be asked for.
const LEAST: f64 = 1e-6;

/// The largest: beyond it a coin decides better.
const MOST: f64 = 0.5;

/// The risk of calling two beers different that are the same: from 0.000001 to 0.5.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Alpha(f64);

/// The risk of missing a difference of the size that matters: from 0.000001 to 0.5.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Beta(f64);

fn risk(what: &'static str, value: f64) -> Result<f64, Refused> {
    if (LEAST..=MOST).contains(&value) {
        return Ok(value);
    }
    Err(Refused::OutOfRange {
        what,
        found: value,
        low: LEAST,
        high: MOST,
    })
}

impl Alpha {
    /// The risk `value`.
    ///
    /// # Errors
    /// It does not lie from 0.000001 to 0.5.
    pub fn new(value: f64) -> Result<Self, Refused> {
        risk("alpha, the risk of a false difference,", value).map(Self)
    }

    /// The risk, 0.000001 to 0.5.
    #[must_use]
    pub const fn get(self) -> f64 {
        self.0
    }
}

impl Beta {
    /// The risk `value`.
    ///
    /// # Errors
    /// It does not lie from 0.000001 to 0.5.
    pub fn new(value: f64) -> Result<Self, Refused> {
        risk("beta, the risk of a missed difference,", value).map(Self)
    }

    /// The risk, 0.000001 to 0.5.
    #[must_use]
    pub const fn get(self) -> f64 {
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_risk_lies_between_almost_never_and_a_coin() {
        for bad in [0.0, -0.1, 0.51, 5.0, f64::NAN] {
            let told = Alpha::new(bad).unwrap_err().to_string();
            assert!(told.starts_with("alpha, the risk of a false difference, was given as"));
            assert!(Beta::new(bad).is_err(), "{bad}");
        }
        assert!((Alpha::new(0.05).unwrap().get() - 0.05).abs() < f64::EPSILON);
        assert!((Beta::new(0.2).unwrap().get() - 0.2).abs() < f64::EPSILON);
    }
}
