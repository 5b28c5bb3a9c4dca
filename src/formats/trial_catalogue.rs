//! A tiny wheel and a tiny catalogue for the tests of this room.

use proptest::prelude::Strategy;
use proptest::prelude::any;

use crate::domain::Catalogue;
use crate::domain::Wheel;
use crate::formats::read_catalogue;
use crate::formats::read_wheel;

/// A place with three shelves of three words.
pub(crate) fn wheel_text() -> String {
    let place =
        "[place]\nid = \"bakery\"\nname = \"Bakery\"\nmet = \"Where flour is kept and baked.\"\n";
    let shelves = [
        ("toasted", "Toasted"),
        ("sweets", "Sweets"),
        ("fruit", "Fruit bowl"),
    ];
    let words = [
        ("toast", "toast", "toasted", "scorched bread"),
        ("bread-crust", "bread crust", "toasted", "crust"),
        ("cracker", "cracker", "toasted", "crispbread"),
        ("honey", "honey", "sweets", "honeycomb"),
        ("caramel", "caramel", "sweets", "browned candy"),
        ("vanilla", "vanilla", "sweets", "custard pod"),
        ("orange-peel", "orange peel", "fruit", "orange zest"),
        ("cut-grass", "cut grass", "fruit", "mown lawn"),
        ("pepper", "pepper", "fruit", "peppercorn"),
    ];
    let mut text = place.to_owned();
    for (id, name) in shelves {
        text = [
            text,
            format!("\n[[shelf]]\nid = \"{id}\"\nname = \"{name}\"\nmet = \"What stands here.\"\n"),
        ]
        .concat();
    }
    for (index, (id, word, shelf, synonym)) in words.iter().enumerate() {
        let other = words[(index + 1) % words.len()].0;
        text = [text, format!(
            "\n[[descriptor]]\nid = \"{id}\"\nshelf = \"{shelf}\"\nword = \"{word}\"\nsynonyms = [\"{synonym}\"]\n\
             misspellings = []\ndefinition = \"Number {index} of what one meets.\"\nstages = [\"aroma\"]\n\
             [[descriptor.look_alike]]\nid = \"{other}\"\ntell = \"The other one is another.\"\n\
             [descriptor.jar]\nitem = \"A sample\"\nhow = \"Close it in a jar.\"\nuse = \"sniff\"\n\
             keeps = \"one day\"\nallergens = []\ncautions = []\n"
        )].concat();
    }
    text
}

/// The wheel of [`wheel_text`].
pub(crate) fn wheel() -> Wheel {
    read_wheel(&[("wheel.toml", &wheel_text())]).unwrap()
}

/// Ingredients enough for the example.
pub(crate) const CATALOGUE: &str = r#"
[[fermentable]]
id = "pale-ale-malt"
name = "Pale ale malt"
synonyms = ["pale malt"]
family = "base"
goes = "mash"
extract = [0.76, 0.79, 0.81]
colour = [5, 6.5, 8]
ferments = "as-wort"
allergens = ["gluten"]
source = "made up for a test"

[[fermentable]]
id = "chocolate-malt"
name = "Chocolate malt"
synonyms = []
family = "roasted"
goes = "mash"
extract = [0.6, 0.65, 0.7]
colour = [700, 900, 1100]
ferments = "as-wort"
allergens = ["gluten"]
source = "made up for a test"

[[fermentable]]
id = "table-sugar"
name = "Table sugar"
synonyms = ["sugar"]
family = "sugar"
goes = "dissolved"
extract = [1, 1, 1]
colour = [0, 0, 1]
ferments = "wholly"
allergens = []
source = "made up for a test"

[[hop]]
id = "saaz"
name = "Saaz"
synonyms = []
alpha = [2.5, 3.5, 4.5]
source = "made up for a test"

[[yeast]]
id = "clean-ale"
name = "Clean ale yeast"
synonyms = []
character = "Little of its own."
attenuation = [73, 77, 81]
temperature = [17, 19, 22]
ready_days = [14, 21, 120]
diastatic = false
source = "made up for a test"

[[other]]
id = "coriander-seed"
name = "Coriander seed"
synonyms = []
kind = "spice"
usual = [0.5, 1, 3]
allergens = []
source = "made up for a test"
"#;

/// The catalogue of [`CATALOGUE`].
pub(crate) fn catalogue() -> Catalogue {
    read_catalogue(&[("catalogue.toml", CATALOGUE)], &[], &wheel()).unwrap()
}

/// A text with one slip: a piece cut out anywhere, and up to six letters put in its place.
pub(crate) fn with_a_slip(text: String) -> impl Strategy<Value = String> {
    let put = "[\\PC\n\"\\[\\]=#.0-9a]{0,6}";
    (any::<usize>(), 0..60_usize, put).prop_map(move |(at, cut, put)| {
        let mut letters: Vec<char> = text.chars().collect();
        let at = at % letters.len();
        let end = (at + cut).min(letters.len());
        letters.splice(at..end, put.chars());
        letters.into_iter().collect()
    })
}
