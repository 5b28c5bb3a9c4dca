//! The measures of a panel: of ratings kept elsewhere, and of the coded glasses of this home.

use std::collections::HashMap;
use std::path::Path;

use crate::domain::BeerId;
use crate::domain::Day;
use crate::domain::Name;
use crate::domain::NotesId;
use crate::domain::PanelRating;
use crate::domain::SittingId;
use crate::domain::TasterId;
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
use crate::workflow::taster_ratings::is_in_form;

/// Whether a taster of a panel reads what is poured, though they know the key then.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TasterReads {
    /// Nobody said yes to it.
    NotYet,
    /// They were told what it means, and said yes.
    Yes,
}

impl Home {
    /// How far the ratings in a file can be trusted: each taster with themselves, and all with one another.
    /// Nothing is kept.
    ///
    /// # Errors
    /// The file cannot be read, or every problem in it at once.
    pub fn panel_measures(&self, file: &Path) -> Result<PanelMeasures, WorkflowError> {
        let mut ratings = Vec::new();
        let (table, bytes) = open_table(file)?;
        let table = self.listener.reading(table, bytes);
        read_panel(&file.display().to_string(), table, |it| ratings.push(it))
            .map_err(|problems| WorkflowError::Problems { problems })?;
        Ok(panel_measures(&ratings))
    }

    /// The same of the coded glasses of this home: those of closed sittings, by tasters who were not led and had
    /// a good nose.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn own_measures(&self) -> Result<PanelMeasures, WorkflowError> {
        let notes = self.coded_notes()?;
        let in_form = notes.iter().filter(|it| is_in_form(it));
        let days: HashMap<&NotesId, Day> = in_form.map(|it| (&it.notes, it.tasted_on)).collect();
        let tasters: HashMap<TasterId, Name> = self
            .tasters()?
            .into_iter()
            .map(|it| (it.id, it.name))
            .collect();
        let mut glasses: HashMap<(SittingId, TasterId, BeerId, &str), u16> = HashMap::new();
        let mut ratings = Vec::new();
        for it in self.store.coded_ratings(&notes)? {
            let of = &it.of;
            let known = tasters.get(&of.taster).zip(days.get(&of.notes));
            let Some((taster, day)) = known.filter(|_| it.scale.stage.is_some()) else {
                continue;
            };
            let (sitting, taster_id, beer) = (&of.sitting, &of.taster, &of.beer);
            let glass = (
                sitting.clone(),
                taster_id.clone(),
                beer.clone(),
                it.scale.id,
            );
            let replicate = glasses.entry(glass).or_insert(0);
            *replicate += 1;
            ratings.push(PanelRating {
                taster: taster.clone(),
                sitting: Name::new("a sitting", of.sitting.as_str())?,
                sample: Name::new("a beer", of.beer.as_str())?,
                replicate: *replicate,
                tasted_on: *day,
                line: Name::new("a scale", it.scale.word)?,
                digits: it.scale.digits(it.value),
            });
        }
        Ok(panel_measures(&ratings))
    }
}
