//! A recipe file of an open standard made into one of ours: what each name was taken for, and what does not fit.

use std::path::Path;

use crate::domain::Recipe;
use crate::formats::Choice;
use crate::formats::ForeignFigures;
use crate::formats::ForeignKind;
use crate::formats::ForeignRecipe;
use crate::formats::Mapped;
use crate::formats::StatedFigures;
use crate::formats::TakenFor;
use crate::formats::beerjson;
use crate::formats::foreign_document;
use crate::formats::mapped;
use crate::formats::names_by_nearness;
use crate::formats::read_foreign;
use crate::formats::unknown_choices;
use crate::storage::read_file;
use crate::storage::write_new_file;
use crate::workflow::BatchLog;
use crate::workflow::ConversionError;
use crate::workflow::Home;
use crate::workflow::WorkflowError;
use crate::workflow::brew_run::USUAL_EFFICIENCY;
use crate::workflow::figures::figures;

/// Gravities nearer than this are the same figure told twice.
const GRAVITY_APART: f64 = 0.004;
/// Bitterness nearer than this part of itself is the same; formulas differ that much (common practice).
const BITTERNESS_APART: f64 = 0.25;

/// A recipe as it would be written.
#[derive(Debug, Clone, PartialEq)]
pub struct Conversion {
    /// Which of the file's recipes, counted from 1, and how many there are.
    pub place: (usize, usize),
    /// The recipe it comes to.
    pub recipe: Recipe,
    /// The file of ours.
    pub document: String,
    /// What every name was taken for.
    pub mapped: Vec<Mapped>,
    /// What was assumed, left out or mended.
    pub remarks: Vec<String>,
    /// Figures that the file states and that its own ingredients do not give.
    pub contradictions: Vec<String>,
}

/// What is said in the place of figures while a batch is being tasted.
const FIGURES_WAIT: &str = "the file's gravities and bitterness were not compared with its ingredients, because a batch is being tasted";

impl Conversion {
    /// The names that were only guessed.
    pub fn guesses(&self) -> impl Iterator<Item = &Mapped> {
        let all = self.mapped.iter();
        all.filter(|it| matches!(it.taken, TakenFor::Guess(_)))
    }

    /// The names of which nobody knows yet what they are here: those that were guessed, and those that nothing is near.
    pub fn unsaid(&self) -> impl Iterator<Item = &Mapped> {
        let all = self.mapped.iter();
        all.filter(|it| matches!(it.taken, TakenFor::Guess(_) | TakenFor::NoneNear))
    }
}

impl Home {
    /// Reads one recipe of a BeerXML or BeerJSON file, counted from 1; nothing is written. While a batch is being
    /// tasted, the figures of the file are held against nothing, because what its ingredients give may not be known.
    ///
    /// # Errors
    /// The file cannot be read, is neither, has no such recipe, names are said of what is not in it, or what comes
    /// out is no recipe: every problem at once.
    pub fn converted(
        &self,
        file: &Path,
        number: usize,
        said: &[(String, Choice)],
    ) -> Result<Conversion, WorkflowError> {
        let all = read_all(file)?;
        let there = all.len();
        let at = number.checked_sub(1);
        let Some(foreign) = at.and_then(|at| all.into_iter().nth(at)) else {
            let (file, asked) = (file.to_owned(), number);
            return Err(ConversionError::NoRecipe { file, asked, there }.into());
        };
        self.conversion(foreign, (number, there), said)
    }

    /// True if a file holds a recipe of another standard.
    #[must_use]
    pub fn is_foreign_recipe(&self, file: &Path) -> bool {
        named_kind(file) != RecipeKind::Own && self.foreign_names(file).is_ok()
    }

    /// The names of the recipes in a BeerXML or BeerJSON file.
    ///
    /// # Errors
    /// The file cannot be read, is neither, or has no recipe.
    pub fn foreign_names(&self, file: &Path) -> Result<Vec<String>, WorkflowError> {
        let all = read_all(file)?;
        Ok(all.into_iter().map(|it| it.name).collect())
    }

    /// What the catalogue calls its ingredients of a kind, the nearest to a name first.
    #[must_use]
    pub fn names_near(&self, kind: ForeignKind, name: &str) -> Vec<String> {
        names_by_nearness(kind, name, self.catalogue())
    }

