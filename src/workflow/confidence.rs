//! How often a taster names rightly, what they take for what, and whether their certainty can be trusted.

use crate::domain::Certainty;
use crate::domain::DescriptorId;
use crate::domain::ItemForm;
use crate::domain::PlaceId;
use crate::domain::ShelfId;
use crate::domain::Spiked;
use crate::domain::Taster;
use crate::statistics::BrierParts;
use crate::statistics::Count;
use crate::statistics::Detection;
use crate::statistics::Limits;
use crate::statistics::Probability;
use crate::statistics::StatedChance;
use crate::statistics::brier;
use crate::statistics::wilson;
use crate::workflow::Home;
use crate::workflow::PastItem;
use crate::workflow::StrengthRecord;
use crate::workflow::WorkflowError;

/// What limits leave out.
const OUTSIDE: f64 = 0.05;

/// How often something was named rightly, and where that share lies 19 times in 20 (Wilson 1927).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HitRate {
    /// How many of how many.
    pub count: Count,
    /// Where the share lies.
    pub limits: Limits,
}

/// Hits by word, shelf and place, and what was taken for what.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct HitRates {
    /// All items.
    pub all: Option<HitRate>,
    /// By the shelf, where the shelf was asked.
    pub by_shelf: Option<HitRate>,
    /// By the place, where the place was asked.
    pub by_place: Option<HitRate>,
    /// Word by word, those missed most in front.
    pub words: Vec<(DescriptorId, HitRate)>,
    /// Shelf by shelf.
    pub shelves: Vec<(ShelfId, HitRate)>,
    /// Place by place.
    pub places: Vec<(PlaceId, HitRate)>,
    /// What was in it, what was said instead, and how often; the most frequent in front.
    pub confusions: Vec<(DescriptorId, DescriptorId, u32)>,
}

/// What practice says of a taster.
#[derive(Debug, Clone, PartialEq)]
pub struct Confidence {
    /// Who.
    pub taster: Taster,
    /// Jars.
    pub jars: HitRates,
    /// Words without a glass.
    pub words: HitRates,
    /// Each certainty that was stated, with how often it was right, from low to high.
    pub stated: Vec<StatedChance>,
    /// The score of those certainties; none where none was stated.
    pub brier: Option<BrierParts>,
    /// Present or not: hits, false alarms, and what they say; none without glasses of both kinds.
    pub presence: Option<(Count, Count, Detection)>,
    /// Series put in order, scale by scale.
    pub strength: Vec<StrengthRecord>,
}

impl Home {
    /// What practice says of a taster.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn confidence(&self, taster: &Taster) -> Result<Confidence, WorkflowError> {
        let past = self.practice_history(taster)?;
        let of = |forms: &[ItemForm]| -> Vec<&PastItem> {
            past.iter()
                .filter(|it| forms.contains(&it.item.form))
                .collect()
        };
        let words = [ItemForm::Definition, ItemForm::Pair, ItemForm::Place];
        let stated = stated(&past);
        Ok(Confidence {
            taster: taster.clone(),
            jars: self.hit_rates(&of(&[ItemForm::Jar])),
            words: self.hit_rates(&of(&words)),
            brier: brier(&stated),
            stated,
            presence: presence(&of(&[ItemForm::Presence])),
            strength: self.strength_record(taster)?,
        })
    }

    fn hit_rates(&self, items: &[&PastItem]) -> HitRates {
        let shelf = |it: &PastItem| {
            let word = self.wheel().descriptor(&it.item.descriptor);
            word.map(|it| it.shelf.clone())
        };
        let place = |it: &PastItem| {
            let shelf = self.wheel().shelf(&shelf(it)?)?;
            Some(shelf.place.clone())
        };
        let whole = |it: &PastItem| it.right.whole;
        let mut words = by(items, |it| Some(it.item.descriptor.clone()), whole);
        words.sort_by(|a, b| share(a.1).total_cmp(&share(b.1)));
        HitRates {
            all: rate(items.iter().filter_map(|it| it.right.whole)),
            by_shelf: rate(items.iter().filter_map(|it| it.right.shelf)),
            by_place: rate(items.iter().filter_map(|it| it.right.place)),
            shelves: by(items, shelf, whole),
            places: by(items, place, whole),
            confusions: confusions(items),
            words,
        }
    }
}

