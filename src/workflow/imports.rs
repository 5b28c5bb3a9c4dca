//! Ratings that were kept elsewhere: looked at, read in, counted again, taken away.

use std::path::Path;

use crate::domain::Day;
use crate::domain::Import;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::PanelRating;
use crate::domain::SCALES;
use crate::domain::Scale;
use crate::domain::Taster;
use crate::domain::TasterId;
use crate::domain::is_same_name;
use crate::formats::RatingTable;
use crate::formats::read_panel;
use crate::storage::ImportSummary;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::open_table;
use crate::training::GlassRating;
use crate::training::RatingGatherer;
use crate::training::RatingSums;
use crate::workflow::Home;
use crate::workflow::Listener;
use crate::workflow::WorkflowError;

/// What a table of ratings holds, before or after it is read in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ImportTable {
    /// How many ratings.
    pub ratings: u32,
    /// The days of the first and the last.
    pub days: Option<(Day, Day)>,
    /// Its tasters who are known here.
    pub known: Vec<Name>,
    /// Its tasters who are added.
    pub added: Vec<Name>,
    /// Its lines that are scales of this program: the name in the table, and the word here.
    pub scales: Vec<(Name, &'static str)>,
    /// Its other lines, kept under their names.
    pub others: Vec<Name>,
    /// The import of the same bytes, where there is one.
    pub before: Option<Import>,
}

/// An import whose sums were computed again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Recounted {
    /// The import.
    pub import: Import,
    /// How many of its sums were not as they were kept; they are now.
    pub mended: usize,
}

/// What is seen of a table while it is read.
#[derive(Default)]
struct Seen {
    tasters: Vec<Name>,
    lines: Vec<Name>,
    days: Option<(Day, Day)>,
}

impl Seen {
    fn see(&mut self, rating: &PanelRating) {
        // Rows of one taster stand together as a rule, so the last one is looked at first.
        for (all, name) in [
            (&mut self.tasters, &rating.taster),
            (&mut self.lines, &rating.line),
        ] {
            if !all.iter().rev().any(|it| it == name) {
                all.push(name.clone());
            }
        }
        let day = rating.tasted_on;
        self.days = Some(match self.days {
            None => (day, day),
            Some((first, last)) => (first.min(day), last.max(day)),
        });
    }
}

/// The scale that a line of an import stands for, by its id or its word.
pub(super) fn scale_of_line(line: &str) -> Option<&'static Scale> {
    let is_it =
        |it: &&Scale| it.id.eq_ignore_ascii_case(line) || it.word.eq_ignore_ascii_case(line);
    SCALES.iter().filter(|it| it.stage.is_some()).find(is_it)
}

/// The id of the scale that a line of an import stands for, or its name in small letters.
pub(super) fn line_id(line: &str) -> String {
    scale_of_line(line).map_or_else(|| line.to_lowercase(), |it| it.id.to_owned())
}

impl Home {
    /// Looks a table of ratings through and keeps nothing.
    ///
    /// # Errors
    /// The file cannot be read, or every problem in it at once.
    pub fn look_at_import(&self, file: &Path) -> Result<ImportTable, WorkflowError> {
        let mut seen = Seen::default();
        let table = table_of(file, &self.listener, |rating| seen.see(&rating))?;
        self.import_table(&table, seen)
    }

    /// Reads a table of ratings in, adds its tasters who are not known, and computes the sums over it: all
    /// of it or nothing.
    ///
    /// # Errors
    /// The file cannot be read, every problem in it at once, or the same bytes were read in before.
    pub fn import_ratings(&mut self, file: &Path) -> Result<ImportTable, WorkflowError> {
        let looked = self.look_at_import(file)?;
        if let Some(before) = looked.before {
            return Err(WorkflowError::ImportedBefore {
                file: file.display().to_string(),
                number: before.number,
                day: before.made_at.day(),
            });
        }
        let tasters = self.new_tasters(&looked.added);
        let now = self.now();
        let file_name = file.file_name().unwrap_or(file.as_os_str());
        let file_name = file_name.to_string_lossy().into_owned();
        let listener = self.listener.clone();
        self.store.in_one_go(|store| {
            for taster in &tasters {
                store.add_taster(taster)?;
            }
            let table = write_ratings(store, file, (&file_name, now), (&looked, &listener))?;
            if let Some(import) = store.import_with_hash(&table.hash)? {
                let sums = sums_of(store, import.number)?;
                store.put_summaries(&import, RatingSums::FORMULA_VERSION, &sums)?;
            }
            Ok::<(), WorkflowError>(())
        })?;
        Ok(looked)
    }

    /// Tasters of these names, each person once.
    fn new_tasters(&mut self, names: &[Name]) -> Vec<Taster> {
        let mut tasters: Vec<Taster> = Vec::new();
        for name in names {
            if !tasters.iter().any(|it| same(&it.name, name)) {
                tasters.push(Taster {
                    id: TasterId::new(self.draw_id()),
                    name: name.clone(),
                    made_at: self.now(),
                });
            }
        }
        tasters
    }

