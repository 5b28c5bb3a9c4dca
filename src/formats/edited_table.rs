//! One table of a recipe under change: where it stands in the document, and which of its keys get other texts.

use crate::domain::Celsius;
use crate::domain::Days;
use crate::domain::Ebc;
use crate::domain::FermentableFamily;
use crate::domain::FermentableUse;
use crate::domain::Grams;
use crate::domain::HopTime;
use crate::domain::HopUse;
use crate::domain::Minutes;
use crate::domain::OtherUse;
use crate::domain::Percent;
use crate::domain::YeastUse;
use crate::formats::document_page::Form;
use crate::formats::document_page::Line;
use crate::formats::document_page::Page;
use crate::formats::document_page::Spot;
use crate::formats::edit_problem::EditProblem;
use crate::formats::exact_text::exact;
use crate::formats::exact_text::hop_time;
use crate::formats::exact_text::mass;
use crate::formats::hop_text::read_dry;
use crate::formats::hop_text::read_whirlpool;
use crate::formats::ingredient_names::Names;
use crate::formats::problem::ProblemKind;
use crate::formats::quantity_text::COLOUR;
use crate::formats::quantity_text::DAYS;
use crate::formats::quantity_text::MASS;
use crate::formats::quantity_text::Measured;
use crate::formats::quantity_text::PERCENT;
use crate::formats::quantity_text::TEMPERATURE;
use crate::formats::quantity_text::TIME;

/// The keys that say when a hop goes in.
const HOP_TIMES: [&str; 3] = ["boil", "whirlpool", "dry"];

/// The list in which a fermentable stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Heading {
    /// Among the malts.
    Fermentable,
    /// Among sugar and honey, which are read after all malts.
    Sugar,
}

impl Heading {
    /// The name of the list.
    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Fermentable => "fermentable",
            Self::Sugar => "sugar",
        }
    }

    const fn of(family: FermentableFamily) -> Self {
        match family {
            FermentableFamily::Sugar | FermentableFamily::Honey => Self::Sugar,
            _ => Self::Fermentable,
        }
    }
}

