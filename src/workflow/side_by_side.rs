//! The plan opened beside the notes: hopes, promises and figures next to what was found, not yet judged against noise.

use crate::domain::Batch;
use crate::domain::DescriptorId;
use crate::domain::Intent;
use crate::domain::Line;
use crate::domain::Matters;
use crate::domain::Measure;
use crate::domain::Name;
use crate::domain::Notes;
use crate::domain::Promise;
use crate::domain::Scale;
use crate::domain::ShelfId;
use crate::domain::Subject;
use crate::domain::Target;
use crate::domain::Wheel;
use crate::workflow::DatedIntent;
use crate::workflow::Figure;
use crate::workflow::Found;
use crate::workflow::Home;
use crate::workflow::Noted;
use crate::workflow::WorkflowError;
use crate::workflow::figures;
use crate::workflow::noted::named;
use crate::workflow::noted::noted;
use crate::workflow::noted::scale_noted;
use crate::workflow::subject_word;

/// One hope beside what each set of notes says.
#[derive(Debug, Clone, PartialEq)]
pub struct HopedLine {
    /// The key in JSON, such as `bitter` or `aroma:orange-peel`.
    pub id: String,
    /// The words on screen.
    pub label: String,
    /// The unit where it is not an intensity.
    pub unit: &'static str,
    /// How strong it was hoped for.
    pub hoped: f64,
    /// How much it matters.
    pub matters: Matters,
    /// What each set of notes says, in the order of [`SideBySide::found`].
    pub noted: Vec<Noted>,
}

/// One promised word and who found it.
#[derive(Debug, Clone, PartialEq)]
pub struct PromisedLine {
    /// Which packet.
    pub packet: Name,
    /// The word.
    pub word: String,
    /// Who named it, or a word of its shelf.
    pub found_by: Vec<String>,
}

/// A word that nobody planned.
#[derive(Debug, Clone, PartialEq)]
pub struct UnplannedWord {
    /// What was named.
    pub word: String,
    /// By whom.
    pub found_by: Vec<String>,
}

/// A computed or measured figure with the scale of the notes that stands nearest to it.
#[derive(Debug, Clone, PartialEq)]
pub struct FigureLine {
    /// The figure.
    pub figure: Figure,
    /// The scale beside it, if there is one.
    pub scale: Option<&'static Scale>,
    /// What each set of notes says on that scale.
    pub noted: Vec<Noted>,
}

/// Plan and notes of one beer side by side.
#[derive(Debug, Clone, PartialEq)]
pub struct SideBySide {
    /// The bottle.
    pub cap_mark: Name,
    /// Name and version of the recipe.
    pub recipe: String,
    /// When the intent was written.
    pub intent: DatedIntent,
    /// The sets of notes, oldest first.
    pub found: Vec<Found>,
    /// Hopes, those that matter most first.
    pub hoped: Vec<HopedLine>,
    /// Promises.
    pub promised: Vec<PromisedLine>,
    /// Words that nobody planned, most often found first.
    pub unplanned: Vec<UnplannedWord>,
    /// Figures.
    pub figures: Vec<FigureLine>,
    /// Cautions that hang on the figures.
    pub cautions: Vec<String>,
    /// How many sets of notes were left out because something was wrong with the bottle.
    pub faulty_bottles: usize,
}

/// Which scale stands beside which figure.
const BESIDE: [(&str, &str); 5] = [
    ("colour", "colour"),
    ("bitterness", "bitter"),
    ("alcohol", "alcohol-warmth"),
    ("real-extract", "fullness"),
    ("carbonation", "carbonation"),
];

impl Home {
    /// Opens the plan beside the locked notes, of one taster or of all.
    ///
    /// # Errors
    /// Somebody is still tasting, nothing is locked yet, or the beer has no recipe.
    pub fn side_by_side(
        &mut self,
        mark: &str,
        taster: Option<&str>,
    ) -> Result<SideBySide, WorkflowError> {
        let beer = self.beer(mark)?;
        self.ensure_plan_unsealed(&beer, "the plan")?;
        let batch = match &beer.batch {
            Some(id) => self.store.batch(id)?,
            None => None,
        }
        .ok_or_else(|| WorkflowError::NoRecipe {
            mark: beer.cap_mark.to_string(),
        })?;
        let only = taster.map(|name| self.taster(name)).transpose()?;
        let mut found = Vec::new();
        for row in self.store.notes_of_beer(&beer.id)? {
            let wanted = only.as_ref().is_none_or(|it| it.id == row.taster.id);
            if wanted && row.locked_at.is_some() {
                found.push(self.found(&row.notes)?);
            }
        }
        if found.is_empty() {
            return Err(WorkflowError::NothingTasted {
                mark: beer.cap_mark.to_string(),
            });
        }
        let all = found.len();
        found.retain(|it| it.notes.bottle_fault.is_none());
        let faulty_bottles = all - found.len();
        self.beside(&batch, found, faulty_bottles)
    }

    fn beside(
        &self,
        batch: &Batch,
        found: Vec<Found>,
        faulty_bottles: usize,
    ) -> Result<SideBySide, WorkflowError> {
        let recipe = self.recipe_of(batch)?;
        let log = self.log_of(&batch.id)?;
        let intent = self.intent_of(batch, &recipe, &log)?;
        let figures = figures(&recipe, &log);
        let wheel = self.wheel();
        let notes: Vec<&Notes> = found.iter().map(|it| &it.notes).collect();
        Ok(SideBySide {
            cap_mark: batch.cap_mark.clone(),
            recipe: format!("{}, version {}", recipe.name, recipe.version),
            hoped: hoped_lines(wheel, &intent.intent, &notes),
            promised: promised_lines(wheel, &recipe.promised, &found),
            unplanned: unplanned(wheel, &intent.intent, &recipe.promised, &found),
            figures: figures
                .figures
                .into_iter()
                .map(|figure| figure_line(figure, &notes))
                .collect(),
            cautions: figures.cautions,
            intent,
            found,
            faulty_bottles,
        })
    }
}

