//! BeerJSON (version 1 and 2) read into recipes: amounts in our units, and every oddity told with its place.

use std::ops::RangeInclusive;

use serde_json::Value;

use crate::formats::beyond::Beyond;
use crate::formats::beyond::USUAL;
use crate::formats::beyond::read_notes;
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
use crate::formats::foreign_recipe::Zeros;
use crate::formats::foreign_recipe::extract_of_potential;
use crate::formats::foreign_recipe::place_number;
use crate::formats::foreign_units::celsius;
use crate::formats::foreign_units::colour;
use crate::formats::foreign_units::grams;
use crate::formats::foreign_units::litres;
use crate::formats::foreign_units::minutes;
use crate::formats::foreign_units::specific_gravity;
use crate::formats::recipe_file::MASH_RESTS;

/// The name of the standard.
const STANDARD: &str = "BeerJSON";
/// Temperatures at which both starch enzymes work, °C (common practice).
const BOTH_WORK: RangeInclusive<f64> = 60.0..=75.0;

/// The recipes of a BeerJSON text.
///
/// # Errors
/// It is no JSON, with the line, or has no recipe.
pub(super) fn read_beerjson(text: &str) -> Result<Vec<ForeignRecipe>, ForeignError> {
    let whole: Value = serde_json::from_str(text).map_err(|error| ForeignError::Broken {
        standard: STANDARD,
        line: error.line(),
        what: error.to_string(),
    })?;
    let recipes = whole.pointer("/beerjson/recipes").and_then(Value::as_array);
    let recipes = recipes.map_or(&[][..], Vec::as_slice);
    if recipes.is_empty() {
        return Err(ForeignError::NoRecipe { standard: STANDARD });
    }
    Ok(recipes.iter().map(recipe).collect())
}

/// Everything but the ingredients.
fn head(it: &Value) -> ForeignRecipe {
    ForeignRecipe {
        name: text(it, "name").unwrap_or_else(|| "Recipe without a name".to_owned()),
        litres: amount(it, "/batch_size").and_then(litres),
        efficiency: amount(it, "/efficiency/brewhouse").map(|it| it.0),
        boil: amount(it, "/boil/boil_time").and_then(minutes),
        mash: mash(it),
        fermentation: it
            .pointer("/fermentation/fermentation_steps/0")
            .and_then(|it| amount(it, "/start_temperature").and_then(celsius)),
        carbonation: it.get("carbonation").and_then(Value::as_f64),
        stated: ForeignFigures {
            original: amount(it, "/original_gravity").and_then(specific_gravity),
            end: amount(it, "/final_gravity").and_then(specific_gravity),
            bitterness: bitterness(it),
        },
        ..ForeignRecipe::default()
    }
}

/// Bitterness with its unit; files of the first version have the bare number.
fn bitterness(it: &Value) -> Option<f64> {
    let bare = it.pointer("/ibu_estimate/value").and_then(Value::as_f64);
    bare.or_else(|| amount(it, "/ibu_estimate/value").map(|it| it.0))
}

fn recipe(it: &Value) -> ForeignRecipe {
    let mut found = head(it);
    let notes = it.get("notes").and_then(Value::as_str).unwrap_or_default();
    let (lines, refused) = read_notes(notes);
    if !lines.is_empty() {
        found.zeros = Zeros::Stated;
    }
    for line in refused {
        found.remark(format!("a line of the notes was not taken: {line}"));
    }
    for (at, malt) in list(it, "/ingredients/fermentable_additions")
        .iter()
        .enumerate()
    {
        fermentable(malt, at, &mut found);
    }
    for (at, charge) in list(it, "/ingredients/hop_additions").iter().enumerate() {
        hop(charge, at, it, &mut found);
    }
    for culture in list(it, "/ingredients/culture_additions") {
        found.yeasts.push(ForeignYeast {
            name: text(culture, "name").unwrap_or_else(|| "Yeast".to_owned()),
            attenuation: percent(culture, "/attenuation"),
        });
    }
    for (at, other) in list(it, "/ingredients/miscellaneous_additions")
        .iter()
        .enumerate()
    {
        addition(other, at, &mut found);
    }
    if let Some(first) = list(it, "/ingredients/water_additions").first() {
        found.water = water(first);
    }
    found.carbonation = found.carbonation.filter(|it| found.says(*it));
    found.tell_other_yeasts();
    take_notes(lines, &mut found);
    found
}

/// Puts what the notes keep of a recipe of ours where it belongs; lines about what stands there no longer are told.
fn take_notes(lines: Vec<Beyond>, found: &mut ForeignRecipe) {
    for line in lines {
        let there = found.name_at(&line.place);
        if line.of.is_some() && line.of.as_deref() != there {
            let of = line.of.unwrap_or_default();
            let place = line.place;
            found.remark(format!(
                "the notes say something of “{of}”, which is not {place} any more"
            ));
        } else if line.key == USUAL {
            let all = line.numbers();
            for it in &all {
                forget_usual(found, &line.place, it);
            }
        } else {
            found.beyond.push(line);
        }
    }
}

