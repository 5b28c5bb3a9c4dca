//! What is at home, as the brewer's own list says.

use crate::domain::Larder;
use crate::formats::read_larder;
use crate::storage::user_larder_file;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

impl Home {
    /// The list of what is at home, read anew each time; none where there is no `larder.toml` in the data folder.
    ///
    /// # Errors
    /// The file cannot be read, or every problem in it at once.
    pub fn larder(&self) -> Result<Option<Larder>, WorkflowError> {
        let Some(folder) = self.folder() else {
            return Ok(None);
        };
        let Some((file, text)) = user_larder_file(folder)? else {
            return Ok(None);
        };
        read_larder(&file, &text, self.catalogue())
            .map(Some)
            .map_err(|problems| WorkflowError::Problems { problems })
    }
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;
    use crate::domain::Grams;
    use crate::formats::LARDER_EXAMPLE;
    use crate::statistics::Dice;
    use crate::workflow::Clock;

    #[test]
    fn a_home_without_a_list_has_no_larder_and_one_with_it_has_it_at_once() {
        let folder = tempfile::tempdir().unwrap();
        let home = Home::open(folder.path(), Clock::system(), Dice::from_seed(1)).unwrap();
        assert_eq!(home.larder().unwrap(), None);
        assert_eq!(Home::trial().larder().unwrap(), None);
        let file = folder.path().join("larder.toml");
        fs::write(&file, LARDER_EXAMPLE).unwrap();
        let larder = home.larder().unwrap().unwrap();
        assert_eq!(larder.items.len(), 4);
        assert_eq!(larder.items[2].amount, Grams::new(80.0).ok());
        fs::write(&file, "[[have]]\nname = \"Sasz\"\n").unwrap();
        let problem = home.larder().unwrap_err().to_string();
        assert!(problem.contains("larder.toml:2:8"), "{problem}");
        assert!(problem.contains("did you mean “Saaz”"), "{problem}");
    }
}
