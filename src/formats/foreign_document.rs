//! A recipe file of ours written from a recipe of another standard, with what each name was taken for.

use std::sync::Arc;

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
use crate::formats::foreign_recipe::Zeros;
use crate::formats::kitchen_amounts::Digits;
use crate::formats::kitchen_amounts::KitchenAmounts;

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
    let all: Vec<&Arc<Identity>> = match kind {
        ForeignKind::Fermentable => {
            let all = catalogue.fermentables().iter();
            all.map(|it| &it.identity).collect()
        }
        ForeignKind::Hop => catalogue.hops().iter().map(|it| &it.identity).collect(),
        ForeignKind::Yeast => catalogue.yeasts().iter().map(|it| &it.identity).collect(),
        ForeignKind::Other => catalogue.others().iter().map(|it| &it.identity).collect(),
    };
    all.into_iter().map(Arc::as_ref).collect()
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
        amounts: KitchenAmounts::new(digits_of(recipe)),
    };
    page.head(recipe);
    recipe
        .fermentables
        .iter()
        .for_each(|it| page.fermentable(it));
    recipe.hops.iter().for_each(|it| page.hop(it));
    page.rest(recipe);
    page.declared(recipe);
    let text = match page.amounts.remark() {
        Some(remark) => format!("# {}\n{}", on_one_line(&remark), page.text),
        None => page.text,
    };
    with_beyond(text, &recipe.beyond)
}

/// A recipe of ours comes back as it was; one of another program was converted from other units.
const fn digits_of(recipe: &ForeignRecipe) -> Digits {
    match recipe.zeros {
        Zeros::Stated => Digits::AsStored,
        Zeros::Unknown => Digits::Kitchen,
    }
}

