//! The sheets of a blind test as text with boxes to tick, and as JSON.

use serde_json::Value;
use serde_json::json;

use crate::domain::BlindingCode;
use crate::domain::Pouring;
use crate::domain::SheetKind;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::blind_words::litres;
use crate::reports::comparison_report::wrapped;
use crate::workflow::FilledFrom;
use crate::workflow::Sheet;
use crate::workflow::SheetRow;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// What makes the cups alike but for the beer.
pub(super) const POURING: [&str; 5] = [
    "Decant each beer off its yeast into one covered jug first; one bottle tastes unlike another.",
    "Cups that look the same, the same amount, equally cold; dark cups or dim light if the looks may tell.",
    "Fill all cups of one taster together, not long before they are tasted, and say nothing.",
    "Two minutes and a sip of water between two sets; no more than three sets in one go.",
    "Gushing, a film, mould or chipped glass: stop, and taste neither beer.",
];

/// What hides from the one who poured which cup is which.
pub(super) const ALONE: [&str; 3] = [
    "Stick each code under its cup, pour, put this sheet away, close your eyes, and shuffle the cups of a set until you are lost.",
    "Taste them as they stand and choose one. Only then turn it over: the code beneath is your answer.",
    "Pour and taste one set before you look at the next.",
];

/// What is done with the jugs.
pub(super) const HAND_OVER: &str =
    "Give the jugs to the one who serves, and do not say which is which.";

/// A sheet as lines of at most `cells` cells; `allergens` is what the beers of this home may hold, joined
/// so that no one is given away.
#[must_use]
pub fn sheet_lines(it: &Sheet, allergens: &str, cells: usize) -> Vec<Line> {
    let mut lines = vec![Line::of(Ink::Title, title(it))];
    match it.kind {
        SheetKind::Pourer | SheetKind::Server => lines.extend(key_lines(it, cells)),
        SheetKind::Labels => lines.extend(label_lines(it, cells)),
        SheetKind::Ballots => lines.extend(ballot_lines(it, allergens, cells)),
    }
    lines
}

/// Which sheet of which test.
pub(super) fn title(it: &Sheet) -> String {
    let test = &it.planned.test;
    let hidden = match it.kind {
        SheetKind::Pourer | SheetKind::Server => " (not for tasters)",
        SheetKind::Labels | SheetKind::Ballots => "",
    };
    format!(
        "Test {}, {}: {}{hidden}",
        test.number,
        it.planned.method.name,
        done_words(it.kind)
    )
}

/// What a sheet is for.
pub(super) const fn done_words(kind: SheetKind) -> &'static str {
    match kind {
        SheetKind::Pourer => "what is poured",
        SheetKind::Server => "what is served",
        SheetKind::Labels => "labels for the cups",
        SheetKind::Ballots => "ballots",
    }
}

fn key_lines(it: &Sheet, cells: usize) -> Vec<Line> {
    let [a, b] = it.planned.beers.each_ref().map(|it| &it.cap_mark);
    let [of_a, of_b] = it.millilitres.map(litres);
    let mut lines = Vec::new();
    if it.kind == SheetKind::Pourer {
        let amounts = format!(
            "Needed: {of_a} of {a}, {of_b} of {b}; take 50 mL more of each, since some stays in the jug."
        );
        lines.extend(wrapped(Ink::Plain, &amounts, cells));
        for step in POURING {
            lines.extend(wrapped(Ink::Quiet, &format!("  · {step}"), cells));
        }
    }
    if it.planned.test.pouring == Pouring::Alone {
        for step in ALONE {
            lines.extend(wrapped(Ink::Strong, &format!("  · {step}"), cells));
        }
    }
    for (letter, mark) in &it.jugs {
        lines.push(Line::of(Ink::Strong, format!("  [ ] jug {letter}  {mark}")));
    }
    if !it.jugs.is_empty() {
        lines.extend(wrapped(Ink::Plain, HAND_OVER, cells));
    }
    for row in &it.rows {
        lines.push(Line::blank());
        lines.push(Line::of(Ink::Strong, set_words(row)));
        if let Some(Some(filled)) = &row.reference {
            lines.push(cup("reference", filled, it));
        }
        for (code, filled) in in_order(row, it) {
            if let Some(filled) = filled {
                lines.push(cup(&code.to_string(), filled, it));
            }
        }
    }
    lines
}

