//! A recipe, its next version as it was proposed, and notes on both, for tests of what became of a promise.

use crate::domain::KeptProposal;
use crate::domain::NotesChange;
use crate::domain::NotesSource;
use crate::domain::PromisedChange;
use crate::domain::ProposalId;
use crate::domain::Proposed;
use crate::domain::ProposedTest;
use crate::domain::Rating;
use crate::domain::Scale;
use crate::formats::EXAMPLE;
use crate::formats::document_hash;
use crate::workflow::Closing;
use crate::workflow::Home;
use crate::workflow::PlanRequest;
use crate::workflow::ReadRecipe;
use crate::workflow::RecipeHistory;
use crate::workflow::trial_blind;

/// The cap marks of the version that was brewed first and of the one that was proposed.
pub(crate) const MARKS: [&str; 2] = ["T1", "T2"];

/// The next version of the example: less chocolate malt, more hops.
pub(crate) fn next_document() -> String {
    EXAMPLE
        .replace("version = \"2\"", "version = \"3\"")
        .replace("parent = \"1\"", "parent = \"2\"")
        .replace("reason = \"less roast\"", "reason = \"more bitter\"")
        .replace("amount = \"12 g\"", "amount = \"20 g\"")
        .replace("amount = \"60 g\"", "amount = \"20 g\"")
}

/// A home with both brewed. `promised` of bitter: now, a tenth below, expected, a tenth above.
pub(crate) fn promised_home(promised: [f64; 4]) -> Home {
    let mut home = Home::trial_with_a_batch();
    let first = home.batch(MARKS[0]).unwrap();
    let document = next_document();
    let recipe = home.parse_recipe("next", &document).unwrap();
    let [now, low, expected, high] = promised;
    let line = PromisedChange {
        id: "bitter".to_owned(),
        label: "Bitter".to_owned(),
        now,
        hoped: Some(expected),
        low,
        expected,
        high,
    };
    let proposal = KeptProposal {
        id: ProposalId::new(home.draw_id()),
        batch: first.id,
        parent: first.version,
        name: recipe.name.clone(),
        version: recipe.version.clone(),
        hash: document_hash(&document),
        proposed: Proposed {
            changes: vec!["8 g more Saaz (60 min boil): 12 to 20 g".to_owned()],
            lines: vec![line],
            chance: 0.8,
            test: Some(ProposedTest {
                method: "triangle".to_owned(),
                distance: 1.5,
                answers: 24,
            }),
        },
        made_at: home.now(),
    };
    home.keep_proposal(&proposal).unwrap();
    let read = ReadRecipe { document, recipe };
    home.add_batch_of(&read, Some(MARKS[1])).unwrap();
    home
}

/// The first version brewed once more.
pub(crate) fn second_brew(home: &mut Home, mark: &str) {
    let read = ReadRecipe {
        document: EXAMPLE.to_owned(),
        recipe: home.parse_recipe("example", EXAMPLE).unwrap(),
    };
    home.add_batch_of(&read, Some(mark)).unwrap();
}

/// One glass for each taster, who rates nothing but how bitter it is.
pub(crate) fn rated_by(home: &mut Home, names: &[&str], mark: &str, bitter: f64) {
    let scale = Scale::from_id("bitter").unwrap();
    for name in names {
        let taster = home.taster_or_new(name).unwrap();
        let mut tasting = home.start_tasting(&taster, mark, NotesSource::App).unwrap();
        let rating = NotesChange::Rated(scale, Some(Rating::Rated(bitter)));
        home.change(&mut tasting, &[rating]).unwrap();
        home.lock(&mut tasting).unwrap();
    }
}

/// A closed triangle of both, with these answers, one a taster.
pub(crate) fn tested(home: &mut Home, names: &[&str], right: &[bool]) {
    let places = u16::try_from(names.len()).unwrap();
    let beers = MARKS.map(str::to_owned);
    let asked = PlanRequest {
        beers,
        places,
        ..trial_blind::request()
    };
    let planned = home.plan_test(&asked).unwrap();
    for (name, right) in names.iter().zip(right) {
        trial_blind::answered(home, &planned, name, &[*right]);
    }
    home.close_test(planned.test.number, Closing::Complete)
        .unwrap();
}

/// A history in which nothing is missing: a repeat brew, a kept promise, and a closed test.
pub(crate) fn told_history() -> RecipeHistory {
    let six = ["Ana", "Ben", "Cy", "Dora", "Eve", "Finn"];
    let mut home = promised_home([3.0, 6.0, 7.0, 8.0]);
    rated_by(&mut home, &six, MARKS[0], 3.0);
    rated_by(&mut home, &six, MARKS[1], 7.0);
    second_brew(&mut home, "T9");
    rated_by(&mut home, &six, "T9", 3.0);
    tested(&mut home, &six, &[true, true, true, true, true, false]);
    home.recipe_history("Harbour dark").unwrap()
}
