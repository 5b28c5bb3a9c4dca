//! Words of one's own, some thousands of them, as files that a home reads beside the built-in ones.

use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use crate::history::Outcome;

/// Shelves of a place, and words on a shelf.
const SHELVES: usize = 10;
const WORDS: usize = 20;

const FIRST: [&str; 25] = [
    "amber", "blue", "broken", "burnt", "cellar", "cold", "damp", "dusty", "early", "faded",
    "garden", "green", "harbour", "heavy", "hidden", "late", "lost", "narrow", "old", "pale",
    "quiet", "ripe", "sharp", "soft", "wild",
];
const SECOND: [&str; 20] = [
    "barrel", "berry", "bark", "cloth", "crate", "cupboard", "flower", "grass", "hedge", "kernel",
    "lantern", "leaf", "moss", "orchard", "paper", "pebble", "petal", "rope", "stone", "twig",
];
const THIRD: [&str; 10] = [
    "skin", "syrup", "dust", "water", "crumb", "smoke", "peel", "sap", "steam", "rind",
];

/// Writes files with so many words into the folder of a home, up to 5,000.
///
/// # Errors
/// The folder cannot be written.
pub(crate) fn write_words(home: &Path, words: usize) -> Outcome<()> {
    let folder = home.join("descriptors");
    fs::create_dir_all(&folder)?;
    let all: Vec<String> = FIRST
        .iter()
        .flat_map(|first| SECOND.iter().map(move |second| format!("{first} {second}")))
        .flat_map(|two| THIRD.iter().map(move |third| format!("{two} {third}")))
        .take(words)
        .collect();
    for (place, words) in all.chunks(SHELVES * WORDS).enumerate() {
        let mut text = format!(
            "[place]\nid = \"stall-{place}\"\nname = \"Stall {place}\"\nmet = \"At the market, in row {place}.\"\n"
        );
        for shelf in 0..words.chunks(WORDS).len() {
            writeln!(
                text,
                "[[shelf]]\nid = \"board-{place}-{shelf}\"\nname = \"Board {place}.{shelf}\"\nmet = \"One board of the stall.\""
            )?;
        }
        for (index, word) in words.iter().enumerate() {
            let shelf = format!("board-{place}-{}", index / WORDS);
            write_word(&mut text, word, &shelf, &words[(index + 1) % words.len()])?;
        }
        fs::write(folder.join(format!("stall-{place}.toml")), text)?;
    }
    Ok(())
}

fn write_word(text: &mut String, word: &str, shelf: &str, alike: &str) -> Outcome<()> {
    let (id, alike) = (word.replace(' ', "-"), alike.replace(' ', "-"));
    writeln!(
        text,
        "[[descriptor]]\nid = \"{id}\"\nshelf = \"{shelf}\"\nword = \"{word}\"\nsynonyms = [\"like {word}\"]\nmisspellings = [\"{}\"]\ndefinition = \"What the nose meets there, made up so that there is much to look through.\"\nstages = [\"aroma\", \"flavour\"]\n[[descriptor.look_alike]]\nid = \"{alike}\"\ntell = \"The other one is a little drier.\"\n[descriptor.no_jar]\nwhy = \"It is made up.\"\ninstead = \"Smell something else.\"",
        word.replace(' ', "")
    )?;
    Ok(())
}
