//! How far the ratings of a panel can be trusted, as lines and as JSON.

use serde_json::Value;
use serde_json::json;

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::safe_text;
use crate::reports::comparison_report::wrapped;
use crate::statistics::FOutcome;
use crate::statistics::FTest;
use crate::statistics::Interval;
use crate::statistics::Intraclass;
use crate::statistics::KrippendorffAlpha;
use crate::statistics::LineNoise;
use crate::statistics::Measured;
use crate::statistics::NoAlpha;
use crate::statistics::RaterNoise;
use crate::statistics::Scatter;
use crate::statistics::least_rank_difference;
use crate::workflow::GapToOthers;
use crate::workflow::LineAgreement;
use crate::workflow::LinePrecision;
use crate::workflow::NoScatter;
use crate::workflow::PanelMeasures;
use crate::workflow::TasterLine;
use crate::workflow::TasterMeasures;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// Cells of a name.
const NAME: usize = 20;

/// A number with its sign and one digit; what rounds to nothing is +0.0, never −0.0.
pub(super) fn signed(value: f64) -> String {
    format!("{:+.1}", (value * 10.0).round() / 10.0 + 0.0)
}

/// What stands where there is no measure.
const NOT_YET: &str = "not yet";

/// The measures of a panel as lines of at most `cells` cells.
#[must_use]
pub fn panel_lines(it: &PanelMeasures, cells: usize) -> Vec<Line> {
    if it.ratings == 0 {
        let none = "Nothing to measure yet: only glasses under a code count, once it was told what was in them. A panel or two glasses side by side make some.";
        return wrapped(Ink::Plain, none, cells);
    }
    let mut lines = vec![Line::of(Ink::Title, head_words(it)), Line::blank()];
    lines.push(Line::of(Ink::Strong, "How far all agree"));
    let columns = format!("  {:<NAME$} glasses  alpha    W        ICC(A,1)", "");
    lines.push(Line::of(Ink::Quiet, columns));
    lines.extend(it.lines.iter().map(|it| Line::plain(agreement_row(it))));
    lines.extend(
        it.lines
            .iter()
            .filter_map(worth_words)
            .flat_map(|text| wrapped(Ink::Plain, &text, cells)),
    );
    for taster in &it.tasters {
        lines.push(Line::blank());
        lines.extend(taster_block(taster, cells));
    }
    lines.push(Line::blank());
    for text in [
        "alpha, W and ICC run to 1 where all agree. By chance alone alpha and ICC lie near 0, and W near 1 divided by the number of tasters. ICC(A,1) is what one taster's number is worth, Shrout & Fleiss form (2,1).",
        "strays: how far one answer to the same glass lies off, before rounding; borrowed in part from other lines and tasters until eight glasses were poured twice. p: how often so clear a difference between samples comes by chance. beside: Lin's concordance with the mean of the others, 1 is the same. above: digits above the others.",
        "Where it says not yet, the file holds too little; --json tells each reason. Nobody is ranked: who strays most gains most from one more glass poured twice.",
    ] {
        lines.extend(wrapped(Ink::Quiet, text, cells));
    }
    lines
}

/// How much there is, by whom and when.
fn head_words(it: &PanelMeasures) -> String {
    let days = it.days.map_or_else(String::new, |(first, last)| {
        if first == last {
            format!(" on {first}")
        } else {
            format!(" from {first} to {last}")
        }
    });
    format!(
        "{} by {} on {}{days}",
        counted(it.ratings as u64, "rating"),
        counted(it.tasters.len() as u64, "taster"),
        counted(it.lines.len() as u64, "line")
    )
}

/// So many of a thing: `1 line`, `3 lines`.
pub(super) fn counted(number: u64, thing: &str) -> String {
    let more = if number == 1 { "" } else { "s" };
    format!("{number} {thing}{more}")
}

