//! Which notes count for a verdict: those that were not led come before those that were.

use crate::domain::Knew;
use crate::domain::Name;
use crate::domain::Nose;
use crate::domain::Scale;
use crate::domain::ShelfId;
use crate::domain::Stage;
use crate::domain::Wheel;
use crate::profile::Glass;
use crate::profile::Noise;
use crate::profile::Offset;
use crate::profile::Tasted;
use crate::workflow::About;
use crate::workflow::Counted;
use crate::workflow::Found;
use crate::workflow::Noted;
use crate::workflow::PanelOnLine;
use crate::workflow::noted::noted;
use crate::workflow::noted::scale_noted;

/// Puts the notes that count in front, and says how many they are and which.
///
/// A second pass over the same glass is no second glass, so it never counts. A taster who knew the
/// recipe, broke the seal or had a poor nose counts only when nobody else tasted.
pub(super) fn counting_first(found: Vec<Found>) -> (Vec<Found>, usize, Counted) {
    let (first, again): (Vec<Found>, Vec<Found>) =
        found.into_iter().partition(|it| it.notes.round == 1);
    let (mut unled, mut led): (Vec<Found>, Vec<Found>) = first.into_iter().partition(is_unled);
    let counted = match (unled.is_empty(), led.is_empty() && again.is_empty()) {
        (true, _) => Counted::OnlyLed,
        (false, true) => Counted::All,
        (false, false) => Counted::TheUnled,
    };
    if unled.is_empty() {
        std::mem::swap(&mut unled, &mut led);
    }
    let counting = unled.len();
    unled.extend(led);
    unled.extend(again);
    (unled, counting, counted)
}

/// Notes that were led neither by the recipe nor by a poor nose.
pub(super) fn is_unled(found: &Found) -> bool {
    let notes = &found.notes;
    let knew = matches!(notes.knew, Some(Knew::Recipe | Knew::EarlierReveal));
    let poor = matches!(notes.nose, Some(Nose::Cold | Nose::Meal | Nose::Tired));
    !knew && !poor && notes.seal_broken_at.is_none()
}

/// What each set of notes says on a scale.
pub(super) fn on_scale(found: &[Found], scale: &'static Scale) -> Vec<Noted> {
    let notes = found.iter().map(|it| &it.notes);
    notes.map(|it| scale_noted(it, scale)).collect()
}

/// What each set of notes says on a shelf.
pub(super) fn on_shelf(
    wheel: &Wheel,
    found: &[Found],
    shelf: &ShelfId,
    stage: Stage,
) -> Vec<Noted> {
    let line = crate::domain::Line::Shelf {
        shelf: shelf.clone(),
        stage,
    };
    let notes = found.iter().map(|it| &it.notes);
    notes.map(|it| noted(wheel, it, &line)).collect()
}

/// The answers of each taster, in digits; `noted` stands beside `found`, note by note.
fn tasted(found: &[Found], noted: &[Noted], digits: impl Fn(f64) -> f64) -> Vec<Tasted> {
    tasted_by(found, noted, digits, |_| (Noise::DEFAULT, Offset::NONE))
}

/// The answers of each taster as evidence, in digits, with noise and offset of their own; `noted` stands beside
/// `found`, note by note.
pub(super) fn tasted_by(
    found: &[Found],
    noted: &[Noted],
    digits: impl Fn(f64) -> f64,
    own: impl Fn(&Name) -> (Noise, Offset),
) -> Vec<Tasted> {
    let mut by_taster: Vec<(&Name, Vec<Glass>)> = Vec::new();
    for (it, noted) in found.iter().zip(noted) {
        let Noted::Value(value) = noted else {
            continue;
        };
        let glass = Glass {
            day: it.tasted_on,
            digits: digits(*value),
        };
        match by_taster.iter_mut().find(|row| *row.0 == it.taster) {
            Some(row) => row.1.push(glass),
            None => by_taster.push((&it.taster, vec![glass])),
        }
    }
    let rows = by_taster.iter();
    rows.filter_map(|(name, glasses)| {
        let (noise, offset) = own(name);
        Tasted::new(glasses, noise, offset)
    })
    .collect()
}

/// What the tasters who count say together on a line: over each one's mean, in digits.
pub(super) fn panel_on(about: &About, found: &[Found], noted: &[Noted]) -> Option<PanelOnLine> {
    let digits = |value: f64| match about {
        About::Scale(scale) => scale.digits(value),
        About::Shelf { .. } => value,
    };
    let mut means: Vec<f64> = tasted(found, noted, digits)
        .iter()
        .map(Tasted::mean)
        .collect();
    means.sort_by(f64::total_cmp);
    let (lowest, highest) = (*means.first()?, *means.last()?);
    let middle = means.len() / 2;
    let below = means[(means.len() - 1) / 2];
    Some(PanelOnLine {
        tasters: means.len(),
        mean: means.iter().sum::<f64>() / means.len() as f64,
        median: f64::midpoint(below, means[middle]),
        lowest,
        highest,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Day;
    use crate::statistics::Dice;
    use crate::workflow::Clock;
    use crate::workflow::Home;

    #[test]
    fn a_panel_is_told_by_its_median_and_its_ends_and_a_taster_counts_once() {
        let (home, _folder) = Home::demo(Clock::system(), Dice::from_system().unwrap()).unwrap();
        let beer = home.beer("OD1").unwrap();
        let (found, _) = home.locked_of(&beer, None).unwrap();
        let one = |taster: &str| Found {
            taster: Name::new("a taster", taster).unwrap(),
            tasted_on: Day::parse("2026-09-12").unwrap(),
            ..found[0].clone()
        };
        let found = ["A", "B", "B", "C", "D"].map(one);
        let noted = [2.0, 4.0, 6.0, 9.0, 3.0].map(Noted::Value);
        let about = About::Scale(Scale::from_id("bitter").unwrap());
        // By hand: A 2, B (4 + 6)/2 = 5, C 9, D 3; median (3 + 5)/2 = 4, mean 19/4.
        let panel = panel_on(&about, &found, &noted).unwrap();
        assert_eq!((panel.tasters, panel.lowest, panel.highest), (4, 2.0, 9.0));
        assert_eq!((panel.median, panel.mean), (4.0, 4.75));
        let three = panel_on(&about, &found[..4], &noted[..4]).unwrap();
        assert_eq!((three.tasters, three.median), (3, 5.0));
        assert_eq!(panel_on(&about, &found, &[Noted::Skipped; 5]), None);
    }
}
