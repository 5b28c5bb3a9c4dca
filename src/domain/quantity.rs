//! Amounts with their units: numbers that cannot be swapped and cannot be absurd.

use crate::domain::Invalid;

/// Declares quantities: name, what a message calls it, unit with leading space, lowest and highest.
macro_rules! quantities {
    ($($(#[$doc:meta])* $name:ident = $what:literal, $unit:literal, $low:literal ..= $high:literal;)+) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            /// The lowest amount allowed.
            pub const LOW: f64 = $low;
            /// The highest amount allowed.
            pub const HIGH: f64 = $high;
            /// The unit, with its leading space.
            pub const UNIT: &'static str = $unit;

            /// Makes the quantity of a number in its unit.
            ///
            /// # Errors
            /// Not a number, or outside the range that makes sense.
            pub fn new(number: f64) -> Result<Self, Invalid> {
                if (Self::LOW..=Self::HIGH).contains(&number) {
                    Ok(Self(number))
                } else {
                    Err(Invalid::OutOfRange {
                        what: $what,
                        found: number,
                        low: Self::LOW,
                        high: Self::HIGH,
                        unit: Self::UNIT,
                    })
                }
            }

            /// The number in its unit.
            #[must_use]
            pub const fn get(self) -> f64 {
                self.0
            }
        }
    )+};
}

quantities! {
    /// Mass in grams: from a pinch of salt to a sack of malt.
    Grams = "an amount", " g", 0.01 ..= 100_000.0;
    /// Volume in litres of a batch.
    Litres = "a volume", " L", 0.1 ..= 1_000.0;
    /// Colour in EBC units, of malt or of beer.
    Ebc = "a colour", " EBC", 0.0 ..= 2_000.0;
    /// Temperature in degrees Celsius.
    Celsius = "a temperature", " °C", -5.0 ..= 110.0;
    /// Time in minutes.
    Minutes = "a time", " min", 0.0 ..= 1_440.0;
    /// Time in days.
    Days = "a number of days", " days", 0.0 ..= 3_650.0;
    /// A share in per cent.
    Percent = "a share", " %", 0.0 ..= 100.0;
    /// Concentration of an ion in milligrams per litre.
    MilligramsPerLitre = "a concentration", " mg/L", 0.0 ..= 2_000.0;
    /// What one gram of a salt gives to one litre of an ion, in milligrams.
    MilligramsPerGram = "an ion content", " mg/g", 0.0 ..= 1_000.0;
    /// What a kilogram costs, in the brewer's own currency.
    PricePerKilogram = "a price", " per kg", 0.0 ..= 100_000.0;
    /// Carbon dioxide in volumes (litres of gas at 0 °C and 1 atm per litre of beer).
    Volumes = "a carbonation", " vol", 0.0 ..= 8.0;
    /// Specific gravity at 20/20 °C.
    Gravity = "a specific gravity", "", 0.98 ..= 1.2;
    /// Acidity as pH.
    Acidity = "a pH", "", 2.0 ..= 12.0;
    /// Yeast pitched, million cells in a millilitre of wort.
    CellDensity = "a pitching rate", " million/mL", 0.1 ..= 200.0;
    /// The risk of a wrong conclusion.
    Risk = "a risk", "", 0.000_1 ..= 0.5;
    /// A share of people.
    Share = "a share of people", "", 0.01 ..= 1.0;
    /// What goes into one glass, in millilitres.
    Millilitres = "a pour", " mL", 5.0 ..= 500.0;
    /// Alcohol by volume in per cent.
    Abv = "an alcohol content", " % vol", 0.0 ..= 20.0;
}

/// A low, a usual and a high value of something that varies, in that order.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    low: f64,
    usual: f64,
    high: f64,
}

impl Spread {
    /// Makes a spread.
    ///
    /// # Errors
    /// The three are not finite numbers in rising order between `least` and `most`.
    pub fn new(
        what: &'static str,
        [low, usual, high]: [f64; 3],
        least: f64,
        most: f64,
    ) -> Result<Self, Invalid> {
        for found in [low, usual, high] {
            if !(least..=most).contains(&found) {
                return Err(Invalid::OutOfRange {
                    what,
                    found,
                    low: least,
                    high: most,
                    unit: "",
                });
            }
        }
        if low <= usual && usual <= high {
            Ok(Self { low, usual, high })
        } else {
            Err(Invalid::Unreadable {
                what,
                found: format!("[{low}, {usual}, {high}]"),
                example: "[low, usual, high] in rising order",
            })
        }
    }

    /// The low end.
    #[must_use]
    pub const fn low(self) -> f64 {
        self.low
    }

    /// The usual value.
    #[must_use]
    pub const fn usual(self) -> f64 {
        self.usual
    }

    /// The high end.
    #[must_use]
    pub const fn high(self) -> f64 {
        self.high
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nonsense_is_no_amount() {
        for bad in [f64::NAN, f64::INFINITY, -1.0, 0.0, 1e308] {
            assert!(Grams::new(bad).is_err(), "{bad}");
        }
        assert_eq!(Grams::new(12.5).map(Grams::get), Ok(12.5));
    }

    #[test]
    fn a_spread_rises() {
        assert!(Spread::new("alpha", [3.0, 2.0, 4.0], 0.0, 30.0).is_err());
        assert!(Spread::new("alpha", [2.0, 3.0, 4.0], 0.0, 30.0).is_ok());
    }
}
