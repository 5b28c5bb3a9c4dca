//! A bench for the program at a kitchen table of its own: a home, a folder for passing files, commands with their answers.

#![allow(
    dead_code,
    reason = "each file of tests uses its own part of the bench"
)]

use std::ffi::OsStr;
use std::fs;
use std::io::Write;
use std::path::Path;
use std::path::PathBuf;
use std::process::Command;
use std::process::Output;
use std::process::Stdio;

use crate::pty::Launch;

/// The program.
pub(crate) const PROGRAM: &str = env!("CARGO_BIN_EXE_thirdglass");

/// A home with nothing of the machine's around it; everything goes when it is dropped.
pub(crate) struct Kitchen {
    folder: tempfile::TempDir,
}

/// What a command answered.
#[derive(Debug)]
pub(crate) struct Told {
    /// Its exit code.
    pub(crate) code: i32,
    /// Its output.
    pub(crate) out: String,
    /// Its complaints.
    pub(crate) err: String,
}

impl Kitchen {
    /// A kitchen in which nothing was done yet.
    pub(crate) fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder can be made");
        let kitchen = Self { folder };
        fs::create_dir(kitchen.passing()).expect("a folder can be made");
        kitchen
    }

    /// A kitchen whose home has the rows of the storage tests, as a file of that schema.
    pub(crate) fn of_fixture(schema: u32) -> Self {
        let kitchen = Self::new();
        let top = Path::new(env!("CARGO_MANIFEST_DIR"));
        let fixture = top.join(format!("tests/fixtures/schema-{schema}.db"));
        fs::create_dir(kitchen.home()).expect("a folder can be made");
        fs::copy(fixture, kitchen.file()).expect("it can be copied");
        kitchen
    }

    /// Everybody leaves their seat, so that nothing is sealed any more.
    pub(crate) fn all_leave(&self) {
        let file = rusqlite::Connection::open(self.file()).expect("the file opens");
        file.execute("UPDATE seat SET left_at = '2026-03-14T20:00:00.000Z'", [])
            .expect("everybody leaves");
    }

    /// Everything that belongs to this kitchen.
    pub(crate) fn folder(&self) -> &Path {
        self.folder.path()
    }

    /// The home.
    pub(crate) fn home(&self) -> PathBuf {
        self.folder().join("home")
    }

    /// Where passing files go.
    fn passing(&self) -> PathBuf {
        self.folder().join("passing")
    }

    /// The file that remembers.
    pub(crate) fn file(&self) -> PathBuf {
        self.home().join("thirdglass.db")
    }

    /// Writes a file beside the home; gives its path.
    pub(crate) fn write(&self, name: &str, text: impl AsRef<[u8]>) -> String {
        let path = self.folder().join(name);
        if let Some(folder) = path.parent() {
            fs::create_dir_all(folder).expect("a folder can be made");
        }
        fs::write(&path, text).expect("a file can be written");
        path.to_str().expect("the path is text").to_owned()
    }

    /// A command that was not started yet, on pipes.
    pub(crate) fn command(&self, arguments: &[impl AsRef<OsStr>]) -> Command {
        let mut command = Command::new(PROGRAM);
        command.env_clear();
        for name in ["PATH", "LLVM_PROFILE_FILE"] {
            if let Some(value) = std::env::var_os(name) {
                command.env(name, value);
            }
        }
        // A file without a folder lands here and is gone with the kitchen.
        command
            .current_dir(self.folder())
            .env("TMPDIR", self.passing())
            .env("THIRDGLASS_HOME", self.home())
            .env("TERM", "xterm-256color")
            .env("COLORTERM", "truecolor")
            .env("LC_ALL", "C.UTF-8")
            .args(arguments)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped());
        command
    }

    /// Does a command.
    pub(crate) fn run(&self, arguments: &[&str]) -> Told {
        told(self.command(arguments).output().expect("the program runs"))
    }

    /// Does a command that must go well; gives its output.
    pub(crate) fn done(&self, arguments: &[&str]) -> String {
        let told = self.run(arguments);
        assert_eq!(told.code, 0, "{arguments:?}: {}", told.err);
        told.out
    }

    /// Does a command, with these lines as its input.
    pub(crate) fn fed(&self, arguments: &[&str], lines: &str) -> Told {
        let mut child = self
            .command(arguments)
            .stdin(Stdio::piped())
            .spawn()
            .expect("the program runs");
        let mut input = child.stdin.take().expect("it has an input");
        // A program that ended early reads no more, which is for its exit code to tell.
        input.write_all(lines.as_bytes()).unwrap_or_default();
        drop(input);
        told(child.wait_with_output().expect("the program ends"))
    }

    /// The app on a terminal.
    pub(crate) fn launch(&self, arguments: &[&str]) -> Launch {
        let launch = Launch::new(PROGRAM)
            .in_folder(self.folder())
            .env("TMPDIR", self.passing())
            .env("THIRDGLASS_HOME", self.home());
        arguments.iter().fold(launch, Launch::arg)
    }

    /// The names of all files and folders, below the kitchen's own folder.
    pub(crate) fn names(&self) -> Vec<String> {
        let mut names = Vec::new();
        let mut folders = vec![self.folder().to_owned()];
        while let Some(folder) = folders.pop() {
            for entry in fs::read_dir(&folder).expect("the folder can be listed") {
                let path = entry.expect("it can be listed").path();
                let name = path.file_name().expect("it has a name");
                names.push(name.to_string_lossy().into_owned());
                if path.is_dir() {
                    folders.push(path);
                }
            }
        }
        names
    }
}

/// A text on one line, so that a wrapped sentence is found.
pub(crate) fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What a program that has ended told.
pub(crate) fn told(output: Output) -> Told {
    let text = |bytes| String::from_utf8(bytes).expect("the program writes UTF-8");
    Told {
        code: output.status.code().expect("it ended by itself"),
        out: text(output.stdout),
        err: text(output.stderr),
    }
}
