//! What a panel found: by code while they talk, by beer once it was told, and one taster's own page.

use serde_json::Value;
use serde_json::json;

use crate::domain::BlindingCode;
use crate::domain::Name;
use crate::domain::Scale;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::uncapitalised;
use crate::reports::comparison_report::wrapped;
use crate::reports::noise_words::noise_words;
use crate::reports::panel_plan_report::panel_table_json;
use crate::reports::verdict_words::digits_words;
use crate::workflow::About;
use crate::workflow::Apart;
use crate::workflow::DoubledPair;
use crate::workflow::OwnPage;
use crate::workflow::PanelLine;
use crate::workflow::PanelResult;
use crate::workflow::PanelTalk;
use crate::workflow::PanelWord;
use crate::workflow::Summary;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// Words that are told of one glass.
const MOST_WORDS: usize = 12;

/// Whether those who stand apart are named.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TalkNames {
    /// Somebody does.
    Hidden,
    /// The group wants to know who.
    Shown,
}

/// What a panel talks about, as lines of at most `cells` cells.
#[must_use]
pub fn panel_talk_lines(it: &PanelTalk, names: TalkNames, cells: usize) -> Vec<Line> {
    let title = format!("Panel {}: what was found, by code", it.table.panel.number);
    let mut lines = vec![Line::of(Ink::Title, title)];
    let how = "The middle of all answers, the lowest to the highest, and by how many. Nobody has to agree: say what you found, smell once more, and listen.";
    lines.extend(wrapped(Ink::Quiet, how, cells));
    lines.extend(knew_lines(&it.knew, cells));
    for (at, glass) in it.glasses.iter().enumerate() {
        lines.push(Line::blank());
        lines.push(Line::of(Ink::Strong, format!("Glass {}", glass.code)));
        lines.extend(found_lines(&glass.lines, &glass.words, glass.faulty, cells));
        for apart in it.apart.iter().filter(|it| it.at == at) {
            let who = match names {
                TalkNames::Hidden => "Somebody",
                TalkNames::Shown => apart.taster.as_str(),
            };
            lines.extend(wrapped(Ink::Good, &apart_words(who, apart), cells));
        }
    }
    lines.push(Line::blank());
    lines.extend(wrapped(Ink::Quiet, apart_note(&it.apart), cells));
    let noise = noise_words(it.noise);
    lines.extend(
        noise
            .into_iter()
            .flat_map(|it| wrapped(Ink::Quiet, it, cells)),
    );
    lines
}

/// What a panel found, as lines of at most `cells` cells.
#[must_use]
pub fn panel_result_lines(it: &PanelResult, cells: usize) -> Vec<Line> {
    let number = it.table.panel.number;
    let mut lines = vec![Line::of(Ink::Title, format!("What panel {number} found"))];
    let how = "The middle of all answers, the lowest to the highest, and by how many tasters, as everybody answered alone; beside it after the talk, where somebody looked again.";
    lines.extend(wrapped(Ink::Quiet, how, cells));
    lines.extend(knew_lines(&it.knew, cells));
    lines.extend(left_lines(it, cells));
    for beer in it.beers.iter().filter(|it| it.codes.len() > 1) {
        let told = format!(
            "{} stood before everybody two times, as {}. What each one answered the two times is theirs alone to see: thirdglass panel result {number} --taster NAME",
            beer.mark,
            codes_words(&beer.codes)
        );
        lines.extend(wrapped(Ink::Strong, &told, cells));
    }
    for (at, beer) in it.beers.iter().enumerate() {
        lines.push(Line::blank());
        let head = Line::of(Ink::Strong, beer.mark.as_str());
        lines.push(head.and(Ink::Quiet, poured_words(&beer.codes)));
        lines.extend(found_lines(&beer.lines, &beer.words, beer.faulty, cells));
        if let Some(liking) = &beer.liking {
            lines.push(line_row(liking));
        }
        for apart in it.apart.iter().filter(|it| it.at == at) {
            let words = apart_words(apart.taster.as_str(), apart);
            lines.extend(wrapped(Ink::Good, &words, cells));
        }
    }
    lines.push(Line::blank());
    lines.extend(wrapped(Ink::Quiet, apart_note(&it.apart), cells));
    let noise = noise_words(it.noise);
    lines.extend(
        noise
            .into_iter()
            .flat_map(|it| wrapped(Ink::Quiet, it, cells)),
    );
    lines
}

/// Who left before the end.
fn left_lines(it: &PanelResult, cells: usize) -> Vec<Line> {
    let left = it.table.people.iter().filter(|it| it.left);
    let left: Vec<&str> = left.map(|it| it.taster.name.as_str()).collect();
    if left.is_empty() {
        return Vec::new();
    }
    let names = left.join(", ");
    let told = format!("Left before the end: {names}. What they locked counts.");
    wrapped(Ink::Quiet, &told, cells)
}

