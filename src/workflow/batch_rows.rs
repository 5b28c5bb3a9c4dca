//! Batches as a list with how long they have conditioned, and one shown whole.

use std::sync::Arc;

use crate::domain::Allergen;
use crate::domain::Batch;
use crate::domain::Beer;
use crate::domain::Day;
use crate::domain::EntryValue;
use crate::domain::Hint;
use crate::domain::Name;
use crate::domain::Recipe;
use crate::storage::CountedNotes;
use crate::workflow::BatchLog;
use crate::workflow::BatchWarning;
use crate::workflow::Figures;
use crate::workflow::Home;
use crate::workflow::PhotographRow;
use crate::workflow::WorkflowError;
use crate::workflow::batch_warning::fault_cautions;
use crate::workflow::figures;
use crate::workflow::figures::alcohol;
use crate::workflow::figures::may_burst;
use crate::workflow::hints::hints;
use crate::workflow::seal::PouredGlasses;

/// Alcohol above which a beer takes about twice as long to come round, % vol (judgement).
const STRONG_ABV: f64 = 7.5;

/// Where a batch stands on its way to being ready.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Readiness {
    /// It is not packaged yet, or nobody logged the day.
    NotPackaged,
    /// Too early for most beers of the kind.
    Early {
        /// Days since packaging.
        days: i64,
        /// The day number from which the kind is usually ready.
        usually: i64,
    },
    /// Drinkable, but the kind usually takes longer.
    Nearly {
        /// Days since packaging.
        days: i64,
        /// The day number from which the kind is usually ready.
        usually: i64,
    },
    /// In its usual time.
    Ready {
        /// Days since packaging.
        days: i64,
    },
    /// Older than the kind usually stays at its best.
    PastBest {
        /// Days since packaging.
        days: i64,
    },
    /// Packaged; the kind is not known, or it is sealed.
    Unknown {
        /// Days since packaging.
        days: i64,
    },
}

/// One line of the list of batches.
#[derive(Debug, Clone, PartialEq)]
pub struct BatchRow {
    /// The cap mark.
    pub mark: Name,
    /// Recipe name and version; none while somebody tastes a beer of that version.
    pub recipe: Option<String>,
    /// When it was packaged, if logged.
    pub packaged: Option<Day>,
    /// How far it has come.
    pub readiness: Readiness,
    /// Bottles left, if logged.
    pub bottles_left: Option<u16>,
    /// How many sets of notes on it are locked.
    pub tasted: usize,
    /// Whether somebody is tasting it now.
    pub being_tasted: bool,
    /// The worst that warns of opening a bottle of it.
    pub warning: Option<BatchWarning>,
}

/// A batch shown whole.
#[derive(Debug, Clone, PartialEq)]
pub struct BatchPage {
    /// The batch.
    pub batch: Batch,
    /// Its recipe.
    pub recipe: Arc<Recipe>,
    /// Its log.
    pub log: BatchLog,
    /// Its figures.
    pub figures: Figures,
    /// How far it has come.
    pub readiness: Readiness,
    /// What bad bottles of it mean for the others.
    pub cautions: Vec<String>,
    /// What the log hints at.
    pub hints: Vec<Hint>,
    /// The photographs of it, without their bytes.
    pub photographs: Vec<PhotographRow>,
}

/// All batches in the order in which they were added, by their cap marks alone.
#[derive(Debug, Clone, Default)]
pub struct BatchList {
    batches: Vec<Batch>,
}

impl BatchList {
    /// How many there are.
    #[must_use]
    pub const fn len(&self) -> usize {
        self.batches.len()
    }

    /// True where there is none.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.batches.is_empty()
    }

    /// The cap mark at a place of the list.
    #[must_use]
    pub fn mark(&self, place: usize) -> Option<&Name> {
        Some(&self.batches.get(place)?.cap_mark)
    }
}

/// What is kept of a batch, as lists of batches need it.
pub(super) struct Kept {
    pub(super) log: BatchLog,
    beer: Option<Beer>,
    counted: Option<CountedNotes>,
    /// The names of recipe and version.
    version: Option<(Name, Name)>,
}

impl Kept {
    /// True while somebody tastes it, or another batch of its version.
    pub(super) fn is_sealed(&self, batch: &Batch, glasses: &PouredGlasses) -> bool {
        let beer = self.beer.as_ref();
        beer.is_some_and(|it| glasses.seal_plan_of(it, &batch.version))
    }

    /// Recipe name and version.
    pub(super) fn recipe(&self) -> Option<String> {
        let (name, version) = self.version.as_ref()?;
        Some(format!("{name}, version {version}"))
    }

    /// Bottles left, if logged.
    pub(super) fn bottles_left(&self) -> Option<u16> {
        let mut newest_first = self.log.entries().iter().rev();
        newest_first.find_map(|entry| match entry.value {
            EntryValue::Count(count) if entry.kind.id == "bottles-left" => Some(count),
            _ => None,
        })
    }

    /// How many sets of notes on it are locked.
    pub(super) fn tasted(&self) -> usize {
        self.counted.unwrap_or_default().locked
    }

