//! What one set of notes says on a line of the plan: a value, a name, a zero, or one kind of silence.

use crate::domain::Field;
use crate::domain::Line;
use crate::domain::Notes;
use crate::domain::Rating;
use crate::domain::Scale;
use crate::domain::ShelfId;
use crate::domain::Stage;
use crate::domain::Subject;
use crate::domain::Wheel;

/// What one set of notes says on a line of the plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Noted {
    /// Named or rated, with this value.
    Value(f64),
    /// Named, without a strength.
    Named,
    /// Not named; that is silence, not zero.
    NotMentioned,
    /// Asked and skipped.
    Skipped,
    /// Asked, and the taster could not tell.
    CannotTell,
    /// Asked in this form, and left open.
    NotAnswered,
    /// Never asked in this form.
    NotAsked,
}

/// What notes say on a line; words roll up to their shelf by the maximum.
pub(super) fn noted(wheel: &Wheel, notes: &Notes, line: &Line) -> Noted {
    match line {
        Line::Scale(scale) => scale_noted(notes, scale),
        Line::Word { descriptor, stage } => {
            let shelf = wheel.descriptor(descriptor).map(|it| &it.shelf);
            let named = strongest(notes, *stage, |subject| {
                *subject == Subject::Descriptor(descriptor.clone())
            });
            or_swept(wheel, notes, *stage, shelf, named)
        }
        Line::Shelf { shelf, stage } => {
            let named = strongest(notes, *stage, |subject| match subject {
                Subject::Descriptor(id) => {
                    wheel.descriptor(id).is_some_and(|it| it.shelf == *shelf)
                }
                Subject::Shelf(id) => id == shelf,
                Subject::Place(_) | Subject::Free(_) => false,
            });
            or_swept(wheel, notes, *stage, Some(shelf), named)
        }
    }
}

/// A word that was not mentioned is answered with 0 where its whole place was asked for and denied.
fn or_swept(
    wheel: &Wheel,
    notes: &Notes,
    stage: Stage,
    shelf: Option<&ShelfId>,
    named: Noted,
) -> Noted {
    let place = shelf.and_then(|it| wheel.shelf(it)).map(|it| &it.place);
    let denied = notes.marks_at(stage).any(|mark| {
        let is_place = matches!(&mark.subject, Subject::Place(id) if Some(id) == place);
        is_place && mark.intensity == Some(0)
    });
    match named {
        Noted::NotMentioned if denied => Noted::Value(0.0),
        other => other,
    }
}

/// What notes say on a scale.
pub(super) fn scale_noted(notes: &Notes, scale: &'static Scale) -> Noted {
    match notes.rating(scale) {
        Some(Rating::Rated(value)) => Noted::Value(value),
        Some(Rating::Skipped) => Noted::Skipped,
        Some(Rating::CannotTell) => Noted::CannotTell,
        None if notes.form.fields().contains(&Field::Scale(scale)) => Noted::NotAnswered,
        None => Noted::NotAsked,
    }
}

fn strongest(notes: &Notes, stage: Stage, is_it: impl Fn(&Subject) -> bool) -> Noted {
    let mut best = Noted::NotMentioned;
    for mark in notes.marks_at(stage).filter(|mark| is_it(&mark.subject)) {
        best = match (best, mark.intensity) {
            // An answer of 0 is an observation, but a weaker one than any naming.
            (Noted::NotMentioned, Some(0)) => Noted::Value(0.0),
            (other, Some(0)) => other,
            (Noted::Value(value), Some(more)) => Noted::Value(value.max(f64::from(more))),
            (Noted::Value(value), None) if value > 0.0 => Noted::Value(value),
            (_, Some(value)) => Noted::Value(f64::from(value)),
            (_, None) => Noted::Named,
        };
    }
    best
}

/// What was named in a set of notes, by itself or when its place was asked for, each once, in order.
pub(super) fn named(notes: &Notes) -> Vec<&Subject> {
    let mut subjects: Vec<&Subject> = Vec::new();
    for mark in &notes.marks {
        if mark.intensity != Some(0) && !subjects.contains(&&mark.subject) {
            subjects.push(&mark.subject);
        }
    }
    subjects
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::DescriptorId;
    use crate::domain::Form;
    use crate::domain::Mark;
    use crate::domain::MarkId;
    use crate::domain::NotesSource;
    use crate::domain::PlaceId;
    use crate::domain::Prompting;
    use crate::workflow::Home;

    fn notes(marks: &[(Subject, Option<u8>)]) -> (Home, Notes) {
        let mut home = Home::trial();
        let taster = home.add_taster("Ana").unwrap();
        let tasting = home.start_tasting(&taster, "T1", NotesSource::App).unwrap();
        let mut notes = tasting.notes;
        notes.marks = marks
            .iter()
            .enumerate()
            .map(|(index, (subject, intensity))| Mark {
                id: MarkId::new(index.to_string()),
                stage: Stage::Aroma,
                subject: subject.clone(),
                intensity: *intensity,
                prompting: Prompting::Prompted,
            })
            .collect();
        (home, notes)
    }

    fn toast() -> Subject {
        Subject::Descriptor(DescriptorId::new("toast").unwrap())
    }

    fn on_toast(marks: &[(Subject, Option<u8>)]) -> Noted {
        let (home, notes) = notes(marks);
        let line = Line::Word {
            descriptor: DescriptorId::new("toast").unwrap(),
            stage: Stage::Aroma,
        };
        noted(home.wheel(), &notes, &line)
    }

    #[test]
    fn silence_is_not_zero_and_zero_is_not_silence() {
        let bakery = Subject::Place(PlaceId::new("bakery").unwrap());
        assert_eq!(on_toast(&[]), Noted::NotMentioned);
        assert_eq!(on_toast(&[(toast(), Some(0))]), Noted::Value(0.0));
        assert_eq!(on_toast(&[(bakery, Some(0))]), Noted::Value(0.0));
        let garden = Subject::Place(PlaceId::new("garden").unwrap());
        assert_eq!(on_toast(&[(garden, Some(0))]), Noted::NotMentioned);
    }

    #[test]
    fn a_word_that_was_named_counts_more_than_a_zero() {
        assert_eq!(
            on_toast(&[(toast(), Some(0)), (toast(), None)]),
            Noted::Named
        );
        assert_eq!(
            on_toast(&[(toast(), Some(0)), (toast(), Some(4))]),
            Noted::Value(4.0)
        );
    }

    #[test]
    fn a_question_left_open_is_told_from_one_that_was_never_asked() {
        let (_home, mut notes) = notes(&[]);
        let sour = Scale::from_id("sour").unwrap();
        assert_eq!(scale_noted(&notes, sour), Noted::NotAnswered);
        notes.form = Form::Short;
        assert_eq!(scale_noted(&notes, sour), Noted::NotAsked);
    }
}
