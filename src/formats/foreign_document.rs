//! A recipe file of ours written from a recipe of another standard, with what each name was taken for.

use crate::domain::Catalogue;
use crate::domain::FermentableFamily;
use crate::domain::Identity;
use crate::domain::NEAR;
use crate::domain::NearNames;
use crate::domain::hides;
use crate::formats::answer_text::quoted;
use crate::formats::beyond_document::with_beyond;
use crate::formats::foreign_recipe::ForeignFermentable;
use crate::formats::foreign_recipe::ForeignHop;
use crate::formats::foreign_recipe::ForeignHopTime;
use crate::formats::foreign_recipe::ForeignKind;
use crate::formats::foreign_recipe::ForeignRecipe;

/// What a name of another standard is taken for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TakenFor {
    /// The catalogue knows it by this very name.
    Known(String),
    /// The nearest name of the catalogue: a guess.
    Guess(String),
    /// Nothing of the catalogue is near, so it becomes something of its own unless somebody says otherwise.
    NoneNear,
    /// Something of its own, declared in the recipe.
    Own,
}

/// One name with what it was taken for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mapped {
    /// What sort of ingredient.
    pub kind: ForeignKind,
    /// As it stands in the file.
    pub name: String,
    /// What it is taken for.
    pub taken: TakenFor,
}

/// What somebody said a name is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Choice {
    /// This ingredient of the catalogue.
    Take(String),
    /// An ingredient of its own.
    Own,
}

/// What every ingredient is taken for: what was said of it, its own name in the catalogue, or the nearest one.
#[must_use]
pub fn mapped(
    recipe: &ForeignRecipe,
    catalogue: &Catalogue,
    said: &[(String, Choice)],
) -> Vec<Mapped> {
    let mut all: Vec<Mapped> = Vec::new();
    let mut kinds: Vec<(ForeignKind, Choices<'_>)> = Vec::new();
    for (kind, name) in names(recipe) {
        if all.iter().any(|it| it.kind == kind && it.name == name) {
            continue;
        }
        let at = kinds.iter().position(|it| it.0 == kind).unwrap_or_else(|| {
            kinds.push((kind, Choices::new(kind, catalogue)));
            kinds.len() - 1
        });
        let choices = &kinds[at].1;
        let said = said.iter().find(|it| it.0.eq_ignore_ascii_case(name));
        let taken = match said {
            Some((_, Choice::Own)) => TakenFor::Own,
            Some((_, Choice::Take(other))) => called(&choices.known, other)
                .map_or(TakenFor::Own, |it| TakenFor::Known(it.name.clone())),
            None if recipe.declares(kind, name) => TakenFor::Own,
            None => choices.guessed(name),
        };
        let name = name.to_owned();
        all.push(Mapped { kind, name, taken });
    }
    all
}

/// Names that somebody gave and that no ingredient of the kind has, with the file's name.
#[must_use]
pub fn unknown_choices(
    recipe: &ForeignRecipe,
    catalogue: &Catalogue,
    said: &[(String, Choice)],
) -> Vec<String> {
    let mut problems = Vec::new();
    for (name, choice) in said {
        let there: Vec<ForeignKind> = names(recipe)
            .filter(|it| it.1.eq_ignore_ascii_case(name))
            .map(|it| it.0)
            .collect();
        if there.is_empty() {
            problems.push(format!("the file has no ingredient “{name}”"));
        } else if let Choice::Take(other) = choice {
            let mut known = there.iter().map(|it| identities(*it, catalogue));
            if !known.any(|it| called(&it, other).is_some()) {
                problems.push(format!("the catalogue has no “{other}” for “{name}”"));
            }
        }
    }
    problems
}

fn names(recipe: &ForeignRecipe) -> impl Iterator<Item = (ForeignKind, &str)> {
    let malts = recipe.fermentables.iter();
    let malts = malts.map(|it| (ForeignKind::Fermentable, it.name.as_str()));
    let hops = recipe.hops.iter();
    let hops = hops.map(|it| (ForeignKind::Hop, it.name.as_str()));
    let yeasts = recipe.yeasts.iter().take(1);
    let yeasts = yeasts.map(|it| (ForeignKind::Yeast, it.name.as_str()));
    let others = recipe.others.iter();
    let others = others.map(|it| (ForeignKind::Other, it.name.as_str()));
    malts.chain(hops).chain(yeasts).chain(others)
}

/// What the catalogue has of a kind.
#[must_use]
pub(super) fn identities(kind: ForeignKind, catalogue: &Catalogue) -> Vec<&Identity> {
    match kind {
        ForeignKind::Fermentable => catalogue
            .fermentables()
            .iter()
            .map(|it| &it.identity)
            .collect(),
        ForeignKind::Hop => catalogue.hops().iter().map(|it| &it.identity).collect(),
        ForeignKind::Yeast => catalogue.yeasts().iter().map(|it| &it.identity).collect(),
        ForeignKind::Other => catalogue.others().iter().map(|it| &it.identity).collect(),
    }
}

fn called<'a>(known: &[&'a Identity], name: &str) -> Option<&'a Identity> {
    known.iter().find(|it| it.answers_to(name)).copied()
}

