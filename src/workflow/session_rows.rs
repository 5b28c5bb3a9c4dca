//! The rows of a session: every id drawn first, so that all of them can be written in one go.

use std::collections::HashMap;

use crate::domain::Batch;
use crate::domain::BatchEntry;
use crate::domain::BatchEntryId;
use crate::domain::BatchId;
use crate::domain::Beer;
use crate::domain::BeerId;
use crate::domain::BlindingCode;
use crate::domain::Day;
use crate::domain::Field;
use crate::domain::Mark;
use crate::domain::MarkId;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::Notes;
use crate::domain::NotesId;
use crate::domain::NotesSource;
use crate::domain::RecipeVersion;
use crate::domain::RecipeVersionId;
use crate::domain::Sample;
use crate::domain::SampleId;
use crate::domain::Seat;
use crate::domain::SeatId;
use crate::domain::SeatRole;
use crate::domain::Sitting;
use crate::domain::SittingId;
use crate::domain::SittingKind;
use crate::domain::Taster;
use crate::domain::TasterId;
use crate::formats::SessionBatch;
use crate::formats::SessionBeer;
use crate::formats::SessionMark;
use crate::formats::SessionTasting;
use crate::formats::document_hash;
use crate::storage::Store;
use crate::workflow::Home;
use crate::workflow::Imported;
use crate::workflow::ReadRecipe;
use crate::workflow::WorkflowError;
use crate::workflow::session_import::ReadSession;

/// Why an id that a session refers to is always there.
const LISTED: &str = "the reader refuses a name that the session does not list";

/// All rows of a session, ready to be written.
#[derive(Default)]
pub(crate) struct SessionRows {
    tasters: Vec<Taster>,
    versions: Vec<RecipeVersion>,
    batches: Vec<BatchRows>,
    beers: Vec<Beer>,
    sittings: Vec<SittingRows>,
    taster_ids: HashMap<Name, TasterId>,
    version_ids: HashMap<Name, RecipeVersionId>,
    beer_ids: HashMap<Name, BeerId>,
}

struct BatchRows {
    batch: Batch,
    beer: Beer,
    log: Vec<BatchEntry>,
}

/// Everybody who had the same beer on the same day.
struct SittingRows {
    day: Day,
    sitting: Sitting,
    sample: Sample,
    seats: Vec<(Seat, Notes)>,
}

impl SessionRows {
    /// Draws the rows of a session whose names are all free.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(crate) fn draw(home: &mut Home, read: ReadSession) -> Result<Self, WorkflowError> {
        let mut rows = Self::default();
        for name in read.session.tasters {
            rows.add_taster(home, name);
        }
        for (file, recipe) in read.recipes {
            rows.add_version(home, file, recipe)?;
        }
        for batch in read.session.batches {
            rows.add_batch(home, batch);
        }
        for beer in read.session.beers {
            rows.add_beer(home, beer);
        }
        for tasting in read.session.tastings {
            rows.add_tasting(home, tasting)?;
        }
        Ok(rows)
    }

    /// Writes every row.
    ///
    /// # Errors
    /// Another program took a name meanwhile, or the file refuses.
    pub(crate) fn write(&self, store: &mut Store) -> Result<(), WorkflowError> {
        for taster in &self.tasters {
            store.add_taster(taster)?;
        }
        for version in &self.versions {
            store.add_recipe_version(version)?;
        }
        for BatchRows { batch, beer, log } in &self.batches {
            store.add_batch(batch, beer)?;
            for entry in log {
                store.add_entry(&batch.id, entry)?;
            }
        }
        for beer in &self.beers {
            store.add_beer(beer)?;
        }
        for rows in &self.sittings {
            for (index, (seat, notes)) in rows.seats.iter().enumerate() {
                if index == 0 {
                    store.open_sitting(&rows.sitting, seat, &rows.sample, notes)?;
                } else {
                    store.join_sitting(seat, notes)?;
                }
            }
        }
        Ok(())
    }

    /// How many there are.
    pub(crate) fn counted(&self) -> Imported {
        Imported {
            tasters: self.tasters.len(),
            versions: self.versions.len(),
            batches: self.batches.len(),
            beers: self.beers.len(),
            tastings: self.sittings.iter().map(|it| it.seats.len()).sum(),
        }
    }

    fn add_taster(&mut self, home: &mut Home, name: Name) {
        let id = TasterId::new(home.draw_id());
        self.taster_ids.insert(name.clone(), id.clone());
        let made_at = home.now();
        self.tasters.push(Taster { id, name, made_at });
    }

    /// Adds a version, or finds the one kept before with the same contents.
    fn add_version(
        &mut self,
        home: &mut Home,
        file: Name,
        read: ReadRecipe,
    ) -> Result<(), WorkflowError> {
        let hash = document_hash(&read.document);
        if let Some(kept) = home.store.recipe_version_with_hash(&hash)? {
            self.version_ids.insert(file, kept.id);
            return Ok(());
        }
        let recipe = read.recipe;
        let parent = match &recipe.parent {
            Some(parent) => self.parent(home, &recipe.name, parent)?,
            None => None,
        };
        let id = RecipeVersionId::new(home.draw_id());
        self.version_ids.insert(file, id.clone());
        self.versions.push(RecipeVersion {
            id,
            parent,
            reason: recipe.reason,
            name: recipe.name,
            version: recipe.version,
            document: read.document,
            hash,
            made_at: home.now(),
        });
        Ok(())
    }

    /// The version of a recipe in the session, which brings parents first, or in the home.
    fn parent(
        &self,
        home: &Home,
        name: &Name,
        version: &Name,
    ) -> Result<Option<RecipeVersionId>, WorkflowError> {
        let mut here = self.versions.iter();
        Ok(
            match here.find(|it| it.name == *name && it.version == *version) {
                Some(here) => Some(here.id.clone()),
                None => home
                    .store
                    .recipe_version_named(name, version)?
                    .map(|it| it.id),
            },
        )
    }

    fn add_batch(&mut self, home: &mut Home, read: SessionBatch) {
        let batch = Batch {
            id: BatchId::new(home.draw_id()),
            version: self.version_ids.get(&read.recipe).expect(LISTED).clone(),
            cap_mark: read.cap_mark.clone(),
            made_at: read.made_at,
        };
        let beer = Beer {
            id: BeerId::new(home.draw_id()),
            cap_mark: read.cap_mark,
            batch: Some(batch.id.clone()),
            abv: None,
        };
        self.beer_ids.insert(beer.cap_mark.clone(), beer.id.clone());
        let log = read.log.into_iter().map(|entry| BatchEntry {
            id: BatchEntryId::new(home.draw_id()),
            kind: entry.kind,
            value: entry.value,
            at: entry.at,
        });
        let log = log.collect();
        self.batches.push(BatchRows { batch, beer, log });
    }

    fn add_beer(&mut self, home: &mut Home, read: SessionBeer) {
        let beer = Beer {
            id: BeerId::new(home.draw_id()),
            cap_mark: read.cap_mark,
            batch: None,
            abv: read.abv,
        };
        self.beer_ids.insert(beer.cap_mark.clone(), beer.id.clone());
        self.beers.push(beer);
    }

    fn add_tasting(&mut self, home: &mut Home, read: SessionTasting) -> Result<(), WorkflowError> {
        let taster = self.taster_ids.get(&read.taster).expect(LISTED).clone();
        let beer = self.beer_ids.get(&read.cap_mark).expect(LISTED).clone();
        // One person has one seat in a sitting: the same beer again that day was another sitting.
        let joined = self.sittings.iter().position(|it| {
            let same = it.sample.beer == beer && it.day == read.tasted_on;
            same && it.seats.iter().all(|(seat, _)| seat.taster != taster)
        });
        let index = if let Some(index) = joined {
            index
        } else {
            let rows = SittingRows::draw(home, beer, read.tasted_on, read.at)?;
            self.sittings.push(rows);
            self.sittings.len() - 1
        };
        self.sittings[index].seat(home, taster, read);
        Ok(())
    }
}

