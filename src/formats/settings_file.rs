//! The settings file: every key with what holds where it is left out.

use crate::domain::Colours;
use crate::domain::Grams;
use crate::domain::Invalid;
use crate::domain::Millilitres;
use crate::domain::Settings;
use crate::domain::SheetSize;
use crate::domain::Signs;
use crate::formats::entry::Entry;
use crate::formats::problem::Problem;
use crate::formats::problem::ProblemKind;
use crate::formats::proof::Proof;
use crate::formats::quantity_text::MASS;
use crate::formats::quantity_text::VOLUME;
use crate::formats::section::Section;

/// A settings file with every key, its default and a comment.
pub const SETTINGS_EXAMPLE: &str = include_str!("example_settings.toml");

/// Reads a whole settings file; `file` is what messages call the text.
///
/// # Errors
/// Every problem of the text by line and column: keys that are not known, values that are none.
#[cfg(test)]
pub(crate) fn read_settings(file: &str, text: &str) -> Result<Settings, Vec<Problem>> {
    let (settings, problems) = readable_settings(file, text);
    if problems.is_empty() {
        Ok(settings)
    } else {
        Err(problems)
    }
}

/// What can be read of a settings file, with the usual in the place of the rest, and every problem of it.
#[must_use]
pub fn readable_settings(file: &str, text: &str) -> (Settings, Vec<Problem>) {
    let proof = Proof::new(file, text);
    let table = proof.parse();
    let root = Section::new(&proof, &table, 0);
    let usual = Settings::default();
    let pour = |key: &'static str, usual: Millilitres| {
        let found = root
            .entry(key)
            .and_then(|it| it.quantity(&VOLUME, millilitres));
        found.unwrap_or(usual)
    };
    let settings = Settings {
        standard_drink: root
            .entry("standard-drink")
            .and_then(|it| it.quantity(&MASS, drink))
            .unwrap_or(usual.standard_drink),
        paper: chosen(&root, "paper", SheetSize::from_id).unwrap_or(usual.paper),
        blind_glass: pour("blind-glass", usual.blind_glass),
        panel_glass: pour("panel-glass", usual.panel_glass),
        colours: chosen(&root, "colours", Colours::from_id).unwrap_or(usual.colours),
        signs: chosen(&root, "signs", Signs::from_id).unwrap_or(usual.signs),
    };
    root.close();
    let problems = proof.conclude(Some(())).err().unwrap_or_default();
    (settings, problems)
}

/// Grams of a standard drink; countries name 8 to 20 (Kalinowski and Humphreys 2016), and a little more is let pass.
fn drink(grams: f64) -> Result<Grams, Invalid> {
    if (5.0..=30.0).contains(&grams) {
        return Grams::new(grams);
    }
    Err(Invalid::OutOfRange {
        what: "a standard drink",
        found: grams,
        low: 5.0,
        high: 30.0,
        unit: "g",
    })
}

/// Litres as a pour, to the thousandth of a millilitre; the bounds are those of a glass, not of a brew.
fn millilitres(litres: f64) -> Result<Millilitres, Invalid> {
    Millilitres::new((1e6 * litres).round() / 1e3)
}

fn chosen<T>(
    root: &Section<'_>,
    key: &'static str,
    read: impl Fn(&str) -> Result<T, Invalid>,
) -> Option<T> {
    let entry: Entry<'_> = root.entry(key)?;
    let text = entry.text()?;
    entry.settle(read(text).map_err(ProblemKind::from))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_example_says_what_holds_without_a_file_and_names_every_key() {
        assert_eq!(
            read_settings("s", SETTINGS_EXAMPLE),
            Ok(Settings::default())
        );
        assert_eq!(read_settings("s", ""), Ok(Settings::default()));
        let keys = SETTINGS_EXAMPLE.lines().filter(|it| it.contains(" = "));
        // As many keys as the settings have fields.
        let fields = format!("{:?}", Settings::default()).matches(": ").count();
        assert_eq!(keys.count(), fields);
    }

    #[test]
    fn what_can_be_read_holds_beside_a_line_that_cannot() {
        let text = "paper = \"letter\"\nstandard-drink = \"10 oz\"\n";
        let (settings, problems) = readable_settings("s", text);
        assert_eq!(settings.paper, SheetSize::Letter);
        assert_eq!(settings.standard_drink, Settings::default().standard_drink);
        let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
        // 10 × 28.349523125 g (the avoirdupois ounce, exact by the agreement of 1959).
        assert!(
            told.len() == 1 && told[0].contains("found 283.5g"),
            "{told:?}"
        );
    }

    #[test]
    fn other_values_are_taken_and_all_slips_told_at_once() {
        let text = "standard-drink = \"14 g\"\npaper = \"letter\"\nblind-glass = \"1 floz\"\nsigns = \"ascii\"";
        let settings = read_settings("s", &text.replace("1 floz", "25 mL")).unwrap();
        assert_eq!(settings.standard_drink, Grams::new(14.0).unwrap());
        assert_eq!(
            (settings.paper, settings.signs),
            (SheetSize::Letter, Signs::Ascii)
        );
        assert_eq!(settings.blind_glass, Millilitres::new(25.0).unwrap());
        let slips =
            "papper = \"a4\"\ncolours = \"many\"\nstandard-drink = \"1 kg\"\npanel-glass = 60";
        let told: Vec<String> = read_settings("s", slips)
            .unwrap_err()
            .iter()
            .map(ToString::to_string)
            .collect();
        assert_eq!(told.len(), 4, "{told:?}");
        assert!(
            told.iter().any(|it| it.contains("did you mean “paper”")),
            "{told:?}"
        );
    }
}
