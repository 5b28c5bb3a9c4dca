//! Plan, prediction and notes side by side, with verdicts: as lines for a screen or a terminal.

use crate::domain::Knew;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::table;
use crate::drawing::width;
use crate::drawing::wrap;
use crate::reports::comparison_picture::comparison_row;
use crate::reports::comparison_picture::glass_colour;
use crate::reports::comparison_picture::group_of;
use crate::reports::comparison_picture::told_lines;
use crate::reports::comparison_words::also_foreseen_lines;
use crate::reports::comparison_words::near_lines;
use crate::reports::comparison_words::promised_lines;
use crate::reports::comparison_words::sniff_lines;
use crate::reports::comparison_words::unplanned_lines;
use crate::reports::figure_words;
use crate::reports::noise_words::basis_sentences;
use crate::reports::verdict_words::grounds;
use crate::reports::verdict_words::next_step;
use crate::reports::verdict_words::summary;
use crate::reports::verdict_words::value_words;
use crate::workflow::About;
use crate::workflow::ComparedLine;
use crate::workflow::Comparison;
use crate::workflow::Found;
use crate::workflow::HeldAgainst;
use crate::workflow::Noted;

/// Lines that stand on the first page.
const FIRST: usize = 10;

/// Sets of notes up to which each one stands in the heading with its day.
const NAMED_SINGLY: usize = 4;

/// What the signs of a line mean.
const LEGEND: [&str; 2] = [
    "◇ hoped  ● glass  ◆ both on one spot  ~ how far the glass may be off by chance",
    "├─┤ where the recipe puts it, 8 times in 10  (+2.4?) careful guess",
];

/// Cells that one set of notes takes in a table.
const COLUMN: usize = 15;
/// Cells that label and hope take in a table.
const PLAN: usize = 36;

/// How much is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Extent {
    /// The ten lines that matter most.
    First,
    /// Every line, with its grounds, and what each set of notes says.
    All,
}

/// A comparison as lines of at most `cells` cells.
#[must_use]
pub fn comparison_lines(it: &Comparison, extent: Extent, cells: usize) -> Vec<Line> {
    let title = format!("{} · {}", it.cap_mark, it.recipe);
    let mut lines = vec![Line::of(Ink::Title, title)];
    lines.extend(wrapped(Ink::Quiet, &heading(it, extent), cells));
    // What can hurt is read before anything else.
    for caution in &it.cautions {
        lines.extend(wrapped(Ink::Alert, &format!("! {caution}"), cells));
    }
    if it.found.is_empty() {
        lines.push(Line::plain(
            "No sound bottle has been tasted yet; open another one.",
        ));
        return lines;
    }
    lines.extend(wrapped(Ink::Strong, &summary(it), cells));
    lines.extend(wrapped(Ink::Good, &next_step(it), cells));
    lines.push(Line::blank());
    lines.extend(chart(it, extent, cells));
    lines.extend(near_lines(it, cells));
    lines.extend(unplanned_lines(it, extent, cells));
    lines.extend(promised_lines(it, cells));
    if extent == Extent::All {
        lines.extend(sniff_lines(it, cells));
        lines.extend(also_foreseen_lines(it, cells));
        lines.extend(who_said_what(it, cells));
        lines.extend(figures(it));
    }
    lines.push(Line::blank());
    lines.extend(footing(it, extent, cells));
    lines
}

fn heading(it: &Comparison, extent: Extent) -> String {
    let who = if extent == Extent::First && it.found.len() > NAMED_SINGLY {
        who_how_often(it)
    } else {
        each_with_its_day(it)
    };
    let (frozen, edited) = (it.intent.frozen_at, it.intent.edited_at);
    let again = edited
        .map(|at| format!(", written again on {}", at.day()))
        .unwrap_or_default();
    let written = edited.unwrap_or(frozen);
    let locked = |found: &Found| found.notes.locked_at.is_some_and(|at| at < written);
    let late = if it.found.iter().any(locked) {
        ", after it was tasted"
    } else {
        ""
    };
    let left_out = match it.faulty.len() {
        0 => String::new(),
        1 => " Left out: one set of notes, because something was wrong with the bottle.".to_owned(),
        n => format!(" Left out: {n} sets of notes, because something was wrong with the bottle."),
    };
    format!(
        "Hoped for on {}{again}{late}. Tasted by {}.{left_out}",
        frozen.day(),
        if who.is_empty() {
            "nobody".to_owned()
        } else {
            who.join("; ")
        }
    )
}

