//! The sheets of a panel: what is poured, and what a taster writes on.

use serde_json::Value;
use serde_json::json;

use crate::domain::BlindingCode;
use crate::domain::Field;
use crate::domain::Form;
use crate::domain::Name;
use crate::domain::Scale;
use crate::domain::Stage;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::width;
use crate::reports::blind_words::litres;
use crate::reports::comparison_report::wrapped;
use crate::reports::glass_form::ends;
use crate::reports::panel_plan_report::panel_care;
use crate::workflow::PouringSheet;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// What makes the glasses alike but for the beer.
pub(super) const POURING: [&str; 5] = [
    "Decant each beer off its yeast into one covered jug first; one bottle tastes unlike another.",
    "Glasses that look the same, the same amount, equally cold. Write each code on its glasses and nothing else.",
    "Set the glasses of each taster in the order of the list, and say nothing.",
    "Water beside every place, a spit cup, a minute's rest after each glass; a pause after five.",
    "Gushing, a film, mould or chipped glass: stop, and pour no more of that bottle.",
];

/// What becomes of whoever reads it.
pub(super) const READER: &str = "Who reads this knows what is in the glasses. A taster who pours is marked: those notes count only if nobody else tastes.";

/// What whoever pours needs, as lines of at most `cells` cells.
#[must_use]
pub fn pouring_lines(it: &PouringSheet, cells: usize) -> Vec<Line> {
    let title = format!(
        "Panel {}: what is poured (not for tasters)",
        it.panel.number
    );
    let mut lines = vec![Line::of(Ink::Title, title)];
    lines.extend(wrapped(Ink::Alert, READER, cells));
    lines.push(Line::blank());
    lines.push(Line::of(Ink::Strong, "Needed"));
    for (mark, millilitres) in &it.needed {
        lines.push(Line::plain(format!(
            "  {:>8}  {mark}",
            litres(*millilitres)
        )));
    }
    lines.extend(wrapped(
        Ink::Quiet,
        "  Take 50 mL more of each, since some stays in the jug.",
        cells,
    ));
    lines.push(Line::blank());
    lines.extend(glass_lines(it));
    lines.push(Line::blank());
    lines.extend(order_lines(it, cells));
    lines.push(Line::blank());
    for step in POURING {
        lines.extend(wrapped(Ink::Quiet, &format!("  · {step}"), cells));
    }
    lines.extend(wrapped(Ink::Alert, &panel_care(&it.allergens), cells));
    lines
}

/// What goes into which glass, by code.
fn glass_lines(it: &PouringSheet) -> Vec<Line> {
    let mut lines = vec![Line::of(Ink::Strong, "What goes into which glass")];
    let glass = it.panel.glass.get();
    lines.extend(it.glasses.iter().map(|of| {
        let (code, beer) = (of.code, &of.beer);
        Line::plain(format!("  [ ] {code}  {glass:.0} mL of {beer}"))
    }));
    lines
}

/// Everybody's glasses from left to right.
fn order_lines(it: &PouringSheet, cells: usize) -> Vec<Line> {
    let head = "In which order, from left to right";
    let mut lines = vec![Line::of(Ink::Strong, head)];
    let longest = it.orders.iter().map(|it| width(it.0.as_str())).max();
    for (name, codes) in &it.orders {
        let gap = " ".repeat(longest.unwrap_or(0) - width(name.as_str()));
        let codes: Vec<String> = codes.iter().map(BlindingCode::to_string).collect();
        let row = format!("  {name}{gap}  {}", codes.join("  "));
        lines.extend(wrapped(Ink::Plain, &row, cells));
    }
    lines
}

/// What whoever pours needs, as JSON.
#[must_use]
pub fn pouring_json(it: &PouringSheet) -> Value {
    let glasses = it.glasses.iter();
    let glasses = glasses.map(|it| json!({ "code": it.code.get(), "beer": it.beer.as_str() }));
    let needed = it.needed.iter();
    let needed = needed.map(|(mark, ml)| json!({ "beer": mark.as_str(), "millilitres": ml }));
    let orders = it.orders.iter().map(|(name, codes)| {
        let codes: Vec<u16> = codes.iter().map(|it| it.get()).collect();
        json!({ "taster": name.as_str(), "codes": codes })
    });
    json!({
        "format": VERSION,
        "number": it.panel.number,
        "glass_ml": it.panel.glass.get(),
        "glasses": glasses.collect::<Vec<_>>(),
        "needed": needed.collect::<Vec<_>>(),
        "orders": orders.collect::<Vec<_>>(),
        "allergens": it.allergens,
    })
}

/// One taster's sheet as lines of at most `cells` cells; nothing on it tells what is in a glass.
#[must_use]
pub fn panel_ballot_lines(
    it: &PouringSheet,
    name: &Name,
    codes: &[BlindingCode],
    cells: usize,
) -> Vec<Line> {
    let title = format!("{name}    Panel {}", it.panel.number);
    let mut lines = vec![
        Line::of(Ink::Title, title),
        Line::plain("Day: ____-__-__"),
        Line::plain("My nose:  [ ] fine   [ ] a cold   [ ] after a meal   [ ] tired"),
    ];
    lines.extend(wrapped(Ink::Alert, &panel_care(&it.allergens), cells));
    let how = "Taste in this order, alone and without talking. One digit each from 0 to 9; leave it blank if you do not know, a dash if you cannot tell. Behind each word, how strong it is: 1 only just there, 3 light, 5 clear, 7 strong.";
    lines.extend(wrapped(Ink::Plain, how, cells));
    for code in codes {
        lines.push(Line::blank());
        lines.push(Line::of(Ink::Strong, format!("Glass {code}")));
        lines.extend(questions(it.panel.form, cells));
    }
    lines
}

/// The questions on one glass, with room to write.
fn questions(form: Form, cells: usize) -> Vec<Line> {
    let mut lines = Vec::new();
    for field in form.fields() {
        match field {
            Field::FirstSniff => lines.push(blank("first sniff")),
            Field::Words(Stage::Aroma) => lines.push(blank("what you smell")),
            Field::Words(_) => lines.push(blank("what you taste")),
            Field::Scale(scale) if scale.id != "head-retention" => {
                lines.extend(wrapped(Ink::Plain, &scale_row(scale), cells));
            }
            Field::Remark => lines.push(blank("anything else")),
            _ => {}
        }
    }
    lines
}

fn scale_row(scale: &Scale) -> String {
    format!("  {:<22} [   ]   {}", scale.word, ends(scale))
}

fn blank(what: &str) -> Line {
    Line::plain(format!("  {what:<22} {}", "_".repeat(48)))
}
