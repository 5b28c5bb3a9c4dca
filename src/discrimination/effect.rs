//! How large a difference is: as a share of tasters, or as a distance.

use crate::discrimination::Refused;
use crate::statistics::Probability;

/// The largest distance: no test tells larger ones apart.
pub(in crate::discrimination) const FARTHEST: f64 = 20.0;

/// The proportion of discriminators (pd): the share of tastings in which the difference is found without
/// guessing, 0 to 1 (ISO 4120).
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Pd(Probability);

/// The distance of two beers in standard deviations of one impression (d′; ASTM E2262), 0 to 20.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct DPrime(f64);

/// The difference that is to be found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Effect {
    /// As a proportion of discriminators; means the same share in every method with the same chance.
    Pd(Pd),
    /// As a distance; means the same beers in every method.
    DPrime(DPrime),
}

impl Pd {
    /// Nobody tells them apart but by guessing.
    pub const NONE: Self = Self(Probability::ZERO);

    /// The proportion `share`.
    ///
    /// # Errors
    /// It does not lie from 0 to 1.
    pub fn new(share: f64) -> Result<Self, Refused> {
        Probability::new(share)
            .map(Self)
            .ok_or(Refused::OutOfRange {
                what: "the proportion of discriminators",
                found: share,
                low: 0.0,
                high: 1.0,
            })
    }

    /// What a formula gave, which is below 0 where fewer are right than guess right.
    pub(in crate::discrimination) fn clamped(share: f64) -> Self {
        Probability::new(share.clamp(0.0, 1.0)).map_or(Self::NONE, Self)
    }

    /// The share of people who tell the beers apart, 0 to 1.
    #[must_use]
    pub const fn get(self) -> f64 {
        self.0.get()
    }

    /// As a probability.
    #[must_use]
    pub const fn share(self) -> Probability {
        self.0
    }
}

impl DPrime {
    /// No distance.
    pub const NONE: Self = Self(0.0);

    /// The distance `value`.
    ///
    /// # Errors
    /// It does not lie from 0 to 20.
    pub fn new(value: f64) -> Result<Self, Refused> {
        if (0.0..=FARTHEST).contains(&value) {
            return Ok(Self(value));
        }
        Err(Refused::OutOfRange {
            what: "the distance d′",
            found: value,
            low: 0.0,
            high: FARTHEST,
        })
    }

    /// The distance, in standard deviations of one perception.
    #[must_use]
    pub const fn get(self) -> f64 {
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_is_a_share_and_a_distance_is_no_less_than_none() {
        assert!(Pd::new(1.0).is_ok() && Pd::new(1.01).is_err() && Pd::new(f64::NAN).is_err());
        assert!(DPrime::new(0.0).is_ok() && DPrime::new(-0.1).is_err());
        assert!(DPrime::new(f64::INFINITY).is_err());
        assert_eq!(Pd::clamped(-0.05), Pd::NONE);
    }
}
