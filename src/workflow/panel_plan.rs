//! A panel planned: which beers, which tasters, how many glasses are poured a second time, and what all of it costs.

use crate::domain::Allergen;
use crate::domain::Beer;
use crate::domain::Form;
use crate::domain::Millilitres;
use crate::domain::Name;
use crate::domain::Panel;
use crate::domain::Seat;
use crate::domain::SeatRole;
use crate::domain::Sitting;
use crate::domain::SittingId;
use crate::domain::SittingKind;
use crate::domain::Taster;
use crate::domain::TasterId;
use crate::domain::is_same_name;
use crate::statistics::Dice;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::training::DoubledBeer;
use crate::workflow::Home;
use crate::workflow::PanelCost;
use crate::workflow::PanelError;
use crate::workflow::WorkflowError;
use crate::workflow::panel_cost::CostTable;
use crate::workflow::panel_draw::draw_glasses;

/// Fewest and most beers of one sitting.
const BEERS: std::ops::RangeInclusive<usize> = 2..=10;

/// Most tasters of one sitting.
const MOST_TASTERS: usize = 12;

/// Most glasses that are poured a second time.
const MOST_DOUBLED: usize = 2;

/// Who pours.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PanelPourer {
    /// Somebody who does not taste.
    SomebodyElse,
    /// This taster, who knows the key from then on.
    Taster(String),
}

/// What is asked of a panel.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelRequest {
    /// The marks of the bottles.
    pub beers: Vec<String>,
    /// The names of those who taste.
    pub tasters: Vec<String>,
    /// How many glasses are poured a second time.
    pub doubled: usize,
    /// What goes into a glass.
    pub glass: Millilitres,
    /// How much is asked of each.
    pub form: Form,
    /// Who pours.
    pub pourer: PanelPourer,
}

/// A panel looked at before anything is drawn or kept.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelDraft {
    /// What was asked for.
    pub request: PanelRequest,
    /// The beers; those not known yet are known by their mark alone.
    pub beers: Vec<Beer>,
    /// The tasters, by name.
    pub tasters: Vec<Name>,
    /// What it costs with 0, 1 and 2 glasses poured a second time, as far as there are beers.
    pub costs: Vec<PanelCost>,
    /// What the beers may hold, joined.
    pub allergens: String,
}

impl PanelDraft {
    /// What the number of glasses asked for costs.
    #[must_use]
    pub fn cost(&self) -> Option<&PanelCost> {
        self.costs
            .iter()
            .find(|it| it.doubled == self.request.doubled)
    }
}

impl Home {
    /// Looks at a panel that is asked for; nothing is drawn or kept.
    ///
    /// # Errors
    /// A name or number is refused, or one beer is named a second time.
    pub fn draft_panel(&mut self, request: &PanelRequest) -> Result<PanelDraft, WorkflowError> {
        let tasters = tasters_named(request)?;
        let beers = self.panel_beers(&request.beers)?;
        if request.doubled > MOST_DOUBLED {
            let found = request.doubled;
            return Err(PanelError::Doubled { found }.into());
        }
        let strengths: Result<Vec<f64>, _> = beers.iter().map(|it| self.strength_of(it)).collect();
        let candidates = self.candidates(&beers, request, &tasters)?;
        let pairs = candidates.iter().map(DoubledBeer::pairs).sum::<f64>();
        let mean_pairs = pairs / candidates.len() as f64;
        let table = CostTable {
            strengths: strengths?,
            tasters: tasters.len(),
            glass: request.glass.get(),
            standard_drink: self.settings().standard_drink,
            mean_pairs,
        };
        Ok(PanelDraft {
            costs: (0..=MOST_DOUBLED).map(|it| table.cost(it)).collect(),
            allergens: self.allergens_of(&beers)?,
            request: PanelRequest {
                pourer: pourer_among(&tasters, &request.pourer),
                ..request.clone()
            },
            beers,
            tasters,
        })
    }

    /// Draws a panel and keeps it whole, under the next number.
    ///
    /// # Errors
    /// A name or number is refused, or the store cannot be written; nothing is kept then.
    pub fn plan_panel(&mut self, request: &PanelRequest) -> Result<Panel, WorkflowError> {
        let draft = self.draft_panel(request)?;
        let sitting = Sitting {
            id: SittingId::new(self.draw_id()),
            kind: SittingKind::Panel,
            seed: self.dice.seed(),
            made_at: self.now(),
            closed_at: None,
        };
        let tasters = draft.tasters.iter();
        let tasters: Result<Vec<Taster>, _> =
            tasters.map(|name| self.taster_or_unknown(name)).collect();
        let tasters = tasters?;
        let candidates = self.candidates(&draft.beers, request, &draft.tasters)?;
        let mut dice = Dice::from_seed(sitting.seed);
        let glasses = draw_glasses(&draft, &candidates, &sitting, &mut dice);
        let seats: Vec<_> = tasters
            .iter()
            .zip(&glasses.orders)
            .map(|(taster, order)| (self.panel_seat(taster, &sitting, request), order.clone()))
            .collect();
        let mut panel = Panel {
            sitting: sitting.id.clone(),
            number: 0,
            form: request.form,
            glass: request.glass,
            poured_by: pouring_taster(&seats),
            made_at: sitting.made_at,
            told_at: None,
        };
        self.store.in_one_go(|store| {
            know(store, &draft.beers, &tasters)?;
            let last = store.panels()?.last().map_or(0, |it| it.number);
            let removed = store.last_removed_panel()?;
            panel.number = last.max(removed) + 1;
            store.add_panel(&panel, &sitting, &glasses.samples, &seats)
        })?;
        Ok(panel)
    }

