//! The files that are built in: the wheel place by place, the ingredients, and the demonstration.

/// A file's name below `descriptors/` or `demo-sessions/`, and its text.
type File = (&'static str, &'static str);

/// The files of the wheel, in the order of the places.
static WHEEL: &[File] = &[
    ("bakery.toml", include_str!("../../descriptors/bakery.toml")),
    (
        "sweet-shop.toml",
        include_str!("../../descriptors/sweet-shop.toml"),
    ),
    (
        "hearth-and-coffee-bar.toml",
        include_str!("../../descriptors/hearth-and-coffee-bar.toml"),
    ),
    (
        "citrus-stall.toml",
        include_str!("../../descriptors/citrus-stall.toml"),
    ),
    (
        "tropical-stall.toml",
        include_str!("../../descriptors/tropical-stall.toml"),
    ),
    (
        "orchard-and-hedge.toml",
        include_str!("../../descriptors/orchard-and-hedge.toml"),
    ),
    ("garden.toml", include_str!("../../descriptors/garden.toml")),
    (
        "woodland.toml",
        include_str!("../../descriptors/woodland.toml"),
    ),
    (
        "spice-drawer.toml",
        include_str!("../../descriptors/spice-drawer.toml"),
    ),
    ("dairy.toml", include_str!("../../descriptors/dairy.toml")),
    (
        "vegetable-rack.toml",
        include_str!("../../descriptors/vegetable-rack.toml"),
    ),
    (
        "cellar-and-attic.toml",
        include_str!("../../descriptors/cellar-and-attic.toml"),
    ),
    (
        "workshop-and-first-aid-box.toml",
        include_str!("../../descriptors/workshop-and-first-aid-box.toml"),
    ),
];

/// The file of hints.
static HINTS: File = (
    "hints/process.toml",
    include_str!("../../descriptors/hints/process.toml"),
);

/// The files of the ingredient catalogue.
static INGREDIENTS: &[File] = &[
    (
        "ingredients/fermentables.toml",
        include_str!("../../descriptors/ingredients/fermentables.toml"),
    ),
    (
        "ingredients/hops.toml",
        include_str!("../../descriptors/ingredients/hops.toml"),
    ),
    (
        "ingredients/yeasts.toml",
        include_str!("../../descriptors/ingredients/yeasts.toml"),
    ),
    (
        "ingredients/others.toml",
        include_str!("../../descriptors/ingredients/others.toml"),
    ),
    (
        "ingredients/conditions.toml",
        include_str!("../../descriptors/ingredients/conditions.toml"),
    ),
];

/// The files of the demonstration: the session, then its recipes.
static DEMO: &[File] = &[
    (
        "kitchen.toml",
        include_str!("../../demo-sessions/kitchen.toml"),
    ),
    (
        "oven-door-1.recipe.toml",
        include_str!("../../demo-sessions/oven-door-1.recipe.toml"),
    ),
    (
        "oven-door-2.recipe.toml",
        include_str!("../../demo-sessions/oven-door-2.recipe.toml"),
    ),
    (
        "open-window.recipe.toml",
        include_str!("../../demo-sessions/open-window.recipe.toml"),
    ),
    (
        "garden-chair.recipe.toml",
        include_str!("../../demo-sessions/garden-chair.recipe.toml"),
    ),
    (
        "hay-loft.recipe.toml",
        include_str!("../../demo-sessions/hay-loft.recipe.toml"),
    ),
    (
        "cold-shelf.recipe.toml",
        include_str!("../../demo-sessions/cold-shelf.recipe.toml"),
    ),
];

/// The files of the wheel, in the order of the places.
#[must_use]
pub fn builtin_wheel_files() -> &'static [File] {
    WHEEL
}

/// The files of the ingredient catalogue.
#[must_use]
pub fn builtin_ingredient_files() -> &'static [File] {
    INGREDIENTS
}

/// The files of the demonstration: the session first, then the recipes that it names.
#[must_use]
pub fn builtin_demo_files() -> &'static [File] {
    DEMO
}

/// The built-in hints: the file's name and its text.
#[must_use]
pub const fn builtin_hints() -> File {
    HINTS
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;
    use std::path::Path;

    use super::*;

    /// What comparisons of the demonstration must say. It is for those who check the program, which
    /// must not carry the answers itself.
    const ANSWERS: &str = "expected-analysis.toml";

    fn in_folder(folder: &str) -> BTreeSet<String> {
        std::fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join(folder))
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .filter(|name| name.contains(".toml") && name != ANSWERS)
            .collect()
    }

    #[test]
    fn every_file_of_the_folders_is_built_in_and_nothing_else() {
        for (folder, below, files) in [
            ("descriptors", "", WHEEL),
            ("descriptors/ingredients", "ingredients/", INGREDIENTS),
            ("demo-sessions", "", DEMO),
        ] {
            let names = files.iter().map(|(name, _)| name.strip_prefix(below));
            let built_in: BTreeSet<String> = names.map(|it| it.unwrap().to_owned()).collect();
            assert_eq!(built_in, in_folder(folder));
        }
    }
}
