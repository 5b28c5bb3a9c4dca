//! An evening on paper for the one who leads: cautions, shopping, running order, what is in which jar.

use crate::domain::MeetingPart;
use crate::drawing::Column;
use crate::drawing::Flow;
use crate::drawing::Paper;
use crate::drawing::SMALL;
use crate::drawing::TEXT;
use crate::drawing::capitalised;
use crate::reports::PrintAsked;
use crate::reports::PrintRefused;
use crate::reports::Printout;
use crate::reports::evening_report::all_cards;
use crate::reports::evening_report::length_sentence;
use crate::reports::evening_report::shopping;
use crate::reports::evening_title;
use crate::reports::practice_report::SPIKED_HOW;
use crate::reports::practice_report::care_texts;
use crate::reports::practice_report::how_to_make;
use crate::reports::strength_report::series_care;
use crate::workflow::Evening;
use crate::workflow::EveningPart;
use crate::workflow::Home;
use crate::workflow::JarCard;

/// The latest evening of a course, for whoever leads and does not learn.
pub(super) fn print(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    let course = home.course(&asked.name())?;
    let evening = home.read_evening(&course, asked.reader.as_deref())?;
    Ok(evening_printout(&evening, asked.paper))
}

/// An evening for the one who leads.
#[must_use]
pub fn evening_printout(evening: &Evening, paper: Paper) -> Printout {
    let title = evening_title(evening);
    let foot = format!("{title} · for the one who leads");
    let mut flow = Flow::new(&title, paper, &foot);
    flow.title(&title);
    flow.warned("For the one who leads: these pages say what is in which jar.");
    for text in care_texts(all_cards(evening).iter().map(|it| &it.jar)) {
        flow.warned(&text);
    }
    flow.heading("Fetch");
    for item in shopping(evening) {
        flow.to_tick(&item, TEXT);
    }
    flow.heading("Running order");
    running_order(&mut flow, evening);
    for part in &evening.parts {
        flow.heading(&capitalised(part.part.word()));
        print_part(&mut flow, part);
    }
    Printout {
        title,
        sheets: flow.finish(),
    }
}

fn running_order(flow: &mut Flow, evening: &Evening) {
    let columns = [
        Column::numbers("minute", 16.0),
        Column::of("what", 38.0),
        Column::numbers("lasts", 16.0),
        Column::of("what you do", flow.width() - 70.0),
    ];
    let rows = evening.blocks.iter().map(|it| {
        vec![
            it.begins.to_string(),
            it.kind.title.to_owned(),
            it.lasts.to_string(),
            it.kind.leader.to_owned(),
        ]
    });
    flow.table(&columns, &rows.collect::<Vec<_>>(), TEXT);
    flow.gap(1.5);
    flow.paragraph(length_sentence(evening).trim(), SMALL);
}

fn print_part(flow: &mut Flow, part: &EveningPart) {
    match part.part {
        MeetingPart::Strength => print_series(flow, part),
        MeetingPart::Presence => print_spiked(flow, &part.cards),
        MeetingPart::Check | MeetingPart::Jars => {
            let columns = [
                Column::of("jar", 22.0),
                Column::of("word", 40.0),
                Column::of("what is in it", flow.width() - 62.0),
            ];
            let rows = part.cards.iter();
            let rows = rows.map(|it| vec![to_fill(it), it.word.clone(), how_to_make(it)]);
            flow.table(&columns, &rows.collect::<Vec<_>>(), TEXT);
        }
    }
}

/// A code with a box to tick when the jar is filled.
fn to_fill(card: &JarCard) -> String {
    format!("☐ {}", card.code)
}

fn print_spiked(flow: &mut Flow, cards: &[JarCard]) {
    flow.paragraph(SPIKED_HOW, TEXT);
    flow.gap(1.0);
    let Some(first) = cards.first() else {
        return;
    };
    flow.paragraph(&how_to_make(first), TEXT.bold());
    flow.gap(1.0);
    let columns = [Column::of("jar", 22.0), Column::of("what is in it", 90.0)];
    let rows = cards.iter().map(|it| vec![to_fill(it), it.spiked_words()]);
    flow.table(&columns, &rows.collect::<Vec<_>>(), TEXT);
}

fn print_series(flow: &mut Flow, part: &EveningPart) {
    let first = part.series.first();
    let Some(series) = first
        .and_then(|it| it.scale.anchors)
        .and_then(|it| it.series)
    else {
        return;
    };
    for text in series_care(&series) {
        flow.warned(&text);
    }
    let mix = format!("Mix {}. A mouthful each, all equally warm.", series.base);
    flow.paragraph(&mix, TEXT);
    flow.gap(1.0);
    let columns = [
        Column::of("glass", 22.0),
        Column::of("what goes in", 90.0),
        Column::of("for a", 30.0),
    ];
    let rows = part.series.iter().map(|it| {
        vec![
            format!("☐ {}", it.code),
            series.steps[usize::from(it.step.get() - 1)].to_owned(),
            format!("{} of 9", it.step.digit()),
        ]
    });
    flow.table(&columns, &rows.collect::<Vec<_>>(), TEXT);
}
