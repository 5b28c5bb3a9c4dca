//! What a family of ingredients usually brings: the stand-in for an ingredient that nobody has described.

use crate::domain::Catalogue;
use crate::domain::FermentableFamily;
use crate::domain::FlavourUnits;
use crate::domain::Gift;
use crate::domain::GramsPerLitre;
use crate::domain::Holds;
use crate::domain::Hop;
use crate::domain::Identity;
use crate::domain::OtherKind;
use crate::profile::oil_units::oil_units;

/// The standard deviation of log10(units) of a stand-in: ten times more or less is no surprise
/// (judgement).
const WIDE: f64 = 0.8;

/// Less than this is not worth a line: one in forty would name it, were it known exactly.
const LEAST: f64 = 0.1;

/// The stand-ins of every family.
#[derive(Debug, Clone, PartialEq)]
pub struct FamilyGifts {
    fermentables: Vec<(FermentableFamily, Vec<Gift>)>,
    hop: Vec<Gift>,
    yeast: Vec<Gift>,
    others: Vec<(OtherKind, Vec<Gift>)>,
}

impl FamilyGifts {
    /// The stand-ins that a catalogue gives: for each shelf the mean of what the family's members
    /// bring there, those that bring nothing counted in, with a wide range.
    #[must_use]
    pub fn of(catalogue: &Catalogue) -> Self {
        let fermentables = FermentableFamily::ALL.iter().map(|family| {
            let members = catalogue.fermentables().iter();
            let members = members.filter(|it| it.family == *family);
            (*family, typical(members.map(|it| it.identity.as_ref())))
        });
        let others = OtherKind::ALL.iter().map(|kind| {
            let members = catalogue.others().iter().filter(|it| it.kind == *kind);
            (*kind, typical(members.map(|it| it.identity.as_ref())))
        });
        Self {
            fermentables: fermentables.collect(),
            hop: typical_hop(catalogue.hops()),
            yeast: typical(catalogue.yeasts().iter().map(|it| it.identity.as_ref())),
            others: others.collect(),
        }
    }

    /// What a family of fermentables usually brings.
    #[must_use]
    pub fn fermentable(&self, family: FermentableFamily) -> &[Gift] {
        of_kind(&self.fermentables, &family)
    }

    /// What a hop usually brings.
    #[must_use]
    pub fn hop(&self) -> &[Gift] {
        &self.hop
    }

    /// What a yeast usually brings.
    #[must_use]
    pub fn yeast(&self) -> &[Gift] {
        &self.yeast
    }

    /// What a kind of addition usually brings.
    #[must_use]
    pub fn other(&self, kind: OtherKind) -> &[Gift] {
        of_kind(&self.others, &kind)
    }
}

fn of_kind<'a, K: PartialEq>(all: &'a [(K, Vec<Gift>)], kind: &K) -> &'a [Gift] {
    let found = all.iter().find(|it| it.0 == *kind);
    found.map_or(&[], |it| it.1.as_slice())
}

/// The mean of what members bring to each shelf, at the dose or temperature of the first that does.
fn typical<'a>(members: impl Iterator<Item = &'a Identity>) -> Vec<Gift> {
    let all: Vec<&Identity> = members.collect();
    let count = all.len();
    let gifts = all
        .into_iter()
        .flat_map(|it| it.gifts.known().unwrap_or_default().iter().cloned());
    mean_of(gifts, count)
}

/// The same of hops; a share of the oil counts as what it comes to.
fn typical_hop(hops: &[Hop]) -> Vec<Gift> {
    let gifts = hops.iter().flat_map(|hop| {
        let gifts = hop.identity.gifts.known().unwrap_or_default().iter();
        gifts.filter_map(|it| in_units(hop, it))
    });
    mean_of(gifts, hops.len())
}

/// A gift of a hop, told by units at the usual dose.
fn in_units(hop: &Hop, gift: &Gift) -> Option<Gift> {
    let Holds::OfOil { share, part } = gift.holds else {
        return Some(gift.clone());
    };
    let (units, _) = oil_units(hop.oil.as_ref()?, part);
    let at = GramsPerLitre::new(GramsPerLitre::OF_GIFTS).ok()?;
    let units = FlavourUnits::new(share * units * at.get()).ok()?;
    Some(Gift {
        holds: Holds::AtHopDose { units, at, part },
        ..gift.clone()
    })
}

/// The mean over so many members, those that bring nothing to a shelf counted in.
fn mean_of(gifts: impl Iterator<Item = Gift>, members: usize) -> Vec<Gift> {
    let mut sums: Vec<(Gift, f64)> = Vec::new();
    for gift in gifts {
        let units = units_of(&gift);
        match sums.iter_mut().find(|(it, _)| is_same(it, &gift)) {
            Some((it, sum)) => *sum += units * rescaled(it, &gift),
            None => sums.push((gift, units)),
        }
    }
    // A catalogue has a few hundred members, which a float holds exactly.
    let count = u32::try_from(members).map_or(f64::INFINITY, f64::from);
    let mean = |(gift, sum): (Gift, f64)| {
        let mean = FlavourUnits::new(sum / count).ok()?;
        (mean.get() >= LEAST).then(|| Gift {
            holds: with_units(gift.holds, mean),
            spread: WIDE,
            ..gift
        })
    };
    sums.into_iter().filter_map(mean).collect()
}

const fn units_of(gift: &Gift) -> f64 {
    match gift.holds {
        Holds::AtDose { units, .. }
        | Holds::AtHopDose { units, .. }
        | Holds::Fermented { units, .. }
        | Holds::After { units, .. } => units.get(),
        Holds::OfOil { .. } => 0.0,
    }
}

const fn with_units(holds: Holds, mean: FlavourUnits) -> Holds {
    let units = mean;
    match holds {
        Holds::AtDose { at, fate, .. } => Holds::AtDose { units, at, fate },
        Holds::AtHopDose { at, part, .. } => Holds::AtHopDose { units, at, part },
        Holds::Fermented {
            per_ten_degrees, ..
        } => Holds::Fermented {
            units,
            per_ten_degrees,
        },
        Holds::After { amount, .. } => Holds::After { units, amount },
        Holds::OfOil { .. } => holds,
    }
}

/// True for gifts to one shelf by one way.
fn is_same(one: &Gift, other: &Gift) -> bool {
    let way = match (one.holds, other.holds) {
        (Holds::AtHopDose { part: one, .. }, Holds::AtHopDose { part: other, .. }) => one == other,
        _ => true,
    };
    way && one.shelf == other.shelf
}

/// What the units of `gift` are worth at the dose of `it`.
fn rescaled(it: &Gift, gift: &Gift) -> f64 {
    match (it.holds, gift.holds) {
        (
            Holds::AtDose { at: one, .. } | Holds::AtHopDose { at: one, .. },
            Holds::AtDose { at: other, .. } | Holds::AtHopDose { at: other, .. },
        ) => one.get() / other.get(),
        _ => 1.0,
    }
}
