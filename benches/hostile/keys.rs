//! The app itself under presses, pastes and resizes.

use std::collections::BTreeSet;
use std::path::Path;
use std::path::PathBuf;

use crate::app::KNOWN;
use crate::app::clock;
use crate::app::fresh_folder;
use crate::app::pasted;
use crate::app::room;
use crate::chance::Chance;
use crate::parsers::Fate;
use crate::parsers::Fed;
use crate::seeds;
use crate::seeds::SESSION;
use thirdglass::domain::NotesSource;
use thirdglass::screens::Action;
use thirdglass::screens::App;
use thirdglass::screens::Input;
use thirdglass::screens::Press;
use thirdglass::screens::Room;
use thirdglass::screens::Running;
use thirdglass::screens::Screen;
use thirdglass::screens::StartScreen;
use thirdglass::screens::WelcomeScreen;
use thirdglass::screens::press_line;
use thirdglass::screens::told;
use thirdglass::statistics::Dice;
use thirdglass::storage::builtin_demo_files;
use thirdglass::workflow::Home;

/// Sizes of terminals, columns and rows: usual ones, odd ones, and none at all.
const SIZES: [(usize, usize); 12] = [
    (80, 24),
    (80, 24),
    (120, 40),
    (200, 60),
    (79, 23),
    (40, 10),
    (20, 5),
    (10, 3),
    (1, 1),
    (0, 0),
    (3, 100),
    (500, 4),
];

/// The app over a home in memory.
pub(crate) struct KeyStream {
    app: Option<App>,
    folder: PathBuf,
    room: Room,
    begun: Option<Chance>,
    titles: BTreeSet<String>,
}

impl KeyStream {
    pub(crate) fn new(folder: &Path) -> Self {
        Self {
            app: None,
            folder: folder.to_owned(),
            room: room((80, 24)),
            begun: None,
            titles: BTreeSet::new(),
        }
    }

    /// A new app: mostly over the demonstration, sometimes over nothing at all.
    fn opened(mut chance: Chance) -> App {
        let dice = Dice::from_seed(chance.next());
        let mut home = Home::in_memory(clock(), dice).expect("memory takes a home");
        let mut screens: Vec<Box<dyn Screen>> = vec![Box::new(StartScreen::new(NotesSource::App))];
        if chance.once_in(8) {
            screens.push(Box::new(WelcomeScreen::new(NotesSource::App)));
        } else {
            home.import_session(SESSION, builtin_demo_files())
                .expect("the demonstration is sound");
        }
        App::new(home, screens)
    }

    /// What is pressed next: mostly something that does something here.
    fn press(app: &mut App, presses: &[Press], chance: &mut Chance) -> Running {
        let press = match chance.below(100) {
            0..=34 => {
                let actions = app.actions();
                let Some(action) = (!actions.is_empty()).then(|| chance.one(&actions)) else {
                    return app.press(&Press::Enter);
                };
                // Whoever goes back and ends at once sees little.
                let leaves = matches!(action, Action::Back | Action::Quit);
                if leaves && !chance.once_in(6) {
                    return app.press(&Press::Enter);
                }
                return app.command(action);
            }
            35..=54 if !presses.is_empty() => chance.one(presses),
            35..=62 => Press::Enter,
            63..=72 => Press::Char(char::from(
                b'0' + u8::try_from(chance.below(10)).unwrap_or(0),
            )),
            73..=79 => Press::Char(letter(chance)),
            80..=85 => return typed(app, chance),
            86..=87 => Press::Paste(pasted(chance)),
            88 => return press_line(app, &pasted(chance)),
            89..=90 => Press::Esc,
            _ => chance.one(&[
                Press::Backspace,
                Press::Tab,
                Press::BackTab,
                Press::Up,
                Press::Down,
                Press::Left,
                Press::Right,
                Press::PageUp,
                Press::PageDown,
                Press::Help,
                Press::Row(0),
                Press::Row(3),
                Press::Row(usize::MAX),
            ]),
        };
        // As the full screen does it: what takes long waits for the next picture, or for a key that comes before.
        app.press_in_sight(&press)
    }
}

impl Fed for KeyStream {
    fn begin(&mut self, chance: Chance) {
        self.app = None;
        fresh_folder(&self.folder);
        self.room = room((80, 24));
        self.app = Some(Self::opened(chance.clone()));
        self.begun = Some(chance);
    }

    fn feed(&mut self, mut chance: Chance) -> Fate {
        let begun = self.begun.clone().expect("it was begun");
        // What panicked is gone; the next press meets a new app.
        let mut app = self
            .app
            .take()
            .unwrap_or_else(|| Self::opened(begun.clone()));
        if chance.once_in(12) {
            self.room = room(chance.one(&SIZES));
        }
        let rows = app.framed(self.room).rows;
        assert!(
            rows.len() <= self.room.height,
            "more rows than there is room for"
        );
        if let Some(title) = rows.first() {
            let text = title.line.text();
            self.titles.insert(
                text.chars()
                    .filter(|it| !it.is_ascii_digit())
                    .take(24)
                    .collect(),
            );
        }
        let presses: Vec<Press> = rows.into_iter().filter_map(|it| it.press).collect();
        let running = Self::press(&mut app, &presses, &mut chance);
        app = match running {
            Running::Yes => app,
            Running::Ended => Self::opened(begun),
        };
        drop(app.framed(room(chance.one(&SIZES))));
        if chance.once_in(20) {
            drop(told(&mut app));
        }
        self.app = Some(app);
        match running {
            Running::Yes => Fate::Read,
            Running::Ended => Fate::Refused,
        }
    }

    fn seen(&self) -> Vec<String> {
        self.titles.iter().cloned().collect()
    }
}

fn letter(chance: &mut Chance) -> char {
    let letters = b"abcdefghijklmnopqrstuvwxyz!?+*#@&=:;.,-' ";
    char::from(chance.one(letters))
}

/// A name or a line typed sign by sign, with Enter after it.
fn typed(app: &mut App, chance: &mut Chance) -> Running {
    let line = match chance.below(3) {
        0 => chance.one(&KNOWN).to_owned(),
        1 => String::from_utf8_lossy(&chance.one(&seeds::typed())).into_owned(),
        _ => pasted(chance).chars().take(60).collect(),
    };
    if app.input() == Input::Keys {
        return app.press(&Press::Char(letter(chance)));
    }
    for sign in line.chars().filter(|it| *it != '/') {
        if app.press_in_sight(&Press::Char(sign)) == Running::Ended {
            return Running::Ended;
        }
    }
    app.press_in_sight(&Press::Enter)
}
