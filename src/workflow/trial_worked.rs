//! Whole recipes worked by hand, step by step, against what the program shows of them to the last digit.
//!
//! The numbers were reckoned apart from the program, from the formulas as published and the rules as they
//! are documented: gravity by bisection of the ASBC cubic, alcohol by Balling with the exact attenuation
//! quotient, boils by Tinseth, stands and cooling by integrating Malowicki & Shellhammer in steps of a fifth
//! of a second at most, colour by Morey, normal quantiles from a statistics library. The comments lead
//! through them, so that they can be followed with a pocket calculator: Φ is the normal distribution, q the
//! attenuation quotient, F what ferments, and the ends of a scale lie 1.28155 standard deviations (sd) from its
//! value; each figure adds to the variance the square of what its own range moves over 2.5631. A smell that is
//! named is met above the threshold: its log10 is the normal one cut off at 0, and 9u/(8 + u) with u = units^0.6
//! makes an intensity of it.

use crate::domain::BatchEntry;
use crate::domain::BatchEntryId;
use crate::domain::Day;
use crate::domain::EntryKind;
use crate::domain::Moment;
use crate::domain::Recipe;
use crate::domain::Stage;
use crate::profile::Prediction;
use crate::workflow::BatchLog;
use crate::workflow::Figures;
use crate::workflow::Home;
use crate::workflow::figures;
use crate::workflow::trial_worked_brewed::BREWED;
use crate::workflow::trial_worked_dark::LANTERN;
use crate::workflow::trial_worked_pale::GABLE;
use crate::workflow::trial_worked_wheat::BARN;

/// A figure as shown: its key, value, ends of its range, and decimals.
pub(super) type Fig = (&'static str, f64, Option<[f64; 2]>, i32);

/// A scale as shown: its id, the digit, and the digits between which eight of ten glasses lie.
pub(super) type Row = (&'static str, f64, [f64; 2]);

/// A shelf as shown: its id, how many in a hundred name it, and how strong it is if so: a tenth, half and
/// nine tenths of tasters stay below.
pub(super) type Smell = (&'static str, u32, [f64; 3]);

/// A beer worked by hand: its recipe and log, the day it was tasted on, and all that must be shown of it.
pub(super) struct Worked {
    pub(super) document: &'static str,
    pub(super) log: &'static [(&'static str, &'static str)],
    pub(super) tasted: Option<&'static str>,
    pub(super) figures: &'static [Fig],
    pub(super) scales: &'static [Row],
    pub(super) smells: [&'static [Smell]; 2],
}

fn read(home: &Home, document: &str) -> Recipe {
    let read = home.parse_recipe("worked", document);
    read.unwrap_or_else(|error| panic!("{error}\n{document}"))
}

fn log(entries: &[(&str, &str)]) -> BatchLog {
    let entries = entries.iter().map(|(id, value)| {
        let kind = EntryKind::from_id(id).unwrap();
        BatchEntry {
            id: BatchEntryId::new(*id),
            kind,
            value: kind.read(value).unwrap(),
            at: Moment::parse("2026-09-12T18:00:00Z").unwrap(),
        }
    });
    BatchLog::new(entries.collect())
}

/// What is further from the number worked by hand than half of its last shown digit.
struct Astray(Vec<String>);

impl Astray {
    fn look(&mut self, what: &str, hand: f64, shown: f64, decimals: i32) {
        // The last bits of a number that ends in a 5 decide nothing.
        let half = 0.5 * 10.0_f64.powi(-decimals) + 1e-9;
        if (hand - shown).abs() > half {
            self.0.push(format!("{what}: {hand} by hand, {shown}"));
        }
    }

    fn figures(&mut self, made: &Figures, hand: &[Fig]) {
        for (id, value, ends, decimals) in hand {
            let figure = made.get(id).unwrap_or_else(|| panic!("{id}"));
            self.look(id, *value, figure.value, *decimals);
            assert_eq!(figure.range.is_some(), ends.is_some(), "{id}");
            if let Some(([low, high], found)) = ends.zip(figure.range) {
                self.look(&format!("{id}, low"), low, found.0, *decimals);
                self.look(&format!("{id}, high"), high, found.1, *decimals);
            }
        }
    }

    fn scales(&mut self, made: &Prediction, hand: &[Row]) {
        let shown: Vec<&str> = made.scales.iter().map(|it| it.scale.id).collect();
        let ids: Vec<&str> = hand.iter().map(|it| it.0).collect();
        assert_eq!(shown, ids);
        for ((id, digit, [low, high]), found) in hand.iter().zip(&made.scales) {
            let ends = found.digits_range();
            self.look(id, *digit, found.digits(), 1);
            self.look(&format!("{id}, low"), *low, ends.0, 1);
            self.look(&format!("{id}, high"), *high, ends.1, 1);
        }
    }

    fn smells(&mut self, made: &Prediction, stage: Stage, hand: &[Smell]) {
        let shown: Vec<_> = made.shelves.iter().filter(|it| it.stage == stage).collect();
        assert!(hand.len() >= 8 && shown.len() >= hand.len());
        for ((id, chance, strong), found) in hand.iter().zip(shown) {
            let what = format!("{}: {id}", stage.id());
            assert_eq!(found.shelf.as_str(), *id, "{}", stage.id());
            self.look(
                &what,
                f64::from(*chance),
                100.0 * found.odour.named().get(),
                0,
            );
            for (hand, shown) in strong.iter().zip(found.odour.if_named()) {
                self.look(&format!("{what}, if named"), *hand, shown, 1);
            }
        }
    }
}

/// Everything that is shown of a beer and strays from the hand.
fn astray(worked: &Worked) -> Vec<String> {
    let home = Home::trial();
    let recipe = read(&home, worked.document);
    let log = log(worked.log);
    let tasted = worked.tasted.map(|day| Day::parse(day).unwrap());
    let made = home.profile_of(&recipe, &log, tasted);
    let mut astray = Astray(Vec::new());
    astray.figures(&figures(&recipe, &log), worked.figures);
    astray.scales(&made, worked.scales);
    let [nose, mouth] = worked.smells;
    astray.smells(&made, Stage::Aroma, nose);
    astray.smells(&made, Stage::Flavour, mouth);
    astray.0
}

#[test]
fn a_pale_hoppy_ale_worked_by_hand_agrees_to_the_last_digit() {
    assert_eq!(astray(&GABLE), Vec::<String>::new());
}

#[test]
fn a_dark_beer_with_old_hops_worked_by_hand_agrees_to_the_last_digit() {
    assert_eq!(astray(&LANTERN), Vec::<String>::new());
}

#[test]
fn a_strong_wheat_beer_worked_by_hand_agrees_to_the_last_digit() {
    assert_eq!(astray(&BARN), Vec::<String>::new());
}

#[test]
fn a_batch_with_its_log_worked_by_hand_agrees_to_the_last_digit() {
    assert_eq!(astray(&BREWED), Vec::<String>::new());
}

#[test]
fn a_digit_that_is_one_off_is_found() {
    let mut astray = Astray(Vec::new());
    astray.look("original gravity", 1.053, 1.053_4, 3);
    assert!(astray.0.is_empty());
    astray.look("original gravity", 1.053, 1.053_6, 3);
    assert_eq!(astray.0.len(), 1);
}
