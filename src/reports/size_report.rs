//! How many answers a blind test takes: one sentence first, then what else there is to choose from.

use serde_json::Value;
use serde_json::json;

use crate::domain::Grams;
use crate::domain::Purpose;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::table;
use crate::reports::blind_words::at_least_percent;
use crate::reports::blind_words::at_least_times;
use crate::reports::blind_words::beer_cell;
use crate::reports::blind_words::cost_words;
use crate::reports::blind_words::number_of;
use crate::reports::blind_words::percent;
use crate::reports::blind_words::times_in;
use crate::reports::comparison_report::wrapped;
use crate::workflow::Effect;
use crate::workflow::MOST_GLASSES;
use crate::workflow::MethodSize;
use crate::workflow::Plan;
use crate::workflow::Similarity;
use crate::workflow::Standing;
use crate::workflow::TestSizes;
use crate::workflow::Ways;
use crate::workflow::Worth;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// The difference that is looked for, in words.
fn effect_words(effect: Effect) -> String {
    match effect {
        Effect::Pd(pd) => format!(
            "a difference that {} of all people can taste",
            percent(pd.get())
        ),
        Effect::DPrime(distance) => format!("a difference of d′ {:.2}", distance.get()),
    }
}

/// Sizes as lines of at most `cells` cells.
#[must_use]
pub fn size_lines(it: &TestSizes, drink: Grams, cells: usize) -> Vec<Line> {
    let mut lines = Vec::new();
    let first = match it.worth.iter().find(|row| row.rounds == it.table.rounds) {
        Some(row) => friends_sentence(it, row),
        None => answers_sentence(it, it.purpose) + &cost_sentence(it),
    };
    lines.extend(wrapped(Ink::Strong, &first, cells));
    lines.push(Line::blank());
    for purpose in Purpose::ALL {
        if !it.worth.is_empty() || *purpose != it.purpose {
            lines.extend(wrapped(Ink::Plain, &answers_sentence(it, *purpose), cells));
        }
    }
    if !it.worth.is_empty() {
        lines.push(Line::blank());
        lines.extend(rounds_table(it, cells));
    }
    lines.push(Line::blank());
    lines.extend(methods_table(it, cells));
    let note = format!(
        "All methods are compared for two beers equally far apart (the same d′). With several rounds each answer counts alike, which is sound for a difference and not for likeness. A standard drink is {} g of alcohol. A bottle's last centimetre of yeast is not poured: plan a little more beer than stands here.",
        drink.get()
    );
    lines.extend(wrapped(Ink::Quiet, &note, cells));
    lines
}

/// How many answers show what is asked for.
fn answers_sentence(it: &TestSizes, purpose: Purpose) -> String {
    match purpose {
        Purpose::Difference => risk_sentence(it),
        Purpose::Similarity => alike_sentence(it),
    }
}

/// What that costs, where nobody said how many friends there are.
fn cost_sentence(it: &TestSizes) -> String {
    it.cost.map_or_else(String::new, |cost| {
        format!(" It takes {}.", cost_words(cost))
    })
}

/// What so many friends are worth.
#[must_use]
pub fn friends_sentence(it: &TestSizes, row: &Worth) -> String {
    if it.purpose == Purpose::Similarity {
        return alike_friends_sentence(it, row);
    }
    let answers = row.plan.trials;
    let often = match row.rounds {
        1 => "once each".to_owned(),
        2 => "twice each".to_owned(),
        more => format!("{more} times each"),
    };
    let friends = number_of(answers / row.rounds.max(1), "friend", "friends");
    let Some(critical) = row.plan.critical else {
        return format!(
            "{friends}, {often}: {answers} answers can never show a difference at {}, even if {}; {}.",
            percent(it.aim.alpha.get()),
            match it.method.ways {
                Ways::One => "all are right",
                Ways::Either => "all choose the same beer",
            },
            it.fewest.map_or_else(
                || "allow a larger risk".to_owned(),
                |least| format!("{least} can")
            )
        );
    };
    let missed = if row.plan.power.get() < 0.5 {
        " More often than not it would be missed: more friends or more rounds are better."
    } else {
        ""
    };
    format!(
        "{friends}, {often}: {} would be noticed {} ({critical} of {answers} must {}), and it takes {}.{missed}{}",
        effect_words(it.aim.effect),
        at_least_times(row.plan.power.get()),
        must_words(it),
        cost_words(row.cost),
        too_many_cups(it, answers)
    )
}

