//! The next version of a recipe as a file: it reads as the changes mean it, and nothing else has changed in it.

use std::fmt::Display;
use std::sync::OnceLock;

use proptest::prelude::ProptestConfig;
use proptest::prelude::Strategy;
use proptest::prop_assert_eq;
use proptest::proptest;
use thirdglass::domain::Catalogue;
use thirdglass::domain::Celsius;
use thirdglass::domain::Days;
use thirdglass::domain::Ebc;
use thirdglass::domain::FermentableUse;
use thirdglass::domain::Grams;
use thirdglass::domain::HopStorage;
use thirdglass::domain::HopTime;
use thirdglass::domain::HopUse;
use thirdglass::domain::Litres;
use thirdglass::domain::Minutes;
use thirdglass::domain::Name;
use thirdglass::domain::OtherUse;
use thirdglass::domain::Part;
use thirdglass::domain::Percent;
use thirdglass::domain::Recipe;
use thirdglass::domain::RecipeChange;
use thirdglass::domain::Volumes;
use thirdglass::domain::Wheel;
use thirdglass::domain::YeastUse;
use thirdglass::formats::EXAMPLE;
use thirdglass::formats::EditProblem;
use thirdglass::formats::NewVersion;
use thirdglass::formats::changed_document;
use thirdglass::formats::read_catalogue;
use thirdglass::formats::read_recipe;
use thirdglass::formats::read_wheel;
use thirdglass::storage::builtin_demo_files;
use thirdglass::storage::builtin_ingredient_files;
use thirdglass::storage::builtin_wheel_files;

/// Six lines.
const SMALL: &str = "name = \"Small\"\nversion = 1\nvolume = \"5 L\"\n[[fermentable]]\nname = \"pale ale malt\"\namount = \"1 kg\"";

/// Everything in braces and brackets.
const IN_BRACES: &str = r#"name = "Flat"
version = 1
volume = "5000 mL"
mash = { time = "60 min" }
fermentable = [ { name = "Pale ale malt", amount = "1 kg" }, { colour = "25 EBC", extract = "78 %", name = "Munich malt, dark", amount = "100 g" } ]
hop = [
  { alpha = "3.4 %", name = "Saaz", amount = "10 g", boil = "60 min", age = "8 months" }, # the first
  { name = "Saaz", amount = "8 g", "dry" = "3 days" },
]
other = []
yeast = { name = "Clean ale yeast", attenuation = 77 }
carbonation = {}
"#;

/// Keys with dots, kinds mixed, comments everywhere.
const MIXED: &str = r#"# A beer.
name = "Mixed" # its name
version = "1"
volume = "1 gal"
mash.time = "1 h" # no temperature yet
yeast.name = "Clean ale yeast"
yeast.attenuation = "77 %"

# The first hop.
[[hop]] # bitter
name = "Saaz" # as bought
amount = "0.5 oz"
boil = "1 h"
# Weighed twice.

# The grist.
[[fermentable]]
name = "Pale ale malt"
amount = "1 kg"

[[fermentable]]
name = "Munich malt, dark"
amount = "100 g"
[[sugar]] # for the strength
name = "White sugar"
amount = "50 g"
# Below honey.
[[sugar]]
name = "White sugar"
amount = "20 g"
[[hop]]
name = "Saaz"
amount = "5 g"
dry = "3 days"
"#;

fn clean<T, P: Display>(read: Result<T, Vec<P>>) -> T {
    read.unwrap_or_else(|problems| {
        let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
        panic!("{}", lines.join("\n"));
    })
}

fn kitchen() -> &'static (Wheel, Catalogue) {
    static KITCHEN: OnceLock<(Wheel, Catalogue)> = OnceLock::new();
    KITCHEN.get_or_init(|| {
        let wheel = clean(read_wheel(builtin_wheel_files()));
        let catalogue = clean(read_catalogue(builtin_ingredient_files(), &[], &wheel));
        (wheel, catalogue)
    })
}

