//! The commands of practice as typed.

use clap::Args;
use clap::Subcommand;

/// Practise, or look at what practice says.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  thirdglass practice\n  thirdglass practice words --taster Ana\n  thirdglass practice record Ana --all"
)]
pub struct Practice {
    /// What to do; the app opens at its practice screen if left out.
    #[command(subcommand)]
    pub command: Option<PracticeCommand>,
}

/// What to practise, or what to look at.
#[derive(Debug, Subcommand)]
pub enum PracticeCommand {
    /// Five minutes of words: no glass, no jar.
    #[command(after_help = "Example:\n  thirdglass practice words --taster Ana")]
    Words(Words),
    /// Hit rates, what is taken for what, and how far certainty can be trusted.
    #[command(after_help = "Example:\n  thirdglass practice record Ana")]
    Record(Record),
}

/// Five minutes of words.
#[derive(Debug, Args)]
pub struct Words {
    /// Who practises.
    #[arg(long, value_name = "NAME")]
    pub taster: String,
    /// Line by line, for screen readers and scripts.
    #[arg(long)]
    pub plain: bool,
}

/// What practice says of a taster.
#[derive(Debug, Args)]
pub struct Record {
    /// Who.
    pub name: String,
    /// Everything instead of the short list.
    #[arg(long)]
    pub all: bool,
    /// As JSON.
    #[arg(long)]
    pub json: bool,
}
