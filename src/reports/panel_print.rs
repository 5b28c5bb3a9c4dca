//! The sheets of a panel on paper: what is poured, a ballot for each taster, and a sheet for any glass.

use crate::domain::BlindingCode;
use crate::domain::Form;
use crate::domain::Name;
use crate::drawing::Column;
use crate::drawing::Flow;
use crate::drawing::Paper;
use crate::drawing::SMALL;
use crate::drawing::Sheet;
use crate::drawing::TEXT;
use crate::reports::PrintAsked;
use crate::reports::PrintRefused;
use crate::reports::Printout;
use crate::reports::blind_print::number;
use crate::reports::blind_words::litres;
use crate::reports::glass_form::HOW;
use crate::reports::glass_form::glass_form;
use crate::reports::glass_form::head;
use crate::reports::panel_care;
use crate::reports::panel_sheet_report::POURING;
use crate::reports::panel_sheet_report::READER;
use crate::workflow::Home;
use crate::workflow::PouringSheet;
use crate::workflow::typed_word;

/// What goes into which glass of a panel; a taster who reads it is marked.
pub(super) fn print_pouring(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    let sheet =
        home.read_pouring_sheet(number(asked)?, asked.reader.as_deref(), asked.taster_reads)?;
    Ok(pouring_printout(&sheet, asked.paper))
}

/// The ballots of a panel, of everybody or of one taster.
pub(super) fn print_ballots(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    let number = number(asked)?;
    let sheet = home.pouring_sheet(number)?;
    let only = home.seated_name(number, asked.taster.as_deref())?;
    Ok(panel_ballots_printout(&sheet, only.as_ref(), asked.paper))
}

/// The ballots of a panel: of everybody, or of one taster alone.
#[must_use]
pub fn panel_ballots_printout(it: &PouringSheet, only: Option<&Name>, paper: Paper) -> Printout {
    let wanted = it.orders.iter();
    let wanted = wanted.filter(|order| only.is_none_or(|name| *name == order.0));
    let sheets = wanted.flat_map(|(name, codes)| ballot(it, name.as_str(), codes, paper));
    Printout {
        title: format!("Panel {}: ballots", it.panel.number),
        sheets: sheets.collect(),
    }
}

/// What whoever pours needs.
#[must_use]
pub fn pouring_printout(it: &PouringSheet, paper: Paper) -> Printout {
    let number = it.panel.number;
    let title = format!("Panel {number}: what is poured");
    let mut flow = Flow::new(&title, paper, &format!("{title} (not for tasters)"));
    flow.title(&title);
    flow.warned(&format!("Not for tasters. {READER}"));
    flow.warned(&panel_care(&it.allergens));
    flow.heading("Needed");
    let columns = [Column::numbers("", 24.0), Column::of("", 120.0)];
    let needed = it.needed.iter();
    let needed = needed.map(|(mark, ml)| vec![litres(*ml), mark.to_string()]);
    flow.table(&columns, &needed.collect::<Vec<_>>(), TEXT);
    flow.gap(1.0);
    flow.paragraph(
        "Take 50 mL more of each, since some stays in the jug.",
        TEXT,
    );
    print_glasses(&mut flow, it);
    flow.heading("In which order, from left to right");
    print_orders(&mut flow, it);
    flow.heading("How");
    for step in POURING {
        flow.listed(step, TEXT);
    }
    Printout {
        title,
        sheets: flow.finish(),
    }
}

/// What goes into which glass, by code.
fn print_glasses(flow: &mut Flow, it: &PouringSheet) {
    flow.heading("What goes into which glass");
    let columns = [
        Column::of("glass", 24.0),
        Column::numbers("each", 20.0),
        Column::of("beer", 110.0),
    ];
    let each = format!("{:.0} mL", it.panel.glass.get());
    let glasses = it.glasses.iter().map(|of| {
        let code = format!("☐ {}", of.code);
        vec![code, each.clone(), of.beer.to_string()]
    });
    flow.table(&columns, &glasses.collect::<Vec<_>>(), TEXT);
}

