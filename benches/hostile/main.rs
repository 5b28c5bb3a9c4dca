//! No input crashes it: every parser, the commands and the app itself under millions of hostile inputs.
//!
//! `cargo bench --bench hostile -- 10000000` feeds so many over all, on all processors, each parser in processes of its
//! own, and prints what came of them; a fault says how to play it again: `-- 1 --parser P --seed S --input N`.

#![allow(clippy::print_stdout, reason = "a bench prints what it measured")]

mod app;
mod chance;
mod commands;
mod keys;
mod parsers;
mod readers;
mod seeds;
#[path = "../../tests/typed_line/mod.rs"]
mod typed_line;
mod worker;

use std::collections::BTreeSet;
use std::env;
use std::fs;
use std::fs::File;
use std::io::Read;
use std::path::Path;
use std::process::Child;
use std::process::Command;
use std::process::ExitCode;
use std::process::Stdio;
use std::sync::Mutex;
use std::sync::mpsc;
use std::sync::mpsc::RecvTimeoutError;
use std::thread;
use std::time::Duration;
use std::time::Instant;

use parsers::PARSERS;
use parsers::Parser;
use parsers::REST;
use worker::Stretch;
use worker::Sums;
use worker::work;

/// Inputs if no number is said.
const INPUTS: u64 = 10_000_000;

/// The seed if none is said.
const SEED: u64 = 20_260_314;

/// The most memory a process may take, KiB: 256 MiB.
const MOST_MEMORY: u64 = 256 << 10;

/// How often it is looked whether a process still comes on; one that does not between two looks hangs.
const LOOK: Duration = Duration::from_secs(10);

/// Into how many stretches the inputs of a parser are cut, so that no processor waits long for another.
const STRETCHES: u64 = 6;

/// What was asked for.
struct Asked {
    inputs: u64,
    seed: u64,
    parser: Option<String>,
    input: Option<u64>,
    /// Whether this is a process that another one started: the stretch, and where to say how far it has come.
    worker: Option<(Stretch, String)>,
}

fn main() -> ExitCode {
    let asked = asked();
    let chosen = |it: &&Parser| asked.parser.as_ref().is_none_or(|name| it.name == name);
    let chosen: Vec<&Parser> = PARSERS.iter().filter(chosen).collect();
    assert!(!chosen.is_empty(), "no parser is called so");
    if let Some((stretch, folder)) = &asked.worker {
        let folder = Path::new(folder);
        let at = File::create(folder.join("at")).expect("there is room for a file");
        print!("{}", work(chosen[0], asked.seed, *stretch, folder, &at));
        return ExitCode::SUCCESS;
    }
    let begun = Instant::now();
    let jobs = jobs(&asked, &chosen);
    let sums = played(&asked, &chosen, jobs);
    let failed = tell(&asked, &chosen, &sums);
    println!("{:.0} s in all", begun.elapsed().as_secs_f64());
    ExitCode::from(u8::from(failed))
}

fn asked() -> Asked {
    let mut asked = Asked {
        inputs: INPUTS,
        seed: SEED,
        parser: None,
        input: None,
        worker: None,
    };
    let mut words = env::args().skip(1);
    while let Some(word) = words.next() {
        let mut value = || words.next().expect("a value follows");
        let number = |it: String| it.parse().expect("it is a number");
        match word.as_str() {
            // Cargo says this to every bench.
            "--bench" => {}
            "--seed" => asked.seed = number(value()),
            "--parser" => asked.parser = Some(value()),
            "--input" => asked.input = Some(number(value())),
            "--worker" => {
                let (from, to) = (number(value()), number(value()));
                asked.worker = Some((Stretch { from, to }, value()));
            }
            inputs => asked.inputs = number(inputs.to_owned()),
        }
    }
    asked
}

/// The stretches of all parsers, each with the place of its parser; the longest work first.
fn jobs(asked: &Asked, chosen: &[&Parser]) -> Vec<(usize, Stretch)> {
    if let Some(from) = asked.input {
        assert!(
            chosen.len() == 1,
            "an input is one of a parser: --parser NAME"
        );
        return vec![(0, Stretch { from, to: from + 1 })];
    }
    let shared: u64 = PARSERS.iter().map(|it| it.share).sum();
    let mut jobs = Vec::new();
    for (place, parser) in chosen.iter().enumerate() {
        let share = if parser.name == REST {
            1_000_000 - shared
        } else {
            parser.share
        };
        let inputs = if chosen.len() == 1 {
            asked.inputs
        } else {
            (asked.inputs * share).div_ceil(1_000_000)
        };
        let length = inputs.div_ceil(STRETCHES).next_multiple_of(parser.block);
        let mut from = 0;
        while from < inputs {
            let to = (from + length).min(inputs);
            jobs.push((place, Stretch { from, to }));
            from = to;
        }
    }
    jobs
}

