//! Amounts as people write them: a number and a unit, metric or of the United States.

use crate::domain::Invalid;
use crate::formats::problem::ProblemKind;
use crate::formats::problem::shown;

/// One unit: its names, and how a number of it becomes the base unit: `number × factor + offset`.
struct Unit {
    names: &'static [&'static str],
    factor: f64,
    offset: f64,
}

const fn unit(names: &'static [&'static str], factor: f64) -> Unit {
    let offset = 0.0;
    Unit {
        names,
        factor,
        offset,
    }
}

/// Whether a bare number says enough.
enum Bare {
    /// It stands for the base unit.
    Allowed,
    /// It says too little.
    Refused,
}

/// Something measured: its units and how a bare number is taken.
pub(crate) struct Measured {
    what: &'static str,
    units: &'static [Unit],
    bare: Bare,
    /// What a number that is not negative comes to at least: a straight line between two units
    /// may fall just below zero where there is nothing below zero.
    least: f64,
    example: &'static str,
}

/// Mass in grams. Pound and ounce are exact: international yard and pound agreement of 1959.
pub(crate) static MASS: Measured = Measured {
    what: "an amount",
    units: &[
        unit(&["g", "gram", "grams"], 1.0),
        unit(&["kg", "kilo", "kilos", "kilogram", "kilograms"], 1_000.0),
        unit(&["mg"], 0.001),
        unit(&["lb", "lbs", "pound", "pounds"], 453.592_37),
        unit(&["oz", "ounce", "ounces"], 28.349_523_125),
    ],
    bare: Bare::Refused,
    least: 0.0,
    example: "1.1 kg",
};

/// Volume in litres. The gallon of the United States is 231 cubic inches: 3.785411784 L exactly.
pub(crate) static VOLUME: Measured = Measured {
    what: "a volume",
    units: &[
        unit(&["L", "litre", "litres", "liter", "liters"], 1.0),
        unit(&["mL", "millilitre", "millilitres"], 0.001),
        unit(&["gal", "gallon", "gallons"], 3.785_411_784),
        unit(&["qt", "quart", "quarts"], 0.946_352_946),
        unit(&["pt", "pint", "pints"], 0.473_176_473),
        unit(&["floz", "fl oz"], 0.029_573_529_562_5),
    ],
    bare: Bare::Refused,
    least: 0.0,
    example: "5 L",
};

/// Temperature in degrees Celsius.
pub(crate) static TEMPERATURE: Measured = Measured {
    what: "a temperature",
    units: &[
        unit(&["°C", "C", "celsius", "degrees C"], 1.0),
        Unit {
            names: &["°F", "F", "fahrenheit", "degrees F"],
            factor: 1.0 / 1.8,
            offset: -32.0 / 1.8,
        },
    ],
    bare: Bare::Refused,
    least: f64::NEG_INFINITY,
    example: "66 °C",
};

/// Time in minutes.
pub(crate) static TIME: Measured = Measured {
    what: "a time",
    units: &[
        unit(&["min", "minute", "minutes", "mins"], 1.0),
        unit(&["h", "hour", "hours", "hr", "hrs"], 60.0),
        unit(&["s", "sec", "second", "seconds"], 1.0 / 60.0),
    ],
    bare: Bare::Refused,
    least: 0.0,
    example: "60 min",
};

/// Time in days. A month is a twelfth of 365 days, near enough for the age of hops.
pub(crate) static DAYS: Measured = Measured {
    what: "a number of days",
    units: &[
        unit(&["days", "day", "d"], 1.0),
        unit(&["weeks", "week"], 7.0),
        unit(&["months", "month"], 30.4),
        unit(&["years", "year"], 365.0),
    ],
    bare: Bare::Refused,
    least: 0.0,
    example: "3 days",
};

