//! That what was measured of a taster is what differences are judged by.

use std::fmt::Write;

use crate::domain::NotesChange;
use crate::domain::NotesSource;
use crate::domain::Rating;
use crate::domain::Scale;
use crate::profile::Basis;
use crate::profile::Noise;
use crate::workflow::ChartKind;
use crate::workflow::Comparison;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// A table in which Ana has beers twice in each of so many sittings, with answers so far apart.
fn pairs(sittings: u32, apart: u8) -> String {
    let mut table = "taster,sitting,sample,replicate,date,line,intensity,low,high\n".to_owned();
    for sitting in 1..=sittings {
        for line in ["bitter", "Sweet", "sour"] {
            for (replicate, digit) in [(1, 4), (2, 4 + apart)] {
                let day = sitting % 28 + 1;
                let month = 1 + sitting / 28;
                writeln!(
                    table,
                    "Ana,s{sitting},b{sitting},{replicate},2026-{month:02}-{day:02},{line},{digit},0,9"
                )
                .unwrap();
            }
        }
    }
    table
}

fn import(home: &mut Home, table: &str) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("pairs.csv");
    std::fs::write(&file, table).unwrap();
    home.import_ratings(&file).unwrap();
}

fn compared(home: &mut Home) -> Comparison {
    let ana = home.taster_or_new("Ana").unwrap();
    let mut tasting = home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
    let bitter = Scale::from_id("bitter").unwrap();
    let rated = NotesChange::Rated(bitter, Some(Rating::Rated(6.0)));
    home.change(&mut tasting, &[rated]).unwrap();
    home.lock(&mut tasting).unwrap();
    home.compare("T1", None).unwrap()
}

fn noise_of_bitter(it: &Comparison) -> (f64, Basis) {
    let line = it
        .lines
        .iter()
        .find(|it| it.id == "bitter" && it.judged.is_some());
    let line = line.unwrap();
    (line.noise.unwrap(), line.judged.unwrap().basis.within)
}

#[test]
fn a_steady_taster_is_judged_by_less_noise_and_an_unsteady_one_by_more() {
    let mut home = Home::trial_with_a_batch();
    let (usual, basis) = noise_of_bitter(&compared(&mut home));
    assert_eq!(basis, Basis::Default);
    let with = |sittings, apart| {
        let mut home = Home::trial_with_a_batch();
        import(&mut home, &pairs(sittings, apart));
        noise_of_bitter(&compared(&mut home))
    };
    // Differences of 0 and of 3 digits: standard deviations of none and of 3/√2 = 2.1, against 0.9.
    let (steady, basis) = with(12, 0);
    assert_eq!(basis, Basis::Default, "always the same answers say nothing");
    assert!((steady - usual).abs() < 1e-9);
    let (close, basis) = with(12, 1);
    assert_eq!(basis, Basis::Measured);
    assert!(close < usual, "{close} {usual}");
    let (wide, basis) = with(12, 3);
    assert_eq!(basis, Basis::Measured);
    assert!(wide > usual, "{wide} {usual}");
    let (_, basis) = with(3, 1);
    assert_eq!(basis, Basis::Borrowed);
}

#[test]
fn a_taster_nobody_measured_borrows_from_those_who_were() {
    let mut home = Home::trial_with_a_batch();
    import(&mut home, &pairs(30, 3));
    let ben = home.add_taster("Ben").unwrap();
    let noise = home.taster_noise().unwrap();
    let bitter = Scale::from_id("bitter").unwrap();
    let of_ben = noise.on_scale(&ben.name, bitter);
    assert_eq!(of_ben.basis().within, Basis::Borrowed);
    let usual = Noise::DEFAULT.glass_variance();
    assert!(of_ben.glass_variance().value() > usual.value());
    // Another scale than those of the pairs has what its taster has on any line.
    let dryness = Scale::from_id("dryness").unwrap();
    let ana = home.taster("Ana").unwrap().name;
    assert_eq!(
        noise.on_scale(&ana, dryness).basis().within,
        Basis::Borrowed
    );
    assert!(noise.on_shelf(&ana).glass_variance().value() > usual.value());
}

