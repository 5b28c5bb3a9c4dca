//! The disk that fails: the library that is loaded before the program, and the ways in which it fails.

use std::path::Path;
use std::path::PathBuf;
use std::process::Command;

use thirdglass::statistics::Dice;

/// Where the library is written down.
const SOURCE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/kill/failing_disk.c");

/// How a disk fails, by the names that the library knows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum How {
    /// Not at all: calls are counted.
    Count,
    /// The program is killed before a call.
    Kill,
    /// It is killed within a write, or after another call.
    Torn,
    /// The disk is full from a call on.
    Full,
    /// It has no room for one call.
    FullOnce,
    /// It gives errors from a call on.
    Broken,
    /// It gives an error for one call.
    BrokenOnce,
    /// It can only be read from a call on.
    ReadOnly,
    /// The power goes: a part of what was not synced is lost.
    Power,
}

impl How {
    /// All that go wrong; what is most to be feared stands there more often.
    const DRAWN: [Self; 11] = [
        Self::Kill,
        Self::Kill,
        Self::Torn,
        Self::Full,
        Self::FullOnce,
        Self::Broken,
        Self::BrokenOnce,
        Self::ReadOnly,
        Self::Power,
        Self::Power,
        Self::Power,
    ];

    /// The name.
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Count => "count",
            Self::Kill => "kill",
            Self::Torn => "torn",
            Self::Full => "full",
            Self::FullOnce => "full-once",
            Self::Broken => "broken",
            Self::BrokenOnce => "broken-once",
            Self::ReadOnly => "read-only",
            Self::Power => "power",
        }
    }

    /// The way of this name.
    pub(crate) fn named(name: &str) -> Option<Self> {
        Self::DRAWN.into_iter().find(|it| it.name() == name)
    }

    /// True if files can be taken away when it fails.
    pub(crate) const fn lets_go(self) -> bool {
        matches!(self, Self::Full | Self::FullOnce)
    }

    /// True if only one call fails, and the next would go well.
    pub(crate) const fn is_once(self) -> bool {
        matches!(self, Self::FullOnce | Self::BrokenOnce)
    }
}

/// What goes wrong, and at which call.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Fault {
    pub(crate) how: How,
    /// The call, from 1; 0 for none.
    pub(crate) at: u64,
    /// What a power cut leaves to chance.
    pub(crate) seed: u64,
}

impl Fault {
    /// Nothing goes wrong.
    pub(crate) const NONE: Self = Self {
        how: How::Count,
        at: 0,
        seed: 0,
    };

    /// A fault at one of so many calls; power may also go after the last.
    pub(crate) fn draw(seed: u64, calls: u64, how: Option<How>) -> Self {
        let mut dice = Dice::from_seed(seed);
        let most = u32::try_from(How::DRAWN.len() - 1).expect("they are few");
        let drawn = How::DRAWN[dice.whole(0, most) as usize];
        let how = how.unwrap_or(drawn);
        let last = calls + u64::from(how == How::Power);
        let last = u32::try_from(last).expect("no command makes billions of calls");
        Self {
            how,
            at: u64::from(dice.whole(1, last.max(1))),
            seed,
        }
    }
}

/// Builds the library into a folder.
pub(crate) fn build(folder: &Path) -> PathBuf {
    let library = folder.join("failing_disk.so");
    let built = Command::new("cc")
        .args(["-std=gnu11", "-O1", "-Wall", "-Wextra", "-Werror"])
        .args(["-shared", "-fPIC", "-o"])
        .arg(&library)
        .arg(SOURCE)
        .status()
        .expect("cc is there: it has compiled SQLite");
    assert!(built.success(), "the failing disk cannot be built");
    library
}
