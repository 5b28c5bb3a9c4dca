//! The `[declare]` table: ingredients that the catalogue does not know, with usual values by family.

use std::sync::Arc;

use crate::domain::Allergen;
use crate::domain::Diastatic;
use crate::domain::Fermentable;
use crate::domain::FermentableFamily;
use crate::domain::Ferments;
use crate::domain::Gifts;
use crate::domain::Goes;
use crate::domain::Grain;
use crate::domain::Hop;
use crate::domain::Identity;
use crate::domain::IngredientId;
use crate::domain::Invalid;
use crate::domain::Name;
use crate::domain::Other;
use crate::domain::OtherKind;
use crate::domain::Spread;
use crate::domain::Yeast;
use crate::formats::ion_table::ions;
use crate::formats::quantity_text::COLOUR;
use crate::formats::quantity_text::Measured;
use crate::formats::quantity_text::PERCENT;
use crate::formats::quantity_text::TEMPERATURE;
use crate::formats::section::Section;

/// The ingredients that a recipe declares by itself; they come before those of the catalogue.
#[derive(Default)]
pub(crate) struct Declared {
    pub(crate) fermentables: Vec<Fermentable>,
    pub(crate) hops: Vec<Hop>,
    pub(crate) yeasts: Vec<Yeast>,
    pub(crate) others: Vec<Other>,
}

impl Declared {
    /// Reads a `[declare]` table.
    pub(crate) fn read(section: Section<'_>) -> Self {
        let each = |key| section.sections(key);
        let declared = Self {
            fermentables: each("fermentable")
                .into_iter()
                .filter_map(fermentable)
                .collect(),
            hops: each("hop").into_iter().filter_map(hop).collect(),
            yeasts: each("yeast").into_iter().filter_map(yeast).collect(),
            others: each("other").into_iter().filter_map(other).collect(),
        };
        section.close();
        declared
    }
}

/// What is usual in a family of fermentables: as-is extract, colour in EBC, how it goes and ferments.
struct Usual {
    extract: [f64; 3],
    colour: [f64; 3],
    goes: Goes,
    ferments: Ferments,
    allergens: &'static [Allergen],
}

/// Wide ranges over the whole family: common practice, from memory; a stated value overrules them.
const fn usual(family: FermentableFamily) -> Usual {
    const GLUTEN: &[Allergen] = &[Allergen::Gluten];
    let (extract, colour) = match family {
        FermentableFamily::Base => ([0.74, 0.79, 0.82], [3.0, 6.0, 12.0]),
        FermentableFamily::Kilned => ([0.72, 0.76, 0.80], [12.0, 25.0, 70.0]),
        FermentableFamily::Crystal => ([0.68, 0.73, 0.78], [20.0, 120.0, 400.0]),
        FermentableFamily::Roasted => ([0.58, 0.66, 0.72], [400.0, 900.0, 1_500.0]),
        FermentableFamily::Smoked => ([0.73, 0.77, 0.81], [3.0, 7.0, 20.0]),
        FermentableFamily::Flaked => ([0.60, 0.72, 0.82], [2.0, 4.0, 10.0]),
        FermentableFamily::Sugar => ([0.70, 0.95, 1.0], [0.0, 2.0, 300.0]),
        FermentableFamily::Honey => ([0.75, 0.80, 0.84], [2.0, 10.0, 60.0]),
        FermentableFamily::Extract => ([0.76, 0.80, 0.97], [4.0, 10.0, 60.0]),
        FermentableFamily::Fruit => ([0.04, 0.09, 0.18], [0.0, 5.0, 60.0]),
    };
    let (goes, ferments, allergens): (_, _, &'static [Allergen]) = match family {
        FermentableFamily::Base
        | FermentableFamily::Kilned
        | FermentableFamily::Crystal
        | FermentableFamily::Roasted
        | FermentableFamily::Smoked
        | FermentableFamily::Flaked => (Goes::Mash, Ferments::AsWort, GLUTEN),
        FermentableFamily::Extract => (Goes::Dissolved, Ferments::AsWort, GLUTEN),
        FermentableFamily::Sugar | FermentableFamily::Honey | FermentableFamily::Fruit => {
            (Goes::Dissolved, Ferments::Wholly, &[])
        }
    };
    Usual {
        extract,
        colour,
        goes,
        ferments,
        allergens,
    }
}

