//! Bytes in, keys, mouse and pasted text out; never waits and never gives up on a broken sequence.
//!
//! Own code: a ready-made reader lost what exceeded its buffer until the next key, and turned in
//! circles once the terminal was gone.

use std::collections::VecDeque;
use std::str;
use std::time::Duration;

use crate::terminal::Input;
use crate::terminal::Key;
use crate::terminal::Modifiers;
use crate::terminal::mouse::Stroke;
use crate::terminal::mouse::report;

const ESCAPE: u8 = 0x1b;
const PASTE_BEGINS: &[u8] = b"\x1b[200~";
const PASTE_ENDS: &[u8] = b"\x1b[201~";

/// What ends a string of the terminal's own: either of these (`xterm` control sequences).
const BELL: u8 = 0x07;
const STRING_ENDS: &[u8] = b"\x1b\\";

/// No key sequence is longer; what is, is rubbish. Judgement.
const LONGEST_SEQUENCE: usize = 64;

/// How long the rest of a key sequence may take before what came counts as all. Judgement: longer
/// than a slow connection tears a sequence apart, shorter than anybody notices after Esc.
const PATIENCE: Duration = Duration::from_millis(30);

/// How long a paste may pause before it counts as over. Judgement.
const PASTE_PATIENCE: Duration = Duration::from_millis(500);

/// What the first bytes mean.
enum Step {
    /// Not decided before more bytes come.
    Wait,
    /// This many bytes are done with; they may have meant something.
    Took(usize, Option<Input>),
}

/// Turns the bytes of a terminal into input.
#[derive(Debug, Default)]
pub(super) struct Decoder {
    pending: Vec<u8>,
    ready: VecDeque<Input>,
}

impl Decoder {
    /// Takes bytes as they come, in pieces of any size.
    pub(super) fn advance(&mut self, bytes: &[u8]) {
        let known = self.pending.len();
        self.pending.extend_from_slice(bytes);
        if still_open(&self.pending, known) {
            return;
        }
        let mut done = 0;
        while let Step::Took(count, input) = step(&self.pending[done..]) {
            self.ready.extend(input);
            done += count;
        }
        self.pending.drain(..done);
    }

    /// The next input, if one is complete.
    pub(super) fn next(&mut self) -> Option<Input> {
        self.ready.pop_front()
    }

    /// Whether [`Decoder::next`] has something to give.
    pub(super) fn has_input(&self) -> bool {
        !self.ready.is_empty()
    }

    /// How long to wait for the rest of what has begun; None if nothing has.
    pub(super) fn patience(&self) -> Option<Duration> {
        if self.pending.is_empty() {
            None
        } else if self.pending.starts_with(PASTE_BEGINS) {
            Some(PASTE_PATIENCE)
        } else {
            Some(PATIENCE)
        }
    }

    /// Nothing more came in time: what has begun is all there is.
    pub(super) fn settle(&mut self) {
        let pending = std::mem::take(&mut self.pending);
        if let Some(text) = pending.strip_prefix(PASTE_BEGINS) {
            self.ready.push_back(paste(text));
            return;
        }
        match pending.as_slice() {
            [ESCAPE] => self.ready.push_back(Input::plain(Key::Escape)),
            [ESCAPE, ESCAPE] => self
                .ready
                .extend([Input::plain(Key::Escape), Input::plain(Key::Escape)]),
            [ESCAPE, sign] => self
                .ready
                .push_back(Input::plain(Key::Char(char::from(*sign))).with_alt()),
            _ => {}
        }
    }
}

/// Whether a paste or a string that had begun in the first `known` bytes does not end in what came behind them. Only
/// that part is looked at: a long paste comes in thousands of pieces.
fn still_open(pending: &[u8], known: usize) -> bool {
    let new = |overlap: usize| &pending[known.saturating_sub(overlap)..];
    let ends = |new: &[u8], end: &[u8]| new.windows(end.len()).any(|it| it == end);
    let (begun, _) = pending.split_at(known);
    if begun.starts_with(PASTE_BEGINS) {
        return !ends(new(PASTE_ENDS.len() - 1), PASTE_ENDS);
    }
    matches!(begun, [ESCAPE, b']' | b'P' | b'_' | b'^' | b'X', ..])
        && !ends(new(0), &[BELL])
        && !ends(new(1), STRING_ENDS)
}