#[test]
fn the_page_counts_pairs_and_waits_while_its_taster_has_open_notes() {
    let mut home = Home::trial_with_a_batch();
    import(&mut home, &pairs(12, 1));
    let page = home.taster_page("Ana", ChartKind::WeightedMean).unwrap();
    assert_eq!((page.imported, page.glasses), (72, 0));
    assert_eq!(page.measures.noise.unwrap().pairs, 36);
    let ana = home.taster("Ana").unwrap();
    home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
    let refused = home.taster_page("Ana", ChartKind::WeightedMean);
    assert!(matches!(refused, Err(WorkflowError::PageWaits { .. })));
}

#[test]
fn two_glasses_side_by_side_count_as_coded_once_they_are_closed() {
    let mut home = Home::trial();
    let marks = ["Gate", "Barn"];
    for name in ["Ana", "Ben"] {
        let taster = home.taster_or_new(name).unwrap();
        let mut two = home
            .start_two_glasses(
                &taster,
                marks,
                NotesSource::App,
                crate::workflow::Pourer::SomebodyElse,
            )
            .unwrap();
        for tasting in &mut two.tastings {
            let is_gate = tasting.cap_mark.as_str() == "Gate";
            let above = if name == "Ana" { 2.0 } else { 0.0 };
            let value = above + if is_gate { 3.0 } else { 5.0 };
            let bitter = Scale::from_id("bitter").unwrap();
            let rated = NotesChange::Rated(bitter, Some(Rating::Rated(value)));
            home.change(tasting, &[rated]).unwrap();
        }
        home.lock_two(&mut two, crate::workflow::Cups::InSight)
            .unwrap();
    }
    let page = home.taster_page("Ana", ChartKind::WeightedMean).unwrap();
    // Each tasted after the other had locked, so there were two sittings and nobody shares a glass.
    assert_eq!((page.glasses, page.sittings, page.imported), (2, 1, 0));
    let bitter = page.measures.lines.iter().find(|it| it.line == "bitter");
    assert!(bitter.unwrap().bias.is_err() && page.biased.is_empty());
}

#[test]
fn of_two_beers_by_different_people_what_one_usually_answers_above_the_other_is_taken_off() {
    let rows = |ana: u8| -> String {
        let mut table = "taster,sitting,sample,replicate,date,line,intensity,low,high\n".to_owned();
        for sitting in 0..12 {
            for (taster, digit) in [("Ana", ana), ("Ben", 4)] {
                let digit = digit + sitting % 2;
                let day = sitting + 1;
                writeln!(
                    table,
                    "{taster},s{sitting},b{sitting},1,2026-01-{day:02},bitter,{digit},0,9"
                )
                .unwrap();
            }
        }
        table
    };
    let gap = |table: Option<String>| {
        let mut home = Home::trial();
        if let Some(table) = table {
            import(&mut home, &table);
        }
        for (name, mark, value) in [("Ana", "Gate", 7.0), ("Ben", "Barn", 4.0)] {
            let taster = home.taster_or_new(name).unwrap();
            let mut tasting = home.start_tasting(&taster, mark, NotesSource::App).unwrap();
            let bitter = Scale::from_id("bitter").unwrap();
            let rated = NotesChange::Rated(bitter, Some(Rating::Rated(value)));
            home.change(&mut tasting, &[rated]).unwrap();
            home.lock(&mut tasting).unwrap();
        }
        let both = home.versus("Gate", "Barn").unwrap();
        let line = both.lines.into_iter().find(|it| it.id == "bitter").unwrap();
        line.judged.unwrap().size
    };
    let (unknown, alike, above) = (gap(None), gap(Some(rows(4))), gap(Some(rows(6))));
    assert!(unknown > 0.0 && alike > above, "{unknown} {alike} {above}");
    // By hand: Ana 2 above Ben, so 1 above both and he 1 below: (7 - 1) - (4 + 1) = 1 of 3 are left.
    assert!(above > 0.0 && above < 0.5 * alike, "{above} {alike}");
}
