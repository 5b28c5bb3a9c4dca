//! Photographs of a beer: copied in, listed, written out again, removed; sealed as the plan is.

use std::path::Path;
use std::path::PathBuf;

use thiserror::Error;

use crate::domain::Beer;
use crate::domain::Name;
use crate::domain::NotesId;
use crate::domain::Photograph;
use crate::domain::PhotographId;
use crate::domain::PhotographKind;
use crate::formats::CleanPhotograph;
use crate::formats::PhotographError;
use crate::formats::read_photograph;
use crate::storage::ensure_free_place;
use crate::storage::read_bytes;
use crate::storage::write_new_private_bytes;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// The longest file that is read as a picture: 48 MiB, far beyond what telephones write.
const MOST: u64 = 48 * 1024 * 1024;

/// What is refused while somebody tastes, for messages: a label says what is in the glass.
const SEALED: &str = "what was photographed";

/// Why something of a photograph could not be done.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum PhotographRefused {
    /// The file is no picture that can be taken in.
    #[error("could not take in {}: {error}", file.display())]
    NotRead {
        /// The file.
        file: PathBuf,
        /// Why.
        error: PhotographError,
    },
    /// There is none of this number.
    #[error("“{mark}” has no photograph {asked}; {}", match .there.as_slice() { [] => "none was added yet".to_owned(), there => format!("there are: {}", there.iter().map(u32::to_string).collect::<Vec<_>>().join(", ")) })]
    NoneSuch {
        /// The cap mark.
        mark: String,
        /// What was asked for.
        asked: u32,
        /// The numbers there are.
        there: Vec<u32>,
    },
    /// A photograph in an archive is not what its row says.
    #[error("the photograph {id} cannot be taken in: {found}")]
    NotAsKept {
        /// Its id.
        id: String,
        /// What is wrong.
        found: String,
    },
    /// The taster has no notes that it could belong to.
    #[error(
        "{taster} has no notes on “{mark}” that a photograph could belong to; leave the taster out, and it belongs to the beer alone"
    )]
    NoNotes {
        /// Who.
        taster: String,
        /// The cap mark.
        mark: String,
    },
}

/// One photograph in a list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PhotographRow {
    /// What is known of it.
    pub photograph: Photograph,
    /// Whose notes it belongs to.
    pub taster: Option<Name>,
}

/// One photograph with its bytes, to be printed or written out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WholePhotograph {
    /// What is known of it: what it is of, its kind of file, its pixels, when it was copied in.
    pub photograph: Photograph,
    /// The file itself.
    pub bytes: Vec<u8>,
}

/// A picture as it would be copied in.
fn clean(file: &Path) -> Result<CleanPhotograph, WorkflowError> {
    let read = read_bytes(file, MOST)?;
    let clean = read_photograph(&read).map_err(|error| PhotographRefused::NotRead {
        file: file.to_owned(),
        error,
    });
    Ok(clean?)
}

impl Home {
    /// Lets pass a file that is a picture which can be copied in; nothing is kept.
    ///
    /// # Errors
    /// The file cannot be read, or holds no such picture.
    pub fn ensure_photograph(&self, file: &Path) -> Result<(), WorkflowError> {
        clean(file).map(|_| ())
    }

    /// Copies a picture in: turned upright, made small, without place, time and camera. With a taster it
    /// belongs to their latest notes on this beer and goes with these. Adding tells nothing, so that a
    /// glass can be photographed while it is tasted.
    ///
    /// # Errors
    /// No beer has the mark, the file is no JPEG or PNG picture, or the taster has no notes on this beer.
    pub fn add_photograph(
        &mut self,
        mark: &str,
        file: &Path,
        kind: PhotographKind,
        taster: Option<&str>,
    ) -> Result<Photograph, WorkflowError> {
        let beer = self.beer(mark)?;
        let notes = taster
            .map(|name| self.notes_to_hang_on(&beer, name))
            .transpose()?;
        let clean = clean(file)?;
        let mut photograph = Photograph {
            id: PhotographId::new(self.draw_id()),
            number: 0,
            kind,
            notes,
            media_type: clean.media_type.to_owned(),
            width: clean.width,
            height: clean.height,
            sha256: clean.sha256,
            length: u32::try_from(clean.bytes.len()).unwrap_or(u32::MAX),
            made_at: self.now(),
        };
        self.store.in_one_go(|store| {
            photograph.number = store.next_photograph_number(&beer.id)?;
            store.add_photograph(&beer.id, &photograph, &clean.bytes)
        })?;
        Ok(photograph)
    }

