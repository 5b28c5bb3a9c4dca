//! The ballots of a blind test on paper, to be cut apart: codes alone, one question, how sure, what differed.

use crate::domain::SheetKind;
use crate::drawing::CUT;
use crate::drawing::Flow;
use crate::drawing::HEADING;
use crate::drawing::Paper;
use crate::drawing::SMALL;
use crate::drawing::TEXT;
use crate::drawing::Type;
use crate::drawing::set_lines;
use crate::reports::PrintAsked;
use crate::reports::PrintRefused;
use crate::reports::Printout;
use crate::reports::blind_print::number;
use crate::reports::sheet_report::ballot_care;
use crate::reports::sheet_report::title;
use crate::workflow::Home;
use crate::workflow::Sheet;
use crate::workflow::SheetRow;

/// The side of the box under a code, mm.
const CHOICE: f64 = 9.0;

/// The ballots of a test.
pub(super) fn print(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    let sheet = home.sheet(number(asked)?, SheetKind::Ballots, None)?;
    Ok(ballots_printout(
        &sheet,
        &home.joined_allergens()?,
        asked.paper,
    ))
}

/// The ballots of a test; `allergens` is what the beers of this home may hold, joined so that no one is given away.
pub(super) fn ballots_printout(it: &Sheet, allergens: &str, paper: Paper) -> Printout {
    let title = title(it);
    let first: String = it.planned.test.commitment.chars().take(16).collect();
    let foot = format!("{title} · commitment {first} …");
    let mut flow = Flow::new(&title, paper, &foot);
    let question = it.planned.question();
    let care = ballot_care(allergens);
    let heights = [
        set_lines(&question, HEADING.size, HEADING.weight, flow.width()).len(),
        set_lines(&care, SMALL.size, SMALL.weight, flow.width()).len(),
    ];
    // The lines of the question and of the care, and all that stands at fixed places.
    let height = (heights[0] as f64).mul_add(5.9, heights[1] as f64 * 3.8) + FIXED;
    for (index, row) in it.rows.iter().enumerate() {
        // A ballot is whole, and a cut line only stands where another one follows on the page.
        match index {
            0 => {}
            _ if flow.left() >= height + CUT => flow.cut(),
            _ => flow.turn(),
        }
        print_ballot(&mut flow, row, it.planned.test.number, [&question, &care]);
    }
    Printout {
        title,
        sheets: flow.finish(),
    }
}

/// What a ballot takes beside question and care, mm.
const FIXED: f64 = 8.5 + 1.0 + 20.0 + 8.0 + 8.5 + 8.5 + 1.5;

fn print_ballot(flow: &mut Flow, row: &SheetRow, number: u32, [question, care]: [&str; 2]) {
    let width = flow.width();
    let [x, y] = flow.room(8.5);
    let which = format!("Test {number} · place {}, set {}", row.place, row.round);
    flow.sheet().text([x, y + 4.5], &which, TEXT.bold());
    flow.sheet()
        .write_line([x + 80.0, y + 4.5], "Name", x + width);
    flow.paragraph(question, HEADING);
    flow.gap(1.0);
    print_codes(flow, row);
    let [x, y] = flow.room(8.0);
    flow.sheet().text([x, y + 4.5], "How sure:", TEXT);
    let mut next = x + 22.0;
    for word in ["a guess", "rather sure", "sure"] {
        next = flow.sheet().tick([next, y + 4.5], word);
    }
    for label in [
        "What differed",
        "Apart from that, liked better (or leave it)",
    ] {
        let [x, y] = flow.room(8.5);
        flow.sheet().write_line([x, y + 6.0], label, x + width);
    }
    flow.gap(1.5);
    flow.paragraph(care, SMALL);
}

/// The codes from left to right, each with a box to mark the chosen one.
fn print_codes(flow: &mut Flow, row: &SheetRow) {
    let [x, y] = flow.room(20.0);
    let sheet = flow.sheet();
    let lead = ["taste from left", "to right and", "mark one"];
    for (index, line) in lead.iter().enumerate() {
        let base = (index as f64).mul_add(4.2, y + 6.0);
        sheet.text([x, base], line, SMALL);
    }
    let mut from = x + 38.0;
    if row.reference.is_some() {
        sheet.text([from, y + 7.0], "R", Type::of(6.0).bold().centred());
        sheet.text([from, y + 13.0], "reference", SMALL.centred());
        from += 28.0;
    }
    for (code, _) in &row.cups {
        let set = Type::of(6.0).bold().centred();
        sheet.text([from, y + 7.0], &code.to_string(), set);
        sheet.pen_box([from - CHOICE / 2.0, y + 10.0], [CHOICE, CHOICE]);
        from += 26.0;
    }
}
