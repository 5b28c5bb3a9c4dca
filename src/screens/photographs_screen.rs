//! The photographs of a beer: a list, one more by its path, one written out or removed.

use std::path::Path;

use crate::domain::PhotographKind;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::wrap;
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
use crate::screens::done_screen::DoneScreen;
use crate::screens::removed_screen::Then;
use crate::screens::removed_screen::remove_question;
use crate::screens::sure_screen::SureScreen;
use crate::workflow::Home;
use crate::workflow::PhotographRow;
use crate::workflow::Removable;
use crate::workflow::WorkflowError;
use crate::workflow::typed_place;

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
            let words = reports::photograph_words(it);
            let (kind, rest) = words.split_once(", ").unwrap_or((&words, ""));
            (kind.to_owned(), rest.to_owned())
        });
        self.choices.draw(&mut page, &rows.collect::<Vec<_>>());
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        if self.rows.is_empty() {
            return vec![Action::Add, Action::Back];
        }
        Choices::actions_with(&[Action::Add])
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

/// One more: which file, then what it is of, and of a sheet whose it is.
struct AddScreen {
    mark: String,
    step: AddStep,
    asking: Asking,
}

/// What is asked of a new photograph, with what was answered before.
enum AddStep {
    File,
    Kind(String),
    Whose(String),
}

impl AddScreen {
    fn new(mark: &str) -> Self {
        Self {
            mark: mark.to_owned(),
            step: AddStep::File,
            asking: Asking::default(),
        }
    }

    fn ask_kind(&mut self, file: String) {
        let kinds = PhotographKind::ALL.iter();
        let first = PhotographKind::ALL[0].id();
        let names = kinds.map(|it| it.id().to_owned()).collect();
        self.asking = Asking::among(names).choosing(first);
        self.step = AddStep::Kind(file);
    }

    fn ask_whose(&mut self, file: String, home: &Home) -> Result<(), WorkflowError> {
        let tasters = home.tasters()?.into_iter();
        self.asking = Asking::among(tasters.map(|it| it.name.to_string()).collect());
        self.step = AddStep::Whose(file);
        Ok(())
    }
}

impl Question for AddScreen {
    fn heading(&self) -> String {
        format!("A photograph of {}", self.mark)
    }

    fn asked(&self) -> &'static str {
        match self.step {
            AddStep::File => "Which picture? The path of a JPEG or PNG file.",
            AddStep::Kind(_) => "What is it of?",
            AddStep::Whose(_) => {
                "Whose sheet is it? It belongs to their latest notes on this beer. Enter alone: nobody's."
            }
        }
    }

    fn purpose(&self) -> &'static str {
        "The picture is copied in, upright and small; where and when it was taken, and by which camera, is dropped. A sheet that belongs to somebody goes when they are forgotten. The file itself is not touched."
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn needs(&self) -> Option<&'static str> {
        match self.step {
            AddStep::File => Some("the path of a picture is needed"),
            AddStep::Kind(_) => Some("one of the names is needed"),
            AddStep::Whose(_) => None,
        }
    }

    fn accept(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        let answer = answer.trim();
        let (file, kind, taster) = match &self.step {
            AddStep::File => {
                let file = typed_place(answer);
                // A path that leads nowhere is told before anything else is asked.
                home.ensure_photograph(&file)?;
                self.ask_kind(file.display().to_string());
                return Ok(Next::Stay);
            }
            AddStep::Kind(file) => match PhotographKind::from_id(answer)? {
                PhotographKind::Sheet => {
                    self.ask_whose(file.clone(), home)?;
                    return Ok(Next::Stay);
                }
                kind => (file, kind, None),
            },
            AddStep::Whose(file) => {
                let taster = Some(answer).filter(|it| !it.is_empty());
                (file, PhotographKind::Sheet, taster)
            }
        };
        home.add_photograph(&self.mark, Path::new(file), kind, taster)?;
        let lines = |cells| {
            let told = "The picture is copied in, without the place and the time.";
            let told = wrap(told, cells).into_iter();
            told.map(|it| Line::of(Ink::Plain, it)).collect()
        };
        let done = DoneScreen::then_back("Copied in", Box::new(lines));
        Ok(Next::Replace(Box::new(done)))
    }

    fn back(&mut self, _home: &mut Home) -> Result<Next, WorkflowError> {
        match std::mem::replace(&mut self.step, AddStep::File) {
            AddStep::File => return Ok(Next::Close),
            AddStep::Kind(_) => self.asking = Asking::default(),
            AddStep::Whose(file) => self.ask_kind(file),
        }
        Ok(Next::Stay)
    }
}

