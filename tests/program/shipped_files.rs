//! The files that ship inside the program are valid under the program's own readers.

use std::fmt::Display;
use std::sync::Arc;

use thirdglass::domain::BottleFault;
use thirdglass::domain::Catalogue;
use thirdglass::domain::Form;
use thirdglass::domain::Gifts;
use thirdglass::domain::Holds;
use thirdglass::domain::HopPart;
use thirdglass::domain::Identity;
use thirdglass::domain::Ion;
use thirdglass::domain::Name;
use thirdglass::domain::Nose;
use thirdglass::domain::Recipe;
use thirdglass::domain::Reference;
use thirdglass::domain::Stage;
use thirdglass::domain::Subject;
use thirdglass::domain::Wheel;
use thirdglass::formats::Session;
use thirdglass::formats::SessionTasting;
use thirdglass::formats::read_catalogue;
use thirdglass::formats::read_recipe;
use thirdglass::formats::read_session;
use thirdglass::formats::read_wheel;
use thirdglass::storage::builtin_demo_files;
use thirdglass::storage::builtin_ingredient_files;
use thirdglass::storage::builtin_wheel_files;

/// What was read, or every problem on a line of its own.
fn clean<T, P: Display>(read: Result<T, Vec<P>>) -> T {
    read.unwrap_or_else(|problems| {
        let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
        panic!("{} problems:\n{}", lines.len(), lines.join("\n"));
    })
}

fn wheel() -> Wheel {
    clean(read_wheel(builtin_wheel_files()))
}

fn catalogue() -> Catalogue {
    clean(read_catalogue(builtin_ingredient_files(), &[], &wheel()))
}

fn session() -> Session {
    let (name, text) = builtin_demo_files()[0];
    clean(read_session(name, text, &wheel()))
}

/// The recipes of the demonstration with their file names.
fn recipes() -> Vec<(&'static str, Recipe)> {
    let (wheel, catalogue) = (wheel(), catalogue());
    let files = builtin_demo_files()[1..].iter();
    let read =
        files.map(|(name, text)| (*name, clean(read_recipe(name, text, &catalogue, &wheel))));
    read.collect()
}

#[test]
fn the_wheel_is_valid_and_no_shelf_or_place_stands_nearly_empty() {
    // The counts are the ones that the wheel was laid out with; a word alone on a shelf leads nobody.
    let wheel = wheel();
    assert!(wheel.places().len() >= 13, "{}", wheel.places().len());
    assert!(wheel.shelves().len() >= 50, "{}", wheel.shelves().len());
    let words = wheel.descriptors().len();
    assert!(words >= 200, "{words}");
    for shelf in wheel.shelves() {
        let words = wheel.descriptors().iter();
        let count = words.filter(|it| it.shelf == shelf.id).count();
        assert!(count >= 3, "{} has {count} words", shelf.name);
    }
    for place in wheel.places() {
        let shelves = wheel.shelves().iter();
        let count = shelves.filter(|it| it.place == place.id).count();
        assert!(count >= 3, "{} has {count} shelves", place.name);
    }
}

#[test]
fn a_jar_of_rubber_hops_or_old_things_says_for_whom_or_when_it_is_none() {
    // Rubber and plasters may hold latex; hops poison dogs; old cork and paper may carry mould.
    let cautions = [
        ("rubber band", "latex"),
        ("plasters", "latex"),
        ("hop cones", "dogs"),
        ("hop pellets", "dogs"),
        ("cork", "mould"),
        ("old paperback", "mould"),
    ];
    let wheel = wheel();
    let jars = wheel
        .descriptors()
        .iter()
        .filter_map(|it| match &it.reference {
            Reference::Jar(jar) => Some(jar),
            Reference::NoJar { .. } => None,
        });
    let jars: Vec<_> = jars.collect();
    for (material, caution) in cautions {
        let holds = |text: &str| text.to_lowercase().contains(material);
        let mut made_of = jars.iter().filter(|it| holds(&it.item)).peekable();
        assert!(made_of.peek().is_some(), "no jar of {material}");
        for jar in made_of {
            assert!(jar.how.contains(caution), "{}: {}", jar.item, jar.how);
        }
    }
}

#[test]
fn the_ingredients_are_valid_and_as_many_as_a_small_shop_has() {
    // The counts are what a brewer may ask of a catalogue: 70 fermentables, 90 hops, 45 yeasts, 40 others.
    let catalogue = catalogue();
    for (what, count, least) in [
        ("fermentables", catalogue.fermentables().len(), 70),
        ("hops", catalogue.hops().len(), 90),
        ("yeasts", catalogue.yeasts().len(), 45),
        ("others", catalogue.others().len(), 40),
        ("conditions", catalogue.conditions().len(), 4),
    ] {
        assert!(count >= least, "{what}: {count}");
    }
}

