//! The commands as typed, with an example in every help text.

use std::path::PathBuf;

use clap::Args;
use clap::Parser;
use clap::Subcommand;

use crate::cli::BlindCommand;
use crate::cli::HomeCommand;
use crate::cli::PanelCommand;
use crate::cli::PhotoCommand;
use crate::cli::PrintCommand;
use crate::cli::RemoveCommand;
use crate::cli::RemovedAsked;
use crate::cli::SettingsAsked;
use crate::cli::ShellCommand;
use crate::cli::convert_command::Convert;
use crate::cli::json_keys::HISTORY_EXAMPLES;
use crate::cli::json_keys::PREDICT_EXAMPLES;
use crate::cli::json_keys::history_help;
use crate::cli::json_keys::predict_help;
use crate::cli::next_command::NextAsked;
use crate::cli::practice_command::Practice;
use crate::cli::print_run::sheet_parser;
use crate::cli::shape_line::with_shape_lines;
use crate::cli::taster_command::TasterCommand;
use crate::domain::ENTRY_KINDS;
use crate::domain::SheetSize;

/// Taste what you brewed in good order, and find out what is really there.
#[derive(Debug, Parser)]
#[command(
    name = "thirdglass",
    version,
    about = "Taste what you brewed in good order, and find out what is really there.",
    after_help = "Without a command the app opens.\n\nExamples:\n  thirdglass --demo\n  thirdglass recipe check stout.toml\n  thirdglass taste HD1 --taster Ana",
    mut_subcommands(with_shape_lines)
)]
pub struct Arguments {
    /// Keep everything in this folder instead of the user's data folder.
    #[arg(long, global = true, value_name = "DIR")]
    pub home: Option<PathBuf>,
    /// Work on a throw-away copy of an invented kitchen.
    #[arg(long, global = true, conflicts_with = "home")]
    pub demo: bool,
    /// What to do; the app opens if nothing is said.
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Write, check and predict recipes, and tell their history.
    #[command(
        subcommand,
        after_help = "Example:\n  thirdglass recipe new stout.toml"
    )]
    Recipe(RecipeCommand),
    /// Add, list, show and log batches.
    #[command(
        subcommand,
        after_help = "Example:\n  thirdglass batch add stout.toml --mark S1"
    )]
    Batch(BatchCommand),
    /// Taste a beer, from the first sniff to the lock.
    Taste(Taste),
    /// Set the plan beside the locked notes.
    Compare(Compare),
    /// Tell what to brew next after a batch, and write it as a new version of its recipe.
    Next(NextAsked),
    /// Show what is at home, as the larder file says; what to brew next can keep to it.
    #[command(
        after_help = "Examples:\n  thirdglass larder\n  thirdglass larder --example\n  thirdglass larder --json"
    )]
    Larder {
        /// Print a larder file to begin with instead.
        #[arg(long, conflicts_with = "json")]
        example: bool,
        /// As JSON.
        #[arg(long)]
        json: bool,
    },
    /// Settle blind whether two beers can be told apart.
    #[command(
        subcommand,
        after_help = "Example:\n  thirdglass blind size --friends 7"
    )]
    Blind(BlindCommand),
    /// Taste several beers with several people, under codes.
    #[command(
        subcommand,
        after_help = "Example:\n  thirdglass panel plan S1 S2 P3 --tasters \"Ana, Ben, Cleo\""
    )]
    Panel(PanelCommand),
    /// Practise words and jars, and learn how far to trust your nose.
    Practice(Practice),
    /// Print sheets, labels, cards and reports, as PDF or SVG.
    Print(PrintCommand),
    /// Add, list, measure, rename, export and forget tasters.
    #[command(subcommand, after_help = "Example:\n  thirdglass taster add Ana")]
    Taster(TasterCommand),
    /// Show the settings of this kitchen, or make a file of them to change.
    #[command(
        after_help = "Examples:\n  thirdglass settings\n  thirdglass settings --write\n  thirdglass settings --example"
    )]
    Settings(SettingsAsked),
    /// Print completions for a shell, or write man pages.
    #[command(
        subcommand,
        hide = true,
        alias = "completions",
        after_help = "Example:\n  thirdglass shell complete fish"
    )]
    Shell(ShellCommand),
    /// Take everything of this home out, and in again.
    #[command(
        subcommand,
        after_help = "Example:\n  thirdglass home export kitchen.zip"
    )]
    Home(HomeCommand),
    /// Keep photographs of the glass, the label or a paper sheet with a beer.
    #[command(
        subcommand,
        after_help = "Example:\n  thirdglass photo add S1 glass.jpg --of glass"
    )]
    Photo(PhotoCommand),
    /// Remove what was entered by mistake; for thirty days it can be brought back.
    #[command(subcommand, after_help = "Example:\n  thirdglass remove batch S1")]
    Remove(RemoveCommand),
    /// List what was removed, bring it back, or throw it out for good.
    #[command(
        after_help = "Examples:\n  thirdglass removed\n  thirdglass removed --bring-back 3\n  thirdglass removed --for-good 3"
    )]
    Removed(RemovedAsked),
    /// Look at the wheel of words.
    #[command(
        subcommand,
        after_help = "Example:\n  thirdglass wheel show \"bread crust\""
    )]
    Wheel(WheelCommand),
}