impl SittingRows {
    fn draw(home: &mut Home, beer: BeerId, day: Day, at: Moment) -> Result<Self, WorkflowError> {
        let code = u16::try_from(home.dice.whole(100, 999)).unwrap_or(100);
        let sitting = Sitting {
            id: SittingId::new(home.draw_id()),
            kind: SittingKind::Tasting,
            seed: home.dice.seed(),
            made_at: at,
            closed_at: Some(at),
        };
        let sample = Sample {
            id: SampleId::new(home.draw_id()),
            sitting: sitting.id.clone(),
            code: BlindingCode::new(code)?,
            beer,
            duplicate_of: None,
        };
        Ok(Self {
            day,
            sitting,
            sample,
            seats: Vec::new(),
        })
    }

    /// Seats a taster with their notes; the sitting lasts from the first to the last of them.
    fn seat(&mut self, home: &mut Home, taster: TasterId, read: SessionTasting) {
        self.sitting.made_at = self.sitting.made_at.min(read.at);
        self.sitting.closed_at = self.sitting.closed_at.max(Some(read.at));
        let seat = Seat {
            id: SeatId::new(home.draw_id()),
            sitting: self.sitting.id.clone(),
            taster,
            role: SeatRole::Taster,
            left_at: match read.locked_at {
                Some(_) => None,
                None => Some(read.at),
            },
        };
        let notes = notes_of(home, &seat, &self.sample, read);
        self.seats.push((seat, notes));
    }
}

fn notes_of(home: &mut Home, seat: &Seat, sample: &Sample, read: SessionTasting) -> Notes {
    let marks = read.marks.into_iter().map(|it| mark_of(home, it)).collect();
    Notes {
        id: NotesId::new(home.draw_id()),
        seat: seat.id.clone(),
        sample: sample.id.clone(),
        round: 1,
        form: read.form,
        source: NotesSource::Document,
        knew: read.knew,
        nose: read.nose,
        tasted_on: read.tasted_on,
        typed_on: read.at,
        current_field: Field::Lock.id(),
        seal_broken_at: None,
        locked_at: read.locked_at,
        bottle_fault: read.bottle_fault,
        remark: read.remark,
        ratings: read.ratings,
        marks,
        stopwatches: Vec::new(),
    }
}

fn mark_of(home: &mut Home, read: SessionMark) -> Mark {
    Mark {
        id: MarkId::new(home.draw_id()),
        stage: read.stage,
        subject: read.subject,
        intensity: read.intensity,
        prompting: read.prompting,
    }
}
