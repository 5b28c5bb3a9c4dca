//! The facts of the trade that the model is held to, each with its source.

/// What is compared.
#[derive(Debug, Clone, Copy)]
pub(super) enum Of {
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
pub(super) struct Fact {
    pub(super) says: &'static str,
    pub(super) source: &'static str,
    pub(super) less: &'static str,
    pub(super) more: &'static str,
    pub(super) of: Of,
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
pub(super) static FACTS: &[Fact] = &[
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
