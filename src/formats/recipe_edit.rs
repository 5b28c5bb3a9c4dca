//! The next version of a recipe as a file: the old document with what changes in it, and nothing else.

use crate::domain::Celsius;
use crate::domain::Litres;
use crate::domain::Name;
use crate::domain::Part;
use crate::domain::RecipeChange;
use crate::domain::hides;
use crate::formats::document_page::Line;
use crate::formats::document_page::Page;
use crate::formats::document_page::Spot;
use crate::formats::document_page::parsed;
use crate::formats::edit_problem::EditProblem;
use crate::formats::edited_table::EditedTable;
use crate::formats::edited_table::Heading;
use crate::formats::edited_table::Stated;
use crate::formats::ingredient_names::Names;
use crate::formats::quantity_text::CARBONATION;
use crate::formats::quantity_text::TEMPERATURE;
use crate::formats::quantity_text::VOLUME;
use crate::formats::table_order::write_fermentables;
use crate::formats::table_order::write_list;
use crate::formats::table_order::write_single;

/// How a comment line on what is expected begins.
const EXPECTED: &str = "# expected:";

/// What stands at the head of the next version.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewVersion {
    /// Its version.
    pub version: Name,
    /// The version it comes from.
    pub parent: Name,
    /// Why it is made.
    pub reason: Name,
    /// What is expected of it, each for a comment line such as `# expected: toast 3 -> 5`.
    pub expected: Vec<String>,
}

/// Writes the next version of a recipe.
///
/// `document` is a recipe that can be read. The new text reads as [`RecipeChange::apply_all`] makes it, under
/// the new head; order, comments and every line that no change touches stay byte for byte. Amounts are written
/// exactly as they are, in kilograms where the old text had them and whole grams can be said so. Lines on what was
/// expected of the old version give way to the new ones.
///
/// # Errors
/// The document is no recipe, is written in a form that cannot take the change, or a change names an ingredient
/// that another recipe declares or an amount that no recipe can hold.
pub fn changed_document(
    document: &str,
    changes: &[RecipeChange],
    head: &NewVersion,
) -> Result<String, EditProblem> {
    let (mark, body) = match document.strip_prefix('\u{feff}') {
        Some(body) => ("\u{feff}", body),
        None => ("", document),
    };
    let mut body = body.to_owned();
    if !body.ends_with('\n') {
        body.push('\n');
    }
    let parsed = parsed(&body)?;
    let mut page = Page::new(&parsed);
    let mut edit = Edit::new(&page, &body)?;
    for change in changes {
        edit.change(change)?;
    }
    for change in changes {
        if let RecipeChange::LeaveOut(part) = change
            && let Some(table) = edit.part(*part)
        {
            table.is_gone = true;
        }
    }
    write_head(&mut page, head);
    edit.write(&mut page)?;
    Ok(format!("{mark}{}", page.finished()))
}

fn write_head(page: &mut Page<'_>, head: &NewVersion) {
    page.cut_comments(EXPECTED);
    let mut above = "version";
    for (key, value) in [
        ("version", &head.version),
        ("parent", &head.parent),
        ("reason", &head.reason),
    ] {
        if page.head().has(key) {
            let text = Some(value.to_string());
            page.change(&page.head(), &[Line { key, text }]);
            above = key;
        } else {
            page.set_below(above, key, value.as_str());
        }
    }
    let below = if page.head().has("reason") {
        "reason"
    } else {
        above
    };
    for line in &head.expected {
        let told: String = line
            .chars()
            .map(|it| if hides(it) { ' ' } else { it })
            .collect();
        page.comment_below(below, format!("{EXPECTED} {told}").trim_end());
    }
}

/// The parts of a recipe under change.
struct Edit<'d> {
    names: Names,
    litres: f64,
    volume: EditedTable<'d>,
    fermentables: Vec<EditedTable<'d>>,
    hops: Vec<EditedTable<'d>>,
    others: Vec<EditedTable<'d>>,
    yeast: Option<EditedTable<'d>>,
    mash: EditedTable<'d>,
    carbonation: EditedTable<'d>,
}

impl<'d> Edit<'d> {
    fn new(page: &Page<'d>, document: &str) -> Result<Self, EditProblem> {
        let malts = tables(page.spots("fermentable")?, Heading::Fermentable);
        let sugars = tables(page.spots("sugar")?, Heading::Sugar);
        let one = |spot: Option<Spot<'d>>| EditedTable::new(spot, Heading::Fermentable);
        let volume = page.head().text("volume").map(|it| VOLUME.read(it));
        let Some(Ok(litres)) = volume else {
            let found = "its volume cannot be read".to_owned();
            return Err(EditProblem::NotRead { found });
        };
        Ok(Self {
            names: Names::of(document),
            litres,
            volume: one(Some(page.head())),
            fermentables: malts.into_iter().chain(sugars).collect(),
            hops: tables(page.spots("hop")?, Heading::Fermentable),
            others: tables(page.spots("other")?, Heading::Fermentable),
            yeast: page.spot("yeast")?.map(|it| one(Some(it))),
            mash: one(page.spot("mash")?),
            carbonation: one(page.spot("carbonation")?),
        })
    }

