//! The wheel as a poster, as a user draws it: one new file, whole, in the size of a sheet, and never over another.

use std::fs;

use crate::kitchen::Kitchen;

/// The path of a file beside the home.
fn beside(kitchen: &Kitchen, name: &str) -> String {
    kitchen.folder().join(name).to_str().unwrap().to_owned()
}

#[test]
fn a_poster_is_drawn_in_a_new_file_and_its_size_is_told() {
    let kitchen = Kitchen::new();
    let file = beside(&kitchen, "wheel.svg");
    let told = kitchen.done(&["wheel", "draw", "--svg", &file]);
    let poster = fs::read_to_string(&file).unwrap();
    let size = poster.len().div_ceil(1_000);
    let expected = format!("Written: {file}, {size} kB, one sheet of A4.");
    assert!(told.starts_with(&expected), "{told}");
    // ISO 216: A4 is 210 mm by 297 mm.
    assert!(poster.starts_with("<svg ") && poster.ends_with("</svg>\n"));
    assert!(poster.contains("width=\"210mm\" height=\"297mm\""));
    assert!(poster.contains(">roasted hazelnut</text>"));
    let names = kitchen.names();
    assert!(!names.iter().any(|it| it.contains("part")), "{names:?}");
}

#[test]
fn a_poster_is_never_drawn_over_another_file() {
    let kitchen = Kitchen::new();
    let file = kitchen.write("wheel.svg", "mine");
    let told = kitchen.run(&["wheel", "draw", "--svg", &file]);
    assert_eq!(told.code, 1);
    assert!(told.err.contains("wheel.svg"), "{}", told.err);
    assert_eq!(fs::read_to_string(&file).unwrap(), "mine");
}

#[test]
fn the_other_sheet_has_its_size_and_marks_of_one_at_a_time_are_asked_for() {
    let kitchen = Kitchen::new();
    let file = beside(&kitchen, "wheel.svg");
    kitchen.done(&["wheel", "draw", "--svg", &file, "--paper", "letter"]);
    // 8.5 and 11 inches of 25.4 mm.
    let poster = fs::read_to_string(&file).unwrap();
    assert!(poster.contains("width=\"215.9mm\" height=\"279.4mm\""));
    let other = beside(&kitchen, "other.svg");
    let both = ["--batch", "T1", "--taster", "Ana"];
    let told = kitchen.run(&[["wheel", "draw", "--svg", &other].as_slice(), &both].concat());
    assert_eq!(told.code, 2);
    for of in [["--batch", "T1"], ["--taster", "Ana"]] {
        let told = kitchen.run(&[["wheel", "draw", "--svg", &other].as_slice(), &of].concat());
        assert_eq!(told.code, 1, "{}", told.err);
    }
    assert!(fs::metadata(&other).is_err());
}

#[test]
fn what_a_taster_named_is_darkened_and_told_in_the_legend() {
    let kitchen = Kitchen::new();
    let lines = format!("\n4\n1\ntoast\n6\n{}\n", "/next-stage\n".repeat(12));
    kitchen.fed(&["taste", "T1", "--taster", "Ana", "--plain"], &lines);
    // Colours that are neither grey, as the legend is, nor next to white, as what nobody named is.
    let fills = |poster: &str| -> Vec<String> {
        let fills = poster.split("fill=\"#").skip(1);
        let fills = fills.map(|it| it[..6].to_owned());
        let coloured = |it: &String| {
            let channel = |at: usize| u8::from_str_radix(&it[at..at + 2], 16).unwrap();
            let channels = [channel(0), channel(2), channel(4)];
            let is_grey = channels.iter().all(|it| *it == channels[0]);
            !is_grey && channels.iter().min().is_some_and(|it| *it < 0xf0)
        };
        fills.filter(coloured).collect()
    };
    let drawn = |name: &str, of: &[&str]| {
        let file = beside(&kitchen, name);
        kitchen.done(&[["wheel", "draw", "--svg", file.as_str()].as_slice(), of].concat());
        fs::read_to_string(file).unwrap()
    };
    let plain = drawn("plain.svg", &[]);
    let ana = drawn("ana.svg", &["--taster", "Ana"]);
    let beer = drawn("beer.svg", &["--batch", "T1"]);
    assert!(ana.contains("glasses in which Ana named it:"));
    assert!(beer.contains("notes on T1 that name it:"));
    assert!(!plain.contains("named it"));
    let known = fills(&plain);
    for marked in [ana, beer] {
        let mut dark = fills(&marked);
        dark.retain(|it| !known.contains(it));
        // The word, its shelf and its place, and nothing else.
        assert_eq!(dark.len(), 3, "{dark:?}");
    }
}
