//! The app as one view of the toolkit: events become presses, rows become cells.

use std::sync::Arc;
use std::sync::Mutex;
use std::sync::MutexGuard;
use std::sync::PoisonError;
use std::sync::atomic::AtomicBool;
use std::sync::atomic::Ordering;
use std::time::Duration;

use cursive::Printer;
use cursive::Vec2;
use cursive::View;
use cursive::event::Event;
use cursive::event::EventResult;
use cursive::event::Key;
use cursive::event::MouseButton;
use cursive::event::MouseEvent;
use cursive::theme::BaseColor;
use cursive::theme::Color;
use cursive::theme::ColorStyle;
use cursive::theme::Effect;
use cursive::theme::Style;

use crate::drawing::Ink;
use crate::drawing::Tint;
use crate::drawing::safe_text;
use crate::drawing::width;
use crate::screens::App;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Running;
use crate::terminal::Charset;
use crate::terminal::ColourDepth;
use crate::terminal::Environment;
use crate::tui::pasted;

/// Shades from light to dark, for patches where there is no colour.
const SHADES: [&str; 5] = [" ", "░", "▒", "▓", "█"];

/// The one view: it holds the app and whatever was last drawn, so that a click finds its row.
pub struct AppView {
    app: Mutex<App>,
    clicks: Mutex<Vec<Option<Press>>>,
    pulse: Arc<Pulse>,
    depth: ColourDepth,
    charset: Charset,
}

/// Why the loop is to draw again by itself.
#[derive(Debug, Default)]
pub struct Pulse {
    ticking: AtomicBool,
    waiting: AtomicBool,
}

impl Pulse {
    /// When to draw again: at once where work waits for its sign to be seen, after a tick while a watch runs.
    #[must_use]
    pub fn next(&self, tick: Duration) -> Option<Duration> {
        if self.waiting.load(Ordering::Relaxed) {
            return Some(Duration::ZERO);
        }
        self.ticking.load(Ordering::Relaxed).then_some(tick)
    }

    fn of(&self, app: &App) {
        self.ticking.store(app.is_ticking(), Ordering::Relaxed);
        self.waiting.store(app.is_waiting(), Ordering::Relaxed);
    }
}

impl AppView {
    /// A view of `app`; `pulse` is kept as the app wants it.
    #[must_use]
    pub fn new(app: App, environment: &Environment, pulse: Arc<Pulse>) -> Self {
        pulse.of(&app);
        Self {
            app: Mutex::new(app),
            clicks: Mutex::new(Vec::new()),
            pulse,
            depth: environment.depth,
            charset: environment.charset,
        }
    }

    fn press(&self, press: &Press) -> EventResult {
        self.then(|app| app.press_in_sight(press))
    }

    /// Lets the app do something, and tells the loop what it waits for after that.
    fn then(&self, act: impl FnOnce(&mut App) -> Running) -> EventResult {
        let mut app = open(&self.app);
        let running = act(&mut app);
        self.pulse.of(&app);
        match running {
            Running::Yes => EventResult::consumed(),
            Running::Ended => EventResult::with_cb(cursive::Cursive::quit),
        }
    }

    fn style(&self, ink: Ink) -> Style {
        let default = Color::TerminalDefault;
        let in_colour = |front: BaseColor| match self.depth {
            ColourDepth::Mono => ColorStyle::new(default, default),
            _ => ColorStyle::new(Color::Light(front), default),
        };
        match ink {
            Ink::Plain => ColorStyle::new(default, default).into(),
            Ink::Strong => Style::from(ColorStyle::new(default, default)).combine(Effect::Bold),
            Ink::Quiet => Style::from(ColorStyle::new(default, default)).combine(Effect::Dim),
            Ink::Title => Style::from(in_colour(BaseColor::Yellow)).combine(Effect::Bold),
            Ink::Chosen => Style::from(ColorStyle::new(default, default)).combine(Effect::Reverse),
            Ink::Alert => Style::from(in_colour(BaseColor::Red)).combine(Effect::Bold),
            Ink::Good => Style::from(in_colour(BaseColor::Green)).combine(Effect::Bold),
            Ink::Patch([red, green, blue]) => {
                ColorStyle::new(default, Color::Rgb(red, green, blue)).into()
            }
            Ink::Tile(tile) => {
                let front = self.tinted(tile.front);
                ColorStyle::new(front, self.tinted(tile.back)).into()
            }
        }
    }

    /// A tint at the depth of this terminal.
    fn tinted(&self, tint: Option<Tint>) -> Color {
        let Some(tint) = tint.filter(|_| self.draws_tiles()) else {
            return Color::TerminalDefault;
        };
        let [red, green, blue] = match self.depth {
            ColourDepth::Palette256 => tint.palette_rgb(),
            ColourDepth::Mono | ColourDepth::Sixteen | ColourDepth::True => tint.rgb,
        };
        match self.depth {
            ColourDepth::Sixteen => named(tint.named),
            _ => Color::Rgb(red, green, blue),
        }
    }

    /// Whether pictures are drawn with coloured halves of cells; otherwise with signs alone.
    fn draws_tiles(&self) -> bool {
        self.depth != ColourDepth::Mono && self.charset == Charset::Utf8
    }

