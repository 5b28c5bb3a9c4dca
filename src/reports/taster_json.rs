//! One taster's page as JSON.

use serde_json::Value;
use serde_json::json;

use crate::domain::DescriptorId;
use crate::reports::confidence_report::confidence_json;
use crate::reports::panel_report::days_json;
use crate::reports::panel_report::interval_json;
use crate::reports::panel_report::line_json;
use crate::reports::panel_report::noise_json;
use crate::reports::record_report::record_json;
use crate::statistics::Count;
use crate::statistics::Drift;
use crate::statistics::Slope;
use crate::workflow::ChartKind;
use crate::workflow::Circumstances;
use crate::workflow::NamingRecord;
use crate::workflow::NoCircumstances;
use crate::workflow::TasterChart;
use crate::workflow::TasterCharts;
use crate::workflow::TasterPage;
use crate::workflow::ToPractise;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// A taster's page as JSON; what is not there yet is null, with its reason beside it where there is one.
#[must_use]
pub fn taster_json(it: &TasterPage) -> Value {
    json!({
        "format": VERSION,
        "taster": it.taster.name.as_str(),
        "glasses": it.glasses,
        "off_form": it.off_form,
        "sittings": it.sittings,
        "imported": it.imported,
        "ratings": it.measures.ratings,
        "strays": it.measures.noise.filter(|it| it.pairs > 0).map(noise_json),
        "days": days_json(it.measures.days),
        "lines": it.measures.lines.iter().map(line_json).collect::<Vec<_>>(),
        "apart_from_others": it.biased,
        "told_apart": it.told_apart,
        "not_told_apart": it.not_told_apart,
        "naming": naming_json(&it.naming),
        "practice": confidence_json(&it.confidence),
        "blind_tests": record_json(&it.blind),
        "charts": charts_json(&it.charts),
        "circumstances": circumstances_json(&it.circumstances),
        "to_practise": it.to_practise.iter().map(next_json).collect::<Vec<_>>(),
    })
}

fn naming_json(it: &NamingRecord) -> Value {
    let count = |it: Option<Count>| {
        it.filter(|it| it.tries() > 0)
            .map(|it| json!({ "hits": it.hits(), "tries": it.tries() }))
    };
    json!({
        "pairs": it.pairs,
        "agreement": it.twice.share(),
        "agreement_of_different_beers": it.shuffled.share(),
        "hits": count(it.all_hits()),
        "false_alarms": count(it.all_false_alarms()),
    })
}

const fn drift_word(it: Drift) -> &'static str {
    match it {
        Drift::Up => "up",
        Drift::Down => "down",
    }
}

fn charts_json(it: &TasterCharts) -> Value {
    match it {
        TasterCharts::NotYet { sittings, needed } => json!({
            "kind": null,
            "sittings": sittings,
            "needed": needed,
            "charts": [],
        }),
        TasterCharts::Charts { kind, charts } => json!({
            "kind": match kind {
                ChartKind::WeightedMean => "weighted-mean",
                ChartKind::CumulativeSum => "cumulative-sum",
            },
            "sittings": null,
            "needed": null,
            "charts": charts.iter().map(chart_json).collect::<Vec<_>>(),
        }),
    }
}

fn chart_json(it: &TasterChart) -> Value {
    json!({
        "line": it.line,
        "baseline": it.baseline,
        "target": it.target,
        "signal": it.signal.map(|(drift, day)| json!({
            "side": drift_word(drift),
            "since": day.to_string(),
        })),
        "points": it.points.iter().map(|it| json!({
            "day": it.day.to_string(),
            "gap": it.gap,
            "value": it.value,
            "limits": it.limits,
        })).collect::<Vec<_>>(),
    })
}

fn circumstances_json(found: &Result<Circumstances, NoCircumstances>) -> Value {
    let slope = |it: Slope| json!({ "value": it.value, "interval": interval_json(it.interval), "p": it.p.get() });
    let slopes = found.as_ref().ok();
    let (glasses, sittings) = match found {
        Ok(it) => (Some(it.glasses), None),
        Err(NoCircumstances::NotYet {
            glasses, sittings, ..
        }) => (Some(*glasses), Some(*sittings)),
        Err(NoCircumstances::Tied) => (None, None),
    };
    let reason = match found {
        Ok(_) => None,
        Err(NoCircumstances::NotYet { .. }) => Some("too few glasses or sittings"),
        Err(NoCircumstances::Tied) => Some("they always changed together"),
    };
    json!({
        "glasses": glasses,
        "sittings": sittings,
        "reason": reason,
        "later_glass": slopes.map(|it| slope(it.later_glass)),
        "later_hour": slopes.map(|it| slope(it.later_hour)),
        "longer_pause": slopes.map(|it| slope(it.longer_pause)),
    })
}

fn next_json(it: &ToPractise) -> Value {
    let (kind, pairs, series, jars) = match it {
        ToPractise::Duplicates { pairs } => ("duplicates", Some(pairs), None, None),
        ToPractise::Series { line, side } => ("series", None, Some((line, *side)), None),
        ToPractise::Jars(jars) => ("jars", None, None, Some(jars)),
    };
    json!({
        "kind": kind,
        "pairs": pairs,
        "line": series.map(|it| it.0),
        "side": series.map(|it| drift_word(it.1)),
        "words": jars.map(|all| all.iter().map(DescriptorId::as_str).collect::<Vec<_>>()),
    })
}
