//! Whatever is changed reads back as the changes mean it.

use crate::recipe_edit::documents::SMALL;
use crate::recipe_edit::documents::changed;
use crate::recipe_edit::documents::check;
use crate::recipe_edit::documents::documents;
use crate::recipe_edit::documents::head;
use crate::recipe_edit::documents::kitchen;
use crate::recipe_edit::documents::meant;
use crate::recipe_edit::documents::read;
use crate::recipe_edit::documents::with_headers;
use crate::recipe_edit::drawn::KINDS;
use crate::recipe_edit::drawn::change;
use crate::recipe_edit::drawn::draws;
use crate::recipe_edit::drawn::fermentable;
use crate::recipe_edit::drawn::hop;
use crate::recipe_edit::drawn::other;
use crate::recipe_edit::drawn::yeast;
use crate::recipe_edit::untouched::stand_in;
use crate::recipe_edit::untouched::untouched;
use proptest::prelude::ProptestConfig;
use proptest::prop_assert_eq;
use proptest::proptest;
use thirdglass::domain::Celsius;
use thirdglass::domain::RecipeChange;
use thirdglass::formats::changed_document;

#[test]
fn every_kind_of_change_reads_back_in_every_form_of_document() {
    for document in documents() {
        let recipe = read(&document);
        let mut made = 0;
        for kind in 0..KINDS {
            for place in 0..6 {
                for size in [0.05, 0.55, 0.95] {
                    let Some(change) = change((kind, place, place * 7, size), &recipe) else {
                        continue;
                    };
                    let text = changed(&document, std::slice::from_ref(&change));
                    let meant = meant(&document, std::slice::from_ref(&change));
                    assert_eq!(read(&text), meant, "{change:#?}\n{text}");
                    made += 1;
                }
            }
        }
        assert!(made > 100, "{made} changes of\n{document}");
    }
}

#[test]
fn every_ingredient_of_the_catalogue_is_found_again_by_the_name_it_is_written_with() {
    let catalogue = &kitchen().1;
    for place in 0..catalogue.fermentables().len() {
        let by = fermentable(place, 0.1);
        check(SMALL, &[RecipeChange::AddFermentable(by)]);
    }
    for place in 0..catalogue.hops().len() {
        check(SMALL, &[RecipeChange::AddHop(hop(place, 0.1))]);
    }
    for place in 0..catalogue.yeasts().len() {
        check(SMALL, &[RecipeChange::Yeast(yeast(place, 0.5))]);
    }
    for place in 0..catalogue.others().len() {
        check(SMALL, &[RecipeChange::AddOther(other(place, 0.1))]);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn lists_of_changes_read_back_and_touch_no_other_line(which in 0..7_usize, draws in draws()) {
        let all = with_headers();
        let document = &all[which % all.len()];
        let recipe = read(document);
        let changes: Vec<RecipeChange> = draws.into_iter().filter_map(|it| change(it, &recipe)).collect();
        let text = changed(document, &changes);
        prop_assert_eq!(read(&text), meant(document, &changes), "{}", text);
        prop_assert_eq!(stand_in(&untouched(document, &changes), &text), Ok(()), "{}", text);
    }

    #[test]
    fn lists_of_changes_read_back_from_braces_dots_and_foreign_line_ends(which in 7..12_usize, draws in draws()) {
        let all = documents();
        let document = &all[which % all.len()];
        let recipe = read(document);
        let changes: Vec<RecipeChange> = draws.into_iter().filter_map(|it| change(it, &recipe)).collect();
        let text = changed(document, &changes);
        prop_assert_eq!(read(&text), meant(document, &changes), "{}", text);
    }

    #[test]
    fn no_text_at_all_makes_it_panic(text in "\\PC{0,200}|[a-z\\[\\]{}=,.\"#\n ]{0,120}") {
        let changes = [RecipeChange::Mash(Celsius::new(66.0).unwrap()), RecipeChange::AddHop(hop(1, 0.1))];
        // Most of it is no recipe; what is written of the rest is not looked at.
        drop(changed_document(&text, &changes, &head()));
    }
}