    fn conversion(
        &self,
        foreign: ForeignRecipe,
        place: (usize, usize),
        said: &[(String, Choice)],
    ) -> Result<Conversion, WorkflowError> {
        let catalogue = self.catalogue();
        let problems = unknown_choices(&foreign, catalogue, said);
        if !problems.is_empty() {
            return Err(ConversionError::NotTaken { problems }.into());
        }
        let mapped = mapped(&foreign, catalogue, said);
        let document = foreign_document(&foreign, &mapped, catalogue);
        let recipe = self.parse_recipe("the converted recipe", &document)?;
        let mut remarks = foreign.remarks;
        let contradictions = match self.ensure_no_batch_is_tasted() {
            Ok(()) => contradictions(&foreign.stated, &recipe),
            Err(WorkflowError::PredictionsWait { .. }) => {
                remarks.push(FIGURES_WAIT.to_owned());
                Vec::new()
            }
            Err(other) => return Err(other),
        };
        Ok(Conversion {
            place,
            recipe,
            document,
            mapped,
            remarks,
            contradictions,
        })
    }

    /// A recipe file as BeerJSON.
    ///
    /// # Errors
    /// The file cannot be read, or every problem in it at once; or a batch is being tasted, because figures stand in it.
    pub fn recipe_as_beerjson(&self, file: &Path) -> Result<String, WorkflowError> {
        let it = self.read_recipe(file)?;
        self.ensure_no_batch_is_tasted()?;
        Ok(as_beerjson(&it.recipe, &it.document))
    }

    /// Writes a conversion into a new file: as BeerJSON where its name ends in .json, else as a recipe file of ours.
    ///
    /// # Errors
    /// Something has this name already, or the disk refuses; or it is to be BeerJSON while a batch is being tasted,
    /// because figures stand in it.
    pub fn write_conversion(&self, it: &Conversion, file: &Path) -> Result<(), WorkflowError> {
        let text = match named_kind(file) {
            RecipeKind::BeerJson => {
                self.ensure_no_batch_is_tasted()?;
                as_beerjson(&it.recipe, &it.document)
            }
            _ => it.document.clone(),
        };
        Ok(write_new_file(file, text)?)
    }

    /// Writes a recipe file as BeerJSON into a new file.
    ///
    /// # Errors
    /// The recipe cannot be read, something has this name already, or the disk refuses.
    pub fn write_beerjson(&self, recipe: &Path, file: &Path) -> Result<(), WorkflowError> {
        Ok(write_new_file(file, self.recipe_as_beerjson(recipe)?)?)
    }
}

/// Lets pass what may be a recipe file of ours, by its name and by how it begins: of anything else every line would be
/// a problem.
///
/// # Errors
/// It is a recipe of another standard, a broken one of those, or no recipe at all.
pub(super) fn ensure_ours(file: &Path, document: &str) -> Result<(), ConversionError> {
    let begins = document.trim_start_matches('\u{feff}').trim_start();
    let of = || file.to_owned();
    if begins.starts_with(['<', '{']) {
        return Err(match read_foreign(document) {
            Ok(_) => ConversionError::OfAnother { file: of() },
            Err(error) => ConversionError::NotRead { file: of(), error },
        });
    }
    let mut lines = begins.lines().map(str::trim);
    let first = lines.find(|it| !it.is_empty() && !it.starts_with('#'));
    let is_ours = first.is_none_or(|it| it.starts_with('[') || it.contains('='));
    if is_ours || named_kind(file) == RecipeKind::Own {
        return Ok(());
    }
    Err(ConversionError::NoRecipeFile { file: of() })
}

/// The recipes of a file of another standard.
fn read_all(file: &Path) -> Result<Vec<ForeignRecipe>, WorkflowError> {
    let file = file.to_owned();
    read_foreign(&read_file(&file)?)
        .map_err(|error| ConversionError::NotRead { file, error }.into())
}

/// What a file of a recipe is, by its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RecipeKind {
    /// A recipe file of ours: .toml.
    Own,
    /// BeerJSON: .json.
    BeerJson,
    /// Anything else.
    Other,
}

