//! A record of what to brew next with everything in it, and what must hold of a version that is written.

use crate::domain::RecipeChange;
use crate::formats::read_recipe;
use crate::statistics::Dice;
use crate::workflow::AskedWishes;
use crate::workflow::Clock;
use crate::workflow::Home;
use crate::workflow::HopeStanding;
use crate::workflow::NextRecipe;
use crate::workflow::Remedy;
use crate::workflow::Split;
use crate::workflow::SplitKind;
use crate::workflow::Suspect;
use crate::workflow::WorkflowError;
use crate::workflow::WorthChanging;
use crate::workflow::recipe_differences;

fn demo() -> (Home, impl Sized) {
    Home::demo(Clock::system(), Dice::from_system().unwrap()).unwrap()
}

fn next(home: &mut Home, mark: &str) -> NextRecipe {
    home.next_recipe(mark, &AskedWishes::default(), None)
        .unwrap()
}

/// What to brew next after the first dark beer of the demonstration, with whatever it lacks made up.
pub(crate) fn told_next() -> NextRecipe {
    let (mut home, _folder) = demo();
    let mut it = next(&mut home, "OD1");
    it.litres = Some((5.0, 8.0));
    it.remedies.push(Remedy {
        word: "butter".to_owned(),
        found_by: vec!["Crumb".to_owned()],
        named_in: 1,
        glasses: 2,
        days: 1,
        suspects: vec![Suspect {
            says: "It was cooled before the yeast was done.".to_owned(),
            odds: "often",
            look: None,
            remedy: None,
            is_logged: true,
        }],
    });
    let first = &mut it.proposals[0];
    first.cost = Some((3.0, 3.2));
    first.split = Some(Split {
        kind: SplitKind::Halves,
        litres: 2.5,
        worth: 3.0,
    });
    it
}

#[test]
fn a_version_that_is_written_reads_as_it_was_proposed_and_differs_only_where_it_says() {
    let (mut home, _folder) = demo();
    let it = next(&mut home, "OD1");
    assert_eq!(it.worth, WorthChanging::Yes);
    let batch = home.batch("OD1").unwrap();
    let parent = home.recipe_of(&batch).unwrap();
    for (at, proposal) in it.proposals.iter().enumerate() {
        let draft = home.draft_numbered(&it, at + 1).unwrap();
        let mut read = read_recipe("new", &draft.document, home.catalogue(), home.wheel()).unwrap();
        assert_eq!(read.parent.as_ref(), Some(&parent.version));
        assert_eq!(read.version, draft.version);
        read.version = parent.version.clone();
        read.parent.clone_from(&parent.parent);
        read.reason.clone_from(&parent.reason);
        let changes: Vec<RecipeChange> = proposal
            .changes
            .iter()
            .map(|it| it.change.clone())
            .collect();
        assert_eq!(read, RecipeChange::apply_all(&changes, &parent));
        // One sentence a change, and no other difference.
        let differences = recipe_differences(&parent, &read);
        assert_eq!(differences.len(), changes.len(), "{differences:?}");
    }
}

#[test]
fn a_written_version_is_a_new_file_with_its_promise_kept_and_the_next_one_has_another_number() {
    let (mut home, _folder) = demo();
    let it = next(&mut home, "OD1");
    let draft = home.draft_numbered(&it, 1).unwrap();
    // Versions 1 and 2 were brewed.
    assert_eq!(draft.version.as_str(), "3");
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join(&draft.file_name);
    home.write_version(&it, &draft, &file).unwrap();
    assert_eq!(std::fs::read_to_string(&file).unwrap(), draft.document);
    let kept = home
        .kept_proposal_for(&draft.name, &draft.version)
        .unwrap()
        .unwrap();
    assert_eq!(kept.proposed.changes.len(), it.proposals[0].changes.len());
    assert!(!kept.proposed.lines.is_empty());
    let again = home.draft_numbered(&it, 1).unwrap();
    assert_eq!(again.version.as_str(), "4");
    let refused = home.write_version(&it, &again, &file).unwrap_err();
    assert!(refused.to_string().contains(&draft.file_name), "{refused}");
    assert!(
        home.kept_proposal_for(&again.name, &again.version)
            .unwrap()
            .is_none()
    );
}

