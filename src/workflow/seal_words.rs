//! Who keeps a beer sealed and until when, in words.

/// What ends a seal: the locks of those who taste, or that a panel is told what was in its glasses.
pub(super) fn sealed_until(tasters: &[String], panel: Option<u32>) -> String {
    match panel {
        // Which panel would tell what is in its glasses.
        Some(_) => "it is told what was in the glasses of a panel".to_owned(),
        None => format!(
            "{} their notes or {}",
            agree(tasters, "locks", "lock"),
            verb(tasters, "leaves", "leave")
        ),
    }
}

/// Who, with the verb that agrees.
pub(super) fn agree(tasters: &[String], one: &str, many: &str) -> String {
    format!("{} {}", tasters.join(" and "), verb(tasters, one, many))
}

pub(super) fn verb<'a>(tasters: &[String], one: &'a str, many: &'a str) -> &'a str {
    if tasters.len() == 1 { one } else { many }
}
