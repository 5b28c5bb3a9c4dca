//! A planned panel: what it costs, what a second pour brings, what comes next; and all panels as a list.

use serde_json::Value;
use serde_json::json;

use crate::domain::Form;
use crate::domain::Grams;
use crate::domain::Name;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::table;
use crate::reports::blind_words::litres;
use crate::reports::comparison_report::wrapped;
use crate::workflow::PanelCost;
use crate::workflow::PanelDraft;
use crate::workflow::PanelPerson;
use crate::workflow::PanelPhase;
use crate::workflow::PanelPourer;
use crate::workflow::PanelTable;
use crate::workflow::typed_word;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// So many pairs of answers of one taster say how steady they are over all (the noise model: two
/// second pours over about 17 scales, of which six in ten say something).
const ENOUGH_PAIRS: f64 = 17.0;

/// Small numbers as words, for a line that is read aloud.
const WORDS: [&str; 13] = [
    "none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
    "eleven", "twelve",
];

/// A small number as a word.
fn number_word(number: usize) -> String {
    let word = WORDS.get(number).map(|it| (*it).to_owned());
    word.unwrap_or_else(|| number.to_string())
}

/// How far a panel is, in a few words: who is done, and nothing of what they found.
#[must_use]
pub fn panel_state(it: &PanelTable) -> String {
    let (done, all) = (it.done(), it.people.len());
    let verb = if done == 1 { "is" } else { "are" };
    match it.phase() {
        PanelPhase::Tasting => {
            format!("{} of {} {verb} done", number_word(done), number_word(all))
        }
        PanelPhase::Talk => "all are done: talk about it".to_owned(),
        PanelPhase::Told => "told".to_owned(),
    }
}

/// How far one taster is, as everybody may know.
#[must_use]
pub fn panel_person_words(it: &PanelPerson) -> String {
    if it.left {
        return "left".to_owned();
    }
    let again = match it.after_talk {
        0 => String::new(),
        some => format!(", {some} looked at again"),
    };
    format!("{} of {} locked{again}", it.locked, it.glasses)
}

/// What a panel asks for, in a sentence.
#[must_use]
pub fn panel_sentence(it: &PanelDraft) -> String {
    let marks: Vec<&str> = it.beers.iter().map(|it| it.cap_mark.as_str()).collect();
    let names: Vec<&str> = it.tasters.iter().map(Name::as_str).collect();
    let pourer = match &it.request.pourer {
        PanelPourer::SomebodyElse => "somebody who does not taste pours".to_owned(),
        PanelPourer::Taster(name) => format!(
            "{} pours and so knows what is in the glasses: those notes are marked, and counted only if nobody else tastes",
            name.trim()
        ),
    };
    let form = match it.request.form {
        Form::Full => "all five stages of each glass",
        Form::Short => "a short glass each: five ratings and three words",
    };
    format!(
        "{} tasted by {}, {:.0} mL a glass, {form}; {pourer}.",
        marks.join(", "),
        names.join(", "),
        it.request.glass.get()
    )
}

/// What some glasses poured a second time cost and bring.
#[must_use]
pub fn panel_cost_sentence(it: &PanelCost) -> String {
    let (once, again) = (litres(it.once_ml), litres(2.0 * it.once_ml));
    let (what, beer) = match it.doubled {
        0 => ("No beer", String::new()),
        1 => ("One beer", format!(" and {again} of one")),
        _ => ("Two beers", format!(" and {again} of two")),
    };
    format!(
        "{what} a second time: {} glasses each, {once} of each beer{beer} ({} in all), {}. {}",
        it.glasses,
        litres(it.all_ml),
        grams_words(it.grams, it.standard_drink),
        brings(it)
    )
}

/// Grams of alcohol, as one number or from to, with how many standard drinks that is.
fn grams_words([least, most]: [f64; 2], drink: Grams) -> String {
    let drink = drink.get();
    let drinks = format!("{:.1} standard drinks of {drink} g", most / drink);
    if most - least < 0.05 {
        format!("{most:.1} g of alcohol each ({drinks})")
    } else {
        format!("{least:.1} to {most:.1} g of alcohol each (at most {drinks})")
    }
}

fn brings(it: &PanelCost) -> String {
    if it.doubled == 0 {
        return "How steady each taster is stays a guess.".to_owned();
    }
    let worth = if it.pairs >= ENOUGH_PAIRS {
        "enough to say how steady each taster is over all"
    } else {
        "a first hint of how steady each taster is"
    };
    format!("About {:.0} pairs of answers each: {worth}.", it.pairs)
}

/// What is planned or looked at, as lines of at most `cells` cells.
#[must_use]
pub fn panel_draft_lines(it: &PanelDraft, cells: usize) -> Vec<Line> {
    let mut lines = wrapped(Ink::Strong, &panel_sentence(it), cells);
    for mark in unknown(it) {
        let note = format!("{mark} is no batch of yours: it is taken as any bottle.");
        lines.extend(wrapped(Ink::Quiet, &note, cells));
    }
    lines.push(Line::blank());
    for cost in &it.costs {
        let ink = if cost.doubled == it.request.doubled {
            Ink::Strong
        } else {
            Ink::Plain
        };
        lines.extend(wrapped(ink, &panel_cost_sentence(cost), cells));
    }
    lines.push(Line::blank());
    lines.extend(wrapped(Ink::Alert, &panel_care(&it.allergens), cells));
    lines
}

/// The caution of a panel in a sentence.
#[must_use]
pub fn panel_care(allergens: &str) -> String {
    format!(
        "May hold: {allergens}. Small pours, water, a spit cup; smelling alone counts; nobody is pressed. Not for anyone under age, driving, pregnant or on medicines that forbid alcohol."
    )
}

