//! Whether the change that was promised of a recipe was seen in the glass.

use crate::domain::Batch;
use crate::domain::Beer;
use crate::domain::KeptProposal;
use crate::domain::Name;
use crate::domain::PromisedChange;
use crate::domain::RecipeVersion;
use crate::profile::Evidence;
use crate::profile::Forecast;
use crate::profile::Judged;
use crate::profile::Kept;
use crate::profile::judge;
use crate::profile::kept;
use crate::profile::moved_along;
use crate::workflow::Home;
use crate::workflow::KitchenSpread;
use crate::workflow::SpreadBasis;
use crate::workflow::Tasters;
use crate::workflow::WorkflowError;
use crate::workflow::taster_noise::TasterNoise;
use crate::workflow::versus::HeldLine;

/// From the middle of a normal distribution to its tenth, in standard deviations.
const TO_THE_TENTH: f64 = 1.2816;

/// What became of a recipe file after it was written from a proposal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SinceWritten {
    /// It was brewed letter for letter as it was written.
    Unaltered,
    /// It was altered before it was brewed, so that the promise is of another recipe.
    Altered,
}

/// One line that was to move.
#[derive(Debug, Clone, PartialEq)]
pub struct PromiseLine {
    /// What was promised.
    pub promised: PromisedChange,
    /// The mean difference noted, in digits; none where either beer has no number.
    pub noted: Option<f64>,
    /// The difference to the beer before, judged together with the other promised lines.
    pub moved: Option<Judged>,
    /// What became of the promise.
    pub kept: Kept,
    /// Whether the line moved as it was to further than brews of one recipe differ.
    pub beyond_brews: bool,
}

impl PromiseLine {
    /// The change that was promised, in digits: a tenth below, expected, a tenth above.
    #[must_use]
    pub fn change(&self) -> [f64; 3] {
        let it = &self.promised;
        [it.low, it.expected, it.high].map(|to| to - it.now)
    }

    /// How many more glasses of each beer it would take, where that is known.
    #[must_use]
    pub fn needed(&self) -> Option<u32> {
        self.moved?.needed
    }
}

/// What made the difference, as far as can be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cause {
    /// Nothing moved as it was to, beyond the noise.
    NothingSeen,
    /// What was seen is consistent with the change; brews of one recipe may differ as much.
    Consistent,
    /// It is more than brews of one recipe differ in this kitchen.
    TheChange,
}

/// A promise beside what was found.
#[derive(Debug, Clone, PartialEq)]
pub struct PromiseKept {
    /// The bottle, and the one before it.
    pub cap_marks: [Name; 2],
    /// What became of the file after it was written.
    pub since_written: SinceWritten,
    /// How many sets of notes of each count.
    pub glasses: [usize; 2],
    /// Whose they are.
    pub tasters: Tasters,
    /// The lines that were to move, in the order of the proposal.
    pub lines: Vec<PromiseLine>,
    /// How far brews of one recipe lie apart.
    pub kitchen: KitchenSpread,
    /// What made the difference.
    pub cause: Cause,
}

impl Home {
    /// The proposal of which a version was written, and what became of the file since.
    pub(super) fn proposal_of(
        &self,
        version: &RecipeVersion,
    ) -> Result<Option<(KeptProposal, SinceWritten)>, WorkflowError> {
        let proposal = self.kept_proposal_for(&version.name, &version.version)?;
        Ok(proposal.map(|it| {
            let since = if it.hash == version.hash {
                SinceWritten::Unaltered
            } else {
                SinceWritten::Altered
            };
            (it, since)
        }))
    }

    /// What became of a promise in one batch.
    pub(super) fn promise_in(
        &self,
        batch: &Batch,
        (proposal, since_written): &(KeptProposal, SinceWritten),
        (noise, kitchen): (&TasterNoise, KitchenSpread),
    ) -> Result<Option<PromiseKept>, WorkflowError> {
        let before = self.store.batch(&proposal.batch)?;
        let Some(before) = before.filter(|it| it.id != batch.id) else {
            return Ok(None);
        };
        let beers = [self.bottled(batch)?, self.bottled(&before)?];
        let both = self.comparable([&beers[0], &beers[1]])?;
        let held = self.held_lines(&both, noise);
        let lines = lines(&proposal.proposed.lines, &held, kitchen);
        Ok(Some(PromiseKept {
            cap_marks: beers.map(|it| it.cap_mark),
            since_written: *since_written,
            glasses: both.glasses(),
            tasters: both.tasters,
            cause: cause(&lines, kitchen),
            lines,
            kitchen,
        }))
    }

    fn bottled(&self, batch: &Batch) -> Result<Beer, WorkflowError> {
        let beer = self.store.beer_of_batch(&batch.id)?;
        beer.map_or_else(|| self.beer(batch.cap_mark.as_str()), Ok)
    }
}

