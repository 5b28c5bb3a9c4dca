//! One workflow on the failing disk: what it leaves when all goes well, and whether a fault left that, what was before, or something else.

use std::fs;
use std::os::unix::process::ExitStatusExt;
use std::path::Path;
use std::process::ExitStatus;

use crate::disk::Fault;
use crate::disk::How;
use crate::kitchen::Kitchen;
use crate::pages::REFUSED;
use crate::pages::talk;
use crate::state::State;
use crate::typed_line::typed_words;

/// What a workflow does on the prepared kitchen.
#[derive(Debug, Clone)]
pub(crate) enum Act {
    /// A command with what it reads; it is acknowledged when it ends well or has said everything.
    Command(Vec<String>, String),
    /// A conversation; each line is acknowledged by the page after it.
    Lines(Vec<String>, Vec<String>),
}

/// How a run ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum End {
    Killed,
    Refused,
    WentThrough,
}

/// What is wrong after a run.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Wrong {
    /// Something that was acknowledged is not there.
    Lost(String),
    /// Something is there by half.
    Half(String),
    /// The file, a message or the next run is not as it must be.
    Unsound(String),
}

/// A workflow, prepared and done once without a fault.
pub(crate) struct Trial {
    kitchen: Kitchen,
    act: Act,
    before: State,
    /// After each page of a conversation.
    pages: Vec<State>,
    after: State,
    said: Vec<u8>,
    /// How many calls it makes.
    pub(crate) calls: u64,
}

/// What was seen of a run on a failing disk.
struct Seen {
    status: ExitStatus,
    /// States of which one must be found.
    allowed: Vec<State>,
    /// The least that was acknowledged: that number of `allowed` and later ones.
    acknowledged: bool,
    /// After a line that was refused and typed again, only numbers of rows are compared.
    again: bool,
    wrong: Option<Wrong>,
    refused: bool,
}

impl Trial {
    /// Does the workflow without a fault on a copy of the kitchen, which was prepared for it.
    pub(crate) fn new(kitchen: Kitchen, act: Act, folder: &Path) -> Self {
        let before = State::of(&kitchen).expect("the kitchen is sound");
        let copy = kitchen.copied(folder);
        let (pages, said) = once(&copy, &act);
        let calls = fs::read_to_string(copy.told_calls()).expect("the calls were counted");
        let after = sound(&copy);
        fs::remove_dir_all(folder).expect("a folder can be removed");
        Self {
            kitchen,
            act,
            before,
            pages,
            after,
            said,
            calls: calls.trim().parse().expect("it is a number"),
        }
    }

    /// True if the workflow changes nothing, which is no workflow to try.
    pub(crate) fn is_idle(&self) -> bool {
        self.before == self.after
    }

    /// Plays one fault in a folder of its own.
    pub(crate) fn play(&self, fault: Fault, folder: &Path) -> (End, Option<Wrong>) {
        let kitchen = self.kitchen.copied(folder);
        let seen = match &self.act {
            Act::Command(arguments, lines) => self.command(&kitchen, arguments, lines, fault),
            Act::Lines(arguments, lines) => self.lines(&kitchen, arguments, lines, fault),
        };
        let end = match seen.status.signal() {
            Some(9) => End::Killed,
            _ if seen.refused => End::Refused,
            _ => End::WentThrough,
        };
        let wrong = seen
            .wrong
            .clone()
            .or_else(|| self.look(&kitchen, &seen, end, fault.how).err());
        fs::remove_dir_all(folder).expect("a folder can be removed");
        (end, wrong)
    }

    fn command(&self, kitchen: &Kitchen, arguments: &[String], lines: &str, fault: Fault) -> Seen {
        let output = kitchen.fed(arguments, lines, fault);
        let status = output.status;
        let said_all = !self.said.is_empty() && output.stdout == self.said;
        let acknowledged = status.success() || said_all;
        let errors = String::from_utf8_lossy(&output.stderr);
        let allowed = if acknowledged {
            vec![self.after.clone()]
        } else {
            vec![self.before.clone(), self.after.clone()]
        };
        Seen {
            status,
            allowed,
            acknowledged,
            again: false,
            wrong: ended_badly(status, &errors),
            refused: status.code() == Some(1),
        }
    }

