//! The typeface that is printed and embedded, an openly licensed one, and how wide its letters are.

use std::sync::LazyLock;

use skrifa::FontRef;
use skrifa::MetadataProvider;
use skrifa::instance::LocationRef;
use skrifa::instance::Size;

use crate::drawing::InstalledFace;

/// How heavy letters are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Weight {
    /// As usual.
    #[default]
    Plain,
    /// Bold.
    Bold,
}

/// One of the faces that together print a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Face {
    /// Latin, Greek and Cyrillic letters.
    Plain,
    /// The same, bold.
    Bold,
    /// Signs of arithmetic and arrows.
    Arithmetic,
    /// Boxes, circles and other signs.
    Signs,
    /// A font of this computer, for signs that none of the others has.
    Installed(InstalledFace),
}

/// A piece of a text that one face can print.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FaceRun<'a> {
    /// The face.
    pub face: Face,
    /// The piece.
    pub text: &'a str,
}

/// From one base line to the next, in letter sizes. Judgement.
pub const LINE_PITCH: f64 = 1.3;

static FACES: LazyLock<[Option<FontRef<'static>>; 4]> = LazyLock::new(|| {
    let all = [Face::Plain, Face::Bold, Face::Arithmetic, Face::Signs];
    all.map(|it| FontRef::new(it.bytes()).ok())
});

impl Face {
    /// The font file.
    #[must_use]
    pub const fn bytes(self) -> &'static [u8] {
        match self {
            Self::Plain => include_bytes!("typeface/NotoSans-Regular.ttf"),
            Self::Bold => include_bytes!("typeface/NotoSans-Bold.ttf"),
            Self::Arithmetic => include_bytes!("typeface/NotoSansMath-Regular.ttf"),
            Self::Signs => include_bytes!("typeface/NotoSansSymbols2-Regular.ttf"),
            Self::Installed(face) => face.bytes(),
        }
    }

    /// Which font of the file, where it holds several.
    #[must_use]
    pub const fn index(self) -> u32 {
        match self {
            Self::Installed(face) => face.index(),
            _ => 0,
        }
    }

    fn font(self) -> Option<FontRef<'static>> {
        let at = match self {
            Self::Plain => 0,
            Self::Bold => 1,
            Self::Arithmetic => 2,
            Self::Signs => 3,
            Self::Installed(face) => return face.font(),
        };
        FACES[at].clone()
    }

    /// The advance of a sign in letter sizes; none where the face does not have it.
    fn advance(self, sign: char) -> Option<f64> {
        let font = self.font()?;
        let glyph = font.charmap().map(sign)?;
        // At one unit a unit nothing is rounded.
        let (size, location) = (Size::unscaled(), LocationRef::default());
        let units = f64::from(font.metrics(size, location).units_per_em);
        let metrics = font.glyph_metrics(size, location);
        metrics.advance_width(glyph).map(|it| f64::from(it) / units)
    }
}

/// The face that has a sign, and how wide it is there, in letter sizes.
fn face_of(sign: char, weight: Weight) -> Option<(Face, f64)> {
    let own = match weight {
        Weight::Plain => Face::Plain,
        Weight::Bold => Face::Bold,
    };
    let faces = [own, Face::Arithmetic, Face::Signs];
    let built_in = faces
        .into_iter()
        .find_map(|it| Some((it, it.advance(sign)?)));
    built_in.or_else(|| {
        // Control characters are never printed, and asking for them would read every font there is.
        let asked = Some(sign).filter(|it| !it.is_control())?;
        let face = Face::Installed(InstalledFace::with(asked)?);
        Some((face, face.advance(sign)?))
    })
}

/// A text in pieces of one face each. A sign that no face has stays with the letters before it, and is
/// printed as an empty box.
#[must_use]
pub fn face_runs(text: &str, weight: Weight) -> Vec<FaceRun<'_>> {
    let mut runs: Vec<FaceRun<'_>> = Vec::new();
    let mut begins = 0;
    let first = match weight {
        Weight::Plain => Face::Plain,
        Weight::Bold => Face::Bold,
    };
    let mut now = first;
    for (at, sign) in text.char_indices() {
        let face = face_of(sign, weight).map_or(now, |it| it.0);
        if face != now {
            if at > begins {
                runs.push(FaceRun {
                    face: now,
                    text: &text[begins..at],
                });
            }
            (now, begins) = (face, at);
        }
    }
    if begins < text.len() {
        runs.push(FaceRun {
            face: now,
            text: &text[begins..],
        });
    }
    runs
}

