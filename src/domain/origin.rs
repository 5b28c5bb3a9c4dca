//! Where a flavour may come from in a beer, what makes it, and in which beers it is welcome.

use crate::domain::choice::choices;

choices! {
    /// What a flavour may come from.
    Origin ("where a flavour comes from") {
        /// Grain and its kilning.
        Malt = "malt", "malt";
        /// Hops.
        Hop = "hop", "hop";
        /// The yeast that was pitched.
        Yeast = "yeast", "yeast";
        /// Water and its salts.
        Water = "water", "water";
        /// How it was brewed.
        Process = "process", "how it was brewed";
        /// Time, warmth, light and air.
        Age = "age", "age";
        /// Something that was not pitched.
        Contamination = "contamination", "contamination";
        /// Fruit, spice, wood, smoke.
        Addition = "addition", "an addition";
    }

    /// A kind of beer, by trade words.
    BeerKind ("a kind of beer") {
        /// Pale lager.
        PaleLager = "pale-lager", "pale lager";
        /// Dark lager.
        DarkLager = "dark-lager", "dark lager";
        /// Pale ale.
        PaleAle = "pale-ale", "pale ale";
        /// Hoppy ale.
        HoppyAle = "hoppy-ale", "hoppy ale";
        /// Amber ale.
        AmberAle = "amber-ale", "amber ale";
        /// Brown ale.
        BrownAle = "brown-ale", "brown ale";
        /// Stout and porter.
        Stout = "stout", "stout and porter";
        /// Wheat beer.
        WheatBeer = "wheat-beer", "wheat beer";
        /// Saison.
        Saison = "saison", "saison";
        /// Abbey ale.
        AbbeyAle = "abbey-ale", "abbey ale";
        /// Sour beer.
        Sour = "sour", "sour beer";
        /// Smoked beer.
        Smoked = "smoked", "smoked beer";
        /// Strong ale.
        StrongAle = "strong-ale", "strong ale";
        /// Spiced beer.
        Spiced = "spiced", "spiced beer";
    }
}

/// A substance that smells of a word.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Compound {
    /// What it is called.
    pub name: String,
    /// From which amount on it is noticed, with where that is published, where it is known.
    pub threshold: Option<(String, String)>,
}

/// How usual a cause is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CauseWeight {
    /// A rare one.
    Rare,
    /// A frequent one.
    Frequent,
    /// The usual one.
    Usual,
}

/// Where a word may come from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cause {
    /// From what.
    pub origin: Origin,
    /// From what exactly.
    pub what: String,
    /// How usual that is.
    pub weight: CauseWeight,
    /// Under which condition.
    pub when: Option<String>,
}

/// In which beers a word is welcome; of all others it depends.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Standing {
    /// Where it is welcome.
    pub welcome: Vec<BeerKind>,
    /// Where a little of it is tolerated.
    pub tolerated: Vec<BeerKind>,
    /// Where it is a fault.
    pub fault: Vec<BeerKind>,
}

impl Standing {
    /// True where nothing is said.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.welcome.is_empty() && self.tolerated.is_empty() && self.fault.is_empty()
    }

    /// The first kind that stands in two of the lists.
    #[must_use]
    pub fn double(&self) -> Option<BeerKind> {
        let all: Vec<BeerKind> = [&self.welcome, &self.tolerated, &self.fault]
            .into_iter()
            .flatten()
            .copied()
            .collect();
        let twice = |it: &&BeerKind| all.iter().filter(|other| other == it).count() > 1;
        all.iter().find(twice).copied()
    }
}