/// Colour in EBC units: EBC = 1.97 SRM, and of malt SRM = 1.3546 °L − 0.76 (ASBC and EBC
/// definitions at 430 nm, 12.7 and 25 times the absorbance; the Lovibond line is common practice).
pub(crate) static COLOUR: Measured = Measured {
    what: "a colour",
    units: &[
        unit(&["EBC"], 1.0),
        unit(&["SRM"], 1.97),
        Unit {
            names: &["Lovibond", "L", "°L"],
            factor: 1.3546 * 1.97,
            offset: -0.76 * 1.97,
        },
    ],
    bare: Bare::Refused,
    least: 0.0,
    example: "6 EBC",
};

/// A share in per cent.
pub(crate) static PERCENT: Measured = Measured {
    what: "a share",
    units: &[unit(&["%", "percent", "per cent"], 1.0)],
    bare: Bare::Allowed,
    least: 0.0,
    example: "79 %",
};

/// Concentration in milligrams per litre.
pub(crate) static CONCENTRATION: Measured = Measured {
    what: "a concentration",
    units: &[unit(&["mg/L", "ppm"], 1.0)],
    bare: Bare::Allowed,
    least: 0.0,
    example: "50 mg/L",
};

/// Carbon dioxide in volumes: one litre of the gas at 0 °C and 1 atm weighs 1.977 g.
pub(crate) static CARBONATION: Measured = Measured {
    what: "a carbonation",
    units: &[
        unit(&["vol", "vols", "volumes", "volume"], 1.0),
        unit(&["g/L"], 1.0 / 1.977),
    ],
    bare: Bare::Refused,
    least: 0.0,
    example: "2.4 vol",
};

/// Foam height in millimetres.
pub(crate) static HEIGHT: Measured = Measured {
    what: "a height",
    units: &[unit(&["mm"], 1.0), unit(&["cm"], 10.0)],
    bare: Bare::Allowed,
    least: 0.0,
    example: "20 mm",
};

/// Short times in seconds.
pub(crate) static SECONDS: Measured = Measured {
    what: "a time",
    units: &[
        unit(&["s", "sec", "second", "seconds"], 1.0),
        unit(&["min", "minute", "minutes"], 60.0),
    ],
    bare: Bare::Allowed,
    least: 0.0,
    example: "20 s",
};

impl Measured {
    /// Reads a text such as `1 lb 4 oz` into the base unit.
    ///
    /// # Errors
    /// No number, no unit, a unit of something else, or a number beyond reason.
    pub(crate) fn read(&self, text: &str) -> Result<f64, ProblemKind> {
        let mut rest = text.trim();
        let mut sum = 0.0;
        for part in 0.. {
            let (literal, after) = split_number(rest);
            if literal.is_empty() {
                return Err(self.unreadable(text).into());
            }
            let number = read_number(self.what, literal)?;
            let (name, next) = split_unit(after);
            let unit = self.unit(name).ok_or_else(|| self.no_unit(text))?;
            // Only amounts that start at zero can be summed: 1 h 30 min, but not 20 °C 5 °C.
            if part > 0 && (unit.offset != 0.0 || literal.starts_with(['-', '+'])) {
                return Err(self.unreadable(text).into());
            }
            let amount = number.mul_add(unit.factor, unit.offset);
            sum += if number < 0.0 {
                amount
            } else {
                amount.max(self.least)
            };
            rest = next;
            if rest.is_empty() {
                break;
            }
        }
        Ok(sum)
    }

    /// Reads a bare number.
    ///
    /// # Errors
    /// The number is beyond reason, or says too little without a unit.
    pub(crate) fn read_plain(&self, literal: &str) -> Result<f64, ProblemKind> {
        match self.bare {
            Bare::Allowed => Ok(read_number(self.what, literal)?),
            Bare::Refused => Err(self.no_unit(literal)),
        }
    }

    fn unit(&self, name: &str) -> Option<&'static Unit> {
        let base = matches!(self.bare, Bare::Allowed) && name.is_empty();
        let named = |it: &&Unit| it.names.iter().any(|have| have.eq_ignore_ascii_case(name));
        if base {
            self.units.first()
        } else {
            self.units.iter().find(named)
        }
    }

    fn unreadable(&self, text: &str) -> Invalid {
        Invalid::Unreadable {
            what: self.what,
            found: shown(text),
            example: self.example,
        }
    }

    fn no_unit(&self, text: &str) -> ProblemKind {
        let units: Vec<&str> = self.units.iter().map(|it| it.names[0]).collect();
        ProblemKind::Unit {
            what: self.what,
            found: shown(text),
            units: units.join(", "),
            example: self.example,
        }
    }
}

