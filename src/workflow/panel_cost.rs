//! What a panel costs in beer and alcohol, and what pouring a glass a second time would tell of each beer.

use crate::brewing::alcohol_grams;
use crate::domain::Abv;
use crate::domain::Beer;
use crate::domain::Field;
use crate::domain::Form;
use crate::domain::Grams;
use crate::domain::Measure;
use crate::domain::Name;
use crate::domain::Rating;
use crate::domain::Scale;
use crate::statistics::Duplicates;
use crate::training::DoubledBeer;
use crate::training::DoubledLine;
use crate::training::PastAnswers;
use crate::workflow::Home;
use crate::workflow::PanelRequest;
use crate::workflow::WorkflowError;
use crate::workflow::figures;
use crate::workflow::planned_test::usual_abv;

/// What a panel costs with so many glasses poured a second time. It tells nothing of which they are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PanelCost {
    /// How many glasses are poured a second time.
    pub doubled: usize,
    /// Glasses before each taster.
    pub glasses: usize,
    /// Millilitres of a beer that is poured once.
    pub once_ml: f64,
    /// Millilitres of all beers together.
    pub all_ml: f64,
    /// Grams of alcohol for one taster who drinks everything: the least and the most, by which beers
    /// are poured a second time.
    pub grams: [f64; 2],
    /// Alcohol in a standard drink.
    pub standard_drink: Grams,
    /// How many pairs of answers of each taster are expected to say something of their noise.
    pub pairs: f64,
}

impl Home {
    /// How strong a beer is, % vol: as stated, as its batch was logged, or as most beers are.
    pub(super) fn strength_of(&self, beer: &Beer) -> Result<f64, WorkflowError> {
        let mut known = beer.abv.map(Abv::get);
        // While somebody tastes it, its figures are nobody's business.
        if let (None, Some(id), false) = (known, &beer.batch, self.is_plan_sealed(beer)?)
            && let Some(batch) = self.store.batch(id)?
        {
            let figures = figures(&*self.recipe_of(&batch)?, &self.log_of(id)?);
            known = figures.get("alcohol").map(|it| it.value);
        }
        Ok(usual_abv(known).get())
    }

    /// What each beer would tell if it were poured a second time; `noise` gives, for a taster by place in
    /// the list and a scale, the variance of the logarithm of their noise.
    pub(super) fn candidates(
        &self,
        beers: &[Beer],
        request: &PanelRequest,
        tasters: &[Name],
    ) -> Result<Vec<DoubledBeer>, WorkflowError> {
        let scales = scales_of(request.form);
        let noise = self.taster_noise()?;
        let mut candidates = Vec::new();
        for beer in beers {
            let past = self.past_answers(beer, &scales)?;
            let lines = scales.iter().zip(past).map(|(scale, past)| DoubledLine {
                past,
                log_variances: tasters
                    .iter()
                    .map(|name| noise.on_scale(name, scale).within_log_variance())
                    .collect(),
            });
            candidates.push(DoubledBeer {
                lines: lines.collect(),
                grams: grams(request.glass.get(), self.strength_of(beer)?),
            });
        }
        Ok(candidates)
    }

    /// How the locked answers of anybody on each scale lay for a beer.
    fn past_answers(
        &self,
        beer: &Beer,
        scales: &[&'static Scale],
    ) -> Result<Vec<PastAnswers>, WorkflowError> {
        let mut past = vec![PastAnswers::default(); scales.len()];
        for row in self.store.notes_of_beer(&beer.id)? {
            let counts = row.locked_at.is_some() && row.bottle_fault.is_none() && row.round == 1;
            if !counts {
                continue;
            }
            let notes = self.store.notes_with_row(&row.notes)?.0;
            for (scale, past) in scales.iter().zip(&mut past) {
                if let Some(value) = notes.rating(scale).and_then(Rating::value) {
                    past.all += 1;
                    past.inside += u32::from(Duplicates::OPEN_MEANS.contains(&scale.digits(value)));
                }
            }
        }
        Ok(past)
    }
}

/// The scales of a form whose answers are digits of the profile.
pub(super) fn scales_of(form: Form) -> Vec<&'static Scale> {
    let fields = form.fields().into_iter();
    let scales = fields.filter_map(|field| match field {
        Field::Scale(scale) => Some(scale),
        _ => None,
    });
    scales
        .filter(|it| it.stage.is_some() && !matches!(it.measure, Measure::Choice { .. }))
        // Glasses are poured out of sight: nobody stands by with a watch.
        .filter(|it| it.id != "head-retention")
        .collect()
}

fn grams(millilitres: f64, abv: f64) -> f64 {
    alcohol_grams(millilitres, abv).unwrap_or(0.0)
}

/// What costs follow from.
pub(super) struct CostTable {
    pub(super) strengths: Vec<f64>,
    pub(super) tasters: usize,
    pub(super) glass: f64,
    pub(super) standard_drink: Grams,
    pub(super) mean_pairs: f64,
}

impl CostTable {
    pub(super) fn cost(&self, doubled: usize) -> PanelCost {
        let once_ml = self.glass * self.tasters as f64;
        let glasses = self.strengths.len() + doubled;
        let own: f64 = self.strengths.iter().map(|it| grams(self.glass, *it)).sum();
        let mut rising = self.strengths.clone();
        rising.sort_by(f64::total_cmp);
        let lightest: f64 = rising
            .iter()
            .take(doubled)
            .map(|it| grams(self.glass, *it))
            .sum();
        let strongest = rising.iter().rev().take(doubled);
        let strongest: f64 = strongest.map(|it| grams(self.glass, *it)).sum();
        PanelCost {
            doubled,
            glasses,
            once_ml,
            all_ml: once_ml * glasses as f64,
            grams: [own + lightest, own + strongest],
            standard_drink: self.standard_drink,
            pairs: self.mean_pairs * doubled as f64,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Settings;

    #[test]
    fn the_spread_of_alcohol_tells_nothing_of_which_beer_is_poured_again() {
        let table = CostTable {
            strengths: vec![4.0, 8.0, 0.5],
            tasters: 1,
            standard_drink: Settings::default().standard_drink,
            glass: 100.0,
            mean_pairs: 10.0,
        };
        // By hand: 100 mL hold 3.156, 6.312 and 0.3945 g.
        let cost = table.cost(1);
        assert!((cost.grams[0] - (3.156 + 6.312 + 2.0 * 0.3945)).abs() < 1e-9);
        assert!((cost.grams[1] - (3.156 + 2.0 * 6.312 + 0.3945)).abs() < 1e-9);
    }
}
