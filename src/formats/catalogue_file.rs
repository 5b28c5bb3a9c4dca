//! The ingredient files: every fermentable, hop, yeast and other addition that is known.

use std::collections::HashMap;
use std::collections::HashSet;
use std::sync::Arc;

use crate::domain::Allergen;
use crate::domain::Catalogue;
use crate::domain::Condition;
use crate::domain::ConditionKind;
use crate::domain::Diastatic;
use crate::domain::DoubleIngredient;
use crate::domain::Fermentable;
use crate::domain::FermentableFamily;
use crate::domain::Ferments;
use crate::domain::Goes;
use crate::domain::Grain;
use crate::domain::Holds;
use crate::domain::Hop;
use crate::domain::HopOil;
use crate::domain::Identity;
use crate::domain::IngredientId;
use crate::domain::Other;
use crate::domain::OtherKind;
use crate::domain::Wheel;
use crate::domain::Yeast;
use crate::formats::entry::Entry;
use crate::formats::gift_table::GiftKind;
use crate::formats::gift_table::gifts;
use crate::formats::ion_table::ions;
use crate::formats::problem::Problem;
use crate::formats::problem::ProblemKind;
use crate::formats::problem::shown;
use crate::formats::proof::Proof;
use crate::formats::section::Section;

/// The longest sentence on the character or the source of an ingredient, in characters.
const MOST_SENTENCE: usize = 200;

/// The usual standard deviations of log10(flavour units), by kind of ingredient (judgement).
const MALT: GiftKind = GiftKind::Dosed { spread: 0.35 };
const HOP: GiftKind = GiftKind::Hop { spread: 0.45 };
const YEAST: GiftKind = GiftKind::Fermented { spread: 0.45 };
const OTHER: GiftKind = GiftKind::Dosed { spread: 0.4 };
const CONDITION: GiftKind = GiftKind::After { spread: 0.6 };