/// Takes out a value that stands there only because the standard asks for one, unless somebody changed it since.
fn forget_usual(found: &mut ForeignRecipe, place: &str, (what, usual): &(String, f64)) {
    let at = place_number(place).unwrap_or(0);
    let table = place.split(' ').next().unwrap_or_default();
    let is_usual = |it: &f64| (it - usual).abs() <= 1e-9 * usual.abs().max(1.0);
    let value = match (table, what.as_str()) {
        ("recipe", "efficiency") => Some(&mut found.efficiency),
        ("fermentable", "extract") => found.fermentables.get_mut(at).map(|it| &mut it.extract),
        ("hop", "alpha") => found.hops.get_mut(at).map(|it| &mut it.alpha),
        ("yeast", "attenuation") => found.yeasts.get_mut(at).map(|it| &mut it.attenuation),
        ("fermentable", "colour") => {
            let malt = found.fermentables.get_mut(at);
            let colour = malt.map(|it| &mut it.colour);
            let ebc = |it: &String| it.strip_suffix(" EBC").and_then(|it| it.parse().ok());
            if let Some(colour) = colour
                && colour
                    .as_ref()
                    .and_then(ebc)
                    .is_some_and(|it: f64| is_usual(&it))
            {
                *colour = None;
            }
            None
        }
        _ => None,
    };
    if let Some(value) = value
        && value.as_ref().is_some_and(is_usual)
    {
        *value = None;
    }
}

/// The rest that makes the wort: the only one, or the longest of those at which both enzymes work.
fn mash(it: &Value) -> Option<(f64, Option<f64>)> {
    let steps = list(it, "/mash/mash_steps").iter().filter_map(|step| {
        let warm = amount(step, "/step_temperature").and_then(celsius)?;
        let time = amount(step, "/step_time").and_then(minutes);
        Some((warm, time)).filter(|it| MASH_RESTS.contains(&it.0))
    });
    let mut steps: Vec<(f64, Option<f64>)> = steps.collect();
    if steps.iter().any(|it| BOTH_WORK.contains(&it.0)) {
        steps.retain(|it| BOTH_WORK.contains(&it.0));
    }
    let long = |it: &(f64, Option<f64>)| it.1.unwrap_or(0.0);
    steps.into_iter().max_by(|a, b| long(a).total_cmp(&long(b)))
}

fn fermentable(it: &Value, at: usize, found: &mut ForeignRecipe) {
    let name = text(it, "name").unwrap_or_else(|| format!("Fermentable {}", at + 1));
    let place = format!("fermentable {} ({name})", at + 1);
    let Some(grams) = amount(it, "/amount").and_then(grams).filter(|it| *it > 0.0) else {
        found.remark(format!("{place}: left out, its amount is no weight"));
        return;
    };
    let fine = percent(it, "/yield/fine_grind").filter(|it| found.says(*it));
    let potential = amount(it, "/yield/potential").and_then(specific_gravity_or_raw);
    let extract = fine.or_else(|| {
        let (extract, is_mended) = extract_of_potential(potential?)?;
        if is_mended {
            found.remark(format!(
                "{place}: a potential above 2 was read as thousandths"
            ));
        }
        Some(extract)
    });
    let shade = amount(it, "/color")
        .filter(|it| found.says(it.0))
        .and_then(colour);
    found.fermentables.push(ForeignFermentable {
        name,
        family: family(it),
        grams,
        extract,
        colour: shade,
    });
}

fn family(it: &Value) -> &'static str {
    let kind = text(it, "type").unwrap_or_default();
    let group = text(it, "grain_group").unwrap_or_default();
    match (kind.as_str(), group.as_str()) {
        ("sugar", _) => "sugar",
        ("honey", _) => "honey",
        ("extract" | "dry extract", _) => "extract",
        ("fruit" | "juice", _) => "fruit",
        (_, "caramel") => "crystal",
        (_, "flaked" | "adjunct") => "flaked",
        (_, "roasted") => "roasted",
        (_, "smoked") => "smoked",
        (_, "specialty") => "kilned",
        _ => "base",
    }
}

fn hop(it: &Value, at: usize, recipe: &Value, found: &mut ForeignRecipe) {
    let name = text(it, "name").unwrap_or_else(|| format!("Hop {}", at + 1));
    let place = format!("hop {} ({name})", at + 1);
    let Some(grams) = amount(it, "/amount").and_then(grams).filter(|it| *it > 0.0) else {
        found.remark(format!("{place}: left out, its amount is no weight"));
        return;
    };
    let Some(when) = hop_time(it, &place, recipe, found) else {
        found.remark(format!(
            "{place}: left out, a hop in the mash has no place here"
        ));
        return;
    };
    let alpha = percent(it, "/alpha_acid").filter(|it| found.says(*it));
    found.hops.push(ForeignHop {
        name,
        grams,
        alpha,
        when,
    });
}