fn fermentable(section: Section<'_>) -> Option<Fermentable> {
    let identity = identity(&section);
    let family = section.required("family", "family = \"base\"");
    let family = family.and_then(|it| it.read(FermentableFamily::from_id));
    // Without a family the rest is still looked through, so that all problems are told at once.
    let usual = usual(family.unwrap_or(FermentableFamily::Base));
    let goes = section.entry("goes").map(|it| it.read(Goes::from_id));
    let ferments = section
        .entry("ferments")
        .map(|it| it.read(Ferments::from_id));
    let extract = stated_or(&section, ("extract", &PERCENT, 0.01), usual.extract, 1.0);
    let colour = stated_or(&section, ("colour", &COLOUR, 1.0), usual.colour, 2_000.0);
    let grain = section.entry("grain").map(|it| it.read(Grain::from_id));
    let allergens = section
        .entry("allergens")
        .map(|it| it.choices(Allergen::from_id));
    section.close();
    Some(Fermentable {
        identity: Arc::new(identity?),
        family: family?,
        goes: goes.flatten().unwrap_or(usual.goes),
        extract: extract?,
        colour: colour?,
        ferments: ferments.flatten().unwrap_or(usual.ferments),
        grain: grain.flatten().unwrap_or(Grain::Barley),
        allergens: allergens.unwrap_or_else(|| usual.allergens.to_vec()),
    })
}

fn hop(section: Section<'_>) -> Option<Hop> {
    /// From the noblest to the bitterest variety: common practice, from memory.
    const ANY_HOP: [f64; 3] = [3.0, 7.0, 15.0];
    let identity = identity(&section);
    let alpha = stated_or(&section, ("alpha", &PERCENT, 1.0), ANY_HOP, 30.0);
    section.close();
    Some(Hop {
        identity: Arc::new(identity?),
        alpha: alpha?,
        oil: None,
    })
}

fn yeast(section: Section<'_>) -> Option<Yeast> {
    /// Attenuation in per cent, temperature in °C and days to readiness of any brewer's yeast:
    /// common practice, from memory.
    const ANY_ATTENUATION: [f64; 3] = [68.0, 76.0, 85.0];
    const ANY_TEMPERATURE: [f64; 3] = [10.0, 19.0, 28.0];
    const ANY_READY_DAYS: [f64; 3] = [14.0, 28.0, 180.0];
    let identity = identity(&section);
    let attenuation = ("attenuation", &PERCENT, 1.0);
    let attenuation = stated_or(&section, attenuation, ANY_ATTENUATION, 100.0);
    let temperature = ("temperature", &TEMPERATURE, 1.0);
    let temperature = stated_or(&section, temperature, ANY_TEMPERATURE, 50.0);
    let diastatic = section.entry("diastatic").map(|it| it.truth());
    section.close();
    Some(Yeast {
        identity: Arc::new(identity?),
        character: "Declared in the recipe.".to_owned(),
        attenuation: attenuation?,
        temperature: temperature?,
        ready_days: Spread::new("days to readiness", ANY_READY_DAYS, 0.0, 3_650.0).ok()?,
        diastatic: diastatic.flatten().map_or(Diastatic::No, Diastatic::from),
    })
}

fn other(section: Section<'_>) -> Option<Other> {
    /// Grams per litre of anything: judgement.
    const ANY_DOSE: [f64; 3] = [0.1, 1.0, 10.0];
    let identity = identity(&section);
    let kind = section.required("kind", "kind = \"spice\"");
    let kind = kind.and_then(|it| it.read(OtherKind::from_id));
    let allergens = section
        .entry("allergens")
        .map(|it| it.choices(Allergen::from_id));
    let ions = ions(&section, kind);
    section.close();
    Some(Other {
        identity: Arc::new(identity?),
        kind: kind?,
        usual: Spread::new("the usual dose", ANY_DOSE, 0.0, 500.0).ok()?,
        allergens: allergens.unwrap_or_default(),
        ions,
    })
}

