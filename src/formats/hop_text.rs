//! When hops go in, as a brewer writes it: in the boil, after it, or in the fermenter.

use std::ops::RangeInclusive;

use crate::domain::Celsius;
use crate::domain::Days;
use crate::domain::HopTime;
use crate::domain::Invalid;
use crate::domain::Minutes;
use crate::formats::problem::ProblemKind;
use crate::formats::problem::shown;
use crate::formats::quantity_text::DAYS;
use crate::formats::quantity_text::TEMPERATURE;
use crate::formats::quantity_text::TIME;

/// Temperatures of wort after the boil in which hops are steeped, °C: strong wort boils at some 102,
/// and below the least they are dry hops (judgement).
const HOT_WORT: RangeInclusive<f64> = 20.0..=105.0;

/// Temperatures of a fermenter with dry hops in it, °C (judgement).
const FERMENTER: RangeInclusive<f64> = -5.0..=45.0;

/// Reads `80 °C for 20 min` or `20 min at 80 °C`; what cools is `95 °C to 80 °C for 20 min`.
///
/// # Errors
/// One of the two is missing or no such amount, or no wort stands at that temperature.
pub(crate) fn read_whirlpool(text: &str) -> Result<HopTime, ProblemKind> {
    let (temperature, time) = match split(text) {
        (first, Some((" for ", second))) => (first, second),
        (first, Some((_, second))) => (second, first),
        (_, None) => return Err(unreadable("whirlpool", text, "80 °C for 20 min")),
    };
    let (from, to) = match temperature.split_once(" to ") {
        Some((from, to)) => (from, Some(hot_wort(to)?)),
        None => (temperature, None),
    };
    let (temperature, time) = (hot_wort(from)?, Minutes::new(TIME.read(time)?)?);
    if to.is_some_and(|to| to.get() > temperature.get()) {
        return Err(unreadable("whirlpool", text, "95 °C to 80 °C for 20 min"));
    }
    Ok(HopTime::Whirlpool {
        temperature,
        cools_to: to,
        time,
    })
}

fn hot_wort(text: &str) -> Result<Celsius, ProblemKind> {
    let temperature = Celsius::new(TEMPERATURE.read(text)?)?;
    if HOT_WORT.contains(&temperature.get()) {
        return Ok(temperature);
    }
    Err(ProblemKind::Together {
        found: format!("a whirlpool at {:.1} °C", temperature.get()),
        advice: "hot wort lies between 20 and 105 °C, check number and unit",
    })
}

/// Reads `3 days`, `3 days at 18 °C` or `18 °C for 3 days`.
///
/// # Errors
/// No number of days, or a temperature that is none or that no fermenter has.
pub(crate) fn read_dry(text: &str) -> Result<HopTime, ProblemKind> {
    let (days, temperature) = match split(text) {
        (days, None) => (days, None),
        (first, Some((" for ", second))) => (second, Some(first)),
        (first, Some((_, second))) => (first, Some(second)),
    };
    let temperature = temperature
        .map(|it| Ok::<_, ProblemKind>(Celsius::new(TEMPERATURE.read(it)?)?))
        .transpose()?;
    if let Some(celsius) = temperature.map(Celsius::get)
        && !FERMENTER.contains(&celsius)
    {
        return Err(ProblemKind::Together {
            found: format!("dry hops at {celsius:.1} °C"),
            advice: "a fermenter lies between -5 and 45 °C, check number and unit",
        });
    }
    Ok(HopTime::Dry {
        days: Days::new(DAYS.read(days)?)?,
        temperature,
    })
}

fn split(text: &str) -> (&str, Option<(&'static str, &str)>) {
    for word in [" for ", " at "] {
        if let Some((first, second)) = text.split_once(word) {
            return (first, Some((word, second)));
        }
    }
    (text, None)
}

fn unreadable(what: &'static str, text: &str, example: &'static str) -> ProblemKind {
    let found = shown(text);
    Invalid::Unreadable {
        what,
        found,
        example,
    }
    .into()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_whirlpool_is_read_in_either_order() {
        let wanted = |from, to: Option<f64>| HopTime::Whirlpool {
            temperature: Celsius::new(from).unwrap(),
            cools_to: to.map(|it| Celsius::new(it).unwrap()),
            time: Minutes::new(20.0).unwrap(),
        };
        assert_eq!(read_whirlpool("80 °C for 20 min"), Ok(wanted(80.0, None)));
        assert_eq!(read_whirlpool("20 min at 80 °C"), Ok(wanted(80.0, None)));
        let cools = Ok(wanted(95.0, Some(80.0)));
        assert_eq!(read_whirlpool("95 °C to 80 °C for 20 min"), cools);
        assert_eq!(read_whirlpool("20 min at 95 °C to 80 °C"), cools);
        for bad in [
            "80 °C",
            "20 min for 80 °C",
            "hot for long",
            "",
            "80 °C to 95 °C for 20 min",
            "95 °C to warm for 20 min",
        ] {
            assert!(read_whirlpool(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn dry_hops_may_state_their_temperature() {
        let dry = |temperature: Option<f64>| HopTime::Dry {
            days: Days::new(3.0).unwrap(),
            temperature: temperature.map(|it| Celsius::new(it).unwrap()),
        };
        assert_eq!(read_dry("3 days"), Ok(dry(None)));
        assert_eq!(read_dry("3 days at 18 °C"), Ok(dry(Some(18.0))));
        assert_eq!(read_dry("18 °C for 3 days"), Ok(dry(Some(18.0))));
        assert!(read_dry("3 hours").is_err());
    }
}
