//! Adding and finding the people who taste.

use crate::domain::Name;
use crate::domain::Taster;
use crate::domain::TasterId;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

impl Home {
    /// Adds a taster.
    ///
    /// # Errors
    /// The name is refused or taken.
    pub fn add_taster(&mut self, name: &str) -> Result<Taster, WorkflowError> {
        let name = Name::new("a taster's name", name)?;
        if self.store.taster_named(&name)?.is_some() {
            return Err(WorkflowError::NameTaken {
                name: name.to_string(),
            });
        }
        let taster = Taster {
            id: TasterId::new(self.draw_id()),
            name,
            made_at: self.now(),
        };
        self.store.add_taster(&taster)?;
        Ok(taster)
    }

    /// All tasters, by name.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn tasters(&self) -> Result<Vec<Taster>, WorkflowError> {
        Ok(self.store.tasters()?)
    }

    /// The taster whose notes were begun last.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn latest_taster(&self) -> Result<Option<Taster>, WorkflowError> {
        Ok(self.store.latest_taster()?)
    }

    /// The taster of this name.
    ///
    /// # Errors
    /// There is none; the message names those that exist.
    pub fn taster(&self, name: &str) -> Result<Taster, WorkflowError> {
        let asked = Name::new("a taster's name", name)?;
        match self.store.taster_named(&asked)? {
            Some(taster) => Ok(taster),
            None => Err(WorkflowError::NoTaster {
                asked: asked.to_string(),
                known: self
                    .tasters()?
                    .iter()
                    .map(|it| it.name.to_string())
                    .collect(),
            }),
        }
    }

    /// The taster of this name, added if new.
    ///
    /// # Errors
    /// The name is refused.
    pub fn taster_or_new(&mut self, name: &str) -> Result<Taster, WorkflowError> {
        match self.taster(name) {
            Err(WorkflowError::NoTaster { .. }) => self.add_taster(name),
            other => other,
        }
    }
}
