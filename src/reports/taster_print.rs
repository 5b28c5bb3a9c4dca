//! A taster's page on paper: what is solid, what is borrowed, the charts, how sure and how often right, what to practise.

use crate::domain::Wheel;
use crate::drawing::BESIDE;
use crate::drawing::Flow;
use crate::drawing::HEADING;
use crate::drawing::Paper;
use crate::drawing::Picture;
use crate::drawing::SMALL;
use crate::drawing::Sheet;
use crate::drawing::TEXT;
use crate::reports::PrintAsked;
use crate::reports::PrintRefused;
use crate::reports::Printout;
use crate::reports::taster_picture::certainty_picture;
use crate::reports::taster_picture::taster_charts_picture;
use crate::reports::taster_report::KIND_WORDS;
use crate::reports::taster_report::TasterBlock;
use crate::reports::taster_report::counted_words;
use crate::reports::taster_report::taster_blocks;
use crate::reports::taster_report::taster_title;
use crate::workflow::ChartKind;
use crate::workflow::Home;
use crate::workflow::TasterPage;

/// The page of a taster.
pub(super) fn print(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    let page = home.taster_page(&asked.name(), ChartKind::WeightedMean)?;
    Ok(taster_printout(&page, home.wheel(), asked.paper))
}

/// The page of a taster.
fn taster_printout(it: &TasterPage, wheel: &Wheel, paper: Paper) -> Printout {
    let title = taster_title(it);
    let mut flow = Flow::new(&title, paper, &title);
    flow.title(&title);
    flow.paragraph(&counted_words(it), SMALL);
    for block in taster_blocks(it, wheel) {
        flow.heading(block.head());
        for text in block.texts() {
            match block {
                TasterBlock::Next(_) => flow.to_tick(text, TEXT),
                _ => flow.paragraph(text, TEXT),
            }
            flow.gap(0.8);
        }
        match block {
            TasterBlock::Practice(_) => certainty(&mut flow, it),
            TasterBlock::Time(_) => charts(&mut flow, it),
            _ => {}
        }
    }
    flow.gap(5.0);
    flow.paragraph(KIND_WORDS, SMALL);
    Printout {
        title,
        sheets: flow.finish(),
    }
}

/// How wide the square of certainty is, mm.
const SQUARE: f64 = 96.0;

/// What was said beside what was right.
fn certainty(flow: &mut Flow, it: &TasterPage) {
    let Some(picture) = certainty_picture(&it.confidence) else {
        return;
    };
    let picture = picture.sheet(SQUARE);
    flow.gap(2.0);
    flow.keep(picture.size[1] + 8.0);
    flow.paragraph("How sure, and how often right", HEADING);
    flow.picture(&picture);
    flow.paragraph(
        "On the dashed line the two agree. The bars: where the true share lies, 19 times in 20.",
        SMALL,
    );
}

/// The charts, two beside each other.
fn charts(flow: &mut Flow, it: &TasterPage) {
    let charts = taster_charts_picture(&it.charts);
    if charts.is_empty() {
        return;
    }
    let half = (flow.width() - BESIDE) / 2.0;
    let sheets: Vec<Sheet> = charts.iter().map(|it| it.sheet(half)).collect();
    for pair in sheets.chunks(2) {
        flow.gap(3.0);
        match pair {
            [left, right] => flow.beside(left, right),
            _ => pair.iter().for_each(|it| flow.picture(it)),
        }
    }
    flow.gap(1.0);
    flow.paragraph(
        "Weighted mean, sitting by sitting: the newest weighs a fifth. Dashed: the limits, which chance leaves in 1 of 20 times at most in any of all charts. A square lies beyond them.",
        SMALL,
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Day;
    use crate::drawing::beyond_margins;
    use crate::drawing::printed_texts;
    use crate::statistics::Count;
    use crate::statistics::Probability;
    use crate::statistics::StatedChance;
    use crate::workflow::ChartPoint;
    use crate::workflow::TasterChart;
    use crate::workflow::TasterCharts;

    /// A page with so many charts of thirty sittings, and a certainty that was stated.
    fn page(home: &mut Home, charts: usize) -> TasterPage {
        let name = "Жёлтая Überraschung-von-und-zu-Hopfengarten";
        home.add_taster(name).unwrap();
        let mut page = home.taster_page(name, ChartKind::WeightedMean).unwrap();
        let point = |at: u8| ChartPoint {
            day: Day::parse(&format!("2026-01-{:02}", at % 28 + 1)).unwrap(),
            gap: 0.4,
            value: f64::from(at) / 10.0 - 1.0,
            limits: [-1.2, 1.2],
        };
        let chart = TasterChart {
            line: "lingering-bitterness".to_owned(),
            baseline: 20,
            target: 0.1,
            points: (0..30).map(point).collect(),
            signal: None,
        };
        page.charts = TasterCharts::Charts {
            kind: ChartKind::WeightedMean,
            charts: vec![chart; charts],
        };
        page.confidence.stated = vec![StatedChance {
            said: Probability::new(0.9).unwrap(),
            count: Count::new(7, 9).unwrap(),
        }];
        page
    }

    #[test]
    fn a_page_with_any_number_of_charts_keeps_to_the_margins_and_ends_with_what_to_practise() {
        for charts in [0, 1, 2, 19] {
            let mut home = Home::trial();
            let page = page(&mut home, charts);
            for paper in [Paper::A4, Paper::Letter] {
                let printout = taster_printout(&page, home.wheel(), paper);
                for sheet in &printout.sheets {
                    assert_eq!(beyond_margins(sheet, 10.0), Vec::<String>::new());
                }
                let texts = printout.sheets.iter().flat_map(printed_texts);
                let texts: Vec<&str> = texts.collect();
                let drawn = texts.iter().filter(|it| it.contains("digits above"));
                assert!(drawn.count() >= charts);
                for part in ["To practise next", "7 of 9", "was said"] {
                    assert!(texts.iter().any(|it| it.contains(part)), "{part}");
                }
            }
        }
    }
}
