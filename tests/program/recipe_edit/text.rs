//! Comments, units, order and line ends stay as whoever wrote the recipe left them.

use crate::recipe_edit::documents::MIXED;
use crate::recipe_edit::documents::SMALL;
use crate::recipe_edit::documents::changed;
use crate::recipe_edit::documents::check;
use crate::recipe_edit::documents::head;
use crate::recipe_edit::documents::kitchen;
use crate::recipe_edit::documents::read;
use crate::recipe_edit::drawn::fermentable;
use crate::recipe_edit::drawn::hop;
use thirdglass::domain::Days;
use thirdglass::domain::FermentableUse;
use thirdglass::domain::Grams;
use thirdglass::domain::HopTime;
use thirdglass::domain::HopUse;
use thirdglass::domain::Part;
use thirdglass::domain::RecipeChange;
use thirdglass::formats::EXAMPLE;
use thirdglass::formats::EditProblem;
use thirdglass::formats::changed_document;

#[test]
fn without_a_change_only_the_head_is_another() {
    let text = changed(EXAMPLE, &[]);
    let wanted = EXAMPLE
        .replacen("version = \"2\"", "version = \"3\"", 1)
        .replacen("parent = \"1\"", "parent = \"2\"", 1)
        .replacen(
            "reason = \"less roast\"             # optional: why this version was made\n",
            "reason = \"a \\\"softer\\\" end \\\\ more toast\"             # optional: why this version was made\n\
             # expected: toast 3 -> 5\n# expected: length 20 s -> 12 s\n",
            1,
        );
    assert_eq!(text, wanted);
}

#[test]
fn keys_of_the_head_that_are_missing_come_after_the_version() {
    let text = changed(SMALL, &[]);
    let wanted = "name = \"Small\"\nversion = \"3\"\nparent = \"2\"\nreason = \"a \\\"softer\\\" end \\\\ more toast\"\n\
                  # expected: toast 3 -> 5\n# expected: length 20 s -> 12 s\nvolume = \"5 L\"\n[[ferm";
    assert!(text.starts_with(wanted), "{text}");
}

#[test]
fn what_was_expected_of_the_old_version_gives_way() {
    let first = changed(EXAMPLE, &[]);
    let mut head = head();
    head.expected = vec!["bitter 5 -> 4\nsecond line".to_owned()];
    let second = changed_document(&first, &[], &head).unwrap();
    let told: Vec<&str> = second
        .lines()
        .filter(|it| it.contains("expected:"))
        .collect();
    assert_eq!(told, ["# expected: bitter 5 -> 4 second line"]);
}

#[test]
fn a_changed_value_keeps_its_comment_and_its_unit() {
    let part = Part::Fermentable(0);
    let to = |it| RecipeChange::Amount {
        part,
        to: Grams::new(it).unwrap(),
    };
    let commented = EXAMPLE.replace("\"1.1 kg\"", "\"1.1 kg\"   # a full bag");
    let text = changed(&commented, &[to(950.0)]);
    assert!(
        text.contains("amount = \"0.95 kg\"   # a full bag\n"),
        "{text}"
    );
    let text = changed(&commented, &[to(950.5)]);
    assert!(
        text.contains("amount = \"950.5 g\"   # a full bag\n"),
        "{text}"
    );
    let dry = HopTime::Dry {
        days: Days::new(3.0).unwrap(),
        temperature: None,
    };
    let text = changed(EXAMPLE, &[RecipeChange::HopTime { at: 0, when: dry }]);
    let wanted = "dry = \"3 days\"                   # exactly one of boil";
    assert!(text.contains(wanted), "{text}");
}

#[test]
fn a_table_goes_with_the_comments_that_belong_to_it() {
    let text = changed(MIXED, &[RecipeChange::LeaveOut(Part::Hop(0))]);
    let wanted = "yeast.attenuation = \"77 %\"\n\n# The grist.\n[[fermentable]]\n";
    assert!(text.contains(wanted), "{text}");
    assert!(
        !text.contains("Weighed") && !text.contains("The first hop"),
        "{text}"
    );
    let text = changed(MIXED, &[RecipeChange::LeaveOut(Part::Fermentable(3))]);
    assert!(
        !text.contains("Below honey") && text.contains("50 g"),
        "{text}"
    );
}

