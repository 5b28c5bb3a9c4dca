//! The recipe file: what is to be brewed, as a brewer writes it, into a recipe that can be.

use std::ops::RangeInclusive;

use sha2::Digest;
use sha2::Sha256;

use crate::domain::Bottle;
use crate::domain::Catalogue;
use crate::domain::Celsius;
use crate::domain::FermentableUse;
use crate::domain::HopUse;
use crate::domain::Litres;
use crate::domain::Mash;
use crate::domain::MilligramsPerLitre;
use crate::domain::Minutes;
use crate::domain::Name;
use crate::domain::OtherUse;
use crate::domain::Packaging;
use crate::domain::Percent;
use crate::domain::PrimingSugar;
use crate::domain::Promise;
use crate::domain::Recipe;
use crate::domain::Volumes;
use crate::domain::Water;
use crate::domain::Wheel;
use crate::formats::declared::Declared;
use crate::formats::entry::Entry;
use crate::formats::ingredient_use::Ingredients;
use crate::formats::intent_table::intent_of;
use crate::formats::intent_table::unknown_word;
use crate::formats::problem::Problem;
use crate::formats::problem::ProblemKind;
use crate::formats::proof::Proof;
use crate::formats::quantity_text::CARBONATION;
use crate::formats::quantity_text::CONCENTRATION;
use crate::formats::quantity_text::PERCENT;
use crate::formats::quantity_text::TEMPERATURE;
use crate::formats::quantity_text::TIME;
use crate::formats::quantity_text::VOLUME;
use crate::formats::recipe_checks::check_grist;
use crate::formats::recipe_checks::check_hops;
use crate::formats::recipe_checks::check_other;
use crate::formats::recipe_checks::check_pressure;
use crate::formats::section::Section;

/// A complete recipe with every key and its comment.
pub const EXAMPLE: &str = include_str!("example_recipe.toml");

/// Reads a recipe; `file` is what messages call the text.
///
/// What the brewer does not know is left out of the file and absent from the recipe. A recipe
/// without an intent is fine.
///
/// # Errors
/// Every problem of the text, of its meaning and between its values, by line and column.
pub fn read_recipe(
    file: &str,
    text: &str,
    catalogue: &Catalogue,
    wheel: &Wheel,
) -> Result<Recipe, Vec<Problem>> {
    let proof = Proof::new(file, text);
    let table = proof.parse();
    let recipe = recipe_of(Section::new(&proof, &table, 0), catalogue, wheel);
    proof.conclude(recipe)
}

/// The SHA-256 of a document, in 64 hex digits.
#[must_use]
pub fn document_hash(text: &str) -> String {
    format!("{:x}", Sha256::digest(text.as_bytes()))
}

fn recipe_of(root: Section<'_>, catalogue: &Catalogue, wheel: &Wheel) -> Option<Recipe> {
    let head = Head::read(&root);
    let mash = root.section("mash").map_or_else(Mash::default, mash_of);
    let boil = root.section("boil").and_then(boil_of);
    let declared = root.section("declare").map(Declared::read);
    let ingredients = Ingredients {
        declared: declared.unwrap_or_default(),
        catalogue,
    };
    let fermentables = fermentables_of(&root, &ingredients, &head);
    let hops = hops_of(&root, &ingredients, boil, head.volume);
    let yeast = root.section("yeast").and_then(|it| ingredients.yeast(it));
    let others = others_of(&root, &ingredients, head.volume);
    let water = root.section("water").map_or_else(Water::default, water_of);
    let packaging = packaging_of(root.section("carbonation"));
    let intent = root.section("intent").map(|it| intent_of(it, wheel));
    let promised = root.sections("promised").into_iter();
    let promised = promised.filter_map(|it| promise_of(it, wheel)).collect();
    root.close();
    Some(Recipe {
        name: head.name?,
        version: head.version?,
        parent: head.parent,
        reason: head.reason,
        volume: head.volume?,
        efficiency: head.efficiency,
        mash,
        boil,
        fermentables,
        hops,
        yeast,
        others,
        water,
        packaging,
        intent: intent.unwrap_or_default(),
        promised,
    })
}

/// What stands above all tables.
struct Head {
    name: Option<Name>,
    version: Option<Name>,
    parent: Option<Name>,
    reason: Option<Name>,
    volume: Option<Litres>,
    efficiency: Option<Percent>,
}

