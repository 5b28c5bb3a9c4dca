//! What a kitchen settled for itself: sheets, pours, and how the terminal is used.

use crate::domain::Grams;
use crate::domain::Millilitres;
use crate::domain::choice::choices;

choices! {
    /// A sheet of paper.
    SheetSize ("a sheet") {
        /// 210 mm by 297 mm.
        A4 = "a4", "A4";
        /// 8½ by 11 inches.
        Letter = "letter", "US letter";
    }

    /// Which colours the app uses.
    Colours ("which colours are used") {
        /// As many as the terminal says it has.
        Auto = "auto", "as the terminal can";
        /// None.
        None = "none", "none";
    }

    /// Which signs the app draws with.
    Signs ("which signs are used") {
        /// As the language of the terminal says.
        Auto = "auto", "as the terminal can";
        /// Letters, digits and the other signs of ASCII.
        Ascii = "ascii", "plain ASCII";
    }
}

/// All settings; each has a value of its own accord.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Settings {
    /// Alcohol in a standard drink.
    pub standard_drink: Grams,
    /// What is printed on.
    pub paper: SheetSize,
    /// What is poured into a glass of a blind test.
    pub blind_glass: Millilitres,
    /// What is poured into a glass of a panel.
    pub panel_glass: Millilitres,
    /// The colours of the app.
    pub colours: Colours,
    /// The signs of the app.
    pub signs: Signs,
}

impl Default for Settings {
    fn default() -> Self {
        let valid = "a pour of a few dozen is valid";
        Self {
            // The most common standard drink of 37 countries (Kalinowski and Humphreys 2016).
            standard_drink: Grams::new(10.0).expect("ten grams are valid"),
            paper: SheetSize::A4,
            blind_glass: Millilitres::new(30.0).expect(valid),
            panel_glass: Millilitres::new(60.0).expect(valid),
            colours: Colours::Auto,
            signs: Signs::Auto,
        }
    }
}