/// What the ending of a name says.
#[must_use]
pub fn named_kind(file: &Path) -> RecipeKind {
    let ends = |with: &str| {
        file.extension()
            .is_some_and(|it| it.eq_ignore_ascii_case(with))
    };
    if ends("toml") {
        RecipeKind::Own
    } else if ends("json") {
        RecipeKind::BeerJson
    } else {
        RecipeKind::Other
    }
}

/// The BeerJSON of a recipe with what the program computes of it.
pub(super) fn as_beerjson(recipe: &Recipe, document: &str) -> String {
    let figures = figures(recipe, &BatchLog::default());
    let of = |id: &str, places: i32| {
        let unit = 10_f64.powi(places);
        figures.get(id).map(|it| (it.value * unit).round() / unit)
    };
    let stated = StatedFigures {
        original: of("original-gravity", 4),
        end: of("final-gravity", 4),
        alcohol: of("alcohol", 2),
        bitterness: of("bitterness", 1),
        colour: of("colour", 1),
        usual_efficiency: 100.0 * USUAL_EFFICIENCY,
    };
    beerjson(recipe, document, &stated)
}

/// What the file states and its ingredients do not give.
fn contradictions(stated: &ForeignFigures, recipe: &Recipe) -> Vec<String> {
    let figures = figures(recipe, &BatchLog::default());
    let of = |id: &str| figures.get(id).map(|it| it.value);
    let gravity = |word: &str, id: &str, stated: Option<f64>| {
        let (stated, is) = (stated.filter(|it| *it > 1.0)?, of(id)?);
        ((stated - is).abs() > GRAVITY_APART)
            .then(|| format!("{word}: the file says {stated:.3}, its ingredients give {is:.3}"))
    };
    let bitterness = || {
        let (stated, is) = (stated.bitterness.filter(|it| *it > 0.0)?, of("bitterness")?);
        ((stated - is).abs() > BITTERNESS_APART * is.max(stated))
            .then(|| format!("bitterness: the file says {stated:.0} IBU, its hops give {is:.0}"))
    };
    [
        gravity("original gravity", "original-gravity", stated.original),
        gravity("final gravity", "final-gravity", stated.end),
        bitterness(),
    ]
    .into_iter()
    .flatten()
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::NotesSource;

    const XML: &str = include_str!("../../tests/standards/evening-pale.xml");

    #[test]
    fn what_is_no_recipe_file_of_ours_is_told_in_one_sentence() {
        let folder = tempfile::tempdir().unwrap();
        let home = Home::trial();
        for (name, text, told) in [
            ("pale.xml", XML, "thirdglass recipe convert"),
            (
                "broken.xml",
                "<html><p>no beer",
                "cannot be read as a recipe",
            ),
            (
                "broken.json",
                "{\"beerjson\": ",
                "cannot be read as a recipe",
            ),
            ("pale.toml", XML, "thirdglass recipe convert"),
            ("shopping.txt", "milk\nbread\n", "no recipe file"),
        ] {
            let file = folder.path().join(name);
            std::fs::write(&file, text).unwrap();
            let refused = home.read_recipe(&file).unwrap_err().to_string();
            assert!(refused.contains(told), "{name}: {refused}");
            assert!(!refused.contains('\n'), "{name}: {refused}");
        }
    }

    #[test]
    fn a_file_is_converted_while_a_batch_is_tasted_and_only_its_figures_wait() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("pale.xml");
        std::fs::write(&file, XML).unwrap();
        let mut home = Home::trial_with_a_batch();
        let before = home.converted(&file, 1, &[]).unwrap();
        assert!(!before.contradictions.is_empty());
        let ana = home.taster_or_new("Ana").unwrap();
        home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        let during = home.converted(&file, 1, &[]).unwrap();
        assert_eq!(during.document, before.document);
        assert_eq!(during.contradictions, Vec::<String>::new());
        assert!(during.remarks.contains(&FIGURES_WAIT.to_owned()));
        home.write_conversion(&during, &folder.path().join("pale.toml"))
            .unwrap();
        let figures = home.write_conversion(&during, &folder.path().join("pale.json"));
        assert!(figures.is_err(), "figures stand in BeerJSON");
        let missing = home.converted(&folder.path().join("no.xml"), 1, &[]);
        let told = missing.unwrap_err().to_string();
        assert!(told.contains("no.xml"), "{told}");
    }
}
