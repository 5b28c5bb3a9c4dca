//! The keys `gives` and `gives_source` of an ingredient: what it brings to which shelf of the wheel.

use crate::domain::DescriptorId;
use crate::domain::Fate;
use crate::domain::FlavourUnits;
use crate::domain::Gift;
use crate::domain::Gifts;
use crate::domain::GramsPerLitre;
use crate::domain::Holds;
use crate::domain::HopPart;
use crate::domain::Invalid;
use crate::domain::ShelfId;
use crate::domain::Wheel;
use crate::domain::nearest_names;
use crate::formats::entry::Entry;
use crate::formats::problem::ProblemKind;
use crate::formats::problem::did_you_mean;
use crate::formats::problem::shown;
use crate::formats::section::Section;

/// The longest sentence on where gifts come from, in characters.
const MOST_SENTENCE: usize = 200;

/// How much esters grow with 10 °C more: ethyl acetate from 12.5 mg/L at 10 °C to 21.5 at 25 °C
/// (Kucharczyk & Tuszyński 2018, J. Inst. Brew.), Q10 = (21.5/12.5)^(10/15) = 1.44.
const USUAL_WARMTH: f64 = 1.44;

/// What the gifts of one kind of ingredient look like.
#[derive(Clone, Copy)]
pub(crate) enum GiftKind {
    /// Units at a dose; the usual standard deviation of their log10.
    Dosed { spread: f64 },
    /// Units of one part of a hop at a dose.
    Hop { spread: f64 },
    /// Units at the usual temperature of a yeast.
    Fermented { spread: f64 },
    /// Units after so much of a condition.
    After { spread: f64 },
}

impl GiftKind {
    const fn spread(self) -> f64 {
        match self {
            Self::Dosed { spread }
            | Self::Hop { spread }
            | Self::Fermented { spread }
            | Self::After { spread } => spread,
        }
    }
}

/// Reads the two keys; an ingredient without them smells of nothing.
pub(crate) fn gifts(section: &Section<'_>, kind: GiftKind, wheel: &Wheel) -> Option<Gifts> {
    let sections = section.sections("gives");
    let wanted = !sections.is_empty();
    let all: Vec<Option<Gift>> = sections
        .into_iter()
        .map(|it| {
            let read = gift(&it, kind, wheel);
            it.close();
            read
        })
        .collect();
    let source = if wanted {
        let entry = section.required("gives_source", "gives_source = \"judgement\"");
        entry.and_then(|it| it.line(MOST_SENTENCE))?
    } else {
        String::new()
    };
    let gifts = all.into_iter().collect::<Option<Vec<Gift>>>()?;
    Some(Gifts::Known { gifts, source })
}

fn gift(section: &Section<'_>, kind: GiftKind, wheel: &Wheel) -> Option<Gift> {
    let shelf = section.required("shelf", "shelf = \"toasted\"");
    let shelf = shelf.and_then(|it| shelf_of(&it, wheel));
    let words = section.required("words", "words = [\"bread-crust\"]");
    let words = words.map(|it| words_of(&it, shelf.as_ref(), wheel));
    let spread = section.entry("spread").map(|it| {
        let number = it.number()?;
        let in_range = (0.05..=1.5).contains(&number);
        it.settle(in_range.then_some(number).ok_or(Invalid::OutOfRange {
            what: "a spread",
            found: number,
            low: 0.05,
            high: 1.5,
            unit: "",
        }))
    });
    let holds = holds(section, kind);
    Some(Gift {
        shelf: shelf?,
        words: words?,
        holds: holds?,
        spread: spread.map_or(Some(kind.spread()), |it| it)?,
    })
}

fn holds(section: &Section<'_>, kind: GiftKind) -> Option<Holds> {
    if let (GiftKind::Hop { .. }, Some(share)) = (kind, section.entry("share")) {
        return of_oil(section, &share);
    }
    let units = section.required("units", "units = 3.0");
    let units = units.and_then(|it| it.settle(FlavourUnits::new(it.number()?)));
    let dose = || dose(section);
    match kind {
        GiftKind::Dosed { .. } => {
            let fate = section.entry("fate").map(|it| it.read(Fate::from_id));
            let (at, fate) = (dose(), fate.unwrap_or(Some(Fate::Stays)));
            let (units, at, fate) = (units?, at?, fate?);
            Some(Holds::AtDose { units, at, fate })
        }
        GiftKind::Hop { .. } => {
            let (at, part) = (dose(), part_of(section));
            let (units, at, part) = (units?, at?, part?);
            Some(Holds::AtHopDose { units, at, part })
        }
        GiftKind::Fermented { .. } => {
            let warm = section.entry("warm").map(|it| it.number());
            let per_ten_degrees = warm.unwrap_or(Some(USUAL_WARMTH))?;
            Some(Holds::Fermented {
                units: units?,
                per_ten_degrees,
            })
        }
        GiftKind::After { .. } => {
            let (units, amount) = (units?, dose()?.get());
            Some(Holds::After { units, amount })
        }
    }
}

