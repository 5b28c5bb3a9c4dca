//! What a recipe comes to when it is brewed as planned, fast enough to be asked a thousand times.

use crate::brewing::Attenuation;
use crate::brewing::alcohol_by_volume;
use crate::brewing::real_extract;
use crate::domain::Celsius;
use crate::domain::Minutes;
use crate::domain::Recipe;
use crate::domain::Volumes;
use crate::profile::Brew;
use crate::profile::Driver;
use crate::profile::Drivers;
use crate::profile::Estimate;
use crate::profile::Handled;
use crate::profile::Outlook;
use crate::profile::OutlookLines;
use crate::profile::outlook;
use crate::workflow::BatchLog;
use crate::workflow::Home;
use crate::workflow::brew_run::End;
use crate::workflow::brew_run::Run;
use crate::workflow::figures::MOST_BITTERNESS;

impl Home {
    /// The lines of an outlook on the wheel of this home.
    pub(super) fn outlook_lines(&self) -> OutlookLines {
        OutlookLines::new(self.wheel().shelves().iter().map(|it| it.id.clone()))
    }

    /// What a recipe comes to as planned; none for what cannot be brewed.
    pub(super) fn outlook(&self, recipe: &Recipe, lines: &OutlookLines) -> Option<Outlook> {
        Some(outlook(&self.planned_brew(recipe)?, lines))
    }

    /// A recipe brewed as planned, every ingredient in the middle of its range.
    pub(super) fn planned_brew<'a>(&'a self, recipe: &'a Recipe) -> Option<Brew<'a>> {
        let log = BatchLog::default();
        let run = Run {
            recipe,
            log: &log,
            end: End::Usual,
            yeast: End::Usual,
        };
        let start = run.original()?;
        let yeast = recipe.yeast.as_ref();
        Some(Brew {
            recipe,
            litres: recipe.volume.get(),
            fermented_at: yeast.and_then(|it| it.temperature).map(Celsius::get),
            handled: Handled {
                boil: recipe.boil.map(Minutes::get),
                original: Some(start.degrees()),
                ..Handled::default()
            },
            conditions: self.catalogue().conditions(),
            drivers: planned_drivers(&run)?,
            families: self.families(),
        })
    }
}

/// The physical figures of a run, each as if it were known.
fn planned_drivers(run: &Run<'_>) -> Option<Drivers> {
    let (start, end) = (run.original()?, run.apparent()?);
    let known = [
        (
            Driver::RealExtract,
            Some(real_extract(start, end)?.degrees()),
        ),
        (Driver::Alcohol, alcohol_by_volume(start, end)),
        (
            Driver::Bitterness,
            run.bitterness().map(|it| it.min(MOST_BITTERNESS)),
        ),
        (Driver::Colour, run.colour()),
        (
            Driver::Attenuation,
            Attenuation::between(start, end).map(|it| 100.0 * it.apparent),
        ),
        (
            Driver::Gas,
            run.recipe.packaging.carbonation.map(Volumes::get),
        ),
    ];
    let drivers = known
        .into_iter()
        .fold(Drivers::default(), |drivers, (driver, it)| match it {
            Some(number) => drivers.with(driver, Estimate::exact(number)),
            None => drivers,
        });
    Some(drivers)
}