fn hoped_lines(wheel: &Wheel, intent: &Intent, notes: &[&Notes]) -> Vec<HopedLine> {
    let mut lines: Vec<HopedLine> = intent
        .targets
        .iter()
        .map(|target| {
            let (id, label, unit) = line_words(wheel, &target.line);
            HopedLine {
                id,
                label,
                unit,
                hoped: target.value,
                matters: target.matters,
                noted: notes
                    .iter()
                    .map(|it| noted(wheel, it, &target.line))
                    .collect(),
            }
        })
        .collect();
    lines.sort_by_key(|line| std::cmp::Reverse(line.matters));
    lines
}

fn line_words(wheel: &Wheel, line: &Line) -> (String, String, &'static str) {
    match line {
        Line::Scale(scale) => {
            let unit = match scale.measure {
                Measure::Amount { unit, .. } => unit,
                _ => "",
            };
            (scale.id.to_owned(), scale.word.to_owned(), unit)
        }
        Line::Word { descriptor, stage } => {
            let word = subject_word(wheel, &Subject::Descriptor(descriptor.clone()));
            (
                format!("{}:{descriptor}", stage.id()),
                format!("{word} ({})", stage.id()),
                "",
            )
        }
        Line::Shelf { shelf, stage } => {
            let name = wheel
                .shelf(shelf)
                .map_or_else(|| shelf.to_string(), |it| it.name.clone());
            (
                format!("{}:shelf:{shelf}", stage.id()),
                format!("shelf {name} ({})", stage.id()),
                "",
            )
        }
    }
}

fn names_it(wheel: &Wheel, notes: &Notes, word: &DescriptorId) -> bool {
    let shelf = wheel.descriptor(word).map(|it| &it.shelf);
    named(notes).iter().any(|subject| match subject {
        Subject::Descriptor(id) => id == word,
        Subject::Shelf(id) => Some(id) == shelf,
        Subject::Place(_) | Subject::Free(_) => false,
    })
}

fn promised_lines(wheel: &Wheel, promised: &[Promise], found: &[Found]) -> Vec<PromisedLine> {
    promised
        .iter()
        .flat_map(|promise| promise.words.iter().map(move |word| (promise, word)))
        .map(|(promise, word)| PromisedLine {
            packet: promise.packet.clone(),
            word: subject_word(wheel, &Subject::Descriptor(word.clone())),
            found_by: names_of(found.iter().filter(|it| names_it(wheel, &it.notes, word))),
        })
        .collect()
}

fn names_of<'a>(found: impl Iterator<Item = &'a Found>) -> Vec<String> {
    let mut names: Vec<String> = found.map(|it| it.taster.to_string()).collect();
    names.dedup();
    names
}

fn unplanned(
    wheel: &Wheel,
    intent: &Intent,
    promised: &[Promise],
    found: &[Found],
) -> Vec<UnplannedWord> {
    let mut subjects: Vec<&Subject> = Vec::new();
    for subject in found.iter().flat_map(|it| named(&it.notes)) {
        if !is_planned(wheel, intent, promised, subject) && !subjects.contains(&subject) {
            subjects.push(subject);
        }
    }
    let finders = |subject: &Subject| {
        names_of(
            found
                .iter()
                .filter(|it| named(&it.notes).contains(&subject)),
        )
    };
    let mut words: Vec<UnplannedWord> = subjects
        .into_iter()
        .map(|subject| UnplannedWord {
            word: subject_word(wheel, subject),
            found_by: finders(subject),
        })
        .collect();
    words.sort_by_key(|it| std::cmp::Reverse(it.found_by.len()));
    words
}

/// True if somebody hoped for this, or a packet promised it.
fn is_planned(wheel: &Wheel, intent: &Intent, promised: &[Promise], subject: &Subject) -> bool {
    let hopes_for_shelf = |wanted: &ShelfId| {
        let is_it = |it: &Target| matches!(&it.line, Line::Shelf { shelf, .. } if shelf == wanted);
        intent.targets.iter().any(is_it)
    };
    match subject {
        Subject::Descriptor(id) => {
            let hopes_for_word =
                |it: &Target| matches!(&it.line, Line::Word { descriptor, .. } if descriptor == id);
            promised.iter().any(|it| it.words.contains(id))
                || intent.targets.iter().any(hopes_for_word)
                || wheel
                    .descriptor(id)
                    .is_some_and(|it| hopes_for_shelf(&it.shelf))
        }
        Subject::Shelf(id) => hopes_for_shelf(id),
        Subject::Place(_) | Subject::Free(_) => false,
    }
}

fn figure_line(figure: Figure, notes: &[&Notes]) -> FigureLine {
    let scale = BESIDE
        .iter()
        .find(|(id, _)| *id == figure.id)
        .and_then(|(_, scale)| Scale::from_id(scale).ok());
    FigureLine {
        figure,
        scale,
        noted: scale.map_or_else(Vec::new, |scale| {
            notes.iter().map(|it| scale_noted(it, scale)).collect()
        }),
    }
}
