//! An evening in words: cautions and shopping first, the running order with minutes, then what is in which jar.

use serde_json::Value;
use serde_json::json;

use crate::domain::MeetingPart;
use crate::domain::PracticeKind;
use crate::domain::Wheel;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::capitalised;
use crate::reports::comparison_report::wrapped;
use crate::reports::practice_report::care_texts;
use crate::reports::practice_report::jar_rows;
use crate::reports::strength_report::series_key_lines;
use crate::workflow::Block;
use crate::workflow::Evening;
use crate::workflow::EveningPart;
use crate::workflow::JarCard;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// An evening for the one who leads it, as lines of at most `cells` cells.
#[must_use]
pub fn evening_lines(evening: &Evening, cells: usize) -> Vec<Line> {
    let mut lines = vec![Line::of(Ink::Title, evening_title(evening))];
    lines.extend(wrapped(
        Ink::Alert,
        "For the one who leads: this page says what is in which jar.",
        cells,
    ));
    lines.push(Line::blank());
    for text in care_texts(all_cards(evening).iter().map(|it| &it.jar)) {
        lines.extend(wrapped(Ink::Alert, &text, cells));
    }
    lines.push(Line::of(Ink::Strong, "Fetch"));
    for item in shopping(evening) {
        lines.extend(wrapped(Ink::Plain, &format!("  [ ] {item}"), cells));
    }
    lines.push(Line::blank());
    lines.push(Line::of(Ink::Strong, "Running order"));
    for block in &evening.blocks {
        lines.extend(block_lines(block, cells));
    }
    lines.extend(wrapped(Ink::Quiet, &length_sentence(evening), cells));
    for part in &evening.parts {
        lines.push(Line::blank());
        let title = capitalised(part.part.word());
        lines.push(Line::of(Ink::Strong, title));
        lines.extend(part_lines(part, cells));
    }
    lines
}

/// Which evening it is.
#[must_use]
pub fn evening_title(evening: &Evening) -> String {
    format!(
        "{}, meeting {} of {}",
        evening.course.name,
        evening.meeting.number,
        evening.course.meetings.get()
    )
}

fn block_lines(block: &Block, cells: usize) -> Vec<Line> {
    let time = format!("  {:>3} min  ", block.begins);
    let head = Line::of(Ink::Quiet, time).and(Ink::Strong, block.kind.title);
    let mut lines = vec![head.and(Ink::Quiet, format!(", {} min", block.lasts))];
    lines.extend(wrapped(
        Ink::Plain,
        &format!("           {}", block.kind.leader),
        cells,
    ));
    lines
}

pub(super) fn length_sentence(evening: &Evening) -> String {
    let (lasts, meant) = (evening.lasts(), evening.meeting.length.get());
    if f64::from(lasts) > meant {
        format!(
            "  {lasts} minutes in all, {:.0} more than meant: take fewer jars, or begin early. Times are common practice, not measured.",
            f64::from(lasts) - meant
        )
    } else {
        format!(
            "  {lasts} minutes in all; what is left of the {meant:.0} is for talk. Times are common practice, not measured."
        )
    }
}

pub(super) fn all_cards(evening: &Evening) -> Vec<JarCard> {
    evening
        .parts
        .iter()
        .flat_map(|it| it.cards.clone())
        .collect()
}

/// What to fetch, each once, what is always needed at the end.
pub(super) fn shopping(evening: &Evening) -> Vec<String> {
    let cards = all_cards(evening);
    let mut items: Vec<String> = cards.iter().map(|it| it.jar.item.clone()).collect();
    let series = evening.parts.iter().filter_map(|it| {
        let glass = it.series.first()?;
        let series = glass.scale.anchors?.series?;
        Some(format!("for the series, {}", series.base))
    });
    items.extend(series);
    items.sort_unstable();
    items.dedup();
    let people = evening.present.len();
    let glasses: usize = evening.parts.iter().map(|it| it.series.len()).sum();
    // One more, open and strong, shows the word of present or not.
    let shown = evening
        .parts
        .iter()
        .filter(|it| it.part == MeetingPart::Presence);
    items.push(format!("{} lidded jars", cards.len() + shown.count()));
    if glasses > 0 {
        items.push(format!(
            "{glasses} jugs for the series, a mouthful from each for {people}"
        ));
    }
    items.push(format!(
        "for each of the {people}: a sheet, a pen, a glass of water, a spit cup"
    ));
    items.push("plain bread".to_owned());
    items
}

