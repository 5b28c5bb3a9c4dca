//! One taster's page, as lines: what is solid, what is mostly borrowed, what changes, what to practise next.

use crate::domain::Scale;
use crate::domain::Wheel;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::capitalised;
use crate::reports::comparison_report::wrapped;
use crate::reports::confidence_report::confidence_sentence;
use crate::reports::panel_report::counted;
use crate::reports::taster_beside_report::beside_words;
use crate::reports::taster_beside_report::naming_words;
use crate::reports::taster_line_report::chart_lines;
use crate::reports::taster_line_report::circumstances_words;
use crate::reports::taster_line_report::line_table;
use crate::statistics::CoverFactor;
use crate::statistics::Drift;
use crate::statistics::LineNoise;
use crate::statistics::Measured;
use crate::statistics::repeatability_limit;
use crate::workflow::TasterPage;
use crate::workflow::ToPractise;

/// Pairs on all lines together from which on a taster's scatter is solid (noise model: two duplicates over about
/// seventeen scales).
const SOLID_PAIRS: u32 = 30;

/// A taster's page as lines of at most `cells` cells.
#[must_use]
pub fn taster_lines(it: &TasterPage, wheel: &Wheel, cells: usize) -> Vec<Line> {
    let mut lines = vec![Line::of(Ink::Title, taster_title(it))];
    lines.extend(wrapped(Ink::Quiet, &counted_words(it), cells));
    for block in taster_blocks(it, wheel) {
        lines.push(Line::blank());
        lines.push(Line::of(Ink::Strong, block.head()));
        let texts = block.texts().iter();
        lines.extend(texts.flat_map(|text| wrapped(Ink::Plain, &format!("  {text}"), cells)));
    }
    lines.push(Line::blank());
    lines.extend(wrapped(Ink::Quiet, KIND_WORDS, cells));
    lines
}

/// The heading.
pub(super) fn taster_title(it: &TasterPage) -> String {
    format!("How far the notes of {} can be trusted", it.taster.name)
}

/// What stands below every page of a taster.
pub(super) const KIND_WORDS: &str = "Nobody is ranked here. How far answers stray is a habit of tasting, not a fault: it says how much two numbers must differ before a recipe is changed for it.";

/// A part of the page: its sentences, one paragraph each.
pub(super) enum TasterBlock {
    /// Something that is told and nothing else, under this heading.
    Told(&'static str, Vec<String>),
    /// Practice and blind tests.
    Practice(Vec<String>),
    /// What changes over time.
    Time(Vec<String>),
    /// What to practise next.
    Next(Vec<String>),
}

impl TasterBlock {
    /// Its heading.
    pub(super) const fn head(&self) -> &'static str {
        match self {
            Self::Told(head, _) => head,
            Self::Practice(_) => "Practice and blind tests",
            Self::Time(_) => "Over time",
            Self::Next(_) => "To practise next",
        }
    }

    /// Its sentences.
    pub(super) fn texts(&self) -> &[String] {
        match self {
            Self::Told(_, texts)
            | Self::Practice(texts)
            | Self::Time(texts)
            | Self::Next(texts) => texts,
        }
    }
}

/// The parts of the page that say anything.
pub(super) fn taster_blocks(it: &TasterPage, wheel: &Wheel) -> Vec<TasterBlock> {
    let mut blocks = vec![
        TasterBlock::Told(solid_title(it), solid_words(it)),
        TasterBlock::Told("Mostly borrowed", borrowed_words(it)),
        TasterBlock::Told("Beside the others", beside_words(it)),
        TasterBlock::Told("Telling beers apart", apart_words(it)),
        TasterBlock::Told("Words", naming_words(&it.naming)),
        TasterBlock::Practice(practice_words(it)),
        TasterBlock::Time(time_words(it)),
        TasterBlock::Next(next_words(it, wheel)),
    ];
    blocks.retain(|it| !it.texts().is_empty());
    blocks
}

/// Every line with its measures, and the charts over time.
#[must_use]
pub fn taster_detail_lines(it: &TasterPage, cells: usize) -> Vec<Line> {
    let mut lines = line_table(it, cells);
    lines.extend(chart_lines(&it.charts, cells));
    lines
}

