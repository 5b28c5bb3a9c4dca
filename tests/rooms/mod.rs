//! The rooms of the house: what each is for, which others it may name, and which crates are its own.

#![allow(
    dead_code,
    reason = "the walls and the documents each look at their part of the table"
)]

/// A room, which is a folder of `src`.
pub(crate) struct Room {
    /// The folder.
    pub(crate) name: &'static str,
    /// Its `mod.rs` and DEVELOPERS.md say the same.
    pub(crate) sentence: &'static str,
    /// Arrows only point to a lower floor.
    pub(crate) floor: u8,
    /// Rooms whose names may stand in it.
    pub(crate) may_name: &'static [&'static str],
    /// Crates that no other room names, or that few share. A crate has its place before it is used.
    pub(crate) crates: &'static [&'static str],
}

/// Every room, from the ground up; those to come have their place already.
pub(crate) const ROOMS: &[Room] = &[
    Room {
        name: "statistics",
        sentence: "Numbers in, numbers out: exact tails, intervals, power, agreement, and seeded dice; it has never heard of taste.",
        floor: 0,
        may_name: &[],
        crates: &["statrs", "rand", "rand_chacha", "libm"],
    },
    Room {
        name: "domain",
        sentence: "The nouns of the trade and what makes each of them valid.",
        floor: 0,
        may_name: &[],
        // chrono as the value of a moment; the clock itself is in workflow.
        crates: &["chrono", "nucleo_matcher", "strsim"],
    },
    Room {
        name: "brewing",
        sentence: "Physics and chemistry of wort and beer: plain numbers in and out.",
        floor: 0,
        may_name: &[],
        crates: &[],
    },
    Room {
        name: "drawing",
        sentence: "Numbers in, a scene out, as terminal cells or SVG; it knows no beer.",
        floor: 0,
        may_name: &[],
        crates: &["palette", "skrifa", "base64", "fontdb"],
    },
    Room {
        name: "terminal",
        sentence: "The tty: raw mode, keys, signals, colour depth, one write a frame, and restoring whatever happens.",
        floor: 0,
        may_name: &[],
        crates: &["crossterm", "rustix", "signal_hook"],
    },
    Room {
        name: "discrimination",
        sentence: "The test methods, one a file, and the analysis of their answers.",
        floor: 1,
        may_name: &["domain", "statistics"],
        crates: &[],
    },
    Room {
        name: "profile",
        sentence: "Prediction, comparison, calibration to a taster, and the search for the next recipe.",
        floor: 1,
        may_name: &["domain", "statistics", "brewing"],
        crates: &[],
    },
    Room {
        name: "training",
        sentence: "Practice items, what to practise next, and the measures of a taster's consistency.",
        floor: 1,
        may_name: &["domain", "statistics"],
        crates: &[],
    },
    Room {
        name: "formats",
        sentence: "Text in, a domain value and all problems out, and back; it opens no file.",
        floor: 1,
        may_name: &["domain"],
        crates: &[
            "toml",
            "toml_edit",
            "sha2",
            "quick_xml",
            "csv",
            "serde",
            "serde_json",
            "similar",
            "image",
        ],
    },
    Room {
        name: "storage",
        sentence: "Everything that remembers: rows, and files as bytes.",
        floor: 1,
        may_name: &["domain"],
        // The rows and files of a home as one archive are its own form too.
        crates: &["rusqlite", "zip", "serde_json"],
    },
    Room {
        name: "workflow",
        sentence: "The verbs of the job; they hold the clock, the dice and the store.",
        floor: 2,
        may_name: &[
            "statistics",
            "domain",
            "brewing",
            "discrimination",
            "profile",
            "training",
            "formats",
            "storage",
        ],
        crates: &["chrono"],
    },
    Room {
        name: "reports",
        sentence: "One report a file: its text and its JSON.",
        floor: 3,
        may_name: &["workflow", "domain", "statistics", "drawing"],
        crates: &["serde", "serde_json", "krilla"],
    },
    Room {
        name: "screens",
        sentence: "What a screen holds and what a key does to it; no toolkit.",
        floor: 4,
        may_name: &["reports", "workflow", "domain", "drawing"],
        crates: &[],
    },
    Room {
        name: "tui",
        sentence: "The screens on cursive, through our own backend over the terminal room.",
        floor: 5,
        may_name: &[
            "statistics",
            "domain",
            "brewing",
            "drawing",
            "terminal",
            "discrimination",
            "profile",
            "training",
            "workflow",
            "reports",
            "screens",
        ],
        crates: &["cursive"],
    },
    Room {
        name: "cli",
        sentence: "Typed commands into verbs, reports onto stdout.",
        floor: 5,
        may_name: &[
            "statistics",
            "domain",
            "brewing",
            "drawing",
            "terminal",
            "discrimination",
            "profile",
            "training",
            "formats",
            "workflow",
            "reports",
            "screens",
        ],
        crates: &["clap", "clap_complete", "clap_mangen", "serde_json"],
    },
];
