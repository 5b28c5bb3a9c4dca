//! What a family of ingredients usually brings: the stand-in for an ingredient that nobody has described.

use crate::domain::Catalogue;
use crate::domain::FermentableFamily;
use crate::domain::FlavourUnits;
use crate::domain::Gift;
use crate::domain::Holds;
use crate::domain::Identity;
use crate::domain::OtherKind;

/// The standard deviation of log10(units) of a stand-in: ten times more or less is no surprise
/// (judgement).
const WIDE: f64 = 0.8;

/// Less than this is not worth a line: one in forty would name it.
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
            (*family, typical(members.map(|it| &it.identity)))
        });
        let others = OtherKind::ALL.iter().map(|kind| {
            let members = catalogue.others().iter().filter(|it| it.kind == *kind);
            (*kind, typical(members.map(|it| &it.identity)))
        });
        Self {
            fermentables: fermentables.collect(),
            hop: typical(catalogue.hops().iter().map(|it| &it.identity)),
            yeast: typical(catalogue.yeasts().iter().map(|it| &it.identity)),
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
    let mut count = 0.0;
    let mut sums: Vec<(Gift, f64)> = Vec::new();
    for member in members {
        count += 1.0;
        for gift in member.gifts.known().unwrap_or_default() {
            match sums.iter_mut().find(|(it, _)| is_same(it, gift)) {
                Some((it, sum)) => *sum += gift.units.get() * rescaled(it, gift),
                None => sums.push((gift.clone(), gift.units.get())),
            }
        }
    }
    let mean = |(gift, sum): (Gift, f64)| {
        let units = FlavourUnits::new(sum / count).ok()?;
        (units.get() >= LEAST).then_some(Gift {
            units,
            spread: WIDE,
            ..gift
        })
    };
    sums.into_iter().filter_map(mean).collect()
}

/// True for gifts to one shelf by one way.
fn is_same(one: &Gift, other: &Gift) -> bool {
    let way = match (one.holds, other.holds) {
        (Holds::AtHopDose(_, one), Holds::AtHopDose(_, other)) => one == other,
        _ => true,
    };
    way && one.shelf == other.shelf
}

/// What the units of `gift` are worth at the dose of `it`.
fn rescaled(it: &Gift, gift: &Gift) -> f64 {
    match (it.holds, gift.holds) {
        (
            Holds::AtDose(one) | Holds::AtHopDose(one, _),
            Holds::AtDose(other) | Holds::AtHopDose(other, _),
        ) => one.get() / other.get(),
        _ => 1.0,
    }
}
