//! What the talk of a panel tells by code, and what is told once the beers are named.

use crate::domain::BottleFault;
use crate::domain::Mark;
use crate::domain::NotesChange;
use crate::domain::Prompting;
use crate::domain::Rating;
use crate::domain::Remark;
use crate::domain::Scale;
use crate::domain::Stage;
use crate::domain::Subject;
use crate::workflow::Closing;
use crate::workflow::GlassState;
use crate::workflow::Home;
use crate::workflow::PanelRound;
use crate::workflow::trial_panel::GLASS;
use crate::workflow::trial_panel::beer_of;
use crate::workflow::trial_panel::planned;
use crate::workflow::trial_panel::rated;
use crate::workflow::trial_panel::tastes;

fn named(home: &mut Home, word: &str) -> NotesChange {
    NotesChange::Marked(Mark {
        id: home.new_mark(),
        stage: Stage::Flavour,
        subject: Subject::Free(Remark::new("a word", word).unwrap()),
        intensity: Some(5),
        prompting: Prompting::Unprompted,
    })
}

#[test]
fn the_talk_tells_middle_and_spread_by_code_and_who_stands_apart() {
    let names = ["Ana", "Ben", "Cleo", "Dot", "Eve", "Finn"];
    let mut home = planned(&names, 0);
    // Barn is 2 to everybody but Finn; T1 is as many as its taster's place.
    for (at, name) in (1_u8..).zip(names) {
        tastes(&mut home, name, PanelRound::Alone, |beer| {
            match (beer, name) {
                ("Barn", "Finn") => 9.0,
                ("Barn", _) => 2.0,
                _ => f64::from(at),
            }
        });
    }
    let talk = home.panel_talk(1).unwrap();
    for (at, glass) in talk.glasses.iter().enumerate() {
        let [line] = glass.lines.as_slice() else {
            panic!("only bitter was asked");
        };
        let first = line.first;
        // By hand: of 1 to 6 the median is 3.5; of 2, 2, 2, 2, 2, 9 it is 2.
        let expected = match beer_of(&home, glass.code).as_str() {
            "Barn" => (2.0, 2.0, 9.0, 6),
            _ => (3.5, 1.0, 6.0, 6),
        };
        assert_eq!(
            (first.median, first.lowest, first.highest, first.tasters),
            expected
        );
        // By hand: v₀ = 0.81 + 1/12 + 0.49 = 1.383333 on ν₀ = 3.547 (of a variance of 1.0789 of it); the five others
        // say 2 of Barn and 1 to 5 of T1, so S = 10 on 8: v = (3.547·1.383333 + 10)/11.547 = 1.2910, t =
        // 7/√(v·(1 + π/10)) = 5.37 on 11.5, beyond 4.44, which is 0.001 on 11 (printed tables), in a family of 12.
        // The next largest gap, 6 against the median 3 of the others, has t = 2.30 and p = 0.04, above 2·0.05/12.
        let apart: Vec<_> = talk.apart.iter().filter(|it| it.at == at).collect();
        if beer_of(&home, glass.code) == "Barn" {
            let [one] = apart.as_slice() else {
                panic!("{apart:?}");
            };
            assert_eq!(one.taster.as_str(), "Finn");
            assert_eq!((one.answer, one.others), (9.0, 2.0));
        } else {
            assert!(apart.is_empty(), "{apart:?}");
        }
    }
}

#[test]
fn two_tasters_have_no_middle_to_stand_apart_from() {
    let mut home = planned(&["Ana", "Ben"], 0);
    tastes(&mut home, "Ana", PanelRound::Alone, |_| 0.0);
    tastes(&mut home, "Ben", PanelRound::Alone, |_| 9.0);
    assert!(home.panel_talk(1).unwrap().apart.is_empty());
}

#[test]
fn after_the_talk_notes_begin_as_they_were_and_stand_beside_the_first() {
    let mut home = planned(&["Ana", "Ben"], 0);
    let turn = home.panel_turn(1, "Ana", PanelRound::Alone).unwrap();
    let early = home.panel_turn(1, "Ana", PanelRound::AfterTalk);
    assert!(early.is_err(), "nobody talks before all are done");
    for glass in &turn.glasses {
        let mut tasting = home.panel_glass(&turn, glass.code, GLASS).unwrap();
        let word = named(&mut home, "hay");
        home.change(&mut tasting, &[rated("bitter", 8.0), word])
            .unwrap();
        home.lock(&mut tasting).unwrap();
    }
    tastes(&mut home, "Ben", PanelRound::Alone, |_| 4.0);
    let turn = home.panel_turn(1, "Ana", PanelRound::AfterTalk).unwrap();
    assert!(turn.glasses.iter().all(|it| it.state == GlassState::Waits));
    let code = turn.glasses[0].code;
    let mut tasting = home.panel_glass(&turn, code, GLASS).unwrap();
    assert_eq!(tasting.notes.round, 2);
    assert_eq!(tasting.notes.marks.len(), 1);
    let bitter = Scale::from_id("bitter").unwrap();
    assert_eq!(tasting.notes.rating(bitter), Some(Rating::Rated(8.0)));
    home.change(&mut tasting, &[rated("bitter", 6.0)]).unwrap();
    // Nobody waits for a second look; it is only said that it does not count unless it is locked.
    let table = home.panel_table(1).unwrap();
    assert!(table.waits_for().is_empty());
    assert_eq!(table.unlocked_looks(), ["Ana"]);
    home.lock(&mut tasting).unwrap();
    let talk = home.panel_talk(1).unwrap();
    for glass in &talk.glasses {
        let line = &glass.lines[0];
        // By hand: of 8 and 4 the middle is 6; of 6 and 4 it is 5.
        assert_eq!(Some(line.first.median), Some(6.0));
        assert_eq!(
            line.after.map(|it| it.median),
            (glass.code == code).then_some(5.0)
        );
        let word = &glass.words[0];
        assert_eq!((word.word.as_str(), word.first), ("“hay”", 1));
    }
    home.tell_panel(1, Closing::Complete).unwrap();
    // What was changed after the talk counts as no evidence: only first rounds do.
    let beer = beer_of(&home, code);
    let other = if beer == "T1" { "Barn" } else { "T1" };
    let versus = home.versus(&beer, other).unwrap();
    let line = versus.lines.iter().find(|it| it.id == "bitter").unwrap();
    assert_eq!(line.means, [Some(6.0), Some(6.0)]);
}

