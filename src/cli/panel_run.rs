//! From the typed commands of panels to their verbs, their reports and the app.

use crate::cli::CliError;
use crate::cli::Outcome;
use crate::cli::PanelCommand;
use crate::cli::Streams;
use crate::cli::blind_run::poured;
use crate::cli::panel_command::PanelBallots;
use crate::cli::panel_command::PanelPlan;
use crate::cli::panel_command::PanelResultOf;
use crate::cli::panel_command::PanelSheet;
use crate::cli::panel_command::PanelTalkOf;
use crate::cli::panel_command::PanelTaste;
use crate::cli::panel_command::PanelTell;
use crate::cli::print_run::taster_reads;
use crate::cli::run::CELLS;
use crate::cli::run::line_by_line;
use crate::cli::run::print;
use crate::cli::run::print_json;
use crate::domain::Form;
use crate::domain::NotesSource;
use crate::domain::Settings;
use crate::drawing::Line;
use crate::reports;
use crate::reports::TalkNames;
use crate::screens::App;
use crate::screens::OnePanelScreen;
use crate::screens::PanelTurnScreen;
use crate::screens::Screen;
use crate::screens::StartScreen;
use crate::workflow::Closing;
use crate::workflow::Home;
use crate::workflow::PanelPhase;
use crate::workflow::PanelPourer;
use crate::workflow::PanelRequest;
use crate::workflow::PanelRound;
use crate::workflow::TypedFrom;
use crate::workflow::WorkflowError;

/// Does what the arguments ask for.
pub(super) fn panel(
    command: PanelCommand,
    mut home: Home,
    streams: &mut Streams<'_>,
) -> Result<Outcome, CliError> {
    let asked = match command {
        PanelCommand::Taste(asked) => return taste(&asked, home, streams),
        other => other,
    };
    let home = &mut home;
    match asked {
        // Above: it takes the home with it into the app.
        PanelCommand::Taste(_) => {}
        PanelCommand::Plan(asked) => plan(&asked, home, streams)?,
        PanelCommand::List { json: true } => {
            print_json(&reports::panels_json(&home.panel_tables()?), streams)?;
        }
        PanelCommand::List { json: false } => {
            print(
                &reports::panels_lines(&home.panel_tables()?, CELLS),
                streams,
            )?;
        }
        PanelCommand::Sheet(asked) => sheet(&asked, home, streams)?,
        PanelCommand::Ballots(asked) => ballots(&asked, home, streams)?,
        PanelCommand::Talk(asked) => talk(&asked, home, streams)?,
        PanelCommand::Tell(asked) => tell(&asked, home, streams)?,
        PanelCommand::Result(asked) => result(&asked, home, streams)?,
    }
    Ok(Outcome::Done(0))
}

/// The panel that is meant: the newest where none is named.
fn number(asked: Option<u32>, home: &Home) -> Result<u32, WorkflowError> {
    asked.map_or_else(|| home.latest_panel(), Ok)
}

fn plan(asked: &PanelPlan, home: &mut Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let request = request(asked, home.settings())?;
    let draft = home.draft_panel(&request)?;
    let planned = if asked.only_try {
        None
    } else {
        Some(home.plan_panel(&request)?.number)
    };
    if asked.json {
        return print_json(&reports::panel_draft_json(&draft, planned), streams);
    }
    let mut lines = reports::panel_draft_lines(&draft, CELLS);
    if let Some(number) = planned {
        lines.push(Line::blank());
        lines.extend(reports::panel_next_lines(number));
    }
    print(&lines, streams)
}

fn request(asked: &PanelPlan, settings: &Settings) -> Result<PanelRequest, WorkflowError> {
    let names = asked.tasters.iter().map(|it| it.trim());
    let tasters: Vec<String> = names
        .filter(|it| !it.is_empty())
        .map(str::to_owned)
        .collect();
    Ok(PanelRequest {
        beers: asked.beers.clone(),
        tasters,
        doubled: asked.doubled,
        glass: poured(asked.glass_ml, settings.panel_glass)?,
        form: Form::from_id(&asked.form)?,
        pourer: match &asked.poured_by {
            Some(name) => PanelPourer::Taster(name.trim().to_owned()),
            None => PanelPourer::SomebodyElse,
        },
    })
}