    fn part(&mut self, part: Part) -> Option<&mut EditedTable<'d>> {
        match part {
            Part::Fermentable(at) => self.fermentables.get_mut(at),
            Part::Hop(at) => self.hops.get_mut(at),
            Part::Other(at) => self.others.get_mut(at),
        }
    }

    /// Takes a change in; what is left out goes after all others.
    fn change(&mut self, change: &RecipeChange) -> Result<(), EditProblem> {
        let names = &self.names;
        match change {
            RecipeChange::LeaveOut(_) => Ok(()),
            RecipeChange::Amount { part, to } => on(self.part(*part), |it| it.set_amount(*to)),
            RecipeChange::SwapFermentable { at, by } => on(self.fermentables.get_mut(*at), |it| {
                it.set_fermentable(by, names)
            }),
            RecipeChange::SwapHop { at, by } => {
                on(self.hops.get_mut(*at), |it| it.set_hop(by, names))
            }
            RecipeChange::HopTime { at, when } => {
                on(self.hops.get_mut(*at), |it| it.set_time(*when))
            }
            RecipeChange::AddFermentable(by) => {
                add(&mut self.fermentables, |it| it.set_fermentable(by, names))
            }
            RecipeChange::AddHop(by) => add(&mut self.hops, |it| it.set_hop(by, names)),
            RecipeChange::AddOther(by) => add(&mut self.others, |it| it.set_other(by, names)),
            RecipeChange::Yeast(by) => {
                let new = || EditedTable::new(None, Heading::Fermentable);
                self.yeast.get_or_insert_with(new).set_yeast(by, names)
            }
            RecipeChange::Mash(to) => self.mash.set_stated(celsius(*to)),
            RecipeChange::Fermentation(to) => {
                on(self.yeast.as_mut(), |it| it.set_stated(celsius(*to)))
            }
            RecipeChange::Carbonation(to) => {
                let target = ("target", &CARBONATION, Some(to.get()), "vol");
                self.carbonation.set_stated(target)
            }
            RecipeChange::Volume(to) => self.scale(*to),
        }
    }

    fn scale(&mut self, to: Litres) -> Result<(), EditProblem> {
        let times = to.get() / self.litres;
        self.litres = to.get();
        let volume = ("volume", &VOLUME, Some(to.get()), "L");
        self.volume.set_stated(volume)?;
        let all = self.fermentables.iter_mut().chain(&mut self.hops);
        all.chain(&mut self.others)
            .try_for_each(|it| it.scale(times))
    }

    fn write(&mut self, page: &mut Page<'d>) -> Result<(), EditProblem> {
        self.volume.write(page);
        write_single(page, ("mash", &[]), &self.mash)?;
        write_fermentables(page, &mut self.fermentables)?;
        let hops: Vec<&EditedTable<'d>> = self.hops.iter().collect();
        write_list(page, ("hop", &["sugar", "fermentable"]), &hops)?;
        if let Some(yeast) = &self.yeast {
            write_single(page, ("yeast", &["hop", "sugar", "fermentable"]), yeast)?;
        }
        let others: Vec<&EditedTable<'d>> = self.others.iter().collect();
        let above = ["yeast", "hop", "sugar", "fermentable"];
        write_list(page, ("other", &above), &others)?;
        let above = ["water", "other", "yeast", "hop", "sugar", "fermentable"];
        write_single(page, ("carbonation", &above), &self.carbonation)
    }
}

fn tables(spots: Vec<Spot<'_>>, heading: Heading) -> Vec<EditedTable<'_>> {
    let spots = spots.into_iter();
    spots
        .map(|it| EditedTable::new(Some(it), heading))
        .collect()
}

fn on<'d>(
    table: Option<&mut EditedTable<'d>>,
    change: impl FnOnce(&mut EditedTable<'d>) -> Result<(), EditProblem>,
) -> Result<(), EditProblem> {
    table.map_or(Ok(()), change)
}

fn add<'d>(
    to: &mut Vec<EditedTable<'d>>,
    change: impl FnOnce(&mut EditedTable<'d>) -> Result<(), EditProblem>,
) -> Result<(), EditProblem> {
    let mut table = EditedTable::new(None, Heading::Fermentable);
    change(&mut table)?;
    to.push(table);
    Ok(())
}

const fn celsius(to: Celsius) -> Stated {
    ("temperature", &TEMPERATURE, Some(to.get()), "°C")
}
