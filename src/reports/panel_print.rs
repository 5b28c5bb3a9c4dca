//! The sheets of a panel on paper: what is poured, a ballot for each taster, and a sheet for any glass.

use crate::domain::BlindingCode;
use crate::domain::Form;
use crate::drawing::Column;
use crate::drawing::Flow;
use crate::drawing::Paper;
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
use crate::workflow::WorkflowError;

/// What goes into which glass of a panel; a taster who reads it is marked.
pub(super) fn print_pouring(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    let sheet = home.read_pouring_sheet(number(asked)?, asked.reader.as_deref())?;
    Ok(pouring_printout(&sheet, asked.paper))
}

/// The ballots of a panel, of everybody or of one taster.
pub(super) fn print_ballots(home: &mut Home, asked: &PrintAsked) -> Result<Printout, PrintRefused> {
    let number = number(asked)?;
    let sheet = home.pouring_sheet(number)?;
    let only = match &asked.taster {
        Some(name) => {
            let table = home.panel_table(number)?;
            let person = table.person(name).map_err(WorkflowError::from)?;
            Some(person.taster.name.clone())
        }
        None => None,
    };
    let wanted = sheet.orders.iter();
    let wanted = wanted.filter(|it| only.as_ref().is_none_or(|name| *name == it.0));
    let sheets = wanted.flat_map(|(name, codes)| ballot(&sheet, name.as_str(), codes, asked.paper));
    Ok(Printout {
        title: format!("Panel {number}: ballots"),
        sheets: sheets.collect(),
    })
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
    flow.heading("In which order, from left to right");
    let columns = [
        Column::of("taster", 56.0),
        Column::of("codes", flow.width() - 56.0),
    ];
    let orders = it.orders.iter();
    let orders = orders.map(|(name, codes)| vec![name.to_string(), codes_words(codes)]);
    flow.table(&columns, &orders.collect::<Vec<_>>(), TEXT);
    flow.heading("How");
    for step in POURING {
        flow.listed(step, TEXT);
    }
    Printout {
        title,
        sheets: flow.finish(),
    }
}

fn codes_words(codes: &[BlindingCode]) -> String {
    let codes: Vec<String> = codes.iter().map(BlindingCode::to_string).collect();
    codes.join("   ")
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
    let foot = mark.map_or("Tasting sheet".to_owned(), |it| {
        format!("{it} · it is typed in question by question: thirdglass taste {it}")
    });
    let mut flow = Flow::new("Tasting sheet", asked.paper, &foot);
    head(&mut flow, asked.taster.as_deref(), "A glass by hand");
    flow.warned(&panel_care(allergens));
    flow.paragraph(HOW, TEXT);
    glass_form(&mut flow, &glass, Form::Full);
    flow.finish()
}