/// The ingredients of a kind, made ready for many names.
struct Choices<'a> {
    known: Vec<&'a Identity>,
    near: NearNames,
}

impl<'a> Choices<'a> {
    fn new(kind: ForeignKind, catalogue: &'a Catalogue) -> Self {
        let known = identities(kind, catalogue);
        let names = known.iter().map(|it| {
            let synonyms = it.synonyms.iter().map(String::as_str);
            std::iter::once(it.name.as_str()).chain(synonyms).collect()
        });
        let near = NearNames::new(&names.collect::<Vec<_>>());
        Self { known, near }
    }

    fn guessed(&self, name: &str) -> TakenFor {
        if let Some(it) = called(&self.known, name) {
            return TakenFor::Known(it.name.clone());
        }
        match self.by_nearness(name).first() {
            Some((near, it)) if *near >= NEAR => TakenFor::Guess(it.name.clone()),
            _ => TakenFor::NoneNear,
        }
    }

    /// The ingredients, the nearest to a name first.
    fn by_nearness(&self, name: &str) -> Vec<(f64, &'a Identity)> {
        let near = self.near.nearness(name).into_iter();
        let mut rated: Vec<(f64, &Identity)> = near.zip(self.known.iter().copied()).collect();
        rated.sort_by(|a, b| b.0.total_cmp(&a.0));
        rated
    }
}

/// What the catalogue calls its ingredients of a kind, the nearest to a name first.
#[must_use]
pub fn names_by_nearness(kind: ForeignKind, name: &str, catalogue: &Catalogue) -> Vec<String> {
    let rated = Choices::new(kind, catalogue).by_nearness(name);
    rated.into_iter().map(|it| it.1.name.clone()).collect()
}

/// The recipe file. What the other standard does not say is left out; what looked odd stands in comments.
#[must_use]
pub fn foreign_document(
    recipe: &ForeignRecipe,
    mapped: &[Mapped],
    catalogue: &Catalogue,
) -> String {
    let mut page = Written {
        text: String::new(),
        mapped,
        catalogue,
    };
    page.head(recipe);
    recipe
        .fermentables
        .iter()
        .for_each(|it| page.fermentable(it));
    recipe.hops.iter().for_each(|it| page.hop(it));
    page.rest(recipe);
    page.declared(recipe);
    with_beyond(page.text, &recipe.beyond)
}

struct Written<'a> {
    text: String,
    mapped: &'a [Mapped],
    catalogue: &'a Catalogue,
}

