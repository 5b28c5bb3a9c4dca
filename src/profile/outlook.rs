//! What a recipe comes to line by line, in digits and without ranges: what the search for the next recipe looks at.

use crate::domain::Scale;
use crate::domain::ShelfId;
use crate::domain::Stage;
use crate::profile::Brew;
use crate::profile::Driver;
use crate::profile::Drivers;
use crate::profile::SCALE_RULES;
use crate::profile::arrived;
use crate::profile::intensity_of;
use crate::profile::recipe_drivers::with_recipe;

/// Stages at which a shelf is a line.
const STAGES: [Stage; 2] = [Stage::Aroma, Stage::Flavour];

/// The part of all smells that the overall aroma counts, as in a prediction.
const COUNTED: f64 = 1.0 / 3.0;

/// The lines of an outlook: every scale with a rule, the overall aroma, and each shelf in the nose and in the mouth.
#[derive(Debug, Clone, PartialEq)]
pub struct OutlookLines {
    scales: Vec<&'static Scale>,
    shelves: Vec<ShelfId>,
}

/// What one line of an outlook is about.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OutlookLine<'a> {
    /// A scale.
    Scale(&'static Scale),
    /// A shelf at a stage.
    Shelf(&'a ShelfId, Stage),
}

/// What a recipe comes to.
#[derive(Debug, Clone, PartialEq)]
pub struct Outlook {
    /// Digits 0 to 9, in the order of the lines; a shelf of which nothing comes is at 0.
    pub digits: Vec<f64>,
    /// The physical figures.
    pub drivers: Drivers,
}

impl OutlookLines {
    /// The lines for these shelves.
    #[must_use]
    pub fn new(shelves: impl Iterator<Item = ShelfId>) -> Self {
        let ruled = SCALE_RULES.iter().map(|rule| rule.scale);
        let scales = ruled.chain(["aroma-intensity"]);
        let mut shelves: Vec<ShelfId> = shelves.collect();
        shelves.sort_unstable_by(|a, b| a.as_str().cmp(b.as_str()));
        Self {
            scales: scales.filter_map(|it| Scale::from_id(it).ok()).collect(),
            shelves,
        }
    }

    /// How many.
    #[must_use]
    pub fn count(&self) -> usize {
        self.scales.len() + STAGES.len() * self.shelves.len()
    }

    /// What a line is about.
    #[must_use]
    pub fn get(&self, line: usize) -> Option<OutlookLine<'_>> {
        if let Some(scale) = self.scales.get(line) {
            return Some(OutlookLine::Scale(scale));
        }
        let at = line - self.scales.len();
        let shelf = self.shelves.get(at / STAGES.len())?;
        Some(OutlookLine::Shelf(shelf, STAGES[at % STAGES.len()]))
    }

    /// The line of a scale.
    #[must_use]
    pub fn of_scale(&self, scale: &Scale) -> Option<usize> {
        self.scales.iter().position(|it| it.id == scale.id)
    }

    /// The line of a shelf at a stage.
    #[must_use]
    pub fn of_shelf(&self, shelf: &ShelfId, stage: Stage) -> Option<usize> {
        let at = self.place(shelf)?;
        let stage = STAGES.iter().position(|it| *it == stage)?;
        Some(self.scales.len() + STAGES.len() * at + stage)
    }

    fn place(&self, shelf: &ShelfId) -> Option<usize> {
        let wanted = shelf.as_str();
        let by_id = |it: &ShelfId| it.as_str().cmp(wanted);
        self.shelves.binary_search_by(by_id).ok()
    }
}

/// What a brew comes to. The middle of what [`crate::profile::predict`] gives, for a tenth of its time.
#[must_use]
pub fn outlook(brew: &Brew<'_>, lines: &OutlookLines) -> Outlook {
    let arrived = arrived(brew);
    let drivers = with_recipe(brew, &arrived);
    let mut units = vec![[0.0; STAGES.len()]; lines.shelves.len()];
    for (it, weights) in &arrived {
        if let Some(at) = lines.place(&it.gift.shelf) {
            for (sum, stage) in units[at].iter_mut().zip(STAGES) {
                *sum += it.units * weights.at(stage);
            }
        }
    }
    let nose: f64 = units.iter().map(|it| it[0]).sum();
    let mut digits = Vec::with_capacity(lines.count());
    // The overall aroma has no rule of its own.
    digits.extend(lines.scales.iter().map(|scale| {
        let rule = SCALE_RULES.iter().find(|rule| rule.scale == scale.id);
        let value = rule.map_or_else(|| intensity_of(COUNTED * nose), |it| it.value(&drivers));
        scale.digits(value)
    }));
    digits.extend(units.iter().flatten().map(|it| intensity_of(*it)));
    Outlook { digits, drivers }
}

impl Outlook {
    /// A physical figure, in the unit of its driver.
    #[must_use]
    pub const fn figure(&self, driver: Driver) -> f64 {
        self.drivers.get(driver).value()
    }
}
