//! Everything around the program that may tell something: its process, the names of its files, and what stands in them.

use std::fs;
use std::path::Path;

use crate::heard::Heard;
use crate::kitchen::Kitchen;
use crate::kitchen::Told;
use crate::kitchen::flat;
use crate::pty::Launch;
use crate::pty::Pty;

/// Where commands and the app are started.
const WORK: &str = "work";

/// The folder in which somebody works.
pub(crate) fn work(kitchen: &Kitchen) -> std::path::PathBuf {
    let folder = kitchen.folder().join(WORK);
    fs::create_dir_all(&folder).expect("a folder can be made");
    folder
}

/// The app on a terminal, started in the folder of work.
pub(crate) fn launch(kitchen: &Kitchen, arguments: &[&str]) -> Launch {
    kitchen.launch(arguments).in_folder(work(kitchen))
}

/// Does a command in the folder of work.
pub(crate) fn run(kitchen: &Kitchen, arguments: &[&str]) -> Told {
    let mut command = kitchen.command(arguments);
    command.current_dir(work(kitchen));
    crate::kitchen::told(command.output().expect("the program runs"))
}

/// What anybody on the machine may read of a process that runs: its arguments, its environment, its name, those of its
/// threads, and the names of the files that it has open.
pub(crate) fn process(pty: &Pty) -> Vec<Heard> {
    let top = Path::new("/proc").join(pty.process().to_string());
    let read = |path: &Path| {
        let bytes = fs::read(path).unwrap_or_default();
        String::from_utf8_lossy(&bytes).replace('\0', " ")
    };
    let mut heard = vec![
        Heard::new("the arguments of the process", &read(&top.join("cmdline"))),
        Heard::new(
            "the environment of the process",
            &read(&top.join("environ")),
        ),
    ];
    for thread in entries(&top.join("task")) {
        heard.push(Heard::new(
            "the name of a thread",
            &read(&thread.join("comm")),
        ));
    }
    for open in entries(&top.join("fd")) {
        let name = fs::read_link(open).unwrap_or_default();
        heard.push(Heard::new(
            "the name of an open file",
            &name.to_string_lossy(),
        ));
    }
    heard
}

/// What the folders say: home, the folder for what passes, the folder of work, with all names in them, and the text of
/// every file but those that this test wrote and those that are for the program itself.
pub(crate) fn folders(kitchen: &Kitchen) -> Vec<Heard> {
    let mut heard = vec![Heard::new(
        "the names of all files",
        &kitchen.names().join("\n"),
    )];
    let mut left = vec![kitchen.folder().to_owned()];
    while let Some(path) = left.pop() {
        if path.is_dir() {
            left.extend(entries(&path));
        } else if !is_for_the_program(kitchen, &path) {
            let bytes = fs::read(&path).unwrap_or_default();
            heard.push(Heard::new(
                format!("the file {}", path.display()),
                &String::from_utf8_lossy(&bytes),
            ));
        }
    }
    heard
}

/// The file that remembers, its copies, and what this test wrote into the kitchen's own folder.
fn is_for_the_program(kitchen: &Kitchen, path: &Path) -> bool {
    let name = path.file_name().map(|it| it.to_string_lossy().into_owned());
    let name = name.unwrap_or_default();
    path.parent() == Some(kitchen.folder())
        || name.starts_with("thirdglass.db")
        || path.starts_with(kitchen.home().join("copies"))
        // A copy of the whole file that somebody asked for is that file.
        || name == "asked-for-copy.db"
        // One's own notes are always in a file that one asked for oneself, as `privacy.rs` says.
        || path.components().any(|it| it.as_os_str().to_string_lossy().starts_with("own-"))
}

fn entries(folder: &Path) -> Vec<std::path::PathBuf> {
    let listed = fs::read_dir(folder).into_iter().flatten().flatten();
    listed.map(|it| it.path()).collect()
}

/// The lines of what was told that people are to type; those stay in the history of a shell.
pub(crate) fn to_be_typed(told: &str) -> String {
    flat(told)
        .split("thirdglass ")
        .skip(1)
        .map(|it| it.chars().take(120).collect::<String>())
        .collect::<Vec<_>>()
        .join("\n")
}