/// What only this taster is to see, as lines of at most `cells` cells.
#[must_use]
pub fn panel_own_lines(it: &OwnPage, cells: usize) -> Vec<Line> {
    let title = format!("Panel {}, for {} alone", it.number, it.taster);
    let mut lines = vec![Line::of(Ink::Title, title)];
    if it.pairs.is_empty() {
        let none = "No beer stood before you two times, so this panel says nothing of how steady your answers are.";
        lines.extend(wrapped(Ink::Plain, none, cells));
    }
    for pair in &it.pairs {
        lines.push(Line::blank());
        lines.extend(pair_lines(pair, cells));
    }
    if !it.pairs.is_empty() {
        lines.push(Line::blank());
        let note = "Two answers of one evening always differ a little: a digit is usual for everybody. One pair says little; over several panels it adds up to how far your answers can be trusted.";
        lines.extend(wrapped(Ink::Quiet, note, cells));
    }
    for (mark, apart) in &it.apart {
        let words = format!("{mark}: {}", apart_words("you", apart));
        lines.extend(wrapped(Ink::Good, &words, cells));
    }
    if !it.apart.is_empty() {
        lines.extend(wrapped(Ink::Quiet, APART_NOTE, cells));
    }
    lines
}

/// A taster's two answers to one beer.
fn pair_lines(pair: &DoubledPair, cells: usize) -> Vec<Line> {
    let [first, second] = pair.codes;
    let mark = &pair.mark;
    let told = match pair.lines.len() {
        0 => format!(
            "{mark} was glass {first} and glass {second}. You gave no scale a number at both, so there is nothing to compare."
        ),
        all => format!(
            "{mark} was glass {first} and later glass {second}. On {} of {all} scales your two answers lie at most one digit apart.",
            pair.close()
        ),
    };
    let mut lines = wrapped(Ink::Strong, &told, cells);
    lines.extend(pair.lines.iter().map(|(scale, two)| {
        let [one, other] = two.map(|it| shown(scale, scale.digits(it)));
        Line::plain(format!("  {:<24} {one:>5}  {other:>5}", scale.word))
    }));
    lines
}

fn knew_lines(knew: &[Name], cells: usize) -> Vec<Line> {
    if knew.is_empty() {
        return Vec::new();
    }
    let names: Vec<&str> = knew.iter().map(Name::as_str).collect();
    let told = format!(
        "Not counted here, because they knew what was in the glasses: {}.",
        names.join(", ")
    );
    wrapped(Ink::Quiet, &told, cells)
}

/// The glasses of a beer.
fn poured_words(codes: &[BlindingCode]) -> String {
    let means = if codes.len() > 1 {
        ", each one's answers averaged"
    } else {
        ""
    };
    format!("   glass {}{means}", codes_words(codes))
}

fn codes_words(codes: &[BlindingCode]) -> String {
    let codes: Vec<String> = codes.iter().map(BlindingCode::to_string).collect();
    codes.join(" and ")
}

/// The scales and words of a glass.
fn found_lines(lines: &[PanelLine], words: &[PanelWord], faulty: usize, cells: usize) -> Vec<Line> {
    let mut told: Vec<Line> = lines.iter().map(line_row).collect();
    let named: Vec<String> = words.iter().take(MOST_WORDS).map(word_words).collect();
    if !named.is_empty() {
        told.extend(wrapped(
            Ink::Plain,
            &format!("  Words: {}", named.join(", ")),
            cells,
        ));
    }
    if lines.is_empty() && words.is_empty() {
        told.push(Line::of(Ink::Quiet, "  Nobody rated or named anything."));
    }
    if faulty > 0 {
        let bad = format!("  From a bad bottle, not counted: {faulty}.");
        told.push(Line::of(Ink::Alert, bad));
    }
    told
}

fn line_row(line: &PanelLine) -> Line {
    let summary = |it: &Summary| {
        let shown = |digits| shown(line.scale, digits);
        let range = format!("{} to {}", shown(it.lowest), shown(it.highest));
        format!("{:>5}  {range:<11}", shown(it.median))
    };
    let first = summary(&line.first);
    let row = format!(
        "  {:<20} {first} by {}",
        line.scale.word, line.first.tasters
    );
    match &line.after {
        Some(after) => Line::plain(row).and(Ink::Good, format!("  then {}", summary(after))),
        None => Line::plain(row),
    }
}

/// A place among the digits in the unit of its scale.
fn shown(scale: &'static Scale, digits: f64) -> String {
    digits_words(&About::Scale(scale), Some(digits))
}

