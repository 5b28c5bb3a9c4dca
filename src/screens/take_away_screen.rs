//! Everything that is kept of a taster, as a file to take away.

use std::path::Path;

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::wrap;
use crate::reports;
use crate::reports::ExportKind;
use crate::screens::Asking;
use crate::screens::Next;
use crate::screens::Question;
use crate::screens::done_screen::DoneScreen;
use crate::screens::waiting::WRITTEN;
use crate::workflow::Home;
use crate::workflow::WorkflowError;
use crate::workflow::typed_place;

/// The question for the name of the file.
pub struct TakeAwayScreen {
    name: String,
    asking: Asking,
}

impl TakeAwayScreen {
    /// The question for the file of a taster of this name.
    #[must_use]
    pub fn new(name: String) -> Self {
        Self {
            name,
            asking: Asking::default(),
        }
    }
}

/// A table for a name that ends as tables do, everything for any other.
fn kind_of(file: &Path) -> ExportKind {
    match file.extension() {
        Some(end) if end.eq_ignore_ascii_case("csv") => ExportKind::Table,
        _ => ExportKind::Everything,
    }
}

impl Question for TakeAwayScreen {
    fn heading(&self) -> String {
        format!("Everything of {}", self.name)
    }

    fn asked(&self) -> &'static str {
        "The file to write, such as notes.json; it must not exist yet. A name that ends in .csv gives the rated answers alone, as a table."
    }

    fn purpose(&self) -> &'static str {
        "The file holds all that is kept of this person and nothing of anybody else. Only you can read it. Nothing changes here."
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
        let file = typed_place(answer);
        home.ensure_free(&file)?;
        let name = self.name.clone();
        Ok(Next::after(WRITTEN, move |home| {
            written(&name, &file, home)
        }))
    }
}

/// Writes everything of this taster into a file, and says what it holds.
fn written(name: &str, file: &Path, home: &mut Home) -> Result<Next, WorkflowError> {
    let export = home.taster_export(name)?;
    let written = reports::written_export(&export, kind_of(file));
    home.write_export(file, &written.text)?;
    let text = format!(
        "Written: {}, for your eyes alone. {}",
        file.display(),
        written.holds
    );
    let lines = move |cells| {
        let told = wrap(&text, cells).into_iter();
        let mut lines: Vec<Line> = told.map(|it| Line::of(Ink::Plain, it)).collect();
        lines.push(Line::blank());
        lines.extend(reports::held_back_lines(&export, cells));
        lines
    };
    let done = DoneScreen::then_back("Written", Box::new(lines));
    Ok(Next::Replace(Box::new(done)))
}