/// What to do with a recipe.
#[derive(Debug, Subcommand)]
pub enum RecipeCommand {
    /// Ask ten plain questions and write a recipe file; "don't know" is always an answer.
    #[command(after_help = "Example:\n  thirdglass recipe new stout.toml")]
    New {
        /// The file to write; it must not exist yet.
        file: PathBuf,
    },
    /// Report every problem of a recipe file at once.
    #[command(after_help = "Example:\n  thirdglass recipe check stout.toml")]
    Check {
        /// The recipe file; --example shows a complete one.
        #[arg(required_unless_present = "example")]
        file: Option<PathBuf>,
        /// Print one complete, commented recipe file instead.
        #[arg(long, conflicts_with = "file")]
        example: bool,
    },
    /// Compute gravity, alcohol, bitterness, colour, gas and energy, and how the beer should taste.
    #[command(after_help = PREDICT_EXAMPLES, after_long_help = predict_help())]
    Predict {
        /// The recipe file.
        file: PathBuf,
        /// One line taken apart: a scale or a shelf by its name or id.
        #[arg(long, value_name = "LINE")]
        why: Option<String>,
        /// As it will be after so many weeks in the bottle at 20 °C, instead of just ready.
        #[arg(long, value_name = "WEEKS", value_parser = clap::value_parser!(u16).range(0..=520))]
        weeks: Option<u16>,
        /// Beside it as this taster would note it, by what their notes on other batches taught.
        #[arg(long, value_name = "NAME", conflicts_with = "why")]
        taster: Option<String>,
        /// As JSON.
        #[arg(long)]
        json: bool,
    },
    /// Take a recipe from BeerXML 1.0 or BeerJSON into a recipe file of ours, or from ours into BeerJSON.
    Convert(Convert),
    /// Tell the versions of a recipe: what changed, what was promised of it, and what came of it.
    #[command(after_help = HISTORY_EXAMPLES, after_long_help = history_help())]
    History {
        /// The name of the recipe; any version of it will do, whatever it was called then.
        #[arg(required = true)]
        name: Vec<String>,
        /// As a document instead of text.
        #[command(flatten)]
        document: Document,
    },
}

/// What to do with batches.
#[derive(Debug, Subcommand)]
pub enum BatchCommand {
    /// Add a batch of a recipe file; what it hopes for is frozen with today's date.
    #[command(after_help = "Example:\n  thirdglass batch add stout.toml --mark S1")]
    Add {
        /// The recipe file.
        recipe: PathBuf,
        /// What is written on the caps; drawn from the name if left out.
        #[arg(long, value_name = "MARK")]
        mark: Option<String>,
    },
    /// List batches, how long they have conditioned, and whether the kind is usually ready.
    #[command(after_help = "Example:\n  thirdglass batch list")]
    List {
        /// As JSON.
        #[arg(long)]
        json: bool,
    },
    /// Show a batch with its log and its figures.
    #[command(after_help = "Example:\n  thirdglass batch show S1")]
    Show {
        /// The cap mark.
        batch: String,
        /// As JSON.
        #[arg(long)]
        json: bool,
    },
    /// Show how a batch changed over the weeks, by notes of several days and the noise of its tasters.
    #[command(
        after_help = "Examples:\n  thirdglass batch weeks S1\n  thirdglass batch weeks S1 --taster Ana"
    )]
    Weeks(WeeksOf),
    /// Write into the log of a batch.
    #[command(
        after_help = log_help()
    )]
    Log {
        /// The cap mark.
        batch: String,
        /// What to log: one of the kinds listed below.
        kind: String,
        /// The value; several words are joined.
        #[arg(required = true)]
        value: Vec<String>,
    },
}

/// A beer over the weeks.
#[derive(Debug, Args)]
pub struct WeeksOf {
    /// The cap mark.
    pub batch: String,
    /// The notes of this taster only.
    #[arg(long, value_name = "NAME")]
    pub taster: Option<String>,
    /// As JSON.
    #[arg(long)]
    pub json: bool,
}

/// Examples, and every kind of entry with its unit.
fn log_help() -> String {
    let kinds: Vec<String> = ENTRY_KINDS
        .iter()
        .map(|it| {
            let unit = it.measure.unit_names().first().copied().unwrap_or_default();
            format!("  {:<25} {} {unit}", it.id, it.example)
        })
        .map(|line| line.trim_end().to_owned())
        .collect();
    format!(
        "Examples:\n  thirdglass batch log S1 original-gravity 1.052\n  \
         thirdglass batch log S1 packaged 2026-03-28\n  \
         thirdglass batch log S1 note slow lauter, hot sparge\n  \
         thirdglass batch log S1 intent stout.toml\n\n\
         Kinds, each with a value as it may be written (the unit may be left out):\n{}",
        kinds.join("\n")
    )
}

