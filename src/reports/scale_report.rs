//! The scales with their everyday examples and the series to be mixed in a kitchen.

use serde_json::Value;
use serde_json::json;

use crate::domain::Anchors;
use crate::domain::SCALES;
use crate::domain::Scale;
use crate::domain::Series;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::indented;

/// Every scale of the profile as lines of at most `cells` cells.
#[must_use]
pub fn scales_lines(cells: usize) -> Vec<Line> {
    let mut lines = Vec::new();
    for scale in SCALES.iter().filter(|it| it.stage.is_some()) {
        lines.push(
            Line::of(Ink::Title, scale.word).and(Ink::Quiet, format!(" · {}", scale.question)),
        );
        lines.extend(
            scale_texts(scale)
                .iter()
                .flat_map(|it| indented(Ink::Plain, it, cells)),
        );
        lines.push(Line::blank());
    }
    lines
}

fn scale_texts(scale: &Scale) -> Vec<String> {
    let mut texts = vec![format!("from {} to {}", scale.low, scale.high)];
    let Some(anchors) = &scale.anchors else {
        return texts;
    };
    let steps = Anchors::DIGITS.iter().zip(anchors.at);
    texts.extend(steps.map(|(digit, words)| format!("{digit} {words}")));
    if let Some(series) = &anchors.series {
        texts.push(format!(
            "To learn 1, 3, 5, 7 and 9 in a kitchen: {}.",
            series.sentence()
        ));
    }
    texts
}

/// The scales as JSON.
#[must_use]
pub fn scales_json() -> Value {
    let scales = SCALES.iter().filter(|it| it.stage.is_some()).map(|it| {
        json!({
            "id": it.id,
            "word": it.word,
            "stage": it.stage.map(crate::domain::Stage::id),
            "question": it.question,
            "low": it.low,
            "high": it.high,
            "anchors": it.anchors.as_ref().map(|it| it.at),
            "series": it.anchors.as_ref().and_then(|it| it.series.as_ref()).map(Series::sentence),
        })
    });
    json!({ "format": 1, "scales": scales.collect::<Vec<_>>() })
}
