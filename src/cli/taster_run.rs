//! From the typed commands about tasters to their verbs and reports.

use crate::cli::CliError;
use crate::cli::Streams;
use crate::cli::picture_run::PICTURE_WIDTH;
use crate::cli::picture_run::SQUARE_WIDTH;
use crate::cli::picture_run::write_pictures;
use crate::cli::privacy_command;
use crate::cli::run::CELLS;
use crate::cli::run::print;
use crate::cli::run::print_json;
use crate::cli::taster_command::ImportOf;
use crate::cli::taster_command::ImportsOf;
use crate::cli::taster_command::MeasureOf;
use crate::cli::taster_command::ShowTaster;
use crate::cli::taster_command::TasterCommand;
use crate::drawing::Picture;
use crate::drawing::Sheet;
use crate::reports;
use crate::reports::ReadIn;
use crate::workflow::ChartKind;
use crate::workflow::Home;

/// Does what the arguments ask for.
pub(super) fn taster(
    command: TasterCommand,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    match command {
        TasterCommand::Add { name } => {
            let taster = home.add_taster(&name)?;
            writeln!(streams.output, "Added: {}.", taster.name)?;
        }
        TasterCommand::Show(asked) => show(&asked, home, streams)?,
        TasterCommand::Learnt { name, json } => {
            let learnt = home.learnt(&name)?;
            if json {
                return print_json(&reports::learnt_json(&learnt), streams);
            }
            print(&reports::learnt_lines(&learnt, CELLS), streams)?;
        }
        TasterCommand::Measure(asked) => measure(&asked, home, streams)?,
        TasterCommand::Import(asked) => import(&asked, home, streams)?,
        TasterCommand::Imports(asked) => imports(&asked, home, streams)?,
        TasterCommand::Rename(asked) => privacy_command::rename(&asked, home, streams)?,
        TasterCommand::Export(asked) => privacy_command::export(&asked, home, streams)?,
        TasterCommand::Forget(asked) => privacy_command::forget(&asked, home, streams)?,
        TasterCommand::List { json: true } => {
            let tasters = home.tasters()?;
            let names: Vec<&str> = tasters.iter().map(|it| it.name.as_str()).collect();
            let all = serde_json::json!({ "format": 1, "tasters": names });
            return print_json(&all, streams);
        }
        TasterCommand::List { json: false } => list_tasters(home, streams)?,
    }
    Ok(())
}

fn list_tasters(home: &Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let tasters = home.tasters()?;
    if tasters.is_empty() {
        writeln!(
            streams.output,
            "No taster yet. Add one with: thirdglass taster add NAME"
        )?;
    }
    for it in tasters {
        writeln!(streams.output, "{}", it.name)?;
    }
    Ok(())
}

/// Tells the page of a taster.
fn show(asked: &ShowTaster, home: &mut Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let kind = if asked.cusum {
        ChartKind::CumulativeSum
    } else {
        ChartKind::WeightedMean
    };
    let page = home.taster_page(&asked.name, kind)?;
    if asked.json {
        return print_json(&reports::taster_json(&page), streams);
    }
    print(&reports::taster_lines(&page, home.wheel(), CELLS), streams)?;
    if asked.all {
        writeln!(streams.output)?;
        print(&reports::taster_detail_lines(&page, CELLS), streams)?;
    }
    if let Some(file) = &asked.svg {
        let charts = reports::taster_charts_picture(&page.charts);
        let certainty = reports::certainty_picture(&page.confidence);
        let charts = charts.iter().map(|it| it.sheet(PICTURE_WIDTH));
        let certainty = certainty.map(|it| it.sheet(SQUARE_WIDTH));
        let pictures: Vec<Sheet> = charts.chain(certainty).collect();
        write_pictures(page.taster.name.as_str(), &pictures, file, home, streams)?;
    }
    Ok(())
}

/// Measures a panel whose ratings are kept elsewhere, or here.
fn measure(asked: &MeasureOf, home: &Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let measures = match &asked.file {
        Some(file) => home.panel_measures(file)?,
        None => home.own_measures()?,
    };
    if asked.json {
        return print_json(&reports::panel_json(&measures), streams);
    }
    print(&reports::panel_lines(&measures, CELLS), streams)
}

/// Reads a table in, or only looks it through.
fn import(asked: &ImportOf, home: &mut Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let (table, read) = if asked.look {
        (home.look_at_import(&asked.file)?, ReadIn::LookedAt)
    } else {
        (home.import_ratings(&asked.file)?, ReadIn::Kept)
    };
    if asked.json {
        return print_json(&reports::import_json(&table, read), streams);
    }
    print(&reports::import_lines(&table, read, CELLS), streams)
}

/// Lists the imports, or counts all again.
fn imports(asked: &ImportsOf, home: &mut Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    if asked.recount {
        let all = home.recount_imports()?;
        return print(&reports::recounted_lines(&all, CELLS), streams);
    }
    let all = home.imports()?;
    if asked.json {
        return print_json(&reports::imports_json(&all), streams);
    }
    print(&reports::imports_lines(&all, CELLS), streams)
}