#[test]
fn every_hop_has_its_oil_analysed_and_no_part_of_it_is_given_away_twice() {
    for hop in catalogue().hops() {
        let name = &hop.identity.name;
        let oil = hop.oil.unwrap_or_else(|| panic!("{name} has no oil"));
        // A hop holds 0.2 to 5 mL of oil in 100 g (Shellhammer 2015: 0.5 to 3 % are usual).
        assert!((0.2..=5.0).contains(&oil.total.usual()), "{name}");
        let parts = [oil.myrcene, oil.humulene, oil.linalool, oil.geraniol];
        let all: f64 = parts.iter().map(|it| it.usual()).sum();
        assert!((10.0..=100.0).contains(&all), "{name}: {all} % of the oil");
        for it in parts.iter().chain([&oil.total]) {
            assert!(it.low() < it.high(), "{name}");
        }
        for kind in [HopPart::Resinous, HopPart::Floral] {
            let gifts = hop.identity.gifts.known().unwrap_or_default().iter();
            let shares = gifts.filter_map(|it| match it.holds {
                Holds::OfOil { share, part } if part == kind => Some(share),
                _ => None,
            });
            let all: f64 = shares.sum();
            assert!(all < 1.001, "{name}: {all} of the {}", kind.word());
        }
    }
}

#[test]
fn the_demonstration_is_read_without_a_problem_and_brings_every_recipe_that_it_names() {
    let (session, recipes) = (session(), recipes());
    let mut named: Vec<&str> = session.recipes.iter().map(Name::as_str).collect();
    let mut there: Vec<&str> = recipes.iter().map(|(file, _)| *file).collect();
    named.sort_unstable();
    there.sort_unstable();
    assert_eq!(named, there);
    for file in there {
        assert!(session.batches.iter().any(|it| it.recipe.as_str() == file));
    }
    for (file, recipe) in &recipes {
        assert!((3.0..=6.0).contains(&recipe.volume.get()), "{file}");
        assert!(!recipe.intent.targets.is_empty(), "{file}");
        assert!(!recipe.promised.is_empty(), "{file}");
        let parent = recipe.parent.iter().all(|parent| {
            let same = |it: &Recipe| it.name == recipe.name && it.version == *parent;
            recipe.reason.is_some() && recipes.iter().any(|(_, it)| same(it))
        });
        assert!(parent, "{file}");
    }
    assert!(recipes.iter().any(|(_, it)| it.parent.is_some()));
}

#[test]
fn every_rating_and_every_word_of_the_demonstration_is_one_that_can_be_given() {
    let wheel = wheel();
    for tasting in session().tastings {
        let at = tasting.at;
        assert!(tasting.locked_at.is_some(), "{at}");
        for (scale, rating) in &tasting.ratings {
            let allowed = rating.value().is_none_or(|it| scale.allows(it));
            assert!(allowed, "{at} {}", scale.id);
        }
        for mark in &tasting.marks {
            if let Subject::Descriptor(id) = &mark.subject {
                let word = wheel.descriptors().iter().find(|it| it.id == *id);
                // What stays after swallowing is a flavour that lasts, so it may be any flavour word.
                let stages = &word.unwrap().stages;
                let lasting = mark.stage == Stage::Finish && stages.contains(&Stage::Flavour);
                assert!(stages.contains(&mark.stage) || lasting, "{at} {id}");
            }
        }
    }
}

#[test]
fn the_demonstration_holds_every_case_that_its_page_promises() {
    let session = session();
    let of = |mark: &str| -> Vec<&SessionTasting> {
        let all = session.tastings.iter();
        all.filter(|it| it.cap_mark.as_str() == mark).collect()
    };
    assert!((10..=14).contains(&session.tastings.len()));
    assert!(of("CS1").is_empty());
    assert!(of("OW1").iter().any(|it| it.form == Form::Short));
    assert!(of("GC1").iter().any(|it| it.nose == Some(Nose::Cold)));
    let gushed = |it: &&SessionTasting| it.bottle_fault == Some(BottleFault::Gushing);
    assert_eq!(of("HL1").into_iter().filter(gushed).count(), 1);
    assert_eq!(of("Green dot").len(), 1);
    assert_eq!(session.beers.len(), 1);
    let wobble = of("OD2").into_iter();
    let days: Vec<_> = wobble
        .filter(|it| it.taster.as_str() == "Wobble")
        .map(|it| it.tasted_on)
        .collect();
    assert_eq!(days[1].days_since(days[0]), 7);
}

