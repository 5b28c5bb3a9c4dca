//! What a recipe gives: its figures and the predicted profile, as lines and as JSON.

use serde_json::Value;
use serde_json::json;

use crate::domain::Measure;
use crate::drawing::Dumbbell;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::safe_text;
use crate::drawing::width;
use crate::reports::comparison_json::foreseen_json;
use crate::reports::comparison_report::wrapped;
use crate::reports::figures_json;
use crate::reports::figures_report::figures_lines;
use crate::reports::learnt_report::as_noted_sentence;
use crate::reports::learnt_report::gain_json;
use crate::reports::verdict_words::digits_words;
use crate::reports::verdict_words::times_words;
use crate::reports::verdict_words::why_words;
use crate::workflow::About;
use crate::workflow::AsNoted;
use crate::workflow::AsNotedLine;
use crate::workflow::ForeseenLine;
use crate::workflow::RecipePrediction;

/// The version of the JSON keys.
const VERSION: u32 = 2;

/// Cells of the label.
const LABEL: usize = 30;
/// Cells of the chart.
const CHART: usize = 15;
/// Shelves that are named less often than this, in parts of one, are left to the JSON.
const WORTH_A_LINE: f64 = 0.4;

/// The prediction of a recipe file as lines of at most `cells` cells.
#[must_use]
pub fn prediction_lines(it: &RecipePrediction, cells: usize) -> Vec<Line> {
    let mut lines = vec![Line::of(Ink::Title, title(it)), Line::blank()];
    lines.extend(figures_lines(&it.figures, cells));
    lines.push(Line::blank());
    let range = "The range in brackets runs from every ingredient at its low end to every one at its high end.";
    lines.extend(wrapped(Ink::Quiet, range, cells));
    let is_scale = |it: &&ForeseenLine| it.foreseen.chance.is_none();
    let (scales, shelves): (Vec<_>, Vec<_>) = it.profile.iter().partition(is_scale);
    lines.push(Line::blank());
    lines.push(Line::of(Ink::Strong, "How it should taste, 0 to 9"));
    let rows = |line: &ForeseenLine| rows_of(line, it.as_noted.as_ref(), cells);
    lines.extend(scales.into_iter().flat_map(rows));
    let chance = |it: &ForeseenLine| it.foreseen.chance.unwrap_or(0.0);
    let all = shelves.len();
    let mut named = shelves;
    named.retain(|it| chance(it) >= WORTH_A_LINE);
    named.sort_by(|a, b| chance(b).total_cmp(&chance(a)));
    let rarer = all - named.len();
    lines.push(Line::blank());
    let head = "What should be named, how often, and how strong then";
    lines.push(Line::of(Ink::Strong, head));
    if named.is_empty() {
        lines.push(Line::plain(
            "  Nothing that half of all tasters would name.",
        ));
    }
    lines.extend(named.into_iter().flat_map(rows));
    if rarer > 0 {
        let left = format!("  … and {rarer} that fewer would name; --json lists them.");
        lines.push(Line::of(Ink::Quiet, left));
    }
    let legend = "The chart runs from 0 to 9; 8 times in 10 the glass lies between its ends.";
    lines.extend(wrapped(Ink::Quiet, legend, cells));
    let noted = it.as_noted.iter().map(as_noted_sentence);
    lines.extend(noted.flat_map(|it| wrapped(Ink::Strong, &it, cells)));
    lines
}

fn title(it: &RecipePrediction) -> String {
    let (name, version) = (&it.recipe.name, &it.recipe.version);
    let volume = it.recipe.volume.get();
    let age = it.weeks.map_or_else(String::new, |weeks| {
        format!(", after {weeks} weeks in the bottle at 20 °C")
    });
    format!("{name}, version {version}: {volume:.1} L{age}")
}

/// A line, and below it how a taster would note it, where that differs.
fn rows_of(it: &ForeseenLine, noted: Option<&AsNoted>, cells: usize) -> Vec<Line> {
    let mut lines = vec![row(it, cells)];
    let used = noted.filter(|noted| noted.is_used);
    let own = used.and_then(|noted| Some((noted, noted.line(&it.id)?)));
    if let Some((noted, own)) = own.filter(|(_, own)| differs(it, own)) {
        let label = format!("  {} would note", noted.taster);
        let label = safe_text(&label, LABEL);
        let blanks = " ".repeat(LABEL.saturating_sub(width(&label)));
        let [low, high] = own.range.map(f64::from);
        let chart = Dumbbell {
            range: Some((low, high)),
            ..Dumbbell::default()
        };
        let said = match own.chance {
            Some(chance) => times_words(chance),
            None => amount_words(&it.about, own.middle),
        };
        let text = format!("  {label}{blanks} {} {said:>15}", chart.cells(CHART));
        lines.push(Line::of(Ink::Good, safe_text(&text, cells)));
    }
    lines
}