/// All that bytes mean which came in these pieces, with nothing after them.
pub fn decoded<'a>(pieces: impl IntoIterator<Item = &'a [u8]>) -> Vec<Input> {
    let mut decoder = Decoder::default();
    for piece in pieces {
        decoder.advance(piece);
    }
    decoder.settle();
    decoder.ready.into()
}

/// Looks at the first bytes; the answer does not depend on how they were cut into pieces.
fn step(bytes: &[u8]) -> Step {
    match bytes.first() {
        None => Step::Wait,
        Some(&ESCAPE) => escape(bytes),
        Some(&byte) if byte < 0x20 || byte == 0x7f => Step::Took(1, Some(control(byte))),
        Some(&byte) => character(bytes, byte),
    }
}

/// A control byte: the key with Control that makes it, or a key of its own.
fn control(byte: u8) -> Input {
    let with_control = |sign: u8| Input::key(Key::Char(char::from(sign)), Modifiers::CONTROL);
    match byte {
        0 => with_control(b' '),
        // Either byte may be behind the key, depending on the terminal's settings.
        0x08 | 0x7f => Input::plain(Key::Backspace),
        b'\t' => Input::plain(Key::Tab),
        b'\r' | b'\n' => Input::plain(Key::Enter),
        0x01..=0x1a => with_control(byte - 1 + b'a'),
        _ => with_control(byte + 0x40),
    }
}

/// A character in UTF-8; a byte that cannot be part of one is dropped.
fn character(bytes: &[u8], first: u8) -> Step {
    let length = match first {
        0x20..=0x7e => 1,
        0xc2..=0xdf => 2,
        0xe0..=0xef => 3,
        0xf0..=0xf4 => 4,
        _ => return Step::Took(1, None),
    };
    let here = &bytes[..length.min(bytes.len())];
    match str::from_utf8(here) {
        Ok(text) => {
            let sign = text.chars().next().filter(|sign| !sign.is_control());
            Step::Took(length, sign.map(|sign| Input::plain(Key::Char(sign))))
        }
        Err(error) if error.error_len().is_none() => Step::Wait,
        Err(_) => Step::Took(1, None),
    }
}

/// A sequence that begins with the escape byte, or the key of that name.
fn escape(bytes: &[u8]) -> Step {
    match bytes.get(1) {
        None => Step::Wait,
        Some(b'[') => control_sequence(bytes),
        Some(b'O') => match bytes.get(2) {
            None => Step::Wait,
            Some(&last) => Step::Took(3, single_shift(last)),
        },
        Some(b']' | b'P' | b'_' | b'^' | b'X') => control_string(bytes),
        Some(&ESCAPE) => match bytes.get(2) {
            None => Step::Wait,
            // Nobody pastes with Alt: the first byte is the key, and the paste stands by itself.
            Some(_) if bytes[1..].starts_with(PASTE_BEGINS) => {
                Step::Took(1, Some(Input::plain(Key::Escape)))
            }
            // Some terminals say Alt with an arrow by a second escape byte.
            Some(b'[' | b'O') => after_escape(bytes),
            Some(_) => Step::Took(1, Some(Input::plain(Key::Escape))),
        },
        Some(_) => after_escape(bytes),
    }
}

/// The escape byte in front of anything else means Alt.
fn after_escape(bytes: &[u8]) -> Step {
    match step(&bytes[1..]) {
        Step::Wait => Step::Wait,
        Step::Took(count, input) => Step::Took(count + 1, input.map(Input::with_alt)),
    }
}

