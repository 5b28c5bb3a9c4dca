//! What practice says of a taster: one true sentence first, then hit rates, confusions and certainty.

use serde_json::Value;
use serde_json::json;

use crate::domain::DescriptorId;
use crate::domain::Wheel;
use crate::drawing::CellRoom;
use crate::drawing::Dumbbell;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::Picture;
use crate::drawing::wrap;
use crate::reports::Extent;
use crate::reports::comparison_report::wrapped;
use crate::reports::strength_report::strength_record_words;
use crate::reports::taster_picture::certainty_picture;
use crate::statistics::Count;
use crate::statistics::StatedChance;
use crate::workflow::Confidence;
use crate::workflow::HitRate;
use crate::workflow::HitRates;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// Rows of one list on the first page.
const FIRST: usize = 5;

/// Answers with a certainty from which it is said whether they can be trusted.
const ENOUGH: u32 = 20;

/// Cells of the plot.
const PLOT: usize = 21;

/// A taster's confidence as lines of at most `cells` cells.
#[must_use]
pub fn confidence_lines(it: &Confidence, wheel: &Wheel, extent: Extent, cells: usize) -> Vec<Line> {
    let title = format!("How far {} can trust nose and words", it.taster.name);
    let mut lines = vec![Line::of(Ink::Title, title)];
    lines.extend(wrapped(Ink::Strong, &confidence_sentence(it), cells));
    let most = match extent {
        Extent::First => FIRST,
        Extent::All => usize::MAX,
    };
    lines.extend(rates_lines("Jars", &it.jars, wheel, most, cells));
    lines.extend(rates_lines(
        "Words, without a glass",
        &it.words,
        wheel,
        most,
        cells,
    ));
    lines.extend(presence_lines(it, cells));
    lines.extend(strength_record_lines(it, cells));
    lines.extend(stated_lines(it, cells));
    lines
}

/// One true sentence, and a kind one.
#[must_use]
pub fn confidence_sentence(it: &Confidence) -> String {
    if let (Some(all), Some(place)) = (it.jars.all, it.jars.by_place) {
        let shelf = it.jars.by_shelf.map_or(String::new(), |it| {
            format!(", {} on the right shelf", of(it.count))
        });
        return format!(
            "Of {} jars {} were named rightly{shelf} and {} in the right place: whoever finds the place is more than half way.",
            all.count.tries(),
            all.count.hits(),
            of(place.count)
        );
    }
    match it.words.all {
        Some(all) => format!(
            "Of {} questions about words {} were answered rightly. A jar tells what the nose makes of it.",
            all.count.tries(),
            all.count.hits()
        ),
        None => "Nothing practised yet: five minutes of words need no glass and no jar.".to_owned(),
    }
}

fn of(count: Count) -> String {
    format!("{} of {}", count.hits(), count.tries())
}

fn rates_lines(
    heading: &'static str,
    it: &HitRates,
    wheel: &Wheel,
    most: usize,
    cells: usize,
) -> Vec<Line> {
    let Some(all) = it.all else {
        return Vec::new();
    };
    let mut lines = vec![
        Line::blank(),
        Line::of(Ink::Strong, heading).and(Ink::Quiet, format!("  {}", rate_words(all))),
    ];
    let places = it.places.iter().map(|(id, rate)| {
        let name = wheel.place(id).map_or("", |it| it.name.as_str());
        (name, *rate)
    });
    lines.extend(places.take(most).map(|(name, rate)| row(name, rate)));
    let words = it.words.iter().filter(|it| it.1.count.misses() > 0);
    let missed: Vec<String> = words
        .take(most)
        .map(|(id, rate)| format!("{} {}", word(wheel, id), of(rate.count)))
        .collect();
    if !missed.is_empty() {
        let text = format!("  missed most: {}", missed.join(" · "));
        lines.extend(wrapped(Ink::Plain, &text, cells));
    }
    for confusion in it.confusions.iter().take(most) {
        let text = format!("  {}", confusion_words(confusion, wheel));
        lines.extend(wrapped(Ink::Plain, &text, cells));
    }
    lines
}

/// What was taken for what, and how the two are told apart.
fn confusion_words(
    (asked, said, times): &(DescriptorId, DescriptorId, u32),
    wheel: &Wheel,
) -> String {
    let times = match times {
        1 => String::new(),
        more => format!(" ({more}×)"),
    };
    let tell = wheel
        .descriptor(asked)
        .and_then(|it| it.look_alikes.iter().find(|it| it.id == *said))
        .map_or(String::new(), |it| format!(" {}", it.tell));
    format!(
        "{} was taken for {}{times}.{tell}",
        word(wheel, asked),
        word(wheel, said)
    )
}

fn word<'a>(wheel: &'a Wheel, id: &'a DescriptorId) -> &'a str {
    wheel
        .descriptor(id)
        .map_or(id.as_str(), |it| it.word.as_str())
}

fn rate_words(rate: HitRate) -> String {
    format!(
        "{} right; 19 times in 20 between {:.0} and {:.0} %",
        of(rate.count),
        100.0 * rate.limits.low.get(),
        100.0 * rate.limits.high.get()
    )
}

/// A share on a line from none to all, with its limits.
fn row(name: &str, rate: HitRate) -> Line {
    let share = f64::from(rate.count.hits()) / f64::from(rate.count.tries().max(1));
    let plot = Dumbbell {
        found: Some(9.0 * share),
        range: Some((9.0 * rate.limits.low.get(), 9.0 * rate.limits.high.get())),
        ..Dumbbell::default()
    };
    Line::plain(format!(
        "  {name:<26} {}  {}",
        plot.cells(PLOT),
        of(rate.count)
    ))
}