fn sheet(asked: &PanelSheet, home: &mut Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let number = number(asked.panel, home)?;
    let sheet =
        home.read_pouring_sheet(number, asked.reader.as_deref(), taster_reads(asked.yes))?;
    if asked.json {
        return print_json(&reports::pouring_json(&sheet), streams);
    }
    print(&reports::pouring_lines(&sheet, CELLS), streams)
}

fn ballots(asked: &PanelBallots, home: &Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let number = number(asked.panel, home)?;
    let sheet = home.pouring_sheet(number)?;
    let only = home.seated_name(number, asked.taster.as_deref())?;
    let wanted = sheet.orders.iter();
    let wanted = wanted.filter(|it| only.as_ref().is_none_or(|name| *name == it.0));
    for (at, (name, codes)) in wanted.enumerate() {
        if at > 0 {
            // A printer begins a new sheet here.
            writeln!(streams.output, "\n{}\n", "-".repeat(CELLS))?;
        }
        print(
            &reports::panel_ballot_lines(&sheet, name, codes, CELLS),
            streams,
        )?;
    }
    Ok(())
}

fn talk(asked: &PanelTalkOf, home: &Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let talk = home.panel_talk(number(asked.panel, home)?)?;
    let names = [TalkNames::Hidden, TalkNames::Shown][usize::from(asked.names)];
    if asked.json {
        return print_json(&reports::panel_talk_json(&talk, names), streams);
    }
    print(&reports::panel_talk_lines(&talk, names, CELLS), streams)
}

fn tell(asked: &PanelTell, home: &mut Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let number = number(asked.panel, home)?;
    let telling = [Closing::Complete, Closing::Early][usize::from(asked.early)];
    home.tell_panel(number, telling)?;
    writeln!(streams.output, "Told. In the glasses of panel {number}:")?;
    for glass in home.pouring_sheet(number)?.glasses {
        let line = Line::plain(format!("  {}  {}", glass.code, glass.beer));
        print(&[line], streams)?;
    }
    let next = "What it found: thirdglass panel result";
    Ok(writeln!(streams.output, "{next} {number}")?)
}

fn result(asked: &PanelResultOf, home: &Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let number = number(asked.panel, home)?;
    if let Some(name) = &asked.taster {
        let own = home.panel_own_page(number, name)?;
        if asked.json {
            return print_json(&reports::panel_own_json(&own), streams);
        }
        return print(&reports::panel_own_lines(&own, CELLS), streams);
    }
    let found = home.panel_result(number)?;
    if asked.json {
        return print_json(&reports::panel_result_json(&found), streams);
    }
    print(&reports::panel_result_lines(&found, CELLS), streams)
}

fn taste(asked: &PanelTaste, home: Home, streams: &mut Streams<'_>) -> Result<Outcome, CliError> {
    let source = [NotesSource::App, NotesSource::Plain][usize::from(asked.plain)];
    let number = number(asked.panel, &home)?;
    let mut screens: Vec<Box<dyn Screen>> = vec![
        Box::new(StartScreen::new(source)),
        Box::new(OnePanelScreen::new(number, source, &home)?),
    ];
    if let Some(name) = &asked.taster {
        let round = match home.panel_table(number)?.phase() {
            PanelPhase::Talk => PanelRound::AfterTalk,
            PanelPhase::Tasting | PanelPhase::Told => PanelRound::Alone,
        };
        let turn = home.panel_turn(number, name, round)?;
        let from = TypedFrom::Glass(source);
        let screen = PanelTurnScreen::new(number, turn.taster.name, round, from);
        screens.push(Box::new(screen));
    }
    let app = App::new(home, screens);
    if !asked.plain {
        return Ok(Outcome::Open(Box::new(app)));
    }
    line_by_line(app, streams)?;
    Ok(Outcome::Done(0))
}
