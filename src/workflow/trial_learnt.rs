//! What is learnt in a kitchen of invented batches: which notes teach, and what is kept from whom.

use crate::domain::Knew;
use crate::domain::Mark;
use crate::domain::Nose;
use crate::domain::NotesChange;
use crate::domain::NotesSource;
use crate::domain::Prompting;
use crate::domain::Rating;
use crate::domain::Scale;
use crate::domain::Stage;
use crate::domain::Subject;
use crate::workflow::Comparison;
use crate::workflow::Home;
use crate::workflow::Learnt;
use crate::workflow::ReadRecipe;
use crate::workflow::TRIAL_RECIPE;
use crate::workflow::WorkflowError;
use crate::workflow::taster_noise::TasterNoise;

/// So many batches of the example recipe, T1 and on.
fn kitchen(batches: usize) -> Home {
    let mut home = Home::trial_with_a_batch();
    let read = ReadRecipe {
        document: TRIAL_RECIPE.to_owned(),
        recipe: home.parse_recipe("example", TRIAL_RECIPE).unwrap(),
    };
    for number in 2..=batches {
        home.add_batch_of(&read, Some(&format!("T{number}")))
            .unwrap();
    }
    home
}

/// A rating so many digits above what is predicted.
fn above(home: &mut Home, id: &str, by: f64) -> NotesChange {
    let lines = home.batch_lines("T1").unwrap();
    let line = lines.iter().find(|it| it.id == id).unwrap();
    let scale = Scale::from_id(id).unwrap();
    let value = scale.value_at((line.foreseen.middle + by).round());
    NotesChange::Rated(scale, Some(Rating::Rated(value)))
}

fn taste(home: &mut Home, name: &str, mark: &str, changes: &[NotesChange]) {
    let taster = home.taster_or_new(name).unwrap();
    let mut tasting = home.start_tasting(&taster, mark, NotesSource::App).unwrap();
    home.change(&mut tasting, changes).unwrap();
    home.lock(&mut tasting).unwrap();
}

/// Ana tastes each of so many batches two digits more bitter than predicted, and else as predicted.
fn bitter_kitchen(batches: usize) -> Home {
    let mut home = kitchen(batches);
    for number in 1..=batches {
        let changes = [
            above(&mut home, "bitter", 2.0),
            above(&mut home, "sweet", 0.0),
            above(&mut home, "fullness", 0.0),
        ];
        taste(&mut home, "Ana", &format!("T{number}"), &changes);
    }
    home
}

fn bitter(it: &Learnt) -> f64 {
    it.lines.iter().find(|it| it.id == "bitter").unwrap().offset
}

fn learnt_of_bitter(it: &Comparison) -> Option<f64> {
    let mut lines = it.lines.iter();
    let against = crate::workflow::HeldAgainst::Prediction;
    lines
        .find(|it| it.id == "bitter" && it.against == against)
        .unwrap()
        .learnt_offset
}

#[test]
fn from_three_batches_on_a_prediction_is_moved_and_before_it_says_not_yet() {
    let two = bitter_kitchen(2).learnt("Ana").unwrap();
    assert_eq!(
        (two.batches, two.is_used, two.digits_gain.chance),
        (2, false, None)
    );
    let home = bitter_kitchen(5);
    let five = home.learnt("Ana").unwrap();
    assert_eq!((five.batches, five.glasses, five.is_used), (5, 5, true));
    // Nearly two digits, rounding apart, drawn towards the others that lie at none.
    assert!(bitter(&five) > 0.5 && bitter(&five) < 2.5, "{five:?}");
    assert_eq!(five.lines[0].id, "bitter");
    assert_eq!(five.digits_gain.batches.len(), 5);
}

#[test]
fn notes_that_were_led_and_words_that_were_asked_for_teach_nothing() {
    let mut home = kitchen(1);
    let bitter = above(&mut home, "bitter", 2.0);
    let prompted = NotesChange::Marked(Mark {
        id: home.new_mark(),
        stage: Stage::Flavour,
        subject: Subject::Descriptor(crate::domain::DescriptorId::new("tangerine").unwrap()),
        intensity: Some(7),
        prompting: Prompting::Prompted,
    });
    taste(
        &mut home,
        "Ana",
        "T1",
        &[NotesChange::Knew(Some(Knew::Recipe)), bitter.clone()],
    );
    taste(
        &mut home,
        "Ben",
        "T1",
        &[NotesChange::Nosed(Some(Nose::Cold)), bitter],
    );
    taste(&mut home, "Cleo", "T1", &[prompted]);
    for name in ["Ana", "Ben"] {
        assert_eq!(home.learnt(name).unwrap().batches, 0, "{name}");
    }
    let cleo = home.learnt("Cleo").unwrap();
    assert!(cleo.batches == 1 && cleo.lines.is_empty(), "{cleo:?}");
    // What she did not name by herself still tells how often she names.
    assert!(!cleo.naming.is_empty() && cleo.naming.iter().all(|it| it.named < 1e-9));
}

