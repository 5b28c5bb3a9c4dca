//! What an ingredient brings to a shelf of the wheel: how much of a smell, at which dose, and how sure that is.

use crate::domain::DescriptorId;
use crate::domain::Invalid;
use crate::domain::ShelfId;
use crate::domain::choice::choices;

choices! {
    /// The part of a hop that a smell comes from; it decides what a boil leaves of it.
    HopPart ("a part of the hop") {
        /// Hydrocarbons: resin and green herb, gone with the steam.
        Resinous = "resinous", "resinous";
        /// Oxygenated oils: flowers and peel, kept in part by late additions.
        Floral = "floral", "floral";
        /// Traces of sulphur compounds: tropical fruit, grapefruit, blackcurrant.
        Thiol = "thiol", "thiol";
        /// Oxygenated sesquiterpenes: spice, wood and hay, made and kept in the boil.
        Noble = "noble", "noble";
    }

    /// What a boil does to a smell.
    Fate ("what a boil does to it") {
        /// Nothing.
        Stays = "stays", "stays";
        /// It forms in hot wort and leaves with the steam, such as sweetcorn.
        BoilsOff = "boils-off", "leaves with the steam";
    }

    /// The grain something is made of.
    Grain ("a grain") {
        /// Barley, or no grain at all.
        Barley = "barley", "barley";
        /// Wheat and spelt.
        Wheat = "wheat", "wheat";
        /// Oats.
        Oats = "oats", "oats";
        /// Rye.
        Rye = "rye", "rye";
        /// Maize, rice and other grain that thins.
        Thinning = "thinning", "maize or rice";
    }
}

/// Flavour units: concentration over threshold (odour activity value); 1 is noticed by half of all people.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct FlavourUnits(f64);

impl FlavourUnits {
    /// Makes flavour units of a number.
    ///
    /// # Errors
    /// Not a number from 0 to 10,000.
    pub fn new(number: f64) -> Result<Self, Invalid> {
        in_range("flavour units", number, 0.0, 10_000.0).map(Self)
    }

    /// How many flavour units, multiples of a threshold.
    #[must_use]
    pub const fn get(self) -> f64 {
        self.0
    }
}

/// The dose of an ingredient, grams in a litre of finished beer.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct GramsPerLitre(f64);

impl GramsPerLitre {
    /// The dose of hops that gifts are told for, g/L.
    pub const OF_GIFTS: f64 = 4.0;

    /// Makes a dose of a number.
    ///
    /// # Errors
    /// Not a number from 0.0001 to 2,000.
    pub fn new(number: f64) -> Result<Self, Invalid> {
        in_range("a dose", number, 0.0001, 2_000.0).map(Self)
    }

    /// Grams in a litre.
    #[must_use]
    pub const fn get(self) -> f64 {
        self.0
    }
}

fn in_range(what: &'static str, found: f64, low: f64, high: f64) -> Result<f64, Invalid> {
    if (low..=high).contains(&found) {
        return Ok(found);
    }
    Err(Invalid::OutOfRange {
        what,
        found,
        low,
        high,
        unit: "",
    })
}

/// How much of a gift there is, and what that hangs on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Holds {
    /// Units at a dose; they grow in proportion to it.
    AtDose {
        /// The units.
        units: FlavourUnits,
        /// The dose.
        at: GramsPerLitre,
        /// What a boil does to it.
        fate: Fate,
    },
    /// Units at a dose of hops, of one part of them.
    AtHopDose {
        /// The units.
        units: FlavourUnits,
        /// The dose.
        at: GramsPerLitre,
        /// The part.
        part: HopPart,
    },
    /// A share, 0 to 1, of the units that the oil of the hop gives of one part.
    OfOil {
        /// The share.
        share: f64,
        /// The part.
        part: HopPart,
    },
    /// Units at the usual temperature of a yeast; each 10 °C more multiply them.
    Fermented {
        /// The units.
        units: FlavourUnits,
        /// The factor for 10 °C.
        per_ten_degrees: f64,
    },
    /// Units after so much of a condition; they grow in proportion to it.
    After {
        /// The units.
        units: FlavourUnits,
        /// How much, in the unit of the condition.
        amount: f64,
    },
}

/// One thing that an ingredient brings.
#[derive(Debug, Clone, PartialEq)]
pub struct Gift {
    /// The shelf it is met on.
    pub shelf: ShelfId,
    /// Words of that shelf, the most typical first.
    pub words: Vec<DescriptorId>,
    /// How much of it.
    pub holds: Holds,
    /// The standard deviation of log10(units), beside what the make-up of an oil brings.
    pub spread: f64,
}

/// What is known of the smells an ingredient brings.
#[derive(Debug, Clone, PartialEq)]
pub enum Gifts {
    /// Known, with where that comes from; empty for what smells of nothing.
    Known {
        /// One by one.
        gifts: Vec<Gift>,
        /// Where it comes from; empty where there is none.
        source: String,
    },
    /// Not known: what its family usually brings stands in for it, with wide ranges.
    AsItsFamily,
}

impl Gifts {
    /// The known gifts; none if they are not known.
    #[must_use]
    pub fn known(&self) -> Option<&[Gift]> {
        match self {
            Self::Known { gifts, .. } => Some(gifts),
            Self::AsItsFamily => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nonsense_is_no_dose_and_no_flavour() {
        for bad in [f64::NAN, f64::INFINITY, -1.0] {
            assert!(FlavourUnits::new(bad).is_err(), "{bad}");
            assert!(GramsPerLitre::new(bad).is_err(), "{bad}");
        }
        assert!(FlavourUnits::new(0.0).is_ok());
        assert!(GramsPerLitre::new(0.0).is_err());
    }
}
