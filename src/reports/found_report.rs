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
use crate::workflow::Found;

/// What was found, as lines.
#[must_use]
pub fn found_lines(found: &Found, wheel: &Wheel, cells: usize) -> Vec<Line> {
    let mut lines = Vec::new();
    if let Some(fault) = found.notes.bottle_fault {
        lines.push(Line::of(
            Ink::Alert,
            format!(
                "Something was wrong with this bottle: {}. It stays out of comparisons.",
                fault.word()
            ),
        ));
        return lines;
    }
    for &stage in Stage::ALL {
        let words = found.words(wheel, stage);
        let ratings = ratings_of(&found.notes, Some(stage));
        if words.is_empty() && ratings.is_empty() {
            continue;
        }
        lines.push(Line::of(Ink::Strong, stage.word()));
        for text in [words.join(", "), ratings] {
            lines.extend(indented(&text, cells));
        }
    }
    if lines.is_empty() {
        let silence = "You locked this glass without a word or a rating. That is kept as silence, not as zero.";
        lines.extend(wrap(silence, cells).into_iter().map(Line::plain));
    }
    let after = ratings_of(&found.notes, None);
    if !after.is_empty() {
        lines.push(Line::of(Ink::Strong, "Apart from the profile"));
        lines.extend(indented(&after, cells));
    }
    if let Some(remark) = &found.notes.remark {
        lines.extend(indented(&format!("“{}”", remark.as_str()), cells));
    }
    if !found.firsts.is_empty() {
        let sentence = format!(
            "A first: you have never noted {} before.",
            listed(&found.firsts)
        );
        lines.extend(
            wrap(&sentence, cells)
                .into_iter()
                .map(|line| Line::of(Ink::Good, line)),
        );
    }
    if found.notes.seal_broken_at.is_some() {
        lines.push(Line::of(
            Ink::Alert,
            "The seal was broken before these notes were locked.",
        ));
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

fn indented(text: &str, cells: usize) -> Vec<Line> {
    if text.is_empty() {
        return Vec::new();
    }
    wrap(text, cells.saturating_sub(2))
        .into_iter()
        .map(|line| Line::plain(format!("  {line}")))
        .collect()
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
