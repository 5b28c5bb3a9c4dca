//! The answer sheets of an evening on paper: a page for each person, their codes in their own order with room for a pen.

use crate::domain::MeetingPart;
use crate::domain::Wheel;
use crate::drawing::Flow;
use crate::drawing::HAIR;
use crate::drawing::HEADING;
use crate::drawing::MARGIN;
use crate::drawing::Outline;
use crate::drawing::Paper;
use crate::drawing::SMALL;
use crate::drawing::Sheet;
use crate::drawing::TEXT;
use crate::drawing::capitalised;
use crate::reports::PrintAsked;
use crate::reports::PrintRefused;
use crate::reports::Printout;
use crate::reports::evening_report::evening_title;
use crate::reports::evening_report::places_sentence;
use crate::reports::paper_report::asked_words;
use crate::reports::paper_report::looked_for;
use crate::workflow::Evening;
use crate::workflow::Home;
use crate::workflow::PaperRow;

/// How high the row of a code is, mm.
const ROW: f64 = 13.5;

/// The sheets of everybody at the latest evening of a course, or of one taster.
pub(super) fn print(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    let evening = home.latest_evening(&home.course(&asked.name())?)?;
    let people = match &asked.taster {
        Some(name) => vec![home.taster(name)?],
        None => evening.present.clone(),
    };
    let mut sheets = Vec::new();
    for taster in people {
        let rows = home.paper_rows(&evening, &taster)?;
        let name = taster.name.as_str();
        let own = answer_sheet(&evening, name, &rows, home.wheel(), asked.paper);
        sheets.extend(own);
    }
    Ok(Printout {
        title: format!("{}: answer sheets", evening_title(&evening)),
        sheets,
    })
}

/// One person's pages; nothing on them tells what is in a jar.
fn answer_sheet(
    evening: &Evening,
    name: &str,
    rows: &[PaperRow],
    wheel: &Wheel,
    paper: Paper,
) -> Vec<Sheet> {
    let title = evening_title(evening);
    let foot = format!("{name} · {title}");
    let mut flow = Flow::new(&foot, paper, &foot);
    flow.title(name);
    flow.paragraph(&title, HEADING);
    flow.gap(2.0);
    flow.paragraph(&places_sentence(wheel), TEXT);
    for part in &evening.parts {
        flow.heading(&capitalised(part.part.word()));
        flow.paragraph(asked_words(part.part), TEXT);
        if let Some(word) = looked_for(evening, part.part) {
            flow.gap(0.8);
            flow.paragraph(&word, TEXT.bold());
        }
        for row in rows.iter().filter(|it| it.part == part.part) {
            answer_row(&mut flow, row);
        }
    }
    flow.finish()
}

fn answer_row(flow: &mut Flow, row: &PaperRow) {
    let width = flow.width();
    let [x, y] = flow.room(ROW);
    let base = y + 8.5;
    let sheet = flow.sheet();
    sheet.text([x, base], &row.code.to_string(), HEADING);
    let from = x + 18.0;
    match row.part {
        MeetingPart::Check | MeetingPart::Jars => {
            let lines = (width - 18.0 - 24.0) / 3.0;
            for (index, label) in ["place", "shelf", "word"].iter().enumerate() {
                let from = (index as f64).mul_add(lines, from);
                sheet.labelled_line([from, base], label, from + lines - 4.0);
            }
            how_sure(sheet, [x + width - 24.0, base]);
        }
        MeetingPart::Presence => {
            sheet.text([from, base], "in there:", TEXT);
            let next = sheet.tick([from + 18.0, base], "yes");
            sheet.tick([next, base], "no");
            how_sure(sheet, [x + width - 24.0, base]);
        }
        MeetingPart::Strength => {
            sheet.text([from, base], "digit", TEXT);
            sheet.pen_box([from + 11.0, y + 1.5], [10.0, 10.0]);
            sheet.text([from + 34.0, base], "number in the row", TEXT);
            sheet.pen_box([from + 69.0, y + 1.5], [10.0, 10.0]);
        }
    }
    let below = y + ROW - 0.4;
    let across = Outline::stroke([MARGIN, below], [x + width, below]);
    sheet.draw(across, HAIR);
}

fn how_sure(sheet: &mut Sheet, [x, base]: [f64; 2]) {
    sheet.labelled_line([x, base], "how sure", x + 18.0);
    sheet.text([x + 19.5, base], "%", SMALL);
}