    fn lines(
        &self,
        kitchen: &Kitchen,
        arguments: &[String],
        lines: &[String],
        fault: Fault,
    ) -> Seen {
        let told = talk(kitchen, arguments, lines, fault, |_| {});
        let state = |at: usize| self.pages.get(at).unwrap_or(&self.after).clone();
        let mut allowed = match told.pages {
            0 => vec![self.before.clone(), state(0)],
            pages => vec![state(pages - 1), state(pages)],
        };
        let mut wrong = ended_badly(told.status, &told.errors);
        if let Some(page) = &told.refused
            && !says_what_to_do(page)
        {
            wrong = wrong.or(Some(Wrong::Unsound(format!("the page says only: {page}"))));
        }
        if let Some(page) = &told.again {
            if page.contains(REFUSED) && fault.how.is_once() {
                let found = format!("the same line is refused again: {page}");
                wrong = wrong.or(Some(Wrong::Unsound(found)));
            }
            allowed.remove(0);
        }
        Seen {
            status: told.status,
            allowed,
            acknowledged: told.pages > 0,
            again: told.again.is_some(),
            wrong,
            refused: told.status.code() == Some(1) || told.refused.is_some(),
        }
    }

    /// Looks at what a run left, and lets the program go on with it.
    fn look(&self, kitchen: &Kitchen, seen: &Seen, end: End, how: How) -> Result<(), Wrong> {
        let found = State::of(kitchen).map_err(Wrong::Unsound)?;
        let same =
            |it: &&State| it.rows == found.rows || (seen.again && it.counts() == found.counts());
        let Some(stands) = seen.allowed.iter().find(same) else {
            let differs: Vec<String> = seen.allowed.iter().map(|it| found.differs(it)).collect();
            let differs = differs.join(", and ");
            let earlier =
                self.before.rows == found.rows || self.pages.iter().any(|it| it.rows == found.rows);
            return Err(if seen.acknowledged && earlier {
                Wrong::Lost(differs)
            } else {
                Wrong::Half(differs)
            });
        };
        self.files(&found, end, how)?;
        let all_there = self
            .after
            .files
            .iter()
            .all(|(name, bytes)| found.files.get(name) == Some(bytes));
        if seen.acknowledged && self.pages.is_empty() && !all_there {
            return Err(Wrong::Lost("a file is not there".to_owned()));
        }
        let done = stands.rows == self.after.rows && all_there;
        // What is done is not done again, and the name it had meanwhile may have stayed.
        let leftovers = if done && (end == End::Killed || !how.lets_go()) {
            Leftovers::Beside
        } else {
            Leftovers::None
        };
        self.go_on(kitchen, done, leftovers)
    }

    /// No file is there by half.
    fn files(&self, found: &State, end: End, how: How) -> Result<(), Wrong> {
        for (name, bytes) in &found.files {
            let known = [&self.before, &self.after];
            if name.ends_with(MARKER) || known.iter().any(|it| it.files.get(name) == Some(bytes)) {
                continue;
            }
            if !name.contains(UNFINISHED) {
                return Err(Wrong::Half(format!("{} bytes of {name}", bytes.len())));
            }
            if end != End::Killed && how.lets_go() {
                return Err(Wrong::Unsound(format!("{name} is left")));
            }
        }
        Ok(())
    }

