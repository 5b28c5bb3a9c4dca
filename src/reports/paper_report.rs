//! The sheets of an evening: one for each person, their codes in their own order with room to write.

use crate::domain::MeetingPart;
use crate::domain::Wheel;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::capitalised;
use crate::reports::comparison_report::wrapped;
use crate::reports::evening_report::evening_title;
use crate::reports::evening_report::places_sentence;
use crate::workflow::Evening;
use crate::workflow::PaperRow;

/// One person's sheet as lines of at most `cells` cells; nothing on it tells what is in a jar.
#[must_use]
pub fn paper_lines(
    evening: &Evening,
    name: &str,
    rows: &[PaperRow],
    wheel: &Wheel,
    cells: usize,
) -> Vec<Line> {
    let mut lines = vec![
        Line::of(Ink::Title, format!("{name}    {}", evening_title(evening))),
        Line::blank(),
    ];
    lines.extend(wrapped(Ink::Plain, &places_sentence(wheel), cells));
    lines.push(Line::blank());
    for part in &evening.parts {
        let own: Vec<&PaperRow> = rows.iter().filter(|it| it.part == part.part).collect();
        lines.push(Line::of(Ink::Strong, capitalised(part.part.word())));
        lines.extend(wrapped(Ink::Plain, asked_words(part.part), cells));
        let word = looked_for(evening, part.part);
        lines.extend(word.map(|it| Line::of(Ink::Strong, format!("  {it}"))));
        for row in own {
            lines.push(Line::blank());
            lines.push(Line::plain(format!(
                "  {}  {}",
                row.code,
                blanks(part.part)
            )));
        }
        lines.push(Line::blank());
    }
    lines
}

/// Which word is looked for, or which amount, where that is asked.
pub(super) fn looked_for(evening: &Evening, part: MeetingPart) -> Option<String> {
    let own = evening.parts.iter().find(|it| it.part == part)?;
    match part {
        MeetingPart::Presence => own.cards.first().map(|it| format!("the word: {}", it.word)),
        MeetingPart::Strength => own.series.first().map(|it| {
            format!(
                "{} from {} (0) to {} (9)",
                it.scale.word, it.scale.low, it.scale.high
            )
        }),
        MeetingPart::Check | MeetingPart::Jars => None,
    }
}

/// What is to be done at a part.
pub(super) const fn asked_words(part: MeetingPart) -> &'static str {
    match part {
        MeetingPart::Check | MeetingPart::Jars => {
            "Smell in this order; nothing goes into the mouth. A place alone is an answer too; so is a dash."
        }
        MeetingPart::Presence => {
            "Smell only; nothing goes into the mouth. Is it in there? Yes or no, and how sure."
        }
        MeetingPart::Strength => {
            "Taste each by itself: a digit from 0 to 9. Then all in a row: 1 for the weakest, 5 for the strongest."
        }
    }
}

const fn blanks(part: MeetingPart) -> &'static str {
    match part {
        MeetingPart::Check | MeetingPart::Jars => {
            "place ____________  shelf ____________  word ______________  sure ____ %"
        }
        MeetingPart::Presence => "in there: yes / no    sure ____ %",
        MeetingPart::Strength => "digit ____    number in the row ____",
    }
}
