//! What is at home, as the brewer's own list says.

use std::path::Path;

use crate::domain::Grams;
use crate::domain::IngredientId;
use crate::domain::Larder;
use crate::domain::LarderItem;
use crate::domain::PricePerKilogram;
use crate::formats::read_larder;
use crate::storage::larder_path;
use crate::storage::user_larder_file;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// What is at home, by the names people know.
#[derive(Debug, Clone, PartialEq)]
pub struct AtHome {
    /// Where it is written, or would be.
    pub file: String,
    /// Each ingredient with how much there is and what a kilogram costs; none where nothing is written yet.
    pub items: Option<Vec<ItemAtHome>>,
}

/// An ingredient by its name.
pub type ItemAtHome = (String, Option<Grams>, Option<PricePerKilogram>);

impl Home {
    /// What the catalogue calls an ingredient; its id where only a recipe declares it.
    pub(super) fn ingredient_name(&self, id: &IngredientId) -> String {
        let mut known = self.catalogue().identities();
        let known = known.find(|known| known.id == *id);
        known.map_or_else(|| id.to_string(), |it| it.name.clone())
    }

    /// The file that would say what is at home.
    pub(super) fn larder_file(&self) -> String {
        let folder = self.folder().unwrap_or(Path::new(""));
        larder_path(folder).display().to_string()
    }

    /// What is at home, to be shown.
    ///
    /// # Errors
    /// As for `larder`.
    pub fn at_home(&self) -> Result<AtHome, WorkflowError> {
        let named = |it: LarderItem| (self.ingredient_name(&it.ingredient), it.amount, it.price);
        let larder = self.larder()?;
        Ok(AtHome {
            file: self.larder_file(),
            items: larder.map(|it| it.items.into_iter().map(named).collect()),
        })
    }

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
