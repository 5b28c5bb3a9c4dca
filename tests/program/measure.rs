//! A panel whose ratings are kept elsewhere, measured by the command.

use crate::kitchen::Kitchen;
use serde_json::Value;

const HEAD: &str = "taster,sitting,sample,replicate,date,line,intensity,low,high\n";

/// ISO 8586:2012 Annex C: three assessors, six batches with three replicates each, on a scale of 0 to 9.
const BATCHES: [[[u8; 3]; 6]; 3] = include!("../standards/iso-8586-annex-c.in");

/// The table of the standard as a file, with the ends of the scale moved: what they are must not matter.
fn standard() -> String {
    let mut rows = HEAD.to_owned();
    for (taster, batches) in ["A1", "A2", "A3"].iter().zip(BATCHES) {
        for (sample, replicates) in ["p", "q", "r", "s", "t", "u"].iter().zip(batches) {
            for (replicate, digit) in (1..).zip(replicates) {
                let moved = 10.0 + 2.0 * f64::from(digit);
                rows.push_str(&row(taster, sample, replicate, moved));
            }
        }
    }
    rows
}

fn row(taster: &str, sample: &str, replicate: u16, intensity: f64) -> String {
    format!("{taster},one,{sample},{replicate},2026-03-14,bitter,{intensity},10,28\n")
}

#[test]
fn the_assessors_of_the_standard_have_their_published_figures() {
    let kitchen = Kitchen::new();
    let file = kitchen.write("panel.csv", standard());
    let json = kitchen.done(&["taster", "measure", &file, "--json"]);
    let json: Value = serde_json::from_str(&json).expect("it is JSON");
    // F 13.36, 2.66, 2.40; s_r 0.7454, 1.7159, 1.0801 (ISO 8586:2012 Annex C).
    for (place, (f, sd)) in [(13.36, 0.7454), (2.66, 1.7159), (2.40, 1.0801)]
        .into_iter()
        .enumerate()
    {
        let told = &json["tasters"][place]["lines"][0]["discrimination"];
        let found = |key: &str| told[key].as_f64().expect("a number");
        assert!((found("f") - f).abs() < 0.005, "{told}");
        assert!((found("repeatability_sd") - sd).abs() < 0.000_06, "{told}");
    }
    let text = kitchen.done(&["taster", "measure", &file]);
    assert!(
        text.contains("54 ratings by 3 tasters on 1 line on 2026-03-14"),
        "{text}"
    );
    assert!(!text.contains("NaN") && !text.contains("inf"), "{text}");
}

#[test]
fn every_problem_of_a_file_is_told_at_once_and_nothing_is_measured() {
    let kitchen = Kitchen::new();
    let rows = "Ana,one,p,1,2026-03-14,bitter,99,0,9\nAna,one,p,0,then,bitter,1,0,9\n";
    let file = kitchen.write("panel.csv", [HEAD, rows].concat());
    let told = kitchen.run(&["taster", "measure", &file]);
    assert_eq!(told.code, 1, "{told:?}");
    for wanted in [
        "panel.csv:2:7: the intensity 99",
        "panel.csv:3:4: replicate",
        "panel.csv:3:5:",
    ] {
        assert!(told.err.contains(wanted), "{wanted}: {told:?}");
    }
    assert!(told.out.is_empty(), "{told:?}");
}

/// The table of the standard read into a home.
fn read_in() -> Kitchen {
    let kitchen = Kitchen::new();
    let file = kitchen.write("panel.csv", standard());
    let told = kitchen.done(&["taster", "import", &file]);
    assert!(
        told.contains("Read in: 54 ratings on 2026-03-14.") && told.contains("A1, A2, A3"),
        "{told}"
    );
    kitchen
}

fn page(kitchen: &Kitchen, taster: &str) -> Value {
    let json = kitchen.done(&["taster", "show", taster, "--json"]);
    serde_json::from_str(&json).expect("it is JSON")
}

#[test]
fn an_assessor_of_the_standard_has_the_published_figures_on_the_own_page() {
    let kitchen = read_in();
    // ISO 8586:2012 Annex C: F 13.36, 2.66, 2.40; s_r 0.7454, 1.7159, 1.0801.
    for (taster, f, sd) in [
        ("A1", 13.36, 0.7454),
        ("A2", 2.66, 1.7159),
        ("A3", 2.40, 1.0801),
    ] {
        let line = page(&kitchen, taster)["lines"][0].clone();
        assert_eq!(line["line"], "bitter");
        let found = |key: &str| line["discrimination"][key].as_f64().expect("a number");
        assert!((found("f") - f).abs() < 0.005, "{line}");
        assert!((found("repeatability_sd") - sd).abs() < 0.000_06, "{line}");
    }
    for arguments in [&["A2"][..], &["A2", "--all"], &["A2", "--all", "--cusum"]] {
        let told = kitchen.done(&[&["taster", "show"], arguments].concat());
        assert!(!told.contains("NaN") && !told.contains("inf"), "{told}");
        assert!(
            told.contains("54 ratings") || told.contains("18 ratings"),
            "{told}"
        );
        assert!(
            told.contains("No chart yet: it takes 21 sittings"),
            "{told}"
        );
    }
}

