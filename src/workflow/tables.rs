//! Everything of a home as tables for a spreadsheet, without what is sealed.

use std::collections::HashSet;
use std::path::Path;

use crate::domain::BatchEntry;
use crate::domain::BlindTest;
use crate::domain::Name;
use crate::domain::RecipeVersion;
use crate::domain::RecipeVersionId;
use crate::domain::SeatId;
use crate::domain::TasterId;
use crate::formats::defused;
use crate::formats::write_table;
use crate::storage::ensure_free_folder;
use crate::storage::write_new_folder;
use crate::workflow::BatchRow;
use crate::workflow::ExportedAnswer;
use crate::workflow::Home;
use crate::workflow::TasterExport;
use crate::workflow::TestRow;
use crate::workflow::WorkflowError;
use crate::workflow::table_catalogue::Cell;
use crate::workflow::table_catalogue::Column;
use crate::workflow::table_catalogue::TABLES;
use crate::workflow::table_catalogue::TableKind;

/// What a forgotten taster is called.
const NOBODY: &str = "somebody";

/// The tables of a home.
#[derive(Debug, Clone)]
pub struct HomeTables {
    /// One for each of [`TABLES`].
    pub tables: Vec<HomeTable>,
    /// What is left out for now, each with the reason, as sentences.
    pub held_back: Vec<String>,
    /// How many photographs there are; they are in no table.
    pub photographs: usize,
}

/// One table with its rows.
#[derive(Debug, Clone)]
pub struct HomeTable {
    /// What it is.
    pub kind: &'static TableKind,
    /// A cell for every column.
    pub rows: Vec<Vec<Cell>>,
}

impl HomeTable {
    /// The table with commas. Texts that a spreadsheet would take for formulas begin with an apostrophe.
    #[must_use]
    pub fn csv(&self) -> String {
        let columns: Vec<&str> = self.kind.columns.iter().map(|it| it.name).collect();
        let rows = self.rows.iter();
        let rows = rows.map(|row| row.iter().map(written).collect());
        write_table(&columns, &rows.collect::<Vec<Vec<String>>>())
    }

    /// The cells of a row with their columns.
    pub fn named<'a>(&self, row: &'a [Cell]) -> impl Iterator<Item = (&'static Column, &'a Cell)> {
        self.kind.columns.iter().zip(row)
    }
}

fn written(cell: &Cell) -> String {
    match cell {
        Cell::Nothing => String::new(),
        Cell::Text(text) => defused(text),
        Cell::Number(number) => number.to_string(),
        Cell::Whole(number) => number.to_string(),
        Cell::Is(true) => "yes".to_owned(),
        Cell::Is(false) => "no".to_owned(),
    }
}

/// What the rows are made from.
pub(super) struct Gathered {
    pub(super) exports: Vec<TasterExport>,
    pub(super) tests: Vec<GatheredTest>,
    /// Each with the version it came from.
    pub(super) recipes: Vec<(RecipeVersion, Option<Name>)>,
    pub(super) batches: Vec<BatchRow>,
    pub(super) log: Vec<(Name, BatchEntry)>,
    held_back: Vec<String>,
}

/// One test with the answers that may be told, each with who gave it.
pub(super) struct GatheredTest {
    pub(super) row: TestRow,
    pub(super) answers: Vec<(String, ExportedAnswer)>,
}

