//! The figures of a beer: gravity, alcohol, bitterness, colour and gas, from its recipe and its log.

use crate::brewing::Plato;
use crate::brewing::alcohol_by_volume;
use crate::brewing::real_extract;
use crate::domain::Bottle;
use crate::domain::Recipe;
use crate::workflow::BatchLog;
use crate::workflow::brew_run::End;
use crate::workflow::brew_run::Run;
use crate::workflow::gas::add_gas;

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
    /// The origin of what is computed: from a measurement where there is one.
    pub(super) const fn of(measured: Option<f64>) -> Self {
        match measured {
            Some(_) => Self::FromMeasured,
            None => Self::Computed,
        }
    }

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

/// The figures of a recipe, with what was measured in their place.
#[must_use]
pub fn figures(recipe: &Recipe, log: &BatchLog) -> Figures {
    let run = |end, yeast| Run {
        recipe,
        log,
        end,
        yeast,
    };
    let usual = run(End::Usual, End::Usual);
    // A strong wort with an eager yeast makes most alcohol, with a lazy one it leaves most behind.
    let strong = [run(End::Low, End::Low), usual, run(End::High, End::High)];
    let left = [run(End::Low, End::High), usual, run(End::High, End::Low)];
    let mut made = Figures {
        figures: [
            gravities(&left, log),
            strengths(&strong, &left, log),
            bitterness_and_colour(&strong),
        ]
        .concat(),
        assumed: assumed(recipe, log),
        cautions: Vec::new(),
    };
    add_gas(&mut made, recipe, log, &usual);
    made
}

