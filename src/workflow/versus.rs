//! One beer against another, glass by glass: no recipe needed, each difference judged against the noise.

use crate::domain::Beer;
use crate::domain::Name;
use crate::domain::SCALES;
use crate::domain::SeatId;
use crate::domain::ShelfId;
use crate::domain::Stage;
use crate::domain::Subject;
use crate::profile::Against;
use crate::profile::Evidence;
use crate::profile::Forecast;
use crate::profile::Judged;
use crate::profile::Noise;
use crate::profile::Offset;
use crate::profile::Tasted;
use crate::profile::judge;
use crate::workflow::About;
use crate::workflow::Found;
use crate::workflow::Home;
use crate::workflow::Noted;
use crate::workflow::Outcome;
use crate::workflow::WorkflowError;
use crate::workflow::batch_warning::fault_cautions;
use crate::workflow::compared_lines::outcome;
use crate::workflow::compared_lines::shelf_label;
use crate::workflow::counted_notes::counting_first;
use crate::workflow::counted_notes::on_scale;
use crate::workflow::counted_notes::on_shelf;
use crate::workflow::counted_notes::tasted_by;
use crate::workflow::noted::named;
use crate::workflow::taster_noise::TasterNoise;

/// One line on which two beers were both answered, or a shelf that was named in one of them.
#[derive(Debug, Clone, PartialEq)]
pub struct VersusLine {
    /// The key in JSON.
    pub id: String,
    /// The words on screen.
    pub label: String,
    /// What it is about.
    pub about: About,
    /// The mean in each beer, in digits; none where nobody gave a number.
    pub means: [Option<f64>; 2],
    /// What can be said of the first against the second.
    pub outcome: Outcome,
    /// The judgement behind it.
    pub judged: Option<Judged>,
}

/// Whose notes are held against each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tasters {
    /// They had both glasses before them at once, under codes, and only those glasses count.
    SideBySide,
    /// The same people tasted both, and only they count.
    Shared,
    /// Nobody tasted both: their different mouths are in every difference.
    Different,
}

/// Two beers beside each other.
#[derive(Debug, Clone, PartialEq)]
pub struct Versus {
    /// The two bottles.
    pub cap_marks: [Name; 2],
    /// How many sets of notes of each count.
    pub glasses: [usize; 2],
    /// Whose they are.
    pub tasters: Tasters,
    /// Who gave them, each once.
    pub names: Vec<Name>,
    /// What bad bottles of either mean for the others, each with its cap mark.
    pub cautions: Vec<(Name, String)>,
    /// The lines, what differs most in front.
    pub lines: Vec<VersusLine>,
}

impl Home {
    /// Holds the locked notes of one beer against those of another.
    ///
    /// # Errors
    /// A beer is not known, is still being tasted, or has no locked notes of a sound bottle; or both
    /// are the same.
    pub fn versus(&self, one: &str, other: &str) -> Result<Versus, WorkflowError> {
        let beers = [self.beer(one)?, self.beer(other)?];
        if beers[0].id == beers[1].id {
            return Err(WorkflowError::SameBeer {
                mark: beers[0].cap_mark.to_string(),
            });
        }
        let both = self.comparable([&beers[0], &beers[1]])?;
        let glasses = both.glasses();
        let mut names: Vec<Name> = Vec::new();
        for found in both.notes.iter().flatten() {
            if !names.contains(&found.taster) {
                names.push(found.taster.clone());
            }
        }
        let mut cautions = Vec::new();
        for beer in &beers {
            let (_, faulty) = self.locked_of(beer, None)?;
            let told = fault_cautions(&faulty);
            cautions.extend(told.map(|it| (beer.cap_mark.clone(), it)));
        }
        Ok(Versus {
            names,
            cautions,
            lines: settled(self.held_lines(&both, self.taster_noise()?.as_ref())),
            cap_marks: beers.map(|it| it.cap_mark),
            glasses,
            tasters: both.tasters,
        })
    }

