//! The seal: from the opening of a tasting to its lock, nothing of the plan and of the others is given out.

use std::collections::HashSet;
use std::sync::Arc;

use crate::domain::Beer;
use crate::domain::BeerId;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::NotesChange;
use crate::domain::NotesId;
use crate::domain::RecipeVersionId;
use crate::domain::SeatId;
use crate::storage::NotesRow;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::WaitingGlass;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

impl Home {
    /// Lets pass only if nobody is tasting this beer.
    ///
    /// # Errors
    /// [`WorkflowError::Sealed`], with the names of those who are.
    pub(crate) fn ensure_unsealed(
        &self,
        beer: &BeerId,
        mark: &Name,
        what: &'static str,
    ) -> Result<(), WorkflowError> {
        unless_sealed(&self.sealing(beer)?, mark, what)
    }

    /// Lets pass only if nobody is tasting this beer or another one of the same recipe version:
    /// what they hope for and what is computed is the same.
    ///
    /// # Errors
    /// [`WorkflowError::Sealed`], with the names of those who are.
    pub(crate) fn ensure_plan_unsealed(
        &self,
        beer: &Beer,
        what: &'static str,
    ) -> Result<(), WorkflowError> {
        unless_sealed(&self.sealing_plan(beer)?, &beer.cap_mark, what)
    }

    /// Lets pass only if nobody is tasting a batch, whichever it is.
    ///
    /// # Errors
    /// [`WorkflowError::PredictionsWait`], with the names of those who are.
    pub(crate) fn ensure_no_batch_is_tasted(&self) -> Result<(), WorkflowError> {
        let mut sealing = self.all_sealing()?;
        sealing.retain(|it| it.beer.batch.is_some());
        if sealing.is_empty() {
            return Ok(());
        }
        Err(WorkflowError::PredictionsWait {
            tasters: names(&sealing),
            panel: panel(&sealing),
        })
    }

    /// Everything that seals: open notes, and glasses of panels that were not told yet, in both cases only
    /// while their seal is whole. Every glass of a panel seals until it is told, because what is
    /// known of one would give away the others.
    fn all_sealing(&self) -> Result<Vec<Sealing>, WorkflowError> {
        let open = self.open_notes()?;
        Ok(sealing_of(&open, self.store.waiting_glasses()?))
    }

    /// Notes that nobody locked or left, newest last; read anew only when somebody has written.
    pub(super) fn open_notes(&self) -> Result<Arc<Vec<NotesRow>>, WorkflowError> {
        self.open
            .or_drawn(self.store.stamp()?, || Ok(self.store.open_notes()?))
    }

    /// True while anybody tastes a batch: then not even the names of recipes are told.
    pub(super) fn is_a_batch_tasted(&self) -> Result<bool, WorkflowError> {
        Ok(self.all_sealing()?.iter().any(|it| it.beer.batch.is_some()))
    }

    /// Brings something back into the file. What seals from then on carries the mark of a broken seal: while it was
    /// away nothing sealed, and whoever wanted to could read the plan. Gives the names of those whose notes are marked.
    ///
    /// # Errors
    /// It does not come back, or the store cannot be written; nothing is changed then.
    pub(super) fn with_new_seals_broken(
        &mut self,
        bring_back: impl FnOnce(&mut Store) -> Result<(), StorageError>,
    ) -> Result<Vec<String>, WorkflowError> {
        let now = self.now();
        self.store.in_one_go(|store| {
            let before = sealing_in(store)?;
            bring_back(store)?;
            let mut new = sealing_in(store)?;
            new.retain(|it| before.iter().all(|other| other.by != it.by));
            mark_broken(store, &new, now)?;
            Ok(names(&new))
        })
    }

