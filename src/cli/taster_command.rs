//! The commands about tasters as typed, with an example in every help text.

use std::path::PathBuf;

use clap::Args;
use clap::Subcommand;

use crate::cli::privacy_command::ExportTaster;
use crate::cli::privacy_command::ForgetTaster;
use crate::cli::privacy_command::RenameTaster;

/// What to do with tasters.
#[derive(Debug, Subcommand)]
pub enum TasterCommand {
    /// Add a taster.
    #[command(after_help = "Example:\n  thirdglass taster add Ana")]
    Add {
        /// The name; it need not be a real one.
        name: String,
    },
    /// Show how far a taster's notes can be trusted: what is solid, what is mostly borrowed, what to practise next.
    #[command(
        after_help = "Examples:\n  thirdglass taster show Ana\n  thirdglass taster show Ana --all\n  thirdglass taster show Ana --all --cusum\n  thirdglass taster show Ana --svg ana.svg\n  thirdglass taster show Ana --json"
    )]
    Show(ShowTaster),
    /// Show what predictions have learnt of a taster, and whether knowing it helps.
    #[command(
        after_help = "Examples:\n  thirdglass taster learnt Ana\n  thirdglass taster learnt Ana --json"
    )]
    Learnt {
        /// Whose notes.
        name: String,
        /// As JSON.
        #[arg(long)]
        json: bool,
    },
    /// Measure a panel: how far each taster can be trusted, and how far all agree. The ratings are those of a
    /// file kept elsewhere, of which nothing is kept, or the coded glasses of this home.
    #[command(after_help = PANEL_EXAMPLES)]
    Measure(MeasureOf),
    /// Read in a panel's ratings that were kept elsewhere, so that they count in what is measured of its
    /// tasters. All of the file, or nothing.
    #[command(after_help = IMPORT_EXAMPLES)]
    Import(ImportOf),
    /// List what was read in, take one away, or compute all sums over it again.
    #[command(
        after_help = "Examples:\n  thirdglass taster imports\n  thirdglass taster imports --recount"
    )]
    Imports(ImportsOf),
    /// Call a taster by another name on every screen and in every report; the old one is kept nowhere.
    Rename(RenameTaster),
    /// Write everything the file holds of a taster into a file of its own, for them to take away.
    Export(ExportTaster),
    /// Take a taster and everything of theirs out of the file, for good; first says what would go.
    Forget(ForgetTaster),
    /// List tasters.
    #[command(after_help = "Example:\n  thirdglass taster list")]
    List {
        /// As JSON.
        #[arg(long)]
        json: bool,
    },
}

/// A taster's page.
#[derive(Debug, Args)]
pub struct ShowTaster {
    /// Whose page.
    pub name: String,
    /// Every line with its measures, and the charts over time.
    #[arg(long)]
    pub all: bool,
    /// Charts as cumulative sums instead of weighted means.
    #[arg(long)]
    pub cusum: bool,
    /// The picture alone into this file, as SVG; it must not exist yet.
    #[arg(long, value_name = "FILE", conflicts_with = "json")]
    pub svg: Option<PathBuf>,
    /// As JSON.
    #[arg(long, conflicts_with = "all")]
    pub json: bool,
}

/// A table to measure.
#[derive(Debug, Args)]
pub struct MeasureOf {
    /// A table with commas and a head row; without one, the coded glasses of this home.
    pub file: Option<PathBuf>,
    /// As JSON.
    #[arg(long)]
    pub json: bool,
}

/// A table to read in.
#[derive(Debug, Args)]
pub struct ImportOf {
    /// A table with commas and a head row.
    pub file: PathBuf,
    /// Only look it through: every problem, who and what it holds. Nothing is read in.
    #[arg(long = "try")]
    pub look: bool,
    /// As JSON.
    #[arg(long)]
    pub json: bool,
}

/// What to do with imports.
#[derive(Debug, Args)]
pub struct ImportsOf {
    /// Compute every sum again from the ratings, and put right what differs.
    #[arg(long, conflicts_with = "json")]
    pub recount: bool,
    /// As JSON.
    #[arg(long)]
    pub json: bool,
}

/// What a table of ratings holds.
macro_rules! panel_columns {
    () => {
        "The head row names these columns, in any order; each row below is one answer:
  taster, sitting, sample  names
  replicate                1 for the first glass of a sample in a sitting, 2 for the same again
  date                     such as 2026-03-14
  line                     the scale or descriptor that was asked
  intensity, low, high     the answer and the ends of its scale
All problems of a file are told at once, each with its row and column."
    };
}

/// How a panel is measured, and what its file holds.
const PANEL_EXAMPLES: &str = concat!(
    "Examples:
  thirdglass taster measure
  thirdglass taster measure panel.csv
  thirdglass taster measure panel.csv --json

",
    panel_columns!()
);

/// How a panel's ratings are read in.
const IMPORT_EXAMPLES: &str = concat!(
    "Examples:
  thirdglass taster import panel.csv --try
  thirdglass taster import panel.csv

A line that bears the id or the word of a scale counts with that scale.

",
    panel_columns!()
);