impl Head {
    fn read(root: &Section<'_>) -> Self {
        let name = root.required("name", "name = \"Harbour dark\"");
        let version = root.required("version", "version = \"1\"");
        let volume = root.required("volume", "volume = \"5 L\"");
        let efficiency = root.entry("efficiency");
        Self {
            name: name.and_then(|it| it.name()),
            version: version.and_then(version_of),
            parent: root.entry("parent").and_then(version_of),
            reason: root.entry("reason").and_then(|it| it.name()),
            volume: volume.and_then(|it| it.quantity(&VOLUME, Litres::new)),
            efficiency: efficiency.and_then(|it| it.quantity(&PERCENT, Percent::new)),
        }
    }
}

/// A version in the brewer's words; a bare number is as good as one in quotes.
fn version_of(entry: Entry<'_>) -> Option<Name> {
    entry.settle(Name::new("version", &entry.letters()?))
}

/// Temperatures of a rest in the mash, °C (common practice: malt enzymes work between them).
pub(super) const MASH_RESTS: RangeInclusive<f64> = 35.0..=80.0;

fn mash_of(section: Section<'_>) -> Mash {
    let temperature = section.entry("temperature").and_then(|entry| {
        let found = entry.quantity(&TEMPERATURE, Celsius::new)?;
        if !MASH_RESTS.contains(&found.get()) {
            entry.mark(ProblemKind::Together {
                found: format!("a mash at {:.1} °C", found.get()),
                advice: "malt enzymes work between 35 and 80 °C, check number and unit",
            });
        }
        Some(found)
    });
    let time = section.entry("time");
    let time = time.and_then(|it| it.quantity(&TIME, Minutes::new));
    section.close();
    Mash { temperature, time }
}

fn boil_of(section: Section<'_>) -> Option<Minutes> {
    let time = section.entry("time");
    let time = time.and_then(|it| it.quantity(&TIME, Minutes::new));
    section.close();
    time
}

fn fermentables_of(
    root: &Section<'_>,
    ingredients: &Ingredients<'_>,
    head: &Head,
) -> Vec<FermentableUse> {
    let malts = root.sections("fermentable");
    let sugars = root.sections("sugar");
    let stated = malts.len() + sugars.len();
    let place = malts.first().or(sugars.first()).map_or(root.at, |it| it.at);
    if stated == 0 {
        let key = "fermentable";
        let example = "[[fermentable]] with name = \"Pale malt\" and amount = \"1 kg\"";
        root.mark(ProblemKind::Missing { key, example });
    }
    let malts = malts
        .into_iter()
        .filter_map(|it| ingredients.fermentable(it));
    let sugars = sugars.into_iter().filter_map(|it| ingredients.sugar(it));
    let all: Vec<FermentableUse> = malts.chain(sugars).collect();
    // A sum says something only when every part of it could be read.
    if let Some(volume) = head.volume.filter(|_| all.len() == stated && stated > 0)
        && let Some(problem) = check_grist(&all, volume, head.efficiency)
    {
        root.proof.mark(place, problem);
    }
    all
}

fn hops_of(
    root: &Section<'_>,
    ingredients: &Ingredients<'_>,
    boil: Option<Minutes>,
    volume: Option<Litres>,
) -> Vec<HopUse> {
    let sections = root.sections("hop");
    let place = sections.first().map_or(root.at, |it| it.at);
    let hops = sections
        .into_iter()
        .filter_map(|it| ingredients.hop(it, boil));
    let hops: Vec<HopUse> = hops.collect();
    if let Some(problem) = volume.and_then(|volume| check_hops(&hops, volume)) {
        root.proof.mark(place, problem);
    }
    hops
}

fn others_of(
    root: &Section<'_>,
    ingredients: &Ingredients<'_>,
    volume: Option<Litres>,
) -> Vec<OtherUse> {
    let mut others = Vec::new();
    for section in root.sections("other") {
        let at = section.at;
        let Some(other) = ingredients.other(section) else {
            continue;
        };
        if let Some(problem) = volume.and_then(|volume| check_other(&other, volume)) {
            root.proof.mark(at, problem);
        }
        others.push(other);
    }
    others
}