    /// The notes of two beers that can be held against each other.
    ///
    /// # Errors
    /// Either is still being tasted, or has no locked notes of a sound bottle.
    pub(super) fn comparable(&self, beers: [&Beer; 2]) -> Result<Comparable, WorkflowError> {
        let [mut first, mut second] = [self.counting(beers[0])?, self.counting(beers[1])?];
        let tasters = keep_comparable(&mut first, &mut second);
        Ok(Comparable {
            notes: [first, second],
            tasters,
        })
    }

    /// The notes of a beer that count.
    fn counting(&self, beer: &Beer) -> Result<Vec<Found>, WorkflowError> {
        self.ensure_plan_unsealed(beer, "every set of notes")?;
        let (found, _) = self.locked_of(beer, None)?;
        let (mut found, counting, _) = counting_first(found);
        found.truncate(counting);
        if found.is_empty() {
            return Err(WorkflowError::NothingTasted {
                mark: beer.cap_mark.to_string(),
            });
        }
        Ok(found)
    }

    /// Every line of two beers with what each taster said of either; nothing is judged yet.
    pub(super) fn held_lines(&self, both: &Comparable, noise: &TasterNoise) -> Vec<HeldLine> {
        let ([first, second], tasters) = (&both.notes, both.tasters);
        let mut lines = Vec::new();
        for mut open in self.open_lines(first, second) {
            if tasters == Tasters::SideBySide {
                open.leave_out_unpaired([first, second]);
            }
            let digits = |value: f64| match &open.about {
                About::Scale(scale) => scale.digits(value),
                About::Shelf { .. } => value,
            };
            let own = |name: &Name| {
                let offset = offset_on(&open.about, name, tasters, noise);
                (noise_on(&open.about, name, tasters, noise), offset)
            };
            let here = tasted_by(first, &open.noted[0], digits, own);
            let there = tasted_by(second, &open.noted[1], digits, own);
            let line = VersusLine {
                id: open.id,
                label: open.label,
                means: [mean(&here), mean(&there)],
                outcome: unjudged(&open.about, &open.noted),
                judged: None,
                about: open.about,
            };
            let tasted = [here, there];
            lines.push(HeldLine { line, tasted });
        }
        lines
    }

    /// Every scale of the profile, and every shelf that was named in either beer.
    fn open_lines(&self, first: &[Found], second: &[Found]) -> Vec<OpenLine> {
        let scales = SCALES.iter().filter(|it| it.stage.is_some());
        let scales = scales.map(|scale| OpenLine {
            id: scale.id.to_owned(),
            label: scale.word.to_owned(),
            about: About::Scale(scale),
            noted: [first, second].map(|it| on_scale(it, scale)),
        });
        let shelves = self.named_shelves(first, second).into_iter();
        let shelves = shelves.map(|(shelf, stage)| OpenLine {
            id: format!("{}:shelf:{shelf}", stage.id()),
            label: shelf_label(self.wheel(), &shelf, stage, &[]),
            noted: [first, second].map(|it| on_shelf(self.wheel(), it, &shelf, stage)),
            about: About::Shelf {
                shelf,
                stage,
                words: Vec::new(),
            },
        });
        scales.chain(shelves).collect()
    }

    /// The shelves on which something was named in either beer.
    fn named_shelves(&self, first: &[Found], second: &[Found]) -> Vec<(ShelfId, Stage)> {
        let mut shelves = Vec::new();
        for stage in [Stage::Aroma, Stage::Flavour] {
            for found in first.iter().chain(second) {
                let here = found.notes.marks_at(stage).map(|it| &it.subject);
                let named = named(&found.notes);
                for subject in here.filter(|it| named.contains(it)) {
                    let shelf = match subject {
                        Subject::Descriptor(id) => self.wheel().descriptor(id).map(|it| &it.shelf),
                        Subject::Shelf(id) => Some(id),
                        Subject::Place(_) | Subject::Free(_) => None,
                    };
                    let key = shelf.map(|it| (it.clone(), stage));
                    if let Some(key) = key.filter(|it| !shelves.contains(it)) {
                        shelves.push(key);
                    }
                }
            }
        }
        shelves
    }
}

