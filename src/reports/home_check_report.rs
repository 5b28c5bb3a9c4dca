//! What a look through a home found, and copies that were made or brought back.

use serde_json::Value;
use serde_json::json;

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::comparison_report::wrapped;
use crate::workflow::HomeCheck;
use crate::workflow::Restored;
use crate::workflow::local_day;

/// One sentence, then each problem, then what to mind.
#[must_use]
pub fn home_check_lines(it: &HomeCheck, cells: usize) -> Vec<Line> {
    let looked = format!(
        "Looked through {} rows in {} tables, {} sums and {} photographs.",
        it.rows, it.tables, it.sums, it.photographs
    );
    let found = match it.problems.len() {
        0 => "All of it is sound.".to_owned(),
        1 => "One thing is wrong:".to_owned(),
        n => format!("{n} things are wrong:"),
    };
    let ink = if it.problems.is_empty() {
        Ink::Plain
    } else {
        Ink::Alert
    };
    let mut lines = wrapped(Ink::Plain, &looked, cells);
    lines.extend(wrapped(ink, &found, cells));
    for problem in &it.problems {
        lines.extend(wrapped(Ink::Plain, &format!("- {problem}"), cells));
    }
    lines.extend(wrapped(Ink::Plain, &copy_words(it), cells));
    lines
}

/// How old the newest copy is.
fn copy_words(it: &HomeCheck) -> String {
    let advice = "To make one now, on another disk at best: thirdglass home backup FILE";
    match it.copied_on {
        Some(day) if it.copy_is_old => {
            format!(
                "The newest copy that was made by itself is of {day}, which is long ago. {advice}"
            )
        }
        Some(day) => {
            format!(
                "The newest copy that was made by itself is of {day}; it stands in the folder copies of this home."
            )
        }
        None if it.copy_is_old => format!("No copy of this home was made by itself yet. {advice}"),
        None => "There is nothing yet that a copy could be made of.".to_owned(),
    }
}

/// What a look through a home found, as JSON.
#[must_use]
pub fn home_check_json(it: &HomeCheck) -> Value {
    json!({
        "format": 1,
        "sound": it.problems.is_empty(),
        "problems": it.problems,
        "rows": it.rows,
        "tables": it.tables,
        "sums": it.sums,
        "photographs": it.photographs,
        "copied_on": it.copied_on.map(|day| day.to_string()),
    })
}

/// That a copy was written, and how it is brought back.
#[must_use]
pub fn copied_lines(file: &str, cells: usize) -> Vec<Line> {
    let told = format!(
        "Written: {file}, a whole copy of this home's file, for your eyes alone. Nothing in it is sealed: keep it where nobody who still tastes looks into it. Words and ingredients of your own are files beside it and are not in it. To bring it back: thirdglass home restore {file}"
    );
    wrapped(Ink::Plain, &told, cells)
}

/// That a copy was brought back, and where what was there before is kept.
#[must_use]
pub fn restored_lines(file: &str, it: &Restored, cells: usize) -> Vec<Line> {
    let latest = it.latest.map_or_else(String::new, |at| {
        format!(", the latest of {}", local_day(at))
    });
    let told = format!(
        "Brought back from {file}: {} locked notes{latest}.",
        it.notes
    );
    let mut lines = wrapped(Ink::Plain, &told, cells);
    if let Some(aside) = &it.aside {
        let kept = format!("What was there before is kept: {}", aside.display());
        lines.extend(wrapped(Ink::Plain, &kept, cells));
    }
    lines
}
