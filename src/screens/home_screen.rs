//! Everything of this home: out as one archive, in again into an empty one.

use std::path::Path;

use crate::reports;
use crate::reports::TableFiles;
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
use crate::screens::removed_screen::RemovedScreen;
use crate::screens::sure_screen::SureScreen;
use crate::screens::waiting::WRITTEN;
use crate::workflow::Home;
use crate::workflow::Sealed;
use crate::workflow::WorkflowError;
use crate::workflow::shown_place;
use crate::workflow::typed_place;

/// What can be done with a whole home.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Wish {
    With(FileWish),
    Check,
    Removed,
}

/// What is done with a file or folder that is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum FileWish {
    Export,
    Import,
    Tables,
    Backup,
}

/// What is said while all of it is looked through.
const LOOKED_THROUGH: &str = "One moment: everything is looked through.";
/// What is said while an archive is read.
const READ: &str = "One moment: the archive is read in.";

/// Every wish with its name and what it means.
const WISHES: [(Wish, &str, &str); 6] = [
    (
        Wish::With(FileWish::Export),
        "Everything into one file",
        "an archive that another copy reads back",
    ),
    (
        Wish::With(FileWish::Import),
        "Read such a file in",
        "only into a home where nothing was added",
    ),
    (
        Wish::With(FileWish::Tables),
        "Tables",
        "for a spreadsheet; nothing that is sealed",
    ),
    (
        Wish::With(FileWish::Backup),
        "A copy",
        "of this home's file, such as onto a stick",
    ),
    (
        Wish::Check,
        "Look through it all",
        "is all sound, and how old is the last copy",
    ),
    (
        Wish::Removed,
        "What was removed",
        "in the last thirty days, and can come back",
    ),
];

/// What can be done with everything at once.
#[derive(Default)]
pub struct HomeScreen {
    choices: Choices,
}

impl Screen for HomeScreen {
    fn title(&self) -> String {
        "Everything of this home".to_owned()
    }

    fn page(&mut self, _home: &mut Home, _room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        let rows = WISHES.map(|it| (it.1.to_owned(), it.2.to_owned()));
        self.choices.draw(&mut page, &rows);
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        Choices::ACTIONS.to_vec()
    }

    fn explanation(&self) -> &'static str {
        "An archive is one file with everybody's notes, practice and tests, the recipes, the photographs and your own words. A page in it says how to read it without this program. Nothing in it is sealed: who opens it by hand while somebody tastes breaks the seal; so it asks once more before it writes any such thing. It is read into an empty home only, all of it or nothing. A copy is the file itself; the program makes one a day by itself, in the folder copies of the home. To bring one back, type in a terminal: thirdglass home restore FILE"
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match self.choices.act(act, WISHES.len()) {
            Picked::Row(row) => match WISHES[row].0 {
                Wish::Check => Next::after(LOOKED_THROUGH, |home| {
                    Ok(Next::Open(Box::new(looked_through(home)?)))
                }),
                Wish::Removed => Next::Open(Box::<RemovedScreen>::default()),
                Wish::With(wish) => Next::Open(Box::new(WishScreen {
                    wish,
                    asking: Asking::default(),
                })),
            },
            Picked::Left => Next::Close,
            Picked::Moved | Picked::Nothing => Next::Stay,
        })
    }
}

/// The page that tells whether everything is sound.
fn looked_through(home: &mut Home) -> Result<DoneScreen, WorkflowError> {
    let found = home.check()?;
    let lines = move |cells| reports::home_check_lines(&found, cells);
    Ok(DoneScreen::then_back("Looked through", Box::new(lines)))
}

/// The question for the file or folder.
struct WishScreen {
    wish: FileWish,
    asking: Asking,
}

impl Question for WishScreen {
    fn heading(&self) -> String {
        match self.wish {
            FileWish::Export => "Everything into one file".to_owned(),
            FileWish::Import => "Read an archive in".to_owned(),
            FileWish::Tables => "Tables for a spreadsheet".to_owned(),
            FileWish::Backup => "A copy of this home's file".to_owned(),
        }
    }

    fn asked(&self) -> &'static str {
        match self.wish {
            FileWish::Export => "The file to write, such as kitchen.zip; it must not exist yet.",
            FileWish::Import => {
                "The archive to read. Nobody and nothing may have been added here yet."
            }
            FileWish::Tables => {
                "The folder to write, such as kitchen-tables; it must not exist yet."
            }
            FileWish::Backup => {
                "The file to write, such as thirdglass-copy.db; it must not exist yet."
            }
        }
    }

    fn purpose(&self) -> &'static str {
        match self.wish {
            FileWish::Export => {
                "Everything of this home goes into the file. While anything is sealed it is asked once more. Only you can read it. Nothing changes here."
            }
            FileWish::Import => {
                "Everything of the archive comes in, or nothing. Whatever is wrong in it is told with its file and line."
            }
            FileWish::Tables => {
                "One table with commas each, and all of them as one JSON file. What is sealed is left out, and told here. Only you can open the folder. Nothing changes here."
            }
            FileWish::Backup => {
                "The whole file as it is now, sealed things too; who opens it by hand breaks the seal. Only you can read it. Nothing changes here."
            }
        }
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn needs(&self) -> Option<&'static str> {
        Some("the name of a file or folder is needed")
    }

    fn accept(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        let file = typed_place(answer);
        let wish = self.wish;
        Ok(match wish {
            FileWish::Export => return export(shown_place(&file), home),
            FileWish::Import => Next::after(READ, move |home| read_in(&file, home)),
            FileWish::Tables => {
                home.ensure_free_folder(&file)?;
                Next::after(WRITTEN, move |home| tables(&file, home))
            }
            FileWish::Backup => Next::after(WRITTEN, move |home| copy(&file, home)),
        })
    }
}

