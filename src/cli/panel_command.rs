//! The commands of panels as typed.

use clap::Args;
use clap::Subcommand;

/// What to do with panels.
#[derive(Debug, Subcommand)]
pub enum PanelCommand {
    /// Plan a panel: codes and orders are drawn, and its beers are sealed until it is told.
    #[command(
        after_help = "Examples:\n  thirdglass panel plan S1 S2 P3 --tasters \"Ana, Ben, Cleo\" --try\n  thirdglass panel plan S1 S2 P3 --tasters \"Ana, Ben, Cleo\" --doubled 1 --form short\n  thirdglass panel plan S1 S2 --tasters \"Ana, Ben\" --poured-by Ben"
    )]
    Plan(PanelPlan),
    /// List all panels.
    #[command(after_help = "Example:\n  thirdglass panel list")]
    List {
        /// As JSON.
        #[arg(long)]
        json: bool,
    },
    /// What goes into which glass; who reads it knows the key.
    #[command(
        after_help = "Examples:\n  thirdglass panel sheet 2 --reader Hob\n  thirdglass panel sheet 2 --reader Hob --json\n\nWho reads it knows the key. A taster of the panel may read it, and is then counted only where nobody else tastes; once it was told what was in the glasses, anybody may."
    )]
    Sheet(PanelSheet),
    /// Sheets of paper: each glass by its code, in the order of each taster.
    #[command(
        after_help = "Examples:\n  thirdglass panel ballots 2\n  thirdglass panel ballots 2 --taster Ana"
    )]
    Ballots(PanelBallots),
    /// Open the app at a panel, for everybody in turn or for one taster.
    #[command(
        after_help = "Examples:\n  thirdglass panel taste\n  thirdglass panel taste 2 --taster Ana\n  thirdglass panel taste 2 --taster Ana --plain < answers.txt"
    )]
    Taste(PanelTaste),
    /// What was found, by code, once everybody is done.
    #[command(after_help = "Examples:\n  thirdglass panel talk\n  thirdglass panel talk 2 --names")]
    Talk(PanelTalkOf),
    /// Tell what was in the glasses, and end the tasting.
    #[command(after_help = "Examples:\n  thirdglass panel tell\n  thirdglass panel tell 2 --early")]
    Tell(PanelTell),
    /// What a panel found, beer by beer; with a name, that taster's own page.
    #[command(
        after_help = "Examples:\n  thirdglass panel result\n  thirdglass panel result 2 --json\n  thirdglass panel result 2 --taster Ana"
    )]
    Result(PanelResultOf),
}

/// A plan.
#[derive(Debug, Args)]
pub struct PanelPlan {
    /// The cap marks of the bottles, 2 to 10; they need not be known yet.
    #[arg(required = true, value_name = "BEER")]
    pub beers: Vec<String>,
    /// Who tastes, with commas between, 12 at most; new names are added.
    #[arg(long, value_name = "NAMES", value_delimiter = ',', required = true)]
    pub tasters: Vec<String>,
    /// How many beers are poured a second time under another code: 0, 1 or 2.
    #[arg(long, value_name = "COUNT", default_value_t = 0)]
    pub doubled: usize,
    /// Millilitres in one glass; what the settings say if left out, 60 unless changed.
    #[arg(long, value_name = "ML")]
    pub glass_ml: Option<f64>,
    /// How much is asked of each glass: full or short.
    #[arg(long, default_value = "full")]
    pub form: String,
    /// Who pours, if it is one of the tasters; somebody who does not taste pours otherwise.
    #[arg(long, value_name = "NAME")]
    pub poured_by: Option<String>,
    /// Only say what it costs; nothing is drawn or kept.
    #[arg(long = "try")]
    pub only_try: bool,
    /// As JSON.
    #[arg(long)]
    pub json: bool,
}

/// What is poured.
#[derive(Debug, Args)]
pub struct PanelSheet {
    /// The number of the panel; the newest if left out.
    pub panel: Option<u32>,
    /// Who reads it, as long as it was not told what is in the glasses.
    #[arg(long, value_name = "NAME")]
    pub reader: Option<String>,
    /// A taster of the panel reads it all the same, and is marked for ever.
    #[arg(long)]
    pub yes: bool,
    /// As JSON.
    #[arg(long)]
    pub json: bool,
}

/// The sheets of a panel.
#[derive(Debug, Args)]
pub struct PanelBallots {
    /// The number of the panel; the newest if left out.
    pub panel: Option<u32>,
    /// One taster's sheet alone.
    #[arg(long, value_name = "NAME")]
    pub taster: Option<String>,
}

/// A turn at a panel.
#[derive(Debug, Args)]
pub struct PanelTaste {
    /// The number of the panel; the newest if left out.
    pub panel: Option<u32>,
    /// Whose turn it is; the names are shown if left out.
    #[arg(long, value_name = "NAME")]
    pub taster: Option<String>,
    /// Line by line, for screen readers and scripts.
    #[arg(long)]
    pub plain: bool,
}

/// The talk of a panel.
#[derive(Debug, Args)]
pub struct PanelTalkOf {
    /// The number of the panel; the newest if left out.
    pub panel: Option<u32>,
    /// Say who stands apart.
    #[arg(long)]
    pub names: bool,
    /// As JSON.
    #[arg(long)]
    pub json: bool,
}

/// The end of a panel.
#[derive(Debug, Args)]
pub struct PanelTell {
    /// The number of the panel; the newest if left out.
    pub panel: Option<u32>,
    /// Although somebody is not done: it ends for them.
    #[arg(long)]
    pub early: bool,
}

/// What a panel found.
#[derive(Debug, Args)]
pub struct PanelResultOf {
    /// The number of the panel; the newest if left out.
    pub panel: Option<u32>,
    /// The page that only this taster is to see.
    #[arg(long, value_name = "NAME")]
    pub taster: Option<String>,
    /// As JSON.
    #[arg(long)]
    pub json: bool,
}