fn read(text: &str) -> Recipe {
    let (wheel, catalogue) = kitchen();
    match read_recipe("r.toml", text, catalogue, wheel) {
        Ok(recipe) => recipe,
        Err(problems) => panic!("{problems:#?}\n{text}"),
    }
}

/// The built-in recipes, all of whose tables have headers.
fn with_headers() -> Vec<String> {
    let demo = builtin_demo_files()[1..].iter().map(|it| it.1.to_owned());
    std::iter::once(EXAMPLE.to_owned()).chain(demo).collect()
}

/// Those, and recipes in every other form that is read.
fn documents() -> Vec<String> {
    let mut all = with_headers();
    all.extend([SMALL, IN_BRACES, MIXED].map(str::to_owned));
    all.push(EXAMPLE.replace('\n', "\r\n"));
    all
}

fn name(text: &str) -> Name {
    Name::new("a name", text).unwrap()
}

fn head() -> NewVersion {
    NewVersion {
        version: name("3"),
        parent: name("2"),
        reason: name("a \"softer\" end \\ more toast"),
        expected: vec!["toast 3 -> 5".to_owned(), "length 20 s -> 12 s".to_owned()],
    }
}

fn changed(document: &str, changes: &[RecipeChange]) -> String {
    changed_document(document, changes, &head())
        .unwrap_or_else(|problem| panic!("{problem}\n{changes:#?}\n{document}"))
}

/// The recipe that the changes mean.
fn meant(document: &str, changes: &[RecipeChange]) -> Recipe {
    let head = head();
    Recipe {
        version: head.version,
        parent: Some(head.parent),
        reason: Some(head.reason),
        ..RecipeChange::apply_all(changes, &read(document))
    }
}

/// What a change is made of: its kind, two places, and a size from 0 to 1.
type Draw = (usize, usize, usize, f64);

const KINDS: usize = 17;

fn grams(size: f64, step: f64) -> Grams {
    Grams::new(((1.0 + 49.0 * size) / step).round() * step).unwrap()
}

fn time(place: usize, size: f64) -> HopTime {
    let celsius = |it: f64| Celsius::new(it.round()).unwrap();
    match place % 4 {
        0 => HopTime::Boil(Minutes::new((60.0 * size).round()).unwrap()),
        1 => HopTime::Whirlpool {
            temperature: celsius(90.0),
            cools_to: (size > 0.5).then(|| celsius(60.0 + 20.0 * size)),
            time: Minutes::new(20.0).unwrap(),
        },
        2 => HopTime::Dry {
            days: Days::new((1.0 + 6.0 * size).round()).unwrap(),
            temperature: (size > 0.5).then(|| celsius(20.0 * size)),
        },
        _ => HopTime::Boil(Minutes::new(60.0).unwrap()),
    }
}

fn fermentable(place: usize, size: f64) -> FermentableUse {
    let all = kitchen().1.fermentables();
    FermentableUse {
        fermentable: all[place % all.len()].clone(),
        amount: grams(size, 1.0),
        colour: (size > 0.6).then(|| Ebc::new((100.0 * size).round() / 10.0).unwrap()),
        extract: (size > 0.8).then(|| Percent::new((800.0 * size).round() / 10.0).unwrap()),
    }
}

fn hop(place: usize, size: f64) -> HopUse {
    let all = kitchen().1.hops();
    HopUse {
        hop: all[place % all.len()].clone(),
        amount: grams(size / 3.0, 0.1),
        alpha: (size > 0.4).then(|| Percent::new((100.0 * size).round() / 10.0).unwrap()),
        when: time(place, size),
        age: (size > 0.7).then(|| Days::new((600.0 * size).round()).unwrap()),
        storage: (size > 0.5).then_some(HopStorage::Fridge),
    }
}

