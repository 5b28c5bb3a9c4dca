//! The words of the wheel: as a list of places and shelves, and one word whole with its jar.

use serde_json::Value;
use serde_json::json;

use crate::domain::BeerKind;
use crate::domain::Cause;
use crate::domain::CauseWeight;
use crate::domain::Compound;
use crate::domain::Descriptor;
use crate::domain::Jar;
use crate::domain::Reference;
use crate::domain::Standing;
use crate::domain::Wheel;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::capitalised;
use crate::drawing::wrap;
use crate::reports::indented;

/// All words, place by place and shelf by shelf.
#[must_use]
pub fn wheel_lines(wheel: &Wheel, cells: usize) -> Vec<Line> {
    let mut lines = Vec::new();
    for place in wheel.places() {
        lines.push(
            Line::of(Ink::Title, place.name.clone()).and(Ink::Quiet, format!(" · {}", place.met)),
        );
        for shelf in wheel.shelves_of(&place.id) {
            let words: Vec<&str> = wheel
                .words_on(&shelf.id)
                .map(|it| it.word.as_str())
                .collect();
            let text = format!("{}: {}", shelf.name, words.join(", "));
            lines.extend(
                wrap(&text, cells.saturating_sub(4))
                    .into_iter()
                    .enumerate()
                    .map(|(index, line)| {
                        Line::plain(format!("{}{line}", if index == 0 { "  " } else { "    " }))
                    }),
            );
        }
        lines.push(Line::blank());
    }
    lines
}

/// The whole wheel as JSON.
#[must_use]
pub fn wheel_json(wheel: &Wheel) -> Value {
    let places: Vec<Value> = wheel
        .places()
        .iter()
        .map(|place| {
            let shelves: Vec<Value> = wheel
                .shelves_of(&place.id)
                .map(|shelf| {
                    let words: Vec<Value> = wheel
                        .words_on(&shelf.id)
                        .map(|it| json!({ "id": it.id.as_str(), "word": it.word }))
                        .collect();
                    json!({ "id": shelf.id.as_str(), "name": shelf.name, "words": words })
                })
                .collect();
            json!({ "id": place.id.as_str(), "name": place.name, "shelves": shelves })
        })
        .collect();
    json!({ "format": 1, "places": places })
}

/// One word whole: where it stands, what it is like, its look-alikes and its jar.
#[must_use]
pub fn word_lines(wheel: &Wheel, it: &Descriptor, cells: usize) -> Vec<Line> {
    let title = Line::of(Ink::Title, it.word.clone());
    let mut lines = vec![title.and(Ink::Quiet, format!(" · {}", stands(wheel, it)))];
    lines.extend(indented(Ink::Plain, &it.definition, cells));
    if !it.synonyms.is_empty() {
        let synonyms = format!("Also called: {}", it.synonyms.join(", "));
        lines.extend(indented(Ink::Quiet, &synonyms, cells));
    }
    for other in &it.look_alikes {
        let word = wheel
            .descriptor(&other.id)
            .map_or("", |it| it.word.as_str());
        let text = format!("Easily taken for {word}: {}", other.tell);
        lines.extend(indented(Ink::Plain, &text, cells));
    }
    lines.extend(reference_lines(&it.reference, cells));
    for text in origin_texts(it) {
        lines.extend(indented(Ink::Plain, &text, cells));
    }
    lines
}

/// Where a word may come from in a beer, what smells of it, and where it is welcome.
fn origin_texts(it: &Descriptor) -> Vec<String> {
    let mut texts: Vec<String> = it.causes.iter().map(cause_text).collect();
    if !it.compounds.is_empty() {
        let smells: Vec<String> = it.compounds.iter().map(compound_text).collect();
        texts.push(format!("Smells of it: {}", smells.join("; ")));
    }
    let kinds = |kinds: &[BeerKind]| {
        let words: Vec<&str> = kinds.iter().map(|it| it.word()).collect();
        words.join(", ")
    };
    let Standing {
        welcome,
        tolerated,
        fault,
    } = &it.standing;
    for (what, list) in [
        ("Welcome in", welcome),
        ("A little is tolerated in", tolerated),
        ("A fault in", fault),
    ] {
        if !list.is_empty() {
            texts.push(format!("{what}: {}", kinds(list)));
        }
    }
    texts
}

fn cause_text(it: &Cause) -> String {
    let how = match it.weight {
        CauseWeight::Usual => "usually",
        CauseWeight::Frequent => "often",
        CauseWeight::Rare => "rarely",
    };
    let when = it.when.as_ref().map(|it| format!(", {it}"));
    format!(
        "In beer {how} from {}: {}{}",
        it.origin.word(),
        it.what,
        when.unwrap_or_default()
    )
}

