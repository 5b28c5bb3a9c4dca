//! From the typed commands of blind tests to their verbs and reports.

use crate::cli::BlindCommand;
use crate::cli::CliError;
use crate::cli::Streams;
use crate::cli::blind_answer::answer;
use crate::cli::blind_command::Close;
use crate::cli::blind_command::Outcome;
use crate::cli::blind_command::Plan;
use crate::cli::blind_command::Sheet;
use crate::cli::blind_command::Size;
use crate::cli::picture_run::PICTURE_WIDTH;
use crate::cli::picture_run::write_pictures;
use crate::cli::run::CELLS;
use crate::cli::run::print;
use crate::cli::run::print_json;
use crate::domain::Abv;
use crate::domain::Aims;
use crate::domain::BeerSide;
use crate::domain::Millilitres;
use crate::domain::Pouring;
use crate::domain::Risk;
use crate::domain::Settings;
use crate::domain::Share;
use crate::domain::SheetKind;
use crate::domain::Stopping;
use crate::drawing::Picture;
use crate::reports;
use crate::workflow::Aim;
use crate::workflow::Alpha;
use crate::workflow::Beta;
use crate::workflow::BlindError;
use crate::workflow::Closing;
use crate::workflow::DPrime;
use crate::workflow::Effect;
use crate::workflow::Home;
use crate::workflow::Pd;
use crate::workflow::PlanRequest;
use crate::workflow::Table;
use crate::workflow::WorkflowError;
use crate::workflow::power_grid;
use crate::workflow::test_sizes;

/// Does what the arguments ask for.
pub(super) fn blind(
    command: BlindCommand,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    match command {
        BlindCommand::Size(size) => sizes(&size, home, streams),
        BlindCommand::Plan(asked) => plan(&asked, home, streams),
        BlindCommand::List { json } => {
            let tests = home.test_rows()?;
            if json {
                return print_json(&reports::tests_json(&tests), streams);
            }
            print(&reports::tests_lines(&tests, CELLS), streams)
        }
        BlindCommand::Sheet(asked) => sheet(&asked, home, streams),
        BlindCommand::Answer(given) => answer(&given, home, streams),
        BlindCommand::Close(asked) => close(&asked, home, streams),
        BlindCommand::Record { name, json } => {
            let record = home.test_record(&name)?;
            if json {
                return print_json(&reports::record_json(&record), streams);
            }
            print(&reports::record_lines(&record, CELLS), streams)
        }
        BlindCommand::Result(asked) => outcome(&asked, home, streams),
    }
}

fn close(asked: &Close, home: &mut Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let closing = if asked.early {
        Closing::Early
    } else {
        Closing::Complete
    };
    home.close_test(asked.test, closing)?;
    let next = "Closed. What it says: thirdglass blind result";
    Ok(writeln!(streams.output, "{next} {}", asked.test)?)
}

fn outcome(asked: &Outcome, home: &Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let result = home.test_result(asked.test)?;
    let pair = home.same_pair(asked.test)?;
    if asked.json {
        return print_json(&reports::result_json(&result, &pair), streams);
    }
    let extent = [reports::Extent::First, reports::Extent::All][usize::from(asked.all)];
    print(&reports::result_lines(&result, extent, CELLS), streams)?;
    print(&reports::pair_lines(&pair, CELLS), streams)
}

fn sheet(asked: &Sheet, home: &mut Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let kind = SheetKind::from_id(&asked.kind).map_err(WorkflowError::from)?;
    let sheet = home.sheet(asked.test, kind, asked.viewer.as_deref())?;
    if asked.json {
        return print_json(&reports::sheet_json(&sheet), streams);
    }
    let allergens = home.joined_allergens()?;
    print(&reports::sheet_lines(&sheet, &allergens, CELLS), streams)
}

fn sizes(size: &Size, home: &Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let aim = aim_of(size)?;
    let settings = home.settings();
    let table = Table {
        friends: size.friends,
        rounds: size.rounds,
        glass: poured(size.risks.ml, settings.blind_glass)?,
        abv: Abv::new(size.abv).map_err(WorkflowError::from)?,
    };
    let sizes = test_sizes(&size.risks.method, size.shows.purpose(), aim, table)
        .map_err(WorkflowError::from)?;
    if size.json {
        print_json(&reports::size_json(&sizes), streams)?;
    } else {
        let lines = reports::size_lines(&sizes, settings.standard_drink, CELLS);
        print(&lines, streams)?;
    }
    if let Some(file) = &size.svg {
        let grid = power_grid(sizes.method, aim);
        let title = format!("How often a difference is noticed: {}", sizes.method.name);
        let looked_at = [size.friends, Some(size.rounds)];
        let picture = reports::power_picture_of(&grid, looked_at).sheet(PICTURE_WIDTH);
        write_pictures(&title, &[picture], file, home, streams)?;
    }
    Ok(())
}

/// The risks and the difference that were asked for.
fn aim_of(size: &Size) -> Result<Aim, WorkflowError> {
    let refused = |it| WorkflowError::from(BlindError::Refused(it));
    let effect = match size.dprime {
        Some(distance) => Effect::DPrime(DPrime::new(distance).map_err(refused)?),
        None => Effect::Pd(Pd::new(size.risks.pd).map_err(refused)?),
    };
    Ok(Aim {
        alpha: Alpha::new(size.risks.alpha).map_err(refused)?,
        beta: Beta::new(size.risks.beta).map_err(refused)?,
        effect,
    })
}

fn plan(asked: &Plan, home: &mut Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let planned = home.plan_test(&request(asked, home.settings())?)?;
    let odds = planned.odds().map_err(WorkflowError::from)?;
    if asked.json {
        return print_json(&reports::plan_json(&planned, &odds), streams);
    }
    print(&reports::plan_lines(&planned, &odds, CELLS), streams)
}

/// What is poured into a glass: as was said, or else as settled.
pub(super) fn poured(
    asked: Option<f64>,
    settled: Millilitres,
) -> Result<Millilitres, WorkflowError> {
    Ok(asked.map(Millilitres::new).transpose()?.unwrap_or(settled))
}

fn request(asked: &Plan, settings: &Settings) -> Result<PlanRequest, WorkflowError> {
    let risks = &asked.risks;
    let expected = match &asked.expect {
        None => None,
        Some(mark) if mark.eq_ignore_ascii_case(&asked.one) => Some(BeerSide::A),
        Some(mark) if mark.eq_ignore_ascii_case(&asked.other) => Some(BeerSide::B),
        Some(mark) => {
            let asked = mark.chars().take(60).collect();
            return Err(BlindError::NotOfTheTwo { asked }.into());
        }
    };
    Ok(PlanRequest {
        beers: [asked.one.clone(), asked.other.clone()],
        method: risks.method.clone(),
        purpose: asked.shows.purpose(),
        aims: Aims {
            alpha: Risk::new(risks.alpha)?,
            beta: Risk::new(risks.beta)?,
            pd: Share::new(risks.pd)?,
        },
        attribute: asked.more.clone(),
        expected,
        places: asked.tasters,
        rounds: asked.rounds,
        stopping: Stopping::from_id(&asked.stop)?,
        pouring: Pouring::from_id(&asked.pour)?,
        glass: poured(risks.ml, settings.blind_glass)?,
        seed: asked.seed,
    })
}
