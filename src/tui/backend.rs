//! Our own backend for the toolkit: its cells to the terminal, the terminal's keys to its events.

use std::cell::Cell;
use std::cell::RefCell;
use std::rc::Rc;

use cursive::Vec2;
use cursive::backend;
use cursive::event::Event;
use cursive::theme;

use crate::drawing::safe_cell;
use crate::drawing::safe_text;
use crate::terminal::Charset;
use crate::terminal::Colour;
use crate::terminal::ColourDepth;
use crate::terminal::Effect;
use crate::terminal::Environment;
use crate::terminal::Frame;
use crate::terminal::Input;
use crate::terminal::Key;
use crate::terminal::Modifiers;
use crate::terminal::Terminal;
use crate::terminal::ascii;
use crate::tui::event::event_of;

/// Cells of a window title that are passed on; more is not read anywhere. Judgement.
const TITLE_CELLS: usize = 80;

/// The toolkit's way to the terminal.
pub(super) struct Backend {
    terminal: Rc<RefCell<Terminal>>,
    frame: RefCell<Frame>,
    colours: Cell<theme::ColorPair>,
    depth: ColourDepth,
    charset: Charset,
    /// Set when the screen has to be drawn whole, because nobody knows what is on it.
    whole: Rc<Cell<bool>>,
}

impl Backend {
    /// A backend on an opened terminal; `whole` asks for every cell at the next refresh.
    pub(super) fn new(
        terminal: Rc<RefCell<Terminal>>,
        environment: &Environment,
        whole: Rc<Cell<bool>>,
    ) -> Self {
        Self {
            terminal,
            frame: RefCell::new(Frame::new(environment.depth)),
            colours: Cell::new(theme::ColorPair::terminal_default()),
            depth: environment.depth,
            charset: environment.charset,
            whole,
        }
    }

    /// Takes the keys that concern the terminal itself; gives back every other input.
    fn serve(&self, input: Input) -> Result<Event, Option<Input>> {
        let Input::Key(press) = &input else {
            return Err(Some(input));
        };
        match (press.key, press.modifiers) {
            (Key::Char('l'), Modifiers::CONTROL) => {
                self.whole.set(true);
                Ok(Event::Refresh)
            }
            (Key::Char('z'), Modifiers::CONTROL) => {
                let mut terminal = self.terminal.borrow_mut();
                if !terminal.can_be_woken() {
                    return Err(None);
                }
                // A terminal that cannot be entered again ends the loop by itself.
                terminal.suspend().unwrap_or_default();
                self.whole.set(true);
                Ok(Event::Refresh)
            }
            _ => Err(Some(input)),
        }
    }
}

impl backend::Backend for Backend {
    fn poll_event(&mut self) -> Option<Event> {
        loop {
            let input = self.terminal.borrow_mut().next_input()?;
            match self.serve(input) {
                Ok(event) => return Some(event),
                Err(rest) => {
                    if let Some(event) = rest.and_then(event_of) {
                        return Some(event);
                    }
                }
            }
        }
    }

    fn set_title(&mut self, title: String) {
        let title = safe_text(&title, TITLE_CELLS);
        self.frame.borrow_mut().title(&self.shown(&title));
    }

    fn refresh(&mut self) {
        self.whole.set(false);
        if let Some(frame) = self.frame.borrow_mut().take() {
            self.terminal.borrow_mut().draw(&frame);
        }
    }

    fn has_colors(&self) -> bool {
        self.depth > ColourDepth::Mono
    }

    fn screen_size(&self) -> Vec2 {
        // The toolkit asks once, right before it draws: the place to wipe what nobody knows.
        if self.whole.get() {
            self.frame.borrow_mut().start_over();
        }
        let size = self.terminal.borrow().size();
        Vec2::new(size.columns.into(), size.rows.into())
    }

    fn move_to(&self, position: Vec2) {
        self.frame.borrow_mut().move_to(position.x, position.y);
    }

    fn print(&self, text: &str) {
        let safe = safe_cell(text);
        self.frame.borrow_mut().print(&self.shown(&safe));
    }

    fn clear(&self, colour: theme::Color) {
        self.frame.borrow_mut().clear(colour_of(colour));
    }

    fn set_color(&self, colours: theme::ColorPair) -> theme::ColorPair {
        self.frame
            .borrow_mut()
            .colours(colour_of(colours.front), colour_of(colours.back));
        self.colours.replace(colours)
    }

    fn set_effect(&self, effect: theme::Effect) {
        if let Some(effect) = effect_of(effect) {
            self.frame.borrow_mut().begin(effect);
        }
    }

    fn unset_effect(&self, effect: theme::Effect) {
        if let Some(effect) = effect_of(effect) {
            self.frame.borrow_mut().end(effect);
        }
    }

    fn is_persistent(&self) -> bool {
        !self.whole.get()
    }

    fn name(&self) -> &'static str {
        "thirdglass"
    }
}

impl Backend {
    /// The text in the characters the terminal shows.
    fn shown<'text>(&self, text: &'text str) -> std::borrow::Cow<'text, str> {
        match self.charset {
            Charset::Utf8 => text.into(),
            Charset::Ascii => ascii(text),
        }
    }
}

/// The toolkit's colour in the words of the terminal.
fn colour_of(colour: theme::Color) -> Colour {
    match colour {
        theme::Color::TerminalDefault => Colour::Default,
        theme::Color::Dark(base) => Colour::Named(number_of(base)),
        theme::Color::Light(base) => Colour::Named(number_of(base) + 8),
        theme::Color::Rgb(red, green, blue) => Colour::Rgb(red, green, blue),
        theme::Color::RgbLowRes(red, green, blue) => {
            Colour::Palette(16 + 36 * red.min(5) + 6 * green.min(5) + blue.min(5))
        }
    }
}

/// The number of a named colour (ECMA-48, 8.3.117).
fn number_of(base: theme::BaseColor) -> u8 {
    match base {
        theme::BaseColor::Black => 0,
        theme::BaseColor::Red => 1,
        theme::BaseColor::Green => 2,
        theme::BaseColor::Yellow => 3,
        theme::BaseColor::Blue => 4,
        theme::BaseColor::Magenta => 5,
        theme::BaseColor::Cyan => 6,
        theme::BaseColor::White => 7,
    }
}

/// The toolkit's effect in the words of the terminal; its "simple" is none.
fn effect_of(effect: theme::Effect) -> Option<Effect> {
    Some(match effect {
        theme::Effect::Simple => return None,
        theme::Effect::Reverse => Effect::Reverse,
        theme::Effect::Dim => Effect::Dim,
        theme::Effect::Bold => Effect::Bold,
        theme::Effect::Italic => Effect::Italic,
        theme::Effect::Strikethrough => Effect::Strikethrough,
        theme::Effect::Underline => Effect::Underline,
        theme::Effect::Blink => Effect::Blink,
    })
}
