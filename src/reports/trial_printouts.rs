//! Tests that walk the pages of everything that is printed of tests, panels, evenings and jars, with the longest names.

use crate::domain::Aims;
use crate::domain::Form;
use crate::domain::MeetingCount;
use crate::domain::Millilitres;
use crate::domain::Minutes;
use crate::domain::Pouring;
use crate::domain::Purpose;
use crate::domain::Risk;
use crate::domain::Share;
use crate::domain::SheetKind;
use crate::domain::Stopping;
use crate::drawing::Paper;
use crate::drawing::Printed;
use crate::drawing::beyond_margins;
use crate::drawing::printed_texts;
use crate::reports::PRINTABLES;
use crate::reports::PrintAsked;
use crate::reports::Printable;
use crate::reports::Printout;
use crate::workflow::EveningWish;
use crate::workflow::Home;
use crate::workflow::PanelPourer;
use crate::workflow::PanelRequest;
use crate::workflow::PlanRequest;
use crate::workflow::TakePlace;

const LONG: &str = "Überlängen-Sauerkirschenporter vierzigst";
const PEOPLE: [&str; 3] = [
    "Ana",
    "Bartholomäus von der Hinteren Hopfendarre",
    "Жанна-Владимировна",
];

fn planned(method: &str, pouring: Pouring, rounds: u16, home: &mut Home) {
    let request = PlanRequest {
        beers: ["T1".to_owned(), LONG.to_owned()],
        method: method.to_owned(),
        purpose: Purpose::Difference,
        aims: Aims {
            alpha: Risk::new(0.05).unwrap(),
            beta: Risk::new(0.2).unwrap(),
            pd: Share::new(0.5).unwrap(),
        },
        attribute: None,
        expected: None,
        places: 6,
        rounds,
        stopping: Stopping::Fixed,
        pouring,
        glass: Millilitres::new(30.0).unwrap(),
        seed: Some(7),
    };
    home.plan_test(&request).unwrap();
}

/// A home with tests 1 and 2, a panel and an evening, all with long names.
fn kitchen() -> Home {
    let mut home = Home::trial_with_a_batch();
    planned("triangle", Pouring::Two, 1, &mut home);
    planned("tetrad", Pouring::One, 3, &mut home);
    planned("duo-trio", Pouring::One, 2, &mut home);
    let request = PanelRequest {
        beers: vec!["T1".to_owned(), LONG.to_owned(), "P3".to_owned()],
        tasters: PEOPLE.map(str::to_owned).to_vec(),
        doubled: 1,
        glass: Millilitres::new(60.0).unwrap(),
        form: Form::Full,
        pourer: PanelPourer::SomebodyElse,
    };
    home.plan_panel(&request).unwrap();
    let people = PEOPLE.map(|it| home.taster_or_new(it).unwrap()).to_vec();
    let count = MeetingCount::new(6).unwrap();
    let course = home.add_course("Winter", &people, count).unwrap();
    let wish = EveningWish {
        present: people,
        length: Minutes::new(120.0).unwrap(),
        jars: 6,
    };
    home.plan_evening(&course, &wish).unwrap();
    home
}

fn printed(id: &str, of: &[&str], reader: Option<&str>, paper: Paper, home: &mut Home) -> Printout {
    let of = of.iter().map(|it| (*it).to_owned()).collect();
    let asked = PrintAsked {
        reader: reader.map(str::to_owned),
        ..PrintAsked::of(of, paper)
    };
    let printable = Printable::find(id).unwrap();
    printable.printed(home, &asked).unwrap()
}

/// What is printed of the kitchen: the kind, of what, and who reads it.
const ALL: &[(&str, &[&str], Option<&str>)] = &[
    ("pouring-sheet", &["1"], Some("Ben")),
    ("pouring-sheet", &["2"], Some("Ben")),
    ("serving-sheet", &["1"], Some("Cleo")),
    ("ballots", &["1"], None),
    ("ballots", &["2"], None),
    ("ballots", &["3"], None),
    ("cup-labels", &["2"], None),
    ("panel-pouring", &["1"], Some("Ben")),
    ("panel-ballots", &["1"], None),
    ("panel-labels", &["1"], None),
    ("tasting-sheet", &[], None),
    ("tasting-sheet", &[LONG], None),
    ("evening", &["Winter"], Some("Ben")),
    ("answer-sheets", &["Winter"], None),
    ("evening-cards", &["Winter"], Some("Ben")),
    ("evening-labels", &["Winter"], None),
    ("jar-cards", &["bread crust, vanilla, skunk"], None),
    ("jar-labels", &["bread crust, vanilla, skunk"], None),
];

