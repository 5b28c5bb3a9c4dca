//! What the tasters of a panel say together of a glass: middle and spread, words by how many, and who stands apart.

use std::f64::consts::FRAC_PI_2;

use crate::domain::Name;
use crate::domain::Notes;
use crate::domain::Rating;
use crate::domain::Scale;
use crate::domain::Wheel;
use crate::profile::Noise;
use crate::statistics::Moments;
use crate::statistics::Probability;
use crate::statistics::StudentT;
use crate::statistics::discoveries;
use crate::workflow::noted::named;
use crate::workflow::subject_word;

/// Fewer tasters than this have no middle that somebody could stand apart from.
const LEAST_TASTERS: usize = 3;

/// The share of those said to stand apart that may be wrong.
const LEVEL: Probability = Probability::new(0.05).expect("5 % is a probability");

/// How much noise there is in the answers of a taster on a scale.
pub(super) type NoiseOf<'a> = &'a dyn Fn(&Name, &Scale) -> Noise;

/// One taster on one beer: their notes on each glass of it.
pub(super) struct Voice {
    /// Who.
    pub(super) taster: Name,
    /// The notes of the first round that count, one a glass.
    pub(super) first: Vec<Notes>,
    /// The same after the talk, where something was locked then; otherwise as before.
    pub(super) after: Vec<Notes>,
}

/// The middle and the spread of several answers, in digits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Summary {
    /// The median.
    pub median: f64,
    /// The lowest.
    pub lowest: f64,
    /// The highest.
    pub highest: f64,
    /// How many tasters gave a number.
    pub tasters: usize,
}

/// One scale of a glass.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelLine {
    /// The scale.
    pub scale: &'static Scale,
    /// As everybody answered alone.
    pub first: Summary,
    /// After the talk, where somebody looked at their notes on this glass again.
    pub after: Option<Summary>,
}

/// One word of a glass.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PanelWord {
    /// The word, as it is told.
    pub word: String,
    /// How many tasters named it alone.
    pub first: usize,
    /// How many after the talk, where somebody looked at their notes on this glass again.
    pub after: Option<usize>,
}

/// A taster whose answer stands apart from the others' by more than noise makes of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Apart {
    /// Who.
    pub taster: Name,
    /// At which glass or beer, by its place in the list of all.
    pub at: usize,
    /// On what.
    pub scale: &'static Scale,
    /// Their answer, in digits.
    pub answer: f64,
    /// The median of the others, in digits.
    pub others: f64,
}

/// One taster's answer on a scale, in digits: over so many glasses.
struct Answer<'a> {
    taster: &'a Name,
    digits: f64,
    glasses: f64,
}

/// Whether anybody looked at their notes again.
fn is_changed(voices: &[Voice]) -> bool {
    voices
        .iter()
        .any(|it| it.after.iter().any(|it| it.round > 1))
}

/// The scales of a glass that at least one taster gave a number on.
pub(super) fn lines(voices: &[Voice], scales: &[&'static Scale]) -> Vec<PanelLine> {
    let changed = is_changed(voices);
    let line = |scale: &&'static Scale| {
        let first = summary(&answers(voices, scale, |it| &it.first))?;
        let after = changed.then(|| summary(&answers(voices, scale, |it| &it.after)));
        Some(PanelLine {
            scale,
            first,
            after: after.flatten(),
        })
    };
    scales.iter().filter_map(line).collect()
}

fn answers<'a>(
    voices: &'a [Voice],
    scale: &Scale,
    round: impl Fn(&'a Voice) -> &'a Vec<Notes>,
) -> Vec<Answer<'a>> {
    let answer = |voice: &'a Voice| {
        let notes = round(voice).iter();
        let values = notes.filter_map(|it| it.rating(scale).and_then(Rating::value));
        let digits: Vec<f64> = values.map(|it| scale.digits(it)).collect();
        let glasses = digits.len() as f64;
        (!digits.is_empty()).then(|| Answer {
            taster: &voice.taster,
            digits: digits.iter().sum::<f64>() / glasses,
            glasses,
        })
    };
    voices.iter().filter_map(answer).collect()
}

fn summary(answers: &[Answer<'_>]) -> Option<Summary> {
    let digits = sorted(answers.iter().map(|it| it.digits));
    Some(Summary {
        median: median(&digits)?,
        lowest: *digits.first()?,
        highest: *digits.last()?,
        tasters: digits.len(),
    })
}

fn sorted(digits: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut digits: Vec<f64> = digits.collect();
    digits.sort_by(f64::total_cmp);
    digits
}

/// The middle of sorted numbers; between the two in the middle where their number is even.
fn median(sorted: &[f64]) -> Option<f64> {
    let middle = sorted.len() / 2;
    let upper = *sorted.get(middle)?;
    if sorted.len() % 2 == 1 {
        return Some(upper);
    }
    Some(f64::midpoint(upper, sorted[middle - 1]))
}

/// The words named in a glass, those that most tasters named in front.
pub(super) fn words(wheel: &Wheel, voices: &[Voice]) -> Vec<PanelWord> {
    let changed = is_changed(voices);
    let mut words: Vec<PanelWord> = Vec::new();
    for voice in voices {
        let [first, after] = [&voice.first, &voice.after].map(|it| words_of(wheel, it));
        for word in first.iter().chain(&after) {
            if !words.iter().any(|it| it.word == *word) {
                words.push(PanelWord {
                    word: word.clone(),
                    first: 0,
                    after: changed.then_some(0),
                });
            }
        }
        for row in &mut words {
            row.first += usize::from(first.contains(&row.word));
            let again = usize::from(after.contains(&row.word));
            row.after = row.after.map(|it| it + again);
        }
    }
    let most = |it: &PanelWord| std::cmp::Reverse(it.after.unwrap_or(it.first).max(it.first));
    words.sort_by(|one, other| most(one).cmp(&most(other)).then(one.word.cmp(&other.word)));
    words
}

fn words_of(wheel: &Wheel, notes: &[Notes]) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for subject in notes.iter().flat_map(named) {
        let word = subject_word(wheel, subject);
        if !words.contains(&word) {
            words.push(word);
        }
    }
    words
}