/// True when it is worth a line of its own: a quarter of a digit, or a chance in twenty.
fn differs(it: &ForeseenLine, own: &AsNotedLine) -> bool {
    let chance = it.foreseen.chance.zip(own.chance);
    (own.middle - it.foreseen.middle).abs() >= 0.25
        || chance.is_some_and(|(plain, own)| (own - plain).abs() >= 0.05)
}

fn row(it: &ForeseenLine, cells: usize) -> Line {
    let label = safe_text(&it.label, LABEL);
    let blanks = " ".repeat(LABEL.saturating_sub(width(&label)));
    let foreseen = &it.foreseen;
    let chart = Dumbbell {
        range: Some((foreseen.low, foreseen.high)),
        ..Dumbbell::default()
    };
    let said = match foreseen.chance {
        Some(chance) => times_words(chance),
        None => amount_words(&it.about, foreseen.middle),
    };
    let text = format!("  {label}{blanks} {} {said:>15}  ", chart.cells(CHART));
    let why = why_words(&it.about, foreseen).unwrap_or_default();
    let room = cells.saturating_sub(width(&text));
    Line::plain(text).and(Ink::Quiet, safe_text(&why, room))
}

/// The middle of a scale with its unit, where it has one.
fn amount_words(about: &About, digits: f64) -> String {
    match about {
        About::Scale(scale) if matches!(scale.measure, Measure::Amount { .. }) => {
            scale.words_for(scale.value_at(digits).round())
        }
        _ => digits_words(about, Some(digits)),
    }
}

/// The prediction of a recipe file as JSON; the profile is in digits of its scales, 0 to 9.
#[must_use]
pub fn prediction_json(it: &RecipePrediction) -> Value {
    let profile = it.profile.iter().map(|line| {
        let kind = match line.about {
            About::Scale(_) => "scale",
            About::Shelf { .. } => "shelf",
        };
        json!({
            "line": line.id,
            "kind": kind,
            "words": line.label,
            "predicted": foreseen_json(&line.foreseen),
            "as_noted": it.as_noted.as_ref().and_then(|noted| noted.line(&line.id)).map(as_noted_json),
        })
    });
    json!({
        "format": VERSION,
        "recipe": it.recipe.name.as_str(),
        "version": it.recipe.version.as_str(),
        "volume_l": it.recipe.volume.get(),
        "weeks": it.weeks,
        "prediction": figures_json(&it.figures),
        "profile": profile.collect::<Vec<_>>(),
        "as_noted_by": it.as_noted.as_ref().map(|it| json!({
            "taster": it.taster.as_str(),
            "batches": it.batches,
            "used": it.is_used,
            "range_factor": it.factor,
            "left_out": gain_json(&it.gain),
        })),
    })
}

fn as_noted_json(it: &AsNotedLine) -> Value {
    json!({
        "chance": it.chance,
        "low": it.range[0],
        "middle": it.middle,
        "high": it.range[1],
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::SCALES;
    use crate::workflow::Home;
    use crate::workflow::TRIAL_RECIPE;

    #[test]
    fn a_recipe_tells_its_figures_every_ruled_scale_and_the_likely_shelves_with_their_sources() {
        let home = Home::trial();
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("dark.toml");
        std::fs::write(&file, TRIAL_RECIPE).unwrap();
        let it = home.predict(&file, None).unwrap();
        let lines = prediction_lines(&it, 100);
        let text: Vec<String> = lines.iter().map(Line::text).collect();
        assert!(text.iter().all(|it| width(it) <= 100), "{text:#?}");
        let told = text.join("\n");
        for scale in SCALES
            .iter()
            .filter(|it| it.id == "bitter" || it.id == "colour")
        {
            assert!(told.contains(&format!("  {} ", scale.word)), "{told}");
        }
        assert!(
            told.contains("from Chocolate malt") && told.contains(" EBC  from"),
            "{told}"
        );
        let json = prediction_json(&it);
        let all = json["profile"].as_array().unwrap();
        let kinds = |kind: &str| all.iter().filter(|it| it["kind"] == kind).count();
        assert_eq!(kinds("scale") + kinds("shelf"), all.len());
        assert!(
            all.iter()
                .all(|it| it["predicted"]["low"].as_f64() <= it["predicted"]["high"].as_f64())
        );
    }

    #[test]
    fn a_recipe_of_sugar_alone_is_told_without_an_empty_table() {
        let home = Home::trial();
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("bare.toml");
        std::fs::write(
            &file,
            "name = \"Bare\"\nversion = \"1\"\nvolume = \"5 L\"\n\n[[fermentable]]\nname = \"Table sugar\"\namount = \"500 g\"\n",
        )
        .unwrap();
        let it = home.predict(&file, None).unwrap();
        let text: String = prediction_lines(&it, 78)
            .iter()
            .map(|it| it.text() + "\n")
            .collect();
        assert!(!text.contains("NaN"), "{text}");
        assert!(
            text.contains("Nothing that half of all tasters would name"),
            "{text}"
        );
    }
}
