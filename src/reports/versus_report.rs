//! Two beers beside each other, as lines and as JSON.

use serde_json::Value;
use serde_json::json;

use crate::domain::Name;
use crate::drawing::Dumbbell;
use crate::drawing::DumbbellGroup;
use crate::drawing::DumbbellRow;
use crate::drawing::DumbbellSigns;
use crate::drawing::Dumbbells;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::comparison_json::judged_json;
use crate::reports::comparison_report::wrapped;
use crate::reports::verdict_words::digits_words;
use crate::reports::verdict_words::guess_words;
use crate::workflow::HeldAgainst;
use crate::workflow::Outcome;
use crate::workflow::Tasters;
use crate::workflow::Versus;
use crate::workflow::VersusLine;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// Names of tasters that are told.
const MOST_NAMES: usize = 4;

/// Two beers as lines of at most `cells` cells.
#[must_use]
pub fn versus_lines(it: &Versus, cells: usize) -> Vec<Line> {
    let [one, other] = &it.cap_marks;
    let mut lines = vec![Line::of(Ink::Title, format!("{one} against {other}"))];
    lines.extend(wrapped(Ink::Quiet, &counting_words(it), cells));
    for (mark, caution) in &it.cautions {
        lines.extend(wrapped(Ink::Alert, &format!("! {mark}: {caution}"), cells));
    }
    let differs = it.lines.iter().filter(|it| it.outcome.differs());
    let labels: Vec<&str> = differs.map(|it| it.label.as_str()).collect();
    let summary = if labels.is_empty() {
        few_words(it)
    } else {
        format!("They differ in: {}.", labels.join(", "))
    };
    lines.extend(wrapped(Ink::Strong, &summary, cells));
    lines.extend(wrapped(Ink::Good, &next_words(it), cells));
    lines.push(Line::blank());
    let legend = format!(
        "● {one}  ◇ {other}  ◆ both on one spot of the line from 0 to 9. In brackets: how much more {one} has, a careful guess, smaller than the gap noted because notes are noisy."
    );
    lines.extend(wrapped(Ink::Quiet, &legend, cells));
    let group = versus_group(it);
    lines.push(group.head_line());
    lines.extend(group.rows.iter().map(|row| group.row_line(row, cells)));
    lines
}

/// Which notes count, and whose they are.
fn counting_words(it: &Versus) -> String {
    let [one, other] = &it.cap_marks;
    let whose = match it.tasters {
        Tasters::SideBySide => {
            "side by side under codes, so a day that shifts a taster shifts both"
        }
        Tasters::Shared => "by people who tasted both",
        Tasters::Different => "by different people: their mouths are in every difference",
    };
    let [here, there] = it.glasses;
    let names: Vec<&str> = it.names.iter().take(MOST_NAMES).map(Name::as_str).collect();
    let more = match it.names.len().saturating_sub(MOST_NAMES) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    format!(
        "Notes that count: {here} of {one}, {there} of {other}, {whose} ({}{more}).",
        names.join(", ")
    )
}

/// That nothing can be said for certain, and why.
fn few_words(it: &Versus) -> String {
    let fewest = it.glasses[0].min(it.glasses[1]);
    let why = match fewest {
        1 => "one set of notes each is too few to prove any difference",
        2 | 3 => "so few notes prove only large differences",
        _ => "no difference is larger than the noise",
    };
    let mut open: Vec<&VersusLine> = it.lines.iter().filter(|it| it.judged.is_some()).collect();
    let size = |it: &VersusLine| it.judged.as_ref().map_or(0.0, |it| it.size.abs());
    open.sort_by(|a, b| size(b).total_cmp(&size(a)));
    let largest: Vec<&str> = open.iter().take(2).map(|it| it.label.as_str()).collect();
    let guess = if largest.is_empty() {
        String::new()
    } else {
        format!(" The largest seem to be: {}.", largest.join(", "))
    };
    format!("Cannot tell them apart yet: {why}.{guess} That does not make them the same.")
}

/// How to come to know more.
fn next_words(it: &Versus) -> String {
    let [one, other] = &it.cap_marks;
    if !it.cautions.is_empty() {
        return "Next: see to the bad bottles before anything else.".to_owned();
    }
    match it.tasters {
        Tasters::SideBySide => format!(
            "Next: taste {one} and {other} side by side once more, on another day; or settle it blind with friends, with a triangle test."
        ),
        _ => format!(
            "Next: taste {one} and {other} side by side under codes, which leaves the day out; or settle it blind with friends, with a triangle test."
        ),
    }
}

/// Both beers on every line as a picture.
#[must_use]
pub fn versus_picture(it: &Versus) -> Dumbbells {
    let [one, other] = it.cap_marks.each_ref().map(Name::to_string);
    Dumbbells {
        signs: DumbbellSigns {
            wished: other,
            found: one,
            ..DumbbellSigns::default()
        },
        groups: vec![versus_group(it)],
    }
}

fn versus_group(it: &Versus) -> DumbbellGroup {
    DumbbellGroup {
        head: "Beer against beer".to_owned(),
        columns: it.cap_marks.each_ref().map(Name::to_string),
        value_cells: 6,
        rows: it.lines.iter().map(row).collect(),
    }
}

fn row(line: &VersusLine) -> DumbbellRow {
    let [here, there] = line.means;
    let ink = if line.outcome.differs() {
        Ink::Alert
    } else {
        Ink::Plain
    };
    DumbbellRow {
        label: line.label.clone(),
        dumbbell: Dumbbell {
            wished: there,
            found: here,
            ..Dumbbell::default()
        },
        values: line.means.map(|it| digits_words(&line.about, it)),
        said: vec![verdict(line)],
        ink,
    }
}

fn verdict(line: &VersusLine) -> String {
    let words = line.outcome.words(HeldAgainst::OtherBeer);
    match (line.outcome, &line.judged) {
        (Outcome::NotMentionedYet, _) => "named in one only".to_owned(),
        (Outcome::More | Outcome::Less, Some(it)) => {
            let (low, high) = (it.range.low, it.range.high);
            format!("{words} ({low:+.1} to {high:+.1})")
        }
        (Outcome::CannotTellYet, Some(it)) => {
            format!("{words} ({})", guess_words(it.size))
        }
        _ => words.to_owned(),
    }
}

/// Two beers as JSON; every amount is in digits of its scale, 0 to 9.
#[must_use]
pub fn versus_json(it: &Versus) -> Value {
    let tasters = match it.tasters {
        Tasters::SideBySide => "side-by-side",
        Tasters::Shared => "shared",
        Tasters::Different => "different",
    };
    let lines = it.lines.iter().map(|line| {
        json!({
            "line": line.id,
            "words": line.label,
            "means": line.means,
            "verdict": line.outcome.words(HeldAgainst::OtherBeer),
            "judged": line.judged.as_ref().map(judged_json),
        })
    });
    json!({
        "format": VERSION,
        "cap_marks": it.cap_marks.each_ref().map(Name::as_str),
        "glasses": it.glasses,
        "tasters": tasters,
        "lines": lines.collect::<Vec<_>>(),
    })
}