    /// The worst that warns of its bottles: what was seen, which is told while it is sealed too, because whoever opens
    /// the next must know; and what its recipe, if that is told, says of their gas.
    fn warning(&self, recipe: Option<&Recipe>) -> Option<BatchWarning> {
        let seen = self.counted.unwrap_or_default().worst;
        let bursting = recipe.filter(|it| may_burst(it, &self.log));
        let bursting = bursting.map(|_| BatchWarning::MayBurst);
        let seen = seen.and_then(BatchWarning::of).into_iter();
        seen.chain(bursting).min()
    }
}

impl Home {
    /// The list of batches; what is told of each is read with [`Home::batch_rows_of`], for those that are seen.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn batch_list(&self) -> Result<BatchList, WorkflowError> {
        let batches = self.store.batches()?;
        Ok(BatchList { batches })
    }

    /// The batches at these places of the list, with how far each has come; the recipe of one that is being
    /// tasted is left out.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn batch_rows_of(
        &mut self,
        list: &BatchList,
        places: &[usize],
    ) -> Result<Vec<BatchRow>, WorkflowError> {
        if places.is_empty() {
            return Ok(Vec::new());
        }
        let today = self.today();
        let glasses = self.poured_glasses()?;
        let batches = places.iter().filter_map(|it| list.batches.get(*it));
        batches
            .map(|batch| Ok(self.batch_row(batch, &self.kept_of(batch)?, &glasses, today)))
            .collect()
    }

    /// All batches, with how far each has come.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn batch_rows(&mut self) -> Result<Vec<BatchRow>, WorkflowError> {
        let today = self.today();
        let glasses = self.poured_glasses()?;
        let packaged = self.store.packaged_versions()?;
        let kept =
            self.read_recipes_ahead(&packaged.iter().collect(), || self.kept_batches())??;
        let rows = kept.into_iter();
        let rows = rows.map(|(batch, kept)| self.batch_row(&batch, &kept, &glasses, today));
        Ok(rows.collect())
    }

    /// All batches with what is kept of each, in as many queries as for one.
    pub(super) fn kept_batches(&self) -> Result<Vec<(Batch, Kept)>, WorkflowError> {
        let mut logs = self.store.every_entry()?;
        let mut beers = self.store.beers_of_batches()?;
        let counted = self.store.counted_notes()?;
        let names = self.store.version_names()?;
        let batches = self.store.batches()?.into_iter();
        let kept = batches.map(|batch| {
            let beer = beers.remove(&batch.id);
            let kept = Kept {
                log: BatchLog::new(logs.remove(&batch.id).unwrap_or_default()),
                counted: beer.as_ref().and_then(|it| counted.get(&it.id).copied()),
                beer,
                version: names.get(&batch.version).cloned(),
            };
            (batch, kept)
        });
        Ok(kept.collect())
    }

    /// What is kept of one batch.
    fn kept_of(&self, batch: &Batch) -> Result<Kept, WorkflowError> {
        let beer = self.store.beer_of_batch(&batch.id)?;
        let counted = match &beer {
            Some(beer) => Some(self.store.counted_notes_of_beer(&beer.id)?),
            None => None,
        };
        let version = self.store.recipe_version(&batch.version)?;
        Ok(Kept {
            log: self.log_of(&batch.id)?,
            beer,
            counted,
            version: version.map(|it| (it.name, it.version)),
        })
    }

    fn batch_row(
        &self,
        batch: &Batch,
        kept: &Kept,
        glasses: &PouredGlasses,
        today: Day,
    ) -> BatchRow {
        let log = &kept.log;
        let sealed = kept.is_sealed(batch, glasses);
        // A recipe takes long to read, and of what is in no bottle it tells nothing here.
        let is_told = !sealed && is_in_bottles(log);
        let recipe = is_told.then(|| self.recipe_of(batch).ok()).flatten();
        let readiness = match packaged_days(log, today) {
            Some(days) if sealed => Readiness::Unknown { days },
            _ => readiness(recipe.as_deref(), log, today),
        };
        BatchRow {
            mark: batch.cap_mark.clone(),
            recipe: kept.recipe().filter(|_| !sealed),
            packaged: log.day("packaged"),
            readiness,
            bottles_left: kept.bottles_left(),
            tasted: kept.tasted(),
            being_tasted: kept.beer.as_ref().is_some_and(|it| glasses.hold(&it.id)),
            warning: kept.warning(recipe.as_deref()),
        }
    }

    /// What the beers of this home may hold, joined over all of them so that no one is given away.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn joined_allergens(&self) -> Result<String, WorkflowError> {
        // Nearly every beer is brewed from barley or wheat, the unrecorded ones too.
        let mut held = vec![Allergen::Gluten];
        for recipe in self.recipes_of_batches()? {
            held.extend(recipe.allergens());
        }
        held.sort_unstable();
        held.dedup();
        let words: Vec<&str> = held.into_iter().map(Allergen::word).collect();
        Ok(words.join(", "))
    }

    /// A batch with recipe, log and figures.
    ///
    /// # Errors
    /// There is no such batch, or somebody is tasting it.
    pub fn batch_page(&mut self, mark: &str) -> Result<BatchPage, WorkflowError> {
        let batch = self.batch(mark)?;
        let (mut faulty, mut photographs) = (Vec::new(), Vec::new());
        if let Some(beer) = self.store.beer_of_batch(&batch.id)? {
            self.ensure_plan_unsealed(&beer, "the recipe with its log")?;
            let notes = self.store.notes_of_beer(&beer.id)?;
            faulty.extend(notes.iter().filter_map(|it| it.bottle_fault));
            photographs = self.photograph_rows(&beer)?;
        }
        let recipe = self.recipe_of(&batch)?;
        let log = self.log_of(&batch.id)?;
        let today = self.today();
        Ok(BatchPage {
            figures: figures(&recipe, &log),
            readiness: readiness(Some(&recipe), &log, today),
            cautions: fault_cautions(&faulty).collect(),
            hints: hints(self.hints(), &recipe, &log, today)
                .into_iter()
                .cloned()
                .collect(),
            photographs,
            batch,
            recipe,
            log,
        })
    }
}

