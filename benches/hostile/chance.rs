//! Seeded chance, and what it does to a good text: flips, splices, repeats, magic numbers, nesting, long runs, odd signs.

/// Longest input but for the rare long ones, in bytes.
const USUAL_LENGTH: usize = 160_000;

/// Length of the rare long runs, in bytes.
const LONG: usize = 400_000;

/// Numbers that programs stumble over.
const NUMBERS: [&str; 24] = [
    "NaN",
    "nan",
    "inf",
    "-inf",
    "1e308",
    "-1e308",
    "1e-320",
    "-0",
    "-0.0",
    "0",
    "-1",
    "255",
    "256",
    "65536",
    "2147483648",
    "4294967296",
    "9223372036854775807",
    "9223372036854775808",
    "-9223372036854775808",
    "18446744073709551616",
    "1e999",
    "0x7fffffff",
    "0.1e-400",
    "99999999999999999999999999999999999999999",
];

/// Words and signs that mean something to a reader, a terminal or a spreadsheet.
const SIGNS: [&str; 56] = [
    "\u{1b}[2J",
    "\u{1b}]2;x\u{7}",
    "\u{9b}31m",
    "\u{202e}",
    "\u{2066}",
    "\u{200f}",
    "\u{200d}",
    "\u{feff}",
    "\u{0}",
    "\u{7}",
    "\u{8}",
    "\u{7f}",
    "\u{85}",
    "\u{2028}",
    "\u{301}\u{301}\u{301}",
    "e\u{301}",
    "\u{1f468}\u{200d}\u{1f469}",
    "漢字",
    "ﷺ",
    "İ",
    "ß",
    "\u{e000}",
    "\u{10ffff}",
    "\u{fffd}",
    "\r",
    "\n",
    "\r\n",
    "\t",
    "\"",
    "\"\"\"",
    "'",
    "'''",
    "\\",
    "\\u0000",
    "\\uD800",
    "\\x00",
    "=1+1",
    "@",
    ",",
    ";",
    "[",
    "[[",
    "]",
    "{",
    "}",
    "#",
    "<",
    ">",
    "&lt;",
    "&#0;",
    "&x;",
    "<![CDATA[",
    "]]>",
    "<!--",
    "<!DOCTYPE a [<!ENTITY x \"y\">]>",
    "..",
];

/// Places for nesting: how it opens and how it closes.
const NESTS: [(&str, &str); 6] = [
    ("[", "]"),
    ("{\"a\":", "}"),
    ("{a=", "}"),
    ("<a>", "</a>"),
    ("a.", ""),
    ("[[a.b]]\n", ""),
];

/// Chance from a seed: `SplitMix64` (Steele, Lea, Flood 2014, Fast splittable pseudorandom number generators).
#[derive(Debug, Clone)]
pub(crate) struct Chance(u64);

impl Chance {
    /// The chance of one input of one parser.
    pub(crate) fn of(seed: u64, parser: &str, number: u64) -> Self {
        let name = parser
            .bytes()
            .fold(seed, |it, byte| mixed(it ^ u64::from(byte)));
        Self(mixed(name).wrapping_add(mixed(number.wrapping_add(0x5851_f42d_4c95_7f2d))))
    }

