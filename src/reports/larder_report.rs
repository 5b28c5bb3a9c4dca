//! What is at home, as text and as JSON.

use serde_json::Value;
use serde_json::json;

use crate::domain::Grams;
use crate::domain::PricePerKilogram;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::comparison_report::wrapped;
use crate::workflow::AtHome;

/// The version of the JSON keys.
const VERSION: u32 = 1;
/// Cells of a name.
const NAME: usize = 34;

/// What is at home, or how to say it.
#[must_use]
pub fn larder_lines(it: &AtHome, cells: usize) -> Vec<Line> {
    let Some(items) = &it.items else {
        let text = format!(
            "No larder yet. {} would be read for what is at home; thirdglass larder --example prints one to begin with.",
            it.file
        );
        return wrapped(Ink::Plain, &text, cells);
    };
    let mut lines = wrapped(Ink::Title, &format!("At home, by {}", it.file), cells);
    if items.is_empty() {
        lines.push(Line::plain("  Nothing stands in it."));
    }
    lines.extend(items.iter().map(|(name, amount, price)| {
        let amount =
            amount.map_or_else(|| "not weighed".to_owned(), |it| format!("{} g", it.get()));
        let price = price.map_or_else(String::new, |it| format!("{:.2} a kilogram", it.get()));
        let text = format!("  {name:<NAME$} {amount:>12}   {price}");
        Line::plain(text.trim_end())
    }));
    lines
}

/// The same as JSON: grams and money of a kilogram, null where the larder says none.
#[must_use]
pub fn larder_json(it: &AtHome) -> Value {
    let items = it.items.as_ref().map(|items| {
        let items = items.iter().map(|(name, amount, price)| {
            json!({
                "name": name,
                "grams": amount.map(Grams::get),
                "price_per_kg": price.map(PricePerKilogram::get),
            })
        });
        items.collect::<Vec<_>>()
    });
    json!({ "format": VERSION, "file": it.file, "items": items })
}
