//! A walk through the app in which every picture is kept.

use crate::heard::Heard;
use crate::kitchen::Kitchen;
use crate::pty::Pty;
use crate::walls;

/// A walk through the app, in which every picture is kept.
pub(crate) struct Walk {
    pub(crate) pty: Pty,
    pub(crate) heard: Vec<Heard>,
    pub(crate) on_the_wheel: bool,
}

impl Walk {
    pub(crate) fn start(kitchen: &Kitchen, arguments: &[&str], first: &str) -> Self {
        let pty = walls::launch(kitchen, arguments).start();
        let mut walk = Self {
            pty,
            heard: Vec::new(),
            on_the_wheel: false,
        };
        walk.look(first);
        walk
    }

    /// Presses a key and keeps the picture that answers; `text` must be in it.
    pub(crate) fn press(&mut self, key: &str, text: &str) {
        self.pty.forget_raw();
        self.pty.send(key);
        self.look(text);
    }

    pub(crate) fn look(&mut self, text: &str) {
        self.pty.wait_for_picture(text);
        // The bytes hold what is on no screen: the title of the window, and what was drawn over.
        let bytes = String::from_utf8_lossy(&self.pty.raw()).into_owned();
        for text in [self.pty.text(), bytes] {
            self.heard.push(Heard {
                on_the_wheel: self.on_the_wheel,
                ..Heard::new(
                    format!("the picture with “{}”:\n{text}", first_line(&text)),
                    &text,
                )
            });
        }
        self.heard.extend(walls::process(&self.pty));
    }

    /// Chooses a line by its digit, or by a click where it has none.
    pub(crate) fn choose(&mut self, line: &str, text: &str) {
        let screen = self.pty.text();
        let found = screen.lines().enumerate().find(|(_, it)| it.contains(line));
        let (row, found) = found.expect("the line is on the screen");
        match found.trim().chars().next().filter(char::is_ascii_digit) {
            Some(digit) => self.press(&digit.to_string(), text),
            None => self.press(&format!("\x1b[<0;10;{}M", row + 1), text),
        }
    }

    pub(crate) fn explain(&mut self, text: &str) {
        self.press(HELP, "");
        self.scroll("");
        assert!(self.pty.text().contains("Any key goes on."));
        self.press(ESC, text);
    }

    /// Every page that shows something of a batch or of notes, from the first screen and back.
    pub(crate) fn pages(&mut self) {
        self.choose("Batches", "T1");
        self.explain("T1");
        self.press("\r", "Batch T1");
        self.explain("Batch T1");
        self.press("a", "Log of T1");
        self.press(ESC, "Batch T1");
        self.press("z", "the batch T1 was not removed");
        self.press("o", "On paper");
        self.press(DOWN, "On paper");
        self.press(DOWN, "On paper");
        self.press(ESC, "Batch T1");
        self.press("f", "hotograph");
        if !self.pty.text().contains("is sealed until") {
            self.press(ESC, "Batch T1");
        }
        self.press("\r", "side by side");
        self.explain("side by side");
        self.scroll("side by side");
        self.press(ESC, "Batch T1");
        self.press(ESC, "Batches");
        self.press(ESC, "Taste what you brewed");
        self.choose("Notes", "Cleo");
        self.explain("Cleo");
        let rows = self.pty.text().matches(" T1 ").count();
        for row in 0..rows {
            if row > 0 {
                self.press(DOWN, "Cleo");
            }
            self.notes();
        }
        self.press("p", "Ben");
        self.everything();
        self.press(ESC, "Cleo");
        self.press(ESC, "Taste what you brewed");
    }

    /// The page of everything of this home, and what was removed; from the list of tasters and back.
    pub(crate) fn everything(&mut self) {
        self.press("e", "What was removed");
        self.explain("What was removed");
        self.choose("What was removed", "What was removed");
        self.explain("What was removed");
        self.press(ESC, "What was removed");
        self.press(ESC, "Ben");
    }

    /// The chosen notes, the second sniff after them, and the plan beside them.
    fn notes(&mut self) {
        self.press("\r", "found in T1");
        self.explain("found in T1");
        self.second_sniff();
        self.scroll("found in T1");
        if self.pty.text().contains("Enter opens the plan") {
            self.press("\r", "side by side");
            self.press(ESC, "found in T1");
        } else {
            // While the plan is sealed the same key tells no more than before.
            self.pty.send("\r");
        }
        self.press(ESC, "Cleo");
    }

    /// A second sniff asks for words of the plan: while that is sealed, its key refuses and no more.
    fn second_sniff(&mut self) {
        let found = self.pty.text();
        if found.contains("Your notes are locked.") {
            self.press("r", "the second sniff of “T1” is sealed until");
            // The next key takes the sentence away.
            self.explain("found in T1");
        } else if found.contains("r second sniff") {
            self.press("r", "Word 1 of ");
            self.explain("Word 1 of ");
            self.press(ESC, "found in T1");
        }
    }

    /// To the end of a page that may be longer than the screen.
    fn scroll(&mut self, text: &str) {
        while self.pty.text().contains("more lines: PgDn") {
            self.press("\x1b[6~", text);
        }
    }

    pub(crate) fn end(self) -> Vec<Heard> {
        self.heard
    }
}

fn first_line(text: &str) -> &str {
    text.lines().next().unwrap_or_default().trim()
}

pub(crate) const ESC: &str = "\x1b";
/// F1, which explains where letters are typed too.
const HELP: &str = "\x1bOP";
pub(crate) const DOWN: &str = "\x1b[B";
pub(crate) const RIGHT: &str = "\x1b[C";
