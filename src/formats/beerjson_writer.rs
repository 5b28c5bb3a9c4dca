//! A recipe of ours written as BeerJSON; what that standard has no place for goes into its notes.

use serde_json::Map;
use serde_json::Value;
use serde_json::json;
use toml::Table;

use crate::domain::Ebc;
use crate::domain::FermentableFamily;
use crate::domain::FermentableUse;
use crate::domain::Goes;
use crate::domain::HopTime;
use crate::domain::HopUse;
use crate::domain::MilligramsPerLitre;
use crate::domain::OtherUse;
use crate::domain::Percent;
use crate::domain::Recipe;
use crate::domain::Water;
use crate::domain::YeastUse;
use crate::formats::beerjson_names::addition;
use crate::formats::beerjson_names::grain;
use crate::formats::beerjson_names::use_of;
use crate::formats::beyond::Beyond;
use crate::formats::beyond::notes;
use crate::formats::beyond::whole_tables;
use crate::formats::foreign_recipe::DAY;

/// The version of BeerJSON that is written.
const VERSION: f64 = 2.06;
/// Grain before it is mashed, °C: a room (common practice). The standard asks for it.
const GRAIN: f64 = 20.0;

/// Figures that stand beside the ingredients; those that cannot be told are left out.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct StatedFigures {
    /// Original gravity, specific gravity.
    pub original: Option<f64>,
    /// Final gravity.
    pub end: Option<f64>,
    /// % by volume.
    pub alcohol: Option<f64>,
    /// IBU.
    pub bitterness: Option<f64>,
    /// EBC.
    pub colour: Option<f64>,
    /// The usual efficiency, %, for a recipe that states none.
    pub usual_efficiency: f64,
}

/// The BeerJSON document of a recipe and of the file it was read from.
#[must_use]
pub fn beerjson(recipe: &Recipe, document: &str, stated: &StatedFigures) -> String {
    let whole = whole_tables(document);
    let document: Table = document.parse().unwrap_or_default();
    let mut page = Page {
        recipe,
        beyond: whole,
        steps: Vec::new(),
    };
    let whole =
        json!({"beerjson": {"version": VERSION, "recipes": [page.recipe(&document, stated)]}});
    format!("{whole:#}\n")
}

/// A document that is being written.
struct Page<'a> {
    recipe: &'a Recipe,
    beyond: Vec<Beyond>,
    /// The steps of the boil; hops of a stand name theirs by its place.
    steps: Vec<Value>,
}

fn amount(unit: &str, value: f64) -> Value {
    json!({"unit": unit, "value": value})
}

/// A time in the largest unit that takes it whole, as the standard asks; none where no second does.
fn time(minutes: f64, units: &[(&str, f64)]) -> Option<Value> {
    units.iter().find_map(|(unit, long)| {
        let count = minutes / long;
        let is_whole = count.fract() == 0.0 && count.abs() < 1e9;
        #[expect(clippy::cast_possible_truncation, reason = "it is whole and small")]
        let whole = count as i64;
        is_whole.then(|| json!({"unit": unit, "value": whole}))
    })
}

const MINUTES: [(&str, f64); 2] = [("min", 1.0), ("sec", 1.0 / 60.0)];
const DAYS: [(&str, f64); 3] = [("day", DAY), ("hr", 60.0), ("min", 1.0)];

