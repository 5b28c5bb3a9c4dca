//! Amounts written so that they are read back as exactly the number they were.

use crate::domain::Celsius;
use crate::domain::Grams;
use crate::domain::HopTime;
use crate::formats::edit_problem::EditProblem;
use crate::formats::quantity_text::DAYS;
use crate::formats::quantity_text::MASS;
use crate::formats::quantity_text::Measured;
use crate::formats::quantity_text::TEMPERATURE;
use crate::formats::quantity_text::TIME;
use crate::formats::quantity_text::split_number;

/// The most decimals of an amount in kilograms: whole grams.
const KILO_DECIMALS: usize = 3;

/// A number with its base unit.
///
/// # Errors
/// The readers of recipes take no such number.
pub(crate) fn exact(measured: &Measured, number: f64, unit: &str) -> Result<String, EditProblem> {
    let text = format!("{number} {unit}");
    if measured.read(&text) == Ok(number) {
        Ok(text)
    } else {
        Err(EditProblem::Unwritable { text })
    }
}

/// An amount, in kilograms where the text it replaces is and whole grams can be said so, else in grams.
///
/// # Errors
/// The readers of recipes take no such amount.
pub(crate) fn mass(old: Option<&str>, amount: Grams) -> Result<String, EditProblem> {
    let grams = amount.get();
    let in_kilograms = old.map_or(grams >= 1_000.0, is_in_kilograms);
    let kilograms = format!("{}", grams / 1_000.0);
    let decimals = kilograms.split_once('.').map_or(0, |it| it.1.len());
    let text = format!("{kilograms} kg");
    if in_kilograms && decimals <= KILO_DECIMALS && MASS.read(&text) == Ok(grams) {
        return Ok(text);
    }
    exact(&MASS, grams, "g")
}

fn is_in_kilograms(text: &str) -> bool {
    let (_, unit) = split_number(text.trim());
    unit.to_ascii_lowercase().starts_with('k') && !unit.contains(|it: char| it.is_ascii_digit())
}

/// When a hop goes in: its key and what stands under it.
///
/// # Errors
/// The readers of recipes take no such time or temperature.
pub(crate) fn hop_time(when: HopTime) -> Result<(&'static str, String), EditProblem> {
    let celsius = |it: Celsius| exact(&TEMPERATURE, it.get(), "°C");
    Ok(match when {
        HopTime::Boil(time) => ("boil", exact(&TIME, time.get(), "min")?),
        HopTime::Whirlpool {
            temperature,
            cools_to,
            time,
        } => {
            let mut text = celsius(temperature)?;
            if let Some(cools_to) = cools_to {
                text = format!("{text} to {}", celsius(cools_to)?);
            }
            let time = exact(&TIME, time.get(), "min")?;
            ("whirlpool", format!("{text} for {time}"))
        }
        HopTime::Dry { days, temperature } => {
            let mut text = exact(&DAYS, days.get(), "days")?;
            if let Some(temperature) = temperature {
                text = format!("{text} at {}", celsius(temperature)?);
            }
            ("dry", text)
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Days;
    use crate::domain::Minutes;
    use crate::formats::hop_text::read_dry;
    use crate::formats::hop_text::read_whirlpool;

    fn mass_of(old: Option<&str>, grams: f64) -> String {
        mass(old, Grams::new(grams).unwrap()).unwrap()
    }

    #[test]
    fn kilograms_stay_kilograms_where_whole_grams_can_be_said_so() {
        assert_eq!(mass_of(Some("1.1 kg"), 950.0), "0.95 kg");
        assert_eq!(mass_of(Some("1.1kg"), 1_234.0), "1.234 kg");
        assert_eq!(mass_of(Some("1.1 kg"), 1_234.5), "1234.5 g");
        assert_eq!(mass_of(Some("950 g"), 1_200.0), "1200 g");
        assert_eq!(mass_of(Some("1 kg 50 g"), 900.0), "900 g");
        assert_eq!(mass_of(Some("2 lb"), 900.0), "900 g");
        assert_eq!(mass_of(None, 1_200.0), "1.2 kg");
        assert_eq!(mass_of(None, 0.1), "0.1 g");
    }

    #[test]
    fn a_number_that_no_reader_takes_is_not_written() {
        assert!(exact(&DAYS, 1e-9, "days").is_err());
        assert!(exact(&TEMPERATURE, -5.0, "°C").is_ok());
    }

    #[test]
    fn times_of_hops_read_back_as_they_were() {
        let celsius = |it| Celsius::new(it).unwrap();
        let dry = HopTime::Dry {
            days: Days::new(3.5).unwrap(),
            temperature: Some(celsius(18.3)),
        };
        assert_eq!(hop_time(dry).unwrap().1, "3.5 days at 18.3 °C");
        assert_eq!(read_dry(&hop_time(dry).unwrap().1), Ok(dry));
        let stand = HopTime::Whirlpool {
            temperature: celsius(95.0),
            cools_to: Some(celsius(80.0)),
            time: Minutes::new(20.0).unwrap(),
        };
        assert_eq!(hop_time(stand).unwrap().1, "95 °C to 80 °C for 20 min");
        assert_eq!(read_whirlpool(&hop_time(stand).unwrap().1), Ok(stand));
    }
}
