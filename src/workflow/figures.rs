//! The figures of a beer: gravity, alcohol, bitterness, colour and gas, from its recipe and its log.

use crate::brewing::BottleKind;
use crate::brewing::ColourCharge;
use crate::brewing::ExtractCharge;
use crate::brewing::ExtractMix;
use crate::brewing::ExtractSource;
use crate::brewing::HopCharge;
use crate::brewing::HopContact;
use crate::brewing::Plato;
use crate::brewing::PressureCaution;
use crate::brewing::PrimingSugar as Sugar;
use crate::brewing::SpecificGravity;
use crate::brewing::alcohol_by_volume;
use crate::brewing::beer_ebc;
use crate::brewing::original_extract;
use crate::brewing::real_extract;
use crate::brewing::residual_volumes;
use crate::brewing::volumes_from_unfinished;
use crate::domain::Bottle;
use crate::domain::Diastatic;
use crate::domain::Ebc;
use crate::domain::FermentableUse;
use crate::domain::Ferments;
use crate::domain::Goes;
use crate::domain::HopTime;
use crate::domain::Percent;
use crate::domain::PrimingSugar;
use crate::domain::Recipe;
use crate::domain::Spread;
use crate::domain::Volumes;
use crate::workflow::BatchLog;

/// Efficiency where nobody states it, low, usual and high (judgement: small kitchens).
const EFFICIENCY: [f64; 3] = [0.60, 0.70, 0.80];
/// How far a stated efficiency strays from brew to brew (judgement).
const EFFICIENCY_STRAYS: f64 = 0.03;
/// Apparent attenuation where no yeast is named, low, usual and high (common practice: 70 to 80 %).
const ATTENUATION: [f64; 3] = [0.70, 0.75, 0.80];
/// How far a stated attenuation strays from brew to brew (judgement).
const ATTENUATION_STRAYS: f64 = 0.03;
/// How far the bitterness formula strays (common practice: 20 to 30 %).
const BITTERNESS_STRAYS: f64 = 0.25;
/// Fermentation temperature where nobody states it, °C (judgement).
const ROOM_CELSIUS: f64 = 20.0;
/// Warmest storage where nobody states it, °C (judgement: a kitchen in summer).
const WARM_CELSIUS: f64 = 25.0;

/// Where a figure comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// Measured and logged.
    Measured,
    /// Computed from what was measured.
    FromMeasured,
    /// Computed from the recipe.
    Computed,
}

impl Origin {
    /// The word on screen and in JSON.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::FromMeasured => "from measurements",
            Self::Computed => "from the recipe",
        }
    }
}

/// One figure with its range.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// The key in JSON.
    pub id: &'static str,
    /// The words on screen.
    pub word: &'static str,
    /// The value in `unit`.
    pub value: f64,
    /// The value with every ingredient at its low and at its high end; none for what was measured.
    pub range: Option<(f64, f64)>,
    /// The unit.
    pub unit: &'static str,
    /// How many decimals make sense.
    pub decimals: usize,
    /// Where it comes from.
    pub origin: Origin,
}

/// All figures of a beer, and what could not be told.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Figures {
    /// The figures, in the order of a brew.
    pub figures: Vec<Figure>,
    /// What was assumed because nobody stated it.
    pub assumed: Vec<String>,
    /// What to take care of with the bottles, most pressing first.
    pub cautions: Vec<String>,
}

impl Figures {
    /// The figure with this key.
    #[must_use]
    pub fn get(&self, id: &str) -> Option<&Figure> {
        self.figures.iter().find(|figure| figure.id == id)
    }
}

/// Which end of every spread a run of the formulas takes.
#[derive(Debug, Clone, Copy)]
enum End {
    Low,
    Usual,
    High,
}

impl End {
    const fn of(self, spread: Spread) -> f64 {
        match self {
            Self::Low => spread.low(),
            Self::Usual => spread.usual(),
            Self::High => spread.high(),
        }
    }