impl Page<'_> {
    fn recipe(&mut self, document: &Table, stated: &StatedFigures) -> Value {
        let recipe = self.recipe;
        let efficiency = recipe.efficiency.map(Percent::get);
        if efficiency.is_none() {
            let usual = [("efficiency", stated.usual_efficiency)];
            self.beyond.extend(Beyond::usual("recipe", None, &usual));
        }
        let mut made = Map::new();
        let mut put = |key: &str, value: Value| made.insert(key.to_owned(), value);
        put("name", json!(recipe.name.as_str()));
        put("type", json!(self.kind()));
        put("author", json!("not stated"));
        put("batch_size", amount("l", recipe.volume.get()));
        let share = amount("%", efficiency.unwrap_or(stated.usual_efficiency));
        put("efficiency", json!({ "brewhouse": share }));
        put("ingredients", self.ingredients(document));
        let figures = [
            ("original_gravity", "sg", stated.original),
            ("final_gravity", "sg", stated.end),
            ("alcohol_by_volume", "%", stated.alcohol),
            ("color_estimate", "EBC", stated.colour),
        ];
        for (key, unit, value) in figures {
            value.map(|it| put(key, amount(unit, it)));
        }
        let method = |it: f64| json!({"method": "Other", "value": amount("IBUs", it)});
        stated.bitterness.map(|it| put("ibu_estimate", method(it)));
        self.mash(document).map(|it| put("mash", it));
        self.boil(document).map(|it| put("boil", it));
        let warm = recipe.yeast.as_ref().and_then(|it| it.temperature);
        let step = |it: f64| json!({"name": "Fermentation", "start_temperature": amount("C", it)});
        let ferment = |it: f64| json!({"name": "Fermentation", "fermentation_steps": [step(it)]});
        warm.map(|it| put("fermentation", ferment(it.get())));
        let gas = recipe.packaging.carbonation.map(|it| json!(it.get()));
        gas.map(|it| put("carbonation", it));
        self.beyond_of(document, "carbonation", &["priming", "bottle"]);
        put("notes", json!(notes(&self.beyond)));
        Value::Object(made)
    }

    /// How a recipe of such fermentables is called.
    fn kind(&self) -> &'static str {
        let all = || self.recipe.fermentables.iter().map(|it| &it.fermentable);
        let is_mashed = all().any(|it| it.goes == Goes::Mash);
        let has_extract = all().any(|it| it.family == FermentableFamily::Extract);
        match (is_mashed, has_extract) {
            (true, true) => "partial mash",
            (true, false) => "all grain",
            (false, true) => "extract",
            (false, false) => "other",
        }
    }

    fn ingredients(&mut self, document: &Table) -> Value {
        let recipe = self.recipe;
        let malts = recipe.fermentables.iter().enumerate();
        let malts: Vec<Value> = malts.map(|(at, it)| self.fermentable(at, it)).collect();
        let hops = recipe.hops.iter().enumerate();
        let hops: Vec<Value> = hops.map(|(at, it)| self.hop(document, at, it)).collect();
        let others = recipe.others.iter().enumerate();
        let others: Vec<Value> = others.map(|(at, it)| self.other(at, it)).collect();
        let yeast: Vec<Value> = recipe.yeast.iter().map(|it| self.yeast(it)).collect();
        let mut made = json!({
            "fermentable_additions": malts,
            "hop_additions": hops,
            "miscellaneous_additions": others,
            "culture_additions": yeast,
        });
        match water(&recipe.water) {
            Some(water) => made["water_additions"] = json!([water]),
            None => self.beyond_of(document, "water", &IONS),
        }
        made
    }

    fn fermentable(&mut self, at: usize, it: &FermentableUse) -> Value {
        let known = &it.fermentable;
        let [extract, colour] = [100.0 * known.extract.usual(), known.colour.usual()];
        let asked = [
            ("extract", extract, it.extract.is_none()),
            ("colour", colour, it.colour.is_none()),
        ];
        let usual = asked.iter().filter(|it| it.2).map(|it| (it.0, it.1));
        let usual: Vec<(&str, f64)> = usual.collect();
        let (place, name) = (format!("fermentable {}", at + 1), &known.identity.name);
        self.beyond
            .extend(Beyond::usual(&place, Some(name), &usual));
        let extract = it.extract.map_or(extract, Percent::get);
        let colour = it.colour.map_or(colour, Ebc::get);
        let (kind, group) = grain(known.family);
        let mut made = json!({
            "name": known.identity.name,
            "type": kind,
            "yield": {"fine_grind": amount("%", extract)},
            "color": amount("EBC", colour),
            "amount": amount("g", it.amount.get()),
        });
        if let Some(group) = group {
            made["grain_group"] = json!(group);
        }
        made
    }

    fn hop(&mut self, document: &Table, at: usize, it: &HopUse) -> Value {
        let (place, name) = (format!("hop {}", at + 1), it.hop.identity.name.as_str());
        let usual = 100.0 * it.hop.alpha.usual();
        if it.alpha.is_none() {
            let usual = [("alpha", usual)];
            self.beyond
                .extend(Beyond::usual(&place, Some(name), &usual));
        }
        self.hop_beyond(document, (at, name), &["age", "stored"]);
        let timing = self.timing(it.when);
        let has_temperature = matches!(
            it.when,
            HopTime::Dry {
                temperature: Some(_),
                ..
            }
        );
        if timing.is_none() || has_temperature {
            self.hop_beyond(document, (at, name), &["boil", "whirlpool", "dry"]);
        }
        let alpha = it.alpha.map_or(usual, Percent::get);
        json!({
            "name": it.hop.identity.name,
            "alpha_acid": amount("%", alpha),
            "amount": amount("g", it.amount.get()),
            "timing": timing.unwrap_or_else(|| nearest_timing(it.when)),
        })
    }

    /// When a hop goes in; none where the standard cannot say it.
    fn timing(&mut self, when: HopTime) -> Option<Value> {
        match when {
            HopTime::Boil(minutes) => {
                let time = time(minutes.get(), &MINUTES)?;
                Some(json!({"use": "add_to_boil", "time": time}))
            }
            HopTime::Whirlpool {
                temperature,
                cools_to,
                time: long,
            } => {
                let boils = self.recipe.boil?;
                time(boils.get(), &MINUTES)?;
                let mut step = json!({
                    "name": "Whirlpool",
                    "start_temperature": amount("C", temperature.get()),
                    "step_time": time(long.get(), &MINUTES)?,
                });
                if let Some(end) = cools_to {
                    step["end_temperature"] = amount("C", end.get());
                }
                let at = self.steps.iter().position(|it| *it == step);
                let at = at.unwrap_or(self.steps.len());
                if at == self.steps.len() {
                    self.steps.push(step);
                }
                // Steps are counted from 1 (BeerJSON, boil_step.json), and the boil itself is the first.
                Some(json!({"use": "add_to_boil", "step": at + 2}))
            }
            HopTime::Dry { days, .. } => {
                let long = time(DAY * days.get(), &DAYS)?;
                Some(json!({"use": "add_to_fermentation", "duration": long}))
            }
        }
    }

    fn yeast(&mut self, it: &YeastUse) -> Value {
        let name = &it.yeast.identity.name;
        let of_lager = name.to_lowercase().contains("lager");
        let usual = 100.0 * it.yeast.attenuation.usual();
        if it.attenuation.is_none() {
            let usual = [("attenuation", usual)];
            self.beyond
                .extend(Beyond::usual("yeast", Some(name), &usual));
        }
        // Form and amount are asked for and not kept here; a packet stands for any.
        json!({
            "name": name,
            "type": if of_lager { "lager" } else { "ale" },
            "form": "dry",
            "attenuation": amount("%", it.attenuation.map_or(usual, Percent::get)),
            "amount": amount("pkg", 1.0),
        })
    }

    fn other(&mut self, at: usize, it: &OtherUse) -> Value {
        let when = it.when.as_ref().map(|it| it.as_str().to_owned());
        if let Some(when) = &when {
            let place = format!("other {}", at + 1);
            let when = toml::Value::String(when.clone());
            let name = Some(it.other.identity.name.as_str());
            self.beyond.push(Beyond::new(&place, name, "when", &when));
        }
        let mut made = json!({
            "name": it.other.identity.name,
            "type": addition(it.other.kind),
            "amount": amount("g", it.amount.get()),
        });
        if let Some(place) = when.as_deref().and_then(use_of) {
            made["timing"] = json!({ "use": place });
        }
        made
    }

    fn mash(&mut self, document: &Table) -> Option<Value> {
        let mash = self.recipe.mash;
        let both = mash.temperature.zip(mash.time);
        let step = both.and_then(|(warm, long)| {
            Some(json!({
                "name": "Main rest",
                "type": "temperature",
                "step_temperature": amount("C", warm.get()),
                "step_time": time(long.get(), &MINUTES)?,
            }))
        });
        let Some(step) = step else {
            self.beyond_of(document, "mash", &["temperature", "time"]);
            return None;
        };
        Some(json!({"name": "Mash", "grain_temperature": amount("C", GRAIN), "mash_steps": [step]}))
    }

    fn boil(&mut self, document: &Table) -> Option<Value> {
        let minutes = self.recipe.boil?.get();
        let Some(long) = time(minutes, &MINUTES) else {
            self.beyond_of(document, "boil", &["time"]);
            return None;
        };
        let mut steps = vec![json!({"name": "Boil"})];
        steps.append(&mut self.steps);
        Some(json!({"boil_time": long, "boil_steps": steps}))
    }

    /// Keys of a table that have no place, as they stand in the file.
    fn beyond_of(&mut self, document: &Table, table: &str, keys: &[&str]) {
        let found = document.get(table).and_then(toml::Value::as_table);
        for (key, value) in found.into_iter().flatten() {
            if keys.contains(&key.as_str()) {
                self.beyond.push(Beyond::new(table, None, key, value));
            }
        }
    }

    /// Keys of a hop that have no place, as they stand in the file.
    fn hop_beyond(&mut self, document: &Table, (at, name): (usize, &str), keys: &[&str]) {
        let entry = document.get("hop").and_then(|it| it.get(at));
        let entry = entry.and_then(toml::Value::as_table);
        let place = format!("hop {}", at + 1);
        for (key, value) in entry.into_iter().flatten() {
            if keys.contains(&key.as_str()) {
                self.beyond
                    .push(Beyond::new(&place, Some(name), key, value));
            }
        }
    }
}

