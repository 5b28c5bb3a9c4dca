//! What one taster found in one glass, stage by stage.

use crate::domain::Measure;
use crate::domain::Notes;
use crate::domain::Rating;
use crate::domain::SCALES;
use crate::domain::Scale;
use crate::domain::Stage;
use crate::domain::Wheel;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::wrap;
use crate::reports::indented;
use crate::workflow::Found;

/// What was found, as lines of at most `cells` cells.
#[must_use]
pub fn found_lines(found: &Found, wheel: &Wheel, cells: usize) -> Vec<Line> {
    if let Some(fault) = found.notes.bottle_fault {
        let fault = format!(
            "Something was wrong with this bottle: {}. It stays out of comparisons.",
            fault.word()
        );
        let fault = wrap(&fault, cells).into_iter();
        return fault.map(|line| Line::of(Ink::Alert, line)).collect();
    }
    let mut lines: Vec<Line> = Stage::ALL
        .iter()
        .flat_map(|&stage| {
            let words = found.words(wheel, stage).join(", ");
            let ratings = ratings_of(&found.notes, Some(stage));
            part(stage.word(), &[words, ratings], cells)
        })
        .collect();
    if lines.is_empty() {
        let silence = "You locked this glass without a word or a rating. That is kept as silence, not as zero.";
        lines.extend(wrap(silence, cells).into_iter().map(Line::plain));
    }
    lines.extend(apart(found, cells));
    lines
}

/// What stands apart from the profile: liking, free notes, firsts, and a broken seal.
fn apart(found: &Found, cells: usize) -> Vec<Line> {
    let remark = found
        .notes
        .remark
        .as_ref()
        .map(|it| format!("“{}”", it.as_str()));
    let after = [ratings_of(&found.notes, None), remark.unwrap_or_default()];
    let mut lines = part("Apart from the profile", &after, cells);
    if !found.firsts.is_empty() {
        let first = format!(
            "A first: {} had never noted {} before.",
            found.taster,
            listed(&found.firsts)
        );
        let first = wrap(&first, cells).into_iter();
        lines.extend(first.map(|line| Line::of(Ink::Good, line)));
    }
    if found.notes.seal_broken_at.is_some() {
        let broken = "The seal was broken before these notes were locked.";
        lines.push(Line::of(Ink::Alert, broken));
    }
    lines
}

/// A heading over texts; nothing if all of them are empty.
fn part(heading: &str, texts: &[String], cells: usize) -> Vec<Line> {
    let said = texts.iter().filter(|text| !text.is_empty());
    let mut lines: Vec<Line> = said
        .flat_map(|text| indented(Ink::Plain, text, cells))
        .collect();
    if !lines.is_empty() {
        lines.insert(0, Line::of(Ink::Strong, heading));
    }
    lines
}

/// The words as a list in a sentence.
fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} or {last}", most.join(", ")),
    }
}

/// The ratings of a stage as one sentence of pairs; empty if none was given.
#[must_use]
pub fn ratings_of(notes: &Notes, stage: Option<Stage>) -> String {
    SCALES
        .iter()
        .filter(|scale| scale.stage == stage)
        .filter_map(|scale| {
            notes
                .rating(scale)
                .map(|rating| rating_words(scale, rating))
        })
        .collect::<Vec<_>>()
        .join(" · ")
}

/// A rating in words, with its scale.
#[must_use]
pub fn rating_words(scale: &Scale, rating: Rating) -> String {
    let name = scale.word.to_lowercase();
    match (rating, &scale.measure) {
        (Rating::Rated(value), Measure::Choice { .. }) => {
            format!("{name}: {}", scale.words_for(value))
        }
        (Rating::Rated(value), _) => format!("{name} {}", scale.words_for(value)),
        (Rating::Skipped, _) => format!("{name} skipped"),
        (Rating::CannotTell, _) => format!("{name} cannot tell"),
    }
}