/// Everybody's codes, a column for each place in the row.
fn print_orders(flow: &mut Flow, it: &PouringSheet) {
    let most = it.orders.iter().map(|it| it.1.len()).max().unwrap_or(1);
    let names = 56.0;
    let each = ((flow.width() - names) / most as f64).min(16.0);
    let mut columns = vec![Column::of("taster", names)];
    columns.extend((1..=most).map(|at| Column::of(&at.to_string(), each)));
    let orders = it.orders.iter().map(|(name, codes)| {
        let codes = codes.iter().map(BlindingCode::to_string);
        std::iter::once(name.to_string()).chain(codes).collect()
    });
    flow.table(&columns, &orders.collect::<Vec<Vec<String>>>(), TEXT);
}

/// One taster's pages; nothing on them tells what is in a glass.
fn ballot(it: &PouringSheet, name: &str, codes: &[BlindingCode], paper: Paper) -> Vec<Sheet> {
    let under = format!("Panel {}", it.panel.number);
    let foot = format!("{name} · {under}");
    let mut flow = Flow::new(&foot, paper, &foot);
    head(&mut flow, Some(name), &under);
    flow.warned(&panel_care(&it.allergens));
    let how = format!("Taste in the order of this sheet. {HOW}");
    flow.paragraph(&how, TEXT);
    for code in codes {
        glass_form(&mut flow, &format!("Glass {code}"), it.panel.form);
    }
    flow.finish()
}

/// A sheet to taste a glass by hand, for cap marks or for a glass without a name.
pub(super) fn print_tasting(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    let allergens = home.joined_allergens()?;
    let marks: Vec<Option<&str>> = match asked.of.as_slice() {
        [] => vec![None],
        marks => marks.iter().map(|it| Some(it.as_str())).collect(),
    };
    let sheets = marks
        .into_iter()
        .flat_map(|mark| tasting_sheet(mark, asked, &allergens));
    Ok(Printout {
        title: "Tasting sheet".to_owned(),
        sheets: sheets.collect(),
    })
}

fn tasting_sheet(mark: Option<&str>, asked: &PrintAsked, allergens: &str) -> Vec<Sheet> {
    let glass = mark.map_or("Glass: ____________".to_owned(), |it| {
        format!("Glass: {it}")
    });
    // Sheets of several glasses are handed out and gathered together, so every page says whose it is.
    let whose = [mark, asked.taster.as_deref()].into_iter().flatten();
    let foot = std::iter::once("Tasting sheet").chain(whose);
    let foot = foot.collect::<Vec<_>>().join(" · ");
    let mut flow = Flow::new(&foot, asked.paper, &foot);
    head(&mut flow, asked.taster.as_deref(), "Tasting sheet");
    flow.warned(&panel_care(allergens));
    flow.paragraph(HOW, TEXT);
    if let Some(mark) = mark {
        let mark = typed_word(mark);
        let later = format!("To type it in, question by question: thirdglass taste {mark}");
        flow.paragraph(&later, SMALL);
    }
    glass_form(&mut flow, &glass, Form::Full);
    flow.finish()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::printed_texts;

    #[test]
    fn every_page_of_a_tasting_sheet_says_of_which_glass_and_whose_it_is() {
        let mut home = Home::trial_with_a_batch();
        let of = vec!["T1".to_owned(), "Barn".to_owned()];
        let mut asked = PrintAsked::of(of, Paper::A4);
        asked.taster = Some("Ana".to_owned());
        let printout = print_tasting(&mut home, &asked).unwrap();
        for mark in ["T1", "Barn"] {
            let foot = format!("Tasting sheet · {mark} · Ana");
            let pages = printout.sheets.iter().map(printed_texts);
            let pages = pages.filter(|it| it.contains(&foot.as_str()));
            assert_eq!(pages.count(), printout.sheets.len() / 2, "{mark}");
        }
    }
}
