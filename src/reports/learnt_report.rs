//! What the predictions have learnt of one taster, as lines and as JSON.

use serde_json::Value;
use serde_json::json;

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::table;
use crate::reports::comparison_report::wrapped;
use crate::reports::verdict_words::times_words;
use crate::workflow::AsNoted;
use crate::workflow::Learnt;
use crate::workflow::LearntGain;
use crate::workflow::LearntLine;
use crate::workflow::LearntNaming;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// Batches that it takes before anything is moved.
const LEAST: usize = 3;

/// Lines that are listed, those farthest from the prediction in front; the JSON has all.
const LINES: usize = 16;

/// Shelves that are listed; the JSON has all.
const SHELVES: usize = 8;

/// What was learnt of a taster as lines of at most `cells` cells.
#[must_use]
pub fn learnt_lines(it: &Learnt, cells: usize) -> Vec<Line> {
    let title = format!("What the prediction has learnt of {}", it.taster);
    let mut lines = vec![Line::of(Ink::Title, title)];
    lines.extend(wrapped(Ink::Strong, &learnt_sentence(it), cells));
    if it.batches == 0 {
        return lines;
    }
    lines.push(Line::blank());
    let common = format!(
        "All lines together: {:+.1} digits, give or take {:.1}. From batch to batch notes scatter {:.1} times as far as predicted.",
        it.common.0, it.common.1, it.factor
    );
    lines.extend(wrapped(Ink::Plain, &common, cells));
    lines.push(Line::blank());
    lines.extend(offset_table(it, cells));
    lines.extend(naming_table(it, cells));
    lines.push(Line::blank());
    lines.extend(gain_table(it, cells));
    lines.push(Line::blank());
    let honest = "A difference may come from the taster, the kitchen or the rules; this cannot tell which, but what all tasters share is the kitchen or the rules. A word that is not written is no smell that was missed: some write many, some few. Only notes count that were written without a cold and without knowing the recipe; words that were asked for are left out.";
    lines.extend(wrapped(Ink::Quiet, honest, cells));
    lines
}

/// In one sentence how far what was learnt can be trusted.
#[must_use]
fn learnt_sentence(it: &Learnt) -> String {
    if !it.is_used {
        return too_few(it.batches);
    }
    format!(
        "From {} batches. {}",
        it.batches,
        gain_sentence(&it.digits_gain)
    )
}

fn too_few(batches: usize) -> String {
    let there = match batches {
        0 => "no batch counts yet".to_owned(),
        1 => "1 batch counts so far".to_owned(),
        n => format!("{n} batches count so far"),
    };
    format!("Nothing is moved yet: {there}, and it takes {LEAST}.")
}

/// Whether predictions became nearer, and how often chance does as much.
fn gain_sentence(gain: &LearntGain) -> String {
    let Some((raw, learnt)) = gain.means else {
        return "Not yet known to be nearer.".to_owned();
    };
    let off = format!(
        "each batch predicted from the others, a line is off by {learnt:.2} digits instead of {raw:.2}"
    );
    if gain.is_claimed {
        return format!("Nearer than the plain prediction: {off}.");
    }
    match gain.chance {
        Some(_) if learnt >= raw => format!("Not yet nearer than the plain prediction: {off}."),
        Some(chance) => format!(
            "Not yet nearer for sure: {off}; chance alone gains as much {}.",
            times_words(chance)
        ),
        None => format!("Not yet known to be nearer: {off}."),
    }
}

fn offset_table(it: &Learnt, cells: usize) -> Vec<Line> {
    let panel = it.lines.iter().any(|line| line.panel.is_some());
    let mut head = vec!["Noted above the prediction, digits", "", "±", "batches"];
    head.extend(panel.then_some("all tasters"));
    let mut rows = vec![head.into_iter().map(str::to_owned).collect::<Vec<_>>()];
    for line in it.lines.iter().take(LINES) {
        let mut row = vec![
            format!("  {}", line.label),
            format!("{:+.1}", line.offset),
            format!("{:.1}", line.error),
            line.batches.to_string(),
        ];
        if panel {
            row.push(line.panel.map_or_else(String::new, |(mean, number)| {
                format!("{mean:+.1} of {number}")
            }));
        }
        rows.push(row);
    }
    let mut lines = headed(&rows, cells);
    if let Some(nearer) = it.lines.len().checked_sub(LINES).filter(|it| *it > 0) {
        let text =
            format!("  … and {nearer} nearer to the prediction; taster learnt --json lists them.");
        lines.extend(wrapped(Ink::Quiet, &text, cells));
    }
    lines
}

