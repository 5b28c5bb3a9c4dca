//! What to brew next, as lines: what to look at first, which hopes are missed, what is proposed, and how to check it.

use crate::domain::Name;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::blind_words::number_of;
use crate::reports::comparison_report::wrapped;
use crate::reports::next_proposal_report::proposal_lines;
use crate::reports::noise_words::noise_words;
use crate::reports::panel_report::counted;
use crate::workflow::HopeGap;
use crate::workflow::HopeStanding;
use crate::workflow::NextRecipe;
use crate::workflow::Remedy;
use crate::workflow::Suspect;
use crate::workflow::WorthChanging;

/// Cells of a name.
const NAME: usize = 26;

/// What the pictures say.
const LEGEND: &str = "In the pictures: ● believed to be there now, ◇ hoped for (◆ both), ├─┤ where the change should bring it, 8 times in 10.";

/// How much is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NextDetail {
    /// What is to be done.
    Short,
    /// Every hope, every line that moves, every test.
    All,
}

/// What to brew next as lines of at most `cells` cells.
#[must_use]
pub fn next_lines(it: &NextRecipe, detail: NextDetail, cells: usize) -> Vec<Line> {
    let mut lines = head(it, cells);
    lines.extend(
        it.dangers
            .iter()
            .flat_map(|it| wrapped(Ink::Alert, it, cells)),
    );
    lines.extend(remedies(&it.remedies, cells));
    lines.extend(verdict(it, cells));
    lines.extend(hopes(it, detail, cells));
    if !it.proposals.is_empty() {
        lines.push(Line::blank());
        lines.extend(advice(it, cells));
        lines.extend(wrapped(Ink::Quiet, LEGEND, cells));
    }
    for (at, proposal) in it.proposals.iter().enumerate() {
        lines.push(Line::blank());
        lines.extend(proposal_lines(at, proposal, detail, cells));
    }
    lines.extend(unmet(it, cells));
    if let Some(words) = it.basis.and_then(noise_words) {
        lines.extend(wrapped(Ink::Quiet, words, cells));
    }
    lines
}

fn head(it: &NextRecipe, cells: usize) -> Vec<Line> {
    let names: Vec<&str> = it.tasters.iter().map(Name::as_str).collect();
    let aside = match it.set_aside {
        0 => String::new(),
        more => {
            format!(" {more} more not counted: a bad bottle, a recipe that was known, or a cold.")
        }
    };
    let tasted = format!(
        "{} on {}, by {}.{aside}",
        glasses(it.glasses.0),
        counted(it.glasses.1 as u64, "day"),
        names.join(", ")
    );
    let title = format!(
        "After {}: {}, version {}",
        it.cap_mark, it.recipe, it.version
    );
    let mut lines = vec![Line::of(Ink::Title, title)];
    lines.extend(wrapped(Ink::Quiet, &tasted, cells));
    lines
}

fn glasses(number: usize) -> String {
    number_of(
        u32::try_from(number).unwrap_or(u32::MAX),
        "glass",
        "glasses",
    )
}

/// What comes of how the beer was made or kept: no recipe mends that.
fn remedies(all: &[Remedy], cells: usize) -> Vec<Line> {
    if all.is_empty() {
        return Vec::new();
    }
    let mut lines = vec![
        Line::blank(),
        Line::of(Ink::Strong, "Look at this first; no recipe mends it"),
    ];
    for it in all {
        let bottle = if it.wants_second_bottle() {
            "open a second bottle before you blame the batch"
        } else {
            "found on more than one day, so it is in the batch"
        };
        let found = format!(
            "  {}, in {} of {}: {bottle}.",
            it.word,
            it.named_in,
            glasses(it.glasses)
        );
        lines.extend(wrapped(Ink::Alert, &found, cells));
        let suspects = it.suspects.iter();
        lines.extend(suspects.flat_map(|it| suspect_lines(it, cells)));
    }
    lines
}

