//! When one wort in two vessels teaches more than two brews, and by how much.

use crate::domain::HopTime;
use crate::domain::OtherKind;
use crate::domain::Part;
use crate::domain::Recipe;
use crate::domain::RecipeChange;

/// How a batch is divided.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SplitKind {
    /// Two vessels: as it was, and with the change.
    Halves,
    /// Four vessels: with neither, one, the other, and both changes.
    Quarters,
    /// In the glass, before anything is brewed: dissolved salts.
    Glass,
}

/// A divided batch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Split {
    /// How.
    pub kind: SplitKind,
    /// Litres for each vessel.
    pub litres: f64,
    /// How many pairs of separate brews tell as much as one divided one.
    pub worth: f64,
}

/// What is known of scatter, digits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Scatters {
    /// From brew to brew of one recipe.
    pub(super) brews: f64,
    /// Of a taster's mean over three glasses on three days, within the sittings.
    pub(super) within: f64,
    /// The same from day to day.
    pub(super) days: f64,
}

/// How a batch can be divided to try these changes; none where one of them is made before the wort is cold.
///
/// A difference of two brews has the variance 2b² + 2(w² + d²); one between two parts of one wort, tasted beside
/// each other, only 2w². Of four parts every one tells of both changes, so that half as much is needed.
pub(super) fn split(changes: &[&RecipeChange], recipe: &Recipe, it: Scatters) -> Option<Split> {
    let litres = recipe.volume.get();
    let apart = it.brews.powi(2) + it.within.powi(2) + it.days.powi(2);
    let worth = apart / it.within.powi(2).max(1e-6);
    let kind = match changes {
        [one] if is_salt(one) => SplitKind::Glass,
        [one] if is_cold(one, recipe) => SplitKind::Halves,
        [one, other] if is_cold(one, recipe) && is_cold(other, recipe) => SplitKind::Quarters,
        _ => return None,
    };
    let (parts, worth) = match kind {
        SplitKind::Halves => (2.0, worth),
        SplitKind::Quarters => (4.0, 2.0 * worth),
        SplitKind::Glass => (0.0, worth),
    };
    Some(Split {
        kind,
        litres: if parts > 0.0 { litres / parts } else { 0.0 },
        worth,
    })
}

fn is_salt(change: &RecipeChange) -> bool {
    matches!(change, RecipeChange::AddOther(it) if it.other.kind == OtherKind::Salt)
}

/// True for what is done after the wort is cold.
fn is_cold(change: &RecipeChange, recipe: &Recipe) -> bool {
    let is_dry = |when: HopTime| matches!(when, HopTime::Dry { .. });
    let dry = |at: usize| recipe.hops.get(at).is_some_and(|it| is_dry(it.when));
    let cold = |kind: OtherKind| {
        matches!(
            kind,
            OtherKind::Wood | OtherKind::Flavouring | OtherKind::Fruit | OtherKind::Salt
        )
    };
    let is_cold_other = |at: usize| recipe.others.get(at).is_some_and(|it| cold(it.other.kind));
    match change {
        RecipeChange::Amount { part, .. } | RecipeChange::LeaveOut(part) => match part {
            Part::Hop(at) => dry(*at),
            Part::Other(at) => is_cold_other(*at),
            Part::Fermentable(_) => false,
        },
        RecipeChange::AddHop(it) => is_dry(it.when),
        RecipeChange::SwapHop { by, .. } => is_dry(by.when),
        RecipeChange::HopTime { at, when } => is_dry(*when) && dry(*at),
        RecipeChange::AddOther(it) => cold(it.other.kind),
        RecipeChange::Yeast(_) | RecipeChange::Fermentation(_) | RecipeChange::Carbonation(_) => {
            true
        }
        RecipeChange::SwapFermentable { .. }
        | RecipeChange::AddFermentable(_)
        | RecipeChange::Mash(_)
        | RecipeChange::Volume(_) => false,
    }
}
