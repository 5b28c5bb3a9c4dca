//! The command that takes recipes from one form to another: ours, BeerJSON, and from BeerXML.

use std::path::Path;
use std::path::PathBuf;

use clap::Args;

use crate::cli::CliError;
use crate::cli::run::CELLS;
use crate::cli::run::Streams;
use crate::cli::run::print;
use crate::reports;
use crate::workflow::Choice;
use crate::workflow::Conversion;
use crate::workflow::ConversionError;
use crate::workflow::Home;
use crate::workflow::RecipeKind;
use crate::workflow::WorkflowError;
use crate::workflow::named_kind;
use crate::workflow::recipe_place;
use crate::workflow::typed_word;

/// A recipe in another form.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  thirdglass recipe convert stout.xml\n  thirdglass recipe convert stout.xml stout.toml --yes\n  thirdglass recipe convert recipes.json pale.toml --recipe 2 --take \"Pale Malt (2 row)=Pale ale malt\" --own Chinook\n  thirdglass recipe convert stout.toml stout.json\n\nWhat BeerJSON has no place for, such as what you hope for, stands in its notes in plain lines and is read back."
)]
pub struct Convert {
    /// The BeerXML or BeerJSON file; or a recipe file of ours (.toml), which becomes BeerJSON.
    pub file: PathBuf,
    /// The file to write, as BeerJSON if it ends in .json, and with .toml where it has no ending; it must not exist yet. Without it the conversion is only
    /// shown.
    pub into: Option<PathBuf>,
    /// Which recipe of the file, counted from 1.
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    pub recipe: usize,
    /// What an ingredient is in the catalogue, as FILE NAME=OUR NAME; may be given several times.
    #[arg(long, value_name = "NAME=NAME", value_parser = pair)]
    pub take: Vec<(String, String)>,
    /// An ingredient that nothing in the catalogue stands for; may be given several times.
    #[arg(long, value_name = "NAME")]
    pub own: Vec<String>,
    /// Take every guess as it is.
    #[arg(long)]
    pub yes: bool,
}

fn pair(text: &str) -> Result<(String, String), String> {
    let both = text.split_once('=').map(|it| (it.0.trim(), it.1.trim()));
    let both = both.filter(|it| !it.0.is_empty() && !it.1.is_empty());
    let both = both.map(|it| (it.0.to_owned(), it.1.to_owned()));
    both.ok_or_else(|| format!("“{text}” is no pair of names such as \"Pale Malt=Pale ale malt\""))
}

impl Convert {
    fn said(&self) -> Vec<(String, Choice)> {
        let taken = self.take.iter().cloned();
        let taken = taken.map(|(name, other)| (name, Choice::Take(other)));
        let own = self.own.iter().map(|it| (it.clone(), Choice::Own));
        taken.chain(own).collect()
    }
}

pub(super) fn convert(
    asked: &Convert,
    home: &Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    if named_kind(&asked.file) == RecipeKind::Own {
        return to_beerjson(asked, home, streams);
    }
    let it = home.converted(&asked.file, asked.recipe, &asked.said())?;
    print(&reports::conversion_lines(&it, CELLS), streams)?;
    let guesses: Vec<&str> = it.guesses().map(|it| it.name.as_str()).collect();
    let Some(into) = &asked.into else {
        writeln!(streams.output, "\n{}", it.document)?;
        return Ok(());
    };
    if !guesses.is_empty() && !asked.yes {
        return Err(CliError::Guesses {
            names: guesses.join(", "),
        });
    }
    write(&it, &recipe_place(into), home, streams)
}

/// A recipe of ours, shown or written as BeerJSON.
fn to_beerjson(asked: &Convert, home: &Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let Some(into) = &asked.into else {
        return Ok(write!(
            streams.output,
            "{}",
            home.recipe_as_beerjson(&asked.file)?
        )?);
    };
    if named_kind(into) != RecipeKind::BeerJson {
        let file = asked.file.clone();
        return Err(WorkflowError::from(ConversionError::OursAlready { file }).into());
    }
    home.write_beerjson(&asked.file, into)?;
    writeln!(streams.output, "Written: {}, as BeerJSON.", into.display())?;
    Ok(())
}

fn write(
    it: &Conversion,
    into: &Path,
    home: &Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    home.write_conversion(it, into)?;
    let shown = into.display().to_string();
    if named_kind(into) == RecipeKind::BeerJson {
        writeln!(streams.output, "\nWritten: {shown}, as BeerJSON.")?;
        return Ok(());
    }
    writeln!(
        streams.output,
        "\nWritten: {shown}. What it gives: thirdglass recipe predict {}",
        typed_word(&shown)
    )?;
    Ok(())
}
