//! Taking in a whole session from its documents: all of it, or nothing and every reason why not.

use thiserror::Error;

use crate::domain::Name;
use crate::domain::is_same_name;
use crate::formats::Problem;
use crate::formats::Session;
use crate::formats::document_hash;
use crate::formats::read_recipe;
use crate::formats::read_session;
use crate::workflow::Home;
use crate::workflow::ReadRecipe;
use crate::workflow::WorkflowError;
use crate::workflow::session_rows::SessionRows;

/// How much of a session was stored.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Imported {
    /// Tasters.
    pub tasters: usize,
    /// Recipe versions that were not kept before.
    pub versions: usize,
    /// Batches.
    pub batches: usize,
    /// Beers of no recorded batch.
    pub beers: usize,
    /// Sets of notes.
    pub tastings: usize,
}

/// One reason why a session cannot be taken in.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ImportProblem {
    /// A problem in the text of a document.
    #[error("{0}")]
    Document(Problem),
    /// A file is not there.
    #[error("the file “{file}” is missing; put it beside the session")]
    NoFile {
        /// Its name.
        file: String,
    },
    /// A taster of the home, or another one of the session, has the name.
    #[error("a taster called “{name}” is there already; give the one in the session another name")]
    TasterTaken {
        /// The name.
        name: Name,
    },
    /// A beer of the home, or another one of the session, has the cap mark.
    #[error("the cap mark “{mark}” is in use; give the bottles in the session another one")]
    MarkTaken {
        /// The mark.
        mark: Name,
    },
    /// A recipe version is kept, or stands twice in the session, with other contents.
    #[error(
        "{file}: version {version} of “{name}” is there already with other contents; give this one another version"
    )]
    VersionTaken {
        /// The document.
        file: Name,
        /// The recipe.
        name: Name,
        /// The version.
        version: Name,
    },
    /// The same document under two file names.
    #[error("{file}: the same recipe stands in another file too; keep one of the two")]
    DocumentTwice {
        /// The second file.
        file: Name,
    },
    /// A version that descends from itself.
    #[error(
        "{file}: version {version} of “{name}” comes from itself in the end; correct its parent"
    )]
    OwnAncestor {
        /// The document.
        file: Name,
        /// The recipe.
        name: Name,
        /// The version.
        version: Name,
    },
}

/// A session with its recipes, each with its file name and after its parent.
pub(crate) struct ReadSession {
    pub(crate) session: Session,
    pub(crate) recipes: Vec<(Name, ReadRecipe)>,
}

impl Home {
    /// Takes in the session `session_name` with its recipes; `files` are names and texts, the
    /// session itself among them, and files that it does not name are passed over. Notes that are
    /// not locked count as left, so that nothing stays sealed for people who are not here.
    ///
    /// # Errors
    /// [`WorkflowError::Import`] with everything that stands against it, before anything is
    /// written; or the store cannot be written. Nothing is stored then.
    pub fn import_session(
        &mut self,
        session_name: &str,
        files: &[(&str, &str)],
    ) -> Result<Imported, WorkflowError> {
        let mut problems = Vec::new();
        let read = self.read_documents(session_name, files, &mut problems);
        if let Some(read) = &read {
            self.find_taken(read, &mut problems)?;
        }
        match read {
            Some(read) if problems.is_empty() => {
                let rows = SessionRows::draw(self, read)?;
                self.store.in_one_go(|store| rows.write(store))?;
                Ok(rows.counted())
            }
            _ => Err(WorkflowError::Import {
                session: session_name.to_owned(),
                problems,
            }),
        }
    }

    fn read_documents(
        &self,
        session_name: &str,
        files: &[(&str, &str)],
        problems: &mut Vec<ImportProblem>,
    ) -> Option<ReadSession> {
        let session = text_of(files, session_name, problems).and_then(|text| {
            read_session(session_name, text, self.wheel())
                .map_err(|them| problems.extend(documents(them)))
                .ok()
        });
        // Where the session itself cannot be read, every other file is taken for one of its recipes,
        // so that their slips are told in the same go.
        let named: Vec<Name> = match &session {
            Some(session) => session.recipes.clone(),
            None => files
                .iter()
                .filter(|(name, _)| *name != session_name)
                .filter_map(|(name, _)| Name::new("a file", name).ok())
                .collect(),
        };
        let mut recipes = Vec::new();
        for file in named {
            let Some(text) = text_of(files, file.as_str(), problems) else {
                continue;
            };
            match read_recipe(file.as_str(), text, self.catalogue(), self.wheel()) {
                Ok(recipe) => {
                    let document = text.to_owned();
                    recipes.push((file, ReadRecipe { document, recipe }));
                }
                Err(them) => problems.extend(documents(them)),
            }
        }
        let recipes = parents_first(recipes, problems);
        session.map(|session| ReadSession { session, recipes })
    }