/// The lines that were to move beside what was noted of them. They are one family: how they moved, how that is
/// beside the promise, and whether it is more than two brews differ are each judged over all of them.
fn lines(
    promised: &[PromisedChange],
    held: &[HeldLine],
    kitchen: KitchenSpread,
) -> Vec<PromiseLine> {
    let pairs: Vec<(&PromisedChange, Option<&HeldLine>)> = promised
        .iter()
        .filter(|it| it.is_to_move())
        .map(|it| (it, held.iter().find(|held| held.line.id == it.id)))
        .collect();
    let brews = TO_THE_TENTH * std::f64::consts::SQRT_2 * kitchen.sd;
    let no_change = Forecast {
        tenth: -brews,
        middle: 0.0,
        ninetieth: brews,
    };
    let moved = judged(&pairs, |_, held| held.evidence());
    let beside = judged(&pairs, |it, held| held.evidence_moved(change(it)));
    let brewed = judged(&pairs, |_, held| held.evidence_moved(no_change));
    let rows = pairs.into_iter().zip(moved).zip(beside).zip(brewed);
    rows.map(|((((promised, held), moved), beside), brewed)| {
        let by = promised.expected - promised.now;
        let verdicts = moved.zip(beside);
        PromiseLine {
            promised: promised.clone(),
            noted: held.and_then(HeldLine::evidence).map(|it| it.gap()),
            moved,
            kept: verdicts.map_or(Kept::CannotTell, |(moved, beside)| {
                kept(by, moved.verdict, beside.verdict)
            }),
            beyond_brews: brewed.is_some_and(|it| moved_along(by, &it)),
        }
    })
    .collect()
}

/// Each pair judged as one family; none where there is no evidence.
fn judged(
    pairs: &[(&PromisedChange, Option<&HeldLine>)],
    evidence: impl Fn(&PromisedChange, &HeldLine) -> Option<Evidence>,
) -> Vec<Option<Judged>> {
    let found: Vec<Option<Evidence>> = pairs
        .iter()
        .map(|(promised, held)| evidence(promised, (*held)?))
        .collect();
    let family: Vec<Evidence> = found.iter().flatten().cloned().collect();
    let mut judged = judge(&family).into_iter();
    let rows = found.iter();
    rows.map(|it| it.as_ref().and_then(|_| judged.next()))
        .collect()
}

/// What was promised, as a forecast of the change.
fn change(it: &PromisedChange) -> Forecast {
    Forecast {
        tenth: it.low - it.now,
        middle: it.expected - it.now,
        ninetieth: it.high - it.now,
    }
}

