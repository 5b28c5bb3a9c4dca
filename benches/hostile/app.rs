//! What keys and commands are fed with alike: a clock, names that are known, whatever may be pasted, and a folder.

use std::env;
use std::fs;
use std::path::Path;

use crate::chance::Chance;
use crate::seeds;
use chrono::DateTime;
use chrono::TimeDelta;
use thirdglass::domain::Moment;
use thirdglass::screens::Room;
use thirdglass::workflow::Clock;

/// Names that the demonstration knows, and words of the wheel.
pub(crate) const KNOWN: [&str; 14] = [
    "Crumb",
    "Teacup",
    "Wobble",
    "OD1",
    "OD2",
    "OW1",
    "GC1",
    "HL1",
    "CS1",
    "Green dot",
    "toast",
    "passion fruit",
    "Ana",
    "OD2",
];

/// A clock that goes on by a few seconds at each look, from the middle of March 2026.
pub(crate) fn clock() -> Clock {
    let mut now = DateTime::from_timestamp(1_773_500_000, 0).expect("it is a time");
    Clock::from_fn(move || {
        now += TimeDelta::milliseconds(2_500);
        Moment::new(now)
    })
}

pub(crate) fn room((width, height): (usize, usize)) -> Room {
    Room { width, height }
}

/// Whatever may be pasted; without a slash, so that a name of a file stays in the folder of this bench.
pub(crate) fn pasted(chance: &mut Chance) -> String {
    let mut text = String::new();
    for _ in 0..=chance.below(4) {
        match chance.below(4) {
            0 => text += chance.sign(),
            1 => text += chance.number(),
            2 => text += chance.one(&KNOWN),
            _ => text += &chance.text(&seeds::typed()),
        }
    }
    if chance.once_in(200) {
        text = text.repeat(2_000);
    }
    text.retain(|it| it != '/');
    text
}

/// Makes the folder empty and works in it.
pub(crate) fn fresh_folder(folder: &Path) {
    env::set_current_dir(env::temp_dir()).expect("there is a folder for what passes");
    let work = folder.join("work");
    for old in [&work, &folder.join("home")] {
        if old.exists() {
            fs::remove_dir_all(old).expect("what this bench made can be removed");
        }
    }
    fs::create_dir_all(&work).expect("there is room for a folder");
    env::set_current_dir(work).expect("it was made");
}