/// The word of a line: that of a scale, or the name under which it was read in.
pub(super) fn line_word(line: &str) -> String {
    Scale::from_id(line).map_or_else(|_| line.to_owned(), |it| it.word.to_owned())
}

/// What counts, and what does not.
pub(super) fn counted_words(it: &TasterPage) -> String {
    let own = (it.glasses > 0).then(|| {
        let sittings = counted(it.sittings as u64, "sitting");
        format!("{} in {sittings}", glasses(it.glasses, "coded "))
    });
    let imported = (it.imported > 0).then(|| {
        let ratings = counted(it.imported, "rating");
        format!("{ratings} that were read in")
    });
    let mut texts: Vec<String> = own.into_iter().chain(imported).collect();
    if texts.is_empty() {
        texts.push("nothing yet".to_owned());
    }
    let left = match it.off_form {
        0 => String::new(),
        1 => " One glass is left out: with a cold, tired, after a meal, or knowing what it was."
            .to_owned(),
        more => format!(
            " {more} glasses are left out: with a cold, tired, after a meal, or knowing what it was."
        ),
    };
    format!(
        "Counted: {}. Only glasses under a code count here.{left}",
        texts.join(" and ")
    )
}

/// So many glasses of a kind: `1 glass`, `3 coded glasses`.
pub(super) fn glasses(number: usize, kind: &str) -> String {
    let more = if number == 1 { "" } else { "es" };
    format!("{number} {kind}glass{more}")
}

/// The lines with their noise, those with most pairs in front.
fn by_pairs(it: &TasterPage, wanted: Measured) -> Vec<(String, LineNoise)> {
    let lines = it.measures.lines.iter();
    let mut found: Vec<(String, LineNoise)> = lines
        .filter_map(|line| Some((line_word(&line.line), line.noise.ok()?)))
        .filter(|it| it.1.measured == wanted)
        .collect();
    found.sort_by_key(|it| std::cmp::Reverse(it.1.pairs));
    found
}

/// How far answers stray on each line, the lines that stray alike together.
fn strays(lines: &[(String, LineNoise)]) -> String {
    let mut groups: Vec<(String, Vec<String>)> = Vec::new();
    for (word, noise) in lines {
        let sd = format!("{:.1}", noise.scatter.sd());
        let word = word.to_lowercase();
        match groups.iter_mut().find(|it| it.0 == sd) {
            Some(group) => group.1.push(word),
            None => groups.push((sd, vec![word])),
        }
    }
    groups.sort_by(|a, b| a.0.cmp(&b.0));
    let told: Vec<String> = groups
        .iter()
        .map(|(sd, words)| format!("{} {sd}", words.join(", ")))
        .collect();
    told.join("; ")
}

/// What the first block is called: nothing is solid before a line was measured on its own, or all together well.
fn solid_title(it: &TasterPage) -> &'static str {
    let pairs = it.measures.noise.map_or(0, |it| it.pairs);
    if pairs >= SOLID_PAIRS || !by_pairs(it, Measured::OnItsOwn).is_empty() {
        "Solid"
    } else if pairs > 0 {
        "A first hint"
    } else {
        "How far answers stray"
    }
}

fn solid_words(it: &TasterPage) -> Vec<String> {
    let mut texts = Vec::new();
    let pairs = it.measures.noise.map_or(0, |it| it.pairs);
    match it.measures.noise.filter(|it| it.pairs > 0) {
        Some(noise) => {
            let (sd, range) = (noise.scatter.sd(), noise.scatter.interval());
            let as_answered = (sd * sd + 1.0 / 12.0).sqrt();
            texts.push(format!(
                "One answer strays by {sd:.1} digits ({:.1} to {:.1}), from {} of answers between 2 and 7 to the same beer twice. With the rounding to whole digits two answers to the same beer differ by up to {:.1} in 19 of 20.",
                range.low,
                range.high,
                counted(u64::from(pairs), "pair"),
                repeatability_limit(as_answered, CoverFactor::Normal)
            ));
        }
        None => texts.push(
            "Not yet: after two more hidden duplicates, the same beer twice under two codes in one sitting, it is told how far answers stray."
                .to_owned(),
        ),
    }
    let solid = by_pairs(it, Measured::OnItsOwn);
    if !solid.is_empty() {
        texts.push(format!("Measured line by line: {}.", strays(&solid)));
    }
    let (days, day_pairs) = it.measures.days;
    if day_pairs > 0 {
        let range = days.interval();
        texts.push(format!(
            "From day to day another {:.1} ({:.1} to {:.1}), from {} of days.",
            days.sd(),
            range.low,
            range.high,
            counted(u64::from(day_pairs), "pair")
        ));
    }
    texts
}

