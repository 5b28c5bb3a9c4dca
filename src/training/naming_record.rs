//! How reliably words are named: the same beer twice, and what most others found.

use std::collections::BTreeMap;
use std::collections::BTreeSet;

use crate::statistics::Count;

/// Others who must have had the beer before what they found says what is there (judgement).
const OTHERS: usize = 3;

/// What one taster named in one coded glass; who and what are numbers of the caller's.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NamedGlass {
    /// In which sitting.
    pub sitting: u32,
    /// Who.
    pub taster: u32,
    /// Which beer was in the glass.
    pub beer: u32,
    /// The shelves that were named, each at its stage.
    pub named: BTreeSet<u32>,
}

/// Two glasses of one taster: shelves named in both, and in one of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PositiveAgreement {
    /// Named in both.
    pub both: u32,
    /// Named in one alone.
    pub one: u32,
}

impl PositiveAgreement {
    /// 2a/(2a + b + c): the share of namings that the other glass has too. What neither names is no agreement
    /// (Dice 1945, Ecology 26:297-302). None where nothing was named.
    #[must_use]
    pub fn share(self) -> Option<f64> {
        let all = 2 * self.both + self.one;
        (all > 0).then(|| 2.0 * f64::from(self.both) / f64::from(all))
    }

    fn add(&mut self, one: &BTreeSet<u32>, other: &BTreeSet<u32>) {
        let both = one.intersection(other).count();
        let all = one.union(other).count();
        let number = |it: usize| u32::try_from(it).unwrap_or(u32::MAX);
        self.both += number(both);
        self.one += number(all - both);
    }
}

/// How reliably one taster names words.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct NamingRecord {
    /// The same beer twice in one sitting.
    pub twice: PositiveAgreement,
    /// How many beers were had twice.
    pub pairs: u32,
    /// Different beers of one sitting: what agrees there is habit.
    pub shuffled: PositiveAgreement,
    /// By shelf: how often it was named where more than half of at least three others named it.
    pub hits: BTreeMap<u32, [u32; 2]>,
    /// How often a shelf was named where none of at least three others named it, of how many.
    pub false_alarms: [u32; 2],
}

impl NamingRecord {
    /// Hits over all shelves.
    #[must_use]
    pub fn all_hits(&self) -> Option<Count> {
        let of = |at: usize| self.hits.values().map(|it| it[at]).sum::<u32>();
        Count::new(of(0), of(1))
    }

    /// Hits on one shelf.
    #[must_use]
    pub fn hits_on(&self, shelf: u32) -> Option<Count> {
        let [hits, tries] = self.hits.get(&shelf)?;
        Count::new(*hits, *tries)
    }

    /// False alarms over all shelves.
    #[must_use]
    pub fn all_false_alarms(&self) -> Option<Count> {
        let [alarms, tries] = self.false_alarms;
        Count::new(alarms, tries)
    }
}

/// The record of every taster, by their numbers; `shelves` is how many shelves there are, each at its stages.
#[must_use]
pub fn naming_records(glasses: &[NamedGlass], shelves: u32) -> BTreeMap<u32, NamingRecord> {
    let mut records: BTreeMap<u32, NamingRecord> = BTreeMap::new();
    let mut sittings: BTreeMap<u32, Vec<&NamedGlass>> = BTreeMap::new();
    for it in glasses {
        sittings.entry(it.sitting).or_default().push(it);
    }
    for glasses in sittings.values() {
        let tasters: BTreeSet<u32> = glasses.iter().map(|it| it.taster).collect();
        for taster in tasters {
            let record = records.entry(taster).or_default();
            let own: Vec<&NamedGlass> = glasses
                .iter()
                .filter(|it| it.taster == taster)
                .copied()
                .collect();
            hold_together(record, &own);
            hold_against_others(record, &own, glasses, shelves);
        }
    }
    records
}

