//! Keys, bursts, pastes and the mouse arrive as what they are.

use crate::program::count;
use crate::program::occurs;
use crate::program::started;
use crate::program::wait_for_event;

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