fn suspect_lines(it: &Suspect, cells: usize) -> Vec<Line> {
    let logged = if it.is_logged { "your log says: " } else { "" };
    let says = format!("    {} {logged}{}", it.odds, it.says);
    let mut lines = wrapped(Ink::Plain, &says, cells);
    let look = it.look.iter().map(|it| format!("      Tell by: {it}"));
    let remedy = it.remedy.iter().map(|it| format!("      Next time: {it}"));
    for text in look.chain(remedy) {
        lines.extend(wrapped(Ink::Quiet, &text, cells));
    }
    lines
}

fn verdict(it: &NextRecipe, cells: usize) -> Vec<Line> {
    let ink = if it.worth == WorthChanging::NotYet {
        Ink::Good
    } else {
        Ink::Strong
    };
    let mut lines = vec![Line::blank()];
    lines.extend(wrapped(ink, verdict_words(it), cells));
    if let Some((before, after)) = it.litres {
        let text = format!("All amounts are for {after} L instead of {before} L.");
        lines.extend(wrapped(Ink::Plain, &text, cells));
    }
    if !it.astray.is_empty() {
        let text = format!(
            "This brew did not come out as written: {}. What is missed may come of that; brewed again as it is, it would tell.",
            it.astray.join(", ")
        );
        lines.extend(wrapped(Ink::Alert, &text, cells));
    }
    if !it.wishes.is_empty() {
        let text = format!("With your wishes: {}.", it.wishes.join("; "));
        lines.extend(wrapped(Ink::Plain, &text, cells));
    }
    lines
}

/// Whether anything is to be changed, in a sentence.
fn verdict_words(it: &NextRecipe) -> &'static str {
    let few = it.glasses.0 < 3;
    match it.worth {
        WorthChanging::NoHopes => {
            "Nothing was hoped for that matters, so nothing can be missed. Write into the recipe what you hope to find; the log of the batch takes it too, as “intent”."
        }
        WorthChanging::NoLever => {
            "No recipe is known to move what was hoped for; look at how it was brewed, poured and kept."
        }
        _ if !it.dangers.is_empty() && it.proposals.is_empty() => {
            "First make the other bottles safe, every one of them. Until then nothing is proposed, and nobody need taste more of it."
        }
        WorthChanging::NotYet if few => {
            "Nothing needs changing yet: every gap may be noise. Taste it again on other days before you change anything."
        }
        WorthChanging::NotYet => "Nothing needs changing yet: no hope is missed beyond the noise.",
        WorthChanging::NoWay => {
            "A hope is missed, but nothing that is known would bring the beer nearer to all of them with better odds than leaving it alone."
        }
        WorthChanging::Yes if few => {
            "These hopes are missed by more than noise. So few glasses can mislead: tasting it again on other days makes it surer."
        }
        WorthChanging::Yes => "These hopes are missed by more than noise.",
    }
}

/// The hopes that are missed, and those that are left alone.
fn hopes(it: &NextRecipe, detail: NextDetail, cells: usize) -> Vec<Line> {
    let mut lines = Vec::new();
    let missed = it
        .hopes
        .iter()
        .filter(|it| it.standing == HopeStanding::Missed);
    for gap in missed {
        lines.extend(wrapped(Ink::Plain, &gap_words(gap), cells));
    }
    let others: Vec<&HopeGap> = it
        .hopes
        .iter()
        .filter(|it| it.standing != HopeStanding::Missed)
        .collect();
    if detail == NextDetail::All {
        for gap in others {
            lines.extend(wrapped(Ink::Quiet, &gap_words(gap), cells));
        }
        return lines;
    }
    lines.extend(left_alone(&others, cells));
    // Whose other bottles may hurt somebody is not asked to open more of them.
    if it.dangers.is_empty() {
        lines.extend(cheapest(&others, cells));
    }
    lines
}

