//! The app in memory for tests: keys in, the picture and what was kept out.

use crate::domain::Field;
use crate::domain::Form;
use crate::domain::Notes;
use crate::domain::NotesChange;
use crate::domain::NotesSource;
use crate::screens::App;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::StartScreen;
use crate::screens::TastingScreen;
use crate::screens::WelcomeScreen;
use crate::workflow::Home;

/// The size of a VT100 (DEC VT100 User Guide), the smallest terminal that is fully served.
pub(super) const USUAL: Room = Room {
    width: 80,
    height: 24,
};

/// The app at its first screen.
pub(super) fn started(home: Home) -> App {
    App::new(home, vec![Box::new(StartScreen::new(NotesSource::App))])
}

/// The app at the very first question.
pub(super) fn welcomed() -> App {
    let screens: [Box<dyn Screen>; 2] = [
        Box::new(StartScreen::new(NotesSource::App)),
        Box::new(WelcomeScreen::new(NotesSource::App)),
    ];
    App::new(Home::trial(), screens.into())
}

/// Ana at a question of her tasting of T1.
pub(super) fn tasting_at(form: Form, field: Field) -> App {
    let mut home = Home::trial_with_a_batch();
    let ana = home.taster_or_new("Ana").unwrap();
    let mut tasting = home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
    let changes = [NotesChange::Formed(form), NotesChange::Moved(field)];
    home.change(&mut tasting, &changes).unwrap();
    let screens: [Box<dyn Screen>; 2] = [
        Box::new(StartScreen::new(NotesSource::App)),
        Box::new(TastingScreen::new(tasting, &home).unwrap()),
    ];
    App::new(home, screens.into())
}

/// Presses keys one by one, with a look at the screen before each: `⏎` Enter, `⌫` Backspace, `⎋` Esc,
/// `⇥` Tab, `⇤` Shift and Tab, arrows as they look.
pub(super) fn keys(app: &mut App, keys: &str) {
    for sign in keys.chars() {
        picture(app);
        let press = match sign {
            '⏎' => Press::Enter,
            '⌫' => Press::Backspace,
            '⎋' => Press::Esc,
            '⇥' => Press::Tab,
            '⇤' => Press::BackTab,
            '↑' => Press::Up,
            '↓' => Press::Down,
            '←' => Press::Left,
            '→' => Press::Right,
            other => Press::Char(other),
        };
        app.press(&press);
    }
}

/// The screen as text.
pub(super) fn picture(app: &mut App) -> String {
    let rows = app.framed(USUAL).rows;
    let lines: Vec<String> = rows.iter().map(|row| row.line.text()).collect();
    lines.join("\n")
}

/// The screen as text on one line, so that a wrapped sentence is found.
pub(super) fn flat(app: &mut App) -> String {
    let page = picture(app);
    page.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The notes of the one tasting that is open, as stored.
pub(super) fn notes(app: &mut App) -> Notes {
    let open = app.home().open_tastings().unwrap();
    let [one] = open.as_slice() else {
        panic!("{} tastings are open", open.len());
    };
    app.home().tasting(&one.notes).unwrap().notes
}
