//! Recipes in every form that is read, and what changes make of them.

use std::fmt::Display;
use std::sync::OnceLock;

use thirdglass::domain::Catalogue;
use thirdglass::domain::Name;
use thirdglass::domain::Recipe;
use thirdglass::domain::RecipeChange;
use thirdglass::domain::Wheel;
use thirdglass::formats::EXAMPLE;
use thirdglass::formats::NewVersion;
use thirdglass::formats::changed_document;
use thirdglass::formats::read_catalogue;
use thirdglass::formats::read_recipe;
use thirdglass::formats::read_wheel;
use thirdglass::storage::builtin_demo_files;
use thirdglass::storage::builtin_ingredient_files;
use thirdglass::storage::builtin_wheel_files;

/// Six lines.
pub(super) const SMALL: &str = "name = \"Small\"\nversion = 1\nvolume = \"5 L\"\n[[fermentable]]\nname = \"pale ale malt\"\namount = \"1 kg\"";

/// Everything in braces and brackets.
pub(super) const IN_BRACES: &str = r#"name = "Flat"
version = 1
volume = "5000 mL"
mash = { time = "60 min" }
fermentable = [ { name = "Pale ale malt", amount = "1 kg" }, { colour = "25 EBC", extract = "78 %", name = "Munich malt, dark", amount = "100 g" } ]
hop = [
  { alpha = "3.4 %", name = "Saaz", amount = "10 g", boil = "60 min", age = "8 months" }, # the first
  { name = "Saaz", amount = "8 g", "dry" = "3 days" },
]
other = []
yeast = { name = "Clean ale yeast", attenuation = 77 }
carbonation = {}
"#;

/// Keys with dots, kinds mixed, comments everywhere.
pub(super) const MIXED: &str = r#"# A beer.
name = "Mixed" # its name
version = "1"
volume = "1 gal"
mash.time = "1 h" # no temperature yet
yeast.name = "Clean ale yeast"
yeast.attenuation = "77 %"

# The first hop.
[[hop]] # bitter
name = "Saaz" # as bought
amount = "0.5 oz"
boil = "1 h"
# Weighed twice.

# The grist.
[[fermentable]]
name = "Pale ale malt"
amount = "1 kg"

[[fermentable]]
name = "Munich malt, dark"
amount = "100 g"
[[sugar]] # for the strength
name = "White sugar"
amount = "50 g"
# Below honey.
[[sugar]]
name = "White sugar"
amount = "20 g"
[[hop]]
name = "Saaz"
amount = "5 g"
dry = "3 days"
"#;

pub(super) fn clean<T, P: Display>(read: Result<T, Vec<P>>) -> T {
    read.unwrap_or_else(|problems| {
        let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
        panic!("{}", lines.join("\n"));
    })
}

pub(super) fn kitchen() -> &'static (Wheel, Catalogue) {
    static KITCHEN: OnceLock<(Wheel, Catalogue)> = OnceLock::new();
    KITCHEN.get_or_init(|| {
        let wheel = clean(read_wheel(builtin_wheel_files()));
        let catalogue = clean(read_catalogue(builtin_ingredient_files(), &[], &wheel));
        (wheel, catalogue)
    })
}

pub(super) fn read(text: &str) -> Recipe {
    let (wheel, catalogue) = kitchen();
    match read_recipe("r.toml", text, catalogue, wheel) {
        Ok(recipe) => recipe,
        Err(problems) => panic!("{problems:#?}\n{text}"),
    }
}

/// The built-in recipes, all of whose tables have headers.
pub(super) fn with_headers() -> Vec<String> {
    let demo = builtin_demo_files()[1..].iter().map(|it| it.1.to_owned());
    std::iter::once(EXAMPLE.to_owned()).chain(demo).collect()
}

/// Those, and recipes in every other form that is read.
pub(super) fn documents() -> Vec<String> {
    let mut all = with_headers();
    all.extend([SMALL, IN_BRACES, MIXED].map(str::to_owned));
    all.push(EXAMPLE.replace('\n', "\r\n"));
    all
}

pub(super) fn name(text: &str) -> Name {
    Name::new("a name", text).unwrap()
}

pub(super) fn head() -> NewVersion {
    NewVersion {
        version: name("3"),
        parent: name("2"),
        reason: name("a \"softer\" end \\ more toast"),
        expected: vec!["toast 3 -> 5".to_owned(), "length 20 s -> 12 s".to_owned()],
    }
}

pub(super) fn changed(document: &str, changes: &[RecipeChange]) -> String {
    changed_document(document, changes, &head())
        .unwrap_or_else(|problem| panic!("{problem}\n{changes:#?}\n{document}"))
}

/// The recipe that the changes mean.
pub(super) fn meant(document: &str, changes: &[RecipeChange]) -> Recipe {
    let head = head();
    Recipe {
        version: head.version,
        parent: Some(head.parent),
        reason: Some(head.reason),
        ..RecipeChange::apply_all(changes, &read(document))
    }
}

/// What was changed reads back as what the changes mean.
pub(super) fn check(document: &str, changes: &[RecipeChange]) {
    let text = changed(document, changes);
    assert_eq!(read(&text), meant(document, changes), "{text}");
}