    fn import_table(&self, table: &RatingTable, seen: Seen) -> Result<ImportTable, WorkflowError> {
        let (mut known, mut added) = (Vec::new(), Vec::new());
        for name in seen.tasters {
            match self.store.taster_named(&name)? {
                Some(_) => known.push(name),
                None => added.push(name),
            }
        }
        let (mut scales, mut others) = (Vec::new(), Vec::new());
        for line in seen.lines {
            match scale_of_line(line.as_str()) {
                Some(scale) => scales.push((line, scale.word)),
                None => others.push(line),
            }
        }
        Ok(ImportTable {
            ratings: table.ratings,
            days: seen.days,
            known,
            added,
            scales,
            others,
            before: self.store.import_with_hash(&table.hash)?,
        })
    }

    /// The tables that were read in, in their order.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn imports(&self) -> Result<Vec<Import>, WorkflowError> {
        Ok(self.store.imports()?)
    }

    /// The import of this number.
    ///
    /// # Errors
    /// There is none of this number, or the store cannot be read.
    pub(super) fn import(&self, number: u32) -> Result<Import, WorkflowError> {
        let imports = self.store.imports()?;
        let found = imports.into_iter().find(|it| it.number == number);
        found.ok_or(WorkflowError::NoImport { number })
    }

    /// Computes the sums over every import again, and puts right those that are not as they were kept.
    ///
    /// # Errors
    /// The store cannot be read or written.
    pub fn recount_imports(&mut self) -> Result<Vec<Recounted>, WorkflowError> {
        let mut all = Vec::new();
        for import in self.store.imports()? {
            let mended = self.store.in_one_go(|store| {
                let (sums, wrong) = counted_again(store, &import)?;
                if wrong > 0 {
                    store.put_summaries(&import, RatingSums::FORMULA_VERSION, &sums)?;
                }
                Ok::<usize, WorkflowError>(wrong)
            })?;
            all.push(Recounted { import, mended });
        }
        Ok(all)
    }
}

/// Names that differ in capitals alone are one person.
fn same(one: &Name, other: &Name) -> bool {
    is_same_name(one.as_str(), other.as_str())
}

/// Writes the ratings of a table that was looked through, under the name of its file.
fn write_ratings(
    store: &Store,
    file: &Path,
    (file_name, now): (&str, Moment),
    (looked, listener): (&ImportTable, &Listener),
) -> Result<RatingTable, WorkflowError> {
    let mut writer = store.begin_import(file_name, now)?;
    for name in looked.known.iter().chain(&looked.added) {
        if let Some(taster) = store.taster_named(name)? {
            writer.know(name.clone(), taster.id);
        }
    }
    let mut failed: Option<StorageError> = None;
    let table = table_of(file, listener, |rating| {
        if failed.is_none() {
            failed = writer.add(&rating).err();
        }
    })?;
    if let Some(error) = failed {
        return Err(error.into());
    }
    if let Some((number, ratings)) = writer.overlap()? {
        return Err(WorkflowError::ImportOverlaps {
            file: file.display().to_string(),
            ratings,
            number,
        });
    }
    writer.end(&table.hash, table.ratings)?;
    Ok(table)
}

fn table_of(
    file: &Path,
    listener: &Listener,
    keep: impl FnMut(PanelRating),
) -> Result<RatingTable, WorkflowError> {
    let (table, bytes) = open_table(file)?;
    let table = listener.reading(table, bytes);
    read_panel(&file.display().to_string(), table, keep)
        .map_err(|problems| WorkflowError::Problems { problems })
}

/// The sums over an import as they are computed now, and how many of those that are kept are not so.
pub(super) fn counted_again(
    store: &Store,
    import: &Import,
) -> Result<(Vec<ImportSummary>, usize), StorageError> {
    let sums = sums_of(store, import.number)?;
    let kept = store.summaries_of(import.number)?;
    let differs = |it: &&ImportSummary| {
        !kept.iter().any(|(summary, version, up_to)| {
            summary == *it && *version == RatingSums::FORMULA_VERSION && *up_to == import.ratings
        })
    };
    let missing = sums.iter().filter(differs).count();
    let wrong = missing + kept.len().saturating_sub(sums.len());
    Ok((sums, wrong))
}

/// The sums over the ratings of an import.
pub(super) fn sums_of(store: &Store, import: u32) -> Result<Vec<ImportSummary>, StorageError> {
    let mut gatherer = RatingGatherer::default();
    let mut ratings = Vec::new();
    store.each_import_line(import, |line, day, rows| {
        ratings.clear();
        ratings.extend(rows.iter().map(|it| GlassRating {
            day,
            taster: it.taster,
            sample: it.sample,
            digits: it.digits,
        }));
        gatherer.add(line, &ratings);
    })?;
    let sums = gatherer.gathered().into_iter();
    let sums = sums.map(|((taster, line), it)| ImportSummary {
        taster,
        line,
        document: it.to_text(),
    });
    Ok(sums.collect())
}
