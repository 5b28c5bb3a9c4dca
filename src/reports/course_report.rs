//! The courses there are: who learns in them, and which meeting comes next.

use serde_json::Value;
use serde_json::json;

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::comparison_report::wrapped;
use crate::workflow::CourseRow;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// Courses as lines of at most `cells` cells.
#[must_use]
pub fn courses_lines(courses: &[CourseRow], cells: usize) -> Vec<Line> {
    if courses.is_empty() {
        let none = "No course yet: thirdglass practice course NAME --people A,B";
        return wrapped(Ink::Plain, none, cells);
    }
    let mut lines = Vec::new();
    for it in courses {
        lines.push(Line::of(Ink::Strong, it.course.name.as_str()));
        lines.extend(wrapped(Ink::Plain, &format!("  {}", sentence(it)), cells));
    }
    lines
}

fn sentence(it: &CourseRow) -> String {
    let names: Vec<&str> = it.people.iter().map(|it| it.name.as_str()).collect();
    let checks = it.course.meetings.checks();
    let [first, middle, last] = checks;
    format!(
        "{}. {} of {} meetings planned; the check comes at meetings {first}, {middle} and {last}.",
        names.join(", "),
        it.planned,
        it.course.meetings.get()
    )
}

/// Courses as JSON, without the words held back.
#[must_use]
pub fn courses_json(courses: &[CourseRow]) -> Value {
    json!({
        "format": VERSION,
        "courses": courses.iter().map(|it| json!({
            "name": it.course.name.as_str(),
            "people": it.people.iter().map(|it| it.name.as_str()).collect::<Vec<_>>(),
            "meetings": it.course.meetings.get(),
            "planned": it.planned,
            "checks": it.course.meetings.checks(),
        })).collect::<Vec<_>>(),
    })
}