/// What is in which jar.
fn part_lines(part: &EveningPart, cells: usize) -> Vec<Line> {
    match part.part {
        MeetingPart::Strength => series_key_lines(&part.series, cells),
        MeetingPart::Presence => jar_rows(&part.cards, PracticeKind::Presence, cells),
        MeetingPart::Check | MeetingPart::Jars => jar_rows(&part.cards, PracticeKind::Jars, cells),
    }
}

/// What everybody may see of a block: what is done now, the codes in play, and what comes next.
#[must_use]
pub fn shared_lines(evening: &Evening, at: usize, wheel: &Wheel, cells: usize) -> Vec<Line> {
    let Some(block) = evening.blocks.get(at) else {
        return Vec::new();
    };
    let mut lines = vec![
        Line::blank(),
        Line::of(Ink::Title, format!("  {}", block.kind.title.to_uppercase())),
        Line::of(
            Ink::Quiet,
            format!(
                "  minutes {} to {}",
                block.begins,
                block.begins + block.lasts
            ),
        ),
        Line::blank(),
    ];
    lines.extend(wrapped(
        Ink::Strong,
        &format!("  {}", block.kind.shown),
        cells,
    ));
    lines.extend(shared_part(evening, block, wheel, cells));
    lines.push(Line::blank());
    let next = evening.blocks.get(at + 1);
    let next = next.map_or("  The end.".to_owned(), |it| {
        format!("  Next, at minute {}: {}", it.begins, it.kind.title)
    });
    lines.push(Line::of(Ink::Quiet, next));
    lines
}

/// The codes of a block, and what helps to answer without telling anything.
fn shared_part(evening: &Evening, block: &Block, wheel: &Wheel, cells: usize) -> Vec<Line> {
    let mut lines = Vec::new();
    if let Some(part) = evening.part_of(block) {
        lines.push(Line::blank());
        let codes = part.codes();
        for row in codes.chunks(6) {
            let row: Vec<String> = row.iter().map(ToString::to_string).collect();
            lines.push(Line::of(Ink::Strong, format!("     {}", row.join("    "))));
        }
    }
    if matches!(
        block.kind.part,
        Some(MeetingPart::Check | MeetingPart::Jars)
    ) {
        lines.push(Line::blank());
        lines.extend(wrapped(
            Ink::Plain,
            &format!("  {}", places_sentence(wheel)),
            cells,
        ));
    }
    if let Some(glass) = evening.part_of(block).and_then(|it| it.series.first()) {
        let asked = format!("  {} {}", glass.scale.word, glass.scale.question);
        lines.push(Line::of(Ink::Strong, asked));
    }
    lines
}

/// The places there are, for those who have no word.
pub(super) fn places_sentence(wheel: &Wheel) -> String {
    let names: Vec<&str> = wheel.places().iter().map(|it| it.name.as_str()).collect();
    format!("The places: {}.", names.join(" · "))
}

/// An evening as JSON, with what is in which jar.
#[must_use]
pub fn evening_json(evening: &Evening) -> Value {
    json!({
        "format": VERSION,
        "course": evening.course.name.as_str(),
        "meeting": evening.meeting.number,
        "meetings": evening.course.meetings.get(),
        "minutes": evening.meeting.length.get(),
        "present": evening.present.iter().map(|it| it.name.as_str()).collect::<Vec<_>>(),
        "shopping": shopping(evening),
        "cautions": care_texts(all_cards(evening).iter().map(|it| &it.jar)),
        "blocks": evening.blocks.iter().map(|it| json!({
            "title": it.kind.title,
            "begins": it.begins,
            "lasts": it.lasts,
            "leader": it.kind.leader,
            "shown": it.kind.shown,
        })).collect::<Vec<_>>(),
        "parts": evening.parts.iter().map(part_json).collect::<Vec<_>>(),
    })
}

fn part_json(part: &EveningPart) -> Value {
    json!({
        "part": part.part.id(),
        "jars": part.cards.iter().map(|it| json!({
            "code": it.code.get(),
            "word": it.word,
            "item": it.jar.item,
            "how": it.jar.how,
            "spiked": it.spiked.map(crate::domain::Spiked::id),
        })).collect::<Vec<_>>(),
        "series": part.series.iter().map(|it| json!({
            "code": it.code.get(),
            "scale": it.scale.id,
            "step": it.step.get(),
        })).collect::<Vec<_>>(),
    })
}
