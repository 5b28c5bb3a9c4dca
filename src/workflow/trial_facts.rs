//! Facts of the trade: of two brews that differ in one thing, which one has more of what.

use crate::domain::Day;
use crate::domain::Stage;
use crate::workflow::BatchLog;
use crate::workflow::Home;
use crate::workflow::figures;
use crate::workflow::trial_fact_brews::entry;
use crate::workflow::trial_fact_brews::recipe;
use crate::workflow::trial_fact_rows::FACTS;
use crate::workflow::trial_fact_rows::Of;

/// How much of something a brew has.
fn amount(home: &Home, pieces: &str, of: Of) -> f64 {
    let document = recipe(pieces);
    let recipe = home
        .parse_recipe("fact", &document)
        .unwrap_or_else(|error| panic!("{pieces}: {error}\n{document}"));
    let packaged = Day::parse("2026-01-10").unwrap();
    let weeks = pieces.split("; ").find_map(|it| it.strip_prefix("weeks "));
    let weeks = weeks.map(|it| it.parse::<u16>().unwrap());
    let tasted = weeks.map(|it| packaged.days_later(7 * it));
    let logged = pieces.split("; ").filter_map(|it| it.strip_prefix("log "));
    let mut logged: Vec<(&str, &str)> = logged.map(|it| it.split_once(' ').unwrap()).collect();
    logged.extend(weeks.map(|_| ("packaged", "2026-01-10")));
    let log = BatchLog::new(logged.into_iter().map(entry).collect());
    let profile = home.profile_of(&recipe, &log, tasted);
    let units = |shelf: &str, stage: Stage| {
        let id = crate::domain::ShelfId::new(shelf).unwrap();
        assert!(home.wheel().shelf(&id).is_some(), "{shelf}");
        profile.shelf(&id, stage).map_or(0.0, |it| it.odour.units())
    };
    match of {
        Of::Figure(id) => figures(&recipe, &log).get(id).unwrap().value,
        Of::Scale(id) => {
            profile
                .scales
                .iter()
                .find(|it| it.scale.id == id)
                .unwrap()
                .value
        }
        Of::Smell(shelf) => units(shelf, Stage::Aroma),
        Of::Taste(shelf) => units(shelf, Stage::Flavour),
    }
}

#[test]
fn every_fact_of_the_trade_holds_beyond_rounding() {
    let home = Home::trial();
    let mut broken = Vec::new();
    for fact in FACTS {
        assert!(!fact.source.is_empty(), "{}", fact.says);
        let (less, more) = (
            amount(&home, fact.less, fact.of),
            amount(&home, fact.more, fact.of),
        );
        // A thousandth, so that no rounding decides.
        if more - less < 1e-3 * more.abs().max(1e-3) {
            broken.push(format!("{}: {less} and {more}", fact.says));
        }
    }
    assert!(broken.is_empty(), "{}", broken.join("\n"));
    assert!(FACTS.len() >= 45, "{}", FACTS.len());
}

#[test]
fn a_fact_that_is_turned_round_is_found_to_be_wrong() {
    let home = Home::trial();
    let hot = amount(&home, "mash 70", Of::Figure("alcohol"));
    let cool = amount(&home, "mash 64", Of::Figure("alcohol"));
    assert!(hot < cool, "{hot} {cool}");
    assert!(recipe("").contains("1000 g"));
}
