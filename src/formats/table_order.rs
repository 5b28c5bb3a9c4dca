//! Where changed and new tables of a recipe go on the page, so that they are read in the order they are meant in.

use crate::formats::document_page::Form;
use crate::formats::document_page::Page;
use crate::formats::document_page::Spot;
use crate::formats::edit_problem::EditProblem;
use crate::formats::edited_table::EditedTable;
use crate::formats::edited_table::Heading;

/// A kind of table, and the kinds below which a first one goes, the best first.
type Kind<'k> = (&'static str, &'k [&'static str]);

/// Writes a table that stands once.
pub(crate) fn write_single<'d>(
    page: &mut Page<'d>,
    (name, above): Kind<'_>,
    table: &EditedTable<'d>,
) -> Result<(), EditProblem> {
    if table.spot.is_some() {
        table.write(page);
        return Ok(());
    }
    let lines = table.new_lines();
    if lines.is_empty() {
        return Ok(());
    }
    let whole = headed(&format!("[{name}]"), lines);
    match place_below(page, above)? {
        Some(spot) => page.table_below(&spot, &whole),
        None if above.is_empty() => page.table_first(&whole),
        None => page.table_last(&whole),
    }
    Ok(())
}

/// Writes the tables of a list.
pub(crate) fn write_list<'d>(
    page: &mut Page<'d>,
    (name, above): Kind<'_>,
    tables: &[&EditedTable<'d>],
) -> Result<(), EditProblem> {
    let kept = || tables.iter().filter(|it| !it.is_gone);
    for table in kept() {
        table.write(page);
    }
    let new = kept().filter(|it| it.spot.is_none());
    let new: Vec<Vec<String>> = new.map(|it| it.new_lines()).collect();
    let old = || tables.iter().filter(|it| it.spot.is_some());
    if let Some(list) = page.list(name) {
        let is_kept: Vec<bool> = old().map(|it| !it.is_gone).collect();
        let new: Vec<String> = new.iter().map(|it| it.join(", ")).collect();
        if is_kept.contains(&false) || !new.is_empty() {
            page.change_list(list, &is_kept, &new);
        }
        return Ok(());
    }
    let gone = old().filter(|it| it.is_gone);
    for spot in gone.filter_map(|it| it.spot.as_ref()) {
        page.cut_table(spot);
    }
    let last = old().rfind(|it| !it.is_gone);
    let below = match last.and_then(|it| it.spot.clone()) {
        None => place_below(page, above)?,
        last => last,
    };
    add_tables(page, name, below.as_ref(), new);
    Ok(())
}

/// Puts new tables of a list below another table, or last.
fn add_tables(page: &mut Page<'_>, name: &str, below: Option<&Spot<'_>>, new: Vec<Vec<String>>) {
    for lines in new {
        let whole = headed(&format!("[[{name}]]"), lines);
        match below {
            Some(spot) => page.table_below(spot, &whole),
            None => page.table_last(&whole),
        }
    }
}

/// Writes malts and sugars. The reader takes all malts before all sugars; so a sugar that a malt comes after stands
/// among the malts.
pub(crate) fn write_fermentables<'d>(
    page: &mut Page<'d>,
    tables: &mut [EditedTable<'d>],
) -> Result<(), EditProblem> {
    let is_malt = |it: &EditedTable<'d>| !it.is_gone && it.heading == Heading::Fermentable;
    let malts = tables.iter().rposition(is_malt).map_or(0, |it| it + 1);
    for table in tables[..malts].iter_mut().filter(|it| !it.is_gone) {
        table.heading = Heading::Fermentable;
    }
    let old_malts = page.spots(Heading::Fermentable.name())?.len();
    let old = tables.iter().filter(|it| it.spot.is_some()).count();
    let (first, renamed) = (&tables[..old_malts], &tables[old_malts..old]);
    rename_sugars(page, first, renamed)?;
    let of = |heading| tables.iter().filter(move |it| it.heading == heading);
    let malts: Vec<&EditedTable<'d>> = of(Heading::Fermentable).collect();
    write_list(
        page,
        (Heading::Fermentable.name(), &["boil", "mash"]),
        &malts,
    )?;
    let sugars: Vec<&EditedTable<'d>> = of(Heading::Sugar).collect();
    let above = [Heading::Fermentable.name()];
    write_list(page, (Heading::Sugar.name(), &above), &sugars)
}

/// Puts the header of a malt over sugars that have become part of the malts.
fn rename_sugars<'d>(
    page: &mut Page<'d>,
    malts: &[EditedTable<'d>],
    sugars: &[EditedTable<'d>],
) -> Result<(), EditProblem> {
    let header = |it: &EditedTable<'d>| match it.spot.as_ref().map(|it| &it.form) {
        Some(Form::Headed(header)) => Some(header.clone()),
        _ => None,
    };
    let kept = |it: &&EditedTable<'d>| !it.is_gone;
    let above: Option<Vec<usize>> = malts
        .iter()
        .filter(kept)
        .map(|it| header(it).map(|it| it.end))
        .collect();
    let above = above.map(|all| all.into_iter().max().unwrap_or(0));
    let renamed = |it: &&EditedTable<'d>| it.heading == Heading::Fermentable;
    for table in sugars.iter().filter(kept).filter(renamed) {
        match (above, header(table)) {
            (Some(above), Some(header)) if header.start >= above => {
                page.set_header(&header, Heading::Fermentable.name());
            }
            _ => return Err(wrong_order()),
        }
    }
    Ok(())
}

fn wrong_order() -> EditProblem {
    EditProblem::Form {
        found:
            "a malt is to come after a sugar that stands above the malts or in a list in brackets"
                .to_owned(),
        advice: "write each malt under [[fermentable]] and each sugar under [[sugar]] below them",
    }
}

/// The last table with a header of the first kind that there is.
fn place_below<'d>(
    page: &Page<'d>,
    kinds: &[&'static str],
) -> Result<Option<Spot<'d>>, EditProblem> {
    for kind in kinds {
        if let Some(spot) = page.last_headed(kind)? {
            return Ok(Some(spot));
        }
    }
    Ok(None)
}

fn headed(header: &str, lines: Vec<String>) -> Vec<String> {
    let header = header.to_owned();
    std::iter::once(header).chain(lines).collect()
}
