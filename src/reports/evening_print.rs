//! An evening on paper for the one who leads.

use crate::drawing::Flow;
use crate::drawing::HEADING;
use crate::drawing::Paper;
use crate::drawing::TEXT;
use crate::reports::PrintAsked;
use crate::reports::PrintRefused;
use crate::reports::Printout;
use crate::reports::evening_title;
use crate::workflow::Evening;
use crate::workflow::Home;

/// The latest evening of a course.
pub(super) fn print(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    let course = home.course(&asked.name())?;
    Ok(evening_printout(
        &home.latest_evening(&course)?,
        asked.paper,
    ))
}

/// An evening for the one who leads.
#[must_use]
pub fn evening_printout(evening: &Evening, paper: Paper) -> Printout {
    let title = evening_title(evening);
    let mut flow = Flow::new(&title, paper, &format!("{title} · for the one who leads"));
    flow.title(&title);
    flow.paragraph(
        "For the one who leads: this page says what is in which jar.",
        HEADING,
    );
    flow.paragraph("", TEXT);
    Printout {
        title,
        sheets: flow.finish(),
    }
}
