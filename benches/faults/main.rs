//! Nothing acknowledged is ever lost: every workflow that writes, on a disk that fails at a random moment.
//!
//! `cargo bench --profile dev --bench faults -- 2000` plays so many runs and prints what came of them. A failure names
//! its seed: `-- 1 --seed SEED --workflow NAME` plays it again; `--how power` keeps to one way to fail.

#![allow(clippy::print_stdout, reason = "a bench prints what it measured")]

mod disk;
mod kitchen;
mod pages;
#[allow(dead_code, reason = "the tests of a terminal use the rest")]
#[path = "../../tests/kill/script.rs"]
mod script;
mod state;
mod trial;
#[path = "../../tests/typed_line/mod.rs"]
mod typed_line;
mod workflows;

use std::path::Path;
use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::Mutex;
use std::sync::atomic::AtomicUsize;
use std::sync::atomic::Ordering;
use std::thread;
use std::time::Instant;

use disk::Fault;
use disk::How;
use kitchen::Kitchen;
use trial::End;
use trial::Trial;
use trial::Wrong;
use workflows::WORKFLOWS;
use workflows::Workflow;

/// Runs if no number is said.
const RUNS: usize = 2_000;

/// The seed of the first run if none is said.
const SEED: u64 = 20_260_314;

/// What was asked for.
struct Asked {
    runs: usize,
    seed: u64,
    workflow: Option<String>,
    how: Option<How>,
}

/// What came of the runs of one workflow.
#[derive(Default, Clone)]
struct Sums {
    runs: usize,
    killed: usize,
    refused: usize,
    through: usize,
    lost: usize,
    half: usize,
    unsound: usize,
}

impl Sums {
    fn add(&mut self, end: End, wrong: Option<&Wrong>) {
        self.runs += 1;
        match end {
            End::Killed => self.killed += 1,
            End::Refused => self.refused += 1,
            End::WentThrough => self.through += 1,
        }
        match wrong {
            None => {}
            Some(Wrong::Lost(_)) => self.lost += 1,
            Some(Wrong::Half(_)) => self.half += 1,
            Some(Wrong::Unsound(_)) => self.unsound += 1,
        }
    }

    fn line(&self, name: &str, calls: &str) -> String {
        let Self {
            runs,
            killed,
            refused,
            through,
            lost,
            half,
            unsound,
        } = self;
        format!(
            "{name:<24} {calls:>6} {runs:>6} {killed:>7} {refused:>8} {through:>8} {lost:>6} {half:>6} {unsound:>8}"
        )
    }

    fn and(&self, other: &Self) -> Self {
        Self {
            runs: self.runs + other.runs,
            killed: self.killed + other.killed,
            refused: self.refused + other.refused,
            through: self.through + other.through,
            lost: self.lost + other.lost,
            half: self.half + other.half,
            unsound: self.unsound + other.unsound,
        }
    }
}

fn main() -> ExitCode {
    let begun = Instant::now();
    let asked = asked();
    let chosen = |it: &&Workflow| asked.workflow.as_ref().is_none_or(|name| it.name == name);
    let chosen: Vec<&Workflow> = WORKFLOWS.iter().filter(chosen).collect();
    assert!(!chosen.is_empty(), "no workflow is called so");
    let top = tempfile::tempdir().expect("a folder can be made");
    let library = disk::build(top.path());
    let trials = prepared(&chosen, top.path(), &library);
    println!("prepared after {:.0} s", begun.elapsed().as_secs_f64());
    let (sums, failures) = played(&asked, &chosen, &trials, top.path());
    tell(&chosen, &trials, &sums);
    println!("{:.0} s in all", begun.elapsed().as_secs_f64());
    for failure in &failures {
        println!("\n{failure}");
    }
    ExitCode::from(u8::from(!failures.is_empty()))
}

