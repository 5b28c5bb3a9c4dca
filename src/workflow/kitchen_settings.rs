//! The settings of a kitchen: where they stand, and a file to begin with.

use std::path::Path;

use crate::formats::SETTINGS_EXAMPLE;
use crate::storage::settings_path;
use crate::storage::write_new_file;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

impl Home {
    /// The file that would hold the settings.
    #[must_use]
    pub fn settings_file(&self) -> String {
        let folder = self.folder().unwrap_or(Path::new(""));
        settings_path(folder).display().to_string()
    }

    /// Writes a settings file with every key, its default and a comment.
    ///
    /// # Errors
    /// There is one already, or the disk refuses.
    pub fn write_settings(&self) -> Result<(), WorkflowError> {
        let folder = self.folder().unwrap_or(Path::new(""));
        Ok(write_new_file(&settings_path(folder), SETTINGS_EXAMPLE)?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::SheetSize;
    use crate::statistics::Dice;
    use crate::workflow::Clock;

    #[test]
    fn one_line_that_cannot_be_read_keeps_nobody_from_tasting() {
        let folder = tempfile::tempdir().unwrap();
        let slip = "paper = \"letter\"\nstandard-drink = \"a lot\"\n";
        std::fs::write(folder.path().join("settings.toml"), slip).unwrap();
        let home = Home::open(folder.path(), Clock::system(), Dice::from_seed(1)).unwrap();
        assert_eq!(home.settings().paper, SheetSize::Letter);
        assert_eq!(home.unread_settings().len(), 1);
    }
}
