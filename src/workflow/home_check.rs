//! Looking through a whole home: the file, what the trade allows, sums that are kept, pictures, copies.

use crate::domain::Day;
use crate::storage::FileProblem;
use crate::storage::StorageError;
use crate::workflow::Home;
use crate::workflow::WorkflowError;
use crate::workflow::imports::counted_again;

/// Days after which a copy is old, judged for somebody who tastes once a week.
const OLD: i64 = 14;

/// What a look through a home found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HomeCheck {
    /// Everything that is wrong, each with what to do about it.
    pub problems: Vec<String>,
    /// How many rows were read.
    pub rows: u64,
    /// In how many tables.
    pub tables: u32,
    /// How many sums over imports were computed again.
    pub sums: usize,
    /// How many photographs were compared with what was kept of them.
    pub photographs: usize,
    /// The day of the newest copy that the program made by itself.
    pub copied_on: Option<Day>,
    /// That copy is old, or there is none though there is something to copy.
    pub copy_is_old: bool,
}

impl Home {
    /// Looks through everything and changes nothing.
    ///
    /// # Errors
    /// The file cannot be read at all.
    pub fn check(&mut self) -> Result<HomeCheck, WorkflowError> {
        let mut problems = self.damage()?;
        // What is damaged cannot be read further, and would be told twice.
        if problems.is_empty() {
            problems.extend(self.unreadable());
        }
        let mut tell = |error: WorkflowError| problems.push(error.to_string());
        let (rows, tables) = self.store.rows_in_tables().unwrap_or_else(|error| {
            tell(error.into());
            (0, 0)
        });
        let (sums, wrong) = self.wrong_sums().unwrap_or_else(|error| {
            tell(error);
            (0, 0)
        });
        let photographs = self.store.every_photograph().unwrap_or_else(|error| {
            tell(error.into());
            Vec::new()
        });
        if wrong > 0 {
            problems.push(format!(
                "{wrong} of {sums} sums over imports are not those of their ratings; put right by: thirdglass taster imports --recount"
            ));
        }
        let today = self.today();
        let copied_on = self.store.daily_copies().first().map(|it| it.day);
        let is_old = copied_on.map_or(rows > 0, |it| today.days_since(it) > OLD);
        Ok(HomeCheck {
            problems,
            rows,
            tables,
            sums,
            photographs: photographs.len(),
            copied_on,
            copy_is_old: is_old && self.folder().is_some(),
        })
    }

    /// What is wrong with the file itself.
    fn damage(&self) -> Result<Vec<String>, WorkflowError> {
        match self.store.check() {
            Ok(found) => Ok(found.iter().map(FileProblem::to_string).collect()),
            // So damaged that not even the look through comes to its end.
            Err(damaged @ StorageError::Damaged { .. }) => Ok(vec![damaged.to_string()]),
            Err(error) => Err(error.into()),
        }
    }

    /// What the trade does not allow, though the file is sound: each thing that cannot be read.
    fn unreadable(&mut self) -> Vec<String> {
        let mut found = Vec::new();
        self.read_everything(&mut found);
        let mut problems: Vec<String> = found.into_iter().map(|it| it.found).collect();
        for version in self.store.recipe_versions().unwrap_or_default() {
            if self
                .parse_recipe(version.name.as_str(), &version.document)
                .is_err()
            {
                // What exactly would tell of a recipe that may be sealed.
                problems.push(format!(
                    "the recipe {} {} cannot be read any more: a word or an ingredient of your own is gone or has changed; put it back",
                    version.name, version.version
                ));
            }
        }
        problems
    }

    /// How many sums over imports there are, and how many are not as they would be computed now.
    fn wrong_sums(&self) -> Result<(usize, usize), WorkflowError> {
        let (mut all, mut wrong) = (0, 0);
        for import in self.store.imports()? {
            let (sums, differing) = counted_again(&self.store, &import)?;
            all += sums.len();
            wrong += differing;
        }
        Ok((all, wrong))
    }
}
