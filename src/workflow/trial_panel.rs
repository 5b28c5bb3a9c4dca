//! Panels until it is told what was in the glasses: what is sealed meanwhile, whose turn it is, and who reads what.

use crate::domain::BlindingCode;
use crate::domain::Day;
use crate::domain::Field;
use crate::domain::Form;
use crate::domain::Knew;
use crate::domain::Millilitres;
use crate::domain::Nose;
use crate::domain::NotesChange;
use crate::domain::NotesSource;
use crate::domain::Rating;
use crate::domain::Scale;
use crate::workflow::Closing;
use crate::workflow::GlassState;
use crate::workflow::Home;
use crate::workflow::PanelError;
use crate::workflow::PanelPhase;
use crate::workflow::PanelPourer;
use crate::workflow::PanelRequest;
use crate::workflow::PanelRound;
use crate::workflow::TasterReads;
use crate::workflow::TypedFrom;
use crate::workflow::WorkflowError;

pub(super) const GLASS: TypedFrom = TypedFrom::Glass(NotesSource::App);

pub(super) fn request(beers: &[&str], tasters: &[&str], doubled: usize) -> PanelRequest {
    let owned = |all: &[&str]| all.iter().map(|it| (*it).to_owned()).collect();
    PanelRequest {
        beers: owned(beers),
        tasters: owned(tasters),
        doubled,
        glass: Millilitres::new(60.0).unwrap(),
        form: Form::Short,
        pourer: PanelPourer::SomebodyElse,
    }
}

/// A panel over the batch T1 and another bottle.
pub(super) fn planned(tasters: &[&str], doubled: usize) -> Home {
    let mut home = Home::trial_with_a_batch();
    home.plan_panel(&request(&["T1", "Barn"], tasters, doubled))
        .unwrap();
    home
}

pub(super) fn rated(scale: &str, value: f64) -> NotesChange {
    let scale = Scale::from_id(scale).unwrap();
    NotesChange::Rated(scale, Some(Rating::Rated(value)))
}

/// The beer with this code, by the pouring sheet.
pub(super) fn beer_of(home: &Home, code: BlindingCode) -> String {
    let sheet = home.pouring_sheet(1).unwrap();
    let glass = sheet.glasses.iter().find(|it| it.code == code).unwrap();
    glass.beer.to_string()
}

/// Lets somebody lock all their glasses; `bitter` says how bitter a beer is to them.
pub(super) fn tastes(home: &mut Home, name: &str, round: PanelRound, bitter: impl Fn(&str) -> f64) {
    let turn = home.panel_turn(1, name, round).unwrap();
    for glass in &turn.glasses {
        let value = bitter(&beer_of(home, glass.code));
        let mut tasting = home.panel_glass(&turn, glass.code, GLASS).unwrap();
        home.change(&mut tasting, &[rated("bitter", value)])
            .unwrap();
        home.lock(&mut tasting).unwrap();
    }
}

#[test]
fn from_the_drawing_until_it_is_told_the_beers_are_sealed_whoever_has_locked() {
    let mut home = planned(&["Ana", "Ben"], 1);
    let sealed = |home: &Home, mark: &str| {
        let beer = home.beer(mark).unwrap();
        home.is_plan_sealed(&beer).unwrap()
    };
    assert!(sealed(&home, "T1") && sealed(&home, "Barn"));
    let refused = home.compare("T1", None).unwrap_err().to_string();
    assert!(
        refused.contains("until it is told what was in the glasses"),
        "{refused}"
    );
    assert!(home.batch_page("T1").is_err());
    assert!(home.batch_rows().unwrap()[0].being_tasted);
    let ana = home.taster("Ana").unwrap();
    assert!(home.is_tasting(&ana).unwrap());
    for name in ["Ana", "Ben"] {
        assert!(home.panel_talk(1).is_err());
        tastes(&mut home, name, PanelRound::Alone, |_| 5.0);
        assert!(sealed(&home, "T1"), "{name}");
        assert!(
            home.locked_notes().unwrap().is_empty(),
            "no list tells the beers"
        );
        assert_eq!(home.batch_rows().unwrap()[0].tasted, 0);
    }
    assert_eq!(home.panel_table(1).unwrap().phase(), PanelPhase::Talk);
    home.panel_talk(1).unwrap();
    assert!(home.panel_result(1).is_err());
    home.tell_panel(1, Closing::Complete).unwrap();
    assert!(!sealed(&home, "T1") && !sealed(&home, "Barn"));
    assert_eq!(home.locked_notes().unwrap().len(), 6);
    assert!(!home.is_tasting(&ana).unwrap());
    home.panel_result(1).unwrap();
}

