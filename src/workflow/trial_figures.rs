//! Figures of random recipes that could be brewed: every one of them is a number that a beer can have.

use std::fmt::Write as _;

use proptest::option;
use proptest::prelude::Just;
use proptest::prelude::Strategy;
use proptest::prop_assert;
use proptest::prop_oneof;
use proptest::test_runner::TestCaseResult;
use proptest::test_runner::TestRunner;

use crate::workflow::BatchLog;
use crate::workflow::Figures;
use crate::workflow::Home;
use crate::workflow::figures;

/// What each figure lies between in any beer. Gravities: alcohol in water to what the ASBC cubic holds.
/// Attenuation: by the quotient all sugar shows 122 % and more. Energy: 36 °P, unfermented or
/// fermented, comes to less than 170 kcal. Colour: a mash of 0.6 kg/L all of roast.
const PHYSICAL: [(&str, f64, f64); 10] = [
    ("original-gravity", 1.0, 1.16),
    ("final-gravity", 0.98, 1.16),
    ("alcohol", 0.0, 25.0),
    ("real-extract", 0.0, 36.0),
    ("apparent-attenuation", 0.0, 126.0),
    ("energy", 0.0, 170.0),
    ("bitterness", 0.0, 150.0),
    ("colour", 0.0, 1_100.0),
    ("carbonation", 0.0, 5.0),
    ("priming-sugar", 0.0, 1_000.0),
];

/// A recipe in amounts a litre.
#[derive(Debug, Clone)]
pub(super) struct Plan {
    litres: f64,
    malt: f64,
    crystal: f64,
    sugar: f64,
    efficiency: Option<f64>,
    attenuation: Option<f64>,
    mash: f64,
    hops: Vec<(f64, Option<f64>, String)>,
    gas: Option<f64>,
}

impl Plan {
    pub(super) fn document(&self) -> String {
        let mut text = format!(
            "name = \"Plan\"\nversion = \"1\"\nvolume = \"{:.4} L\"\n",
            self.litres
        );
        if let Some(efficiency) = self.efficiency {
            writeln!(text, "efficiency = {efficiency:.3}").unwrap();
        }
        writeln!(text, "[mash]\ntemperature = \"{:.2} °C\"", self.mash).unwrap();
        for (table, name, kilograms) in [
            ("fermentable", "Pale malt", self.malt),
            ("fermentable", "Crystal malt, medium", self.crystal),
            ("sugar", "Table sugar", self.sugar),
        ] {
            let grams = 1_000.0 * kilograms * self.litres;
            writeln!(
                text,
                "[[{table}]]\nname = \"{name}\"\namount = \"{grams:.4} g\""
            )
            .unwrap();
        }
        for (dose, alpha, when) in &self.hops {
            let grams = dose * self.litres;
            writeln!(
                text,
                "[[hop]]\nname = \"Saaz\"\namount = \"{grams:.4} g\"\n{when}"
            )
            .unwrap();
            if let Some(alpha) = alpha {
                writeln!(text, "alpha = {alpha:.3}").unwrap();
            }
        }
        if let Some(attenuation) = self.attenuation {
            writeln!(
                text,
                "[yeast]\nname = \"Clean ale yeast\"\nattenuation = {attenuation:.3}"
            )
            .unwrap();
        }
        if let Some(gas) = self.gas {
            writeln!(
                text,
                "[carbonation]\ntarget = \"{gas:.3} vol\"\nbottle = \"crown\""
            )
            .unwrap();
        }
        text
    }

    fn figures(&self, home: &Home) -> Figures {
        let document = self.document();
        let recipe = home
            .parse_recipe("plan", &document)
            .unwrap_or_else(|error| panic!("{error}\n{document}"));
        figures(&recipe, &BatchLog::default())
    }
}

fn when() -> impl Strategy<Value = String> {
    prop_oneof![
        (0.0..90.0_f64).prop_map(|minutes| format!("boil = \"{minutes:.2} min\"")),
        (60.0..98.0_f64, 0.0..60.0_f64).prop_map(|(celsius, minutes)| format!(
            "whirlpool = \"{celsius:.2} °C for {minutes:.2} min\""
        )),
        (1.0..10.0_f64).prop_map(|days| format!("dry = \"{days:.2} days\"")),
    ]
}

pub(super) fn plan() -> impl Strategy<Value = Plan> {
    let grist = (
        0.1..0.3_f64,
        prop_oneof![Just(0.000_1), 0.0001..0.04_f64],
        0.0001..0.04_f64,
    );
    let yields = (
        option::of(40.0..95.0_f64),
        option::of(0.0..100.0_f64),
        60.0..75.0_f64,
    );
    let hop = (0.1..4.0_f64, option::of(0.0..20.0_f64), when());
    let hops = proptest::collection::vec(hop, 0..6);
    (1.0..50.0_f64, grist, yields, hops, option::of(1.2..3.0_f64)).prop_map(
        |(litres, (malt, crystal, sugar), (efficiency, attenuation, mash), hops, gas)| Plan {
            litres,
            malt,
            crystal,
            sugar,
            efficiency,
            attenuation,
            mash,
            hops,
            gas,
        },
    )
}

fn value(figures: &Figures, id: &str) -> f64 {
    figures.get(id).expect("every plan has it").value
}

/// Plays a property with random plans, on one home.
pub(super) fn play<S: Strategy>(plans: &S, property: impl Fn(&Home, S::Value) -> TestCaseResult) {
    let home = Home::trial();
    TestRunner::default()
        .run(plans, |plan| property(&home, plan))
        .unwrap();
}

#[test]
fn every_figure_of_a_recipe_is_one_that_a_beer_can_have() {
    play(&plan(), |home, plan| {
        let made = plan.figures(home);
        for (id, _, _) in PHYSICAL.iter().take(8) {
            prop_assert!(made.get(id).is_some(), "{id} is not told");
        }
        for figure in &made.figures {
            let physical = PHYSICAL.iter().find(|it| it.0 == figure.id);
            let (_, least, most) = physical.expect("every figure has a range here");
            let (low, high) = figure.range.unwrap_or((figure.value, figure.value));
            prop_assert!(low <= figure.value && figure.value <= high, "{figure:?}");
            prop_assert!(*least <= low && high <= *most, "{figure:?}");
        }
        prop_assert!(value(&made, "final-gravity") <= value(&made, "original-gravity"));
        Ok(())
    });
}

#[test]
fn more_malt_never_lowers_the_gravity_and_more_water_never_raises_it() {
    play(&(plan(), 1.0..1.5_f64), |home, (plan, more)| {
        let starts = |plan: &Plan| {
            let made = plan.figures(home);
            let figure = made.get("original-gravity").expect("every plan has it");
            let (low, high) = figure.range.expect("nothing is measured");
            [low, figure.value, high]
        };
        let plain = starts(&plan);
        let stronger = starts(&Plan {
            malt: plan.malt * more,
            ..plan.clone()
        });
        // The same grist in more water: less of each in a litre.
        let thinner = starts(&Plan {
            litres: plan.litres * more,
            malt: plan.malt / more,
            crystal: plan.crystal / more,
            sugar: plan.sugar / more,
            ..plan
        });
        // The document rounds amounts to a tenth of a milligram and volumes to a tenth of a millilitre:
        // a ten-thousandth of the gravity points at most.
        for ((plain, stronger), thinner) in plain.into_iter().zip(stronger).zip(thinner) {
            prop_assert!(stronger >= plain - 1e-5, "{plain} {stronger}");
            prop_assert!(thinner <= plain + 1e-5, "{plain} {thinner}");
        }
        Ok(())
    });
}
