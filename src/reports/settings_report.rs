//! The settings that hold, as lines and as JSON.

use serde_json::Value;
use serde_json::json;

use crate::domain::Settings;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::workflow::Home;

/// The width of a key.
const KEY: usize = 16;

/// Every setting with what holds.
#[must_use]
pub fn settings_lines(it: &Settings) -> Vec<Line> {
    let rows = [
        (
            "standard-drink",
            format!("{:.1} g of alcohol", it.standard_drink.get()),
        ),
        ("paper", it.paper.word().to_owned()),
        ("blind-glass", format!("{:.0} mL", it.blind_glass.get())),
        ("panel-glass", format!("{:.0} mL", it.panel_glass.get())),
        ("colours", it.colours.word().to_owned()),
        ("signs", it.signs.word().to_owned()),
    ];
    rows.into_iter()
        .map(|(key, value)| Line::of(Ink::Strong, format!("{key:<KEY$}")).and(Ink::Plain, value))
        .collect()
}

/// That something of the settings file cannot be read and the usual holds for it; none where all of it was read.
#[must_use]
pub fn unread_settings(home: &Home) -> Option<String> {
    let first = home.unread_settings().first()?;
    Some(format!(
        "Not all of your settings could be read, and the usual holds for the rest. {first}. All of it is told by: thirdglass settings"
    ))
}

/// The same for scripts.
#[must_use]
pub fn settings_json(it: &Settings, file: &str) -> Value {
    json!({
        "format": 1,
        "file": file,
        "standard_drink_g": it.standard_drink.get(),
        "paper": it.paper.id(),
        "blind_glass_ml": it.blind_glass.get(),
        "panel_glass_ml": it.panel_glass.get(),
        "colours": it.colours.id(),
        "signs": it.signs.id(),
    })
}
