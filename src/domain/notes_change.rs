//! One change to notes: what a key did, so that it can be stored, shown and taken back alike.

use crate::domain::BottleFault;
use crate::domain::Field;
use crate::domain::Form;
use crate::domain::Knew;
use crate::domain::Mark;
use crate::domain::MarkId;
use crate::domain::Moment;
use crate::domain::Nose;
use crate::domain::Notes;
use crate::domain::Rating;
use crate::domain::Remark;
use crate::domain::Scale;
use crate::domain::Stopwatch;

/// A change to open notes.
#[derive(Debug, Clone, PartialEq)]
pub enum NotesChange {
    /// The taster moved to another question.
    Moved(Field),
    /// The other form was chosen.
    Formed(Form),
    /// What was known beforehand; none takes the answer back.
    Knew(Option<Knew>),
    /// How the nose is; none takes the answer back.
    Nosed(Option<Nose>),
    /// An answer on a scale; none takes it back to silence.
    Rated(&'static Scale, Option<Rating>),
    /// A word named, or its strength said or changed.
    Marked(Mark),
    /// A word taken back.
    Unmarked(MarkId),
    /// A watch started or stopped.
    Watched(Stopwatch),
    /// A watch taken back.
    Unwatched(&'static Scale),
    /// Free notes; none takes them back.
    Remarked(Option<Remark>),
    /// Something is wrong with the bottle; none takes it back.
    Faulted(Option<BottleFault>),
    /// The seal was broken on purpose.
    SealBroken(Moment),
    /// The notes became final.
    Locked(Moment),
}

impl Notes {
    /// Applies a change to the notes in memory.
    pub fn apply(&mut self, change: &NotesChange) {
        match change {
            NotesChange::Moved(field) => self.current_field = field.id(),
            NotesChange::Formed(form) => self.form = *form,
            NotesChange::Knew(knew) => self.knew = *knew,
            NotesChange::Nosed(nose) => self.nose = *nose,
            NotesChange::Rated(scale, rating) => {
                self.ratings.retain(|(it, _)| it.id != scale.id);
                self.ratings.extend(rating.map(|rating| (*scale, rating)));
            }
            NotesChange::Marked(mark) => match self.marks.iter_mut().find(|it| it.id == mark.id) {
                Some(old) => *old = mark.clone(),
                None => self.marks.push(mark.clone()),
            },
            NotesChange::Unmarked(id) => self.marks.retain(|mark| mark.id != *id),
            NotesChange::Watched(watch) => {
                self.stopwatches.retain(|it| it.scale.id != watch.scale.id);
                self.stopwatches.push(*watch);
            }
            NotesChange::Unwatched(scale) => {
                self.stopwatches.retain(|it| it.scale.id != scale.id);
            }
            NotesChange::Remarked(remark) => self.remark.clone_from(remark),
            NotesChange::Faulted(fault) => self.bottle_fault = *fault,
            // The first time the seal is broken is the one that counts.
            NotesChange::SealBroken(at) => self.seal_broken_at = self.seal_broken_at.or(Some(*at)),
            NotesChange::Locked(at) => self.locked_at = Some(*at),
        }
    }

    /// The change that takes `change` back from these notes, as they stand before it; none for
    /// what stands for ever: a broken seal and a lock.
    #[must_use]
    pub fn undoing(&self, change: &NotesChange) -> Option<NotesChange> {
        Some(match change {
            NotesChange::Moved(_) => NotesChange::Moved(Field::from_id(&self.current_field).ok()?),
            NotesChange::Formed(_) => NotesChange::Formed(self.form),
            NotesChange::Knew(_) => NotesChange::Knew(self.knew),
            NotesChange::Nosed(_) => NotesChange::Nosed(self.nose),
            NotesChange::Rated(scale, _) => NotesChange::Rated(scale, self.rating(scale)),
            NotesChange::Marked(mark) => match self.marks.iter().find(|it| it.id == mark.id) {
                Some(old) => NotesChange::Marked(old.clone()),
                None => NotesChange::Unmarked(mark.id.clone()),
            },
            NotesChange::Unmarked(id) => {
                NotesChange::Marked(self.marks.iter().find(|it| it.id == *id)?.clone())
            }
            NotesChange::Watched(watch) => match self.stopwatch(watch.scale) {
                Some(old) => NotesChange::Watched(old),
                None => NotesChange::Unwatched(watch.scale),
            },
            NotesChange::Unwatched(scale) => NotesChange::Watched(self.stopwatch(scale)?),
            NotesChange::Remarked(_) => NotesChange::Remarked(self.remark.clone()),
            NotesChange::Faulted(_) => NotesChange::Faulted(self.bottle_fault),
            NotesChange::SealBroken(_) | NotesChange::Locked(_) => return None,
        })
    }
}
