//! The ingredients that the catalogue knows, and the catalogue itself.

use std::collections::HashSet;
use std::sync::Arc;

use thiserror::Error;

use crate::domain::Allergen;
use crate::domain::Condition;
use crate::domain::Gifts;
use crate::domain::Grain;
use crate::domain::HopOil;
use crate::domain::IngredientId;
use crate::domain::MilligramsPerGram;
use crate::domain::Spread;
use crate::domain::choice::choices;
use crate::domain::is_same_name;

choices! {
    /// Whether a material is mashed or goes in as it is.
    Goes ("how it goes in") {
        /// Through the mash; the efficiency applies.
        Mash = "mash", "mashed";
        /// Dissolved; all its extract enters.
        Dissolved = "dissolved", "dissolved";
    }

    /// What the yeast makes of its extract.
    Ferments ("how it ferments") {
        /// As the wort does: the attenuation applies.
        AsWort = "as-wort", "as the wort does";
        /// Completely.
        Wholly = "wholly", "wholly";
        /// Not at all.
        Not = "not", "not at all";
    }

    /// The families of fermentables.
    FermentableFamily ("a family of fermentables") {
        /// Pale malts that make most of a grist.
        Base = "base", "base malt";
        /// Kilned darker.
        Kilned = "kilned", "kilned malt";
        /// Stewed, then kilned.
        Crystal = "crystal", "crystal malt";
        /// Roasted.
        Roasted = "roasted", "roasted malt";
        /// Smoked.
        Smoked = "smoked", "smoked malt";
        /// Unmalted or flaked grain.
        Flaked = "flaked", "unmalted grain";
        /// Sugars and syrups.
        Sugar = "sugar", "sugar";
        /// Honey.
        Honey = "honey", "honey";
        /// Malt extract.
        Extract = "extract", "malt extract";
        /// Fruit.
        Fruit = "fruit", "fruit";
    }

    /// The kinds of other additions.
    OtherKind ("a kind of addition") {
        /// Spices.
        Spice = "spice", "spice";
        /// Peels.
        Peel = "peel", "peel";
        /// Finings.
        Finings = "finings", "finings";
        /// Brewing salts.
        Salt = "salt", "salt";
        /// Acids.
        Acid = "acid", "acid";
        /// Wood.
        Wood = "wood", "wood";
        /// Flavourings such as coffee.
        Flavouring = "flavouring", "flavouring";
        /// Fruit added for flavour.
        Fruit = "fruit", "fruit";
        /// Yeast food.
        Nutrient = "nutrient", "yeast nutrient";
    }

    /// The ions of brewing water.
    Ion ("an ion") {
        /// Calcium.
        Calcium = "calcium", "calcium";
        /// Magnesium.
        Magnesium = "magnesium", "magnesium";
        /// Sodium.
        Sodium = "sodium", "sodium";
        /// Chloride.
        Chloride = "chloride", "chloride";
        /// Sulphate.
        Sulphate = "sulphate", "sulphate";
        /// Bicarbonate.
        Bicarbonate = "bicarbonate", "bicarbonate";
    }

    /// Whether a yeast keeps eating dextrins in the bottle.
    Diastatic ("whether a yeast is diastatic") {
        /// It does not.
        No = "no", "no";
        /// It does: pressure goes on rising.
        Yes = "yes", "yes";
    }
}

impl From<bool> for Diastatic {
    fn from(does_it: bool) -> Self {
        if does_it { Self::Yes } else { Self::No }
    }
}

/// What every ingredient has. It is shared: a recipe holds each of its ingredients whole, and a cellar of recipes holds the
/// same few a thousand times.
#[derive(Debug, Clone, PartialEq)]
pub struct Identity {
    /// The permanent id.
    pub id: IngredientId,
    /// The name on screen.
    pub name: String,
    /// Other names.
    pub synonyms: Vec<String>,
    /// Where its values come from.
    pub source: String,
    /// What it brings to the shelves of the wheel.
    pub gifts: Gifts,
}

/// Malt, grain, sugar, honey, extract, fruit.
#[derive(Debug, Clone, PartialEq)]
pub struct Fermentable {
    /// Who it is.
    pub identity: Arc<Identity>,
    /// Its family.
    pub family: FermentableFamily,
    /// How it goes in.
    pub goes: Goes,
    /// As-is share of its mass that becomes extract, 0 to 1.
    pub extract: Spread,
    /// Colour in EBC units.
    pub colour: Spread,
    /// What the yeast makes of it.
    pub ferments: Ferments,
    /// What grain it is made of.
    pub grain: Grain,
    /// Allergens it brings.
    pub allergens: Vec<Allergen>,
}

