//! What one taster's notes teach the predictions: which notes count, held against the prediction of today.

use std::collections::HashMap;

use crate::domain::BatchId;
use crate::domain::Day;
use crate::domain::Form;
use crate::domain::Name;
use crate::domain::Notes;
use crate::domain::Prompting;
use crate::domain::Scale;
use crate::domain::ShelfId;
use crate::domain::Stage;
use crate::domain::Taster;
use crate::domain::Wheel;
use crate::profile::Calibration;
use crate::profile::Digits;
use crate::profile::LEAST_BATCHES;
use crate::profile::Named;
use crate::profile::Naming;
use crate::profile::Noise;
use crate::profile::Offset;
use crate::profile::Prediction;
use crate::profile::Residual;
use crate::profile::ShelfForecast;
use crate::profile::Shift;
use crate::storage::NotesRow;
use crate::workflow::Found;
use crate::workflow::Home;
use crate::workflow::Noted;
use crate::workflow::WorkflowError;
use crate::workflow::compared_lines::shelf_label;
use crate::workflow::counted_notes::is_unled;
use crate::workflow::counted_notes::on_scale;
use crate::workflow::counted_notes::on_shelf;
use crate::workflow::taster_noise::TasterNoise;

/// A line on which something was learnt.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct LearntOn {
    /// The key in JSON.
    pub(super) id: String,
    /// The words on screen.
    pub(super) label: String,
}

/// A batch that was learnt from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct LearntFrom {
    pub(super) id: BatchId,
    pub(super) mark: Name,
    pub(super) glasses: usize,
}

/// Notes of one taster held against predictions, and what follows from them.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Learning {
    pub(super) lines: Vec<LearntOn>,
    pub(super) batches: Vec<LearntFrom>,
    pub(super) residuals: Vec<Residual>,
    pub(super) named: Vec<Named>,
    pub(super) digits: Calibration,
    pub(super) naming: Naming,
}

/// The notes of one taster on one batch that count.
struct Tasted {
    batch: BatchId,
    found: Vec<Found>,
}

impl Home {
    /// What a taster's notes teach: first passes that are locked, of sound bottles, of batches that nobody is
    /// tasting, by a taster who was not led and had a good nose. Words that were asked for are left out, and
    /// so are the batches that are to be judged by what the others teach.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(super) fn learning(
        &self,
        taster: &Taster,
        judged: &[BatchId],
        noise: &TasterNoise,
    ) -> Result<Learning, WorkflowError> {
        let mut gathered = Gathered::default();
        let own = OwnNoise {
            noise,
            taster: &taster.name,
        };
        let mut teaching = Vec::new();
        for tasted in self.notes_that_teach(taster, judged)? {
            let batch = self.store.batch(&tasted.batch)?;
            teaching.extend(batch.map(|it| (it, tasted)));
        }
        self.read_recipes_ahead(&teaching.iter().map(|it| &it.0.version).collect(), || ())?;
        for (batch, tasted) in teaching {
            let recipe = self.recipe_of(&batch)?;
            let last = tasted.found.iter().map(|it| it.tasted_on).max();
            let prediction = self.profile_of(&recipe, &self.log_of(&batch.id)?, last);
            gathered.batches.push(LearntFrom {
                id: batch.id,
                mark: batch.cap_mark,
                glasses: tasted.found.len(),
            });
            gathered.hold(self.wheel(), &prediction, &tasted.found, own);
        }
        Ok(gathered.learnt())
    }

    fn notes_that_teach(
        &self,
        taster: &Taster,
        judged: &[BatchId],
    ) -> Result<Vec<Tasted>, WorkflowError> {
        let mut all: Vec<Tasted> = Vec::new();
        let mut places: HashMap<BatchId, usize> = HashMap::new();
        let glasses = self.poured_glasses()?;
        for (row, notes) in self.store.whole_notes_of_taster(&taster.id)? {
            let Some(batch) = row.beer.batch.clone().filter(|it| !judged.contains(it)) else {
                continue;
            };
            let sound = row.locked_at.is_some() && row.bottle_fault.is_none() && row.round == 1;
            if !sound || self.is_tasted_now(&glasses, &row.beer)? {
                continue;
            }
            let found = by_themselves(row, notes);
            if !is_unled(&found) {
                continue;
            }
            let place = *places.entry(batch.clone()).or_insert(all.len());
            if place == all.len() {
                all.push(Tasted {
                    batch,
                    found: Vec::new(),
                });
            }
            all[place].found.push(found);
        }
        Ok(all)
    }

    /// True while this taster has any glass of a batch before them: what was learnt of them would lead them.
    pub(super) fn is_tasting(&self, taster: &Taster) -> Result<bool, WorkflowError> {
        let open = self.open_notes()?;
        let waiting = self.store.waiting_glasses()?;
        Ok(open.iter().any(|it| it.taster.id == taster.id)
            || waiting.iter().any(|it| it.taster.id == taster.id))
    }
}

/// Notes without the words that were asked for; which words are new to the taster is not looked up.
fn by_themselves(row: NotesRow, mut notes: Notes) -> Found {
    notes
        .marks
        .retain(|mark| mark.prompting == Prompting::Unprompted);
    Found::without_firsts(notes, row)
}

/// The noise of the taster whose notes are learnt from.
#[derive(Clone, Copy)]
struct OwnNoise<'a> {
    noise: &'a TasterNoise,
    taster: &'a Name,
}

/// Notes and predictions batch by batch, before anything is learnt.
#[derive(Default)]
struct Gathered {
    lines: Vec<LearntOn>,
    batches: Vec<LearntFrom>,
    residuals: Vec<Residual>,
    named: Vec<Named>,
}

