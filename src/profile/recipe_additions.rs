//! What could come into a recipe from the catalogue: additions and replacements, each with its usual doses.

use crate::domain::Allergen;
use crate::domain::Catalogue;
use crate::domain::Celsius;
use crate::domain::Diastatic;
use crate::domain::Fermentable;
use crate::domain::FermentableFamily;
use crate::domain::FermentableUse;
use crate::domain::Goes;
use crate::domain::Hop;
use crate::domain::HopTime;
use crate::domain::HopUse;
use crate::domain::Minutes;
use crate::domain::Name;
use crate::domain::Other;
use crate::domain::OtherKind;
use crate::domain::OtherUse;
use crate::domain::Part;
use crate::domain::Percent;
use crate::domain::Recipe;
use crate::domain::RecipeChange;
use crate::domain::Yeast;
use crate::domain::YeastUse;
use crate::profile::Wishes;
use crate::profile::recipe_levers::Lever;
use crate::profile::recipe_levers::Touch;
use crate::profile::recipe_levers::in_steps;
use crate::profile::recipe_levers::stand;
use crate::profile::recipe_levers::step_of;
use crate::profile::recipe_limits::converts;

/// Parts of the grist at which something new is tried.
const OF_GRIST: [f64; 4] = [0.02, 0.04, 0.08, 0.15];
/// Doses of a new hop that are tried, g/L.
const HOP_DOSES: [f64; 4] = [0.5, 1.0, 2.0, 4.0];
/// Days of a new dry hop (common practice).
const DRY_DAYS: f64 = 3.0;
/// A yeast whose usual temperature lies within so many degrees of the present one ferments in the same place
/// (judgement).
const SAME_PLACE: f64 = 4.0;

/// What could come from the catalogue: every lever with few steps, the middle one being the usual dose.
#[must_use]
pub fn levers_from(catalogue: &Catalogue, recipe: &Recipe, wishes: &Wishes) -> Vec<Lever> {
    let bench = Bench { recipe, wishes };
    let mut levers = Vec::new();
    for it in catalogue.fermentables() {
        if wishes.allows(&it.identity.id) && bench.brings_nothing_new(&it.allergens) {
            levers.extend(bench.new_fermentable(it));
            levers.extend(bench.instead_of_fermentables(it));
        }
    }
    for it in catalogue.hops() {
        if wishes.allows(&it.identity.id) {
            levers.extend(bench.new_hop(it));
            levers.extend(bench.instead_of_hops(it));
        }
    }
    for it in catalogue.others() {
        if wishes.allows(&it.identity.id) && bench.brings_nothing_new(&it.allergens) {
            levers.extend(bench.new_other(it));
        }
    }
    let yeasts = catalogue.yeasts().iter();
    let yeasts = yeasts.filter(|it| wishes.allows(&it.identity.id));
    levers.extend(yeasts.filter_map(|it| bench.other_yeast(it)));
    levers
}

struct Bench<'a> {
    recipe: &'a Recipe,
    wishes: &'a Wishes,
}

