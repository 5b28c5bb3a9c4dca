//! From locked notes to the next recipe: which hopes are missed beyond the noise, and what would bring the beer nearer.

use std::sync::Arc;

use crate::domain::Batch;
use crate::domain::Day;
use crate::domain::Litres;
use crate::domain::Matters;
use crate::domain::Name;
use crate::domain::Recipe;
use crate::domain::RecipeChange;
use crate::profile::Aim;
use crate::profile::Caution;
use crate::profile::Familiar;
use crate::profile::MODEL_VERSION;
use crate::profile::OutlookLines;
use crate::profile::Proposal;
use crate::profile::Said;
use crate::profile::Search;
use crate::profile::Wanted;
use crate::profile::Wishes;
use crate::profile::aims;
use crate::profile::beyond;
use crate::profile::unmet;
use crate::profile::weighed_amounts;
use crate::workflow::About;
use crate::workflow::AskedWishes;
use crate::workflow::BatchLog;
use crate::workflow::ComparedLine;
use crate::workflow::Comparison;
use crate::workflow::Found;
use crate::workflow::Home;
use crate::workflow::HopeGap;
use crate::workflow::HopeStanding;
use crate::workflow::NextProposal;
use crate::workflow::NextRecipe;
use crate::workflow::Outcome;
use crate::workflow::WorkflowError;
use crate::workflow::WorthChanging;
use crate::workflow::batch_warning::fault_cautions;
use crate::workflow::figures::Origin;
use crate::workflow::figures::figures;
use crate::workflow::next_unmet::away_from_hopes;
use crate::workflow::next_unmet::kept_for_later;
use crate::workflow::next_unmet::unmet_words;

/// The least chance that the gap really shrinks with which a change is proposed (judgement).
pub(super) const LEAST_CHANCE: f64 = 0.6;

/// What a search of the next recipe starts from.
pub(super) struct Ground<'a> {
    pub(super) home: &'a Home,
    pub(super) it: &'a Comparison,
    /// The recipe as it is to be brewed next before any change: as it was, or in another volume.
    pub(super) recipe: &'a Recipe,
    pub(super) wishes: &'a Wishes,
    pub(super) familiar: &'a Familiar,
    pub(super) lines: &'a OutlookLines,
    pub(super) aims: &'a [Aim],
    pub(super) friends: Option<u32>,
    /// How far brews stray from each other, a standard deviation in digits.
    pub(super) spread: f64,
    /// The hopes that are missed beyond the noise, by their keys: what all this is for.
    pub(super) missed: &'a [String],
}

impl Home {
    /// What to brew next after a batch: whether a hope is missed beyond the noise, what to look at first, and up to
    /// three proposals. Nothing while anybody tastes: the next version of this beer may be in that glass.
    ///
    /// # Errors
    /// There is no such batch, somebody is tasting it, nothing is locked, it has no recipe, or wishes that cannot be
    /// read or kept together.
    pub fn next_recipe(
        &mut self,
        mark: &str,
        asked: &AskedWishes,
        friends: Option<u32>,
    ) -> Result<NextRecipe, WorkflowError> {
        self.ensure_no_batch_is_tasted()?;
        let it = self.compare(mark, None)?;
        let batch = self.batch(mark)?;
        let brewed = self.recipe_of(&batch)?;
        let rescaling = rescaling(&brewed, asked)?;
        let recipe = RecipeChange::apply_all(&rescaling, &brewed);
        let wishes = self.wishes(asked, &recipe, &self.stock()?)?;
        let lines = self.outlook_lines();
        let spread = self.kitchen_spread()?.sd;
        let wanted = self.wanted(&it, (&batch, spread), &lines)?;
        let mut next = self.empty(&it, &brewed, hope_gaps(&it, &wanted))?;
        next.wishes = asked.words();
        next.litres = (!rescaling.is_empty()).then(|| (brewed.volume.get(), recipe.volume.get()));
        next.rescaling = rescaling;
        let Some(aims) = aims(&only_wanted(wanted)) else {
            next.unmet = self.unmet_as_it_is(&recipe, &wishes, &lines);
            return Ok(next);
        };
        let ground = Ground {
            missed: &missed(&next.hopes),
            home: self,
            it: &it,
            recipe: &recipe,
            wishes: &wishes,
            familiar: &self.familiar()?,
            lines: &lines,
            aims: &aims,
            friends,
            spread,
        };
        ground.search(&mut next)?;
        Ok(next)
    }

