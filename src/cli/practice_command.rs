//! The commands of practice as typed.

use std::path::PathBuf;

use clap::Args;
use clap::Subcommand;

/// Practise, or look at what practice says.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  thirdglass practice\n  thirdglass practice --plain\n  thirdglass practice words --taster Ana\n  thirdglass practice record Ana --all"
)]
pub struct Practice {
    /// What to do; the app opens at its practice screen if left out.
    #[command(subcommand)]
    pub command: Option<PracticeCommand>,
    /// Line by line, for screen readers and scripts.
    #[arg(long)]
    pub plain: bool,
}

/// What to practise, or what to look at.
#[derive(Debug, Subcommand)]
pub enum PracticeCommand {
    /// Five minutes of words: no glass, no jar.
    #[command(after_help = "Example:\n  thirdglass practice words --taster Ana")]
    Words(Words),
    /// Hit rates, what is taken for what, and how far certainty can be trusted.
    #[command(
        after_help = "Examples:\n  thirdglass practice record Ana\n  thirdglass practice record Ana --svg sure.svg"
    )]
    Record(Record),
    /// The courses of evenings; with a name, one of them; with people, a new one.
    #[command(
        after_help = "Examples:\n  thirdglass practice course\n  thirdglass practice course Winter --people Ana,Ben,Cleo --meetings 6"
    )]
    Course(CourseOf),
    /// Opens the evening of a course, and plans the next one where none is open.
    #[command(after_help = "Example:\n  thirdglass practice evening Winter --minutes 90 --jars 5")]
    Evening(EveningOf),
    /// The page of the one who leads: shopping, running order, what is in which jar.
    #[command(
        after_help = "Example:\n  thirdglass practice leader Winter --reader Hob\n\nIt says what is in which jar: until all is told, nobody who learns in the course may read it."
    )]
    Leader(Leader),
    /// The sheets of an evening to print: everybody's codes in their own order.
    #[command(after_help = "Example:\n  thirdglass practice sheets Winter")]
    Sheets(Sheets),
    /// What one learner gained over a course, with its range.
    #[command(after_help = "Example:\n  thirdglass practice gain Winter --taster Ana")]
    Gain(GainOf),
}

/// The courses, or one.
#[derive(Debug, Args)]
pub struct CourseOf {
    /// Its name; all are listed if left out.
    pub name: Option<String>,
    /// Who learns, with commas between: adds the course.
    #[arg(long, value_name = "NAMES", value_delimiter = ',', requires = "name")]
    pub people: Vec<String>,
    /// How many meetings are meant.
    #[arg(long, value_name = "COUNT", default_value_t = 6)]
    pub meetings: u8,
    /// As JSON.
    #[arg(long)]
    pub json: bool,
}

/// The evening of a course.
#[derive(Debug, Args)]
pub struct EveningOf {
    /// The course.
    pub course: String,
    /// Who is there, with commas between; all of the course if left out.
    #[arg(long, value_name = "NAMES", value_delimiter = ',')]
    pub present: Vec<String>,
    /// How long it is meant to last.
    #[arg(long, value_name = "MINUTES", default_value_t = 90.0)]
    pub minutes: f64,
    /// Jars besides those of the check.
    #[arg(long, value_name = "COUNT", default_value_t = 5, value_parser = clap::value_parser!(u8).range(3..=8))]
    pub jars: u8,
    /// Line by line, for screen readers and scripts.
    #[arg(long)]
    pub plain: bool,
}

/// The page of the one who leads.
#[derive(Debug, Args)]
pub struct Leader {
    /// The course.
    pub course: String,
    /// Who reads what is in the jars; nobody who learns in the course.
    #[arg(long, value_name = "NAME")]
    pub reader: Option<String>,
    /// As JSON.
    #[arg(long)]
    pub json: bool,
}

/// The sheets of an evening.
#[derive(Debug, Args)]
pub struct Sheets {
    /// The course.
    pub course: String,
    /// One person's sheet alone.
    #[arg(long, value_name = "NAME")]
    pub taster: Option<String>,
}

/// What one learner gained.
#[derive(Debug, Args)]
pub struct GainOf {
    /// The course.
    pub course: String,
    /// Who.
    #[arg(long, value_name = "NAME")]
    pub taster: String,
    /// As JSON.
    #[arg(long)]
    pub json: bool,
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
    /// The picture alone into this file, as SVG; it must not exist yet.
    #[arg(long, value_name = "FILE", conflicts_with = "json")]
    pub svg: Option<PathBuf>,
    /// As JSON.
    #[arg(long)]
    pub json: bool,
}