    fn panel_seat(&mut self, taster: &Taster, sitting: &Sitting, request: &PanelRequest) -> Seat {
        let mut seat = self.new_seat(taster, &sitting.id);
        if let PanelPourer::Taster(name) = &request.pourer
            && is_same_name(name, taster.name.as_str())
        {
            seat.role = SeatRole::PouringTaster;
        }
        seat
    }

    /// The taster of this name, or one who is not kept yet.
    fn taster_or_unknown(&mut self, name: &Name) -> Result<Taster, WorkflowError> {
        if let Some(taster) = self.store.taster_named(name)? {
            return Ok(taster);
        }
        Ok(Taster {
            id: TasterId::new(self.draw_id()),
            name: name.clone(),
            made_at: self.now(),
        })
    }

    fn panel_beers(&mut self, marks: &[String]) -> Result<Vec<Beer>, WorkflowError> {
        let mut beers: Vec<Beer> = Vec::new();
        for mark in marks {
            let beer = self.beer_or_unknown(mark)?;
            let known = beers.iter().any(|it| {
                it.id == beer.id || is_same_name(it.cap_mark.as_str(), beer.cap_mark.as_str())
            });
            if known {
                let mark = beer.cap_mark.to_string();
                return Err(WorkflowError::SameBeer { mark });
            }
            beers.push(beer);
        }
        if BEERS.contains(&beers.len()) {
            return Ok(beers);
        }
        Err(PanelError::Beers {
            found: beers.len(),
            least: *BEERS.start(),
            most: *BEERS.end(),
        }
        .into())
    }

    /// What these beers may hold, joined so that none of them is given away.
    pub(super) fn allergens_of(&self, beers: &[Beer]) -> Result<String, WorkflowError> {
        // Nearly every beer is brewed from barley or wheat, the unrecorded ones too.
        let mut held = vec![Allergen::Gluten];
        for id in beers.iter().filter_map(|it| it.batch.as_ref()) {
            if let Some(batch) = self.store.batch(id)?
                && let Ok(recipe) = self.recipe_of(&batch)
            {
                held.extend(recipe.allergens());
            }
        }
        held.sort_unstable();
        held.dedup();
        let words: Vec<&str> = held.into_iter().map(Allergen::word).collect();
        let labels = beers.iter().any(|it| it.batch.is_none());
        let rest = if labels {
            "; and what stands on the labels"
        } else {
            ""
        };
        Ok(format!("{}{rest}", words.join(", ")))
    }
}

/// Keeps the beers and the people who are not kept yet.
fn know(store: &mut Store, beers: &[Beer], tasters: &[Taster]) -> Result<(), StorageError> {
    for beer in beers {
        if store.beer(&beer.id)?.is_none() {
            store.add_beer(beer)?;
        }
    }
    for taster in tasters {
        if store.taster(&taster.id)?.is_none() {
            store.add_taster(taster)?;
        }
    }
    Ok(())
}

/// The taster who pours, if one does.
fn pouring_taster<T>(seats: &[(Seat, T)]) -> Option<TasterId> {
    let mut seats = seats.iter();
    let pours = seats.find(|it| it.0.role == SeatRole::PouringTaster);
    pours.map(|it| it.0.taster.clone())
}

/// Who pours: a name that is none of the tasters' is somebody who does not taste.
fn pourer_among(tasters: &[Name], pourer: &PanelPourer) -> PanelPourer {
    match pourer {
        PanelPourer::Taster(name) if tasters.iter().any(|it| is_same_name(it.as_str(), name)) => {
            pourer.clone()
        }
        _ => PanelPourer::SomebodyElse,
    }
}

/// The names of those who taste, each once.
fn tasters_named(request: &PanelRequest) -> Result<Vec<Name>, WorkflowError> {
    let mut names: Vec<Name> = Vec::new();
    for typed in &request.tasters {
        let name = Name::new("a taster's name", typed.trim())?;
        if !names
            .iter()
            .any(|it| is_same_name(it.as_str(), name.as_str()))
        {
            names.push(name);
        }
    }
    if (1..=MOST_TASTERS).contains(&names.len()) {
        return Ok(names);
    }
    Err(PanelError::Tasters {
        found: names.len(),
        most: MOST_TASTERS,
    }
    .into())
}

#[cfg(test)]
mod tests {
    use super::*;

    pub(crate) fn request(beers: &[&str], tasters: &[&str], doubled: usize) -> PanelRequest {
        let owned = |all: &[&str]| all.iter().map(|it| (*it).to_owned()).collect();
        PanelRequest {
            beers: owned(beers),
            tasters: owned(tasters),
            doubled,
            glass: Millilitres::new(60.0).unwrap(),
            form: Form::Full,
            pourer: PanelPourer::SomebodyElse,
        }
    }