/// Two beers' notes that count against each other.
pub(super) struct Comparable {
    /// The notes of either.
    pub(super) notes: [Vec<Found>; 2],
    /// Whose they are.
    pub(super) tasters: Tasters,
}

impl Comparable {
    /// How many sets of notes of each.
    pub(super) fn glasses(&self) -> [usize; 2] {
        self.notes.each_ref().map(Vec::len)
    }
}

/// A line of two beers with what each taster said of either.
pub(super) struct HeldLine {
    /// The line, not yet judged.
    pub(super) line: VersusLine,
    /// The answers on either side, in digits.
    pub(super) tasted: [Vec<Tasted>; 2],
}

impl HeldLine {
    /// The first beer against the other; none where either has no number.
    pub(super) fn evidence(&self) -> Option<Evidence> {
        let [here, there] = &self.tasted;
        Evidence::new(here.clone(), Against::Batch(there.clone()))
    }

    /// The same, where a change from the other beer to the first was expected.
    pub(super) fn evidence_moved(&self, by: Forecast) -> Option<Evidence> {
        let [here, there] = &self.tasted;
        let from = there.clone();
        Evidence::new(here.clone(), Against::Moved { from, by })
    }
}

/// A line before it is judged, with what each set of notes of either beer says.
struct OpenLine {
    id: String,
    label: String,
    about: About,
    noted: [Vec<Noted>; 2],
}

/// How far a taster stands above others: it matters only where the two beers had different tasters.
fn offset_on(about: &About, name: &Name, tasters: Tasters, noise: &TasterNoise) -> Offset {
    match (tasters, about) {
        (Tasters::Different, About::Scale(scale)) => noise.above_all(name, scale),
        _ => Offset::NONE,
    }
}

/// The noise of a taster on a line.
fn noise_on(about: &About, name: &Name, tasters: Tasters, noise: &TasterNoise) -> Noise {
    let noise = match about {
        About::Scale(scale) => noise.on_scale(name, scale),
        About::Shelf { .. } => noise.on_shelf(name),
    };
    match tasters {
        // A day that shifts a taster shifts both glasses of one sitting.
        Tasters::SideBySide => noise.of_one_sitting(),
        Tasters::Shared | Tasters::Different => noise,
    }
}

/// The mean over tasters, in digits.
fn mean(tasted: &[Tasted]) -> Option<f64> {
    Some(Evidence::new(tasted.to_vec(), Against::Intent(0.0))?.gap())
}

impl OpenLine {
    /// Side by side a number counts only where the other glass of the same seat has one too.
    ///
    /// By seat and not place by place: at a panel one of the two may have stood there twice.
    fn leave_out_unpaired(&mut self, found: [&[Found]; 2]) {
        let alone = match self.about {
            About::Scale(_) => Noted::NotAnswered,
            About::Shelf { .. } => Noted::Named,
        };
        let valued = |side: usize| -> Vec<SeatId> {
            let both = found[side].iter().zip(&self.noted[side]);
            let valued = both.filter(|it| matches!(it.1, Noted::Value(_)));
            valued.map(|it| it.0.notes.seat.clone()).collect()
        };
        let seats = [valued(1), valued(0)];
        for ((noted, found), others) in self.noted.iter_mut().zip(found).zip(seats) {
            for (noted, found) in noted.iter_mut().zip(found) {
                if matches!(noted, Noted::Value(_)) && !others.contains(&found.notes.seat) {
                    *noted = alone;
                }
            }
        }
    }
}

