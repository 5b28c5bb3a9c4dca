//! Puts what the notes of a BeerJSON recipe keep into the recipe file that is made from it.

use toml_edit::ArrayOfTables;
use toml_edit::DocumentMut;
use toml_edit::Item;
use toml_edit::Table;
use toml_edit::Value;

use crate::formats::beyond::Beyond;

/// Lists that only the notes know; a place behind their end begins a new entry.
const OWN_LISTS: [&str; 5] = ["promised", "fermentable", "hop", "yeast", "other"];
/// Keys of a hop of which it has one.
const TIMES: [&str; 3] = ["boil", "whirlpool", "dry"];

/// The file with these lines in their places; a line without a place is left out.
pub(super) fn with_beyond(text: String, lines: &[Beyond]) -> String {
    if lines.is_empty() {
        return text;
    }
    let Ok(mut document) = text.parse::<DocumentMut>() else {
        return text;
    };
    for line in lines {
        let Ok(value) = line.value.parse::<Value>() else {
            continue;
        };
        let Some(table) = place(document.as_table_mut(), &line.place) else {
            continue;
        };
        if TIMES.contains(&line.key.as_str()) {
            for time in TIMES {
                table.remove(time);
            }
        }
        table.insert(&line.key, Item::Value(value));
    }
    document.to_string()
}

/// The table at a place such as `hop 2` or `intent.words`.
fn place<'a>(root: &'a mut Table, place: &str) -> Option<&'a mut Table> {
    if place == "recipe" {
        return Some(root);
    }
    let mut table = root;
    let mut is_own = place.starts_with("promised ");
    for part in place.split('.') {
        let Some((name, number)) = part.split_once(' ') else {
            table = table
                .entry(part)
                .or_insert_with(|| Item::Table(Table::new()))
                .as_table_mut()?;
            table.set_implicit(true);
            is_own |= part == "declare";
            continue;
        };
        let at = number.parse::<usize>().ok()?.checked_sub(1)?;
        let may_begin = is_own && OWN_LISTS.contains(&name);
        let list = table
            .entry(name)
            .or_insert_with(|| Item::ArrayOfTables(ArrayOfTables::new()))
            .as_array_of_tables_mut()?;
        if at == list.len() && may_begin {
            list.push(Table::new());
        }
        table = list.get_mut(at)?;
    }
    Some(table)
}