fn yeast(place: usize, size: f64) -> YeastUse {
    let all = kitchen().1.yeasts();
    YeastUse {
        yeast: all[place % all.len()].clone(),
        attenuation: (size > 0.5).then(|| Percent::new((90.0 * size).round()).unwrap()),
        temperature: (size > 0.3).then(|| Celsius::new((30.0 * size).round()).unwrap()),
    }
}

fn other(place: usize, size: f64) -> OtherUse {
    let all = kitchen().1.others();
    OtherUse {
        other: all[place % all.len()].clone(),
        amount: grams(size / 50.0, 0.1),
        when: (size > 0.5).then(|| name("at \"the end\"")),
    }
}

/// The change that is drawn; none where the recipe has nothing of the kind. The first fermentable stays, since a
/// recipe without it would be no beer.
fn change((kind, place, pick, size): Draw, recipe: &Recipe) -> Option<RecipeChange> {
    let within = |length: usize| (length > 0).then(|| place % length);
    let (malts, hops) = (recipe.fermentables.len(), recipe.hops.len());
    let later = |length: usize| (length > 1).then(|| 1 + place % (length - 1));
    Some(match kind {
        0 => {
            let at = within(malts)?;
            let old = recipe.fermentables[at].amount.get();
            let to = Grams::new((old * (0.7 + 0.6 * size)).round()).unwrap();
            let part = Part::Fermentable(at);
            RecipeChange::Amount { part, to }
        }
        1 => RecipeChange::Amount {
            part: Part::Hop(within(hops)?),
            to: grams(size / 3.0, 0.1),
        },
        2 => RecipeChange::Amount {
            part: Part::Other(within(recipe.others.len())?),
            to: grams(size / 50.0, 0.1),
        },
        3 => RecipeChange::LeaveOut(Part::Fermentable(later(malts)?)),
        4 => RecipeChange::LeaveOut(Part::Hop(within(hops)?)),
        5 => RecipeChange::LeaveOut(Part::Other(within(recipe.others.len())?)),
        6 => RecipeChange::SwapFermentable {
            at: later(malts)?,
            by: fermentable(pick, size),
        },
        7 => RecipeChange::SwapHop {
            at: within(hops)?,
            by: hop(pick, size),
        },
        8 => RecipeChange::Yeast(yeast(pick, size)),
        9 => RecipeChange::AddFermentable(fermentable(pick, size)),
        10 => RecipeChange::AddHop(hop(pick, size)),
        11 => RecipeChange::AddOther(other(pick, size)),
        12 => RecipeChange::HopTime {
            at: within(hops)?,
            when: time(pick, size),
        },
        13 => RecipeChange::Mash(Celsius::new((60.0 + 12.0 * size).round()).unwrap()),
        14 => RecipeChange::Fermentation(Celsius::new((8.0 + 20.0 * size).round()).unwrap()),
        15 => RecipeChange::Carbonation(Volumes::new((20.0 + 9.0 * size).round() / 10.0).unwrap()),
        _ => RecipeChange::Volume(Litres::new((30.0 + 60.0 * size).round() / 10.0).unwrap()),
    })
}

/// The tables of a document of which every table has a header, as its lines tell them: the kind, the place among
/// its kind, and the line numbers, the comment lines directly above the header among them.
fn blocks(lines: &[&str]) -> Vec<(String, usize, Vec<usize>)> {
    let mut blocks: Vec<(String, usize, Vec<usize>)> = vec![(String::new(), 0, Vec::new())];
    for (index, line) in lines.iter().enumerate() {
        if line.starts_with('[') {
            let kind = line.trim_start_matches('[').split(']').next().unwrap();
            let place = blocks.iter().filter(|it| it.0 == kind).count();
            let above = blocks.last_mut().unwrap();
            let mut own = Vec::new();
            while above.2.last().is_some_and(|it| lines[*it].starts_with('#')) {
                own.push(above.2.pop().unwrap());
            }
            blocks.push((kind.to_owned(), place, own));
        }
        blocks.last_mut().unwrap().2.push(index);
    }
    blocks
}