#[test]
fn nothing_that_is_printed_stands_in_a_margin_or_in_letters_too_small_to_read() {
    let mut home = kitchen();
    for (id, of, reader) in ALL {
        for paper in [Paper::A4, Paper::Letter] {
            let printout = printed(id, of, *reader, paper, &mut home);
            assert!(!printout.sheets.is_empty(), "{id}");
            for sheet in &printout.sheets {
                let [width, height] = paper.size();
                let off = (sheet.size[0] - width).abs() + (sheet.size[1] - height).abs();
                assert!(off < 1e-9, "{id}: {:?}", sheet.size);
                assert_eq!(beyond_margins(sheet, 10.0), Vec::<String>::new(), "{id}");
                assert!(!printed_texts(sheet).is_empty(), "{id}: an empty page");
                for mark in &sheet.printed {
                    if let Printed::Text { text, set, .. } = mark {
                        assert!(set.size >= 2.4, "{id}: {text}");
                    }
                }
            }
        }
    }
}

#[test]
fn what_a_taster_holds_tells_no_beer() {
    let mut home = kitchen();
    let open = ["ballots", "cup-labels", "panel-ballots", "panel-labels"];
    for (id, of, _) in ALL.iter().filter(|it| open.contains(&it.0)) {
        let printout = printed(id, of, None, Paper::A4, &mut home);
        for sheet in &printout.sheets {
            let all = printed_texts(sheet).join(" ");
            for told in ["T1", "P3", "Sauerkirschen"] {
                assert!(!all.contains(told), "{id} tells {told}");
            }
        }
    }
    // The answer sheets and the labels of an evening tell no jar; its plan does.
    let plan = printed("evening", &["Winter"], Some("Ben"), Paper::A4, &mut home);
    let evening = home
        .latest_evening(&home.course("Winter").unwrap())
        .unwrap();
    let jars = evening.parts.iter().flat_map(|it| &it.cards);
    let words: Vec<&str> = jars
        .filter(|it| it.spiked.is_none())
        .map(|it| it.word.as_str())
        .collect();
    assert!(words.len() > 6);
    let plan: Vec<&str> = plan.sheets.iter().flat_map(printed_texts).collect();
    assert!(words.iter().all(|it| plan.contains(it)));
    for id in ["answer-sheets", "evening-labels"] {
        let shown = printed(id, &["Winter"], None, Paper::A4, &mut home);
        let shown: Vec<&str> = shown.sheets.iter().flat_map(printed_texts).collect();
        assert!(words.iter().all(|it| !shown.contains(it)), "{id}");
    }
}

#[test]
fn a_printed_key_counts_as_seen_and_nobody_gets_it_unnamed() {
    let mut home = kitchen();
    let asked = PrintAsked::of(vec!["2".to_owned()], Paper::A4);
    let printable = Printable::find("pouring-sheet").unwrap();
    let refused = printable
        .printed(&mut home, &asked)
        .unwrap_err()
        .to_string();
    let verb = home.sheet(2, SheetKind::Pourer, None).unwrap_err();
    assert_eq!(refused, verb.to_string());
    printed("pouring-sheet", &["2"], Some("Dora"), Paper::A4, &mut home);
    let refused = home.sit_down(2, "Dora", TakePlace::NextFree);
    assert!(refused.is_err());
}

#[test]
fn every_ballot_is_whole_and_stands_apart_from_the_next_by_a_line_to_cut() {
    let mut home = kitchen();
    for paper in [Paper::A4, Paper::Letter] {
        let printout = printed("ballots", &["2"], None, paper, &mut home);
        let mut ballots = 0;
        for sheet in &printout.sheets {
            let texts = printed_texts(sheet);
            let heads = texts.iter().filter(|it| it.starts_with("Test 2 · place"));
            let ends = texts.iter().filter(|it| it.starts_with("May hold"));
            let cuts = texts.iter().filter(|it| **it == "✂").count();
            let heads = heads.count();
            assert_eq!((ends.count(), cuts), (heads, heads - 1));
            ballots += heads;
        }
        assert_eq!(ballots, 18);
    }
}

#[test]
fn the_walk_above_leaves_nothing_of_these_kinds_out() {
    let elsewhere = ["batch", "taster", "history", "wheel"];
    for it in PRINTABLES.iter().filter(|it| !elsewhere.contains(&it.id)) {
        assert!(ALL.iter().any(|(id, ..)| *id == it.id), "{}", it.id);
    }
}
