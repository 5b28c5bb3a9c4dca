//! The command of printing as typed.

use std::path::PathBuf;

use clap::Args;
use clap::builder::PossibleValuesParser;
use clap::builder::TypedValueParser;

use crate::cli::print_run::sheet_parser;
use crate::domain::SheetSize;
use crate::reports::PRINTABLES;
use crate::reports::label_sheets_words;

/// A printout.
#[derive(Debug, Args)]
#[command(after_help = print_help())]
pub struct PrintCommand {
    /// What to print: one of those listed below.
    #[arg(value_name = "WHAT", value_parser = what_parser(), hide_possible_values = true)]
    pub what: String,
    /// Of what, and last the file to write: its name ends in .pdf or .svg, and it must not exist yet.
    #[arg(value_name = "OF... FILE", required = true)]
    pub rest: Vec<String>,
    /// The paper; what the settings say if left out, A4 unless changed. A sheet of labels brings its own.
    #[arg(long, value_parser = sheet_parser())]
    pub paper: Option<SheetSize>,
    /// The page of this taster only.
    #[arg(long, value_name = "NAME")]
    pub taster: Option<String>,
    /// Who reads what is in the glasses or jars; whoever reads it cannot answer any more.
    #[arg(long, value_name = "NAME")]
    pub reader: Option<String>,
    /// A taster of a panel reads what is poured all the same, and is marked for ever.
    #[arg(long)]
    pub yes: bool,
    /// The sheet of labels in the printer; labels to be cut from plain paper if left out.
    #[arg(long, value_name = "LABELS")]
    pub labels: Option<String>,
    /// Begin at this label of the first sheet, from 1, where some were used before.
    #[arg(long, value_name = "NUMBER")]
    pub first: Option<u16>,
}

impl PrintCommand {
    /// Of what it is printed, and the file; the file is the last word.
    pub(super) fn parts(&self) -> (Vec<String>, PathBuf) {
        let mut of = self.rest.clone();
        let file = of.pop().unwrap_or_default();
        (of, PathBuf::from(file))
    }
}

/// What can be printed; shells are told all of it.
fn what_parser() -> impl TypedValueParser<Value = String> {
    PossibleValuesParser::new(PRINTABLES.iter().map(|it| it.id))
}

/// An example of everything that can be printed.
fn print_help() -> String {
    let kinds = PRINTABLES
        .iter()
        .map(|it| format!("  {}\n      {}", it.typed(), it.words));
    let kinds: Vec<String> = kinds.collect();
    format!(
        "Examples, with everything that can be printed:\n{}\n\nSheets of labels, columns by rows: {}.",
        kinds.join("\n"),
        label_sheets_words()
    )
}