/// What can be done with one photograph.
const WISHES: [(&str, &str); 2] = [
    ("Write it out", "as a new file that only you can read"),
    ("Remove it", "for thirty days it can come back"),
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
        "A terminal shows no pictures: written out as a file, any viewer shows it. What is removed can be brought back for thirty days."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match self.choices.act(act, WISHES.len()) {
            Picked::Row(0) => Next::Replace(Box::new(WriteOutScreen {
                mark: self.mark.clone(),
                number: self.number,
                asking: Asking::default(),
            })),
            Picked::Row(_) => {
                Next::Replace(Box::new(remove_screen(&self.mark, self.number, home)?))
            }
            Picked::Left => Next::Close,
            Picked::Moved | Picked::Nothing => Next::Stay,
        })
    }
}

/// The question before a photograph is removed.
fn remove_screen(mark: &str, number: u32, home: &Home) -> Result<SureScreen, WorkflowError> {
    let words = format!("photograph {number} of {mark}");
    let mark = mark.to_owned();
    let what = Removable::Photograph { mark, number };
    remove_question(what, &words, Then::Back, home)
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

    fn needs(&self) -> Option<&'static str> {
        Some("the name of a file is needed")
    }

    fn accept(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        home.write_photograph(&self.mark, self.number, &typed_place(answer))?;
        Ok(Next::Close)
    }
}

#[cfg(test)]
mod tests {
    use std::io::Write;

    use super::*;
    use crate::domain::Name;
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
        keys(&mut app, &format!("a{}⏎", path("none.png")));
        let missing = picture(&mut app);
        assert!(missing.contains("Which picture?"), "{missing}");
        assert!(missing.contains("could not read"), "{missing}");
        keys(&mut app, &format!("⎋a⏎{}⏎", path("pixel.png")));
        let asked = picture(&mut app);
        assert!(asked.contains("▸  glass"), "{asked}");
        keys(&mut app, "⏎");
        let told = picture(&mut app);
        assert!(told.contains("without the place and the time"), "{told}");
        keys(&mut app, "⏎");
        let list = picture(&mut app);
        assert!(list.contains("1 × 1 pixels"), "{list}");
        keys(&mut app, &format!("⏎1{}⏎", path("out.jpg")));
        let out = std::fs::read(path("out.jpg")).unwrap();
        // A JPEG begins with the marker SOI and ends with EOI (ITU-T T.81, table B.1).
        assert!(out.starts_with(&[0xff, 0xd8]) && out.ends_with(&[0xff, 0xd9]));
        keys(&mut app, "⏎2⏎");
        let asked = picture(&mut app);
        assert!(asked.contains("y removes the photograph 1"), "{asked}");
        keys(&mut app, "n");
        let kept = picture(&mut app);
        assert!(kept.contains("1 × 1 pixels"), "{kept}");
        keys(&mut app, "⏎2y");
        let told = picture(&mut app);
        assert!(told.contains("Removed: photograph 1 of T1."), "{told}");
        keys(&mut app, "⏎");
        let list = picture(&mut app);
        assert!(list.contains("No photograph yet."), "{list}");
    }

    #[test]
    fn a_sheet_belongs_to_who_wrote_it_or_to_nobody() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("sheet.png").display().to_string();
        std::fs::write(&file, PIXEL).unwrap();
        let mut home = Home::trial_with_a_batch();
        let ana = home.add_taster("Ana").unwrap();
        let mut tasting = home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        home.lock(&mut tasting).unwrap();
        let mut app = started(home);
        keys(&mut app, &format!("4⏎fa{file}⏎sheet⏎"));
        let asked = picture(&mut app);
        assert!(asked.contains("Whose sheet is it?"), "{asked}");
        keys(&mut app, "Ana⏎");
        keys(&mut app, &format!("⏎a{file}⏎sheet⏎⏎"));
        let rows = app.home().photographs("T1").unwrap();
        let whose: Vec<Option<&str>> = rows
            .iter()
            .map(|it| it.taster.as_ref().map(Name::as_str))
            .collect();
        assert_eq!(whose, [Some("Ana"), None]);
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