/// The keys of a table that a change may touch; all of it where it is left out.
enum Touch {
    Whole,
    Keys(&'static [&'static str]),
}

fn touched(change: &RecipeChange, malts: usize) -> Vec<(&'static str, Option<usize>, Touch)> {
    const SWAP: Touch = Touch::Keys(&[
        "name",
        "amount",
        "colour",
        "extract",
        "alpha",
        "boil",
        "whirlpool",
        "dry",
        "age",
        "stored",
    ]);
    let place = |part: Part| match part {
        Part::Fermentable(at) if at < malts => ("fermentable", Some(at)),
        Part::Fermentable(at) => ("sugar", Some(at - malts)),
        Part::Hop(at) => ("hop", Some(at)),
        Part::Other(at) => ("other", Some(at)),
    };
    let amounts = |kind| (kind, None, Touch::Keys(&["amount"]));
    let (place, touch) = match change {
        RecipeChange::Amount { part, .. } => (place(*part), Touch::Keys(&["amount"])),
        RecipeChange::LeaveOut(part) => (place(*part), Touch::Whole),
        RecipeChange::SwapFermentable { at, .. } => (place(Part::Fermentable(*at)), SWAP),
        RecipeChange::SwapHop { at, .. } => (("hop", Some(*at)), SWAP),
        RecipeChange::Yeast(_) => (
            ("yeast", None),
            Touch::Keys(&["name", "attenuation", "temperature"]),
        ),
        RecipeChange::HopTime { at, .. } => (
            ("hop", Some(*at)),
            Touch::Keys(&["boil", "whirlpool", "dry"]),
        ),
        RecipeChange::Mash(_) => (("mash", None), Touch::Keys(&["temperature"])),
        RecipeChange::Fermentation(_) => (("yeast", None), Touch::Keys(&["temperature"])),
        RecipeChange::Carbonation(_) => (("carbonation", None), Touch::Keys(&["target"])),
        RecipeChange::Volume(_) => {
            return vec![
                amounts("fermentable"),
                amounts("sugar"),
                amounts("hop"),
                amounts("other"),
                ("", None, Touch::Keys(&["volume"])),
            ];
        }
        RecipeChange::AddFermentable(_) | RecipeChange::AddHop(_) | RecipeChange::AddOther(_) => {
            return Vec::new();
        }
    };
    vec![(place.0, place.1, touch)]
}

/// The lines with letters on them that no change touches. A sugar's header may become that of a malt.
fn untouched<'t>(document: &'t str, changes: &[RecipeChange]) -> Vec<&'t str> {
    let lines: Vec<&str> = document.lines().collect();
    let blocks = blocks(&lines);
    let malts = blocks.iter().filter(|it| it.0 == "fermentable").count();
    let mut gone: Vec<(&str, Option<usize>, Touch)> =
        changes.iter().flat_map(|it| touched(it, malts)).collect();
    gone.push(("", None, Touch::Keys(&["version", "parent", "reason"])));
    let key_of = |line: &str| line.split('=').next().unwrap().trim().to_owned();
    let mut kept = Vec::new();
    for (kind, place, own) in &blocks {
        let mut own = own.clone();
        own.sort_unstable();
        for line in own.into_iter().map(|it| lines[it]) {
            let is_gone = gone.iter().any(|(of, at, touch)| {
                let here = of == kind && at.is_none_or(|at| at == *place);
                here && match touch {
                    Touch::Whole => true,
                    Touch::Keys(keys) => keys.contains(&key_of(line).as_str()),
                }
            });
            if !is_gone && !line.trim().is_empty() && !line.starts_with("[[sugar]]") {
                kept.push(line);
            }
        }
    }
    kept
}