#[test]
fn enough_ingredients_say_what_they_bring_and_each_says_where_that_comes_from() {
    let catalogue = catalogue();
    let telling = |identities: Vec<&Arc<Identity>>| {
        let known = identities.into_iter().filter(|it| match &it.gifts {
            Gifts::Known { gifts, source } => {
                assert_eq!(gifts.is_empty(), source.is_empty(), "{}", it.id);
                !gifts.is_empty()
            }
            Gifts::AsItsFamily => panic!("{} is not known", it.id),
        });
        known.count()
    };
    let fermentables = catalogue.fermentables().iter().map(|it| &it.identity);
    assert!(telling(fermentables.collect()) >= 30);
    assert!(telling(catalogue.hops().iter().map(|it| &it.identity).collect()) >= 15);
    assert!(telling(catalogue.yeasts().iter().map(|it| &it.identity).collect()) >= 10);
    assert!(telling(catalogue.others().iter().map(|it| &it.identity).collect()) >= 5);
}

#[test]
fn every_word_says_where_it_may_come_from_and_where_it_is_welcome_or_a_fault() {
    for word in wheel().descriptors() {
        let id = &word.id;
        assert!(!word.causes.is_empty(), "{id} comes from nowhere");
        assert!(
            !word.standing.is_empty(),
            "{id} is welcome nowhere and a fault nowhere"
        );
    }
}

#[test]
fn no_two_words_share_a_sentence() {
    let wheel = wheel();
    let mut sentences: Vec<&str> = Vec::new();
    for word in wheel.descriptors() {
        sentences.push(&word.definition);
        sentences.extend(word.look_alikes.iter().map(|it| it.tell.as_str()));
    }
    sentences.sort_unstable();
    for pair in sentences.windows(2) {
        assert_ne!(pair[0], pair[1]);
    }
}

/// The id of a salt, its formula weight in g/mol, and the weight of each ion in the formula.
type Formula<'a> = (&'a str, f64, &'a [(Ion, f64)]);

#[test]
fn a_salt_gives_the_ions_of_its_formula() {
    // Standard atomic weights, abridged (IUPAC 2021): Ca 40.078, Mg 24.305, Na 22.990, Cl 35.45, S 32.06, O 15.999,
    // H 1.008, C 12.011. The salt's formula weight, then of each ion its weight in the formula.
    let water = 2.0 * 1.008 + 15.999;
    let sulphate = 32.06 + 4.0 * 15.999;
    let bicarbonate = 1.008 + 12.011 + 3.0 * 15.999;
    let formulas: [Formula<'_>; 5] = [
        (
            "gypsum",
            40.078 + sulphate + 2.0 * water,
            &[(Ion::Calcium, 40.078), (Ion::Sulphate, sulphate)],
        ),
        (
            "calcium-chloride",
            40.078 + 2.0 * 35.45 + 2.0 * water,
            &[(Ion::Calcium, 40.078), (Ion::Chloride, 2.0 * 35.45)],
        ),
        (
            "epsom-salt",
            24.305 + sulphate + 7.0 * water,
            &[(Ion::Magnesium, 24.305), (Ion::Sulphate, sulphate)],
        ),
        (
            "table-salt",
            22.990 + 35.45,
            &[(Ion::Sodium, 22.990), (Ion::Chloride, 35.45)],
        ),
        (
            "baking-soda",
            22.990 + bicarbonate,
            &[(Ion::Sodium, 22.990), (Ion::Bicarbonate, bicarbonate)],
        ),
    ];
    let catalogue = catalogue();
    for other in catalogue.others() {
        let id = other.identity.id.as_str();
        let formula = formulas.iter().find(|it| it.0 == id);
        let ions = formula.map_or(&[][..], |it| it.2);
        assert_eq!(other.ions.len(), ions.len(), "{id}");
        for (content, (ion, part)) in other.ions.iter().zip(ions) {
            assert_eq!(content.ion, *ion, "{id}");
            let whole = formula.map_or(1.0, |it| it.1);
            // The file holds whole milligrams.
            let wanted = 1_000.0 * part / whole;
            assert!(
                (content.content.get() - wanted).abs() <= 0.5,
                "{id}: {wanted}"
            );
        }
    }
}
