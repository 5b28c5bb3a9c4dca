//! Photographs as a list: what each is of, how large, and whose notes it belongs to.

use serde_json::Value;
use serde_json::json;

use crate::domain::Name;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::comparison_report::wrapped;
use crate::workflow::PhotographRow;

/// One photograph in a sentence without its number.
#[must_use]
pub fn photograph_words(row: &PhotographRow) -> String {
    let it = &row.photograph;
    let of = row.taster.as_ref();
    let notes = of.map_or_else(String::new, |name| format!(", with the notes of {name}"));
    let kilobytes = it.length.div_ceil(1_000);
    format!(
        "{}, copied in on {}, {} × {} pixels, {kilobytes} kB{notes}",
        it.kind.word(),
        it.made_at.day(),
        it.width,
        it.height
    )
}

/// The photographs of a beer, a line each.
#[must_use]
pub fn photographs_lines(rows: &[PhotographRow], cells: usize) -> Vec<Line> {
    if rows.is_empty() {
        let none = "No photograph yet. In the app the key a adds one, or type in a terminal: thirdglass photo add BATCH FILE --of glass";
        return wrapped(Ink::Plain, none, cells);
    }
    let lines = rows.iter().flat_map(|it| {
        let line = format!("{}  {}", it.photograph.number, photograph_words(it));
        wrapped(Ink::Plain, &line, cells)
    });
    lines.collect()
}

/// The photographs of a beer, as JSON without their bytes.
#[must_use]
pub fn photographs_json(rows: &[PhotographRow]) -> Value {
    json!({ "format": 1, "photographs": photograph_values(rows) })
}

/// One value a photograph.
pub(super) fn photograph_values(rows: &[PhotographRow]) -> Vec<Value> {
    let values = rows.iter().map(|row| {
        let it = &row.photograph;
        json!({
            "number": it.number,
            "of": it.kind.id(),
            "taster": row.taster.as_ref().map(Name::as_str),
            "media_type": it.media_type,
            "width": it.width,
            "height": it.height,
            "bytes": it.length,
            "sha256": it.sha256,
            "added_at": it.made_at.to_string(),
        })
    });
    values.collect()
}
