//! What is to be brewed: amounts, times, temperatures, and the picture of the beer.

use crate::domain::Allergen;
use crate::domain::Celsius;
use crate::domain::Days;
use crate::domain::Ebc;
use crate::domain::Fermentable;
use crate::domain::Grams;
use crate::domain::Hop;
use crate::domain::Intent;
use crate::domain::Litres;
use crate::domain::MilligramsPerLitre;
use crate::domain::Minutes;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::Other;
use crate::domain::Percent;
use crate::domain::Promise;
use crate::domain::RecipeVersionId;
use crate::domain::Volumes;
use crate::domain::Yeast;
use crate::domain::choice::choices;

choices! {
    /// What the beer is primed with.
    PrimingSugar ("a priming sugar") {
        /// Table sugar.
        Sucrose = "sucrose", "table sugar";
        /// Glucose without water.
        Glucose = "glucose", "glucose";
        /// Glucose with one water, the usual corn sugar.
        DextroseMonohydrate = "dextrose-monohydrate", "dextrose (monohydrate)";
    }

    /// What the beer is packaged in; it decides which pressure is safe.
    Bottle ("a bottle kind") {
        /// A light bottle made for one use.
        OneWay = "one-way", "light one-way bottle";
        /// An ordinary crown-cap beer bottle.
        Crown = "crown", "crown-cap beer bottle";
        /// A heavy reusable bottle.
        Heavy = "heavy", "heavy reusable bottle";
        /// A swing-top bottle.
        SwingTop = "swing-top", "swing-top bottle";
        /// A champagne bottle.
        Champagne = "champagne", "sparkling-wine bottle";
        /// A plastic bottle for fizzy drinks.
        Plastic = "plastic", "plastic bottle for fizzy drinks";
        /// A keg.
        Keg = "keg", "keg";
        /// Not stated.
        Unknown = "unknown", "bottle of unknown kind";
    }

    /// How hops were kept.
    HopStorage ("how hops were kept") {
        /// Frozen.
        Freezer = "freezer", "in the freezer";
        /// In the fridge.
        Fridge = "fridge", "in the fridge";
        /// At room temperature.
        Shelf = "shelf", "on the shelf";
    }
}

/// A fermentable in a recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct FermentableUse {
    /// What.
    pub fermentable: Fermentable,
    /// How much.
    pub amount: Grams,
    /// Its colour where the packet states it.
    pub colour: Option<Ebc>,
    /// Its as-is extract, % of mass, where the packet states it.
    pub extract: Option<Percent>,
}

/// When hops go in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HopTime {
    /// In the boil, with so many minutes left.
    Boil(Minutes),
    /// After the boil, at a temperature for a time.
    Whirlpool {
        /// At which temperature; at the beginning where it cools.
        temperature: Celsius,
        /// At the end; none where it is held.
        cools_to: Option<Celsius>,
        /// For how long.
        time: Minutes,
    },
    /// In the fermenter.
    Dry {
        /// For how long.
        days: Days,
        /// At which temperature, where stated.
        temperature: Option<Celsius>,
    },
}

/// A hop charge in a recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct HopUse {
    /// Which variety.
    pub hop: Hop,
    /// How much.
    pub amount: Grams,
    /// Alpha acids where the packet states them.
    pub alpha: Option<Percent>,
    /// When.
    pub when: HopTime,
    /// How old.
    pub age: Option<Days>,
    /// How kept.
    pub storage: Option<HopStorage>,
}

/// The yeast in a recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct YeastUse {
    /// Which kind.
    pub yeast: Yeast,
    /// Apparent attenuation where known.
    pub attenuation: Option<Percent>,
    /// Fermentation temperature where known.
    pub temperature: Option<Celsius>,
}

/// Another addition in a recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct OtherUse {
    /// What.
    pub other: Other,
    /// How much.
    pub amount: Grams,
    /// When, in the brewer's words.
    pub when: Option<Name>,
}

/// The mash.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Mash {
    /// Temperature of the main rest.
    pub temperature: Option<Celsius>,
    /// Its time.
    pub time: Option<Minutes>,
}

/// Ions of the brewing water.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Water {
    /// Calcium.
    pub calcium: Option<MilligramsPerLitre>,
    /// Magnesium.
    pub magnesium: Option<MilligramsPerLitre>,
    /// Sodium.
    pub sodium: Option<MilligramsPerLitre>,
    /// Chloride.
    pub chloride: Option<MilligramsPerLitre>,
    /// Sulphate.
    pub sulphate: Option<MilligramsPerLitre>,
    /// Bicarbonate.
    pub bicarbonate: Option<MilligramsPerLitre>,
}

/// How the beer is carbonated and packaged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Packaging {
    /// The carbonation aimed at.
    pub carbonation: Option<Volumes>,
    /// What it is primed with.
    pub priming: Option<PrimingSugar>,
    /// In what.
    pub bottle: Bottle,
}

/// A recipe; what the brewer did not know is absent, never a made-up number.
#[derive(Debug, Clone, PartialEq)]
pub struct Recipe {
    /// Its name.
    pub name: Name,
    /// Which version of it, in the brewer's words, such as `2`.
    pub version: Name,
    /// The version it came from, in the same words.
    pub parent: Option<Name>,
    /// Why this version was made.
    pub reason: Option<Name>,
    /// Volume into the fermenter.
    pub volume: Litres,
    /// Brewhouse efficiency.
    pub efficiency: Option<Percent>,
    /// The mash.
    pub mash: Mash,
    /// Boil time.
    pub boil: Option<Minutes>,
    /// Malt, grain, sugar, honey, extract, fruit.
    pub fermentables: Vec<FermentableUse>,
    /// Hops.
    pub hops: Vec<HopUse>,
    /// Yeast.
    pub yeast: Option<YeastUse>,
    /// Everything else.
    pub others: Vec<OtherUse>,
    /// The water.
    pub water: Water,
    /// Carbonation and bottle.
    pub packaging: Packaging,
    /// What the brewer hopes for.
    pub intent: Intent,
    /// What the packets promise.
    pub promised: Vec<Promise>,
}

impl Recipe {
    /// The allergens its ingredients bring.
    pub fn allergens(&self) -> impl Iterator<Item = Allergen> {
        let fermentables = self
            .fermentables
            .iter()
            .flat_map(|it| &it.fermentable.allergens);
        let others = self.others.iter().flat_map(|it| &it.other.allergens);
        fermentables.chain(others).copied()
    }
}

/// One version of a recipe as stored: the document as it was read, never changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RecipeVersion {
    /// The id.
    pub id: RecipeVersionId,
    /// The version it came from, where that is stored too.
    pub parent: Option<RecipeVersionId>,
    /// Why it was made.
    pub reason: Option<Name>,
    /// The name in the document.
    pub name: Name,
    /// The version in the document.
    pub version: Name,
    /// The document, letter for letter.
    pub document: String,
    /// SHA-256 of the document, in hex.
    pub hash: String,
    /// When it was stored.
    pub made_at: Moment,
}
