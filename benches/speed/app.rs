//! The real program on a pseudo-terminal: its first frame, and what passes between a key and the next picture.

use std::env;
use std::path::Path;
use std::time::Instant;

use crate::Kitchen;
use crate::alone;
use crate::clockwork::memory;
use crate::clockwork::middle_and_longest;
use crate::pty::Launch;
use crate::pty::Pty;
use crate::table::Bound;
use crate::table::Table;

/// What the first screen says.
const FIRST: &str = "Taste a beer";

/// What the first frame may take beyond that of the empty app, milliseconds.
const MOST_FRAME: f64 = 15.0;
/// What a key's answer may take, milliseconds.
const MOST_KEY: f64 = 16.0;
/// With a thousand times the history it takes at most so many times as long.
const MOST_GROWTH: f64 = 1.5;

/// Answers to the questions of a tasting that take a digit; those for words are passed over with Enter.
const DIGITS: [&str; 15] = [
    "1", "1", "5", "4", "5", "6", "5", "4", "5", "6", "5", "4", "5", "6", "5",
];
/// How a question for words, and the first page, are known.
const NO_DIGIT: [&str; 2] = ["Type a word", "Enter begins"];

const DOWN: &str = "\x1b[B";
const UP: &str = "\x1b[A";
const PAGE_DOWN: &str = "\x1b[6~";
const PAGE_UP: &str = "\x1b[5~";

fn program(home: &Path) -> Launch {
    let launch = Launch::new(env!("CARGO_BIN_EXE_thirdglass"));
    launch.arg("--home").arg(home)
}

/// Milliseconds until the whole first picture is there, with the program.
fn started(launch: Launch, text: &str) -> (f64, Pty) {
    let start = Instant::now();
    let pty = launch.start();
    pty.wait_for_picture(text);
    (1e3 * start.elapsed().as_secs_f64(), pty)
}

/// First frames, turn by turn, so that a machine that is busy for a while is busy for all of them.
pub(crate) fn first_frames(table: &mut Table, kitchens: &[Kitchen]) {
    let own = env::current_exe().expect("a program knows its file");
    let mut empty = Vec::new();
    let mut times: Vec<Vec<f64>> = kitchens.iter().map(|_| Vec::new()).collect();
    let mut peaks = vec![0.0; kitchens.len()];
    for _ in 0..table.extent.rounds(21) {
        empty.push(started(Launch::new(&own).arg(alone::WORD), alone::TEXT).0);
        for (place, kitchen) in kitchens.iter().enumerate() {
            let (time, pty) = started(program(kitchen.folder.path()), FIRST);
            times[place].push(time);
            peaks[place] = memory(&pty.number(), "VmHWM:");
        }
    }
    let empty = middle_and_longest(empty).0;
    let frames: Vec<f64> = times
        .into_iter()
        .map(|it| middle_and_longest(it).0)
        .collect();
    let beyond: Vec<f64> = frames.iter().map(|it| it - empty).collect();
    table.row("empty app, first frame, ms", &[empty], &[Bound::Beside]);
    table.row("first frame, ms", &frames, &[Bound::Growth(MOST_GROWTH)]);
    table.row(
        "first frame beyond the empty app, ms",
        &beyond,
        &[Bound::Most(MOST_FRAME)],
    );
    table.row("memory at the first frame, MiB", &peaks, &[Bound::Beside]);
}

/// Milliseconds from a key to the whole picture that answers it.
fn answered(pty: &mut Pty, key: &str) -> f64 {
    pty.forget_raw();
    let start = Instant::now();
    pty.send(key);
    pty.wait_for_picture("");
    1e3 * start.elapsed().as_secs_f64()
}

/// Keys on the lists that a history makes long, and on the market.
pub(crate) fn keys(table: &mut Table, kitchens: &[Kitchen]) {
    let screens = [
        ("the batches", "4", "Batches"),
        ("the notes", "5", "Notes"),
        ("the words", "6", "Words and jars"),
    ];
    for (name, open, title) in screens {
        let mut opened = Vec::new();
        let mut walked: Vec<Vec<f64>> = kitchens.iter().map(|_| Vec::new()).collect();
        let mut ptys: Vec<Pty> = kitchens
            .iter()
            .map(|it| started(program(it.folder.path()), FIRST).1)
            .collect();
        for pty in &mut ptys {
            // Wheel and ingredients are read once the first picture is there: nobody presses a key so soon.
            answered(pty, DOWN);
            answered(pty, UP);
            opened.push(answered(pty, open));
            pty.wait_for_picture(title);
        }
        for _ in 0..table.extent.rounds(6) {
            for key in [DOWN, DOWN, DOWN, DOWN, UP, UP, UP, UP] {
                for (place, pty) in ptys.iter_mut().enumerate() {
                    walked[place].push(answered(pty, key));
                }
            }
        }
        table.row(
            &format!("{name}: opened, ms"),
            &opened,
            &[Bound::Most(MOST_KEY)],
        );
        print_keys(table, name, walked);
    }
}

/// Leaves of pages that are drawn from all notes: only their opening looks through the history.
pub(crate) fn leaves(table: &mut Table, kitchens: &[Kitchen]) {
    let pages = [
        ("side by side", ["4", "\r", "\r"].as_slice(), "side by side"),
        (
            "a taster's page",
            &["5", "p", "\r", "1"],
            "how far to trust",
        ),
    ];
    for (name, way, title) in pages {
        let mut turned: Vec<Vec<f64>> = kitchens.iter().map(|_| Vec::new()).collect();
        let opened = kitchens.iter().map(|it| {
            let mut pty = started(program(it.folder.path()), FIRST).1;
            for key in way {
                answered(&mut pty, key);
            }
            pty.wait_for_picture(title);
            pty
        });
        let mut ptys: Vec<Pty> = opened.collect();
        // In turn, so that a machine that is busy for a while is so for all of them.
        for _ in 0..table.extent.rounds(24) {
            for key in [PAGE_DOWN, PAGE_UP] {
                for (place, pty) in ptys.iter_mut().enumerate() {
                    turned[place].push(answered(pty, key));
                }
            }
        }
        print_keys(table, name, turned);
    }
}

/// Digits of a whole tasting, each kept on the disk before the next question.
pub(crate) fn keys_of_a_tasting(table: &mut Table, kitchens: &[Kitchen]) {
    let mut walked: Vec<Vec<f64>> = Vec::new();
    for kitchen in kitchens {
        let launch = program(kitchen.folder.path()).arg("taste");
        let launch = launch.arg("B1").arg("--taster").arg("Saucer");
        let mut pty = started(launch, "B1").1;
        let mut times = Vec::new();
        for digit in DIGITS {
            while NO_DIGIT.iter().any(|it| pty.text().contains(it)) {
                times.push(answered(&mut pty, "\r"));
            }
            times.push(answered(&mut pty, digit));
        }
        walked.push(times);
    }
    print_keys(table, "a tasting", walked);
}

fn print_keys(table: &mut Table, name: &str, walked: Vec<Vec<f64>>) {
    let both = walked.into_iter().map(middle_and_longest);
    let (middles, longest): (Vec<f64>, Vec<f64>) = both.unzip();
    let bounds = [Bound::Most(MOST_KEY), Bound::Growth(MOST_GROWTH)];
    table.row(&format!("{name}: key, ms"), &middles, &bounds);
    table.row(
        &format!("{name}: slowest key, ms"),
        &longest,
        &[Bound::Beside],
    );
}
