//! Opening the app on the terminal, from the first frame to the last.

use std::cell::Cell;
use std::sync::Arc;
use std::time::Duration;

use cursive::Cursive;
use cursive::theme::BorderStyle;
use cursive::theme::Color;
use cursive::theme::PaletteColor;
use cursive::theme::Theme;

use crate::screens::App;
use crate::terminal::Environment;
use crate::terminal::TerminalError;
use crate::terminal::install_panic_hook;
use crate::tui::AppView;
use crate::tui::Ended;
use crate::tui::Pulse;
use crate::tui::run;

/// How often a running watch is drawn again.
const TICK: Duration = Duration::from_secs(1);

/// Shows the app until it ends or a signal comes.
///
/// # Errors
/// There is no terminal that can show it.
pub fn show(app: App, environment: &Environment) -> Result<Ended, TerminalError> {
    install_panic_hook();
    let pulse = Arc::new(Pulse::default());
    let mut siv = Cursive::new();
    siv.set_theme(bare_theme());
    // The title names the program only: nothing of a beer may stand in a window title.
    siv.set_window_title("thirdglass");
    siv.add_fullscreen_layer(AppView::new(app, environment, Arc::clone(&pulse)));
    let begun = Cell::new(false);
    run(&mut siv, environment, |_| {
        // The first tick comes as soon as the first picture stands; a key that is there already goes before it.
        if !begun.replace(true) {
            return Some(Duration::ZERO);
        }
        pulse.next(TICK)
    })
}

/// The terminal's own colours, without frames or shadows.
fn bare_theme() -> Theme {
    let mut theme = Theme {
        shadow: false,
        borders: BorderStyle::None,
        ..Theme::default()
    };
    for colour in [
        PaletteColor::Background,
        PaletteColor::View,
        PaletteColor::Primary,
    ] {
        theme.palette[colour] = Color::TerminalDefault;
    }
    theme
}