#[test]
fn who_has_left_seals_nothing_and_is_waited_for_no_more() {
    let mut home = planned(&["Ana"], 0);
    let beer = home.beer("T1").unwrap();
    assert!(home.is_plan_sealed(&beer).unwrap());
    let table = home.leave_panel(1, "ana").unwrap();
    assert_eq!((table.phase(), table.done()), (PanelPhase::Talk, 1));
    assert!(!home.is_plan_sealed(&beer).unwrap());
    let refused = home.panel_turn(1, "Ana", PanelRound::Alone).unwrap_err();
    assert!(matches!(
        refused,
        WorkflowError::Panel(PanelError::HasLeft { .. })
    ));
}

#[test]
fn a_broken_seal_marks_open_notes_and_all_that_are_begun_later_at_the_seat() {
    let mut home = planned(&["Ana", "Ben"], 0);
    let turn = home.panel_turn(1, "Ana", PanelRound::Alone).unwrap();
    let first = home
        .panel_glass(&turn, turn.glasses[0].code, GLASS)
        .unwrap();
    assert_eq!(home.break_seal("T1").unwrap(), ["Ana", "Ben"]);
    let beer = home.beer("T1").unwrap();
    assert!(!home.is_plan_sealed(&beer).unwrap());
    for glass in &turn.glasses {
        let again = home.panel_glass(&turn, glass.code, GLASS).unwrap();
        let was_other = again.notes.id == first.notes.id && again.cap_mark.as_str() == "Barn";
        assert_eq!(again.notes.seal_broken_at.is_some(), !was_other);
    }
}

#[test]
fn a_turn_goes_on_where_it_was_and_asks_nose_and_check_list_only_once() {
    let mut home = planned(&["Ana"], 1);
    let turn = home.panel_turn(1, "Ana", PanelRound::Alone).unwrap();
    assert_eq!(turn.glasses.len(), 3);
    let code = turn.next().unwrap().code;
    let mut tasting = home.panel_glass(&turn, code, GLASS).unwrap();
    assert_eq!(tasting.glass.to_string(), format!("glass {code}"));
    assert_eq!(tasting.notes.current_field, Field::Checklist.id());
    home.change(&mut tasting, &[NotesChange::Nosed(Some(Nose::Cold))])
        .unwrap();
    let again = home.panel_glass(&turn, code, GLASS).unwrap();
    assert_eq!(again.notes.id, tasting.notes.id);
    home.lock(&mut tasting).unwrap();
    let turn = home.panel_turn(1, "Ana", PanelRound::Alone).unwrap();
    assert_eq!(turn.glasses[0].state, GlassState::Locked);
    let second = home
        .panel_glass(&turn, turn.next().unwrap().code, GLASS)
        .unwrap();
    assert_eq!(second.notes.nose, Some(Nose::Cold));
    assert_ne!(second.notes.current_field, Field::Checklist.id());
    let mut again = home.panel_glass(&turn, code, GLASS).unwrap();
    assert!(home.second_pass(&mut again).is_err());
    assert!(home.change(&mut again, &[rated("sweet", 1.0)]).is_err());
}