/// Reads the catalogue from its files, given as name and text; what an ingredient brings must stand
/// on the wheel. An ingredient of `own`, the user's files, replaces the one of `builtin` with its id.
///
/// # Errors
/// Every problem of every file, by file and place; an id used twice stands at its second place.
pub fn read_catalogue(
    builtin: &[(&str, &str)],
    own: &[(&str, &str)],
    wheel: &Wheel,
) -> Result<Catalogue, Vec<Problem>> {
    let mut found = Found::new(wheel);
    let mut problems = Vec::new();
    for (index, (file, text)) in builtin.iter().chain(own).enumerate() {
        if index == builtin.len() {
            found.replaceable = std::mem::take(&mut found.seen);
        }
        let proof = Proof::new(file, text);
        let table = proof.parse();
        let root = Section::new(&proof, &table, 0);
        found.read(&root);
        root.close();
        problems.extend(proof.problems());
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    found.catalogue().map_err(|doubles| {
        let file = builtin.first().map_or("", |it| it.0).to_owned();
        let at_first = |double: DoubleIngredient| Problem {
            file: file.clone(),
            line: 1,
            column: 1,
            kind: double.into(),
        };
        doubles.into_iter().map(at_first).collect()
    })
}

struct Found<'w> {
    wheel: &'w Wheel,
    /// The ids of this layer of files, each with its kind.
    seen: HashMap<IngredientId, &'static str>,
    /// Those of the layer below.
    replaceable: HashMap<IngredientId, &'static str>,
    /// Every name and synonym, small, behind its kind.
    named: HashSet<(&'static str, String)>,
    fermentables: Vec<Fermentable>,
    hops: Vec<Hop>,
    yeasts: Vec<Yeast>,
    others: Vec<Other>,
    conditions: Vec<Condition>,
}

impl<'w> Found<'w> {
    fn new(wheel: &'w Wheel) -> Self {
        Self {
            wheel,
            seen: HashMap::new(),
            replaceable: HashMap::new(),
            named: HashSet::new(),
            fermentables: Vec::new(),
            hops: Vec::new(),
            yeasts: Vec::new(),
            others: Vec::new(),
            conditions: Vec::new(),
        }
    }

    fn read(&mut self, root: &Section<'_>) {
        for section in root.sections("fermentable") {
            let read = self.fermentable(&section);
            self.fermentables.extend(read);
            section.close();
        }
        for section in root.sections("hop") {
            let read = self.hop(&section);
            self.hops.extend(read);
            section.close();
        }
        for section in root.sections("yeast") {
            let read = self.yeast(&section);
            self.yeasts.extend(read);
            section.close();
        }
        for section in root.sections("other") {
            let read = self.other(&section);
            self.others.extend(read);
            section.close();
        }
        for section in root.sections("condition") {
            if let Some(read) = self.condition(&section) {
                self.conditions.retain(|it| it.kind != read.kind);
                self.conditions.push(read);
            }
            section.close();
        }
    }

    fn catalogue(self) -> Result<Catalogue, Vec<DoubleIngredient>> {
        Catalogue::new(
            self.fermentables,
            self.hops,
            self.yeasts,
            self.others,
            self.conditions,
        )
    }

    /// Forgets the ingredient of the layer below that is replaced.
    fn replace(&mut self, kind: &'static str, id: &IngredientId) {
        if self.replaceable.get(id) != Some(&kind) {
            return;
        }
        self.replaceable.remove(id);
        let mut gone: Vec<Identity> = Vec::new();
        let mut keep = |it: &Identity| {
            let stays = it.id != *id;
            if !stays {
                gone.push(it.clone());
            }
            stays
        };
        self.fermentables.retain(|it| keep(&it.identity));
        self.hops.retain(|it| keep(&it.identity));
        self.yeasts.retain(|it| keep(&it.identity));
        self.others.retain(|it| keep(&it.identity));
        for name in gone
            .iter()
            .flat_map(|it| it.synonyms.iter().chain([&it.name]))
        {
            self.named.remove(&(kind, name.to_lowercase()));
        }
    }

    fn identity(
        &mut self,
        section: &Section<'_>,
        kind: &'static str,
        gift_kind: GiftKind,
    ) -> Option<Identity> {
        let id_entry = section.required("id", "id = \"pale-malt\"");
        let id = id_entry.and_then(|it| it.read(IngredientId::new));
        if let (Some(entry), Some(id)) = (id_entry, &id) {
            self.replace(kind, id);
            let twice = self.seen.insert(id.clone(), kind).is_some();
            if twice || self.replaceable.contains_key(id) {
                entry.mark(DoubleIngredient { id: id.clone() });
            }
        }
        let name = section.required("name", "name = \"Pale malt\"");
        let name = name.and_then(|it| self.answered(kind, it));
        let synonyms = section.entry("synonyms").map(|it| it.items());
        let synonyms = synonyms.unwrap_or_default().into_iter();
        let synonyms = synonyms.filter_map(|it| self.answered(kind, it)).collect();
        let source = section.required("source", "source = \"typical malt sheets, from memory\"");
        let source = source.and_then(|it| it.line(MOST_SENTENCE));
        let gifts = gifts(section, gift_kind, self.wheel);
        Some(Identity {
            id: id?,
            name: name?,
            synonyms,
            source: source?,
            gifts: gifts?,
        })
    }

    /// A name by which only one ingredient of its kind is called.
    fn answered(&mut self, kind: &'static str, entry: Entry<'_>) -> Option<String> {
        let name = entry.name()?.to_string();
        if !self.named.insert((kind, name.to_lowercase())) {
            entry.mark(ProblemKind::Twice {
                what: "the name",
                found: shown(&name),
            });
        }
        Some(name)
    }

    fn fermentable(&mut self, section: &Section<'_>) -> Option<Fermentable> {
        let identity = self.identity(section, "fermentable", MALT);
        let family = section.required("family", "family = \"base\"");
        let family = family.and_then(|it| it.read(FermentableFamily::from_id));
        let goes = section.required("goes", "goes = \"mash\"");
        let goes = goes.and_then(|it| it.read(Goes::from_id));
        let extract = section.required("extract", "extract = [0.76, 0.79, 0.81]");
        let extract = extract.and_then(|it| it.spread(0.0, 1.0));
        let colour = section.required("colour", "colour = [5, 6.5, 8]");
        let colour = colour.and_then(|it| it.spread(0.0, 2_000.0));
        let ferments = section.required("ferments", "ferments = \"as-wort\"");
        let ferments = ferments.and_then(|it| it.read(Ferments::from_id));
        let grain = section.entry("grain").map(|it| it.read(Grain::from_id));
        let allergens = allergens(section);
        Some(Fermentable {
            identity: Arc::new(identity?),
            family: family?,
            goes: goes?,
            extract: extract?,
            colour: colour?,
            ferments: ferments?,
            grain: grain.unwrap_or(Some(Grain::Barley))?,
            allergens: allergens?,
        })
    }

    fn hop(&mut self, section: &Section<'_>) -> Option<Hop> {
        let identity = self.identity(section, "hop", HOP);
        let alpha = section.required("alpha", "alpha = [2.5, 3.5, 4.5]");
        let alpha = alpha.and_then(|it| it.spread(0.0, 30.0));
        let oil = oil(section);
        if oil.is_none() {
            without_oil(section, identity.as_ref());
        }
        Some(Hop {
            identity: Arc::new(identity?),
            alpha: alpha?,
            oil,
        })
    }

    fn yeast(&mut self, section: &Section<'_>) -> Option<Yeast> {
        let identity = self.identity(section, "yeast", YEAST);
        let character = section.required("character", "character = \"Little of its own.\"");
        let character = character.and_then(|it| it.line(MOST_SENTENCE));
        let attenuation = section.required("attenuation", "attenuation = [73, 77, 81]");
        let attenuation = attenuation.and_then(|it| it.spread(0.0, 100.0));
        let temperature = section.required("temperature", "temperature = [17, 19, 22]");
        let temperature = temperature.and_then(|it| it.spread(0.0, 50.0));
        let ready_days = section.required("ready_days", "ready_days = [14, 21, 120]");
        let ready_days = ready_days.and_then(|it| it.spread(0.0, 3_650.0));
        let diastatic = section.required("diastatic", "diastatic = false");
        let diastatic = diastatic.and_then(|it| it.truth()).map(Diastatic::from);
        Some(Yeast {
            identity: Arc::new(identity?),
            character: character?,
            attenuation: attenuation?,
            temperature: temperature?,
            ready_days: ready_days?,
            diastatic: diastatic?,
        })
    }

    fn other(&mut self, section: &Section<'_>) -> Option<Other> {
        let identity = self.identity(section, "other", OTHER);
        let kind = section.required("kind", "kind = \"spice\"");
        let kind = kind.and_then(|it| it.read(OtherKind::from_id));
        let usual = section.required("usual", "usual = [0.5, 1, 3]");
        let usual = usual.and_then(|it| it.spread(0.0, 500.0));
        let allergens = allergens(section);
        let ions = ions(section, kind);
        Some(Other {
            identity: Arc::new(identity?),
            kind: kind?,
            usual: usual?,
            allergens: allergens?,
            ions,
        })
    }

    fn condition(&self, section: &Section<'_>) -> Option<Condition> {
        let kind = section.required("kind", "kind = \"age\"");
        let kind = kind.and_then(|it| it.read(ConditionKind::from_id));
        let gifts = gifts(section, CONDITION, self.wheel);
        Some(Condition {
            kind: kind?,
            gifts: gifts?,
        })
    }
}

/// The oil of a hop; all of its keys or none.
fn oil(section: &Section<'_>) -> Option<HopOil> {
    let keys = ["oil", "myrcene", "humulene", "linalool", "geraniol"];
    let entries = keys.map(|key| section.entry(key));
    if entries.iter().all(Option::is_none) {
        return None;
    }
    let [total, myrcene, humulene, linalool, geraniol] = keys.map(|key| {
        let example = "oil = [0.4, 0.6, 0.9] with myrcene, humulene, linalool and geraniol";
        let most = if key == "oil" { 10.0 } else { 100.0 };
        section.required(key, example)?.spread(0.0, most)
    });
    Some(HopOil {
        total: total?,
        myrcene: myrcene?,
        humulene: humulene?,
        linalool: linalool?,
        geraniol: geraniol?,
    })
}

/// A share of an oil that nobody analysed is marked.
fn without_oil(section: &Section<'_>, identity: Option<&Identity>) {
    let gifts = identity.and_then(|it| it.gifts.known()).unwrap_or_default();
    if gifts
        .iter()
        .any(|it| matches!(it.holds, Holds::OfOil { .. }))
    {
        section.mark(ProblemKind::Together {
            found: "a gift is a share of the oil, but the oil is not told".to_owned(),
            advice: "write oil, myrcene, humulene, linalool and geraniol, or units and at for each gift",
        });
    }
}

fn allergens(section: &Section<'_>) -> Option<Vec<Allergen>> {
    let entry = section.required("allergens", "allergens = []")?;
    Some(entry.choices(Allergen::from_id))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formats::trial_catalogue::CATALOGUE;
    use crate::formats::trial_catalogue::catalogue;
    use crate::formats::trial_catalogue::wheel;

    fn problems(files: &[(&str, &str)]) -> Vec<String> {
        let problems = read_catalogue(files, &[], &wheel()).unwrap_err();
        problems.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn every_kind_of_ingredient_is_read() {
        let catalogue = catalogue();
        assert_eq!(catalogue.fermentables().len(), 3);
        assert_eq!(catalogue.hops()[0].identity.name, "Saaz");
        assert_eq!(catalogue.yeasts()[0].diastatic, Diastatic::No);
        assert_eq!(catalogue.others()[0].kind, OtherKind::Spice);
        assert!((catalogue.fermentables()[0].extract.usual() - 0.79).abs() < f64::EPSILON);
    }

    #[test]
    fn an_id_used_twice_is_told_at_its_second_place() {
        let again = "[[hop]]\nid = \"saaz\"\nname = \"Other\"\nalpha = [1, 2, 3]\nsource = \"x\"\n";
        assert_eq!(
            problems(&[("a.toml", CATALOGUE), ("b.toml", again)]),
            [
                "b.toml:2:6: the ingredient id “saaz” is used twice; ids are permanent and unique, rename the newer one"
            ]
        );
    }

    #[test]
    fn a_name_leads_to_one_ingredient_only() {
        let again = "[[fermentable]]\nid = \"other-malt\"\nname = \"Other malt\"\nsynonyms = [\"Pale Malt\"]\nfamily = \"base\"\n\
                     goes = \"mash\"\nextract = [0.7, 0.8, 0.9]\ncolour = [1, 2, 3]\nferments = \"as-wort\"\nallergens = []\nsource = \"x\"\n";
        assert_eq!(
            problems(&[("a.toml", CATALOGUE), ("b.toml", again)]),
            ["b.toml:4:13: the name “Pale Malt” is given twice; keep one of the two"]
        );
    }

    #[test]
    fn an_ingredient_of_ones_own_replaces_the_one_that_is_built_in() {
        let own =
            "[[hop]]\nid = \"saaz\"\nname = \"Saaz\"\nalpha = [4, 5, 6]\nsource = \"packet\"\n";
        let builtin = [("a.toml", CATALOGUE)];
        let read = read_catalogue(&builtin, &[("own.toml", own)], &wheel()).unwrap();
        let (before, after) = (catalogue().hops().len(), read.hops());
        assert_eq!(after.len(), before);
        let saaz = after.iter().find(|it| it.identity.answers_to("Saaz"));
        assert!((saaz.unwrap().alpha.usual() - 5.0).abs() < f64::EPSILON);
        // Twice in one's own files is twice, and a hop cannot replace a malt.
        let twice = read_catalogue(&builtin, &[("own.toml", &[own, own].concat())], &wheel());
        assert_eq!(twice.unwrap_err().len(), 2);
        let malt = own
            .replace("saaz", "pale-ale-malt")
            .replace("Saaz", "Other");
        assert!(read_catalogue(&builtin, &[("own.toml", &malt)], &wheel()).is_err());
    }

    #[test]
    fn all_problems_of_all_files_are_told_at_once() {
        let first = "[[hop]]\nid = \"Saaz\"\nname = \"\"\nalfa = [1, 2, 3]\nalpha = [3, 2, 4]\nsource = 5\n";
        let second = "[[fermentable]]\nid = \"x\"\nname = \"X\"\nfamily = \"bass\"\ngoes = \"mash\"\nextract = [0.7, 0.8]\n\
                      colour = [1, \"2\", nan]\nferments = \"not\"\nallergens = [\"gluten\", \"gluten\", \"dust\"]\nsource = \"s\"\n[hops]\n";
        let found = problems(&[("a.toml", first), ("b.toml", second)]);
        let wanted = [
            "a.toml:2:6: the id “Saaz” must be small letters",
            "a.toml:3:8: name is empty",
            "a.toml:4:1: the key “alfa” is not known here; did you mean “alpha”?",
            "a.toml:5:9: alpha: “[3, 2, 4]” cannot be read; write it like [low, usual, high] in rising order",
            "a.toml:6:10: source is a number; write a text in quotes",
            "b.toml:4:10: a family of fermentables: “bass” is not known; did you mean “base”? All choices: base",
            "b.toml:6:11: extract: “a list of 2” cannot be read",
            "b.toml:7:14: colour is a text; write a number",
            "b.toml:7:19: colour: “nan” cannot be read",
            "b.toml:9:24: allergens “gluten” is given twice",
            "b.toml:9:34: an allergen: “dust” is not known",
            "b.toml:11:2: the key “hops” is not known here; did you mean “hop”?",
        ];
        assert_eq!(found.len(), wanted.len(), "{found:#?}");
        for (found, wanted) in found.iter().zip(wanted) {
            assert!(found.starts_with(wanted), "{found}\n{wanted}");
        }
    }
}