fn cause(lines: &[PromiseLine], kitchen: KitchenSpread) -> Cause {
    let moved = |it: &PromiseLine| {
        let [_, by, _] = it.change();
        it.moved.is_some_and(|moved| moved_along(by, &moved))
    };
    let is_measured = matches!(kitchen.basis, SpreadBasis::Measured { .. });
    if !lines.iter().any(moved) {
        Cause::NothingSeen
    } else if is_measured && lines.iter().any(|it| it.beyond_brews) {
        Cause::TheChange
    } else {
        Cause::Consistent
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::NotesSource;
    use crate::workflow::trial_promise::MARKS;
    use crate::workflow::trial_promise::promised_home;
    use crate::workflow::trial_promise::rated_by;
    use crate::workflow::trial_promise::second_brew;

    /// What became of the promise of a batch; none where nothing was promised.
    fn promise_kept(home: &Home, mark: &str) -> Result<Option<PromiseKept>, WorkflowError> {
        let batch = home.batch(mark)?;
        let Some(version) = home.store.recipe_version(&batch.version)? else {
            return Ok(None);
        };
        match home.proposal_of(&version)? {
            Some(promised) => {
                let noise = home.taster_noise()?;
                let known = (noise.as_ref(), home.kitchen_spread()?);
                home.promise_in(&batch, &promised, known)
            }
            None => Ok(None),
        }
    }

    /// Six tasters, one glass of each beer.
    const SIX: [&str; 6] = ["Ana", "Ben", "Cy", "Dora", "Eve", "Finn"];

    fn bitter(home: &Home) -> PromiseLine {
        let kept = promise_kept(home, MARKS[1]).unwrap().unwrap();
        assert_eq!(kept.lines.len(), 1, "{:?}", kept.lines);
        kept.lines[0].clone()
    }

    #[test]
    fn what_six_tasters_say_of_a_promised_step_from_3_to_7_is_called_by_its_name() {
        // One glass each with the noise of nobody measured: v = 2·1.383/6 = 0.461, SD 0.68. The promise adds
        // (2/2.563)² = 0.61. A step of 4 is 5.9 SD from nothing; of nothing, 3.9 SD from the promise; of one back,
        // 5.9 SD the other way; a step of 6 is 1.9 SD beyond, which is not beyond 5 % with so few freedoms.
        for (found, expected) in [
            (7.0, Kept::AsPromised),
            (3.0, Kept::Less),
            (9.0, Kept::AsPromised),
        ] {
            let mut home = promised_home([3.0, 6.0, 7.0, 8.0]);
            rated_by(&mut home, &SIX, MARKS[0], 3.0);
            rated_by(&mut home, &SIX, MARKS[1], found);
            let line = bitter(&home);
            assert_eq!(line.kept, expected, "{found}: {line:?}");
            assert_eq!(line.noted, Some(found - 3.0));
        }
        let mut home = promised_home([7.0, 7.5, 8.0, 8.5]);
        rated_by(&mut home, &SIX, MARKS[0], 7.0);
        rated_by(&mut home, &SIX, MARKS[1], 3.0);
        assert_eq!(bitter(&home).kept, Kept::OtherWay);
    }

    #[test]
    fn one_glass_each_cannot_tell_and_says_how_many_more_it_takes() {
        let mut home = promised_home([4.0, 5.0, 6.0, 7.0]);
        rated_by(&mut home, &SIX[..1], MARKS[0], 4.0);
        rated_by(&mut home, &SIX[..1], MARKS[1], 6.0);
        let line = bitter(&home);
        assert_eq!(line.kept, Kept::CannotTell);
        assert!(line.needed().is_some(), "{line:?}");
        let kept = promise_kept(&home, MARKS[1]).unwrap().unwrap();
        assert_eq!(kept.cause, Cause::NothingSeen);
        assert_eq!(kept.glasses, [1, 1]);
    }

    #[test]
    fn the_change_did_it_only_after_a_repeat_brew_has_shown_how_far_brews_differ() {
        let mut home = promised_home([3.0, 6.0, 7.0, 8.0]);
        rated_by(&mut home, &SIX, MARKS[0], 3.0);
        rated_by(&mut home, &SIX, MARKS[1], 7.0);
        let first = promise_kept(&home, MARKS[1]).unwrap().unwrap();
        assert_eq!(first.cause, Cause::Consistent);
        assert_eq!(first.kitchen, KitchenSpread::DEFAULT);
        second_brew(&mut home, "T9");
        rated_by(&mut home, &SIX, "T9", 3.0);
        let again = promise_kept(&home, MARKS[1]).unwrap().unwrap();
        assert_eq!(again.cause, Cause::TheChange);
        assert_eq!(again.kitchen.basis, SpreadBasis::Measured { pairs: 1 });
        // Where the same recipe came out five digits apart, four digits prove no change.
        let mut home = promised_home([3.0, 6.0, 7.0, 8.0]);
        rated_by(&mut home, &SIX, MARKS[0], 3.0);
        rated_by(&mut home, &SIX, MARKS[1], 7.0);
        second_brew(&mut home, "T9");
        rated_by(&mut home, &SIX, "T9", 8.0);
        let uneven = promise_kept(&home, MARKS[1]).unwrap().unwrap();
        assert_eq!(uneven.cause, Cause::Consistent, "{:?}", uneven.kitchen);
    }

    #[test]
    fn nothing_is_said_of_a_promise_while_either_beer_is_in_a_glass_or_before_both_were() {
        let mut home = promised_home([3.0, 6.0, 7.0, 8.0]);
        rated_by(&mut home, &SIX[..1], MARKS[0], 3.0);
        let untasted = promise_kept(&home, MARKS[1]);
        assert!(matches!(untasted, Err(WorkflowError::NothingTasted { .. })));
        rated_by(&mut home, &SIX[..1], MARKS[1], 7.0);
        assert!(promise_kept(&home, MARKS[1]).unwrap().is_some());
        assert_eq!(promise_kept(&home, MARKS[0]).unwrap(), None);
        for mark in MARKS {
            let gil = home.taster_or_new("Gil").unwrap();
            let mut tasting = home.start_tasting(&gil, mark, NotesSource::App).unwrap();
            let sealed = promise_kept(&home, MARKS[1]);
            assert!(
                matches!(sealed, Err(WorkflowError::Sealed { .. })),
                "{sealed:?}"
            );
            home.lock(&mut tasting).unwrap();
        }
    }

    #[test]
    fn a_file_that_was_altered_after_it_was_written_is_told_and_small_moves_are_no_promise() {
        let mut home = promised_home([3.0, 6.0, 7.0, 8.0]);
        rated_by(&mut home, &SIX[..1], MARKS[0], 3.0);
        rated_by(&mut home, &SIX[..1], MARKS[1], 7.0);
        let kept = promise_kept(&home, MARKS[1]).unwrap().unwrap();
        assert_eq!(kept.since_written, SinceWritten::Unaltered);
        let batch = home.batch(MARKS[1]).unwrap();
        let version = home.store.recipe_version(&batch.version).unwrap().unwrap();
        let mut altered = home.kept_proposals().unwrap().remove(0);
        altered.id = crate::domain::ProposalId::new("later");
        altered.hash = "0".repeat(64);
        altered.made_at = home.now();
        let small = PromisedChange {
            id: "sweet".to_owned(),
            expected: altered.proposed.lines[0].now + 0.2,
            ..altered.proposed.lines[0].clone()
        };
        altered.proposed.lines.push(small);
        home.keep_proposal(&altered).unwrap();
        let (_, since) = home.proposal_of(&version).unwrap().unwrap();
        assert_eq!(since, SinceWritten::Altered);
        let kept = promise_kept(&home, MARKS[1]).unwrap().unwrap();
        assert_eq!(kept.since_written, SinceWritten::Altered);
        assert_eq!(kept.lines.len(), 1);
    }
}
