//! The line in each help text that says where the keys of its JSON are described.

use clap::Command;

use crate::reports::shapes_of;

/// The id of the switch that asks for JSON.
const JSON: &str = "json";

/// A command of the top level with that line in its help and in that of everything below it. A long help of
/// its own is left alone: it lists the keys.
pub(super) fn with_shape_lines(command: Command) -> Command {
    let path = command.get_name().to_owned();
    below(command, &path)
}

/// `path` is the words of the command joined by `-`.
fn below(command: Command, path: &str) -> Command {
    let inner = |it: Command| {
        let path = format!("{path}-{}", it.get_name());
        below(it, &path)
    };
    pointed(command, path).mut_subcommands(inner)
}

fn pointed(command: Command, path: &str) -> Command {
    let has_json = command.get_arguments().any(|it| it.get_id() == JSON);
    let names: Vec<&str> = shapes_of(path).collect();
    if !has_json || names.is_empty() {
        return command;
    }
    let examples = command.get_after_help().map(ToString::to_string);
    let examples = examples.unwrap_or_default();
    command.after_help(format!("{examples}\n\n{}", shape_line(&names)))
}

/// Where the shapes with these names can be read.
pub(super) fn shape_line(names: &[&str]) -> String {
    let names = names.join(", or ");
    format!("The keys of --json: thirdglass shell schema {names}")
}
