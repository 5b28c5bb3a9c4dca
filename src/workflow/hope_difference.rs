//! What differs between two pictures of a beer: the hopes, and what packets promise.

use crate::domain::Intent;
use crate::domain::Line;
use crate::domain::Matters;
use crate::domain::Measure;
use crate::domain::Promise;
use crate::domain::Target;
use crate::workflow::alike_pairs::paired;
use crate::workflow::change_words::from_to;
use crate::workflow::change_words::number;

/// What differs between two intents, such as "hopes: bitter 5 to 6".
pub(super) fn hopes(old: &Intent, new: &Intent) -> Vec<String> {
    let Intent { targets } = new;
    let pairs = paired(&old.targets, targets, &[same_line]);
    let mut told = Vec::new();
    for (old, new) in pairs.both {
        let Target {
            line,
            value,
            matters,
        } = new;
        let label = label(line);
        if old.value.total_cmp(value).is_ne() {
            let values = from_to(old.value, *value, &unit(line));
            told.push(format!("hopes: {label} {values}"));
        }
        if old.matters != *matters {
            let [old, new] = [old.matters, *matters].map(Matters::word);
            told.push(format!("hopes: {label} {new} (before: {old})"));
        }
    }
    let amount = |it: &Target| format!("{}{}", number(it.value), unit(&it.line));
    let gone = pairs.left_out.iter().map(|(_, it)| {
        let (label, amount) = (label(&it.line), amount(it));
        format!("hopes: {label} no longer named (before: {amount})")
    });
    let added = pairs.added.iter();
    let added = added.map(|(_, it)| {
        format!(
            "hopes: {} {} (not named before)",
            label(&it.line),
            amount(it)
        )
    });
    told.extend(gone.chain(added));
    told
}

/// What differs between the promises of packets.
pub(super) fn promises(old: &[Promise], new: &[Promise]) -> Vec<String> {
    let pairs = paired(old, new, &[same_packet]);
    let words = |it: &Promise| {
        let words: Vec<String> = it.words.iter().map(|it| spaced(it.as_str())).collect();
        if words.is_empty() {
            "nothing".to_owned()
        } else {
            words.join(", ")
        }
    };
    let mut told = Vec::new();
    for (old, new) in pairs.both {
        let Promise {
            packet,
            words: promised,
        } = new;
        if old.words != *promised {
            let (now, before) = (words(new), words(old));
            told.push(format!("“{packet}” promises {now} (before: {before})"));
        }
    }
    let gone = pairs.left_out.iter();
    let gone = gone.map(|(_, it)| format!("“{}” promises nothing any more", it.packet));
    let added = pairs.added.iter();
    let added = added.map(|(_, it)| format!("“{}” promises {}", it.packet, words(it)));
    told.extend(gone.chain(added));
    told
}

fn same_line(one: &Target, other: &Target) -> bool {
    one.line == other.line
}

fn same_packet(one: &Promise, other: &Promise) -> bool {
    one.packet == other.packet
}

/// What a hope is about; a word or a shelf goes by its id, which is made of its words.
fn label(line: &Line) -> String {
    match line {
        Line::Scale(scale) => scale.word.to_lowercase(),
        Line::Word { descriptor, stage } => {
            format!("{} ({})", spaced(descriptor.as_str()), stage.id())
        }
        Line::Shelf { shelf, stage } => {
            format!("the shelf {} ({})", spaced(shelf.as_str()), stage.id())
        }
    }
}

/// The unit of a line, with its leading space; intensities have none.
fn unit(line: &Line) -> String {
    match line {
        Line::Scale(scale) => match &scale.measure {
            Measure::Amount { unit, .. } => format!(" {unit}"),
            Measure::Intensity | Measure::Choice { .. } => String::new(),
        },
        Line::Word { .. } | Line::Shelf { .. } => String::new(),
    }
}

fn spaced(id: &str) -> String {
    id.replace('-', " ")
}
