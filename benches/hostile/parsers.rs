//! Every parser of the program with its part of all inputs: whatever comes, it gives a value or a refusal.

use std::path::Path;

use crate::chance::Chance;
use crate::commands::Typist;
use crate::keys::KeyStream;
use crate::readers::Answers;
use crate::readers::Archive;
use crate::readers::Bytes;
use crate::readers::Text;
use crate::readers::Typed;
use crate::readers::What;
use crate::readers::catalogue;
use crate::readers::foreign;
use crate::readers::hint_seeds;
use crate::readers::hints;
use crate::readers::intent;
use crate::readers::intent_seeds;
use crate::readers::larder;
use crate::readers::larder_seeds;
use crate::readers::recipe;
use crate::readers::session;
use crate::readers::settings_seeds;
use crate::readers::terminal;
use crate::seeds;
use thirdglass::formats;

/// What became of an input.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Fate {
    Read,
    Refused,
}

impl Fate {
    pub(crate) fn of<T, E>(result: &Result<T, E>) -> Self {
        if result.is_ok() {
            Self::Read
        } else {
            Self::Refused
        }
    }
}

/// Whatever is fed: one input after the other.
pub(crate) trait Fed {
    /// Begins afresh; what comes until the next beginning may build on each other.
    fn begin(&mut self, _chance: Chance) {}

    /// Makes an input and feeds it.
    fn feed(&mut self, chance: Chance) -> Fate;

    /// What was seen, for the report.
    fn seen(&self) -> Vec<String> {
        Vec::new()
    }
}

/// One reader.
pub(crate) struct Parser {
    pub(crate) name: &'static str,
    /// Its part of all inputs, in thousandths of a thousandth.
    pub(crate) share: u64,
    /// How many inputs build on each other.
    pub(crate) block: u64,
    pub(crate) make: fn(&Path) -> Box<dyn Fed>,
}

const fn plain(name: &'static str, share: u64, make: fn(&Path) -> Box<dyn Fed>) -> Parser {
    Parser {
        name,
        share,
        block: 1,
        make,
    }
}

/// All of them; shares are by what an input costs, so that none takes much longer than the others.
pub(crate) const PARSERS: &[Parser] = &[
    plain("recipe", 40_000, |_| Text::over(seeds::recipes(), recipe())),
    plain("session", 20_000, |_| {
        Text::over(seeds::sessions(), session())
    }),
    plain("wheel", 60_000, |_| {
        Text::over(seeds::words(), |text| {
            Fate::of(&formats::read_wheel(&[("w.toml", text)]))
        })
    }),
    plain("catalogue", 40_000, |_| {
        Text::over(seeds::ingredients(), catalogue())
    }),
    plain("hints", 30_000, |_| Text::over(hint_seeds(), hints())),
    plain("settings", 100_000, |_| {
        Text::over(settings_seeds(), |text| {
            let (_, problems) = formats::readable_settings("s.toml", text);
            Fate::of(&problems.first().map_or(Ok(()), Err))
        })
    }),
    plain("larder", 25_000, |_| Text::over(larder_seeds(), larder())),
    plain("intent", 80_000, |_| Text::over(intent_seeds(), intent())),
    plain("ratings", 100_000, |_| {
        Bytes::over(seeds::ratings(), |bytes| {
            let mut kept = 0_u32;
            Fate::of(&formats::read_panel("t.csv", bytes, |_| kept += 1))
        })
    }),
    plain("proposals", 100_000, |_| {
        Text::over(seeds::proposals(), |text| {
            Fate::of(&formats::read_proposal("p.toml", text))
        })
    }),
    plain("BeerXML", 15_000, |_| {
        Text::over(seeds::foreign("xml"), foreign())
    }),
    plain("BeerJSON", 15_000, |_| {
        Text::over(seeds::foreign("json"), foreign())
    }),
    plain("answers", 50_000, |_| Box::new(Answers)),
    plain("photographs", 20_000, |_| {
        Bytes::over(seeds::pictures(), |bytes| {
            Fate::of(&formats::read_photograph(bytes))
        })
    }),
    plain("archive bytes", 1_500, |folder| {
        Box::new(Archive::new(folder, What::Bytes))
    }),
    plain("archive lines", 1_500, |folder| {
        Box::new(Archive::new(folder, What::Lines))
    }),
    plain("terminal bytes", 50_000, |_| {
        Bytes::over(seeds::keys(), terminal)
    }),
    plain("typed text", 0, |_| Box::new(Typed)),
    plain("arguments", 2_500, |_| Box::new(Typist::arguments())),
    Parser {
        name: "commands",
        share: 1_000,
        block: 20,
        make: |folder| Box::new(Typist::commands(folder)),
    },
    Parser {
        name: "key streams",
        share: 10_000,
        block: 1_000,
        make: |folder| Box::new(KeyStream::new(folder)),
    },
];

/// The parser that takes what the shares of the others leave.
pub(crate) const REST: &str = "typed text";