    /// True while anything in this home may not be told yet: a glass is tasted, a test is open, somebody practises.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(crate) fn is_anything_sealed(&self) -> Result<bool, WorkflowError> {
        if !self.all_sealing()?.is_empty() {
            return Ok(true);
        }
        if self.store.tests()?.iter().any(|it| it.closed_at.is_none()) {
            return Ok(true);
        }
        for taster in self.store.tasters()? {
            if !self.store.open_practices(&taster.id)?.is_empty() {
                return Ok(true);
            }
        }
        Ok(false)
    }

    /// What keeps the notes of a beer sealed.
    fn sealing(&self, beer: &BeerId) -> Result<Vec<Sealing>, WorkflowError> {
        let mut sealing = self.all_sealing()?;
        sealing.retain(|it| it.beer.id == *beer);
        Ok(sealing)
    }

    /// What keeps the plan of a beer sealed: on every beer of its recipe version.
    fn sealing_plan(&self, beer: &Beer) -> Result<Vec<Sealing>, WorkflowError> {
        let version = self.version_in(beer)?;
        let mut sealing = Vec::new();
        for it in self.all_sealing()? {
            let same = it.beer.id == beer.id
                || (version.is_some() && self.version_in(&it.beer)? == version);
            if same {
                sealing.push(it);
            }
        }
        Ok(sealing)
    }

    /// Everything that stands before somebody now, looked up once for a whole list of beers.
    pub(super) fn poured_glasses(&self) -> Result<PouredGlasses, WorkflowError> {
        let mut glasses = PouredGlasses::default();
        let (open, waiting) = (self.open_notes()?, self.store.waiting_glasses()?);
        let beers = open.iter().map(|it| &it.beer.id);
        let beers = beers.chain(waiting.iter().map(|it| &it.beer.id));
        glasses.poured = beers.cloned().collect();
        for it in sealing_of(&open, waiting) {
            glasses.versions.extend(self.version_in(&it.beer)?);
            glasses.sealing.insert(it.beer.id);
        }
        Ok(glasses)
    }

    /// True while somebody has this beer, or another of its recipe version, before them.
    pub(super) fn is_tasted_now(
        &self,
        glasses: &PouredGlasses,
        beer: &Beer,
    ) -> Result<bool, WorkflowError> {
        Ok(glasses.hold(&beer.id) || self.is_sealed_by(glasses, beer)?)
    }

    /// True while one of these glasses seals the plan of this beer.
    pub(super) fn is_sealed_by(
        &self,
        glasses: &PouredGlasses,
        beer: &Beer,
    ) -> Result<bool, WorkflowError> {
        if glasses.sealing.is_empty() {
            return Ok(false);
        }
        Ok(match self.version_in(beer)? {
            Some(version) => glasses.seal_plan_of(beer, &version),
            None => glasses.sealing.contains(&beer.id),
        })
    }

    /// The recipe version a beer was brewed from, if it is a batch.
    fn version_in(&self, beer: &Beer) -> Result<Option<RecipeVersionId>, WorkflowError> {
        let Some(id) = &beer.batch else {
            return Ok(None);
        };
        Ok(self.store.batch(id)?.map(|batch| batch.version))
    }

    /// True while the plan of this beer is sealed.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(crate) fn is_plan_sealed(&self, beer: &Beer) -> Result<bool, WorkflowError> {
        Ok(!self.sealing_plan(beer)?.is_empty())
    }

    /// Breaks the seal of a beer's plan on purpose; every open set of notes carries the mark for
    /// ever, and so do all that are begun later at a seat of a panel with this beer. Gives the names of
    /// those whose notes are marked.
    ///
    /// # Errors
    /// No beer has the mark, or the store cannot be written.
    pub fn break_seal(&mut self, mark: &str) -> Result<Vec<String>, WorkflowError> {
        let beer = self.beer(mark)?;
        let now = self.now();
        let sealing = self.sealing_plan(&beer)?;
        self.store
            .in_one_go(|store| mark_broken(store, &sealing, now))?;
        Ok(names(&sealing))
    }
}

/// The beers that somebody has before them, at a table or at a panel that was not told yet.
#[derive(Default)]
pub(super) struct PouredGlasses {
    poured: HashSet<BeerId>,
    /// Those of them whose seal is whole, and the recipe versions they were brewed from.
    sealing: HashSet<BeerId>,
    versions: HashSet<RecipeVersionId>,
}

impl PouredGlasses {
    /// True while nobody has anything before them.
    pub(super) fn is_empty(&self) -> bool {
        self.poured.is_empty()
    }

    /// True while anybody has this beer before them.
    pub(super) fn hold(&self, beer: &BeerId) -> bool {
        self.poured.contains(beer)
    }

    /// True while the plan of every beer brewed from this version is sealed.
    pub(super) fn seal_version(&self, version: &RecipeVersionId) -> bool {
        self.versions.contains(version)
    }

