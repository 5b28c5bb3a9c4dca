//! Fonts that are installed on this computer, asked only for signs that the built-in typeface lacks.

use std::collections::HashMap;
use std::sync::LazyLock;
use std::sync::Mutex;
use std::sync::PoisonError;

use fontdb::Database;
use fontdb::ID;
use fontdb::Style;
use fontdb::Weight;
use skrifa::FontRef;
use skrifa::MetadataProvider;

/// A font file that was found; it is kept as long as the program runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct InstalledFace {
    bytes: &'static [u8],
    index: u32,
}

/// What was looked for already.
#[derive(Default)]
struct Found {
    faces: HashMap<ID, InstalledFace>,
    of_sign: HashMap<char, Option<InstalledFace>>,
}

/// The fonts of this computer: read when the first sign is looked for.
static INSTALLED: LazyLock<Database> = LazyLock::new(|| {
    let mut all = Database::new();
    all.load_system_fonts();
    all
});

static FOUND: LazyLock<Mutex<Found>> = LazyLock::new(Mutex::default);

impl InstalledFace {
    /// The first upright font of usual weight that has a sign, or any that has it; none where none has.
    #[must_use]
    pub fn with(sign: char) -> Option<Self> {
        let mut found = FOUND.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = found.of_sign.get(&sign) {
            return *known;
        }
        let face = found.looked_for(sign);
        found.of_sign.insert(sign, face);
        face
    }

    /// The font file.
    #[must_use]
    pub const fn bytes(self) -> &'static [u8] {
        self.bytes
    }

    /// Which font of the file, where it holds several.
    #[must_use]
    pub const fn index(self) -> u32 {
        self.index
    }

    /// The font, to measure its letters; none where the file is damaged.
    pub(super) fn font(self) -> Option<FontRef<'static>> {
        FontRef::from_index(self.bytes, self.index).ok()
    }
}

impl Found {
    fn looked_for(&mut self, sign: char) -> Option<InstalledFace> {
        let known = self.faces.values().find(|it| has(it.bytes, it.index, sign));
        if let Some(face) = known {
            return Some(*face);
        }
        let usual =
            |it: &&fontdb::FaceInfo| it.style == Style::Normal && it.weight == Weight::NORMAL;
        let faces = INSTALLED.faces();
        let others = INSTALLED.faces().filter(|it| !usual(it));
        let mut ids = faces.filter(usual).chain(others).map(|it| it.id);
        let id = ids.find(|id| {
            let has_it = INSTALLED.with_face_data(*id, |bytes, index| has(bytes, index, sign));
            has_it.unwrap_or(false)
        })?;
        let face = INSTALLED.with_face_data(id, |bytes, index| InstalledFace {
            // A few font files at most, each read once: kept to the end, as the built-in ones are.
            bytes: Box::leak(bytes.to_vec().into_boxed_slice()),
            index,
        })?;
        self.faces.insert(id, face);
        Some(face)
    }
}

/// Whether a font has a sign, and an outline for it that can be printed.
fn has(bytes: &[u8], index: u32, sign: char) -> bool {
    FontRef::from_index(bytes, index).is_ok_and(|font| {
        let glyph = font.charmap().map(sign);
        glyph.is_some_and(|it| font.outline_glyphs().get(it).is_some())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sign_that_is_no_letter_is_in_no_font_and_what_is_found_has_its_sign() {
        // A code point that Unicode keeps free of any sign for ever (Unicode 16, 23.7).
        assert_eq!(InstalledFace::with('\u{fffff}'), None);
        for sign in ['日', 'א', 'ა', 'ክ', 'A'] {
            if let Some(face) = InstalledFace::with(sign) {
                assert!(face.font().unwrap().charmap().map(sign).is_some());
                assert_eq!(InstalledFace::with(sign), Some(face));
            }
        }
    }
}