/// What a move of the logit multiplies odds by: two digits that say something.
fn odds_words(moved: f64) -> String {
    let times = moved.exp();
    if times < 1.0 {
        format!("{times:.2}")
    } else {
        format!("{times:.1}")
    }
}

fn naming_table(it: &Learnt, cells: usize) -> Vec<Line> {
    if it.naming.is_empty() {
        return Vec::new();
    }
    let mut lines = vec![Line::blank()];
    let (moved, error) = it.naming_common;
    let often = if moved < 0.0 { "less" } else { "more" };
    let odds = format!(
        "Words are written {often} often than predicted: the odds are {} times as high, {} to {} with two errors either way.",
        odds_words(moved),
        odds_words(moved - 2.0 * error),
        odds_words(moved + 2.0 * error)
    );
    lines.extend(wrapped(Ink::Plain, &odds, cells));
    lines.push(Line::blank());
    let head = ["Written", "predicted", "written", "batches", "odds"];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    rows.extend(it.naming.iter().take(SHELVES).map(|line| {
        vec![
            format!("  {}", line.label),
            format!("{:.0} %", 100.0 * line.predicted),
            format!("{:.0} %", 100.0 * line.named),
            line.batches.to_string(),
            format!("×{}", odds_words(line.moved)),
        ]
    }));
    lines.extend(headed(&rows, cells));
    lines
}

/// Every batch predicted from the others.
fn gain_table(it: &Learnt, cells: usize) -> Vec<Line> {
    let head = ["Each batch from the others: off by", "plain", "learnt"];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    rows.extend(it.digits_gain.batches.iter().map(|batch| {
        vec![
            format!("  {}", batch.mark),
            format!("{:.2}", batch.raw),
            format!("{:.2}", batch.learnt),
        ]
    }));
    let mut lines = headed(&rows, cells);
    let naming = &it.naming_gain;
    let told = match (naming.is_claimed, naming.chance) {
        (true, _) => "Which smells are named is predicted better too.".to_owned(),
        (false, Some(_)) => {
            "Which smells are named is not yet predicted better for sure.".to_owned()
        }
        (false, None) => format!(
            "Whether smells are predicted better is told from {} batches on.",
            naming.least
        ),
    };
    lines.extend(wrapped(Ink::Plain, &told, cells));
    lines
}

fn headed(rows: &[Vec<String>], cells: usize) -> Vec<Line> {
    let mut laid_out = table(rows, 0, cells);
    if let Some(first) = laid_out.first_mut() {
        *first = Line::of(Ink::Strong, first.text());
    }
    laid_out
}

/// On what a prediction as a taster would note it rests, in one sentence.
#[must_use]
pub(super) fn as_noted_sentence(it: &AsNoted) -> String {
    if !it.is_used {
        return format!("As {} would note it: {}", it.taster, too_few(it.batches));
    }
    format!(
        "Where {} would note it otherwise, that stands below the line; learnt from {} batches of other recipes. {}",
        it.taster,
        it.batches,
        gain_sentence(&it.gain)
    )
}

/// What was learnt of a taster as JSON: offsets in digits, moves of chances in logits.
#[must_use]
pub fn learnt_json(it: &Learnt) -> Value {
    json!({
        "format": VERSION,
        "taster": it.taster.as_str(),
        "batches": it.batches,
        "glasses": it.glasses,
        "used": it.is_used,
        "common": { "offset": it.common.0, "error": it.common.1 },
        "range_factor": it.factor,
        "lines": it.lines.iter().map(line_json).collect::<Vec<_>>(),
        "naming_common": { "logit": it.naming_common.0, "error": it.naming_common.1 },
        "naming": it.naming.iter().map(naming_json).collect::<Vec<_>>(),
        "left_out": gain_json(&it.digits_gain),
        "left_out_naming": gain_json(&it.naming_gain),
    })
}