    const fn among(self, [low, usual, high]: [f64; 3]) -> f64 {
        match self {
            Self::Low => low,
            Self::Usual => usual,
            Self::High => high,
        }
    }

    fn around(self, value: f64, strays: f64) -> f64 {
        self.among([value - strays, value, value + strays])
    }
}

/// The formulas at one end of everything.
struct Run<'a> {
    recipe: &'a Recipe,
    log: &'a BatchLog,
    end: End,
}

impl Run<'_> {
    fn litres(&self) -> f64 {
        self.log
            .number("volume-fermenter")
            .unwrap_or_else(|| self.recipe.volume.get())
    }

    fn extract_share(&self, it: &FermentableUse) -> f64 {
        it.extract.map_or_else(
            || self.end.of(it.fermentable.extract),
            |share| share.get() / 100.0,
        )
    }

    fn efficiency(&self) -> f64 {
        self.recipe.efficiency.map_or_else(
            || self.end.among(EFFICIENCY),
            |stated| {
                self.end
                    .around(stated.get() / 100.0, EFFICIENCY_STRAYS)
                    .clamp(0.0, 1.0)
            },
        )
    }

    fn charge(&self, it: &FermentableUse) -> ExtractCharge {
        ExtractCharge {
            kilograms: it.amount.get() / 1_000.0,
            extract_fraction: self.extract_share(it),
            source: match it.fermentable.goes {
                Goes::Mash => ExtractSource::Mashed,
                Goes::Dissolved => ExtractSource::Dissolved,
            },
        }
    }

    fn original(&self) -> Option<Plato> {
        if let Some(gravity) = self.log.number("original-gravity") {
            return SpecificGravity::new(gravity).plato();
        }
        let grist: Vec<ExtractCharge> = self
            .recipe
            .fermentables
            .iter()
            .map(|it| self.charge(it))
            .collect();
        original_extract(&grist, self.efficiency(), self.litres())
    }

    fn mix(&self) -> Option<ExtractMix> {
        let mass = |wanted: Option<Ferments>| {
            self.recipe
                .fermentables
                .iter()
                .filter(|it| wanted.is_none_or(|wanted| it.fermentable.ferments == wanted))
                .map(|it| self.charge(it).extract_kilograms(self.efficiency()))
                .sum::<Option<f64>>()
        };
        let all = mass(None)?;
        (all > 0.0).then_some(ExtractMix {
            wholly_fermentable: mass(Some(Ferments::Wholly))? / all,
            unfermentable: mass(Some(Ferments::Not))? / all,
        })
    }

    fn attenuation(&self) -> f64 {
        let Some(yeast) = &self.recipe.yeast else {
            return self.end.among(ATTENUATION);
        };
        yeast.attenuation.map_or_else(
            || self.end.of(yeast.yeast.attenuation) / 100.0,
            |stated| {
                self.end
                    .around(stated.get() / 100.0, ATTENUATION_STRAYS)
                    .clamp(0.0, 1.0)
            },
        )
    }

    fn expected_end(&self) -> Option<Plato> {
        self.mix()?
            .final_extract(self.original()?, self.attenuation())
    }

    fn apparent(&self) -> Option<Plato> {
        match self.log.number("final-gravity") {
            Some(gravity) => SpecificGravity::new(gravity).plato(),
            None => self.expected_end(),
        }
    }

    fn bitterness(&self) -> Option<f64> {
        let gravity = self.original()?.specific_gravity()?;
        let units = self
            .recipe
            .hops
            .iter()
            .map(|it| {
                let alpha = it
                    .alpha
                    .map_or_else(|| self.end.of(it.hop.alpha), Percent::get);
                HopCharge {
                    grams: it.amount.get(),
                    alpha_fraction: alpha / 100.0,
                    contact: contact(it.when),
                }
                .bitterness_units(gravity, self.litres())
            })
            .sum::<Option<f64>>()?;
        Some(units * self.end.around(1.0, BITTERNESS_STRAYS))
    }

    fn colour(&self) -> Option<f64> {
        let grist: Vec<ColourCharge> = self
            .recipe
            .fermentables
            .iter()
            .map(|it| ColourCharge {
                kilograms: it.amount.get() / 1_000.0,
                ebc: it
                    .colour
                    .map_or_else(|| self.end.of(it.fermentable.colour), Ebc::get),
            })
            .collect();
        beer_ebc(&grist, self.litres())
    }
}