/// The nearest that the standard can say of a time it cannot say; the notes have the true one.
fn nearest_timing(when: HopTime) -> Value {
    let whole = |minutes: f64| time(minutes.round(), &MINUTES).unwrap_or(Value::Null);
    match when {
        HopTime::Boil(minutes) => json!({"use": "add_to_boil", "time": whole(minutes.get())}),
        HopTime::Whirlpool { .. } => json!({"use": "add_to_boil", "time": whole(0.0)}),
        HopTime::Dry { days, .. } => {
            let long = whole(DAY * days.get());
            json!({"use": "add_to_fermentation", "duration": long})
        }
    }
}

/// The ions of a water, by our names.
const IONS: [&str; 6] = [
    "calcium",
    "magnesium",
    "sodium",
    "chloride",
    "sulphate",
    "bicarbonate",
];

/// A water; none unless all six ions are known, because the standard asks for all, and silence is no zero.
fn water(it: &Water) -> Option<Value> {
    let milligrams = |it: Option<MilligramsPerLitre>| Some(amount("mg/l", it?.get()));
    Some(json!({
        "name": "Brewing water",
        "calcium": milligrams(it.calcium)?,
        "magnesium": milligrams(it.magnesium)?,
        "sodium": milligrams(it.sodium)?,
        "chloride": milligrams(it.chloride)?,
        "sulfate": milligrams(it.sulphate)?,
        "bicarbonate": milligrams(it.bicarbonate)?,
    }))
}
