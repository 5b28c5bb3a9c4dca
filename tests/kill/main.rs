//! The program ended at random moments, and several of it on one file: nothing acknowledged is lost, nothing is half.

#[path = "../kitchen/mod.rs"]
mod kitchen;
#[path = "../pty/mod.rs"]
mod pty;

mod file;
mod keys;
mod script;
mod together;

use std::io::Read;
use std::io::Write;
use std::os::unix::process::ExitStatusExt;
use std::process::Child;
use std::process::ChildStdout;
use std::process::Stdio;
use std::thread;

use file::assert_sound;
use file::kept;
use keys::keys;
use kitchen::Kitchen;
use pty::Signal;
use rusqlite::Connection;
use script::Script;
use thirdglass::statistics::Dice;

/// How often the program is ended line by line, and killed on a terminal.
const ENDS: usize = 10;
const KILLS_ON_A_TERMINAL: usize = 10;

/// POSIX `kill` numbers it; a shell tells 128 more.
const TERMINATED: i32 = 15;

/// How a page of the line-by-line mode ends.
const PAGE_ENDS: &str = "/explain]\n";

/// Someone tasting one bottle line by line, who is killed now and then.
struct Table {
    kitchen: Kitchen,
    dice: Dice,
    seed: u64,
    bottle: usize,
    script: Script,
    /// How many lines of the script are on disk for certain.
    lines: usize,
}

impl Table {
    fn new(seed: u64) -> Self {
        let mut dice = Dice::from_seed(seed);
        let script = Script::draw(&mut dice);
        Self {
            kitchen: Kitchen::new(),
            dice,
            seed,
            bottle: 1,
            script,
            lines: 0,
        }
    }

    fn mark(&self) -> String {
        format!("K{}", self.bottle)
    }

    fn next_bottle(&mut self) {
        self.bottle += 1;
        self.script = Script::draw(&mut self.dice);
        self.lines = 0;
    }

    /// Where the table stands, for the report of a failure.
    fn place(&self) -> String {
        format!("seed {}, bottle {}", self.seed, self.bottle)
    }

    fn open(&self) -> Child {
        let mark = self.mark();
        self.kitchen
            .command(&["taste", &mark, "--taster", "Ana", "--plain"])
            .stdin(Stdio::piped())
            .spawn()
            .expect("the program runs")
    }

    /// Types some lines at once, ends the program while it works on them, and looks at the file.
    fn end_once(&mut self) {
        let from = self.script.go_on(self.lines);
        let rest = &self.script.steps[from..];
        let most = u32::try_from(rest.len().min(12)).expect("it is at most 12");
        let typed = self.dice.whole(1, most) as usize;
        let lines: String = rest[..typed]
            .iter()
            .fold(String::new(), |lines, step| lines + &step.line + "\n");
        let mut child = self.open();
        let mut input = child.stdin.take().expect("it has an input");
        let mut output = Pages::new(child.stdout.take().expect("it has an output"));
        input.write_all(lines.as_bytes()).expect("it takes lines");
        output.wait_for(self.dice.whole(0, u32::try_from(typed).expect("few")) as usize);
        // A few turns of the processor more, so that it is hit in the middle of things.
        for _ in 0..self.dice.whole(0, 400) {
            thread::yield_now();
        }
        let child_id = rustix::process::Pid::from_child(&child);
        rustix::process::kill_process(child_id, Signal::TERM).expect("it is there");
        let pages = output.all();
        let status = child.wait().expect("it ends");
        let ended = status.signal().or(status.code().map(|code| code - 128));
        assert_eq!(ended, Some(TERMINATED));
        self.look(from, pages);
    }

    /// The file after so many pages were told: it holds what the line before the last page left, or
    /// what the line that was worked on leaves, and nothing between.
    fn look(&mut self, from: usize, pages: usize) {
        let place = self.place();
        let file = Connection::open(self.kitchen.file()).expect("the file is there");
        assert_sound(&file, &place);
        let Some(kept) = kept(&file, &self.mark()) else {
            assert_eq!((self.lines, pages), (0, 0), "{place}: the tasting is lost");
            return;
        };
        let acknowledged = (from + pages.saturating_sub(1)).max(self.lines);
        let possible = acknowledged
            ..=(from + pages)
                .min(self.script.steps.len())
                .max(acknowledged);
        let found = possible
            .clone()
            .find(|&lines| *self.script.kept(lines) == kept);
        self.lines = found.unwrap_or_else(|| {
            panic!(
                "{place}: lines {possible:?} may be kept\nfound {kept:?}\nexpected {:?}",
                self.script.kept(acknowledged)
            )
        });
        if kept.locked {
            self.next_bottle();
        }
    }