/// What so many friends are worth for showing that two beers are alike.
fn alike_friends_sentence(it: &TestSizes, row: &Worth) -> String {
    let answers = number_of(row.plan.trials, "answer", "answers");
    let Some(alike) = &row.alike else {
        return "Likeness is shown by many people who answer once each; one taster's second answer says nothing about the others.".to_owned();
    };
    match (alike.most, alike.standing) {
        (Some(most), Standing::FromChanceOn) => format!(
            "{answers}: alike enough with at most {most} right. If nobody can taste a difference that happens {}; with {}, {}. It takes {}.",
            at_least_times(alike.power.get()),
            effect_words(it.aim.effect),
            times_in(alike.true_beta.get()),
            cost_words(row.cost)
        ),
        _ => format!(
            "{answers} are too few to show that two beers are alike enough: people who only guess would already be right too often."
        ),
    }
}

/// What so many answers must do.
const fn must_words(it: &TestSizes) -> &'static str {
    match it.method.ways {
        Ways::One => "be right",
        Ways::Either => "choose the same beer",
    }
}

/// A warning where there are more cups than codes that tell nothing.
fn too_many_cups(it: &TestSizes, answers: u32) -> String {
    if answers as usize * it.method.coded_glasses() <= MOST_GLASSES {
        return String::new();
    }
    format!(
        " That is more than {MOST_GLASSES} cups, for which there are no codes: split it over several days."
    )
}

/// How many answers find the difference.
fn risk_sentence(it: &TestSizes) -> String {
    match &it.difference {
        Err(refused) => format!("To show {}: {refused}.", effect_words(it.aim.effect)),
        Ok(sizes) => {
            let Plan { trials, power, .. } = sizes.first;
            format!(
                "To show a difference it takes {trials} answers{}: they notice {} {} ({} must {}).",
                steady_words(trials, sizes.stable.trials),
                effect_words(it.aim.effect),
                at_least_times(power.get()),
                sizes.first.critical.unwrap_or(trials),
                must_words(it),
            )
        }
    }
}

/// The number from which power is never lost again, where it is another one.
fn steady_words(first: u32, steady: u32) -> String {
    if first == steady {
        return String::new();
    }
    format!(" (between that and {steady} a few more can fall short again)")
}

/// How many answers show that two beers are alike enough.
fn alike_sentence(it: &TestSizes) -> String {
    match &it.alike {
        Err(refused) => format!("To show that two beers are alike enough: {refused}."),
        Ok((first, stable)) => format!(
            "To show that they are alike enough it takes {} answers{}: at most {} may be right, with a risk of {} that there is {} after all.{}",
            first.trials,
            steady_words(first.trials, stable.trials),
            first.most.map_or("none".to_owned(), |it| it.to_string()),
            percent(it.aim.beta.get()),
            effect_words(it.aim.effect),
            below_chance(first)
        ),
    }
}

/// A warning where fewer may be right than guess right.
fn below_chance(it: &Similarity) -> &'static str {
    match it.standing {
        Standing::BelowChance => " That is fewer than guessing gives: conclude nothing from it.",
        Standing::FromChanceOn => "",
    }
}

fn rounds_table(it: &TestSizes, cells: usize) -> Vec<Line> {
    let head = [
        "rounds",
        "answers",
        "right",
        "noticed",
        "each beer",
        "alcohol",
    ];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    rows.extend(it.worth.iter().map(|row| {
        vec![
            row.rounds.to_string(),
            row.plan.trials.to_string(),
            row.plan
                .critical
                .map_or("never".to_owned(), |it| it.to_string()),
            at_least_percent(row.plan.power.get()),
            beer_cell(row.cost.of_each),
            format!("{:.1} g", row.cost.grams),
        ]
    }));
    headed(&rows, cells)
}

fn methods_table(it: &TestSizes, cells: usize) -> Vec<Line> {
    if it.methods.is_empty() {
        return vec![Line::plain(
            "Everybody right is beyond every distance; ask for less.",
        )];
    }
    let head = [
        "two beers as different",
        "answers to show it",
        "each beer, one set",
        "your friends",
    ];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    rows.extend(it.methods.iter().map(|row| {
        vec![
            row.method.name.to_owned(),
            size_words(row),
            beer_cell(row.of_each),
            row.here.map_or(String::new(), |it| match it.critical {
                Some(_) => format!("notice it {}", at_least_percent(it.power.get())),
                None => "never".to_owned(),
            }),
        ]
    }));
    if it.table.friends.is_none() {
        for row in &mut rows {
            row.pop();
        }
    }
    headed(&rows, cells)
}

fn size_words(row: &MethodSize) -> String {
    match &row.sizes {
        Ok(it) if it.first.trials == it.stable.trials => it.first.trials.to_string(),
        Ok(it) => format!("{}, safely {}", it.first.trials, it.stable.trials),
        Err(_) => "too many".to_owned(),
    }
}

/// A table whose first row is a heading.
fn headed(rows: &[Vec<String>], cells: usize) -> Vec<Line> {
    let mut lines = table(rows, 0, cells);
    if let Some(first) = lines.first_mut() {
        *first = Line::of(Ink::Strong, first.text());
    }
    lines
}