/// The width of a line of text, in letter sizes.
#[must_use]
pub fn text_width(text: &str, weight: Weight) -> f64 {
    let wide = |sign: char| face_of(sign, weight).map_or(UNKNOWN, |it| it.1);
    text.chars().map(wide).sum()
}

/// The signs of a text that no face has, each once.
#[must_use]
pub fn unprintable(text: &str) -> Vec<char> {
    let lacking = text.chars().filter(|it| !it.is_control());
    let mut lacking: Vec<char> = lacking
        .filter(|it| face_of(*it, Weight::Plain).is_none())
        .collect();
    lacking.sort_unstable();
    lacking.dedup();
    lacking
}

/// The width of a sign that no face has, in letter sizes: the empty box in its place.
const UNKNOWN: f64 = 0.6;

/// A text in lines no wider than `width` mm when set in letters of `size` mm; a word that is wider
/// alone is broken.
#[must_use]
pub fn set_lines(text: &str, size: f64, weight: Weight, width: f64) -> Vec<String> {
    let room = width / size;
    let mut lines = Vec::new();
    for paragraph in text.lines() {
        let mut line = String::new();
        for word in paragraph.split_whitespace() {
            let longer = if line.is_empty() {
                word.to_owned()
            } else {
                format!("{line} {word}")
            };
            if text_width(&longer, weight) <= room {
                line = longer;
                continue;
            }
            if !line.is_empty() {
                lines.push(line);
            }
            line = broken_word(word, weight, room, &mut lines);
        }
        lines.push(line);
    }
    lines
}

/// The rest of a word, after as many full lines of it as do not fit in one.
fn broken_word(word: &str, weight: Weight, room: f64, lines: &mut Vec<String>) -> String {
    let mut rest = String::new();
    for sign in word.chars() {
        let mut longer = rest.clone();
        longer.push(sign);
        if !rest.is_empty() && text_width(&longer, weight) > room {
            lines.push(rest);
            rest = sign.to_string();
        } else {
            rest = longer;
        }
    }
    rest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_faces_can_be_read_and_have_the_signs_that_pages_use() {
        assert!(FACES.iter().all(Option::is_some));
        for sign in "AzÅßñ½°×−–—“”…αЖ€µ′″≥≤≈→←↑↓◇●◆□☐✂✓".chars()
        {
            assert!(face_of(sign, Weight::Plain).is_some(), "{sign}");
            assert!(face_of(sign, Weight::Bold).is_some(), "{sign}");
        }
    }

    #[test]
    fn widths_are_those_of_the_table_of_advances() {
        // Read from the hmtx table of the same font with another reader (fontTools): in thousandths, regular
        // o 605, a 561, k 534; bold W 967.
        assert!((text_width("oak", Weight::Plain) - 1.700).abs() < 1e-6);
        assert!((text_width("W", Weight::Bold) - 0.967).abs() < 1e-6);
    }

    #[test]
    fn a_text_is_cut_where_another_face_begins() {
        let runs = face_runs("a ≥ b", Weight::Bold);
        let shown: Vec<(Face, &str)> = runs.iter().map(|it| (it.face, it.text)).collect();
        assert_eq!(
            shown,
            [
                (Face::Bold, "a "),
                (Face::Arithmetic, "≥"),
                (Face::Bold, " b")
            ]
        );
        assert!(face_runs("", Weight::Plain).is_empty());
        assert_eq!(face_runs("\u{fffff}\u{fffff}", Weight::Plain).len(), 1);
    }

    #[test]
    fn lines_are_never_wider_than_their_room() {
        let text = "one two three\nMississippimississippi four";
        let lines = set_lines(text, 3.0, Weight::Plain, 20.0);
        assert_eq!(lines.len(), 3, "{lines:?}");
        for line in &lines {
            assert!(3.0 * text_width(line, Weight::Plain) <= 20.0, "{line}");
        }
        let joined: String = lines.concat().replace(' ', "");
        assert_eq!(joined, text.replace([' ', '\n'], ""));
    }
}