fn share(rate: HitRate) -> f64 {
    f64::from(rate.count.hits()) / f64::from(rate.count.tries().max(1))
}

/// The share of what was right; none of nothing.
fn rate(right: impl Iterator<Item = bool>) -> Option<HitRate> {
    let (mut hits, mut tries) = (0, 0);
    for it in right {
        hits += u32::from(it);
        tries += 1;
    }
    let count = Count::new(hits, tries).filter(|it| it.tries() > 0)?;
    let outside = Probability::new(OUTSIDE)?;
    Some(HitRate {
        limits: wilson(count, outside),
        count,
    })
}

/// The shares by a key, in the order in which the keys were first met.
fn by<K: PartialEq>(
    items: &[&PastItem],
    key: impl Fn(&PastItem) -> Option<K>,
    right: impl Fn(&PastItem) -> Option<bool>,
) -> Vec<(K, HitRate)> {
    let mut groups: Vec<(K, Vec<bool>)> = Vec::new();
    for item in items {
        let (Some(key), Some(right)) = (key(item), right(item)) else {
            continue;
        };
        match groups.iter_mut().find(|it| it.0 == key) {
            Some(group) => group.1.push(right),
            None => groups.push((key, vec![right])),
        }
    }
    let rates = groups.into_iter();
    rates
        .filter_map(|(key, right)| Some((key, rate(right.into_iter())?)))
        .collect()
}

fn confusions(items: &[&PastItem]) -> Vec<(DescriptorId, DescriptorId, u32)> {
    let mut all: Vec<(DescriptorId, DescriptorId, u32)> = Vec::new();
    for item in items {
        let Some(said) = &item.replies.word else {
            continue;
        };
        let asked = &item.item.descriptor;
        if said == asked {
            continue;
        }
        match all.iter_mut().find(|it| it.0 == *asked && it.1 == *said) {
            Some(row) => row.2 += 1,
            None => all.push((asked.clone(), said.clone(), 1)),
        }
    }
    all.sort_by_key(|it| std::cmp::Reverse(it.2));
    all
}

/// Every certainty that was stated, with how often it was right.
fn stated(past: &[PastItem]) -> Vec<StatedChance> {
    let mut all: Vec<(Certainty, [u32; 2])> = Vec::new();
    for item in past {
        let (Some(certainty), Some(right)) = (item.replies.certainty, item.right.whole) else {
            continue;
        };
        if !all.iter().any(|it| it.0 == certainty) {
            all.push((certainty, [0, 0]));
        }
        if let Some((_, sums)) = all.iter_mut().find(|it| it.0 == certainty) {
            sums[0] += u32::from(right);
            sums[1] += 1;
        }
    }
    all.sort_by_key(|it| it.0);
    all.into_iter()
        .filter_map(|(certainty, [hits, tries])| {
            Some(StatedChance {
                said: Probability::new(f64::from(certainty.percent()) / 100.0)?,
                count: Count::new(hits, tries)?,
            })
        })
        .collect()
}

/// Hits and false alarms; none without glasses of both kinds.
fn presence(items: &[&PastItem]) -> Option<(Count, Count, Detection)> {
    let said_present = |spiked: Spiked| {
        let of = items.iter().filter(|it| it.item.spiked == Some(spiked));
        let said = of.filter_map(|it| it.replies.presence);
        let said: Vec<bool> = said.map(|it| it == Spiked::Spiked).collect();
        rate(said.into_iter()).map(|it| it.count)
    };
    let (hits, false_alarms) = (said_present(Spiked::Spiked)?, said_present(Spiked::Plain)?);
    Some((
        hits,
        false_alarms,
        Detection::log_linear(hits, false_alarms),
    ))
}