fn dose(section: &Section<'_>) -> Option<GramsPerLitre> {
    let entry = section.required("at", "at = 20")?;
    entry.settle(GramsPerLitre::new(entry.number()?))
}

/// A share of what the oil gives of one part; only what an analysis of oil tells has one.
fn of_oil(section: &Section<'_>, share: &Entry<'_>) -> Option<Holds> {
    let number = share.number()?;
    let in_range = (0.0..=1.0).contains(&number);
    let number = share.settle(in_range.then_some(number).ok_or(Invalid::OutOfRange {
        what: "a share of the oil",
        found: number,
        low: 0.0,
        high: 1.0,
        unit: "",
    }));
    let part = part_of(section)?;
    if !matches!(part, HopPart::Resinous | HopPart::Floral) {
        share.mark(ProblemKind::Together {
            found: format!("an analysis of oil does not tell the {} part", part.word()),
            advice: "write units and at instead of share",
        });
        return None;
    }
    Some(Holds::OfOil {
        share: number?,
        part,
    })
}

fn part_of(section: &Section<'_>) -> Option<HopPart> {
    let part = section.required("kind", "kind = \"floral\"");
    part.and_then(|it| it.read(HopPart::from_id))
}

fn shelf_of(entry: &Entry<'_>, wheel: &Wheel) -> Option<ShelfId> {
    let id = entry.read(ShelfId::new)?;
    if wheel.shelf(&id).is_some() {
        return Some(id);
    }
    let known: Vec<&str> = wheel.shelves().iter().map(|it| it.id.as_str()).collect();
    unknown(entry, "shelf", id.as_str(), &known);
    None
}

/// The words that stand on the shelf; each other one is marked.
fn words_of(entry: &Entry<'_>, shelf: Option<&ShelfId>, wheel: &Wheel) -> Vec<DescriptorId> {
    let mut words = Vec::new();
    for item in entry.items() {
        let (Some(id), Some(shelf)) = (item.read(DescriptorId::new), shelf) else {
            continue;
        };
        let there: Vec<&str> = wheel.words_on(shelf).map(|it| it.id.as_str()).collect();
        if there.contains(&id.as_str()) {
            words.push(id);
        } else {
            unknown(&item, "word on that shelf", id.as_str(), &there);
        }
    }
    words
}

fn unknown(entry: &Entry<'_>, kind: &'static str, found: &str, known: &[&str]) {
    let near = nearest_names(found, known.iter().copied(), 3);
    entry.mark(ProblemKind::UnknownWord {
        kind,
        found: shown(found),
        advice: did_you_mean(&near, &format!("known: {}", known.join(", "))),
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Catalogue;
    use crate::formats::Problem;
    use crate::formats::read_catalogue;
    use crate::formats::trial_catalogue::CATALOGUE;
    use crate::formats::trial_catalogue::wheel;

    /// The catalogue with keys put behind the hop.
    fn with(keys: &str) -> Result<Catalogue, Vec<Problem>> {
        let text = CATALOGUE.replace(
            "alpha = [2.5, 3.5, 4.5]",
            &format!("alpha = [2.5, 3.5, 4.5]\n{keys}"),
        );
        read_catalogue(&[("c.toml", &text)], &[], &wheel())
    }

    fn problems(keys: &str) -> Vec<String> {
        let problems = with(keys).unwrap_err();
        problems.iter().map(|it| it.kind.to_string()).collect()
    }

    #[test]
    fn what_a_hop_brings_is_read_with_its_part_and_dose() {
        let catalogue = with("gives = [{ shelf = \"fruit\", words = [\"cut-grass\"], kind = \"floral\", units = 2, at = 4 }]\ngives_source = \"judgement\"").unwrap();
        let gift = &catalogue.hops()[0].identity.gifts.known().unwrap()[0];
        assert_eq!(gift.shelf.as_str(), "fruit");
        let dose = GramsPerLitre::new(4.0).unwrap();
        let (units, part) = (FlavourUnits::new(2.0).unwrap(), HopPart::Floral);
        let at = dose;
        assert_eq!(gift.holds, Holds::AtHopDose { units, at, part });
    }

    #[test]
    fn every_problem_of_a_gift_is_told_at_once() {
        let found =
            problems("gives = [{ shelf = \"fruits\", words = [], kind = \"loud\", units = -1 }]");
        for wanted in [
            "no shelf is called “fruits”; did you mean “fruit”?",
            "loud",
            "flavour units",
            "“at” is missing",
            "“gives_source” is missing",
        ] {
            assert!(
                found.iter().any(|it| it.contains(wanted)),
                "{wanted}: {found:#?}"
            );
        }
    }

    #[test]
    fn a_word_must_stand_on_the_shelf_of_its_gift() {
        let found = problems(
            "gives = [{ shelf = \"fruit\", words = [\"toast\"], kind = \"noble\", units = 1, at = 4 }]\ngives_source = \"judgement\"",
        );
        assert!(
            found[0].contains("no word on that shelf is called “toast”"),
            "{found:#?}"
        );
    }
}