/// What the agreement on a line is worth, in a sentence (Krippendorff 2004: 0.8 for conclusions, 0.667 for
/// careful ones, from memory).
fn worth_words(it: &LineAgreement) -> Option<String> {
    let alpha = it.alpha.as_ref().ok()?.value;
    let worth = match alpha {
        alpha if alpha >= 0.8 => "agree well; its numbers can be built on",
        alpha if alpha >= 0.667 => "agree enough for careful conclusions",
        alpha if alpha >= 0.2 => "agree a little: compare words before numbers",
        _ => "agree hardly more than by chance: no beer should be judged by it yet",
    };
    Some(format!("  {}: all {worth}.", safe_text(&it.line, NAME)))
}

fn agreement_row(it: &LineAgreement) -> String {
    let number = |value: Option<f64>| value.map_or(NOT_YET.to_owned(), |it| format!("{it:.2}"));
    let alpha = number(it.alpha.as_ref().ok().map(|it| it.value));
    let ranks = number(it.ranks.as_ref().ok().map(|it| it.concordance));
    let agreement = it.intraclass.as_ref().ok().and_then(|all| all.get(1));
    let intraclass = number(agreement.map(|it| it.value));
    let name = safe_text(&it.line, NAME);
    format!(
        "  {name:<NAME$} {:>7}  {alpha:<7}  {ranks:<7}  {intraclass}",
        it.glasses
    )
}

fn taster_block(it: &TasterMeasures, cells: usize) -> Vec<Line> {
    let mut lines = vec![Line::of(
        Ink::Strong,
        format!(
            "{}: {}",
            safe_text(&it.taster, NAME),
            counted(it.ratings, "rating")
        ),
    )];
    let noise = match it.noise {
        Some(noise) if noise.pairs > 0 => {
            let range = noise.scatter.interval();
            format!(
                "  One answer strays by {:.1} digits ({:.1} to {:.1}), from {} pairs of answers between 2 and 7 to glasses poured twice.",
                noise.scatter.sd(),
                range.low,
                range.high,
                noise.pairs
            )
        }
        _ => "  How far answers stray: not yet, after two glasses poured twice without saying so."
            .to_owned(),
    };
    lines.extend(wrapped(Ink::Plain, &noise, cells));
    let columns = format!("  {:<NAME$} strays           p        beside   above", "");
    lines.push(Line::of(Ink::Quiet, columns));
    let rows = it.lines.iter();
    lines.extend(rows.map(|it| Line::plain(line_row(&it.line, it))));
    lines
}

/// The measures of one line under a name, as a row.
pub(super) fn line_row(name: &str, it: &TasterLine) -> String {
    let strays = it.noise.map_or_else(no_scatter, |noise| {
        let borrowed = match noise.measured {
            Measured::OnItsOwn => "measured",
            Measured::MostlyBorrowed => "borrowed",
        };
        format!("{:.1} {borrowed}", noise.scatter.sd())
    });
    let told = it.discrimination.as_ref().ok();
    let told = told.map_or(NOT_YET.to_owned(), |it| chance_words(&it.test));
    let beside = it.concordance.as_ref().ok();
    let beside = beside.map_or(NOT_YET.to_owned(), |it| format!("{:.2}", it.coefficient));
    // Sittings are what counts; where there are too few, the glasses of those there are.
    let of_sittings = it.standing.map(|it| (it.value, it.interval));
    let of_glasses = it.bias.as_ref().ok();
    let of_glasses = of_glasses.map(|it| (it.bias.value, it.bias.interval));
    let above = of_sittings.or(of_glasses);
    let above = above.map_or(NOT_YET.to_owned(), |(value, Interval { low, high })| {
        let [value, low, high] = [value, low, high].map(signed);
        format!("{value} ({low} to {high})")
    });
    let name = safe_text(name, NAME);
    format!("  {name:<NAME$} {strays:<15}  {told:<7}  {beside:<7}  {above}")
}

/// Why there is no scatter, in a word or two.
fn no_scatter(why: NoScatter) -> String {
    match why {
        NoScatter::NothingTwice => NOT_YET.to_owned(),
        NoScatter::AlwaysTheSame => "always the same".to_owned(),
    }
}

/// How often chance alone makes samples differ so.
fn chance_words(test: &FTest) -> String {
    match test.outcome {
        FOutcome::Ratio { p, .. } if p.get() < 0.001 => "< .001".to_owned(),
        FOutcome::Ratio { p, .. } => format!("{:.3}", p.get()),
        FOutcome::NothingScatters => "exact".to_owned(),
        FOutcome::NothingDiffers => "same".to_owned(),
    }
}

