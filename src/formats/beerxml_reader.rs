//! BeerXML 1.0 read into recipes; its units are kilograms, litres, °C and minutes throughout.

use crate::formats::foreign_error::ForeignError;
use crate::formats::foreign_recipe::DAY;
use crate::formats::foreign_recipe::DRY_DAYS;
use crate::formats::foreign_recipe::ForeignFermentable;
use crate::formats::foreign_recipe::ForeignFigures;
use crate::formats::foreign_recipe::ForeignHop;
use crate::formats::foreign_recipe::ForeignHopTime;
use crate::formats::foreign_recipe::ForeignOther;
use crate::formats::foreign_recipe::ForeignRecipe;
use crate::formats::foreign_recipe::ForeignYeast;
use crate::formats::foreign_recipe::STAND;
use crate::formats::foreign_units::colour;
use crate::formats::xml_tree::Tag;
use crate::formats::xml_tree::xml_tree;

/// The name of the standard.
const STANDARD: &str = "BeerXML";
/// Grams of its unit of mass, and of a litre of a liquid addition.
const GRAMS: f64 = 1_000.0;
/// Malt up to so many °Lovibond is base malt, from so many on it was roasted (common practice).
const PALE: f64 = 6.0;
const ROASTED: f64 = 150.0;

/// The recipes of a BeerXML text. What its tags had to be mended in stands with the first recipe.
///
/// # Errors
/// It is no XML, with the line, or has no recipe.
pub(super) fn read_beerxml(text: &str) -> Result<Vec<ForeignRecipe>, ForeignError> {
    let (root, mended) = xml_tree(text).map_err(|(line, what)| ForeignError::Broken {
        standard: STANDARD,
        line,
        what,
    })?;
    let found: Vec<&Tag> = if root.name == "RECIPE" {
        vec![&root]
    } else {
        root.tags.iter().filter(|it| it.name == "RECIPE").collect()
    };
    let mut recipes: Vec<ForeignRecipe> = found.into_iter().map(recipe).collect();
    match recipes.first_mut() {
        Some(first) => first.remarks.splice(0..0, mended),
        None => return Err(ForeignError::NoRecipe { standard: STANDARD }),
    };
    Ok(recipes)
}

/// Everything but the ingredients.
fn head(it: &Tag) -> ForeignRecipe {
    ForeignRecipe {
        name: it
            .said("NAME")
            .unwrap_or("Recipe without a name")
            .to_owned(),
        litres: it.number("BATCH_SIZE"),
        efficiency: it.number("EFFICIENCY").filter(|it| *it > 0.0),
        boil: it.number("BOIL_TIME"),
        mash: mash(it),
        fermentation: it.number("PRIMARY_TEMP"),
        carbonation: it.number("CARBONATION").filter(|it| *it > 0.0),
        stated: ForeignFigures {
            original: it.number("OG"),
            end: it.number("FG"),
            bitterness: None,
        },
        ..ForeignRecipe::default()
    }
}

fn recipe(it: &Tag) -> ForeignRecipe {
    let mut found = head(it);
    for malt in list(it, "FERMENTABLES") {
        fermentable(malt, &mut found);
    }
    for charge in list(it, "HOPS") {
        hop(charge, &mut found);
    }
    for yeast in list(it, "YEASTS") {
        found.yeasts.push(ForeignYeast {
            name: yeast.said("NAME").unwrap_or("Yeast").to_owned(),
            attenuation: yeast.number("ATTENUATION").filter(|it| *it > 0.0),
        });
    }
    for other in list(it, "MISCS") {
        addition(other, &mut found);
    }
    if let Some(water) = list(it, "WATERS").first() {
        found.water = ions(water);
    }
    found.tell_other_yeasts();
    found
}

fn list<'a>(it: &'a Tag, name: &str) -> &'a [Tag] {
    it.tag(name).map_or(&[], |it| it.tags.as_slice())
}

/// The longest rest in which wort is made.
fn mash(it: &Tag) -> Option<(f64, Option<f64>)> {
    let steps = list(it.tag("MASH")?, "MASH_STEPS").iter();
    let rests = steps.filter_map(|step| {
        let rest = (step.number("STEP_TEMP")?, step.number("STEP_TIME"));
        (60.0..=75.0).contains(&rest.0).then_some(rest)
    });
    rests.max_by(|a, b| a.1.unwrap_or(0.0).total_cmp(&b.1.unwrap_or(0.0)))
}

fn fermentable(it: &Tag, found: &mut ForeignRecipe) {
    let name = it.said("NAME").unwrap_or("Fermentable").to_owned();
    let Some(kilograms) = it.number("AMOUNT").filter(|it| *it > 0.0) else {
        found.remark(format!(
            "line {}: {name} left out, it has no amount",
            it.line
        ));
        return;
    };
    let lovibond = it.number("COLOR").filter(|it| *it > 0.0);
    found.fermentables.push(ForeignFermentable {
        family: family(it, &name, lovibond.unwrap_or(0.0)),
        name,
        grams: GRAMS * kilograms,
        extract: it.number("YIELD").filter(|it| (1.0..=100.0).contains(it)),
        colour: lovibond.and_then(|it| colour((it, "Lovi"))),
    });
}

