//! An XML text as a tree of tags, for standards whose files are often a little broken; nothing in it is expanded.

use quick_xml::Reader;
use quick_xml::events::Event;

/// The deepest tag that is followed; recipes need eight.
const DEEPEST: usize = 40;
/// More tags than this no list of recipes has.
const MOST_TAGS: usize = 400_000;

/// A tag with what stands in it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Tag {
    /// Its name, in capitals.
    pub(super) name: String,
    /// Its own text, blanks joined.
    pub(super) text: String,
    /// The tags in it.
    pub(super) tags: Vec<Tag>,
    /// The line where it begins, counted from 1.
    pub(super) line: usize,
}

impl Tag {
    /// The first tag of a name in it.
    pub(super) fn tag(&self, name: &str) -> Option<&Self> {
        self.tags.iter().find(|it| it.name == name)
    }

    /// The text of a tag in it, if it says anything.
    pub(super) fn said(&self, name: &str) -> Option<&str> {
        self.tag(name)
            .map(|it| it.text.as_str())
            .filter(|it| !it.is_empty())
    }

    /// The number of a tag in it.
    pub(super) fn number(&self, name: &str) -> Option<f64> {
        let text = self.said(name)?.split_whitespace().next()?;
        let number: f64 = text.parse().ok()?;
        number.is_finite().then_some(number)
    }
}

/// What is read so far: the open tags, and what was mended.
struct Growing<'t> {
    text: &'t str,
    open: Vec<Tag>,
    tags: usize,
    mended: Vec<String>,
}

/// Reads a text into its outermost tag. Tags that are closed by another name are mended and told, with their line;
/// entities other than the five of the language stay as they are written, so that none can grow.
///
/// # Errors
/// The line and what is wrong there.
pub(super) fn xml_tree(text: &str) -> Result<(Tag, Vec<String>), (usize, String)> {
    let mut reader = Reader::from_str(text);
    reader.config_mut().check_end_names = false;
    reader.config_mut().allow_unmatched_ends = true;
    let mut growing = Growing {
        text,
        open: vec![Tag::default()],
        tags: 0,
        mended: Vec::new(),
    };
    let mut spot = Spot { byte: 0, line: 1 };
    loop {
        let event = reader.read_event();
        let line = spot.line_at(reader.buffer_position(), text);
        match event {
            Ok(Event::Start(tag)) => growing.begin(tag.name().as_ref(), line)?,
            Ok(Event::Empty(tag)) => {
                growing.begin(tag.name().as_ref(), line)?;
                growing.close();
            }
            Ok(Event::End(tag)) => growing.end(tag.name().as_ref(), line),
            Ok(Event::Text(words)) => growing.say(&words),
            Ok(Event::CData(words)) => growing.say(&words),
            Ok(Event::GeneralRef(name)) => growing.refer(&name),
            Ok(Event::Eof) => return growing.finished(),
            Ok(_) => {}
            Err(error) => return Err((line, error.to_string())),
        }
    }
}

/// Where the reader stands: the byte, and its line counted from 1. It only goes on, so that a long file is counted
/// once.
struct Spot {
    byte: usize,
    line: usize,
}

impl Spot {
    /// Goes on to a byte; gives its line.
    fn line_at(&mut self, byte: u64, text: &str) -> usize {
        let byte = usize::try_from(byte).unwrap_or(usize::MAX).min(text.len());
        let passed = text.get(self.byte..byte).unwrap_or_default();
        self.line += passed.matches('\n').count();
        self.byte = byte.max(self.byte);
        self.line
    }
}

fn plain_name(name: &str) -> String {
    name.to_uppercase()
}

impl Growing<'_> {
    fn begin(&mut self, name: &str, line: usize) -> Result<(), (usize, String)> {
        self.tags += 1;
        if self.open.len() > DEEPEST || self.tags > MOST_TAGS {
            return Err((line, "more tags than a recipe has".to_owned()));
        }
        self.open.push(Tag {
            name: plain_name(name),
            line,
            ..Tag::default()
        });
        Ok(())
    }

    fn say(&mut self, words: &str) {
        if let Some(tag) = self.open.last_mut() {
            tag.text.push_str(words);
        }
    }

    /// One of the five entities of the language, or a sign by its number; any other as it stands.
    fn refer(&mut self, name: &str) {
        let sign = match name {
            "amp" => Some('&'),
            "lt" => Some('<'),
            "gt" => Some('>'),
            "quot" => Some('"'),
            "apos" => Some('\''),
            number => sign_of(number),
        };
        if let Some(tag) = self.open.last_mut() {
            match sign {
                Some(sign) => tag.text.push(sign),
                None => tag.text.extend(["&", name, ";"]),
            }
        }
    }

    fn close(&mut self) {
        if self.open.len() > 1
            && let Some(mut tag) = self.open.pop()
            && let Some(outer) = self.open.last_mut()
        {
            let words: Vec<&str> = tag.text.split_whitespace().collect();
            tag.text = words.join(" ");
            outer.tags.push(tag);
        }
    }

    /// Closes the tag of this name; one closed by a wrong name is closed all the same.
    fn end(&mut self, name: &str, line: usize) {
        let name = plain_name(name);
        let depth = self.open.iter().rposition(|it| it.name == name);
        match depth {
            Some(depth) if depth > 0 => {
                let inner: Vec<String> = self.open[depth + 1..]
                    .iter()
                    .map(|it| it.name.clone())
                    .collect();
                for tag in inner {
                    self.mended
                        .push(format!("line {line}: {tag} was not closed"));
                    self.close();
                }
                self.close();
            }
            _ => {
                let open = self.open.last().map_or("", |it| it.name.as_str());
                self.mended
                    .push(format!("line {line}: {name} closed {open}"));
                self.close();
            }
        }
    }

    fn finished(mut self) -> Result<(Tag, Vec<String>), (usize, String)> {
        while self.open.len() > 1 {
            let name = self.open.last().map_or("", |it| it.name.as_str());
            self.mended
                .push(format!("at the end {name} was not closed"));
            self.close();
        }
        let outermost = self.open.pop().and_then(|it| it.tags.into_iter().next());
        let last = self.text.lines().count().max(1);
        let outermost = outermost.ok_or((last, "there is no tag in it".to_owned()))?;
        Ok((outermost, self.mended))
    }
}

/// The sign of a reference by number, such as `#246` or `#xF6`.
fn sign_of(reference: &str) -> Option<char> {
    let number = reference.strip_prefix('#')?;
    let number = match number.strip_prefix('x') {
        Some(hex) => u32::from_str_radix(hex, 16).ok()?,
        None => number.parse().ok()?,
    };
    char::from_u32(number).filter(|it| !it.is_control())
}
