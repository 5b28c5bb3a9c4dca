//! An invented kitchen in which beers taste as they do: by other numbers and of another form than the prediction's.

use std::hash::DefaultHasher;
use std::hash::Hash;
use std::hash::Hasher;

use crate::domain::Recipe;
use crate::domain::Scale;
use crate::domain::Stage;
use crate::profile::Drivers;
use crate::profile::Outlook;
use crate::profile::OutlookLine;
use crate::profile::OutlookLines;
use crate::profile::SCALE_RULES;
use crate::profile::ScaleRule;
use crate::profile::Source;
use crate::profile::arrived;
use crate::statistics::Dice;
use crate::workflow::Home;

/// Where a smell is met.
const STAGES: [Stage; 2] = [Stage::Aroma, Stage::Flavour];
/// How far the truth of a gift lies from the catalogue, SD of log10 of its units: twice or half is no surprise.
const GIFTS_STRAY: f64 = 0.3;
/// How far the truth of a term of a scale lies from its rule, SD of its logarithm.
const TERMS_STRAY: f64 = 0.35;
/// How far a line stands above the prediction for everything, digits.
const LINES_STRAY: f64 = 0.8;
/// The intensity of a smell grows with an exponent from here, so far up, where the prediction has 0.6; and bends at
/// another place than its 8.
const EXPONENTS: [f64; 2] = [0.45, 0.3];
const BENDS: [f64; 2] = [6.0, 4.0];
/// How strongly tastes and smells hide each other at most; no rule of the prediction knows that they do.
const MASKS: f64 = 0.25;

/// A kitchen in which things taste as they do.
pub(super) struct Truth<'a> {
    pub(super) home: &'a Home,
    pub(super) lines: &'a OutlookLines,
    seed: u64,
    exponent: f64,
    bend: f64,
    masks: f64,
}

impl<'a> Truth<'a> {
    pub(super) fn draw(home: &'a Home, lines: &'a OutlookLines, dice: &mut Dice) -> Self {
        Self {
            home,
            lines,
            seed: dice.seed(),
            exponent: EXPONENTS[0] + EXPONENTS[1] * dice.share(),
            bend: BENDS[0] + BENDS[1] * dice.share(),
            masks: MASKS * dice.share(),
        }
    }

    /// A number of this kitchen for a name, always the same.
    fn normal(&self, name: &str) -> f64 {
        let mut hasher = DefaultHasher::new();
        (self.seed, name).hash(&mut hasher);
        Dice::from_seed(hasher.finish()).normal()
    }

    /// What a recipe truly tastes of; none for what cannot be brewed.
    pub(super) fn outlook(&self, recipe: &Recipe) -> Option<Outlook> {
        let mut outlook = self.home.outlook(recipe, self.lines)?;
        let units = self.units(recipe)?;
        for (line, digits) in outlook.digits.iter_mut().enumerate() {
            match self.lines.get(line) {
                Some(OutlookLine::Scale(scale)) => {
                    let rule = SCALE_RULES.iter().find(|it| it.scale == scale.id);
                    *digits = rule.map_or(*digits, |it| self.scale(it, scale, &outlook.drivers));
                }
                Some(OutlookLine::Shelf(..)) => {
                    let u = units[line].max(0.0).powf(self.exponent);
                    *digits = 9.0 * u / (self.bend + u);
                }
                None => {}
            }
        }
        self.hide(&mut outlook.digits);
        for (line, digits) in outlook.digits.iter_mut().enumerate() {
            let is_shelf = matches!(self.lines.get(line), Some(OutlookLine::Shelf(..)));
            // Nothing stays nothing.
            if !is_shelf || *digits >= 0.5 {
                *digits += LINES_STRAY * self.normal(&format!("line {line}"));
            }
            *digits = digits.clamp(0.0, 9.0);
        }
        Some(outlook)
    }

    /// Flavour units by line, every gift by a factor of this kitchen.
    fn units(&self, recipe: &Recipe) -> Option<Vec<f64>> {
        let brew = self.home.planned_brew(recipe)?;
        let mut units = vec![0.0; self.lines.count()];
        for (it, weights) in arrived(&brew) {
            let from = match it.source {
                Source::Fermentable(at) => recipe.fermentables[at].fermentable.identity.id.as_str(),
                Source::Hop(at) => recipe.hops[at].hop.identity.id.as_str(),
                Source::Other(at) => recipe.others[at].other.identity.id.as_str(),
                Source::Yeast => recipe.yeast.as_ref()?.yeast.identity.id.as_str(),
                Source::Condition(_) => "kept",
            };
            let strays = self.normal(&format!("{from} {}", it.gift.shelf));
            for stage in STAGES {
                if let Some(line) = self.lines.of_shelf(&it.gift.shelf, stage) {
                    let factor = 10.0_f64.powf(GIFTS_STRAY * strays);
                    units[line] += factor * it.units * weights.at(stage);
                }
            }
        }
        Some(units)
    }

    /// A scale with every term by a factor of this kitchen.
    fn scale(&self, rule: &ScaleRule, scale: &Scale, drivers: &Drivers) -> f64 {
        let usual = Drivers::default();
        let adds = rule.terms.iter().enumerate().map(|(at, term)| {
            let one = usual.clone().with(term.driver, drivers.get(term.driver));
            let strays = self.normal(&format!("{} {at}", scale.id));
            (TERMS_STRAY * strays).exp() * (rule.value(&one) - rule.value(&usual))
        });
        scale.digits(rule.value(&usual) + adds.sum::<f64>())
    }

    /// Bitter hides sweet and sweet bitter, and loud smells hide quiet ones.
    fn hide(&self, digits: &mut [f64]) {
        let of = |id: &str| self.lines.of_scale(Scale::from_id(id).ok()?);
        if let (Some(sweet), Some(bitter)) = (of("sweet"), of("bitter")) {
            let (s, b) = (digits[sweet], digits[bitter]);
            digits[sweet] = s - self.masks * (b - 4.0);
            digits[bitter] = b - self.masks * (s - 3.0);
        }
        let smells: Vec<usize> = (0..digits.len())
            .filter(|it| matches!(self.lines.get(*it), Some(OutlookLine::Shelf(..))))
            .collect();
        let total: f64 = smells.iter().map(|it| digits[*it]).sum::<f64>() / 2.0;
        for line in smells {
            let hidden = self.masks * ((total - digits[line]) / 40.0).clamp(0.0, 1.0);
            digits[line] *= 1.0 - hidden;
        }
    }
}