/// A string the terminal sends by itself, up to its end; nothing in it is meant as keys.
fn control_string(bytes: &[u8]) -> Step {
    // In one pass to the first end of either kind: looking through all that follows for the other kind, string by string,
    // would make many short ones take seconds.
    let ends = bytes.iter().enumerate().find_map(|(at, byte)| {
        if *byte == BELL {
            return Some(at + 1);
        }
        let both = bytes[at..].starts_with(STRING_ENDS);
        both.then_some(at + STRING_ENDS.len())
    });
    ends.map_or(Step::Wait, |end| Step::Took(end, None))
}

/// A sequence `ESC [ numbers final`, with the exceptions that history left.
fn control_sequence(bytes: &[u8]) -> Step {
    match bytes.get(2) {
        None => return Step::Wait,
        // The Linux console: ESC [ [ A to E are F1 to F5.
        Some(b'[') => {
            return match bytes.get(3) {
                None => Step::Wait,
                Some(&last @ b'A'..=b'E') => {
                    Step::Took(4, Some(Input::plain(Key::Function(last - b'A' + 1))))
                }
                Some(_) => Step::Took(3, None),
            };
        }
        Some(b'M') => return old_mouse(bytes),
        Some(_) => {}
    }
    for (at, byte) in bytes.iter().enumerate().take(LONGEST_SEQUENCE).skip(2) {
        match byte {
            0x20..=0x3f => {}
            0x40..=0x7e => return finished_sequence(bytes, at),
            // A byte that has no place here: drop what came before, look at it afresh.
            _ => return Step::Took(at, None),
        }
    }
    if bytes.len() >= LONGEST_SEQUENCE {
        Step::Took(LONGEST_SEQUENCE, None)
    } else {
        Step::Wait
    }
}

/// A mouse report of three raw bytes, from terminals that know no other.
fn old_mouse(bytes: &[u8]) -> Step {
    let Some(raw) = bytes.get(3..6) else {
        return Step::Wait;
    };
    let [code, column, row] =
        [raw[0], raw[1], raw[2]].map(|byte| u16::from(byte).saturating_sub(32));
    Step::Took(6, report(code, column, row, Stroke::Down).map(Input::Mouse))
}

/// A whole sequence whose last byte stands at `end`.
fn finished_sequence(bytes: &[u8], end: usize) -> Step {
    if bytes.starts_with(PASTE_BEGINS) {
        let text = &bytes[PASTE_BEGINS.len()..];
        return match text
            .windows(PASTE_ENDS.len())
            .position(|window| window == PASTE_ENDS)
        {
            None => Step::Wait,
            Some(length) => {
                let count = PASTE_BEGINS.len() + length + PASTE_ENDS.len();
                Step::Took(count, Some(paste(&text[..length])))
            }
        };
    }
    Step::Took(end + 1, sequence_input(&bytes[2..end], bytes[end]))
}

/// The meaning of a sequence; None for answers, focus reports and keys nobody knows.
fn sequence_input(parameters: &[u8], last: u8) -> Option<Input> {
    if let Some(mouse) = parameters.strip_prefix(b"<") {
        let [code, column, row] = numbers(mouse)?.try_into().ok()?;
        let stroke = match last {
            b'M' => Stroke::Down,
            b'm' => Stroke::Up,
            _ => return None,
        };
        return report(code, column, row, stroke).map(Input::Mouse);
    }
    let numbers = numbers(parameters)?;
    let modifiers = numbers
        .get(1)
        .map_or(Modifiers::NONE, |number| Modifiers::from_parameter(*number));
    let key = match last {
        b'~' => numbered_key(*numbers.first()?)?,
        b'Z' => Key::BackTab,
        // Anything but 1 in front is an answer, such as the place of the cursor.
        _ if numbers.first() == Some(&1) => lettered_key(last)?,
        _ => return None,
    };
    Some(Input::key(key, modifiers))
}

/// Numbers between semicolons; a missing one is 1, as xterm has it.
fn numbers(text: &[u8]) -> Option<Vec<u16>> {
    let text = str::from_utf8(text).ok()?;
    text.split(';')
        .map(|part| {
            if part.is_empty() {
                Some(1)
            } else {
                part.parse().ok()
            }
        })
        .collect()
}

