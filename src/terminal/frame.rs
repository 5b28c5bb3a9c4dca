//! The bytes of one frame: what goes where in which colours, collected and sent at once.

use crate::terminal::Colour;
use crate::terminal::ColourDepth;
use crate::terminal::colour::Ground;

/// A way to set text apart without colour.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Effect {
    /// Heavier strokes.
    Bold,
    /// Paler strokes.
    Dim,
    /// Slanted.
    Italic,
    /// A line below.
    Underline,
    /// Going on and off.
    Blink,
    /// Front and back exchanged.
    Reverse,
    /// A line through.
    Strikethrough,
}

/// Every effect with the numbers that begin and end it (ECMA-48, 8.3.117).
const EFFECTS: [(Effect, &str, &str); 7] = [
    (Effect::Bold, "1", "22"),
    (Effect::Dim, "2", "22"),
    (Effect::Italic, "3", "23"),
    (Effect::Underline, "4", "24"),
    (Effect::Blink, "5", "25"),
    (Effect::Reverse, "7", "27"),
    (Effect::Strikethrough, "9", "29"),
];

/// Which effects are on, one bit each.
#[derive(Clone, Copy, Debug, Default, Eq, PartialEq)]
struct Effects(u8);

impl Effects {
    fn with(self, effect: Effect) -> Self {
        Self(self.0 | 1 << effect as u8)
    }

    fn without(self, effect: Effect) -> Self {
        Self(self.0 & !(1 << effect as u8))
    }

    fn has(self, effect: Effect) -> bool {
        self.0 & 1 << effect as u8 != 0
    }
}

/// How the next text looks.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
struct Pen {
    front: Colour,
    back: Colour,
    effects: Effects,
}

impl Pen {
    const PLAIN: Self = Self {
        front: Colour::Default,
        back: Colour::Default,
        effects: Effects(0),
    };
}

/// Collects the output between two refreshes; nothing reaches the terminal before [`Frame::take`].
#[derive(Debug)]
pub struct Frame {
    depth: ColourDepth,
    bytes: Vec<u8>,
    /// Where the next text goes; told to the terminal only when text follows.
    place: Option<(usize, usize)>,
    front: Colour,
    back: Colour,
    effects: Effects,
    title: Option<String>,
    /// What the terminal's pen is now; None when that is not known.
    pen: Option<Pen>,
}

impl Frame {
    /// An empty frame for a terminal of this depth whose pen is not known yet.
    #[must_use]
    pub fn new(depth: ColourDepth) -> Self {
        Self {
            depth,
            bytes: Vec::new(),
            place: None,
            front: Colour::Default,
            back: Colour::Default,
            effects: Effects::default(),
            title: None,
            pen: None,
        }
    }

    /// The next text goes to this cell, counted from 0.
    pub fn move_to(&mut self, column: usize, row: usize) {
        self.place = Some((column, row));
    }

    /// The next text has these colours, or the nearest there are.
    pub fn colours(&mut self, front: Colour, back: Colour) {
        self.front = front;
        self.back = back;
    }

    /// Begins an effect.
    pub fn begin(&mut self, effect: Effect) {
        self.effects = self.effects.with(effect);
    }

    /// Ends an effect.
    pub fn end(&mut self, effect: Effect) {
        self.effects = self.effects.without(effect);
    }

    /// Adds text, which must be free of control characters.
    pub fn print(&mut self, text: &str) {
        self.change_pen(self.wanted_pen(text));
        if let Some((column, row)) = self.place.take() {
            self.sequence(&format!("{};{}H", row + 1, column + 1));
        }
        self.bytes.extend_from_slice(text.as_bytes());
    }

    /// Fills the whole screen with a colour.
    pub fn clear(&mut self, colour: Colour) {
        let pen = Pen {
            back: colour.quantised(self.depth),
            ..Pen::PLAIN
        };
        self.change_pen(pen);
        self.sequence("2J");
    }

    /// Forgets what was collected and what is known of the pen, and wipes the screen first thing.
    pub fn start_over(&mut self) {
        self.bytes.clear();
        self.pen = None;
        self.clear(Colour::Default);
    }

    /// Names the window; the text must be free of control characters.
    pub fn title(&mut self, text: &str) {
        self.title = Some(text.to_owned());
    }

    /// Everything since the last time, wrapped so that the terminal shows it all at once; None if
    /// there is nothing to show.
    pub fn take(&mut self) -> Option<Vec<u8>> {
        self.place = None;
        let title = self
            .title
            .take()
            .map_or_else(String::new, |text| format!("\x1b]2;{text}\x07"));
        if self.bytes.is_empty() && title.is_empty() {
            return None;
        }
        let mut frame = format!("\x1b[?2026h{title}").into_bytes();
        frame.append(&mut self.bytes);
        frame.extend_from_slice(b"\x1b[?2026l");
        Some(frame)
    }

    fn sequence(&mut self, tail: &str) {
        self.bytes.extend_from_slice(b"\x1b[");
        self.bytes.extend_from_slice(tail.as_bytes());
    }

