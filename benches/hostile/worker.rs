//! One process that feeds one parser a stretch of inputs: it says where it is, and what it has seen.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::fs::File;
use std::os::unix::fs::FileExt;
use std::panic;
use std::panic::AssertUnwindSafe;
use std::path::Path;
use std::time::Duration;
use std::time::Instant;

use crate::chance::Chance;
use crate::parsers::Fate;
use crate::parsers::Fed;
use crate::parsers::Parser;

/// What takes longer than this is a hang.
pub(crate) const HANG: Duration = Duration::from_secs(1);

/// A stretch of inputs.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stretch {
    pub(crate) from: u64,
    pub(crate) to: u64,
}

/// What came of a stretch.
#[derive(Debug, Clone, Default)]
pub(crate) struct Sums {
    pub(crate) inputs: u64,
    pub(crate) read: u64,
    pub(crate) refused: u64,
    pub(crate) panics: u64,
    pub(crate) slowest: Duration,
    pub(crate) slowest_at: u64,
    /// Peak memory of a process, KiB.
    pub(crate) peak: u64,
    /// Processor time, as long as the inputs took.
    pub(crate) took: Duration,
    /// The first input of each kind of fault, in words.
    pub(crate) faults: BTreeMap<String, u64>,
    pub(crate) seen: Vec<String>,
}

impl Sums {
    pub(crate) fn add(&mut self, other: Self) {
        self.inputs += other.inputs;
        self.read += other.read;
        self.refused += other.refused;
        self.panics += other.panics;
        if other.slowest > self.slowest {
            (self.slowest, self.slowest_at) = (other.slowest, other.slowest_at);
        }
        self.peak = self.peak.max(other.peak);
        self.took += other.took;
        for (fault, at) in other.faults {
            self.faults.entry(fault).or_insert(at);
        }
        self.seen.extend(other.seen);
    }

    /// As lines for the process that asked.
    fn told(&self) -> String {
        let Self {
            inputs,
            read,
            refused,
            panics,
            slowest_at,
            peak,
            ..
        } = self;
        let (slowest, took) = (self.slowest.as_nanos(), self.took.as_nanos());
        let mut text = format!(
            "sums {inputs} {read} {refused} {panics} {slowest} {slowest_at} {peak} {took}\n"
        );
        for (fault, at) in &self.faults {
            let fault: String = fault
                .chars()
                .map(|it| if it.is_control() { ' ' } else { it })
                .collect();
            writeln!(text, "fault {at} {fault}").expect("a text takes more");
        }
        for seen in &self.seen {
            writeln!(text, "seen {seen}").expect("a text takes more");
        }
        text
    }

    /// From those lines.
    pub(crate) fn heard(text: &str) -> Option<Self> {
        let mut sums = Self::default();
        let numbers = text.lines().find_map(|it| it.strip_prefix("sums "))?;
        let numbers: Vec<u64> = numbers
            .split(' ')
            .filter_map(|it| it.parse().ok())
            .collect();
        let [
            inputs,
            read,
            refused,
            panics,
            slowest,
            slowest_at,
            peak,
            took,
        ] = numbers.try_into().ok()?;
        (sums.inputs, sums.read, sums.refused, sums.panics) = (inputs, read, refused, panics);
        (sums.slowest, sums.slowest_at, sums.peak) =
            (Duration::from_nanos(slowest), slowest_at, peak);
        sums.took = Duration::from_nanos(took);
        for line in text.lines() {
            if let Some((at, fault)) = line
                .strip_prefix("fault ")
                .and_then(|it| it.split_once(' '))
            {
                sums.faults.insert(fault.to_owned(), at.parse().ok()?);
            }
            sums.seen
                .extend(line.strip_prefix("seen ").map(str::to_owned));
        }
        Some(sums)
    }
}

thread_local! {
    /// What the last panic said, and where.
    static SAID: RefCell<String> = const { RefCell::new(String::new()) };
}

/// Feeds a stretch of inputs; tells in `at` which one it is at, for whoever finds the process gone.
pub(crate) fn work(
    parser: &Parser,
    seed: u64,
    stretch: Stretch,
    folder: &Path,
    at: &File,
) -> String {
    panic::set_hook(Box::new(|told| {
        let place = told
            .location()
            .map_or_else(String::new, ToString::to_string);
        let said = told.payload_as_str().unwrap_or_default();
        SAID.with_borrow_mut(|it| *it = format!("panic at {place}: {said}"));
    }));
    let mut fed = (parser.make)(folder);
    let mut sums = Sums::default();
    // What builds on earlier inputs is played from their beginning.
    let begin = stretch.from - stretch.from % parser.block;
    for number in begin..stretch.to {
        at.write_all_at(&number.to_le_bytes(), 0)
            .expect("there is room for eight bytes");
        if number % parser.block == 0 {
            fed.begin(Chance::of(seed, &format!("{} begins", parser.name), number));
        }
        feed(
            fed.as_mut(),
            Chance::of(seed, parser.name, number),
            number,
            &mut sums,
        );
    }
    sums.peak = peak();
    sums.seen = fed.seen();
    sums.told()
}

fn feed(fed: &mut dyn Fed, chance: Chance, number: u64, sums: &mut Sums) {
    let (begun, before) = (Instant::now(), waited());
    let result = panic::catch_unwind(AssertUnwindSafe(|| fed.feed(chance)));
    let took = (begun.elapsed() + before).saturating_sub(waited());
    sums.took += took;
    sums.inputs += 1;
    if took > sums.slowest {
        (sums.slowest, sums.slowest_at) = (took, number);
    }
    if took > HANG {
        sums.faults
            .entry("takes longer than a second".to_owned())
            .or_insert(number);
    }
    match result {
        Ok(Fate::Read) => sums.read += 1,
        Ok(Fate::Refused) => sums.refused += 1,
        Err(_) => {
            sums.panics += 1;
            let said: String = SAID.with_borrow(|it| it.chars().take(300).collect());
            if sums.faults.len() < 20 {
                sums.faults.entry(said).or_insert(number);
            }
        }
    }
}

/// For how long this process has waited for a processor, so far: a machine that has other things to do is no hang.
fn waited() -> Duration {
    let told = fs::read_to_string("/proc/self/schedstat").unwrap_or_default();
    let delay = told
        .split_whitespace()
        .nth(1)
        .and_then(|it| it.parse().ok());
    Duration::from_nanos(delay.unwrap_or(0))
}

/// Peak memory of this process in KiB, from the kernel.
fn peak() -> u64 {
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|it| it.strip_prefix("VmHWM:"));
    let number = line.and_then(|it| it.split_whitespace().next());
    number
        .and_then(|it| it.parse().ok())
        .expect("the kernel tells how much memory a process took")
}
