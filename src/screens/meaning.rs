//! What a press means to the screen that is open: text, a digit, a row, or a key of the catalogue that works now.

use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Input;
use crate::screens::KEYS;
use crate::screens::Press;
use crate::screens::Screen;
use crate::screens::paging::PAGING;

/// What a press means to a screen; none if it means nothing there.
pub(super) fn meaning(screen: &dyn Screen, press: &Press) -> Option<Act> {
    if let Press::Row(row) = press {
        return Some(Act::Row(*row));
    }
    if let Press::Char(c) = press {
        let types = match screen.input() {
            Input::Keys => false,
            Input::Text => true,
            Input::Words => {
                c.is_alphabetic() || (screen.is_typing() && matches!(c, ' ' | '-' | '\'' | '’'))
            }
        };
        if types {
            return Some(Act::Typed(*c));
        }
        if let Some(digit) = c.to_digit(10).and_then(|digit| u8::try_from(digit).ok()) {
            return Some(Act::Digit(digit));
        }
    }
    KEYS.iter()
        .find(|key| key.presses.contains(press))
        .map(|key| key.action)
        .filter(|action| works(screen, *action))
        .map(Act::Do)
}

/// True if a key works on a screen now.
pub(super) fn works(screen: &dyn Screen, action: Action) -> bool {
    action == Action::Explain || PAGING.contains(&action) || screen.actions().contains(&action)
}