/// Whether the lines stand in the text, unchanged and in this order.
fn stand_in(wanted: &[&str], text: &str) -> Result<(), String> {
    let mut lines = text.lines();
    for wanted in wanted {
        if !lines.any(|it| it == *wanted) {
            return Err((*wanted).to_owned());
        }
    }
    Ok(())
}

fn draws() -> impl Strategy<Value = Vec<Draw>> {
    let one = (0..KINDS, 0..8_usize, 0..200_usize, 0.0..1.0);
    proptest::collection::vec(one, 1..4)
}

#[test]
fn every_kind_of_change_reads_back_in_every_form_of_document() {
    for document in documents() {
        let recipe = read(&document);
        let mut made = 0;
        for kind in 0..KINDS {
            for place in 0..6 {
                for size in [0.05, 0.55, 0.95] {
                    let Some(change) = change((kind, place, place * 7, size), &recipe) else {
                        continue;
                    };
                    let text = changed(&document, std::slice::from_ref(&change));
                    let meant = meant(&document, std::slice::from_ref(&change));
                    assert_eq!(read(&text), meant, "{change:#?}\n{text}");
                    made += 1;
                }
            }
        }
        assert!(made > 100, "{made} changes of\n{document}");
    }
}

#[test]
fn every_ingredient_of_the_catalogue_is_found_again_by_the_name_it_is_written_with() {
    let catalogue = &kitchen().1;
    for place in 0..catalogue.fermentables().len() {
        let by = fermentable(place, 0.1);
        check(SMALL, &[RecipeChange::AddFermentable(by)]);
    }
    for place in 0..catalogue.hops().len() {
        check(SMALL, &[RecipeChange::AddHop(hop(place, 0.1))]);
    }
    for place in 0..catalogue.yeasts().len() {
        check(SMALL, &[RecipeChange::Yeast(yeast(place, 0.5))]);
    }
    for place in 0..catalogue.others().len() {
        check(SMALL, &[RecipeChange::AddOther(other(place, 0.1))]);
    }
}

fn check(document: &str, changes: &[RecipeChange]) {
    let text = changed(document, changes);
    assert_eq!(read(&text), meant(document, changes), "{text}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn lists_of_changes_read_back_and_touch_no_other_line(which in 0..7_usize, draws in draws()) {
        let all = with_headers();
        let document = &all[which % all.len()];
        let recipe = read(document);
        let changes: Vec<RecipeChange> = draws.into_iter().filter_map(|it| change(it, &recipe)).collect();
        let text = changed(document, &changes);
        prop_assert_eq!(read(&text), meant(document, &changes), "{}", text);
        prop_assert_eq!(stand_in(&untouched(document, &changes), &text), Ok(()), "{}", text);
    }

    #[test]
    fn lists_of_changes_read_back_from_braces_dots_and_foreign_line_ends(which in 7..12_usize, draws in draws()) {
        let all = documents();
        let document = &all[which % all.len()];
        let recipe = read(document);
        let changes: Vec<RecipeChange> = draws.into_iter().filter_map(|it| change(it, &recipe)).collect();
        let text = changed(document, &changes);
        prop_assert_eq!(read(&text), meant(document, &changes), "{}", text);
    }

    #[test]
    fn no_text_at_all_makes_it_panic(text in "\\PC{0,200}|[a-z\\[\\]{}=,.\"#\n ]{0,120}") {
        let changes = [RecipeChange::Mash(Celsius::new(66.0).unwrap()), RecipeChange::AddHop(hop(1, 0.1))];
        // Most of it is no recipe; what is written of the rest is not looked at.
        drop(changed_document(&text, &changes, &head()));
    }
}