struct Written<'a> {
    text: String,
    mapped: &'a [Mapped],
    catalogue: &'a Catalogue,
    amounts: KitchenAmounts,
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
        self.number_of(key, key, value, unit);
    }

    /// A line with a number that belongs to something of a name.
    fn number_of(&mut self, of: &str, key: &str, value: Option<f64>, unit: &str) {
        if let Some(value) = value {
            let digits = self.amounts.told(of, value, unit);
            self.value(key, &format!("{digits} {unit}"));
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
            self.line(&format!("# {}", on_one_line(remark)));
        }
        self.value("name", &recipe.name);
        self.value("version", "1");
        self.number("volume", recipe.litres, "L");
        self.number("efficiency", recipe.efficiency, "%");
        if let Some((celsius, minutes)) = recipe.mash {
            self.line("\n[mash]");
            self.number_of("mash", "temperature", Some(celsius), "°C");
            self.number_of("mash", "time", minutes, "min");
        }
        if recipe.boil.is_some() {
            self.line("\n[boil]");
            self.number_of("boil", "time", recipe.boil, "min");
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
        self.number_of(&name, "amount", Some(it.grams), "g");
        if let Some(colour) = &it.colour {
            self.value("colour", colour);
        }
        self.number_of(&format!("{name}, extract"), "extract", it.extract, "%");
    }

    fn hop(&mut self, it: &ForeignHop) {
        let name = self.name(ForeignKind::Hop, &it.name);
        self.line("\n[[hop]]");
        self.value("name", &name);
        self.number_of(&name, "amount", Some(it.grams), "g");
        self.number_of(&format!("{name}, alpha"), "alpha", it.alpha, "%");
        match it.when {
            ForeignHopTime::Boil(minutes) => {
                self.number_of(&format!("{name}, boil"), "boil", Some(minutes), "min");
            }
            ForeignHopTime::Whirlpool {
                celsius,
                cools_to,
                minutes,
            } => {
                let of = format!("{name}, whirlpool");
                let to = cools_to.map(|it| format!(" to {} °C", self.amounts.told(&of, it, "°C")));
                let to = to.unwrap_or_default();
                let from = self.amounts.told(&of, celsius, "°C");
                let minutes = self.amounts.told(&of, minutes, "min");
                self.value("whirlpool", &format!("{from} °C{to} for {minutes} min"));
            }
            ForeignHopTime::Dry(days) => {
                self.number_of(&format!("{name}, dry"), "dry", Some(days), "days");
            }
        }
    }

    fn rest(&mut self, recipe: &ForeignRecipe) {
        if let Some(yeast) = recipe.yeasts.first() {
            let name = self.name(ForeignKind::Yeast, &yeast.name);
            self.line("\n[yeast]");
            self.value("name", &name);
            self.number("attenuation", yeast.attenuation, "%");
            self.number_of("fermentation", "temperature", recipe.fermentation, "°C");
        }
        for it in &recipe.others {
            let name = self.name(ForeignKind::Other, &it.name);
            self.line("\n[[other]]");
            self.value("name", &name);
            self.number_of(&name, "amount", Some(it.grams), "g");
            if let Some(when) = &it.when {
                self.value("when", when);
            }
        }
        if !recipe.water.is_empty() {
            self.line("\n[water]");
            for (ion, amount) in &recipe.water {
                let amount = self.amounts.told(ion, *amount, "");
                self.line(&format!("{ion} = {amount}"));
            }
        }
        if recipe.carbonation.is_some() {
            self.line("\n[carbonation]");
            self.number_of("carbonation", "target", recipe.carbonation, "vol");
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

/// A text as one line of a comment: a tag may be called by anything, a line break among it.
fn on_one_line(text: &str) -> String {
    let seen = |sign: char| if hides(sign) { ' ' } else { sign };
    text.chars().map(seen).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 9 lb and 1 oz (0.453 592 37 kg and 28.349 523 125 g, yard and pound agreement of 1959), 5 gallons of the
    /// United States (3.785 411 784 L each), and 153 °F.
    fn of_ounces(zeros: Zeros) -> ForeignRecipe {
        let hop = ForeignHop {
            name: "Cascade".to_owned(),
            grams: 28.349_523_125,
            alpha: Some(5.5),
            when: ForeignHopTime::Boil(60.0),
        };
        ForeignRecipe {
            name: "Evening pale".to_owned(),
            litres: Some(18.927_058_92),
            mash: Some((67.222, Some(60.0))),
            fermentables: vec![ForeignFermentable {
                name: "Pale malt".to_owned(),
                family: "base",
                grams: 4_082.331_33,
                extract: None,
                colour: None,
            }],
            hops: vec![hop],
            zeros,
            ..ForeignRecipe::default()
        }
    }

    #[test]
    fn amounts_have_the_digits_of_a_kitchen_and_a_comment_keeps_the_others() {
        let catalogue = Catalogue::default();
        let text = foreign_document(&of_ounces(Zeros::Unknown), &[], &catalogue);
        for line in [
            "volume = \"18.93 L\"",
            "temperature = \"67.2 °C\"",
            "amount = \"4082 g\"",
            "amount = \"28.3 g\"",
            "alpha = \"5.5 %\"",
            "boil = \"60 min\"",
        ] {
            assert!(text.lines().any(|it| it == line), "{line}\n{text}");
        }
        let first = text.lines().next().unwrap();
        for exact in [
            "volume 18.92705892 L",
            "mash 67.222 °C",
            "Pale malt 4082.33133 g",
            "Cascade 28.349523125 g",
        ] {
            assert!(first.starts_with('#') && first.contains(exact), "{text}");
        }
        assert!(!first.contains("boil"), "{first}");
    }

    #[test]
    fn a_recipe_of_ours_comes_back_with_every_digit() {
        let text = foreign_document(&of_ounces(Zeros::Stated), &[], &Catalogue::default());
        assert!(text.contains("amount = \"28.349523125 g\""), "{text}");
        assert!(!text.contains("# Amounts"), "{text}");
    }

    /// By hand, with what one digit less would leave out: 0.4 of 0.456 is 12 % off and 0.46 is 0.9 %; 1 of 1.04 is
    /// 4 %; 1.4 of 1.371 2 is 2 % and 1.37 is 0.1 %; 0.006 of 0.006 352 is 6 % and 0.006 4 is 0.8 %; 50 of 49.96 is
    /// 0.1 %, and so is 7.8 of 7.79.
    #[test]
    fn an_amount_is_shortened_by_less_than_a_hundredth_of_itself_and_never_to_nothing() {
        for (grams, told) in [
            (0.004, "0.004"),
            (0.006, "0.006"),
            (0.006_352, "0.0064"),
            (0.456, "0.46"),
            (1.04, "1.04"),
            (1.371_2, "1.37"),
            (7.79, "7.8"),
            (49.96, "50"),
        ] {
            let mut recipe = of_ounces(Zeros::Unknown);
            recipe.hops[0].grams = grams;
            let text = foreign_document(&recipe, &[], &Catalogue::default());
            let line = format!("amount = \"{told} g\"");
            assert!(text.contains(&line), "{line}\n{text}");
        }
    }
}
