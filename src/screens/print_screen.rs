//! What will be printed, on how many sheets, and the question for its file; one key turns to the other paper.

use std::path::Path;

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::Paper;
use crate::drawing::capitalised;
use crate::drawing::wrap;
use crate::reports::PrintAsked;
use crate::reports::PrintRefused;
use crate::reports::Printable;
use crate::reports::Printout;
use crate::reports::paper_of;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Input;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::TextEntry;
use crate::screens::done_screen::DoneScreen;
use crate::workflow::Home;
use crate::workflow::WorkflowError;
use crate::workflow::shown_place;
use crate::workflow::typed_place;

/// Makes the pages for a paper.
type Makes = Box<dyn Fn(&mut Home, Paper) -> Result<Printout, PrintRefused> + Send>;

/// The question for the file of a printout.
pub struct PrintScreen {
    what: &'static str,
    entry: TextEntry,
    makes: Makes,
    paper: Paper,
    printout: Result<Printout, String>,
}

impl PrintScreen {
    /// The screen of something in the catalogue.
    ///
    /// # Errors
    /// Never for what the catalogue names; else that it is not there.
    pub fn listed(id: &str, asked: PrintAsked, home: &mut Home) -> Result<Self, PrintRefused> {
        let printable = Printable::find(id)?;
        let file = printable.file_name(&asked.of);
        let makes = move |home: &mut Home, paper| {
            let asked = PrintAsked {
                paper,
                ..asked.clone()
            };
            printable.printed(home, &asked)
        };
        Ok(Self::new(printable.words, &file, Box::new(makes), home))
    }

    /// The screen of pages that are made as told, such as of a key that was opened already.
    fn new(what: &'static str, file: &str, makes: Makes, home: &mut Home) -> Self {
        let mut screen = Self {
            what,
            entry: TextEntry::starting_with(&free_name(file, home)),
            printout: Err(String::new()),
            paper: paper_of(home.settings().paper),
            makes,
        };
        screen.make(home);
        screen
    }

    fn make(&mut self, home: &mut Home) {
        self.printout = (self.makes)(home, self.paper).map_err(|it| it.to_string());
    }

    fn write(&self, home: &Home) -> Result<Next, WorkflowError> {
        let printout = match &self.printout {
            Ok(printout) => printout,
            Err(refused) => return Ok(Next::Say(refused.clone())),
        };
        if self.entry.text().trim().is_empty() {
            let said = "Nothing was typed; the name of a file is needed.";
            return Ok(Next::Say(said.to_owned()));
        }
        let files = match printout.files(&typed_place(self.entry.text())) {
            Ok(files) => files,
            Err(refused) => return Ok(Next::Say(refused.to_string())),
        };
        home.write_documents(&files)?;
        let names: Vec<String> = files.iter().map(|it| shown_place(&it.0)).collect();
        let boxes = printout.boxes_sentence();
        let lines = move |cells| {
            let mut told: Vec<String> = vec!["Written, to be opened or printed:".to_owned()];
            told.extend(names.iter().map(|it| format!("  {it}")));
            told.extend(boxes.clone());
            let told = told.iter().flat_map(|it| wrap(it, cells));
            told.map(|it| Line::of(Ink::Plain, it)).collect()
        };
        let done = DoneScreen::then_back("Written", Box::new(lines));
        Ok(Next::Replace(Box::new(done)))
    }
}

/// The name, or the same with the first number under which nothing is there yet.
fn free_name(file: &str, home: &Home) -> String {
    let (stem, end) = file.rsplit_once('.').unwrap_or((file, "pdf"));
    let numbered = (2..100).map(|it| format!("{stem}-{it}.{end}"));
    let mut names = std::iter::once(file.to_owned()).chain(numbered);
    let free = names.find(|it| home.ensure_free(Path::new(it)).is_ok());
    free.unwrap_or_else(|| file.to_owned())
}

impl Screen for PrintScreen {
    fn title(&self) -> String {
        "On paper".to_owned()
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        let cells = room.text_width();
        page.gap();
        match &self.printout {
            Ok(printout) => {
                page.text(Ink::Strong, &printout.title, cells);
                page.text(Ink::Plain, &format!("It is {}.", self.what), cells);
                let sheets = capitalised(&printout.sheets_words());
                page.text(Ink::Plain, &format!("{sheets}."), cells);
            }
            Err(refused) => {
                page.text(Ink::Alert, refused, cells);
                return Ok(page);
            }
        }
        page.gap();
        let asked =
            "The file to write; a name that ends in .svg gives a drawing a page instead of a PDF.";
        page.text(Ink::Plain, asked, cells);
        page.gap();
        page.line(
            Line::of(Ink::Quiet, "> ")
                .and(Ink::Strong, self.entry.text())
                .and(Ink::Chosen, " "),
        );
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        if self.printout.is_err() {
            return vec![Action::Back];
        }
        vec![
            Action::Accept,
            Action::Undo,
            Action::NextStage,
            Action::Back,
        ]
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        match (action, self.paper) {
            (Action::Accept, _) => Some("write it"),
            (Action::NextStage, Paper::A4) => Some("take US letter"),
            (Action::NextStage, Paper::Letter) => Some("take A4"),
            _ => None,
        }
    }