fn presence_lines(it: &Confidence, cells: usize) -> Vec<Line> {
    let Some((hits, false_alarms, detection)) = &it.presence else {
        return Vec::new();
    };
    let leaning = match detection.criterion {
        c if c < -0.3 => "says “in there” rather too readily",
        c if c > 0.3 => "says “in there” rather too seldom",
        _ => "leans to neither side",
    };
    let text = format!(
        "  Found in {} spiked glasses, and in {} plain ones: d′ {:.1} (log-linear, Hautus 1995), {leaning}.",
        of(*hits),
        of(*false_alarms),
        detection.d_prime
    );
    let mut lines = vec![Line::blank(), Line::of(Ink::Strong, "Present or not")];
    lines.extend(wrapped(Ink::Plain, &text, cells));
    lines
}

fn strength_record_lines(it: &Confidence, cells: usize) -> Vec<Line> {
    if it.strength.is_empty() {
        return Vec::new();
    }
    let scales = it.strength.iter().map(strength_record_words);
    let text = format!("  {}.", scales.collect::<Vec<_>>().join("; "));
    let mut lines = vec![Line::blank(), Line::of(Ink::Strong, "From weak to strong")];
    lines.extend(wrapped(Ink::Plain, &text, cells));
    lines
}

/// Certainty against what was right, as a plot and a sentence.
fn stated_lines(it: &Confidence, cells: usize) -> Vec<Line> {
    let Some(parts) = &it.brier else {
        return Vec::new();
    };
    let mut lines = vec![
        Line::blank(),
        Line::of(Ink::Strong, "How sure, and how often right"),
    ];
    if let Some(picture) = certainty_picture(it) {
        lines.extend(picture.lines(CellRoom { cells, rows: 1 }));
    }
    lines.extend(wrapped(
        Ink::Plain,
        &format!("  {}", trust_words(it)),
        cells,
    ));
    let figures = format!(
        "  Brier score {:.3} = reliability {:.3} − resolution {:.3} + uncertainty {:.3} (Murphy 1973).",
        parts.score, parts.reliability, parts.resolution, parts.uncertainty
    );
    lines.extend(
        wrap(&figures, cells)
            .into_iter()
            .map(|it| Line::of(Ink::Quiet, format!("  {it}"))),
    );
    lines
}

/// Whether certainty fits what was right: only where the difference is beyond its own noise.
fn trust_words(it: &Confidence) -> String {
    let tries: u32 = it.stated.iter().map(|it| it.count.tries()).sum();
    let hits: u32 = it.stated.iter().map(|it| it.count.hits()).sum();
    if tries < ENOUGH {
        return format!(
            "{tries} answers with a certainty so far; from {ENOUGH} on it is told whether it fits."
        );
    }
    let n = f64::from(tries);
    let weighed = |it: &StatedChance| it.said.get() * f64::from(it.count.tries());
    let said: f64 = it.stated.iter().map(weighed).sum::<f64>() / n;
    let share = f64::from(hits) / n;
    let noise = 2.0 * (share * (1.0 - share) / n).sqrt().max(0.5 / n);
    let told = format!(
        "On average {:.0} % is said and {:.0} % is right, over {tries} answers",
        100.0 * said,
        100.0 * share
    );
    if (said - share).abs() <= noise {
        format!("{told}: the two fit, as far as so many answers tell.")
    } else if said > share {
        format!("{told}: a little less sure would be truer.")
    } else {
        format!("{told}: the nose knows more than it dares to say.")
    }
}

/// A taster's confidence as JSON.
#[must_use]
pub fn confidence_json(it: &Confidence) -> Value {
    json!({
        "format": VERSION,
        "taster": it.taster.name.as_str(),
        "jars": rates_json(&it.jars),
        "words": rates_json(&it.words),
        "stated": it.stated.iter().map(|it| json!({
            "said": it.said.get(),
            "right": it.count.hits(),
            "answers": it.count.tries(),
        })).collect::<Vec<_>>(),
        "brier": it.brier.as_ref().map(|it| json!({
            "score": it.score,
            "reliability": it.reliability,
            "resolution": it.resolution,
            "uncertainty": it.uncertainty,
        })),
        "presence": it.presence.as_ref().map(|(hits, alarms, it)| json!({
            "hits": hits.hits(),
            "spiked": hits.tries(),
            "false_alarms": alarms.hits(),
            "plain": alarms.tries(),
            "d_prime": it.d_prime,
            "criterion": it.criterion,
        })),
        "strength": it.strength.iter().map(|it| json!({
            "scale": it.scale.id,
            "pairs_right": it.right,
            "pairs": it.pairs,
            "series": it.series,
        })).collect::<Vec<_>>(),
    })
}

fn rates_json(it: &HitRates) -> Value {
    json!({
        "all": it.all.map(rate_json),
        "by_shelf": it.by_shelf.map(rate_json),
        "by_place": it.by_place.map(rate_json),
        "words": it.words.iter().map(|(id, rate)| json!({ "word": id.as_str(), "rate": rate_json(*rate) })).collect::<Vec<_>>(),
        "shelves": it.shelves.iter().map(|(id, rate)| json!({ "shelf": id.as_str(), "rate": rate_json(*rate) })).collect::<Vec<_>>(),
        "places": it.places.iter().map(|(id, rate)| json!({ "place": id.as_str(), "rate": rate_json(*rate) })).collect::<Vec<_>>(),
        "confusions": it.confusions.iter().map(|(asked, said, times)| json!({ "asked": asked.as_str(), "said": said.as_str(), "times": times })).collect::<Vec<_>>(),
    })
}

fn rate_json(rate: HitRate) -> Value {
    json!({
        "right": rate.count.hits(),
        "answers": rate.count.tries(),
        "low": rate.limits.low.get(),
        "high": rate.limits.high.get(),
    })
}