#[test]
fn what_stood_there_two_times_is_told_to_all_and_the_two_answers_only_to_their_taster() {
    let mut home = planned(&["Ana", "Ben", "Cleo"], 1);
    let sheet = home.pouring_sheet(1).unwrap();
    let again = sheet.needed.iter().find(|it| (it.1 - 360.0).abs() < 1e-9);
    let again = again.expect("by hand: 3 · 60 mL · 2").0.to_string();
    for name in ["Ana", "Ben", "Cleo"] {
        let turn = home.panel_turn(1, name, PanelRound::Alone).unwrap();
        let mut value = 3.0;
        for glass in &turn.glasses {
            let mut tasting = home.panel_glass(&turn, glass.code, GLASS).unwrap();
            if beer_of(&home, glass.code) == again {
                home.change(&mut tasting, &[rated("bitter", value), rated("sweet", 2.0)])
                    .unwrap();
                value = 6.0;
            }
            home.lock(&mut tasting).unwrap();
        }
    }
    assert!(home.panel_own_page(1, "Ana").is_err());
    home.tell_panel(1, Closing::Complete).unwrap();
    let result = home.panel_result(1).unwrap();
    let beer = result.beers.iter().find(|it| it.codes.len() == 2).unwrap();
    assert_eq!(beer.mark.as_str(), again);
    let bitter = beer
        .lines
        .iter()
        .find(|it| it.scale.id == "bitter")
        .unwrap();
    // By hand: everybody's mean of 3 and 6, by three tasters and not by six glasses.
    assert_eq!((bitter.first.median, bitter.first.tasters), (4.5, 3));
    let own = home.panel_own_page(1, "Ana").unwrap();
    let [pair] = own.pairs.as_slice() else {
        panic!("{own:?}");
    };
    let bitter = pair.lines.iter().find(|it| it.0.id == "bitter").unwrap();
    assert_eq!(
        bitter.1.map(Some),
        [Some(3.0), Some(6.0)],
        "the earlier one first"
    );
    assert_eq!((pair.lines.len(), pair.close()), (2, 1));
}

#[test]
fn telling_early_says_for_whom_it_ends_and_what_they_locked_counts() {
    let mut home = planned(&["Ana", "Ben"], 0);
    tastes(&mut home, "Ana", PanelRound::Alone, |_| 5.0);
    let turn = home.panel_turn(1, "Ben", PanelRound::Alone).unwrap();
    let mut tasting = home
        .panel_glass(&turn, turn.glasses[0].code, GLASS)
        .unwrap();
    home.change(&mut tasting, &[rated("bitter", 7.0)]).unwrap();
    home.lock(&mut tasting).unwrap();
    let refused = home
        .tell_panel(1, Closing::Complete)
        .unwrap_err()
        .to_string();
    assert!(refused.contains("not done at panel 1: Ben."), "{refused}");
    home.tell_panel(1, Closing::Early).unwrap();
    let told = home.panel_table(1).unwrap();
    assert!(told.people[1].left && !told.people[0].left);
    let beer = beer_of(&home, turn.glasses[0].code);
    let result = home.panel_result(1).unwrap();
    let row = result
        .beers
        .iter()
        .find(|it| it.mark.as_str() == beer)
        .unwrap();
    assert_eq!(row.lines[0].first.tasters, 2);
    let first = told.panel.told_at;
    home.tell_panel(1, Closing::Early).unwrap();
    assert_eq!(home.panel_table(1).unwrap().panel.told_at, first);
    assert!(home.panel_turn(1, "Ana", PanelRound::Alone).is_err());
}

#[test]
fn a_bad_bottle_gives_no_number_and_is_counted() {
    let mut home = planned(&["Ana"], 0);
    let turn = home.panel_turn(1, "Ana", PanelRound::Alone).unwrap();
    let mut tasting = home
        .panel_glass(&turn, turn.glasses[0].code, GLASS)
        .unwrap();
    home.lock_faulty(&mut tasting, BottleFault::Flat).unwrap();
    let mut other = home
        .panel_glass(&turn, turn.glasses[1].code, GLASS)
        .unwrap();
    home.change(&mut other, &[rated("bitter", 5.0)]).unwrap();
    home.lock(&mut other).unwrap();
    let talk = home.panel_talk(1).unwrap();
    let faulty: Vec<usize> = talk.glasses.iter().map(|it| it.faulty).collect();
    assert_eq!(faulty.iter().sum::<usize>(), 1);
    let again = home.panel_turn(1, "Ana", PanelRound::AfterTalk).unwrap();
    assert!(
        home.panel_glass(&again, turn.glasses[0].code, GLASS)
            .is_err()
    );
}
