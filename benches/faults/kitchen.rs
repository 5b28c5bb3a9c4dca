//! A kitchen on the failing disk: a folder with a home in it, and the program as it is run there, with a clock and dice that repeat themselves.

use std::fs;
use std::io::Write;
use std::path::Path;
use std::path::PathBuf;
use std::process::Command;
use std::process::Output;
use std::process::Stdio;

use crate::disk::Fault;
use crate::typed_line::typed_words;

/// The program.
const PROGRAM: &str = env!("CARGO_BIN_EXE_thirdglass");

/// The moment at which every story begins, in milliseconds: a day in January 2027, at noon.
const BEGINS: u64 = 1_800_014_400_000;

/// Milliseconds of an hour.
const HOUR: u64 = 3_600_000;

/// The folder for what may be thrown away.
pub(crate) const PASSING: &str = "passing";

/// A folder in which the program works.
#[derive(Debug, Clone)]
pub(crate) struct Kitchen {
    pub(crate) folder: PathBuf,
    library: PathBuf,
    /// Hours since the story began; each command takes one.
    pub(crate) hour: u64,
}

impl Kitchen {
    /// A kitchen in which nothing was done yet.
    pub(crate) fn new(folder: &Path, library: &Path) -> Self {
        fs::create_dir_all(folder.join(PASSING)).expect("a folder can be made");
        Self {
            folder: folder.canonicalize().expect("it was just made"),
            library: library.to_owned(),
            hour: 0,
        }
    }

    /// The same kitchen once more, in another folder.
    pub(crate) fn copied(&self, folder: &Path) -> Self {
        copy(&self.folder, folder);
        Self {
            hour: self.hour,
            ..Self::new(folder, &self.library)
        }
    }

    /// The file that remembers.
    pub(crate) fn file(&self) -> PathBuf {
        self.folder.join("home/thirdglass.db")
    }

    /// Writes a file beside the home.
    pub(crate) fn write(&self, name: &str, bytes: impl AsRef<[u8]>) {
        let path = self.folder.join(name);
        let folder = path.parent().expect("it stands in the kitchen");
        fs::create_dir_all(folder).expect("a folder can be made");
        fs::write(path, bytes).expect("a file can be written");
    }

    /// A command that was not started yet.
    pub(crate) fn command(&self, arguments: &[String], fault: Fault) -> Command {
        let mut command = Command::new(PROGRAM);
        command
            .env_clear()
            .current_dir(&self.folder)
            .env("TMPDIR", self.folder.join(PASSING))
            .env("THIRDGLASS_HOME", "home")
            .env("LC_ALL", "C.UTF-8")
            .env("TZ", "UTC")
            .env("LD_PRELOAD", &self.library)
            .env("FAILING_BELOW", &self.folder)
            .env("FAILING_HOW", fault.how.name())
            .env("FAILING_AT", fault.at.to_string())
            .env("FAILING_SEED", fault.seed.to_string())
            .env("FAILING_DICE", (self.hour + 1).to_string())
            .env("FAILING_CLOCK", (BEGINS + self.hour * HOUR).to_string())
            .env("FAILING_TELL", self.told_calls())
            .args(arguments)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped());
        command
    }

    /// Where the number of calls is told: outside of what is watched.
    pub(crate) fn told_calls(&self) -> PathBuf {
        self.folder.with_extension("calls")
    }

    /// Does a command with these lines as its input.
    pub(crate) fn fed(&self, arguments: &[String], lines: &str, fault: Fault) -> Output {
        let mut command = self.command(arguments, fault);
        let mut child = command
            .stdin(Stdio::piped())
            .spawn()
            .expect("the program runs");
        let mut input = child.stdin.take().expect("it has an input");
        // A program that was killed reads no more, which is for its status to tell.
        input.write_all(lines.as_bytes()).unwrap_or_default();
        drop(input);
        child.wait_with_output().expect("the program ends")
    }

    /// Does a command that must go well; gives what it says. Blanks separate, quotes keep together.
    pub(crate) fn done(&mut self, line: &str) -> String {
        self.told(line, "")
    }

    /// Does a command that must go well, with these lines as its input.
    pub(crate) fn told(&mut self, line: &str, lines: &str) -> String {
        let output = self.fed(&typed_words(line), lines, Fault::NONE);
        self.hour += 1;
        let errors = String::from_utf8_lossy(&output.stderr);
        assert!(output.status.success(), "{line}: {errors}");
        String::from_utf8(output.stdout).expect("the program writes UTF-8")
    }
}

/// Copies a folder with everything in it.
pub(crate) fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("a folder can be made");
    for entry in fs::read_dir(from).expect("the folder can be listed") {
        let path = entry.expect("it can be listed").path();
        let beside = to.join(path.file_name().expect("it has a name"));
        if path.is_dir() {
            copy(&path, &beside);
        } else {
            fs::copy(&path, &beside).expect("a file can be copied");
        }
    }
}