    /// The latest notes of a taster on a beer.
    fn notes_to_hang_on(&self, beer: &Beer, name: &str) -> Result<NotesId, WorkflowError> {
        let taster = self.taster(name)?;
        let rows = self.store.notes_of_beer(&beer.id)?;
        let own = rows.into_iter().rfind(|it| it.taster.id == taster.id);
        own.map(|it| it.notes).ok_or_else(|| {
            WorkflowError::from(PhotographRefused::NoNotes {
                taster: taster.name.to_string(),
                mark: beer.cap_mark.to_string(),
            })
        })
    }

    /// The photographs of a beer, by their numbers.
    ///
    /// # Errors
    /// No beer has the mark, or somebody is tasting it: a label says what is in the glass.
    pub fn photographs(&self, mark: &str) -> Result<Vec<PhotographRow>, WorkflowError> {
        let beer = self.beer(mark)?;
        self.ensure_plan_unsealed(&beer, SEALED)?;
        self.photograph_rows(&beer)
    }

    /// The photographs of a beer, whoever tastes it.
    pub(super) fn photograph_rows(&self, beer: &Beer) -> Result<Vec<PhotographRow>, WorkflowError> {
        let found = self.store.photographs(&beer.id)?;
        let rows = found.into_iter().map(|photograph| {
            let taster = match &photograph.notes {
                Some(notes) => Some(self.store.notes_with_row(notes)?.1.taster.name),
                None => None,
            };
            Ok(PhotographRow { photograph, taster })
        });
        rows.collect()
    }

    /// The photographs of a beer with their bytes, by their numbers, such as for a printed report.
    ///
    /// # Errors
    /// No beer has the mark, or somebody is tasting it.
    pub fn photographs_of(&self, mark: &str) -> Result<Vec<WholePhotograph>, WorkflowError> {
        let rows = self.photographs(mark)?.into_iter();
        rows.map(|it| self.whole(it.photograph)).collect()
    }

    fn whole(&self, photograph: Photograph) -> Result<WholePhotograph, WorkflowError> {
        let bytes = self.store.photograph_bytes(&photograph.id)?;
        Ok(WholePhotograph { photograph, bytes })
    }

    /// One photograph of a beer.
    pub(super) fn photograph(&self, mark: &str, number: u32) -> Result<Photograph, WorkflowError> {
        let rows = self.photographs(mark)?;
        let there = rows.iter().map(|it| it.photograph.number).collect();
        let found = rows.into_iter().find(|it| it.photograph.number == number);
        found.map(|it| it.photograph).ok_or_else(|| {
            WorkflowError::from(PhotographRefused::NoneSuch {
                mark: mark.to_owned(),
                asked: number,
                there,
            })
        })
    }

    /// Writes a photograph into a new file that only the user may read.
    ///
    /// # Errors
    /// There is none of this number, it is sealed, or the file is there already.
    pub fn write_photograph(
        &self,
        mark: &str,
        number: u32,
        file: &Path,
    ) -> Result<WholePhotograph, WorkflowError> {
        ensure_free_place(file)?;
        let whole = self.whole(self.photograph(mark, number)?)?;
        write_new_private_bytes(file, &whole.bytes)?;
        Ok(whole)
    }
}