impl Gathered {
    /// The number of a line, given to it when it is first seen.
    fn line(&mut self, id: String, label: impl FnOnce() -> String) -> usize {
        if let Some(at) = self.lines.iter().position(|it| it.id == id) {
            return at;
        }
        self.lines.push(LearntOn { id, label: label() });
        self.lines.len() - 1
    }

    /// Holds the notes on the batch that was added last against its prediction.
    fn hold(&mut self, wheel: &Wheel, prediction: &Prediction, found: &[Found], own: OwnNoise<'_>) {
        for forecast in &prediction.scales {
            let scale = forecast.scale;
            let line = self.line(scale.id.to_owned(), || scale.word.to_owned());
            let answers = values(found, &on_scale(found, scale), |it| scale.digits(it));
            let noise = own.noise.on_scale(own.taster, scale);
            self.add(line, &answers, noise, |notes| {
                forecast.digits_expected(notes, Shift::NONE)
            });
        }
        for forecast in &prediction.shelves {
            self.hold_shelf(wheel, forecast, found, own.noise.on_shelf(own.taster));
        }
    }

    /// The strength of a shelf where it was named, and whether it was.
    fn hold_shelf(
        &mut self,
        wheel: &Wheel,
        forecast: &ShelfForecast,
        found: &[Found],
        noise: Noise,
    ) {
        let (shelf, stage) = (&forecast.shelf, forecast.stage);
        let label = || shelf_label(wheel, shelf, stage, &[]);
        let line = self.line(shelf_id(shelf, stage), label);
        let noted = on_shelf(wheel, found, shelf, stage);
        let mut answers = values(found, &noted, |it| it);
        // A shelf that is denied has no strength.
        answers.retain(|it| it.digits > 0.0);
        self.add(line, &answers, noise, |notes| {
            *forecast.odour.expected(notes, Shift::NONE).if_named()
        });
        let asked = found.iter().zip(&noted);
        let asked = asked.filter(|(it, _)| it.notes.form == Form::Full);
        let asked: Vec<bool> = asked.map(|(_, noted)| is_named(*noted)).collect();
        if asked.is_empty() {
            return;
        }
        let named = asked.iter().filter(|it| **it).count();
        self.named.push(Named {
            batch: self.batches.len() - 1,
            line,
            chance: forecast.odour.named().get(),
            share: named as f64 / asked.len() as f64,
        });
    }

    /// The residual of a line, where there is a number: the glasses of the batch are averaged.
    fn add(
        &mut self,
        line: usize,
        answers: &[Answer],
        noise: Noise,
        expected: impl Fn(f64) -> Digits,
    ) {
        if answers.is_empty() {
            return;
        }
        let number = answers.len() as f64;
        let of_a_day = |day| answers.iter().filter(|it| it.day == day).count();
        let squares: usize = answers.iter().map(|it| of_a_day(it.day)).sum();
        // As in a verdict: R²/Σr² days with r glasses on each.
        let days = number * number / squares as f64;
        let digits = expected(noise.unrounded(number, days));
        let mean = answers.iter().map(|it| it.digits).sum::<f64>() / number;
        self.residuals.push(Residual {
            batch: self.batches.len() - 1,
            line,
            gap: mean - digits.mean(),
            variance: digits.variance(),
        });
    }

    fn learnt(self) -> Learning {
        Learning {
            digits: Calibration::learn(&self.residuals),
            naming: Naming::learn(&self.named),
            lines: self.lines,
            batches: self.batches,
            residuals: self.residuals,
            named: self.named,
        }
    }
}

/// One number of one set of notes.
struct Answer {
    day: Day,
    digits: f64,
}

/// The numbers that notes give on a line.
fn values(found: &[Found], noted: &[Noted], digits: impl Fn(f64) -> f64) -> Vec<Answer> {
    let both = found.iter().zip(noted);
    let answers = both.filter_map(|(it, noted)| match noted {
        Noted::Value(value) => Some(Answer {
            day: it.tasted_on,
            digits: digits(*value),
        }),
        _ => None,
    });
    answers.collect()
}

const fn is_named(noted: Noted) -> bool {
    match noted {
        Noted::Value(value) => value > 0.0,
        Noted::Named => true,
        _ => false,
    }
}

/// The key of a shelf at a stage.
pub(super) fn shelf_id(shelf: &ShelfId, stage: Stage) -> String {
    format!("{}:shelf:{shelf}", stage.id())
}

impl Learning {
    /// True from the number of batches on at which offsets are used at all.
    pub(super) fn is_enough(&self) -> bool {
        self.batches.len() >= LEAST_BATCHES
    }

    fn number(&self, id: &str) -> usize {
        // A number that no line has stands for all that were never seen.
        let at = self.lines.iter().position(|it| it.id == id);
        at.unwrap_or(self.lines.len())
    }

    /// How far the taster answers above the prediction on a scale; nothing before there is enough.
    pub(super) fn on_scale(&self, scale: &Scale) -> Offset {
        if self.is_enough() {
            self.digits.offset(self.number(scale.id))
        } else {
            Offset::NONE
        }
    }

    /// All that was learnt on a line; nothing before there is enough.
    pub(super) fn shift(&self, id: &str) -> Shift {
        if !self.is_enough() {
            return Shift::NONE;
        }
        let line = self.number(id);
        Shift {
            offset: self.digits.offset(line),
            factor: self.digits.factor(),
            naming: self.naming.on(line).0,
        }
    }
}