#[test]
fn looking_a_table_through_keeps_nothing_and_reading_it_in_twice_is_refused() {
    let kitchen = Kitchen::new();
    let file = kitchen.write("panel.csv", standard());
    let looked = kitchen.done(&["taster", "import", &file, "--try"]);
    assert!(looked.contains("Nothing was read in") && looked.contains("would be added"));
    assert!(
        kitchen
            .done(&["taster", "imports"])
            .contains("No ratings from elsewhere")
    );
    kitchen.done(&["taster", "import", &file]);
    let again = kitchen.run(&["taster", "import", &file]);
    assert_eq!(again.code, 1);
    assert!(again.err.contains("as import 1"), "{again:?}");
    let bad = kitchen.write(
        "bad.csv",
        [HEAD, "Ana,one,p,1,2026-03-14,bitter,99,0,9\n"].concat(),
    );
    let refused = kitchen.run(&["taster", "import", &bad]);
    assert_eq!(refused.code, 1);
    assert!(!kitchen.done(&["taster", "list"]).contains("Ana"));
    let removed = kitchen.done(&["remove", "import", "1"]);
    assert!(removed.contains("import 1 (panel.csv)"), "{removed}");
    assert_eq!(page(&kitchen, "A1")["imported"], 0);
}

#[test]
fn sums_that_were_damaged_are_not_believed_and_counting_again_puts_them_right() {
    let kitchen = read_in();
    let sound = page(&kitchen, "A2");
    let damage = |sql: &str| {
        let file = rusqlite::Connection::open(kitchen.file()).expect("the file opens");
        assert!(file.execute(sql, []).expect("a change") > 0);
    };
    for (sql, mended) in [
        ("UPDATE summary SET up_to = 53", true),
        ("UPDATE summary SET formula_version = 0", true),
        ("UPDATE summary SET document = 'nothing'", true),
        ("DELETE FROM summary", true),
        ("UPDATE import SET file_name = 'p.csv'", false),
    ] {
        damage(sql);
        // Which jars come next is drawn anew each time.
        let found = page(&kitchen, "A2");
        for key in ["lines", "strays", "days", "ratings", "imported"] {
            assert_eq!(found[key], sound[key], "{sql}: {key}");
        }
        let told = kitchen.done(&["taster", "imports", "--recount"]);
        assert_eq!(told.contains("put right"), mended, "{sql}: {told}");
        let told = kitchen.done(&["taster", "imports", "--recount"]);
        assert!(told.contains("as they were kept"), "{sql}: {told}");
    }
}

#[test]
fn a_page_of_somebody_who_never_had_a_coded_glass_is_sentences_alone() {
    let kitchen = Kitchen::new();
    kitchen.done(&["taster", "add", "Ana"]);
    let told = kitchen.done(&["taster", "show", "Ana", "--all"]);
    for wanted in [
        "Counted: nothing yet.",
        "after two more hidden duplicates",
        "No chart yet",
        "A panel with a beer poured twice",
    ] {
        assert!(told.contains(wanted), "{wanted}: {told}");
    }
    let json = page(&kitchen, "Ana");
    assert!(
        json["strays"].is_null() && json["charts"]["kind"].is_null(),
        "{json}"
    );
    assert!(json["lines"].as_array().expect("a list").is_empty());
}

#[test]
fn who_is_forgotten_is_gone_from_imports_and_the_sums_of_the_others_are_those_without_them() {
    let kitchen = read_in();
    kitchen.done(&["taster", "forget", "A1", "--yes"]);
    let without = Kitchen::new();
    let rows = standard();
    let rows: Vec<&str> = rows.lines().filter(|it| !it.starts_with("A1")).collect();
    let file = without.write("panel.csv", rows.join("\n"));
    without.done(&["taster", "import", &file]);
    let (left, alone) = (page(&kitchen, "A2"), page(&without, "A2"));
    for key in ["lines", "strays", "ratings", "imported"] {
        assert_eq!(left[key], alone[key], "{key}");
    }
    let told = kitchen.done(&["taster", "imports", "--recount"]);
    assert!(told.contains("as they were kept"), "{told}");
}

#[test]
fn tables_of_which_little_can_be_said_give_sentences_and_never_what_is_no_number() {
    let row = |taster: &str, sitting: u32, sample: &str, replicate: u16, digit: u8| {
        format!(
            "{taster},s{sitting},{sample},{replicate},2026-03-{sitting:02},bitter,{digit},0,9\n"
        )
    };
    let all = |rows: &dyn Fn(u32) -> String| (1..=25).map(rows).collect::<String>();
    let tables = [
        row("Ana", 1, "p", 1, 5),
        all(&|it| row("Ana", it, "p", 1, 5)),
        all(&|it| row("Ana", it, "p", 1, 5) + &row("Ben", it, "p", 1, 5)),
        all(&|it| row("Ana", it, "p", 1, 5) + &row("Ana", it, "p", 2, 5)),
        all(&|it| row("Ana", it, "p", 1, 5) + &row("Ben", it, "q", 1, 3)),
        all(&|it| {
            row("Ana", it, "p", 1, 9) + &row("Ana", it, "p", 2, 0) + &row("Ben", it, "p", 1, 0)
        }),
        all(&|it| row("Ana", it, "p", 1, 6) + &row("Ben", it, "p", 1, 4)),
    ];
    for rows in tables {
        let kitchen = Kitchen::new();
        let file = kitchen.write("panel.csv", [HEAD, &rows].concat());
        kitchen.done(&["taster", "import", &file]);
        for arguments in [
            &["taster", "measure", &file][..],
            &["taster", "measure", &file, "--json"],
            &["taster", "show", "Ana", "--all"],
            &["taster", "show", "Ana", "--all", "--cusum"],
            &["taster", "show", "Ana", "--json"],
        ] {
            let told = kitchen.done(arguments);
            for bad in ["NaN", "inf ", " inf", "-0.0 "] {
                assert!(
                    !told.contains(bad),
                    "{bad} in {arguments:?} of {rows}: {told}"
                );
            }
        }
    }
    let kitchen = Kitchen::new();
    let told = kitchen.done(&["taster", "measure"]);
    assert!(told.contains("Nothing to measure yet"), "{told}");
}