    #[test]
    fn a_plan_says_what_each_number_of_second_pours_costs_and_keeps_nothing() {
        let mut home = Home::trial();
        let draft = home
            .draft_panel(&request(&["Gate", "Barn", "Mill"], &["Ana", "Ben"], 1))
            .unwrap();
        // By hand: 60 mL at 5 % hold 2.367 g; 3, 4 and 5 glasses; 120 mL of each beer.
        for (cost, glasses) in draft.costs.iter().zip([3.0, 4.0, 5.0]) {
            assert!((cost.grams[0] - glasses * 2.367).abs() < 1e-9);
            assert!((cost.grams[1] - glasses * 2.367).abs() < 1e-9);
            assert!((cost.all_ml - glasses * 120.0).abs() < 1e-9);
        }
        assert!(home.tasters().unwrap().is_empty());
        assert!(home.store.panels().unwrap().is_empty());
    }

    #[test]
    fn too_few_too_many_and_the_same_beer_are_refused() {
        let mut home = Home::trial();
        let many: Vec<String> = (0..13).map(|it| format!("T{it}")).collect();
        let many: Vec<&str> = many.iter().map(String::as_str).collect();
        for wrong in [
            request(&["Gate"], &["Ana"], 0),
            request(&many[..11], &["Ana"], 0),
            request(&["Gate", "gate"], &["Ana"], 0),
            request(&["Gate", "Barn"], &[], 0),
            request(&["Gate", "Barn"], &many, 0),
            request(&["Gate", "Barn"], &["Ana"], 3),
            request(&["Gate", ""], &["Ana"], 0),
        ] {
            assert!(home.plan_panel(&wrong).is_err(), "{wrong:?}");
        }
        assert!(home.store.panels().unwrap().is_empty());
        assert!(home.tasters().unwrap().is_empty());
    }

    #[test]
    fn everybody_gets_the_same_glasses_and_the_same_one_a_second_time() {
        let mut home = Home::trial();
        let names: Vec<String> = (0..8).map(|it| format!("T{it}")).collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        let beers = ["Gate", "Barn", "Mill", "Pond", "Hill", "Wall"];
        let panel = home.plan_panel(&request(&beers, &names, 1)).unwrap();
        assert_eq!(panel.number, 1);
        let samples = home.store.samples_of(&panel.sitting).unwrap();
        assert_eq!(samples.len(), 7);
        let copies: Vec<_> = samples
            .iter()
            .filter(|it| it.duplicate_of.is_some())
            .collect();
        let [copy] = copies.as_slice() else {
            panic!("{copies:?}");
        };
        let original = samples
            .iter()
            .find(|it| Some(&it.id) == copy.duplicate_of.as_ref());
        assert_eq!(original.unwrap().beer, copy.beer);
        let mut codes: Vec<u16> = samples.iter().map(|it| it.code.get()).collect();
        codes.dedup();
        assert_eq!(codes.len(), 7);
        let seats = home.store.panel_seats(&panel.sitting).unwrap();
        let mut orders = Vec::new();
        for seat in &seats {
            let order = home.store.serving(&seat.seat.id).unwrap();
            let place = |id| order.iter().position(|it| *it == id).unwrap();
            let gap = place(copy.id.clone()).abs_diff(place(original.unwrap().id.clone()));
            assert!(gap > 1, "side by side for {}", seat.taster.name);
            assert!(!orders.contains(&order), "every order is another row");
            orders.push(order);
        }
        assert_eq!(orders.len(), 8);
        assert_eq!(
            home.plan_panel(&request(&["A", "B"], &["Ana"], 2))
                .unwrap()
                .number,
            2
        );
    }

    #[test]
    fn a_name_that_does_not_taste_pours_as_somebody_else() {
        let mut home = Home::trial();
        let asked = |name: &str| PanelRequest {
            pourer: PanelPourer::Taster(name.to_owned()),
            ..request(&["Gate", "Barn"], &["Ana"], 0)
        };
        let draft = home.draft_panel(&asked("Hob")).unwrap();
        assert_eq!(draft.request.pourer, PanelPourer::SomebodyElse);
        let draft = home.draft_panel(&asked("ana")).unwrap();
        assert_ne!(draft.request.pourer, PanelPourer::SomebodyElse);
    }

    #[test]
    fn which_of_alike_beers_is_poured_again_is_drawn() {
        let mut first = std::collections::HashSet::new();
        let mut home = Home::trial();
        for _ in 0..30 {
            let asked = request(&["Gate", "Barn", "Mill"], &["Ana"], 1);
            let panel = home.plan_panel(&asked).unwrap();
            let samples = home.store.samples_of(&panel.sitting).unwrap();
            let copy = samples.iter().find(|it| it.duplicate_of.is_some()).unwrap();
            let beer = home.store.beer(&copy.beer).unwrap().unwrap();
            first.insert(beer.cap_mark.to_string());
        }
        assert_eq!(first.len(), 3, "{first:?}");
    }
}
