//! The hints that a batch log gives: which conditions hold.

use crate::domain::Day;
use crate::domain::Hint;
use crate::domain::HintCondition;
use crate::domain::HintMeasure;
use crate::domain::Recipe;
use crate::workflow::BatchLog;
use crate::workflow::Figures;
use crate::workflow::brew_run::End;
use crate::workflow::brew_run::Run;
use crate::workflow::figures;

/// The hints of which every condition holds, in the order of their file. What was not logged hints at
/// nothing.
pub(super) fn hints<'a>(
    all: &'a [Hint],
    recipe: &Recipe,
    log: &BatchLog,
    today: Day,
) -> Vec<&'a Hint> {
    let figures = figures(recipe, log);
    let holds = |it: &HintCondition| {
        let value = value(&it.measure, recipe, log, &figures, today);
        value.is_some_and(|value| it.beyond.holds(value))
    };
    all.iter().filter(|it| it.when.iter().all(holds)).collect()
}

fn value(
    measure: &HintMeasure,
    recipe: &Recipe,
    log: &BatchLog,
    figures: &Figures,
    today: Day,
) -> Option<f64> {
    match measure {
        HintMeasure::Logged(kind) => log.number(kind.id),
        HintMeasure::Days { from, to } => {
            let from = log.day(from.id)?;
            let to = match to {
                Some(to) => log.day(to.id)?,
                None => today,
            };
            let days = i32::try_from(to.days_since(from)).ok()?;
            Some(f64::from(days))
        }
        HintMeasure::Figure(id) => figures.get(id).map(|it| it.value),
        HintMeasure::GravityLeft => {
            let measured = log.number("final-gravity")?;
            Some(measured - expected_gravity(recipe, log)?)
        }
    }
}

/// The final gravity that the yeast should have left.
fn expected_gravity(recipe: &Recipe, log: &BatchLog) -> Option<f64> {
    let usual = Run {
        recipe,
        log,
        end: End::Usual,
        yeast: End::Usual,
    };
    Some(usual.expected_end()?.specific_gravity()?.ratio())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::BatchEntry;
    use crate::domain::BatchEntryId;
    use crate::domain::EntryKind;
    use crate::domain::Moment;
    use crate::workflow::Home;
    use crate::workflow::TRIAL_RECIPE;

    fn given(entries: &[(&str, &str)]) -> Vec<String> {
        let home = Home::trial();
        let recipe = home.parse_recipe("dark", TRIAL_RECIPE).unwrap();
        let entry = |(kind, value): &(&str, &str)| {
            let kind = EntryKind::from_id(kind).unwrap();
            BatchEntry {
                id: BatchEntryId::new(kind.id),
                kind,
                value: kind.read(value).unwrap(),
                at: Moment::parse("2026-03-14T18:00:00Z").unwrap(),
            }
        };
        let log = BatchLog::new(entries.iter().map(entry).collect());
        let today = Moment::parse("2026-06-01T12:00:00Z").unwrap().day();
        let found = hints(home.hints(), &recipe, &log, today);
        found.iter().map(|it| it.id.clone()).collect()
    }

    #[test]
    fn an_ordinary_log_hints_at_nothing() {
        let ordinary = [
            ("brewed", "2026-03-14"),
            ("mash-temperature", "66"),
            ("sparge-temperature", "76"),
            ("boil-time", "60"),
            ("pitching-temperature", "18"),
            ("fermentation-temperature", "19"),
            ("packaged", "2026-04-01"),
        ];
        assert_eq!(given(&ordinary), Vec::<String>::new());
        assert_eq!(given(&[]), Vec::<String>::new());
    }

    #[test]
    fn each_thing_out_of_order_gives_its_hint() {
        for (entries, expected) in [
            (vec![("sparge-temperature", "84")], vec!["hot-sparge"]),
            (vec![("boil-time", "30")], vec!["short-boil"]),
            (vec![("sparge-ph", "6.3")], vec!["alkaline-sparge"]),
            (vec![("boil-covered", "30")], vec!["covered-boil"]),
            (vec![("cooling-time", "120")], vec!["slow-chilling"]),
            (vec![("pitching-rate", "3")], vec!["under-pitched"]),
            (vec![("splashed", "1")], vec!["air-after-pitching"]),
            (vec![("daylight", "20")], vec!["daylight"]),
            (vec![("pitching-temperature", "29")], vec!["warm-pitch"]),
            (
                vec![("fermentation-temperature", "27")],
                vec!["warm-fermentation"],
            ),
            (vec![("mash-temperature", "72")], vec!["hot-mash"]),
            (
                vec![("brewed", "2026-03-14"), ("packaged", "2026-03-19")],
                vec!["early-packaging"],
            ),
            (
                vec![("dry-hopped", "2026-03-20"), ("packaged", "2026-04-01")],
                vec!["long-dry-hop"],
            ),
            (
                vec![("packaged", "2026-04-01"), ("storage-temperature", "26")],
                vec!["warm-store"],
            ),
            (
                vec![("original-gravity", "1.050"), ("final-gravity", "1.025")],
                // What is left ferments in the bottle.
                vec!["stopped-high", "over-primed"],
            ),
        ] {
            assert_eq!(given(&entries), expected, "{entries:?}");
        }
    }
}
