//! The ingredients of a recipe: each found in the catalogue by one of its names, with its amount.

use crate::domain::Catalogue;
use crate::domain::Celsius;
use crate::domain::Days;
use crate::domain::Ebc;
use crate::domain::Fermentable;
use crate::domain::FermentableFamily;
use crate::domain::FermentableUse;
use crate::domain::Grams;
use crate::domain::HopStorage;
use crate::domain::HopTime;
use crate::domain::HopUse;
use crate::domain::Identity;
use crate::domain::Minutes;
use crate::domain::OtherUse;
use crate::domain::Percent;
use crate::domain::YeastUse;
use crate::domain::nearest_names;
use crate::formats::declared::Declared;
use crate::formats::entry::Entry;
use crate::formats::hop_text::read_dry;
use crate::formats::hop_text::read_whirlpool;
use crate::formats::problem::ProblemKind;
use crate::formats::problem::did_you_mean;
use crate::formats::problem::shown;
use crate::formats::quantity_text::COLOUR;
use crate::formats::quantity_text::DAYS;
use crate::formats::quantity_text::MASS;
use crate::formats::quantity_text::PERCENT;
use crate::formats::quantity_text::TEMPERATURE;
use crate::formats::quantity_text::TIME;
use crate::formats::section::Section;

/// The alpha acid of the strongest hop extract, % (common practice, from memory).
const MOST_ALPHA: f64 = 60.0;

/// Everything that a recipe may name: what it declares itself, then the catalogue.
pub(crate) struct Ingredients<'a> {
    pub(crate) declared: Declared,
    pub(crate) catalogue: &'a Catalogue,
}

impl Ingredients<'_> {
    /// A fermentable with its amount.
    pub(crate) fn fermentable(&self, section: Section<'_>) -> Option<FermentableUse> {
        let all = self.declared.fermentables.iter();
        let all = all.chain(self.catalogue.fermentables());
        let fermentable = find(&section, "fermentable", all, |it| &it.identity);
        fermentable_use(section, fermentable)
    }

    /// A sugar or a honey with its amount.
    pub(crate) fn sugar(&self, section: Section<'_>) -> Option<FermentableUse> {
        let all = self.declared.fermentables.iter();
        let all = all.chain(self.catalogue.fermentables());
        let found = find(&section, "sugar", all, |it| &it.identity);
        let sweet = |it: &&Fermentable| {
            matches!(
                it.family,
                FermentableFamily::Sugar | FermentableFamily::Honey
            )
        };
        if let (Some(other), Some(entry)) = (found.filter(|it| !sweet(it)), section.entry("name")) {
            entry.mark(ProblemKind::Together {
                found: format!("{} is {}", other.identity.name, other.family.word()),
                advice: "only sugar and honey stand under [[sugar]], write it under [[fermentable]]",
            });
        }
        fermentable_use(section, found.filter(sweet))
    }

    /// A hop charge.
    pub(crate) fn hop(&self, section: Section<'_>, boil: Option<Minutes>) -> Option<HopUse> {
        let all = self.declared.hops.iter().chain(self.catalogue.hops());
        let hop = find(&section, "hop", all, |it| &it.identity);
        let amount = amount(&section);
        let alpha = section.entry("alpha").map(alpha_acid);
        let when = hop_time(&section, boil);
        let age = section.entry("age").map(|it| it.quantity(&DAYS, Days::new));
        let storage = section.entry("stored");
        let storage = storage.map(|it| it.read(HopStorage::from_id));
        section.close();
        Some(HopUse {
            hop: hop?.clone(),
            amount: amount?,
            alpha: alpha.flatten(),
            when: when?,
            age: age.flatten(),
            storage: storage.flatten(),
        })
    }

    /// The yeast.
    pub(crate) fn yeast(&self, section: Section<'_>) -> Option<YeastUse> {
        let all = self.declared.yeasts.iter().chain(self.catalogue.yeasts());
        let yeast = find(&section, "yeast", all, |it| &it.identity);
        let attenuation = section.entry("attenuation");
        let attenuation = attenuation.map(|it| it.quantity(&PERCENT, Percent::new));
        let temperature = section.entry("temperature");
        let temperature = temperature.map(|it| fermenting(it));
        section.close();
        Some(YeastUse {
            yeast: yeast?.clone(),
            attenuation: attenuation.flatten(),
            temperature: temperature.flatten(),
        })
    }

    /// Another addition.
    pub(crate) fn other(&self, section: Section<'_>) -> Option<OtherUse> {
        let all = self.declared.others.iter().chain(self.catalogue.others());
        let other = find(&section, "addition", all, |it| &it.identity);
        let amount = amount(&section);
        let when = section.entry("when").map(|it| it.name());
        section.close();
        Some(OtherUse {
            other: other?.clone(),
            amount: amount?,
            when: when.flatten(),
        })
    }
}