/// When a hop goes in; none for one in the mash.
fn hop_time(
    it: &Value,
    place: &str,
    recipe: &Value,
    found: &mut ForeignRecipe,
) -> Option<ForeignHopTime> {
    let time = amount(it, "/timing/time").and_then(minutes);
    let duration = amount(it, "/timing/duration").and_then(minutes);
    match it.pointer("/timing/use").and_then(Value::as_str) {
        Some("add_to_mash") => return None,
        Some("add_to_fermentation" | "add_to_package") => {
            let days = duration.map(|it| it / DAY).filter(|it| *it > 0.0);
            if days.is_none() {
                found.remark(format!("{place}: no duration, taken for {DRY_DAYS} days"));
            }
            return Some(ForeignHopTime::Dry(days.unwrap_or(DRY_DAYS)));
        }
        _ => {}
    }
    if let Some(stand) = stand(it, recipe) {
        return Some(stand);
    }
    if time.is_none() {
        found.remark(format!("{place}: no time, taken for the end of the boil"));
    }
    Some(ForeignHopTime::Boil(time.unwrap_or(0.0)))
}

/// The stand that a hop goes into, where its step of the boil is one: below 98 °C.
fn stand(it: &Value, recipe: &Value) -> Option<ForeignHopTime> {
    let step = it.pointer("/timing/step").and_then(Value::as_u64)?;
    let steps = list(recipe, "/boil/boil_steps");
    // Steps are counted from 1 (boil_step.json of the standard); a file with a step 0 counts from 0.
    let hops = list(recipe, "/ingredients/hop_additions").iter();
    let mut counted = hops.filter_map(|it| it.pointer("/timing/step")?.as_u64());
    let first = u64::from(!counted.any(|it| it == 0));
    let step = steps.get(usize::try_from(step.checked_sub(first)?).ok()?)?;
    let name = text(step, "name").unwrap_or_default().to_lowercase();
    let warm = amount(step, "/start_temperature").and_then(celsius);
    let is_named = ["whirlpool", "stand", "steep"]
        .iter()
        .any(|it| name.contains(it));
    if !is_named && warm.is_none_or(|it| it >= 98.0) {
        return None;
    }
    let time = amount(step, "/step_time").and_then(minutes);
    let from = warm.unwrap_or(STAND.0);
    let end = amount(step, "/end_temperature").and_then(celsius);
    Some(ForeignHopTime::Whirlpool {
        celsius: from,
        cools_to: end.filter(|it| *it < from),
        minutes: time.unwrap_or(STAND.1),
    })
}

fn addition(it: &Value, at: usize, found: &mut ForeignRecipe) {
    let name = text(it, "name").unwrap_or_else(|| format!("Addition {}", at + 1));
    let kind = match text(it, "type").unwrap_or_default().as_str() {
        "spice" | "herb" => "spice",
        "fining" => "finings",
        "water agent" => "salt",
        "wood" => "wood",
        _ => "flavouring",
    };
    let when = match it.pointer("/timing/use").and_then(Value::as_str) {
        Some("add_to_mash") => Some("into the mash"),
        Some("add_to_boil") => Some("into the boil"),
        Some("add_to_fermentation") => Some("into the fermenter"),
        Some("add_to_package") => Some("into the bottles"),
        _ => None,
    };
    let Some(grams) = amount(it, "/amount").and_then(grams).filter(|it| *it > 0.0) else {
        let what = "left out, its amount is no weight";
        found.remark(format!("addition {} ({name}): {what}", at + 1));
        return;
    };
    found.others.push(ForeignOther {
        name,
        kind,
        grams,
        when: when.map(str::to_owned),
    });
}

fn water(it: &Value) -> Vec<(&'static str, f64)> {
    let ions = [
        ("calcium", "/calcium"),
        ("magnesium", "/magnesium"),
        ("sodium", "/sodium"),
        ("chloride", "/chloride"),
        ("sulphate", "/sulfate"),
        ("bicarbonate", "/bicarbonate"),
    ];
    let found = ions.iter().filter_map(|(name, place)| {
        let amount = amount(it, place)?;
        Some((*name, amount.0))
    });
    found.collect()
}

fn list<'a>(it: &'a Value, place: &str) -> &'a [Value] {
    let found = it.pointer(place).and_then(Value::as_array);
    found.map_or(&[], Vec::as_slice)
}

fn text(it: &Value, key: &str) -> Option<String> {
    let found = it.get(key).and_then(Value::as_str)?;
    // Names of one line: what breaks lines elsewhere breaks no file of ours.
    let words: Vec<&str> = found.split_whitespace().collect();
    (!words.is_empty()).then(|| words.join(" "))
}

/// A number with its unit.
fn amount<'a>(it: &'a Value, place: &str) -> Option<(f64, &'a str)> {
    let found = it.pointer(place)?;
    let value = found.get("value").and_then(Value::as_f64)?;
    Some((value, found.get("unit").and_then(Value::as_str)?))
}

fn percent(it: &Value, place: &str) -> Option<f64> {
    let (value, _) = amount(it, place)?;
    (0.0..=100.0).contains(&value).then_some(value)
}

/// Gravities above 2 are mended by who knows what they stand for.
fn specific_gravity_or_raw((value, unit): (f64, &str)) -> Option<f64> {
    if unit == "sg" {
        return Some(value);
    }
    specific_gravity((value, unit))
}
