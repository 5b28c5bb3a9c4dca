//! How reliably each taster names words, from what was named in coded glasses.

use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::collections::HashMap;
use std::sync::Arc;

use crate::domain::Form;
use crate::domain::Name;
use crate::domain::ShelfId;
use crate::domain::Stage;
use crate::domain::Subject;
use crate::profile::FalseAlarmRate;
use crate::profile::HitRate;
use crate::storage::CodedMark;
use crate::storage::CodedNotes;
use crate::training::NamedGlass;
use crate::training::NamingRecord;
use crate::training::naming_records;
use crate::workflow::Home;
use crate::workflow::WorkflowError;
use crate::workflow::taster_ratings::is_in_form;

/// The stages at which words are named for a smell or a taste of something.
const STAGES: [Stage; 2] = [Stage::Aroma, Stage::Flavour];

/// The records of all tasters.
#[derive(Debug, Clone, Default)]
pub(super) struct TasterNaming {
    shelves: HashMap<(ShelfId, Stage), u32>,
    records: HashMap<String, NamingRecord>,
}

impl Home {
    /// How reliably each taster names words in all coded glasses.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(super) fn naming_of_all(&self) -> Result<Arc<TasterNaming>, WorkflowError> {
        self.naming.or_drawn(self.store.stamp()?, || {
            self.taster_naming(&self.coded_notes()?)
        })
    }

    /// How reliably each taster names words. Only full forms of coded glasses count.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(super) fn taster_naming(
        &self,
        notes: &[CodedNotes],
    ) -> Result<TasterNaming, WorkflowError> {
        let shelves: HashMap<(ShelfId, Stage), u32> = self
            .wheel()
            .shelves()
            .iter()
            .flat_map(|shelf| STAGES.map(|stage| (shelf.id.clone(), stage)))
            .zip(0..)
            .collect();
        let marks = self.store.coded_marks(notes)?;
        let mut named = vec![BTreeSet::new(); notes.len()];
        self.name_shelves(&mut named, &marks, &shelves);
        let (glasses, numbers) = glasses_of(notes, named);
        let all = u32::try_from(shelves.len()).unwrap_or(u32::MAX);
        let mut records = naming_records(&glasses, all);
        let mut by_name = HashMap::new();
        for taster in self.tasters()? {
            let record = numbers
                .get(taster.id.as_str())
                .and_then(|it| records.remove(it));
            by_name.insert(taster.name.to_string(), record.unwrap_or_default());
        }
        Ok(TasterNaming {
            shelves,
            records: by_name,
        })
    }

    /// Adds to each set of notes the shelves that were named in it.
    fn name_shelves(
        &self,
        named: &mut [BTreeSet<u32>],
        marks: &[CodedMark],
        shelves: &HashMap<(ShelfId, Stage), u32>,
    ) {
        for mark in marks {
            let shelf = match &mark.subject {
                Subject::Descriptor(id) => self.wheel().descriptor(id).map(|it| it.shelf.clone()),
                Subject::Shelf(id) => Some(id.clone()),
                Subject::Place(_) | Subject::Free(_) => None,
            };
            let number = shelf.and_then(|it| shelves.get(&(it, mark.stage)));
            named[mark.place].extend(number);
        }
    }
}

/// The full forms of tasters in good form as glasses, and the numbers that stand for ids in them.
fn glasses_of(
    notes: &[CodedNotes],
    named: Vec<BTreeSet<u32>>,
) -> (Vec<NamedGlass>, BTreeMap<&str, u32>) {
    let mut numbers: BTreeMap<&str, u32> = BTreeMap::new();
    let mut number = |id| {
        let next = u32::try_from(numbers.len()).unwrap_or(u32::MAX);
        *numbers.entry(id).or_insert(next)
    };
    let counted = notes.iter().zip(named);
    let counted = counted.filter(|(it, _)| it.form == Form::Full && is_in_form(it));
    let glasses = counted.map(|(it, named)| NamedGlass {
        sitting: number(it.sitting.as_str()),
        taster: number(it.taster.as_str()),
        beer: number(it.beer.as_str()),
        named,
    });
    let glasses = glasses.collect();
    (glasses, numbers)
}

impl TasterNaming {
    /// The record of a taster.
    pub(super) fn of(&self, taster: &Name) -> NamingRecord {
        self.records
            .get(taster.as_str())
            .cloned()
            .unwrap_or_default()
    }

    /// How often a taster names a shelf that is there: the usual rate moved by all their hits, and then by those
    /// on this shelf.
    pub(super) fn hit(&self, taster: &Name, shelf: &ShelfId, stage: Stage) -> HitRate {
        let Some(record) = self.records.get(taster.as_str()) else {
            return HitRate::DEFAULT;
        };
        let all = record
            .all_hits()
            .map_or(HitRate::DEFAULT, |it| HitRate::DEFAULT.after(it));
        let around = HitRate::around(all.rate());
        let number = self.shelves.get(&(shelf.clone(), stage));
        let own = number.and_then(|it| record.hits_on(*it));
        own.map_or(around, |it| around.after(it))
    }

    /// How often a taster names a shelf that is not there.
    pub(super) fn false_alarm(&self, taster: &Name) -> FalseAlarmRate {
        let record = self.records.get(taster.as_str());
        let alarms = record.and_then(NamingRecord::all_false_alarms);
        alarms.map_or(FalseAlarmRate::DEFAULT, |it| {
            FalseAlarmRate::DEFAULT.after(it)
        })
    }
}