/// A figure from its low, usual and high value; none if there is no usual one.
fn figure(
    (id, word, unit, decimals): (&'static str, &'static str, &'static str, usize),
    [low, usual, high]: [Option<f64>; 3],
    origin: Origin,
) -> Option<Figure> {
    let range = low.zip(high).filter(|_| origin != Origin::Measured);
    Some(Figure {
        id,
        word,
        value: usual?,
        range: range.map(|(a, b)| (a.min(b), a.max(b))),
        unit,
        decimals,
        origin,
    })
}

fn ratio(plato: Option<Plato>) -> Option<f64> {
    Some(plato?.specific_gravity()?.ratio())
}

fn gravities(runs: &[Run<'_>; 3], log: &BatchLog) -> Vec<Figure> {
    let start = runs.each_ref().map(|run| ratio(run.original()));
    let end = runs.each_ref().map(|run| ratio(run.apparent()));
    let measured_start = log.number("original-gravity");
    let (start_origin, end_origin) = (
        measured_start.map_or(Origin::Computed, |_| Origin::Measured),
        log.number("final-gravity")
            .map_or(Origin::of(measured_start), |_| Origin::Measured),
    );
    let start = figure(
        ("original-gravity", "Original gravity", "", 3),
        start,
        start_origin,
    );
    let end = figure(("final-gravity", "Final gravity", "", 3), end, end_origin);
    start.into_iter().chain(end).collect()
}

fn strengths(strong: &[Run<'_>; 3], left: &[Run<'_>; 3], log: &BatchLog) -> Vec<Figure> {
    let alcohol = strong
        .each_ref()
        .map(|run| alcohol_by_volume(run.original()?, run.apparent()?));
    let extract = left
        .each_ref()
        .map(|run| Some(real_extract(run.original()?, run.apparent()?)?.degrees()));
    let either = log
        .number("original-gravity")
        .or(log.number("final-gravity"));
    let origin = Origin::of(either);
    let alcohol = figure(("alcohol", "Alcohol", "% vol", 1), alcohol, origin);
    let extract = figure(
        ("real-extract", "Real extract", "% w/w", 1),
        extract,
        origin,
    );
    alcohol.into_iter().chain(extract).collect()
}

fn bitterness_and_colour(runs: &[Run<'_>; 3]) -> Vec<Figure> {
    let bitterness = runs.each_ref().map(Run::bitterness);
    let colour = runs.each_ref().map(Run::colour);
    let bitterness = figure(
        ("bitterness", "Bitterness", "IBU", 0),
        bitterness,
        Origin::Computed,
    );
    let colour = figure(("colour", "Colour", "EBC", 0), colour, Origin::Computed);
    bitterness.into_iter().chain(colour).collect()
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::BatchEntry;
    use crate::domain::BatchEntryId;
    use crate::domain::Days;
    use crate::domain::EntryKind;
    use crate::domain::Grams;
    use crate::domain::HopTime;
    use crate::domain::HopUse;
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
    fn sugar_beside_the_malt_does_not_blunt_what_a_hot_mash_costs_the_wort() {
        let document = r#"
            name = "Half sugar"
            version = "1"
            volume = "5 L"
            efficiency = "70 %"
            [mash]
            temperature = "70 °C"
            [[fermentable]]
            name = "Pale malt"
            amount = "500 g"
            [[sugar]]
            name = "White sugar"
            amount = "273 g"
            [yeast]
            name = "Clean ale yeast"
        "#;
        let recipe = home().parse_recipe("half", document).unwrap();
        // By hand: 0.5 × 0.78 × 0.70 and 0.273 kg are half and half, 10.498 °P. 70 °C costs the wort
        // 0.015 × 4: it goes 0.71 far, which ferments 0.59054 of it. F = 10.498 × (0.5 + 0.29527) = 8.3486,
        // RE = 100 × 2.1492 / (100 − 0.51609 F) = 2.2460, AE = 0.3440 °P, SG 1.00134.
        let end = value(&figures(&recipe, &BatchLog::default()), "final-gravity");
        assert!((end - 1.001_34).abs() < 0.000_05, "{end}");
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
    fn every_range_holds_its_own_value() {
        for entries in [&[][..], &[("original-gravity", "1.0484")]] {
            for figure in figures(&pale(), &log(entries)).figures {
                let (low, high) = figure.range.unwrap_or((figure.value, figure.value));
                assert!(low <= figure.value && figure.value <= high, "{figure:?}");
            }
        }
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
    fn what_dry_hops_may_still_free_is_a_danger_where_it_passes_the_bottle() {
        let mut recipe = pale();
        let dry = |amount: f64| HopUse {
            amount: Grams::new(amount).unwrap(),
            when: HopTime::Dry {
                days: Days::new(3.0).unwrap(),
                temperature: None,
            },
            ..pale().hops[0].clone()
        };
        recipe.hops.push(dry(20.0));
        let words = |recipe: &Recipe| figures(recipe, &BatchLog::default()).cautions.concat();
        // 1 g/L: 0.19 volumes by the figures of hop_enzymes.rs, not worth a word.
        assert!(!words(&recipe).contains("Enzymes"), "{}", words(&recipe));
        recipe.hops.push(dry(180.0));
        // 10 g/L less three days: 1.9 × e^-0.2 = 1.6 volumes on 2.4; half of it passes the 3.0 of the bottle.
        let told = words(&recipe);
        assert!(
            told.contains("DANGER: Enzymes") && told.contains("1.6 volumes"),
            "{told}"
        );
        // After four weeks on the hops nearly all of it has happened.
        let waited = log(&[("dry-hopped", "2026-03-01"), ("packaged", "2026-04-20")]);
        assert!(
            !figures(&recipe, &waited)
                .cautions
                .concat()
                .contains("Enzymes")
        );
    }

    #[test]
    fn uneven_sugar_is_a_danger_in_a_small_batch_only() {
        let told = |litres: &str, grams: &str| {
            let log = log(&[("volume-packaged", litres), ("priming-sugar", grams)]);
            figures(&pale(), &log).cautions.concat()
        };
        // 8 g/L of sucrose make 8/3.84 = 2.08 volumes on 0.86: 2.94, and a quarter more 3.46 of 3.0.
        assert!(
            told("4", "32").contains("DANGER: in so small a batch"),
            "{}",
            told("4", "32")
        );
        assert!(
            !told("18", "144").contains("so small"),
            "{}",
            told("18", "144")
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