fn asked() -> Asked {
    let mut asked = Asked {
        runs: RUNS,
        seed: SEED,
        workflow: None,
        how: None,
    };
    let mut words = std::env::args().skip(1);
    while let Some(word) = words.next() {
        let mut value = || words.next().expect("a value follows");
        match word.as_str() {
            // Cargo says this to every bench.
            "--bench" => {}
            "--seed" => asked.seed = value().parse().expect("a seed is a number"),
            "--workflow" => asked.workflow = Some(value()),
            "--how" => asked.how = Some(How::named(&value()).expect("it is a way to fail")),
            runs => asked.runs = runs.parse().expect("the number of runs"),
        }
    }
    asked
}

/// Does `work` for each number below `most`, on all processors.
fn shared_out(most: usize, work: impl Fn(usize) + Sync) {
    let next = AtomicUsize::new(0);
    let threads = thread::available_parallelism().map_or(2, usize::from);
    thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                loop {
                    let number = next.fetch_add(1, Ordering::Relaxed);
                    if number >= most {
                        break;
                    }
                    work(number);
                }
            });
        }
    });
}

/// Each workflow prepared, and done once without a fault.
fn prepared(chosen: &[&Workflow], top: &Path, library: &Path) -> Vec<Trial> {
    let bases = workflows::bases(top, library);
    let trials: Mutex<Vec<(usize, Trial)>> = Mutex::new(Vec::new());
    shared_out(chosen.len(), |number| {
        let workflow = chosen[number];
        let folder = |what: &str| top.join(format!("{what}-{number}"));
        let mut kitchen: Kitchen = bases.of(workflow.base).copied(&folder("kitchen"));
        let act = (workflow.prepare)(&mut kitchen);
        let trial = Trial::new(kitchen, act, &folder("once"));
        assert!(!trial.is_idle(), "{} changes nothing", workflow.name);
        trials
            .lock()
            .expect("nobody panicked")
            .push((number, trial));
    });
    let mut trials = trials.into_inner().expect("nobody panicked");
    trials.sort_by_key(|it| it.0);
    trials.into_iter().map(|it| it.1).collect()
}

/// What came of all runs, by workflow, and each failure in words.
fn played(
    asked: &Asked,
    chosen: &[&Workflow],
    trials: &[Trial],
    top: &Path,
) -> (Vec<Sums>, Vec<String>) {
    let sums = Mutex::new((vec![Sums::default(); trials.len()], Vec::new()));
    shared_out(asked.runs, |run| {
        let at = run % trials.len();
        let seed = asked.seed + run as u64;
        let fault = Fault::draw(seed, trials[at].calls, asked.how);
        let folder: PathBuf = top.join(format!("run-{run}"));
        let (end, wrong) = trials[at].play(fault, &folder);
        let mut sums = sums.lock().expect("nobody panicked");
        sums.0[at].add(end, wrong.as_ref());
        if let Some(wrong) = wrong {
            let name = chosen[at].name;
            let (how, call) = (fault.how.name(), fault.at);
            let only = asked
                .how
                .map_or(String::new(), |it| format!(" --how {}", it.name()));
            sums.1.push(format!(
                "{name}, {how} at call {call}: {wrong:?}\nTo play it again: cargo bench --profile dev --bench faults -- 1 --seed {seed} --workflow \"{name}\"{only}"
            ));
        }
    });
    sums.into_inner().expect("nobody panicked")
}

fn tell(chosen: &[&Workflow], trials: &[Trial], sums: &[Sums]) {
    println!(
        "{:<24} {:>6} {:>6} {:>7} {:>8} {:>8} {:>6} {:>6} {:>8}",
        "workflow", "calls", "runs", "killed", "refused", "through", "lost", "half", "unsound"
    );
    for (at, workflow) in chosen.iter().enumerate() {
        println!(
            "{}",
            sums[at].line(workflow.name, &trials[at].calls.to_string())
        );
    }
    let all = sums.iter().fold(Sums::default(), |all, it| all.and(it));
    println!("{}", all.line("all", ""));
}
