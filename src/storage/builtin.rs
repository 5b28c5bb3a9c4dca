//! The files that are built in: the wheel place by place, and the ingredients.

/// A file's name below `descriptors/` and its text.
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

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;
    use std::path::Path;

    use super::*;

    fn in_folder(folder: &str) -> BTreeSet<String> {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("descriptors");
        std::fs::read_dir(root.join(folder))
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .filter(|name| name.contains(".toml"))
            .map(|name| format!("{folder}{name}"))
            .collect()
    }

    #[test]
    fn every_file_of_the_folder_is_built_in_and_nothing_else() {
        for (folder, files) in [("", WHEEL), ("ingredients/", INGREDIENTS)] {
            let built_in: BTreeSet<String> =
                files.iter().map(|(name, _)| (*name).to_owned()).collect();
            assert_eq!(built_in, in_folder(folder));
        }
    }
}
