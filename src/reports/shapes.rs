//! What the JSON of each command holds, as JSON Schemas that are built in: the promise that its keys are.

/// Every shape: the words of its command joined by `-`, and its text, a JSON Schema (draft 2020-12). A
/// command with a second kind of output has a second shape, whose name goes on after that of the command.
pub const SHAPES: &[(&str, &str)] = &[
    ("batch-list", include_str!("shapes/batch-list.json")),
    ("batch-show", include_str!("shapes/batch-show.json")),
    ("batch-weeks", include_str!("shapes/batch-weeks.json")),
    ("blind-list", include_str!("shapes/blind-list.json")),
    ("blind-plan", include_str!("shapes/blind-plan.json")),
    ("blind-record", include_str!("shapes/blind-record.json")),
    ("blind-result", include_str!("shapes/blind-result.json")),
    ("blind-sheet", include_str!("shapes/blind-sheet.json")),
    ("blind-size", include_str!("shapes/blind-size.json")),
    ("compare", include_str!("shapes/compare.json")),
    ("compare-two", include_str!("shapes/compare-two.json")),
    ("home-check", include_str!("shapes/home-check.json")),
    ("home-tables", include_str!("shapes/home-tables.json")),
    ("larder", include_str!("shapes/larder.json")),
    ("next", include_str!("shapes/next.json")),
    ("panel-list", include_str!("shapes/panel-list.json")),
    ("panel-plan", include_str!("shapes/panel-plan.json")),
    ("panel-result", include_str!("shapes/panel-result.json")),
    (
        "panel-result-taster",
        include_str!("shapes/panel-result-taster.json"),
    ),
    ("panel-sheet", include_str!("shapes/panel-sheet.json")),
    ("panel-talk", include_str!("shapes/panel-talk.json")),
    ("photo-list", include_str!("shapes/photo-list.json")),
    (
        "practice-course",
        include_str!("shapes/practice-course.json"),
    ),
    ("practice-gain", include_str!("shapes/practice-gain.json")),
    (
        "practice-leader",
        include_str!("shapes/practice-leader.json"),
    ),
    (
        "practice-record",
        include_str!("shapes/practice-record.json"),
    ),
    ("recipe-history", include_str!("shapes/recipe-history.json")),
    ("recipe-predict", include_str!("shapes/recipe-predict.json")),
    (
        "recipe-predict-why",
        include_str!("shapes/recipe-predict-why.json"),
    ),
    ("removed", include_str!("shapes/removed.json")),
    ("settings", include_str!("shapes/settings.json")),
    ("taster-export", include_str!("shapes/taster-export.json")),
    ("taster-import", include_str!("shapes/taster-import.json")),
    ("taster-imports", include_str!("shapes/taster-imports.json")),
    ("taster-learnt", include_str!("shapes/taster-learnt.json")),
    ("taster-list", include_str!("shapes/taster-list.json")),
    ("taster-measure", include_str!("shapes/taster-measure.json")),
    ("taster-show", include_str!("shapes/taster-show.json")),
    ("wheel-list", include_str!("shapes/wheel-list.json")),
    ("wheel-scales", include_str!("shapes/wheel-scales.json")),
    ("wheel-show", include_str!("shapes/wheel-show.json")),
];

/// The text of a shape; none where none is called so.
#[must_use]
pub fn shape(name: &str) -> Option<&'static str> {
    let named = SHAPES.iter().find(|it| it.0 == name);
    named.map(|it| it.1)
}

/// The names of the shapes of a command, given by its words joined by `-`.
pub fn shapes_of(command: &str) -> impl Iterator<Item = &'static str> {
    let of = move |name: &str| match name.strip_prefix(command) {
        Some(rest) => rest.is_empty() || rest.starts_with('-'),
        None => false,
    };
    SHAPES.iter().map(|it| it.0).filter(move |name| of(name))
}
