//! What is drawn fits the size, the colours and the signs of the terminal, and nothing hostile gets through.

use crate::program::count;
use crate::program::launch;
use crate::program::occurs;
use crate::program::shown;
use crate::program::started;
use crate::pty::Pty;

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