    /// The text of a tile where it is drawn with signs alone.
    fn bare(&self, ink: Ink, text: &str) -> Option<String> {
        match ink {
            Ink::Tile(tile) if !self.draws_tiles() => {
                let sign = match self.charset {
                    Charset::Utf8 => tile.bare,
                    Charset::Ascii => tile.ascii,
                };
                Some(sign.to_string().repeat(width(text)))
            }
            _ => None,
        }
    }

    /// The text of a patch: blanks on its colour, or a shade where there is no colour.
    fn patch(&self, ink: Ink, text: &str) -> Option<String> {
        let Ink::Patch([red, green, blue]) = ink else {
            return None;
        };
        if self.depth != ColourDepth::Mono {
            return None;
        }
        // Luma of ITU-R BT.601; the eye only needs an order of shades here.
        let luma =
            (299 * usize::from(red) + 587 * usize::from(green) + 114 * usize::from(blue)) / 1_000;
        let shade = SHADES[((255 - luma) * SHADES.len() / 256).min(SHADES.len() - 1)];
        Some(shade.repeat(width(text)))
    }
}

/// One of the sixteen names in the words of the toolkit (ECMA-48, 8.3.117).
fn named(number: u8) -> Color {
    let base = match number % 8 {
        0 => BaseColor::Black,
        1 => BaseColor::Red,
        2 => BaseColor::Green,
        3 => BaseColor::Yellow,
        4 => BaseColor::Blue,
        5 => BaseColor::Magenta,
        6 => BaseColor::Cyan,
        _ => BaseColor::White,
    };
    if number < 8 {
        Color::Dark(base)
    } else {
        Color::Light(base)
    }
}

fn open<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    // A panic under the lock ends the program anyway; what is behind the lock stays readable.
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

impl View for AppView {
    fn draw(&self, printer: &Printer<'_, '_>) {
        let room = Room {
            width: printer.size.x,
            height: printer.size.y,
        };
        let framed = open(&self.app).framed(room);
        let mut clicks = Vec::with_capacity(framed.rows.len());
        for (y, row) in framed.rows.into_iter().enumerate() {
            let mut x = 0;
            for span in &row.line.spans {
                let text = self.patch(span.ink, &span.text);
                let text = text.or_else(|| self.bare(span.ink, &span.text));
                let text = text.as_deref().unwrap_or(&span.text);
                let text = safe_text(text, room.width.saturating_sub(x));
                printer.with_style(self.style(span.ink), |printer| printer.print((x, y), &text));
                x += width(&text);
            }
            clicks.push(row.press);
        }
        *open(&self.clicks) = clicks;
    }

    fn required_size(&mut self, constraint: Vec2) -> Vec2 {
        constraint
    }

    fn take_focus(
        &mut self,
        _from: cursive::direction::Direction,
    ) -> Result<EventResult, cursive::view::CannotFocus> {
        Ok(EventResult::Ignored)
    }

    fn on_event(&mut self, event: Event) -> EventResult {
        if let Some(text) = pasted(&event) {
            return self.press(&Press::Paste(text.to_owned()));
        }
        if event == Event::Refresh {
            return self.then(|app| {
                if !app.is_waiting() {
                    app.get_ready();
                }
                app.go_on()
            });
        }
        if event == Event::CtrlChar('c') {
            return EventResult::with_cb(cursive::Cursive::quit);
        }
        let clicked = match &event {
            Event::Mouse {
                offset,
                position,
                event: MouseEvent::Press(MouseButton::Left),
            } => {
                let y = position.y.saturating_sub(offset.y);
                open(&self.clicks).get(y).cloned().flatten()
            }
            _ => None,
        };
        match clicked.or_else(|| press_of(&event)) {
            Some(press) => self.press(&press),
            None => EventResult::Ignored,
        }
    }
}

fn press_of(event: &Event) -> Option<Press> {
    Some(match event {
        Event::Char(c) => Press::Char(*c),
        Event::Key(Key::Enter) => Press::Enter,
        Event::Key(Key::Esc) => Press::Esc,
        Event::Key(Key::Backspace | Key::Del) => Press::Backspace,
        Event::Key(Key::Tab) => Press::Tab,
        Event::Shift(Key::Tab) => Press::BackTab,
        Event::Key(Key::Up)
        | Event::Mouse {
            event: MouseEvent::WheelUp,
            ..
        } => Press::Up,
        Event::Key(Key::Down)
        | Event::Mouse {
            event: MouseEvent::WheelDown,
            ..
        } => Press::Down,
        Event::Key(Key::Left) => Press::Left,
        Event::Key(Key::Right) => Press::Right,
        Event::Key(Key::PageUp) => Press::PageUp,
        Event::Key(Key::PageDown) => Press::PageDown,
        Event::CtrlChar('u') => Press::RubLine,
        Event::CtrlChar('w') => Press::RubWord,
        Event::Key(Key::Home) => Press::Home,
        Event::Key(Key::End) => Press::End,
        Event::Key(Key::F1) => Press::Help,
        Event::Key(Key::F2) => Press::Paper,
        _ => return None,
    })
}
