//! The larder file: what a brewer has at home, by the names of the catalogue.

use crate::domain::Catalogue;
use crate::domain::Grams;
use crate::domain::Identity;
use crate::domain::IngredientId;
use crate::domain::Invalid;
use crate::domain::Larder;
use crate::domain::LarderItem;
use crate::domain::PricePerKilogram;
use crate::domain::nearest_names;
use crate::formats::entry::Entry;
use crate::formats::problem::Problem;
use crate::formats::problem::ProblemKind;
use crate::formats::problem::did_you_mean;
use crate::formats::problem::shown;
use crate::formats::proof::Proof;
use crate::formats::quantity_text::MASS;
use crate::formats::quantity_text::read_number;
use crate::formats::section::Section;

/// A larder with every key and its comment.
pub const LARDER_EXAMPLE: &str = include_str!("example_larder.toml");

/// Grams of what a price is kept for.
const KILOGRAM: f64 = 1_000.0;

/// Reads a larder; `file` is what messages call the text. A text without a table is an empty larder.
///
/// # Errors
/// Every problem of the text by line and column: names that the catalogue does not know, with the nearest ones,
/// ingredients that stand twice, amounts and prices that are none.
pub fn read_larder(file: &str, text: &str, catalogue: &Catalogue) -> Result<Larder, Vec<Problem>> {
    let proof = Proof::new(file, text);
    let table = proof.parse();
    let root = Section::new(&proof, &table, 0);
    let mut items: Vec<LarderItem> = Vec::new();
    let mut seen: Vec<IngredientId> = Vec::new();
    for section in root.sections("have") {
        items.extend(item(section, catalogue, &mut seen));
    }
    root.close();
    proof.conclude(Some(Larder { items }))
}

fn item(
    section: Section<'_>,
    catalogue: &Catalogue,
    seen: &mut Vec<IngredientId>,
) -> Option<LarderItem> {
    let name = section.required("name", "name = \"Munich malt\"");
    let ingredient = name.and_then(|it| ingredient(&section, it, catalogue));
    if let (Some(entry), Some(id)) = (name, &ingredient) {
        if seen.contains(id) {
            let found = shown(entry.text().unwrap_or_default());
            let what = "the ingredient";
            entry.mark(ProblemKind::Twice { what, found });
        }
        seen.push(id.clone());
    }
    let amount = section.entry("amount");
    let amount = amount.map(|it| it.quantity(&MASS, Grams::new));
    let price = section.entry("price");
    let price = price.map(|it| it.settle(price_of(it.text()?)));
    section.close();
    Some(LarderItem {
        ingredient: ingredient?,
        amount: amount.unwrap_or_default(),
        price: price.unwrap_or_default(),
    })
}

/// The ingredient that answers to a name; marked, with the nearest names, where none or more than one does.
fn ingredient(
    section: &Section<'_>,
    entry: Entry<'_>,
    catalogue: &Catalogue,
) -> Option<IngredientId> {
    let name = entry.name()?;
    let text = name.as_str();
    // A name stands for one thing of its kind, an id for one thing of all.
    if let Some(it) = catalogue.identities().find(|it| it.id.as_str() == text) {
        return Some(it.id.clone());
    }
    let mut answering = catalogue.identities().filter(|it| it.answers_to(text));
    match (answering.next(), answering.next()) {
        (Some(only), None) => return Some(only.id.clone()),
        (Some(one), Some(other)) => entry.mark(ProblemKind::Together {
            found: format!("“{text}” is {} and {}", one.id, other.id),
            advice: "write the one that is meant",
        }),
        (None, _) if !section.proof.is_full() => entry.mark(unknown(text, catalogue)),
        (None, _) => {}
    }
    None
}

fn unknown(name: &str, catalogue: &Catalogue) -> ProblemKind {
    let names = catalogue.identities().flat_map(Identity::names);
    let near = nearest_names(name, names, 3);
    let otherwise = "use a name of the catalogue, or add it under descriptors/ingredients";
    ProblemKind::UnknownIngredient {
        kind: "ingredient",
        found: shown(name),
        advice: did_you_mean(&near, otherwise),
    }
}