    fn input(&self) -> Input {
        if self.printout.is_err() {
            return Input::Keys;
        }
        Input::Text
    }

    fn typed(&self) -> Option<&str> {
        Some(self.entry.text())
    }

    fn is_typing(&self) -> bool {
        !self.entry.is_empty()
    }

    fn explanation(&self) -> &'static str {
        "Enter writes the file and says where it is; nothing that is there already is written over. Tab turns to the other paper. A PDF holds its letters in itself and prints alike everywhere; thirdglass print does the same from a terminal."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match act {
            Act::Do(Action::Accept) => return self.write(home),
            Act::Do(Action::Back) => return Ok(Next::Close),
            Act::Do(Action::Undo) => {
                self.entry.rub_out();
            }
            Act::Do(Action::NextStage) => {
                self.paper = match self.paper {
                    Paper::A4 => Paper::Letter,
                    Paper::Letter => Paper::A4,
                };
                self.make(home);
            }
            Act::Typed(sign) => self.entry.push(sign),
            Act::Do(_) | Act::Digit(_) | Act::Row(_) => {}
        }
        Ok(Next::Stay)
    }

    fn paste(&mut self, text: &str) {
        self.entry.paste(text);
    }
}

/// Opens the screen of pages that are made from what is shown.
pub(super) fn shown_on_paper(
    what: &'static str,
    file: &str,
    makes: impl Fn(Paper) -> Result<Printout, PrintRefused> + Send + 'static,
    home: &mut Home,
) -> Next {
    let makes = move |_: &mut Home, paper| makes(paper);
    let screen = PrintScreen::new(what, file, Box::new(makes), home);
    Next::Open(Box::new(screen))
}

/// Opens the screen of something in the catalogue, or says why it cannot be printed.
pub(super) fn on_paper(id: &str, of: &[String], home: &mut Home) -> Next {
    let asked = PrintAsked::of(of.to_vec(), paper_of(home.settings().paper));
    match PrintScreen::listed(id, asked, home) {
        Ok(screen) => Next::Open(Box::new(screen)),
        Err(refused) => Next::Say(refused.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screens::App;
    use crate::screens::Press;
    use crate::screens::press_line;
    use crate::screens::told;

    fn app() -> App {
        let mut home = Home::trial();
        let Next::Open(screen) = on_paper("jar-cards", &["vanilla".to_owned()], &mut home) else {
            panic!("jar cards can be printed");
        };
        App::new(home, vec![screen])
    }

    #[test]
    fn a_key_turns_to_the_other_paper_and_enter_writes_the_file_and_says_where() {
        let mut app = app();
        assert!(told(&mut app).contains("One sheet of A4."));
        press_line(&mut app, "/next-stage");
        assert!(told(&mut app).contains("One sheet of US letter."));
        for _ in 0.."vanilla-jar-cards.pdf".len() {
            press_line(&mut app, "/undo");
        }
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("cards.pdf");
        for sign in file.display().to_string().chars() {
            app.press(&Press::Char(sign));
        }
        press_line(&mut app, "");
        assert!(told(&mut app).contains("cards.pdf"));
        assert!(std::fs::read(file).unwrap().starts_with(b"%PDF-"));
    }

    #[test]
    fn a_given_name_is_cleared_by_the_keys_of_a_shell_and_nothing_typed_is_no_file() {
        let mut app = app();
        app.press(&Press::RubLine);
        press_line(&mut app, "");
        let said = told(&mut app);
        assert!(said.contains("Nothing was typed"), "{said}");
        for sign in "two cards.pdf ".chars() {
            app.press(&Press::Char(sign));
        }
        app.press(&Press::RubWord);
        let left = told(&mut app);
        assert!(
            left.contains("> two") && !left.contains("cards.pdf"),
            "{left}"
        );
        app.press(&Press::RubWord);
        app.press(&Press::RubWord);
        assert!(
            told(&mut app).contains("On paper"),
            "nothing else is undone"
        );
    }

    #[test]
    fn a_name_that_is_no_kind_of_page_is_told_and_nothing_is_written() {
        let mut app = app();
        for _ in 0..4 {
            press_line(&mut app, "/undo");
        }
        press_line(&mut app, "");
        assert!(told(&mut app).contains("neither .pdf nor .svg"));
    }

    #[test]
    fn what_cannot_be_printed_is_said_where_the_key_was_pressed() {
        let said = on_paper("jar-cards", &["xqzw".to_owned()], &mut Home::trial());
        let Next::Open(mut screen) = said else {
            panic!("the screen opens and says what is wrong");
        };
        let page = screen.page(&mut Home::trial(), Room::TOLD).unwrap();
        let texts: Vec<String> = page.rows.iter().map(|it| it.line.text()).collect();
        assert!(
            texts.join(" ").contains("“xqzw” is no word of the wheel"),
            "{texts:?}"
        );
        assert!(!texts.join(" ").contains("The file to write"), "{texts:?}");
        assert_eq!(screen.actions(), [Action::Back]);
    }
}