    /// Finds the names and versions of a session that something else has already.
    fn find_taken(
        &self,
        read: &ReadSession,
        problems: &mut Vec<ImportProblem>,
    ) -> Result<(), WorkflowError> {
        let session = &read.session;
        for (index, name) in session.tasters.iter().enumerate() {
            let twice = stands_in(&session.tasters[..index], name);
            if twice || self.store.taster_named(name)?.is_some() {
                problems.push(ImportProblem::TasterTaken { name: name.clone() });
            }
        }
        let batches = session.batches.iter().map(|it| &it.cap_mark);
        let beers = session.beers.iter().map(|it| &it.cap_mark);
        let marks: Vec<Name> = batches.chain(beers).cloned().collect();
        for (index, mark) in marks.iter().enumerate() {
            let twice = stands_in(&marks[..index], mark);
            if twice || self.store.beer_marked(mark)?.is_some() {
                problems.push(ImportProblem::MarkTaken { mark: mark.clone() });
            }
        }
        self.find_versions_taken(read, problems)
    }

    fn find_versions_taken(
        &self,
        read: &ReadSession,
        problems: &mut Vec<ImportProblem>,
    ) -> Result<(), WorkflowError> {
        for (index, (file, it)) in read.recipes.iter().enumerate() {
            let (name, version) = (&it.recipe.name, &it.recipe.version);
            let mut before = read.recipes[..index].iter().map(|(_, it)| it);
            let hash = document_hash(&it.document);
            if before.clone().any(|other| other.document == it.document) {
                problems.push(ImportProblem::DocumentTwice { file: file.clone() });
            } else if before.any(|it| it.recipe.name == *name && it.recipe.version == *version)
                || (self.store.recipe_version_with_hash(&hash)?.is_none()
                    && self.store.recipe_version_named(name, version)?.is_some())
            {
                problems.push(ImportProblem::VersionTaken {
                    file: file.clone(),
                    name: name.clone(),
                    version: version.clone(),
                });
            }
        }
        Ok(())
    }
}

/// The text of a file; that it is missing is a problem.
fn text_of<'f>(
    files: &[(&str, &'f str)],
    wanted: &str,
    problems: &mut Vec<ImportProblem>,
) -> Option<&'f str> {
    let found = files.iter().find(|(name, _)| *name == wanted);
    if found.is_none() {
        problems.push(ImportProblem::NoFile {
            file: wanted.to_owned(),
        });
    }
    found.map(|(_, text)| *text)
}

fn documents(problems: Vec<Problem>) -> impl Iterator<Item = ImportProblem> {
    problems.into_iter().map(ImportProblem::Document)
}

/// True if a name is among `names`; capitals do not count, as everywhere in a home.
fn stands_in(names: &[Name], name: &Name) -> bool {
    names
        .iter()
        .any(|it| is_same_name(it.as_str(), name.as_str()))
}

/// Sorts recipes so that a version comes after the one that it came from; a version that comes
/// from itself is a problem.
fn parents_first(
    recipes: Vec<(Name, ReadRecipe)>,
    problems: &mut Vec<ImportProblem>,
) -> Vec<(Name, ReadRecipe)> {
    let generations: Vec<Option<usize>> =
        recipes.iter().map(|it| generation(it, &recipes)).collect();
    let mut sorted = Vec::new();
    for (generation, (file, it)) in generations.into_iter().zip(recipes) {
        match generation {
            Some(generation) => sorted.push((generation, (file, it))),
            None => problems.push(ImportProblem::OwnAncestor {
                file,
                name: it.recipe.name,
                version: it.recipe.version,
            }),
        }
    }
    sorted.sort_by_key(|(generation, _)| *generation);
    sorted.into_iter().map(|(_, it)| it).collect()
}

