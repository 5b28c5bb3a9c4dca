//! However it ends, stops or loses its terminal, the terminal is given back as it was.

use crate::program::assert_restored;
use crate::program::launch;
use crate::program::occurs;
use crate::program::program;
use crate::program::shown;
use crate::program::started;
use crate::program::wait_for_event;
use crate::pty::Launch;
use crate::pty::Signal;

/// The exit codes of signals: 128 and their numbers in POSIX `kill` (HUP 1, INT 2, QUIT 3, TERM 15).
const AFTER_HANGUP: u32 = 129;
const AFTER_TERM: u32 = 143;

/// What a Rust program that panicked exits with (documented in `std::process::ExitCode`).
const AFTER_PANIC: u32 = 101;

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