    /// True while the plan of this beer, brewed from this version, is sealed.
    pub(super) fn seal_plan_of(&self, beer: &Beer, version: &RecipeVersionId) -> bool {
        self.sealing.contains(&beer.id) || self.versions.contains(version)
    }
}

/// One thing that keeps a beer sealed.
struct Sealing {
    by: SealedBy,
    taster: Name,
    beer: Beer,
}

/// What seals in a file.
fn sealing_in(store: &Store) -> Result<Vec<Sealing>, StorageError> {
    Ok(sealing_of(&store.open_notes()?, store.waiting_glasses()?))
}

/// What of these seals: where the seal was not broken.
fn sealing_of(open: &[NotesRow], waiting: Vec<WaitingGlass>) -> Vec<Sealing> {
    let open = open.iter().filter(|row| row.seal_broken_at.is_none());
    let open = open.map(|row| Sealing {
        by: SealedBy::Notes(row.notes.clone()),
        taster: row.taster.name.clone(),
        beer: row.beer.clone(),
    });
    let waiting = waiting.into_iter().filter(|it| it.key_seen_at.is_none());
    let waiting = waiting.map(|it| Sealing {
        by: SealedBy::Seat(it.seat, it.number),
        taster: it.taster.name,
        beer: it.beer,
    });
    open.chain(waiting).collect()
}

/// Writes the mark of a broken seal on all that seals.
fn mark_broken(store: &mut Store, sealing: &[Sealing], now: Moment) -> Result<(), StorageError> {
    sealing.iter().try_for_each(|it| match &it.by {
        SealedBy::Notes(id) => store.change_notes(id, &[NotesChange::SealBroken(now)]),
        SealedBy::Seat(seat, _) => store.break_seat_seal(seat, now),
    })
}

/// What carries the mark when a seal is broken.
#[derive(PartialEq, Eq)]
enum SealedBy {
    /// Open notes.
    Notes(NotesId),
    /// A seat at the panel with this number.
    Seat(SeatId, u32),
}

/// The first panel among what seals.
fn panel(sealing: &[Sealing]) -> Option<u32> {
    sealing.iter().find_map(|it| match it.by {
        SealedBy::Notes(_) => None,
        SealedBy::Seat(_, number) => Some(number),
    })
}

fn unless_sealed(
    sealing: &[Sealing],
    mark: &Name,
    what: &'static str,
) -> Result<(), WorkflowError> {
    if sealing.is_empty() {
        return Ok(());
    }
    Err(WorkflowError::Sealed {
        what,
        mark: mark.to_string(),
        tasters: names(sealing),
        panel: panel(sealing),
    })
}

/// Who tastes, each once.
fn names(sealing: &[Sealing]) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for it in sealing {
        let name = it.taster.to_string();
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;
    use crate::domain::NotesSource;
    use crate::formats::EXAMPLE;

    #[test]
    fn every_prediction_waits_while_a_batch_is_tasted_and_none_names_the_glass() {
        let mut home = Home::trial_with_a_batch();
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("renamed.toml");
        fs::write(&file, EXAMPLE.replace("Harbour dark", "Something else")).unwrap();
        assert!(home.predict(&file, None).is_ok());
        let ana = home.add_taster("Ana").unwrap();
        let mut tasting = home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        let refusal = home.predict(&file, None).unwrap_err().to_string();
        assert!(
            refusal.contains("Ana") && !refusal.contains("T1"),
            "{refusal}"
        );
        home.lock(&mut tasting).unwrap();
        assert!(home.predict(&file, None).is_ok());
    }

    #[test]
    fn the_intent_cannot_be_written_again_while_the_batch_is_tasted() {
        let mut home = Home::trial_with_a_batch();
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("again.toml");
        fs::write(&file, EXAMPLE).unwrap();
        let path = file.display().to_string();
        let ana = home.add_taster("Ana").unwrap();
        home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        let refused = home.log_entry("T1", "intent", &path);
        assert!(
            matches!(refused, Err(WorkflowError::Sealed { .. })),
            "{refused:?}"
        );
        home.break_seal("T1").unwrap();
        assert!(home.log_entry("T1", "intent", &path).is_ok());
    }
}
