//! The terminal room on a real pseudo-terminal: whatever happens, it draws right and puts back.

mod pty;

use std::fs;
use std::path::Path;
use std::path::PathBuf;
use std::time::SystemTime;

use pty::Launch;
use pty::Pty;
use pty::Signal;

/// The exit codes of signals: 128 and their numbers in POSIX `kill` (HUP 1, INT 2, QUIT 3, TERM 15).
const AFTER_HANGUP: u32 = 129;
const AFTER_TERM: u32 = 143;

/// What a Rust program that panicked exits with (documented in `std::process::ExitCode`).
const AFTER_PANIC: u32 = 101;

/// The trial program, which a plain `cargo test` builds beside the tests.
fn program() -> PathBuf {
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

fn launch() -> Launch {
    Launch::new(program())
}

fn started() -> Pty {
    shown(launch())
}

/// Starts it and waits for its first picture.
fn shown(launch: Launch) -> Pty {
    let pty = launch.start();
    pty.wait_for("no event");
    pty
}

/// Checks that nothing of the full screen is left switched on.
fn assert_restored(pty: &Pty) {
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

fn occurs(bytes: &[u8], part: &[u8]) -> bool {
    count(bytes, part) > 0
}

fn count(bytes: &[u8], part: &[u8]) -> usize {
    bytes
        .windows(part.len())
        .filter(|window| window == &part)
        .count()
}

/// The numbers of every "select graphic rendition" sequence in the output.
fn renditions(bytes: &[u8]) -> Vec<String> {
    let text = String::from_utf8_lossy(bytes).into_owned();
    let sequences = text.split("\x1b[").skip(1);
    sequences
        .filter_map(|rest| {
            let end = rest.find(|sign: char| sign.is_ascii_alphabetic())?;
            rest[end..].starts_with('m').then(|| rest[..end].to_owned())
        })
        .collect()
}

/// Waits until the last event the program saw is this one.
fn wait_for_event(pty: &Pty, event: &str) {
    pty.wait_for(event);
}

#[test]
fn quitting_gives_the_terminal_back_with_what_was_on_it() {
    let command = format!("echo before; {}; echo code $?", program().display());
    let mut pty = shown(Launch::new("sh").arg("-c").arg(command));
    pty.look(|screen| {
        assert!(screen.alternate_screen());
        assert!(screen.hide_cursor());
        assert!(screen.bracketed_paste());
    });
    pty.send("\x1b[21~");
    assert_eq!(pty.exit_code(), 0);
    assert_restored(&pty);
    assert_eq!(pty.text(), "before\ncode 0");
}

#[test]
fn keys_arrive_and_unknown_function_keys_do_nothing() {
    let mut pty = started();
    pty.send("\x1b[25~\x1b[34~\x1b[1;2R");
    wait_for_event(&pty, "Shift(F3)");
    pty.send("malt");
    pty.wait_for("malt");
    pty.send("\x1b\x11");
    pty.send("\x1b[1;5C");
    wait_for_event(&pty, "Ctrl(Right)");
    pty.send("\x1b[21~");
    assert_eq!(pty.exit_code(), 0);
}

#[test]
fn escape_alone_arrives_without_another_key() {
    let mut pty = started();
    pty.send("\x1b");
    wait_for_event(&pty, "Key(Esc)");
}

#[test]
fn a_burst_of_keys_larger_than_any_buffer_arrives_whole() {
    let mut pty = started();
    pty.send("h".repeat(3_000));
    pty.send("\x1b[H");
    wait_for_event(&pty, "Key(Home)");
    let frames = count(&pty.raw(), b"\x1b[?2026h");
    assert!(frames < 300, "{frames} drawings for 3000 keys");
}

#[test]
fn pasted_text_is_text_even_if_it_reads_like_commands() {
    let mut pty = started();
    pty.send("\x1b[200~liquid \x1b[21~q\x1b[201~");
    pty.wait_for("liquid");
    pty.send("\x1b[A");
    wait_for_event(&pty, "Key(Up)");
}

#[test]
fn the_mouse_is_heard_and_nothing_more_is_asked_of_it() {
    let mut pty = started();
    for mode in ["1000", "1002", "1006"] {
        assert!(
            occurs(&pty.raw(), format!("\x1b[?{mode}h").as_bytes()),
            "{mode}"
        );
    }
    for mode in ["9", "1001", "1003", "1005", "1015", "1016"] {
        assert!(
            !occurs(&pty.raw(), format!("\x1b[?{mode}h").as_bytes()),
            "{mode}"
        );
    }
    pty.send("\x1b[<0;40;12M");
    wait_for_event(&pty, "Press(Left)");
}

#[test]
fn every_ending_signal_gives_the_terminal_back_and_its_number() {
    let signals = [
        (Signal::HUP, 129),
        (Signal::INT, 130),
        (Signal::QUIT, 131),
        (Signal::TERM, 143),
    ];
    for (signal, code) in signals {
        let pty = started();
        pty.signal(signal);
        assert_eq!(pty.exit_code(), code, "{signal:?}");
        assert_restored(&pty);
    }
}

#[test]
fn a_program_that_does_not_listen_is_ended_all_the_same() {
    let mut pty = started();
    pty.send("\x1bOQ");
    wait_for_event(&pty, "Key(F2)");
    pty.signal(Signal::TERM);
    assert_eq!(pty.exit_code(), AFTER_TERM);
    assert_restored(&pty);
}

#[test]
fn the_message_of_a_panic_can_be_read_on_the_users_own_screen() {
    let mut pty = started();
    pty.send("\x02");
    assert_eq!(pty.exit_code(), AFTER_PANIC);
    assert_restored(&pty);
    let text = pty.text();
    assert!(text.contains("the trial fell over on purpose"), "{text}");
}

#[test]
fn a_stopped_program_gives_the_terminal_back_and_paints_anew_when_woken() {
    let pty = started();
    pty.signal(Signal::TSTP);
    pty.wait_until("the user's own screen", |screen| !screen.alternate_screen());
    pty.wait_until("the cursor", |screen| !screen.hide_cursor());
    pty.wait_until_stopped();
    pty.forget_raw();
    pty.signal(Signal::CONT);
    pty.wait_for("no event");
    pty.wait_for("room 80x24");
    pty.look(|screen| assert!(screen.alternate_screen() && screen.bracketed_paste()));
    pty.signal(Signal::TERM);
    assert_eq!(pty.exit_code(), AFTER_TERM);
    assert_restored(&pty);
}

#[test]
fn the_stop_key_hands_over_to_the_shell_and_comes_back() {
    let command = format!(
        "{}; echo asleep; read answer; fg; echo code $?",
        program().display()
    );
    let mut pty = shown(Launch::new("sh").arg("-mc").arg(command));
    pty.send("hop");
    pty.wait_for("hop");
    pty.send("\x1a");
    pty.wait_for("asleep");
    pty.look(|screen| assert!(!screen.alternate_screen()));
    pty.send("\n");
    pty.wait_until("the other screen", vt100::Screen::alternate_screen);
    pty.wait_for("hop");
    pty.send("\x1b[21~");
    pty.wait_for("code 0");
    assert_eq!(pty.exit_code(), 0);
    assert_restored(&pty);
}

#[test]
fn the_stop_key_does_nothing_where_no_shell_could_wake_the_program() {
    let mut pty = started();
    pty.send("\x1az");
    wait_for_event(&pty, "Char('z')");
    pty.look(|screen| assert!(screen.alternate_screen()));
}

#[test]
fn a_program_stopped_by_others_paints_anew_when_woken() {
    let pty = started();
    pty.signal(Signal::STOP);
    pty.forget_raw();
    pty.signal(Signal::CONT);
    pty.wait_for_raw(b"\x1b[?1049h");
    pty.wait_for_raw(b"no event");
}

#[test]
fn control_l_paints_every_cell_anew() {
    let mut pty = started();
    pty.forget_raw();
    pty.send("\x0c");
    pty.wait_for_raw(b"\x1b[2J");
    pty.wait_for_raw(b"room 80x24");
}

#[test]
fn a_terminal_that_goes_away_ends_the_program() {
    let mut pty = started();
    pty.hang_up("x");
    assert_eq!(pty.exit_code(), AFTER_HANGUP);
}

#[test]
fn a_terminal_that_goes_away_without_a_signal_ends_the_program() {
    let mut pty = shown(launch().uncontrolled());
    pty.hang_up("x");
    assert_eq!(pty.exit_code(), AFTER_HANGUP);
}

#[test]
fn a_terminal_that_takes_no_output_does_not_keep_the_program_from_ending() {
    let mut pty = shown(launch().size(250, 80));
    // A piece of the picture still comes through, hundreds of kilobytes do not.
    pty.stall_at("▀".as_bytes());
    pty.send("\x1bOS");
    pty.wait_for_raw("▀".as_bytes());
    pty.signal(Signal::TERM);
    assert_eq!(pty.exit_code(), AFTER_TERM);
}

#[test]
fn without_a_terminal_the_program_says_so_and_ends_with_2() {
    let command = format!(
        "{} </dev/null >/dev/null; echo code $?",
        program().display()
    );
    let pty = Launch::new("sh")
        .arg("-c")
        .arg(command)
        .uncontrolled()
        .size(200, 10)
        .start();
    pty.wait_for("code 2");
    let text = pty.text();
    assert!(text.contains("needs a terminal"), "{text}");
    assert!(!occurs(&pty.raw(), b"\x1b["), "nothing was drawn");
}

#[test]
fn a_dumb_terminal_is_refused_by_its_name() {
    let pty = launch().env("TERM", "dumb").size(200, 10).start();
    assert_eq!(pty.exit_code(), 2);
    assert!(pty.text().contains("TERM=dumb"), "{}", pty.text());
    assert!(!occurs(&pty.raw(), b"\x1b["), "nothing was drawn");
}

#[test]
fn a_resize_at_any_moment_is_followed() {
    let mut pty = started();
    for (columns, rows) in [(120, 40), (3, 2), (1, 1), (60, 20)] {
        pty.resize(columns, rows);
    }
    pty.wait_for("room 60x20");
    pty.wait_until("its corner", |screen| {
        screen
            .cell(19, 59)
            .is_some_and(|cell| cell.contents() == "#")
    });
    pty.resize(100, 30);
    pty.wait_for("room 100x30");
    pty.wait_until("one corner only", |screen| {
        screen.contents().matches('#').count() == 1
    });
}

#[test]
fn a_resize_before_the_first_picture_is_not_missed() {
    let mut pty = launch().start();
    pty.resize(90, 25);
    pty.wait_for("room 90x25");
}

#[test]
fn a_terminal_of_no_size_is_taken_for_80_by_24() {
    let pty = launch().size(0, 0).start();
    pty.wait_for("room 80x24");
}

#[test]
fn the_colours_are_as_many_as_the_terminal_has() {
    // Around 200, 100, 50 stand in xterm's cube, with their squared distances: 131 (175, 95, 95)
    // 2675, 130 (175, 95, 0) 3150, 167 (215, 95, 95) 2275, 166 (215, 95, 0) 2750.
    let cases = [
        ("xterm-256color", "truecolor", "38;2;200;100;50"),
        ("xterm-256color", "", "38;5;167"),
        ("xterm", "", "31"),
    ];
    for (term, colorterm, expected) in cases {
        let pty = shown(launch().env("TERM", term).env("COLORTERM", colorterm));
        let found = renditions(&pty.raw());
        let numbers = format!(";{};", found.join(";"));
        assert!(
            numbers.contains(&format!(";{expected};")),
            "{term}: {found:?}"
        );
        let deeper = [
            (";38;2;", colorterm.is_empty()),
            (";38;5;", term == "xterm"),
        ];
        for (sequence, is_too_deep) in deeper {
            assert!(
                !(is_too_deep && numbers.contains(sequence)),
                "{term}: {found:?}"
            );
        }
    }
}

#[test]
fn without_colours_effects_stay_and_no_bare_reset_touches_them() {
    let pty = shown(launch().env("NO_COLOR", "1"));
    let found = renditions(&pty.raw());
    for sequence in &found {
        assert!(!sequence.is_empty(), "a bare reset");
        for number in sequence.split(';') {
            // ECMA-48, 8.3.117: 1 to 9 begin effects, 22 to 29 end them; colours lie above.
            assert!(
                number.parse::<u8>().is_ok_and(|number| number < 30),
                "{sequence}"
            );
        }
    }
    let row = (0..24)
        .find(|row| row_text(&pty, *row).contains("strong"))
        .expect("it is shown");
    let column = |word: &str| row_text(&pty, row).find(word).expect("it is shown");
    let (strong, turned) = (column("strong"), column("turned"));
    pty.look(|screen| {
        let cell = |at: usize| {
            let column = u16::try_from(at).expect("a column is small");
            screen
                .cell(row, column)
                .expect("it is on the screen")
                .clone()
        };
        assert!(cell(strong).bold() && !cell(strong).inverse());
        assert!(cell(turned).inverse() && !cell(turned).bold());
        assert!(!cell(strong - 2).bold());
    });
}

/// A row, one character a cell, so that places in it are columns.
fn row_text(pty: &Pty, row: u16) -> String {
    pty.look(|screen| {
        (0..80)
            .map(|column| screen.cell(row, column).map_or("", vt100::Cell::contents))
            .map(|text| if text.len() == 1 { text } else { "?" })
            .collect()
    })
}

#[test]
fn without_utf8_everything_is_ascii() {
    let pty = shown(launch().env("LC_ALL", "C"));
    pty.wait_for("+ - ???? \"_#");
    assert!(pty.raw().is_ascii());
}

#[test]
fn with_utf8_the_signs_are_themselves() {
    let pty = started();
    pty.wait_for("½ – 麦芽 ▀▄█");
}

#[test]
fn hostile_text_moves_nothing_and_names_nothing() {
    let pty = started();
    pty.wait_for("behind it");
    let raw = pty.raw();
    assert!(!occurs(&raw, b"\x1b]0;"));
    for unseen in ["\u{202e}", "\u{fe0f}"] {
        assert!(!occurs(&raw, unseen.as_bytes()));
    }
    assert!(!occurs(&raw, b"\x07"));
    assert_eq!(count(&raw, b"\x1b[2J"), 1, "the wipe of the first picture");
}

#[test]
fn every_picture_is_shown_at_once() {
    let mut pty = started();
    pty.send("malt and hop");
    pty.wait_for("malt and hop");
    pty.send("\x1b[21~");
    assert_eq!(pty.exit_code(), 0);
    let raw = pty.raw();
    let text = String::from_utf8_lossy(&raw);
    let (_, pictures) = text.split_once("\x1b[?2026h").expect("there is a picture");
    for picture in pictures.split("\x1b[?2026h") {
        let (_, after) = picture
            .split_once("\x1b[?2026l")
            .expect("every picture ends");
        assert!(
            after.is_empty() || after.starts_with("\x1b[?2026l\x1b[0m"),
            "{after:?} is between pictures"
        );
    }
}

#[test]
fn a_running_stopwatch_is_drawn_by_itself() {
    let mut pty = started();
    pty.wait_for("ticks 0");
    pty.send("\x1bOR");
    pty.wait_for("ticks 3");
}

#[test]
fn the_window_is_named_safely_and_gets_its_own_name_back() {
    let mut pty = started();
    pty.send("x");
    pty.wait_for_raw("\x1b]2;trial ½\x07".as_bytes());
    pty.send("\x1b[21~");
    assert_eq!(pty.exit_code(), 0);
    let raw = pty.raw();
    assert!(occurs(&raw, b"\x1b[22;2t") && occurs(&raw, b"\x1b[23;2t"));
}