#[test]
fn a_version_whose_promise_was_lost_with_the_power_is_written_by_trying_again() {
    let (mut home, _folder) = demo();
    let it = next(&mut home, "OD1");
    let draft = home.draft_numbered(&it, 1).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join(&draft.file_name);
    std::fs::write(&file, &draft.document).unwrap();
    home.write_version(&it, &draft, &file).unwrap();
    assert_eq!(std::fs::read_to_string(&file).unwrap(), draft.document);
    let kept = home.kept_proposal_for(&draft.name, &draft.version);
    assert!(kept.unwrap().is_some());
}

#[test]
fn what_is_not_proposed_cannot_be_written() {
    let (mut home, _folder) = demo();
    let it = next(&mut home, "OD2");
    assert_eq!((it.worth, it.proposals.len()), (WorthChanging::NotYet, 0));
    let refused = home.draft_numbered(&it, 1).unwrap_err();
    assert!(matches!(
        refused,
        WorkflowError::NoProposal { asked: 1, there: 0 }
    ));
}

#[test]
fn wishes_that_cannot_be_read_are_all_told_at_once() {
    let (mut home, _folder) = demo();
    let wishes = AskedWishes::default();
    let wishes =
        wishes.with("lock Chocolate malt; forbid Chocolate malt; lock Chocolade; cost 5; at home");
    let refused = home.next_recipe("OD1", &wishes.unwrap(), None).unwrap_err();
    let WorkflowError::Wishes { problems } = &refused else {
        panic!("{refused}");
    };
    assert_eq!(problems.len(), 4, "{problems:?}");
    assert!(refused.to_string().contains("Chocolate malt"), "{refused}");
}

#[test]
fn nothing_is_told_of_the_next_recipe_while_somebody_tastes_the_beer() {
    let (mut home, _folder) = demo();
    let taster = home.taster_or_new("Ana").unwrap();
    home.start_tasting(&taster, "OD2", crate::domain::NotesSource::App)
        .unwrap();
    // The second version may have been written from the notes on the first: they tell what it is meant to be.
    for mark in ["OD1", "OD2"] {
        let refused = home.next_recipe(mark, &AskedWishes::default(), None);
        assert!(matches!(
            refused,
            Err(WorkflowError::PredictionsWait { .. })
        ));
    }
}

#[test]
fn who_tasted_stays_at_home_and_a_missed_hope_is_the_first_reason() {
    let (mut home, _folder) = demo();
    let it = next(&mut home, "OD1");
    let missed: Vec<&str> = it
        .hopes
        .iter()
        .filter(|it| it.standing == HopeStanding::Missed)
        .map(|it| it.label.as_str())
        .collect();
    for (at, proposal) in it.proposals.iter().enumerate() {
        let first = &proposal.changes[0].brings[0].0;
        assert!(missed.contains(&first.as_str()), "{first} {missed:?}");
        let draft = home.draft_numbered(&it, at + 1).unwrap();
        for taster in &it.tasters {
            assert!(!draft.document.contains(taster.as_str()), "{taster}");
        }
    }
}

#[test]
fn a_gushing_bottle_is_told_before_anything_else() {
    let (mut home, _folder) = demo();
    let it = next(&mut home, "HL1");
    assert!(it.dangers[0].contains("may burst"), "{:?}", it.dangers);
}

#[test]
fn wishes_that_collide_are_named_and_a_volume_takes_every_amount_along() {
    let (mut home, _folder) = demo();
    let wishes = AskedWishes::default()
        .with("alcohol 2-2.5; lock Pale ale malt; changes 1")
        .unwrap();
    let it = home.next_recipe("OD1", &wishes, None).unwrap();
    assert!(it.proposals.is_empty() && !it.unmet.is_empty(), "{it:?}");
    let told = it.unmet.join(" ");
    assert!(
        told.contains("Alcohol from 2.0 to 2.5") && told.contains("Pale ale malt"),
        "{told}"
    );
    let larger = AskedWishes::default().with("litres 10").unwrap();
    let it = home.next_recipe("OD1", &larger, None).unwrap();
    let draft = home.draft_numbered(&it, 1).unwrap();
    let read = read_recipe("new", &draft.document, home.catalogue(), home.wheel()).unwrap();
    // The recipe has 45 g of roasted barley for 5 L; it is not what is changed.
    let mut all = read.fermentables.iter();
    let barley = all
        .find(|it| it.fermentable.identity.name == "Roasted barley")
        .unwrap();
    assert!((barley.amount.get() - 90.0).abs() < 1e-6, "{barley:?}");
    assert!((read.volume.get() - 10.0).abs() < 1e-9);
}
