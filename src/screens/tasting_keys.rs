//! Which keys work on which question of a tasting, and what each question is for.

use crate::domain::Field;
use crate::domain::Form;
use crate::screens::Action;
use crate::screens::TastingScreen;
use crate::screens::tasting_scale_page::unit_is_seconds;

/// The keys that work on a question.
pub(super) fn actions(screen: &TastingScreen) -> Vec<Action> {
    use Action::{
        Accept, Back, CannotTell, Down, Fault, Left, NextStage, PreviousStage, Right, SecondPass,
        Short, Skip, Sweep, Undo, Unnameable, Up, Watch, Yes,
    };
    if screen.market.is_some() {
        return vec![Accept, Unnameable, Left, Right, Up, Down, Undo, Fault, Back];
    }
    if screen.sweep.is_some() {
        return vec![Accept, Right, Undo, Watch, Fault, Back];
    }
    let own: &[Action] = match screen.field() {
        Field::Checklist => &[Short],
        Field::FirstSniff | Field::Words(_) => &[Right, Unnameable, Sweep, Watch],
        Field::Scale(scale) if scale.id == "colour" => &[Left, Right, Skip, CannotTell, Watch],
        Field::Scale(_) => &[Skip, CannotTell, Watch],
        Field::CarriedOver => &[Skip, Watch],
        Field::Lock if screen.tasting.notes.form == Form::Full => &[SecondPass, Watch],
        Field::Knew | Field::Nose | Field::Remark | Field::Lock => &[],
    };
    let mut actions = vec![Accept];
    actions.extend(own);
    // The foam is timed in the first pass; later only where seconds are asked for.
    let notes = &screen.tasting.notes;
    let in_seconds = matches!(screen.field(), Field::Scale(scale) if unit_is_seconds(scale));
    let no_foam = notes.round > 1 || screen.other.is_some() || screen.is_at_panel();
    if notes.form == Form::Short || (no_foam && !in_seconds) {
        actions.retain(|action| *action != Watch);
    }
    actions.retain(|action| is_offered(screen, *action));
    if screen.field() == Field::Lock && screen.is_blank() {
        actions.push(Yes);
    }
    actions.extend([Undo, Fault, NextStage, PreviousStage, Up, Down, Back]);
    actions
}

/// Whether a key that the question knows works at this kind of sitting.
fn is_offered(screen: &TastingScreen, action: Action) -> bool {
    match action {
        Action::SecondPass => screen.other.is_none() && !screen.is_at_panel(),
        // How much is asked at a panel was planned for everybody.
        Action::Short => !screen.is_at_panel(),
        _ => true,
    }
}

/// What a key does on a question, where that is more than its usual word.
pub(super) fn label_of(screen: &TastingScreen, action: Action) -> Option<&'static str> {
    let sweeping = screen.sweep.is_some() && screen.pending.is_none();
    match (screen.field(), action) {
        _ if screen.market.is_some() => match action {
            Action::Accept | Action::Right => Some("go in"),
            Action::Left => Some("go out"),
            Action::Unnameable => Some("keep this much"),
            _ => None,
        },
        (_, Action::Accept) if sweeping => Some("nothing here"),
        (_, Action::Right) if sweeping => Some("look closer"),
        (Field::Scale(_), Action::Right) => Some("darker"),
        (Field::Scale(_), Action::Left) => Some("paler"),
        (Field::Checklist, Action::Short) if screen.tasting.notes.form == Form::Short => {
            Some("five stages")
        }
        (Field::Lock, Action::Accept) if screen.turns_cups() => Some("turn the cups over"),
        (Field::Lock, Action::Accept) => Some("lock for good"),
        (Field::Lock, Action::Yes) => Some("lock it blank"),
        _ => None,
    }
}

/// What a question is for.
pub(super) const fn explanation(field: Field) -> &'static str {
    match field {
        Field::Checklist => {
            "Once before the first glass: what helps the nose and keeps everybody safe. From now until you lock, nothing of the recipe, of the brewer's hopes or of anybody else's notes is shown anywhere."
        }
        Field::Knew => {
            "Who knows the recipe finds it in the glass. Whatever you answer is fine; it is kept with your notes so that they can be read rightly later."
        }
        Field::Nose => {
            "A cold or a meal changes everything you smell. Say so and go on; these notes are kept, but not counted as your best."
        }
        Field::FirstSniff => {
            "The first sniff is the most honest one: the nose tires within seconds. A word or two that come by themselves are enough."
        }
        Field::Words(_) => {
            "Type the first letters of a word; misspelt is fine. The list shows what is meant. Enter or a digit takes the chosen one; the digit says how strong it is. If no word comes, → walks through the market: where have you smelled this? * keeps a smell without a name."
        }
        Field::CarriedOver => {
            "What the nose found is asked again in the mouth, with one digit each. 0 means that you looked for it and it is not there."
        }
        Field::Scale(_) => {
            "One digit answers and goes on. Backspace takes it back. Space passes the question over, - says that you cannot tell; both are better than a guess."
        }
        Field::Remark => {
            "Whatever the questions did not ask. It is shown with your notes after the lock."
        }
        Field::Lock => {
            "Look back once: ↑ and Tab go to any question. Enter locks. After that the notes are final and the plan may be opened."
        }
    }
}
