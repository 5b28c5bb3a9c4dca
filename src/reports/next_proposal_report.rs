//! One proposal as lines: the changes, what each hope should come to, what is given up, and how to check it blind.

use crate::domain::PromisedChange;
use crate::drawing::Dumbbell;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::NextDetail;
use crate::reports::comparison_report::wrapped;
use crate::reports::panel_report::counted;
use crate::reports::panel_report::signed;
use crate::workflow::NextChange;
use crate::workflow::NextProposal;
use crate::workflow::Proof;
use crate::workflow::ProofSide;
use crate::workflow::Split;
use crate::workflow::SplitKind;
use crate::workflow::odds_words;

/// Cells of a name, and of a picture.
const NAME: usize = 26;
const CHART: usize = 28;
/// What moves by less is not shown in the short form, digits.
const MOVES: f64 = 0.3;
/// Alcohol of one evening from which a word is said, g: the upper end of what several countries call low risk a day
/// (from memory).
const MUCH: f64 = 20.0;
/// So many lines that only follow along are told in the short form.
const BESIDES: usize = 4;

/// One proposal, the first being number 0.
pub(super) fn proposal_lines(
    at: usize,
    it: &NextProposal,
    detail: NextDetail,
    cells: usize,
) -> Vec<Line> {
    let number = match it.changes.len() {
        1 => "One change",
        2 => "Two changes",
        _ => "Three changes",
    };
    let mut lines = vec![Line::of(Ink::Title, format!("{}. {number}", at + 1))];
    for change in &it.changes {
        lines.extend(change_lines(change, cells));
    }
    lines.extend(table(it, detail));
    lines.extend(given_up(it, detail, cells));
    lines.extend(odds(it, cells));
    lines.extend(it.split.iter().flat_map(|it| split_lines(it, cells)));
    let proofs = if detail == NextDetail::All {
        it.proofs.len()
    } else {
        1
    };
    if it.proofs.is_empty() {
        let none = "  No blind test that friends would sit through shows so small a move: taste both on three days instead.";
        lines.extend(wrapped(Ink::Quiet, none, cells));
    }
    lines.extend(
        it.proofs
            .iter()
            .take(proofs)
            .flat_map(|it| proof_lines(it, cells)),
    );
    lines
}

fn change_lines(it: &NextChange, cells: usize) -> Vec<Line> {
    let mut lines = wrapped(Ink::Strong, &format!("  {}", it.words), cells);
    if !it.brings.is_empty() {
        let brings = it
            .brings
            .iter()
            .map(|(label, by)| format!("{label} by {}", signed(*by)));
        let text = format!(
            "    because it moves {}",
            brings.collect::<Vec<_>>().join(", ")
        );
        lines.extend(wrapped(Ink::Plain, &text, cells));
    }
    if it.is_fruit {
        let text = "    its sugar ferments too and is in none of the figures: let it end before you bottle";
        lines.extend(wrapped(Ink::Alert, text, cells));
    }
    if it.is_new {
        let text = "    new to this kitchen, so what it does is less sure and the ranges are wider";
        lines.extend(wrapped(Ink::Quiet, text, cells));
    }
    lines
}

fn table(it: &NextProposal, detail: NextDetail) -> Vec<Line> {
    let moves =
        |it: &&PromisedChange| detail == NextDetail::All || (it.expected - it.now).abs() >= MOVES;
    let rows: Vec<&PromisedChange> = it.hopes.iter().filter(moves).collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let head = format!("  {:<NAME$} {:<CHART$}  now  then  hoped", "", "0 to 9");
    let mut lines = vec![Line::of(Ink::Quiet, head)];
    lines.extend(rows.into_iter().map(row));
    lines
}

fn row(it: &PromisedChange) -> Line {
    let it = &it.in_digits();
    let chart = Dumbbell {
        wished: it.hoped,
        range: Some((it.low, it.high)),
        found: Some(it.now),
        strays: None,
    };
    let name: String = it.label.chars().take(NAME).collect();
    let hoped = it.hoped.map_or_else(String::new, |it| format!("{it:.0}"));
    Line::plain(format!(
        "  {name:<NAME$} {}  {:>3.1}   {:>3.1}  {hoped:>5}",
        chart.cells(CHART),
        it.now,
        it.expected
    ))
}