    pub(crate) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        mixed(self.0)
    }

    /// A whole number below `most`; 0 if that is 0.
    pub(crate) fn below(&mut self, most: usize) -> usize {
        let drawn = self.next() % (most.max(1) as u64);
        usize::try_from(drawn).expect("it is below a usize")
    }

    /// Whether something comes about that does so once in `times`.
    pub(crate) fn once_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }

    /// One of several.
    pub(crate) fn one<T: Clone>(&mut self, of: &[T]) -> T {
        of[self.below(of.len())].clone()
    }

    /// One of the numbers that programs stumble over.
    pub(crate) fn number(&mut self) -> &'static str {
        self.one(&NUMBERS)
    }

    /// One of the signs that mean something to somebody.
    pub(crate) fn sign(&mut self) -> &'static str {
        self.one(&SIGNS)
    }

    /// One of the seeds, changed in up to eight places; once in fifty as it is.
    pub(crate) fn mutated(&mut self, seeds: &[Vec<u8>]) -> Vec<u8> {
        let mut bytes = self.one(seeds);
        if self.once_in(50) {
            return bytes;
        }
        for _ in 0..=self.below(4) * self.below(3) {
            self.change(&mut bytes, seeds);
        }
        bytes.truncate(USUAL_LENGTH);
        if self.once_in(1_000) {
            self.grow(&mut bytes, LONG);
        }
        bytes
    }

    /// The same as text; what is no UTF-8 became the sign for that.
    pub(crate) fn text(&mut self, seeds: &[Vec<u8>]) -> String {
        String::from_utf8_lossy(&self.mutated(seeds)).into_owned()
    }

    fn change(&mut self, bytes: &mut Vec<u8>, seeds: &[Vec<u8>]) {
        let (from, to) = self.part(bytes.len());
        match self.below(16) {
            0 | 1 => {
                if let Some(byte) = bytes.get_mut(from) {
                    *byte ^= 1 << self.below(8);
                }
            }
            2 => {
                let byte = u8::try_from(self.below(256)).unwrap_or(0);
                bytes.insert(from, byte);
            }
            3 => drop(bytes.drain(from..to)),
            4 => {
                let other = self.one(seeds);
                let (start, end) = self.part(other.len());
                drop(bytes.splice(from..to, other[start..end].iter().copied()));
            }
            5 => {
                // The beginning of one and the end of another.
                let other = self.one(seeds);
                let cut = self.below(other.len() + 1);
                bytes.truncate(from);
                bytes.extend_from_slice(&other[cut..]);
            }
            6 => {
                let part = bytes[from..to].repeat(2 + self.below(6));
                drop(bytes.splice(to..to, part));
            }
            7..=9 => self.put_number(bytes, from),
            10 | 11 => {
                let sign = self.sign();
                drop(bytes.splice(from..from, sign.bytes()));
            }
            12 => self.swap_lines(bytes),
            13 => self.put_text(bytes, from),
            14 if self.once_in(8) => {
                let most = 20_000;
                self.grow(bytes, most);
            }
            _ => {
                // A line or a cell twice, or gone: what stands between two line breaks.
                let (start, end) = line_at(bytes, from);
                if self.once_in(2) {
                    let line = bytes[start..end].to_vec();
                    drop(bytes.splice(end..end, line));
                } else {
                    drop(bytes.drain(start..end));
                }
            }
        }
    }

    /// Where a part begins and ends: mostly a short one.
    fn part(&mut self, length: usize) -> (usize, usize) {
        let from = self.below(length + 1);
        let longest = if self.once_in(4) { 2_000 } else { 40 };
        (from, (from + self.below(longest)).min(length))
    }

    /// A magic number in the place of the next number, or of whatever is there.
    fn put_number(&mut self, bytes: &mut Vec<u8>, from: usize) {
        let digit = |it: &u8| it.is_ascii_digit();
        let start = bytes[from..]
            .iter()
            .position(digit)
            .map_or(from, |it| from + it);
        let length = bytes[start..]
            .iter()
            .take_while(|it| digit(it) || **it == b'.')
            .count();
        let number = self.number();
        drop(bytes.splice(start..start + length, number.bytes()));
    }

    /// Odd signs in the place of the next text between quotes.
    fn put_text(&mut self, bytes: &mut Vec<u8>, from: usize) {
        let quote = |it: &u8| *it == b'"';
        let Some(start) = bytes[from..].iter().position(quote).map(|it| from + it + 1) else {
            return;
        };
        let length = bytes[start..].iter().position(quote).unwrap_or(0);
        let mut text = String::new();
        for _ in 0..self.below(4) {
            text += if self.once_in(2) {
                self.sign()
            } else {
                self.number()
            };
        }
        drop(bytes.splice(start..start + length, text.bytes()));
    }

    fn swap_lines(&mut self, bytes: &mut Vec<u8>) {
        let (at, to) = (self.below(bytes.len() + 1), self.below(bytes.len() + 1));
        let (start, end) = line_at(bytes, at);
        let line = bytes[start..end].to_vec();
        let place = line_at(bytes, to).0;
        drop(bytes.splice(place..place, line));
    }

    /// Deep nesting or a long run of one sign.
    fn grow(&mut self, bytes: &mut Vec<u8>, most: usize) {
        let at = self.below(bytes.len() + 1);
        let long = self.below(most);
        let run = if self.once_in(2) {
            let (opens, closes) = self.one(&NESTS);
            let deep = long / (opens.len() + closes.len());
            let closed = if self.once_in(2) {
                closes.repeat(deep)
            } else {
                String::new()
            };
            opens.repeat(deep) + &closed
        } else {
            let sign = self.sign();
            sign.repeat(long / sign.len())
        };
        drop(bytes.splice(at..at, run.into_bytes()));
    }
}

/// The line around a place, with its line break.
fn line_at(bytes: &[u8], at: usize) -> (usize, usize) {
    let at = at.min(bytes.len());
    let start = bytes[..at]
        .iter()
        .rposition(|it| *it == b'\n')
        .map_or(0, |it| it + 1);
    let end = bytes[at..]
        .iter()
        .position(|it| *it == b'\n')
        .map_or(bytes.len(), |it| at + it + 1);
    (start, end)
}

const fn mixed(mut it: u64) -> u64 {
    it = (it ^ (it >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    it = (it ^ (it >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    it ^ (it >> 31)
}
