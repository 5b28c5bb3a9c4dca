//! The app itself under presses, pastes and resizes, and the commands as typed.

use std::collections::BTreeSet;
use std::env;
use std::fs;
use std::io::Cursor;
use std::path::Path;
use std::path::PathBuf;

use chrono::DateTime;
use chrono::TimeDelta;
use clap::CommandFactory;
use clap::Parser;
use thirdglass::cli::Arguments;
use thirdglass::cli::Outcome;
use thirdglass::cli::Streams;
use thirdglass::cli::run;
use thirdglass::domain::Moment;
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
use thirdglass::workflow::Clock;
use thirdglass::workflow::Home;

use crate::chance::Chance;
use crate::parsers::Fate;
use crate::parsers::Fed;
use crate::seeds;
use crate::seeds::SESSION;

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

/// Names that the demonstration knows, and words of the wheel.
const KNOWN: [&str; 14] = [
    "Crumb",
    "Teacup",
    "Wobble",
    "OD1",
    "OD2",
    "OW1",
    "GC1",
    "HL1",
    "CS1",
    "Green dot",
    "toast",
    "passion fruit",
    "Ana",
    "OD2",
];

/// A clock that goes on by a few seconds at each look, from the middle of March 2026.
fn clock() -> Clock {
    let mut now = DateTime::from_timestamp(1_773_500_000, 0).expect("it is a time");
    Clock::from_fn(move || {
        now += TimeDelta::milliseconds(2_500);
        Moment::new(now)
    })
}

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
        app.press(&press)
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

fn room((width, height): (usize, usize)) -> Room {
    Room { width, height }
}

fn letter(chance: &mut Chance) -> char {
    let letters = b"abcdefghijklmnopqrstuvwxyz!?+*#@&=:;.,-' ";
    char::from(chance.one(letters))
}

/// Whatever may be pasted; without a slash, so that a name of a file stays in the folder of this bench.
fn pasted(chance: &mut Chance) -> String {
    let mut text = String::new();
    for _ in 0..=chance.below(4) {
        match chance.below(4) {
            0 => text += chance.sign(),
            1 => text += chance.number(),
            2 => text += chance.one(&KNOWN),
            _ => text += &chance.text(&seeds::typed()),
        }
    }
    if chance.once_in(200) {
        text = text.repeat(2_000);
    }
    text.retain(|it| it != '/');
    text
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
        if app.press(&Press::Char(sign)) == Running::Ended {
            return Running::Ended;
        }
    }
    app.press(&Press::Enter)
}

/// Commands as typed, only taken apart or done as well.
pub(crate) struct Typist {
    examples: Vec<Vec<String>>,
    words: Vec<String>,
    /// Where the home stands; none if commands are only taken apart.
    folder: Option<PathBuf>,
}

impl Typist {
    pub(crate) fn arguments() -> Self {
        let mut examples = Vec::new();
        collect(&Arguments::command(), &mut examples);
        assert!(examples.len() > 50, "the help has examples");
        let words: BTreeSet<String> = examples.iter().flatten().cloned().collect();
        Self {
            examples,
            words: words.into_iter().collect(),
            folder: None,
        }
    }

    pub(crate) fn commands(folder: &Path) -> Self {
        Self {
            folder: Some(folder.to_owned()),
            ..Self::arguments()
        }
    }

    /// An example with some of its words changed.
    fn line(&self, chance: &mut Chance) -> Vec<String> {
        let mut line = chance.one(&self.examples);
        for word in line.iter_mut().skip(1) {
            if !word.starts_with('-')
                && word
                    .chars()
                    .any(|it| it.is_ascii_uppercase() || it.is_ascii_digit())
                && chance.once_in(2)
            {
                chance.one(&KNOWN).clone_into(word);
            }
        }
        for _ in 0..chance.below(4) {
            let at = chance.below(line.len() + 1);
            match chance.below(6) {
                0 if at < line.len() => drop(line.remove(at)),
                1 => line.insert(at, chance.one(&self.words)),
                2 if at < line.len() => line[at] = chance.one(&self.words),
                3 if at < line.len() => line[at] = pasted(chance),
                4 => line.insert(at, pasted(chance)),
                _ if at < line.len() => line[at] = chance.text(&[line[at].clone().into_bytes()]),
                _ => {}
            }
        }
        for word in &mut line {
            // Names of files stay in the folder of this bench.
            word.retain(|it| it != '/');
        }
        line
    }

