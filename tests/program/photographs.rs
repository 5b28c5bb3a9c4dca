//! Photographs from the command line: copied in without what tells on people, sealed as the plan is, gone with the notes.

use std::fs;

use crate::kitchen::Kitchen;
use serde_json::Value;
use thirdglass::formats::EXAMPLE;

/// A kitchen with the batch T1, notes of Ana on it, and a picture.
fn tasted() -> (Kitchen, String) {
    let kitchen = Kitchen::new();
    let recipe = kitchen.write("r.toml", EXAMPLE);
    kitchen.done(&["batch", "add", &recipe, "--mark", "T1"]);
    let short = "/short\n".to_owned() + &"/skip\n".repeat(40);
    kitchen.fed(&["taste", "T1", "--taster", "Ana", "--plain"], &short);
    let picture = kitchen.folder().join("Lampyrid camera.png");
    let image = image::RgbImage::from_pixel(2_000, 500, image::Rgb([180, 90, 20]));
    image.save(&picture).unwrap();
    let picture = picture.to_str().unwrap().to_owned();
    (kitchen, picture)
}

fn listed(kitchen: &Kitchen) -> Value {
    let told = kitchen.done(&["photo", "list", "T1", "--json"]);
    serde_json::from_str(&told).unwrap()
}

#[test]
fn a_picture_is_copied_in_listed_shown_in_the_report_written_out_and_removed() {
    let (kitchen, picture) = tasted();
    let added = kitchen.done(&["photo", "add", "T1", &picture, "--of", "glass"]);
    assert!(
        added.contains("photograph 1 of T1") && added.contains("1600 × 400"),
        "{added}"
    );
    let added = kitchen.done(&[
        "photo", "add", "T1", &picture, "--of", "sheet", "--taster", "Ana",
    ]);
    assert!(added.contains("photograph 2 of T1"), "{added}");
    kitchen.all_leave();
    let list = listed(&kitchen);
    assert_eq!(list["photographs"][0]["of"], "glass");
    assert_eq!(list["photographs"][1]["taster"], "Ana");
    let page = kitchen.done(&["batch", "show", "T1"]);
    assert!(
        page.contains("Photographs") && page.contains("with the notes of Ana"),
        "{page}"
    );
    let out = kitchen.folder().join("out.jpg");
    let out = out.to_str().unwrap();
    kitchen.done(&["photo", "show", "T1", "2", out]);
    let bytes = fs::read(out).unwrap();
    assert_eq!(list["photographs"][1]["bytes"], bytes.len());
    let again = kitchen.run(&["photo", "show", "T1", "2", out]);
    assert!(again.err.contains("it is there already"), "{again:?}");
    kitchen.done(&["remove", "photo", "T1", "1"]);
    let gone = kitchen.run(&["photo", "show", "T1", "1", "x.jpg"]);
    assert!(
        gone.err.contains("has no photograph 1; there are: 2"),
        "{gone:?}"
    );
    // Both pictures are the same: the bytes of the removed one would be found for those of the other.
    let thrown = kitchen.done(&["removed", "--for-good", "1"]);
    assert!(thrown.contains("Thrown out for good"), "{thrown}");
    let forgotten = kitchen.done(&["taster", "forget", "Ana"]);
    assert!(
        forgotten.contains("1 photograph with their notes"),
        "{forgotten}"
    );
    kitchen.done(&["taster", "forget", "Ana", "--yes"]);
    assert_eq!(listed(&kitchen)["photographs"], Value::Array(Vec::new()));
    let file = fs::read(kitchen.file()).unwrap();
    assert!(
        !file
            .windows(64)
            .any(|it| it == &bytes[bytes.len() / 2..][..64])
    );
}

#[test]
fn while_the_beer_is_tasted_its_photographs_are_sealed_and_one_more_may_be_added() {
    let (kitchen, picture) = tasted();
    kitchen.all_leave();
    kitchen.done(&["photo", "add", "T1", &picture, "--of", "label"]);
    kitchen.fed(&["taste", "T1", "--taster", "Ben", "--plain"], "\n");
    for command in [
        &["photo", "list", "T1"][..],
        &["photo", "list", "T1", "--json"],
        &["photo", "show", "T1", "1", "x.jpg"],
        &["remove", "photo", "T1", "1"],
    ] {
        let refused = kitchen.run(command);
        assert_eq!(refused.code, 1, "{command:?}: {refused:?}");
        assert!(
            refused
                .err
                .contains("what was photographed of “T1” is sealed until Ben"),
            "{refused:?}"
        );
        assert!(
            !refused.err.contains("label") && refused.out.is_empty(),
            "{refused:?}"
        );
    }
    kitchen.done(&[
        "photo", "add", "T1", &picture, "--of", "glass", "--taster", "Ben",
    ]);
    let folder = kitchen.folder().join("tables");
    let told = kitchen.done(&["home", "tables", folder.to_str().unwrap()]);
    let words: Vec<&str> = told.split_whitespace().collect();
    let told = words.join(" ");
    assert!(
        told.contains("there are 2") && told.contains("Left out for now"),
        "{told}"
    );
    for entry in fs::read_dir(&folder).unwrap() {
        let text = fs::read_to_string(entry.unwrap().path()).unwrap();
        assert!(!text.contains("Harbour dark") && !text.contains("image/jpeg"));
    }
}

#[test]
fn what_is_no_picture_and_who_has_no_notes_are_told_in_a_sentence() {
    let (kitchen, picture) = tasted();
    let text = kitchen.write("sheet.jpg", "not a picture");
    let refused = kitchen.run(&["photo", "add", "T1", &text, "--of", "sheet"]);
    assert!(
        refused.err.contains("neither a JPEG nor a PNG"),
        "{refused:?}"
    );
    kitchen.done(&["taster", "add", "Cleo"]);
    let refused = kitchen.run(&[
        "photo", "add", "T1", &picture, "--of", "sheet", "--taster", "Cleo",
    ]);
    assert!(
        refused.err.contains("Cleo has no notes on “T1”"),
        "{refused:?}"
    );
    let refused = kitchen.run(&["photo", "add", "T1", &picture, "--of", "cat"]);
    assert_eq!(refused.code, 2);
    assert!(refused.err.contains("glass, label, sheet"), "{refused:?}");
    assert_eq!(
        kitchen
            .run(&["photo", "add", "T9", &picture, "--of", "glass"])
            .code,
        1
    );
}
