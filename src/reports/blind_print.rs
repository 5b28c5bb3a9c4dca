//! What is poured and served in a blind test, on paper, for whoever does it and no taster.

use std::str::FromStr;

use crate::domain::Name;
use crate::domain::Pouring;
use crate::domain::SheetKind;
use crate::drawing::Column;
use crate::drawing::Flow;
use crate::drawing::HEADING;
use crate::drawing::LabelSheet;
use crate::drawing::Paper;
use crate::drawing::TEXT;
use crate::drawing::Weight;
use crate::drawing::capitalised;
use crate::drawing::text_width;
use crate::reports::PrintAsked;
use crate::reports::PrintRefused;
use crate::reports::Printout;
use crate::reports::ballot_print::ballots_printout;
use crate::reports::blind_words::litres;
use crate::reports::label_print::cup_labels;
use crate::reports::label_print::labels_printout;
use crate::reports::sheet_report::ALONE;
use crate::reports::sheet_report::HAND_OVER;
use crate::reports::sheet_report::POURING;
use crate::reports::sheet_report::done_words;
use crate::reports::sheet_report::filled_words;
use crate::reports::sheet_report::in_order;
use crate::workflow::FilledFrom;
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

/// Any sheet of a test, as it is shown; `allergens` is what the beers of this home may hold, joined.
///
/// # Errors
/// What stands on a label has no room on it.
pub fn sheet_printout(it: &Sheet, allergens: &str, paper: Paper) -> Result<Printout, PrintRefused> {
    match it.kind {
        SheetKind::Pourer | SheetKind::Server => Ok(key_printout(it, paper)),
        SheetKind::Ballots => Ok(ballots_printout(it, allergens, paper)),
        SheetKind::Labels => {
            let (title, all) = cup_labels(it);
            labels_printout(&title, &all, &LabelSheet::to_cut(paper), 0)
        }
    }
}

/// The number of a test or panel.
pub(super) fn number(asked: &PrintAsked) -> Result<u32, PrintRefused> {
    let typed = asked.name();
    u32::from_str(typed.trim()).map_err(|_| PrintRefused::Number { asked: typed })
}

/// A sheet of a test that tells what is in the cups.
fn key_printout(it: &Sheet, paper: Paper) -> Printout {
    let test = &it.planned.test;
    let title = format!("Test {}: {}", test.number, done_words(it.kind));
    let foot = format!("{title} (not for tasters)");
    let mut flow = Flow::new(&title, paper, &foot);
    flow.title(&title);
    flow.paragraph(&capitalised(it.planned.method.name), HEADING);
    flow.gap(2.0);
    flow.warned(&match test.pouring {
        // Whoever pours alone tastes too: the shuffled cups hide the key, not this page.
        Pouring::Alone => {
            "This page says what is in the cups: put it away before you taste.".to_owned()
        }
        _ => format!(
            "Who reads this cannot answer test {}. Keep it where no taster sees it.",
            test.number
        ),
    });
    print_steps(&mut flow, it);
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

/// What is needed and how it is poured, and the jugs where there are some.
fn print_steps(flow: &mut Flow, it: &Sheet) {
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
    if it.planned.test.pouring == Pouring::Alone {
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
        flow.paragraph(HAND_OVER, TEXT);
    }
}

/// A row for every set, with a box to tick for every cup. Marks that are too long for a column are called
/// by a letter, which is told above.
fn print_sets(flow: &mut Flow, it: &Sheet) {
    let has_reference = it.rows.iter().any(|row| row.reference.is_some());
    let cups = it.rows.iter().map(|row| row.cups.len()).max().unwrap_or(1);
    let all = cups + usize::from(has_reference);
    let each = (flow.width() - 30.0) / all as f64;
    let mut columns = vec![Column::of("place", 15.0), Column::of("set", 15.0)];
    if has_reference {
        columns.push(Column::of("marked R", each));
    }
    columns.extend((1..=cups).map(|at| Column::of(&format!("cup {at}"), each)));
    let names = Names::fitting(it, each - CODE);
    if let Names::Letters([a, b]) = &names {
        flow.paragraph(&format!("A is {a}"), TEXT.bold());
        flow.paragraph(&format!("B is {b}"), TEXT.bold());
        flow.gap(1.5);
    }
    let rows = it.rows.iter();
    let rows = rows.map(|row| set_cells(row, it, &names));
    flow.table(&columns, &rows.collect::<Vec<_>>(), TEXT);
}

/// What box and code take in a column, and the white behind it, mm.
const CODE: f64 = 16.0;

/// How the beers are called in a table.
enum Names {
    /// By their marks.
    Marks,
    /// By letters, these being their marks.
    Letters([Name; 2]),
}

impl Names {
    /// Marks where they fit in so many mm.
    fn fitting(it: &Sheet, width: f64) -> Self {
        let marks = it.planned.beers.each_ref().map(|it| it.cap_mark.clone());
        let wide = |it: &Name| TEXT.size * text_width(it.as_str(), Weight::Plain) > width;
        if it.kind == SheetKind::Pourer && marks.iter().any(wide) {
            Self::Letters(marks)
        } else {
            Self::Marks
        }
    }

    fn of(&self, filled: &FilledFrom) -> String {
        match (self, filled) {
            (Self::Letters([a, _]), FilledFrom::Beer(mark)) => {
                (if mark == a { "A" } else { "B" }).to_owned()
            }
            _ => filled_words(filled),
        }
    }
}

fn set_cells(row: &SheetRow, it: &Sheet, names: &Names) -> Vec<String> {
    let mut cells = vec![row.place.to_string(), row.round.to_string()];
    if let Some(reference) = &row.reference {
        let filled = reference.as_ref();
        cells.push(filled.map_or(String::new(), |it| format!("☐ {}", names.of(it))));
    }
    cells.extend(in_order(row, it).into_iter().map(|(code, filled)| {
        let filled = filled.as_ref().map_or(String::new(), |it| names.of(it));
        format!("☐ {code}: {filled}")
    }));
    cells
}
