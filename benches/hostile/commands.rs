//! The commands as typed, taken apart or done as well.

use std::collections::BTreeSet;
use std::fs;
use std::io::Cursor;
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
use crate::seeds::SESSION;
use crate::typed_line::typed_words;
use clap::CommandFactory;
use clap::Parser;
use thirdglass::cli::Arguments;
use thirdglass::cli::Outcome;
use thirdglass::cli::Streams;
use thirdglass::cli::run;
use thirdglass::statistics::Dice;
use thirdglass::storage::builtin_demo_files;
use thirdglass::workflow::Home;

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
        into.extend(lines.map(typed_words));
    }
    for below in command.get_subcommands() {
        collect(below, into);
    }
}