    /// Sends what differs between the terminal's pen and the wanted one.
    fn change_pen(&mut self, wanted: Pen) {
        let mut numbers = changes(self.pen.unwrap_or(Pen::PLAIN), wanted);
        if self.pen.is_none() {
            numbers.insert(0, "0".to_owned());
        }
        if !numbers.is_empty() {
            self.sequence(&format!("{}m", numbers.join(";")));
        }
        self.pen = Some(wanted);
    }

    /// The wanted pen in colours the terminal has.
    fn wanted_pen(&self, text: &str) -> Pen {
        let mut front = self.front.quantised(self.depth);
        let back = self.back.quantised(self.depth);
        // Few colours may make text and ground the same; a picture of blocks may be so.
        if front == back && self.front != self.back && front != Colour::Default && !is_picture(text)
        {
            front = back.opposite();
        }
        Pen {
            front,
            back,
            effects: self.effects,
        }
    }
}

/// Whether the text is made of spaces and block elements only.
fn is_picture(text: &str) -> bool {
    text.chars()
        .all(|sign| matches!(sign, ' ' | '\u{2580}'..='\u{259f}'))
}

/// The numbers that turn one pen into another.
fn changes(from: Pen, to: Pen) -> Vec<String> {
    let mut numbers: Vec<String> = Vec::new();
    let mut ended = String::new();
    for (effect, _, end) in EFFECTS {
        if from.effects.has(effect) && !to.effects.has(effect) && ended != end {
            end.clone_into(&mut ended);
            numbers.push(end.to_owned());
        }
    }
    // Bold and dim share the number that ends them, so the other one has to begin again.
    let both_ended = numbers.iter().any(|number| number == "22");
    for (effect, begin, end) in EFFECTS {
        let lost = both_ended && end == "22";
        if to.effects.has(effect) && (lost || !from.effects.has(effect)) {
            numbers.push(begin.to_owned());
        }
    }
    if from.front != to.front {
        numbers.push(to.front.rendition(Ground::Front));
    }
    if from.back != to.back {
        numbers.push(to.back.rendition(Ground::Back));
    }
    numbers
}

#[cfg(test)]
mod tests {
    use super::Effect;
    use super::Frame;
    use crate::terminal::Colour;
    use crate::terminal::ColourDepth;

    fn text_of(frame: &mut Frame) -> String {
        String::from_utf8(frame.take().unwrap_or_default()).expect("it is text")
    }

    /// A frame whose terminal's pen is known to be plain.
    fn settled(depth: ColourDepth) -> Frame {
        let mut frame = Frame::new(depth);
        frame.print(" ");
        let first = text_of(&mut frame);
        assert!(first.contains("\x1b[0m"), "{first:?}");
        frame
    }

    #[test]
    fn a_frame_is_wrapped_once_whatever_it_holds() {
        let mut frame = settled(ColourDepth::True);
        frame.move_to(4, 2);
        frame.print("malt");
        frame.move_to(0, 0);
        frame.print("hop");
        assert_eq!(
            text_of(&mut frame),
            "\x1b[?2026h\x1b[3;5Hmalt\x1b[1;1Hhop\x1b[?2026l"
        );
    }

    #[test]
    fn a_frame_without_text_sends_nothing() {
        let mut frame = settled(ColourDepth::True);
        frame.move_to(0, 0);
        frame.colours(Colour::Named(1), Colour::Default);
        assert_eq!(frame.take(), None);
    }

    #[test]
    fn ending_bold_leaves_dim_and_reverse_as_they_were() {
        let mut frame = settled(ColourDepth::True);
        for effect in [Effect::Bold, Effect::Dim, Effect::Reverse] {
            frame.begin(effect);
        }
        frame.print("a");
        assert!(text_of(&mut frame).contains("\x1b[1;2;7ma"));
        frame.end(Effect::Bold);
        frame.print("b");
        assert!(text_of(&mut frame).contains("\x1b[22;2mb"));
    }

    #[test]
    fn without_colours_no_sequence_speaks_of_colour_or_resets_its_neighbours() {
        let mut frame = settled(ColourDepth::Mono);
        frame.begin(Effect::Reverse);
        frame.colours(Colour::Rgb(9, 9, 9), Colour::Named(4));
        frame.print("x");
        frame.colours(Colour::Named(2), Colour::Rgb(8, 7, 6));
        frame.print("y");
        assert_eq!(text_of(&mut frame), "\x1b[?2026h\x1b[7mxy\x1b[?2026l");
    }

    #[test]
    fn text_that_would_vanish_in_its_ground_turns_black_or_white() {
        let mut frame = settled(ColourDepth::Sixteen);
        frame.colours(Colour::Rgb(200, 20, 20), Colour::Rgb(190, 30, 30));
        frame.print("word");
        assert!(text_of(&mut frame).contains("\x1b[97;41mword"));
        frame.print("▀");
        assert!(
            text_of(&mut frame).contains("\x1b[31m▀"),
            "a picture keeps its colours"
        );
    }

    #[test]
    fn starting_over_wipes_the_screen_and_sets_the_pen_anew() {
        let mut frame = settled(ColourDepth::True);
        frame.begin(Effect::Bold);
        frame.print("gone");
        frame.start_over();
        frame.print("kept");
        assert_eq!(
            text_of(&mut frame),
            "\x1b[?2026h\x1b[0m\x1b[2J\x1b[1mkept\x1b[?2026l"
        );
    }
}
