//! The scales on which a glass is rated, each one record: id, stage, unit, question, anchors and steps of the digit keys.

use crate::domain::Allergen;
use crate::domain::Anchors;
use crate::domain::Measure;
use crate::domain::Scale;
use crate::domain::Series;
use crate::domain::Stage;

const fn intensity(
    id: &'static str,
    word: &'static str,
    stage: Stage,
    question: &'static str,
    [low, high]: [&'static str; 2],
    anchors: Option<Anchors>,
) -> Scale {
    Scale {
        id,
        word,
        stage: Some(stage),
        question,
        low,
        high,
        anchors,
        measure: Measure::Intensity,
    }
}

/// Every scale, in the order in which a tasting asks.
pub static SCALES: &[Scale] = &[
    Scale {
        id: "colour",
        word: "Colour",
        stage: Some(Stage::Appearance),
        question: "Which strip looks like your glass, held against white?",
        low: "pale straw",
        high: "black",
        anchors: None,
        measure: Measure::Amount {
            unit: "EBC",
            // Steps of equal ratio, about 1.5, from straw to black: the eye compares ratios.
            steps: [3.0, 4.5, 6.5, 10.0, 15.0, 22.0, 32.0, 48.0, 70.0, 100.0],
            most: 300.0,
        },
    },
    intensity(
        "haze",
        "Haze",
        Stage::Appearance,
        "How hazy is it?",
        ["brilliant", "like milk"],
        Some(Anchors {
            at: [
                "a trace, against bright light only",
                "a thin veil: print behind it stays sharp",
                "like apple juice: print behind it blurs",
                "like cloudy lemonade: nothing is read through it",
                "like milk",
            ],
            series: Some(Series {
                base: "milk in 200 mL of water",
                steps: ["1 drop", "4 drops", "10 drops", "30 drops", "milk alone"],
                allergens: &[Allergen::Milk],
                care: None,
            }),
        }),
    ),
    Scale {
        id: "head",
        word: "Head height",
        stage: Some(Stage::Appearance),
        question: "How high is the foam? One finger is about 15 mm.",
        low: "no foam",
        high: "45 mm or more",
        anchors: None,
        measure: Measure::Amount {
            unit: "mm",
            steps: [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0],
            most: 200.0,
        },
    },
    intensity(
        "bubbles",
        "Bubbles",
        Stage::Appearance,
        "How lively are the bubbles in the glass?",
        ["still", "streaming"],
        Some(Anchors {
            at: [
                "a single string now and then",
                "a few thin strings",
                "steady strings, like sparkling water after ten minutes",
                "lively, like sparkling water just poured",
                "streaming, like lemonade just poured",
            ],
            series: None,
        }),
    ),
    Scale {
        id: "head-retention",
        word: "Head retention",
        stage: Some(Stage::Appearance),
        question: "How long until the foam has sunk to half its height?",
        low: "gone at once",
        high: "six minutes or more",
        anchors: None,
        measure: Measure::Amount {
            unit: "s",
            steps: [
                0.0, 15.0, 30.0, 60.0, 90.0, 120.0, 180.0, 240.0, 300.0, 360.0,
            ],
            most: 3_600.0,
        },
    },
    intensity(
        "aroma-intensity",
        "Overall aroma",
        Stage::Aroma,
        "How strong is the smell as a whole?",
        ["no smell", "fills the room"],
        Some(Anchors {
            at: [
                "only with the nose in the glass",
                "light, at the rim",
                "clear at the rim, like a cup of tea",
                "a hand's width away, like an orange being peeled",
                "fills the room, like coffee being ground",
            ],
            series: None,
        }),
    ),
    intensity(
        "sweet",
        "Sweet",
        Stage::Flavour,
        "How sweet?",
        ["not at all", "syrup"],
        Some(Anchors {
            at: [
                "a sugar cube in a whole pot of tea",
                "milk",
                "a ripe apple",
                "lemonade",
                "syrup",
            ],
            series: Some(Series {
                base: "table sugar in a litre of water",
                steps: ["3 g", "10 g", "25 g", "50 g", "100 g"],
                allergens: &[],
                care: None,
            }),
        }),
    ),
    intensity(
        "bitter",
        "Bitter",
        Stage::Flavour,
        "How bitter?",
        ["not at all", "cannot be more"],
        Some(Anchors {
            at: [
                "a lettuce leaf",
                "milk chocolate",
                "black coffee",
                "the white of a grapefruit peel",
                "chewed dandelion root",
            ],
            series: Some(Series {
                base: "tonic water thinned with still water",
                steps: [
                    "one part in sixteen",
                    "one part in eight",
                    "one part in four",
                    "one part in two",
                    "undiluted",
                ],
                allergens: &[],
                care: Some("not in pregnancy, nor with heart medicines"),
            }),
        }),
    ),
    intensity(
        "sour",
        "Sour",
        Stage::Flavour,
        "How sour?",
        ["not at all", "lemon juice"],
        Some(Anchors {
            at: [
                "milk",
                "a sweet apple",
                "plain yogurt",
                "grapefruit juice",
                "lemon juice",
            ],
            series: Some(Series {
                base: "lemon juice in 200 mL of water",
                steps: ["1 mL", "3 mL", "6 mL", "12 mL", "25 mL"],
                allergens: &[],
                care: None,
            }),
        }),
    ),
    intensity(
        "salty",
        "Salty",
        Stage::Flavour,
        "How salty?",
        ["not at all", "sea water"],
        Some(Anchors {
            at: [
                "mineral water",
                "fresh bread",
                "clear broth",
                "olives in brine",
                "sea water",
            ],
            series: Some(Series {
                base: "table salt in a litre of water",
                steps: ["0.5 g", "1.5 g", "3 g", "8 g", "30 g"],
                allergens: &[],
                care: Some("a sip and spit, and none with high blood pressure"),
            }),
        }),
    ),
    intensity(
        "fullness",
        "Fullness",
        Stage::Body,
        "How full does it feel in the mouth?",
        ["water", "cream"],
        Some(Anchors {
            at: [
                "water",
                "skimmed milk",
                "whole milk",
                "drinking chocolate",
                "cream",
            ],
            series: Some(Series {
                base: "milk thinned with water",
                steps: [
                    "one part in eight",
                    "one part in four",
                    "one part in two",
                    "undiluted",
                    "cream",
                ],
                allergens: &[Allergen::Milk],
                care: None,
            }),
        }),
    ),
    intensity(
        "carbonation",
        "Carbonation",
        Stage::Body,
        "How strongly does it prickle?",
        ["flat", "stings"],
        Some(Anchors {
            at: [
                "water left open overnight",
                "sparkling water left open for an hour",
                "mild sparkling water",
                "sparkling water just opened",
                "stings like soda from a siphon",
            ],
            series: Some(Series {
                base: "sparkling water mixed with still water",
                steps: [
                    "one part in eight",
                    "one part in four",
                    "one part in two",
                    "three parts in four",
                    "undiluted",
                ],
                allergens: &[],
                care: None,
            }),
        }),
    ),
    intensity(
        "smoothness",
        "Smoothness",
        Stage::Body,
        "How smooth does it slide?",
        ["rough", "silk"],
        Some(Anchors {
            at: [
                "rough like an unripe banana",
                "a little rough, like strong tea",
                "neither, like apple juice",
                "smooth like milk",
                "slides like cream",
            ],
            series: None,
        }),
    ),
    intensity(
        "astringency",
        "Astringency",
        Stage::Body,
        "How much does it dry and rough the tongue?",
        ["not at all", "over-steeped tea"],
        Some(Anchors {
            at: [
                "weak tea",
                "black tea steeped three minutes",
                "red wine, or tea steeped six minutes",
                "an unripe banana",
                "over-steeped tea, a sloe",
            ],
            series: Some(Series {
                base: "one bag of black tea in 200 mL, drunk cold",
                steps: [
                    "steeped 1 minute",
                    "steeped 3 minutes",
                    "steeped 6 minutes",
                    "steeped 15 minutes",
                    "steeped 30 minutes",
                ],
                allergens: &[],
                care: None,
            }),
        }),
    ),
    intensity(
        "alcohol-warmth",
        "Alcohol warmth",
        Stage::Body,
        "How much warmth of alcohol?",
        ["none", "spirits"],
        Some(Anchors {
            at: ["light beer", "wine", "port", "liqueur", "spirits"],
            series: None,
        }),
    ),
    intensity(
        "dryness",
        "Dryness",
        Stage::Finish,
        "How dry is the end?",
        ["sweet to the last", "bone dry"],
        Some(Anchors {
            at: [
                "honey in tea: sweet to the last",
                "apple juice",
                "a ripe orange",
                "dry white wine",
                "unsweetened cold tea: bone dry",
            ],
            series: None,
        }),
    ),
    intensity(
        "lingering-bitterness",
        "Lingering bitterness",
        Stage::Finish,
        "How much bitterness stays?",
        ["none", "will not go"],
        Some(Anchors {
            at: [
                "gone in a breath, like lettuce",
                "a few seconds, like milk chocolate",
                "ten seconds, like black coffee",
                "half a minute, like grapefruit peel",
                "a minute and more, like dandelion root",
            ],
            series: None,
        }),
    ),
    Scale {
        id: "length",
        word: "Length",
        stage: Some(Stage::Finish),
        question: "How long does the taste stay after swallowing?",
        low: "gone at once",
        high: "a minute or more",
        anchors: None,
        measure: Measure::Amount {
            unit: "s",
            steps: [0.0, 2.0, 4.0, 7.0, 10.0, 15.0, 20.0, 30.0, 45.0, 60.0],
            most: 600.0,
        },
    },
    Scale {
        id: "lacing",
        word: "Lacing",
        stage: Some(Stage::Appearance),
        question: "Now look at the empty part of the glass: how much foam clings to it?",
        low: "clean glass",
        high: "a closed curtain",
        anchors: Some(Anchors {
            at: [
                "a few specks",
                "scattered islands",
                "broken rings",
                "a ring for every sip",
                "a closed curtain",
            ],
            series: None,
        }),
        measure: Measure::Intensity,
    },
    Scale {
        id: "serving-temperature",
        word: "Serving temperature",
        stage: None,
        question: "How warm is the beer in the glass? Measure it if you can.",
        low: "from the fridge",
        high: "room temperature",
        anchors: None,
        measure: Measure::Amount {
            unit: "°C",
            steps: [3.0, 5.0, 6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0],
            most: 40.0,
        },
    },
    // The nine-point hedonic scale with its words: Peryam & Pilgrim 1957, Food Technology 11:9-14.
    Scale {
        id: "liking",
        word: "Liking",
        stage: None,
        question: "Apart from all that: how do you like it?",
        low: "dislike extremely",
        high: "like extremely",
        anchors: None,
        measure: Measure::Choice {
            words: &[
                "dislike extremely",
                "dislike very much",
                "dislike moderately",
                "dislike slightly",
                "neither like nor dislike",
                "like slightly",
                "like moderately",
                "like very much",
                "like extremely",
            ],
        },
    },
    Scale {
        id: "another-glass",
        word: "Another glass",
        stage: None,
        question: "Would you take another glass of it?",
        low: "no",
        high: "yes",
        anchors: None,
        measure: Measure::Choice {
            words: &["no", "perhaps", "yes"],
        },
    },
];