/// The cups as they stand; where one person pours and tastes by their codes, since they are shuffled.
pub(super) fn in_order<'a>(
    row: &'a SheetRow,
    it: &Sheet,
) -> Vec<&'a (BlindingCode, Option<FilledFrom>)> {
    let mut cups: Vec<_> = row.cups.iter().collect();
    if it.planned.test.pouring == Pouring::Alone {
        cups.sort_by_key(|it| it.0);
    }
    cups
}

fn cup(name: &str, filled: &FilledFrom, it: &Sheet) -> Line {
    let from = filled_words(filled);
    let glass = it.planned.test.glass.get();
    Line::plain(format!("  [ ] {name:<9}  {glass:.0} mL of {from}"))
}

/// What a cup is filled from, in words.
pub(super) fn filled_words(filled: &FilledFrom) -> String {
    match filled {
        FilledFrom::Beer(mark) => mark.to_string(),
        FilledFrom::Jug(letter) => format!("jug {letter}"),
    }
}

fn set_words(row: &SheetRow) -> String {
    format!("Place {}, set {}", row.place, row.round)
}

fn label_lines(it: &Sheet, cells: usize) -> Vec<Line> {
    // By number, so that a row of labels says nothing about what stands where.
    let mut codes: Vec<String> = it
        .rows
        .iter()
        .flat_map(|row| row.cups.iter().map(|(code, _)| code.to_string()))
        .collect();
    codes.sort();
    let references = it.rows.iter().filter(|row| row.reference.is_some()).count();
    let each = "318    ".len();
    let mut lines: Vec<Line> = codes
        .chunks((cells / each).max(1))
        .map(|row| Line::plain(row.join("    ")))
        .collect();
    if references > 0 {
        lines.push(Line::plain(format!(
            "and {references} cups marked R for the reference"
        )));
    }
    lines
}

/// What everybody must know before a cup is tasted.
pub(super) fn ballot_care(allergens: &str) -> String {
    format!(
        "May hold: {allergens}. Smelling alone counts, spitting is never rude, nobody is pressed; not for anyone under age, driving, pregnant or on medicines that forbid alcohol."
    )
}

fn ballot_lines(it: &Sheet, allergens: &str, cells: usize) -> Vec<Line> {
    let test = &it.planned.test;
    let care = ballot_care(allergens);
    let mut lines = wrapped(Ink::Alert, &care, cells);
    let commitment = format!("Commitment: {}", test.commitment);
    lines.extend(wrapped(Ink::Quiet, &commitment, cells));
    for row in &it.rows {
        lines.push(Line::blank());
        let head = format!("{}      Name: ______________________", set_words(row));
        lines.push(Line::of(Ink::Strong, head));
        lines.extend(wrapped(Ink::Plain, &question(it), cells));
        let mut codes: Vec<String> = row.cups.iter().map(|it| format!("[ ] {}", it.0)).collect();
        if row.reference.is_some() {
            codes.insert(0, "R".to_owned());
        }
        lines.push(Line::plain(format!(
            "  taste from left to right:   {}",
            codes.join("     ")
        )));
        lines.push(Line::plain(
            "  choose one; how sure:   [ ] a guess   [ ] rather sure   [ ] sure",
        ));
        lines.push(Line::plain(
            "  what differed: _______________________________________",
        ));
        lines.push(Line::plain(
            "  apart from that, liked better (or leave it): ______",
        ));
    }
    lines
}

/// What a taster is asked.
fn question(it: &Sheet) -> String {
    it.planned.question()
}

/// A sheet as JSON; what a cup holds stands only on the pourer's and the server's.
#[must_use]
pub fn sheet_json(it: &Sheet) -> Value {
    let filled = |it: &FilledFrom| match it {
        FilledFrom::Beer(mark) => json!({ "beer": mark.as_str(), "jug": null }),
        FilledFrom::Jug(letter) => json!({ "beer": null, "jug": letter.to_string() }),
    };
    let rows = it.rows.iter().map(|row| {
        json!({
            "place": row.place,
            "set": row.round,
            "reference": row.reference.as_ref().map(|it| it.as_ref().map(filled)),
            "has_reference": row.reference.is_some(),
            "cups": row.cups.iter().map(|(code, it)| json!({
                "code": code.get(),
                "from": it.as_ref().map(filled),
            })).collect::<Vec<_>>(),
        })
    });
    json!({
        "format": VERSION,
        "number": it.planned.test.number,
        "sheet": it.kind.id(),
        "question": it.planned.question(),
        "commitment": it.planned.test.commitment,
        "jugs": it.jugs.iter().map(|(letter, mark)| json!({ "jug": letter.to_string(), "beer": mark.as_str() })).collect::<Vec<_>>(),
        "sets": rows.collect::<Vec<_>>(),
    })
}
