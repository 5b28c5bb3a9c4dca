//! A planned blind test in a sentence, with what comes next; and all tests as a list.

use serde_json::Value;
use serde_json::json;

use crate::domain::Beer;
use crate::domain::BeerSide;
use crate::domain::BlindTest;
use crate::domain::Pouring;
use crate::domain::Stopping;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::table;
use crate::reports::blind_words::at_least_times;
use crate::reports::blind_words::cost_words;
use crate::reports::blind_words::percent;
use crate::reports::blind_words::times_in;
use crate::reports::comparison_report::wrapped;
use crate::statistics::Course;
use crate::workflow::PlannedTest;
use crate::workflow::TestOdds;
use crate::workflow::TestRow;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// A plan as lines of at most `cells` cells. Nothing in it tells what a code holds.
#[must_use]
pub fn plan_lines(it: &PlannedTest, odds: &TestOdds, cells: usize) -> Vec<Line> {
    let number = it.test.number;
    let mut lines = wrapped(Ink::Strong, &plan_sentence(it), cells);
    for note in unknown_bottles(it) {
        lines.extend(wrapped(Ink::Quiet, &note, cells));
    }
    lines.extend(wrapped(Ink::Plain, &odds_sentence(it, odds), cells));
    let stop = match it.test.stopping {
        Stopping::Fixed => String::new(),
        other => format!(
            "It stops {}; after every answer it only says go on or stop.",
            other.word()
        ),
    };
    if !stop.is_empty() {
        lines.extend(wrapped(Ink::Plain, &stop, cells));
    }
    lines.push(Line::blank());
    let commitment = format!("Commitment: {}", it.test.commitment);
    lines.extend(wrapped(Ink::Quiet, &commitment, cells));
    let why = "It is the SHA-256 of the whole plan with a secret salt. Write it down before the first answer; the result shows plan and salt, so that everybody can check that nothing was changed.";
    lines.extend(wrapped(Ink::Quiet, why, cells));
    lines.push(Line::blank());
    lines.extend(next_lines(it, number));
    lines
}

/// A sentence for each bottle that is no batch of this home, in case its mark was mistyped.
#[must_use]
pub fn unknown_bottles(it: &PlannedTest) -> Vec<String> {
    let unknown = it.beers.iter().filter(|it| it.batch.is_none());
    unknown
        .map(|it| {
            format!(
                "{} is no batch of yours: it is taken as any bottle.",
                it.cap_mark
            )
        })
        .collect()
}

/// The beginning of a commitment: 64 bits that somebody will really write down.
#[must_use]
pub fn short_commitment(commitment: &str) -> String {
    let signs: Vec<char> = commitment.chars().take(16).collect();
    let groups: Vec<String> = signs.chunks(4).map(|it| it.iter().collect()).collect();
    format!("Commitment, to be written down now: {} …", groups.join(" "))
}

/// What the plan is worth and what it costs, in a few sentences.
#[must_use]
pub fn odds_sentence(it: &PlannedTest, odds: &TestOdds) -> String {
    let pd = percent(it.test.aims.pd.get());
    let worth = match (&odds.alike, &odds.courses) {
        (Some(alike), _) => format!(
            "They count as alike enough with at most {} of {} right. If nobody can taste a difference that happens {}; if {pd} of all people can, {}.",
            alike.most.unwrap_or(0),
            odds.answers,
            at_least_times(alike.power.get()),
            times_in(alike.true_beta.get())
        ),
        (None, Some(courses)) => courses_sentence(&pd, courses, odds.answers),
        (None, None) => format!(
            "A difference that {pd} of all people can taste would be noticed {}{}.",
            at_least_times(odds.power),
            odds.critical.map_or_else(String::new, |right| format!(
                ", with {right} of {} right",
                odds.answers
            ))
        ),
    };
    format!("{worth} It takes {}.", cost_words(odds.cost))
}

/// What becomes of a test that may stop early, with its own error rates.
fn courses_sentence(pd: &str, [same, different]: &[Course; 2], most: u32) -> String {
    format!(
        "A difference that {pd} of all people can taste would be noticed {}, after {:.0} answers on average and {most} at most. If there is none, one is seen all the same {}, and the test ends undecided {}.",
        at_least_times(different.other.get()),
        different.mean_length,
        times_in(same.other.get()),
        times_in(same.undecided.get())
    )
}

