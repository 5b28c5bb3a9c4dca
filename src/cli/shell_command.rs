//! What shells and packages need: completions, man pages and the shapes of the JSON; hidden, because a brewer needs none.

use std::path::PathBuf;

use clap::CommandFactory;
use clap::Subcommand;
use clap_complete::Shell;
use clap_mangen::Man;

use crate::cli::Arguments;
use crate::cli::CliError;
use crate::cli::Streams;
use crate::reports::SHAPES;
use crate::reports::shape;
use crate::workflow::write_open_documents;

/// The name of the program.
const PROGRAM: &str = "thirdglass";

/// What to print or write.
#[derive(Debug, Subcommand)]
pub enum ShellCommand {
    /// Print what a shell needs to complete commands.
    #[command(
        after_help = "Examples:\n  thirdglass shell complete bash > ~/.local/share/bash-completion/completions/thirdglass\n  thirdglass shell complete zsh > ~/.zfunc/_thirdglass\n  thirdglass shell complete fish > ~/.config/fish/completions/thirdglass.fish\n  thirdglass shell complete powershell > thirdglass.ps1"
    )]
    Complete {
        /// Which shell.
        shell: Shell,
    },
    /// Print what the JSON of a command holds, key by key, as a JSON Schema (draft 2020-12).
    #[command(
        after_help = "Examples:\n  thirdglass shell schema\n  thirdglass shell schema batch-list"
    )]
    Schema {
        /// The words of the command joined by -; all names are listed if left out.
        name: Option<String>,
    },
    /// Write the man pages, one a command, into a folder that is there.
    #[command(after_help = "Example:\n  thirdglass shell man /usr/local/share/man/man1")]
    Man {
        /// The folder.
        folder: PathBuf,
    },
}

/// Does it; no home is opened for it.
///
/// # Errors
/// Something is there already, or the disk or the terminal refuses.
pub fn shell(command: &ShellCommand, streams: &mut Streams<'_>) -> Result<(), CliError> {
    match command {
        ShellCommand::Complete { shell } => {
            let mut script = Vec::new();
            clap_complete::generate(*shell, &mut Arguments::command(), PROGRAM, &mut script);
            streams.output.write_all(&script)?;
            Ok(())
        }
        ShellCommand::Schema { name: None } => {
            let names: Vec<&str> = SHAPES.iter().map(|it| it.0).collect();
            Ok(writeln!(streams.output, "{}", names.join("\n"))?)
        }
        ShellCommand::Schema { name: Some(asked) } => {
            let text = shape(asked).ok_or_else(|| CliError::NoShape {
                asked: asked.clone(),
            })?;
            Ok(write!(streams.output, "{text}")?)
        }
        ShellCommand::Man { folder } => {
            let mut all = Arguments::command();
            all.build();
            let mut pages = Vec::new();
            man_pages(&all, PROGRAM, &mut pages)?;
            let files: Vec<(PathBuf, Vec<u8>)> = pages
                .into_iter()
                .map(|(name, page)| (folder.join(format!("{name}.1")), page))
                .collect();
            write_open_documents(&files)?;
            writeln!(
                streams.output,
                "Written: {} pages in {}.",
                files.len(),
                folder.display()
            )?;
            Ok(())
        }
    }
}

/// The page of a command and of everything below it, with its name.
fn man_pages(
    command: &clap::Command,
    name: &str,
    pages: &mut Vec<(String, Vec<u8>)>,
) -> Result<(), CliError> {
    let titled = command.clone().name(name.to_owned());
    let mut page = Vec::new();
    Man::new(titled).render(&mut page)?;
    pages.push((name.to_owned(), page));
    let inner = command.get_subcommands();
    for it in inner.filter(|it| !it.is_hide_set() && it.get_name() != "help") {
        man_pages(it, &format!("{name}-{}", it.get_name()), pages)?;
    }
    Ok(())
}