/// Keeps on both sides the glasses that stood before one taster at once, if there are any; otherwise
/// only the people who tasted both, if there are any.
fn keep_comparable(first: &mut Vec<Found>, second: &mut Vec<Found>) -> Tasters {
    let seats =
        |found: &[Found]| -> Vec<SeatId> { found.iter().map(|it| it.notes.seat.clone()).collect() };
    let (one, other) = (seats(first), seats(second));
    if one.iter().any(|it| other.contains(it)) {
        first.retain(|it| other.contains(&it.notes.seat));
        second.retain(|it| one.contains(&it.notes.seat));
        // Seat by seat, so that the two sides can be walked together.
        first.sort_by(|a, b| a.notes.seat.cmp(&b.notes.seat));
        second.sort_by(|a, b| a.notes.seat.cmp(&b.notes.seat));
        return Tasters::SideBySide;
    }
    let of = |found: &[Found]| -> Vec<Name> { found.iter().map(|it| it.taster.clone()).collect() };
    let (one, other) = (of(first), of(second));
    if !one.iter().any(|it| other.contains(it)) {
        return Tasters::Different;
    }
    first.retain(|it| other.contains(&it.taster));
    second.retain(|it| one.contains(&it.taster));
    Tasters::Shared
}

/// What can be said of a line that one of the beers has no number on.
fn unjudged(about: &About, noted: &[Vec<Noted>; 2]) -> Outcome {
    let is_named = |it: &Noted| matches!(it, Noted::Named | Noted::Value(_));
    match about {
        About::Scale(_) => Outcome::NotRated,
        About::Shelf { .. } if noted.iter().all(|it| it.iter().any(is_named)) => {
            Outcome::CannotTellYet
        }
        About::Shelf { .. } => Outcome::NotMentionedYet,
    }
}

fn settled(lines: Vec<HeldLine>) -> Vec<VersusLine> {
    let found: Vec<Option<Evidence>> = lines.iter().map(HeldLine::evidence).collect();
    let evidence: Vec<Evidence> = found.iter().flatten().cloned().collect();
    let mut judged = judge(&evidence).into_iter();
    let mut settled = Vec::new();
    for (held, found) in lines.into_iter().zip(found) {
        let mut line = held.line;
        if found.is_some()
            && let Some(it) = judged.next()
        {
            line.outcome = outcome(it.verdict);
            line.judged = Some(it);
        }
        if line.outcome != Outcome::NotRated {
            settled.push(line);
        }
    }
    let size = |line: &VersusLine| line.judged.map_or(0.0, |it| it.size.abs());
    settled.sort_by(|a, b| {
        let differs = b.outcome.differs().cmp(&a.outcome.differs());
        differs.then(size(b).total_cmp(&size(a)))
    });
    settled
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statistics::Dice;
    use crate::workflow::Clock;

    #[test]
    fn two_versions_are_held_against_each_other_by_those_who_tasted_both() {
        let (home, _folder) = Home::demo(Clock::system(), Dice::from_system().unwrap()).unwrap();
        let both = home.versus("OD1", "OD2").unwrap();
        // By hand from the session: of the unled, Wobble alone tasted both; OD2 twice, but once tired.
        assert_eq!((both.tasters, both.glasses), (Tasters::Shared, [1, 1]));
        let back = home.versus("OD2", "OD1").unwrap();
        for line in &both.lines {
            let other = back.lines.iter().find(|it| it.id == line.id).unwrap();
            assert_eq!([line.means[1], line.means[0]], other.means, "{}", line.id);
        }
    }

    #[test]
    fn a_bottle_without_a_recipe_can_be_held_against_another_and_nothing_against_itself() {
        let (home, _folder) = Home::demo(Clock::system(), Dice::from_system().unwrap()).unwrap();
        assert!(home.versus("Green dot", "OD1").is_ok());
        let same = home.versus("OD1", "od1").unwrap_err();
        assert!(matches!(same, WorkflowError::SameBeer { .. }), "{same}");
        let untasted = home.versus("CS1", "OD1").unwrap_err();
        assert!(
            matches!(untasted, WorkflowError::NothingTasted { .. }),
            "{untasted}"
        );
    }
}