#[test]
fn without_a_change_only_the_head_is_another() {
    let text = changed(EXAMPLE, &[]);
    let wanted = EXAMPLE
        .replacen("version = \"2\"", "version = \"3\"", 1)
        .replacen("parent = \"1\"", "parent = \"2\"", 1)
        .replacen(
            "reason = \"less roast\"             # optional: why this version was made\n",
            "reason = \"a \\\"softer\\\" end \\\\ more toast\"             # optional: why this version was made\n\
             # expected: toast 3 -> 5\n# expected: length 20 s -> 12 s\n",
            1,
        );
    assert_eq!(text, wanted);
}

#[test]
fn keys_of_the_head_that_are_missing_come_after_the_version() {
    let text = changed(SMALL, &[]);
    let wanted = "name = \"Small\"\nversion = \"3\"\nparent = \"2\"\nreason = \"a \\\"softer\\\" end \\\\ more toast\"\n\
                  # expected: toast 3 -> 5\n# expected: length 20 s -> 12 s\nvolume = \"5 L\"\n[[ferm";
    assert!(text.starts_with(wanted), "{text}");
}

#[test]
fn what_was_expected_of_the_old_version_gives_way() {
    let first = changed(EXAMPLE, &[]);
    let mut head = head();
    head.expected = vec!["bitter 5 -> 4\nsecond line".to_owned()];
    let second = changed_document(&first, &[], &head).unwrap();
    let told: Vec<&str> = second
        .lines()
        .filter(|it| it.contains("expected:"))
        .collect();
    assert_eq!(told, ["# expected: bitter 5 -> 4 second line"]);
}

#[test]
fn a_changed_value_keeps_its_comment_and_its_unit() {
    let part = Part::Fermentable(0);
    let to = |it| RecipeChange::Amount {
        part,
        to: Grams::new(it).unwrap(),
    };
    let commented = EXAMPLE.replace("\"1.1 kg\"", "\"1.1 kg\"   # a full bag");
    let text = changed(&commented, &[to(950.0)]);
    assert!(
        text.contains("amount = \"0.95 kg\"   # a full bag\n"),
        "{text}"
    );
    let text = changed(&commented, &[to(950.5)]);
    assert!(
        text.contains("amount = \"950.5 g\"   # a full bag\n"),
        "{text}"
    );
    let dry = HopTime::Dry {
        days: Days::new(3.0).unwrap(),
        temperature: None,
    };
    let text = changed(EXAMPLE, &[RecipeChange::HopTime { at: 0, when: dry }]);
    let wanted = "dry = \"3 days\"                   # exactly one of boil";
    assert!(text.contains(wanted), "{text}");
}

#[test]
fn a_table_goes_with_the_comments_that_belong_to_it() {
    let text = changed(MIXED, &[RecipeChange::LeaveOut(Part::Hop(0))]);
    let wanted = "yeast.attenuation = \"77 %\"\n\n# The grist.\n[[fermentable]]\n";
    assert!(text.contains(wanted), "{text}");
    assert!(
        !text.contains("Weighed") && !text.contains("The first hop"),
        "{text}"
    );
    let text = changed(MIXED, &[RecipeChange::LeaveOut(Part::Fermentable(3))]);
    assert!(
        !text.contains("Below honey") && text.contains("50 g"),
        "{text}"
    );
}

#[test]
fn a_new_table_stands_below_the_last_of_its_kind_with_its_keys_in_the_usual_order() {
    let mut by = hop(3, 0.9);
    by.hop = kitchen().1.hops()[0].clone();
    by.amount = Grams::new(15.7).unwrap();
    let name = by.hop.identity.name.clone();
    let text = changed(EXAMPLE, &[RecipeChange::AddHop(by)]);
    let wanted = format!(
        "dry = \"3 days at 18 °C\"           # or only \"3 days\"\n\n\
         [[hop]]\nname = \"{name}\"\namount = \"15.7 g\"\nalpha = \"9 %\"\nboil = \"60 min\"\n\
         age = \"540 days\"\nstored = \"fridge\"\n\n[yeast]\n"
    );
    assert!(text.contains(&wanted), "{text}");
}