/// Reads `3.20 per kg` or `1.50 per 100 g`.
fn price_of(text: &str) -> Result<PricePerKilogram, ProblemKind> {
    let unreadable = || Invalid::Unreadable {
        what: "a price",
        found: shown(text),
        example: "3.20 per kg",
    };
    let (price, mass) = text.split_once(" per ").ok_or_else(unreadable)?;
    let price = read_number("a price", price.trim())?;
    let mass = mass.trim();
    let is_counted = mass.starts_with(|it: char| it.is_ascii_digit());
    let grams = if is_counted {
        MASS.read(mass)
    } else {
        MASS.read(&format!("1 {mass}"))
    }?;
    if grams <= 0.0 {
        return Err(unreadable().into());
    }
    Ok(PricePerKilogram::new(price * KILOGRAM / grams)?)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::ProptestConfig;
    use proptest::proptest;

    use super::*;
    use crate::formats::trial_catalogue::catalogue;
    use crate::formats::trial_catalogue::with_a_slip;

    fn read(text: &str) -> Result<Larder, Vec<String>> {
        read_larder("larder.toml", text, &catalogue())
            .map_err(|them| them.iter().map(ToString::to_string).collect())
    }

    fn price(text: &str) -> Option<f64> {
        price_of(text).ok().map(PricePerKilogram::get)
    }

    #[test]
    fn the_example_is_read_whole() {
        let larder = read(LARDER_EXAMPLE).unwrap();
        let ids: Vec<&str> = larder
            .items
            .iter()
            .map(|it| it.ingredient.as_str())
            .collect();
        let wanted = ["pale-ale-malt", "chocolate-malt", "saaz", "clean-ale"];
        assert_eq!(ids, wanted);
        let malt = &larder.items[0];
        assert_eq!(malt.amount, Grams::new(2_500.0).ok());
        assert_eq!(malt.price, PricePerKilogram::new(1.9).ok());
        let yeast = larder
            .item(&IngredientId::new("clean-ale").unwrap())
            .unwrap();
        assert_eq!((yeast.amount, yeast.price), (None, None));
        assert_eq!(read(""), Ok(Larder::default()));
    }

    #[test]
    fn a_price_is_for_a_kilogram_whatever_it_was_told_for() {
        assert_eq!(price("3.20 per kg"), Some(3.2));
        assert_eq!(price("4.50 per 100 g"), Some(45.0));
        // A pound is 453.59237 g (international yard and pound agreement of 1959), so 1 a pound is 2.2046226 a kg.
        assert!((price("1 per lb").unwrap() - 2.204_622_6).abs() < 1e-7);
        for bad in [
            "3.20",
            "3.20 per",
            "per kg",
            "3.20 per litre",
            "-1 per kg",
            "3 per 0 g",
            "nan per kg",
        ] {
            assert_eq!(price(bad), None, "{bad}");
        }
    }

    #[test]
    fn every_problem_is_told_at_once_with_its_place() {
        let found = read(
            "[[have]]\nname = \"Pale alle malt\"\namount = \"-1 kg\"\n[[have]]\nname = \"saaz\"\nprice = 3.2\n\
             [[have]]\nname = \"Saaz\"\nprise = \"1 per kg\"\n[[have]]\namount = \"80\"\nprice = \"1 kg\"\n[[has]]\n",
        )
        .unwrap_err();
        let wanted = [
            "larder.toml:2:8: no ingredient is called “Pale alle malt”; did you mean “Pale ale malt”",
            "larder.toml:3:10: an amount: found -1000 g",
            "larder.toml:6:9: price is a number; write a text in quotes",
            "larder.toml:8:8: the ingredient “Saaz” is given twice; keep one of the two",
            "larder.toml:9:1: the key “prise” is not known here; did you mean “price”?",
            "larder.toml:10:1: “name” is missing",
            "larder.toml:11:10: an amount: “80” needs one of the units",
            "larder.toml:12:9: a price: “1 kg” cannot be read; write it like 3.20 per kg",
            "larder.toml:13:3: the key “has” is not known here; known here: have",
        ];
        assert_eq!(found.len(), wanted.len(), "{found:#?}");
        for (found, wanted) in found.iter().zip(wanted) {
            assert!(found.starts_with(wanted), "{found}\n{wanted}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2_000))]
        #[test]
        fn no_slip_in_a_good_file_makes_it_panic(text in with_a_slip(LARDER_EXAMPLE.to_owned())) {
            if let Err(problems) = read(&text) {
                assert!(!problems.is_empty());
            }
        }
    }
}