fn word_words(it: &PanelWord) -> String {
    match it.after {
        Some(after) if after != it.first => format!("{} {} (then {after})", it.word, it.first),
        _ => format!("{} {}", it.word, it.first),
    }
}

/// One who stands apart, kindly.
fn apart_words(who: &str, it: &Apart) -> String {
    let (own, others) = (shown(it.scale, it.answer), shown(it.scale, it.others));
    let scale = uncapitalised(it.scale.word);
    format!("  {who} found something else on {scale}: {own}, where the others are around {others}.")
}

/// What standing apart means, kindly.
const APART_NOTE: &str = "Who stands apart is not wrong: it can be a finer nose, another way of using the scale, or the day. Taste that glass once more together.";

const fn apart_note(apart: &[Apart]) -> &'static str {
    if apart.is_empty() {
        "Nobody stands further from the others than answers stray anyhow. A small panel only notices large differences."
    } else {
        APART_NOTE
    }
}

/// What a panel talks about, as JSON; amounts are digits of their scales, 0 to 9.
#[must_use]
pub fn panel_talk_json(it: &PanelTalk, names: TalkNames) -> Value {
    let glasses = it.glasses.iter().enumerate().map(|(at, glass)| {
        let apart = it.apart.iter().filter(|it| it.at == at);
        json!({
            "code": glass.code.get(),
            "scales": glass.lines.iter().map(line_json).collect::<Vec<_>>(),
            "words": glass.words.iter().map(word_json).collect::<Vec<_>>(),
            "bad_bottles": glass.faulty,
            "apart": apart.map(|it| apart_json(it, names)).collect::<Vec<_>>(),
        })
    });
    json!({
        "format": VERSION,
        "panel": panel_table_json(&it.table),
        "glasses": glasses.collect::<Vec<_>>(),
        "not_counted": it.knew.iter().map(Name::as_str).collect::<Vec<_>>(),
    })
}

/// What a panel found, as JSON; amounts are digits of their scales, 0 to 9.
#[must_use]
pub fn panel_result_json(it: &PanelResult) -> Value {
    let beers = it.beers.iter().enumerate().map(|(at, beer)| {
        let apart = it.apart.iter().filter(|it| it.at == at);
        json!({
            "beer": beer.mark.as_str(),
            "codes": beer.codes.iter().map(|it| it.get()).collect::<Vec<_>>(),
            "scales": beer.lines.iter().map(line_json).collect::<Vec<_>>(),
            "words": beer.words.iter().map(word_json).collect::<Vec<_>>(),
            "liking": beer.liking.as_ref().map(line_json),
            "bad_bottles": beer.faulty,
            "apart": apart.map(|it| apart_json(it, TalkNames::Shown)).collect::<Vec<_>>(),
        })
    });
    json!({
        "format": VERSION,
        "panel": panel_table_json(&it.table),
        "beers": beers.collect::<Vec<_>>(),
        "not_counted": it.knew.iter().map(Name::as_str).collect::<Vec<_>>(),
    })
}

/// What only this taster is to see, as JSON; amounts are in the units of their scales.
#[must_use]
pub fn panel_own_json(it: &OwnPage) -> Value {
    let pairs = it.pairs.iter().map(|pair| {
        let scales = pair.lines.iter();
        let scales = scales.map(|(scale, two)| json!({ "scale": scale.id, "answers": two }));
        json!({
            "beer": pair.mark.as_str(),
            "codes": pair.codes.map(BlindingCode::get),
            "scales": scales.collect::<Vec<_>>(),
            "within_one_digit": pair.close(),
        })
    });
    let apart = it.apart.iter().map(|(mark, it)| {
        let mut json = apart_json(it, TalkNames::Shown);
        json["beer"] = json!(mark.as_str());
        json
    });
    json!({
        "format": VERSION,
        "number": it.number,
        "taster": it.taster.as_str(),
        "pairs": pairs.collect::<Vec<_>>(),
        "apart": apart.collect::<Vec<_>>(),
    })
}

fn line_json(it: &PanelLine) -> Value {
    let summary = |it: &Summary| {
        json!({
            "median": it.median, "lowest": it.lowest, "highest": it.highest, "tasters": it.tasters
        })
    };
    json!({
        "scale": it.scale.id,
        "alone": summary(&it.first),
        "after_talk": it.after.as_ref().map(summary),
    })
}

fn word_json(it: &PanelWord) -> Value {
    json!({ "word": it.word, "alone": it.first, "after_talk": it.after })
}

fn apart_json(it: &Apart, names: TalkNames) -> Value {
    let name = (names == TalkNames::Shown).then_some(it.taster.as_str());
    json!({ "taster": name, "scale": it.scale.id, "answer": it.answer, "others": it.others })
}