fn borrowed_words(it: &TasterPage) -> Vec<String> {
    let mut texts = Vec::new();
    let borrowed = by_pairs(it, Measured::MostlyBorrowed);
    if !borrowed.is_empty() {
        texts.push(format!(
            "Fewer than 8 pairs each, so taken in part from other lines and tasters: {}.",
            strays(&borrowed)
        ));
    }
    let same: Vec<String> = it
        .measures
        .lines
        .iter()
        .filter(|it| it.noise == Err(crate::workflow::NoScatter::AlwaysTheSame))
        .map(|it| line_word(&it.line).to_lowercase())
        .collect();
    if !same.is_empty() {
        texts.push(format!(
            "Always the same answer, which says nothing of how far it strays: {}.",
            same.join(", ")
        ));
    }
    if it.measures.days.1 == 0 {
        texts.push(
            "From day to day a default of 0.7, until a beer comes back under a code within a week."
                .to_owned(),
        );
    }
    texts
}

fn apart_words(it: &TasterPage) -> Vec<String> {
    let names = |all: &[String]| {
        let words: Vec<String> = all.iter().map(|it| line_word(it).to_lowercase()).collect();
        words.join(", ")
    };
    if it.told_apart.is_empty() && it.not_told_apart.is_empty() {
        return vec!["Not yet: after a sitting with two beers, one of them twice.".to_owned()];
    }
    let mut texts = Vec::new();
    if !it.told_apart.is_empty() {
        texts.push(format!(
            "By {}: farther apart than answers stray.",
            names(&it.told_apart)
        ));
    }
    if !it.not_told_apart.is_empty() {
        texts.push(format!(
            "Not by {}: the beers may have been alike there.",
            names(&it.not_told_apart)
        ));
    }
    texts
}

fn practice_words(it: &TasterPage) -> Vec<String> {
    let mut texts = vec![confidence_sentence(&it.confidence)];
    for method in &it.blind.methods {
        let others = if method.others.tries() == 0 {
            String::new()
        } else {
            format!(
                "; the others {} of {}",
                method.others.hits(),
                method.others.tries()
            )
        };
        texts.push(format!(
            "{}: {} of {} right{others}.",
            capitalised(method.method.name),
            method.own.hits(),
            method.own.tries()
        ));
    }
    texts
}

fn time_words(it: &TasterPage) -> Vec<String> {
    let mut texts = crate::reports::taster_line_report::drift_words(&it.charts);
    texts.extend(circumstances_words(&it.circumstances));
    texts
}

fn next_words(it: &TasterPage, wheel: &Wheel) -> Vec<String> {
    let words = |next: &ToPractise| match next {
        ToPractise::Duplicates { pairs: 0 } => {
            "A panel with a beer poured twice: it measures every line at once.".to_owned()
        }
        ToPractise::Duplicates { pairs } => format!(
            "More beers poured twice, of middling strength: the line with fewest pairs has {pairs} of the 8 that make it solid, and answers below 2 or above 7 make none."
        ),
        ToPractise::Series { line, side } => {
            let side = match side {
                Drift::Up => "above",
                Drift::Down => "below",
            };
            format!(
                "{} from weak to strong: answers lie {side} those of the others.",
                line_word(line)
            )
        }
        ToPractise::Jars(jars) => {
            let words: Vec<&str> = jars
                .iter()
                .filter_map(|id| wheel.descriptor(id))
                .map(|it| it.word.as_str())
                .collect();
            format!("Jars: {}.", words.join(", "))
        }
    };
    it.to_practise.iter().map(words).collect()
}