/// What is tested, in a sentence.
#[must_use]
pub fn plan_sentence(it: &PlannedTest) -> String {
    let [a, b] = it.beers.each_ref().map(|it| &it.cap_mark);
    let (places, rounds) = (it.test.places, it.test.rounds);
    let people = match (places, rounds) {
        (1, 1) => "one taster, one set".to_owned(),
        (1, more) => format!("one taster, {more} sets"),
        (many, 1) => format!("{many} tasters, one set each"),
        (many, more) => format!("{many} tasters, {more} sets each"),
    };
    let asked = it.test.direction.as_ref().map_or_else(String::new, |it| {
        let which = match it.expected {
            Some(BeerSide::A) => format!(", expected in {a}"),
            Some(BeerSide::B) => format!(", expected in {b}"),
            None => String::new(),
        };
        format!(" It asks for what is more {}{which}.", it.attribute)
    });
    format!(
        "Test {}: {a} and {b} in a {}, to show {}; {people}; poured by {}.{asked}",
        it.test.number,
        it.method.name,
        it.test.purpose.word(),
        it.test.pouring.word()
    )
}

fn next_lines(it: &PlannedTest, number: u32) -> Vec<Line> {
    let mut commands = vec![format!("blind sheet {number} --for pourer --as NAME")];
    if it.test.pouring == Pouring::Two {
        commands.push(format!("blind sheet {number} --for server --as NAME"));
    }
    commands.push(format!("blind sheet {number} --for ballots"));
    commands.push(format!("blind answer {number} --taster NAME"));
    commands.push(format!("blind close {number}"));
    let mut lines = vec![Line::of(Ink::Strong, "Next, in the app or in a terminal")];
    lines.extend(
        commands
            .into_iter()
            .map(|it| Line::plain(format!("  thirdglass {it}"))),
    );
    lines
}

/// A plan as JSON. The key is not in it.
#[must_use]
pub fn plan_json(it: &PlannedTest, odds: &TestOdds) -> Value {
    let mut json = row_json(&it.test, &it.beers);
    json["power"] = json!(odds.power);
    json["similarity"] = json!(odds.alike.as_ref().map(|it| json!({
        "most": it.most, "true_beta": it.true_beta.get(), "power": it.power.get()
    })));
    json["if_same"] = json!(odds.courses.as_ref().map(|it| course_json(&it[0])));
    json["if_different"] = json!(odds.courses.as_ref().map(|it| course_json(&it[1])));
    json["critical"] = json!(odds.critical);
    json["millilitres_of_each"] = json!(odds.cost.of_each);
    json["alcohol_g_a_taster"] = json!(odds.cost.grams);
    json
}

fn course_json(it: &Course) -> Value {
    json!({
        "difference": it.other.get(),
        "no_difference": it.null.get(),
        "undecided": it.undecided.get(),
        "mean_answers": it.mean_length,
    })
}

/// All tests as lines of at most `cells` cells.
#[must_use]
pub fn tests_lines(tests: &[TestRow], cells: usize) -> Vec<Line> {
    if tests.is_empty() {
        return vec![Line::plain(
            "No blind test is planned yet: thirdglass blind plan BEER BEER --tasters 7",
        )];
    }
    let rows: Vec<Vec<String>> = tests
        .iter()
        .map(|it| {
            let [a, b] = it.beers.each_ref().map(|it| it.cap_mark.to_string());
            vec![
                it.test.number.to_string(),
                format!("{a} and {b}"),
                it.method.name.to_owned(),
                it.test.made_at.day().to_string(),
                state_word(it).to_owned(),
            ]
        })
        .collect();
    table(&rows, 0, cells)
}

const fn state_word(it: &TestRow) -> &'static str {
    if it.test.closed_at.is_some() {
        "closed"
    } else {
        "open"
    }
}

/// All tests as JSON.
#[must_use]
pub fn tests_json(tests: &[TestRow]) -> Value {
    let rows: Vec<Value> = tests
        .iter()
        .map(|it| row_json(&it.test, &it.beers))
        .collect();
    json!({ "format": VERSION, "tests": rows })
}

fn row_json(test: &BlindTest, beers: &[Beer; 2]) -> Value {
    let direction = test.direction.as_ref();
    json!({
        "format": VERSION,
        "number": test.number,
        "beers": beers.each_ref().map(|it| it.cap_mark.as_str()),
        "method": test.method,
        "purpose": test.purpose.id(),
        "alpha": test.aims.alpha.get(),
        "beta": test.aims.beta.get(),
        "pd": test.aims.pd.get(),
        "attribute": direction.map(|it| it.attribute.as_str()),
        "expected": direction.and_then(|it| it.expected).map(BeerSide::id),
        "stopping": test.stopping.id(),
        "pouring": test.pouring.id(),
        "places": test.places,
        "rounds": test.rounds,
        "glass_ml": test.glass.get(),
        "seed": test.closed_at.map(|_| test.seed.to_string()),
        "commitment": test.commitment,
        "made_at": test.made_at.to_string(),
        "closed_at": test.closed_at.map(|at| at.to_string()),
    })
}