fn water_of(section: Section<'_>) -> Water {
    let ion = |key| {
        let entry = section.entry(key);
        entry.and_then(|it: Entry<'_>| it.quantity(&CONCENTRATION, MilligramsPerLitre::new))
    };
    let water = Water {
        calcium: ion("calcium"),
        magnesium: ion("magnesium"),
        sodium: ion("sodium"),
        chloride: ion("chloride"),
        sulphate: ion("sulphate"),
        bicarbonate: ion("bicarbonate"),
    };
    section.close();
    water
}

fn packaging_of(section: Option<Section<'_>>) -> Packaging {
    let Some(section) = section else {
        return Packaging {
            carbonation: None,
            priming: None,
            bottle: Bottle::Unknown,
        };
    };
    let target = section.entry("target");
    let carbonation = target.and_then(|it| it.quantity(&CARBONATION, Volumes::new));
    let priming = section.entry("priming");
    let priming = priming.and_then(|it| it.read(PrimingSugar::from_id));
    let bottle = section.entry("bottle");
    let bottle = bottle.map_or(Some(Bottle::Unknown), |it| it.read(Bottle::from_id));
    if let (Some(entry), Some(carbonation), Some(bottle)) = (target, carbonation, bottle)
        && let Some(problem) = check_pressure(carbonation, bottle)
    {
        entry.mark(problem);
    }
    section.close();
    Packaging {
        carbonation,
        priming,
        bottle: bottle.unwrap_or(Bottle::Unknown),
    }
}

fn promise_of(section: Section<'_>, wheel: &Wheel) -> Option<Promise> {
    let packet = section.required("packet", "packet = \"Saaz, last harvest\"");
    let packet = packet.and_then(|it| it.name());
    let words = section.required("words", "words = [\"orange peel\"]");
    let items = words.map(|it| it.items()).unwrap_or_default();
    let mut words = Vec::new();
    for item in items {
        let Some(name) = item.text() else {
            continue;
        };
        match wheel.named(name) {
            Some(word) if words.contains(&word.id) => item.mark(ProblemKind::Twice {
                what: "the word",
                found: word.word.clone(),
            }),
            Some(word) => words.push(word.id.clone()),
            None => item.mark(unknown_word(section.proof, wheel, name)),
        }
    }
    section.close();
    Some(Promise {
        packet: packet?,
        words,
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::ProptestConfig;
    use proptest::prelude::Strategy;
    use proptest::proptest;

    use super::*;
    use crate::domain::Days;
    use crate::domain::HopStorage;
    use crate::domain::HopTime;
    use crate::formats::trial_catalogue::catalogue;
    use crate::formats::trial_catalogue::wheel;
    use crate::formats::trial_catalogue::with_a_slip;

    fn read(text: &str) -> Result<Recipe, Vec<String>> {
        read_recipe("r.toml", text, &catalogue(), &wheel())
            .map_err(|them| them.iter().map(ToString::to_string).collect())
    }

    /// Problems of the smallest recipe with more lines after it.
    fn with(more: &str) -> Vec<String> {
        read(&format!("{SMALLEST}{more}")).unwrap_err()
    }

    fn only(more: &str, wanted: &str) {
        let found = with(more);
        assert_eq!(found.len(), 1, "{found:#?}");
        assert!(found[0].starts_with(wanted), "{}\n{wanted}", found[0]);
    }

    /// Six lines.
    const SMALLEST: &str = "name = \"Small\"\nversion = 1\nvolume = \"5 L\"\n[[fermentable]]\nname = \"pale malt\"\namount = \"1 kg\"\n";

    #[test]
    fn the_example_is_read_whole() {
        let recipe = read(EXAMPLE).unwrap();
        assert_eq!(recipe.name.as_str(), "Harbour dark");
        assert_eq!(recipe.parent.as_ref().map(Name::as_str), Some("1"));
        assert_eq!(recipe.fermentables.len(), 3);
        assert!((recipe.fermentables[0].amount.get() - 1_100.0).abs() < 1e-9);
        assert_eq!(recipe.hops.len(), 3);
        // Eight months of 30.4 days.
        assert_eq!(recipe.hops[0].age, Days::new(8.0 * 30.4).ok());
        assert_eq!(recipe.hops[0].storage, Some(HopStorage::Freezer));
        assert!(matches!(
            recipe.hops[2].when,
            HopTime::Dry {
                temperature: Some(_),
                ..
            }
        ));
        assert_eq!(
            recipe.hops[2].hop.identity.id.as_str(),
            "declared-neighbour-s-hop"
        );
        assert_eq!(
            recipe
                .yeast
                .map(|it| it.yeast.identity.name.clone())
                .as_deref(),
            Some("Clean ale yeast")
        );
        assert_eq!(recipe.others.len(), 1);
        assert_eq!(
            recipe.water.sulphate.map(MilligramsPerLitre::get),
            Some(50.0)
        );
        assert_eq!(recipe.packaging.bottle, Bottle::Crown);
        assert_eq!(recipe.intent.targets.len(), 6);
        assert_eq!(recipe.promised[0].words.len(), 2);
    }

    #[test]
    fn the_smallest_recipe_leaves_all_else_unknown() {
        let recipe = read(SMALLEST).unwrap();
        assert_eq!(recipe.version.as_str(), "1");
        assert_eq!(recipe.efficiency, None);
        assert_eq!(recipe.boil, None);
        assert_eq!(recipe.yeast, None);
        assert!(recipe.intent.targets.is_empty());
    }

    #[test]
    fn an_empty_text_lists_all_that_is_missing() {
        let found = read("").unwrap_err();
        assert_eq!(found.len(), 4, "{found:#?}");
        for (found, key) in found
            .iter()
            .zip(["name", "version", "volume", "fermentable"])
        {
            let wanted = format!("r.toml:1:1: “{key}” is missing; write it, such as");
            assert!(found.starts_with(&wanted), "{found}");
        }
    }

    #[test]
    fn syntax_and_meaning_are_told_at_once_with_line_and_column() {
        let found = read(
            "name = \"A\"\nversion = \"1\"\nvolume = 5\neficiency = 70\nname = \"B\"\n[mash]\ntime = \n\
             [[fermentable]]\nname = \"palle ale malt\"\namount = \"-1 kg\"\n[[hop]]\nname = \"Saaz\"\namount = \"12 g\"\n",
        )
        .unwrap_err();
        let wanted = [
            "r.toml:3:10: a volume: “5” needs one of the units L, mL, gal",
            "r.toml:4:1: the key “eficiency” is not known here; did you mean “efficiency”?",
            "r.toml:5:1: the key “name” stands twice here",
            "r.toml:7:",
            "r.toml:9:8: no fermentable is called “palle ale malt”; did you mean “Pale ale malt” or “pale malt”? If",
            "r.toml:10:10: an amount: found -1000 g; it must lie between 0.01 g and 100000 g",
        ];
        assert_eq!(found.len(), wanted.len(), "{found:#?}");
        for (found, wanted) in found.iter().zip(wanted) {
            assert!(found.starts_with(wanted), "{found}\n{wanted}");
        }
    }

    #[test]
    fn wrong_types_and_absurd_numbers_are_told() {
        only(
            "[water]\ncalcium = nan\n",
            "r.toml:8:11: a concentration: “nan” cannot be read",
        );
        only(
            "[water]\ncalcium = -1\n",
            "r.toml:8:11: a concentration: found -1 mg/L",
        );
        only(
            "[water]\ncalcium = true\n",
            "r.toml:8:11: calcium is true or false; write a text",
        );
        only(
            "[boil]\ntime = \"1e308 min\"\n",
            "r.toml:8:8: a time: “1e308 min”",
        );
        only(
            "[boil]\ntime = \"9999999 min\"\n",
            "r.toml:8:8: a time: found 9999999 min",
        );
        only(
            "[[yeast]]\nname = \"x\"\n",
            "r.toml:7:1: yeast is a list; write a table",
        );
        only(
            "[hop]\nname = \"x\"\n",
            "r.toml:7:1: hop is a table; write a list",
        );
    }

    #[test]
    fn a_hop_goes_in_exactly_once() {
        let hop = "[[hop]]\nname = \"saaz\"\namount = \"12 g\"\n";
        only(
            hop,
            "r.toml:7:1: it is not said when the hop goes in; write exactly one of: boil, whirlpool, dry",
        );
        let twice = format!("{hop}boil = \"5 min\"\ndry = \"3 days\"\n");
        only(
            &twice,
            "r.toml:7:1: one hop charge states 2 times; write exactly one of",
        );
        let longer = format!("[boil]\ntime = \"30 min\"\n{hop}boil = \"1 h\"\n");
        only(&longer, "r.toml:12:8: hops for 60 min in a boil of 30 min");
    }

    #[test]
    fn what_cannot_be_together_is_told() {
        only(
            "[mash]\ntemperature = \"20 °C\"\n",
            "r.toml:8:15: a mash at 20.0 °C; malt enzymes work between 35 and 80 °C",
        );
        only(
            "[mash]\ntemperature = \"180 F\"\n",
            "r.toml:8:15: a mash at 82.2 °C",
        );
        only(
            "[[hop]]\nname = \"saaz\"\namount = \"400 g\"\ndry = \"3 days\"\n",
            "r.toml:7:1: 400 g of hops for 5.0 L; more than 60 g/L",
        );
        only(
            "[[fermentable]]\nname = \"pale malt\"\namount = \"3 kg\"\n",
            "r.toml:4:1: 4.00 kg of fermentables for 5.0 L",
        );
        only(
            "[[sugar]]\nname = \"pale malt\"\namount = \"3 g\"\n",
            "r.toml:8:8: Pale ale malt is base malt; only sugar and honey",
        );
        let thin = SMALLEST.replace("1 kg", "1 g");
        let found = read(&thin).unwrap_err();
        assert!(
            found[0].starts_with("r.toml:4:1: 0 g of extract in a litre"),
            "{found:#?}"
        );
        let over = SMALLEST.replace("[[ferm", "efficiency = 101\n[[ferm");
        let found = read(&over).unwrap_err();
        assert!(
            found[0].starts_with("r.toml:4:14: a share: found 101 %"),
            "{found:#?}"
        );
    }

    #[test]
    fn additions_beyond_any_beer_are_told() {
        let other = |name: &str, amount: &str| {
            format!("[[other]]\nname = \"{name}\"\namount = \"{amount}\"\n")
        };
        let declared = "[[declare.other]]\nname = \"Tart\"\nkind = \"acid\"\n\
                        [[declare.other]]\nname = \"Bark\"\nkind = \"spice\"\n\
                        [[declare.other]]\nname = \"Plums\"\nkind = \"fruit\"\n";
        for (name, amount, found) in [
            ("Tart", "300 g", "300 g of Tart for 5.0 L"),
            ("Bark", "10 kg", "10000 g of Bark for 5.0 L"),
            ("Plums", "11 kg", "11000 g of Plums for 5.0 L"),
        ] {
            let wanted = format!("r.toml:7:1: {found}; nobody could drink that");
            only(&(other(name, amount) + declared), &wanted);
        }
        let fine = other("Tart", "20 g") + &other("Bark", "50 g") + &other("Plums", "3 kg");
        assert!(read(&format!("{SMALLEST}{fine}{declared}")).is_ok());
    }

    #[test]
    fn hops_that_cannot_be_are_told() {
        let hop = |when: &str| format!("[[hop]]\nname = \"saaz\"\namount = \"12 g\"\n{when}\n");
        only(
            &hop("boil = \"60 min\"\nalpha = \"100 %\""),
            "r.toml:11:9: a hop with 100 % of alpha acid; hops hold",
        );
        assert!(read(&(SMALLEST.to_owned() + &hop("boil = \"60 min\"\nalpha = 50"))).is_ok());
        for celsius in ["-5", "12", "110"] {
            only(
                &hop(&format!("whirlpool = \"{celsius} °C for 20 min\"")),
                &format!("r.toml:10:13: a whirlpool at {celsius}.0 °C; hot wort"),
            );
        }
        only(
            &hop("dry = \"3 days at 100 °C\""),
            "r.toml:10:7: dry hops at 100.0 °C; a fermenter",
        );
    }

    #[test]
    fn gas_beyond_the_bottle_is_refused_with_its_danger() {
        for bottle in ["one-way", "crown", "unknown"] {
            let lines = format!("[carbonation]\ntarget = \"3.1 vol\"\nbottle = \"{bottle}\"\n");
            only(&lines, "r.toml:8:10: 3.1 volumes in a");
        }
        only(
            "[carbonation]\ntarget = \"8 g/L\"\n",
            "r.toml:8:10: 4.0 volumes in a bottle of unknown kind; above 3.0 such a bottle can burst",
        );
        assert!(
            read(&format!(
                "{SMALLEST}[carbonation]\ntarget = \"3.5 vol\"\nbottle = \"champagne\"\n"
            ))
            .is_ok()
        );
        assert!(read(&format!("{SMALLEST}[carbonation]\ntarget = \"3.0 vol\"\n")).is_ok());
    }

    #[test]
    fn an_unknown_ingredient_names_the_nearest_or_how_to_declare_it() {
        only(
            "[yeast]\nname = \"clean ale yest\"\n",
            "r.toml:8:8: no yeast is called “clean ale yest”; did you mean “Clean ale yeast”? If it is new, declare it under [[declare.yeast]]",
        );
        only(
            "[[other]]\nname = \"Moon dust\"\namount = \"1 g\"\n",
            "r.toml:8:8: no addition is called “Moon dust”; declare it under [[declare.other]], or use another name",
        );
        let declared = format!(
            "{SMALLEST}[[other]]\nname = \"moon dust\"\namount = \"1 g\"\n[[declare.other]]\nname = \"Moon dust\"\nkind = \"spice\"\n"
        );
        assert_eq!(read(&declared).unwrap().others.len(), 1);
    }

    #[test]
    fn yeast_that_could_not_live_is_told() {
        only(
            "[yeast]\nname = \"clean-ale\"\ntemperature = \"66 °C\"\n",
            "r.toml:9:15: yeast at 66.0 °C; fermentation lies between 0 and 45 °C",
        );
    }

    #[test]
    fn a_promise_of_an_unknown_word_names_the_nearest() {
        only(
            "[[promised]]\npacket = \"p\"\nwords = [\"toast\", \"orang peel\"]\n",
            "r.toml:9:19: no word of the wheel is called “orang peel”; did you mean “orange peel”?",
        );
    }

    #[test]
    fn names_that_are_endless_or_hide_something_are_refused() {
        let long = SMALLEST.replace("Small", &"a".repeat(1_000_000));
        let found = read(&long).unwrap_err();
        assert_eq!(
            found,
            ["r.toml:1:8: name is longer than 80 characters; shorten it"]
        );
        let raw = SMALLEST.replace("Small", "Sm\u{202e}all");
        assert_eq!(
            read(&raw).unwrap_err(),
            ["r.toml:1:11: an invisible or control character (U+202E); delete it"]
        );
        let escaped = SMALLEST.replace("Small", "Sm\\u001b[2Jall");
        let found = read(&escaped).unwrap_err();
        assert!(
            found[0]
                .starts_with("r.toml:1:8: name has an invisible or control character at place 3"),
            "{found:#?}"
        );
    }

    #[test]
    fn a_hash_is_the_sha_256_of_the_bytes() {
        // FIPS 180-4, the one-block example of the NIST example values: "abc".
        assert_eq!(
            document_hash("abc"),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
    }

    /// Lines of TOML in any order, to reach tables over tables and lists over values.
    fn shuffled() -> impl Strategy<Value = String> {
        const LINES: [&str; 24] = [
            "[hop]",
            "[[hop]]",
            "[hop.a]",
            "[[hop.a]]",
            "hop = 1",
            "hop.a = 1",
            "name = \"x\"",
            "[intent]",
            "[intent.words]",
            "intent = { words = 1 }",
            "intent.words = 5",
            "a = [",
            "]",
            "}",
            "= 1",
            "[",
            "[[",
            "[[]]",
            "\"",
            "'''",
            "\"\"\"",
            "volume = \"5 L\"",
            "x = { a = 1",
            "toast = { aroma = 5 }",
        ];
        proptest::collection::vec(proptest::sample::select(&LINES[..]), 0..12)
            .prop_map(|it| it.join("\n"))
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2_000))]
        #[test]
        fn no_text_at_all_makes_it_panic(text in "\\PC{0,200}|[ -~\n]{0,200}|(?s).{0,80}") {
            let problems = read(&text).unwrap_err();
            assert!(problems.iter().all(|it| it.lines().count() == 1));
        }

        #[test]
        fn no_order_of_lines_makes_it_panic(text in shuffled()) {
            assert!(!read(&text).unwrap_err().is_empty());
        }

        #[test]
        fn no_slip_in_a_good_file_makes_it_panic(text in with_a_slip(EXAMPLE.to_owned())) {
            if let Err(problems) = read(&text) {
                assert!(!problems.is_empty());
            }
        }
    }
}