/// A quantity by its key, how it is read, its number and its base unit.
pub(crate) type Stated = (&'static str, &'static Measured, Option<f64>, &'static str);

/// One table under change.
#[derive(Clone)]
pub(crate) struct EditedTable<'d> {
    /// Where it stands; none for a new one.
    pub(crate) spot: Option<Spot<'d>>,
    /// The list it is to stand in, if it is a fermentable.
    pub(crate) heading: Heading,
    /// Whether it is left out.
    pub(crate) is_gone: bool,
    amount: Option<Grams>,
    lines: Vec<Line>,
    when: Option<(&'static str, String)>,
}

impl<'d> EditedTable<'d> {
    /// A table that stands in the document, or a new one.
    pub(crate) fn new(spot: Option<Spot<'d>>, heading: Heading) -> Self {
        let text = spot.as_ref().and_then(|it| it.text("amount"));
        let amount = text.and_then(|it| MASS.read(it).ok());
        let amount = amount.and_then(|it| Grams::new(it).ok());
        Self {
            spot,
            heading,
            is_gone: false,
            amount,
            lines: Vec::new(),
            when: None,
        }
    }

    /// Another amount.
    pub(crate) fn set_amount(&mut self, to: Grams) -> Result<(), EditProblem> {
        let old = self.old_text("amount").map(str::to_owned);
        self.amount = Some(to);
        let is_same = old.as_deref().map(|it| MASS.read(it)) == Some(Ok(to.get()));
        if is_same {
            self.leave("amount");
        } else {
            self.put("amount", Some(mass(old.as_deref(), to)?));
        }
        Ok(())
    }

    /// The amount times a factor, where that is an amount.
    pub(crate) fn scale(&mut self, times: f64) -> Result<(), EditProblem> {
        let scaled = self.amount.map(|it| Grams::new(it.get() * times));
        match scaled {
            Some(Ok(scaled)) => self.set_amount(scaled),
            Some(Err(_)) | None => Ok(()),
        }
    }

    /// Another fermentable.
    pub(crate) fn set_fermentable(
        &mut self,
        by: &FermentableUse,
        names: &Names,
    ) -> Result<(), EditProblem> {
        let identity = &by.fermentable.identity;
        self.set_name(|old| names.fermentable(identity, old))?;
        // A sugar may stand among the malts, but no malt among the sugars.
        if self.spot.is_none() || self.heading == Heading::Sugar {
            self.heading = Heading::of(by.fermentable.family);
        }
        self.set_amount(by.amount)?;
        self.set_stated(("colour", &COLOUR, by.colour.map(Ebc::get), "EBC"))?;
        let extract = by.extract.map(Percent::get);
        self.set_stated(("extract", &PERCENT, extract, "%"))
    }

    /// Another hop.
    pub(crate) fn set_hop(&mut self, by: &HopUse, names: &Names) -> Result<(), EditProblem> {
        self.set_name(|old| names.hop(&by.hop.identity, old))?;
        self.set_amount(by.amount)?;
        self.set_stated(("alpha", &PERCENT, by.alpha.map(Percent::get), "%"))?;
        self.set_time(by.when)?;
        self.set_stated(("age", &DAYS, by.age.map(Days::get), "days"))?;
        self.put("stored", by.storage.map(|it| it.id().to_owned()));
        Ok(())
    }

    /// Another yeast.
    pub(crate) fn set_yeast(&mut self, by: &YeastUse, names: &Names) -> Result<(), EditProblem> {
        self.set_name(|old| names.yeast(&by.yeast.identity, old))?;
        let attenuation = by.attenuation.map(Percent::get);
        self.set_stated(("attenuation", &PERCENT, attenuation, "%"))?;
        let temperature = by.temperature.map(Celsius::get);
        self.set_stated(("temperature", &TEMPERATURE, temperature, "°C"))
    }

    /// Another addition.
    pub(crate) fn set_other(&mut self, by: &OtherUse, names: &Names) -> Result<(), EditProblem> {
        self.set_name(|old| names.other(&by.other.identity, old))?;
        self.set_amount(by.amount)?;
        self.put("when", by.when.as_ref().map(ToString::to_string));
        Ok(())
    }

    /// Another time of a hop, under another key where it is of another kind.
    pub(crate) fn set_time(&mut self, when: HopTime) -> Result<(), EditProblem> {
        let old = HOP_TIMES.iter().find_map(|key| {
            let text = self.old_text(key)?;
            time_of(key, text).ok()
        });
        self.when = if old == Some(when) {
            None
        } else {
            Some(hop_time(when)?)
        };
        Ok(())
    }

    /// Another quantity under a key, or none.
    pub(crate) fn set_stated(
        &mut self,
        (key, measured, number, unit): Stated,
    ) -> Result<(), EditProblem> {
        let Some(number) = number else {
            self.put(key, None);
            return Ok(());
        };
        let spot = self.spot.as_ref();
        let text = spot.and_then(|it| it.text(key));
        let old = text.map_or_else(
            || spot.and_then(|it| it.number(key)),
            |it| measured.read(it).ok(),
        );
        if old == Some(number) {
            self.leave(key);
        } else {
            self.put(key, Some(exact(measured, number, unit)?));
        }
        Ok(())
    }

    /// Writes the changed keys onto the page; nothing for a new table.
    pub(crate) fn write(&self, page: &mut Page<'_>) {
        let Some(spot) = &self.spot else {
            return;
        };
        let mut lines = self.lines.clone();
        if let Some((key, text)) = &self.when {
            let present = HOP_TIMES.into_iter().find(|it| spot.text(it).is_some());
            match (present, &spot.form) {
                (Some(old), Form::Headed(_)) => page.set_key(spot, old, (key, text)),
                _ => lines.extend(HOP_TIMES.map(|it| Line {
                    key: it,
                    text: (it == *key).then(|| text.clone()),
                })),
            }
        }
        page.change(spot, &lines);
    }

    /// The lines of a new table; a hop goes in before its age is told, as brewers write it.
    pub(crate) fn new_lines(&self) -> Vec<String> {
        let of_age = |it: &&Line| matches!(it.key, "age" | "stored");
        let when = self.when.iter().map(|(key, text)| Line {
            key,
            text: Some(text.clone()),
        });
        let first = self.lines.iter().filter(|it| !of_age(it)).cloned();
        let last = self.lines.iter().filter(of_age).cloned();
        let lines = first.chain(when).chain(last);
        lines.filter_map(|it| it.written()).collect()
    }

    fn set_name(
        &mut self,
        name: impl Fn(Option<&str>) -> Result<Option<String>, EditProblem>,
    ) -> Result<(), EditProblem> {
        match name(self.old_text("name"))? {
            Some(name) => self.put("name", Some(name)),
            None => self.leave("name"),
        }
        Ok(())
    }

    fn old_text(&self, key: &str) -> Option<&str> {
        self.spot.as_ref()?.text(key)
    }

    /// What stands in the document stays.
    fn leave(&mut self, key: &str) {
        self.lines.retain(|it| it.key != key);
    }

    fn put(&mut self, key: &'static str, text: Option<String>) {
        match self.lines.iter_mut().find(|it| it.key == key) {
            Some(line) => line.text = text,
            None => self.lines.push(Line { key, text }),
        }
    }
}

fn time_of(key: &str, text: &str) -> Result<HopTime, ProblemKind> {
    match key {
        "whirlpool" => read_whirlpool(text),
        "dry" => read_dry(text),
        _ => Ok(HopTime::Boil(Minutes::new(TIME.read(text)?)?)),
    }
}