/// Each set of notes with its day, and which of them do not count.
fn each_with_its_day(it: &Comparison) -> Vec<String> {
    let counting = it.counting_notes().len();
    let told = |(at, found)| {
        let aside = if at < counting { "" } else { ", not counted" };
        who_and_when(found) + aside
    };
    it.found.iter().enumerate().map(told).collect()
}

/// Each taster once, with how many sets of notes.
fn who_how_often(it: &Comparison) -> Vec<String> {
    let mut who: Vec<(String, usize)> = Vec::new();
    for found in &it.found {
        let name = found.taster.to_string();
        match who.iter_mut().find(|it| it.0 == name) {
            Some(row) => row.1 += 1,
            None => who.push((name, 1)),
        }
    }
    who.into_iter()
        .map(|(name, times)| match times {
            1 => name,
            times => format!("{name} ({times} glasses)"),
        })
        .collect()
}

fn who_and_when(found: &Found) -> String {
    let mut text = format!("{} on {}", found.taster, found.tasted_on);
    if found.notes.round > 1 {
        text.push_str(", as it warmed");
    }
    if let Some(knew) = found.notes.knew {
        if knew == Knew::Nothing {
            text.push_str(", blind");
        } else {
            text.push_str(", knew ");
            text.push_str(knew.word());
        }
    }
    if found.notes.seal_broken_at.is_some() {
        text.push_str(", SEAL BROKEN");
    }
    text
}

/// The lines with their dumbbells.
fn chart(it: &Comparison, extent: Extent, cells: usize) -> Vec<Line> {
    let mut shown = told_lines(it);
    let hidden = match extent {
        Extent::First => shown.split_off(shown.len().min(FIRST)),
        Extent::All => Vec::new(),
    };
    // The signs are explained where they are first seen, not below the end of a small screen.
    let mut lines: Vec<Line> = LEGEND
        .iter()
        .flat_map(|it| wrapped(Ink::Quiet, it, cells))
        .collect();
    let mut against = None;
    for line in shown {
        let group = group_of(line.against);
        if against != Some(line.against) {
            against = Some(line.against);
            lines.push(group.head_line());
        }
        lines.push(group.row_line(&comparison_row(line, &it.found), cells));
        if let Some(patches) = glass_colour(line) {
            lines.push(patches);
        }
        if extent == Extent::All {
            let grounds = grounds(line).join("; ");
            if !grounds.is_empty() {
                lines.extend(wrapped(Ink::Quiet, &format!("    {grounds}"), cells));
            }
        }
    }
    lines.extend(also_hoped(&hidden, cells));
    lines
}

/// Hopes for which the first page has no room, by name.
fn also_hoped(hidden: &[&ComparedLine], cells: usize) -> Vec<Line> {
    let hopes = hidden.iter().filter(|it| it.against == HeldAgainst::Intent);
    let labels: Vec<&str> = hopes.map(|it| it.label.as_str()).collect();
    if labels.is_empty() {
        return Vec::new();
    }
    let text = format!("  also hoped for: {}", labels.join(", "));
    wrapped(Ink::Quiet, &text, cells)
}

/// What each set of notes says on each hope.
fn who_said_what(it: &Comparison, cells: usize) -> Vec<Line> {
    let hopes: Vec<&ComparedLine> = it.hopes().collect();
    if hopes.is_empty() {
        return Vec::new();
    }
    let fit = (cells.saturating_sub(PLAN) / COLUMN).max(1);
    let mut lines = vec![Line::blank()];
    for from in (0..it.found.len()).step_by(fit) {
        let to = (from + fit).min(it.found.len());
        let names = it.found[from..to]
            .iter()
            .map(|found| column_name(found, it));
        let mut all = vec![vec!["Who said what".to_owned(), "hoped".to_owned()]];
        all[0].extend(names);
        all.extend(hopes.iter().map(|line| {
            let mut row = vec![format!("  {}", line.label), value_words(line, line.hoped)];
            row.extend(
                line.noted[from..to]
                    .iter()
                    .map(|noted| noted_words(line, *noted)),
            );
            row
        }));
        let mut laid_out = table(&all, 0, cells);
        if let Some(first) = laid_out.first_mut() {
            *first = Line::of(Ink::Strong, first.text());
        }
        lines.extend(laid_out);
    }
    lines
}