/// A hop variety.
#[derive(Debug, Clone, PartialEq)]
pub struct Hop {
    /// Who it is.
    pub identity: Arc<Identity>,
    /// Alpha acids, % w/w.
    pub alpha: Spread,
    /// Its oil, where somebody analysed it.
    pub oil: Option<HopOil>,
}

/// A yeast by its character.
#[derive(Debug, Clone, PartialEq)]
pub struct Yeast {
    /// Who it is.
    pub identity: Arc<Identity>,
    /// What it does, in a sentence.
    pub character: String,
    /// Apparent attenuation, %.
    pub attenuation: Spread,
    /// The temperatures it likes, °C.
    pub temperature: Spread,
    /// Days after packaging: earliest sensible, usually ready, usually past its best.
    pub ready_days: Spread,
    /// Whether it keeps eating in the bottle.
    pub diastatic: Diastatic,
}

/// How much of an ion a salt holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct IonContent {
    /// Which ion.
    pub ion: Ion,
    /// So much of it comes from each gram that dissolves.
    pub content: MilligramsPerGram,
}

/// Anything else that goes in.
#[derive(Debug, Clone, PartialEq)]
pub struct Other {
    /// Who it is.
    pub identity: Arc<Identity>,
    /// What kind of addition.
    pub kind: OtherKind,
    /// Usual dose, g per litre of beer.
    pub usual: Spread,
    /// Allergens it brings.
    pub allergens: Vec<Allergen>,
    /// The ions that it gives to the water; none of what is no salt, or hardly dissolves.
    pub ions: Vec<IonContent>,
}

/// Two ingredients share an id.
#[derive(Debug, Clone, PartialEq, Error)]
#[error(
    "the ingredient id “{id}” is used twice; ids are permanent and unique, rename the newer one"
)]
pub struct DoubleIngredient {
    /// The id.
    pub id: IngredientId,
}

/// All ingredients that are known.
#[derive(Debug, Clone, Default)]
pub struct Catalogue {
    fermentables: Vec<Fermentable>,
    hops: Vec<Hop>,
    yeasts: Vec<Yeast>,
    others: Vec<Other>,
    conditions: Vec<Condition>,
}

impl Catalogue {
    /// Puts a catalogue together.
    ///
    /// # Errors
    /// Every id that is used twice.
    pub fn new(
        fermentables: Vec<Fermentable>,
        hops: Vec<Hop>,
        yeasts: Vec<Yeast>,
        others: Vec<Other>,
        conditions: Vec<Condition>,
    ) -> Result<Self, Vec<DoubleIngredient>> {
        let catalogue = Self {
            fermentables,
            hops,
            yeasts,
            others,
            conditions,
        };
        let mut seen = HashSet::new();
        let double: Vec<DoubleIngredient> = catalogue
            .identities()
            .filter(|it| !seen.insert(it.id.clone()))
            .map(|it| DoubleIngredient { id: it.id.clone() })
            .collect();
        if double.is_empty() {
            Ok(catalogue)
        } else {
            Err(double)
        }
    }

    /// Who all ingredients are: fermentables, hops, yeasts, other additions.
    pub fn identities(&self) -> impl Iterator<Item = &Identity> {
        let all = self.fermentables.iter().map(|it| &it.identity);
        let all = all.chain(self.hops.iter().map(|it| &it.identity));
        let all = all.chain(self.yeasts.iter().map(|it| &it.identity));
        let all = all.chain(self.others.iter().map(|it| &it.identity));
        all.map(Arc::as_ref)
    }

    /// All fermentables.
    #[must_use]
    pub fn fermentables(&self) -> &[Fermentable] {
        &self.fermentables
    }

    /// All hops.
    #[must_use]
    pub fn hops(&self) -> &[Hop] {
        &self.hops
    }

    /// All yeasts.
    #[must_use]
    pub fn yeasts(&self) -> &[Yeast] {
        &self.yeasts
    }

    /// All other additions.
    #[must_use]
    pub fn others(&self) -> &[Other] {
        &self.others
    }

    /// What becomes of a beer.
    #[must_use]
    pub fn conditions(&self) -> &[Condition] {
        &self.conditions
    }
}

impl Identity {
    /// Its name and its other names.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        let synonyms = self.synonyms.iter().map(String::as_str);
        std::iter::once(self.name.as_str()).chain(synonyms)
    }

    /// True when `text` is this ingredient's id, name or synonym, whatever the case.
    #[must_use]
    pub fn answers_to(&self, text: &str) -> bool {
        let is_asked = |it: &str| is_same_name(it, text);
        is_asked(self.id.as_str()) || self.names().any(is_asked)
    }
}