fn fermentable_use(
    section: Section<'_>,
    fermentable: Option<&Fermentable>,
) -> Option<FermentableUse> {
    let amount = amount(&section);
    let colour = section.entry("colour");
    let colour = colour.map(|it| it.quantity(&COLOUR, Ebc::new));
    let extract = section.entry("extract");
    let extract = extract.map(|it| it.quantity(&PERCENT, Percent::new));
    section.close();
    Some(FermentableUse {
        fermentable: fermentable?.clone(),
        amount: amount?,
        colour: colour.flatten(),
        extract: extract.flatten(),
    })
}

fn amount(section: &Section<'_>) -> Option<Grams> {
    let entry = section.required("amount", "amount = \"12 g\"")?;
    entry.quantity(&MASS, Grams::new)
}

/// The alpha acid of a hop or of its extract: more than either holds is told (common practice).
fn alpha_acid(entry: Entry<'_>) -> Option<Percent> {
    let alpha = entry.quantity(&PERCENT, Percent::new)?;
    entry.settle(if alpha.get() <= MOST_ALPHA {
        Ok(alpha)
    } else {
        Err(ProblemKind::Together {
            found: format!("a hop with {:.0} % of alpha acid", alpha.get()),
            advice: "hops hold up to 25 %, their extracts up to 60, check the packet",
        })
    })
}

/// A temperature at which yeast can live: judgement, wider than any yeast likes.
fn fermenting(entry: Entry<'_>) -> Option<Celsius> {
    let temperature = entry.quantity(&TEMPERATURE, Celsius::new)?;
    entry.settle(if (0.0..=45.0).contains(&temperature.get()) {
        Ok(temperature)
    } else {
        Err(ProblemKind::Together {
            found: format!("yeast at {:.1} °C", temperature.get()),
            advice: "fermentation lies between 0 and 45 °C, check number and unit",
        })
    })
}

fn hop_time(section: &Section<'_>, boil: Option<Minutes>) -> Option<HopTime> {
    let in_boil = section.entry("boil");
    let whirlpool = section.entry("whirlpool");
    let dry = section.entry("dry");
    match (in_boil, whirlpool, dry) {
        (Some(entry), None, None) => {
            let minutes = entry.quantity(&TIME, Minutes::new)?;
            if let Some(whole) = boil.filter(|whole| minutes > *whole) {
                entry.mark(ProblemKind::Together {
                    found: format!(
                        "hops for {} min in a boil of {} min",
                        minutes.get(),
                        whole.get()
                    ),
                    advice: "no hop boils longer than the wort, correct one of the two",
                });
            }
            Some(HopTime::Boil(minutes))
        }
        (None, Some(entry), None) => entry.settle(read_whirlpool(entry.text()?)),
        (None, None, Some(entry)) => entry.settle(read_dry(entry.text()?)),
        (first, second, third) => {
            let stated = [first, second, third].iter().flatten().count();
            let found = match stated {
                0 => "it is not said when the hop goes in".to_owned(),
                _ => format!("one hop charge states {stated} times"),
            };
            section.mark(ProblemKind::ExactlyOne {
                found,
                choices: "boil, whirlpool, dry",
            });
            None
        }
    }
}

/// The ingredient that answers to the name in a section; marked, with the nearest names, if none does.
fn find<'c, T: 'c>(
    section: &Section<'_>,
    kind: &'static str,
    all: impl Iterator<Item = &'c T> + Clone,
    identity: impl Fn(&'c T) -> &'c Identity,
) -> Option<&'c T> {
    let entry = section.required("name", "name = \"Saaz\"")?;
    let name = entry.name()?;
    let found = all
        .clone()
        .find(|it| identity(it).answers_to(name.as_str()));
    if found.is_none() && !section.proof.is_full() {
        let names = all.flat_map(|it| {
            let identity = identity(it);
            std::iter::once(&identity.name)
                .chain(&identity.synonyms)
                .map(String::as_str)
        });
        let near = nearest_names(name.as_str(), names, 3);
        let table = match kind {
            "addition" => "other",
            "sugar" => "fermentable",
            same => same,
        };
        let declare = format!("declare it under [[declare.{table}]]");
        let advice = if near.is_empty() {
            format!("{declare}, or use another name")
        } else {
            format!("{} If it is new, {declare}", did_you_mean(&near, ""))
        };
        entry.mark(ProblemKind::UnknownIngredient {
            kind,
            found: shown(name.as_str()),
            advice,
        });
    }
    found
}
