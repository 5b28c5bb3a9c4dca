//! What comes from the terminal, as the toolkit's events.

use std::str;

use cursive::Vec2;
use cursive::event;
use cursive::event::Event;

use crate::terminal::Button;
use crate::terminal::Input;
use crate::terminal::Key;
use crate::terminal::KeyPress;
use crate::terminal::Modifiers;
use crate::terminal::MouseAct;
use crate::terminal::MouseReport;

/// What an event of pasted text begins with; the toolkit has no event of that kind.
const PASTE: &[u8] = b"PASTE";

const CONTROL_ALT: Modifiers = Modifiers::CONTROL.and(Modifiers::ALT);
const CONTROL_SHIFT: Modifiers = Modifiers::CONTROL.and(Modifiers::SHIFT);
const ALT_SHIFT: Modifiers = Modifiers::ALT.and(Modifiers::SHIFT);

/// The pasted text in an event, if it is one of pasting.
///
/// It has to be taken by whatever holds a text field, before the field sees the event.
#[must_use]
pub fn pasted(event: &Event) -> Option<&str> {
    match event {
        Event::Unknown(bytes) => str::from_utf8(bytes.strip_prefix(PASTE)?).ok(),
        _ => None,
    }
}

/// The toolkit's event; None for what it has no event for, which then does nothing.
pub(super) fn event_of(input: Input) -> Option<Event> {
    match input {
        Input::Key(press) => key_event(press),
        Input::Mouse(report) => mouse_event(report),
        Input::Paste(text) => Some(Event::Unknown([PASTE, text.as_bytes()].concat())),
    }
}

/// A key; a combination the toolkit cannot name must not arrive as another one.
fn key_event(press: KeyPress) -> Option<Event> {
    if let Key::Char(sign) = press.key {
        // Shift is in the character already.
        return match press.modifiers.without(Modifiers::SHIFT) {
            Modifiers::NONE => Some(Event::Char(sign)),
            Modifiers::CONTROL => Some(Event::CtrlChar(sign)),
            Modifiers::ALT => Some(Event::AltChar(sign)),
            _ => None,
        };
    }
    let (key, modifiers) = match press.key {
        Key::BackTab => (event::Key::Tab, press.modifiers.and(Modifiers::SHIFT)),
        other => (named_key(other)?, press.modifiers),
    };
    Some(match modifiers {
        Modifiers::NONE => Event::Key(key),
        Modifiers::SHIFT => Event::Shift(key),
        Modifiers::ALT => Event::Alt(key),
        Modifiers::CONTROL => Event::Ctrl(key),
        ALT_SHIFT => Event::AltShift(key),
        CONTROL_SHIFT => Event::CtrlShift(key),
        CONTROL_ALT => Event::CtrlAlt(key),
        _ => return None,
    })
}

/// A key that is no character; the toolkit knows twelve function keys.
fn named_key(key: Key) -> Option<event::Key> {
    Some(match key {
        Key::Enter => event::Key::Enter,
        Key::Tab => event::Key::Tab,
        Key::Backspace => event::Key::Backspace,
        Key::Escape => event::Key::Esc,
        Key::Up => event::Key::Up,
        Key::Down => event::Key::Down,
        Key::Left => event::Key::Left,
        Key::Right => event::Key::Right,
        Key::Home => event::Key::Home,
        Key::End => event::Key::End,
        Key::PageUp => event::Key::PageUp,
        Key::PageDown => event::Key::PageDown,
        Key::Insert => event::Key::Ins,
        Key::Delete => event::Key::Del,
        Key::Centre => event::Key::NumpadCenter,
        Key::Function(number @ 1..=12) => event::Key::from_f(number),
        Key::Function(_) | Key::Char(_) | Key::BackTab => return None,
    })
}

/// An act of the mouse; with a key held down it is meant for something else, so it is dropped.
fn mouse_event(report: MouseReport) -> Option<Event> {
    if report.modifiers != Modifiers::NONE {
        return None;
    }
    let act = match report.act {
        MouseAct::Press(button) => event::MouseEvent::Press(button_of(button)),
        MouseAct::Release(button) => event::MouseEvent::Release(button_of(button)),
        MouseAct::Drag(button) => event::MouseEvent::Hold(button_of(button)),
        MouseAct::WheelUp => event::MouseEvent::WheelUp,
        MouseAct::WheelDown => event::MouseEvent::WheelDown,
    };
    let position = Vec2::new(report.column.into(), report.row.into());
    Some(Event::Mouse {
        offset: Vec2::zero(),
        position,
        event: act,
    })
}

fn button_of(button: Button) -> event::MouseButton {
    match button {
        Button::Left => event::MouseButton::Left,
        Button::Middle => event::MouseButton::Middle,
        Button::Right => event::MouseButton::Right,
    }
}

#[cfg(test)]
mod tests {
    use cursive::event;
    use cursive::event::Event;

    use super::event_of;
    use super::pasted;
    use crate::terminal::Button;
    use crate::terminal::Input;
    use crate::terminal::Key;
    use crate::terminal::KeyPress;
    use crate::terminal::Modifiers;
    use crate::terminal::MouseAct;
    use crate::terminal::MouseReport;

    fn key(key: Key, modifiers: Modifiers) -> Option<Event> {
        event_of(Input::Key(KeyPress { key, modifiers }))
    }

    #[test]
    fn function_keys_beyond_twelve_do_nothing() {
        assert_eq!(
            key(Key::Function(12), Modifiers::NONE),
            Some(Event::Key(event::Key::F12))
        );
        assert_eq!(key(Key::Function(13), Modifiers::NONE), None);
        assert_eq!(key(Key::Function(20), Modifiers::SHIFT), None);
    }

    #[test]
    fn a_combination_without_an_event_is_not_taken_for_the_plain_key() {
        let control_alt = Modifiers::CONTROL.and(Modifiers::ALT);
        assert_eq!(key(Key::Char('q'), control_alt), None);
        assert_eq!(key(Key::Up, control_alt.and(Modifiers::SHIFT)), None);
        assert_eq!(
            key(Key::Up, control_alt),
            Some(Event::CtrlAlt(event::Key::Up))
        );
        assert_eq!(
            key(Key::Char('q'), Modifiers::CONTROL),
            Some(Event::CtrlChar('q'))
        );
        assert_eq!(
            key(Key::BackTab, Modifiers::NONE),
            Some(Event::Shift(event::Key::Tab))
        );
    }

    #[test]
    fn pasted_text_comes_as_one_event_and_can_be_told_from_others() {
        let event = event_of(Input::Paste("liquid é".to_owned())).expect("an event");
        assert_eq!(event, Event::Unknown("PASTEliquid é".as_bytes().to_vec()));
        assert_eq!(pasted(&event), Some("liquid é"));
        assert_eq!(pasted(&Event::Unknown(b"else".to_vec())), None);
        assert_eq!(pasted(&Event::Char('p')), None);
    }

    #[test]
    fn a_click_with_a_key_held_down_does_nothing() {
        let click = |modifiers| {
            let act = MouseAct::Press(Button::Left);
            event_of(Input::Mouse(MouseReport {
                column: 3,
                row: 4,
                act,
                modifiers,
            }))
        };
        assert!(matches!(click(Modifiers::NONE), Some(Event::Mouse { .. })));
        assert_eq!(click(Modifiers::CONTROL), None);
    }
}