/// Holds a taster's glasses of one sitting against each other; of each beer the first two.
fn hold_together(record: &mut NamingRecord, own: &[&NamedGlass]) {
    for (at, one) in own.iter().enumerate() {
        let nth = own[..at].iter().filter(|it| it.beer == one.beer).count();
        let mut later = own[at + 1..].iter();
        if nth == 0
            && let Some(again) = later.clone().find(|it| it.beer == one.beer)
        {
            record.twice.add(&one.named, &again.named);
            record.pairs += 1;
        }
        for other in later.by_ref().filter(|it| it.beer != one.beer) {
            record.shuffled.add(&one.named, &other.named);
        }
    }
}

/// Holds a taster's first glass of each beer against what the others found in it.
fn hold_against_others(
    record: &mut NamingRecord,
    own: &[&NamedGlass],
    all: &[&NamedGlass],
    shelves: u32,
) {
    let mut beers = BTreeSet::new();
    for glass in own.iter().filter(|it| beers.insert(it.beer)) {
        let mut others: BTreeMap<u32, &BTreeSet<u32>> = BTreeMap::new();
        for it in all {
            if it.beer == glass.beer && it.taster != glass.taster {
                others.entry(it.taster).or_insert(&it.named);
            }
        }
        if others.len() < OTHERS {
            continue;
        }
        let mut found: BTreeMap<u32, usize> = BTreeMap::new();
        for shelf in others.values().copied().flatten() {
            *found.entry(*shelf).or_insert(0) += 1;
        }
        for (shelf, _) in found.iter().filter(|it| 2 * it.1 > others.len()) {
            let [hits, tries] = record.hits.entry(*shelf).or_insert([0, 0]);
            *hits += u32::from(glass.named.contains(shelf));
            *tries += 1;
        }
        let slips = glass
            .named
            .iter()
            .filter(|it| !found.contains_key(it))
            .count();
        let unfound = shelves.saturating_sub(u32::try_from(found.len()).unwrap_or(u32::MAX));
        let slips = u32::try_from(slips).unwrap_or(u32::MAX).min(unfound);
        record.false_alarms[0] += slips;
        record.false_alarms[1] += unfound;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn glass(taster: u32, beer: u32, named: &[u32]) -> NamedGlass {
        NamedGlass {
            sitting: 1,
            taster,
            beer,
            named: named.iter().copied().collect(),
        }
    }

    #[test]
    fn the_same_beer_twice_is_told_from_different_beers() {
        let glasses = [
            glass(1, 1, &[10, 11, 12]),
            glass(1, 2, &[10]),
            glass(1, 1, &[10, 11, 13]),
        ];
        let all = naming_records(&glasses, 100);
        let record = &all[&1];
        // By hand: both 2, alone 2: 4/6. Shuffled: beer 1 against 2 twice: 1 in both, 2 alone each time.
        assert_eq!(record.pairs, 1);
        assert_eq!(record.twice, PositiveAgreement { both: 2, one: 2 });
        assert!((record.twice.share().unwrap() - 4.0 / 6.0).abs() < 1e-12);
        assert_eq!(record.shuffled, PositiveAgreement { both: 2, one: 4 });
        // Nobody else tasted.
        assert_eq!(record.all_hits(), Count::new(0, 0));
    }

    #[test]
    fn what_most_of_three_others_named_is_there_and_what_none_named_is_not() {
        let glasses = [
            glass(1, 1, &[10, 40]),
            glass(2, 1, &[10, 11]),
            glass(3, 1, &[10, 11]),
            glass(4, 1, &[10, 12]),
        ];
        let all = naming_records(&glasses, 100);
        // By hand for the first: 10 (3 of 3) hit, 11 (2 of 3) missed, 12 (1 of 3) neither; 40 is a slip among
        // 100 - 3 that nobody named.
        let record = &all[&1];
        assert_eq!(record.hits, BTreeMap::from([(10, [1, 1]), (11, [0, 1])]));
        assert_eq!(record.false_alarms, [1, 97]);
        assert_eq!(record.hits_on(10), Count::new(1, 1));
        assert_eq!(record.hits_on(12), None);
    }

    #[test]
    fn two_others_say_nothing_and_nothing_named_has_no_agreement() {
        let glasses = [glass(1, 1, &[]), glass(2, 1, &[10]), glass(3, 1, &[10])];
        let all = naming_records(&glasses, 100);
        assert!(all[&1].hits.is_empty());
        assert_eq!(all[&1].twice.share(), None);
    }
}
