//! Everything of a home as tables for a spreadsheet, without what is sealed.

use std::collections::HashMap;
use std::collections::HashSet;
use std::io;
use std::io::Write;
use std::path::Path;

use crate::domain::BatchEntry;
use crate::domain::BlindTest;
use crate::domain::Day;
use crate::domain::Name;
use crate::domain::RecipeVersion;
use crate::domain::RecipeVersionId;
use crate::domain::SeatId;
use crate::formats::TableWriter;
use crate::storage::ensure_free_folder;
use crate::storage::write_new_folder;
use crate::workflow::ExportedAnswer;
use crate::workflow::Home;
use crate::workflow::PlannedTest;
use crate::workflow::TasterExport;
use crate::workflow::TestRow;
use crate::workflow::WorkflowError;
use crate::workflow::exported_notes::ServedPlaces;
use crate::workflow::seal::PouredGlasses;
use crate::workflow::table_catalogue::Cell;
use crate::workflow::table_catalogue::Rows;
use crate::workflow::table_catalogue::TABLES;
use crate::workflow::table_catalogue::TableKind;

/// What a forgotten taster is called.
const NOBODY: &str = "somebody";

/// The tables of a home.
#[derive(Debug, Clone)]
pub struct HomeTables {
    gathered: Gathered,
    /// What is left out for now, each with the reason, as sentences.
    pub held_back: Vec<String>,
    /// How many photographs there are; they are in no table.
    pub photographs: usize,
}

impl HomeTables {
    /// One for each of [`TABLES`].
    pub fn tables(&self) -> impl Iterator<Item = HomeTable<'_>> {
        let gathered = &self.gathered;
        TABLES.iter().map(move |kind| HomeTable { kind, gathered })
    }
}

/// One table with its rows.
#[derive(Debug, Clone, Copy)]
pub struct HomeTable<'a> {
    /// What it is.
    pub kind: &'static TableKind,
    gathered: &'a Gathered,
}

impl<'a> HomeTable<'a> {
    /// Its rows, one after the other: a cell for every column.
    #[must_use]
    pub fn rows(&self) -> Rows<'a> {
        (self.kind.rows)(self.gathered)
    }

    /// Writes the table with commas. Texts that a spreadsheet would take for
    /// formulas begin with an apostrophe.
    ///
    /// # Errors
    /// `out` takes no more.
    pub fn write_csv(&self, out: &mut dyn Write) -> io::Result<()> {
        let columns = self.kind.columns.iter().map(|it| it.name);
        let mut table = TableWriter::new(out, columns)?;
        for row in self.rows() {
            for cell in &row {
                write_cell(&mut table, cell)?;
            }
            table.end_row()?;
        }
        table.finish()
    }
}

fn write_cell(table: &mut TableWriter<&mut dyn Write>, cell: &Cell<'_>) -> io::Result<()> {
    match cell {
        Cell::Nothing => table.plain(""),
        Cell::Id(id) => table.plain(id),
        Cell::Text(text) => table.text(text),
        Cell::Day(day) => table.number(day),
        Cell::Moment(moment) => table.number(moment),
        Cell::Number(number) => table.number(number),
        Cell::Whole(number) => table.number(number),
        Cell::Is(true) => table.plain("yes"),
        Cell::Is(false) => table.plain("no"),
    }
}

/// What the rows are made from.
#[derive(Debug, Clone)]
pub(super) struct Gathered {
    pub(super) exports: Vec<TasterExport>,
    pub(super) tests: Vec<GatheredTest>,
    /// Each with the version it came from.
    pub(super) recipes: Vec<(RecipeVersion, Option<Name>)>,
    pub(super) batches: Vec<GatheredBatch>,
}

