//! The floor of the first frame: an app with nothing in it, on our own terminal backend.

use std::process::ExitCode;

use cursive::Cursive;
use cursive::views::TextView;
use thirdglass::terminal::Environment;
use thirdglass::tui::run;

/// What this program is called with to be that app.
pub(crate) const WORD: &str = "--empty-app";

/// What stands on its screen.
pub(crate) const TEXT: &str = "nothing here";

/// Shows one line until a signal comes.
pub(crate) fn empty_app() -> ExitCode {
    let mut siv = Cursive::new();
    siv.add_fullscreen_layer(TextView::new(TEXT));
    match run(&mut siv, &Environment::from_process(), |_| None) {
        Ok(ended) => ExitCode::from(ended.exit_code()),
        Err(_) => ExitCode::FAILURE,
    }
}
