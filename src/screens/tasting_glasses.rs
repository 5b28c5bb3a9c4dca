//! Two glasses in one tasting: which one is in hand, and how the questions go from one to the other.
//!
//! Stage by stage: the first glass is asked a stage, then the other one the same stage, then both the
//! next. What is asked once for the table (the nose, what is known) is asked at the first glass.

use crate::domain::Field;
use crate::domain::Form;
use crate::domain::NotesChange;
use crate::screens::CupsScreen;
use crate::screens::Next;
use crate::screens::TastingScreen;
use crate::screens::VersusScreen;
use crate::workflow::Cups;
use crate::workflow::Home;
use crate::workflow::Pourer;
use crate::workflow::Tasting;
use crate::workflow::TwoGlasses;
use crate::workflow::WorkflowError;

/// Which of two glasses is in hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum InHand {
    First,
    Second,
}

/// The glass that waits while the other one is in hand.
#[derive(Debug, Clone)]
pub(super) struct OtherGlass {
    /// Its tasting.
    pub(super) tasting: Tasting,
    /// Which of the two the one in hand is.
    pub(super) in_hand: InHand,
    /// Who poured.
    pub(super) pourer: Pourer,
}

/// The stretch of questions that is asked of one glass before the other; 0 for what is asked once.
fn stretch(form: Form, field: Field) -> usize {
    let mut number = 0;
    let mut stage = None;
    for it in form.fields() {
        let once = matches!(it, Field::Checklist | Field::Knew | Field::Nose);
        if !once && (number == 0 || it.stage() != stage || it == Field::Lock) {
            number += 1;
            stage = it.stage();
        }
        if it == field {
            break;
        }
    }
    number
}

fn stretch_of(tasting: &Tasting) -> usize {
    let field = Field::from_id(&tasting.notes.current_field).unwrap_or(Field::Checklist);
    stretch(tasting.notes.form, field)
}