    /// Goes on where it stopped, to the lock, without being disturbed.
    fn finish(&self) {
        let steps = &self.script.steps[self.script.go_on(self.lines)..];
        let lines: String = steps
            .iter()
            .fold(String::new(), |lines, step| lines + &step.line + "\n");
        let mark = self.mark();
        let told = self
            .kitchen
            .fed(&["taste", &mark, "--taster", "Ana", "--plain"], &lines);
        assert_eq!(told.code, 0, "{}", told.err);
        let file = Connection::open(self.kitchen.file()).expect("the file is there");
        assert_sound(&file, &self.place());
        let last = &self.script.steps.last().expect("it has steps").kept;
        assert_eq!(kept(&file, &mark).as_ref(), Some(last), "{}", self.place());
    }
}

/// The output of the line-by-line mode, counted by pages.
struct Pages {
    output: ChildStdout,
    text: Vec<u8>,
}

impl Pages {
    fn new(output: ChildStdout) -> Self {
        Self {
            output,
            text: Vec::new(),
        }
    }

    fn count(&self) -> usize {
        String::from_utf8_lossy(&self.text)
            .matches(PAGE_ENDS)
            .count()
    }

    fn wait_for(&mut self, pages: usize) {
        let mut bytes = [0; 512];
        while self.count() < pages {
            let read = self.output.read(&mut bytes).expect("it can be read");
            assert!(
                read > 0,
                "it ended: {}",
                String::from_utf8_lossy(&self.text)
            );
            self.text.extend_from_slice(&bytes[..read]);
        }
    }

    /// Everything that was still written, to the end.
    fn all(mut self) -> usize {
        self.output
            .read_to_end(&mut self.text)
            .expect("it can be read");
        self.count()
    }
}

#[test]
fn ended_by_a_signal_line_by_line_nothing_acknowledged_is_lost() {
    let mut table = Table::new(20);
    for _ in 0..ENDS {
        table.end_once();
    }
    table.finish();
}

/// Presses keys on a terminal up to one that is not waited for, and lets a signal fall then.
fn on_a_terminal(seed: u64, signal: Signal) -> u32 {
    let mut dice = Dice::from_seed(seed);
    let script = Script::draw(&mut dice);
    let keys = keys(&script);
    let kitchen = Kitchen::new();
    let last = u32::try_from(keys.len() - 2).expect("there are few keys");
    let waited = dice.whole(0, last) as usize;
    let mut pty = kitchen.launch(&["taste", "K1", "--taster", "Ana"]).start();
    pty.wait_for_picture("Ready?");
    for (key, _) in &keys[..waited] {
        pty.forget_raw();
        pty.send(key);
        pty.wait_for_picture("Ana tastes K1");
    }
    pty.send(&keys[waited].0);
    pty.signal(signal);
    let code = pty.exit_code();
    let place = format!("seed {seed}, key {waited}");
    let file = Connection::open(kitchen.file()).expect("the file is there");
    assert_sound(&file, &place);
    let before = waited.checked_sub(1).map_or(0, |key| keys[key].1);
    let possible = [script.kept(before), script.kept(keys[waited].1)];
    let found = kept(&file, "K1").expect("the tasting is kept");
    assert!(
        possible.contains(&&found),
        "{place}: {found:#?}\n{possible:#?}"
    );
    code
}

#[test]
fn killed_in_the_app_nothing_that_was_seen_is_lost() {
    for seed in 100..100 + KILLS_ON_A_TERMINAL as u64 {
        on_a_terminal(seed, Signal::KILL);
    }
}

#[test]
fn ended_by_a_signal_in_the_app_nothing_is_lost_and_the_code_is_143() {
    for seed in 200..203 {
        // 128 and the number of TERM in POSIX `kill`.
        assert_eq!(on_a_terminal(seed, Signal::TERM), 143);
    }
}