fn read_in(file: &Path, home: &mut Home) -> Result<Next, WorkflowError> {
    let (read, shown) = (home.read_archive(file)?, shown_place(file));
    let lines = move |cells| reports::archive_read_lines(&shown, &read, cells);
    let done = DoneScreen::then_first_screen("Read in", Box::new(lines));
    Ok(Next::Replace(Box::new(done)))
}

fn tables(folder: &Path, home: &mut Home) -> Result<Next, WorkflowError> {
    let (tables, shown) = (home.home_tables()?, shown_place(folder));
    let files = reports::table_files(&tables, TableFiles::Both);
    home.write_tables(folder, &files, |it, out| it.write(out))?;
    let lines = move |cells| reports::tables_written_lines(&shown, &tables, cells);
    let done = DoneScreen::then_back("Written", Box::new(lines));
    Ok(Next::Replace(Box::new(done)))
}

fn copy(file: &Path, home: &Home) -> Result<Next, WorkflowError> {
    home.write_copy(file)?;
    let shown = shown_place(file);
    let lines = move |cells| reports::copied_lines(&shown, cells);
    let done = DoneScreen::then_back("Written", Box::new(lines));
    Ok(Next::Replace(Box::new(done)))
}

/// Writes the archive, or asks once more where it would hold what is sealed.
fn export(file: String, home: &Home) -> Result<Next, WorkflowError> {
    home.ensure_free(Path::new(&file))?;
    if !home.is_anything_sealed()? {
        let write = move |home: &mut Home| written(file, Sealed::Waits, home);
        return Ok(Next::after(WRITTEN, write));
    }
    let asked = "Something here is still sealed: a tasting, a panel, a practice or a blind test is open. The archive would hold it unsealed, for whoever opens it by hand to read. y writes it all the same; n writes nothing.";
    let does = move |_: &mut Home| {
        let file = file.clone();
        let write = move |home: &mut Home| written(file, Sealed::Too, home);
        Ok(Next::after(WRITTEN, write))
    };
    Ok(Next::Replace(Box::new(SureScreen::new(
        "Write what is sealed too?".to_owned(),
        asked.to_owned(),
        "A copy for safety's sake can wait until everything is locked, told or closed. If it cannot, keep the file where nobody who still tastes or answers looks into it.",
        Box::new(does),
    ))))
}

fn written(file: String, sealed: Sealed, home: &Home) -> Result<Next, WorkflowError> {
    let written = home.write_archive(Path::new(&file), sealed)?;
    let lines = move |cells| reports::archive_written_lines(&file, &written, cells);
    let done = DoneScreen::then_back("Written", Box::new(lines));
    Ok(Next::Replace(Box::new(done)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::NotesSource;
    use crate::screens::trial::keys;
    use crate::screens::trial::picture;
    use crate::screens::trial::started;

    #[test]
    fn an_archive_that_was_written_on_the_screen_is_read_in_on_the_screen_of_an_empty_home() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("all.zip").display().to_string();
        let mut home = Home::trial_with_a_batch();
        let ana = home.add_taster("Ana").unwrap();
        home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        let mut app = started(home);
        keys(&mut app, &format!("5pe1{file}⏎"));
        // Ana still tastes: Enter does nothing, no writes nothing, only yes writes.
        let asked = picture(&mut app).replace('\n', " ");
        assert!(asked.contains("Write what is sealed too?"), "{asked}");
        keys(&mut app, "⏎n");
        assert!(!Path::new(&file).exists());
        keys(&mut app, &format!("1{file}⏎y"));
        let written = picture(&mut app).replace('\n', " ");
        assert!(
            written.contains("Written") && written.contains("breaks the"),
            "{written}"
        );
        keys(&mut app, &format!("⏎2{file}⏎"));
        let refused = picture(&mut app).replace('\n', " ");
        assert!(refused.contains("empty home only"), "{refused}");
        let mut other = started(Home::trial());
        keys(&mut other, &format!("5pe2{file}⏎"));
        let read = picture(&mut other);
        assert!(read.contains("to the last answer"), "{read}");
        keys(&mut other, "⏎");
        let start = picture(&mut other);
        assert!(start.contains("Go on: Ana tastes T1"), "{start}");
    }
}
