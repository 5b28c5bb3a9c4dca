//! What the mouse did, and how the terminal says it.

use crate::terminal::Modifiers;

/// One act of the mouse on one cell.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub struct MouseReport {
    /// Column, from 0.
    pub column: u16,
    /// Row, from 0.
    pub row: u16,
    /// What was done.
    pub act: MouseAct,
    /// What was held down on the keyboard.
    pub modifiers: Modifiers,
}

/// What was done with the mouse.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum MouseAct {
    /// A button went down.
    Press(Button),
    /// A button came up.
    Release(Button),
    /// The mouse moved with a button down.
    Drag(Button),
    /// The wheel turned away from the hand.
    WheelUp,
    /// The wheel turned towards the hand.
    WheelDown,
}

/// A button of the mouse.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
#[expect(missing_docs, reason = "the names say it")]
pub enum Button {
    Left,
    Middle,
    Right,
}

/// Whether a report tells of a button going down or coming up; only the SGR form tells.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub(super) enum Stroke {
    /// Down, moved or turned.
    Down,
    /// Up.
    Up,
}

/// Reads button code and position, the latter from 1, of xterm's mouse reports ("Mouse Tracking").
///
/// None for what the app has no use for: movement without a button, sideways wheels.
pub(super) fn report(code: u16, column: u16, row: u16, stroke: Stroke) -> Option<MouseReport> {
    let number = code & 3;
    let button = match number {
        0 => Some(Button::Left),
        1 => Some(Button::Middle),
        2 => Some(Button::Right),
        _ => None,
    };
    let act = match (code & 0b1110_0000, stroke, number) {
        // The old form does not say which button came up.
        (0, Stroke::Down, 3) => MouseAct::Release(Button::Left),
        (0, Stroke::Down, _) => MouseAct::Press(button?),
        (0, Stroke::Up, _) => MouseAct::Release(button?),
        (32, _, _) => MouseAct::Drag(button?),
        (64, Stroke::Down, 0) => MouseAct::WheelUp,
        (64, Stroke::Down, 1) => MouseAct::WheelDown,
        _ => return None,
    };
    let held = [
        (4, Modifiers::SHIFT),
        (8, Modifiers::ALT),
        (16, Modifiers::CONTROL),
    ];
    let modifiers = held
        .iter()
        .filter(|(bit, _)| code & bit != 0)
        .fold(Modifiers::NONE, |sum, (_, modifier)| sum.and(*modifier));
    Some(MouseReport {
        column: column.checked_sub(1)?,
        row: row.checked_sub(1)?,
        act,
        modifiers,
    })
}

#[cfg(test)]
mod tests {
    use super::Button;
    use super::MouseAct;
    use super::Stroke;
    use super::report;
    use crate::terminal::Modifiers;

    // Codes from "XTerm Control Sequences", section "Mouse Tracking".

    #[test]
    fn buttons_wheels_and_drags_have_the_codes_of_xterm() {
        let cases = [
            (0, Stroke::Down, MouseAct::Press(Button::Left)),
            (1, Stroke::Down, MouseAct::Press(Button::Middle)),
            (2, Stroke::Up, MouseAct::Release(Button::Right)),
            (32, Stroke::Down, MouseAct::Drag(Button::Left)),
            (64, Stroke::Down, MouseAct::WheelUp),
            (65, Stroke::Down, MouseAct::WheelDown),
        ];
        for (code, stroke, act) in cases {
            let found = report(code, 5, 7, stroke).expect("it is a report");
            assert_eq!((found.column, found.row, found.act), (4, 6, act));
        }
    }

    #[test]
    fn keys_held_down_are_told_apart() {
        assert_eq!(
            report(16, 1, 1, Stroke::Down)
                .expect("it is a report")
                .modifiers,
            Modifiers::CONTROL
        );
        assert_eq!(
            report(4 + 8, 1, 1, Stroke::Down)
                .expect("it is a report")
                .modifiers,
            Modifiers::SHIFT.and(Modifiers::ALT)
        );
    }

    #[test]
    fn movement_without_a_button_sideways_wheels_and_place_zero_are_no_reports() {
        assert_eq!(report(35, 1, 1, Stroke::Down), None);
        assert_eq!(report(66, 1, 1, Stroke::Down), None);
        assert_eq!(report(0, 0, 1, Stroke::Down), None);
    }
}