impl Home {
    /// Everything of this home as tables. Left out, with a sentence each, is what is sealed: notes that are
    /// open, notes and plans of beers that somebody tastes, answers to tests that are not closed, practice
    /// of which the answers may not be told.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn home_tables(&mut self) -> Result<HomeTables, WorkflowError> {
        let gathered = self.for_tables()?;
        let tables = TABLES.iter().map(|kind| HomeTable {
            rows: (kind.rows)(&gathered),
            kind,
        });
        Ok(HomeTables {
            tables: tables.collect(),
            photographs: self.store.every_photograph()?.len(),
            held_back: gathered.held_back,
        })
    }

    /// Writes files into a new folder that only the user may open, all of them or none.
    ///
    /// # Errors
    /// The folder is there and not empty, or the disk refuses.
    pub fn write_tables(
        &self,
        folder: &Path,
        files: &[(String, String)],
    ) -> Result<(), WorkflowError> {
        Ok(write_new_folder(folder, files)?)
    }

    /// Lets pass only if tables can be written into this folder.
    ///
    /// # Errors
    /// It is there and not empty.
    pub fn ensure_free_folder(&self, folder: &Path) -> Result<(), WorkflowError> {
        Ok(ensure_free_folder(folder)?)
    }

    fn for_tables(&mut self) -> Result<Gathered, WorkflowError> {
        let mut gathered = Gathered {
            exports: Vec::new(),
            tests: Vec::new(),
            recipes: Vec::new(),
            batches: self.batch_rows()?,
            log: Vec::new(),
            held_back: Vec::new(),
        };
        for taster in self.tasters()? {
            self.gather_taster(taster.name.as_str(), &mut gathered)?;
        }
        for row in self.test_rows()? {
            self.gather_test(row, &mut gathered)?;
        }
        self.gather_recipes(&mut gathered)?;
        self.gather_logs(&mut gathered)?;
        Ok(gathered)
    }

    /// One person's part, without notes that would tell those who still taste the same.
    fn gather_taster(&mut self, name: &str, gathered: &mut Gathered) -> Result<(), WorkflowError> {
        let mut export = self.taster_export(name)?;
        let mut hidden = 0_usize;
        let glasses = self.poured_glasses()?;
        for it in std::mem::take(&mut export.notes) {
            let open = match &it.cap_mark {
                Some(_) if glasses.is_empty() => true,
                Some(mark) => match self.store.beer_marked(mark)? {
                    Some(beer) => !glasses.hold(&beer.id),
                    None => true,
                },
                None => false,
            };
            if open {
                export.notes.push(it);
            } else {
                hidden += 1;
            }
        }
        let told = export.held_back.iter();
        gathered
            .held_back
            .extend(told.map(|it| format!("of {name}, {it}")));
        if hidden > 0 {
            gathered.held_back.push(format!(
                "of {name}, {hidden} locked sets of notes: somebody still has the same beer before them"
            ));
        }
        gathered.exports.push(export);
        Ok(())
    }

    fn gather_test(&self, row: TestRow, gathered: &mut Gathered) -> Result<(), WorkflowError> {
        let test = &row.test;
        let mut answers = Vec::new();
        if test.closed_at.is_some() {
            let planned = self.planned_test(test.number)?;
            for it in self.store.answers(&test.id)? {
                let taster = self.sits_at(test, &it.seat)?;
                answers.push((taster, self.exported_answer(&it, Some(&planned))));
            }
        } else {
            gathered.held_back.push(format!(
                "the answers to test {}, and what stands under which code: it is not closed yet",
                test.number
            ));
        }
        gathered.tests.push(GatheredTest { row, answers });
        Ok(())
    }

    /// Who has a seat at a test.
    fn sits_at(&self, test: &BlindTest, seat: &SeatId) -> Result<String, WorkflowError> {
        let places = self.store.taken_places(&test.id)?;
        let found: Option<TasterId> = places
            .into_iter()
            .find_map(|(place, taster)| (place.seat == *seat).then_some(taster));
        let taster = found.map(|it| self.store.taster(&it)).transpose()?;
        let name = taster.flatten().map(|it| it.name.to_string());
        Ok(name.unwrap_or_else(|| NOBODY.to_owned()))
    }

    /// The recipes but those that hang together with one that somebody tastes.
    fn gather_recipes(&self, gathered: &mut Gathered) -> Result<(), WorkflowError> {
        let versions = self.store.recipe_versions()?;
        let sealed = hanging_together(&versions, self.sealed_versions()?);
        if !sealed.is_empty() {
            gathered.held_back.push(format!(
                "{} versions of recipes: somebody is tasting what was brewed from one of them",
                sealed.len()
            ));
        }
        for it in &versions {
            if sealed.contains(&it.id) {
                continue;
            }
            let parent = versions
                .iter()
                .find(|other| Some(&other.id) == it.parent.as_ref());
            let parent = parent.map(|it| it.version.clone());
            gathered.recipes.push((it.clone(), parent));
        }
        Ok(())
    }

    fn sealed_versions(&self) -> Result<HashSet<RecipeVersionId>, WorkflowError> {
        let mut sealed = HashSet::new();
        for batch in self.store.batches()? {
            if let Some(beer) = self.store.beer_of_batch(&batch.id)?
                && self.is_plan_sealed(&beer)?
            {
                sealed.insert(batch.version);
            }
        }
        Ok(sealed)
    }

    fn gather_logs(&self, gathered: &mut Gathered) -> Result<(), WorkflowError> {
        for batch in self.store.batches()? {
            let row = gathered.batches.iter();
            let told = row
                .clone()
                .any(|it| it.mark == batch.cap_mark && it.recipe.is_some());
            if told {
                let entries = self.log_of(&batch.id)?.entries().to_vec();
                let mark = || batch.cap_mark.clone();
                gathered
                    .log
                    .extend(entries.into_iter().map(|it| (mark(), it)));
            } else {
                gathered.held_back.push(format!(
                    "the recipe and the log of “{}”: somebody is tasting it, or another batch of its recipe",
                    batch.cap_mark
                ));
            }
        }
        Ok(())
    }
}

/// Versions that came from one another, or bear the same name, with those in `seeds`.
fn hanging_together(
    versions: &[RecipeVersion],
    seeds: HashSet<RecipeVersionId>,
) -> HashSet<RecipeVersionId> {
    let mut all = seeds;
    loop {
        let before = all.len();
        for it in versions {
            let hangs = versions.iter().any(|other| {
                let near = other.name == it.name
                    || other.parent.as_ref() == Some(&it.id)
                    || it.parent.as_ref() == Some(&other.id);
                near && all.contains(&other.id)
            });
            if hangs {
                all.insert(it.id.clone());
            }
        }
        if all.len() == before {
            return all;
        }
    }
}
