//! A key as pressed, whatever terminal or script it came from.

/// One key press, or a paste.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Press {
    /// A character.
    Char(char),
    /// Enter.
    Enter,
    /// Escape.
    Esc,
    /// Backspace.
    Backspace,
    /// Tab.
    Tab,
    /// Shift and Tab.
    BackTab,
    /// Arrow up.
    Up,
    /// Arrow down.
    Down,
    /// Arrow left.
    Left,
    /// Arrow right.
    Right,
    /// Page up.
    PageUp,
    /// Page down.
    PageDown,
    /// Control and u: rubs out all that is typed.
    RubLine,
    /// Control and w: rubs out the last word that is typed.
    RubWord,
    /// Home.
    Home,
    /// End.
    End,
    /// F1.
    Help,
    /// F2.
    Paper,
    /// A click on a row that can be chosen, counted from 0.
    Row(usize),
    /// Text pasted from outside.
    Paste(String),
}