    /// The record before anything is proposed.
    fn empty(
        &mut self,
        it: &Comparison,
        recipe: &Recipe,
        hopes: Vec<HopeGap>,
    ) -> Result<NextRecipe, WorkflowError> {
        let batch = self.batch(it.cap_mark.as_str())?;
        let log = self.log_of(&batch.id)?;
        let today = self.today();
        let counting = it.counting_notes();
        let (tasters, days) = who_and_when(counting);
        Ok(NextRecipe {
            cap_mark: it.cap_mark.clone(),
            recipe: recipe.name.clone(),
            version: recipe.version.clone(),
            glasses: (counting.len(), days),
            set_aside: it.found.len() - counting.len() + it.faulty.len(),
            dangers: fault_cautions(&it.faulty).collect(),
            tasters,
            remedies: self.remedies(it, recipe, &log, today),
            worth: without_search(&hopes),
            hopes,
            astray: astray(recipe, &log),
            proposals: Vec::new(),
            unmet: Vec::new(),
            wishes: Vec::new(),
            litres: None,
            rescaling: Vec::new(),
            basis: it.noise_basis(),
            versions: (
                MODEL_VERSION.to_owned(),
                self.catalogue_version().to_owned(),
            ),
        })
    }

    /// The hopes that matter as the search takes them, each beside its line of the comparison.
    fn wanted(
        &self,
        it: &Comparison,
        (batch, spread): (&Batch, f64),
        lines: &OutlookLines,
    ) -> Result<Vec<(String, Wanted)>, WorkflowError> {
        let before = self.foreknown(batch, spread * spread)?;
        let mattering = it.hopes().filter(|it| it.matters > Some(Matters::Little));
        let wanted = mattering.filter_map(|line| {
            let at = line_of(&line.about, lines)?;
            let known = before.iter().find(|it| it.0 == line.id);
            let hope = line.hoped?;
            Some((
                line.id.clone(),
                Wanted {
                    line: at,
                    weight: f64::from(line.matters? as u8),
                    hope,
                    said: said(line),
                    foreknown: known.map(|it| (it.1.0 - hope, it.1.1)),
                },
            ))
        });
        Ok(wanted.collect())
    }

    /// The wishes that a recipe does not meet while nothing is to be changed.
    fn unmet_as_it_is(
        &self,
        recipe: &Recipe,
        wishes: &Wishes,
        lines: &OutlookLines,
    ) -> Vec<String> {
        let before = self.outlook(recipe, lines);
        let missed = before.map_or_else(Vec::new, |it| unmet(recipe, &it, wishes));
        kept_for_later(self, &missed)
    }

    /// What this kitchen has brewed.
    fn familiar(&self) -> Result<Familiar, WorkflowError> {
        let recipes = self.recipes_of_batches()?;
        Ok(Familiar::with(recipes.iter().map(Arc::as_ref)))
    }
}

/// Whether anything is to be changed, before anything is searched for.
fn without_search(hopes: &[HopeGap]) -> WorthChanging {
    if hopes.is_empty() {
        WorthChanging::NoHopes
    } else if hopes.iter().all(|it| it.standing == HopeStanding::NoLever) {
        WorthChanging::NoLever
    } else {
        WorthChanging::NotYet
    }
}

fn only_wanted(lines: Vec<(String, Wanted)>) -> Vec<Wanted> {
    lines.into_iter().map(|it| it.1).collect()
}

/// The keys of the hopes that are missed beyond the noise.
fn missed(hopes: &[HopeGap]) -> Vec<String> {
    let missed = hopes.iter();
    let missed = missed.filter(|it| it.standing == HopeStanding::Missed);
    missed.map(|it| it.id.clone()).collect()
}

/// Who tasted, each once, and on how many days.
fn who_and_when(counting: &[Found]) -> (Vec<Name>, usize) {
    let mut tasters: Vec<Name> = Vec::new();
    let mut days: Vec<Day> = Vec::new();
    for found in counting {
        if !tasters.contains(&found.taster) {
            tasters.push(found.taster.clone());
        }
        if !days.contains(&found.tasted_on) {
            days.push(found.tasted_on);
        }
    }
    (tasters, days.len())
}

/// Which line of an outlook a line of a comparison is.
pub(super) fn line_of(about: &About, lines: &OutlookLines) -> Option<usize> {
    match about {
        About::Scale(scale) => lines.of_scale(scale),
        About::Shelf { shelf, stage, .. } => lines.of_shelf(shelf, *stage),
    }
}

fn said(line: &ComparedLine) -> Said {
    match (line.outcome, line.judged) {
        (Outcome::NotFound, _) => Said::NotFound,
        (_, Some(judged)) => Said::Judged(judged),
        (Outcome::NotMentionedYet, None) => line.present.map_or(Said::Nothing, Said::Silent),
        (_, None) => Said::Nothing,
    }
}

