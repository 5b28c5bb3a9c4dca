//! What every screen can do, and what a key can lead to.

use crate::screens::Action;
use crate::screens::Page;
use crate::screens::Room;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// What a screen makes of characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Input {
    /// Keys and digits only.
    Keys,
    /// Letters type a word; digits stay digits; signs stay keys while nothing is typed.
    Words,
    /// Every character is text.
    Text,
}

/// What reaches a screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Act {
    /// A key of the catalogue.
    Do(Action),
    /// A digit key.
    Digit(u8),
    /// A character typed.
    Typed(char),
    /// A row chosen by a click, counted from 0.
    Row(usize),
}

/// What is done with a home, and what follows from it.
type Does = Box<dyn FnOnce(&mut Home) -> Result<Next, WorkflowError> + Send>;

/// Work that takes long in a home that holds much; it is done once its sign was seen.
pub struct Work {
    /// What the sign says.
    pub sign: &'static str,
    /// Does it, and says what follows.
    pub does: Does,
}

/// What follows from a key.
pub enum Next {
    /// The screen goes on.
    Stay,
    /// The screen goes on, from its first line.
    Top,
    /// Another screen opens over it.
    Open(Box<dyn Screen>),
    /// Another screen takes its place.
    Replace(Box<dyn Screen>),
    /// The screen closes.
    Close,
    /// Everything closes down to the first screen.
    Home,
    /// The app ends.
    Quit,
    /// The screen goes on, with a sentence for the taster.
    Say(String),
    /// The screen goes on while work is done; what follows from that follows then.
    After(Work),
}

impl Next {
    /// What follows from work that takes long; `sign` is said meanwhile.
    pub(super) fn after(
        sign: &'static str,
        does: impl FnOnce(&mut Home) -> Result<Self, WorkflowError> + Send + 'static,
    ) -> Self {
        Self::After(Work {
            sign,
            does: Box::new(does),
        })
    }
}

/// One screen; it knows no toolkit.
pub trait Screen: Send {
    /// The title, as the taster may see it.
    fn title(&self) -> String;

    /// Reads again what other windows may have changed, before the keys and the page are drawn.
    ///
    /// # Errors
    /// The store cannot be read.
    fn refresh(&mut self, _home: &mut Home) -> Result<(), WorkflowError> {
        Ok(())
    }

    /// What it shows in the room there is.
    ///
    /// # Errors
    /// The store cannot be read, or something is sealed.
    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError>;

    /// The keys that work now.
    fn actions(&self) -> Vec<Action>;

    /// What a key does here, in the footer, where that is more than its usual word.
    fn label_of(&self, _action: Action) -> Option<&'static str> {
        None
    }

    /// What characters mean now.
    fn input(&self) -> Input {
        Input::Keys
    }

    /// What is typed, where a word of it can be rubbed out at once.
    fn typed(&self) -> Option<&str> {
        None
    }

    /// True while something is typed that Enter would accept.
    fn is_typing(&self) -> bool {
        false
    }

    /// True while a watch runs that should be seen running.
    fn is_ticking(&self) -> bool {
        false
    }

    /// False where the next page has to look through all that was tasted, which takes long in a home that holds much.
    fn is_drawn(&self, _home: &Home) -> bool {
        true
    }

    /// What the screen is for, in a few sentences.
    fn explanation(&self) -> &'static str;

    /// Does what a key asks for.
    ///
    /// # Errors
    /// The verb behind the key could not be done; the screen is as before.
    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError>;

    /// Takes pasted text; most screens have no use for it.
    fn paste(&mut self, _text: &str) {}
}
