//! Which lines of a document no change touches, told by its lines alone.

use thirdglass::domain::Part;
use thirdglass::domain::RecipeChange;

/// The tables of a document of which every table has a header, as its lines tell them: the kind, the place among
/// its kind, and the line numbers, the comment lines directly above the header among them.
fn blocks(lines: &[&str]) -> Vec<(String, usize, Vec<usize>)> {
    let mut blocks: Vec<(String, usize, Vec<usize>)> = vec![(String::new(), 0, Vec::new())];
    for (index, line) in lines.iter().enumerate() {
        if line.starts_with('[') {
            let kind = line.trim_start_matches('[').split(']').next().unwrap();
            let place = blocks.iter().filter(|it| it.0 == kind).count();
            let above = blocks.last_mut().unwrap();
            let mut own = Vec::new();
            while above.2.last().is_some_and(|it| lines[*it].starts_with('#')) {
                own.push(above.2.pop().unwrap());
            }
            blocks.push((kind.to_owned(), place, own));
        }
        blocks.last_mut().unwrap().2.push(index);
    }
    blocks
}

/// The keys of a table that a change may touch; all of it where it is left out.
enum Touch {
    Whole,
    Keys(&'static [&'static str]),
}

fn touched(change: &RecipeChange, malts: usize) -> Vec<(&'static str, Option<usize>, Touch)> {
    const SWAP: Touch = Touch::Keys(&[
        "name",
        "amount",
        "colour",
        "extract",
        "alpha",
        "boil",
        "whirlpool",
        "dry",
        "age",
        "stored",
    ]);
    let place = |part: Part| match part {
        Part::Fermentable(at) if at < malts => ("fermentable", Some(at)),
        Part::Fermentable(at) => ("sugar", Some(at - malts)),
        Part::Hop(at) => ("hop", Some(at)),
        Part::Other(at) => ("other", Some(at)),
    };
    let amounts = |kind| (kind, None, Touch::Keys(&["amount"]));
    let (place, touch) = match change {
        RecipeChange::Amount { part, .. } => (place(*part), Touch::Keys(&["amount"])),
        RecipeChange::LeaveOut(part) => (place(*part), Touch::Whole),
        RecipeChange::SwapFermentable { at, .. } => (place(Part::Fermentable(*at)), SWAP),
        RecipeChange::SwapHop { at, .. } => (("hop", Some(*at)), SWAP),
        RecipeChange::Yeast(_) => (
            ("yeast", None),
            Touch::Keys(&["name", "attenuation", "temperature"]),
        ),
        RecipeChange::HopTime { at, .. } => (
            ("hop", Some(*at)),
            Touch::Keys(&["boil", "whirlpool", "dry"]),
        ),
        RecipeChange::Mash(_) => (("mash", None), Touch::Keys(&["temperature"])),
        RecipeChange::Fermentation(_) => (("yeast", None), Touch::Keys(&["temperature"])),
        RecipeChange::Carbonation(_) => (("carbonation", None), Touch::Keys(&["target"])),
        RecipeChange::Volume(_) => {
            return vec![
                amounts("fermentable"),
                amounts("sugar"),
                amounts("hop"),
                amounts("other"),
                ("", None, Touch::Keys(&["volume"])),
            ];
        }
        RecipeChange::AddFermentable(_) | RecipeChange::AddHop(_) | RecipeChange::AddOther(_) => {
            return Vec::new();
        }
    };
    vec![(place.0, place.1, touch)]
}

/// The lines with letters on them that no change touches. A sugar's header may become that of a malt.
pub(super) fn untouched<'t>(document: &'t str, changes: &[RecipeChange]) -> Vec<&'t str> {
    let lines: Vec<&str> = document.lines().collect();
    let blocks = blocks(&lines);
    let malts = blocks.iter().filter(|it| it.0 == "fermentable").count();
    let mut gone: Vec<(&str, Option<usize>, Touch)> =
        changes.iter().flat_map(|it| touched(it, malts)).collect();
    gone.push(("", None, Touch::Keys(&["version", "parent", "reason"])));
    let key_of = |line: &str| line.split('=').next().unwrap().trim().to_owned();
    let mut kept = Vec::new();
    for (kind, place, own) in &blocks {
        let mut own = own.clone();
        own.sort_unstable();
        for line in own.into_iter().map(|it| lines[it]) {
            let is_gone = gone.iter().any(|(of, at, touch)| {
                let here = of == kind && at.is_none_or(|at| at == *place);
                here && match touch {
                    Touch::Whole => true,
                    Touch::Keys(keys) => keys.contains(&key_of(line).as_str()),
                }
            });
            if !is_gone && !line.trim().is_empty() && !line.starts_with("[[sugar]]") {
                kept.push(line);
            }
        }
    }
    kept
}

/// Whether the lines stand in the text, unchanged and in this order.
pub(super) fn stand_in(wanted: &[&str], text: &str) -> Result<(), String> {
    let mut lines = text.lines();
    for wanted in wanted {
        if !lines.any(|it| it == *wanted) {
            return Err((*wanted).to_owned());
        }
    }
    Ok(())
}