fn compound_text(it: &Compound) -> String {
    match &it.threshold {
        Some((amount, source)) => format!("{} from {amount} on ({source})", it.name),
        None => it.name.clone(),
    }
}

fn reference_lines(reference: &Reference, cells: usize) -> Vec<Line> {
    let texts = match reference {
        Reference::Jar(jar) => jar_texts(jar),
        Reference::NoJar { why, instead } => vec![
            (Ink::Strong, format!("No jar: {why}")),
            (Ink::Plain, format!("Instead: {instead}")),
        ],
    };
    texts
        .iter()
        .flat_map(|(ink, text)| indented(*ink, text, cells))
        .collect()
}

fn jar_texts(jar: &Jar) -> Vec<(Ink, String)> {
    let allergens: Vec<&str> = jar.allergens.iter().map(|it| it.word()).collect();
    let cautions: Vec<&str> = jar.cautions.iter().map(|it| it.word()).collect();
    let how = format!(
        "{} Keeps {}. {}.",
        jar.how,
        jar.keeps,
        capitalised(jar.met_by.word())
    );
    let mut texts = vec![
        (Ink::Strong, format!("Jar: {}", jar.item)),
        (Ink::Plain, how),
    ];
    if !allergens.is_empty() {
        texts.push((Ink::Alert, format!("May hold: {}.", allergens.join(", "))));
    }
    if !cautions.is_empty() {
        texts.push((Ink::Alert, format!("Take care: {}.", cautions.join("; "))));
    }
    texts
}

/// Where a word stands: place and shelf.
#[must_use]
pub fn stands(wheel: &Wheel, it: &Descriptor) -> String {
    let Some(shelf) = wheel.shelf(&it.shelf) else {
        return String::new();
    };
    let place = wheel.place(&shelf.place).map_or("", |it| it.name.as_str());
    format!("{place}, {}", shelf.name)
}

fn compound_json(it: &Compound) -> Value {
    let threshold = it.threshold.as_ref();
    json!({
        "name": it.name,
        "threshold": threshold.map(|it| it.0.as_str()),
        "source": threshold.map(|it| it.1.as_str()),
    })
}

fn cause_json(it: &Cause) -> Value {
    json!({
        "from": it.origin.id(),
        "what": it.what,
        "weight": match it.weight {
            CauseWeight::Usual => 3,
            CauseWeight::Frequent => 2,
            CauseWeight::Rare => 1,
        },
        "when": it.when,
    })
}

fn ids(kinds: &[BeerKind]) -> Vec<&'static str> {
    kinds.iter().map(|it| it.id()).collect()
}

/// A jar, or why there is none: the same keys, those of the other empty.
fn reference_json(it: &Reference) -> Value {
    match it {
        Reference::Jar(jar) => json!({
            "why_no_jar": null,
            "instead": null,
            "item": jar.item,
            "how": jar.how,
            "use": jar.met_by.id(),
            "keeps": jar.keeps,
            "allergens": jar.allergens.iter().map(|it| it.id()).collect::<Vec<_>>(),
            "cautions": jar.cautions.iter().map(|it| it.id()).collect::<Vec<_>>(),
        }),
        Reference::NoJar { why, instead } => json!({
            "why_no_jar": why,
            "instead": instead,
            "item": null,
            "how": null,
            "use": null,
            "keeps": null,
            "allergens": null,
            "cautions": null,
        }),
    }
}

/// One word whole, as JSON.
#[must_use]
pub fn word_json(wheel: &Wheel, it: &Descriptor) -> Value {
    json!({
        "format": 1,
        "id": it.id.as_str(),
        "word": it.word,
        "stands": stands(wheel, it),
        "definition": it.definition,
        "synonyms": it.synonyms,
        "stages": it.stages.iter().map(|it| it.id()).collect::<Vec<_>>(),
        "look_alikes": it.look_alikes.iter().map(|it| json!({ "id": it.id.as_str(), "tell": it.tell })).collect::<Vec<_>>(),
        "reference": reference_json(&it.reference),
        "compounds": it.compounds.iter().map(compound_json).collect::<Vec<_>>(),
        "causes": it.causes.iter().map(cause_json).collect::<Vec<_>>(),
        "welcome": ids(&it.standing.welcome),
        "tolerated": ids(&it.standing.tolerated),
        "fault": ids(&it.standing.fault),
    })
}
