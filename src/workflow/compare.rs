//! The plan opened beside the notes, each difference judged against the noise.

use crate::domain::Batch;
use crate::domain::Beer;
use crate::domain::Scale;
use crate::profile::MODEL_VERSION;
use crate::workflow::Comparison;
use crate::workflow::Figure;
use crate::workflow::Found;
use crate::workflow::Home;
use crate::workflow::Noted;
use crate::workflow::WorkflowError;
use crate::workflow::compared_lines::Bench;
use crate::workflow::counted_notes::counting_first;
use crate::workflow::counted_notes::on_scale;
use crate::workflow::figures;

/// A computed or measured figure with the scale of the notes that stands nearest to it.
#[derive(Debug, Clone, PartialEq)]
pub struct FigureLine {
    /// The figure.
    pub figure: Figure,
    /// The scale beside it, if there is one.
    pub scale: Option<&'static Scale>,
    /// What each set of notes says on that scale.
    pub noted: Vec<Noted>,
}

/// Which scale stands beside which figure.
const BESIDE: [(&str, &str); 5] = [
    ("colour", "colour"),
    ("bitterness", "bitter"),
    ("alcohol", "alcohol-warmth"),
    ("real-extract", "fullness"),
    ("carbonation", "carbonation"),
];

impl Home {
    /// Opens the plan beside the locked notes, of one taster or of all, and judges what differs. The
    /// prediction is kept as it is made.
    ///
    /// # Errors
    /// Somebody is still tasting, nothing is locked yet, or the beer has no recipe.
    pub fn compare(
        &mut self,
        mark: &str,
        taster: Option<&str>,
    ) -> Result<Comparison, WorkflowError> {
        let beer = self.beer(mark)?;
        self.ensure_plan_unsealed(&beer, "the plan")?;
        let batch = match &beer.batch {
            Some(id) => self.store.batch(id)?,
            None => None,
        }
        .ok_or_else(|| WorkflowError::NoRecipe {
            mark: beer.cap_mark.to_string(),
        })?;
        let (found, faulty_bottles) = self.locked_of(&beer, taster)?;
        self.beside(&batch, found, faulty_bottles)
    }

    /// The locked notes of sound bottles of a beer, oldest first, and how many bottles were bad.
    ///
    /// # Errors
    /// Nothing is locked yet, or no such taster.
    pub(crate) fn locked_of(
        &self,
        beer: &Beer,
        taster: Option<&str>,
    ) -> Result<(Vec<Found>, usize), WorkflowError> {
        let only = taster.map(|name| self.taster(name)).transpose()?;
        let mut found = Vec::new();
        for row in self.store.notes_of_beer(&beer.id)? {
            let wanted = only.as_ref().is_none_or(|it| it.id == row.taster.id);
            if wanted && row.locked_at.is_some() {
                found.push(self.found(&row.notes)?);
            }
        }
        if found.is_empty() {
            return Err(WorkflowError::NothingTasted {
                mark: beer.cap_mark.to_string(),
            });
        }
        let all = found.len();
        found.retain(|it| it.notes.bottle_fault.is_none());
        let faulty = all - found.len();
        Ok((found, faulty))
    }

    fn beside(
        &mut self,
        batch: &Batch,
        found: Vec<Found>,
        faulty_bottles: usize,
    ) -> Result<Comparison, WorkflowError> {
        let recipe = self.recipe_of(batch)?;
        let log = self.log_of(&batch.id)?;
        let intent = self.intent_of(batch, &recipe, &log)?;
        let prediction = self.predict_batch(batch, &recipe, &log)?;
        let figures = figures(&recipe, &log);
        let (found, counting, counted) = counting_first(found);
        let bench = Bench {
            wheel: self.wheel(),
            recipe: &recipe,
            prediction: &prediction,
            found: &found,
            counting,
        };
        let (hopes, promises) = (&intent.intent, &recipe.promised);
        let mut lines = bench.hopes(hopes);
        let also_foreseen = bench.also_foreseen(&lines);
        lines.extend(bench.predictions());
        let versions = (
            MODEL_VERSION.to_owned(),
            self.catalogue_version().to_owned(),
        );
        Ok(Comparison {
            cap_mark: batch.cap_mark.clone(),
            recipe: format!("{}, version {}", recipe.name, recipe.version),
            lines,
            promised: bench.promised(promises),
            near_misses: bench.near_misses(hopes, promises),
            unplanned: bench.unplanned(hopes, promises),
            also_foreseen,
            figures: figure_lines(figures.figures, &found),
            cautions: figures.cautions,
            versions: (
                MODEL_VERSION.to_owned(),
                self.catalogue_version().to_owned(),
            ),
            intent,
            counting,
            counted,
            faulty_bottles,
            found,
        })
    }
}

fn figure_lines(figures: Vec<Figure>, found: &[Found]) -> Vec<FigureLine> {
    let scale_of = |id: &str| {
        let beside = BESIDE.iter().find(|it| it.0 == id)?;
        Scale::from_id(beside.1).ok()
    };
    figures
        .into_iter()
        .map(|figure| {
            let scale = scale_of(figure.id);
            FigureLine {
                figure,
                scale,
                noted: scale.map_or_else(Vec::new, |scale| on_scale(found, scale)),
            }
        })
        .collect()
}