/// Reads a number with a decimal point that is neither endless nor beyond reason.
pub(crate) fn read_number(what: &'static str, literal: &str) -> Result<f64, Invalid> {
    /// Beyond these nothing on a brewer's table can lie.
    const REASON: std::ops::RangeInclusive<f64> = 1e-6..=1e9;
    let number = literal.parse::<f64>().ok();
    number
        .filter(|it| *it == 0.0 || REASON.contains(&it.abs()))
        .ok_or_else(|| Invalid::Unreadable {
            what,
            found: shown(literal),
            example: "1.5",
        })
}

/// The number at the beginning of a text, and what follows it.
pub(crate) fn split_number(text: &str) -> (&str, &str) {
    let signed = text.strip_prefix(['-', '+']).unwrap_or(text);
    let sign = text.len() - signed.len();
    let digits = signed
        .find(|c: char| !c.is_ascii_digit() && c != '.')
        .unwrap_or(signed.len());
    let (number, rest) = text.split_at(sign + digits);
    (number, rest.trim_start())
}

/// The unit at the beginning of a text, and what follows it: units hold no digits.
fn split_unit(text: &str) -> (&str, &str) {
    let end = text
        .find(|c: char| c.is_ascii_digit() || c == '+' || c == '-')
        .unwrap_or(text.len());
    let (unit, rest) = text.split_at(end);
    (unit.trim_end(), rest)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(measured: &Measured, text: &str, wanted: f64) {
        let found = measured.read(text).unwrap();
        assert!((found - wanted).abs() < 1e-9, "{text}: {found}");
    }

    #[test]
    fn units_of_the_united_states_follow_their_definitions() {
        // International yard and pound agreement 1959; US gallon = 231 in³ (NIST Handbook 44, appendix C).
        near(&MASS, "1 lb", 453.592_37);
        near(&MASS, "16 oz", 453.592_37);
        near(&MASS, "1 lb 4 oz", 453.592_37 * 1.25);
        near(&VOLUME, "1 gal", 3.785_411_784);
        near(&VOLUME, "128 floz", 3.785_411_784);
        near(&VOLUME, "4 qt", 3.785_411_784);
        // By definition 212 °F is the boiling point and 32 °F the freezing point.
        near(&TEMPERATURE, "212 F", 100.0);
        near(&TEMPERATURE, "32°F", 0.0);
    }

    #[test]
    fn metric_units_times_and_shares_are_read_however_spaced_or_cased() {
        near(&MASS, "1.1kg", 1_100.0);
        near(&MASS, " 12 G ", 12.0);
        near(&TIME, "1 h 30 min", 90.0);
        near(&DAYS, "10 months", 304.0);
        near(&PERCENT, "79", 79.0);
        near(&COLOUR, "10 SRM", 19.7);
        // 1.97 × (1.3546 × 2 − 0.76), worked by hand.
        near(&COLOUR, "2 L", 3.839_924);
        near(&COLOUR, "0 L", 0.0);
    }

    #[test]
    fn a_bare_number_says_which_units_would_do() {
        let problem = MASS.read("12").unwrap_err().to_string();
        assert_eq!(
            problem,
            "an amount: “12” needs one of the units g, kg, mg, lb, oz; write it like \"1.1 kg\""
        );
    }

    #[test]
    fn nonsense_is_no_amount() {
        for bad in [
            "", "kg", "nan g", "1e308 g", "1,1 kg", "1.1.1 g", "--1 g", "12 stone", "1 g 5",
        ] {
            assert!(MASS.read(bad).is_err(), "{bad}");
        }
        assert!(TEMPERATURE.read("20 °C 5 °F").is_err());
        assert!(MASS.read(&format!("{} g", "9".repeat(100_000))).is_err());
    }
}