fn line_json(it: &LearntLine) -> Value {
    json!({
        "line": it.id,
        "words": it.label,
        "offset": it.offset,
        "error": it.error,
        "batches": it.batches,
        "all_tasters": it.panel.map(|(mean, number)| json!({ "offset": mean, "tasters": number })),
    })
}

fn naming_json(it: &LearntNaming) -> Value {
    json!({
        "line": it.id,
        "words": it.label,
        "logit": it.moved,
        "error": it.error,
        "predicted": it.predicted,
        "named": it.named,
        "batches": it.batches,
    })
}

/// Errors of each batch predicted from the others, and whether an improvement is claimed.
pub(super) fn gain_json(it: &LearntGain) -> Value {
    json!({
        "batches": it.batches.iter().map(|batch| json!({
            "cap_mark": batch.mark.as_str(),
            "plain": batch.raw,
            "learnt": batch.learnt,
        })).collect::<Vec<_>>(),
        "plain": it.means.map(|it| it.0),
        "learnt": it.means.map(|it| it.1),
        "chance": it.chance,
        "claimed": it.is_claimed,
        "claimed_from_batches": it.least,
    })
}

#[cfg(test)]
mod tests {
    use crate::domain::Name;
    use crate::drawing::width;
    use crate::workflow::LearntBatch;

    use super::*;

    fn gain(is_claimed: bool, chance: Option<f64>) -> LearntGain {
        LearntGain {
            batches: vec![LearntBatch {
                mark: Name::new("a cap mark", "S1").unwrap(),
                raw: 1.5,
                learnt: 1.2,
            }],
            means: Some((1.5, 1.2)),
            chance,
            is_claimed,
            least: 3,
        }
    }

    fn learnt(batches: usize, digits_gain: LearntGain) -> Learnt {
        Learnt {
            taster: Name::new("a taster's name", "Ana").unwrap(),
            batches,
            glasses: batches,
            is_used: batches >= 3,
            common: (0.4, 0.2),
            factor: 1.3,
            lines: vec![LearntLine {
                id: "bitter".to_owned(),
                label: "Bitter".to_owned(),
                offset: -1.2,
                error: 0.4,
                batches: 4,
                panel: Some((-0.5, 2)),
            }],
            naming_common: (-0.7, 0.2),
            naming: vec![LearntNaming {
                id: "aroma:shelf:toasted".to_owned(),
                label: "Toasted (aroma)".to_owned(),
                moved: -0.7,
                error: 0.3,
                predicted: 0.6,
                named: 0.2,
                batches: 5,
            }],
            digits_gain,
            naming_gain: gain(false, None),
        }
    }

    fn told(it: &Learnt, cells: usize) -> String {
        let lines = learnt_lines(it, cells);
        assert!(lines.iter().all(|it| width(&it.text()) <= cells));
        lines.iter().map(|it| it.text() + "\n").collect()
    }

    #[test]
    fn an_improvement_is_called_one_only_when_it_may_be_claimed() {
        let claimed = told(&learnt(5, gain(true, Some(0.01))), 78);
        assert!(
            claimed.contains("Nearer than the plain prediction"),
            "{claimed}"
        );
        let open = told(&learnt(5, gain(false, Some(0.2))), 78);
        assert!(
            open.contains("Not yet nearer for sure") && open.contains("2 times in 10"),
            "{open}"
        );
        let few = told(&learnt(2, gain(false, None)), 78);
        assert!(
            few.contains("2 batches count so far, and it takes 3"),
            "{few}"
        );
        let none = told(&learnt(0, gain(false, None)), 40);
        assert!(none.contains("no batch counts"), "{none}");
    }

    #[test]
    fn every_line_stands_with_its_error_and_what_all_share() {
        let it = learnt(5, gain(true, Some(0.01)));
        let text = told(&it, 78);
        assert!(
            text.contains("Bitter") && text.contains("-1.2") && text.contains("-0.5 of 2"),
            "{text}"
        );
        let json = learnt_json(&it);
        assert_eq!(json["lines"][0]["all_tasters"]["tasters"], 2);
        assert_eq!(json["left_out"]["claimed"], true);
        assert_eq!(json["left_out_naming"]["chance"], Value::Null);
    }
}