    /// Does the same again without a fault, or only looks where it is done already.
    fn go_on(&self, kitchen: &Kitchen, done: bool, leftovers: Leftovers) -> Result<(), Wrong> {
        let mut kitchen = kitchen.clone();
        // Later, since nothing is typed twice in the same millisecond.
        kitchen.hour += 1;
        let passing = kitchen.folder.join(crate::kitchen::PASSING);
        fs::remove_dir_all(&passing)
            .and_then(|()| fs::create_dir(&passing))
            .expect("it is ours");
        let looked = typed_words("taster list");
        let (arguments, lines) = match &self.act {
            _ if done => (&looked, ""),
            Act::Command(arguments, lines) => (arguments, lines.as_str()),
            Act::Lines(arguments, _) => (arguments, ""),
        };
        let output = kitchen.fed(arguments, lines, Fault::NONE);
        let said = String::from_utf8_lossy(&output.stdout);
        if !output.status.success() || said.contains(REFUSED) {
            let errors = String::from_utf8_lossy(&output.stderr);
            return Err(Wrong::Unsound(format!(
                "{arguments:?} afterwards: {errors}{said}"
            )));
        }
        let found = State::of(&kitchen).map_err(Wrong::Unsound)?;
        if let Act::Command(..) = self.act {
            self.is_done(&found, leftovers)?;
        }
        Ok(())
    }

    /// Everything is there, and nothing that is not meant to be.
    fn is_done(&self, found: &State, leftovers: Leftovers) -> Result<(), Wrong> {
        if found.counts() != self.after.counts() {
            let differs = found.differs(&self.after);
            return Err(Wrong::Unsound(format!(
                "done again, it is not the same: {differs}"
            )));
        }
        let names = |state: &State| {
            let names = state.files.keys();
            let spared = |it: &&String| leftovers == Leftovers::None || !it.contains(UNFINISHED);
            names.filter(spared).cloned().collect::<Vec<_>>()
        };
        if names(found) != names(&self.after) {
            let found = names(found);
            return Err(Wrong::Unsound(format!(
                "done again, these files are there: {found:?}"
            )));
        }
        Ok(())
    }
}

/// Does a workflow without a fault; gives what stood in the kitchen after each page, or what a command said.
fn once(kitchen: &Kitchen, act: &Act) -> (Vec<State>, Vec<u8>) {
    match act {
        Act::Command(arguments, lines) => {
            let output = kitchen.fed(arguments, lines, Fault::NONE);
            assert!(output.status.success(), "{act:?}: {output:?}");
            (Vec::new(), output.stdout)
        }
        Act::Lines(arguments, lines) => {
            let mut pages = Vec::new();
            let look = |_| pages.push(sound(kitchen));
            let told = talk(kitchen, arguments, lines, Fault::NONE, look);
            assert!(told.status.success(), "{act:?}: {told:?}");
            assert!(told.refused.is_none(), "{act:?}: {told:?}");
            assert_eq!(told.pages, lines.len() + 1, "{act:?}: {told:?}");
            (pages, Vec::new())
        }
    }
}

fn sound(kitchen: &Kitchen) -> State {
    State::of(kitchen).expect("without a fault it is sound")
}

/// Whether a second name may be left beside a file that is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Leftovers {
    None,
    /// The program was killed before it could take away the first one, or the disk did not let it.
    Beside,
}

/// What the name of an unfinished file holds.
const UNFINISHED: &str = ".thirdglass-part";

/// What stands in a home while something is rubbed out.
const MARKER: &str = "thirdglass-rubbing-out";

/// A program that was not killed ends with 0, or with 1 and a message.
fn ended_badly(status: ExitStatus, errors: &str) -> Option<Wrong> {
    match (status.signal(), status.code()) {
        (Some(9), _) | (_, Some(0)) => None,
        (_, Some(1)) if errors.starts_with("thirdglass: ") && says_what_to_do(errors) => None,
        _ => Some(Wrong::Unsound(format!("it ended with {status}: {errors}"))),
    }
}

/// What was tried, what was found, and what to do.
fn says_what_to_do(message: &str) -> bool {
    let message = message.split_whitespace().collect::<Vec<_>>().join(" ");
    let tried = message.split_once(REFUSED).map(|it| it.1);
    let found = tried.and_then(|it| it.split_once(": ")).map(|it| it.1);
    found.is_some_and(|it| it.contains("; "))
}