/// The measures of a panel as JSON; of what is not there yet every key is null but for the reason.
#[must_use]
pub fn panel_json(it: &PanelMeasures) -> Value {
    json!({
        "format": VERSION,
        "ratings": it.ratings,
        "first_day": it.days.map(|it| it.0.to_string()),
        "last_day": it.days.map(|it| it.1.to_string()),
        "lines": it.lines.iter().map(agreement_json).collect::<Vec<_>>(),
        "tasters": it.tasters.iter().map(|it| json!({
            "taster": it.taster,
            "ratings": it.ratings,
            "strays": it.noise.map(noise_json),
            "days": days_json(it.days),
            "lines": it.lines.iter().map(line_json).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
    })
}

/// The keys of each measure, which are there without it too.
const RANKS: &[&str] = &[
    "rank_sums",
    "least_difference",
    "chi_square",
    "concordance",
    "p",
    "exact",
];
const PRECISION: &[&str] = &["glasses", "repeatability_sd", "reproducibility_sd"];
const STRAYS: &[&str] = &["sd", "interval", "pairs", "measured"];
const DISCRIMINATION: &[&str] = &["mean", "samples", "f", "p", "repeatability_sd"];
const CONCORDANCE: &[&str] = &["value", "interval", "glasses"];
const BIAS: &[&str] = &["value", "interval", "limits"];

fn agreement_json(it: &LineAgreement) -> Value {
    let intraclass = it.intraclass.as_ref();
    let forms = intraclass
        .ok()
        .map(|all| all.iter().map(form_json).collect::<Vec<_>>());
    let ranks = it.ranks.as_ref().map(|it| {
        json!({
            "rank_sums": it.rank_sums,
            "least_difference": least_rank_difference(it.judges, it.rank_sums.len()),
            "chi_square": it.chi_square,
            "concordance": it.concordance,
            "p": it.exact_p.unwrap_or(it.approximate_p).get(),
            "exact": it.exact_p.is_some(),
        })
    });
    let alpha_of = |alpha: &Result<KrippendorffAlpha, NoAlpha>| {
        let alpha = alpha.as_ref();
        or_reason(
            &["value", "units"],
            alpha.map(|it| json!({ "value": it.value, "units": it.units })),
        )
    };
    json!({
        "line": it.line,
        "glasses": it.glasses,
        "tasters": it.tasters,
        "intraclass": forms,
        "intraclass_reason": intraclass.err(),
        "ranks": or_reason(RANKS, ranks),
        "alpha": alpha_of(&it.alpha),
        "ordinal_alpha": alpha_of(&it.ordinal_alpha),
        "precision": or_reason(PRECISION, it.precision.as_ref().map(|it| precision_json(*it))),
    })
}

fn form_json(it: &Intraclass) -> Value {
    json!({
        "form": it.form.name(),
        "value": it.value,
        "interval": it.interval.map(interval_json),
    })
}

fn precision_json(it: LinePrecision) -> Value {
    json!({
        "glasses": it.glasses,
        "repeatability_sd": it.repeatability_sd,
        "reproducibility_sd": it.reproducibility_sd,
    })
}

/// The measures of one line as JSON.
pub(super) fn line_json(it: &TasterLine) -> Value {
    let told = it.discrimination.as_ref().map(|it| {
        let (f, p) = match it.test.outcome {
            FOutcome::Ratio { f, p } => (Some(f), Some(p.get())),
            FOutcome::NothingScatters | FOutcome::NothingDiffers => (None, None),
        };
        json!({
            "mean": it.mean,
            "samples": it.samples,
            "f": f,
            "p": p,
            "repeatability_sd": it.repeatability_sd,
        })
    });
    let beside = it.concordance.as_ref().map(|it| {
        json!({
            "value": it.coefficient,
            "interval": it.interval.map(interval_json),
            "glasses": it.pairs,
        })
    });
    let bias = it.bias.as_ref().map(|it| {
        json!({
            "value": it.bias.value,
            "interval": interval_json(it.bias.interval),
            "limits": [it.low.value, it.high.value],
        })
    });
    json!({
        "line": it.line,
        "strays": or_reason(STRAYS, it.noise.map(line_noise_json)),
        "discrimination": or_reason(DISCRIMINATION, told),
        "concordance": or_reason(CONCORDANCE, beside),
        "bias": or_reason(BIAS, bias),
        "spread": it.spread,
        "standing": it.standing.map(standing_json),
    })
}

/// How far above the others, by sittings.
fn standing_json(it: GapToOthers) -> Value {
    json!({
        "value": it.value,
        "interval": interval_json(it.interval),
        "p": it.p.get(),
        "sittings": it.sittings,
    })
}

/// A measure with no reason, or the same keys with nothing in them and the reason why.
fn or_reason<E: ToString>(keys: &[&str], measure: Result<Value, E>) -> Value {
    let missing = |reason: E| {
        let empty = keys.iter().map(|key| ((*key).to_owned(), Value::Null));
        (Value::Object(empty.collect()), Some(reason.to_string()))
    };
    let (mut json, reason) = measure.map_or_else(missing, |it| (it, None));
    json["reason"] = json!(reason);
    json
}

pub(super) fn interval_json(it: Interval) -> Value {
    json!([it.low, it.high])
}

/// How far answers move from day to day: the default with 0 pairs.
pub(super) fn days_json((scatter, pairs): (Scatter, u32)) -> Value {
    json!({
        "sd": scatter.sd(),
        "interval": (pairs > 0).then(|| interval_json(scatter.interval())),
        "pairs": pairs,
    })
}

pub(super) fn noise_json(it: RaterNoise) -> Value {
    json!({
        "sd": it.scatter.sd(),
        "interval": interval_json(it.scatter.interval()),
        "pairs": it.pairs,
    })
}

fn line_noise_json(it: LineNoise) -> Value {
    json!({
        "sd": it.scatter.sd(),
        "interval": interval_json(it.scatter.interval()),
        "pairs": it.pairs,
        "measured": it.measured == Measured::OnItsOwn,
    })
}

#[cfg(test)]
mod tests {
    use crate::drawing::width;
    use crate::workflow::Home;

    use super::*;

    /// What a table with this head and these rows comes to.
    fn measured(rows: &str) -> PanelMeasures {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("p.csv");
        let head = "taster,sitting,sample,replicate,date,line,intensity,low,high\n";
        std::fs::write(&file, [head, rows].concat()).unwrap();
        Home::trial().panel_measures(&file).unwrap()
    }

    #[test]
    fn one_answer_alone_is_told_in_sentences_and_no_line_is_too_long() {
        let it = measured("Ana,one,stout,1,2026-03-14,bitter,5,0,9\n");
        let lines = panel_lines(&it, 80);
        assert!(lines.iter().all(|it| width(&it.text()) <= 80));
        let told: Vec<String> = lines.iter().map(Line::text).collect();
        assert!(told.concat().contains("How far answers stray: not yet"));
        let json = panel_json(&it);
        assert!(json["lines"][0]["alpha"]["reason"].is_string(), "{json}");
        let strays = &json["tasters"][0]["lines"][0]["strays"];
        assert!(strays["value"].is_null() && strays["reason"].is_string());
    }

    #[test]
    fn who_always_says_five_is_told_so_and_has_no_interval() {
        let rows = (1..=8).map(|it| format!("Ana,one,stout,{it},2026-03-14,bitter,5,0,9"));
        let rows = rows.collect::<Vec<_>>().join("\n");
        let it = measured(&rows);
        let told: Vec<String> = panel_lines(&it, 80).iter().map(Line::text).collect();
        let told = told.join("\n");
        assert!(told.contains("always the same"), "{told}");
        assert!(told.contains("How far answers stray: not yet"), "{told}");
        let json = panel_json(&it);
        let taster = &json["tasters"][0];
        // A figure that is none would be null too, but without a reason.
        assert!(taster["lines"][0]["strays"]["reason"].is_string(), "{json}");
        assert!(taster["days"]["sd"].is_number(), "{json}");
    }
}
