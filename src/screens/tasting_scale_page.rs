//! How a scale is asked: the ladder of digits, amounts, choices, and strips of beer colour.

use crate::domain::Anchors;
use crate::domain::Measure;
use crate::domain::Rating;
use crate::domain::Scale;
use crate::drawing::ColourStrips;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::colour_strip;
use crate::reports::rating_words;
use crate::screens::Page;
use crate::screens::Press;
use crate::screens::TastingScreen;
use crate::screens::tasting_page::choices;
use crate::workflow::haze_words;

/// The colours that can be matched, EBC: the ten of the digit keys and one between each two.
pub(super) fn colour_ladder() -> Vec<f64> {
    let steps: Vec<f64> = colour_steps().collect();
    let between = steps
        .windows(2)
        .map(|pair| (pair[0] * pair[1]).sqrt().round());
    let mut ladder: Vec<f64> = steps.iter().copied().chain(between).collect();
    ladder.sort_by(f64::total_cmp);
    ladder
}

fn colour_steps() -> impl Iterator<Item = f64> {
    let colour = Scale::from_id("colour").expect("the colour scale stands in SCALES");
    (0..=9).filter_map(|digit| colour.value_of_digit(digit))
}

/// Draws the question of a scale with its picture.
pub(super) fn scale_question(
    screen: &TastingScreen,
    scale: &'static Scale,
    page: &mut Page,
    cells: usize,
) {
    page.text(Ink::Strong, scale.question, cells);
    page.gap();
    let given = screen.tasting.notes.rating(scale);
    let value = given.and_then(Rating::value);
    match &scale.measure {
        _ if scale.id == "colour" => colours(screen, value, page),
        Measure::Intensity => ladder(scale, value, page),
        Measure::Amount { unit, steps, .. } => amounts(unit, steps, value, page),
        Measure::Choice { words } => {
            let chosen = (1..=words.len())
                .position(|number| value.is_some_and(|value| (value - number as f64).abs() < 0.5));
            choices(page, words, chosen);
        }
    }
    if unit_is_seconds(scale) {
        page.gap();
        page.line(Line::of(
            Ink::Quiet,
            "Or let the watch do it: . starts it, . again stops it.",
        ));
    }
    if let Some(rating) = given {
        page.gap();
        page.line(Line::of(
            Ink::Good,
            format!("Answered: {}. Enter keeps it.", rating_words(scale, rating)),
        ));
    }
}

/// The amounts that the digits stand for.
fn amounts(unit: &str, steps: &[f64; 10], value: Option<f64>, page: &mut Page) {
    for (index, step) in steps.iter().enumerate() {
        let chosen = value.is_some_and(|value| (value - step).abs() < 0.5);
        let ink = if chosen { Ink::Chosen } else { Ink::Plain };
        page.choice(
            Line::of(Ink::Strong, format!("  {index}  ")).and(ink, format!(" {step:>4.0} {unit} ")),
            Press::Row(index),
        );
    }
}

/// True for a scale whose answer a watch can give.
pub(super) fn unit_is_seconds(scale: &Scale) -> bool {
    matches!(scale.measure, Measure::Amount { unit: "s", .. })
}

fn ladder(scale: &Scale, value: Option<f64>, page: &mut Page) {
    let mut line = Line::plain("  ");
    for digit in 0..=9_u8 {
        let chosen = value.is_some_and(|value| (value - f64::from(digit)).abs() < 0.5);
        let ink = if chosen { Ink::Chosen } else { Ink::Strong };
        line = line.and(ink, format!("  {digit}  "));
    }
    page.line(line);
    page.line(Line::of(
        Ink::Quiet,
        "  none just there  light     clear     strong    most",
    ));
    page.gap();
    page.line(Line::of(
        Ink::Plain,
        format!("  0 {}   …   9 {}", scale.low, scale.high),
    ));
    if scale.id == "haze" {
        page.gap();
        for (digit, words) in haze_words() {
            page.line(Line::of(Ink::Quiet, format!("  {digit} {words}")));
        }
    } else if let Some(anchors) = &scale.anchors {
        page.gap();
        for (digit, words) in Anchors::DIGITS.iter().zip(anchors.at) {
            page.line(Line::of(Ink::Quiet, format!("  {digit} {words}")));
        }
    }
}

fn colours(screen: &TastingScreen, value: Option<f64>, page: &mut Page) {
    let fine = screen
        .chosen
        .checked_sub(1)
        .and_then(|index| colour_ladder().get(index).copied());
    for line in ColourStrips::head_lines() {
        page.line(line);
    }
    for (digit, ebc) in colour_steps().enumerate() {
        let chosen = fine
            .or(value)
            .is_some_and(|value| (value - ebc).abs() < 0.5);
        let ink = if chosen { Ink::Chosen } else { Ink::Plain };
        page.choice(strip(&format!("  {digit}   "), ebc, ink), Press::Row(digit));
    }
    page.gap();
    let between = fine
        .or(value)
        .filter(|value| colour_steps().all(|step| (step - value).abs() >= 0.5));
    match between {
        Some(ebc) => page.line(strip("  Enter", ebc, Ink::Chosen)),
        None => page.line(Line::of(
            Ink::Quiet,
            "  ← and → look for one between two; Enter takes it.",
        )),
    }
    page.line(Line::of(
        Ink::Quiet,
        "  On a screen without colours, denser cells are darker beer.",
    ));
}

fn strip(label: &str, ebc: f64, ink: Ink) -> Line {
    colour_strip(label, ebc, ink).line()
}
