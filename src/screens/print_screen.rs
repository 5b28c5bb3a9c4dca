//! What will be printed, on how many sheets, and the question for its file; one key turns to the other paper or labels.

use std::path::Path;
use std::sync::Arc;

use crate::drawing::Ink;
use crate::drawing::LabelSheet;
use crate::drawing::Line;
use crate::drawing::Paper;
use crate::drawing::capitalised;
use crate::drawing::wrap;
use crate::reports::LooksThrough;
use crate::reports::PrintRefused;
use crate::reports::Printout;
use crate::reports::paper_of;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Input;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::TextEntry;
use crate::screens::cut;
use crate::screens::done_screen::DoneScreen;
use crate::screens::print_offers::Offer;
use crate::screens::print_offers::PrintedOn;
use crate::workflow::Home;
use crate::workflow::Remembered;
use crate::workflow::WorkflowError;
use crate::workflow::shown_place;
use crate::workflow::typed_place;

/// The question for the file of a printout.
pub struct PrintScreen {
    offers: Vec<Offer>,
    /// Which of them is chosen.
    chosen: usize,
    /// The name for the file as it was given, to tell it from one that was typed.
    given: String,
    entry: TextEntry,
    on: PrintedOn,
    /// The pages; made anew where anybody has written since, so that nothing is told that was sealed meanwhile.
    printout: Remembered<Result<Printout, String>>,
}

impl PrintScreen {
    fn new(offers: Vec<Offer>, home: &Home) -> Self {
        let mut screen = Self {
            offers,
            chosen: 0,
            given: String::new(),
            entry: TextEntry::default(),
            printout: Remembered::default(),
            on: PrintedOn::Plain(paper_of(home.settings().paper)),
        };
        screen.choose(0, home);
        screen
    }

    /// Takes one of what is offered; a name that was typed stays.
    fn choose(&mut self, row: usize, home: &Home) {
        let Some(offer) = self.offers.get(row) else {
            return;
        };
        self.chosen = row;
        if self.entry.text() == self.given {
            self.given = free_name(&offer.file, home);
            self.entry = TextEntry::starting_with(&self.given);
        }
        if offer.labels.is_empty() {
            self.on = PrintedOn::Plain(self.on.paper());
        }
        self.printout.forget();
    }

    /// The pages of what is chosen, or why there are none.
    fn printout(&self, home: &mut Home) -> Result<Arc<Result<Printout, String>>, WorkflowError> {
        let make = |home: &mut Home| {
            Ok(match self.chosen() {
                Some(offer) => (offer.makes)(home, self.on).map_err(|it| it.to_string()),
                None => Err("Nothing of this can be printed.".to_owned()),
            })
        };
        self.printout.or_drawn_by(home, make)
    }

    /// Whether they were refused when they were last made.
    fn is_refused(&self) -> bool {
        self.printout.last().is_some_and(|it| it.is_err())
    }

    /// Turns to the other paper; for labels to the next sheet of them, and after the last one to plain paper.
    fn turn(&mut self) {
        let labels = self.labels();
        let after = |at: usize| labels.get(at).map(PrintedOn::Labels);
        self.on = match self.on {
            PrintedOn::Plain(Paper::A4) => PrintedOn::Plain(Paper::Letter),
            PrintedOn::Plain(Paper::Letter) => after(0).unwrap_or(PrintedOn::Plain(Paper::A4)),
            PrintedOn::Labels(sheet) => {
                let at = labels.iter().position(|it| it.id == sheet.id);
                let next = at.and_then(|it| after(it + 1));
                next.unwrap_or(PrintedOn::Plain(Paper::A4))
            }
        };
        self.printout.forget();
    }

    fn chosen(&self) -> Option<&Offer> {
        self.offers.get(self.chosen)
    }

