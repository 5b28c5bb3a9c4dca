//! The photographs of a beer: a list, one more by its path, one written out or removed.

use std::path::Path;

use crate::domain::PhotographKind;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Asking;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Question;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::choices::Choices;
use crate::screens::choices::Picked;
use crate::workflow::Home;
use crate::workflow::PhotographRow;
use crate::workflow::WorkflowError;

/// The photographs of one beer.
pub struct PhotographsScreen {
    mark: String,
    rows: Vec<PhotographRow>,
    choices: Choices,
}

impl PhotographsScreen {
    /// The list of a beer with this cap mark.
    ///
    /// # Errors
    /// Somebody is tasting it, or the store cannot be read.
    pub fn new(mark: &str, home: &Home) -> Result<Self, WorkflowError> {
        Ok(Self {
            mark: mark.to_owned(),
            rows: home.photographs(mark)?,
            choices: Choices::default(),
        })
    }
}

impl Screen for PhotographsScreen {
    fn title(&self) -> String {
        format!("Photographs of {}", self.mark)
    }

    fn refresh(&mut self, home: &mut Home) -> Result<(), WorkflowError> {
        self.rows = home.photographs(&self.mark)?;
        Ok(())
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        // Somebody may have begun to taste it in another window.
        self.refresh(home)?;
        let mut page = Page::default();
        page.gap();
        if self.rows.is_empty() {
            let none = "No photograph yet. a copies one in: of the glass, of the label, or of a sheet that was written on.";
            page.text(Ink::Plain, none, room.text_width());
        }
        let rows = self.rows.iter().map(|it| {
            let number = it.photograph.number.to_string();
            (number, reports::photograph_words(it))
        });
        self.choices.draw(&mut page, &rows.collect::<Vec<_>>());
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        if self.rows.is_empty() {
            return vec![Action::Add, Action::Back];
        }
        let mut actions = Choices::ACTIONS.to_vec();
        actions.insert(1, Action::Add);
        actions
    }

    fn explanation(&self) -> &'static str {
        "Pictures that were copied in: upright, at most 1600 pixels long, without the place, the time and the camera. While somebody tastes the beer they are sealed, because a label says what is in the glass. Enter opens one: to write it out as a file, or to remove it."
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        if act == Act::Do(Action::Add) {
            return Ok(Next::Open(Box::new(AddScreen::new(&self.mark))));
        }
        Ok(match self.choices.act(act, self.rows.len()) {
            Picked::Row(row) => Next::Open(Box::new(OnePhotographScreen {
                mark: self.mark.clone(),
                number: self.rows[row].photograph.number,
                words: reports::photograph_words(&self.rows[row]),
                choices: Choices::default(),
            })),
            Picked::Left => Next::Close,
            Picked::Moved | Picked::Nothing => Next::Stay,
        })
    }
}

/// One more: which file, then what it is of.
struct AddScreen {
    mark: String,
    file: Option<String>,
    asking: Asking,
}

impl AddScreen {
    fn new(mark: &str) -> Self {
        Self {
            mark: mark.to_owned(),
            file: None,
            asking: Asking::default(),
        }
    }
}

impl Question for AddScreen {
    fn heading(&self) -> String {
        format!("A photograph of {}", self.mark)
    }

    fn asked(&self) -> &'static str {
        if self.file.is_none() {
            "Which picture? The path of a JPEG or PNG file."
        } else {
            "What is it of?"
        }
    }

    fn purpose(&self) -> &'static str {
        "The picture is copied in, upright and small; where and when it was taken, and by which camera, is dropped. The file itself is not touched."
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn accept(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        let Some(file) = &self.file else {
            self.file = Some(answer.trim().to_owned());
            let kinds = PhotographKind::ALL.iter();
            self.asking = Asking::among(kinds.map(|it| it.id().to_owned()).collect());
            return Ok(Next::Stay);
        };
        let kind = PhotographKind::from_id(answer.trim())?;
        home.add_photograph(&self.mark, Path::new(file), kind, None)?;
        Ok(Next::Close)
    }

    fn back(&mut self, _home: &mut Home) -> Result<Next, WorkflowError> {
        if self.file.take().is_none() {
            return Ok(Next::Close);
        }
        self.asking = Asking::default();
        Ok(Next::Stay)
    }
}

/// What can be done with one photograph.
const WISHES: [(&str, &str); 2] = [
    ("Write it out", "as a new file that only you can read"),
    ("Remove it", "for good; the numbers of the others stay"),
];

/// One photograph.
struct OnePhotographScreen {
    mark: String,
    number: u32,
    words: String,
    choices: Choices,
}