/// How many ancestors a recipe has among `recipes`; none if there is no end to them.
fn generation(of: &(Name, ReadRecipe), recipes: &[(Name, ReadRecipe)]) -> Option<usize> {
    let mut recipe = &of.1.recipe;
    for ancestors in 0..recipes.len() {
        let parent = recipe.parent.as_ref().and_then(|version| {
            let mut all = recipes.iter().map(|(_, it)| &it.recipe);
            all.find(|it| it.name == recipe.name && it.version == *version)
        });
        match parent {
            None => return Some(ancestors),
            Some(parent) => recipe = parent,
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Moment;
    use crate::domain::NotesSource;
    use crate::statistics::Dice;
    use crate::storage::builtin_demo_files;
    use crate::workflow::Clock;

    const SESSION: &str = "kitchen.toml";

    fn home() -> Home {
        let now = Moment::parse("2026-11-01T18:00:00Z").unwrap();
        Home::in_memory(Clock::from_fn(move || now), Dice::from_seed(7)).unwrap()
    }

    fn with_demo() -> Home {
        let mut home = home();
        home.import_session(SESSION, builtin_demo_files()).unwrap();
        home
    }

    fn name(text: &str) -> Name {
        Name::new("a name", text).unwrap()
    }

    /// What stands against a session, and that nothing of it was stored.
    fn refused(files: &[(&str, &str)]) -> Vec<String> {
        let mut home = home();
        let error = home.import_session(SESSION, files).unwrap_err();
        assert!(home.tasters().unwrap().is_empty());
        assert!(home.batch_rows().unwrap().is_empty());
        assert!(home.store.recipe_versions().unwrap().is_empty());
        match error {
            WorkflowError::Import { problems, .. } => {
                problems.iter().map(ToString::to_string).collect()
            }
            other => panic!("{other}"),
        }
    }

    /// A session of one taster with one beer, with more lines after it.
    fn small(more: &str) -> String {
        format!(
            "invented = \"Made up.\"\n[[taster]]\nname = \"Saucer\"\n[[beer]]\ncap_mark = \"Dot\"\n{more}"
        )
    }

    fn tasted(at: &str, locked: &str) -> String {
        format!(
            "[[tasting]]\ntaster = \"Saucer\"\ncap_mark = \"Dot\"\nat = \"{at}\"\nlocked = {locked}\n"
        )
    }

    #[test]
    fn everything_of_the_demonstration_is_stored() {
        let mut home = home();
        let imported = home.import_session(SESSION, builtin_demo_files()).unwrap();
        // Counted by hand in the documents.
        let counted = Imported {
            tasters: 3,
            versions: 6,
            batches: 6,
            beers: 1,
            tastings: 14,
        };
        assert_eq!(imported, counted);
        assert_eq!(home.locked_notes().unwrap().len(), 14);
        assert!(home.open_tastings().unwrap().is_empty());
        let row = home
            .batch_rows()
            .unwrap()
            .into_iter()
            .find(|it| it.mark.as_str() == "OD2")
            .unwrap();
        assert_eq!(row.bottles_left, Some(8));
        assert_eq!(row.tasted, 3);
        assert_eq!(row.recipe.as_deref(), Some("Oven door, version 2"));
    }

    #[test]
    fn notes_are_stored_as_the_document_has_them() {
        let home = with_demo();
        let text = builtin_demo_files()[0].1;
        let session = read_session(SESSION, text, home.wheel()).unwrap();
        let wanted = &session.tastings[0];
        let rows = home.store.locked_notes().unwrap();
        let found = rows
            .iter()
            .find(|it| it.taster.name == wanted.taster && it.beer.cap_mark == wanted.cap_mark);
        let notes = home.store.notes(&found.unwrap().notes).unwrap().unwrap();
        assert_eq!(notes.source, NotesSource::Document);
        assert_eq!(notes.ratings, wanted.ratings);
        assert_eq!(notes.typed_on, wanted.at);
        assert_eq!(notes.locked_at, wanted.locked_at);
        assert_eq!(notes.tasted_on, wanted.tasted_on);
        assert_eq!(notes.remark, wanted.remark);
        assert_eq!((notes.knew, notes.nose), (wanted.knew, wanted.nose));
        assert_eq!(notes.marks.len(), wanted.marks.len());
        for (mark, wanted) in notes.marks.iter().zip(&wanted.marks) {
            assert_eq!(mark.stage, wanted.stage);
            assert_eq!(mark.subject, wanted.subject);
            assert_eq!(mark.intensity, wanted.intensity);
            assert_eq!(mark.prompting, wanted.prompting);
        }
    }

    #[test]
    fn every_tasted_batch_can_be_laid_beside_its_plan() {
        let mut home = with_demo();
        // Sets of notes and faulty bottles, counted by hand in the session.
        for (mark, notes, faulty) in [
            ("OD1", 3, 0),
            ("OD2", 3, 0),
            ("OW1", 2, 0),
            ("GC1", 3, 0),
            ("HL1", 1, 1),
        ] {
            let beside = home.compare(mark, None).unwrap();
            assert_eq!(beside.found.len(), notes, "{mark}");
            assert_eq!(beside.faulty.len(), faulty, "{mark}");
            assert!(
                beside.hopes().count() > 0 && !beside.promised.is_empty(),
                "{mark}"
            );
        }
        let waiting = home.compare("CS1", None).unwrap_err();
        assert!(
            matches!(waiting, WorkflowError::NothingTasted { .. }),
            "{waiting}"
        );
        let unknown = home.compare("Green dot", None).unwrap_err();
        assert!(
            matches!(unknown, WorkflowError::NoRecipe { .. }),
            "{unknown}"
        );
    }

    #[test]
    fn a_version_knows_the_one_it_came_from_in_whatever_order_they_stand() {
        let (_, session) = builtin_demo_files()[0];
        let turned = session
            .replace("file = \"oven-door-1.recipe.toml\"", "file = \"first\"")
            .replace(
                "file = \"oven-door-2.recipe.toml\"",
                "file = \"oven-door-1.recipe.toml\"",
            )
            .replace("file = \"first\"", "file = \"oven-door-2.recipe.toml\"");
        assert_ne!(session, turned);
        for session in [session, &turned] {
            let mut files = vec![(SESSION, session)];
            files.extend_from_slice(&builtin_demo_files()[1..]);
            let mut home = home();
            home.import_session(SESSION, &files).unwrap();
            let version = |version: &str| {
                let found = home
                    .store
                    .recipe_version_named(&name("Oven door"), &name(version));
                found.unwrap().unwrap()
            };
            assert_eq!(version("2").parent, Some(version("1").id));
            assert_eq!(version("1").parent, None);
        }
    }

    #[test]
    fn people_with_the_same_beer_on_the_same_day_sat_at_one_table() {
        let home = with_demo();
        let rows = home.store.locked_notes().unwrap();
        let mut of_one = rows.iter().filter(|it| it.beer.cap_mark.as_str() == "OD1");
        let first = of_one.next().unwrap();
        assert!(of_one.all(|it| it.sitting == first.sitting));
        let sitting = home.store.sitting(&first.sitting).unwrap().unwrap();
        // The first and the last `at` of the three in the session.
        assert_eq!(sitting.made_at.to_string(), "2026-07-10T18:30:00.000Z");
        let closed = sitting.closed_at.map(|it| it.to_string());
        assert_eq!(closed.as_deref(), Some("2026-07-10T18:41:00.000Z"));
        let mut of_two: Vec<_> = rows
            .iter()
            .filter(|it| it.beer.cap_mark.as_str() == "OD2")
            .map(|it| it.sitting.as_str())
            .collect();
        of_two.dedup();
        assert_eq!(of_two.len(), 2);
    }

    #[test]
    fn a_second_import_names_everything_that_is_taken_and_changes_nothing() {
        let mut home = with_demo();
        let before = (
            home.tasters().unwrap(),
            home.batch_rows().unwrap(),
            home.locked_notes().unwrap(),
        );
        let error = home
            .import_session(SESSION, builtin_demo_files())
            .unwrap_err()
            .to_string();
        for taken in ["Crumb", "Teacup", "Wobble"] {
            assert!(
                error.contains(&format!("called “{taken}” is there")),
                "{error}"
            );
        }
        for taken in ["OD1", "OD2", "OW1", "GC1", "HL1", "CS1", "Green dot"] {
            assert!(error.contains(&format!("“{taken}” is in use")), "{error}");
        }
        // The recipes are the very same documents: they stand in nobody's way.
        assert!(!error.contains("version"), "{error}");
        let after = (
            home.tasters().unwrap(),
            home.batch_rows().unwrap(),
            home.locked_notes().unwrap(),
        );
        assert_eq!(before, after);
    }

    #[test]
    fn slips_in_the_session_and_in_its_recipes_are_told_in_one_go() {
        let mut files = builtin_demo_files().to_vec();
        files[0].1 = "invented = \"Made up.\"\ntasters = 5\n";
        files[3].1 = "name = \"Open window\"\nversion = \"1\"\nvolume = \"6 L\"\n";
        let problems = refused(&files);
        assert_eq!(problems.len(), 2, "{problems:#?}");
        assert!(
            problems[0].starts_with("kitchen.toml:2:1: the key “tasters”"),
            "{problems:#?}"
        );
        let second = "open-window.recipe.toml:1:1: “fermentable” is missing";
        assert!(problems[1].starts_with(second), "{problems:#?}");
    }

    #[test]
    fn a_file_that_is_not_there_is_named() {
        assert_eq!(
            refused(&builtin_demo_files()[..6]),
            ["the file “cold-shelf.recipe.toml” is missing; put it beside the session"]
        );
        assert_eq!(
            refused(&[]),
            ["the file “kitchen.toml” is missing; put it beside the session"]
        );
    }

    #[test]
    fn versions_that_contradict_each_other_are_refused() {
        let recipe = |version: &str, parent: &str, grams: u32| {
            format!(
                "name = \"Loop\"\nversion = \"{version}\"\nparent = \"{parent}\"\nvolume = \"5 L\"\n\
                 [[fermentable]]\nname = \"Pale malt\"\namount = \"{grams} g\"\n"
            )
        };
        let session = small("[[recipe]]\nfile = \"a\"\n[[recipe]]\nfile = \"b\"\n");
        let of = |a: &str, b: &str| refused(&[(SESSION, &session), ("a", a), ("b", b)]);
        let circle = of(&recipe("1", "2", 900), &recipe("2", "1", 900));
        assert_eq!(circle.len(), 2, "{circle:#?}");
        assert!(circle[0].starts_with("a: version 1 of “Loop” comes from itself"));
        let clash = of(&recipe("2", "1", 900), &recipe("2", "1", 950));
        assert_eq!(clash.len(), 1, "{clash:#?}");
        assert!(clash[0].starts_with("b: version 2 of “Loop” is there already"));
        let twice = of(&recipe("2", "1", 900), &recipe("2", "1", 900));
        assert_eq!(twice.len(), 1, "{twice:#?}");
        assert!(twice[0].starts_with("b: the same recipe stands in another file"));
    }

    #[test]
    fn names_that_differ_in_capitals_only_are_told_before_anything_is_written() {
        let session = small("[[taster]]\nname = \"saucer\"\n[[beer]]\ncap_mark = \"DOT\"\n");
        assert_eq!(
            refused(&[(SESSION, &session)]),
            [
                "a taster called “saucer” is there already; give the one in the session another name",
                "the cap mark “DOT” is in use; give the bottles in the session another one",
            ]
        );
    }

    #[test]
    fn what_the_store_refuses_half_way_leaves_nothing_behind() {
        let mut home = home();
        let session = small("");
        let mut problems = Vec::new();
        let read = home.read_documents(SESSION, &[(SESSION, &session)], &mut problems);
        let rows = SessionRows::draw(&mut home, read.unwrap()).unwrap();
        // Another program takes the cap mark after it was found free.
        let ana = home.add_taster("Ana").unwrap();
        let tasting = home.start_tasting(&ana, "Dot", NotesSource::App).unwrap();
        let error = home.store.in_one_go(|store| rows.write(store)).unwrap_err();
        assert!(matches!(error, WorkflowError::Storage(_)), "{error}");
        assert_eq!(home.tasters().unwrap(), [tasting.taster]);
    }

    #[test]
    fn notes_that_nobody_locked_seal_nothing() {
        let mut home = home();
        let session = small(&tasted("2026-07-10T18:30:00Z", "false"));
        home.import_session(SESSION, &[(SESSION, &session)])
            .unwrap();
        assert!(home.open_tastings().unwrap().is_empty());
        assert!(home.locked_notes().unwrap().is_empty());
        let beer = home.beer("Dot").unwrap();
        assert_eq!(home.store.notes_of_beer(&beer.id).unwrap().len(), 1);
    }

    #[test]
    fn the_same_glass_twice_on_one_day_is_two_sittings() {
        let mut home = home();
        let session = small(&format!(
            "{}{}",
            tasted("2026-07-10T18:30:00Z", "true"),
            tasted("2026-07-10T19:30:00Z", "true")
        ));
        home.import_session(SESSION, &[(SESSION, &session)])
            .unwrap();
        let rows = home.locked_notes().unwrap();
        assert_eq!(rows.len(), 2);
        assert_ne!(rows[0].sitting, rows[1].sitting);
    }
}