/// The key of `ESC [ number ~` (xterm, VT220 and rxvt).
fn numbered_key(number: u16) -> Option<Key> {
    let function = |offset: u16| u8::try_from(number - offset).ok().map(Key::Function);
    match number {
        1 | 7 => Some(Key::Home),
        2 => Some(Key::Insert),
        3 => Some(Key::Delete),
        4 | 8 => Some(Key::End),
        5 => Some(Key::PageUp),
        6 => Some(Key::PageDown),
        11..=15 => function(10),
        17..=21 => function(11),
        23..=26 => function(12),
        28 | 29 => function(13),
        31..=34 => function(14),
        _ => None,
    }
}

/// The key of `ESC [ letter` and `ESC O letter`.
fn lettered_key(letter: u8) -> Option<Key> {
    Some(match letter {
        b'A' => Key::Up,
        b'B' => Key::Down,
        b'C' => Key::Right,
        b'D' => Key::Left,
        b'E' => Key::Centre,
        b'F' => Key::End,
        b'H' => Key::Home,
        b'P'..=b'S' => Key::Function(letter - b'P' + 1),
        _ => return None,
    })
}

/// The key of `ESC O letter`: arrows, F1 to F4, and the keypad in its application mode.
fn single_shift(letter: u8) -> Option<Input> {
    let key = match letter {
        b'M' => Key::Enter,
        // VT220 keypad: the byte is the sign it stands for, moved up by 64.
        b'j'..=b'y' => Key::Char(char::from(letter - 64)),
        _ => lettered_key(letter)?,
    };
    Some(Input::plain(key))
}

