//! What BeerJSON calls the kinds of things in a recipe.

use crate::domain::FermentableFamily;
use crate::domain::OtherKind;

/// What the standard calls a family, and the group of a grain.
pub(super) const fn grain(family: FermentableFamily) -> (&'static str, Option<&'static str>) {
    match family {
        FermentableFamily::Base => ("grain", Some("base")),
        FermentableFamily::Kilned => ("grain", Some("specialty")),
        FermentableFamily::Crystal => ("grain", Some("caramel")),
        FermentableFamily::Roasted => ("grain", Some("roasted")),
        FermentableFamily::Smoked => ("grain", Some("smoked")),
        FermentableFamily::Flaked => ("grain", Some("flaked")),
        FermentableFamily::Sugar => ("sugar", None),
        FermentableFamily::Honey => ("honey", None),
        FermentableFamily::Extract => ("extract", None),
        FermentableFamily::Fruit => ("fruit", None),
    }
}

/// What the standard calls a kind of addition.
pub(super) const fn addition(kind: OtherKind) -> &'static str {
    match kind {
        OtherKind::Spice => "spice",
        OtherKind::Finings => "fining",
        OtherKind::Salt | OtherKind::Acid => "water agent",
        OtherKind::Wood => "wood",
        OtherKind::Flavouring | OtherKind::Peel | OtherKind::Fruit => "flavor",
        OtherKind::Nutrient => "other",
    }
}

/// Where free words say that something goes in.
pub(super) fn use_of(when: &str) -> Option<&'static str> {
    let when = when.to_lowercase();
    let says = |words: &[&str]| words.iter().any(|it| when.contains(it));
    if says(&["mash"]) {
        Some("add_to_mash")
    } else if says(&["boil", "kettle", "flame"]) {
        Some("add_to_boil")
    } else if says(&["ferment", "primary", "secondary"]) {
        Some("add_to_fermentation")
    } else if says(&["bottl", "packag", "keg"]) {
        Some("add_to_package")
    } else {
        None
    }
}