/// Noise that is known for certain counts as this many degrees of freedom.
const MOST_FREEDOM: f64 = 1e4;

/// Who stands apart on what, over all glasses of one panel together.
///
/// t = gap / √(v + v'·m/(n − 1)), the gap between a taster's answer and the median of the n − 1 others, v and v' what
/// one answer with its day strays, of the taster and of the others, m what a median strays more than a mean. What is
/// known of that noise counts as much as its degrees of freedom ν₀, and what the others of this panel show of it on
/// the scale as much as theirs: v = (ν₀v₀ + S)/(ν₀ + f), S = Σ(x − x̄)² over all glasses without the taster. Student's t
/// on ν₀ + f, all lines of the panel judged together (Benjamini & Hochberg 1995) at 5 %. Only where at least three
/// tasters gave a number.
pub(super) fn apart(
    glasses: &[Vec<Voice>],
    scales: &[&'static Scale],
    noise: NoiseOf<'_>,
) -> Vec<Apart> {
    let mut all: Vec<(Apart, Probability)> = Vec::new();
    for scale in scales {
        let by_glass = glasses.iter();
        let by_glass: Vec<Vec<Answer<'_>>> = by_glass
            .map(|voices| answers(voices, scale, |it| &it.first))
            .collect();
        for (at, answers) in by_glass.iter().enumerate() {
            if answers.len() < LEAST_TASTERS {
                continue;
            }
            all.extend(answers.iter().filter_map(|own| {
                let shown = strays_of_others(&by_glass, own.taster);
                one(answers, own, (at, scale), (noise, shown))
            }));
        }
    }
    // Glass by glass, as they stand before everybody.
    all.sort_by_key(|it| it.0.at);
    let p: Vec<Probability> = all.iter().map(|it| it.1).collect();
    let found = discoveries(&p, LEVEL);
    let all = all.into_iter().zip(found);
    all.filter(|it| it.1).map(|it| it.0.0).collect()
}

/// What the others show of how far answers to one glass stray: Σ(x − x̄)² and its degrees of freedom, over all
/// glasses.
fn strays_of_others(glasses: &[Vec<Answer<'_>>], without: &Name) -> (f64, f64) {
    let each = glasses.iter().map(|answers| {
        let others = answers.iter().filter(|it| it.taster != without);
        Moments::of(&others.map(|it| it.digits).collect::<Vec<f64>>())
    });
    each.fold((0.0, 0.0), |(squares, freedom), it| {
        let own = it.count().saturating_sub(1);
        (squares + it.squares(), freedom + own as f64)
    })
}

fn one(
    answers: &[Answer<'_>],
    own: &Answer<'_>,
    (at, scale): (usize, &'static Scale),
    (noise, (squares, shown)): (NoiseOf<'_>, (f64, f64)),
) -> Option<(Apart, Probability)> {
    let variance = |it: &Answer<'_>| {
        let noise = noise(it.taster, scale);
        let glasses = noise.glass_variance().times(1.0 / it.glasses);
        glasses.plus(noise.day_variance())
    };
    let others = answers.iter().filter(|it| it.taster != own.taster);
    let others: Vec<&Answer<'_>> = others.collect();
    let count = others.len() as f64;
    let middle = median(&sorted(others.iter().map(|it| it.digits)))?;
    // The median of several strays more than their mean, of many by π/2 (Kenney & Keeping 1962, Mathematics of
    // Statistics 1, section 13.14, from memory); of two it is their mean.
    let of_median = if others.len() > 2 { FRAC_PI_2 } else { 1.0 };
    let known = variance(own).freedom().min(MOST_FREEDOM);
    let together = |value: f64| (known * value + squares) / (known + shown);
    let of_others = others.iter().map(|it| variance(it).value()).sum::<f64>() / count;
    let of_others = together(of_others) * of_median / count;
    let gap = own.digits - middle;
    let t = gap / (together(variance(own).value()) + of_others).sqrt();
    let p = StudentT::new(known + shown)?.two_sided_p(t);
    let apart = Apart {
        taster: own.taster.clone(),
        at,
        scale,
        answer: own.digits,
        others: middle,
    };
    Some((apart, p))
}
