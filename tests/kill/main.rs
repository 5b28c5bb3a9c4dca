//! The program killed at random moments: what it has acknowledged is on disk, and nothing is there by half.

#[path = "../kitchen/mod.rs"]
mod kitchen;
#[path = "../pty/mod.rs"]
mod pty;
mod script;

use std::io::Read;
use std::io::Write;
use std::os::unix::process::ExitStatusExt;
use std::process::Child;
use std::process::ChildStdout;
use std::process::Stdio;
use std::thread;

use kitchen::Kitchen;
use pty::Signal;
use rusqlite::Connection;
use rusqlite::OptionalExtension;
use script::Kept;
use script::Script;
use thirdglass::statistics::Dice;

/// How often the program is killed, line by line and on a terminal.
const KILLS: usize = 300;
const KILLS_ON_A_TERMINAL: usize = 10;

/// The kills are shared out among as many threads, each with a kitchen and dice of its own.
const THREADS: usize = 4;

/// POSIX `kill` numbers them; a shell tells 128 more.
const KILLED: i32 = 9;
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

    /// Types some lines at once, kills the program while it works on them, and looks at the file.
    fn kill_once(&mut self, signal: Signal) {
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
        rustix::process::kill_process(rustix::process::Pid::from_child(&child), signal)
            .expect("it is there");
        let pages = output.all();
        let status = child.wait().expect("it ends");
        assert_eq!(
            status.signal().or(status.code().map(|code| code - 128)),
            Some(signal.as_raw())
        );
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

/// The file is whole: by its own checks, and no sitting is open in which nobody tastes.
fn assert_sound(file: &Connection, place: &str) {
    let integrity: String = file
        .query_row("PRAGMA integrity_check", [], |row| row.get(0))
        .expect("it can be checked");
    assert_eq!(integrity, "ok", "{place}");
    let broken: i64 = file
        .query_row("SELECT count(*) FROM pragma_foreign_key_check", [], |row| {
            row.get(0)
        })
        .expect("it can be checked");
    assert_eq!(broken, 0, "{place}: references that lead nowhere");
    let done = "SELECT count(*) FROM sitting WHERE closed_at IS NULL AND id NOT IN
        (SELECT sitting FROM seat JOIN notes ON notes.seat = seat.id
         WHERE locked_at IS NULL AND left_at IS NULL)";
    let forgotten: i64 = file
        .query_row(done, [], |row| row.get(0))
        .expect("it can be checked");
    assert_eq!(forgotten, 0, "{place}: a sitting is open and nobody tastes");
}

/// What the file holds of the one tasting of a bottle; none if it was never opened.
fn kept(file: &Connection, mark: &str) -> Option<Kept> {
    let query = "SELECT notes.id, current_field, knew, nose, remark, locked_at IS NOT NULL
        FROM notes JOIN sample ON sample.id = notes.sample JOIN beer ON beer.id = sample.beer
        WHERE cap_mark = ?1";
    let there = file
        .prepare("SELECT 1 FROM sqlite_schema WHERE name = 'notes'")
        .and_then(|mut statement| statement.exists([]))
        .expect("it can be read");
    if !there {
        return None;
    }
    let found = file
        .query_row(query, [mark], |row| {
            let kept = Kept {
                field: row.get(1)?,
                knew: row.get(2)?,
                nose: row.get(3)?,
                remark: row.get(4)?,
                locked: row.get(5)?,
                ..Kept::default()
            };
            Ok((row.get::<_, String>(0)?, kept))
        })
        .optional()
        .expect("it can be read");
    let (id, mut kept) = found?;
    kept.ratings = rows(file, &id, "SELECT scale, state, value FROM rating", |row| {
        Ok((row.get(0)?, row.get(1)?, row.get(2)?))
    });
    kept.marks = rows(
        file,
        &id,
        "SELECT stage, descriptor, intensity FROM mark",
        |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)),
    );
    Some(kept)
}

fn rows<T>(
    file: &Connection,
    notes: &str,
    select: &str,
    read: impl FnMut(&rusqlite::Row<'_>) -> rusqlite::Result<T>,
) -> Vec<T> {
    let query = format!("{select} WHERE notes = ?1 ORDER BY position");
    let mut statement = file.prepare(&query).expect("it can be read");
    let rows = statement.query_map([notes], read).expect("it can be read");
    rows.collect::<Result<_, _>>().expect("it can be read")
}

#[test]
fn killed_at_three_hundred_moments_nothing_acknowledged_is_lost_and_nothing_is_half() {
    let work = |seed: u64| {
        let mut table = Table::new(seed);
        for _ in 0..KILLS / THREADS {
            table.kill_once(Signal::KILL);
        }
        table.finish();
    };
    thread::scope(|scope| {
        for seed in 1..=THREADS as u64 {
            scope.spawn(move || work(seed));
        }
    });
    assert_eq!(Signal::KILL.as_raw(), KILLED);
}

#[test]
fn ended_by_a_signal_line_by_line_nothing_acknowledged_is_lost() {
    let mut table = Table::new(20);
    for _ in 0..10 {
        table.kill_once(Signal::TERM);
    }
    table.finish();
    assert_eq!(Signal::TERM.as_raw(), TERMINATED);
}

/// The keys of a script, each with how many lines of it are answered before and after.
fn keys(script: &Script) -> Vec<(String, usize)> {
    let mut keys = Vec::new();
    for (index, step) in script.steps.iter().enumerate() {
        let word = match step.line.as_str() {
            "/skip" => " ".to_owned(),
            "/cannot-tell" => "-".to_owned(),
            line if line.len() == 1 => line.to_owned(),
            line => format!("{line}\r"),
        };
        let last = word.chars().count() - 1;
        let typed = word.chars().enumerate();
        keys.extend(typed.map(|(at, key)| (key.to_string(), index + usize::from(at == last))));
    }
    keys
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