/// What moves besides, and the figures.
fn given_up(it: &NextProposal, detail: NextDetail, cells: usize) -> Vec<Line> {
    let shown = if detail == NextDetail::All {
        it.besides.len()
    } else {
        BESIDES
    };
    let besides = it.besides.iter().take(shown);
    let besides = besides.map(PromisedChange::in_digits);
    let besides = besides.map(|it| format!("{} {:.1} to {:.1}", it.label, it.now, it.expected));
    let besides: Vec<String> = besides.collect();
    let figures = figure_words(it);
    let mut lines = Vec::new();
    let moved_besides = if besides.is_empty() {
        "  Nothing else moves by half a digit.".to_owned()
    } else {
        format!("  Moves besides: {}.", besides.join(", "))
    };
    lines.extend(wrapped(Ink::Plain, &moved_besides, cells));
    if !figures.is_empty() {
        lines.extend(wrapped(
            Ink::Plain,
            &format!("  By the recipe: {}.", figures.join(", ")),
            cells,
        ));
    }
    lines
}

/// The physical figures that move, and the cost.
fn figure_words(it: &NextProposal) -> Vec<String> {
    let moved = it.figures.iter().filter(|it| {
        let step = 0.5 * 10.0_f64.powi(-i32::try_from(it.decimals).unwrap_or(0));
        (it.after - it.before).abs() >= step
    });
    let figures = moved.map(|it| {
        let decimals = it.decimals;
        format!(
            "{} {:.decimals$} to {:.decimals$} {}",
            it.word.to_lowercase(),
            it.before,
            it.after,
            it.unit
        )
    });
    let mut figures: Vec<String> = figures.collect();
    figures.extend(
        it.cost
            .map(|(before, after)| format!("cost {before:.2} to {after:.2}")),
    );
    figures
}

fn odds(it: &NextProposal, cells: usize) -> Vec<Line> {
    let text = format!(
        "  On the whole nearer to your hopes: {}. The mean gap goes from {:.1} to {:.1} digits.",
        odds_words(it.chance),
        it.gap.0,
        it.gap.1
    );
    let mut lines = wrapped(Ink::Strong, &text, cells);
    let farther = it.hopes.iter().filter(|it| goes_away(it));
    let farther: Vec<String> = farther
        .map(PromisedChange::in_digits)
        .map(|it| format!("{} {:.1} to {:.1}", it.label, it.now, it.expected))
        .collect();
    if !farther.is_empty() {
        let text = format!("  Farther from a hope: {}.", farther.join(", "));
        lines.extend(wrapped(Ink::Alert, &text, cells));
    }
    lines
}

/// True for a hope that ends at least so far off as is told, and farther than it was.
fn goes_away(it: &PromisedChange) -> bool {
    it.hoped
        .is_some_and(|hoped| (it.expected - hoped).abs() - (it.now - hoped).abs() >= MOVES)
}

fn split_lines(it: &Split, cells: usize) -> Vec<Line> {
    let text = match it.kind {
        SplitKind::Glass => "  Before you brew: stir a pinch of the salt, dissolved in a little water, into one of two glasses of the old beer, and have somebody pour them blind. It costs two glasses.".to_owned(),
        SplitKind::Halves => format!(
            "  Divide the wort: {:.1} L as it was, {:.1} L with the change. Brewed apart it would take {:.1} pairs of brews to tell as much, because no two brews are alike.",
            it.litres, it.litres, it.worth
        ),
        SplitKind::Quarters => format!(
            "  Divide the wort in four of {:.1} L: neither change, one, the other, both. Each change is then seen twice, and whether one needs the other; brewed apart it would take {:.1} pairs of brews.",
            it.litres, it.worth
        ),
    };
    wrapped(Ink::Plain, &text, cells)
}

fn proof_lines(it: &Proof, cells: usize) -> Vec<Line> {
    let asks = it
        .direction
        .as_ref()
        .map_or_else(String::new, |(label, more)| {
            let which = match more {
                ProofSide::New => "the new one",
                ProofSide::Old => "the old one",
            };
            format!(" on “{label}”, more of it expected in {which}")
        });
    let [old, new] = it.cost.of_each;
    let rounds = counted(u64::from(it.rounds), "set");
    let days = if it.sittings > 1 {
        format!(", over {} days", it.sittings)
    } else {
        String::new()
    };
    let enough = if it.is_affordable {
        ""
    } else {
        " That is more than a quarter of the batch: fewer answers show only a larger difference."
    };
    let friends = counted(u64::from(it.friends), "friend");
    let all = if it.sittings > 1 { " in all" } else { "" };
    let much = if it.cost.grams / f64::from(it.sittings.max(1)) > MUCH {
        " That is much for one evening: spit, or ask more friends."
    } else {
        ""
    };
    let text = format!(
        "  Check it blind: {}{asks}, {} answers ({friends}, {rounds} each{days}; expected d′ {:.1}). It takes {old:.0} mL of the old and {new:.0} mL of the new beer, {:.0} g of alcohol a head{all}.{enough}{much}",
        it.method.name, it.answers, it.distance, it.cost.grams
    );
    wrapped(Ink::Plain, &text, cells)
}