    fn done(&self, arguments: Arguments, chance: &mut Chance) -> Fate {
        let folder = self.folder.as_ref().expect("there is a home");
        let dice = Dice::from_seed(chance.next());
        let opened = Home::open(&folder.join("home"), clock(), dice);
        let Ok(home) = opened else {
            return Fate::Refused;
        };
        let lines: String = (0..10).map(|_| pasted(chance) + "\n").collect();
        let mut output = Vec::new();
        let streams = &mut Streams {
            input: &mut Cursor::new(lines),
            output: &mut output,
        };
        match run(arguments.command, home, streams) {
            Ok(Outcome::Open(mut app)) => {
                drop(app.framed(room((80, 24))));
                Fate::Read
            }
            Ok(Outcome::Done(_)) => {
                assert!(
                    String::from_utf8(output).is_ok(),
                    "what is printed is no UTF-8"
                );
                Fate::Read
            }
            Err(refused) => {
                assert!(!refused.to_string().is_empty(), "a refusal without a word");
                Fate::Refused
            }
        }
    }
}

impl Fed for Typist {
    fn begin(&mut self, mut chance: Chance) {
        let Some(folder) = &self.folder else {
            return;
        };
        fresh_folder(folder);
        let dice = Dice::from_seed(chance.next());
        let mut home = Home::open(&folder.join("home"), clock(), dice).expect("a home opens");
        if !chance.once_in(5) {
            home.import_session(SESSION, builtin_demo_files())
                .expect("the demonstration is sound");
        }
        for (name, text) in builtin_demo_files() {
            fs::write(name, text).expect("there is room for a file");
        }
    }

    fn feed(&mut self, mut chance: Chance) -> Fate {
        let line = self.line(&mut chance);
        let line = std::iter::once("thirdglass".to_owned()).chain(line);
        match Arguments::try_parse_from(line) {
            Ok(arguments) if self.folder.is_some() => self.done(arguments, &mut chance),
            Ok(_) => Fate::Read,
            Err(refused) => {
                assert!(
                    !refused.render().to_string().is_empty(),
                    "a refusal without a word"
                );
                Fate::Refused
            }
        }
    }
}

/// The examples of a command's help and of all below it, each as its words.
fn collect(command: &clap::Command, into: &mut Vec<Vec<String>>) {
    for help in [command.get_after_help(), command.get_after_long_help()]
        .into_iter()
        .flatten()
    {
        let help = help.to_string();
        let lines = help
            .lines()
            .filter_map(|it| it.trim().strip_prefix("thirdglass "));
        into.extend(lines.map(split));
    }
    for below in command.get_subcommands() {
        collect(below, into);
    }
}

/// The words of a line, those between double quotes as one.
fn split(line: &str) -> Vec<String> {
    let mut words = Vec::new();
    for (at, part) in line.split('"').enumerate() {
        if at % 2 == 1 {
            words.push(part.to_owned());
        } else {
            words.extend(part.split_whitespace().map(str::to_owned));
        }
    }
    words
}

/// Makes the folder empty and works in it.
fn fresh_folder(folder: &Path) {
    env::set_current_dir(env::temp_dir()).expect("there is a folder for what passes");
    let work = folder.join("work");
    for old in [&work, &folder.join("home")] {
        if old.exists() {
            fs::remove_dir_all(old).expect("what this bench made can be removed");
        }
    }
    fs::create_dir_all(&work).expect("there is room for a folder");
    env::set_current_dir(work).expect("it was made");
}