    fn labels(&self) -> &'static [LabelSheet] {
        self.chosen().map_or(&[], |it| it.labels)
    }

    /// What is offered, where there is something to choose.
    fn draw_offers(&self, page: &mut Page, cells: usize) {
        for (row, offer) in self.offers.iter().enumerate() {
            let (mark, ink) = if row == self.chosen {
                ("▸ ", Ink::Chosen)
            } else {
                ("  ", Ink::Plain)
            };
            let words = cut(&capitalised(&offer.words), cells.saturating_sub(4));
            let line = Line::of(ink, format!("{mark}{words} "));
            page.choice(line, Press::Row(row));
        }
        page.gap();
    }

    /// On how many sheets of what.
    fn draw_sheets(&self, page: &mut Page, printout: &Printout, cells: usize) {
        let sheets = capitalised(&printout.sheets_words());
        let labels = match self.on {
            _ if self.labels().is_empty() => String::new(),
            PrintedOn::Plain(paper) => format!(" Labels of {}.", LabelSheet::to_cut(paper).words),
            PrintedOn::Labels(sheet) => {
                format!(" Put a sheet of labels into the printer: {}.", sheet.words)
            }
        };
        page.text(Ink::Plain, &format!("{sheets}.{labels}"), cells);
    }

    fn write(&self, home: &mut Home) -> Result<Next, WorkflowError> {
        let printout = self.printout(home)?;
        let printout = match printout.as_ref() {
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

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        let cells = room.text_width();
        page.gap();
        if self.offers.len() > 1 {
            self.draw_offers(&mut page, cells);
        }
        match self.printout(home)?.as_ref() {
            Ok(printout) => {
                page.text(Ink::Strong, &printout.title, cells);
                if let [one] = self.offers.as_slice() {
                    page.text(Ink::Plain, &format!("{}.", capitalised(&one.words)), cells);
                }
                self.draw_sheets(&mut page, printout, cells);
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
        let mut actions = vec![Action::Back];
        if !self.is_refused() {
            actions.extend([Action::Accept, Action::Undo]);
        }
        if !self.is_refused() || !self.labels().is_empty() {
            actions.push(Action::NextStage);
        }
        if self.offers.len() > 1 {
            actions.extend([Action::Up, Action::Down]);
        }
        actions
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        match (action, self.on) {
            (Action::Accept, _) => Some("write it"),
            (Action::NextStage, _) if !self.labels().is_empty() => Some("other labels"),
            (Action::NextStage, PrintedOn::Plain(Paper::A4)) => Some("take US letter"),
            (Action::NextStage, _) => Some("take A4"),
            (Action::Up, _) => Some("something else"),
            _ => None,
        }
    }

    fn input(&self) -> Input {
        if self.is_refused() {
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

    fn is_drawn(&self, home: &Home) -> bool {
        let looks = self.chosen().map(|it| it.looks_through);
        looks != Some(LooksThrough::Everything) || self.printout.is_of_now(home)
    }

    fn explanation(&self) -> &'static str {
        "Enter writes the file and says where it is; nothing that is there already is written over. Where several things can be printed, the arrows choose. Tab turns to the other paper, with labels to the next sheet of labels; print one on plain paper first and hold it against the labels. A PDF holds its letters in itself and prints alike everywhere; thirdglass print does the same from a terminal, and begins with --first at a label that is still there."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match act {
            Act::Do(Action::Accept) => return self.write(home),
            Act::Do(Action::Back) => return Ok(Next::Close),
            Act::Do(Action::Undo) => {
                self.entry.rub_out();
            }
            Act::Do(Action::NextStage) => self.turn(),
            Act::Do(Action::Up) => self.choose(self.chosen.saturating_sub(1), home),
            Act::Do(Action::Down) => self.choose(self.chosen + 1, home),
            Act::Row(row) => self.choose(row, home),
            Act::Typed(sign) => self.entry.push(sign),
            Act::Do(_) | Act::Digit(_) => {}
        }
        Ok(Next::Stay)
    }

    fn paste(&mut self, text: &str) {
        self.entry.paste(text);
    }
}

/// Opens the screen of pages that are made from what is shown.
pub(super) fn shown_on_paper(
    what: &str,
    file: &str,
    makes: impl Fn(Paper) -> Result<Printout, PrintRefused> + Send + 'static,
    home: &mut Home,
) -> Next {
    offered_on_paper(Ok(vec![Offer::shown(what, file, makes)]), home)
}

/// Opens the screen of something in the catalogue, or says why it cannot be printed.
pub(super) fn on_paper(id: &str, of: &[String], home: &mut Home) -> Next {
    offered_on_paper(Offer::of(id, of).map(|it| vec![it]), home)
}

/// Opens the screen of what is offered, the first of it chosen, or says why it cannot be printed.
pub(super) fn offered_on_paper(offers: Result<Vec<Offer>, PrintRefused>, home: &mut Home) -> Next {
    match offers {
        Ok(offers) => Next::Open(Box::new(PrintScreen::new(offers, home))),
        Err(refused) => Next::Say(refused.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screens::App;
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