/// The stated value as a spread of no width, or the usual spread; none, and marked, if the stated
/// one cannot be. A stated value is read as `measured`, times a factor.
fn stated_or(
    section: &Section<'_>,
    (key, measured, factor): (&'static str, &Measured, f64),
    usual: [f64; 3],
    most: f64,
) -> Option<Spread> {
    let Some(entry) = section.entry(key) else {
        return Spread::new(key, usual, 0.0, most).ok();
    };
    let value = entry.amount(measured)? * factor;
    entry.settle(Spread::new(key, [value; 3], 0.0, most))
}

fn identity(section: &Section<'_>) -> Option<Identity> {
    let entry = section.required("name", "name = \"Neighbour's hop\"")?;
    let name = entry.name()?;
    Some(Identity {
        id: entry.settle(declared_id(&name))?,
        name: name.to_string(),
        synonyms: Vec::new(),
        source: "declared in the recipe".to_owned(),
        gifts: Gifts::AsItsFamily,
    })
}

/// An id that no ingredient of the catalogue has: the letters of the name after a word of its own.
fn declared_id(name: &Name) -> Result<IngredientId, Invalid> {
    let letters: String = name
        .as_str()
        .to_lowercase()
        .chars()
        .map(|c| if c.is_ascii_alphanumeric() { c } else { ' ' })
        .collect();
    let mut id = "declared".to_owned();
    for word in letters.split_whitespace() {
        if id.len() + word.len() < 60 {
            id.push('-');
            id.push_str(word);
        }
    }
    IngredientId::new(&id)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formats::proof::Proof;

    fn declared(text: &str) -> (Declared, Vec<String>) {
        let proof = Proof::new("d.toml", text);
        let table = proof.parse();
        let declared = Declared::read(Section::new(&proof, &table, 0));
        let problems = proof.problems();
        let problems = problems.iter().map(ToString::to_string).collect();
        (declared, problems)
    }

    #[test]
    fn what_is_stated_overrules_what_is_usual_in_the_family() {
        let (found, problems) = declared(
            "[[fermentable]]\nname = \"Attic honey\"\nfamily = \"honey\"\nextract = \"78 %\"\n\
             [[fermentable]]\nname = \"Barn malt\"\nfamily = \"smoked\"\ngoes = \"dissolved\"\nallergens = []\n",
        );
        assert_eq!(problems, Vec::<String>::new());
        let [honey, malt] = &found.fermentables[..] else {
            panic!("two fermentables");
        };
        assert!((honey.extract.low() - 0.78).abs() < 1e-12);
        assert!((honey.extract.high() - 0.78).abs() < 1e-12);
        assert_eq!(
            (honey.goes, honey.ferments),
            (Goes::Dissolved, Ferments::Wholly)
        );
        assert_eq!(honey.identity.id.as_str(), "declared-attic-honey");
        assert_eq!(
            (malt.goes, malt.ferments),
            (Goes::Dissolved, Ferments::AsWort)
        );
        assert!(malt.allergens.is_empty());
    }

    #[test]
    fn gluten_is_presumed_of_every_grain() {
        for family in FermentableFamily::ALL {
            let text = format!(
                "[[fermentable]]\nname = \"x\"\nfamily = \"{}\"\n",
                family.id()
            );
            let (found, problems) = declared(&text);
            assert!(problems.is_empty(), "{problems:?}");
            let sweet = matches!(
                family,
                FermentableFamily::Sugar | FermentableFamily::Honey | FermentableFamily::Fruit
            );
            assert_eq!(
                found.fermentables[0].allergens.is_empty(),
                sweet,
                "{}",
                family.id()
            );
        }
    }

    #[test]
    fn a_name_of_any_letters_gives_an_id() {
        for name in [
            "ž",
            "…",
            "A very long name that goes on until nobody can remember how it began at all",
        ] {
            let (found, problems) = declared(&format!("[[hop]]\nname = \"{name}\"\n"));
            assert_eq!(
                (found.hops.len(), problems.len()),
                (1, 0),
                "{name} {problems:?}"
            );
        }
    }

    #[test]
    fn every_slip_of_a_declaration_is_told() {
        let (_, problems) = declared(
            "[[fermentable]]\nname = \"x\"\nextract = \"179 %\"\n[[yeast]]\nname = \"y\"\ndiastatic = \"no\"\n\
             [[other]]\nname = \"z\"\nkind = \"cloud\"\n[[hop]]\nalpha = \"5 g\"\n",
        );
        let wanted = [
            "d.toml:1:1: “family” is missing",
            "d.toml:3:11: extract: found 1.79; it must lie between 0 and 1",
            "d.toml:6:13: diastatic is a text; write true or false",
            "d.toml:9:8: a kind of addition: “cloud” is not known",
            "d.toml:10:1: “name” is missing",
            "d.toml:11:9: a share: “5 g” needs one of the units %",
        ];
        assert_eq!(problems.len(), wanted.len(), "{problems:#?}");
        for (found, wanted) in problems.iter().zip(wanted) {
            assert!(found.starts_with(wanted), "{found}\n{wanted}");
        }
    }
}