#[test]
fn the_values_of_the_old_packet_go_with_it() {
    let mut by = hop(0, 0.1);
    by.hop = kitchen().1.hops()[5].clone();
    let text = changed(EXAMPLE, &[RecipeChange::SwapHop { at: 0, by }]);
    for gone in ["3.4 %", "8 months", "stored"] {
        assert!(!text.contains(gone), "{gone} in {text}");
    }
}

#[test]
fn an_ingredient_that_the_recipe_declares_is_found_and_one_of_another_recipe_is_refused() {
    let recipe = read(EXAMPLE);
    let by = HopUse {
        hop: recipe.hops[2].hop.clone(),
        ..hop(0, 0.1)
    };
    let swap = [RecipeChange::SwapHop { at: 0, by }];
    check(EXAMPLE, &swap);
    let refused = changed_document(MIXED, &swap, &head());
    let name = "Neighbour's hop".to_owned();
    assert_eq!(refused, Err(EditProblem::Undeclared { name }));
}

#[test]
fn a_declared_name_does_not_hide_an_ingredient_of_the_catalogue() {
    let named = |name: &str| {
        let mut all = kitchen().1.hops().iter();
        let hop = all.find(|it| it.identity.name == name).unwrap().clone();
        [RecipeChange::AddHop(HopUse {
            hop,
            ..self::hop(0, 0.1)
        })]
    };
    let declaring = |name: &str| format!("{SMALL}\n[[declare.hop]]\nname = \"{name}\"\n");
    check(&declaring("Northern Brewer"), &named("Northern Brewer"));
    let all = kitchen().1.hops().iter();
    let without_other_name = all
        .map(|it| &it.identity)
        .find(|it| it.synonyms.is_empty() && it.id.as_str() == it.name.to_lowercase());
    let name = without_other_name.unwrap().name.clone();
    let refused = changed_document(&declaring(&name), &named(&name), &head());
    assert_eq!(refused, Err(EditProblem::Hidden { name }));
}

#[test]
fn a_malt_after_sugars_is_written_where_the_reader_finds_it_last() {
    let malt = |it: &&thirdglass::domain::Fermentable| it.identity.name == "Chocolate malt";
    let malt = kitchen()
        .1
        .fermentables()
        .iter()
        .find(malt)
        .unwrap()
        .clone();
    let add = RecipeChange::AddFermentable(FermentableUse {
        fermentable: malt,
        ..fermentable(0, 0.1)
    });
    check(MIXED, std::slice::from_ref(&add));
    let above = MIXED.replace("[[sugar]] # for", "[[fermentable]] # for");
    let above = above.replacen(
        "# The grist.",
        "[[sugar]]\nname = \"White sugar\"\namount = \"5 g\"\n",
        1,
    );
    let refused = changed_document(&above, &[add], &head()).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "the recipe cannot be changed: a malt is to come after a sugar that stands above the malts or in a list in \
         brackets; write each malt under [[fermentable]] and each sugar under [[sugar]] below them"
    );
}

#[test]
fn foreign_line_ends_and_a_byte_order_mark_stay() {
    let foreign = format!("\u{feff}{}", EXAMPLE.replace('\n', "\r\n"));
    let text = changed(&foreign, &[RecipeChange::AddHop(hop(3, 0.9))]);
    assert!(text.starts_with("\u{feff}# A recipe"));
    assert_eq!(text.matches('\n').count(), text.matches("\r\n").count());
}

#[test]
fn what_is_no_recipe_is_not_changed() {
    for text in [
        "",
        "name = ",
        "volume = 5",
        "volume = \"5 L\"\nhop = 3",
        "volume = \"5 L\"\nmash = 3",
    ] {
        let refused = changed_document(text, &[], &head());
        assert!(
            matches!(refused, Err(EditProblem::NotRead { .. })),
            "{text}: {refused:?}"
        );
    }
}
