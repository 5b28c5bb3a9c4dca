//! What the name of a jar's item betrays: allergens it must declare, and things that never belong in a mouth.

use crate::domain::Allergen;
use crate::domain::Jar;
use crate::domain::JarUse;

/// Words that tell of an allergen (judgement; the labels of what is bought have the last word).
const TELLING: &[(Allergen, &[&str])] = &[
    (
        Allergen::Gluten,
        &[
            "bread",
            "flour",
            "wheat",
            "barley",
            "rye",
            "oat",
            "oats",
            "malt",
            "malted",
            "biscuit",
            "biscuits",
            "cracker",
            "crackers",
            "toast",
            "porridge",
            "pretzel",
            "brioche",
            "cake",
            "pastry",
            "spelt",
            "rusk",
            "shortbread",
            "gingerbread",
            "sourdough",
        ],
    ),
    (
        Allergen::Milk,
        &[
            "milk",
            "butter",
            "cream",
            "cheese",
            "yogurt",
            "whey",
            "buttermilk",
            "custard",
        ],
    ),
    (
        Allergen::Nuts,
        &[
            "almond",
            "almonds",
            "hazelnut",
            "hazelnuts",
            "walnut",
            "walnuts",
            "pecan",
            "marzipan",
            "nougat",
            "praline",
            "pistachio",
            "cashew",
            "nuts",
        ],
    ),
    (Allergen::Peanut, &["peanut", "peanuts"]),
    (Allergen::Soy, &["soy", "miso"]),
    (Allergen::Sesame, &["sesame", "tahini"]),
    (Allergen::Mustard, &["mustard"]),
    (Allergen::Celery, &["celery", "celeriac"]),
    (Allergen::Egg, &["egg", "eggs", "mayonnaise"]),
    (Allergen::Fish, &["fish", "anchovy", "mackerel"]),
    (
        Allergen::Sulphite,
        &["wine", "vinegar", "cider", "sherry", "port"],
    ),
    (Allergen::Lupin, &["lupin"]),
];

/// What looks like a telling word and is none.
const HARMLESS: &[&str] = &["coconut milk", "walnut of", "wine gum", "wine gums"];

/// Words after which the next one is not there.
const ABSENT: &[&str] = &["without", "no"];

/// Things that are no food.
const NO_FOOD: &[&str] = &[
    "soap",
    "wax",
    "candle",
    "rubber",
    "tyre",
    "cardboard",
    "newspaper",
    "leather",
    "plaster",
    "crayon",
    "varnish",
    "polish",
    "paint",
    "glue",
    "shampoo",
    "detergent",
    "match",
    "matches",
    "firework",
    "hay",
    "straw",
    "sawdust",
    "coin",
    "coins",
    "hose",
    "plastic",
    "turpentine",
    "disinfectant",
];

impl Jar {
    /// The allergens that the name of the item betrays and the jar does not declare, each with the word.
    #[must_use]
    pub fn undeclared(&self) -> Vec<(Allergen, &'static str)> {
        let words = telling_words(&self.item);
        let mut found = Vec::new();
        for (allergen, telling) in TELLING {
            let word = telling.iter().find(|it| words.iter().any(|own| own == *it));
            found.extend(word.map(|word| (*allergen, *word)));
        }
        found.retain(|it| !self.allergens.contains(&it.0));
        found
    }

    /// The word for a thing that is no food, in a jar that is not for sniffing only.
    #[must_use]
    pub fn no_food(&self) -> Option<&'static str> {
        if self.met_by == JarUse::SniffOnly {
            return None;
        }
        let words = telling_words(&self.item);
        let no_food = NO_FOOD.iter().copied();
        no_food
            .into_iter()
            .find(|it| words.iter().any(|own| own == it))
    }
}

/// The words of an item in small letters, without those that only look so or are said to be absent.
fn telling_words(item: &str) -> Vec<String> {
    let mut text = item.to_lowercase();
    for phrase in HARMLESS {
        text = text.replace(phrase, " ");
    }
    let words: Vec<&str> = text
        .split(|c: char| !c.is_alphanumeric() && c != '-')
        .filter(|it| !it.is_empty())
        .collect();
    let absent = |at: usize| at > 0 && ABSENT.contains(&words[at - 1]);
    let told = words.iter().enumerate().filter(|(at, _)| !absent(*at));
    told.map(|(_, word)| (*word).to_owned()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn jar(item: &str, met_by: JarUse, allergens: &[Allergen]) -> Jar {
        Jar {
            item: item.to_owned(),
            how: "Smell it.".to_owned(),
            met_by,
            keeps: "one day".to_owned(),
            allergens: allergens.to_vec(),
            cautions: Vec::new(),
        }
    }

    #[test]
    fn an_item_betrays_its_allergens_until_they_are_declared() {
        let undeclared = |item: &str, declared: &[Allergen]| {
            let found = jar(item, JarUse::Sniff, declared).undeclared();
            found.into_iter().map(|it| it.0).collect::<Vec<_>>()
        };
        assert_eq!(undeclared("Rye bread", &[]), [Allergen::Gluten]);
        assert_eq!(undeclared("Rye bread", &[Allergen::Gluten]), []);
        assert_eq!(
            undeclared("Butter biscuits", &[]),
            [Allergen::Gluten, Allergen::Milk]
        );
    }

    #[test]
    fn what_is_absent_or_only_looks_so_needs_no_word() {
        for item in [
            "Strong black tea, no milk",
            "A slice, without butter",
            "Tinned coconut milk",
            "A walnut-sized ball",
            "Red wine gums",
        ] {
            assert_eq!(jar(item, JarUse::Sniff, &[]).undeclared(), [], "{item}");
        }
    }

    #[test]
    fn what_is_no_food_is_for_sniffing_only() {
        let candle = |met_by| jar("A stub of candle", met_by, &[]).no_food();
        assert_eq!(candle(JarUse::Sniff), Some("candle"));
        assert_eq!(candle(JarUse::SniffOnly), None);
        assert_eq!(jar("Fresh dill", JarUse::Sniff, &[]).no_food(), None);
    }
}