/// True once anything was logged of the bottles, the day or not.
fn is_in_bottles(log: &BatchLog) -> bool {
    const OF_BOTTLES: [&str; 4] = [
        "packaged",
        "volume-packaged",
        "priming-sugar",
        "bottles-left",
    ];
    let mut kinds = log.entries().iter().map(|it| it.kind.id);
    kinds.any(|it| OF_BOTTLES.contains(&it))
}

fn packaged_days(log: &BatchLog, today: Day) -> Option<i64> {
    Some(today.days_since(log.day("packaged")?))
}

fn readiness(recipe: Option<&Recipe>, log: &BatchLog, today: Day) -> Readiness {
    let Some(days) = packaged_days(log, today) else {
        return Readiness::NotPackaged;
    };
    let Some((recipe, yeast)) = recipe.and_then(|it| Some((it, it.yeast.as_ref()?))) else {
        return Readiness::Unknown { days };
    };
    let strong = alcohol(recipe, log).is_some_and(|it| it > STRONG_ABV);
    let factor = if strong { 2.0 } else { 1.0 };
    let after = |number: f64| {
        #[expect(
            clippy::cast_possible_truncation,
            reason = "days stay below ten thousand"
        )]
        let day = (number * factor).round() as i64;
        day
    };
    let spread = yeast.yeast.ready_days;
    let usually = after(spread.usual());
    if days < after(spread.low()) {
        Readiness::Early { days, usually }
    } else if days < usually {
        Readiness::Nearly { days, usually }
    } else if days <= after(spread.high()) {
        Readiness::Ready { days }
    } else {
        Readiness::PastBest { days }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::BottleFault;
    use crate::domain::NotesSource;

    #[test]
    fn the_whole_list_of_batches_says_what_its_parts_say_sealed_ones_too() {
        let mut home = Home::trial_demo();
        let ana = home.add_taster("Ana").unwrap();
        let mark = home.batch_list().unwrap().mark(0).unwrap().to_string();
        home.start_tasting(&ana, &mark, NotesSource::App).unwrap();
        let whole = home.batch_rows().unwrap();
        let list = home.batch_list().unwrap();
        let places: Vec<usize> = (0..list.len()).collect();
        assert_eq!(whole, home.batch_rows_of(&list, &places).unwrap());
        assert!(whole.iter().any(|it| it.recipe.is_none()));
        assert!(whole.iter().any(|it| it.tasted > 1));
    }

    #[test]
    fn a_bottle_that_may_hurt_is_told_in_the_list_the_worst_alone_and_never_called_ready() {
        let mut home = Home::trial_with_a_batch();
        let ana = home.add_taster("Ana").unwrap();
        let warning = |home: &mut Home| {
            let rows = home.batch_rows().unwrap();
            let list = home.batch_list().unwrap();
            assert_eq!(rows, home.batch_rows_of(&list, &[0]).unwrap());
            rows[0].warning
        };
        assert_eq!(warning(&mut home), None);
        let mut notes = home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        home.lock_faulty(&mut notes, BottleFault::Mould).unwrap();
        assert_eq!(warning(&mut home), Some(BatchWarning::Mould));
        // More sugar than the gas of it leaves any bottle whole.
        home.log_entry("T1", "priming-sugar", "900").unwrap();
        assert!(home.batch_page("T1").unwrap().figures.may_burst());
        assert_eq!(warning(&mut home), Some(BatchWarning::MayBurst));
        home.log_entry("T1", "packaged", "2026-01-01").unwrap();
        assert_eq!(warning(&mut home), Some(BatchWarning::MayBurst));
        let mut notes = home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        // What its recipe says is sealed with it.
        assert_eq!(warning(&mut home), Some(BatchWarning::Mould));
        home.lock_faulty(&mut notes, BottleFault::Gushing).unwrap();
        assert_eq!(warning(&mut home), Some(BatchWarning::Gushed));
    }
}