#[test]
fn a_new_table_stands_below_the_last_of_its_kind_with_its_keys_in_the_usual_order() {
    let mut by = hop(3, 0.9);
    by.hop = kitchen().1.hops()[0].clone();
    by.amount = Grams::new(15.7).unwrap();
    let name = by.hop.identity.name.clone();
    let text = changed(EXAMPLE, &[RecipeChange::AddHop(by)]);
    let wanted = format!(
        "dry = \"3 days at 18 °C\"           # or only \"3 days\"\n\n\
         [[hop]]\nname = \"{name}\"\namount = \"15.7 g\"\nalpha = \"9 %\"\nboil = \"60 min\"\n\
         age = \"540 days\"\nstored = \"fridge\"\n\n[yeast]\n"
    );
    assert!(text.contains(&wanted), "{text}");
}

#[test]
fn the_values_of_the_old_packet_go_with_it() {
    let mut by = hop(0, 0.1);
    by.hop = kitchen().1.hops()[5].clone();
    let text = changed(EXAMPLE, &[RecipeChange::SwapHop { at: 0, by }]);
    for gone in ["3.4 %", "8 months", "stored"] {
        assert!(!text.contains(gone), "{gone} in {text}");
    }
}

#[test]
fn an_ingredient_that_the_recipe_declares_is_found_and_one_of_another_recipe_is_refused() {
    let recipe = read(EXAMPLE);
    let by = HopUse {
        hop: recipe.hops[2].hop.clone(),
        ..hop(0, 0.1)
    };
    let swap = [RecipeChange::SwapHop { at: 0, by }];
    check(EXAMPLE, &swap);
    let refused = changed_document(MIXED, &swap, &head());
    let name = "Neighbour's hop".to_owned();
    assert_eq!(refused, Err(EditProblem::Undeclared { name }));
}

#[test]
fn a_declared_name_does_not_hide_an_ingredient_of_the_catalogue() {
    let named = |name: &str| {
        let mut all = kitchen().1.hops().iter();
        let hop = all.find(|it| it.identity.name == name).unwrap().clone();
        [RecipeChange::AddHop(HopUse {
            hop,
            ..self::hop(0, 0.1)
        })]
    };
    let declaring = |name: &str| format!("{SMALL}\n[[declare.hop]]\nname = \"{name}\"\n");
    check(&declaring("Northern Brewer"), &named("Northern Brewer"));
    let all = kitchen().1.hops().iter();
    let without_other_name = all
        .map(|it| &it.identity)
        .find(|it| it.synonyms.is_empty() && it.id.as_str() == it.name.to_lowercase());
    let name = without_other_name.unwrap().name.clone();
    let refused = changed_document(&declaring(&name), &named(&name), &head());
    assert_eq!(refused, Err(EditProblem::Hidden { name }));
}

#[test]
fn a_malt_after_sugars_is_written_where_the_reader_finds_it_last() {
    let malt = |it: &&thirdglass::domain::Fermentable| it.identity.name == "Chocolate malt";
    let malt = kitchen()
        .1
        .fermentables()
        .iter()
        .find(malt)
        .unwrap()
        .clone();
    let add = RecipeChange::AddFermentable(FermentableUse {
        fermentable: malt,
        ..fermentable(0, 0.1)
    });
    check(MIXED, std::slice::from_ref(&add));
    let above = MIXED.replace("[[sugar]] # for", "[[fermentable]] # for");
    let above = above.replacen(
        "# The grist.",
        "[[sugar]]\nname = \"White sugar\"\namount = \"5 g\"\n",
        1,
    );
    let refused = changed_document(&above, &[add], &head()).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "the recipe cannot be changed: a malt is to come after a sugar that stands above the malts or in a list in \
         brackets; write each malt under [[fermentable]] and each sugar under [[sugar]] below them"
    );
}

#[test]
fn foreign_line_ends_and_a_byte_order_mark_stay() {
    let foreign = format!("\u{feff}{}", EXAMPLE.replace('\n', "\r\n"));
    let text = changed(&foreign, &[RecipeChange::AddHop(hop(3, 0.9))]);
    assert!(text.starts_with("\u{feff}# A recipe"));
    assert_eq!(text.matches('\n').count(), text.matches("\r\n").count());
}

#[test]
fn what_is_no_recipe_is_not_changed() {
    for text in [
        "",
        "name = ",
        "volume = 5",
        "volume = \"5 L\"\nhop = 3",
        "volume = \"5 L\"\nmash = 3",
    ] {
        let refused = changed_document(text, &[], &head());
        assert!(
            matches!(refused, Err(EditProblem::NotRead { .. })),
            "{text}: {refused:?}"
        );
    }
}