impl Screen for OnePhotographScreen {
    fn title(&self) -> String {
        format!("Photograph {} of {}", self.number, self.mark)
    }

    fn page(&mut self, _home: &mut Home, _room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        page.line(Line::plain(format!("  {}", self.words)));
        page.gap();
        let rows = WISHES.map(|it| (it.0.to_owned(), it.1.to_owned()));
        self.choices.draw(&mut page, &rows);
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        Choices::ACTIONS.to_vec()
    }

    fn explanation(&self) -> &'static str {
        "A terminal shows no pictures: written out as a file, any viewer shows it. What is removed leaves the file of this home, and copies that were made before still hold it."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match self.choices.act(act, WISHES.len()) {
            Picked::Row(0) => Next::Replace(Box::new(WriteOutScreen {
                mark: self.mark.clone(),
                number: self.number,
                asking: Asking::default(),
            })),
            Picked::Row(_) => {
                home.remove_photograph(&self.mark, self.number)?;
                Next::Close
            }
            Picked::Left => Next::Close,
            Picked::Moved | Picked::Nothing => Next::Stay,
        })
    }
}

/// The question for the file that a photograph is written into.
struct WriteOutScreen {
    mark: String,
    number: u32,
    asking: Asking,
}

impl Question for WriteOutScreen {
    fn heading(&self) -> String {
        format!("Photograph {} of {}", self.number, self.mark)
    }

    fn asked(&self) -> &'static str {
        "The file to write, such as glass.jpg; it must not exist yet."
    }

    fn purpose(&self) -> &'static str {
        "The picture as it is kept here, for any viewer. Only you can read the file."
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn accept(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        home.write_photograph(&self.mark, self.number, Path::new(answer.trim()))?;
        Ok(Next::Close)
    }
}

#[cfg(test)]
mod tests {
    use std::io::Write;

    use super::*;
    use crate::domain::NotesSource;
    use crate::screens::trial::keys;
    use crate::screens::trial::picture;
    use crate::screens::trial::started;

    /// A white pixel as PNG (ISO/IEC 15948), its CRCs and its Adler sum by zlib of another language.
    const PIXEL: [u8; 69] = [
        0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0x00, 0x00, 0x00, 0x0d, 0x49, 0x48, 0x44,
        0x52, 0x00, 0x00, 0x00, 0x01, 0x00, 0x00, 0x00, 0x01, 0x08, 0x02, 0x00, 0x00, 0x00, 0x90,
        0x77, 0x53, 0xde, 0x00, 0x00, 0x00, 0x0c, 0x49, 0x44, 0x41, 0x54, 0x78, 0x9c, 0x63, 0xf8,
        0xff, 0xff, 0x3f, 0x00, 0x05, 0xfe, 0x02, 0xfe, 0x0d, 0xef, 0x46, 0xb8, 0x00, 0x00, 0x00,
        0x00, 0x49, 0x45, 0x4e, 0x44, 0xae, 0x42, 0x60, 0x82,
    ];

    #[test]
    fn a_picture_is_copied_in_by_its_path_listed_written_out_and_removed() {
        let folder = tempfile::tempdir().unwrap();
        let path = |name: &str| folder.path().join(name).display().to_string();
        let mut file = std::fs::File::create(path("pixel.png")).unwrap();
        file.write_all(&PIXEL).unwrap();
        let mut app = started(Home::trial_with_a_batch());
        keys(&mut app, "4⏎f");
        assert!(picture(&mut app).contains("No photograph yet."));
        keys(&mut app, &format!("a{}⏎↓⏎", path("pixel.png")));
        let list = picture(&mut app);
        assert!(list.contains("1 × 1 pixels"), "{list}");
        keys(&mut app, &format!("⏎1{}⏎", path("out.jpg")));
        let out = std::fs::read(path("out.jpg")).unwrap();
        // A JPEG begins with the marker SOI and ends with EOI (ITU-T T.81, table B.1).
        assert!(out.starts_with(&[0xff, 0xd8]) && out.ends_with(&[0xff, 0xd9]));
        keys(&mut app, "⏎2");
        let list = picture(&mut app);
        assert!(list.contains("No photograph yet."), "{list}");
    }

    #[test]
    fn while_the_beer_is_tasted_no_photograph_is_listed() {
        let mut home = Home::trial_with_a_batch();
        let ana = home.add_taster("Ana").unwrap();
        home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        let refused = PhotographsScreen::new("T1", &home).err().unwrap();
        assert!(
            refused.to_string().starts_with("what was photographed"),
            "{refused}"
        );
    }
}