impl TastingScreen {
    /// The screen for two glasses, wherever they stand.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn of_two(two: TwoGlasses, home: &Home) -> Result<Self, WorkflowError> {
        let [first, second] = two.tastings;
        let mut screen = Self::new(first, home)?;
        screen.other = Some(OtherGlass {
            tasting: second,
            in_hand: InHand::First,
            pourer: two.pourer,
        });
        screen.take_up();
        screen.rest();
        Ok(screen)
    }

    /// Both glasses in their order, while there are two.
    pub(super) fn two(&self) -> Option<TwoGlasses> {
        let other = self.other.as_ref()?;
        let (here, there) = (self.tasting.clone(), other.tasting.clone());
        let tastings = match other.in_hand {
            InHand::First => [here, there],
            InHand::Second => [there, here],
        };
        Some(TwoGlasses {
            tastings,
            pourer: other.pourer,
        })
    }

    /// True where the codes are under the cups until the end.
    pub(super) fn turns_cups(&self) -> bool {
        let other = self.other.as_ref();
        other.is_some_and(|it| it.pourer == Pourer::Taster)
    }

    /// Puts down the glass in hand and takes the other one.
    pub(super) fn change_hands(&mut self) {
        if let Some(other) = &mut self.other {
            std::mem::swap(&mut self.tasting, &mut other.tasting);
            other.in_hand = match other.in_hand {
                InHand::First => InHand::Second,
                InHand::Second => InHand::First,
            };
        }
    }

    /// Takes up the glass that is behind; of two that are level, the first.
    pub(super) fn take_up(&mut self) {
        let Some(other) = &self.other else {
            return;
        };
        let here = (stretch_of(&self.tasting), other.in_hand);
        let there = (stretch_of(&other.tasting), flipped(other.in_hand));
        if there < here {
            self.change_hands();
        }
    }

    /// Goes to a question of this glass, or to the other glass where a stretch begins or ends.
    pub(super) fn go_between(
        &mut self,
        home: &mut Home,
        mut changes: Vec<NotesChange>,
        field: Field,
    ) -> Result<(), WorkflowError> {
        let Some(in_hand) = self.other.as_ref().map(|it| it.in_hand) else {
            return Ok(());
        };
        let form = self.tasting.notes.form;
        let (here, there) = (stretch(form, self.field()), stretch(form, field));
        if here == 0 && there > 0 {
            changes.push(NotesChange::Moved(field));
            return self.leave_the_table(home, &changes, field);
        }
        if there >= here || there == 0 && in_hand == InHand::First {
            changes.push(NotesChange::Moved(field));
            self.commit(home, &changes)?;
            self.take_up();
            return Ok(());
        }
        if !changes.is_empty() {
            self.commit(home, &changes)?;
        }
        self.back_to_the_other(home, in_hand, field)
    }

    /// Back over the beginning of a stretch: the other glass is taken up where it ended it, or where
    /// it began it if a whole stage was asked for.
    fn back_to_the_other(
        &mut self,
        home: &mut Home,
        in_hand: InHand,
        field: Field,
    ) -> Result<(), WorkflowError> {
        let (fields, from) = (self.fields(), self.field());
        let at = |field: Field| fields.iter().position(|it| *it == field).unwrap_or(0);
        let by_stage = at(field) + 1 < at(from);
        self.change_hands();
        let form = self.tasting.notes.form;
        let target = match (in_hand, by_stage) {
            (InHand::First, _) => field,
            (InHand::Second, true) => from,
            (InHand::Second, false) => {
                let same = |it: &&Field| stretch(form, **it) == stretch(form, from);
                self.fields()
                    .iter()
                    .rev()
                    .find(same)
                    .copied()
                    .unwrap_or(from)
            }
        };
        self.commit(home, &[NotesChange::Moved(target)])?;
        self.take_up();
        Ok(())
    }

    /// From what is asked once for the table to the first glass: the other one learns it too.
    fn leave_the_table(
        &mut self,
        home: &mut Home,
        changes: &[NotesChange],
        field: Field,
    ) -> Result<(), WorkflowError> {
        let mut notes = self.tasting.notes.clone();
        for change in changes {
            notes.apply(change);
        }
        let same = [
            NotesChange::Knew(notes.knew),
            NotesChange::Nosed(notes.nose),
            NotesChange::Formed(notes.form),
            NotesChange::Moved(field),
        ];
        let back = self.undoing(changes);
        let Some(other) = &mut self.other else {
            return self.commit(home, changes);
        };
        home.change_two([(&mut other.tasting, &same), (&mut self.tasting, changes)])?;
        self.keep_undoing(back);
        Ok(())
    }
}

/// Locks both glasses and opens them, or asks which cup was which first.
pub(super) fn lock_both(mut two: TwoGlasses, home: &mut Home) -> Result<Next, WorkflowError> {
    if two.pourer == Pourer::Taster {
        return Ok(Next::Replace(Box::new(CupsScreen::new(two))));
    }
    let held = home.lock_two(&mut two, Cups::InSight)?;
    Ok(Next::Replace(Box::new(VersusScreen::opened(&held))))
}

const fn flipped(hand: InHand) -> InHand {
    match hand {
        InHand::First => InHand::Second,
        InHand::Second => InHand::First,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Scale;
    use crate::domain::Stage;

    #[test]
    fn a_stretch_is_a_stage_and_the_first_sniff_and_the_end_are_their_own() {
        let scale = |id: &str| Field::Scale(Scale::from_id(id).unwrap());
        let full = |field| stretch(Form::Full, field);
        assert_eq!(
            [Field::Checklist, Field::Knew, Field::Nose].map(full),
            [0; 3]
        );
        let first = [
            Field::FirstSniff,
            scale("colour"),
            Field::Words(Stage::Aroma),
            Field::CarriedOver,
            scale("fullness"),
            scale("dryness"),
            scale("liking"),
            Field::Lock,
        ];
        assert_eq!(first.map(full), [1, 2, 3, 4, 5, 6, 7, 8]);
        assert_eq!(full(Field::Words(Stage::Flavour)), full(Field::CarriedOver));
        assert_eq!(full(Field::Remark), full(scale("lacing")));
    }
}
