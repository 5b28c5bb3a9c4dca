//! The measures of a panel whose ratings are kept elsewhere.

use std::path::Path;

use crate::formats::read_panel;
use crate::storage::open_table;
pub use crate::training::LineAgreement;
pub use crate::training::LinePrecision;
pub use crate::training::NoScatter;
pub use crate::training::PanelMeasures;
pub use crate::training::TasterLine;
pub use crate::training::TasterMeasures;
use crate::training::panel_measures;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

impl Home {
    /// How far the ratings in a file can be trusted: each taster with themselves, and all with one another.
    /// Nothing is kept.
    ///
    /// # Errors
    /// The file cannot be read, or every problem in it at once.
    pub fn panel_measures(&self, file: &Path) -> Result<PanelMeasures, WorkflowError> {
        let mut ratings = Vec::new();
        let table = open_table(file)?;
        read_panel(&file.display().to_string(), table, |it| ratings.push(it))
            .map_err(|problems| WorkflowError::Problems { problems })?;
        Ok(panel_measures(&ratings))
    }
}
