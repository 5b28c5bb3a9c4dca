//! The command that tells what to brew next, and writes it.

use std::path::PathBuf;

use clap::Args;

use crate::cli::CliError;
use crate::cli::json_keys::NEXT_EXAMPLES;
use crate::cli::json_keys::next_help;
use crate::cli::run::CELLS;
use crate::cli::run::Streams;
use crate::cli::run::print;
use crate::cli::run::print_json;
use crate::reports;
use crate::reports::NextDetail;
use crate::workflow::AskedWishes;
use crate::workflow::Bounds;
use crate::workflow::Home;
use crate::workflow::MostChanges;
use crate::workflow::NextRecipe;
use crate::workflow::Supply;
use crate::workflow::VersionDraft;
use crate::workflow::read_amount;
use crate::workflow::read_bounds;
use crate::workflow::read_finest;
use crate::workflow::typed_word;

/// What to brew next after a batch.
#[derive(Debug, Args)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a switch that is typed or not"
)]
#[command(after_help = NEXT_EXAMPLES, after_long_help = next_help())]
pub struct NextAsked {
    /// The cap mark.
    pub batch: String,
    /// Every hope, everything that moves, every test.
    #[arg(long)]
    pub all: bool,
    /// An ingredient that is to stay as it is; may be given several times.
    #[arg(long, value_name = "NAME")]
    pub lock: Vec<String>,
    /// An ingredient that is not to be in it; may be given several times.
    #[arg(long, value_name = "NAME")]
    pub forbid: Vec<String>,
    /// Only what the larder says is at home; `thirdglass larder` shows it, and how it is written.
    #[arg(long)]
    pub at_home: bool,
    /// Alcohol, % vol, from and to.
    #[arg(long, value_name = "FROM-TO", value_parser = read_bounds)]
    pub alcohol: Option<Bounds>,
    /// Bitterness, IBU, from and to.
    #[arg(long, value_name = "FROM-TO", value_parser = read_bounds)]
    pub bitterness: Option<Bounds>,
    /// Colour, EBC, from and to.
    #[arg(long, value_name = "FROM-TO", value_parser = read_bounds)]
    pub colour: Option<Bounds>,
    /// What the ingredients may cost at most, by the prices of the larder.
    #[arg(long, value_name = "MONEY", value_parser = read_amount)]
    pub cost: Option<f64>,
    /// Litres of the next brew, if it is not as much as before.
    #[arg(long, value_name = "LITRES", value_parser = read_amount)]
    pub litres: Option<f64>,
    /// The finest step your scale weighs, in grams.
    #[arg(long, value_name = "GRAMS", default_value = "0.1", value_parser = read_finest)]
    pub scale: f64,
    /// How many changes at most.
    #[arg(long, value_name = "NUMBER", default_value_t = 3, value_parser = clap::value_parser!(u8).range(1..=3))]
    pub changes: u8,
    /// Friends at the table of the blind test.
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u32).range(1..=60))]
    pub friends: Option<u32>,
    /// Show the new version beside the old one; writes nothing.
    #[arg(long)]
    pub diff: bool,
    /// Write the new version into this file; it must not exist yet.
    #[arg(long, value_name = "FILE", conflicts_with_all = ["diff", "json"])]
    pub write: Option<PathBuf>,
    /// Which proposal to show or write, counted from 1.
    #[arg(long, value_name = "NUMBER", default_value_t = 1, value_parser = clap::value_parser!(u8).range(1..=3))]
    pub take: u8,
    /// As JSON.
    #[arg(long, conflicts_with = "diff")]
    pub json: bool,
}

impl NextAsked {
    fn wishes(&self) -> AskedWishes {
        AskedWishes {
            strength: self.alcohol,
            bitterness: self.bitterness,
            colour: self.colour,
            cost: self.cost,
            litres: self.litres,
            locked: self.lock.clone(),
            forbidden: self.forbid.clone(),
            supply: if self.at_home {
                Supply::AtHome
            } else {
                Supply::Anything
            },
            finest: self.scale,
            most: MostChanges::new(usize::from(self.changes)).unwrap_or(MostChanges::Three),
        }
    }

    fn detail(&self) -> NextDetail {
        if self.all {
            NextDetail::All
        } else {
            NextDetail::Short
        }
    }
}

pub(super) fn next(
    asked: &NextAsked,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    let next = home.next_recipe(&asked.batch, &asked.wishes(), asked.friends)?;
    if asked.json {
        return print_json(&reports::next_json(&next), streams);
    }
    if asked.diff {
        let draft = taken(asked, &next, home)?;
        return print(&reports::draft_lines(&draft, CELLS), streams);
    }
    if let Some(file) = &asked.write {
        let draft = taken(asked, &next, home)?;
        home.write_version(&next, &draft, file)?;
        print(&reports::draft_lines(&draft, CELLS), streams)?;
        let shown = file.display().to_string();
        writeln!(
            streams.output,
            "\nWritten: {shown}, version {}. When it is brewed: thirdglass batch add {}",
            draft.version,
            typed_word(&shown)
        )?;
        return Ok(());
    }
    print(&reports::next_lines(&next, asked.detail(), CELLS), streams)
}

fn taken(asked: &NextAsked, next: &NextRecipe, home: &Home) -> Result<VersionDraft, CliError> {
    Ok(home.draft_numbered(next, usize::from(asked.take))?)
}
