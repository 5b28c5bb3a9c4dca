//! The trial program on a terminal, and what is looked at in its output.

use std::fs;
use std::path::Path;
use std::path::PathBuf;
use std::time::SystemTime;

use crate::pty::Launch;
use crate::pty::Pty;

/// The trial program, which a plain `cargo test` builds beside the tests.
pub(crate) fn program() -> PathBuf {
    let test = std::env::current_exe().expect("a running test has a path");
    let profile = test
        .ancestors()
        .nth(2)
        .expect("tests lie in target/<profile>/deps");
    let path = profile.join("examples").join("terminal_trial");
    let built = fs::metadata(&path).and_then(|file| file.modified()).ok();
    let home = Path::new(env!("CARGO_MANIFEST_DIR"));
    let written = newest(&home.join("src")).max(written_at(&home.join("tests/pty/trial.rs")));
    assert!(
        built.is_some_and(|built| built >= written),
        "{} is missing or older than the source: `cargo build --example terminal_trial`",
        path.display()
    );
    path
}

/// When the newest file in a folder and its folders was written.
fn newest(folder: &Path) -> SystemTime {
    let entries = fs::read_dir(folder).expect("the folder of the source is there");
    entries
        .map(|entry| entry.expect("it can be listed").path())
        .map(|path| {
            if path.is_dir() {
                newest(&path)
            } else {
                written_at(&path)
            }
        })
        .max()
        .unwrap_or(SystemTime::UNIX_EPOCH)
}

fn written_at(path: &Path) -> SystemTime {
    let file = fs::metadata(path).expect("the file is there");
    file.modified().expect("the file knows when it was written")
}

pub(crate) fn launch() -> Launch {
    Launch::new(program())
}

pub(crate) fn started() -> Pty {
    shown(launch())
}

/// Starts it and waits for its first picture.
pub(crate) fn shown(launch: Launch) -> Pty {
    let pty = launch.start();
    pty.wait_for("no event");
    pty
}

/// Checks that nothing of the full screen is left switched on.
pub(crate) fn assert_restored(pty: &Pty) {
    pty.look(|screen| {
        assert!(
            !screen.alternate_screen(),
            "the other screen is still shown"
        );
        assert!(!screen.hide_cursor(), "the cursor is still hidden");
        assert!(!screen.bracketed_paste(), "pastes are still wrapped");
        assert_eq!(screen.mouse_protocol_mode(), vt100::MouseProtocolMode::None);
    });
    assert!(occurs(&pty.raw(), b"\x1b[?7h"), "lines do not wrap again");
}

pub(crate) fn occurs(bytes: &[u8], part: &[u8]) -> bool {
    count(bytes, part) > 0
}

pub(crate) fn count(bytes: &[u8], part: &[u8]) -> usize {
    bytes
        .windows(part.len())
        .filter(|window| window == &part)
        .count()
}

/// Waits until the last event the program saw is this one.
pub(crate) fn wait_for_event(pty: &Pty, event: &str) {
    pty.wait_for(event);
}