/// What another volume does, if one is wished for: everything in proportion, and what is weighed as fine as the
/// scale weighs.
fn rescaling(recipe: &Recipe, asked: &AskedWishes) -> Result<Vec<RecipeChange>, WorkflowError> {
    let Some(litres) = asked.litres else {
        return Ok(Vec::new());
    };
    let litres = Litres::new(litres)?;
    if litres == recipe.volume {
        return Ok(Vec::new());
    }
    let volume = RecipeChange::Volume(litres);
    let scaled = volume.apply(recipe);
    let weighed = weighed_amounts(&scaled, asked.finest).into_iter();
    let weighed = weighed.map(|(part, to)| RecipeChange::Amount { part, to });
    Ok([volume].into_iter().chain(weighed).collect())
}

/// The figures that were measured outside of what the recipe gives with everything at its low or high end.
fn astray(recipe: &Recipe, log: &BatchLog) -> Vec<String> {
    let [made, planned] = [log, &BatchLog::default()].map(|it| figures(recipe, it));
    let told = ["original-gravity", "apparent-attenuation"].into_iter();
    told.filter_map(|id| {
        let (is, wanted) = (made.get(id)?, planned.get(id)?);
        let (low, high) = wanted.range?;
        let decimals = is.decimals;
        // As it is told: what looks the same on the page is the same.
        let step = 10.0_f64.powi(i32::try_from(decimals).unwrap_or(0));
        let [value, low_told, high_told] = [is.value, low, high].map(|it| (it * step).round());
        let is_off = is.origin != Origin::Computed && (value < low_told || value > high_told);
        is_off.then(|| {
            format!(
                "{} {:.decimals$}{} instead of {low:.decimals$} to {high:.decimals$}",
                is.word.to_lowercase(),
                is.value,
                if is.unit.is_empty() {
                    String::new()
                } else {
                    format!(" {}", is.unit)
                },
            )
        })
    })
    .collect()
}

/// The hopes that matter, and how each stands.
fn hope_gaps(it: &Comparison, wanted: &[(String, Wanted)]) -> Vec<HopeGap> {
    let only: Vec<Wanted> = wanted.iter().map(|it| it.1.clone()).collect();
    let missed = beyond(&only);
    let mattering = it.hopes().filter(|it| it.matters > Some(Matters::Little));
    let gaps = mattering.map(|line| {
        let known = wanted.iter().position(|it| it.0 == line.id);
        let is_missed = known.and_then(|at| missed.get(at).copied());
        let standing = match line.outcome {
            _ if known.is_none() => HopeStanding::NoLever,
            _ if is_missed == Some(true) => HopeStanding::Missed,
            Outcome::AsGoodAs => HopeStanding::Met,
            // What the glasses say alone, and other brews of the recipe do not.
            Outcome::More | Outcome::Less | Outcome::NotFound | Outcome::CannotTellYet => {
                HopeStanding::Open
            }
            Outcome::NotMentionedYet | Outcome::NotRated | Outcome::HardlyMatters => {
                HopeStanding::Silent
            }
        };
        HopeGap {
            id: line.id.clone(),
            label: line.label.clone(),
            hoped: line.hoped.unwrap_or(0.0),
            found: line.mean,
            gap: line.judged.map(|it| (it.size, it.range.low, it.range.high)),
            standing,
            needed: line
                .judged
                .and_then(|it| it.needed)
                .or(line.silent_tastings),
        }
    });
    gaps.collect()
}

impl Ground<'_> {
    /// Searches, and writes what was found into the record.
    fn search(&self, next: &mut NextRecipe) -> Result<(), WorkflowError> {
        let search = Search {
            recipe: self.recipe,
            catalogue: self.home.catalogue(),
            wishes: self.wishes,
            familiar: self.familiar,
            aims: self.aims,
            caution: Caution::USUAL,
            outlook: |it: &Recipe| self.home.outlook(it, self.lines),
        };
        next.worth = WorthChanging::NoWay;
        let Some(found) = search.run() else {
            return Ok(());
        };
        let likely = found
            .proposals
            .iter()
            .filter(|it| it.chance >= LEAST_CHANCE);
        let likely: Vec<&Proposal> = likely.collect();
        next.unmet = unmet_words(self.home, &found.unmet, self.wishes);
        if likely.is_empty() && next.unmet.is_empty() {
            let as_it_is = unmet(self.recipe, &found.before, self.wishes);
            next.unmet = away_from_hopes(self.home, &as_it_is);
        }
        let proposals: Result<Vec<NextProposal>, WorkflowError> = likely
            .into_iter()
            .map(|it| self.told(it, &found.before))
            .collect();
        next.proposals = proposals?;
        if !next.proposals.is_empty() {
            next.worth = WorthChanging::Yes;
        }
        Ok(())
    }
}
