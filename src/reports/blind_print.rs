//! What is poured and served in a blind test, on paper, for whoever does it and no taster.

use std::str::FromStr;

use crate::domain::Pouring;
use crate::domain::SheetKind;
use crate::drawing::Column;
use crate::drawing::Flow;
use crate::drawing::Paper;
use crate::drawing::TEXT;
use crate::reports::PrintAsked;
use crate::reports::PrintRefused;
use crate::reports::Printout;
use crate::reports::blind_words::litres;
use crate::reports::sheet_report::ALONE;
use crate::reports::sheet_report::POURING;
use crate::reports::sheet_report::filled_words;
use crate::reports::sheet_report::in_order;
use crate::reports::sheet_report::title;
use crate::workflow::Home;
use crate::workflow::Sheet;
use crate::workflow::SheetRow;

/// What goes into which cup of a test; whoever reads it is kept, and cannot answer.
pub(super) fn print_pouring(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    key(home, asked, SheetKind::Pourer)
}

/// Which jug goes into which cup of a test; whoever reads it is kept, and cannot answer.
pub(super) fn print_serving(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    key(home, asked, SheetKind::Server)
}

fn key(home: &mut Home, asked: &PrintAsked, kind: SheetKind) -> Result<Printout, PrintRefused> {
    let sheet = home.sheet(number(asked)?, kind, asked.reader.as_deref())?;
    Ok(key_printout(&sheet, asked.paper))
}

/// The number of a test or panel.
pub(super) fn number(asked: &PrintAsked) -> Result<u32, PrintRefused> {
    let typed = asked.name();
    u32::from_str(typed.trim()).map_err(|_| PrintRefused::Number { asked: typed })
}

/// A sheet of a test that tells what is in the cups.
#[must_use]
pub fn key_printout(it: &Sheet, paper: Paper) -> Printout {
    let test = &it.planned.test;
    let title = title(it);
    let mut flow = Flow::new(&title, paper, &title);
    flow.title(&title);
    flow.warned(&format!(
        "Who reads this cannot answer test {}. Keep it where no taster sees it.",
        test.number
    ));
    let [a, b] = it.planned.beers.each_ref().map(|it| &it.cap_mark);
    if it.kind == SheetKind::Pourer {
        let [of_a, of_b] = it.millilitres.map(litres);
        flow.paragraph(
            &format!("Needed: {of_a} of {a}, {of_b} of {b}; take 50 mL more of each, since some stays in the jug."),
            TEXT.bold(),
        );
        flow.gap(1.5);
        for step in POURING {
            flow.listed(step, TEXT);
        }
    }
    if test.pouring == Pouring::Alone {
        for step in ALONE {
            flow.listed(step, TEXT.bold());
        }
    }
    for (letter, mark) in &it.jugs {
        flow.gap(1.5);
        flow.to_tick(&format!("jug {letter}: {mark}"), TEXT.bold());
    }
    if !it.jugs.is_empty() {
        flow.gap(1.5);
        flow.paragraph(crate::reports::sheet_report::HAND_OVER, TEXT);
    }
    if !it.rows.is_empty() {
        let glass = test.glass.get();
        flow.heading(&format!("What goes into which cup, {glass:.0} mL each"));
        print_sets(&mut flow, it);
    }
    Printout {
        title,
        sheets: flow.finish(),
    }
}

/// A row for every set, with a box to tick for every cup.
fn print_sets(flow: &mut Flow, it: &Sheet) {
    let has_reference = it.rows.iter().any(|row| row.reference.is_some());
    let cups = it.rows.iter().map(|row| row.cups.len()).max().unwrap_or(1);
    let all = cups + usize::from(has_reference);
    let each = (flow.width() - 30.0) / all as f64;
    let mut columns = vec![Column::of("place", 15.0), Column::of("set", 15.0)];
    if has_reference {
        columns.push(Column::of("marked R", each));
    }
    let numbered = (1..=cups).map(|at| Column::of(&format!("cup {at}"), each));
    columns.extend(numbered);
    let rows = it.rows.iter().map(|row| set_cells(row, it, has_reference));
    flow.table(&columns, &rows.collect::<Vec<_>>(), TEXT);
}

fn set_cells(row: &SheetRow, it: &Sheet, has_reference: bool) -> Vec<String> {
    let mut cells = vec![row.place.to_string(), row.round.to_string()];
    if has_reference {
        let filled = row.reference.as_ref().and_then(Option::as_ref);
        cells.push(filled.map_or(String::new(), |it| format!("☐ {}", filled_words(it))));
    }
    cells.extend(in_order(row, it).into_iter().map(|(code, filled)| {
        let filled = filled.as_ref().map_or(String::new(), filled_words);
        format!("☐ {code}: {filled}")
    }));
    cells
}