impl Bench<'_> {
    /// True if everybody who can drink this beer can drink the next one too.
    fn brings_nothing_new(&self, allergens: &[Allergen]) -> bool {
        let has = |it: &Allergen| self.recipe.allergens().any(|own| own == *it);
        allergens.iter().all(has)
    }

    fn step(&self, part: Part) -> f64 {
        step_of(part, self.recipe.volume.get(), self.wishes.finest)
    }

    fn grist(&self) -> f64 {
        let all = self.recipe.fermentables.iter();
        all.map(|it| it.amount.get()).sum()
    }

    fn has_fermentable(&self, it: &Fermentable) -> bool {
        let mut here = self.recipe.fermentables.iter();
        here.any(|own| own.fermentable.identity.id == it.identity.id)
    }

    /// A fermentable more; who has no mash tun gets nothing that needs one.
    fn new_fermentable(&self, it: &Fermentable) -> Option<Lever> {
        let is_base = it.family == FermentableFamily::Base;
        let mut here = self.recipe.fermentables.iter();
        let mashes = here.any(|own| own.fermentable.goes == Goes::Mash);
        if self.has_fermentable(it) || is_base || (it.goes == Goes::Mash && !mashes) {
            return None;
        }
        let step = self.step(Part::Fermentable(0));
        let doses = OF_GRIST.into_iter();
        let steps = doses.filter_map(|part| {
            let amount = in_steps(part * self.grist(), step)?;
            Some(RecipeChange::AddFermentable(used(it, amount)))
        });
        Some(Lever::new(
            new(it.identity.id.as_str(), ""),
            steps.collect(),
        ))
    }

    /// In the place of each of its family, and of its kin: as much of it.
    ///
    /// What is in the recipe already stands in for nothing: more of one and less of another are two changes.
    fn instead_of_fermentables(&self, it: &Fermentable) -> Vec<Lever> {
        if self.has_fermentable(it) {
            return Vec::new();
        }
        let here = self.recipe.fermentables.iter().enumerate();
        let kin = here.filter(|(_, own)| {
            let own = &own.fermentable;
            let is_other = own.identity.id != it.identity.id;
            // What makes wort of the rest stays malt of its own grain that does so.
            let is_base = own.family == FermentableFamily::Base;
            let serves = !is_base || (converts(it) && own.grain == it.grain);
            is_other && own.goes == it.goes && is_kin(own.family, it.family) && serves
        });
        let free = kin.filter(|(_, own)| !self.wishes.is_locked(&own.fermentable.identity.id));
        free.map(|(at, own)| {
            let by = used(it, own.amount);
            let steps = vec![RecipeChange::SwapFermentable { at, by }];
            Lever::new(Touch::Part(Part::Fermentable(at)), steps)
        })
        .collect()
    }

    /// A hop charge more, at each of its usual times.
    fn new_hop(&self, it: &Hop) -> Vec<Lever> {
        let longest = self.recipe.boil.map_or(60.0, Minutes::get);
        let boils = [longest, 10.0_f64.min(longest)].into_iter();
        let boils = boils.filter_map(|it| Some(HopTime::Boil(Minutes::new(it).ok()?)));
        let dry = crate::domain::Days::new(DRY_DAYS).ok();
        let dry = dry.map(|days| HopTime::Dry {
            days,
            temperature: None,
        });
        let all = boils.chain(stand(80.0)).chain(dry);
        let step = self.step(Part::Hop(0));
        let lever = |when: HopTime| {
            let doses = HOP_DOSES.into_iter();
            let steps = doses.filter_map(|dose| {
                let amount = in_steps(dose * self.recipe.volume.get(), step)?;
                Some(RecipeChange::AddHop(HopUse {
                    hop: it.clone(),
                    amount,
                    alpha: None,
                    when,
                    age: None,
                    storage: None,
                }))
            });
            let at = match when {
                HopTime::Boil(time) => format!("boil {:.0}", time.get()),
                HopTime::Whirlpool { .. } => "stand".to_owned(),
                HopTime::Dry { .. } => "dry".to_owned(),
            };
            Lever::new(new(it.identity.id.as_str(), &at), steps.collect())
        };
        let used = |when: &HopTime| {
            let here = self.recipe.hops.iter();
            here.filter(|own| own.hop.identity.id == it.identity.id)
                .any(|own| own.when == *when)
        };
        all.filter(|it| !used(it)).map(lever).collect()
    }

    /// In the place of each other hop at its time: as much of it, and as much as is as bitter.
    fn instead_of_hops(&self, it: &Hop) -> Vec<Lever> {
        let here = self.recipe.hops.iter().enumerate();
        let others = here.filter(|(_, own)| {
            let own = &own.hop.identity.id;
            *own != it.identity.id && !self.wishes.is_locked(own)
        });
        let step = self.step(Part::Hop(0));
        others
            .map(|(at, own)| {
                let alpha = own.alpha.map_or(own.hop.alpha.usual(), Percent::get);
                let as_bitter = own.amount.get() * alpha / it.alpha.usual().max(0.5);
                let amounts = [own.amount.get(), as_bitter].into_iter();
                let mut steps: Vec<RecipeChange> = Vec::new();
                for amount in amounts.filter_map(|it| in_steps(it, step)) {
                    let by = HopUse {
                        hop: it.clone(),
                        amount,
                        alpha: None,
                        when: own.when,
                        age: None,
                        storage: None,
                    };
                    steps.push(RecipeChange::SwapHop { at, by });
                }
                steps.dedup();
                Lever::new(Touch::Part(Part::Hop(at)), steps)
            })
            .collect()
    }

    /// Another addition more, at its low, its usual and a high dose.
    fn new_other(&self, it: &Other) -> Option<Lever> {
        let here = self.recipe.others.iter();
        let mut here = here.map(|own| &own.other.identity.id);
        if here.any(|own| *own == it.identity.id) || it.kind == OtherKind::Nutrient {
            return None;
        }
        let step = self.step(Part::Other(0));
        let usual = it.usual;
        let doses = [
            usual.low(),
            (usual.low() * usual.usual()).sqrt(),
            usual.usual(),
            (usual.usual() * usual.high()).sqrt(),
        ];
        let doses = doses.into_iter();
        let steps = doses.filter_map(|dose| {
            let amount = in_steps(dose * self.recipe.volume.get(), step)?;
            Some(RecipeChange::AddOther(OtherUse {
                other: it.clone(),
                amount,
                when: Name::new("a time", when_of(it.kind)).ok(),
            }))
        });
        let mut steps: Vec<RecipeChange> = steps.collect();
        steps.dedup();
        Some(Lever::new(new(it.identity.id.as_str(), ""), steps))
    }

    /// Another yeast at its usual temperature, if the same place is warm enough for it. None that goes on eating in
    /// the bottle: bottles have burst of it.
    fn other_yeast(&self, it: &Yeast) -> Option<Lever> {
        let own = self.recipe.yeast.as_ref()?;
        let now = own
            .temperature
            .map_or(own.yeast.temperature.usual(), Celsius::get);
        let is_near = (it.temperature.usual() - now).abs() <= SAME_PLACE;
        let is_other = own.yeast.identity.id != it.identity.id;
        let is_free = !self.wishes.is_locked(&own.yeast.identity.id);
        (is_near && is_other && is_free && it.diastatic == Diastatic::No).then(|| {
            let by = YeastUse {
                yeast: it.clone(),
                attenuation: None,
                temperature: None,
            };
            Lever::new(Touch::Yeast, vec![RecipeChange::Yeast(by)])
        })
    }
}

fn used(it: &Fermentable, amount: crate::domain::Grams) -> FermentableUse {
    FermentableUse {
        fermentable: it.clone(),
        amount,
        colour: None,
        extract: None,
    }
}

fn new(id: &str, at: &str) -> Touch {
    Touch::New(format!("{id} {at}"))
}

/// Families that may stand for each other in a recipe.
fn is_kin(one: FermentableFamily, other: FermentableFamily) -> bool {
    use FermentableFamily::{Base, Crystal, Kilned, Roasted};
    one == other
        || matches!(
            (one, other),
            (Kilned | Roasted, Crystal) | (Crystal | Base | Roasted, Kilned)
        )
}

/// When an addition usually goes in, in words for the recipe (common practice).
const fn when_of(kind: OtherKind) -> &'static str {
    match kind {
        OtherKind::Spice | OtherKind::Peel => "last 5 minutes of the boil",
        OtherKind::Finings => "last 10 minutes of the boil",
        OtherKind::Salt | OtherKind::Acid => "into the mash",
        OtherKind::Wood | OtherKind::Flavouring | OtherKind::Fruit => "into the fermenter",
        OtherKind::Nutrient => "into the boil",
    }
}