/// A tasting.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  thirdglass taste S1 --taster Ana\n  thirdglass taste S1 S2 --taster Ana\n  thirdglass taste --plain S1 --taster Ana < answers.txt"
)]
pub struct Taste {
    /// What is written on the bottle; asked for if left out. It need not be known yet.
    pub batch: Option<String>,
    /// Another bottle, to be tasted beside the first under codes.
    pub other: Option<String>,
    /// Who is tasting; asked for if left out.
    #[arg(long, value_name = "NAME")]
    pub taster: Option<String>,
    /// Line by line, for screen readers and scripts.
    #[arg(long)]
    pub plain: bool,
}

/// A comparison.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  thirdglass compare S1\n  thirdglass compare S1 --all\n  thirdglass compare S1 --taster Ana --json\n  thirdglass compare S1 --markdown\n  thirdglass compare S1 --svg s1.svg\n  thirdglass compare S1 S2"
)]
pub struct Compare {
    /// The cap mark.
    pub batch: String,
    /// Another bottle, to hold the first against it; neither needs a recipe.
    #[arg(conflicts_with_all = ["taster", "all", "markdown", "break_seal"])]
    pub other: Option<String>,
    /// The notes of this taster only.
    #[arg(long, value_name = "NAME")]
    pub taster: Option<String>,
    /// Every line with what it rests on, and who said what.
    #[arg(long)]
    pub all: bool,
    /// The picture alone into this file, as SVG; it must not exist yet.
    #[arg(long, value_name = "FILE", conflicts_with_all = ["json", "markdown"])]
    pub svg: Option<PathBuf>,
    /// As a document instead of text.
    #[command(flatten)]
    pub document: Document,
    /// Open the plan although somebody is still tasting; their notes carry that mark for ever.
    #[arg(long)]
    pub break_seal: bool,
}

/// The kinds of document that a comparison or a history can be.
#[derive(Debug, Args)]
#[group(multiple = false)]
pub struct Document {
    /// As JSON.
    #[arg(long)]
    pub json: bool,
    /// As Markdown, to keep beside the recipe.
    #[arg(long)]
    pub markdown: bool,
}

/// What to do with the wheel.
#[derive(Debug, Subcommand)]
pub enum WheelCommand {
    /// List all words by place and shelf.
    #[command(after_help = "Example:\n  thirdglass wheel list")]
    List {
        /// As JSON.
        #[arg(long)]
        json: bool,
    },
    /// Show a word: what it is like, its look-alikes, its jar.
    #[command(after_help = "Example:\n  thirdglass wheel show \"bread crust\"")]
    Show {
        /// The word; misspelt is fine.
        #[arg(required = true)]
        word: Vec<String>,
        /// As JSON.
        #[arg(long)]
        json: bool,
    },
    /// The scales: everyday examples for each, and what to mix in a kitchen to learn them.
    #[command(after_help = "Example:\n  thirdglass wheel scales")]
    Scales {
        /// As JSON.
        #[arg(long)]
        json: bool,
    },
    /// Draw the wheel as a poster to print: every place, shelf and word on one sheet.
    Draw(Draw),
    /// Report every problem of the built-in words and of your own.
    #[command(
        after_help = "Example:\n  thirdglass wheel check\n\nYour own words stand in the folder descriptors of your home."
    )]
    Check,
}

/// A poster.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  thirdglass wheel draw --pdf wheel.pdf\n  thirdglass wheel draw --taster Ana --svg ana.svg --paper letter\n  thirdglass wheel draw --batch S1 --svg s1.svg\n\nIt is read in grey too."
)]
pub struct Draw {
    /// The file to write, as SVG; it must not exist yet.
    #[arg(long, value_name = "FILE", required_unless_present = "pdf")]
    pub svg: Option<PathBuf>,
    /// The file to write, as PDF; it must not exist yet.
    #[arg(long, value_name = "FILE", conflicts_with = "svg")]
    pub pdf: Option<PathBuf>,
    /// Darken what was named in the locked notes on this beer.
    #[arg(long, value_name = "MARK", conflicts_with = "taster")]
    pub batch: Option<String>,
    /// Darken what this taster has named so far; hit rates stand in: practice record.
    #[arg(long, value_name = "NAME")]
    pub taster: Option<String>,
    /// The sheet; what the settings say if left out, A4 unless changed.
    #[arg(long, value_parser = sheet_parser())]
    pub paper: Option<SheetSize>,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_help_of_the_log_lists_every_kind_and_its_example_can_be_logged() {
        let help = log_help();
        for kind in ENTRY_KINDS {
            let begins = format!("  {} ", kind.id);
            let line = help.lines().find(|it| it.starts_with(&begins)).unwrap();
            let value = line.strip_prefix(&begins).unwrap();
            assert!(kind.read(value).is_ok(), "{line}");
            for unit in kind.measure.unit_names().iter().take(1) {
                assert!(value.ends_with(unit), "{line}");
            }
        }
    }
}
