//! A recipe as an open standard tells it: names as they stand there, amounts in our units, and what looked odd.

use crate::formats::beyond::Beyond;

/// A stand whose temperature nobody states, °C (common practice), and its minutes.
pub(in crate::formats) const STAND: (f64, f64) = (80.0, 20.0);
/// Days of a dry hop that nobody states (common practice).
pub(in crate::formats) const DRY_DAYS: f64 = 3.0;
/// Minutes of a day.
pub(in crate::formats) const DAY: f64 = 1_440.0;

/// What sort of ingredient a name belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ForeignKind {
    /// Malt, grain, sugar, honey, extract, fruit.
    Fermentable,
    /// A hop.
    Hop,
    /// A yeast.
    Yeast,
    /// Anything else.
    Other,
}

/// A fermentable.
#[derive(Debug, Clone, PartialEq)]
pub struct ForeignFermentable {
    /// Its name there.
    pub name: String,
    /// The family it is nearest to, as a recipe of ours declares one.
    pub family: &'static str,
    /// Grams.
    pub grams: f64,
    /// Extract as it lies in the bag, % by weight.
    pub extract: Option<f64>,
    /// Colour with its unit, such as `2 Lovibond`.
    pub colour: Option<String>,
}

/// When a hop goes in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ForeignHopTime {
    /// Minutes of boil.
    Boil(f64),
    /// A stand.
    Whirlpool {
        /// °C.
        celsius: f64,
        /// Where it cools on the way: to how many °C.
        cools_to: Option<f64>,
        /// How long.
        minutes: f64,
    },
    /// Days in the fermenter.
    Dry(f64),
}

/// A hop charge.
#[derive(Debug, Clone, PartialEq)]
pub struct ForeignHop {
    /// Its name there.
    pub name: String,
    /// Grams.
    pub grams: f64,
    /// Alpha acids, %.
    pub alpha: Option<f64>,
    /// When.
    pub when: ForeignHopTime,
}

/// A yeast.
#[derive(Debug, Clone, PartialEq)]
pub struct ForeignYeast {
    /// Its name there.
    pub name: String,
    /// Apparent attenuation, %.
    pub attenuation: Option<f64>,
}

/// Another addition.
#[derive(Debug, Clone, PartialEq)]
pub struct ForeignOther {
    /// Its name there.
    pub name: String,
    /// The kind it is nearest to, as a recipe of ours declares one.
    pub kind: &'static str,
    /// Grams.
    pub grams: f64,
    /// When, in words.
    pub when: Option<String>,
}

/// Figures that the file states, held against what is computed.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ForeignFigures {
    /// Original gravity, specific gravity.
    pub original: Option<f64>,
    /// Final gravity.
    pub end: Option<f64>,
    /// Bitterness, IBU.
    pub bitterness: Option<f64>,
}

/// What a zero means where an amount is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Zeros {
    /// That nobody knows: files of other programs fill in what the standard asks for.
    #[default]
    Unknown,
    /// None of it: the file was written from a recipe of ours.
    Stated,
}

/// A recipe of another standard. Numbers are as they were read; only what is made of them is checked.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ForeignRecipe {
    /// Its name.
    pub name: String,
    /// Litres into the fermenter.
    pub litres: Option<f64>,
    /// Brewhouse efficiency, %.
    pub efficiency: Option<f64>,
    /// Minutes of boil.
    pub boil: Option<f64>,
    /// The main rest: °C and minutes.
    pub mash: Option<(f64, Option<f64>)>,
    /// Malt, grain, sugar and the like.
    pub fermentables: Vec<ForeignFermentable>,
    /// Hops.
    pub hops: Vec<ForeignHop>,
    /// Yeasts; ours takes one.
    pub yeasts: Vec<ForeignYeast>,
    /// Fermentation temperature, °C.
    pub fermentation: Option<f64>,
    /// Everything else.
    pub others: Vec<ForeignOther>,
    /// Ions of the water by our names, mg/L.
    pub water: Vec<(&'static str, f64)>,
    /// Volumes of carbon dioxide.
    pub carbonation: Option<f64>,
    /// What the file states itself.
    pub stated: ForeignFigures,
    /// What its zeros mean.
    pub zeros: Zeros,
    /// What the notes keep of a recipe of ours that the standard has no place for.
    pub beyond: Vec<Beyond>,
    /// What was assumed, left out or mended, each with its place.
    pub remarks: Vec<String>,
}

impl ForeignRecipe {
    /// Tells something that was assumed, left out or mended.
    pub(in crate::formats) fn remark(&mut self, text: String) {
        self.remarks.push(text);
    }

    /// True if a number says something.
    pub(in crate::formats) fn says(&self, number: f64) -> bool {
        number > 0.0 || (number == 0.0 && self.zeros == Zeros::Stated)
    }

    /// The name of the ingredient at a place such as `hop 2`.
    pub(in crate::formats) fn name_at(&self, place: &str) -> Option<&str> {
        let at = place_number(place).unwrap_or(0);
        match place.split(' ').next()? {
            "fermentable" => self.fermentables.get(at).map(|it| it.name.as_str()),
            "hop" => self.hops.get(at).map(|it| it.name.as_str()),
            "yeast" => self.yeasts.get(at).map(|it| it.name.as_str()),
            "other" => self.others.get(at).map(|it| it.name.as_str()),
            _ => None,
        }
    }

    /// True if the notes declare an ingredient of this kind and name.
    pub(in crate::formats) fn declares(&self, kind: ForeignKind, name: &str) -> bool {
        let table = match kind {
            ForeignKind::Fermentable => "declare.fermentable ",
            ForeignKind::Hop => "declare.hop ",
            ForeignKind::Yeast => "declare.yeast ",
            ForeignKind::Other => "declare.other ",
        };
        let mut all = self.beyond.iter();
        all.any(|it| {
            it.place.starts_with(table) && it.key == "name" && it.text().as_deref() == Some(name)
        })
    }

    /// Tells which yeasts are left out: a recipe of ours has one.
    pub(in crate::formats) fn tell_other_yeasts(&mut self) {
        let left = self.yeasts.iter().skip(1).map(|it| it.name.as_str());
        let left: Vec<&str> = left.collect();
        if !left.is_empty() {
            let left = left.join(", ");
            self.remark(format!("left out, only one yeast is kept: {left}"));
        }
    }
}

/// Where in its list a place such as `hop 2` stands, counted from 0.
pub(in crate::formats) fn place_number(place: &str) -> Option<usize> {
    let (_, number) = place.split_once(' ')?;
    number.parse::<usize>().ok()?.checked_sub(1)
}

/// Points a pound of plain sugar gives to a gallon: the anchor of a potential (ASBC tables of extract).
const POINTS_OF_SUGAR: f64 = 46.17;

/// Extract in % from a potential in specific gravity. Files are found that write 1037 for 1.037: `Some` of a mended
/// number comes with true.
#[must_use]
pub(in crate::formats) fn extract_of_potential(potential: f64) -> Option<(f64, bool)> {
    let is_thousandfold = potential > 2.0;
    let gravity = if is_thousandfold {
        potential / 1_000.0
    } else {
        potential
    };
    let extract = (gravity - 1.0) * 1_000.0 / POINTS_OF_SUGAR * 100.0;
    (0.0..=100.0)
        .contains(&extract)
        .then_some((extract, is_thousandfold))
}