#[test]
fn while_a_batch_is_tasted_nothing_that_was_learnt_is_told() {
    let mut home = bitter_kitchen(4);
    let ben = home.add_taster("Ben").unwrap();
    home.start_tasting(&ben, "T2", NotesSource::App).unwrap();
    for refused in [
        home.learnt("Ana").unwrap_err(),
        home.learnt_tasters().unwrap_err(),
    ] {
        assert!(matches!(refused, WorkflowError::PredictionsWait { .. }));
        assert!(!refused.to_string().contains("T2"), "{refused}");
    }
    // Every batch here is of the recipe that is being tasted, so none of them teaches meanwhile.
    let ana = home.taster("Ana").unwrap();
    assert!(
        home.learning(&ana, &[], &TasterNoise::default())
            .unwrap()
            .batches
            .is_empty()
    );
    home.break_seal("T2").unwrap();
    // The seal is broken, but T2 is still before somebody: the others teach, and it does not.
    let marks = home
        .learning(&ana, &[], &TasterNoise::default())
        .unwrap()
        .batches;
    let marks: Vec<&str> = marks.iter().map(|it| it.mark.as_str()).collect();
    assert_eq!(marks, ["T1", "T3", "T4"]);
}

#[test]
fn a_batch_is_judged_by_what_the_others_teach_and_never_by_itself() {
    let mut three = bitter_kitchen(3);
    // Two others are too few.
    assert_eq!(learnt_of_bitter(&three.compare("T1", None).unwrap()), None);
    let mut home = bitter_kitchen(4);
    let offset = learnt_of_bitter(&home.compare("T4", None).unwrap()).unwrap();
    let ana = home.taster("Ana").unwrap();
    let batch = home.batch("T4").unwrap();
    let without = home
        .learning(
            &ana,
            std::slice::from_ref(&batch.id),
            &TasterNoise::default(),
        )
        .unwrap();
    assert_eq!(without.batches.len(), 3);
    let expected = without.on_scale(Scale::from_id("bitter").unwrap()).mean;
    assert!(
        (offset - expected).abs() < 1e-12 && offset > 0.3,
        "{offset}"
    );
    // Another glass of the same batch, as far off as can be, changes nothing of it.
    let wild = above(&mut home, "bitter", -4.0);
    taste(&mut home, "Ana", "T4", &[wild]);
    let again = learnt_of_bitter(&home.compare("T4", None).unwrap()).unwrap();
    assert!((again - offset).abs() < 1e-12, "{again} {offset}");
    // Who is tasting something else right now is not told what is said of them.
    home.add_beer_tasted_by("Ana");
    let refused = home.learnt("Ana").unwrap_err().to_string();
    assert!(
        refused.contains("Ana") && !refused.contains("unknown"),
        "{refused}"
    );
    assert_eq!(learnt_of_bitter(&home.compare("T4", None).unwrap()), None);
}

#[test]
fn a_prediction_is_told_as_a_taster_would_note_it() {
    let home = bitter_kitchen(5);
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("dark.toml");
    std::fs::write(&file, TRIAL_RECIPE).unwrap();
    assert_eq!(home.predict(&file, None).unwrap().as_noted, None);
    // What Ana noted of this very recipe would be remembered, not foreseen: all five batches are of it.
    let same = home.predict_for(&file, None, Some("Ana")).unwrap();
    assert_eq!(same.as_noted.unwrap().batches, 0);
    let other = TRIAL_RECIPE.replacen("60 min", "61 min", 1);
    std::fs::write(&file, other).unwrap();
    let it = home.predict_for(&file, None, Some("Ana")).unwrap();
    let noted = it.as_noted.unwrap();
    assert_eq!(noted.batches, 5);
    assert_eq!(noted.lines.len(), it.profile.len());
    let plain = it.profile.iter().find(|it| it.id == "bitter").unwrap();
    let own = noted.line("bitter").unwrap();
    assert!(own.middle > plain.foreseen.middle + 0.5, "{own:?}");
    assert!(f64::from(own.range[0]) <= own.middle && own.middle <= f64::from(own.range[1]) + 0.5);
    assert!(home.predict_for(&file, None, Some("Nobody")).is_err());
}

impl Home {
    /// A bottle without a recipe stands before a taster, its tasting still open.
    fn add_beer_tasted_by(&mut self, name: &str) {
        let taster = self.taster(name).unwrap();
        self.start_tasting(&taster, "unknown", NotesSource::App)
            .unwrap();
    }
}

#[test]
fn what_all_tasters_share_is_told_beside_what_is_ones_own() {
    let mut home = bitter_kitchen(3);
    for number in 1..=3 {
        let as_predicted = [
            above(&mut home, "bitter", 0.0),
            above(&mut home, "sweet", 0.0),
        ];
        taste(&mut home, "Ben", &format!("T{number}"), &as_predicted);
    }
    let [ana, ben] = ["Ana", "Ben"].map(|it| home.learnt(it).unwrap());
    let panel = |it: &Learnt| it.lines.iter().find(|it| it.id == "bitter").unwrap().panel;
    let (mean, number) = panel(&ana).unwrap();
    assert_eq!(number, 2);
    assert!((mean - f64::midpoint(bitter(&ana), bitter(&ben))).abs() < 1e-12);
    assert_eq!(panel(&ana), panel(&ben));
}
