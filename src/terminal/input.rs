//! What a person does at the terminal: keys, mouse, pasted text.

use crate::terminal::MouseReport;

/// One thing that came in.
#[derive(Clone, Debug, Eq, PartialEq)]
pub enum Input {
    /// A key.
    Key(KeyPress),
    /// A click, a drag or a turn of the wheel.
    Mouse(MouseReport),
    /// Text that was pasted, with line feeds between its lines.
    Paste(String),
}

/// A key and what was held down with it.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub struct KeyPress {
    /// The key.
    pub key: Key,
    /// What was held down.
    pub modifiers: Modifiers,
}

/// A key by its meaning.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
#[expect(missing_docs, reason = "the names are those on the keys")]
pub enum Key {
    Char(char),
    Enter,
    Tab,
    BackTab,
    Backspace,
    Escape,
    Up,
    Down,
    Left,
    Right,
    Home,
    End,
    PageUp,
    PageDown,
    Insert,
    Delete,
    /// The centre of the keypad without its lock.
    Centre,
    /// A function key, from 1.
    Function(u8),
}

/// Which of Shift, Alt and Control were held down, in the bits that xterm uses.
#[derive(Clone, Copy, Debug, Default, Eq, PartialEq)]
pub struct Modifiers(u8);

impl Modifiers {
    /// Nothing held down.
    pub const NONE: Self = Self(0);
    /// Shift.
    pub const SHIFT: Self = Self(1);
    /// Alt, or Meta.
    pub const ALT: Self = Self(2);
    /// Control.
    pub const CONTROL: Self = Self(4);

    /// These and those together.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// These without those.
    #[must_use]
    pub const fn without(self, other: Self) -> Self {
        Self(self.0 & !other.0)
    }

    /// From the second number of a key sequence, which is one more than the bits (xterm).
    pub(super) fn from_parameter(parameter: u16) -> Self {
        Self(u8::try_from(parameter.saturating_sub(1) & 7).expect("three bits fit"))
    }
}

impl Input {
    /// A key with nothing held down.
    pub(super) fn plain(key: Key) -> Self {
        Self::key(key, Modifiers::NONE)
    }

    /// A key with something held down.
    pub(super) fn key(key: Key, modifiers: Modifiers) -> Self {
        Self::Key(KeyPress { key, modifiers })
    }

    /// The same with Alt, as an escape byte in front says.
    pub(super) fn with_alt(self) -> Self {
        match self {
            Self::Key(press) => Self::key(press.key, press.modifiers.and(Modifiers::ALT)),
            other => other,
        }
    }
}