/// The taster's name, with what tells two sets of notes of one taster apart.
fn column_name(found: &Found, it: &Comparison) -> String {
    let same = |other: &&Found| other.taster == found.taster;
    if found.notes.round > 1 {
        return format!("{}, warm", found.taster);
    }
    if it.found.iter().filter(same).count() > 1 {
        let date = found.tasted_on.to_string();
        return format!("{} {}", found.taster, &date[5..]);
    }
    found.taster.to_string()
}

fn noted_words(line: &ComparedLine, noted: Noted) -> String {
    match (noted, &line.about) {
        (Noted::Value(value), About::Scale(scale)) => scale.words_for(value),
        (Noted::Value(value), About::Shelf { .. }) => format!("{value:.0}"),
        (Noted::Named, _) => "named".to_owned(),
        (Noted::NotMentioned, _) => "not mentioned".to_owned(),
        (Noted::Skipped, _) => "skipped".to_owned(),
        (Noted::CannotTell, _) => "cannot tell".to_owned(),
        (Noted::NotAnswered, _) => "not answered".to_owned(),
        (Noted::NotAsked, _) => "not asked".to_owned(),
    }
}

fn figures(it: &Comparison) -> Vec<Line> {
    let rows = it.figures.iter().map(|line| {
        let words = figure_words(&line.figure);
        Line::plain(format!("  {:<20} {words}", line.figure.word))
    });
    let mut lines = vec![Line::blank(), Line::of(Ink::Strong, "Figures")];
    lines.extend(rows);
    lines
}

/// What the verdicts rest on.
fn footing(it: &Comparison, extent: Extent, cells: usize) -> Vec<Line> {
    let mut text = basis_sentences(it);
    if extent == Extent::All {
        text.push(format!(
            "Prediction: rules {}, wheel and ingredients {}.",
            it.versions.0, it.versions.1
        ));
    }
    wrapped(Ink::Quiet, &text.join(" "), cells)
}