const fn contact(when: HopTime) -> HopContact {
    match when {
        HopTime::Boil(time) => HopContact::Boil {
            minutes: time.get(),
        },
        HopTime::Whirlpool { temperature, time } => HopContact::Stand {
            minutes: time.get(),
            celsius: temperature.get(),
        },
        HopTime::Dry { .. } => HopContact::Dry,
    }
}

/// The figures of a recipe, with what was measured in their place.
#[must_use]
pub fn figures(recipe: &Recipe, log: &BatchLog) -> Figures {
    let run = |end| Run { recipe, log, end };
    let (low, usual, high) = (run(End::Low), run(End::Usual), run(End::High));
    let measured_start = log.number("original-gravity").is_some();
    let measured_end = log.number("final-gravity").is_some();
    let from = |measured: bool| {
        if measured {
            Origin::FromMeasured
        } else {
            Origin::Computed
        }
    };
    let gravity = |plato: Option<Plato>| Some(plato?.specific_gravity()?.ratio());
    let alcohol =
        |start: &Run<'_>, end: &Run<'_>| alcohol_by_volume(start.original()?, end.apparent()?);
    let real = |start: &Run<'_>, end: &Run<'_>| {
        Some(real_extract(start.original()?, end.apparent()?)?.degrees())
    };
    let mut made = Figures {
        assumed: assumed(recipe, log),
        ..Figures::default()
    };
    let mut add =
        |(id, word, unit, decimals): (&'static str, &'static str, &'static str, usize),
         [low, value, high]: [Option<f64>; 3],
         origin: Origin| {
            let range = low.zip(high).filter(|_| origin != Origin::Measured);
            made.figures.extend(value.map(|value| Figure {
                id,
                word,
                value,
                range: range.map(|(a, b)| (a.min(b), a.max(b))),
                unit,
                decimals,
                origin,
            }));
        };
    let start = [&low, &usual, &high].map(|it| gravity(it.original()));
    add(
        ("original-gravity", "Original gravity", "", 3),
        start,
        if measured_start {
            Origin::Measured
        } else {
            Origin::Computed
        },
    );
    // A high attenuation leaves a low end: the ends of the range come from crossing the two.
    let end = [&high, &usual, &low].map(|it| gravity(it.apparent()));
    add(
        ("final-gravity", "Final gravity", "", 3),
        end,
        if measured_end {
            Origin::Measured
        } else {
            from(measured_start)
        },
    );
    add(
        ("alcohol", "Alcohol", "% vol", 1),
        [
            alcohol(&low, &low),
            alcohol(&usual, &usual),
            alcohol(&high, &high),
        ],
        from(measured_start && measured_end),
    );
    add(
        ("real-extract", "Real extract", "% w/w", 1),
        [real(&high, &high), real(&usual, &usual), real(&low, &low)],
        from(measured_start && measured_end),
    );
    add(
        ("bitterness", "Bitterness", "IBU", 0),
        [low.bitterness(), usual.bitterness(), high.bitterness()],
        Origin::Computed,
    );
    add(
        ("colour", "Colour", "EBC", 0),
        [low.colour(), usual.colour(), high.colour()],
        Origin::Computed,
    );
    add_gas(&mut made, recipe, log, &usual);
    made
}

/// The gas: what is in the beer when packaged, what the priming adds, what the bottle says to that.
fn add_gas(made: &mut Figures, recipe: &Recipe, log: &BatchLog, usual: &Run<'_>) {
    let warmest = [
        log.number("pitching-temperature"),
        log.number("fermentation-temperature"),
    ]
    .into_iter()
    .flatten()
    .reduce(f64::max)
    .or_else(|| Some(recipe.yeast.as_ref()?.temperature?.get()))
    .unwrap_or(ROOM_CELSIUS);
    let residual = residual_volumes(warmest);
    let litres = log
        .number("volume-packaged")
        .or_else(|| log.number("volume-fermenter"))
        .unwrap_or_else(|| recipe.volume.get());
    let sugar = priming_sugar(recipe.packaging.priming.unwrap_or(PrimingSugar::Sucrose));
    let primed = log
        .number("priming-sugar")
        .and_then(|grams| Some(residual? + sugar.volumes_from(grams, litres)?));
    let aimed = recipe.packaging.carbonation.map(Volumes::get);
    let unfinished = unfinished(log, usual);
    let Some(volumes) = primed.or(aimed) else {
        return;
    };
    made.figures.push(Figure {
        id: "carbonation",
        word: "Carbonation",
        value: volumes + unfinished,
        range: Some((volumes + unfinished - 0.2, volumes + unfinished + 0.2)),
        unit: "vol",
        decimals: 1,
        origin: if primed.is_some() {
            Origin::FromMeasured
        } else {
            Origin::Computed
        },
    });
    if let (None, Some(residual), Some(target)) = (primed, residual, aimed) {
        made.figures.extend(
            sugar
                .grams_for(target, residual, litres)
                .map(|value| Figure {
                    id: "priming-sugar",
                    word: "Priming sugar, whole batch",
                    value,
                    range: None,
                    unit: "g",
                    decimals: 0,
                    origin: Origin::Computed,
                }),
        );
    }
    let storage = log.number("storage-temperature").unwrap_or(WARM_CELSIUS);
    made.cautions = gas_cautions(recipe, unfinished, volumes + unfinished, storage);
}

/// Volumes still to come because the beer was closed in above its expected end.
fn unfinished(log: &BatchLog, usual: &Run<'_>) -> f64 {
    let still = || {
        let now = SpecificGravity::new(log.number("final-gravity")?);
        volumes_from_unfinished(now, usual.expected_end()?.specific_gravity()?)
    };
    // Less than three points above the expectation is within what a yeast strays.
    still().filter(|volumes| *volumes > 1.5).unwrap_or(0.0)
}

fn gas_cautions(recipe: &Recipe, unfinished: f64, volumes: f64, storage: f64) -> Vec<String> {
    let mut cautions = Vec::new();
    match PressureCaution::of(volumes, storage, bottle_kind(recipe.packaging.bottle)) {
        Some(PressureCaution::OverLimit { limit_volumes, bar, .. }) => cautions.push(format!(
            "DANGER: {volumes:.1} volumes, {bar:.1} bar at {storage:.0} °C, are more than this bottle ({}) should hold ({limit_volumes:.1}). Bottles may burst. Chill them at once, keep them in a closed crate away from people, wear eye and hand protection, and vent them outdoors.",
            recipe.packaging.bottle.word()
        )),
        Some(PressureCaution::TooWarm { celsius, bar, limit_bar }) => cautions.push(format!(
            "Stored at {celsius:.0} °C the bottles stand at {bar:.1} bar, above the {limit_bar:.1} bar they are good for at 20 °C. Keep them cooler."
        )),
        Some(PressureCaution::CloseToLimit { limit_volumes, .. }) => cautions.push(format!(
            "{volumes:.1} volumes come close to the limit of this bottle ({limit_volumes:.1}): prime evenly, keep it cool, open one early."
        )),
        Some(PressureCaution::WarmStorage { celsius, .. }) => {
            cautions.push(format!("Stored at {celsius:.0} °C: cooler is safer and keeps the beer fresh."));
        }
        Some(PressureCaution::WithinLimit { .. }) | None => {}
    }
    if unfinished > 0.0 {
        cautions.push(format!(
            "The final gravity is above what this yeast usually reaches: if it goes on, about {unfinished:.1} volumes more come up in the bottle. Check one bottle every few days, cold, with eye protection."
        ));
    }
    if recipe
        .yeast
        .as_ref()
        .is_some_and(|it| it.yeast.diastatic == Diastatic::Yes)
    {
        cautions.push("This kind of yeast may keep eating in the bottle for months: heavy bottles, cool storage, and open one every few weeks.".to_owned());
    }
    cautions
}

fn assumed(recipe: &Recipe, log: &BatchLog) -> Vec<String> {
    let mut assumed = Vec::new();
    if recipe.efficiency.is_none() && log.number("original-gravity").is_none() {
        assumed.push("efficiency not stated: 60 to 80 % assumed".to_owned());
    }
    if recipe.yeast.is_none() && log.number("final-gravity").is_none() {
        assumed.push("yeast not stated: an attenuation of 70 to 80 % assumed".to_owned());
    }
    if recipe.packaging.bottle == Bottle::Unknown {
        assumed.push("bottle not stated: counted as one that holds 3 volumes".to_owned());
    }
    assumed
}

const fn priming_sugar(sugar: PrimingSugar) -> Sugar {
    match sugar {
        PrimingSugar::Sucrose => Sugar::Sucrose,
        PrimingSugar::Glucose => Sugar::Glucose,
        PrimingSugar::DextroseMonohydrate => Sugar::DextroseMonohydrate,
    }
}

const fn bottle_kind(bottle: Bottle) -> BottleKind {
    match bottle {
        Bottle::OneWay | Bottle::Crown => BottleKind::CrownOneWay,
        Bottle::Heavy => BottleKind::HeavyReusable,
        Bottle::SwingTop => BottleKind::SwingTop,
        Bottle::Champagne => BottleKind::Champagne,
        Bottle::Plastic => BottleKind::Pet,
        Bottle::Keg | Bottle::Unknown => BottleKind::Unknown,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::BatchEntry;
    use crate::domain::BatchEntryId;
    use crate::domain::EntryKind;
    use crate::formats::read_recipe;
    use crate::statistics::Dice;
    use crate::workflow::Clock;
    use crate::workflow::Home;

    /// An invented pale ale, worked by an outside calculation: 14.14 °P, OG 1.0574, SRM 8.25,
    /// IBU 32.93, FG 1.0132, 5.84 % vol. Malts at 2 and 40 °L stand here as EBC (times 1.97).
    const PALE: &str = r#"
        name = "Pale"
        version = "1"
        volume = "20 L"
        efficiency = "75 %"
        [[fermentable]]
        name = "pale"
        amount = "4.5 kg"
        extract = "80 %"
        colour = "3.94 EBC"
        [[fermentable]]
        name = "amber"
        amount = "0.5 kg"
        extract = "76 %"
        colour = "78.8 EBC"
        [[hop]]
        name = "first"
        amount = "20 g"
        alpha = "12 %"
        boil = "60 min"
        [[hop]]
        name = "second"
        amount = "30 g"
        alpha = "6 %"
        boil = "10 min"
        [yeast]
        name = "yeast"
        attenuation = "77 %"
        [carbonation]
        target = "2.4 vol"
        bottle = "crown"
        [[declare.fermentable]]
        name = "pale"
        family = "base"
        [[declare.fermentable]]
        name = "amber"
        family = "crystal"
        [[declare.hop]]
        name = "first"
        [[declare.hop]]
        name = "second"
        [[declare.yeast]]
        name = "yeast"
    "#;

    fn home() -> Home {
        Home::in_memory(Clock::system(), Dice::from_seed(1)).unwrap()
    }

    fn pale() -> Recipe {
        let home = home();
        read_recipe("pale", PALE, home.catalogue(), home.wheel()).unwrap()
    }

    fn log(entries: &[(&str, &str)]) -> BatchLog {
        let mut clock = Clock::system();
        BatchLog::new(
            entries
                .iter()
                .map(|(kind, value)| {
                    let kind = EntryKind::from_id(kind).unwrap();
                    BatchEntry {
                        id: BatchEntryId::new(kind.id),
                        kind,
                        value: kind.read(value).unwrap(),
                        at: clock.now(),
                    }
                })
                .collect(),
        )
    }

    fn value(figures: &Figures, id: &str) -> f64 {
        figures.get(id).unwrap().value
    }

    #[test]
    fn a_recipe_worked_outside_comes_out_the_same() {
        let figures = figures(&pale(), &BatchLog::default());
        let near = |id: &str, expected: f64, within: f64| {
            let found = value(&figures, id);
            assert!(
                (found - expected).abs() <= within,
                "{id}: {found}, expected {expected}"
            );
        };
        near("original-gravity", 1.0574, 0.0001);
        near("bitterness", 32.93, 0.02);
        // SRM 8.25 times 1.97.
        near("colour", 16.25, 0.02);
        // The outside calculation attenuates gravity points, ours the extract: 0.0005 apart.
        near("final-gravity", 1.0132, 0.0005);
        near("alcohol", 5.84, 0.1);
    }

    #[test]
    fn what_was_measured_stands_in_the_place_of_what_was_computed() {
        let log = log(&[("original-gravity", "1.0484"), ("final-gravity", "1.0117")]);
        let figures = figures(&pale(), &log);
        assert_eq!(
            figures.get("original-gravity").unwrap().origin,
            Origin::Measured
        );
        assert_eq!(figures.get("original-gravity").unwrap().range, None);
        // Worked example of Balling's formulas: 12 °P to 3 °P gives 4.82 % vol, real extract 4.695.
        assert!((value(&figures, "alcohol") - 4.82).abs() < 0.02);
        assert!((value(&figures, "real-extract") - 4.695).abs() < 0.02);
    }

    #[test]
    fn priming_by_weight_counts_instead_of_the_target() {
        // 118 g of sucrose in 20 L at 20 °C is 2.4 volumes by the common priming formula.
        let log = log(&[("priming-sugar", "118"), ("fermentation-temperature", "20")]);
        let figures = figures(&pale(), &log);
        assert!((value(&figures, "carbonation") - 2.4).abs() < 0.02);
        assert!(figures.get("priming-sugar").is_none());
    }

    #[test]
    fn too_much_sugar_is_a_danger_said_loudly() {
        let figures = figures(&pale(), &log(&[("priming-sugar", "300")]));
        assert!(
            figures.cautions[0].starts_with("DANGER"),
            "{:?}",
            figures.cautions
        );
    }

    #[test]
    fn a_final_gravity_far_above_the_expected_one_warns_of_gas_to_come() {
        let figures = figures(&pale(), &log(&[("final-gravity", "1.022")]));
        assert!(
            figures
                .cautions
                .iter()
                .any(|it| it.contains("more come up in the bottle"))
        );
    }

    #[test]
    fn what_nobody_stated_is_said_to_be_assumed_and_widens_the_range() {
        let stated = figures(&pale(), &BatchLog::default());
        let mut recipe = pale();
        recipe.efficiency = None;
        let unstated = figures(&recipe, &BatchLog::default());
        let width = |it: &Figures| {
            let (low, high) = it.get("original-gravity").unwrap().range.unwrap();
            high - low
        };
        assert!(width(&unstated) > 2.0 * width(&stated));
        assert!(unstated.assumed.iter().any(|it| it.contains("efficiency")));
    }
}