#[test]
fn a_sheet_keeps_its_own_day_and_none_that_is_still_to_come() {
    let mut home = planned(&["Ana"], 0);
    let turn = home.panel_turn(1, "Ana", PanelRound::Alone).unwrap();
    let code = turn.glasses[0].code;
    let to_come = TypedFrom::Sheet(Day::parse("2026-12-24").unwrap());
    let refused = home.panel_glass(&turn, code, to_come).unwrap_err();
    assert!(matches!(refused, WorkflowError::FutureDay { .. }));
    let day = Day::parse("2026-10-20").unwrap();
    let tasting = home
        .panel_glass(&turn, code, TypedFrom::Sheet(day))
        .unwrap();
    assert_eq!(
        (tasting.notes.source, tasting.notes.tasted_on),
        (NotesSource::Paper, day)
    );
    assert!(tasting.notes.typed_on.to_string().starts_with("2026-11-01"));
}

#[test]
fn the_taster_who_pours_is_marked_and_counts_only_where_nobody_else_is_there() {
    let mut home = Home::trial_with_a_batch();
    let asked = PanelRequest {
        pourer: PanelPourer::Taster("ben".to_owned()),
        ..request(&["T1", "Barn"], &["Ana", "Ben"], 0)
    };
    let panel = home.plan_panel(&asked).unwrap();
    let ben = home.taster("Ben").unwrap();
    assert_eq!(panel.poured_by, Some(ben.id));
    tastes(&mut home, "Ana", PanelRound::Alone, |_| 4.0);
    tastes(&mut home, "Ben", PanelRound::Alone, |_| 9.0);
    home.tell_panel(1, Closing::Complete).unwrap();
    let result = home.panel_result(1).unwrap();
    assert_eq!(result.knew.len(), 1);
    let line = &result.beers[0].lines[0];
    assert_eq!((line.first.tasters, line.first.highest), (1, 4.0));
    let rows = home.locked_notes().unwrap();
    for row in rows {
        let (notes, ..) = home.store.notes_with_row(&row.notes).unwrap();
        let knew = (row.taster.name.as_str() == "Ben").then_some(Knew::EarlierReveal);
        assert_eq!(notes.knew, knew);
    }
}

#[test]
fn a_reader_whose_name_is_nearly_that_of_a_taster_is_asked_again_and_an_outsider_reads() {
    let mut home = planned(&["Ana", "Bartholomew"], 0);
    let marked = |home: &Home| {
        let sitting = home.panel_table(1).unwrap().panel.sitting;
        let seats = home.store.panel_seats(&sitting).unwrap();
        let marked = seats.iter().filter(|it| it.key_seen_at.is_some());
        marked.count()
    };
    for slip in ["Anna", " aan ", "Bartolomew"] {
        let refused = home
            .read_pouring_sheet(1, Some(slip), TasterReads::NotYet)
            .unwrap_err();
        let told = refused.to_string();
        assert!(told.contains("did you mean “"), "{told}");
    }
    assert_eq!(marked(&home), 0, "nothing was read, so nobody is marked");
    for outside in ["Hob", ""] {
        assert!(
            home.read_pouring_sheet(1, Some(outside), TasterReads::NotYet)
                .is_ok()
        );
    }
    home.add_taster("Anna").unwrap();
    assert!(
        home.read_pouring_sheet(1, Some("anna"), TasterReads::NotYet)
            .is_ok()
    );
    assert_eq!(marked(&home), 0);
    let refused = home.read_pouring_sheet(1, Some(" ana "), TasterReads::NotYet);
    let told = refused.unwrap_err().to_string();
    assert!(
        told.contains("count only where nobody else tastes"),
        "{told}"
    );
    assert_eq!(marked(&home), 0, "nothing was read, so nobody is marked");
    assert!(
        home.read_pouring_sheet(1, Some(" ana "), TasterReads::Yes)
            .is_ok()
    );
    assert_eq!(marked(&home), 1);
}