/// Wraps a text that may begin with an indent, which is kept on every line.
pub(super) fn wrapped(ink: Ink, text: &str, cells: usize) -> Vec<Line> {
    let indent = " ".repeat(text.len() - text.trim_start().len());
    if width(text) <= cells {
        return vec![Line::of(ink, text)];
    }
    wrap(text.trim_start(), cells.saturating_sub(indent.len() + 2))
        .into_iter()
        .enumerate()
        .map(|(index, line)| {
            let hang = if index == 0 { "" } else { "  " };
            Line::of(ink, format!("{indent}{hang}{line}"))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::NotesChange;
    use crate::domain::NotesSource;
    use crate::domain::Rating;
    use crate::domain::SCALES;
    use crate::domain::Scale;
    use crate::reports::comparison_json;
    use crate::reports::comparison_markdown;
    use crate::statistics::Dice;
    use crate::workflow::Clock;
    use crate::workflow::Home;
    use crate::workflow::Outcome;
    use crate::workflow::TRIAL_RECIPE;

    /// Two cells less than a VT100 shows (DEC VT100 User Guide): the page keeps a margin.
    const NARROW: usize = 78;

    #[test]
    fn no_line_is_wider_than_the_screen_and_no_verdict_is_cut() {
        let (mut home, _folder) =
            Home::demo(Clock::system(), Dice::from_system().unwrap()).unwrap();
        for mark in ["OD1", "OD2", "OW1", "GC1", "HL1"] {
            let it = home.compare(mark, None).unwrap();
            for extent in [Extent::First, Extent::All] {
                for line in comparison_lines(&it, extent, NARROW) {
                    assert!(width(&line.text()) <= NARROW, "{mark}: {}", line.text());
                }
            }
            for line in &it.lines {
                let text = group_of(line.against)
                    .row_line(&comparison_row(line, &it.found), NARROW)
                    .text();
                let verdict = line.outcome.words(line.against);
                let silent = text.contains("only by ") || text.contains("none, as hoped");
                assert!(text.contains(verdict) || silent, "{mark}: {text}");
                let guesses = line.outcome == Outcome::CannotTellYet && line.judged.is_some();
                assert!(!guesses || text.contains("?)"), "{mark}: {text}");
            }
        }
    }

    /// The text, the Markdown and the JSON of T1 after Ana gave these answers to a recipe.
    fn told_after(document: &str, changes: &[NotesChange]) -> [String; 3] {
        let mut home = Home::trial();
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("recipe.toml");
        std::fs::write(&file, document).unwrap();
        home.add_batch(&file, Some("T1")).unwrap();
        let ana = home.add_taster("Ana").unwrap();
        let mut tasting = home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        home.change(&mut tasting, changes).unwrap();
        home.lock(&mut tasting).unwrap();
        let it = home.compare("T1", None).unwrap();
        let lines = comparison_lines(&it, Extent::All, NARROW);
        [
            lines.iter().map(|line| line.text() + "\n").collect(),
            comparison_markdown(&it),
            comparison_json(&it, home.wheel()).to_string(),
        ]
    }

    /// A heading over nothing: the next line is empty, or another heading of a table.
    fn has_empty_table(text: &str) -> bool {
        let lines: Vec<&str> = text.lines().collect();
        let heads = ["Hoped for ", "Predicted from", "Who said what", "|---"];
        let is_head = |line: &str| heads.iter().any(|it| line.starts_with(it));
        let pairs = lines.windows(2);
        pairs
            .into_iter()
            .any(|it| is_head(it[0]) && (it[1].trim().is_empty() || is_head(it[1])))
    }

    #[test]
    fn a_glass_with_little_in_it_is_told_in_sentences_without_empty_tables() {
        let rated =
            |id: &str, rating| NotesChange::Rated(Scale::from_id(id).unwrap(), Some(rating));
        let skipped: Vec<NotesChange> = SCALES
            .iter()
            .map(|it| NotesChange::Rated(it, Some(Rating::Skipped)))
            .collect();
        let bare = "name = \"Bare\"\nversion = \"1\"\nvolume = \"5 L\"\n\n[[fermentable]]\nname = \"Table sugar\"\namount = \"500 g\"\n";
        let one = [rated("bitter", Rating::Rated(4.0))];
        for (document, hopes) in [(TRIAL_RECIPE, true), (bare, false)] {
            for changes in [&[][..], &one[..], &skipped[..]] {
                let told = told_after(document, changes);
                for text in &told {
                    assert!(!text.contains("NaN") && !text.contains("inf "), "{text}");
                    assert!(!has_empty_table(text), "{text}");
                }
                let no_hope = "The recipe hopes for nothing";
                assert_eq!(told[0].contains(no_hope), !hopes, "{}", told[0]);
                assert!(told[0].contains("Next: "), "{}", told[0]);
            }
        }
    }

    #[test]
    fn the_first_page_holds_ten_lines_and_the_whole_one_says_why() {
        let (mut home, _folder) =
            Home::demo(Clock::system(), Dice::from_system().unwrap()).unwrap();
        let it = home.compare("OD1", None).unwrap();
        let text = |extent| -> String {
            let lines = comparison_lines(&it, extent, NARROW);
            lines.iter().map(|line| line.text() + "\n").collect()
        };
        let (first, all) = (text(Extent::First), text(Extent::All));
        let charts = |text: &str| text.matches('·').count() > 0;
        assert!(charts(&first) && first.matches("glass ").count() >= 1);
        assert!(!first.contains("8 times in 10 the true difference"));
        assert!(all.contains("8 times in 10 the true difference"));
        assert!(all.contains("Who said what") && !first.contains("Who said what"));
        assert!(!all.contains("NaN") && !all.contains("inf "), "{all}");
    }
}
