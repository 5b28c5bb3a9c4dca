//! What was removed, until when it is kept, and how it comes back.

use serde_json::Value;
use serde_json::json;

use crate::domain::Name;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::comparison_report::wrapped;
use crate::workflow::Bytes;
use crate::workflow::RemovedRow;

/// What one thing is, such as “batch S1”, and whose if it was somebody's.
#[must_use]
pub fn removed_words(row: &RemovedRow) -> String {
    let what = format!("{} {}", row.removal.kind.word(), row.removal.name);
    let tasters: Vec<String> = row.tasters.iter().map(Name::to_string).collect();
    if tasters.is_empty() {
        what
    } else {
        format!("{what} by {}", listed(&tasters))
    }
}

/// For how long one thing is kept.
#[must_use]
pub fn kept_words(row: &RemovedRow) -> String {
    let day = row.removal.removed_at.day();
    let left = match row.days_left {
        1 => "1 day".to_owned(),
        days => format!("{days} days"),
    };
    format!("kept for {left} more, removed on {day}")
}

/// That something was removed, and the command that brings it back.
#[must_use]
pub fn remove_lines(row: &RemovedRow, cells: usize) -> Vec<Line> {
    let number = row.removal.number;
    let how = format!("thirdglass removed --bring-back {number}");
    wrapped(Ink::Plain, &removed_sentence(row, &how), cells)
}

/// That something was removed, and by which keys of the app it comes back.
#[must_use]
pub fn remove_lines_in_app(row: &RemovedRow, cells: usize) -> Vec<Line> {
    let how = "e on the first screen, then What was removed.";
    wrapped(Ink::Plain, &removed_sentence(row, how), cells)
}

fn removed_sentence(row: &RemovedRow, how: &str) -> String {
    format!(
        "Removed: {}. For {} days it can come back: {how}",
        removed_words(row),
        row.days_left
    )
}

/// Names as one reads them out: `Ana, Ben and Cleo`.
fn listed(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// That something came back.
#[must_use]
pub fn brought_back_lines(row: &RemovedRow, cells: usize) -> Vec<Line> {
    let told = format!("Brought back: {}, as it was.", removed_words(row));
    let mut lines = wrapped(Ink::Plain, &told, cells);
    if !row.marked.is_empty() {
        let marked = format!(
            "Nothing was sealed while it was away, so what {} noted and {} not locked carries the mark of a broken seal for ever.",
            listed(&row.marked),
            if row.marked.len() == 1 { "has" } else { "have" }
        );
        lines.extend(wrapped(Ink::Alert, &marked, cells));
    }
    lines
}

/// That something is gone, and where its bytes are still in the file, that too.
#[must_use]
pub fn thrown_out_lines((row, bytes): &(RemovedRow, Bytes), cells: usize) -> Vec<Line> {
    let told = format!(
        "Thrown out for good: {}. Copies that were made before still hold it.",
        removed_words(row)
    );
    let mut lines = wrapped(Ink::Plain, &told, cells);
    if let Bytes::Later(reason) = bytes {
        let later = format!("Its bytes leave the file at the next start: {reason}");
        lines.extend(wrapped(Ink::Alert, &later, cells));
    }
    lines
}

/// What was removed and can come back, a line each.
#[must_use]
pub fn removed_lines(rows: &[RemovedRow], cells: usize) -> Vec<Line> {
    if rows.is_empty() {
        let none = "Nothing was removed in the last thirty days.";
        return wrapped(Ink::Plain, none, cells);
    }
    let lines = rows.iter().flat_map(|it| {
        let (number, words, kept) = (it.removal.number, removed_words(it), kept_words(it));
        wrapped(Ink::Plain, &format!("{number}  {words}, {kept}"), cells)
    });
    lines.collect()
}

/// What was removed and can come back, as JSON.
#[must_use]
pub fn removed_json(rows: &[RemovedRow]) -> Value {
    let rows = rows.iter().map(|it| {
        json!({
            "number": it.removal.number,
            "kind": it.removal.kind.id(),
            "name": it.removal.name,
            "tasters": it.tasters.iter().map(Name::as_str).collect::<Vec<_>>(),
            "removed_at": it.removal.removed_at.to_string(),
            "days_left": it.days_left,
        })
    });
    json!({ "format": 1, "removed": rows.collect::<Vec<_>>() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Moment;
    use crate::domain::Removal;
    use crate::domain::RemovedKind;

    #[test]
    fn bytes_that_are_still_in_the_file_are_told() {
        let removal = Removal {
            number: 3,
            kind: RemovedKind::Photograph,
            root: "id".to_owned(),
            name: "2 of T1".to_owned(),
            removed_at: Moment::EPOCH,
        };
        let row = RemovedRow {
            removal,
            tasters: Vec::new(),
            days_left: 1,
            marked: Vec::new(),
        };
        let told = |bytes: Bytes| -> Vec<String> {
            let lines = thrown_out_lines(&(row.clone(), bytes), 200);
            lines.iter().map(Line::text).collect()
        };
        let thrown =
            "Thrown out for good: photograph 2 of T1. Copies that were made before still hold it.";
        assert_eq!(told(Bytes::RubbedOut), [thrown]);
        let later = told(Bytes::Later("another window reads the file".to_owned()));
        assert_eq!((later.len(), later[0].as_str()), (2, thrown));
        assert!(
            later[1].ends_with("at the next start: another window reads the file"),
            "{later:?}"
        );
        assert_eq!(
            kept_words(&row),
            "kept for 1 day more, removed on 1970-01-01"
        );
        let name = |it| Name::new("a name", it).unwrap();
        let mut row = row;
        row.tasters = vec![name("Ana"), name("Ben")];
        assert_eq!(removed_words(&row), "photograph 2 of T1 by Ana and Ben");
        let json = removed_json(&[row]);
        assert_eq!(json["removed"][0]["tasters"], json!(["Ana", "Ben"]));
    }

    #[test]
    fn one_taster_has_not_locked_and_three_have_not() {
        let removal = Removal {
            number: 1,
            kind: RemovedKind::Batch,
            root: "id".to_owned(),
            name: "S1".to_owned(),
            removed_at: Moment::EPOCH,
        };
        let told = |marked: &[&str]| -> String {
            let row = RemovedRow {
                removal: removal.clone(),
                tasters: Vec::new(),
                days_left: 30,
                marked: marked.iter().map(|it| (*it).to_owned()).collect(),
            };
            brought_back_lines(&row, 200)[1].text()
        };
        assert!(told(&["Ana"]).contains("what Ana noted and has not locked carries"));
        let three = told(&["Ana", "Ben", "Cleo"]);
        assert!(
            three.contains("what Ana, Ben and Cleo noted and have not locked carries"),
            "{three}"
        );
    }
}