fn unknown(it: &PanelDraft) -> Vec<&str> {
    let unknown = it.beers.iter().filter(|it| it.batch.is_none());
    unknown.map(|it| it.cap_mark.as_str()).collect()
}

/// What comes after the plan, as commands.
#[must_use]
pub fn panel_next_lines(number: u32) -> Vec<Line> {
    let mut lines = vec![
        Line::of(Ink::Strong, format!("Planned as panel {number}.")),
        Line::blank(),
        Line::of(Ink::Strong, "Next, in the app or in a terminal"),
    ];
    let commands = [
        ("sheet", "what is poured; --reader NAME says who reads it"),
        ("ballots", "sheets to write on"),
        ("taste", "everybody in turn, on one screen"),
        ("talk", "when all are done: what was found, by code"),
        ("tell", "what was in the glasses"),
        ("result", "what the panel found"),
    ];
    lines.extend(commands.iter().map(|(command, what)| {
        let command = format!("  thirdglass panel {command:<7} {number}");
        Line::plain(command).and(Ink::Quiet, format!("   {what}"))
    }));
    lines
}

/// What is planned or looked at as JSON; nothing in it tells what is poured a second time.
#[must_use]
pub fn panel_draft_json(it: &PanelDraft, number: Option<u32>) -> Value {
    let costs = it.costs.iter().map(|cost| {
        json!({
            "doubled": cost.doubled,
            "glasses_each": cost.glasses,
            "millilitres_of_each": cost.once_ml,
            "millilitres_in_all": cost.all_ml,
            "alcohol_g_a_taster": cost.grams,
            "pairs_a_taster": cost.pairs,
        })
    });
    let poured_by = match &it.request.pourer {
        PanelPourer::SomebodyElse => None,
        PanelPourer::Taster(name) => Some(name.trim()),
    };
    json!({
        "format": VERSION,
        "number": number,
        "beers": it.beers.iter().map(|it| it.cap_mark.as_str()).collect::<Vec<_>>(),
        "tasters": it.tasters.iter().map(Name::as_str).collect::<Vec<_>>(),
        "glass_ml": it.request.glass.get(),
        "form": it.request.form.id(),
        "doubled": it.request.doubled,
        "poured_by": poured_by,
        "costs": costs.collect::<Vec<_>>(),
        "allergens": it.allergens,
    })
}

/// All panels as lines of at most `cells` cells.
#[must_use]
pub fn panels_lines(panels: &[PanelTable], cells: usize) -> Vec<Line> {
    if panels.is_empty() {
        let none = format!(
            "No panel is planned yet: thirdglass panel plan BEER BEER --tasters {}",
            typed_word("Ana, Ben")
        );
        return vec![Line::plain(none)];
    }
    let row = |it: &PanelTable| {
        vec![
            it.panel.number.to_string(),
            it.panel.made_at.day().to_string(),
            panel_people_words(it),
            panel_state(it),
        ]
    };
    let rows: Vec<Vec<String>> = panels.iter().map(row).collect();
    table(&rows, 2, cells)
}

/// Who tastes at a panel.
#[must_use]
pub fn panel_people_words(it: &PanelTable) -> String {
    let names = it.people.iter().map(|it| it.taster.name.as_str());
    names.collect::<Vec<_>>().join(", ")
}

/// All panels as JSON.
#[must_use]
pub fn panels_json(panels: &[PanelTable]) -> Value {
    let panels: Vec<Value> = panels.iter().map(panel_table_json).collect();
    json!({ "format": VERSION, "panels": panels })
}

/// A panel as everybody may know it, as JSON.
pub(super) fn panel_table_json(it: &PanelTable) -> Value {
    let phase = match it.phase() {
        PanelPhase::Tasting => "tasting",
        PanelPhase::Talk => "talk",
        PanelPhase::Told => "told",
    };
    let people = it.people.iter().map(|it| {
        json!({
            "taster": it.taster.name.as_str(),
            "glasses": it.glasses,
            "locked": it.locked,
            "after_talk": it.after_talk,
            "left": it.left,
        })
    });
    json!({
        "number": it.panel.number,
        "phase": phase,
        "form": it.panel.form.id(),
        "glass_ml": it.panel.glass.get(),
        "made_at": it.panel.made_at.to_string(),
        "told_at": it.panel.told_at.map(|at| at.to_string()),
        "tasters": people.collect::<Vec<_>>(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Settings;

    #[test]
    fn a_second_pour_says_what_it_costs_and_brings() {
        let cost = PanelCost {
            doubled: 1,
            glasses: 7,
            once_ml: 480.0,
            all_ml: 3_360.0,
            grams: [16.0, 17.2],
            standard_drink: Settings::default().standard_drink,
            pairs: 9.6,
        };
        let told = panel_cost_sentence(&cost);
        assert!(told.contains("480 mL of each beer and 960 mL of one (3.36 L in all)"));
        assert!(
            told.contains("16.0 to 17.2 g of alcohol each (at most 1.7 standard drinks of 10 g)")
        );
        assert!(told.contains("About 10 pairs") && told.contains("a first hint"));
        let two = PanelCost {
            doubled: 2,
            pairs: 19.2,
            grams: [16.0, 16.0],
            ..cost
        };
        let told = panel_cost_sentence(&two);
        assert!(told.contains("and 960 mL of two") && told.contains("enough to say"));
        assert!(told.contains("16.0 g of alcohol each (1.6 standard drinks"));
    }
}
