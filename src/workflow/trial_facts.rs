//! Facts of the trade: of two brews that differ in one thing, which one has more of what.

use crate::domain::BatchEntry;
use crate::domain::BatchEntryId;
use crate::domain::Day;
use crate::domain::EntryKind;
use crate::domain::Moment;
use crate::domain::Stage;
use crate::workflow::BatchLog;
use crate::workflow::Home;
use crate::workflow::figures;

/// What is compared.
#[derive(Debug, Clone, Copy)]
enum Of {
    /// A figure, such as alcohol.
    Figure(&'static str),
    /// A scale of the profile.
    Scale(&'static str),
    /// Flavour units of a shelf in the nose.
    Smell(&'static str),
    /// Flavour units of a shelf in the mouth.
    Taste(&'static str),
}

/// One fact: the second brew has more of it than the first.
struct Fact {
    says: &'static str,
    source: &'static str,
    less: &'static str,
    more: &'static str,
    of: Of,
}

const fn fact(
    says: &'static str,
    source: &'static str,
    [less, more]: [&'static str; 2],
    of: Of,
) -> Fact {
    Fact {
        says,
        source,
        less,
        more,
        of,
    }
}

const COMMON: &str = "common practice";
const PALMER: &str = "Palmer & Kaminski 2013 (water)";
const TINSETH: &str = "Tinseth 1997";

/// The facts.
static FACTS: &[Fact] = &[
    fact(
        "mashing hotter leaves more body",
        COMMON,
        ["mash 64", "mash 70"],
        Of::Scale("fullness"),
    ),
    fact(
        "mashing cooler gives more alcohol",
        COMMON,
        ["mash 70", "mash 64"],
        Of::Figure("alcohol"),
    ),
    fact(
        "mashing hotter ends at a higher gravity",
        COMMON,
        ["mash 64", "mash 70"],
        Of::Figure("final-gravity"),
    ),
    fact(
        "mashing cooler ends drier",
        COMMON,
        ["mash 70", "mash 64"],
        Of::Scale("dryness"),
    ),
    fact(
        "mashing hotter leaves more sweetness",
        COMMON,
        ["mash 64", "mash 70"],
        Of::Scale("sweet"),
    ),
    fact(
        "more malt gives more alcohol",
        COMMON,
        ["malt Pale malt 800", "malt Pale malt 1200"],
        Of::Figure("alcohol"),
    ),
    fact(
        "sugar instead of malt leaves less body",
        COMMON,
        [
            "malt Pale malt 1000",
            "malt Pale malt 800; sugar White sugar 150",
        ],
        Of::Scale("dryness"),
    ),
    fact(
        "lactose sweetens",
        COMMON,
        ["sugar White sugar 60", "sugar Lactose 60"],
        Of::Scale("sweet"),
    ),
    fact(
        "lactose is not fermented",
        COMMON,
        ["sugar White sugar 100", "sugar Lactose 100"],
        Of::Figure("final-gravity"),
    ),
    fact(
        "crystal malt sweetens",
        COMMON,
        ["malt Pale malt 100", "malt Crystal malt, medium 100"],
        Of::Scale("sweet"),
    ),
    fact(
        "crystal malt ferments less far",
        COMMON,
        ["malt Pale malt 200", "malt Crystal malt, medium 200"],
        Of::Figure("final-gravity"),
    ),
    fact(
        "crystal malt darkens",
        "Morey 1995",
        ["malt Pale malt 100", "malt Crystal malt, medium 100"],
        Of::Figure("colour"),
    ),
    fact(
        "chocolate malt darkens more than crystal malt",
        "Morey 1995",
        ["malt Crystal malt, medium 60", "malt Chocolate malt 60"],
        Of::Figure("colour"),
    ),
    fact(
        "the same hops bitter more in an hour than in twenty minutes",
        TINSETH,
        ["hop Saaz 15 boil 20", "hop Saaz 15 boil 60"],
        Of::Figure("bitterness"),
    ),
    fact(
        "the same hops smell more after twenty minutes than after an hour",
        "Kishimoto 2008",
        ["hop Cascade 15 boil 60", "hop Cascade 15 boil 20"],
        Of::Smell("grapefruit"),
    ),
    fact(
        "hops of the last minutes smell more than those of the last twenty",
        "Kishimoto 2008",
        ["hop Cascade 15 boil 20", "hop Cascade 15 boil 3"],
        Of::Smell("grapefruit"),
    ),
    fact(
        "a dry hop smells more than one of the last minutes",
        "Forster & Gahr 2013",
        ["hop Cascade 15 boil 3", "hop Cascade 15 dry 3"],
        Of::Smell("grapefruit"),
    ),
    fact(
        "a stand bitters more than a dry hop",
        "Malowicki & Shellhammer 2005",
        ["hop Saaz 15 dry 3", "hop Saaz 15 stand 90 20"],
        Of::Figure("bitterness"),
    ),
    fact(
        "a hotter stand bitters more",
        "Malowicki & Shellhammer 2005",
        ["hop Saaz 15 stand 75 20", "hop Saaz 15 stand 95 20"],
        Of::Figure("bitterness"),
    ),
    fact(
        "a longer stand bitters more",
        "Malowicki & Shellhammer 2005",
        ["hop Saaz 15 stand 90 10", "hop Saaz 15 stand 90 30"],
        Of::Figure("bitterness"),
    ),
    fact(
        "strong wort takes up less bitterness",
        TINSETH,
        [
            "malt Pale malt 1000; hop Saaz 15 boil 60",
            "hop Saaz 15 boil 60; weak",
        ],
        Of::Figure("bitterness"),
    ),
    fact(
        "more hops are more bitter",
        TINSETH,
        ["hop Saaz 10 boil 60", "hop Saaz 20 boil 60"],
        Of::Scale("bitter"),
    ),
    fact(
        "a heavy dry hop makes a mild beer bitterer to the tongue",
        "Maye et al. 2016, from memory",
        [
            "hop Saaz 5 boil 60",
            "hop Saaz 5 boil 60; hop Cascade 40 dry 3",
        ],
        Of::Scale("bitter"),
    ),
    fact(
        "dry hops cloud",
        COMMON,
        [
            "hop Saaz 5 boil 60",
            "hop Saaz 5 boil 60; hop Cascade 40 dry 3",
        ],
        Of::Scale("haze"),
    ),
    fact(
        "a heavy dry hop roughens",
        "Kunze, Palmer (long hop contact)",
        [
            "hop Saaz 5 boil 60",
            "hop Saaz 5 boil 60; hop Cascade 40 dry 3",
        ],
        Of::Scale("astringency"),
    ),
    fact(
        "sulphate dries",
        PALMER,
        ["water sulphate 40", "water sulphate 250"],
        Of::Scale("dryness"),
    ),
    fact(
        "gypsum dries, whether or not the water is known",
        PALMER,
        ["", "other Gypsum 1"],
        Of::Scale("dryness"),
    ),
    fact(
        "gypsum comes on top of the water",
        PALMER,
        ["water sulphate 40", "water sulphate 40; other Gypsum 1"],
        Of::Scale("dryness"),
    ),
    fact(
        "calcium chloride rounds",
        PALMER,
        ["", "other Calcium chloride 1"],
        Of::Scale("smoothness"),
    ),
    fact(
        "salt salts",
        COMMON,
        ["", "other Table salt 3"],
        Of::Scale("salty"),
    ),
    fact(
        "sulphate sharpens bitterness",
        PALMER,
        [
            "hop Saaz 15 boil 60; water sulphate 40",
            "hop Saaz 15 boil 60; water sulphate 250",
        ],
        Of::Scale("bitter"),
    ),
    fact(
        "chloride rounds",
        PALMER,
        ["water chloride 20", "water chloride 150"],
        Of::Scale("smoothness"),
    ),
    fact(
        "chloride sweetens",
        PALMER,
        ["water chloride 20", "water chloride 150"],
        Of::Scale("sweet"),
    ),
    fact(
        "sodium salts",
        PALMER,
        ["water sodium 10", "water sodium 200"],
        Of::Scale("salty"),
    ),
    fact(
        "oats cloud",
        COMMON,
        ["malt Pale malt 200", "malt Flaked oats 200"],
        Of::Scale("haze"),
    ),
    fact(
        "oats fill the mouth",
        "Moreno Ravelo et al. 2025 (β-glucan)",
        ["malt Pale malt 200", "malt Flaked oats 200"],
        Of::Scale("fullness"),
    ),
    fact(
        "oats smooth",
        COMMON,
        ["malt Pale malt 200", "malt Flaked oats 200"],
        Of::Scale("smoothness"),
    ),
    fact(
        "wheat clouds",
        COMMON,
        ["malt Pale malt 300", "malt Wheat malt, pale 300"],
        Of::Scale("haze"),
    ),
    fact(
        "wheat holds the foam",
        COMMON,
        ["malt Pale malt 300", "malt Wheat malt, pale 300"],
        Of::Scale("head-retention"),
    ),
    fact(
        "roast roughens",
        "Kunze, Palmer (roasted grain in excess)",
        ["malt Pale malt 80", "malt Roasted barley 80"],
        Of::Scale("astringency"),
    ),
    fact(
        "roasted barley smells of coffee",
        "Coghe 2004",
        ["malt Pale malt 80", "malt Roasted barley 80"],
        Of::Smell("coffee"),
    ),
    fact(
        "chocolate malt tastes of cocoa",
        "Coghe 2004",
        ["malt Pale malt 80", "malt Chocolate malt 80"],
        Of::Taste("cocoa"),
    ),
    fact(
        "smoked malt smells of smoke",
        COMMON,
        ["malt Pale malt 300", "malt Beech-smoked malt 300"],
        Of::Smell("smoke"),
    ),
    fact(
        "more gas prickles more",
        "Langstaff & Lewis 1993",
        ["gas 2.0", "gas 3.0"],
        Of::Scale("carbonation"),
    ),
    fact(
        "gas masks sweetness",
        "Langstaff & Lewis 1993",
        ["gas 3.0", "gas 2.0"],
        Of::Scale("sweet"),
    ),
    fact(
        "gas thins the body",
        "Langstaff, Guinard & Lewis 1991",
        ["gas 3.0", "gas 2.0"],
        Of::Scale("fullness"),
    ),
    fact(
        "much alcohol warms",
        COMMON,
        ["malt Pale malt 1000", "malt Pale malt 2000"],
        Of::Scale("alcohol-warmth"),
    ),
    fact(
        "warmer fermentation of a banana yeast raises its esters",
        "Kucharczyk & Tuszyński 2018",
        [
            "yeast Wheat beer yeast, banana at 17",
            "yeast Wheat beer yeast, banana at 23",
        ],
        Of::Smell("soft-tropical"),
    ),
    fact(
        "a clove yeast smells of clove, a clean one does not",
        "Verstrepen 2003",
        [
            "yeast Clean ale yeast at 19",
            "yeast Wheat beer yeast, clove at 19",
        ],
        Of::Smell("warm-spices"),
    ),
    fact(
        "sparging too hot roughens",
        "Kunze (above 77 to 78 °C)",
        ["log sparge-temperature 76", "log sparge-temperature 84"],
        Of::Scale("astringency"),
    ),
    fact(
        "old hops smell less",
        "Foods 2022 11:1310",
        ["hop Cascade 15 dry 3 old", "hop Cascade 15 dry 3"],
        Of::Smell("grapefruit"),
    ),
    fact(
        "lactic acid sours",
        COMMON,
        ["other Coriander seed 3", "other Lactic acid, 80 % 8"],
        Of::Scale("sour"),
    ),
    fact(
        "a souring culture sours",
        COMMON,
        [
            "yeast Clean ale yeast at 19",
            "yeast Mixed sour culture at 19",
        ],
        Of::Scale("sour"),
    ),
    fact(
        "coriander brings its shelf",
        COMMON,
        ["other Juniper berries 3", "other Coriander seed 3"],
        Of::Smell("seed-spices"),
    ),
    fact(
        "weeks in the bottle lower hop aroma",
        "Peacock & Deinzer 1988",
        [
            "hop Cascade 15 dry 3; weeks 26",
            "hop Cascade 15 dry 3; weeks 3",
        ],
        Of::Smell("grapefruit"),
    ),
    fact(
        "weeks in the bottle bring cardboard",
        COMMON,
        ["weeks 2", "weeks 30"],
        Of::Smell("paper-and-card"),
    ),
    fact(
        "a warm store ages faster than a cold one",
        COMMON,
        [
            "weeks 20; log storage-temperature 8",
            "weeks 20; log storage-temperature 28",
        ],
        Of::Smell("paper-and-card"),
    ),
    fact(
        "air after pitching stales",
        "common practice: oxygen is welcome at pitching only",
        ["weeks 12", "weeks 12; log splashed 2"],
        Of::Smell("paper-and-card"),
    ),
    fact(
        "daylight brings skunk",
        "Goldstein 1993",
        ["", "log daylight 30"],
        Of::Smell("rubber-and-plastic"),
    ),
    fact(
        "bitterness fades in the bottle",
        "De Cooman et al. 2000, from memory",
        [
            "hop Saaz 15 boil 60; weeks 40",
            "hop Saaz 15 boil 60; weeks 3",
        ],
        Of::Scale("bitter"),
    ),
    fact(
        "old hops bring cheese",
        COMMON,
        ["hop Cascade 15 boil 60", "hop Cascade 15 boil 60 old"],
        Of::Smell("cheese"),
    ),
    fact(
        "old hops bitter less",
        "Foods 2022 11:1310",
        ["hop Cascade 15 boil 60 old", "hop Cascade 15 boil 60"],
        Of::Figure("bitterness"),
    ),
    fact(
        "a short boil leaves sweetcorn",
        COMMON,
        [
            "malt Pilsner malt 1000; log boil-time 90",
            "malt Pilsner malt 1000; log boil-time 30",
        ],
        Of::Smell("boiled"),
    ),
    fact(
        "a lid on the boil keeps sweetcorn in",
        COMMON,
        [
            "malt Pilsner malt 1000",
            "malt Pilsner malt 1000; log boil-covered 40",
        ],
        Of::Smell("boiled"),
    ),
    fact(
        "slow chilling leaves sweetcorn",
        COMMON,
        [
            "malt Pilsner malt 1000; log cooling-time 15",
            "malt Pilsner malt 1000; log cooling-time 90",
        ],
        Of::Smell("boiled"),
    ),
    fact(
        "slow chilling goes on bittering",
        "Malowicki & Shellhammer 2005",
        [
            "hop Saaz 15 boil 60; log cooling-time 15",
            "hop Saaz 15 boil 60; log cooling-time 90",
        ],
        Of::Figure("bitterness"),
    ),
    fact(
        "a stand that is held hot bitters more than one that cools",
        "Malowicki & Shellhammer 2005",
        ["hop Saaz 15 cools 95 75 30", "hop Saaz 15 stand 95 30"],
        Of::Figure("bitterness"),
    ),
    fact(
        "a hotter stand keeps less of the flowers",
        "common practice, Forster & Gahr 2013",
        ["hop Cascade 15 stand 95 20", "hop Cascade 15 stand 78 20"],
        Of::Smell("grapefruit"),
    ),
    fact(
        "a dry hop of three days gives more than one of half a day",
        "Wolfe 2012",
        ["hop Cascade 15 dry 0.5", "hop Cascade 15 dry 3"],
        Of::Smell("grapefruit"),
    ),
    fact(
        "little yeast raises esters",
        "Verstrepen 2003",
        [
            "yeast Wheat beer yeast, banana at 20; log pitching-rate 15",
            "yeast Wheat beer yeast, banana at 20; log pitching-rate 4",
        ],
        Of::Smell("soft-tropical"),
    ),
    fact(
        "strong wort raises esters beyond its strength",
        "Saerens 2010",
        [
            "malt Pale malt 1000; yeast Wheat beer yeast, banana at 20",
            "malt Pale malt 2000; yeast Wheat beer yeast, banana at 20",
        ],
        Of::Smell("soft-tropical"),
    ),
    fact(
        "an alkaline sparge roughens",
        "Palmer (sparge pH above 5.8 to 6)",
        ["log sparge-ph 5.5", "log sparge-ph 6.5"],
        Of::Scale("astringency"),
    ),
    fact(
        "chloride fills",
        PALMER,
        ["water chloride 20", "water chloride 150"],
        Of::Scale("fullness"),
    ),
    fact(
        "chloride softens bitterness",
        PALMER,
        [
            "hop Saaz 15 boil 60; water chloride 200",
            "hop Saaz 15 boil 60; water chloride 20",
        ],
        Of::Scale("bitter"),
    ),
    fact(
        "finings clear",
        COMMON,
        ["other Irish moss 1", "other Coriander seed 1"],
        Of::Scale("haze"),
    ),
    fact(
        "cold brings chill haze",
        COMMON,
        ["log storage-temperature 14", "log storage-temperature 1"],
        Of::Scale("haze"),
    ),
    fact(
        "rye fills the mouth",
        "Moreno Ravelo et al. 2025 (β-glucan)",
        ["malt Pale malt 300", "malt Rye malt 300"],
        Of::Scale("fullness"),
    ),
];

/// A recipe of 5 litres put together from pieces such as `malt Pale malt 1000; mash 66`.
fn recipe(pieces: &str) -> String {
    let mut tables = vec![Vec::new(); 4];
    let (mut mash, mut gas, mut yeast) = ("66", "2.4", "name = \"Clean ale yeast\"".to_owned());
    let mut base = true;
    let of_recipe = |it: &&str| !it.starts_with("log ") && !it.starts_with("weeks ");
    for piece in pieces.split("; ").filter(of_recipe) {
        let (kind, rest) = piece.split_once(' ').unwrap_or((piece, ""));
        let (name, amount) = rest.rsplit_once(' ').unwrap_or((rest, ""));
        match kind {
            "mash" => mash = rest,
            "gas" => gas = rest,
            "" => {}
            "weak" => base = false,
            "malt" => {
                base &= name != "Pale malt";
                tables[0].push(format!(
                    "[[fermentable]]\nname = \"{name}\"\namount = \"{amount} g\"\n"
                ));
            }
            "sugar" => {
                tables[0].push(format!(
                    "[[sugar]]\nname = \"{name}\"\namount = \"{amount} g\"\n"
                ));
            }
            "hop" => tables[1].push(hop(rest)),
            "water" => tables[2].push(format!("[water]\n{name} = {amount}\n")),
            "other" => {
                tables[3].push(format!(
                    "[[other]]\nname = \"{name}\"\namount = \"{amount} g\"\nwhen = \"in the boil\"\n"
                ));
            }
            "yeast" => {
                let (name, at) = rest.split_once(" at ").unwrap();
                yeast = format!("name = \"{name}\"\ntemperature = \"{at} °C\"");
            }
            other => panic!("{other}"),
        }
    }
    let base = match (base, pieces.contains("weak")) {
        (_, true) => "[[fermentable]]\nname = \"Pale malt\"\namount = \"500 g\"\n",
        (true, _) => "[[fermentable]]\nname = \"Pale malt\"\namount = \"1000 g\"\n",
        _ => "",
    };
    let tables: Vec<String> = tables.iter().map(|it| it.concat()).collect();
    let [grist, hops, water, others] = <[String; 4]>::try_from(tables).unwrap();
    format!(
        "name = \"Fact\"\nversion = \"1\"\nvolume = \"5 L\"\n[mash]\ntemperature = \"{mash} °C\"\n{base}{grist}{hops}[yeast]\n{yeast}\n{water}{others}[carbonation]\ntarget = \"{gas} vol\"\n"
    )
}

fn hop(rest: &str) -> String {
    let parts: Vec<&str> = rest.split(' ').collect();
    let when = match parts[2..] {
        ["boil", minutes, ..] => format!("boil = \"{minutes} min\""),
        ["dry", days, ..] => format!("dry = \"{days} days\""),
        ["cools", from, to, minutes, ..] => {
            format!("whirlpool = \"{from} °C to {to} °C for {minutes} min\"")
        }
        ["stand", celsius, minutes, ..] => {
            format!("whirlpool = \"{celsius} °C for {minutes} min\"")
        }
        _ => panic!("{rest}"),
    };
    let age = if parts.last() == Some(&"old") {
        "age = \"3 years\"\nstored = \"shelf\"\n"
    } else {
        ""
    };
    format!(
        "[[hop]]\nname = \"{}\"\namount = \"{} g\"\n{when}\n{age}",
        parts[0], parts[1]
    )
}

fn entry((id, value): (&str, &str)) -> BatchEntry {
    let kind = EntryKind::from_id(id).unwrap();
    BatchEntry {
        id: BatchEntryId::new(id),
        kind,
        value: kind.read(value).unwrap(),
        at: Moment::parse("2026-03-14T18:00:00Z").unwrap(),
    }
}

/// How much of something a brew has.
fn amount(home: &Home, pieces: &str, of: Of) -> f64 {
    let document = recipe(pieces);
    let recipe = home
        .parse_recipe("fact", &document)
        .unwrap_or_else(|error| panic!("{pieces}: {error}\n{document}"));
    let packaged = Day::parse("2026-01-10").unwrap();
    let weeks = pieces.split("; ").find_map(|it| it.strip_prefix("weeks "));
    let weeks = weeks.map(|it| it.parse::<u16>().unwrap());
    let tasted = weeks.map(|it| packaged.days_later(7 * it));
    let logged = pieces.split("; ").filter_map(|it| it.strip_prefix("log "));
    let mut logged: Vec<(&str, &str)> = logged.map(|it| it.split_once(' ').unwrap()).collect();
    logged.extend(weeks.map(|_| ("packaged", "2026-01-10")));
    let log = BatchLog::new(logged.into_iter().map(entry).collect());
    let profile = home.profile_of(&recipe, &log, tasted);
    let units = |shelf: &str, stage: Stage| {
        let id = crate::domain::ShelfId::new(shelf).unwrap();
        assert!(home.wheel().shelf(&id).is_some(), "{shelf}");
        profile.shelf(&id, stage).map_or(0.0, |it| it.odour.units())
    };
    match of {
        Of::Figure(id) => figures(&recipe, &log).get(id).unwrap().value,
        Of::Scale(id) => {
            profile
                .scales
                .iter()
                .find(|it| it.scale.id == id)
                .unwrap()
                .value
        }
        Of::Smell(shelf) => units(shelf, Stage::Aroma),
        Of::Taste(shelf) => units(shelf, Stage::Flavour),
    }
}

#[test]
fn every_fact_of_the_trade_holds_beyond_rounding() {
    let home = Home::trial();
    let mut broken = Vec::new();
    for fact in FACTS {
        assert!(!fact.source.is_empty(), "{}", fact.says);
        let (less, more) = (
            amount(&home, fact.less, fact.of),
            amount(&home, fact.more, fact.of),
        );
        // A thousandth, so that no rounding decides.
        if more - less < 1e-3 * more.abs().max(1e-3) {
            broken.push(format!("{}: {less} and {more}", fact.says));
        }
    }
    assert!(broken.is_empty(), "{}", broken.join("\n"));
    assert!(FACTS.len() >= 45, "{}", FACTS.len());
}

#[test]
fn a_fact_that_is_turned_round_is_found_to_be_wrong() {
    let home = Home::trial();
    let hot = amount(&home, "mash 70", Of::Figure("alcohol"));
    let cool = amount(&home, "mash 64", Of::Figure("alcohol"));
    assert!(hot < cool, "{hot} {cool}");
    assert!(recipe("").contains("1000 g"));
}