/// One batch; without recipe and log while they are sealed.
#[derive(Debug, Clone)]
pub(super) struct GatheredBatch {
    pub(super) mark: Name,
    pub(super) recipe: Option<String>,
    pub(super) packaged: Option<Day>,
    pub(super) bottles_left: Option<u16>,
    pub(super) tasted: usize,
    pub(super) log: Vec<BatchEntry>,
}

/// One test with the answers that may be told, each with who gave it.
#[derive(Debug, Clone)]
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
        let mut held_back = Vec::new();
        Ok(HomeTables {
            gathered: self.for_tables(&mut held_back)?,
            photographs: self.store.every_photograph()?.len(),
            held_back,
        })
    }

    /// Writes files into a new folder that only the user may open, all of them or none, each filled with what stands
    /// beside its name.
    ///
    /// # Errors
    /// The folder is there and not empty, or the disk refuses.
    pub fn write_tables<T>(
        &self,
        folder: &Path,
        files: &[(String, T)],
        fill: impl FnMut(&T, &mut dyn Write) -> io::Result<()>,
    ) -> Result<(), WorkflowError> {
        Ok(write_new_folder(folder, files, fill)?)
    }

    /// Lets pass only if tables can be written into this folder.
    ///
    /// # Errors
    /// It is there and not empty.
    pub fn ensure_free_folder(&self, folder: &Path) -> Result<(), WorkflowError> {
        Ok(ensure_free_folder(folder)?)
    }

    fn for_tables(&mut self, held_back: &mut Vec<String>) -> Result<Gathered, WorkflowError> {
        let tests = self.every_planned_test()?;
        let glasses = self.poured_glasses()?;
        let mut notes = self.store.every_note()?;
        let mut exports = Vec::new();
        for taster in self.tasters()? {
            let own = notes.remove(&taster.id).unwrap_or_default();
            let export = self.export_of(taster, own, &tests, (&glasses, ServedPlaces::LeftOut))?;
            exports.push(self.without_what_is_poured(export, &glasses, held_back)?);
        }
        let mut gathered = Gathered {
            exports,
            tests: Vec::new(),
            recipes: self.recipes_to_tell(&glasses, held_back)?,
            batches: Vec::new(),
        };
        for planned in tests {
            let test = self.gathered_test(planned, held_back)?;
            gathered.tests.push(test);
        }
        gathered.batches = self.batches_to_tell(&glasses, held_back)?;
        Ok(gathered)
    }

    /// One person's part, without notes that would tell those who still taste the same.
    fn without_what_is_poured(
        &self,
        mut export: TasterExport,
        glasses: &PouredGlasses,
        held_back: &mut Vec<String>,
    ) -> Result<TasterExport, WorkflowError> {
        let name = export.taster.name.clone();
        let told = export.held_back.iter();
        held_back.extend(told.map(|it| format!("of {name}, {it}")));
        let mut hidden = 0_usize;
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
        if hidden > 0 {
            held_back.push(format!(
                "of {name}, {}: somebody still has the same beer before them",
                number_of(hidden, "locked set of notes", "locked sets of notes")
            ));
        }
        Ok(export)
    }

    fn gathered_test(
        &self,
        planned: PlannedTest,
        held_back: &mut Vec<String>,
    ) -> Result<GatheredTest, WorkflowError> {
        let test = &planned.test;
        let mut answers = Vec::new();
        if test.closed_at.is_some() {
            let names = self.names_at(test)?;
            for it in self.store.answers(&test.id)? {
                let taster = names.get(&it.seat).map_or(NOBODY, Name::as_str);
                answers.push((taster.to_owned(), self.exported_answer(&it, Some(&planned))));
            }
        } else {
            held_back.push(format!(
                "the answers to test {}, and what stands under which code: it is not closed yet",
                test.number
            ));
        }
        let row = TestRow {
            method: planned.method,
            beers: planned.beers,
            test: planned.test,
        };
        Ok(GatheredTest { row, answers })
    }

    /// Who has which seat at a test.
    fn names_at(&self, test: &BlindTest) -> Result<HashMap<SeatId, Name>, WorkflowError> {
        let mut names = HashMap::new();
        for (place, taster) in self.store.taken_places(&test.id)? {
            if let Some(taster) = self.store.taster(&taster)? {
                names.insert(place.seat, taster.name);
            }
        }
        Ok(names)
    }

    /// The recipes but those that hang together with one that somebody tastes, each with the version it came from.
    fn recipes_to_tell(
        &self,
        glasses: &PouredGlasses,
        held_back: &mut Vec<String>,
    ) -> Result<Vec<(RecipeVersion, Option<Name>)>, WorkflowError> {
        let versions = self.store.recipe_versions()?;
        let sealed = hanging_together(&versions, self.sealed_versions(glasses)?);
        if !sealed.is_empty() {
            held_back.push(format!(
                "{}: somebody is tasting what was brewed from {}",
                number_of(sealed.len(), "version of a recipe", "versions of recipes"),
                if sealed.len() == 1 {
                    "it"
                } else {
                    "one of them"
                }
            ));
        }
        let by_id = versions.iter().map(|it| (&it.id, &it.version));
        let by_id: HashMap<&RecipeVersionId, &Name> = by_id.collect();
        let told = versions.iter().filter(|it| !sealed.contains(&it.id));
        let told = told.map(|it| {
            let parent = it.parent.as_ref().and_then(|it| by_id.get(it));
            (it.clone(), parent.map(|it| (*it).clone()))
        });
        Ok(told.collect())
    }

    fn sealed_versions(
        &self,
        glasses: &PouredGlasses,
    ) -> Result<HashSet<RecipeVersionId>, WorkflowError> {
        let batches = self.store.batches()?.into_iter();
        let sealed = batches.filter(|it| glasses.seal_version(&it.version));
        Ok(sealed.map(|it| it.version).collect())
    }

    fn batches_to_tell(
        &self,
        glasses: &PouredGlasses,
        held_back: &mut Vec<String>,
    ) -> Result<Vec<GatheredBatch>, WorkflowError> {
        let mut told = Vec::new();
        for (batch, kept) in self.kept_batches()? {
            let recipe = kept.recipe().filter(|_| !kept.is_sealed(&batch, glasses));
            let log = kept.log.entries();
            let log = recipe.as_ref().map_or_else(Vec::new, |_| log.to_vec());
            if recipe.is_none() {
                held_back.push(format!(
                    "the recipe and the log of “{}”: somebody is tasting it, or another batch of its recipe",
                    batch.cap_mark
                ));
            }
            told.push(GatheredBatch {
                recipe,
                packaged: kept.log.day("packaged"),
                bottles_left: kept.bottles_left(),
                tasted: kept.tasted(),
                log,
                mark: batch.cap_mark,
            });
        }
        Ok(told)
    }
}

/// Versions that came from one another, or bear the same name, with those in `seeds`.
fn hanging_together(
    versions: &[RecipeVersion],
    seeds: HashSet<RecipeVersionId>,
) -> HashSet<RecipeVersionId> {
    let mut all = seeds;
    while !all.is_empty() {
        let before = all.len();
        let hanging = versions.iter().filter(|it| all.contains(&it.id));
        let names: HashSet<&Name> = hanging.clone().map(|it| &it.name).collect();
        let parents: HashSet<&RecipeVersionId> =
            hanging.filter_map(|it| it.parent.as_ref()).collect();
        let more = versions.iter().filter(|it| {
            let parent = it.parent.as_ref();
            names.contains(&it.name)
                || parents.contains(&it.id)
                || parent.is_some_and(|it| all.contains(it))
        });
        let more: Vec<RecipeVersionId> = more.map(|it| it.id.clone()).collect();
        all.extend(more);
        if all.len() == before {
            break;
        }
    }
    all
}

/// So many of a thing, with the word that fits.
fn number_of(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}