/// Sizes as JSON: `first` and `stable` with answers, critical count, true alpha and power.
#[must_use]
pub fn size_json(it: &TestSizes) -> Value {
    let sizes = it.difference.as_ref().ok();
    let alike = it.alike.as_ref().ok();
    let effect = match it.aim.effect {
        Effect::Pd(pd) => json!({ "pd": pd.get(), "d_prime": null }),
        Effect::DPrime(distance) => json!({ "pd": null, "d_prime": distance.get() }),
    };
    json!({
        "format": VERSION,
        "purpose": it.purpose.id(),
        "method": it.method.id,
        "alpha": it.aim.alpha.get(),
        "beta": it.aim.beta.get(),
        "effect": effect,
        "fewest": it.fewest,
        "difference": sizes.map(|it| json!({ "first": plan_json(&it.first), "stable": plan_json(&it.stable) })),
        "similarity": alike.map(|(first, stable)| json!({ "first": alike_json(first), "stable": alike_json(stable) })),
        "friends": it.table.friends,
        "glass_ml": it.table.glass.get(),
        "abv": it.table.abv.get(),
        "rounds": it.worth.iter().map(worth_json).collect::<Vec<_>>(),
        "methods": it.methods.iter().map(|row| json!({
            "method": row.method.id,
            "first": row.sizes.as_ref().ok().map(|it| it.first.trials),
            "stable": row.sizes.as_ref().ok().map(|it| it.stable.trials),
            "here": row.here.as_ref().map(plan_json),
            "millilitres_of_each_a_set": row.of_each,
        })).collect::<Vec<_>>(),
    })
}

fn worth_json(row: &Worth) -> Value {
    json!({
        "rounds": row.rounds,
        "difference": plan_json(&row.plan),
        "similarity": row.alike.as_ref().map(alike_json),
        "millilitres_of_each": row.cost.of_each,
        "glasses_a_taster": row.cost.glasses,
        "alcohol_g_a_taster": row.cost.grams,
    })
}

fn plan_json(it: &Plan) -> Value {
    json!({
        "answers": it.trials,
        "critical": it.critical,
        "true_alpha": it.true_alpha.get(),
        "power": it.power.get(),
    })
}

fn alike_json(it: &Similarity) -> Value {
    json!({
        "answers": it.trials,
        "most": it.most,
        "below_chance": it.standing == Standing::BelowChance,
        "true_beta": it.true_beta.get(),
        "power": it.power.get(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Abv;
    use crate::domain::Millilitres;
    use crate::domain::Settings;
    use crate::drawing::width;
    use crate::workflow::Aim;
    use crate::workflow::Alpha;
    use crate::workflow::Beta;
    use crate::workflow::Pd;
    use crate::workflow::Table;
    use crate::workflow::test_sizes;

    fn asked(friends: Option<u32>) -> TestSizes {
        let aim = Aim {
            alpha: Alpha::new(0.05).unwrap(),
            beta: Beta::new(0.2).unwrap(),
            effect: Effect::Pd(Pd::new(0.5).unwrap()),
        };
        let table = Table {
            friends,
            rounds: 1,
            glass: Millilitres::new(30.0).unwrap(),
            abv: Abv::new(5.0).unwrap(),
        };
        test_sizes("triangle", Purpose::Difference, aim, table).unwrap()
    }

    fn told(friends: Option<u32>) -> String {
        let lines = size_lines(&asked(friends), Settings::default().standard_drink, 78);
        assert!(lines.iter().all(|it| width(&it.text()) <= 78));
        let all: String = lines.iter().map(|it| it.text() + " ").collect();
        all.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    #[test]
    fn seven_friends_are_told_what_they_would_notice_and_what_it_takes() {
        let told = told(Some(7));
        let sentence = "7 friends, once each: a difference that 50 % of all people can taste would be noticed 57 times in 100 (5 of 7 must be right), and it takes 315 mL of each beer, and 3 glasses with 3.6 g of alcohol";
        assert!(told.starts_with(sentence), "{told}");
    }

    #[test]
    fn two_friends_are_told_that_they_can_never_show_anything_and_how_many_can() {
        let told = told(Some(2));
        assert!(
            told.contains("2 answers can never show a difference at 5.0 %"),
            "{told}"
        );
        assert!(told.contains("even if all are right; 3 can"), "{told}");
    }

    #[test]
    fn without_friends_the_first_number_and_the_steady_one_are_told_apart() {
        let told = told(None);
        // ISO 4120:2004 table A.3 has 16 for these risks.
        assert!(
            told.starts_with("To show a difference it takes 16 answers: they notice"),
            "{told}"
        );
        assert!(!told.contains("can fall short again"), "{told}");
        let json = size_json(&asked(None));
        assert_eq!(json["difference"]["first"]["critical"], 9);
    }
}