impl Written<'_> {
    fn line(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    fn value(&mut self, key: &str, value: &str) {
        self.line(&format!("{key} = {}", quoted(value)));
    }

    fn number(&mut self, key: &str, value: Option<f64>, unit: &str) {
        if let Some(value) = value {
            self.value(key, &format!("{} {unit}", plain(value)));
        }
    }

    /// What a name is called in our file.
    fn name(&self, kind: ForeignKind, name: &str) -> String {
        let mut all = self.mapped.iter();
        let found = all.find(|it| it.kind == kind && it.name == name);
        match found.map(|it| &it.taken) {
            Some(TakenFor::Known(known) | TakenFor::Guess(known)) => known.clone(),
            _ => name.to_owned(),
        }
    }

    fn head(&mut self, recipe: &ForeignRecipe) {
        for remark in &recipe.remarks {
            // A tag may be called by anything, a line break among it: a comment stays one line.
            let seen = |sign: char| if hides(sign) { ' ' } else { sign };
            let remark: String = remark.chars().map(seen).collect();
            self.line(&format!("# {remark}"));
        }
        self.value("name", &recipe.name);
        self.value("version", "1");
        self.number("volume", recipe.litres, "L");
        self.number("efficiency", recipe.efficiency, "%");
        if let Some((celsius, minutes)) = recipe.mash {
            self.line("\n[mash]");
            self.number("temperature", Some(celsius), "°C");
            self.number("time", minutes, "min");
        }
        if recipe.boil.is_some() {
            self.line("\n[boil]");
            self.number("time", recipe.boil, "min");
        }
    }

    fn fermentable(&mut self, it: &ForeignFermentable) {
        let name = self.name(ForeignKind::Fermentable, &it.name);
        let all = self.catalogue.fermentables();
        let known = all.iter().find(|known| known.identity.answers_to(&name));
        let is_sugar = known.map_or(matches!(it.family, "sugar" | "honey"), |it| {
            matches!(
                it.family,
                FermentableFamily::Sugar | FermentableFamily::Honey
            )
        });
        self.line(if is_sugar {
            "\n[[sugar]]"
        } else {
            "\n[[fermentable]]"
        });
        self.value("name", &name);
        self.number("amount", Some(it.grams), "g");
        if let Some(colour) = &it.colour {
            self.value("colour", colour);
        }
        self.number("extract", it.extract, "%");
    }

    fn hop(&mut self, it: &ForeignHop) {
        let name = self.name(ForeignKind::Hop, &it.name);
        self.line("\n[[hop]]");
        self.value("name", &name);
        self.number("amount", Some(it.grams), "g");
        self.number("alpha", it.alpha, "%");
        match it.when {
            ForeignHopTime::Boil(minutes) => self.number("boil", Some(minutes), "min"),
            ForeignHopTime::Whirlpool {
                celsius,
                cools_to,
                minutes,
            } => {
                let to = cools_to.map(|it| format!(" to {} °C", plain(it)));
                let to = to.unwrap_or_default();
                let text = format!("{} °C{to} for {} min", plain(celsius), plain(minutes));
                self.value("whirlpool", &text);
            }
            ForeignHopTime::Dry(days) => self.number("dry", Some(days), "days"),
        }
    }

    fn rest(&mut self, recipe: &ForeignRecipe) {
        if let Some(yeast) = recipe.yeasts.first() {
            let name = self.name(ForeignKind::Yeast, &yeast.name);
            self.line("\n[yeast]");
            self.value("name", &name);
            self.number("attenuation", yeast.attenuation, "%");
            self.number("temperature", recipe.fermentation, "°C");
        }
        for it in &recipe.others {
            let name = self.name(ForeignKind::Other, &it.name);
            self.line("\n[[other]]");
            self.value("name", &name);
            self.number("amount", Some(it.grams), "g");
            if let Some(when) = &it.when {
                self.value("when", when);
            }
        }
        if !recipe.water.is_empty() {
            self.line("\n[water]");
            for (ion, amount) in &recipe.water {
                self.line(&format!("{ion} = {}", plain(*amount)));
            }
        }
        if recipe.carbonation.is_some() {
            self.line("\n[carbonation]");
            self.number("target", recipe.carbonation, "vol");
        }
    }

    /// What the catalogue does not know.
    fn declared(&mut self, recipe: &ForeignRecipe) {
        let own: Vec<Mapped> = self
            .mapped
            .iter()
            .filter(|it| matches!(it.taken, TakenFor::Own | TakenFor::NoneNear))
            .filter(|it| !recipe.declares(it.kind, &it.name))
            .cloned()
            .collect();
        for it in own {
            let (table, said) = match it.kind {
                ForeignKind::Fermentable => {
                    let mut all = recipe.fermentables.iter();
                    let found = all.find(|malt| malt.name == it.name);
                    ("fermentable", found.map(|it| ("family", it.family)))
                }
                ForeignKind::Other => {
                    let mut all = recipe.others.iter();
                    let found = all.find(|other| other.name == it.name);
                    ("other", found.map(|it| ("kind", it.kind)))
                }
                ForeignKind::Hop => ("hop", None),
                ForeignKind::Yeast => ("yeast", None),
            };
            self.line(&format!("\n[[declare.{table}]]"));
            self.value("name", &it.name);
            if let Some((key, value)) = said {
                self.value(key, value);
            }
        }
    }
}

/// A number as a person would write it, and as it is read back.
fn plain(number: f64) -> String {
    let short = format!("{number:.9}");
    let short = short.trim_end_matches('0').trim_end_matches('.');
    let is_same = short
        .parse::<f64>()
        .is_ok_and(|it| (it - number).abs() <= f64::EPSILON * number.abs());
    if is_same {
        short.to_owned()
    } else {
        number.to_string()
    }
}