/// Pasted bytes as text with line feeds, whatever ends the lines of the sender.
fn paste(bytes: &[u8]) -> Input {
    let text = String::from_utf8_lossy(bytes);
    Input::Paste(text.replace("\r\n", "\n").replace('\r', "\n"))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::Decoder;
    use crate::terminal::Input;
    use crate::terminal::Key;
    use crate::terminal::Modifiers;

    fn decoded(bytes: &[u8]) -> Vec<Input> {
        let mut decoder = Decoder::default();
        decoder.advance(bytes);
        drained(&mut decoder)
    }

    fn settled(bytes: &[u8]) -> Vec<Input> {
        let mut decoder = Decoder::default();
        decoder.advance(bytes);
        decoder.settle();
        assert_eq!(decoder.patience(), None);
        drained(&mut decoder)
    }

    fn drained(decoder: &mut Decoder) -> Vec<Input> {
        std::iter::from_fn(|| decoder.next()).collect()
    }

    fn key(key: Key) -> Input {
        Input::plain(key)
    }

    fn held(key: Key, modifiers: Modifiers) -> Input {
        Input::key(key, modifiers)
    }

    // Sequences from "XTerm Control Sequences" (PC-style and VT220-style function keys) and, where
    // named, from the terminfo entries `linux` and `rxvt`.

    #[test]
    fn keys_of_xterm_have_their_names() {
        let cases: [(&[u8], Key); 14] = [
            (b"a", Key::Char('a')),
            ("é".as_bytes(), Key::Char('é')),
            ("🍺".as_bytes(), Key::Char('🍺')),
            (b"\r", Key::Enter),
            (b"\x7f", Key::Backspace),
            (b"\x1b[A", Key::Up),
            (b"\x1bOB", Key::Down),
            (b"\x1b[H", Key::Home),
            (b"\x1b[3~", Key::Delete),
            (b"\x1bOP", Key::Function(1)),
            (b"\x1b[15~", Key::Function(5)),
            (b"\x1b[24~", Key::Function(12)),
            (b"\x1b[Z", Key::BackTab),
            (b"\x1bOM", Key::Enter),
        ];
        for (bytes, expected) in cases {
            assert_eq!(decoded(bytes), [key(expected)], "{bytes:?}");
        }
    }

    #[test]
    fn keys_of_the_linux_console_and_rxvt_are_known() {
        assert_eq!(decoded(b"\x1b[[E"), [key(Key::Function(5))]);
        assert_eq!(decoded(b"\x1b[7~\x1b[8~"), [key(Key::Home), key(Key::End)]);
        assert_eq!(decoded(b"\x1b\x1b[A"), [held(Key::Up, Modifiers::ALT)]);
    }

    #[test]
    fn function_keys_above_twelve_are_read_as_what_they_are() {
        assert_eq!(
            decoded(b"\x1b[25~\x1b[34~"),
            [key(Key::Function(13)), key(Key::Function(20))]
        );
    }

    #[test]
    fn keys_held_down_come_along() {
        assert_eq!(decoded(b"\x01"), [held(Key::Char('a'), Modifiers::CONTROL)]);
        assert_eq!(decoded(b"\x1bq"), [held(Key::Char('q'), Modifiers::ALT)]);
        let both = Modifiers::CONTROL.and(Modifiers::ALT);
        assert_eq!(decoded(b"\x1b\x11"), [held(Key::Char('q'), both)]);
        assert_eq!(
            decoded(b"\x1b[1;5C"),
            [held(Key::Right, Modifiers::CONTROL)]
        );
        assert_eq!(decoded(b"\x1b[3;2~"), [held(Key::Delete, Modifiers::SHIFT)]);
    }

    #[test]
    fn a_lone_escape_waits_for_company_and_then_is_the_key() {
        assert_eq!(decoded(b"\x1b"), []);
        assert_eq!(settled(b"\x1b"), [key(Key::Escape)]);
        assert_eq!(settled(b"\x1b\x1b"), [key(Key::Escape), key(Key::Escape)]);
        assert_eq!(settled(b"\x1b["), [held(Key::Char('['), Modifiers::ALT)]);
        assert_eq!(settled(b"\x1b]"), [held(Key::Char(']'), Modifiers::ALT)]);
    }

    #[test]
    fn a_sequence_that_never_ends_is_forgotten() {
        assert_eq!(settled(b"\x1b[1;"), []);
        let mut long = b"\x1b[".to_vec();
        long.extend([b'1'; 200]);
        long.extend(b"~\rz");
        let found = decoded(&long);
        assert_eq!(found.last(), Some(&key(Key::Char('z'))));
    }

    #[test]
    fn a_broken_sequence_does_not_swallow_the_key_after_it() {
        assert_eq!(decoded(b"\x1b[1\x1b[A"), [key(Key::Up)]);
        assert_eq!(
            decoded(b"\xe2\x82x\xffy"),
            [key(Key::Char('x')), key(Key::Char('y'))]
        );
    }

    #[test]
    fn what_the_terminal_says_by_itself_is_no_key() {
        assert_eq!(decoded(b"\x1b]11;rgb:0000/0000/0000\x07"), []);
        assert_eq!(
            decoded(b"\x1bP1$r0m\x1b\\\x1b[?62;4c\x1b[I\x1b[O\x1b[12;40R"),
            []
        );
        assert_eq!(
            decoded("\u{85}".as_bytes()),
            [],
            "a control character beyond ASCII"
        );
    }

    #[test]
    fn pasted_text_is_one_input_whatever_is_in_it() {
        let bytes = "\x1b[200~quit q\x1b[A\r\nliquid é\rend\x1b[201~x".as_bytes();
        let expected = Input::Paste("quit q\x1b[A\nliquid é\nend".to_owned());
        assert_eq!(decoded(bytes), [expected, key(Key::Char('x'))]);
    }

    #[test]
    fn a_paste_of_megabytes_in_thousands_of_pieces_arrives_whole() {
        // Were every piece looked at together with all before it, this would take hours.
        let text = "x".repeat(64 << 20);
        let mut decoder = Decoder::default();
        decoder.advance(b"\x1b[200~");
        for piece in text.as_bytes().chunks(1_024) {
            decoder.advance(piece);
        }
        for byte in b"\x1b[201~q" {
            decoder.advance(&[*byte]);
        }
        let inputs = drained(&mut decoder);
        assert!(inputs == [Input::Paste(text), key(Key::Char('q'))]);
    }

    #[test]
    fn a_paste_whose_end_is_lost_is_delivered_as_far_as_it_came() {
        assert_eq!(settled(b"\x1b[200~hop"), [Input::Paste("hop".to_owned())]);
    }

    #[test]
    fn a_paste_behind_a_lone_escape_stands_by_itself_and_its_pieces_are_not_read_again_and_again() {
        let escape = key(Key::Escape);
        let pasted = || Input::Paste("hop".to_owned());
        let whole = b"\x1b\x1b[200~hop\x1b[201~";
        assert_eq!(decoded(whole), [escape.clone(), pasted()]);
        assert_eq!(settled(b"\x1b\x1b[200~hop"), [escape.clone(), pasted()]);
        // Were every piece looked at together with all before it, this would take hours.
        let text = "x".repeat(64 << 20);
        let mut decoder = Decoder::default();
        decoder.advance(b"\x1b\x1b[200~");
        for piece in text.as_bytes().chunks(1_024) {
            decoder.advance(piece);
        }
        decoder.advance(b"\x1b[201~");
        assert!(drained(&mut decoder) == [escape, Input::Paste(text)]);
    }

    #[test]
    fn many_short_strings_of_the_terminal_are_not_searched_to_the_end_of_all_each() {
        // Were every one looked through for the other kind of end, this would take minutes.
        for end in ["\x1b\\", "\x07"] {
            let strings = format!("\x1b]0;x{end}").repeat(1 << 20);
            assert_eq!(
                decoded(format!("{strings}q").as_bytes()),
                [key(Key::Char('q'))]
            );
        }
    }

    #[test]
    fn mouse_reports_of_both_forms_are_read_whole() {
        assert!(
            matches!(decoded(b"\x1b[<0;5;7M")[..], [Input::Mouse(report)] if (report.column, report.row) == (4, 6))
        );
        assert!(
            matches!(decoded(b"\x1b[M %'")[..], [Input::Mouse(report)] if (report.column, report.row) == (4, 6))
        );
    }

    #[test]
    fn ten_thousand_keys_in_one_piece_all_arrive() {
        assert_eq!(decoded(&[b'a'; 10_000]).len(), 10_000);
    }

    /// Bytes that look like a terminal's more often than chance would have it.
    fn likely_bytes() -> impl Strategy<Value = Vec<u8>> {
        let piece = prop_oneof![
            any::<u8>().prop_map(|byte| vec![byte]),
            Just(b"\x1b".to_vec()),
            Just(b"\x1b[".to_vec()),
            Just(b"\x1b[200~".to_vec()),
            Just(b"\x1b[201~".to_vec()),
            Just(b"\x1b[<0;3;4M".to_vec()),
            Just("½".as_bytes().to_vec()),
        ];
        proptest::collection::vec(piece, 0..40).prop_map(|pieces| pieces.concat())
    }

    proptest! {
        #[test]
        fn the_pieces_in_which_bytes_arrive_do_not_matter(
            bytes in likely_bytes(),
            cuts in proptest::collection::vec(1_usize..9, 1..40),
        ) {
            let mut decoder = Decoder::default();
            let mut rest = bytes.as_slice();
            for cut in cuts {
                let (piece, later) = rest.split_at(cut.min(rest.len()));
                decoder.advance(piece);
                rest = later;
            }
            decoder.advance(rest);
            prop_assert_eq!(drained(&mut decoder), decoded(&bytes));
        }

        #[test]
        fn after_any_bytes_and_a_pause_a_key_is_a_key(bytes in likely_bytes()) {
            let mut decoder = Decoder::default();
            decoder.advance(&bytes);
            decoder.settle();
            drained(&mut decoder);
            decoder.advance(b"k");
            prop_assert_eq!(drained(&mut decoder), [key(Key::Char('k'))]);
        }
    }
}