/// What came of all jobs, by parser.
fn played(asked: &Asked, chosen: &[&Parser], mut jobs: Vec<(usize, Stretch)>) -> Vec<Sums> {
    let all = Mutex::new(vec![Sums::default(); chosen.len()]);
    // The last of the list are the slow ones: they are begun first.
    let left = Mutex::new(std::mem::take(&mut jobs));
    let threads = thread::available_parallelism().map_or(2, usize::from);
    thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                loop {
                    let Some((place, stretch)) = left.lock().expect("nobody panicked").pop() else {
                        break;
                    };
                    let sums = one_job(asked.seed, chosen[place], stretch);
                    for (fault, at) in &sums.faults {
                        println!("found: {} {at}: {fault}", chosen[place].name);
                    }
                    all.lock().expect("nobody panicked")[place].add(sums);
                }
            });
        }
    });
    all.into_inner().expect("nobody panicked")
}

/// A stretch to its end, in one process, or in more if one dies on the way.
fn one_job(seed: u64, parser: &Parser, mut stretch: Stretch) -> Sums {
    let mut all = Sums::default();
    while stretch.from < stretch.to {
        let shared = Path::new("/dev/shm");
        let folder = if shared.is_dir() {
            tempfile::tempdir_in(shared)
        } else {
            tempfile::tempdir()
        };
        let folder = folder.expect("a folder can be made");
        let (told, end) = one_process(seed, parser, stretch, folder.path());
        if let Some(sums) = Sums::heard(&told) {
            all.add(sums);
            break;
        }
        let at = reached(folder.path());
        assert!(
            at >= stretch.from - stretch.from % parser.block,
            "{}: the process did not begin: {end}",
            parser.name
        );
        all.panics += 1;
        all.inputs += (at + 1).saturating_sub(stretch.from);
        all.faults.insert(end, at);
        stretch.from = (at + 1).next_multiple_of(parser.block);
    }
    all
}

/// The input that a process was at.
fn reached(folder: &Path) -> u64 {
    let bytes = fs::read(folder.join("at")).unwrap_or_default();
    bytes.try_into().map_or(0, u64::from_le_bytes)
}

/// What a process told, and how it ended.
fn one_process(seed: u64, parser: &Parser, stretch: Stretch, folder: &Path) -> (String, String) {
    let program = env::current_exe().expect("this program has a place");
    let mut child = Command::new(program)
        .args([
            "--parser",
            parser.name,
            "--seed",
            &seed.to_string(),
            "--worker",
        ])
        .args([stretch.from.to_string(), stretch.to.to_string()])
        .arg(folder)
        .env("TMPDIR", folder)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .spawn()
        .expect("this program can be started");
    let mut output = child.stdout.take().expect("it has an output");
    let (sender, ended) = mpsc::channel();
    let reading = thread::spawn(move || {
        let mut told = Vec::new();
        output.read_to_end(&mut told).ok();
        sender.send(()).ok();
        String::from_utf8_lossy(&told).into_owned()
    });
    let end = watched(&mut child, folder, &ended);
    (reading.join().unwrap_or_default(), end)
}

/// Waits for the end of a process; one that stays at one input is ended.
fn watched(child: &mut Child, folder: &Path, ended: &mpsc::Receiver<()>) -> String {
    let mut last = None;
    while ended.recv_timeout(LOOK) == Err(RecvTimeoutError::Timeout) {
        let at = reached(folder);
        // The seeds of some take a while before the first input.
        if last == Some(at) && at > 0 {
            child.kill().ok();
            child.wait().ok();
            return format!("hangs for {} s and more", LOOK.as_secs());
        }
        last = Some(at);
    }
    child.wait().map_or_else(
        |error| error.to_string(),
        |it| format!("the process died: {it}"),
    )
}

/// Prints the table and every fault; tells whether there is one.
fn tell(asked: &Asked, chosen: &[&Parser], sums: &[Sums]) -> bool {
    println!(
        "{:<15} {:>10} {:>10} {:>10} {:>11} {:>10} {:>7} {:>9} {:>7}",
        "parser", "inputs", "read", "refused", "slowest ms", "at", "panics", "peak MiB", "took s"
    );
    let mut all = Sums::default();
    let mut again = Vec::new();
    for (parser, sums) in chosen.iter().zip(sums) {
        println!("{}", line(parser.name, sums));
        let mut faults: Vec<(String, u64)> = sums.faults.clone().into_iter().collect();
        if sums.peak > MOST_MEMORY {
            faults.push(("takes more than 256 MiB".to_owned(), sums.slowest_at));
        }
        again.extend(faults.into_iter().map(|(fault, at)| {
            let (name, seed) = (parser.name, asked.seed);
            format!("{name}: {fault}\n  cargo bench --bench hostile -- 1 --parser \"{name}\" --seed {seed} --input {at}")
        }));
        all.add(sums.clone());
    }
    println!("{}", line("all", &all));
    let seen: BTreeSet<&String> = all.seen.iter().collect();
    println!("the app showed {} different titles", seen.len());
    for fault in &again {
        println!("\n{fault}");
    }
    !again.is_empty()
}

fn line(name: &str, sums: &Sums) -> String {
    let Sums {
        inputs,
        read,
        refused,
        panics,
        slowest_at,
        ..
    } = sums;
    let slowest = sums.slowest.as_secs_f64() * 1_000.0;
    let peak = sums.peak / 1_024;
    let took = sums.took.as_secs_f64();
    format!(
        "{name:<15} {inputs:>10} {read:>10} {refused:>10} {slowest:>11.1} {slowest_at:>10} {panics:>7} {peak:>9} {took:>7.0}"
    )
}