/// The names of the hopes that are left alone, by how they stand.
fn left_alone(others: &[&HopeGap], cells: usize) -> Vec<Line> {
    let mut lines = Vec::new();
    let named = |standing: HopeStanding| {
        let some = others.iter().filter(|it| it.standing == standing);
        some.map(|it| it.label.as_str())
            .collect::<Vec<_>>()
            .join(", ")
    };
    for (standing, says) in [
        (
            HopeStanding::Open,
            "No reason to change, the gap may be noise",
        ),
        (HopeStanding::Met, "As hoped"),
        (HopeStanding::Silent, "Not mentioned yet"),
        (HopeStanding::NoLever, "No recipe is known to move it"),
    ] {
        let names = named(standing);
        if !names.is_empty() {
            lines.extend(wrapped(Ink::Quiet, &format!("  {says}: {names}."), cells));
        }
    }
    lines
}

/// The cheapest way to know more.
fn cheapest(open: &[&HopeGap], cells: usize) -> Vec<Line> {
    let needed = open
        .iter()
        .filter_map(|it| Some((it.needed?, it.label.as_str())));
    let Some((glasses, label)) = needed.min_by_key(|it| it.0) else {
        return Vec::new();
    };
    let more = number_of(glasses, "more glass", "more glasses");
    let text = format!("  Settled first: {label}, with {more} of each taster, one a day.");
    wrapped(Ink::Quiet, &text, cells)
}

fn gap_words(it: &HopeGap) -> String {
    let hoped = format!("  {:<NAME$} hoped {:.0}", it.label, it.hoped);
    let found = it
        .found
        .map_or_else(String::new, |found| format!(", found {found:.1}"));
    let standing = match it.standing {
        HopeStanding::Missed => it.gap.map_or_else(
            || ": not there".to_owned(),
            |gap| {
                let [now, low, high] =
                    [gap.0, gap.1, gap.2].map(|by| (it.hoped + by).clamp(0.0, 9.0));
                format!(", believed {now:.1} ({low:.1} to {high:.1})")
            },
        ),
        HopeStanding::Met => ": as hoped".to_owned(),
        HopeStanding::Open if it.found.is_some_and(|found| (found - it.hoped).abs() < 0.5) => {
            ": so far as hoped".to_owned()
        }
        HopeStanding::Open => it.needed.map_or_else(
            || ": may be noise".to_owned(),
            |needed| format!(": may be noise; {needed} more of each taster would tell"),
        ),
        HopeStanding::Silent => ": not mentioned yet".to_owned(),
        HopeStanding::NoLever => ": no recipe is known to move it".to_owned(),
    };
    format!("{hoped}{found}{standing}")
}

fn unmet(it: &NextRecipe, cells: usize) -> Vec<Line> {
    if it.unmet.is_empty() {
        return Vec::new();
    }
    let mut lines = vec![
        Line::blank(),
        Line::of(Ink::Alert, "Not every wish can be kept"),
    ];
    for text in &it.unmet {
        lines.extend(wrapped(Ink::Plain, &format!("  {text}"), cells));
    }
    lines
}

/// Why one thing at a time.
fn advice(it: &NextRecipe, cells: usize) -> Vec<Line> {
    let text = if it.proposals.first().is_some_and(|it| it.changes.len() == 1) {
        "Take one change at a time: what then tastes different came of it. After two or three at once nobody knows which one did it."
    } else {
        "No single change was good enough. What tastes different after several cannot be put down to one of them."
    };
    wrapped(Ink::Plain, text, cells)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workflow::told_next;

    #[test]
    fn a_gushing_bottle_is_told_and_nobody_is_asked_to_open_another() {
        let mut it = told_next();
        it.dangers = vec!["The others may burst.".to_owned()];
        it.worth = WorthChanging::NotYet;
        it.proposals.clear();
        let told = next_lines(&it, NextDetail::Short, 80);
        let told: Vec<String> = told.iter().map(Line::text).collect();
        let told = told.join(" ");
        assert!(
            told.contains("may burst") && told.contains("make the other bottles safe"),
            "{told}"
        );
        assert!(
            !told.contains("Taste it again") && !told.contains("more glass"),
            "{told}"
        );
    }
}