fn family(it: &Tag, name: &str, lovibond: f64) -> &'static str {
    let name = name.to_lowercase();
    match it.said("TYPE").unwrap_or_default().to_lowercase().as_str() {
        "sugar" if name.contains("honey") => "honey",
        "sugar" => "sugar",
        "extract" | "dry extract" => "extract",
        "adjunct" => "flaked",
        _ if ["crystal", "caramel", "cara"]
            .iter()
            .any(|it| name.contains(it)) =>
        {
            "crystal"
        }
        _ if lovibond >= ROASTED => "roasted",
        _ if name.contains("flake") => "flaked",
        _ if name.contains("smoke") => "smoked",
        _ if lovibond > PALE => "kilned",
        _ => "base",
    }
}

fn hop(it: &Tag, found: &mut ForeignRecipe) {
    let name = it.said("NAME").unwrap_or("Hop").to_owned();
    let place = format!("line {}: {name}", it.line);
    let Some(kilograms) = it.number("AMOUNT").filter(|it| *it > 0.0) else {
        found.remark(format!("{place} left out, it has no amount"));
        return;
    };
    let Some(when) = hop_time(it, &place, found) else {
        found.remark(format!(
            "{place} left out, a hop in the mash has no place here"
        ));
        return;
    };
    found.hops.push(ForeignHop {
        name,
        grams: GRAMS * kilograms,
        alpha: it.number("ALPHA").filter(|it| *it > 0.0),
        when,
    });
}

/// When a hop goes in; none for one in the mash.
fn hop_time(it: &Tag, place: &str, found: &mut ForeignRecipe) -> Option<ForeignHopTime> {
    let time = it.number("TIME");
    let (assumed, when) = match it.said("USE").unwrap_or_default().to_lowercase().as_str() {
        "mash" => return None,
        "dry hop" => {
            let days = time.map(|it| it / DAY).filter(|it| *it > 0.0);
            let assumed = days
                .is_none()
                .then(|| format!("without a time, taken for {DRY_DAYS} days"));
            (assumed, ForeignHopTime::Dry(days.unwrap_or(DRY_DAYS)))
        }
        "aroma" => {
            let assumed = format!("stands at an unknown temperature, taken for {} °C", STAND.0);
            let stand = ForeignHopTime::Whirlpool {
                celsius: STAND.0,
                cools_to: None,
                minutes: time.filter(|it| *it > 0.0).unwrap_or(STAND.1),
            };
            (Some(assumed), stand)
        }
        "first wort" => {
            let assumed = "goes in before the boil, taken for the whole boil".to_owned();
            let minutes = found.boil.or(time).unwrap_or(60.0);
            (Some(assumed), ForeignHopTime::Boil(minutes))
        }
        _ => {
            let assumed = "without a time, taken for the end of the boil".to_owned();
            let assumed = time.is_none().then_some(assumed);
            (assumed, ForeignHopTime::Boil(time.unwrap_or(0.0)))
        }
    };
    if let Some(assumed) = assumed {
        found.remark(format!("{place} {assumed}"));
    }
    Some(when)
}

fn addition(it: &Tag, found: &mut ForeignRecipe) {
    let name = it.said("NAME").unwrap_or("Addition").to_owned();
    let kind = match it.said("TYPE").unwrap_or_default().to_lowercase().as_str() {
        "spice" | "herb" => "spice",
        "fining" => "finings",
        "water agent" => "salt",
        _ => "flavouring",
    };
    let Some(amount) = it.number("AMOUNT").filter(|it| *it > 0.0) else {
        found.remark(format!(
            "line {}: {name} left out, it has no amount",
            it.line
        ));
        return;
    };
    let is_weight = it
        .said("AMOUNT_IS_WEIGHT")
        .is_some_and(|it| it.eq_ignore_ascii_case("true"));
    if !is_weight {
        found.remark(format!(
            "line {}: {name} is told in litres, a litre taken for a kilogram",
            it.line
        ));
    }
    let when = it
        .said("USE")
        .map(|it| format!("into the {}", it.to_lowercase()));
    found.others.push(ForeignOther {
        name,
        kind,
        grams: GRAMS * amount,
        when,
    });
}

fn ions(it: &Tag) -> Vec<(&'static str, f64)> {
    let ions = [
        ("calcium", "CALCIUM"),
        ("magnesium", "MAGNESIUM"),
        ("sodium", "SODIUM"),
        ("chloride", "CHLORIDE"),
        ("sulphate", "SULFATE"),
        ("bicarbonate", "BICARBONATE"),
    ];
    ions.iter()
        .filter_map(|(name, tag)| Some((*name, it.number(tag)?)))
        .collect()
}
